//! The rig's settings: units, and how its figures are decided.

use super::bands::{BAND, bands};
use crate::calc::limits::Field;
use crate::rig::{MassUnit, PressureUnit, Rig, Setting, Vehicle};
use crate::ui::frame::state::State;
use crate::ui::kit::element::Element;
use crate::ui::kit::fields::{NumberField, Slot, choice, focus_soon, listed, tick};
use crate::ui::kit::fold::fold;
use crate::ui::kit::format;

fn rig_number(
    state: State,
    id: &str,
    label: &'static str,
    hint: &'static str,
    field: Field,
    get: fn(&Rig) -> f64,
    set: fn(&mut Rig, f64),
) -> Element {
    NumberField {
        id: id.to_owned(),
        label,
        hint,
        field,
        axle: None,
        optional: false,
        slot: Slot {
            get: Box::new(move |rig| Some(get(rig))),
            set: Box::new(move |rig, value| {
                if let Some(value) = value {
                    set(rig, value);
                }
            }),
        },
    }
    .view(state)
}

const PRESSURE_UNIT: &str = "pressure-units";
const MASS_UNIT: &str = "mass-units";

/// The unit of pressures, which makes their fields anew.
fn pressure_unit(state: State) -> Element {
    choice(
        "Pressures in",
        "pressure-unit".to_owned(),
        "",
        PressureUnit::ALL.map(format::unit_mark).into(),
        move || {
            let unit = state.rig(|rig| rig.unit);
            let mut units = PressureUnit::ALL.iter();
            units.position(|of| *of == unit).unwrap_or(0)
        },
        move |picked| {
            state.reshape(|garage, shelf| {
                garage.change(shelf, |rig| {
                    let mark = format::unit_mark(rig.unit);
                    rig.show_unit(PressureUnit::ALL[picked], mark);
                })
            });
            // Made anew like the rest, it keeps the keyboard's place.
            focus_soon(PRESSURE_UNIT.to_owned());
        },
    )
    .attr("id", PRESSURE_UNIT)
    .attr("tabindex", "-1")
}

/// The unit of masses, which makes the fields of masses anew.
fn mass_unit(state: State) -> Element {
    choice(
        "Masses in",
        "mass-unit".to_owned(),
        "",
        MassUnit::ALL.map(format::mass_mark).into(),
        move || {
            let unit = state.rig(|rig| rig.mass_unit);
            usize::from(unit == MassUnit::Pound)
        },
        move |picked| {
            state.reshape(|garage, shelf| {
                garage.change(shelf, |rig| {
                    let mark = format::mass_mark(rig.mass_unit);
                    rig.show_mass_unit(MassUnit::ALL[picked], mark);
                })
            });
            focus_soon(MASS_UNIT.to_owned());
        },
    )
    .attr("id", MASS_UNIT)
    .attr("tabindex", "-1")
}

pub(super) fn settings(state: State) -> Element {
    let wrong = state.rig_now(|rig| {
        ["uneven", "floor", BAND]
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
            vec!["Hold to the tables", "Practice"],
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
        .child(tick(
            "Count half of the low-speed load allowance (figures from memory)",
            move || state.rig(|rig| rig.low_speed_allowance),
            move |ticked| state.change(|rig| rig.low_speed_allowance = ticked),
        ))
        .child(rig_number(
            state,
            "uneven",
            "Allowance for uneven load",
            "Added where the sides were not weighed.",
            Field::UnevenLoad,
            |rig| rig.uneven_load_percent,
            |rig, percent| rig.uneven_load_percent = percent,
        ))
        .child(rig_number(
            state,
            "floor",
            "Floor: lowest pressure anywhere",
            "Keeps the bead on the rim.",
            Field::Floor,
            |rig| rig.floor_kpa,
            |rig, kpa| rig.floor_kpa = kpa,
        ))
        .child(bands(state))
        .child(
            fold("settings-why".to_owned(), "Why these?", false)
                .child(listed(WHY.map(str::to_owned).into_iter())),
        )
}

/// What the settings do and where their figures are from.
const WHY: [&str; 4] = [
    "Tables: never below what they ask for at the surface's speed. Practice: the surface's band, \
     with a warning where it is below the tables.",
    "Passenger tyres on a 4WD, truck, bus or trailer count for less load (49 CFR 571.110 and \
     571.120).",
    "10 % for uneven load is common practice, no source.",
    "A floor of 100 kPa (15 psi) is common practice, no source.",
];
