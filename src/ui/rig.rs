//! The rig view: everything that the pressures follow from.

use super::element::{Element, Node, element, live, typed};
use super::state::State;
use super::widgets::{
    NumberField, Slot, button, buttons, choice, field_class, link, paragraph, tick,
};
use super::{format, words};
use crate::calc::limits::Field;
use crate::calc::load::AxleGroup;
use crate::calc::surface;
use crate::calc::tyre::designation::Designation;
use crate::rig::{Axle, LoadFrom, OwnBand, Place, PressureUnit, Rig, Setting, Surface, Vehicle};
use crate::store::SetAside;
use leptos::prelude::*;
use leptos::web_sys::js_sys::encode_uri_component;

/// The view.
pub fn view(state: State) -> AnyView {
    vec![
        live(move || deleted(state)),
        live(move || rigs(state)),
        live(move || {
            state.shape.track();
            fields(state)
        }),
        live(move || set_aside(state)),
    ]
    .node()
}

fn deleted(state: State) -> Option<Element> {
    let (_, rig) = state.deleted.get()?;
    let undo = button("Undo", move || state.undo_delete());
    Some(
        element("div")
            .class("notice")
            .attr("role", "status")
            .child(paragraph(
                "",
                format!("“{}” was deleted.", shown_name(&rig)),
            ))
            .child(undo.class("primary")),
    )
}

/// The rigs there are, and what can be done with the current one.
fn rigs(state: State) -> Element {
    let (current, rigs) = state.garage.with(|garage| {
        let rigs: Vec<_> = garage
            .rigs()
            .map(|(id, rig)| (id, shown_name(rig)))
            .collect();
        (garage.current_id(), rigs)
    });
    let picker = (rigs.len() > 1).then(|| {
        let select = element("select")
            .attr("id", "rig-choice")
            .on("change", move |event| {
                if let Ok(id) = typed(&event).parse() {
                    state.reshape(|garage, shelf| garage.choose(shelf, id));
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
            .child(element("label").attr("for", "rig-choice").child("Rig"))
            .child(options.fold(select, Element::child))
    });
    let demo = state.rig(|rig| rig.demo);
    let warning = demo.then(|| {
        paragraph(
            "warning",
            "This is the invented demo rig. Nothing on it is about your tyres.",
        )
    });
    let make_mine = demo.then(|| {
        button("Make it mine", move || {
            state.reshape(|garage, shelf| {
                garage.change(shelf, |rig| {
                    rig.demo = false;
                    rig.name = "My rig".to_owned();
                })
            });
        })
        .class("primary")
    });
    let new = button("New", move || {
        state.reshape(|garage, shelf| {
            let unit = garage.current().unit;
            garage.add(shelf, Rig::empty("My rig", unit))
        });
    });
    let copy = button("Copy", move || {
        state.reshape(|garage, shelf| {
            let rig = garage.current();
            let copy = Rig {
                demo: false,
                name: copy_name(&rig.name),
                ..rig.clone()
            };
            garage.add(shelf, copy)
        });
    });
    let delete = (!demo).then(|| button("Delete", move || state.delete()));
    element("section")
        .attr("aria-labelledby", "rigs-heading")
        .child(element("h2").attr("id", "rigs-heading").child("Rigs"))
        .child(picker)
        .child(warning)
        .child(
            buttons()
                .child(make_mine)
                .child(new)
                .child(copy)
                .child(delete),
        )
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
        })));
    }
    parts.push(settings(state));
    parts.push(bands(state));
    parts
}

fn name(state: State) -> Element {
    let name = RwSignal::new(state.rig_now(|rig| rig.name.clone()));
    let input = element("input")
        .attr("id", "rig-name")
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
        .child(element("label").attr("for", "rig-name").child("Name"))
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
        format!("axle-{}-{name}", self.index)
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
                "The most the axle may carry, off the vehicle's or trailer's plate.",
                Field::AxleMass,
                |a| &mut a.rating_kg,
            ),
        }
    }

    fn set_load_from(self, from: LoadFrom) {
        // A field that goes takes its unusable text along.
        self.state.drafts.update(|drafts| {
            for name in ["left", "right", "weighed", "rating"] {
                let id = self.id(name);
                drafts.retain(|draft| draft.id != id);
            }
        });
        self.change(|axle| axle.load_from = from);
    }

    fn problem(self) -> Option<Element> {
        let unit = self.state.rig(|rig| rig.unit);
        self.state
            .outcomes
            .with(|outcomes| match &outcomes.get(self.index)?.result {
                Some(Err(problem)) => {
                    Some(paragraph("warning", words::problem(problem, unit)).attr("role", "status"))
                }
                _ => None,
            })
    }

    fn remove(self) {
        self.state.reshape(|garage, shelf| {
            garage.change(shelf, |rig| {
                if self.index < rig.axles.len() && rig.axles.len() > 1 {
                    rig.axles.remove(self.index);
                }
            })
        });
    }
}

fn axle(state: State, index: usize) -> Element {
    let edited = Edited { state, index };
    let place = Memo::new(move |_| edited.read(|axle| axle.place));
    let from = Memo::new(move |_| edited.read(|axle| axle.load_from));
    const SOURCES: [(&str, LoadFrom); 3] = [
        ("Each side", LoadFrom::Sides),
        ("Axle weighed", LoadFrom::Weighed),
        ("Rating", LoadFrom::Rating),
    ];
    let source = choice(
        "Load known from",
        edited.id("load"),
        "",
        SOURCES.iter().map(|(label, _)| *label).collect(),
        move || {
            SOURCES
                .iter()
                .position(|(_, value)| Some(*value) == from.get())
                .unwrap_or(0)
        },
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
            (place.get() == Some(Place::Trailer)).then(|| {
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
        .live(move || from.get().map(|from| edited.masses(from)))
        .child(edited.number(
            "own",
            "Your sealed-road pressure",
            "Cold. Used where it carries the load; leave blank to use the load's own.",
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
            element("details")
                .child(element("summary").child("Place, pairs, and more off the sidewall"))
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

/// A field for a tyre's designation, which starts as `now`.
pub fn designation(state: State, id: String, now: String, keep: Box<dyn Fn(String)>) -> Element {
    let said_id = format!("{id}-said");
    let text = RwSignal::new(now);
    let read = Memo::new(move |_| text.with(|text| Designation::parse(text)));
    let wrong = move || read.with(Result::is_err) && !text.with(|text| text.trim().is_empty());
    let said = move || {
        let unit = state.rig_now(|rig| rig.unit);
        read.with(|read| match read {
            Ok(tyre) => words::designation(tyre),
            Err(error) => words::designation_error(error, unit),
        })
    };
    let input = element("input")
        .attr("id", id.clone())
        .attr("type", "text")
        .attr("autocomplete", "off")
        .attr("autocapitalize", "characters")
        .attr("spellcheck", "false")
        .attr("maxlength", Designation::LONGEST.to_string())
        .attr("aria-describedby", said_id.clone())
        .attr_live("aria-invalid", move || Some(wrong().to_string()))
        .value_live(move || text.get())
        .on("input", move |event| {
            let now = typed(&event);
            keep(now.clone());
            text.set(now);
        });
    element("div")
        .attr_live("class", move || Some(field_class(wrong())))
        .child(
            element("label")
                .attr("for", id)
                .child("Tyre, as its sidewall says"),
        )
        .child(input)
        .child(element("p").class("said").attr("id", said_id).live(said))
}

fn rig_number(
    state: State,
    id: &str,
    label: &'static str,
    hint: &'static str,
    field: Field,
    slot: fn(&mut Rig) -> &mut f64,
) -> Element {
    NumberField {
        id: id.to_owned(),
        label,
        hint,
        field,
        axle: None,
        optional: false,
        slot: Slot {
            get: Box::new(move |rig| Some(*slot(&mut rig.clone()))),
            set: Box::new(move |rig, value| {
                if let Some(value) = value {
                    *slot(rig) = value;
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
            "Hold to the tables: never below what the load tables ask for at the surface's speed. \
             Practice: the surface's band, with a warning where it is below the tables.",
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
            |rig| &mut rig.uneven_load_percent,
        ))
        .child(rig_number(
            state,
            "floor",
            "Floor: lowest pressure anywhere",
            "Keeps the bead on the rim. 100 kPa (15 psi) is common practice, no source.",
            Field::Floor,
            |rig| &mut rig.floor_kpa,
        ))
}

fn bands(state: State) -> Element {
    let back = button("Back to common practice", move || {
        state.reshape(|garage, shelf| garage.change(shelf, |rig| rig.bands.clear()));
    });
    let intro = element("details")
        .class("card")
        .child(element("summary").child("Surface bands"))
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

/// The rig's own band for a surface, made from practice if there is none.
fn own_band(rig: &mut Rig, surface: Surface) -> Option<&mut OwnBand> {
    if !rig.bands.iter().any(|band| band.surface == surface) {
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
            id: format!("band-{}-{id}", words::surface(surface).replace(' ', "-")),
            label,
            hint: "",
            field,
            axle: None,
            optional: false,
            slot: Slot {
                get: Box::new(move |rig| own_band(&mut rig.clone(), surface).map(|b| *get(b))),
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

fn set_aside(state: State) -> Option<Element> {
    let records = state.garage.with(|garage| garage.set_aside().to_vec());
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

/// The unit keys, on every view.
pub fn unit_choice(state: State) -> Element {
    choice(
        "Unit",
        "unit".to_owned(),
        "units",
        PressureUnit::ALL
            .iter()
            .map(|unit| format::unit_mark(*unit))
            .collect(),
        move || {
            let unit = state.rig(|rig| rig.unit);
            PressureUnit::ALL
                .iter()
                .position(|u| *u == unit)
                .unwrap_or(0)
        },
        move |picked| {
            state.reshape(|garage, shelf| {
                garage.change(shelf, |rig| rig.unit = PressureUnit::ALL[picked])
            });
        },
    )
}
