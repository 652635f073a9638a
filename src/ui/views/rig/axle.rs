//! One axle's fields.

use super::{UNDO, details};
use crate::calc::limits::Field;
use crate::calc::load::AxleGroup;
use crate::calc::tyre::designation::DesignationError;
use crate::rig::{Axle, LoadFrom, Place, Problem, Rig, axle_field};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::{
    NumberField, Slot, button, buttons, choice, designation, focus_soon, paragraph, tick,
};
use crate::ui::{kit::format, kit::words};
use leptos::prelude::*;

/// One axle of the current rig, being edited.
#[derive(Clone, Copy)]
struct Edited {
    state: State,
    index: usize,
}

impl Edited {
    fn read<T>(self, read: impl FnOnce(&Axle) -> T) -> Option<T> {
        self.state.rig(|rig| rig.axles.get(self.index).map(read))
    }

    fn change(self, change: impl FnOnce(&mut Axle)) {
        self.state.change(|rig| {
            if let Some(axle) = rig.axles.get_mut(self.index) {
                change(axle);
            }
        });
    }

    fn id(self, name: &str) -> String {
        axle_field(self.index, name)
    }

    /// One of several, each a value of the axle's.
    fn choice<T: Copy + PartialEq + Send + Sync + 'static, const N: usize>(
        self,
        legend: &'static str,
        name: &str,
        options: [(&'static str, T); N],
        get: fn(&Axle) -> T,
        set: fn(&mut Axle, T),
    ) -> Element {
        choice(
            legend,
            self.id(name),
            "",
            options.iter().map(|(label, _)| *label).collect(),
            move || {
                let now = self.read(get);
                options
                    .iter()
                    .position(|(_, value)| Some(*value) == now)
                    .unwrap_or(0)
            },
            move |picked| self.change(|axle| set(axle, options[picked].1)),
        )
    }

    fn number(
        self,
        name: &str,
        label: &'static str,
        hint: &'static str,
        field: Field,
        slot: fn(&mut Axle) -> &mut Option<f64>,
    ) -> Element {
        let index = self.index;
        NumberField {
            id: self.id(name),
            label,
            hint,
            field,
            axle: Some(index),
            optional: true,
            slot: Slot {
                get: Box::new(move |rig| *slot(&mut rig.axles.get(index)?.clone())),
                set: Box::new(move |rig, value| {
                    if let Some(axle) = rig.axles.get_mut(index) {
                        *slot(axle) = value;
                    }
                }),
            },
        }
        .view(self.state)
    }

    fn masses(self, from: LoadFrom) -> Element {
        match from {
            LoadFrom::Sides => element("div")
                .class("pair")
                .child(self.number("left", "Left side", "", Field::SideMass, |a| &mut a.left_kg))
                .child(
                    self.number("right", "Right side", "", Field::SideMass, |a| {
                        &mut a.right_kg
                    }),
                ),
            LoadFrom::Weighed => self.number(
                "weighed",
                "Mass on the axle",
                "Weighbridge, loaded and hitched as you travel. A trailer's axles together.",
                Field::AxleMass,
                |a| &mut a.weighed_kg,
            ),
            LoadFrom::Rating => self.number(
                "rating",
                "Axle limit or GTM",
                "Off the vehicle's or trailer's plate. A trailer's GTM is for all its axles together.",
                Field::AxleMass,
                |a| &mut a.rating_kg,
            ),
        }
    }

    fn set_load_from(self, from: LoadFrom) {
        // A field that goes takes its unusable text along.
        let gone = ["left", "right", "weighed", "rating"].map(|name| self.id(name));
        self.state.forget_drafts(|text| gone.contains(&text.id));
        self.change(|axle| axle.load_from = from);
    }

    /// Whether one of these fields holds a text that could not be used.
    fn has_draft(self, names: &[&str]) -> bool {
        self.state.rig_now(|rig| {
            rig.unusable
                .iter()
                .any(|text| names.iter().any(|name| text.id == self.id(name)))
        })
    }

    /// What the mass comes to on one tyre: the check on which axles it was of.
    fn on_one_tyre(self) -> Option<String> {
        let (load, unit) = self.state.rig(|rig| {
            let axle = rig.axles.get(self.index)?;
            Some((rig.wheel_load(axle).ok()?, rig.mass_unit))
        })?;
        Some(format!(
            "That is {} on the most loaded tyre.",
            format::mass(unit, load)
        ))
    }

    fn problem(self) -> Option<Element> {
        let units = self.state.rig(Rig::units);
        self.state
            .outcomes
            .with(|outcomes| match &outcomes.get(self.index)?.result {
                // The field itself asks for it.
                Some(Err(Problem::Tyre(DesignationError::Empty))) => None,
                Some(Err(problem)) => Some(
                    paragraph("warning", words::problem(problem, units)).attr("role", "status"),
                ),
                _ => None,
            })
    }

    fn remove(self) {
        self.state.remove_axle(self.index);
        focus_soon(UNDO.to_owned());
    }
}

pub(super) fn axle(state: State, index: usize) -> Element {
    let edited = Edited { state, index };
    let on_trailer = move || edited.read(|axle| axle.place) == Some(Place::Trailer);
    let on_trailer = Memo::new(move |_| usize::from(on_trailer()));
    const SOURCES: [(&str, LoadFrom); 3] = [
        ("Each side", LoadFrom::Sides),
        ("Axle weighed", LoadFrom::Weighed),
        ("Plate rating", LoadFrom::Rating),
    ];
    let from = Memo::new(move |_| {
        let now = edited.read(|axle| axle.load_from);
        SOURCES
            .iter()
            .position(|(_, from)| Some(*from) == now)
            .unwrap_or(0)
    });
    let source = choice(
        "Load known from",
        edited.id("load"),
        "",
        SOURCES.iter().map(|(label, _)| *label).collect(),
        move || from.get(),
        move |picked| edited.set_load_from(SOURCES[picked].1),
    );
    let heading = element("h2")
        .attr("id", edited.id("heading"))
        .live(move || {
            edited.read(|axle| {
                format!(
                    "{}, {}",
                    words::axle(axle),
                    words::tyres(axle.group().tyres())
                )
            })
        });
    let remove = (state.rig_now(|rig| rig.axles.len()) > 1)
        .then(|| buttons().child(button("Remove this axle", move || edited.remove())));
    element("section")
        .class("card")
        .attr("aria-labelledby", edited.id("heading"))
        .child(heading)
        .live(move || {
            // Only a trailer's axles are ever weighed together.
            (on_trailer.get() == 1).then(|| {
                edited.choice(
                    "Trailer axles",
                    "axles",
                    [("1", 1), ("2", 2), ("3", AxleGroup::MOST_AXLES)],
                    |axle| axle.axles,
                    |axle, axles| axle.axles = axles,
                )
            })
        })
        .child(designation(
            state,
            edited.id("tyre"),
            state
                .rig_now(|rig| rig.axles.get(index).map(|axle| axle.tyre.clone()))
                .unwrap_or_default(),
            Box::new(move |now| edited.change(|axle| axle.tyre = now)),
        ))
        .child(source)
        .live(move || edited.masses(SOURCES[from.get()].1))
        .child(
            element("p")
                .class("said")
                .live(move || edited.on_one_tyre()),
        )
        .child(edited.number(
            "own",
            "Your sealed-road pressure",
            "Cold. Used where it carries the load. Blank: worked out from placard and load.",
            Field::OwnSealedPressure,
            |a| &mut a.own_sealed_kpa,
        ))
        .child(edited.number(
            "placard",
            "Placard pressure",
            "Cold, for the load carried, off the tyre placard.",
            Field::PlacardPressure,
            |a| &mut a.placard_kpa,
        ))
        .child(edited.number(
            "moulded-pressure",
            "Pressure moulded at maximum load",
            "Off the sidewall, cold.",
            Field::ReferencePressure,
            |a| &mut a.moulded_pressure_kpa,
        ))
        .child(
            details(
                "Position, pairs, and more off the sidewall",
                edited.has_draft(&[
                    "moulded-load",
                    "moulded-dual",
                    "moulded-minimum",
                    "wheel-maximum",
                ]),
            )
            .child(edited.choice(
                "Place",
                "place",
                [
                    ("Front", Place::Front),
                    ("Rear", Place::Rear),
                    ("Trailer", Place::Trailer),
                ],
                |axle| axle.place,
                |axle, place| {
                    axle.place = place;
                    if place != Place::Trailer {
                        axle.axles = 1;
                    }
                },
            ))
            .child(tick(
                "Pairs: four tyres across",
                move || edited.read(|axle| axle.dual).unwrap_or(false),
                move |ticked| edited.change(|axle| axle.dual = ticked),
            ))
            .child(edited.number(
                "moulded-load",
                "Maximum load moulded",
                "Single. Needed where there is no load index. Type kg or lb behind it.",
                Field::ReferenceLoad,
                |a| &mut a.moulded_load_kg,
            ))
            .child(edited.number(
                "moulded-dual",
                "Maximum load moulded, in pairs",
                "Dual.",
                Field::ReferenceLoad,
                |a| &mut a.moulded_dual_load_kg,
            ))
            .child(edited.number(
                "moulded-minimum",
                "Least pressure by the tyre's maker",
                "Stands in for the lowest row of the tables.",
                Field::SidewallMinimum,
                |a| &mut a.moulded_minimum_kpa,
            ))
            .child(edited.number(
                "wheel-maximum",
                "Wheel or valve maximum",
                "Stamped on the wheel, or said by its maker.",
                Field::WheelMaximum,
                |a| &mut a.wheel_maximum_kpa,
            )),
        )
        .live(move || edited.problem())
        .child(remove)
}
