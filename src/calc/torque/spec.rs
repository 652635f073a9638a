//! The torque on the sticker, with what it allows to either side.

pub use crate::calc::stated::{Shown, StatedError, Tolerance};

use super::exact::Exact;
use super::{Torque, TorqueError, TorqueRange, TorqueUnit, newton_meter};
use crate::calc::limits::Field;
use crate::calc::stated::{Rules, Stated};

/// A torque; its limits are in newton metres.
const TORQUE: Rules = Rules {
    value: Field::SpecTorque,
    side: Field::ToleranceValue,
    width: Field::ToleranceWidth,
    base: TorqueUnit::NewtonMetre.factor(),
};

/// A torque as stated, held exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spec {
    unit: TorqueUnit,
    stated: Stated,
}

impl Spec {
    /// `nominal` in `unit` with its tolerance.
    ///
    /// # Errors
    /// [`Field::SpecTorque`] (each end too), [`Field::TolerancePercent`],
    /// [`Field::ToleranceValue`] or [`Field::ToleranceWidth`] out of range;
    /// more than six decimals in a torque, or four in a percentage.
    ///
    /// ```
    /// use tyreside::calc::torque::TorqueUnit::{FootPound, NewtonMetre};
    /// use tyreside::calc::torque::spec::{Spec, Tolerance};
    /// let spec = Spec::new(105.0, FootPound, Tolerance::PlusMinus(5.0)).unwrap();
    /// let shown = spec.shown_in(NewtonMetre, 1);
    /// assert_eq!((shown.nominal, shown.range), (142.4, Some((135.6, 149.1))));
    /// assert!(Spec::new(105.0, FootPound, Tolerance::PlusMinus(0.0)).is_err());
    /// ```
    pub fn new(nominal: f64, unit: TorqueUnit, tolerance: Tolerance) -> Result<Self, StatedError> {
        let stated = Stated::new(&TORQUE, nominal, unit.factor(), tolerance)?;
        Ok(Self { unit, stated })
    }

    /// From `low` to `high` in `unit`; the nominal is the middle.
    ///
    /// # Errors
    /// As [`Self::new`]; [`StatedError::Crossed`] unless `low` is below `high`.
    pub fn range(low: f64, high: f64, unit: TorqueUnit) -> Result<Self, StatedError> {
        let stated = Stated::range(&TORQUE, low, high, unit.factor())?;
        Ok(Self { unit, stated })
    }

    /// The unit it is stated in.
    pub fn unit(&self) -> TorqueUnit {
        self.unit
    }

    /// The torque to aim for.
    pub fn nominal(&self) -> Torque {
        Torque::new::<newton_meter>(self.stated.nominal.newton_metres())
    }

    /// What it allows, if it says.
    pub fn limits(&self) -> Option<TorqueRange> {
        self.stated.limits.map(|(low, high)| TorqueRange {
            low: Torque::new::<newton_meter>(low.newton_metres()),
            high: Torque::new::<newton_meter>(high.newton_metres()),
        })
    }

    pub(super) fn exact_nominal(&self) -> Exact {
        self.stated.nominal
    }

    pub(super) fn exact_limits(&self) -> Option<(Exact, Exact)> {
        self.stated.limits
    }

    /// This spec in `unit` with `decimals` decimals (at most 6): the range
    /// rounded inward, so that what is shown promises nothing that was not
    /// stated. Where fewer than two values would be left, more decimals.
    pub fn shown_in(&self, unit: TorqueUnit, decimals: u8) -> Shown {
        self.stated.shown(unit.factor(), decimals)
    }
}

/// `value` in millionths of `unit`, if its field allows it.
pub(super) fn checked(field: Field, value: f64, unit: TorqueUnit) -> Result<u128, TorqueError> {
    Ok(TORQUE.checked(field, value, unit.factor())?)
}

#[cfg(test)]
mod tests {
    use super::TorqueUnit::{FootPound, KilogramMetre, NewtonMetre};
    use super::*;

    #[test]
    fn every_way_of_stating_a_tolerance_gives_its_range() {
        let ends = |spec: Spec| {
            let shown = spec.shown_in(NewtonMetre, 1);
            (shown.range, shown.nominal)
        };
        let spec = |tolerance| Spec::new(120.0, NewtonMetre, tolerance).unwrap();
        assert_eq!(
            ends(spec(Tolerance::Percent(5.0))),
            (Some((114.0, 126.0)), 120.0)
        );
        assert_eq!(
            ends(spec(Tolerance::PlusMinus(10.0))),
            (Some((110.0, 130.0)), 120.0)
        );
        let skew = Tolerance::MinusPlus {
            minus: 0.0,
            plus: 12.5,
        };
        assert_eq!(ends(spec(skew)), (Some((120.0, 132.5)), 120.0));
        let range = Spec::range(110.0, 135.0, NewtonMetre).unwrap();
        assert_eq!(ends(range), (Some((110.0, 135.0)), 122.5));
        assert_eq!(ends(spec(Tolerance::Unstated)), (None, 120.0));
    }

    #[test]
    fn a_narrow_range_keeps_more_digits() {
        let spec = Spec::new(14.5, KilogramMetre, Tolerance::PlusMinus(0.003)).unwrap();
        let shown = spec.shown_in(NewtonMetre, 0);
        assert_eq!(shown.decimals, 2);
        assert_eq!(shown.range, Some((142.17, 142.22)));
        assert_eq!(shown.nominal, 142.2);
    }

    #[test]
    fn a_nominal_at_the_end_of_its_range_is_shown_inside_it() {
        let tolerance = Tolerance::MinusPlus {
            minus: 0.0,
            plus: 5.0,
        };
        // 122.02 N·m: the nearest whole newton metre is below the range.
        let shown = Spec::new(90.0, FootPound, tolerance)
            .unwrap()
            .shown_in(NewtonMetre, 0);
        assert_eq!((shown.nominal, shown.range), (123.0, Some((123.0, 128.0))));
    }

    #[test]
    fn what_cannot_be_a_spec_is_refused_with_its_field() {
        let spec = |tolerance| Spec::new(120.0, NewtonMetre, tolerance);
        let field = |result: Result<Spec, StatedError>| match result {
            Err(StatedError::OutOfRange(e)) => Some(e.limit.field),
            Err(StatedError::TooFine { field, .. } | StatedError::Crossed { field, .. }) => {
                Some(field)
            }
            _ => None,
        };
        assert_eq!(
            field(spec(Tolerance::PlusMinus(120.0))),
            Some(Field::SpecTorque)
        );
        assert_eq!(
            field(spec(Tolerance::PlusMinus(0.0))),
            Some(Field::ToleranceWidth)
        );
        assert_eq!(
            field(spec(Tolerance::PlusMinus(-1.0))),
            Some(Field::ToleranceValue)
        );
        assert_eq!(
            field(spec(Tolerance::Percent(f64::NAN))),
            Some(Field::TolerancePercent)
        );
        assert_eq!(
            field(spec(Tolerance::Percent(2.000_01))),
            Some(Field::TolerancePercent)
        );
        assert_eq!(
            field(Spec::range(130.0, 130.0, NewtonMetre)),
            Some(Field::SpecTorque)
        );
        assert_eq!(
            field(Spec::range(f64::NAN, 130.0, NewtonMetre)),
            Some(Field::SpecTorque)
        );
    }
}
