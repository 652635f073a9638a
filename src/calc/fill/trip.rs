//! How long a whole rig takes from one set of readings to another: every tyre
//! of every axle, the compressor's pauses, and the way from valve to valve.
//!
//! Each time is a range: the air space of a tyre is estimated between two
//! bounds, and a pump gives less than is printed on it. A tyre that was timed
//! makes one figure of it.

use super::compressor::{Compressor, DutyCycle, FlowPoint, PumpRemark};
use super::deflator::{Deflator, Fall};
use super::{Fill, InflationError, Site};
use crate::calc::gas::height::Height;
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{GaugePressure, Span, Time, Volume, VolumeRate, second};

/// Small pumps give from half to all of what is printed on them (common
/// practice, no source).
const LEAST_OF_PRINTED_FLOW: f64 = 0.5;

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
    /// A flow without the pressure that it is given at, or a pressure without
    /// its flow.
    HalfAFlow,
    /// The figures don't go together.
    Refused(InflationError),
}

crate::calc::error_by_its_fields!(NoTime);

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

    fn fill(&self, space: Volume, site: Site) -> Fill {
        Fill {
            space,
            from: self.from,
            to: self.to,
            air: site.temperature.into(),
        }
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

/// The air space of one tyre, or why it is not known.
pub type Space = Result<Span<Volume>, NoTime>;

/// One tyre timed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timing {
    /// Its air space.
    pub space: Space,
    /// Reading at the start.
    pub from: GaugePressure,
    /// Reading at the end.
    pub to: GaugePressure,
    /// What the stopwatch said.
    pub elapsed: Time,
}

/// What is known of the compressor and the deflator.
#[derive(Debug, Clone, PartialEq)]
pub struct Equipment {
    /// The compressor's stated flows, at sea level.
    pub flows: Vec<FlowPoint>,
    /// Whether a flow was stated without its pressure, or a pressure without
    /// its flow.
    pub half_a_flow: bool,
    /// Longest run of the compressor, and its rest after that.
    pub duty: Option<(Time, Time)>,
    /// Highest pressure that it is made for.
    pub maximum: Option<GaugePressure>,
    /// A tyre timed while it was pumped up.
    pub pumped: Option<Timing>,
    /// The deflator's stated flow and the pressure that it is stated at.
    pub out: Result<(VolumeRate, GaugePressure), NoTime>,
    /// A tyre timed while it was let down.
    pub let_down: Option<Timing>,
    /// From one valve to the next.
    pub change_over: Option<Time>,
}

/// One end of a range: which air space, and how much of the printed flow.
#[derive(Clone, Copy)]
enum End {
    Fast,
    Slow,
}

impl End {
    fn of(self, space: Span<Volume>) -> Volume {
        match self {
            Self::Fast => space.low,
            Self::Slow => space.high,
        }
    }
}

impl Times {
    /// No times of so many axles, all for one reason.
    pub fn refused(axles: usize, why: NoTime) -> Self {
        Self {
            axles: vec![Err(why); axles],
            total: None,
            pauses: Between::none(),
            remarks: Vec::new(),
        }
    }
}

impl Equipment {
    fn compressor(&self, end: End, site: Site) -> Result<Compressor, NoTime> {
        let duty = self.duty.map(|(run, rest)| DutyCycle::new(run, rest));
        let (duty, maximum) = (duty.transpose()?, self.maximum);
        let share = match (self.pumped, end) {
            (None, End::Slow) => LEAST_OF_PRINTED_FLOW,
            _ => 1.0,
        };
        let points: Vec<FlowPoint> = self
            .flows
            .iter()
            .map(|point| FlowPoint {
                at: point.at,
                flow: point.flow * share,
            })
            .collect();
        let Some(timed) = self.pumped else {
            if points.is_empty() {
                return Err(match self.half_a_flow {
                    true => NoTime::HalfAFlow,
                    false => NoTime::NoCompressor,
                });
            }
            return Ok(Compressor::new(&points, Height::SEA_LEVEL, duty, maximum)?);
        };
        let fill = Fill {
            space: end.of(timed.space?),
            from: timed.from,
            to: timed.to,
            air: site.temperature.into(),
        };
        if points.is_empty() {
            return Ok(Compressor::from_timing(
                &fill,
                site,
                timed.elapsed,
                duty,
                maximum,
            )?);
        }
        let stated = Compressor::new(&points, Height::SEA_LEVEL, duty, maximum)?;
        Ok(stated.calibrated(&fill, site, timed.elapsed)?)
    }

    fn deflator(&self, end: End, site: Site) -> Result<Deflator, NoTime> {
        if let Some(timed) = self.let_down {
            let fall = Fall {
                space: end.of(timed.space?),
                from: timed.from,
                to: timed.to,
            };
            return Ok(Deflator::timed(&fall, site, timed.elapsed)?);
        }
        let (flow, at) = self.out?;
        Ok(Deflator::stated(flow, at, site)?)
    }

    /// One axle's tyre, air moving, at one end of the range.
    fn tyre_time(&self, space: Space, a: &Move, end: End, site: Site) -> Result<Time, NoTime> {
        let space = end.of(space?);
        if a.is_up() {
            let fill = a.fill(space, site);
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
    /// and tyre by tyre, with the compressor rested at the start. `spaces` has
    /// the air space of a tyre of each axle.
    ///
    /// ```
    /// use tyreside::calc::fill::Site;
    /// use tyreside::calc::fill::compressor::FlowPoint;
    /// use tyreside::calc::fill::trip::{Equipment, Move, NoTime};
    /// use tyreside::calc::gas::{AmbientTemperature, height::Height};
    /// use tyreside::calc::quantity::{
    ///     GaugePressure, Span, Time, Volume, VolumeRate, kilopascal, liter, liter_per_minute,
    ///     minute, second,
    /// };
    /// let p = GaugePressure::new::<kilopascal>;
    /// let flow = VolumeRate::new::<liter_per_minute>(75.0);
    /// let equipment = Equipment {
    ///     flows: vec![FlowPoint { at: p(0.0), flow }],
    ///     half_a_flow: false,
    ///     duty: None,
    ///     maximum: None,
    ///     pumped: None,
    ///     out: Err(NoTime::NoDeflator),
    ///     let_down: None,
    ///     change_over: Some(Time::new::<second>(30.0)),
    /// };
    /// let space = Volume::new::<liter>(75.0);
    /// let known = Ok(Span { low: space, likely: space, high: space });
    /// // An atmosphere more in each: 75 L of free air, at all of the printed
    /// // flow to half of it, and once from valve to valve.
    /// let up = Move { from: p(0.0), to: p(101.325), tyres: 2 };
    /// let temperature = AmbientTemperature::celsius(20.0)?;
    /// let site = Site { height: Height::SEA_LEVEL, temperature };
    /// let total = equipment.times(&[known], &[Some(up)], site).total.ok_or("a time")?;
    /// assert!((total.low.get::<minute>() - 2.5).abs() < 1e-9);
    /// assert!((total.high.get::<minute>() - 4.5).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn times(&self, spaces: &[Space], moves: &[Option<Move>], site: Site) -> Times {
        let space = |axle: usize| spaces.get(axle).copied().unwrap_or(Err(NoTime::NoSize));
        let mut times = Times {
            axles: Vec::new(),
            total: None,
            pauses: Between::none(),
            remarks: Vec::new(),
        };
        let of_axle = |(index, a): (usize, &Option<Move>)| {
            let a = a.as_ref().ok_or(NoTime::NoPressure)?;
            let tyre = Between::of(
                self.tyre_time(space(index), a, End::Fast, site)?,
                self.tyre_time(space(index), a, End::Slow, site)?,
            );
            let axle = tyre.times(f64::from(a.tyres));
            Ok(AxleTimes { tyre, axle })
        };
        times.axles = moves.iter().enumerate().map(of_axle).collect();
        match self.pumping(&space, moves, &times.axles, site) {
            Ok((pauses, remarks)) => {
                times.remarks = remarks;
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
        space: &dyn Fn(usize) -> Space,
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
                        let fill = a.fill(end.of(space(index)?), site);
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
        let once = self.change_over.unwrap_or(Time::new::<second>(0.0));
        if Field::ChangeOver.check(once.get::<second>()).is_err() {
            return;
        }
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
