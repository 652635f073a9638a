//! Checks: what is due, the log in pieces, its table and its calendar, held
//! against other libraries.

#![cfg(not(target_arch = "wasm32"))]

mod common;

use common::spread;
use icalendar::parser::{read_calendar, unfold};
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use std::cell::RefCell;
use tyreside::calc::check::{Verdict, Wanted, Warmth, judge};
use tyreside::calc::quantity::{GaugePressure, kilopascal, psi as psi_unit};
use tyreside::calc::tyre::wear::{Age, Tread};
use tyreside::rig::calendar::{iso, of_iso};
use tyreside::rig::checks::calendar_file::{self, Entry};
use tyreside::rig::checks::due::{self, Matter, Task, When};
use tyreside::rig::checks::{
    Checks, LastRound, Log, OwnCheck, OwnDone, PRESSURE_DAYS, Reading, Round, table,
};
use tyreside::rig::nuts::{Done, LogEntry, Nuts};
use tyreside::rig::position::{Spot, Wheel};
use tyreside::rig::section::{self, Section};
use tyreside::rig::typed::in_unit::{bar, kilometres, kpa, millimetres, psi};
use tyreside::rig::{PressureUnit, Rig, Surface};
use tyreside::store::{Garage, Memory, Shelf, Trouble, envelope};

fn day(text: &str) -> u32 {
    of_iso(text).expect("a date")
}

fn demo() -> Rig {
    let mut rig = Rig::demo();
    rig.demo = false;
    rig
}

fn spots(rig: &Rig) -> Vec<Spot> {
    rig.round().into_iter().map(|at| rig.spot_of(at)).collect()
}

/// The wheels of all nuts.
fn every_nut(rig: &Rig) -> Vec<Wheel> {
    let wheels = rig.wheels().into_iter();
    wheels.map(|at| rig.wheel_at(at)).collect()
}

/// A round of every tyre and every nut.
fn round(rig: &Rig, on: u32, at: f64) -> Round {
    let mut round = Round {
        day: on,
        minute: 9 * 60 + 5,
        celsius: Some(21.5),
        odometer: Some(kilometres(83_412.6)),
        nuts: every_nut(rig),
        ..Round::default()
    };
    for tyre in spots(rig) {
        round.read(Reading {
            tyre,
            read: psi(at),
            goal_kpa: Some(344.737_864_5),
            wrong: at < 50.0,
        });
    }
    round
}

fn of(tasks: &[Task], which: impl Fn(&Matter) -> bool) -> &Task {
    tasks
        .iter()
        .find(|task| which(&task.matter))
        .expect("a task")
}

#[test]
fn pressures_fall_due_after_two_weeks_or_ones_own_time_and_a_walk_counts() {
    let (mut rig, nuts) = (demo(), Nuts::default());
    rig.set_to.last = None;
    let mut checks = Checks::default();
    let when = |rig: &Rig, checks: &Checks, today: &str| {
        let tasks = due::list(rig, checks, &nuts, day(today));
        of(&tasks, |matter| *matter == Matter::Pressures).when
    };
    assert_eq!(when(&rig, &checks, "2026-11-25"), When::Never);
    checks.last = Some(LastRound {
        day: day("2026-11-01"),
        ..LastRound::default()
    });
    let on = |text: &str| When::Ahead {
        on: Some(day(text)),
        at_km: None,
    };
    let since = |text: &str| When::Now {
        since: Some(day(text)),
    };
    assert_eq!(PRESSURE_DAYS, 14);
    assert_eq!(when(&rig, &checks, "2026-11-14"), on("2026-11-15"));
    assert_eq!(when(&rig, &checks, "2026-11-15"), since("2026-11-15"));
    checks.pressure_days = Some(7);
    assert_eq!(when(&rig, &checks, "2026-11-07"), on("2026-11-08"));
    // Every tyre set on a walk was looked at; a walk left half way was not.
    use tyreside::rig::set_to::{Ended, Last};
    let walk = |ended| Last {
        surface: Surface::Dirt,
        day: f64::from(day("2026-11-06")) + 0.4,
        warm: false,
        ended,
    };
    rig.set_to.last = Some(walk(Ended::Finished));
    assert_eq!(when(&rig, &checks, "2026-11-12"), on("2026-11-13"));
    for ended in [Ended::Abandoned, Ended::Said] {
        rig.set_to.last = Some(walk(ended));
        assert_eq!(when(&rig, &checks, "2026-11-12"), since("2026-11-08"));
    }
}

#[test]
fn nuts_fall_due_by_the_log_and_by_ones_own_days() {
    let rig = demo();
    let mut nuts = Nuts::default();
    let checks = Checks::default();
    let task = |nuts: &Nuts, today: &str| {
        let tasks = due::list(&rig, &checks, nuts, day(today));
        of(&tasks, |matter| matches!(matter, Matter::Nuts { .. })).clone()
    };
    assert_eq!(task(&nuts, "2026-11-01").when, When::Never);
    nuts.log(LogEntry {
        day: day("2026-11-01"),
        done: Done::Checked,
        ..LogEntry::default()
    });
    let ahead = |on: &str| When::Ahead {
        on: Some(day(on)),
        at_km: None,
    };
    assert_eq!(task(&nuts, "2026-11-02").when, ahead("2026-11-15"));
    nuts.check_days = Some(30);
    assert_eq!(task(&nuts, "2026-11-20").when, ahead("2026-12-01"));
    assert!(task(&nuts, "2026-12-01").is_now());
    nuts.check_days = None;

    // One wheel back on at 1,000 km: between 50 and 100 km after.
    let wheel = rig.wheel_at(rig.wheels()[1]);
    nuts.log(LogEntry {
        day: day("2026-11-02"),
        done: Done::Refitted,
        wheel: Some(wheel),
        odometer: Some(kilometres(1000.0)),
        ..LogEntry::default()
    });
    for (now, is_now, is_overdue) in [
        (1010.0, false, false),
        (1050.0, true, false),
        (1101.0, true, true),
    ] {
        nuts.odometer = Some(kilometres(now));
        let task = task(&nuts, "2026-11-03");
        assert_eq!(task.is_now(), is_now, "{now} km");
        let Matter::Nuts {
            wheels,
            all,
            overdue,
        } = &task.matter
        else {
            panic!("nuts");
        };
        assert_eq!((wheels.as_slice(), *all), ([wheel].as_slice(), false));
        assert_eq!(*overdue, is_overdue);
        if !is_now {
            let at_km = Some(1050.0);
            assert_eq!(task.when, When::Ahead { on: None, at_km });
        }
    }
}

#[test]
fn ones_own_check_falls_due_by_days_or_distance_whichever_comes_first() {
    let (rig, mut nuts) = (demo(), Nuts::default());
    let mut checks = Checks::default();
    let id = checks.add_own().expect("room");
    let when = |checks: &Checks, nuts: &Nuts, today: &str| {
        let tasks = due::list(&rig, checks, nuts, day(today));
        of(&tasks, |matter| *matter == Matter::Own(id)).when
    };
    assert_eq!(when(&checks, &nuts, "2026-11-25"), When::Never);
    *checks.own_mut(id).unwrap() = OwnCheck {
        id,
        name: "Plugs and lights".to_owned(),
        days: Some(30),
        distance: Some(kilometres(500.0)),
        done_day: Some(day("2026-11-01")),
        done_at: Some(kilometres(10_000.0)),
        ..OwnCheck::default()
    };
    let ahead = When::Ahead {
        on: Some(day("2026-12-01")),
        at_km: Some(10_500.0),
    };
    assert_eq!(when(&checks, &nuts, "2026-11-25"), ahead);
    nuts.odometer = Some(kilometres(10_499.9));
    assert_eq!(when(&checks, &nuts, "2026-11-25"), ahead);
    nuts.odometer = Some(kilometres(10_500.0));
    assert_eq!(
        when(&checks, &nuts, "2026-11-25"),
        When::Now { since: None }
    );
    nuts.odometer = None;
    let since = Some(day("2026-12-01"));
    assert_eq!(when(&checks, &nuts, "2026-12-02"), When::Now { since });
    // With neither, it is only kept in mind.
    let own = checks.own_mut(id).unwrap();
    (own.days, own.distance) = (None, None);
    assert_eq!(when(&checks, &nuts, "2026-12-02"), When::Standing);
}

/// A tyre at 20 psi was forgotten once its round was saved.
#[test]
fn what_a_round_found_stays_due_until_the_tyres_are_set() {
    use tyreside::rig::set_to::{Ended, Last};
    let (mut rig, nuts) = (demo(), Nuts::default());
    let bad = spots(&rig)[2..4].to_vec();
    let checks = Checks {
        last: Some(LastRound {
            day: day("2026-11-25"),
            at: f64::from(day("2026-11-25")) + 0.4,
            bad: bad.clone(),
            ..LastRound::default()
        }),
        ..Checks::default()
    };
    let body = section::body(&checks).expect("sound");
    assert_eq!(section::read::<Checks>(1, &body).as_ref(), Ok(&checks));
    let found = |rig: &Rig| {
        let tasks = due::list(rig, &checks, &nuts, day("2026-11-25"));
        tasks
            .first()
            .filter(|task| task.matter == Matter::Bad(bad.clone()))
            .map(Task::is_now)
    };
    assert_eq!(found(&rig), Some(true));
    for (ended, after, left) in [
        (Ended::Finished, -0.1, Some(true)),
        (Ended::Abandoned, 0.1, Some(true)),
        (Ended::Finished, 0.1, None),
        (Ended::Said, 0.1, None),
    ] {
        rig.set_to.last = Some(Last {
            surface: Surface::Sealed,
            day: f64::from(day("2026-11-25")) + 0.4 + after,
            warm: false,
            ended,
        });
        assert_eq!(found(&rig), left, "{ended:?} {after}");
    }
}

/// A round taken out of the log left what only the one before had found
/// forgotten: the last round was worked out from a single one.
#[test]
fn what_is_known_of_the_last_round_follows_from_all_of_them() {
    let rig = demo();
    let tyres = spots(&rig);
    let read = |on, tyre, wrong| {
        let mut round = Round {
            day: on,
            ..Round::default()
        };
        round.read(Reading {
            tyre,
            read: psi(40.0),
            goal_kpa: None,
            wrong,
        });
        round
    };
    let known = |rounds: &[Round]| {
        let each = rounds.iter();
        each.fold(None, |last, of| {
            LastRound::after(last, of, f64::from(of.day))
        })
    };
    let of = |rounds: &[Round]| known(rounds).map(|last| (last.day, last.bad));
    let (first, other) = (read(1, tyres[0], true), read(2, tyres[1], false));
    assert_eq!(
        of(&[first.clone(), other.clone()]),
        Some((2, vec![tyres[0]]))
    );
    let again = read(3, tyres[0], false);
    assert_eq!(of(&[first.clone(), other, again]), Some((3, Vec::new())));
    // Nuts alone are no look at the pressures.
    let nuts = Round {
        day: 4,
        nuts: every_nut(&rig),
        ..Round::default()
    };
    assert_eq!(of(&[first, nuts.clone()]), Some((1, vec![tyres[0]])));
    assert_eq!(of(std::slice::from_ref(&nuts)), None);
    // The nuts' log has one line for all wheels, or one for each.
    let lines = nuts.nut_lines(&rig);
    assert!(matches!(
        lines[..],
        [LogEntry {
            wheel: None,
            day: 4,
            ..
        }]
    ));
    let some = Round {
        nuts: nuts.nuts[..2].to_vec(),
        ..nuts
    };
    let wheels: Vec<_> = some.nut_lines(&rig).iter().map(|line| line.wheel).collect();
    assert_eq!(wheels, [Some(some.nuts[0]), Some(some.nuts[1])]);
}

/// Every fault had the same mark, from a step low to a tyre about to burst.
#[test]
fn a_mark_says_how_bad_it_is() {
    use tyreside::ui::views::checks::words::mark;
    let p = GaugePressure::new::<psi_unit>;
    let wanted = Wanted {
        goal: p(50.0),
        low: p(50.0),
        high: p(50.0),
        least: p(44.2),
        maximum: p(65.0),
        least_only: false,
    };
    let step = PressureUnit::Psi.step();
    let sign = |read, warmth, wanted: &Wanted| {
        let verdict = judge(p(read), wanted, warmth, step).expect("a verdict");
        let look = mark(Some(verdict), verdict.is_bad());
        // Danger is the same by its mark and by its words.
        let grave = matches!(
            verdict,
            Verdict::FarTooLow { .. }
                | Verdict::TooLow { .. }
                | Verdict::AboveMaximum { .. }
                | Verdict::TooHot
        );
        let stop = look.is_some_and(|look| look.word.contains("stop"));
        assert_eq!(stop, grave, "{verdict:?}");
        assert_eq!(look.is_none(), verdict.is_good(), "{verdict:?}");
        look.map_or("✓", |look| look.sign)
    };
    let warm = Warmth::Warm(None);
    for (read, warmth, expected) in [
        (50.0, Warmth::Cold, "✓"),
        (49.0, Warmth::Cold, "~ low"),
        (40.0, Warmth::Cold, "✕ low"),
        (20.0, Warmth::Cold, "✕ low"),
        (54.0, Warmth::Cold, "~ high"),
        (70.0, Warmth::Cold, "✕ high"),
        (50.0, warm, "? low"),
        (56.0, warm, "✓"),
        (60.0, warm, "~ high"),
        (110.0, warm, "✕ hot"),
    ] {
        assert_eq!(sign(read, warmth, &wanted), expected, "{read} {warmth:?}");
    }
    let least = Wanted {
        least_only: true,
        ..wanted
    };
    assert_eq!(sign(52.0, Warmth::Cold, &least), "?");
    assert_eq!(mark(None, false).map(|look| look.sign), Some("?"));
    // Wrong when it was read, it does not turn good by another figure.
    assert_eq!(
        mark(Some(Verdict::Right), true).map(|look| look.sign),
        Some("~ ?")
    );
}

/// Two wheels checked, and the list had the six others checked too.
#[test]
fn wheels_that_were_never_checked_are_said_beside_those_that_were() {
    let rig = demo();
    let mut nuts = Nuts::default();
    let wheels: Vec<_> = rig
        .wheels()
        .into_iter()
        .map(|at| rig.wheel_at(at))
        .collect();
    for wheel in &wheels[..2] {
        nuts.log(LogEntry {
            day: day("2026-11-01"),
            done: Done::Checked,
            wheel: Some(*wheel),
            ..LogEntry::default()
        });
    }
    let tasks = due::list(&rig, &Checks::default(), &nuts, day("2026-11-02"));
    let said: Vec<_> = tasks
        .iter()
        .filter_map(|task| match &task.matter {
            Matter::Nuts { wheels, .. } => Some((wheels.clone(), task.when)),
            _ => None,
        })
        .collect();
    let on = Some(day("2026-11-15"));
    assert_eq!(
        said,
        [
            (wheels[2..].to_vec(), When::Never),
            (wheels[..2].to_vec(), When::Ahead { on, at_km: None })
        ]
    );
}

/// Ages by a vehicle maker's published service information (5 and 10 years),
/// tread by WA Road Traffic (Vehicles) Regulations 2014, reg 270 (1.5 mm) and
/// UK police guidance (1.6 mm).
#[test]
fn old_and_worn_tyres_are_named() {
    let (rig, nuts) = (demo(), Nuts::default());
    let mut checks = Checks::default();
    let all = spots(&rig);
    for (tyre, made, tread) in [
        (all[0], "4716", 1.6),
        (all[1], "4816", 1.7),
        (all[2], "4721", 3.1),
        (all[3], "1324", 8.0),
        (all[4], "99", 3.0),
    ] {
        checks.change_tyre(tyre, |of| {
            of.made = made.to_owned();
            of.tread = Some(millimetres(tread));
        });
    }
    // Week 47 of 2016 began on 21 November, of 2021 on 22 November.
    let tasks = due::list(&rig, &checks, &nuts, day("2026-11-25"));
    let of_tyre = |tyre: Spot| {
        let mut age = None;
        let mut worn = None;
        for task in &tasks {
            match &task.matter {
                Matter::Age {
                    tyre: of,
                    age: is,
                    years,
                } if *of == tyre => age = Some((*is, *years, task.is_now())),
                Matter::Tread { tyre: of, tread } if *of == tyre => {
                    worn = Some((*tread, task.is_now()));
                }
                _ => {}
            }
        }
        (age, worn)
    };
    assert_eq!(
        of_tyre(all[0]),
        (Some((Age::Replace, 10, true)), Some((Tread::WornOut, true)))
    );
    assert_eq!(
        of_tyre(all[1]),
        (
            Some((Age::InspectYearly, 9, false)),
            Some((Tread::NearlyWorn, false))
        )
    );
    assert_eq!(
        of_tyre(all[2]),
        (Some((Age::InspectYearly, 5, false)), None)
    );
    assert_eq!(of_tyre(all[3]), (None, None));
    assert_eq!(of_tyre(all[4]), (None, Some((Tread::NearlyWorn, false))));
    // What is due comes first.
    let first_later = tasks.iter().position(|task| !task.is_now()).unwrap();
    assert!(tasks[first_later..].iter().all(|task| !task.is_now()));
    assert_eq!(first_later, 2);
}

#[test]
fn a_round_goes_on_at_the_first_tyre_not_read_and_a_second_reading_replaces() {
    let rig = demo();
    let mut round = Round::default();
    for at in rig.round() {
        assert_eq!(round.next(&rig), Some(at));
        round.hand = Some(rig.spot_of(at));
        let reading = Reading {
            tyre: rig.spot_of(at),
            read: psi(40.0),
            goal_kpa: None,
            wrong: true,
        };
        round.read(reading);
        round.read(Reading {
            read: psi(50.0),
            wrong: false,
            ..reading
        });
        assert_eq!(
            round.reading(reading.tyre).map(|of| of.read),
            Some(psi(50.0))
        );
    }
    assert_eq!(round.next(&rig), None);
    // Passed over, a tyre is come round to again.
    let passed = spots(&rig)[2];
    round.forget(passed);
    round.hand = Some(spots(&rig)[5]);
    assert_eq!(round.next(&rig).map(|at| rig.spot_of(at)), Some(passed));
    round.hand = Some(passed);
    assert_eq!(round.next(&rig), None);
    round.read(Reading {
        tyre: passed,
        read: psi(50.0),
        goal_kpa: None,
        wrong: false,
    });
    assert_eq!(round.readings.len(), rig.round().len());
    assert_eq!((round.bad(), round.all_nuts(&rig)), (Vec::new(), false));
    assert!(self::round(&rig, 0, 40.0).all_nuts(&rig));
    assert_eq!(self::round(&rig, 0, 40.0).bad(), spots(&rig));
}

/// What fits: ten years of a round a week for three rigs, in the letters that
/// browsers count (5 Mi of them, MDN, storage quotas).
#[test]
fn ten_years_of_weekly_rounds_for_three_rigs_fit() {
    const QUOTA: usize = 5 * 1024 * 1024;
    let shelf = Memory::default();
    let (mut garage, _) = Garage::open(&shelf);
    let mut most = 0;
    for name in ["One", "Two", "Three"] {
        garage
            .add(
                &shelf,
                Rig {
                    name: name.to_owned(),
                    ..demo()
                },
            )
            .unwrap();
        let rig = garage.current().clone();
        let first = day("2026-01-05");
        for week in 0..520 {
            let on = first + 7 * week;
            let round = round(&rig, on, 48.5);
            let added = RefCell::new(false);
            garage
                .change_piece(&shelf, Some(Log::piece(on)), |log: &mut Log| {
                    *added.borrow_mut() = log.add(round);
                })
                .unwrap();
            assert!(added.into_inner(), "{week}");
        }
    }
    let mut total = 0;
    for key in shelf.keys().unwrap() {
        let text = shelf.get(&key).unwrap().unwrap();
        total += key.encode_utf16().count() + text.encode_utf16().count();
        if key.contains(".log.") {
            most = most.max(text.len());
        }
    }
    let pieces = garage.pieces(&shelf, Log::PART);
    assert_eq!(pieces, (2026..=2035).collect::<Vec<_>>());
    println!(
        "ten years, three rigs, 1,560 rounds of 8 tyres: {total} letters, {} % of {QUOTA}; the \
         longest piece {most}",
        100 * total / QUOTA
    );
    assert!(total * 2 < QUOTA, "{total}");
    // Read back whole.
    let (again, _) = Garage::open(&shelf);
    let mut again = again;
    again.choose(&shelf, garage.current_id()).unwrap();
    let mut rounds = 0;
    for piece in pieces {
        again.hold::<Log>(&shelf, Some(piece));
        rounds += again.section::<Log>(Some(piece)).unwrap().rounds.len();
    }
    assert_eq!(rounds, 520);
    assert!(again.set_aside(&shelf).is_empty());
}

/// A year as full as it may be, of the largest rig, can still be read.
#[test]
fn a_full_year_of_the_largest_rig_is_read_again() {
    use tyreside::rig::{Axle, AxleId, Place};
    let mut rig = demo();
    for (index, axle) in rig.axles.iter_mut().enumerate() {
        axle.dual = index > 0;
        axle.axles = if index > 1 { 3 } else { 1 };
    }
    while rig.axles.len() < Rig::MOST_AXLES {
        rig.axles.push(Axle {
            id: AxleId(rig.next_axle),
            axles: 3,
            dual: true,
            ..Axle::empty(Place::Trailer)
        });
        rig.next_axle += 1;
    }
    let tyres = rig.round().len();
    let mut log = Log::default();
    let mut count = 0;
    while log.add(round(&rig, 20_454 + count, 123.456_789_123)) {
        count += 1;
    }
    assert_eq!(count as usize, Log::MOST_READINGS / tyres);
    for id in 0..Log::MOST_DONE as u32 {
        let name = "\u{1f69a}".repeat(Checks::LONGEST_NAME);
        assert!(log.add_done(OwnDone {
            id,
            name,
            day: 20_454,
            odometer: Some(kilometres(123_456.789)),
            ..OwnDone::default()
        }));
    }
    let body = section::body(&log).expect("sound");
    let text = envelope::write(Log::VERSION, &body);
    println!("{tyres} tyres, {count} rounds: {} bytes", text.len());
    assert!(text.len() < envelope::LONGEST, "{}", text.len());
    let (version, body) = envelope::read(&text).expect("a section");
    assert_eq!(section::read::<Log>(version, body), Ok(log));
}

#[test]
fn pieces_are_apart_a_newer_one_is_kept_and_nothing_is_written_over_it() {
    let shelf = Memory::default();
    let (mut garage, _) = Garage::open(&shelf);
    garage.add(&shelf, demo()).unwrap();
    let rig = garage.current().clone();
    let log = |garage: &mut Garage, year: u16, on: &str| {
        garage.change_piece(&shelf, Some(year), |log: &mut Log| {
            log.add(round(&rig, day(on), 50.0));
        })
    };
    log(&mut garage, 2025, "2025-06-01").unwrap();
    log(&mut garage, 2026, "2026-06-01").unwrap();
    let id = garage.current_id();
    let (old, new) = (
        format!("tyreside.rig.{id}.log.2025"),
        format!("tyreside.rig.{id}.log.2026"),
    );
    let before = shelf.get(&old).unwrap();
    log(&mut garage, 2026, "2026-06-08").unwrap();
    assert_eq!(shelf.get(&old).unwrap(), before);

    for text in [
        envelope::write(7, "{\"rounds\":[]}"),
        shelf
            .get(&new)
            .unwrap()
            .unwrap()
            .replace("50 psi", "51 psi"),
    ] {
        shelf.put(&new, &text).unwrap();
        let (mut now, _) = Garage::open(&shelf);
        let aside = now.set_aside(&shelf);
        assert_eq!(aside.len(), 1);
        assert_eq!(aside[0].part, "log.2026");
        assert_eq!(log(&mut now, 2026, "2026-07-01"), Err(Trouble::SetAside));
        assert_eq!(shelf.get(&new).unwrap().as_deref(), Some(text.as_str()));
        log(&mut now, 2025, "2025-07-01").unwrap();
    }
    // What is no number of a year is a section of its own, and not known.
    for name in ["log.02026", "log.x", "log.70000", "logs.2026"] {
        let key = format!("tyreside.rig.{id}.{name}");
        shelf.put(&key, &envelope::write(1, "{}")).unwrap();
        let (now, _) = Garage::open(&shelf);
        assert!(
            now.set_aside(&shelf).iter().any(|of| of.part == name),
            "{name}"
        );
        assert_eq!(now.pieces(&shelf, Log::PART), [2025, 2026]);
        shelf.remove(&key).unwrap();
    }
}

/// The verdict against plain comparisons in whole millibars, written another
/// way: warm air is never let out, low is never called right, and nothing that
/// carries the load is called too low.
#[test]
fn a_verdict_is_safe_at_every_reading() {
    let wanted = (100_u32..600, 0_u32..60, 0_u32..60, 0_u32..120, 0_u32..200);
    // Half of the readings beside the figure, where the verdicts meet.
    let reading = (any::<bool>(), 0_u32..1200, -60_i32..180);
    let strategy = (wanted, reading, any::<bool>(), any::<bool>());
    spread(
        50_000,
        strategy,
        &[
            "far too low",
            "too low",
            "low",
            "right",
            "within",
            "high",
            "above",
            "enough",
            "unsure",
            "warm",
            "warm high",
            "hot",
        ],
        |((goal, low, high, least, over), reading, warm, least_only), count| {
            let p = |kpa: u32| GaugePressure::new::<kilopascal>(f64::from(kpa));
            let step = PressureUnit::Kpa.step();
            let goal = goal / 5 * 5;
            let (beside, anywhere, off) = reading;
            let reading = if beside {
                goal.saturating_add_signed(off)
            } else {
                anywhere
            };
            let wanted = Wanted {
                goal: p(goal),
                low: p(goal - low.min(goal - 50)),
                high: p(goal + high),
                least: p(goal.saturating_sub(least).max(50)),
                maximum: p(goal + high + over),
                least_only,
            };
            let warmth = if warm {
                Warmth::Warm(None)
            } else {
                Warmth::Cold
            };
            let verdict = judge(p(reading), &wanted, warmth, step).expect("within limits");
            let lowest = (goal - low.min(goal - 50)).min(goal.saturating_sub(least).max(50));
            let expected = if reading < lowest && 4 * reading <= 3 * goal {
                "far too low"
            } else if reading < lowest {
                "too low"
            } else if reading < goal {
                "low"
            } else if warm {
                // 1.25 times the absolute maximum, at the standard atmosphere.
                let hot = 1.25 * (f64::from(goal + high + over) + 101.325) - 101.325;
                // Ten to fifteen hundredths more, in whole kilopascals.
                if f64::from(reading) > hot {
                    "hot"
                } else if 100 * reading < 110 * goal {
                    "unsure"
                } else if 100 * reading < 115 * goal + 500 {
                    "warm"
                } else {
                    "warm high"
                }
            } else if reading >= goal + high + over + 5 {
                "above"
            } else if least_only {
                "enough"
            } else if reading < goal + 5 {
                "right"
            } else if reading < goal + high + 5 {
                "within"
            } else {
                "high"
            };
            let got = match verdict {
                Verdict::FarTooLow { .. } => "far too low",
                Verdict::TooLow { .. } => "too low",
                Verdict::Low { .. } => "low",
                Verdict::Right => "right",
                Verdict::Within => "within",
                Verdict::High { .. } => "high",
                Verdict::AboveMaximum { .. } => "above",
                Verdict::Enough => "enough",
                Verdict::WarmUnsure => "unsure",
                Verdict::WarmEnough => "warm",
                Verdict::WarmHigh => "warm high",
                Verdict::WarmLow { .. } => unreachable!("its warmth is not known"),
                Verdict::TooHot => "hot",
            };
            count(got);
            prop_assert_eq!(got, expected, "{} of {:?}", reading, wanted);
            Ok(())
        },
    );
}

fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[ -~]{0,60}",
        "\\PC{0,60}",
        "[=+@\\-\"',;:\\\\\r\n\t a]{0,40}",
        "\u{1f69a}{30,40}",
    ]
}

/// Every calendar against the parser of the `icalendar` crate: RFC 5545's
/// lines of 75 bytes, its escapes, and the fields as they were given.
#[test]
fn a_calendar_is_read_by_another_library() {
    let strategy = (
        any_text(),
        any_text(),
        0_u32..60_000,
        any::<Option<bool>>(),
        1_u32..4000,
    );
    spread(
        5_000,
        strategy,
        &["once", "again", "folded"],
        |(summary, description, day, again, every), count| {
            let entry = Entry {
                uid: "round-a1b2@tyreside".to_owned(),
                summary: summary.clone(),
                description: description.clone(),
                day,
                every: again.map(|_| every),
            };
            count(if again.is_some() { "again" } else { "once" });
            let file = calendar_file::write(&[entry.clone(), entry], 1_795_651_200);
            prop_assert!(file.ends_with("\r\n"));
            for line in file.split("\r\n") {
                prop_assert!(line.len() <= 75, "{}", line);
                prop_assert!(!line.contains(['\r', '\n']));
            }
            if file.contains("\r\n ") {
                count("folded");
            }
            let unfolded = unfold(&file);
            let calendar = read_calendar(&unfolded).map_err(TestCaseError::fail)?;
            let events = calendar.components;
            prop_assert_eq!(events.len(), 2);
            for event in &events {
                let value = |name: &str| {
                    event
                        .find_prop(name)
                        .map(|property| property.val.to_string())
                };
                let kept = |text: &str| -> String {
                    text.chars()
                        .filter(|c| *c == '\n' || !c.is_control())
                        .collect()
                };
                prop_assert_eq!(value("SUMMARY"), Some(kept(&summary)));
                prop_assert_eq!(value("DESCRIPTION"), Some(kept(&description)));
                prop_assert_eq!(value("UID"), Some("round-a1b2@tyreside".to_owned()));
                let start = format!("{}T090000", iso(day).replace('-', ""));
                prop_assert_eq!(value("DTSTART"), Some(start));
                prop_assert_eq!(value("DTSTAMP"), Some("20261126T000000Z".to_owned()));
                let rule = again.map(|_| format!("FREQ=DAILY;INTERVAL={every}"));
                prop_assert_eq!(event.find_prop("RRULE").map(|of| of.val.to_string()), rule);
                let alarm = &event.components;
                prop_assert_eq!(alarm.len(), 1);
                prop_assert_eq!(
                    alarm[0].find_prop("TRIGGER").map(|of| of.val.to_string()),
                    Some("PT0S".to_owned())
                );
            }
            Ok(())
        },
    );
}

/// Every table against the reader of the `csv` crate (RFC 4180): rows as
/// given, and no cell that a spreadsheet would run as a formula.
#[test]
fn a_table_is_read_by_another_library() {
    let rig = demo();
    let strategy = (
        any_text(),
        0_u32..60_000,
        0_u32..1440,
        0.0_f64..170.0,
        any::<bool>(),
    );
    spread(
        5_000,
        strategy,
        &["formula", "quoted"],
        |(name, on, minute, reading, warm), count| {
            let mut round = round(&rig, on, 50.0);
            (round.minute, round.warm, round.surface) = (minute, warm, Surface::Corrugations);
            for of in &mut round.readings {
                of.read = psi(reading);
            }
            let mut log = Log::default();
            log.add(round.clone());
            log.add_done(OwnDone {
                name: name.clone(),
                day: on,
                ..OwnDone::default()
            });
            let nuts = [LogEntry {
                day: on,
                done: Done::Refitted,
                wheel: Some(round.nuts[0]),
                ..LogEntry::default()
            }];
            let table = table::write(&[log], &nuts, PressureUnit::Psi);
            let mut reader = csv::ReaderBuilder::new()
                .has_headers(false)
                .flexible(false)
                .from_reader(table.as_bytes());
            let rows: Vec<csv::StringRecord> = reader
                .records()
                .collect::<Result<_, _>>()
                .map_err(|e| TestCaseError::fail(e.to_string()))?;
            prop_assert_eq!(rows.len(), 1 + 8 + 1 + 1);
            prop_assert_eq!(&rows[0][4], "reading (psi)");
            let first = &rows[1];
            prop_assert_eq!(&first[0], iso(on));
            prop_assert_eq!(&first[1], format!("{:02}:{:02}", minute / 60, minute % 60));
            let number: f64 = first[4].parse().expect("a number");
            prop_assert!(
                (number - reading).abs() <= 0.000_51,
                "{} {}",
                number,
                reading
            );
            let goal: f64 = first[5].parse().expect("a number");
            prop_assert!(
                (goal - GaugePressure::new::<kilopascal>(344.737_864_5).get::<psi_unit>()).abs()
                    < 0.001
            );
            prop_assert_eq!(
                (&first[6], &first[7]),
                (if warm { "warm" } else { "cold" }, "corrugations")
            );
            prop_assert_eq!((&first[8], &first[9]), ("83412.6", "21.5"));
            let own = &rows[9];
            prop_assert_eq!(
                (&own[2], &rows[10][2], &rows[10][3]),
                ("own check", "wheel refitted", "vehicle_1_left")
            );
            if own[3] == name {
                prop_assert!(!name.starts_with(['=', '+', '@', '\t', '\r']));
            } else {
                count("formula");
                prop_assert_eq!(&own[3], format!("'{name}"));
            }
            if name.contains(['"', ',', '\n']) {
                count("quoted");
            }
            Ok(())
        },
    );
}

/// Whole sections of checks through their records, in any unit.
#[test]
fn checks_come_back_as_they_were() {
    let rig = demo();
    let number = 0.0_f64..1000.0;
    let strategy = (
        any_text(),
        proptest::option::of(1_u32..3650),
        number,
        0_u8..3,
        any::<bool>(),
    );
    spread(
        5_000,
        strategy,
        &["under way", "none"],
        |(name, days, number, unit, under_way), count| {
            let mut checks = Checks {
                pressure_days: days,
                ..Checks::default()
            };
            count(if under_way { "under way" } else { "none" });
            if under_way {
                let mut round = round(&rig, 20_000, 50.0);
                for of in &mut round.readings {
                    of.read = match unit {
                        0 => psi(number / 10.0),
                        1 => kpa(number),
                        _ => bar(number / 100.0),
                    };
                    of.goal_kpa = None;
                }
                checks.round = Some(round);
            }
            let id = checks.add_own().expect("room");
            checks.own_mut(id).expect("it").name = name.clone();
            checks.change_tyre(spots(&rig)[3], |of| {
                of.made = name.clone();
                of.tread = Some(millimetres(number / 100.0));
            });
            let body = section::body(&checks).expect("sound");
            prop_assert_eq!(section::read::<Checks>(1, &body), Ok(checks));
            Ok(())
        },
    );
}
