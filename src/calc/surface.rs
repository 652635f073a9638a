//! Surfaces, and the band of pressures that practice gives each.
//!
//! Every band is common practice, no source. `tests/published` prints where
//! published neighbours fall beside them.

use super::limits::{Field, OutOfRange};
use super::quantity::{GaugePressure, Velocity, kilometer_per_hour};

/// What the wheels will run on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Surface {
    /// Sealed road.
    Sealed,
    /// Gravel, formed and graded.
    Gravel,
    /// Dirt road.
    Dirt,
    /// Corrugations.
    Corrugations,
    /// Rock.
    Rock,
    /// Mud.
    Mud,
    /// Soft sand.
    Sand,
    /// Bogged: getting out, and no further.
    Bogged,
}

impl Surface {
    /// Every surface, hardest first.
    pub const ALL: [Self; 8] = [
        Self::Sealed,
        Self::Gravel,
        Self::Dirt,
        Self::Corrugations,
        Self::Rock,
        Self::Mud,
        Self::Sand,
        Self::Bogged,
    ];

    /// The band of practice; none on sealed road, where the load, the placard
    /// and the tables decide.
    ///
    /// 50 psi on sealed road is 30 to 35 psi on dirt (common practice):
    ///
    /// ```
    /// use tyreside::calc::quantity::{GaugePressure, psi};
    /// use tyreside::calc::surface::Surface;
    /// let dirt = Surface::Dirt.band().unwrap();
    /// let (low, high) = dirt.of(GaugePressure::new::<psi>(50.0));
    /// assert!((low.get::<psi>() - 30.0).abs() < 1e-9);
    /// assert!((high.get::<psi>() - 35.0).abs() < 1e-9);
    /// assert_eq!(Surface::Sealed.band(), None);
    /// ```
    pub fn band(self) -> Option<Band> {
        let (low, high, kmh) = match self {
            Self::Sealed => return None,
            Self::Gravel => (0.70, 0.80, 80.0),
            Self::Dirt => (0.60, 0.70, 80.0),
            Self::Corrugations => (0.55, 0.65, 60.0),
            Self::Rock => (0.50, 0.60, 25.0),
            Self::Mud => (0.45, 0.55, 30.0),
            Self::Sand => (0.35, 0.45, 40.0),
            Self::Bogged => (0.28, 0.33, 10.0),
        };
        Some(Band {
            ends: Ends::Shares(low, high),
            speed: Velocity::new::<kilometer_per_hour>(kmh),
        })
    }

    /// Whether the pressures are low enough to roll a tyre off its bead in a
    /// sharp turn.
    pub fn no_sharp_steering(self) -> bool {
        matches!(self, Self::Rock | Self::Mud | Self::Sand | Self::Bogged)
    }
}

/// A band of pressures, and the speed it is for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    ends: Ends,
    speed: Velocity,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Ends {
    /// Of the sealed cold pressure.
    Shares(f64, f64),
    Pressures(GaugePressure, GaugePressure),
}

/// Why a band is none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BandError {
    /// A value is outside its range.
    OutOfRange(OutOfRange),
    /// The low end is above the high end.
    LowAboveHigh,
}

crate::calc::error_by_its_fields!(BandError);

impl From<OutOfRange> for BandError {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

impl Band {
    /// A band from `low` to `high` percent of the sealed pressure, up to `speed`.
    ///
    /// # Errors
    /// [`BandError`] for a share outside 20 to 100 %, a speed outside 5 to
    /// 100 km/h, or ends the wrong way round.
    pub fn new(low_percent: f64, high_percent: f64, speed: Velocity) -> Result<Self, BandError> {
        let low = Field::BandShare.check(low_percent)? / 100.0;
        let high = Field::BandShare.check(high_percent)? / 100.0;
        Self::checked(Ends::Shares(low, high), low > high, speed)
    }

    /// A band from `low` to `high` as pressures, whatever the sealed one is.
    ///
    /// # Errors
    /// [`BandError`] for a pressure outside 100 to 900 kPa, a speed outside 5
    /// to 100 km/h, or ends the wrong way round.
    pub fn in_pressures(
        low: GaugePressure,
        high: GaugePressure,
        speed: Velocity,
    ) -> Result<Self, BandError> {
        let low = Field::BandPressure.check_pressure(low)?;
        let high = Field::BandPressure.check_pressure(high)?;
        Self::checked(Ends::Pressures(low, high), low > high, speed)
    }

    fn checked(ends: Ends, wrong_way: bool, speed: Velocity) -> Result<Self, BandError> {
        Field::BandSpeed.check(speed.get::<kilometer_per_hour>())?;
        if wrong_way {
            return Err(BandError::LowAboveHigh);
        }
        Ok(Self { ends, speed })
    }

    /// Low and high end, as shares of the sealed pressure; none where they are
    /// pressures.
    pub fn shares(self) -> Option<(f64, f64)> {
        match self.ends {
            Ends::Shares(low, high) => Some((low, high)),
            Ends::Pressures(..) => None,
        }
    }

    /// Low and high end for a tyre of this sealed cold pressure.
    pub fn of(self, sealed: GaugePressure) -> (GaugePressure, GaugePressure) {
        match self.ends {
            Ends::Shares(low, high) => (sealed.scaled(low), sealed.scaled(high)),
            Ends::Pressures(low, high) => (low, high),
        }
    }

    /// The middle for a tyre of this sealed cold pressure.
    pub fn middle(self, sealed: GaugePressure) -> GaugePressure {
        let (low, high) = self.of(sealed);
        (low + high).scaled(0.5)
    }

    /// Speed limit of the band.
    pub fn speed(self) -> Velocity {
        self.speed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_band_is_one_that_could_be_entered() {
        for surface in Surface::ALL {
            let Some(band) = surface.band() else {
                assert_eq!(surface, Surface::Sealed);
                continue;
            };
            let (low, high) = band.shares().expect("shares");
            assert!(Band::new(low * 100.0, high * 100.0, band.speed()).is_ok());
        }
        let slow = Velocity::new::<kilometer_per_hour>(40.0);
        let p = GaugePressure::new::<crate::calc::quantity::kilopascal>;
        let own = Band::in_pressures(p(130.0), p(150.0), slow).expect("a band");
        assert_eq!((own.shares(), own.middle(p(345.0))), (None, p(140.0)));
        assert_eq!(
            Band::in_pressures(p(150.0), p(130.0), slow),
            Err(BandError::LowAboveHigh)
        );
        for bad in [20.0, 5000.0, f64::NAN] {
            assert!(matches!(
                Band::in_pressures(p(bad), p(150.0), slow),
                Err(BandError::OutOfRange(_))
            ));
        }
        assert_eq!(Band::new(60.0, 50.0, slow), Err(BandError::LowAboveHigh));
        assert!(matches!(
            Band::new(f64::NAN, 50.0, slow),
            Err(BandError::OutOfRange(_))
        ));
        assert!(matches!(
            Band::new(10.0, 50.0, slow),
            Err(BandError::OutOfRange(_))
        ));
    }
}
