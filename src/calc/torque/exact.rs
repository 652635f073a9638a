//! Whole numbers, for the comparisons that decide 'inside the spec'.
//!
//! A torque is written in decimals, and every factor to N·m is a finite
//! decimal too. Held as counts of 10⁻²⁸ N·m the two meet without rounding, so
//! that a band which ends exactly on a limit is neither refused nor let past.

pub(super) use crate::calc::exact::{Exact, MILLION};

use super::{TorqueError, TorqueUnit};
use crate::calc::limits::Field;
use crate::calc::stated::finely;
use std::cmp::Ordering;

impl Exact {
    /// `millionths` of `unit`, whose factor is in counts of 10⁻¹⁶ N·m.
    pub(super) fn of(millionths: u128, unit: TorqueUnit) -> Self {
        Self::counted(millionths, unit.factor())
    }

    /// The nearest `f64` in newton metres.
    pub(super) fn newton_metres(self) -> f64 {
        self.0 as f64 * 1e-28
    }
}

/// `value` as a count of 10⁻ᵈ, if it has no more than `decimals` decimals.
pub(super) fn whole(field: Field, value: f64, decimals: u8) -> Result<u128, TorqueError> {
    Ok(finely(field, value, decimals)?)
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
}
