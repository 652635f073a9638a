//! The rig's own bands.

use crate::calc::limits::Field;
use crate::calc::surface;
use crate::rig::{OwnBand, PressureUnit, Rig, Surface};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::{NumberField, Slot, button, buttons, paragraph};
use crate::ui::kit::fold::fold;
use crate::ui::kit::{format, words};

pub(super) fn bands(state: State) -> Element {
    let back = button("Back to common practice", move || {
        state.reshape(|garage, shelf| {
            garage.change(shelf, |rig| {
                rig.bands.clear();
                rig.unusable.retain(|text| !text.id.starts_with(BAND));
            })
        });
    });
    let wrong = state.rig_now(|rig| rig.is_unusable(BAND));
    let intro = fold("bands".to_owned(), "Surface bands", wrong).child(paragraph(
        "hint",
        "Shares of the sealed-road pressure, and the speed each is for. They are common \
             practice, no source.",
    ));
    surface::Surface::ALL
        .into_iter()
        .filter(|surface| surface.band().is_some())
        .map(|surface| band(state, surface.into()))
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
    let band = surface::Surface::from(of).band()?;
    let (low, high) = band.shares()?;
    Some(OwnBand {
        surface: of,
        low_percent: low * 100.0,
        high_percent: high * 100.0,
        low_kpa: None,
        high_kpa: None,
        speed_kmh: band.speed().get::<kilometer_per_hour>(),
    })
}

fn band(state: State, surface: Surface) -> Element {
    let number = move |id: &str, label, field, get: fn(&mut OwnBand) -> &mut f64| {
        NumberField {
            id: format!("{BAND}{}-{id}", words::surface(surface).replace(' ', "-")),
            label,
            hint: "",
            field,
            axle: None,
            optional: false,
            slot: Slot {
                get: Box::new(move |rig| shown_band(rig, surface).map(|mut band| *get(&mut band))),
                set: Box::new(move |rig, value| {
                    if let (Some(band), Some(value)) = (own_band(rig, surface), value) {
                        *get(band) = value;
                        if field == Field::BandShare {
                            (band.low_kpa, band.high_kpa) = (None, None);
                        }
                    }
                }),
            },
        }
        .view(state)
    };
    let numbers = element("div")
        .class("triple")
        .child(number("low", "Low", Field::BandShare, |b| {
            &mut b.low_percent
        }))
        .child(number("high", "High", Field::BandShare, |b| {
            &mut b.high_percent
        }))
        .child(number("speed", "Speed", Field::BandSpeed, |b| {
            &mut b.speed_kmh
        }));
    let wrong = move || {
        state.rig(|rig| {
            let error = rig.band(surface).err()?;
            let text = words::band_error(&error, rig.unit);
            Some(paragraph("warning", text).attr("role", "status"))
        })
    };
    let in_pressures = move || {
        state.rig(|rig| {
            let own = shown_band(rig, surface)?;
            let ends = [own.low_kpa?, own.high_kpa?].map(|kpa| PressureUnit::Kpa.reading(kpa));
            let range = format::pressure_range(rig.unit, ends[0], ends[1]);
            let text = format!("Kept in pressures: {range}. A share typed here takes their place.");
            Some(paragraph("hint", text))
        })
    };
    element("fieldset")
        .class("band-fields")
        .child(element("legend").child(words::surface_heading(surface)))
        .child(numbers)
        .live(in_pressures)
        .live(wrong)
}
