//! The torque wrench, and what is on its drive.

use super::set::{number_in, restate};
use crate::calc::torque::adapter::Adapter;
use crate::calc::torque::wrench::{self, Scale, ToolClass};
use crate::calc::torque::{TorqueError, TorqueUnit};
use crate::rig::keep::{Unknown, kept};
use crate::rig::names::named;
use crate::rig::typed::{TypedAngle, TypedLength, TypedShare, TypedTorque};
use uom::si::f64::{Angle, Length};
use uom::si::{angle::degree, length::millimeter};

named!(AccuracyFrom {
    Unknown: "unknown",
    SettingScale: "setting_scale",
    IndicatingDial: "indicating_dial",
    IndicatingElectronic: "indicating_electronic",
    IndicatingBar: "indicating_bar",
    OfReading: "of_reading",
    OfFullScale: "of_full_scale",
});

/// Where a wrench's accuracy comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AccuracyFrom {
    /// Not entered.
    #[default]
    Unknown,
    /// ISO 6789-1: set on a scale, clicks.
    SettingScale,
    /// ISO 6789-1: dial or scale in a rigid housing.
    IndicatingDial,
    /// ISO 6789-1: electronic.
    IndicatingElectronic,
    /// ISO 6789-1: bar that bends or twists.
    IndicatingBar,
    /// The maker's per cent of the reading.
    OfReading,
    /// The maker's per cent of the highest mark.
    OfFullScale,
}

kept! {
    /// A torque wrench.
    pub struct WrenchProfile {
        /// Unit of its scale.
        unit: TorqueUnit = "unit",
        /// Lowest mark.
        lowest: Option<TypedTorque> = "lowest",
        /// Highest mark.
        highest: Option<TypedTorque> = "highest",
        /// From mark to mark.
        step: Option<TypedTorque> = "step",
        /// Where its accuracy comes from.
        accuracy: AccuracyFrom = "accuracy",
        /// The maker's accuracy.
        maker_accuracy: Option<TypedShare> = "maker_accuracy",
    }
}

impl Default for WrenchProfile {
    fn default() -> Self {
        Self {
            unit: TorqueUnit::NewtonMetre,
            lowest: None,
            highest: None,
            step: None,
            accuracy: AccuracyFrom::Unknown,
            maker_accuracy: None,
            unknown: Unknown::default(),
        }
    }
}

kept! {
    /// An extension or crow's-foot.
    #[derive(Default)]
    pub struct AdapterProfile {
        /// Whether it is on the wrench.
        fitted: bool = "fitted",
        /// Drive to the middle of the grip.
        handle: Option<TypedLength> = "handle",
        /// Drive to the middle of the nut.
        length: Option<TypedLength> = "length",
        /// From the handle's line, drawn on past the drive.
        angle: Option<TypedAngle> = "angle",
    }
}

/// What makes a wrench whose scale is known no wrench yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WrenchLacks {
    /// Where its accuracy comes from.
    Accuracy,
    /// The maker's accuracy, of which only the kind is known.
    Percent,
}

impl WrenchProfile {
    /// What is missing of its accuracy, where its scale was entered.
    pub fn lacks(&self) -> Option<WrenchLacks> {
        let scale = [self.lowest, self.highest, self.step];
        if scale.iter().any(Option::is_none) {
            return None;
        }
        match self.accuracy {
            AccuracyFrom::Unknown => Some(WrenchLacks::Accuracy),
            AccuracyFrom::OfReading | AccuracyFrom::OfFullScale => self
                .maker_accuracy
                .is_none()
                .then_some(WrenchLacks::Percent),
            _ => None,
        }
    }

    /// The wrench; nothing while a part of it is to be entered.
    ///
    /// # Errors
    /// [`TorqueError`] as by [`wrench::Wrench::new`].
    pub fn wrench(&self) -> Result<Option<wrench::Wrench>, TorqueError> {
        use wrench::Accuracy;
        let number = |typed: Option<TypedTorque>| typed.map(|typed| number_in(self.unit, typed));
        let percent = self.maker_accuracy.map(TypedShare::percent);
        let accuracy = match self.accuracy {
            AccuracyFrom::Unknown => None,
            AccuracyFrom::SettingScale => Some(Accuracy::Class(ToolClass::SettingScale)),
            AccuracyFrom::IndicatingDial => Some(Accuracy::Class(ToolClass::IndicatingDial)),
            AccuracyFrom::IndicatingElectronic => {
                Some(Accuracy::Class(ToolClass::IndicatingElectronic))
            }
            AccuracyFrom::IndicatingBar => Some(Accuracy::Class(ToolClass::IndicatingBar)),
            AccuracyFrom::OfReading => percent.map(Accuracy::OfReading),
            AccuracyFrom::OfFullScale => percent.map(Accuracy::OfFullScale),
        };
        let scale = (number(self.lowest), number(self.highest), number(self.step));
        let ((Some(lowest), Some(highest), Some(step)), Some(accuracy)) = (scale, accuracy) else {
            return Ok(None);
        };
        let scale = Scale {
            unit: self.unit,
            lowest,
            highest,
            step,
        };
        wrench::Wrench::new(scale, accuracy).map(Some)
    }

    /// Takes `unit` for what the scale is marked in; the numbers stay.
    pub fn restate(&mut self, unit: TorqueUnit) {
        let from = self.unit;
        for typed in [&mut self.lowest, &mut self.highest, &mut self.step] {
            restate(typed, from, unit);
        }
        self.unit = unit;
    }
}

impl AdapterProfile {
    /// What is on the drive: nothing, or an adapter. `None` while a part of it
    /// is to be entered.
    ///
    /// # Errors
    /// [`TorqueError`] as by [`Adapter::new`].
    pub fn adapter(&self) -> Result<Option<Option<Adapter>>, TorqueError> {
        if !self.fitted {
            return Ok(Some(None));
        }
        let (Some(handle), Some(length), Some(angle)) = (self.handle, self.length, self.angle)
        else {
            return Ok(None);
        };
        Adapter::new(
            Length::new::<millimeter>(handle.amount().number()),
            Length::new::<millimeter>(length.amount().number()),
            Angle::new::<degree>(angle.amount().number()),
        )
        .map(|adapter| Some(Some(adapter)))
    }
}
