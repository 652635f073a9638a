//! What the rig is set to, what comes next, and the one key for it.

use crate::rig::set_to::{AxleSet, Ended, Last, Likely, is_same};
use crate::rig::{Problem, Rig, Surface};
use crate::ui::frame::state::{Outcome, State, go_to};
use crate::ui::kit::clock;
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::{button, link, paragraph};
use crate::ui::kit::leg::{cold_moves, say_set, verb};
use crate::ui::kit::route;
use crate::ui::kit::words;
use leptos::prelude::*;

/// The first line of the page: what the tyres are set to, since when, and what
/// comes next. Nothing where that was never said.
pub fn line(state: State, clock: RwSignal<u32>) -> Option<Element> {
    let now = clock::following(clock);
    // Loads and placards change while tyres hold what they were set to.
    let falls_short = state.rig(|rig| rig.set_to.last).is_some_and(|last| {
        let short = |outcomes: &[Outcome]| {
            let mut axles = outcomes.iter().enumerate();
            axles.any(|(axle, outcome)| {
                let set = state.rig(|rig| rig.set_to_on(axle));
                let (AxleSet::Alike(set), Some(answer)) = (set, outcome.answer()) else {
                    return false;
                };
                let (set, now) = (set.pressure(), answer.recommended);
                set < now && !is_same(set, now)
            })
        };
        // Those of the surface picked are worked out already.
        if state.rig(|rig| rig.surface) == last.surface {
            state.outcomes.with(|outcomes| short(outcomes))
        } else {
            short(&state.outcomes_on(last.surface))
        }
    });
    let text = state.rig(|rig| {
        if let Some(walk) = rig.air.walk {
            let to = words::surface(rig.air.end_of(walk.back)).to_ascii_lowercase();
            let done = rig.set_to.walked.len();
            return Some((
                format!("Under way to {to}:"),
                format!("{} done, the others are still to do.", words::tyres(done)),
            ));
        }
        rig.set_to
            .last
            .map(|last| said(rig, last, now, falls_short))
    });
    let (what, next) = text?;
    Some(
        element("section")
            .class("set-to")
            .attr("aria-label", "What the rig is set to")
            .child(
                element("p")
                    .child(element("strong").child(what))
                    .child(" ")
                    .child(next),
            ),
    )
}

/// What the tyres are set to, and what comes next.
fn said(rig: &Rig, last: Last, now: f64, falls_short: bool) -> (String, String) {
    let surface = words::surface(last.surface).to_ascii_lowercase();
    let since = clock::since(last.day);
    let warm = last.likely(now) == Likely::Warm;
    let apart = (0..rig.axles.len()).any(|axle| matches!(rig.set_to_on(axle), AxleSet::Apart(_)));
    if last.ended == Ended::Abandoned || apart {
        return (
            format!("Left half done {since}:"),
            format!("some tyres are set for {surface}, some are not."),
        );
    }
    if falls_short {
        return (
            format!("Set for {surface} {since}, to lower figures than now:"),
            "the rig was changed since. Pump up.".to_owned(),
        );
    }
    let next = match last.surface {
        Surface::Sealed => "Let air out before dirt.",
        Surface::Bogged => "Once out, pump up.",
        _ => "Pump up before sealed road.",
    };
    if warm {
        // Their gauges read more than the cold figures on the drawing.
        return (
            format!("Set for {surface} {since}, tyres warm."),
            format!("Cold figures below: warm tyres read more; let none out to reach them. {next}"),
        );
    }
    (format!("Set for {surface} {since}."), next.to_owned())
}

/// Whether every axle is set to its figure for the surface picked.
fn is_set(state: State) -> bool {
    let (surface, walking) = state.rig(|rig| (rig.surface, rig.air.walk.is_some()));
    !walking
        && state.rig(|rig| rig.set_to.last.is_some_and(|last| last.surface == surface))
        && state.outcomes.with(|outcomes| {
            outcomes.iter().enumerate().all(|(axle, outcome)| {
                let Some(answer) = outcome.answer() else {
                    return matches!(outcome.result, Some(Err(Problem::LeftBehind)));
                };
                let set = state.rig(|rig| rig.set_to_on(axle));
                matches!(set, AxleSet::Alike(set) if is_same(set.pressure(), answer.recommended))
            })
        })
}

/// The key for what comes next.
pub fn next(state: State) -> Element {
    let surface = state.rig(|rig| rig.surface);
    let walking = state.rig(|rig| rig.air.walk.is_some());
    let demo = state.rig(|rig| rig.demo);
    let keys = element("div").class("buttons next-step");
    // One filled key a screen; of the invented rig that is 'Enter my rig'.
    let filled = move |key: Element| {
        if demo {
            key
        } else {
            key.class("button primary")
        }
    };
    if walking {
        return keys.child(filled(link("Go on with the walk", route::WALK)));
    }
    if is_set(state) {
        return match surface {
            Surface::Sealed => keys.child(paragraph(
                "said",
                "The tyres are set so. Pick the surface ahead when the road changes.",
            )),
            _ => keys.child(filled(button("Pump up for sealed road", move || {
                state.change(|rig| rig.surface = Surface::Sealed);
                go_to(route::WALK);
            }))),
        };
    }
    let moves = cold_moves(state, surface);
    if moves.iter().all(Option::is_none) {
        return keys;
    }
    let walk = element("a")
        .class("button")
        .attr("href", route::WALK)
        .child(verb(&moves, surface));
    keys.child(filled(walk))
        .child(button("They are set so", move || say_set(state)))
}
