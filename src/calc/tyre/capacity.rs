//! The load minimum: the least cold pressure at which a tyre carries a load,
//! and its inverse.
//!
//! `P = P_ref · (L / L_ref)^(1/n)`, gauge pressures, with `n` by the sidewall's
//! own standard. Sources and deviations from published rows stand in
//! `tests/published`.

use super::designation::{Construction, Designation, Size, Standard};
use super::marks::LoadRange;
use super::plausible::{self, SizeLoad};
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{
    GaugePressure, Mass, Velocity, kilogram, kilometer_per_hour, kilopascal, psi,
};
use uom::si::length::millimeter;

/// How many tyres stand at each end of an axle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fitment {
    /// One: two across.
    Single,
    /// Two: four across.
    Dual,
}

/// What the tyre is fitted to, which decides on the 1.10 divisor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Vehicle {
    /// A passenger car.
    PassengerCar,
    /// A 4WD, other multipurpose vehicle, light truck, bus or trailer.
    Other,
}

/// What the sidewall says beyond the designation. Each value is optional;
/// where the tables need it, its absence is an error.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Moulded {
    /// Maximum load, one tyre at each end.
    pub load_single: Option<Mass>,
    /// Maximum load per tyre, two at each end.
    pub load_dual: Option<Mass>,
    /// Cold pressure moulded with the maximum load.
    pub pressure: Option<GaugePressure>,
    /// Least pressure moulded or given by the tyre's maker.
    pub minimum: Option<GaugePressure>,
}

/// Why no capacity can be given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CapacityError {
    /// The published rows that the law was checked against are of radials.
    DiagonalNotCovered,
    /// Neither a load index nor a moulded load for this fitment.
    ReferenceLoadNeeded {
        /// The fitment.
        fitment: Fitment,
    },
    /// The standard names no pressure for this tyre: it is moulded on it.
    ReferencePressureNeeded,
    /// The moulded load is not the load index's: one of them is misread.
    LoadsDisagree {
        /// By load index.
        index: Mass,
        /// As moulded.
        moulded: Mass,
    },
    /// The moulded pressure is not the load range's: one of them is misread.
    PressuresDisagree {
        /// By load range.
        range: GaugePressure,
        /// As moulded.
        moulded: GaugePressure,
    },
    /// More than any passenger tyre holds: the sidewall says `LT` or `C`, or
    /// the pressure is misread.
    NotAPassengerPressure {
        /// As moulded.
        moulded: GaugePressure,
    },
    /// No tyre of this size carries so much at so little: a mark, a unit or
    /// the size is misread.
    BeyondItsSize {
        /// The load.
        load: Mass,
        /// The pressure given for it.
        pressure: GaugePressure,
    },
    /// The marks work the tyre harder than published ratings of its kind do:
    /// the moulded maximum load and its pressure must bear them out.
    SecondMarkNeeded {
        /// The load.
        load: Mass,
        /// The pressure given for it.
        pressure: GaugePressure,
    },
    /// A passenger tyre's index is above its size's standard load: `XL` or the
    /// moulded maximum must bear it out.
    ExtraLoadOrMaximumNeeded,
    /// An unmarked size whose index is below its standard load may be a
    /// light-truck tyre's: `P` or `LT` must be read.
    FamilyMarkNeeded,
    /// The moulded minimum is above the moulded maximum.
    MinimumAboveMaximum {
        /// Minimum.
        minimum: GaugePressure,
        /// Maximum.
        maximum: GaugePressure,
    },
    /// A value is outside its range.
    OutOfRange(OutOfRange),
}

crate::calc::error_by_its_fields!(CapacityError);

impl From<OutOfRange> for CapacityError {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

/// A moulded load may differ from its index by rounding between pounds and
/// kilograms and by the index's steps, which are up to 3.2 %.
const LOADS_AGREE_WITHIN: f64 = 0.05;

/// A moulded pressure may differ from its load range's by rounding between
/// psi and kilopascals (UN R54 prints 65 psi as 450 kPa).
const PRESSURES_AGREE_WITHIN: f64 = 0.035;

/// The most that is moulded on a passenger tyre: 350 kPa, 51 psi (from
/// memory). More belongs to a tyre whose `LT` or `C` was left off.
const PASSENGER_MAXIMUM_KPA: f64 = 352.0;

/// From this section width on a light-truck tyre's load range no longer names
/// its pressure: wide range-E tyres are rated at 65 psi, and wide flotation
/// tyres lower still (reference: size sheets for LT305/70R16, LT315/75R16).
const WIDE_LIGHT_TRUCK_MM: f64 = 290.0;

/// Passenger tyres on anything but a passenger car carry less: 49 CFR
/// 571.110 S4.2.2.2 and 571.120 S5.1.2 (quoted in NHTSA interpretation
/// nht76-1.47).
const PASSENGER_DIVISOR: f64 = 1.10;

/// A special-trailer tyre with no speed symbol counts as good for 65 mph
/// (trailer manufacturers' association guidance), here 105 km/h.
const UNMARKED_SPECIAL_TRAILER_KMH: f64 = 105.0;

/// What one tyre carries at road speed, by pressure. The tables know no lower
/// speed: UN R54 Annex 8 lets a commercial tyre carry more then, but its rows
/// could not be read, it names no pressure, and US compliance counts no such
/// factor (NHTSA interpretation 2672y).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Capacity {
    reference_load: Mass,
    reference_pressure: GaugePressure,
    maximum: GaugePressure,
    maximum_moulded: bool,
    lowest_row: GaugePressure,
    exponent: f64,
    speed_limit: Option<Velocity>,
    passenger_divisor: bool,
    camper: bool,
}

impl Capacity {
    /// The capacity of a tyre.
    ///
    /// # Errors
    /// [`CapacityError`] where the sidewall's figures are not enough, or
    /// contradict each other.
    pub fn new(
        tyre: &Designation,
        moulded: &Moulded,
        fitment: Fitment,
        vehicle: Vehicle,
    ) -> Result<Self, CapacityError> {
        if tyre.construction == Construction::Diagonal {
            return Err(CapacityError::DiagonalNotCovered);
        }
        if let Some(pressure) = moulded.pressure {
            Field::ReferencePressure.check(pressure.get::<kilopascal>())?;
        }
        if let Some(minimum) = moulded.minimum {
            Field::SidewallMinimum.check(minimum.get::<kilopascal>())?;
        }

        let passenger_divisor = tyre.standard == Standard::Passenger && vehicle == Vehicle::Other;
        let mut reference_load = Self::reference_load(tyre, moulded, fitment)?;
        let (reference_pressure, maximum) = Self::reference_pressure(tyre, moulded)?;
        plausible::check(tyre, moulded, fitment, reference_load, reference_pressure)?;
        if passenger_divisor {
            reference_load /= PASSENGER_DIVISOR;
        }
        if let Some(minimum) = moulded.minimum
            && minimum > maximum
        {
            return Err(CapacityError::MinimumAboveMaximum { minimum, maximum });
        }
        let speed_limit = tyre
            .service
            .and_then(|s| s.speed)
            .map(|symbol| symbol.limit())
            .or((tyre.standard == Standard::SpecialTrailer)
                .then(|| Velocity::new::<kilometer_per_hour>(UNMARKED_SPECIAL_TRAILER_KMH)));
        let published = GaugePressure::new::<kilopascal>(lowest_row_kpa(tyre));
        // Only a commercial tyre's maker states a minimum in place of a row.
        let lowest_row = match (tyre.standard, moulded.minimum) {
            (Standard::Commercial | Standard::Camper, Some(minimum)) => minimum,
            (_, Some(minimum)) => minimum.max(published),
            (_, None) => published,
        };
        Ok(Self {
            reference_load,
            reference_pressure,
            maximum,
            maximum_moulded: moulded.pressure.is_some() || tyre.standard != Standard::Passenger,
            lowest_row,
            exponent: exponent(tyre.standard),
            speed_limit,
            passenger_divisor,
            camper: tyre.standard == Standard::Camper,
        })
    }

    fn reference_load(
        tyre: &Designation,
        moulded: &Moulded,
        fitment: Fitment,
    ) -> Result<Mass, CapacityError> {
        let (index, moulded) = match fitment {
            Fitment::Single => (tyre.service.map(|s| s.single), moulded.load_single),
            Fitment::Dual => (tyre.service.and_then(|s| s.dual), moulded.load_dual),
        };
        if let Some(load) = moulded {
            Field::ReferenceLoad.check(load.get::<kilogram>())?;
        }
        match (index.map(|index| index.load()), moulded) {
            (None, None) => Err(CapacityError::ReferenceLoadNeeded { fitment }),
            (Some(load), None) | (None, Some(load)) => Ok(load),
            (Some(index), Some(moulded)) => {
                if (moulded / index).value.ln().abs() > LOADS_AGREE_WITHIN.ln_1p() {
                    return Err(CapacityError::LoadsDisagree { index, moulded });
                }
                Ok(if moulded < index { moulded } else { index })
            }
        }
    }

    /// The pressure of the reference load, and the most the sidewall allows.
    fn reference_pressure(
        tyre: &Designation,
        moulded: &Moulded,
    ) -> Result<(GaugePressure, GaugePressure), CapacityError> {
        let kpa = GaugePressure::new::<kilopascal>;
        let in_psi = GaugePressure::new::<psi>;
        if tyre.standard == Standard::Passenger {
            // An index above standard load is one of extra load, marked or not.
            let extra = tyre.reinforced || plausible::size_load(tyre) == SizeLoad::Extra;
            let reference = kpa(if extra { 290.0 } else { 250.0 });
            // Its moulded pressure is the most it may hold, not the one that
            // its load index is for.
            let maximum = moulded.pressure.unwrap_or(reference);
            if maximum > kpa(PASSENGER_MAXIMUM_KPA) {
                return Err(CapacityError::NotAPassengerPressure { moulded: maximum });
            }
            return Ok((reference, maximum));
        }
        let wide = tyre.section_width().get::<millimeter>() >= WIDE_LIGHT_TRUCK_MM;
        let flotation = matches!(tyre.size, Size::Flotation { .. });
        // Printed on the sidewall in both units, which differ by rounding: the
        // law takes the one, and the maximum is the greater.
        let by_range = match (tyre.standard, tyre.load_range) {
            (Standard::LightTruck, _) if wide => None,
            (Standard::LightTruck, Some(LoadRange::C)) => Some((kpa(350.0), in_psi(50.0))),
            // Flotation ratings above C have no published point here.
            (Standard::LightTruck, _) if flotation => None,
            (Standard::LightTruck, Some(LoadRange::D)) => Some((kpa(450.0), in_psi(65.0))),
            (Standard::LightTruck, Some(LoadRange::E)) => Some((kpa(550.0), in_psi(80.0))),
            (Standard::SpecialTrailer, Some(LoadRange::C)) => Some((in_psi(50.0), in_psi(50.0))),
            (Standard::SpecialTrailer, Some(LoadRange::D)) => Some((in_psi(65.0), in_psi(65.0))),
            (Standard::SpecialTrailer, Some(LoadRange::E)) => Some((in_psi(80.0), in_psi(80.0))),
            _ => None,
        };
        match (by_range, moulded.pressure) {
            (Some((range, _)), Some(moulded))
                if moulded.ratio_to(range).ln().abs() > PRESSURES_AGREE_WITHIN.ln_1p() =>
            {
                Err(CapacityError::PressuresDisagree { range, moulded })
            }
            (_, Some(moulded)) => Ok((moulded, moulded)),
            (Some((range, other)), None) => Ok((range, range.max(other))),
            (None, None) => Err(CapacityError::ReferencePressureNeeded),
        }
    }

    /// The load that one tyre carries at its reference pressure, after the
    /// passenger divisor.
    pub fn reference_load_per_tyre(&self) -> Mass {
        self.reference_load
    }

    /// The pressure of the reference load.
    pub fn reference_pressure_cold(&self) -> GaugePressure {
        self.reference_pressure
    }

    /// The most that the sidewall allows, cold.
    pub fn maximum(&self) -> GaugePressure {
        self.maximum
    }

    /// Whether that is the sidewall's own figure; else it is the passenger
    /// standard's, and the sidewall may allow more.
    pub fn maximum_moulded(&self) -> bool {
        self.maximum_moulded
    }

    /// The lowest pressure of the published rows, or the moulded minimum.
    pub fn lowest_row(&self) -> GaugePressure {
        self.lowest_row
    }

    /// The tyre's own speed limit, where it is known.
    pub fn speed_limit(&self) -> Option<Velocity> {
        self.speed_limit
    }

    /// Whether it is a camper tyre, whose vehicle's maker may ask for more than
    /// the moulded pressure.
    pub fn is_camper(&self) -> bool {
        self.camper
    }

    /// Whether the 1.10 divisor was taken off.
    pub fn passenger_divisor(&self) -> bool {
        self.passenger_divisor
    }

    /// The least cold pressure at which one tyre carries `load` at road speed:
    /// `P_ref · (L / L_ref)^(1/n)`.
    ///
    /// Loads from nothing up to the reference load; a greater one gives a
    /// greater pressure than the tyre may hold, and the caller refuses it.
    ///
    /// A tyre maker's chart, reproduced in a motorhome's specifications of 1990
    /// (quoted), has 2,205 lb at 50 psi for an LT235/85R16 that is rated for
    /// 3,042 lb at 80:
    ///
    /// ```
    /// use tyreside::calc::quantity::{Mass, pound, psi};
    /// use tyreside::calc::tyre::capacity::{Capacity, Fitment, Moulded, Vehicle};
    /// use tyreside::calc::tyre::designation::Designation;
    /// let tyre = Designation::parse("LT235/85R16 E").unwrap();
    /// let moulded = Moulded {
    ///     load_single: Some(Mass::new::<pound>(3042.0)),
    ///     ..Moulded::default()
    /// };
    /// let tyre = Capacity::new(&tyre, &moulded, Fitment::Single, Vehicle::Other).unwrap();
    /// let least = tyre.load_minimum(Mass::new::<pound>(2205.0));
    /// assert!((least.get::<psi>() - 50.0).abs() < 0.6);
    /// // And back: the law is its own inverse.
    /// assert!((tyre.carries(least).get::<pound>() - 2205.0).abs() < 1e-6);
    /// ```
    pub fn load_minimum(&self, load: Mass) -> GaugePressure {
        let share = (load / self.reference_load).value;
        self.reference_pressure
            .scaled(share.powf(1.0 / self.exponent))
    }

    /// What one tyre carries at `pressure` and road speed: the inverse of
    /// [`Self::load_minimum`]. Nothing at or below no pressure; above the
    /// reference pressure no more than the reference load, which is the most
    /// at any pressure.
    pub fn carries(&self, pressure: GaugePressure) -> Mass {
        let share = pressure.ratio_to(self.reference_pressure);
        if share >= 1.0 {
            return self.reference_load;
        }
        let share = share.max(0.0).powf(self.exponent);
        self.reference_load * share
    }

    /// The load minimum by a published stiffness model, `P = P_ref · L/L_ref`,
    /// which asks for more at part load (J. W. Daws, "Inflation Pressures at
    /// Less-Than-Maximum Tire Loads", Tire Society 2009, equation 9).
    pub fn stiffness_minimum(&self, load: Mass) -> GaugePressure {
        self.reference_pressure
            .scaled((load / self.reference_load).value)
    }
}

/// Exponent of the load-pressure law.
///
/// Light truck, commercial and passenger: fitted to published rows, see
/// `tests/published`. Special trailer: 0.585 from memory, and within the
/// spread of published points.
pub(super) fn exponent(standard: Standard) -> f64 {
    match standard {
        Standard::LightTruck => 0.70,
        Standard::SpecialTrailer => 0.585,
        Standard::Commercial | Standard::Camper | Standard::Passenger => 0.80,
    }
}

/// Lowest pressure of the published rows, kPa.
fn lowest_row_kpa(tyre: &Designation) -> f64 {
    match tyre.standard {
        Standard::LightTruck | Standard::SpecialTrailer => 240.0,
        // A bare size may be a light-truck tyre's.
        Standard::Commercial if !tyre.marked => 240.0,
        Standard::Commercial | Standard::Camper => 200.0,
        Standard::Passenger => 180.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kg(value: f64) -> Mass {
        Mass::new::<kilogram>(value)
    }

    fn kmh(value: f64) -> Velocity {
        Velocity::new::<kilometer_per_hour>(value)
    }

    fn capacity(text: &str, moulded: Moulded) -> Result<Capacity, CapacityError> {
        let tyre = Designation::parse(text).expect("a designation");
        Capacity::new(&tyre, &moulded, Fitment::Single, Vehicle::Other)
    }

    fn at(kpa: f64) -> Moulded {
        Moulded {
            pressure: Some(GaugePressure::new::<kilopascal>(kpa)),
            ..Moulded::default()
        }
    }

    #[test]
    fn asks_for_what_the_sidewall_alone_can_say() {
        let none = Moulded::default();
        assert_eq!(
            capacity("LT265/75R16 E", none),
            Err(CapacityError::ReferenceLoadNeeded {
                fitment: Fitment::Single
            })
        );
        for text in [
            "265/75R16 123/120Q",
            "195R14C 106/104P",
            "LT265/75R16 123/120Q",
            "31x10.50R15LT 109Q",
            "ST225/75R15 113L",
        ] {
            assert_eq!(
                capacity(text, none),
                Err(CapacityError::ReferencePressureNeeded),
                "{text}"
            );
        }
        assert_eq!(
            capacity("7.50-16LT 116/114N D", none),
            Err(CapacityError::DiagonalNotCovered)
        );
    }

    /// A range-E tyre of this width is rated at 65 psi; taking 80 for it
    /// would let it be pumped 100 kPa over its moulded maximum.
    #[test]
    fn a_wide_light_truck_tyre_must_say_its_pressure() {
        assert_eq!(
            capacity("LT315/75R16 127/124Q E", Moulded::default()),
            Err(CapacityError::ReferencePressureNeeded)
        );
        assert_eq!(
            capacity("33x12.50R15LT 108Q C", Moulded::default()),
            Err(CapacityError::ReferencePressureNeeded)
        );
        assert!(capacity("LT315/75R16 127/124Q E", at(450.0)).is_ok());
    }

    #[test]
    fn a_misread_load_is_refused_and_a_rounded_one_takes_the_lower() {
        let moulded = |kg_| Moulded {
            load_single: Some(kg(kg_)),
            ..Moulded::default()
        };
        let c = capacity("LT265/75R16 123/120Q E", moulded(1549.0)).unwrap();
        assert_eq!(c.reference_load_per_tyre(), kg(1549.0));
        assert!(matches!(
            capacity("LT265/75R16 123/120Q E", moulded(1400.0)),
            Err(CapacityError::LoadsDisagree { .. })
        ));
    }

    /// Each of these readings was accepted once, and asked 900 kg of the tyre
    /// for as little as a third of the pressure it needs.
    #[test]
    fn a_misread_sidewall_is_refused() {
        let single = |load| Moulded {
            load_single: Some(kg(load)),
            ..Moulded::default()
        };
        let pounds = single(3415.0);
        for (text, moulded) in [
            ("LT265/75R16 E", pounds),
            ("LT265/75R16 123/120Q C", Moulded::default()),
            ("LT265/75R16 123/120Q D", Moulded::default()),
            ("LT195R14C 106/104P", Moulded::default()),
            ("LT265/75R16 123/120Q", at(300.0)),
            ("ST225/75R15 117/112M", at(300.0)),
            ("225/75R16C 118/116R", at(300.0)),
            // Bare sizes with a moulded load came through the passenger
            // tables, and a size in inches through no check at all.
            ("265/75R16", single(1550.0)),
            ("195R14", single(950.0)),
            ("P265/70R17", single(2679.0)),
            ("P205/55R16 119V", Moulded::default()),
            ("7.50R16LT D", single(2140.0)),
        ] {
            assert!(
                matches!(
                    capacity(text, moulded),
                    Err(CapacityError::BeyondItsSize { .. })
                ),
                "{text}: {:?}",
                capacity(text, moulded)
            );
        }
        for (text, moulded) in [
            ("LT265/75R16 123/120Q E", at(250.0)),
            ("ST225/75R15 117/112M E", at(300.0)),
        ] {
            assert!(
                matches!(
                    capacity(text, moulded),
                    Err(CapacityError::PressuresDisagree { .. })
                ),
                "{text}: {:?}",
                capacity(text, moulded)
            );
        }
        assert!(matches!(
            capacity("265/70R17 115T", at(550.0)),
            Err(CapacityError::NotAPassengerPressure { .. })
        ));
        assert!(capacity("7.50R16LT 116/114N D", Moulded::default()).is_ok());
        assert_eq!(
            capacity("31x10.50R15LT 109Q E", Moulded::default()),
            Err(CapacityError::ReferencePressureNeeded)
        );
    }

    #[test]
    fn a_passenger_tyres_moulded_pressure_is_its_maximum_only() {
        let c = capacity("P265/70R17 115T", at(300.0)).unwrap();
        assert_eq!(c.reference_pressure_cold().get::<kilopascal>(), 250.0);
        assert_eq!(c.maximum().get::<kilopascal>(), 300.0);
    }

    /// 265/65R17 112H with 350 kPa moulded and 290 on the placard may carry
    /// 1,018 kg on a 4WD; at 1,000 kg it was shown a load reserve of 16 %.
    #[test]
    fn no_pressure_carries_more_than_the_load_index() {
        let c = capacity("265/65R17 112H", at(350.0)).unwrap();
        let most = 1120.0 / 1.10;
        for kpa in [250.0, 290.0, 350.0] {
            let carried = c.carries(GaugePressure::new::<kilopascal>(kpa));
            assert!(
                (carried.get::<kilogram>() - most).abs() < 1e-9,
                "{kpa}: {carried:?}"
            );
        }
    }

    #[test]
    fn an_unmarked_special_trailer_tyre_counts_as_105_kmh() {
        let moulded = Moulded {
            load_single: Some(kg(1152.0)),
            ..Moulded::default()
        };
        let c = capacity("ST225/75R15 D", moulded).unwrap();
        assert_eq!(c.speed_limit(), Some(kmh(105.0)));
        assert!((c.reference_pressure_cold().get::<psi>() - 65.0).abs() < 1e-3);
    }
}
