//! Wheel nuts in words.

use crate::calc::torque::recheck::Recheck;
use crate::calc::torque::sequence::{Stage, TickError, Ticked};
use crate::calc::torque::spec::Spec;
use crate::calc::torque::thread::{Clamp, Proof};
use crate::calc::torque::wrench::{Answer, Fit, Reading};
use crate::calc::torque::{Torque, TorqueUnit};
use crate::decimal;
use crate::rig::Rig;
use crate::rig::nuts::{Done, Due, Finding, LogEntry, Nuts, Slip, Target, WrenchLacks};
use crate::rig::position::{Half, Wheel};
use crate::ui::kit::format::{grouped, torque_mark};
use crate::ui::kit::tyre_names;
use uom::si::force::kilonewton;

pub use crate::ui::kit::torque_words::{
    Tone, allowed, bare, error, mark, number, off_scale, span, spec, torque, verdict,
};

/// That the makers' figure is likely to be a slip.
pub fn slip(slip: Slip) -> String {
    match slip {
        Slip::TooLittle => "Check the figure and its unit: axle makers ask for 54 N·m (40 ft·lbf) \
                            and more. A digit left out? The makers’ figure stands."
            .to_owned(),
        Slip::TooMuch { share } => format!(
            "Check the figure and its unit: it pulls about {} % of what such a stud bears, more \
             than axle makers ask for. N·m taken for ft·lbf? Else check thread and strength. The \
             makers’ figure stands.",
            decimal::fixed(share * 100.0, 0)
        ),
    }
}

/// What is missing of a wrench's accuracy.
pub fn lacks(lacks: WrenchLacks) -> &'static str {
    match lacks {
        WrenchLacks::Accuracy => {
            "How accurate the wrench is was not given: what it may give is not known."
        }
        WrenchLacks::Percent => {
            "By how many per cent the wrench may be off was left blank: what it may give is not \
             known."
        }
    }
}

/// What stands on an axle: the mark for its nuts, or what is missing for it.
pub fn on_axle(finding: &Finding, unusable: bool) -> String {
    match finding {
        _ if unusable => "No mark".to_owned(),
        Finding::NoUnit | Finding::NoSpec => "Torque?".to_owned(),
        Finding::NoWrench(spec) => torque(spec.nominal(), spec.unit()),
        Finding::Mark(_, _, Answer::Set(reading)) => mark(reading.mark),
        _ => "No mark".to_owned(),
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
        text += " The mark is low on the scale: below 20 % of the highest no accuracy is promised.";
    }
    text
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

/// Lines of the log that say the same of several wheels, as one.
pub fn log_lines(log: &[LogEntry]) -> impl DoubleEndedIterator<Item = &[LogEntry]> {
    log.chunk_by(|a, b| {
        let same = |entry: &LogEntry| (entry.done, entry.day, entry.odometer, entry.torque);
        same(a) == same(b) && a.wheel.is_some() && b.wheel.is_some()
    })
}

/// What wheels are called together, all of them in a word.
pub fn names(rig: &Rig, wheels: &[Option<Wheel>]) -> String {
    let all = rig.wheels();
    let are_all = all
        .iter()
        .all(|at| wheels.contains(&Some(rig.wheel_at(*at))));
    let named = |wheel: &Option<Wheel>| tyre_names::wheel(rig, *wheel);
    if are_all {
        return named(&None);
    }
    wheels.iter().map(named).collect::<Vec<_>>().join("; ")
}

/// One line of the log, of one wheel or several.
pub fn log_line(rig: &Rig, nuts: &Nuts, line: &[LogEntry]) -> String {
    let Some(first) = line.first() else {
        return String::new();
    };
    let wheels: Vec<_> = line.iter().map(|entry| entry.wheel).collect();
    let mut text = format!(
        "{}, {}: {}",
        date(first.day),
        done(first.done),
        names(rig, &wheels)
    );
    if let Some(km) = first.odometer_km() {
        text += &format!(". {}", kilometres(km));
    }
    if let Some(typed) = first.torque {
        let half = first.wheel.map_or(Half::Vehicle, |wheel| wheel.half);
        let unit = nuts.of(half).unit.unwrap_or(TorqueUnit::NewtonMetre);
        text += &format!(". {}", self::torque(typed.quantity(), unit));
    }
    text
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

pub use crate::ui::kit::calendar::date;

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
                _ if late => format!("Check now: two weeks without the re-check due {place}."),
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
    use crate::calc::torque::wrench::Wrench;
    use crate::calc::torque::wrench::{Accuracy, Answer, Scale, ToolClass};
    use crate::rig::section::Section;
    use crate::rig::typed::in_unit;

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
            "It may give 136.3 to 148.0 N·m. The mark is low on the scale: below 20 % of the \
             highest no accuracy is promised."
        );
    }

    /// 'No tolerance stated' is the common case: it once came with a red cross.
    #[test]
    fn a_mark_alarms_only_where_it_may_miss() {
        let tone = |tolerance, highest| verdict(&reading(tolerance, highest).1).0;
        assert_eq!(tone(Tolerance::Unstated, 210.0), Tone::Plain);
        assert_eq!(tone(Tolerance::Percent(8.0), 210.0), Tone::Good);
        assert_eq!(tone(Tolerance::Percent(8.0), 900.0), Tone::Doubt);
        assert_eq!(tone(Tolerance::Percent(2.0), 210.0), Tone::Bad);
    }

    #[test]
    fn a_round_of_checks_is_one_line_of_the_log() {
        let mut rig = Rig::demo();
        let mut nuts = Nuts::fresh(true);
        let entry = |wheel, done, odometer: Option<f64>, torque: Option<f64>| LogEntry {
            wheel,
            done,
            day: 20_782,
            odometer: odometer.map(in_unit::kilometres),
            torque: torque.map(in_unit::newton_metres),
            ..LogEntry::default()
        };
        let wheels: Vec<_> = rig.wheels();
        let named = |rig: &Rig, place: usize| Some(rig.wheel_at(wheels[place]));
        for place in [0, 2] {
            let wheel = named(&rig, place);
            nuts.log(entry(wheel, Done::Checked, Some(84_210.0), None));
        }
        let wheel = named(&rig, 3);
        nuts.log(entry(wheel, Done::Refitted, None, Some(122.0)));
        nuts.log(entry(None, Done::Checked, None, None));
        let lines: Vec<String> = log_lines(&nuts.log)
            .map(|line| log_line(&rig, &nuts, line))
            .collect();
        assert_eq!(
            lines,
            [
                "25 Nov 2026, checked: Front, left; Trailer, front axle, left. 84\u{202f}210 km",
                "25 Nov 2026, refitted: Trailer, rear axle, left. 90.0 ft·lbf",
                "25 Nov 2026, checked: All wheels",
            ]
        );
        // A whole round reads as one.
        nuts.log.clear();
        for at in &wheels {
            let wheel = Some(rig.wheel_at(*at));
            nuts.log(entry(wheel, Done::Checked, None, None));
        }
        assert_eq!(
            log_line(&rig, &nuts, &nuts.log),
            "25 Nov 2026, checked: All wheels"
        );
        rig.axles.truncate(2);
        nuts.log(entry(wheel, Done::Refitted, None, Some(122.0)));
        let gone = &nuts.log[8..];
        assert_eq!(
            log_line(&rig, &nuts, gone),
            "25 Nov 2026, refitted: Trailer, axle 2, left. 90.0 ft·lbf"
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
        assert!(due(after(Some(Recheck::Ahead), true)).starts_with("Check now"));
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
