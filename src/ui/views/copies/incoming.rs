//! A rig that comes by link: what it is, and whether it is wanted.

use super::{coming, words};
use crate::store::link;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Node};
use crate::ui::kit::fields::{button, buttons, focus_soon, paragraph};
use crate::ui::kit::parts::part;
use crate::ui::kit::route;
use leptos::prelude::*;

/// The view.
pub fn view(state: State) -> Content {
    let hash = window().location().hash().unwrap_or_default();
    let box_ = part("incoming-heading", "A rig by link");
    match link::read(hash.trim_start_matches('#')) {
        Err(why) => box_
            .child(paragraph("", words::link(why)).attr("role", "alert"))
            .child(buttons().child(button("Leave it", || answered(false)))),
        Ok(found) => box_.child(coming::preview(state, &[found], true, answered)),
    }
    .node()
}

/// Takes the link out of the address bar, and out of the way back.
fn answered(kept: bool) {
    let to = if kept { "#/rig" } else { route::PRESSURES };
    let _ = window().location().replace(to);
    if kept {
        focus_soon(super::view::UNDO.to_owned());
    }
}
