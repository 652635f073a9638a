//! Records as version 1 wrote them: one for a whole rig, its numbers in units
//! of the SI and the names of its fields saying which. Each section reads its
//! own part of it; what they share is here.

use super::draft::{Owner, Unusable};
use super::keep::{self, Object, Unknown, Value};
use super::section::Unreadable;
use super::typed::{Amount, Measure, TypedTorque};
use super::{AxleId, Rig};
use crate::calc::quantity::{GaugePressure, bar, kilopascal, psi};
use crate::calc::torque::{Torque, TorqueUnit, newton_meter};
use crate::decimal;

/// How a field of version 1 is called now, and what its number was typed in.
pub struct Renamed(pub &'static str, pub &'static str, pub &'static [Measure]);

/// A pressure may have been typed in any of these.
pub const PRESSURE: &[Measure] = &[Measure::Kilopascal, Measure::Psi, Measure::Bar];
/// A mass.
pub const MASS: &[Measure] = &[Measure::Kilogram, Measure::Pound];
/// A share.
pub const SHARE: &[Measure] = &[Measure::Percent];
/// A speed.
pub const SPEED: &[Measure] = &[Measure::KilometrePerHour, Measure::MilePerHour];

/// The number of a version 1 record; it wrote no more digits than are read.
pub fn number(json: &str) -> Option<f64> {
    decimal::parse(json).or_else(|| {
        // More than fifteen digits: those behind the point say no more.
        let digits = json.bytes().filter(u8::is_ascii_digit).count();
        let cut = json.len().checked_sub(digits.checked_sub(15)?)?;
        let cut = json.get(..cut)?;
        cut.contains('.').then(|| decimal::parse(cut)).flatten()
    })
}

/// The amount as it was typed: in the unit in which it has the fewest digits,
/// the limit's own first.
pub fn amount(value: f64, measures: &[Measure]) -> Option<Amount> {
    let own = *measures.first()?;
    let as_typed = |unit: Measure| {
        let number = of_limit_unit(value, unit);
        let rounded = (number * 100.0).round() / 100.0;
        // Version 1 kept nine decimals of the limit's unit.
        let same = (number - rounded).abs() <= 1e-7 * (1.0 + rounded.abs());
        same.then(|| Amount::new(rounded, unit))
    };
    let typed = measures.iter().find_map(|unit| as_typed(*unit));
    Some(typed.unwrap_or_else(|| Amount::new(value, own)))
}

/// A number of the limit's unit in another of its dimension.
fn of_limit_unit(value: f64, unit: Measure) -> f64 {
    let pressure = GaugePressure::new::<kilopascal>(value);
    let torque = |unit: TorqueUnit| unit.of(Torque::new::<newton_meter>(value));
    match unit {
        Measure::Psi => pressure.get::<psi>(),
        Measure::Bar => pressure.get::<bar>(),
        Measure::FootPound => torque(TorqueUnit::FootPound),
        Measure::InchPound => torque(TorqueUnit::InchPound),
        Measure::KilogramMetre => torque(TorqueUnit::KilogramMetre),
        // By a factor alone.
        unit => value / Amount::new(1.0, unit).in_limit_unit(),
    }
}

/// A torque as stated: version 1 kept millionths of its unit.
pub fn torque(newton_metres: f64, unit: TorqueUnit) -> Amount {
    TypedTorque::stated(Torque::new::<newton_meter>(newton_metres), unit).amount()
}

/// An object of version 1 with its fields as they are called now. `extra`
/// writes what has no name in the table, or nothing where it is no such.
pub fn renamed(
    json: &str,
    table: &[Renamed],
    extra: &mut dyn FnMut(&str, &str, &mut Object<'_>) -> Option<bool>,
) -> Option<String> {
    let mut text = String::new();
    let mut object = Object::begin(&mut text);
    for (name, value) in keep::members(json)? {
        if value == "null" || extra(&name, value, &mut object)? {
            continue;
        }
        match table.iter().find(|Renamed(old, ..)| *old == name) {
            Some(Renamed(_, new, measures)) => {
                let amount = amount(number(value)?, measures)?;
                amount.write(object.member(new));
            }
            None => object.member(&name).push_str(value),
        }
    }
    object.end(&Unknown::default());
    Some(text)
}

/// The parts of a rig's record that became sections.
pub const PARTS: [&str; 4] = ["nuts", "air", "set_to", "footprint"];

/// A version 1 record taken apart, each part's body with its name, the rig's
/// own first under no name. Texts that could not be used go along with theirs.
///
/// # Errors
/// [`Unreadable`] where it is no such record.
pub fn split(text: &str) -> Result<Vec<(&'static str, String)>, Unreadable> {
    let record = keep::members(text).ok_or(Unreadable::Damaged)?;
    let member = |name: &str| record.iter().find(|(of, _)| of == name);
    let version = member("version").and_then(|(_, version)| u32::read(version));
    match version {
        Some(1) => {}
        Some(version) if version > 1 => return Err(Unreadable::Newer { version }),
        _ => return Err(Unreadable::Damaged),
    }
    let rig = member("rig").map(|(_, rig)| *rig).unwrap_or_default();
    split_rig(rig).ok_or(Unreadable::Damaged)
}

fn split_rig(rig: &str) -> Option<Vec<(&'static str, String)>> {
    let members = keep::members(rig)?;
    let unit = |name: &str| {
        let unit = members.iter().find(|(of, _)| of == name);
        unit.and_then(|(_, unit)| String::read(unit))
    };
    // What a bare number was meant in goes with its text.
    let pressure = match unit("unit").as_deref() {
        Some("kpa") => "kPa",
        Some("bar") => "bar",
        _ => "psi",
    };
    let mass = match unit("mass_unit").as_deref() {
        Some("pound") => "lb",
        _ => "kg",
    };
    let texts = members.iter().find(|(name, _)| name == "unusable");
    let texts = texts.map_or(Some(Vec::new()), |(_, texts)| keep::items(texts))?;
    let mut with_units = Vec::new();
    for text in texts {
        with_units.push(with_unit(text, pressure, mass)?);
    }
    let texts = with_units;
    let mut own = String::new();
    let mut object = Object::begin(&mut own);
    for (name, value) in &members {
        if !PARTS.contains(&name.as_str()) && name != "unusable" {
            object.member(name).push_str(value);
        }
    }
    write_texts(&mut object, &texts, "")?;
    object.end(&Unknown::default());
    let mut parts = vec![("", own)];
    for part in PARTS {
        let Some((_, value)) = members.iter().find(|(name, _)| name == part) else {
            continue;
        };
        let mut body = String::new();
        let mut object = Object::begin(&mut body);
        for (name, value) in keep::members(value)? {
            object.member(&name).push_str(value);
        }
        write_texts(&mut object, &texts, part)?;
        object.end(&Unknown::default());
        parts.push((part, body));
    }
    Some(parts)
}

/// A text that could not be used, with the unit that it was meant in.
fn with_unit(json: &str, pressure: &str, mass: &str) -> Option<String> {
    let members = keep::members(json)?;
    let is = |name: &str| {
        members
            .iter()
            .any(|(of, value)| of == name && *value == "true")
    };
    let unit = match (is("pressure"), is("mass")) {
        (true, _) => pressure,
        (_, true) => mass,
        _ => "",
    };
    let mut to = String::new();
    let mut object = Object::begin(&mut to);
    for (name, value) in &members {
        let value = match String::read(value) {
            Some(text) if name == "text" && text.ends_with(|c: char| c.is_ascii_digit()) => {
                let mut value = String::new();
                keep::text(format!("{text} {unit}").trim_end(), &mut value);
                value
            }
            _ => (*value).to_owned(),
        };
        object.member(name).push_str(&value);
    }
    object.end(&Unknown::default());
    Some(to)
}

/// Writes those of the texts that belong to a part.
fn write_texts(object: &mut Object<'_>, texts: &[String], part: &str) -> Option<()> {
    let mut mine = String::new();
    for text in texts {
        let members = keep::members(text)?;
        let (_, id) = members.iter().find(|(name, _)| name == "id")?;
        let field = String::read(id)?;
        // What the air view keeps stays with the rig's own: both are read at
        // the start.
        let of = ["nuts", "footprint"]
            .into_iter()
            .find(|part| field.starts_with(part))
            .unwrap_or_default();
        if of == part {
            mine.push_str(if mine.is_empty() { "" } else { "," });
            mine.push_str(text);
        }
    }
    if !mine.is_empty() {
        object.member("unusable").push_str(&format!("[{mine}]"));
    }
    Some(())
}

/// Whose a text is, and its field, by its element and its axle.
type OwnerOf<'a> = &'a dyn Fn(&str, Option<u32>) -> (Owner, String);

/// A text that could not be used, as it is written now.
pub fn text(json: &str, owner: OwnerOf<'_>) -> Option<Unusable> {
    let mut text = Unusable::default();
    let (mut id, mut axle) = (String::new(), None);
    text.unknown = keep::read_members(json, &mut |name, value| {
        match name {
            "id" => id = Value::read(value)?,
            "axle" => axle = Value::read(value)?,
            "text" => text.text = Value::read(value)?,
            // Its unit stands behind it since the record was taken apart.
            "pressure" | "mass" => {}
            _ => return Some(false),
        }
        Some(true)
    })?;
    (text.of, text.field) = owner(&id, axle);
    Some(text)
}

/// The rig's own part of a version 1 record.
pub(super) fn rig(json: &str) -> Option<Rig> {
    let mut count = 0;
    let body = renamed(json, RIG, &mut |name, value, object| {
        let to_list: &dyn Fn(usize, &str) -> Option<String> = match name {
            "axles" => {
                count = keep::items(value)?.len();
                &|index, axle| {
                    renamed(axle, AXLE, &mut |_, _, _| Some(false)).map(|body| {
                        let (_, rest) = body.split_at(1);
                        let comma = if rest.len() > 1 { "," } else { "" };
                        format!("{{\"id\":{index}{comma}{rest}")
                    })
                }
            }
            "bands" => &|_, band| renamed(band, BAND, &mut |_, _, _| Some(false)),
            "unusable" => &|_, text| {
                let text = self::text(text, &owner)?;
                let mut to = String::new();
                text.write(&mut to);
                Some(to)
            },
            // Half of an allowance from memory, which has gone.
            "low_speed_allowance" => return Some(true),
            _ => return Some(false),
        };
        let mut items = Vec::new();
        for (index, item) in keep::items(value)?.into_iter().enumerate() {
            items.push(to_list(index, item)?);
        }
        object
            .member(name)
            .push_str(&format!("[{}]", items.join(",")));
        Some(true)
    })?;
    let mut rig = Rig::read(&body)?;
    rig.next_axle = count as u32;
    Some(rig)
}

const RIG: &[Renamed] = &[
    Renamed("floor_kpa", "floor", PRESSURE),
    Renamed("uneven_load_percent", "uneven_load", SHARE),
    Renamed("slow_deflection_percent", "slow_deflection", SHARE),
    Renamed("slow_load_share_percent", "slow_load_share", SHARE),
];

const BAND: &[Renamed] = &[
    Renamed("low_percent", "low", SHARE),
    Renamed("high_percent", "high", SHARE),
    Renamed("low_kpa", "low_pressure", PRESSURE),
    Renamed("high_kpa", "high_pressure", PRESSURE),
    Renamed("speed_kmh", "speed", SPEED),
];

const AXLE: &[Renamed] = &[
    Renamed("moulded_load_kg", "moulded_load", MASS),
    Renamed("moulded_dual_load_kg", "moulded_dual_load", MASS),
    Renamed("moulded_pressure_kpa", "moulded_pressure", PRESSURE),
    Renamed("moulded_minimum_kpa", "moulded_minimum", PRESSURE),
    Renamed("placard_kpa", "placard", PRESSURE),
    Renamed("wheel_maximum_kpa", "wheel_maximum", PRESSURE),
    Renamed("own_sealed_kpa", "own_sealed", PRESSURE),
    Renamed("left_kg", "left", MASS),
    Renamed("right_kg", "right", MASS),
    Renamed("weighed_kg", "weighed", MASS),
    Renamed("rating_kg", "rating", MASS),
];

/// Version 1 named a field by its element, an axle by its place, and what has
/// none by a number beyond all places.
fn owner(id: &str, axle: Option<u32>) -> (Owner, String) {
    match axle {
        None => {
            // A band by the words on the screen.
            let field = id.replace("Soft-sand", "sand").to_ascii_lowercase();
            (Owner::Rig, field)
        }
        Some(axle) if (axle as usize) < Rig::MOST_AXLES => {
            let field = id.splitn(3, '-').nth(2).unwrap_or_default();
            (Owner::Axle(AxleId(axle)), field.to_owned())
        }
        Some(_) => (Owner::Nothing, id.to_owned()),
    }
}
