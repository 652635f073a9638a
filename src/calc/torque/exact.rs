//! Whole numbers, for the comparisons that decide 'inside the spec'.
//!
//! A torque is written in decimals, and every factor to N·m is a finite
//! decimal too. Held as counts of 10⁻²⁸ N·m the two meet without rounding, so
//! that a band which ends exactly on a limit is neither refused nor let past.

use super::{TorqueError, TorqueUnit};
use crate::calc::limits::Field;
use std::cmp::Ordering;

/// The whole, for a share stated in millionths.
pub(super) const MILLION: u128 = 1_000_000;

/// A torque in counts of 10⁻²⁸ N·m: a millionth (of the number written) of
/// 10⁻¹⁶ N·m (of the factor) of a millionth (of a tolerance in per cent).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Exact(pub(super) u128);

impl Exact {
    /// `millionths` of `unit`.
    pub(super) fn of(millionths: u128, unit: TorqueUnit) -> Self {
        Self(millionths * unit.factor() * MILLION)
    }

    /// The nearest `f64` in newton metres.
    pub(super) fn newton_metres(self) -> f64 {
        self.0 as f64 * 1e-28
    }

    /// How often 10⁻ᵈ `unit` fits in, what is left, and that unit itself, the
    /// last two in counts.
    pub(super) fn count(self, unit: TorqueUnit, decimals: u8) -> (u128, u128, u128) {
        let one = unit.factor() * 10_u128.pow(12 - u32::from(decimals.min(12)));
        (self.0 / one, self.0 % one, one)
    }
}

/// `value` as a count of 10⁻ᵈ, if it has no more than `decimals` decimals.
pub(super) fn whole(field: Field, value: f64, decimals: u8) -> Result<u128, TorqueError> {
    let scaled = value * 10_f64.powi(i32::from(decimals));
    let count = scaled.round();
    // The nearest f64 to a decimal number of this size is well within 1e-5.
    if (0.0..1e12).contains(&count) && (scaled - count).abs() <= 1e-5 {
        Ok(count as u128)
    } else {
        Err(TorqueError::TooFine {
            field,
            given: value,
            decimals,
        })
    }
}

/// `a·b` against `c·d`.
pub(super) fn compare_products(a: u128, b: u128, c: u128, d: u128) -> Ordering {
    wide(a, b).cmp(&wide(c, d))
}

/// `a·b` as its upper and lower 128 bits.
fn wide(a: u128, b: u128) -> (u128, u128) {
    const HALF: u128 = (1 << 64) - 1;
    let (a1, a0, b1, b0) = (a >> 64, a & HALF, b >> 64, b & HALF);
    let low = a0 * b0;
    let mid = a1 * b0 + (low >> 64);
    let cross = a0 * b1 + (mid & HALF);
    (
        a1 * b1 + (mid >> 64) + (cross >> 64),
        (cross << 64) | (low & HALF),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wide_products_are_those_of_the_schoolbook() {
        let max = u128::MAX;
        assert_eq!(wide(max, max), (max - 1, 1));
        assert_eq!(wide(max, 2), (1, max - 1));
        assert_eq!(wide(1 << 100, 1 << 60), (1 << 32, 0));
        assert_eq!(wide(3, 5), (0, 15));
        let (a, b) = ((7 << 64) + 11, (13 << 64) + 17);
        assert_eq!(wide(a, b), (91, ((7 * 17 + 11 * 13) << 64) + 187));
        assert_eq!(compare_products(6, 35, 14, 15), Ordering::Equal);
        assert_eq!(compare_products(max, 3, max - 1, 3), Ordering::Greater);
    }

    #[test]
    fn a_seventh_decimal_is_refused() {
        let field = Field::SpecTorque;
        assert_eq!(whole(field, 105.000_001, 6), Ok(105_000_001));
        for bad in [105.000_000_1, -1.0, f64::NAN, f64::INFINITY, 1e300] {
            assert!(whole(field, bad, 6).is_err(), "{bad}");
        }
    }
}
