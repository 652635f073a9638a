//! Slow leaks: readings of one tyre, and the line through them.

use super::drawing;
use crate::calc::gas::TyreAir;
use crate::calc::gas::leak::{HORIZON_DAYS, LeakLine, LeakReading, Reaches};
use crate::calc::limits::Field;
use crate::calc::quantity::{GaugePressure, Time, day, kilopascal};
use crate::rig::air::{Air, Key, Reading};
use crate::rig::{Owner, PressureUnit, Rig};
use crate::store::RigId;
use crate::ui::frame::state::State;
use crate::ui::kit::air_fields::{axle_choice, number};
use crate::ui::kit::element::{Content, Element, Node, element, typed};
use crate::ui::kit::fields::{NumberField, Slot, button, buttons, choice, done, paragraph, tick};
use crate::ui::kit::follow::memo;
use crate::ui::kit::format;
use crate::ui::kit::parts::{closed, fold};
use crate::ui::kit::{air_words as words, clock};
use leptos::prelude::*;

/// What a thermometer in the shade may be off, and a guess, in kelvins.
const MEASURED_WITHIN: f64 = 2.0;
const GUESSED_WITHIN: f64 = 6.0;

const TAKEN: &str = "leak-taken";

/// The reading deleted last, with its rig and its place in the list.
type Removed = RwSignal<Option<(RigId, usize, Reading)>>;

/// The part of the view.
pub fn view(state: State) -> Content {
    let count = move |key| state.rig(|rig| rig.air.count(key, 0));
    let axle = memo(move |_| usize::from(count(Key::LeakAxle)));
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
            "leak-axle".to_owned(),
            Key::LeakAxle,
            0,
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
        .live(move || found(state, removed, count(Key::LeakAxle), count(Key::LeakTyre)))
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
        move || state.rig(|rig| rig.air.count(Key::LeakTyre, 0)).into(),
        move |picked| state.change(|rig| rig.air.set(Key::LeakTyre, Some(picked as f64))),
    )
}

/// Whether the reading being entered is one of before.
fn is_dated(air: &Air) -> bool {
    !air.leak_at.is_empty()
}

/// When it was taken, where that is not now.
fn taken(state: State) -> Element {
    let at = state.rig_now(|rig| rig.air.leak_at.clone());
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
                    state.change(|rig| rig.air.leak_at = at);
                }),
        )
        .child(paragraph("hint", "Blank: now."))
}

/// The air around then: what is entered above is that of now.
fn air_then(state: State) -> Element {
    NumberField::<Rig> {
        id: "leak-air".to_owned(),
        of: Owner::Nothing,
        name: "leak-air".to_owned(),
        label: "Air around then",
        hint: "In the shade. Fahrenheit: type F behind it.",
        field: Field::AmbientTemperature,
        optional: true,
        slot: Slot::within(|rig: &mut Rig| &mut rig.air.leak_celsius),
    }
    .view(state)
}

fn entry(state: State) -> Vec<Element> {
    let dated = memo(move |_| state.rig(|rig| is_dated(&rig.air)));
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
            Key::LeakKpa,
        ),
        when,
        tick(
            "The temperature is a guess",
            move || state.rig(|rig| rig.air.is(Key::CelsiusGuessed)),
            move |ticked| {
                state.change(|rig| rig.air.set(Key::CelsiusGuessed, ticked.then_some(1.0)))
            },
        ),
        fold("Gauge").child(number(
            state,
            "leak-step",
            "Step it shows",
            "Blank: 1 psi, or 5 kPa.",
            Field::GaugeResolution,
            Key::GaugeStepKpa,
        )),
    ]
}

/// The reading as entered, or what is missing.
fn reading(state: State) -> Result<Reading, &'static str> {
    if state.is_unusable("leak-") || state.is_unusable("now-") {
        return Err("An entry can't be used.");
    }
    let now_day = clock::now_day();
    state.rig(|rig| {
        let air = &rig.air;
        let (at, celsius) = if is_dated(air) {
            let at = clock::of_local(&air.leak_at);
            let at = at.filter(|at| Field::ReadingDay.check(*at).is_ok());
            let celsius = air.leak_celsius.map(|then| then.amount().in_limit_unit());
            (
                at.ok_or("“Taken at” is no date and time.")?,
                celsius.ok_or("Enter the air around then: 3 °C make 1 %.")?,
            )
        } else {
            let celsius = air.get(Key::NowCelsius);
            let celsius =
                celsius.ok_or("Enter the air around under Here and now: 3 °C make 1 %.")?;
            (now_day, celsius)
        };
        if at > now_day {
            return Err("“Taken at” is still to come: enter when the gauge was read.");
        }
        if air.readings.len() >= Air::MOST_READINGS {
            return Err("No room for more readings: delete old ones.");
        }
        Ok(Reading {
            axle: air.count(Key::LeakAxle, 0),
            tyre: air.count(Key::LeakTyre, 0),
            day: at,
            kpa: air.get(Key::LeakKpa).ok_or("Enter the reading.")?,
            step_kpa: air
                .get(Key::GaugeStepKpa)
                .unwrap_or_else(|| rig.unit.step().size().get::<kilopascal>()),
            celsius,
            within_kelvin: if air.is(Key::CelsiusGuessed) {
                GUESSED_WITHIN
            } else {
                MEASURED_WITHIN
            },
            height_m: air.get(Key::NowHeightM).unwrap_or(0.0),
        })
    })
}

fn keep(state: State, kept: RwSignal<u32>) {
    if let Ok(reading) = untrack(|| reading(state)) {
        state.change(|rig| {
            rig.air.add_reading(reading);
            rig.air.set(Key::LeakKpa, None);
            rig.air.leak_at.clear();
            rig.air.leak_celsius = None;
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
        .filter(|_| state.rig(|rig| rig.air.get(Key::LeakKpa).is_some()))
}

fn date(first_day: f64, at: Time) -> String {
    clock::day(first_day + at.get::<day>())
}

fn found(state: State, removed: Removed, axle: u8, tyre: u8) -> Vec<Content> {
    let unit = state.rig(|rig| rig.unit);
    let first = state.rig(|rig| rig.air.first_reading_day(axle, tyre));
    let from = first.unwrap_or_default();
    let mut parts = match state.rig(|rig| rig.air.leak_readings(axle, tyre, from)) {
        Ok(readings) => line(state, unit, axle, from, &readings),
        Err(error) => {
            vec![paragraph("warning", crate::ui::kit::words::out_of_range(error, unit)).node()]
        }
    };
    if first.is_some() {
        parts.push(list(state, removed, unit, axle, tyre).node());
    }
    parts
}

/// The tyre's load minimum on sealed road.
fn minimum(state: State, axle: u8) -> Option<GaugePressure> {
    let outcomes = state.outcomes_entered();
    Some(
        outcomes
            .get(usize::from(axle))?
            .answer()?
            .sealed
            .load_minimum,
    )
}

fn line(
    state: State,
    unit: PressureUnit,
    axle: u8,
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
    let room = state.rig(|rig| rig.air.readings.len() < Air::MOST_READINGS);
    if rig != current || !room {
        return None;
    }
    let said = format!("The reading of {} was deleted.", clock::day(reading.day));
    let undo = button("Bring it back", move || {
        removed.set(None);
        state.change(|rig| {
            let readings = &mut rig.air.readings;
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
fn list(state: State, removed: Removed, unit: PressureUnit, axle: u8, tyre: u8) -> Element {
    let readings = state.rig(|rig| rig.air.readings.clone());
    let rows = readings
        .into_iter()
        .filter(|reading| reading.axle == axle && reading.tyre == tyre)
        .map(|reading| {
            let text = format!(
                "{}: {} at {} °C",
                clock::day(reading.day),
                format::pressure(unit, PressureUnit::Kpa.reading(reading.kpa)),
                format::entered(reading.celsius)
            );
            let name = format!("Delete the reading of {}", clock::day(reading.day));
            let delete = button("Delete", move || {
                let place = state.rig_now(|rig| {
                    let mut readings = rig.air.readings.iter();
                    readings.position(|kept| *kept == reading)
                });
                state.change(|rig| rig.air.readings.retain(|kept| *kept != reading));
                let rig = state.garage.with_untracked(|garage| garage.current_id());
                removed.set(place.map(|place| (rig, place, reading)));
            });
            element("li")
                .child(element("span").child(text))
                .child(delete.attr("aria-label", name))
        });
    rows.fold(element("ul").class("readings"), Element::child)
}
