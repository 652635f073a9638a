//! The log of finished rounds and of one's own checks: a piece for each year,
//! written when something is finished, never while something is typed.

use super::is_within;
use super::round::Round;
use crate::calc::limits::Field;
use crate::rig::calendar;
use crate::rig::keep::kept;
use crate::rig::section::Section;
use crate::rig::typed::TypedDistance;

kept! {
    /// A check of one's own, done.
    #[derive(Default)]
    pub struct OwnDone {
        /// Which, by its number; its name may have changed since.
        id: u32 = "id",
        /// What it was called.
        name: String = "name",
        /// Local day, counted from 1970-01-01.
        day: u32 = "day",
        /// Odometer, where it was known.
        odometer: Option<TypedDistance> = "odometer",
    }
}

kept! {
    /// The log of one year.
    #[derive(Default)]
    pub struct Log {
        /// Finished rounds, oldest first.
        rounds: Vec<Round> = "rounds",
        /// One's own checks, oldest first.
        done: Vec<OwnDone> = "done",
    }
}

impl Section for Log {
    const PART: &'static str = "log";
    const VERSION: u32 = 1;

    fn fresh(_: bool) -> Self {
        Self::default()
    }

    fn migrate(_: u32, _: &str) -> Option<Self> {
        None
    }

    fn is_sound(&self) -> bool {
        self.rounds.len() <= Self::MOST_ROUNDS
            && self.readings() <= Self::MOST_READINGS
            && self.done.len() <= Self::MOST_DONE
            && self.rounds.iter().all(Round::is_sound)
            && self
                .done
                .iter()
                .all(|of| is_within(of.odometer, Field::Odometer))
    }
}

impl Log {
    /// Most rounds of a year: more than one a day.
    pub const MOST_ROUNDS: usize = 500;
    /// Most readings of a year: one a day of 27 tyres.
    pub const MOST_READINGS: usize = 10_000;
    /// Most own checks of a year: as many as there may be, twice a week.
    pub const MOST_DONE: usize = 2_080;

    /// The year's piece that a day is in.
    pub fn piece(day: u32) -> u16 {
        calendar::year(day)
    }

    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        self.rounds.is_empty() && self.done.is_empty()
    }

    fn readings(&self) -> usize {
        self.rounds.iter().map(|round| round.readings.len()).sum()
    }

    /// Adds a finished round. Whether there was room.
    pub fn add(&mut self, round: Round) -> bool {
        let room = self.rounds.len() < Self::MOST_ROUNDS
            && self.readings() + round.readings.len() <= Self::MOST_READINGS;
        if room {
            self.rounds.push(round);
        }
        room
    }

    /// Adds a check of one's own. Whether there was room.
    pub fn add_done(&mut self, done: OwnDone) -> bool {
        let room = self.done.len() < Self::MOST_DONE;
        if room {
            self.done.push(done);
        }
        room
    }
}
