//! The invented rig of a first visit.

use super::typed::in_unit::{kg, psi};
use super::{Axle, LoadFrom, Place, PressureUnit, Rig, numbered};

impl Rig {
    /// An invented wagon and van. One axle is held by the tables, one by what
    /// the tables have as their lowest row, and one is free to follow the band.
    pub fn demo() -> Self {
        let axle = |place| Axle {
            tyre: "LT265/75R16 123/120Q E".to_owned(),
            ..Axle::empty(place)
        };
        Self {
            demo: true,
            axles: numbered([
                Axle {
                    weighed: Some(kg(1310.0)),
                    alone: Some(kg(1400.0)),
                    placard: Some(psi(36.0)),
                    ..axle(Place::Front)
                },
                Axle {
                    load_from: LoadFrom::Sides,
                    left: Some(kg(905.0)),
                    right: Some(kg(870.0)),
                    alone: Some(kg(1465.0)),
                    placard: Some(psi(42.0)),
                    own_sealed: Some(psi(50.0)),
                    ..axle(Place::Rear)
                },
                Axle {
                    axles: 2,
                    load_from: LoadFrom::Rating,
                    rating: Some(kg(2400.0)),
                    own_sealed: Some(psi(50.0)),
                    ..axle(Place::Trailer)
                },
            ]),
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
            rig.surface = surface;
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
