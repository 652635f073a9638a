//! All rigs as a file, and rigs out of one.

use super::{coming, share};
use crate::store::file::{self, FileError, Found, LONGEST};
use crate::ui::frame::state::{State, go_to};
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::{button, buttons, focus_soon, paragraph};
use crate::ui::kit::parts::part;
use crate::ui::kit::{clock, files, lots, words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos::wasm_bindgen::{JsCast, JsValue};
use leptos::web_sys::{Event, HtmlInputElement};
use wasm_bindgen_futures::JsFuture;

const PICKED: &str = "rig-file";
const NAME: &str = "tyreside-rigs.json";

/// What was found in the file that was picked.
type Picked = RwSignal<Option<Result<Vec<Found>, FileError>>>;

/// All rigs into a file.
pub(super) fn save(state: State) -> Element {
    let keys = buttons()
        .child(files::save(
            files::Kind::Json,
            "Save all rigs to a file",
            NAME,
            move || all(state),
        ))
        .child(share::file_key(NAME, move || all(state)));
    part("file-heading", "A file")
        .child(paragraph(
            "hint",
            "All rigs with everything kept with them, check rounds too.",
        ))
        .child(keys)
}

fn all(state: State) -> String {
    state.with_shelf(|garage, shelf| {
        let rigs = garage.copy_out(shelf, &|_| true, &mut lots::draw, clock::now_day());
        file::write(&rigs)
    })
}

/// Rigs out of a file.
pub(super) fn restore(state: State) -> Element {
    let picked: Picked = RwSignal::new(None);
    let input = element("input")
        .attr("id", PICKED)
        .attr("type", "file")
        // Where only texts can be shared, it comes as one.
        .attr("accept", "application/json,.json,text/plain,.txt")
        .on("change", move |event| read(&event, picked));
    let field = element("div")
        .class("field")
        .child(
            element("label")
                .attr("for", PICKED)
                .child("Rigs from a file"),
        )
        .child(input);
    part("restore-heading", "Bring rigs back")
        .child(field)
        .live(move || {
            let over = move |kept: bool| {
                picked.set(None);
                if kept {
                    go_to("#/rig");
                    focus_soon(super::view::UNDO.to_owned());
                }
            };
            picked.with(|found| {
                Some(match found.as_ref()? {
                    Err(why) => element("div")
                        .class("notice")
                        .attr("role", "alert")
                        .child(paragraph("", words::file(*why)))
                        .child(buttons().child(button("Leave it", move || over(false)))),
                    Ok(found) => coming::preview(state, found, false, over),
                })
            })
        })
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
