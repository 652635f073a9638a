//! Doubts about the mass that was entered: a slip of the hand leaves a load
//! that its tyres, or the rig's other axles, make unlikely.
//!
//! A tyre's *share* is its wheel load over what it carries at its reference
//! pressure. The bounds are our own: drawn around loaded rigs, and checked on
//! rigs entered rightly and on slips of the hand, which tests print.

use super::digits::swapped;
use super::quantity::{GaugePressure, Mass, kilogram};
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
    /// A placard's pressure far beyond the load, which is near it with two of
    /// its digits the other way round.
    Placard {
        /// It, with those digits swapped: enough for the load.
        swapped: GaugePressure,
    },
}

/// From here up a placard's pressure and the same with two digits swapped are
/// a slip apart that matters. 65 and 56 psi, both true of light-truck tyres,
/// are not.
const PLACARD_SWAPPED: f64 = 0.7;

/// Whether `placard`, a number above nought as it stands on the placard, is
/// doubted beside what the load asks for in the same unit: with two neighbouring
/// digits swapped it would be less, far enough to matter, and carry the load
/// still. Gives the number so swapped; never a reason to refuse the placard.
pub fn swapped_placard(placard: f64, load_minimum: f64) -> Option<f64> {
    let mut best = None;
    swapped(placard, &mut |number| {
        if number >= load_minimum && number <= PLACARD_SWAPPED * placard {
            best = Some(number);
        }
    });
    best
}

/// Another figure for the mass on an axle, which it is held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Second {
    /// What the weighbridge ticket gives, at the least that its steps allow.
    Ticket(Mass),
    /// What it weighs with nothing aboard.
    Empty(Mass),
    /// The most that its plate allows.
    Plate(Mass),
}

/// Of a ticket's axle mass. Below 0.88 the pressure for a load is more than
/// 15 % too low; a load may have been moved or used up since.
const OF_TICKET: f64 = 0.93;
/// Of the mass as built, which is known to within a twentieth.
const OF_EMPTY: f64 = 0.95;
/// Of a plate: loaded rigs come nearer to it (common practice, no source).
const OF_PLATE: f64 = 0.65;

/// The first of `second` that `mass` falls short of, surest first.
pub fn short_of(mass: Mass, second: &[Second]) -> Option<Second> {
    let falls_short = |of: &&Second| match **of {
        Second::Ticket(ticket) => mass < OF_TICKET * ticket,
        Second::Empty(empty) => mass < OF_EMPTY * empty,
        Second::Plate(plate) => mass < OF_PLATE * plate,
    };
    second.iter().find(falls_short).copied()
}

/// Whether one of `second` shows that `mass` is no digit too low. A plate does
/// where the mass comes near it: what is on the axle is hardly more. What it
/// weighs empty leaves room for any load.
pub fn is_settled(mass: Mass, second: &[Second]) -> bool {
    second.iter().any(|of| match *of {
        Second::Ticket(_) => true,
        Second::Empty(_) => false,
        Second::Plate(plate) => mass >= OF_TICKET * plate,
    })
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

    /// 63 psi typed for 36 pumped a tyre to nearly twice what it should have,
    /// without a word.
    #[test]
    fn a_placard_with_swapped_digits_is_doubted_and_a_true_one_is_not() {
        for (placard, load_minimum, swapped) in [
            (63.0, 27.0, Some(36.0)),
            (53.0, 30.0, Some(35.0)),
            (420.0, 190.0, Some(240.0)),
            (5.2, 2.1, Some(2.5)),
            (2.52, 1.9, None),
            // As light-truck placards are, whatever the load asks for.
            (65.0, 27.0, None),
            (64.0, 50.0, None),
            (80.0, 27.0, None),
            (55.0, 27.0, None),
            // The other way round it would not carry the load.
            (63.0, 37.0, None),
            (41.0, 27.0, None),
            (36.0, 20.0, None),
        ] {
            assert_eq!(swapped_placard(placard, load_minimum), swapped, "{placard}");
        }
    }

    #[test]
    fn a_mass_is_held_to_the_surest_of_its_second_figures() {
        let kg = Mass::new::<kilogram>;
        let second = [
            Second::Ticket(kg(2000.0)),
            Second::Empty(kg(1500.0)),
            Second::Plate(kg(2400.0)),
        ];
        assert_eq!(short_of(kg(1870.0), &second), None);
        assert_eq!(short_of(kg(1850.0), &second), Some(second[0]));
        assert_eq!(short_of(kg(1430.0), &second[1..2]), None);
        assert_eq!(short_of(kg(1420.0), &second[1..]), Some(second[1]));
        assert_eq!(short_of(kg(1570.0), &second[2..]), None);
        assert_eq!(short_of(kg(1550.0), &second[2..]), Some(second[2]));
        assert_eq!(short_of(kg(100.0), &[]), None);
        assert!(is_settled(kg(1400.0), &second));
        assert!(is_settled(kg(2240.0), &second[2..]) && !is_settled(kg(2230.0), &second[2..]));
        assert!(!is_settled(kg(1600.0), &second[1..2]) && !is_settled(kg(1600.0), &[]));
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
