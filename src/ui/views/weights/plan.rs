//! The load plan: the drawing with its loads, and the controls of the one
//! picked.

use super::desk::{Desk, Moving, Seen, Undo, first_load, remember};
use super::drawing::{self, Mark};
use super::words as said;
use crate::calc::limits::Field;
use crate::calc::quantity::millimeter;
use crate::calc::weights::AxleAt;
use crate::calc::weights::ticket::Weighing;
use crate::rig::typed::{Kind, Typed};
use crate::rig::weights::{ItemKind, On, PlanItem, Weights};
use crate::rig::{Axle, Owner, Rig};
use crate::ui::kit::element::{Content, Element, element, live, typed};
use crate::ui::kit::fields::{
    NumberField, Slot, button, buttons, focus_soon, paragraph, select, tick,
};
use crate::ui::kit::follow::memo;
use crate::ui::kit::format;
use crate::ui::kit::parts::heading;
use leptos::prelude::*;
use leptos::wasm_bindgen::JsCast;
use leptos::web_sys::{self, PointerEvent};

/// Steps in which a load is moved.
const STEP_MM: f64 = 50.0;

/// The key that takes the last change back, while there is one.
pub fn undo(desk: Desk) -> Content {
    let any = memo(move |_| desk.undo.with(|undo| !undo.is_empty()));
    live(move || {
        any.get()
            .then(|| buttons().child(button("Undo", move || take_back(desk))))
    })
}

fn take_back(desk: Desk) {
    let mut last = None;
    desk.undo.update(|undo| last = undo.pop());
    let Some(last) = last else { return };
    match last {
        Undo::Laid(was) => desk.weights.change(|weights| was.lay(weights)),
        Undo::Removed(index, item) => {
            desk.picked.set(Some(item.id));
            desk.weights.change(|weights| {
                weights.items.insert(index.min(weights.items.len()), *item);
            });
        }
        Undo::Added(id) => forget(desk, id),
        Undo::Ticket(index, ticket) => {
            desk.tickets.change(|tickets| {
                tickets.in_force = Some(ticket.id);
                let index = index.min(tickets.tickets.len());
                tickets.tickets.insert(index, *ticket);
            });
            desk.state.shape.update(|shape| *shape += 1);
        }
        Undo::Handed(axles) => {
            desk.weights.change(|weights| weights.in_use = false);
            desk.state.change(|rig| {
                // Of the same axles only.
                let same = |(was, now): (&Axle, &Axle)| was.id == now.id;
                if rig.axles.len() == axles.len() && axles.iter().zip(&rig.axles).all(same) {
                    rig.axles = axles;
                }
            });
        }
    }
    desk.spoken.set("Taken back.".to_owned());
}

fn forget(desk: Desk, id: u32) {
    let drafts = field_name(id, "");
    desk.weights.change(|weights| {
        weights.items.retain(|item| item.id != id);
        weights
            .unusable
            .retain(|text| !text.field.starts_with(&drafts));
    });
    if desk.picked.get_untracked() == Some(id) {
        desk.picked.set(first_load(desk.state, desk.weights));
    }
}

/// Moves a load, for good.
fn settle(desk: Desk, to: Moving) {
    let was = desk.weights.now(|weights| {
        let item = weights.items.iter().find(|item| item.id == to.id)?;
        Some(Moving {
            id: to.id,
            on: item.on,
            at_mm: item.ahead().get::<millimeter>(),
        })
    });
    desk.moving.set(None);
    let Some(was) = was.filter(|was| *was != to) else {
        return;
    };
    remember(desk, Undo::Laid(was));
    desk.weights.change(|weights| to.lay(weights));
    speak(desk, to.id);
}

/// Says what came of a move.
fn speak(desk: Desk, id: u32) {
    let unit = desk.units().mass;
    let sentence = desk.seen.with_untracked(|seen| {
        let seen = seen.as_ref().ok()?;
        let item = seen.items.iter().find(|item| item.id == id)?;
        let mut sentence = format!("{}: {}.", name(item), said::place(item.on, item.ahead()));
        if let Some(ball) = seen.figure(Weighing::Ball) {
            sentence += &format!(" Ball mass {}.", said::figure(&ball, unit));
        }
        if let Some(worst) = seen.margins.first() {
            sentence += &format!(
                " Least left: {}, {}.",
                said::rating(worst.rating),
                said::left(worst, unit)
            );
        }
        Some(sentence)
    });
    desk.spoken.set(sentence.unwrap_or_default());
}

fn name(item: &PlanItem) -> String {
    let name = item.name.trim();
    if name.is_empty() {
        said::kind(item.kind).to_owned()
    } else {
        name.to_owned()
    }
}

fn marks(seen: &Seen, picked: Option<u32>) -> Vec<Mark> {
    let laid = |id: u32| seen.laid.iter().find(|laid| laid.load == id);
    let Some(along) = &seen.along else {
        return Vec::new();
    };
    let drawn = seen.items.iter().enumerate();
    let drawn = drawn.filter(|(_, item)| item.has_place(seen.trailer.is_some()));
    let each = drawn.map(|(index, item)| Mark {
        number: index + 1,
        kind: item.kind,
        fill: item.fill.map_or(0.0, |fill| fill.percent() / 100.0),
        at: along.of(item.on, item.ahead()),
        was: laid(item.id)
            .filter(|laid| item.laid().as_ref() != Some(*laid))
            .map(|laid| along.of(laid.on, laid.ahead())),
        picked: picked == Some(item.id),
    });
    each.collect()
}

/// The part of the view.
pub fn part(desk: Desk) -> Element {
    let section = element("section")
        .class("plan")
        .attr("aria-labelledby", "plan-heading")
        .child(heading("plan-heading", "Load plan"));
    let lacking = memo(move |_| {
        desk.seen
            .with(|seen| seen.as_ref().ok().and_then(|seen| seen.found.lacks))
    });
    section
        .child(live(move || match lacking.get() {
            Some(field) => vec![paragraph(
                "said",
                format!(
                    "Enter {} under Measures: then loads can be moved here, and estimated.",
                    said::lacks(field)
                ),
            )],
            None => vec![drawn(desk), summary(desk)],
        }))
        .child(live(move || surges(desk)))
        .child(undo(desk))
        .child(keys(desk))
        .child(live(move || {
            desk.state.shape.track();
            desk.picked.get().map(|id| panel(desk, id))
        }))
}

fn drawn(desk: Desk) -> Element {
    let stays = memo(move |_| {
        desk.seen
            .with(|seen| seen.as_ref().ok().and_then(|seen| seen.along))
    });
    let rig = element("div").class("sheet").markup_live(move || {
        let along = stays.get();
        along.map(|along| drawing::rig(&along)).unwrap_or_default()
    });
    let follows = element("div").markup_live(move || {
        let (unit, picked) = (desk.units().mass, desk.picked.get());
        desk.seen.with(|seen| {
            let Ok(seen) = seen else {
                return String::new();
            };
            let Some(along) = &seen.along else {
                return String::new();
            };
            let mass = |weighing| {
                let figure = seen.figure(weighing)?;
                Some(format::mass(unit, figure.mass.likely))
            };
            let on = |at: AxleAt| mass(at.weighing(seen.coupling));
            let masses = [
                on(AxleAt::Front),
                on(AxleAt::Rear),
                mass(Weighing::Ball),
                on(AxleAt::Trailer),
            ];
            drawing::loads(along, &marks(seen, picked), masses)
        })
    });
    element("div")
        .class("to-scale load-plan")
        .child(follows)
        .child(rig)
        .on("pointerdown", move |event| take_hold(desk, &event))
        .on("pointermove", move |event| drag(desk, &event))
        .on("pointerup", move |event| {
            drag(desk, &event);
            if let Some(to) = desk.moving.get_untracked() {
                settle(desk, to);
            }
        })
        .on("pointercancel", move |_| desk.moving.set(None))
}

/// The tanks that are part full.
fn surges(desk: Desk) -> Vec<Element> {
    let names = desk.weights.read(|weights| {
        let tanks = weights.items.iter();
        let tanks = tanks.filter(|item| item.tank().is_some_and(|tank| tank.can_surge()));
        tanks.map(name).collect::<Vec<_>>()
    });
    let said = names.iter().map(|name| said::part_full(name));
    said.map(|text| paragraph("warning", text)).collect()
}

/// What follows from the plan, in sight of the thumb.
fn summary(desk: Desk) -> Element {
    let text = desk.text(move |seen| {
        let units = desk.units();
        let ball = seen.figure(Weighing::Ball);
        let ball = ball.map(|ball| format!("Ball {}", format::mass(units.mass, ball.mass.likely)));
        let worst = seen.margins.first().map(|margin| {
            format!(
                "{}: {}",
                said::rating(margin.rating),
                said::left(margin, units.mass)
            )
        });
        let van = seen.trailer.and_then(|index| seen.effects.get(index)?.1);
        let van = van.map(|effect| {
            let least = format::pressure_up(units.pressure, effect.least);
            format!("van tyres at least {least}")
        });
        let parts = [ball, worst, van].into_iter().flatten();
        parts.collect::<Vec<_>>().join(" · ")
    });
    paragraph("plan-sum", text)
}

/// Where a pointer is, as shares of the drawing's width and height, and what
/// it is on.
fn place_of(event: &web_sys::Event) -> Option<((f64, f64), web_sys::Element, i32)> {
    let pointer = event.dyn_ref::<PointerEvent>()?;
    let sheet: web_sys::Element = event.current_target()?.dyn_into().ok()?;
    let bounds = sheet.get_bounding_client_rect();
    let share = (
        (f64::from(pointer.client_x()) - bounds.left()) / bounds.width(),
        (f64::from(pointer.client_y()) - bounds.top()) / bounds.height(),
    );
    Some((share, sheet, pointer.pointer_id()))
}

fn take_hold(desk: Desk, event: &web_sys::Event) {
    let Some((share, sheet, pointer)) = place_of(event) else {
        return;
    };
    let picked = desk.picked.get_untracked();
    let found = desk.seen.with_untracked(|seen| {
        let seen = seen.as_ref().ok()?;
        let along = seen.along.as_ref()?;
        let marks = marks(seen, picked);
        let mark = marks.get(drawing::nearest(along, &marks, share)?)?;
        let item = seen.items.get(mark.number - 1)?;
        Some(Moving {
            id: item.id,
            on: item.on,
            at_mm: item.ahead().get::<millimeter>(),
        })
    });
    if let Some(found) = found {
        // A mouse may leave the drawing without letting go.
        let _ = sheet.set_pointer_capture(pointer);
        if picked != Some(found.id) {
            desk.picked.set(Some(found.id));
        }
        desk.moving.set(Some(found));
    }
}

fn drag(desk: Desk, event: &web_sys::Event) {
    let Some(moving) = desk.moving.get_untracked() else {
        return;
    };
    if let Some((share, ..)) = place_of(event)
        && let Some(to) = towards(desk, moving.id, |along| along.at_share(share.0))
        && to != moving
    {
        desk.moving.set(Some(to));
    }
}

/// A load at a place along the rig, on a whole step from its axle.
fn towards(desk: Desk, id: u32, at: impl Fn(&drawing::Along) -> f64) -> Option<Moving> {
    desk.seen.with_untracked(|seen| {
        let along = seen.as_ref().ok()?.along.as_ref()?;
        let (from, to) = along.ends();
        let (on, ahead) = along.place(at(along).max(from).min(to));
        let steps = (ahead.get::<millimeter>() / STEP_MM).round();
        Some(Moving {
            id,
            on,
            at_mm: steps * STEP_MM,
        })
    })
}

/// A key for each load.
fn keys(desk: Desk) -> Element {
    let list = live(move || {
        let has_trailer = desk.state.rig_now(Rig::has_trailer);
        // Followed by value, so that a drag does not make the keys anew.
        desk.weights
            .read(|weights| {
                let names = weights.items.iter().enumerate();
                names
                    .filter(|(_, item)| item.has_place(has_trailer))
                    .map(|(index, item)| (item.id, format!("{} {}", index + 1, name(item))))
                    .collect::<Vec<_>>()
            })
            .into_iter()
            .map(|(id, name)| {
                element("button")
                    .attr("type", "button")
                    .class("load-key")
                    .attr_live("aria-pressed", move || {
                        Some((desk.picked.get() == Some(id)).to_string())
                    })
                    .child(name)
                    .on("click", move |_| desk.picked.set(Some(id)))
            })
            .collect::<Vec<_>>()
    });
    let add = button("Add a load", move || add(desk));
    element("div")
        .class("load-keys")
        .attr("role", "group")
        .attr("aria-label", "Loads")
        .child(list)
        .child(add)
}

fn add(desk: Desk) {
    let id = desk.weights.now(|weights| {
        if weights.items.len() >= Weights::MOST_ITEMS {
            return None;
        }
        Some(weights.items.iter().map(|item| item.id).fold(0, u32::max) + 1)
    });
    let Some(id) = id else {
        desk.spoken
            .set(format!("No more than {} loads.", Weights::MOST_ITEMS));
        return;
    };
    let on = match desk.state.rig_now(Rig::has_trailer) {
        true => On::Trailer,
        false => On::Vehicle,
    };
    desk.weights.change(|weights| {
        weights.items.push(PlanItem {
            id,
            on,
            ..PlanItem::default()
        });
    });
    remember(desk, Undo::Added(id));
    desk.picked.set(Some(id));
    focus_soon(field_name(id, "name"));
}

fn field_name(id: u32, name: &str) -> String {
    format!("item-{id}-{name}")
}

fn with_item<T>(desk: Desk, id: u32, read: impl FnOnce(&PlanItem) -> T) -> Option<T> {
    desk.weights
        .read(|weights| weights.items.iter().find(|item| item.id == id).map(read))
}

fn change_item(desk: Desk, id: u32, change: impl FnOnce(&mut PlanItem)) {
    desk.weights.change(|weights| {
        if let Some(item) = weights.items.iter_mut().find(|item| item.id == id) {
            change(item);
        }
    });
}

fn number<K: Kind + Send + 'static>(
    desk: Desk,
    id: u32,
    name: &'static str,
    label: &'static str,
    hint: &'static str,
    field: Field,
    slot: fn(&mut PlanItem) -> &mut Option<Typed<K>>,
) -> Element {
    let of = move |weights: &Weights| {
        let mut item = weights.items.iter().find(|item| item.id == id)?.clone();
        slot(&mut item).map(Typed::amount)
    };
    NumberField::<Weights> {
        id: field_name(id, name),
        of: Owner::Nothing,
        name: field_name(id, name),
        label: label.into(),
        hint,
        field,
        optional: true,
        slot: Slot {
            get: Box::new(of),
            set: Box::new(move |weights, amount| {
                if let Some(item) = weights.items.iter_mut().find(|item| item.id == id) {
                    *slot(item) = amount.and_then(Typed::of);
                }
            }),
        },
    }
    .view(desk.state)
}

/// The controls of one load.
fn panel(desk: Desk, id: u32) -> Element {
    let Some(now) = desk
        .weights
        .now(|weights| weights.items.iter().find(|item| item.id == id).cloned())
    else {
        return element("div");
    };
    let title = live(move || with_item(desk, id, name));
    let kind = memo(move |_| with_item(desk, id, |item| item.kind).unwrap_or_default());
    let called = element("div")
        .class("field")
        .child(
            element("label")
                .attr("for", field_name(id, "name"))
                .child("Name"),
        )
        .child(
            element("input")
                .attr("id", field_name(id, "name"))
                .attr("type", "text")
                .attr("autocomplete", "off")
                .attr("maxlength", PlanItem::LONGEST_NAME.to_string())
                .attr("value", now.name.clone())
                .on("input", move |event| {
                    let name = typed(&event);
                    change_item(desk, id, |item| item.name = name);
                }),
        );
    const KINDS: [ItemKind; 4] = [
        ItemKind::Load,
        ItemKind::Tank,
        ItemKind::SpareWheel,
        ItemKind::RearBox,
    ];
    let kinds = select(
        field_name(id, "kind"),
        "What it is",
        KINDS.map(said::kind).into(),
        KINDS.iter().position(|kind| *kind == now.kind).unwrap_or(0),
        Box::new(move |picked| {
            if let Some(kind) = KINDS.get(picked) {
                change_item(desk, id, |item| item.kind = *kind);
            }
        }),
    );
    let masses = live(move || match kind.get() {
        ItemKind::Tank => vec![
            number(desk, id, "size", "Holds", "", Field::TankSize, |item| {
                &mut item.size
            }),
            number(desk, id, "fill", "Filled", "", Field::TankFill, |item| {
                &mut item.fill
            }),
        ],
        _ => vec![number(
            desk,
            id,
            "mass",
            "Mass",
            "",
            Field::ItemMass,
            |item| &mut item.mass,
        )],
    });
    // A memo, since it hangs on two sections.
    let laid = memo(move |_| {
        desk.tickets
            .read(|tickets| tickets.current().map(|ticket| ticket.laid(id)))
    });
    let as_laid = move || {
        let now = with_item(desk, id, PlanItem::laid).flatten();
        laid.get().flatten().is_some_and(|laid| now == Some(laid))
    };
    let weighed = memo(move |_| laid.get().is_some());
    let aboard = live(move || {
        weighed.get().then(|| {
            tick(
                "It lay here when the rig was weighed",
                as_laid,
                move |ticked| {
                    let now = with_item(desk, id, PlanItem::laid).flatten();
                    desk.tickets.change(|tickets| {
                        if let Some(ticket) = tickets.current_mut() {
                            ticket.set_laid(id, now.filter(|_| ticked));
                        }
                    });
                },
            )
        })
    });
    let moved = live(move || {
        let was = laid.get().flatten()?;
        (!as_laid()).then(|| {
            button("Back to where it was weighed", move || {
                let to = Moving {
                    id,
                    on: was.on,
                    at_mm: was.ahead().get::<millimeter>(),
                };
                settle(desk, to);
            })
        })
    });
    let remove = button("Remove this load", move || {
        let at = desk.weights.now(|weights| {
            let index = weights.items.iter().position(|item| item.id == id)?;
            Some((index, weights.items[index].clone()))
        });
        if let Some((index, item)) = at {
            remember(desk, Undo::Removed(index, Box::new(item)));
            forget(desk, id);
        }
    });
    element("div")
        .class("picked-load")
        .child(element("h3").child(title))
        .child(slider(desk, id))
        .child(called)
        .child(kinds)
        .child(element("div").class("pair").child(masses))
        .child(aboard)
        .child(buttons().child(moved).child(remove))
}

/// The place of a load: on whole steps along the rig.
fn slider(desk: Desk, id: u32) -> Element {
    let ends = memo(move |_| {
        desk.seen.with(|seen| {
            let along = seen.as_ref().ok()?.along.as_ref()?;
            Some(along.ends())
        })
    });
    let here = memo(move |_| {
        desk.seen.with(|seen| {
            let seen = seen.as_ref().ok()?;
            let along = seen.along.as_ref()?;
            let item = seen.items.iter().find(|item| item.id == id)?;
            Some((along.of(item.on, item.ahead()), item.on, item.ahead()))
        })
    });
    let words = move || {
        let here = here.get();
        here.map(|(_, on, ahead)| said::place(on, ahead))
            .unwrap_or_default()
    };
    let count = move || {
        let steps = ends.get().map(|(from, to)| (to - from) / STEP_MM);
        (steps.unwrap_or(0.0) + 1e-6).floor() as u32
    };
    let at = move || {
        let steps = here
            .get()
            .zip(ends.get())
            .map(|((at, ..), (from, _))| (at - from) / STEP_MM);
        steps.unwrap_or(0.0).round().max(0.0) as u32
    };
    let to = move |steps: f64| {
        let (from, _) = ends.get_untracked()?;
        towards(desk, id, move |_| from + steps * STEP_MM)
    };
    let by = move |label: &'static str, name: &'static str, way: f64| {
        button(label, move || {
            let at = here.get_untracked().zip(ends.get_untracked());
            let Some(((at, ..), (from, _))) = at else {
                return;
            };
            if let Some(to) = to((at - from) / STEP_MM + way) {
                settle(desk, to);
            }
        })
        .class("step")
        .attr("aria-label", name)
    };
    let read = move |event: &web_sys::Event| to(f64::from(typed(event).parse::<u32>().ok()?));
    let input = element("input")
        .attr("type", "range")
        .attr("id", field_name(id, "place"))
        .attr("min", "0")
        .attr_live("max", move || Some(count().to_string()))
        .attr("aria-label", "Its place, front of the rig to the left")
        .attr_live("aria-valuetext", move || Some(words()))
        .value_live(move || at().to_string())
        .on("input", move |event| {
            if let Some(to) = read(&event) {
                desk.moving.set(Some(to));
            }
        })
        .on("change", move |event| {
            if let Some(to) = read(&event) {
                settle(desk, to);
            }
        });
    let there = memo(move |_| ends.get().is_some());
    element("div")
        .attr_live("class", move || {
            let class = if there.get() {
                "slider"
            } else {
                "slider hidden"
            };
            Some(class.to_owned())
        })
        .child(
            element("div")
                .class("readout")
                .child(by("◀", "5 cm forward", -1.0))
                .child(paragraph("cold", live(words)))
                .child(by("▶", "5 cm back", 1.0)),
        )
        .child(input)
}
