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
    use super::edit::{change, follow, nuts, nuts_now, shape};
    use super::{checks, figure, tighten, words};
    use crate::rig::nuts::Finding;
    use crate::rig::position::Half;
    use crate::ui::frame::state::State;
    use crate::ui::kit::element::{Content, Element, Node, live};
    use crate::ui::kit::fields::{choice, demo_notice};
    use leptos::prelude::*;

    // What is done here, one at a time.
    const FIGURE: u32 = 0;
    const TIGHTEN: u32 = 1;
    const CHECKS: u32 = 2;

    const JOBS: [(&str, u32); 3] = [
        ("Set the wrench", FIGURE),
        ("Tighten", TIGHTEN),
        ("Re-check", CHECKS),
    ];

    const HALVES: [Half; 2] = [Half::Vehicle, Half::Trailer];

    /// The view.
    pub fn view(state: State) -> Content {
        let trailer = state.rig_now(crate::rig::Rig::has_trailer);
        if !trailer && nuts_now(state, |nuts| nuts.half == Half::Trailer) {
            change(state, |nuts| nuts.half = Half::Vehicle);
        }
        // The wheel comes first, once there is a figure for its nuts.
        let known = nuts_now(state, |nuts| {
            !matches!(nuts.finding(), Finding::NoUnit | Finding::NoSpec)
        });
        let job = RwSignal::new(if known { TIGHTEN } else { FIGURE });
        let to_figure = Callback::new(move |()| job.set(FIGURE));
        let to_wheels = Callback::new(move |()| job.set(TIGHTEN));
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
            live(move || match job.get() {
                FIGURE => vec![
                    trailer.then(|| halves(state)).node(),
                    live(move || {
                        follow(half);
                        figure::view(state, to_wheels)
                    }),
                ]
                .node(),
                TIGHTEN => tighten::view(state, to_figure),
                _ => checks::view(state),
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
                let half = nuts(state, |nuts| nuts.half);
                HALVES.iter().position(|of| *of == half).unwrap_or(0)
            },
            move |picked| change(state, |nuts| nuts.half = HALVES[picked]),
        )
    }
}
