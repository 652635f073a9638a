//! All rigs, one of them current: each kept as sections under keys of their
//! own.
//!
//! What a rig's own section does not know of, it is not written with: a key
//! `tyreside.rig.3.nuts` is read when a view asks for it and written when it
//! changes. A rig is there while its own section is; that one is written last
//! and removed first, so that a sequence of writes may be cut anywhere.

use super::merge::{self, Here};
use super::{Shelf, Trouble, envelope, file};
use crate::rig::Rig;
use crate::rig::air::{AS_ONE, Air, Leaks, PARTED, Tools};
use crate::rig::checks::{Checks, Log};
use crate::rig::copies::Copies;
use crate::rig::footprint::FootprintOf;
use crate::rig::nuts::Nuts;
use crate::rig::section::{self, Section, Unreadable};
use crate::rig::set_to::SetTo;
use crate::rig::version1;
use crate::rig::weights::Weights;
use crate::rig::weights::ticket::Tickets;
use std::any::Any;
use std::borrow::Cow;

/// Prefix of every key, since other pages may share the origin.
const RIG_KEY: &str = "tyreside.rig.";
const CURRENT_KEY: &str = "tyreside.current";

/// A rig's number on the shelf.
pub type RigId = u32;

/// The sections that this page knows, with the versions it writes.
const KNOWN: [(&str, u32); 12] = [
    (Rig::PART, Rig::VERSION),
    (Air::PART, Air::VERSION),
    (Tools::PART, Tools::VERSION),
    (Leaks::PART, Leaks::VERSION),
    (SetTo::PART, SetTo::VERSION),
    (Nuts::PART, Nuts::VERSION),
    (FootprintOf::PART, FootprintOf::VERSION),
    (Weights::PART, Weights::VERSION),
    (Tickets::PART, Tickets::VERSION),
    (Checks::PART, Checks::VERSION),
    (Log::PART, Log::VERSION),
    (Copies::PART, Copies::VERSION),
];

/// Which piece of a section that is kept in several; nothing of any other.
pub type Piece = Option<u16>;

/// The stored name of a section or of a piece of it.
fn part_of<S: Section>(piece: Piece) -> Cow<'static, str> {
    match piece {
        Some(piece) => format!("{}.{piece}", S::PART).into(),
        None => S::PART.into(),
    }
}

/// The section and the piece of a stored name.
fn piece_of(part: &str) -> (&str, Piece) {
    let named = part.split_once('.').and_then(|(section, piece)| {
        let number = piece.parse::<u16>().ok()?;
        (number.to_string() == piece).then_some((section, Some(number)))
    });
    named.unwrap_or((part, None))
}

/// A version and a body, where there is a record.
pub(crate) type Body<'a> = Option<(u32, &'a str)>;

/// A section that stands in the rig itself, since the first view reads it.
struct Beside {
    part: &'static str,
    version: u32,
    /// Takes what is kept into the rig; what is fresh where that is nothing.
    read: fn(&mut Rig, Body<'_>) -> Result<(), Unreadable>,
    body: fn(&Rig) -> Option<String>,
    same: fn(&Rig, &Rig) -> bool,
}

const BESIDE: [Beside; 2] = [
    Beside {
        part: Air::PART,
        version: Air::VERSION,
        read: |rig, kept| {
            rig.air = Air::fresh(rig.demo);
            if let Some((version, body)) = kept {
                rig.air = section::read(version, body)?;
                rig.air.follow(&rig.axles);
            }
            Ok(())
        },
        body: |rig| section::body(&rig.air.stamped(&rig.axles)),
        same: |one, other| one.air == other.air,
    },
    Beside {
        part: SetTo::PART,
        version: SetTo::VERSION,
        read: |rig, kept| {
            rig.set_to = SetTo::fresh(rig.demo);
            if let Some((version, body)) = kept {
                rig.set_to = section::read(version, body)?;
                rig.set_to.follow(&rig.axles);
            }
            Ok(())
        },
        body: |rig| section::body(&rig.set_to.stamped(&rig.axles)),
        same: |one, other| one.set_to == other.set_to,
    },
];

/// A record that could not be read. It stays where it is until its owner
/// deletes it; nothing is written over it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetAside {
    /// The rig that it is of.
    pub id: RigId,
    /// The section; nothing where it is a whole rig's, as older pages kept it.
    pub part: String,
    /// Why.
    pub why: Unreadable,
    /// The record, whole.
    pub text: String,
}

/// A deleted rig, whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Deleted {
    id: RigId,
    /// What it was called.
    pub name: String,
    parts: Vec<(String, String)>,
}

/// What is to become of the rigs here.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Plan {
    /// Rigs as they were seen when it was made: where one is otherwise by now,
    /// nothing is done.
    pub seen: Vec<Here>,
    /// Rigs with all their sections, in place of those of this number or under
    /// a new one.
    pub put: Vec<(Option<RigId>, file::Sections)>,
    /// Rigs that go.
    pub remove: Vec<RigId>,
}

/// A key, what stood there, and what does now.
type Change = (String, Option<String>, Option<String>);

/// What a plan has changed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Restored(Vec<Change>);

/// What another tab has changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Noticed {
    /// Nothing that is held here.
    Nothing,
    /// Something of the current rig, or which rigs there are.
    Changed,
    /// The current rig is gone, and another one is current.
    Gone,
}

/// A section of any type.
pub(crate) trait AnySection: Any + Send + Sync {
    fn body(&self) -> Option<String>;
    fn version(&self) -> u32;
    fn any(&self) -> &dyn Any;
    fn any_mut(&mut self) -> &mut dyn Any;
}

impl<S: Section> AnySection for S {
    fn body(&self) -> Option<String> {
        section::body(self)
    }

    fn version(&self) -> u32 {
        S::VERSION
    }

    fn any(&self) -> &dyn Any {
        self
    }

    fn any_mut(&mut self) -> &mut dyn Any {
        self
    }
}

/// Makes a section of what is kept of it, or a fresh one.
pub(crate) type Make = fn(bool, Body<'_>) -> Result<Box<dyn AnySection>, Unreadable>;

fn make<S: Section>(demo: bool, kept: Body<'_>) -> Result<Box<dyn AnySection>, Unreadable> {
    Ok(match kept {
        Some((version, body)) => Box::new(section::read::<S>(version, body)?),
        None => Box::new(S::fresh(demo)),
    })
}

/// What is known of a section's text.
#[derive(Default)]
struct Text {
    /// As it stands on the shelf, or waits to.
    seen: Option<String>,
    /// Why it can't be read.
    aside: Option<Unreadable>,
}

/// A section in use.
struct Held {
    part: Cow<'static, str>,
    value: Box<dyn AnySection>,
    text: Text,
}

/// A rig in use.
struct InUse {
    id: RigId,
    rig: Rig,
    text: Text,
    /// As the sections beside it.
    beside: [Text; BESIDE.len()],
    /// Whether those have been read.
    whole: bool,
    held: Vec<Held>,
}

/// Writes that the shelf has refused, in their order.
#[derive(Default)]
struct Waiting(Vec<Wait>);

struct Wait {
    key: String,
    /// Nothing where the key is to go.
    text: Option<String>,
    /// What stood there when it was refused.
    over: Option<String>,
}

impl Waiting {
    /// The text under a key, as it is or waits to be.
    fn get(&self, shelf: &dyn Shelf, key: &str) -> Result<Option<String>, Trouble> {
        match self.0.iter().find(|wait| wait.key == key) {
            Some(wait) => Ok(wait.text.clone()),
            None => shelf.get(key),
        }
    }

    /// Puts a text, or removes one; what is refused waits.
    fn set(&mut self, shelf: &dyn Shelf, key: &str, text: Option<String>) -> Result<(), Trouble> {
        let old = self.0.iter().position(|wait| wait.key == key);
        let old = old.map(|index| self.0.remove(index));
        let over = match old {
            Some(wait) => wait.over,
            None => shelf.get(key).unwrap_or(None),
        };
        let done = match &text {
            // What was part of it is kept first.
            Some(_) if self.waits_for_parted(key) => Err(Trouble::Full),
            Some(text) => shelf.put(key, text),
            None => shelf.remove(key),
        };
        if done.is_err() {
            self.0.push(Wait {
                key: key.to_owned(),
                text,
                over,
            });
        }
        done
    }

    /// Whether it is a section of whose former parts one waits, be it another
    /// rig's.
    fn waits_for_parted(&self, key: &str) -> bool {
        let is_part = |wait: &Wait| PARTED.iter().any(|part| wait.key.ends_with(part));
        key.ends_with(Air::PART) && self.0.iter().any(is_part)
    }

    /// Tries again what was refused. Where another tab has changed the same
    /// section since, that stands.
    fn again(&mut self, shelf: &dyn Shelf) -> Result<(), Trouble> {
        let mut result = Ok(());
        for wait in std::mem::take(&mut self.0) {
            if shelf.get(&wait.key) == Ok(wait.over.clone()) {
                result = result.and(self.set(shelf, &wait.key, wait.text));
            } else if shelf.get(&wait.key).is_ok() {
                result = Err(Trouble::Elsewhere);
            } else {
                self.0.push(wait);
            }
        }
        result
    }

    /// Writes a section, unless another tab has changed it.
    fn write(
        &mut self,
        shelf: &dyn Shelf,
        key: &str,
        known: &mut Text,
        version: u32,
        body: Option<String>,
    ) -> Result<(), Trouble> {
        if known.aside.is_some() {
            return Err(Trouble::SetAside);
        }
        let text = envelope::write(version, &body.ok_or(Trouble::Failed)?);
        if known.seen.as_ref() == Some(&text) && !self.0.iter().any(|wait| wait.key == key) {
            return Ok(());
        }
        if !self.is_seen(shelf, key, known) {
            return Err(Trouble::Elsewhere);
        }
        known.seen = Some(text.clone());
        self.set(shelf, key, Some(text))
    }

    /// Whether a section stands as it was seen. A shelf that can't be read
    /// can't be written either, and says so then.
    fn is_seen(&self, shelf: &dyn Shelf, key: &str, known: &Text) -> bool {
        match self.get(shelf, key) {
            Ok(text) => text == known.seen,
            Err(_) => true,
        }
    }
}

/// All rigs, one of them current.
pub struct Garage {
    /// By number. A handful, so a list does.
    rigs: Vec<InUse>,
    current: RigId,
    set_aside: Vec<SetAside>,
    next: RigId,
    waiting: Waiting,
    /// Whether what another tab had changed was taken over with a change made
    /// here, and not shown yet.
    caught_up: bool,
}

impl Garage {
    /// What is on the shelf; the demo rig where that is nothing.
    ///
    /// Trouble with the shelf gives a garage that works and is not kept.
    pub fn open(shelf: &dyn Shelf) -> (Self, Option<Trouble>) {
        Self::open_with(shelf, Waiting::default())
    }

    fn open_with(shelf: &dyn Shelf, waiting: Waiting) -> (Self, Option<Trouble>) {
        let mut garage = Self {
            rigs: Vec::new(),
            current: 0,
            set_aside: Vec::new(),
            next: 1,
            waiting,
            caught_up: false,
        };
        let trouble = garage.read_all(shelf).err();
        if garage.rigs.is_empty() {
            garage.number(Rig::demo());
        }
        if !garage.holds(garage.current) {
            garage.current = garage.first();
        }
        garage.complete(shelf);
        (garage, trouble)
    }

    fn read_all(&mut self, shelf: &dyn Shelf) -> Result<(), Trouble> {
        let mut places: Vec<(RigId, String)> = Vec::new();
        let waiting = self.waiting.0.iter().map(|wait| wait.key.clone());
        for key in shelf.keys()?.into_iter().chain(waiting) {
            if let Some((id, part)) = place(&key) {
                let of = (id, part.to_owned());
                if !places.contains(&of) {
                    places.push(of);
                }
                self.next = self.next.max(id + 1);
            }
        }
        for (id, part) in &places {
            if part.is_empty() {
                self.take_over(shelf, *id)?;
            } else if part == Rig::PART {
                self.read_rig(shelf, *id)?;
            }
        }
        // A part of a rig that is not there: it was being deleted or copied
        // when that was cut, and is its owner's to keep or delete.
        let known: Vec<RigId> = self.rigs.iter().map(|of| of.id).collect();
        let aside = self.set_aside.iter().map(|record| record.id);
        let known: Vec<RigId> = known.into_iter().chain(aside).collect();
        for (id, part) in places {
            if !known.contains(&id)
                && let Some(text) = self.waiting.get(shelf, &key(id, &part))?
            {
                self.set_aside.push(SetAside {
                    id,
                    part,
                    why: Unreadable::Left,
                    text,
                });
            }
        }
        if let Some(id) = shelf.get(CURRENT_KEY)?.and_then(|id| id.parse().ok()) {
            self.current = id;
        }
        Ok(())
    }

    fn read_rig(&mut self, shelf: &dyn Shelf, id: RigId) -> Result<(), Trouble> {
        if self.holds(id) {
            return Ok(());
        }
        let Some(text) = self.waiting.get(shelf, &key(id, Rig::PART))? else {
            return Ok(());
        };
        let read = envelope::read(&text).and_then(|(version, body)| section::read(version, body));
        match read {
            Ok(rig) => {
                self.insert(id, rig, Some(text));
                self.take_apart(shelf, id);
            }
            Err(why) => self.set_aside.push(SetAside {
                id,
                part: Rig::PART.to_owned(),
                why,
                text,
            }),
        }
        Ok(())
    }

    /// Takes a rig over from a page that kept it as one record: each section
    /// by itself, the rig's own last, and the old record goes. Cut anywhere,
    /// it begins anew.
    fn take_over(&mut self, shelf: &dyn Shelf, id: RigId) -> Result<(), Trouble> {
        let old = key(id, "");
        let Some(text) = self.waiting.get(shelf, &old)? else {
            return Ok(());
        };
        let mut aside = |why, text| {
            self.set_aside.push(SetAside {
                id,
                part: String::new(),
                why,
                text,
            });
        };
        let parts = match version1::split(&text) {
            Ok(parts) => parts,
            Err(why) => {
                aside(why, text);
                return Ok(());
            }
        };
        let own = parts.first().map_or("", |(_, body)| body.as_str());
        if let Err(why) = section::read::<Rig>(1, own) {
            aside(why, text);
            return Ok(());
        }
        let taken = |part: &str| if part.is_empty() { Rig::PART } else { part }.to_owned();
        let parts: Vec<(String, String)> = parts
            .iter()
            .map(|(part, body)| (key(id, &taken(part)), envelope::write(1, body)))
            .collect();
        if let Some(there) = self.waiting.get(shelf, &key(id, Rig::PART))? {
            // Taken over before. The same record stands here where the old one
            // was only not removed yet.
            if parts.iter().any(|(_, text)| *text == there) {
                // Not removed, it is found and removed the next time.
                let _ = self.waiting.set(shelf, &old, None);
            } else {
                aside(Unreadable::Older, text);
            }
            return Ok(());
        }
        let mut result = Ok(());
        for (key, text) in parts.into_iter().rev() {
            result = result.and(self.waiting.set(shelf, &key, Some(text)));
        }
        if result.is_ok() {
            result = self.waiting.set(shelf, &old, None);
        }
        self.read_rig(shelf, id)?;
        result
    }

    /// Takes apart what older pages kept as one section: those that were part
    /// of it first, as copies of it that each reads its own from, and itself
    /// last. Cut anywhere, it begins anew. What is refused waits, and is tried
    /// again.
    fn take_apart(&mut self, shelf: &dyn Shelf, id: RigId) {
        let own = key(id, Air::PART);
        let Some(text) = self.waiting.get(shelf, &own).unwrap_or_default() else {
            return;
        };
        let Some(new) = apart(&text) else {
            return;
        };
        let mut result = Ok(());
        for part in PARTED {
            let part = key(id, part);
            // One of a page as new as this is not written over.
            let there = self.waiting.get(shelf, &part).unwrap_or_default();
            if there.is_none_or(|there| envelope::is_up_to(&there, AS_ONE) && there != text) {
                result = result.and(self.waiting.set(shelf, &part, Some(text.clone())));
            }
        }
        if result.is_ok() {
            let _ = self.waiting.set(shelf, &own, Some(new));
        }
    }

    /// Reads the sections beside the current rig.
    fn complete(&mut self, shelf: &dyn Shelf) {
        let Self {
            rigs,
            waiting,
            current,
            ..
        } = self;
        let Some(of) = rigs.iter_mut().find(|of| of.id == *current) else {
            return;
        };
        if of.whole {
            return;
        }
        of.whole = true;
        for (beside, text) in BESIDE.iter().zip(&mut of.beside) {
            let seen = waiting
                .get(shelf, &key(of.id, beside.part))
                .unwrap_or_default();
            let kept = seen.as_deref().map(envelope::read).transpose();
            let read = kept.and_then(|kept| (beside.read)(&mut of.rig, kept));
            *text = Text {
                aside: read.err(),
                seen,
            };
        }
    }

    /// Every rig with its number, oldest first.
    pub fn rigs(&self) -> impl Iterator<Item = (RigId, &Rig)> {
        self.rigs.iter().map(|of| (of.id, &of.rig))
    }

    /// The number of the current rig.
    pub fn current_id(&self) -> RigId {
        self.current
    }

    /// The current rig.
    pub fn current(&self) -> &Rig {
        &self.in_use().rig
    }

    fn in_use(&self) -> &InUse {
        // `open` and `remove` leave at least one rig, and `current` on one.
        let current = self.rigs.iter().find(|of| of.id == self.current);
        current.unwrap_or(&self.rigs[0])
    }

    /// Records that could not be read: rigs, parts left over, and sections of
    /// the current rig.
    pub fn set_aside(&self, shelf: &dyn Shelf) -> Vec<SetAside> {
        let mut all = self.set_aside.clone();
        let of = self.in_use();
        for name in shelf.keys().unwrap_or_default() {
            let Some((id, part)) = place(&name) else {
                continue;
            };
            if id != of.id || part == Rig::PART || part.is_empty() {
                continue;
            }
            let Ok(Some(text)) = shelf.get(&name) else {
                continue;
            };
            if let Some(why) = of.why_aside(part, &text) {
                all.push(SetAside {
                    id,
                    part: part.to_owned(),
                    why,
                    text,
                });
            }
        }
        all
    }

    /// Why a section of the current rig that was asked for can't be read.
    pub fn why_aside<S: Section>(&self, piece: Piece) -> Option<Unreadable> {
        let (of, part) = (self.in_use(), part_of::<S>(piece));
        let held = of.held.iter().find(|held| held.part == part);
        held.and_then(|held| held.text.aside)
    }

    /// Reads a section of the current rig, if it was not read yet.
    pub fn hold<S: Section>(&mut self, shelf: &dyn Shelf, piece: Piece) {
        let (part, make) = Self::wanted::<S>(piece);
        self.hold_made(shelf, part, make);
    }

    /// What a section of this type is read by.
    pub(crate) fn wanted<S: Section>(piece: Piece) -> (Cow<'static, str>, Make) {
        (part_of::<S>(piece), make::<S>)
    }

    /// Whether a section of the current rig was read; its own always is.
    pub(crate) fn has(&self, part: &str) -> bool {
        self.any(part).is_some()
    }

    #[inline(never)]
    pub(crate) fn hold_made(&mut self, shelf: &dyn Shelf, part: Cow<'static, str>, make: Make) {
        if self.has(&part) {
            return;
        }
        let current = self.in_use().id;
        let Self { rigs, waiting, .. } = self;
        let Some(of) = rigs.iter_mut().find(|of| of.id == current) else {
            return;
        };
        let seen = waiting.get(shelf, &key(of.id, &part)).unwrap_or_default();
        let kept = seen.as_deref().map(envelope::read).transpose();
        let made = kept.and_then(|kept| make(of.rig.demo, kept));
        let (value, aside) = match made {
            Ok(value) => (value, None),
            Err(why) => match make(of.rig.demo, None) {
                Ok(value) => (value, Some(why)),
                Err(_) => return,
            },
        };
        of.held.push(Held {
            part,
            value,
            text: Text { seen, aside },
        });
    }

    /// A section of the current rig, once it is held; its own always is.
    pub fn section<S: Section>(&self, piece: Piece) -> Option<&S> {
        self.any(&part_of::<S>(piece))?.downcast_ref()
    }

    /// The pieces that the current rig has of a section, in rising order.
    pub fn pieces(&self, shelf: &dyn Shelf, part: &str) -> Vec<u16> {
        let mut pieces: Vec<u16> = Vec::new();
        for (name, _) in self.parts(shelf) {
            if let (of, Some(piece)) = piece_of(&name)
                && of == part
            {
                let place = pieces.iter().filter(|other| **other < piece).count();
                pieces.insert(place, piece);
            }
        }
        pieces
    }

    #[inline(never)]
    fn any(&self, part: &str) -> Option<&dyn Any> {
        let of = self.in_use();
        if part == Rig::PART {
            return Some(&of.rig);
        }
        let held = of.held.iter().find(|held| held.part == part)?;
        Some(held.value.any())
    }

    /// Changes a section of the current rig and keeps it.
    ///
    /// Where another tab has changed the rig's own section meanwhile, and its
    /// axles are the same, this change is made on top of that one: `change` is
    /// of single entries.
    ///
    /// # Errors
    /// [`Trouble`] where it was not kept. It is changed all the same, but not
    /// where another tab has changed it, or where it can't be read.
    pub fn change<S: Section>(
        &mut self,
        shelf: &dyn Shelf,
        change: impl FnOnce(&mut S),
    ) -> Result<(), Trouble> {
        self.change_piece(shelf, None, change)
    }

    /// The same of one piece of a section.
    ///
    /// # Errors
    /// As [`Self::change`].
    pub fn change_piece<S: Section>(
        &mut self,
        shelf: &dyn Shelf,
        piece: Piece,
        change: impl FnOnce(&mut S),
    ) -> Result<(), Trouble> {
        self.hold::<S>(shelf, piece);
        if S::PART == Rig::PART {
            self.catch_up(shelf);
        }
        self.change_seen(shelf, piece, change)
    }

    /// Puts another rig in the place of the current one, with all that stands
    /// beside it.
    ///
    /// # Errors
    /// As [`Self::change`]; nothing that another tab has changed is replaced.
    pub fn replace(&mut self, shelf: &dyn Shelf, by: Rig) -> Result<(), Trouble> {
        self.change_seen(shelf, None, |rig: &mut Rig| *rig = by)
    }

    fn change_seen<S: Section>(
        &mut self,
        shelf: &dyn Shelf,
        piece: Piece,
        change: impl FnOnce(&mut S),
    ) -> Result<(), Trouble> {
        let mut change = Some(change);
        self.change_any(shelf, &part_of::<S>(piece), &mut |section| {
            if let (Some(section), Some(change)) = (section.downcast_mut(), change.take()) {
                change(section);
            }
        })
    }

    #[inline(never)]
    fn change_any(
        &mut self,
        shelf: &dyn Shelf,
        part: &str,
        change: &mut dyn FnMut(&mut dyn Any),
    ) -> Result<(), Trouble> {
        let again = self.again(shelf);
        let before = self.kept_as();
        let current = self.in_use().id;
        let Self { rigs, waiting, .. } = self;
        let Some(of) = rigs.iter_mut().find(|of| of.id == current) else {
            return Ok(());
        };
        let result = if part == Rig::PART {
            of.change(shelf, waiting, change)
        } else {
            of.change_held(shelf, waiting, part, change)
        };
        if result == Err(Trouble::Elsewhere) {
            self.reopen(shelf);
            if before.is_some() && self.kept_as() != before {
                return Err(Trouble::Gone);
            }
        }
        result.and(again)
    }

    /// Takes over what another tab has changed of the current rig's own
    /// section, where its axles are the same as here.
    fn catch_up(&mut self, shelf: &dyn Shelf) {
        let current = self.in_use().id;
        let Self { rigs, waiting, .. } = self;
        if let Some(of) = rigs.iter_mut().find(|of| of.id == current) {
            self.caught_up |= of.catch_up(shelf, waiting);
        }
    }

    /// Tries again what could not be kept before.
    ///
    /// # Errors
    /// [`Trouble`] where it still can't be, or where another tab's change
    /// stands in its place.
    pub fn again(&mut self, shelf: &dyn Shelf) -> Result<(), Trouble> {
        let result = self.waiting.again(shelf);
        if result == Err(Trouble::Elsewhere) {
            self.reopen(shelf);
        }
        result
    }

    /// Whether anything that was changed waits to be kept.
    pub fn is_unkept(&self) -> bool {
        !self.waiting.0.is_empty()
    }

    /// Makes a rig current.
    ///
    /// # Errors
    /// [`Trouble`] where the choice was not kept.
    pub fn choose(&mut self, shelf: &dyn Shelf, id: RigId) -> Result<(), Trouble> {
        if !self.holds(id) {
            return Ok(());
        }
        self.current = id;
        self.complete(shelf);
        shelf.put(CURRENT_KEY, &id.to_string())
    }

    /// Adds a rig, makes it current and keeps it.
    ///
    /// # Errors
    /// [`Trouble`] where it was not kept; it is there all the same.
    pub fn add(&mut self, shelf: &dyn Shelf, rig: Rig) -> Result<(), Trouble> {
        self.take_note_of(shelf);
        let id = self.number(rig);
        self.keep_as_current(shelf, id)
    }

    /// Adds a copy of the current rig, whole, after a change, and makes it
    /// current.
    ///
    /// # Errors
    /// [`Trouble`] where it was not kept; what could be is there.
    pub fn copy(
        &mut self,
        shelf: &dyn Shelf,
        change: impl FnOnce(&mut Rig),
    ) -> Result<(), Trouble> {
        let mut rig = self.current().clone();
        change(&mut rig);
        let parts = self.parts(shelf);
        self.take_note_of(shelf);
        let id = self.number(rig);
        let mut result = Ok(());
        for (part, text) in parts {
            // It is another rig than the one that was copied.
            if part != Rig::PART && part != Copies::PART && !part.is_empty() {
                result = result.and(self.waiting.set(shelf, &key(id, &part), Some(text)));
            }
        }
        // What stands beside is read from where it was just put.
        if let Some(of) = self.rigs.iter_mut().find(|of| of.id == id) {
            of.whole = false;
        }
        result.and(self.keep_as_current(shelf, id))
    }

    /// The texts of the current rig's sections, by their stored names, as they
    /// are or wait to be.
    pub fn parts(&self, shelf: &dyn Shelf) -> file::Sections {
        self.parts_of(shelf, self.in_use().id)
    }

    /// The same of any rig.
    pub fn parts_of(&self, shelf: &dyn Shelf, id: RigId) -> file::Sections {
        let waiting = self.waiting.0.iter().map(|wait| wait.key.clone());
        let mut parts: Vec<(String, String)> = Vec::new();
        for name in shelf.keys().unwrap_or_default().into_iter().chain(waiting) {
            let Some((_, part)) = place(&name).filter(|(of, _)| *of == id) else {
                continue;
            };
            if let Ok(Some(text)) = self.waiting.get(shelf, &name)
                && !parts.iter().any(|(of, _)| of == part)
            {
                parts.push((part.to_owned(), text));
            }
        }
        parts
    }

    /// Deletes the current rig; another becomes current, the demo only where no
    /// rig of one's own is left. Returns the deleted one for [`Self::put_back`].
    ///
    /// # Errors
    /// [`Trouble`] where it could not be removed; nothing is deleted.
    pub fn remove(&mut self, shelf: &dyn Shelf) -> Result<Deleted, Trouble> {
        let id = self.in_use().id;
        let mut parts = self.parts(shelf);
        if !parts.iter().any(|(part, _)| part == Rig::PART) {
            let body = section::body(self.current()).ok_or(Trouble::Failed)?;
            parts.push((Rig::PART.to_owned(), envelope::write(Rig::VERSION, &body)));
        }
        shelf.remove(&key(id, Rig::PART))?;
        self.waiting
            .0
            .retain(|wait| place(&wait.key).is_none_or(|(of, _)| of != id));
        for (part, _) in &parts {
            // What stays behind is found as such, and is its owner's to delete.
            let _ = shelf.remove(&key(id, part));
        }
        let name = self.current().name.clone();
        self.rigs.retain(|of| of.id != id);
        if self.rigs.is_empty() {
            self.number(Rig::demo());
        }
        self.current = self.nearest_own(id).unwrap_or_else(|| self.first());
        // The choice of a remaining rig is a convenience: not keeping it
        // loses nothing.
        let _ = self.choose(shelf, self.current);
        Ok(Deleted { id, name, parts })
    }

    /// Puts a deleted rig back, under its number where that is still free, and
    /// makes it current.
    ///
    /// # Errors
    /// [`Trouble`] where it was not kept; it is there all the same.
    pub fn put_back(&mut self, shelf: &dyn Shelf, deleted: Deleted) -> Result<(), Trouble> {
        // Another tab may have used the number meanwhile.
        let taken = |name: &String| place(name).is_some_and(|(of, _)| of == deleted.id);
        let taken = self.holds(deleted.id) || shelf.keys()?.iter().any(taken);
        let id = if taken {
            self.take_note_of(shelf);
            self.next
        } else {
            deleted.id
        };
        self.put(shelf, id, deleted.parts)
    }

    /// Puts sections under a number that is free, the rig's own last, and makes
    /// the rig current.
    fn put(&mut self, shelf: &dyn Shelf, id: RigId, parts: file::Sections) -> Result<(), Trouble> {
        self.next = self.next.max(id.saturating_add(1));
        let mut result = Ok(());
        let own = |part: &str| part == Rig::PART;
        let (last, first): (Vec<_>, Vec<_>) = parts.into_iter().partition(|(part, _)| own(part));
        for (part, text) in first.into_iter().chain(last) {
            result = result.and(self.waiting.set(shelf, &key(id, &part), Some(text)));
        }
        self.read_rig(shelf, id)?;
        result.and(self.choose(shelf, id))
    }

    /// Every rig that can be read, with all its sections.
    pub fn all(&self, shelf: &dyn Shelf) -> Vec<Here> {
        let rigs = self.rigs.iter().map(|of| {
            // A shelf has its keys in any order, another one each time. A sort
            // of the library's would cost more bytes than all of this.
            let mut sections = file::Sections::new();
            for part in self.parts_of(shelf, of.id) {
                let at = sections.partition_point(|of| of.0 < part.0);
                sections.insert(at, part);
            }
            Here {
                id: of.id,
                name: of.rig.name.clone(),
                sections,
            }
        });
        rigs.collect()
    }

    /// The sections of rigs for a copy that leaves, which is noted with each:
    /// a rig without an identity takes one of `lots`.
    pub fn copy_out(
        &mut self,
        shelf: &dyn Shelf,
        which: &dyn Fn(RigId) -> bool,
        lots: &mut dyn FnMut() -> String,
        day: f64,
    ) -> Vec<file::Sections> {
        let all = self.all(shelf).into_iter();
        let all = all.filter(|of| which(of.id)).map(|of| {
            let now = merge::sums(&of.sections);
            let mut copies = merge::copies(&of.sections);
            if copies.rig.is_empty() {
                copies.rig = lots();
            }
            copies.see(&now);
            copies.copied(&now, day);
            self.note_copies(shelf, &of, &copies)
        });
        all.collect()
    }

    /// Notes that the word to make a copy of the current rig was waved away.
    pub fn wave_away(&mut self, shelf: &dyn Shelf, day: f64) {
        let current = self.in_use().id;
        if let Some(of) = self.all(shelf).into_iter().find(|of| of.id == current) {
            let mut copies = merge::copies(&of.sections);
            copies.mark(&merge::sums(&of.sections), day);
            self.note_copies(shelf, &of, &copies);
        }
    }

    /// Keeps what is known of a rig's copies, if it is on the shelf and there
    /// is room; a copy is one all the same. Gives its sections with that.
    fn note_copies(&mut self, shelf: &dyn Shelf, of: &Here, copies: &Copies) -> file::Sections {
        let sections = merge::with_copies(of.sections.clone(), copies);
        let noted = |(part, _): &&(String, String)| part == Copies::PART;
        let is_kept = of.sections.iter().any(|(part, _)| part == Rig::PART);
        if let Some((part, text)) = sections.iter().find(noted).filter(|_| is_kept) {
            let _ = shelf.put(&key(of.id, part), text);
        }
        sections
    }

    /// Carries a plan out, whole or not at all: where the shelf refuses a
    /// write, those before it are taken back. What it has changed can be taken
    /// back by [`Self::take_back`].
    ///
    /// # Errors
    /// [`Trouble`], and nothing has changed.
    pub fn restore(
        &mut self,
        shelf: &dyn Shelf,
        plan: &Plan,
        lots: &mut dyn FnMut() -> String,
    ) -> Result<Restored, Trouble> {
        // What waits is not on the shelf, and could not be brought back.
        self.again(shelf)?;
        if self.is_unkept() {
            return Err(Trouble::Full);
        }
        let here = self.all(shelf);
        if plan.seen.iter().any(|seen| !here.contains(seen)) {
            self.reopen(shelf);
            return Err(Trouble::Elsewhere);
        }
        self.take_note_of(shelf);
        let mut next = self.next;
        let mut steps: Vec<(String, Option<String>)> = Vec::new();
        let mut identities: Vec<String> = here
            .iter()
            .filter(|of| !plan.remove.contains(&of.id))
            .map(|of| merge::copies(&of.sections).rig)
            .collect();
        for (id, sections) in &plan.put {
            let mut sections = sections.clone();
            let id = id.unwrap_or_else(|| {
                // Beside its other copy it is another rig.
                let mut copies = merge::copies(&sections);
                if !copies.rig.is_empty() && identities.contains(&copies.rig) {
                    copies.rig = lots();
                    sections = merge::with_copies(std::mem::take(&mut sections), &copies);
                }
                identities.push(copies.rig);
                next = next.saturating_add(1);
                next - 1
            });
            let own = |part: &str| part == Rig::PART;
            let (last, first): (Vec<_>, Vec<_>) =
                sections.into_iter().partition(|(part, _)| own(part));
            let all = first.into_iter().chain(last);
            steps.extend(all.map(|(part, text)| {
                // What is put is what stands then, so that it can be taken back.
                let new = (part == Air::PART).then(|| apart(&text)).flatten();
                (key(id, &part), Some(new.unwrap_or(text)))
            }));
        }
        for id in &plan.remove {
            let parts = self.parts_of(shelf, *id).into_iter();
            let (first, last): (Vec<_>, Vec<_>) = parts.partition(|(part, _)| part == Rig::PART);
            let all = first.into_iter().chain(last);
            steps.extend(all.map(|(part, _)| (key(id.to_owned(), &part), None)));
        }
        let first = plan.put.first();
        let current = first.map(|(id, _)| id.unwrap_or(self.next));
        if let Some(current) = current {
            steps.push((CURRENT_KEY.to_owned(), Some(current.to_string())));
        }
        let done = write_all(shelf, steps)?;
        self.reopen(shelf);
        if let Some(current) = current.filter(|id| self.holds(*id)) {
            self.current = current;
            self.complete(shelf);
        }
        Ok(Restored(done))
    }

    /// Takes back what a plan has changed: every key is byte for byte as it
    /// was before.
    ///
    /// # Errors
    /// [`Trouble`], and nothing has changed: [`Trouble::Elsewhere`] where
    /// something of it was changed since.
    pub fn take_back(&mut self, shelf: &dyn Shelf, restored: Restored) -> Result<(), Trouble> {
        for (key, _, now) in &restored.0 {
            // Which rig is current may have been picked since.
            if *key != CURRENT_KEY && shelf.get(key)? != *now {
                return Err(Trouble::Elsewhere);
            }
        }
        let steps = restored.0.into_iter().rev();
        write_all(shelf, steps.map(|(key, before, _)| (key, before)).collect())?;
        let current = shelf.get(CURRENT_KEY)?.and_then(|id| id.parse().ok());
        self.reopen(shelf);
        let current = current.filter(|id| self.holds(*id));
        if let Some(current) = current {
            self.current = current;
            self.complete(shelf);
        }
        Ok(())
    }

    /// Deletes a record that was set aside, at its owner's word.
    ///
    /// # Errors
    /// [`Trouble`] where it could not be removed.
    pub fn discard(&mut self, shelf: &dyn Shelf, id: RigId, part: &str) -> Result<(), Trouble> {
        shelf.remove(&key(id, part))?;
        self.reopen(shelf);
        Ok(())
    }

    /// Counts on from what other tabs have added meanwhile.
    fn take_note_of(&mut self, shelf: &dyn Shelf) {
        let taken = shelf.keys().unwrap_or_default();
        let beyond = taken.iter().filter_map(|key| place(key)).map(|(id, _)| id);
        self.next = self.next.max(beyond.max().map_or(0, |id| id + 1));
    }

    /// Takes over what another tab has put under a key, or anywhere; what
    /// waits here to be kept stays.
    pub fn notice(&mut self, shelf: &dyn Shelf, changed: Option<&str>) -> Noticed {
        if self.caught_up {
            self.caught_up = false;
        } else if let Some(name) = changed {
            let Some((id, part)) = place(name) else {
                return Noticed::Nothing;
            };
            let of = self.rigs.iter().find(|of| of.id == id);
            let seen = of.and_then(|of| of.seen(part));
            let there = self.waiting.get(shelf, name);
            match (seen, there) {
                (Some(seen), Ok(there)) if *seen == there => return Noticed::Nothing,
                // A section that was not asked for is read when it is.
                (None, _) if of.is_some() && !part.is_empty() => return Noticed::Nothing,
                _ => {}
            }
        }
        let before = self.kept_as();
        self.reopen(shelf);
        if before.is_none() || self.kept_as() == before {
            Noticed::Changed
        } else {
            Noticed::Gone
        }
    }

    /// The current rig's number, where it is on the shelf.
    fn kept_as(&self) -> Option<RigId> {
        let of = self.in_use();
        of.text.seen.as_ref().map(|_| of.id)
    }

    /// Reads everything anew, and stays with the current rig.
    fn reopen(&mut self, shelf: &dyn Shelf) {
        let current = self.current;
        let unkept: Vec<RigId> = self.rigs.iter().map(|of| of.id).collect();
        let (mut garage, trouble) = Self::open_with(shelf, std::mem::take(&mut self.waiting));
        if trouble.is_some() && unkept.contains(&current) && !garage.holds(current) {
            // A shelf that can't be read takes nothing away.
            self.waiting = garage.waiting;
            return;
        }
        if garage.holds(current) {
            garage.current = current;
            garage.complete(shelf);
        }
        *self = garage;
    }

    fn holds(&self, id: RigId) -> bool {
        self.rigs.iter().any(|of| of.id == id)
    }

    fn first(&self) -> RigId {
        self.rigs.first().map_or(self.current, |of| of.id)
    }

    /// The rig of one's own whose number is next to a deleted one's.
    fn nearest_own(&self, deleted: RigId) -> Option<RigId> {
        let own = self.rigs.iter().filter(|of| !of.rig.demo);
        own.map(|of| of.id).min_by_key(|id| id.abs_diff(deleted))
    }

    /// Puts a rig in the place of its number.
    fn insert(&mut self, id: RigId, rig: Rig, seen: Option<String>) {
        let place = self.rigs.partition_point(|of| of.id < id);
        self.rigs.insert(
            place,
            InUse {
                id,
                whole: seen.is_none(),
                text: Text { seen, aside: None },
                rig,
                beside: Default::default(),
                held: Vec::new(),
            },
        );
    }

    /// Adds a rig under a new number.
    fn number(&mut self, rig: Rig) -> RigId {
        let id = self.next;
        self.next = self.next.saturating_add(1);
        self.insert(id, rig, None);
        id
    }

    fn keep_as_current(&mut self, shelf: &dyn Shelf, id: RigId) -> Result<(), Trouble> {
        self.current = id;
        self.complete(shelf);
        let Self { rigs, waiting, .. } = self;
        if let Some(of) = rigs.iter_mut().find(|of| of.id == id) {
            of.keep(shelf, waiting)?;
        }
        self.choose(shelf, id)
    }
}

impl InUse {
    /// What was seen of a section, if it was looked at.
    fn seen(&self, part: &str) -> Option<&Option<String>> {
        if part == Rig::PART {
            return Some(&self.text.seen);
        }
        let beside = BESIDE.iter().position(|beside| beside.part == part);
        if let Some(index) = beside.filter(|_| self.whole) {
            return Some(&self.beside[index].seen);
        }
        let held = self.held.iter().find(|held| held.part == part);
        held.map(|held| &held.text.seen)
    }

    /// Why a section's text can't be read, as far as it was looked at.
    fn why_aside(&self, part: &str, text: &str) -> Option<Unreadable> {
        if let Some(index) = BESIDE.iter().position(|beside| beside.part == part) {
            return self.beside[index].aside;
        }
        if let Some(held) = self.held.iter().find(|held| held.part == part) {
            return held.text.aside;
        }
        match envelope::read(text) {
            Err(why) => Some(why),
            Ok((version, _)) => {
                let (part, _) = piece_of(part);
                let known = KNOWN.iter().find(|(of, _)| *of == part);
                let newer = known.is_none_or(|(_, known)| version > *known);
                newer.then_some(Unreadable::Newer { version })
            }
        }
    }

    /// Keeps what stands beside the rig, then the rig.
    fn keep(&mut self, shelf: &dyn Shelf, waiting: &mut Waiting) -> Result<(), Trouble> {
        let mut result = Ok(());
        let fresh = Rig::fresh(self.rig.demo);
        for (beside, text) in BESIDE.iter().zip(&mut self.beside) {
            // What is as it would be without a record needs none.
            if text.aside.is_some() || text.seen.is_none() && (beside.same)(&self.rig, &fresh) {
                continue;
            }
            let (key, body) = (key(self.id, beside.part), (beside.body)(&self.rig));
            result = result.and(waiting.write(shelf, &key, text, beside.version, body));
        }
        let (key, body) = (key(self.id, Rig::PART), section::body(&self.rig));
        let own = waiting.write(shelf, &key, &mut self.text, Rig::VERSION, body);
        result.and(own)
    }

    /// Takes over the rig's own section as it stands, where that is another
    /// one of the same axles. Whether it did.
    fn catch_up(&mut self, shelf: &dyn Shelf, waiting: &Waiting) -> bool {
        let own = key(self.id, Rig::PART);
        if waiting.is_seen(shelf, &own, &self.text) {
            return false;
        }
        let Ok(Some(text)) = waiting.get(shelf, &own) else {
            return false;
        };
        let read =
            envelope::read(&text).and_then(|(version, body)| section::read::<Rig>(version, body));
        let Ok(mut rig) = read else { return false };
        if rig.axle_ids() != self.rig.axle_ids() {
            return false;
        }
        std::mem::swap(&mut rig.air, &mut self.rig.air);
        std::mem::swap(&mut rig.set_to, &mut self.rig.set_to);
        self.rig = rig;
        self.text.seen = Some(text);
        true
    }

    /// Changes the rig or what stands beside it, and keeps what changed.
    fn change(
        &mut self,
        shelf: &dyn Shelf,
        waiting: &mut Waiting,
        change: &mut dyn FnMut(&mut dyn Any),
    ) -> Result<(), Trouble> {
        let before = self.rig.clone();
        change(&mut self.rig);
        let changed = |beside: &Beside| !(beside.same)(&before, &self.rig);
        let mut seen = waiting.is_seen(shelf, &key(self.id, Rig::PART), &self.text);
        for (beside, text) in BESIDE.iter().zip(&self.beside) {
            if changed(beside) {
                seen = seen && waiting.is_seen(shelf, &key(self.id, beside.part), text);
            }
        }
        if !seen {
            self.rig = before;
            return Err(Trouble::Elsewhere);
        }
        let mut result = Ok(());
        // The rig first: what stands beside it follows its axles when read.
        let (own, body) = (key(self.id, Rig::PART), section::body(&self.rig));
        result = result.and(waiting.write(shelf, &own, &mut self.text, Rig::VERSION, body));
        for (beside, text) in BESIDE.iter().zip(&mut self.beside) {
            if !(beside.same)(&before, &self.rig) {
                let (key, body) = (key(self.id, beside.part), (beside.body)(&self.rig));
                result = result.and(waiting.write(shelf, &key, text, beside.version, body));
            }
        }
        result
    }

    /// Changes a section in use, and keeps it.
    fn change_held(
        &mut self,
        shelf: &dyn Shelf,
        waiting: &mut Waiting,
        part: &str,
        change: &mut dyn FnMut(&mut dyn Any),
    ) -> Result<(), Trouble> {
        let Some(held) = self.held.iter_mut().find(|held| held.part == part) else {
            return Ok(());
        };
        if held.text.aside.is_some() {
            return Err(Trouble::SetAside);
        }
        let own = key(self.id, part);
        if !waiting.is_seen(shelf, &own, &held.text) {
            return Err(Trouble::Elsewhere);
        }
        change(held.value.any_mut());
        // A rig that was only shown is kept with its first section.
        let mut result = Ok(());
        if self.text.seen.is_none() {
            let (key, body) = (key(self.id, Rig::PART), section::body(&self.rig));
            result = waiting.write(shelf, &key, &mut self.text, Rig::VERSION, body);
        }
        let (version, body) = (held.value.version(), held.value.body());
        result.and(waiting.write(shelf, &own, &mut held.text, version, body))
    }
}

/// A section as it is written now that held [`PARTED`] too; none of any other,
/// or where it can't be read.
pub(super) fn apart(text: &str) -> Option<String> {
    if !envelope::is_up_to(text, AS_ONE) {
        return None;
    }
    let read = envelope::read(text).and_then(|(version, body)| section::read(version, body));
    let air: Air = read.ok()?;
    Some(envelope::write(Air::VERSION, &section::body(&air)?))
}

/// Makes all of these changes or none: gives each with what stood there
/// before, in their order.
fn write_all(
    shelf: &dyn Shelf,
    steps: Vec<(String, Option<String>)>,
) -> Result<Vec<Change>, Trouble> {
    let set = |key: &str, text: &Option<String>| match text {
        Some(text) => shelf.put(key, text),
        None => shelf.remove(key),
    };
    let mut done: Vec<Change> = Vec::new();
    for (key, text) in steps {
        let before = shelf.get(&key);
        let result = match &before {
            Ok(before) if *before == text => continue,
            Ok(_) => set(&key, &text),
            Err(trouble) => Err(*trouble),
        };
        match (before, result) {
            (Ok(before), Ok(())) => done.push((key, before, text)),
            (_, result) => {
                // Each step back leads to what was there before, so there is
                // room for it.
                for (key, before, _) in done.iter().rev() {
                    let _ = set(key, before);
                }
                return Err(result.err().unwrap_or(Trouble::Failed));
            }
        }
    }
    Ok(done)
}

/// The key of a rig's section; of a whole rig where the section has no name.
fn key(id: RigId, part: &str) -> String {
    let dot = if part.is_empty() { "" } else { "." };
    format!("{RIG_KEY}{id}{dot}{part}")
}

/// The rig and the section of a key. Only what [`key`] writes, and no number
/// that could not be counted on from: anything else is not this page's.
fn place(name: &str) -> Option<(RigId, &str)> {
    let rest = name.strip_prefix(RIG_KEY)?;
    let (id, part) = rest.split_once('.').unwrap_or((rest, ""));
    let id = id.parse().ok()?;
    (key(id, part) == name && id < RigId::MAX).then_some((id, part))
}

/// Whether a key is a rig's.
pub fn is_rig_key(name: &str) -> bool {
    place(name).is_some()
}
