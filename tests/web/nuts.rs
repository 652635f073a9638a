//! The wheel-nuts view, wired to a shelf in memory.

use crate::page::{Page, tick};
use std::rc::Rc;
use tyreside::store::{Memory, Shelf, Trouble};
use wasm_bindgen::JsCast;
use wasm_bindgen_test::wasm_bindgen_test;
use web_sys::{HtmlElement, HtmlInputElement};

/// A shelf that outlasts the page, as the browser's does.
#[derive(Clone, Default)]
struct Kept(Rc<Memory>);

impl Shelf for Kept {
    fn get(&self, key: &str) -> Result<Option<String>, Trouble> {
        self.0.get(key)
    }
    fn put(&self, key: &str, text: &str) -> Result<(), Trouble> {
        self.0.put(key, text)
    }
    fn remove(&self, key: &str) -> Result<(), Trouble> {
        self.0.remove(key)
    }
    fn keys(&self) -> Result<Vec<String>, Trouble> {
        self.0.keys()
    }
}

async fn pull(page: &Page, nut: u32) {
    let key: HtmlElement = page
        .find(&format!("button[aria-label=\"Nut {nut}, next\"]"))
        .unchecked_into();
    key.click();
    tick().await;
}

/// Turns to the wheel at the front on the left.
async fn choose(page: &Page) {
    page.go("#/nuts").await;
    let wheel: HtmlElement = page
        .find("button[aria-label=\"Front, left\"]")
        .unchecked_into();
    wheel.click();
    tick().await;
}

#[wasm_bindgen_test]
async fn a_wheel_under_way_outlasts_the_page() {
    let shelf = Kept::default();
    let page = Page::on(shelf.clone());
    choose(&page).await;
    for nut in 1..=3 {
        pull(&page, nut).await;
    }
    drop(page);
    let page = Page::on(shelf);
    page.go("#/nuts").await;
    assert_eq!(
        page.root.query_selector_all(".nut.done").unwrap().length(),
        3
    );
    pull(&page, 4).await;
}

#[wasm_bindgen_test]
async fn a_tick_leaves_the_keys_where_they_are() {
    let page = Page::on(Memory::default());
    choose(&page).await;
    let key: HtmlElement = page
        .find("button[aria-label=\"Nut 1, next\"]")
        .unchecked_into();
    key.focus().unwrap();
    pull(&page, 1).await;
    assert!(key.is_connected(), "the focus went with the key");
    assert_eq!(
        key.get_attribute("aria-label").as_deref(),
        Some("Nut 1, done")
    );
}

#[wasm_bindgen_test]
async fn another_unit_keeps_the_digits_and_a_half_typed_number_stays() {
    let page = Page::on(Memory::default());
    page.go("#/nuts").await;
    page.pick("nuts-job", 0).await;
    for text in ["1", "13", "132", "132,", "132,5"] {
        page.type_in("nuts-vehicle-nominal", text).await;
        let input: HtmlInputElement = page.find("#nuts-vehicle-nominal").unchecked_into();
        assert_eq!(input.value(), text);
    }
    assert_eq!(page.numbers(), ["132"]);
    page.pick("nuts-unit", 1).await;
    let input: HtmlInputElement = page.find("#nuts-vehicle-nominal").unchecked_into();
    assert_eq!(input.value(), "132.5");
    // 132.5 ± 10 ft·lbf is 166.1 to 193.2 N·m: a mark of 180 leaves 5.7 N·m
    // on its tighter side, 178 leaves 4.8.
    assert_eq!(page.numbers(), ["180"]);
}
