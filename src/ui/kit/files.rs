//! Texts as files to save.

use super::element::Element;
use super::fields::link;
use leptos::wasm_bindgen::JsCast;
use leptos::web_sys::Element as Target;
use leptos::web_sys::js_sys::encode_uri_component;

/// What a file holds.
#[derive(Clone, Copy)]
pub enum Kind {
    /// Rigs.
    Json,
    /// Dates (RFC 5545).
    Calendar,
    /// A table (RFC 4180).
    Table,
}

/// The address of a text that a link saves as a file.
pub fn href(kind: Kind, text: &str) -> String {
    let kind = match kind {
        Kind::Json => "application/json",
        Kind::Calendar => "text/calendar",
        Kind::Table => "text/csv",
    };
    format!(
        "data:{kind};charset=utf-8,{}",
        String::from(encode_uri_component(text))
    )
}

/// A link that saves a text as a file of this name. The text is asked for when
/// it is tapped: before, it may be changed with every keystroke.
pub fn save(
    kind: Kind,
    label: &'static str,
    name: &'static str,
    text: impl Fn() -> String + 'static,
) -> Element {
    link(label, "#")
        .attr("download", name)
        .on("click", move |event| {
            let link = event.current_target();
            if let Some(link) = link.and_then(|link| link.dyn_into::<Target>().ok()) {
                // It is an address of this page's own making.
                let _ = link.set_attribute("href", &href(kind, &text()));
            }
        })
}
