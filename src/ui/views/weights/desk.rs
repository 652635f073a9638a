//! What the parts of the weights view share.

use super::drawing::Along;
use crate::calc::limits::OutOfRange;
use crate::calc::quantity::GaugePressure;
use crate::calc::weights::Figure;
use crate::calc::weights::plates::Margin;
use crate::calc::weights::ticket::{Weighing, Wheels};
use crate::rig::typed::in_unit::millimetres;
use crate::rig::weights::ticket::{Laid, TicketRecord, Tickets};
use crate::rig::weights::{Found, Loads, NoWeights, On, PlanItem, Weights, coupling, loads};
use crate::rig::{Axle, Coupling, Place, Rig, Units};
use crate::store::RigId;
use crate::ui::frame::state::{Kept, State};
use crate::ui::kit::element::{Content, live};
use crate::ui::kit::follow::{effect, memo};
use leptos::prelude::*;

/// A load on its way to another place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moving {
    /// Which.
    pub id: u32,
    /// On what.
    pub on: On,
    /// How far ahead of its axle.
    pub at_mm: f64,
}

impl Moving {
    /// Lays it there.
    pub fn lay(self, weights: &mut Weights) {
        if let Some(item) = weights.items.iter_mut().find(|item| item.id == self.id) {
            item.on = self.on;
            item.at = millimetres(self.at_mm);
        }
    }
}

/// What can be taken back.
#[derive(Debug, Clone)]
pub enum Undo {
    /// A load lay here.
    Laid(Moving),
    /// A load was here in the list.
    Removed(usize, Box<PlanItem>),
    /// A load was not there.
    Added(u32),
    /// A ticket was here in the list, and counted.
    Ticket(usize, Box<TicketRecord>),
    /// The rig's axles were so, and took no loads from here.
    Handed(Vec<Axle>),
}

/// Keeps what can be taken back; of too much the oldest goes.
pub fn remember(desk: Desk, undo: Undo) {
    const MOST: usize = 50;
    desk.undo.update(|all| {
        if all.len() >= MOST {
            all.remove(0);
        }
        all.push(undo);
    });
}

/// What one of the rig's axles would be set to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Needed {
    /// The pressure recommended on the surface picked.
    pub recommended: GaugePressure,
    /// What the load alone needs on the road.
    pub least: GaugePressure,
}

/// All that is shown of the weights.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    pub found: Found,
    pub coupling: Coupling,
    pub margins: Vec<Margin>,
    pub loads: Loads,
    /// Why the rig's axles can't take them.
    pub refused: Option<OutOfRange>,
    /// The loads as they lie, the one on its way included.
    pub items: Vec<PlanItem>,
    pub along: Option<Along>,
    /// Whether the ticket's readings can all be right.
    pub agrees: bool,
    /// For each of the rig's axles: as the rig page has it, and by this plan.
    pub effects: Vec<(Option<Needed>, Option<Needed>)>,
    /// The loads as they lay when the rig was weighed.
    pub laid: Vec<Laid>,
    /// The van's place among them.
    pub trailer: Option<usize>,
}

impl Seen {
    /// A mass as planned.
    pub fn figure(&self, weighing: Weighing) -> Option<Figure> {
        self.found.laden().figure(weighing, Wheels::Both)
    }
}

/// What the parts of the view share.
#[derive(Clone, Copy)]
pub struct Desk {
    pub state: State,
    pub weights: Kept<Weights>,
    pub tickets: Kept<Tickets>,
    /// A load on its way.
    pub moving: RwSignal<Option<Moving>>,
    /// The load whose controls are shown.
    pub picked: RwSignal<Option<u32>>,
    pub undo: RwSignal<Vec<Undo>>,
    /// What was done, for a screen reader.
    pub spoken: RwSignal<String>,
    pub seen: Memo<Result<Seen, NoWeights>>,
}

impl Desk {
    /// A desk for a new view.
    pub fn new(state: State) -> Self {
        let (weights, tickets) = (state.section::<Weights>(), state.section::<Tickets>());
        let moving = RwSignal::new(None::<Moving>);
        let seen = memo(move |_| {
            let on_its_way = moving.get();
            let tickets = tickets.read(Clone::clone);
            weights.with_rig(|rig, weights| match on_its_way {
                None => seen(rig, weights, &tickets),
                Some(moving) => {
                    let mut weights = weights.clone();
                    moving.lay(&mut weights);
                    seen(rig, &weights, &tickets)
                }
            })
        });
        // Where the pressures follow, the rig's axles have what is known here.
        // Not while a load is on its way: each step would be kept.
        effect(move |_| {
            let on_its_way = moving.with(Option::is_some);
            if on_its_way || !weights.read(|weights| weights.in_use) {
                return;
            }
            let axles = seen.with(|seen| {
                // What one wrong reading spreads over all axles is no load.
                let seen = seen.as_ref().ok().filter(|seen| seen.agrees)?;
                let now = state.rig(|rig| rig.axles.clone());
                let axles = seen.loads.on(&now).ok()?;
                (axles != now).then_some(axles)
            });
            if let Some(axles) = axles {
                state.change(|rig| rig.axles = axles);
            }
        });
        // Another tab may have picked another rig: what can be taken back here
        // is not of that one.
        let undo = RwSignal::new(Vec::new());
        let picked = RwSignal::new(first_load(state, weights));
        let rig = memo(move |_| state.garage.with(|garage| garage.current_id()));
        effect(move |was: Option<RigId>| {
            let rig = rig.get();
            if was.is_some_and(|was| was != rig) {
                moving.set(None);
                undo.set(Vec::new());
                picked.set(first_load(state, weights));
            }
            rig
        });
        Self {
            state,
            weights,
            tickets,
            moving,
            picked,
            undo,
            spoken: RwSignal::new(String::new()),
            seen,
        }
    }

    /// The units to show.
    pub fn units(self) -> Units {
        self.state.rig(Rig::units)
    }

    /// Whether no reading is known to be wrong; not while nothing is seen.
    pub fn agrees(self) -> bool {
        let agrees = |seen: &Result<Seen, _>| seen.as_ref().is_ok_and(|seen| seen.agrees);
        self.seen.with(agrees)
    }

    /// A text that follows what is seen; nothing while nothing is.
    pub fn text(self, text: impl Fn(&Seen) -> String + Send + 'static) -> Content {
        live(move || self.seen.with(|seen| seen.as_ref().ok().map(&text)))
    }
}

/// The first load of those that the rig has a place for.
pub fn first_load(state: State, weights: Kept<Weights>) -> Option<u32> {
    let has_trailer = state.rig_now(Rig::has_trailer);
    weights.now(|weights| {
        let mut items = weights.items.iter();
        let first = items.find(|item| item.has_place(has_trailer));
        first.map(|item| item.id)
    })
}

fn seen(rig: &Rig, weights: &Weights, tickets: &Tickets) -> Result<Seen, NoWeights> {
    let found = weights.found(tickets, rig)?;
    let margins = weights.margins(rig, &found)?;
    let loads = loads(rig, &found.laden());
    let lines = found.solution().lines();
    let agrees = found.solution().agrees();
    let along = weights
        .measures(rig.has_trailer())
        .ok()
        .map(|measures| Along::new(&measures, weights.body(&measures), lines));
    let handed = loads.on(&rig.axles);
    let refused = handed.as_ref().err().copied();
    let planned = handed.map(|axles| Rig {
        axles,
        ..rig.clone()
    });
    let effect = |rig: &Rig, index: usize| {
        if rig.unusable_of(index).is_some() {
            return None;
        }
        let (_, answer) = rig.answer_ahead(rig.axles.get(index)?, rig.surface).ok()?;
        Some(Needed {
            recommended: answer.recommended,
            least: answer.sealed.load_minimum,
        })
    };
    let effects = (0..rig.axles.len()).map(|index| {
        let planned = planned.as_ref().ok();
        let planned = planned.filter(|_| loads.ahead(rig).iter().any(|of| of.axle == index));
        (
            effect(rig, index),
            planned.and_then(|rig| effect(rig, index)),
        )
    });
    Ok(Seen {
        effects: effects.collect(),
        trailer: rig
            .axles
            .iter()
            .position(|axle| axle.place == Place::Trailer),
        coupling: coupling(rig),
        laid: tickets
            .current()
            .map_or_else(Vec::new, |of| of.loads.clone()),
        items: weights.items.clone(),
        found,
        margins,
        loads,
        refused,
        along,
        agrees,
    })
}
