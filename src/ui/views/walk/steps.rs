//! The walk from tyre to tyre.

use super::sheet as trip;
use crate::calc::quantity::GaugePressure;
use crate::calc::surface;
use crate::rig::air::{Key, Move, Walk};
use crate::rig::set_to::{Ended, Step, steps};
use crate::rig::{PressureUnit, Rig, Surface};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, Node, element, live};
use crate::ui::kit::fields::{button, buttons, focus_soon, paragraph};
use crate::ui::kit::parts::{heading, row};
use crate::ui::kit::warm::{self as now, Now};
use crate::ui::kit::{air_words as words, clock};
use crate::ui::{kit::format, kit::words as shared};
use leptos::prelude::*;

const HEADING: &str = "walk-heading";

/// How each axle moves, cold, which no warm reading changes.
type Cold = Vec<Option<Move>>;

fn change(state: State, change: impl FnOnce(&mut Rig, f64)) {
    state.change(|rig| change(rig, clock::now_day()));
    // The keys were drawn anew; a screen reader goes on at the tyre.
    focus_soon(HEADING.to_owned());
}

fn change_walk(state: State, by: fn(&mut Walk, f64)) {
    change(state, |rig, now_day| {
        let mut walk = rig.air.walk();
        if let Some(walk) = &mut walk {
            by(walk, now_day);
        }
        rig.air.set_walk(walk);
    });
}

/// Ends the walk and keeps what the tyres are set to; a whole one is logged.
fn end(state: State, cold: &Cold) {
    let number = |surface: Surface| {
        let all = surface::Surface::ALL;
        all.iter().position(|s| Surface::from(*s) == surface)
    };
    state.change(|rig| {
        let (walk, now) = (rig.air.walk(), clock::now_day());
        let ended = rig.walk_end(cold, now);
        let air = &mut rig.air;
        if let (Some(walk), Some(Ended::Finished)) = (walk, ended) {
            let mut ends = [air.from, air.to].map(|s| number(s).map(|n| n as f64));
            if walk.back {
                ends.reverse();
            }
            air.set(Key::DoneDay, Some(now));
            air.set(Key::DoneFrom, ends[0]);
            air.set(Key::DoneTo, ends[1]);
            air.set(Key::DoneTyres, Some(steps(cold).len() as f64));
            air.set(Key::DoneS, Some(walk.air_s(now)));
        }
    });
}

/// The walk under way.
pub fn view(state: State, clock: RwSignal<u32>, warm: Memo<Now>, held: RwSignal<bool>) -> AnyView {
    // Whether the tyre in hand is being read again.
    let open = RwSignal::new(false);
    element("section")
        .class("walk")
        .attr("aria-labelledby", HEADING)
        .live(move || {
            let walk = state.rig_now(|rig| rig.air.walk());
            if open.get() {
                // While it is typed, nothing is drawn anew under the hand.
                return walk.map(|_| reading(state, open));
            }
            let walk = state.rig(|rig| rig.air.walk());
            walk.map(|walk| part(state, clock, &warm.get(), walk, open))
        })
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

fn reading(state: State, open: RwSignal<bool>) -> Vec<AnyView> {
    let show = button("Show the figure", move || {
        open.set(false);
        focus_soon(HEADING.to_owned());
    });
    vec![
        heading(HEADING, "This tyre, read now")
            .attr("tabindex", "-1")
            .node(),
        element("div")
            .class("form")
            .child(now::entries_again(state))
            .child(buttons().child(show.class("primary")))
            .node(),
    ]
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
            Some(format!("{} Read this tyre now.", now::old(*taken_day)))
        }
        (true, Now::Refused(why)) => Some(why.clone()),
        (false, _) => Some(
            "This walk began with cold figures, and a warm tyre was read since. Which are these \
             tyres now?"
                .to_owned(),
        ),
    }
}

fn ask(
    state: State,
    walk: Walk,
    why: String,
    step: Step,
    cold: GaugePressure,
    open: RwSignal<bool>,
) -> Element {
    let warm = if walk.warm {
        button("Read this tyre", move || {
            now::ask_again(state, step.axle, cold);
            open.set(true);
            focus_soon(HEADING.to_owned());
        })
    } else {
        button("Warm", move || {
            change_walk(state, |walk, _| walk.warm = true)
        })
    };
    let is_cold = if walk.warm { "Tyres are cold" } else { "Cold" };
    element("div")
        .class("form")
        .child(paragraph("warning", why).attr("role", "status"))
        .child(
            element("div")
                .class("walk-keys")
                .child(warm.class("primary"))
                .child(button(is_cold, move || {
                    now::forget_reading(state);
                    change_walk(state, |walk, _| walk.warm = false);
                })),
        )
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

fn part(
    state: State,
    clock: RwSignal<u32>,
    now: &Now,
    walk: Walk,
    open: RwSignal<bool>,
) -> Vec<AnyView> {
    let now = &at_this_tyre(now, walk);
    let (from, to) = trip::ends(state, walk.back);
    let leg = trip::leg(state, from, to, now);
    let steps = steps(&leg.cold);
    let done = walk.tyres_done;
    let Some(step) = steps.get(done).copied() else {
        return finished(state, to, leg.cold, steps.len(), walk);
    };
    let (Some(cold), Some(a)) = (
        leg.cold.get(step.axle).copied().flatten(),
        leg.moves.get(step.axle).copied().flatten(),
    ) else {
        return Vec::new();
    };
    let unit = state.rig(|rig| rig.unit);
    let name = leg.outcomes.get(step.axle).map_or("", |o| o.name);
    let title = heading(
        HEADING,
        format!(
            "Tyre {} of {}: {name}, {} of {}",
            done + 1,
            steps.len(),
            step.tyre + 1,
            a.tyres
        ),
    );
    let expected = match leg.times.axles.get(step.axle) {
        Some(Ok(times)) if trip::times_usable(state) => Some(times.tyre),
        _ => None,
    };
    let mut parts = vec![title.attr("tabindex", "-1").node()];
    if let Some(why) = asks(now, walk) {
        let kept = state.rig(|rig| {
            let set = rig.set_to.tyre(step.axle, step.tyre);
            set.map(|set| set.pressure())
        });
        let was_cold = kept.unwrap_or(cold.from);
        parts.push(ask(state, walk, why, step, was_cold, open).node());
        parts.push(
            element("div")
                .class("walk-keys")
                .child(leave(state, walk, leg.cold))
                .node(),
        );
        return parts;
    }
    parts.push(figure(unit, leg.warm, &cold, &a).node());
    if to == Surface::Sealed && leg.warm {
        parts.push(
            paragraph(
                "warning",
                "Sealed-road figure, tyre warm: pump up to it. If the tyre reads more, let none \
                 out; wait until it is cold.",
            )
            .node(),
        );
    }
    let missing = leg.moves.iter().any(Option::is_none);
    if missing {
        parts.push(
            paragraph(
                "warning",
                "An axle has no figure and is left out: see the pressures page.",
            )
            .node(),
        );
    }
    parts.push(stopwatch(clock, walk, expected).node());
    parts.push(live(move || rest(state, clock::following(clock), walk, a)));
    parts.push(keys(state, walk, leg.cold).node());
    parts
}

fn figure(unit: PressureUnit, warm: bool, cold: &Move, a: &Move) -> Element {
    let mut basis = format!("from about {}", format::pressure(unit, a.from));
    if warm {
        basis += &format!(" · cold {}", format::pressure(unit, cold.to));
    }
    let (class, mark) = if warm {
        ("axle warm", " warm")
    } else {
        ("axle", " cold")
    };
    let verb = match a.is_up() {
        true => "Pump up to",
        false => "Let down to",
    };
    element("div")
        .class(class)
        .child(row("h3", verb, 0, Some((unit, a.to, mark)), basis))
}

fn stopwatch(
    clock: RwSignal<u32>,
    walk: Walk,
    expected: Option<crate::rig::air::Between>,
) -> Element {
    use crate::calc::quantity::second;
    let time = element("p")
        .class("stopwatch")
        .attr("role", "timer")
        .live(move || words::stopwatch(walk.tyre_s(clock::following(clock))));
    let says = match expected {
        Some(expected) => format!("Expected: {}.", words::between(expected)),
        None => "No expected time: see the trip sheet.".to_owned(),
    };
    // Half as long again as the longest expected.
    let limit = expected.map(|expected| expected.high.get::<second>() * 1.5);
    let late =
        Memo::new(move |_| limit.is_some_and(|limit| walk.tyre_s(clock::following(clock)) > limit));
    element("div")
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

/// What the duty cycle says.
fn rest(state: State, now_day: f64, walk: Walk, a: Move) -> Option<Element> {
    let (run, rest) = state.rig(|rig| {
        let air = &rig.air;
        (air.get(Key::DutyRunMin), air.get(Key::DutyRestMin))
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
    Some(
        element("div")
            .class("form")
            .child(paragraph("warning", text))
            .child(buttons().child(button("It has rested", move || {
                change_walk(state, Walk::rested)
            }))),
    )
}

fn keys(state: State, walk: Walk, cold: Cold) -> Element {
    let toggle = if walk.started_day.is_some() {
        "Stop"
    } else if walk.tyre_s > 0.0 {
        "Go on"
    } else {
        "Start"
    };
    let done = cold.clone();
    element("div")
        .class("walk-keys")
        .child(button(toggle, move || change_walk(state, Walk::toggle)))
        .child(
            button("Tyre done", move || {
                change(state, |rig, now_day| rig.walk_tyre_done(&done, now_day));
            })
            .class("primary"),
        )
        .child(leave(state, walk, cold))
}

/// The ways out of a tyre that is not done.
fn leave(state: State, walk: Walk, cold: Cold) -> Vec<Element> {
    let mut keys = Vec::new();
    if walk.tyres_done > 0 {
        keys.push(button("Back", move || change(state, Rig::walk_back)));
    }
    keys.push(button("End walk", move || end(state, &cold)));
    keys
}

fn finished(state: State, to: Surface, cold: Cold, tyres: usize, walk: Walk) -> Vec<AnyView> {
    let text = format!(
        "{} pressures are in. Air moved for {}.",
        shared::surface_heading(to),
        words::stopwatch(walk.air_s(clock::now_day()))
    );
    let after = if to == Surface::Sealed {
        "Read all tyres again cold, and put the valve caps on."
    } else {
        "Put the valve caps on. Pump up before sealed road."
    };
    vec![
        heading(HEADING, format!("{tyres} tyres done"))
            .attr("tabindex", "-1")
            .node(),
        paragraph("verdict", text).node(),
        paragraph("", after).node(),
        element("div")
            .class("walk-keys")
            .child(button("Log it", move || end(state, &cold)).class("primary"))
            .child(button("Back", move || change(state, Rig::walk_back)))
            .node(),
    ]
}
