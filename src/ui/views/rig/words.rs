//! The rig view's words.

use super::explain::Need;
use super::sidewall::{Mark, Sidewall, Standing};
use crate::calc::pressure::Caution;
use crate::calc::quantity::{Mass, kilogram};
use crate::rig::{Axle, LoadFrom, Missing, OwnBand, Units};
use crate::ui::kit::{format, words};

/// Where the masses come from, while the weights hand them over.
pub const FOLLOWS: &str = "The masses follow the weights page: it writes over what is typed here.";

/// What stands in a mark's place while it was not read.
pub fn mark_place(mark: Mark) -> &'static str {
    match mark {
        Mark::Size => "size",
        Mark::Service => "index, speed",
        Mark::Range => "load range",
        Mark::Rating => "load, pressure",
    }
}

/// A mark with what was read of it.
pub fn mark_read(mark: Mark, text: &str) -> String {
    match mark {
        Mark::Range if text == "XL" => "XL".to_owned(),
        Mark::Range => format!("load range {text}"),
        _ => text.to_owned(),
    }
}

fn mark_name(mark: Mark) -> &'static str {
    match mark {
        Mark::Size => "size",
        Mark::Service => "load index and speed symbol",
        Mark::Range => "load range or ply rating",
        Mark::Rating => "maximum load and its pressure",
    }
}

/// What is asked for next, with an example of it.
pub fn next_mark(mark: Mark) -> &'static str {
    match mark {
        Mark::Size => "Next: the size, such as LT265/75R16.",
        Mark::Service => "Next: load index and speed symbol, such as 123/120Q.",
        Mark::Range => "Next: load range or ply rating, such as LR E or 10PR.",
        Mark::Rating => "Next: the maximum load and its pressure, in the fields below.",
    }
}

/// The drawing of a sidewall in words.
pub fn sidewall(sidewall: &Sidewall) -> Vec<String> {
    let marks = Mark::ALL.into_iter();
    marks
        .map(
            |mark| match (sidewall.standing(mark), sidewall.text(mark)) {
                (Standing::Open, _) => format!("– {}", mark_name(mark)),
                (Standing::Next, _) => format!("▸ {}: next", mark_name(mark)),
                (Standing::Read, _) => format!("✓ {}: read", mark_name(mark)),
            },
        )
        .collect()
}

/// What an axle still needs, in a word or two for its line.
pub fn need(need: Need) -> &'static str {
    match need {
        Need::Tyre => "tyre?",
        Need::Load(Missing::Left) => "left side?",
        Need::Load(Missing::Right) => "right side?",
        Need::Load(Missing::Weighed) => "mass?",
        Need::Load(Missing::Rating) => "plate rating?",
        Need::Load(Missing::Alone) => "mass unhitched?",
        Need::Marks => "more marks?",
        Need::Mend(_) => "look at it",
    }
}

/// The same in a sentence, behind the axle's name.
pub fn needs(need: Need) -> &'static str {
    match need {
        Need::Tyre => "what its tyre says",
        Need::Load(Missing::Left) => "the mass on its left side",
        Need::Load(Missing::Right) => "the mass on its right side",
        Need::Load(Missing::Weighed) => "its mass",
        Need::Load(Missing::Rating) => "its limit off the plate",
        Need::Load(Missing::Alone) => "its mass with the van unhitched",
        Need::Marks => "one more mark of its tyre",
        Need::Mend(_) => "an entry to put right",
    }
}

/// A maximum load and pressure as entered off the sidewall.
pub fn rating(axle: &Axle, units: Units) -> Option<String> {
    let load = axle.moulded_load.or(axle.moulded_dual_load);
    let load = load.map(|load| format::mass(units.mass, load.quantity()));
    let pressure = axle
        .moulded_pressure
        .map(|typed| format::pressure(units.pressure, typed.quantity()));
    match (load, pressure) {
        (Some(load), Some(pressure)) => Some(format!("{load}, {pressure}")),
        (load, pressure) => load.or(pressure),
    }
}

/// To take over the tyre of an axle of this name.
pub fn same_tyre(axle: &str) -> String {
    format!("Same tyre as the {}", axle.to_lowercase())
}

/// The mass on an axle's line, and where it is from.
pub fn mass(axle: &Axle, kg: f64, units: Units) -> String {
    let mass = format::mass(units.mass, Mass::new::<kilogram>(kg));
    match axle.load_from {
        LoadFrom::Rating => format!("{mass}, plate"),
        _ => mass,
    }
}

/// What is still to be entered: axles by name, each with what it needs.
pub fn still_needed(needed: &[(String, Need)]) -> String {
    let parts: Vec<String> = needed
        .iter()
        .map(|(name, need)| format!("{name}: {}", needs(*need)))
        .collect();
    format!("Still to enter. {}.", parts.join("; "))
}

/// A caution beside the field that it is about.
pub fn caution(caution: Caution, units: Units) -> String {
    match caution {
        Caution::LeastOnly(_) => {
            "Without the placard's pressure the figure is the least for this load, and no \
             recommendation."
                .to_owned()
        }
        other => words::caution(other, units.pressure),
    }
}

/// What counts while a band is typed as pressures.
pub fn band_in_pressures(band: &OwnBand, both: bool) -> String {
    if both {
        return "For every axle, whatever its sealed-road pressure.".to_owned();
    }
    format!(
        "Enter both. Until then {} to {} % counts.",
        format::entered(band.low.percent()),
        format::entered(band.high.percent())
    )
}
