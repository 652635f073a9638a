//! Wheel load: the mass that one tyre carries, from what is known of the axle.

use super::limits::{Field, OutOfRange};
use super::quantity::{Mass, kilogram};
use super::tyre::capacity::Fitment;

/// One axle, or several that share a load, such as a caravan's pair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AxleGroup {
    axles: u8,
    fitment: Fitment,
}

impl AxleGroup {
    /// Most axles in a group.
    pub const MOST_AXLES: u8 = 3;

    /// `axles` axles, one to three; a count outside is taken to the nearer end.
    pub fn new(axles: u8, fitment: Fitment) -> Self {
        Self {
            axles: axles.clamp(1, Self::MOST_AXLES),
            fitment,
        }
    }

    /// Tyres in the whole group.
    pub fn tyres(self) -> u8 {
        2 * self.tyres_per_side()
    }

    /// Axles in the group.
    pub fn axles(self) -> u8 {
        self.axles
    }

    /// One or two tyres at each end.
    pub fn fitment(self) -> Fitment {
        self.fitment
    }

    fn tyres_per_side(self) -> u8 {
        match self.fitment {
            Fitment::Single => self.axles,
            Fitment::Dual => 2 * self.axles,
        }
    }
}

/// What is known of the mass on an axle group, best first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LoadSource {
    /// Each side weighed: the heavier one counts.
    Sides {
        /// Left.
        left: Mass,
        /// Right.
        right: Mass,
    },
    /// The group weighed whole.
    Weighed(Mass),
    /// The group's rating, standing in for a weight: its axle limit, or GTM.
    Rating(Mass),
}

impl LoadSource {
    /// The load on the most heavily loaded tyre.
    ///
    /// Where the sides were not weighed, `uneven_percent` is added for one
    /// wheel carrying more than its share (10 %: common practice, no source).
    /// The axles of a group are taken to share evenly.
    ///
    /// # Errors
    /// [`OutOfRange`] for a mass or allowance outside its limits.
    ///
    /// A van's two axles weighed whole at 2,500 kg, and side by side:
    ///
    /// ```
    /// use tyreside::calc::load::{AxleGroup, LoadSource};
    /// use tyreside::calc::quantity::{Mass, kilogram};
    /// use tyreside::calc::tyre::capacity::Fitment;
    /// let kg = Mass::new::<kilogram>;
    /// let group = AxleGroup::new(2, Fitment::Single);
    /// let whole = LoadSource::Weighed(kg(2500.0)).wheel_load(group, 10.0).unwrap();
    /// assert!((whole.get::<kilogram>() - 687.5).abs() < 1e-9);
    /// // Weighed by side the heavier counts, and no allowance is added.
    /// let sides = LoadSource::Sides { left: kg(1300.0), right: kg(1200.0) };
    /// assert_eq!(sides.wheel_load(group, 10.0), Ok(kg(650.0)));
    /// assert!(LoadSource::Weighed(kg(2.5)).wheel_load(group, 10.0).is_err());
    /// ```
    pub fn wheel_load(self, group: AxleGroup, uneven_percent: f64) -> Result<Mass, OutOfRange> {
        let check = |field: Field, mass: Mass| field.check(mass.get::<kilogram>());
        match self {
            Self::Sides { left, right } => {
                let heavier = check(Field::SideMass, left)?.max(check(Field::SideMass, right)?);
                Ok(Mass::new::<kilogram>(
                    heavier / f64::from(group.tyres_per_side()),
                ))
            }
            Self::Weighed(mass) | Self::Rating(mass) => {
                let even = check(Field::AxleMass, mass)? / f64::from(group.tyres());
                let uneven = Field::UnevenLoad.check(uneven_percent)?;
                Ok(Mass::new::<kilogram>(even * (1.0 + uneven / 100.0)))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kg(value: f64) -> Mass {
        Mass::new::<kilogram>(value)
    }

    #[test]
    fn the_heavier_side_counts_and_a_whole_weight_gets_the_allowance() {
        let pair = AxleGroup::new(2, Fitment::Single);
        let sides = LoadSource::Sides {
            left: kg(1300.0),
            right: kg(1200.0),
        };
        assert_eq!(sides.wheel_load(pair, 10.0), Ok(kg(650.0)));
        let whole = LoadSource::Weighed(kg(2500.0))
            .wheel_load(pair, 10.0)
            .unwrap();
        assert!((whole.get::<kilogram>() - 687.5).abs() < 1e-9);
        let duals = AxleGroup::new(1, Fitment::Dual);
        assert_eq!(
            LoadSource::Rating(kg(3000.0)).wheel_load(duals, 0.0),
            Ok(kg(750.0))
        );
    }

    #[test]
    fn a_mass_or_allowance_out_of_range_is_refused() {
        let one = AxleGroup::new(1, Fitment::Single);
        assert!(LoadSource::Weighed(kg(-1.0)).wheel_load(one, 10.0).is_err());
        assert!(
            LoadSource::Weighed(kg(f64::NAN))
                .wheel_load(one, 10.0)
                .is_err()
        );
        assert!(
            LoadSource::Weighed(kg(1000.0))
                .wheel_load(one, 51.0)
                .is_err()
        );
        let sides = LoadSource::Sides {
            left: kg(500.0),
            right: kg(f64::INFINITY),
        };
        assert!(sides.wheel_load(one, 10.0).is_err());
    }
}
