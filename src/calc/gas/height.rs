//! The standard atmosphere, for the ambient pressure at a height.

use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{AbsolutePressure, Length, meter, pascal};

// ISO 2533:1975, which agrees with the US Standard Atmosphere 1976 at these
// heights. ISO's text was not to be had; the values are those of the US one.
const SEA_LEVEL_PASCAL: f64 = 101_325.0;
const SEA_LEVEL_KELVIN: f64 = 288.15;
const LAPSE_KELVIN_PER_METRE: f64 = 0.0065;
const GRAVITY: f64 = 9.806_65;
const AIR_GAS_CONSTANT: f64 = 287.052_87;

/// Height above the sea.
///
/// Taken as geopotential: on a road, 4 m or 0.03 kPa from the height on a map.
/// Weather moves the true ambient pressure by a kilopascal or two, and a day
/// 20 K warmer than the standard raises it by up to 2.5 kPa at 5,000 m.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Height(Length);

impl Height {
    /// No height. The base unit of length is the metre.
    pub const SEA_LEVEL: Self = Self(Length {
        dimension: std::marker::PhantomData,
        units: std::marker::PhantomData,
        value: 0.0,
    });

    /// `height`, if it is within the limit.
    ///
    /// # Errors
    /// [`OutOfRange`] beyond −450 to 5,000 m.
    ///
    /// ```
    /// use tyreside::calc::gas::height::Height;
    /// use tyreside::calc::quantity::kilopascal;
    /// let pass = Height::metres(2000.0)?;
    /// assert!((pass.ambient().get::<kilopascal>() - 79.495).abs() < 0.001);
    /// assert!(Height::metres(6000.0).is_err());
    /// # Ok::<(), tyreside::calc::limits::OutOfRange>(())
    /// ```
    pub fn new(height: Length) -> Result<Self, OutOfRange> {
        Self::metres(height.get::<meter>())
    }

    /// The same from metres.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn metres(value: f64) -> Result<Self, OutOfRange> {
        Field::Height
            .check(value)
            .map(|value| Self(Length::new::<meter>(value)))
    }

    /// This height as a length.
    pub fn length(self) -> Length {
        self.0
    }

    /// Pressure of the standard atmosphere here:
    /// `101325 Pa · (1 − L·h/T0)^(g/(R·L))`.
    pub fn ambient(self) -> AbsolutePressure {
        let fall = LAPSE_KELVIN_PER_METRE * self.0.get::<meter>() / SEA_LEVEL_KELVIN;
        let exponent = GRAVITY / (AIR_GAS_CONSTANT * LAPSE_KELVIN_PER_METRE);
        AbsolutePressure::new::<pascal>(SEA_LEVEL_PASCAL * (1.0 - fall).powf(exponent))
    }
}
