//! The line of pressure against speed, as SVG.

use crate::calc::pressure::{Answer, SpeedLimit};
use crate::calc::quantity::{GaugePressure, Velocity, kilometer_per_hour};
use crate::calc::regime::Regime;
use crate::decimal;
use crate::rig::{PressureUnit, Understood};
use crate::ui::kit::format;

const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 160.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = 12.0;
const TOP: f64 = 10.0;
const BOTTOM: f64 = 34.0;
const FASTEST_KMH: f64 = 100.0;
/// Where the point of a figure stands that hangs on no speed.
const ROAD_KMH: f64 = 80.0;

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

    let (x0, x1) = (plot.x(0.0), plot.x(FASTEST_KMH));
    let mut svg = format!(
        r#"<svg viewBox="0 0 {} {}" aria-hidden="true">"#,
        at(WIDTH),
        at(HEIGHT)
    );
    svg += &grid((0.0, plot.top, step), (x0, x1), &|mark| plot.y_of(mark));
    for mark in [0.0, 20.0, 40.0, 60.0, 80.0, 100.0] {
        svg += &text("middle", (plot.x(mark), HEIGHT - BOTTOM + 15.0), &at(mark));
    }
    svg += &text("end", (x1, HEIGHT - 4.0), "km/h");
    svg += &text("start", (x0, HEIGHT - 4.0), format::unit_mark(unit));

    let speed = match answer.speed {
        SpeedLimit::UpTo(speed) => speed.get::<kilometer_per_hour>(),
        SpeedLimit::Posted { .. } => ROAD_KMH.min(fastest),
    };
    if let Some((low, high)) = answer.band {
        let (top, bottom) = (plot.y(high), plot.y(low));
        svg += &format!(
            r#"<rect class="band" x="{}" y="{}" width="{}" height="{}"/>"#,
            at(x0),
            at(top),
            at(plot.x(speed) - x0),
            at(bottom - top)
        );
    }
    let floor = plot.y(axle.floor);
    svg += &line("floor", (x0, floor), (x1, floor));
    svg += r#"<polyline class="minimum" points=""#;
    // A step at the end of each regime.
    let ends = [Regime::Crawl, Regime::Slow, Regime::Road].map(|regime| {
        let end = regime.fastest().map(|end| end.get::<kilometer_per_hour>());
        end.unwrap_or(fastest).min(fastest)
    });
    let mut from = 0.0;
    for to in ends {
        let needed = plot.y(axle.least_at(kmh((from + to) / 2.0)));
        for end in [from, to] {
            svg += &format!("{},{} ", at(plot.x(end)), at(needed));
        }
        from = to;
    }
    svg += r#""/>"#;
    let (x, y) = (plot.x(speed), plot.y(answer.recommended));
    svg += &line("range", (x, plot.y(answer.low)), (x, plot.y(answer.high)));
    svg += &format!(
        r#"<circle class="point" cx="{}" cy="{}" r="6"/></svg>"#,
        at(x),
        at(y)
    );
    svg
}

/// The first and the last mark of a pressure axis that holds all from `low` to
/// `high`, and the step from one to the next.
pub fn span(unit: PressureUnit, low: f64, high: f64) -> (f64, f64, f64) {
    let steps: [f64; 6] = match unit {
        PressureUnit::Psi => [1.0, 2.0, 5.0, 10.0, 20.0, 40.0],
        PressureUnit::Kpa => [10.0, 20.0, 50.0, 100.0, 200.0, 400.0],
        PressureUnit::Bar => [0.1, 0.2, 0.5, 1.0, 2.0, 4.0],
    };
    let fits = |step: &f64| (high - low) / step <= 4.0;
    let step = steps.into_iter().find(fits).unwrap_or(steps[5]);
    let bottom = (low / step).floor() * step;
    let top = (high / step).floor() * step + step;
    (bottom, top, step)
}

/// The lines of the pressure axis from the first mark to the last, a step
/// apart, with what they stand for.
pub fn grid(
    (first, last, step): (f64, f64, f64),
    (left, right): (f64, f64),
    y: &dyn Fn(f64) -> f64,
) -> String {
    let mut svg = String::new();
    let mut mark = first;
    // Half a step of room for what adding up loses.
    while mark <= last + step / 2.0 {
        svg += &line("grid", (left, y(mark)), (right, y(mark)));
        svg += &text("end", (left - 6.0, y(mark) + 4.0), &at(mark));
        mark += step;
    }
    svg
}

/// A coordinate.
pub fn at(value: f64) -> String {
    decimal::short(value, 1)
}

/// A straight line.
pub fn line(class: &str, from: (f64, f64), to: (f64, f64)) -> String {
    format!(
        r#"<line class="{class}" x1="{}" y1="{}" x2="{}" y2="{}"/>"#,
        at(from.0),
        at(from.1),
        at(to.0),
        at(to.1)
    )
}

/// A text that is set against a point by its start, middle or end.
pub fn text(anchor: &str, place: (f64, f64), text: &str) -> String {
    format!(
        r#"<text text-anchor="{anchor}" x="{}" y="{}">{text}</text>"#,
        at(place.0),
        at(place.1)
    )
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rig::{Rig, Surface};

    /// Every coordinate of a drawing within its box.
    pub(crate) fn assert_within(svg: &str, width: f64, height: f64) {
        assert!(svg.ends_with("</svg>") && !svg.contains("NaN"));
        let across = ["x", "x1", "x2", "cx", "width"].map(|name| (name, width));
        let down = ["y", "y1", "y2", "cy", "height"].map(|name| (name, height));
        for (attribute, most) in across.into_iter().chain(down) {
            for value in svg.split(&format!(" {attribute}=\"")).skip(1) {
                let value: f64 = value.split('"').next().unwrap().parse().expect("a number");
                assert!((0.0..=most).contains(&value), "{attribute} {value}: {svg}");
            }
        }
        for points in svg.split(" points=\"").skip(1) {
            for pair in points.split('"').next().unwrap().split_whitespace() {
                let (x, y) = pair.split_once(',').expect("a pair");
                let (x, y): (f64, f64) = (x.parse().expect("x"), y.parse().expect("y"));
                let inside = (0.0..=width).contains(&x) && (0.0..=height).contains(&y);
                assert!(inside, "{pair}: {svg}");
            }
        }
    }

    /// Every coordinate of every drawing of the demo, in every unit.
    #[test]
    fn nothing_is_drawn_outside_the_box() {
        let mut rig = Rig::demo();
        for unit in PressureUnit::ALL {
            rig.unit = unit;
            for surface in Surface::ALL {
                rig.surface = surface;
                for axle in &rig.axles {
                    let (understood, answer) = rig.answer(axle).expect("an answer");
                    assert_within(&svg(&understood, &answer, unit), WIDTH, HEIGHT);
                }
            }
        }
    }
}
