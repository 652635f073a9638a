//! Every axle's number, standing on its line of the rig drawing.

use super::why::{self, WHY};
use crate::calc::pressure::Answer;
use crate::calc::quantity::Mass;
use crate::calc::tyre::designation::DesignationError;
use crate::rig::{Problem, Rig, Units};
use crate::ui::frame::parts::{Part, part};
use crate::ui::frame::state::{Outcome, State};
use crate::ui::kit::element::{Content, Element, element, live};
use crate::ui::kit::fields::{button, paragraph, unit_key};
use crate::ui::kit::rig_drawing::rig_drawing;
use crate::ui::kit::warm::Now;
use crate::ui::kit::{format, tyre_names, words};
use leptos::prelude::*;

/// What stands behind a figure comes with the other views, when it is asked for.
static EXPLAINED: Part = part!(rest: why::view);

/// The drawing with its numbers, and below it what stands behind the one that
/// was tapped.
pub fn view(state: State, now: Memo<Now>) -> Vec<Content> {
    let open = state.explained;
    open.set(None);
    // The lines are built anew when axles come or go, not with every number.
    let drawing = live(move || {
        state.shape.track();
        rig_drawing(
            state,
            &|index| live(move || on_axle(state, now, index, open)),
            None,
        )
    });
    vec![
        drawing,
        live(move || unsaid(state)),
        live(move || open.get().map(|_| EXPLAINED.show(state))),
    ]
}

fn outcome(state: State, index: usize) -> Option<Outcome> {
    state.outcomes.with(|outcomes| outcomes.get(index).cloned())
}

fn on_axle(
    state: State,
    now: Memo<Now>,
    index: usize,
    open: RwSignal<Option<usize>>,
) -> Option<Element> {
    let units = state.rig(Rig::units);
    let name = state.rig(|rig| tyre_names::group(rig, index));
    let axle = element("div");
    let outcome = outcome(state, index)?;
    let warm = now.with(|now| super::warm_figure(state, now, index, &outcome));
    Some(match outcome.result {
        Some(Ok((understood, answer))) => {
            let class = if warm.is_some() { "axle warm" } else { "axle" };
            let line = Line {
                name,
                load: understood.axle.wheel_load,
                answer,
                warm,
            };
            axle.class(class)
                .child(figure(state, units, index, line, open))
        }
        Some(Err(Problem::LeftBehind)) => axle.class("axle none").child(
            element("h3")
                .class("axle-key")
                .child(element("span").class("name").child(name))
                .child(" ")
                .child(element("span").class("says").child("Stays behind")),
        ),
        Some(Err(problem)) => {
            let (class, figure) = if words::is_danger(&problem) {
                ("axle none danger", "Stop: no pressure is safe")
            } else if words::entries_disagree(&problem) {
                ("axle none", "No figure: entries disagree")
            } else {
                ("axle none", "No figure yet")
            };
            axle.class(class)
                .child(no_figure(state, index, name, figure))
        }
        None => axle
            .class("axle none")
            .child(no_figure(state, index, name, "No figure")),
    })
}

fn no_figure(state: State, index: usize, name: String, says: &'static str) -> Element {
    let key = element("button")
        .class("axle-key")
        .attr("type", "button")
        .on("click", move |_| state.go_to_field(index))
        .child(element("span").class("name").child(name))
        .child(" ")
        .child(element("span").class("says").child(says));
    element("h3").child(key)
}

/// What stands on an axle.
struct Line {
    name: String,
    load: Mass,
    answer: Answer,
    warm: super::WarmFigure,
}

fn figure(
    state: State,
    units: Units,
    index: usize,
    line: Line,
    open: RwSignal<Option<usize>>,
) -> Element {
    let unit = units.pressure;
    let Line {
        name,
        load,
        answer,
        warm,
    } = line;
    let is_open = move || open.get() == Some(index);
    let [low, high] = [answer.low, answer.high].map(|end| format::pressure_number(unit, end));
    let range = (low != high).then(|| format!("good {low}–{high}"));
    // The range is one of cold figures.
    let (shown, below, mark) = match warm {
        Some((shown, cold)) => (shown, Some(cold), " warm"),
        None => (answer.recommended, range, ""),
    };
    let key = element("button")
        .class("axle-key")
        .attr("type", "button")
        .attr("aria-controls", WHY)
        .attr_live("aria-expanded", move || Some(is_open().to_string()))
        .on("click", move |_| {
            open.update(|open| *open = (*open != Some(index)).then_some(index));
        })
        .child(element("span").class("name").child(name))
        .child(" ")
        .child(
            element("span")
                .class("number")
                .child(format::pressure_number(unit, shown)),
        )
        .child(" ")
        .child(
            element("span")
                .class("load")
                .child(format!("{} a tyre{mark}", format::mass(units.mass, load))),
        )
        .child(" ")
        .child(below.map(|text| element("span").class("between").child(text)))
        .child(" ")
        .child(
            words::slow_only(&answer, unit).map(|text| element("span").class("slow").child(text)),
        );
    element("div")
        .class("axle-line")
        .child(element("h3").child(key))
        .child(unit_key(state, unit))
}

/// What belongs right beside the numbers: why one is missing, and the grave
/// cautions, each said once with the axles that it is about.
fn unsaid(state: State) -> Option<Element> {
    let (units, surface) = state.rig(|rig| (rig.units(), rig.surface));
    let unit = units.pressure;
    let names = state.rig(|rig| {
        (0..rig.axles.len())
            .map(|index| tyre_names::group(rig, index))
            .collect::<Vec<_>>()
    });
    let mut said: Vec<(String, Vec<usize>, Option<&'static str>)> = Vec::new();
    let mut say = |index, text: String, way_out| match said
        .iter_mut()
        .find(|(other, _, out)| *other == text && *out == way_out)
    {
        Some((_, axles, _)) => axles.push(index),
        None => said.push((text, vec![index], way_out)),
    };
    state.outcomes.with(|outcomes| {
        for (index, outcome) in outcomes.iter().enumerate() {
            match &outcome.result {
                Some(Ok((_, answer))) => {
                    for text in super::warnings(answer, surface, unit) {
                        say(index, text, None);
                    }
                }
                Some(Err(Problem::LeftBehind)) => {}
                Some(Err(problem)) => say(index, missing(problem, units), Some("Open its entry")),
                None => say(
                    index,
                    "An entry on the rig page can't be used. It is marked there.".to_owned(),
                    Some("Fix the entry"),
                ),
            }
        }
    });
    if said.is_empty() {
        return None;
    }
    let all = names.len();
    let rows = said.into_iter().map(|(text, axles, way_out)| {
        let of: Vec<&str> = axles
            .iter()
            .filter_map(|index| names.get(*index).map(String::as_str))
            .collect();
        let text = if of.len() == all && all > 1 {
            text
        } else {
            format!("{}: {text}", of.join(", "))
        };
        let first = axles[0];
        element("li")
            .child(paragraph("warning", text))
            .child(way_out.map(|label| button(label, move || state.go_to_field(first))))
    });
    Some(rows.fold(element("ul").class("beside"), Element::child))
}

fn missing(problem: &Problem, units: Units) -> String {
    match problem {
        Problem::Tyre(DesignationError::Empty) => "Enter the tyre and the load first.".to_owned(),
        problem => words::problem(problem, units),
    }
}
