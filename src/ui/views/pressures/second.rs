//! Masses beside a second figure: a ticket, the mass as built, a plate, their
//! total. Those are kept with the weights, which the first figures do without.

use crate::calc::doubt::Second;
use crate::rig::weights::Weights;
use crate::rig::weights::ticket::Tickets;
use crate::rig::weights::total::{self, Held};
use crate::rig::{LoadFrom, Rig, Units, axle_field};
use crate::ui::frame::parts::MAIN;
use crate::ui::frame::state::{State, go_to};
use crate::ui::kit::element::{Content, Element, element, live};
use crate::ui::kit::fields::{button, buttons, focus_soon, paragraph};
use crate::ui::kit::{format, total_words, tyre_names};
use leptos::prelude::*;

/// What is doubted, with the way to each entry; nothing where nothing is.
pub fn view(state: State) -> Content {
    live(move || said(state))
}

/// Goes to a field of the rig view.
fn open(state: State, field: String) {
    state.target.set_value(Some(field));
    go_to("#/rig");
}

/// The field of an axle's mass.
fn mass_field(rig: &Rig, axle: usize) -> String {
    let from = rig.axles.get(axle).map(|axle| axle.load_from);
    let name = match from {
        Some(LoadFrom::Sides) => "left",
        Some(LoadFrom::Rating) => "rating",
        _ => "weighed",
    };
    axle_field(axle, name)
}

fn said(state: State) -> Option<Element> {
    let tickets = state.section::<Tickets>().read(Clone::clone);
    let mut rows = state.section::<Weights>().with_rig(|rig, weights| {
        let doubts = weights.doubts(&tickets, rig).into_iter();
        let short = doubts.map(|(axle, of)| {
            let name = tyre_names::group(rig, axle);
            let says = format!("{name}: {}", words(of, rig.units()));
            (says, "Open its entry", mass_field(rig, axle))
        });
        let apart = weights.not_the_total(rig).map(|found| {
            let says = total_words::not_the_total(rig, found);
            let (label, field) = match found.axle {
                Some(axle) => ("Open its entry", mass_field(rig, axle)),
                None => ("Open the total", total::FIELD.to_owned()),
            };
            (format!("Check the masses. {says}"), label, field)
        });
        short.chain(apart).collect::<Vec<_>>().into_iter()
    });
    let first = rows.next()?;
    let row = |(says, label, field): (String, &'static str, String)| {
        element("li")
            .child(paragraph("warning", says))
            .child(button(label, move || open(state, field.clone())))
    };
    let list = element("ul").class("beside").child(row(first));
    Some(rows.map(row).fold(list, Element::child))
}

/// Asks for the total, once, where nothing else would show a digit misread.
pub fn ask(state: State) -> Content {
    live(move || {
        let tickets = state.section::<Tickets>().read(Clone::clone);
        let weights = state.section::<Weights>();
        let (asks, held) = weights
            .with_rig(|rig, weights| (weights.asks_for_total(&tickets, rig), weights.held(rig)));
        asks.then(|| {
            let says = match held {
                Held::Limits(_) => {
                    "No second figure holds these masses yet: beside an axle entered by its plate \
                     the total shows no digit misread. Read them once more."
                }
                Held::Not | Held::Whole => {
                    "No second figure holds these masses yet. The total on the ticket would show \
                     a digit misread."
                }
            };
            let keys = buttons()
                .class("buttons two-by-two")
                .child(button(
                    if held == Held::Not {
                        "Add the total"
                    } else {
                        "Open the total"
                    },
                    move || {
                        open(state, total::FIELD.to_owned());
                    },
                ))
                .child(button("They are read right", move || {
                    let rig = state.rig_now(Clone::clone);
                    weights.change(|weights| weights.say_read_right(&rig));
                    // The key goes.
                    focus_soon(MAIN.to_owned());
                }));
            element("aside")
                .class("quiet-line")
                .attr("aria-label", "The masses’ total")
                .child(paragraph("", says))
                .child(keys)
        })
    })
}

fn words(of: Second, units: Units) -> String {
    let mass = |mass| format::mass(units.mass, mass);
    let why = match of {
        Second::Ticket(ticket) => format!("the weighbridge ticket gives at least {}", mass(ticket)),
        Second::Empty(empty) => format!("empty it weighs about {} there", mass(empty)),
        Second::Plate(plate) => {
            format!(
                "it is less than two thirds of the {} on its plate",
                mass(plate)
            )
        }
    };
    format!(
        "Check the mass: {why}. Is a digit left out, misread or swapped with another? Is it one \
         side only?"
    )
}
