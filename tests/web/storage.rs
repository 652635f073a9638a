//! The browser's own storage, behind the shelf that the page uses.

use tyreside::rig::nuts::Nuts;
use tyreside::rig::section::Unreadable;
use tyreside::rig::typed::in_unit::kpa;
use tyreside::rig::{PressureUnit, Rig};
use tyreside::store::browser::Local;
use tyreside::store::{Garage, Noticed, Shelf, Trouble, envelope};
use wasm_bindgen_test::wasm_bindgen_test;

fn storage() -> web_sys::Storage {
    web_sys::window().unwrap().local_storage().unwrap().unwrap()
}

fn empty_shelf() -> Local {
    storage().clear().unwrap();
    Local::probe().expect("storage")
}

#[wasm_bindgen_test]
fn probing_leaves_nothing_behind() {
    let shelf = empty_shelf();
    assert_eq!(shelf.keys(), Ok(Vec::new()));
}

#[wasm_bindgen_test]
fn a_rig_is_there_when_the_page_opens_again() {
    let shelf = empty_shelf();
    let (mut garage, _) = Garage::open(&shelf);
    garage
        .add(&shelf, Rig::empty("Dusty", PressureUnit::Bar))
        .unwrap();
    garage
        .change(&shelf, |rig: &mut Rig| rig.floor = kpa(120.0))
        .unwrap();
    let (again, trouble) = Garage::open(&Local::probe().unwrap());
    assert_eq!(trouble, None);
    assert_eq!(again.current(), garage.current());
    assert_eq!(again.current_id(), garage.current_id());
    storage().clear().unwrap();
}

#[wasm_bindgen_test]
fn other_pages_keys_are_left_alone() {
    let shelf = empty_shelf();
    storage().set_item("somebody.else", "theirs").unwrap();
    let (mut garage, _) = Garage::open(&shelf);
    garage
        .add(&shelf, Rig::empty("Dusty", PressureUnit::Psi))
        .unwrap();
    garage.remove(&shelf).unwrap();
    assert_eq!(shelf.get("somebody.else"), Ok(Some("theirs".to_owned())));
    storage().clear().unwrap();
}

/// The browser's own refusal, not a made-up one: 5 MB and some is too much.
#[wasm_bindgen_test]
fn a_full_storage_is_told_from_a_blocked_one() {
    let shelf = empty_shelf();
    let most = "x".repeat(4_000_000);
    storage().set_item("filler", &most).unwrap();
    assert_eq!(
        shelf.put("tyreside.rig.1", &"x".repeat(2_000_000)),
        Err(tyreside::store::Trouble::Full)
    );
    // A full shelf is still a shelf.
    assert!(Local::probe().is_ok());
    storage().clear().unwrap();
}

/// A storage event's key, and what it leads to.
#[wasm_bindgen_test]
fn another_tabs_change_is_shown_and_never_written_over() {
    let shelf = empty_shelf();
    let (mut one, _) = Garage::open(&shelf);
    one.add(&shelf, Rig::empty("Dusty", PressureUnit::Bar))
        .unwrap();
    one.hold::<Nuts>(&shelf, None);
    let theirs = Local::probe().unwrap();
    let (mut other, _) = Garage::open(&theirs);
    other
        .change(&theirs, |nuts: &mut Nuts| nuts.vehicle.studs = 10)
        .unwrap();
    // Before the event has come.
    let refused = one.change(&shelf, |nuts: &mut Nuts| nuts.vehicle.stages = 3);
    assert_eq!(refused, Err(Trouble::Elsewhere));
    one.hold::<Nuts>(&shelf, None);
    assert_eq!(one.section::<Nuts>(None).unwrap().vehicle.studs, 10);
    other
        .change(&theirs, |rig: &mut Rig| rig.name = "Theirs".to_owned())
        .unwrap();
    let id = one.current_id();
    let key = format!("tyreside.rig.{id}.axles");
    assert_eq!(one.notice(&shelf, Some(&key)), Noticed::Changed);
    assert_eq!(one.current().name, "Theirs");
    assert_eq!(one.notice(&shelf, Some(&key)), Noticed::Nothing);
    storage().clear().unwrap();
}

#[wasm_bindgen_test]
fn a_newer_section_stays_as_it_is() {
    let shelf = empty_shelf();
    let (mut garage, _) = Garage::open(&shelf);
    garage
        .add(&shelf, Rig::empty("Dusty", PressureUnit::Bar))
        .unwrap();
    let key = format!("tyreside.rig.{}.nuts", garage.current_id());
    let newer = envelope::write(9, "{\"a\":1}");
    storage().set_item(&key, &newer).unwrap();
    let (mut garage, _) = Garage::open(&shelf);
    let aside = garage.set_aside(&shelf);
    assert_eq!(aside[0].why, Unreadable::Newer { version: 9 });
    let refused = garage.change(&shelf, |nuts: &mut Nuts| nuts.vehicle.studs = 8);
    assert_eq!(refused, Err(Trouble::SetAside));
    assert_eq!(storage().get_item(&key).unwrap(), Some(newer));
    storage().clear().unwrap();
}
