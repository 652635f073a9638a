//! Weighbridge tickets: what stood on the plate, and what was read.

use super::{BALL, FRONT, Lever, REAR, RELIEF, Row, TRAILER, UNKNOWNS, WeightsError, number};
use crate::calc::limits::Field;
use crate::calc::load::AxleGroup;
use crate::calc::quantity::Mass;

/// What can stand on a plate, and so every mass that can be asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Weighing {
    /// Front axle, nothing on the ball.
    FrontAlone,
    /// Rear axle, nothing on the ball.
    RearAlone,
    /// All wheels of the vehicle, nothing on the ball.
    VehicleAlone,
    /// Front axle, hitched.
    FrontHitched,
    /// Rear axle, hitched.
    RearHitched,
    /// All wheels of the vehicle, hitched: its gross mass with the ball's.
    VehicleHitched,
    /// The van's axles, hitched: what its GTM limits.
    TrailerAxles,
    /// One of the van's axles, hitched; from 0 at the front.
    TrailerLine(u8),
    /// Rear axle and van, hitched, the front axle off the plate.
    RearAndTrailer,
    /// Everything: what the GCM limits.
    Combination,
    /// The whole van, unhitched, its jockey wheel on the plate too: what its
    /// ATM limits.
    TrailerWhole,
    /// The coupling on a ball-mass scale, at the height of the ball.
    Ball,
}

/// Which wheels of what is weighed stand on the plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Wheels {
    /// Both sides.
    Both,
    /// The left, in the direction of travel.
    Left,
    /// The right.
    Right,
}

/// What to ask of a public weighbridge, in order. Weighed so, all figures
/// follow, with the lever unmeasured and one reading to check the others by.
///
/// 1. Hitched: front axle on the plate; the whole vehicle; then the van's
///    axles by themselves. Gives what every tyre carries.
/// 2. The van unhitched on the plate, jockey wheel and all. Gives the ATM to
///    compare, and the ball mass.
/// 3. The vehicle alone: front axle, then the whole. Gives what is carried
///    unhitched, and how the ball's load reaches the axles.
pub const THREE_WEIGHINGS: [&[Weighing]; 3] = [
    &[
        Weighing::FrontHitched,
        Weighing::VehicleHitched,
        Weighing::TrailerAxles,
    ],
    &[Weighing::TrailerWhole],
    &[Weighing::FrontAlone, Weighing::VehicleAlone],
];

impl Weighing {
    /// Whether one side of it can stand on a plate by itself.
    pub fn has_sides(self) -> bool {
        !matches!(self, Self::TrailerWhole | Self::Ball)
    }

    /// The sum that a plate shows. `lines` of the van's axles are there.
    pub(super) fn row(self, wheels: Wheels, lines: u8) -> Row {
        use Weighing as W;
        let front = matches!(
            self,
            W::FrontAlone | W::VehicleAlone | W::FrontHitched | W::VehicleHitched | W::Combination
        );
        let rear = matches!(
            self,
            W::RearAlone
                | W::VehicleAlone
                | W::RearHitched
                | W::VehicleHitched
                | W::RearAndTrailer
                | W::Combination
        );
        let alone = matches!(self, W::FrontAlone | W::RearAlone | W::VehicleAlone);
        let trailer = match self {
            W::TrailerAxles | W::RearAndTrailer | W::Combination | W::TrailerWhole => 0..lines,
            W::TrailerLine(line) => line..line + 1,
            _ => 0..0,
        };
        let sides = match wheels {
            Wheels::Both => [1.0, 1.0],
            Wheels::Left => [1.0, 0.0],
            Wheels::Right => [0.0, 1.0],
        };
        // The ball is in the middle, so half of its effect is on either side.
        let share = (sides[0] + sides[1]) / 2.0;

        let mut row = [0.0; UNKNOWNS];
        let mut ends = |at: usize| row[at..at + 2].copy_from_slice(&sides);
        if front {
            ends(FRONT);
        }
        if rear {
            ends(REAR);
        }
        for line in trailer {
            ends(TRAILER + 2 * usize::from(line));
        }
        if front && !alone {
            row[RELIEF] -= share;
        }
        if rear && !alone {
            row[BALL] += share;
            row[RELIEF] += share;
        }
        if matches!(self, W::TrailerWhole | W::Ball) {
            row[BALL] += 1.0;
        }
        row
    }
}

/// A row in which the ball mass stands for what it takes off the front axle.
pub(super) fn with_lever(mut row: Row, lever: Option<Lever>) -> Row {
    if let Some(lever) = lever {
        row[BALL] += lever.ratio() * row[RELIEF];
        row[RELIEF] = 0.0;
    }
    row
}

/// One reading of a weighbridge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ticket {
    weighing: Weighing,
    wheels: Wheels,
    mass: Mass,
    step: Mass,
}

impl Ticket {
    /// `mass` as printed, by a plate that shows every `step` (20 kg is usual).
    ///
    /// # Errors
    /// [`WeightsError::OutOfRange`] by [`Field::WeighedMass`] ([`Field::BallMass`]
    /// on a ball-mass scale) or [`Field::TicketStep`];
    /// [`WeightsError::OneSideOf`] for a side of what has none.
    ///
    /// ```
    /// use tyreside::calc::quantity::{Mass, kilogram};
    /// use tyreside::calc::weights::ticket::{Ticket, Weighing, Wheels};
    /// let kg = Mass::new::<kilogram>;
    /// assert!(Ticket::new(Weighing::TrailerAxles, Wheels::Left, kg(1240.0), kg(20.0)).is_ok());
    /// assert!(Ticket::new(Weighing::Ball, Wheels::Left, kg(240.0), kg(20.0)).is_err());
    /// ```
    pub fn new(
        weighing: Weighing,
        wheels: Wheels,
        mass: Mass,
        step: Mass,
    ) -> Result<Self, WeightsError> {
        let field = match weighing {
            Weighing::Ball => Field::BallMass,
            _ => Field::WeighedMass,
        };
        field.check(number(mass))?;
        Field::TicketStep.check(number(step))?;
        if wheels != Wheels::Both && !weighing.has_sides() {
            return Err(WeightsError::OneSideOf(weighing));
        }
        Ok(Self {
            weighing,
            wheels,
            mass,
            step,
        })
    }

    /// What stood on the plate.
    pub fn weighing(&self) -> Weighing {
        self.weighing
    }

    /// With which of its wheels.
    pub fn wheels(&self) -> Wheels {
        self.wheels
    }

    /// As printed.
    pub fn mass(&self) -> Mass {
        self.mass
    }

    /// How far the reading may be from the truth: a whole step. Half of it is
    /// rounding, the other half the plate's own error, to which OIML R 76 holds
    /// a class III instrument in service up to 500 steps (twice the 0.5 step of
    /// its verification: quoted).
    pub fn doubt(&self) -> Mass {
        self.step
    }

    /// # Errors
    /// [`WeightsError::NoSuchAxle`].
    pub(super) fn check_lines(&self, lines: u8) -> Result<(), WeightsError> {
        match self.weighing {
            Weighing::TrailerLine(line) if line >= lines => {
                Err(WeightsError::NoSuchAxle { line, lines })
            }
            _ => Ok(()),
        }
    }
}

/// # Errors
/// [`WeightsError::AxleCount`].
pub(super) fn check_count(lines: u8) -> Result<u8, WeightsError> {
    if (1..=AxleGroup::MOST_AXLES).contains(&lines) {
        Ok(lines)
    } else {
        Err(WeightsError::AxleCount { given: lines })
    }
}
