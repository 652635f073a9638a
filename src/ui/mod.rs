//! The page. Words, numbers and drawings are plain text work and build
//! natively; the components are of the browser.

#[cfg(target_arch = "wasm32")]
pub mod frame;
pub mod kit;
pub mod views;

#[cfg(target_arch = "wasm32")]
pub use browser::{mount, start};

#[cfg(target_arch = "wasm32")]
mod browser {
    use super::frame::{app, state::State};
    use crate::store::browser::Local;
    use crate::store::{Memory, Shelf, Trouble};
    use leptos::mount::UnmountHandle;
    use leptos::prelude::*;
    use leptos::web_sys::Element;

    /// Puts a page over `shelf` into `root`, until what is returned is dropped.
    pub fn mount(
        root: Element,
        shelf: Box<dyn Shelf>,
        trouble: Option<Trouble>,
    ) -> UnmountHandle<impl Mountable> {
        leptos::mount::mount_to_renderer(&root, move || app::page(State::on(shelf, trouble)))
    }

    /// Puts the page in place of what stands in `#app`.
    pub fn start() {
        let Some(root) = document().get_element_by_id("app") else {
            return;
        };
        root.set_text_content(None);
        // The page works without storage too, and says so.
        let (shelf, trouble): (Box<dyn Shelf>, _) = match Local::probe() {
            Ok(local) => (Box::new(local), None),
            Err(trouble) => (Box::new(Memory::default()), Some(trouble)),
        };
        mount(root, shelf, trouble).forget();
    }
}
