//! How long letting down takes.
//!
//! While a tyre holds more than about 0.89 of an atmosphere, air leaves a valve
//! at the speed of sound: the same volume of the tyre's own air each second,
//! whatever the pressure. The absolute pressure then falls by the same share
//! each second. The lowest pressure accepted, 100 kPa, is above that at every
//! height accepted.

use super::{InflationError, Site, check_flow, check_timed};
use crate::calc::limits::Field;
use crate::calc::quantity::{GaugePressure, Time, Volume, VolumeRate, liter};

/// One tyre to let down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fall {
    /// Air space of the tyre on its rim.
    pub space: Volume,
    /// Gauge pressure to start from.
    pub from: GaugePressure,
    /// Gauge pressure to reach.
    pub to: GaugePressure,
}

impl Fall {
    /// How many times the tyre's air space leaves it: `ln(P1/P2)`, absolute.
    fn spaces(&self, site: Site) -> Result<f64, InflationError> {
        Field::AirSpace.check(self.space.get::<liter>())?;
        Field::TyreReading.check_pressure(self.from)?;
        Field::LetDownTo.check_pressure(self.to)?;
        if self.to > self.from {
            return Err(InflationError::WrongWay {
                from: self.from,
                to: self.to,
            });
        }
        let ambient = site.height.ambient();
        let ratio = self
            .from
            .to_absolute(ambient)
            .ratio_to(self.to.to_absolute(ambient));
        Ok(ratio.ln())
    }
}

/// A valve or tool that lets air out, by the volume of the tyre's own air that
/// leaves through it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Deflator {
    outflow: VolumeRate,
}

impl Deflator {
    /// One that took `elapsed` for `fall`.
    ///
    /// # Errors
    /// [`InflationError::OutOfRange`], [`InflationError::WrongWay`],
    /// [`InflationError::NothingTimed`].
    ///
    /// ```
    /// use tyreside::calc::gas::{AmbientTemperature, height::Height};
    /// use tyreside::calc::fill::{Site, deflator::{Deflator, Fall}};
    /// use tyreside::calc::quantity::{GaugePressure, Time, Volume, liter, psi, second};
    /// let p = GaugePressure::new::<psi>;
    /// let site = Site {
    ///     height: Height::SEA_LEVEL,
    ///     temperature: AmbientTemperature::celsius(20.0)?,
    /// };
    /// let space = Volume::new::<liter>(80.0);
    /// let fall = Fall { space, from: p(50.0), to: p(32.0) };
    /// let tool = Deflator::timed(&fall, site, Time::new::<second>(60.0))?;
    /// // The lower it is, the slower it falls.
    /// let next = tool.time(&Fall { space, from: p(32.0), to: p(20.0) }, site)?;
    /// assert!((next.get::<second>() - 54.7).abs() < 0.1);
    /// assert!(tool.time(&Fall { space, from: p(32.0), to: p(5.0) }, site).is_err());
    /// # Ok::<(), tyreside::calc::fill::InflationError>(())
    /// ```
    pub fn timed(fall: &Fall, site: Site, elapsed: Time) -> Result<Self, InflationError> {
        check_timed(elapsed)?;
        let spaces = fall.spaces(site)?;
        if spaces <= 0.0 {
            return Err(InflationError::NothingTimed);
        }
        Ok(Self {
            outflow: fall.space * spaces / elapsed,
        })
    }

    /// One that lets out `free_air` at the gauge pressure `at`, for which it is
    /// stated.
    ///
    /// # Errors
    /// [`InflationError::OutOfRange`].
    pub fn stated(
        free_air: VolumeRate,
        at: GaugePressure,
        site: Site,
    ) -> Result<Self, InflationError> {
        check_flow(free_air)?;
        Field::LetDownTo.check_pressure(at)?;
        let ambient = site.height.ambient();
        Ok(Self {
            outflow: free_air * ambient.ratio_to(at.to_absolute(ambient)),
        })
    }

    /// Time to let one tyre down: `V/Q · ln(P1/P2)`, absolute pressures. The
    /// air left cools while it goes, and the reading creeps up again after.
    ///
    /// # Errors
    /// [`InflationError::OutOfRange`], also for a target below 100 kPa, and
    /// [`InflationError::WrongWay`].
    pub fn time(&self, fall: &Fall, site: Site) -> Result<Time, InflationError> {
        Ok(fall.space * fall.spaces(site)? / self.outflow)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::gas::AmbientTemperature;
    use crate::calc::gas::height::Height;
    use crate::calc::quantity::{kilopascal, liter_per_minute, minute};

    /// Air chokes above an absolute pressure ratio of ((γ+1)/2)^(γ/(γ−1)) with
    /// γ = 1.4: 1 / 0.5283 (compressible-flow tables, from memory).
    #[test]
    fn every_target_accepted_lets_air_out_at_the_speed_of_sound() {
        let gamma: f64 = 1.4;
        let critical = f64::midpoint(gamma, 1.0).powf(gamma / (gamma - 1.0));
        assert!((critical.recip() - 0.5283).abs() < 5e-5);
        let lowest = GaugePressure::new::<kilopascal>(Field::LetDownTo.limit().min);
        for metres in [Field::Height.limit().min, 0.0, Field::Height.limit().max] {
            let ambient = Height::metres(metres).unwrap().ambient();
            assert!(lowest.to_absolute(ambient).ratio_to(ambient) > critical);
        }
    }

    /// Against the law stepped through time, second by second.
    #[test]
    fn letting_down_follows_the_choked_outflow() {
        let site = Site {
            height: Height::metres(800.0).unwrap(),
            temperature: AmbientTemperature::celsius(30.0).unwrap(),
        };
        let p = GaugePressure::new::<kilopascal>;
        let flow = VolumeRate::new::<liter_per_minute>(200.0);
        let tool = Deflator::stated(flow, p(200.0), site).unwrap();
        let fall = Fall {
            space: Volume::new::<liter>(80.0),
            from: p(350.0),
            to: p(120.0),
        };
        let ambient = site.height.ambient().get::<kilopascal>();
        let (mut pressure, mut minutes) = (350.0 + ambient, 0.0);
        let step = 1e-5;
        while pressure > 120.0 + ambient {
            let out = 200.0 * pressure / (200.0 + ambient);
            pressure -= out / 80.0 * ambient * step;
            minutes += step;
        }
        let time = tool.time(&fall, site).unwrap().get::<minute>();
        assert!((time / minutes - 1.0).abs() < 1e-3, "{time} {minutes}");
    }
}
