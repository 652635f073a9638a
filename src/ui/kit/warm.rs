//! As read now: what the gauge should show of warm tyres, and what the rise of
//! a warm tyre says.

use super::{air_words as words, clock, route};
use crate::calc::gas::warm::{Basis, MeasuredOn, Road, WarmAir, WarmError};
use crate::calc::quantity::GaugePressure;
use crate::decimal;
use crate::rig::air::walk::seconds_since;
use crate::rig::air::warm::WARM_COUNTS_MINUTES;
use crate::rig::air::{Warm, WarmBy};
use crate::rig::set_to::WasCold;
use crate::rig::typed::TypedTemperature;
use crate::rig::typed::in_unit::kpa;
use crate::rig::{PressureUnit, Surface};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, live};
use crate::ui::kit::fields::{button, buttons, link, paragraph};
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
        let warm = &rig.air.warm;
        (warm.day, usize::from(warm.axle), rig.unit)
    });
    if state.is_unusable("now-") {
        return Now::Refused("An entry of the warm reading can't be used.".to_owned());
    }
    let Some(taken_day) = taken_day else {
        return Now::Unknown;
    };
    let air = warm(state, axle);
    if !Warm::counts(taken_day, now_day) {
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
        let warm = &rig.air.warm;
        (warm.axle, warm.day.unwrap_or_else(clock::now_day))
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

/// The tyre in hand, to be read again: its cold pressure is known, and shown.
pub fn ask_again(state: State, axle: usize, cold: GaugePressure) {
    state.forget_drafts(|text| text.field.starts_with("now-"));
    state.change(|rig| {
        let warm = &mut rig.air.warm;
        warm.forget();
        warm.axle = axle as u8;
        if warm.by == WarmBy::Pressures {
            warm.cold = Some(kpa(PressureUnit::Kpa.number(cold)));
        }
    });
}

/// Takes the tyres as cold.
pub fn forget_reading(state: State) {
    state.forget_drafts(|text| text.field.starts_with("now-"));
    state.change(|rig| rig.air.warm.forget());
}

/// What is known of how warm the tyres are, and the ways on.
pub fn said(state: State, clock: RwSignal<u32>, now: Memo<Now>) -> Vec<Content> {
    let again = || {
        buttons()
            .child(link("Read a tyre again", route::WALK))
            .child(button("Tyres are cold", move || forget_reading(state)))
            .node()
    };
    match now.get() {
        Now::Unknown => Vec::new(),
        Now::Old { taken_day, .. } => vec![paragraph("warning", old(taken_day)).node(), again()],
        Now::Refused(why) => vec![
            paragraph("warning", why).attr("role", "status").node(),
            again(),
        ],
        Now::Warm {
            air,
            taken_day,
            axle,
        } => vec![
            live(move || taken(state, taken_day, axle, clock::following(clock))),
            live(move || beside(state, &air, axle)),
            again(),
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

/// When and where it was read.
pub fn taken(state: State, taken_day: f64, axle: usize, now_day: f64) -> Element {
    let was_cold = was_cold(state);
    let text = state.rig(|rig| {
        let name = rig.axles.get(axle).map_or("", shared::axle);
        let warm = &rig.air.warm;
        let what = match (warm.by, warm.reading) {
            (WarmBy::Pressures, Some(reading)) => {
                let reading = format::pressure(rig.unit, reading.quantity());
                let cold = words::cold_of_reading(&was_cold, rig.unit);
                format!("{reading}, {cold}")
            }
            _ => {
                let celsius = warm.temperature.map(TypedTemperature::celsius);
                format!("{} °C", format::entered(celsius.unwrap_or_default()))
            }
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
    let (set, now) = state.rig(|rig| (rig.air.set.celsius(), rig.air.now.celsius()));
    let mut text = String::new();
    let kept = match was_cold {
        WasCold::Set(set) => set.celsius,
        _ => None,
    };
    if let Some(set) = set.or(kept) {
        text += &format!(" Air at setting: {} °C.", format::entered(set));
    }
    if let Some(now) = now {
        text += &format!(" Air now: {} °C.", format::entered(now));
    }
    text
}

/// What a surface is for letting warm tyres down.
pub fn road(surface: Surface) -> Road {
    match surface {
        Surface::Sealed => Road::Sealed,
        _ => Road::Unsealed,
    }
}

/// What is said beside warm figures.
pub fn beside(state: State, air: &WarmAir, measured: usize) -> Vec<Element> {
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
