//! One table of what each entered value may be. Validation, messages on the
//! page and the property tests all read it.

use std::fmt;

use super::quantity::{GaugePressure, kilopascal};

/// The unit in which a [`Limit`] is stated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Gauge pressure in kilopascals.
    KiloPascal,
    /// Mass in kilograms.
    Kilogram,
    /// Speed in kilometres per hour.
    KilometrePerHour,
    /// Hundredths.
    Percent,
    /// Millimetres.
    Millimetre,
    /// Inches.
    Inch,
    /// A bare number off the sidewall.
    Number,
    /// Torque in newton metres.
    NewtonMetre,
    /// Degrees of arc.
    Degree,
    /// Kilometres.
    Kilometre,
    /// Degrees Celsius.
    Celsius,
    /// Kelvins of difference.
    Kelvin,
    /// Metres.
    Metre,
    /// Litres.
    Litre,
    /// Litres of free air per minute.
    LitrePerMinute,
    /// Seconds.
    Second,
    /// Minutes.
    Minute,
    /// Days.
    Day,
}

macro_rules! limits {
    ($($(#[doc = $doc:literal])+ $field:ident: $min:literal to $max:literal $unit:ident;)+) => {
        /// An entered value.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum Field { $($(#[doc = $doc])+ $field,)+ }

        /// Every field with its range. The ranges are wide on purpose: they
        /// refuse typing slips and other units, not unusual rigs.
        pub const LIMITS: &[Limit] = &[
            $(Limit { field: Field::$field, min: $min, max: $max, unit: Unit::$unit },)+
        ];
    };
}

limits! {
    /// Cold pressure moulded beside the maximum load. From 200 kPa, so that
    /// psi read off the sidewall (up to 120 or so) are not taken for kPa; the
    /// lowest load range, B, has 240.
    ReferencePressure: 200.0 to 1000.0 KiloPascal;
    /// Least pressure moulded on a commercial tyre or given by its maker.
    SidewallMinimum: 100.0 to 700.0 KiloPascal;
    /// Cold pressure on the vehicle's tyre placard for the load carried.
    PlacardPressure: 100.0 to 900.0 KiloPascal;
    /// Highest pressure the wheel or its valve allows.
    WheelMaximum: 100.0 to 1000.0 KiloPascal;
    /// The user's own cold pressure on sealed road.
    OwnSealedPressure: 100.0 to 900.0 KiloPascal;
    /// Lowest pressure used anywhere; 100 kPa keeps a tubeless bead seated
    /// (common practice, no source).
    Floor: 100.0 to 250.0 KiloPascal;
    /// Maximum load moulded on the sidewall, one tyre.
    ReferenceLoad: 45.0 to 5000.0 Kilogram;
    /// Mass on one side of an axle group.
    SideMass: 20.0 to 20000.0 Kilogram;
    /// Mass on an axle group, weighed or rated.
    AxleMass: 40.0 to 40000.0 Kilogram;
    /// Allowance for one wheel carrying more than its share.
    UnevenLoad: 0.0 to 50.0 Percent;
    /// A surface band's share of the sealed pressure.
    BandShare: 20.0 to 100.0 Percent;
    /// An end of a surface band that is kept in pressures.
    BandPressure: 100.0 to 900.0 KiloPascal;
    /// The slow rule's most deflection, of section height: 30 is common
    /// practice, no source; less of it means more air.
    SlowDeflection: 15.0 to 30.0 Percent;
    /// The slow rule's least share of the load minimum: 50 is common practice,
    /// no source; more of it means more air.
    SlowLoadShare: 50.0 to 100.0 Percent;
    /// A surface band's speed limit.
    BandSpeed: 5.0 to 100.0 KilometrePerHour;
    /// Section width moulded on the sidewall.
    SectionWidth: 100.0 to 455.0 Millimetre;
    /// Section width of a tyre sized in inches.
    SectionWidthInches: 4.0 to 18.0 Inch;
    /// Section height as a share of section width.
    AspectRatio: 25.0 to 100.0 Percent;
    /// Nominal rim diameter.
    RimDiameter: 8.0 to 26.0 Inch;
    /// Overall diameter moulded on a flotation tyre.
    OverallDiameter: 18.0 to 50.0 Inch;
    /// Load index.
    LoadIndex: 0.0 to 200.0 Number;
    /// Ply rating.
    PlyRating: 4.0 to 14.0 Number;
    /// Mass carried by one tyre.
    WheelLoad: 20.0 to 5000.0 Kilogram;
    /// Cold pressure at which a footprint is estimated.
    FootprintPressure: 80.0 to 700.0 KiloPascal;
    /// A nominal torque, or either end of its range.
    SpecTorque: 1.0 to 1000.0 NewtonMetre;
    /// A tolerance to one side of a nominal torque.
    ToleranceValue: 0.0 to 500.0 NewtonMetre;
    /// From the lowest to the highest torque that a spec allows.
    ToleranceWidth: 0.01 to 1000.0 NewtonMetre;
    /// A tolerance as a share of the nominal torque.
    TolerancePercent: 0.1 to 50.0 Percent;
    /// A stated tyre pressure, or either end of its range.
    StatedPressure: 10.0 to 1500.0 KiloPascal;
    /// A tolerance to one side of a stated pressure.
    PressureTolerance: 0.0 to 500.0 KiloPascal;
    /// From the lowest to the highest pressure that is allowed.
    PressureWidth: 0.1 to 1500.0 KiloPascal;
    /// The lowest mark of a wrench's scale; a dial starts at none.
    LowestMark: 0.0 to 1000.0 NewtonMetre;
    /// The highest mark of a wrench's scale.
    HighestMark: 0.5 to 1500.0 NewtonMetre;
    /// From one mark of a wrench's scale to the next.
    MarkStep: 0.01 to 100.0 NewtonMetre;
    /// How far a wrench may be off, by its class or its maker.
    WrenchAccuracy: 0.1 to 25.0 Percent;
    /// From the wrench's square drive to the middle of its grip.
    HandleLength: 100.0 to 2000.0 Millimetre;
    /// From the wrench's square drive to the middle of the nut.
    AdapterLength: 0.0 to 1000.0 Millimetre;
    /// From the handle's line, drawn on past the drive, to the adapter.
    AdapterAngle: 0.0 to 180.0 Degree;
    /// An odometer's reading.
    Odometer: 0.0 to 2000000.0 Kilometre;
    /// A cold pressure that was set, or is to be.
    ColdPressure: 50.0 to 1000.0 KiloPascal;
    /// What a gauge shows at the valve, cold or warm; none in a flat tyre.
    TyreReading: 0.0 to 1300.0 KiloPascal;
    /// Height above the sea; roads lie below it by the Dead Sea.
    Height: -450.0 to 5000.0 Metre;
    /// Temperature of the air around.
    AmbientTemperature: -40.0 to 60.0 Celsius;
    /// Temperature of the air in a tyre. Rubber is in danger from about 96 °C
    /// (205 °F, a tyre engineer's published note; no standard gives one), and
    /// the air is cooler than the hottest of it: a figure above 95 °C means a
    /// tyre not to be driven on, or a wrong entry.
    TyreTemperature: -40.0 to 95.0 Celsius;
    /// Temperature of a warm tyre's air over that of a cold one, kelvins both,
    /// where no thermometer bounds it: 1.25 is 93 °C from 20 °C.
    WarmRatio: 1.0 to 1.25 Number;
    /// Time driven before a warm reading.
    TimeDriven: 0.0 to 1440.0 Minute;
    /// The step between two readings that a gauge can tell apart.
    GaugeResolution: 0.1 to 35.0 KiloPascal;
    /// How far a stated temperature may be off.
    TemperatureDoubt: 0.0 to 15.0 Kelvin;
    /// The day of a reading, counted from any one day.
    ReadingDay: 0.0 to 100000.0 Day;
    /// Air space of one tyre on its rim.
    AirSpace: 5.0 to 500.0 Litre;
    /// Section height as a share of section width, worked out from the overall
    /// diameter; full-profile tyres exceed 100.
    WorkedAspect: 25.0 to 120.0 Percent;
    /// Free air that a compressor takes in, or a deflator lets out.
    FreeAirFlow: 1.0 to 5000.0 LitrePerMinute;
    /// Highest pressure that a compressor is made for.
    PumpMaximum: 100.0 to 2000.0 KiloPascal;
    /// Longest run of a compressor before it must rest.
    DutyRun: 1.0 to 240.0 Minute;
    /// Rest of a compressor between runs.
    DutyRest: 1.0 to 240.0 Minute;
    /// A stopwatch's time of one tyre.
    TimedRun: 5.0 to 7200.0 Second;
    /// Time from one valve to the next.
    ChangeOver: 0.0 to 900.0 Second;
    /// Lowest pressure to let down to, with the bead still seated.
    LetDownTo: 100.0 to 1000.0 KiloPascal;
    /// What a weighbridge shows.
    WeighedMass: 20.0 to 60000.0 Kilogram;
    /// What a weighbridge shows next.
    TicketStep: 0.5 to 100.0 Kilogram;
    /// A mass on a plate or in a handbook.
    RatedMass: 20.0 to 60000.0 Kilogram;
    /// What a trailer puts on the ball, or may.
    BallMass: 0.0 to 2000.0 Kilogram;
    /// From the vehicle's front to its rear axle.
    Wheelbase: 1500.0 to 7000.0 Millimetre;
    /// From the vehicle's rear axle back to the ball.
    BallOverhang: 200.0 to 4000.0 Millimetre;
    /// From the ball to the middle of the trailer's axles.
    DrawbarLength: 1000.0 to 12000.0 Millimetre;
    /// What is loaded.
    ItemMass: 0.0 to 5000.0 Kilogram;
    /// Where it is loaded, ahead of the axle that it is measured from; behind
    /// it is less than none.
    ItemPlace: -12000.0 to 12000.0 Millimetre;
    /// Of a trailer's body, drawbar and bars at the back not counted.
    BodyLength: 1500.0 to 14000.0 Millimetre;
    /// What a water tank holds.
    TankSize: 1.0 to 1000.0 Litre;
    /// How full it is.
    TankFill: 0.0 to 100.0 Percent;
    /// Depth of a tread's main grooves; deep mud patterns have 20 or so.
    TreadDepth: 0.0 to 30.0 Millimetre;
    /// Whole days from one check to the next.
    CheckDays: 1.0 to 3650.0 Day;
    /// Distance from one check to the next.
    CheckDistance: 10.0 to 100000.0 Kilometre;
}

/// The range of one field, ends included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// The field.
    pub field: Field,
    /// Least accepted value, in `unit`.
    pub min: f64,
    /// Greatest accepted value, in `unit`.
    pub max: f64,
    /// The unit of `min` and `max`.
    pub unit: Unit,
}

/// A value outside its field's [`Limit`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfRange {
    /// The value given, in the limit's unit.
    pub given: f64,
    /// What is allowed.
    pub limit: Limit,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Limit {
            field,
            min,
            max,
            unit,
        } = self.limit;
        write!(
            f,
            "{field:?}: {} is not within {min} to {max} {unit:?}",
            self.given
        )
    }
}

impl std::error::Error for OutOfRange {}

impl Field {
    /// This field's row of [`LIMITS`].
    pub fn limit(self) -> Limit {
        LIMITS[self as usize]
    }

    /// `value`, stated in the limit's unit, if it is within the limit.
    ///
    /// An end that comes back from another unit beside itself by a rounding
    /// of the last digits, such as 5 km/h from metres per second, is that end.
    ///
    /// # Errors
    /// [`OutOfRange`] outside the limit; NaN and infinities are outside.
    ///
    /// ```
    /// use tyreside::calc::limits::Field;
    /// assert_eq!(Field::AspectRatio.check(75.0), Ok(75.0));
    /// assert!(Field::AspectRatio.check(f64::NAN).is_err());
    /// ```
    pub fn check(self, value: f64) -> Result<f64, OutOfRange> {
        let limit = self.limit();
        let at_an_end = |end: f64| (value - end).abs() <= END_WITHIN * end.abs();
        if (limit.min..=limit.max).contains(&value) || at_an_end(limit.min) || at_an_end(limit.max)
        {
            // Not `clamp`: its panic would bring float formatting into the page.
            Ok(value.max(limit.min).min(limit.max))
        } else {
            Err(OutOfRange {
                given: value,
                limit,
            })
        }
    }
}

impl Field {
    /// `pressure`, if it is within this field's limit in kilopascals.
    ///
    /// # Errors
    /// [`OutOfRange`] as by [`Field::check`].
    pub fn check_pressure(self, pressure: GaugePressure) -> Result<GaugePressure, OutOfRange> {
        self.check(pressure.get::<kilopascal>()).map(|_| pressure)
    }
}

/// How near an end counts as the end, as a share of it.
const END_WITHIN: f64 = 1e-12;

#[cfg(test)]
mod tests {
    use super::*;

    /// A band of 5 km/h, the least allowed, was refused: its speed came back
    /// from metres per second as 4.999999999999999.
    #[test]
    fn an_end_typed_in_another_unit_is_accepted() {
        use crate::calc::quantity::{Velocity, kilometer_per_hour};
        let back = Velocity::new::<kilometer_per_hour>(5.0).get::<kilometer_per_hour>();
        assert!(back < 5.0, "{back}");
        assert_eq!(Field::BandSpeed.check(back), Ok(5.0));
        assert!(Field::BandSpeed.check(5.0 - 1e-9).is_err());
        assert!(Field::BandSpeed.check(100.0 + 1e-9).is_err());
    }

    /// A negative end had no room at all: -40 °C typed as -40 °F was refused,
    /// as it comes back as -40.00000000000006.
    #[test]
    fn a_negative_end_typed_in_another_unit_is_accepted() {
        use crate::calc::quantity::{ThermodynamicTemperature, degree_celsius, degree_fahrenheit};
        let typed = ThermodynamicTemperature::new::<degree_fahrenheit>(-40.0);
        let back = typed.get::<degree_celsius>();
        assert!(back != -40.0, "{back}");
        for beside in [back, -40.0 - 1e-12, -40.0 + 1e-12] {
            assert!(Field::AmbientTemperature.check(beside).is_ok(), "{beside}");
        }
        assert!(Field::AmbientTemperature.check(-40.0 - 1e-9).is_err());
        assert!(Field::Height.check(-450.0 * (1.0 + 1e-13)).is_ok());
    }

    /// 110 psi taken for 110 kPa would ask a fifth of what the tyre needs.
    #[test]
    fn a_moulded_pressure_in_psi_is_not_taken_for_kilopascals() {
        for psi in [35.0, 50.0, 65.0, 80.0, 95.0, 110.0, 120.0] {
            assert!(Field::ReferencePressure.check(psi).is_err(), "{psi}");
        }
    }

    #[test]
    fn every_field_finds_its_own_row() {
        for limit in LIMITS {
            assert_eq!(limit.field.limit(), *limit);
            assert!(limit.min < limit.max);
            assert!(limit.field.check(limit.min).is_ok() && limit.field.check(limit.max).is_ok());
            for bad in [
                f64::NAN,
                f64::INFINITY,
                f64::NEG_INFINITY,
                limit.max * 1.001,
            ] {
                assert!(limit.field.check(bad).is_err());
            }
        }
    }
}
