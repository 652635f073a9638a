//! Slow leaks: cold readings of one tyre, the one being entered and those
//! kept.

use crate::calc::gas::AmbientTemperature;
use crate::calc::gas::height::Height;
use crate::calc::gas::leak::LeakReading;
use crate::calc::limits::OutOfRange;
use crate::calc::quantity::{TemperatureInterval, Time, day, kelvin_interval};
use crate::rig::draft::Unusable;
use crate::rig::keep::{kept, kept_value};
use crate::rig::section::{Section, comes_back, entered};
use crate::rig::typed::{TypedHeight, TypedPressure, TypedTemperature};
use crate::rig::{AxleId, Rig};

kept_value! {
    /// A cold reading of one tyre.
    pub struct Reading {
        /// The axle.
        axle: AxleId = "axle",
        /// The tyre on it, from 0.
        tyre: u8 = "tyre",
        /// When, in days.
        day: f64 = "day",
        /// What the gauge showed.
        pressure: TypedPressure = "pressure",
        /// The gauge's step.
        step: TypedPressure = "step",
        /// Temperature of the air around.
        temperature: TypedTemperature = "temperature",
        /// How far that may be off, in kelvins.
        within_kelvin: f64 = "within_kelvin",
        /// Height.
        height: TypedHeight = "height",
    }
}

kept! {
    /// Slow leaks.
    #[derive(Default)]
    pub struct Leaks {
        /// The axle of the tyre looked at; none: the first.
        axle: Option<AxleId> = "axle",
        /// That tyre on it, from 0.
        tyre: u8 = "tyre",
        /// A reading not yet kept.
        reading: Option<TypedPressure> = "reading",
        /// When it was taken, as its field has it; blank: now.
        at: String = "at",
        /// Temperature of the air around there and then.
        temperature: Option<TypedTemperature> = "temperature",
        /// Whether temperatures are guessed, not measured.
        guessed: bool = "guessed",
        /// The gauge's step; that of the rig's unit where none is given.
        step: Option<TypedPressure> = "step",
        /// Readings kept, the oldest first.
        readings: Vec<Reading> = "readings",
        /// Texts that could not be used, one a field.
        unusable: Vec<Unusable> = "unusable",
    }
}

impl Section for Leaks {
    const PART: &'static str = "leaks";
    /// Counted on from the section that it was part of.
    const VERSION: u32 = super::AS_ONE + 1;

    fn fresh(_: bool) -> Self {
        Self::default()
    }

    fn migrate(_: u32, body: &str) -> Option<Self> {
        super::version2::leaks(body)
    }

    fn is_sound(&self) -> bool {
        self.at.len() <= 32 && self.readings.len() <= Self::MOST_READINGS && comes_back(self)
    }
}

entered!(Leaks);

impl Leaks {
    /// Most readings kept.
    pub const MOST_READINGS: usize = 200;

    /// The place of the axle looked at, and the tyre on it: the first of all
    /// where none was picked, or where it has gone.
    pub fn looked_at(&self, rig: &Rig) -> (usize, u8) {
        let Some(axle) = self.axle else {
            return (0, self.tyre);
        };
        rig.axle_at(axle).map_or((0, 0), |axle| (axle, self.tyre))
    }

    /// Whether one more reading can be kept: what is left of axles that have
    /// gone makes room.
    pub fn has_room(&self, rig: &Rig) -> bool {
        let there = |of: &&Reading| rig.axle_at(of.axle).is_some();
        self.readings.iter().filter(there).count() < Self::MOST_READINGS
    }

    /// Keeps a reading in its place among the others, by when it was taken.
    pub fn add(&mut self, rig_axles: &[AxleId], reading: Reading) {
        if self.readings.len() >= Self::MOST_READINGS {
            self.readings.retain(|of| rig_axles.contains(&of.axle));
        }
        let later = |kept: &Reading| kept.day > reading.day;
        let place = self.readings.iter().position(later);
        self.readings
            .insert(place.unwrap_or(self.readings.len()), reading);
    }

    /// The readings of one tyre.
    pub fn of(&self, axle: AxleId, tyre: u8) -> impl Iterator<Item = &Reading> {
        let mine = move |of: &&Reading| of.axle == axle && of.tyre == tyre;
        self.readings.iter().filter(mine)
    }

    /// The same for a line through them, their times counted from `first_day`.
    ///
    /// # Errors
    /// [`OutOfRange`] for a stored temperature or height.
    pub fn line(
        &self,
        axle: AxleId,
        tyre: u8,
        first_day: f64,
    ) -> Result<Vec<LeakReading>, OutOfRange> {
        let mut readings = Vec::new();
        for of in self.of(axle, tyre) {
            readings.push(LeakReading {
                at: Time::new::<day>(of.day - first_day),
                pressure: of.pressure.quantity(),
                resolution: of.step.quantity(),
                temperature: AmbientTemperature::celsius(of.temperature.celsius())?,
                temperature_within: TemperatureInterval::new::<kelvin_interval>(of.within_kelvin),
                height: Height::metres(of.height.metres())?,
            });
        }
        Ok(readings)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::section;
    use crate::rig::typed::in_unit::{celsius, kpa, metres, psi};

    fn reading(axle: u32, taken: f64) -> Reading {
        Reading {
            axle: AxleId(axle),
            tyre: 0,
            day: taken,
            pressure: psi(36.0),
            step: kpa(5.0),
            temperature: celsius(15.0),
            within_kelvin: 2.0,
            height: metres(0.0),
        }
    }

    /// Yesterday's reading could not be entered; put behind today's it would
    /// have been taken for the last.
    #[test]
    fn a_reading_stands_where_it_was_taken() {
        let mut leaks = Leaks::default();
        for taken in [20_782.5, 20_781.5, 20_783.5, 20_782.5] {
            leaks.add(&[AxleId(0)], reading(0, taken));
        }
        let days: Vec<f64> = leaks.readings.iter().map(|kept| kept.day).collect();
        assert_eq!(days, [20_781.5, 20_782.5, 20_782.5, 20_783.5]);
        leaks.at = "2026-11-24T08:30".to_owned();
        assert_eq!(section::again(&leaks), leaks);
        leaks.at = "x".repeat(33);
        assert!(!leaks.is_sound());
    }

    /// A record is only read up to a length.
    #[test]
    fn as_many_readings_as_are_kept_fit_into_a_record() {
        let long = Reading {
            axle: AxleId(u32::MAX),
            tyre: 255,
            day: 20_782.123_456_789,
            pressure: kpa(344.737_864_658),
            step: kpa(6.894_757_293),
            temperature: celsius(-17.777_777_778),
            within_kelvin: 2.0,
            height: metres(1_234.123_456_789),
        };
        let leaks = Leaks {
            readings: vec![long; Leaks::MOST_READINGS],
            ..Leaks::default()
        };
        let text = section::body(&leaks).expect("a record");
        assert!(text.len() < 60_000, "{}", text.len());
        assert_eq!(section::again(&leaks), leaks);
    }

    /// The readings of an axle that was removed come back with it, and are in
    /// nobody's way until then.
    #[test]
    fn readings_of_an_axle_that_has_gone_make_room() {
        let rig = Rig::demo();
        let there = rig.axle_ids();
        let mut leaks = Leaks {
            axle: Some(AxleId(99)),
            tyre: 3,
            ..Leaks::default()
        };
        assert_eq!(leaks.looked_at(&rig), (0, 0));
        leaks.readings = vec![reading(99, 20_782.5); Leaks::MOST_READINGS];
        assert!(leaks.has_room(&rig));
        leaks.add(&there, reading(there[1].0, 20_783.5));
        assert_eq!(leaks.readings, [reading(there[1].0, 20_783.5)]);
        leaks.readings = vec![reading(there[1].0, 20_782.5); Leaks::MOST_READINGS];
        assert!(!leaks.has_room(&rig));
    }
}
