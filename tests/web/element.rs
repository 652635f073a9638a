//! Content that is worked out again becomes what it is to be, whatever it was.

use crate::page::tick;
use leptos::mount::mount_to_renderer;
use leptos::prelude::*;
use std::cell::Cell;
use std::rc::Rc;
use tyreside::ui::kit::element::{Content, Element, Node, element, live};
use wasm_bindgen::JsCast;
use wasm_bindgen_test::{console_log, wasm_bindgen_test};

/// The signals that a page follows: the round, and the turn within it.
type Held = Rc<Cell<Option<(RwSignal<u32>, RwSignal<u32>)>>>;

/// A place of its own in the page.
fn place() -> web_sys::Element {
    let document = web_sys::window().unwrap().document().unwrap();
    let root = document.create_element("div").unwrap();
    document.body().unwrap().append_child(&root).unwrap();
    root
}

/// A repeatable choice of one of `of` (xorshift).
struct Choices(u32);

impl Choices {
    fn of(&mut self, of: u32) -> u32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 17;
        self.0 ^= self.0 << 5;
        self.0 % of
    }
}

/// What each random tree reads and does.
#[derive(Clone)]
struct Around {
    /// What parts of it follow.
    turn: RwSignal<u32>,
    /// The round of the tree whose key was tapped last, and how often one was.
    tapped: Rc<Cell<(u32, u32)>>,
    round: u32,
}

fn few(choices: &mut Choices, depth: u32, around: &Around) -> Vec<Content> {
    let count = choices.of(4);
    (0..count).map(|_| tree(choices, depth, around)).collect()
}

fn random_element(choices: &mut Choices, depth: u32, around: &Around) -> Element {
    let tags = ["div", "p", "span", "button", "input", "details"];
    let tag = tags[choices.of(6) as usize];
    let mut this = element(tag);
    if choices.of(2) == 0 {
        this = this.class(["figure", "warning"][choices.of(2) as usize]);
    }
    if choices.of(4) == 0 {
        this = this.attr("id", ["one", "other"][choices.of(2) as usize]);
    }
    if choices.of(4) == 0 {
        let (turn, with) = (around.turn, choices.of(3));
        this = this.attr_live("title", move || {
            ((turn.get() + with) % 3 > 0).then(|| format!("{with}"))
        });
    }
    if tag == "button" {
        let around = around.clone();
        this = this.on("click", move |_| {
            around.tapped.set((around.round, around.tapped.get().1 + 1));
        });
    }
    if depth == 0 || tag == "input" {
        return this;
    }
    let children = few(choices, depth - 1, around);
    children.into_iter().fold(this, Element::child)
}

fn tree(choices: &mut Choices, depth: u32, around: &Around) -> Content {
    match choices.of(8) {
        0 => Content::Nothing,
        1 | 2 => ["", "36 psi", "a<b"][choices.of(3) as usize].node(),
        3 if depth > 0 => few(choices, depth - 1, around).node(),
        4 if depth > 0 => {
            let (seed, around) = (choices.of(1 << 30) + 1, around.clone());
            live(move || tree(&mut Choices(seed + around.turn.get()), depth - 1, &around))
        }
        _ => random_element(choices, depth, around).node(),
    }
}

/// Random trees, each in place of another, and parts of them following a
/// signal: what stands is each time what would stand had it been built there
/// anew, and a key does what the newest tree says, once.
#[wasm_bindgen_test]
async fn what_is_changed_stands_as_if_it_were_built_anew() {
    let (root, fresh) = (place(), place());
    let (mut kept, mut built, mut taps) = (0, 0, 0);
    for seed in 1..=60 {
        let tapped = Rc::new(Cell::new((0, 0)));
        let told = tapped.clone();
        let held: Held = Rc::default();
        let hold = held.clone();
        let on = move |round: u32, turn, tapped: &Rc<Cell<_>>| {
            let around = Around {
                turn,
                tapped: tapped.clone(),
                round,
            };
            // Neighbouring trees are alike, so that some of each is changed.
            few(&mut Choices(seed * 977 + round / 2), 3, &around).node()
        };
        let mounted = mount_to_renderer(&root, move || {
            let (round, turn) = (RwSignal::new(0), RwSignal::new(0));
            hold.set(Some((round, turn)));
            vec![
                live(move || on(round.get(), turn, &tapped)),
                element("hr").node(),
            ]
            .node()
        });
        let (round, turn) = held.get().unwrap();
        for step in 1..40 {
            let was = all(&root);
            if step % 3 == 0 {
                turn.set(step);
            } else {
                round.set(step);
            }
            tick().await;
            let (round, at) = (round.get_untracked(), turn.get_untracked());
            let told_apart = Rc::default();
            let once = mount_to_renderer(&fresh, move || {
                vec![
                    on(round, RwSignal::new(at), &told_apart),
                    element("hr").node(),
                ]
                .node()
            });
            assert_eq!(
                root.inner_html(),
                fresh.inner_html(),
                "seed {seed}, step {step}"
            );
            drop(once);
            assert_eq!(fresh.inner_html(), "");
            for node in all(&root) {
                if was.iter().any(|other| other.is_same_node(Some(&node))) {
                    kept += 1;
                } else {
                    built += 1;
                }
            }
            let keys = root.query_selector_all("button").unwrap();
            for index in 0..keys.length() {
                // A key within a key is tapped with it.
                let key: web_sys::HtmlElement = keys.get(index).unwrap().unchecked_into();
                let around = (0..index).filter(|outer| {
                    let outer = keys.get(*outer).unwrap();
                    outer.contains(Some(&key))
                });
                let before = told.get().1;
                key.click();
                let calls = 1 + around.count() as u32;
                assert_eq!(
                    told.get(),
                    (round, before + calls),
                    "seed {seed}, step {step}"
                );
                taps += 1;
            }
        }
        drop(mounted);
        assert_eq!(root.inner_html(), "");
    }
    console_log!("{kept} elements kept, {built} built, {taps} keys tapped");
    assert!(kept > 500 && built > 500 && taps > 500);
    root.remove();
    fresh.remove();
}

fn all(root: &web_sys::Element) -> Vec<web_sys::Node> {
    let nodes = root.query_selector_all("*").unwrap();
    (0..nodes.length())
        .filter_map(|index| nodes.get(index))
        .collect()
}

/// What is nothing yet has its place all the same: what comes before it later
/// would otherwise stand behind it.
#[wasm_bindgen_test]
async fn what_is_nothing_yet_has_its_place() {
    let root = place();
    let held: Held = Rc::default();
    let hold = held.clone();
    let mounted = mount_to_renderer(&root, move || {
        let (round, turn) = (RwSignal::new(0), RwSignal::new(0));
        hold.set(Some((round, turn)));
        live(move || {
            element("p")
                .child((round.get() > 0).then_some("36"))
                .live(move || (turn.get() > 0).then_some(" psi"))
                .child(" cold")
        })
    });
    let (round, turn) = held.get().unwrap();
    for (signal, text) in [(round, "36 cold"), (turn, "36 psi cold")] {
        signal.set(1);
        tick().await;
        assert_eq!(root.text_content().as_deref(), Some(text));
    }
    drop(mounted);
    root.remove();
}

/// What a hand has changed is not taken over by what comes in its place: a text
/// typed into one field would otherwise stand in the next.
#[wasm_bindgen_test]
async fn a_field_is_never_made_into_another() {
    let root = place();
    let round: Rc<Cell<Option<RwSignal<u32>>>> = Rc::default();
    let hold = round.clone();
    let mounted = mount_to_renderer(&root, move || {
        let round = RwSignal::new(0);
        hold.set(Some(round));
        live(move || {
            element("p")
                .class("field")
                .child(round.get().to_string())
                .child(element("input").attr("type", "text"))
        })
    });
    let found = |what: &str| root.query_selector(what).unwrap().unwrap();
    let field: web_sys::HtmlInputElement = found("input").unchecked_into();
    let around = found("p");
    field.set_value("44");
    round.get().unwrap().set(1);
    tick().await;
    assert!(found("p").is_same_node(Some(&around)));
    assert_eq!(found("p").text_content().as_deref(), Some("1"));
    let field: web_sys::HtmlInputElement = found("input").unchecked_into();
    assert_eq!(field.value(), "");
    drop(mounted);
    root.remove();
}
