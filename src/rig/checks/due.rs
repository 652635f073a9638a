//! What is due: pressures, nuts, tyres by age and tread, and one's own checks.

use super::{Checks, OwnCheck, YEAR_DAYS};
use crate::calc::torque::recheck::Recheck;
use crate::calc::tyre::wear::{Age, Tread};
use crate::rig::Rig;
use crate::rig::nuts::{Due, Nuts};
use crate::rig::position::{Spot, Wheel};
use crate::rig::set_to::Ended;
use crate::rig::typed::{TypedDistance, TypedLength};
use uom::si::f64::Length;
use uom::si::length::millimeter;

/// What is to be looked at.
#[derive(Debug, Clone, PartialEq)]
pub enum Matter {
    /// Tyres that the last round found not as they should be, and that were
    /// not set since.
    Bad(Vec<Spot>),
    /// All pressures.
    Pressures,
    /// The nuts of these wheels.
    Nuts {
        /// Which.
        wheels: Vec<Wheel>,
        /// Whether they are all that the rig has.
        all: bool,
        /// Whether one of them went on more than 100 km ago and was not
        /// looked at since.
        overdue: bool,
    },
    /// A tyre's age.
    Age {
        /// Which.
        tyre: Spot,
        /// What it asks for.
        age: Age,
        /// Whole years since it was made.
        years: u32,
    },
    /// A tyre's tread.
    Tread {
        /// Which.
        tyre: Spot,
        /// What it asks for.
        tread: Tread,
    },
    /// A check of one's own, by its number.
    Own(u32),
}

/// When.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum When {
    /// Its time has come.
    Now {
        /// The local day when it came, where that hangs on days.
        since: Option<u32>,
    },
    /// It was never done, so far as is known.
    Never,
    /// Still ahead: at a day, at an odometer reading, or whichever comes first.
    Ahead {
        /// Local day, counted from 1970-01-01.
        on: Option<u32>,
        /// Odometer reading, in kilometres.
        at_km: Option<f64>,
    },
    /// Nothing to do at a day; to be kept in mind.
    Standing,
}

/// One line of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    /// What.
    pub matter: Matter,
    /// When.
    pub when: When,
}

impl Task {
    /// Whether its time has come.
    pub fn is_now(&self) -> bool {
        matches!(self.when, When::Now { .. })
    }
}

/// Everything that is due or will be, what is due first.
pub fn list(rig: &Rig, checks: &Checks, nuts: &Nuts, today: u32) -> Vec<Task> {
    let now_km = nuts.odometer.map(TypedDistance::kilometres);
    let mut all: Vec<Task> = bad(rig, checks).into_iter().collect();
    all.push(pressures(rig, checks, today));
    all.extend(of_nuts(rig, nuts, today, now_km));
    for tyre in rig.round().into_iter().map(|at| rig.spot_of(at)) {
        all.extend(age(checks, tyre, today));
        all.extend(tread(checks, tyre));
    }
    all.extend(checks.own.iter().map(|own| of_own(own, today, now_km)));
    let (now, later): (Vec<_>, Vec<_>) = all.into_iter().partition(Task::is_now);
    now.into_iter().chain(later).collect()
}

/// When something that was done on `done` is due again after `every` days.
fn after_days(done: u32, every: u32, today: u32) -> When {
    let on = done.saturating_add(every);
    if today >= on {
        When::Now { since: Some(on) }
    } else {
        When::Ahead {
            on: Some(on),
            at_km: None,
        }
    }
}

/// The day all pressures were last looked at: by a round, or by a walk that
/// set every tyre.
fn looked_at(rig: &Rig, checks: &Checks) -> Option<u32> {
    let round = checks.last.as_ref().map(|last| last.day);
    let walk = rig.set_to.last.filter(|last| last.ended == Ended::Finished);
    let walk = walk.map(|last| last.day as u32);
    round.max(walk)
}

fn pressures(rig: &Rig, checks: &Checks, today: u32) -> Task {
    let when = match looked_at(rig, checks) {
        Some(day) => after_days(day, checks.days_between(), today),
        None => When::Never,
    };
    Task {
        matter: Matter::Pressures,
        when,
    }
}

fn bad(rig: &Rig, checks: &Checks) -> Option<Task> {
    let last = checks.last.as_ref()?;
    // Tyres that were all set since are as they should be.
    let set = rig.set_to.last.filter(|set| set.ended != Ended::Abandoned);
    if last.bad.is_empty() || set.is_some_and(|set| set.day > last.at) {
        return None;
    }
    Some(Task {
        matter: Matter::Bad(last.bad.clone()),
        when: When::Now {
            since: Some(last.day),
        },
    })
}

fn of_nuts(rig: &Rig, nuts: &Nuts, today: u32, now_km: Option<f64>) -> Vec<Task> {
    let dues = nuts.due(rig, today, now_km);
    let task = |wheels: Vec<Wheel>, overdue, when| {
        let all = wheels.len() == dues.len();
        let matter = Matter::Nuts {
            wheels,
            all,
            overdue,
        };
        Task { matter, when }
    };
    let mut tasks = Vec::new();
    let of = |which: &dyn Fn(&Due) -> bool| -> Vec<Wheel> {
        let which = dues
            .iter()
            .filter(|(_, due)| due.as_ref().is_some_and(which));
        which.map(|(at, _)| rig.wheel_at(*at)).collect()
    };
    let now = of(&|due| due.is_now());
    if !now.is_empty() {
        let is_overdue = |due: &Due| {
            let Due::AfterRefit { recheck, .. } = due else {
                return false;
            };
            *recheck == Some(Recheck::Overdue)
        };
        let since = dues.iter().filter_map(|(_, due)| match due {
            Some(Due::Routine { due: true, on }) => Some(*on),
            _ => None,
        });
        let since = since.min();
        let overdue = !of(&is_overdue).is_empty();
        tasks.push(task(now, overdue, When::Now { since }));
    }
    let never = dues.iter().filter(|(_, due)| due.is_none());
    let never: Vec<Wheel> = never.map(|(at, _)| rig.wheel_at(*at)).collect();
    if !never.is_empty() {
        tasks.push(task(never, false, When::Never));
    }
    let ahead = |due: &Due| !due.is_now();
    let refitted = of(&|due| ahead(due) && matches!(due, Due::AfterRefit { .. }));
    if !refitted.is_empty() {
        let from = dues.iter().filter_map(|(_, due)| match due {
            Some(Due::AfterRefit {
                between_km: Some((from, _)),
                ..
            }) => Some(*from),
            _ => None,
        });
        let at_km = from.reduce(|a, b| if b < a { b } else { a });
        tasks.push(task(refitted, false, When::Ahead { on: None, at_km }));
    }
    // The routine that comes first of what lies ahead.
    let on = dues.iter().filter_map(|(_, due)| match due {
        Some(Due::Routine { due: false, on }) => Some(*on),
        _ => None,
    });
    if let Some(first) = on.min() {
        let wheels = of(&|due| matches!(due, Due::Routine { due: false, on } if *on == first));
        let on = Some(first);
        tasks.push(task(wheels, false, When::Ahead { on, at_km: None }));
    }
    tasks
}

fn age(checks: &Checks, tyre: Spot, today: u32) -> Option<Task> {
    let (days, age) = checks.tyre(tyre)?.age(today)?;
    let when = match age {
        Age::Young => return None,
        Age::InspectYearly => When::Standing,
        Age::Replace => When::Now { since: None },
    };
    let years = (f64::from(days) / YEAR_DAYS) as u32;
    let matter = Matter::Age { tyre, age, years };
    Some(Task { matter, when })
}

fn tread(checks: &Checks, tyre: Spot) -> Option<Task> {
    let depth = depth(checks.tyre(tyre)?.tread?);
    let tread = Tread::of(depth).ok()?;
    let when = match tread {
        Tread::Deep => return None,
        Tread::NearlyWorn => When::Standing,
        Tread::WornOut => When::Now { since: None },
    };
    let matter = Matter::Tread { tyre, tread };
    Some(Task { matter, when })
}

/// The depth of a tread.
pub fn depth(typed: TypedLength) -> Length {
    Length::new::<millimeter>(typed.amount().in_limit_unit())
}

fn of_own(own: &OwnCheck, today: u32, now_km: Option<f64>) -> Task {
    let on = own
        .done_day
        .zip(own.days)
        .map(|(day, days)| day.saturating_add(days));
    let at_km = own
        .done_at
        .map(TypedDistance::kilometres)
        .zip(own.distance.map(TypedDistance::kilometres))
        .map(|(done, every)| done + every);
    let by_day = on.is_some_and(|on| today >= on);
    let by_km = at_km.zip(now_km).is_some_and(|(at, now)| now >= at);
    let when = match (own.done_day, on, at_km) {
        (None, ..) => When::Never,
        _ if by_day => When::Now { since: on },
        _ if by_km => When::Now { since: None },
        (_, None, None) => When::Standing,
        (_, on, at_km) => When::Ahead { on, at_km },
    };
    Task {
        matter: Matter::Own(own.id),
        when,
    }
}
