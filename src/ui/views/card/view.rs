//! The card on the screen, and its way onto paper.

use super::face::{Face, Line, face};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{button, buttons, choice, demo_notice, paragraph};
use crate::ui::kit::{clock, parts, tools};
use leptos::prelude::*;

/// The sizes of paper, with the class that picks each (`style/card.css`).
const SIZES: [(&str, &str); 2] = [("A5", "card a5"), ("Long, 99 × 210 mm", "card long")];

/// The view.
pub fn view(state: State) -> Content {
    tools::take_over_texts(state);
    let size = RwSignal::new(0_usize);
    vec![
        demo_notice(
            state,
            "The demo rig’s card.",
            " Its figures are not for your tyres.",
        ),
        element("div")
            .class("screen-only")
            .child(parts::heading("door-card-heading", "Door card"))
            .child(paragraph(
                "hint",
                "For the door or the locker: the figures as the rig is loaded now. Print it anew \
                 when that changes. Your browser prints it, or keeps it as a PDF.",
            ))
            .child(choice(
                "Paper",
                "card-size".to_owned(),
                "",
                SIZES.iter().map(|(name, _)| *name).collect(),
                move || size.get(),
                move |to| size.set(to),
            ))
            .child(
                buttons().child(
                    button("Print", || {
                        // A browser that can't says so itself.
                        let _ = window().print();
                    })
                    .class("primary"),
                ),
            )
            .node(),
        live(move || {
            state.shape.track();
            card(&face(state), SIZES[size.get()].1)
        }),
    ]
    .node()
}

fn card(face: &Face, class: &'static str) -> Element {
    let date = clock::day(clock::now_day());
    let timed = face.lines.iter().any(|line| line.minutes.is_some());
    let mut head = vec![heading("Surface")];
    head.extend(face.axles.iter().map(|axle| heading(axle)));
    head.push(heading("Speed, at most"));
    if timed {
        head.push(heading("Pumping up to sealed"));
    }
    let head = head.into_iter().fold(element("tr"), Element::child);
    let rows = face.lines.iter().map(|line| row(line, timed));
    let table = element("table")
        .child(element("caption").child(format!("Cold pressures, {}", face.unit)))
        .child(element("thead").child(head))
        .child(rows.fold(element("tbody"), Element::child));
    let notes = face
        .notes
        .iter()
        .enumerate()
        .map(|(at, note)| format!("{} {note}", at + 1));
    element("article")
        .class(class)
        .attr("aria-labelledby", "card-heading")
        .child(
            element("h2")
                .attr("id", "card-heading")
                .child(face.name.clone()),
        )
        .child(paragraph("card-date", date))
        .child(paragraph("card-loads", face.loads.clone()))
        .child(table)
        .child(list(notes))
        .child(list(face.torques.iter().cloned()))
        .child(list(face.on_minutes.iter().cloned()).map(|list| {
            // Why there are none is nothing to hang on a door.
            if timed {
                list
            } else {
                list.class("screen-only")
            }
        }))
        .child(list(face.cautions.iter().cloned()))
}

fn list(texts: impl Iterator<Item = String>) -> Option<Element> {
    let mut items = texts.map(|text| element("li").child(text)).peekable();
    items.peek()?;
    Some(items.fold(element("ul"), Element::child))
}

fn heading(text: &'static str) -> Element {
    element("th").attr("scope", "col").child(text)
}

fn row(line: &Line, timed: bool) -> Element {
    let mut cells = vec![element("th").attr("scope", "row").child(line.surface)];
    cells.extend(line.cells.iter().map(|cell| {
        // The number by itself, so that the marks can stand small beside it.
        let (number, marks) = cell.split_once(' ').unwrap_or((cell, ""));
        element("td")
            .child(element("strong").child(number.to_owned()))
            .child((!marks.is_empty()).then(|| element("sup").child(format!(" {marks}"))))
    }));
    cells.push(element("td").child(line.speed.clone()));
    if timed {
        let minutes = line.minutes.clone().unwrap_or_else(|| "–".to_owned());
        cells.push(element("td").child(minutes));
    }
    cells.into_iter().fold(element("tr"), Element::child)
}
