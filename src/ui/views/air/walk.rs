//! The walk from tyre to tyre.

use super::now::{self, Now};
use super::{clock, heading, row, trip, words};
use crate::calc::surface;
use crate::rig::air::{Key, Move, Walk};
use crate::rig::{PressureUnit, Surface};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, Node, element, live};
use crate::ui::kit::fields::{button, buttons, focus_soon, paragraph};
use crate::ui::{kit::format, kit::words as shared};
use leptos::prelude::*;

const HEADING: &str = "walk-heading";

/// One tyre of the walk.
struct Step {
    axle: usize,
    tyre: u8,
}

fn steps(moves: &[Option<Move>]) -> Vec<Step> {
    let mut steps = Vec::new();
    for (axle, a) in moves.iter().enumerate() {
        let tyres = a.filter(|a| a.from != a.to).map_or(0, |a| a.tyres);
        steps.extend((0..tyres).map(|tyre| Step { axle, tyre }));
    }
    steps
}

fn change(state: State, change: fn(&mut Walk, f64)) {
    state.change(|rig| {
        let mut walk = rig.air.walk();
        if let Some(walk) = &mut walk {
            change(walk, clock::now_day());
        }
        rig.air.set_walk(walk);
    });
    // The keys were drawn anew; a screen reader goes on at the tyre.
    focus_soon(HEADING.to_owned());
}

/// Ends the walk, and keeps what it was where `log` says of how many tyres.
fn end(state: State, log: Option<usize>) {
    let number = |surface: Surface| {
        let all = surface::Surface::ALL;
        all.iter().position(|s| Surface::from(*s) == surface)
    };
    state.change(|rig| {
        let air = &mut rig.air;
        if let (Some(walk), Some(tyres)) = (air.walk(), log) {
            let now = clock::now_day();
            let mut ends = [air.from, air.to].map(|s| number(s).map(|n| n as f64));
            if walk.back {
                ends.reverse();
            }
            air.set(Key::DoneDay, Some(now));
            air.set(Key::DoneFrom, ends[0]);
            air.set(Key::DoneTo, ends[1]);
            air.set(Key::DoneTyres, Some(tyres as f64));
            air.set(Key::DoneS, Some(walk.air_s(now)));
        }
        air.set_walk(None);
    });
}

/// The walk under way.
pub fn view(state: State, clock: RwSignal<u32>, warm: Memo<Now>, held: RwSignal<bool>) -> AnyView {
    element("section")
        .class("walk")
        .attr("aria-labelledby", HEADING)
        .live(move || {
            let walk = state.rig(|rig| rig.air.walk());
            walk.map(|walk| part(state, clock, &warm.get(), walk))
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

fn part(state: State, clock: RwSignal<u32>, now: &Now, walk: Walk) -> Vec<AnyView> {
    let (from, to) = trip::ends(state, walk.back);
    let leg = trip::leg(state, from, to, now);
    let steps = steps(&leg.moves);
    let done = walk.tyres_done;
    let Some(step) = steps.get(done) else {
        return finished(state, to, steps.len(), walk);
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
    let unusable = match now {
        Now::Old { taken_day } => Some(now::old(*taken_day)),
        Now::Refused(why) => Some(why.clone()),
        Now::Unknown | Now::Warm { .. } => None,
    };
    if let Some(why) = unusable {
        let text = format!("{why} The figure below is a cold one.");
        parts.push(paragraph("warning", text).node());
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
    parts.push(keys(state, walk).node());
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
            .child(buttons().child(button("It has rested", move || change(state, Walk::rested)))),
    )
}

fn keys(state: State, walk: Walk) -> Element {
    let toggle = if walk.started_day.is_some() {
        "Stop"
    } else if walk.tyre_s > 0.0 {
        "Go on"
    } else {
        "Start"
    };
    element("div")
        .class("walk-keys")
        .child(button(toggle, move || change(state, Walk::toggle)))
        .child(button("Tyre done", move || change(state, Walk::next)).class("primary"))
        .child((walk.tyres_done > 0).then(|| button("Back", move || change(state, Walk::back))))
        .child(button("End walk", move || end(state, None)))
}

fn finished(state: State, to: Surface, tyres: usize, walk: Walk) -> Vec<AnyView> {
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
            .child(button("Log it", move || end(state, Some(tyres))).class("primary"))
            .child(button("Back", move || change(state, Walk::back)))
            .child(button("End walk", move || end(state, None)))
            .node(),
    ]
}
