//! The rig view: what it is, and everything that the pressures follow from.

pub mod explain;
pub mod kind;
pub mod sidewall;
pub mod words;

#[cfg(target_arch = "wasm32")]
mod axle;
#[cfg(target_arch = "wasm32")]
mod bands;
#[cfg(target_arch = "wasm32")]
mod head;
#[cfg(target_arch = "wasm32")]
mod kept;
#[cfg(target_arch = "wasm32")]
mod rigs;
#[cfg(target_arch = "wasm32")]
mod settings;
#[cfg(target_arch = "wasm32")]
pub mod tools;
#[cfg(target_arch = "wasm32")]
mod total;

#[cfg(target_arch = "wasm32")]
pub use view::view;
#[cfg(target_arch = "wasm32")]
use view::{Entries, UNDO};

#[cfg(target_arch = "wasm32")]
mod view {
    use super::rigs::{self, Listed};
    use super::{axle, explain, head, kept, kind, settings, total};
    use crate::rig::{Rig, axle_field};
    use crate::store::RigId;
    use crate::ui::frame::state::{Outcome, Removed, State};
    use crate::ui::kit::element::{Content, Element, Node, element, live};
    use crate::ui::kit::fields::{button, buttons, done, focus_soon, link};
    use crate::ui::kit::follow::memo;
    use crate::ui::kit::route;
    use crate::ui::kit::words::rig_name;
    use leptos::prelude::*;

    /// What is known of each axle on sealed road: what its entry lacks hangs
    /// on no other surface.
    pub(in super::super) type Entries = Memo<Vec<Outcome>>;

    pub(super) const UNDO: &str = "undo";

    /// The view.
    pub fn view(state: State) -> Content {
        // Followed by value, so that typing in a field rebuilds nothing else.
        let listed = memo(move |_| {
            let set_aside = state.set_aside();
            state.garage.with(|garage| Listed {
                rigs: garage
                    .rigs()
                    .map(|(id, rig)| (id, rig_name(&rig.name)))
                    .collect(),
                current: garage.current_id(),
                set_aside,
            })
        });
        let demo = memo(move |_| state.rig(|rig| rig.demo));
        let entries = memo(move |_| state.outcomes_entered());
        // The rig of which it was said what it is.
        let said = RwSignal::new(None::<RigId>);
        head::resume(state, entries);
        vec![
            live(move || removed(state)),
            live(move || demo.get().then(|| rigs::invented(state))),
            live(move || {
                state.shape.track();
                let current = state.garage.with_untracked(|garage| garage.current_id());
                if state.rig_now(explain::is_blank) && said.get() != Some(current) {
                    vec![question(state, said, current)]
                } else {
                    entry(state, entries)
                }
            }),
            live(move || {
                state.shape.track();
                rigs::keeping(state, listed, demo.get())
            }),
            live(move || kept::set_aside(state, listed.get().set_aside)),
        ]
        .node()
    }

    fn removed(state: State) -> Option<Element> {
        let said = match state.removed.get()? {
            Removed::Rig(deleted) => format!("“{}” was deleted.", rig_name(&deleted.name)),
            Removed::Replaced(_) => "The rigs are as you chose.".to_owned(),
            Removed::Axle(..) => "The axle was removed.".to_owned(),
        };
        let undo = button("Undo", move || state.undo()).attr("id", UNDO);
        Some(done(said, undo))
    }

    /// What a new rig is, before anything else is asked of it.
    fn question(state: State, said: RwSignal<Option<RigId>>, current: RigId) -> Element {
        let keys = kind::Kind::ALL.into_iter().map(|kind| {
            element("button")
                .attr("type", "button")
                .class("kind")
                .child(
                    element("span")
                        .attr("aria-hidden", "true")
                        .markup(kind.svg()),
                )
                .child(kind.name())
                .on("click", move |_| {
                    state.reshape(|garage, shelf| {
                        garage.change(shelf, |rig: &mut Rig| rig.begin_with(kind.axles()))
                    });
                    said.set(Some(current));
                    focus_soon(axle_field(0, "tyre"));
                })
        });
        element("section")
            .attr("aria-labelledby", kind::QUESTION)
            .child(
                element("h2")
                    .attr("id", kind::QUESTION)
                    .attr("tabindex", "-1")
                    .child("What is it?"),
            )
            .child(keys.fold(element("div").class("kinds"), Element::child))
    }

    fn entry(state: State, entries: Entries) -> Vec<Element> {
        let axles = state.rig_now(|rig| rig.axles.len());
        let mut parts = vec![head::drawing(state, entries)];
        parts.extend((0..axles).map(|index| axle::axle(state, index, entries)));
        parts.push(total::total(state));
        parts.push(head::next(state, entries));
        parts.push(tools());
        parts.push(settings::settings(state));
        parts
    }

    /// The ways to what goes with the rig and has views of its own.
    fn tools() -> Element {
        let links = [
            ("Compressor, deflator", route::TOOLS),
            ("Torque wrench", "#/nuts"),
            ("Copies: link, code, file", route::COPIES),
            ("Door card to print", route::CARD),
        ];
        let links = links.into_iter().map(|(label, to)| link(label, to));
        element("section")
            .attr("aria-label", "Tools")
            .child(links.fold(buttons().class("buttons two-by-two"), Element::child))
    }
}
