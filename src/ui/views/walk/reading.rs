//! One warm tyre, read now.

use crate::calc::limits::Field;
use crate::rig::air::Key;
use crate::ui::frame::state::State;
use crate::ui::kit::air_fields::{
    axle_choice, number, reading_fields, setting_fields, surroundings_now,
};
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::choice;
use crate::ui::kit::follow::memo;
use crate::ui::kit::parts::fold;
use leptos::prelude::*;

/// What is entered of one warm tyre, of any axle.
pub fn form(state: State) -> Element {
    let by_temperature = memo(move |_| state.rig(|rig| rig.air.is(Key::WarmByTemperature)));
    let known = choice(
        "What is known of it",
        "now-known".to_owned(),
        "",
        vec!["Its cold pressure", "Its temperature"],
        move || usize::from(by_temperature.get()),
        move |picked| {
            state.change(|rig| {
                rig.air.set(Key::WarmByTemperature, Some(picked as f64));
                rig.air.set(Key::WarmDay, None);
            });
        },
    );
    element("div")
        .class("form")
        .child(axle_choice(
            state,
            "A warm tyre of which axle",
            "now-axle".to_owned(),
            Key::WarmAxle,
            0,
        ))
        .live(move || entries(state, by_temperature.get()))
        .child(fold("By its temperature instead").child(known))
}

fn entries(state: State, by_temperature: bool) -> Vec<Element> {
    if by_temperature {
        vec![
            number(
                state,
                "now-tyre",
                "Air in the tyre",
                "By a sensor inside the tyre. A hand-held thermometer reads the rubber.",
                Field::TyreTemperature,
                Key::TyreCelsius,
            ),
            surroundings_now(state),
        ]
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
    let by_temperature = state.rig_now(|rig| rig.air.is(Key::WarmByTemperature));
    entries(state, by_temperature)
}
