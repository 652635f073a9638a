//! The walk from tyre to tyre, and what comes before it.

mod reading;
mod start;
mod steps;

use crate::ui::frame::state::State;
use crate::ui::kit::air_fields::forget_old;
use crate::ui::kit::element::{Content, Node, live};
use crate::ui::kit::fields::demo_notice;
use crate::ui::kit::follow::memo;
use crate::ui::kit::{awake, clock, tools, warm};
use leptos::prelude::*;

/// The view.
pub fn view(state: State) -> Content {
    let clock = clock::every(1);
    forget_old(state, clock);
    tools::take_over_texts(state);
    let warm = memo(move |_| warm::read(state, clock));
    let walking = memo(move |_| state.rig(|rig| rig.air.walk.is_some()));
    let held = awake::keep(move || walking.get());
    // The walk that ended last while this page stands: it can be taken back.
    let ended = RwSignal::new(None);
    vec![
        demo_notice(state, "Invented demo rig.", " Not for your tyres."),
        live(move || {
            state.shape.track();
            if walking.get() {
                steps::view(state, clock, warm, held, ended)
            } else if ended.with(Option::is_some) {
                steps::ended(state, ended)
            } else {
                start::view(state, clock, warm)
            }
        }),
    ]
    .node()
}
