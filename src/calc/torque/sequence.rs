//! The order of pulling, and how far it has got.
//!
//! Plain data, no clock: a [`Progress`] is the list of nuts ticked so far, and
//! everything else follows from it, so that a reload loses nothing.

use super::{Torque, cosine_of};
use std::fmt;

/// How many studs the wheel has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Studs {
    /// Four.
    Four,
    /// Five.
    Five,
    /// Six.
    Six,
    /// Eight.
    Eight,
    /// Ten.
    Ten,
}

/// A place on the bolt circle of radius 1, for drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Right of the centre.
    pub right: f64,
    /// Below the centre.
    pub down: f64,
}

impl Studs {
    /// Every count, in order.
    pub const ALL: [Self; 5] = [Self::Four, Self::Five, Self::Six, Self::Eight, Self::Ten];

    /// The number of studs.
    pub fn count(self) -> u8 {
        match self {
            Self::Four => 4,
            Self::Five => 5,
            Self::Six => 6,
            Self::Eight => 8,
            Self::Ten => 10,
        }
    }

    /// The count for a number, where it is one of those known.
    pub fn from_count(count: u8) -> Option<Self> {
        Self::ALL.into_iter().find(|studs| studs.count() == count)
    }

    /// The star order, as stud numbers from 0 at the top, clockwise: each nut
    /// across the wheel from the one before it, and each pair across from the
    /// pairs already done (common practice, no source). On four studs the third
    /// is beside the second: there is no other.
    pub fn star(self) -> &'static [u8] {
        match self {
            Self::Four => &[0, 2, 1, 3],
            Self::Five => &[0, 2, 4, 1, 3],
            Self::Six => &[0, 3, 1, 4, 2, 5],
            Self::Eight => &[0, 4, 2, 6, 1, 5, 3, 7],
            Self::Ten => &[0, 5, 8, 3, 6, 1, 4, 9, 2, 7],
        }
    }

    /// Where stud number `stud` sits; numbers past the last go round again.
    pub fn place(self, stud: u8) -> Place {
        let turn = 360.0 * f64::from(stud % self.count()) / f64::from(self.count());
        let cosine = |degrees: f64| cosine_of(degrees.min(360.0 - degrees));
        // The sine is the cosine of a quarter turn less.
        Place {
            right: cosine((turn - 90.0).abs()),
            down: -cosine(turn),
        }
    }
}

/// How many times round.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stages {
    /// Half the torque, then all of it.
    Two,
    /// A third, two thirds, then all of it.
    Three,
}

impl Stages {
    /// Both, in order.
    pub const ALL: [Self; 2] = [Self::Two, Self::Three];

    /// The number of stages.
    pub fn count(self) -> u8 {
        match self {
            Self::Two => 2,
            Self::Three => 3,
        }
    }

    /// The count for a number, where it is one of those known.
    pub fn from_count(count: u8) -> Option<Self> {
        Self::ALL.into_iter().find(|stages| stages.count() == count)
    }
}

/// One time round, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stage {
    number: u8,
    of: Stages,
}

impl Stage {
    /// Its number, from 0.
    pub fn number(self) -> u8 {
        self.number
    }

    /// Its share of the final torque, numerator and denominator (common
    /// practice, no source).
    pub fn share(self) -> (u8, u8) {
        (self.number + 1, self.of.count())
    }

    /// Its torque, where the last stage's is `last`.
    pub fn torque(self, last: Torque) -> Torque {
        if self.is_last() {
            return last;
        }
        let (part, of) = self.share();
        last.scaled(f64::from(part) / f64::from(of))
    }

    /// The full torque: this stage has the wheel on the ground.
    pub fn is_last(self) -> bool {
        self.number + 1 == self.of.count()
    }
}

/// Which nuts have been pulled.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Progress {
    studs: Studs,
    stages: Stages,
    /// Stud numbers as they were ticked, stage after stage.
    ticked: Vec<u8>,
}

/// What a tick did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ticked {
    /// It was the next nut.
    InOrder,
    /// It counts, but the star order had another first.
    OutOfOrder {
        /// That other.
        expected: u8,
    },
}

/// Why a tick, or a kept list of them, is refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TickError {
    /// No such stud on this wheel.
    NoSuchStud {
        /// The stud number given.
        stud: u8,
        /// How many there are.
        studs: u8,
    },
    /// Ticked in this stage already.
    AlreadyDone {
        /// The stud number given.
        stud: u8,
    },
    /// Every nut of every stage is done.
    Finished,
}

impl fmt::Display for TickError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchStud { stud, studs } => write!(f, "stud {stud} of {studs}"),
            Self::AlreadyDone { stud } => write!(f, "stud {stud} is done in this stage"),
            Self::Finished => write!(f, "every stage is done"),
        }
    }
}

impl std::error::Error for TickError {}

impl Progress {
    /// Nothing done yet.
    pub fn new(studs: Studs, stages: Stages) -> Self {
        Self {
            studs,
            stages,
            ticked: Vec::new(),
        }
    }

    /// Takes up again from kept ticks, the list that [`Self::ticked`] gave.
    ///
    /// # Errors
    /// [`TickError`] for the first tick that could not have been made.
    ///
    /// ```
    /// use tyreside::calc::torque::sequence::{Progress, Stages, Studs};
    /// let kept = Progress::resume(Studs::Six, Stages::Two, &[0, 3, 1]).unwrap();
    /// assert_eq!(kept.next(), Some(4));
    /// assert!(Progress::resume(Studs::Six, Stages::Two, &[0, 3, 3]).is_err());
    /// ```
    pub fn resume(studs: Studs, stages: Stages, ticked: &[u8]) -> Result<Self, TickError> {
        let mut progress = Self::new(studs, stages);
        for stud in ticked {
            progress.tick(*stud)?;
        }
        Ok(progress)
    }

    /// The wheel.
    pub fn studs(&self) -> Studs {
        self.studs
    }

    /// The times round.
    pub fn stages(&self) -> Stages {
        self.stages
    }

    /// Stud numbers in the order of ticking, all stages: what to keep.
    pub fn ticked(&self) -> &[u8] {
        &self.ticked
    }

    /// The stage under way; none when finished.
    pub fn stage(&self) -> Option<Stage> {
        let number = (self.ticked.len() / usize::from(self.studs.count())) as u8;
        (number < self.stages.count()).then_some(Stage {
            number,
            of: self.stages,
        })
    }

    /// Every nut of every stage is done.
    pub fn is_finished(&self) -> bool {
        self.stage().is_none()
    }

    /// The nut to pull next; none when finished.
    pub fn next(&self) -> Option<u8> {
        let stage = self.stage()?;
        let mut star = self.studs.star().iter().copied();
        star.find(|stud| !self.is_done(stage.number, *stud))
    }

    /// Whether `stud` is done in stage number `stage`.
    pub fn is_done(&self, stage: u8, stud: u8) -> bool {
        let each = usize::from(self.studs.count());
        let chunk = self.ticked.chunks(each).nth(usize::from(stage));
        chunk.is_some_and(|ticks| ticks.contains(&stud))
    }

    /// Ticks `stud` in the stage under way. Out of order counts, and is said.
    ///
    /// # Errors
    /// [`TickError`]; the progress is then unchanged.
    pub fn tick(&mut self, stud: u8) -> Result<Ticked, TickError> {
        let studs = self.studs.count();
        if stud >= studs {
            return Err(TickError::NoSuchStud { stud, studs });
        }
        let (Some(stage), Some(expected)) = (self.stage(), self.next()) else {
            return Err(TickError::Finished);
        };
        if self.is_done(stage.number, stud) {
            return Err(TickError::AlreadyDone { stud });
        }
        self.ticked.push(stud);
        Ok(if stud == expected {
            Ticked::InOrder
        } else {
            Ticked::OutOfOrder { expected }
        })
    }

    /// Takes the last tick back and gives its stud: gloves slip.
    pub fn undo(&mut self) -> Option<u8> {
        self.ticked.pop()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::torque::newton_meter;

    #[test]
    fn a_wheel_is_worked_through_with_a_slip_and_a_reload() {
        let mut wheel = Progress::new(Studs::Five, Stages::Two);
        assert_eq!(wheel.tick(0), Ok(Ticked::InOrder));
        assert_eq!(wheel.tick(3), Ok(Ticked::OutOfOrder { expected: 2 }));
        assert_eq!(wheel.tick(3), Err(TickError::AlreadyDone { stud: 3 }));
        assert_eq!(
            wheel.tick(5),
            Err(TickError::NoSuchStud { stud: 5, studs: 5 })
        );
        assert_eq!(wheel.undo(), Some(3));
        for stud in [2, 4, 1, 3] {
            assert_eq!(wheel.tick(stud), Ok(Ticked::InOrder));
        }
        let mut wheel = Progress::resume(wheel.studs(), wheel.stages(), wheel.ticked()).unwrap();
        assert!(wheel.stage().unwrap().is_last());
        assert!(wheel.is_done(0, 4) && !wheel.is_done(1, 4));
        while let Some(stud) = wheel.next() {
            assert_eq!(wheel.tick(stud), Ok(Ticked::InOrder));
        }
        assert!(wheel.is_finished());
        assert_eq!(wheel.tick(0), Err(TickError::Finished));
        assert_eq!(wheel.ticked().len(), 10);
    }

    #[test]
    fn studs_stand_on_the_circle_clockwise_from_the_top() {
        for studs in Studs::ALL {
            for stud in 0..studs.count() {
                let turn = std::f64::consts::TAU * f64::from(stud) / f64::from(studs.count());
                let Place { right, down } = studs.place(stud);
                assert!((right - turn.sin()).abs() < 1e-15, "{studs:?} {stud}");
                assert!((down + turn.cos()).abs() < 1e-15, "{studs:?} {stud}");
            }
        }
    }

    #[test]
    fn the_last_stage_has_the_whole_torque() {
        let last = Torque::new::<newton_meter>(117.3);
        for stages in Stages::ALL {
            let stage = |number| Stage { number, of: stages };
            let torques: Vec<f64> = (0..stages.count())
                .map(|number| stage(number).torque(last).get::<newton_meter>())
                .collect();
            assert_eq!(torques.len(), usize::from(stages.count()));
            assert_eq!(torques.last(), Some(&117.3));
            assert!(torques.is_sorted());
        }
    }
}
