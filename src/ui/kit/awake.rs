//! Keeps the screen on, where the browser has a Wake Lock.
//!
//! Asked for by name: the bindings have it only behind an unstable flag.

use crate::ui::kit::follow::effect;
use leptos::prelude::*;
use leptos::wasm_bindgen::closure::Closure;
use leptos::wasm_bindgen::{JsCast, JsValue};
use leptos::web_sys::js_sys::{Function, Reflect};

type Sentinel = StoredValue<Option<JsValue>, LocalStorage>;

/// Keeps the screen on while `wanted`, and says whether it does.
pub fn keep(wanted: impl Fn() -> bool + Copy + 'static) -> RwSignal<bool> {
    let held = RwSignal::new(false);
    let sentinel: Sentinel = StoredValue::new_local(None);
    effect(move |_| {
        if wanted() {
            ask(held, sentinel);
        } else {
            release(sentinel);
            held.set(false);
        }
    });
    // The browser takes it away while another page is in front.
    let listener = window_event_listener_untyped("visibilitychange", move |_| {
        held.set(false);
        if !document().hidden() && untrack(wanted) {
            ask(held, sentinel);
        }
    });
    on_cleanup(move || {
        listener.remove();
        release(sentinel);
    });
    held
}

fn method(of: &JsValue, name: &str) -> Option<Function> {
    Reflect::get(of, &name.into()).ok()?.dyn_into().ok()
}

fn ask(held: RwSignal<bool>, sentinel: Sentinel) {
    let got = Closure::once_into_js(move |lock: JsValue| {
        if held.try_set(true).is_some() || sentinel.try_set_value(Some(lock.clone())).is_some() {
            // The view went meanwhile.
            let_go(&lock);
        }
    });
    // Refused, as on a low battery: the page says that it isn't held.
    let refused = Closure::once_into_js(move |_: JsValue| {});
    let asked = || {
        let navigator = Reflect::get(&window(), &"navigator".into()).ok()?;
        let locks = Reflect::get(&navigator, &"wakeLock".into()).ok()?;
        let promise = method(&locks, "request")?
            .call1(&locks, &"screen".into())
            .ok()?;
        method(&promise, "then")?
            .call2(&promise, &got, &refused)
            .ok()
    };
    // A browser without it has no `wakeLock` at all.
    let _ = asked();
}

fn let_go(lock: &JsValue) {
    if let Some(release) = method(lock, "release") {
        let _ = release.call0(lock);
    }
}

fn release(sentinel: Sentinel) {
    if let Some(Some(lock)) = sentinel.try_update_value(Option::take) {
        let_go(&lock);
    }
}
