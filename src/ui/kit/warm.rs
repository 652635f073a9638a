//! As read now: what the gauge should show of warm tyres, and what the rise of
//! a warm tyre says.

use super::air_fields::{
    axle_choice, forget_old, number, reading_fields, setting_fields, surroundings_now,
};
use super::parts::{fold, heading};
use super::{air_words as words, clock};
use crate::calc::gas::warm::{Basis, MeasuredOn, Road, WarmAir, WarmError};
use crate::calc::limits::Field;
use crate::calc::quantity::GaugePressure;
use crate::decimal;
use crate::rig::air::{Air, Key, WARM_COUNTS_MINUTES, seconds_since};
use crate::rig::set_to::WasCold;
use crate::rig::{PressureUnit, Surface};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, Node, element, live};
use crate::ui::kit::fields::{button, buttons, choice, focus_soon, paragraph};
use crate::ui::{kit::format, kit::words as shared};
use leptos::prelude::*;

/// What is known of how warm the tyres are.
#[derive(Debug, Clone, PartialEq)]
pub enum Now {
    /// Nothing was read.
    Unknown,
    /// It was read too long ago.
    Old {
        /// When.
        taken_day: f64,
        /// How warm they were then.
        air: Option<WarmAir>,
        /// On which axle.
        axle: usize,
    },
    /// What was read can't be used, in words.
    Refused(String),
    /// It counts.
    Warm {
        /// How warm.
        air: WarmAir,
        /// When it was read.
        taken_day: f64,
        /// On which axle.
        axle: usize,
    },
}

/// The cold sealed-road pressure of an axle.
pub fn sealed(state: State, axle: usize) -> Option<GaugePressure> {
    let outcomes = state.outcomes_on(Surface::Sealed);
    Some(outcomes.get(axle)?.answer()?.recommended)
}

/// What is known now; what calls this runs again with the clock.
pub fn read(state: State, clock: RwSignal<u32>) -> Now {
    let now_day = clock::following(clock);
    let (taken_day, axle, unit) = state.rig(|rig| {
        let axle = usize::from(rig.air.count(Key::WarmAxle, 0));
        (rig.air.get(Key::WarmDay), axle, rig.unit)
    });
    let Some(taken_day) = taken_day else {
        return Now::Unknown;
    };
    if state.is_unusable("now-") {
        return Now::Refused("An entry of the warm reading can't be used.".to_owned());
    }
    let air = warm(state, axle);
    if !Air::warm_counts(taken_day, now_day) {
        return Now::Old {
            taken_day,
            air: air.ok().flatten(),
            axle,
        };
    }
    match air {
        Ok(Some(air)) => Now::Warm {
            air,
            taken_day,
            axle,
        },
        Ok(None) => Now::Refused(words::needs_cold(&was_cold(state), unit)),
        Err(error) => Now::Refused(words::warm_error(&error, unit)),
    }
}

fn warm(state: State, axle: usize) -> Result<Option<WarmAir>, WarmError> {
    let sealed = sealed(state, axle);
    state.rig(|rig| rig.warm(sealed, rig.unit.step()))
}

/// What the tyre read warm was when cold.
fn was_cold(state: State) -> WasCold {
    let (axle, day) = state.rig(|rig| {
        let day = rig.air.get(Key::WarmDay).unwrap_or_else(clock::now_day);
        (rig.air.count(Key::WarmAxle, 0), day)
    });
    let sealed = sealed(state, axle.into());
    state.rig(|rig| rig.was_cold(day, sealed))
}

/// A cold pressure that the page took by itself, and why this one.
pub fn was_cold_said(state: State) -> String {
    let unit = state.rig(|rig| rig.unit);
    words::was_cold(&was_cold(state), unit, moment)
}

fn moment(day: f64) -> String {
    format!("{} at {}", clock::day(day), clock::time_of_day(day))
}

/// A cold target as the gauge should show it now, on the gauge's step.
pub fn target(air: &WarmAir, cold: GaugePressure, unit: PressureUnit) -> GaugePressure {
    air.to_now(cold).round_up(unit.step())
}

const PANEL: &str = "now";

/// The panel on the pressures view, and the key that opens it, which stands
/// further down.
pub fn panel(state: State) -> (AnyView, AnyView, Memo<Now>) {
    let clock = clock::every(5);
    forget_old(state, clock);
    let open = RwSignal::new(false);
    let now = Memo::new(move |_| read(state, clock));
    let idle = Memo::new(move |_| !open.get() && now.with(|now| *now == Now::Unknown));
    let panel = element("section")
        .attr("id", PANEL)
        .attr("tabindex", "-1")
        .attr("aria-label", "As read now")
        .attr_live("hidden", move || idle.get().then(String::new))
        .class("now")
        .live(move || {
            state.shape.track();
            open.get().then(|| form(state, open))
        })
        .live(move || (!open.get()).then(|| result(state, clock, now, open)));
    let key = live(move || {
        idle.get().then(|| {
            buttons().child(button("Tyres warm? Read as now", move || {
                open.set(true);
                focus_soon(PANEL.to_owned());
            }))
        })
    });
    (panel.node(), key, now)
}

fn form(state: State, open: RwSignal<bool>) -> Element {
    let by_temperature = Memo::new(move |_| state.rig(|rig| rig.air.is(Key::WarmByTemperature)));
    let known = choice(
        "Known of it",
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
        .child(heading("now-heading", "One warm tyre, read now"))
        .child(axle_choice(
            state,
            "On which axle",
            "now-axle".to_owned(),
            Key::WarmAxle,
            0,
        ))
        .child(known)
        .live(move || entries(state, by_temperature.get()))
        .child(
            buttons()
                .child(
                    button("Show figures", move || {
                        open.set(false);
                        focus_soon(PANEL.to_owned());
                    })
                    .class("primary"),
                )
                .child(button("Forget", move || forget(state, open))),
        )
}

/// What is entered of one warm tyre.
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

/// The tyre in hand, to be read again: its cold pressure is known, and shown.
pub fn ask_again(state: State, axle: usize, cold: GaugePressure) {
    state.forget_drafts(|text| text.id.starts_with("now-"));
    state.change(|rig| {
        let by_temperature = rig.air.is(Key::WarmByTemperature);
        rig.air.forget_warm();
        rig.air.set(Key::WarmAxle, Some(axle as f64));
        if !by_temperature {
            let kpa = PressureUnit::Kpa.number(cold);
            rig.air.set(Key::WarmColdKpa, Some(kpa));
        }
    });
}

/// The entries of the tyre in hand.
pub fn entries_again(state: State) -> Vec<Element> {
    let by_temperature = state.rig_now(|rig| rig.air.is(Key::WarmByTemperature));
    entries(state, by_temperature)
}

fn forget(state: State, open: RwSignal<bool>) {
    forget_reading(state);
    open.set(false);
}

/// Takes the tyres as cold.
pub fn forget_reading(state: State) {
    state.forget_drafts(|text| text.id.starts_with("now-"));
    state.change(|rig| rig.air.forget_warm());
}

fn again(state: State, open: RwSignal<bool>) -> Element {
    buttons()
        .child(button("Read again", move || open.set(true)))
        .child(button("Tyres are cold", move || forget(state, open)))
}

fn result(
    state: State,
    clock: RwSignal<u32>,
    now: Memo<Now>,
    open: RwSignal<bool>,
) -> Vec<AnyView> {
    match now.get() {
        Now::Unknown => Vec::new(),
        Now::Old { taken_day, .. } => vec![
            paragraph("warning", old(taken_day)).node(),
            again(state, open).node(),
        ],
        Now::Refused(why) => vec![
            paragraph("warning", why).attr("role", "status").node(),
            again(state, open).node(),
        ],
        Now::Warm {
            air,
            taken_day,
            axle,
        } => vec![
            heading("now-heading", "As read now, tyres warm").node(),
            live(move || taken(state, taken_day, axle, clock::following(clock))),
            live(move || beside(state, &air, axle)),
            again(state, open).node(),
        ],
    }
}

/// That a reading no longer counts.
pub fn old(taken_day: f64) -> String {
    format!(
        "The warm reading of {} is over {} min old and no longer counts.",
        clock::time_of_day(taken_day),
        decimal::fixed(WARM_COUNTS_MINUTES, 0)
    )
}

fn taken(state: State, taken_day: f64, axle: usize, now_day: f64) -> Element {
    let was_cold = was_cold(state);
    let text = state.rig(|rig| {
        let name = rig.axles.get(axle).map_or("", shared::axle);
        let what = match (
            rig.air.is(Key::WarmByTemperature),
            rig.air.get(Key::WarmKpa),
        ) {
            (false, Some(reading)) => {
                let reading = format::pressure(rig.unit, PressureUnit::Kpa.reading(reading));
                let cold = words::cold_of_reading(&was_cold, rig.unit);
                format!("{reading}, {cold}")
            }
            _ => format!(
                "{} °C",
                format::entered(rig.air.get(Key::TyreCelsius).unwrap_or_default())
            ),
        };
        let minutes = decimal::fixed((seconds_since(taken_day, now_day) / 60.0).floor(), 0);
        format!(
            "{name} {what}. Read at {}, {minutes} min ago; counts {} min.",
            clock::time_of_day(taken_day),
            decimal::fixed(WARM_COUNTS_MINUTES, 0)
        )
    });
    paragraph("cold", text + &weather(state, &was_cold))
}

/// The temperatures that the figures rest on, so that none counts unseen.
fn weather(state: State, was_cold: &WasCold) -> String {
    let celsius = |key| state.rig(|rig| rig.air.get(key).map(format::entered));
    let mut text = String::new();
    let kept = match was_cold {
        WasCold::Set(set) => set.celsius.map(format::entered),
        _ => None,
    };
    if let Some(set) = celsius(Key::SetCelsius).or(kept) {
        text += &format!(" Air at setting: {set} °C.");
    }
    if let Some(now) = celsius(Key::NowCelsius) {
        text += &format!(" Air now: {now} °C.");
    }
    text
}

fn road(surface: Surface) -> Road {
    match surface {
        Surface::Sealed => Road::Sealed,
        _ => Road::Unsealed,
    }
}

/// What is said beside the warm figures.
fn beside(state: State, air: &WarmAir, measured: usize) -> Vec<Element> {
    let surface = state.rig(|rig| rig.surface);
    let outcomes = state.outcomes.get();
    let mut parts = Vec::new();
    if outcomes.len() > 1 {
        let name = outcomes.get(measured).map_or("", |outcome| outcome.name);
        parts.push(paragraph(
            "hint",
            format!(
                "{name} was read; other axles may be warmer or cooler. Read one tyre of each to be \
                 sure."
            ),
        ));
    }
    if road(surface) == Road::Sealed {
        parts.push(paragraph(
            "warning",
            "Never let air out of a warm tyre to reach a sealed-road figure. Above it: wait until \
             the tyre is cold.",
        ));
    }
    if air.temperature_basis() != Basis::Given {
        parts.push(paragraph(
            "hint",
            "Air temperature at setting and now not both given: taken as the same. If it is \
             colder now, these figures come out too low.",
        ));
    }
    parts
}

/// What an axle's gauge should show now of its cold figure, and how far that
/// may be off, in words; nothing while the tyres are not known to be warm.
pub fn figure(
    now: &Now,
    unit: PressureUnit,
    surface: Surface,
    index: usize,
    cold: GaugePressure,
) -> Option<(GaugePressure, String)> {
    let Now::Warm { air, axle, .. } = now else {
        return None;
    };
    let on = if *axle == index {
        MeasuredOn::ThisAxle
    } else {
        MeasuredOn::OtherAxle
    };
    let read = air.target(cold, road(surface), on).ok()?;
    let mut basis = format!("cold {}", format::pressure(unit, cold));
    if let Some(within) = read.within {
        basis += &format!(" · within {}", format::pressure(unit, within));
    }
    Some((read.now.round_up(unit.step()), basis))
}
