//! What versions 1 and 2 kept as one section: a list of bare numbers, each
//! under a name that ended in its unit. Each of the three that came of it
//! takes its own.

use super::leaks::Reading;
use super::tools::{Flow, Timing};
use super::{Air, Leaks, Tools, WarmBy};
use crate::rig::AxleId;
use crate::rig::keep::{self, Value};
use crate::rig::typed::{Amount, Kind, Measure, Typed};
use crate::rig::version1::{self, PRESSURE};

const FIGURES: &str = "figures";
const CELSIUS: &[Measure] = &[Measure::Celsius];
const METRE: &[Measure] = &[Measure::Metre];
const MINUTE: &[Measure] = &[Measure::Minute];

/// A figure: its name, which of several, and its number.
struct Figure(String, u8, f64);

fn figure(json: &str) -> Option<Figure> {
    let members = keep::members(json)?;
    let name = String::read(member(&members, "key")?)?;
    let index = u8::read(member(&members, "index")?)?;
    Some(Figure(name, index, f64::read(member(&members, "value")?)?))
}

fn member<'a>(members: &[(String, &'a str)], name: &str) -> Option<&'a str> {
    let (_, value) = members.iter().find(|(of, _)| of == name)?;
    Some(value)
}

/// All of them, and the axles that they name by their places.
#[derive(Default)]
struct Figures(Vec<Figure>, Vec<AxleId>);

impl Figures {
    fn at(&self, name: &str, index: u8) -> Option<f64> {
        let mine = |of: &&Figure| of.0 == name && of.1 == index;
        self.0.iter().find(mine).map(|of| of.2)
    }

    fn get(&self, name: &str) -> Option<f64> {
        self.at(name, 0)
    }

    fn is(&self, name: &str) -> bool {
        self.get(name) == Some(1.0)
    }

    fn count(&self, name: &str) -> u8 {
        self.get(name).unwrap_or(0.0) as u8
    }

    /// As it was typed, as far as that can be told.
    fn amount(&self, name: &str, index: u8, measures: &[Measure]) -> Option<Amount> {
        version1::amount(self.at(name, index)?, measures)
    }

    /// The axle of a place. Version 1 wrote no list of them, and numbered them
    /// by their places.
    fn axle(&self, place: u8) -> AxleId {
        let known = self.1.get(usize::from(place)).copied();
        known.unwrap_or(AxleId(place.into()))
    }
}

/// What a body's figures are, with the rest of it left to `take`.
fn figures<'a>(
    body: &'a str,
    take: &mut dyn FnMut(&str, &'a str) -> Option<()>,
) -> Option<Figures> {
    let mut figures = Figures::default();
    for (name, value) in keep::members(body)? {
        match name.as_str() {
            FIGURES => {
                for json in keep::items(value)? {
                    figures.0.push(figure(json)?);
                }
                take(&name, value)?;
            }
            "axles" => {
                figures.1 = Value::read(value)?;
                take(&name, value)?;
            }
            _ => take(&name, value)?,
        }
    }
    Some(figures)
}

/// What became of a figure.
enum Now {
    /// An amount, as it was typed.
    Amount(&'static [Measure]),
    /// A moment, if it is known.
    Moment,
    /// A count or a time, which is 0 where it was not said.
    Number,
    /// Whether it was 1.
    Flag,
    /// What counts of a warm tyre: its temperature where it was 1.
    By,
}

/// A figure: its old name, its new one, and what became of it.
type Row = (&'static str, &'static str, Now);

/// The rooms of [`Air`], and the figures of each by their old names and new.
const ROOMS: &[(&str, &[Row])] = &[
    (
        "set",
        &[
            ("set_height_m", "height", Now::Amount(METRE)),
            ("set_celsius", "temperature", Now::Amount(CELSIUS)),
        ],
    ),
    (
        "now",
        &[
            ("now_height_m", "height", Now::Amount(METRE)),
            ("now_celsius", "temperature", Now::Amount(CELSIUS)),
        ],
    ),
    (
        "warm",
        &[
            ("warm_by_temperature", "by", Now::By),
            ("warm_axle", "axle", Now::Number),
            ("warm_day", "day", Now::Moment),
            ("warm_kpa", "reading", Now::Amount(PRESSURE)),
            ("warm_cold_kpa", "cold", Now::Amount(PRESSURE)),
            ("tyre_celsius", "temperature", Now::Amount(CELSIUS)),
            ("driven_min", "driven", Now::Amount(MINUTE)),
        ],
    ),
    (
        WALK,
        &[
            ("walk_back", "back", Now::Flag),
            ("walk_warm", "warm", Now::Flag),
            ("walk_tyres", "tyres_done", Now::Number),
            ("walk_started_day", "started_day", Now::Moment),
            ("walk_tyre_s", "tyre_s", Now::Number),
            ("walk_before_s", "before_s", Now::Number),
            ("walk_rested_s", "rested_s", Now::Number),
        ],
    ),
];

const WALK: &str = "walk";

/// Warm tyres and the walk.
pub(super) fn air(body: &str) -> Option<Air> {
    let mut now = String::new();
    let mut object = keep::Object::begin(&mut now);
    let figures = figures(body, &mut |name, value| {
        if ![FIGURES, "readings", "leak_at", "leak_celsius"].contains(&name) {
            object.member(name).push_str(value);
        }
        Some(())
    })?;
    for (room, rows) in ROOMS {
        // A walk was under way while it was said which way it goes.
        if *room == WALK && figures.get("walk_back").is_none() {
            continue;
        }
        let mut part = keep::Object::begin(object.member(room));
        for (old, new, now) in *rows {
            let value = figures.get(old);
            match now {
                Now::Amount(measures) => {
                    let amount = figures.amount(old, 0, measures);
                    if let Some(amount) = amount {
                        amount.write(part.member(new));
                    }
                }
                Now::Moment => value.write(part.member(new)),
                Now::Number => value.unwrap_or(0.0).write(part.member(new)),
                Now::By if value == Some(1.0) => WarmBy::Temperature.write(part.member(new)),
                Now::By => WarmBy::Pressures.write(part.member(new)),
                Now::Flag => (value == Some(1.0)).write(part.member(new)),
            }
        }
        part.end(&keep::Unknown::default());
    }
    object.end(&keep::Unknown::default());
    let mut air = Air::read(&now)?;
    air.now_day = figures.get("now_day");
    Some(air)
}

/// Compressor, deflator and what was timed.
pub(super) fn tools(body: &str) -> Option<Tools> {
    let mut left = Vec::new();
    let figures = figures(body, &mut |name, value| {
        if name == FIGURES {
            // Of the walk before the last: no view has them any more.
            left = keep::items(value)?;
            left.retain(|json| json.contains("\"done_"));
        }
        Some(())
    })?;
    let mut tools = Tools::default();
    if !left.is_empty() {
        tools = Tools::read(&format!("{{\"{FIGURES}\":[{}]}}", left.join(",")))?;
    }
    let flow = |flow, at, index| Flow {
        flow: typed(&figures, flow, index, &[Measure::LitrePerMinute]),
        at: typed(&figures, at, index, PRESSURE),
    };
    for index in 0..Tools::MOST_FLOWS as u8 {
        let flow = flow("flow_litres_per_min", "flow_kpa", index);
        if flow != Flow::default() {
            *tools.flow_mut(index.into()) = flow;
        }
    }
    let of = &mut tools.compressor;
    of.run = typed(&figures, "duty_run_min", 0, MINUTE);
    of.rest = typed(&figures, "duty_rest_min", 0, MINUTE);
    of.maximum = typed(&figures, "pump_maximum_kpa", 0, PRESSURE);
    of.change_over = typed(&figures, "change_over_s", 0, &[Measure::Second]);
    tools.deflator = flow("out_litres_per_min", "out_kpa", 0);
    for (index, timing) in [&mut tools.pumped, &mut tools.let_down]
        .into_iter()
        .enumerate()
    {
        let index = index as u8;
        let timed = Timing {
            from: typed(&figures, "timed_from_kpa", index, PRESSURE),
            to: typed(&figures, "timed_to_kpa", index, PRESSURE),
            took: typed(&figures, "timed_s", index, &[Measure::Second]),
            started_day: figures.at("timed_started_day", index),
            ..Timing::default()
        };
        let axle = figures.at("timed_axle", index).map(|place| place as u8);
        let axle = axle.or((timed != Timing::default()).then_some(0));
        *timing = Timing {
            axle: axle.map(|place| figures.axle(place)),
            ..timed
        };
    }
    for Figure(name, place, _) in &figures.0 {
        if name == "space_l" {
            let axle = figures.axle(*place);
            tools.set_space(axle, typed(&figures, name, *place, &[Measure::Litre]));
        }
    }
    Some(tools)
}

/// Slow leaks.
pub(super) fn leaks(body: &str) -> Option<Leaks> {
    let mut leaks = Leaks::default();
    let mut readings = Vec::new();
    let figures = figures(body, &mut |name, value| {
        match name {
            "readings" => readings = keep::items(value)?,
            "leak_at" => leaks.at = Value::read(value)?,
            "leak_celsius" => leaks.temperature = Value::read(value)?,
            _ => {}
        }
        Some(())
    })?;
    let axle = figures.get("leak_axle").map(|place| place as u8);
    leaks.axle = axle.map(|place| figures.axle(place));
    leaks.tyre = figures.count("leak_tyre");
    leaks.reading = typed(&figures, "leak_kpa", 0, PRESSURE);
    leaks.guessed = figures.is("celsius_guessed");
    leaks.step = typed(&figures, "gauge_step_kpa", 0, PRESSURE);
    for json in readings {
        leaks.readings.push(reading(json, &figures)?);
    }
    Some(leaks)
}

fn typed<K: Kind>(
    figures: &Figures,
    name: &str,
    index: u8,
    measures: &[Measure],
) -> Option<Typed<K>> {
    Typed::of(figures.amount(name, index, measures)?)
}

fn reading(json: &str, figures: &Figures) -> Option<Reading> {
    let members = keep::members(json)?;
    let member = |name| version1::number(member(&members, name)?);
    let amount = |name, measures| version1::amount(member(name)?, measures);
    Some(Reading {
        axle: figures.axle(member("axle")? as u8),
        tyre: member("tyre")? as u8,
        day: member("day")?,
        pressure: Typed::of(amount("kpa", PRESSURE)?)?,
        step: Typed::of(amount("step_kpa", PRESSURE)?)?,
        temperature: Typed::of(amount("celsius", CELSIUS)?)?,
        within_kelvin: member("within_kelvin")?,
        height: Typed::of(amount("height_m", METRE)?)?,
    })
}
