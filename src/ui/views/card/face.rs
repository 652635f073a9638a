//! What stands on the card.

use crate::calc::fill::trip::Move;
use crate::calc::pressure::Caution;
use crate::calc::surface::Surface;
use crate::rig::air::Tools;
use crate::rig::nuts::Nuts;
use crate::rig::{Coupling, Problem, Rig};
use crate::ui::frame::state::{Outcome, State, is_stopped, rig_speed};
use crate::ui::kit::{air_words, format, tools, torque_words, words};

/// A surface's line.
pub(super) struct Line {
    pub(super) surface: &'static str,
    /// An axle's pressure, or why there is none, with the marks of its notes.
    pub(super) cells: Vec<String>,
    pub(super) speed: String,
    /// Time to pump up to the sealed-road figure.
    pub(super) minutes: Option<String>,
}

/// The card.
pub(super) struct Face {
    pub(super) name: String,
    pub(super) unit: &'static str,
    /// What the figures are for.
    pub(super) loads: String,
    pub(super) axles: Vec<&'static str>,
    pub(super) lines: Vec<Line>,
    /// What the marks stand for, in their order.
    pub(super) notes: Vec<String>,
    pub(super) torques: Vec<String>,
    /// What the minutes rest on, or why there are none.
    pub(super) on_minutes: Vec<String>,
    pub(super) cautions: Vec<String>,
}

/// What a mark stands for: what is said, and of which axles.
struct Note {
    said: String,
    axles: Vec<&'static str>,
}

/// Numbers the notes: one that says the same has the same mark.
fn mark(notes: &mut Vec<Note>, axle: &'static str, said: String) -> String {
    let at = notes.iter().position(|of| of.said == said);
    let at = at.unwrap_or_else(|| {
        let axles = Vec::new();
        notes.push(Note { said, axles });
        notes.len() - 1
    });
    if !notes[at].axles.contains(&axle) {
        notes[at].axles.push(axle);
    }
    format!(" {}", at + 1)
}

fn cell(rig: &Rig, outcome: &Outcome, surface: Surface, notes: &mut Vec<Note>) -> String {
    let answer = match &outcome.result {
        Some(Ok((_, answer))) => answer,
        Some(Err(problem)) => {
            let refused = match problem {
                Problem::LeftBehind => "left",
                _ => "none",
            };
            let why = words::problem(problem, rig.units());
            return refused.to_owned() + &mark(notes, outcome.name, why);
        }
        None => {
            let why = "An entry can't be used.".to_owned();
            return "none".to_owned() + &mark(notes, outcome.name, why);
        }
    };
    let mut text = format::pressure_number(rig.unit, answer.recommended);
    for caution in &answer.cautions {
        if words::is_grave(*caution, surface) {
            let said = words::caution(*caution, rig.unit);
            text += &mark(notes, outcome.name, said);
        }
    }
    text
}

/// The card of the current rig, as its van is now.
pub(super) fn face(state: State) -> Face {
    let on = Surface::ALL.map(|surface| (surface, state.outcomes_on(surface)));
    let usable =
        !state.is_unusable("now-") && !tools::is_unusable(state, &[tools::PUMP, tools::SPACE]);
    let (torques, trailer) = state.section::<Nuts>().with_rig(|rig, nuts| {
        let trailer = rig.has_trailer();
        (torque_words::of_nuts(nuts, trailer), trailer)
    });
    state.section::<Tools>().with_rig(|rig, tools| {
        let mut notes = Vec::new();
        let mut on_minutes = Vec::new();
        let mut cautions: Vec<String> = Vec::new();
        let sealed = &on[0].1;
        let lines = on.iter().map(|(surface, outcomes)| {
            for caution in outcomes
                .iter()
                .filter_map(Outcome::answer)
                .flat_map(|of| &of.cautions)
            {
                let common = matches!(
                    caution,
                    Caution::PumpUpBeforeSealed
                        | Caution::CheckSidewallHeat
                        | Caution::NoSharpSteering
                        | Caution::SlowOnly(_)
                        | Caution::SpeedSymbolUnknown
                );
                let said = words::caution(*caution, rig.unit);
                if common && !cautions.contains(&said) {
                    cautions.push(said);
                }
            }
            let speed = match rig_speed(outcomes) {
                Some(limit) => words::speed_heading(limit)
                    .trim_start_matches("max ")
                    .to_owned(),
                None if outcomes.iter().any(is_stopped) => "do not drive".to_owned(),
                None => "none".to_owned(),
            };
            Line {
                surface: words::surface(*surface),
                cells: outcomes
                    .iter()
                    .map(|of| cell(rig, of, *surface, &mut notes))
                    .collect(),
                speed,
                minutes: usable
                    .then(|| minutes(rig, tools, outcomes, sealed, &mut on_minutes))
                    .flatten(),
            }
        });
        let lines = lines.collect();
        if !usable {
            on_minutes.push("Minutes not known: an entry of the tools can't be used.".to_owned());
        }
        let mut all = vec![
            "The tyre placard and the makers of vehicle, wheel and tyre come first, and local \
             law; where in doubt, a licensed tyre fitter."
                .to_owned(),
            "Cold: before driving, or 3 hours after. Never let air out of a warm tyre to reach a \
             cold sealed-road figure."
                .to_owned(),
        ];
        all.append(&mut cautions);
        if trailer {
            all.push(
                "For the rig as loaded when this was printed. Above 100 km/h with a trailer, look \
                 at the local towing limit."
                    .to_owned(),
            );
        }
        Face {
            name: words::rig_name(&rig.name),
            unit: format::unit_mark(rig.unit),
            loads: loads(rig),
            axles: rig.axles.iter().map(words::axle).collect(),
            lines,
            notes: notes
                .iter()
                .map(|note| format!("{}: {}", note.axles.join(", "), note.said))
                .collect(),
            torques,
            on_minutes,
            cautions: all,
        }
    })
}

/// The load on each axle's tyres that the figures are for, and how the van is.
fn loads(rig: &Rig) -> String {
    let here = rig.axles.iter().filter(|axle| !rig.leaves(axle));
    let loads = here.map(|axle| {
        let load = rig.wheel_load(axle).map_or("not known".to_owned(), |load| {
            format::mass(rig.mass_unit, load)
        });
        format!("{} {load}", words::axle(axle))
    });
    let van = match rig.coupling {
        _ if !rig.has_trailer() => "",
        Coupling::Hitched => " Van hitched.",
        Coupling::Unhitched => " Van unhitched.",
    };
    format!(
        "For these loads on the most loaded tyre: {}.{van}",
        loads.collect::<Vec<_>>().join("; ")
    )
}

fn minutes(
    rig: &Rig,
    tools: &Tools,
    from: &[Outcome],
    sealed: &[Outcome],
    said: &mut Vec<String>,
) -> Option<String> {
    let moves = from
        .iter()
        .zip(sealed)
        .filter(|(of, _)| !matches!(of.result, Some(Err(Problem::LeftBehind))));
    let moves: Vec<Option<Move>> = moves
        .map(|(from, to)| {
            Some(Move {
                from: from.answer()?.recommended,
                to: to.answer()?.recommended,
                tyres: from.tyres,
            })
        })
        .collect();
    if moves.iter().any(Option::is_none) || moves.iter().flatten().all(|of| of.from == of.to) {
        return None;
    }
    let times = tools.times(rig, &moves);
    let mut say = |text: String| {
        if !said.contains(&text) {
            said.push(text);
        }
    };
    if times.total.is_some() {
        for remark in times
            .remarks
            .iter()
            .filter_map(|of| air_words::remark(*of, rig.unit))
        {
            say(remark);
        }
    } else {
        for why in times.axles.iter().filter_map(|of| of.as_ref().err()) {
            say(format!(
                "Minutes not known: {}.",
                air_words::no_time(*why, rig.unit)
            ));
        }
    }
    times.total.map(air_words::between)
}
