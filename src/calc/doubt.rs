//! Doubts about the mass that was entered: a slip of the hand leaves a load
//! that its tyres, or the rig's other axles, make unlikely.
//!
//! A tyre's *share* is its wheel load over what it carries at its reference
//! pressure. The bounds are our own: drawn around loaded rigs, and checked on
//! rigs entered rightly and on slips of the hand, which tests print.

use super::quantity::{Mass, kilogram};
use super::tyre::capacity::Fitment;

/// Where an axle group stands, as far as shares go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Position {
    /// Front of the tow vehicle.
    Front,
    /// Rear of the tow vehicle.
    Rear,
    /// The trailer.
    Trailer,
}

/// How much of what its tyres carry an axle group puts on them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Carried {
    /// Where it stands.
    pub position: Position,
    /// One tyre at each end or two.
    pub fitment: Fitment,
    /// Wheel load over reference load.
    pub share: f64,
    /// Wheel load.
    pub wheel_load: Mass,
    /// Whether such tyres are often fitted for their strength rather than for
    /// the load, as light-truck tyres of load range E are.
    pub strong: bool,
}

/// Why the load is doubted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Doubt {
    /// Little for such tyres.
    Light {
        /// Wheel load over reference load.
        share: f64,
    },
    /// A rear axle that works its tyres less than the front one does.
    LessThanFront,
    /// A front axle that works its tyres far less than the rear one does.
    FarLessThanRear,
    /// Four tyres across a front axle.
    DualInFront,
}

/// Dual tyres are fitted where single ones would not do.
const DUAL_LIGHT: f64 = 0.56;

/// Below this share a single fitment is doubted.
fn light(position: Position, strong: bool) -> f64 {
    match (position, strong) {
        (Position::Front, true) => 0.25,
        (Position::Front, false) => 0.37,
        (Position::Rear, true) => 0.40,
        (Position::Rear, false) => 0.50,
        (Position::Trailer, true) => 0.25,
        (Position::Trailer, false) => 0.49,
    }
}

/// Strong tyres come to a trailer from the vehicle that tows it, whatever it
/// weighs; one that needs brakes and such tyres is hardly lighter than this on
/// each.
const STRONG_TRAILER_KG: f64 = 500.0;

/// A loaded tow vehicle's rear tyres work as hard as its front ones, or harder.
const REAR_OF_FRONT: f64 = 0.85;
/// And not twice as hard.
const FRONT_OF_REAR: f64 = 0.58;

impl Carried {
    /// The doubt about this group, beside the tow vehicle's other axle where
    /// that is known.
    pub fn doubt(&self, other: Option<&Self>) -> Option<Doubt> {
        if self.position == Position::Front && self.fitment == Fitment::Dual {
            return Some(Doubt::DualInFront);
        }
        let light = match self.fitment {
            Fitment::Dual => DUAL_LIGHT,
            Fitment::Single => light(self.position, self.strong),
        };
        let feather = self.position == Position::Trailer
            && self.strong
            && self.wheel_load.get::<kilogram>() < STRONG_TRAILER_KG;
        if self.share < light || feather {
            return Some(Doubt::Light { share: self.share });
        }
        let other = other?;
        match (self.position, other.position) {
            (Position::Rear, Position::Front) if self.share < REAR_OF_FRONT * other.share => {
                Some(Doubt::LessThanFront)
            }
            (Position::Front, Position::Rear) if self.share < FRONT_OF_REAR * other.share => {
                Some(Doubt::FarLessThanRear)
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn carried(position: Position, share: f64) -> Carried {
        Carried {
            position,
            fitment: Fitment::Single,
            share,
            wheel_load: Mass::new::<kilogram>(1000.0 * share),
            strong: false,
        }
    }

    #[test]
    fn each_doubt_has_its_bound() {
        use Position::*;
        let trailer = |share| carried(Trailer, share).doubt(None);
        assert_eq!(trailer(0.48), Some(Doubt::Light { share: 0.48 }));
        assert_eq!(trailer(0.50), None);
        let strong = |share| Carried {
            strong: true,
            ..carried(Trailer, share)
        };
        assert!(strong(0.49).doubt(None).is_some() && strong(0.51).doubt(None).is_none());
        let dual = |position, share| Carried {
            fitment: Fitment::Dual,
            ..carried(position, share)
        };
        assert!(dual(Rear, 0.55).doubt(None).is_some() && dual(Rear, 0.57).doubt(None).is_none());
        assert_eq!(dual(Front, 0.9).doubt(None), Some(Doubt::DualInFront));
        let front = carried(Front, 0.6);
        let rear = |share| carried(Rear, share).doubt(Some(&front));
        assert_eq!(rear(0.50), Some(Doubt::LessThanFront));
        assert_eq!(rear(0.52), None);
        let heavy = carried(Rear, 0.9);
        let front = |share| carried(Front, share).doubt(Some(&heavy));
        assert_eq!(front(0.51), Some(Doubt::FarLessThanRear));
        assert_eq!(front(0.53), None);
        // Without the other axle nothing is held against it.
        assert_eq!(carried(Front, 0.51).doubt(None), None);
        assert_eq!(
            carried(Front, 0.51).doubt(Some(&carried(Trailer, 0.9))),
            None
        );
    }
}
