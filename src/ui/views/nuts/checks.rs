//! The check round, what is due, and the log.

use super::edit::{change, nuts, nuts_now};
use super::words;
use crate::calc::torque::recheck::Recheck;
use crate::rig::Rig;
use crate::rig::nuts::{Done, Due, LogEntry, Nuts};
use crate::rig::position::{TyrePosition, Wheel};
use crate::rig::typed::TypedDistance;
use crate::ui::frame::state::State;
use crate::ui::kit::clock::today;
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{button, buttons, done, listed, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::odometer::{odometer, odometer_now};
use crate::ui::kit::rig_drawing::{Marks, Standing, rig_drawing, standing_of};
use crate::ui::kit::tyre_names;
use leptos::prelude::*;
use std::rc::Rc;

/// A line that something was done today.
pub fn today_line(state: State, wheel: Option<Wheel>, done: Done) -> LogEntry {
    LogEntry {
        wheel,
        done,
        day: today(),
        odometer: untrack(|| odometer_now(state)),
        ..LogEntry::default()
    }
}

/// The round, with what its parts follow.
#[derive(Clone, Copy)]
struct Round {
    state: State,
    /// What the last tap came to, where that needs saying.
    said: RwSignal<String>,
    /// What was taken out of the log last.
    removed: RwSignal<Vec<LogEntry>>,
    /// The line of all wheels that the last tap wrote.
    all: RwSignal<Option<LogEntry>>,
}

/// The job.
pub fn view(state: State) -> Content {
    let round = Round {
        state,
        said: RwSignal::new(String::new()),
        removed: RwSignal::new(Vec::new()),
        all: RwSignal::new(None),
    };
    vec![
        element("section")
            .class("round")
            .attr("aria-labelledby", "nuts-round")
            .child(
                element("h2")
                    .attr("id", "nuts-round")
                    .child("Tap each wheel once its nuts are checked"),
            )
            .child(round.drawing())
            .child(paragraph("tapped", live(move || round.said.get())).attr("role", "status"))
            .child(buttons().child(button("All of them are checked", move || round.all())))
            .live(move || round.undo_all())
            .child(odometer(state))
            .node(),
        element("section")
            .class("due-list")
            .attr("aria-labelledby", "nuts-due")
            .child(element("h2").attr("id", "nuts-due").child("What is due"))
            .live(move || dues(state))
            .node(),
        element("section")
            .class("notice")
            .attr("aria-label", "How to check")
            .child(element("h2").child("How to check"))
            .child(listed(CAUTIONS.into_iter().map(str::to_owned)))
            .child(
                element("details")
                    .child(element("summary").child("Why then"))
                    .child(paragraph(
                        "",
                        "50 to 100 km after a wheel went on, then every two weeks: common \
                         practice, no source. The maker's own distance comes first.",
                    )),
            )
            .node(),
        live(move || round.log()),
    ]
    .node()
}

const CAUTIONS: [&str; 3] = [
    "At the makers' torque, in the order of the numbers, wheel on the ground, tyres and hubs cool.",
    "A click on the first pull of a tight nut proves nothing about overtightening. To know, loosen \
     it and pull it up again, one nut at a time.",
    "A nut that keeps coming loose, or a stud that turns or stretches, ends the drive: a licensed \
     tyre fitter.",
];

/// Whether a wheel was checked today, so far as the log knows.
fn is_checked(rig: &Rig, nuts: &Nuts, at: TyrePosition, day: u32) -> bool {
    let newest = nuts.done(rig, at).next();
    newest.is_some_and(|entry| entry.done == Done::Checked && entry.day == day)
}

impl Round {
    fn drawing(self) -> Element {
        let state = self.state;
        let standing = memo(move |_| {
            let now = odometer_now(state);
            state
                .section::<Nuts>()
                .with_rig(|rig, nuts| standings(rig, nuts, now, is_checked))
        });
        let marks = Marks {
            standing: Rc::new(move |at| standing.with(|all| standing_of(all, at))),
            press: Rc::new(move |at| self.press(at)),
            by_wheel: true,
        };
        rig_drawing(
            state,
            &|index| {
                let name = state.rig_now(|rig| tyre_names::group(rig, index));
                element("span").class("axle-name").child(name).node()
            },
            Some(marks),
        )
    }

    /// A wheel's nuts are checked; a second tap takes it back.
    fn press(self, at: TyrePosition) {
        let day = today();
        let wheel = self.state.rig_now(|rig| rig.wheel_at(at));
        let own = |entry: &LogEntry| {
            entry.day == day && entry.done == Done::Checked && entry.wheel == Some(wheel)
        };
        let (checked, newest_is_own) = self.state.section::<Nuts>().with_rig_now(|rig, nuts| {
            let newest = nuts.done(rig, at).next();
            (is_checked(rig, nuts, at, day), newest.is_some_and(own))
        });
        let name = self.state.rig_now(|rig| tyre_names::tyre(rig, at));
        if !checked {
            self.write(Some(wheel));
            self.said.set(format!("{name}: checked."));
        } else if newest_is_own {
            change(self.state, |nuts| {
                if let Some(place) = nuts.log.iter().rposition(own) {
                    nuts.log.remove(place);
                }
            });
            self.said.set(format!("{name}: not checked."));
        } else {
            self.said.set(
                "All were written down as checked today. Remove that line of the log to take it \
                 back."
                    .to_owned(),
            );
        }
    }

    fn all(self) {
        let line = self.write(None);
        self.said.set(String::new());
        self.all.set(Some(line));
    }

    /// One tap writes for all wheels, so that one takes it back.
    fn undo_all(self) -> Option<Element> {
        let line = self.all.get()?;
        // Another tab may have written behind it, or taken it away.
        let place = move |nuts: &Nuts| nuts.log.iter().rposition(|entry| *entry == line);
        let is_there = place.clone();
        nuts(self.state, is_there)?;
        let undo = button("Undo: not checked", move || {
            change(self.state, |nuts| {
                if let Some(place) = place(nuts) {
                    nuts.log.remove(place);
                }
            });
            self.all.set(None);
            self.said.set("All wheels: taken back.".to_owned());
        });
        Some(done(
            "All wheels: written down as checked.".to_owned(),
            undo,
        ))
    }

    fn write(self, wheel: Option<Wheel>) -> LogEntry {
        let line = today_line(self.state, wheel, Done::Checked);
        self.removed.set(Vec::new());
        self.all.set(None);
        change(self.state, |nuts| nuts.log(line.clone()));
        line
    }

    fn log(self) -> Option<Element> {
        let rows = self.state.section::<Nuts>().with_rig(|rig, nuts| {
            let lines = words::log_lines(&nuts.log).rev();
            lines
                .map(|line| words::log_line(rig, nuts, line))
                .collect::<Vec<_>>()
        });
        let removed = self.removed.with(|removed| !removed.is_empty());
        if rows.is_empty() && !removed {
            return None;
        }
        let keys = buttons()
            .child(
                (!rows.is_empty()).then(|| button("Remove the newest line", move || self.remove())),
            )
            .child(removed.then(|| button("Bring it back", move || self.bring_back())));
        Some(
            element("section")
                .class("card")
                .attr("aria-labelledby", "nuts-log")
                .child(element("h2").attr("id", "nuts-log").child("Log"))
                .child(listed(rows.into_iter()))
                .child(keys),
        )
    }

    fn remove(self) {
        let state = self.state;
        let lines = nuts_now(state, |nuts| {
            let newest = words::log_lines(&nuts.log).next_back();
            newest.map(<[LogEntry]>::to_vec).unwrap_or_default()
        });
        change(state, |nuts| {
            nuts.log.truncate(nuts.log.len() - lines.len());
        });
        self.removed.set(lines);
        self.said.set("The newest line was removed.".to_owned());
    }

    fn bring_back(self) {
        let lines = self.removed.get_untracked();
        self.removed.set(Vec::new());
        change(self.state, |nuts| nuts.log.extend(lines));
        self.said.set("The line is back.".to_owned());
    }
}

/// How every wheel stands today; `is_done` says which are done in this job.
pub fn standings(
    rig: &Rig,
    nuts: &Nuts,
    odometer: Option<TypedDistance>,
    is_done: fn(&Rig, &Nuts, TyrePosition, u32) -> bool,
) -> Vec<(TyrePosition, Standing)> {
    let day = today();
    let dues = nuts
        .due(rig, day, odometer.map(TypedDistance::kilometres))
        .into_iter();
    dues.map(|(at, due)| {
        let standing = match due {
            _ if is_done(rig, nuts, at, day) => Standing::Done,
            Some(Due::AfterRefit {
                recheck: Some(Recheck::Overdue),
                ..
            }) => Standing::Wrong,
            Some(due) if due.is_now() => Standing::Due,
            _ => Standing::Open,
        };
        (at, standing)
    })
    .collect()
}

/// What is due, the wheels of which the same is to be said together.
fn dues(state: State) -> Element {
    let now = odometer_now(state).map(TypedDistance::kilometres);
    let dues = state.section::<Nuts>().with_rig(|rig, nuts| {
        let mut said: Vec<(Option<Due>, Vec<Option<Wheel>>)> = Vec::new();
        for (at, due) in nuts.due(rig, today(), now) {
            let wheel = Some(rig.wheel_at(at));
            match said.iter_mut().find(|(of, _)| *of == due) {
                Some((_, wheels)) => wheels.push(wheel),
                None => said.push((due, vec![wheel])),
            }
        }
        let several = said.len() > 1;
        let named = said.into_iter().map(|(due, wheels)| match due {
            None if several => (due, "The other wheels".to_owned()),
            _ => (due, words::names(rig, &wheels)),
        });
        named.collect::<Vec<_>>()
    });
    let of = |now: bool| {
        let is_now = move |due: Option<Due>| due.is_some_and(Due::is_now);
        dues.iter().filter(move |(due, _)| is_now(*due) == now)
    };
    // Twice through the list: code for sorting is far longer.
    let rows = of(true).chain(of(false)).map(|(due, names)| {
        let overdue = matches!(
            due,
            Some(Due::AfterRefit {
                recheck: Some(Recheck::Overdue),
                ..
            })
        );
        let class = match due {
            _ if overdue => "warning",
            Some(due) if due.is_now() => "doubt",
            _ => "",
        };
        let text = due.map_or_else(|| "Not in the log yet.".to_owned(), words::due);
        element("li")
            .child(element("strong").child(names.clone()))
            .child(paragraph(class, text))
    });
    rows.fold(element("ul").class("dues"), Element::child)
}
