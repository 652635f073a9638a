//! The rigs there are: picking, naming, adding, copying, deleting.

use super::UNDO;
use crate::rig::Rig;
use crate::store::{RigId, SetAside};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element, typed};
use crate::ui::kit::fields::{button, buttons, focus_soon, paragraph};
use leptos::prelude::*;

/// The rigs there are, and what can be done with the current one.
#[derive(Clone, PartialEq)]
pub(super) struct Listed {
    pub(super) rigs: Vec<(RigId, String)>,
    pub(super) current: RigId,
    pub(super) demo: bool,
    pub(super) set_aside: Vec<SetAside>,
}

const PICKER: &str = "rig-choice";
const NAME: &str = "rig-name";

pub(super) fn rigs(state: State, listed: Listed) -> Element {
    let Listed {
        rigs,
        current,
        demo,
        ..
    } = listed;
    let picker = (rigs.len() > 1).then(|| {
        let select = element("select")
            .attr("id", PICKER)
            .on("change", move |event| {
                if let Ok(id) = typed(&event).parse() {
                    state.reshape(|garage, shelf| garage.choose(shelf, id));
                    focus_soon(PICKER.to_owned());
                }
            });
        let options = rigs.into_iter().map(|(id, name)| {
            let option = element("option").attr("value", id.to_string()).child(name);
            if id == current {
                option.attr("selected", "")
            } else {
                option
            }
        });
        element("div")
            .class("field")
            .child(element("label").attr("for", PICKER).child("Rig"))
            .child(options.fold(select, Element::child))
    });
    let warning = demo.then(|| {
        paragraph(
            "warning",
            "This is the invented demo rig. Nothing on it is about your tyres.",
        )
    });
    let new = button(if demo { "Enter my rig" } else { "New" }, move || {
        state.add_rig(|rig| Rig::another("My rig", rig.units()));
        focus_soon(NAME.to_owned());
    });
    let new = if demo { new.class("primary") } else { new };
    let copy = button("Copy", move || {
        // A copy of the invented rig is as invented.
        state.add_rig(|rig| Rig {
            name: copy_name(&rig.name),
            ..rig.clone()
        });
        focus_soon(NAME.to_owned());
    });
    let delete = (!demo).then(|| {
        button("Delete", move || {
            state.delete();
            focus_soon(UNDO.to_owned());
        })
    });
    element("section")
        .attr("aria-labelledby", "rigs-heading")
        .child(element("h2").attr("id", "rigs-heading").child("Rigs"))
        .child(picker)
        .child(warning)
        .child(buttons().child(new).child(copy).child(delete))
}

pub(super) fn shown_name(rig: &Rig) -> String {
    if rig.name.trim().is_empty() {
        "Rig without a name".to_owned()
    } else {
        rig.name.clone()
    }
}

fn copy_name(name: &str) -> String {
    const SUFFIX: &str = " copy";
    let kept: String = name
        .chars()
        .take(Rig::LONGEST_NAME - SUFFIX.len())
        .collect();
    kept + SUFFIX
}

pub(super) fn name(state: State) -> Element {
    let name = RwSignal::new(state.rig_now(|rig| rig.name.clone()));
    let input = element("input")
        .attr("id", NAME)
        .attr("type", "text")
        .attr("autocomplete", "off")
        .attr("maxlength", Rig::LONGEST_NAME.to_string())
        .value_live(move || name.get())
        .on("input", move |event| {
            let text: String = typed(&event).chars().take(Rig::LONGEST_NAME).collect();
            state.change(|rig| rig.name.clone_from(&text));
            name.set(text);
        });
    element("div")
        .class("field")
        .child(element("label").attr("for", NAME).child("Name"))
        .child(input)
}
