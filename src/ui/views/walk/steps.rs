//! The walk under way: which tyre, what its gauge should read, and what is
//! done.

use super::{reading, start};
use crate::calc::fill::trip::{Between, Move, Times};
use crate::calc::gas::warm::Action;
use crate::calc::quantity::{GaugePressure, second};
use crate::rig::air::tools::{Timing, Tools, Way};
use crate::rig::air::{Air, Walk};
use crate::rig::position::TyrePosition;
use crate::rig::set_to::{Ended, SetTo, Step};
use crate::rig::typed::TypedMinutes;
use crate::rig::typed::in_unit::{kpa, seconds};
use crate::rig::{PressureUnit, Rig, Surface};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{button, buttons, focus_soon, link, paragraph, unit_key};
use crate::ui::kit::follow::memo;
use crate::ui::kit::leg::{self, Leg};
use crate::ui::kit::parts::heading;
use crate::ui::kit::rig_drawing::{Marks, Standing, rig_drawing};
use crate::ui::kit::route;
use crate::ui::kit::warm::{self, Now};
use crate::ui::kit::{air_words as words, clock, format, tools, tyre_names, words as shared};
use leptos::prelude::*;
use std::rc::Rc;

const HEADING: &str = "walk-heading";

/// How each axle moves, cold, which no warm reading changes.
type Cold = Vec<Option<Move>>;

/// A walk that has ended, and all that brings it back.
#[derive(Clone)]
pub struct Over {
    to: Surface,
    tyres: usize,
    whole: bool,
    air_s: f64,
    timed: Option<Timed>,
    before: (Air, SetTo),
}

/// The tyre timed last in this walk.
#[derive(Clone, Copy, PartialEq)]
struct Timed {
    step: Step,
    from: GaugePressure,
    to: GaugePressure,
    seconds: f64,
}

/// What the page follows of a walk.
#[derive(Clone, PartialEq)]
struct Plan {
    walk: Walk,
    leg: Leg,
    steps: Vec<Step>,
    times: Times,
    /// The tyre in hand; none where all are done.
    step: Option<Step>,
}

#[derive(Clone, Copy)]
struct Hand {
    state: State,
    clock: RwSignal<u32>,
    plan: Memo<Option<Plan>>,
    /// Whether the tyre in hand is being read again.
    reading: RwSignal<bool>,
    timed: RwSignal<Option<Timed>>,
    ended: RwSignal<Option<Over>>,
}

/// The walk under way.
pub fn view(
    state: State,
    clock: RwSignal<u32>,
    warm: Memo<Now>,
    held: RwSignal<bool>,
    ended: RwSignal<Option<Over>>,
) -> Content {
    let plan = memo(move |_| {
        let walk = state.rig(|rig| rig.air.walk)?;
        let to = state.rig(|rig| rig.air.end_of(walk.back));
        let now = warm.with(|now| at_this_tyre(now, walk));
        let leg = leg::leg(state, to, &now);
        let times = tools::times(state, &leg.moves);
        let (steps, step) = state.rig(|rig| {
            let steps = rig.walk_steps(&leg.cold);
            let open = |step: &Step| steps.contains(step) && !rig.set_to.is_walked(*step);
            // One that was tapped, out of its turn.
            let step = rig.set_to.in_hand.filter(|step| steps.contains(step));
            let step = step.or_else(|| steps.iter().copied().find(open));
            (steps, step)
        });
        Some(Plan {
            walk,
            leg,
            steps,
            times,
            step,
        })
    });
    let hand = Hand {
        state,
        clock,
        plan,
        reading: RwSignal::new(false),
        timed: RwSignal::new(None),
        ended,
    };
    element("section")
        .class("walk")
        .attr("aria-labelledby", HEADING)
        .live(move || hand.title())
        .child(live(move || {
            state.shape.track();
            hand.drawing()
        }))
        .live(move || hand.part(&warm.get()))
        .live(move || {
            paragraph(
                "hint",
                if held.get() {
                    "The screen stays on."
                } else {
                    "This browser may switch the screen off; the time runs on."
                },
            )
        })
        .node()
}

/// A tyre begun is finished by the reading that it was begun with.
fn at_this_tyre(now: &Now, walk: Walk) -> Now {
    match now {
        Now::Old {
            taken_day,
            air: Some(air),
            axle,
        } if walk.warm && (walk.started_day.is_some() || walk.tyre_s > 0.0) => Now::Warm {
            air: *air,
            taken_day: *taken_day,
            axle: *axle,
        },
        other => other.clone(),
    }
}

/// Why the walk has no number to show: its figures are to be warm and no
/// reading counts, or cold and a warm reading came in between.
fn asks(now: &Now, walk: Walk) -> Option<String> {
    match (walk.warm, now) {
        (true, Now::Warm { .. }) | (false, Now::Unknown) => None,
        (true, Now::Unknown) => {
            Some("These tyres were warm when the walk began. Read this one now.".to_owned())
        }
        (true, Now::Old { taken_day, .. }) => {
            Some(format!("{} Read this tyre now.", warm::old(*taken_day)))
        }
        (true, Now::Refused(why)) => Some(why.clone()),
        (false, _) => Some(
            "This walk began with cold figures, and a warm tyre was read since. Which are these \
             tyres now?"
                .to_owned(),
        ),
    }
}

impl Hand {
    fn change(self, change: impl FnOnce(&mut Rig, f64)) {
        self.state.change(|rig| change(rig, clock::now_day()));
        // The keys were drawn anew; a screen reader goes on at the tyre.
        focus_soon(HEADING.to_owned());
    }

    fn change_walk(self, by: fn(&mut Walk, f64)) {
        self.change(|rig, now_day| {
            if let Some(walk) = &mut rig.air.walk {
                by(walk, now_day);
            }
        });
    }

    fn name(self, step: Step) -> String {
        self.state.rig(|rig| {
            let round = rig.round();
            let at = round.into_iter().find(|at| is(*at, step));
            at.map_or(String::new(), |at| tyre_names::tyre(rig, at))
        })
    }

    fn title(self) -> Vec<Element> {
        let Some(plan) = self.plan.get() else {
            return Vec::new();
        };
        let done = self.state.rig(|rig| rig.set_to.walked.len());
        let name = match plan.step {
            Some(step) => self.name(step),
            None => "Every tyre is done".to_owned(),
        };
        vec![
            heading(HEADING, name).attr("tabindex", "-1"),
            paragraph(
                "cold",
                format!(
                    "{}: {done} of {} tyres done",
                    leg::verb(&plan.leg.cold, plan.leg.to),
                    plan.steps.len()
                ),
            ),
        ]
    }

    /// Where the tyre in hand stands, and how the others do. A tap on another
    /// takes that one first.
    fn drawing(self) -> Element {
        let standing = move |at: TyrePosition| {
            let Some(plan) = self.plan.get() else {
                return Standing::Open;
            };
            let place = plan.steps.iter().position(|step| is(at, *step));
            let walked = |step: Step| self.state.rig(|rig| rig.set_to.is_walked(step));
            match place {
                _ if plan.step.is_some_and(|step| is(at, step)) => Standing::Next,
                None if plan.leg.cold.get(at.group).is_none_or(Option::is_none) => Standing::Out,
                // It is as it should be already.
                None => Standing::Done,
                Some(place) if walked(plan.steps[place]) => Standing::Done,
                Some(place) if plan.steps[place..].iter().any(|step| walked(*step)) => {
                    Standing::Skipped
                }
                Some(_) => Standing::Open,
            }
        };
        let press = move |at: TyrePosition| {
            let step = Step {
                axle: at.group,
                tyre: at.number(),
            };
            if self
                .plan
                .with_untracked(|plan| plan.as_ref().is_some_and(|plan| plan.steps.contains(&step)))
            {
                self.change(|rig, _| rig.set_to.in_hand = Some(step));
            }
        };
        let marks = Marks {
            by_wheel: false,
            standing: Rc::new(standing),
            press: Rc::new(press),
        };
        rig_drawing(self.state, &|index| self.on_axle(index), Some(marks))
    }

    /// What each axle's gauges should read now.
    fn on_axle(self, index: usize) -> Content {
        live(move || {
            let plan = self.plan.get()?;
            let name = self.state.rig(|rig| tyre_names::group(rig, index));
            let unit = self.state.rig(|rig| rig.unit);
            let to = plan.leg.moves.get(index).copied().flatten();
            let leaves = self
                .state
                .rig(|rig| rig.axles.get(index).is_some_and(|axle| rig.leaves(axle)));
            let reads = match to {
                _ if leaves => "stays behind".to_owned(),
                Some(a) => format::pressure(unit, a.to),
                None => "no figure".to_owned(),
            };
            Some(
                element("p")
                    .class("on-line")
                    .child(element("span").class("name").child(name))
                    .child(" ")
                    .child(reads),
            )
        })
    }

    fn part(self, now: &Now) -> Vec<Content> {
        let Some(plan) = self.plan.get() else {
            return Vec::new();
        };
        let Some(step) = plan.step else {
            return vec![self.finish(&plan).node()];
        };
        if self.reading.get() {
            return vec![self.read_again().node()];
        }
        let (Some(cold), Some(a)) = (
            plan.leg.cold.get(step.axle).copied().flatten(),
            plan.leg.moves.get(step.axle).copied().flatten(),
        ) else {
            return Vec::new();
        };
        let now = at_this_tyre(now, plan.walk);
        if let Some(why) = asks(&now, plan.walk) {
            return vec![
                self.ask(&plan, why, step, cold).node(),
                self.leave(&plan).node(),
            ];
        }
        let unit = self.state.rig(|rig| rig.unit);
        let act = match &now {
            Now::Warm { air, .. } if plan.leg.warm => air
                .action(a.from, cold.to, warm::road(plan.leg.to), unit.step())
                .ok(),
            _ => None,
        };
        let mut parts = vec![figure(self.state, unit, act, &cold, &a).node()];
        if plan.leg.to == Surface::Sealed && plan.leg.warm {
            let says = "Sealed-road figure, tyre warm: pump up to it. If the tyre reads more, let \
                        none out; wait until it is cold.";
            parts.push(paragraph("warning", says).node());
        }
        let lacks = self.state.rig(|rig| {
            let mut axles = rig.axles.iter().zip(&plan.leg.moves);
            axles.any(|(axle, a)| a.is_none() && !rig.leaves(axle))
        });
        if lacks {
            let says = "An axle has no figure and is left out: see the pressures page.";
            parts.push(paragraph("warning", says).node());
        }
        let walk = plan.walk;
        let expected = match plan.times.axles.get(step.axle) {
            Some(Ok(times)) if start::times_usable(self.state) => Some(times.tyre),
            _ => None,
        };
        parts.push(self.keys(&plan, step, a).node());
        parts.push(stopwatch(self.clock, walk, expected).node());
        parts.push(live(move || self.rest(walk, a)));
        parts.push(self.leave(&plan).node());
        parts
    }

    fn read_again(self) -> Element {
        let show = button("Show the figure", move || {
            self.reading.set(false);
            focus_soon(HEADING.to_owned());
        });
        element("div")
            .class("form")
            .child(reading::again(self.state))
            .child(buttons().child(show.class("button primary")))
    }

    fn ask(self, plan: &Plan, why: String, step: Step, cold: Move) -> Element {
        let state = self.state;
        let warm_key = if plan.walk.warm {
            button("Read this tyre", move || {
                let kept = state.rig_now(|rig| {
                    let set = rig.set_to.tyre(step.axle, step.tyre);
                    set.map(|set| set.pressure())
                });
                warm::ask_again(state, step.axle, kept.unwrap_or(cold.from));
                self.reading.set(true);
                focus_soon("now-reading".to_owned());
            })
        } else {
            button("Warm", move || self.change_walk(|walk, _| walk.warm = true))
        };
        let is_cold = if plan.walk.warm {
            "Tyres are cold"
        } else {
            "Cold"
        };
        element("div")
            .class("form")
            .child(paragraph("warning", why).attr("role", "status"))
            .child(
                element("div")
                    .class("walk-keys")
                    .child(warm_key.class("button primary"))
                    .child(button(is_cold, move || {
                        warm::forget_reading(state);
                        self.change_walk(|walk, _| walk.warm = false);
                    })),
            )
    }

    fn keys(self, plan: &Plan, step: Step, a: Move) -> Element {
        let walk = plan.walk;
        let toggle = if walk.started_day.is_some() {
            "Stop the clock"
        } else if walk.tyre_s > 0.0 {
            "Clock on"
        } else {
            "Time it"
        };
        let cold = plan.leg.cold.clone();
        let last = {
            let left = plan
                .steps
                .iter()
                .filter(|of| **of != step && !self.state.rig(|rig| rig.set_to.is_walked(**of)));
            left.count() == 0
        };
        let keys = element("div").class("walk-keys");
        if self.state.rig(|rig| rig.set_to.is_walked(step)) {
            return keys
                .child(
                    button("Done already: go on", move || {
                        self.change(|rig, _| rig.set_to.in_hand = None);
                    })
                    .class("button primary"),
                )
                .child(button("Not done after all", move || {
                    self.change(|rig, now_day| rig.walk_undo(step, now_day));
                }));
        }
        keys.child(
            button("Tyre done", move || {
                self.done(step, a, &cold, last);
            })
            .class("button primary"),
        )
        .child(button(toggle, move || self.change_walk(Walk::toggle)))
    }

    fn done(self, step: Step, a: Move, cold: &Cold, last: bool) {
        let walk = self.state.rig_now(|rig| rig.air.walk);
        let seconds = walk.map_or(0.0, |walk| walk.tyre_s(clock::now_day()));
        if seconds > 0.0 {
            self.timed.set(Some(Timed {
                step,
                from: a.from,
                to: a.to,
                seconds,
            }));
        }
        // As it was before the last tap, so that a slip of the thumb on the
        // last tyre can be taken back.
        let before = self
            .state
            .rig_now(|rig| (rig.air.clone(), rig.set_to.clone()));
        self.change(|rig, now_day| rig.walk_tyre_done(step, cold, now_day));
        if last {
            self.end(cold, before);
        }
    }

    /// Ends the walk and keeps what the tyres are set to.
    fn end(self, cold: &Cold, before: (Air, SetTo)) {
        let mut over = None;
        let timed = self.timed.get_untracked();
        self.state.change(|rig| {
            let (walk, now) = (rig.air.walk, clock::now_day());
            let tyres = rig.set_to.walked.len();
            let ended = rig.walk_end(cold, now);
            let (Some(walk), Some(ended)) = (walk, ended) else {
                return;
            };
            over = Some(Over {
                to: rig.air.end_of(walk.back),
                tyres,
                whole: ended == Ended::Finished,
                air_s: walk.air_s(now),
                timed,
                before,
            });
        });
        self.ended.set(over);
        focus_soon(HEADING.to_owned());
    }

    /// The ways out of a tyre that is not done. The walk keeps its place while
    /// the page shows something else.
    fn leave(self, plan: &Plan) -> Element {
        let cold = plan.leg.cold.clone();
        let last = self.state.rig(|rig| rig.set_to.last_walked());
        let undo = last.map(|last| {
            element("button")
                .attr("type", "button")
                .child(format!("Undo: {}", self.name(last)))
                .on("click", move |_| {
                    self.change(|rig, now_day| rig.walk_undo(last, now_day));
                })
        });
        let begun = last.is_some();
        let end = button(if begun { "End it here" } else { "Not now" }, move || {
            let before = self
                .state
                .rig_now(|rig| (rig.air.clone(), rig.set_to.clone()));
            self.end(&cold, before);
        });
        buttons().child(undo).child(end)
    }

    /// All was done, but in another tab or by another figure.
    fn finish(self, plan: &Plan) -> Element {
        let cold = plan.leg.cold.clone();
        let keep = button("Keep it so", move || {
            let before = self
                .state
                .rig_now(|rig| (rig.air.clone(), rig.set_to.clone()));
            self.end(&cold, before);
        });
        buttons().child(keep.class("button primary"))
    }

    /// What the duty cycle says.
    fn rest(self, walk: Walk, a: Move) -> Option<Element> {
        let now_day = clock::following(self.clock);
        let tools = self.state.section::<Tools>();
        let (run, rest) = tools.read(|tools| {
            let of = &tools.compressor;
            let number = |of: TypedMinutes| of.amount().number();
            (of.run.map(number), of.rest.map(number))
        });
        let (run, rest) = (run?, rest?);
        if !a.is_up() || walk.since_rest_s(now_day) < run * 60.0 {
            return None;
        }
        let text = format!(
            "Let the compressor rest for {} min: it has run for its {} min.",
            format::entered(rest),
            format::entered(run)
        );
        let rested = button("It has rested", move || self.change_walk(Walk::rested));
        Some(
            element("div")
                .class("form")
                .child(paragraph("warning", text))
                .child(buttons().child(rested)),
        )
    }
}

fn is(at: TyrePosition, step: Step) -> bool {
    at.group == step.axle && at.number() == step.tyre
}

/// The number for the tyre in hand. `act` is what to do with a warm one; of a
/// cold one there is none.
fn figure(state: State, unit: PressureUnit, act: Option<Action>, cold: &Move, a: &Move) -> Element {
    let mut basis = format!("from about {}", format::pressure(unit, a.from));
    if act.is_some() {
        basis += &format!(" · cold {}", format::pressure(unit, cold.to));
    }
    let (class, mark) = match act {
        None | Some(Action::WaitUntilCold) => ("in-hand", "cold"),
        Some(_) => ("in-hand warm", "warm"),
    };
    let (verb, to) = match act {
        None if a.is_up() => ("Pump up to", a.to),
        None => ("Let down to", a.to),
        Some(Action::PumpUp(to)) => ("Pump up to", to),
        Some(Action::LetDown(to)) => ("Let down to", to),
        Some(Action::Leave) => ("Leave at about", a.to),
        Some(Action::WaitUntilCold) => ("Wait until cold, then let down to", cold.to),
    };
    element("div")
        .class(class)
        .attr("role", "status")
        .child(element("span").class("verb").child(verb))
        .child(" ")
        .child(
            element("span")
                .class("number")
                .child(format::pressure_number(unit, to)),
        )
        .child(" ")
        .child(unit_key(state, unit))
        .child(" ")
        .child(element("span").class("mark").child(mark))
        .child(" ")
        .child(element("span").class("from").child(basis))
}

fn stopwatch(clock: RwSignal<u32>, walk: Walk, expected: Option<Between>) -> Element {
    let time = element("p")
        .class("stopwatch")
        .attr("role", "timer")
        .live(move || words::stopwatch(walk.tyre_s(clock::following(clock))));
    let says = match expected {
        Some(expected) => format!("Expected: {}.", words::between(expected)),
        None => "No expected time.".to_owned(),
    };
    // Half as long again as the longest expected.
    let limit = expected.map(|expected| expected.high.get::<second>() * 1.5);
    let late =
        memo(move |_| limit.is_some_and(|limit| walk.tyre_s(clock::following(clock)) > limit));
    element("div")
        .class("timing")
        .child(time)
        .child(paragraph("hint", says))
        .live(move || {
            late.get().then(|| {
                paragraph(
                    "warning",
                    "Longer than expected: read the gauge, look at hose and valve.",
                )
                .attr("role", "status")
            })
        })
}

/// What came of a walk, and the way back into it.
pub fn ended(state: State, ended: RwSignal<Option<Over>>) -> Content {
    let Some(over) = ended.get_untracked() else {
        return Content::Nothing;
    };
    let to = shared::surface(over.to).to_ascii_lowercase();
    let title = if over.whole {
        format!("Set for {to}")
    } else {
        "Left half done".to_owned()
    };
    let mut text = format!("{} done.", shared::tyres(over.tyres));
    if over.air_s >= 1.0 {
        text += &format!(" Air moved for {}.", words::stopwatch(over.air_s));
    }
    let after = match (over.whole, over.to) {
        (false, _) => "Some tyres are set, some are not: do not drive so.",
        (true, Surface::Bogged) => "Put the valve caps on. Once out, pump up before driving on.",
        (true, Surface::Sealed) => "Read all tyres again cold, and put the valve caps on.",
        (true, _) => "Put the valve caps on. Pump up before sealed road.",
    };
    let class = if over.whole { "verdict" } else { "warning" };
    let undo = button("Undo", move || {
        if let Some(over) = ended.get_untracked() {
            let (air, set_to) = over.before;
            state.change(|rig| {
                rig.air = air;
                rig.set_to = set_to;
            });
            ended.set(None);
            focus_soon(HEADING.to_owned());
        }
    });
    let calibration = over.timed.and_then(|timed| use_timing(state, timed, ended));
    element("section")
        .class("walk")
        .attr("aria-labelledby", HEADING)
        .child(heading(HEADING, title).attr("tabindex", "-1"))
        .child(paragraph("", text))
        .child(paragraph(class, after))
        .child(calibration)
        .child(
            element("div")
                .class("walk-keys")
                .child(link("Back to the pressures", route::PRESSURES).class("button primary"))
                .child(undo),
        )
        .node()
}

/// A tyre that was timed tells the real flow: offered for later minutes.
fn use_timing(state: State, timed: Timed, ended: RwSignal<Option<Over>>) -> Option<Element> {
    let up = timed.to > timed.from;
    let way = if up { Way::Up } else { Way::Down };
    let (name, unit) = state.rig(|rig| (tyre_names::group(rig, timed.step.axle), rig.unit));
    let text = format!(
        "{name}: one tyre from {} to {} took {}.",
        format::pressure(unit, timed.from),
        format::pressure(unit, timed.to),
        words::stopwatch(timed.seconds)
    );
    let keep = button("Count on it for later minutes", move || {
        let axles = state.rig_now(Rig::axle_ids);
        state.section::<Tools>().change(|tools| {
            let read = |pressure| Some(kpa(PressureUnit::Kpa.number(pressure)));
            let timing = tools.timing_mut(way, &axles);
            *timing = Timing {
                axle: axles.get(timed.step.axle).copied(),
                from: read(timed.from),
                to: read(timed.to),
                took: Some(seconds(timed.seconds)),
                started_day: timing.started_day,
            };
        });
        ended.update(|over| {
            if let Some(over) = over {
                over.timed = None;
            }
        });
    });
    crate::calc::limits::Field::TimedRun
        .check(timed.seconds)
        .is_ok()
        .then(|| {
            element("div")
                .class("form")
                .child(paragraph("", text))
                .child(buttons().child(keep))
        })
}
