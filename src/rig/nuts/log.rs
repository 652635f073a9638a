//! The log of wheels refitted and checked, and what is due.

use super::Nuts;
use crate::calc::limits::Field;
use crate::calc::torque::recheck::{RECHECK_KILOMETRES, Recheck};
use crate::rig::Rig;
use crate::rig::keep::{Unknown, kept};
use crate::rig::names::named;
use crate::rig::position::{TyrePosition, Wheel};
use crate::rig::typed::{TypedDistance, TypedTorque};
use uom::si::f64::Length;
use uom::si::length::kilometer;

named!(Done {
    Refitted: "refitted",
    Checked: "checked",
});

/// What was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Done {
    /// The wheel went back on.
    Refitted,
    /// Its nuts were checked.
    Checked,
}

kept! {
    /// One line of the log.
    pub struct LogEntry {
        /// The wheel; every wheel where there is none.
        wheel: Option<Wheel> = "wheel",
        /// What was done.
        done: Done = "done",
        /// Local day, counted from 1970-01-01.
        day: u32 = "day",
        /// Odometer, where it was entered.
        odometer: Option<TypedDistance> = "odometer",
        /// The makers' figure it was tightened to.
        torque: Option<TypedTorque> = "torque",
    }
}

impl Default for LogEntry {
    fn default() -> Self {
        Self {
            wheel: None,
            done: Done::Checked,
            day: 0,
            odometer: None,
            torque: None,
            unknown: Unknown::default(),
        }
    }
}

impl LogEntry {
    /// The odometer's kilometres, where they were entered.
    pub fn odometer_km(&self) -> Option<f64> {
        self.odometer.map(TypedDistance::kilometres)
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
        /// The time between routine checks has gone by.
        late: bool,
    },
    /// The routine check.
    Routine {
        /// The time between routine checks has gone by.
        due: bool,
        /// The day it is up.
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
    /// Adds a line to the log; the oldest goes where there are too many.
    pub fn log(&mut self, entry: LogEntry) {
        self.log.push(entry);
        let over = self.log.len().saturating_sub(Self::MOST_ENTRIES);
        self.log.drain(..over);
    }

    /// How each wheel of the rig stands on day `today` with the odometer at
    /// `now_km`, in the order of a walk; nothing for one that is not in the
    /// log.
    pub fn due(
        &self,
        rig: &Rig,
        today: u32,
        now_km: Option<f64>,
    ) -> Vec<(TyrePosition, Option<Due>)> {
        let wheels = rig.wheels().into_iter();
        wheels
            .map(|at| (at, self.due_of(rig, at, today, now_km)))
            .collect()
    }

    /// What was done to a wheel, newest first.
    pub fn done<'a>(
        &'a self,
        rig: &'a Rig,
        at: TyrePosition,
    ) -> impl Iterator<Item = &'a LogEntry> {
        let entries = self.log.iter().rev();
        entries.filter(move |entry| {
            let wheel = entry.wheel;
            wheel.is_none_or(|wheel| rig.place_of(wheel) == Some(at))
        })
    }

    fn due_of(&self, rig: &Rig, at: TyrePosition, today: u32, now_km: Option<f64>) -> Option<Due> {
        let every = self.days_between();
        let late = |day: u32| today.saturating_sub(day) >= every;
        let start = *RECHECK_KILOMETRES.start();
        let mut checks: Vec<&LogEntry> = Vec::new();
        for entry in self.done(rig, at) {
            if entry.done == Done::Checked {
                checks.push(entry);
                continue;
            }
            // A check before 50 km came too early to be the one.
            let settled = checks.iter().any(|check| {
                driven(entry.odometer_km(), check.odometer_km()).is_none_or(|km| km >= start)
            });
            if settled {
                break;
            }
            let at = entry.odometer_km().and_then(odometer);
            return Some(Due::AfterRefit {
                recheck: driven(at, now_km).map(|km| Recheck::after(Length::new::<kilometer>(km))),
                between_km: at.map(|km| (km + start, km + RECHECK_KILOMETRES.end())),
                late: late(entry.day),
            });
        }
        checks.first().map(|last| Due::Routine {
            due: late(last.day),
            on: last.day.saturating_add(every),
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
