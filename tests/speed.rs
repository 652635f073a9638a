//! What types and checks cost: the core beside plain formulas on bare `f64`,
//! written independently here and asserted equal. `make bench` prints, and fails
//! above the goals.
//!
//! The formulas are handed what the core has to find out: the numbers of each
//! tyre, sound and in one unit. They give figures; the core checks what it is
//! given, finds out what the tyre is, and says what decided and what to mind.

use std::hint::black_box;
use std::process::ExitCode;
use std::time::Instant;
use tyreside::calc::pressure::{Answer, Axle as CoreAxle, Setting, SpeedLimit};
use tyreside::calc::quantity::{GaugePressure, kilogram, kilometer_per_hour, kilopascal};
use tyreside::calc::surface::Surface;
use tyreside::rig::typed::in_unit::{kg, kpa, psi};
use tyreside::rig::{Axle, LoadFrom, Place, PressureUnit, Rig};

/// The decision beside its formulas: the most that is allowed.
const DECISION: f64 = 1.2;
/// A rig from its typed texts to the answers on all surfaces.
const WHOLE_RIG: f64 = 2.0;

/// One axle as bare numbers: kPa, kg, km/h, mm.
#[derive(Clone, Copy)]
struct Bare {
    reference_load: f64,
    reference_pressure: f64,
    exponent: f64,
    maximum: f64,
    lowest_row: f64,
    tyre_kmh: f64,
    load: f64,
    tyres: f64,
    placard: f64,
    own: f64,
    floor: f64,
    width: f64,
    aspect: f64,
    rim: f64,
}

/// The figures of one answer, kPa, kg and km/h; what there is none of is NaN.
#[derive(Clone, Copy, Debug)]
struct Figures {
    recommended: f64,
    low: f64,
    high: f64,
    kmh: f64,
    reserve: f64,
    load_minimum: f64,
    least: f64,
    sealed: f64,
    /// What the stiffness model asks, where that is a tenth more.
    stiffness: f64,
    band: (f64, f64),
    reachable: f64,
    slow: f64,
    shed: f64,
}

/// Low and high end as shares, and the speed, by [`Surface::ALL`] (design: the
/// bands of common practice).
const BANDS: [(f64, f64, f64); 8] = [
    (1.0, 1.0, f64::INFINITY),
    (0.70, 0.80, 80.0),
    (0.60, 0.70, 80.0),
    (0.55, 0.65, 60.0),
    (0.50, 0.60, 25.0),
    (0.45, 0.55, 30.0),
    (0.35, 0.45, 40.0),
    (0.28, 0.33, 10.0),
];

/// A hair for rounding.
const HAIR: f64 = 1e-9;

fn up(p: f64, step: f64) -> f64 {
    (p / step - HAIR).ceil() * step
}

fn down(p: f64, step: f64) -> f64 {
    (p / step + HAIR).floor() * step
}

impl Bare {
    fn carries(&self, p: f64) -> f64 {
        let share = p / self.reference_pressure;
        if share >= 1.0 {
            return self.reference_load;
        }
        self.reference_load * share.powf(self.exponent)
    }

    fn figures(&self, surface: usize, hold: bool, step: f64) -> Figures {
        let tables =
            self.reference_pressure * (self.load / self.reference_load).powf(1.0 / self.exponent);
        let found = tables
            .max(self.placard)
            .max(self.lowest_row.min(self.maximum))
            .max(self.floor);
        let mut sealed = up(found, step).min(self.maximum);
        if self.own >= tables * (1.0 - HAIR) && self.own >= self.floor {
            sealed = self.own.min(self.maximum);
        }
        let by_stiffness = self.reference_pressure * self.load / self.reference_load;
        let stiffness = if by_stiffness > 1.1 * tables {
            by_stiffness
        } else {
            f64::NAN
        };
        if surface == 0 {
            return Figures {
                recommended: sealed,
                low: sealed,
                high: sealed,
                kmh: self.tyre_kmh,
                reserve: self.carries(sealed) / self.load - 1.0,
                load_minimum: tables,
                least: tables,
                sealed,
                stiffness,
                band: (f64::NAN, f64::NAN),
                reachable: f64::NAN,
                slow: f64::NAN,
                shed: f64::NAN,
            };
        }
        let (low, high, kmh) = BANDS[surface];
        let usual = kmh.min(self.tyre_kmh);
        let middle = sealed * (low + high) / 2.0;

        // The slow rule.
        let height = self.width * self.aspect / 100.0;
        let radius = self.rim / 2.0 + height;
        let most = (0.3 * height).min(0.15 * radius);
        let per_kpa = 0.00028 * ((1.03 - 0.004 * self.aspect) * self.width * 2.0 * radius).sqrt();
        let pressed = ((self.load / most - 3.45) / per_kpa).max(80.0);
        let least_at = |kmh: f64| {
            if kmh > 40.0 || pressed > 700.0 {
                tables
            } else if kmh > 10.0 {
                pressed.max(0.5 * tables).min(tables)
            } else {
                pressed.min(tables)
            }
        };
        let carries_at = |p: f64, kmh: f64| {
            let by_tables = self.carries(p);
            if kmh > 40.0 {
                return by_tables;
            }
            let by_deflection = (per_kpa * p.min(700.0) + 3.45) * most;
            let mut slow = by_deflection.min(self.reference_load);
            if kmh > 10.0 {
                slow = slow.min(self.carries(2.0 * p));
            }
            slow.max(by_tables)
        };
        let whole = |p: f64| {
            let up_ = up(p, step);
            if up_ <= up(sealed, step) && up_ <= self.maximum * (1.0 + HAIR) {
                up_.min(self.maximum)
            } else {
                sealed
            }
        };

        let needed = least_at(usual);
        let bound = if hold {
            needed.max(self.floor)
        } else {
            self.floor
        };
        let cut = |p: f64| p.max(bound).min(sealed);
        let recommended = whole(cut(middle));
        let mut shown_low = up(cut(sealed * low), step).min(recommended);
        let enough = |kmh: f64| recommended >= least_at(kmh) * (1.0 - 2.0 * HAIR);
        let speed = if enough(usual) {
            usual
        } else if usual > 40.0 && enough(40.0) {
            40.0
        } else if usual > 10.0 && enough(10.0) {
            10.0
        } else {
            f64::NAN
        };
        let mut kmh = speed;
        if speed.is_nan() {
            kmh = usual.min(5.0);
        } else {
            shown_low = shown_low.max(up(least_at(speed), step)).min(recommended);
        }
        let reachable = middle.max(self.floor);
        let held = hold && middle < bound * (1.0 - 2.0 * HAIR) && needed > self.floor;
        let mut figures = Figures {
            recommended,
            low: shown_low,
            high: down(cut(sealed * high), step).max(recommended),
            kmh,
            reserve: carries_at(recommended, kmh) / self.load - 1.0,
            load_minimum: tables,
            least: needed,
            sealed,
            stiffness,
            band: (sealed * low, sealed * high),
            reachable: f64::NAN,
            slow: f64::NAN,
            shed: f64::NAN,
        };
        if held {
            figures.reachable = reachable;
            figures.shed = (self.load - carries_at(reachable, usual)).max(0.0) * self.tyres;
            let would_do = |kmh: f64| whole(reachable.max(least_at(kmh)).min(sealed));
            let slow = would_do(40.0);
            if usual > 40.0 && slow < would_do(usual) {
                figures.slow = slow;
            }
        }
        figures
    }
}

/// Invented rigs: every family, every source of a mass, figures of one's own
/// and the placard's, both settings.
fn rigs() -> Vec<Rig> {
    let weighed = |place, axles, tyre: &str, mass| Axle {
        axles,
        tyre: tyre.to_owned(),
        weighed: Some(kg(mass)),
        ..Axle::empty(place)
    };
    let mut practice = Rig::demo();
    practice.setting = Setting::Practice;
    let mut van = Rig::empty("van", PressureUnit::Kpa);
    van.axles = vec![
        Axle {
            moulded_pressure: Some(kpa(475.0)),
            placard: Some(kpa(300.0)),
            ..weighed(Place::Front, 1, "225/75R16C 116/114R", 1450.0)
        },
        Axle {
            moulded_pressure: Some(kpa(475.0)),
            placard: Some(kpa(400.0)),
            ..weighed(Place::Rear, 1, "225/75R16C 116/114R", 1800.0)
        },
        weighed(Place::Trailer, 2, "ST225/75R15 113/108M D", 2900.0),
    ];
    let mut wagon = Rig::empty("wagon", PressureUnit::Psi);
    wagon.axles = vec![
        weighed(Place::Front, 1, "265/65R17 112S", 1250.0),
        Axle {
            load_from: LoadFrom::Sides,
            left: Some(kg(750.0)),
            right: Some(kg(720.0)),
            own_sealed: Some(psi(36.0)),
            ..weighed(Place::Rear, 1, "265/65R17 112S", 1.0)
        },
        Axle {
            load_from: LoadFrom::Rating,
            rating: Some(kg(1500.0)),
            ..weighed(Place::Trailer, 1, "LT235/75R15 104/101Q C", 1.0)
        },
    ];
    vec![Rig::demo(), practice, van, wagon]
}

fn bare(core: &CoreAxle) -> Bare {
    let p = |p: GaugePressure| p.get::<kilopascal>();
    let maybe = |of: Option<GaugePressure>| of.map_or(0.0, p);
    let shape = core.shape.expect("covered by the slow rule");
    let capacity = &core.capacity;
    assert!(core.wheel_maximum.is_none());
    // The exponent, from the law itself: none of the core's functions gives it.
    let half = capacity.load_minimum(capacity.reference_load_per_tyre() / 2.0);
    let share = half.ratio_to(capacity.reference_pressure_cold());
    Bare {
        reference_load: capacity.reference_load_per_tyre().get::<kilogram>(),
        reference_pressure: p(capacity.reference_pressure_cold()),
        exponent: 0.5_f64.ln() / share.ln(),
        maximum: p(capacity.maximum()),
        lowest_row: p(capacity.lowest_row()),
        tyre_kmh: capacity
            .speed_limit()
            .map_or(f64::INFINITY, |v| v.get::<kilometer_per_hour>()),
        load: core.wheel_load.get::<kilogram>(),
        tyres: f64::from(core.tyres),
        placard: maybe(core.placard),
        own: maybe(core.own_sealed),
        floor: p(core.floor),
        width: shape.section_width().value * 1000.0,
        aspect: 100.0 * (shape.section_height() / shape.section_width()).value,
        rim: shape.rim_diameter().value * 1000.0,
    }
}

fn assert_equal(answer: &Answer, figures: &Figures, what: &str) {
    let p = |p: GaugePressure| p.get::<kilopascal>();
    let held = answer.held;
    let kmh = match answer.speed {
        SpeedLimit::UpTo(speed) => speed.get::<kilometer_per_hour>(),
        SpeedLimit::Posted { tyre } => {
            tyre.map_or(f64::INFINITY, |v| v.get::<kilometer_per_hour>())
        }
    };
    let pairs = [
        ("recommended", p(answer.recommended), figures.recommended),
        ("low", p(answer.low), figures.low),
        ("high", p(answer.high), figures.high),
        ("speed", kmh, figures.kmh),
        ("reserve", 1.0 + answer.reserve, 1.0 + figures.reserve),
        ("load minimum", p(answer.load_minimum), figures.load_minimum),
        ("least", p(answer.least), figures.least),
        ("sealed", p(answer.sealed.pressure), figures.sealed),
        (
            "stiffness model",
            answer.sealed.stiffness_model.map_or(f64::NAN, p),
            figures.stiffness,
        ),
        (
            "band's low end",
            answer.band.map_or(f64::NAN, |(low, _)| p(low)),
            figures.band.0,
        ),
        (
            "band's high end",
            answer.band.map_or(f64::NAN, |(_, high)| p(high)),
            figures.band.1,
        ),
        (
            "reachable",
            held.map_or(f64::NAN, |held| p(held.reachable)),
            figures.reachable,
        ),
        (
            "slow",
            held.and_then(|held| held.slow).map_or(f64::NAN, p),
            figures.slow,
        ),
        (
            "shed",
            held.map_or(f64::NAN, |held| held.shed.get::<kilogram>()),
            figures.shed,
        ),
    ];
    for (name, core, plain) in pairs {
        let same = core == plain
            || (core.is_nan() && plain.is_nan())
            || (core - plain).abs() <= 1e-7 * plain.abs().max(1.0);
        assert!(same, "{what}: {name}: {core} by the core, {plain} plain");
    }
}

/// Least nanoseconds of one `run`, of many: what else the machine does only
/// adds.
fn least(mut run: impl FnMut()) -> f64 {
    const TURNS: u32 = 200;
    let began = Instant::now();
    for _ in 0..TURNS {
        run();
    }
    began.elapsed().as_nanos() as f64 / f64::from(TURNS)
}

/// The two, in turns, so that a noisy machine disturbs both alike: the least of
/// each.
fn beside(mut core: impl FnMut(), mut plain: impl FnMut()) -> (f64, f64) {
    const ROUNDS: u32 = 400;
    let mut best = (f64::INFINITY, f64::INFINITY);
    for _ in 0..ROUNDS {
        best.0 = best.0.min(least(&mut core));
        best.1 = best.1.min(least(&mut plain));
    }
    best
}

fn main() -> ExitCode {
    let rigs = rigs();
    let understood: Vec<Vec<CoreAxle>> = rigs
        .iter()
        .map(|rig| {
            let axles = rig.axles.iter();
            axles
                .map(|axle| rig.understand(axle).expect("understood").axle)
                .collect()
        })
        .collect();
    let bares: Vec<Vec<Bare>> = understood
        .iter()
        .map(|axles| axles.iter().map(bare).collect())
        .collect();
    let step = |rig: &Rig| rig.unit.step().size().get::<kilopascal>();
    let holds = |rig: &Rig| rig.setting == Setting::HoldToTables;

    let mut answers = 0;
    for ((rig, axles), bares) in rigs.iter().zip(&understood).zip(&bares) {
        for (at, surface) in Surface::ALL.into_iter().enumerate() {
            for (axle, bare) in axles.iter().zip(bares) {
                let what = format!("{} {surface:?} {}", rig.name, bare.load);
                let answer = axle
                    .on(surface, surface.band(), rig.setting, rig.unit.step())
                    .unwrap_or_else(|refusal| panic!("{what}: {refusal:?}"));
                assert_equal(&answer, &bare.figures(at, holds(rig), step(rig)), &what);
                answers += 1;
            }
        }
    }

    println!(
        "{answers} answers of {} rigs, equal to plain formulas",
        rigs.len()
    );
    // `cargo test` has no use for times: it builds in another way.
    if !std::env::args().any(|argument| argument == "--bench") {
        return ExitCode::SUCCESS;
    }

    let plain = |rig: &Rig, bares: &[Bare]| {
        for bare in bares {
            for at in 0..Surface::ALL.len() {
                black_box(&black_box(bare).figures(at, holds(rig), step(rig)));
            }
        }
    };
    let decision = beside(
        || {
            for (rig, axles) in rigs.iter().zip(&understood) {
                for axle in axles {
                    for surface in Surface::ALL {
                        let step = rig.unit.step();
                        black_box(&black_box(axle).on(surface, surface.band(), rig.setting, step));
                    }
                }
            }
        },
        || {
            rigs.iter()
                .zip(&bares)
                .for_each(|(rig, bares)| plain(rig, bares))
        },
    );
    let whole = beside(
        || {
            for rig in &rigs {
                let understood = black_box(rig).understood();
                for surface in Surface::ALL {
                    for index in 0..rig.axles.len() {
                        black_box(&understood.on(index, surface));
                    }
                }
            }
        },
        || {
            rigs.iter()
                .zip(&bares)
                .for_each(|(rig, bares)| plain(rig, bares))
        },
    );

    let mut failed = false;
    for (what, (core, plain), goal) in [
        ("the decision", decision, DECISION),
        ("whole rigs, all surfaces", whole, WHOLE_RIG),
    ] {
        let each = f64::from(answers);
        let ratio = core / plain;
        println!(
            "{what}: {:.0} ns an answer, plain {:.0} ns: {ratio:.2} times (goal {goal})",
            core / each,
            plain / each,
        );
        failed |= ratio > goal;
    }
    ExitCode::from(u8::from(failed))
}
