//! The line through a tyre's readings, as SVG.

use crate::calc::gas::leak::{HORIZON_DAYS, LeakLine, Reaches};
use crate::calc::quantity::{GaugePressure, Time, day};
use crate::rig::PressureUnit;
use crate::ui::kit::chart::{at, grid, line, span, text};
use crate::ui::kit::format;

const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 170.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = 8.0;
const TOP: f64 = 10.0;
const BOTTOM: f64 = 34.0;

/// Steps along the band, which bends.
const STEPS: u8 = 24;

/// How far past the last reading the line is drawn.
fn last_day(line: &LeakLine, minimum: Option<GaugePressure>) -> f64 {
    let points = line.points();
    let days = |t: Time| t.get::<day>();
    let last = points.last().map_or(0.0, |point| days(point.at));
    let reached = match minimum.map(|minimum| line.reaches(minimum)) {
        Some(Ok(Reaches::Between { earliest, latest })) => Some(days(latest.unwrap_or(earliest))),
        _ => None,
    };
    // As far again as the readings go, or to where the minimum is reached.
    let ahead = reached.map_or(0.0, |reached| (reached - last) * 1.1);
    last + ahead.max(last * 0.5).clamp(1.0, HORIZON_DAYS)
}

/// The drawing: readings with what they may be off, the line, its band, and
/// the load minimum. Its words stand beside it; it is hidden from screen
/// readers. `date` writes a day counted from the first reading.
pub fn svg(
    fitted: &LeakLine,
    minimum: Option<GaugePressure>,
    unit: PressureUnit,
    date: &dyn Fn(f64) -> String,
) -> String {
    let end = last_day(fitted, minimum);
    let band = |share: f64| fitted.pressure_at(Time::new::<day>(end * share));
    let number = |p: GaugePressure| unit.number(p).max(0.0);

    // The smallest span that holds all that is drawn.
    let (mut low, mut high) = (f64::MAX, 0.0_f64);
    let mut hold = |value: f64| {
        low = low.min(value);
        high = high.max(value);
    };
    for share in [0.0, 1.0] {
        let span = band(share);
        hold(number(span.low));
        hold(number(span.high));
    }
    for point in fitted.points() {
        hold(number(point.pressure - point.within));
        hold(number(point.pressure + point.within));
    }
    if let Some(minimum) = minimum {
        hold(number(minimum));
    }
    let (bottom, top, step) = span(unit, low, high);

    let x = |share: f64| LEFT + share.clamp(0.0, 1.0) * (WIDTH - LEFT - RIGHT);
    let y = |value: f64| {
        let share = ((value - bottom) / (top - bottom)).clamp(0.0, 1.0);
        HEIGHT - BOTTOM - share * (HEIGHT - BOTTOM - TOP)
    };
    let mut svg = format!(
        r#"<svg viewBox="0 0 {} {}" aria-hidden="true">"#,
        at(WIDTH),
        at(HEIGHT)
    );
    svg += &grid((bottom, top, step), (x(0.0), x(1.0)), &y);
    let under = HEIGHT - BOTTOM + 15.0;
    svg += &text("start", (x(0.0), under), &date(0.0));
    svg += &text("end", (x(1.0), under), &date(end));
    svg += &text("start", (x(0.0), HEIGHT - 4.0), format::unit_mark(unit));

    let mut upper = String::new();
    let mut lower = Vec::new();
    for step in 0..=STEPS {
        let share = f64::from(step) / f64::from(STEPS);
        let span = band(share);
        upper += &format!("{},{} ", at(x(share)), at(y(number(span.high))));
        lower.push(format!("{},{} ", at(x(share)), at(y(number(span.low)))));
    }
    lower.reverse();
    svg += &format!(
        r#"<polygon class="band" points="{upper}{}"/>"#,
        lower.concat()
    );
    if let Some(minimum) = minimum {
        let level = y(number(minimum));
        svg += &line("floor", (x(0.0), level), (x(1.0), level));
    }
    let ends = [0.0, 1.0].map(|share| (x(share), y(number(band(share).likely))));
    svg += &line("minimum", ends[0], ends[1]);
    for point in fitted.points() {
        let across = x(point.at.get::<day>() / end);
        let [least, most] = [point.pressure - point.within, point.pressure + point.within];
        svg += &line(
            "range",
            (across, y(number(least))),
            (across, y(number(most))),
        );
        svg += &format!(
            r#"<circle class="point" cx="{}" cy="{}" r="4"/>"#,
            at(across),
            at(y(number(point.pressure)))
        );
    }
    svg + "</svg>"
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::gas::height::Height;
    use crate::calc::gas::leak::LeakReading;
    use crate::calc::gas::{AmbientTemperature, TyreAir};
    use crate::calc::quantity::{TemperatureInterval, kelvin_interval, psi};
    use crate::ui::kit::chart::tests::assert_within;

    #[test]
    fn all_of_it_is_drawn_inside_the_box() {
        let air = AmbientTemperature::celsius(15.0).unwrap();
        let reading = |days, pressure| LeakReading {
            at: Time::new::<day>(days),
            pressure: GaugePressure::new::<psi>(pressure),
            resolution: GaugePressure::new::<psi>(1.0),
            temperature: air,
            temperature_within: TemperatureInterval::new::<kelvin_interval>(2.0),
            height: Height::SEA_LEVEL,
        };
        let here = TyreAir::cold(air, Height::SEA_LEVEL);
        for readings in [
            vec![reading(0.0, 50.0), reading(30.0, 45.0)],
            vec![reading(0.0, 50.0), reading(40.0, 50.0), reading(80.0, 49.0)],
            vec![reading(0.0, 50.0), reading(20.0, 12.0), reading(26.0, 1.0)],
        ] {
            let fitted = LeakLine::fit(&readings, here).unwrap();
            for unit in PressureUnit::ALL {
                for minimum in [None, Some(GaugePressure::new::<psi>(40.0))] {
                    let svg = svg(&fitted, minimum, unit, &|days| {
                        format!("day {}", crate::decimal::fixed(days, 0))
                    });
                    assert_within(&svg, WIDTH, HEIGHT);
                    assert_eq!(svg.matches("<circle").count(), readings.len());
                    assert_eq!(svg.contains("floor"), minimum.is_some());
                }
            }
        }
    }
}
