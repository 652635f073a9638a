//! One tyre read warm, which says how warm all are.

use crate::calc::gas::TyreTemperature;
use crate::calc::gas::warm::{ColdSetting, WarmAir, WarmCheck, WarmError, warm_check};
use crate::calc::limits::OutOfRange;
use crate::calc::quantity::{GaugePressure, GaugeStep};
use crate::rig::Rig;
use crate::rig::keep::kept_value;
use crate::rig::names::named;
use crate::rig::typed::{TypedMinutes, TypedPressure, TypedTemperature};

/// How long a warm reading counts, in minutes. Our choice: a standing tyre
/// cools, so that a figure too old asks for too much air, not too little.
pub const WARM_COUNTS_MINUTES: f64 = 30.0;

/// What is known of a warm tyre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum WarmBy {
    /// Its pressures, warm and cold.
    #[default]
    Pressures,
    /// The temperature of its air.
    Temperature,
}

named!(WarmBy {
    Pressures: "pressures",
    Temperature: "temperature",
});

kept_value! {
    /// One tyre read warm.
    #[derive(Default)]
    pub struct Warm {
        /// What counts of what follows.
        by: WarmBy = "by",
        /// Its axle's place, from the front.
        axle: u8 = "axle",
        /// When the reading or the temperature was entered, in days.
        day: Option<f64> = "day",
        /// The warm reading.
        reading: Option<TypedPressure> = "reading",
        /// The same tyre's cold pressure; what it was set to where none is
        /// given.
        cold: Option<TypedPressure> = "cold",
        /// The temperature of the air in it.
        temperature: Option<TypedTemperature> = "temperature",
        /// Time driven before the reading.
        driven: Option<TypedMinutes> = "driven",
    }
}

impl Warm {
    /// Forgets what was read.
    pub fn forget(&mut self) {
        self.day = None;
        self.reading = None;
        self.cold = None;
        self.temperature = None;
    }

    /// Whether a reading still counts at `now_day`.
    pub fn counts(taken_day: f64, now_day: f64) -> bool {
        // A clock that was set back makes the age unknown.
        (0.0..=WARM_COUNTS_MINUTES / 1440.0).contains(&(now_day - taken_day))
    }
}

impl Rig {
    /// How warm the tyres' air is by the warm reading; nothing where there is
    /// none, or what that tyre was when cold is not known. `sealed` is its
    /// axle's sealed-road figure.
    ///
    /// # Errors
    /// [`WarmError`].
    pub fn warm(
        &self,
        sealed: Option<GaugePressure>,
        step: GaugeStep,
    ) -> Result<Option<WarmAir>, WarmError> {
        let (now, warm) = (self.air.now.surroundings()?, &self.air.warm);
        if warm.by == WarmBy::Temperature {
            let air = warm.temperature.map(|typed| {
                let air = TyreTemperature::celsius(typed.celsius())?;
                WarmAir::from_temperature(air, &now)
            });
            return air.transpose();
        }
        let (Some(reading), Some(set)) = (warm.reading, self.warm_setting(sealed)?) else {
            return Ok(None);
        };
        WarmAir::from_reading(reading.quantity(), &set, &now, step).map(Some)
    }

    fn warm_setting(
        &self,
        sealed: Option<GaugePressure>,
    ) -> Result<Option<ColdSetting>, OutOfRange> {
        let read = self.air.warm.day.unwrap_or(f64::INFINITY);
        self.cold_setting(&self.was_cold(read, sealed))
    }

    /// What the rise of the warm reading says; nothing while one of its
    /// figures is missing.
    ///
    /// # Errors
    /// [`WarmError`].
    pub fn warm_check(
        &self,
        sealed: Option<GaugePressure>,
        step: GaugeStep,
    ) -> Result<Option<WarmCheck>, WarmError> {
        let warm = &self.air.warm;
        let (Some(reading), Some(set), Some(driven)) =
            (warm.reading, self.warm_setting(sealed)?, warm.driven)
        else {
            return Ok(None);
        };
        let now = self.air.now.surroundings()?;
        warm_check(reading.quantity(), &set, &now, step, driven.quantity()).map(Some)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_warm_reading_counts_for_a_while_and_not_before_it_was_taken() {
        let minutes = |minutes: f64| 20_000.0 + minutes / 1440.0;
        assert!(Warm::counts(minutes(0.0), minutes(0.0)));
        assert!(Warm::counts(minutes(0.0), minutes(29.9)));
        assert!(!Warm::counts(minutes(0.0), minutes(30.1)));
        assert!(!Warm::counts(minutes(0.0), minutes(-0.1)));
    }
}
