//! Wheel nuts as kept with a rig: what the makers state, the wrench, the wheel
//! being tightened, and the log.
//!
//! Torques are kept as they were typed, so that a figure is decided on that.

pub mod log;
pub mod set;
mod version1;
pub mod wrench;

pub use log::{Done, Due, LogEntry};
pub use set::{NutSet, Stated};
pub use wrench::{AccuracyFrom, AdapterProfile, WrenchLacks, WrenchProfile};

use super::draft::Unusable;
use super::keep::kept;
use super::position::Half;
use super::section::{Section, entered};
use super::typed::in_unit::{foot_pounds, newton_metres, percent};
use super::typed::{Kind, Typed, TypedDistance};
use crate::calc::limits::Field;
use crate::calc::torque::recheck::ROUTINE_DAYS;
use crate::calc::torque::spec::Spec;
use crate::calc::torque::thread::{PropertyClass, Thread, clamp_load};
use crate::calc::torque::wrench::{Answer, Mark, Wrench};
use crate::calc::torque::{Torque, TorqueError, TorqueUnit, newton_meter};

/// Below this a wheel nut's torque is doubted: axle makers' figures begin at 54
/// N·m, for studs of 10 mm (a trailer dealer's data sheet; `tests/published`
/// prints them), less what a figure may be rounded by.
const LEAST_NEWTON_METRES: f64 = 50.0;

/// Why a torque as entered is likely to be a slip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Slip {
    /// It is less than any axle maker asks for.
    TooLittle,
    /// It pulls more out of the stud than axle makers' figures do; not known
    /// without thread and class.
    TooMuch {
        /// What it pulls typically, as a share of the proof load.
        share: f64,
    },
}

kept! {
    /// Everything about a rig's wheel nuts.
    #[derive(Default)]
    pub struct Nuts {
        /// The half being worked on.
        half: Half = "half",
        /// The tow vehicle's nuts.
        vehicle: NutSet = "vehicle",
        /// The trailer's nuts.
        trailer: NutSet = "trailer",
        /// The wrench.
        wrench: WrenchProfile = "wrench",
        /// What is on its drive.
        adapter: AdapterProfile = "adapter",
        /// Odometer now.
        odometer: Option<TypedDistance> = "odometer",
        /// Days from one check to the next, where one's own.
        check_days: Option<u32> = "check_days",
        /// What was done, oldest first.
        log: Vec<LogEntry> = "log",
        /// Texts that could not be used, one a field.
        unusable: Vec<Unusable> = "unusable",
    }
}

impl Section for Nuts {
    const PART: &'static str = "nuts";
    const VERSION: u32 = 2;

    fn fresh(demo: bool) -> Self {
        if demo { Self::demo() } else { Self::default() }
    }

    fn migrate(version: u32, body: &str) -> Option<Self> {
        (version == 1).then(|| version1::nuts(body)).flatten()
    }

    /// Whether every number can be one that was entered, and be written again.
    /// What each may be is checked where it goes into a figure.
    fn is_sound(&self) -> bool {
        fn sound<K: Kind, const N: usize>(typed: [Option<Typed<K>>; N]) -> bool {
            const BEYOND_ALL: f64 = 1e7;
            let mut all = typed.into_iter().flatten();
            all.all(|typed| (0.0..BEYOND_ALL).contains(&typed.amount().in_limit_unit()))
        }
        let set = |set: &NutSet| {
            sound([
                set.nominal,
                set.minus,
                set.plus,
                set.low,
                set.high,
                set.begun,
            ]) && sound([set.tolerance])
        };
        let (wrench, adapter) = (&self.wrench, &self.adapter);
        set(&self.vehicle)
            && set(&self.trailer)
            && sound([wrench.lowest, wrench.highest, wrench.step])
            && sound([wrench.maker_accuracy])
            && sound([adapter.handle, adapter.length])
            && sound([adapter.angle])
            && sound([self.odometer])
            && self
                .check_days
                .is_none_or(|days| Field::CheckDays.check(days.into()).is_ok())
            && self
                .log
                .iter()
                .all(|entry| sound([entry.odometer]) && sound([entry.torque]))
    }
}

entered!(Nuts);

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
    Mark(Spec, Wrench, Answer),
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
    Mark(Wrench, Mark),
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

impl Nuts {
    /// Most lines kept in the log.
    pub const MOST_ENTRIES: usize = 100;

    /// Days from one routine check to the next.
    pub fn days_between(&self) -> u32 {
        self.check_days.unwrap_or(ROUTINE_DAYS.into())
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

    /// Why the makers' torque of one half is likely to be a slip.
    pub fn slip(&self, half: Half) -> Option<Slip> {
        let set = self.of(half);
        let torque = set.spec().ok()??.nominal();
        if torque < Torque::new::<newton_meter>(LEAST_NEWTON_METRES) {
            return Some(Slip::TooLittle);
        }
        let answer = clamp_load(torque, set.thread?, set.class?, set.threads).ok()?;
        let clamp = answer.as_is;
        let share = clamp.proof_share.typical;
        clamp.is_doubted().then_some(Slip::TooMuch { share })
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

    /// Invented figures for the demo rig.
    pub(super) fn demo() -> Self {
        Self {
            vehicle: NutSet {
                unit: Some(TorqueUnit::NewtonMetre),
                nominal: Some(newton_metres(125.0)),
                stated: Stated::PlusMinus,
                plus: Some(newton_metres(10.0)),
                thread: Some(Thread::M12Pitch150),
                class: Some(PropertyClass::Iso10_9),
                ..NutSet::default()
            },
            trailer: NutSet {
                unit: Some(TorqueUnit::FootPound),
                nominal: Some(foot_pounds(90.0)),
                stated: Stated::Percent,
                tolerance: Some(percent(10.0)),
                thread: Some(Thread::Half20),
                class: Some(PropertyClass::Sae8),
                ..NutSet::default()
            },
            wrench: WrenchProfile {
                lowest: Some(newton_metres(40.0)),
                highest: Some(newton_metres(210.0)),
                step: Some(newton_metres(2.0)),
                accuracy: AccuracyFrom::SettingScale,
                ..WrenchProfile::default()
            },
            ..Self::default()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::torque::recheck::Recheck;
    use crate::calc::torque::spec;
    use crate::calc::torque::wrench::Fit;
    use crate::rig::position::Wheel;
    use crate::rig::section::{self, Unreadable};
    use crate::rig::typed::in_unit::{degrees, kilometres, millimetres};
    use crate::rig::typed::{Amount, TypedTorque};
    use crate::rig::{PressureUnit, Rig};

    fn back(nuts: &Nuts) -> Nuts {
        section::again(nuts)
    }

    fn torque(number: f64, unit: TorqueUnit) -> Option<TypedTorque> {
        Typed::of(Amount::new(number, unit.into()))
    }

    /// '15' for 105 ft·lbf passed, and a smaller wrench was advised.
    #[test]
    fn a_torque_below_every_axle_makers_is_doubted() {
        let mut nuts = Nuts::default();
        nuts.vehicle.unit = Some(TorqueUnit::FootPound);
        for (typed, doubted) in [(15.0, true), (36.8, true), (36.9, false), (105.0, false)] {
            nuts.vehicle.nominal = Some(foot_pounds(typed));
            let slip = nuts.slip(Half::Vehicle);
            assert_eq!(slip.is_some(), doubted, "{typed} ft·lbf: {slip:?}");
        }
    }

    /// A sticker's 125 N·m entered as ft·lbf passed in silence, though it is
    /// nearly all that the stud bears. Without thread or class nothing is said.
    #[test]
    fn a_torque_that_takes_most_of_what_the_stud_bears_is_doubted() {
        let mut nuts = Nuts::demo();
        assert_eq!(nuts.slip(Half::Vehicle), None);
        assert_eq!(nuts.slip(Half::Trailer), None);
        nuts.vehicle.unit = Some(TorqueUnit::FootPound);
        nuts.vehicle.stated = Stated::Nothing;
        nuts.vehicle.nominal = Some(foot_pounds(125.0));
        let Some(Slip::TooMuch { share }) = nuts.slip(Half::Vehicle) else {
            panic!("a doubt");
        };
        assert!((share - 0.966).abs() < 0.001, "{share}");
        nuts.vehicle.class = None;
        assert_eq!(nuts.slip(Half::Vehicle), None);
    }

    /// A figure typed in any unit is the same spec after any number of saves.
    #[test]
    fn a_spec_survives_being_kept() {
        for unit in TorqueUnit::ALL {
            for typed in [17.375, 64.0, 99.5, 99.999_999] {
                let mut nuts = Nuts::default();
                nuts.vehicle.unit = Some(unit);
                nuts.vehicle.nominal = torque(typed, unit);
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
            nominal: Some(newton_metres(105.0)),
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
        nuts.adapter.handle = Some(millimetres(450.0));
        nuts.adapter.length = Some(millimetres(400.0));
        nuts.adapter.angle = Some(degrees(180.0));
        assert!(matches!(
            nuts.finding(),
            Finding::BadWrench(_, TorqueError::ArmTooShort { .. })
        ));
        nuts.adapter.fitted = false;
        nuts.wrench.accuracy = AccuracyFrom::OfReading;
        assert!(matches!(nuts.finding(), Finding::NoWrench(_)));
        nuts.vehicle.plus = None;
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
        nuts.set_mut().nominal = Some(newton_metres(100.0));
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
        let nuts: Nuts = section::read(1, text).expect("nuts");
        assert_eq!(nuts.trailer.progress().next(), Some(3));
        assert_eq!(nuts.trailer.class, Some(PropertyClass::Sae8));
        assert_eq!(nuts.wrench.accuracy, AccuracyFrom::OfFullScale);
        assert_eq!(nuts.log.len(), 2);
        assert_eq!(
            nuts.trailer.nominal,
            torque(105.002_95, TorqueUnit::FootPound)
        );
        assert_eq!(nuts.adapter.angle, Some(degrees(90.0)));
        assert_eq!(nuts.odometer, Some(kilometres(84_210.0)));
        assert_eq!(nuts.vehicle, NutSet::default());
        assert_eq!(back(&nuts), nuts);
    }

    fn entry(wheel: &str, done: Done, day: u32, odometer_km: Option<f64>) -> LogEntry {
        LogEntry {
            wheel: Wheel::named(wheel),
            done,
            day,
            odometer: odometer_km.map(kilometres),
            torque: Some(newton_metres(125.0)),
            ..LogEntry::default()
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
            let rig = Rig::empty("mine", PressureUnit::Psi);
            let dues = back(nuts).due(&rig, today, Some(now));
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
        nuts.log(entry("every", Checked, 100, Some(20_020.0)));
        assert_eq!(
            recheck(due(&nuts, 20_060.0, 101)),
            (Recheck::Due, between, false)
        );
        nuts.log(entry("every", Checked, 101, Some(20_070.0)));
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
            nuts.log(entry("every", Done::Checked, day, None));
        }
        assert_eq!(nuts.log.len(), Nuts::MOST_ENTRIES);
        assert_eq!(nuts.log.last().map(|entry| entry.day), Some(149));
        assert!(section::body(&nuts).expect("a record").len() < 30_000);
    }

    /// What could not be written again would lose every later change.
    #[test]
    fn a_number_beyond_all_measure_makes_a_record_unreadable() {
        let body = section::body(&Nuts::demo()).expect("a record");
        assert!(section::read::<Nuts>(2, &body).is_ok());
        for (from, to) in [
            ("\"125 N.m\"", "\"100000000 N.m\""),
            ("\"10 N.m\"", "\"-10 N.m\""),
            ("\"10 N.m\"", "\"10 kg\""),
            ("\"10 N.m\"", "10"),
        ] {
            let broken = body.replacen(from, to, 1);
            assert_ne!(broken, body, "{from}");
            assert_eq!(
                section::read::<Nuts>(2, &broken),
                Err(Unreadable::Damaged),
                "{to}"
            );
        }
    }

    #[test]
    fn a_wheel_that_is_not_in_the_log_is_not_known_and_older_names_are_read() {
        let text = r#"{"log":[{"half":"trailer","wheel":"rear_left","done":"checked","day":100},
            {"half":"vehicle","wheel":"front_right","done":"checked","day":100},
            {"wheel":"trailer_1_right","done":"checked","day":100}]}"#;
        let read = |text: &str| section::read::<Nuts>(1, text);
        let nuts = back(&read(text).expect("nuts"));
        let mut rig = Rig::demo();
        for axles in 1..=3 {
            rig.axles[2].axles = axles;
            let known: Vec<Wheel> = nuts
                .due(&rig, 101, None)
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
        assert!(read(&text.replace("rear_left", "rear_up")).is_err());
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
        let read = |text: &str| section::read::<Nuts>(1, text).expect("nuts").vehicle.unit;
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
