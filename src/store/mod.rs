//! Keeping rigs: the rules over any shelf of named texts, and the shelf that
//! a browser has.

#[cfg(target_arch = "wasm32")]
pub mod browser;
pub mod envelope;
pub mod file;
pub mod garage;
pub mod link;
pub mod merge;

pub use garage::{Deleted, Garage, Noticed, Piece, Plan, Restored, RigId, SetAside};

use std::cell::RefCell;

/// Why something was not kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trouble {
    /// The browser keeps nothing for this page.
    Blocked,
    /// No room left.
    Full,
    /// It failed and did not say why.
    Failed,
    /// Another tab had changed the same section: that change stands, and this
    /// one was not made.
    Elsewhere,
    /// Another tab had deleted the rig; another one is current.
    Gone,
    /// What is kept of the section can't be read, and nothing is written over
    /// it.
    SetAside,
}

crate::calc::error_by_its_fields!(Trouble);

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
#[derive(Debug, Default, Clone, PartialEq, Eq)]
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
