//! The rig view: everything that the pressures follow from.

mod axle;
mod bands;
mod kept;
mod rigs;
mod settings;
pub mod tools;

use crate::rig::{Axle, Place, Rig, axle_field};
use crate::ui::frame::state::{Removed, State};
use crate::ui::kit::element::{Element, Node, element, live};
use crate::ui::kit::fields::{button, buttons, focus_soon, paragraph};
use leptos::prelude::*;
use rigs::{Listed, shown_name};

/// The view.
pub fn view(state: State) -> AnyView {
    // Followed by value, so that typing in a field rebuilds nothing else.
    let listed = Memo::new(move |_| {
        state.garage.with(|garage| Listed {
            rigs: garage
                .rigs()
                .map(|(id, rig)| (id, shown_name(rig)))
                .collect(),
            current: garage.current_id(),
            demo: garage.current().demo,
            set_aside: garage.set_aside().to_vec(),
        })
    });
    vec![
        live(move || removed(state)),
        live(move || rigs::rigs(state, listed.get())),
        live(move || {
            state.shape.track();
            fields(state)
        }),
        live(move || kept::set_aside(state, listed.get().set_aside)),
    ]
    .node()
}

fn removed(state: State) -> Option<Element> {
    let said = match state.removed.get()? {
        Removed::Rig(_, rig) => format!("“{}” was deleted.", shown_name(&rig)),
        Removed::Axle(..) => "The axle was removed.".to_owned(),
    };
    let undo = button("Undo", move || state.undo()).attr("id", UNDO);
    Some(
        element("div")
            .class("notice")
            .attr("role", "status")
            .child(paragraph("", said))
            .child(undo.class("primary")),
    )
}

const UNDO: &str = "undo";

fn fields(state: State) -> Vec<Element> {
    let axles = state.rig_now(|rig| rig.axles.len());
    let mut parts = vec![rigs::name(state)];
    parts.extend((0..axles).map(|index| axle::axle(state, index)));
    if axles < Rig::MOST_AXLES {
        parts.push(buttons().child(button("Add an axle", move || {
            state.reshape(|garage, shelf| {
                garage.change(shelf, |rig| rig.axles.push(Axle::empty(Place::Trailer)))
            });
            focus_soon(axle_field(axles, "tyre"));
        })));
    }
    parts.push(settings::settings(state));
    parts.push(bands::bands(state));
    parts
}

/// A part of the view that is folded away, unless something in it is wrong.
fn details(summary: &'static str, open: bool) -> Element {
    let details = element("details").child(element("summary").child(summary));
    if open {
        details.attr("open", "")
    } else {
        details
    }
}
