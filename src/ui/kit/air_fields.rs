//! Fields of what is kept about warm tyres, leaks and tools.

use super::clock;
use super::warm::was_cold_said;
use crate::calc::limits::Field;
use crate::rig::air::Key;
use crate::rig::typed::{Amount, Measure};
use crate::rig::{Owner, Rig};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element, live};
use crate::ui::kit::fields::{NumberField, Slot, choice, paragraph};
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

/// A number that the air view keeps, or none.
pub fn number(
    state: State,
    id: &'static str,
    label: &'static str,
    hint: &'static str,
    field: Field,
    key: Key,
) -> Element {
    number_at(state, id.to_owned(), label, hint, field, key, 0)
}

/// The same, where there are several of its name.
pub fn number_at(
    state: State,
    id: String,
    label: &'static str,
    hint: &'static str,
    field: Field,
    key: Key,
    index: u8,
) -> Element {
    NumberField {
        of: Owner::Nothing,
        name: id.clone(),
        id,
        label,
        hint,
        field,
        optional: true,
        slot: Slot {
            get: Box::new(move |rig: &Rig| {
                let unit = Measure::of_limits(field.limit().unit)?;
                Some(Amount::new(rig.air.at(key, index)?, unit))
            }),
            set: Box::new(move |rig: &mut Rig, value: Option<Amount>| {
                let value = value.map(Amount::in_limit_unit);
                rig.air.set_at(key, index, value);
                let stamp = match key {
                    Key::WarmKpa | Key::TyreCelsius => Key::WarmDay,
                    Key::NowCelsius | Key::NowHeightM => Key::NowDay,
                    _ => return,
                };
                rig.air.set(stamp, Some(clock::now_day()));
            }),
        },
    }
    .view(state)
}

/// One of the rig's axles.
pub fn axle_choice(
    state: State,
    legend: &'static str,
    name: String,
    key: Key,
    index: u8,
) -> Element {
    let names = state.rig_now(|rig| rig.axles.iter().map(words::axle).collect());
    choice(
        legend,
        name,
        "",
        names,
        move || state.rig(|rig| rig.air.count(key, index)).into(),
        move |picked| {
            state.change(|rig| {
                rig.air.set_at(key, index, Some(picked as f64));
                if key == Key::LeakAxle {
                    // It may have fewer tyres.
                    rig.air.set(Key::LeakTyre, None);
                }
            });
        },
    )
}

/// The fields of height and temperature now.
pub fn surroundings_now(state: State) -> Element {
    pair(
        number(
            state,
            "now-height",
            "Height now",
            "Blank: sea level. Feet: type ft behind it.",
            Field::Height,
            Key::NowHeightM,
        ),
        number(
            state,
            "now-air",
            "Air around now",
            "In the shade. Fahrenheit: type F behind it.",
            Field::AmbientTemperature,
            Key::NowCelsius,
        ),
    )
}

/// The fields of one warm tyre.
pub fn reading_fields(state: State) -> Element {
    let fields = pair(
        number(
            state,
            "now-reading",
            "Reads now",
            "",
            Field::TyreReading,
            Key::WarmKpa,
        ),
        number(
            state,
            "now-cold",
            "Was cold",
            "Blank: as below.",
            Field::ColdPressure,
            Key::WarmColdKpa,
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
            Key::SetHeightM,
        ),
        number(
            state,
            "now-set-air",
            "Air at setting",
            "Blank: as kept, or as now.",
            Field::AmbientTemperature,
            Key::SetCelsius,
        ),
    )
}
