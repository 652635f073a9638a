//! What one tyre read over time, as SVG.

use crate::calc::quantity::GaugePressure;
use crate::rig::PressureUnit;
use crate::ui::kit::calendar;
use crate::ui::kit::chart::{at, grid, line, span, text};

const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 156.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = 10.0;
const TOP: f64 = 10.0;
const BOTTOM: f64 = 20.0;

/// A reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Local day, counted from 1970-01-01.
    pub day: u32,
    /// Minutes after its beginning.
    pub minute: u32,
    /// What it read.
    pub read: GaugePressure,
    /// Whether it was warm.
    pub warm: bool,
    /// What it should have read cold.
    pub goal: Option<GaugePressure>,
}

impl Point {
    fn when(&self) -> f64 {
        f64::from(self.day) + f64::from(self.minute) / 1440.0
    }
}

/// The drawing of readings, oldest first: full marks for cold ones, rings for
/// warm ones, a line from each cold one to the next, and a stroke where each
/// should have been. Its words stand beside it; it is hidden from screen
/// readers. Nothing of none.
pub fn svg(points: &[Point], unit: PressureUnit) -> Option<String> {
    let (first, last) = (points.first()?, points.last()?);
    let number = |pressure| unit.number(pressure).max(0.0);
    let all = || {
        let read = points.iter().map(|point| number(point.read));
        read.chain(points.iter().filter_map(|point| point.goal.map(number)))
    };
    let low = all().fold(f64::MAX, f64::min);
    let high = all().fold(0.0, f64::max);
    let (bottom, top, step) = span(unit, low, high);
    let (begin, days) = (first.when(), (last.when() - first.when()).max(1.0));
    let x = |point: &Point| {
        let share = ((point.when() - begin) / days).clamp(0.0, 1.0);
        LEFT + 6.0 + share * (WIDTH - LEFT - RIGHT - 12.0)
    };
    let y = |value: f64| {
        let share = ((value - bottom) / (top - bottom)).clamp(0.0, 1.0);
        HEIGHT - BOTTOM - share * (HEIGHT - BOTTOM - TOP)
    };
    let mut svg = format!(
        r#"<svg viewBox="0 0 {} {}" aria-hidden="true">"#,
        at(WIDTH),
        at(HEIGHT)
    );
    svg += &grid((bottom, top, step), (LEFT, WIDTH - RIGHT), &y);
    let under = HEIGHT - BOTTOM + 15.0;
    svg += &text("start", (LEFT, under), &calendar::date(first.day));
    if last.day > first.day {
        svg += &text("end", (WIDTH - RIGHT, under), &calendar::date(last.day));
    }
    svg += r#"<polyline class="minimum" points=""#;
    for point in points.iter().filter(|point| !point.warm) {
        svg += &format!("{},{} ", at(x(point)), at(y(number(point.read))));
    }
    svg += r#""/>"#;
    for point in points {
        if let Some(goal) = point.goal {
            let goal = y(number(goal));
            svg += &line("floor", (x(point) - 6.0, goal), (x(point) + 6.0, goal));
        }
        let class = if point.warm { "point" } else { "point dot" };
        svg += &format!(
            r#"<circle class="{class}" cx="{}" cy="{}" r="4"/>"#,
            at(x(point)),
            at(y(number(point.read)))
        );
    }
    svg += "</svg>";
    Some(svg)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::kilopascal;
    use crate::ui::kit::chart::tests::assert_within;

    #[test]
    fn nothing_is_drawn_outside_the_box() {
        assert_eq!(svg(&[], PressureUnit::Psi), None);
        let point = |day, kpa: f64, warm| Point {
            day,
            minute: 1439,
            read: GaugePressure::new::<kilopascal>(kpa),
            warm,
            goal: (day % 2 == 0).then(|| GaugePressure::new::<kilopascal>(344.7)),
        };
        for unit in PressureUnit::ALL {
            for points in [
                vec![point(20_000, 0.0, false)],
                vec![point(20_000, 350.0, false), point(20_000, 350.0, true)],
                vec![point(20_001, 1300.0, false), point(20_000, 0.0, false)],
                (0..520)
                    .map(|week| point(20_000 + 7 * week, 300.0 + f64::from(week), week % 3 == 0))
                    .collect(),
            ] {
                let svg = svg(&points, unit).expect("a drawing");
                assert_eq!(svg.matches("<circle").count(), points.len());
                assert_within(&svg, WIDTH, HEIGHT);
            }
        }
    }
}
