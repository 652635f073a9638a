//! What the air view keeps with a rig, and its way into [`crate::calc`].
//!
//! Moments are days since 1970 by the browser's clock, nine decimals of which
//! are a tenth of a millisecond. Numbers stand in one list under their names:
//! a field of its own for each would cost the page 15 kB.

use super::keep::{Unknown, kept, kept_value};
use super::names::named;
use super::section::Section as Kept;
use super::typed::TypedTemperature;
use super::{Axle, AxleId, Moved, Rig, Surface, follow, within};
use crate::calc::fill::Site;
use crate::calc::fill::compressor::FlowPoint;
use crate::calc::fill::space::{Section, SectionHeight};
use crate::calc::fill::trip::{Equipment, Move, NoTime, Times, Timing};
use crate::calc::gas::height::Height;
use crate::calc::gas::leak::LeakReading;
use crate::calc::gas::warm::{
    ColdSetting, Surroundings, WarmAir, WarmCheck, WarmError, warm_check,
};
use crate::calc::gas::{AmbientTemperature, TyreTemperature};
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{
    GaugePressure, GaugeStep, Length, Span, TemperatureInterval, Time, Volume, VolumeRate, day,
    inch, kelvin_interval, kilopascal, liter, liter_per_minute, minute, second,
};
use crate::calc::tyre::designation::{Designation, Size};

kept! {
    /// What the air view keeps.
    pub struct Air {
        /// The surface that a trip starts from.
        from: Surface = "from",
        /// The surface that it goes to.
        to: Surface = "to",
        /// All that is known besides, each name and index once.
        figures: Vec<Figure> = "figures",
        /// Cold readings, the oldest first.
        readings: Vec<Reading> = "readings",
        /// When the reading being entered was taken, as its field has it;
        /// blank: now.
        leak_at: String = "leak_at",
        /// Temperature of the air around there and then.
        leak_celsius: Option<TypedTemperature> = "leak_celsius",
        /// The rig's axles when it was written, from the front: its figures
        /// and readings name them by their places.
        axles: Vec<AxleId> = "axles",
    }
}

impl Default for Air {
    fn default() -> Self {
        Self {
            from: Surface::Sealed,
            to: Surface::Dirt,
            figures: Vec::new(),
            readings: Vec::new(),
            leak_at: String::new(),
            leak_celsius: None,
            axles: Vec::new(),
            unknown: Unknown::default(),
        }
    }
}

/// The name of a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Key {
    /// Height where the cold pressures were set.
    SetHeightM,
    /// Temperature of the air around there and then.
    SetCelsius,
    /// Height now.
    NowHeightM,
    /// Temperature of the air around now.
    NowCelsius,
    /// When height or temperature now was entered.
    NowDay,
    /// The axle whose tyre was read warm.
    WarmAxle,
    /// 1 where its temperature counts instead of its pressures.
    WarmByTemperature,
    /// The warm reading.
    WarmKpa,
    /// The same tyre's cold pressure; what it was set to where none is given.
    WarmColdKpa,
    /// The temperature of the air in that tyre.
    TyreCelsius,
    /// When the reading or the temperature was entered.
    WarmDay,
    /// Time driven before the reading.
    DrivenMin,
    /// The pressure of a stated flow of the compressor, by its number.
    FlowKpa,
    /// That flow.
    FlowLitresPerMin,
    /// Longest run of the compressor.
    DutyRunMin,
    /// Its rest after that.
    DutyRestMin,
    /// Highest pressure that it is made for.
    PumpMaximumKpa,
    /// Time from one valve to the next.
    ChangeOverS,
    /// The pressure of the deflator's stated flow.
    OutKpa,
    /// That flow.
    OutLitresPerMin,
    /// The axle of the tyre timed: index [`Air::UP`] or [`Air::DOWN`], as for
    /// all of its figures.
    TimedAxle,
    /// Its reading at the start.
    TimedFromKpa,
    /// Its reading at the end.
    TimedToKpa,
    /// What the stopwatch said.
    TimedS,
    /// When the stopwatch was started, while it runs.
    TimedStartedDay,
    /// Air space of one tyre of an axle, by its number, where typed in.
    SpaceL,
    /// A walk is under way: 1 back from `to` to `from`, 0 the way out.
    WalkBack,
    /// Its tyres finished.
    WalkTyres,
    /// When its present tyre was started, while air moves.
    WalkStartedDay,
    /// Time that air moved before, in this tyre.
    WalkTyreS,
    /// The same in all tyres before this one.
    WalkBeforeS,
    /// How much of the whole the compressor had behind it when it last rested.
    WalkRestedS,
    /// 1 where the walk's figures are those of warm tyres.
    WalkWarm,
    /// When the walk logged last ended.
    DoneDay,
    /// The surfaces it went between, by number.
    DoneFrom,
    /// The one it ended at.
    DoneTo,
    /// How many tyres.
    DoneTyres,
    /// Time that air moved.
    DoneS,
    /// The axle of the tyre whose readings are looked at.
    LeakAxle,
    /// That tyre on it, from 0.
    LeakTyre,
    /// A reading not yet kept.
    LeakKpa,
    /// The gauge's step; that of the rig's unit where none is given.
    GaugeStepKpa,
    /// 1 where temperatures are guessed, not measured.
    CelsiusGuessed,
}

impl Key {
    /// A stated flow of the compressor, and its pressure.
    pub const FLOW: [Self; 2] = [Self::FlowLitresPerMin, Self::FlowKpa];
    /// That of the deflator.
    pub const FLOW_OUT: [Self; 2] = [Self::OutLitresPerMin, Self::OutKpa];
    /// The compressor's run and rest.
    pub const DUTY: [Self; 2] = [Self::DutyRunMin, Self::DutyRestMin];
}

named!(Key {
    SetHeightM: "set_height_m",
    SetCelsius: "set_celsius",
    NowHeightM: "now_height_m",
    NowCelsius: "now_celsius",
    NowDay: "now_day",
    WarmAxle: "warm_axle",
    WarmByTemperature: "warm_by_temperature",
    WarmKpa: "warm_kpa",
    WarmColdKpa: "warm_cold_kpa",
    TyreCelsius: "tyre_celsius",
    WarmDay: "warm_day",
    DrivenMin: "driven_min",
    FlowKpa: "flow_kpa",
    FlowLitresPerMin: "flow_litres_per_min",
    DutyRunMin: "duty_run_min",
    DutyRestMin: "duty_rest_min",
    PumpMaximumKpa: "pump_maximum_kpa",
    ChangeOverS: "change_over_s",
    OutKpa: "out_kpa",
    OutLitresPerMin: "out_litres_per_min",
    TimedAxle: "timed_axle",
    TimedFromKpa: "timed_from_kpa",
    TimedToKpa: "timed_to_kpa",
    TimedS: "timed_s",
    TimedStartedDay: "timed_started_day",
    SpaceL: "space_l",
    WalkBack: "walk_back",
    WalkTyres: "walk_tyres",
    WalkStartedDay: "walk_started_day",
    WalkTyreS: "walk_tyre_s",
    WalkBeforeS: "walk_before_s",
    WalkRestedS: "walk_rested_s",
    WalkWarm: "walk_warm",
    DoneDay: "done_day",
    DoneFrom: "done_from",
    DoneTo: "done_to",
    DoneTyres: "done_tyres",
    DoneS: "done_s",
    LeakAxle: "leak_axle",
    LeakTyre: "leak_tyre",
    LeakKpa: "leak_kpa",
    GaugeStepKpa: "gauge_step_kpa",
    CelsiusGuessed: "celsius_guessed",
});

kept_value! {
    /// One figure.
    pub struct Figure {
        /// What it is.
        key: Key = "key",
        /// Which, where there are several of its name.
        index: u8 = "index",
        /// The figure, in the unit of its name.
        value: f64 = "value",
    }
}

/// A walk from tyre to tyre. What to reach at each follows from the rig.
/// Moments are in days, times in seconds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Walk {
    /// Whether it goes back from `to` to `from`.
    pub back: bool,
    /// Whether its figures are those of warm tyres: chosen by its owner, and
    /// changed by nobody else, so that a number keeps its meaning at the tyre.
    pub warm: bool,
    /// Tyres finished.
    pub tyres_done: usize,
    /// When the present tyre was started, while air moves.
    pub started_day: Option<f64>,
    /// Time that air moved before, in this tyre.
    pub tyre_s: f64,
    /// The same in all tyres before this one.
    pub before_s: f64,
    /// How much of the whole the compressor had behind it when it last rested.
    pub rested_s: f64,
}

/// Seconds from one moment to a later one; none where the clock was set back.
pub fn seconds_since(start_day: f64, now_day: f64) -> f64 {
    ((now_day - start_day) * 86_400.0).max(0.0)
}

impl Walk {
    /// A walk about to begin.
    pub fn new(back: bool, warm: bool) -> Self {
        Self {
            back,
            warm,
            tyres_done: 0,
            started_day: None,
            tyre_s: 0.0,
            before_s: 0.0,
            rested_s: 0.0,
        }
    }

    /// Time that air moved in this tyre.
    pub fn tyre_s(&self, now_day: f64) -> f64 {
        let running = self
            .started_day
            .map_or(0.0, |at| seconds_since(at, now_day));
        self.tyre_s + running
    }

    /// Time that air moved in the whole walk.
    pub fn air_s(&self, now_day: f64) -> f64 {
        self.before_s + self.tyre_s(now_day)
    }

    /// Time that air moved since the last rest.
    pub fn since_rest_s(&self, now_day: f64) -> f64 {
        self.air_s(now_day) - self.rested_s
    }

    /// Starts the stopwatch, or stops it.
    pub fn toggle(&mut self, now_day: f64) {
        self.tyre_s = self.tyre_s(now_day);
        self.started_day = match self.started_day {
            None => Some(now_day),
            Some(_) => None,
        };
    }

    /// Goes to the next tyre.
    pub fn next(&mut self, now_day: f64) {
        self.before_s = self.air_s(now_day);
        (self.tyre_s, self.started_day) = (0.0, None);
        self.tyres_done += 1;
    }

    /// Goes back to the tyre before.
    pub fn back(&mut self, now_day: f64) {
        self.next(now_day);
        self.tyres_done = self.tyres_done.saturating_sub(2);
    }

    /// Counts the compressor as rested, and stops the stopwatch.
    pub fn rested(&mut self, now_day: f64) {
        self.tyre_s = self.tyre_s(now_day);
        self.started_day = None;
        self.rested_s = self.air_s(now_day);
    }
}

kept_value! {
    /// A cold reading of one tyre.
    pub struct Reading {
        /// The axle.
        axle: u8 = "axle",
        /// The tyre on it, from 0.
        tyre: u8 = "tyre",
        /// When.
        day: f64 = "day",
        /// What the gauge showed.
        kpa: f64 = "kpa",
        /// The gauge's step.
        step_kpa: f64 = "step_kpa",
        /// Temperature of the air around.
        celsius: f64 = "celsius",
        /// How far that may be off.
        within_kelvin: f64 = "within_kelvin",
        /// Height.
        height_m: f64 = "height_m",
    }
}

/// How long a warm reading counts, in minutes. Our choice: a standing tyre
/// cools, so that a figure too old asks for too much air, not too little.
pub const WARM_COUNTS_MINUTES: f64 = 30.0;

/// How long height and temperature now count, in hours, and how long an old
/// warm reading is still spoken of. Our choice.
pub const HERE_COUNTS_HOURS: f64 = 6.0;

/// The temperature around where none was given.
pub const USUAL_CELSIUS: f64 = 20.0;

fn pressure(kpa: f64) -> GaugePressure {
    GaugePressure::new::<kilopascal>(kpa)
}

pub(super) fn surroundings(
    height: Option<f64>,
    celsius: Option<f64>,
) -> Result<Surroundings, OutOfRange> {
    Ok(Surroundings {
        height: height.map(Height::metres).transpose()?,
        temperature: celsius.map(AmbientTemperature::celsius).transpose()?,
    })
}

impl Air {
    /// Most readings kept.
    pub const MOST_READINGS: usize = 200;
    /// Most stated flows.
    pub const MOST_FLOWS: u8 = 3;
    /// The index of what was timed while pumping up.
    pub const UP: u8 = 0;
    /// The index of what was timed while letting down.
    pub const DOWN: u8 = 1;

    /// A figure, where it is known.
    pub fn at(&self, key: Key, index: u8) -> Option<f64> {
        let mine = |figure: &&Figure| figure.key == key && figure.index == index;
        self.figures.iter().find(mine).map(|figure| figure.value)
    }

    /// The only figure of a name.
    pub fn get(&self, key: Key) -> Option<f64> {
        self.at(key, 0)
    }

    /// Whether a figure that is 0 or 1 is 1.
    pub fn is(&self, key: Key) -> bool {
        self.get(key) == Some(1.0)
    }

    /// Whether one of two figures that say something together only is there
    /// without the other.
    pub fn is_half(&self, pair: [Key; 2], index: u8) -> bool {
        let [one, other] = pair.map(|key| self.at(key, index).is_some());
        one != other
    }

    /// A figure that counts something, 0 where it is not known.
    pub fn count(&self, key: Key, index: u8) -> u8 {
        self.at(key, index).unwrap_or(0.0) as u8
    }

    /// Sets or forgets a figure.
    pub fn set_at(&mut self, key: Key, index: u8, value: Option<f64>) {
        self.figures
            .retain(|figure| figure.key != key || figure.index != index);
        if let Some(value) = value {
            self.figures.push(Figure { key, index, value });
        }
    }

    /// Sets or forgets the only figure of a name.
    pub fn set(&mut self, key: Key, value: Option<f64>) {
        self.set_at(key, 0, value);
    }

    /// Forgets a warm reading.
    pub fn forget_warm(&mut self) {
        for key in [
            Key::WarmKpa,
            Key::WarmColdKpa,
            Key::TyreCelsius,
            Key::WarmDay,
        ] {
            self.set(key, None);
        }
    }

    /// Forgets what was timed.
    pub fn forget_timing(&mut self, which: u8) {
        for key in [
            Key::TimedAxle,
            Key::TimedFromKpa,
            Key::TimedToKpa,
            Key::TimedS,
            Key::TimedStartedDay,
        ] {
            self.set_at(key, which, None);
        }
    }

    /// The walk under way.
    pub fn walk(&self) -> Option<Walk> {
        self.get(Key::WalkBack)?;
        let seconds = |key| self.get(key).unwrap_or(0.0);
        Some(Walk {
            back: self.is(Key::WalkBack),
            warm: self.is(Key::WalkWarm),
            tyres_done: self.count(Key::WalkTyres, 0).into(),
            started_day: self.get(Key::WalkStartedDay),
            tyre_s: seconds(Key::WalkTyreS),
            before_s: seconds(Key::WalkBeforeS),
            rested_s: seconds(Key::WalkRestedS),
        })
    }

    /// Keeps a walk, or ends it.
    pub fn set_walk(&mut self, walk: Option<Walk>) {
        self.set(Key::WalkBack, walk.map(|w| f64::from(u8::from(w.back))));
        self.set(Key::WalkWarm, walk.map(|w| f64::from(u8::from(w.warm))));
        self.set(Key::WalkTyres, walk.map(|w| w.tyres_done as f64));
        self.set(Key::WalkStartedDay, walk.and_then(|w| w.started_day));
        self.set(Key::WalkTyreS, walk.map(|w| w.tyre_s));
        self.set(Key::WalkBeforeS, walk.map(|w| w.before_s));
        self.set(Key::WalkRestedS, walk.map(|w| w.rested_s));
    }

    /// Whether a warm reading still counts at `now_day`.
    pub fn warm_counts(taken_day: f64, now_day: f64) -> bool {
        // A clock that was set back makes the age unknown.
        (0.0..=WARM_COUNTS_MINUTES / 1440.0).contains(&(now_day - taken_day))
    }

    /// Whether all of it can be written down and read back. What a figure may
    /// be is checked on its way to where it counts.
    pub fn is_sound(&self) -> bool {
        // Nine decimals take the rest of the digits that are written.
        let writable = |value: f64| value.abs() < 1e8;
        self.figures.len() <= Self::MOST_READINGS
            && self.readings.len() <= Self::MOST_READINGS
            && self.leak_at.len() <= 32
            && within(Field::AmbientTemperature, self.leak_celsius)
            && self.figures.iter().all(|figure| writable(figure.value))
            && self.readings.iter().all(|r| {
                [
                    r.day,
                    r.kpa,
                    r.step_kpa,
                    r.celsius,
                    r.within_kelvin,
                    r.height_m,
                ]
                .into_iter()
                .all(writable)
            })
    }

    /// Forgets what is too old to be true still: height and temperature now,
    /// and a warm reading that long stopped counting. Says whether anything
    /// went.
    pub fn forget_old(&mut self, now_day: f64) -> bool {
        let old = |since: Option<f64>| {
            let counts = 0.0..=HERE_COUNTS_HOURS / 24.0;
            since.is_some_and(|since| !counts.contains(&(now_day - since)))
        };
        let (here, warm) = (old(self.get(Key::NowDay)), old(self.get(Key::WarmDay)));
        if here {
            for key in [Key::NowHeightM, Key::NowCelsius, Key::NowDay] {
                self.set(key, None);
            }
        }
        if warm {
            self.forget_warm();
        }
        here || warm
    }

    /// Follows the removal of an axle.
    pub fn axle_removed(&mut self, removed: usize) {
        let gone = removed as u8;
        if self.count(Key::WarmAxle, 0) == gone {
            self.forget_warm();
        }
        for which in [Self::UP, Self::DOWN] {
            if self.count(Key::TimedAxle, which) == gone {
                self.forget_timing(which);
            }
        }
        self.figures
            .retain(|figure| figure.key != Key::SpaceL || figure.index != gone);
        self.readings.retain(|reading| reading.axle != gone);
        // Its count of tyres done no longer fits.
        self.set_walk(None);
        self.set(Key::LeakTyre, None);
        for figure in &mut self.figures {
            match figure.key {
                Key::SpaceL if figure.index > gone => figure.index -= 1,
                Key::WarmAxle | Key::TimedAxle | Key::LeakAxle
                    if figure.value > f64::from(gone) =>
                {
                    figure.value -= 1.0;
                }
                Key::WarmAxle | Key::LeakAxle if figure.value == f64::from(gone) => {
                    figure.value = 0.0;
                }
                _ => {}
            }
        }
        for reading in &mut self.readings {
            if reading.axle > gone {
                reading.axle -= 1;
            }
        }
    }

    /// Follows the axles of the rig from those that it was written with.
    pub fn follow(&mut self, axles: &[Axle]) {
        let written = std::mem::take(&mut self.axles);
        follow(&written, axles, &mut |moved| match moved {
            Moved::Removed(place) => self.axle_removed(place),
            Moved::Added(place) => self.axle_added(place as u8),
        });
    }

    /// Follows an axle that came back before others.
    fn axle_added(&mut self, place: u8) {
        for figure in &mut self.figures {
            match figure.key {
                Key::SpaceL if figure.index >= place => figure.index += 1,
                Key::WarmAxle | Key::TimedAxle | Key::LeakAxle
                    if figure.value >= f64::from(place) =>
                {
                    figure.value += 1.0;
                }
                _ => {}
            }
        }
        for reading in &mut self.readings {
            if reading.axle >= place {
                reading.axle += 1;
            }
        }
    }

    /// As it is written, with the axles that it names by their places.
    pub fn stamped(&self, axles: &[Axle]) -> Self {
        Self {
            axles: axles.iter().map(|axle| axle.id).collect(),
            ..self.clone()
        }
    }

    fn now(&self) -> Result<Surroundings, OutOfRange> {
        surroundings(self.get(Key::NowHeightM), self.get(Key::NowCelsius))
    }

    fn site(&self) -> Result<Site, OutOfRange> {
        let celsius = self.get(Key::NowCelsius).unwrap_or(USUAL_CELSIUS);
        Ok(Site {
            height: Height::metres(self.get(Key::NowHeightM).unwrap_or(0.0))?,
            temperature: AmbientTemperature::celsius(celsius)?,
        })
    }

    /// Keeps a reading in its place among the others, by when it was taken.
    pub fn add_reading(&mut self, reading: Reading) {
        let later = |kept: &Reading| kept.day > reading.day;
        let place = self.readings.iter().position(later);
        self.readings
            .insert(place.unwrap_or(self.readings.len()), reading);
    }

    /// The readings of one tyre, for a line through them, their times counted
    /// from `first_day`.
    ///
    /// # Errors
    /// [`OutOfRange`] for a stored temperature or height.
    pub fn leak_readings(
        &self,
        axle: u8,
        tyre: u8,
        first_day: f64,
    ) -> Result<Vec<LeakReading>, OutOfRange> {
        let mut readings = Vec::new();
        for reading in &self.readings {
            if reading.axle != axle || reading.tyre != tyre {
                continue;
            }
            readings.push(LeakReading {
                at: Time::new::<day>(reading.day - first_day),
                pressure: pressure(reading.kpa),
                resolution: pressure(reading.step_kpa),
                temperature: AmbientTemperature::celsius(reading.celsius)?,
                temperature_within: TemperatureInterval::new::<kelvin_interval>(
                    reading.within_kelvin,
                ),
                height: Height::metres(reading.height_m)?,
            });
        }
        Ok(readings)
    }

    /// The moment of a tyre's first reading.
    pub fn first_reading_day(&self, axle: u8, tyre: u8) -> Option<f64> {
        self.readings
            .iter()
            .filter(|reading| reading.axle == axle && reading.tyre == tyre)
            .map(|reading| reading.day)
            .reduce(f64::min)
    }
}

impl Kept for Air {
    const PART: &'static str = "air";
    const VERSION: u32 = 2;

    fn fresh(_: bool) -> Self {
        Self::default()
    }

    fn migrate(version: u32, body: &str) -> Option<Self> {
        use super::keep::Value;
        (version == 1).then(|| Self::read(body)).flatten()
    }

    fn is_sound(&self) -> bool {
        self.is_sound()
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
    /// How warm the tyres' air is by the warm reading; nothing where there is
    /// none, or what that tyre was when cold is not known. `sealed` is its
    /// axle's sealed-road figure.
    ///
    /// # Errors
    /// [`WarmError`].
    pub fn warm(
        &self,
        sealed: Option<GaugePressure>,
        step: GaugeStep,
    ) -> Result<Option<WarmAir>, WarmError> {
        let now = self.air.now()?;
        if self.air.is(Key::WarmByTemperature) {
            return self
                .air
                .get(Key::TyreCelsius)
                .map(|celsius| WarmAir::from_temperature(TyreTemperature::celsius(celsius)?, &now))
                .transpose();
        }
        let (Some(reading), Some(set)) = (self.air.get(Key::WarmKpa), self.warm_setting(sealed)?)
        else {
            return Ok(None);
        };
        WarmAir::from_reading(pressure(reading), &set, &now, step).map(Some)
    }

    fn warm_setting(
        &self,
        sealed: Option<GaugePressure>,
    ) -> Result<Option<ColdSetting>, OutOfRange> {
        let read = self.air.get(Key::WarmDay).unwrap_or(f64::INFINITY);
        self.cold_setting(&self.was_cold(read, sealed))
    }

    /// What the rise of the warm reading says; nothing while one of its
    /// figures is missing.
    ///
    /// # Errors
    /// [`WarmError`].
    pub fn warm_check(
        &self,
        sealed: Option<GaugePressure>,
        step: GaugeStep,
    ) -> Result<Option<WarmCheck>, WarmError> {
        let (Some(reading), Some(set), Some(driven)) = (
            self.air.get(Key::WarmKpa),
            self.warm_setting(sealed)?,
            self.air.get(Key::DrivenMin),
        ) else {
            return Ok(None);
        };
        let driven = Time::new::<minute>(driven);
        warm_check(pressure(reading), &set, &self.air.now()?, step, driven).map(Some)
    }

    /// The air space of one of an axle's tyres: as typed in, or by its size.
    ///
    /// # Errors
    /// [`NoTime`].
    pub fn air_space(&self, axle: usize) -> Result<Span<Volume>, NoTime> {
        if let Some(litres) = self.air.at(Key::SpaceL, axle as u8) {
            let litres = Field::AirSpace.check(litres)?;
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

    fn timed(&self, which: u8) -> Option<Timing> {
        let air = &self.air;
        let axle = usize::from(air.count(Key::TimedAxle, which));
        Some(Timing {
            from: pressure(air.at(Key::TimedFromKpa, which)?),
            to: pressure(air.at(Key::TimedToKpa, which)?),
            elapsed: Time::new::<second>(air.at(Key::TimedS, which)?),
            space: self.air_space(axle),
        })
    }

    /// What is known of compressor and deflator.
    fn equipment(&self) -> Equipment {
        let air = &self.air;
        let mut flows = Vec::new();
        for index in 0..Air::MOST_FLOWS {
            let flow = air.at(Key::FlowLitresPerMin, index);
            if let (Some(at), Some(flow)) = (air.at(Key::FlowKpa, index), flow) {
                flows.push(FlowPoint {
                    at: pressure(at),
                    flow: VolumeRate::new::<liter_per_minute>(flow),
                });
            }
        }
        let duty = air.get(Key::DutyRunMin).zip(air.get(Key::DutyRestMin));
        let out = air.get(Key::OutLitresPerMin).zip(air.get(Key::OutKpa));
        Equipment {
            flows,
            half_a_flow: (0..Air::MOST_FLOWS).any(|index| air.is_half(Key::FLOW, index)),
            duty: duty.map(|(run, rest)| (Time::new::<minute>(run), Time::new::<minute>(rest))),
            maximum: air.get(Key::PumpMaximumKpa).map(pressure),
            pumped: self.timed(Air::UP),
            out: out
                .map(|(flow, at)| (VolumeRate::new::<liter_per_minute>(flow), pressure(at)))
                .ok_or(match air.is_half(Key::FLOW_OUT, 0) {
                    true => NoTime::HalfAFlow,
                    false => NoTime::NoDeflator,
                }),
            let_down: self.timed(Air::DOWN),
            change_over: air.get(Key::ChangeOverS).map(Time::new::<second>),
        }
    }

    /// The times to take every axle from one reading to another.
    pub fn times(&self, moves: &[Option<Move>]) -> Times {
        let spaces: Vec<_> = (0..moves.len()).map(|axle| self.air_space(axle)).collect();
        match self.air.site() {
            Ok(site) => self.equipment().times(&spaces, moves, site),
            Err(error) => Times::refused(moves.len(), error.into()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::psi;
    use crate::rig::section;

    fn demo() -> Rig {
        let mut rig = Rig::demo();
        for (index, kpa, flow) in [(0, 0.0, 160.0), (1, 276.0, 100.0)] {
            rig.air.set_at(Key::FlowKpa, index, Some(kpa));
            rig.air.set_at(Key::FlowLitresPerMin, index, Some(flow));
        }
        rig
    }

    /// The front tyre timed from 32 to 50 psi or back.
    fn timed(rig: &mut Rig, which: u8, seconds: f64) {
        let mut ends = [220.632, 344.738];
        if which == Air::DOWN {
            ends.reverse();
        }
        rig.air.set_at(Key::TimedFromKpa, which, Some(ends[0]));
        rig.air.set_at(Key::TimedToKpa, which, Some(ends[1]));
        rig.air.set_at(Key::TimedS, which, Some(seconds));
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

    /// A moment to a tenth of a millisecond, a walk under way, a reading.
    #[test]
    fn what_the_air_view_keeps_comes_back_from_its_record() {
        let mut rig = demo();
        timed(&mut rig, Air::DOWN, 75.25);
        let air = &mut rig.air;
        (air.from, air.to) = (Surface::Gravel, Surface::Sand);
        air.set(Key::WarmDay, Some(20_782.123_456_789));
        air.set_at(Key::SpaceL, 2, Some(80.5));
        let walk = Walk {
            back: true,
            warm: true,
            tyres_done: 3,
            started_day: Some(20_782.5),
            tyre_s: 2.5,
            before_s: 30.25,
            rested_s: 4.0,
        };
        air.set_walk(Some(walk));
        air.readings.push(Reading {
            axle: 1,
            tyre: 3,
            day: 20_782.25,
            kpa: 344.737_864_7,
            step_kpa: 6.9,
            celsius: -3.5,
            within_kelvin: 2.0,
            height_m: 800.0,
        });
        let back = section::again(&rig.air);
        assert_eq!(back, rig.air);
        assert_eq!(back.walk(), Some(walk));
    }

    /// Yesterday's reading could not be entered; put behind today's it would
    /// have been taken for the last.
    #[test]
    fn a_reading_stands_where_it_was_taken() {
        let mut air = Air::default();
        let reading = |taken| Reading {
            axle: 0,
            tyre: 0,
            day: taken,
            kpa: 250.0,
            step_kpa: 5.0,
            celsius: 15.0,
            within_kelvin: 2.0,
            height_m: 0.0,
        };
        for taken in [20_782.5, 20_781.5, 20_783.5, 20_782.5] {
            air.add_reading(reading(taken));
        }
        let days: Vec<f64> = air.readings.iter().map(|kept| kept.day).collect();
        assert_eq!(days, [20_781.5, 20_782.5, 20_782.5, 20_783.5]);
        air.leak_at = "2026-11-24T08:30".to_owned();
        assert_eq!(section::again(&air).leak_at, air.leak_at);
        air.leak_at = "x".repeat(33);
        assert!(!air.is_sound());
    }

    /// A record is only read up to a length.
    #[test]
    fn as_many_readings_as_are_kept_fit_into_a_record() {
        let mut rig = demo();
        let reading = Reading {
            axle: 255,
            tyre: 255,
            day: 20_782.123_456_789,
            kpa: 344.737_864_658,
            step_kpa: 6.894_757_293,
            celsius: -17.777_777_778,
            within_kelvin: 2.0,
            height_m: 1_234.123_456_789,
        };
        rig.air.readings = vec![reading; Air::MOST_READINGS];
        let text = section::body(&rig.air).expect("a record");
        assert!(text.len() < 60_000, "{}", text.len());
        assert_eq!(section::again(&rig.air), rig.air);
    }

    /// A printed flow whose pressure was left blank was passed over as if no
    /// compressor had been entered.
    #[test]
    fn half_a_flow_is_not_taken_for_none() {
        let mut rig = Rig::demo();
        let (up, down) = (moves(&rig, 32.0, 50.0), moves(&rig, 50.0, 32.0));
        let why = |rig: &Rig, moves: &[Option<Move>]| rig.times(moves).axles[0].err();
        assert_eq!(why(&rig, &up), Some(NoTime::NoCompressor));
        rig.air.set(Key::FlowLitresPerMin, Some(72.0));
        assert_eq!(why(&rig, &up), Some(NoTime::HalfAFlow));
        rig.air.set(Key::FlowKpa, Some(0.0));
        assert_eq!(why(&rig, &up), None);
        assert_eq!(why(&rig, &down), Some(NoTime::NoDeflator));
        rig.air.set(Key::OutKpa, Some(200.0));
        assert_eq!(why(&rig, &down), Some(NoTime::HalfAFlow));
        rig.air.set(Key::OutLitresPerMin, Some(300.0));
        assert_eq!(why(&rig, &down), None);
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

        timed(&mut rig, Air::UP, 100.0);
        let times = rig.times(&up);
        let tyre = times.axles[2].unwrap().tyre;
        assert!((tyre.low / tyre.high).value > 1.0 - 1e-9);
        assert!((tyre.low.get::<second>() - 100.0).abs() < 0.01);
        // Eight tyres, none before the first valve.
        let air = times.total.unwrap().low;
        rig.air.set(Key::ChangeOverS, Some(30.0));
        let walked = rig.times(&up).total.unwrap().low;
        assert!((minutes(walked - air) - 3.5).abs() < 1e-9);
        // A typed space stands on one side only: the doubt is back.
        rig.air.set_at(Key::SpaceL, 1, Some(70.0));
        let tyre = rig.times(&up).axles[1].unwrap().tyre;
        assert!((tyre.high / tyre.low).value > 1.0);
    }

    #[test]
    fn pauses_are_counted_over_the_whole_rig() {
        let mut rig = demo();
        let up = moves(&rig, 32.0, 50.0);
        let without = rig.times(&up).total.unwrap();
        rig.air.set(Key::DutyRunMin, Some(10.0));
        rig.air.set(Key::DutyRestMin, Some(20.0));
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
        timed(&mut rig, Air::DOWN, 60.0);
        let times = rig.times(&moves(&rig, 50.0, 32.0));
        let tyre = times.axles[1].unwrap().tyre;
        assert!((tyre.high.get::<second>() - 60.0).abs() < 0.01);
        assert!((minutes(times.total.unwrap().low) - 8.0).abs() < 0.01);
    }

    /// A damaged record may hold anything that JSON has. The test once only
    /// asked that nothing panics, and passed with every check deleted: now each
    /// figure out of its limits must take away what hangs on it, and the same
    /// figure within them must not.
    #[test]
    fn stored_figures_are_checked_on_their_way_in() {
        type Outcome = fn(&Rig) -> bool;
        let up: Outcome = |rig| rig.times(&moves(rig, 32.0, 50.0)).axles[0].is_ok();
        let down: Outcome = |rig| rig.times(&moves(rig, 50.0, 32.0)).axles[0].is_ok();
        let warm: Outcome = |rig| {
            let cold = Some(pressure(300.0));
            matches!(rig.warm(cold, GaugeStep::one_psi()), Ok(Some(_)))
        };
        // Each key with its field and a figure that goes with the others.
        let cases: &[(Key, Field, f64, Outcome)] = &[
            (Key::NowHeightM, Field::Height, 300.0, up),
            (Key::NowHeightM, Field::Height, 300.0, warm),
            (Key::NowCelsius, Field::AmbientTemperature, 25.0, up),
            (Key::NowCelsius, Field::AmbientTemperature, 25.0, warm),
            (Key::SetHeightM, Field::Height, 300.0, warm),
            (Key::SetCelsius, Field::AmbientTemperature, 18.0, warm),
            (Key::WarmKpa, Field::TyreReading, 330.0, warm),
            (Key::WarmColdKpa, Field::ColdPressure, 300.0, warm),
            (Key::TyreCelsius, Field::TyreTemperature, 45.0, warm),
            (Key::DutyRunMin, Field::DutyRun, 30.0, up),
            (Key::DutyRestMin, Field::DutyRest, 30.0, up),
            (Key::PumpMaximumKpa, Field::PumpMaximum, 1000.0, up),
            (Key::SpaceL, Field::AirSpace, 60.0, up),
            (Key::FlowLitresPerMin, Field::FreeAirFlow, 160.0, up),
            (Key::OutLitresPerMin, Field::FreeAirFlow, 300.0, down),
        ];
        for &(key, field, usual, outcome) in cases {
            let mut rig = demo();
            rig.air.set(Key::WarmKpa, Some(330.0));
            rig.air.set(Key::WarmColdKpa, Some(300.0));
            rig.air.set(Key::DutyRunMin, Some(30.0));
            rig.air.set(Key::DutyRestMin, Some(30.0));
            rig.air.set(Key::OutKpa, Some(250.0));
            rig.air.set(Key::OutLitresPerMin, Some(300.0));
            if key == Key::TyreCelsius {
                rig.air.set(Key::WarmByTemperature, Some(1.0));
                rig.air.set(Key::NowCelsius, Some(20.0));
            }
            rig.air.set(key, Some(usual));
            assert!(outcome(&rig), "{key:?} {usual}");
            let limit = field.limit();
            for value in [limit.min - 0.5, limit.max * 1.01, -1e300, 1e300] {
                rig.air.set(key, Some(value));
                assert!(!outcome(&rig), "{key:?} {value}");
            }
        }
    }

    #[test]
    fn what_belongs_to_an_axle_goes_with_it() {
        let mut air = Air::default();
        air.set(Key::WarmAxle, Some(2.0));
        air.set(Key::WarmKpa, Some(380.0));
        for axle in 0..3 {
            air.set_at(Key::SpaceL, axle, Some(f64::from(axle) + 80.0));
        }
        air.axle_removed(1);
        assert_eq!(air.count(Key::WarmAxle, 0), 1);
        assert_eq!(air.at(Key::SpaceL, 1), Some(82.0));
        assert_eq!(air.at(Key::SpaceL, 2), None);
        air.axle_removed(1);
        assert_eq!(air.get(Key::WarmKpa), None);
        assert_eq!(air.count(Key::WarmAxle, 0), 0);
    }

    #[test]
    fn the_stopwatch_of_a_walk_counts_only_while_air_moves() {
        let at = |seconds: f64| 20_000.0 + seconds / 86_400.0;
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-3, "{a} {b}");
        let mut walk = Walk::new(false, false);
        walk.toggle(at(1.0));
        near(walk.tyre_s(at(4.0)), 3.0);
        // A clock set back takes nothing away.
        near(walk.tyre_s(at(0.5)), 0.0);
        walk.toggle(at(5.0));
        walk.toggle(at(9.0));
        near(walk.tyre_s(at(10.0)), 5.0);
        walk.next(at(11.0));
        assert_eq!(walk.tyres_done, 1);
        near(walk.tyre_s(at(20.0)), 0.0);
        near(walk.air_s(at(20.0)), 6.0);
        walk.toggle(at(20.0));
        walk.rested(at(22.0));
        assert_eq!(walk.started_day, None);
        near(walk.since_rest_s(at(30.0)), 0.0);
        walk.back(at(30.0));
        assert_eq!(walk.tyres_done, 0);
        near(walk.air_s(at(30.0)), 8.0);
        walk.back(at(30.0));
        assert_eq!(walk.tyres_done, 0);
    }

    #[test]
    fn the_weather_of_another_day_is_forgotten() {
        let mut air = Air::default();
        air.set(Key::NowCelsius, Some(35.0));
        air.set(Key::NowDay, Some(20_000.0));
        air.set(Key::SetCelsius, Some(5.0));
        assert!(!air.forget_old(20_000.2));
        assert_eq!(air.get(Key::NowCelsius), Some(35.0));
        assert!(air.forget_old(20_000.3));
        assert_eq!(air.get(Key::NowCelsius), None);
        // Where and when it was set stays true.
        assert_eq!(air.get(Key::SetCelsius), Some(5.0));
        assert!(!air.forget_old(20_000.3));
    }

    #[test]
    fn a_warm_reading_counts_for_a_while_and_not_before_it_was_taken() {
        let minutes = |minutes: f64| 20_000.0 + minutes / 1440.0;
        assert!(Air::warm_counts(minutes(0.0), minutes(0.0)));
        assert!(Air::warm_counts(minutes(0.0), minutes(29.9)));
        assert!(!Air::warm_counts(minutes(0.0), minutes(30.1)));
        assert!(!Air::warm_counts(minutes(0.0), minutes(-0.1)));
    }
}
