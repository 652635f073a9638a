//! The trip sheet: from one surface to another and back.

use crate::calc::pressure::Caution;
use crate::calc::surface;
use crate::rig::air::{Air, Key, Move, Times, Walk};
use crate::rig::set_to::Ended;
use crate::rig::{PressureUnit, Rig, Surface, Units};
use crate::ui::frame::state::rig_speed;
use crate::ui::frame::state::{Outcome, State};
use crate::ui::kit::element::{Element, Node, element, live};
use crate::ui::kit::fields::listed;
use crate::ui::kit::fields::{button, buttons, paragraph, select};
use crate::ui::kit::parts::{pair, part, row as row_of};
use crate::ui::kit::warm::{self as now, Now};
use crate::ui::kit::{air_words as words, clock};
use crate::ui::{kit::format, kit::words as shared};
use leptos::prelude::*;

/// One way, axle by axle.
#[derive(Debug, Clone, PartialEq)]
pub struct Leg {
    /// What each axle gets to.
    pub outcomes: Vec<Outcome>,
    /// How, cold; nothing where a pressure is not known.
    pub cold: Vec<Option<Move>>,
    /// The same as the gauge shows it, which is cold unless the tyres are known
    /// to be warm.
    pub moves: Vec<Option<Move>>,
    /// How long.
    pub times: Times,
    /// Whether `moves` are warm.
    pub warm: bool,
}

/// One way, as things are now.
pub fn leg(state: State, from: Surface, to: Surface, now: &Now) -> Leg {
    let unit = state.rig(|rig| rig.unit);
    let (before, after) = (state.outcomes_on(from), state.outcomes_on(to));
    let cold: Vec<Option<Move>> = before
        .iter()
        .zip(&after)
        .map(|(before, after)| {
            Some(Move {
                from: before.answer()?.recommended,
                to: after.answer()?.recommended,
                tyres: after.tyres,
            })
        })
        .collect();
    let air = match now {
        Now::Warm { air, .. } => Some(air),
        _ => None,
    };
    let warmed = |a: &Move| match air {
        Some(air) => Move {
            from: now::target(air, a.from, unit),
            to: now::target(air, a.to, unit),
            tyres: a.tyres,
        },
        None => *a,
    };
    let moves: Vec<Option<Move>> = cold.iter().map(|a| a.as_ref().map(warmed)).collect();
    Leg {
        times: state.rig(|rig| rig.times(&moves)),
        outcomes: after,
        cold,
        moves,
        warm: air.is_some(),
    }
}

/// Whether a time could be misread for want of a usable entry.
pub fn times_usable(state: State) -> bool {
    !["now-", "pump-", "out-", "space-"]
        .into_iter()
        .any(|prefix| state.is_unusable(prefix))
}

fn surface_select(
    state: State,
    id: &'static str,
    label: &'static str,
    place: fn(&mut Air) -> &mut Surface,
) -> Element {
    let all = surface::Surface::ALL;
    let now = state.rig_now(|rig| *place(&mut rig.air.clone()));
    let picked = all.iter().position(|s| (*s) == now);
    select(
        id.to_owned(),
        label,
        all.iter().map(|s| shared::surface(*s)).collect(),
        picked.unwrap_or(0),
        Box::new(move |index| {
            if let Some(surface) = all.get(index) {
                state.change(|rig| *place(&mut rig.air) = *surface);
            }
        }),
    )
}

/// The sheet.
pub fn view(state: State, warm: Memo<Now>) -> AnyView {
    let ways = move || {
        let (from, to) = state.rig(|rig| (rig.air.from, rig.air.to));
        if from == to {
            return vec![paragraph("hint", "Pick two surfaces.")];
        }
        vec![way(state, false, warm), way(state, true, warm)]
    };
    part("trip-heading", "Trip sheet")
        .child(pair(
            surface_select(state, "trip-from", "From", |air| &mut air.from),
            surface_select(state, "trip-to", "To and back", |air| &mut air.to),
        ))
        .live(ways)
        .child(live(move || set_to(state)))
        .child(live(move || done(state)))
        .node()
}

/// From where to where.
pub fn ends(state: State, back: bool) -> (Surface, Surface) {
    let (from, to) = state.rig(|rig| (rig.air.from, rig.air.to));
    if back { (to, from) } else { (from, to) }
}

fn way(state: State, back: bool, warm: Memo<Now>) -> Element {
    let units = state.rig(Rig::units);
    let unit = units.pressure;
    let (from, to) = ends(state, back);
    let leg = leg(state, from, to, &warm.get());
    let speed = rig_speed(&leg.outcomes);
    let speed = speed.map(shared::speed_heading).unwrap_or_default();
    let title = element("div")
        .class("heading")
        .child(element("h3").child(format!("Onto {}", shared::surface(to).to_ascii_lowercase())))
        .child(paragraph("speed", speed));
    let usable = times_usable(state);
    let rows = leg
        .outcomes
        .iter()
        .enumerate()
        .map(|(index, outcome)| row(units, &leg, index, outcome, usable))
        .fold(element("ul").class("axles"), Element::child);
    let verb = words::leg_verb(&leg.moves);
    let start = leg.moves.iter().flatten().any(|a| a.from != a.to).then(|| {
        buttons().child(
            button(verb, move || {
                // Tyres of which a reading is too old were warm too.
                let warm = warm.with_untracked(|now| *now != Now::Unknown);
                state.change(|rig| {
                    rig.set_to.walked.clear();
                    rig.air.set_walk(Some(Walk::new(back, warm)));
                });
            })
            .class("primary"),
        )
    });
    element("div")
        .class("way")
        .child(title)
        .child(paragraph(
            "cold",
            if leg.warm {
                "As read now, tyres warm. The placard and the makers come first."
            } else {
                "Cold figures. The placard and the makers come first."
            },
        ))
        .child(rows)
        .child(times(unit, &leg, usable))
        .child(warnings(unit, &leg, to))
        .child(start)
}

fn row(units: Units, leg: &Leg, index: usize, outcome: &Outcome, usable: bool) -> Element {
    let unit = units.pressure;
    let line = |figure, basis| row_of("h4", outcome.name, outcome.tyres, figure, basis);
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
    let mut basis = match leg.times.axles.get(index) {
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
pub fn times(unit: PressureUnit, leg: &Leg, usable: bool) -> Vec<Element> {
    if !usable {
        return vec![paragraph(
            "warning",
            "No minutes: an entry of this page can't be used. It is marked.",
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
    if let Some(total) = words::total(&leg.times, tyres) {
        parts.push(paragraph("verdict", total));
    }
    let mut said: Vec<String> = Vec::new();
    for axle in &leg.times.axles {
        if let Err(why) = axle {
            let text = format!("No minutes: {}.", words::no_time(*why, unit));
            if !said.contains(&text) {
                said.push(text);
            }
        }
    }
    said.extend(
        leg.times
            .remarks
            .iter()
            .filter_map(|remark| words::remark(*remark, unit)),
    );
    parts.extend(said.into_iter().map(|text| paragraph("hint", text)));
    parts
}

fn warnings(unit: PressureUnit, leg: &Leg, to: Surface) -> Element {
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
                        | Caution::SlowOnly(_)
                );
                if !common {
                    text = format!("{}: {text}", outcome.name);
                }
                if (common || shared::is_grave(*caution, to)) && !said.contains(&text) {
                    said.push(text);
                }
            }
        }
    }
    if to == Surface::Sealed {
        said.push(
            "Never let air out of a warm tyre to reach a cold sealed-road figure.".to_owned(),
        );
    }
    listed(said.into_iter())
}

/// What the tyres are set to.
fn set_to(state: State) -> Option<Element> {
    let (last, said) = state.rig(|rig| {
        let axles = rig.axles.iter().enumerate();
        let said: Vec<String> = axles
            .filter_map(|(index, axle)| {
                let set = words::axle_set(&rig.set_to_on(index), rig.unit)?;
                Some(format!("{} {set}", shared::axle(axle)))
            })
            .collect();
        (rig.set_to.last, said.join("; "))
    });
    let last = last?;
    let left = match last.ended {
        Ended::Abandoned => " The walk was left before its end.",
        Ended::Finished | Ended::Said => "",
    };
    Some(paragraph(
        "hint",
        format!(
            "Set to, cold: {said}. Last for {}, {} at {}.{left}",
            shared::surface(last.surface).to_ascii_lowercase(),
            clock::day(last.day),
            clock::time_of_day(last.day)
        ),
    ))
}

/// The walk logged last.
fn done(state: State) -> Option<Element> {
    let figure = |key| state.rig(|rig| rig.air.get(key));
    let name = |key| {
        let surface = surface::Surface::ALL.get(figure(key)? as usize)?;
        Some(shared::surface(*surface).to_ascii_lowercase())
    };
    let at = figure(Key::DoneDay)?;
    Some(paragraph(
        "hint",
        format!(
            "Last logged: {} at {}, {} to {}, {} tyres, air moving for {}.",
            clock::day(at),
            clock::time_of_day(at),
            name(Key::DoneFrom)?,
            name(Key::DoneTo)?,
            crate::decimal::fixed(figure(Key::DoneTyres)?, 0),
            words::stopwatch(figure(Key::DoneS)?)
        ),
    ))
}
