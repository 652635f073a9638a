//! A figure as a sticker states it, with what it allows to either side, in
//! any unit of its quantity: exact factors, the nominal to the nearest, the
//! range rounded inward.

use super::exact::{Exact, MILLION, whole};
use super::limits::{Field, OutOfRange};
use std::fmt;

/// What a figure allows around its nominal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tolerance {
    /// Nothing is stated: nothing can then be called inside.
    Unstated,
    /// To either side, in per cent of the nominal.
    Percent(f64),
    /// To either side, in the nominal's unit.
    PlusMinus(f64),
    /// Below and above, in the nominal's unit; either may be zero.
    MinusPlus {
        /// Below the nominal.
        minus: f64,
        /// Above the nominal.
        plus: f64,
    },
}

/// A figure's numbers in one unit, ready to be written with `decimals`
/// decimals.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    /// The decimals that the numbers have: those asked for, or more where the
    /// range would have closed up.
    pub decimals: u8,
    /// The nominal to the nearest, but never outside `range`.
    pub nominal: f64,
    /// The lowest and highest, rounded inward.
    pub range: Option<(f64, f64)>,
}

/// Why a stated figure is refused.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StatedError {
    /// Outside its field's limit.
    OutOfRange(OutOfRange),
    /// More decimals than are kept; rounding them away would change a promise.
    TooFine {
        /// The field.
        field: Field,
        /// The number given, as it was written.
        given: f64,
        /// The most decimals allowed.
        decimals: u8,
    },
    /// The lower end is not below the upper, in the unit given.
    Crossed {
        /// The field of the upper end.
        field: Field,
        /// The lower end given.
        low: f64,
        /// The upper end given.
        high: f64,
    },
}

impl From<OutOfRange> for StatedError {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

impl fmt::Display for StatedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange(error) => error.fmt(f),
            Self::TooFine {
                field,
                given,
                decimals,
            } => write!(f, "{field:?}: {given} has more than {decimals} decimals"),
            Self::Crossed { field, low, high } => {
                write!(f, "{field:?}: {low} is not below {high}")
            }
        }
    }
}

impl std::error::Error for StatedError {}

/// What may be stated of a quantity.
pub(super) struct Rules {
    /// The figure itself, and either end of its range.
    pub(super) value: Field,
    /// A tolerance to one side.
    pub(super) side: Field,
    /// From the lowest to the highest allowed.
    pub(super) width: Field,
    /// The unit of those fields' limits, in counts.
    pub(super) base: u128,
}

impl Rules {
    /// `value` in millionths of a unit of `factor` counts, if `field` allows it.
    pub(super) fn checked(
        &self,
        field: Field,
        value: f64,
        factor: u128,
    ) -> Result<u128, StatedError> {
        field.check(value * (factor as f64 / self.base as f64))?;
        finely(field, value, 6)
    }

    /// `figure` as a number of the limits' unit.
    fn number(&self, figure: Exact) -> f64 {
        figure.0 as f64 / (self.base as f64 * 1e12)
    }
}

/// As [`whole`], with the field that has too many decimals.
pub(super) fn finely(field: Field, value: f64, decimals: u8) -> Result<u128, StatedError> {
    whole(value, decimals).ok_or(StatedError::TooFine {
        field,
        given: value,
        decimals,
    })
}

/// A figure as stated, held exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stated {
    pub(super) nominal: Exact,
    pub(super) limits: Option<(Exact, Exact)>,
}

impl Stated {
    /// `nominal` in a unit of `factor` counts, with its tolerance.
    pub(super) fn new(
        rules: &Rules,
        nominal: f64,
        factor: u128,
        tolerance: Tolerance,
    ) -> Result<Self, StatedError> {
        let millionths = rules.checked(rules.value, nominal, factor)?;
        let exact = Exact::counted(millionths, factor);
        let side = |value| {
            let millionths = rules.checked(rules.side, value, factor)?;
            Ok::<_, StatedError>(Exact::counted(millionths, factor))
        };
        let (minus, plus) = match tolerance {
            Tolerance::Unstated => {
                return Ok(Self {
                    nominal: exact,
                    limits: None,
                });
            }
            Tolerance::Percent(percent) => {
                let field = Field::TolerancePercent;
                // Four decimals of a per cent are millionths.
                let parts = finely(field, field.check(percent)?, 4)?;
                let side = Exact(exact.0 / MILLION * parts);
                (side, side)
            }
            Tolerance::PlusMinus(value) => {
                let side = side(value)?;
                (side, side)
            }
            Tolerance::MinusPlus { minus, plus } => (side(minus)?, side(plus)?),
        };
        // A lower end below zero is caught, as zero, by its own limit.
        Self::within(
            rules,
            exact,
            Exact(exact.0.saturating_sub(minus.0)),
            Exact(exact.0 + plus.0),
        )
    }

    /// From `low` to `high` in a unit of `factor` counts; the nominal is the
    /// middle.
    pub(super) fn range(
        rules: &Rules,
        low: f64,
        high: f64,
        factor: u128,
    ) -> Result<Self, StatedError> {
        let field = rules.value;
        let (bottom, top) = (
            Exact::counted(rules.checked(field, low, factor)?, factor),
            Exact::counted(rules.checked(field, high, factor)?, factor),
        );
        if bottom >= top {
            return Err(StatedError::Crossed { field, low, high });
        }
        // Both are whole millions of counts: halving leaves nothing over.
        let middle = Exact(bottom.0.midpoint(top.0));
        Self::within(rules, middle, bottom, top)
    }

    fn within(rules: &Rules, nominal: Exact, low: Exact, high: Exact) -> Result<Self, StatedError> {
        for end in [low, high] {
            rules.value.check(rules.number(end))?;
        }
        rules.width.check(rules.number(Exact(high.0 - low.0)))?;
        Ok(Self {
            nominal,
            limits: Some((low, high)),
        })
    }

    /// This figure in a unit of `factor` counts with `decimals` decimals (at
    /// most 6): the range rounded inward, so that what is shown promises
    /// nothing that was not stated. Where fewer than two values would be left,
    /// more decimals.
    pub(super) fn shown(&self, factor: u128, decimals: u8) -> Shown {
        let mut decimals = decimals.min(6);
        let ends = self.limits.map(|(low, high)| {
            loop {
                let (below, rest, _) = low.count(factor, decimals);
                let bottom = below + u128::from(rest > 0);
                let (top, _, _) = high.count(factor, decimals);
                // The least width of a figure holds two values at six decimals
                // in every unit.
                if bottom < top || decimals >= 6 {
                    break (bottom, top);
                }
                decimals += 1;
            }
        });
        let (below, rest, one) = self.nominal.count(factor, decimals);
        let nearest = below + u128::from(rest * 2 >= one);
        let scale = 10_f64.powi(i32::from(decimals));
        let number = |count: u128| count as f64 / scale;
        Shown {
            decimals,
            nominal: number(ends.map_or(nearest, |(bottom, top)| nearest.max(bottom).min(top))),
            range: ends.map(|(bottom, top)| (number(bottom), number(top))),
        }
    }
}

/// The units that stickers and gauges state a pressure in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StatedPressureUnit {
    /// psi.
    PoundPerSquareInch,
    /// kPa.
    Kilopascal,
    /// bar.
    Bar,
    /// kgf/cm².
    KilogramPerSquareCentimetre,
}

/// One kilopascal, in counts as below.
const KILOPASCAL: u128 = 6_451_600_000_000;

/// A pressure; its limits are in kilopascals.
const PRESSURE: Rules = Rules {
    value: Field::StatedPressure,
    side: Field::PressureTolerance,
    width: Field::PressureWidth,
    base: KILOPASCAL,
};

impl StatedPressureUnit {
    /// Every unit, in the order to offer them.
    pub const ALL: [Self; 4] = [
        Self::PoundPerSquareInch,
        Self::Kilopascal,
        Self::Bar,
        Self::KilogramPerSquareCentimetre,
    ];

    /// One of this unit in counts of 1/6,451,600,000 Pa, exactly. From the
    /// definitions (NIST SP 811, Appendix B.8): pound 0.45359237 kg, standard
    /// gravity 9.80665 m/s², inch 0.0254 m, so that 1 psi is
    /// 4.4482216152605/0.00064516 Pa.
    fn factor(self) -> u128 {
        match self {
            Self::PoundPerSquareInch => 44_482_216_152_605,
            Self::Kilopascal => KILOPASCAL,
            Self::Bar => 100 * KILOPASCAL,
            // 98.0665 kPa.
            Self::KilogramPerSquareCentimetre => 980_665 * KILOPASCAL / 10_000,
        }
    }

    /// The decimals to show: about a tenth of a psi, as fine as a good gauge.
    pub fn decimals(self) -> u8 {
        match self {
            Self::PoundPerSquareInch => 1,
            Self::Kilopascal => 0,
            Self::Bar | Self::KilogramPerSquareCentimetre => 2,
        }
    }
}

/// A pressure as stated, held exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StatedPressure(Stated);

impl StatedPressure {
    /// `nominal` in `unit` with its tolerance.
    ///
    /// # Errors
    /// [`Field::StatedPressure`] (each end too), [`Field::TolerancePercent`],
    /// [`Field::PressureTolerance`] or [`Field::PressureWidth`] out of range;
    /// more than six decimals in a pressure, or four in a percentage.
    ///
    /// ```
    /// use tyreside::calc::stated::StatedPressureUnit::{Kilopascal, PoundPerSquareInch};
    /// use tyreside::calc::stated::{StatedPressure, Tolerance};
    /// let sticker = StatedPressure::new(36.0, PoundPerSquareInch, Tolerance::PlusMinus(2.0));
    /// let shown = sticker.unwrap().shown_in(Kilopascal, 0);
    /// assert_eq!((shown.nominal, shown.range), (248.0, Some((235.0, 262.0))));
    /// assert!(StatedPressure::new(2400.0, Kilopascal, Tolerance::Unstated).is_err());
    /// ```
    pub fn new(
        nominal: f64,
        unit: StatedPressureUnit,
        tolerance: Tolerance,
    ) -> Result<Self, StatedError> {
        Stated::new(&PRESSURE, nominal, unit.factor(), tolerance).map(Self)
    }

    /// From `low` to `high` in `unit`; the nominal is the middle.
    ///
    /// # Errors
    /// As [`Self::new`]; [`StatedError::Crossed`] unless `low` is below `high`.
    pub fn range(low: f64, high: f64, unit: StatedPressureUnit) -> Result<Self, StatedError> {
        Stated::range(&PRESSURE, low, high, unit.factor()).map(Self)
    }

    /// This pressure in `unit` with `decimals` decimals (at most 6), the range
    /// rounded inward.
    pub fn shown_in(&self, unit: StatedPressureUnit, decimals: u8) -> Shown {
        self.0.shown(unit.factor(), decimals)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_a_pressure_is_refused_with_its_field() {
        use StatedPressureUnit::{Bar, Kilopascal};
        let field = |result: Result<StatedPressure, StatedError>| match result {
            Err(StatedError::OutOfRange(e)) => Some(e.limit.field),
            Err(StatedError::TooFine { field, .. } | StatedError::Crossed { field, .. }) => {
                Some(field)
            }
            Ok(_) => None,
        };
        let new = |nominal, tolerance| field(StatedPressure::new(nominal, Bar, tolerance));
        assert_eq!(new(2.5, Tolerance::PlusMinus(0.1)), None);
        assert_eq!(new(36.0, Tolerance::Unstated), Some(Field::StatedPressure));
        assert_eq!(
            new(f64::NAN, Tolerance::Unstated),
            Some(Field::StatedPressure)
        );
        assert_eq!(
            new(2.5, Tolerance::PlusMinus(0.0)),
            Some(Field::PressureWidth)
        );
        assert_eq!(
            new(2.5, Tolerance::PlusMinus(-0.1)),
            Some(Field::PressureTolerance)
        );
        assert_eq!(
            new(2.5, Tolerance::Percent(60.0)),
            Some(Field::TolerancePercent)
        );
        assert_eq!(
            new(2.123_456_7, Tolerance::Unstated),
            Some(Field::StatedPressure)
        );
        let crossed = StatedPressure::range(260.0, 240.0, Kilopascal);
        assert_eq!(field(crossed), Some(Field::StatedPressure));
        assert!(matches!(crossed, Err(StatedError::Crossed { .. })));
    }
}
