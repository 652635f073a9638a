//! What one half's nuts are tightened to, and how far that has got.

use super::Target;
use crate::calc::torque::sequence::{Progress, Stages, Studs};
use crate::calc::torque::spec::{self, Spec};
use crate::calc::torque::thread::{PropertyClass, Surfaces, Thread};
use crate::calc::torque::{TorqueError, TorqueUnit};
use crate::rig::keep::{Unknown, kept};
use crate::rig::names::named;
use crate::rig::position::Wheel;
use crate::rig::typed::in_unit::newton_metres;
use crate::rig::typed::{Amount, Typed, TypedShare, TypedTorque};

named!(Stated {
    Nothing: "nothing",
    Percent: "percent",
    PlusMinus: "plus_minus",
    MinusPlus: "minus_plus",
    Range: "range",
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

kept! {
    /// What one half's nuts are tightened to, and how far that has got.
    pub struct NutSet {
        /// Unit of the makers' figure, once chosen: 105 off a sticker in ft·lbf
        /// was once taken for newton metres.
        unit: Option<TorqueUnit> = "unit",
        /// The makers' figure; with a range, nothing.
        nominal: Option<TypedTorque> = "nominal",
        /// How its tolerance is stated.
        stated: Stated = "stated",
        /// ± per cent.
        tolerance: Option<TypedShare> = "tolerance",
        /// Allowed below the figure.
        minus: Option<TypedTorque> = "minus",
        /// Allowed above the figure; ± where both are the same.
        plus: Option<TypedTorque> = "plus",
        /// Least of a range.
        low: Option<TypedTorque> = "low",
        /// Most of a range.
        high: Option<TypedTorque> = "high",
        /// Studs of a wheel.
        studs: u8 = "studs",
        /// Times round.
        stages: u8 = "stages",
        /// The wheel being tightened, once chosen.
        wheel: Option<Wheel> = "wheel",
        /// Stud numbers ticked on it.
        ticked: Vec<u8> = "ticked",
        /// Ticks of a wheel that was given up, until another is begun.
        given_up: Vec<u8> = "given_up",
        /// The wheel that was given up.
        given_up_wheel: Option<Wheel> = "given_up_wheel",
        /// What the last stage of the wheel begun last was pulled to.
        begun: Option<TypedTorque> = "begun",
        /// Stud thread, once chosen.
        thread: Option<Thread> = "thread",
        /// Stud strength, once chosen.
        class: Option<PropertyClass> = "class",
        /// State of the threads.
        threads: Surfaces = "threads",
    }
}

impl Default for NutSet {
    fn default() -> Self {
        Self {
            unit: None,
            nominal: None,
            stated: Stated::Nothing,
            tolerance: None,
            minus: None,
            plus: None,
            low: None,
            high: None,
            studs: 6,
            stages: 2,
            wheel: None,
            ticked: Vec::new(),
            given_up: Vec::new(),
            given_up_wheel: None,
            begun: None,
            thread: None,
            class: None,
            threads: Surfaces::Dry,
            unknown: Unknown::default(),
        }
    }
}

/// The number of a torque in `unit`: as typed where that is its own, else in
/// the millionths that are shown.
pub(super) fn number_in(unit: TorqueUnit, typed: TypedTorque) -> f64 {
    if typed.amount().unit() == unit.into() {
        typed.amount().number()
    } else {
        TypedTorque::stated(typed.quantity(), unit)
            .amount()
            .number()
    }
}

/// Takes the digits of a torque for one in another unit.
pub(super) fn restate(typed: &mut Option<TypedTorque>, from: TorqueUnit, to: TorqueUnit) {
    *typed = typed.and_then(|typed| Typed::of(Amount::new(number_in(from, typed), to.into())));
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
        let number = |typed: Option<TypedTorque>| typed.map(|typed| number_in(unit, typed));
        if self.stated == Stated::Range {
            let (Some(low), Some(high)) = (number(self.low), number(self.high)) else {
                return Ok(None);
            };
            return Ok(Some(Spec::range(low, high, unit)?));
        }
        let tolerance = match self.stated {
            Stated::Nothing | Stated::Range => Some(spec::Tolerance::Unstated),
            Stated::Percent => self
                .tolerance
                .map(|share| spec::Tolerance::Percent(share.percent())),
            Stated::PlusMinus => number(self.plus).map(spec::Tolerance::PlusMinus),
            Stated::MinusPlus => number(self.minus)
                .zip(number(self.plus))
                .map(|(minus, plus)| spec::Tolerance::MinusPlus { minus, plus }),
        };
        match (number(self.nominal), tolerance) {
            (Some(nominal), Some(tolerance)) => Ok(Some(Spec::new(nominal, unit, tolerance)?)),
            _ => Ok(None),
        }
    }

    /// Takes `unit` for what the numbers are stated in: they keep their
    /// digits, not their torque.
    pub fn restate(&mut self, unit: TorqueUnit) {
        let from = self.unit.unwrap_or(unit);
        for typed in [
            &mut self.nominal,
            &mut self.minus,
            &mut self.plus,
            &mut self.low,
            &mut self.high,
        ] {
            restate(typed, from, unit);
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
            self.begun = target.map(|target| newton_metres(target.newton_metres()));
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
                .begun
                .is_none_or(|begun| (begun.amount().number() - target.newton_metres()).abs() > SAME)
    }
}
