//! Warm figures and the walk, wired to a shelf in memory.

use crate::page::{Page, tick};
use tyreside::rig::Rig;
use tyreside::rig::air::{Air, Walk};
use tyreside::rig::typed::in_unit::psi;
use tyreside::store::{Garage, Memory, Shelf};
use wasm_bindgen::JsCast;
use wasm_bindgen_test::wasm_bindgen_test;
use web_sys::HtmlInputElement;

fn now_day() -> f64 {
    js_sys::Date::now() / 86_400_000.0
}

/// A page on the demo rig with what the air view keeps changed.
fn page_with(change: impl FnOnce(&mut Air)) -> Page {
    let shelf = Memory::default();
    let (mut garage, _) = Garage::open(&shelf);
    garage
        .change(&shelf, |rig: &mut Rig| change(&mut rig.air))
        .unwrap();
    Page::on(shelf)
}

fn warm(air: &mut Air, day: f64) {
    let warm = &mut air.warm;
    (warm.axle, warm.reading, warm.day) = (1, Some(psi(56.0)), Some(day));
}

fn is_warm(page: &Page) -> bool {
    page.find(".rig-drawing")
        .query_selector(".axle.warm")
        .unwrap()
        .is_some()
}

#[wasm_bindgen_test]
async fn a_kept_warm_reading_turns_every_target_into_what_the_gauge_should_show() {
    let page = page_with(|air| warm(air, now_day()));
    page.pick("surface", 2).await;
    // 27, 37 and 33 psi cold, at the rear's 56 psi over 50: the warm figure is
    // the only large one.
    assert_eq!(page.numbers(), ["31", "42", "38"]);
    let said = page.find(".answers").text_content().unwrap();
    for cold in ["cold 27 psi", "cold 37 psi", "cold 33 psi"] {
        assert!(said.contains(cold), "{said}");
    }
    // Nothing to read in psi that was meant in kPa: 185, 255 and 225 cold.
    page.press("psi").await;
    assert_eq!(page.numbers(), ["215", "290", "260"]);
    assert!(
        page.find(".axle.warm")
            .text_content()
            .unwrap()
            .contains("warm")
    );
}

#[wasm_bindgen_test]
async fn an_old_warm_reading_shows_no_figure_and_says_so() {
    let page = page_with(|air| warm(air, now_day() - 31.0 / 1440.0));
    tick().await;
    assert_eq!(page.numbers().len(), 3);
    let said = page.text();
    assert!(said.contains("no longer counts"), "{said}");
    assert!(!is_warm(&page));
}

/// One of another day, or from before the clock was set back, is forgotten.
#[wasm_bindgen_test]
async fn a_warm_reading_of_no_known_age_is_forgotten() {
    for days in [-2.0, 5.0 / 1440.0] {
        let page = page_with(|air| warm(air, now_day() + days));
        tick().await;
        assert_eq!(page.numbers().len(), 3);
        assert!(!is_warm(&page) && !page.text().contains("no longer counts"));
    }
}

#[wasm_bindgen_test]
async fn what_is_typed_is_kept_and_stamped_with_the_time() {
    let page = Page::on(Memory::default());
    page.go("#/pressures/walk").await;
    page.press("Warm: read one tyre").await;
    page.type_in("now-reading", "40").await;
    page.go("#/pressures").await;
    assert_eq!(page.numbers().len(), 3);
    assert!(is_warm(&page));
}

/// A reading that grew old in the middle of a walk turned the number at the
/// wheel from the warm 31 psi into the cold 27, with the tyres still warm.
#[wasm_bindgen_test]
async fn a_walk_never_changes_what_its_number_means() {
    let walking = |warm_walk: bool, age: Option<f64>| {
        page_with(|air| {
            air.walk = Some(Walk::new(false, warm_walk));
            if let Some(minutes) = age {
                warm(air, now_day() - minutes / 1440.0);
            }
        })
    };
    for (warm_walk, age, numbers, says) in [
        (true, Some(5.0), vec!["31"], "psi warm"),
        (true, Some(31.0), vec![], "Read this tyre now"),
        (true, None, vec![], "Read this one now"),
        (false, None, vec!["27"], "psi cold"),
        (false, Some(5.0), vec![], "began with cold figures"),
    ] {
        let page = walking(warm_walk, age);
        page.go("#/pressures/walk").await;
        assert_eq!(page.numbers(), numbers, "{says}");
        assert!(page.text().contains(says), "{}", page.text());
    }
    // Read again, and the number is there.
    let page = walking(true, Some(31.0));
    page.go("#/pressures/walk").await;
    page.press("Read this tyre").await;
    // The front's sealed-road 36 psi, which the walk started from.
    let cold: HtmlInputElement = page.find("#now-cold").unchecked_into();
    assert_eq!(cold.value(), "36");
    page.type_in("now-reading", "40").await;
    page.press("Show the figure").await;
    // (40 + 14.7) / (36 + 14.7) · (27 + 14.7) − 14.7 = 30.3
    assert_eq!(page.numbers(), ["31"]);
    // Or the tyres are said to be cold.
    let page = walking(true, Some(31.0));
    page.go("#/pressures/walk").await;
    page.press("Tyres are cold").await;
    assert_eq!(page.numbers(), ["27"]);
}

async fn tyre_done(page: &Page) {
    page.press("Tyre done").await;
}

/// The front was let down to 27 psi for the dirt. Read warm at 34, 'was cold'
/// meant the sealed 36, and the page called it a leak.
#[wasm_bindgen_test]
async fn a_walk_is_kept_and_a_blank_cold_pressure_means_it() {
    let page = page_with(|air| air.walk = Some(Walk::new(false, false)));
    page.go("#/pressures/walk").await;
    for _ in 0..8 {
        tyre_done(&page).await;
    }
    assert!(page.text().contains("Set for dirt"), "{}", page.text());
    page.go("#/pressures").await;
    assert!(
        page.text().contains("Set for dirt since"),
        "{}",
        page.text()
    );
    page.go("#/pressures/walk").await;
    page.press("Warm: read one tyre").await;
    page.type_in("now-reading", "34").await;
    assert!(page.text().contains("Was cold: 27 psi, set for dirt on"));
    page.go("#/pressures").await;
    // (34 + 14.7) / (27 + 14.7) · (36 + 14.7) − 14.7 = 44.5
    assert_eq!(page.numbers()[0], "45");
}

#[wasm_bindgen_test]
async fn a_walk_goes_on_where_it_was() {
    let page = page_with(|air| {
        air.walk = Some(Walk {
            tyre_s: 75.0,
            ..Walk::new(false, false)
        });
    });
    page.go("#/pressures/walk").await;
    let said = page.find(".walk").text_content().unwrap();
    assert!(
        said.contains("Front, left") && said.contains("0 of 8"),
        "{said}"
    );
    assert!(said.contains("1:15"), "{said}");
    for _ in 0..7 {
        tyre_done(&page).await;
    }
    let said = page.find(".walk").text_content().unwrap();
    assert!(
        said.contains("Front, right") && said.contains("7 of 8"),
        "{said}"
    );
}

/// Texts that can't be used stood with the rig's own section while the tools'
/// values were in another: each comes to its field, and no minute counts on the
/// value that it was to replace.
#[wasm_bindgen_test]
async fn texts_of_an_older_page_come_to_their_fields() {
    let shelf = Memory::default();
    for (key, text) in [
        (
            "tyreside.rig.1.axles",
            include_str!("../records/version2/axles.json"),
        ),
        (
            "tyreside.rig.1.air",
            include_str!("../records/version2/air.json"),
        ),
    ] {
        shelf.put(key, text).unwrap();
    }
    let page = Page::on(shelf);
    page.go("#/rig/tools").await;
    for (field, text) in [
        ("#pump-at-1", "9999 bar"),
        ("#out-flow", "much"),
        ("#space-2", "big"),
        ("#space-0", "80.5"),
        ("#pump-flow-2", "72.5"),
        ("#pump-timed-from", "32"),
    ] {
        let field: HtmlInputElement = page.find(field).unchecked_into();
        assert_eq!(field.value(), text);
    }
    page.type_in("out-flow", "250").await;
    page.go("#/checks").await;
    let field: HtmlInputElement = page.find("#leak-air").unchecked_into();
    assert_eq!(field.value(), "cool");
    page.go("#/rig/tools").await;
    let field: HtmlInputElement = page.find("#out-flow").unchecked_into();
    assert_eq!(field.value(), "250");
}
