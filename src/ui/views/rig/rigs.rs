//! The rigs there are: picking, naming, adding, copying, deleting.

use super::UNDO;
use super::kind::QUESTION;
use crate::rig::{Axle, Place, Rig, axle_field};
use crate::store::{RigId, SetAside};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element, typed};
use crate::ui::kit::fields::{button, buttons, focus_soon, paragraph};
use crate::ui::kit::fold::fold;
use leptos::prelude::*;

/// The rigs there are.
#[derive(Clone, PartialEq)]
pub(super) struct Listed {
    pub(super) rigs: Vec<(RigId, String)>,
    pub(super) current: RigId,
    pub(super) set_aside: Vec<SetAside>,
}

const PICKER: &str = "rig-choice";
const NAME: &str = "rig-name";

/// That the rig is invented, and the way to one's own.
pub(super) fn invented(state: State) -> Element {
    element("div")
        .class("notice demo")
        .child(paragraph(
            "",
            "This is the invented demo rig. Nothing on it is about your tyres.",
        ))
        .child(new(state, "Enter my rig").class("primary"))
}

/// The choice between rigs, where there are several.
fn choice(state: State, listed: Listed) -> Option<Element> {
    let Listed { rigs, current, .. } = listed;
    if rigs.len() < 2 {
        return None;
    }
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
    Some(
        element("div")
            .class("field")
            .child(element("label").attr("for", PICKER).child("Rig"))
            .child(options.fold(select, Element::child)),
    )
}

fn new(state: State, label: &'static str) -> Element {
    button(label, move || {
        state.add_rig(|rig| Rig::another("My rig", rig.units()));
        focus_soon(QUESTION.to_owned());
    })
}

/// What is done with rigs as a whole.
pub(super) fn keeping(state: State, listed: Memo<Listed>, demo: bool) -> Element {
    let copy = button("Copy", move || {
        // A copy of the invented rig is as invented.
        state.copy_rig(|rig| rig.name = copy_name(&rig.name));
        focus_soon(NAME.to_owned());
    });
    let own = (!demo).then(|| {
        let delete = button("Delete", move || {
            state.delete();
            focus_soon(UNDO.to_owned());
        });
        vec![new(state, "New"), delete]
    });
    let axles = state.rig_now(|rig| rig.axles.len());
    let axle = (axles < Rig::MOST_AXLES).then(|| {
        button("Add an axle", move || {
            state.reshape(|garage, shelf| {
                garage.change(shelf, |rig: &mut Rig| {
                    rig.add_axle(Axle::empty(Place::Trailer))
                })
            });
            focus_soon(axle_field(axles, "tyre"));
        })
    });
    fold("rigs".to_owned(), "Rigs: choose, name, copy, delete", false)
        .live(move || choice(state, listed.get()))
        .child(name(state))
        .child(buttons().child(copy).child(own).child(axle))
}

fn copy_name(name: &str) -> String {
    const SUFFIX: &str = " copy";
    let kept: String = name
        .chars()
        .take(Rig::LONGEST_NAME - SUFFIX.len())
        .collect();
    kept + SUFFIX
}

fn name(state: State) -> Element {
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
