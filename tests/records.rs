//! Rigs as kept: older records, damaged ones, writes cut off, two tabs.

use std::cell::{Cell, RefCell};
use std::fs;
use std::rc::Rc;
use tyreside::rig::air::tools::{AxleSpace, Compressor, Flow, Timing};
use tyreside::rig::air::{Air, Leaks, Tools, Walk, Warm, WarmBy, Weather, leaks};
use tyreside::rig::checks::{Checks, Log, Reading, Round};
use tyreside::rig::footprint::FootprintOf;
use tyreside::rig::keep::Value;
use tyreside::rig::nuts::{Done, LogEntry, Nuts};
use tyreside::rig::position::{Half, Side, Wheel};
use tyreside::rig::section::{self, Section, Unreadable};
use tyreside::rig::typed::in_unit::{
    bar, celsius, foot_pounds, kg, kmh, kpa, lb, litres, litres_per_minute, metres, millimetres,
    minutes, newton_metres, percent, psi, seconds,
};
use tyreside::rig::typed::{Amount, Measure, Typed, TypedTemperature};
use tyreside::rig::{
    Axle, AxleId, LoadFrom, OwnBand, Owner, Place, PressureUnit, Rig, Setting, Surface, Vehicle,
};
use tyreside::store::file::{self, FileError};
use tyreside::store::{Garage, Memory, Noticed, Plan, Shelf, Trouble, envelope};

const FIXTURES: [&str; 5] = [
    "demo",
    "empty",
    "psi_with_nuts",
    "bar_with_texts",
    "kpa_with_air",
];

fn fixture(name: &str) -> String {
    fs::read_to_string(format!("tests/records/version1/{name}.json")).expect(name)
}

fn kept(pairs: &[(&str, &str)]) -> Memory {
    let shelf = Memory::default();
    for (key, text) in pairs {
        shelf.put(key, text).unwrap();
    }
    shelf
}

fn opened(shelf: &dyn Shelf) -> Garage {
    let (garage, trouble) = Garage::open(shelf);
    assert_eq!(trouble, None);
    garage
}

/// A garage over a version 1 record.
fn taken_over(name: &str) -> (Memory, Garage) {
    let shelf = kept(&[("tyreside.rig.1", &fixture(name))]);
    let garage = opened(&shelf);
    assert!(garage.set_aside(&shelf).is_empty(), "{name}");
    (shelf, garage)
}

fn section_of<S: Section>(garage: &mut Garage, shelf: &dyn Shelf) -> S {
    garage.hold::<S>(shelf, None);
    garage.section::<S>(None).expect("a section").clone()
}

fn sorted(shelf: &Memory) -> Vec<(String, String)> {
    let mut all: Vec<_> = shelf
        .keys()
        .unwrap()
        .into_iter()
        .map(|key| {
            let text = shelf.get(&key).unwrap().unwrap();
            (key, text)
        })
        .collect();
    all.sort();
    all
}

#[test]
fn the_demo_of_version_1_is_the_demo() {
    let (shelf, mut garage) = taken_over("demo");
    let mut demo = Rig::demo();
    // Version 1 knew no vehicle by itself.
    for axle in &mut demo.axles {
        axle.alone = None;
    }
    assert_eq!(*garage.current(), demo);
    assert_eq!(section_of::<Nuts>(&mut garage, &shelf), Nuts::fresh(true));
    assert_eq!(
        section_of::<FootprintOf>(&mut garage, &shelf),
        FootprintOf::default()
    );
    let keys: Vec<String> = sorted(&shelf).into_iter().map(|(key, _)| key).collect();
    assert_eq!(
        keys,
        [
            "tyreside.rig.1.air",
            "tyreside.rig.1.axles",
            "tyreside.rig.1.footprint",
            "tyreside.rig.1.leaks",
            "tyreside.rig.1.nuts",
            "tyreside.rig.1.tools"
        ]
    );
    let (_, garage) = taken_over("empty");
    assert_eq!(*garage.current(), Rig::empty("My rig", PressureUnit::Psi));
}

/// 46, 52 and 63 psi were kept in kilopascals and came back beside themselves.
#[test]
fn version_1_values_come_back_as_they_were_typed() {
    let (shelf, mut garage) = taken_over("psi_with_nuts");
    let rig = garage.current().clone();
    assert_eq!(rig.name, "Dusty \"Two\" \u{2014} \u{1f69a}");
    assert_eq!(
        (rig.surface, rig.setting, rig.demo),
        (Surface::Corrugations, Setting::Practice, false)
    );
    let placards: Vec<_> = rig.axles.iter().map(|axle| axle.placard).collect();
    assert_eq!(placards, [46.0, 52.0, 63.0].map(|p| Some(psi(p))));
    assert_eq!(rig.axles[1].wheel_maximum, Some(psi(80.0)));
    assert_eq!(rig.axles[1].load_from, LoadFrom::Sides);
    assert_eq!(rig.axles[0].left, Some(lb(3415.0)));
    let nuts: Nuts = section_of(&mut garage, &shelf);
    assert_eq!(nuts.vehicle.nominal, Some(foot_pounds(105.0)));
    assert_eq!(nuts.vehicle.plus, Some(foot_pounds(7.375_621)));
    assert_eq!(nuts.vehicle.ticked, [0, 2]);
    assert_eq!(nuts.half, Half::Trailer);
    let front_left = Wheel {
        half: Half::Vehicle,
        axle: 0,
        side: Side::Left,
    };
    assert_eq!(nuts.log[0].wheel, Some(front_left));
    assert_eq!(nuts.log[1].wheel, None);
    assert_eq!(nuts.adapter.length, Some(millimetres(50.5)));
    assert_eq!(nuts.log.len(), 2);
    assert_eq!(nuts.log[0].torque, Some(foot_pounds(105.0)));
    assert_eq!(nuts.log[1].done, Done::Checked);
    assert_eq!(nuts.wrench.highest, Some(newton_metres(210.0)));
}

#[test]
fn version_1_texts_come_to_their_owners() {
    let (shelf, mut garage) = taken_over("bar_with_texts");
    let rig = garage.current().clone();
    assert_eq!(rig.tow_vehicle, Vehicle::PassengerCar);
    assert_eq!((rig.floor, rig.uneven_load), (kpa(110.0), percent(7.5)));
    assert_eq!(rig.axles[0].moulded_pressure, Some(kpa(525.0)));
    assert_eq!(rig.axles.len(), 4);
    assert_eq!(rig.axles[3].id, AxleId(3));
    assert_eq!(rig.next_axle, 4);
    let band = |surface, low, high, speed| OwnBand {
        surface,
        low: percent(low),
        high: percent(high),
        speed,
        ..OwnBand::default()
    };
    assert_eq!(rig.bands[0], band(Surface::Sand, 40.0, 52.5, kmh(30.0)));
    let gravel = rig.bands[1].speed.amount();
    assert_eq!(gravel.number(), 50.0);
    let texts: Vec<_> = rig
        .unusable
        .iter()
        .map(|text| (text.of, text.field.as_str(), text.text.as_str()))
        .collect();
    assert_eq!(
        texts,
        [
            (Owner::Axle(AxleId(3)), "weighed", "heavy"),
            (Owner::Axle(AxleId(0)), "placard", "36,"),
            (Owner::Rig, "uneven", "lots"),
            (Owner::Rig, "band-sand-low", "x"),
            (Owner::Nothing, "now-air", "warm"),
            (Owner::Nothing, "pump-at-0", "9999 bar"),
        ]
    );
    let nuts: Nuts = section_of(&mut garage, &shelf);
    assert_eq!(nuts.unusable[0].field, "nuts-vehicle-nominal");
    assert_eq!(nuts.unusable[0].text, "12o");
    let of: FootprintOf = section_of(&mut garage, &shelf);
    assert_eq!(of.sealed, Some(kpa(345.0)));
    assert_eq!((of.typed, of.load), (true, Some(kg(712.5))));
    assert_eq!(of.unusable[0].of, Owner::TypedIn);
    assert_eq!(of.unusable[0].text, "7oo");
}

#[test]
fn version_1_air_and_footprint_come_back_whole() {
    let (shelf, mut garage) = taken_over("kpa_with_air");
    let air = &garage.current().air;
    assert_eq!((air.from, air.to), (Surface::Gravel, Surface::Sand));
    assert_eq!(air.now_day, Some(20_782.123_456_789));
    assert_eq!(air.now.temperature, Some(celsius(-17.777_777_778)));
    assert_eq!(air.warm.by, WarmBy::Pressures);
    assert_eq!(air.walk.map(|walk| walk.tyres_done), Some(3));
    assert!(air.unknown.names().next().is_none());
    let tools: Tools = section_of(&mut garage, &shelf);
    assert_eq!(tools.space(AxleId(2)), Some(litres(75.0)));
    assert_eq!(tools.flows[2].at, Some(kpa(400.0)));
    assert_eq!(tools.pumped.axle, Some(AxleId(2)));
    let leaks: Leaks = section_of(&mut garage, &shelf);
    assert_eq!(leaks.readings.len(), 12);
    assert_eq!(leaks.readings[0].pressure, psi(50.0));
    assert_eq!(leaks.axle, Some(AxleId(2)));
    let of: FootprintOf = section_of(&mut garage, &shelf);
    assert_eq!(of.axle_of(garage.current()), Some(2));
}

/// A rig of before its warm tyres, its tools and its leaks were kept apart:
/// every figure of it, with the texts that could not be used, and axles whose
/// numbers are not their places.
fn kept_as_one() -> Memory {
    let record = |part: &str| {
        let file = format!("tests/records/version2/{part}.json");
        fs::read_to_string(&file).expect(part)
    };
    kept(&[
        ("tyreside.rig.1.air", &record("air")),
        ("tyreside.rig.1.axles", &record("axles")),
    ])
}

fn of_version_2() -> (Air, Tools, Leaks) {
    let axles = [0, 7, 9].map(AxleId);
    let air = Air {
        from: Surface::Gravel,
        to: Surface::Sand,
        set: Weather {
            height: Some(metres(310.0)),
            temperature: Some(celsius(12.5)),
        },
        now: Weather {
            height: Some(metres(609.6)),
            temperature: Some(celsius(31.0)),
        },
        now_day: Some(20_782.123_456_789),
        warm: Warm {
            by: WarmBy::Temperature,
            axle: 2,
            day: Some(20_782.25),
            reading: Some(psi(56.0)),
            cold: Some(kpa(350.0)),
            temperature: Some(celsius(48.5)),
            driven: Some(minutes(45.0)),
        },
        walk: Some(Walk {
            back: true,
            warm: true,
            tyres_done: 3,
            started_day: Some(20_782.333_333_333),
            tyre_s: 12.25,
            before_s: 310.5,
            rested_s: 180.0,
        }),
        axles: axles.to_vec(),
        ..Air::default()
    };
    let flow = |flow, at| Flow {
        flow: Some(litres_per_minute(flow)),
        at,
    };
    let space = |axle, volume| AxleSpace {
        axle,
        volume: litres(volume),
    };
    let tools = Tools {
        flows: vec![
            flow(160.0, Some(kpa(0.0))),
            flow(120.0, None),
            flow(72.5, Some(psi(40.0))),
        ],
        compressor: Compressor {
            run: Some(minutes(30.0)),
            rest: Some(minutes(20.0)),
            maximum: Some(psi(150.0)),
            change_over: Some(seconds(45.0)),
        },
        deflator: flow(300.0, Some(kpa(250.0))),
        pumped: Timing {
            axle: Some(axles[1]),
            from: Some(psi(32.0)),
            to: Some(psi(50.0)),
            took: Some(seconds(182.5)),
            started_day: None,
        },
        let_down: Timing {
            axle: Some(axles[2]),
            from: Some(psi(50.0)),
            to: Some(psi(32.0)),
            took: Some(seconds(75.0)),
            started_day: Some(20_782.301_234_567),
        },
        spaces: vec![space(axles[0], 80.5), space(axles[2], 75.0)],
        ..Tools::read(
            // What no view has any more stays as it stood.
            concat!(
                r#"{"figures":[{"key":"done_day","index":0,"value":20780.75},"#,
                r#"{"key":"done_from","index":0,"value":0},{"key":"done_to","index":0,"value":6},"#,
                r#"{"key":"done_tyres","index":0,"value":8},"#,
                r#"{"key":"done_s","index":0,"value":1234.5}]}"#
            ),
        )
        .expect("tools")
    };
    let reading = |axle, tyre, day, pressure, air| leaks::Reading {
        axle,
        tyre,
        day,
        pressure,
        step: psi(1.0),
        temperature: celsius(air),
        within_kelvin: 2.0,
        height: metres(310.0),
    };
    let leaks = Leaks {
        axle: Some(axles[2]),
        tyre: 3,
        reading: Some(psi(52.0)),
        at: "2026-11-20T07:15".to_owned(),
        temperature: Some(fahrenheit(41.0)),
        guessed: true,
        step: Some(psi(0.5)),
        readings: vec![
            reading(axles[0], 1, 20_700.5, kpa(250.0), 14.5),
            reading(axles[1], 0, 20_701.312_5, psi(50.0), -3.5),
            reading(axles[2], 3, 20_710.25, psi(55.0), 9.0),
            reading(axles[2], 3, 20_740.25, psi(53.0), 15.0),
        ],
        ..Leaks::default()
    };
    (air, tools, leaks)
}

fn fahrenheit(number: f64) -> TypedTemperature {
    Typed::of(Amount::new(number, Measure::Fahrenheit)).expect("a temperature")
}

/// Every figure of a list of bare numbers under names that ended in their
/// units comes back in its place, as it was typed as far as that can be told.
#[test]
fn what_was_kept_as_one_section_comes_apart_whole() {
    let shelf = kept_as_one();
    let old = shelf.get("tyreside.rig.1.air").unwrap();
    let mut garage = opened(&shelf);
    assert!(garage.set_aside(&shelf).is_empty());
    let (air, tools, leaks) = of_version_2();
    let mut now = garage.current().air.clone();
    now.axles = air.axles.clone();
    assert_eq!(now, air);
    assert_eq!(section_of::<Tools>(&mut garage, &shelf), tools);
    assert_eq!(section_of::<Leaks>(&mut garage, &shelf), leaks);
    // What was part of it reads its own from a copy, and is of itself once it
    // is changed.
    let version = |part: &str| {
        let text = shelf.get(&format!("tyreside.rig.1.{part}")).unwrap();
        envelope::read(&text.expect(part)).unwrap().0
    };
    assert_eq!(shelf.get("tyreside.rig.1.tools").unwrap(), old);
    assert_eq!(["air", "tools", "leaks"].map(version), [3, 2, 2]);
    garage
        .change(&shelf, |tools: &mut Tools| tools.flows.truncate(1))
        .unwrap();
    assert_eq!(["air", "tools", "leaks"].map(version), [3, 3, 2]);
    let mut again = opened(&shelf);
    assert_eq!(section_of::<Tools>(&mut again, &shelf).flows.len(), 1);
    assert_eq!(section_of::<Leaks>(&mut again, &shelf), leaks);
    // What was not known of it stays with it.
    let text = old.expect("a record");
    let (_, body) = envelope::read(&text).unwrap();
    let more = body.replacen("{\"from\"", "{\"dew_point\":\"3 degC\",\"from\"", 1);
    let shelf = kept_as_one();
    shelf
        .put("tyreside.rig.1.air", &envelope::write(2, &more))
        .unwrap();
    opened(&shelf);
    let text = shelf.get("tyreside.rig.1.air").unwrap().expect("a record");
    assert!(text.contains("\"dew_point\":\"3 degC\""), "{text}");
}

/// Cut anywhere, or refused for want of room, nothing of it is lost.
#[test]
fn a_section_is_taken_apart_whole_or_anew() {
    let (air, tools, leaks) = of_version_2();
    let is_whole = |shelf: &dyn Shelf, at: &str| {
        let mut now = opened(shelf);
        assert!(now.set_aside(shelf).is_empty(), "{at}");
        assert_eq!(now.current().air.walk, air.walk, "{at}");
        assert_eq!(section_of::<Tools>(&mut now, shelf), tools, "{at}");
        assert_eq!(section_of::<Leaks>(&mut now, shelf), leaks, "{at}");
    };
    let cuts = cut_everywhere(
        &kept_as_one(),
        &|shelf| {
            let _ = Garage::open(shelf);
        },
        &|shelf, at| is_whole(shelf, at),
    );
    assert_eq!(cuts, 3);

    // A shelf without room for a copy: what the copies are made of stays, also
    // where a smaller text would find room.
    let full = Rc::new(Cell::new(true));
    let shelf = Room {
        inner: kept_as_one(),
        full: Rc::clone(&full),
        puts: RefCell::default(),
    };
    let mut garage = opened(&shelf);
    assert!(garage.is_unkept());
    let edit = garage.change(&shelf, |rig: &mut Rig| rig.air.to = Surface::Mud);
    assert_eq!(edit, Err(Trouble::Full));
    is_whole(&shelf.inner.clone(), "no room");
    full.set(false);
    garage.again(&shelf).unwrap();
    assert!(!garage.is_unkept());
    is_whole(&shelf.inner, "with room");
    assert_eq!(opened(&shelf).current().air.to, Surface::Mud);
}

/// A file of an older page beside a rig that was taken apart here: the same
/// where nothing has changed, and put whole where it is taken.
#[test]
fn an_older_file_comes_with_its_sections_apart() {
    let shelf = kept_as_one();
    let before: Vec<(String, String)> = ["air", "axles"]
        .into_iter()
        .map(|part| {
            let text = shelf.get(&format!("tyreside.rig.1.{part}")).unwrap();
            (part.to_owned(), text.expect(part))
        })
        .collect();
    let file = file::write(&[before]);
    let found = file::read(&file).expect("a file");
    let mut garage = opened(&shelf);
    garage
        .change(&shelf, |tools: &mut Tools| *tools = Tools::default())
        .unwrap();
    garage
        .change(&shelf, |rig: &mut Rig| rig.air.walk = None)
        .unwrap();
    let all = sorted(&shelf);
    let plan = Plan {
        put: vec![(Some(1), found[0].sections.clone())],
        ..Plan::default()
    };
    let lots = &mut || unreachable!("it has no identity");
    let restored = garage.restore(&shelf, &plan, lots).unwrap();
    let (air, tools, leaks) = of_version_2();
    assert_eq!(garage.current().air.walk, air.walk);
    assert_eq!(section_of::<Tools>(&mut garage, &shelf), tools);
    assert_eq!(section_of::<Leaks>(&mut garage, &shelf), leaks);
    garage.take_back(&shelf, restored).unwrap();
    let now: Vec<_> = sorted(&shelf);
    for (key, text) in all
        .iter()
        .filter(|(key, _)| key.starts_with("tyreside.rig."))
    {
        assert!(now.contains(&(key.clone(), text.clone())), "{key}");
    }
}

/// What is taken over and what is written now read alike, for every fixture.
#[test]
fn taken_over_and_written_again_nothing_changes() {
    for name in FIXTURES {
        let (shelf, mut garage) = taken_over(name);
        let before = (
            garage.current().clone(),
            section_of::<Nuts>(&mut garage, &shelf),
            section_of::<FootprintOf>(&mut garage, &shelf),
            section_of::<Tools>(&mut garage, &shelf),
            section_of::<Leaks>(&mut garage, &shelf),
        );
        // Touched, each is written in the present version.
        garage
            .change(&shelf, |rig: &mut Rig| rig.demo = !rig.demo)
            .unwrap();
        garage
            .change(&shelf, |rig: &mut Rig| rig.demo = !rig.demo)
            .unwrap();
        garage
            .change(&shelf, |rig: &mut Rig| rig.air.from = Surface::Mud)
            .unwrap();
        garage
            .change(&shelf, |rig: &mut Rig| rig.air.from = before.0.air.from)
            .unwrap();
        garage
            .change(&shelf, |nuts: &mut Nuts| nuts.vehicle.studs += 1)
            .unwrap();
        garage
            .change(&shelf, |nuts: &mut Nuts| nuts.vehicle.studs -= 1)
            .unwrap();
        garage
            .change(&shelf, |of: &mut FootprintOf| of.typed = !of.typed)
            .unwrap();
        garage
            .change(&shelf, |of: &mut FootprintOf| of.typed = !of.typed)
            .unwrap();
        garage
            .change(&shelf, |tools: &mut Tools| tools.flow_mut(0).at = None)
            .unwrap();
        garage
            .change(&shelf, |tools: &mut Tools| *tools = before.3.clone())
            .unwrap();
        garage
            .change(&shelf, |leaks: &mut Leaks| leaks.guessed = !leaks.guessed)
            .unwrap();
        garage
            .change(&shelf, |leaks: &mut Leaks| leaks.guessed = !leaks.guessed)
            .unwrap();
        for (key, text) in sorted(&shelf) {
            if let Some(key) = key.strip_prefix("tyreside.rig.1.") {
                let new = if ["air", "tools", "leaks"].contains(&key) {
                    3
                } else {
                    2
                };
                assert_eq!(envelope::read(&text).unwrap().0, new, "{key}");
            }
        }
        let mut again = opened(&shelf);
        let mut now = again.current().clone();
        now.air.axles.clear();
        assert_eq!(now, before.0, "{name}");
        assert_eq!(section_of::<Nuts>(&mut again, &shelf), before.1);
        assert_eq!(section_of::<FootprintOf>(&mut again, &shelf), before.2);
        assert_eq!(section_of::<Tools>(&mut again, &shelf), before.3);
        assert_eq!(section_of::<Leaks>(&mut again, &shelf), before.4);
    }
}

/// Rear placards of 45 to 47, 51 to 53, 57 to 59 and 63 to 65 psi with no own
/// figure came back from their record a rounding lower or higher, and the page
/// said 'below the placard' of a pressure that was the placard.
#[test]
fn a_placard_is_itself_after_a_reload_in_any_unit_shown() {
    use tyreside::calc::pressure::Caution;
    let mut tried = 0;
    for mark in [45, 46, 47, 51, 52, 53, 57, 58, 59, 63, 64, 65] {
        for (typed, shown) in PressureUnit::ALL
            .into_iter()
            .flat_map(|typed| PressureUnit::ALL.map(|shown| (typed, shown)))
        {
            let placard = match typed {
                PressureUnit::Psi => psi(f64::from(mark)),
                PressureUnit::Kpa => kpa((f64::from(mark) * 6.895).round()),
                PressureUnit::Bar => bar((f64::from(mark) * 6.895).round() / 100.0),
            };
            let shelf = Memory::default();
            let mut garage = opened(&shelf);
            let mut rig = Rig::demo();
            rig.demo = false;
            rig.unit = shown;
            rig.axles[1].placard = Some(placard);
            rig.axles[1].own_sealed = None;
            garage.add(&shelf, rig.clone()).unwrap();
            let again = opened(&shelf);
            assert_eq!(again.current().axles[1].placard, Some(placard));
            let before = rig.answer(&rig.axles[1]);
            let now = again.current();
            let after = now.answer(&now.axles[1]);
            assert_eq!(before, after);
            let (understood, answer) = after.expect("an answer");
            assert_eq!(understood.axle.placard, Some(placard.quantity()));
            let below = answer
                .cautions
                .iter()
                .any(|caution| matches!(caution, Caution::BelowPlacard { .. }));
            assert!(!below, "{mark} psi as {typed:?} in {shown:?}");
            tried += 1;
        }
    }
    println!("{tried} placards, none below itself");
}

/// A rig with something in each section.
fn full() -> (Memory, Garage) {
    let (shelf, mut garage) = taken_over("kpa_with_air");
    garage
        .change(&shelf, |rig: &mut Rig| {
            rig.name = "Dusty \u{1f69a}".to_owned()
        })
        .unwrap();
    garage
        .change(&shelf, |leaks: &mut Leaks| leaks.readings.truncate(3))
        .unwrap();
    garage
        .change(&shelf, |rig: &mut Rig| {
            rig.say_set(
                Surface::Sand,
                &[Some(psi(20.0).quantity()), None, Some(psi(25.0).quantity())],
                false,
                20_782.5,
            );
        })
        .unwrap();
    garage
        .change(&shelf, |nuts: &mut Nuts| {
            nuts.log(LogEntry {
                done: Done::Refitted,
                day: 20_782,
                ..LogEntry::default()
            });
        })
        .unwrap();
    garage
        .change(&shelf, |of: &mut FootprintOf| of.load = Some(kg(712.5)))
        .unwrap();
    // Moments and pressures as they are kept.
    let garage = opened(&shelf);
    (shelf, garage)
}

/// What every section of the current rig holds.
fn all_of(garage: &mut Garage, shelf: &dyn Shelf) -> (Rig, Nuts, FootprintOf) {
    let nuts = section_of(garage, shelf);
    let of = section_of(garage, shelf);
    (garage.current().clone(), nuts, of)
}

/// A round with one tyre read.
fn a_round(rig: &Rig) -> Round {
    let mut round = Round::default();
    round.read(Reading {
        tyre: rig.spot_of(rig.round()[0]),
        read: psi(47.5),
        goal_kpa: Some(344.75),
        wrong: true,
    });
    round
}

/// 55,036 single-byte changes (7.8 %) read as another rig unnoticed, 7,185 of
/// them with a lower pressure, and one tap wrote the loss down.
#[test]
fn no_damage_to_a_section_goes_unnoticed_or_takes_another_along() {
    let (shelf, mut garage) = full();
    garage
        .add(&shelf, Rig::empty("Other", PressureUnit::Bar))
        .unwrap();
    let other = garage.current().clone();
    garage.choose(&shelf, 1).unwrap();
    let round = a_round(garage.current());
    let under_way = Some(round.clone());
    garage
        .change(&shelf, |checks: &mut Checks| checks.round = under_way)
        .unwrap();
    garage
        .change_piece(&shelf, Some(2026), |log: &mut Log| {
            log.add(round);
        })
        .unwrap();
    let whole = all_of(&mut garage, &shelf);
    let tools_before: Tools = section_of(&mut garage, &shelf);
    let leaks_before: Leaks = section_of(&mut garage, &shelf);
    let try_with = |key: &str, text: &str| {
        shelf.put(key, text).unwrap();
        let mut now = opened(&shelf);
        let aside = now.set_aside(&shelf);
        assert_eq!(aside.len(), 1, "{key}: {text}");
        assert_eq!((aside[0].id, aside[0].text.as_str()), (1, text), "{key}");
        assert_ne!(aside[0].why, Unreadable::Left);
        let others = now.rigs().find(|(id, _)| *id == 2).map(|(_, rig)| rig);
        assert_eq!(others, Some(&other));
        let part = &aside[0].part;
        if part == Rig::PART {
            assert!(now.rigs().all(|(id, _)| id != 1));
            return;
        }
        assert_eq!(now.current_id(), 1);
        let (rig, nuts, of) = all_of(&mut now, &shelf);
        let mut same = whole.0.clone();
        match part.as_str() {
            Air::PART => same.air = Air::default(),
            "set_to" => same.set_to = Default::default(),
            Tools::PART | Leaks::PART => {
                let tools: Tools = section_of(&mut now, &shelf);
                assert_eq!(tools == tools_before, part != Tools::PART);
                let leaks: Leaks = section_of(&mut now, &shelf);
                assert_eq!(leaks == leaks_before, part != Leaks::PART);
            }
            _ => {}
        }
        assert_eq!(rig, same, "{part}");
        assert_eq!(nuts == whole.1, part != Nuts::PART);
        assert_eq!(of == whole.2, part != FootprintOf::PART);
        // A tap writes nothing over it, and keeps what else is changed.
        let _ = now.change(&shelf, |nuts: &mut Nuts| nuts.vehicle.studs = 8);
        let _ = now.change(&shelf, |of: &mut FootprintOf| of.typed = false);
        let _ = now.change(&shelf, |checks: &mut Checks| checks.pressure_days = Some(7));
        let _ = now.change_piece(&shelf, Some(2026), |log: &mut Log| log.rounds.clear());
        let _ = now.change(&shelf, |rig: &mut Rig| rig.air.to = Surface::Bogged);
        assert_eq!(shelf.get(key).unwrap().as_deref(), Some(text));
    };
    let (mut cut, mut changed) = (0_u32, 0_u32);
    let all = sorted(&shelf);
    let sections = all
        .iter()
        .filter(|(key, _)| key.starts_with("tyreside.rig.1."));
    for (key, text) in sections {
        let restore = || {
            for (key, text) in &all {
                shelf.put(key, text).unwrap();
            }
        };
        for end in (0..text.len()).filter(|end| text.is_char_boundary(*end)) {
            try_with(key, &text[..end]);
            restore();
            cut += 1;
        }
        for at in 0..text.len() {
            for byte in [b'0', b'9', b'a', b'"', b' ', b'}', text.as_bytes()[at] ^ 1] {
                let mut bytes = text.clone().into_bytes();
                if bytes[at] == byte {
                    continue;
                }
                bytes[at] = byte;
                // Storage holds text: what is none can't be in it.
                let Ok(damaged) = String::from_utf8(bytes) else {
                    continue;
                };
                try_with(key, &damaged);
                restore();
                changed += 1;
            }
        }
    }
    println!("{cut} truncations and {changed} changed bytes in 9 sections: 0 unnoticed");
}

/// Every byte to every other, against the reader alone: the page's own check
/// of what is damaged.
#[test]
fn every_single_byte_change_is_found_by_the_envelope() {
    let (shelf, _) = full();
    let (mut texts, mut none) = (0_u64, 0_u64);
    for (key, text) in sorted(&shelf) {
        if !key.starts_with("tyreside.rig.") {
            continue;
        }
        let mut bytes = text.into_bytes();
        for at in 0..bytes.len() {
            let was = bytes[at];
            for byte in 0..=u8::MAX {
                if byte == was {
                    continue;
                }
                bytes[at] = byte;
                match std::str::from_utf8(&bytes) {
                    Ok(text) => {
                        assert!(envelope::read(text).is_err(), "{key} {at} {byte}");
                        texts += 1;
                    }
                    Err(_) => none += 1,
                }
            }
            bytes[at] = was;
        }
    }
    println!("{texts} changed texts, all found; {none} changes left no text");
}

/// A shelf on which only so many writes are done before the page is gone.
struct Cut {
    inner: Rc<Memory>,
    left: Cell<u32>,
}

impl Cut {
    fn gone(&self) -> bool {
        match self.left.get() {
            0 => true,
            left => {
                self.left.set(left - 1);
                false
            }
        }
    }
}

impl Shelf for Cut {
    fn get(&self, key: &str) -> Result<Option<String>, Trouble> {
        self.inner.get(key)
    }
    fn put(&self, key: &str, text: &str) -> Result<(), Trouble> {
        if self.gone() {
            return Err(Trouble::Failed);
        }
        self.inner.put(key, text)
    }
    fn remove(&self, key: &str) -> Result<(), Trouble> {
        if self.gone() {
            return Err(Trouble::Failed);
        }
        self.inner.remove(key)
    }
    fn keys(&self) -> Result<Vec<String>, Trouble> {
        self.inner.keys()
    }
}

/// Cuts what `act` does over a copy of `start` at its n-th write, for every n,
/// and hands what is then there to `check`. Says how often.
fn cut_everywhere(start: &Memory, act: &dyn Fn(&dyn Shelf), check: &dyn Fn(&Memory, &str)) -> u32 {
    for writes in 0.. {
        let inner = Rc::new(start.clone());
        let shelf = Cut {
            inner: Rc::clone(&inner),
            left: Cell::new(writes),
        };
        act(&shelf);
        let done = shelf.left.get() > 0;
        drop(shelf);
        let inner = Rc::into_inner(inner).expect("the only one");
        check(&inner, &format!("cut after {writes} writes"));
        if done {
            return writes - 1;
        }
        assert!(writes < 50);
    }
    unreachable!()
}

#[test]
fn writes_may_be_cut_anywhere() {
    let (start, mut garage) = full();
    garage
        .change(&start, |rig: &mut Rig| rig.air.warm.axle = 2)
        .unwrap();
    let whole = all_of(&mut garage, &start);
    let all = sorted(&start);
    let is_old = |shelf: &Memory, id: u32| {
        all.iter()
            .filter(|(key, _)| key.starts_with("tyreside.rig.1."))
            .all(|(key, text)| {
                let key = key.replace(".1.", &format!(".{id}."));
                shelf.get(&key).unwrap().as_ref() == Some(text)
            })
    };

    // An axle that goes: the rig is old or new, and what hangs on the others
    // stands with them whichever it is.
    let cuts = cut_everywhere(
        &start,
        &|shelf| {
            let (mut garage, _) = Garage::open(shelf);
            let _ = garage.change(shelf, |rig: &mut Rig| rig.remove_axle(1));
        },
        &|shelf, at| {
            let now = opened(shelf);
            assert!(now.set_aside(shelf).is_empty(), "{at}");
            let rig = now.current();
            let last = rig.axles.len() - 1;
            assert_eq!(rig.axles[last].id, AxleId(2), "{at}");
            let warm = &rig.air.warm;
            assert_eq!(usize::from(warm.axle), last, "{at}");
            assert_eq!(warm.reading, Some(kpa(386.1)), "{at}");
            assert!(rig.set_to.tyre(last, 0).is_some(), "{at}");
            assert!(rig.set_to.tyre(1, 0).is_none() || last == 1, "{at}");
        },
    );
    assert_eq!(cuts, 3);

    // Its undoing.
    let removed = start.clone();
    let mut garage = opened(&removed);
    garage
        .change(&removed, |rig: &mut Rig| rig.remove_axle(1))
        .unwrap();
    let cuts = cut_everywhere(
        &removed,
        &|shelf| {
            let (mut garage, _) = Garage::open(shelf);
            let _ = garage.change(shelf, |rig: &mut Rig| *rig = whole.0.clone());
        },
        &|shelf, at| {
            let now = opened(shelf);
            let rig = now.current();
            let last = rig.axles.len() - 1;
            assert_eq!(usize::from(rig.air.warm.axle), last, "{at}");
            assert!(rig.set_to.tyre(last, 0).is_some(), "{at}");
        },
    );
    assert_eq!(cuts, 3);

    // A rig deleted is there whole, or gone; what is left of it is shown.
    let cuts = cut_everywhere(
        &start,
        &|shelf| {
            let (mut garage, _) = Garage::open(shelf);
            let _ = garage.remove(shelf);
        },
        &|shelf, at| {
            let mut now = opened(shelf);
            let left = now.set_aside(shelf);
            if now.current().demo {
                assert!(
                    left.iter().all(|record| record.why == Unreadable::Left),
                    "{at}"
                );
                let of_it = sorted(shelf)
                    .into_iter()
                    .filter(|(key, _)| key.starts_with("tyreside.rig."));
                assert_eq!(of_it.count(), left.len(), "{at}");
            } else {
                assert!(left.is_empty() && is_old(shelf, 1), "{at}");
                assert_eq!(all_of(&mut now, shelf), whole, "{at}");
            }
        },
    );
    println!("deleting: {cuts} writes");

    // Put back, it is not there or whole.
    cut_everywhere(
        &start,
        &|shelf| {
            let (mut garage, _) = Garage::open(shelf);
            if let Ok(deleted) = garage.remove(shelf) {
                let _ = garage.put_back(shelf, deleted);
            }
        },
        &|shelf, at| {
            let mut now = opened(shelf);
            if !now.current().demo {
                assert_eq!(all_of(&mut now, shelf), whole, "{at}");
            }
        },
    );

    // A copy is not there or whole, and the first one whole in any case.
    let cuts = cut_everywhere(
        &start,
        &|shelf| {
            let (mut garage, _) = Garage::open(shelf);
            let _ = garage.copy(shelf, |rig| rig.name = "Copy".to_owned());
        },
        &|shelf, at| {
            assert!(is_old(shelf, 1), "{at}");
            let mut now = opened(shelf);
            if now.rigs().count() == 2 {
                now.choose(shelf, 2).unwrap();
                let (rig, nuts, of) = all_of(&mut now, shelf);
                let named = Rig {
                    name: whole.0.name.clone(),
                    ..rig
                };
                assert_eq!((named, nuts, of), whole, "{at}");
            } else {
                assert_eq!(all_of(&mut now, shelf), whole, "{at}");
            }
        },
    );
    println!("copying: {cuts} writes");

    // Taking an older page's record over.
    for name in FIXTURES {
        let (_, mut once) = taken_over(name);
        let expected = once.current().clone();
        let old = kept(&[("tyreside.rig.1", &fixture(name))]);
        let nuts: Nuts = {
            let (shelf, _) = taken_over(name);
            section_of(&mut once, &shelf)
        };
        let cuts = cut_everywhere(
            &old,
            &|shelf| {
                let _ = Garage::open(shelf);
            },
            &|shelf, at| {
                let mut now = opened(shelf);
                assert_eq!(*now.current(), expected, "{name} {at}");
                assert_eq!(section_of::<Nuts>(&mut now, shelf), nuts, "{name} {at}");
                assert!(now.set_aside(shelf).is_empty(), "{name} {at}");
                assert_eq!(shelf.get("tyreside.rig.1"), Ok(None), "{name} {at}");
            },
        );
        println!("taking {name} over: {cuts} writes");
    }
}

#[test]
fn another_tabs_change_in_another_section_stands() {
    let (shelf, _) = full();
    let (mut one, mut other) = (opened(&shelf), opened(&shelf));
    one.change(&shelf, |nuts: &mut Nuts| nuts.vehicle.studs = 8)
        .unwrap();
    other
        .change(&shelf, |rig: &mut Rig| rig.name = "Theirs".to_owned())
        .unwrap();
    one.change(&shelf, |of: &mut FootprintOf| of.typed = true)
        .unwrap();
    other
        .change(&shelf, |rig: &mut Rig| rig.air.from = Surface::Mud)
        .unwrap();
    let mut now = opened(&shelf);
    let (rig, nuts, of) = all_of(&mut now, &shelf);
    assert_eq!((rig.name.as_str(), rig.air.from), ("Theirs", Surface::Mud));
    assert_eq!((nuts.vehicle.studs, of.typed), (8, true));
}

/// The later write took the place of the other tab's without a word.
#[test]
fn another_tabs_change_in_the_same_section_is_shown_and_not_written_over() {
    let (shelf, _) = full();
    let (mut one, mut other) = (opened(&shelf), opened(&shelf));
    one.hold::<Nuts>(&shelf, None);
    other
        .change(&shelf, |nuts: &mut Nuts| nuts.vehicle.studs = 10)
        .unwrap();
    let refused = one.change(&shelf, |nuts: &mut Nuts| nuts.vehicle.stages = 3);
    assert_eq!(refused, Err(Trouble::Elsewhere));
    let now: Nuts = section_of(&mut one, &shelf);
    assert_eq!((now.vehicle.studs, now.vehicle.stages), (10, 2));
    // Seen now, it may be changed.
    one.change(&shelf, |nuts: &mut Nuts| nuts.vehicle.stages = 3)
        .unwrap();
    let kept: Nuts = section_of(&mut opened(&shelf), &shelf);
    assert_eq!((kept.vehicle.studs, kept.vehicle.stages), (10, 3));

    let (mut one, mut other) = (opened(&shelf), opened(&shelf));
    other
        .change(&shelf, |rig: &mut Rig| {
            rig.axles[0].weighed = Some(kg(1234.0))
        })
        .unwrap();
    // An entry of the rig's own is made on top of what the other tab changed,
    // which is there to be shown.
    one.change(&shelf, |rig: &mut Rig| rig.name = "Mine".to_owned())
        .unwrap();
    assert_eq!(one.current().axles[0].weighed, Some(kg(1234.0)));
    let key = Some("tyreside.rig.1.axles");
    assert_eq!(one.notice(&shelf, key), Noticed::Changed);
    assert_eq!(one.notice(&shelf, key), Noticed::Nothing);
    let kept = opened(&shelf);
    assert_eq!(kept.current().axles[0].weighed, Some(kg(1234.0)));
    assert_eq!(kept.current().name, "Mine");

    // A rig is replaced as it was seen, or not at all.
    other.notice(&shelf, key);
    let before = one.current().clone();
    other
        .change(&shelf, |rig: &mut Rig| rig.name = "Theirs".to_owned())
        .unwrap();
    assert_eq!(one.replace(&shelf, before), Err(Trouble::Elsewhere));
    assert_eq!(one.current().name, "Theirs");

    // With an axle less, an entry could be made at another one's place.
    other
        .change(&shelf, |rig: &mut Rig| rig.remove_axle(0))
        .unwrap();
    let refused = one.change(&shelf, |rig: &mut Rig| {
        rig.axles[0].weighed = Some(kg(1000.0));
    });
    assert_eq!(refused, Err(Trouble::Elsewhere));
    assert_ne!(one.current().axles[0].weighed, Some(kg(1000.0)));
    other.remove(&shelf).unwrap();
    let refused = one.change(&shelf, |rig: &mut Rig| rig.name = "Mine".to_owned());
    assert_eq!(refused, Err(Trouble::Gone));
}

/// Edits at the same instant lost one side in 12 of 15 pairs.
#[test]
fn no_edit_of_two_tabs_at_once_loses_another() {
    type Edit = (&'static str, fn(&mut Rig), fn(&Rig) -> bool);
    let edits: [Edit; 6] = [
        (
            "name",
            |rig| rig.name = "Mine".to_owned(),
            |rig| rig.name == "Mine",
        ),
        (
            "unit",
            |rig| rig.unit = PressureUnit::Bar,
            |rig| rig.unit == PressureUnit::Bar,
        ),
        (
            "mass",
            |rig| rig.axles[0].weighed = Some(kg(1111.0)),
            |rig| rig.axles[0].weighed == Some(kg(1111.0)),
        ),
        (
            "tyre",
            |rig| rig.axles[1].tyre = "LT265/75R16".to_owned(),
            |rig| rig.axles[1].tyre == "LT265/75R16",
        ),
        (
            "surface",
            |rig| rig.surface = Surface::Mud,
            |rig| rig.surface == Surface::Mud,
        ),
        (
            "from",
            |rig| rig.air.from = Surface::Rock,
            |rig| rig.air.from == Surface::Rock,
        ),
    ];
    let mut pairs = 0;
    for (i, mine) in edits.iter().enumerate() {
        for theirs in &edits[..i] {
            let (shelf, _) = full();
            let (mut one, mut other) = (opened(&shelf), opened(&shelf));
            other.change(&shelf, |rig: &mut Rig| theirs.1(rig)).unwrap();
            one.change(&shelf, |rig: &mut Rig| mine.1(rig)).unwrap();
            let kept = opened(&shelf);
            assert!(
                mine.2(kept.current()) && theirs.2(kept.current()),
                "{} on {}",
                mine.0,
                theirs.0
            );
            pairs += 1;
        }
    }
    println!("{pairs} pairs of edits, none lost");
    assert_eq!(pairs, 15);
}

#[test]
fn another_tabs_change_is_noticed_once() {
    let (shelf, _) = full();
    let (mut one, mut other) = (opened(&shelf), opened(&shelf));
    one.hold::<Nuts>(&shelf, None);
    other
        .change(&shelf, |nuts: &mut Nuts| nuts.vehicle.studs = 10)
        .unwrap();
    let key = Some("tyreside.rig.1.nuts");
    assert_eq!(one.notice(&shelf, key), Noticed::Changed);
    assert_eq!(section_of::<Nuts>(&mut one, &shelf).vehicle.studs, 10);
    assert_eq!(one.notice(&shelf, key), Noticed::Nothing);
    assert_eq!(
        one.notice(&shelf, Some("tyreside.rig.1.footprint")),
        Noticed::Nothing
    );
    assert_eq!(one.notice(&shelf, Some("somebody.else")), Noticed::Nothing);
    assert_eq!(
        one.notice(&shelf, Some("tyreside.current")),
        Noticed::Nothing
    );
    other.remove(&shelf).unwrap();
    assert_eq!(
        one.notice(&shelf, Some("tyreside.rig.1.axles")),
        Noticed::Gone
    );
    assert!(one.current().demo);
}

#[test]
fn a_newer_section_is_shown_as_such_and_kept_byte_for_byte() {
    for (part, key) in [
        (Nuts::PART, "tyreside.rig.1.nuts"),
        (Air::PART, "tyreside.rig.1.air"),
        ("set_to", "tyreside.rig.1.set_to"),
        ("weights", "tyreside.rig.1.weights"),
        (Rig::PART, "tyreside.rig.1.axles"),
    ] {
        let (shelf, _) = full();
        let newer = envelope::write(7, "{\"better\":[1, 2]}");
        shelf.put(key, &newer).unwrap();
        let mut now = opened(&shelf);
        let aside = now.set_aside(&shelf);
        assert_eq!(aside.len(), 1, "{part}");
        assert_eq!(aside[0].part, part);
        assert_eq!(aside[0].why, Unreadable::Newer { version: 7 });
        if part == Nuts::PART {
            let refused = now.change(&shelf, |nuts: &mut Nuts| nuts.vehicle.studs = 8);
            assert_eq!(refused, Err(Trouble::SetAside));
        }
        if part == Air::PART {
            let refused = now.change(&shelf, |rig: &mut Rig| rig.air.from = Surface::Mud);
            assert_eq!(refused, Err(Trouble::SetAside));
            now.change(&shelf, |rig: &mut Rig| rig.name = "Kept".to_owned())
                .unwrap();
        }
        // It is copied and deleted with its rig.
        if part != Rig::PART {
            now.copy(&shelf, |rig| rig.name = "Copy".to_owned())
                .unwrap();
            let copied = shelf.get(&key.replace(".1.", ".2.")).unwrap();
            assert_eq!(copied.as_ref(), Some(&newer));
            now.remove(&shelf).unwrap();
            assert_eq!(shelf.get(&key.replace(".1.", ".2.")), Ok(None));
        }
        assert_eq!(shelf.get(key).unwrap().as_ref(), Some(&newer), "{part}");
        now.discard(&shelf, 1, part).unwrap();
        assert_eq!(shelf.get(key), Ok(None));
    }
}

#[test]
fn what_a_section_does_not_know_is_written_back() {
    let (shelf, _) = full();
    for (key, at, more) in [
        (
            "tyreside.rig.1.axles",
            "{\"name\"",
            "{\"roof_load\":\"50 kg\",\"name\"",
        ),
        (
            "tyreside.rig.1.axles",
            "{\"id\":1,",
            "{\"hub\":{\"pcd\" : 139.7},\"id\":1,",
        ),
        (
            "tyreside.rig.1.nuts",
            "\"vehicle\":{",
            "\"vehicle\":{\"torn\":[1,2],",
        ),
        (
            "tyreside.rig.1.air",
            "{\"from\"",
            "{\"dew_point\":\"3 degC\",\"from\"",
        ),
    ] {
        let text = shelf.get(key).unwrap().unwrap();
        let (version, body) = envelope::read(&text).unwrap();
        let with = body.replacen(at, more, 1);
        assert_ne!(with, body, "{key}");
        shelf.put(key, &envelope::write(version, &with)).unwrap();
    }
    let mut garage = opened(&shelf);
    assert!(garage.set_aside(&shelf).is_empty());
    garage
        .change(&shelf, |rig: &mut Rig| rig.name = "Later".to_owned())
        .unwrap();
    garage
        .change(&shelf, |rig: &mut Rig| rig.air.to = Surface::Mud)
        .unwrap();
    garage
        .change(&shelf, |nuts: &mut Nuts| nuts.vehicle.studs = 8)
        .unwrap();
    let all: String = sorted(&shelf).into_iter().map(|(_, text)| text).collect();
    for kept in [
        "\"roof_load\":\"50 kg\"",
        "\"hub\":{\"pcd\" : 139.7}",
        "\"torn\":[1,2]",
        "\"dew_point\":\"3 degC\"",
        "\"name\":\"Later\"",
    ] {
        assert!(all.contains(kept), "{kept} in {all}");
    }
}

/// A shelf with so much room and no more, as the browser's has.
struct Room {
    inner: Memory,
    full: Rc<Cell<bool>>,
    puts: RefCell<Vec<String>>,
}

impl Shelf for Room {
    fn get(&self, key: &str) -> Result<Option<String>, Trouble> {
        self.inner.get(key)
    }
    fn put(&self, key: &str, text: &str) -> Result<(), Trouble> {
        if self.full.get() && text.len() > 10 {
            return Err(Trouble::Full);
        }
        self.puts.borrow_mut().push(key.to_owned());
        self.inner.put(key, text)
    }
    fn remove(&self, key: &str) -> Result<(), Trouble> {
        self.inner.remove(key)
    }
    fn keys(&self) -> Result<Vec<String>, Trouble> {
        self.inner.keys()
    }
}

/// Storage was full, rig 1 was edited, rig 2 chosen, which succeeded and
/// counted as kept; then any other tab's change took the edit away.
#[test]
fn what_could_not_be_kept_waits_and_is_kept_when_there_is_room() {
    let (start, _) = full();
    let full = Rc::new(Cell::new(false));
    let shelf = Room {
        inner: start,
        full: Rc::clone(&full),
        puts: RefCell::default(),
    };
    let mut garage = opened(&shelf);
    garage
        .add(&shelf, Rig::empty("Second", PressureUnit::Psi))
        .unwrap();
    garage.choose(&shelf, 1).unwrap();
    full.set(true);
    let edit = garage.change(&shelf, |rig: &mut Rig| rig.name = "Edited".to_owned());
    assert_eq!(edit, Err(Trouble::Full));
    garage.choose(&shelf, 2).unwrap();
    assert!(garage.is_unkept());
    garage.notice(&shelf, None);
    assert!(garage.rigs().any(|(_, rig)| rig.name == "Edited"));
    full.set(false);
    garage
        .change(&shelf, |rig: &mut Rig| rig.floor = kpa(120.0))
        .unwrap();
    assert!(!garage.is_unkept());
    let again = opened(&shelf);
    assert!(again.rigs().any(|(_, rig)| rig.name == "Edited"));
}

/// Every keystroke wrote one record of up to 60 kB.
#[test]
fn only_what_changed_is_written() {
    let (start, _) = full();
    let shelf = Room {
        inner: start,
        full: Rc::default(),
        puts: RefCell::default(),
    };
    let mut garage = opened(&shelf);
    let wrote = |puts: &[&str]| assert_eq!(shelf.puts.take(), puts);
    garage
        .change(&shelf, |rig: &mut Rig| {
            rig.axles[0].weighed = Some(kg(1300.5))
        })
        .unwrap();
    wrote(&["tyreside.rig.1.axles"]);
    garage
        .change(&shelf, |rig: &mut Rig| rig.air.now_day = None)
        .unwrap();
    wrote(&["tyreside.rig.1.air"]);
    garage
        .change(&shelf, |leaks: &mut Leaks| leaks.reading = None)
        .unwrap();
    wrote(&["tyreside.rig.1.leaks"]);
    garage
        .change(&shelf, |nuts: &mut Nuts| nuts.half = Half::Trailer)
        .unwrap();
    wrote(&["tyreside.rig.1.nuts"]);
    garage.change(&shelf, |_: &mut Nuts| {}).unwrap();
    wrote(&[]);
}

#[test]
fn an_older_pages_later_record_is_set_aside() {
    let (shelf, _) = taken_over("demo");
    let mut later = fixture("demo").replace("\"Demo rig\"", "\"By the old page\"");
    later = later.replace("1310", "1400");
    shelf.put("tyreside.rig.1", &later).unwrap();
    let mut garage = opened(&shelf);
    let aside = garage.set_aside(&shelf);
    assert_eq!(
        (aside[0].why, aside[0].part.as_str()),
        (Unreadable::Older, "")
    );
    assert_eq!(aside[0].text, later);
    garage.discard(&shelf, 1, "").unwrap();
    assert!(garage.set_aside(&shelf).is_empty());
    assert_eq!(garage.current().name, "Demo rig");
}

/// The rig of the older record is not read, and nothing lands on it.
#[test]
fn a_broken_version_1_record_stays_whole() {
    let whole = fixture("psi_with_nuts");
    let mut tried = 0;
    for end in (0..whole.len()).filter(|end| whole.is_char_boundary(*end)) {
        let shelf = kept(&[("tyreside.rig.4", &whole[..end])]);
        let mut garage = opened(&shelf);
        assert_eq!(garage.set_aside(&shelf)[0].text, whole[..end]);
        garage
            .add(&shelf, Rig::empty("New", PressureUnit::Psi))
            .unwrap();
        assert_eq!(
            shelf.get("tyreside.rig.4").unwrap().as_deref(),
            Some(&whole[..end])
        );
        tried += 1;
    }
    println!("{tried} truncations");
    for (from, to) in [
        ("\"version\":1", "\"version\":0"),
        ("1310", "1e9"),
        ("1310", "-1"),
        ("\"axles\":2", "\"axles\":255"),
        ("\"rig\":", "\"rag\":"),
    ] {
        let shelf = kept(&[("tyreside.rig.1", &whole.replacen(from, to, 1))]);
        let garage = opened(&shelf);
        assert_eq!(garage.set_aside(&shelf)[0].why, Unreadable::Damaged, "{to}");
    }
    let newer = whole.replacen("\"version\":1", "\"version\":7", 1);
    let shelf = kept(&[("tyreside.rig.1", &newer)]);
    let aside = opened(&shelf).set_aside(&shelf);
    assert_eq!(aside[0].why, Unreadable::Newer { version: 7 });
}

#[test]
fn sections_that_are_sound_come_back_as_they_were() {
    let mut rig = Rig::demo();
    rig.axles.push(Axle {
        id: AxleId(rig.next_axle),
        ..Axle::empty(Place::Trailer)
    });
    rig.next_axle += 1;
    let body = section::body(&rig).expect("sound");
    let back: Rig = section::read(Rig::VERSION, &body).unwrap();
    assert_eq!(back, rig);
    rig.axles[0].axles = 3;
    assert_eq!(section::body(&rig), None);
}

/// All rigs of a shelf, as a file holds them.
fn saved(garage: &Garage, shelf: &Memory) -> String {
    let rigs: Vec<_> = garage.rigs().map(|(id, _)| id).collect();
    let rigs: Vec<_> = rigs
        .into_iter()
        .map(|id| garage.parts_of(shelf, id))
        .collect();
    file::write(&rigs)
}

/// Adds a rig to those there are.
fn take_in(garage: &mut Garage, shelf: &Memory, sections: &[(String, String)]) {
    let plan = Plan {
        put: vec![(None, sections.to_vec())],
        ..Plan::default()
    };
    let lots = &mut || unreachable!("it has no identity");
    garage.restore(shelf, &plan, lots).unwrap();
}

#[test]
fn a_file_brings_rigs_back_whole_and_takes_none_away() {
    let (shelf, garage) = full();
    // A section that can't be read goes along as it is.
    shelf.put("tyreside.rig.1.else", "{\"cut\": \"off").unwrap();
    let file = saved(&garage, &shelf);
    serde_json::from_str::<serde_json::Value>(&file).expect("JSON");
    let found = file::read(&file).expect("a file");
    assert_eq!(found.len(), 1);
    assert_eq!(
        found[0].rig.as_ref().map(|rig| rig.name.as_str()),
        Ok("Dusty \u{1f69a}")
    );

    let other = kept(&[]);
    let mut there = opened(&other);
    there
        .add(&other, Rig::empty("Theirs", PressureUnit::Bar))
        .unwrap();
    let before = sorted(&other);
    take_in(&mut there, &other, &found[0].sections);
    assert_eq!(there.current().name, "Dusty \u{1f69a}");
    let after = sorted(&other);
    for (key, text) in &before {
        let stays = after.iter().any(|(of, now)| of == key && now == text);
        assert!(stays || key == "tyreside.current", "{key}");
    }
    // Every section, byte for byte.
    let id = there.current_id();
    let texts = |shelf: &Memory, id: u32| -> Vec<(String, String)> {
        let start = format!("tyreside.rig.{id}.");
        let all = sorted(shelf).into_iter();
        all.filter_map(|(key, text)| Some((key.strip_prefix(&start)?.to_owned(), text)))
            .collect()
    };
    assert_eq!(texts(&other, id), texts(&shelf, 1));
    assert_eq!(saved(&opened(&other), &other), saved(&there, &other));
}

#[test]
fn a_newer_file_and_no_file_are_refused() {
    let newer = "{\"tyreside\":2,\"rigs\":[],\"more\":1}";
    assert_eq!(file::read(newer), Err(FileError::Newer { version: 2 }));
    for text in [
        "",
        "[]",
        "{}",
        "{\"tyreside\":1}",
        "{\"tyreside\":1,\"rigs\":[{}]}",
        // Under a key of an older page's whole rig.
        "{\"tyreside\":1,\"rigs\":[{\"axles\":\"x\",\"\":\"y\"}]}",
        "{\"tyreside\":1,\"tyreside\":1,\"rigs\":[]}",
    ] {
        assert_eq!(file::read(text), Err(FileError::NotOne), "{text}");
    }
    let long = " ".repeat(file::LONGEST + 1);
    let bytes = long.len();
    assert_eq!(file::read(&long), Err(FileError::TooLong { bytes }));
    assert_eq!(file::read("{\"tyreside\":1,\"rigs\":[]}"), Ok(Vec::new()));
}

/// Files that were changed by accident or in malice: none panics, none reads as
/// another rig, and what is taken in can be opened again beside what was there.
#[test]
fn a_changed_file_is_refused_or_holds_what_was_saved() {
    let (shelf, garage) = full();
    let file = saved(&garage, &shelf);
    let good = file::read(&file).unwrap();
    let mut seed = 0x2545_f491_4f6c_dd1d_u64;
    let mut next = move |below: usize| {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed % below as u64) as usize
    };
    // What a file is made of, to be put where it does not belong.
    let pieces = [
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        "\"",
        "\\",
        "null",
        "1e999",
        "-0",
        "\"axles\":",
        "\"crc32\":",
        "\"version\":9",
        "<b onclick=1>",
        "\u{0}",
        "\"body\":{}",
        "\"demo\":true",
        "9999999999",
    ];
    let (mut refused, mut unreadable, mut less, mut same) = (0, 0, 0, 0);
    const CASES: u32 = 120_000;
    for case in 0..CASES {
        let mut text = file.clone().into_bytes();
        match case % 4 {
            0 => text.truncate(next(text.len())),
            1 => {
                let at = next(text.len());
                text[at] = next(256) as u8;
            }
            2 => {
                let piece = pieces[next(pieces.len())];
                let at = next(text.len());
                text.splice(at..at, piece.bytes());
            }
            _ => {
                let (from, to) = (next(text.len()), next(text.len()));
                let (from, to) = (from.min(to), from.max(to));
                let at = next(text.len());
                let piece = text[from..to.min(from + 200)].to_vec();
                text.splice(at..at, piece);
            }
        }
        let Ok(text) = String::from_utf8(text) else {
            refused += 1;
            continue;
        };
        let Ok(found) = file::read(&text) else {
            refused += 1;
            continue;
        };
        for found in &found {
            match &found.rig {
                Err(_) => unreadable += 1,
                Ok(rig) => {
                    // The checksum lets no other rig through.
                    assert_eq!(Ok(rig), good[0].rig.as_ref(), "{text}");
                    let whole = found.sections == good[0].sections;
                    *(if whole { &mut same } else { &mut less }) += 1;
                    if case % 64 == 0 {
                        let (there, mut garage) = full();
                        let before = sorted(&there);
                        take_in(&mut garage, &there, &found.sections);
                        let after = sorted(&there);
                        assert!(
                            before
                                .iter()
                                .all(|old| old.0 == "tyreside.current" || after.contains(old))
                        );
                        assert_eq!(opened(&there).current().name, rig.name);
                    }
                }
            }
        }
    }
    println!(
        "{CASES} changed files: {refused} refused, {unreadable} rigs unreadable, {less} without or \
         with another section, {same} unchanged in what counts"
    );
    assert!(refused > CASES / 2 && unreadable > 1000 && less > 1000);
}
