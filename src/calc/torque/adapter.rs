//! An extension or crow's-foot between the wrench and the nut.

use super::exact::whole;
use super::{Torque, TorqueError, cosine_of};
use crate::calc::limits::Field;
use uom::si::angle::degree;
use uom::si::f64::{Angle, Length};
use uom::si::length::{micrometer, millimeter};

/// The whole, for a cosine stated in counts of 10⁻¹².
const WHOLE: i128 = 1_000_000_000_000;

/// The geometry of a wrench with an adapter on its drive.
///
/// The hand pushes square to the handle at the middle of the grip, L from the
/// drive. The nut is E from the drive, at an angle a from the handle's own line
/// drawn on past the drive. The push turns the nut on an arm of L + E·cos a and
/// the wrench on one of L, so that setting = torque·L/(L + E·cos a). This is
/// statics and holds at every angle; at 90° nothing changes, beyond it the
/// adapter shortens the arm.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Adapter {
    /// L in micrometres.
    handle: i128,
    /// L + E·cos a in 10⁻¹² micrometres, not less and not more.
    arm: (i128, i128),
}

/// The torque at the nut as a multiple of that at the wrench's drive, as two
/// fractions that hold the true value between them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Gain {
    pub(super) least: u128,
    pub(super) most: u128,
    pub(super) over: u128,
}

impl Gain {
    /// No adapter.
    pub(super) const NONE: Self = Self {
        least: 1,
        most: 1,
        over: 1,
    };

    /// The middle of the two.
    pub(super) fn value(self) -> f64 {
        (self.least as f64 + self.most as f64) / 2.0 / self.over as f64
    }
}

impl Adapter {
    /// `handle` from the drive to the middle of the grip, `length` from the
    /// drive to the middle of the nut, `angle` from the handle's line drawn on
    /// past the drive: 0 straight on, 90° square, 180° back along the handle.
    /// Lengths count to the micrometre, angles to the thousandth of a degree.
    ///
    /// # Errors
    /// [`Field::HandleLength`], [`Field::AdapterLength`] or
    /// [`Field::AdapterAngle`] out of range; [`TorqueError::ArmTooShort`] where
    /// L + E·cos a is less than half of L.
    ///
    /// ```
    /// use tyreside::calc::torque::{Torque, newton_meter};
    /// use tyreside::calc::torque::adapter::Adapter;
    /// use uom::si::f64::{Angle, Length};
    /// use uom::si::{angle::degree, length::millimeter};
    /// let mm = Length::new::<millimeter>;
    /// let straight = Adapter::new(mm(450.0), mm(50.0), Angle::new::<degree>(0.0)).unwrap();
    /// let setting = straight.setting_for(Torque::new::<newton_meter>(120.0));
    /// assert!((setting.get::<newton_meter>() - 108.0).abs() < 1e-9);
    /// let back = Angle::new::<degree>(180.0);
    /// assert!(Adapter::new(mm(450.0), mm(400.0), back).is_err());
    /// ```
    pub fn new(handle: Length, length: Length, angle: Angle) -> Result<Self, TorqueError> {
        let micrometres = |field: Field, length: Length| {
            field.check(length.get::<millimeter>())?;
            whole(field, length.get::<micrometer>().round(), 0).map(|count| count as i128)
        };
        let handle = micrometres(Field::HandleLength, handle)?;
        let length = micrometres(Field::AdapterLength, length)?;
        let degrees = Field::AdapterAngle.check(snapped(angle.get::<degree>()))?;
        let (least, most) = cosine(degrees);
        let arm = (
            handle * WHOLE + length * least,
            handle * WHOLE + length * most,
        );
        if arm.0 * 2 < handle * WHOLE {
            let metres = |count: i128| Length::new::<micrometer>(count as f64 / WHOLE as f64);
            return Err(TorqueError::ArmTooShort {
                arm: metres(arm.0),
                least: metres(handle * WHOLE / 2),
            });
        }
        Ok(Self { handle, arm })
    }

    /// What the wrench must be set to for `torque` at the nut.
    pub fn setting_for(&self, torque: Torque) -> Torque {
        torque.scaled(1.0 / self.gain().value())
    }

    pub(super) fn gain(&self) -> Gain {
        Gain {
            least: self.arm.0.unsigned_abs(),
            most: self.arm.1.unsigned_abs(),
            over: (self.handle * WHOLE).unsigned_abs(),
        }
    }
}

/// To the thousandth of a degree, so that a right angle that came by way of
/// radians is one. NaN stays NaN and is refused by its limit.
fn snapped(degrees: f64) -> f64 {
    (degrees * 1000.0).round() / 1000.0
}

/// The cosine in counts of 10⁻¹², as two that hold it between them.
fn cosine(degrees: f64) -> (i128, i128) {
    let exactly = |count| (count, count);
    match degrees {
        0.0 => exactly(WHOLE),
        60.0 => exactly(WHOLE / 2),
        90.0 => exactly(0),
        120.0 => exactly(-WHOLE / 2),
        180.0 => exactly(-WHOLE),
        _ => {
            // The float's own error is a few 10⁻¹⁶, well below 0.01 of a count.
            let count = cosine_of(degrees) * WHOLE as f64;
            (
                (count - 1e-3).floor() as i128,
                (count + 1e-3).ceil() as i128,
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cosines_are_bracketed_and_the_known_ones_exact() {
        for degrees in [0.0, 60.0, 90.0, 120.0, 180.0] {
            let (least, most) = cosine(degrees);
            assert_eq!(least, most);
            let float = f64::to_radians(degrees).cos() * 1e12;
            assert!((least as f64 - float).abs() < 1e-2);
        }
        for tenths in 0..=1800 {
            let degrees = f64::from(tenths) / 10.0;
            let (least, most) = cosine(degrees);
            let float = degrees.to_radians().cos() * 1e12;
            assert!(least as f64 <= float + 0.01 && float <= most as f64 + 0.01);
            assert!(most - least <= 2, "{degrees}");
            let series = cosine_of(degrees) - degrees.to_radians().cos();
            assert!(series.abs() < 4e-16, "{degrees}: {series}");
        }
    }

    #[test]
    fn a_right_angle_by_way_of_radians_changes_nothing() {
        let mm = Length::new::<millimeter>;
        let square = Adapter::new(
            mm(450.0),
            mm(60.0),
            Angle::new::<uom::si::angle::radian>(std::f64::consts::FRAC_PI_2),
        )
        .unwrap();
        assert_eq!(square.gain().value(), 1.0);
    }

    #[test]
    fn an_arm_of_less_than_half_the_handle_is_refused() {
        let mm = Length::new::<millimeter>;
        let back = |length| Adapter::new(mm(400.0), mm(length), Angle::new::<degree>(180.0));
        assert!(back(200.0).is_ok());
        for length in [200.001, 400.0, 700.0] {
            assert!(matches!(back(length), Err(TorqueError::ArmTooShort { .. })));
        }
        for bad in [f64::NAN, -1.0, 5000.0] {
            assert!(matches!(back(bad), Err(TorqueError::Stated(_))));
        }
    }
}
