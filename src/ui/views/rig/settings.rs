//! The rig's settings: units, and how its figures are decided.

use super::bands::{BAND, bands};
use crate::calc::limits::Field;
use crate::rig::section::Entered;
use crate::rig::typed::{Kind, Typed};
use crate::rig::{MassUnit, Owner, PressureUnit, Rig, Setting, Vehicle};
use crate::ui::frame::state::State;
use crate::ui::kit::element::Element;
use crate::ui::kit::fields::{NumberField, Slot, choice, focus_soon, listed};
use crate::ui::kit::fold::fold;
use crate::ui::kit::format;

fn rig_number<K: Kind + Send + 'static>(
    state: State,
    id: &str,
    label: &'static str,
    hint: &'static str,
    field: Field,
    slot: fn(&mut Rig) -> &mut Typed<K>,
) -> Element {
    NumberField {
        id: id.to_owned(),
        of: Owner::Rig,
        name: id.to_owned(),
        label: label.into(),
        hint,
        field,
        optional: false,
        slot: Slot {
            get: Box::new(move |rig: &Rig| Some(slot(&mut rig.clone()).amount())),
            set: Box::new(move |rig: &mut Rig, value| {
                if let Some(value) = value.and_then(Typed::of) {
                    *slot(rig) = value;
                }
            }),
        },
    }
    .view(state)
}

/// A choice of unit, which makes the fields typed in it anew.
fn unit(
    state: State,
    legend: &'static str,
    id: &'static str,
    marks: Vec<&'static str>,
    picked: fn(&Rig) -> usize,
    show: fn(&mut Rig, usize),
) -> Element {
    choice(
        legend,
        id.to_owned(),
        "",
        marks,
        move || state.rig(picked),
        move |unit| {
            state.reshape(|garage, shelf| garage.change(shelf, |rig: &mut Rig| show(rig, unit)));
            // Made anew like the rest, it keeps the keyboard's place.
            focus_soon(format!("{id}s"));
        },
    )
    .attr("id", format!("{id}s"))
    .attr("tabindex", "-1")
}

fn pressure_unit(state: State) -> Element {
    unit(
        state,
        "Pressures in",
        "pressure-unit",
        PressureUnit::ALL.map(format::unit_mark).into(),
        |rig| {
            let mut units = PressureUnit::ALL.iter();
            units.position(|of| *of == rig.unit).unwrap_or(0)
        },
        |rig, unit| rig.unit = PressureUnit::ALL[unit],
    )
}

fn mass_unit(state: State) -> Element {
    unit(
        state,
        "Masses in",
        "mass-unit",
        MassUnit::ALL.map(format::mass_mark).into(),
        |rig| usize::from(rig.mass_unit == MassUnit::Pound),
        |rig, unit| rig.mass_unit = MassUnit::ALL[unit],
    )
}

pub(super) fn settings(state: State) -> Element {
    let wrong = state.rig_now(|rig| {
        ["uneven", "floor", "slow-", BAND]
            .iter()
            .any(|id| rig.is_unusable(id))
    });
    fold("settings".to_owned(), "Settings", wrong)
        .child(pressure_unit(state))
        .child(mass_unit(state))
        .child(choice(
            "Off sealed road",
            "setting".to_owned(),
            "",
            vec!["Hold to the load", "Practice"],
            move || usize::from(state.rig(|rig| rig.setting == Setting::Practice)),
            move |picked| {
                state.change(|rig| {
                    rig.setting = [Setting::HoldToTables, Setting::Practice][picked];
                });
            },
        ))
        .child(choice(
            "Tow vehicle",
            "vehicle".to_owned(),
            "",
            vec!["4WD, truck or bus", "Passenger car"],
            move || usize::from(state.rig(|rig| rig.tow_vehicle == Vehicle::PassengerCar)),
            move |picked| {
                state.change(|rig| {
                    rig.tow_vehicle = [Vehicle::Other, Vehicle::PassengerCar][picked];
                });
            },
        ))
        .child(rig_number(
            state,
            "uneven",
            "Allowance for uneven load",
            "Added where the sides were not weighed.",
            Field::UnevenLoad,
            |rig| &mut rig.uneven_load,
        ))
        .child(rig_number(
            state,
            "floor",
            "Floor: lowest pressure anywhere",
            "Keeps the bead on the rim.",
            Field::Floor,
            |rig| &mut rig.floor,
        ))
        .child(rig_number(
            state,
            "slow-deflection",
            "Slow driving: sidewall pressed in by at most",
            "Of its height. Less means more air.",
            Field::SlowDeflection,
            |rig| &mut rig.slow_deflection,
        ))
        .child(rig_number(
            state,
            "slow-share",
            "Slow driving: at least this much of the load minimum",
            "More means more air.",
            Field::SlowLoadShare,
            |rig| &mut rig.slow_load_share,
        ))
        .child(bands(state))
        .child(
            fold("settings-why".to_owned(), "Why these?", false)
                .child(listed(WHY.map(str::to_owned).into_iter())),
        )
}

/// What the settings do and where their figures are from.
const WHY: [&str; 6] = [
    "The surfaces' bands and their speeds are common practice, no source.",
    "Hold to the load: above 40 km/h by the load tables, up to there by how far the tyre is pressed \
     in. Practice: the surface's band, slower where it is below that.",
    "Passenger tyres on a 4WD, truck, bus or trailer count for less load (49 CFR 571.110 and \
     571.120).",
    "Slow driving, up to 40 km/h: 30 % of the sidewall's height, and above 10 km/h half of the load \
     minimum: common practice, no source.",
    "10 % for uneven load is common practice, no source.",
    "A floor of 100 kPa (15 psi) is common practice, no source.",
];
