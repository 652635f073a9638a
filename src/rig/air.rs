//! What the air view keeps with a rig, and its way into [`crate::calc`].
//!
//! Moments are milliseconds since 1970, as the browser's clock counts them.

use super::{Rig, Surface, record};
use crate::calc::air::atmosphere::Height;
use crate::calc::air::leak::LeakReading;
use crate::calc::air::warm::{
    ColdSetting, Surroundings, WarmAir, WarmCheck, WarmError, warm_check,
};
use crate::calc::air::{AmbientTemperature, TyreTemperature};
use crate::calc::inflation::compressor::{Compressor, DutyCycle, FlowPoint, PumpRemark};
use crate::calc::inflation::deflator::{Deflator, Fall};
use crate::calc::inflation::space::{Section, SectionHeight};
use crate::calc::inflation::{Fill, InflationError, Site};
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{
    GaugePressure, Length, Span, TemperatureInterval, Time, Volume, VolumeRate, inch,
    kelvin_interval, kilopascal, liter, liter_per_minute, minute, second,
};
use crate::calc::tyre::designation::{Designation, Size};
use serde::{Deserialize, Serialize};

/// What the air view keeps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Air {
    /// Height where the cold pressures were set.
    #[serde(with = "record::number::maybe")]
    pub set_height_m: Option<f64>,
    /// Temperature of the air around there and then.
    #[serde(with = "record::number::maybe")]
    pub set_celsius: Option<f64>,
    /// Height now.
    #[serde(with = "record::number::maybe")]
    pub now_height_m: Option<f64>,
    /// Temperature of the air around now.
    #[serde(with = "record::number::maybe")]
    pub now_celsius: Option<f64>,
    /// The axle whose tyre was read warm.
    pub warm_axle: u8,
    /// Whether its temperature counts instead of its pressures.
    pub warm_by_temperature: bool,
    /// The warm reading.
    #[serde(with = "record::number::maybe")]
    pub warm_kpa: Option<f64>,
    /// The same tyre's cold pressure; the axle's sealed-road one where none
    /// is given.
    #[serde(with = "record::number::maybe")]
    pub warm_cold_kpa: Option<f64>,
    /// The temperature of the air in that tyre.
    #[serde(with = "record::number::maybe")]
    pub tyre_celsius: Option<f64>,
    /// When the reading or the temperature was entered.
    pub warm_ms: Option<u64>,
    /// Time driven before the reading.
    #[serde(with = "record::number::maybe")]
    pub driven_min: Option<f64>,
    /// The surface that a trip starts from.
    pub from: Surface,
    /// The surface that it goes to.
    pub to: Surface,
    /// The compressor's stated flows, three at most.
    pub flows: Vec<Flow>,
    /// Longest run of the compressor.
    #[serde(with = "record::number::maybe")]
    pub duty_run_min: Option<f64>,
    /// Its rest after that.
    #[serde(with = "record::number::maybe")]
    pub duty_rest_min: Option<f64>,
    /// Highest pressure that it is made for.
    #[serde(with = "record::number::maybe")]
    pub pump_maximum_kpa: Option<f64>,
    /// Time from one valve to the next.
    #[serde(with = "record::number::maybe")]
    pub change_over_s: Option<f64>,
    /// One tyre pumped up by the stopwatch.
    pub pump_timing: Timing,
    /// The deflator's stated flow.
    pub outflow: Flow,
    /// One tyre let down by the stopwatch.
    pub out_timing: Timing,
    /// Air spaces that were typed in.
    pub spaces: Vec<Space>,
    /// The walk from tyre to tyre that is under way.
    pub walk: Option<Walk>,
    /// Walks finished, latest last.
    pub done: Vec<Done>,
    /// Cold readings, in the order they were entered.
    pub readings: Vec<Reading>,
}

impl Default for Air {
    fn default() -> Self {
        Self {
            set_height_m: None,
            set_celsius: None,
            now_height_m: None,
            now_celsius: None,
            warm_axle: 0,
            warm_by_temperature: false,
            warm_kpa: None,
            warm_cold_kpa: None,
            tyre_celsius: None,
            warm_ms: None,
            driven_min: None,
            from: Surface::Sealed,
            to: Surface::Dirt,
            flows: Vec::new(),
            duty_run_min: None,
            duty_rest_min: None,
            pump_maximum_kpa: None,
            change_over_s: None,
            pump_timing: Timing::default(),
            outflow: Flow::default(),
            out_timing: Timing::default(),
            spaces: Vec::new(),
            walk: None,
            done: Vec::new(),
            readings: Vec::new(),
        }
    }
}

/// Free air in a minute at a gauge pressure.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Flow {
    /// The pressure.
    #[serde(with = "record::number::maybe")]
    pub at_kpa: Option<f64>,
    /// The flow.
    #[serde(with = "record::number::maybe")]
    pub litres_per_min: Option<f64>,
}

/// One tyre timed.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Timing {
    /// Its axle.
    pub axle: u8,
    /// Reading at the start.
    #[serde(with = "record::number::maybe")]
    pub from_kpa: Option<f64>,
    /// Reading at the end.
    #[serde(with = "record::number::maybe")]
    pub to_kpa: Option<f64>,
    /// What the stopwatch said.
    #[serde(with = "record::number::maybe")]
    pub seconds: Option<f64>,
    /// When the stopwatch was started, while it runs.
    pub started_ms: Option<u64>,
}

/// An axle's air space, one tyre.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Space {
    /// The axle.
    pub axle: u8,
    /// Its tyres' air space.
    #[serde(with = "record::number")]
    pub litres: f64,
}

/// A walk from tyre to tyre. What to reach at each follows from the rig.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Walk {
    /// The surface whose pressures the tyres have.
    pub from: Surface,
    /// The surface whose pressures they get.
    pub to: Surface,
    /// Tyres finished.
    pub tyres_done: u16,
    /// When the present tyre was started, while air moves.
    pub started_ms: Option<u64>,
    /// Time that air moved before, in this tyre.
    pub tyre_ms: u64,
    /// The same in all tyres before this one.
    pub walk_ms: u64,
    /// How much of the whole the compressor had behind it when it last rested.
    pub rested_ms: u64,
}

/// A finished walk.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Done {
    /// When it ended.
    pub at_ms: u64,
    /// The surface whose pressures the tyres had.
    pub from: Surface,
    /// The surface whose pressures they got.
    pub to: Surface,
    /// How many.
    pub tyres: u16,
    /// Time that air moved.
    pub air_ms: u64,
}

/// A cold reading of one tyre.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// The axle.
    pub axle: u8,
    /// The tyre on it, from 0.
    pub tyre: u8,
    /// When.
    pub at_ms: u64,
    /// What the gauge showed.
    #[serde(with = "record::number")]
    pub kpa: f64,
    /// The gauge's step.
    #[serde(with = "record::number")]
    pub step_kpa: f64,
    /// Temperature of the air around.
    #[serde(with = "record::number")]
    pub celsius: f64,
    /// How far that may be off.
    #[serde(with = "record::number")]
    pub within_kelvin: f64,
    /// Height.
    #[serde(with = "record::number")]
    pub height_m: f64,
}

/// How long a warm reading counts, in minutes. Our choice: a standing tyre
/// cools, so that a figure too old asks for too much air, not too little.
pub const WARM_COUNTS_MINUTES: u64 = 30;

/// The temperature around where none was given.
pub const USUAL_CELSIUS: f64 = 20.0;

/// From least to most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Between {
    /// The least.
    pub low: Time,
    /// The most.
    pub high: Time,
}

impl Between {
    /// No time.
    pub fn none() -> Self {
        let none = Time::new::<second>(0.0);
        Self {
            low: none,
            high: none,
        }
    }

    /// Of two times in any order: where a typed air space meets a timing on an
    /// estimated one, the least air makes the longest time.
    fn of(a: Time, b: Time) -> Self {
        let (low, high) = if b < a { (b, a) } else { (a, b) };
        Self { low, high }
    }

    fn plus(self, other: Self) -> Self {
        Self {
            low: self.low + other.low,
            high: self.high + other.high,
        }
    }

    fn times(self, count: f64) -> Self {
        Self {
            low: self.low * count,
            high: self.high * count,
        }
    }
}

/// Why an axle has no time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoTime {
    /// One of its two pressures is not known.
    NoPressure,
    /// Its tyre's size is not known, and no air space was typed in.
    NoSize,
    /// Nothing is known of the compressor.
    NoCompressor,
    /// Nothing is known of the deflator.
    NoDeflator,
    /// The figures don't go together.
    Refused(InflationError),
}

impl From<InflationError> for NoTime {
    fn from(error: InflationError) -> Self {
        Self::Refused(error)
    }
}

impl From<OutOfRange> for NoTime {
    fn from(error: OutOfRange) -> Self {
        Self::Refused(error.into())
    }
}

/// What one axle's tyres go through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// The reading to start from.
    pub from: GaugePressure,
    /// The reading to reach.
    pub to: GaugePressure,
    /// How many tyres.
    pub tyres: u8,
}

impl Move {
    /// Whether air goes in.
    pub fn is_up(&self) -> bool {
        self.to > self.from
    }
}

/// The times of one axle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleTimes {
    /// One tyre, air moving.
    pub tyre: Between,
    /// All its tyres, from valve to valve, with pauses.
    pub axle: Between,
}

/// The times of a whole move.
#[derive(Debug, Clone, PartialEq)]
pub struct Times {
    /// Axle by axle.
    pub axles: Vec<Result<AxleTimes, NoTime>>,
    /// All of them, where every axle has a time.
    pub total: Option<Between>,
    /// The compressor's pauses within it.
    pub pauses: Between,
    /// What the pumping times rest on.
    pub remarks: Vec<PumpRemark>,
}

/// One end of a range: which air space, and how much of the printed flow.
#[derive(Clone, Copy)]
enum End {
    Fast,
    Slow,
}

/// Small pumps give from half to all of what is printed on them (common
/// practice, no source).
const LEAST_OF_PRINTED_FLOW: f64 = 0.5;

impl End {
    fn of(self, space: Span<Volume>) -> Volume {
        match self {
            Self::Fast => space.low,
            Self::Slow => space.high,
        }
    }
}

fn pressure(kpa: f64) -> GaugePressure {
    GaugePressure::new::<kilopascal>(kpa)
}

fn surroundings(height: Option<f64>, celsius: Option<f64>) -> Result<Surroundings, OutOfRange> {
    Ok(Surroundings {
        height: height.map(Height::metres).transpose()?,
        temperature: celsius.map(AmbientTemperature::celsius).transpose()?,
    })
}

impl Timing {
    /// Start, end and time, once all three are there.
    fn whole(&self) -> Option<(GaugePressure, GaugePressure, Time)> {
        Some((
            pressure(self.from_kpa?),
            pressure(self.to_kpa?),
            Time::new::<second>(self.seconds?),
        ))
    }
}

impl Air {
    /// Most readings kept.
    pub const MOST_READINGS: usize = 200;
    /// Most finished walks kept.
    pub const MOST_DONE: usize = 20;
    /// Most stated flows.
    pub const MOST_FLOWS: usize = 3;

    /// Whether any timing counts for pumping up.
    pub fn pump_is_timed(&self) -> bool {
        self.pump_timing.whole().is_some()
    }

    /// The stated flow of that number, made if there is none.
    pub fn flow(&mut self, index: usize) -> &mut Flow {
        let index = index.min(Self::MOST_FLOWS - 1);
        if self.flows.len() <= index {
            self.flows.resize(index + 1, Flow::default());
        }
        &mut self.flows[index]
    }

    /// Forgets a warm reading.
    pub fn forget_warm(&mut self) {
        self.warm_kpa = None;
        self.warm_cold_kpa = None;
        self.tyre_celsius = None;
        self.warm_ms = None;
    }

    /// Whether a warm reading of `taken_ms` still counts at `now_ms`.
    pub fn warm_counts(taken_ms: u64, now_ms: u64) -> bool {
        // A clock that was set back makes the age unknown.
        now_ms
            .checked_sub(taken_ms)
            .is_some_and(|age| age <= WARM_COUNTS_MINUTES * 60_000)
    }

    /// Follows the removal of an axle.
    pub fn axle_removed(&mut self, index: usize) {
        let moved = |axle: u8| -> Option<u8> {
            match usize::from(axle).cmp(&index) {
                std::cmp::Ordering::Less => Some(axle),
                std::cmp::Ordering::Equal => None,
                std::cmp::Ordering::Greater => Some(axle - 1),
            }
        };
        match moved(self.warm_axle) {
            Some(axle) => self.warm_axle = axle,
            None => {
                self.warm_axle = 0;
                self.forget_warm();
            }
        }
        for timing in [&mut self.pump_timing, &mut self.out_timing] {
            match moved(timing.axle) {
                Some(axle) => timing.axle = axle,
                None => *timing = Timing::default(),
            }
        }
        self.spaces.retain_mut(|space| {
            let axle = moved(space.axle);
            space.axle = axle.unwrap_or_default();
            axle.is_some()
        });
        self.readings.retain_mut(|reading| {
            let axle = moved(reading.axle);
            reading.axle = axle.unwrap_or_default();
            axle.is_some()
        });
        // Its count of tyres done no longer fits.
        self.walk = None;
    }

    fn now(&self) -> Result<Surroundings, OutOfRange> {
        surroundings(self.now_height_m, self.now_celsius)
    }

    fn site(&self) -> Result<Site, OutOfRange> {
        Ok(Site {
            height: Height::metres(self.now_height_m.unwrap_or(0.0))?,
            temperature: AmbientTemperature::celsius(self.now_celsius.unwrap_or(USUAL_CELSIUS))?,
        })
    }

    /// How warm the tyres' air is by the warm reading; nothing where there is
    /// none. `sealed` stands for a cold pressure that was not given.
    ///
    /// # Errors
    /// [`WarmError`].
    pub fn warm(
        &self,
        sealed: Option<GaugePressure>,
        step: crate::calc::quantity::GaugeStep,
    ) -> Result<Option<WarmAir>, WarmError> {
        let now = self.now()?;
        if self.warm_by_temperature {
            return self
                .tyre_celsius
                .map(|celsius| WarmAir::from_temperature(TyreTemperature::celsius(celsius)?, &now))
                .transpose();
        }
        let cold = self.warm_cold_kpa.map(pressure).or(sealed);
        let (Some(reading), Some(cold)) = (self.warm_kpa, cold) else {
            return Ok(None);
        };
        let set = self.cold_setting(cold)?;
        WarmAir::from_reading(pressure(reading), &set, &now, step).map(Some)
    }

    fn cold_setting(&self, pressure: GaugePressure) -> Result<ColdSetting, OutOfRange> {
        Ok(ColdSetting {
            pressure,
            at: surroundings(self.set_height_m, self.set_celsius)?,
        })
    }

    /// What the rise of the warm reading says; nothing while one of its
    /// figures is missing.
    ///
    /// # Errors
    /// [`WarmError`].
    pub fn check(
        &self,
        sealed: Option<GaugePressure>,
        step: crate::calc::quantity::GaugeStep,
    ) -> Result<Option<WarmCheck>, WarmError> {
        let cold = self.warm_cold_kpa.map(pressure).or(sealed);
        let (Some(reading), Some(cold), Some(driven)) = (self.warm_kpa, cold, self.driven_min)
        else {
            return Ok(None);
        };
        warm_check(
            pressure(reading),
            &self.cold_setting(cold)?,
            &self.now()?,
            step,
            Time::new::<minute>(driven),
        )
        .map(Some)
    }

    /// The readings of one tyre, for a line through them.
    ///
    /// # Errors
    /// [`OutOfRange`] for a stored temperature or height.
    pub fn leak_readings(&self, axle: u8, tyre: u8) -> Result<Vec<LeakReading>, OutOfRange> {
        let mine = |reading: &&Reading| reading.axle == axle && reading.tyre == tyre;
        let first = self.first_reading_ms(axle, tyre).unwrap_or_default();
        self.readings
            .iter()
            .filter(mine)
            .map(|reading| {
                let ms = reading.at_ms.saturating_sub(first);
                Ok(LeakReading {
                    at: Time::new::<second>(ms as f64 / 1000.0),
                    pressure: pressure(reading.kpa),
                    resolution: pressure(reading.step_kpa),
                    temperature: AmbientTemperature::celsius(reading.celsius)?,
                    temperature_within: TemperatureInterval::new::<kelvin_interval>(
                        reading.within_kelvin,
                    ),
                    height: Height::metres(reading.height_m)?,
                })
            })
            .collect()
    }

    /// The moment from which the times of [`Self::leak_readings`] count.
    pub fn first_reading_ms(&self, axle: u8, tyre: u8) -> Option<u64> {
        self.readings
            .iter()
            .filter(|reading| reading.axle == axle && reading.tyre == tyre)
            .map(|reading| reading.at_ms)
            .min()
    }

    fn duty(&self) -> Result<Option<DutyCycle>, OutOfRange> {
        match (self.duty_run_min, self.duty_rest_min) {
            (Some(run), Some(rest)) => {
                DutyCycle::new(Time::new::<minute>(run), Time::new::<minute>(rest)).map(Some)
            }
            _ => Ok(None),
        }
    }
}

fn section(tyre: &Designation) -> Section {
    Section {
        width: tyre.section_width(),
        height: match tyre.size {
            Size::Metric { aspect, .. } => SectionHeight::Aspect(aspect),
            _ => SectionHeight::Overall(tyre.overall_diameter()),
        },
        rim: Length::new::<inch>(tyre.rim),
    }
}

impl Rig {
    /// The air space of one of an axle's tyres: as typed in, or by its size.
    ///
    /// # Errors
    /// [`NoTime`].
    pub fn air_space(&self, axle: usize) -> Result<Span<Volume>, NoTime> {
        let typed = self
            .air
            .spaces
            .iter()
            .find(|space| usize::from(space.axle) == axle);
        if let Some(space) = typed {
            let litres = Field::AirSpace.check(space.litres)?;
            let volume = Volume::new::<liter>(litres);
            return Ok(Span {
                low: volume,
                likely: volume,
                high: volume,
            });
        }
        self.air_space_by_size(axle)
    }

    /// The same by size alone.
    ///
    /// # Errors
    /// [`NoTime`].
    pub fn air_space_by_size(&self, axle: usize) -> Result<Span<Volume>, NoTime> {
        let axle = self.axles.get(axle).ok_or(NoTime::NoSize)?;
        let tyre = Designation::parse(&axle.tyre).map_err(|_| NoTime::NoSize)?;
        Ok(section(&tyre).air_space()?)
    }

    fn compressor(&self, end: End, site: Site) -> Result<Compressor, NoTime> {
        let air = &self.air;
        let (duty, maximum) = (air.duty()?, air.pump_maximum_kpa.map(pressure));
        let timing = air.pump_timing.whole();
        let share = match (timing, end) {
            (None, End::Slow) => LEAST_OF_PRINTED_FLOW,
            _ => 1.0,
        };
        let mut points = Vec::new();
        for flow in &air.flows {
            if let (Some(at), Some(flow)) = (flow.at_kpa, flow.litres_per_min) {
                points.push(FlowPoint {
                    at: pressure(at),
                    flow: VolumeRate::new::<liter_per_minute>(flow * share),
                });
            }
        }
        let Some((from, to, elapsed)) = timing else {
            if points.is_empty() {
                return Err(NoTime::NoCompressor);
            }
            return Ok(Compressor::new(&points, Height::SEA_LEVEL, duty, maximum)?);
        };
        let timed = Fill {
            space: end.of(self.air_space(air.pump_timing.axle.into())?),
            from,
            to,
            air: site.temperature.into(),
        };
        if points.is_empty() {
            return Ok(Compressor::from_timing(
                &timed, site, elapsed, duty, maximum,
            )?);
        }
        let stated = Compressor::new(&points, Height::SEA_LEVEL, duty, maximum)?;
        Ok(stated.calibrated(&timed, site, elapsed)?)
    }

    fn deflator(&self, end: End, site: Site) -> Result<Deflator, NoTime> {
        let air = &self.air;
        if let Some((from, to, elapsed)) = air.out_timing.whole() {
            let space = end.of(self.air_space(air.out_timing.axle.into())?);
            return Ok(Deflator::timed(&Fall { space, from, to }, site, elapsed)?);
        }
        match (air.outflow.at_kpa, air.outflow.litres_per_min) {
            (Some(at), Some(flow)) => {
                let flow = VolumeRate::new::<liter_per_minute>(flow);
                Ok(Deflator::stated(flow, pressure(at), site)?)
            }
            _ => Err(NoTime::NoDeflator),
        }
    }

    /// One axle's tyre, air moving, at one end of the range.
    fn tyre_time(&self, index: usize, a: &Move, end: End, site: Site) -> Result<Time, NoTime> {
        let space = end.of(self.air_space(index)?);
        if a.is_up() {
            let fill = fill(space, a, site);
            Ok(self.compressor(end, site)?.run_time(&fill, site)?.run)
        } else if a.to < a.from {
            let (from, to) = (a.from, a.to);
            Ok(self
                .deflator(end, site)?
                .time(&Fall { space, from, to }, site)?)
        } else {
            Ok(Time::new::<second>(0.0))
        }
    }

    /// The times to take every axle from one reading to another, axle by axle
    /// and tyre by tyre, with the compressor rested at the start.
    pub fn times(&self, moves: &[Option<Move>]) -> Times {
        let mut times = Times {
            axles: Vec::new(),
            total: None,
            pauses: Between::none(),
            remarks: Vec::new(),
        };
        let site = match self.air.site() {
            Ok(site) => site,
            Err(error) => {
                times.axles = moves.iter().map(|_| Err(error.into())).collect();
                return times;
            }
        };
        times.axles = moves
            .iter()
            .enumerate()
            .map(|(index, a)| {
                let a = a.as_ref().ok_or(NoTime::NoPressure)?;
                let tyre = Between::of(
                    self.tyre_time(index, a, End::Fast, site)?,
                    self.tyre_time(index, a, End::Slow, site)?,
                );
                let axle = tyre.times(f64::from(a.tyres));
                Ok(AxleTimes { tyre, axle })
            })
            .collect();
        match self.pumping(moves, &times.axles, site) {
            Ok((pauses, remarks)) => {
                times.remarks = remarks;
                times.pauses = Between::none();
                for (axle, pauses) in times.axles.iter_mut().zip(pauses) {
                    times.pauses = times.pauses.plus(pauses);
                    if let Ok(axle) = axle {
                        axle.axle = axle.axle.plus(pauses);
                    }
                }
            }
            Err(error) => {
                for axle in &mut times.axles {
                    *axle = axle.and(Err(error));
                }
            }
        }
        self.add_change_over(moves, &mut times);
        times.total = times
            .axles
            .iter()
            .map(|axle| axle.ok().map(|axle| axle.axle))
            .reduce(|a, b| Some(a?.plus(b?)))
            .flatten();
        times
    }

    /// The compressor's pauses in each axle, and what its times rest on.
    fn pumping(
        &self,
        moves: &[Option<Move>],
        axles: &[Result<AxleTimes, NoTime>],
        site: Site,
    ) -> Result<(Vec<Between>, Vec<PumpRemark>), NoTime> {
        let up = |index: usize| {
            let a = moves.get(index).copied().flatten();
            a.filter(|a| a.is_up() && axles.get(index).is_some_and(Result::is_ok))
        };
        let none = vec![Between::none(); moves.len()];
        if !(0..moves.len()).any(|index| up(index).is_some()) {
            return Ok((none, Vec::new()));
        }
        let plan = |end: End| -> Result<_, NoTime> {
            let mut fills = Vec::new();
            for index in 0..moves.len() {
                fills.push(match up(index) {
                    Some(a) => {
                        let fill = fill(end.of(self.air_space(index)?), &a, site);
                        vec![fill; usize::from(a.tyres)]
                    }
                    None => Vec::new(),
                });
            }
            let nothing = Time::new::<second>(0.0);
            self.compressor(end, site)?
                .plan(&fills, site, nothing)
                .map_err(|failed| failed.error.into())
        };
        let (fast, slow) = (plan(End::Fast)?, plan(End::Slow)?);
        let pauses = fast
            .axles
            .iter()
            .zip(&slow.axles)
            .map(|(fast, slow)| {
                Between::of(
                    fast.iter().map(|tyre| tyre.pauses).sum(),
                    slow.iter().map(|tyre| tyre.pauses).sum(),
                )
            })
            .collect();
        Ok((pauses, slow.remarks))
    }

    fn add_change_over(&self, moves: &[Option<Move>], times: &mut Times) {
        let seconds = self.air.change_over_s.unwrap_or(0.0);
        let Ok(seconds) = Field::ChangeOver.check(seconds) else {
            return;
        };
        let once = Time::new::<second>(seconds);
        let once = Between {
            low: once,
            high: once,
        };
        let mut before = 0;
        for (axle, a) in times.axles.iter_mut().zip(moves) {
            if let (Ok(axle), Some(a)) = (axle, a)
                && a.to != a.from
            {
                // None before the very first valve.
                let changes = f64::from(a.tyres) - if before == 0 { 1.0 } else { 0.0 };
                axle.axle = axle.axle.plus(once.times(changes));
                before += u32::from(a.tyres);
            }
        }
    }
}

fn fill(space: Volume, a: &Move, site: Site) -> Fill {
    Fill {
        space,
        from: a.from,
        to: a.to,
        air: site.temperature.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::psi;
    use crate::rig::record;

    fn demo() -> Rig {
        let mut rig = Rig::demo();
        rig.air.flow(0).at_kpa = Some(0.0);
        rig.air.flow(0).litres_per_min = Some(160.0);
        rig.air.flow(1).at_kpa = Some(276.0);
        rig.air.flow(1).litres_per_min = Some(100.0);
        rig
    }

    fn moves(rig: &Rig, from: f64, to: f64) -> Vec<Option<Move>> {
        let p = GaugePressure::new::<psi>;
        rig.axles
            .iter()
            .map(|axle| {
                Some(Move {
                    from: p(from),
                    to: p(to),
                    tyres: axle.group().tyres(),
                })
            })
            .collect()
    }

    fn minutes(time: Time) -> f64 {
        time.get::<minute>()
    }

    /// Everything set, so that no field is missed on the way out or in.
    #[test]
    fn what_the_air_view_keeps_comes_back_from_its_record() {
        let mut rig = demo();
        let air = &mut rig.air;
        let some = Some(1.5);
        (air.set_height_m, air.set_celsius) = (some, some);
        (air.now_height_m, air.now_celsius) = (some, some);
        (air.warm_axle, air.warm_by_temperature) = (2, true);
        (air.warm_kpa, air.warm_cold_kpa, air.tyre_celsius) = (some, some, some);
        (air.warm_ms, air.driven_min) = (Some(1_795_600_000_123), some);
        (air.from, air.to) = (Surface::Gravel, Surface::Sand);
        (air.duty_run_min, air.duty_rest_min) = (some, some);
        (air.pump_maximum_kpa, air.change_over_s) = (some, some);
        air.pump_timing = Timing {
            axle: 1,
            from_kpa: some,
            to_kpa: some,
            seconds: some,
            started_ms: Some(1_795_600_000_456),
        };
        air.out_timing = air.pump_timing;
        air.outflow = air.flows[0];
        air.spaces.push(Space {
            axle: 1,
            litres: 80.5,
        });
        air.walk = Some(Walk {
            from: Surface::Mud,
            to: Surface::Rock,
            tyres_done: 3,
            started_ms: Some(1),
            tyre_ms: 2,
            walk_ms: 3,
            rested_ms: 4,
        });
        air.done.push(Done {
            at_ms: 1_795_600_000_789,
            from: Surface::Sealed,
            to: Surface::Bogged,
            tyres: 8,
            air_ms: 60_000,
        });
        air.readings.push(Reading {
            axle: 1,
            tyre: 3,
            at_ms: 1_795_600_000_999,
            kpa: 344.737_864_7,
            step_kpa: 6.9,
            celsius: -3.5,
            within_kelvin: 2.0,
            height_m: 800.0,
        });
        let back = record::read(&record::write(&rig)).expect("a rig");
        assert_eq!(back.air, rig.air);
    }

    #[test]
    fn a_timing_makes_one_figure_of_a_range() {
        let mut rig = demo();
        let up = moves(&rig, 32.0, 50.0);
        let printed = rig.times(&up);
        let tyre = printed.axles[0].unwrap().tyre;
        // Half the flow and 0.85/0.60 of the space.
        assert!(((tyre.high / tyre.low).value - 2.0 * 0.85 / 0.6).abs() < 1e-9);
        assert!(printed.total.is_some());

        rig.air.pump_timing = Timing {
            axle: 0,
            from_kpa: Some(220.632),
            to_kpa: Some(344.738),
            seconds: Some(100.0),
            started_ms: None,
        };
        let timed = rig.times(&up);
        let tyre = timed.axles[2].unwrap().tyre;
        assert!((tyre.low / tyre.high).value > 1.0 - 1e-9);
        assert!((tyre.low.get::<second>() - 100.0).abs() < 0.01);
        // Eight tyres, none before the first valve.
        let air = timed.total.unwrap().low;
        rig.air.change_over_s = Some(30.0);
        let walked = rig.times(&up).total.unwrap().low;
        assert!((minutes(walked - air) - 3.5).abs() < 1e-9);
        // A typed space stands on one side only: the doubt is back.
        rig.air.spaces.push(Space {
            axle: 1,
            litres: 70.0,
        });
        let tyre = rig.times(&up).axles[1].unwrap().tyre;
        assert!((tyre.high / tyre.low).value > 1.0);
    }

    #[test]
    fn pauses_are_counted_over_the_whole_rig() {
        let mut rig = demo();
        let up = moves(&rig, 32.0, 50.0);
        let without = rig.times(&up).total.unwrap();
        (rig.air.duty_run_min, rig.air.duty_rest_min) = (Some(10.0), Some(20.0));
        let times = rig.times(&up);
        let rests = (minutes(without.high) / 10.0).ceil() - 1.0;
        assert!((minutes(times.pauses.high) - 20.0 * rests).abs() < 1e-9);
        let with = times.total.unwrap();
        assert!((minutes(with.high - without.high) - 20.0 * rests).abs() < 1e-9);
    }

    #[test]
    fn an_axle_without_a_time_says_why_and_the_rig_has_none() {
        let mut rig = Rig::demo();
        let (up, down) = (moves(&rig, 32.0, 50.0), moves(&rig, 50.0, 32.0));
        assert_eq!(rig.times(&up).axles[0], Err(NoTime::NoCompressor));
        assert_eq!(rig.times(&down).axles[0], Err(NoTime::NoDeflator));
        rig = demo();
        rig.axles[1].tyre = "?".to_owned();
        let times = rig.times(&up);
        assert!(times.axles[0].is_ok());
        assert_eq!(times.axles[1], Err(NoTime::NoSize));
        assert_eq!(times.total, None);
        let mut missing = up.clone();
        missing[2] = None;
        assert_eq!(rig.times(&missing).axles[2], Err(NoTime::NoPressure));
    }

    #[test]
    fn letting_down_is_timed_like_pumping_up() {
        let mut rig = Rig::demo();
        rig.air.out_timing = Timing {
            axle: 0,
            from_kpa: Some(344.738),
            to_kpa: Some(220.632),
            seconds: Some(60.0),
            started_ms: None,
        };
        let times = rig.times(&moves(&rig, 50.0, 32.0));
        let tyre = times.axles[1].unwrap().tyre;
        assert!((tyre.high.get::<second>() - 60.0).abs() < 0.01);
        assert!((minutes(times.total.unwrap().low) - 8.0).abs() < 0.01);
    }

    #[test]
    fn what_belongs_to_an_axle_goes_with_it() {
        let mut air = Air {
            warm_axle: 2,
            warm_kpa: Some(380.0),
            ..Air::default()
        };
        let space = |axle| Space { axle, litres: 80.0 };
        air.spaces = vec![space(0), space(1), space(2)];
        air.axle_removed(1);
        assert_eq!(air.warm_axle, 1);
        assert_eq!(air.spaces, [space(0), space(1)]);
        air.axle_removed(1);
        assert_eq!(air.warm_kpa, None);
    }

    #[test]
    fn a_warm_reading_counts_for_a_while_and_not_before_it_was_taken() {
        let hour = 3_600_000;
        assert!(Air::warm_counts(hour, hour));
        assert!(Air::warm_counts(hour, hour + hour / 2));
        assert!(!Air::warm_counts(hour, hour + hour / 2 + 1));
        assert!(!Air::warm_counts(hour, hour - 1));
    }
}
