//! The way from what the tyres are set to onto a surface.

use super::clock;
use super::warm::{self, Now};
use crate::calc::fill::trip::Move;
use crate::calc::quantity::GaugePressure;
use crate::rig::air::Walk;
use crate::rig::{Rig, Surface};
use crate::ui::frame::state::{Outcome, State};
use crate::ui::kit::words;
use leptos::prelude::*;

/// One way, axle by axle.
#[derive(Debug, Clone, PartialEq)]
pub struct Leg {
    /// The surface that it goes to.
    pub to: Surface,
    /// What each axle gets to.
    pub outcomes: Vec<Outcome>,
    /// How, cold; nothing where a pressure is not known.
    pub cold: Vec<Option<Move>>,
    /// The same as the gauge shows it, which is cold unless the tyres are known
    /// to be warm.
    pub moves: Vec<Option<Move>>,
    /// Whether `moves` are warm.
    pub warm: bool,
}

/// Where a way to `to` is taken to start where that was never said: on sealed
/// road, or on dirt where sealed road is ahead.
fn assumed(rig: &Rig, to: Surface) -> Surface {
    match rig.set_to.last {
        Some(last) if last.surface != to => last.surface,
        _ if to == Surface::Sealed => Surface::Dirt,
        _ => Surface::Sealed,
    }
}

/// How each axle moves, cold, to come to its pressure for `to`.
pub fn cold_moves(state: State, to: Surface) -> Vec<Option<Move>> {
    let from = state.rig(|rig| assumed(rig, to));
    let recommended = |outcomes: &[Outcome]| -> Vec<Option<GaugePressure>> {
        outcomes
            .iter()
            .map(|outcome| Some(outcome.answer()?.recommended))
            .collect()
    };
    let (before, after) = (
        recommended(&state.outcomes_on(from)),
        recommended(&state.outcomes_on(to)),
    );
    state.rig(|rig| rig.moves(&before, &after))
}

/// One way, as things are now.
pub fn leg(state: State, to: Surface, now: &Now) -> Leg {
    let unit = state.rig(|rig| rig.unit);
    let cold = cold_moves(state, to);
    let air = match now {
        Now::Warm { air, .. } => Some(air),
        _ => None,
    };
    let warmed = |a: &Move| match air {
        Some(air) => Move {
            from: warm::target(air, a.from, unit),
            to: warm::target(air, a.to, unit),
            tyres: a.tyres,
        },
        None => *a,
    };
    Leg {
        to,
        outcomes: state.outcomes_on(to),
        moves: cold.iter().map(|a| a.as_ref().map(warmed)).collect(),
        cold,
        warm: air.is_some(),
    }
}

/// What is done to the tyres on the way to a surface.
pub fn verb(moves: &[Option<Move>], to: Surface) -> String {
    let to = words::surface(to).to_ascii_lowercase();
    let moved = || moves.iter().flatten().filter(|a| a.from != a.to);
    match (moved().any(Move::is_up), moved().any(|a| !a.is_up())) {
        (true, false) => format!("Pump up for {to}"),
        (false, true) => format!("Let down for {to}"),
        _ => format!("Set for {to}"),
    }
}

/// Begins a walk to a surface, with warm figures or with cold ones.
pub fn begin(state: State, to: Surface, warm: bool) {
    state.change(|rig| {
        rig.air.from = assumed(rig, to);
        rig.air.to = to;
        rig.set_to.walked.clear();
        rig.set_to.in_hand = None;
        rig.air.walk = Some(Walk::new(false, warm));
    });
}

/// Takes every tyre as set to the figures of the surface picked, cold.
pub fn say_set(state: State) {
    let cold: Vec<_> = state.outcomes.with_untracked(|outcomes| {
        outcomes
            .iter()
            .map(|outcome| Some(outcome.answer()?.recommended))
            .collect()
    });
    state.change(|rig| rig.say_set(rig.surface, &cold, false, clock::now_day()));
}
