//! What the page holds, and the one way in which it changes a rig.

use crate::calc::pressure::{Answer, SpeedLimit};
use crate::rig::section::{Entered, Section, Unreadable};
use crate::rig::{Missing, Owner, Problem, Rig, Surface, Understood, Unusable, axle_field};
use crate::store::garage::Make;
use crate::store::{
    Deleted, Garage, Memory, Noticed, Piece, Restored, RigId, SetAside, Shelf, Trouble, file,
};
use crate::ui::kit::follow::memo;
use crate::ui::kit::words;
use leptos::prelude::*;
use leptos::wasm_bindgen::JsCast;
use leptos::web_sys::HtmlInputElement;
use std::borrow::Cow;
use std::marker::PhantomData;
use std::time::Duration;

/// How long other tabs' writes are gathered.
const GATHERING: Duration = Duration::from_millis(50);

/// A tap leaves a field before it is taken by what was tapped.
const AFTER_A_TAP: Duration = Duration::from_millis(400);

/// Above this many keys, everything is read anew.
const MOST_HEARD: usize = 32;

/// The page's state. Copies share it.
#[derive(Clone, Copy)]
pub struct State {
    /// All rigs.
    pub garage: RwSignal<Garage>,
    shelf: StoredValue<Box<dyn Shelf>, LocalStorage>,
    /// Trouble with keeping rigs, until it is waved away.
    pub trouble: RwSignal<Option<Trouble>>,
    trouble_said: StoredValue<bool>,
    /// Whether something that was entered is not kept.
    pub unkept: RwSignal<bool>,
    /// Whether the shelf outlasts the page.
    lasts: bool,
    /// Keys that another tab has written to, until they are looked at.
    heard: StoredValue<Vec<Option<String>>>,
    /// Counts changes of the rig's other sections.
    others: RwSignal<u32>,
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
    /// A rig, whole.
    Rig(Deleted),
    /// An axle: its rig as it was.
    Axle(RigId, Box<Rig>),
    /// What rigs that came by file or link have changed.
    Replaced(Restored),
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
        let lasts = trouble.is_none();
        Self {
            garage,
            shelf: StoredValue::new_local(shelf),
            trouble: RwSignal::new(trouble),
            trouble_said: StoredValue::new(trouble.is_some()),
            unkept: RwSignal::new(!lasts),
            lasts,
            heard: StoredValue::new(Vec::new()),
            others: RwSignal::new(0),
            removed: RwSignal::new(None),
            target: StoredValue::new(None),
            shape: RwSignal::new(0),
            explained: RwSignal::new(None),
            outcomes: memo(move |_| {
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

    /// The same on sealed road with the van on the ball, by which the rig is
    /// entered.
    pub fn outcomes_entered(self) -> Vec<Outcome> {
        self.rig(|rig| outcomes(&rig.hitched(), Surface::Sealed))
    }

    /// Whether a field of the rig whose name begins so holds a text that can't
    /// be used.
    pub fn is_unusable(self, prefix: &str) -> bool {
        self.rig(|rig| rig.is_unusable(prefix))
    }

    /// A section of the current rig: its own, or one that is read when it is
    /// first asked for. What only one view asks for is read by that view's
    /// code alone.
    pub fn section<S: Section>(self) -> Kept<S> {
        Kept {
            state: self,
            piece: None,
            section: PhantomData,
        }
    }

    /// One piece of a section that is kept in several.
    pub fn piece<S: Section>(self, piece: u16) -> Kept<S> {
        Kept {
            piece: Some(piece),
            ..self.section()
        }
    }

    /// The pieces that the current rig has of a section, in rising order.
    pub fn pieces<S: Section>(self) -> Vec<u16> {
        self.garage.track();
        self.others.track();
        let mut pieces = Vec::new();
        self.shelf.with_value(|shelf| {
            self.garage
                .with_untracked(|garage| pieces = garage.pieces(shelf.as_ref(), S::PART));
        });
        pieces
    }

    /// Changes the current rig and keeps it.
    pub fn change(self, change: impl FnOnce(&mut Rig)) {
        self.section().change(change);
    }

    /// Records that could not be read.
    pub fn set_aside(self) -> Vec<SetAside> {
        self.garage.track();
        self.others.track();
        let mut records = Vec::new();
        self.shelf.with_value(|shelf| {
            self.garage
                .with_untracked(|garage| records = garage.set_aside(shelf.as_ref()));
        });
        records
    }

    /// Changes what makes the fields anew: another rig, another axle, another
    /// unit.
    pub fn reshape(self, act: impl FnOnce(&mut Garage, &dyn Shelf) -> Result<(), Trouble>) {
        let mut act = Some(act);
        self.act(&mut |garage, shelf| match act.take() {
            Some(act) => act(garage, shelf),
            None => Ok(()),
        });
        self.others.update(|others| *others += 1);
        self.shape.update(|shape| *shape += 1);
        if untrack(|| self.waits()) {
            // Leaving a rig that is not kept: said again.
            self.trouble.set(Some(Trouble::Full));
        }
    }

    /// Adds a copy of the current rig, whole, after a change.
    pub fn copy_rig(self, change: impl FnOnce(&mut Rig)) {
        self.reshape(|garage, shelf| garage.copy(shelf, change));
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
        self.section::<Rig>().forget_drafts(which);
    }

    /// The element of the first field that can't be used of those that an
    /// axle's figures hang on.
    pub fn wrong_field(self, axle: usize) -> Option<String> {
        self.rig_now(|rig| {
            let text = rig.unusable_of(axle)?;
            Some(match text.of {
                Owner::Axle(_) => axle_field(axle, &text.field),
                _ => text.field.clone(),
            })
        })
    }

    /// Goes to the rig view, to the field of an axle that can't be used, or to
    /// its first one.
    pub fn go_to_field(self, axle: usize) {
        let wrong = self.wrong_field(axle);
        let alone = Some(Err(Problem::Missing(Missing::Alone)));
        let asks_alone = self
            .outcomes
            .with_untracked(|outcomes| outcomes.get(axle).is_some_and(|of| of.result == alone));
        let field = if asks_alone { "alone" } else { "tyre" };
        self.target
            .set_value(Some(wrong.unwrap_or_else(|| axle_field(axle, field))));
        go_to("#/rig");
    }

    /// The field that the view now shown is to start at, once.
    pub fn take_target(self) -> Option<String> {
        let target = self.target.get_value();
        self.target.set_value(None);
        target
    }

    /// Hears that another tab has written under a key, or anywhere. What is
    /// heard at once is looked at once, and not while something is typed here:
    /// its field would be made anew under the hand.
    pub fn hear(self, key: Option<String>) {
        let first = self.heard.with_value(Vec::is_empty);
        self.heard.update_value(|heard| {
            if heard.len() > MOST_HEARD {
                *heard = vec![None];
            } else if !heard.contains(&key) {
                heard.push(key);
            }
        });
        if first {
            set_timeout(move || self.look(), GATHERING);
        }
    }

    /// Looks again once a field is left, when the tap that left it has been
    /// taken.
    pub fn left_field(self) {
        if !self.heard.with_value(Vec::is_empty) {
            set_timeout(move || self.look(), AFTER_A_TAP);
        }
    }

    fn look(self) {
        if is_typing() {
            return;
        }
        let heard = self.heard.get_value();
        self.heard.set_value(Vec::new());
        for key in heard {
            let noticed = self.notice(key.as_deref());
            if noticed != Noticed::Nothing {
                // All was read anew.
                break;
            }
        }
    }

    /// Takes over what another tab has kept under a key, or anywhere.
    pub fn notice(self, key: Option<&str>) -> Noticed {
        let mut noticed = Noticed::Nothing;
        self.shelf.with_value(|shelf| {
            self.garage
                .update_untracked(|garage| noticed = garage.notice(shelf.as_ref(), key));
        });
        if noticed != Noticed::Nothing {
            self.reshape(|_, _| Ok(()));
        }
        if noticed == Noticed::Gone {
            self.trouble.set(Some(Trouble::Gone));
        }
        noticed
    }

    /// Whether something waits that a later try may keep; what calls this runs
    /// again when that changes.
    pub fn waits(self) -> bool {
        self.lasts && self.unkept.get()
    }

    /// Tries to keep what could not be kept.
    pub fn retry(self) {
        let mut result = Ok(());
        self.shelf.with_value(|shelf| {
            self.garage
                .update_untracked(|garage| result = garage.again(shelf.as_ref()));
        });
        self.say(result);
    }

    /// Every rig with all its sections, as a file.
    pub fn file_of_all(self) -> String {
        let mut text = String::new();
        self.shelf.with_value(|shelf| {
            self.garage.with_untracked(|garage| {
                let rigs = garage.rigs().map(|(id, _)| id);
                let rigs: Vec<_> = rigs.map(|id| garage.parts_of(shelf.as_ref(), id)).collect();
                text = file::write(&rigs);
            });
        });
        text
    }

    /// What a view does with all rigs as they are kept; nothing that the page
    /// shows of the current one changes by it.
    pub fn with_shelf<T>(self, act: impl FnOnce(&mut Garage, &dyn Shelf) -> T) -> T {
        let mut act = Some(act);
        let mut done = None;
        self.shelf.with_value(|shelf| {
            self.garage.update_untracked(|garage| {
                done = act.take().map(|act| act(garage, shelf.as_ref()));
            });
        });
        done.expect("done once")
    }

    /// Deletes the current rig, for the time being.
    pub fn delete(self) {
        self.reshape(|garage, shelf| {
            let deleted = garage.remove(shelf)?;
            self.removed.set(Some(Removed::Rig(deleted)));
            Ok(())
        });
    }

    /// Removes an axle of the current rig; it can be brought back until
    /// something else is changed.
    pub fn remove_axle(self, index: usize) {
        self.reshape(|garage, shelf| {
            let id = garage.current_id();
            // As it is changed, with what another tab changed meanwhile: taken
            // earlier, bringing it back would undo that.
            garage.change(shelf, |rig: &mut Rig| {
                let before = Box::new(rig.clone());
                self.removed.set(Some(Removed::Axle(id, before)));
                rig.remove_axle(index);
            })
        });
    }

    /// Takes the last removal back.
    pub fn undo(self) {
        let Some(removed) = self.removed.get_untracked() else {
            return;
        };
        self.removed.set(None);
        self.reshape(|garage, shelf| match removed {
            Removed::Rig(deleted) => garage.put_back(shelf, deleted),
            Removed::Axle(id, before) if id == garage.current_id() => {
                garage.replace(shelf, *before)
            }
            Removed::Axle(..) => Ok(()),
            Removed::Replaced(restored) => garage.take_back(shelf, restored),
        });
    }

    /// Not generic: the page acts in dozens of places.
    fn act(self, act: &mut dyn FnMut(&mut Garage, &dyn Shelf) -> Result<(), Trouble>) {
        let mut result = Ok(());
        self.forget_axle();
        self.shelf.with_value(|shelf| {
            self.garage
                .update(|garage| result = act(garage, shelf.as_ref()));
        });
        self.say(result);
    }

    /// Reads a section that was not read yet. Once for all kinds of section.
    #[inline(never)]
    fn hold(self, (part, make): (Cow<'static, str>, Make)) {
        if self.garage.with_untracked(|garage| garage.has(&part)) {
            return;
        }
        self.shelf.with_value(|shelf| {
            self.garage
                .update_untracked(|garage| garage.hold_made(shelf.as_ref(), part, make));
        });
    }

    /// The same for a section that is not the rig's own: what follows from the
    /// rig is not worked out anew.
    fn act_beside(self, act: &mut dyn FnMut(&mut Garage, &dyn Shelf) -> Result<(), Trouble>) {
        let mut result = Ok(());
        self.forget_axle();
        self.shelf.with_value(|shelf| {
            self.garage
                .update_untracked(|garage| result = act(garage, shelf.as_ref()));
        });
        self.others.update(|others| *others += 1);
        self.say(result);
    }

    /// Putting the rig back as it was would undo what is changed now.
    fn forget_axle(self) {
        if self
            .removed
            .with_untracked(|removed| matches!(removed, Some(Removed::Axle(..))))
        {
            self.removed.set(None);
        }
    }

    fn say(self, result: Result<(), Trouble>) {
        let unkept = !self.lasts || self.garage.with_untracked(Garage::is_unkept);
        if unkept != self.unkept.get_untracked() {
            self.unkept.set(unkept);
        }
        if !unkept {
            // The next trouble is another one.
            self.trouble_said.set_value(false);
        }
        let Err(trouble) = result else { return };
        // These are of the change just made, and said each time.
        let elsewhere = matches!(trouble, Trouble::Elsewhere | Trouble::Gone);
        let of_this = elsewhere || trouble == Trouble::SetAside;
        if of_this || !self.trouble_said.get_value() {
            self.trouble_said.set_value(true);
            self.trouble.set(Some(trouble));
        }
        if elsewhere {
            // The fields show what the other tab has kept.
            self.garage.notify();
            self.others.update(|others| *others += 1);
            self.shape.update(|shape| *shape += 1);
        }
    }
}

/// A section of the current rig, wherever it is kept.
pub struct Kept<S> {
    state: State,
    piece: Piece,
    section: PhantomData<fn() -> S>,
}

impl<S> Clone for Kept<S> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<S> Copy for Kept<S> {}

/// A section of the current rig; of one that can't be had, a fresh one. What
/// reads it is written out once where it is called, not once for each.
#[inline(never)]
fn section_or<'a, S: Section>(garage: &'a Garage, piece: Piece, fresh: &'a mut Option<S>) -> &'a S {
    match garage.section(piece) {
        Some(section) => section,
        None => fresh.insert(S::fresh(false)),
    }
}

impl<S: Section> Kept<S> {
    /// Reads it; what calls this runs again when it changes.
    pub fn read<T>(self, read: impl FnOnce(&S) -> T) -> T {
        if S::PART == Rig::PART {
            self.state.garage.track();
        } else {
            self.state.others.track();
        }
        self.now(read)
    }

    /// Reads it once.
    pub fn now<T>(self, read: impl FnOnce(&S) -> T) -> T {
        self.hold();
        self.state
            .garage
            .with_untracked(|garage| read(section_or(garage, self.piece, &mut None)))
    }

    /// Reads it with its rig.
    pub fn with_rig<T>(self, read: impl FnOnce(&Rig, &S) -> T) -> T {
        self.state.garage.track();
        self.state.others.track();
        self.with_rig_now(read)
    }

    /// Reads it with its rig once.
    pub fn with_rig_now<T>(self, read: impl FnOnce(&Rig, &S) -> T) -> T {
        self.hold();
        let mut fresh = None;
        self.state.garage.with_untracked(|garage| {
            let section = section_or(garage, self.piece, &mut fresh);
            read(garage.current(), section)
        })
    }

    fn hold(self) {
        self.state.hold(Garage::wanted::<S>(self.piece));
    }

    /// Changes it and keeps it.
    pub fn change(self, change: impl FnOnce(&mut S)) {
        let mut change = Some(change);
        self.change_by(&mut |section| {
            if let Some(change) = change.take() {
                change(section);
            }
        });
    }

    /// Once for each kind of section: the page changes them in dozens of places.
    #[inline(never)]
    fn change_by(self, change: &mut dyn FnMut(&mut S)) {
        let act: &mut dyn FnMut(&mut Garage, &dyn Shelf) -> Result<(), Trouble> =
            &mut |garage, shelf| garage.change_piece(shelf, self.piece, &mut *change);
        if S::PART == Rig::PART {
            self.state.act(act);
        } else {
            self.state.act_beside(act);
        }
    }

    /// Why it can't be read, where it can't.
    pub fn why_aside(self) -> Option<Unreadable> {
        self.state.others.track();
        self.hold();
        self.state
            .garage
            .with_untracked(|garage| garage.why_aside::<S>(self.piece))
    }
}

impl<S: Entered> Kept<S> {
    /// Whether a field whose name begins so holds a text that can't be used.
    pub fn is_unusable(self, prefix: &str) -> bool {
        self.read(|section| section.is_unusable(prefix))
    }

    /// Forgets unusable texts, such as those of fields that go.
    pub fn forget_drafts(self, which: impl Fn(&Unusable) -> bool) {
        if self.now(|section| section.texts().iter().any(&which)) {
            self.change(|section| section.texts_mut().retain(|text| !which(text)));
        }
    }
}

fn outcomes(rig: &Rig, surface: Surface) -> Vec<Outcome> {
    let all = rig.understood();
    let answer = |index: usize, axle: &crate::rig::Axle| {
        if rig.leaves(axle) {
            return Some(Err(Problem::LeftBehind));
        }
        let answer = match all.on(index, surface)? {
            Ok(answer) => answer,
            Err(problem) => return Some(Err(problem)),
        };
        let understood = all.get(index)?.as_ref().ok()?;
        Some(Ok((understood.clone(), answer)))
    };
    let outcome = |(index, axle): (usize, &crate::rig::Axle)| {
        let usable = rig.unusable_of(index).is_none();
        Outcome {
            name: words::axle(axle),
            tyres: axle.group().tyres(),
            result: usable.then(|| answer(index, axle)).flatten(),
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

/// Whether a field for text has the keyboard.
fn is_typing() -> bool {
    let field = document()
        .active_element()
        .and_then(|element| element.dyn_into::<HtmlInputElement>().ok());
    field.is_some_and(|field| !matches!(&*field.type_(), "radio" | "checkbox" | "range"))
}

/// Goes to a view by its address.
pub fn go_to(hash: &str) {
    // A hash can't be refused: it leaves no page.
    let _ = window().location().set_hash(hash);
}
