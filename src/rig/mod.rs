//! The rig profile: plain data in SI, checked on its way into [`crate::calc`].

pub mod air;
mod demo;
pub mod footprint;
pub mod nuts;
pub mod position;
pub mod record;
pub mod set_to;

use crate::calc::doubt::{Carried, Doubt, Position};
use crate::calc::footprint::TyreGeometry;
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::load::{AxleGroup, LoadSource};
use crate::calc::pressure::{self, Answer, Caution, FLOOR_KPA, Refusal};
use crate::calc::quantity::{
    GaugePressure, GaugeStep, Mass, Velocity, bar, kilogram, kilometer_per_hour, kilopascal, pound,
    psi,
};
use crate::calc::regime::SlowRule;
use crate::calc::surface::{Band, BandError};
use crate::calc::tyre::capacity::{Capacity, CapacityError, Fitment, Moulded};
use crate::calc::tyre::designation::{Construction, Designation, DesignationError, Standard};
use footprint::FootprintOf;
use serde::{Deserialize, Serialize};

/// The unit in which a rig's pressures are shown and typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
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

    /// The step of a gauge in this unit.
    pub fn step(self) -> GaugeStep {
        match self {
            Self::Psi => GaugeStep::one_psi(),
            Self::Kpa | Self::Bar => GaugeStep::five_kilopascals(),
        }
    }
}

/// The unit in which a rig's masses are shown and typed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
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

/// Stored names for the core's enums, so that renaming one there can't change
/// what a saved record means.
macro_rules! stored {
    ($name:ident for $core:path { $($variant:ident),+ $(,)? }) => {
        #[doc = concat!("[`", stringify!($core), "`] as stored.")]
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        pub enum $name {
            $(#[doc = concat!("As `", stringify!($variant), "` there.")] $variant,)+
        }

        impl From<$name> for $core {
            fn from(stored: $name) -> Self {
                match stored { $($name::$variant => Self::$variant,)+ }
            }
        }

        impl From<$core> for $name {
            fn from(core: $core) -> Self {
                match core { $(<$core>::$variant => Self::$variant,)+ }
            }
        }
    };
}

stored!(Surface for crate::calc::surface::Surface {
    Sealed, Gravel, Dirt, Corrugations, Rock, Mud, Sand, Bogged,
});
stored!(Setting for crate::calc::pressure::Setting { HoldToTables, Practice });
stored!(Vehicle for crate::calc::tyre::capacity::Vehicle { PassengerCar, Other });

/// Where an axle group stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// Front of the tow vehicle.
    Front,
    /// Rear of the tow vehicle.
    Rear,
    /// The trailer.
    Trailer,
}

/// Which of the known masses counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LoadFrom {
    /// Each side weighed.
    Sides,
    /// Weighed whole.
    Weighed,
    /// Its rating.
    Rating,
}

/// One axle group of a rig.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Axle {
    /// Where it stands.
    pub place: Place,
    /// Axles in the group.
    pub axles: u8,
    /// Whether four tyres stand across.
    pub dual: bool,
    /// Tyre designation as typed.
    pub tyre: String,
    /// Maximum load moulded, one tyre at each end.
    #[serde(with = "record::number::maybe", default)]
    pub moulded_load_kg: Option<f64>,
    /// Maximum load moulded, two at each end.
    #[serde(with = "record::number::maybe", default)]
    pub moulded_dual_load_kg: Option<f64>,
    /// Cold pressure moulded with the maximum load.
    #[serde(with = "record::number::maybe", default)]
    pub moulded_pressure_kpa: Option<f64>,
    /// Least pressure moulded or given by the tyre's maker.
    #[serde(with = "record::number::maybe", default)]
    pub moulded_minimum_kpa: Option<f64>,
    /// Cold pressure on the tyre placard.
    #[serde(with = "record::number::maybe", default)]
    pub placard_kpa: Option<f64>,
    /// The most that wheel or valve allow.
    #[serde(with = "record::number::maybe", default)]
    pub wheel_maximum_kpa: Option<f64>,
    /// The user's own cold pressure on sealed road.
    #[serde(with = "record::number::maybe", default)]
    pub own_sealed_kpa: Option<f64>,
    /// Which mass counts.
    pub load_from: LoadFrom,
    /// Left side weighed.
    #[serde(with = "record::number::maybe", default)]
    pub left_kg: Option<f64>,
    /// Right side weighed.
    #[serde(with = "record::number::maybe", default)]
    pub right_kg: Option<f64>,
    /// Group weighed whole.
    #[serde(with = "record::number::maybe", default)]
    pub weighed_kg: Option<f64>,
    /// Axle limit or GTM.
    #[serde(with = "record::number::maybe", default)]
    pub rating_kg: Option<f64>,
}

impl Axle {
    /// An axle of which nothing is known.
    pub fn empty(place: Place) -> Self {
        Self {
            place,
            axles: 1,
            dual: false,
            tyre: String::new(),
            moulded_load_kg: None,
            moulded_dual_load_kg: None,
            moulded_pressure_kpa: None,
            moulded_minimum_kpa: None,
            placard_kpa: None,
            wheel_maximum_kpa: None,
            own_sealed_kpa: None,
            load_from: LoadFrom::Weighed,
            left_kg: None,
            right_kg: None,
            weighed_kg: None,
            rating_kg: None,
        }
    }

    /// The numbers that were entered, with their fields.
    fn numbers(&self) -> impl Iterator<Item = (Field, f64)> {
        [
            (Field::ReferenceLoad, self.moulded_load_kg),
            (Field::ReferenceLoad, self.moulded_dual_load_kg),
            (Field::ReferencePressure, self.moulded_pressure_kpa),
            (Field::SidewallMinimum, self.moulded_minimum_kpa),
            (Field::PlacardPressure, self.placard_kpa),
            (Field::WheelMaximum, self.wheel_maximum_kpa),
            (Field::OwnSealedPressure, self.own_sealed_kpa),
            (Field::SideMass, self.left_kg),
            (Field::SideMass, self.right_kg),
            (Field::AxleMass, self.weighed_kg),
            (Field::AxleMass, self.rating_kg),
        ]
        .into_iter()
        .filter_map(|(field, value)| Some((field, value?)))
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

    fn load(&self) -> Result<LoadSource, Problem> {
        let mass = |kg: Option<f64>, missing| {
            kg.map(Mass::new::<kilogram>)
                .ok_or(Problem::Missing(missing))
        };
        Ok(match self.load_from {
            LoadFrom::Sides => LoadSource::Sides {
                left: mass(self.left_kg, Missing::Left)?,
                right: mass(self.right_kg, Missing::Right)?,
            },
            LoadFrom::Weighed => LoadSource::Weighed(mass(self.weighed_kg, Missing::Weighed)?),
            LoadFrom::Rating => LoadSource::Rating(mass(self.rating_kg, Missing::Rating)?),
        })
    }
}

/// A surface band that the user changed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OwnBand {
    /// Surface.
    pub surface: Surface,
    /// Low end, % of the sealed pressure.
    #[serde(with = "record::number")]
    pub low_percent: f64,
    /// High end, % of the sealed pressure.
    #[serde(with = "record::number")]
    pub high_percent: f64,
    /// Low end as a pressure; with the high one it stands in place of the shares.
    #[serde(with = "record::number::maybe", default)]
    pub low_kpa: Option<f64>,
    /// High end as a pressure.
    #[serde(with = "record::number::maybe", default)]
    pub high_kpa: Option<f64>,
    /// Speed limit.
    #[serde(with = "record::number")]
    pub speed_kmh: f64,
}

impl OwnBand {
    /// The numbers that were entered, with their fields.
    fn numbers(&self) -> impl Iterator<Item = (Field, f64)> {
        [
            (Field::BandShare, Some(self.low_percent)),
            (Field::BandShare, Some(self.high_percent)),
            (Field::BandPressure, self.low_kpa),
            (Field::BandPressure, self.high_kpa),
            (Field::BandSpeed, Some(self.speed_kmh)),
        ]
        .into_iter()
        .filter_map(|(field, value)| Some((field, value?)))
    }

    /// The core's band.
    fn band(&self) -> Result<Band, BandError> {
        let speed = Velocity::new::<kilometer_per_hour>(self.speed_kmh);
        match (self.low_kpa, self.high_kpa) {
            (Some(low), Some(high)) => {
                let p = GaugePressure::new::<kilopascal>;
                Band::in_pressures(p(low), p(high), speed)
            }
            _ => Band::new(self.low_percent, self.high_percent, speed),
        }
    }
}

/// The slow rule of rigs that were kept before it could be set.
fn usual_deflection() -> f64 {
    SlowRule::DEFLECTION_PERCENT
}

fn usual_load_share() -> f64 {
    SlowRule::LOAD_SHARE_PERCENT
}

/// A text in a field that could not be used, kept as typed: the value it was
/// to replace is not shown as current while it stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Unusable {
    /// The field.
    pub id: String,
    /// The axle that it belongs to, or [`FootprintOf::TYPED_IN`]; the whole
    /// rig where there is none.
    pub axle: Option<usize>,
    /// As typed.
    pub text: String,
    /// Whether it was meant as a pressure, in the rig's unit.
    pub pressure: bool,
    /// Whether it was meant as a mass, in the rig's unit.
    #[serde(default)]
    pub mass: bool,
}

/// The axle of a text on which no axle's pressure hangs. Within 32 bits, so
/// that a record means the same everywhere.
pub const NO_AXLE: usize = u32::MAX as usize;

/// The name of an axle's field.
pub fn axle_field(axle: usize, name: &str) -> String {
    format!("axle-{axle}-{name}")
}

/// A rig: a tow vehicle and its trailer as loaded now.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rig {
    /// What its owner calls it.
    pub name: String,
    /// Whether it is the invented example.
    pub demo: bool,
    /// Unit to show.
    pub unit: PressureUnit,
    /// Unit of masses to show.
    #[serde(default)]
    pub mass_unit: MassUnit,
    /// The surface picked last.
    pub surface: Surface,
    /// Tables or practice.
    pub setting: Setting,
    /// The slow rule's most deflection, % of section height.
    #[serde(with = "record::number", default = "usual_deflection")]
    pub slow_deflection_percent: f64,
    /// The slow rule's least share of the load minimum, %.
    #[serde(with = "record::number", default = "usual_load_share")]
    pub slow_load_share_percent: f64,
    /// Lowest pressure used anywhere.
    #[serde(with = "record::number")]
    pub floor_kpa: f64,
    /// Allowance for one wheel carrying more than its share.
    #[serde(with = "record::number")]
    pub uneven_load_percent: f64,
    /// What tows.
    pub tow_vehicle: Vehicle,
    /// Bands that differ from common practice.
    pub bands: Vec<OwnBand>,
    /// Axle groups, front first.
    pub axles: Vec<Axle>,
    /// Warm readings, pumping and leaks.
    #[serde(default)]
    pub air: air::Air,
    /// What the tyres are set to.
    #[serde(default)]
    pub set_to: set_to::SetTo,
    /// The wheel that the footprint is drawn of.
    #[serde(default)]
    pub footprint: FootprintOf,
    /// Texts that could not be used, one a field.
    #[serde(default)]
    pub unusable: Vec<Unusable>,
    /// Wheel nuts.
    #[serde(default)]
    pub nuts: nuts::Nuts,
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
}

/// Why an axle has no answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
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
            surface: Surface::Sealed,
            setting: Setting::HoldToTables,
            slow_deflection_percent: SlowRule::DEFLECTION_PERCENT,
            slow_load_share_percent: SlowRule::LOAD_SHARE_PERCENT,
            floor_kpa: FLOOR_KPA,
            uneven_load_percent: 10.0,
            tow_vehicle: Vehicle::Other,
            bands: Vec::new(),
            axles: [Place::Front, Place::Rear, Place::Trailer]
                .map(Axle::empty)
                .into(),
            air: air::Air::default(),
            set_to: set_to::SetTo::default(),
            footprint: FootprintOf::default(),
            unusable: Vec::new(),
            nuts: nuts::Nuts::default(),
        }
    }

    /// An empty rig in the units of another.
    pub fn another(name: &str, units: Units) -> Self {
        Self {
            mass_unit: units.mass,
            ..Self::empty(name, units.pressure)
        }
    }

    /// Whether every number is one that could have been entered. A record is
    /// neither written nor read otherwise.
    pub fn is_sound(&self) -> bool {
        let whole = [
            (Field::Floor, self.floor_kpa),
            (Field::UnevenLoad, self.uneven_load_percent),
            (Field::SlowDeflection, self.slow_deflection_percent),
            (Field::SlowLoadShare, self.slow_load_share_percent),
        ];
        let bands = self.bands.iter().flat_map(OwnBand::numbers);
        let axles = self.axles.iter().flat_map(Axle::numbers);
        (1..=Self::MOST_AXLES).contains(&self.axles.len())
            && self.axles.iter().all(Axle::has_sound_group)
            && self.nuts.is_sound()
            && self.air.is_sound()
            && self.set_to.is_sound()
            && whole
                .into_iter()
                .chain(bands)
                .chain(axles)
                .chain(self.footprint.numbers())
                .chain(self.set_to.numbers())
                .all(|(field, value)| {
                    // Written with nine decimals, an end may come back beside itself.
                    [1.0, 1.0 - 1e-9, 1.0 + 1e-9]
                        .into_iter()
                        .any(|beside| field.check(value * beside).is_ok())
                })
    }

    /// Forgets an axle and what was typed for it.
    pub fn remove_axle(&mut self, index: usize) {
        if index >= self.axles.len() || self.axles.len() == 1 {
            return;
        }
        self.axles.remove(index);
        self.air.axle_removed(index);
        self.set_to.axle_removed(index);
        self.unusable.retain(|text| text.axle != Some(index));
        for text in &mut self.unusable {
            if let Some(of) = text.axle
                && (index + 1..FootprintOf::TYPED_IN).contains(&of)
            {
                // `axle-2-tyre` becomes `axle-1-tyre`.
                let name = text.id.splitn(3, '-').nth(2).unwrap_or_default();
                text.id = axle_field(of - 1, name);
                text.axle = Some(of - 1);
            }
        }
    }

    /// The units in which it is shown and typed.
    pub fn units(&self) -> Units {
        Units {
            pressure: self.unit,
            mass: self.mass_unit,
        }
    }

    /// Shows another unit. A bare number that was typed as a pressure and
    /// could not be used stays what it was meant to be.
    pub fn show_unit(&mut self, unit: PressureUnit, mark: &str) {
        self.mark_unusable(|text| text.pressure, mark);
        self.unit = unit;
    }

    /// Shows masses in another unit, as [`Self::show_unit`] does pressures.
    pub fn show_mass_unit(&mut self, unit: MassUnit, mark: &str) {
        self.mark_unusable(|text| text.mass, mark);
        self.mass_unit = unit;
    }

    fn mark_unusable(&mut self, which: fn(&Unusable) -> bool, mark: &str) {
        for text in self.unusable.iter_mut().filter(|text| which(text)) {
            if text.text.ends_with(|c: char| c.is_ascii_digit()) {
                text.text = format!("{} {mark}", text.text);
            }
        }
    }

    /// Whether a field whose name begins so holds a text that can't be used.
    pub fn is_unusable(&self, prefix: &str) -> bool {
        self.unusable.iter().any(|text| text.id.starts_with(prefix))
    }

    /// The first text that can't be used and that an axle's figures hang on.
    pub fn unusable_of(&self, axle: usize) -> Option<&Unusable> {
        self.unusable
            .iter()
            .find(|text| text.axle.is_none_or(|of| of == axle))
    }

    /// Whether anything is towed.
    pub fn has_trailer(&self) -> bool {
        self.axles.iter().any(|axle| axle.place == Place::Trailer)
    }

    /// Whether the band for `surface` is the rig's own.
    pub fn has_own_band(&self, surface: Surface) -> bool {
        self.bands.iter().any(|band| band.surface == surface)
    }

    /// Keeps one pressure as the rig's own band for a surface, at the speed
    /// that its band has now. Nothing on sealed road, which has no band.
    pub fn keep_as_band(&mut self, surface: Surface, own: GaugePressure) {
        let Ok(Some(band)) = self.band(surface) else {
            return;
        };
        let kept = self.bands.iter().find(|kept| kept.surface == surface);
        let practice = crate::calc::surface::Surface::from(surface).band();
        let shares = match (kept, practice.and_then(|band| band.shares())) {
            (Some(kept), _) => (kept.low_percent, kept.high_percent),
            (None, Some((low, high))) => (low * 100.0, high * 100.0),
            (None, None) => return,
        };
        let kpa = Some(own.get::<kilopascal>());
        let kept = OwnBand {
            surface,
            low_percent: shares.0,
            high_percent: shares.1,
            low_kpa: kpa,
            high_kpa: kpa,
            speed_kmh: band.speed().get::<kilometer_per_hour>(),
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
            _ => Ok(crate::calc::surface::Surface::from(surface).band()),
        }
    }

    /// The load on the most heavily loaded tyre of an axle.
    ///
    /// # Errors
    /// [`Problem`] where a mass is missing or out of range.
    pub fn wheel_load(&self, axle: &Axle) -> Result<Mass, Problem> {
        Ok(axle
            .load()?
            .wheel_load(axle.group(), self.uneven_load_percent)?)
    }

    /// What the slow rule counts with.
    ///
    /// # Errors
    /// [`OutOfRange`] for a stored number outside its limits.
    pub fn slow_rule(&self) -> Result<SlowRule, OutOfRange> {
        SlowRule::new(self.slow_deflection_percent, self.slow_load_share_percent)
    }

    /// One of this rig's axles as the core sees it.
    ///
    /// # Errors
    /// [`Problem`]: what is missing, not understood or out of range.
    pub fn understand(&self, axle: &Axle) -> Result<Understood, Problem> {
        let tyre = Designation::parse(&axle.tyre).map_err(Problem::Tyre)?;
        let mass = |kg: Option<f64>| kg.map(Mass::new::<kilogram>);
        let pressure = |kpa: Option<f64>| kpa.map(GaugePressure::new::<kilopascal>);
        let moulded = Moulded {
            load_single: mass(axle.moulded_load_kg),
            load_dual: mass(axle.moulded_dual_load_kg),
            pressure: pressure(axle.moulded_pressure_kpa),
            minimum: pressure(axle.moulded_minimum_kpa),
        };
        let vehicle = match axle.place {
            Place::Trailer => Vehicle::Other,
            Place::Front | Place::Rear => self.tow_vehicle,
        };
        let group = axle.group();
        let capacity = Capacity::new(&tyre, &moulded, group.fitment(), vehicle.into())
            .map_err(Problem::Capacity)?;
        let wheel_load = self.wheel_load(axle)?;
        let needs_makers_figure = capacity.is_camper() && axle.place != Place::Front && !axle.dual;
        let axle = pressure::Axle {
            capacity,
            wheel_load,
            tyres: group.tyres(),
            placard: pressure(axle.placard_kpa),
            wheel_maximum: pressure(axle.wheel_maximum_kpa),
            own_sealed: pressure(axle.own_sealed_kpa),
            floor: GaugePressure::new::<kilopascal>(self.floor_kpa),
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
        let band = self.band(surface).map_err(Problem::Band)?;
        let understood = self.understand(axle)?;
        let mut answer = understood
            .axle
            .on(surface.into(), band, self.setting.into(), self.unit.step())
            .map_err(Problem::Refused)?;
        if let Some(doubt) = self.doubt(axle, &understood) {
            answer.cautions.insert(0, Caution::Doubted(doubt));
        }
        Ok((understood, answer))
    }

    /// Whether the mass of an axle is doubted, by itself and beside the tow
    /// vehicle's other axle.
    fn doubt(&self, axle: &Axle, understood: &Understood) -> Option<Doubt> {
        let carried = |axle: &Axle, understood: &Understood| {
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
                    && core.capacity.reference_pressure_cold()
                        >= GaugePressure::new::<kilopascal>(STRONG_FROM_KPA),
            }
        };
        let counterpart = match axle.place {
            Place::Front => Some(Place::Rear),
            Place::Rear => Some(Place::Front),
            Place::Trailer => None,
        };
        let mut axles = self.axles.iter().enumerate();
        let other = axles.find(|(index, other)| {
            Some(other.place) == counterpart && self.unusable_of(*index).is_none()
        });
        let other =
            other.and_then(|(_, other)| Some(carried(other, &self.understand(other).ok()?)));
        carried(axle, understood).doubt(other.as_ref())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_rig_says_what_is_missing_first() {
        let mut rig = Rig::empty("mine", PressureUnit::Psi);
        let ask = |rig: &Rig| rig.answer(&rig.axles[0]).expect_err("no answer yet");
        assert_eq!(ask(&rig), Problem::Tyre(DesignationError::Empty));
        rig.axles[0].tyre = "LT265/75R16 123/120Q E".to_owned();
        assert_eq!(ask(&rig), Problem::Missing(Missing::Weighed));
        rig.axles[0].weighed_kg = Some(1300.0);
        assert!(rig.answer(&rig.axles[0]).is_ok());
        rig.axles[0].load_from = LoadFrom::Sides;
        assert_eq!(ask(&rig), Problem::Missing(Missing::Left));
    }

    #[test]
    fn a_passenger_tyre_is_divided_on_a_trailer_whatever_tows() {
        let mut rig = Rig::empty("mine", PressureUnit::Psi);
        rig.tow_vehicle = Vehicle::PassengerCar;
        for axle in &mut rig.axles {
            axle.tyre = "P235/70R16 106T".to_owned();
            axle.weighed_kg = Some(1000.0);
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

    /// A camper tyre got 365 kPa for 1,000 kg without a word, and the 5.5 bar
    /// that its vehicle's maker asks for on the rear axle was refused (5.5 bar,
    /// and 475 kPa on the sidewall: a handbook as an owners' forum quotes it).
    #[test]
    fn a_camper_tyre_off_the_front_needs_its_makers_figure() {
        let mut rig = Rig::empty("mine", PressureUnit::Bar);
        for axle in &mut rig.axles {
            axle.tyre = "225/75R16CP 116/114R".to_owned();
            axle.moulded_pressure_kpa = Some(475.0);
            axle.weighed_kg = Some(1800.0);
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
        rig.axles[1].own_sealed_kpa = Some(300.0);
        assert_eq!(
            ask(&rig, 1),
            Err(Problem::Refused(Refusal::MakersFigureNeeded))
        );
        rig.axles[1].own_sealed_kpa = None;
        rig.axles[1].placard_kpa = Some(550.0);
        assert!(matches!(
            ask(&rig, 1),
            Err(Problem::Refused(Refusal::WheelMaximumNeeded { .. }))
        ));
        rig.axles[1].wheel_maximum_kpa = Some(600.0);
        let bars = |answer: Answer| PressureUnit::Bar.number(answer.recommended);
        assert!((ask(&rig, 1).map(bars).expect("the placard's") - 5.5).abs() < 1e-9);
        rig.axles[1].wheel_maximum_kpa = Some(500.0);
        assert!(matches!(
            ask(&rig, 1),
            Err(Problem::Refused(Refusal::PlacardAboveMaximum { .. }))
        ));
        // In pairs they carry as commercial tyres do.
        rig.axles[2].dual = true;
        rig.axles[2].weighed_kg = Some(3400.0);
        assert!(ask(&rig, 2).is_ok());
    }

    /// The text of another axle's field would have stood in the wrong place.
    #[test]
    fn unusable_texts_follow_their_axle_and_their_unit() {
        let mut rig = Rig::demo();
        rig.unusable = [(0, "axle-0-placard", true), (2, "axle-2-weighed", false)]
            .map(|(axle, id, pressure)| Unusable {
                id: id.to_owned(),
                axle: Some(axle),
                text: "900".to_owned(),
                pressure,
                mass: !pressure,
            })
            .into();
        rig.show_unit(PressureUnit::Kpa, "psi");
        assert_eq!(rig.unusable[0].text, "900 psi");
        assert_eq!(rig.unusable[1].text, "900");
        rig.show_mass_unit(MassUnit::Pound, "kg");
        assert_eq!(rig.unusable[0].text, "900 psi");
        assert_eq!(rig.unusable[1].text, "900 kg");
        rig.unusable.push(Unusable {
            id: "footprint-load".to_owned(),
            axle: Some(FootprintOf::TYPED_IN),
            text: "heavy".to_owned(),
            pressure: false,
            mass: true,
        });
        rig.remove_axle(0);
        // The footprint's wheel typed in is none of the axles.
        let typed_in = rig.unusable.pop().expect("a text");
        assert_eq!(
            (typed_in.id.as_str(), typed_in.axle),
            ("footprint-load", Some(FootprintOf::TYPED_IN))
        );
        assert_eq!(rig.unusable.len(), 1);
        assert_eq!(
            (rig.unusable[0].id.as_str(), rig.unusable[0].axle),
            ("axle-1-weighed", Some(1))
        );
    }

    #[test]
    fn a_number_that_could_not_be_entered_makes_a_rig_unsound() {
        let broken = |change: fn(&mut Rig)| {
            let mut rig = Rig::demo();
            change(&mut rig);
            assert!(!rig.is_sound());
        };
        assert!(Rig::demo().is_sound());
        broken(|rig| rig.axles[0].weighed_kg = Some(1e9));
        broken(|rig| rig.axles[0].placard_kpa = Some(f64::NAN));
        broken(|rig| rig.air.set(air::Key::WarmKpa, Some(f64::NAN)));
        broken(|rig| rig.air.set(air::Key::WarmDay, Some(1e9)));
        broken(|rig| rig.axles[1].left_kg = Some(-900.0));
        broken(|rig| rig.axles[2].axles = 255);
        broken(|rig| rig.axles[2].axles = 0);
        broken(|rig| rig.axles[0].axles = 3);
        broken(|rig| rig.floor_kpa = 0.0);
        broken(|rig| rig.slow_deflection_percent = 35.0);
        broken(|rig| rig.slow_load_share_percent = 40.0);
        broken(|rig| rig.footprint.load_kg = Some(f64::INFINITY));
        broken(|rig| rig.footprint.sealed_kpa = Some(32.0));
        broken(|rig| rig.axles.clear());
        broken(|rig| {
            rig.bands.push(OwnBand {
                surface: Surface::Sand,
                low_percent: 1.0,
                high_percent: 50.0,
                low_kpa: None,
                high_kpa: None,
                speed_kmh: 40.0,
            });
        });
    }

    #[test]
    fn an_own_band_replaces_practice_and_a_broken_one_is_said() {
        let mut rig = Rig::demo();
        rig.surface = Surface::Dirt;
        rig.bands.push(OwnBand {
            surface: Surface::Dirt,
            low_percent: 70.0,
            high_percent: 60.0,
            low_kpa: None,
            high_kpa: None,
            speed_kmh: 80.0,
        });
        assert_eq!(
            rig.answer(&rig.axles[0]).err(),
            Some(Problem::Band(BandError::LowAboveHigh))
        );
        rig.bands[0].high_percent = 90.0;
        let sealed = GaugePressure::new::<kilopascal>(300.0);
        let middle = |rig: &Rig| rig.band(Surface::Dirt).unwrap().unwrap().middle(sealed);
        assert!((middle(&rig).get::<kilopascal>() - 240.0).abs() < 1e-9);
        // In pressures it no longer hangs on the sealed one.
        (rig.bands[0].low_kpa, rig.bands[0].high_kpa) = (Some(180.0), Some(200.0));
        assert!((middle(&rig).get::<kilopascal>() - 190.0).abs() < 1e-9);
        rig.bands[0].low_kpa = Some(220.0);
        assert_eq!(rig.band(Surface::Dirt), Err(BandError::LowAboveHigh));
    }
}
