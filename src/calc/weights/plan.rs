//! The load plan: what a load does where it lies.
//!
//! On the vehicle a load of m, a ahead of the rear axle, puts m·a/w on the
//! front axle and the rest on the rear. On the van, x ahead of the middle of
//! its axles, it puts m·x/d on the ball, d the drawbar's length, and the rest
//! on the van's axles; the ball passes its share on by the [`Lever`]. Ahead is
//! positive, behind negative.
//!
//! [`Lever`]: super::Lever

use super::solution::Solution;
use super::ticket::{Weighing, Wheels, check_count};
use super::{
    AxleAt, BALL, Coupling, FRONT, Figure, Measures, REAR, RELIEF, Row, TRAILER, UNKNOWNS,
    WeightsError, add, dot, kg, number,
};
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::load::LoadSource;
use crate::calc::quantity::{Length, Mass, Volume, liter, millimeter};

/// Where a load lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// On the vehicle, ahead of its rear axle.
    Vehicle(Length),
    /// On the van, ahead of the middle of its axles.
    Trailer(Length),
}

/// A load at its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    mass: Mass,
    place: Place,
}

impl Item {
    /// `mass` at `place`.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::ItemMass`] or [`Field::ItemPlace`].
    ///
    /// ```
    /// use tyreside::calc::quantity::{Length, Mass, kilogram, meter};
    /// use tyreside::calc::weights::plan::{Item, Place};
    /// let behind = Place::Trailer(Length::new::<meter>(-3.2));
    /// assert!(Item::new(Mass::new::<kilogram>(32.0), behind).is_ok());
    /// assert!(Item::new(Mass::new::<kilogram>(-32.0), behind).is_err());
    /// ```
    pub fn new(mass: Mass, place: Place) -> Result<Self, OutOfRange> {
        Field::ItemMass.check(number(mass))?;
        let (Place::Vehicle(ahead) | Place::Trailer(ahead)) = place;
        Field::ItemPlace.check(ahead.get::<millimeter>())?;
        Ok(Self { mass, place })
    }

    /// How heavy.
    pub fn mass(&self) -> Mass {
        self.mass
    }

    /// Where.
    pub fn place(&self) -> Place {
        self.place
    }

    /// What it puts on the front axle (of the vehicle) or the ball (of the
    /// van), kg.
    pub(super) fn lever_kg(&self, measures: &Measures) -> f64 {
        number(self.mass)
            * match self.place {
                Place::Vehicle(ahead) => (ahead / measures.wheelbase()).value,
                Place::Trailer(ahead) => {
                    let drawbar = measures.drawbar();
                    drawbar.map_or(0.0, |drawbar| (ahead / drawbar).value)
                }
            }
    }
}

/// A water tank. A litre is a kilogram.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tank {
    litres: f64,
    fill_percent: f64,
}

impl Tank {
    /// A tank of `size`, filled to `fill_percent` of it.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::TankSize`] or [`Field::TankFill`].
    ///
    /// ```
    /// use tyreside::calc::quantity::{Volume, kilogram, liter};
    /// use tyreside::calc::weights::plan::Tank;
    /// let tank = Tank::new(Volume::new::<liter>(95.0), 40.0).unwrap();
    /// assert!((tank.water().get::<kilogram>() - 38.0).abs() < 1e-9);
    /// assert!(tank.can_surge());
    /// assert!(Tank::new(Volume::new::<liter>(95.0), 140.0).is_err());
    /// ```
    pub fn new(size: Volume, fill_percent: f64) -> Result<Self, OutOfRange> {
        Ok(Self {
            litres: Field::TankSize.check(size.get::<liter>())?,
            fill_percent: Field::TankFill.check(fill_percent)?,
        })
    }

    /// What is in it.
    pub fn water(&self) -> Mass {
        kg(self.litres * self.fill_percent / 100.0)
    }

    /// Whether its water has a free surface: unless baffled, it runs to one end
    /// or side and back as the van pitches and rolls.
    pub fn can_surge(&self) -> bool {
        self.fill_percent > 0.0 && self.fill_percent < 100.0
    }
}

/// One load as it was when the rig was weighed, and as it is planned. None
/// where it was, or will be, left behind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// As weighed.
    pub was: Option<Item>,
    /// As planned.
    pub now: Option<Item>,
}

/// What loads put on each axle and the ball; less than nothing for what went.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    row: Row,
    lines: u8,
}

impl Change {
    /// What `moves` change on a rig whose van has `lines` axles. A load moved
    /// back to where it was changes nothing at all, to the last digit.
    ///
    /// # Errors
    /// [`WeightsError::AxleCount`] unless there are one to three.
    pub fn of(moves: &[Move], measures: &Measures, lines: u8) -> Result<Self, WeightsError> {
        check_count(lines)?;
        let mut row = [0.0; UNKNOWNS];
        for Move { was, now } in moves {
            if was == now {
                continue;
            }
            for (times, item) in [(-1.0, was), (1.0, now)] {
                if let Some(item) = item {
                    add(&mut row, times, &effect(item, measures, lines));
                }
            }
        }
        Ok(Self { row, lines })
    }

    /// What it adds to what a plate shows.
    pub fn mass(&self, weighing: Weighing, wheels: Wheels) -> Mass {
        kg(dot(&weighing.row(wheels, self.lines), &self.row))
    }
}

fn effect(item: &Item, measures: &Measures, lines: u8) -> Row {
    let (whole, levered) = (number(item.mass), item.lever_kg(measures));
    let rest = whole - levered;
    let mut row = [0.0; UNKNOWNS];
    match item.place {
        Place::Vehicle(_) => {
            row[FRONT..FRONT + 2].fill(levered / 2.0);
            row[REAR..REAR + 2].fill(rest / 2.0);
        }
        Place::Trailer(_) => {
            let Some(lever) = measures.lever() else {
                return row;
            };
            row[BALL] = levered;
            row[RELIEF] = lever.ratio() * levered;
            let ends = 2 * usize::from(lines);
            row[TRAILER..TRAILER + ends].fill(rest / ends as f64);
        }
    }
    row
}

/// The rig as planned: as weighed or estimated, and what was moved since.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laden<'a> {
    solution: &'a Solution,
    change: Option<Change>,
}

impl<'a> Laden<'a> {
    /// The rig of `solution` after `change`, if any.
    pub fn new(solution: &'a Solution, change: Option<Change>) -> Self {
        Self { solution, change }
    }

    /// A mass, where tickets or estimates give it.
    pub fn figure(&self, weighing: Weighing, wheels: Wheels) -> Option<Figure> {
        let figure = self.solution.figure(weighing, wheels)?;
        Some(match &self.change {
            Some(change) => figure.plus(change.mass(weighing, wheels)),
            None => figure,
        })
    }

    /// The ball mass in percent of the whole van's.
    pub fn ball_percent(&self) -> Option<f64> {
        let mass = |weighing| Some(number(self.figure(weighing, Wheels::Both)?.mass.likely));
        let whole = mass(Weighing::TrailerWhole)?;
        (whole > 0.0).then_some(())?;
        Some(mass(Weighing::Ball)? / whole * 100.0)
    }

    /// What an axle's pressures should go by, and whether it is an estimate,
    /// of which the high end counts. Sides where they were weighed. Of a group
    /// whose axles were weighed apart the heaviest counts for all.
    pub fn load(&self, at: AxleAt, coupling: Coupling) -> Option<(LoadSource, bool)> {
        let weighing = at.weighing(coupling);
        let whole = self.figure(weighing, Wheels::Both)?;
        let counts = |figure: Figure| match whole.estimated {
            true => figure.mass.high,
            false => figure.mass.likely,
        };
        let uneven = self.heaviest_line(at, Wheels::Both, whole).unwrap_or(1.0);
        let side = |wheels| {
            let side = self.figure(weighing, wheels)?;
            // Each end by itself says more than axle and side apart.
            let end = self.heaviest_line(at, wheels, side).unwrap_or(uneven);
            Some(counts(side) * end)
        };
        let source = match (side(Wheels::Left), side(Wheels::Right)) {
            (Some(left), Some(right)) => LoadSource::Sides { left, right },
            _ => LoadSource::Weighed(counts(whole) * uneven),
        };
        Some((source, whole.estimated))
    }

    /// The heaviest of the van's axles over their mean.
    fn heaviest_line(&self, at: AxleAt, wheels: Wheels, whole: Figure) -> Option<f64> {
        let lines = self.solution.lines();
        let whole = number(whole.mass.likely);
        if at != AxleAt::Trailer || lines < 2 || whole <= 0.0 {
            return None;
        }
        let mut heaviest = 0.0_f64;
        for line in 0..lines {
            let of = self.figure(Weighing::TrailerLine(line), wheels)?;
            heaviest = heaviest.max(number(of.mass.likely));
        }
        Some(heaviest * f64::from(lines) / whole)
    }
}
