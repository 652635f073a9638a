//! Wheel nuts in words.

use crate::calc::limits::Field;
use crate::calc::torque::recheck::Recheck;
use crate::calc::torque::sequence::{Stage, TickError, Ticked};
use crate::calc::torque::spec::Spec;
use crate::calc::torque::thread::{Clamp, Proof};
use crate::calc::torque::wrench::{Fit, Mark, Reading, ScaleEnd, Wrench};
use crate::calc::torque::{Torque, TorqueError, TorqueUnit};
use crate::decimal;
use crate::rig::nuts::{Done, Due, Half, Target, Wheel};
use crate::ui::kit::format::{Entry, grouped, torque_mark};
use crate::ui::kit::words;
use uom::si::force::kilonewton;

/// A number of a unit, with the unit.
fn number(value: f64, decimals: u8, unit: TorqueUnit) -> String {
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

fn span(low: f64, high: f64, decimals: u8, unit: TorqueUnit) -> String {
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

/// The verdict on a mark: whether it is good, and in words.
pub fn verdict(reading: &Reading) -> (bool, &'static str) {
    match reading.fit {
        Fit::Inside { .. } => (true, "Inside the makers' range."),
        Fit::Unpromised { .. } => (
            false,
            "Inside the makers' range, but below 20 % of the wrench's highest mark, where its \
             accuracy is not promised.",
        ),
        Fit::Outside { .. } => (
            false,
            "This wrench may miss the makers' range. Use a more accurate one.",
        ),
        Fit::NothingStated => (
            false,
            "No tolerance is stated: nearest mark, and nothing can be called inside.",
        ),
    }
}

/// What a mark may give, and how that lies to the spec.
pub fn band(spec: &Spec, reading: &Reading) -> String {
    let unit = reading.mark.unit;
    let decimals = unit.decimals();
    let (low, high) = reading.band.shown_outward(unit, decimals);
    let mut text = format!("It may give {}", span(low, high, decimals, unit));
    if let Some(range) = allowed(spec, unit) {
        text += &format!("; allowed {range}");
    }
    text.push('.');
    let step = 10_f64.powi(i32::from(decimals));
    let down = |t: Torque| number((unit.of(t) * step + 1e-6).floor() / step, decimals, unit);
    let up = |t: Torque| number((unit.of(t) * step - 1e-6).ceil() / step, decimals, unit);
    text += &match reading.fit {
        Fit::Inside { room } | Fit::Unpromised { room } => {
            format!(" {} to spare on the tighter side.", down(room))
        }
        Fit::Outside { under, over } => {
            let none = |t: Torque| unit.of(t) <= 0.0;
            match (none(under), none(over)) {
                (false, true) => format!(" Up to {} too little.", up(under)),
                (true, false) => format!(" Up to {} too much.", up(over)),
                _ => format!(" Up to {} too little or {} too much.", up(under), up(over)),
            }
        }
        Fit::NothingStated => String::new(),
    };
    let low_there = !matches!(reading.fit, Fit::Unpromised { .. });
    if reading.low_on_scale && low_there {
        text += " The mark is below 20 % of the highest, where no accuracy is promised.";
    }
    text
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
        TorqueError::OutOfRange(error) => {
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
        TorqueError::TooFine { decimals, .. } => {
            format!("Too many decimals: at most {decimals} can be kept.")
        }
        TorqueError::Crossed {
            field: Field::HighestMark,
            ..
        } => "The highest mark must be above the lowest.".to_owned(),
        TorqueError::Crossed { .. } => "The most allowed must be above the least.".to_owned(),
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

/// What a stage is pulled to: number and unit; nothing where the wrench's
/// scale doesn't go that low.
pub fn stage_target(
    stage: Stage,
    target: Target,
    unit: TorqueUnit,
) -> Option<(String, &'static str)> {
    match target {
        Target::Mark(wrench, last) => {
            let now = if stage.is_last() {
                last
            } else {
                wrench.stage_mark(last, stage.share())?
            };
            Some((bare(now.value, now.decimals), torque_mark(now.unit)))
        }
        Target::Torque(last) => Some((
            bare(unit.of(stage.torque(last)), unit.decimals()),
            torque_mark(unit),
        )),
    }
}

/// A stage's number.
pub fn stage(stage: Stage) -> String {
    format!("Stage {} of {}", stage.number() + 1, stage.share().1)
}

/// What a tick did, where that needs saying.
pub fn ticked(result: Result<Ticked, TickError>, order: impl Fn(u8) -> usize) -> Option<String> {
    match result {
        Ok(Ticked::InOrder) => None,
        Ok(Ticked::OutOfOrder { expected }) => Some(format!(
            "Out of order: nut {} was next. Counted; if it was a slip, undo.",
            order(expected)
        )),
        Err(TickError::AlreadyDone { stud }) => Some(format!(
            "Nut {} is done in this stage. Undo takes the last one back.",
            order(stud)
        )),
        Err(TickError::NoSuchStud { .. } | TickError::Finished) => None,
    }
}

/// A clamp load with its scatter.
pub fn clamp(clamp: &Clamp) -> String {
    let kn = |force: uom::si::f64::Force| decimal::fixed(force.get::<kilonewton>(), 0);
    let percent = |share: f64| decimal::fixed(share * 100.0, 0);
    let (tension, share) = (clamp.tension, clamp.proof_share);
    let stretched = match clamp.proof() {
        Proof::Within => "",
        Proof::MayExceed => " The upper part of that would stretch the stud for good.",
        Proof::Exceeds => " That would typically stretch the stud for good.",
    };
    format!(
        "About {} kN ({} to {}), {} % of the proof load ({} to {} %).{stretched}",
        kn(tension.typical),
        kn(tension.low),
        kn(tension.high),
        percent(share.typical),
        percent(share.low),
        percent(share.high),
    )
}

/// A half of the rig.
pub fn half(half: Half) -> &'static str {
    match half {
        Half::Vehicle => "Vehicle",
        Half::Trailer => "Trailer",
    }
}

/// A wheel on its half.
pub fn wheel(wheel: Wheel) -> &'static str {
    match wheel {
        Wheel::FrontLeft => "Front left",
        Wheel::FrontRight => "Front right",
        Wheel::MiddleLeft => "Middle left",
        Wheel::MiddleRight => "Middle right",
        Wheel::RearLeft => "Rear left",
        Wheel::RearRight => "Rear right",
        Wheel::Left => "Left",
        Wheel::Right => "Right",
        Wheel::Every => "All wheels",
    }
}

/// A wheel of the rig.
pub fn wheel_of(of: Half, wheel: Wheel) -> String {
    match wheel {
        Wheel::Every => self::wheel(wheel).to_owned(),
        _ => format!("{}, {}", half(of), self::wheel(wheel).to_ascii_lowercase()),
    }
}

/// What was done to a wheel.
pub fn done(done: Done) -> &'static str {
    match done {
        Done::Refitted => "refitted",
        Done::Checked => "checked",
    }
}

/// An odometer reading.
pub fn kilometres(km: f64) -> String {
    format!("{} km", grouped(km))
}

/// A day counted from 1970-01-01, in the calendar.
pub fn date(day: u32) -> String {
    const MONTHS: [&str; 12] = [
        "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
    ];
    // Counted from 1 March of the year 0 in turns of 400 years, so that the
    // odd day of a leap year comes last.
    let day = u64::from(day) + 719_468;
    let (turn, of_turn) = (day / 146_097, day % 146_097);
    let year = (of_turn - of_turn / 1460 + of_turn / 36_524 - of_turn / 146_096) / 365;
    let of_year = of_turn - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    let of_month = of_year - (153 * month + 2) / 5 + 1;
    // March is month 0.
    let index = (month as usize + 2) % 12;
    let year = turn * 400 + year + u64::from(index < 2);
    format!("{of_month} {} {year}", MONTHS[index])
}

/// When a wheel is to be checked.
pub fn due(due: Due) -> String {
    match due {
        Due::AfterRefit {
            recheck,
            between_km,
            late,
        } => {
            let place = match between_km {
                Some((from, to)) => format!("between {} and {}", kilometres(from), kilometres(to)),
                None => "50 to 100 km after the wheel went on".to_owned(),
            };
            match recheck {
                Some(Recheck::Due) => format!("Re-check now: due {place}."),
                Some(Recheck::Overdue) => {
                    format!("Overdue: stop and re-check. It was due {place}.")
                }
                _ if late => {
                    format!("Two weeks have gone by without a re-check, due {place}. Check now.")
                }
                Some(Recheck::Ahead) => format!("Re-check {place}."),
                None => format!("Re-check {place}. The distance driven is not known."),
            }
        }
        Due::Routine { due: true, on } => {
            format!("Due: two weeks were up on {}.", date(on))
        }
        Due::Routine { due: false, on } => format!("Next check by {}.", date(on)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::torque::spec::Tolerance;
    use crate::calc::torque::wrench::{Accuracy, Answer, Scale, ToolClass};

    fn reading(tolerance: Tolerance, highest: f64) -> (Spec, Reading) {
        let scale = Scale {
            unit: TorqueUnit::NewtonMetre,
            lowest: 20.0,
            highest,
            step: 2.0,
        };
        let wrench = Wrench::new(scale, Accuracy::Class(ToolClass::SettingScale)).unwrap();
        let spec = Spec::new(105.0, TorqueUnit::FootPound, tolerance).unwrap();
        let Answer::Set(reading) = wrench.mark_for(&spec, None) else {
            panic!("off the scale");
        };
        (spec, reading)
    }

    #[test]
    fn answers_read_as_reviewed() {
        let (spec, inside) = reading(Tolerance::Percent(8.0), 210.0);
        assert_eq!(mark(inside.mark), "142 N·m");
        assert_eq!(
            band(&spec, &inside),
            "It may give 136.3 to 148.0 N·m; allowed 131.0 to 153.7 N·m. 5.3 N·m to spare on the \
             tighter side."
        );
        assert_eq!(
            self::spec(&spec, TorqueUnit::KilogramMetre),
            "14.52 kgf·m; allowed 13.36 to 15.67 kgf·m"
        );
        let (spec, outside) = reading(Tolerance::Percent(2.0), 210.0);
        assert_eq!(
            band(&spec, &outside),
            "It may give 136.3 to 148.0 N·m; allowed 139.6 to 145.2 N·m. Up to 3.2 N·m too little \
             or 2.8 N·m too much."
        );
        let (spec, bare) = reading(Tolerance::Unstated, 900.0);
        assert_eq!(
            band(&spec, &bare),
            "It may give 136.3 to 148.0 N·m. The mark is below 20 % of the highest, where no \
             accuracy is promised."
        );
    }

    /// Days by the proleptic Gregorian calendar, reckoned year by year.
    #[test]
    fn days_are_those_of_the_calendar() {
        assert_eq!(date(0), "1 Jan 1970");
        assert_eq!(date(20_782), "25 Nov 2026");
        let leap = |year: u32| {
            year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
        };
        let mut day = 0;
        for year in 1970..2600 {
            assert_eq!(date(day), format!("1 Jan {year}"));
            let february = 28 + u32::from(leap(year));
            assert_eq!(date(day + 31), format!("1 Feb {year}"));
            assert_eq!(date(day + 30 + february), format!("{february} Feb {year}"));
            assert_eq!(date(day + 31 + february), format!("1 Mar {year}"));
            day += 337 + february;
        }
    }

    #[test]
    fn what_is_due_says_where_and_when() {
        let after = |recheck, late| Due::AfterRefit {
            recheck,
            between_km: Some((84_260.0, 84_310.0)),
            late,
        };
        assert_eq!(
            due(after(Some(Recheck::Due), true)),
            "Re-check now: due between 84\u{202f}260 km and 84\u{202f}310 km."
        );
        assert!(due(after(Some(Recheck::Ahead), true)).starts_with("Two weeks"));
        assert!(due(after(Some(Recheck::Overdue), false)).starts_with("Overdue"));
        assert_eq!(
            due(Due::Routine {
                due: false,
                on: 20_782
            }),
            "Next check by 25 Nov 2026."
        );
    }
}
