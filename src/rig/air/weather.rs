//! Height and temperature of the air around.

use crate::calc::fill::Site;
use crate::calc::gas::AmbientTemperature;
use crate::calc::gas::height::Height;
use crate::calc::gas::warm::Surroundings;
use crate::calc::limits::OutOfRange;
use crate::rig::keep::kept_value;
use crate::rig::typed::{TypedHeight, TypedTemperature};

/// The temperature around where none was given.
const USUAL_CELSIUS: f64 = 20.0;

kept_value! {
    /// Height and temperature of the air around, as far as they were entered.
    #[derive(Default)]
    pub struct Weather {
        /// Height.
        height: Option<TypedHeight> = "height",
        /// Temperature in the shade.
        temperature: Option<TypedTemperature> = "temperature",
    }
}

impl Weather {
    /// The height, in metres.
    pub fn metres(&self) -> Option<f64> {
        self.height.map(TypedHeight::metres)
    }

    /// The temperature, in degrees Celsius.
    pub fn celsius(&self) -> Option<f64> {
        self.temperature.map(TypedTemperature::celsius)
    }

    /// The same for the gas law.
    pub(super) fn surroundings(&self) -> Result<Surroundings, OutOfRange> {
        surroundings(self.metres(), self.celsius())
    }

    /// The same for pumps: sea level and a usual temperature where nothing is
    /// said.
    pub(super) fn site(&self) -> Result<Site, OutOfRange> {
        Ok(Site {
            height: Height::metres(self.metres().unwrap_or(0.0))?,
            temperature: AmbientTemperature::celsius(self.celsius().unwrap_or(USUAL_CELSIUS))?,
        })
    }
}

/// Height in metres and temperature in degrees Celsius for the gas law.
pub(in crate::rig) fn surroundings(
    height: Option<f64>,
    celsius: Option<f64>,
) -> Result<Surroundings, OutOfRange> {
    Ok(Surroundings {
        height: height.map(Height::metres).transpose()?,
        temperature: celsius.map(AmbientTemperature::celsius).transpose()?,
    })
}
