//! Compressor, deflator, and what was timed with them: what the minutes of a
//! trip follow from.

use crate::calc::fill::compressor::FlowPoint;
use crate::calc::fill::space::{Section as TyreSection, SectionHeight};
use crate::calc::fill::trip::{self, Equipment, Move, NoTime, Space, Times};
use crate::calc::limits::Field;
use crate::calc::quantity::{GaugePressure, Length, Span, VolumeRate, inch};
use crate::calc::tyre::designation::{Designation, Size};
use crate::rig::draft::Unusable;
use crate::rig::keep::{kept, kept_value};
use crate::rig::section::{Section, comes_back, entered};
use crate::rig::typed::{TypedFlow, TypedMinutes, TypedPressure, TypedSeconds, TypedVolume};
use crate::rig::{AxleId, Rig};

kept_value! {
    /// A stated flow of free air. Each says something with the other only.
    #[derive(Default)]
    pub struct Flow {
        /// How much.
        flow: Option<TypedFlow> = "flow",
        /// The pressure that it is stated at.
        at: Option<TypedPressure> = "at",
    }
}

impl Flow {
    /// Whether one of the two is there without the other.
    pub fn is_half(&self) -> bool {
        self.flow.is_some() != self.at.is_some()
    }

    fn whole(&self) -> Option<(VolumeRate, GaugePressure)> {
        Some((self.flow?.quantity(), self.at?.quantity()))
    }
}

kept_value! {
    /// The compressor as its maker states it, but for its flows.
    #[derive(Default)]
    pub struct Compressor {
        /// Its longest run.
        run: Option<TypedMinutes> = "run",
        /// Its rest after that.
        rest: Option<TypedMinutes> = "rest",
        /// Highest pressure that it is made for.
        maximum: Option<TypedPressure> = "maximum",
        /// Time from one valve to the next.
        change_over: Option<TypedSeconds> = "change_over",
    }
}

kept_value! {
    /// One tyre timed with the stopwatch.
    #[derive(Default)]
    pub struct Timing {
        /// Its axle.
        axle: Option<AxleId> = "axle",
        /// Its reading at the start.
        from: Option<TypedPressure> = "from",
        /// Its reading at the end.
        to: Option<TypedPressure> = "to",
        /// What the stopwatch said.
        took: Option<TypedSeconds> = "took",
        /// When the stopwatch was started, in days, while it runs.
        started_day: Option<f64> = "started_day",
    }
}

kept_value! {
    /// The air space of one tyre of an axle, where typed in.
    pub struct AxleSpace {
        /// The axle.
        axle: AxleId = "axle",
        /// The air space.
        volume: TypedVolume = "volume",
    }
}

kept! {
    /// Compressor, deflator and what was timed.
    #[derive(Default)]
    pub struct Tools {
        /// The compressor's stated flows.
        flows: Vec<Flow> = "flows",
        /// What else is stated of it.
        compressor: Compressor = "compressor",
        /// The deflator's stated flow.
        deflator: Flow = "deflator",
        /// A tyre timed while it was pumped up.
        pumped: Timing = "pumped",
        /// A tyre timed while it was let down.
        let_down: Timing = "let_down",
        /// Air spaces typed in.
        spaces: Vec<AxleSpace> = "spaces",
        /// Texts that could not be used, one a field.
        unusable: Vec<Unusable> = "unusable",
    }
}

/// Which way a tyre was timed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Pumped up.
    Up,
    /// Let down.
    Down,
}

impl Section for Tools {
    const PART: &'static str = "tools";
    /// Counted on from the section that it was part of.
    const VERSION: u32 = super::AS_ONE + 1;

    fn fresh(_: bool) -> Self {
        Self::default()
    }

    fn migrate(_: u32, body: &str) -> Option<Self> {
        super::version2::tools(body)
    }

    /// What a figure may be is checked on its way to where it counts.
    fn is_sound(&self) -> bool {
        self.flows.len() <= Self::MOST_FLOWS
            && self.spaces.len() <= Self::MOST_SPACES
            && comes_back(self)
    }
}

entered!(Tools);

impl Timing {
    /// Whether it is of an axle that is not among these.
    pub fn is_left(&self, axles: &[AxleId]) -> bool {
        self.axle.is_some_and(|axle| !axles.contains(&axle))
    }
}

impl Tools {
    /// Most stated flows.
    pub const MOST_FLOWS: usize = 3;
    /// Most air spaces kept: those of axles that are gone stay, should they
    /// come back.
    const MOST_SPACES: usize = 64;

    /// A stated flow of the compressor; a blank one where there is none.
    pub fn flow_mut(&mut self, index: usize) -> &mut Flow {
        let flows = &mut self.flows;
        let index = index.min(Self::MOST_FLOWS - 1);
        while flows.len() <= index {
            flows.push(Flow::default());
        }
        &mut flows[index]
    }

    /// What was timed.
    pub fn timing(&self, way: Way) -> &Timing {
        match way {
            Way::Up => &self.pumped,
            Way::Down => &self.let_down,
        }
    }

    /// The same; nothing of an axle that has gone.
    pub fn timing_of(&self, rig: &Rig, way: Way) -> Timing {
        let timing = self.timing(way);
        let there = timing.axle.is_none_or(|axle| rig.axle_at(axle).is_some());
        if there { *timing } else { Timing::default() }
    }

    /// The same, to change, of one of these axles: anew where it was of one
    /// that has gone, of the first where none was picked.
    pub fn timing_mut(&mut self, way: Way, axles: &[AxleId]) -> &mut Timing {
        let timing = match way {
            Way::Up => &mut self.pumped,
            Way::Down => &mut self.let_down,
        };
        if timing.is_left(axles) {
            *timing = Timing::default();
        }
        timing.axle = timing.axle.or(axles.first().copied());
        timing
    }

    /// Forgets what was timed.
    pub fn forget_timing(&mut self, way: Way) {
        *self.timing_mut(way, &[]) = Timing::default();
    }

    /// The air space typed in for an axle's tyres.
    pub fn space(&self, axle: AxleId) -> Option<TypedVolume> {
        let space = self.spaces.iter().find(|of| of.axle == axle)?;
        Some(space.volume)
    }

    /// Sets or forgets it.
    pub fn set_space(&mut self, axle: AxleId, volume: Option<TypedVolume>) {
        self.spaces.retain(|of| of.axle != axle);
        if let Some(volume) = volume {
            if self.spaces.len() == Self::MOST_SPACES {
                self.spaces.remove(0);
            }
            self.spaces.push(AxleSpace { axle, volume });
        }
    }

    fn timed(&self, rig: &Rig, way: Way) -> Option<trip::Timing> {
        let timing = self.timing(way);
        let axle = timing.axle.map_or(Some(0), |axle| rig.axle_at(axle))?;
        Some(trip::Timing {
            from: timing.from?.quantity(),
            to: timing.to?.quantity(),
            elapsed: timing.took?.quantity(),
            space: self.air_space(rig, axle),
        })
    }

    fn equipment(&self, rig: &Rig) -> Equipment {
        let of = &self.compressor;
        let mut flows = Vec::new();
        for (flow, at) in self.flows.iter().filter_map(Flow::whole) {
            flows.push(FlowPoint { at, flow });
        }
        let duty = of.run.zip(of.rest);
        Equipment {
            flows,
            half_a_flow: self.flows.iter().any(Flow::is_half),
            duty: duty.map(|(run, rest)| (run.quantity(), rest.quantity())),
            maximum: of.maximum.map(TypedPressure::quantity),
            pumped: self.timed(rig, Way::Up),
            out: self.deflator.whole().ok_or(match self.deflator.is_half() {
                true => NoTime::HalfAFlow,
                false => NoTime::NoDeflator,
            }),
            let_down: self.timed(rig, Way::Down),
            change_over: of.change_over.map(TypedSeconds::quantity),
        }
    }

    /// The air space of one of an axle's tyres: as typed in, or by its size.
    ///
    /// # Errors
    /// [`NoTime`].
    pub fn air_space(&self, rig: &Rig, axle: usize) -> Space {
        let id = rig.axles.get(axle).map(|axle| axle.id);
        if let Some(typed) = id.and_then(|id| self.space(id)) {
            let volume = typed.check(Field::AirSpace)?.quantity();
            return Ok(Span {
                low: volume,
                likely: volume,
                high: volume,
            });
        }
        space_by_size(rig, axle)
    }

    /// The times to take every axle of a rig from one reading to another.
    pub fn times(&self, rig: &Rig, moves: &[Option<Move>]) -> Times {
        let spaces: Vec<Space> = (0..moves.len())
            .map(|axle| self.air_space(rig, axle))
            .collect();
        match rig.air.now.site() {
            Ok(site) => self.equipment(rig).times(&spaces, moves, site),
            Err(error) => Times::refused(moves.len(), error.into()),
        }
    }
}

/// The air space of one of an axle's tyres by its size alone.
///
/// # Errors
/// [`NoTime`].
pub fn space_by_size(rig: &Rig, axle: usize) -> Space {
    let axle = rig.axles.get(axle).ok_or(NoTime::NoSize)?;
    let tyre = Designation::parse(&axle.tyre).map_err(|_| NoTime::NoSize)?;
    let section = TyreSection {
        width: tyre.section_width(),
        height: match tyre.size {
            Size::Metric { aspect, .. } => SectionHeight::Aspect(aspect),
            _ => SectionHeight::Overall(tyre.overall_diameter()),
        },
        rim: Length::new::<inch>(tyre.rim),
    };
    Ok(section.air_space()?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::{Time, minute, psi as psi_unit, second};
    use crate::rig::section;
    use crate::rig::typed::in_unit::{
        self, kpa, litres, litres_per_minute, minutes as typed_minutes, psi, seconds,
    };

    fn demo() -> (Rig, Tools) {
        let mut tools = Tools::default();
        for (index, at, flow) in [(0, 0.0, 160.0), (1, 276.0, 100.0)] {
            *tools.flow_mut(index) = Flow {
                flow: Some(litres_per_minute(flow)),
                at: Some(kpa(at)),
            };
        }
        (Rig::demo(), tools)
    }

    /// The front tyre timed from 32 to 50 psi or back.
    fn timed(tools: &mut Tools, way: Way, took: f64) {
        let (from, to) = match way {
            Way::Up => (psi(32.0), psi(50.0)),
            Way::Down => (psi(50.0), psi(32.0)),
        };
        let timing = tools.timing_mut(way, &[AxleId(0)]);
        (timing.from, timing.to) = (Some(from), Some(to));
        timing.took = Some(seconds(took));
    }

    fn moves(rig: &Rig, from: f64, to: f64) -> Vec<Option<Move>> {
        let p = GaugePressure::new::<psi_unit>;
        let axles = rig.axles.iter().map(|axle| {
            Some(Move {
                from: p(from),
                to: p(to),
                tyres: axle.group().tyres(),
            })
        });
        axles.collect()
    }

    fn minutes(time: Time) -> f64 {
        time.get::<minute>()
    }

    #[test]
    fn what_is_kept_comes_back_from_its_record() {
        let (_, mut tools) = demo();
        timed(&mut tools, Way::Down, 75.25);
        tools.pumped.started_day = Some(20_782.123_456_789);
        tools.deflator.flow = Some(litres_per_minute(300.0));
        tools.compressor.change_over = Some(seconds(45.0));
        tools.set_space(AxleId(2), Some(litres(80.5)));
        tools.set_space(AxleId(2), Some(litres(81.5)));
        tools.set_space(AxleId(1), Some(litres(70.0)));
        tools.set_space(AxleId(1), None);
        assert_eq!(tools.spaces.len(), 1);
        assert_eq!(section::again(&tools), tools);
        tools.flows.resize(4, Flow::default());
        assert!(!tools.is_sound());
    }

    /// A printed flow whose pressure was left blank was passed over as if no
    /// compressor had been entered.
    #[test]
    fn half_a_flow_is_not_taken_for_none() {
        let (rig, mut tools) = (Rig::demo(), Tools::default());
        let (up, down) = (moves(&rig, 32.0, 50.0), moves(&rig, 50.0, 32.0));
        let why = |tools: &Tools, moves: &[Option<Move>]| tools.times(&rig, moves).axles[0].err();
        assert_eq!(why(&tools, &up), Some(NoTime::NoCompressor));
        tools.flow_mut(0).flow = Some(litres_per_minute(72.0));
        assert_eq!(why(&tools, &up), Some(NoTime::HalfAFlow));
        tools.flow_mut(0).at = Some(kpa(0.0));
        assert_eq!(why(&tools, &up), None);
        assert_eq!(why(&tools, &down), Some(NoTime::NoDeflator));
        tools.deflator.at = Some(kpa(200.0));
        assert_eq!(why(&tools, &down), Some(NoTime::HalfAFlow));
        tools.deflator.flow = Some(litres_per_minute(300.0));
        assert_eq!(why(&tools, &down), None);
    }

    #[test]
    fn a_timing_makes_one_figure_of_a_range() {
        let (rig, mut tools) = demo();
        let up = moves(&rig, 32.0, 50.0);
        let printed = tools.times(&rig, &up);
        let tyre = printed.axles[0].unwrap().tyre;
        // Half the flow and 0.85/0.60 of the space.
        assert!(((tyre.high / tyre.low).value - 2.0 * 0.85 / 0.6).abs() < 1e-9);
        assert!(printed.total.is_some());

        timed(&mut tools, Way::Up, 100.0);
        let times = tools.times(&rig, &up);
        let tyre = times.axles[2].unwrap().tyre;
        assert!((tyre.low / tyre.high).value > 1.0 - 1e-9);
        assert!((tyre.low.get::<second>() - 100.0).abs() < 0.01);
        // Eight tyres, none before the first valve.
        let air = times.total.unwrap().low;
        tools.compressor.change_over = Some(seconds(30.0));
        let walked = tools.times(&rig, &up).total.unwrap().low;
        assert!((minutes(walked - air) - 3.5).abs() < 1e-9);
        // A typed space stands on one side only: the doubt is back.
        tools.set_space(rig.axles[1].id, Some(litres(70.0)));
        let tyre = tools.times(&rig, &up).axles[1].unwrap().tyre;
        assert!((tyre.high / tyre.low).value > 1.0);
    }

    #[test]
    fn pauses_are_counted_over_the_whole_rig() {
        let (rig, mut tools) = demo();
        let up = moves(&rig, 32.0, 50.0);
        let without = tools.times(&rig, &up).total.unwrap();
        tools.compressor.run = Some(typed_minutes(10.0));
        tools.compressor.rest = Some(typed_minutes(20.0));
        let times = tools.times(&rig, &up);
        let rests = (minutes(without.high) / 10.0).ceil() - 1.0;
        assert!((minutes(times.pauses.high) - 20.0 * rests).abs() < 1e-9);
        let with = times.total.unwrap();
        assert!((minutes(with.high - without.high) - 20.0 * rests).abs() < 1e-9);
    }

    #[test]
    fn an_axle_without_a_time_says_why_and_the_rig_has_none() {
        let (mut rig, tools) = demo();
        let (up, down) = (moves(&rig, 32.0, 50.0), moves(&rig, 50.0, 32.0));
        let none = Tools::default();
        assert_eq!(none.times(&rig, &up).axles[0], Err(NoTime::NoCompressor));
        assert_eq!(none.times(&rig, &down).axles[0], Err(NoTime::NoDeflator));
        rig.axles[1].tyre = "?".to_owned();
        let times = tools.times(&rig, &up);
        assert!(times.axles[0].is_ok());
        assert_eq!(times.axles[1], Err(NoTime::NoSize));
        assert_eq!(times.total, None);
        let mut missing = up.clone();
        missing[2] = None;
        let times = tools.times(&rig, &missing);
        assert_eq!(times.axles[2], Err(NoTime::NoPressure));
    }

    #[test]
    fn letting_down_is_timed_like_pumping_up() {
        let (rig, mut tools) = (Rig::demo(), Tools::default());
        timed(&mut tools, Way::Down, 60.0);
        let times = tools.times(&rig, &moves(&rig, 50.0, 32.0));
        let tyre = times.axles[1].unwrap().tyre;
        assert!((tyre.high.get::<second>() - 60.0).abs() < 0.01);
        assert!((minutes(times.total.unwrap().low) - 8.0).abs() < 0.01);
    }

    /// What was timed on an axle that has gone counts for nothing, and what is
    /// timed next is of one that is there.
    #[test]
    fn what_belongs_to_an_axle_goes_with_it() {
        let (mut rig, mut tools) = (Rig::demo(), Tools::default());
        let ids = rig.axle_ids();
        timed(&mut tools, Way::Down, 60.0);
        tools.let_down.axle = Some(ids[1]);
        for (index, id) in ids.iter().enumerate() {
            tools.set_space(*id, Some(litres(80.0 + index as f64)));
        }
        let down = moves(&rig, 50.0, 32.0);
        assert!(tools.times(&rig, &down).total.is_some());
        rig.remove_axle(1);
        assert_eq!(tools.timing_of(&rig, Way::Down), Timing::default());
        let times = tools.times(&rig, &moves(&rig, 50.0, 32.0));
        assert_eq!(times.axles[0], Err(NoTime::NoDeflator));
        let space = tools.air_space(&rig, 1).unwrap();
        assert_eq!(space.likely, litres(82.0).quantity());
        let there = rig.axle_ids();
        tools.timing_mut(Way::Down, &there).took = Some(seconds(50.0));
        let anew = Timing {
            axle: Some(ids[0]),
            took: Some(seconds(50.0)),
            ..Timing::default()
        };
        assert_eq!(tools.timing_of(&rig, Way::Down), anew);
    }

    /// Each figure out of its limits must take away what hangs on it, and the
    /// same figure within them must not.
    #[test]
    fn stored_figures_are_checked_on_their_way_in() {
        type Case = (Field, f64, bool, fn(&mut Tools, f64));
        let cases: &[Case] = &[
            (Field::DutyRun, 30.0, true, |tools, value| {
                tools.compressor.run = Some(typed_minutes(value));
            }),
            (Field::DutyRest, 30.0, true, |tools, value| {
                tools.compressor.rest = Some(typed_minutes(value));
            }),
            (Field::PumpMaximum, 1000.0, true, |tools, value| {
                tools.compressor.maximum = Some(kpa(value));
            }),
            (Field::AirSpace, 60.0, true, |tools, value| {
                tools.set_space(AxleId(0), Some(litres(value)));
            }),
            (Field::FreeAirFlow, 160.0, true, |tools, value| {
                tools.flow_mut(0).flow = Some(litres_per_minute(value));
            }),
            (Field::FreeAirFlow, 300.0, false, |tools, value| {
                tools.deflator.flow = Some(litres_per_minute(value));
            }),
        ];
        for (field, usual, up, put) in cases {
            let outcome = |value| {
                let (rig, mut tools) = demo();
                tools.compressor.run = Some(typed_minutes(30.0));
                tools.compressor.rest = Some(typed_minutes(30.0));
                tools.deflator.at = Some(kpa(250.0));
                put(&mut tools, value);
                let (from, to) = if *up { (32.0, 50.0) } else { (50.0, 32.0) };
                tools.times(&rig, &moves(&rig, from, to)).axles[0].is_ok()
            };
            assert!(outcome(*usual), "{field:?} {usual}");
            let limit = field.limit();
            for value in [limit.min - 0.5, limit.max * 1.01, -1e300, 1e300] {
                assert!(!outcome(value), "{field:?} {value}");
            }
        }
        for (field, usual) in [(Field::Height, 300.0), (Field::AmbientTemperature, 25.0)] {
            let outcome = |value| {
                let (mut rig, tools) = demo();
                match field {
                    Field::Height => rig.air.now.height = Some(in_unit::metres(value)),
                    _ => rig.air.now.temperature = Some(in_unit::celsius(value)),
                }
                tools.times(&rig, &moves(&rig, 32.0, 50.0)).axles[0].is_ok()
            };
            assert!(outcome(usual), "{field:?} {usual}");
            let limit = field.limit();
            for value in [limit.min - 0.5, limit.max * 1.01, -1e300, 1e300] {
                assert!(!outcome(value), "{field:?} {value}");
            }
        }
    }
}
