//! The page: what is on the screen, from the figures of the other modules.

use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// Puts the page in place of the starting text inside `#app`.
///
/// # Panics
/// When the document has no element `#app`.
pub fn start() {
    let app: web_sys::HtmlElement = document()
        .get_element_by_id("app")
        .expect("index.html holds #app")
        .unchecked_into();
    app.set_inner_html("");
    leptos::mount::mount_to(app, Page).forget();
}

/// The whole page.
#[component]
fn Page() -> impl IntoView {
    view! {
        <main>
            <h1>"Tyreside"</h1>
            <p>"Tyre pressures for a loaded rig."</p>
        </main>
    }
}
