//! How long a compressor takes.

use super::{Fill, InflationError, Site, check_flow, check_timed, free_air};
use crate::calc::gas::height::Height;
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{
    GaugePressure, Time, Volume, VolumeRate, cubic_meter, kilopascal, liter_per_minute, minute,
    second,
};
use crate::calc::sort_by_number;

/// Free air that a compressor takes in while it pumps against a pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlowPoint {
    /// The gauge pressure it pumps against.
    pub at: GaugePressure,
    /// Free air at that pressure.
    pub flow: VolumeRate,
}

/// How long a compressor may run, and must then rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DutyCycle {
    run: Time,
    rest: Time,
}

impl DutyCycle {
    /// Runs of `run` with rests of `rest` between them.
    ///
    /// # Errors
    /// [`OutOfRange`] by the duty fields.
    pub fn new(run: Time, rest: Time) -> Result<Self, OutOfRange> {
        Field::DutyRun.check(run.get::<minute>())?;
        Field::DutyRest.check(rest.get::<minute>())?;
        Ok(Self { run, rest })
    }

    /// Rests within a running time of `run`, started rested. A rest that falls
    /// on the end is not taken.
    fn rests(self, run: Time) -> f64 {
        // Rounding may leave a whole run a hair over itself.
        const SNAP: f64 = 1e-9;
        ((run / self.run).value - SNAP).ceil().max(1.0) - 1.0
    }
}

/// What a time rests on, where that is less than it should.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PumpRemark {
    /// Pumps against more than the highest pressure whose flow is given. The
    /// flow above it is drawn on in a line; with one flow given it is taken as
    /// the same, and the true time is longer.
    AboveGiven {
        /// The highest pressure given, as a gauge shows it at this height.
        highest: GaugePressure,
    },
    /// Only one flow is given: how it falls with pressure isn't known.
    OneFlowGiven,
    /// No duty cycle is given: no pauses are counted.
    DutyNotGiven,
}

/// A running time and what it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct RunTime {
    /// Time running, without pauses.
    pub run: Time,
    /// Free air pumped.
    pub air: Volume,
    /// What to say beside it.
    pub remarks: Vec<PumpRemark>,
}

/// One tyre of a [`Plan`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TyreTime {
    /// Free air pumped.
    pub air: Volume,
    /// Time running.
    pub run: Time,
    /// Pauses that fall within it.
    pub pauses: Time,
    /// Getting to its valve from the one before.
    pub change_over: Time,
}

impl TyreTime {
    /// All of it.
    pub fn total(&self) -> Time {
        self.run + self.pauses + self.change_over
    }
}

/// Times of a rig's tyres, axle by axle, in the order given.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The tyres of each axle.
    pub axles: Vec<Vec<TyreTime>>,
    /// What to say beside it, each once.
    pub remarks: Vec<PumpRemark>,
}

impl Plan {
    /// All times of one axle, if there is such an axle.
    pub fn axle_total(&self, axle: usize) -> Option<Time> {
        self.axles
            .get(axle)
            .map(|tyres| tyres.iter().map(TyreTime::total).sum())
    }

    /// The time of the whole rig.
    pub fn total(&self) -> Time {
        self.tyres().map(TyreTime::total).sum()
    }

    /// The running time of the whole rig.
    pub fn run(&self) -> Time {
        self.tyres().map(|t| t.run).sum()
    }

    /// The pauses of the whole rig.
    pub fn pauses(&self) -> Time {
        self.tyres().map(|t| t.pauses).sum()
    }

    fn tyres(&self) -> impl Iterator<Item = &TyreTime> {
        self.axles.iter().flatten()
    }
}

/// A tyre of a rig for which there is no time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlanError {
    /// The axle and the tyre on it, both from 0; none where the change-over
    /// time is at fault.
    pub tyre: Option<(usize, usize)>,
    /// Why.
    pub error: InflationError,
}

crate::calc::error_by_its_fields!(PlanError);

/// A compressor by what it takes in at one to three pressures.
#[derive(Debug, Clone, PartialEq)]
pub struct Compressor {
    /// By rising pressure.
    points: Vec<FlowPoint>,
    stated_at: Height,
    duty: Option<DutyCycle>,
    maximum: Option<GaugePressure>,
}

const MOST_POINTS: usize = 3;
const LEAST_APART_KILOPASCAL: f64 = 10.0;

// A line drawn on past the last stated flow is not followed to nothing.
const LEAST_SHARE_OF_FLOW: f64 = 0.1;

// Small 12 V pumps give from half to all of what is printed on them (common
// practice, no source); twice or a fifth is a slip.
const PLAUSIBLE_TIMING: std::ops::RangeInclusive<f64> = 0.2..=2.0;

impl Compressor {
    /// A compressor with stated flows, as they are at `stated_at`: sea level,
    /// where nothing else is said. Without a duty cycle no pauses are counted.
    ///
    /// # Errors
    /// [`InflationError::PointCount`], [`InflationError::PointsTooClose`],
    /// [`InflationError::FlowRises`], [`InflationError::OutOfRange`].
    ///
    /// ```
    /// use tyreside::calc::gas::height::Height;
    /// use tyreside::calc::fill::compressor::{Compressor, FlowPoint};
    /// use tyreside::calc::quantity::{GaugePressure, VolumeRate, kilopascal, liter_per_minute};
    /// let point = |kpa, flow| FlowPoint {
    ///     at: GaugePressure::new::<kilopascal>(kpa),
    ///     flow: VolumeRate::new::<liter_per_minute>(flow),
    /// };
    /// let falls = [point(0.0, 160.0), point(200.0, 110.0)];
    /// assert!(Compressor::new(&falls, Height::SEA_LEVEL, None, None).is_ok());
    /// let rises = [point(0.0, 110.0), point(200.0, 160.0)];
    /// assert!(Compressor::new(&rises, Height::SEA_LEVEL, None, None).is_err());
    /// ```
    pub fn new(
        points: &[FlowPoint],
        stated_at: Height,
        duty: Option<DutyCycle>,
        maximum: Option<GaugePressure>,
    ) -> Result<Self, InflationError> {
        if !(1..=MOST_POINTS).contains(&points.len()) {
            return Err(InflationError::PointCount {
                given: points.len(),
            });
        }
        for point in points {
            Field::TyreReading.check_pressure(point.at)?;
            check_flow(point.flow)?;
        }
        if let Some(maximum) = maximum {
            Field::PumpMaximum.check_pressure(maximum)?;
        }
        let mut points = points.to_vec();
        sort_by_number(&mut points, |point| point.at.get::<kilopascal>());
        for (low, high) in points.iter().zip(points.iter().skip(1)) {
            if (high.at - low.at).get::<kilopascal>() < LEAST_APART_KILOPASCAL {
                return Err(InflationError::PointsTooClose);
            }
            if high.flow > low.flow {
                return Err(InflationError::FlowRises { at: high.at });
            }
        }
        Ok(Self {
            points,
            stated_at,
            duty,
            maximum,
        })
    }

    /// A compressor known only by one timed fill, stopwatch running while it
    /// pumped and stopped in pauses: its mean flow, stated at the pressure
    /// reached. Above that it is slower than this makes it.
    ///
    /// # Errors
    /// As [`Self::new`]; [`InflationError::NothingTimed`].
    pub fn from_timing(
        fill: &Fill,
        site: Site,
        elapsed: Time,
        duty: Option<DutyCycle>,
        maximum: Option<GaugePressure>,
    ) -> Result<Self, InflationError> {
        check_timed(elapsed)?;
        let air = free_air(fill, site)?;
        if air.get::<cubic_meter>() <= 0.0 {
            return Err(InflationError::NothingTimed);
        }
        let mean = FlowPoint {
            at: fill.to,
            flow: air / elapsed,
        };
        Self::new(&[mean], site.height, duty, maximum)
    }

    /// The same compressor with all flows scaled so that `fill` takes the
    /// `elapsed` running time.
    ///
    /// What it gives is right for tyres of the same air space, even where that
    /// is only an estimate.
    ///
    /// # Errors
    /// As [`Self::run_time`]; [`InflationError::NothingTimed`],
    /// [`InflationError::ImplausibleTiming`].
    pub fn calibrated(
        &self,
        fill: &Fill,
        site: Site,
        elapsed: Time,
    ) -> Result<Self, InflationError> {
        check_timed(elapsed)?;
        let stated = self.run_time(fill, site)?.run;
        if stated.get::<second>() <= 0.0 {
            return Err(InflationError::NothingTimed);
        }
        let ratio = (stated / elapsed).value;
        if !PLAUSIBLE_TIMING.contains(&ratio) {
            return Err(InflationError::ImplausibleTiming { ratio });
        }
        let points = self
            .points
            .iter()
            .map(|point| FlowPoint {
                at: point.at,
                flow: point.flow * ratio,
            })
            .collect::<Vec<_>>();
        Self::new(&points, self.stated_at, self.duty, self.maximum)
    }

    /// The stated flows, by rising pressure.
    pub fn points(&self) -> &[FlowPoint] {
        &self.points
    }

    /// Neighbouring points.
    fn pairs(&self) -> impl Iterator<Item = (&FlowPoint, &FlowPoint)> {
        self.points.iter().zip(self.points.iter().skip(1))
    }

    /// Flow in L/min at a gauge pressure where the flows were stated: a line
    /// between the stated ones, the first below them, the last line drawn on
    /// above.
    fn flow(&self, kilopascals: f64) -> f64 {
        let at = |p: &FlowPoint| (p.at.get::<kilopascal>(), p.flow.get::<liter_per_minute>());
        let pair = self
            .pairs()
            .find(|(_, high)| kilopascals <= at(high).0)
            .or_else(|| self.pairs().last());
        match (pair, self.points.first()) {
            (Some((low, high)), _) => {
                let ((p0, q0), (p1, q1)) = (at(low), at(high));
                q0 + (q1 - q0) * ((kilopascals - p0) / (p1 - p0)).max(0.0)
            }
            (None, Some(only)) => at(only).1,
            (None, None) => 0.0,
        }
    }

    /// What a kilopascal of gauge pressure at `site` is worth where the flows
    /// were stated. What a piston takes in depends, through its clearance, on
    /// the ratio of the absolute pressures (textbook, from memory).
    fn hardness(&self, site: Site) -> f64 {
        self.stated_at.ambient().ratio_to(site.height.ambient())
    }

    /// The highest gauge pressure at `site` for which there is a time.
    fn highest(&self, site: Site) -> Option<GaugePressure> {
        let by_flow = match self.points.as_slice() {
            [.., before, last] => {
                let fall = (before.flow - last.flow).get::<liter_per_minute>();
                let first = self.points.first().map_or(last.flow, |p| p.flow);
                let spare = (last.flow - first * LEAST_SHARE_OF_FLOW).get::<liter_per_minute>();
                let span = (last.at - before.at).get::<kilopascal>();
                // Stated flows are taken as they are, however small.
                (fall > 0.0).then(|| {
                    let drawn = last.at.get::<kilopascal>() + span * spare.max(0.0) / fall;
                    GaugePressure::new::<kilopascal>(drawn / self.hardness(site))
                })
            }
            _ => None,
        };
        match (by_flow, self.maximum) {
            (Some(flow), Some(made_for)) => Some(flow.min(made_for)),
            (flow, made_for) => flow.or(made_for),
        }
    }

    /// Time running to pump up one tyre: free air over the flow, integrated
    /// along the rising pressure.
    ///
    /// # Errors
    /// [`InflationError::OutOfReach`], and those of [`free_air`].
    pub fn run_time(&self, fill: &Fill, site: Site) -> Result<RunTime, InflationError> {
        let air = free_air(fill, site)?;
        if let Some(highest) = self.highest(site)
            && fill.to > highest
        {
            return Err(InflationError::OutOfReach {
                to: fill.to,
                highest,
            });
        }
        let hardness = self.hardness(site);
        let (from, to) = (
            fill.from.get::<kilopascal>() * hardness,
            fill.to.get::<kilopascal>() * hardness,
        );
        let mut run = Time::new::<second>(0.0);
        if to > from {
            let mut marks = vec![from];
            marks.extend(
                self.points
                    .iter()
                    .map(|p| p.at.get::<kilopascal>())
                    .filter(|p| (from..to).contains(p)),
            );
            marks.push(to);
            for (low, high) in marks.iter().zip(marks.iter().skip(1)) {
                let share = (high - low) / (to - from);
                let flow = logarithmic_mean(self.flow(*low), self.flow(*high));
                run += air * share / VolumeRate::new::<liter_per_minute>(flow);
            }
        }
        let mut remarks = Vec::new();
        if self.points.len() == 1 {
            remarks.push(PumpRemark::OneFlowGiven);
        }
        if let Some(last) = self.points.last()
            && to > last.at.get::<kilopascal>()
        {
            remarks.push(PumpRemark::AboveGiven {
                highest: last.at.scaled(hardness.recip()),
            });
        }
        if self.duty.is_none() {
            remarks.push(PumpRemark::DutyNotGiven);
        }
        Ok(RunTime { run, air, remarks })
    }

    /// Times to pump up a rig, tyre after tyre in the order given, starting
    /// rested. Moving from valve to valve does not count as rest.
    ///
    /// # Errors
    /// [`PlanError`] at the first tyre without a time.
    pub fn plan<T: AsRef<[Fill]>>(
        &self,
        axles: &[T],
        site: Site,
        change_over: Time,
    ) -> Result<Plan, PlanError> {
        let nowhere = |error: OutOfRange| PlanError {
            tyre: None,
            error: error.into(),
        };
        Field::ChangeOver
            .check(change_over.get::<second>())
            .map_err(nowhere)?;
        let none = Time::new::<second>(0.0);
        let mut plan = Plan {
            axles: Vec::new(),
            remarks: Vec::new(),
        };
        let mut so_far = none;
        let mut first = true;
        for (axle, fills) in axles.iter().enumerate() {
            let mut tyres = Vec::new();
            for (tyre, fill) in fills.as_ref().iter().enumerate() {
                let RunTime { run, air, remarks } =
                    self.run_time(fill, site).map_err(|error| PlanError {
                        tyre: Some((axle, tyre)),
                        error,
                    })?;
                let pauses = self.duty.map_or(none, |duty| {
                    duty.rest * (duty.rests(so_far + run) - duty.rests(so_far))
                });
                so_far += run;
                tyres.push(TyreTime {
                    air,
                    run,
                    pauses,
                    change_over: if first { none } else { change_over },
                });
                first = false;
                for remark in remarks {
                    if !plan.remarks.contains(&remark) {
                        plan.remarks.push(remark);
                    }
                }
            }
            plan.axles.push(tyres);
        }
        Ok(plan)
    }
}

/// The mean of a flow that changes in a line, as the time at it has it:
/// `(b − a)/ln(b/a)`.
fn logarithmic_mean(a: f64, b: f64) -> f64 {
    let change = (b - a) / a;
    // Below this the quotient loses digits, and the mean is the middle.
    if change.abs() < 1e-7 {
        return f64::midpoint(a, b);
    }
    a * change / change.ln_1p()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::gas::AmbientTemperature;
    use crate::calc::quantity::liter;

    fn site(metres: f64) -> Site {
        Site {
            height: Height::metres(metres).unwrap(),
            temperature: AmbientTemperature::celsius(20.0).unwrap(),
        }
    }

    fn fill(from: f64, to: f64) -> Fill {
        Fill {
            space: Volume::new::<liter>(80.0),
            from: GaugePressure::new::<kilopascal>(from),
            to: GaugePressure::new::<kilopascal>(to),
            air: AmbientTemperature::celsius(20.0).unwrap().into(),
        }
    }

    fn minutes(value: f64) -> Time {
        Time::new::<minute>(value)
    }

    fn pump(points: &[(f64, f64)], duty: Option<(f64, f64)>) -> Compressor {
        let points = points
            .iter()
            .map(|&(at, flow)| FlowPoint {
                at: GaugePressure::new::<kilopascal>(at),
                flow: VolumeRate::new::<liter_per_minute>(flow),
            })
            .collect::<Vec<_>>();
        let duty = duty.map(|(run, rest)| DutyCycle::new(minutes(run), minutes(rest)).unwrap());
        Compressor::new(&points, Height::SEA_LEVEL, duty, None).unwrap()
    }

    /// Against a sum over a hundred thousand small steps of the same law.
    #[test]
    fn the_integral_is_the_sum_of_small_steps() {
        let pump = pump(&[(50.0, 160.0), (200.0, 120.0), (400.0, 60.0)], None);
        for (from, to) in [(0.0, 40.0), (0.0, 450.0), (100.0, 300.0), (199.0, 201.0)] {
            let steps = 100_000;
            let width = (to - from) / f64::from(steps);
            let sum: f64 = (0..steps)
                .map(|i| {
                    let middle = from + width * (f64::from(i) + 0.5);
                    80.0 * width / 101.325 / pump.flow(middle)
                })
                .sum();
            let run = pump.run_time(&fill(from, to), site(0.0)).unwrap().run;
            assert!(
                (run.get::<minute>() / sum - 1.0).abs() < 1e-8,
                "{from} {to}"
            );
        }
    }

    #[test]
    fn a_flow_is_drawn_on_only_with_a_remark_and_not_to_nothing() {
        let two = pump(&[(0.0, 160.0), (200.0, 110.0)], None);
        let within = two.run_time(&fill(100.0, 200.0), site(0.0)).unwrap();
        assert_eq!(within.remarks, [PumpRemark::DutyNotGiven]);
        let above = two.run_time(&fill(100.0, 300.0), site(0.0)).unwrap();
        assert!(matches!(
            above.remarks[..],
            [PumpRemark::AboveGiven { .. }, PumpRemark::DutyNotGiven]
        ));
        // 160 − 0.25 per kPa comes to 16, a tenth, at 576 kPa.
        assert!(two.run_time(&fill(100.0, 575.0), site(0.0)).is_ok());
        assert!(matches!(
            two.run_time(&fill(100.0, 577.0), site(0.0)),
            Err(InflationError::OutOfReach { highest, .. })
                if (highest.get::<kilopascal>() - 576.0).abs() < 1e-9
        ));
        let one = pump(&[(0.0, 160.0)], Some((20.0, 20.0)));
        let run = one.run_time(&fill(100.0, 300.0), site(0.0)).unwrap();
        assert!(matches!(
            run.remarks[..],
            [PumpRemark::OneFlowGiven, PumpRemark::AboveGiven { .. }]
        ));
    }

    #[test]
    fn a_pump_is_refused_what_it_is_not_made_for() {
        let point = FlowPoint {
            at: GaugePressure::new::<kilopascal>(0.0),
            flow: VolumeRate::new::<liter_per_minute>(70.0),
        };
        let made_for = GaugePressure::new::<kilopascal>(400.0);
        let pump = Compressor::new(&[point], Height::SEA_LEVEL, None, Some(made_for)).unwrap();
        assert!(pump.run_time(&fill(200.0, 400.0), site(0.0)).is_ok());
        assert_eq!(
            pump.run_time(&fill(200.0, 450.0), site(0.0)).unwrap_err(),
            InflationError::OutOfReach {
                to: GaugePressure::new::<kilopascal>(450.0),
                highest: made_for
            }
        );
    }

    #[test]
    fn flows_that_no_pump_has_are_refused() {
        let new = |points: &[(f64, f64)]| {
            let points = points
                .iter()
                .map(|&(at, flow)| FlowPoint {
                    at: GaugePressure::new::<kilopascal>(at),
                    flow: VolumeRate::new::<liter_per_minute>(flow),
                })
                .collect::<Vec<_>>();
            Compressor::new(&points, Height::SEA_LEVEL, None, None).unwrap_err()
        };
        assert_eq!(new(&[]), InflationError::PointCount { given: 0 });
        let four = [(0.0, 9.0), (100.0, 8.0), (200.0, 7.0), (300.0, 6.0)];
        assert_eq!(new(&four), InflationError::PointCount { given: 4 });
        assert_eq!(
            new(&[(100.0, 80.0), (105.0, 70.0)]),
            InflationError::PointsTooClose
        );
        assert!(matches!(
            new(&[(200.0, 80.0), (0.0, 70.0)]),
            InflationError::FlowRises { at } if at.get::<kilopascal>() == 200.0
        ));
        assert!(matches!(
            new(&[(0.0, f64::NAN)]),
            InflationError::OutOfRange(_)
        ));
    }

    #[test]
    fn the_same_reading_is_harder_to_pump_to_up_high() {
        let pump = pump(&[(0.0, 160.0), (400.0, 80.0)], None);
        let sea = pump.run_time(&fill(150.0, 300.0), site(0.0)).unwrap();
        let high = pump.run_time(&fill(150.0, 300.0), site(3000.0)).unwrap();
        // Thin air takes 1.445 times as much of it, and the ratio is higher.
        assert!((high.air / sea.air).value > 1.44);
        assert!(high.run / sea.run > high.air / sea.air);
    }

    #[test]
    fn pauses_come_between_runs_and_add_up_over_the_rig() {
        // Each tyre: 80 L, 200 kPa: 157.9 L of free air; at 31.58 L/min 5 min.
        let flow = 80.0 * 200.0 / 101.325 / 5.0;
        let pump = pump(&[(0.0, flow)], Some((10.0, 20.0)));
        let axle = vec![fill(100.0, 300.0); 2];
        let plan = pump
            .plan(&[axle.clone(), axle.clone(), axle], site(0.0), minutes(1.0))
            .unwrap();
        // 30 minutes running is three runs of ten with two rests between.
        assert!((plan.run().get::<minute>() - 30.0).abs() < 1e-9);
        assert!((plan.pauses().get::<minute>() - 40.0).abs() < 1e-9);
        assert!((plan.total().get::<minute>() - 75.0).abs() < 1e-9);
        let axles: Vec<f64> = (0..3)
            .filter_map(|axle| plan.axle_total(axle))
            .map(|t| t.get::<minute>())
            .collect();
        // The rests fall in the first tyre after each ten minutes.
        for (axle, expected) in axles.iter().zip([11.0, 32.0, 32.0]) {
            assert!((axle - expected).abs() < 1e-9, "{axles:?}");
        }
        assert_eq!(plan.axle_total(3), None);
        assert!(matches!(
            plan.remarks[..],
            [PumpRemark::OneFlowGiven, PumpRemark::AboveGiven { .. }]
        ));
    }

    #[test]
    fn a_run_that_rounding_makes_a_hair_too_long_needs_no_rest() {
        let duty = DutyCycle::new(minutes(10.0), minutes(20.0)).unwrap();
        let rests = |run: f64| duty.rests(minutes(run));
        assert_eq!(rests(0.0), 0.0);
        assert_eq!(rests(10.0), 0.0);
        assert_eq!(rests(10.0 * (1.0 + 1e-12)), 0.0);
        assert_eq!(rests(10.001), 1.0);
        assert_eq!(rests(20.0), 1.0);
    }

    #[test]
    fn a_plan_says_which_tyre_it_has_no_time_for() {
        let pump = pump(&[(0.0, 70.0)], None);
        let axles = [vec![fill(100.0, 300.0)], vec![fill(300.0, 100.0)]];
        let failed = pump.plan(&axles, site(0.0), minutes(0.0)).unwrap_err();
        assert_eq!(failed.tyre, Some((1, 0)));
        assert!(matches!(failed.error, InflationError::WrongWay { .. }));
        let failed = pump.plan(&axles, site(0.0), minutes(60.0)).unwrap_err();
        assert_eq!(failed.tyre, None);
    }

    #[test]
    fn a_calibrated_pump_takes_the_time_it_was_timed_at() {
        let stated = pump(&[(0.0, 160.0), (300.0, 100.0)], None);
        let timed = fill(120.0, 260.0);
        let elapsed = Time::new::<second>(95.0);
        let real = stated.calibrated(&timed, site(0.0), elapsed).unwrap();
        let run = real.run_time(&timed, site(0.0)).unwrap().run;
        assert!((run.get::<second>() - 95.0).abs() < 1e-9);
        let by_timing = Compressor::from_timing(&timed, site(0.0), elapsed, None, None).unwrap();
        let run = by_timing.run_time(&timed, site(0.0)).unwrap();
        assert!((run.run.get::<second>() - 95.0).abs() < 1e-9);
        assert_eq!(
            run.remarks,
            [PumpRemark::OneFlowGiven, PumpRemark::DutyNotGiven]
        );
        assert_eq!(
            stated.calibrated(&fill(120.0, 120.0), site(0.0), elapsed),
            Err(InflationError::NothingTimed)
        );
        assert!(matches!(
            stated.calibrated(&timed, site(0.0), Time::new::<second>(5.0)),
            Err(InflationError::ImplausibleTiming { ratio }) if ratio > 2.0
        ));
    }
}
