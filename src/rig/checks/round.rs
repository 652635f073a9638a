//! A check round: the tyres in the order of a walk round the rig, then the
//! nuts.

use super::is_within;
use crate::calc::check::{Verdict, Wanted, Warmth, judge};
use crate::calc::limits::Field;
use crate::rig::keep::{Unknown, kept, kept_value};
use crate::rig::nuts::{Done, LogEntry};
use crate::rig::position::{Spot, TyrePosition, Wheel};
use crate::rig::typed::{TypedDistance, TypedPressure};
use crate::rig::{PressureUnit, Rig, Surface};

kept_value! {
    /// What one tyre read.
    pub struct Reading {
        /// The tyre.
        tyre: Spot = "tyre",
        /// What its gauge showed.
        read: TypedPressure = "read",
        /// What it should have read cold, where there was a figure.
        goal_kpa: Option<f64> = "goal_kpa",
        /// Whether it was not as it should be.
        wrong: bool = "wrong",
    }
}

kept! {
    /// A round, under way or finished.
    pub struct Round {
        /// Local day, counted from 1970-01-01: of the start, then of the end.
        day: u32 = "day",
        /// Minutes after that day's beginning, by the clock there.
        minute: u32 = "minute",
        /// The road that the readings are judged for.
        surface: Surface = "surface",
        /// Whether the tyres were warm.
        warm: bool = "warm",
        /// Temperature of the air around, in °C, where it was known.
        celsius: Option<f64> = "celsius",
        /// Odometer, where it was known.
        odometer: Option<TypedDistance> = "odometer",
        /// What was read, in its order, each tyre once.
        readings: Vec<Reading> = "readings",
        /// The wheels whose nuts were checked.
        nuts: Vec<Wheel> = "nuts",
        /// The tyre in hand, while tyres are read.
        hand: Option<Spot> = "hand",
    }
}

impl Default for Round {
    fn default() -> Self {
        Self {
            day: 0,
            minute: 0,
            surface: Surface::Sealed,
            warm: false,
            celsius: None,
            odometer: None,
            readings: Vec::new(),
            nuts: Vec::new(),
            hand: None,
            unknown: Unknown::default(),
        }
    }
}

impl Round {
    /// Most tyres of a round.
    const MOST_READINGS: usize = Rig::MOST_AXLES * 12;

    /// Whether every number is one that could have been entered.
    pub(super) fn is_sound(&self) -> bool {
        let reading = |of: &Reading| {
            is_within(Some(of.read), Field::TyreReading)
                // Rounded into kilopascals, an end may come back beside itself.
                && of.goal_kpa.is_none_or(|kpa| (1.0..2000.0).contains(&kpa))
        };
        self.minute < 24 * 60
            && self.readings.len() <= Self::MOST_READINGS
            && self.nuts.len() <= Self::MOST_READINGS
            && self.readings.iter().all(reading)
            && is_within(self.odometer, Field::Odometer)
            && self
                .celsius
                .is_none_or(|celsius| Field::AmbientTemperature.check(celsius).is_ok())
    }

    /// What a tyre read in this round.
    pub fn reading(&self, tyre: Spot) -> Option<&Reading> {
        self.readings.iter().find(|of| of.tyre == tyre)
    }

    /// Keeps what a tyre read; read again, it keeps its place.
    pub fn read(&mut self, reading: Reading) {
        match self.readings.iter().position(|of| of.tyre == reading.tyre) {
            Some(place) => self.readings[place] = reading,
            None if self.readings.len() < Self::MOST_READINGS => self.readings.push(reading),
            None => {}
        }
    }

    /// Forgets what a tyre read.
    pub fn forget(&mut self, tyre: Spot) {
        self.readings.retain(|of| of.tyre != tyre);
    }

    /// The first tyre on the way round from the one in hand on that was not
    /// read yet; it comes round to those passed over.
    pub fn next(&self, rig: &Rig) -> Option<TyrePosition> {
        let round = rig.round();
        let in_hand = |at: &TyrePosition| Some(rig.spot_of(*at)) == self.hand;
        let behind = round.iter().position(in_hand).map_or(0, |place| place + 1);
        let (before, after) = round.split_at(behind);
        let mut way = after.iter().chain(before).copied();
        way.find(|at| !in_hand(at) && self.reading(rig.spot_of(*at)).is_none())
    }

    /// Its tyres that were not as they should be.
    pub fn bad(&self) -> Vec<Spot> {
        let bad = self.readings.iter().filter(|of| of.wrong);
        bad.map(|of| of.tyre).collect()
    }

    /// The tyres of the rig that were not read.
    pub fn unread(&self, rig: &Rig) -> Vec<Spot> {
        let all = rig.round().into_iter().map(|at| rig.spot_of(at));
        all.filter(|spot| self.reading(*spot).is_none()).collect()
    }

    /// What the nuts' own log gets of it.
    pub fn nut_lines(&self, rig: &Rig) -> Vec<LogEntry> {
        let line = |wheel: Option<Wheel>| LogEntry {
            wheel,
            done: Done::Checked,
            day: self.day,
            odometer: self.odometer,
            ..LogEntry::default()
        };
        if self.all_nuts(rig) {
            return vec![line(None)];
        }
        self.nuts.iter().map(|wheel| line(Some(*wheel))).collect()
    }

    /// Whether the nuts of every wheel were checked.
    pub fn all_nuts(&self, rig: &Rig) -> bool {
        let mut wheels = rig.wheels().into_iter();
        wheels.all(|at| self.nuts.contains(&rig.wheel_at(at)))
    }
}

/// What a reading says, judged as a round judges it.
///
/// Nothing where there is no figure for its axle, or where it can be none.
pub fn verdict(
    read: TypedPressure,
    wanted: Option<&Wanted>,
    warmth: Warmth,
    unit: PressureUnit,
) -> Option<Verdict> {
    judge(read.quantity(), wanted?, warmth, unit.step()).ok()
}
