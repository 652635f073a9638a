//! Names drawn by lot.

use leptos::prelude::window;

/// Twelve digits of base 16: enough that no two rigs of a household, or of all
/// who share one, draw the same.
pub fn draw() -> String {
    let mut lots = [0_u8; 6];
    let crypto = window().crypto().ok();
    let drawn = crypto.and_then(|crypto| crypto.get_random_values_with_u8_array(&mut lots).ok());
    if drawn.is_none() {
        // A browser without it has a clock.
        let now = leptos::web_sys::js_sys::Date::now() as u64;
        lots.copy_from_slice(&now.to_be_bytes()[2..]);
    }
    lots.iter().map(|byte| format!("{byte:02x}")).collect()
}
