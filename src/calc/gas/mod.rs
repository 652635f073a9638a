//! The air in a tyre: what heat, weather and height do to its gauge pressure.
//!
//! Dry air at constant volume: `P2 = (P1 + A1)·T2/T1 − A2`, with gauge
//! pressures P, ambient pressures A and absolute temperatures T. Real air
//! stays within 0.7 % of gauge of it over −10 to 80 °C and 100 to 600 kPa
//! (`tests/published/air_against_coolprop.py`). Water in a tyre is not in it.
//!
//! ```compile_fail
//! use tyreside::calc::gas::AmbientTemperature;
//! use tyreside::calc::quantity::{TemperatureInterval, kelvin_interval};
//! // A rise of 15 K is not a temperature of 15 K.
//! let wrong = AmbientTemperature::new(TemperatureInterval::new::<kelvin_interval>(15.0));
//! ```
//!
//! ```compile_fail
//! use tyreside::calc::gas::{AmbientTemperature, TyreAir, height::Height};
//! # let outside = AmbientTemperature::celsius(20.0).unwrap();
//! // A driven tyre's air is not as cool as the air around it.
//! let wrong = TyreAir::new(outside, Height::SEA_LEVEL);
//! ```

pub mod height;
pub mod leak;
pub mod warm;

use super::limits::{Field, OutOfRange};
use super::quantity::{
    AbsolutePressure, GaugePressure, ThermodynamicTemperature, degree_celsius, kelvin,
};
use height::Height;

macro_rules! temperature {
    ($(#[doc = $doc:literal])+ $name:ident) => {
        $(#[doc = $doc])+
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(ThermodynamicTemperature);

        impl $name {
            /// This absolute temperature, if it is within the limit.
            ///
            /// # Errors
            /// [`OutOfRange`] by the field of the same name.
            pub fn new(temperature: ThermodynamicTemperature) -> Result<Self, OutOfRange> {
                Field::$name.check(temperature.get::<degree_celsius>())?;
                Ok(Self(temperature))
            }

            /// The same from degrees Celsius.
            ///
            /// # Errors
            /// As [`Self::new`].
            pub fn celsius(value: f64) -> Result<Self, OutOfRange> {
                // Checked as typed: the way to kelvins and back rounds.
                Field::$name.check(value)?;
                Ok(Self(ThermodynamicTemperature::new::<degree_celsius>(value)))
            }

            /// The absolute temperature.
            pub fn absolute(self) -> ThermodynamicTemperature {
                self.0
            }

            /// This temperature as a multiple of `other`, kelvins both.
            pub fn ratio_to<T: Into<ThermodynamicTemperature>>(self, other: T) -> f64 {
                let other: ThermodynamicTemperature = other.into();
                self.0.get::<kelvin>() / other.get::<kelvin>()
            }
        }

        impl From<$name> for ThermodynamicTemperature {
            fn from(temperature: $name) -> Self {
                temperature.0
            }
        }
    };
}
temperature! {
    /// Temperature of the air around.
    AmbientTemperature
}
temperature! {
    /// Temperature of the air inside a tyre.
    TyreTemperature
}

/// A tyre that has stood long enough has the temperature around it.
impl From<AmbientTemperature> for TyreTemperature {
    fn from(ambient: AmbientTemperature) -> Self {
        Self(ambient.0)
    }
}

/// What a reading depends on, besides the air that is in the tyre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TyreAir {
    temperature: TyreTemperature,
    ambient: AbsolutePressure,
}

impl TyreAir {
    /// Air at `temperature` in a tyre at `height`.
    pub fn new(temperature: TyreTemperature, height: Height) -> Self {
        Self {
            temperature,
            ambient: height.ambient(),
        }
    }

    /// The same in a tyre that stands cold in air at `ambient`.
    pub fn cold(ambient: AmbientTemperature, height: Height) -> Self {
        Self::new(ambient.into(), height)
    }
}

/// The gauge pressure `reading`, taken with the air as in `from`, when the same
/// air is as in `to`.
///
/// Below zero there is less air in the tyre than around it: it is flat.
///
/// ```
/// use tyreside::calc::gas::{AmbientTemperature, TyreAir, height::Height, bring};
/// use tyreside::calc::quantity::{GaugePressure, psi};
/// let at = |celsius| -> Result<TyreAir, _> {
///     Ok(TyreAir::cold(AmbientTemperature::celsius(celsius)?, Height::SEA_LEVEL))
/// };
/// let noon = bring(GaugePressure::new::<psi>(50.0), at(20.0)?, at(45.0)?);
/// assert!((noon.get::<psi>() - 55.5).abs() < 0.05);
/// assert!(at(75.0).is_err());
/// # Ok::<(), tyreside::calc::limits::OutOfRange>(())
/// ```
pub fn bring(reading: GaugePressure, from: TyreAir, to: TyreAir) -> GaugePressure {
    reading
        .to_absolute(from.ambient)
        .scaled(to.temperature.ratio_to(from.temperature))
        .to_gauge(to.ambient)
}
