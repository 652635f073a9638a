//! The age and the tread of each tyre.

use super::words;
use crate::calc::limits::{Field, Unit};
use crate::calc::tyre::wear::{Age, DateCode, DateCodeError, Tread};
use crate::rig::checks::due::depth;
use crate::rig::checks::{Checks, TyreFacts};
use crate::rig::position::Spot;
use crate::rig::typed::Typed;
use crate::rig::{Owner, Rig};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, element, live, typed};
use crate::ui::kit::fields::{
    NumberField, Slot, button, buttons, field_class, focus_soon, paragraph, soon_left,
};
use crate::ui::kit::format::Entry;
use crate::ui::kit::parts::closed;
use crate::ui::kit::rig_drawing::{Marks, Standing, rig_drawing};
use crate::ui::kit::{check_words, clock, tyre_names};
use leptos::prelude::*;
use std::rc::Rc;

const MADE: &str = "tyre-made";

/// The part of the view.
pub fn view(state: State) -> Content {
    let chosen = RwSignal::new(None::<Spot>);
    // A code taken over from another tyre is drawn anew.
    let copied = RwSignal::new(0_u32);
    let standing = move |at| {
        let spot = state.rig(|rig| rig.spot_of(at));
        if chosen.get() == Some(spot) {
            return Standing::Next;
        }
        let checks = state.section::<Checks>();
        checks.read(|checks| match checks.tyre(spot) {
            Some(facts) if is_bad(facts) => Standing::Wrong,
            Some(facts) if facts.made_day().is_some() || facts.tread.is_some() => Standing::Done,
            _ => Standing::Open,
        })
    };
    let marks = Marks {
        by_wheel: false,
        standing: Rc::new(standing),
        press: Rc::new(move |at| {
            chosen.set(Some(state.rig_now(|rig| rig.spot_of(at))));
            focus_soon(MADE.to_owned());
        }),
    };
    let centre = |index| {
        let name = state.rig_now(|rig| tyre_names::group(rig, index));
        element("span").class("axle-name").child(name).node()
    };
    closed("Tyres: age and tread")
        .child(paragraph("hint", "Tap a tyre."))
        .child(
            element("div")
                .class("round")
                .child(rig_drawing(state, &centre, Some(marks))),
        )
        .child(live(move || {
            copied.track();
            chosen.get().map(|spot| entry(state, spot, copied))
        }))
        .child(paragraph(
            "hint",
            "Law: 1.5 mm in Australia (WA Road Traffic (Vehicles) Regulations 2014, reg 270), 1.6 \
             mm in the UK; elsewhere ask. Age: a vehicle maker’s service information has a yearly \
             look from 5 years and an end at 10; your makers come first.",
        ))
        .node()
}

fn is_bad(facts: &TyreFacts) -> bool {
    let worn = facts.tread.and_then(|tread| Tread::of(depth(tread)).ok());
    worn == Some(Tread::WornOut)
        || facts
            .age(clock::today())
            .is_some_and(|(_, age)| age == Age::Replace)
        || DateCode::read(&facts.made) == Err(DateCodeError::ThreeDigits)
}

fn facts(state: State, spot: Spot) -> TyreFacts {
    let checks = state.section::<Checks>();
    checks.read(|checks| {
        let facts = checks.tyre(spot).cloned();
        facts.unwrap_or_else(|| TyreFacts::of(spot))
    })
}

fn entry(state: State, spot: Spot, copied: RwSignal<u32>) -> Element {
    let checks = state.section::<Checks>();
    let name = state.rig_now(|rig| check_words::tyre(rig, spot));
    let left = RwSignal::new(true);
    let wrong = move || {
        let code = DateCode::read(&facts(state, spot).made);
        left.get() && !matches!(code, Ok(_) | Err(DateCodeError::Empty))
    };
    let input = element("input")
        .attr("id", MADE)
        .attr("type", "text")
        .attr("inputmode", "numeric")
        .attr("autocomplete", "off")
        .attr("maxlength", "8")
        .attr("aria-describedby", "tyre-made-said")
        .attr("value", untrack(|| facts(state, spot)).made)
        .attr_live("aria-invalid", move || Some(wrong().to_string()))
        .on("input", move |event| {
            let made = typed(&event);
            checks.change(|checks| checks.change_tyre(spot, |facts| facts.made = made));
        })
        .on("focus", move |_| left.set(false))
        .on("blur", move |_| soon_left(left));
    let code = element("div")
        .attr_live("class", move || Some(field_class(wrong())))
        .child(element("label").attr("for", MADE).child("Date code"))
        .child(input)
        .child(
            element("p")
                .class("said")
                .attr("id", "tyre-made-said")
                .live(move || said(&facts(state, spot))),
        );
    let tread = NumberField::<Checks> {
        id: "tyre-tread".to_owned(),
        name: format!("tread-{}", spot.name()),
        of: Owner::Nothing,
        label: "Tread".into(),
        hint: "The shallowest main groove.",
        field: Field::TreadDepth,
        optional: true,
        slot: Slot {
            get: Box::new(move |checks| Some(checks.tyre(spot)?.tread?.amount())),
            set: Box::new(move |checks, amount| {
                let tread = amount.and_then(Typed::of);
                checks.change_tyre(spot, |facts| {
                    facts.tread = tread;
                    facts.tread_day = tread.map(|_| clock::today());
                });
            }),
        },
    }
    .view_as(state, Entry::Plain(Unit::Millimetre));
    let axle = state.rig_now(|rig| others_of(rig, spot));
    let whole = (!axle.is_empty()).then(|| {
        buttons().child(button("The same date code on this whole axle", move || {
            let made = untrack(|| facts(state, spot)).made;
            checks.change(|checks| {
                for other in &axle {
                    checks.change_tyre(*other, |facts| facts.made = made.clone());
                }
            });
            copied.update(|copied| *copied += 1);
        }))
    });
    element("div")
        .class("form")
        .child(element("h3").child(name))
        .child(code)
        .child(whole)
        .child(tread)
        .child(
            element("p")
                .attr("role", "status")
                .live(move || worn(&facts(state, spot))),
        )
}

/// The other tyres of a tyre's axle group.
fn others_of(rig: &Rig, spot: Spot) -> Vec<Spot> {
    let Some(of) = rig.tyre_of(spot) else {
        return Vec::new();
    };
    let round = rig.round().into_iter();
    let group = round.filter(|at| at.group == of.group && *at != of);
    group.map(|at| rig.spot_of(at)).collect()
}

fn said(facts: &TyreFacts) -> String {
    match DateCode::read(&facts.made) {
        Err(error) => words::date_code_error(error),
        Ok(code) => match facts.age(clock::today()) {
            None => words::date_code_error(DateCodeError::NoSuchWeek { week: code.week() }),
            Some((0, _)) => "Made after today? Look again.".to_owned(),
            Some((days, age)) => {
                let made = words::made(code.week(), code.year(), days);
                made + words::age(age)
            }
        },
    }
}

fn worn(facts: &TyreFacts) -> String {
    let tread = facts.tread.and_then(|tread| Tread::of(depth(tread)).ok());
    tread.map_or(String::new(), |tread| words::tread(tread).to_owned())
}
