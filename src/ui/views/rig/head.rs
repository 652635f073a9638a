//! The head of the view: the rig drawn, each axle with its mass or what it
//! needs; and what to do next.

use super::explain::{self, By, Need};
use super::{Entries, words};
use crate::rig::axle_field;
use crate::ui::frame::state::{Outcome, State, is_stopped};
use crate::ui::kit::element::{Element, Node, element, live};
use crate::ui::kit::fields::{button, focus_soon, link, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::rig_drawing::rig_drawing;
use crate::ui::kit::route;
use crate::ui::kit::tyre_names;
use leptos::prelude::*;

/// The rig from above; a tap on an axle's line goes to its entry.
pub(super) fn drawing(state: State, entries: Entries) -> Element {
    // The drawing is made anew for these alone, not for a digit typed.
    let lines = memo(move |_| {
        state.rig(|rig| {
            let axles = rig.axles.iter();
            axles
                .map(|axle| (axle.place, axle.axles, axle.dual))
                .collect::<Vec<_>>()
        })
    });
    element("div").class("rig-head").child(live(move || {
        lines.with(|_| ());
        rig_drawing(state, &|index| line(state, entries, index).node(), None)
    }))
}

fn line(state: State, entries: Entries, index: usize) -> Element {
    let stopped = move || entries.with(|of| of.get(index).is_some_and(is_stopped));
    let mass = move || {
        state.rig(|rig| {
            let axle = rig.axles.get(index)?;
            let kg = explain::entered_mass_kg(axle)?;
            Some(words::mass(axle, kg, rig.units()))
        })
    };
    let lacks = move || {
        if stopped() {
            return Some("too heavy");
        }
        entries.with(|of| need(of.get(index)?)).map(words::need)
    };
    element("button")
        .attr("type", "button")
        .attr_live("class", move || {
            let class = if stopped() {
                "entry-line danger"
            } else {
                "entry-line"
            };
            Some(class.to_owned())
        })
        .child(
            element("span")
                .class("name")
                .live(move || state.rig(|rig| tyre_names::group(rig, index))),
        )
        .child(element("span").live(mass))
        .child(element("span").class("lacks").live(lacks))
        .on("click", move |_| go_to(state, entries, index))
}

/// What an axle needs, while it needs something.
fn need(outcome: &Outcome) -> Option<Need> {
    match &outcome.result {
        None => Some(Need::Mend(By::Tyre)),
        Some(result) => explain::need(result.as_ref().err()?),
    }
}

/// Every axle that needs something, from the front of the rig.
fn needed(state: State, entries: Entries) -> Vec<(usize, Need)> {
    entries.with(|outcomes| {
        let order = state.rig_now(crate::rig::Rig::from_front).into_iter();
        order
            .filter_map(|index| Some((index, need(outcomes.get(index)?)?)))
            .collect()
    })
}

/// Goes to an axle's entry: to what it needs next, or to its heading.
fn go_to(state: State, entries: Entries, index: usize) {
    let lacks = entries.with_untracked(|of| need(of.get(index)?));
    let heading = axle_field(index, "heading");
    if let Some(element) = document().get_element_by_id(&heading) {
        element.scroll_into_view();
    }
    let wrong = state.wrong_field(index);
    let field = wrong.or_else(|| Some(axle_field(index, explain::field_of(lacks?))));
    focus_soon(field.unwrap_or(heading));
}

/// What is still to be entered and the way there; else the way to the figures.
pub(super) fn next(state: State, entries: Entries) -> Element {
    let next = memo(move |_| {
        let named = |(index, need)| (state.rig(|rig| tyre_names::group(rig, index)), need);
        let needed = needed(state, entries);
        let first = needed.first().map(|(index, _)| *index);
        first.map(|first| {
            let named: Vec<_> = needed.into_iter().map(named).collect();
            (first, words::still_needed(&named))
        })
    });
    element("div")
        .class("entry-step")
        .attr("role", "status")
        .live(move || match next.get() {
            Some((first, says)) => vec![
                paragraph("", says),
                button("Go on", move || go_to(state, entries, first)).class("primary"),
            ],
            None => {
                let figures = link("Show the pressures", route::PRESSURES);
                // The demo's next thing is one's own rig.
                let own = !state.rig(|rig| rig.demo);
                vec![if own {
                    figures.class("button primary")
                } else {
                    figures
                }]
            }
        })
}

/// Comes back to where an entry was stopped, unless something else has the
/// focus already.
pub(super) fn resume(state: State, entries: Entries) {
    if state.rig_now(|rig| rig.demo || explain::is_blank(rig)) {
        return;
    }
    let first = untrack(|| needed(state, entries))
        .first()
        .map(|(index, _)| *index);
    let Some(first) = first else { return };
    request_animation_frame(move || {
        let active = document().active_element();
        let nowhere = active.is_none_or(|of| matches!(&*of.tag_name(), "BODY" | "MAIN"));
        if nowhere {
            go_to(state, entries, first);
        }
    });
}
