//! Before a walk: what it will do, and whether the tyres are cold or warm.

use super::reading;
use crate::calc::fill::trip::{Move, Times};
use crate::calc::pressure::Caution;
use crate::rig::set_to::Likely;
use crate::rig::{PressureUnit, Rig, Surface, Units};
use crate::ui::frame::state::{Outcome, State, rig_speed};
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{button, focus_soon, link, listed, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::leg::{self, Leg};
use crate::ui::kit::parts::row as row_of;
use crate::ui::kit::route;
use crate::ui::kit::warm::{self, Now};
use crate::ui::kit::{air_words as words, clock, format, tools, words as shared};
use leptos::prelude::*;

const FORM: &str = "warm-form";

/// The sheet.
pub fn view(state: State, clock: RwSignal<u32>, now: Memo<Now>) -> Content {
    let reading =
        RwSignal::new(now.with_untracked(|now| matches!(now, Now::Old { .. } | Now::Refused(_))));
    let leg = memo(move |_| {
        let to = state.rig(|rig| rig.surface);
        now.with(|now| leg::leg(state, to, now))
    });
    // By its value: a form that is typed in must not be made anew with each
    // digit that changes a target.
    let moves = memo(move |_| leg.with(|leg| leg.moves.iter().flatten().any(|a| a.from != a.to)));
    element("section")
        .class("walk-start")
        .attr("aria-labelledby", "walk-heading")
        .live(move || leg.with(heading))
        .live(move || {
            if moves.get() {
                question(state, clock, now, reading)
            } else {
                let none = "Nothing to do: these tyres are set so, or their figures are missing.";
                vec![
                    paragraph("said", none).node(),
                    link("Back to the pressures", route::PRESSURES).node(),
                ]
            }
        })
        .live(move || leg.with(|leg| sheet(state, leg)))
        .child(live(move || back(state, &leg.get())))
        .node()
}

fn heading(leg: &Leg) -> Element {
    let speed = rig_speed(&leg.outcomes);
    element("div")
        .class("heading")
        .child(
            element("h2")
                .attr("id", "walk-heading")
                .attr("tabindex", "-1")
                .child(leg::verb(&leg.cold, leg.to)),
        )
        .child(paragraph(
            "speed",
            speed.map(shared::speed_heading).unwrap_or_default(),
        ))
}

/// Cold or warm: asked here, since every number that follows hangs on it.
fn question(
    state: State,
    clock: RwSignal<u32>,
    now: Memo<Now>,
    reading: RwSignal<bool>,
) -> Vec<Content> {
    let start = move |warm| {
        let to = state.rig_now(|rig| rig.surface);
        leg::begin(state, to, warm);
        focus_soon("walk-heading".to_owned());
    };
    let cold = move || {
        reading.set(false);
        warm::forget_reading(state);
        start(false);
    };
    if reading.get() {
        // What the reading says, while it is typed, moves no field.
        let missing = RwSignal::new(false);
        let verdict = live(move || match now.get() {
            Now::Unknown if missing.get() => {
                let why = "Enter what the gauge reads on one warm tyre.";
                Some(paragraph("warning", why).attr("role", "status"))
            }
            Now::Refused(why) => Some(paragraph("warning", why).attr("role", "status")),
            Now::Old { taken_day, .. } => Some(paragraph("warning", warm::old(taken_day))),
            _ => None,
        });
        let go = element("button")
            .attr("type", "button")
            .class("button primary")
            .child("Start, tyres warm")
            .on("click", move |_| {
                if now.with_untracked(|now| matches!(now, Now::Warm { .. })) {
                    start(true);
                } else {
                    missing.set(true);
                    focus_soon("now-reading".to_owned());
                }
            });
        return vec![
            reading::form(state).attr("id", FORM).node(),
            verdict,
            element("div")
                .class("walk-keys")
                .child(go)
                .child(button("They are cold: start", cold))
                .node(),
        ];
    }
    let mut parts = Vec::new();
    let counts = match now.get() {
        Now::Warm {
            air,
            taken_day,
            axle,
        } => {
            parts.push(live(move || {
                warm::taken(state, taken_day, axle, clock::following(clock))
            }));
            parts.push(live(move || warm::beside(state, &air, axle)));
            true
        }
        _ => false,
    };
    let last = state.rig_now(|rig| rig.set_to.last);
    let likely = last.map_or(Likely::Unknown, |last| last.likely(clock::now_day()));
    if !counts {
        parts.push(
            paragraph("ask", "Are the tyres cold? Cold: not driven for 3 hours.")
                .attr("id", "cold-or-warm")
                .node(),
        );
        let why = match (likely, last) {
            (Likely::Warm, Some(last)) => shared::were_warm(&clock::time_of_day(last.day)),
            (Likely::Cold, _) => "They were set cold a few minutes ago.".to_owned(),
            _ => "Not sure: read one. Cold figures on warm tyres leave too little air; a reading \
                  is right either way."
                .to_owned(),
        };
        parts.push(paragraph("hint", why).node());
    }
    let warm_key = if counts {
        button("Start, tyres warm", move || start(true)).class("button primary")
    } else {
        let key = button("Warm: read one tyre", move || {
            reading.set(true);
            focus_soon("now-reading".to_owned());
        });
        // Where nothing is known, the way that is right for both.
        match likely {
            Likely::Cold => key,
            Likely::Warm | Likely::Unknown => key.class("button primary"),
        }
    };
    let cold_key = button("Cold: start", cold);
    let cold_key = if !counts && likely == Likely::Cold {
        cold_key.class("button primary")
    } else {
        cold_key
    };
    parts.push(
        element("div")
            .class("walk-keys")
            .child(cold_key)
            .child(warm_key)
            .node(),
    );
    if counts {
        parts.push(button("Read a tyre again", move || reading.set(true)).node());
    }
    parts
}

fn sheet(state: State, leg: &Leg) -> Vec<Element> {
    let units = state.rig(Rig::units);
    let unit = units.pressure;
    let times = tools::times(state, &leg.moves);
    let usable = times_usable(state);
    let rows = leg
        .outcomes
        .iter()
        .enumerate()
        .map(|(index, outcome)| row(units, leg, &times, index, outcome, usable))
        .fold(element("ul").class("axles"), Element::child);
    let basis = if leg.warm {
        "As read now, tyres warm. The placard and the makers come first."
    } else {
        "Cold figures. The placard and the makers come first."
    };
    let mut parts = vec![paragraph("cold", basis), rows];
    parts.extend(minutes(unit, leg, &times, usable));
    parts.push(link("Compressor and deflator", route::TOOLS));
    parts.push(warnings(unit, leg));
    parts
}

/// How long the way back will take, so that it can be planned with.
fn back(state: State, leg: &Leg) -> Option<Element> {
    if leg.to == Surface::Sealed || !times_usable(state) {
        return None;
    }
    let to = leg::cold_moves(state, leg.to);
    let sealed: Vec<_> = state
        .outcomes_on(Surface::Sealed)
        .iter()
        .zip(&to)
        .map(|(outcome, a)| {
            Some(Move {
                from: a.as_ref()?.to,
                to: outcome.answer()?.recommended,
                tyres: outcome.tyres,
            })
        })
        .collect();
    let times = tools::times(state, &sealed);
    let tyres = sealed.iter().flatten().map(|a| u32::from(a.tyres)).sum();
    let total = words::total(&times, tyres)?;
    Some(paragraph(
        "said",
        format!("The way back, pumping up for sealed road. {total}"),
    ))
}

/// Whether a time could be misread for want of a usable entry.
pub fn times_usable(state: State) -> bool {
    !state.is_unusable("now-")
        && !tools::is_unusable(state, &[tools::PUMP, tools::OUT, tools::SPACE])
}

fn row(
    units: Units,
    leg: &Leg,
    times: &Times,
    index: usize,
    outcome: &Outcome,
    usable: bool,
) -> Element {
    let unit = units.pressure;
    let line = |figure, basis| row_of("h3", outcome.name, outcome.tyres, figure, basis);
    let moves = (
        leg.cold.get(index).copied().flatten(),
        leg.moves.get(index).copied().flatten(),
    );
    let (Some(cold), Some(a)) = moves else {
        let why = match &outcome.result {
            Some(Err(problem)) => shared::problem(problem, units),
            _ => "No pressure: see the pressures page.".to_owned(),
        };
        return element("li")
            .class("axle none")
            .child(line(None, String::new()))
            .child(paragraph("warning", why));
    };
    let mut basis = match times.axles.get(index) {
        _ if cold.to == cold.from => "stays as it is".to_owned(),
        Some(Ok(times)) if usable => format!(
            "{} · {} a tyre",
            words::verb(&cold),
            words::between(times.tyre)
        ),
        _ => words::verb(&cold).to_owned(),
    };
    if !leg.warm {
        return element("li")
            .class("axle")
            .child(line(Some((unit, a.to, "")), basis));
    }
    basis += &format!(" · cold {}", format::pressure(unit, cold.to));
    element("li")
        .class("axle warm")
        .child(line(Some((unit, a.to, " warm")), basis))
}

/// The minutes of the whole way, or why there are none.
fn minutes(unit: PressureUnit, leg: &Leg, times: &Times, usable: bool) -> Vec<Element> {
    if !usable {
        return vec![paragraph(
            "warning",
            "Minutes not known: an entry can't be used. It is marked.",
        )];
    }
    let tyres = leg
        .moves
        .iter()
        .flatten()
        .filter(|a| a.from != a.to)
        .map(|a| u32::from(a.tyres))
        .sum();
    if tyres == 0 {
        return Vec::new();
    }
    let mut parts = Vec::new();
    if let Some(total) = words::total(times, tyres) {
        parts.push(paragraph("verdict", total));
    }
    let mut said: Vec<String> = Vec::new();
    for axle in &times.axles {
        if let Err(why) = axle {
            let text = format!("Minutes not known: {}.", words::no_time(*why, unit));
            if !said.contains(&text) {
                said.push(text);
            }
        }
    }
    said.extend(
        times
            .remarks
            .iter()
            .filter_map(|remark| words::remark(*remark, unit)),
    );
    parts.extend(said.into_iter().map(|text| paragraph("hint", text)));
    parts
}

fn warnings(unit: PressureUnit, leg: &Leg) -> Element {
    let mut said: Vec<String> = Vec::new();
    for outcome in &leg.outcomes {
        if let Some(answer) = outcome.answer() {
            for caution in &answer.cautions {
                let mut text = shared::caution(*caution, unit);
                let common = matches!(
                    caution,
                    Caution::PumpUpBeforeSealed
                        | Caution::CheckSidewallHeat
                        | Caution::NoSharpSteering
                );
                if !common {
                    text = format!("{}: {text}", outcome.name);
                }
                if (common || shared::is_grave(*caution, leg.to)) && !said.contains(&text) {
                    said.push(text);
                }
            }
        }
    }
    if leg.to == Surface::Sealed {
        said.push(
            "Never let air out of a warm tyre to reach a cold sealed-road figure.".to_owned(),
        );
    }
    listed(said.into_iter())
}
