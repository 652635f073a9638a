//! Elements of the page, all of one type.
//!
//! Leptos' `view!` gives every element a type of its own, and with it code of
//! its own: this page came to 162 kB packed that way, of which two thirds
//! were such code. Here what is to stand somewhere is a value, [`Content`], and
//! what follows signals is Leptos' own effect. Where a part of the page is
//! worked out again, what stands there is changed into what it is to be: a
//! number whose text alone is new is laid out again, and nothing around it.

use crate::ui::kit::follow::let_go_at_the_end;
use leptos::prelude::*;
use leptos::wasm_bindgen::closure::Closure;
use leptos::wasm_bindgen::{JsCast, JsValue};
use leptos::web_sys;
use std::borrow::Cow;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::prelude::wasm_bindgen;

/// What is to stand somewhere in the page.
pub enum Content {
    /// Nothing.
    Nothing,
    /// A text.
    Text(Cow<'static, str>),
    /// An element.
    Element(Element),
    /// One after another.
    Several(Vec<Content>),
    /// What follows the signals that it reads.
    Live(Live),
}

/// A closure that gives content, asked again when what it reads has changed.
pub struct Live(Box<dyn Now<Content>>);

/// An element to be. Boxed, and its methods kept whole: views are mostly calls
/// of these, and moving a pointer takes less code than moving its parts.
pub struct Element(Box<Parts>);

struct Parts {
    tag: &'static str,
    setup: Vec<Setup>,
    children: Vec<Content>,
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
    /// As content.
    fn node(self) -> Content;
}

impl Node for Content {
    fn node(self) -> Content {
        self
    }
}

impl Node for String {
    fn node(self) -> Content {
        Content::Text(self.into())
    }
}

impl Node for &'static str {
    fn node(self) -> Content {
        Content::Text(self.into())
    }
}

impl Node for Cow<'static, str> {
    fn node(self) -> Content {
        Content::Text(self)
    }
}

impl<T: Node> Node for Option<T> {
    fn node(self) -> Content {
        self.map_or(Content::Nothing, Node::node)
    }
}

impl<T: Node> Node for Vec<T> {
    fn node(self) -> Content {
        Content::Several(self.into_iter().map(Node::node).collect())
    }
}

impl Node for Element {
    fn node(self) -> Content {
        Content::Element(self)
    }
}

/// A part of the page that follows what `view` reads.
pub fn live<T: Node>(view: impl Fn() -> T + 'static) -> Content {
    Content::Live(Live(Box::new(move || view().node())))
}

impl Element {
    #[inline(never)]
    fn set(mut self, step: Setup) -> Self {
        self.0.setup.push(step);
        self
    }

    #[inline(never)]
    fn push(mut self, node: Content) -> Self {
        self.0.children.push(node);
        self
    }

    /// Adds `node` inside, at the end.
    pub fn child(self, node: impl Node) -> Self {
        self.push(node.node())
    }

    /// Adds a part that follows what `view` reads.
    pub fn live<T: Node>(self, view: impl Fn() -> T + 'static) -> Self {
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

/// Content as it stands in the page.
pub struct Built(Stands);

enum Stands {
    Nothing,
    Text(web_sys::Text, Cow<'static, str>),
    Element(BuiltElement),
    Several(Vec<Stands>),
    Live(BuiltLive),
}

struct BuiltElement {
    node: web_sys::Element,
    tag: &'static str,
    setup: Vec<Done>,
    children: Vec<Stands>,
}

/// A setup step as it was done. Effects are held as long as they are to run.
enum Done {
    Attribute(&'static str, Cow<'static, str>),
    Follows {
        what: Follows,
        _effect: RenderEffect<()>,
    },
    On(&'static str, Rc<RefCell<Box<dyn Act>>>),
}

/// What of an element follows signals.
#[derive(PartialEq)]
enum Follows {
    Attribute(&'static str),
    Value,
    Checked,
    Markup,
}

struct BuiltLive {
    content: Rc<RefCell<Stands>>,
    /// An empty text behind the content: where it stands when it is nothing.
    end: web_sys::Node,
    _effect: RenderEffect<()>,
}

/// Where something stands among its siblings: what follows it.
struct Before<'a> {
    following: &'a [Stands],
    /// What follows all of those.
    then: Option<&'a Before<'a>>,
    end: Option<&'a web_sys::Node>,
}

impl Before<'_> {
    fn node(&self) -> Option<web_sys::Node> {
        let first = self.following.iter().find_map(Stands::first);
        first
            .or_else(|| self.then.and_then(Before::node))
            .or_else(|| self.end.cloned())
    }
}

impl Render for Content {
    type State = Built;

    fn build(self) -> Built {
        Built(build(self))
    }

    fn rebuild(self, was: &mut Built) {
        let mut now = self.build();
        was.insert_before_this(&mut now);
        was.unmount();
        *was = now;
    }
}

impl Mountable for Built {
    fn unmount(&mut self) {
        self.0.remove();
    }

    fn mount(&mut self, parent: &web_sys::Element, before: Option<&web_sys::Node>) {
        self.0.place(parent, before);
    }

    fn insert_before_this(&self, child: &mut dyn Mountable) -> bool {
        let first = self.0.first();
        let parent = first.as_ref().and_then(web_sys::Node::parent_element);
        if let Some(parent) = &parent {
            child.mount(parent, first.as_ref());
        }
        parent.is_some()
    }

    fn elements(&self) -> Vec<web_sys::Element> {
        let mut elements = Vec::new();
        self.0
            .each(&mut |node| elements.extend(node.dyn_ref().cloned()));
        elements
    }
}

fn text_node(text: &str) -> web_sys::Text {
    document().create_text_node(text)
}

#[inline(never)]
fn build(content: Content) -> Stands {
    match content {
        Content::Nothing => Stands::Nothing,
        Content::Text(text) => Stands::Text(text_node(&text), text),
        Content::Several(all) => Stands::Several(all.into_iter().map(build).collect()),
        Content::Live(Live(view)) => {
            let content = Rc::new(RefCell::new(Stands::Nothing));
            Stands::Live(follow_content(view, content, text_node("").into()))
        }
        Content::Element(Element(parts)) => {
            let Parts {
                tag,
                setup,
                children,
            } = *parts;
            // Tags are literals of ours, so the browser refuses none.
            let node = document().create_element(tag).expect("a tag");
            let setup = setup.into_iter().map(|step| step.done_to(&node)).collect();
            let children: Vec<Stands> = children.into_iter().map(build).collect();
            for child in &children {
                child.place(&node, None);
            }
            Stands::Element(BuiltElement {
                node,
                tag,
                setup,
                children,
            })
        }
    }
}

/// Keeps what stands before `end` at what `view` gives.
fn follow_content(
    view: Box<dyn Now<Content>>,
    content: Rc<RefCell<Stands>>,
    end: web_sys::Node,
) -> BuiltLive {
    let effect = follow(Box::new({
        // An effect that was dropped keeps what it holds for a while: the
        // effects in there are not to live on with it.
        let (content, end) = (Rc::downgrade(&content), end.clone());
        move || {
            let Some(content) = content.upgrade() else {
                return;
            };
            let now = view.now();
            let mut content = content.borrow_mut();
            match end.parent_node() {
                Some(parent) => content.change_into(
                    now,
                    &parent,
                    &Before {
                        following: &[],
                        then: None,
                        end: Some(&end),
                    },
                ),
                // Not yet in the page.
                None => *content = build(now),
            }
        }
    }));
    BuiltLive {
        content,
        end,
        _effect: effect,
    }
}

impl Stands {
    /// The first node of it.
    fn first(&self) -> Option<web_sys::Node> {
        match self {
            Self::Nothing => None,
            Self::Text(node, _) => Some(node.clone().into()),
            Self::Element(element) => Some(element.node.clone().into()),
            Self::Several(all) => all.iter().find_map(Self::first),
            Self::Live(live) => {
                let first = live.content.borrow().first();
                first.or_else(|| Some(live.end.clone()))
            }
        }
    }

    /// Calls `act` with every node that stands next to it, in order.
    fn each(&self, act: &mut dyn FnMut(&web_sys::Node)) {
        match self {
            Self::Nothing => {}
            Self::Text(node, _) => act(node),
            Self::Element(element) => act(&element.node),
            Self::Several(all) => all.iter().for_each(|one| one.each(act)),
            Self::Live(live) => {
                live.content.borrow().each(act);
                act(&live.end);
            }
        }
    }

    fn remove(&self) {
        self.each(&mut |node| {
            if let Some(parent) = node.parent_node() {
                let _ = parent.remove_child(node);
            }
        });
    }

    fn place(&self, parent: &web_sys::Node, before: Option<&web_sys::Node>) {
        self.each(&mut |node| {
            let _ = parent.insert_before(node, before);
        });
    }

    /// Makes what stands here what it is to be.
    #[inline(never)]
    fn change_into(&mut self, now: Content, parent: &web_sys::Node, before: &Before) {
        match (&mut *self, now) {
            (Self::Nothing, Content::Nothing) => {}
            (Self::Text(node, was), Content::Text(now)) => {
                if *was != now {
                    node.set_data(&now);
                    *was = now;
                }
            }
            (Self::Element(element), Content::Element(Element(now))) if element.fits(&now) => {
                element.change_into(*now);
            }
            (Self::Several(all), Content::Several(now)) if all.len() == now.len() => {
                change_all(all, now, parent, Some(before));
            }
            (Self::Live(live), Content::Live(Live(view))) => {
                *live = follow_content(view, live.content.clone(), live.end.clone());
            }
            (_, now) => {
                let now = build(now);
                let first = self.first().or_else(|| before.node());
                now.place(parent, first.as_ref());
                self.remove();
                *self = now;
            }
        }
    }
}

fn change_all(
    all: &mut [Stands],
    now: Vec<Content>,
    parent: &web_sys::Node,
    then: Option<&Before>,
) {
    let mut rest = all;
    for now in now {
        let Some((one, following)) = rest.split_first_mut() else {
            return;
        };
        let before = Before {
            following,
            then,
            end: None,
        };
        one.change_into(now, parent, &before);
        rest = following;
    }
}

impl BuiltElement {
    /// Whether it can become the other by changing texts and attributes. What a
    /// hand may have changed never does, nor what is known by its name.
    fn fits(&self, other: &Parts) -> bool {
        !matches!(self.tag, "input" | "select" | "textarea" | "details")
            && self.tag == other.tag
            && self.children.len() == other.children.len()
            && self.setup.len() == other.setup.len()
            && self
                .setup
                .iter()
                .zip(&other.setup)
                .all(|(done, step)| match (done, step) {
                    (Done::Attribute("id", was), Setup::Attribute("id", now)) => was == now,
                    (Done::Attribute(was, _), Setup::Attribute(now, _))
                    | (Done::On(was, _), Setup::On(now, _)) => was == now,
                    (Done::Follows { what, .. }, step) => {
                        step.follows().is_some_and(|now| *what == now)
                    }
                    _ => false,
                })
    }

    fn change_into(&mut self, now: Parts) {
        for (done, step) in self.setup.iter_mut().zip(now.setup) {
            match (done, step) {
                (Done::Attribute(_, was), Setup::Attribute(name, now)) => {
                    if *was != now {
                        let _ = self.node.set_attribute(name, &now);
                        *was = now;
                    }
                }
                (Done::On(_, was), Setup::On(_, now)) => *was.borrow_mut() = now,
                (done, step) => *done = step.done_to(&self.node),
            }
        }
        change_all(&mut self.children, now.children, &self.node, None);
    }
}

impl Done {
    fn follows(what: Follows, act: Box<dyn Now<()>>) -> Self {
        Self::Follows {
            what,
            _effect: follow(act),
        }
    }
}

impl Setup {
    fn follows(&self) -> Option<Follows> {
        match self {
            Self::Live(name, _) => Some(Follows::Attribute(name)),
            Self::Value(_) => Some(Follows::Value),
            Self::Checked(_) => Some(Follows::Checked),
            Self::Markup(_) => Some(Follows::Markup),
            Self::Attribute(..) | Self::On(..) => None,
        }
    }

    // Names are literals of ours, so the browser refuses none of these.
    #[inline(never)]
    fn done_to(self, element: &web_sys::Element) -> Done {
        let element = element.clone();
        match self {
            Self::Attribute(name, value) => {
                let _ = element.set_attribute(name, &value);
                Done::Attribute(name, value)
            }
            Self::Live(name, value) => Done::follows(
                Follows::Attribute(name),
                Box::new(move || {
                    let _ = match value.now() {
                        Some(value) => element.set_attribute(name, &value),
                        None => element.remove_attribute(name),
                    };
                }),
            ),
            Self::Value(value) => Done::follows(
                Follows::Value,
                Box::new(move || {
                    let now = value.now();
                    if let Some(input) = element.dyn_ref::<web_sys::HtmlInputElement>()
                        // Setting the same text would move the caret to its end.
                        && input.value() != now
                    {
                        input.set_value(&now);
                    }
                }),
            ),
            Self::Checked(checked) => Done::follows(
                Follows::Checked,
                Box::new(move || {
                    if let Some(input) = element.dyn_ref::<web_sys::HtmlInputElement>() {
                        input.set_checked(checked.now());
                    }
                }),
            ),
            Self::Markup(markup) => Done::follows(
                Follows::Markup,
                Box::new(move || {
                    // What is no drawing is refused, and nothing is drawn.
                    if let Ok(trusted) = trusted(&markup.now()) {
                        let _ = element.unchecked_ref::<Drawn>().set_markup(&trusted);
                    }
                }),
            ),
            Self::On(event, act) => {
                let act = Rc::new(RefCell::new(act));
                let called = act.clone();
                // Left to the browser's collector: an element on its way out
                // may still tell of losing the focus.
                let called = Closure::<dyn FnMut(web_sys::Event)>::new(move |event| {
                    called.borrow_mut().act(event);
                });
                let called = called.into_js_value();
                let _ = element.add_event_listener_with_callback(event, called.unchecked_ref());
                Done::On(event, act)
            }
        }
    }
}

/// Runs `act` now and again whenever what it reads has changed, until the
/// part of the page that it belongs to goes.
#[inline(never)]
fn follow(act: Box<dyn Now<()>>) -> RenderEffect<()> {
    #[expect(clippy::disallowed_methods, reason = "it lets go")]
    RenderEffect::new(move |_: Option<()>| {
        let_go_at_the_end();
        act.now();
    })
}

/// The text in the input that an event is of.
pub fn typed(event: &web_sys::Event) -> String {
    event_target_value(event)
}
