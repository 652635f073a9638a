//! Records that could not be read.

use crate::store::SetAside;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::{button, buttons, link, paragraph};
use crate::ui::kit::words;
use leptos::web_sys::js_sys::encode_uri_component;

pub(super) fn set_aside(state: State, records: Vec<SetAside>) -> Option<Element> {
    if records.is_empty() {
        return None;
    }
    let records = records.into_iter().map(|SetAside { id, why, text }| {
        let href = format!(
            "data:application/json;charset=utf-8,{}",
            String::from(encode_uri_component(&text))
        );
        let download =
            link("Download", href).attr("download", format!("tyreside-record-{id}.json"));
        let discard = button("Delete for good", move || {
            state.reshape(|garage, shelf| garage.discard(shelf, id));
        });
        element("li")
            .child(paragraph(
                "",
                format!("Record {id}: {}", words::unreadable(why)),
            ))
            .child(buttons().child(download).child(discard))
    });
    Some(
        element("section")
            .class("notice")
            .attr("aria-labelledby", "aside-heading")
            .child(
                element("h2")
                    .attr("id", "aside-heading")
                    .child("Saved, but unreadable"),
            )
            .child(paragraph(
                "",
                "Kept whole, and nothing was written over it.",
            ))
            .child(records.fold(element("ul"), Element::child)),
    )
}
