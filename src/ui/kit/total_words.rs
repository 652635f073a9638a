//! What is said of the axles' masses beside their total.

use super::{format, tyre_names};
use crate::calc::quantity::Mass;
use crate::calc::total::{In, Slip};
use crate::rig::weights::total::{Held, NotTheTotal};
use crate::rig::{LoadFrom, Rig};

/// The sum of the masses entered, and how far a total holds them.
pub fn sum(rig: &Rig, sum: Mass, held: Held) -> String {
    let mass = |mass| format::mass(rig.mass_unit, mass);
    let sum = mass(sum);
    match held {
        Held::Not => format!("The axles add up to {sum}."),
        Held::Whole => format!("The axles add up to {sum}, as their total says."),
        Held::Limits(left) => {
            let rated = |axle: &usize| rig.axles[*axle].load_from == LoadFrom::Rating;
            let limits = (0..rig.axles.len()).filter(rated);
            let limits: Vec<_> = limits.map(|axle| tyre_names::group(rig, axle)).collect();
            let limits = limits.join(", ");
            format!(
                "Not checked. The total leaves {} for {limits}, entered as a plate’s limit: a \
                 digit misread elsewhere would not show. Enter {limits} as weighed to see it.",
                mass(left)
            )
        }
    }
}

/// That sum and total differ, both, and what slip it looks like.
pub fn not_the_total(rig: &Rig, found: NotTheTotal) -> String {
    let mass = |mass| format::mass(rig.mass_unit, mass);
    let apart = found.apart;
    let slip = match (apart.slip, found.axle) {
        (Slip::Swapped(Some((In::Mass(_), right))), Some(axle)) => format!(
            "Are two digits swapped? {} at {} would fit.",
            tyre_names::group(rig, axle),
            mass(right)
        ),
        (Slip::Swapped(Some((_, right))), _) => {
            format!(
                "Are two digits swapped? A total of {} would fit.",
                mass(right)
            )
        }
        (Slip::Swapped(None), _) => {
            "Are two digits swapped in one of them? That would make this difference.".to_owned()
        }
        (Slip::Misread, _) => "Is a digit misread? One digit makes this difference.".to_owned(),
        (Slip::Unclear, _) => {
            "Is a digit left out, a mass of one side only, or something else aboard then?"
                .to_owned()
        }
    };
    let (sum, total) = (mass(apart.sum), mass(apart.total));
    format!("The axles add up to {sum}, their total says {total}. {slip}")
}
