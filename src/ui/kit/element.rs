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
    Live(&'static str, Box<dyn Now<Option<String>>>),
    Value(Box<dyn Now<String>>),
    Checked(Box<dyn Now<bool>>),
    Markup(Box<dyn Now<String>>),
    On(&'static str, Box<dyn Act>),
}

/// What gives a value whenever it is asked. A boxed `Fn` would do the same, and
/// keep three ways of being called in the program for each of hundreds of
/// closures.
trait Now<T> {
    fn now(&self) -> T;
}

impl<T, F: Fn() -> T> Now<T> for F {
    fn now(&self) -> T {
        self()
    }
}

/// What is done on an event; a trait for the same reason.
trait Act {
    fn act(&mut self, event: web_sys::Event);
}

impl<F: FnMut(web_sys::Event)> Act for F {
    fn act(&mut self, event: web_sys::Event) {
        self(event);
    }
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
fn boxed_live(view: Box<dyn Now<AnyView> + Send>) -> AnyView {
    (move || {
        let_go_at_the_end();
        view.now()
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
        self.set(Setup::Value(Box::new(value)))
    }

    /// Keeps a box or radio key ticked as `checked` gives.
    pub fn checked_live(self, checked: impl Fn() -> bool + 'static) -> Self {
        self.set(Setup::Checked(Box::new(checked)))
    }

    /// Sets the markup inside; for drawings of our own making only.
    pub fn markup(self, markup: String) -> Self {
        self.markup_live(move || markup.clone())
    }

    /// Keeps the markup inside at what `markup` gives; for drawings of our own
    /// making only.
    pub fn markup_live(self, markup: impl Fn() -> String + 'static) -> Self {
        self.set(Setup::Markup(Box::new(markup)))
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
                follow(move || {
                    let _ = match value.now() {
                        Some(value) => element.set_attribute(name, &value),
                        None => element.remove_attribute(name),
                    };
                });
            }
            Setup::Value(value) => {
                let element = element.clone();
                follow(move || {
                    let now = value.now();
                    if let Some(input) = element.dyn_ref::<web_sys::HtmlInputElement>()
                        // Setting the same text would move the caret to its end.
                        && input.value() != now
                    {
                        input.set_value(&now);
                    }
                });
            }
            Setup::Checked(checked) => {
                let element = element.clone();
                follow(move || {
                    if let Some(input) = element.dyn_ref::<web_sys::HtmlInputElement>() {
                        input.set_checked(checked.now());
                    }
                });
            }
            Setup::Markup(markup) => {
                let element = element.clone();
                follow(move || {
                    // What is no drawing is refused, and nothing is drawn.
                    if let Ok(trusted) = trusted(&markup.now()) {
                        let _ = element.unchecked_ref::<Drawn>().set_markup(&trusted);
                    }
                });
            }
            Setup::On(event, mut act) => {
                // Left to the browser's collector: an element on its way out
                // may still tell of losing the focus.
                let act = Closure::<dyn FnMut(web_sys::Event)>::new(move |event| act.act(event));
                let act = act.into_js_value();
                let _ = element.add_event_listener_with_callback(event, act.unchecked_ref());
            }
        }
    }
}

/// Runs `act` now and again whenever what it reads has changed, until the
/// part of the page that it belongs to goes.
fn follow(act: impl Fn() + 'static) {
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
