//! The rig from above: an axle diagram as mass regulations and weighbridge
//! tickets draw one. Front at the top, a line for each axle, a mark for each
//! tyre, the coupling between. Every view that asks 'which wheel?' shows it.

use super::check_words::Look;
use super::element::{Element, element};
use super::tyre_names;
use crate::rig::Place;
use crate::rig::position::{Side, TyrePosition, ends};
use crate::ui::frame::state::State;
use crate::ui::kit::element::Content;
use std::rc::Rc;

/// How a tyre stands in what is being done. Each has a shape of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Nothing was done yet.
    Open,
    /// It is this one's turn.
    Next,
    /// It is done.
    Done,
    /// It was passed over.
    Skipped,
    /// Its time has come.
    Due,
    /// Something is wrong with it.
    Wrong,
    /// It has no part in it.
    Out,
    /// As its view has it.
    As(&'static Look),
}

impl Standing {
    fn class(self) -> &'static str {
        match self {
            Self::Open => "tyre-mark",
            Self::Next => "tyre-mark next",
            Self::Done => "tyre-mark done",
            Self::Skipped => "tyre-mark skipped",
            Self::Due => "tyre-mark due",
            Self::Wrong => "tyre-mark wrong-mark",
            Self::Out => "tyre-mark out",
            Self::As(look) => look.class,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Self::Open => "",
            Self::Next => ", this one now",
            Self::Done => ", done",
            Self::Skipped => ", passed over",
            Self::Due => ", due",
            Self::Wrong => ", look at it",
            Self::Out => ", has no part in this",
            Self::As(look) => look.word,
        }
    }

    fn sign(self) -> &'static str {
        match self {
            Self::Open | Self::Out => "",
            Self::Next => "●",
            Self::Done => "✓",
            Self::Skipped => "–",
            Self::Due => "○",
            Self::Wrong => "!",
            Self::As(look) => look.sign,
        }
    }
}

/// What the marks of the tyres show and do.
#[derive(Clone)]
pub struct Marks {
    /// How a tyre stands; followed.
    pub standing: Rc<dyn Fn(TyrePosition) -> Standing>,
    /// What a tap on it does.
    pub press: Rc<dyn Fn(TyrePosition)>,
    /// Whether the two tyres of a pair are one mark: they hang on one hub, and
    /// its nuts hold both.
    pub by_wheel: bool,
}

/// How one tyre stands of those that were looked at.
pub fn standing_of(all: &[(TyrePosition, Standing)], at: TyrePosition) -> Standing {
    let found = all.iter().find(|(of, _)| *of == at);
    found.map_or(Standing::Open, |(_, standing)| *standing)
}

/// The drawing of the current rig as it is now; built anew by its caller when
/// axles come or go. `centre` gives what stands on the line of an axle group,
/// by its place in the rig's list; `marks` makes keys of the tyres.
pub fn rig_drawing(
    state: State,
    centre: &dyn Fn(usize) -> Content,
    marks: Option<Marks>,
) -> Element {
    let mut drawing = element("div")
        .class("rig-drawing")
        .attr("role", "group")
        .attr("aria-label", "The rig from above, front at the top");
    let mut towing = false;
    for index in state.rig_now(crate::rig::Rig::from_front) {
        let trailer = state.rig_now(|rig| rig.axles[index].place == Place::Trailer);
        if trailer && towing {
            drawing = drawing.child(coupling());
        }
        towing = !trailer;
        drawing = drawing.child(group(state, index, centre(index), marks.as_ref()));
    }
    drawing
}

/// The ball and the drawbar behind it.
fn coupling() -> Element {
    element("div")
        .class("coupling")
        .attr("aria-hidden", "true")
        .markup(
            "<svg viewBox=\"0 0 60 26\"><path d=\"M30 9 12 26M30 9 48 26\"/>\
             <circle cx=\"30\" cy=\"6\" r=\"5\"/></svg>"
                .to_owned(),
        )
}

fn group(state: State, index: usize, centre: Content, marks: Option<&Marks>) -> Element {
    let axles = state.rig_now(|rig| rig.axles[index].axles);
    let group = element("div")
        .attr("class", format!("axle-group of-{axles}"))
        .child(element("div").class("on-axle").child(centre));
    (0..axles).fold(group, |group, line| {
        let end = |side| {
            let class = match side {
                Side::Left => "end left",
                Side::Right => "end right",
            };
            let mut tyres = state.rig_now(|rig| ends(&rig.axles[index], index, line, side));
            if marks.is_some_and(|marks| marks.by_wheel) {
                tyres.truncate(1);
            }
            tyres
                .into_iter()
                .map(|at| mark(state, at, marks))
                .fold(element("div").class(class), Element::child)
        };
        group.child(end(Side::Left)).child(end(Side::Right))
    })
}

fn mark(state: State, at: TyrePosition, marks: Option<&Marks>) -> Element {
    let Some(marks) = marks.cloned() else {
        return element("span")
            .class("tyre-mark")
            .attr("aria-hidden", "true");
    };
    let Marks {
        standing,
        press,
        by_wheel,
    } = marks;
    let twin = by_wheel && at.pair.is_some();
    let at = match by_wheel {
        true => TyrePosition { pair: None, ..at },
        false => at,
    };
    let name = state.rig_now(|rig| tyre_names::tyre(rig, at));
    let (of_class, of_sign) = (Rc::clone(&standing), Rc::clone(&standing));
    let of_part = Rc::clone(&standing);
    element("button")
        .attr("type", "button")
        .attr_live("class", move || {
            let class = of_class(at).class();
            Some(format!("{class}{}", if twin { " twin" } else { "" }))
        })
        .attr_live("aria-disabled", move || {
            (of_part(at) == Standing::Out).then(|| "true".to_owned())
        })
        .attr_live("aria-label", move || {
            Some(name.clone() + standing(at).word())
        })
        .on("click", move |_| press(at))
        .child(sign(of_sign, at))
}

/// A sign in the tyre, besides its colour.
fn sign(standing: Rc<dyn Fn(TyrePosition) -> Standing>, at: TyrePosition) -> Element {
    // Set as a property, since what Leptos follows must be able to move
    // between threads, and this is not.
    element("span")
        .attr("aria-hidden", "true")
        .markup_live(move || standing(at).sign().to_owned())
}
