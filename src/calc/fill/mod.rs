//! Pumping up and letting down: how much air, and how long it takes.
//!
//! Free air is air as the compressor takes it in, at the pressure and
//! temperature around it. A tyre's air space is taken as the same at every
//! pressure, and its air as staying at its temperature.

pub mod compressor;
pub mod deflator;
pub mod space;
pub mod trip;

use super::gas::height::Height;
use super::gas::{AmbientTemperature, TyreTemperature};
use super::limits::{Field, OutOfRange};
use super::quantity::{GaugePressure, Time, Volume, VolumeRate, liter, liter_per_minute, second};

/// Where the work is done.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Site {
    /// Height above the sea.
    pub height: Height,
    /// Temperature of the air around.
    pub temperature: AmbientTemperature,
}

/// One tyre to pump up. Pressures are as the gauge shows them with the tyre as
/// warm as it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fill {
    /// Air space of the tyre on its rim.
    pub space: Volume,
    /// Gauge pressure to start from.
    pub from: GaugePressure,
    /// Gauge pressure to reach.
    pub to: GaugePressure,
    /// Temperature of the air in the tyre.
    pub air: TyreTemperature,
}

/// Why there is no figure for pumping up or letting down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum InflationError {
    /// A value beyond its limit.
    OutOfRange(OutOfRange),
    /// The end is on the wrong side of the start.
    WrongWay {
        /// Start.
        from: GaugePressure,
        /// End.
        to: GaugePressure,
    },
    /// A compressor needs one to three stated flows.
    PointCount {
        /// How many there were.
        given: usize,
    },
    /// Two flows are stated for pressures less than 10 kPa apart.
    PointsTooClose,
    /// More flow is stated against a higher pressure: two were swapped.
    FlowRises {
        /// The pressure at which it rises.
        at: GaugePressure,
    },
    /// The target is above the highest pressure that the compressor is made
    /// for, or at which its stated flows leave any.
    OutOfReach {
        /// The target.
        to: GaugePressure,
        /// What can be reached here.
        highest: GaugePressure,
    },
    /// A timing makes the flow less than a fifth or more than twice the stated
    /// one: the stopwatch, the pressures or the stated flow are wrong.
    ImplausibleTiming {
        /// Timed flow over stated flow.
        ratio: f64,
    },
    /// Nothing was pumped or let out, so that no flow can be had from it.
    NothingTimed,
}

crate::calc::error_by_its_fields!(InflationError);

impl From<OutOfRange> for InflationError {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

impl Fill {
    fn check(&self) -> Result<(), InflationError> {
        Field::AirSpace.check(self.space.get::<liter>())?;
        Field::TyreReading.check_pressure(self.from)?;
        Field::TyreReading.check_pressure(self.to)?;
        if self.to < self.from {
            return Err(InflationError::WrongWay {
                from: self.from,
                to: self.to,
            });
        }
        Ok(())
    }
}

/// Free air that a fill takes: `V·(P2 − P1)/A · T_ambient/T_tyre`.
///
/// # Errors
/// [`InflationError::OutOfRange`], [`InflationError::WrongWay`].
///
/// ```
/// use tyreside::calc::gas::{AmbientTemperature, height::Height};
/// use tyreside::calc::fill::{Fill, Site, free_air};
/// use tyreside::calc::quantity::{GaugePressure, Volume, kilopascal, liter};
/// let p = GaugePressure::new::<kilopascal>;
/// let outside = AmbientTemperature::celsius(20.0)?;
/// let site = Site { height: Height::SEA_LEVEL, temperature: outside };
/// let space = Volume::new::<liter>(75.0);
/// let fill = Fill { space, from: p(0.0), to: p(202.65), air: outside.into() };
/// assert!((free_air(&fill, site)?.get::<liter>() - 150.0).abs() < 1e-9);
/// assert!(free_air(&Fill { from: p(300.0), ..fill }, site).is_err());
/// # Ok::<(), tyreside::calc::fill::InflationError>(())
/// ```
pub fn free_air(fill: &Fill, site: Site) -> Result<Volume, InflationError> {
    fill.check()?;
    let atmospheres = (fill.to - fill.from).share_of(site.height.ambient());
    Ok(fill.space * (atmospheres * site.temperature.ratio_to(fill.air)))
}

fn check_timed(elapsed: Time) -> Result<(), OutOfRange> {
    Field::TimedRun.check(elapsed.get::<second>()).map(|_| ())
}

fn check_flow(flow: VolumeRate) -> Result<VolumeRate, OutOfRange> {
    Field::FreeAirFlow
        .check(flow.get::<liter_per_minute>())
        .map(|_| flow)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::kilopascal;

    /// 80 L by 101.325 kPa is 80 L of free air at the same temperature; thinner
    /// air takes more of it, and a tyre warmer than outside takes less.
    #[test]
    fn free_air_is_counted_as_it_is_outside() {
        let air = |metres, outside, inside| {
            let fill = Fill {
                space: Volume::new::<liter>(80.0),
                from: GaugePressure::new::<kilopascal>(100.0),
                to: GaugePressure::new::<kilopascal>(201.325),
                air: TyreTemperature::celsius(inside).unwrap(),
            };
            let site = Site {
                height: Height::metres(metres).unwrap(),
                temperature: AmbientTemperature::celsius(outside).unwrap(),
            };
            free_air(&fill, site).unwrap().get::<liter>()
        };
        assert!((air(0.0, 20.0, 20.0) - 80.0).abs() < 1e-9);
        assert!((air(0.0, 20.0, 50.0) - 80.0 * 293.15 / 323.15).abs() < 1e-9);
        assert!((air(2000.0, 20.0, 20.0) - 80.0 * 101.325 / 79.495).abs() < 1e-3);
    }
}
