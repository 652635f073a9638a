//! The air figures against published sources, each named beside its check.

use std::fmt::Write as _;
use std::path::Path;

use tyreside::calc::fill::compressor::{Compressor, FlowPoint, PumpRemark};
use tyreside::calc::fill::space::{Section, SectionHeight};
use tyreside::calc::fill::{Fill, Site};
use tyreside::calc::gas::height::Height;
use tyreside::calc::gas::leak::{LeakError, LeakLine, LeakReading, LossVerdict, Reaches};
use tyreside::calc::gas::warm::{
    ColdSetting, EXPECTED_RISE_PERCENT, Surroundings, WarmAir, warm_check,
};
use tyreside::calc::gas::{AmbientTemperature, TyreAir, TyreTemperature, bring};
use tyreside::calc::limits::Field;
use tyreside::calc::quantity::{
    GaugePressure, GaugeStep, Length, TemperatureInterval, ThermodynamicTemperature, Time, Volume,
    VolumeRate, cubic_meter, day, degree_fahrenheit, inch, kelvin_interval, kilopascal, liter,
    liter_per_minute, millimeter, minute, pascal, psi,
};

fn kpa(value: f64) -> GaugePressure {
    GaugePressure::new::<kilopascal>(value)
}

fn height(metres: f64) -> Height {
    Height::metres(metres).unwrap()
}

fn outside(celsius: f64) -> AmbientTemperature {
    AmbientTemperature::celsius(celsius).unwrap()
}

fn air(celsius: f64, metres: f64) -> TyreAir {
    TyreAir::new(TyreTemperature::celsius(celsius).unwrap(), height(metres))
}

fn close(got: f64, expected: f64, within: f64) {
    assert!(
        (got - expected).abs() <= within,
        "{got} is not {expected} ± {within}"
    );
}

/// Source: US Standard Atmosphere, 1976 (NOAA, NASA, US Air Force), the
/// lapse-rate form at geopotential heights, which ISO 2533 shares; restated at
/// scipp.ucsc.edu. In kPa, three decimals.
#[test]
fn standard_atmosphere_at_geopotential_heights() {
    for (metres, pressure) in [
        (0.0, 101.325),
        (250.0, 98.358),
        (500.0, 95.461),
        (750.0, 92.634),
        (1000.0, 89.875),
        (1500.0, 84.556),
        (2000.0, 79.495),
        (2500.0, 74.683),
        (3000.0, 70.109),
    ] {
        let got = height(metres).ambient().get::<kilopascal>();
        println!("{metres:5} m: {got:.4} kPa, published {pressure}");
        close(got, pressure, 0.0006);
    }
}

/// Source: Mechanical Engineers' Handbook, vol. 4, Fluids, Table 6, US Standard
/// Atmosphere by geometric height, in bar to four decimals. Geopotential
/// height from the Earth's radius of 6,356,766 m in the 1976 standard.
#[test]
fn us_standard_atmosphere_1976_table_by_geometric_height() {
    for (metres, bar) in [
        (1000.0, 0.8988),
        (2000.0, 0.7950),
        (3000.0, 0.7012),
        (4000.0, 0.6166),
        (5000.0, 0.5405),
    ] {
        let geopotential = 6_356_766.0 * metres / (6_356_766.0 + metres);
        let got = height(geopotential).ambient().get::<pascal>() / 1e5;
        println!("{metres} m: {got:.5} bar, published {bar}");
        close(got, bar, 0.000_05);
        // What taking a map's height for the geopotential one costs.
        let map = height(metres).ambient().get::<pascal>() / 1e5;
        close(map, got, 0.0003);
    }
}

/// Source: the ideal gas law at constant volume, A = 101.325 kPa; the figures
/// were worked separately from it.
#[test]
fn worked_readings_by_temperature_and_height() {
    let cases = [
        (240.0, air(20.0, 0.0), air(35.0, 0.0), 257.5),
        (450.0, air(20.0, 0.0), air(0.0, 0.0), 412.4),
        (240.0, air(20.0, 0.0), air(20.0, 1500.0), 256.8),
    ];
    for (reading, from, to, expected) in cases {
        close(
            bring(kpa(reading), from, to).get::<kilopascal>(),
            expected,
            0.05,
        );
    }
    let noon = bring(
        GaugePressure::new::<psi>(50.0),
        air(20.0, 0.0),
        air(45.0, 0.0),
    );
    close(noon.get::<psi>(), 55.5, 0.05);
    // A sealed tyre's gauge rises by what the atmosphere falls.
    for (metres, rise) in [(500.0, 6.0), (1000.0, 12.0), (2000.0, 22.0)] {
        let up = bring(kpa(300.0), air(20.0, 0.0), air(20.0, metres)) - kpa(300.0);
        close(up.get::<kilopascal>(), rise, 0.6);
    }
}

/// Source: as above; at 20 °C and sea level. Columns: gauge kPa, kPa per 10 °C,
/// psi per 5 °C, psi per 10 °F.
#[test]
fn slopes_by_temperature() {
    for (gauge, per_10_c, per_5_c, per_10_f) in [
        (150.0, 8.6, 0.62, 0.69),
        (200.0, 10.3, 0.75, 0.83),
        (240.0, 11.6, 0.84, 0.94),
        (280.0, 13.0, 0.94, 1.05),
        (350.0, 15.4, 1.12, 1.24),
        (450.0, 18.8, 1.36, 1.52),
        (550.0, 22.2, 1.61, 1.79),
    ] {
        let rise =
            |kelvins: f64| bring(kpa(gauge), air(20.0, 0.0), air(20.0 + kelvins, 0.0)) - kpa(gauge);
        close(rise(10.0).get::<kilopascal>(), per_10_c, 0.06);
        close(rise(5.0).get::<psi>(), per_5_c, 0.006);
        close(rise(10.0 * 5.0 / 9.0).get::<psi>(), per_10_f, 0.006);
    }
}

/// Source: 'about 1 psi per 10 °F' (US Rubber Manufacturers Association, quoted
/// at vehiclestire.com) and '7 kPa (1 psi) per 5 °C' (Transport Canada tips,
/// restated at metro.us). Both are rules for cars: the first is exact for a
/// tyre at 262 kPa (38 psi), the second at 309 kPa, and at 450 kPa they fall
/// short by a third and a quarter.
#[test]
fn where_the_published_rules_are_exact() {
    let temperature = |fahrenheit: f64| {
        TyreTemperature::new(ThermodynamicTemperature::new::<degree_fahrenheit>(
            fahrenheit,
        ))
        .unwrap()
    };
    let (at_68, at_78) = (temperature(68.0), temperature(78.0));
    let sea = Height::SEA_LEVEL;
    let by_10_f = |gauge: f64| {
        bring(
            kpa(gauge),
            TyreAir::new(at_68, sea),
            TyreAir::new(at_78, sea),
        ) - kpa(gauge)
    };
    close(by_10_f(262.5).get::<psi>(), 1.0, 0.001);
    close(by_10_f(450.0).get::<psi>(), 1.52, 0.01);
    let by_5_c = |gauge: f64| bring(kpa(gauge), air(20.0, 0.0), air(25.0, 0.0)) - kpa(gauge);
    close(by_5_c(309.1).get::<kilopascal>(), 7.0, 0.01);
    close(by_5_c(450.0).get::<kilopascal>(), 9.4, 0.01);
    // 'About 3 psi for a 30 °F fall' (owner information at linhelps.com):
    // of a car's 33 psi, 2.8.
    let car = GaugePressure::new::<psi>(33.0);
    let fall = car
        - bring(
            car,
            TyreAir::new(at_68, sea),
            TyreAir::new(temperature(38.0), sea),
        );
    close(fall.get::<psi>(), 3.0, 0.3);
}

/// Source: running warms a car's tyre by 2 to 4 psi (owner information at
/// linhelps.com). Practice's 10 to 15 % of a car's 33 psi lies across it.
#[test]
fn practice_for_the_warm_rise_meets_the_published_one() {
    let (least, most) = EXPECTED_RISE_PERCENT;
    let here = Surroundings::default();
    let set = ColdSetting {
        pressure: GaugePressure::new::<psi>(33.0),
        at: here,
    };
    let check = warm_check(
        GaugePressure::new::<psi>(37.0),
        &set,
        &here,
        GaugeStep::one_psi(),
        Time::new::<minute>(60.0),
    )
    .unwrap();
    let (low, high) = check.expected;
    println!(
        "{least}-{most} % of 33 psi: {:.1} to {:.1} psi",
        low.get::<psi>(),
        high.get::<psi>()
    );
    let rise = |p: GaugePressure| (p - check.cold).get::<psi>();
    assert!(rise(low) > 2.0 && rise(low) < 4.0 && rise(high) > 4.0 && rise(high) < 5.0);
}

/// A warm rig at the dirt: set at 50 psi and 15 °C, reads 57 psi at noon in
/// 30 °C, now at 600 m. By hand: A 101.325 and 94.322 kPa; the air is at
/// 288.15·(57·6.894757 + 94.322)/(50·6.894757 + 101.325) = 314.8 K; a cold
/// 32 psi reads (220.632 + 94.322)·314.8/303.15 − 94.322 = 232.74 kPa.
#[test]
fn a_warm_rig_at_the_dirt() {
    let set = ColdSetting {
        pressure: GaugePressure::new::<psi>(50.0),
        at: Surroundings {
            height: Some(height(0.0)),
            temperature: Some(outside(15.0)),
        },
    };
    let now = Surroundings {
        height: Some(height(600.0)),
        temperature: Some(outside(30.0)),
    };
    let reading = GaugePressure::new::<psi>(57.0);
    let air = WarmAir::from_reading(reading, &set, &now, GaugeStep::one_psi()).unwrap();
    let target = air.to_now(GaugePressure::new::<psi>(32.0));
    close(target.get::<kilopascal>(), 232.74, 0.05);
    close(target.get::<psi>(), 33.76, 0.01);
}

fn cold_reading(days: f64, pressure: f64, celsius: f64) -> LeakReading {
    LeakReading {
        at: Time::new::<day>(days),
        pressure: GaugePressure::new::<psi>(pressure),
        resolution: GaugePressure::new::<psi>(0.5),
        temperature: outside(celsius),
        temperature_within: TemperatureInterval::new::<kelvin_interval>(1.0),
        height: Height::SEA_LEVEL,
    }
}

/// Source: a sound tyre loses 1 to 2 psi a month (US GAO-07-246R, 9 Feb 2007).
/// Three months of 1.5 psi each, read in the morning cool of a falling season.
#[test]
fn natural_loss_is_told_from_cooling() {
    let at_20 = |pressure: f64, celsius: f64| {
        bring(
            GaugePressure::new::<psi>(pressure),
            air(20.0, 0.0),
            air(celsius, 0.0),
        )
        .get::<psi>()
    };
    let month = 30.4375;
    let readings: Vec<_> = [(0.0, 30.0), (1.0, 24.0), (2.0, 15.0), (3.0, 8.0)]
        .into_iter()
        .map(|(months, celsius)| {
            let shown = (at_20(50.0 - 1.5 * months, celsius) * 2.0).round() / 2.0;
            cold_reading(months * month, shown, celsius)
        })
        .collect();
    let fell = readings[0].pressure - readings[3].pressure;
    assert!(fell.get::<psi>() > 8.0, "the gauge itself fell by {fell:?}");
    let line = LeakLine::fit(&readings, air(20.0, 0.0)).unwrap();
    let loss = line.loss_per_month();
    println!(
        "loss {:.2} ({:.2} to {:.2}) psi/month",
        loss.likely.get::<psi>(),
        loss.low.get::<psi>(),
        loss.high.get::<psi>()
    );
    close(loss.likely.get::<psi>(), 1.5, 0.2);
    assert_ne!(line.verdict(), LossVerdict::Faster);
    // From 45.5 psi at 1.5 psi a month, 42 psi is 70 days off.
    match line.reaches(GaugePressure::new::<psi>(42.0)).unwrap() {
        Reaches::Between {
            earliest,
            latest: Some(latest),
        } => {
            let truth = (3.0 + 3.5 / 1.5) * month;
            assert!(earliest.get::<day>() < truth && truth < latest.get::<day>());
            assert!(earliest > readings[3].at);
        }
        other => panic!("{other:?}"),
    }
    assert_eq!(
        line.reaches(GaugePressure::new::<psi>(46.5)),
        Ok(Reaches::Already)
    );
    assert_eq!(
        line.reaches(GaugePressure::new::<psi>(10.0)),
        Ok(Reaches::NotWithinHorizon)
    );
}

#[test]
fn too_little_to_say_is_said() {
    let here = air(20.0, 0.0);
    let fit = |readings: &[LeakReading]| LeakLine::fit(readings, here);
    assert_eq!(fit(&[]), Err(LeakError::TooFew { given: 0 }));
    assert_eq!(
        fit(&[cold_reading(1.0, 50.0, 20.0)]),
        Err(LeakError::TooFew { given: 1 })
    );
    assert_eq!(
        fit(&[cold_reading(1.0, 50.0, 20.0), cold_reading(1.0, 45.0, 20.0)]),
        Err(LeakError::TooClose)
    );
    // A week and half a psi: a loss of nothing to several psi a month.
    let week = [cold_reading(0.0, 50.0, 20.0), cold_reading(7.0, 49.5, 20.0)];
    let Err(LeakError::TooShort { loss, needed }) = fit(&week) else {
        panic!("a week is too short");
    };
    assert!(loss.low.get::<psi>() < 1.0 && loss.high.get::<psi>() > 2.0);
    // The stated wait is just enough.
    let waited = |days: f64| fit(&[week[0], cold_reading(days, 49.0, 20.0)]);
    assert!(waited(needed.get::<day>() * 1.01).is_ok());
    assert!(matches!(
        waited(needed.get::<day>() * 0.95),
        Err(LeakError::TooShort { .. })
    ));
    // A puncture shows however short the time.
    let hour = [
        cold_reading(0.0, 50.0, 20.0),
        cold_reading(1.0 / 24.0, 45.0, 20.0),
    ];
    assert_eq!(fit(&hour).unwrap().verdict(), LossVerdict::Faster);
    let pumped = [
        cold_reading(0.0, 50.0, 20.0),
        cold_reading(30.0, 47.0, 20.0),
        cold_reading(31.0, 50.0, 20.0),
        cold_reading(60.0, 48.0, 20.0),
    ];
    assert_eq!(
        fit(&pumped),
        Err(LeakError::Pumped {
            from: pumped[1].at,
            to: pumped[2].at
        })
    );
    let odd = [cold_reading(0.0, f64::NAN, 20.0), week[1]];
    assert!(matches!(
        fit(&odd),
        Err(LeakError::OutOfRange { reading: 0, error }) if error.limit.field == Field::TyreReading
    ));
}

#[test]
fn a_scatter_beyond_the_gauge_widens_the_band() {
    let here = air(20.0, 0.0);
    let with = |off: f64| {
        let readings = [
            cold_reading(0.0, 50.0, 20.0),
            cold_reading(20.0, 49.0 - off, 20.0),
            cold_reading(40.0, 48.0 + off, 20.0),
            cold_reading(60.0, 47.0, 20.0),
        ];
        LeakLine::fit(&readings, here).unwrap()
    };
    let (quiet, loud) = (with(0.0), with(0.8));
    assert!(!quiet.beyond_gauge() && loud.beyond_gauge());
    let width = |line: &LeakLine| {
        let loss = line.loss_per_month();
        (loss.high - loss.low).get::<psi>()
    };
    assert!(width(&loud) > 1.2 * width(&quiet));
}

/// Source: Tire and Rim Association Design Guide 3-24 rev 2 (27 July 2004),
/// `Vt = 3.14·(H + Dr)·(S·H)`, here worked in inches as it is written.
#[test]
fn gross_volume_of_the_design_guide() {
    let size = Section {
        width: Length::new::<millimeter>(265.0),
        height: SectionHeight::Aspect(75.0),
        rim: Length::new::<inch>(16.0),
    };
    let gross = size.gross_volume().unwrap().get::<cubic_meter>();
    let (s, h, d) = (265.0 / 25.4, 265.0 * 0.75 / 25.4, 16.0);
    let guide = 314.0 / 100.0 * (h + d) * (s * h);
    println!("design guide: {guide:.0} in³");
    // The guide's 3.14 is 0.05 % short of π.
    close(gross / 0.0254_f64.powi(3) / guide, 1.0, 0.0006);
    // The same tyre by its overall diameter.
    let overall = Length::new::<millimeter>(2.0 * 198.75 + 406.4);
    let by_overall = Section {
        height: SectionHeight::Overall(overall),
        ..size
    };
    let other = by_overall.gross_volume().unwrap().get::<cubic_meter>();
    close(other / gross, 1.0, 1e-9);
}

/// Source: US gallons of liquid ballast by tyre size, chart at
/// tech-outdoors.com. That such charts fill to valve height, 75 % of the air
/// space, is common practice; overall diameters (inches) are from memory.
#[test]
fn air_space_against_liquid_ballast_charts() {
    const CUBIC_INCHES_PER_GALLON: f64 = 231.0;
    let rows = [
        ("6.00-16", 6.0, 28.3, 16.0, 6.0),
        ("6.50-16", 6.5, 29.3, 16.0, 7.0),
        ("7.50-16", 7.5, 31.6, 16.0, 9.0),
        ("9.5L-15", 9.5, 30.8, 15.0, 11.0),
        ("11L-15", 11.0, 30.6, 15.0, 13.0),
    ];
    let mut shares = Vec::new();
    for (name, width, overall, rim, gallons) in rows {
        let size = Section {
            width: Length::new::<inch>(width),
            height: SectionHeight::Overall(Length::new::<inch>(overall)),
            rim: Length::new::<inch>(rim),
        };
        let charted = gallons / 0.75 * CUBIC_INCHES_PER_GALLON * 0.0254_f64.powi(3) * 1000.0;
        let space = size.air_space().unwrap();
        let [low, likely, high] = [space.low, space.likely, space.high].map(|v| v.get::<liter>());
        println!("{name}: chart {charted:.1} L, here {likely:.1} ({low:.1} to {high:.1}) L");
        assert!(low < charted && charted < high);
        shares.push(charted / likely);
    }
    let mean = shares.iter().sum::<f64>() / shares.len() as f64;
    close(mean, 1.0, 0.07);
}

/// Source: central tyre inflation on ten-wheel trucks, prototype: 45 to 75 psi
/// in 4 to 5 minutes, 45 to 100 psi in about 13 (USDA Forest Service study of
/// 27 Oct 1987, reproduced at cmautomotive.com). A flow timed over the lower
/// span alone makes the whole too short by a third, as its remark says; with
/// the upper span's flow too it comes out within an eighth, on the long side.
#[test]
fn a_published_fill_shows_why_one_flow_is_not_enough() {
    let site = Site {
        height: Height::SEA_LEVEL,
        temperature: outside(20.0),
    };
    let fill = |from: f64, to: f64| Fill {
        space: Volume::new::<liter>(200.0),
        from: GaugePressure::new::<psi>(from),
        to: GaugePressure::new::<psi>(to),
        air: outside(20.0).into(),
    };
    let timed = |from, to, minutes| {
        let elapsed = Time::new::<minute>(minutes);
        Compressor::from_timing(&fill(from, to), site, elapsed, None, None).unwrap()
    };
    let lower = timed(45.0, 75.0, 4.5);
    let whole = lower.run_time(&fill(45.0, 100.0), site).unwrap();
    println!(
        "by the lower span alone: {:.2} min",
        whole.run.get::<minute>()
    );
    close(whole.run.get::<minute>(), 4.5 * 55.0 / 30.0, 1e-9);
    assert!(whole.run.get::<minute>() < 13.0);
    assert!(whole.remarks.iter().any(|remark| matches!(
        remark,
        PumpRemark::AboveGiven { highest } if (highest.get::<psi>() - 75.0).abs() < 1e-9
    )));

    let upper = timed(75.0, 100.0, 8.5);
    let middle = |from: f64, to: f64, pump: &Compressor| FlowPoint {
        at: GaugePressure::new::<psi>(f64::midpoint(from, to)),
        flow: pump.points()[0].flow,
    };
    let both = Compressor::new(
        &[middle(45.0, 75.0, &lower), middle(75.0, 100.0, &upper)],
        Height::SEA_LEVEL,
        None,
        None,
    )
    .unwrap();
    let run = both.run_time(&fill(45.0, 100.0), site).unwrap().run;
    println!("by both spans: {:.2} min", run.get::<minute>());
    let over = run.get::<minute>() / 13.0;
    assert!((1.0..1.0 + 1.0 / 8.0).contains(&over), "{over}");
}

/// Ten litres a minute into 75 L, against the definition of the atmosphere: one
/// atmosphere of gauge pressure is one air space of free air.
#[test]
fn one_atmosphere_takes_one_air_space_of_free_air() {
    let site = Site {
        height: Height::SEA_LEVEL,
        temperature: outside(20.0),
    };
    let flow = FlowPoint {
        at: kpa(300.0),
        flow: VolumeRate::new::<liter_per_minute>(10.0),
    };
    let pump = Compressor::new(&[flow], Height::SEA_LEVEL, None, None).unwrap();
    let fill = Fill {
        space: Volume::new::<liter>(75.0),
        from: kpa(100.0),
        to: kpa(201.325),
        air: outside(20.0).into(),
    };
    let run = pump.run_time(&fill, site).unwrap().run;
    close(run.get::<minute>(), 7.5, 1e-9);
}

/// Writes what the law and the atmosphere say for `air_against_coolprop.py`,
/// which compares it with real air. Values as they come, without rounding.
#[test]
fn emits_the_law_for_the_comparison_with_real_air() {
    let mut json = String::from("{\"law\":[");
    let mut separator = "";
    for gauge in (100..=600).step_by(25).map(f64::from) {
        for from in (-10..=80).step_by(5).map(f64::from) {
            for to in (-10..=80).step_by(5).map(f64::from) {
                let got = bring(kpa(gauge), air(from, 0.0), air(to, 0.0)).get::<kilopascal>();
                assert!(got.is_finite());
                write!(json, "{separator}[{gauge:?},{from:?},{to:?},{got:?}]").unwrap();
                separator = ",";
            }
        }
    }
    json.push_str("],\"atmosphere\":[");
    separator = "";
    for metres in (-450..=5000).step_by(50).map(f64::from) {
        let got = height(metres).ambient().get::<kilopascal>();
        write!(json, "{separator}[{metres:?},{got:?}]").unwrap();
        separator = ",";
    }
    json.push_str("]}\n");
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join("air-law.json");
    std::fs::write(path, json).unwrap();
}
