//! A round that is in the log: taken back, so that it is under way again, and
//! kept again as it was.

use crate::rig::checks::{Checks, LastRound, Log, Round};
use crate::rig::nuts::{LogEntry, Nuts};
use crate::ui::frame::state::State;

/// A finished round, with what else hangs on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Finished {
    /// It.
    pub round: Round,
    /// What was known of the last round without it.
    pub last: Option<LastRound>,
    /// Its lines in the nuts' own log.
    pub nuts: Vec<LogEntry>,
}

/// Takes it out of the log: it is under way again.
pub fn take_back(state: State, finished: Finished) {
    let Finished { round, last, nuts } = finished;
    state.piece::<Log>(Log::piece(round.day)).change(|log| {
        if let Some(place) = log.rounds.iter().rposition(|of| *of == round) {
            log.rounds.remove(place);
        }
    });
    if !nuts.is_empty() {
        state.section::<Nuts>().change(|of| {
            for line in nuts.iter().rev() {
                if let Some(place) = of.log.iter().rposition(|of| of == line) {
                    of.log.remove(place);
                }
            }
        });
    }
    state.section::<Checks>().change(|checks| {
        checks.round = Some(round);
        checks.last = last;
    });
}

/// Keeps it again as it was, with what was known of the last round then; says
/// whether it could: not once something was changed in it.
pub fn keep_again(state: State, finished: Finished, last: Option<LastRound>) -> bool {
    let Finished { round, nuts, .. } = finished;
    let checks = state.section::<Checks>();
    if checks.now(|checks| checks.round.as_ref() != Some(&round)) {
        return false;
    }
    let mut room = true;
    // The log first, as when it was kept.
    state.piece::<Log>(Log::piece(round.day)).change(|log| {
        room = log.add(round);
    });
    if !room {
        return false;
    }
    if !nuts.is_empty() {
        state.section::<Nuts>().change(|of| {
            for line in nuts {
                of.log(line);
            }
        });
    }
    checks.change(|checks| {
        checks.round = None;
        checks.last = last;
    });
    true
}
