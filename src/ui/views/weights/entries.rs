//! Measures, plates and masses as built.

use super::desk::Desk;
use super::words as said;
use crate::calc::limits::Field;
use crate::calc::weights::plates::{TrailerPlate, towing_limit, towing_limit_unstated};
use crate::rig::weights::Weights;
use crate::rig::{Owner, Rig};
use crate::ui::kit::element::{Element, element, live};
use crate::ui::kit::fields::{Holds, NumberField, Slot, paragraph};
use crate::ui::kit::format;
use crate::ui::kit::parts::{closed, pair};

fn number(
    desk: Desk,
    name: &'static str,
    label: &'static str,
    hint: &'static str,
    field: Field,
    slot: fn(&mut Weights) -> &mut dyn Holds,
) -> Element {
    NumberField::<Weights> {
        id: format!("weights-{name}"),
        of: Owner::Nothing,
        name: name.to_owned(),
        label: label.into(),
        hint,
        field,
        optional: true,
        slot: Slot::within(slot),
    }
    .view(desk.state)
}

fn mass(
    desk: Desk,
    name: &'static str,
    label: &'static str,
    hint: &'static str,
    slot: fn(&mut Weights) -> &mut dyn Holds,
) -> Element {
    number(desk, name, label, hint, Field::RatedMass, slot)
}

/// The card. One that tows nothing is asked for nothing of a van.
pub fn card(desk: Desk) -> Element {
    let has_trailer = desk.state.rig_now(Rig::has_trailer);
    let card = closed("Measures and plates")
        .child(element("h3").child("Measures"))
        .child(pair_of(
            number(
                desk,
                "wheelbase",
                "Wheelbase",
                "Front axle to rear axle.",
                Field::Wheelbase,
                |of| &mut of.wheelbase,
            ),
            has_trailer.then(|| {
                number(
                    desk,
                    "overhang",
                    "Rear axle to ball",
                    "Middle to middle.",
                    Field::BallOverhang,
                    |of| &mut of.overhang,
                )
            }),
        ))
        .child(has_trailer.then(|| {
            pair(
                number(
                    desk,
                    "drawbar",
                    "Ball to van axles",
                    "To the middle of the group.",
                    Field::DrawbarLength,
                    |of| &mut of.drawbar,
                ),
                number(
                    desk,
                    "body",
                    "Length of the van’s body",
                    "For the drawing alone.",
                    Field::BodyLength,
                    |of| &mut of.body,
                ),
            )
        }))
        .child(element("h3").child("Vehicle’s plate and handbook"))
        .child(pair_of(
            mass(desk, "gvm", "GVM", "", |of| &mut of.gvm),
            has_trailer.then(|| mass(desk, "gcm", "GCM", "", |of| &mut of.gcm)),
        ))
        .child(pair(
            mass(desk, "front-limit", "Front axle limit", "", |of| {
                &mut of.front_limit
            }),
            mass(desk, "rear-limit", "Rear axle limit", "", |of| {
                &mut of.rear_limit
            }),
        ))
        .child(has_trailer.then(|| {
            pair(
                mass(
                    desk,
                    "ball-limit",
                    "Limit on the ball",
                    "The least of vehicle, bar and ball.",
                    |of| &mut of.ball_limit,
                ),
                mass(
                    desk,
                    "towing",
                    "Towing limit",
                    "With trailer brakes.",
                    |of| &mut of.towing,
                ),
            )
        }))
        .child(pair(
            mass(
                desk,
                "unladen",
                "Vehicle unladen",
                "By its handbook.",
                |of| &mut of.unladen,
            ),
            mass(
                desk,
                "unladen-front",
                "Of that on the front axle",
                "Where it is known.",
                |of| &mut of.unladen_front,
            ),
        ));
    let card = if has_trailer {
        of_van(desk, card)
    } else {
        card
    };
    let wrong = desk.weights.now(Weights::is_unusable_here);
    if wrong { card.attr("open", "") } else { card }
}

/// Two fields side by side, or the first by itself.
fn pair_of(first: Element, second: Option<Element>) -> Element {
    element("div").class("pair").child(first).child(second)
}

fn of_van(desk: Desk, card: Element) -> Element {
    card.child(live(move || towing(desk)))
        .child(element("h3").child("Van’s plate"))
        .child(pair(
            mass(desk, "atm", "ATM", "", |of| &mut of.atm),
            mass(desk, "gtm", "GTM", "", |of| &mut of.gtm),
        ))
        .child(pair(
            mass(desk, "tare", "Tare", "", |of| &mut of.tare),
            number(
                desk,
                "tare-ball",
                "Ball mass at tare",
                "",
                Field::BallMass,
                |of| &mut of.tare_ball,
            ),
        ))
        .child(mass(
            desk,
            "trailer-limit",
            "Van axle maker’s limit",
            "Of the whole group, where a plate on the axle gives one.",
            |of| &mut of.trailer_limit,
        ))
        .child(live(move || plate(desk)))
}

/// What the van's plate comes to.
fn plate(desk: Desk) -> Option<Element> {
    let units = desk.units();
    let masses = desk.weights.read(|of| (of.tare, of.gtm, of.atm));
    let (Some(tare), Some(gtm), Some(atm)) = masses else {
        return None;
    };
    let plate = TrailerPlate::new(tare.quantity(), gtm.quantity(), atm.quantity());
    Some(match plate {
        Ok(plate) => paragraph(
            "said",
            format!(
                "Payload {} (ATM less tare). Loaded to the ATM, at least {} must be on the ball, or \
                 the axles carry more than the GTM.",
                format::mass(units.mass, plate.payload()),
                format::mass_up(units.mass, plate.least_ball())
            ),
        ),
        Err(error) => paragraph("warning danger", said::wrong(&error, units)),
    })
}

/// What may be towed where no maker says so.
fn towing(desk: Desk) -> Option<Element> {
    let unit = desk.units().mass;
    let (limit, unladen, gcm, gvm) = desk
        .weights
        .read(|of| (of.towing, of.unladen, of.gcm, of.gvm));
    if limit.is_none()
        && let Some(unladen) = unladen
    {
        let braked = towing_limit_unstated(unladen.quantity(), true);
        return Some(paragraph(
            "said",
            format!(
                "Where no maker gives a towing limit, South Australia allows 1.5 times the unladen \
                 mass with trailer brakes: {}. Other places differ.",
                format::mass(unit, braked)
            ),
        ));
    }
    let (limit, gcm, gvm) = (limit?, gcm?, gvm?);
    let rated = towing_limit(limit.quantity(), gcm.quantity(), gvm.quantity());
    (rated < limit.quantity()).then(|| {
        paragraph(
            "said",
            format!(
                "With the vehicle at its GVM, the GCM leaves {} to tow.",
                format::mass(unit, rated)
            ),
        )
    })
}
