//! The two regimes of speed.
//!
//! The load tables are for road speeds and hold in full above 40 km/h. At
//! 40 km/h and below, on ground that gives, what bounds the pressure is how far
//! the tyre is pressed in. No published figure was found for either share (see
//! `tests/published/slow/facts.md`): both are common practice, no source, and
//! a rig may change them towards more air only.

use super::limits::{Field, OutOfRange};
use super::quantity::{Velocity, kilometer_per_hour};

/// Up to here the slow rule may stand in the place of the tables, km/h. A
/// forest service's loaded trucks with less air kept to 25 mph (study of 1987,
/// quoted), as does a park service's beach (read).
const SLOW_KMH: f64 = 40.0;

/// Up to here nothing but the deflection is asked, km/h: getting out of a bog.
const CRAWL_KMH: f64 = 10.0;

/// A speed that comes back from metres per second a hair above is that speed.
const HAIR_KMH: f64 = 1e-9;

/// What bounds a pressure at a speed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Regime {
    /// Above 40 km/h: the load tables in full.
    Road,
    /// Up to 40 km/h: the deflection, and a share of the load minimum.
    Slow,
    /// Up to 10 km/h: the deflection.
    Crawl,
}

impl Regime {
    /// The regime at `speed`. What is no number counts as road speed.
    pub fn at(speed: Velocity) -> Self {
        let kmh = speed.get::<kilometer_per_hour>();
        if kmh <= CRAWL_KMH + HAIR_KMH {
            Self::Crawl
        } else if kmh <= SLOW_KMH + HAIR_KMH {
            Self::Slow
        } else {
            Self::Road
        }
    }

    /// The regime below road speed that this one falls back to: itself, where it
    /// is slow already.
    pub fn slower(self) -> Self {
        match self {
            Self::Road => Self::Slow,
            slow => slow,
        }
    }

    /// The fastest speed of a regime; none of road speed.
    pub fn fastest(self) -> Option<Velocity> {
        let kmh = match self {
            Self::Road => return None,
            Self::Slow => SLOW_KMH,
            Self::Crawl => CRAWL_KMH,
        };
        Some(Velocity::new::<kilometer_per_hour>(kmh))
    }
}

/// What the slow rule counts with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlowRule {
    deflection: f64,
    load_share: f64,
}

impl SlowRule {
    /// Most deflection, % of section height. Common practice, no source.
    pub const DEFLECTION_PERCENT: f64 = 30.0;

    /// Least share of the load minimum, %. Common practice, no source.
    pub const LOAD_SHARE_PERCENT: f64 = 50.0;

    /// A rule by the most deflection, % of section height, and the least share
    /// of the load minimum, %.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::SlowDeflection`] (15 to 30 %) or
    /// [`Field::SlowLoadShare`] (50 to 100 %): both ends mean more air than
    /// common practice, none less.
    pub fn new(deflection_percent: f64, load_share_percent: f64) -> Result<Self, OutOfRange> {
        Ok(Self {
            deflection: Field::SlowDeflection.check(deflection_percent)? / 100.0,
            load_share: Field::SlowLoadShare.check(load_share_percent)? / 100.0,
        })
    }

    /// Most deflection, as a share of section height.
    pub fn deflection(self) -> f64 {
        self.deflection
    }

    /// Least share of the load minimum.
    pub fn load_share(self) -> f64 {
        self.load_share
    }
}

impl Default for SlowRule {
    fn default() -> Self {
        Self {
            deflection: Self::DEFLECTION_PERCENT / 100.0,
            load_share: Self::LOAD_SHARE_PERCENT / 100.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_speed_belongs_to_one_regime_and_its_end_to_the_slower() {
        let at = |kmh| Regime::at(Velocity::new::<kilometer_per_hour>(kmh));
        for (kmh, regime) in [
            (5.0, Regime::Crawl),
            (10.0, Regime::Crawl),
            (10.1, Regime::Slow),
            (40.0, Regime::Slow),
            (40.1, Regime::Road),
            (80.0, Regime::Road),
            (f64::NAN, Regime::Road),
        ] {
            assert_eq!(at(kmh), regime, "{kmh}");
        }
        for regime in [Regime::Slow, Regime::Crawl] {
            assert_eq!(regime.fastest().map(Regime::at), Some(regime));
        }
    }

    #[test]
    fn the_rule_changes_towards_more_air_only() {
        let usual = SlowRule::new(30.0, 50.0).expect("common practice");
        assert_eq!(usual, SlowRule::default());
        assert!(SlowRule::new(20.0, 80.0).is_ok());
        for (deflection, share) in [(31.0, 50.0), (30.0, 49.0), (f64::NAN, 50.0), (10.0, 50.0)] {
            assert!(
                SlowRule::new(deflection, share).is_err(),
                "{deflection} {share}"
            );
        }
    }
}
