//! Elements of the page, all of one type.
//!
//! Leptos' `view!` gives every element a type of its own, and with it code of
//! its own: this page came to 162 kB packed that way, of which two thirds
//! were such code. Here an element is a value: Leptos builds and rebuilds it,
//! and its type is written out once.

use crate::ui::kit::follow::let_go_at_the_end;
use leptos::html::{ElementChild, custom};
use leptos::prelude::*;
use leptos::tachys::html::directive::directive;
use leptos::wasm_bindgen::closure::Closure;
use leptos::wasm_bindgen::{JsCast, JsValue};
use leptos::web_sys;
use std::borrow::Cow;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::prelude::wasm_bindgen;

/// An element to be. Boxed, and its methods kept whole: views are mostly calls
/// of these, and moving a pointer takes less code than moving its parts.
pub struct Element(Box<Parts>);

struct Parts {
    tag: &'static str,
    setup: Vec<Setup>,
    children: Vec<AnyView>,
}

/// What is done to an element once it exists.
enum Setup {
    Attribute(&'static str, Cow<'static, str>),
    Live(&'static str, Box<dyn Fn() -> Option<String>>),
    Property(Box<dyn Fn(&web_sys::Element)>),
    On(&'static str, Box<dyn FnMut(web_sys::Event)>),
}

/// An element of the given tag, in small letters.
///
/// Leptos compares that with the capitals a browser answers in, finds them to
/// differ and builds the element anew instead of patching it. This module
/// counts on it: what `setup` did is never done twice to one element.
#[inline(never)]
pub fn element(tag: &'static str) -> Element {
    Element(Box::new(Parts {
        tag,
        setup: Vec::new(),
        children: Vec::new(),
    }))
}

/// What can stand inside an element.
pub trait Node {
    /// As a view.
    fn node(self) -> AnyView;
}

impl Node for AnyView {
    fn node(self) -> AnyView {
        self
    }
}

impl Node for String {
    fn node(self) -> AnyView {
        self.into_any()
    }
}

impl Node for &'static str {
    fn node(self) -> AnyView {
        self.to_owned().into_any()
    }
}

impl<T: Node> Node for Option<T> {
    fn node(self) -> AnyView {
        match self {
            Some(node) => node.node(),
            None => ().into_any(),
        }
    }
}

impl<T: Node> Node for Vec<T> {
    fn node(self) -> AnyView {
        self.into_iter()
            .map(Node::node)
            .collect::<Vec<AnyView>>()
            .into_any()
    }
}

impl Node for Element {
    #[inline(never)]
    fn node(self) -> AnyView {
        let Parts {
            tag,
            setup,
            children,
        } = *self.0;
        let setup = Rc::new(RefCell::new(setup));
        custom(tag)
            .add_any_attr(directive(
                set_up as fn(web_sys::Element, Rc<RefCell<Vec<Setup>>>),
                setup,
            ))
            .child(children)
            .into_any()
    }
}

/// A part of the page that follows what `view` reads.
pub fn live<T: Node>(view: impl Fn() -> T + Send + 'static) -> AnyView {
    boxed_live(Box::new(move || view().node()))
}

/// Not within [`live`]: a closure in there would be of a type of its own for
/// every use, and bring Leptos' code for it along each time.
#[inline(never)]
fn boxed_live(view: Box<dyn Fn() -> AnyView + Send>) -> AnyView {
    (move || {
        let_go_at_the_end();
        view()
    })
    .into_any()
}

impl Element {
    #[inline(never)]
    fn set(mut self, step: Setup) -> Self {
        self.0.setup.push(step);
        self
    }

    #[inline(never)]
    fn push(mut self, node: AnyView) -> Self {
        self.0.children.push(node);
        self
    }

    /// Adds `node` inside, at the end.
    pub fn child(self, node: impl Node) -> Self {
        self.push(node.node())
    }

    /// Adds a part that follows what `view` reads.
    pub fn live<T: Node>(self, view: impl Fn() -> T + Send + 'static) -> Self {
        self.push(live(view))
    }

    /// Sets an attribute.
    pub fn attr(self, name: &'static str, value: impl Into<Cow<'static, str>>) -> Self {
        self.set(Setup::Attribute(name, value.into()))
    }

    /// Sets the class.
    #[inline(never)]
    pub fn class(self, class: &'static str) -> Self {
        self.set(Setup::Attribute("class", Cow::Borrowed(class)))
    }

    /// Keeps an attribute at what `value` gives; without it where that is nothing.
    pub fn attr_live(
        self,
        name: &'static str,
        value: impl Fn() -> Option<String> + 'static,
    ) -> Self {
        self.set(Setup::Live(name, Box::new(value)))
    }

    /// Keeps the text in an input at what `value` gives.
    pub fn value_live(self, value: impl Fn() -> String + 'static) -> Self {
        self.set(Setup::Property(Box::new(move |element| {
            let now = value();
            if let Some(input) = element.dyn_ref::<web_sys::HtmlInputElement>()
                // Setting the same text would move the caret to its end.
                && input.value() != now
            {
                input.set_value(&now);
            }
        })))
    }

    /// Keeps a box or radio key ticked as `checked` gives.
    pub fn checked_live(self, checked: impl Fn() -> bool + 'static) -> Self {
        self.set(Setup::Property(Box::new(move |element| {
            if let Some(input) = element.dyn_ref::<web_sys::HtmlInputElement>() {
                input.set_checked(checked());
            }
        })))
    }

    /// Sets the markup inside; for drawings of our own making only.
    pub fn markup(self, markup: String) -> Self {
        self.markup_live(move || markup.clone())
    }

    /// Keeps the markup inside at what `markup` gives; for drawings of our own
    /// making only.
    pub fn markup_live(self, markup: impl Fn() -> String + 'static) -> Self {
        self.set(Setup::Property(Box::new(move |element| {
            // What is no drawing is refused, and nothing is drawn.
            if let Ok(trusted) = trusted(&markup()) {
                let _ = element.unchecked_ref::<Drawn>().set_markup(&trusted);
            }
        })))
    }

    /// Calls `act` on an event.
    pub fn on(self, event: &'static str, act: impl FnMut(web_sys::Event) + 'static) -> Self {
        self.set(Setup::On(event, Box::new(act)))
    }
}

#[wasm_bindgen]
extern "C" {
    /// An element, as far as its markup goes. A string would be refused there:
    /// the page asks for Trusted Types.
    type Drawn;

    #[wasm_bindgen(method, setter = innerHTML, catch)]
    fn set_markup(this: &Drawn, markup: &JsValue) -> Result<(), JsValue>;

    /// Markup passed by the page's policy (`boot.js`), which knows drawings
    /// alone.
    #[wasm_bindgen(js_namespace = tyreside, js_name = createHTML, catch)]
    fn trusted(markup: &str) -> Result<JsValue, JsValue>;
}

fn set_up(element: web_sys::Element, setup: Rc<RefCell<Vec<Setup>>>) {
    for step in setup.take() {
        // Names are literals of ours, so the browser refuses none of these.
        match step {
            Setup::Attribute(name, value) => {
                let _ = element.set_attribute(name, &value);
            }
            Setup::Live(name, value) => {
                let element = element.clone();
                follow(Box::new(move || {
                    let _ = match value() {
                        Some(value) => element.set_attribute(name, &value),
                        None => element.remove_attribute(name),
                    };
                }));
            }
            Setup::Property(set) => {
                let element = element.clone();
                follow(Box::new(move || set(&element)));
            }
            Setup::On(event, act) => {
                // Left to the browser's collector: an element on its way out
                // may still tell of losing the focus.
                let act = Closure::wrap(act).into_js_value();
                let _ = element.add_event_listener_with_callback(event, act.unchecked_ref());
            }
        }
    }
}

/// Runs `act` now and again whenever what it reads has changed, until the
/// part of the page that it belongs to goes.
fn follow(act: Box<dyn Fn()>) {
    #[expect(clippy::disallowed_methods, reason = "it lets go")]
    let effect = RenderEffect::new(move |_: Option<()>| {
        let_go_at_the_end();
        act();
    });
    StoredValue::new_local(effect);
}

/// The text in the input that an event is of.
pub fn typed(event: &web_sys::Event) -> String {
    event_target_value(event)
}
