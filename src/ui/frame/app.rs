//! The frame around the views.

use crate::ui::frame::parts::MAIN;
use crate::ui::frame::state::State;
use crate::ui::frame::table::{VIEWS, copy_line};
use crate::ui::kit::element::{Content, Element, Node, element};
use crate::ui::kit::fields::{button, focus_soon, paragraph};
use crate::ui::kit::files;
use crate::ui::kit::follow::{effect, memo};
use crate::ui::kit::route;
use crate::ui::kit::words;
use leptos::prelude::*;
use leptos::wasm_bindgen::JsCast;
use leptos::web_sys::StorageEvent;
use std::time::Duration;

/// How often it is tried to keep what could not be kept.
const RETRYING: Duration = Duration::from_secs(5);

/// The place in the table of the view that the address names; home's where it
/// names none.
fn of_address() -> usize {
    let mut hash = window().location().hash().unwrap_or_default();
    // Behind this comes a rig.
    if hash.starts_with(route::BY_LINK) {
        hash.truncate(route::BY_LINK.len());
    }
    let named = VIEWS
        .iter()
        .position(|view| view.address == hash || view.old.contains(&&*hash));
    named.unwrap_or(0)
}

/// The whole page over `state`.
pub fn page(state: State) -> Content {
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
        state.hear(key);
    });
    let left = window_event_listener_untyped("focusout", move |_| state.left_field());
    let closing = window_event_listener_untyped("beforeunload", move |event| {
        if state.unkept.get_untracked() && !state.rig_now(|rig| rig.demo) {
            event.prevent_default();
        }
    });
    on_cleanup(move || {
        listener.remove();
        kept.remove();
        left.remove();
        closing.remove();
    });
    // Another page's data may have gone, or the phone have more room.
    effect(move |retrying: Option<Option<IntervalHandle>>| {
        if let Some(retrying) = retrying.flatten() {
            retrying.clear();
        }
        let waits = state.waits();
        let retrying = waits.then(|| set_interval_with_handle(move || state.retry(), RETRYING));
        retrying.and_then(Result::ok)
    });
    effect(move |_| {
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
    // Counted, since no other memo here is of a truth value, and each type is
    // some 600 bytes of what the first figure waits for.
    let own = memo(move |_| state.rig(|rig| usize::from(!rig.demo)));
    let main = element("main")
        .attr("id", MAIN)
        .attr("tabindex", "-1")
        .live(move || trouble(state))
        .live(move || unkept(state))
        .live(move || VIEWS[place.get()].part.show(state))
        .live(move || {
            let own = place.get() == 0 && own.get() == 1;
            own.then(|| copy_line().show_quietly(state))
        });
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

/// That what was entered is not kept, and the way out; as long as it is so.
fn unkept(state: State) -> Option<Element> {
    // Of the invented rig there is nothing to lose.
    if !state.unkept.get() || state.rig(|rig| rig.demo) {
        return None;
    }
    let save = files::save(
        files::Kind::Json,
        words::SAVE,
        "tyreside-rigs.json",
        move || state.file_of_all(),
    );
    Some(
        element("div")
            .class("notice unkept")
            .attr("role", "status")
            .child(paragraph("", words::UNKEPT))
            .child(save),
    )
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
