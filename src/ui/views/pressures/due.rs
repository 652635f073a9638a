//! What is due, in one quiet line.

use crate::rig::nuts::Nuts;
use crate::ui::frame::state::State;
use crate::ui::kit::clock;
use crate::ui::kit::element::{Element, element, live};
use crate::ui::kit::tyre_names;
use leptos::prelude::*;

/// The wheels whose nuts are due, with the way to their check; nothing where
/// none is.
pub fn view(state: State) -> AnyView {
    live(move || line(state))
}

fn line(state: State) -> Option<Element> {
    let today = clock::today();
    let (due, all, first) = state.section::<Nuts>().with_rig(|rig, nuts| {
        let now_km = nuts.odometer.map(|typed| typed.amount().in_limit_unit());
        let wheels = nuts.due(rig, today, now_km);
        let mut due = wheels
            .iter()
            .filter(|(_, due)| due.is_some_and(|due| due.is_now()));
        let first = due.next().map(|(at, _)| tyre_names::tyre(rig, *at));
        let count = usize::from(first.is_some()) + due.count();
        (count, wheels.len(), first)
    });
    let first = first?;
    let which = match due {
        1 => first,
        _ if due == all => "all wheels".to_owned(),
        _ => format!("{due} wheels"),
    };
    Some(
        element("p")
            .class("due")
            .child("Wheel nuts due: ")
            .child(element("a").attr("href", "#/nuts").child(which)),
    )
}
