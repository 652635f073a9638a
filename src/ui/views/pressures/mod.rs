//! The pressures view: the surface ahead, and what each axle needs for it.

mod axles;
mod due;
mod own;
mod second;
mod set_to;
mod why;

use crate::calc::pressure::Answer;
use crate::calc::quantity::GaugePressure;
use crate::calc::surface::Surface;
use crate::rig::{PressureUnit, Problem, Setting};
use crate::ui::frame::parts::{Part, parts};
use crate::ui::frame::state::{Outcome, State, is_stopped, rig_speed};
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{choice, demo_notice, listed, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::warm::{self, Now};
use crate::ui::kit::{air_fields, clock, format, hitch, words};
use leptos::prelude::*;

// What is due hangs on logs that the first figures do without; so do doubts by
// tickets and plates, and what is asked where none is known.
parts!(rest {
    DUE: due::view,
    SECOND: second::view,
    ASK: second::ask,
});

/// The view.
pub fn view(state: State) -> Content {
    let clock = clock::every(5);
    air_fields::forget_old(state, clock);
    let now = memo(move |_| warm::read(state, clock));
    vec![
        demo_notice(
            state,
            "Invented demo rig.",
            " Tyre pressures by load and road; not for your tyres.",
        ),
        live(move || set_to::line(state, clock)),
        of_own(state, DUE),
        surfaces(state).node(),
        answers(state, now).node(),
        of_own(state, SECOND),
        live(move || warm::said(state, clock, now)),
        live(move || set_to::next(state)),
        of_own(state, ASK),
        live(move || {
            state.shape.track();
            hitch::switch(state)
        }),
        live(move || cautions(state)),
        element("p")
            .class("unseen")
            .attr("role", "status")
            .attr("aria-live", "polite")
            .live(move || now.with(|now| announcement(state, now)))
            .node(),
    ]
    .node()
}

/// What is said of a rig of one's own: the invented one owes nothing.
fn of_own(state: State, part: Part) -> Content {
    live(move || (!state.rig(|rig| rig.demo)).then(|| part.show_quietly(state)))
}

fn surfaces(state: State) -> Element {
    choice(
        "Surface ahead",
        "surface".to_owned(),
        "surfaces",
        Surface::ALL.iter().map(|s| words::surface(*s)).collect(),
        move || {
            let surface = state.rig(|rig| rig.surface);
            Surface::ALL
                .iter()
                .position(|s| (*s) == surface)
                .unwrap_or(0)
        },
        move |index| state.change(|rig| rig.surface = Surface::ALL[index]),
    )
}

fn answers(state: State, now: Memo<Now>) -> Element {
    let section = element("section")
        .class("answers")
        .attr("aria-labelledby", "answers-heading")
        .live(move || heading(state, now.with(is_warm)));
    axles::view(state, now)
        .into_iter()
        .fold(section, Element::child)
}

fn is_warm(now: &Now) -> bool {
    matches!(now, Now::Warm { .. })
}

/// What the gauge should show of a warm tyre, with the cold figure in words.
type WarmFigure = Option<(GaugePressure, String)>;

fn warm_figure(state: State, now: &Now, index: usize, outcome: &Outcome) -> WarmFigure {
    let (unit, surface) = state.rig(|rig| (rig.unit, rig.surface));
    let cold = outcome.answer()?.recommended;
    warm::figure(now, unit, surface, index, cold)
}

fn heading(state: State, warm: bool) -> Vec<Element> {
    let surface = state.rig(|rig| rig.surface);
    let speed = state.outcomes.with(|outcomes| rig_speed(outcomes));
    let reminder = match (warm, surface == crate::rig::Surface::Sealed) {
        (true, true) => "As read now, tyres warm. The placard and the makers come first.",
        (true, false) => {
            "As read now, tyres warm. Pump up before sealed road. The placard and the makers come \
             first."
        }
        (false, true) => {
            "Cold: before driving, or 3 hours after. The placard and the makers come first."
        }
        (false, false) => {
            "Cold figures. Pump up before sealed road. The placard and the makers come first."
        }
    };
    let speed = speed.map(words::speed_heading).unwrap_or_default();
    vec![
        element("div")
            .class("heading")
            .child(
                element("h2")
                    .attr("id", "answers-heading")
                    .child(words::surface_heading(surface)),
            )
            .child(paragraph("speed", speed)),
        paragraph("cold", reminder),
    ]
}

/// What belongs right beside the number.
fn warnings(answer: &Answer, surface: crate::rig::Surface, unit: PressureUnit) -> Vec<String> {
    let grave = answer
        .cautions
        .iter()
        .filter(|caution| words::is_grave(**caution, surface));
    grave
        .map(|caution| words::caution(*caution, unit))
        .chain(
            answer
                .sealed
                .own_refused
                .map(|why| words::own_refused(why, unit)),
        )
        .collect()
}

/// The cautions that belong to the figures, each said once with the axles it
/// is about, and whom the figures defer to.
fn cautions(state: State) -> Element {
    let unit = state.rig(|rig| rig.unit);
    let surface = state.rig(|rig| rig.surface);
    let (trailer, practice) = state.rig(|rig| (rig.tows(), rig.setting == Setting::Practice));
    let sealed = surface == crate::rig::Surface::Sealed;
    let mut said: Vec<(String, Vec<&'static str>)> = Vec::new();
    let mut answered = 0;
    state.outcomes.with(|outcomes| {
        for outcome in outcomes {
            let Some(answer) = outcome.answer() else {
                continue;
            };
            answered += 1;
            for caution in answer
                .cautions
                .iter()
                .filter(|c| !words::is_grave(**c, surface))
            {
                let text = words::caution(*caution, unit);
                match said.iter_mut().find(|(other, _)| *other == text) {
                    Some((_, axles)) => axles.push(outcome.name),
                    None => said.push((text, vec![outcome.name])),
                }
            }
        }
    });
    let mut shared: Vec<String> = Vec::new();
    if practice && !sealed {
        shared.push("Set to practice: the bands are not held to the load.".to_owned());
    }
    shared.extend(said.into_iter().map(|(text, axles)| {
        if axles.len() == answered {
            text
        } else {
            format!("{}: {text}", axles.join(", "))
        }
    }));
    if sealed && trailer {
        shared.push("Above 100 km/h with a trailer: check the local towing limit.".to_owned());
    }
    shared.push("Never let air out of a warm tyre to reach a cold sealed-road figure.".to_owned());
    shared.push(
        "The tyre placard, the makers of vehicle, wheel and tyre and local law come first. In \
         doubt, ask a licensed tyre fitter."
            .to_owned(),
    );
    element("section")
        .class("notice")
        .attr("aria-labelledby", "cautions-heading")
        .child(
            element("h2")
                .attr("id", "cautions-heading")
                .child("Before you drive"),
        )
        .child(listed(shared.into_iter()))
}

fn announcement(state: State, now: &Now) -> String {
    let (surface, unit) = state.rig(|rig| (rig.surface, rig.unit));
    state.outcomes.with(|outcomes| {
        let mut text = format!("{}.", words::surface_heading(surface));
        for (index, outcome) in outcomes.iter().enumerate() {
            text += &match &outcome.result {
                Some(Ok((_, answer))) => {
                    let figure = match warm_figure(state, now, index, outcome) {
                        Some((warm, cold)) => {
                            format!("{} warm, {cold}", format::pressure(unit, warm))
                        }
                        None => format::pressure(unit, answer.recommended),
                    };
                    let mut said = format!(
                        " {} {figure}, {}.",
                        outcome.name,
                        words::speed_limit(answer.speed)
                    );
                    for warning in warnings(answer, surface, unit) {
                        said = said + " " + &warning;
                    }
                    said
                }
                _ if is_stopped(outcome) => {
                    format!(" {}: stop, no pressure is safe.", outcome.name)
                }
                Some(Err(Problem::LeftBehind)) => format!(" {}: stays behind.", outcome.name),
                _ => format!(" {}: no figure.", outcome.name),
            };
        }
        text
    })
}
