//! The checks view: what is due, rounds and their log, tyres, the warm check
//! and slow leaks.

pub mod drawing;
pub mod history;
pub mod words;

#[cfg(target_arch = "wasm32")]
mod due;
#[cfg(target_arch = "wasm32")]
mod finished;
#[cfg(target_arch = "wasm32")]
pub mod log;
#[cfg(target_arch = "wasm32")]
pub mod round;
#[cfg(target_arch = "wasm32")]
mod tyres;

#[cfg(target_arch = "wasm32")]
mod leak;
#[cfg(target_arch = "wasm32")]
mod warm_check;

#[cfg(target_arch = "wasm32")]
pub use browser::view;

#[cfg(target_arch = "wasm32")]
mod browser {
    use super::{due, leak, tyres, warm_check};
    use crate::ui::frame::state::State;
    use crate::ui::kit::air_fields::{forget_old, surroundings_now};
    use crate::ui::kit::clock;
    use crate::ui::kit::element::{Content, Node, live};
    use crate::ui::kit::fields::demo_notice;
    use crate::ui::kit::parts::part;
    use leptos::prelude::*;

    /// The view.
    pub fn view(state: State) -> Content {
        let clock = clock::every(1);
        forget_old(state, clock);
        live(move || {
            state.shape.track();
            vec![
                demo_notice(state, "Invented demo rig.", " Not for your tyres."),
                due::list(state),
                due::reminders(state),
                due::own(state),
                tyres::view(state),
                here(state),
                warm_check::check(state, clock),
                leak::view(state),
            ]
        })
    }

    /// Height and temperature now, on which all other parts hang.
    fn here(state: State) -> Content {
        part("here-heading", "Here and now")
            .child(surroundings_now(state))
            .node()
    }
}
