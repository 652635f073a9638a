//! Values as they were typed: a number with its unit. The quantity is derived
//! from it on the way into [`crate::calc`], once, so that a value is after any
//! number of saves what it was when typed.

use super::keep::{self, Value};
use super::names::{Named, named};
use super::{MassUnit, PressureUnit};
use crate::calc::limits::{Field, OutOfRange, Unit as Dimension};
use crate::calc::quantity::{
    GaugePressure, Mass, Time, Velocity, Volume, VolumeRate, bar, cubic_foot_per_minute, kilogram,
    kilometer_per_hour, kilopascal, liter, liter_per_minute, minute, pound, psi, second,
};
use crate::calc::torque::{Torque, TorqueUnit, newton_meter};
use crate::decimal;
use std::marker::PhantomData;

/// A unit in which a value can be typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Pound-force per square inch.
    Psi,
    /// Kilopascal.
    Kilopascal,
    /// Bar.
    Bar,
    /// Kilogram-force per square centimetre.
    KilogramForcePerSquareCentimetre,
    /// Kilogram.
    Kilogram,
    /// Avoirdupois pound.
    Pound,
    /// Tonne.
    Tonne,
    /// No unit.
    Number,
    /// Hundredth.
    Percent,
    /// Kilometre per hour.
    KilometrePerHour,
    /// Mile per hour.
    MilePerHour,
    /// Millimetre.
    Millimetre,
    /// Degree of arc.
    Degree,
    /// Kilometre.
    Kilometre,
    /// Degree Celsius.
    Celsius,
    /// Degree Fahrenheit.
    Fahrenheit,
    /// Metre.
    Metre,
    /// Foot.
    Foot,
    /// Litre.
    Litre,
    /// Litre of free air per minute.
    LitrePerMinute,
    /// Cubic foot of free air per minute.
    CubicFootPerMinute,
    /// Second.
    Second,
    /// Minute.
    Minute,
    /// Day.
    Day,
    /// Newton metre.
    NewtonMetre,
    /// Pound-force foot.
    FootPound,
    /// Pound-force inch.
    InchPound,
    /// Kilogram-force metre.
    KilogramMetre,
}

named!(Measure {
    Psi: "psi",
    Kilopascal: "kPa",
    Bar: "bar",
    KilogramForcePerSquareCentimetre: "kgf/cm2",
    Kilogram: "kg",
    Pound: "lb",
    Tonne: "t",
    Number: "1",
    Percent: "%",
    KilometrePerHour: "km/h",
    MilePerHour: "mph",
    Millimetre: "mm",
    Degree: "deg",
    Kilometre: "km",
    Celsius: "degC",
    Fahrenheit: "degF",
    Metre: "m",
    Foot: "ft",
    Litre: "L",
    LitrePerMinute: "L/min",
    CubicFootPerMinute: "ft3/min",
    Second: "s",
    Minute: "min",
    Day: "d",
    NewtonMetre: "N.m",
    FootPound: "ft.lbf",
    InchPound: "lbf.in",
    KilogramMetre: "kgf.m",
});

/// The standard gravity on a kilogram over a square centimetre (NIST SP 811,
/// Appendix B.8).
const KILOPASCALS_PER_KILOGRAM_FORCE_PER_SQUARE_CENTIMETRE: f64 = 98.0665;
const KILOMETRES_PER_MILE: f64 = 1.609_344;
const METRES_PER_FOOT: f64 = 0.3048;

impl From<TorqueUnit> for Measure {
    fn from(unit: TorqueUnit) -> Self {
        match unit {
            TorqueUnit::NewtonMetre => Self::NewtonMetre,
            TorqueUnit::FootPound => Self::FootPound,
            TorqueUnit::InchPound => Self::InchPound,
            TorqueUnit::KilogramMetre => Self::KilogramMetre,
        }
    }
}

impl From<PressureUnit> for Measure {
    fn from(unit: PressureUnit) -> Self {
        match unit {
            PressureUnit::Psi => Self::Psi,
            PressureUnit::Kpa => Self::Kilopascal,
            PressureUnit::Bar => Self::Bar,
        }
    }
}

impl From<MassUnit> for Measure {
    fn from(unit: MassUnit) -> Self {
        match unit {
            MassUnit::Kilogram => Self::Kilogram,
            MassUnit::Pound => Self::Pound,
        }
    }
}

impl Measure {
    /// The unit that limits are stated in, where one can be typed in it.
    pub fn of_limits(unit: Dimension) -> Option<Self> {
        Some(match unit {
            Dimension::KiloPascal => Self::Kilopascal,
            Dimension::Kilogram => Self::Kilogram,
            Dimension::KilometrePerHour => Self::KilometrePerHour,
            Dimension::Number => Self::Number,
            Dimension::Percent => Self::Percent,
            Dimension::Millimetre => Self::Millimetre,
            Dimension::NewtonMetre => Self::NewtonMetre,
            Dimension::Degree => Self::Degree,
            Dimension::Kilometre => Self::Kilometre,
            Dimension::Celsius => Self::Celsius,
            Dimension::Metre => Self::Metre,
            Dimension::Litre => Self::Litre,
            Dimension::LitrePerMinute => Self::LitrePerMinute,
            Dimension::Second => Self::Second,
            Dimension::Minute => Self::Minute,
            Dimension::Day => Self::Day,
            Dimension::Inch | Dimension::Kelvin => return None,
        })
    }

    /// The unit that limits of its dimension are stated in, which is what
    /// [`Amount::in_limit_unit`] gives.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Psi | Self::Kilopascal | Self::Bar | Self::KilogramForcePerSquareCentimetre => {
                Dimension::KiloPascal
            }
            Self::Kilogram | Self::Pound | Self::Tonne => Dimension::Kilogram,
            Self::Number => Dimension::Number,
            Self::Percent => Dimension::Percent,
            Self::KilometrePerHour | Self::MilePerHour => Dimension::KilometrePerHour,
            Self::Millimetre => Dimension::Millimetre,
            Self::Degree => Dimension::Degree,
            Self::Kilometre => Dimension::Kilometre,
            Self::Celsius | Self::Fahrenheit => Dimension::Celsius,
            Self::Metre | Self::Foot => Dimension::Metre,
            Self::Litre => Dimension::Litre,
            Self::LitrePerMinute | Self::CubicFootPerMinute => Dimension::LitrePerMinute,
            Self::Second => Dimension::Second,
            Self::Minute => Dimension::Minute,
            Self::Day => Dimension::Day,
            Self::NewtonMetre | Self::FootPound | Self::InchPound | Self::KilogramMetre => {
                Dimension::NewtonMetre
            }
        }
    }
}

/// A number as typed, nine decimals at most, with its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    number: f64,
    unit: Measure,
}

impl Amount {
    /// The number as typed, to nine decimals: what is kept is what counts.
    pub fn new(number: f64, unit: Measure) -> Self {
        const DECIMALS: f64 = 1e9;
        let steps = (number * DECIMALS).round();
        // Beyond, a double has no nine decimals left.
        let number = if steps.abs() < 9e15 {
            steps / DECIMALS
        } else {
            number
        };
        Self { number, unit }
    }

    /// The number, in its own unit.
    pub fn number(self) -> f64 {
        self.number
    }

    /// Its unit.
    pub fn unit(self) -> Measure {
        self.unit
    }

    /// The number in the unit that limits of its dimension are stated in.
    pub fn in_limit_unit(self) -> f64 {
        let number = self.number;
        let torque = |unit: TorqueUnit| unit.torque(number).get::<newton_meter>();
        match self.unit {
            Measure::Psi => GaugePressure::new::<psi>(number).get::<kilopascal>(),
            Measure::Bar => GaugePressure::new::<bar>(number).get::<kilopascal>(),
            Measure::KilogramForcePerSquareCentimetre => {
                number * KILOPASCALS_PER_KILOGRAM_FORCE_PER_SQUARE_CENTIMETRE
            }
            Measure::Pound => Mass::new::<pound>(number).get::<kilogram>(),
            Measure::Tonne => number * 1000.0,
            Measure::MilePerHour => number * KILOMETRES_PER_MILE,
            Measure::Fahrenheit => (number - 32.0) / 1.8,
            Measure::Foot => number * METRES_PER_FOOT,
            Measure::CubicFootPerMinute => {
                VolumeRate::new::<cubic_foot_per_minute>(number).get::<liter_per_minute>()
            }
            Measure::FootPound => torque(TorqueUnit::FootPound),
            Measure::InchPound => torque(TorqueUnit::InchPound),
            Measure::KilogramMetre => torque(TorqueUnit::KilogramMetre),
            _ => number,
        }
    }
}

impl Value for Amount {
    fn read(json: &str) -> Option<Self> {
        let text = String::read(json)?;
        let (number, unit) = text.split_once(' ')?;
        Some(Self::new(decimal::parse(number)?, Measure::of_name(unit)?))
    }

    fn write(&self, to: &mut String) {
        let number = decimal::short(self.number, 9);
        keep::text(&format!("{number} {}", self.unit.name()), to);
    }
}

/// What an amount is of.
pub trait Kind: Copy {
    /// Its dimension.
    const DIMENSION: Dimension;
}

/// An amount of one kind only.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Typed<K> {
    amount: Amount,
    kind: PhantomData<K>,
}

impl<K: Kind> Typed<K> {
    /// The amount, if it is of this kind.
    pub fn of(amount: Amount) -> Option<Self> {
        (amount.unit.dimension() == K::DIMENSION).then_some(Self {
            amount,
            kind: PhantomData,
        })
    }

    /// The amount.
    pub fn amount(self) -> Amount {
        self.amount
    }

    /// The amount, if it is within a field's limits.
    ///
    /// # Errors
    /// [`OutOfRange`] as by [`Field::check`].
    pub fn check(self, field: Field) -> Result<Self, OutOfRange> {
        field.check(self.amount.in_limit_unit()).map(|_| self)
    }
}

impl<K: Kind> Value for Typed<K> {
    fn read(json: &str) -> Option<Self> {
        Self::of(Amount::read(json)?)
    }

    fn write(&self, to: &mut String) {
        self.amount.write(to);
    }
}

macro_rules! kinds {
    ($($(#[$meta:meta])* $kind:ident of $dimension:ident as $typed:ident;)+) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum $kind {}

        impl Kind for $kind {
            const DIMENSION: Dimension = Dimension::$dimension;
        }

        $(#[$meta])*
        pub type $typed = Typed<$kind>;
    )+};
}
kinds! {
    /// A gauge pressure.
    OfPressure of KiloPascal as TypedPressure;
    /// A mass.
    OfMass of Kilogram as TypedMass;
    /// A share.
    OfShare of Percent as TypedShare;
    /// A speed.
    OfSpeed of KilometrePerHour as TypedSpeed;
    /// A torque.
    OfTorque of NewtonMetre as TypedTorque;
    /// A length at hand.
    OfLength of Millimetre as TypedLength;
    /// An angle.
    OfAngle of Degree as TypedAngle;
    /// A distance driven.
    OfDistance of Kilometre as TypedDistance;
    /// A temperature.
    OfTemperature of Celsius as TypedTemperature;
    /// A height above the sea.
    OfHeight of Metre as TypedHeight;
    /// An air space.
    OfVolume of Litre as TypedVolume;
    /// A flow of free air.
    OfFlow of LitrePerMinute as TypedFlow;
    /// A time in seconds or so.
    OfSeconds of Second as TypedSeconds;
    /// A time in minutes or so.
    OfMinutes of Minute as TypedMinutes;
}

impl TypedPressure {
    /// The reading.
    pub fn quantity(self) -> GaugePressure {
        let number = self.amount.number;
        match self.amount.unit {
            Measure::Psi => GaugePressure::new::<psi>(number),
            Measure::Bar => GaugePressure::new::<bar>(number),
            _ => GaugePressure::new::<kilopascal>(self.amount.in_limit_unit()),
        }
    }
}

impl TypedMass {
    /// The mass.
    pub fn quantity(self) -> Mass {
        Mass::new::<kilogram>(self.amount.in_limit_unit())
    }
}

impl TypedSpeed {
    /// The speed.
    pub fn quantity(self) -> Velocity {
        Velocity::new::<kilometer_per_hour>(self.amount.in_limit_unit())
    }
}

impl TypedShare {
    /// The share, in hundredths.
    pub fn percent(self) -> f64 {
        self.amount.number
    }
}

impl TypedTorque {
    /// A torque as it is stated in a unit, in millionths of it.
    pub fn stated(torque: Torque, unit: TorqueUnit) -> Self {
        let number = (unit.of(torque) * 1e6).round() / 1e6;
        Self {
            amount: Amount::new(number, unit.into()),
            kind: PhantomData,
        }
    }

    /// The torque.
    pub fn quantity(self) -> Torque {
        Torque::new::<newton_meter>(self.amount.in_limit_unit())
    }
}

impl TypedDistance {
    /// The distance, in kilometres.
    pub fn kilometres(self) -> f64 {
        self.amount.in_limit_unit()
    }
}

impl TypedTemperature {
    /// The temperature, in degrees Celsius.
    pub fn celsius(self) -> f64 {
        self.amount.in_limit_unit()
    }
}

impl TypedHeight {
    /// The height, in metres.
    pub fn metres(self) -> f64 {
        self.amount.in_limit_unit()
    }
}

impl TypedVolume {
    /// The volume.
    pub fn quantity(self) -> Volume {
        Volume::new::<liter>(self.amount.in_limit_unit())
    }
}

impl TypedFlow {
    /// The flow.
    pub fn quantity(self) -> VolumeRate {
        VolumeRate::new::<liter_per_minute>(self.amount.in_limit_unit())
    }
}

impl TypedSeconds {
    /// The time.
    pub fn quantity(self) -> Time {
        Time::new::<second>(self.amount.number)
    }
}

impl TypedMinutes {
    /// The time.
    pub fn quantity(self) -> Time {
        Time::new::<minute>(self.amount.number)
    }
}

macro_rules! typed {
    ($($(#[$meta:meta])* $name:ident: $kind:ident in $unit:ident;)+) => {$(
        $(#[$meta])*
        pub fn $name(number: f64) -> Typed<$kind> {
            Typed { amount: Amount::new(number, Measure::$unit), kind: PhantomData }
        }
    )+};
}

/// Values as typed, by their units.
pub mod in_unit {
    use super::{
        Amount, Measure, OfAngle, OfDistance, OfFlow, OfHeight, OfLength, OfMass, OfMinutes,
        OfPressure, OfSeconds, OfShare, OfSpeed, OfTemperature, OfTorque, OfVolume, PhantomData,
        Typed,
    };

    typed! {
        /// A pressure in psi.
        psi: OfPressure in Psi;
        /// A pressure in kPa.
        kpa: OfPressure in Kilopascal;
        /// A pressure in bar.
        bar: OfPressure in Bar;
        /// A mass in kg.
        kg: OfMass in Kilogram;
        /// A mass in lb.
        lb: OfMass in Pound;
        /// A share in %.
        percent: OfShare in Percent;
        /// A speed in km/h.
        kmh: OfSpeed in KilometrePerHour;
        /// A torque in N·m.
        newton_metres: OfTorque in NewtonMetre;
        /// A torque in ft·lbf.
        foot_pounds: OfTorque in FootPound;
        /// A length in mm.
        millimetres: OfLength in Millimetre;
        /// An angle in degrees.
        degrees: OfAngle in Degree;
        /// A distance in km.
        kilometres: OfDistance in Kilometre;
        /// A temperature in degrees Celsius.
        celsius: OfTemperature in Celsius;
        /// A height in m.
        metres: OfHeight in Metre;
        /// An air space in L.
        litres: OfVolume in Litre;
        /// A flow of free air in L/min.
        litres_per_minute: OfFlow in LitrePerMinute;
        /// A time in s.
        seconds: OfSeconds in Second;
        /// A time in min.
        minutes: OfMinutes in Minute;
    }
}
