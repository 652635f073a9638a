//! One quiet line that says how to keep a copy, when it is time.

use crate::store::merge;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, element, live};
use crate::ui::kit::fields::{button, buttons, link, paragraph};
use crate::ui::kit::{clock, route};
use leptos::prelude::*;

/// The line; nothing while no copy is due.
pub fn line(state: State) -> Content {
    let waved = RwSignal::new(0_u32);
    live(move || {
        waved.track();
        let said = said(state)?;
        let later = button("Not now", move || {
            state.with_shelf(|garage, shelf| garage.wave_away(shelf, clock::now_day()));
            waved.update(|waved| *waved += 1);
        });
        Some(
            element("aside")
                .class("quiet-line")
                .attr("aria-label", "Copies")
                .child(paragraph("", said))
                .child(
                    buttons()
                        .child(link("Keep a copy", route::COPIES))
                        .child(later),
                ),
        )
    })
}

fn said(state: State) -> Option<&'static str> {
    let entered = state.rig(|rig| {
        let entered = rig.axles.iter().any(|axle| !axle.tyre.trim().is_empty());
        !rig.demo && entered
    });
    if !entered {
        return None;
    }
    let sections = state.with_shelf(|garage, shelf| garage.parts(shelf));
    let copies = merge::copies(&sections);
    let due = copies.is_due(&merge::sums(&sections), clock::now_day());
    let said = match copies.copied {
        None => "This rig is on this phone alone. A copy is a file, a link, or a second phone.",
        Some(_) => {
            "Much has changed since the last copy of this rig. A copy is a file, a link, or a \
             second phone."
        }
    };
    due.then_some(said)
}
