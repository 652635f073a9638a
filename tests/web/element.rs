//! What `ui::kit::element` counts on in Leptos.

use crate::page::tick;
use leptos::mount::mount_to;
use leptos::prelude::*;
use std::cell::Cell;
use std::rc::Rc;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use tyreside::ui::kit::element::{Node, element, live};
use wasm_bindgen::JsCast;
use wasm_bindgen_test::wasm_bindgen_test;

/// Leptos patches an element where the next one is of the same name, and an
/// element's setup would then be done to it a second time: handlers would stand
/// on it twice, and what only the former one had would stay. It takes small
/// letters for another name than the capitals in which a browser answers, and so
/// builds the element anew. Should it ever compare otherwise, this fails.
#[wasm_bindgen_test]
async fn an_element_is_built_anew_and_never_patched() {
    let document = web_sys::window().unwrap().document().unwrap();
    let root: web_sys::HtmlElement = document.create_element("div").unwrap().unchecked_into();
    document.body().unwrap().append_child(&root).unwrap();
    let round = Rc::new(Cell::new(None));
    let taps = Arc::new(AtomicU32::new(0));
    let mounted = mount_to(root.clone(), {
        let round_of = round.clone();
        let taps = taps.clone();
        move || {
            let round = RwSignal::new(0);
            round_of.set(Some(round));
            live(move || {
                let taps = taps.clone();
                let first = (round.get() == 0).then_some("first");
                element("button")
                    .attr(first.unwrap_or("data-later"), "")
                    .on("click", move |_| {
                        taps.fetch_add(1, Ordering::Relaxed);
                    })
                    .child(round.get().to_string())
            })
            .node()
        }
    });
    let button = || -> web_sys::HtmlElement {
        root.query_selector("button")
            .unwrap()
            .unwrap()
            .unchecked_into()
    };
    tick().await;
    let before = button();
    assert!(before.has_attribute("first"));
    for next in 1..4 {
        round.get().unwrap().set(next);
        tick().await;
    }
    let after = button();
    assert!(
        !after.is_same_node(Some(&before)),
        "Leptos patched the element"
    );
    assert_eq!(after.text_content().as_deref(), Some("3"));
    assert!(!after.has_attribute("first"), "{}", root.inner_html());
    after.click();
    assert_eq!(taps.load(Ordering::Relaxed), 1, "one tap, one call");
    drop(mounted);
    root.remove();
}
