//! What axles and tyres are called, the same in every view.

use crate::rig::position::{Half, OfPair, Side, TyrePosition, Wheel};
use crate::rig::{Place, Rig};

/// The name of an axle group, by its place in the rig's list: numbered where
/// several stand at the same place.
pub fn group(rig: &Rig, index: usize) -> String {
    let Some(axle) = rig.axles.get(index) else {
        return String::new();
    };
    let name = match axle.place {
        Place::Front => "Front",
        Place::Rear => "Rear",
        Place::Trailer => "Trailer",
    };
    let alike = |of: &[crate::rig::Axle]| of.iter().filter(|a| a.place == axle.place).count();
    if alike(&rig.axles) == 1 {
        return name.to_owned();
    }
    format!("{name} {}", alike(&rig.axles[..index]) + 1)
}

/// Which axle of its group, where there are several.
fn line(axles: u8, line: u8) -> &'static str {
    match (axles, line) {
        (0 | 1, _) => "",
        (_, 0) => "front axle",
        (3.., 1) => "middle axle",
        _ => "rear axle",
    }
}

fn side(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

/// The name of a wheel as the log has it, also where the rig has lost the
/// axle since; of all wheels where there is none.
pub fn wheel(rig: &Rig, wheel: Option<Wheel>) -> String {
    let Some(wheel) = wheel else {
        return "All wheels".to_owned();
    };
    if let Some(at) = rig.place_of(wheel) {
        return tyre(rig, at);
    }
    let half = match wheel.half {
        Half::Vehicle => "Vehicle",
        Half::Trailer => "Trailer",
    };
    let side = side(wheel.side);
    if wheel.axle == Wheel::LAST {
        return format!("{half}, rear axle, {side}");
    }
    format!("{half}, axle {}, {side}", u32::from(wheel.axle) + 1)
}

/// The full name of a tyre: 'Trailer, front axle, left'. Of no pair, it is
/// that of its wheel.
pub fn tyre(rig: &Rig, at: TyrePosition) -> String {
    let axles = rig.axles.get(at.group).map_or(1, |axle| axle.axles);
    let pair = at.pair.map(|pair| match pair {
        OfPair::Outer => "outer",
        OfPair::Inner => "inner",
    });
    let mut name = group(rig, at.group);
    for part in [
        line(axles, at.line),
        side(at.side),
        pair.unwrap_or_default(),
    ] {
        if !part.is_empty() {
            name += ", ";
            name += part;
        }
    }
    name
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{Axle, PressureUnit};

    #[test]
    fn no_two_tyres_of_a_rig_are_called_alike() {
        let axle = |place, axles, dual| Axle {
            axles,
            dual,
            ..Axle::empty(place)
        };
        let rig = Rig {
            axles: vec![
                axle(Place::Front, 1, false),
                axle(Place::Rear, 1, true),
                axle(Place::Rear, 1, false),
                axle(Place::Trailer, 3, false),
            ],
            ..Rig::empty("", PressureUnit::Psi)
        };
        let names: Vec<String> = rig.round().into_iter().map(|at| tyre(&rig, at)).collect();
        for (index, name) in names.iter().enumerate() {
            assert!(!names[..index].contains(name), "{name}");
        }
        for name in [
            "Front, left",
            "Rear 1, left, inner",
            "Trailer, middle axle, right",
        ] {
            assert!(names.iter().any(|of| of == name), "{name}: {names:?}");
        }
    }
}
