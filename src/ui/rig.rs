//! The rig view: everything that the pressures follow from.

use super::state::State;
use super::widgets::{NumberField, Slot, button, choice, tick};
use super::{format, words};
use crate::calc::limits::Field;
use crate::calc::load::AxleGroup;
use crate::calc::surface;
use crate::calc::tyre::designation::Designation;
use crate::rig::{Axle, LoadFrom, OwnBand, Place, Rig, Setting, Surface, Vehicle};
use crate::store::SetAside;
use leptos::prelude::*;

/// The view.
pub fn view(state: State) -> AnyView {
    view! {
        {move || deleted(state)}
        {move || rigs(state)}
        {move || {
            state.shape.track();
            fields(state)
        }}
        {move || set_aside(state)}
    }
    .into_any()
}

fn deleted(state: State) -> Option<AnyView> {
    let (_, rig) = state.deleted.get()?;
    Some(
        view! {
            <aside class="notice" role="status">
                <p>{format!("“{}” was deleted.", rig.name)}</p>
                {button("Undo", "primary", move || state.undo_delete())}
            </aside>
        }
        .into_any(),
    )
}

/// The rigs there are, and what can be done with the current one.
fn rigs(state: State) -> AnyView {
    let (current, rigs) = state.garage.with(|garage| {
        let rigs: Vec<_> = garage
            .rigs()
            .map(|(id, rig)| (id, shown_name(rig)))
            .collect();
        (garage.current_id(), rigs)
    });
    let picker = (rigs.len() > 1).then(|| {
        let options = rigs
            .into_iter()
            .map(|(id, name)| {
                view! {
                    <option value=id.to_string() selected=id == current>{name}</option>
                }
            })
            .collect_view();
        view! {
            <div class="field">
                <label for="rig-choice">"Rig"</label>
                <select
                    id="rig-choice"
                    on:change=move |event| {
                        if let Ok(id) = event_target_value(&event).parse() {
                            state.reshape(|garage, shelf| garage.choose(shelf, id));
                        }
                    }
                >
                    {options}
                </select>
            </div>
        }
    });
    let demo = state.rig(|rig| rig.demo);
    view! {
        <section aria-labelledby="rigs-heading">
            <h2 id="rigs-heading">"Rigs"</h2>
            {picker}
            {demo.then(|| view! {
                <p class="warning">
                    "This is the invented demo rig. Nothing on it is about your tyres."
                </p>
            })}
            <div class="buttons">
                {demo.then(|| button("Make it mine", "primary", move || state.reshape(|garage, shelf| {
                    garage.change(shelf, |rig| {
                        rig.demo = false;
                        rig.name = "My rig".to_owned();
                    })
                })))}
                {button("New", "", move || state.reshape(|garage, shelf| {
                    let unit = garage.current().unit;
                    garage.add(shelf, Rig::empty("My rig", unit))
                }))}
                {button("Copy", "", move || state.reshape(|garage, shelf| {
                    let rig = garage.current();
                    let copy = Rig { demo: false, name: copy_name(&rig.name), ..rig.clone() };
                    garage.add(shelf, copy)
                }))}
                {(!demo).then(|| button("Delete", "", move || state.delete()))}
            </div>
        </section>
    }
    .into_any()
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

fn fields(state: State) -> AnyView {
    let axles = state.rig_now(|rig| rig.axles.len());
    let name = RwSignal::new(state.rig_now(|rig| rig.name.clone()));
    view! {
        <div class="field">
            <label for="rig-name">"Name"</label>
            <input
                id="rig-name"
                type="text"
                autocomplete="off"
                maxlength=Rig::LONGEST_NAME
                prop:value=move || name.get()
                on:input=move |event| {
                    let text: String =
                        event_target_value(&event).chars().take(Rig::LONGEST_NAME).collect();
                    state.change(|rig| rig.name.clone_from(&text));
                    name.set(text);
                }
            />
        </div>
        {(0..axles).map(|index| axle(state, index)).collect_view()}
        <div class="buttons">
            {(axles < Rig::MOST_AXLES)
                .then(|| button("Add an axle", "", move || state.reshape(|garage, shelf| {
                    garage.change(shelf, |rig| rig.axles.push(Axle::empty(Place::Trailer)))
                })))}
        </div>
        {settings(state)}
        {bands(state)}
    }
    .into_any()
}

fn axle(state: State, index: usize) -> AnyView {
    let read = move |read: fn(&Axle) -> usize| {
        Signal::derive(move || state.rig(|rig| rig.axles.get(index).map_or(0, read)))
    };
    let change = move |change: &dyn Fn(&mut Axle)| {
        state.change(|rig| {
            if let Some(axle) = rig.axles.get_mut(index) {
                change(axle);
            }
        });
    };
    // Radio groups need a name of their own each.
    let name = move |what: &str| -> &'static str { group_name(index, what) };
    let number =
        move |id: &'static str, label, hint, field, get: fn(&mut Axle) -> &mut Option<f64>| {
            NumberField {
                id: format!("axle-{index}-{id}"),
                label,
                hint,
                field,
                axle: Some(index),
                optional: true,
                slot: Slot {
                    get: Box::new(move |rig| {
                        let mut axle = rig.axles.get(index)?.clone();
                        *get(&mut axle)
                    }),
                    set: Box::new(move |rig, value| {
                        if let Some(axle) = rig.axles.get_mut(index) {
                            *get(axle) = value;
                        }
                    }),
                },
            }
            .view(state)
        };
    let load_from = read(|axle| match axle.load_from {
        LoadFrom::Sides => 0,
        LoadFrom::Weighed => 1,
        LoadFrom::Rating => 2,
    });
    let masses = move || match load_from.get() {
        0 => view! {
            <div class="pair">
                {number("left", "Left side", "", Field::SideMass, |a| &mut a.left_kg)}
                {number("right", "Right side", "", Field::SideMass, |a| &mut a.right_kg)}
            </div>
        }
        .into_any(),
        1 => number(
            "weighed",
            "Mass on the axle",
            "Weighbridge, loaded and hitched as you travel. A trailer's axles together.",
            Field::AxleMass,
            |a| &mut a.weighed_kg,
        ),
        _ => number(
            "rating",
            "Axle limit or GTM",
            "The most the axle may carry, off the vehicle's or trailer's plate.",
            Field::AxleMass,
            |a| &mut a.rating_kg,
        ),
    };
    let heading_id = format!("axle-{index}-heading");
    view! {
        <section class="card" aria-labelledby=heading_id>
            <h2 id=heading_id.clone()>
                {move || state.rig(|rig| rig.axles.get(index).map(|axle| {
                    format!("{}, {}", words::axle(axle), words::tyres(axle.group().tyres()))
                }))}
            </h2>
            {choice(
                "Place",
                name("place"),
                "",
                vec!["Front", "Rear", "Trailer"],
                read(|axle| match axle.place {
                    Place::Front => 0,
                    Place::Rear => 1,
                    Place::Trailer => 2,
                }),
                move |picked| change(&|axle| {
                    axle.place = [Place::Front, Place::Rear, Place::Trailer][picked];
                }),
            )}
            {choice(
                "Axles sharing the load",
                name("axles"),
                "",
                vec!["1", "2", "3"],
                read(|axle| usize::from(axle.axles.clamp(1, AxleGroup::MOST_AXLES)) - 1),
                move |picked| change(&|axle| axle.axles = [1, 2, 3][picked]),
            )}
            {tick(
                "Pairs: four tyres across",
                Signal::derive(move || state.rig(|rig| rig.axles.get(index).is_some_and(|a| a.dual))),
                move |ticked| change(&|axle| axle.dual = ticked),
            )}
            {designation(state, index)}
            {choice(
                "Load known from",
                name("load"),
                "",
                vec!["Each side", "Axle weighed", "Rating"],
                load_from,
                move |picked| {
                    // A field that goes takes its unusable text along.
                    state.drafts.update(|drafts| {
                        for id in ["left", "right", "weighed", "rating"] {
                            drafts.remove(&format!("axle-{index}-{id}"));
                        }
                    });
                    change(&|axle| {
                        axle.load_from =
                            [LoadFrom::Sides, LoadFrom::Weighed, LoadFrom::Rating][picked];
                    });
                },
            )}
            {masses}
            {number(
                "own",
                "Your sealed-road pressure",
                "Cold. Used where it carries the load; leave blank to use the load's own.",
                Field::OwnSealedPressure,
                |a| &mut a.own_sealed_kpa,
            )}
            {number(
                "placard",
                "Placard pressure",
                "Cold, for the load carried, off the tyre placard.",
                Field::PlacardPressure,
                |a| &mut a.placard_kpa,
            )}
            {number(
                "moulded-pressure",
                "Pressure moulded at maximum load",
                "Off the sidewall, cold.",
                Field::ReferencePressure,
                |a| &mut a.moulded_pressure_kpa,
            )}
            <details>
                <summary>"More off the sidewall and wheel"</summary>
                {number(
                    "moulded-load",
                    "Maximum load moulded",
                    "Single. Needed where there is no load index. Pounds: type lb behind it.",
                    Field::ReferenceLoad,
                    |a| &mut a.moulded_load_kg,
                )}
                {number(
                    "moulded-dual",
                    "Maximum load moulded, in pairs",
                    "Dual.",
                    Field::ReferenceLoad,
                    |a| &mut a.moulded_dual_load_kg,
                )}
                {number(
                    "moulded-minimum",
                    "Least pressure by the tyre's maker",
                    "Stands in for the lowest row of the tables.",
                    Field::SidewallMinimum,
                    |a| &mut a.moulded_minimum_kpa,
                )}
                {number(
                    "wheel-maximum",
                    "Wheel or valve maximum",
                    "Stamped on the wheel, or said by its maker.",
                    Field::WheelMaximum,
                    |a| &mut a.wheel_maximum_kpa,
                )}
            </details>
            {move || {
                let unit = state.rig(|rig| rig.unit);
                state.outcomes.with(|outcomes| match outcomes.get(index).map(|o| &o.result) {
                    Some(Some(Err(problem))) => Some(view! {
                        <p class="warning" role="status">{words::problem(problem, unit)}</p>
                    }),
                    _ => None,
                })
            }}
            {(state.rig_now(|rig| rig.axles.len()) > 1)
                .then(|| button("Remove this axle", "", move || state.reshape(|garage, shelf| {
                    garage.change(shelf, |rig| {
                        rig.axles.remove(index);
                    })
                })))}
        </section>
    }
    .into_any()
}

/// The name of an axle's radio group.
fn group_name(index: usize, what: &str) -> &'static str {
    const NAMES: [[&str; Rig::MOST_AXLES]; 3] = [
        [
            "place-0", "place-1", "place-2", "place-3", "place-4", "place-5",
        ],
        [
            "axles-0", "axles-1", "axles-2", "axles-3", "axles-4", "axles-5",
        ],
        ["load-0", "load-1", "load-2", "load-3", "load-4", "load-5"],
    ];
    let row = match what {
        "place" => 0,
        "axles" => 1,
        _ => 2,
    };
    NAMES[row][index]
}

fn designation(state: State, index: usize) -> AnyView {
    let id = format!("axle-{index}-tyre");
    let said_id = format!("{id}-said");
    let text = RwSignal::new(
        state
            .rig_now(|rig| rig.axles.get(index).map(|a| a.tyre.clone()))
            .unwrap_or_default(),
    );
    let read = Memo::new(move |_| text.with(|text| Designation::parse(text)));
    let wrong = move || read.with(Result::is_err) && !text.with(|text| text.trim().is_empty());
    let said = move || {
        let unit = state.rig_now(|rig| rig.unit);
        read.with(|read| match read {
            Ok(tyre) => words::designation(tyre),
            Err(error) => words::designation_error(error, unit),
        })
    };
    view! {
        <div class="field" class:wrong=wrong>
            <label for=id.clone()>"Tyre, as its sidewall says"</label>
            <input
                id=id
                type="text"
                autocomplete="off"
                autocapitalize="characters"
                spellcheck="false"
                maxlength=Designation::LONGEST
                aria-describedby=said_id.clone()
                aria-invalid=move || wrong().to_string()
                prop:value=move || text.get()
                on:input=move |event| {
                    let typed = event_target_value(&event);
                    state.change(|rig| {
                        if let Some(axle) = rig.axles.get_mut(index) {
                            axle.tyre.clone_from(&typed);
                        }
                    });
                    text.set(typed);
                }
            />
            <p class="said" id=said_id>{said}</p>
        </div>
    }
    .into_any()
}

fn rig_number(
    state: State,
    id: &str,
    label: &'static str,
    hint: &'static str,
    field: Field,
    slot: fn(&mut Rig) -> &mut f64,
) -> AnyView {
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

fn settings(state: State) -> AnyView {
    view! {
        <section class="card" aria-labelledby="settings-heading">
            <h2 id="settings-heading">"How to decide"</h2>
            {choice(
                "Off sealed road",
                "setting",
                "",
                vec!["Hold to the tables", "Practice"],
                Signal::derive(move || usize::from(state.rig(|rig| rig.setting == Setting::Practice))),
                move |picked| state.change(|rig| {
                    rig.setting = [Setting::HoldToTables, Setting::Practice][picked];
                }),
            )}
            <p class="hint">
                "Hold to the tables: never below what the load tables ask for at the surface's \
                 speed. Practice: the surface's band, with a warning where it is below the tables."
            </p>
            {choice(
                "Tow vehicle",
                "vehicle",
                "",
                vec!["4WD, truck or bus", "Passenger car"],
                Signal::derive(move || {
                    usize::from(state.rig(|rig| rig.tow_vehicle == Vehicle::PassengerCar))
                }),
                move |picked| state.change(|rig| {
                    rig.tow_vehicle = [Vehicle::Other, Vehicle::PassengerCar][picked];
                }),
            )}
            <p class="hint">
                "Passenger tyres on a 4WD, truck, bus or trailer count for less load (49 CFR 571.110)."
            </p>
            {tick(
                "Count half of the low-speed load allowance (figures from memory)",
                Signal::derive(move || state.rig(|rig| rig.low_speed_allowance)),
                move |ticked| state.change(|rig| rig.low_speed_allowance = ticked),
            )}
            {rig_number(
                state,
                "uneven",
                "Allowance for uneven load",
                "Added where the sides were not weighed. 10 % is common practice, no source.",
                Field::UnevenLoad,
                |rig| &mut rig.uneven_load_percent,
            )}
            {rig_number(
                state,
                "floor",
                "Floor: lowest pressure anywhere",
                "Keeps the bead on the rim. 100 kPa (15 psi) is common practice, no source.",
                Field::Floor,
                |rig| &mut rig.floor_kpa,
            )}
        </section>
    }
    .into_any()
}

fn bands(state: State) -> AnyView {
    let surfaces = surface::Surface::ALL
        .into_iter()
        .filter(|surface| surface.band().is_some())
        .map(|surface| band(state, surface.into()))
        .collect_view();
    view! {
        <details class="card">
            <summary>"Surface bands"</summary>
            <p class="hint">
                "Shares of the sealed-road pressure, and the speed each is for. They are common \
                 practice, no source."
            </p>
            {surfaces}
            <div class="buttons">
                {button("Back to common practice", "", move || state.reshape(|garage, shelf| {
                    garage.change(shelf, |rig| rig.bands.clear())
                }))}
            </div>
        </details>
    }
    .into_any()
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

fn band(state: State, surface: Surface) -> AnyView {
    let name = words::surface_heading(surface);
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
    view! {
        <fieldset class="band">
            <legend>{name}</legend>
            <div class="triple">
                {number("low", "Low", Field::BandShare, |b| &mut b.low_percent)}
                {number("high", "High", Field::BandShare, |b| &mut b.high_percent)}
                {number("speed", "Speed", Field::BandSpeed, |b| &mut b.speed_kmh)}
            </div>
            {move || state.rig(|rig| rig.band(surface).err().map(|error| view! {
                <p class="warning" role="status">{words::band_error(&error, rig.unit)}</p>
            }))}
        </fieldset>
    }
    .into_any()
}

fn set_aside(state: State) -> Option<AnyView> {
    let records = state.garage.with(|garage| garage.set_aside().to_vec());
    if records.is_empty() {
        return None;
    }
    let records = records.into_iter().map(|SetAside { id, why, text }| {
        let href = format!(
            "data:application/json;charset=utf-8,{}",
            String::from(leptos::web_sys::js_sys::encode_uri_component(&text))
        );
        view! {
            <li>
                <p>{format!("Record {id}: {}", words::unreadable(why))}</p>
                <div class="buttons">
                    <a class="button" href=href download=format!("tyreside-record-{id}.json")>
                        "Download"
                    </a>
                    {button("Delete for good", "", move || state.reshape(|garage, shelf| {
                        garage.discard(shelf, id)
                    }))}
                </div>
            </li>
        }
    });
    Some(
        view! {
            <section class="notice" aria-labelledby="aside-heading">
                <h2 id="aside-heading">"Saved, but unreadable"</h2>
                <p>"Kept whole, and nothing was written over it."</p>
                <ul>{records.collect_view()}</ul>
            </section>
        }
        .into_any(),
    )
}

/// The unit keys, on every view.
pub fn unit_choice(state: State) -> AnyView {
    use crate::rig::PressureUnit;
    choice(
        "Unit",
        "unit",
        "units",
        PressureUnit::ALL
            .iter()
            .map(|unit| format::unit_mark(*unit))
            .collect(),
        Signal::derive(move || {
            let unit = state.rig(|rig| rig.unit);
            PressureUnit::ALL
                .iter()
                .position(|u| *u == unit)
                .unwrap_or(0)
        }),
        move |picked| {
            state.reshape(|garage, shelf| {
                garage.change(shelf, |rig| rig.unit = PressureUnit::ALL[picked])
            });
        },
    )
}
