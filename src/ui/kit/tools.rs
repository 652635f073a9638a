//! The minutes of a trip, by compressor and deflator.

use crate::calc::fill::trip::{Move, Times};
use crate::rig::air::{Leaks, Tools};
use crate::rig::section::Entered;
use crate::rig::{Owner, Rig, Unusable};
use crate::ui::frame::state::State;

/// Begins the names of all fields of the compressor, of the deflator, and of
/// air spaces.
pub const PUMP: &str = "pump-";
/// The deflator's.
pub const OUT: &str = "out-";
/// Those of air spaces.
pub const SPACE: &str = "space";
/// Those of slow leaks.
pub const LEAK: &str = "leak-";

/// How long it takes to move every axle.
pub fn times(state: State, moves: &[Option<Move>]) -> Times {
    let tools = state.section::<Tools>();
    tools.with_rig(|rig, tools| tools.times(rig, moves))
}

/// Whether a field whose name begins so holds a text that can't be used, of
/// an axle that is there.
pub fn is_unusable(state: State, prefixes: &[&str]) -> bool {
    let tools = state.section::<Tools>();
    tools.with_rig(|rig, tools| {
        tools.unusable.iter().any(|text| {
            let there = match text.of {
                Owner::Axle(id) => rig.axle_at(id).is_some(),
                _ => true,
            };
            there && prefixes.iter().any(|prefix| text.field.starts_with(prefix))
        })
    })
}

/// Texts that older pages kept with the rig's own section come to the section
/// of their field.
pub fn take_over_texts(state: State) {
    take::<Tools>(state, &[PUMP, OUT, SPACE]);
    take::<Leaks>(state, &[LEAK]);
}

fn take<S: Entered>(state: State, prefixes: &[&str]) {
    let mut texts = texts(state, prefixes);
    if !texts.is_empty() {
        state
            .section::<S>()
            .change(|section| section.texts_mut().append(&mut texts));
        forget(state, prefixes);
    }
}

#[inline(never)]
fn forget(state: State, prefixes: &[&str]) {
    state.forget_drafts(|text| is_of(text, prefixes));
}

fn is_of(text: &Unusable, prefixes: &[&str]) -> bool {
    let mut prefixes = prefixes.iter();
    text.of == Owner::Nothing && prefixes.any(|prefix| text.field.starts_with(prefix))
}

#[inline(never)]
fn texts(state: State, prefixes: &[&str]) -> Vec<Unusable> {
    let mut texts = Vec::new();
    state.rig_now(|rig| {
        for text in &rig.unusable {
            if is_of(text, prefixes) {
                texts.push(named(rig, text.clone()));
            }
        }
    });
    texts
}

/// A text with its field as it is called now: that of an air space was called
/// by its axle's place.
fn named(rig: &Rig, mut text: Unusable) -> Unusable {
    let place = text.field.strip_prefix("space-");
    let axle = place.and_then(|place| rig.axles.get(place.parse::<usize>().ok()?));
    if let Some(axle) = axle {
        (text.of, text.field) = (Owner::Axle(axle.id), SPACE.to_owned());
    }
    text
}
