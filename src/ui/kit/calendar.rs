//! Days in words.

use crate::rig::calendar::parts;

/// A day counted from 1970-01-01, in words, as the browser's language has it.
#[cfg(target_arch = "wasm32")]
pub fn date(day: u32) -> String {
    use leptos::wasm_bindgen::{JsCast, JsValue};
    use leptos::web_sys::js_sys::{Date, Object, Reflect};
    use wasm_bindgen::prelude::wasm_bindgen;

    #[wasm_bindgen]
    extern "C" {
        type Written;

        /// With no language named, the browser's.
        #[wasm_bindgen(method, js_name = toLocaleDateString)]
        fn written(this: &Written, language: &JsValue, options: &JsValue) -> String;
    }

    let (year, month, of_month) = parts(day);
    let options = Object::new();
    // An object of our own takes any member.
    let _ = Reflect::set(&options, &"dateStyle".into(), &"medium".into());
    let date = Date::new_with_year_month_day(year as u32, i32::from(month) - 1, of_month.into());
    JsValue::from(date)
        .unchecked_into::<Written>()
        .written(&JsValue::UNDEFINED, &options)
}

/// The same where there is no browser.
///
/// ```
/// use tyreside::ui::kit::calendar::date;
/// assert_eq!(date(19_782), "29 Feb 2024");
/// ```
#[cfg(not(target_arch = "wasm32"))]
pub fn date(day: u32) -> String {
    const MONTHS: [&str; 12] = [
        "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
    ];
    let (year, month, of_month) = parts(day);
    format!("{of_month} {} {year}", MONTHS[usize::from(month) - 1])
}
