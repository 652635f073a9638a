//! What is due, one's own checks, how often, and reminders in the phone's own
//! calendar.

use super::words;
use crate::calc::limits::{Field, Unit};
use crate::rig::Owner;
use crate::rig::checks::calendar_file::{self, Entry as Event};
use crate::rig::checks::due::{self, When};
use crate::rig::checks::{Checks, Log, Matter, OwnCheck, OwnDone, Task};
use crate::rig::nuts::Nuts;
use crate::rig::typed::{Amount, Measure, Typed, TypedDistance};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, element, live, typed};
use crate::ui::kit::fields::{
    NumberField, Slot, button, buttons, done, focus_soon, link, paragraph,
};
use crate::ui::kit::follow::memo;
use crate::ui::kit::format::Entry;
use crate::ui::kit::odometer::{odometer, odometer_now};
use crate::ui::kit::parts::{closed, fold, heading, pair};
use crate::ui::kit::{check_words, clock, files, lots, route};
use leptos::prelude::*;

/// What was done last, as it was before.
#[derive(Clone, PartialEq)]
enum Undo {
    Done(Box<OwnCheck>, OwnDone),
    Deleted(usize, Box<OwnCheck>),
}

type Undoing = RwSignal<Option<Undo>>;

/// Everything that is due or will be; what calls this runs again when it
/// changes.
fn tasks(state: State) -> Vec<Task> {
    let today = clock::today();
    let checks = state.section::<Checks>().read(Checks::clone);
    state
        .section::<Nuts>()
        .with_rig(|rig, nuts| due::list(rig, &checks, nuts, today))
}

/// What is due, with the way to each.
pub fn list(state: State) -> Content {
    let undo: Undoing = RwSignal::new(None);
    element("section")
        .class("due-list")
        .attr("aria-labelledby", "due-heading")
        .child(heading("due-heading", "What is due"))
        .child(live(move || taken_back(state, undo)))
        .child(live(move || rows(state, undo)))
        .child(live(move || {
            let checks = state.section::<Checks>();
            let under_way = checks.read(|checks| checks.round.is_some());
            let label = if under_way {
                "Go on with the round"
            } else {
                "Check round"
            };
            let round = link(label, route::ROUND).class("button primary");
            buttons().child(round).child(link("Log", route::LOG))
        }))
        .node()
}

fn rows(state: State, undo: Undoing) -> Element {
    let each = tasks(state).into_iter().map(|task| {
        let checks = state.section::<Checks>();
        let name = checks.with_rig(|rig, checks| check_words::matter(rig, checks, &task.matter));
        let class = match task.is_now() {
            true => "doubt",
            false => "",
        };
        let row = element("li")
            .child(element("strong").child(name))
            .child(paragraph(class, words::when(&task)));
        match task.matter {
            Matter::Own(id) => row.child(buttons().child(button("Done today", move || {
                done_today(state, id, undo);
            }))),
            Matter::Bad(tyres) => {
                let which = checks.with_rig(|rig, _| {
                    let names = tyres.iter().map(|tyre| check_words::tyre(rig, *tyre));
                    names.collect::<Vec<_>>()
                });
                row.child(paragraph("warning", which.join("; ")))
            }
            Matter::Nuts { .. } if task.is_now() => {
                row.child(buttons().child(link("Check the nuts", "#/nuts")))
            }
            _ => row,
        }
    });
    each.fold(element("ul").class("dues"), Element::child)
}

fn done_today(state: State, id: u32, undo: Undoing) {
    let checks = state.section::<Checks>();
    let Some(before) = checks.now(|checks| checks.own(id).cloned()) else {
        return;
    };
    let name = checks.now(|checks| check_words::own_name(checks, id));
    let (day, odometer) = (clock::today(), untrack(|| odometer_now(state)));
    let line = OwnDone {
        id,
        name,
        day,
        odometer,
        ..OwnDone::default()
    };
    let piece = state.piece::<Log>(Log::piece(day));
    if piece.why_aside().is_none() {
        piece.change(|log| {
            log.add_done(line.clone());
        });
    }
    checks.change(|checks| {
        if let Some(own) = checks.own_mut(id) {
            (own.done_day, own.done_at) = (Some(day), odometer);
        }
    });
    undo.set(Some(Undo::Done(Box::new(before), line)));
}

fn taken_back(state: State, undo: Undoing) -> Option<Element> {
    let (said, label) = match undo.get()? {
        Undo::Done(_, line) => (format!("{}: done today.", line.name), "Not done"),
        Undo::Deleted(..) => ("The check was deleted.".to_owned(), "Bring it back"),
    };
    let back = button(label, move || {
        let Some(what) = undo.get_untracked() else {
            return;
        };
        undo.set(None);
        let checks = state.section::<Checks>();
        match what {
            Undo::Done(before, line) => {
                let piece = state.piece::<Log>(Log::piece(line.day));
                piece.change(|log| {
                    if let Some(place) = log.done.iter().rposition(|of| *of == line) {
                        log.done.remove(place);
                    }
                });
                checks.change(|checks| {
                    if let Some(own) = checks.own_mut(before.id) {
                        *own = *before;
                    }
                });
            }
            Undo::Deleted(place, own) => {
                checks.change(|checks| {
                    let place = place.min(checks.own.len());
                    checks.own.insert(place, *own);
                });
            }
        }
    });
    Some(done(said, back))
}

fn days<S: crate::rig::section::Entered>(
    state: State,
    id: String,
    label: &'static str,
    hint: &'static str,
    slot: impl Fn(&mut S) -> Option<&mut Option<u32>> + Copy + 'static,
) -> Element {
    NumberField::<S> {
        name: id.clone(),
        id,
        of: Owner::Nothing,
        label: label.into(),
        hint,
        field: Field::CheckDays,
        optional: true,
        slot: Slot {
            get: Box::new(move |section| {
                let days = (*slot(&mut section.clone())?)?;
                Some(Amount::new(days.into(), Measure::Day))
            }),
            set: Box::new(move |section, amount| {
                if let Some(days) = slot(section) {
                    *days = amount.map(|amount| amount.number().round() as u32);
                }
            }),
        },
    }
    .view_as(state, Entry::Plain(Unit::Day))
}

/// How often what is done, and checks of one's own.
pub fn own(state: State) -> Content {
    let undo: Undoing = RwSignal::new(None);
    let ids = memo(move |_| {
        let checks = state.section::<Checks>();
        checks.read(|checks| checks.own.iter().map(|own| own.id).collect::<Vec<_>>())
    });
    let add = button("Add a check", move || {
        let mut added = None;
        let checks = state.section::<Checks>();
        checks.change(|checks| added = checks.add_own());
        if let Some(id) = added {
            focus_soon(name_id(id));
        }
    });
    closed("How often, and my own checks")
        .child(pair(
            days(
                state,
                "check-pressures".to_owned(),
                "Pressures every",
                "Blank: 14.",
                |checks: &mut Checks| Some(&mut checks.pressure_days),
            ),
            days(
                state,
                "check-nuts".to_owned(),
                "Wheel nuts every",
                "Blank: 14. Nuts of a wheel just refitted: after 50 to 100 km, always.",
                |nuts: &mut Nuts| Some(&mut nuts.check_days),
            ),
        ))
        .child(odometer(state))
        .child(live(move || taken_back(state, undo)))
        .child(live(move || {
            let each = ids.get().into_iter().map(|id| one(state, id, undo));
            each.fold(element("div"), Element::child)
        }))
        .child(buttons().child(add))
        .node()
}

fn name_id(id: u32) -> String {
    format!("own-{id}-name")
}

fn one(state: State, id: u32, undo: Undoing) -> Element {
    let checks = state.section::<Checks>();
    let name = checks.now(|checks| checks.own(id).map_or(String::new(), |own| own.name.clone()));
    let input = element("input")
        .attr("id", name_id(id))
        .attr("type", "text")
        .attr("autocomplete", "off")
        .attr("maxlength", Checks::LONGEST_NAME.to_string())
        .attr("placeholder", "Plugs and lights")
        .attr("value", name)
        .on("input", move |event| {
            let name: String = typed(&event).chars().take(Checks::LONGEST_NAME).collect();
            checks.change(|checks| {
                if let Some(own) = checks.own_mut(id) {
                    own.name = name;
                }
            });
        });
    let distance = NumberField::<Checks> {
        id: format!("own-{id}-km"),
        name: format!("own-{id}-km"),
        of: Owner::Nothing,
        label: "Or every".into(),
        hint: "May be left blank. Needs the odometer.",
        field: Field::CheckDistance,
        optional: true,
        slot: Slot {
            get: Box::new(move |checks| Some(checks.own(id)?.distance?.amount())),
            set: Box::new(move |checks, amount| {
                if let Some(own) = checks.own_mut(id) {
                    own.distance = amount.and_then(|of| -> Option<TypedDistance> { Typed::of(of) });
                }
            }),
        },
    }
    .view_as(state, Entry::Plain(Unit::Kilometre));
    element("div")
        .class("own-check")
        .child(
            element("div")
                .class("field")
                .child(element("label").attr("for", name_id(id)).child("What"))
                .child(input),
        )
        .child(pair(
            days(
                state,
                format!("own-{id}-days"),
                "Every",
                "May be left blank.",
                move |checks: &mut Checks| checks.own_mut(id).map(|own| &mut own.days),
            ),
            distance,
        ))
        .child(buttons().child(button("Delete this check", move || {
            let mut gone = None;
            checks.change(|checks| {
                if let Some(place) = checks.own.iter().position(|own| own.id == id) {
                    gone = Some(Undo::Deleted(place, Box::new(checks.own.remove(place))));
                }
                let fields = format!("own-{id}-");
                checks
                    .unusable
                    .retain(|text| !text.field.starts_with(&fields));
            });
            undo.set(gone);
        })))
}

/// Reminders that the phone keeps by itself.
pub fn reminders(state: State) -> Content {
    let save = files::save(
        files::Kind::Calendar,
        "Save the reminders",
        "tyreside-checks.ics",
        move || calendar(state),
    );
    let says = "A page that is closed can’t remind you; the phone’s calendar can. Open the saved \
                file with it. After a change save it again: it takes the place of the old one.";
    fold("Reminders in the phone’s calendar")
        .child(paragraph("hint", says))
        .child(paragraph(
            "hint",
            "What hangs on kilometres alone has no day, and is left out.",
        ))
        .child(buttons().child(save))
        .node()
}

fn calendar(state: State) -> String {
    let today = clock::today();
    let now = (clock::now_day() * 86_400.0).max(0.0) as u64;
    let checks = state.section::<Checks>();
    if checks.now(|checks| checks.calendar.is_empty()) {
        checks.change(|checks| checks.calendar = lots::draw());
    }
    let tasks = untrack(|| tasks(state));
    let nut_days = state.section::<Nuts>().now(Nuts::days_between);
    let events = checks.with_rig_now(|rig, checks| {
        let each = tasks.into_iter().filter_map(|task| {
            let (what, every) = match &task.matter {
                Matter::Pressures => ("pressures".to_owned(), Some(checks.days_between())),
                Matter::Nuts { .. } => ("nuts".to_owned(), Some(nut_days)),
                Matter::Own(id) => (format!("own-{id}"), checks.own(*id)?.days),
                Matter::Bad(_) | Matter::Age { .. } | Matter::Tread { .. } => return None,
            };
            let uid = format!("{}-{what}@tyreside", checks.calendar);
            let day = match task.when {
                When::Now { .. } => Some(today),
                When::Never => every.map(|_| today),
                When::Ahead { on, .. } => on,
                When::Standing => None,
            };
            let summary = match &task.matter {
                Matter::Nuts { .. } => "Wheel nuts".to_owned(),
                other => check_words::matter(rig, checks, other),
            };
            let name = rig.name.trim();
            let of = if name.is_empty() {
                String::new()
            } else {
                format!(" ({name})")
            };
            Some(Event {
                uid,
                summary: summary + &of,
                description: match &task.matter {
                    Matter::Own(_) => String::new(),
                    _ => words::REMINDER.to_owned(),
                },
                day: day?.max(today),
                every,
            })
        });
        // Nuts may have several lines in the list, what is first due first.
        let mut events: Vec<Event> = Vec::new();
        for event in each {
            match events.iter_mut().find(|of| of.uid == event.uid) {
                Some(of) => of.day = of.day.min(event.day),
                None => events.push(event),
            }
        }
        events
    });
    calendar_file::write(&events, now)
}
