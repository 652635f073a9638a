//! One rig by a link: as a QR code, by the phone's own sharing, or copied.

use super::{qr, words};
use crate::store::file::Sections;
use crate::store::link::{self, Extent};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, Node, element};
use crate::ui::kit::fields::{button, buttons, paragraph};
use crate::ui::kit::parts::part;
use crate::ui::kit::{clock, lots};
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos::wasm_bindgen::{JsCast, JsValue};
use leptos::web_sys::js_sys::{Array, Reflect};
use leptos::web_sys::{File, FilePropertyBag, HtmlInputElement, ShareData};
use wasm_bindgen_futures::JsFuture;

const LINK: &str = "rig-link";

/// The part of the view.
pub(super) fn share(state: State) -> Element {
    let shown = RwSignal::new(None::<Sections>);
    let show = move || {
        // A code that is shown may be scanned: from here on it is a copy.
        let of_current = state.with_shelf(|garage, shelf| {
            let current = garage.current_id();
            let day = clock::now_day();
            garage.copy_out(shelf, &|id| id == current, &mut lots::draw, day)
        });
        shown.set(of_current.into_iter().next());
    };
    part("link-heading", "A link and a code")
        .child(paragraph("hint", words::LINK))
        .live(move || {
            shown.with(|sections| match sections {
                None => {
                    buttons().child(button("Show the link and its code", show).class("primary"))
                }
                Some(sections) => of(sections),
            })
        })
}

/// The address of this page.
fn address() -> String {
    let location = window().location();
    let origin = location.origin().unwrap_or_default();
    origin + &location.pathname().unwrap_or_default()
}

fn of(sections: &Sections) -> Element {
    let links = [Extent::Whole, Extent::Rig]
        .map(|extent| link::write(&link::carried(sections, extent)).ok());
    let box_ = element("div").class("link");
    let Some(at) = links.iter().position(Option::is_some) else {
        return box_.child(paragraph("", words::NO_LINK));
    };
    let address = address();
    let codes = links.iter().map(|link| {
        let code = qr::code(&address, link.as_deref()?)?;
        Some(qr::drawing(&code))
    });
    let codes: Vec<_> = codes.collect();
    let coded = codes.iter().position(Option::is_some);
    let code = match coded.and_then(|at| codes[at].clone()) {
        None => paragraph("", words::NO_CODE),
        Some(drawing) => element("figure")
            .child(
                element("div")
                    .class("qr")
                    .attr("role", "img")
                    .attr("aria-label", "QR code of the link")
                    .markup(drawing.svg),
            )
            .child(element("figcaption").child(words::SCAN)),
    };
    let in_short = |at: usize| links[at] != links[0];
    let link = format!("{address}#{}", links[at].as_deref().unwrap_or_default());
    box_.child(code)
        .child(
            (coded.is_some_and(in_short) && !in_short(at))
                .then(|| paragraph("", words::CODE_IN_SHORT)),
        )
        .child(in_short(at).then(|| paragraph("", words::LINK_IN_SHORT)))
        .child(text(link))
        .child(paragraph("hint", words::NO_LOG))
}

/// The link as a text, and the ways in which it leaves.
fn text(link: String) -> Element {
    let said = RwSignal::new("");
    let field = element("input")
        .attr("id", LINK)
        .attr("type", "text")
        .attr("readonly", "")
        .attr("value", link.clone())
        .on("focus", |_| select());
    let copied = link.clone();
    let copy = button("Copy the link", move || copy(&copied, said));
    let share = can("share").then(|| {
        button("Share the link…", move || {
            let data = ShareData::new();
            data.set_title("A rig for Tyreside");
            data.set_url(&link);
            send(&data);
        })
    });
    element("div")
        .child(buttons().child(share.map(Element::node)).child(copy))
        .child(
            element("p")
                .class("said")
                .attr("role", "status")
                .live(move || said.get()),
        )
        .child(
            element("div")
                .class("field")
                .child(element("label").attr("for", LINK).child("The link"))
                .child(field),
        )
}

fn select() {
    let field = document().get_element_by_id(LINK);
    if let Some(field) = field.and_then(|field| field.dyn_into::<HtmlInputElement>().ok()) {
        field.select();
    }
}

fn copy(link: &str, said: RwSignal<&'static str>) {
    const BY_HAND: &str = "This browser does not let a page copy. The link is selected below: copy \
                           it from there.";
    let clipboard = window().navigator().clipboard();
    // Where the page is not served safely, there is none.
    if clipboard.is_undefined() {
        said.set(BY_HAND);
        crate::ui::kit::fields::focus_soon(LINK.to_owned());
        return;
    }
    let copied = clipboard.write_text(link);
    spawn_local(async move {
        let done = JsFuture::from(copied).await.is_ok();
        said.set(if done { "Copied." } else { BY_HAND });
        if !done {
            crate::ui::kit::fields::focus_soon(LINK.to_owned());
        }
    });
}

/// Whether the phone has a way of its own for this.
fn can(name: &str) -> bool {
    let navigator: JsValue = window().navigator().into();
    Reflect::has(&navigator, &name.into()).unwrap_or(false)
}

fn send(data: &ShareData) {
    let shared = window().navigator().share_with_data(data);
    spawn_local(async move {
        // Waved away, it is no mistake.
        let _ = JsFuture::from(shared).await;
    });
}

/// A key that hands a file to the phone's own sharing, where it takes one.
pub(super) fn file_key(name: &'static str, text: impl Fn() -> String + 'static) -> Option<Element> {
    if !can("canShare") || file_data(name, "{}").is_none() {
        return None;
    }
    Some(button("Share the file…", move || {
        if let Some(data) = file_data(name, &text()) {
            send(&data);
        }
    }))
}

/// A file as it is shared: where a browser lets no JSON pass, as a plain text.
fn file_data(name: &str, text: &str) -> Option<ShareData> {
    let kinds = [
        (name.to_owned(), "application/json"),
        (
            name.trim_end_matches(".json").to_owned() + ".txt",
            "text/plain",
        ),
    ];
    kinds.into_iter().find_map(|(name, kind)| {
        let options = FilePropertyBag::new();
        options.set_type(kind);
        let parts = Array::of1(&JsValue::from_str(text));
        let file = File::new_with_str_sequence_and_options(&parts, &name, &options).ok()?;
        let data = ShareData::new();
        data.set_files(&Array::of1(&file));
        let navigator = window().navigator();
        navigator.can_share_with_data(&data).then_some(data)
    })
}
