//! The components, wired to a shelf in memory.

use tyreside::rig::Rig;
use tyreside::store::{Garage, Memory, Shelf, Trouble};
use tyreside::ui::mount;
use wasm_bindgen::JsCast;
use wasm_bindgen_test::wasm_bindgen_test;
use web_sys::{Element, Event, HtmlElement, HtmlInputElement};

fn document() -> web_sys::Document {
    web_sys::window().unwrap().document().unwrap()
}

/// Lets the page follow what was done: its effects run as microtasks.
pub async fn tick() {
    for _ in 0..3 {
        let settled = js_sys::Promise::resolve(&wasm_bindgen::JsValue::UNDEFINED);
        wasm_bindgen_futures::JsFuture::from(settled).await.unwrap();
    }
}

/// Waits for so many milliseconds, and for what follows from them.
pub async fn passed(ms: i32) {
    let passed = js_sys::Promise::new(&mut |resolve, _| {
        let window = web_sys::window().unwrap();
        window
            .set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, ms)
            .unwrap();
    });
    wasm_bindgen_futures::JsFuture::from(passed).await.unwrap();
    tick().await;
}

/// A page of its own, taken down with its test.
pub struct Page {
    pub root: HtmlElement,
    _mounted: Box<dyn std::any::Any>,
}

impl Page {
    pub fn on(shelf: impl Shelf + 'static) -> Self {
        web_sys::window()
            .unwrap()
            .location()
            .set_hash("#/pressures")
            .unwrap();
        // A page has its policy for drawings from `boot.js`.
        js_sys::eval("globalThis.tyreside = { createHTML: (text) => text }").unwrap();
        let root: HtmlElement = document().create_element("div").unwrap().unchecked_into();
        document().body().unwrap().append_child(&root).unwrap();
        let mounted = Box::new(mount(root.clone().into(), Box::new(shelf), None));
        Self {
            root,
            _mounted: mounted,
        }
    }

    pub(crate) fn text(&self) -> String {
        self.root.text_content().unwrap_or_default()
    }

    pub fn find(&self, selector: &str) -> Element {
        self.root
            .query_selector(selector)
            .unwrap()
            .unwrap_or_else(|| panic!("no {selector} in {}", self.root.inner_html()))
    }

    pub fn numbers(&self) -> Vec<String> {
        let found = self.root.query_selector_all(".number").unwrap();
        (0..found.length())
            .map(|n| found.get(n).unwrap().text_content().unwrap())
            .collect()
    }

    pub async fn pick(&self, name: &str, index: u32) {
        let keys = self
            .root
            .query_selector_all(&format!("input[name={name}]"))
            .unwrap();
        keys.get(index)
            .unwrap()
            .unchecked_into::<HtmlInputElement>()
            .click();
        tick().await;
    }

    pub async fn press(&self, label: &str) {
        let keys = self.root.query_selector_all("button").unwrap();
        let key = (0..keys.length())
            .filter_map(|n| keys.get(n))
            .find(|key| key.text_content().as_deref() == Some(label))
            .unwrap_or_else(|| panic!("no key {label} in {}", self.text()));
        key.unchecked_into::<HtmlElement>().click();
        tick().await;
    }

    pub async fn type_in(&self, id: &str, text: &str) {
        let input: HtmlInputElement = self.find(&format!("#{id}")).unchecked_into();
        input.set_value(text);
        input.dispatch_event(&Event::new("input").unwrap()).unwrap();
        tick().await;
    }

    pub async fn go(&self, hash: &str) {
        web_sys::window()
            .unwrap()
            .location()
            .set_hash(hash)
            .unwrap();
        // The browser tells of a new address in its own time.
        passed(50).await;
    }
}

impl Drop for Page {
    fn drop(&mut self) {
        self.root.remove();
    }
}

#[wasm_bindgen_test]
fn the_page_takes_the_place_of_the_starting_text() {
    let app = document().create_element("div").unwrap();
    app.set_id("app");
    app.set_text_content(Some("Starting"));
    document().body().unwrap().append_child(&app).unwrap();
    tyreside::ui::start();
    let text = app.text_content().unwrap();
    assert!(!text.contains("Starting"), "starting text left: {text}");
    assert!(app.query_selector("h1").unwrap().is_some());
    app.remove();
}

#[wasm_bindgen_test]
async fn picking_a_surface_changes_every_figure() {
    let page = Page::on(Memory::default());
    tick().await;
    assert_eq!(page.numbers(), ["36", "50", "50"]);
    page.pick("surface", 2).await;
    assert_eq!(page.numbers(), ["27", "37", "33"]);
    page.press("psi").await;
    // 184.1, 254.98 and 224.1 kPa, up to the next 5.
    assert_eq!(page.numbers(), ["185", "255", "225"]);
}

#[wasm_bindgen_test]
async fn a_field_keeps_what_is_typed_while_it_is_typed() {
    let page = Page::on(Memory::default());
    page.go("#/rig").await;
    // Half-typed numbers must not be put right under the typist's hands.
    for text in ["1", "13", "130", "1300", "1300,", "1300,5"] {
        page.type_in("axle-0-weighed", text).await;
        let input: HtmlInputElement = page.find("#axle-0-weighed").unchecked_into();
        assert_eq!(input.value(), text);
    }
    page.go("#/pressures").await;
    assert_eq!(page.numbers().len(), 3);
}

#[wasm_bindgen_test]
async fn an_unusable_text_takes_the_figure_away_and_survives_leaving_the_view() {
    let page = Page::on(Memory::default());
    page.go("#/rig").await;
    page.type_in("axle-0-weighed", "heavy").await;
    let input = page.find("#axle-0-weighed");
    assert_eq!(
        input.get_attribute("aria-invalid").as_deref(),
        Some("false"),
        "while typing"
    );
    input.dispatch_event(&Event::new("blur").unwrap()).unwrap();
    // Once a tap that left it would have been taken.
    passed(300).await;
    assert_eq!(
        input.get_attribute("aria-invalid").as_deref(),
        Some("true"),
        "on leaving"
    );
    page.go("#/pressures").await;
    assert_eq!(page.numbers().len(), 2);
    page.go("#/rig").await;
    let input: HtmlInputElement = page.find("#axle-0-weighed").unchecked_into();
    assert_eq!(input.value(), "heavy");
}

/// The floor of 100 kPa shows as 14.5 psi, which reads back as 99.97 kPa and
/// was called too low on a page that nobody had touched.
#[wasm_bindgen_test]
async fn nothing_is_wrong_with_a_value_that_nobody_touched() {
    let page = Page::on(Memory::default());
    page.go("#/rig").await;
    for unit in 0..3 {
        page.pick("pressure-unit", unit).await;
        assert!(
            page.root.query_selector(".wrong").unwrap().is_none(),
            "{}",
            page.text()
        );
    }
}

/// Elements are built anew on every change; were one only patched, its handler
/// would stand on it twice, and a tap open a fold and close it again.
#[wasm_bindgen_test]
async fn a_tap_counts_once_however_often_the_page_was_rebuilt() {
    let page = Page::on(Memory::default());
    for surface in [1, 2, 3, 2] {
        page.pick("surface", surface).await;
    }
    let row: HtmlElement = page.find("button.axle-key").unchecked_into();
    row.click();
    tick().await;
    assert_eq!(row.get_attribute("aria-expanded").as_deref(), Some("true"));
}

/// A shelf that can be read and is full.
struct Full;

impl Shelf for Full {
    fn get(&self, _: &str) -> Result<Option<String>, Trouble> {
        Ok(None)
    }
    fn put(&self, _: &str, _: &str) -> Result<(), Trouble> {
        Err(Trouble::Full)
    }
    fn remove(&self, _: &str) -> Result<(), Trouble> {
        Ok(())
    }
    fn keys(&self) -> Result<Vec<String>, Trouble> {
        Ok(Vec::new())
    }
}

#[wasm_bindgen_test]
async fn a_full_shelf_is_said_once() {
    let page = Page::on(Full);
    tick().await;
    page.pick("surface", 2).await;
    let alert: HtmlElement = page.find("[role=alert] button").unchecked_into();
    alert.click();
    tick().await;
    page.pick("surface", 3).await;
    assert!(page.root.query_selector("[role=alert]").unwrap().is_none());
    assert_eq!(page.numbers().len(), 3);
}

#[wasm_bindgen_test]
fn a_name_is_text_and_never_markup() {
    let shelf = Memory::default();
    let (mut garage, _) = Garage::open(&shelf);
    let name = "<img src=x>".to_owned();
    garage
        .change(&shelf, |rig: &mut Rig| rig.name = name)
        .unwrap();
    let page = Page::on(shelf);
    assert!(page.root.query_selector("img").unwrap().is_none());
    assert!(page.text().contains("<img src=x>"));
}

#[wasm_bindgen_test]
async fn a_section_that_is_newer_or_broken_is_named_on_the_rig_page() {
    let shelf = Memory::default();
    let (mut garage, _) = Garage::open(&shelf);
    garage
        .change(&shelf, |rig: &mut Rig| rig.demo = false)
        .unwrap();
    let newer = tyreside::store::envelope::write(9, "{}");
    shelf.put("tyreside.rig.1.nuts", &newer).unwrap();
    shelf
        .put("tyreside.rig.1.air", "{\"version\":2,\"cr")
        .unwrap();
    let page = Page::on(shelf);
    assert_eq!(page.numbers(), ["36", "50", "50"]);
    page.go("#/rig").await;
    let said = page.find("[aria-labelledby=aside-heading]");
    let text = said.text_content().unwrap();
    for part in [
        "Wheel nuts, rig 1. A newer version of this page wrote it (record version 9).",
        "Warm tyres and walk, rig 1. It is damaged.",
        "Save it to a file",
    ] {
        assert!(text.contains(part), "{part} in {text}");
    }
    let delete: HtmlElement = page
        .find("button[aria-label=\"Wheel nuts: delete for good\"]")
        .unchecked_into();
    delete.click();
    tick().await;
    assert!(!page.text().contains("Wheel nuts, rig 1"));
    assert!(page.text().contains("Warm tyres and walk, rig 1"));
}
