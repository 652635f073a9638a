//! What the rise of a warm tyre says.

use crate::rig::air::Warm;
use crate::rig::keep::Value;
use crate::ui::frame::state::State;
use crate::ui::kit::air_fields::{driven_field, reading_fields, setting_fields, warm_axle};
use crate::ui::kit::element::{Content, Element, Node, element};
use crate::ui::kit::fields::{button, buttons, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::parts::{closed, fold};
use crate::ui::kit::warm::sealed;
use crate::ui::kit::{air_words as words, clock};
use leptos::prelude::*;

/// What the rise of the tyre read warm says.
pub fn check(state: State, clock: RwSignal<u32>) -> Content {
    // The verdict is of what was entered when it was asked for.
    let entered = move || {
        let mut text = String::new();
        state.rig(|rig| rig.air.warm.write(&mut text));
        text
    };
    let asked = RwSignal::new(String::new());
    let current = memo(move |_| {
        asked.get() == entered()
            && !state.is_unusable("now-")
            && state.rig(|rig| {
                let taken = rig.air.warm.day;
                taken.is_some_and(|taken| Warm::counts(taken, clock::following(clock)))
            })
    });
    let verdict = move || {
        if asked.with(String::is_empty) {
            return Vec::new();
        }
        if !current.get() {
            return vec![paragraph("hint", "Changed or too old since: check again.")];
        }
        said(state)
    };
    closed("Warm check")
        .child(paragraph(
            "hint",
            "After an hour's drive, stop and read one tyre at once.",
        ))
        .child(warm_axle(state, "On which axle", "check-axle"))
        .child(reading_fields(state))
        .child(driven_field(state))
        .child(fold("Where it was set").child(setting_fields(state)))
        .child(
            buttons().child(
                button("Check the rise", move || {
                    asked.set(untrack(entered));
                })
                .class("primary"),
            ),
        )
        .child(element("div").attr("role", "status").live(verdict))
        .node()
}

fn said(state: State) -> Vec<Element> {
    let (axle, unit) = state.rig(|rig| (rig.air.warm.axle, rig.unit));
    let sealed = sealed(state, axle.into());
    match state.rig(|rig| rig.warm_check(sealed, unit.step())) {
        Ok(None) => vec![paragraph(
            "hint",
            "Enter what it reads now, its cold pressure and the time driven.",
        )],
        Err(error) => vec![paragraph("warning", words::warm_error(&error, unit))],
        Ok(Some(check)) => {
            let first = if words::is_bad(check.verdict) {
                "warning"
            } else {
                "verdict"
            };
            words::warm_check(&check, unit)
                .into_iter()
                .enumerate()
                .map(|(index, line)| paragraph(if index == 0 { first } else { "hint" }, line))
                .collect()
        }
    }
}
