//! The browser's own storage.

use super::{Shelf, Trouble};
use gloo_storage::{LocalStorage, Storage};
use wasm_bindgen::{JsCast, JsValue};

const PROBE_KEY: &str = "tyreside.probe";

/// The origin's local storage, found to be readable and writable.
#[derive(Debug)]
pub struct Local(web_sys::Storage);

impl Local {
    /// The storage, if this page may use it.
    ///
    /// `gloo` throws where storage is blocked, and a throw ends the page; so
    /// the storage object itself is asked for first.
    ///
    /// # Errors
    /// [`Trouble::Blocked`] where there is none for this page. A full one is
    /// still readable, and is no error here.
    pub fn probe() -> Result<Self, Trouble> {
        let storage = web_sys::window()
            .and_then(|window| window.local_storage().ok().flatten())
            .ok_or(Trouble::Blocked)?;
        match storage.set_item(PROBE_KEY, "1").map_err(trouble) {
            Ok(()) => storage.remove_item(PROBE_KEY).map_err(trouble)?,
            Err(Trouble::Full) => {}
            Err(_) => return Err(Trouble::Blocked),
        }
        // Taken once: asked for again after it was blocked, `gloo` throws.
        Ok(Self(LocalStorage::raw()))
    }
}

impl Shelf for Local {
    fn get(&self, key: &str) -> Result<Option<String>, Trouble> {
        self.0.get_item(key).map_err(trouble)
    }

    fn put(&self, key: &str, text: &str) -> Result<(), Trouble> {
        self.0.set_item(key, text).map_err(trouble)
    }

    fn remove(&self, key: &str) -> Result<(), Trouble> {
        self.0.remove_item(key).map_err(trouble)
    }

    fn keys(&self) -> Result<Vec<String>, Trouble> {
        let mut keys = Vec::new();
        while keys.len() < self.0.length().map_err(trouble)? as usize {
            match self.0.key(keys.len() as u32).map_err(trouble)? {
                Some(key) => keys.push(key),
                // Another tab has just removed one.
                None if keys.len() >= self.0.length().map_err(trouble)? as usize => break,
                // A rig that can't be named would be taken for none, and its
                // number given again.
                None => return Err(Trouble::Blocked),
            }
        }
        Ok(keys)
    }
}

/// The exception's name tells a full storage from a refused one.
fn trouble(error: JsValue) -> Trouble {
    match error
        .dyn_ref::<web_sys::DomException>()
        .map(|e| e.name())
        .as_deref()
    {
        Some("QuotaExceededError" | "NS_ERROR_DOM_QUOTA_REACHED") => Trouble::Full,
        Some("SecurityError") => Trouble::Blocked,
        _ => Trouble::Failed,
    }
}
