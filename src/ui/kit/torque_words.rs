//! Torques, marks and what comes of them, in words.

use crate::calc::limits::Field;
use crate::calc::torque::spec::{Spec, StatedError};
use crate::calc::torque::wrench::{Answer, Fit, Mark, Reading, ScaleEnd, Wrench};
use crate::calc::torque::{Torque, TorqueError, TorqueUnit};
use crate::decimal;
use crate::rig::nuts::{Finding, Nuts};
use crate::rig::position::Half;
use crate::rig::section::Entered;
use crate::ui::kit::format::{Entry, torque_mark};
use crate::ui::kit::words;

/// A number of a unit, with the unit.
pub fn number(value: f64, decimals: u8, unit: TorqueUnit) -> String {
    format!(
        "{} {}",
        decimal::fixed(value, usize::from(decimals)),
        torque_mark(unit)
    )
}

/// A torque to the nearest of the unit's last place.
pub fn torque(torque: Torque, unit: TorqueUnit) -> String {
    number(unit.of(torque), unit.decimals(), unit)
}

/// A number as spec and mark show it, without its unit.
pub fn bare(value: f64, decimals: u8) -> String {
    decimal::fixed(value, usize::from(decimals))
}

/// A mark with its unit.
pub fn mark(mark: Mark) -> String {
    number(mark.value, mark.decimals, mark.unit)
}

/// From one number to another.
pub fn span(low: f64, high: f64, decimals: u8, unit: TorqueUnit) -> String {
    format!(
        "{} to {}",
        bare(low, decimals),
        number(high, decimals, unit)
    )
}

/// What a spec allows, rounded inward.
pub fn allowed(spec: &Spec, unit: TorqueUnit) -> Option<String> {
    let shown = spec.shown_in(unit, unit.decimals());
    let (low, high) = shown.range?;
    Some(span(low, high, shown.decimals, unit))
}

/// A spec in one unit, in full.
pub fn spec(spec: &Spec, unit: TorqueUnit) -> String {
    let shown = spec.shown_in(unit, unit.decimals());
    let nominal = number(shown.nominal, shown.decimals, unit);
    match allowed(spec, unit) {
        Some(range) => format!("{nominal}; allowed {range}"),
        None => nominal,
    }
}

/// How a mark is to be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// It is good.
    Good,
    /// Nothing was stated to hold it to.
    Plain,
    /// Not all of it can be promised.
    Doubt,
    /// It may miss.
    Bad,
}

impl Tone {
    /// The class of its paragraph.
    pub fn class(self) -> &'static str {
        match self {
            Self::Good => "good",
            Self::Plain => "plainly",
            Self::Doubt => "doubt",
            Self::Bad => "warning",
        }
    }
}

/// The verdict on a mark, in words.
pub fn verdict(reading: &Reading) -> (Tone, &'static str) {
    match reading.fit {
        Fit::Inside { .. } => (Tone::Good, "Inside the makers' range."),
        Fit::Unpromised { .. } => (
            Tone::Doubt,
            "Inside the makers' range, but low on this wrench's scale: below 20 % of the highest \
             mark its accuracy is not promised.",
        ),
        Fit::Outside { .. } => (
            Tone::Bad,
            "This wrench may miss the makers' range. Use a more accurate one.",
        ),
        Fit::NothingStated => (
            Tone::Plain,
            "The nearest mark. No tolerance is stated, so how close is close enough is the \
             makers' to say.",
        ),
    }
}

/// That the scale doesn't reach, and how far it would have to.
pub fn off_scale(end: ScaleEnd, needed: Torque, wrench: &Wrench) -> String {
    let highest = wrench.highest();
    let needed = torque(needed, highest.unit);
    match end {
        ScaleEnd::Highest => format!(
            "Beyond this wrench: {needed} is needed, its highest mark is {}. Use a larger one.",
            mark(highest)
        ),
        ScaleEnd::Lowest => {
            format!("Below this wrench's lowest mark: {needed} is needed. Use a smaller one.")
        }
    }
}

/// Why a figure or a wrench can't be used.
pub fn error(error: TorqueError, unit: TorqueUnit) -> String {
    match error {
        TorqueError::Stated(StatedError::OutOfRange(error)) => {
            let what = match error.limit.field {
                Field::SpecTorque => "The torque, or an end of its range, is out of bounds.",
                Field::ToleranceWidth => "The range has no width that a wrench could meet.",
                Field::WrenchAccuracy => "The wrench's accuracy is out of bounds.",
                _ => "A value is out of bounds.",
            };
            let entry = match error.limit.unit {
                crate::calc::limits::Unit::NewtonMetre => Entry::Torque(unit),
                other => Entry::Plain(other),
            };
            format!("{what} {}", words::outside(error, entry))
        }
        TorqueError::Stated(StatedError::TooFine { decimals, .. }) => {
            format!("Too many decimals: at most {decimals} can be kept.")
        }
        TorqueError::Stated(StatedError::Crossed {
            field: Field::HighestMark,
            ..
        }) => "The highest mark must be above the lowest.".to_owned(),
        TorqueError::Stated(StatedError::Crossed { .. }) => {
            "The most allowed must be above the least.".to_owned()
        }
        TorqueError::UnevenScale { .. } => {
            "The highest mark is no whole number of steps above the lowest. Count the marks again."
                .to_owned()
        }
        TorqueError::ArmTooShort { .. } => {
            "Turned so far back, a small slip of the hand is a large error. Turn the adapter \
             outward, or to a right angle."
                .to_owned()
        }
    }
}

/// What the nuts of the vehicle, and of a `trailer`, are tightened to.
pub fn of_nuts(nuts: &Nuts, trailer: bool) -> Vec<String> {
    let halves = [
        (Half::Vehicle, "Vehicle nuts"),
        (Half::Trailer, "Trailer nuts"),
    ];
    let halves = halves
        .into_iter()
        .filter(|(half, _)| trailer || *half == Half::Vehicle);
    let said = halves.map(|(half, name)| {
        let prefix = match half {
            Half::Vehicle => "nuts-vehicle-",
            Half::Trailer => "nuts-trailer-",
        };
        let unusable = nuts.is_unusable(prefix) || nuts.is_unusable("nuts-wrench-");
        format!("{name}: {}", found(&nuts.finding_of(half), unusable))
    });
    said.collect()
}

fn found(finding: &Finding, unusable: bool) -> String {
    if unusable {
        return "no figure, an entry can't be used.".to_owned();
    }
    let unit = finding.spec().map_or(TorqueUnit::NewtonMetre, Spec::unit);
    let stated = finding.spec().map(|of| spec(of, unit));
    let spec = stated.unwrap_or_default();
    match finding {
        Finding::NoUnit | Finding::NoSpec => "the makers' torque was not entered.".to_owned(),
        Finding::BadSpec(why) => format!("no figure. {}", error(*why, unit)),
        Finding::NoWrench(_) => format!("{spec}."),
        Finding::NoAdapter(_) => {
            format!("{spec}. No wrench mark: what is on the wrench was not entered.")
        }
        Finding::BadWrench(_, why) => {
            format!("{spec}. No wrench mark: {}", error(*why, unit))
        }
        Finding::Mark(_, wrench, answer) => match answer {
            Answer::Set(reading) => format!(
                "{spec}. Wrench mark {}. {}",
                mark(reading.mark),
                verdict(reading).1
            ),
            Answer::OffScale { end, needed } => {
                format!("{spec}. {}", off_scale(*end, *needed, wrench))
            }
        },
    }
}
