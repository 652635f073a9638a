//! What the page holds, and the one way in which it changes a rig.

use crate::calc::pressure::{Answer, SpeedLimit};
use crate::rig::{Problem, Rig, Surface, Understood, Unusable, axle_field};
use crate::store::{Garage, Memory, RigId, Shelf, Trouble};
use crate::ui::kit::words;
use leptos::prelude::*;

/// The page's state. Copies share it.
#[derive(Clone, Copy)]
pub struct State {
    /// All rigs.
    pub garage: RwSignal<Garage>,
    shelf: StoredValue<Box<dyn Shelf>, LocalStorage>,
    /// Trouble with keeping rigs, until it is waved away.
    pub trouble: RwSignal<Option<Trouble>>,
    trouble_said: StoredValue<bool>,
    /// Whether the last change was not kept.
    unkept: StoredValue<bool>,
    /// What was removed last.
    pub removed: RwSignal<Option<Removed>>,
    /// The field that the next view is to start at.
    pub target: StoredValue<Option<String>>,
    /// Counts what makes fields anew: another rig, another axle, another unit.
    pub shape: RwSignal<u32>,
    /// The axle whose figure is explained.
    pub explained: RwSignal<Option<usize>>,
    /// What the pressures page shows of each axle.
    pub outcomes: Memo<Vec<Outcome>>,
}

/// What can be brought back.
#[derive(Debug, Clone, PartialEq)]
pub enum Removed {
    /// A rig, with its number.
    Rig(RigId, Rig),
    /// An axle: its rig as it was.
    Axle(RigId, Rig),
}

/// What is known of one axle's pressure.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Its name.
    pub name: &'static str,
    /// Its number of tyres.
    pub tyres: u8,
    /// The answer or why there is none; nothing while a field of the axle
    /// can't be used.
    pub result: Option<Result<(Understood, Answer), Problem>>,
}

impl Outcome {
    /// The answer, where there is one.
    pub fn answer(&self) -> Option<&Answer> {
        match &self.result {
            Some(Ok((_, answer))) => Some(answer),
            _ => None,
        }
    }
}

impl State {
    /// The state over a given shelf.
    pub fn on(shelf: Box<dyn Shelf>, trouble: Option<Trouble>) -> Self {
        let (mut garage, reading) = Garage::open(shelf.as_ref());
        let mut shelf = shelf;
        if reading.is_some() {
            // What could not be read whole must not be written over.
            shelf = Box::new(Memory::default());
            garage = Garage::open(shelf.as_ref()).0;
        }
        let garage = RwSignal::new(garage);
        let trouble = trouble.or(reading);
        Self {
            garage,
            shelf: StoredValue::new_local(shelf),
            trouble: RwSignal::new(trouble),
            trouble_said: StoredValue::new(trouble.is_some()),
            unkept: StoredValue::new(false),
            removed: RwSignal::new(None),
            target: StoredValue::new(None),
            shape: RwSignal::new(0),
            explained: RwSignal::new(None),
            outcomes: Memo::new(move |_| {
                garage.with(|garage| {
                    let rig = garage.current();
                    outcomes(rig, rig.surface)
                })
            }),
        }
    }

    /// Reads the current rig; what calls this runs again when it changes.
    pub fn rig<T>(self, read: impl FnOnce(&Rig) -> T) -> T {
        self.garage.track();
        self.rig_now(read)
    }

    /// Reads the current rig once.
    pub fn rig_now<T>(self, read: impl FnOnce(&Rig) -> T) -> T {
        self.garage.with_untracked(|garage| read(garage.current()))
    }

    /// What is known of each axle's pressure on any surface.
    pub fn outcomes_on(self, surface: Surface) -> Vec<Outcome> {
        self.rig(|rig| outcomes(rig, surface))
    }

    /// Whether a field whose name begins so holds a text that can't be used.
    pub fn is_unusable(self, prefix: &str) -> bool {
        self.rig(|rig| rig.is_unusable(prefix))
    }

    /// Changes the current rig and keeps it.
    pub fn change(self, change: impl FnOnce(&mut Rig)) {
        let mut change = Some(change);
        self.act(&mut |garage, shelf| match change.take() {
            Some(change) => garage.change(shelf, change),
            None => Ok(()),
        });
    }

    /// Changes what makes the fields anew: another rig, another axle, another
    /// unit.
    pub fn reshape(self, act: impl FnOnce(&mut Garage, &dyn Shelf) -> Result<(), Trouble>) {
        let mut act = Some(act);
        self.act(&mut |garage, shelf| match act.take() {
            Some(act) => act(garage, shelf),
            None => Ok(()),
        });
        self.shape.update(|shape| *shape += 1);
    }

    /// Adds a rig made from the current one, and makes it current.
    pub fn add_rig(self, make: impl FnOnce(&Rig) -> Rig) {
        self.reshape(|garage, shelf| {
            let rig = make(garage.current());
            garage.add(shelf, rig)
        });
    }

    /// Forgets unusable texts, such as those of fields that go.
    pub fn forget_drafts(self, which: impl Fn(&Unusable) -> bool) {
        if self.rig_now(|rig| rig.unusable.iter().any(&which)) {
            self.change(|rig| rig.unusable.retain(|text| !which(text)));
        }
    }

    /// Goes to the rig view, to the field of an axle that can't be used, or to
    /// its first one.
    pub fn go_to_field(self, axle: usize) {
        let wrong = self.rig_now(|rig| rig.unusable_of(axle).map(|text| text.id.clone()));
        self.target
            .set_value(Some(wrong.unwrap_or_else(|| axle_field(axle, "tyre"))));
        go_to("#/rig");
    }

    /// The field that the view now shown is to start at, once.
    pub fn take_target(self) -> Option<String> {
        let target = self.target.get_value();
        self.target.set_value(None);
        target
    }

    /// Takes over what another tab has kept; not while this one holds what
    /// could not be kept.
    pub fn reread(self) {
        if self.unkept.get_value() {
            return;
        }
        let current = self.garage.with_untracked(Garage::current_id);
        let mut read = None;
        self.shelf.with_value(|shelf| {
            let (mut garage, trouble) = Garage::open(shelf.as_ref());
            garage.stay_with(current);
            read = trouble.is_none().then_some(garage);
        });
        if let Some(garage) = read
            && self.garage.with_untracked(|now| !now.same_records(&garage))
        {
            self.reshape(|now, _| {
                *now = garage;
                Ok(())
            });
        }
    }

    /// Deletes the current rig, for the time being.
    pub fn delete(self) {
        self.reshape(|garage, shelf| {
            let (id, rig) = garage.remove(shelf)?;
            self.removed.set(Some(Removed::Rig(id, rig)));
            Ok(())
        });
    }

    /// Removes an axle of the current rig; it can be brought back until
    /// something else is changed.
    pub fn remove_axle(self, index: usize) {
        self.reshape(|garage, shelf| {
            let before = garage.current().clone();
            self.removed
                .set(Some(Removed::Axle(garage.current_id(), before)));
            garage.change(shelf, |rig| rig.remove_axle(index))
        });
    }

    /// Takes the last removal back.
    pub fn undo(self) {
        let Some(removed) = self.removed.get_untracked() else {
            return;
        };
        self.removed.set(None);
        self.reshape(|garage, shelf| match removed {
            Removed::Rig(id, rig) => garage.put_back(shelf, id, rig),
            Removed::Axle(id, before) if id == garage.current_id() => {
                garage.change(shelf, |rig| *rig = before)
            }
            Removed::Axle(..) => Ok(()),
        });
    }

    /// Not generic: the page acts in dozens of places.
    fn act(self, act: &mut dyn FnMut(&mut Garage, &dyn Shelf) -> Result<(), Trouble>) {
        // Putting the rig back as it was would undo what is changed now.
        if self
            .removed
            .with_untracked(|removed| matches!(removed, Some(Removed::Axle(..))))
        {
            self.removed.set(None);
        }
        let mut result = Ok(());
        self.shelf.with_value(|shelf| {
            self.garage
                .update(|garage| result = act(garage, shelf.as_ref()));
        });
        self.unkept.set_value(result.is_err());
        if let Err(trouble) = result
            && !self.trouble_said.get_value()
        {
            self.trouble_said.set_value(true);
            self.trouble.set(Some(trouble));
        }
    }
}

fn outcomes(rig: &Rig, surface: Surface) -> Vec<Outcome> {
    let outcome = |(index, axle): (usize, &crate::rig::Axle)| {
        let usable = rig.unusable_of(index).is_none();
        Outcome {
            name: words::axle(axle),
            tyres: axle.group().tyres(),
            result: usable.then(|| rig.answer_on(axle, surface)),
        }
    };
    rig.axles.iter().enumerate().map(outcome).collect()
}

/// The least of the axles' speed limits, since the rig drives at one speed;
/// none while an axle must not be driven on.
pub fn rig_speed(outcomes: &[Outcome]) -> Option<SpeedLimit> {
    if outcomes.iter().any(is_stopped) {
        return None;
    }
    let limits = outcomes
        .iter()
        .filter_map(|outcome| Some(outcome.answer()?.speed));
    limits.reduce(|a, b| match (a, b) {
        (SpeedLimit::UpTo(a), SpeedLimit::UpTo(b)) => SpeedLimit::UpTo(if b < a { b } else { a }),
        (SpeedLimit::UpTo(_), _) => a,
        (_, SpeedLimit::UpTo(_)) => b,
        (SpeedLimit::Posted { tyre: a }, SpeedLimit::Posted { tyre: b }) => {
            let least = a
                .into_iter()
                .chain(b)
                .reduce(|a, b| if b < a { b } else { a });
            SpeedLimit::Posted { tyre: least }
        }
    })
}

/// Whether an axle must not be driven on.
pub fn is_stopped(outcome: &Outcome) -> bool {
    matches!(&outcome.result, Some(Err(problem)) if words::is_danger(problem))
}

/// Goes to a view by its address.
pub fn go_to(hash: &str) {
    // A hash can't be refused: it leaves no page.
    let _ = window().location().set_hash(hash);
}
