//! Properties of the pressure core over random rigs.
//!
//! The generators read the table of limits, and each property runs over at
//! least [`RIGS`] rigs. What the core calls on a mark (a billionth of a gauge
//! step, see `GaugePressure::round_up`) is the only slack given to rounding.

#![cfg(not(target_arch = "wasm32"))]

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use proptest::strategy::ValueTree;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use tyreside::calc::footprint::TyreGeometry;
use tyreside::calc::limits::{Field, LIMITS};
use tyreside::calc::load::{AxleGroup, LoadSource};
use tyreside::calc::pressure::{
    Answer, Axle, Caution, Decided, Held, Judged, OwnRefused, Refusal, Sealed, SealedReason,
    Setting, SpeedLimit,
};
use tyreside::calc::quantity::{
    GaugePressure, GaugeStep, Mass, Velocity, inch, kilogram, kilometer_per_hour, kilopascal,
    millimeter,
};
use tyreside::calc::regime::SlowRule;
use tyreside::calc::surface::{Band, Surface};
use tyreside::calc::tyre::capacity::{Capacity, Fitment, Moulded, Vehicle};
use tyreside::calc::tyre::designation::{Designation, Standard};

/// Rigs per property.
const RIGS: u32 = 100_000;

/// Relative room for floating point.
const TINY: f64 = 1e-9;

fn rigs() -> ProptestConfig {
    ProptestConfig {
        cases: RIGS,
        max_local_rejects: 100 * RIGS,
        max_global_rejects: 100 * RIGS,
        // No regression files: a failure prints the whole rig.
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

fn kpa(value: f64) -> GaugePressure {
    GaugePressure::new::<kilopascal>(value)
}

fn kg(value: f64) -> Mass {
    Mass::new::<kilogram>(value)
}

fn kmh(value: f64) -> Velocity {
    Velocity::new::<kilometer_per_hour>(value)
}

/// What rounding to a mark may take off.
fn snap(step: GaugeStep) -> GaugePressure {
    step.size().scaled(1.001e-9)
}

/// A value that the table of limits accepts, its ends more often than chance.
///
/// Here and below choices are mapped from a number: unions of strategies
/// carry a copy of the runner with each value, which took most of the time.
fn within(field: Field) -> impl Strategy<Value = f64> + Clone {
    let limit = field.limit();
    (0_u8..20, limit.min..=limit.max).prop_map(move |(end, value)| match end {
        0 => limit.min,
        1 => limit.max,
        _ => value,
    })
}

fn pressure(field: Field) -> impl Strategy<Value = GaugePressure> + Clone {
    within(field).prop_map(kpa)
}

/// Present in one of four.
fn sometimes<T: std::fmt::Debug>(
    strategy: impl Strategy<Value = T>,
) -> impl Strategy<Value = Option<T>> {
    (0_u8..4, strategy).prop_map(|(chance, value)| (chance == 0).then_some(value))
}

/// Absent in one of four.
fn mostly<T: std::fmt::Debug>(
    strategy: impl Strategy<Value = T>,
) -> impl Strategy<Value = Option<T>> {
    (0_u8..4, strategy).prop_map(|(chance, value)| (chance != 0).then_some(value))
}

const SYMBOLS: &[&str] = &[
    "", "A1", "A8", "B", "C", "D", "E", "F", "G", "J", "K", "L", "M", "N", "P", "Q", "R", "S", "T",
    "U", "H", "V", "W", "Y",
];

/// A designation as its parts, which only blanks may stand between: any of
/// the four families, any load range, with or without load indices.
fn parts() -> impl Strategy<Value = Vec<String>> {
    select(FAMILIES.concat()).prop_flat_map(parts_of)
}

type Marks = [&'static str; 2];

/// What stands before and behind the size, by family.
const FAMILIES: [&[Marks]; 6] = [
    &[["LT", ""], ["", "LT"]],
    &[["ST", ""]],
    &[["", "C"]],
    &[["", "CP"]],
    &[["P", ""]],
    &[["", ""]],
];

fn parts_of([before, behind]: Marks) -> impl Strategy<Value = Vec<String>> {
    let passenger = behind.is_empty() && matches!(before, "P" | "");
    let size = (
        // Passenger tyres have hardly any other size.
        (0_u8..4).prop_map(move |form| if before == "P" { form / 3 } else { form }),
        within(Field::SectionWidth),
        within(Field::AspectRatio),
        // Larger than any rim.
        27.0..=50.0_f64,
        within(Field::SectionWidthInches),
    )
        .prop_map(|(form, width, aspect, diameter, inches)| match form {
            0 => (format!("{width:.0}/{aspect:.0}"), width, aspect),
            1 => (format!("{width:.0}"), width, 82.0),
            2 => (format!("{diameter:.0}x{inches:.2}"), inches * 25.4, 75.0),
            _ => (format!("{inches:.2}"), inches * 25.4, 90.0),
        });
    // Any index at all would be out of tune with nearly every passenger size.
    let index = (0_u8..4, 0.7..1.3_f64, 0_u32..=200);
    let service = (index, 0_u32..=5, any::<bool>(), select(SYMBOLS));
    let range = select(vec![
        "", "LR B", "LR C", "LR D", "LR E", "LR F", "LR G", "10PR",
    ]);
    (
        size,
        within(Field::RimDiameter),
        mostly(service),
        range,
        any::<bool>(),
    )
        .prop_map(move |((size, width, aspect), rim, service, range, extra)| {
            let mut parts = vec![before.to_owned()];
            let extra = extra && before != "LT" && before != "ST";
            let usual = usual_index(width, aspect, rim.round(), passenger, extra);
            // A blank may stand beside a stroke or a cross.
            let mut number = String::new();
            for c in size.chars() {
                if matches!(c, '/' | 'x') {
                    parts.extend([std::mem::take(&mut number), c.to_string()]);
                } else {
                    number.push(c);
                }
            }
            parts.extend([
                number,
                "R".to_owned(),
                format!("{rim:.0}"),
                behind.to_owned(),
            ]);
            if let Some(((chance, share, any), less, dual, symbol)) = service {
                let off = 24.0 * share.log2() * if passenger { 0.2 } else { 1.0 };
                let single = if chance == 0 {
                    any
                } else {
                    (usual + off).clamp(0.0, 131.0).round() as u32
                };
                // Starts with a blank: digits would run together with the rim.
                parts.push(format!(" {single}"));
                if dual {
                    parts.extend(["/".to_owned(), single.saturating_sub(less).to_string()]);
                }
                parts.push(format!("\u{0}{symbol}"));
            }
            // A blank before, so that no letter joins the last number.
            parts.push(format!(" {range}"));
            if extra {
                parts.push(" XL".to_owned());
            }
            parts
        })
}

/// About the load index of a size, so that most designations are in tune with
/// themselves: the P-metric standard's load formula (as restated by a tyre
/// engineer, eng-tips FAQ 108-1148, 2005), a seventh more for extra load, twice
/// as much for the families of higher pressure. A load doubles in 24 indices.
fn usual_index(width: f64, aspect: f64, rim: f64, passenger: bool, extra: bool) -> f64 {
    let section = (0.348_48 + 0.6497 * aspect / 100.0) * width;
    let kg = 6.67e-5 * 240_f64.sqrt() * section.powf(1.39) * (rim * 25.4 + section);
    let kg = kg * if passenger { 1.0 } else { 1.6 } * if extra { 1.15 } else { 1.0 };
    80.0 + 24.0 * (kg / 450.0).log2()
}

/// The parts as a sidewall has them: a speed symbol straight behind its index.
fn moulded_text(parts: &[String]) -> String {
    parts.concat().replace('\u{0}', "")
}

fn fitment() -> impl Strategy<Value = Fitment> {
    select(vec![Fitment::Single, Fitment::Dual])
}

fn vehicle() -> impl Strategy<Value = Vehicle> {
    select(vec![Vehicle::PassengerCar, Vehicle::Other])
}

fn moulded() -> impl Strategy<Value = Moulded> {
    (
        sometimes(within(Field::ReferenceLoad)),
        sometimes(within(Field::ReferenceLoad)),
        mostly(pressure(Field::ReferencePressure)),
        sometimes(pressure(Field::SidewallMinimum)),
    )
        .prop_map(|(single, dual, pressure, minimum)| Moulded {
            load_single: single.map(kg),
            load_dual: dual.map(kg),
            pressure,
            minimum,
        })
}

/// A tyre that the core accepts, with the text it came from.
#[derive(Debug, Clone)]
struct Tyre {
    text: String,
    standard: Standard,
    fitment: Fitment,
    capacity: Capacity,
    shape: Option<TyreGeometry>,
}

/// What the rest of the sidewall says, in tune with the designation, as most
/// sidewalls are: contradictions are for the tests beside the core.
///
/// The family is drawn first and kept until the core accepts one of it: drawn
/// anew each time, passenger tyres were half a hundredth of all.
fn tyre() -> impl Strategy<Value = Tyre> {
    (0..FAMILIES.len()).prop_flat_map(|family| tyre_of(FAMILIES[family]))
}

fn tyre_of(family: &'static [Marks]) -> impl Strategy<Value = Tyre> {
    let shares = (sometimes(0.96..1.04_f64), sometimes(0.3..1.0_f64));
    (
        (0..family.len()).prop_flat_map(move |which| parts_of(family[which])),
        shares,
        within(Field::ReferenceLoad),
        mostly(pressure(Field::ReferencePressure)),
        fitment(),
        vehicle(),
    )
        .prop_filter_map(
            "the core accepts it",
            |(parts, (of_load, of_pressure), load, pressure, fitment, vehicle)| {
                let text = moulded_text(&parts);
                let designation = Designation::parse(&text).ok()?;
                let index = match fitment {
                    Fitment::Single => designation.service.map(|s| s.single),
                    Fitment::Dual => designation.service.and_then(|s| s.dual),
                };
                let load = match index {
                    Some(index) => of_load.map(|share| index.load() * share),
                    None => Some(kg(load)),
                };
                // Most of what other families hold is more than they may.
                let passenger = designation.standard == Standard::Passenger;
                let pressure = pressure.map(|p| {
                    let above = p - kpa(200.0);
                    if passenger {
                        kpa(200.0) + above.scaled(0.19)
                    } else {
                        p
                    }
                });
                let least = Field::SidewallMinimum.limit();
                let moulded = Moulded {
                    load_single: load.filter(|_| fitment == Fitment::Single),
                    load_dual: load.filter(|_| fitment == Fitment::Dual),
                    pressure,
                    minimum: of_pressure
                        .and_then(|share| Some(pressure?.scaled(share)))
                        .map(|p| p.max(kpa(least.min)).min(kpa(least.max))),
                };
                Some(Tyre {
                    standard: designation.standard,
                    fitment,
                    capacity: Capacity::new(&designation, &moulded, fitment, vehicle).ok()?,
                    shape: TyreGeometry::of(&designation)
                        .ok()
                        .filter(|_| fitment == Fitment::Single),
                    text,
                })
            },
        )
}

/// Mostly the least, as on nearly every rig: a higher one decides on most
/// soft ground.
fn floor() -> impl Strategy<Value = GaugePressure> {
    (0_u8..3, pressure(Field::Floor)).prop_map(|(chance, floor)| match chance {
        0 => floor,
        _ => kpa(Field::Floor.limit().min),
    })
}

/// A pressure that can be entered, mostly within what an axle may hold.
#[derive(Debug, Clone, Copy)]
enum Figure {
    Any(GaugePressure),
    Share(f64),
}

fn figure(field: Field) -> impl Strategy<Value = Figure> {
    (0_u8..8, pressure(field), 0.2..1.02_f64).prop_map(|(chance, any, share)| match chance {
        0 => Figure::Any(any),
        _ => Figure::Share(share),
    })
}

impl Figure {
    fn of(self, field: Field, most: GaugePressure) -> GaugePressure {
        let limit = field.limit();
        match self {
            Self::Any(any) => any,
            Self::Share(share) => most.scaled(share).max(kpa(limit.min)).min(kpa(limit.max)),
        }
    }
}

/// A load on a group of axles that suits a tyre: anything from the least that
/// can be entered to more than the tyres carry.
fn axle() -> impl Strategy<Value = (Tyre, Axle)> {
    (
        tyre(),
        1_u8..=AxleGroup::MOST_AXLES,
        0.0..=1.0_f64,
        0_usize..3,
        within(Field::UnevenLoad),
        sometimes(figure(Field::PlacardPressure)),
        sometimes(pressure(Field::WheelMaximum)),
        (any::<bool>(), figure(Field::OwnSealedPressure)),
        (floor(), slow_rule()),
    )
        .prop_map(
            |(
                tyre,
                axles,
                share,
                source,
                uneven,
                placard,
                wheel_maximum,
                own_sealed,
                (floor, slow),
            )| {
                let group = AxleGroup::new(axles, tyre.fitment);
                let capacity = tyre.capacity;
                let most = wheel_maximum.map_or(capacity.maximum(), |w| w.min(capacity.maximum()));
                let placard = placard.map(|figure| figure.of(Field::PlacardPressure, most));
                let (has_own, own) = own_sealed;
                let own_sealed = has_own.then(|| own.of(Field::OwnSealedPressure, most));
                let target = capacity.carries(most).get::<kilogram>() * share;
                let mass = |field: Field, tyres: u8| {
                    let limit = field.limit();
                    kg((target * f64::from(tyres)).clamp(limit.min, limit.max))
                };
                let source = match source {
                    0 => LoadSource::Sides {
                        left: mass(Field::SideMass, group.tyres() / 2),
                        right: kg(Field::SideMass.limit().min),
                    },
                    1 => LoadSource::Weighed(mass(Field::AxleMass, group.tyres())),
                    _ => LoadSource::Rating(mass(Field::AxleMass, group.tyres())),
                };
                let wheel_load = source.wheel_load(group, uneven).expect("within limits");
                let axle = Axle {
                    capacity,
                    wheel_load,
                    tyres: group.tyres(),
                    placard,
                    wheel_maximum,
                    own_sealed,
                    floor,
                    needs_makers_figure: false,
                    shape: tyre.shape,
                    slow,
                };
                (tyre, axle)
            },
        )
}

fn band() -> impl Strategy<Value = Band> + Clone {
    let share = || within(Field::BandShare);
    (share(), share(), within(Field::BandSpeed))
        .prop_map(|(a, b, speed)| Band::new(a.min(b), a.max(b), kmh(speed)).expect("within limits"))
}

/// Common practice in three of four.
fn slow_rule() -> impl Strategy<Value = SlowRule> + Clone {
    let of = (within(Field::SlowDeflection), within(Field::SlowLoadShare));
    (0_u8..4, of).prop_map(|(chance, (deflection, share))| {
        if chance == 0 {
            SlowRule::new(deflection, share).expect("within limits")
        } else {
            SlowRule::default()
        }
    })
}

/// Any, and more often those of which the slow rule decides.
fn surface() -> impl Strategy<Value = Surface> + Clone {
    let soft = [Surface::Sand, Surface::Bogged, Surface::Bogged];
    select([&Surface::ALL[..], &soft].concat())
}

fn setting() -> impl Strategy<Value = Setting> {
    select(vec![Setting::HoldToTables, Setting::Practice])
}

fn step() -> impl Strategy<Value = GaugeStep> {
    select(vec![GaugeStep::one_psi(), GaugeStep::five_kilopascals()])
}

/// A random rig on a random surface.
#[derive(Debug, Clone)]
struct Case {
    tyre: Tyre,
    axle: Axle,
    surface: Surface,
    band: Option<Band>,
    setting: Setting,
    step: GaugeStep,
}

impl Case {
    fn answer(&self) -> Result<Answer, Refusal> {
        self.with(self.axle)
    }

    fn with(&self, axle: Axle) -> Result<Answer, Refusal> {
        axle.on(self.surface, self.band, self.setting, self.step)
    }

    fn snap(&self) -> GaugePressure {
        snap(self.step)
    }

    /// The speed that the answer is for.
    fn speed(&self, answer: &Answer) -> Velocity {
        match answer.speed {
            SpeedLimit::UpTo(speed) => speed,
            SpeedLimit::Posted { .. } => kmh(80.0),
        }
    }

    /// The least pressure for the load at a speed, worked out again from what
    /// the rule says: kilopascals.
    fn least(&self, speed: Velocity) -> f64 {
        let axle = &self.axle;
        let load = axle.wheel_load.get::<kilogram>();
        let tables = axle
            .capacity
            .load_minimum(axle.wheel_load)
            .get::<kilopascal>();
        // Metres per second and back may put 40 km/h a hair above itself.
        let kmh = speed.get::<kilometer_per_hour>() - 1e-6;
        let Some(shape) = axle.shape.filter(|_| kmh < 40.0) else {
            return tables;
        };
        let width = shape.section_width().get::<millimeter>();
        let height = shape.section_height().get::<millimeter>();
        let rim = shape.rim_diameter().get::<inch>() * 25.4;
        let inside = (1.03 - 0.4 * height / width) * width * (2.0 * height + rim);
        let most = (axle.slow.deflection() * height).min(0.15 * (rim / 2.0 + height));
        let pressed = ((load / most - 3.45) / (0.00028 * inside.sqrt())).max(80.0);
        // The model's end, but for rounding.
        if pressed > 700.0 * (1.0 + 1e-9) {
            return tables;
        }
        let share = if kmh < 10.0 {
            0.0
        } else {
            axle.slow.load_share() * tables
        };
        pressed.max(share).min(tables)
    }

    /// How far the tyre is pressed in, of its section height.
    fn deflection(&self, pressure: GaugePressure) -> Option<f64> {
        let shape = self.axle.shape?;
        let stiffness = shape.stiffness(pressure).kilogram_force_per_millimetre();
        let height = shape.section_height().get::<millimeter>();
        Some(self.axle.wheel_load.get::<kilogram>() / stiffness / height)
    }
}

fn case() -> impl Strategy<Value = Case> {
    case_by(setting())
}

fn case_by(setting: impl Strategy<Value = Setting>) -> impl Strategy<Value = Case> {
    (axle(), surface(), sometimes(band()), setting, step()).prop_map(
        |((tyre, axle), surface, own_band, setting, step)| Case {
            tyre,
            axle,
            surface,
            band: own_band.or(surface.band()),
            setting,
            step,
        },
    )
}

/// Cases that are answered.
fn answered() -> impl Strategy<Value = (Case, Answer)> {
    answered_by(setting())
}

fn answered_by(setting: impl Strategy<Value = Setting>) -> impl Strategy<Value = (Case, Answer)> {
    case_by(setting).prop_filter_map("the core answers", |case| {
        let answer = case.answer().ok()?;
        Some((case, answer))
    })
}

/// Answers of rigs that are set to hold to the load.
fn to_the_load() -> impl Strategy<Value = (Case, Answer)> {
    answered_by(Just(Setting::HoldToTables))
}

/// Cases that the load holds above their band.
fn held() -> impl Strategy<Value = (Case, Answer, Held)> {
    to_the_load().prop_filter_map("held by the load", |(case, answer)| {
        let held = answer.held?;
        Some((case, answer, held))
    })
}

/// Any number at all: ordinary ones, and every kind that is none.
fn any_number() -> impl Strategy<Value = f64> {
    use proptest::num::f64::ANY;
    (0_u8..3, -1e3..1e5_f64, ANY)
        .prop_map(|(chance, usual, any)| if chance == 0 { any } else { usual })
}

/// Every figure of an answer, by name.
fn figures(answer: &Answer) -> Vec<(&'static str, f64)> {
    let p = |p: GaugePressure| p.get::<kilopascal>();
    let v = |v: Velocity| v.get::<kilometer_per_hour>();
    // Whole patterns: a new field must be looked at here.
    let Answer {
        recommended,
        low,
        high,
        speed,
        reserve,
        decided: _,
        band,
        load_minimum,
        least,
        held,
        sealed,
        cautions,
    } = answer;
    let Sealed {
        pressure,
        load_minimum: sealed_minimum,
        reason: _,
        maximum,
        own_refused,
        stiffness_model,
    } = sealed;
    let mut all = vec![
        ("recommended", p(*recommended)),
        ("low", p(*low)),
        ("high", p(*high)),
        ("reserve", *reserve),
        ("load minimum", p(*load_minimum)),
        ("least", p(*least)),
        ("sealed", p(*pressure)),
        ("sealed load minimum", p(*sealed_minimum)),
        ("maximum", p(*maximum)),
    ];
    match speed {
        SpeedLimit::UpTo(speed) => all.push(("speed", v(*speed))),
        SpeedLimit::Posted { tyre } => all.extend(tyre.map(|t| ("tyre speed", v(t)))),
    }
    if let Some((low, high)) = band {
        all.extend([("band low", p(*low)), ("band high", p(*high))]);
    }
    all.extend(stiffness_model.map(|s| ("stiffness model", p(s))));
    match own_refused {
        Some(OwnRefused::BelowLoadMinimum(by) | OwnRefused::BelowFloor(by)) => {
            all.push(("own refused by", p(*by)))
        }
        None => {}
    }
    if let Some(Held {
        reachable,
        slow,
        shed,
    }) = held
    {
        all.push(("band middle", p(*reachable)));
        all.push(("shed", shed.get::<kilogram>()));
        all.extend(slow.map(|slow| ("slow instead", p(slow))));
    }
    for caution in cautions {
        match caution {
            Caution::BelowLowestRow(at) | Caution::BelowPlacard(at) | Caution::SlowOnly(at) => {
                all.push(("caution", p(*at)));
            }
            Caution::LeastOnly(model) => all.extend(model.map(|m| ("stiffness model", p(m)))),
            Caution::Overloaded { tables, slow } => {
                all.push(("caution", p(*tables)));
                all.extend(slow.map(|slow| ("caution", p(slow))));
            }
            Caution::PumpUpBeforeSealed
            | Caution::CheckSidewallHeat
            | Caution::NoSharpSteering
            | Caution::OutThenPumpUp
            | Caution::Doubted(_)
            | Caution::SpeedSymbolUnknown => {}
        }
    }
    all
}

/// Every figure is a number, and none but the reserve is negative.
fn finite(answer: &Answer) -> Result<(), TestCaseError> {
    for (name, value) in figures(answer) {
        prop_assert!(value.is_finite(), "{name}: {value}");
        prop_assert!(value >= 0.0 || name == "reserve", "{name}: {value}");
    }
    Ok(())
}

/// The properties below would hold emptily over rigs that all end one way.
#[test]
fn random_rigs_end_in_every_way() {
    let random = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(rigs(), random);
    let strategy = case();
    let mut seen = std::collections::BTreeMap::<String, u32>::new();
    for _ in 0..20_000 {
        let case = strategy.new_tree(&mut runner).expect("a case").current();
        let mut saw = |what: String| *seen.entry(what).or_default() += 1;
        assert!(!case.tyre.text.is_empty());
        saw(format!("{:?} {:?}", case.tyre.standard, case.tyre.fitment));
        match case.answer() {
            Ok(answer) => {
                saw("answered".into());
                saw(format!("{:?}", answer.decided));
                if let Some(held) = answer.held {
                    let slow = if held.slow.is_some() {
                        "slow will do"
                    } else {
                        "no other"
                    };
                    saw(format!("held, {slow}"));
                }
                for caution in &answer.cautions {
                    match caution {
                        Caution::SlowOnly(_) => saw("slow only".into()),
                        Caution::Overloaded { .. } => saw("overloaded at this pressure".into()),
                        _ => {}
                    }
                }
                let usual = case.band.map(|band| band.speed());
                if usual.is_some_and(|usual| answer.speed != SpeedLimit::UpTo(usual)) {
                    saw("slower than the band".into());
                }
            }
            Err(refusal) => {
                let text = format!("{refusal:?}");
                let name = text.split([' ', '(']).next().unwrap_or_default();
                saw(name.to_owned());
            }
        }
    }
    println!("{seen:#?}");
    let mut expected: Vec<String> = ["Band", "Tables", "Deflection", "LoadShare", "Floor"]
        .map(String::from)
        .to_vec();
    for reason in ["LoadMinimum", "Placard", "LowestRow", "Floor", "Own"] {
        expected.push(format!("Sealed({reason})"));
    }
    for standard in ["LightTruck", "SpecialTrailer", "Commercial", "Passenger"] {
        expected.push(format!("{standard} Single"));
        expected.push(format!("{standard} Dual"));
    }
    expected.extend(
        [
            "held, slow will do",
            "held, no other",
            "slow only",
            "overloaded at this pressure",
            "slower than the band",
            "Overloaded",
            "PlacardAboveMaximum",
            "FloorAboveMaximum",
        ]
        .map(String::from),
    );
    for what in expected {
        let count = seen.get(&what).copied().unwrap_or(0);
        assert!(count >= 20, "{what}: {count} of 20,000");
    }
    assert!(seen["answered"] >= 12_000, "{}", seen["answered"]);
    // Families are drawn evenly, and two of five are commercial.
    for standard in ["LightTruck", "SpecialTrailer", "Commercial", "Passenger"] {
        let count: u32 = seen
            .iter()
            .filter(|(what, _)| what.starts_with(standard))
            .map(|(_, count)| count)
            .sum();
        assert!(count >= 3_000, "{standard}: {count}");
    }
}

proptest! {
    #![proptest_config(rigs())]

    #[test]
    fn prop_more_load_never_asks_less(case in case(), more in 1.0..1.5_f64) {
        let heavier = case.with(Axle { wheel_load: case.axle.wheel_load * more, ..case.axle });
        match (case.answer(), heavier) {
            (Ok(light), Ok(heavy)) => {
                prop_assert!(heavy.load_minimum >= light.load_minimum);
                prop_assert!(heavy.sealed.load_minimum >= light.sealed.load_minimum);
                prop_assert!(heavy.sealed.pressure >= light.sealed.pressure - case.snap());
                prop_assert!(heavy.recommended >= light.recommended - case.snap());
            }
            (Err(_), Ok(_)) => prop_assert!(false, "refused light, answered heavy"),
            (_, Err(_)) => {}
        }
    }

    #[test]
    fn prop_more_speed_never_asks_less(
        case in case(),
        band in band(),
        speeds in (within(Field::BandSpeed), within(Field::BandSpeed)),
    ) {
        let (low, high) = band.shares().expect("shares");
        let at = |speed| {
            let band = Band::new(100.0 * low, 100.0 * high, kmh(speed)).ok();
            Case { band, ..case.clone() }.answer()
        };
        let (slow, fast) = (speeds.0.min(speeds.1), speeds.0.max(speeds.1));
        prop_assert!(case.axle.least_at(kmh(fast)) >= case.axle.least_at(kmh(slow)));
        prop_assert!(case.least(kmh(fast)) >= case.least(kmh(slow)));
        match (at(slow), at(fast)) {
            (Ok(slow), Ok(fast)) => {
                prop_assert!(fast.least >= slow.least);
                prop_assert!(fast.recommended >= slow.recommended);
                prop_assert_eq!(fast.sealed, slow.sealed);
            }
            (slow, fast) => prop_assert_eq!(slow, fast),
        }
    }

    #[test]
    fn prop_more_placard_or_floor_never_asks_less(
        case in case(),
        placards in (pressure(Field::PlacardPressure), pressure(Field::PlacardPressure)),
        floors in (pressure(Field::Floor), pressure(Field::Floor)),
    ) {
        let with = |placard, floor| case.with(Axle { placard, floor, ..case.axle });
        let less = with(None, floors.0.min(floors.1));
        let some = with(Some(placards.0.min(placards.1)), floors.0.min(floors.1));
        let more = with(Some(placards.0.max(placards.1)), floors.0.max(floors.1));
        if let (Ok(less), Ok(some)) = (less, &some) {
            prop_assert!(some.recommended >= less.recommended - case.snap());
        }
        if let (Ok(some), Ok(more)) = (some, more) {
            prop_assert!(more.recommended >= some.recommended - case.snap());
        }
    }

    #[test]
    fn prop_never_above_the_maximum_nor_below_the_floor((case, answer) in answered()) {
        let (maximum, _) = case.axle.maximum();
        // A camper tyre's vehicle maker may ask for more than is moulded.
        let wheel = case.axle.wheel_maximum.filter(|_| case.axle.capacity.is_camper());
        prop_assert!(maximum <= wheel.unwrap_or(case.axle.capacity.maximum()));
        prop_assert_eq!(answer.sealed.maximum, maximum);
        for p in [answer.recommended, answer.low, answer.high, answer.sealed.pressure] {
            prop_assert!(p <= maximum, "{p:?} above {maximum:?}");
            prop_assert!(p >= case.axle.floor - case.snap(), "{p:?} below the floor");
        }
    }

    #[test]
    fn prop_range_stands_in_order((case, answer) in answered()) {
        prop_assert!(answer.low <= answer.recommended && answer.recommended <= answer.high);
        prop_assert!(answer.recommended <= answer.sealed.pressure.round_up(case.step));
        // In whole gauge steps off sealed road, unless the maximum is on none.
        let whole = |p: GaugePressure| {
            let steps = p.ratio_to(case.step.size());
            (steps - steps.round()).abs() < 1e-9
        };
        if !matches!(answer.decided, Decided::Sealed(_)) {
            for p in [answer.low, answer.recommended, answer.high] {
                prop_assert!(
                    whole(p) || p.round_up(case.step) > answer.sealed.maximum,
                    "{p:?} is on no step"
                );
            }
        }
        // No speed is promised beyond the tyre's or the band's.
        if let SpeedLimit::UpTo(speed) = answer.speed {
            prop_assert!(case.axle.capacity.speed_limit().is_none_or(|limit| speed <= limit));
            prop_assert!(case.band.is_some_and(|band| speed <= band.speed()));
        }
    }

    #[test]
    fn prop_held_to_the_load_never_below_what_it_asks((case, answer) in to_the_load()) {
        let speed = case.speed(&answer);
        // Held, the speed is the band's or the tyre's.
        let usual = case.band.map_or(speed, |band| {
            let limit = case.axle.capacity.speed_limit();
            limit.filter(|limit| *limit < band.speed()).unwrap_or(band.speed())
        });
        prop_assert!(case.surface == Surface::Sealed || speed == usual);
        let least = kpa(case.least(speed));
        prop_assert!((answer.least.ratio_to(least) - 1.0).abs() < 1e-6, "{least:?}");
        for p in [answer.recommended, answer.low, answer.high] {
            prop_assert!(
                p >= least.scaled(1.0 - 1e-6) - case.snap(),
                "{p:?} under {least:?}"
            );
        }
        // A snap of the pressure is less than as much of the load.
        let slack = TINY + case.snap().ratio_to(answer.recommended);
        prop_assert!(answer.reserve >= -slack, "{}", answer.reserve);
    }

    /// At every step from the low to the high end, at the speed shown.
    #[test]
    fn prop_what_is_shown_holds_over_the_whole_range_shown((case, answer) in answered()) {
        let speed = case.speed(&answer);
        let least = kpa(case.least(speed));
        let overloaded = answer.cautions.iter().any(|c| matches!(c, Caution::Overloaded { .. }));
        let mut p = answer.low;
        while p <= answer.high {
            let holds = p >= least.scaled(1.0 - 1e-6) - case.snap();
            prop_assert!(holds || overloaded, "{p:?} under {least:?} at {speed:?}");
            if let Some(deflection) = case.deflection(p).filter(|_| !overloaded) {
                // Beyond only where the tables themselves allow it.
                prop_assert!(
                    deflection <= case.axle.slow.deflection().max(0.3) * (1.0 + 1e-6)
                        || p >= answer.load_minimum.scaled(1.0 - TINY) - case.snap(),
                    "pressed in by {deflection}"
                );
            }
            p = p + case.step.size();
        }
        prop_assert!(!overloaded || case.setting == Setting::Practice);
        let lower = answer.low < answer.load_minimum.scaled(1.0 - TINY) - case.snap();
        let said = answer.cautions.iter().any(|c| matches!(c, Caution::SlowOnly(_)));
        prop_assert!(!lower || said || overloaded);
        if said {
            prop_assert!(speed <= kmh(40.0 + 1e-9));
        }
    }

    #[test]
    fn prop_slow_never_asks_more_than_road_speed((case, answer) in answered()) {
        let Some((low, high)) = case.band.and_then(Band::shares) else {
            return Ok(());
        };
        let at = |speed| {
            let band = Band::new(100.0 * low, 100.0 * high, kmh(speed)).ok();
            let setting = Setting::HoldToTables;
            Case { band, setting, ..case.clone() }.answer().expect("answered before")
        };
        let (crawl, slow, road) = (at(10.0), at(40.0), at(80.0));
        prop_assert!(crawl.recommended <= slow.recommended);
        prop_assert!(slow.recommended <= road.recommended);
        prop_assert!(road.recommended <= answer.sealed.pressure.round_up(case.step));
        // What is said to do instead is what is then given.
        if let Some(instead) = road.held.and_then(|held| held.slow) {
            let limit = case.axle.capacity.speed_limit();
            if limit.is_none_or(|limit| limit > kmh(40.0)) {
                prop_assert_eq!(instead, slow.recommended);
            }
            prop_assert!(instead < road.recommended);
        }
    }

    #[test]
    fn prop_a_persons_own_is_judged_as_the_answer_would_be(
        (case, answer) in answered(),
        own in pressure(Field::BandPressure),
    ) {
        let band = case.band.filter(|_| case.surface != Surface::Sealed);
        let judged = case.axle.judge(own, case.surface, case.band, case.step);
        let judged = judged.expect("answered before");
        let usual = match answer.speed {
            SpeedLimit::UpTo(_) => {
                let band = band.expect("off sealed road").speed();
                let limit = case.axle.capacity.speed_limit();
                limit.filter(|limit| *limit < band).unwrap_or(band)
            }
            SpeedLimit::Posted { .. } => kmh(80.0),
        };
        let holds = |speed| own >= kpa(case.least(speed)).scaled(1.0 - 1e-6);
        let short = |speed| own < kpa(case.least(speed)).scaled(1.0 + 1e-6);
        match judged {
            Judged::Usual { reserve, .. } => prop_assert!(holds(usual) && reserve > -1e-6),
            Judged::Slower { up_to, needed } => {
                prop_assert!(holds(up_to) && short(usual) && up_to < usual);
                prop_assert!(needed.pressure >= own && needed.shed >= kg(0.0));
            }
            Judged::TooLow { slow, needed } => {
                prop_assert!(short(usual));
                if case.surface != Surface::Sealed {
                    prop_assert!(short(kmh(10.0).min(usual)));
                }
                prop_assert!(slow.is_none_or(|slow| slow < needed.pressure));
            }
            Judged::BelowFloor { floor, .. } => prop_assert!(own < floor),
            Judged::AboveMaximum { maximum, .. } => prop_assert!(own > maximum),
        }
    }

    #[test]
    fn prop_below_the_lowest_row_is_said_at_road_speed((case, answer) in answered()) {
        let road = case.speed(&answer) > kmh(40.0 + 1e-9);
        let below_row = answer
            .cautions
            .iter()
            .any(|c| matches!(c, Caution::BelowLowestRow(_)));
        prop_assert_eq!(below_row, road && answer.recommended < case.axle.capacity.lowest_row());
    }

    #[test]
    fn prop_sealed_carries_the_load_at_any_speed((case, answer) in answered()) {
        let Sealed { pressure, load_minimum, reason, .. } = answer.sealed;
        let full = case.axle.capacity.load_minimum(case.axle.wheel_load);
        prop_assert_eq!(load_minimum, full);
        prop_assert!(pressure >= full.scaled(1.0 - TINY) - case.snap());
        if reason != SealedReason::Own {
            let row = case.axle.capacity.lowest_row().min(answer.sealed.maximum);
            prop_assert!(pressure >= row - case.snap());
            // Read above the maximum by rounding, a placard is taken for it.
            let least = case.axle.placard.map(|p| p.min(answer.sealed.maximum) - case.snap());
            prop_assert!(least.is_none_or(|least| pressure >= least));
        }
        // An own figure stands, or why it doesn't is said.
        prop_assert_eq!(
            case.axle.own_sealed.is_some(),
            reason == SealedReason::Own || answer.sealed.own_refused.is_some()
        );
    }

    #[test]
    fn prop_stiffness_model_is_said_where_it_asks_a_tenth_more((case, answer) in answered()) {
        let Sealed { load_minimum, stiffness_model, .. } = answer.sealed;
        let capacity = &case.axle.capacity;
        let share = (case.axle.wheel_load / capacity.reference_load_per_tyre()).value;
        let asked = capacity.reference_pressure_cold().scaled(share);
        prop_assert!(asked >= load_minimum.scaled(1.0 - TINY));
        let ratio = asked.ratio_to(load_minimum);
        if (ratio - 1.1).abs() > TINY {
            prop_assert_eq!(stiffness_model.is_some(), ratio > 1.1);
        }
        if let Some(said) = stiffness_model {
            prop_assert!((said.ratio_to(asked) - 1.0).abs() < TINY);
            prop_assert!(said <= capacity.reference_pressure_cold());
        }
    }

    #[test]
    fn prop_accepted_figures_are_finite((_, answer) in answered()) {
        finite(&answer)?;
    }

    #[test]
    fn prop_any_number_is_refused_or_gives_finite_figures(
        case in case(),
        // What of the axle is any number: load, placard, wheel, own, floor.
        which in vec(any::<bool>(), 5),
        numbers in vec(any_number(), 5),
    ) {
        let mut axle = case.axle;
        let at = |n: usize| which[n].then(|| kpa(numbers[n]));
        if which[0] {
            axle.wheel_load = kg(numbers[0]);
        }
        axle.placard = at(1).or(axle.placard);
        axle.wheel_maximum = at(2).or(axle.wheel_maximum);
        axle.own_sealed = at(3).or(axle.own_sealed);
        axle.floor = at(4).unwrap_or(axle.floor);
        match case.with(axle) {
            Ok(answer) => finite(&answer)?,
            Err(Refusal::Overloaded { shed, .. }) => {
                let shed = shed.get::<kilogram>();
                prop_assert!(shed.is_finite() && shed > 0.0, "shed {shed}");
            }
            Err(_) => {}
        }
    }

    #[test]
    fn prop_what_would_let_it_come_down_is_said_where_the_load_holds((_, answer) in answered()) {
        let by_load = matches!(
            answer.decided,
            Decided::Tables | Decided::Deflection | Decided::LoadShare
        );
        prop_assert_eq!(answer.held.is_some(), by_load);
    }

    /// A load worked out at the model's end asked for a hair more than the end
    /// when it was worked back, and so for the tables' figure: what was said to
    /// have to come off did not do, one rig in 90,000.
    #[test]
    fn prop_what_a_pressure_carries_asks_for_that_pressure(
        case in case(),
        share in 0.1..0.45,
        at in prop_oneof![Just(80.0), Just(700.0), 80.0..700.0],
    ) {
        let Some(shape) = case.axle.shape else {
            return Err(TestCaseError::reject("a tyre without its measures"));
        };
        let load = shape.load_at_deflection(kpa(at), share);
        let back = shape.pressure_at_deflection(load, share);
        prop_assert!(
            back.is_some_and(|back| (back.ratio_to(kpa(at)) - 1.0).abs() < 1e-6),
            "{back:?} for {at}"
        );
    }

    #[test]
    fn prop_shedding_what_holds_brings_the_reachable((case, answer, held) in held()) {
        prop_assert!(held.shed > kg(0.0));
        // It cannot come down below the floor, whatever is shed.
        prop_assert!(held.reachable >= case.axle.floor);
        let lighter = case.axle.wheel_load - held.shed / f64::from(case.axle.tyres);
        let shed = Case { axle: Axle { wheel_load: lighter, ..case.axle }, ..case.clone() };
        let least = kpa(shed.least(case.speed(&answer)));
        let off = least.ratio_to(held.reachable) - 1.0;
        prop_assert!(off < 1e-6, "{least:?} for {:?}", held.reachable);
        // No more than needed: with a hair less shed it would not do. By how much
        // it then falls short is another matter, since the model ends in between.
        let heavier = Axle { wheel_load: lighter * (1.0 + 1e-6), ..case.axle };
        let more = kpa(Case { axle: heavier, ..case.clone() }.least(case.speed(&answer)));
        prop_assert!(more > held.reachable, "{more:?} for {:?}", held.reachable);
        // And the rig that has shed it is answered with no more than that.
        if let Ok(after) = case.with(Axle { wheel_load: lighter, ..case.axle }) {
            let most = held.reachable.max(case.axle.floor).round_up(case.step);
            prop_assert!(after.recommended <= most + case.snap());
        }
    }

    #[test]
    fn prop_shedding_an_overload_is_enough_and_needed(
        (_, axle) in axle(),
        over in 1.0001..3.0_f64,
        step in step(),
    ) {
        let (maximum, limited_by) = axle.maximum();
        let axle = Axle { wheel_load: axle.capacity.carries(maximum) * over, ..axle };
        let Err(Refusal::Overloaded { shed, limited_by: said, at }) = axle.sealed(step) else {
            return Err(TestCaseError::fail("not refused as overloaded"));
        };
        prop_assert_eq!((said, at), (limited_by, maximum));
        let overloaded_without = |part: f64| {
            let off = shed * part / f64::from(axle.tyres);
            let lighter = Axle { wheel_load: axle.wheel_load - off, ..axle };
            matches!(lighter.sealed(step), Err(Refusal::Overloaded { .. }))
        };
        prop_assert!(!overloaded_without(1.0 + 1e-6));
        prop_assert!(overloaded_without(0.99));
    }

    #[test]
    fn prop_carries_is_the_inverse_of_load_minimum(
        tyre in tyre(),
        share in 0.001..2.0_f64,
    ) {
        let capacity = tyre.capacity;
        let load = capacity.reference_load_per_tyre() * share;
        let asked = capacity.load_minimum(load);
        // Beyond the reference load no pressure carries more than that.
        let back = (capacity.carries(asked) / load).value;
        if asked <= capacity.reference_pressure_cold() {
            prop_assert!((back - 1.0).abs() < TINY, "{back}");
        } else {
            prop_assert!(back <= 1.0 + TINY, "{back}");
        }
        prop_assert!(capacity.carries(asked) <= capacity.reference_load_per_tyre());
    }

    #[test]
    fn prop_carries_at_a_speed_is_the_inverse_of_the_least(
        case in case(),
        speed in within(Field::BandSpeed),
    ) {
        let axle = case.axle;
        prop_assume!(axle.wheel_load <= axle.capacity.reference_load_per_tyre());
        let speed = kmh(speed);
        let least = axle.least_at(speed);
        prop_assert!((least.ratio_to(kpa(case.least(speed))) - 1.0).abs() < 1e-6);
        let carried = axle.carries_at(least, speed);
        let back = (carried / axle.wheel_load).value - 1.0;
        prop_assert!(back > -1e-6, "{back}");
        // More only where the model's lowest pressure is already enough.
        prop_assert!(back < 1e-6 || least <= kpa(80.0), "{back} at {least:?}");
        prop_assert!(carried <= axle.capacity.reference_load_per_tyre());
    }

    #[test]
    fn prop_wheel_load_is_finite_and_no_less_than_an_even_share(
        sides in (any_number(), any_number()),
        mass in any_number(),
        uneven in any_number(),
        axles in any::<u8>(),
        fitment in fitment(),
    ) {
        let group = AxleGroup::new(axles, fitment);
        let tyres = f64::from(group.tyres());
        let sources = [
            (LoadSource::Sides { left: kg(sides.0), right: kg(sides.1) }, sides.0 + sides.1),
            (LoadSource::Weighed(kg(mass)), mass),
            (LoadSource::Rating(kg(mass)), mass),
        ];
        for (source, whole) in sources {
            if let Ok(load) = source.wheel_load(group, uneven) {
                let load = load.get::<kilogram>();
                prop_assert!(load.is_finite() && load >= whole / tyres * (1.0 - TINY));
            }
        }
    }

    #[test]
    fn prop_field_check_accepts_its_range_and_nothing_else(value in any_number()) {
        for limit in LIMITS {
            let accepted = limit.field.check(value);
            // An end may come back from another unit beside itself.
            let inside = value >= limit.min - 1e-12 * limit.min.abs()
                && value <= limit.max + 1e-12 * limit.max.abs();
            prop_assert_eq!(accepted.is_ok(), inside, "{:?} {}", limit.field, value);
            if let Ok(accepted) = accepted {
                prop_assert!(accepted.is_finite());
                prop_assert!(limit.min <= accepted && accepted <= limit.max);
                prop_assert!((accepted - value).abs() <= 1e-12 * value.abs());
            }
        }
    }

    /// Any number hardly ever comes near an end: here all of them do, from a
    /// tenth to ten times the room that an end has.
    #[test]
    fn prop_an_end_has_the_same_room_whatever_its_sign(
        away in -11.9..-10.1_f64,
        near in -13.9..-12.1_f64,
        below in any::<bool>(),
    ) {
        let sign = if below { -1.0 } else { 1.0 };
        for limit in LIMITS {
            for end in [limit.min, limit.max].into_iter().filter(|end| *end != 0.0) {
                let beside = |power: f64| end + sign * end.abs() * 10_f64.powf(power);
                prop_assert!(limit.field.check(beside(near)).is_ok(), "{:?} {}", limit.field, end);
                let outside = if end == limit.min { below } else { !below };
                let accepted = limit.field.check(beside(away)).is_ok();
                prop_assert_eq!(accepted, !outside, "{:?} {}", limit.field, end);
            }
        }
    }

    #[test]
    fn prop_no_text_panics(text in "\\PC{0,70}") {
        let _ = Designation::parse(&text);
    }

    #[test]
    fn prop_no_slip_in_a_designation_panics(
        parts in parts(),
        slips in vec((any::<Index>(), 0_u8..5, any::<char>()), 1..4),
        moulded in moulded(),
        fitment in fitment(),
        vehicle in vehicle(),
    ) {
        let mut text: Vec<char> = moulded_text(&parts).chars().collect();
        for (at, kind, other) in slips {
            if text.is_empty() {
                break;
            }
            let at = at.index(text.len());
            match kind {
                0 => { text.remove(at); }
                1 => text.insert(at, other),
                2 => text[at] = other,
                3 => text.insert(at, text[at]),
                _ => text.swap(at, 0),
            }
        }
        let text: String = text.into_iter().collect();
        if let Ok(tyre) = Designation::parse(&text) {
            // What is read has numbers that a tyre has.
            prop_assert!(tyre.overall_diameter().value.is_finite());
            prop_assert!(tyre.section_width().value > 0.0 && tyre.aspect_ratio() > 0.0);
            let capacity = Capacity::new(&tyre, &moulded, fitment, vehicle);
            if let Ok(capacity) = capacity {
                prop_assert!(capacity.maximum() >= kpa(200.0));
                prop_assert!(capacity.reference_load_per_tyre() > kg(0.0));
            }
        }
    }

    #[test]
    fn prop_case_and_spacing_of_a_designation_do_not_matter(
        parts in parts(),
        blanks in vec(0_usize..=2, 16),
        lower in vec(any::<bool>(), 80),
    ) {
        let plain = moulded_text(&parts);
        let mut spaced = String::new();
        for (part, blanks) in parts.iter().zip(blanks) {
            let keep_together = match part.strip_prefix('\u{0}') {
                // A blank before a letter that is also a load range makes it
                // ambiguous, and before no symbol at all there is nothing.
                Some(symbol) => symbol.is_empty() || "BCDEFG".contains(symbol),
                None => false,
            };
            if !keep_together {
                spaced.push_str(&" ".repeat(blanks));
            }
            spaced.push_str(part.trim_start_matches('\u{0}'));
        }
        prop_assume!(spaced.chars().count() <= Designation::LONGEST);
        let changed: String = spaced
            .chars()
            .zip(lower)
            .map(|(c, lower)| if lower { c.to_ascii_lowercase() } else { c })
            .collect();
        match (Designation::parse(&plain), Designation::parse(&changed)) {
            (Ok(plain), Ok(changed)) => prop_assert_eq!(plain, changed),
            // What was not understood is quoted as written.
            (plain, changed) => prop_assert_eq!(plain.is_ok(), changed.is_ok(), "{}", spaced),
        }
    }
}
