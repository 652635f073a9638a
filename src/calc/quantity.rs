//! Quantities: what `uom` tells apart by dimension, and what it can't.
//!
//! A gauge pressure and an absolute pressure share a dimension and differ by
//! an atmosphere; mixing them up at 200 kPa is a 50 % error. They are separate
//! types here, and only a stated ambient pressure turns one into the other:
//!
//! ```compile_fail,E0308
//! use tyreside::calc::quantity::{AbsolutePressure, GaugePressure, kilopascal};
//! let ambient = AbsolutePressure::new::<kilopascal>(101.325);
//! let tyre = GaugePressure::new::<kilopascal>(240.0);
//! let wrong = tyre + ambient; // no such sum
//! ```
//!
//! ```compile_fail,E0308
//! use tyreside::calc::quantity::{AbsolutePressure, GaugePressure, kilopascal};
//! let wrong: GaugePressure = AbsolutePressure::new::<kilopascal>(240.0);
//! ```

pub use uom::si::area::{square_centimeter, square_millimeter};
pub use uom::si::f64::{
    Area, Force, Length, Mass, Pressure, TemperatureInterval, ThermodynamicTemperature, Time,
    Velocity, Volume, VolumeRate,
};
pub use uom::si::force::{kilogram_force, newton};
pub use uom::si::length::{inch, meter, millimeter};
pub use uom::si::mass::kilogram;
pub use uom::si::pressure::{bar, kilopascal, pascal};
pub use uom::si::temperature_interval::kelvin as kelvin_interval;
pub use uom::si::thermodynamic_temperature::{degree_celsius, degree_fahrenheit, kelvin};
pub use uom::si::time::{day, minute, second};
pub use uom::si::velocity::kilometer_per_hour;
pub use uom::si::volume::{cubic_meter, liter};
pub use uom::si::volume_rate::liter_per_minute;

use std::ops::{Add, Sub};
use uom::Conversion;
use uom::si::acceleration::standard_gravity;
use uom::si::f64::{Acceleration, SurfaceTension};
use uom::si::pressure;
use uom::si::surface_tension::kilogram_force_per_meter;

/// Units that `uom` carries only rounded.
///
/// For the pound-force per square inch it has two, 1.3e-7 apart. This one is the
/// product of the definitions: 0.45359237 kg × 9.80665 m/s² / (0.0254 m)²
/// (NIST SP 811, Appendix B.8), 6894.757293168361336… Pa, as the nearest `f64`.
pub mod exact {
    unit! {
        system: uom::si;
        quantity: uom::si::pressure;

        @pound_force_per_square_inch: 6.894_757_293_168_362_E3; "psi",
            "pound-force per square inch", "pounds-force per square inch";
    }
}
pub use exact::pound_force_per_square_inch as psi;

/// The avoirdupois pound, of which `uom` keeps seven digits: 0.45359237 kg by
/// definition (NIST SP 811, Appendix B.8).
pub mod exact_mass {
    unit! {
        system: uom::si;
        quantity: uom::si::mass;

        @pound: 0.453_592_37; "lb", "pound", "pounds";
    }
}
pub use exact_mass::pound;

/// The cubic foot per minute, of which `uom` keeps seven digits: here the
/// product of its definition, (0.3048 m)³ / 60 s.
pub mod exact_flow {
    unit! {
        system: uom::si;
        quantity: uom::si::volume_rate;

        @cubic_foot_per_minute: 0.028_316_846_592 / 6.0_E1; "ft³/min",
            "cubic foot per minute", "cubic feet per minute";
    }
}
pub use exact_flow::cubic_foot_per_minute;

/// A figure with the least and the most it may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span<T> {
    /// The least it may be.
    pub low: T,
    /// The likely figure.
    pub likely: T,
    /// The most it may be.
    pub high: T,
}

/// Pressure above the ambient atmosphere: what a tyre gauge reads.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct GaugePressure(Pressure);

/// Pressure above vacuum: what the gas law needs.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct AbsolutePressure(Pressure);

macro_rules! pressure_reading {
    ($name:ident) => {
        impl $name {
            /// The reading `value` in unit `U`.
            pub fn new<U>(value: f64) -> Self
            where
                U: pressure::Unit + Conversion<f64, T = f64>,
            {
                Self(Pressure::new::<U>(value))
            }

            /// The bare number in unit `U`.
            pub fn get<U>(self) -> f64
            where
                U: pressure::Unit + Conversion<f64, T = f64>,
            {
                self.0.get::<U>()
            }
        }
    };
}
pressure_reading!(GaugePressure);
pressure_reading!(AbsolutePressure);

impl GaugePressure {
    /// The same air measured from vacuum, where the atmosphere is `ambient`.
    pub fn to_absolute(self, ambient: AbsolutePressure) -> AbsolutePressure {
        AbsolutePressure(self.0 + ambient.0)
    }

    /// This pressure times a plain ratio.
    #[must_use]
    pub fn scaled(self, ratio: f64) -> Self {
        Self(self.0 * ratio)
    }

    /// This pressure as a multiple of `other`.
    pub fn ratio_to(self, other: Self) -> f64 {
        self.0.value / other.0.value
    }

    /// This pressure, or difference of two, as a multiple of an absolute one.
    pub fn share_of(self, other: AbsolutePressure) -> f64 {
        self.0.value / other.0.value
    }

    /// The higher of two readings.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        if other > self { other } else { self }
    }

    /// The lower of two readings.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        if other < self { other } else { self }
    }

    /// Up to the next whole `step`; a reading within a billionth of a step of
    /// a mark counts as on it, so that 50 psi typed in stays 50 psi.
    #[must_use]
    pub fn round_up(self, step: GaugeStep) -> Self {
        step.mark((step.count(self) - GaugeStep::SNAP).ceil())
    }

    /// Down to the next whole `step`, snapping as [`Self::round_up`] does.
    #[must_use]
    pub fn round_down(self, step: GaugeStep) -> Self {
        step.mark((step.count(self) + GaugeStep::SNAP).floor())
    }
}

impl AbsolutePressure {
    /// This pressure times a plain ratio.
    #[must_use]
    pub fn scaled(self, ratio: f64) -> Self {
        Self(self.0 * ratio)
    }

    /// This pressure as a multiple of `other`.
    pub fn ratio_to(self, other: Self) -> f64 {
        self.0.value / other.0.value
    }

    /// What a gauge reads of this air where the atmosphere is `ambient`.
    pub fn to_gauge(self, ambient: AbsolutePressure) -> GaugePressure {
        GaugePressure(self.0 - ambient.0)
    }
}

impl Add for GaugePressure {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for GaugePressure {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

/// The smallest step that a tyre gauge shows: recommended pressures are given
/// in whole steps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeStep(GaugePressure);

impl GaugeStep {
    const SNAP: f64 = 1e-9;

    /// One psi.
    pub fn one_psi() -> Self {
        Self(GaugePressure::new::<psi>(1.0))
    }

    /// Five kilopascals, which is 0.05 bar.
    pub fn five_kilopascals() -> Self {
        Self(GaugePressure::new::<kilopascal>(5.0))
    }

    /// The step as a pressure.
    pub fn size(self) -> GaugePressure {
        self.0
    }

    fn count(self, p: GaugePressure) -> f64 {
        p.ratio_to(self.0)
    }

    fn mark(self, count: f64) -> GaugePressure {
        self.0.scaled(count)
    }
}

/// The weight of `mass` under standard gravity, which is exact by definition
/// (9.80665 m/s²). True gravity differs by under 0.3 % anywhere on a road.
pub fn weight(mass: Mass) -> Force {
    mass * Acceleration::new::<standard_gravity>(1.0)
}

/// Force per deflection. `uom` carries the dimension under the name of surface
/// tension, which nobody would look for in a tyre.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Stiffness(SurfaceTension);

impl Stiffness {
    const MILLIMETRES_PER_METRE: f64 = 1000.0;

    /// From kilograms-force per millimetre.
    pub fn from_kilogram_force_per_millimetre(value: f64) -> Self {
        Self(SurfaceTension::new::<kilogram_force_per_meter>(
            value * Self::MILLIMETRES_PER_METRE,
        ))
    }

    /// The bare number in kilograms-force per millimetre.
    pub fn kilogram_force_per_millimetre(self) -> f64 {
        self.0.get::<kilogram_force_per_meter>() / Self::MILLIMETRES_PER_METRE
    }

    /// How far `force` deflects it.
    pub fn deflection(self, force: Force) -> Length {
        force / self.0
    }

    /// The stiffness that `force` deflects by `deflection`.
    pub fn of(force: Force, deflection: Length) -> Self {
        Self((force / deflection).into())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: NIST SP 811 (2008) B.8: the kilogram-force is 9.80665 N exactly.
    #[test]
    fn stiffness_and_weight_keep_the_exact_kilogram_force() {
        let load = weight(Mass::new::<kilogram>(700.0));
        assert!((load.get::<newton>() - 6864.655).abs() < 1e-9);
        assert!((load.get::<kilogram_force>() - 700.0).abs() < 1e-9);
        let k = Stiffness::from_kilogram_force_per_millimetre(35.0);
        assert!((k.kilogram_force_per_millimetre() - 35.0).abs() < 1e-12);
        assert!((k.deflection(load).get::<millimeter>() - 20.0).abs() < 1e-9);
        let back = Stiffness::of(load, Length::new::<millimeter>(20.0));
        assert!((back.kilogram_force_per_millimetre() - 35.0).abs() < 1e-9);
    }

    /// Source: NIST SP 811 (2008) B.8 by way of its definitions: the pound,
    /// standard gravity and the inch are exact.
    #[test]
    fn psi_is_the_product_of_its_definitions() {
        let pascals = 0.453_592_37 * 9.806_65 / (0.0254 * 0.0254);
        let unit = GaugePressure::new::<psi>(1.0).get::<pascal>();
        assert!((unit / pascals - 1.0).abs() < 1e-15, "{unit} {pascals}");
    }

    /// Source: NIST SP 811 (2008) B.8 by way of definitions: litre, foot,
    /// minute, day, and the zeros of the Celsius and Fahrenheit scales.
    #[test]
    fn air_units_are_the_products_of_their_definitions() {
        let near = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-14, "{a} {b}");
        near(Volume::new::<liter>(1.0).get::<cubic_meter>(), 0.001);
        near(VolumeRate::new::<liter_per_minute>(1.0).value, 0.001 / 60.0);
        near(
            VolumeRate::new::<cubic_foot_per_minute>(1.0).value,
            0.3048 * 0.3048 * 0.3048 / 60.0,
        );
        near(Time::new::<day>(1.0).get::<second>(), 24.0 * 3600.0);
        near(Time::new::<minute>(1.0).get::<second>(), 60.0);
        for (fahrenheit, kelvins) in [(32.0, 273.15), (212.0, 373.15)] {
            let t = ThermodynamicTemperature::new::<degree_fahrenheit>(fahrenheit);
            near(t.get::<kelvin>(), kelvins);
            near(t.get::<degree_celsius>() + 273.15, kelvins);
        }
    }

    #[test]
    fn a_mark_typed_in_stays_on_its_mark() {
        let step = GaugeStep::one_psi();
        for n in 1..200 {
            let p = GaugePressure::new::<kilopascal>(
                GaugePressure::new::<psi>(f64::from(n)).get::<kilopascal>(),
            );
            for rounded in [p.round_up(step), p.round_down(step)] {
                assert!((rounded.get::<psi>() - f64::from(n)).abs() < 1e-9);
            }
        }
        let between = GaugePressure::new::<psi>(30.01);
        assert!((between.round_up(step).get::<psi>() - 31.0).abs() < 1e-9);
        assert!((between.round_down(step).get::<psi>() - 30.0).abs() < 1e-9);
    }

    #[test]
    fn gauge_and_absolute_differ_by_the_ambient_pressure() {
        let ambient = AbsolutePressure::new::<kilopascal>(101.325);
        let tyre = GaugePressure::new::<kilopascal>(240.0);
        let absolute = tyre.to_absolute(ambient);
        assert!((absolute.get::<kilopascal>() - 341.325).abs() < 1e-9);
        assert!((absolute.to_gauge(ambient).get::<bar>() - 2.4).abs() < 1e-12);
    }
}
