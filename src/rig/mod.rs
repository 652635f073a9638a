//! The rig profile: plain data as typed, checked on its way into
//! [`crate::calc`], in sections that are kept each by itself.

pub mod air;
pub mod calendar;
pub mod checks;
pub mod copies;
mod demo;
pub mod draft;
pub mod footprint;
pub mod keep;
pub mod names;
pub mod nuts;
pub mod position;
pub mod section;
pub mod set_to;
pub mod typed;
pub mod version1;
pub mod weights;

pub use crate::calc::pressure::Setting;
pub use crate::calc::surface::Surface;
pub use crate::calc::tyre::capacity::Vehicle;
pub use crate::calc::weights::Coupling;
pub use draft::{Owner, Unusable};

use crate::calc::doubt::{Carried, Doubt, Position, swapped_placard};
use crate::calc::footprint::TyreGeometry;
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::load::{AxleGroup, LoadSource};
use crate::calc::pressure::{self, Answer, Caution, FLOOR_KPA, Refusal};
use crate::calc::quantity::{
    GaugePressure, GaugeStep, Mass, bar, kilogram, kilometer_per_hour, kilopascal, pound, psi,
};
use crate::calc::regime::SlowRule;
use crate::calc::surface::{Band, BandError};
use crate::calc::tyre::capacity::{Capacity, CapacityError, Fitment, Moulded};
use crate::calc::tyre::designation::{Construction, Designation, DesignationError, Standard};
use keep::{Unknown, Value, kept};
use names::named;
use section::{Section, entered};
use typed::in_unit::{kmh, kpa, percent};
use typed::{Amount, Kind, Typed, TypedMass, TypedPressure, TypedShare, TypedSpeed};

/// The unit in which a rig's pressures are shown and typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PressureUnit {
    /// Pound-force per square inch.
    Psi,
    /// Kilopascal.
    Kpa,
    /// Bar.
    Bar,
}

impl PressureUnit {
    /// Every unit.
    pub const ALL: [Self; 3] = [Self::Psi, Self::Kpa, Self::Bar];

    /// The reading `value` in this unit.
    pub fn reading(self, value: f64) -> GaugePressure {
        match self {
            Self::Psi => GaugePressure::new::<psi>(value),
            Self::Kpa => GaugePressure::new::<kilopascal>(value),
            Self::Bar => GaugePressure::new::<bar>(value),
        }
    }

    /// The bare number of a reading in this unit.
    pub fn number(self, reading: GaugePressure) -> f64 {
        match self {
            Self::Psi => reading.get::<psi>(),
            Self::Kpa => reading.get::<kilopascal>(),
            Self::Bar => reading.get::<bar>(),
        }
    }

    /// A pressure as typed in this unit.
    pub fn typed(self, value: f64) -> TypedPressure {
        match self {
            Self::Psi => typed::in_unit::psi(value),
            Self::Kpa => kpa(value),
            Self::Bar => typed::in_unit::bar(value),
        }
    }

    /// The step of a gauge in this unit.
    pub fn step(self) -> GaugeStep {
        match self {
            Self::Psi => GaugeStep::one_psi(),
            Self::Kpa | Self::Bar => GaugeStep::five_kilopascals(),
        }
    }
}

/// The unit in which a rig's masses are shown and typed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum MassUnit {
    /// Kilogram.
    #[default]
    Kilogram,
    /// Pound, 0.45359237 kg.
    Pound,
}

impl MassUnit {
    /// Every unit.
    pub const ALL: [Self; 2] = [Self::Kilogram, Self::Pound];

    /// The mass `value` in this unit.
    pub fn mass(self, value: f64) -> Mass {
        match self {
            Self::Kilogram => Mass::new::<kilogram>(value),
            Self::Pound => Mass::new::<pound>(value),
        }
    }

    /// A mass as typed in this unit.
    pub fn typed(self, value: f64) -> TypedMass {
        match self {
            Self::Kilogram => typed::in_unit::kg(value),
            Self::Pound => typed::in_unit::lb(value),
        }
    }

    /// The bare number of a mass in this unit.
    pub fn number(self, mass: Mass) -> f64 {
        match self {
            Self::Kilogram => mass.get::<kilogram>(),
            Self::Pound => mass.get::<pound>(),
        }
    }
}

/// The units in which a rig is shown and typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Units {
    /// Of pressures.
    pub pressure: PressureUnit,
    /// Of masses.
    pub mass: MassUnit,
}

/// Where an axle group stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Front of the tow vehicle.
    Front,
    /// Rear of the tow vehicle.
    Rear,
    /// The trailer.
    Trailer,
}

/// Which of the known masses counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadFrom {
    /// Each side weighed.
    Sides,
    /// Weighed whole.
    Weighed,
    /// Its rating.
    Rating,
}

named!(PressureUnit {
    Psi: "psi",
    Kpa: "kpa",
    Bar: "bar",
});
named!(MassUnit {
    Kilogram: "kilogram",
    Pound: "pound",
});
named!(Place {
    Front: "front",
    Rear: "rear",
    Trailer: "trailer",
});
named!(Coupling {
    Hitched: "hitched",
    Unhitched: "unhitched",
});
named!(LoadFrom {
    Sides: "sides",
    Weighed: "weighed",
    Rating: "rating",
});

/// Which axle group of its rig it is, whatever is removed before or behind it.
/// None is given twice in a rig.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct AxleId(pub u32);

impl Value for AxleId {
    fn read(json: &str) -> Option<Self> {
        Value::read(json).map(Self)
    }

    fn write(&self, to: &mut String) {
        self.0.write(to);
    }
}

/// Which axles these are.
#[inline(never)]
pub(crate) fn axle_ids(axles: &[Axle]) -> Vec<AxleId> {
    axles.iter().map(|axle| axle.id).collect()
}

/// How a list by the places of axles must follow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moved {
    /// The axle at this place is no longer there.
    Removed(usize),
    /// One stands at this place that was not there.
    Added(usize),
}

/// How a section that names axles by their places, written while these were
/// `written`, follows to the rig's axles. They are kept each by itself, and
/// one may be older than the other.
pub(super) fn follow(written: &[AxleId], axles: &[Axle], moved: &mut dyn FnMut(Moved)) {
    // Of version 1, which changed both at once.
    if written.is_empty() {
        return;
    }
    let mut now = Vec::new();
    for (place, id) in written.iter().enumerate().rev() {
        if axles.iter().any(|axle| axle.id == *id) {
            now.insert(0, *id);
        } else {
            moved(Moved::Removed(place));
        }
    }
    for (place, axle) in axles.iter().enumerate() {
        if now.get(place) != Some(&axle.id) {
            now.insert(place.min(now.len()), axle.id);
            moved(Moved::Added(place));
        }
    }
}

kept! {
    /// One axle group of a rig.
    pub struct Axle {
        /// Which it is.
        id: AxleId = "id",
        /// Where it stands.
        place: Place = "place",
        /// Axles in the group.
        axles: u8 = "axles",
        /// Whether four tyres stand across.
        dual: bool = "dual",
        /// Tyre designation as typed.
        tyre: String = "tyre",
        /// Maximum load moulded, one tyre at each end.
        moulded_load: Option<TypedMass> = "moulded_load",
        /// Maximum load moulded, two at each end.
        moulded_dual_load: Option<TypedMass> = "moulded_dual_load",
        /// Cold pressure moulded with the maximum load.
        moulded_pressure: Option<TypedPressure> = "moulded_pressure",
        /// Least pressure moulded or given by the tyre's maker.
        moulded_minimum: Option<TypedPressure> = "moulded_minimum",
        /// Cold pressure on the tyre placard.
        placard: Option<TypedPressure> = "placard",
        /// The most that wheel or valve allow.
        wheel_maximum: Option<TypedPressure> = "wheel_maximum",
        /// The user's own cold pressure on sealed road.
        own_sealed: Option<TypedPressure> = "own_sealed",
        /// Which mass counts.
        load_from: LoadFrom = "load_from",
        /// Left side weighed.
        left: Option<TypedMass> = "left",
        /// Right side weighed.
        right: Option<TypedMass> = "right",
        /// Group weighed whole.
        weighed: Option<TypedMass> = "weighed",
        /// Group weighed whole, the van unhitched.
        alone: Option<TypedMass> = "alone",
        /// Axle limit or GTM.
        rating: Option<TypedMass> = "rating",
    }
}

impl Default for Axle {
    fn default() -> Self {
        Self::empty(Place::Front)
    }
}

impl Axle {
    /// An axle of which nothing is known.
    pub fn empty(place: Place) -> Self {
        Self {
            id: AxleId::default(),
            place,
            axles: 1,
            dual: false,
            tyre: String::new(),
            moulded_load: None,
            moulded_dual_load: None,
            moulded_pressure: None,
            moulded_minimum: None,
            placard: None,
            wheel_maximum: None,
            own_sealed: None,
            load_from: LoadFrom::Weighed,
            left: None,
            right: None,
            weighed: None,
            alone: None,
            rating: None,
            unknown: Unknown::default(),
        }
    }

    /// Whether every number is one that could have been entered.
    fn is_sound(&self) -> bool {
        let pressures = [
            (Field::ReferencePressure, self.moulded_pressure),
            (Field::SidewallMinimum, self.moulded_minimum),
            (Field::PlacardPressure, self.placard),
            (Field::WheelMaximum, self.wheel_maximum),
            (Field::OwnSealedPressure, self.own_sealed),
        ];
        let masses = [
            (Field::ReferenceLoad, self.moulded_load),
            (Field::ReferenceLoad, self.moulded_dual_load),
            (Field::SideMass, self.left),
            (Field::SideMass, self.right),
            (Field::AxleMass, self.weighed),
            (Field::AxleMass, self.alone),
            (Field::AxleMass, self.rating),
        ];
        self.has_sound_group()
            && pressures.into_iter().all(|(field, of)| within(field, of))
            && masses.into_iter().all(|(field, of)| within(field, of))
    }

    /// Only a trailer's axles form a group.
    fn has_sound_group(&self) -> bool {
        let most = if self.place == Place::Trailer {
            AxleGroup::MOST_AXLES
        } else {
            1
        };
        (1..=most).contains(&self.axles)
    }

    /// The tyres of this group.
    pub fn group(&self) -> AxleGroup {
        AxleGroup::new(
            self.axles,
            if self.dual {
                Fitment::Dual
            } else {
                Fitment::Single
            },
        )
    }

    fn load(&self, coupling: Coupling) -> Result<LoadSource, Problem> {
        let mass = |typed: Option<TypedMass>, missing| {
            typed
                .map(TypedMass::quantity)
                .ok_or(Problem::Missing(missing))
        };
        let hitched = match self.load_from {
            LoadFrom::Sides => LoadSource::Sides {
                left: mass(self.left, Missing::Left)?,
                right: mass(self.right, Missing::Right)?,
            },
            LoadFrom::Weighed => LoadSource::Weighed(mass(self.weighed, Missing::Weighed)?),
            LoadFrom::Rating => LoadSource::Rating(mass(self.rating, Missing::Rating)?),
        };
        if coupling == Coupling::Hitched || self.place == Place::Trailer {
            return Ok(hitched);
        }
        // A mass read hitched can't stand in: the ball lightens the front axle.
        let alone = |missing| mass(self.alone, missing);
        Ok(match hitched {
            // The ball is in the middle, and loads both sides alike.
            LoadSource::Sides { left, right } => {
                let (alone, apart) = (alone(Missing::Alone)?, left - right);
                LoadSource::Sides {
                    left: (alone + apart) / 2.0,
                    right: (alone - apart) / 2.0,
                }
            }
            LoadSource::Weighed(_) => LoadSource::Weighed(alone(Missing::Alone)?),
            LoadSource::Rating(_) => hitched,
        })
    }
}

/// Whether an amount, where there is one, could have been entered.
pub(super) fn within<K: Kind>(field: Field, typed: Option<Typed<K>>) -> bool {
    typed.is_none_or(|typed| typed.check(field).is_ok())
}

kept! {
    /// A surface band that the user changed.
    pub struct OwnBand {
        /// Surface.
        surface: Surface = "surface",
        /// Low end, % of the sealed pressure.
        low: TypedShare = "low",
        /// High end, % of the sealed pressure.
        high: TypedShare = "high",
        /// Low end as a pressure; with the high one it stands in place of the
        /// shares.
        low_pressure: Option<TypedPressure> = "low_pressure",
        /// High end as a pressure.
        high_pressure: Option<TypedPressure> = "high_pressure",
        /// Speed limit.
        speed: TypedSpeed = "speed",
    }
}

impl Default for OwnBand {
    /// No band, and none that could be entered.
    fn default() -> Self {
        Self {
            surface: Surface::Sealed,
            low: percent(0.0),
            high: percent(0.0),
            low_pressure: None,
            high_pressure: None,
            speed: kmh(0.0),
            unknown: Unknown::default(),
        }
    }
}

impl OwnBand {
    /// The core's band.
    fn band(&self) -> Result<Band, BandError> {
        let speed = self.speed.quantity();
        match (self.low_pressure, self.high_pressure) {
            (Some(low), Some(high)) => Band::in_pressures(low.quantity(), high.quantity(), speed),
            _ => Band::new(self.low.percent(), self.high.percent(), speed),
        }
    }
}

/// The name of an axle's field on the page, by the place of the axle.
pub fn axle_field(axle: usize, name: &str) -> String {
    format!("axle-{axle}-{name}")
}

kept! {
    /// A rig: a tow vehicle and its trailer as loaded now.
    pub struct Rig {
        /// What its owner calls it.
        name: String = "name",
        /// Whether it is the invented example.
        demo: bool = "demo",
        /// Unit to show.
        unit: PressureUnit = "unit",
        /// Unit of masses to show.
        mass_unit: MassUnit = "mass_unit",
        /// Whether the van hangs on the vehicle.
        coupling: Coupling = "coupling",
        /// The surface picked last.
        surface: Surface = "surface",
        /// Tables or practice.
        setting: Setting = "setting",
        /// The slow rule's most deflection, % of section height.
        slow_deflection: TypedShare = "slow_deflection",
        /// The slow rule's least share of the load minimum, %.
        slow_load_share: TypedShare = "slow_load_share",
        /// Lowest pressure used anywhere.
        floor: TypedPressure = "floor",
        /// Allowance for one wheel carrying more than its share.
        uneven_load: TypedShare = "uneven_load",
        /// What tows.
        tow_vehicle: Vehicle = "tow_vehicle",
        /// Bands that differ from common practice.
        bands: Vec<OwnBand> = "bands",
        /// Axle groups, front first.
        axles: Vec<Axle> = "axles",
        /// The number of the next axle: one given up is not given again.
        next_axle: u32 = "next_axle",
        /// Texts that could not be used, one a field.
        unusable: Vec<Unusable> = "unusable",
    } beside {
        /// Warm readings, pumping and leaks: a section of its own.
        air: air::Air,
        /// What the tyres are set to: a section of its own.
        set_to: set_to::SetTo,
    }
}

impl Default for Rig {
    fn default() -> Self {
        let mut rig = Self::empty("", PressureUnit::Psi);
        rig.axles.clear();
        rig
    }
}

/// Light-truck tyres rated at this pressure and above, load range E, count as
/// strong among doubts.
const STRONG_FROM_KPA: f64 = 500.0;

/// A value that an axle still needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Missing {
    /// Mass on the left side.
    Left,
    /// Mass on the right side.
    Right,
    /// Mass of the group.
    Weighed,
    /// Rating of the group.
    Rating,
    /// Mass of the group, the van unhitched.
    Alone,
}

/// Why an axle has no answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
    /// The van stays behind.
    LeftBehind,
    /// Something was not entered.
    Missing(Missing),
    /// The tyre designation was not understood.
    Tyre(DesignationError),
    /// The sidewall's figures are not enough.
    Capacity(CapacityError),
    /// A surface band is none.
    Band(BandError),
    /// A value is outside its range.
    OutOfRange(OutOfRange),
    /// No safe figure exists.
    Refused(Refusal),
}

crate::calc::error_by_its_fields!(Problem);

impl From<OutOfRange> for Problem {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

/// The measures by which a tyre is pressed in; none of a pair, whose sidewalls
/// bulge into each other.
fn shape_of(tyre: &Designation, fitment: Fitment) -> Option<TyreGeometry> {
    let covered = tyre.construction == Construction::Radial && fitment == Fitment::Single;
    TyreGeometry::of(tyre).ok().filter(|_| covered)
}

/// An axle as the core sees it, with what was understood on the way.
#[derive(Debug, Clone, PartialEq)]
pub struct Understood {
    /// The designation.
    pub tyre: Designation,
    /// The core's axle.
    pub axle: pressure::Axle,
}

impl Section for Rig {
    const PART: &'static str = "axles";
    const VERSION: u32 = 2;

    fn fresh(demo: bool) -> Self {
        if demo {
            Self::demo()
        } else {
            Self::empty("", PressureUnit::Psi)
        }
    }

    fn migrate(version: u32, body: &str) -> Option<Self> {
        (version == 1).then(|| version1::rig(body)).flatten()
    }

    fn is_sound(&self) -> bool {
        self.is_sound()
    }
}

entered!(Rig);

/// Axles, numbered from the front.
pub(super) fn numbered<const N: usize>(mut axles: [Axle; N]) -> Vec<Axle> {
    for (axle, id) in axles.iter_mut().zip(0..) {
        axle.id = AxleId(id);
    }
    axles.into()
}

impl Rig {
    /// Longest name kept.
    pub const LONGEST_NAME: usize = 40;
    /// Most axle groups.
    pub const MOST_AXLES: usize = 6;

    /// A rig of one's own with nothing entered: a tow vehicle and a trailer.
    pub fn empty(name: &str, unit: PressureUnit) -> Self {
        Self {
            name: name.to_owned(),
            demo: false,
            unit,
            mass_unit: MassUnit::default(),
            coupling: Coupling::Hitched,
            surface: Surface::Sealed,
            setting: Setting::HoldToTables,
            slow_deflection: percent(SlowRule::DEFLECTION_PERCENT),
            slow_load_share: percent(SlowRule::LOAD_SHARE_PERCENT),
            floor: kpa(FLOOR_KPA),
            uneven_load: percent(10.0),
            tow_vehicle: Vehicle::Other,
            bands: Vec::new(),
            axles: numbered([Place::Front, Place::Rear, Place::Trailer].map(Axle::empty)),
            next_axle: 3,
            air: air::Air::default(),
            set_to: set_to::SetTo::default(),
            unusable: Vec::new(),
            unknown: Unknown::default(),
        }
    }

    /// An empty rig in the units of another.
    pub fn another(name: &str, units: Units) -> Self {
        Self {
            mass_unit: units.mass,
            ..Self::empty(name, units.pressure)
        }
    }

    /// Whether every number of this section is one that could have been
    /// entered. A record is neither written nor read otherwise.
    pub fn is_sound(&self) -> bool {
        let band = |band: &OwnBand| {
            band.low.check(Field::BandShare).is_ok()
                && band.high.check(Field::BandShare).is_ok()
                && band.speed.check(Field::BandSpeed).is_ok()
                && within(Field::BandPressure, band.low_pressure)
                && within(Field::BandPressure, band.high_pressure)
        };
        let numbered = |index: usize, axle: &Axle| {
            let again = self.axles[..index].iter().any(|other| other.id == axle.id);
            axle.id.0 < self.next_axle && !again
        };
        (1..=Self::MOST_AXLES).contains(&self.axles.len())
            && self.axles.iter().all(Axle::is_sound)
            && self
                .axles
                .iter()
                .enumerate()
                .all(|(i, axle)| numbered(i, axle))
            && self.bands.iter().all(band)
            && self.floor.check(Field::Floor).is_ok()
            && self.uneven_load.check(Field::UnevenLoad).is_ok()
            && self.slow_deflection.check(Field::SlowDeflection).is_ok()
            && self.slow_load_share.check(Field::SlowLoadShare).is_ok()
    }

    /// Adds an axle behind the others.
    pub fn add_axle(&mut self, axle: Axle) {
        let id = AxleId(self.next_axle);
        self.next_axle = self.next_axle.saturating_add(1);
        self.axles.push(Axle { id, ..axle });
    }

    /// Takes these axles for those there are: none of them is one that was.
    pub fn begin_with(&mut self, axles: Vec<Axle>) {
        self.axles.clear();
        for axle in axles {
            self.add_axle(axle);
        }
    }

    /// Its axles, from the front.
    pub fn axle_ids(&self) -> Vec<AxleId> {
        axle_ids(&self.axles)
    }

    /// The place of an axle, while it is there.
    pub fn axle_at(&self, id: AxleId) -> Option<usize> {
        self.axles.iter().position(|axle| axle.id == id)
    }

    /// Forgets an axle and what was typed for it.
    pub fn remove_axle(&mut self, index: usize) {
        if index >= self.axles.len() || self.axles.len() == 1 {
            return;
        }
        let Axle { id, .. } = self.axles.remove(index);
        self.air.axle_removed(index);
        self.set_to.axle_removed(index);
        self.unusable.retain(|text| text.of != Owner::Axle(id));
    }

    /// The units in which it is shown and typed.
    pub fn units(&self) -> Units {
        Units {
            pressure: self.unit,
            mass: self.mass_unit,
        }
    }

    /// The first text that can't be used and that an axle's figures hang on:
    /// the axle's own, or the whole rig's.
    pub fn unusable_of(&self, axle: usize) -> Option<&Unusable> {
        let id = self.axles.get(axle)?.id;
        self.unusable
            .iter()
            .find(|text| text.of == Owner::Rig || text.of == Owner::Axle(id))
    }

    /// The first text that can't be used and that all figures hang on.
    pub fn unusable_of_all(&self) -> Option<&Unusable> {
        self.unusable.iter().find(|text| text.of == Owner::Rig)
    }

    /// Whether anything is towed.
    pub fn has_trailer(&self) -> bool {
        self.axles.iter().any(|axle| axle.place == Place::Trailer)
    }

    /// The state that its loads are of: they were read hitched, or there is
    /// nothing to hitch.
    fn coupling(&self) -> Coupling {
        match self.coupling {
            Coupling::Unhitched if self.has_trailer() => Coupling::Unhitched,
            _ => Coupling::Hitched,
        }
    }

    /// Whether the drive ahead is with the trailer.
    pub fn tows(&self) -> bool {
        self.has_trailer() && self.coupling == Coupling::Hitched
    }

    /// Whether the band for `surface` is the rig's own.
    pub fn has_own_band(&self, surface: Surface) -> bool {
        self.bands.iter().any(|band| band.surface == surface)
    }

    /// Keeps one pressure as the rig's own band for a surface, at the speed
    /// that its band has now. Nothing on sealed road, which has no band.
    pub fn keep_as_band(&mut self, surface: Surface, own: TypedPressure) {
        let Ok(Some(band)) = self.band(surface) else {
            return;
        };
        let kept = self.bands.iter().find(|kept| kept.surface == surface);
        let practice = surface.band().and_then(|band| band.shares());
        let kept = match (kept, practice) {
            (Some(kept), _) => kept.clone(),
            (None, Some((low, high))) => OwnBand {
                surface,
                low: percent(low * 100.0),
                high: percent(high * 100.0),
                speed: kmh(band.speed().get::<kilometer_per_hour>()),
                ..OwnBand::default()
            },
            (None, None) => return,
        };
        let kept = OwnBand {
            low_pressure: Some(own),
            high_pressure: Some(own),
            ..kept
        };
        self.bands.retain(|band| band.surface != surface);
        self.bands.push(kept);
    }

    /// The band for `surface`: the rig's own, or common practice.
    ///
    /// # Errors
    /// [`BandError`] where the rig's own is none.
    pub fn band(&self, surface: Surface) -> Result<Option<Band>, BandError> {
        match self.bands.iter().find(|band| band.surface == surface) {
            Some(own) if surface != Surface::Sealed => own.band().map(Some),
            _ => Ok(surface.band()),
        }
    }

    /// The load on the most heavily loaded tyre of an axle.
    ///
    /// # Errors
    /// [`Problem`] where a mass is missing or out of range.
    pub fn wheel_load(&self, axle: &Axle) -> Result<Mass, Problem> {
        Ok(axle
            .load(self.coupling())?
            .wheel_load(axle.group(), self.uneven_load.percent())?)
    }

    /// What the slow rule counts with.
    ///
    /// # Errors
    /// [`OutOfRange`] for a stored number outside its limits.
    pub fn slow_rule(&self) -> Result<SlowRule, OutOfRange> {
        SlowRule::new(
            self.slow_deflection.percent(),
            self.slow_load_share.percent(),
        )
    }

    /// One of this rig's axles as the core sees it.
    ///
    /// # Errors
    /// [`Problem`]: what is missing, not understood or out of range.
    pub fn understand(&self, axle: &Axle) -> Result<Understood, Problem> {
        let tyre = Designation::parse(&axle.tyre).map_err(Problem::Tyre)?;
        let mass = |typed: Option<TypedMass>| typed.map(TypedMass::quantity);
        let pressure = |typed: Option<TypedPressure>| typed.map(TypedPressure::quantity);
        let moulded = Moulded {
            load_single: mass(axle.moulded_load),
            load_dual: mass(axle.moulded_dual_load),
            pressure: pressure(axle.moulded_pressure),
            minimum: pressure(axle.moulded_minimum),
        };
        let vehicle = match axle.place {
            Place::Trailer => Vehicle::Other,
            Place::Front | Place::Rear => self.tow_vehicle,
        };
        let group = axle.group();
        let capacity =
            Capacity::new(&tyre, &moulded, group.fitment(), vehicle).map_err(Problem::Capacity)?;
        let wheel_load = self.wheel_load(axle)?;
        let needs_makers_figure = capacity.is_camper() && axle.place != Place::Front && !axle.dual;
        let axle = pressure::Axle {
            capacity,
            wheel_load,
            tyres: group.tyres(),
            placard: pressure(axle.placard),
            wheel_maximum: pressure(axle.wheel_maximum),
            own_sealed: pressure(axle.own_sealed),
            floor: self.floor.quantity(),
            needs_makers_figure,
            shape: shape_of(&tyre, group.fitment()),
            slow: self.slow_rule()?,
        };
        Ok(Understood { tyre, axle })
    }

    /// The answer for one of this rig's axles on the rig's surface.
    ///
    /// # Errors
    /// [`Problem`]: why there is none.
    pub fn answer(&self, axle: &Axle) -> Result<(Understood, Answer), Problem> {
        self.answer_on(axle, self.surface)
    }

    /// The answer for one of this rig's axles on `surface`.
    ///
    /// # Errors
    /// [`Problem`]: why there is none.
    pub fn answer_on(
        &self,
        axle: &Axle,
        surface: Surface,
    ) -> Result<(Understood, Answer), Problem> {
        let understood = self.understand(axle);
        let doubt = understood.as_ref().ok().and_then(|understood| {
            let other = self.counterpart(axle).map(|other| &self.axles[other]);
            let other = other.and_then(|other| Some(carried(other, &self.understand(other).ok()?)));
            carried(axle, understood).doubt(other.as_ref())
        });
        let answer = self.decide(axle, &understood, doubt, surface)?;
        Ok((understood?, answer))
    }

    /// Every axle, understood once, for answers on more than one surface.
    pub fn understood(&self) -> AllUnderstood<'_> {
        let axles = self.axles.iter();
        let all: Vec<_> = axles.map(|axle| self.understand(axle)).collect();
        let carried = |at: usize| Some(carried(&self.axles[at], all[at].as_ref().ok()?));
        let doubts = self.axles.iter().enumerate().map(|(at, axle)| {
            let other = self.counterpart(axle).and_then(carried);
            carried(at)?.doubt(other.as_ref())
        });
        AllUnderstood {
            rig: self,
            doubts: doubts.collect(),
            axles: all,
        }
    }

    #[inline]
    fn decide(
        &self,
        axle: &Axle,
        understood: &Result<Understood, Problem>,
        doubt: Option<Doubt>,
        surface: Surface,
    ) -> Result<Answer, Problem> {
        let band = self.band(surface).map_err(Problem::Band)?;
        let understood = understood.as_ref().map_err(Problem::clone)?;
        let mut answer = understood
            .axle
            .on(surface, band, self.setting, self.unit.step())
            .map_err(Problem::Refused)?;
        if let Some(doubt) = doubt.or_else(|| placard_doubt(axle, &answer)) {
            answer.cautions.insert(0, Caution::Doubted(doubt));
        }
        Ok(answer)
    }

    /// Whether an axle is the van's, and the van stays behind.
    pub fn leaves(&self, axle: &Axle) -> bool {
        self.coupling == Coupling::Unhitched && axle.place == Place::Trailer
    }

    /// The same for the drive ahead: of a van that stays behind there is none.
    ///
    /// # Errors
    /// [`Problem`]: why there is none.
    pub fn answer_ahead(
        &self,
        axle: &Axle,
        surface: Surface,
    ) -> Result<(Understood, Answer), Problem> {
        if self.leaves(axle) {
            return Err(Problem::LeftBehind);
        }
        self.answer_on(axle, surface)
    }

    /// The rig with its van on the ball.
    #[must_use]
    pub fn hitched(&self) -> Self {
        Self {
            coupling: Coupling::Hitched,
            ..self.clone()
        }
    }

    /// The tow vehicle's other axle, whose load this one's is held against.
    fn counterpart(&self, axle: &Axle) -> Option<usize> {
        let place = match axle.place {
            Place::Front => Place::Rear,
            Place::Rear => Place::Front,
            Place::Trailer => return None,
        };
        let mut axles = self.axles.iter().enumerate();
        let other =
            axles.find(|(index, other)| other.place == place && self.unusable_of(*index).is_none());
        other.map(|(index, _)| index)
    }
}

/// Whether the placard's pressure looks like a slip beside what the load needs.
fn placard_doubt(axle: &Axle, answer: &Answer) -> Option<Doubt> {
    let typed = axle.placard?.amount();
    let of = |number| Typed::of(Amount::new(number, typed.unit())).map(TypedPressure::quantity);
    // In the unit typed in, whose digits they are.
    let minimum = answer.sealed.load_minimum.get::<kilopascal>();
    let in_unit = minimum / of(1.0)?.get::<kilopascal>();
    let swapped = of(swapped_placard(typed.number(), in_unit)?)?;
    Some(Doubt::Placard { swapped })
}

/// How much of what its tyres carry an axle puts on them.
fn carried(axle: &Axle, understood: &Understood) -> Carried {
    let core = &understood.axle;
    Carried {
        position: match axle.place {
            Place::Front => Position::Front,
            Place::Rear => Position::Rear,
            Place::Trailer => Position::Trailer,
        },
        fitment: axle.group().fitment(),
        wheel_load: core.wheel_load,
        share: (core.wheel_load / core.capacity.reference_load_per_tyre()).value,
        strong: understood.tyre.standard == Standard::LightTruck
            && core.capacity.reference_pressure_cold() >= kpa(STRONG_FROM_KPA).quantity(),
    }
}

/// All axles of a rig, understood.
pub struct AllUnderstood<'a> {
    rig: &'a Rig,
    axles: Vec<Result<Understood, Problem>>,
    doubts: Vec<Option<Doubt>>,
}

impl AllUnderstood<'_> {
    /// The axle at `index` of the rig, where there is one.
    pub fn get(&self, index: usize) -> Option<&Result<Understood, Problem>> {
        self.axles.get(index)
    }

    /// The answer for the axle at `index`, as [`Rig::answer_on`] gives it; none
    /// where the rig has no such axle.
    pub fn on(&self, index: usize, surface: Surface) -> Option<Result<Answer, Problem>> {
        let (understood, doubt) = (self.axles.get(index)?, *self.doubts.get(index)?);
        let axle = self.rig.axles.get(index)?;
        Some(self.rig.decide(axle, understood, doubt, surface))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::typed::Measure;
    use crate::rig::typed::in_unit::kg;

    #[test]
    fn an_empty_rig_says_what_is_missing_first() {
        let mut rig = Rig::empty("mine", PressureUnit::Psi);
        let ask = |rig: &Rig| rig.answer(&rig.axles[0]).expect_err("no answer yet");
        assert_eq!(ask(&rig), Problem::Tyre(DesignationError::Empty));
        rig.axles[0].tyre = "LT265/75R16 123/120Q E".to_owned();
        assert_eq!(ask(&rig), Problem::Missing(Missing::Weighed));
        rig.axles[0].weighed = Some(kg(1300.0));
        assert!(rig.answer(&rig.axles[0]).is_ok());
        rig.axles[0].load_from = LoadFrom::Sides;
        assert_eq!(ask(&rig), Problem::Missing(Missing::Left));
    }

    /// By hand: with 180 kg off the ball, 30 kg more are on the front axle and
    /// 210 kg fewer on the rear one. Read hitched, the front axle's 1300 kg
    /// would have stood in, too few.
    #[test]
    fn a_vehicle_by_itself_has_masses_of_its_own() {
        let mut rig = Rig::empty("mine", PressureUnit::Psi);
        for axle in &mut rig.axles {
            axle.tyre = "LT265/75R16 123/120Q E".to_owned();
        }
        let [front, rear, van] = &mut rig.axles[..] else {
            unreachable!()
        };
        front.weighed = Some(kg(1300.0));
        rear.load_from = LoadFrom::Sides;
        (rear.left, rear.right) = (Some(kg(900.0)), Some(kg(840.0)));
        van.weighed = Some(kg(1800.0));
        let load = |rig: &Rig, index: usize| {
            let load = rig.wheel_load(&rig.axles[index]);
            load.map(|load| (load.get::<kilogram>() * 1e6).round() / 1e6)
        };
        assert_eq!(load(&rig, 0), Ok(715.0));
        assert_eq!(load(&rig, 1), Ok(900.0));
        rig.coupling = Coupling::Unhitched;
        for index in [0, 1] {
            let missing = Err(Problem::Missing(Missing::Alone));
            assert_eq!(load(&rig, index), missing);
        }
        rig.axles[0].alone = Some(kg(1330.0));
        rig.axles[1].alone = Some(kg(1530.0));
        assert_eq!(load(&rig, 0), Ok(731.5));
        // The left side is 60 kg heavier, whatever is on the ball.
        assert_eq!(load(&rig, 1), Ok(795.0));
        // What a plate allows holds in both states.
        rig.axles[0].load_from = LoadFrom::Rating;
        rig.axles[0].rating = Some(kg(1500.0));
        assert_eq!(load(&rig, 0), Ok(825.0));
        // The van stays behind; its entry does not hang on that.
        let ahead = |rig: &Rig| rig.answer_ahead(&rig.axles[2], Surface::Sealed);
        assert_eq!(ahead(&rig), Err(Problem::LeftBehind));
        assert!(rig.answer(&rig.axles[2]).is_ok());
        assert!(ahead(&rig.hitched()).is_ok());
        assert!(!rig.tows() && rig.hitched().tows());
        // What tows nothing has one state, whatever was picked before.
        let mut solo = rig.clone();
        solo.remove_axle(2);
        solo.axles[1].alone = None;
        assert_eq!(load(&solo, 1), Ok(900.0));
        assert!(!solo.hitched().tows());
        let again = section::again(&rig);
        assert_eq!(again.coupling, Coupling::Unhitched);
        assert_eq!(again.axles, rig.axles);
    }

    #[test]
    fn all_understood_answer_as_each_axle_does() {
        let mut rig = Rig::demo();
        rig.axles.push(Axle::empty(Place::Trailer));
        // Doubted beside the front axle.
        (rig.axles[1].left, rig.axles[1].right) = (Some(kg(500.0)), Some(kg(500.0)));
        let all = rig.understood();
        let mut doubted = 0;
        for surface in Surface::ALL {
            for (index, axle) in rig.axles.iter().enumerate() {
                let alone = rig.answer_on(axle, surface);
                let expected = alone.map(|(_, answer)| answer);
                doubted += usize::from(expected.as_ref().is_ok_and(|answer| {
                    matches!(answer.cautions.first(), Some(Caution::Doubted(_)))
                }));
                assert_eq!(all.on(index, surface), Some(expected));
            }
        }
        assert_eq!(doubted, Surface::ALL.len());
        assert!(all.on(4, Surface::Sealed).is_none() && all.get(4).is_none());
    }

    #[test]
    fn a_passenger_tyre_is_divided_on_a_trailer_whatever_tows() {
        let mut rig = Rig::empty("mine", PressureUnit::Psi);
        rig.tow_vehicle = Vehicle::PassengerCar;
        for axle in &mut rig.axles {
            axle.tyre = "P235/70R16 106T".to_owned();
            axle.weighed = Some(kg(1000.0));
        }
        let divided = |i: usize| {
            rig.understand(&rig.axles[i])
                .unwrap()
                .axle
                .capacity
                .passenger_divisor()
        };
        assert_eq!([divided(0), divided(1), divided(2)], [false, false, true]);
    }

    /// 63 psi typed for a placard of 36 passed in silence. Never refused: the
    /// placard may say so.
    #[test]
    fn a_placard_far_beyond_the_load_is_doubted_and_stands() {
        let mut rig = Rig::empty("mine", PressureUnit::Psi);
        rig.axles[0].tyre = "LT265/75R16 123/120Q E".to_owned();
        rig.axles[0].weighed = Some(kg(1310.0));
        let answer = |rig: &Rig| rig.answer(&rig.axles[0]).expect("an answer").1;
        let doubted = |answer: &Answer| match answer.cautions.first() {
            Some(Caution::Doubted(Doubt::Placard { swapped })) => {
                Some(swapped.get::<psi>().round())
            }
            _ => None,
        };
        for (placard, doubt) in [(63.0, Some(36.0)), (36.0, None), (65.0, None), (80.0, None)] {
            rig.axles[0].placard = Some(typed::in_unit::psi(placard));
            let answer = answer(&rig);
            assert_eq!(doubted(&answer), doubt, "{placard}");
            let given = answer.recommended.get::<psi>();
            assert!((given - placard).abs() < 1e-6, "{placard}");
        }
        rig.axles[0].placard = Some(typed::in_unit::bar(5.2));
        assert!(doubted(&answer(&rig)).is_some());
        // A mass that is doubted goes first.
        rig.axles[0].weighed = Some(kg(500.0));
        assert!(matches!(
            answer(&rig).cautions.first(),
            Some(Caution::Doubted(Doubt::Light { .. }))
        ));
    }

    /// A camper tyre got 365 kPa for 1,000 kg without a word, and the 5.5 bar
    /// that its vehicle's maker asks for on the rear axle was refused (5.5 bar,
    /// and 475 kPa on the sidewall: a handbook as an owners' forum quotes it).
    #[test]
    fn a_camper_tyre_off_the_front_needs_its_makers_figure() {
        let mut rig = Rig::empty("mine", PressureUnit::Bar);
        for axle in &mut rig.axles {
            axle.tyre = "225/75R16CP 116/114R".to_owned();
            axle.moulded_pressure = Some(kpa(475.0));
            axle.weighed = Some(kg(1800.0));
        }
        let ask = |rig: &Rig, index: usize| rig.answer(&rig.axles[index]).map(|(_, answer)| answer);
        assert!(ask(&rig, 0).is_ok());
        for index in [1, 2] {
            assert_eq!(
                ask(&rig, index),
                Err(Problem::Refused(Refusal::MakersFigureNeeded))
            );
        }
        // Too little for the load, it is no maker's figure either.
        rig.axles[1].own_sealed = Some(kpa(300.0));
        assert_eq!(
            ask(&rig, 1),
            Err(Problem::Refused(Refusal::MakersFigureNeeded))
        );
        rig.axles[1].own_sealed = None;
        rig.axles[1].placard = Some(kpa(550.0));
        assert!(matches!(
            ask(&rig, 1),
            Err(Problem::Refused(Refusal::WheelMaximumNeeded { .. }))
        ));
        rig.axles[1].wheel_maximum = Some(kpa(600.0));
        let bars = |answer: Answer| PressureUnit::Bar.number(answer.recommended);
        assert!((ask(&rig, 1).map(bars).expect("the placard's") - 5.5).abs() < 1e-9);
        rig.axles[1].wheel_maximum = Some(kpa(500.0));
        assert!(matches!(
            ask(&rig, 1),
            Err(Problem::Refused(Refusal::PlacardAboveMaximum { .. }))
        ));
        // In pairs they carry as commercial tyres do.
        rig.axles[2].dual = true;
        rig.axles[2].weighed = Some(kg(3400.0));
        assert!(ask(&rig, 2).is_ok());
    }

    /// The text of another axle's field would have stood in the wrong place.
    #[test]
    fn unusable_texts_follow_their_axle_and_their_unit() {
        let mut rig = Rig::demo();
        let ids: Vec<AxleId> = rig.axles.iter().map(|axle| axle.id).collect();
        let text = |of, field: &str, meant| Unusable {
            of,
            field: field.to_owned(),
            text: "900".to_owned(),
            meant,
            ..Unusable::default()
        };
        rig.unusable = vec![
            text(Owner::Axle(ids[0]), "placard", Some(Measure::Psi)),
            text(Owner::Axle(ids[2]), "weighed", Some(Measure::Kilogram)),
            text(Owner::Nothing, "now-air", None),
        ];
        let typed = &rig.unusable[0];
        assert_eq!(typed.shown_in(Some(Measure::Kilopascal)), "900 psi");
        assert_eq!(typed.shown_in(Some(Measure::Psi)), "900");
        assert_eq!(rig.unusable[1].shown_in(Some(Measure::Pound)), "900 kg");
        assert_eq!(
            rig.unusable_of(2).map(|text| text.field.as_str()),
            Some("weighed")
        );
        assert_eq!(rig.unusable_of(1), None);
        rig.remove_axle(0);
        assert_eq!(rig.unusable.len(), 2);
        assert_eq!(
            rig.unusable_of(1).map(|text| text.field.as_str()),
            Some("weighed")
        );
        // A new axle is none that was before.
        rig.remove_axle(1);
        rig.add_axle(Axle::empty(Place::Trailer));
        assert_eq!(rig.axles[1].id, AxleId(3));
        assert_eq!(rig.unusable_of(1), None);
        assert_eq!(section::again(&rig).unusable, rig.unusable);
    }

    #[test]
    fn a_number_that_could_not_be_entered_makes_a_rig_unsound() {
        let broken = |change: fn(&mut Rig)| {
            let mut rig = Rig::demo();
            change(&mut rig);
            assert!(!rig.is_sound());
        };
        assert!(Rig::demo().is_sound());
        broken(|rig| rig.axles[0].weighed = Some(kg(1e9)));
        broken(|rig| rig.axles[0].placard = Some(kpa(f64::NAN)));
        broken(|rig| rig.axles[1].left = Some(kg(-900.0)));
        broken(|rig| rig.axles[2].axles = 255);
        broken(|rig| rig.axles[2].axles = 0);
        broken(|rig| rig.axles[0].axles = 3);
        broken(|rig| rig.floor = kpa(0.0));
        broken(|rig| rig.slow_deflection = percent(35.0));
        broken(|rig| rig.slow_load_share = percent(40.0));
        broken(|rig| rig.axles.clear());
        broken(|rig| rig.axles[1].id = rig.axles[0].id);
        broken(|rig| rig.next_axle = 2);
        broken(|rig| {
            rig.bands.push(OwnBand {
                surface: Surface::Sand,
                low: percent(1.0),
                high: percent(50.0),
                speed: kmh(40.0),
                ..OwnBand::default()
            });
        });
    }

    #[test]
    fn an_own_band_replaces_practice_and_a_broken_one_is_said() {
        let mut rig = Rig::demo();
        rig.surface = Surface::Dirt;
        rig.bands.push(OwnBand {
            surface: Surface::Dirt,
            low: percent(70.0),
            high: percent(60.0),
            speed: kmh(80.0),
            ..OwnBand::default()
        });
        assert_eq!(
            rig.answer(&rig.axles[0]).err(),
            Some(Problem::Band(BandError::LowAboveHigh))
        );
        rig.bands[0].high = percent(90.0);
        let sealed = kpa(300.0).quantity();
        let middle = |rig: &Rig| rig.band(Surface::Dirt).unwrap().unwrap().middle(sealed);
        assert!((middle(&rig).get::<kilopascal>() - 240.0).abs() < 1e-9);
        // In pressures it no longer hangs on the sealed one.
        rig.bands[0].low_pressure = Some(kpa(180.0));
        rig.bands[0].high_pressure = Some(kpa(200.0));
        assert!((middle(&rig).get::<kilopascal>() - 190.0).abs() < 1e-9);
        rig.bands[0].low_pressure = Some(kpa(220.0));
        assert_eq!(rig.band(Surface::Dirt), Err(BandError::LowAboveHigh));
    }
}
