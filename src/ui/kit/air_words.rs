//! The findings of the air view in words.

use crate::calc::fill::InflationError;
use crate::calc::fill::compressor::PumpRemark;
use crate::calc::fill::trip::{Between, Move, NoTime, Times};
use crate::calc::gas::leak::{LeakError, LossVerdict, NATURAL_LOSS_PSI};
use crate::calc::gas::warm::{EXPECTED_RISE_PERCENT, WarmCheck, WarmError, WarmVerdict};
use crate::calc::quantity::{GaugePressure, Span, Time, day, liter, psi, second};
use crate::decimal;
use crate::rig::PressureUnit;
use crate::rig::set_to::{AxleSet, TyreSet, WasCold};
use crate::ui::kit::format;
use crate::ui::kit::words::{out_of_range, surface};

/// A time on a stopwatch: minutes and seconds.
pub fn stopwatch(seconds: f64) -> String {
    let seconds = seconds as u64;
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

/// A time known to the second.
fn duration(seconds: f64) -> String {
    let seconds = seconds.max(0.0).round() as u64;
    match (seconds / 60, seconds % 60) {
        (0, seconds) => format!("{seconds} s"),
        (minutes, _) if minutes >= 20 => format!("{} min", seconds.div_ceil(60)),
        (minutes, 0) => format!("{minutes} min"),
        (minutes, seconds) => format!("{minutes} min {seconds} s"),
    }
}

/// A range of times, outward to whole minutes, or to ten seconds where it is
/// short; one time where both ends are the same.
pub fn between(time: Between) -> String {
    let [low, high] = [time.low, time.high].map(|t| t.get::<second>());
    if high - low < 1.0 {
        return duration(high);
    }
    let (step, unit, mark) = if high < 120.0 {
        (10.0, 1.0, "s")
    } else {
        (60.0, 60.0, "min")
    };
    let out = |value: f64| decimal::fixed(value * step / unit, 0);
    let (low, high) = (out((low / step).floor()), out((high / step).ceil()));
    format!("{low} to {high} {mark}")
}

/// A range of air spaces.
pub fn air_space(space: Span<crate::calc::quantity::Volume>) -> String {
    let [low, likely, high] =
        [space.low, space.likely, space.high].map(|v| decimal::fixed(v.get::<liter>(), 0));
    if low == high {
        format!("{likely} L")
    } else {
        format!("{likely} L ({low} to {high} L)")
    }
}

/// What is done to an axle's tyres.
pub fn verb(a: &Move) -> &'static str {
    if a.is_up() {
        "pump up to"
    } else if a.to < a.from {
        "let down to"
    } else {
        "leave at"
    }
}

/// What is done in a whole leg.
pub fn leg_verb(moves: &[Option<Move>]) -> &'static str {
    let any = |up: bool| {
        let moved = moves.iter().flatten().filter(|a| a.to != a.from);
        moved.filter(|a| a.is_up() == up).count() > 0
    };
    match (any(true), any(false)) {
        (true, false) => "Start pumping up",
        (false, true) => "Start letting down",
        _ => "Start",
    }
}

/// Why there is no figure for a warm tyre.
pub fn warm_error(error: &WarmError, unit: PressureUnit) -> String {
    match error {
        WarmError::OutOfRange(error) => out_of_range(*error, unit),
        WarmError::BelowCold { reading, cold } => format!(
            "No warm figure: {} is below the {} that this tyre would show cold, here and now. It \
             has lost air, or an entry is wrong.",
            format::pressure(unit, *reading),
            format::pressure(unit, *cold)
        ),
        WarmError::BelowAmbient { .. } => {
            "No warm figure: a driven tyre is not cooler than the air around it. Check both \
             temperatures."
                .to_owned()
        }
        WarmError::TooHot(_) => {
            "Do not drive on: so high a reading needs a tyre hotter than any should be. Let it \
             cool and find out why, or look for a wrong entry."
                .to_owned()
        }
        WarmError::NoAmbientTemperature => {
            "Enter the temperature of the air around now as well.".to_owned()
        }
    }
}

/// What a tyre was set for.
fn set_for(set: &TyreSet) -> String {
    format!("set for {}", surface(set.surface).to_ascii_lowercase())
}

/// What the tyre that was read counts as when cold.
pub fn cold_of_reading(was_cold: &WasCold, unit: PressureUnit) -> String {
    let cold = was_cold.pressure().map(|p| format::pressure(unit, p));
    let cold = format!("cold {}", cold.unwrap_or_default());
    match was_cold {
        WasCold::Set(set) => format!("{cold} as {}", set_for(set)),
        WasCold::Sealed(_) => format!("{cold} as its sealed-road figure"),
        _ => cold,
    }
}

/// What a blank cold pressure stands for. `moment` writes a day and time.
pub fn was_cold(was_cold: &WasCold, unit: PressureUnit, moment: impl Fn(f64) -> String) -> String {
    let p = |p| format::pressure(unit, p);
    match was_cold {
        WasCold::Typed(_) => "Was cold: as typed.".to_owned(),
        WasCold::Set(set) => format!(
            "Was cold: {}, {} on {}.",
            p(set.pressure()),
            set_for(set),
            moment(set.day)
        ),
        WasCold::Sealed(figure) => format!(
            "Was cold: {}, its sealed-road figure. Nothing else is known of it: type another if it was \
             let down since.",
            p(*figure)
        ),
        WasCold::Apart(..) | WasCold::Unknown => needs_cold(was_cold, unit),
    }
}

/// Why the cold pressure of the tyre that was read must be typed.
pub fn needs_cold(was_cold: &WasCold, unit: PressureUnit) -> String {
    match was_cold {
        WasCold::Apart(low, high) if low != high => format!(
            "The tyres of this axle are not set alike ({}): type what the one read was cold.",
            format::pressure_range(unit, *low, *high)
        ),
        WasCold::Apart(..) => {
            "Some tyres of this axle are not known: type what the one read was cold.".to_owned()
        }
        _ => "The warm reading needs the tyre's cold pressure.".to_owned(),
    }
}

/// What an axle's tyres are set to, one by one where they differ; nothing
/// where none of them is known.
pub fn axle_set(set: &AxleSet, unit: PressureUnit) -> Option<String> {
    let number = |set: TyreSet| format::pressure_number(unit, set.pressure());
    match set {
        AxleSet::Unknown => None,
        AxleSet::Alike(set) => Some(format::pressure(unit, set.pressure())),
        AxleSet::Apart(tyres) => {
            let tyres: Vec<String> = tyres
                .iter()
                .map(|set| set.map_or("not known".to_owned(), number))
                .collect();
            Some(format!("{} {}", tyres.join(", "), format::unit_mark(unit)))
        }
    }
}

/// Why an axle has no time.
pub fn no_time(why: NoTime, unit: PressureUnit) -> String {
    let p = |pressure| format::pressure(unit, pressure);
    match why {
        NoTime::NoPressure => "an axle has no pressure yet: see the pressures page".to_owned(),
        NoTime::NoSize => "the tyre's size is not known: type in its air space".to_owned(),
        NoTime::NoCompressor => {
            "enter the compressor's flow (Rig, “Compressor, deflator”), or time one tyre pumped up".to_owned()
        }
        NoTime::NoDeflator => {
            "enter the deflator's flow (Rig, “Compressor, deflator”), or time one tyre let down".to_owned()
        }
        NoTime::HalfAFlow => {
            "a flow (Rig, “Compressor, deflator”) lacks its pressure, or a pressure its flow; it is \
                              said there"
                .to_owned()
        }
        NoTime::Refused(error) => match error {
            InflationError::OutOfRange(error) => {
                let text = out_of_range(error, unit);
                format!("a figure is out of range. {text}")
                    .trim_end_matches('.')
                    .to_owned()
            }
            InflationError::WrongWay { from, to } => format!(
                "the timed tyre went from {} to {}, which is the wrong way",
                p(from),
                p(to)
            ),
            InflationError::PointCount { .. } => "one to three flows are needed".to_owned(),
            InflationError::PointsTooClose => {
                "two of the compressor's flows are for nearly the same pressure".to_owned()
            }
            InflationError::FlowRises { at } => format!(
                "the compressor's flow rises towards {}: two entries are swapped",
                p(at)
            ),
            InflationError::OutOfReach { to, highest } => format!(
                "{} is more than the compressor reaches here, {}",
                p(to),
                p(highest)
            ),
            InflationError::ImplausibleTiming { ratio } => format!(
                "the timed tyre makes the compressor's flow {} times the printed one: check the \
                 stopwatch, the pressures and the flow",
                decimal::fixed(ratio, 1)
            ),
            InflationError::NothingTimed => {
                "the timed tyre's two pressures are the same".to_owned()
            }
        },
    }
}

/// What a pumping time rests on.
pub fn remark(remark: PumpRemark, unit: PressureUnit) -> Option<String> {
    match remark {
        PumpRemark::AboveGiven { highest } if highest <= GaugePressure::new::<psi>(0.0) => Some(
            "Only its flow into no pressure is known, and against a tyre it pumps slower: expect \
             longer."
                .to_owned(),
        ),
        PumpRemark::AboveGiven { highest } => Some(format!(
            "Pumps on above {}, the highest pressure whose flow is known: expect longer.",
            format::pressure(unit, highest)
        )),
        PumpRemark::DutyNotGiven => Some(
            "No duty cycle is entered, so no pauses are counted. Let the compressor rest as its \
             maker says."
                .to_owned(),
        ),
        PumpRemark::OneFlowGiven => None,
    }
}

/// The time of all tyres.
pub fn total(times: &Times, tyres: u32) -> Option<String> {
    let total = times.total?;
    let mut text = format!("All {tyres} tyres: {}", between(total));
    if times.pauses.high.get::<second>() > 0.0 {
        text += &format!(", {} of it pauses", between(times.pauses));
    }
    Some(text + ".")
}

/// What a rise says, and what to do.
pub fn warm_check(check: &WarmCheck, unit: PressureUnit) -> Vec<String> {
    let whole = |percent: f64| decimal::fixed(percent, 0);
    let rise = check.rise_percent;
    let (least, most) = EXPECTED_RISE_PERCENT;
    let (low, high) = check.expected;
    let mut lines = vec![
        match check.verdict {
            WarmVerdict::AsExpected => "As expected: the pressure suits load and speed.",
            WarmVerdict::TooMuch => {
                "Too much: too little air for this load or speed, or a brake or bearing drags. \
                 Do not let air out. Slow down, or put more air in once it is cold; feel the hub."
            }
            WarmVerdict::TooLittle => {
                "Little: more air than this load and speed need. Let none out below the placard \
                 or the load minimum."
            }
            WarmVerdict::TooSoon => {
                "Below the expected, but an hour's drive is needed before that says anything."
            }
            WarmVerdict::DangerouslyHot => {
                "Do not drive on: hotter than any tyre should be. Let it cool and find out why."
            }
        }
        .to_owned(),
    ];
    lines.push(format!(
        "Rise {} % of the cold {} ({} to {} % by the gauge's step). Expected after an hour: {} to \
         {} %, which reads {} (common practice, no source).",
        whole(rise.likely),
        format::pressure(unit, check.cold),
        whole(rise.low),
        whole(rise.high),
        whole(least),
        whole(most),
        format::pressure_range(unit, low, high)
    ));
    if !check.certain {
        lines.push("The gauge's step leaves room for another verdict: read again.".to_owned());
    }
    lines
}

/// Whether a rise is one to act on.
pub fn is_bad(verdict: WarmVerdict) -> bool {
    matches!(verdict, WarmVerdict::TooMuch | WarmVerdict::DangerouslyHot)
}

fn loss_range(loss: Span<GaugePressure>, unit: PressureUnit) -> String {
    let number = |p: GaugePressure| match unit {
        PressureUnit::Kpa => decimal::fixed(unit.number(p), 0),
        PressureUnit::Psi => decimal::fixed(unit.number(p), 1),
        PressureUnit::Bar => decimal::fixed(unit.number(p), 2),
    };
    let mark = format::unit_mark(unit);
    format!(
        "{} {mark} a month ({} to {})",
        number(loss.likely),
        number(loss.low),
        number(loss.high)
    )
}

fn natural(unit: PressureUnit) -> String {
    let (least, most) = NATURAL_LOSS_PSI;
    let p = GaugePressure::new::<psi>;
    format!(
        "A sound tyre loses {} a month (US GAO-07-246R, 2007).",
        format::pressure_range(unit, p(least), p(most))
    )
}

/// A loss, and what it says.
pub fn loss(loss: Span<GaugePressure>, verdict: LossVerdict, unit: PressureUnit) -> String {
    let says = match verdict {
        LossVerdict::Natural => "No leak shows.",
        LossVerdict::PerhapsFaster => {
            "Whether it loses more than that, these readings can't tell: read again in a week."
        }
        LossVerdict::Faster => {
            "It loses more than that: look for a nail, the valve and the rim's edge, or have a \
             licensed tyre fitter look."
        }
    };
    let range = loss_range(loss, unit);
    format!("Loses {range}. {} {says}", natural(unit))
}

/// Why readings can't carry a rate of loss. `date` writes a time counted from
/// the first reading.
pub fn leak_error(error: &LeakError, unit: PressureUnit, date: impl Fn(Time) -> String) -> String {
    match error {
        LeakError::OutOfRange { error, .. } => out_of_range(*error, unit),
        LeakError::TooFew { given: 0 } => {
            "No readings of this tyre yet. Two, some weeks apart, make a line.".to_owned()
        }
        LeakError::TooFew { .. } => {
            "One reading makes no line. Losing air by the day? Pump up, do not drive on it, and look for \
             the cause now. Otherwise read again in two weeks or more.".to_owned()
        }
        LeakError::TooClose => "These readings are all within a minute.".to_owned(),
        LeakError::Pumped { from, to } => format!(
            "The pressure rose between {} and {} by more than the readings can be off: it was \
             pumped up. Delete the readings before {}.",
            date(*from),
            date(*to),
            date(*to)
        ),
        LeakError::TooShort { loss, needed } => format!(
            "Too short to say: between them these readings allow {}. Readings as good as these \
             need {} days from first to last.",
            loss_range(*loss, unit),
            decimal::fixed(needed.get::<day>().ceil(), 0)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::kilopascal;

    fn range(low: f64, high: f64) -> String {
        let s = Time::new::<second>;
        between(Between {
            low: s(low),
            high: s(high),
        })
    }

    #[test]
    fn ranges_are_rounded_outward_and_one_time_is_one() {
        assert_eq!(range(61.0, 61.0), "1 min 1 s");
        assert_eq!(range(45.2, 45.2), "45 s");
        assert_eq!(range(1201.0, 1201.0), "21 min");
        assert_eq!(range(41.0, 99.0), "40 to 100 s");
        assert_eq!(range(130.0, 301.0), "2 to 6 min");
        assert_eq!(stopwatch(61.999), "1:01");
    }

    #[test]
    fn messages_read_as_reviewed() {
        let kpa = GaugePressure::new::<kilopascal>;
        let unit = PressureUnit::Kpa;
        assert_eq!(
            warm_error(
                &WarmError::BelowCold {
                    reading: kpa(300.0),
                    cold: kpa(350.0)
                },
                unit
            ),
            "No warm figure: 300 kPa is below the 350 kPa that this tyre would show cold, here \
             and now. It has lost air, or an entry is wrong."
        );
        let span = Span {
            low: kpa(9.0),
            likely: kpa(12.0),
            high: kpa(15.0),
        };
        assert_eq!(
            loss(span, LossVerdict::PerhapsFaster, unit),
            "Loses 12 kPa a month (9 to 15). A sound tyre loses 7 to 14 kPa a month (US \
             GAO-07-246R, 2007). Whether it loses more than that, these readings can't tell: read \
             again in a week."
        );
    }
}
