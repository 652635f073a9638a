//! How a person's own figure stands, in words.

use crate::calc::pressure::{Judged, Maximum, Needed};
use crate::calc::quantity::{Mass, kilogram};
use crate::rig::Units;
use crate::ui::kit::{format, words};

/// The answer to 'is this what I can run?', and whether it is a yes.
pub fn judged(judged: Judged, units: Units) -> (bool, String) {
    let p = |pressure| format::pressure(units.pressure, pressure);
    match judged {
        Judged::Usual { speed, reserve } => (
            true,
            format!(
                "Good, {}. Load reserve {}.",
                words::speed_limit(speed),
                format::signed_percent(reserve)
            ),
        ),
        Judged::Slower { up_to, needed } => (
            false,
            format!(
                "Good up to {} only. {}",
                format::speed(up_to),
                asks(needed, units)
            ),
        ),
        Judged::TooLow { slow, needed } => {
            let slow = slow.map(|slow| format!("Driven slowly it takes {}. ", p(slow)));
            (
                false,
                format!(
                    "Too low for this load at any speed. {}{}",
                    slow.unwrap_or_default(),
                    asks(needed, units)
                ),
            )
        }
        Judged::BelowFloor { floor, needed } => (
            false,
            format!("Below the floor of {}. {}", p(floor), asks(needed, units)),
        ),
        Judged::AboveMaximum {
            maximum,
            limited_by,
        } => {
            let by = match limited_by {
                Maximum::Sidewall => "the tyre",
                Maximum::Standard => "such a tyre, where its sidewall does not allow more,",
                Maximum::Wheel => "the wheel or its valve",
            };
            (
                false,
                format!("Too high: {by} may hold {} cold.", p(maximum)),
            )
        }
    }
}

/// What the surface's usual speed asks for.
fn asks(needed: Needed, units: Units) -> String {
    let at = words::speed_limit(needed.speed);
    let pressure = format::pressure(units.pressure, needed.pressure);
    let mut text = format!("{at}: {pressure}").replacen('u', "U", 1);
    if needed.shed > Mass::new::<kilogram>(0.0) {
        text += &format!(
            ", or take {} off this axle",
            format::mass_up(units.mass, needed.shed)
        );
    }
    text + "."
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::pressure::SpeedLimit;
    use crate::calc::quantity::{Velocity, kilometer_per_hour};
    use crate::rig::{PressureUnit, Rig, Surface as Stored};

    /// What the demo's rear axle, 905 kg a tyre, hears of a figure in psi.
    fn rear(psi: f64, surface: Stored) -> (bool, String) {
        let rig = Rig::demo();
        let axle = rig.understand(&rig.axles[1]).expect("understood").axle;
        let band = rig.band(surface).expect("a band");
        let own = PressureUnit::Psi.reading(psi);
        let answer = axle.judge(own, surface, band, rig.unit.step());
        judged(answer.expect("an answer"), rig.units())
    }

    /// By hand: 905 kg needs 36.9 psi by the tables, and 18.5 driven slowly.
    #[test]
    fn a_figure_of_habit_is_answered_plainly() {
        let (good, text) = rear(40.0, Stored::Dirt);
        assert!(good && text.starts_with("Good, up to 80 km/h."), "{text}");
        let (good, text) = rear(32.0, Stored::Dirt);
        assert!(!good, "{text}");
        assert!(text.starts_with("Good up to 40 km/h only. Up to 80 km/h: 37 psi, or take "));
        assert!(text.ends_with(" kg off this axle."), "{text}");
        let (good, text) = rear(16.0, Stored::Dirt);
        assert!(
            !good && text.starts_with("Good up to 10 km/h only."),
            "{text}"
        );
        let p = |psi| PressureUnit::Psi.reading(psi);
        let too_low = Judged::TooLow {
            slow: Some(p(20.0)),
            needed: Needed {
                pressure: p(49.0),
                speed: SpeedLimit::UpTo(Velocity::new::<kilometer_per_hour>(80.0)),
                shed: Mass::new::<kilogram>(0.0),
            },
        };
        let (good, text) = judged(too_low, Rig::demo().units());
        assert!(!good);
        assert_eq!(
            text,
            "Too low for this load at any speed. Driven slowly it takes 20 psi. Up to 80 km/h: 49 \
             psi."
        );
        assert!(rear(20.0, Stored::Sand).0);
        let (good, text) = rear(95.0, Stored::Dirt);
        assert!(
            !good && text.starts_with("Too high: the tyre may hold "),
            "{text}"
        );
    }
}
