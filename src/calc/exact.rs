//! Whole numbers, for figures that must not move when their unit changes.
//!
//! A figure is written in decimals, and every factor between the units of one
//! quantity is a fraction of whole numbers. Held as counts of a part small
//! enough for all of them, figures meet without rounding.

/// The whole, for a share stated in millionths.
pub(super) const MILLION: u128 = 1_000_000;

/// A figure in counts: a millionth (of the number written) of one count (of
/// the unit's factor) of a millionth (of a tolerance in per cent).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Exact(pub(super) u128);

impl Exact {
    /// `millionths` of a unit that is `factor` counts.
    pub(super) fn counted(millionths: u128, factor: u128) -> Self {
        Self(millionths * factor * MILLION)
    }

    /// How often 10⁻ᵈ of such a unit fits in, what is left, and that part of
    /// the unit itself, the last two in counts.
    pub(super) fn count(self, factor: u128, decimals: u8) -> (u128, u128, u128) {
        let one = factor * 10_u128.pow(12 - u32::from(decimals.min(12)));
        (self.0 / one, self.0 % one, one)
    }
}

/// `value` as a count of 10⁻ᵈ, if it has no more than `decimals` decimals.
pub(super) fn whole(value: f64, decimals: u8) -> Option<u128> {
    let scaled = value * 10_f64.powi(i32::from(decimals));
    let count = scaled.round();
    // The nearest f64 to a decimal number of this size is well within 1e-5.
    ((0.0..1e12).contains(&count) && (scaled - count).abs() <= 1e-5).then_some(count as u128)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seventh_decimal_is_refused() {
        assert_eq!(whole(105.000_001, 6), Some(105_000_001));
        for bad in [105.000_000_1, -1.0, f64::NAN, f64::INFINITY, 1e300] {
            assert_eq!(whole(bad, 6), None, "{bad}");
        }
    }
}
