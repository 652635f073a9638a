//! What is kept of warm tyres and the walk, of compressor and deflator, and of
//! slow leaks: three sections, since the first figures need the first alone.
//!
//! Moments are days since 1970 by the browser's clock, nine decimals of which
//! are a tenth of a millisecond.

pub mod leaks;
pub mod tools;
mod version2;
pub mod walk;
pub mod warm;
pub mod weather;

pub use leaks::Leaks;
pub use tools::Tools;
pub use walk::Walk;
pub use warm::{Warm, WarmBy};
pub use weather::Weather;

use super::keep::{Unknown, kept};
use super::section::{Section, comes_back};
use super::{Axle, AxleId, Moved, Surface, axle_ids, follow};

/// How long height and temperature now count, in hours, and how long an old
/// warm reading is still spoken of. Our choice.
pub const HERE_COUNTS_HOURS: f64 = 6.0;

/// Sections that were part of this one up to [`AS_ONE`], by their stored
/// names. Each reads its own from a copy of that.
pub const PARTED: [&str; 2] = [Tools::PART, Leaks::PART];

/// The last version of [`Air`] that held [`PARTED`] too.
pub const AS_ONE: u32 = 2;

kept! {
    /// Warm tyres and the walk.
    pub struct Air {
        /// The surface that the walk starts from.
        from: Surface = "from",
        /// The surface that it goes to.
        to: Surface = "to",
        /// Where the cold pressures were set.
        set: Weather = "set",
        /// Here and now.
        now: Weather = "now",
        /// When that was entered.
        now_day: Option<f64> = "now_day",
        /// The tyre read warm.
        warm: Warm = "warm",
        /// The walk under way.
        walk: Option<Walk> = "walk",
        /// The rig's axles when it was written, from the front: the reading
        /// names its own by its place.
        axles: Vec<AxleId> = "axles",
    }
}

impl Default for Air {
    fn default() -> Self {
        Self {
            from: Surface::Sealed,
            to: Surface::Dirt,
            set: Weather::default(),
            now: Weather::default(),
            now_day: None,
            warm: Warm::default(),
            walk: None,
            axles: Vec::new(),
            unknown: Unknown::default(),
        }
    }
}

impl Section for Air {
    const PART: &'static str = "air";
    const VERSION: u32 = AS_ONE + 1;

    fn fresh(_: bool) -> Self {
        Self::default()
    }

    fn migrate(_: u32, body: &str) -> Option<Self> {
        version2::air(body)
    }

    /// What a figure may be is checked on its way to where it counts.
    fn is_sound(&self) -> bool {
        comes_back(self)
    }
}

impl Air {
    /// The surface that a walk goes to.
    pub fn end_of(&self, back: bool) -> Surface {
        if back { self.from } else { self.to }
    }

    /// Forgets what is too old to be true still: height and temperature now,
    /// and a warm reading that long stopped counting. Says whether anything
    /// went.
    pub fn forget_old(&mut self, now_day: f64) -> bool {
        let old = |since: Option<f64>| {
            let counts = 0.0..=HERE_COUNTS_HOURS / 24.0;
            since.is_some_and(|since| !counts.contains(&(now_day - since)))
        };
        let (here, warm) = (old(self.now_day), old(self.warm.day));
        if here {
            (self.now.height, self.now.temperature, self.now_day) = (None, None, None);
        }
        if warm {
            self.warm.forget();
        }
        here || warm
    }

    /// Follows the removal of an axle.
    pub fn axle_removed(&mut self, removed: usize) {
        let (axle, gone) = (&mut self.warm.axle, removed as u8);
        if *axle > gone {
            *axle -= 1;
        } else if *axle == gone {
            *axle = 0;
            self.warm.forget();
        }
        // Its count of tyres done no longer fits.
        self.walk = None;
    }

    /// Follows the axles of the rig from those that it was written with.
    pub fn follow(&mut self, axles: &[Axle]) {
        let written = std::mem::take(&mut self.axles);
        follow(&written, axles, &mut |moved| match moved {
            Moved::Removed(place) => self.axle_removed(place),
            // One that came back before others.
            Moved::Added(place) => {
                let axle = &mut self.warm.axle;
                if usize::from(*axle) >= place {
                    *axle = axle.saturating_add(1);
                }
            }
        });
    }

    /// As it is written, with the axles that it names by their places.
    pub fn stamped(&self, axles: &[Axle]) -> Self {
        Self {
            axles: axle_ids(axles),
            ..self.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::limits::Field;
    use crate::calc::quantity::{GaugePressure, GaugeStep, kilopascal};
    use crate::rig::typed::in_unit::{celsius, kpa, metres, minutes, psi};
    use crate::rig::{Rig, section};

    /// A moment to a tenth of a millisecond, a walk under way, typed figures.
    #[test]
    fn what_is_kept_comes_back_from_its_record() {
        let air = Air {
            from: Surface::Gravel,
            to: Surface::Sand,
            set: Weather {
                height: Some(metres(310.5)),
                ..Weather::default()
            },
            now_day: Some(20_782.123_456_789),
            warm: Warm {
                by: WarmBy::Temperature,
                axle: 2,
                reading: Some(psi(56.0)),
                temperature: Some(celsius(-3.5)),
                driven: Some(minutes(45.0)),
                ..Warm::default()
            },
            walk: Some(Walk {
                back: true,
                warm: true,
                tyres_done: 3,
                started_day: Some(20_782.5),
                tyre_s: 2.5,
                before_s: 30.25,
                rested_s: 4.0,
            }),
            ..Air::default()
        };
        assert_eq!(section::again(&air), air);
    }

    /// What could not be written again would lose every later change.
    #[test]
    fn a_number_beyond_all_measure_is_not_sound() {
        let spoil: [fn(&mut Air, f64); 6] = [
            |air, value| air.now_day = Some(value),
            |air, value| air.now.height = Some(metres(value)),
            |air, value| air.set.temperature = Some(celsius(value)),
            |air, value| air.warm.reading = Some(kpa(value)),
            |air, value| {
                air.walk = Some(Walk {
                    before_s: value,
                    ..Walk::new(false, false)
                });
            },
            |air, value| air.warm.driven = Some(minutes(value)),
        ];
        for spoil in spoil {
            for (value, sound) in [
                (9e7, true),
                (1e9, false),
                (-1e300, false),
                (f64::NAN, false),
            ] {
                let mut air = Air::default();
                spoil(&mut air, value);
                assert_eq!(air.is_sound(), sound, "{value}");
            }
        }
    }

    /// A damaged record may hold anything that JSON has. The test once only
    /// asked that nothing panics, and passed with every check deleted: now each
    /// figure out of its limits must take away what hangs on it, and the same
    /// figure within them must not.
    #[test]
    fn stored_figures_are_checked_on_their_way_in() {
        type Case = (Field, f64, fn(&mut Air, f64));
        let cases: &[Case] = &[
            (Field::Height, 300.0, |air, value| {
                air.now.height = Some(metres(value));
            }),
            (Field::AmbientTemperature, 25.0, |air, value| {
                air.now.temperature = Some(celsius(value));
            }),
            (Field::Height, 300.0, |air, value| {
                air.set.height = Some(metres(value));
            }),
            (Field::AmbientTemperature, 18.0, |air, value| {
                air.set.temperature = Some(celsius(value));
            }),
            (Field::TyreReading, 330.0, |air, value| {
                air.warm.reading = Some(kpa(value));
            }),
            (Field::ColdPressure, 300.0, |air, value| {
                air.warm.cold = Some(kpa(value));
            }),
            (Field::TyreTemperature, 45.0, |air, value| {
                air.warm.by = WarmBy::Temperature;
                air.now.temperature = Some(celsius(20.0));
                air.warm.temperature = Some(celsius(value));
            }),
        ];
        for (field, usual, put) in cases {
            let counts = |value| {
                let mut rig = Rig::demo();
                rig.air.warm.reading = Some(kpa(330.0));
                rig.air.warm.cold = Some(kpa(300.0));
                put(&mut rig.air, value);
                let cold = Some(GaugePressure::new::<kilopascal>(300.0));
                matches!(rig.warm(cold, GaugeStep::one_psi()), Ok(Some(_)))
            };
            assert!(counts(*usual), "{field:?} {usual}");
            let limit = field.limit();
            for value in [limit.min - 0.5, limit.max * 1.01, -1e300, 1e300] {
                assert!(!counts(value), "{field:?} {value}");
            }
        }
    }

    #[test]
    fn a_reading_follows_its_axle() {
        let mut air = Air::default();
        air.warm.axle = 2;
        air.warm.reading = Some(kpa(380.0));
        air.axle_removed(1);
        assert_eq!((air.warm.axle, air.warm.reading), (1, Some(kpa(380.0))));
        air.axle_removed(1);
        assert_eq!((air.warm.axle, air.warm.reading), (0, None));
    }

    #[test]
    fn the_weather_of_another_day_is_forgotten() {
        let mut air = Air::default();
        air.now.temperature = Some(celsius(35.0));
        air.now_day = Some(20_000.0);
        air.set.temperature = Some(celsius(5.0));
        assert!(!air.forget_old(20_000.2));
        assert_eq!(air.now.celsius(), Some(35.0));
        assert!(air.forget_old(20_000.3));
        assert_eq!(air.now.celsius(), None);
        // Where and when it was set stays true.
        assert_eq!(air.set.celsius(), Some(5.0));
        assert!(!air.forget_old(20_000.3));
    }
}
