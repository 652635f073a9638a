//! The rig view: everything that the pressures follow from.

use crate::calc::limits::Field;
use crate::calc::load::AxleGroup;
use crate::calc::surface;
use crate::calc::tyre::designation::DesignationError;
use crate::rig::{
    Axle, LoadFrom, OwnBand, Place, Problem, Rig, Setting, Surface, Vehicle, axle_field,
};
use crate::store::{RigId, SetAside};
use crate::ui::frame::state::{Removed, State};
use crate::ui::kit::element::{Element, Node, element, live, typed};
use crate::ui::kit::fields::{
    NumberField, Slot, button, buttons, choice, designation, focus_soon, link, paragraph, tick,
};
use crate::ui::{kit::format, kit::words};
use leptos::prelude::*;
use leptos::web_sys::js_sys::encode_uri_component;

/// The view.
pub fn view(state: State) -> AnyView {
    // Followed by value, so that typing in a field rebuilds nothing else.
    let listed = Memo::new(move |_| {
        state.garage.with(|garage| Listed {
            rigs: garage
                .rigs()
                .map(|(id, rig)| (id, shown_name(rig)))
                .collect(),
            current: garage.current_id(),
            demo: garage.current().demo,
            set_aside: garage.set_aside().to_vec(),
        })
    });
    vec![
        live(move || removed(state)),
        live(move || rigs(state, listed.get())),
        live(move || {
            state.shape.track();
            fields(state)
        }),
        live(move || set_aside(state, listed.get().set_aside)),
    ]
    .node()
}

fn removed(state: State) -> Option<Element> {
    let said = match state.removed.get()? {
        Removed::Rig(_, rig) => format!("“{}” was deleted.", shown_name(&rig)),
        Removed::Axle(..) => "The axle was removed.".to_owned(),
    };
    let undo = button("Undo", move || state.undo()).attr("id", UNDO);
    Some(
        element("div")
            .class("notice")
            .attr("role", "status")
            .child(paragraph("", said))
            .child(undo.class("primary")),
    )
}

/// The rigs there are, and what can be done with the current one.
#[derive(Clone, PartialEq)]
struct Listed {
    rigs: Vec<(RigId, String)>,
    current: RigId,
    demo: bool,
    set_aside: Vec<SetAside>,
}

const PICKER: &str = "rig-choice";
const NAME: &str = "rig-name";
const UNDO: &str = "undo";

fn rigs(state: State, listed: Listed) -> Element {
    let Listed {
        rigs,
        current,
        demo,
        ..
    } = listed;
    let picker = (rigs.len() > 1).then(|| {
        let select = element("select")
            .attr("id", PICKER)
            .on("change", move |event| {
                if let Ok(id) = typed(&event).parse() {
                    state.reshape(|garage, shelf| garage.choose(shelf, id));
                    focus_soon(PICKER.to_owned());
                }
            });
        let options = rigs.into_iter().map(|(id, name)| {
            let option = element("option").attr("value", id.to_string()).child(name);
            if id == current {
                option.attr("selected", "")
            } else {
                option
            }
        });
        element("div")
            .class("field")
            .child(element("label").attr("for", PICKER).child("Rig"))
            .child(options.fold(select, Element::child))
    });
    let warning = demo.then(|| {
        paragraph(
            "warning",
            "This is the invented demo rig. Nothing on it is about your tyres.",
        )
    });
    let new = button(if demo { "Enter my rig" } else { "New" }, move || {
        state.add_rig(|rig| Rig::empty("My rig", rig.unit));
        focus_soon(NAME.to_owned());
    });
    let new = if demo { new.class("primary") } else { new };
    let copy = button("Copy", move || {
        // A copy of the invented rig is as invented.
        state.add_rig(|rig| Rig {
            name: copy_name(&rig.name),
            ..rig.clone()
        });
        focus_soon(NAME.to_owned());
    });
    let delete = (!demo).then(|| {
        button("Delete", move || {
            state.delete();
            focus_soon(UNDO.to_owned());
        })
    });
    element("section")
        .attr("aria-labelledby", "rigs-heading")
        .child(element("h2").attr("id", "rigs-heading").child("Rigs"))
        .child(picker)
        .child(warning)
        .child(buttons().child(new).child(copy).child(delete))
}

fn shown_name(rig: &Rig) -> String {
    if rig.name.trim().is_empty() {
        "Rig without a name".to_owned()
    } else {
        rig.name.clone()
    }
}

fn copy_name(name: &str) -> String {
    const SUFFIX: &str = " copy";
    let kept: String = name
        .chars()
        .take(Rig::LONGEST_NAME - SUFFIX.len())
        .collect();
    kept + SUFFIX
}

fn fields(state: State) -> Vec<Element> {
    let axles = state.rig_now(|rig| rig.axles.len());
    let mut parts = vec![name(state)];
    parts.extend((0..axles).map(|index| axle(state, index)));
    if axles < Rig::MOST_AXLES {
        parts.push(buttons().child(button("Add an axle", move || {
            state.reshape(|garage, shelf| {
                garage.change(shelf, |rig| rig.axles.push(Axle::empty(Place::Trailer)))
            });
            focus_soon(axle_field(axles, "tyre"));
        })));
    }
    parts.push(settings(state));
    parts.push(bands(state));
    parts
}

fn name(state: State) -> Element {
    let name = RwSignal::new(state.rig_now(|rig| rig.name.clone()));
    let input = element("input")
        .attr("id", NAME)
        .attr("type", "text")
        .attr("autocomplete", "off")
        .attr("maxlength", Rig::LONGEST_NAME.to_string())
        .value_live(move || name.get())
        .on("input", move |event| {
            let text: String = typed(&event).chars().take(Rig::LONGEST_NAME).collect();
            state.change(|rig| rig.name.clone_from(&text));
            name.set(text);
        });
    element("div")
        .class("field")
        .child(element("label").attr("for", NAME).child("Name"))
        .child(input)
}

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
        let load = self.state.rig(|rig| {
            let axle = rig.axles.get(self.index)?;
            rig.wheel_load(axle).ok()
        })?;
        Some(format!(
            "That is {} on the most loaded tyre.",
            format::mass(load)
        ))
    }

    fn problem(self) -> Option<Element> {
        let unit = self.state.rig(|rig| rig.unit);
        self.state
            .outcomes
            .with(|outcomes| match &outcomes.get(self.index)?.result {
                // The field itself asks for it.
                Some(Err(Problem::Tyre(DesignationError::Empty))) => None,
                Some(Err(problem)) => {
                    Some(paragraph("warning", words::problem(problem, unit)).attr("role", "status"))
                }
                _ => None,
            })
    }

    fn remove(self) {
        self.state.remove_axle(self.index);
        focus_soon(UNDO.to_owned());
    }
}

fn axle(state: State, index: usize) -> Element {
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
                "Single. Needed where there is no load index. Pounds: type lb behind it.",
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

fn settings(state: State) -> Element {
    element("section")
        .class("card")
        .attr("aria-labelledby", "settings-heading")
        .child(
            element("h2")
                .attr("id", "settings-heading")
                .child("How to decide"),
        )
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
        .child(paragraph(
            "hint",
            "Tables: never below what they ask for at the surface's speed. Practice: the surface's \
             band, with a warning where it is below the tables.",
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
        .child(paragraph(
            "hint",
            "Passenger tyres on a 4WD, truck, bus or trailer count for less load (49 CFR 571.110).",
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
            "Added where the sides were not weighed. 10 % is common practice, no source.",
            Field::UnevenLoad,
            |rig| rig.uneven_load_percent,
            |rig, percent| rig.uneven_load_percent = percent,
        ))
        .child(rig_number(
            state,
            "floor",
            "Floor: lowest pressure anywhere",
            "Keeps the bead on the rim. 100 kPa (15 psi) is common practice, no source.",
            Field::Floor,
            |rig| rig.floor_kpa,
            |rig, kpa| rig.floor_kpa = kpa,
        ))
}

fn bands(state: State) -> Element {
    let back = button("Back to common practice", move || {
        state.reshape(|garage, shelf| {
            garage.change(shelf, |rig| {
                rig.bands.clear();
                rig.unusable.retain(|text| !text.id.starts_with(BAND));
            })
        });
    });
    let wrong = state.rig_now(|rig| rig.is_unusable(BAND));
    let intro = details("Surface bands", wrong)
        .class("card")
        .child(paragraph(
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
const BAND: &str = "band-";

/// A part of the view that is folded away, unless something in it is wrong.
fn details(summary: &'static str, open: bool) -> Element {
    let details = element("details").child(element("summary").child(summary));
    if open {
        details.attr("open", "")
    } else {
        details
    }
}

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
    Some(OwnBand {
        surface: of,
        low_percent: band.low() * 100.0,
        high_percent: band.high() * 100.0,
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
    element("fieldset")
        .class("band-fields")
        .child(element("legend").child(words::surface_heading(surface)))
        .child(numbers)
        .live(wrong)
}

fn set_aside(state: State, records: Vec<SetAside>) -> Option<Element> {
    if records.is_empty() {
        return None;
    }
    let records = records.into_iter().map(|SetAside { id, why, text }| {
        let href = format!(
            "data:application/json;charset=utf-8,{}",
            String::from(encode_uri_component(&text))
        );
        let download =
            link("Download", href).attr("download", format!("tyreside-record-{id}.json"));
        let discard = button("Delete for good", move || {
            state.reshape(|garage, shelf| garage.discard(shelf, id));
        });
        element("li")
            .child(paragraph(
                "",
                format!("Record {id}: {}", words::unreadable(why)),
            ))
            .child(buttons().child(download).child(discard))
    });
    Some(
        element("section")
            .class("notice")
            .attr("aria-labelledby", "aside-heading")
            .child(
                element("h2")
                    .attr("id", "aside-heading")
                    .child("Saved, but unreadable"),
            )
            .child(paragraph(
                "",
                "Kept whole, and nothing was written over it.",
            ))
            .child(records.fold(element("ul"), Element::child)),
    )
}
