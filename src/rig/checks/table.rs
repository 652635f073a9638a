//! The log as a table for other programs: comma-separated values, RFC 4180,
//! with ISO 8601 dates and every unit in its column's name.

use super::log::Log;
use super::round::{Reading, Round};
use crate::calc::quantity::{GaugePressure, kilopascal};
use crate::decimal;
use crate::rig::calendar::iso;
use crate::rig::names::Named;
use crate::rig::nuts::Done;
use crate::rig::nuts::LogEntry;
use crate::rig::typed::TypedDistance;
use crate::rig::{PressureUnit, Surface};

/// The columns.
fn columns(unit: PressureUnit) -> [String; 10] {
    let mark = match unit {
        PressureUnit::Psi => "psi",
        PressureUnit::Kpa => "kPa",
        PressureUnit::Bar => "bar",
    };
    [
        "date".to_owned(),
        "time".to_owned(),
        "what".to_owned(),
        "where".to_owned(),
        format!("reading ({mark})"),
        format!("cold figure ({mark})"),
        "tyres".to_owned(),
        "for".to_owned(),
        "odometer (km)".to_owned(),
        "air (degC)".to_owned(),
    ]
}

/// The years' pieces, oldest first, and the log of the nuts, as one table with
/// pressures in `unit`.
pub fn write(pieces: &[Log], nuts: &[LogEntry], unit: PressureUnit) -> String {
    let mut table = String::new();
    row(&mut table, &columns(unit));
    for piece in pieces {
        for round in &piece.rounds {
            for reading in &round.readings {
                row(&mut table, &of_reading(round, reading, unit));
            }
        }
        for done in &piece.done {
            let mut cells = on(done.day, "own check");
            cells[3] = done.name.clone();
            cells[8] = kilometres(done.odometer.map(TypedDistance::kilometres));
            row(&mut table, &cells);
        }
    }
    for entry in nuts {
        let what = match entry.done {
            Done::Checked => "nuts checked",
            Done::Refitted => "wheel refitted",
        };
        let mut cells = on(entry.day, what);
        cells[3] = entry.wheel.map_or("all".to_owned(), |wheel| wheel.name());
        cells[8] = kilometres(entry.odometer_km());
        row(&mut table, &cells);
    }
    table
}

fn on(day: u32, what: &str) -> [String; 10] {
    let mut cells: [String; 10] = Default::default();
    cells[0] = iso(day);
    cells[2] = what.to_owned();
    cells
}

fn kilometres(km: Option<f64>) -> String {
    km.map_or(String::new(), |km| decimal::short(km, 3))
}

fn of_reading(round: &Round, reading: &Reading, unit: PressureUnit) -> [String; 10] {
    let number = |pressure: GaugePressure| decimal::short(unit.number(pressure), 3);
    let goal = reading.goal_kpa.map(GaugePressure::new::<kilopascal>);
    let surface: Surface = round.surface;
    [
        iso(round.day),
        format!("{:02}:{:02}", round.minute / 60, round.minute % 60),
        "pressure".to_owned(),
        reading.tyre.name(),
        number(reading.read.quantity()),
        goal.map_or(String::new(), number),
        if round.warm { "warm" } else { "cold" }.to_owned(),
        surface.name().to_owned(),
        kilometres(round.odometer.map(TypedDistance::kilometres)),
        round
            .celsius
            .map_or(String::new(), |celsius| decimal::short(celsius, 3)),
    ]
}

fn row(to: &mut String, cells: &[String]) {
    for (index, cell) in cells.iter().enumerate() {
        if index > 0 {
            to.push(',');
        }
        self::cell(to, cell);
    }
    to.push_str("\r\n");
}

/// A cell. A text that a spreadsheet would take for a formula is begun with
/// an apostrophe; a number below zero stays one.
fn cell(to: &mut String, text: &str) {
    let formula = text.starts_with(['=', '+', '@', '\t', '\r'])
        || text.starts_with('-') && decimal::parse(text).is_none();
    let text = if formula {
        format!("'{text}")
    } else {
        text.to_owned()
    };
    if text.contains(['"', ',', '\r', '\n']) {
        to.push('"');
        to.push_str(&text.replace('"', "\"\""));
        to.push('"');
    } else {
        to.push_str(&text);
    }
}
