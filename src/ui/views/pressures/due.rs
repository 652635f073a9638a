//! What is due, in quiet lines.

use crate::rig::checks::{Checks, due};
use crate::rig::nuts::Nuts;
use crate::rig::typed::TypedDistance;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::{check_words, clock, route, tyre_names};

/// What is due, with the way to it: the wheels whose nuts are, and the checks;
/// nothing where nothing is.
pub fn view(state: State) -> Content {
    live(move || {
        let lines = [nuts(state), round(state), checks(state)];
        lines.into_iter().flatten().collect::<Vec<_>>()
    })
}

fn line(says: impl Node, address: &'static str, what: String) -> Element {
    element("p")
        .class("due")
        .child(says)
        .child(element("a").attr("href", address).child(what))
}

fn nuts(state: State) -> Option<Element> {
    let today = clock::today();
    let (due, all, first) = state.section::<Nuts>().with_rig(|rig, nuts| {
        let now_km = nuts.odometer.map(TypedDistance::kilometres);
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
    Some(line("Wheel nuts due: ", "#/nuts", which))
}

/// A round that was left under way.
fn round(state: State) -> Option<Element> {
    let found = state
        .section::<Checks>()
        .read(|checks| checks.round.as_ref().map(|round| round.bad().len()))?;
    let says = match found {
        0 => "Check round under way: ".to_owned(),
        1 => "Check round under way, 1 tyre not good: ".to_owned(),
        found => format!("Check round under way, {found} tyres not good: "),
    };
    Some(line(says, route::ROUND, "go on".to_owned()))
}

fn checks(state: State) -> Option<Element> {
    let today = clock::today();
    let checks = state.section::<Checks>().read(Checks::clone);
    let what = state.section::<Nuts>().with_rig(|rig, nuts| {
        let tasks = due::list(rig, &checks, nuts, today);
        check_words::due_line(rig, &checks, &tasks)
    })?;
    Some(line("Due: ", route::CHECKS, what))
}
