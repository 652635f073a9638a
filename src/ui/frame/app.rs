//! The frame around the views.

use crate::rig::PressureUnit;
use crate::store::is_rig_key;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, Node, element, live};
use crate::ui::kit::fields::{button, choice, focus_soon, paragraph};
use crate::ui::kit::{format, words};
use crate::ui::views::{checks, footprint, nuts, pressures, rig, walk};
use leptos::prelude::*;
use leptos::wasm_bindgen::JsCast;
use leptos::web_sys::StorageEvent;

const MAIN: &str = "views";

/// A view, by its address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Place {
    Pressures,
    Nuts,
    Footprint,
    Air,
    Rig,
}

impl Place {
    const ALL: [Self; 5] = [
        Self::Pressures,
        Self::Nuts,
        Self::Footprint,
        Self::Air,
        Self::Rig,
    ];

    fn hash(self) -> &'static str {
        match self {
            Self::Pressures => "#/pressures",
            Self::Nuts => "#/nuts",
            Self::Footprint => "#/footprint",
            Self::Air => "#/air",
            Self::Rig => "#/rig",
        }
    }

    fn title(self) -> &'static str {
        match self {
            Self::Pressures => "Pressures",
            Self::Nuts => "Wheel nuts",
            Self::Footprint => "Footprint",
            Self::Air => "Air",
            Self::Rig => "Rig",
        }
    }

    /// The view that the address names; home where it names none.
    fn of_address() -> Self {
        let hash = window().location().hash().unwrap_or_default();
        Self::ALL
            .into_iter()
            .find(|place| place.hash() == hash)
            .unwrap_or(Self::Pressures)
    }
}

/// The whole page over `state`.
pub fn page(state: State) -> AnyView {
    let place = RwSignal::new(Place::of_address());
    let listener = window_event_listener_untyped("hashchange", move |_| {
        place.set(Place::of_address());
        window().scroll_to_with_x_and_y(0.0, 0.0);
        // A screen reader goes on reading at the new view.
        let target = state.target.get_value();
        state.target.set_value(None);
        focus_soon(target.unwrap_or_else(|| MAIN.to_owned()));
    });
    // Fired by other tabs only. Without it, what they changed would be undone
    // by the next change here.
    let kept = window_event_listener_untyped("storage", move |event| {
        let key = event.dyn_ref::<StorageEvent>().and_then(StorageEvent::key);
        // No key: everything was cleared.
        if key.is_none_or(|key| is_rig_key(&key)) {
            state.reread();
        }
    });
    on_cleanup(move || {
        listener.remove();
        kept.remove();
    });
    Effect::new(move |_| {
        document().set_title(&format!("{} · Tyreside", place.get().title()));
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
        .live(move || match place.get() {
            Place::Pressures => pressures::view(state),
            Place::Nuts => nuts::view(state),
            Place::Footprint => footprint::view(state),
            Place::Air => air(state),
            Place::Rig => rig::view(state),
        });
    let views = Place::ALL.into_iter().map(|to| {
        element("a")
            .attr("href", to.hash())
            .attr_live("aria-current", move || {
                (place.get() == to).then(|| "page".to_owned())
            })
            .child(to.title())
    });
    vec![
        element("header")
            .class("top")
            .child(name)
            .child(unit_choice(state)),
        main,
        views.fold(
            element("nav").class("views").attr("aria-label", "Views"),
            Element::child,
        ),
    ]
    .node()
}

/// The walk, and while none is under way the tools and the checks too.
fn air(state: State) -> AnyView {
    let walking = Memo::new(move |_| state.rig(|rig| rig.air.walk().is_some()));
    vec![
        walk::view(state),
        live(move || {
            (!walking.get()).then(|| vec![rig::tools::view(state), checks::view(state)].node())
        }),
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

/// The unit keys, on every view.
fn unit_choice(state: State) -> Element {
    choice(
        "Unit",
        "unit".to_owned(),
        "units",
        PressureUnit::ALL
            .iter()
            .map(|unit| format::unit_mark(*unit))
            .collect(),
        move || {
            let unit = state.rig(|rig| rig.unit);
            PressureUnit::ALL
                .iter()
                .position(|u| *u == unit)
                .unwrap_or(0)
        },
        move |picked| {
            state.reshape(|garage, shelf| {
                let unit = PressureUnit::ALL[picked];
                garage.change(shelf, |rig| {
                    let mark = format::unit_mark(rig.unit);
                    rig.show_unit(unit, mark);
                })
            });
        },
    )
}
