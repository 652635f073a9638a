//! The browser's clock: the only way in which the time of day gets in.

use super::calendar;
use leptos::prelude::*;
use leptos::wasm_bindgen::JsValue;
use leptos::web_sys::js_sys::Date;
use std::time::Duration;

const MS_PER_DAY: f64 = 86_400_000.0;

/// The time now, once and again at every tick.
pub fn following(ticks: RwSignal<u32>) -> f64 {
    ticks.track();
    now_day()
}

/// Days since 1970.
pub fn now_day() -> f64 {
    Date::now() / MS_PER_DAY
}

/// Counts ticks, one every so many seconds while the calling part of the page
/// stands. What tracks it asks [`now_day`] for the time, which is never older
/// than what was just entered.
pub fn every(seconds: u64) -> RwSignal<u32> {
    let ticks = RwSignal::new(0_u32);
    let tick = move || ticks.update(|ticks| *ticks = ticks.wrapping_add(1));
    if let Ok(interval) = set_interval_with_handle(tick, Duration::from_secs(seconds)) {
        on_cleanup(move || interval.clear());
    }
    // A phone that slept ticks late.
    let listener = window_event_listener_untyped("visibilitychange", move |_| tick());
    on_cleanup(move || listener.remove());
    ticks
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
    calendar::date(local_day(&date(day)))
}

/// Since when, as one says it: the time of day, with the day where that is
/// not today.
pub fn since(at: f64) -> String {
    let time = time_of_day(at);
    if day(at) == day(now_day()) {
        format!("since {time}")
    } else {
        format!("since {}, {time}", day(at))
    }
}

/// The local day, counted from 1970-01-01.
pub fn today() -> u32 {
    local_day(&Date::new_0())
}

/// The moment of a date and time field's text, which is local time; none where
/// it is blank or no such.
pub fn of_local(text: &str) -> Option<f64> {
    let at = Date::new(&JsValue::from_str(text)).get_time() / MS_PER_DAY;
    (!at.is_nan()).then_some(at)
}

fn local_day(at: &Date) -> u32 {
    let minutes = at.get_time() / 60_000.0 - at.get_timezone_offset();
    // Below zero where the clock stands before 1970; then day 0.
    (minutes / 1440.0).floor() as u32
}

/// Whole minutes since the local day began.
pub fn minute_of_day(day: f64) -> u32 {
    let date = date(day);
    date.get_hours() * 60 + date.get_minutes()
}
