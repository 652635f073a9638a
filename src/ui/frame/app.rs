//! The frame around the views.

use crate::ui::frame::parts::MAIN;
use crate::ui::frame::state::State;
use crate::ui::frame::table::VIEWS;
use crate::ui::kit::element::{Element, Node, element};
use crate::ui::kit::fields::{button, focus_soon, paragraph};
use crate::ui::kit::words;
use leptos::prelude::*;
use leptos::wasm_bindgen::JsCast;
use leptos::web_sys::StorageEvent;

/// The place in the table of the view that the address names; home's where it
/// names none.
fn of_address() -> usize {
    let hash = window().location().hash().unwrap_or_default();
    let named = VIEWS
        .iter()
        .position(|view| view.address == hash || view.old.contains(&&*hash));
    named.unwrap_or(0)
}

/// The whole page over `state`.
pub fn page(state: State) -> AnyView {
    let place = RwSignal::new(of_address());
    let listener = window_event_listener_untyped("hashchange", move |_| {
        let to = of_address();
        // The target of a view that has yet to come is kept until it is there.
        let here = VIEWS[to].part.is_here();
        place.set(to);
        window().scroll_to_with_x_and_y(0.0, 0.0);
        // A screen reader goes on reading at the new view.
        let target = here.then(|| state.take_target()).flatten();
        focus_soon(target.unwrap_or_else(|| MAIN.to_owned()));
    });
    // Fired by other tabs only. Without it, what they changed would be undone
    // by the next change here.
    let kept = window_event_listener_untyped("storage", move |event| {
        let key = event.dyn_ref::<StorageEvent>().and_then(StorageEvent::key);
        // No key: everything was cleared.
        state.notice(key.as_deref());
    });
    on_cleanup(move || {
        listener.remove();
        kept.remove();
    });
    Effect::new(move |_| {
        document().set_title(&format!("{} · Tyreside", VIEWS[place.get()].title));
    });
    let name = element("h1").live(move || {
        let name = state.rig(|rig| rig.name.clone());
        if name.trim().is_empty() {
            "Tyreside".to_owned()
        } else {
            name
        }
    });
    let main = element("main")
        .attr("id", MAIN)
        .attr("tabindex", "-1")
        .live(move || trouble(state))
        .live(move || VIEWS[place.get()].part.show(state));
    let keys = VIEWS.iter().filter(|view| view.key == view.address);
    let views = keys.map(|view| {
        element("a")
            .attr("href", view.address)
            .attr_live("aria-current", move || {
                (VIEWS[place.get()].key == view.address).then(|| "page".to_owned())
            })
            .child(view.title)
    });
    vec![
        element("header").class("top").child(name),
        main,
        views.fold(
            element("nav").class("views").attr("aria-label", "Views"),
            Element::child,
        ),
    ]
    .node()
}

fn trouble(state: State) -> Option<Element> {
    let trouble = state.trouble.get()?;
    Some(
        element("div")
            .class("notice")
            .attr("role", "alert")
            .child(paragraph("", words::trouble(trouble)))
            .child(button("I understand", move || state.trouble.set(None))),
    )
}
