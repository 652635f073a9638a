//! The drawings of a footprint, as SVG to scale.
//!
//! Each is two sheets, one upon the other: what stays while the slider moves,
//! and under it what follows.
//!
//! Their boxes are no wider than the page at 360 px, so a text of 12 units is
//! one of some 12 px there. Everything they say stands in the table beside
//! them; they are hidden from screen readers.

use super::words;
use crate::calc::footprint::{Change, Footprint, TyreGeometry};
use crate::calc::quantity::{GaugePressure, Length, millimeter};
use crate::rig::PressureUnit;
use crate::rig::footprint::Footing;
use crate::ui::kit::chart::{at, line, text};
use crate::ui::kit::format;
use crate::ui::kit::words::surface;

/// Width of the two drawings.
pub const WIDTH: f64 = 320.0;

/// Room for a character at 12 px, on the wide side.
pub const CHARACTER: f64 = 7.4;

/// Corners drawn of a quarter of an outline: at this size more can't be told.
const PER_QUARTER: usize = 16;

fn mm(length: Length) -> f64 {
    length.get::<millimeter>()
}

fn open(width: f64, height: f64) -> String {
    format!(
        r#"<svg viewBox="0 0 {} {}" aria-hidden="true">"#,
        at(width),
        at(height)
    )
}

fn least(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}

mod plan {
    pub const HEIGHT: f64 = 218.0;
    pub const MIDDLE: (f64, f64) = (super::WIDTH / 2.0, 100.0);
    /// The largest outline that fits.
    pub const MOST: (f64, f64) = (216.0, 146.0);
    pub const TOP: f64 = 18.0;
    pub const BOTTOM: f64 = 182.0;
    pub const LEFT: f64 = 44.0;
    pub const RIGHT: f64 = super::WIDTH - 44.0;
    pub const BAR: f64 = 208.0;
}

/// The footprint from above at the higher pressure, and the scale: the same
/// for both sheets, and so large that `largest` fits.
pub fn print_before(change: &Change, largest: &Footprint, unit: PressureUnit) -> String {
    let scale = print_scale(largest);
    let (top, left) = (plan::TOP, plan::LEFT);
    let mut svg = print("before", &change.before, scale);
    svg += &dimensions(
        "before",
        &change.before,
        scale,
        unit,
        (left, -6.0),
        (top, -6.0),
    );
    // Half as long where a small tyre is drawn large.
    let (bar_mm, bar_words) = if scale < 1.0 {
        (100.0, "10 cm")
    } else {
        (50.0, "5 cm")
    };
    let bar = (left, left + scale * bar_mm);
    svg += &span("bar", (bar.0, plan::BAR), (bar.1, plan::BAR));
    svg += &text("start", (bar.1 + 8.0, plan::BAR + 4.0), bar_words);
    svg += &text("end", (plan::RIGHT, plan::BAR + 4.0), "↔ rolling");
    svg + "</svg>"
}

/// The footprint from above at the lower pressure.
pub fn print_after(change: &Change, largest: &Footprint, unit: PressureUnit) -> String {
    let scale = print_scale(largest);
    let (bottom, right) = (plan::BOTTOM, plan::RIGHT);
    let mut svg = print("after", &change.after, scale);
    svg += &dimensions(
        "after",
        &change.after,
        scale,
        unit,
        (right, 6.0),
        (bottom, 14.0),
    );
    svg + "</svg>"
}

fn print_scale(largest: &Footprint) -> f64 {
    let by_length = plan::MOST.0 / mm(largest.length);
    least(by_length, plan::MOST.1 / mm(largest.width))
}

fn print(class: &str, footprint: &Footprint, scale: f64) -> String {
    let (x, y) = plan::MIDDLE;
    let mut svg = open(WIDTH, plan::HEIGHT) + &format!(r#"<polygon class="{class}" points=""#);
    for point in footprint.outline(PER_QUARTER) {
        let across = y + scale * point.across;
        svg += &format!("{},{} ", at(x + scale * point.along), at(across));
    }
    svg + r#""/>"#
}

/// Width at `side` and length at `level`, each with its words so far from it.
fn dimensions(
    class: &str,
    footprint: &Footprint,
    scale: f64,
    unit: PressureUnit,
    (side, aside): (f64, f64),
    (level, below): (f64, f64),
) -> String {
    let (x, y) = plan::MIDDLE;
    let half_length = scale * mm(footprint.length) / 2.0;
    let half_width = scale * mm(footprint.width) / 2.0;
    let length = format!(
        "{}: {}",
        format::pressure(unit, footprint.pressure),
        words::centimetres(footprint.length)
    );
    let width = words::centimetres(footprint.width);
    let anchor = if aside < 0.0 { "end" } else { "start" };
    span(class, (x - half_length, level), (x + half_length, level))
        + &span(class, (side, y - half_width), (side, y + half_width))
        + &text("middle", (x, level + below), &length)
        + &text(anchor, (side + aside, y + 4.0), &width)
}

/// A level or upright line with a stroke across each end. Half a stroke is no
/// more than half a dash, so that a dashed line has whole ones.
fn span(class: &str, from: (f64, f64), to: (f64, f64)) -> String {
    const HALF: f64 = 2.5;
    let (dx, dy) = if from.1 == to.1 {
        (0.0, HALF)
    } else {
        (HALF, 0.0)
    };
    let mut path = format!(r#"<path class="{class}" d=""#);
    for ((x0, y0), (x1, y1)) in [
        (from, to),
        ((from.0 - dx, from.1 - dy), (from.0 + dx, from.1 + dy)),
        ((to.0 - dx, to.1 - dy), (to.0 + dx, to.1 + dy)),
    ] {
        path += &format!("M{} {}L{} {}", at(x0), at(y0), at(x1), at(y1));
    }
    path + r#""/>"#
}

mod elevation {
    pub const HEIGHT: f64 = 162.0;
    pub const GROUND: f64 = 142.0;
    pub const MIDDLE: f64 = super::WIDTH / 2.0;
    /// The unloaded tyre's radius.
    pub const RADIUS: f64 = 128.0;
    /// How far beyond the ground's chord the tread has found its circle
    /// again, as the sine of an angle: a choice of the drawing, nothing measured.
    pub const EASING: f64 = 0.18;
}

/// The lower half of the wheel from the side at the higher pressure, and the
/// ground that both sheets stand on.
pub fn side_before(change: &Change, tyre: TyreGeometry) -> String {
    let x = elevation::MIDDLE;
    let (scale, centre) = elevation_of(&change.before, tyre);
    let ground = elevation::GROUND;
    open(WIDTH, elevation::HEIGHT)
        + &tyre_line("before", &change.before, centre, scale)
        + &line("before", (x - 24.0, centre), (x + 24.0, centre))
        + &line("ground", (2.0, ground), (WIDTH - 2.0, ground))
        + "</svg>"
}

/// The same at the lower pressure.
pub fn side_after(change: &Change, tyre: TyreGeometry) -> String {
    let x = elevation::MIDDLE;
    let (scale, centre) = elevation_of(&change.after, tyre);
    let rim = scale * mm(tyre.rim_diameter()) / 2.0;
    let rim = format!(
        r#"<path class="rim" d="M{} {y} A{r} {r} 0 0 0 {} {y}Z"/>"#,
        at(x - rim),
        at(x + rim),
        r = at(rim),
        y = at(centre)
    );
    let lower = format!("{} lower", words::millimetres(change.clearance_lost));
    let pressed = format!("pressed in {}", words::millimetres(change.after.deflection));
    let share = format!("{} of section height", words::share(&change.after));
    let words_at = elevation::HEIGHT - 4.0;
    open(WIDTH, elevation::HEIGHT)
        + &tyre_line("after", &change.after, centre, scale)
        + &rim
        + &line("after", (x - 24.0, centre), (x + 24.0, centre))
        + &text("middle", (x, centre + 18.0), &lower)
        + &text("start", (2.0, words_at), &pressed)
        + &text("end", (WIDTH - 2.0, words_at), &share)
        + "</svg>"
}

/// The scale, and the height of the wheel's centre in it.
fn elevation_of(footprint: &Footprint, tyre: TyreGeometry) -> (f64, f64) {
    let scale = elevation::RADIUS / mm(tyre.free_radius());
    let centre = elevation::GROUND - scale * mm(footprint.loaded_radius);
    (scale, centre)
}

/// The tread from axle height round to axle height: the free circle, and flat
/// on the ground for the contact's length.
fn tyre_line(class: &str, footprint: &Footprint, centre: f64, scale: f64) -> String {
    let (x, ground, r) = (elevation::MIDDLE, elevation::GROUND, elevation::RADIUS);
    let height = ground - centre;
    let flat = scale * mm(footprint.length) / 2.0;
    let turned = |(cos, sin): (f64, f64), by: f64| {
        let by_cos = (1.0 - by * by).sqrt();
        (cos * by_cos - sin * by, sin * by_cos + cos * by)
    };
    let chord = (height / r, (1.0 - (height / r) * (height / r)).sqrt());
    let (cos, sin) = turned(chord, elevation::EASING);
    // Where the circle is met again, and where its tangent there meets the ground.
    let met = (r * sin, centre + r * cos);
    let tangent = (r - height * cos) / sin;
    format!(
        concat!(
            r#"<path class="{class}" d="M{} {y} A{r} {r} 0 0 0 {} {met} Q{} {ground} {} {ground}"#,
            r#" L{} {ground} Q{} {ground} {} {met} A{r} {r} 0 0 0 {} {y}"/>"#
        ),
        at(x - r),
        at(x - met.0),
        at(x - tangent),
        at(x - flat),
        at(x + flat),
        at(x + tangent),
        at(x + met.0),
        at(x + r),
        class = class,
        y = at(centre),
        r = at(r),
        met = at(met.1),
        ground = at(ground),
    )
}

/// Width of the slider's marks: from where its thumb stands at one end to
/// where it stands at the other.
pub const MARKS_WIDTH: f64 = 286.0;
const POINTER: f64 = 7.0;
const ROW: f64 = 23.0;
const FIRST_ROW: f64 = 16.0;

/// What stands under the slider: a triangle at the recommended pressure, and
/// the band of each surface with its name.
pub fn marks(footing: &Footing) -> String {
    let place = |pressure: GaugePressure| {
        let share =
            (pressure - footing.low).ratio_to(footing.pressure(footing.steps()) - footing.low);
        // What lies beyond an end of the slider is drawn at it.
        let share = if share > 0.0 { least(share, 1.0) } else { 0.0 };
        share * MARKS_WIDTH
    };
    let mut drawn = String::new();
    if let Some(recommended) = footing.recommended {
        let x = least(place(recommended).max(POINTER), MARKS_WIDTH - POINTER);
        drawn += &format!(
            r#"<path class="pointer" d="M{} 1 L{} 12 L{} 12Z"/>"#,
            at(x),
            at(x - POINTER),
            at(x + POINTER)
        );
    }
    // Each in the first row that has room, by the ends of what was put there.
    let mut rows: Vec<Vec<(f64, f64)>> = Vec::new();
    for (of, low, high) in &footing.bands {
        if *high < footing.low || *low > footing.high {
            continue;
        }
        let (x0, x1) = (place(*low), place(*high));
        let name = surface(*of);
        let half = CHARACTER * name.chars().count() as f64 / 2.0;
        let middle = least(((x0 + x1) / 2.0).max(half), MARKS_WIDTH - half);
        let (from, to) = (least(x0, middle - half), x1.max(middle + half));
        let free = |row: &Vec<(f64, f64)>| row.iter().all(|(a, b)| to < *a || from > *b);
        let row = rows.iter().position(free).unwrap_or(rows.len());
        if row == rows.len() {
            rows.push(Vec::new());
        }
        rows[row].push((from, to));
        let y = FIRST_ROW + ROW * row as f64;
        drawn += &span("bar", (x0, y + 4.0), (x1, y + 4.0));
        drawn += &text("middle", (middle, y + 18.0), name);
    }
    let height = FIRST_ROW + ROW * rows.len() as f64;
    open(MARKS_WIDTH, height) + &drawn + "</svg>"
}
