//! Nuts as version 1 wrote them: torques in newton metres.

use super::{LogEntry, Nuts};
use crate::calc::torque::TorqueUnit;
use crate::rig::draft::Owner;
use crate::rig::keep::{self, Object, Value};
use crate::rig::position::{Half, Side, Wheel};
use crate::rig::typed::Measure;
use crate::rig::version1::{self, Renamed, SHARE, number, renamed};

const NUMBERS: &[Renamed] = &[
    Renamed("tolerance_percent", "tolerance", SHARE),
    Renamed("accuracy_percent", "maker_accuracy", SHARE),
    Renamed("handle_mm", "handle", &[Measure::Millimetre]),
    Renamed("length_mm", "length", &[Measure::Millimetre]),
    Renamed("angle_deg", "angle", &[Measure::Degree]),
    Renamed("odometer_km", "odometer", &[Measure::Kilometre]),
];

/// Reads what version 1 kept as nuts.
pub(super) fn nuts(json: &str) -> Option<Nuts> {
    let mut units = [TorqueUnit::NewtonMetre; 2];
    for (name, value) in keep::members(json)? {
        match name.as_str() {
            "vehicle" => units[0] = unit_of(value)?,
            "trailer" => units[1] = unit_of(value)?,
            _ => {}
        }
    }
    let body = renamed(json, NUMBERS, &mut |name, value, object| {
        let part = match name {
            "vehicle" | "trailer" | "wrench" => with_torques(value, unit_of(value)?, &[])?,
            "adapter" => renamed(value, NUMBERS, &mut |_, _, _| Some(false))?,
            "log" => listed(value, &mut |entry| line(entry, units))?,
            // The wheel in work was one of those that the log named.
            "wheel" => return Some(true),
            "unusable" => listed(value, &mut |text| {
                let text = version1::text(text, &|id, _| (Owner::Nothing, id.to_owned()))?;
                let mut to = String::new();
                text.write(&mut to);
                Some(to)
            })?,
            _ => return Some(false),
        };
        object.member(name).push_str(&part);
        Some(true)
    })?;
    let mut nuts = Nuts::read(&body)?;
    // Records came with newton metres that nobody had chosen: with nothing
    // stated in them, they are to be chosen.
    for set in [&mut nuts.vehicle, &mut nuts.trailer] {
        let stated = [set.nominal, set.plus, set.low, set.high];
        if set.unit == Some(TorqueUnit::NewtonMetre) && stated.iter().all(Option::is_none) {
            set.unit = None;
        }
    }
    Some(nuts)
}

/// A line of the log. The half stood apart, and the wheel by front, middle and
/// rear of it.
fn line(json: &str, units: [TorqueUnit; 2]) -> Option<String> {
    const OLD: [(&str, u8, Side); 8] = [
        ("front_left", 0, Side::Left),
        ("front_right", 0, Side::Right),
        ("left", 0, Side::Left),
        ("right", 0, Side::Right),
        ("middle_left", 1, Side::Left),
        ("middle_right", 1, Side::Right),
        ("rear_left", Wheel::LAST, Side::Left),
        ("rear_right", Wheel::LAST, Side::Right),
    ];
    let members = keep::members(json)?;
    let member = |name: &str| {
        let member = members.iter().find(|(of, _)| of == name);
        member.map(|(_, value)| *value)
    };
    let half = member("half").map_or(Some(Half::Vehicle), Half::read)?;
    let name = String::read(member("wheel")?)?;
    let old = OLD.iter().find(|(of, ..)| *of == name);
    let wheel = match old {
        _ if name == "every" => None,
        Some((_, axle, side)) => Some(Wheel {
            half,
            axle: *axle,
            side: *side,
        }),
        None => Some(Wheel::named(&name)?),
    };
    let half = wheel.map_or(half, |wheel| wheel.half);
    let unit = units[usize::from(half == Half::Trailer)];
    let mut line = LogEntry::read(&with_torques(json, unit, &["half", "wheel"])?)?;
    line.wheel = wheel;
    let mut to = String::new();
    line.write(&mut to);
    Some(to)
}

fn listed(json: &str, each: &mut dyn FnMut(&str) -> Option<String>) -> Option<String> {
    let mut items = Vec::new();
    for item in keep::items(json)? {
        items.push(each(item)?);
    }
    Some(format!("[{}]", items.join(",")))
}

fn unit_of(json: &str) -> Option<TorqueUnit> {
    let members = keep::members(json)?;
    match members.iter().find(|(name, _)| name == "unit") {
        Some((_, unit)) => Some(Option::read(unit)?.unwrap_or(TorqueUnit::NewtonMetre)),
        None => Some(TorqueUnit::NewtonMetre),
    }
}

/// An object whose torques were stated in `unit`, without some members.
fn with_torques(json: &str, unit: TorqueUnit, without: &[&str]) -> Option<String> {
    renamed(
        json,
        NUMBERS,
        &mut |name, value, object: &mut Object<'_>| {
            if without.contains(&name) {
                return Some(true);
            }
            let Some(name) = name.strip_suffix("_nm") else {
                return Some(false);
            };
            // What a wheel was begun with is compared in newton metres.
            let unit = if name == "begun" {
                TorqueUnit::NewtonMetre
            } else {
                unit
            };
            version1::torque(number(value)?, unit).write(object.member(name));
            Some(true)
        },
    )
}
