//! The invented rig of a first visit.

use super::nuts::Nuts;
use super::{Axle, LoadFrom, Place, PressureUnit, Rig};

impl Rig {
    /// An invented wagon and van. One axle is held by the tables, one by what
    /// the tables have as their lowest row, and one is free to follow the band.
    pub fn demo() -> Self {
        let axle = |place| Axle {
            tyre: "LT265/75R16 123/120Q E".to_owned(),
            ..Axle::empty(place)
        };
        let psi = |value| {
            Some(
                PressureUnit::Psi
                    .reading(value)
                    .get::<uom::si::pressure::kilopascal>(),
            )
        };
        Self {
            demo: true,
            axles: vec![
                Axle {
                    weighed_kg: Some(1310.0),
                    placard_kpa: psi(36.0),
                    ..axle(Place::Front)
                },
                Axle {
                    load_from: LoadFrom::Sides,
                    left_kg: Some(905.0),
                    right_kg: Some(870.0),
                    placard_kpa: psi(42.0),
                    own_sealed_kpa: psi(50.0),
                    ..axle(Place::Rear)
                },
                Axle {
                    axles: 2,
                    load_from: LoadFrom::Rating,
                    rating_kg: Some(2400.0),
                    own_sealed_kpa: psi(50.0),
                    ..axle(Place::Trailer)
                },
            ],
            nuts: Nuts::demo(),
            ..Self::empty("Demo rig", PressureUnit::Psi)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::pressure::Decided;
    use crate::rig::Surface;

    #[test]
    fn the_demo_answers_on_every_surface_and_shows_what_can_decide() {
        let mut rig = Rig::demo();
        let mut decided = Vec::new();
        for surface in crate::calc::surface::Surface::ALL {
            rig.surface = surface.into();
            for axle in &rig.axles {
                decided.push(rig.answer(axle).expect("an answer").1.decided);
            }
        }
        for kind in [Decided::Band, Decided::Tables] {
            assert!(decided.contains(&kind));
        }
        rig.surface = Surface::Dirt;
        let on_dirt: Vec<_> = rig
            .axles
            .iter()
            .map(|axle| rig.answer(axle).unwrap().1.decided)
            .collect();
        assert_eq!(on_dirt, [Decided::Tables, Decided::Tables, Decided::Band]);
    }
}
