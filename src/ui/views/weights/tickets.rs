//! Weighbridge tickets: which counts, what is on it, how its readings agree,
//! and what to ask for.

use super::desk::{Desk, Undo, remember};
use super::words as said;
use crate::calc::limits::Field;
use crate::calc::quantity::kilogram;
use crate::calc::weights::solution::Residual;
use crate::calc::weights::ticket::Wheels;
use crate::rig::calendar;
use crate::rig::names::Named;
use crate::rig::typed::Typed;
use crate::rig::weights::Weights;
use crate::rig::weights::ticket::{OnPlate, TicketRecord, Tickets};
use crate::rig::{Owner, Place, Rig};
use crate::ui::kit::calendar::date;
use crate::ui::kit::clock::today;
use crate::ui::kit::element::{Content, Element, Node, element, live, typed};
use crate::ui::kit::fields::{NumberField, Slot, button, buttons, focus_soon, listed, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::parts::{closed, fold};
use leptos::prelude::*;

const PLACE: &str = "ticket-place";
const DAY: &str = "ticket-day";
const FURTHER: &str = "ticket-further";

fn is_asked(on: OnPlate, wheels: Wheels, first: usize) -> bool {
    wheels == Wheels::Both && said::ASKED[first..].iter().any(|asked| asked.contains(&on))
}

/// The first of the three weighings that a rig needs: one that tows nothing
/// needs the last alone.
fn first_asked(desk: Desk) -> usize {
    if desk.state.rig_now(Rig::has_trailer) {
        0
    } else {
        said::ASKED.len() - 1
    }
}

/// The card.
pub fn card(desk: Desk) -> Element {
    let current = memo(move |_| desk.tickets.read(|tickets| tickets.in_force));
    let card = closed("Weighbridge tickets")
        .child((first_asked(desk) == 0).then(asking))
        .child(list(desk))
        .child(
            buttons()
                .child(button("New ticket", move || {
                    let loads = desk.weights.now(Weights::laid);
                    desk.tickets.change(|tickets| tickets.add(today(), loads));
                    desk.spoken.set(said::NEW_TICKET.to_owned());
                }))
                .child(live(move || {
                    current
                        .get()
                        .map(|_| button("Delete this ticket", move || delete(desk)))
                })),
        )
        .child(live(move || current.get().map(|id| ticket(desk, id))))
        .child(live(move || agreement(desk)));
    let wrong = desk.tickets.now(Tickets::is_unusable_now);
    if wrong { card.attr("open", "") } else { card }
}

/// The three weighings, in order.
pub fn three() -> Element {
    let steps = said::THREE.iter().map(|(title, what)| {
        element("li")
            .child(element("strong").child(*title))
            .child(": ")
            .child(*what)
    });
    steps.fold(element("ul").class("cautions"), Element::child)
}

/// The three weighings to ask for.
fn asking() -> Element {
    fold("Three weighings to ask for, in order")
        .child(three())
        .child(paragraph(
            "hint",
            "The first gives what every tyre carries; the second the ball mass; the third the \
             vehicle unhitched, and a check on the others. Load-levelling bars slack throughout.",
        ))
}

fn list(desk: Desk) -> Content {
    live(move || {
        let (tickets, current) = desk.tickets.read(|tickets| {
            let each = tickets.tickets.iter().map(|ticket| {
                let place = ticket.place.trim();
                let place = if place.is_empty() {
                    "a weighbridge"
                } else {
                    place
                };
                (ticket.id, format!("{}, {place}", date(ticket.day)))
            });
            (each.collect::<Vec<_>>(), tickets.in_force)
        });
        if tickets.is_empty() {
            return paragraph("said", "No ticket yet: figures are an estimate.").node();
        }
        let option = |value: String, name: String, picked: bool| {
            let option = element("option").attr("value", value).child(name);
            if picked {
                option.attr("selected", "")
            } else {
                option
            }
        };
        let none = option(
            String::new(),
            "None: estimate only".to_owned(),
            current.is_none(),
        );
        let each = tickets
            .into_iter()
            .map(|(id, name)| option(id.to_string(), name, current == Some(id)));
        let select = element("select")
            .attr("id", "ticket-current")
            .on("change", move |event| {
                let id = typed(&event).parse().ok();
                desk.tickets.change(|tickets| tickets.in_force = id);
            })
            .child(none);
        element("div")
            .class("field")
            .child(
                element("label")
                    .attr("for", "ticket-current")
                    .child("Ticket that counts"),
            )
            .child(each.fold(select, Element::child))
            .node()
    })
}

fn delete(desk: Desk) {
    let at = desk.tickets.now(|tickets| {
        let index = tickets
            .tickets
            .iter()
            .position(|of| Some(of.id) == tickets.in_force)?;
        Some((index, tickets.tickets[index].clone()))
    });
    if let Some((index, ticket)) = at {
        remember(desk, Undo::Ticket(index, Box::new(ticket)));
        desk.tickets.change(Tickets::remove_current);
        desk.spoken
            .set("The ticket was deleted. Undo brings it back.".to_owned());
    }
}

fn field_id(on: OnPlate, wheels: Wheels) -> String {
    format!("ticket-{}-{}", on.name(), wheels.name())
}

/// The name of a field of the ticket that counts.
fn name(desk: Desk, field: &str) -> String {
    let of = desk
        .tickets
        .now(|tickets| tickets.current().map(TicketRecord::fields));
    of.unwrap_or_default() + field
}

fn number(desk: Desk, on: OnPlate, wheels: Wheels, label: &'static str) -> Element {
    let id = field_id(on, wheels);
    NumberField::<Tickets> {
        name: name(desk, &id),
        id,
        of: Owner::Nothing,
        label: label.into(),
        hint: "",
        field: Tickets::field(on),
        optional: true,
        slot: Slot {
            get: Box::new(move |tickets| {
                let mass = tickets.current()?.mass(on, wheels)?;
                Some(mass.amount())
            }),
            set: Box::new(move |tickets, amount| {
                if let Some(ticket) = tickets.current_mut() {
                    ticket.set(on, wheels, amount.and_then(Typed::of));
                }
            }),
        },
    }
    .view(desk.state)
}

/// What is on the ticket that counts.
fn ticket(desk: Desk, _: u32) -> Element {
    let now = desk
        .tickets
        .now(|tickets| tickets.current().cloned())
        .unwrap_or_default();
    let place = element("div")
        .class("field")
        .child(element("label").attr("for", PLACE).child("Weighbridge"))
        .child(
            element("input")
                .attr("id", PLACE)
                .attr("type", "text")
                .attr("autocomplete", "off")
                .attr("maxlength", TicketRecord::LONGEST_PLACE.to_string())
                .attr("value", now.place.clone())
                .on("change", move |event| {
                    let place = typed(&event);
                    desk.tickets.change(|tickets| {
                        if let Some(ticket) = tickets.current_mut() {
                            ticket.place = place;
                        }
                    });
                }),
        );
    let day = element("div")
        .class("field")
        .child(element("label").attr("for", DAY).child("Date"))
        .child(
            element("input")
                .attr("id", DAY)
                .attr("type", "date")
                .attr("value", calendar::iso(now.day))
                .on("change", move |event| {
                    if let Some(day) = calendar::of_iso(&typed(&event)) {
                        desk.tickets.change(|tickets| {
                            if let Some(ticket) = tickets.current_mut() {
                                ticket.day = day;
                            }
                        });
                    }
                }),
        );
    let step = NumberField::<Tickets> {
        id: "ticket-step".to_owned(),
        of: Owner::Nothing,
        name: name(desk, "ticket-step"),
        label: "The plate’s step".into(),
        hint: "20 kg is usual.",
        field: Field::TicketStep,
        optional: false,
        slot: Slot {
            get: Box::new(|tickets| Some(tickets.current()?.step?.amount())),
            set: Box::new(|tickets, amount| {
                if let Some(ticket) = tickets.current_mut() {
                    ticket.step = amount.and_then(Typed::of);
                }
            }),
        },
    }
    .view(desk.state);
    let mut part = element("div")
        .class("ticket")
        .child(place)
        .child(day)
        .child(step);
    let first = first_asked(desk);
    for ((title, _), asked) in said::THREE.iter().zip(said::ASKED).skip(first) {
        let fields = asked
            .iter()
            .map(|on| number(desk, *on, Wheels::Both, said::on_plate(*on)));
        let fields = fields.fold(element("div").class("pair"), Element::child);
        part = part.child(element("h3").child(*title)).child(fields);
    }
    let extra = memo(move |_| {
        desk.tickets.read(|tickets| {
            let readings = tickets.current().map(|ticket| ticket.readings.as_slice());
            let each = readings.unwrap_or_default().iter();
            each.filter(|of| !is_asked(of.on, of.wheels, first))
                .map(|of| (of.on, of.wheels))
                .collect::<Vec<_>>()
        })
    });
    part.child(live(move || {
        let fields = extra.get().into_iter().map(|(on, wheels)| {
            let label = said::further(on, wheels);
            number(desk, on, wheels, label)
        });
        fields.fold(element("div").class("pair"), Element::child)
    }))
    .child(live(move || further(desk, &extra.get())))
}

/// A list of readings that are seldom had.
fn further(desk: Desk, there: &[(OnPlate, Wheels)]) -> Element {
    let trailer = desk.state.rig_now(|rig| {
        let trailer = rig.axles.iter().find(|axle| axle.place == Place::Trailer);
        trailer.map_or(0, |axle| axle.axles)
    });
    let list = element("select")
        .attr("id", FURTHER)
        .on("change", move |event| {
            let picked = typed(&event).parse::<usize>().ok();
            if let Some((on, wheels, _)) = picked.and_then(|index| said::FURTHER.get(index)) {
                desk.tickets.change(|tickets| {
                    if let Some(ticket) = tickets.current_mut() {
                        ticket.set(*on, *wheels, None);
                    }
                });
                focus_soon(field_id(*on, *wheels));
            }
        });
    let none = element("option").attr("value", "").child("Pick one");
    let options = said::FURTHER
        .iter()
        .enumerate()
        .filter(|(_, (on, wheels, _))| {
            !there.contains(&(*on, *wheels))
                && on.line().is_none_or(|line| trailer > 1 && line < trailer)
        });
    let options = options.map(|(index, (_, _, name))| {
        element("option")
            .attr("value", index.to_string())
            .child(*name)
    });
    element("div")
        .class("field")
        .child(
            element("label")
                .attr("for", FURTHER)
                .child("Another reading"),
        )
        .child(options.fold(list.child(none), Element::child))
}

/// Names what says that readings disagree.
pub(super) const CONTRADICTION: &str = "contradiction";

/// How the readings agree, where more were had than are needed.
fn agreement(desk: Desk) -> Option<Element> {
    let unit = desk.units().mass;
    let names = desk.tickets.read(|tickets| {
        let readings = tickets.current().map(|ticket| ticket.readings.as_slice());
        let read = readings.unwrap_or_default().iter();
        read.filter(|of| of.mass.is_some())
            .map(|of| said::further(of.on, of.wheels))
            .collect::<Vec<_>>()
    });
    desk.seen.with(|seen| {
        let solution = seen.as_ref().ok()?.found.solution();
        let residuals = solution.residuals();
        // What nothing checks has no room to be off.
        let checked = |of: &Residual| of.explained.get::<kilogram>() > 0.5;
        if names.len() != residuals.len() || !residuals.iter().any(checked) {
            return None;
        }
        let lines = names.iter().zip(&residuals).filter(|(_, of)| checked(of));
        let lines = lines.map(|(name, of)| format!("{name}: {}", said::residual(of, unit)));
        let all = fold("How the readings agree").child(listed(lines));
        let Some(contradiction) = solution.contradiction() else {
            return Some(all.child(paragraph("hint", said::AGREE)));
        };
        let suspect = contradiction.suspect.and_then(|index| names.get(index));
        let says = match suspect {
            Some(name) => format!(
                "{} {name} is the one that the others don’t bear out.",
                said::DISAGREE
            ),
            None => said::DISAGREE.to_owned(),
        };
        Some(
            element("div")
                .class("danger contradiction")
                .attr("id", CONTRADICTION)
                .attr("tabindex", "-1")
                .attr("role", "alert")
                .child(paragraph("warning", says))
                .child(all.attr("open", "")),
        )
    })
}
