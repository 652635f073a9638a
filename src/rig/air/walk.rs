//! The walk from tyre to tyre. Moments are in days, times in seconds.

use crate::rig::keep::kept_value;

kept_value! {
    /// A walk under way. What to reach at each tyre follows from the rig.
    pub struct Walk {
        /// Whether it goes back from `to` to `from`.
        back: bool = "back",
        /// Whether its figures are those of warm tyres: chosen by its owner,
        /// and changed by nobody else, so that a number keeps its meaning at
        /// the tyre.
        warm: bool = "warm",
        /// Tyres finished.
        tyres_done: usize = "tyres_done",
        /// When the present tyre was started, while air moves.
        started_day: Option<f64> = "started_day",
        /// Time that air moved before, in this tyre.
        tyre_s: f64 = "tyre_s",
        /// The same in all tyres before this one.
        before_s: f64 = "before_s",
        /// How much of the whole the compressor had behind it when it last
        /// rested.
        rested_s: f64 = "rested_s",
    }
}

/// Seconds from one moment to a later one; none where the clock was set back.
pub fn seconds_since(start_day: f64, now_day: f64) -> f64 {
    ((now_day - start_day) * 86_400.0).max(0.0)
}

impl Walk {
    /// A walk about to begin.
    pub fn new(back: bool, warm: bool) -> Self {
        Self {
            back,
            warm,
            tyres_done: 0,
            started_day: None,
            tyre_s: 0.0,
            before_s: 0.0,
            rested_s: 0.0,
        }
    }

    /// Time that air moved in this tyre.
    pub fn tyre_s(&self, now_day: f64) -> f64 {
        let running = self
            .started_day
            .map_or(0.0, |at| seconds_since(at, now_day));
        self.tyre_s + running
    }

    /// Time that air moved in the whole walk.
    pub fn air_s(&self, now_day: f64) -> f64 {
        self.before_s + self.tyre_s(now_day)
    }

    /// Time that air moved since the last rest.
    pub fn since_rest_s(&self, now_day: f64) -> f64 {
        self.air_s(now_day) - self.rested_s
    }

    /// Starts the stopwatch, or stops it.
    pub fn toggle(&mut self, now_day: f64) {
        self.tyre_s = self.tyre_s(now_day);
        self.started_day = match self.started_day {
            None => Some(now_day),
            Some(_) => None,
        };
    }

    /// Goes to the next tyre.
    pub fn next(&mut self, now_day: f64) {
        self.before_s = self.air_s(now_day);
        (self.tyre_s, self.started_day) = (0.0, None);
        self.tyres_done += 1;
    }

    /// Goes back to the tyre before.
    pub fn back(&mut self, now_day: f64) {
        self.next(now_day);
        self.tyres_done = self.tyres_done.saturating_sub(2);
    }

    /// Counts the compressor as rested, and stops the stopwatch.
    pub fn rested(&mut self, now_day: f64) {
        self.tyre_s = self.tyre_s(now_day);
        self.started_day = None;
        self.rested_s = self.air_s(now_day);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_stopwatch_of_a_walk_counts_only_while_air_moves() {
        let at = |seconds: f64| 20_000.0 + seconds / 86_400.0;
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-3, "{a} {b}");
        let mut walk = Walk::new(false, false);
        walk.toggle(at(1.0));
        near(walk.tyre_s(at(4.0)), 3.0);
        // A clock set back takes nothing away.
        near(walk.tyre_s(at(0.5)), 0.0);
        walk.toggle(at(5.0));
        walk.toggle(at(9.0));
        near(walk.tyre_s(at(10.0)), 5.0);
        walk.next(at(11.0));
        assert_eq!(walk.tyres_done, 1);
        near(walk.tyre_s(at(20.0)), 0.0);
        near(walk.air_s(at(20.0)), 6.0);
        walk.toggle(at(20.0));
        walk.rested(at(22.0));
        assert_eq!(walk.started_day, None);
        near(walk.since_rest_s(at(30.0)), 0.0);
        walk.back(at(30.0));
        assert_eq!(walk.tyres_done, 0);
        near(walk.air_s(at(30.0)), 8.0);
        walk.back(at(30.0));
        assert_eq!(walk.tyres_done, 0);
    }
}
