//! Stored names: what a record calls a choice. Each is written out here once,
//! and hangs on no variant's name or order and no word of the screen, so that
//! any of those may change and a saved record still means the same.

use crate::calc::pressure::Setting;
use crate::calc::surface::Surface;
use crate::calc::torque::TorqueUnit;
use crate::calc::torque::thread::{PropertyClass, Surfaces, Thread};
use crate::calc::tyre::capacity::Vehicle;

/// A choice with a stored name for each of its values.
pub trait Named: Copy + 'static {
    /// Every value.
    const ALL: &'static [Self];

    /// Its stored name.
    fn name(self) -> &'static str;

    /// The value of a stored name.
    fn of_name(name: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|of| of.name() == name)
    }
}

/// Gives every value of an enum its stored name; the compiler asks for each.
macro_rules! named {
    ($name:ident { $($variant:ident: $text:literal),+ $(,)? }) => {
        impl $crate::rig::names::Named for $name {
            const ALL: &'static [Self] = &[$(Self::$variant),+];

            fn name(self) -> &'static str {
                match self { $(Self::$variant => $text,)+ }
            }
        }

        impl $crate::rig::keep::Value for $name {
            fn read(json: &str) -> Option<Self> {
                let name = <String as $crate::rig::keep::Value>::read(json)?;
                $crate::rig::names::Named::of_name(&name)
            }

            fn write(&self, to: &mut String) {
                $crate::rig::keep::text($crate::rig::names::Named::name(*self), to);
            }
        }
    };
}
pub(super) use named;

named!(Surface {
    Sealed: "sealed",
    Gravel: "gravel",
    Dirt: "dirt",
    Corrugations: "corrugations",
    Rock: "rock",
    Mud: "mud",
    Sand: "sand",
    Bogged: "bogged",
});
named!(Setting {
    HoldToTables: "hold_to_tables",
    Practice: "practice",
});
named!(Vehicle {
    PassengerCar: "passenger_car",
    Other: "other",
});
named!(TorqueUnit {
    NewtonMetre: "newton_metre",
    FootPound: "foot_pound",
    InchPound: "inch_pound",
    KilogramMetre: "kilogram_metre",
});
named!(Thread {
    M12Pitch125: "m12_pitch_1.25",
    M12Pitch150: "m12_pitch_1.5",
    M14Pitch150: "m14_pitch_1.5",
    SevenSixteenths20: "7/16-20",
    Half20: "1/2-20",
    NineSixteenths18: "9/16-18",
});
named!(PropertyClass {
    Iso8_8: "8.8",
    Iso10_9: "10.9",
    Sae5: "sae_5",
    Sae8: "sae_8",
});
named!(Surfaces {
    Dry: "dry",
    Lubricated: "lubricated",
});
