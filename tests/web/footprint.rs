//! The footprint's controls, wired to the rig and the drawings.

use crate::page::Page;
use tyreside::store::Memory;
use wasm_bindgen::JsCast;
use wasm_bindgen_test::wasm_bindgen_test;
use web_sys::HtmlInputElement;

fn slider(page: &Page) -> HtmlInputElement {
    page.find("#footprint-pressure").unchecked_into()
}

fn drawn(page: &Page) -> String {
    page.find(".to-scale svg").outer_html()
}

#[wasm_bindgen_test]
async fn the_slider_redraws_and_starts_at_what_is_recommended() {
    let page = Page::on(Memory::default());
    page.go("#/pressures/footprint").await;
    page.pick("footprint-of", 2).await;
    // 15 to 50 psi in steps of one; 33 psi is recommended on a dirt road.
    assert_eq!(
        (slider(&page).max(), slider(&page).value()),
        ("35".into(), "18".into())
    );
    let before = (page.numbers(), drawn(&page));
    page.type_in("footprint-pressure", "0").await;
    let after = (page.numbers(), drawn(&page));
    assert_ne!(before.0, after.0);
    assert_ne!(before.1, after.1);
    page.type_in("footprint-pressure", "18").await;
    assert_eq!((page.numbers(), drawn(&page)), before);
}

/// Each pick starts anew: 33 psi kept from the trailer would be shown as if
/// it were recommended for the front.
#[wasm_bindgen_test]
async fn another_wheel_starts_at_its_own_pressure() {
    let page = Page::on(Memory::default());
    page.go("#/pressures/footprint").await;
    page.pick("footprint-of", 2).await;
    page.type_in("footprint-pressure", "0").await;
    page.pick("footprint-of", 0).await;
    let said = slider(&page).get_attribute("aria-valuetext").unwrap();
    assert!(said.starts_with("27 psi"), "{said}");
}

/// A draft that belonged to the whole rig would take every axle's pressure
/// away for a wheel that is none of them.
#[wasm_bindgen_test]
async fn an_unusable_entry_for_the_wheel_typed_in_takes_only_its_figures_away() {
    let page = Page::on(Memory::default());
    page.go("#/pressures/footprint").await;
    page.pick("footprint-of", 3).await;
    assert_eq!(page.numbers().len(), 1);
    page.type_in("footprint-load", "heavy").await;
    assert!(page.numbers().is_empty() && page.text().contains("can't be used"));
    page.pick("footprint-of", 1).await;
    assert_eq!(page.numbers().len(), 1);
    page.go("#/pressures").await;
    assert_eq!(page.numbers().len(), 3);
    page.go("#/pressures/footprint").await;
    page.pick("footprint-of", 3).await;
    let load: HtmlInputElement = page.find("#footprint-load").unchecked_into();
    assert_eq!(load.value(), "heavy");
    page.type_in("footprint-load", "700").await;
    assert_eq!(page.numbers().len(), 1);
}
