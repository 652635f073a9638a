//! What the page holds, and the one way in which it changes a rig.

use super::words;
use crate::calc::pressure::Answer;
use crate::rig::{Problem, Rig, Understood};
use crate::store::{Garage, RigId, Shelf, Trouble};
use leptos::prelude::*;

/// A text in a field that can't be used. It stays as typed, and no figure
/// that hangs on it is shown as current.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// The field.
    pub id: String,
    /// The axle that the field belongs to, or the footprint's wheel typed in,
    /// behind all of them; the whole rig where there is none.
    pub axle: Option<usize>,
    /// As typed.
    pub text: String,
}

/// The page's state. Copies share it.
#[derive(Clone, Copy)]
pub struct State {
    /// All rigs.
    pub garage: RwSignal<Garage>,
    shelf: StoredValue<Box<dyn Shelf>, LocalStorage>,
    /// Trouble with keeping rigs, until it is waved away.
    pub trouble: RwSignal<Option<Trouble>>,
    trouble_said: StoredValue<bool>,
    /// Unusable texts of the current rig, one a field.
    pub drafts: RwSignal<Vec<Draft>>,
    /// The rig deleted last.
    pub deleted: RwSignal<Option<(RigId, Rig)>>,
    /// Counts what makes fields anew: another rig, another axle, another unit.
    pub shape: RwSignal<u32>,
    /// What the pressures page shows of each axle.
    pub outcomes: Memo<Vec<Outcome>>,
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

impl State {
    /// The state over a given shelf.
    pub fn on(shelf: Box<dyn Shelf>, trouble: Option<Trouble>) -> Self {
        let (garage, reading) = Garage::open(shelf.as_ref());
        let garage = RwSignal::new(garage);
        let drafts = RwSignal::new(Vec::new());
        let trouble = trouble.or(reading);
        Self {
            garage,
            shelf: StoredValue::new_local(shelf),
            trouble: RwSignal::new(trouble),
            trouble_said: StoredValue::new(trouble.is_some()),
            drafts,
            deleted: RwSignal::new(None),
            shape: RwSignal::new(0),
            outcomes: Memo::new(move |_| {
                garage.with(|garage| drafts.with(|drafts| outcomes(garage.current(), drafts)))
            }),
        }
    }

    /// Reads the current rig; what calls this runs again when it changes.
    pub fn rig<T>(self, read: impl FnOnce(&Rig) -> T) -> T {
        self.garage.with(|garage| read(garage.current()))
    }

    /// Reads the current rig once.
    pub fn rig_now<T>(self, read: impl FnOnce(&Rig) -> T) -> T {
        self.garage.with_untracked(|garage| read(garage.current()))
    }

    /// Changes the current rig and keeps it.
    pub fn change(self, change: impl FnOnce(&mut Rig)) {
        self.act(|garage, shelf| garage.change(shelf, change));
    }

    /// Changes what makes the fields anew: unusable texts go with them.
    pub fn reshape(self, act: impl FnOnce(&mut Garage, &dyn Shelf) -> Result<(), Trouble>) {
        self.act(act);
        self.drafts.update(Vec::clear);
        self.shape.update(|shape| *shape += 1);
    }

    /// Takes over what another tab has kept.
    pub fn reread(self) {
        let current = self.garage.with_untracked(Garage::current_id);
        let mut read = None;
        self.shelf.with_value(|shelf| {
            let (mut garage, trouble) = Garage::open(shelf.as_ref());
            garage.stay_with(current);
            read = trouble.is_none().then_some(garage);
        });
        if let Some(garage) = read
            && self.garage.with_untracked(|now| *now != garage)
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
            let deleted = garage.remove(shelf)?;
            self.deleted.set(Some(deleted));
            Ok(())
        });
    }

    /// Takes the last deletion back.
    pub fn undo_delete(self) {
        if let Some((id, rig)) = self.deleted.get_untracked() {
            self.deleted.set(None);
            self.reshape(|garage, shelf| garage.put_back(shelf, id, rig));
        }
    }

    fn act(self, act: impl FnOnce(&mut Garage, &dyn Shelf) -> Result<(), Trouble>) {
        let mut result = Ok(());
        self.shelf.with_value(|shelf| {
            self.garage
                .update(|garage| result = act(garage, shelf.as_ref()));
        });
        if let Err(trouble) = result
            && !self.trouble_said.get_value()
        {
            self.trouble_said.set_value(true);
            self.trouble.set(Some(trouble));
        }
    }
}

fn outcomes(rig: &Rig, drafts: &[Draft]) -> Vec<Outcome> {
    let outcome = |(index, axle): (usize, &crate::rig::Axle)| {
        let unusable = drafts
            .iter()
            .any(|draft| draft.axle.is_none_or(|of| of == index));
        Outcome {
            name: words::axle(axle),
            tyres: axle.group().tyres(),
            result: (!unusable).then(|| rig.answer(axle)),
        }
    };
    rig.axles.iter().enumerate().map(outcome).collect()
}
