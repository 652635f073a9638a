//! The load plan from the side, as SVG to scale: axles, ball, bodies as plain
//! boxes, and a mark for each load. Front to the left.
//!
//! Two sheets, one upon the other: what stays while a load is moved, and what
//! follows. What they say stands beside them in words; they are hidden from
//! screen readers.

use crate::calc::quantity::{Length, millimeter};
use crate::calc::weights::Measures;
use crate::rig::weights::{ItemKind, On};
use crate::ui::kit::chart::{at, line, text};

/// Width of the drawing.
pub const WIDTH: f64 = 320.0;
/// Its height.
pub const HEIGHT: f64 = 150.0;

/// Half the room of a mark, also left beside the ends.
const MARGIN: f64 = 10.0;
/// The ground.
const GROUND: f64 = 118.0;
/// Height of the floor, above which loads are drawn.
const FLOOR: f64 = 98.0;
/// Side of a mark, with the room around it.
const MARK: f64 = 16.0;
/// Most marks upon each other.
const LEVELS: usize = 4;

const WHEEL_MM: f64 = 390.0;
/// Ahead of the front axle (for the drawing alone).
const NOSE_MM: f64 = 850.0;
/// Behind the van's body, where bars are (for the drawing alone).
const BAR_MM: f64 = 900.0;
/// From the ball forward to the vehicle's back (for the drawing alone).
const BALL_GAP_MM: f64 = 150.0;
/// From the rear axle to the vehicle's back where there is no ball (for the
/// drawing alone).
const TAIL_MM: f64 = 1000.0;

/// Where all stands along the ground, mm behind the front axle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Along {
    rear: f64,
    van: Option<Van>,
    scale: f64,
}

/// The van among them.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Van {
    ball: f64,
    /// The middle of its axles.
    axles: f64,
    body: (f64, f64),
    lines: u8,
}

/// A load to be drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// Its number in the list.
    pub number: usize,
    /// What it is.
    pub kind: ItemKind,
    /// How full a tank is, as a share.
    pub fill: f64,
    /// Behind the front axle, mm.
    pub at: f64,
    /// Where it was when the rig was weighed, if elsewhere.
    pub was: Option<f64>,
    /// Whether it is the one being moved.
    pub picked: bool,
}

fn mm(length: Length) -> f64 {
    length.get::<millimeter>()
}

impl Along {
    /// A rig of such measures, its van's body, if it has one, from and to
    /// ahead of its axles.
    pub fn new(measures: &Measures, body: Option<(Length, Length)>, lines: u8) -> Self {
        let rear = mm(measures.wheelbase());
        let van = measures.overhang().zip(measures.drawbar()).zip(body);
        let van = van.map(|((overhang, drawbar), (front, back))| {
            let ball = rear + mm(overhang);
            let axles = ball + mm(drawbar);
            let body = (axles - mm(front), axles - mm(back));
            Van {
                ball,
                axles,
                body,
                lines,
            }
        });
        let mut along = Self {
            rear,
            van,
            scale: 1.0,
        };
        let (from, to) = along.ends();
        along.scale = (WIDTH - 2.0 * MARGIN) / (to - from);
        along
    }

    /// Where loads may lie: from the vehicle's front to the back of the rig
    /// with what may be on its rear bar.
    pub fn ends(&self) -> (f64, f64) {
        let back = self.van.map_or(self.rear + TAIL_MM, |van| van.body.1);
        (-NOSE_MM, back + BAR_MM)
    }

    /// A place along the rig.
    pub fn of(&self, on: On, ahead: Length) -> f64 {
        match (on, self.van) {
            (On::Trailer, Some(van)) => van.axles - mm(ahead),
            _ => self.rear - mm(ahead),
        }
    }

    /// The body and the place ahead of its axle, of a place along the rig:
    /// between vehicle and drawbar the ball parts them.
    pub fn place(&self, along: f64) -> (On, Length) {
        let mm = Length::new::<millimeter>;
        match self.van {
            Some(van) if along >= van.ball => (On::Trailer, mm(van.axles - along)),
            _ => (On::Vehicle, mm(self.rear - along)),
        }
    }

    fn x(&self, along: f64) -> f64 {
        MARGIN + (along + NOSE_MM) * self.scale
    }

    /// The place along the rig at such a share of the drawing's width.
    pub fn at_share(&self, share: f64) -> f64 {
        (share * WIDTH - MARGIN) / self.scale - NOSE_MM
    }

    /// The axles of the van's group; a metre apart, or less where they would
    /// not fit (for the drawing alone).
    fn lines(&self) -> Vec<f64> {
        let Some(van) = self.van else {
            return Vec::new();
        };
        let apart = 2.2 * WHEEL_MM;
        let first = van.axles - apart * f64::from(van.lines - 1) / 2.0;
        (0..van.lines)
            .map(|line| first + apart * f64::from(line))
            .collect()
    }
}

fn open() -> String {
    format!(
        r#"<svg viewBox="0 0 {} {}" aria-hidden="true">"#,
        at(WIDTH),
        at(HEIGHT)
    )
}

fn path(class: &str, points: &[(f64, f64)]) -> String {
    let mut d = String::new();
    for (index, (x, y)) in points.iter().enumerate() {
        d += if index == 0 { "M" } else { " L" };
        d += &format!("{} {}", at(*x), at(*y));
    }
    format!(r#"<path class="{class}" d="{d}"/>"#)
}

fn circle(class: &str, (x, y): (f64, f64), r: f64) -> String {
    format!(
        r#"<circle class="{class}" cx="{}" cy="{}" r="{}"/>"#,
        at(x),
        at(y),
        at(r)
    )
}

fn rect(class: &str, (x, y): (f64, f64), (w, h): (f64, f64)) -> String {
    format!(
        r#"<rect class="{class}" x="{}" y="{}" width="{}" height="{}" rx="2"/>"#,
        at(x),
        at(y),
        at(w),
        at(h)
    )
}

/// What stays: ground, wheels, bodies, the ball, a metre for scale.
pub fn rig(along: &Along) -> String {
    let x = |mm: f64| along.x(mm);
    let tall = 2100.0 * along.scale;
    let back = along
        .van
        .map_or(along.rear + TAIL_MM, |van| van.ball - BALL_GAP_MM);
    let (nose, tail) = (x(-NOSE_MM), x(back));
    let low = FLOOR - tall * 0.45;
    let cab = x(along.rear * 0.28);
    let mut svg = open();
    svg += &line("ground", (0.0, GROUND), (WIDTH, GROUND));
    // A box with a bonnet, and a box.
    svg += &path(
        "body",
        &[
            (nose, FLOOR),
            (nose, low),
            (cab, low),
            (cab, FLOOR - tall * 0.85),
            (tail, FLOOR - tall * 0.85),
            (tail, FLOOR),
            (nose, FLOOR),
        ],
    );
    if let Some(van) = along.van {
        let (front, back) = (x(van.body.0), x(van.body.1));
        svg += &path(
            "body",
            &[
                (front, FLOOR),
                (front, FLOOR - tall),
                (back, FLOOR - tall),
                (back, FLOOR),
                (front, FLOOR),
            ],
        );
        let ball = (x(van.ball), FLOOR + 6.0);
        svg += &path("frame", &[(tail, FLOOR), ball]);
        svg += &path("frame", &[ball, (front, FLOOR)]);
        svg += &path("frame", &[(back, FLOOR), (x(along.ends().1), FLOOR)]);
        svg += &circle("ball", ball, 3.0);
    } else {
        svg += &path("frame", &[(tail, FLOOR), (x(along.ends().1), FLOOR)]);
    }
    let r = WHEEL_MM * along.scale;
    for axle in [0.0, along.rear].into_iter().chain(along.lines()) {
        svg += &circle("tyre", (x(axle), GROUND - r), r);
    }
    let to = WIDTH - MARGIN;
    svg += &line(
        "bar",
        (to - 1000.0 * along.scale, HEIGHT - 7.0),
        (to, HEIGHT - 7.0),
    );
    let beside = to - 1000.0 * along.scale - 5.0;
    svg += &text("end", (beside, HEIGHT - 3.0), "1 m");
    svg += &text("start", (MARGIN, HEIGHT - 3.0), "← front");
    svg + "</svg>"
}

/// The level of each mark, so that none lies on another.
pub fn levels(along: &Along, marks: &[Mark]) -> Vec<usize> {
    let mut levels: Vec<usize> = Vec::new();
    for (index, mark) in marks.iter().enumerate() {
        let taken = |level: usize| {
            marks[..index]
                .iter()
                .zip(&levels)
                .any(|(other, at)| *at == level && (other.at - mark.at).abs() * along.scale < MARK)
        };
        let free = (0..LEVELS).find(|level| !taken(*level));
        levels.push(free.unwrap_or(LEVELS - 1));
    }
    levels
}

/// The middle of a mark on the drawing.
fn middle(along: &Along, mark: &Mark, level: usize) -> (f64, f64) {
    let half = MARK / 2.0;
    // Marks stay whole at either end.
    let x = along.x(mark.at).max(half).min(WIDTH - half);
    (x, FLOOR - half - level as f64 * MARK)
}

/// The mark nearest to a point, by the shares of the drawing's width and
/// height, if it is near enough for a thumb.
pub fn nearest(along: &Along, marks: &[Mark], share: (f64, f64)) -> Option<usize> {
    const THUMB: f64 = 28.0;
    let point = (share.0 * WIDTH, share.1 * HEIGHT);
    let mut best: Option<(usize, f64)> = None;
    for (index, (mark, level)) in marks.iter().zip(levels(along, marks)).enumerate() {
        let (x, y) = middle(along, mark, level);
        let off = (x - point.0) * (x - point.0) + (y - point.1) * (y - point.1);
        if off < THUMB * THUMB && best.is_none_or(|(_, least)| off < least) {
            best = Some((index, off));
        }
    }
    best.map(|(index, _)| index)
}

/// What follows: the loads, and what stands on each axle and on the ball.
pub fn loads(along: &Along, marks: &[Mark], masses: [Option<String>; 4]) -> String {
    let mut svg = open();
    for (mark, level) in marks.iter().zip(levels(along, marks)) {
        let (x, y) = middle(along, mark, level);
        if let Some(was) = mark.was {
            let from = along.x(was);
            svg += &line("was", (from, y), (x, y));
            svg += &circle("was", (from, y), 2.5);
        }
        svg += &shape(mark, (x, y));
        svg += &text("middle", (x, y + 4.0), &at(mark.number as f64));
    }
    let [front, rear, ball, trailer] = masses;
    let level = GROUND + 13.0;
    let axles = along.van.map(|van| van.axles);
    let places = [Some(0.0), Some(along.rear), axles];
    for (place, mass) in places.into_iter().zip([front, rear, trailer]) {
        if let (Some(place), Some(mass)) = (place, mass) {
            svg += &text("middle", (along.x(place).max(26.0), level), &mass);
        }
    }
    if let (Some(van), Some(mass)) = (along.van, ball) {
        let x = along.x(van.ball);
        svg += &text("middle", (x, 14.0), &mass);
        svg += &line("lead", (x, 18.0), (x, FLOOR));
    }
    svg + "</svg>"
}

/// Each kind has a shape of its own.
fn shape(mark: &Mark, (x, y): (f64, f64)) -> String {
    let class = if mark.picked { "load picked" } else { "load" };
    let half = MARK / 2.0 - 1.0;
    let side = 2.0 * half;
    match mark.kind {
        ItemKind::SpareWheel => circle(class, (x, y), half),
        ItemKind::Load => rect(class, (x - half, y - half), (side, side)),
        ItemKind::RearBox => {
            rect(class, (x - half, y - half), (side, side))
                + &line(
                    "lid",
                    (x - half, y - half + 3.0),
                    (x + half, y - half + 3.0),
                )
        }
        ItemKind::Tank => {
            let water = side * mark.fill.clamp(0.0, 1.0);
            rect(class, (x - half, y - half), (side, side))
                + &rect("water", (x - half, y + half - water), (side, water))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn along(lines: u8) -> Along {
        let m = Length::new::<millimeter>;
        let rig = Measures::new(m(2800.0), m(1150.0), m(4900.0)).unwrap();
        Along::new(&rig, Some((m(3600.0), m(-2600.0))), lines)
    }

    /// A vehicle that tows nothing.
    fn alone() -> Along {
        let wheelbase = Length::new::<millimeter>(2800.0);
        Along::new(&Measures::of_vehicle(wheelbase).unwrap(), None, 1)
    }

    /// Without a van all lies on the vehicle, and none is drawn.
    #[test]
    fn a_vehicle_by_itself_is_drawn_without_ball_and_van() {
        let along = alone();
        let (from, to) = along.ends();
        for step in 0..=100 {
            let at = from + (to - from) * f64::from(step) / 100.0;
            let (on, ahead) = along.place(at);
            assert_eq!(on, On::Vehicle);
            assert!((along.of(on, ahead) - at).abs() < 1e-6);
        }
        let masses = [(); 4].map(|()| Some("1 310 kg".to_owned()));
        let svg = rig(&along) + &loads(&along, &[], masses);
        assert_eq!(svg.matches("class=\"tyre\"").count(), 2);
        assert!(!svg.contains("ball") && svg.matches("1 310 kg").count() == 2);
    }

    fn mark(at: f64) -> Mark {
        Mark {
            number: 1,
            kind: ItemKind::Load,
            fill: 0.0,
            at,
            was: None,
            picked: false,
        }
    }

    #[test]
    fn a_place_is_the_same_there_and_back() {
        let along = along(2);
        let (from, to) = along.ends();
        let mut met = [0, 0];
        for step in 0..=1000 {
            let at = from + (to - from) * f64::from(step) / 1000.0;
            let (on, ahead) = along.place(at);
            met[usize::from(on == On::Trailer)] += 1;
            assert!((along.of(on, ahead) - at).abs() < 1e-6);
            let share = along.x(at) / WIDTH;
            assert!((along.at_share(share) - at).abs() < 1e-6);
        }
        assert!(met.iter().all(|met| *met > 100), "{met:?}");
    }

    #[test]
    fn no_load_hides_another_and_a_thumb_finds_each() {
        let along = along(1);
        let marks: Vec<Mark> = [0.0, 100.0, 200.0, 6000.0].map(mark).into();
        assert_eq!(levels(&along, &marks), [0, 1, 2, 0]);
        for (index, (mark, level)) in marks.iter().zip(levels(&along, &marks)).enumerate() {
            let (x, y) = middle(&along, mark, level);
            let found = nearest(&along, &marks, (x / WIDTH, y / HEIGHT));
            assert_eq!(found, Some(index));
        }
        assert_eq!(nearest(&along, &marks, (0.5, 0.0)), None);
    }

    #[test]
    fn nothing_is_drawn_outside_the_box() {
        for along in [along(1), along(2), along(3), alone()] {
            let (from, to) = along.ends();
            let marks: Vec<Mark> = [from, from, from, from, from, 0.0, to]
                .into_iter()
                .zip([
                    ItemKind::Load,
                    ItemKind::Tank,
                    ItemKind::SpareWheel,
                    ItemKind::RearBox,
                    ItemKind::Load,
                    ItemKind::Tank,
                    ItemKind::RearBox,
                ])
                .map(|(at, kind)| Mark {
                    kind,
                    fill: 0.5,
                    was: Some(to),
                    ..mark(at)
                })
                .collect();
            let masses = [(); 4].map(|()| Some("1 310 kg".to_owned()));
            for svg in [rig(&along), loads(&along, &marks, masses)] {
                assert!(svg.ends_with("</svg>") && !svg.contains("NaN"));
                for (attribute, most) in [
                    ("x", WIDTH),
                    ("x1", WIDTH),
                    ("x2", WIDTH),
                    ("cx", WIDTH),
                    ("y", HEIGHT),
                    ("y1", HEIGHT),
                    ("y2", HEIGHT),
                    ("cy", HEIGHT),
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
