//! One warm tyre, read now.

use crate::rig::air::WarmBy;
use crate::ui::frame::state::State;
use crate::ui::kit::air_fields::{
    reading_fields, setting_fields, surroundings_now, temperature_field, warm_axle,
};
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::choice;
use crate::ui::kit::follow::memo;
use crate::ui::kit::parts::fold;
use leptos::prelude::*;

fn by_temperature_of(state: State) -> bool {
    state.rig(|rig| rig.air.warm.by == WarmBy::Temperature)
}

/// What is entered of one warm tyre, of any axle.
pub fn form(state: State) -> Element {
    let by_temperature = memo(move |_| by_temperature_of(state));
    let known = choice(
        "What is known of it",
        "now-known".to_owned(),
        "",
        vec!["Its cold pressure", "Its temperature"],
        move || usize::from(by_temperature.get()),
        move |picked| {
            state.change(|rig| {
                let all = [WarmBy::Pressures, WarmBy::Temperature];
                rig.air.warm.by = all.get(picked).copied().unwrap_or_default();
                rig.air.warm.day = None;
            });
        },
    );
    element("div")
        .class("form")
        .child(warm_axle(state, "A warm tyre of which axle", "now-axle"))
        .live(move || entries(state, by_temperature.get()))
        .child(fold("By its temperature instead").child(known))
}

fn entries(state: State, by_temperature: bool) -> Vec<Element> {
    if by_temperature {
        vec![temperature_field(state), surroundings_now(state)]
    } else {
        vec![
            reading_fields(state),
            fold("Height and air temperature")
                .child(surroundings_now(state))
                .child(setting_fields(state)),
        ]
    }
}

/// The same for the tyre in hand, whose axle and cold pressure are known.
pub fn again(state: State) -> Vec<Element> {
    let by_temperature = untrack(|| by_temperature_of(state));
    entries(state, by_temperature)
}
