//! Fields of what is kept about warm tyres, leaks and tools.

use super::clock;
use super::warm::was_cold_said;
use crate::calc::limits::Field;
use crate::rig::air::Air;
use crate::rig::section::Entered;
use crate::rig::{Owner, Rig};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element, live};
use crate::ui::kit::fields::{Holds, NumberField, Slot, choice, paragraph};
use crate::ui::kit::follow::effect;
use crate::ui::kit::parts::pair;
use crate::ui::kit::words;
use leptos::prelude::*;

/// Keeps the weather of another day out of today's figures.
pub fn forget_old(state: State, clock: RwSignal<u32>) {
    let forget = move |now_day| {
        let old = state.rig_now(|rig| rig.air.clone().forget_old(now_day));
        if old {
            state.reshape(|garage, shelf| {
                garage.change(shelf, |rig: &mut Rig| {
                    rig.air.forget_old(now_day);
                })
            });
        }
    };
    // At once, before anything is shown, and then as time goes by.
    forget(clock::now_day());
    effect(move |_| forget(clock::following(clock)));
}

/// A number of a section, or none.
pub fn number<S: Entered>(
    state: State,
    id: &str,
    label: &'static str,
    hint: &'static str,
    field: Field,
    place: fn(&mut S) -> &mut dyn Holds,
) -> Element {
    number_in(state, id, label, hint, field, Slot::within(place))
}

/// The same in a place of any form.
pub fn number_in<S: Entered>(
    state: State,
    id: &str,
    label: &'static str,
    hint: &'static str,
    field: Field,
    slot: Slot<S>,
) -> Element {
    NumberField {
        of: Owner::Nothing,
        name: id.to_owned(),
        id: id.to_owned(),
        label: label.into(),
        hint,
        field,
        optional: true,
        slot,
    }
    .view(state)
}

/// A place whose entry is kept with its moment.
fn stamped(
    place: fn(&mut Rig) -> &mut dyn Holds,
    stamp: fn(&mut Air) -> &mut Option<f64>,
) -> Slot<Rig> {
    Slot {
        get: Slot::within(place).get,
        set: Box::new(move |rig: &mut Rig, amount| {
            place(rig).put(amount);
            *stamp(&mut rig.air) = Some(clock::now_day());
        }),
    }
}

/// One of the rig's axles.
pub fn axle_choice(
    state: State,
    legend: &'static str,
    name: &str,
    picked: impl Fn() -> usize + Send + Sync + 'static,
    pick: impl Fn(usize) + 'static,
) -> Element {
    let names = state.rig_now(|rig| rig.axles.iter().map(words::axle).collect());
    choice(legend, name.to_owned(), "", names, picked, pick)
}

/// The axle of the tyre read warm.
pub fn warm_axle(state: State, legend: &'static str, name: &'static str) -> Element {
    axle_choice(
        state,
        legend,
        name,
        move || state.rig(|rig| rig.air.warm.axle).into(),
        move |picked| state.change(|rig| rig.air.warm.axle = picked as u8),
    )
}

/// The temperature in the tyre read warm.
pub fn temperature_field(state: State) -> Element {
    number_in(
        state,
        "now-tyre",
        "Air in the tyre",
        "By a sensor inside the tyre. A hand-held thermometer reads the rubber.",
        Field::TyreTemperature,
        stamped(|rig| &mut rig.air.warm.temperature, |air| &mut air.warm.day),
    )
}

/// How long it was driven before.
pub fn driven_field(state: State) -> Element {
    number(
        state,
        "now-driven",
        "Driven before",
        "",
        Field::TimeDriven,
        |rig: &mut Rig| &mut rig.air.warm.driven,
    )
}

/// The temperature now.
pub fn air_now(state: State, hint: &'static str) -> Element {
    number_in(
        state,
        "now-air",
        "Air around now",
        hint,
        Field::AmbientTemperature,
        stamped(|rig| &mut rig.air.now.temperature, |air| &mut air.now_day),
    )
}

/// The fields of height and temperature now.
pub fn surroundings_now(state: State) -> Element {
    pair(
        number_in(
            state,
            "now-height",
            "Height now",
            "Blank: sea level. Feet: type ft behind it.",
            Field::Height,
            stamped(|rig| &mut rig.air.now.height, |air| &mut air.now_day),
        ),
        air_now(state, "In the shade. Fahrenheit: type F behind it."),
    )
}

/// The fields of one warm tyre.
pub fn reading_fields(state: State) -> Element {
    let fields = pair(
        number_in(
            state,
            "now-reading",
            "Reads now",
            "",
            Field::TyreReading,
            stamped(|rig| &mut rig.air.warm.reading, |air| &mut air.warm.day),
        ),
        number(
            state,
            "now-cold",
            "Was cold",
            "Blank: as below.",
            Field::ColdPressure,
            |rig: &mut Rig| &mut rig.air.warm.cold,
        ),
    );
    element("div")
        .class("form")
        .child(fields)
        .child(paragraph("hint", live(move || was_cold_said(state))))
}

/// The fields of where it was set.
pub fn setting_fields(state: State) -> Element {
    pair(
        number(
            state,
            "now-set-height",
            "Height at setting",
            "Blank: as kept, or as now.",
            Field::Height,
            |rig: &mut Rig| &mut rig.air.set.height,
        ),
        number(
            state,
            "now-set-air",
            "Air at setting",
            "Blank: as kept, or as now.",
            Field::AmbientTemperature,
            |rig: &mut Rig| &mut rig.air.set.temperature,
        ),
    )
}
