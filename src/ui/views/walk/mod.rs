//! The walk from tyre to tyre, and the sheet that it starts from.

mod sheet;
mod steps;

use crate::ui::frame::state::State;
use crate::ui::kit::air_fields::forget_old;
use crate::ui::kit::element::{Node, live};
use crate::ui::kit::fields::demo_notice;
use crate::ui::kit::{awake, clock, warm};
use leptos::prelude::*;

/// The view.
pub fn view(state: State) -> AnyView {
    let clock = clock::every(1);
    forget_old(state, clock);
    let warm = Memo::new(move |_| warm::read(state, clock));
    let walking = Memo::new(move |_| state.rig(|rig| rig.air.walk().is_some()));
    let held = awake::keep(move || walking.get());
    vec![
        demo_notice(state, "Invented demo rig.", " Not for your tyres."),
        live(move || {
            state.shape.track();
            if walking.get() {
                steps::view(state, clock, warm, held)
            } else {
                sheet::view(state, warm)
            }
        }),
    ]
    .node()
}
