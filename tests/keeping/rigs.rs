//! Random rigs with all their sections, as a shelf has them: from hardly
//! begun to as full as can be.

use tyreside::calc::limits::{Field, Unit};
use tyreside::calc::torque::TorqueUnit;
use tyreside::calc::torque::thread::{PropertyClass, Surfaces, Thread};
use tyreside::rig::air::leaks::Reading;
use tyreside::rig::air::tools::{Compressor, Flow, Timing};
use tyreside::rig::air::{Air, Leaks, Tools, Walk, Warm, Weather};
use tyreside::rig::checks::{
    Checks, LastRound, Log, OwnCheck, OwnDone, Reading as CheckReading, Round, TyreFacts,
};
use tyreside::rig::copies::Copies;
use tyreside::rig::footprint::FootprintOf;
use tyreside::rig::names::Named;
use tyreside::rig::nuts::{AccuracyFrom, Done, LogEntry, NutSet, Nuts, Stated};
use tyreside::rig::position::{Half, Side, Spot, Wheel};
use tyreside::rig::section::{self, Section};
use tyreside::rig::set_to::{Ended, Last, SetTo, TyreSet};
use tyreside::rig::typed::{Amount, Kind, Measure, Typed};
use tyreside::rig::weights::ticket::{Laid, OnPlate, ReadingRecord, TicketRecord, Tickets};
use tyreside::rig::weights::{ItemKind, On, PlanItem, Weights};
use tyreside::rig::{
    Axle, AxleId, Coupling, LoadFrom, MassUnit, OwnBand, Owner, Place, PressureUnit, Rig, Setting,
    Surface, Unusable, Vehicle,
};
use tyreside::store::envelope;
use tyreside::store::file::Sections;

/// SplitMix64.
pub struct Random(pub u64);

impl Random {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, end: usize) -> usize {
        (self.next() % end as u64) as usize
    }

    pub fn chance(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    pub fn pick<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())]
    }

    fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn named<T: Named>(&mut self) -> T {
        self.pick(T::ALL)
    }

    /// A name or a text as people, and the malicious, type them.
    pub fn text(&mut self, longest: usize) -> String {
        const TEXTS: [&str; 12] = [
            "My rig",
            "Dusty",
            "Big red + van",
            "\u{1f69a} \u{2014} Gr\u{fc}n\u{e9}",
            "<img src=x onerror=alert(1)>",
            "</script><b onclick=1>",
            "\"quoted\\\" {\"axles\":[2,{}]}",
            "\u{0}\u{7}\u{1b}[0m",
            "\u{202e}turned",
            "a\u{301}\u{200d}",
            "%23RIG1-0&amp;",
            "",
        ];
        let mut text = self.pick(&TEXTS).to_owned();
        while self.chance(10) {
            let more = char::from_u32(32 + self.below(0x2000) as u32);
            text.extend(more);
        }
        text.chars().take(longest).collect()
    }

    /// An amount within a field's limits, as typed in one of its units.
    fn amount(&mut self, field: Field) -> Amount {
        let limit = field.limit();
        let measures: &[(Measure, f64)] = match limit.unit {
            Unit::KiloPascal => &[
                (Measure::Psi, 6.894_757_293_168),
                (Measure::Kilopascal, 1.0),
                (Measure::Bar, 100.0),
            ],
            Unit::Kilogram => &[(Measure::Kilogram, 1.0), (Measure::Pound, 0.453_592_37)],
            Unit::NewtonMetre => &[
                (Measure::NewtonMetre, 1.0),
                (Measure::FootPound, 1.355_817_948_331_4),
            ],
            unit => &[(Measure::of_limits(unit).expect("a unit"), 1.0)],
        };
        loop {
            let (measure, factor) = self.pick(measures);
            let value = self.within(limit.min, limit.max) / factor;
            // Most are typed whole.
            let scale = match self.below(40) {
                0 => 1e9,
                1..8 => 10.0,
                _ => 1.0,
            };
            let value = (value * scale).round() / scale;
            let amount = Amount::new(value, measure);
            if field.check(amount.in_limit_unit()).is_ok() {
                return amount;
            }
        }
    }

    fn typed<K: Kind>(&mut self, field: Field) -> Typed<K> {
        Typed::of(self.amount(field)).expect("of this kind")
    }

    fn maybe<K: Kind>(&mut self, field: Field, percent: usize) -> Option<Typed<K>> {
        self.chance(percent).then(|| self.typed(field))
    }

    fn day(&mut self) -> f64 {
        (self.within(20_000.0, 21_000.0) * 1e9).round() / 1e9
    }
}

/// How full a rig is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fill {
    /// Axles alone, some of them blank.
    Begun,
    /// As one in use.
    InUse,
    /// As much of everything as is kept.
    Full,
}

impl Fill {
    fn percent(self) -> usize {
        match self {
            Self::Begun => 20,
            Self::InUse => 45,
            Self::Full => 100,
        }
    }

    /// Up to so many of a list.
    fn count(self, random: &mut Random, most: usize) -> usize {
        match self {
            Self::Begun => 0,
            Self::InUse => random.below(most.min(3) + 1),
            Self::Full => most,
        }
    }
}

fn unusable(random: &mut Random, fill: Fill) -> Vec<Unusable> {
    let count = if random.chance(15) {
        fill.count(random, 3)
    } else {
        0
    };
    let texts = (0..count).map(|index| Unusable {
        of: random.pick(&[
            Owner::Rig,
            Owner::Axle(AxleId(1)),
            Owner::TypedIn,
            Owner::Nothing,
        ]),
        field: format!("field-{index}"),
        text: random.text(20),
        meant: random.chance(50).then(|| random.named()),
        ..Unusable::default()
    });
    texts.collect()
}

const TYRES: [&str; 8] = [
    "LT265/75R16 123/120Q E",
    "LT235/85R16 120/116R E",
    "265/65R17 112S",
    "255/70R16 111T XL",
    "31x10.50R15LT 109Q C",
    "195R14C 106/104Q",
    "ST205/75R15 107/102M D",
    "",
];

fn axle(random: &mut Random, place: Place, fill: Fill) -> Axle {
    let percent = fill.percent();
    Axle {
        axles: if place == Place::Trailer {
            1 + random.below(3) as u8
        } else {
            1
        },
        dual: random.chance(10),
        tyre: random.pick(&TYRES).to_owned(),
        moulded_load: random.maybe(Field::ReferenceLoad, percent / 2),
        moulded_dual_load: random.maybe(Field::ReferenceLoad, percent / 4),
        moulded_pressure: random.maybe(Field::ReferencePressure, percent / 2),
        moulded_minimum: random.maybe(Field::SidewallMinimum, percent / 4),
        placard: random.maybe(Field::PlacardPressure, percent),
        wheel_maximum: random.maybe(Field::WheelMaximum, percent / 4),
        own_sealed: random.maybe(Field::OwnSealedPressure, percent / 2),
        load_from: random.named::<LoadFrom>(),
        left: random.maybe(Field::SideMass, percent),
        right: random.maybe(Field::SideMass, percent),
        weighed: random.maybe(Field::AxleMass, percent),
        alone: random.maybe(Field::AxleMass, percent),
        rating: random.maybe(Field::AxleMass, percent),
        ..Axle::empty(place)
    }
}

pub fn rig(random: &mut Random, fill: Fill) -> Rig {
    let mut rig = Rig::empty(
        &random.text(Rig::LONGEST_NAME),
        random.pick(&PressureUnit::ALL),
    );
    rig.mass_unit = random.named::<MassUnit>();
    rig.coupling = random.named::<Coupling>();
    rig.surface = random.named::<Surface>();
    rig.setting = random.named::<Setting>();
    rig.tow_vehicle = random.named::<Vehicle>();
    if random.chance(fill.percent() / 2) {
        rig.floor = random.typed(Field::Floor);
        rig.uneven_load = random.typed(Field::UnevenLoad);
        rig.slow_deflection = random.typed(Field::SlowDeflection);
        rig.slow_load_share = random.typed(Field::SlowLoadShare);
    }
    rig.axles.clear();
    let trailers = match fill {
        Fill::Full => Rig::MOST_AXLES - 2,
        _ => random.below(2),
    };
    let places = [Place::Front, Place::Rear].into_iter();
    for place in places.chain(std::iter::repeat_n(Place::Trailer, trailers)) {
        let axle = axle(random, place, fill);
        rig.add_axle(axle);
    }
    let bands = fill.count(random, Surface::ALL.len() - 1);
    for surface in Surface::ALL.into_iter().skip(1).take(bands) {
        rig.bands.push(OwnBand {
            surface,
            low: random.typed(Field::BandShare),
            high: random.typed(Field::BandShare),
            speed: random.typed(Field::BandSpeed),
            low_pressure: random.maybe(Field::BandPressure, 50),
            high_pressure: random.maybe(Field::BandPressure, 50),
            ..OwnBand::default()
        });
    }
    rig.unusable = unusable(random, fill);
    rig
}

fn wheel(random: &mut Random) -> Wheel {
    Wheel {
        half: random.named::<Half>(),
        axle: random.pick(&[0, 1, 2, Wheel::LAST]),
        side: random.named::<Side>(),
    }
}

fn nut_set(random: &mut Random, fill: Fill) -> NutSet {
    let percent = fill.percent();
    NutSet {
        unit: random.chance(percent).then(|| random.named::<TorqueUnit>()),
        nominal: random.maybe(Field::SpecTorque, percent),
        stated: random.named::<Stated>(),
        tolerance: random.maybe(Field::TolerancePercent, percent / 2),
        minus: random.maybe(Field::ToleranceValue, percent / 3),
        plus: random.maybe(Field::ToleranceValue, percent / 2),
        low: random.maybe(Field::SpecTorque, percent / 3),
        high: random.maybe(Field::SpecTorque, percent / 3),
        studs: random.pick(&[4, 5, 6, 8, 10]),
        stages: random.pick(&[2, 3]),
        wheel: random.chance(percent).then(|| wheel(random)),
        ticked: (0..fill.count(random, 10) as u8).collect(),
        given_up: (0..fill.count(random, 4) as u8).collect(),
        given_up_wheel: random.chance(percent / 4).then(|| wheel(random)),
        begun: random.maybe(Field::SpecTorque, percent / 3),
        thread: random.chance(percent / 2).then(|| random.named::<Thread>()),
        class: random
            .chance(percent / 2)
            .then(|| random.named::<PropertyClass>()),
        threads: random.named::<Surfaces>(),
        ..NutSet::default()
    }
}

fn nuts(random: &mut Random, fill: Fill) -> Nuts {
    let percent = fill.percent();
    let mut nuts = Nuts {
        half: random.named::<Half>(),
        vehicle: nut_set(random, fill),
        trailer: nut_set(random, fill),
        odometer: random.maybe(Field::Odometer, percent),
        unusable: unusable(random, fill),
        ..Nuts::default()
    };
    nuts.wrench.unit = random.named();
    nuts.wrench.lowest = random.maybe(Field::LowestMark, percent);
    nuts.wrench.highest = random.maybe(Field::HighestMark, percent);
    nuts.wrench.step = random.maybe(Field::MarkStep, percent);
    nuts.wrench.accuracy = random.named::<AccuracyFrom>();
    nuts.wrench.maker_accuracy = random.maybe(Field::WrenchAccuracy, percent / 3);
    nuts.adapter.fitted = random.chance(20);
    nuts.adapter.handle = random.maybe(Field::HandleLength, percent / 3);
    nuts.adapter.length = random.maybe(Field::AdapterLength, percent / 3);
    nuts.adapter.angle = random.maybe(Field::AdapterAngle, percent / 3);
    for _ in 0..fill.count(random, 60) {
        nuts.log(LogEntry {
            wheel: random.chance(80).then(|| wheel(random)),
            done: random.named::<Done>(),
            day: random.day() as u32,
            odometer: random.maybe(Field::Odometer, 50),
            torque: random.maybe(Field::SpecTorque, 70),
            ..LogEntry::default()
        });
    }
    nuts
}

fn weather(random: &mut Random, percent: usize) -> Weather {
    Weather {
        height: random.maybe(Field::Height, percent),
        temperature: random.maybe(Field::AmbientTemperature, percent),
    }
}

fn air(random: &mut Random, rig: &Rig, fill: Fill) -> Air {
    let percent = fill.percent() / 2;
    let moment = |random: &mut Random| random.chance(percent).then(|| random.day());
    Air {
        from: random.named(),
        to: random.named(),
        set: weather(random, percent),
        now: weather(random, percent),
        now_day: moment(random),
        warm: Warm {
            by: random.named(),
            axle: random.below(rig.axles.len()) as u8,
            day: moment(random),
            reading: random.maybe(Field::TyreReading, percent),
            cold: random.maybe(Field::ColdPressure, percent),
            temperature: random.maybe(Field::TyreTemperature, percent),
            driven: random.maybe(Field::TimeDriven, percent),
        },
        walk: random.chance(percent).then(|| Walk {
            back: random.chance(50),
            warm: random.chance(50),
            tyres_done: random.below(9),
            started_day: random.chance(50).then(|| random.day()),
            tyre_s: random.below(600) as f64 / 4.0,
            before_s: random.below(6000) as f64 / 4.0,
            rested_s: random.below(6000) as f64 / 4.0,
        }),
        axles: rig.axles.iter().map(|axle| axle.id).collect(),
        ..Air::default()
    }
}

fn timing(random: &mut Random, rig: &Rig, percent: usize) -> Timing {
    Timing {
        axle: random.chance(percent).then(|| rig.axles[0].id),
        from: random.maybe(Field::TyreReading, percent),
        to: random.maybe(Field::TyreReading, percent),
        took: random.maybe(Field::TimedRun, percent),
        started_day: random.chance(10).then(|| random.day()),
    }
}

fn tools(random: &mut Random, rig: &Rig, fill: Fill) -> Tools {
    let percent = fill.percent() / 2;
    let flow = |random: &mut Random| Flow {
        flow: random.maybe(Field::FreeAirFlow, percent),
        at: random.maybe(Field::TyreReading, percent),
    };
    let mut tools = Tools {
        flows: (0..fill.count(random, Tools::MOST_FLOWS))
            .map(|_| flow(random))
            .collect(),
        compressor: Compressor {
            run: random.maybe(Field::DutyRun, percent),
            rest: random.maybe(Field::DutyRest, percent),
            maximum: random.maybe(Field::PumpMaximum, percent),
            change_over: random.maybe(Field::ChangeOver, percent),
        },
        deflator: flow(random),
        pumped: timing(random, rig, percent),
        let_down: timing(random, rig, percent),
        unusable: unusable(random, fill),
        ..Tools::default()
    };
    for axle in &rig.axles {
        tools.set_space(axle.id, random.maybe(Field::AirSpace, percent));
    }
    tools
}

fn leaks(random: &mut Random, rig: &Rig, fill: Fill) -> Leaks {
    let percent = fill.percent() / 2;
    let mut leaks = Leaks {
        axle: random.chance(percent).then(|| rig.axles[0].id),
        tyre: random.below(2) as u8,
        reading: random.maybe(Field::TyreReading, percent),
        temperature: random.maybe(Field::AmbientTemperature, percent),
        guessed: random.chance(50),
        step: random.maybe(Field::GaugeResolution, percent),
        unusable: unusable(random, fill),
        ..Leaks::default()
    };
    for _ in 0..fill.count(random, Leaks::MOST_READINGS) {
        leaks.readings.push(Reading {
            axle: rig.axles[random.below(rig.axles.len())].id,
            tyre: random.below(2) as u8,
            day: random.day(),
            pressure: random.typed(Field::TyreReading),
            step: random.typed(Field::GaugeResolution),
            temperature: random.typed(Field::AmbientTemperature),
            within_kelvin: random.pick(&[1.0, 2.0, 5.0]),
            height: random.typed(Field::Height),
        });
    }
    leaks
}

fn set_to(random: &mut Random, rig: &Rig, fill: Fill) -> SetTo {
    let mut tyres = Vec::new();
    let day = random.day();
    for axle in 0..rig.axles.len() as u8 {
        for tyre in 0..2 {
            tyres.push(TyreSet {
                axle,
                tyre,
                kpa: (random.within(110.0, 500.0) * 1e9).round() / 1e9,
                surface: random.named(),
                day,
                warm: random.chance(50),
                celsius: random.chance(50).then(|| random.below(40) as f64),
                height_m: random.chance(50).then(|| random.below(900) as f64),
            });
        }
    }
    SetTo {
        last: Some(Last {
            surface: random.named(),
            day,
            warm: random.chance(50),
            ended: random.named::<Ended>(),
        }),
        walked: tyres[..fill.count(random, tyres.len()).min(tyres.len())].to_vec(),
        tyres,
        axles: rig.axles.iter().map(|axle| axle.id).collect(),
        ..SetTo::default()
    }
}

fn footprint(random: &mut Random) -> FootprintOf {
    FootprintOf {
        typed: random.chance(50),
        axle: AxleId(random.below(3) as u32),
        tyre: random.pick(&TYRES).to_owned(),
        load: random.maybe(Field::WheelLoad, 60),
        sealed: random.maybe(Field::FootprintPressure, 60),
        unusable: unusable(random, Fill::InUse),
        ..FootprintOf::default()
    }
}

fn weights(random: &mut Random, fill: Fill) -> Weights {
    let percent = fill.percent();
    let rated = |random: &mut Random| random.maybe(Field::RatedMass, percent);
    let mut weights = Weights {
        in_use: random.chance(50),
        wheelbase: random.maybe(Field::Wheelbase, percent),
        overhang: random.maybe(Field::BallOverhang, percent),
        drawbar: random.maybe(Field::DrawbarLength, percent),
        body: random.maybe(Field::BodyLength, percent),
        front_limit: rated(random),
        rear_limit: rated(random),
        gvm: rated(random),
        gcm: rated(random),
        towing: rated(random),
        ball_limit: rated(random),
        unladen: rated(random),
        unladen_front: rated(random),
        tare: rated(random),
        tare_ball: random.maybe(Field::BallMass, percent),
        atm: rated(random),
        gtm: rated(random),
        trailer_limit: rated(random),
        total: random.maybe(Field::WeighedMass, percent),
        unusable: unusable(random, fill),
        ..Weights::default()
    };
    for _ in 0..fill.count(random, 2 * Rig::MOST_AXLES) {
        weights.read_right.push(random.typed(Field::SideMass));
    }
    for id in 0..fill.count(random, Weights::MOST_ITEMS) {
        weights.items.push(PlanItem {
            id: id as u32 + 1,
            name: random.text(30),
            kind: random.named::<ItemKind>(),
            on: random.named::<On>(),
            at: random.typed(Field::ItemPlace),
            mass: random.maybe(Field::ItemMass, 80),
            size: random.maybe(Field::TankSize, 20),
            fill: random.maybe(Field::TankFill, 20),
            ..PlanItem::default()
        });
    }
    weights
}

fn tickets(random: &mut Random, fill: Fill) -> Tickets {
    let count = fill.count(random, Tickets::MOST);
    let tickets = (0..count).map(|id| TicketRecord {
        id: id as u32 + 1,
        day: random.day() as u32,
        place: random.text(40),
        step: random.maybe(Field::TicketStep, 80),
        readings: (0..fill.count(random, Tickets::MOST_READINGS))
            .map(|_| {
                let on = random.named::<OnPlate>();
                ReadingRecord::of(on, random.named(), random.maybe(Tickets::field(on), 90))
            })
            .collect(),
        loads: (0..fill.count(random, 10))
            .map(|load| Laid {
                load: load as u32,
                on: random.named(),
                at: random.typed(Field::ItemPlace),
                mass: random.typed(Field::ItemMass),
            })
            .collect(),
        ..TicketRecord::default()
    });
    Tickets {
        tickets: tickets.collect(),
        in_force: (count > 0).then_some(1),
        unusable: unusable(random, fill),
        ..Tickets::default()
    }
}

fn round(random: &mut Random, fill: Fill) -> Round {
    let spots = (0..fill.count(random, 8)).map(|number| Spot {
        wheel: Wheel {
            half: Half::Vehicle,
            axle: number as u8 / 2,
            side: if number % 2 == 0 {
                Side::Left
            } else {
                Side::Right
            },
        },
        inner: false,
    });
    let spots: Vec<Spot> = spots.collect();
    Round {
        day: random.day() as u32,
        minute: random.below(1440) as u32,
        surface: random.named(),
        warm: random.chance(30),
        celsius: random.chance(50).then(|| random.below(40) as f64),
        odometer: random.maybe(Field::Odometer, 50),
        readings: spots
            .iter()
            .map(|spot| CheckReading {
                tyre: *spot,
                read: random.typed(Field::TyreReading),
                goal_kpa: random.chance(50).then_some(250.0),
                wrong: random.chance(20),
            })
            .collect(),
        nuts: spots.iter().map(|spot| spot.wheel).take(2).collect(),
        ..Round::default()
    }
}

fn checks(random: &mut Random, fill: Fill) -> Checks {
    let own = (0..fill.count(random, Checks::MOST_OWN)).map(|id| OwnCheck {
        id: id as u32,
        name: random.text(Checks::LONGEST_NAME),
        days: random.chance(50).then_some(30),
        distance: random.maybe(Field::CheckDistance, 50),
        done_day: random.chance(50).then_some(20_600),
        done_at: random.maybe(Field::Odometer, 50),
        ..OwnCheck::default()
    });
    let own = own.collect();
    Checks {
        round: random.chance(30).then(|| round(random, fill)),
        last: random.chance(50).then(|| LastRound {
            day: 20_600,
            at: 20_600.25,
            bad: vec![Spot {
                wheel: wheel(random),
                inner: random.chance(20),
            }],
            ..LastRound::default()
        }),
        pressure_days: random.chance(30).then_some(7),
        own,
        tyres: vec![TyreFacts {
            made: "2319".to_owned(),
            tread: random.maybe(Field::TreadDepth, 60),
            tread_day: random.chance(50).then_some(20_600),
            ..TyreFacts::default()
        }],
        unusable: unusable(random, fill),
        ..Checks::default()
    }
}

fn log(random: &mut Random, fill: Fill) -> Log {
    let rounds = (0..fill.count(random, 60))
        .map(|_| round(random, fill))
        .collect();
    let done = (0..fill.count(random, 20)).map(|id| OwnDone {
        id: id as u32,
        name: random.text(Checks::LONGEST_NAME),
        day: random.day() as u32,
        odometer: random.maybe(Field::Odometer, 50),
        ..OwnDone::default()
    });
    Log {
        rounds,
        done: done.collect(),
        ..Log::default()
    }
}

/// What no page knows yet, as a newer one may keep it.
fn with_more(random: &mut Random, body: String) -> String {
    if !random.chance(5) {
        return body;
    }
    let mut more = body.trim_end_matches('}').to_owned();
    let closed = body.len() - more.len() - 1;
    more.push_str(&"}".repeat(closed));
    more + ",\"of_later\":[1.50,{\"x\":null}]}"
}

pub fn record<S: Section>(random: &mut Random, value: &S) -> (String, String) {
    let body = section::body(value).unwrap_or_else(|| {
        let mut text = String::new();
        value.write(&mut text);
        panic!("not sound: {} {text}", S::PART)
    });
    let body = with_more(random, body);
    (S::PART.to_owned(), envelope::write(S::VERSION, &body))
}

/// All sections of a random rig; each but its own may be missing.
pub fn sections(random: &mut Random, fill: Fill) -> Sections {
    let rig = rig(random, fill);
    let mut all = vec![record(random, &rig)];
    let percent = match fill {
        Fill::Begun => 10,
        Fill::InUse => 70,
        Fill::Full => 100,
    };
    let mut push = |random: &mut Random, part: (String, String)| {
        if random.chance(percent) {
            all.push(part);
        }
    };
    let part = nuts(random, fill);
    let part = record(random, &part);
    push(random, part);
    let part = air(random, &rig, fill);
    let part = record(random, &part);
    push(random, part);
    let part = tools(random, &rig, fill);
    let part = record(random, &part);
    push(random, part);
    let part = leaks(random, &rig, fill);
    let part = record(random, &part);
    push(random, part);
    let part = set_to(random, &rig, fill);
    let part = record(random, &part);
    push(random, part);
    let part = footprint(random);
    let part = record(random, &part);
    push(random, part);
    let part = weights(random, fill);
    let part = record(random, &part);
    push(random, part);
    let part = tickets(random, fill);
    let part = record(random, &part);
    push(random, part);
    let part = checks(random, fill);
    let part = record(random, &part);
    push(random, part);
    for year in 2025..2027 {
        let part = log(random, fill);
        let (part, text) = record(random, &part);
        push(random, (format!("{part}.{year}"), text));
    }
    let mut copies = Copies {
        rig: format!("{:012x}", random.next() & 0xffff_ffff_ffff),
        ..Copies::default()
    };
    let now: Vec<_> = all
        .iter()
        .map(|(part, text)| (part.clone(), envelope::sum(text)))
        .collect();
    copies.see(&now);
    copies.copied(&now, random.day());
    let part = record(random, &copies);
    all.push(part);
    all
}

/// The same rig each time for a number.
pub fn numbered(number: u64) -> (Fill, Sections) {
    let mut random = Random(number.wrapping_mul(0x2545_F491_4F6C_DD1D) ^ 77);
    // Most rigs are in use; few have reached the limits.
    let fill = match random.below(100) {
        0..20 => Fill::Begun,
        20..97 => Fill::InUse,
        _ => Fill::Full,
    };
    (fill, sections(&mut random, fill))
}
