//! The wheel-nuts view: the mark to set, the tightening, and the checks.

pub mod drawing;
pub mod words;

#[cfg(target_arch = "wasm32")]
mod checks;
#[cfg(target_arch = "wasm32")]
mod edit;
#[cfg(target_arch = "wasm32")]
mod figure;
#[cfg(target_arch = "wasm32")]
mod tighten;

#[cfg(target_arch = "wasm32")]
pub use view::view;

#[cfg(target_arch = "wasm32")]
mod view {
    use super::edit::{change, follow, nuts_now, shape};
    use super::{checks, figure, tighten, words};
    use crate::rig::nuts::Half;
    use crate::ui::frame::state::State;
    use crate::ui::kit::element::{Element, Node, live};
    use crate::ui::kit::fields::choice;
    use crate::ui::kit::fields::demo_notice;
    use leptos::prelude::*;

    // What is done here, one at a time.
    const FIGURE: u32 = 0;
    const TIGHTEN: u32 = 1;
    const CHECKS: u32 = 2;

    const JOBS: [(&str, u32); 3] = [
        ("Set the wrench", FIGURE),
        ("Tighten", TIGHTEN),
        ("Checks", CHECKS),
    ];

    const HALVES: [Half; 2] = [Half::Vehicle, Half::Trailer];

    /// The view.
    pub fn view(state: State) -> AnyView {
        let trailer = state.rig_now(crate::rig::Rig::has_trailer);
        if !trailer && nuts_now(state, |nuts| nuts.half == Half::Trailer) {
            change(state, |nuts| nuts.half = Half::Vehicle);
        }
        // A wheel under way is taken up again.
        let under_way = nuts_now(state, |nuts| !nuts.set().ticked.is_empty());
        let job = RwSignal::new(if under_way { TIGHTEN } else { FIGURE });
        // A job is one half's.
        let half = shape(state, |nuts| nuts.half as usize);
        let jobs = choice(
            "What to do",
            "nuts-job".to_owned(),
            "plain",
            JOBS.iter().map(|(label, _)| *label).collect(),
            move || {
                JOBS.iter()
                    .position(|(_, of)| *of == job.get())
                    .unwrap_or(0)
            },
            move |picked| job.set(JOBS[picked].1),
        );
        vec![
            demo_notice(state, "Invented demo rig.", " Not for your wheels."),
            jobs.node(),
            live(move || (trailer && job.get() != CHECKS).then(|| halves(state))),
            live(move || {
                follow(half);
                match job.get() {
                    FIGURE => figure::view(state),
                    TIGHTEN => tighten::view(state),
                    _ => checks::view(state),
                }
            }),
        ]
        .node()
    }

    fn halves(state: State) -> Element {
        choice(
            "Nuts of",
            "nuts-half".to_owned(),
            "plain",
            HALVES.iter().map(|half| words::half(*half)).collect(),
            move || {
                let half = state.rig(|rig| rig.nuts.half);
                HALVES.iter().position(|of| *of == half).unwrap_or(0)
            },
            move |picked| change(state, |nuts| nuts.half = HALVES[picked]),
        )
    }
}
