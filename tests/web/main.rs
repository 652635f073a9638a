//! What only a browser can show: that the page starts where the HTML says,
//! that a control's event reaches the rig, and what the browser's storage
//! does. Figures are tested natively, journeys in `tests/e2e`.
#![cfg(target_arch = "wasm32")]

mod air;
mod element;
mod footprint;
mod nuts;
mod page;
mod storage;

wasm_bindgen_test::wasm_bindgen_test_configure!(run_in_browser);
