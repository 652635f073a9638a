//! The browser's clock: the only way in which the time of day gets in.

use leptos::prelude::*;
use leptos::wasm_bindgen::JsValue;
use leptos::web_sys::js_sys::Date;
use std::time::Duration;

const MS_PER_DAY: f64 = 86_400_000.0;

/// Days since 1970.
pub fn now_day() -> f64 {
    Date::now() / MS_PER_DAY
}

/// The time, kept up to date while the calling part of the page stands.
pub fn every(seconds: u64) -> RwSignal<f64> {
    let now = RwSignal::new(now_day());
    let tick = move || now.set(now_day());
    if let Ok(interval) = set_interval_with_handle(tick, Duration::from_secs(seconds)) {
        on_cleanup(move || interval.clear());
    }
    // A phone that slept ticks late.
    let listener = window_event_listener_untyped("visibilitychange", move |_| tick());
    on_cleanup(move || listener.remove());
    now
}

fn date(day: f64) -> Date {
    Date::new(&JsValue::from_f64(day * MS_PER_DAY))
}

/// The time of day, here.
pub fn time_of_day(day: f64) -> String {
    let date = date(day);
    format!("{}:{:02}", date.get_hours(), date.get_minutes())
}

/// The day, here.
pub fn day(day: f64) -> String {
    const MONTHS: [&str; 12] = [
        "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
    ];
    let date = date(day);
    let month = MONTHS.get(date.get_month() as usize).unwrap_or(&"");
    format!("{} {month} {}", date.get_date(), date.get_full_year())
}
