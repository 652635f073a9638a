//! What must hold of every spec, wrench, adapter and wheel.
//!
//! The truth here is exact: rationals of the decimals that were written, over
//! every mark of the scale, along another road than `calc` takes.

#![cfg(not(target_arch = "wasm32"))]

use std::cell::RefCell;
use std::collections::BTreeMap;

use num_rational::BigRational;
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use tyreside::calc::limits::Field;
use tyreside::calc::torque::adapter::Adapter;
use tyreside::calc::torque::sequence::{Progress, Stages, Studs};
use tyreside::calc::torque::spec::{Spec, StatedError, Tolerance};
use tyreside::calc::torque::thread::{PropertyClass, Surfaces, Thread, clamp_load};
use tyreside::calc::torque::wrench::{
    Accuracy, Answer, Fit, Mark, Reading, Scale, ScaleEnd, ToolClass, Wrench,
};
use tyreside::calc::torque::{Torque, TorqueError, TorqueUnit, newton_meter};
use uom::si::angle::degree;
use uom::si::f64::{Angle, Length};
use uom::si::force::newton;
use uom::si::length::millimeter;

/// A decimal number as its millionths.
type Millionths = i128;

fn ratio(numerator: i128, denominator: i128) -> BigRational {
    BigRational::new(numerator.into(), denominator.into())
}

fn rational(decimal: &str) -> BigRational {
    let (whole, part) = decimal.split_once('.').unwrap_or((decimal, ""));
    let scale = 10_i128.pow(part.len() as u32);
    ratio(format!("{whole}{part}").parse().unwrap(), scale)
}

fn number(millionths: Millionths) -> f64 {
    millionths as f64 / 1e6
}

fn newton_metres(millionths: Millionths, unit: TorqueUnit) -> BigRational {
    ratio(millionths, 1_000_000) * rational(&unit.newton_metres())
}

fn int(x: &BigRational) -> i128 {
    x.to_integer().try_into().unwrap()
}

/// A spec as written, with its range in N·m.
#[derive(Debug, Clone)]
struct Stated {
    spec: Result<Spec, StatedError>,
    low: BigRational,
    high: BigRational,
}

#[derive(Debug, Clone)]
struct Geometry {
    adapter: Result<Adapter, TorqueError>,
    handle: i128,
    length: i128,
    millidegrees: i32,
}

impl Geometry {
    /// Arm over handle with the cosine from `slack` below to `slack` above;
    /// exact where the cosine is rational.
    fn gain(&self, slack: &BigRational) -> (BigRational, BigRational) {
        let known = match self.millidegrees {
            0 => Some(ratio(1, 1)),
            60_000 => Some(ratio(1, 2)),
            90_000 => Some(ratio(0, 1)),
            120_000 => Some(ratio(-1, 2)),
            180_000 => Some(ratio(-1, 1)),
            _ => None,
        };
        let gain = |cos: BigRational| ratio(1, 1) + ratio(self.length, self.handle) * cos;
        match known {
            Some(cos) => (gain(cos.clone()), gain(cos)),
            None => {
                let float = (f64::from(self.millidegrees) / 1000.0).to_radians().cos();
                let cos = BigRational::from_float(float).unwrap();
                (gain(&cos - slack), gain(&cos + slack))
            }
        }
    }
}

#[derive(Debug, Clone, Copy)]
enum Limit {
    Reading(Millionths),
    FullScale(Millionths),
}

/// A scale as written.
#[derive(Debug, Clone)]
struct Written {
    wrench: Result<Wrench, TorqueError>,
    unit: TorqueUnit,
    lowest: Millionths,
    step: Millionths,
    steps: i128,
    limit: Limit,
}

impl Written {
    fn highest(&self) -> Millionths {
        self.lowest + self.step * self.steps
    }

    /// The least and greatest number on the scale, in millionths, whose whole
    /// band is from `low` to `high` N·m at the nut.
    fn qualifying(
        &self,
        low: &BigRational,
        high: &BigRational,
        gain: &(BigRational, BigRational),
    ) -> (Millionths, Millionths) {
        let million = ratio(1_000_000, 1);
        let (least, most) = match self.limit {
            Limit::Reading(parts) => {
                let left = ratio(1_000_000 - parts, 1_000_000);
                (low / &gain.0 / &left, high * &left / &gain.1)
            }
            Limit::FullScale(parts) => {
                let off = newton_metres(self.highest(), self.unit) * ratio(parts, 1_000_000);
                (low / &gain.0 + &off, high / &gain.1 - &off)
            }
        };
        let unit = rational(&self.unit.newton_metres());
        (
            int(&(least / &unit * &million).ceil()),
            int(&(most / &unit * &million).floor()),
        )
    }
}

fn unit() -> impl Strategy<Value = TorqueUnit> {
    prop::sample::select(TorqueUnit::ALL.as_slice())
}

/// Millionths of `unit` near `newton_metres`, with `decimals` decimals.
fn near(newton_metres: f64, unit: TorqueUnit, decimals: u32) -> Millionths {
    let place = 10_i128.pow(6 - decimals);
    let count = unit.of(Torque::new::<newton_meter>(newton_metres)) * 1e6 / place as f64;
    (count.round() as i128).max(1) * place
}

fn stated() -> impl Strategy<Value = Stated> {
    let shares = (0.0..0.3_f64, 0.0..0.3_f64, 1..3000_i128);
    (unit(), 1.0..1000.0_f64, 0..=4_u32, 0..4, shares).prop_map(
        |(unit, torque, decimals, kind, (minus, plus, percent))| {
            let nominal = near(torque, unit, decimals);
            let minus = near(torque * minus, unit, decimals);
            let plus = near(torque * plus, unit, decimals);
            let at = |millionths| newton_metres(millionths, unit);
            let value = number(nominal);
            let (spec, low, high) = match kind {
                0 => {
                    let tolerance = Tolerance::Percent(percent as f64 / 100.0);
                    let side = at(nominal) * ratio(percent, 10_000);
                    let spec = Spec::new(value, unit, tolerance);
                    (spec, at(nominal) - &side, at(nominal) + side)
                }
                1 => {
                    let tolerance = Tolerance::PlusMinus(number(plus));
                    let spec = Spec::new(value, unit, tolerance);
                    (spec, at(nominal - plus), at(nominal + plus))
                }
                2 => {
                    let tolerance = Tolerance::MinusPlus {
                        minus: number(minus),
                        plus: number(plus),
                    };
                    let spec = Spec::new(value, unit, tolerance);
                    (spec, at(nominal - minus), at(nominal + plus))
                }
                _ => {
                    let spec = Spec::range(number(nominal - minus), number(nominal + plus), unit);
                    (spec, at(nominal - minus), at(nominal + plus))
                }
            };
            Stated { spec, low, high }
        },
    )
}

fn written() -> impl Strategy<Value = Written> {
    let steps = prop::sample::select(vec![0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 2.5, 5.0, 10.0]);
    let limit = (0..3, 1..=2500_i128);
    (unit(), steps, 1..40_i128, 1..600_i128, limit).prop_map(
        |(unit, step, first, steps, (kind, hundredths))| {
            let step = (step * 1e6_f64).round() as i128;
            let (lowest, percent) = (step * first, hundredths as f64 / 100.0);
            let highest = lowest + step * steps;
            let scale = Scale {
                unit,
                lowest: number(lowest),
                highest: number(highest),
                step: number(step),
            };
            let (accuracy, limit) = match kind {
                0 => {
                    let small = newton_metres(highest, unit) <= ratio(10, 1);
                    let parts = if small { 60_000 } else { 40_000 };
                    (
                        Accuracy::Class(ToolClass::SettingScale),
                        Limit::Reading(parts),
                    )
                }
                1 => (
                    Accuracy::OfReading(percent),
                    Limit::Reading(hundredths * 100),
                ),
                _ => (
                    Accuracy::OfFullScale(percent),
                    Limit::FullScale(hundredths * 100),
                ),
            };
            Written {
                wrench: Wrench::new(scale, accuracy),
                unit,
                lowest,
                step,
                steps,
                limit,
            }
        },
    )
}

fn geometry() -> impl Strategy<Value = Geometry> {
    let known = prop::sample::select(vec![0, 60_000, 90_000, 120_000, 180_000]);
    let angle = prop_oneof![known, 0..=180_000];
    (100_000..2_000_000_i128, 0..1_000_000_i128, angle).prop_map(
        |(handle, length, millidegrees)| Geometry {
            adapter: Adapter::new(
                Length::new::<millimeter>(handle as f64 / 1000.0),
                Length::new::<millimeter>(length as f64 / 1000.0),
                Angle::new::<degree>(f64::from(millidegrees) / 1000.0),
            ),
            handle,
            length,
            millidegrees,
        },
    )
}

/// A spec whose ends are the band of one of the wrench's own marks, each moved
/// by a millionth or not: where a rounding error would decide.
fn on_the_edge() -> impl Strategy<Value = (Stated, Written)> {
    let moved = -1..=1_i128;
    (written(), 0..600_i128, moved.clone(), moved).prop_map(|(wrench, k, down, up)| {
        let mark = wrench.lowest + wrench.step * (k % (wrench.steps + 1));
        let (low, high) = match wrench.limit {
            Limit::Reading(parts) => (
                mark * (1_000_000 - parts) / 1_000_000,
                mark * 1_000_000 / (1_000_000 - parts),
            ),
            Limit::FullScale(parts) => {
                let off = wrench.highest() * parts / 1_000_000;
                (mark - off, mark + off)
            }
        };
        let (low, high) = (low + down, high + up);
        let stated = Stated {
            spec: Spec::range(number(low), number(high), wrench.unit),
            low: newton_metres(low, wrench.unit),
            high: newton_metres(high, wrench.unit),
        };
        (stated, wrench)
    })
}

thread_local! {
    static SEEN: RefCell<BTreeMap<&'static str, u32>> = const { RefCell::new(BTreeMap::new()) };
}

fn saw(what: &'static str) {
    SEEN.with_borrow_mut(|seen| *seen.entry(what).or_default() += 1);
}

/// Prints how often each thing was seen, and fails where one hardly was.
fn must_have_seen(least: u32, kinds: &[&'static str]) {
    SEEN.with_borrow(|seen| {
        println!("{seen:?}");
        for kind in kinds {
            assert!(
                seen.get(kind).is_some_and(|n| *n >= least),
                "{kind} {seen:?}"
            );
        }
    });
}

fn run<S: Strategy>(cases: u32, strategy: S, test: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let config = Config {
        cases,
        failure_persistence: None,
        ..Config::default()
    };
    TestRunner::new(config).run(&strategy, test).unwrap();
}

/// Holds one answer against every mark of the scale.
fn judge(
    stated: &Stated,
    wrench: &Written,
    geometry: Option<&Geometry>,
) -> Result<(), TestCaseError> {
    let (Ok(spec), Ok(tool)) = (&stated.spec, &wrench.wrench) else {
        saw("refused");
        return Ok(());
    };
    let adapter = match geometry.map(|g| &g.adapter) {
        Some(Err(_)) => {
            saw("refused");
            return Ok(());
        }
        Some(Ok(adapter)) => Some(adapter),
        None => None,
    };
    // The float's cosine is good to 1e-15; the code's bracket to 2e-12.
    let gain = |slack: i128| {
        let one = || (ratio(1, 1), ratio(1, 1));
        geometry.map_or_else(one, |g| g.gain(&ratio(slack, 10_i128.pow(15))))
    };
    let surely = wrench.qualifying(&stated.low, &stated.high, &gain(1));
    let widely = wrench.qualifying(&stated.low, &stated.high, &gain(3000));
    let marks = || (0..=wrench.steps).map(|k| wrench.lowest + wrench.step * k);
    let promised = |mark: Millionths| mark * 5 >= wrench.highest();
    let found = |mark: Millionths| (widely.0..=widely.1).contains(&mark);
    let any_promised = marks().any(|mark| found(mark) && promised(mark));
    let any = marks().any(found);

    // Plain floats for the figures that only inform.
    let [low, high] =
        [&stated.low, &stated.high].map(|x| int(&(x * ratio(10_i128.pow(15), 1))) as f64 / 1e15);
    let gains = [gain(1).0, gain(1).1].map(|g| int(&(g * ratio(10_i128.pow(15), 1))) as f64 / 1e15);
    let band = |mark: Millionths| {
        let torque = wrench.unit.torque(number(mark)).get::<newton_meter>();
        let (least, most) = match wrench.limit {
            Limit::Reading(parts) => {
                let left = 1.0 - parts as f64 / 1e6;
                (torque * left, torque / left)
            }
            Limit::FullScale(parts) => {
                let top = wrench.unit.torque(number(wrench.highest()));
                let off = top.get::<newton_meter>() * parts as f64 / 1e6;
                ((torque - off).max(0.0), torque + off)
            }
        };
        (least * gains[0], most * gains[1])
    };
    let close = |a: f64, b: f64| (a - b).abs() <= 1e-9 * (1.0 + high + a.abs());
    let room = |mark| (band(mark).0 - low).min(high - band(mark).1);

    match tool.mark_for(spec, adapter) {
        Answer::Set(Reading {
            mark,
            band: shown,
            fit,
            low_on_scale,
        }) => {
            let set = (mark.value * 1e6).round() as i128;
            prop_assert!(marks().any(|mark| mark == set), "no such mark");
            prop_assert_eq!(mark.value, number(set));
            let text = format!("{:.*}", usize::from(mark.decimals), mark.value);
            prop_assert_eq!(text.parse::<f64>().unwrap(), mark.value);
            prop_assert_eq!(low_on_scale, !promised(set));
            let (least, most) = band(set);
            prop_assert!(close(shown.low.get::<newton_meter>(), least));
            prop_assert!(close(shown.high.get::<newton_meter>(), most));
            let inside = (surely.0..=surely.1).contains(&set);
            match fit {
                Fit::Inside { room: said } => {
                    saw("inside");
                    prop_assert!(inside && promised(set), "declared inside and is not");
                    prop_assert!(close(said.get::<newton_meter>(), room(set).max(0.0)));
                    for other in marks().filter(|mark| found(*mark) && promised(*mark)) {
                        let more = room(other) - room(set);
                        prop_assert!(more <= 1e-9 * (1.0 + high), "{other} leaves {more} more");
                    }
                }
                Fit::Unpromised { room: said } => {
                    saw("unpromised");
                    prop_assert!(inside && !promised(set), "declared inside and is not");
                    prop_assert!(!any_promised, "a promised mark fits");
                    prop_assert!(close(said.get::<newton_meter>(), room(set).max(0.0)));
                }
                Fit::Outside { under, over } => {
                    saw("outside");
                    prop_assert!(!any, "a mark fits and was not found");
                    let (under, over) = (under.get::<newton_meter>(), over.get::<newton_meter>());
                    prop_assert!(under >= 0.0 && over >= 0.0);
                    prop_assert!(close(under, (low - least).max(0.0)));
                    prop_assert!(close(over, (most - high).max(0.0)));
                }
                Fit::NothingStated => prop_assert!(false, "a tolerance was stated"),
            }
        }
        Answer::OffScale { end, needed } => {
            saw("off scale");
            prop_assert!(!any, "a mark fits and was not found");
            let needed = wrench.unit.of(needed);
            match end {
                ScaleEnd::Lowest => prop_assert!(needed < number(wrench.lowest)),
                ScaleEnd::Highest => prop_assert!(needed > number(wrench.highest())),
            }
        }
    }
    Ok(())
}

const VERDICTS: [&str; 4] = ["inside", "unpromised", "outside", "off scale"];

#[test]
fn prop_a_mark_is_inside_exactly_when_one_fits() {
    run(60_000, (stated(), written()), |(stated, wrench)| {
        judge(&stated, &wrench, None)
    });
    must_have_seen(500, &VERDICTS);
}

#[test]
fn prop_a_mark_through_an_adapter_is_inside_exactly_when_one_fits() {
    let all = (stated(), written(), geometry());
    run(60_000, all, |(stated, wrench, geometry)| {
        judge(&stated, &wrench, Some(&geometry))
    });
    must_have_seen(500, &VERDICTS);
}

#[test]
fn prop_no_rounding_decides_at_the_edge() {
    run(60_000, on_the_edge(), |(stated, wrench)| {
        judge(&stated, &wrench, None)
    });
    must_have_seen(500, &["inside", "unpromised", "outside"]);
}

#[test]
fn prop_inward_rounding_never_promises_more() {
    run(
        100_000,
        (stated(), unit(), 0..=4_u8),
        |(stated, unit, asked)| {
            let Ok(spec) = stated.spec else {
                saw("refused");
                return Ok(());
            };
            let shown = spec.shown_in(unit, asked);
            let places = usize::from(shown.decimals);
            let exact = |value: f64| {
                rational(&format!("{value:.places$}")) * rational(&unit.newton_metres())
            };
            let (low, high) = shown.range.unwrap();
            prop_assert!(exact(low) >= stated.low && exact(high) <= stated.high);
            prop_assert!(low < high && low <= shown.nominal && shown.nominal <= high);
            prop_assert!(shown.decimals >= asked);
            // No more is given away than one step at either end.
            let step = |decimals: u8| {
                ratio(1, 10_i128.pow(u32::from(decimals))) * rational(&unit.newton_metres())
            };
            prop_assert!(exact(low) - step(shown.decimals) < stated.low);
            prop_assert!(exact(high) + step(shown.decimals) > stated.high);
            // More digits only where fewer would have closed the range up.
            if shown.decimals > asked {
                saw("more digits");
                let step = step(shown.decimals - 1);
                let ceil = (&stated.low / &step).ceil();
                let floor = (&stated.high / &step).floor();
                prop_assert!(ceil >= floor);
            }
            // The nominal is the nearest there is in the range.
            let nominal = spec.nominal().get::<newton_meter>();
            let off = (unit.torque(shown.nominal).get::<newton_meter>() - nominal).abs();
            for other in [low, high] {
                let other = (unit.torque(other).get::<newton_meter>() - nominal).abs();
                prop_assert!(off <= other + 1e-9);
            }
            saw("shown");
            Ok(())
        },
    );
    must_have_seen(500, &["shown", "more digits"]);
}

/// Numbers that spread over their range without a pattern.
fn scrambled(n: u64) -> u64 {
    let mut z = n.wrapping_mul(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

#[test]
fn a_million_torques_come_back_within_one_of_the_last_place() {
    let (mut worst, mut moved) = (0, 0);
    for n in 0..1_000_000_u64 {
        let random = scrambled(n);
        let from = TorqueUnit::ALL[(random % 4) as usize];
        let to = TorqueUnit::ALL[(random / 4 % 4) as usize];
        let torque = 2.0 + (random >> 20) as f64 / (1_u64 << 44) as f64 * 980.0;
        let scale = 10_f64.powi(i32::from(from.decimals()));
        let count = (from.of(Torque::new::<newton_meter>(torque)) * scale).round();
        let value = count / scale;

        let there = Spec::new(value, from, Tolerance::Unstated)
            .unwrap()
            .shown_in(to, to.decimals());
        let back = Spec::new(there.nominal, to, Tolerance::Unstated)
            .unwrap()
            .shown_in(from, from.decimals());
        let off = ((back.nominal * scale).round() - count).abs() as u32;
        worst = worst.max(off);
        moved += u32::from(off > 0);
        assert!(off <= 1, "{value} {from:?} {there:?} {back:?}");

        // Unrounded on the way, it comes back as it was.
        let float = from.of(to.torque(to.of(from.torque(value))));
        assert!((float / value - 1.0).abs() < 1e-15, "{value} {float}");
    }
    println!("worst {worst} of the last place, {moved} of 1000000 moved");
}

/// Any float at all, or a number that someone might write.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        prop::num::f64::ANY,
        (0..2_000_000_i64, 0..5_i32).prop_map(|(n, places)| n as f64 / 10_f64.powi(places)),
        prop::sample::select(vec![
            0.0,
            -0.0,
            1.0,
            10.0,
            1000.0,
            0.01,
            1e-6,
            180.0,
            f64::NAN
        ]),
    ]
}

#[test]
fn prop_every_accepted_input_gives_finite_figures() {
    let accuracy = (0..6_usize, any_number()).prop_map(|(kind, percent)| match kind {
        0 => Accuracy::OfReading(percent),
        1 => Accuracy::OfFullScale(percent),
        _ => Accuracy::Class(ToolClass::ALL[kind - 2]),
    });
    let tolerance = (0..4, any_number(), any_number()).prop_map(|(kind, a, b)| match kind {
        0 => Tolerance::Unstated,
        1 => Tolerance::Percent(a),
        2 => Tolerance::PlusMinus(a),
        _ => Tolerance::MinusPlus { minus: a, plus: b },
    });
    let spec = (any_number(), unit(), tolerance, any_number(), any::<bool>());
    let plausible = (0..50_u32, 1..300_u32, 1..100_u32).prop_map(|(first, steps, tenths)| {
        let at = |count: u32| f64::from(count * tenths) / 10.0;
        (at(first), at(first + steps), at(1))
    });
    let marks = prop_oneof![plausible, (any_number(), any_number(), any_number())];
    let scale = (unit(), marks).prop_map(|(unit, marks)| (unit, marks.0, marks.1, marks.2));
    let lengths = (any_number(), any_number(), any_number());
    let all = (spec, scale, accuracy, lengths, any::<u8>());
    run(200_000, all, |(spec, scale, accuracy, lengths, any)| {
        let (nominal, stated_in, tolerance, other, as_range) = spec;
        let spec = if as_range {
            Spec::range(nominal, other, stated_in)
        } else {
            Spec::new(nominal, stated_in, tolerance)
        };
        let (unit, lowest, highest, step) = scale;
        let wrench = Wrench::new(
            Scale {
                unit,
                lowest,
                highest,
                step,
            },
            accuracy,
        );
        let adapter = Adapter::new(
            Length::new::<millimeter>(lengths.0),
            Length::new::<millimeter>(lengths.1),
            Angle::new::<degree>(lengths.2),
        );
        let mut figures = Vec::new();
        let mut torque = |t: Torque| figures.push(t.get::<newton_meter>());
        if let Ok(spec) = spec {
            saw("spec");
            torque(spec.nominal());
            let shown = spec.shown_in(unit, any);
            torque(unit.torque(shown.nominal));
            if let Some((low, high)) = shown.range {
                prop_assert!(low < high);
            }
        }
        if let Ok(adapter) = adapter {
            saw("adapter");
            torque(adapter.setting_for(Torque::new::<newton_meter>(100.0)));
        }
        if let Ok(wrench) = wrench {
            saw("wrench");
            for stage in [(1, 2), (1, 3), (2, 3), (0, 0), (any, 1), (0, any)] {
                if let Some(mark) = wrench.stage_mark(wrench.highest(), stage) {
                    prop_assert!(mark.value.is_finite() && mark.value > 0.0);
                }
            }
            let odd = Mark {
                value: nominal,
                ..wrench.highest()
            };
            wrench.stage_mark(odd, (1, 2));
        }
        if let (Ok(spec), Ok(wrench)) = (spec, wrench) {
            for adapter in [None, adapter.ok().as_ref()] {
                match wrench.mark_for(&spec, adapter) {
                    Answer::Set(reading) => {
                        saw("set");
                        prop_assert!(reading.mark.value > 0.0);
                        prop_assert!(reading.band.low <= reading.band.high);
                        torque(reading.band.low);
                        torque(reading.band.high);
                        match reading.fit {
                            Fit::Inside { room } | Fit::Unpromised { room } => torque(room),
                            Fit::Outside { under, over } => torque(under + over),
                            Fit::NothingStated => saw("nothing stated"),
                        }
                    }
                    Answer::OffScale { needed, .. } => torque(needed),
                }
            }
        }
        for figure in figures {
            prop_assert!(figure.is_finite() && figure >= 0.0, "{figure}");
        }
        let thread = Thread::ALL[usize::from(any) % 6];
        let class = PropertyClass::ALL[usize::from(any) % 4];
        let given = Torque::new::<newton_meter>(nominal);
        match clamp_load(given, thread, class, Surfaces::Dry) {
            Ok(answer) => {
                saw("clamp");
                for clamp in [answer.as_is, answer.oiled] {
                    let load = clamp.tension;
                    let loads = [load.low, load.typical, load.high].map(|f| f.get::<newton>());
                    prop_assert!(loads.is_sorted() && loads.iter().all(|f| f.is_finite()));
                    prop_assert!(loads[0] > 0.0);
                }
                prop_assert!(answer.oiled.proof_share.typical > answer.as_is.proof_share.typical);
            }
            Err(_) => prop_assert!(Field::SpecTorque.check(nominal).is_err()),
        }
        Ok(())
    });
    must_have_seen(
        500,
        &[
            "spec",
            "adapter",
            "wrench",
            "set",
            "nothing stated",
            "clamp",
        ],
    );
}

/// The mark nearest to a nominal without tolerance, over the whole scale.
#[test]
fn prop_a_bare_nominal_gets_the_nearest_mark() {
    let all = (written(), 1.0..1000.0_f64, unit());
    run(40_000, all, |(wrench, torque, unit)| {
        let nominal = near(torque, unit, 1);
        let spec = Spec::new(number(nominal), unit, Tolerance::Unstated);
        let (Ok(spec), Ok(tool)) = (spec, &wrench.wrench) else {
            return Ok(());
        };
        let exact = newton_metres(nominal, unit);
        let distance = |mark| {
            let off = newton_metres(mark, wrench.unit) - &exact;
            if off < ratio(0, 1) { -off } else { off }
        };
        let slack = ratio(1, 1_000_000_000);
        match tool.mark_for(&spec, None) {
            Answer::Set(reading) => {
                saw("set");
                prop_assert_eq!(reading.fit, Fit::NothingStated);
                let set = (reading.mark.value * 1e6).round() as i128;
                let chosen = distance(set) - &slack;
                for beside in [set - wrench.step, set + wrench.step] {
                    if (wrench.lowest..=wrench.highest()).contains(&beside) {
                        prop_assert!(chosen <= distance(beside));
                    }
                }
            }
            Answer::OffScale { .. } => {
                saw("off scale");
                let half = newton_metres(wrench.step, wrench.unit) / ratio(2, 1) - slack;
                prop_assert!(distance(wrench.lowest) > half && distance(wrench.highest()) > half);
            }
        }
        Ok(())
    });
    must_have_seen(500, &["set", "off scale"]);
}

#[test]
fn a_stage_mark_is_the_one_at_or_below_its_share() {
    let scale = Scale {
        unit: TorqueUnit::NewtonMetre,
        lowest: 28.0,
        highest: 210.0,
        step: 2.0,
    };
    let wrench = Wrench::new(scale, Accuracy::OfReading(4.0)).unwrap();
    let last = Mark {
        value: 142.0,
        ..wrench.highest()
    };
    let mark = |share| wrench.stage_mark(last, share).map(|mark| mark.value);
    assert_eq!(mark((1, 2)), Some(70.0));
    assert_eq!(mark((1, 3)), Some(46.0));
    assert_eq!(mark((2, 3)), Some(94.0));
    assert_eq!(mark((1, 1)), Some(142.0));
    assert_eq!(mark((1, 6)), None);
    assert_eq!(mark((1, 0)), None);
    let pounds = Mark {
        unit: TorqueUnit::FootPound,
        ..last
    };
    assert_eq!(wrench.stage_mark(pounds, (1, 2)), None);
}

/// Round the circle, the shorter way.
fn apart(a: u8, b: u8, studs: u8) -> u8 {
    let way = a.abs_diff(b);
    way.min(studs - way)
}

#[test]
fn star_orders_take_each_stud_once_and_cross_the_wheel() {
    for studs in Studs::ALL {
        let (star, count) = (studs.star(), studs.count());
        let mut sorted = star.to_vec();
        sorted.sort_unstable();
        assert_eq!(sorted, (0..count).collect::<Vec<_>>(), "{studs:?}");
        assert_eq!(star[0], 0);
        let least = star.windows(2).map(|w| apart(w[0], w[1], count)).min();
        println!("{studs:?} {star:?} at least {least:?} apart");
        // On four studs only the opposite one is not a neighbour, so that the
        // step from one pair to the other is to a neighbour in any order.
        assert_eq!(
            least,
            Some(if count == 4 {
                1
            } else if count == 10 {
                3
            } else {
                2
            })
        );
        if count % 2 == 0 {
            for pair in star.chunks(2) {
                assert_eq!(apart(pair[0], pair[1], count), count / 2, "{studs:?}");
            }
        }
        // Neighbours on the circle are equally far apart in the drawing, and
        // opposite studs in opposite places.
        let place = |stud| studs.place(stud);
        let side = 2.0 * (std::f64::consts::PI / f64::from(count)).sin();
        for stud in 0..count {
            let (a, b) = (place(stud), place(stud + 1));
            assert!(((a.right - b.right).hypot(a.down - b.down) - side).abs() < 1e-12);
            assert!((a.right.hypot(a.down) - 1.0).abs() < 1e-12);
        }
        assert!(place(0).right.abs() < 1e-12 && (place(0).down + 1.0).abs() < 1e-12);
        assert!(place(1).right > 0.0, "clockwise");
    }
}

#[test]
fn every_wheel_is_finished_in_star_order_stage_by_stage() {
    for studs in Studs::ALL {
        for stages in Stages::ALL {
            let mut wheel = Progress::new(studs, stages);
            let mut pulled = Vec::new();
            while let Some(stud) = wheel.next() {
                let stage = wheel.stage().unwrap();
                assert!(!wheel.is_done(stage.number(), stud));
                wheel.tick(stud).unwrap();
                assert!(wheel.is_done(stage.number(), stud));
                pulled.push(stud);
                assert!(pulled.len() <= 30);
            }
            assert_eq!(pulled, studs.star().repeat(usize::from(stages.count())));
            assert!(wheel.is_finished());
        }
    }
}

#[test]
fn prop_progress_survives_slips_and_reloads() {
    let studs = prop::sample::select(Studs::ALL.as_slice());
    let stages = prop::sample::select(Stages::ALL.as_slice());
    let taps = prop::collection::vec(0..14_u8, 0..80);
    run(20_000, (studs, stages, taps), |(studs, stages, taps)| {
        let mut wheel = Progress::new(studs, stages);
        for tap in taps {
            let before = wheel.clone();
            // Two numbers stand for taking back and for a reload.
            match tap {
                12 => {
                    wheel.undo();
                }
                13 => wheel = Progress::resume(studs, stages, wheel.ticked()).unwrap(),
                _ => match wheel.tick(tap) {
                    Ok(_) => prop_assert_eq!(wheel.ticked().len(), before.ticked().len() + 1),
                    Err(_) => prop_assert_eq!(&wheel, &before),
                },
            }
            let done = (0..stages.count())
                .flat_map(|stage| (0..studs.count()).map(move |stud| (stage, stud)))
                .filter(|(stage, stud)| wheel.is_done(*stage, *stud))
                .count();
            prop_assert_eq!(done, wheel.ticked().len());
            prop_assert_eq!(wheel.is_finished(), wheel.next().is_none());
            if wheel.is_finished() {
                saw("finished");
            }
        }
        Ok(())
    });
    must_have_seen(100, &["finished"]);
}
