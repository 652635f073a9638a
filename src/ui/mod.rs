//! The page. Words, numbers and drawings are plain text work and build
//! natively; the components are of the browser.

pub mod chart;
pub mod format;
pub mod words;

#[cfg(target_arch = "wasm32")]
pub mod app;
#[cfg(target_arch = "wasm32")]
mod element;
#[cfg(target_arch = "wasm32")]
mod pressures;
#[cfg(target_arch = "wasm32")]
mod rig;
#[cfg(target_arch = "wasm32")]
pub mod state;
#[cfg(target_arch = "wasm32")]
mod widgets;

#[cfg(target_arch = "wasm32")]
pub use browser::start;

#[cfg(target_arch = "wasm32")]
mod browser {
    use super::{app, state::State};
    use leptos::prelude::*;
    use leptos::wasm_bindgen::JsCast;
    use leptos::web_sys::HtmlElement;

    /// Puts the page in place of what stands in `#app`.
    pub fn start() {
        let root = document()
            .get_element_by_id("app")
            .and_then(|element| element.dyn_into::<HtmlElement>().ok());
        let Some(root) = root else { return };
        root.set_inner_html("");
        leptos::mount::mount_to(root, || app::page(State::open())).forget();
    }
}
