//! Copies of all rigs as a file, and rigs out of one.

use super::rigs::shown_name;
use crate::store::file::{self, FileError, Found, LONGEST};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, Node, element};
use crate::ui::kit::fields::{button, buttons, paragraph};
use crate::ui::kit::files;
use crate::ui::kit::fold::fold;
use crate::ui::kit::words;
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos::wasm_bindgen::{JsCast, JsValue};
use leptos::web_sys::{Event, HtmlInputElement};
use wasm_bindgen_futures::JsFuture;

const PICKED: &str = "rig-file";

/// What was found in the file that was picked.
type Picked = RwSignal<Option<Result<Vec<Found>, FileError>>>;

/// Whether the browser keeps the rigs when it wants room, once it has said.
pub(super) type Lasting = RwSignal<Option<bool>>;

/// What keeps the rigs beyond this phone.
pub(super) fn copies(state: State, lasting: Lasting) -> Element {
    let picked: Picked = RwSignal::new(None);
    ask_for_lasting(state, lasting);
    let save = files::save(
        files::Kind::Json,
        "Save all rigs to a file",
        "tyreside-rigs.json",
        move || state.file_of_all(),
    );
    let input = element("input")
        .attr("id", PICKED)
        .attr("type", "file")
        .attr("accept", "application/json,.json")
        .on("change", move |event| read(&event, picked));
    fold("copies".to_owned(), "Copies: save, restore", false)
        .live(move || {
            let lasting = lasting.get()?;
            Some(paragraph("hint", words::lasting(lasting)))
        })
        .child(paragraph("hint", words::COPIES))
        .child(buttons().child(save))
        .child(
            element("div")
                .class("field")
                .child(
                    element("label")
                        .attr("for", PICKED)
                        .child("Rigs from a file"),
                )
                .child(input),
        )
        .live(move || {
            picked.with(|found| found.as_ref().map(|found| preview(state, picked, found)))
        })
}

/// Asks the browser not to clear this page's data when it wants room, once
/// there is a rig of one's own.
fn ask_for_lasting(state: State, lasting: Lasting) {
    if state.rig_now(|rig| rig.demo) || lasting.with_untracked(Option::is_some) {
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

fn read(event: &Event, picked: Picked) {
    let input = event
        .target()
        .and_then(|target| target.dyn_into::<HtmlInputElement>().ok());
    let Some(file) = input.and_then(|input| input.files()?.get(0)) else {
        picked.set(None);
        return;
    };
    let bytes = file.size();
    if bytes > LONGEST as f64 {
        let bytes = bytes as usize;
        picked.set(Some(Err(FileError::TooLong { bytes })));
        return;
    }
    spawn_local(async move {
        let text = JsFuture::from(file.text()).await;
        let text = text.ok().as_ref().and_then(JsValue::as_string);
        let found = text.ok_or(FileError::NotOne);
        picked.set(Some(found.and_then(|text| file::read(&text))));
    });
}

/// What a file holds, before any of it is kept.
fn preview(state: State, picked: Picked, found: &Result<Vec<Found>, FileError>) -> Element {
    let box_ = element("div").class("notice").attr("role", "status");
    let found = match found {
        Err(why) => return box_.child(paragraph("", words::file(*why))),
        Ok(found) => found,
    };
    let rows = found.iter().map(|found| {
        element("li").child(match &found.rig {
            Ok(rig) => format!(
                "{}: {}",
                shown_name(&rig.name),
                words::axles(rig.axles.len())
            ),
            Err(why) => format!("A rig that can't be read. {}", words::unreadable(*why)),
        })
    });
    let rows = rows.fold(element("ul"), Element::child);
    let readable: Vec<file::Sections> = found
        .iter()
        .filter(|found| found.rig.is_ok())
        .map(|found| found.sections.clone())
        .collect();
    if found.is_empty() {
        return box_.child(paragraph("", "There is no rig in this file."));
    }
    let none = readable.is_empty();
    let add = (!none).then(|| {
        button("Add them to the rigs here", move || {
            picked.set(None);
            state.take_in(readable.clone());
        })
    });
    let leave = button("Leave them", move || picked.set(None));
    box_.child(paragraph("", words::FOUND))
        .child(rows)
        .child(buttons().child(add.map(Element::node)).child(leave))
}
