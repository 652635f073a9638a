//! Records that could not be read.

use crate::store::SetAside;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::{button, buttons, link, paragraph};
use crate::ui::kit::{files, words};

pub(super) fn set_aside(state: State, records: Vec<SetAside>) -> Option<Element> {
    if records.is_empty() {
        return None;
    }
    let records = records.into_iter().map(|record| {
        let SetAside {
            id,
            part,
            why,
            text,
        } = record;
        let name = words::section(&part);
        let file = format!("tyreside-rig-{id}-{part}");
        let save = link("Save it to a file", files::href(files::Kind::Json, &text))
            .attr("download", format!("{}.json", file.trim_end_matches('-')))
            .attr("aria-label", format!("{name}: save it to a file"));
        let discard = button("Delete for good", move || {
            state.reshape(|garage, shelf| garage.discard(shelf, id, &part));
        })
        .attr("aria-label", format!("{name}: delete for good"));
        element("li")
            .child(paragraph(
                "",
                format!("{name}, rig {id}. {}", words::unreadable(why)),
            ))
            .child(buttons().child(save).child(discard))
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
