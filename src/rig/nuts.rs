//! Wheel nuts as kept with a rig: what the makers state, the wrench, the wheel
//! being tightened, and the log.
//!
//! Torques are kept in newton metres and go back to the unit they were stated
//! in as millionths of it, so that a figure is decided on what was typed.

use super::position::{Half, Side, TyrePosition, Wheel};
use super::{Rig, record};
use crate::calc::limits::Field;
use crate::calc::torque::adapter::Adapter;
use crate::calc::torque::recheck::{RECHECK_KILOMETRES, ROUTINE_DAYS, Recheck};
use crate::calc::torque::sequence::{Progress, Stages, Studs};
use crate::calc::torque::spec::{self, Spec};
use crate::calc::torque::thread::{PropertyClass, Surfaces, Thread};
use crate::calc::torque::wrench::{self, Answer, Mark, Scale, ToolClass};
use crate::calc::torque::{Torque, TorqueError, TorqueUnit, newton_meter};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use uom::si::f64::{Angle, Length};
use uom::si::{angle::degree, length::kilometer, length::millimeter};

/// Keeps an enum under the given names. Serde's own derive takes ten times
/// the code for it, in a page that is loaded by phone.
macro_rules! by_name {
    ($name:ident { $($variant:ident: $text:literal),+ $(,)? }) => {
        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
                to.serialize_str(match self { $(Self::$variant => $text,)+ })
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                const ALL: &[$name] = &[$($name::$variant),+];
                Ok(ALL[record::name(from, &[$($text),+])?])
            }
        }
    };
}

by_name!(TorqueUnit {
    NewtonMetre: "newton_metre",
    FootPound: "foot_pound",
    InchPound: "inch_pound",
    KilogramMetre: "kilogram_metre",
});
by_name!(Thread {
    M12Pitch125: "m12_pitch_1.25",
    M12Pitch150: "m12_pitch_1.5",
    M14Pitch150: "m14_pitch_1.5",
    SevenSixteenths20: "7/16-20",
    Half20: "1/2-20",
    NineSixteenths18: "9/16-18",
});
by_name!(PropertyClass {
    Iso8_8: "8.8",
    Iso10_9: "10.9",
    Sae5: "sae_5",
    Sae8: "sae_8",
});
by_name!(Surfaces {
    Dry: "dry",
    Lubricated: "lubricated",
});
by_name!(Half {
    Vehicle: "vehicle",
    Trailer: "trailer",
});
by_name!(Stated {
    Nothing: "nothing",
    Percent: "percent",
    PlusMinus: "plus_minus",
    MinusPlus: "minus_plus",
    Range: "range",
});
by_name!(AccuracyFrom {
    Unknown: "unknown",
    SettingScale: "setting_scale",
    IndicatingDial: "indicating_dial",
    IndicatingElectronic: "indicating_electronic",
    IndicatingBar: "indicating_bar",
    OfReading: "of_reading",
    OfFullScale: "of_full_scale",
});
by_name!(Done {
    Refitted: "refitted",
    Checked: "checked",
});

/// How a tolerance is stated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Stated {
    /// Not at all.
    #[default]
    Nothing,
    /// ± per cent.
    Percent,
    /// ± a torque.
    PlusMinus,
    /// One torque below, another above.
    MinusPlus,
    /// From one torque to another.
    Range,
}

/// What one half's nuts are tightened to, and how far that has got.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct NutSet {
    /// Unit of the makers' figure, once chosen: 105 off a sticker in ft·lbf
    /// was once taken for newton metres.
    pub unit: Option<TorqueUnit>,
    /// The makers' figure; with a range, nothing.
    #[serde(with = "record::number::maybe")]
    pub nominal_nm: Option<f64>,
    /// How its tolerance is stated.
    pub stated: Stated,
    /// ± per cent.
    #[serde(with = "record::number::maybe")]
    pub tolerance_percent: Option<f64>,
    /// Allowed below the figure.
    #[serde(with = "record::number::maybe")]
    pub minus_nm: Option<f64>,
    /// Allowed above the figure; ± where both are the same.
    #[serde(with = "record::number::maybe")]
    pub plus_nm: Option<f64>,
    /// Least of a range.
    #[serde(with = "record::number::maybe")]
    pub low_nm: Option<f64>,
    /// Most of a range.
    #[serde(with = "record::number::maybe")]
    pub high_nm: Option<f64>,
    /// Studs of a wheel.
    pub studs: u8,
    /// Times round.
    pub stages: u8,
    /// The wheel being tightened, once chosen.
    pub wheel: Option<Wheel>,
    /// Stud numbers ticked on it.
    pub ticked: Vec<u8>,
    /// Ticks of a wheel that was given up, until another is begun.
    pub given_up: Vec<u8>,
    /// The wheel that was given up.
    pub given_up_wheel: Option<Wheel>,
    /// What the last stage of the wheel begun last was pulled to.
    #[serde(with = "record::number::maybe")]
    pub begun_nm: Option<f64>,
    /// Stud thread, once chosen.
    pub thread: Option<Thread>,
    /// Stud strength, once chosen.
    pub class: Option<PropertyClass>,
    /// State of the threads.
    pub threads: Surfaces,
}

impl Default for NutSet {
    fn default() -> Self {
        Self {
            unit: None,
            nominal_nm: None,
            stated: Stated::Nothing,
            tolerance_percent: None,
            minus_nm: None,
            plus_nm: None,
            low_nm: None,
            high_nm: None,
            studs: 6,
            stages: 2,
            wheel: None,
            ticked: Vec::new(),
            given_up: Vec::new(),
            given_up_wheel: None,
            begun_nm: None,
            thread: None,
            class: None,
            threads: Surfaces::Dry,
        }
    }
}

/// Where a wrench's accuracy comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AccuracyFrom {
    /// Not entered.
    #[default]
    Unknown,
    /// ISO 6789-1: set on a scale, clicks.
    SettingScale,
    /// ISO 6789-1: dial or scale in a rigid housing.
    IndicatingDial,
    /// ISO 6789-1: electronic.
    IndicatingElectronic,
    /// ISO 6789-1: bar that bends or twists.
    IndicatingBar,
    /// The maker's per cent of the reading.
    OfReading,
    /// The maker's per cent of the highest mark.
    OfFullScale,
}

/// A torque wrench.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct WrenchProfile {
    /// Unit of its scale.
    pub unit: TorqueUnit,
    /// Lowest mark.
    #[serde(with = "record::number::maybe")]
    pub lowest_nm: Option<f64>,
    /// Highest mark.
    #[serde(with = "record::number::maybe")]
    pub highest_nm: Option<f64>,
    /// From mark to mark.
    #[serde(with = "record::number::maybe")]
    pub step_nm: Option<f64>,
    /// Where its accuracy comes from.
    pub accuracy: AccuracyFrom,
    /// The maker's accuracy.
    #[serde(with = "record::number::maybe")]
    pub accuracy_percent: Option<f64>,
}

impl Default for WrenchProfile {
    fn default() -> Self {
        Self {
            unit: TorqueUnit::NewtonMetre,
            lowest_nm: None,
            highest_nm: None,
            step_nm: None,
            accuracy: AccuracyFrom::Unknown,
            accuracy_percent: None,
        }
    }
}

/// An extension or crow's-foot.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct AdapterProfile {
    /// Whether it is on the wrench.
    pub fitted: bool,
    /// Drive to the middle of the grip.
    #[serde(with = "record::number::maybe")]
    pub handle_mm: Option<f64>,
    /// Drive to the middle of the nut.
    #[serde(with = "record::number::maybe")]
    pub length_mm: Option<f64>,
    /// From the handle's line, drawn on past the drive.
    #[serde(with = "record::number::maybe")]
    pub angle_deg: Option<f64>,
}

/// What was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Done {
    /// The wheel went back on.
    Refitted,
    /// Its nuts were checked.
    Checked,
}

/// One line of the log.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(from = "StoredEntry")]
pub struct LogEntry {
    /// The wheel; every wheel where there is none.
    #[serde(serialize_with = "write_wheel")]
    pub wheel: Option<Wheel>,
    /// What was done.
    pub done: Done,
    /// Local day, counted from 1970-01-01.
    pub day: u32,
    /// Odometer, where it was entered.
    #[serde(with = "record::number::maybe", default)]
    pub odometer_km: Option<f64>,
    /// The makers' figure it was tightened to.
    #[serde(with = "record::number::maybe", default)]
    pub torque_nm: Option<f64>,
}

/// What a line's `wheel` says of all of them.
const EVERY: &str = "every";

fn write_wheel<S: Serializer>(wheel: &Option<Wheel>, to: S) -> Result<S::Ok, S::Error> {
    match wheel {
        Some(wheel) => wheel.serialize(to),
        None => to.serialize_str(EVERY),
    }
}

/// A line as it was first written: the half apart, and the wheel by front,
/// middle and rear of it.
#[derive(Deserialize)]
struct StoredEntry {
    #[serde(default)]
    half: Half,
    #[serde(deserialize_with = "read_wheel")]
    wheel: StoredWheel,
    done: Done,
    day: u32,
    #[serde(default)]
    odometer_km: Option<f64>,
    #[serde(default)]
    torque_nm: Option<f64>,
}

enum StoredWheel {
    Every,
    Named(Wheel),
    OfHalf(u8, Side),
}

fn read_wheel<'de, D: Deserializer<'de>>(from: D) -> Result<StoredWheel, D::Error> {
    const OLD: [(&str, u8, Side); 8] = [
        ("front_left", 0, Side::Left),
        ("front_right", 0, Side::Right),
        ("left", 0, Side::Left),
        ("right", 0, Side::Right),
        ("middle_left", 1, Side::Left),
        ("middle_right", 1, Side::Right),
        ("rear_left", Wheel::LAST, Side::Left),
        ("rear_right", Wheel::LAST, Side::Right),
    ];
    let name = String::deserialize(from)?;
    if name == EVERY {
        return Ok(StoredWheel::Every);
    }
    let old = OLD.iter().find(|(of, ..)| *of == name);
    let old = old.map(|(_, axle, side)| StoredWheel::OfHalf(*axle, *side));
    old.or_else(|| Wheel::named(&name).map(StoredWheel::Named))
        .ok_or_else(record::unknown_name)
}

impl From<StoredEntry> for LogEntry {
    fn from(stored: StoredEntry) -> Self {
        Self {
            wheel: match stored.wheel {
                StoredWheel::Every => None,
                StoredWheel::Named(wheel) => Some(wheel),
                StoredWheel::OfHalf(axle, side) => Some(Wheel {
                    half: stored.half,
                    axle,
                    side,
                }),
            },
            done: stored.done,
            day: stored.day,
            odometer_km: stored.odometer_km,
            torque_nm: stored.torque_nm,
        }
    }
}

/// Everything about a rig's wheel nuts.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Nuts {
    /// The half being worked on.
    pub half: Half,
    /// The tow vehicle's nuts.
    #[serde(deserialize_with = "read_set")]
    pub vehicle: NutSet,
    /// The trailer's nuts.
    #[serde(deserialize_with = "read_set")]
    pub trailer: NutSet,
    /// The wrench.
    pub wrench: WrenchProfile,
    /// What is on its drive.
    pub adapter: AdapterProfile,
    /// Odometer now.
    #[serde(with = "record::number::maybe")]
    pub odometer_km: Option<f64>,
    /// What was done, oldest first.
    pub log: Vec<LogEntry>,
}

/// Reads a set. Earlier records came with newton metres that nobody had
/// chosen: with nothing stated in them, they are to be chosen.
fn read_set<'de, D: Deserializer<'de>>(from: D) -> Result<NutSet, D::Error> {
    let mut set = NutSet::deserialize(from)?;
    let stated = [set.nominal_nm, set.plus_nm, set.low_nm, set.high_nm];
    if set.unit == Some(TorqueUnit::NewtonMetre) && stated.iter().all(Option::is_none) {
        set.unit = None;
    }
    Ok(set)
}

/// What is known of the mark to set.
#[derive(Debug, Clone, PartialEq)]
pub enum Finding {
    /// The unit of the makers' figure is still to be chosen: no number counts
    /// before.
    NoUnit,
    /// The makers' figure is still to be entered.
    NoSpec,
    /// It can't be used.
    BadSpec(TorqueError),
    /// The figure alone: the wrench is still to be entered.
    NoWrench(Spec),
    /// What is on the wrench's drive is still to be entered: never the mark
    /// without it.
    NoAdapter(Spec),
    /// The wrench, or what is on it, can't be used.
    BadWrench(Spec, TorqueError),
    /// What the wrench can do for it.
    Mark(Spec, wrench::Wrench, Answer),
}

impl Finding {
    /// The makers' figure, where there is one.
    pub fn spec(&self) -> Option<&Spec> {
        match self {
            Self::NoUnit | Self::NoSpec | Self::BadSpec(_) => None,
            Self::NoWrench(spec)
            | Self::NoAdapter(spec)
            | Self::BadWrench(spec, _)
            | Self::Mark(spec, ..) => Some(spec),
        }
    }

    /// What the last stage is pulled to: the mark, or without a wrench the
    /// figure itself. Nothing where no stage may be pulled on it.
    pub fn last_stage(&self) -> Option<Target> {
        match self {
            Self::NoWrench(spec) => Some(Target::Torque(spec.nominal())),
            Self::Mark(_, wrench, Answer::Set(reading)) => {
                Some(Target::Mark(*wrench, reading.mark))
            }
            _ => None,
        }
    }
}

/// What the nuts are pulled to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Target {
    /// A mark of the wrench.
    Mark(wrench::Wrench, Mark),
    /// A torque; no wrench is known.
    Torque(Torque),
}

impl Target {
    /// The number to set, for telling one target from another.
    pub fn newton_metres(self) -> f64 {
        let torque = match self {
            Self::Mark(_, mark) => mark.unit.torque(mark.value),
            Self::Torque(torque) => torque,
        };
        torque.get::<newton_meter>()
    }
}

/// A kept torque in `unit`, in the millionths it was typed in at most.
fn stated(unit: TorqueUnit, newton_metres: f64) -> f64 {
    (unit.of(Torque::new::<newton_meter>(newton_metres)) * 1e6).round() / 1e6
}

impl NutSet {
    /// What the makers state; nothing while a part of it is to be entered.
    ///
    /// # Errors
    /// [`TorqueError`] as by [`Spec::new`] and [`Spec::range`].
    pub fn spec(&self) -> Result<Option<Spec>, TorqueError> {
        let Some(unit) = self.unit else {
            return Ok(None);
        };
        let number = |nm: Option<f64>| nm.map(|nm| stated(unit, nm));
        if self.stated == Stated::Range {
            let (Some(low), Some(high)) = (number(self.low_nm), number(self.high_nm)) else {
                return Ok(None);
            };
            return Ok(Some(Spec::range(low, high, unit)?));
        }
        let tolerance = match self.stated {
            Stated::Nothing | Stated::Range => Some(spec::Tolerance::Unstated),
            Stated::Percent => self.tolerance_percent.map(spec::Tolerance::Percent),
            Stated::PlusMinus => number(self.plus_nm).map(spec::Tolerance::PlusMinus),
            Stated::MinusPlus => number(self.minus_nm)
                .zip(number(self.plus_nm))
                .map(|(minus, plus)| spec::Tolerance::MinusPlus { minus, plus }),
        };
        match (number(self.nominal_nm), tolerance) {
            (Some(nominal), Some(tolerance)) => Ok(Some(Spec::new(nominal, unit, tolerance)?)),
            _ => Ok(None),
        }
    }

    /// Takes `unit` for what the numbers are stated in: they keep their
    /// digits, not their torque.
    pub fn restate(&mut self, unit: TorqueUnit) {
        let from = self.unit.unwrap_or(unit);
        for nm in [
            &mut self.nominal_nm,
            &mut self.minus_nm,
            &mut self.plus_nm,
            &mut self.low_nm,
            &mut self.high_nm,
        ] {
            restate(nm, from, unit);
        }
        self.unit = Some(unit);
    }

    /// The wheel under way. What is kept and can't be is taken as not begun.
    pub fn progress(&self) -> Progress {
        let studs = Studs::from_count(self.studs).unwrap_or(Studs::Six);
        let stages = Stages::from_count(self.stages).unwrap_or(Stages::Two);
        Progress::resume(studs, stages, &self.ticked)
            .unwrap_or_else(|_| Progress::new(studs, stages))
    }

    /// Keeps the ticks of a wheel; the first of them is pulled for `target`.
    pub fn keep(&mut self, ticked: Vec<u8>, target: Option<Target>) {
        if self.ticked.is_empty() {
            self.begun_nm = target.map(Target::newton_metres);
        }
        self.ticked = ticked;
        self.given_up = Vec::new();
        self.given_up_wheel = None;
    }

    /// Turns to another wheel, or to none; what was ticked on the one before
    /// is given up. Ticks of a wheel that was not named are the new one's.
    pub fn turn_to(&mut self, wheel: Option<Wheel>) {
        if wheel == self.wheel {
            return;
        }
        if self.wheel.is_some() && !self.ticked.is_empty() {
            self.give_up();
        }
        self.wheel = wheel;
    }

    /// Gives the wheel under way up; [`Self::take_up`] takes it up again.
    pub fn give_up(&mut self) {
        self.given_up = std::mem::take(&mut self.ticked);
        self.given_up_wheel = self.wheel;
    }

    /// Takes the wheel that was given up last up again, with the figure that
    /// it was begun with.
    pub fn take_up(&mut self) {
        self.ticked = std::mem::take(&mut self.given_up);
        self.wheel = self.given_up_wheel.take().or(self.wheel);
    }

    /// The wheel under way was begun with another figure than `target`: its
    /// ticks say nothing of this one.
    pub fn begun_otherwise(&self, target: Target) -> bool {
        const SAME: f64 = 1e-6;
        !self.ticked.is_empty()
            && self
                .begun_nm
                .is_none_or(|begun| (begun - target.newton_metres()).abs() > SAME)
    }
}

fn restate(nm: &mut Option<f64>, from: TorqueUnit, to: TorqueUnit) {
    *nm = nm.map(|nm| to.torque(stated(from, nm)).get::<newton_meter>());
}

impl WrenchProfile {
    /// The wrench; nothing while a part of it is to be entered.
    ///
    /// # Errors
    /// [`TorqueError`] as by [`wrench::Wrench::new`].
    pub fn wrench(&self) -> Result<Option<wrench::Wrench>, TorqueError> {
        use wrench::Accuracy;
        let number = |nm: Option<f64>| nm.map(|nm| stated(self.unit, nm));
        let accuracy = match self.accuracy {
            AccuracyFrom::Unknown => None,
            AccuracyFrom::SettingScale => Some(Accuracy::Class(ToolClass::SettingScale)),
            AccuracyFrom::IndicatingDial => Some(Accuracy::Class(ToolClass::IndicatingDial)),
            AccuracyFrom::IndicatingElectronic => {
                Some(Accuracy::Class(ToolClass::IndicatingElectronic))
            }
            AccuracyFrom::IndicatingBar => Some(Accuracy::Class(ToolClass::IndicatingBar)),
            AccuracyFrom::OfReading => self.accuracy_percent.map(Accuracy::OfReading),
            AccuracyFrom::OfFullScale => self.accuracy_percent.map(Accuracy::OfFullScale),
        };
        let scale = (
            number(self.lowest_nm),
            number(self.highest_nm),
            number(self.step_nm),
        );
        let ((Some(lowest), Some(highest), Some(step)), Some(accuracy)) = (scale, accuracy) else {
            return Ok(None);
        };
        let scale = Scale {
            unit: self.unit,
            lowest,
            highest,
            step,
        };
        wrench::Wrench::new(scale, accuracy).map(Some)
    }

    /// Takes `unit` for what the scale is marked in; the numbers stay.
    pub fn restate(&mut self, unit: TorqueUnit) {
        let from = self.unit;
        for nm in [&mut self.lowest_nm, &mut self.highest_nm, &mut self.step_nm] {
            restate(nm, from, unit);
        }
        self.unit = unit;
    }
}

impl AdapterProfile {
    /// What is on the drive: nothing, or an adapter. `None` while a part of it
    /// is to be entered.
    ///
    /// # Errors
    /// [`TorqueError`] as by [`Adapter::new`].
    pub fn adapter(&self) -> Result<Option<Option<Adapter>>, TorqueError> {
        if !self.fitted {
            return Ok(Some(None));
        }
        let (Some(handle), Some(length), Some(angle)) =
            (self.handle_mm, self.length_mm, self.angle_deg)
        else {
            return Ok(None);
        };
        Adapter::new(
            Length::new::<millimeter>(handle),
            Length::new::<millimeter>(length),
            Angle::new::<degree>(angle),
        )
        .map(|adapter| Some(Some(adapter)))
    }
}

/// How a wheel stands to its next check.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Due {
    /// Refitted, and not looked at since.
    AfterRefit {
        /// By the distance driven; nothing where it is not known.
        recheck: Option<Recheck>,
        /// Odometer readings to check between, where known.
        between_km: Option<(f64, f64)>,
        /// Two weeks have gone by.
        late: bool,
    },
    /// The routine check.
    Routine {
        /// Two weeks have gone by.
        due: bool,
        /// The day they are up.
        on: u32,
    },
}

impl Due {
    /// Whether something is to be done now.
    pub fn is_now(self) -> bool {
        match self {
            Self::AfterRefit { recheck, late, .. } => {
                late || matches!(recheck, Some(Recheck::Due | Recheck::Overdue))
            }
            Self::Routine { due, .. } => due,
        }
    }
}

impl Nuts {
    /// Most lines kept in the log.
    pub const MOST_ENTRIES: usize = 100;

    /// Whether every number can be one that was entered, and be written again.
    /// What each may be is checked where it goes into a figure.
    pub(super) fn is_sound(&self) -> bool {
        const BEYOND_ALL: f64 = 1e7;
        let set = |set: &NutSet| {
            [
                set.nominal_nm,
                set.tolerance_percent,
                set.minus_nm,
                set.plus_nm,
                set.low_nm,
                set.high_nm,
                set.begun_nm,
            ]
        };
        let tools = [
            self.wrench.lowest_nm,
            self.wrench.highest_nm,
            self.wrench.step_nm,
            self.wrench.accuracy_percent,
            self.adapter.handle_mm,
            self.adapter.length_mm,
            self.adapter.angle_deg,
            self.odometer_km,
        ];
        let log = self.log.iter();
        let log = log.flat_map(|entry| [entry.odometer_km, entry.torque_nm]);
        set(&self.vehicle)
            .into_iter()
            .chain(set(&self.trailer))
            .chain(tools)
            .chain(log)
            .flatten()
            .all(|number| (0.0..BEYOND_ALL).contains(&number))
    }

    /// The nuts of one half.
    pub fn of(&self, half: Half) -> &NutSet {
        match half {
            Half::Vehicle => &self.vehicle,
            Half::Trailer => &self.trailer,
        }
    }

    /// The nuts of the half being worked on.
    pub fn set(&self) -> &NutSet {
        self.of(self.half)
    }

    /// The same, to change.
    pub fn set_mut(&mut self) -> &mut NutSet {
        match self.half {
            Half::Vehicle => &mut self.vehicle,
            Half::Trailer => &mut self.trailer,
        }
    }

    /// The mark to set on the wrench for the half being worked on.
    pub fn finding(&self) -> Finding {
        self.finding_of(self.half)
    }

    /// The mark to set on the wrench for one half.
    pub fn finding_of(&self, half: Half) -> Finding {
        let set = self.of(half);
        if set.unit.is_none() {
            return Finding::NoUnit;
        }
        let spec = match set.spec() {
            Ok(Some(spec)) => spec,
            Ok(None) => return Finding::NoSpec,
            Err(error) => return Finding::BadSpec(error),
        };
        let wrench = match self.wrench.wrench() {
            Ok(Some(wrench)) => wrench,
            Ok(None) => return Finding::NoWrench(spec),
            Err(error) => return Finding::BadWrench(spec, error),
        };
        match self.adapter.adapter() {
            Ok(Some(adapter)) => {
                let answer = wrench.mark_for(&spec, adapter.as_ref());
                Finding::Mark(spec, wrench, answer)
            }
            Ok(None) => Finding::NoAdapter(spec),
            Err(error) => Finding::BadWrench(spec, error),
        }
    }

    /// Adds a line to the log; the oldest goes where there are too many.
    pub fn log(&mut self, entry: LogEntry) {
        self.log.push(entry);
        let over = self.log.len().saturating_sub(Self::MOST_ENTRIES);
        self.log.drain(..over);
    }

    /// Invented figures for the demo rig.
    pub(super) fn demo() -> Self {
        use TorqueUnit::{FootPound, NewtonMetre};
        let nm = |unit: TorqueUnit, value| Some(unit.torque(value).get::<newton_meter>());
        Self {
            vehicle: NutSet {
                unit: Some(NewtonMetre),
                nominal_nm: nm(NewtonMetre, 125.0),
                stated: Stated::PlusMinus,
                plus_nm: nm(NewtonMetre, 10.0),
                thread: Some(Thread::M12Pitch150),
                class: Some(PropertyClass::Iso10_9),
                ..NutSet::default()
            },
            trailer: NutSet {
                unit: Some(FootPound),
                nominal_nm: nm(FootPound, 90.0),
                stated: Stated::Percent,
                tolerance_percent: Some(10.0),
                thread: Some(Thread::Half20),
                class: Some(PropertyClass::Sae8),
                ..NutSet::default()
            },
            wrench: WrenchProfile {
                lowest_nm: Some(40.0),
                highest_nm: Some(210.0),
                step_nm: Some(2.0),
                accuracy: AccuracyFrom::SettingScale,
                ..WrenchProfile::default()
            },
            ..Self::default()
        }
    }
}

impl Rig {
    /// How each wheel of the rig stands on day `today` with the odometer at
    /// `now_km`, in the order of a walk; nothing for one that is not in the
    /// log.
    pub fn nuts_due(&self, today: u32, now_km: Option<f64>) -> Vec<(TyrePosition, Option<Due>)> {
        let wheels = self.wheels().into_iter();
        wheels
            .map(|at| (at, self.due_of(at, today, now_km)))
            .collect()
    }

    /// What was done to a wheel, newest first.
    pub fn nuts_done(&self, at: TyrePosition) -> impl Iterator<Item = &LogEntry> {
        let entries = self.nuts.log.iter().rev();
        entries.filter(move |entry| {
            let wheel = entry.wheel;
            wheel.is_none_or(|wheel| self.place_of(wheel) == Some(at))
        })
    }

    fn due_of(&self, at: TyrePosition, today: u32, now_km: Option<f64>) -> Option<Due> {
        let late = |day: u32| today.saturating_sub(day) >= u32::from(ROUTINE_DAYS);
        let start = *RECHECK_KILOMETRES.start();
        let mut checks: Vec<&LogEntry> = Vec::new();
        for entry in self.nuts_done(at) {
            if entry.done == Done::Checked {
                checks.push(entry);
                continue;
            }
            // A check before 50 km came too early to be the one.
            let settled = checks.iter().any(|check| {
                driven(entry.odometer_km, check.odometer_km).is_none_or(|km| km >= start)
            });
            if settled {
                break;
            }
            let at = entry.odometer_km.and_then(odometer);
            return Some(Due::AfterRefit {
                recheck: driven(at, now_km).map(|km| Recheck::after(Length::new::<kilometer>(km))),
                between_km: at.map(|km| (km + start, km + RECHECK_KILOMETRES.end())),
                late: late(entry.day),
            });
        }
        checks.first().map(|last| Due::Routine {
            due: late(last.day),
            on: last.day.saturating_add(u32::from(ROUTINE_DAYS)),
        })
    }
}

/// An odometer reading that can be one.
fn odometer(km: f64) -> Option<f64> {
    Field::Odometer.check(km).ok()
}

/// Kilometres from one odometer reading to another, where both are known.
fn driven(from: Option<f64>, to: Option<f64>) -> Option<f64> {
    Some(to.and_then(odometer)? - from.and_then(odometer)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::torque::wrench::Fit;
    use crate::rig::{NO_AXLE, PressureUnit, Unusable};

    fn rig(nuts: Nuts) -> Rig {
        Rig {
            nuts,
            ..Rig::empty("mine", PressureUnit::Psi)
        }
    }

    fn back(nuts: &Nuts) -> Nuts {
        let text = record::write(&rig(nuts.clone())).expect("a record");
        record::read(&text).expect("a rig").nuts
    }

    /// A figure typed in any unit is the same spec after any number of saves.
    #[test]
    fn a_spec_survives_being_kept() {
        for unit in TorqueUnit::ALL {
            for typed in [17.375, 64.0, 99.5, 99.999_999] {
                let mut nuts = Nuts::default();
                nuts.vehicle.unit = Some(unit);
                nuts.vehicle.nominal_nm = Some(unit.torque(typed).get::<newton_meter>());
                let direct = Spec::new(typed, unit, spec::Tolerance::Unstated).unwrap();
                assert_eq!(nuts.vehicle.spec(), Ok(Some(direct)), "{typed} {unit:?}");
                let nuts = back(&back(&nuts));
                assert_eq!(nuts.vehicle.spec(), Ok(Some(direct)), "{typed} {unit:?}");
            }
        }
    }

    #[test]
    fn restating_keeps_the_digits() {
        let mut set = NutSet {
            unit: Some(TorqueUnit::NewtonMetre),
            nominal_nm: Some(105.0),
            ..NutSet::default()
        };
        set.restate(TorqueUnit::FootPound);
        let spec = set.spec().unwrap().unwrap();
        let shown = spec.shown_in(TorqueUnit::NewtonMetre, 1);
        // Common practice, no source: 105 ft·lbf on a caravan's wheel nuts.
        assert_eq!(shown.nominal, 142.4);
    }

    #[test]
    fn the_demo_answers_for_both_halves() {
        let mut nuts = Nuts::demo();
        for half in [Half::Vehicle, Half::Trailer] {
            nuts.half = half;
            let Finding::Mark(_, _, Answer::Set(reading)) = nuts.finding() else {
                panic!("{:?}", nuts.finding());
            };
            assert!(matches!(reading.fit, Fit::Inside { .. }), "{half:?}");
        }
    }

    #[test]
    fn a_part_that_is_missing_is_no_answer() {
        let mut nuts = Nuts::demo();
        nuts.adapter.fitted = true;
        assert!(matches!(nuts.finding(), Finding::NoAdapter(_)));
        assert_eq!(nuts.finding().last_stage(), None);
        nuts.adapter.handle_mm = Some(450.0);
        nuts.adapter.length_mm = Some(400.0);
        nuts.adapter.angle_deg = Some(180.0);
        assert!(matches!(
            nuts.finding(),
            Finding::BadWrench(_, TorqueError::ArmTooShort { .. })
        ));
        nuts.adapter.fitted = false;
        nuts.wrench.accuracy = AccuracyFrom::OfReading;
        assert!(matches!(nuts.finding(), Finding::NoWrench(_)));
        nuts.vehicle.plus_nm = None;
        assert_eq!(nuts.finding(), Finding::NoSpec);
    }

    #[test]
    fn ticks_survive_a_reload_and_hold_for_one_figure_only() {
        let mut nuts = Nuts::demo();
        let target = nuts.finding().last_stage().expect("a target");
        let mut progress = nuts.set().progress();
        for stud in [0, 3, 1] {
            progress.tick(stud).unwrap();
            nuts.set_mut()
                .keep(progress.ticked().to_vec(), Some(target));
        }
        let mut nuts = back(&nuts);
        assert_eq!(nuts.set().progress(), progress);
        assert!(!nuts.set().begun_otherwise(target));
        nuts.set_mut().nominal_nm = Some(100.0);
        let other = nuts.finding().last_stage().expect("a target");
        assert!(nuts.set().begun_otherwise(other));
        nuts.set_mut().give_up();
        assert!(!nuts.set().begun_otherwise(other));
        nuts.set_mut().take_up();
        assert!(nuts.set().begun_otherwise(other) && !nuts.set().begun_otherwise(target));
        nuts.set_mut().ticked = vec![0, 0, 9];
        assert_eq!(nuts.set().progress().ticked(), &[] as &[u8]);
    }

    /// Nuts as version 1 wrote them. If this fails, a user's saved rig would
    /// no longer be read: add a version instead of changing it.
    #[test]
    fn version_1_nuts_stay_readable() {
        let text = r#"{"half":"trailer","wheel":"middle_right",
            "trailer":{"unit":"foot_pound","nominal_nm":142.364884575,"stated":"minus_plus",
            "tolerance_percent":5.0,"minus_nm":0.0,"plus_nm":10.0,"low_nm":1.0,"high_nm":2.0,
            "studs":10,"stages":3,"ticked":[0,5,8],"given_up":[0],"begun_nm":142.0,
            "thread":"7/16-20","class":"sae_8","threads":"lubricated"},
            "wrench":{"unit":"inch_pound","lowest_nm":10.0,"highest_nm":100.0,"step_nm":1.0,
            "accuracy":"of_full_scale","accuracy_percent":3.0},
            "adapter":{"fitted":true,"handle_mm":450.0,"length_mm":50.0,"angle_deg":90.0},
            "odometer_km":84210.0,"log":[{"half":"vehicle","wheel":"every","done":"checked",
            "day":20782,"odometer_km":84000.0,"torque_nm":125.0},{"half":"trailer",
            "wheel":"left","done":"refitted","day":20783}]}"#;
        let nuts: Nuts = serde_json::from_str(text).expect("nuts");
        assert_eq!(nuts.trailer.progress().next(), Some(3));
        assert_eq!(nuts.trailer.class, Some(PropertyClass::Sae8));
        assert_eq!(nuts.wrench.accuracy, AccuracyFrom::OfFullScale);
        assert_eq!(nuts.log.len(), 2);
        assert_eq!(nuts.vehicle, NutSet::default());
        assert_eq!(back(&nuts), nuts);
    }

    fn entry(wheel: &str, done: Done, day: u32, odometer_km: Option<f64>) -> LogEntry {
        LogEntry {
            wheel: Wheel::named(wheel),
            done,
            day,
            odometer_km,
            torque_nm: Some(125.0),
        }
    }

    #[test]
    fn a_refitted_wheel_is_due_by_distance_until_it_is_checked() {
        use Done::{Checked, Refitted};
        let wheel = Wheel::named("trailer_1_left").expect("a wheel");
        let mut nuts = Nuts::default();
        const LEFT: &str = "trailer_1_left";
        nuts.log(entry(LEFT, Refitted, 100, Some(20_000.0)));
        let due = |nuts: &Nuts, now: f64, today| {
            let rig = rig(back(nuts));
            let dues = rig.nuts_due(today, Some(now));
            let left = dues.iter().find(|(at, _)| rig.wheel_at(*at) == wheel);
            left.expect("a wheel").1.expect("in the log")
        };
        let recheck = |due| match due {
            Due::AfterRefit {
                recheck,
                between_km,
                late,
            } => (recheck.unwrap(), between_km, late),
            Due::Routine { .. } => panic!("settled"),
        };
        let between = Some((20_050.0, 20_100.0));
        for (now, today, expected, late) in [
            (20_010.0, 100, Recheck::Ahead, false),
            (20_050.0, 101, Recheck::Due, false),
            (20_101.0, 101, Recheck::Overdue, false),
            (19_000.0, 101, Recheck::Overdue, false),
            (20_010.0, 114, Recheck::Ahead, true),
        ] {
            assert_eq!(recheck(due(&nuts, now, today)), (expected, between, late));
        }
        // Too early to settle it, for one wheel or for all.
        nuts.log(entry(EVERY, Checked, 100, Some(20_020.0)));
        assert_eq!(
            recheck(due(&nuts, 20_060.0, 101)),
            (Recheck::Due, between, false)
        );
        nuts.log(entry(EVERY, Checked, 101, Some(20_070.0)));
        for (wheel_due, today, late) in [
            (due(&nuts, 20_080.0, 114), 114, false),
            (due(&nuts, 20_080.0, 115), 115, true),
        ] {
            let expected = Due::Routine { due: late, on: 115 };
            assert_eq!(wheel_due, expected, "{today}");
        }
        // Off again: the old check settles nothing.
        nuts.log(entry(LEFT, Refitted, 102, None));
        assert_eq!(
            due(&nuts, 20_080.0, 102),
            Due::AfterRefit {
                recheck: None,
                between_km: None,
                late: false
            }
        );
    }

    #[test]
    fn the_log_keeps_the_newest() {
        let mut nuts = Nuts::default();
        for day in 0..150 {
            nuts.log(entry(EVERY, Done::Checked, day, None));
        }
        assert_eq!(nuts.log.len(), Nuts::MOST_ENTRIES);
        assert_eq!(nuts.log.last().map(|entry| entry.day), Some(149));
        assert!(record::write(&rig(nuts)).expect("a record").len() < 30_000);
    }

    /// What could not be written again would lose every later change.
    #[test]
    fn a_number_beyond_all_measure_makes_a_record_unreadable() {
        let text = record::write(&rig(Nuts::demo())).expect("a record");
        assert!(record::read(&text).is_ok());
        for (from, to) in [
            ("\"nominal_nm\":125", "\"nominal_nm\":1e30"),
            ("\"plus_nm\":10", "\"plus_nm\":-10"),
            ("\"odometer_km\":null", "\"odometer_km\":1e12"),
        ] {
            let broken = text.replacen(from, to, 1);
            assert_ne!(broken, text, "{from}");
            assert_eq!(record::read(&broken), Err(record::Unreadable::Damaged));
        }
    }

    #[test]
    fn a_text_of_the_nuts_belongs_to_no_axle() {
        let mut rig = Rig::demo();
        let text = Unusable {
            id: "nuts-vehicle-nominal".to_owned(),
            axle: Some(NO_AXLE),
            text: "12o".to_owned(),
            pressure: false,
            mass: false,
        };
        rig.unusable.push(text.clone());
        rig.remove_axle(0);
        assert_eq!(rig.unusable, [text]);
        let text = record::write(&rig).expect("a record");
        let back = record::read(&text).expect("a rig");
        assert_eq!(back.unusable, rig.unusable);
    }

    #[test]
    fn a_wheel_that_is_not_in_the_log_is_not_known_and_older_names_are_read() {
        let text = r#"{"log":[{"half":"trailer","wheel":"rear_left","done":"checked","day":100},
            {"half":"vehicle","wheel":"front_right","done":"checked","day":100},
            {"wheel":"trailer_1_right","done":"checked","day":100}]}"#;
        let nuts: Nuts = serde_json::from_str(text).expect("nuts");
        let mut rig = Rig::demo();
        rig.nuts = back(&nuts);
        for axles in 1..=3 {
            rig.axles[2].axles = axles;
            let known: Vec<Wheel> = rig
                .nuts_due(101, None)
                .into_iter()
                .filter(|(_, due)| due.is_some())
                .map(|(at, _)| rig.wheel_at(at))
                .collect();
            let named = |name: &str| Wheel::named(name).expect("a wheel");
            let rear = format!("trailer_{axles}_left");
            let mut expected = vec![named(&rear), named("trailer_1_right")];
            expected.push(named("vehicle_1_right"));
            assert_eq!(known, expected, "{axles}");
        }
        assert!(serde_json::from_str::<Nuts>(&text.replace("rear_left", "rear_up")).is_err());
    }

    /// The view came with N·m chosen: 105 off a sticker in ft·lbf was then
    /// taken for 105 N·m.
    #[test]
    fn no_number_counts_before_its_unit() {
        let mut nuts = Nuts::demo();
        nuts.vehicle.unit = None;
        assert_eq!(nuts.finding(), Finding::NoUnit);
        assert_eq!(nuts.finding().last_stage(), None);
        assert_eq!(Nuts::default().finding(), Finding::NoUnit);
        // As records came with it, with a torque and without one.
        let read = |text: &str| {
            serde_json::from_str::<Nuts>(text)
                .expect("nuts")
                .vehicle
                .unit
        };
        let unit = r#"{"vehicle":{"unit":"newton_metre"}}"#;
        assert_eq!(read(unit), None);
        let torque = r#"{"vehicle":{"unit":"newton_metre","nominal_nm":125.0}}"#;
        assert_eq!(read(torque), Some(TorqueUnit::NewtonMetre));
    }

    #[test]
    fn a_wheel_left_for_another_can_be_gone_back_to() {
        let [one, two] = ["vehicle_1_left", "vehicle_2_left"].map(Wheel::named);
        let mut set = Nuts::demo().vehicle;
        set.ticked = vec![0, 3];
        // Kept before wheels had names: whatever is chosen is that wheel.
        set.turn_to(one);
        assert_eq!((set.wheel, set.ticked.len()), (one, 2));
        set.turn_to(two);
        assert_eq!((set.wheel, set.ticked.len()), (two, 0));
        set.take_up();
        assert_eq!((set.wheel, set.ticked), (one, vec![0, 3]));
    }
}
