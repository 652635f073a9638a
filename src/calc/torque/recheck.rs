//! When to look at the nuts again.

use std::ops::RangeInclusive;
use uom::si::f64::Length;
use uom::si::length::kilometer;

/// Kilometres after a wheel went back on within which its nuts are checked
/// again: common practice, no source. Published neighbours: 40 to 80 km on
/// heavy vehicles (UK DVSA, Careless torque costs lives), 50 km on caravans (a
/// sheet of axle makers' values; the test names it).
pub const RECHECK_KILOMETRES: RangeInclusive<f64> = 50.0..=100.0;

/// Days between checks after that: common practice, no source.
pub const ROUTINE_DAYS: u16 = 14;

/// How a refitted wheel stands to its re-check.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Recheck {
    /// Not yet 50 km.
    Ahead,
    /// Between 50 and 100 km: now.
    Due,
    /// Past 100 km: stop and check. A distance that makes no sense, below zero
    /// or not a number, counts as this: the odometer was misread.
    Overdue,
}

impl Recheck {
    /// `driven` since the wheel was refitted.
    ///
    /// ```
    /// use tyreside::calc::torque::recheck::Recheck;
    /// use uom::si::{f64::Length, length::kilometer};
    /// let after = |km| Recheck::after(Length::new::<kilometer>(km));
    /// assert_eq!(after(49.9), Recheck::Ahead);
    /// assert_eq!(after(50.0), Recheck::Due);
    /// assert_eq!(after(100.1), Recheck::Overdue);
    /// assert_eq!(after(-3.0), Recheck::Overdue);
    /// ```
    pub fn after(driven: Length) -> Self {
        let driven = driven.get::<kilometer>();
        if (0.0..*RECHECK_KILOMETRES.start()).contains(&driven) {
            Self::Ahead
        } else if RECHECK_KILOMETRES.contains(&driven) {
            Self::Due
        } else {
            Self::Overdue
        }
    }
}
