//! Every error of the crate with its message for a log and, below it, what the
//! screen says, in one text to be read through: `tests/messages.txt`. After a
//! change: `REWRITE=1 cargo test --test messages`, and read what changed.

#![cfg(not(target_arch = "wasm32"))]

use std::error::Error;
use std::fmt::Write;
use tyreside::calc::fill::InflationError;
use tyreside::calc::fill::compressor::PlanError;
use tyreside::calc::fill::trip::NoTime;
use tyreside::calc::footprint;
use tyreside::calc::gas::AmbientTemperature;
use tyreside::calc::gas::leak::LeakError;
use tyreside::calc::gas::warm::WarmError;
use tyreside::calc::limits::{Field, OutOfRange};
use tyreside::calc::pressure::{Maximum, OwnRefused, Refusal};
use tyreside::calc::quantity::{
    GaugePressure, Length, Mass, Span, Time, day, kilogram, kilopascal, meter, minute,
};
use tyreside::calc::stated::StatedError;
use tyreside::calc::surface::BandError;
use tyreside::calc::torque::sequence::TickError;
use tyreside::calc::torque::{TorqueError, TorqueUnit};
use tyreside::calc::tyre::capacity::{CapacityError, Fitment};
use tyreside::calc::tyre::designation::{Construction, DesignationError, Part};
use tyreside::calc::tyre::wear::DateCodeError;
use tyreside::calc::weights::WeightsError;
use tyreside::calc::weights::plates::Plate;
use tyreside::calc::weights::ticket::Weighing;
use tyreside::rig::footprint::NoFootprint;
use tyreside::rig::section::Unreadable;
use tyreside::rig::weights::NoWeights;
use tyreside::rig::{MassUnit, Missing, PressureUnit, Problem, Units};
use tyreside::store::Trouble;
use tyreside::store::file::FileError;
use tyreside::store::link::LinkError;
use tyreside::ui::kit::{air_words, words};
use tyreside::ui::views::{
    checks::words as check_words, copies::words as copy_words, footprint::words as footprint_words,
    nuts::words as nut_words, weights::words as weight_words,
};

const UNITS: Units = Units {
    pressure: PressureUnit::Kpa,
    mass: MassUnit::Kilogram,
};

fn kpa(value: f64) -> GaugePressure {
    GaugePressure::new::<kilopascal>(value)
}

fn kg(value: f64) -> Mass {
    Mass::new::<kilogram>(value)
}

fn beyond(field: Field) -> OutOfRange {
    let given = field.limit().max * 2.0 + 1.0;
    field.check(given).expect_err("beyond its limit")
}

/// One of every variant: the compiler asks for a new one here.
macro_rules! every {
    ($name:ty: $($pattern:pat => $example:expr),+ $(,)?) => {{
        fn known(error: &$name) {
            match error { $($pattern => {})+ }
        }
        let all: Vec<$name> = vec![$($example),+];
        all.iter().for_each(known);
        all
    }};
}

struct Page(String);

impl Page {
    fn add<E: Error + 'static>(
        &mut self,
        name: &str,
        errors: &[E],
        screen: impl Fn(&E) -> Option<String>,
    ) {
        writeln!(self.0, "\n## {name}").expect("a string");
        for error in errors {
            let log = error.to_string();
            assert!(!log.trim().is_empty());
            writeln!(self.0, "\n{log}").expect("a string");
            if let Some(words) = screen(error) {
                assert!(!words.trim().is_empty(), "{log}");
                writeln!(self.0, "    {words}").expect("a string");
            }
        }
    }
}

fn capacity() -> Vec<CapacityError> {
    use CapacityError::*;
    let (load, pressure) = (kg(1550.0), kpa(250.0));
    every!(CapacityError:
        DiagonalNotCovered => DiagonalNotCovered,
        ReferenceLoadNeeded { .. } => ReferenceLoadNeeded { fitment: Fitment::Dual },
        ReferencePressureNeeded => ReferencePressureNeeded,
        LoadsDisagree { .. } => LoadsDisagree { index: kg(1550.0), moulded: kg(1400.0) },
        PressuresDisagree { .. } => PressuresDisagree { range: kpa(550.0), moulded: kpa(250.0) },
        NotAPassengerPressure { .. } => NotAPassengerPressure { moulded: kpa(550.0) },
        BeyondItsSize { .. } => BeyondItsSize { load, pressure },
        SecondMarkNeeded { .. } => SecondMarkNeeded { load, pressure },
        ExtraLoadOrMaximumNeeded => ExtraLoadOrMaximumNeeded,
        FamilyMarkNeeded => FamilyMarkNeeded,
        MinimumAboveMaximum { .. } => MinimumAboveMaximum { minimum: kpa(450.0), maximum: kpa(400.0) },
        OutOfRange(_) => OutOfRange(beyond(Field::ReferencePressure)),
    )
}

fn designation() -> Vec<DesignationError> {
    use DesignationError::*;
    let found = "QQ".to_owned();
    every!(DesignationError:
        Empty => Empty,
        TooLong { .. } => TooLong { allowed: 60 },
        NotUnderstood { .. } => NotUnderstood { part: Part::Rim, found },
        Conflict { .. } => Conflict { part: Part::LoadRange },
        AmbiguousLetter { .. } => AmbiguousLetter { letter: 'E' },
        Temporary => Temporary,
        OutOfRange(_) => OutOfRange(beyond(Field::RimDiameter)),
    )
}

fn refusals() -> Vec<Refusal> {
    use Refusal::*;
    let (maximum, limited_by) = (kpa(450.0), Maximum::Wheel);
    every!(Refusal:
        Overloaded { .. } => Overloaded { shed: kg(120.0), limited_by, at: maximum },
        PlacardAboveMaximum { .. } => PlacardAboveMaximum { placard: kpa(500.0), maximum, limited_by },
        OwnAboveMaximum { .. } => OwnAboveMaximum { own: kpa(500.0), maximum, limited_by },
        MakersFigureNeeded => MakersFigureNeeded,
        WheelMaximumNeeded { .. } => WheelMaximumNeeded { figure: kpa(550.0), moulded: kpa(475.0) },
        FloorAboveMaximum { .. } => FloorAboveMaximum { floor: kpa(240.0), maximum: kpa(200.0) },
        OutOfRange(_) => OutOfRange(beyond(Field::PlacardPressure)),
    )
}

fn bands() -> Vec<BandError> {
    every!(BandError:
        BandError::OutOfRange(_) => BandError::OutOfRange(beyond(Field::BandShare)),
        BandError::LowAboveHigh => BandError::LowAboveHigh,
    )
}

fn own() -> Vec<OwnRefused> {
    every!(OwnRefused:
        OwnRefused::BelowLoadMinimum(_) => OwnRefused::BelowLoadMinimum(kpa(30.0)),
        OwnRefused::BelowFloor(_) => OwnRefused::BelowFloor(kpa(10.0)),
    )
}

fn footprints() -> Vec<footprint::Refusal> {
    use footprint::Refusal::*;
    every!(footprint::Refusal:
        NotRadial { .. } => NotRadial { given: Construction::Diagonal },
        NotFirm { .. } => NotFirm { given: footprint::Ground::Soft },
        OutOfRange(_) => OutOfRange(beyond(Field::WheelLoad)),
        TooFlat { .. } => TooFlat { given: 0.2, limit: 0.15 },
        NearRim { .. } => NearRim { given: 0.6, limit: 0.5 },
    )
}

fn inflations() -> Vec<InflationError> {
    use InflationError::*;
    every!(InflationError:
        OutOfRange(_) => OutOfRange(beyond(Field::FreeAirFlow)),
        WrongWay { .. } => WrongWay { from: kpa(300.0), to: kpa(200.0) },
        PointCount { .. } => PointCount { given: 4 },
        PointsTooClose => PointsTooClose,
        FlowRises { .. } => FlowRises { at: kpa(200.0) },
        OutOfReach { .. } => OutOfReach { to: kpa(600.0), highest: kpa(500.0) },
        ImplausibleTiming { .. } => ImplausibleTiming { ratio: 3.0 },
        NothingTimed => NothingTimed,
    )
}

fn problems() -> Vec<Problem> {
    every!(Problem:
        Problem::LeftBehind => Problem::LeftBehind,
        Problem::Missing(_) => Problem::Missing(Missing::Weighed),
        Problem::Tyre(_) => Problem::Tyre(DesignationError::Empty),
        Problem::Capacity(_) => Problem::Capacity(CapacityError::DiagonalNotCovered),
        Problem::Band(_) => Problem::Band(BandError::LowAboveHigh),
        Problem::OutOfRange(_) => Problem::OutOfRange(beyond(Field::AxleMass)),
        Problem::Refused(_) => Problem::Refused(Refusal::MakersFigureNeeded),
    )
}

fn text() -> String {
    let mut page = Page(String::from(
        "# Every error: for a log, and what the screen says\n",
    ));
    let unit = UNITS.pressure;
    let screen = |problem: Problem| Some(words::problem(&problem, UNITS));
    page.add("OutOfRange", &[beyond(Field::Floor)], |error| {
        Some(words::out_of_range_in(*error, UNITS))
    });
    page.add("DesignationError", &designation(), |error| {
        screen(Problem::Tyre(error.clone()))
    });
    page.add("CapacityError", &capacity(), |error| {
        screen(Problem::Capacity(*error))
    });
    page.add("BandError", &bands(), |error| screen(Problem::Band(*error)));
    page.add("pressure::Refusal", &refusals(), |error| {
        screen(Problem::Refused(*error))
    });
    page.add("OwnRefused", &own(), |error| {
        Some(words::own_refused(*error, unit))
    });
    page.add("Problem", &problems(), |error| screen(error.clone()));
    let none = |why: NoFootprint| Some(footprint_words::none(&why, UNITS));
    page.add("footprint::Refusal", &footprints(), |error| {
        none(NoFootprint::Model(*error))
    });
    let no_footprint = every!(NoFootprint:
        NoFootprint::Axle(_) => NoFootprint::Axle(Problem::Missing(Missing::Left)),
        NoFootprint::Blank(_) => NoFootprint::Blank(Field::WheelLoad),
        NoFootprint::Sealed(_) => NoFootprint::Sealed(OwnRefused::BelowFloor(kpa(10.0))),
        NoFootprint::Model(_) => NoFootprint::Model(footprint::Refusal::OutOfRange(
            beyond(Field::FootprintPressure),
        )),
        NoFootprint::NothingToLetOut { .. } => NoFootprint::NothingToLetOut {
            sealed: kpa(100.0),
            floor: kpa(100.0),
        },
    );
    page.add("NoFootprint", &no_footprint, |error| none(error.clone()));
    page.add("InflationError", &inflations(), |error| {
        Some(air_words::no_time(NoTime::Refused(*error), unit))
    });
    let plan = PlanError {
        tyre: Some((1, 0)),
        error: InflationError::PointsTooClose,
    };
    page.add("PlanError", &[plan], |_| None);
    let no_time = every!(NoTime:
        NoTime::NoPressure => NoTime::NoPressure,
        NoTime::NoSize => NoTime::NoSize,
        NoTime::NoCompressor => NoTime::NoCompressor,
        NoTime::NoDeflator => NoTime::NoDeflator,
        NoTime::HalfAFlow => NoTime::HalfAFlow,
        NoTime::Refused(_) => NoTime::Refused(InflationError::NothingTimed),
    );
    page.add("NoTime", &no_time, |error| {
        Some(air_words::no_time(*error, unit))
    });
    let degrees = |value| AmbientTemperature::celsius(value).expect("in range");
    let warm = every!(WarmError:
        WarmError::OutOfRange(_) => WarmError::OutOfRange(beyond(Field::TyreReading)),
        WarmError::BelowCold { .. } => WarmError::BelowCold {
            reading: kpa(200.0),
            cold: kpa(220.0),
        },
        WarmError::BelowAmbient { .. } => WarmError::BelowAmbient {
            tyre: degrees(10.0).into(),
            ambient: degrees(30.0),
        },
        WarmError::TooHot(_) => WarmError::TooHot(beyond(Field::TyreTemperature)),
        WarmError::NoAmbientTemperature => WarmError::NoAmbientTemperature,
    );
    page.add("WarmError", &warm, |error| {
        Some(air_words::warm_error(error, unit))
    });
    let days = Time::new::<day>;
    let leaks = every!(LeakError:
        LeakError::OutOfRange { .. } => LeakError::OutOfRange {
            reading: 1,
            error: beyond(Field::TyreReading),
        },
        LeakError::TooFew { .. } => LeakError::TooFew { given: 1 },
        LeakError::TooClose => LeakError::TooClose,
        LeakError::Pumped { .. } => LeakError::Pumped { from: days(3.0), to: days(9.0) },
        LeakError::TooShort { .. } => LeakError::TooShort {
            loss: Span { low: kpa(-5.0), likely: kpa(4.0), high: kpa(13.0) },
            needed: days(20.0),
        },
    );
    page.add("LeakError", &leaks, |error| {
        let date = |time: Time| format!("minute {:.0}", time.get::<minute>());
        Some(air_words::leak_error(error, unit, date))
    });
    let stated = every!(StatedError:
        StatedError::OutOfRange(_) => StatedError::OutOfRange(beyond(Field::SpecTorque)),
        StatedError::TooFine { .. } => StatedError::TooFine {
            field: Field::SpecTorque,
            given: 105.0625,
            decimals: 3,
        },
        StatedError::Crossed { .. } => StatedError::Crossed {
            field: Field::SpecTorque,
            low: 120.0,
            high: 110.0,
        },
    );
    let torque_words = |error: TorqueError| Some(nut_words::error(error, TorqueUnit::NewtonMetre));
    page.add("StatedError", &stated, |error| {
        torque_words(TorqueError::Stated(*error))
    });
    let metres = Length::new::<meter>;
    let torques = every!(TorqueError:
        TorqueError::Stated(_) => TorqueError::Stated(beyond(Field::HandleLength).into()),
        TorqueError::UnevenScale { .. } => TorqueError::UnevenScale {
            lowest: 20.0,
            highest: 205.0,
            step: 10.0,
        },
        TorqueError::ArmTooShort { .. } => TorqueError::ArmTooShort {
            arm: metres(0.1),
            least: metres(0.25),
        },
    );
    page.add("TorqueError", &torques, |error| torque_words(*error));
    let ticks = every!(TickError:
        TickError::NoSuchStud { .. } => TickError::NoSuchStud { stud: 7, studs: 6 },
        TickError::AlreadyDone { .. } => TickError::AlreadyDone { stud: 2 },
        TickError::Finished => TickError::Finished,
    );
    page.add("TickError", &ticks, |error| {
        nut_words::ticked(Err(*error), usize::from)
    });
    let weights = every!(WeightsError:
        WeightsError::OutOfRange(_) => WeightsError::OutOfRange(beyond(Field::WeighedMass)),
        WeightsError::OneSideOf(_) => WeightsError::OneSideOf(Weighing::Combination),
        WeightsError::NoSuchAxle { .. } => WeightsError::NoSuchAxle { line: 3, lines: 2 },
        WeightsError::AxleCount { .. } => WeightsError::AxleCount { given: 4 },
        WeightsError::PlateOrder { .. } => WeightsError::PlateOrder {
            lesser: Plate::Tare,
            greater: Plate::Atm,
        },
    );
    page.add("WeightsError", &weights, |error| {
        Some(weight_words::wrong(error, UNITS))
    });
    let none = every!(NoWeights:
        NoWeights::Unusable => NoWeights::Unusable,
        NoWeights::Axles => NoWeights::Axles,
        NoWeights::Wrong(_) => NoWeights::Wrong(WeightsError::AxleCount { given: 4 }),
    );
    page.add("NoWeights", &none, |error| {
        Some(weight_words::none(error, UNITS))
    });
    let troubles = every!(Trouble:
        Trouble::Blocked => Trouble::Blocked,
        Trouble::Full => Trouble::Full,
        Trouble::Failed => Trouble::Failed,
        Trouble::Elsewhere => Trouble::Elsewhere,
        Trouble::SetAside => Trouble::SetAside,
        Trouble::Gone => Trouble::Gone,
    );
    page.add("Trouble", &troubles, |error| Some(words::trouble(*error)));
    let unreadable = every!(Unreadable:
        Unreadable::Damaged => Unreadable::Damaged,
        Unreadable::Newer { .. } => Unreadable::Newer { version: 7 },
        Unreadable::Left => Unreadable::Left,
        Unreadable::Older => Unreadable::Older,
    );
    page.add("Unreadable", &unreadable, |error| {
        Some(words::unreadable(*error))
    });
    let files = every!(FileError:
        FileError::TooLong { .. } => FileError::TooLong { bytes: 7_000_000 },
        FileError::NotOne => FileError::NotOne,
        FileError::Newer { .. } => FileError::Newer { version: 7 },
    );
    page.add("FileError", &files, |error| Some(words::file(*error)));
    let links = every!(LinkError:
        LinkError::TooLong => LinkError::TooLong,
        LinkError::NotOne => LinkError::NotOne,
        LinkError::Newer { .. } => LinkError::Newer { version: 7 },
    );
    page.add("LinkError", &links, |error| Some(copy_words::link(*error)));
    let codes = every!(DateCodeError:
        DateCodeError::Empty => DateCodeError::Empty,
        DateCodeError::ThreeDigits => DateCodeError::ThreeDigits,
        DateCodeError::NotFourDigits => DateCodeError::NotFourDigits,
        DateCodeError::NoSuchWeek { .. } => DateCodeError::NoSuchWeek { week: 54 },
    );
    page.add("DateCodeError", &codes, |error| {
        Some(check_words::date_code_error(*error))
    });
    page.0
}

#[test]
fn every_message_is_as_it_was_reviewed() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/messages.txt");
    let now = text();
    if std::env::var_os("REWRITE").is_some() {
        std::fs::write(path, &now).expect("written");
    }
    let reviewed = std::fs::read_to_string(path).expect("tests/messages.txt");
    for (at, (now, reviewed)) in now.lines().zip(reviewed.lines()).enumerate() {
        assert_eq!(now, reviewed, "line {} of tests/messages.txt", at + 1);
    }
    assert_eq!(now, reviewed);
}
