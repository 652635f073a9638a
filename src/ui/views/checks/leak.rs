//! Slow leaks: readings of one tyre, and the line through them.

use super::drawing;
use crate::calc::gas::TyreAir;
use crate::calc::gas::leak::{HORIZON_DAYS, LeakLine, LeakReading, Reaches};
use crate::calc::limits::Field;
use crate::calc::quantity::{GaugePressure, Time, day};
use crate::rig::air::Leaks;
use crate::rig::air::leaks::Reading;
use crate::rig::typed::in_unit::metres;
use crate::rig::typed::{Amount, Typed};
use crate::rig::{AxleId, PressureUnit, Rig};
use crate::store::RigId;
use crate::ui::frame::state::{Kept, State};
use crate::ui::kit::air_fields::{axle_choice, number};
use crate::ui::kit::element::{Content, Element, Node, element, typed};
use crate::ui::kit::fields::{button, buttons, choice, done, paragraph, tick};
use crate::ui::kit::follow::memo;
use crate::ui::kit::format;
use crate::ui::kit::parts::{closed, fold};
use crate::ui::kit::{air_words as words, clock, tools};
use leptos::prelude::*;

/// What a thermometer in the shade may be off, and a guess, in kelvins.
const MEASURED_WITHIN: f64 = 2.0;
const GUESSED_WITHIN: f64 = 6.0;

const TAKEN: &str = "leak-taken";

/// The reading deleted last, with its rig and its place in the list.
type Removed = RwSignal<Option<(RigId, usize, Reading)>>;

fn leaks(state: State) -> Kept<Leaks> {
    state.section()
}

/// The place of the axle and the tyre looked at.
fn looked_at(state: State) -> (usize, u8) {
    leaks(state).with_rig(|rig, leaks| leaks.looked_at(rig))
}

/// The axle of a place.
#[inline(never)]
fn axle_of(state: State, place: usize) -> Option<AxleId> {
    state.rig_now(|rig| rig.axles.get(place).map(|axle| axle.id))
}

/// The part of the view.
pub fn view(state: State) -> Content {
    tools::take_over_texts(state);
    let axle = memo(move |_| looked_at(state).0);
    let kept = RwSignal::new(0_u32);
    let removed: Removed = RwSignal::new(None);
    closed("Slow leaks")
        .child(paragraph(
            "hint",
            "Cold readings of one tyre, some weeks apart, without pumping in between.",
        ))
        .child(axle_choice(
            state,
            "On which axle",
            "leak-axle",
            move || axle.get(),
            move |picked| {
                let id = axle_of(state, picked);
                // It may have fewer tyres.
                leaks(state).change(|leaks| (leaks.axle, leaks.tyre) = (id, 0));
            },
        ))
        .live(move || {
            let tyres = state.rig_now(|rig| {
                let axle = rig.axles.get(axle.get());
                axle.map_or(0, |axle| axle.group().tyres())
            });
            tyre_choice(state, tyres)
        })
        .live(move || {
            kept.track();
            entry(state)
        })
        .child(
            buttons()
                .child(button("Keep this reading", move || keep(state, kept)).class("primary")),
        )
        .child(
            element("p")
                .class("warning")
                .attr("role", "status")
                .live(move || untold(state, kept)),
        )
        .live(move || {
            let (axle, tyre) = looked_at(state);
            found(state, removed, axle, tyre)
        })
        .live(move || bring_back(state, removed))
        .node()
}

fn tyre_choice(state: State, tyres: u8) -> Element {
    const NAMES: [&str; 12] = [
        "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12",
    ];
    choice(
        "Tyre, left to right, front to back",
        "leak-tyre".to_owned(),
        "tyre-keys",
        NAMES.into_iter().take(tyres.into()).collect(),
        move || looked_at(state).1.into(),
        move |picked| {
            let (axle, _) = untrack(|| looked_at(state));
            let id = axle_of(state, axle);
            leaks(state).change(|leaks| (leaks.axle, leaks.tyre) = (id, picked as u8));
        },
    )
}

/// Whether the reading being entered is one of before.
fn is_dated(leaks: &Leaks) -> bool {
    !leaks.at.is_empty()
}

/// When it was taken, where that is not now.
fn taken(state: State) -> Element {
    let at = leaks(state).now(|leaks| leaks.at.clone());
    element("div")
        .class("field")
        .child(element("label").attr("for", TAKEN).child("Taken at"))
        .child(
            element("input")
                .attr("id", TAKEN)
                .attr("type", "datetime-local")
                .attr("value", at)
                .on("input", move |event| {
                    let at = typed(&event);
                    leaks(state).change(|leaks| leaks.at = at);
                }),
        )
        .child(paragraph("hint", "Blank: now."))
}

/// The air around then: what is entered above is that of now.
fn air_then(state: State) -> Element {
    number(
        state,
        "leak-air",
        "Air around then",
        "In the shade. Fahrenheit: type F behind it.",
        Field::AmbientTemperature,
        |leaks: &mut Leaks| &mut leaks.temperature,
    )
}

fn entry(state: State) -> Vec<Element> {
    let dated = memo(move |_| leaks(state).read(is_dated));
    let when = element("div")
        .class("pair")
        .child(taken(state))
        .live(move || dated.get().then(|| air_then(state)));
    vec![
        number(
            state,
            "leak-reading",
            "Cold reading",
            "Before driving, out of the sun.",
            Field::TyreReading,
            |leaks: &mut Leaks| &mut leaks.reading,
        ),
        when,
        tick(
            "The temperature is a guess",
            move || leaks(state).read(|leaks| leaks.guessed),
            move |ticked| leaks(state).change(|leaks| leaks.guessed = ticked),
        ),
        fold("Gauge").child(number(
            state,
            "leak-step",
            "Step it shows",
            "Blank: 1 psi, or 5 kPa.",
            Field::GaugeResolution,
            |leaks: &mut Leaks| &mut leaks.step,
        )),
    ]
}

/// The reading as entered, or what is missing.
fn reading(state: State) -> Result<Reading, &'static str> {
    if leaks(state).is_unusable(tools::LEAK) || state.is_unusable("now-") {
        return Err("An entry can't be used.");
    }
    let now_day = clock::now_day();
    leaks(state).with_rig(|rig, leaks| {
        let now = &rig.air.now;
        let (at, temperature) = if is_dated(leaks) {
            let at = clock::of_local(&leaks.at);
            let at = at.filter(|at| Field::ReadingDay.check(*at).is_ok());
            (
                at.ok_or("“Taken at” is no date and time.")?,
                leaks
                    .temperature
                    .ok_or("Enter the air around then: 3 °C make 1 %.")?,
            )
        } else {
            let here = now.temperature;
            let here = here.ok_or("Enter the air around under Here and now: 3 °C make 1 %.")?;
            (now_day, here)
        };
        if at > now_day {
            return Err("“Taken at” is still to come: enter when the gauge was read.");
        }
        if !leaks.has_room(rig) {
            return Err("No room for more readings: delete old ones.");
        }
        let (axle, tyre) = leaks.looked_at(rig);
        let size = rig.unit.number(rig.unit.step().size());
        let step = leaks.step.or(Typed::of(Amount::new(size, rig.unit.into())));
        Ok(Reading {
            axle: rig.axles.get(axle).map(|axle| axle.id).unwrap_or_default(),
            tyre,
            day: at,
            pressure: leaks.reading.ok_or("Enter the reading.")?,
            step: step.ok_or("Enter the step that the gauge shows.")?,
            temperature,
            within_kelvin: if leaks.guessed {
                GUESSED_WITHIN
            } else {
                MEASURED_WITHIN
            },
            height: now.height.unwrap_or(metres(0.0)),
        })
    })
}

fn keep(state: State, kept: RwSignal<u32>) {
    if let Ok(reading) = untrack(|| reading(state)) {
        let axles = state.rig_now(Rig::axle_ids);
        leaks(state).change(|leaks| {
            leaks.add(&axles, reading);
            leaks.reading = None;
            leaks.at.clear();
            leaks.temperature = None;
        });
    }
    // Also where it was not kept: then what is missing is said.
    kept.update(|kept| *kept += 1);
}

/// What kept the last tap from keeping a reading.
fn untold(state: State, kept: RwSignal<u32>) -> Option<&'static str> {
    if kept.get() == 0 {
        return None;
    }
    reading(state)
        .err()
        .filter(|_| leaks(state).read(|leaks| leaks.reading.is_some()))
}

fn date(first_day: f64, at: Time) -> String {
    clock::day(first_day + at.get::<day>())
}

fn found(state: State, removed: Removed, axle: usize, tyre: u8) -> Vec<Content> {
    let unit = state.rig(|rig| rig.unit);
    let id = axle_of(state, axle).unwrap_or_default();
    // The oldest first.
    let first = leaks(state).read(|leaks| leaks.of(id, tyre).next().map(|of| of.day));
    let from = first.unwrap_or_default();
    let mut parts = match leaks(state).read(|leaks| leaks.line(id, tyre, from)) {
        Ok(readings) => line(state, unit, axle, from, &readings),
        Err(error) => {
            vec![paragraph("warning", crate::ui::kit::words::out_of_range(error, unit)).node()]
        }
    };
    if first.is_some() {
        parts.push(list(state, removed, unit, id, tyre).node());
    }
    parts
}

/// The tyre's load minimum on sealed road.
fn minimum(state: State, axle: usize) -> Option<GaugePressure> {
    let outcomes = state.outcomes_entered();
    Some(outcomes.get(axle)?.answer()?.sealed.load_minimum)
}

fn line(
    state: State,
    unit: PressureUnit,
    axle: usize,
    first_day: f64,
    readings: &[LeakReading],
) -> Vec<Content> {
    let coldest = readings
        .iter()
        .map(|reading| reading.temperature)
        .reduce(|a, b| if b < a { b } else { a });
    let (Some(coldest), Some(last)) = (coldest, readings.last()) else {
        let none = crate::calc::gas::leak::LeakError::TooFew { given: 0 };
        let text = words::leak_error(&none, unit, |_| String::new());
        return vec![paragraph("hint", text).node()];
    };
    let reference = TyreAir::cold(coldest, last.height);
    let fitted = match LeakLine::fit(readings, reference) {
        Ok(fitted) => fitted,
        Err(error) => {
            let text = words::leak_error(&error, unit, |at| date(first_day, at));
            return vec![paragraph("verdict", text).node()];
        }
    };
    let minimum = minimum(state, axle);
    let mut parts = vec![
        paragraph(
            "verdict",
            words::loss(fitted.loss_per_month(), fitted.verdict(), unit),
        )
        .node(),
        element("div")
            .class("chart")
            .markup(drawing::svg(&fitted, minimum, unit, &|days| {
                date(first_day, Time::new::<day>(days))
            }))
            .node(),
        legend().node(),
    ];
    if let Some(minimum) = minimum {
        parts.push(reaches(&fitted, minimum, unit, first_day));
    }
    let celsius = crate::calc::quantity::ThermodynamicTemperature::from(coldest)
        .get::<crate::calc::quantity::degree_celsius>();
    parts.push(
        paragraph(
            "hint",
            format!(
                "All brought to {} °C, the coldest of the readings, and to the last one's height.",
                crate::decimal::short(celsius, 1)
            ),
        )
        .node(),
    );
    if fitted.beyond_gauge() {
        parts.push(
            paragraph(
                "hint",
                "The readings scatter more than gauge, temperature and weather explain; the band \
                 is as wide as they do.",
            )
            .node(),
        );
    }
    parts
}

fn reaches(
    fitted: &LeakLine,
    minimum: GaugePressure,
    unit: PressureUnit,
    first_day: f64,
) -> Content {
    let level = format!(
        "the sealed-road load minimum, {}",
        format::pressure(unit, minimum)
    );
    let on = |at| date(first_day, at);
    let (class, text) = match fitted.reaches(minimum) {
        Ok(Reaches::Already) => (
            "warning",
            format!("Already at or below {level}: pump up before driving."),
        ),
        Ok(Reaches::Between {
            earliest,
            latest: Some(latest),
        }) => (
            "verdict",
            format!(
                "Reaches {level}, between {} and {}.",
                on(earliest),
                on(latest)
            ),
        ),
        Ok(Reaches::Between {
            earliest,
            latest: None,
        }) => (
            "verdict",
            format!("May reach {level}, from {} on.", on(earliest)),
        ),
        Ok(Reaches::NotWithinHorizon) => (
            "verdict",
            format!(
                "Stays above {level}, for {} days after the last reading, unless the leak grows.",
                crate::decimal::fixed(HORIZON_DAYS, 0)
            ),
        ),
        Err(error) => ("warning", crate::ui::kit::words::out_of_range(error, unit)),
    };
    paragraph(class, text).node()
}

/// The reading deleted last can be had back.
fn bring_back(state: State, removed: Removed) -> Option<Element> {
    let (rig, place, reading) = removed.get()?;
    let current = state.garage.with(|garage| garage.current_id());
    let room = leaks(state).read(|leaks| leaks.readings.len() < Leaks::MOST_READINGS);
    if rig != current || !room {
        return None;
    }
    let said = format!("The reading of {} was deleted.", clock::day(reading.day));
    let undo = button("Bring it back", move || {
        removed.set(None);
        leaks(state).change(|leaks| {
            let readings = &mut leaks.readings;
            readings.insert(place.min(readings.len()), reading);
        });
    });
    Some(done(said, undo))
}

fn legend() -> Element {
    let item = |class, text| element("li").class(class).child(text);
    element("ul")
        .class("legend")
        .attr("aria-hidden", "true")
        .child(item("l-point", "reading"))
        .child(item("l-minimum", "line"))
        .child(item("l-band", "band"))
        .child(item("l-floor", "load minimum"))
}

/// The readings themselves.
fn list(state: State, removed: Removed, unit: PressureUnit, axle: AxleId, tyre: u8) -> Element {
    let readings: Vec<Reading> = leaks(state).read(|leaks| leaks.of(axle, tyre).copied().collect());
    let rows = readings.into_iter().map(|reading| {
        let text = format!(
            "{}: {} at {} °C",
            clock::day(reading.day),
            format::pressure(unit, reading.pressure.quantity()),
            format::entered(reading.temperature.celsius())
        );
        let name = format!("Delete the reading of {}", clock::day(reading.day));
        let delete = button("Delete", move || {
            let same = |kept: &Reading| *kept == reading;
            let place = leaks(state).now(|leaks| leaks.readings.iter().position(same));
            leaks(state).change(|leaks| leaks.readings.retain(|kept| !same(kept)));
            let rig = state.garage.with_untracked(|garage| garage.current_id());
            removed.set(place.map(|place| (rig, place, reading)));
        });
        element("li")
            .child(element("span").child(text))
            .child(delete.attr("aria-label", name))
    });
    rows.fold(element("ul").class("readings"), Element::child)
}
