//! Checks as kept with a rig: the round under way, what is done how often, and
//! what is known of each tyre. Finished rounds are in [`log`], a piece a year.

pub mod calendar_file;
pub mod due;
pub mod log;
pub mod round;
pub mod table;

pub use due::{Matter, Task};
pub use log::{Log, OwnDone};
pub use round::{Reading, Round};

use super::calendar;
use super::draft::Unusable;
use super::keep::{Unknown, kept};
use super::position::Spot;
use super::section::{Section, entered};
use super::typed::{Kind, Typed, TypedDistance, TypedLength};
use crate::calc::limits::Field;
use crate::calc::torque::recheck::ROUTINE_DAYS;
use crate::calc::tyre::wear::{Age, DateCode};

/// A mean year of the Gregorian calendar, in days.
const YEAR_DAYS: f64 = 365.2425;

/// Days from one look at all pressures to the next: common practice, no source.
pub const PRESSURE_DAYS: u32 = ROUTINE_DAYS as u32;

kept! {
    /// A check of a person's own.
    #[derive(Default)]
    pub struct OwnCheck {
        /// Tells it from the others; never used again.
        id: u32 = "id",
        /// What is looked at.
        name: String = "name",
        /// Days from one to the next, where it hangs on days.
        days: Option<u32> = "days",
        /// Distance from one to the next, where it hangs on that.
        distance: Option<TypedDistance> = "distance",
        /// Local day when it was done last, counted from 1970-01-01.
        done_day: Option<u32> = "done_day",
        /// Odometer then, where it was known.
        done_at: Option<TypedDistance> = "done_at",
    }
}

kept! {
    /// What is known of one tyre.
    pub struct TyreFacts {
        /// Which.
        tyre: Spot = "tyre",
        /// Its date code, as on its sidewall.
        made: String = "made",
        /// Depth of its shallowest main groove.
        tread: Option<TypedLength> = "tread",
        /// Local day when that was measured, counted from 1970-01-01.
        tread_day: Option<u32> = "tread_day",
    }
}

impl Default for TyreFacts {
    fn default() -> Self {
        Self::of(Spot {
            wheel: super::position::Wheel {
                half: super::position::Half::Vehicle,
                axle: 0,
                side: super::position::Side::Left,
            },
            inner: false,
        })
    }
}

impl TyreFacts {
    /// Nothing is known yet.
    pub fn of(tyre: Spot) -> Self {
        Self {
            tyre,
            made: String::new(),
            tread: None,
            tread_day: None,
            unknown: Unknown::default(),
        }
    }

    /// The first day of the week that it was made in.
    pub fn made_day(&self) -> Option<u32> {
        let code = DateCode::read(&self.made).ok()?;
        calendar::of_week(code.year(), code.week())
    }

    /// Its age in days on a local day, and what that asks for.
    pub fn age(&self, today: u32) -> Option<(u32, Age)> {
        let days = today.saturating_sub(self.made_day()?);
        Some((days, Age::after(f64::from(days) / YEAR_DAYS)))
    }
}

kept! {
    /// The last finished round, so that what is due is known without the log.
    #[derive(Default)]
    pub struct LastRound {
        /// Local day, counted from 1970-01-01.
        day: u32 = "day",
        /// The moment, in days since 1970.
        at: f64 = "at",
        /// Its tyres that were not as they should be.
        bad: Vec<Spot> = "bad",
    }
}

impl LastRound {
    /// What is known once `round` was finished at a moment: what was found
    /// `before` and not read now is still so. Nothing new by a round of nuts
    /// alone, which is no look at the pressures.
    pub fn after(before: Option<Self>, round: &Round, at: f64) -> Option<Self> {
        if round.readings.is_empty() {
            return before;
        }
        let mut bad = round.bad();
        let before = before.map_or(Vec::new(), |last| last.bad).into_iter();
        bad.extend(before.filter(|tyre| round.reading(*tyre).is_none()));
        Some(Self {
            day: round.day,
            at,
            bad,
            ..Self::default()
        })
    }
}

kept! {
    /// Everything about checks but the log.
    #[derive(Default)]
    pub struct Checks {
        /// The round under way.
        round: Option<Round> = "round",
        /// The last one that was finished.
        last: Option<LastRound> = "last",
        /// Days between looks at the pressures, where one's own.
        pressure_days: Option<u32> = "pressure_days",
        /// One's own checks.
        own: Vec<OwnCheck> = "own",
        /// What is known of the tyres, each once.
        tyres: Vec<TyreFacts> = "tyres",
        /// Names its entries in calendars apart from all others; nothing until
        /// one was saved.
        calendar: String = "calendar",
        /// Texts that could not be used, one a field.
        unusable: Vec<Unusable> = "unusable",
    }
}

impl Section for Checks {
    const PART: &'static str = "checks";
    const VERSION: u32 = 1;

    fn fresh(_: bool) -> Self {
        Self::default()
    }

    fn migrate(_: u32, _: &str) -> Option<Self> {
        None
    }

    fn is_sound(&self) -> bool {
        let own = |of: &OwnCheck| {
            is_within(of.distance, Field::CheckDistance)
                && is_within(of.done_at, Field::Odometer)
                && of.days.is_none_or(are_days)
        };
        let tyre = |of: &TyreFacts| is_within(of.tread, Field::TreadDepth);
        let last = |of: &LastRound| {
            of.bad.len() <= Self::MOST_TYRES && Field::ReadingDay.check(of.at).is_ok()
        };
        self.own.len() <= Self::MOST_OWN
            && self.last.as_ref().is_none_or(last)
            && self.tyres.len() <= Self::MOST_TYRES
            && self.own.iter().all(own)
            && self.tyres.iter().all(tyre)
            && self.pressure_days.is_none_or(are_days)
            && self.round.as_ref().is_none_or(Round::is_sound)
    }
}

entered!(Checks);

/// Whether a number of days can be one between checks.
fn are_days(days: u32) -> bool {
    Field::CheckDays.check(days.into()).is_ok()
}

/// Whether an amount, where there is one, is what its field may be.
fn is_within<K: Kind>(typed: Option<Typed<K>>, field: Field) -> bool {
    typed.is_none_or(|typed| field.check(typed.amount().in_limit_unit()).is_ok())
}

impl Checks {
    /// Most checks of one's own.
    pub const MOST_OWN: usize = 20;
    /// Longest name of one, in characters.
    pub const LONGEST_NAME: usize = 40;
    /// Most tyres that something is known of: those of a rig, and some that
    /// it has lost with an axle.
    pub const MOST_TYRES: usize = 100;

    /// Days between looks at the pressures.
    pub fn days_between(&self) -> u32 {
        self.pressure_days.unwrap_or(PRESSURE_DAYS)
    }

    /// Adds a check of one's own, with no name yet; nothing where there are
    /// too many.
    pub fn add_own(&mut self) -> Option<u32> {
        if self.own.len() >= Self::MOST_OWN {
            return None;
        }
        let id = self.own.iter().map(|of| of.id).fold(0, u32::max) + 1;
        self.own.push(OwnCheck {
            id,
            ..OwnCheck::default()
        });
        Some(id)
    }

    /// A check of one's own.
    pub fn own(&self, id: u32) -> Option<&OwnCheck> {
        self.own.iter().find(|of| of.id == id)
    }

    /// The same, to change.
    pub fn own_mut(&mut self, id: u32) -> Option<&mut OwnCheck> {
        self.own.iter_mut().find(|of| of.id == id)
    }

    /// What is known of a tyre.
    pub fn tyre(&self, tyre: Spot) -> Option<&TyreFacts> {
        self.tyres.iter().find(|of| of.tyre == tyre)
    }

    /// Changes what is known of a tyre.
    pub fn change_tyre(&mut self, tyre: Spot, change: impl FnOnce(&mut TyreFacts)) {
        let place = match self.tyres.iter().position(|of| of.tyre == tyre) {
            Some(place) => place,
            None if self.tyres.len() >= Self::MOST_TYRES => return,
            None => {
                self.tyres.push(TyreFacts::of(tyre));
                self.tyres.len() - 1
            }
        };
        change(&mut self.tyres[place]);
    }
}
