//! The wheel that a footprint is drawn of: one of an axle of the rig, or one
//! typed in.

use super::draft::{Owner, Unusable};
use super::keep::{self, Value, kept};
use super::section::{Section, entered};
use super::typed::{TypedMass, TypedPressure};
use super::version1::{self, MASS, PRESSURE, Renamed, renamed};
use super::{AxleId, Problem, Rig, Understood, Vehicle, within};
use crate::calc::footprint::{Change, Ground, Refusal, TyreGeometry, Wheel};
use crate::calc::limits::Field;
use crate::calc::pressure::{self, Answer, Caution, OwnRefused};
use crate::calc::quantity::{GaugePressure, GaugeStep, Mass, Velocity};
use crate::calc::surface::Surface;
use crate::calc::tyre::capacity::{Capacity, CapacityError, Fitment, Moulded};
use crate::calc::tyre::designation::Designation;

kept! {
    /// Which wheel it is.
    #[derive(Default)]
    pub struct FootprintOf {
        /// Whether the wheel typed in is meant, rather than one of an axle.
        typed: bool = "typed",
        /// The axle.
        axle: AxleId = "axle",
        /// Typed in: the tyre.
        tyre: String = "tyre",
        /// Typed in: the load on it.
        load: Option<TypedMass> = "load",
        /// Typed in: its cold pressure on sealed road.
        sealed: Option<TypedPressure> = "sealed",
        /// Texts that could not be used, one a field.
        unusable: Vec<Unusable> = "unusable",
    }
}

impl Section for FootprintOf {
    const PART: &'static str = "footprint";
    const VERSION: u32 = 2;

    fn fresh(_: bool) -> Self {
        Self::default()
    }

    fn migrate(version: u32, body: &str) -> Option<Self> {
        (version == 1).then(|| version_1(body)).flatten()
    }

    fn is_sound(&self) -> bool {
        within(Field::WheelLoad, self.load) && within(Field::FootprintPressure, self.sealed)
    }
}

entered!(FootprintOf);

/// As version 1 wrote it: the axle by its place, which became its number.
fn version_1(json: &str) -> Option<FootprintOf> {
    const NUMBERS: &[Renamed] = &[
        Renamed("load_kg", "load", MASS),
        Renamed("sealed_kpa", "sealed", PRESSURE),
    ];
    let mut texts = Vec::new();
    let body = renamed(json, NUMBERS, &mut |name, value, _| {
        if name != "unusable" {
            return Some(false);
        }
        for text in keep::items(value)? {
            let owner = |id: &str, _| (Owner::TypedIn, id.to_owned());
            texts.push(version1::text(text, &owner)?);
        }
        Some(true)
    })?;
    let mut of = FootprintOf::read(&body)?;
    of.unusable = texts;
    Some(of)
}

/// Why there is no footprint.
#[derive(Debug, Clone, PartialEq)]
pub enum NoFootprint {
    /// The axle has no pressure either.
    Axle(Problem),
    /// Something was not typed in.
    Blank(Field),
    /// The pressure typed in is not one for sealed road.
    Sealed(OwnRefused),
    /// The model doesn't hold.
    Model(Refusal),
    /// The sealed pressure is at the floor already, or below it.
    NothingToLetOut {
        /// The sealed pressure.
        sealed: GaugePressure,
        /// The floor.
        floor: GaugePressure,
    },
}

crate::calc::error_by_its_fields!(NoFootprint);

impl From<Refusal> for NoFootprint {
    fn from(refusal: Refusal) -> Self {
        Self::Model(refusal)
    }
}

/// A wheel, and the pressures between which its footprint is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Footing {
    /// The wheel.
    pub wheel: Wheel,
    /// Its cold pressure on sealed road.
    pub sealed: GaugePressure,
    /// The rig's floor.
    pub floor: GaugePressure,
    /// Lowest pressure drawn, on a gauge mark: the floor, or where the model ends.
    pub low: GaugePressure,
    /// Highest pressure drawn: the sealed one, or where the model ends.
    pub high: GaugePressure,
    /// The gauge's step.
    step: GaugeStep,
    /// The surface to be aired down for: the rig's, or a dirt road where that
    /// is sealed.
    pub surface: Surface,
    /// The speed limit on it.
    pub speed: Velocity,
    /// The axle, where what its tyres carry is known.
    pub axle: Option<pressure::Axle>,
    /// The pressure recommended on the surface, where the tables are known.
    pub recommended: Option<GaugePressure>,
    /// Whether that is no recommendation but the least that the load needs,
    /// for want of a placard or own figure.
    pub least_only: bool,
    /// The middle of the surface's band.
    middle: GaugePressure,
    /// Low and high end of each surface's band, hardest surface first.
    pub bands: Vec<(Surface, GaugePressure, GaugePressure)>,
}

impl Footing {
    /// Whether the model ends above the floor.
    pub fn ends_above_floor(&self) -> bool {
        self.low > self.floor.round_up(self.step)
    }

    /// Whether the model ends below the sealed pressure.
    pub fn ends_below_sealed(&self) -> bool {
        self.high < self.sealed
    }

    /// Gauge steps from the lowest to the highest pressure drawn; the last may
    /// be a part of one.
    pub fn steps(&self) -> u32 {
        let steps = (self.high - self.low).ratio_to(self.step.size());
        (steps - 1e-6).ceil() as u32
    }

    /// The pressure so many steps above the lowest.
    pub fn pressure(&self, steps: u32) -> GaugePressure {
        let marks = self.step.size().scaled(f64::from(steps));
        (self.low + marks).min(self.high)
    }

    /// The step nearest to a pressure.
    pub fn nearest(&self, pressure: GaugePressure) -> u32 {
        if pressure >= self.high {
            return self.steps();
        }
        let steps = (pressure - self.low).ratio_to(self.step.size());
        (steps.round() as u32).min(self.steps())
    }

    /// Where to begin: at what is recommended, or the middle of the band.
    pub fn start(&self) -> u32 {
        self.nearest(self.recommended.unwrap_or(self.middle))
    }

    /// From the highest pressure drawn to one so many steps above the lowest.
    ///
    /// # Errors
    /// [`Refusal`]; between the two ends there is none.
    pub fn change(&self, steps: u32) -> Result<Change, Refusal> {
        self.wheel.change(self.high, self.pressure(steps))
    }

    /// The load carried above the load there is, as a share of it, at the
    /// surface's speed, and the fastest speed at which it is carried. None
    /// where the tyre's tables are not known.
    pub fn carried(&self, pressure: GaugePressure) -> Option<(f64, Option<Velocity>)> {
        let axle = self.axle?;
        let carried = axle.carries_at(pressure, self.speed);
        let reserve = (carried / self.wheel.load()).value - 1.0;
        Some((reserve, axle.fastest(pressure, self.speed)))
    }
}

/// What is known of a wheel before the model is asked.
struct Known {
    tyre: Designation,
    load: Mass,
    sealed: GaugePressure,
    /// Its axle, what is recommended, and whether that is no more than the
    /// least that its load needs.
    tables: Option<(pressure::Axle, GaugePressure, bool)>,
}

/// The surface to be aired down for: its own, or a dirt road from a sealed one.
fn aired_down_for(rig: &Rig) -> Surface {
    match rig.surface {
        Surface::Sealed => Surface::Dirt,
        surface => surface,
    }
}

impl FootprintOf {
    /// The axle that the footprint is drawn of; where it has gone or none was
    /// picked, the first. None for a wheel typed in.
    pub fn axle_of(&self, rig: &Rig) -> Option<usize> {
        let there = !self.typed && !rig.axles.is_empty();
        there.then(|| rig.axle_at(self.axle).unwrap_or(0))
    }

    /// The wheel that the footprint is drawn of.
    ///
    /// # Errors
    /// [`NoFootprint`]: what is missing, or why the model does not hold.
    pub fn footing(&self, rig: &Rig) -> Result<Footing, NoFootprint> {
        let surface = aired_down_for(rig);
        let band = rig
            .band(surface)
            .map_err(|error| NoFootprint::Axle(Problem::Band(error)))?;
        let recommend = |axle: &pressure::Axle| {
            axle.on(surface, band, rig.setting, rig.unit.step())
                .map_err(|refusal| NoFootprint::Axle(Problem::Refused(refusal)))
        };
        let known = match self.axle_of(rig) {
            Some(index) => {
                let understood = rig
                    .understand(&rig.axles[index])
                    .map_err(NoFootprint::Axle)?;
                let answer = recommend(&understood.axle)?;
                Known::of(understood, &answer)
            }
            None => self.known_as_typed(rig, &recommend)?,
        };
        let tyre = TyreGeometry::of(&known.tyre).map_err(Refusal::from)?;
        let wheel = Wheel::new(tyre, known.tyre.construction, Ground::Firm, known.load)?;
        let (least, greatest) = wheel.pressure_range()?;

        let step = rig.unit.step();
        let floor = rig.floor.quantity();
        let high = known.sealed.min(greatest);
        let low = floor.max(least).round_up(step);
        if low >= high {
            // Where the model refuses the sealed pressure itself, that is why.
            wheel.footprint(known.sealed)?;
            return Err(NoFootprint::NothingToLetOut {
                sealed: known.sealed,
                floor: low,
            });
        }
        let ends = |surface: Surface| {
            let band = rig.band(surface).ok()??;
            let (low, high) = band.of(known.sealed);
            Some((surface, low, high))
        };
        let band_speed = band.map_or(Velocity::default(), |band| band.speed());
        let tyre_speed = known
            .tables
            .and_then(|(axle, ..)| axle.capacity.speed_limit());
        Ok(Footing {
            wheel,
            sealed: known.sealed,
            floor,
            low,
            high,
            step,
            surface,
            speed: match tyre_speed {
                Some(limit) if limit < band_speed => limit,
                _ => band_speed,
            },
            axle: known.tables.map(|(axle, ..)| axle),
            recommended: known.tables.map(|(_, recommended, _)| recommended),
            least_only: known.tables.is_some_and(|(_, _, least)| least),
            middle: band.map_or(known.sealed, |band| band.middle(known.sealed)),
            bands: Surface::ALL.into_iter().filter_map(ends).collect(),
        })
    }

    fn known_as_typed(
        &self,
        rig: &Rig,
        recommend: &dyn Fn(&pressure::Axle) -> Result<Answer, NoFootprint>,
    ) -> Result<Known, NoFootprint> {
        let tyre = Designation::parse(&self.tyre)
            .map_err(|error| NoFootprint::Axle(Problem::Tyre(error)))?;
        let load = self.load.ok_or(NoFootprint::Blank(Field::WheelLoad))?;
        let load = load
            .check(Field::WheelLoad)
            .map_err(Refusal::from)?
            .quantity();
        let sealed = self
            .sealed
            .ok_or(NoFootprint::Blank(Field::FootprintPressure))?;
        let sealed = sealed
            .check(Field::FootprintPressure)
            .map_err(Refusal::from)?
            .quantity();
        // On what it rolls is not asked: taken as other than a passenger car,
        // which counts a passenger tyre for less.
        let capacity = Capacity::new(&tyre, &Moulded::default(), Fitment::Single, Vehicle::Other);
        let capacity = match capacity {
            Ok(capacity) => capacity,
            // The form needs the size alone.
            Err(
                CapacityError::ReferenceLoadNeeded { .. }
                | CapacityError::ReferencePressureNeeded
                | CapacityError::SecondMarkNeeded { .. }
                | CapacityError::ExtraLoadOrMaximumNeeded
                | CapacityError::FamilyMarkNeeded
                | CapacityError::DiagonalNotCovered,
            ) => {
                return Ok(Known {
                    tyre,
                    load,
                    sealed,
                    tables: None,
                });
            }
            Err(error) => return Err(NoFootprint::Axle(Problem::Capacity(error))),
        };
        let axle = pressure::Axle {
            capacity,
            wheel_load: load,
            tyres: 1,
            placard: None,
            wheel_maximum: None,
            own_sealed: Some(sealed),
            floor: rig.floor.quantity(),
            // Where it rolls is not asked, and the pressure is its owner's.
            needs_makers_figure: false,
            shape: super::shape_of(&tyre, Fitment::Single),
            slow: rig
                .slow_rule()
                .map_err(|error| NoFootprint::Model(error.into()))?,
        };
        let answer = recommend(&axle)?;
        match answer.sealed.own_refused {
            Some(why) => Err(NoFootprint::Sealed(why)),
            None => Ok(Known::of(Understood { tyre, axle }, &answer)),
        }
    }
}

impl Known {
    fn of(understood: Understood, answer: &Answer) -> Self {
        let axle = understood.axle;
        let least = answer
            .cautions
            .iter()
            .any(|caution| matches!(caution, Caution::LeastOnly(_)));
        Self {
            tyre: understood.tyre,
            load: axle.wheel_load,
            sealed: answer.sealed.pressure,
            tables: Some((axle, answer.recommended, least)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::psi;
    use crate::rig::section;
    use crate::rig::typed::in_unit::{kg, kpa, psi as in_psi};
    use crate::rig::{PressureUnit, Surface as Stored};

    fn psi_of(pressure: GaugePressure) -> f64 {
        (pressure.get::<psi>() * 1e6).round() / 1e6
    }

    fn typed(tyre: &str, load_kg: f64, sealed_kpa: f64) -> FootprintOf {
        FootprintOf {
            typed: true,
            tyre: tyre.to_owned(),
            load: Some(kg(load_kg)),
            sealed: Some(kpa(sealed_kpa)),
            ..FootprintOf::default()
        }
    }

    /// A wheel of one of the rig's axles.
    fn of(rig: &Rig, index: usize) -> FootprintOf {
        FootprintOf {
            axle: rig.axles[index].id,
            ..FootprintOf::default()
        }
    }

    #[test]
    fn an_axle_gives_its_load_and_pressures_as_the_pressures_view_does() {
        let mut rig = Rig::demo();
        for (surface, aired) in [(Stored::Sealed, Stored::Dirt), (Stored::Sand, Stored::Sand)] {
            for index in 0..rig.axles.len() {
                rig.surface = aired;
                let (understood, answer) = rig.answer(&rig.axles[index]).unwrap();
                rig.surface = surface;
                let footing = of(&rig, index).footing(&rig).unwrap();
                assert_eq!(footing.wheel.load(), understood.axle.wheel_load);
                assert_eq!(footing.sealed, answer.sealed.pressure);
                assert_eq!(footing.recommended, Some(answer.recommended));
                assert_eq!(footing.surface, aired);
                let start = footing.pressure(footing.start());
                assert!((psi_of(start) - psi_of(answer.recommended)).abs() < 1e-5);
                let (reserve, _) = footing.carried(start).unwrap();
                assert!((reserve - answer.reserve).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn the_ends_are_the_sealed_pressure_and_the_floor_on_its_mark() {
        let rig = Rig::demo();
        let footing = of(&rig, 2).footing(&rig).unwrap();
        assert_eq!((psi_of(footing.low), psi_of(footing.high)), (15.0, 50.0));
        assert_eq!(footing.steps(), 35);
        assert!(!footing.ends_above_floor() && !footing.ends_below_sealed());
        for steps in 0..=footing.steps() {
            let pressure = footing.pressure(steps);
            assert_eq!(footing.nearest(pressure), steps);
            assert!(footing.change(steps).is_ok());
        }
        assert_eq!(footing.pressure(1000), footing.high);
        assert_eq!(footing.nearest(GaugePressure::new::<psi>(3.0)), 0);
        let unchanged = footing.change(footing.steps()).unwrap();
        assert_eq!(unchanged.growth.estimate, 1.0);
    }

    /// A load at which the model gives up above the floor, and a pressure off
    /// the gauge's marks.
    #[test]
    fn ends_are_cut_to_where_the_model_holds() {
        let footing = typed("265/75R16", 1100.0, 423.0)
            .footing(&Rig::demo())
            .unwrap();
        assert!(footing.ends_above_floor());
        let (least, _) = footing.wheel.pressure_range().unwrap();
        assert!(footing.low >= least && footing.low - least < GaugePressure::new::<psi>(1.0));
        let steps = footing.steps();
        assert_eq!(footing.pressure(steps), footing.high);
        assert!(footing.pressure(steps - 1) < footing.high);
        for steps in 0..=steps {
            assert!(footing.change(steps).is_ok());
            assert_eq!(footing.nearest(footing.pressure(steps)), steps);
        }

        let mut high = Rig::demo();
        high.axles[0].tyre = "195/75R16C 107/105R".to_owned();
        high.axles[0].weighed = Some(kg(1400.0));
        high.axles[0].moulded_pressure = Some(kpa(750.0));
        high.axles[0].placard = Some(kpa(720.0));
        let footing = of(&high, 0).footing(&high).unwrap();
        assert!(footing.ends_below_sealed());
        assert_eq!(footing.high, kpa(700.0).quantity());
    }

    /// With a load index a wheel typed in is held to what an axle is: it would
    /// show a load reserve at a pressure that the tyre may not hold.
    #[test]
    fn a_wheel_typed_in_is_held_to_its_tyre() {
        let with = |load_kg, sealed_kpa| {
            typed("LT265/75R16 123/120Q E", load_kg, sealed_kpa).footing(&Rig::demo())
        };
        let footing = with(700.0, 345.0).unwrap();
        let recommended = footing.recommended.unwrap();
        assert!((psi_of(recommended) - 33.0).abs() < 1e-5);
        assert!(matches!(
            with(700.0, 600.0),
            Err(NoFootprint::Axle(Problem::Refused(
                pressure::Refusal::OwnAboveMaximum { .. }
            )))
        ));
        assert!(matches!(
            with(1200.0, 300.0),
            Err(NoFootprint::Sealed(OwnRefused::BelowLoadMinimum(_)))
        ));
        assert!(matches!(
            with(1600.0, 500.0),
            Err(NoFootprint::Axle(Problem::Refused(
                pressure::Refusal::Overloaded { .. }
            )))
        ));
    }

    #[test]
    fn every_reason_for_none_is_told_apart() {
        let blank = |change: fn(&mut FootprintOf)| {
            let mut of = typed("265/75R16", 700.0, 345.0);
            change(&mut of);
            of.footing(&Rig::demo()).unwrap_err()
        };
        let no_load = blank(|of| of.load = None);
        assert_eq!(no_load, NoFootprint::Blank(Field::WheelLoad));
        let no_pressure = blank(|of| of.sealed = None);
        assert_eq!(no_pressure, NoFootprint::Blank(Field::FootprintPressure));
        let diagonal = blank(|of| of.tyre = "265/75-16".to_owned());
        assert!(matches!(
            diagonal,
            NoFootprint::Model(Refusal::NotRadial { .. })
        ));
        let flat = blank(|of| of.load = Some(kg(4000.0)));
        assert!(matches!(flat, NoFootprint::Model(Refusal::TooFlat { .. })));
        let at_floor = blank(|of| of.sealed = Some(kpa(101.0)));
        assert!(matches!(at_floor, NoFootprint::NothingToLetOut { .. }));
        // A stored value is never trusted.
        let damaged = blank(|of| of.load = Some(kg(f64::NAN)));
        assert!(matches!(
            damaged,
            NoFootprint::Model(Refusal::OutOfRange(_))
        ));
        let empty = FootprintOf::default().footing(&Rig::empty("mine", PressureUnit::Psi));
        assert!(matches!(empty, Err(NoFootprint::Axle(Problem::Tyre(_)))));
    }

    #[test]
    fn an_axle_that_has_gone_gives_way_to_the_first() {
        let mut rig = Rig::demo();
        let of = FootprintOf {
            axle: AxleId(200),
            ..FootprintOf::default()
        };
        assert_eq!(of.axle_of(&rig), Some(0));
        // Nor has a rig of one's own the numbers of the demo's axles.
        rig.begin_with(rig.axles.clone());
        assert_eq!(FootprintOf::default().axle_of(&rig), Some(0));
        rig.axles.clear();
        assert_eq!(of.axle_of(&rig), None);
        assert!(of.footing(&rig).is_err());
    }

    #[test]
    fn it_comes_back_from_its_record() {
        let of = FootprintOf {
            sealed: Some(in_psi(50.0)),
            ..typed("265/75R16", 712.5, 345.0)
        };
        assert_eq!(section::again(&of), of);
        let older: FootprintOf = section::read(1, "{\"axle\":1}").unwrap();
        assert_eq!((older.axle, older.typed), (AxleId(1), false));
    }
}
