//! The table of views: a row for each, in the order of the keys below.
//!
//! A new view is a folder in `ui::views` and a row here. `part!` leaves its
//! code out of the program that the first figure waits for; [`Part::Here`]
//! keeps it in. One part holds all that is left out: by itself each view's
//! would come to more bytes together (DEVELOPERS.md).

use crate::ui::frame::parts::{Part, part};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Node, live};
use crate::ui::views::{checks, convert, footprint, nuts, pressures, rig, walk};
use leptos::prelude::*;

/// A view's row.
pub struct Row {
    /// Its address, as the browser shows it.
    pub address: &'static str,
    /// Its name on its key and in the browser's title.
    pub title: &'static str,
    /// Whether it has a key of its own; else another view leads to it.
    pub key: bool,
    /// Its code.
    pub part: Part,
}

/// The views. The first is home.
pub static VIEWS: [Row; 6] = [
    Row {
        address: "#/pressures",
        title: "Pressures",
        key: true,
        part: Part::Here(pressures::view),
    },
    Row {
        address: "#/nuts",
        title: "Wheel nuts",
        key: true,
        part: part!(rest: nuts::view),
    },
    Row {
        address: "#/footprint",
        title: "Footprint",
        key: true,
        part: part!(rest: footprint::view),
    },
    Row {
        address: "#/air",
        title: "Air",
        key: true,
        part: part!(rest: air),
    },
    Row {
        address: "#/rig",
        title: "Rig",
        key: true,
        part: part!(rest: rig::view),
    },
    Row {
        address: "#/convert",
        title: "Convert a figure",
        key: false,
        part: part!(rest: convert::view),
    },
];

/// The walk, and while none is under way the tools and the checks too.
fn air(state: State) -> AnyView {
    let walking = Memo::new(move |_| state.rig(|rig| rig.air.walk().is_some()));
    vec![
        walk::view(state),
        live(move || {
            (!walking.get()).then(|| vec![rig::tools::view(state), checks::view(state)].node())
        }),
    ]
    .node()
}
