//! The line of pressure against speed, as SVG.

use super::format;
use crate::calc::pressure::{Answer, SpeedLimit};
use crate::calc::quantity::{GaugePressure, Velocity, kilometer_per_hour};
use crate::rig::{PressureUnit, Understood};
use std::fmt::Write;

const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 160.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = 12.0;
const TOP: f64 = 10.0;
const BOTTOM: f64 = 34.0;
const FASTEST_KMH: f64 = 100.0;

/// Where the recommended point of a sealed road stands: the speed from which
/// the figure no longer depends on it.
const SEALED_KMH: f64 = 80.0;

/// Maps speeds and pressures into the box.
struct Plot {
    unit: PressureUnit,
    top: f64,
}

impl Plot {
    fn x(&self, kmh: f64) -> f64 {
        let share = (kmh / FASTEST_KMH).clamp(0.0, 1.0);
        LEFT + share * (WIDTH - LEFT - RIGHT)
    }

    fn y(&self, pressure: GaugePressure) -> f64 {
        self.y_of(self.unit.number(pressure))
    }

    fn y_of(&self, number: f64) -> f64 {
        let share = (number / self.top).clamp(0.0, 1.0);
        HEIGHT - BOTTOM - share * (HEIGHT - BOTTOM - TOP)
    }
}

/// Distance between the marks of the pressure axis, in the unit.
fn tick(unit: PressureUnit, highest: f64) -> f64 {
    let steps: [f64; 3] = match unit {
        PressureUnit::Psi => [10.0, 20.0, 40.0],
        PressureUnit::Kpa => [100.0, 200.0, 400.0],
        PressureUnit::Bar => [1.0, 2.0, 4.0],
    };
    steps
        .into_iter()
        .find(|step| highest / step <= 5.0)
        .unwrap_or(steps[2])
}

/// The drawing: the band, the load minimum, the floor, and the recommended
/// point with its range. Its words stand beside it; it is hidden from screen
/// readers.
pub fn svg(understood: &Understood, answer: &Answer, unit: PressureUnit) -> String {
    let axle = &understood.axle;
    let kmh = Velocity::new::<kilometer_per_hour>;
    let fastest = axle
        .capacity
        .speed_limit()
        .map_or(FASTEST_KMH, |limit| limit.get::<kilometer_per_hour>())
        .min(FASTEST_KMH);
    let highest = answer
        .sealed
        .pressure
        .max(answer.sealed.load_minimum)
        .max(answer.high);
    let step = tick(unit, unit.number(highest));
    let plot = Plot {
        unit,
        top: (unit.number(highest) / step).floor() * step + step,
    };

    let mut svg = String::with_capacity(2000);
    // Writing to a String can't fail.
    let mut draw = |part: std::fmt::Arguments| {
        let _ = svg.write_fmt(part);
    };
    draw(format_args!(
        r#"<svg viewBox="0 0 {WIDTH} {HEIGHT}" aria-hidden="true" focusable="false">"#
    ));
    let (x0, x1) = (plot.x(0.0), plot.x(FASTEST_KMH));
    let mut mark = 0.0;
    while mark <= plot.top {
        let y = plot.y_of(mark);
        draw(format_args!(
            r#"<line class="grid" x1="{x0}" x2="{x1}" y1="{y:.1}" y2="{y:.1}"/><text x="{:.0}" y="{:.1}" text-anchor="end">{mark}</text>"#,
            LEFT - 6.0,
            y + 4.0
        ));
        mark += step;
    }
    for mark in [0.0, 20.0, 40.0, 60.0, 80.0, 100.0] {
        draw(format_args!(
            r#"<text x="{:.1}" y="{:.0}" text-anchor="middle">{mark}</text>"#,
            plot.x(mark),
            HEIGHT - BOTTOM + 15.0
        ));
    }
    draw(format_args!(
        r#"<text x="{x1}" y="{:.0}" text-anchor="end">km/h</text><text x="{x0}" y="{:.0}">{}, cold</text>"#,
        HEIGHT - 4.0,
        HEIGHT - 4.0,
        format::unit_mark(unit),
    ));

    let speed = match answer.speed {
        SpeedLimit::UpTo(speed) => speed.get::<kilometer_per_hour>(),
        SpeedLimit::Posted { .. } => SEALED_KMH.min(fastest),
    };
    if let Some((low, high)) = answer.band {
        let (top, bottom) = (plot.y(high), plot.y(low));
        draw(format_args!(
            r#"<rect class="band" x="{x0}" y="{top:.1}" width="{:.1}" height="{:.1}"/>"#,
            plot.x(speed) - x0,
            bottom - top
        ));
    }
    let floor = plot.y(axle.floor);
    draw(format_args!(
        r#"<line class="floor" x1="{x0}" x2="{x1}" y1="{floor:.1}" y2="{floor:.1}"/>"#
    ));
    draw(format_args!(r#"<polyline class="minimum" points=""#));
    // Every 10 km/h: the allowance bends at 30, 40, 60 and 80 only.
    let mut at = 0.0;
    while at <= fastest {
        let needed = axle.capacity.load_minimum(axle.wheel_load, kmh(at));
        draw(format_args!("{:.1},{:.1} ", plot.x(at), plot.y(needed)));
        at += 5.0;
    }
    draw(format_args!(r#""/>"#));
    let (x, y) = (plot.x(speed), plot.y(answer.recommended));
    draw(format_args!(
        r#"<line class="range" x1="{x:.1}" x2="{x:.1}" y1="{:.1}" y2="{:.1}"/><circle class="point" cx="{x:.1}" cy="{y:.1}" r="6"/></svg>"#,
        plot.y(answer.low),
        plot.y(answer.high)
    ));
    svg
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{Rig, Surface};

    /// Every coordinate of every drawing of the demo, in every unit.
    #[test]
    fn nothing_is_drawn_outside_the_box() {
        let mut rig = Rig::demo();
        for unit in PressureUnit::ALL {
            rig.unit = unit;
            for surface in crate::calc::surface::Surface::ALL {
                rig.surface = Surface::from(surface);
                for axle in &rig.axles {
                    let (understood, answer) = rig.answer(axle).expect("an answer");
                    let svg = svg(&understood, &answer, unit);
                    assert!(svg.ends_with("</svg>") && !svg.contains("NaN"));
                    for (attribute, most) in [
                        ("x", WIDTH),
                        ("x1", WIDTH),
                        ("x2", WIDTH),
                        ("cx", WIDTH),
                        ("width", WIDTH),
                        ("y", HEIGHT),
                        ("y1", HEIGHT),
                        ("y2", HEIGHT),
                        ("cy", HEIGHT),
                        ("height", HEIGHT),
                    ] {
                        for value in svg.split(&format!(" {attribute}=\"")).skip(1) {
                            let value: f64 =
                                value.split('"').next().unwrap().parse().expect("a number");
                            assert!((0.0..=most).contains(&value), "{attribute} {value}: {svg}");
                        }
                    }
                }
            }
        }
    }
}
