//! The view of copies.

use super::{file, share, words};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Node, element, live};
use crate::ui::kit::fields::{demo_notice, paragraph};
use crate::ui::kit::parts::heading;
use crate::ui::kit::words as shared;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen_futures::JsFuture;

/// The key that takes the last change back, on the rig view.
pub(super) const UNDO: &str = "undo";

/// The view.
pub fn view(state: State) -> Content {
    let lasting = RwSignal::new(None);
    ask_for_lasting(state, lasting);
    vec![
        heading("copies-heading", "Copies of your rigs").node(),
        paragraph("", words::WHY).node(),
        paragraph("hint", words::SEVEN_DAYS).node(),
        live(move || {
            let lasting = lasting.get()?;
            Some(paragraph("hint", shared::lasting(lasting)))
        }),
        demo_notice(
            state,
            "The demo rig needs no copy. ",
            "Enter your own first.",
        ),
        live(move || {
            state.shape.track();
            (!state.rig_now(|rig| rig.demo)).then(|| {
                element("div")
                    .child(share::share(state))
                    .child(file::save(state))
            })
        }),
        file::restore(state).node(),
    ]
    .node()
}

/// Asks the browser not to clear this page's data when it wants room, once
/// there is a rig of one's own.
fn ask_for_lasting(state: State, lasting: RwSignal<Option<bool>>) {
    if state.rig_now(|rig| rig.demo) {
        return;
    }
    let storage = window().navigator().storage();
    // Where the page is not served safely, there is none.
    if storage.is_undefined() {
        return;
    }
    if let Ok(asked) = storage.persist() {
        spawn_local(async move {
            let kept = JsFuture::from(asked).await;
            lasting.set(kept.ok().and_then(|kept| kept.as_bool()));
        });
    }
}
