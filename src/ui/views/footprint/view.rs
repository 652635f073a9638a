//! The parts of the footprint view.

use super::{drawing, words as said};
use crate::calc::footprint::Change;
use crate::calc::limits::Field;
use crate::calc::quantity::{GaugePressure, kilogram, kilopascal};
use crate::rig::footprint::{Footing, FootprintOf, NoFootprint};
use crate::rig::typed::in_unit::{kg, kpa};
use crate::rig::{Owner, PressureUnit, Rig, Units};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, element, live, typed};
use crate::ui::kit::fields::{
    Holds, NumberField, Slot, button, choice, demo_notice, designation, link, listed, paragraph,
    unit_key,
};
use crate::ui::kit::follow::memo;
use crate::ui::{kit::format, kit::words};
use leptos::prelude::*;

/// Names for axles that would otherwise be called alike.
const NUMBERED: [&str; Rig::MOST_AXLES] =
    ["Axle 1", "Axle 2", "Axle 3", "Axle 4", "Axle 5", "Axle 6"];

/// The wheel and its range; nothing while a field that it hangs on can't be used.
type Found = Option<Result<Footing, NoFootprint>>;

/// What is drawn: gauge steps above the slider's low end, and the change to there.
type Drawn = Memo<Option<(u32, Change)>>;

/// The pressure that the slider was moved to; none until then.
type Place = RwSignal<Option<GaugePressure>>;

/// The view.
pub fn view(state: State) -> Content {
    let place: Place = RwSignal::new(None);
    let of = state.section::<FootprintOf>();
    let typed = memo(move |_| of.read(|of| of.typed));
    let found = memo(move |_| found(state));
    vec![
        demo_notice(state, "Invented demo rig.", " Not for your tyres."),
        live(move || {
            state.shape.track();
            wheels(state, place)
        }),
        live(move || {
            let unit = state.rig(|rig| rig.unit);
            paragraph("unit-line", unit_key(state, unit))
        }),
        live(move || {
            state.shape.track();
            typed.get().then(|| fields(state))
        }),
        live(move || {
            let units = state.rig_now(Rig::units);
            let typed_in = typed.get();
            found.with(|found| match found {
                Some(Ok(footing)) => drawn(state, units, footing.clone(), place),
                Some(Err(why)) => none(why, units, typed_in).node(),
                None => unusable(typed_in).node(),
            })
        }),
    ]
    .node()
}

fn found(state: State) -> Found {
    state.section::<FootprintOf>().with_rig(|rig, of| {
        let usable = match of.axle_of(rig) {
            Some(axle) => rig.unusable_of(axle).is_none(),
            None => of.unusable.is_empty() && rig.unusable_of_all().is_none(),
        };
        usable.then(|| of.footing(rig))
    })
}

fn names(rig: &Rig) -> Vec<&'static str> {
    let mut names: Vec<_> = rig.axles.iter().map(words::axle).collect();
    let alike = (1..names.len()).any(|i| names[..i].contains(&names[i]));
    if alike {
        names = NUMBERED[..names.len().min(NUMBERED.len())].to_vec();
    }
    names
}

fn wheels(state: State, place: Place) -> Element {
    let names = state.rig_now(names);
    let axles = names.len();
    choice(
        "Wheel",
        "footprint-of".to_owned(),
        "wheels",
        names.into_iter().chain(["Typed in"]).collect(),
        move || {
            let of = state.section::<FootprintOf>();
            of.with_rig(|rig, of| of.axle_of(rig)).unwrap_or(axles)
        },
        move |picked| {
            let section = state.section::<FootprintOf>();
            let (axle, start) = section.with_rig_now(|rig, of| {
                let axle = rig.axles.get(picked).map(|axle| axle.id);
                (axle, of.footing(rig).ok().zip(of.axle_of(rig)))
            });
            let tyre = start.as_ref().and_then(|(_, index)| {
                state.rig_now(|rig| rig.axles.get(*index).map(|axle| axle.tyre.clone()))
            });
            section.change(|of| {
                match axle {
                    Some(axle) => of.axle = axle,
                    None => start_with(of, tyre, start.map(|(footing, _)| footing)),
                }
                of.typed = axle.is_none();
            });
            place.set(None);
        },
    )
}

/// Nothing typed in yet starts as the wheel that was shown.
fn start_with(of: &mut FootprintOf, tyre: Option<String>, found: Option<Footing>) {
    let blank = of.tyre.trim().is_empty();
    if let (true, Some(tyre), Some(footing)) = (blank, tyre, found) {
        of.tyre = tyre;
        of.load = Some(kg(footing.wheel.load().get::<kilogram>().round()));
        of.sealed = Some(kpa(footing.high.get::<kilopascal>()));
    }
}

fn fields(state: State) -> Element {
    fn number(
        state: State,
        id: &'static str,
        label: &'static str,
        hint: &'static str,
        field: Field,
        slot: fn(&mut FootprintOf) -> &mut dyn Holds,
    ) -> Element {
        NumberField {
            id: id.to_owned(),
            of: Owner::TypedIn,
            name: id.to_owned(),
            label: label.into(),
            hint,
            field,
            optional: true,
            slot: Slot::within(slot),
        }
        .view(state)
    }
    let of = state.section::<FootprintOf>();
    element("section")
        .class("card typed-in")
        .attr("aria-label", "Wheel typed in")
        .child(designation(
            state,
            "footprint-tyre".to_owned(),
            of.now(|of| of.tyre.clone()),
            Box::new(move |now| of.change(|of| of.tyre = now)),
        ))
        .child(
            element("div")
                .class("pair")
                .child(number(
                    state,
                    "footprint-load",
                    "Load on it",
                    "One tyre's, not of a pair.",
                    Field::WheelLoad,
                    |of| &mut of.load,
                ))
                .child(number(
                    state,
                    "footprint-sealed",
                    "Sealed road",
                    "Cold.",
                    Field::FootprintPressure,
                    |of| &mut of.sealed,
                )),
        )
}

fn none(why: &NoFootprint, units: Units, typed_in: bool) -> Element {
    let danger = match why {
        NoFootprint::Axle(problem) => words::is_danger(problem),
        NoFootprint::Sealed(_) => true,
        _ => false,
    };
    let (class, figure) = if danger {
        ("axle none danger", "Stop: no safe figure")
    } else {
        ("axle none", "No footprint")
    };
    no_figure(class, figure, said::none(why, units), typed_in)
}

fn unusable(typed_in: bool) -> Element {
    let why = if typed_in {
        "An entry above can't be used. It is marked there."
    } else {
        "An entry on the rig page can't be used. It is marked there."
    };
    no_figure("axle none", "No footprint", why.to_owned(), typed_in)
}

fn no_figure(class: &'static str, figure: &'static str, why: String, typed_in: bool) -> Element {
    let row = element("div")
        .class("row")
        .child(element("h2").class("figure").child(figure));
    element("section")
        .class(class)
        .attr("role", "status")
        .child(row)
        .child(paragraph("warning", why))
        .child((!typed_in).then(|| link("Open the rig page", "#/rig")))
}

fn drawn(state: State, units: Units, footing: Footing, place: Place) -> Content {
    let unit = units.pressure;
    let load = format::mass(units.mass, footing.wheel.load());
    let load = format!("{load} on a tyre");
    let subject = format!("{}, {load}", name(state));
    let marks = drawing::marks(&footing);
    let cut = said::cut(&footing, unit);
    let tyre = footing.wheel.tyre();
    let footing = StoredValue::new(footing);
    let now: Drawn = memo(move |_| {
        footing.with_value(|footing| {
            let start = || footing.start();
            let steps = place.get().map_or_else(start, |at| footing.nearest(at));
            footing.change(steps).ok().map(|change| (steps, change))
        })
    });
    let text = move |text: fn(&Change) -> String| {
        live(move || now.with(|now| now.as_ref().map(|(_, change)| text(change))))
    };
    let heading = element("div")
        .class("heading")
        .child(
            element("h2")
                .attr("id", "footprint-heading")
                .child("Footprint, estimated"),
        )
        .child(paragraph("cold", load.clone()));
    let growth = element("div")
        .class("growth")
        .child(
            element("p")
                .class("number")
                .child(text(|change| said::times(change.growth.estimate))),
        )
        .child(
            element("div")
                .child(paragraph(
                    "",
                    text(|change| format!("bounds {}", said::bounds(change))),
                ))
                .child(paragraph("", text(said::areas))),
        );
    // The far end, up to which the drawing has to have room.
    let whole = footing.with_value(|footing| footing.change(0).ok());
    let prints = whole.map(|whole| {
        let largest = whole.after;
        drawing_of(
            drawing::print_before(&whole, &largest, unit),
            move |change| drawing::print_after(change, &largest, unit),
            now,
        )
    });
    let side = whole.map(|whole| {
        drawing_of(
            drawing::side_before(&whole, tyre),
            move |change| drawing::side_after(change, tyre),
            now,
        )
    });
    vec![
        element("section")
            .class("answers footprint")
            .attr("aria-labelledby", "footprint-heading")
            .child(heading)
            .child(growth)
            .child(prints)
            .child(slider(unit, footing, now, place, marks))
            .child(cut.map(|cut| paragraph("hint", cut)))
            .child(warnings(unit, footing, now))
            .child(side)
            .child(table(unit, now, subject))
            .node(),
        trust(unit).node(),
        cautions().node(),
    ]
    .node()
}

fn name(state: State) -> &'static str {
    state.section::<FootprintOf>().with_rig_now(|rig, of| {
        let axle = of.axle_of(rig);
        axle.and_then(|index| names(rig).get(index).copied())
            .unwrap_or("Typed in")
    })
}

/// Two sheets: what follows the slider, and what stays.
fn drawing_of(stays: String, follows: impl Fn(&Change) -> String + 'static, now: Drawn) -> Element {
    let follows = element("div").markup_live(move || {
        now.with(|now| now.as_ref().map(|(_, change)| follows(change)))
            .unwrap_or_default()
    });
    element("div")
        .class("to-scale")
        .child(follows)
        .child(element("div").class("sheet").markup(stays))
}

fn slider(
    unit: PressureUnit,
    footing: StoredValue<Footing>,
    now: Drawn,
    place: Place,
    marks: String,
) -> Element {
    let spoken = RwSignal::new(String::new());
    let steps = move || now.with(|now| now.as_ref().map_or(0, |(steps, _)| *steps));
    let pressure = move || format::pressure(unit, footing.with_value(|f| f.pressure(steps())));
    let bands = move || footing.with_value(|f| said::bands_at(f, f.pressure(steps())));
    let sentence = move || {
        let growth = now.with(|now| {
            now.as_ref()
                .map(|(_, change)| said::times(change.growth.estimate))
        });
        format!(
            "{}, {}, footprint {}",
            pressure(),
            bands(),
            growth.unwrap_or_default()
        )
    };
    let set = move |steps: u32| {
        place.set(Some(footing.with_value(|footing| footing.pressure(steps))));
    };
    let step = move |label: &'static str, name: &'static str, to: fn(u32) -> u32| {
        button(label, move || {
            set(to(steps()));
            spoken.set(sentence());
        })
        .class("step")
        .attr("aria-label", name)
    };
    let input = element("input")
        .attr("type", "range")
        .attr("id", "footprint-pressure")
        .attr("min", "0")
        .attr("max", footing.with_value(Footing::steps).to_string())
        .attr("aria-label", "Cold pressure")
        .attr_live("aria-valuetext", move || Some(sentence()))
        .value_live(move || steps().to_string())
        .on("input", move |event| {
            if let Ok(steps) = typed(&event).parse() {
                set(steps);
            }
        });
    let [low, high] = footing.with_value(|footing| said::ends(footing, unit));
    let recommended = footing.with_value(|footing| {
        let to = footing.recommended?;
        let label = format!(
            "{}: {}",
            said::surface(footing.surface),
            format::pressure(unit, to)
        );
        let what = if footing.least_only {
            "▲ Least for the load, "
        } else {
            "▲ Recommended, "
        };
        let press = button(what, move || {
            place.set(Some(to));
            spoken.set(sentence());
        });
        Some(press.child(label).class("recommended"))
    });
    element("div")
        .class("slider")
        .child(
            element("div")
                .class("readout")
                .child(step("−", "Less air", |steps| steps.saturating_sub(1)))
                .child(
                    element("div")
                        .child(paragraph("speed", live(pressure)))
                        .child(paragraph("cold", live(bands))),
                )
                .child(step("+", "More air", |steps| steps + 1)),
        )
        .child(input)
        .child(
            element("div")
                .class("ends")
                .child(element("span").child(low))
                .child(element("span").child(high)),
        )
        .child(element("div").class("to-scale marks").markup(marks))
        .child(recommended)
        .child(
            element("p")
                .class("unseen")
                .attr("role", "status")
                .live(move || spoken.get()),
        )
}

/// Whether the load is carried at the slider's pressure, and whether the
/// tyre bulges. Kept and changed rather than built anew for each step.
fn warnings(unit: PressureUnit, footing: StoredValue<Footing>, now: Drawn) -> Element {
    let tables = move || {
        let steps = now.with(|now| now.as_ref().map_or(0, |(steps, _)| *steps));
        footing.with_value(|footing| said::carried(footing, footing.pressure(steps), unit))
    };
    let bulging = move || {
        now.with(|now| {
            now.as_ref()
                .and_then(|(_, change)| said::bulging(&change.after))
        })
    };
    element("div")
        .class("warnings")
        .child(
            element("p")
                .attr_live("class", move || {
                    Some(if tables().0 { "held" } else { "warning" }.to_owned())
                })
                .live(move || tables().1),
        )
        .child(paragraph("", said::NO_LICENCE))
        .live(move || bulging().map(|text| paragraph("warning", text)))
}

/// All figures. Only the column that follows the slider is live.
fn table(unit: PressureUnit, now: Drawn, subject: String) -> Element {
    let first = now.get_untracked().map(|(_, change)| change);
    let before =
        move |figure: &dyn Fn(&Change) -> String| first.as_ref().map(figure).unwrap_or_default();
    let after = move |row: Option<usize>| {
        live(move || {
            now.with(|now| {
                let (_, change) = now.as_ref()?;
                Some(match row {
                    Some(row) => said::ROWS[row].after(change, unit),
                    None => format::pressure(unit, change.after.pressure),
                })
            })
        })
    };
    let head = |text: Content| element("th").attr("scope", "col").child(text);
    let heads = element("tr")
        .child(element("td"))
        .child(head(
            before(&|change| format::pressure(unit, change.before.pressure)).node(),
        ))
        .child(head(after(None)));
    let rows = said::ROWS.iter().enumerate().map(|(index, row)| {
        element("tr")
            .child(element("th").attr("scope", "row").child(row.name()))
            .child(element("td").child(before(&|change| row.before(change, unit))))
            .child(element("td").child(after(Some(index))))
    });
    element("table")
        .class("figures")
        .child(element("caption").child(subject))
        .child(element("thead").child(heads))
        .child(rows.fold(element("tbody"), Element::child))
}

fn trust(unit: PressureUnit) -> Element {
    let texts = said::validity(unit).into_iter();
    element("section")
        .class("card")
        .attr("aria-labelledby", "trust-heading")
        .child(
            element("h2")
                .attr("id", "trust-heading")
                .child("How far to trust it"),
        )
        .child(listed(texts))
}

fn cautions() -> Element {
    element("section")
        .class("notice")
        .attr("aria-labelledby", "cautions-heading")
        .child(
            element("h2")
                .attr("id", "cautions-heading")
                .child("Before you let air out"),
        )
        .child(listed(said::CAUTIONS.into_iter().map(str::to_owned)))
}
