//! What can be said before any ticket was had: from the plates, the masses as
//! built, and what was loaded since.
//!
//! The margins here are common practice, no source. They are wide on purpose:
//! fittings added since, a plate that holds for a whole series, and masses
//! that people guess.

use super::plan::{Item, Place};
use super::ticket::Weighing;
use super::{Measures, kg, number};
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::Mass;

/// How far a mass as built may be off, as a share of it (common practice, no
/// source).
pub const AS_BUILT_DOUBT: f64 = 0.05;

/// How far the mass of what was loaded may be off (common practice, no source).
pub const LOADED_DOUBT: f64 = 0.10;

/// What of an unladen wagon or utility is on its front axle, and how far that
/// may be off (common practice, no source).
pub const FRONT_SHARE: (f64, f64) = (0.55, 0.07);

/// What of an empty van is on the ball, and how far that may be off (common
/// practice, no source).
pub const BALL_SHARE: (f64, f64) = (0.10, 0.05);

/// How far a ball mass on a plate may be off, as a share of it (common
/// practice, no source).
pub const BALL_DOUBT: f64 = 0.20;

/// A vehicle as built, without load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VehicleAsBuilt {
    unladen: Mass,
    front: Option<Mass>,
}

impl VehicleAsBuilt {
    /// `unladen` by its handbook, and what of that is on the `front` axle
    /// where it is known.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::RatedMass`], of the rear axle too.
    pub fn new(unladen: Mass, front: Option<Mass>) -> Result<Self, OutOfRange> {
        Field::RatedMass.check(number(unladen))?;
        if let Some(front) = front {
            Field::RatedMass.check(number(front))?;
            Field::RatedMass.check(number(unladen - front))?;
        }
        Ok(Self { unladen, front })
    }
}

/// A van as built, without load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TrailerAsBuilt {
    tare: Mass,
    ball: Option<Mass>,
}

impl TrailerAsBuilt {
    /// `tare` by its plate, and the `ball` mass at tare where it is given.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::RatedMass`] or [`Field::BallMass`].
    pub fn new(tare: Mass, ball: Option<Mass>) -> Result<Self, OutOfRange> {
        Field::RatedMass.check(number(tare))?;
        if let Some(ball) = ball {
            Field::BallMass.check(number(ball))?;
        }
        Ok(Self { tare, ball })
    }
}

/// What stands in for a ticket.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimated {
    pub(super) weighing: Weighing,
    pub(super) mass: Mass,
    pub(super) doubt: Mass,
}

/// A sum and how far it may be off.
#[derive(Clone, Copy)]
struct Sum {
    kg: f64,
    doubt: f64,
}

impl Sum {
    fn new(kg: f64, share: f64) -> Self {
        Self {
            kg,
            doubt: kg * share,
        }
    }

    fn add(&mut self, kg: f64, share: f64) {
        self.kg += kg;
        self.doubt += kg.abs() * share;
    }

    fn of(self, weighing: Weighing) -> Estimated {
        // Even an empty van is known to a kilogram only.
        Estimated {
            weighing,
            mass: kg(self.kg),
            doubt: kg(self.doubt.max(1.0)),
        }
    }
}

/// Estimates of a rig that carries `loaded` besides its masses as built.
pub fn estimate(
    vehicle: Option<VehicleAsBuilt>,
    trailer: Option<TrailerAsBuilt>,
    loaded: &[Item],
    measures: &Measures,
) -> Vec<Estimated> {
    let mut all = Vec::new();
    if let Some(VehicleAsBuilt { unladen, front }) = vehicle {
        let unladen = number(unladen);
        let mut whole = Sum::new(unladen, AS_BUILT_DOUBT);
        let mut axle = match front {
            Some(front) => Sum::new(number(front), AS_BUILT_DOUBT),
            None => Sum {
                kg: FRONT_SHARE.0 * unladen,
                doubt: FRONT_SHARE.1 * unladen,
            },
        };
        for item in loaded {
            if let Place::Vehicle(_) = item.place() {
                whole.add(number(item.mass()), LOADED_DOUBT);
                axle.add(item.lever_kg(measures), LOADED_DOUBT);
            }
        }
        all.push(whole.of(Weighing::VehicleAlone));
        all.push(axle.of(Weighing::FrontAlone));
    }
    if let Some(TrailerAsBuilt { tare, ball }) = trailer {
        let tare = number(tare);
        let mut whole = Sum::new(tare, AS_BUILT_DOUBT);
        let mut coupling = match ball {
            Some(ball) => Sum::new(number(ball), BALL_DOUBT),
            None => Sum {
                kg: BALL_SHARE.0 * tare,
                doubt: BALL_SHARE.1 * tare,
            },
        };
        for item in loaded {
            if let Place::Trailer(_) = item.place() {
                whole.add(number(item.mass()), LOADED_DOUBT);
                coupling.add(item.lever_kg(measures), LOADED_DOUBT);
            }
        }
        all.push(whole.of(Weighing::TrailerWhole));
        all.push(coupling.of(Weighing::Ball));
    }
    all
}
