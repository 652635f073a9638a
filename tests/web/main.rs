//! What only a browser can show: that the page starts where the HTML says.
//! Figures are tested natively, journeys in `tests/e2e`.
#![cfg(target_arch = "wasm32")]

use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

/// The body of a page as `index.html` serves it, before the start.
fn starting_page() -> web_sys::Element {
    let document = web_sys::window().unwrap().document().unwrap();
    let app = document.create_element("div").unwrap();
    app.set_id("app");
    app.set_text_content(Some("Starting"));
    document.body().unwrap().append_child(&app).unwrap();
    app
}

#[wasm_bindgen_test]
fn the_page_takes_the_place_of_the_starting_text() {
    let app = starting_page();
    tyreside::ui::start();
    let text = app.text_content().unwrap();
    assert!(!text.contains("Starting"), "starting text left: {text}");
    let heading = app.query_selector("h1").unwrap().expect("a heading");
    assert_ne!(heading.text_content().unwrap(), "", "the heading is empty");
    app.remove();
}
