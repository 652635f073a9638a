//! The log of wheels refitted and checked, and what is due.

use super::edit::{change, number, nuts, nuts_now};
use super::words;
use crate::calc::limits::{Field, Unit};
use crate::calc::torque::{Torque, newton_meter};
use crate::rig::nuts::{Done, Half, LogEntry, Wheel};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, Node, element, live};
use crate::ui::kit::fields::listed;
use crate::ui::kit::fields::{button, buttons, paragraph};
use crate::ui::kit::format::Entry;
use leptos::prelude::*;
use leptos::web_sys::js_sys::Date;

const ODOMETER: &str = "nuts-odometer";

/// The local day, counted from 1970-01-01.
pub fn today() -> u32 {
    let now = Date::new_0();
    let minutes = now.get_time() / 60_000.0 - now.get_timezone_offset();
    // Below zero where the clock stands before 1970; then day 0.
    (minutes / 1440.0).floor() as u32
}

/// The odometer now.
pub fn odometer(state: State) -> Element {
    number(
        state,
        ODOMETER.to_owned(),
        "Odometer now",
        "Kept from the last time: look again. Blank where it is not known.",
        Field::Odometer,
        Entry::Plain(Unit::Kilometre),
        |nuts| &mut nuts.odometer_km,
    )
}

/// The odometer now; nothing while its field can't be used.
pub fn odometer_now(state: State) -> Option<f64> {
    let unusable = state.is_unusable(ODOMETER);
    nuts(state, |nuts| nuts.odometer_km).filter(|_| !unusable)
}

/// The job.
pub fn view(state: State) -> AnyView {
    vec![
        element("section")
            .class("card")
            .attr("aria-labelledby", "nuts-due")
            .child(element("h2").attr("id", "nuts-due").child("What is due"))
            .child(odometer(state))
            .live(move || dues(state))
            .child(
                buttons().child(
                    button("All nuts checked today", move || {
                        check(state, Half::Vehicle, Wheel::Every);
                    })
                    .class("primary"),
                ),
            )
            .node(),
        element("section")
            .class("notice")
            .attr("aria-label", "How to check")
            .child(element("h2").child("How to check"))
            .child(listed(CAUTIONS.into_iter().map(str::to_owned)))
            .node(),
        live(move || log(state)),
    ]
    .node()
}

const CAUTIONS: [&str; 4] = [
    "At the makers' torque, in the order of the numbers, wheel on the ground, tyres and hubs cool.",
    "A click on the first pull of a tight nut proves nothing about overtightening. To know, loosen \
     it and pull it up again, one nut at a time.",
    "A nut that keeps coming loose, or a stud that turns or stretches, ends the drive: a licensed \
     tyre fitter.",
    "50 to 100 km after a wheel went on, then every two weeks: common practice, no source. The \
     maker's own distance comes first.",
];

fn check(state: State, half: Half, wheel: Wheel) {
    let odometer_km = untrack(|| odometer_now(state));
    change(state, |nuts| {
        nuts.log(LogEntry {
            half,
            wheel,
            done: Done::Checked,
            day: today(),
            odometer_km,
            torque_nm: None,
        });
    });
}

fn dues(state: State) -> Element {
    let now = odometer_now(state);
    let dues = nuts(state, |nuts| nuts.due(today(), now));
    if dues.is_empty() {
        return paragraph(
            "",
            "Nothing in the log yet: when a wheel was last on is not known.",
        );
    }
    let rows = dues.into_iter().map(|(half, wheel, due)| {
        let text = words::due(due);
        element("li")
            .child(element("strong").child(words::wheel_of(half, wheel)))
            .child(paragraph(if due.is_now() { "warning" } else { "" }, text))
            .child(
                button("Checked today", move || check(state, half, wheel)).attr(
                    "aria-label",
                    format!("{}: checked today", words::wheel_of(half, wheel)),
                ),
            )
    });
    rows.fold(element("ul").class("dues"), Element::child)
}

fn log(state: State) -> Option<Element> {
    let rows = nuts(state, |nuts| {
        let line = |entry: &LogEntry| {
            let mut text = format!(
                "{}: {}, {}",
                words::date(entry.day),
                words::wheel_of(entry.half, entry.wheel),
                words::done(entry.done)
            );
            if let Some(km) = entry.odometer_km {
                text += &format!(", {}", words::kilometres(km));
            }
            if let Some(nm) = entry.torque_nm {
                let unit = match entry.half {
                    Half::Vehicle => nuts.vehicle.unit,
                    Half::Trailer => nuts.trailer.unit,
                };
                let torque = Torque::new::<newton_meter>(nm);
                text += &format!(", {}", words::torque(torque, unit));
            }
            text
        };
        nuts.log.iter().rev().map(line).collect::<Vec<_>>()
    });
    (!rows.is_empty()).then(|| {
        element("section")
            .class("card")
            .attr("aria-labelledby", "nuts-log")
            .child(element("h2").attr("id", "nuts-log").child("Log"))
            .child(listed(rows.into_iter()))
            .child(buttons().child(button("Remove the newest line", move || {
                if nuts_now(state, |nuts| !nuts.log.is_empty()) {
                    change(state, |nuts| {
                        nuts.log.pop();
                    });
                }
            })))
    })
}
