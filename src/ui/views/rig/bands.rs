//! The rig's own bands.

use super::words as said;
use crate::calc::limits::Field;
use crate::rig::names::Named;
use crate::rig::section::Entered;
use crate::rig::typed::in_unit::{kmh, percent};
use crate::rig::typed::{Amount, Kind, Typed};
use crate::rig::{OwnBand, Owner, Rig, Surface};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::{NumberField, Slot, button, buttons, choice, paragraph};
use crate::ui::kit::fold::fold;
use crate::ui::kit::{format, words};
use leptos::prelude::*;

pub(super) fn bands(state: State) -> Element {
    let back = button("Back to common practice", move || {
        state.reshape(|garage, shelf| {
            garage.change(shelf, |rig: &mut Rig| {
                rig.bands.clear();
                rig.unusable.retain(|text| !text.field.starts_with(BAND));
            })
        });
    });
    let wrong = state.rig_now(|rig| rig.is_unusable(BAND));
    let intro = fold("bands".to_owned(), "Surface bands", wrong).child(paragraph(
        "hint",
        "Of the sealed-road pressure, or one range for all axles; and the speed each is for.",
    ));
    Surface::ALL
        .into_iter()
        .filter(|surface| surface.band().is_some())
        .map(|surface| band(state, surface))
        .fold(intro, Element::child)
        .child(buttons().child(back))
}

/// Begins the names of the bands' fields.
pub(super) const BAND: &str = "band-";

/// The band for a surface as it is edited: the rig's own, or that of practice.
fn shown_band(rig: &Rig, surface: Surface) -> Option<OwnBand> {
    let own = rig.bands.iter().find(|band| band.surface == surface);
    own.cloned().or_else(|| practice(surface))
}

/// The rig's own band for a surface, made from practice if there is none.
fn own_band(rig: &mut Rig, surface: Surface) -> Option<&mut OwnBand> {
    if !rig.has_own_band(surface) {
        rig.bands.push(practice(surface)?);
    }
    rig.bands.iter_mut().find(|band| band.surface == surface)
}

fn practice(of: Surface) -> Option<OwnBand> {
    use crate::calc::quantity::kilometer_per_hour;
    let band = of.band()?;
    let (low, high) = band.shares()?;
    Some(OwnBand {
        surface: of,
        low: percent(low * 100.0),
        high: percent(high * 100.0),
        speed: kmh(band.speed().get::<kilometer_per_hour>()),
        ..OwnBand::default()
    })
}

/// How a band's ends are typed.
const SHARES: usize = 0;
const PRESSURES: usize = 1;

fn band(state: State, surface: Surface) -> Element {
    let id = move |name: &str| format!("{BAND}{}-{name}", surface.name());
    let typed_as = RwSignal::new(state.rig_now(|rig| {
        let own = shown_band(rig, surface);
        let pressures = own.is_some_and(|own| own.low_pressure.or(own.high_pressure).is_some());
        let unusable =
            rig.is_unusable(&id("low-pressure")) || rig.is_unusable(&id("high-pressure"));
        usize::from(pressures || unusable)
    }));
    let number = move |name: &str, label: &'static str, field, get: GetPart, set: SetPart| {
        NumberField {
            id: id(name),
            of: Owner::Rig,
            name: id(name),
            label: label.into(),
            hint: "",
            field,
            optional: field == Field::BandPressure,
            slot: Slot {
                get: Box::new(move |rig: &Rig| get(&shown_band(rig, surface)?)),
                set: Box::new(move |rig: &mut Rig, value| {
                    if let Some(band) = own_band(rig, surface) {
                        set(band, value);
                    }
                }),
            },
        }
        .view(state)
    };
    let ends = move || {
        let (low, high) = if typed_as.get() == PRESSURES {
            (
                number(
                    "low-pressure",
                    "Low",
                    Field::BandPressure,
                    |b| b.low_pressure.map(Typed::amount),
                    |b, value| b.low_pressure = value.and_then(Typed::of),
                ),
                number(
                    "high-pressure",
                    "High",
                    Field::BandPressure,
                    |b| b.high_pressure.map(Typed::amount),
                    |b, value| b.high_pressure = value.and_then(Typed::of),
                ),
            )
        } else {
            (
                number(
                    "low",
                    "Low",
                    Field::BandShare,
                    |b| Some(b.low.amount()),
                    |b, value| needed(&mut b.low, value),
                ),
                number(
                    "high",
                    "High",
                    Field::BandShare,
                    |b| Some(b.high.amount()),
                    |b, value| needed(&mut b.high, value),
                ),
            )
        };
        element("div")
            .class("triple")
            .child(low)
            .child(high)
            .child(number(
                "speed",
                "Speed",
                Field::BandSpeed,
                |b| Some(b.speed.amount()),
                |b, value| needed(&mut b.speed, value),
            ))
    };
    let unit = state.rig_now(|rig| rig.unit);
    let keys = choice(
        "Typed as",
        id("typed-as"),
        "bare",
        vec!["Percent", format::unit_mark(unit)],
        move || typed_as.get(),
        move |picked| {
            if picked == SHARES {
                forget_pressures(state, surface, [id("low-pressure"), id("high-pressure")]);
            }
            typed_as.set(picked);
        },
    );
    let wrong = move || {
        state.rig(|rig| {
            let error = rig.band(surface).err()?;
            let text = words::band_error(&error, rig.unit);
            Some(paragraph("asked", text).attr("role", "status"))
        })
    };
    let half = move || {
        state.rig(|rig| {
            let own = shown_band(rig, surface)?;
            let both = own.low_pressure.is_some() && own.high_pressure.is_some();
            (typed_as.get() == PRESSURES).then(|| said::band_in_pressures(&own, both))
        })
    };
    element("fieldset")
        .class("band-fields")
        .child(element("legend").child(words::surface_heading(surface)))
        .child(keys)
        .live(ends)
        .child(element("p").class("hint").live(half))
        .live(wrong)
}

/// Reads a number of a band.
type GetPart = fn(&OwnBand) -> Option<Amount>;

/// Writes one.
type SetPart = fn(&mut OwnBand, Option<Amount>);

/// Takes a number that a band can't be without.
fn needed<K: Kind>(kept: &mut Typed<K>, value: Option<Amount>) {
    if let Some(value) = value.and_then(Typed::of) {
        *kept = value;
    }
}

/// Back to shares, with what was typed as pressures.
fn forget_pressures(state: State, surface: Surface, fields: [String; 2]) {
    state.change(|rig| {
        rig.unusable.retain(|text| !fields.contains(&text.field));
        let mut bands = rig.bands.iter_mut();
        if let Some(own) = bands.find(|band| band.surface == surface) {
            (own.low_pressure, own.high_pressure) = (None, None);
        }
    });
}
