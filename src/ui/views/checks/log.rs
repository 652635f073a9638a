//! The log: rounds by year, what one tyre read over time, and the table for
//! other programs.

use super::finished::{Finished, keep_again, take_back};
use super::history::{self, Point};
use super::words;
use crate::calc::quantity::{GaugePressure, kilopascal};
use crate::rig::checks::{Checks, LastRound, Log, Round, table};
use crate::rig::nuts::Nuts;
use crate::rig::position::Spot;
use crate::ui::frame::parts::MAIN;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{
    button, buttons, demo_notice, done, focus_soon, link, listed, paragraph,
};
use crate::ui::kit::follow::memo;
use crate::ui::kit::parts::{fold, heading, part};
use crate::ui::kit::rig_drawing::{Marks, Standing, rig_drawing};
use crate::ui::kit::{calendar, check_words, files, format, route, tyre_names, words as shared};
use leptos::prelude::*;
use std::rc::Rc;

/// A round that left the log last.
#[derive(Clone, PartialEq)]
enum Gone {
    /// Deleted, from this year and place.
    Deleted(u16, usize, Box<Round>),
    /// Taken back, with what was known of the last round until then.
    TakenBack(Box<Finished>, Option<LastRound>),
    /// Taken back, and changed since.
    Changed,
}

type Removed = RwSignal<Option<Gone>>;

const BACK: &str = "log-back";

/// The view.
pub fn view(state: State) -> Content {
    let removed: Removed = RwSignal::new(None);
    let chosen = RwSignal::new(None::<Spot>);
    live(move || {
        state.shape.track();
        let years = state.pieces::<Log>();
        let mut parts = vec![demo_notice(
            state,
            "Invented demo rig.",
            " Not for your tyres.",
        )];
        parts.push(live(move || bring_back(state, removed)));
        if years.is_empty() {
            parts.push(
                part("log-heading", "Log")
                    .child(paragraph("said", "No round yet."))
                    .child(buttons().child(link("Check round", route::ROUND)))
                    .node(),
            );
            return parts;
        }
        parts.push(history_part(state, chosen));
        parts.push(
            part("log-heading", "Rounds")
                .live(move || rounds(state, removed))
                .child(paragraph("hint", words::FITTER))
                .node(),
        );
        parts.push(
            part("table-heading", "For other programs")
                .child(buttons().child(files::save(
                    files::Kind::Table,
                    "Save the log as a table",
                    "tyreside-log.csv",
                    move || table_of(state),
                )))
                .child(paragraph(
                    "hint",
                    "Comma-separated values, in this rig’s unit.",
                ))
                .node(),
        );
        parts
    })
}

fn log_of<T>(state: State, year: u16, read: impl FnOnce(&Log) -> T) -> T {
    state.piece::<Log>(year).read(read)
}

fn table_of(state: State) -> String {
    let unit = state.rig_now(|rig| rig.unit);
    untrack(|| {
        let years = state.pieces::<Log>();
        let pieces: Vec<Log> = years
            .into_iter()
            .map(|year| log_of(state, year, Log::clone))
            .collect();
        let nuts = state.section::<Nuts>();
        nuts.now(|nuts| table::write(&pieces, &nuts.log, unit))
    })
}

/// Every reading of a tyre, oldest first.
fn points(state: State, tyre: Spot) -> Vec<Point> {
    let mut points = Vec::new();
    for year in state.pieces::<Log>() {
        log_of(state, year, |log| {
            for round in &log.rounds {
                points.extend(round.reading(tyre).map(|of| Point {
                    day: round.day,
                    minute: round.minute,
                    read: of.read.quantity(),
                    warm: round.warm,
                    goal: of.goal_kpa.map(GaugePressure::new::<kilopascal>),
                }));
            }
        });
    }
    points
}

fn history_part(state: State, chosen: RwSignal<Option<Spot>>) -> Content {
    let first = state.rig_now(|rig| rig.round().first().map(|at| rig.spot_of(*at)));
    let of = memo(move |_| chosen.get().or(first));
    let standing = move |at| {
        let spot = state.rig(|rig| rig.spot_of(at));
        match of.get() == Some(spot) {
            true => Standing::Next,
            false => Standing::Open,
        }
    };
    let marks = Marks {
        by_wheel: false,
        standing: Rc::new(standing),
        press: Rc::new(move |at| chosen.set(Some(state.rig_now(|rig| rig.spot_of(at))))),
    };
    let centre = |index| {
        let name = state.rig_now(|rig| tyre_names::group(rig, index));
        element("span").class("axle-name").child(name).node()
    };
    element("section")
        .class("round")
        .attr("aria-labelledby", "history-heading")
        .child(heading("history-heading", "What a tyre read"))
        .child(paragraph("hint", "Tap a tyre."))
        .child(rig_drawing(state, &centre, Some(marks)))
        .live(move || of.get().map(|spot| plot(state, spot)))
        .node()
}

fn plot(state: State, tyre: Spot) -> Element {
    let points = points(state, tyre);
    let (name, unit) = state.rig(|rig| (check_words::tyre(rig, tyre), rig.unit));
    let Some(svg) = history::svg(&points, unit) else {
        return paragraph("said", format!("{name}: not read in any round yet."));
    };
    let warm = points.iter().any(|point| point.warm);
    let legend = format!(
        "In {}. Dots: cold{}. Dashes: its cold figure then.",
        format::unit_mark(unit),
        if warm { "; rings: warm" } else { "" }
    );
    let newest = points.last().map_or(String::new(), |point| {
        let read = format::pressure(unit, point.read);
        match points.len() {
            1 => format!("{name}: read once, {read}."),
            count => format!("{name}: {count} readings, the newest {read}."),
        }
    });
    element("figure")
        .class("chart")
        .child(paragraph("said", newest).attr("role", "status"))
        .child(element("div").markup(svg))
        .child(element("figcaption").class("hint").child(legend))
}

fn rounds(state: State, removed: Removed) -> Element {
    let years = state.pieces::<Log>();
    let newest = years.last().copied();
    years
        .into_iter()
        .rev()
        .map(|year| {
            let piece = state.piece::<Log>(year);
            let list = live(move || match piece.why_aside() {
                Some(why) => paragraph("warning", shared::unreadable(why)).node(),
                None => of_year(state, year, removed).node(),
            });
            let open = newest == Some(year);
            let fold = element("details")
                .class("fold")
                .child(element("summary").child(year.to_string()))
                .child(list);
            if open { fold.attr("open", "") } else { fold }
        })
        .fold(element("div").class("log-list"), Element::child)
}

fn of_year(state: State, year: u16, removed: Removed) -> Element {
    let (lines, done) = state.rig(|rig| {
        log_of(state, year, |log| {
            let lines = log.rounds.iter().enumerate().map(|(place, round)| {
                let each = round.readings.iter();
                let each = each.map(|of| words::reading(rig, of, rig.unit));
                let each = each.chain(words::nuts(rig, round));
                (place, words::round(rig, round), each.collect::<Vec<_>>())
            });
            let done = log.done.iter().map(|done| {
                let name = if done.name.trim().is_empty() {
                    "A check without a name"
                } else {
                    done.name.trim()
                };
                format!("{}: {name}", calendar::date(done.day))
            });
            (lines.collect::<Vec<_>>(), done.rev().collect::<Vec<_>>())
        })
    });
    // The newest of all can be gone on with, while none is under way.
    let newest = state.pieces::<Log>().last() == Some(&year);
    let free = state
        .section::<Checks>()
        .read(|checks| checks.round.is_none());
    let last = lines.len().checked_sub(1).filter(|_| newest && free);
    let list = lines
        .into_iter()
        .rev()
        .map(|(place, line, each)| {
            let back = (last == Some(place))
                .then(|| button("Take it back", move || go_back(state, year, removed)));
            let keys = buttons()
                .child(back)
                .child(button("Delete this round", move || {
                    delete(state, year, place, removed);
                }));
            element("details")
                .class("fold")
                .child(element("summary").child(line))
                .child(listed(each.into_iter()))
                .child(keys)
        })
        .fold(element("div").class("log-list"), Element::child);
    if done.is_empty() {
        return list;
    }
    list.child(fold("My own checks").child(listed(done.into_iter())))
}

/// Takes the newest round back, so that it is under way again.
fn go_back(state: State, year: u16, removed: Removed) {
    let round = state
        .piece::<Log>(year)
        .now(|log| log.rounds.last().cloned());
    let Some(round) = round else { return };
    let known = state.section::<Checks>().now(|checks| checks.last.clone());
    let finished = Finished {
        last: last_known(state, Some(&round)),
        nuts: state.rig_now(|rig| round.nut_lines(rig)),
        round,
    };
    take_back(state, finished.clone());
    removed.set(Some(Gone::TakenBack(Box::new(finished), known)));
    focus_soon(BACK.to_owned());
}

fn delete(state: State, year: u16, place: usize, removed: Removed) {
    let mut gone = None;
    state.piece::<Log>(year).change(|log| {
        if place < log.rounds.len() {
            gone = Some(log.rounds.remove(place));
        }
    });
    removed.set(gone.map(|round| Gone::Deleted(year, place, Box::new(round))));
    follow(state);
    // Far above the round that is gone.
    focus_soon(BACK.to_owned());
}

/// What is known of the last round by the log as it is, but for one round.
fn last_known(state: State, but: Option<&Round>) -> Option<LastRound> {
    let mut last = None;
    untrack(|| {
        for year in state.pieces::<Log>() {
            log_of(state, year, |log| {
                for round in log.rounds.iter().filter(|round| Some(*round) != but) {
                    // Its moment, by the clock of today's place.
                    let at = f64::from(round.day) + f64::from(round.minute) / 1440.0;
                    last = LastRound::after(last.take(), round, at);
                }
            });
        }
    });
    last
}

/// Keeps the last round in mind as the log has it now.
fn follow(state: State) {
    let last = last_known(state, None);
    state
        .section::<Checks>()
        .change(|checks| checks.last = last);
}

fn bring_back(state: State, removed: Removed) -> Option<Element> {
    let back = |label, act: Box<dyn Fn()>| {
        button(label, move || {
            act();
            focus_soon(MAIN.to_owned());
        })
        .attr("id", BACK)
    };
    match removed.get()? {
        Gone::Deleted(year, place, round) => {
            let put = move || {
                removed.set(None);
                state.piece::<Log>(year).change(|log| {
                    let place = place.min(log.rounds.len());
                    log.rounds.insert(place, (*round).clone());
                });
                follow(state);
            };
            Some(done(
                "The round was deleted.".to_owned(),
                back("Bring it back", Box::new(put)),
            ))
        }
        Gone::TakenBack(finished, known) => {
            let put = move || {
                let kept = keep_again(state, (*finished).clone(), known.clone());
                removed.set((!kept).then_some(Gone::Changed));
            };
            let keys = buttons()
                .child(link("Go on with it", route::ROUND))
                .child(back("Keep it as it was", Box::new(put)));
            Some(done(
                "The round is out of the log, and under way again.".to_owned(),
                keys,
            ))
        }
        Gone::Changed => Some(done(
            "The round was changed since, and is not kept as it was.".to_owned(),
            link("Go on with it", route::ROUND),
        )),
    }
}
