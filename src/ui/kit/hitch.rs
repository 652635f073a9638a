//! The switch between a rig's two states: the van on the ball, or left behind.

use crate::rig::{Coupling, Rig};
use crate::ui::frame::state::State;
use crate::ui::kit::element::Element;
use crate::ui::kit::fields::choice;

/// The switch; nothing of a rig that tows nothing.
pub fn switch(state: State) -> Option<Element> {
    const STATES: [Coupling; 2] = [Coupling::Hitched, Coupling::Unhitched];
    if !state.rig_now(Rig::has_trailer) {
        return None;
    }
    Some(choice(
        "The van",
        "coupling".to_owned(),
        "",
        vec!["Hitched", "Unhitched"],
        move || usize::from(state.rig(|rig| rig.coupling) == Coupling::Unhitched),
        move |picked| state.change(|rig| rig.coupling = STATES[picked]),
    ))
}
