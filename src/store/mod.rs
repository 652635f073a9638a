//! Keeping rigs: the rules over any shelf of named texts, and the shelf that
//! a browser has.

#[cfg(target_arch = "wasm32")]
pub mod browser;

use crate::rig::Rig;
use crate::rig::record::{self, Unreadable};
use std::cell::RefCell;

/// Prefix of every key, since other pages may share the origin.
const RIG_KEY: &str = "tyreside.rig.";
const CURRENT_KEY: &str = "tyreside.current";

/// Why something was not kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trouble {
    /// The browser keeps nothing for this page.
    Blocked,
    /// No room left.
    Full,
    /// It failed and did not say why.
    Failed,
}

/// Named texts that outlast the page.
pub trait Shelf {
    /// The text under `key`.
    ///
    /// # Errors
    /// [`Trouble`] where the shelf can't be read.
    fn get(&self, key: &str) -> Result<Option<String>, Trouble>;

    /// Puts `text` under `key`.
    ///
    /// # Errors
    /// [`Trouble`] where it was not kept.
    fn put(&self, key: &str, text: &str) -> Result<(), Trouble>;

    /// Removes `key`.
    ///
    /// # Errors
    /// [`Trouble`] where the shelf can't be written.
    fn remove(&self, key: &str) -> Result<(), Trouble>;

    /// Every key.
    ///
    /// # Errors
    /// [`Trouble`] where the shelf can't be read.
    fn keys(&self) -> Result<Vec<String>, Trouble>;
}

/// A shelf that lasts as long as the page: for tests, and where the browser
/// keeps nothing.
#[derive(Debug, Default)]
pub struct Memory(RefCell<Vec<(String, String)>>);

impl Shelf for Memory {
    fn get(&self, key: &str) -> Result<Option<String>, Trouble> {
        Ok(self
            .0
            .borrow()
            .iter()
            .find(|(k, _)| k == key)
            .map(|(_, text)| text.clone()))
    }

    fn put(&self, key: &str, text: &str) -> Result<(), Trouble> {
        self.remove(key)?;
        self.0.borrow_mut().push((key.to_owned(), text.to_owned()));
        Ok(())
    }

    fn remove(&self, key: &str) -> Result<(), Trouble> {
        self.0.borrow_mut().retain(|(k, _)| k != key);
        Ok(())
    }

    fn keys(&self) -> Result<Vec<String>, Trouble> {
        Ok(self.0.borrow().iter().map(|(key, _)| key.clone()).collect())
    }
}

/// A rig's number on the shelf.
pub type RigId = u32;

/// A record that could not be read. It stays where it is until its owner
/// deletes it; nothing is written over it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetAside {
    /// Where it is.
    pub id: RigId,
    /// Why.
    pub why: Unreadable,
    /// The record, whole.
    pub text: String,
}

/// All rigs, one of them current.
#[derive(Debug, Clone, PartialEq)]
pub struct Garage {
    /// By number. A handful, so a list does.
    rigs: Vec<(RigId, Rig)>,
    current: RigId,
    set_aside: Vec<SetAside>,
    next: RigId,
}

impl Garage {
    /// What is on the shelf; the demo rig where that is nothing.
    ///
    /// Trouble with the shelf gives a garage that works and is not kept.
    pub fn open(shelf: &dyn Shelf) -> (Self, Option<Trouble>) {
        let mut garage = Self {
            rigs: Vec::new(),
            current: 0,
            set_aside: Vec::new(),
            next: 1,
        };
        let trouble = garage.read_all(shelf).err();
        if garage.rigs.is_empty() {
            garage.number(Rig::demo());
        }
        if !garage.holds(garage.current) {
            garage.current = garage.first();
        }
        (garage, trouble)
    }

    fn read_all(&mut self, shelf: &dyn Shelf) -> Result<(), Trouble> {
        for key in shelf.keys()? {
            let Some(id) = rig_id(&key) else { continue };
            let Some(text) = shelf.get(&key)? else {
                continue;
            };
            self.next = self.next.max(id + 1);
            match record::read(&text) {
                Ok(rig) => self.insert(id, rig),
                Err(why) => self.set_aside.push(SetAside { id, why, text }),
            }
        }
        if let Some(id) = shelf.get(CURRENT_KEY)?.and_then(|id| id.parse().ok()) {
            self.current = id;
        }
        Ok(())
    }

    /// Every rig with its number, oldest first.
    pub fn rigs(&self) -> impl Iterator<Item = (RigId, &Rig)> {
        self.rigs.iter().map(|(id, rig)| (*id, rig))
    }

    /// The number of the current rig.
    pub fn current_id(&self) -> RigId {
        self.current
    }

    /// The current rig.
    pub fn current(&self) -> &Rig {
        // `open` and `remove` leave at least one rig, and `current` on one.
        let current = self.rigs.iter().find(|(id, _)| *id == self.current);
        &current.unwrap_or(&self.rigs[0]).1
    }

    /// Records that could not be read.
    pub fn set_aside(&self) -> &[SetAside] {
        &self.set_aside
    }

    /// Changes the current rig and keeps it.
    ///
    /// # Errors
    /// [`Trouble`] where it was not kept; it is changed all the same.
    pub fn change(
        &mut self,
        shelf: &dyn Shelf,
        change: impl FnOnce(&mut Rig),
    ) -> Result<(), Trouble> {
        if let Some((_, rig)) = self.rigs.iter_mut().find(|(id, _)| *id == self.current) {
            change(rig);
        }
        self.keep(shelf, self.current)
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
        shelf.put(CURRENT_KEY, &id.to_string())
    }

    /// Makes a rig current without keeping the choice, where there is such.
    pub fn stay_with(&mut self, id: RigId) {
        if self.holds(id) {
            self.current = id;
        }
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

    /// Deletes the current rig; another becomes current, the demo only where no
    /// rig of one's own is left. Returns the deleted one for [`Self::put_back`].
    ///
    /// # Errors
    /// [`Trouble`] where its record could not be removed; nothing is deleted.
    pub fn remove(&mut self, shelf: &dyn Shelf) -> Result<(RigId, Rig), Trouble> {
        let id = self.current;
        shelf.remove(&rig_key(id))?;
        let rig = self.current().clone();
        self.rigs.retain(|(of, _)| *of != id);
        if self.rigs.is_empty() {
            self.number(Rig::demo());
        }
        self.current = self.nearest_own(id).unwrap_or_else(|| self.first());
        // The choice of a remaining rig is a convenience: not keeping it
        // loses nothing.
        let _ = self.choose(shelf, self.current);
        Ok((id, rig))
    }

    /// Puts a deleted rig back, under its number where that is still free, and
    /// makes it current.
    ///
    /// # Errors
    /// [`Trouble`] where it was not kept; it is there all the same.
    pub fn put_back(&mut self, shelf: &dyn Shelf, id: RigId, rig: Rig) -> Result<(), Trouble> {
        // Another tab may have used the number meanwhile.
        let taken = self.holds(id) || shelf.get(&rig_key(id))?.is_some();
        let id = if taken {
            self.take_note_of(shelf);
            self.number(rig)
        } else {
            self.insert(id, rig);
            id
        };
        self.keep_as_current(shelf, id)
    }

    /// Deletes a record that was set aside, at its owner's word.
    ///
    /// # Errors
    /// [`Trouble`] where it could not be removed.
    pub fn discard(&mut self, shelf: &dyn Shelf, id: RigId) -> Result<(), Trouble> {
        shelf.remove(&rig_key(id))?;
        self.set_aside.retain(|record| record.id != id);
        Ok(())
    }

    /// Counts on from what other tabs have added meanwhile.
    fn take_note_of(&mut self, shelf: &dyn Shelf) {
        let taken = shelf.keys().unwrap_or_default();
        let beyond = taken.iter().filter_map(|key| rig_id(key)).max();
        self.next = self.next.max(beyond.map_or(0, |id| id + 1));
    }

    /// Whether the other holds the same records.
    pub fn same_records(&self, other: &Self) -> bool {
        let records = |of: &Self| -> Vec<_> {
            of.rigs
                .iter()
                .map(|(id, rig)| (*id, record::write(rig)))
                .collect()
        };
        self.set_aside == other.set_aside && records(self) == records(other)
    }

    fn holds(&self, id: RigId) -> bool {
        self.rigs.iter().any(|(of, _)| *of == id)
    }

    fn first(&self) -> RigId {
        self.rigs.first().map_or(self.current, |(id, _)| *id)
    }

    /// The rig of one's own whose number is next to a deleted one's.
    fn nearest_own(&self, deleted: RigId) -> Option<RigId> {
        self.rigs
            .iter()
            .filter(|(_, rig)| !rig.demo)
            .map(|(id, _)| *id)
            .min_by_key(|id| id.abs_diff(deleted))
    }

    /// Puts a rig in the place of its number.
    fn insert(&mut self, id: RigId, rig: Rig) {
        let place = self.rigs.partition_point(|(of, _)| *of < id);
        self.rigs.insert(place, (id, rig));
    }

    /// Adds a rig under a new number.
    fn number(&mut self, rig: Rig) -> RigId {
        let id = self.next;
        self.next = self.next.saturating_add(1);
        self.insert(id, rig);
        id
    }

    fn keep_as_current(&mut self, shelf: &dyn Shelf, id: RigId) -> Result<(), Trouble> {
        self.current = id;
        self.keep(shelf, id)?;
        self.choose(shelf, id)
    }

    fn keep(&self, shelf: &dyn Shelf, id: RigId) -> Result<(), Trouble> {
        match self.rigs.iter().find(|(of, _)| *of == id) {
            Some((_, rig)) => {
                let text = record::write(rig).ok_or(Trouble::Failed)?;
                shelf.put(&rig_key(id), &text)
            }
            None => Ok(()),
        }
    }
}

fn rig_key(id: RigId) -> String {
    format!("{RIG_KEY}{id}")
}

/// The number in a key. Only what [`rig_key`] writes, and no number that could
/// not be counted on from: anything else is not this page's.
fn rig_id(key: &str) -> Option<RigId> {
    let id = key.strip_prefix(RIG_KEY)?.parse().ok()?;
    (rig_key(id) == key && id < RigId::MAX).then_some(id)
}

/// Whether a key is a rig's.
pub fn is_rig_key(key: &str) -> bool {
    rig_id(key).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::PressureUnit;

    /// A shelf on which nothing can be put.
    struct Broken(Trouble);

    impl Shelf for Broken {
        fn get(&self, _: &str) -> Result<Option<String>, Trouble> {
            Err(self.0)
        }
        fn put(&self, _: &str, _: &str) -> Result<(), Trouble> {
            Err(self.0)
        }
        fn remove(&self, _: &str) -> Result<(), Trouble> {
            Err(self.0)
        }
        fn keys(&self) -> Result<Vec<String>, Trouble> {
            Err(self.0)
        }
    }

    fn own(name: &str) -> Rig {
        Rig::empty(name, PressureUnit::Psi)
    }

    fn names(garage: &Garage) -> Vec<&str> {
        garage.rigs().map(|(_, rig)| rig.name.as_str()).collect()
    }

    #[test]
    fn a_first_visit_shows_the_demo_and_keeps_nothing() {
        let shelf = Memory::default();
        let (garage, trouble) = Garage::open(&shelf);
        assert!(garage.current().demo);
        assert_eq!((trouble, shelf.keys().unwrap().len()), (None, 0));
    }

    #[test]
    fn every_change_is_there_when_the_page_opens_again() {
        let shelf = Memory::default();
        let (mut garage, _) = Garage::open(&shelf);
        garage.add(&shelf, own("First")).unwrap();
        garage.add(&shelf, own("Second")).unwrap();
        garage.change(&shelf, |rig| rig.floor_kpa = 120.0).unwrap();
        let (again, _) = Garage::open(&shelf);
        assert_eq!(names(&again), ["First", "Second"]);
        assert_eq!(again.current(), garage.current());
        assert_eq!(again.current().floor_kpa, 120.0);
    }

    /// Two tabs each counted on from what they had read at the start, and the
    /// second rig was written over the first.
    #[test]
    fn rigs_added_in_two_tabs_are_both_kept() {
        let shelf = Memory::default();
        let (mut one, _) = Garage::open(&shelf);
        let (mut other, _) = Garage::open(&shelf);
        one.add(&shelf, own("One")).unwrap();
        other.add(&shelf, own("Other")).unwrap();
        assert_eq!(names(&Garage::open(&shelf).0), ["One", "Other"]);
    }

    /// The number was free in this tab's view, and the other tab's rig was lost.
    #[test]
    fn undoing_a_deletion_leaves_what_another_tab_added() {
        let shelf = Memory::default();
        let (mut one, _) = Garage::open(&shelf);
        one.add(&shelf, own("One")).unwrap();
        let (id, rig) = one.remove(&shelf).unwrap();
        let (mut other, _) = Garage::open(&shelf);
        other.add(&shelf, own("Other")).unwrap();
        one.put_back(&shelf, id, rig).unwrap();
        let (all, _) = Garage::open(&shelf);
        assert!(names(&all).contains(&"One") && names(&all).contains(&"Other"));
    }

    /// "05" was read as 5, and deleting that broken record deleted rig 5.
    #[test]
    fn only_keys_as_written_here_are_rigs() {
        let shelf = Memory::default();
        for key in [
            "tyreside.rig.05",
            "tyreside.rig.+5",
            "tyreside.rig.4294967295",
        ] {
            shelf.put(key, "broken").unwrap();
        }
        let (mut garage, _) = Garage::open(&shelf);
        assert!(garage.set_aside().is_empty());
        garage.add(&shelf, own("New")).unwrap();
        assert_eq!(
            shelf.get("tyreside.rig.05").unwrap().as_deref(),
            Some("broken")
        );
        assert_eq!(names(&Garage::open(&shelf).0), ["New"]);
    }

    #[test]
    fn a_deleted_rig_comes_back_whole() {
        let shelf = Memory::default();
        let (mut garage, _) = Garage::open(&shelf);
        garage.add(&shelf, own("First")).unwrap();
        garage.add(&shelf, own("Second")).unwrap();
        let (id, rig) = garage.remove(&shelf).unwrap();
        assert_eq!(rig.name, "Second");
        assert_eq!(names(&Garage::open(&shelf).0), ["First"]);
        garage.put_back(&shelf, id, rig).unwrap();
        assert_eq!(names(&Garage::open(&shelf).0), ["First", "Second"]);
        assert_eq!(garage.current().name, "Second");
    }

    /// The first visit's demo stands first in the list, and became current:
    /// its figures took the place of one's own.
    #[test]
    fn deleting_one_of_two_own_rigs_leaves_the_other_current() {
        let shelf = Memory::default();
        let (mut garage, _) = Garage::open(&shelf);
        for name in ["First", "Second", "Third"] {
            garage.add(&shelf, own(name)).unwrap();
        }
        for left in ["Second", "First"] {
            garage.remove(&shelf).unwrap();
            assert_eq!(garage.current().name, left);
            assert_eq!(Garage::open(&shelf).0.current().name, left);
        }
        garage.remove(&shelf).unwrap();
        assert!(garage.current().demo);
    }

    #[test]
    fn deleting_the_last_rig_leaves_the_demo() {
        let shelf = Memory::default();
        let (mut garage, _) = Garage::open(&shelf);
        garage.add(&shelf, own("Only")).unwrap();
        // The demo of the first visit is still there to fall back on.
        garage.remove(&shelf).unwrap();
        assert!(garage.current().demo);
        let (mut again, _) = Garage::open(&shelf);
        assert!(again.current().demo);
        again.remove(&shelf).unwrap();
        assert!(again.current().demo);
    }

    #[test]
    fn an_unreadable_record_is_kept_whole_and_nothing_lands_on_it() {
        let shelf = Memory::default();
        shelf
            .put("tyreside.rig.4", "{\"version\":1,\"rig\":{\"na")
            .unwrap();
        shelf.put("tyreside.rig.x", "not ours").unwrap();
        let (mut garage, trouble) = Garage::open(&shelf);
        assert_eq!(trouble, None);
        assert_eq!(garage.set_aside().len(), 1);
        assert_eq!(garage.set_aside()[0].why, Unreadable::Damaged);
        garage.add(&shelf, own("New")).unwrap();
        garage.change(&shelf, |rig| rig.floor_kpa = 130.0).unwrap();
        assert_eq!(
            shelf.get("tyreside.rig.4").unwrap().as_deref(),
            Some("{\"version\":1,\"rig\":{\"na")
        );
        garage.discard(&shelf, 4).unwrap();
        assert_eq!(shelf.get("tyreside.rig.4"), Ok(None));
        assert!(Garage::open(&shelf).0.set_aside().is_empty());
    }

    #[test]
    fn a_blocked_or_full_shelf_still_gives_a_working_garage() {
        for trouble in [Trouble::Blocked, Trouble::Full, Trouble::Failed] {
            let shelf = Broken(trouble);
            let (mut garage, said) = Garage::open(&shelf);
            assert_eq!(said, Some(trouble));
            assert_eq!(garage.add(&shelf, own("Mine")), Err(trouble));
            assert_eq!(
                garage.change(&shelf, |rig| rig.floor_kpa = 120.0),
                Err(trouble)
            );
            assert_eq!(garage.current().name, "Mine");
            assert_eq!(garage.current().floor_kpa, 120.0);
        }
    }
}
