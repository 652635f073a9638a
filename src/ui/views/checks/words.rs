//! Rounds, what is due, and the log, in words.

use crate::calc::check::{Verdict, Wanted};
use crate::calc::quantity::{GaugePressure, kilopascal};
use crate::calc::tyre::wear::{Age, DateCodeError, Tread};
use crate::decimal;
use crate::rig::checks::due::When;
use crate::rig::checks::{Matter, Reading, Round, Task};
use crate::rig::typed::TypedDistance;
use crate::rig::{PressureUnit, Rig};
use crate::ui::kit::check_words::{Look, tyre};
use crate::ui::kit::format::{self, grouped};
use crate::ui::kit::words::tyres;
use crate::ui::kit::{calendar, tyre_names};

/// What is said of round and log alike.
pub const FITTER: &str = "Placard, makers and local law come first. A tyre that keeps losing air, a cut or a bulge: a \
     licensed tyre fitter.";

/// What stands in a calendar's entry of pressures and nuts.
pub const REMINDER: &str = "Cold, before driving. The placard, the makers and local law come first; in doubt, a licensed \
     tyre fitter. The figures are on the Tyreside page.";

/// What a verdict says to do, and how weighty it is, by the class that shows it.
pub fn verdict(verdict: Verdict, wanted: &Wanted, unit: PressureUnit) -> (&'static str, String) {
    let p = |pressure| format::pressure(unit, pressure);
    match verdict {
        Verdict::TooLow { pump_to } => (
            "warning",
            format!(
                "Too little for the load. Pump up to {} before driving on, and look for a leak.",
                p(pump_to)
            ),
        ),
        Verdict::FarTooLow { pump_to } => (
            "warning",
            format!(
                "Far too low: a quarter or more under its figure. Don’t drive on it. Look for a cut \
                 or a leak, then pump up to {}. Driven on like this it may be damaged inside: a \
                 licensed tyre fitter must look.",
                p(pump_to)
            ),
        ),
        Verdict::Low { pump_to } => ("doubt", format!("Low. Pump up to {}.", p(pump_to))),
        Verdict::Enough => (
            "doubt",
            format!(
                "No less than the load needs, {}. That is no recommendation: enter the placard’s \
                 pressure, under Rig. Let none out.",
                p(wanted.goal)
            ),
        ),
        Verdict::Right => ("verdict", "As it should be.".to_owned()),
        Verdict::Within => (
            "verdict",
            format!(
                "Good: {} may be used.",
                format::pressure_range(unit, wanted.low, wanted.high)
            ),
        ),
        Verdict::High { let_down_to } => (
            "doubt",
            format!("High. Let down to {}, tyre cold.", p(let_down_to)),
        ),
        Verdict::AboveMaximum { let_down_to } => (
            "warning",
            format!(
                "More than tyre or wheel may hold cold. Let down to {} before driving on.",
                p(let_down_to)
            ),
        ),
        Verdict::WarmUnsure => (
            "doubt",
            format!(
                "A driven tyre reads 10 to 15 % over its cold {}; this one reads less, and may be \
                 low when cold. Read it again cold.",
                p(wanted.goal)
            ),
        ),
        Verdict::WarmEnough => (
            "verdict",
            "As a warm tyre should be. Let no air out.".to_owned(),
        ),
        Verdict::WarmHigh => (
            "doubt",
            format!(
                "More than 15 % over its cold {}: set too high, or running too warm. Let no air \
                 out now: feel for a hot hub, let it cool, read it again cold.",
                p(wanted.goal)
            ),
        ),
        Verdict::WarmLow { expected } => (
            "doubt",
            format!(
                "Less than {}, which a tyre as warm as the one measured would read: it is cooler, \
                 or has lost air. Read it again cold.",
                p(expected)
            ),
        ),
        Verdict::TooHot => (
            "warning",
            "Far more than warmth explains. Don’t drive on: let it cool and read again. A brake or \
             a bearing may be hot."
                .to_owned(),
        ),
    }
}

/// A verdict in a word or two, for a list.
pub fn short(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::FarTooLow { .. } => "far too low",
        Verdict::TooLow { .. } => "too little for the load",
        Verdict::Low { .. } => "low",
        Verdict::Enough => "no less than the least",
        Verdict::Right | Verdict::Within => "good",
        Verdict::High { .. } => "high",
        Verdict::AboveMaximum { .. } => "over the most it may hold",
        Verdict::WarmUnsure => "perhaps low when cold",
        Verdict::WarmEnough => "good, warm",
        Verdict::WarmHigh => "high for a warm tyre",
        Verdict::WarmLow { .. } => "less than others as warm",
        Verdict::TooHot => "too hot",
    }
}

const fn look(class: &'static str, word: &'static str, sign: &'static str) -> Look {
    Look { class, word, sign }
}

const STOP: &str = "tyre-mark says stop";
const OFF: &str = "tyre-mark says off";
const UNSURE: &str = "tyre-mark says unsure";

/// How a tyre that was read stands on the drawing, by its verdict and by
/// whether it was `wrong` when it was read: a full mark with a cross for what
/// must not be driven on, a heavy frame with a wave for what is a little off,
/// dashes where it can't be told. Nothing of one that is good, which has a tick.
pub fn mark(verdict: Option<Verdict>, wrong: bool) -> Option<&'static Look> {
    static FAR_TOO_LOW: Look = look(STOP, ", stop: far too low", "✕ low");
    static TOO_LOW: Look = look(STOP, ", stop: too little for the load", "✕ low");
    static TOO_HIGH: Look = look(STOP, ", stop: over the most it may hold", "✕ high");
    static TOO_HOT: Look = look(STOP, ", stop: too hot", "✕ hot");
    static LOW: Look = look(OFF, ", a little off: low", "~ low");
    static HIGH: Look = look(OFF, ", a little off: high", "~ high");
    static WAS_OFF: Look = look(OFF, ", was not good when it was read", "~ ?");
    static PERHAPS: Look = look(UNSURE, ", perhaps low when cold", "? low");
    static LEAST: Look = look(UNSURE, ", no less than the least", "?");
    static UNJUDGED: Look = look(UNSURE, ", read, not judged", "?");
    let look = match verdict {
        Some(Verdict::FarTooLow { .. }) => &FAR_TOO_LOW,
        Some(Verdict::TooLow { .. }) => &TOO_LOW,
        Some(Verdict::AboveMaximum { .. }) => &TOO_HIGH,
        Some(Verdict::TooHot) => &TOO_HOT,
        Some(Verdict::Low { .. } | Verdict::WarmLow { .. }) => &LOW,
        Some(Verdict::High { .. } | Verdict::WarmHigh) => &HIGH,
        _ if wrong => &WAS_OFF,
        Some(Verdict::WarmUnsure) => &PERHAPS,
        Some(Verdict::Enough) => &LEAST,
        None => &UNJUDGED,
        Some(Verdict::Right | Verdict::Within | Verdict::WarmEnough) => return None,
    };
    Some(look)
}

/// When, or what it asks for.
pub fn when(task: &Task) -> String {
    match (&task.matter, task.when) {
        (Matter::Age { age, years, .. }, _) => {
            format!("{years} years old.{}", self::age(*age))
        }
        (Matter::Tread { tread, .. }, _) => self::tread(*tread).to_owned(),
        (Matter::Nuts { overdue: true, .. }, _) => {
            "More than 100 km since a wheel went on: stop and check.".to_owned()
        }
        (
            Matter::Nuts { .. },
            When::Ahead {
                on: None,
                at_km: None,
            },
        ) => "Check 50 to 100 km after the wheel went on.".to_owned(),
        (Matter::Bad(_), When::Now { since: Some(day) }) => format!(
            "Found on {}. Put them right, and read or set them again.",
            calendar::date(day)
        ),
        (_, When::Now { since: Some(day) }) => format!("Due since {}.", calendar::date(day)),
        (_, When::Now { since: None }) => "Due now.".to_owned(),
        (_, When::Never) => "Not done yet, so far as this page knows.".to_owned(),
        (_, When::Ahead { on, at_km }) => {
            let on = on.map(|day| format!("on {}", calendar::date(day)));
            let at = at_km.map(|km| format!("at {} km", grouped(km.ceil())));
            let ends: Vec<String> = on.into_iter().chain(at).collect();
            format!("Next {}.", ends.join(" or "))
        }
        (_, When::Standing) => "No time set.".to_owned(),
    }
}

/// A round in one line.
pub fn round(rig: &Rig, round: &Round) -> String {
    let mut text = format!(
        "{}, {}:{:02}: {}",
        calendar::date(round.day),
        round.minute / 60,
        round.minute % 60,
        tyres(round.readings.len())
    );
    text += match round.warm {
        true => " warm",
        false => " cold",
    };
    text += &match round.bad().len() {
        0 => String::new(),
        bad => format!(", {bad} of them not good"),
    };
    if round.all_nuts(rig) {
        text += ", all nuts";
    } else if !round.nuts.is_empty() {
        text += &format!(", nuts of {}", round.nuts.len());
    }
    if let Some(km) = round.odometer.map(TypedDistance::kilometres) {
        text += &format!(", {} km", grouped(km.floor()));
    }
    if let Some(celsius) = round.celsius {
        text += &format!(", {} °C", format::entered(celsius));
    }
    text + "."
}

/// What one tyre read in a round.
pub fn reading(rig: &Rig, reading: &Reading, unit: PressureUnit) -> String {
    let p = |pressure| format::pressure(unit, pressure);
    let goal = reading.goal_kpa.map(GaugePressure::new::<kilopascal>);
    let of = goal.map_or(String::new(), |goal| format!(", cold figure {}", p(goal)));
    let wrong = if reading.wrong { " – not good" } else { "" };
    format!(
        "{}: {}{of}{wrong}",
        tyre(rig, reading.tyre),
        p(reading.read.quantity())
    )
}

/// The wheels whose nuts a round checked; nothing where none or all were.
pub fn nuts(rig: &Rig, round: &Round) -> Option<String> {
    if round.nuts.is_empty() || round.all_nuts(rig) {
        return None;
    }
    let names = round.nuts.iter();
    let names: Vec<String> = names
        .map(|wheel| tyre_names::wheel(rig, Some(*wheel)))
        .collect();
    Some(format!("Nuts checked: {}", names.join("; ")))
}

/// Why a text is no date code.
pub fn date_code_error(error: DateCodeError) -> String {
    match error {
        DateCodeError::Empty => {
            "The four digits that end the long code on one side of the tyre: 2319 is week 23 of \
             2019."
                .to_owned()
        }
        DateCodeError::ThreeDigits => {
            "Three digits: made before 2000. Replace it, whatever its tread.".to_owned()
        }
        DateCodeError::NotFourDigits => "Four digits, such as 2319: week 23 of 2019.".to_owned(),
        DateCodeError::NoSuchWeek { week } => {
            format!("No year has a week {week}: the first two digits are 01 to 53.")
        }
    }
}

/// What a tyre's age asks for, behind it.
pub fn age(age: Age) -> &'static str {
    match age {
        Age::Young => "",
        Age::InspectYearly => " A licensed tyre fitter should look at it every year.",
        Age::Replace => " Replace it, whatever its tread.",
    }
}

/// What the tread asks for.
pub fn tread(tread: Tread) -> &'static str {
    match tread {
        Tread::Deep => "Deep enough.",
        Tread::NearlyWorn => "3 mm or less: poor grip in the wet. Replace it soon.",
        Tread::WornOut => "Worn out: 1.6 mm or less. Replace it before driving on.",
    }
}

/// A tyre's age by its date code.
pub fn made(week: u8, year: u16, days: u32) -> String {
    let months = f64::from(days) / 30.44;
    let (years, months) = ((months / 12.0).floor(), (months % 12.0).floor());
    let number = |value| decimal::fixed(value, 0);
    format!(
        "Week {week} of {year}: {} years {} months old.",
        number(years),
        number(months)
    )
}
