//! An arc of a sidewall, drawn: where each mark stands, which were read from
//! what was typed, and which is asked for next.

use super::explain::asks_for_a_mark;
use super::words;
use crate::calc::tyre::capacity::CapacityError;
use crate::calc::tyre::designation::{Construction, Designation, Size, Standard};
use crate::decimal;
use crate::rig::Problem;

/// A mark that the figures are read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Size, with the letters of its family.
    Size,
    /// Load indices and speed symbol.
    Service,
    /// Load range or ply rating; extra load on a passenger tyre.
    Range,
    /// Maximum load and its pressure, in plain numbers.
    Rating,
}

impl Mark {
    /// Every mark, in the order in which it is asked for.
    pub const ALL: [Self; 4] = [Self::Size, Self::Service, Self::Range, Self::Rating];
}

/// How a mark stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Not read, and not asked for.
    Open,
    /// Asked for next.
    Next,
    /// Read.
    Read,
}

/// What was read of a sidewall so far.
#[derive(Debug, Clone, PartialEq)]
pub struct Sidewall {
    texts: [Option<String>; 4],
    next: Option<Mark>,
    rating_helps: bool,
}

impl Sidewall {
    /// Reads a typed designation as far as it can be read. `rating` is the
    /// maximum load or pressure as shown, where one was entered; `problem` is
    /// why the axle has no figure.
    pub fn read(typed: &str, rating: Option<String>, problem: Option<&Problem>) -> Self {
        let tyre = as_far_as_read(typed);
        let texts = [
            tyre.as_ref().map(size),
            tyre.as_ref().and_then(service),
            tyre.as_ref().and_then(range),
            rating,
        ];
        let next = match (&tyre, problem) {
            (None, _) => Some(Mark::Size),
            (Some(_), _) if texts[1].is_none() && texts[3].is_none() => Some(Mark::Service),
            (Some(tyre), Some(Problem::Capacity(error))) => asked(tyre, error),
            (Some(tyre), _) => {
                let no_speed = tyre.service.is_some_and(|service| service.speed.is_none());
                no_speed.then_some(Mark::Service)
            }
        };
        // Where a load range would do as well, that is less to type.
        let rating_helps = texts[1].is_some()
            && match problem {
                Some(Problem::Capacity(CapacityError::ReferencePressureNeeded)) => {
                    next != Some(Mark::Range)
                }
                Some(Problem::Capacity(error)) => asks_for_a_mark(error),
                _ => false,
            };
        Self {
            texts,
            next,
            rating_helps,
        }
    }

    /// What was read of a mark.
    pub fn text(&self, mark: Mark) -> Option<&str> {
        self.texts[mark as usize].as_deref()
    }

    /// How a mark stands.
    pub fn standing(&self, mark: Mark) -> Standing {
        if self.next == Some(mark) {
            Standing::Next
        } else if self.texts[mark as usize].is_some() {
            Standing::Read
        } else {
            Standing::Open
        }
    }

    /// The mark asked for next, while one is.
    pub fn next(&self) -> Option<Mark> {
        self.next
    }

    /// Whether maximum load and pressure would settle what is asked.
    pub fn rating_helps(&self) -> bool {
        self.rating_helps
    }
}

/// The mark that would settle why a tyre's capacity is not known.
fn asked(tyre: &Designation, error: &CapacityError) -> Option<Mark> {
    match error {
        CapacityError::ReferenceLoadNeeded { .. } => Some(Mark::Rating),
        CapacityError::ReferencePressureNeeded
            if tyre.load_range.is_none()
                && matches!(
                    tyre.standard,
                    Standard::LightTruck | Standard::SpecialTrailer
                ) =>
        {
            Some(Mark::Range)
        }
        CapacityError::ReferencePressureNeeded | CapacityError::SecondMarkNeeded { .. } => {
            Some(Mark::Rating)
        }
        CapacityError::ExtraLoadOrMaximumNeeded => Some(Mark::Range),
        CapacityError::FamilyMarkNeeded => Some(Mark::Size),
        _ => None,
    }
}

/// The designation of the longest beginning that is one. Cut between marks
/// only: half of an index is another index.
fn as_far_as_read(typed: &str) -> Option<Designation> {
    let mut rest = typed.trim_end();
    while !rest.is_empty() {
        if let Ok(tyre) = Designation::parse(rest) {
            return Some(tyre);
        }
        let cut = rest.rfind(|c: char| c.is_whitespace() || c == '/')?;
        rest = rest[..cut].trim_end();
    }
    None
}

/// The size in one spelling.
fn size(tyre: &Designation) -> String {
    let whole = |value| decimal::short(value, 1);
    let inches = |value| decimal::fixed(value, 2);
    let numbers = match tyre.size {
        Size::Metric { width, aspect } => format!("{}/{}", whole(width), whole(aspect)),
        Size::FullProfile { width } => whole(width),
        Size::Flotation { diameter, width } => format!("{}x{}", whole(diameter), inches(width)),
        Size::Numeric { width } => inches(width),
    };
    let lies = match tyre.construction {
        Construction::Radial => "R",
        Construction::Diagonal => "-",
    };
    let in_front = matches!(tyre.size, Size::Metric { .. });
    let (before, behind) = match tyre.standard {
        _ if !tyre.marked => ("", ""),
        Standard::LightTruck if in_front => ("LT", ""),
        Standard::LightTruck => ("", "LT"),
        Standard::SpecialTrailer if in_front => ("ST", ""),
        Standard::SpecialTrailer => ("", "ST"),
        Standard::Passenger => ("P", ""),
        Standard::Commercial => ("", "C"),
        Standard::Camper => ("", "CP"),
    };
    format!("{before}{numbers}{lies}{}{behind}", whole(tyre.rim))
}

fn service(tyre: &Designation) -> Option<String> {
    let service = tyre.service?;
    let mut text = service.single.number().to_string();
    if let Some(dual) = service.dual {
        text += "/";
        text += &dual.number().to_string();
    }
    text += service.speed.map_or("", |speed| speed.symbol());
    Some(text)
}

fn range(tyre: &Designation) -> Option<String> {
    match tyre.load_range {
        Some(range) => Some(range.letter().to_string()),
        None => tyre.reinforced.then(|| "XL".to_owned()),
    }
}

const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 148.0;
/// The wheel's centre, below the drawing.
const CENTRE: (f64, f64) = (160.0, 330.0);
const TREAD: f64 = 317.0;
const SHOULDER: f64 = 306.0;
const BEAD: f64 = 190.0;

/// Where a mark stands: its distance from the wheel's centre, its angle from
/// the top in degrees, and how wide its frame is.
fn place(mark: Mark) -> (f64, f64, f64) {
    match mark {
        Mark::Size => (276.0, -15.5, 128.0),
        Mark::Service => (276.0, 15.5, 116.0),
        Mark::Range => (229.0, -18.5, 112.0),
        Mark::Rating => (229.0, 16.0, 140.0),
    }
}

/// The drawing. Its words stand beside it; it is hidden from screen readers.
/// Only what was parsed is written into it, never what was typed.
pub fn svg(sidewall: &Sidewall) -> String {
    let mut svg = format!(
        r#"<svg viewBox="0 0 {} {}" aria-hidden="true">"#,
        at(WIDTH),
        at(HEIGHT)
    );
    svg += &arc("tread", TREAD);
    svg += &arc("shoulder", SHOULDER);
    svg += &arc("bead", BEAD);
    for mark in Mark::ALL {
        let (radius, angle, wide) = place(mark);
        let standing = sidewall.standing(mark);
        let (class, sign) = match standing {
            Standing::Open => ("mark", ""),
            Standing::Next => ("mark next", "▸ "),
            Standing::Read => ("mark read", "✓ "),
        };
        let text = match sidewall.text(mark) {
            Some(text) => words::mark_read(mark, text),
            None => words::mark_place(mark).to_owned(),
        };
        // The browser turns it: sines alone would take 9 kB of the program.
        svg += &format!(
            r#"<g class="{class}" transform="translate({} {}) rotate({}) translate(0 {})"><rect x="{}" y="-14" width="{}" height="28" rx="6"/><text y="5" text-anchor="middle">{sign}{text}</text></g>"#,
            at(CENTRE.0),
            at(CENTRE.1),
            at(angle),
            at(-radius),
            at(-wide / 2.0),
            at(wide),
        );
    }
    svg + "</svg>"
}

/// A circle around the wheel's centre, from one side of the drawing to the other.
fn arc(class: &str, radius: f64) -> String {
    let half = WIDTH / 2.0;
    let down = CENTRE.1 - (radius * radius - half * half).sqrt();
    format!(
        r#"<path class="{class}" d="M0 {1}A{0} {0} 0 0 1 {2} {1}"/>"#,
        at(radius),
        at(down),
        at(WIDTH)
    )
}

fn at(value: f64) -> String {
    decimal::short(value, 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{Missing, PressureUnit, Rig};

    fn standings(typed: &str) -> [Standing; 4] {
        let mut rig = Rig::empty("", PressureUnit::Psi);
        rig.axles[0].tyre = typed.to_owned();
        let problem = rig.answer(&rig.axles[0]).err();
        let sidewall = Sidewall::read(typed, None, problem.as_ref());
        Mark::ALL.map(|mark| sidewall.standing(mark))
    }

    #[test]
    fn marks_light_up_one_after_another_as_they_are_typed() {
        use Standing::{Next, Open, Read};
        for (typed, expected) in [
            ("", [Next, Open, Open, Open]),
            ("LT265/75", [Next, Open, Open, Open]),
            ("LT265/75R16", [Read, Next, Open, Open]),
            ("LT265/75R16 123/1", [Read, Next, Open, Open]),
            ("LT265/75R16 123/120Q", [Read, Read, Next, Open]),
            ("LT265/75R16 123/120Q E", [Read, Read, Read, Open]),
            // The letter may be either, so neither is lit.
            ("LT265/75R16 123/120 E", [Read, Next, Open, Open]),
            ("195R14C 106/104Q", [Read, Read, Open, Next]),
            ("265/65R17 112H", [Read, Read, Open, Open]),
            ("265/65R17 116H", [Read, Read, Next, Open]),
            ("265/65R17 116H XL", [Read, Read, Read, Open]),
            ("265/75R16 123/120Q", [Read, Read, Open, Next]),
        ] {
            assert_eq!(standings(typed), expected, "{typed}");
        }
    }

    #[test]
    fn plain_numbers_are_asked_for_where_they_settle_it() {
        for (typed, helps) in [
            ("265/75R16", false),
            ("LT265/75R16 123/120Q", false),
            ("LT265/75R16 123/120Q E", false),
            ("195R14C 106/104Q", true),
            ("265/65R17 116H", true),
        ] {
            let mut rig = Rig::empty("", PressureUnit::Psi);
            rig.axles[0].tyre = typed.to_owned();
            let problem = rig.answer(&rig.axles[0]).err();
            let sidewall = Sidewall::read(typed, None, problem.as_ref());
            assert_eq!(sidewall.rating_helps(), helps, "{typed}");
        }
    }

    #[test]
    fn what_was_read_is_written_in_one_spelling() {
        for (typed, written) in [
            (
                "lt265/75 r16 123/120q lr e",
                ["LT265/75R16", "123/120Q", "E"],
            ),
            ("31x10,50r15lt 109q c", ["31x10.50R15LT", "109Q", "C"]),
            ("195r14c 106/104q 8pr", ["195R14C", "106/104Q", "D"]),
        ] {
            let sidewall = Sidewall::read(typed, None, None);
            for (mark, text) in Mark::ALL.into_iter().zip(written) {
                assert_eq!(sidewall.text(mark), Some(text), "{typed}");
            }
            // It reads back as the same tyre.
            let again = format!("{} {} LR {}", written[0], written[1], written[2]);
            assert_eq!(Designation::parse(&again), Designation::parse(typed));
        }
    }

    #[test]
    fn a_maximum_moulded_lights_its_own_mark() {
        let rating = Some("1550 kg, 80 psi".to_owned());
        let missing = Problem::Missing(Missing::Weighed);
        let sidewall = Sidewall::read("7.50R16LT", rating, Some(&missing));
        assert_eq!(sidewall.standing(Mark::Rating), Standing::Read);
        assert_eq!(sidewall.next(), None);
        assert!(svg(&sidewall).contains("1550 kg, 80 psi"));
    }

    /// Each standing differs by sign and shape, and every mark is inside.
    #[test]
    fn every_mark_is_drawn_inside_and_apart_from_the_others() {
        for typed in ["", "LT265/75R16", "LT265/75R16 123/120Q", "<b>"] {
            let sidewall = Sidewall::read(typed, None, None);
            let svg = svg(&sidewall);
            assert_eq!(svg.matches("<rect").count(), 4);
            assert_eq!(svg.matches("mark next").count(), svg.matches('▸').count());
            assert_eq!(svg.matches("mark read").count(), svg.matches('✓').count());
            assert!(!svg.contains("NaN") && !svg.contains("<b>"));
        }
        // Corners of the turned frames, and the longest texts in them.
        let corners = |mark| {
            let (radius, angle, wide) = place(mark);
            let turned = angle.to_radians();
            let (x, y) = (
                CENTRE.0 + radius * turned.sin(),
                CENTRE.1 - radius * turned.cos(),
            );
            [(-0.5, -14.0), (0.5, -14.0), (-0.5, 14.0), (0.5, 14.0)].map(|(across, down)| {
                let across: f64 = across * wide;
                (
                    x + across * turned.cos() - down * turned.sin(),
                    y + across * turned.sin() + down * turned.cos(),
                )
            })
        };
        for mark in Mark::ALL {
            for (x, y) in corners(mark) {
                assert!((0.0..=WIDTH).contains(&x), "{mark:?}: {x}");
                assert!((0.0..=HEIGHT).contains(&y), "{mark:?}: {y}");
                let from_centre = (x - CENTRE.0).hypot(y - CENTRE.1);
                assert!((BEAD..SHOULDER).contains(&from_centre), "{mark:?}");
            }
        }
        // "▸ max load, pressure" stuck out of its frame.
        for (mark, read) in
            Mark::ALL
                .into_iter()
                .zip(["31x10.50R15LT", "123/120Q", "XL", "1550 kg, 65 psi"])
        {
            for text in [words::mark_place(mark), &words::mark_read(mark, read)] {
                let wide = 7.8 * (2 + text.chars().count()) as f64;
                assert!(wide <= place(mark).2, "{text}");
            }
        }
        for [left, right] in [[Mark::Size, Mark::Service], [Mark::Range, Mark::Rating]] {
            let end = corners(left)
                .map(|(x, _)| x)
                .into_iter()
                .fold(0.0, f64::max);
            let start = corners(right)
                .map(|(x, _)| x)
                .into_iter()
                .fold(WIDTH, f64::min);
            assert!(end <= start, "{left:?} to {end}, {right:?} from {start}");
        }
    }
}
