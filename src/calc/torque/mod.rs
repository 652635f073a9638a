//! Wheel nuts: what a stated torque is in another unit, what a wrench can
//! promise of it, and the tightening itself.
//!
//! | module | answers |
//! | --- | --- |
//! | [`spec`] | what does the sticker allow, in my unit? |
//! | [`wrench`] | which mark do I set, and what may it give? |
//! | [`adapter`] | what does an extension or crow's-foot change? |
//! | [`thread`] | how hard does the stud pull, and what would oil do? |
//! | [`sequence`] | which nut is next? |
//! | [`recheck`] | when do I look again? |
//!
//! A torque shares its dimension with an energy, and is none:
//!
//! ```
//! use tyreside::calc::torque::{Torque, newton_meter};
//! use uom::si::torque::newton_meter as uom_newton_meter;
//! let of_uom: uom::si::f64::Torque = uom::si::f64::Torque::new::<uom_newton_meter>(120.0);
//! assert_eq!(Torque::from(of_uom), Torque::new::<newton_meter>(120.0));
//! ```
//!
//! ```compile_fail,E0277
//! use tyreside::calc::torque::Torque;
//! use uom::si::energy::joule;
//! let energy = uom::si::f64::Energy::new::<joule>(120.0);
//! let wrong = Torque::from(energy);
//! ```
//!
//! ```compile_fail,E0277
//! use tyreside::calc::torque::Torque;
//! use uom::si::energy::joule;
//! let wrong = Torque::new::<joule>(120.0);
//! ```

pub mod adapter;
mod exact;
pub mod recheck;
pub mod sequence;
pub mod spec;
pub mod thread;
pub mod wrench;

pub use units::{foot_pound_force, inch_pound_force, kilogram_force_meter};
pub use uom::si::torque::newton_meter;

use crate::calc::limits::OutOfRange;
use crate::calc::stated::StatedError;
use std::fmt;
use std::ops::{Add, Sub};
use uom::Conversion;
use uom::si::f64::{Length, Torque as Moment};
use uom::si::torque;

/// Torque units that `uom` carries only rounded, as the products of their
/// definitions: 0.45359237 kg, 9.80665 m/s², 0.3048 m, 0.0254 m
/// (NIST SP 811, Appendix B.8).
mod units {
    unit! {
        system: uom::si;
        quantity: uom::si::torque;

        @foot_pound_force: 1.355_817_948_331_400_4; "ft·lbf",
            "foot pound-force", "foot pounds-force";
        @inch_pound_force: 1.129_848_290_276_167_E-1; "lbf·in",
            "inch pound-force", "inch pounds-force";
        @kilogram_force_meter: 9.806_65; "kgf·m",
            "kilogram-force metre", "kilogram-force metres";
    }
}

/// A turning moment. Never an energy.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Torque(Moment);

impl Torque {
    /// The torque of `value` in unit `U`.
    pub fn new<U>(value: f64) -> Self
    where
        U: torque::Unit + Conversion<f64, T = f64>,
    {
        Self(Moment::new::<U>(value))
    }

    /// The bare number in unit `U`.
    pub fn get<U>(self) -> f64
    where
        U: torque::Unit + Conversion<f64, T = f64>,
    {
        self.0.get::<U>()
    }

    /// This torque times a plain ratio.
    #[must_use]
    pub fn scaled(self, ratio: f64) -> Self {
        Self(self.0 * ratio)
    }

    /// This torque as a multiple of `other`.
    pub fn ratio_to(self, other: Self) -> f64 {
        self.0.value / other.0.value
    }

    /// What is left above none: a negative torque becomes none.
    #[must_use]
    fn or_none(self) -> Self {
        Self(Moment::new::<newton_meter>(self.0.value.max(0.0)))
    }
}

impl From<Moment> for Torque {
    fn from(moment: Moment) -> Self {
        Self(moment)
    }
}

impl Add for Torque {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Torque {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

/// From one torque to another, ends included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TorqueRange {
    /// The least.
    pub low: Torque,
    /// The greatest.
    pub high: Torque,
}

impl TorqueRange {
    /// Both ends in `unit`, rounded outward to `decimals`, for a band that
    /// must not be shown narrower than it is. An end within a millionth of a
    /// step counts as on it.
    pub fn shown_outward(self, unit: TorqueUnit, decimals: u8) -> (f64, f64) {
        const SNAP: f64 = 1e-6;
        let scale = 10_f64.powi(i32::from(decimals));
        (
            (unit.of(self.low) * scale + SNAP).floor() / scale,
            (unit.of(self.high) * scale - SNAP).ceil() / scale,
        )
    }
}

/// The units that stickers and wrenches are marked in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TorqueUnit {
    /// N·m.
    NewtonMetre,
    /// ft·lbf.
    FootPound,
    /// lbf·in.
    InchPound,
    /// kgf·m.
    KilogramMetre,
}

impl TorqueUnit {
    /// Every unit, in the order to offer them.
    pub const ALL: [Self; 4] = [
        Self::NewtonMetre,
        Self::FootPound,
        Self::InchPound,
        Self::KilogramMetre,
    ];

    /// One of this unit in counts of 10⁻¹⁶ N·m, exactly: the products of the
    /// definitions all end within sixteen decimals.
    const fn factor(self) -> u128 {
        match self {
            Self::NewtonMetre => 10_000_000_000_000_000,
            Self::FootPound => 13_558_179_483_314_004,
            Self::InchPound => 1_129_848_290_276_167,
            Self::KilogramMetre => 98_066_500_000_000_000,
        }
    }

    /// One of this unit in newton metres, as its exact decimal digits.
    ///
    /// ```
    /// use tyreside::calc::torque::TorqueUnit;
    /// assert_eq!(TorqueUnit::FootPound.newton_metres(), "1.3558179483314004");
    /// ```
    pub fn newton_metres(self) -> String {
        let one = TorqueUnit::NewtonMetre.factor();
        format!("{}.{:016}", self.factor() / one, self.factor() % one)
    }

    /// `value` of this unit.
    pub fn torque(self, value: f64) -> Torque {
        match self {
            Self::NewtonMetre => Torque::new::<newton_meter>(value),
            Self::FootPound => Torque::new::<foot_pound_force>(value),
            Self::InchPound => Torque::new::<inch_pound_force>(value),
            Self::KilogramMetre => Torque::new::<kilogram_force_meter>(value),
        }
    }

    /// `torque` as a number of this unit.
    pub fn of(self, torque: Torque) -> f64 {
        match self {
            Self::NewtonMetre => torque.get::<newton_meter>(),
            Self::FootPound => torque.get::<foot_pound_force>(),
            Self::InchPound => torque.get::<inch_pound_force>(),
            Self::KilogramMetre => torque.get::<kilogram_force_meter>(),
        }
    }

    /// The decimals to show. The last place is about 0.1 N·m in each unit, so
    /// that a figure taken to another unit and back moves by one of it at most.
    pub fn decimals(self) -> u8 {
        match self {
            Self::NewtonMetre | Self::FootPound => 1,
            Self::InchPound => 0,
            Self::KilogramMetre => 2,
        }
    }
}

/// The cosine of 0 to 180 degrees, within a few 10⁻¹⁶.
///
/// The standard library's is right for every double, with 8 kB of code for it
/// in the page. Here the angle is brought to 45° at most and the series
/// summed to its tenth term, 10⁻¹⁷ there.
fn cosine_of(degrees: f64) -> f64 {
    let series = |first: f64, square: f64, start: f64| {
        let (mut term, mut sum, mut n) = (first, first, start);
        for _ in 0..9 {
            term *= -square / (n * (n + 1.0));
            sum += term;
            n += 2.0;
        }
        sum
    };
    if degrees > 90.0 {
        -cosine_of(180.0 - degrees)
    } else if degrees > 45.0 {
        let x = (90.0 - degrees).to_radians();
        series(x, x * x, 2.0)
    } else {
        let x = degrees.to_radians();
        series(1.0, x * x, 1.0)
    }
}

/// Why a torque figure is refused.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TorqueError {
    /// A number of it is refused.
    Stated(StatedError),
    /// The highest mark is not a whole number of steps above the lowest.
    UnevenScale {
        /// The lowest mark given.
        lowest: f64,
        /// The highest mark given.
        highest: f64,
        /// The step given.
        step: f64,
    },
    /// The adapter is turned so far back that the nut is closer to the hand
    /// than half the handle: there a small slip of the hand is a large error.
    ArmTooShort {
        /// From the hand to the nut, along the handle; negative if past it.
        arm: Length,
        /// The least allowed.
        least: Length,
    },
}

impl From<OutOfRange> for TorqueError {
    fn from(error: OutOfRange) -> Self {
        Self::Stated(error.into())
    }
}

impl From<StatedError> for TorqueError {
    fn from(error: StatedError) -> Self {
        Self::Stated(error)
    }
}

impl fmt::Display for TorqueError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Stated(error) => error.fmt(f),
            Self::UnevenScale {
                lowest,
                highest,
                step,
            } => write!(f, "{highest} is not whole steps of {step} above {lowest}"),
            Self::ArmTooShort { arm, least } => {
                write!(f, "arm {} m is below {} m", arm.value, least.value)
            }
        }
    }
}

impl std::error::Error for TorqueError {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_integer_factors_are_the_ones_uom_uses() {
        for unit in TorqueUnit::ALL {
            let digits: f64 = unit.newton_metres().parse().unwrap();
            assert_eq!(unit.torque(1.0).get::<newton_meter>(), digits, "{unit:?}");
        }
    }

    #[test]
    fn a_band_is_never_shown_narrower() {
        let range = TorqueRange {
            low: Torque::new::<newton_meter>(96.04),
            high: Torque::new::<newton_meter>(104.1),
        };
        assert_eq!(
            range.shown_outward(TorqueUnit::NewtonMetre, 1),
            (96.0, 104.1)
        );
    }
}
