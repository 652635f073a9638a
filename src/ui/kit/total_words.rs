//! What is said of the axles' masses beside their total.

use super::{format, tyre_names};
use crate::calc::quantity::Mass;
use crate::calc::total::{In, Slip};
use crate::rig::Rig;
use crate::rig::weights::total::NotTheTotal;

/// The sum of the masses entered, which is or is not `held` to a total.
pub fn sum(rig: &Rig, sum: Mass, held: bool) -> String {
    let sum = format::mass(rig.mass_unit, sum);
    let held = if held { ", as their total says" } else { "" };
    format!("The axles add up to {sum}{held}.")
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
