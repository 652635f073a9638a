//! Folds that stay as they were left, over a reload too.

use super::element::{Element, element};
use leptos::prelude::*;
use leptos::wasm_bindgen::JsCast;
use leptos::web_sys::{self, Storage};

/// In the session's storage, apart from rigs: it lasts as long as the tab.
const OPEN_KEY: &str = "tyreside.folds";

/// A part that is folded away unless it was left open, or `open` says so now.
pub fn fold(id: String, summary: &'static str, open: bool) -> Element {
    let details = element("details")
        .attr("id", id.clone())
        .child(element("summary").child(summary));
    let details = if open || were_open().contains(&id) {
        details.attr("open", "")
    } else {
        details
    };
    details.on("toggle", move |event| {
        let target = event.target();
        let target = target.and_then(|target| target.dyn_into::<web_sys::Element>().ok());
        // A fold inside tells of itself only: the event does not bubble.
        if let Some(details) = target {
            remember(&id, details.has_attribute("open"));
        }
    })
}

/// Where folds are remembered; nowhere where the browser keeps nothing.
fn shelf() -> Option<Storage> {
    window().session_storage().ok().flatten()
}

fn were_open() -> Vec<String> {
    let kept = shelf().and_then(|shelf| shelf.get_item(OPEN_KEY).ok().flatten());
    let kept = kept.unwrap_or_default();
    kept.split_whitespace().map(str::to_owned).collect()
}

fn remember(id: &str, open: bool) {
    let mut folds = were_open();
    folds.retain(|fold| fold != id);
    if open {
        folds.push(id.to_owned());
    }
    if let Some(shelf) = shelf() {
        // A fold that is closed again after a reload loses nothing.
        let _ = shelf.set_item(OPEN_KEY, &folds.join(" "));
    }
}
