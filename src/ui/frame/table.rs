//! The table of views: a row for each, in the order of the keys below.
//!
//! A new view is a folder in `ui::views` and a row here. `parts!` leaves its
//! code out of the program that the first figure waits for; [`Part::Here`]
//! keeps it in. One part holds all that is left out: by itself each view's
//! would come to more bytes together (DEVELOPERS.md).

use crate::ui::frame::parts::{Part, parts};
use crate::ui::kit::route;
use crate::ui::views::{
    card, checks, convert, copies, footprint, nuts, pressures, rig, walk, weights,
};

parts!(rest {
    NUTS: nuts::view,
    CHECKS: checks::view,
    WEIGHTS: weights::view,
    RIG: rig::view,
    WALK: walk::view,
    FOOTPRINT: footprint::view,
    CHECKS_ROUND: checks::round::view,
    CHECKS_LOG: checks::log::view,
    CONVERT: convert::view,
    RIG_TOOLS: rig::tools::view,
    CARD: card::view,
    COPIES: copies::view,
    COPIES_INCOMING: copies::incoming,
    COPY_LINE: copies::line,
});

/// A view's row.
pub struct Row {
    /// Its address, as the browser shows it.
    pub address: &'static str,
    /// Addresses of old that lead on to it.
    pub old: &'static [&'static str],
    /// Its name on its key and in the browser's title.
    pub title: &'static str,
    /// The address whose key stands for it: its own, or that of the view which
    /// leads to it.
    pub key: &'static str,
    /// Its code.
    pub part: Part,
}

/// The views. The first is home.
pub static VIEWS: [Row; 14] = [
    Row {
        address: route::PRESSURES,
        old: &[],
        title: "Pressures",
        key: route::PRESSURES,
        part: Part::Here(pressures::view),
    },
    Row {
        address: "#/nuts",
        old: &[],
        title: "Wheel nuts",
        key: "#/nuts",
        part: NUTS,
    },
    Row {
        address: route::CHECKS,
        old: &["#/air"],
        title: "Checks",
        key: route::CHECKS,
        part: CHECKS,
    },
    Row {
        address: "#/weights",
        old: &[],
        title: "Weights",
        key: "#/weights",
        part: WEIGHTS,
    },
    Row {
        address: "#/rig",
        old: &[],
        title: "Rig",
        key: "#/rig",
        part: RIG,
    },
    Row {
        address: route::WALK,
        old: &[],
        title: "Walk",
        key: route::PRESSURES,
        part: WALK,
    },
    Row {
        address: route::FOOTPRINT,
        old: &["#/footprint"],
        title: "Footprint",
        key: route::PRESSURES,
        part: FOOTPRINT,
    },
    Row {
        address: route::ROUND,
        old: &[],
        title: "Check round",
        key: route::CHECKS,
        part: CHECKS_ROUND,
    },
    Row {
        address: route::LOG,
        old: &[],
        title: "Log",
        key: route::CHECKS,
        part: CHECKS_LOG,
    },
    Row {
        address: "#/convert",
        old: &[],
        title: "Convert a figure",
        key: "#/nuts",
        part: CONVERT,
    },
    Row {
        address: route::TOOLS,
        old: &[],
        title: "Tools",
        key: "#/rig",
        part: RIG_TOOLS,
    },
    Row {
        address: route::CARD,
        old: &[],
        title: "Door card",
        key: "#/rig",
        part: CARD,
    },
    Row {
        address: route::COPIES,
        old: &[],
        title: "Copies",
        key: "#/rig",
        part: COPIES,
    },
    Row {
        address: route::BY_LINK,
        old: &[],
        title: "A rig by link",
        key: "#/rig",
        part: COPIES_INCOMING,
    },
];

/// The word to keep a copy, below home.
pub fn copy_line() -> Part {
    COPY_LINE
}
