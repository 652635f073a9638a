//! The tyre's designation, as moulded on the sidewall, to what it means.
//!
//! Sources: UN R30 and R54 (markings), ISO 4000-1, and the trade forms for
//! light-truck, flotation and special-trailer tyres.

use super::marks::{LoadIndex, LoadRange, SpeedSymbol};
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{GaugePressure, Mass, kilogram, kilopascal};
use uom::si::f64::Length;
use uom::si::length::{inch, meter, millimeter};

/// The family whose tables a tyre's load and pressure follow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standard {
    /// `LT…` or `…LT`, and flotation sizes.
    LightTruck,
    /// `ST…` or `…ST`.
    SpecialTrailer,
    /// `…C`, and sizes that carry a commercial tyre's marks without saying
    /// which family they are of.
    Commercial,
    /// `…CP`: a commercial tyre for campers, which stand loaded.
    Camper,
    /// `P…` or no mark.
    Passenger,
}

/// How the size is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Size {
    /// `265/75R16`: section width in millimetres, aspect ratio in percent.
    Metric {
        /// Section width, mm.
        width: f64,
        /// Section height over section width, %.
        aspect: f64,
    },
    /// `195R14`: section width in millimetres, full profile.
    FullProfile {
        /// Section width, mm.
        width: f64,
    },
    /// `31x10.50R15`: overall diameter and section width in inches.
    Flotation {
        /// Overall diameter, in.
        diameter: f64,
        /// Section width, in.
        width: f64,
    },
    /// `7.50R16`: section width in inches.
    Numeric {
        /// Section width, in.
        width: f64,
    },
}

/// How the plies lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Construction {
    /// `R` or `ZR`.
    Radial,
    /// `D`, `-` or `B`.
    Diagonal,
}

/// Load indices and speed symbol.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ServiceDescription {
    /// Load index with one tyre at each end of the axle.
    pub single: LoadIndex,
    /// Load index with two.
    pub dual: Option<LoadIndex>,
    /// Speed symbol.
    pub speed: Option<SpeedSymbol>,
}

/// A tyre designation that was understood whole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Designation {
    /// The family of tables.
    pub standard: Standard,
    /// Whether the sidewall names that family; else it was told by other marks.
    pub marked: bool,
    /// The size as written.
    pub size: Size,
    /// Radial or diagonal.
    pub construction: Construction,
    /// Nominal rim diameter, in.
    pub rim: f64,
    /// Load indices and speed symbol, where given.
    pub service: Option<ServiceDescription>,
    /// Load range, from its letter or a ply rating.
    pub load_range: Option<LoadRange>,
    /// `XL`, extra load or reinforced.
    pub reinforced: bool,
}

/// A part of the designation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// `265` in `265/75R16`, `31` in `31x10.50R15`.
    FirstNumber,
    /// `75` in `265/75R16`.
    AspectRatio,
    /// `10.50` in `31x10.50R15`.
    SectionWidth,
    /// `R` in `265/75R16`.
    Construction,
    /// `16` in `265/75R16`.
    Rim,
    /// `LT`, `ST`, `P`, `C`, `CP`.
    Standard,
    /// `123/120`.
    LoadIndex,
    /// `Q`.
    SpeedSymbol,
    /// `E`, `LR E`, `10PR`.
    LoadRange,
    /// What stands behind everything that was understood.
    Rest,
}

/// Why a designation was not understood.
#[derive(Debug, Clone, PartialEq)]
pub enum DesignationError {
    /// Nothing was typed.
    Empty,
    /// Longer than any sidewall's designation.
    TooLong {
        /// Most characters read.
        allowed: usize,
    },
    /// A part is missing or reads as something else.
    NotUnderstood {
        /// The part expected.
        part: Part,
        /// What stands there; empty at the end of the text.
        found: String,
    },
    /// A part is given twice, or two parts contradict each other.
    Conflict {
        /// The part.
        part: Part,
    },
    /// A lone letter behind a load index is both a speed symbol and a load
    /// range; which is meant decides the pressure.
    AmbiguousLetter {
        /// The letter.
        letter: char,
    },
    /// A tyre for temporary use, `T…`.
    Temporary,
    /// A number is not one a tyre has.
    OutOfRange(OutOfRange),
}

/// A designation, and what of its text was passed over.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// What was understood.
    pub designation: Designation,
    /// Marks that are not known, as typed but in capitals.
    pub passed_over: Vec<String>,
}

crate::calc::error_by_its_fields!(DesignationError);

impl From<OutOfRange> for DesignationError {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

/// Section height over section width of a full-profile metric tyre and of a
/// numeric one; both from memory, and used for dimensions only.
const FULL_PROFILE_ASPECT: f64 = 80.0;
const NUMERIC_ASPECT: f64 = 104.0;

/// A tyre with a single load index of this or more is no passenger tyre: UN
/// R54 splits its own tables at 122 (`..121`, `122..`), and the passenger
/// sizes end below it (from memory). Without a `P` the last few are doubted.
const COMMERCIAL_FROM: u8 = 122;
const DOUBTFUL_FROM: u8 = 120;

/// An unmarked size rated for more than this at 250 kPa (see
/// [`Designation::loading`]) has lost its `LT` or `C`: passenger tyres come to
/// 0.24 at most, the others to 0.24 to 0.31 (sizes from memory).
const PASSENGER_LOADING: f64 = 0.25;

/// The index of a pair stands at most this far below the single one: 3 or 4
/// on most sizes, 6 on the widest (from memory). Further apart, a digit is
/// misread.
const DUAL_WITHIN: u8 = 7;

/// From here up a first number is a section width in hundredths of an inch:
/// no section is half a metre wide.
const HUNDREDTHS_FROM: f64 = 500.0;
const HUNDREDTHS_TO: f64 = 1900.0;

/// From here up the numbers of a size have run together: `26575R16`.
const RUN_TOGETHER_FROM: f64 = 10_000.0;

/// Full-profile metric sizes end here (from memory).
const FULL_PROFILE_UP_TO: f64 = 225.0;

impl Designation {
    /// Most characters read.
    pub const LONGEST: usize = 60;

    /// Reads a designation in any case and spacing.
    ///
    /// # Errors
    /// As [`Self::read`].
    ///
    /// ```
    /// use tyreside::calc::tyre::designation::{Designation, Standard};
    /// let tyre = Designation::parse("lt265/75 r16 123/120q E").unwrap();
    /// assert_eq!(tyre.standard, Standard::LightTruck);
    /// assert!(Designation::parse("LT265/75").is_err());
    /// ```
    pub fn parse(text: &str) -> Result<Self, DesignationError> {
        Self::read(text).map(|reading| reading.designation)
    }

    /// Reads a designation, and says which marks it passed over: unknown ones
    /// are, where size and load index are clear without them.
    ///
    /// # Errors
    /// [`DesignationError`] names the part that was not understood. A size
    /// that could be of two families is put into the one that asks for more
    /// pressure.
    pub fn read(text: &str) -> Result<Reading, DesignationError> {
        if text.trim().is_empty() {
            return Err(DesignationError::Empty);
        }
        if text.chars().count() > Self::LONGEST {
            return Err(DesignationError::TooLong {
                allowed: Self::LONGEST,
            });
        }
        let text = plain(text);
        let mut at = Cursor(text.trim());

        if at.0.starts_with('T')
            && at.0[1..]
                .trim_start()
                .starts_with(|c: char| c.is_ascii_digit())
            || text.contains("TEMPORARY")
        {
            return Err(DesignationError::Temporary);
        }
        let prefix = at.one_of(&[("LT", Mark::Lt), ("ST", Mark::St), ("P", Mark::P)]);
        let (size, construction) = Self::parse_size(&mut at)?;
        let rim = at.number(Part::Rim)?;
        Field::RimDiameter.check(rim)?;
        if matches!(size, Size::Flotation { diameter, .. } if diameter <= rim) {
            return Err(DesignationError::Conflict { part: Part::Rim });
        }

        let mut marks = Marks {
            family: prefix,
            ..Marks::default()
        };
        marks.behind_rim(&mut at)?;
        while !at.is_empty() {
            marks.next(&mut at)?;
        }
        // Without a load index an unknown mark may be what was meant for one.
        if let (Some(found), None) = (marks.passed_over.first(), marks.service) {
            return Err(DesignationError::NotUnderstood {
                part: Part::Rest,
                found: found.clone(),
            });
        }

        let standard = match marks.family {
            Some(Mark::Lt) => Standard::LightTruck,
            Some(Mark::St) => Standard::SpecialTrailer,
            Some(Mark::C) => Standard::Commercial,
            Some(Mark::Cp) => Standard::Camper,
            Some(Mark::P) => Standard::Passenger,
            None => match size {
                Size::Flotation { .. } => Standard::LightTruck,
                Size::Numeric { .. } => Standard::Commercial,
                Size::Metric { .. } | Size::FullProfile { .. } => {
                    if marks.commercial() {
                        Standard::Commercial
                    } else {
                        Standard::Passenger
                    }
                }
            },
        };
        // A passenger tyre has one load index below the commercial ones, no
        // load range, and a metric size: with more, one mark is misread.
        if marks.family == Some(Mark::P)
            && (marks.commercial() || !matches!(size, Size::Metric { .. }))
        {
            return Err(DesignationError::Conflict {
                part: Part::Standard,
            });
        }
        // Extra load is a passenger mark; on another family it names no
        // pressure that could be looked up.
        if marks.reinforced && standard != Standard::Passenger {
            return Err(DesignationError::Conflict {
                part: Part::Standard,
            });
        }
        let mut tyre = Self {
            standard,
            marked: marks.family.is_some(),
            size,
            construction,
            rim,
            service: marks.service,
            load_range: marks.load_range,
            reinforced: marks.reinforced,
        };
        if let (None, Standard::Passenger, Some(service)) = (marks.family, standard, tyre.service) {
            let at = GaugePressure::new::<kilopascal>(250.0);
            if service.single.number() >= DOUBTFUL_FROM
                || tyre.loading(service.single.load(), at, 1.0) > PASSENGER_LOADING
            {
                tyre.standard = Standard::Commercial;
            }
        }
        Ok(Reading {
            designation: tyre,
            passed_over: marks.passed_over,
        })
    }

    /// How hard a tyre of this size works at `load` and `pressure`: the load
    /// in kilonewtons over `P^n` (kPa), section width and overall diameter (m).
    ///
    /// The ratings of one family lie close together by this measure, so that a
    /// misread mark stands out.
    pub fn loading(&self, load: Mass, pressure: GaugePressure, exponent: f64) -> f64 {
        const STANDARD_GRAVITY: f64 = 9.806_65;
        let area = self.section_width().get::<meter>() * self.overall_diameter().get::<meter>();
        load.get::<kilogram>() * STANDARD_GRAVITY
            / 1000.0
            / (pressure.get::<kilopascal>().powf(exponent) * area)
    }

    fn parse_size(at: &mut Cursor) -> Result<(Size, Construction), DesignationError> {
        let whole = Cursor(at.0);
        let first = at.number(Part::FirstNumber)?;
        if first >= RUN_TOGETHER_FROM {
            return Err(whole.not_understood(Part::FirstNumber));
        }
        // `265-75-16`: the last dash is no diagonal's.
        let dashed = at.is_dashed_aspect();
        // Section widths in inches end where those in millimetres begin, and
        // overall diameters in inches begin where section widths end.
        let in_inches = first < 100.0;
        let overall = in_inches && first > Field::SectionWidthInches.limit().max;
        let size = if overall && at.one_of(&[("X", ()), ("-", ()), ("/", ())]).is_some() {
            let width = at.number(Part::SectionWidth)?;
            Size::Flotation {
                diameter: Field::OverallDiameter.check(first)?,
                width: Field::SectionWidthInches.check(width)?,
            }
        } else if (HUNDREDTHS_FROM..HUNDREDTHS_TO).contains(&first) {
            // `750R16` for `7.50R16`.
            Size::Numeric {
                width: Field::SectionWidthInches.check(first / 100.0)?,
            }
        } else if first <= FULL_PROFILE_UP_TO && at.takes_before("/", 'R') {
            // `195/R14C`.
            Size::FullProfile {
                width: Field::SectionWidth.check(first)?,
            }
        } else if at.take("/") || (!in_inches && dashed && at.take("-")) {
            let aspect = at.number(Part::AspectRatio)?;
            Size::Metric {
                width: Field::SectionWidth.check(first)?,
                aspect: Field::AspectRatio.check(aspect)?,
            }
        } else if at.take("X") {
            let width = at.number(Part::SectionWidth)?;
            Size::Flotation {
                diameter: Field::OverallDiameter.check(first)?,
                width: Field::SectionWidthInches.check(width)?,
            }
        } else if in_inches {
            Size::Numeric {
                width: Field::SectionWidthInches.check(first)?,
            }
        } else {
            Size::FullProfile {
                width: Field::SectionWidth.check(first)?,
            }
        };
        let construction = at
            .one_of(&[
                ("ZRF", Construction::Radial),
                ("ZR", Construction::Radial),
                ("RF", Construction::Radial),
                ("R", Construction::Radial),
                ("D", Construction::Diagonal),
                ("B", Construction::Diagonal),
                ("-", Construction::Diagonal),
            ])
            .filter(|construction| {
                !(dashed
                    && *construction == Construction::Diagonal
                    && matches!(size, Size::Metric { .. }))
            })
            .ok_or_else(|| at.not_understood(Part::Construction))?;
        Ok((size, construction))
    }

    /// Nominal section width.
    pub fn section_width(&self) -> Length {
        match self.size {
            Size::Metric { width, .. } | Size::FullProfile { width } => {
                Length::new::<millimeter>(width)
            }
            Size::Flotation { width, .. } | Size::Numeric { width } => Length::new::<inch>(width),
        }
    }

    /// Section height over section width, %.
    pub fn aspect_ratio(&self) -> f64 {
        match self.size {
            Size::Metric { aspect, .. } => aspect,
            Size::FullProfile { .. } => FULL_PROFILE_ASPECT,
            Size::Numeric { .. } => NUMERIC_ASPECT,
            Size::Flotation { diameter, width } => (diameter - self.rim) / 2.0 / width * 100.0,
        }
    }

    /// Nominal rim diameter.
    pub fn rim_diameter(&self) -> Length {
        Length::new::<inch>(self.rim)
    }

    /// Nominal overall diameter: moulded on a flotation tyre, else rim and
    /// two section heights.
    pub fn overall_diameter(&self) -> Length {
        match self.size {
            Size::Flotation { diameter, .. } => Length::new::<inch>(diameter),
            _ => self.rim_diameter() + self.section_width() * (2.0 * self.aspect_ratio() / 100.0),
        }
    }
}

/// A mark of the family, before the size or behind it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    Lt,
    St,
    P,
    C,
    Cp,
}

/// What stands around the size, read in any order.
#[derive(Default)]
struct Marks {
    family: Option<Mark>,
    service: Option<ServiceDescription>,
    load_range: Option<LoadRange>,
    reinforced: bool,
    /// Within brackets, where a second service description stands.
    bracketed: bool,
    passed_over: Vec<String>,
}

impl Marks {
    /// Whether the load marks are those of a commercial tyre.
    fn commercial(&self) -> bool {
        self.load_range.is_some()
            || self
                .service
                .is_some_and(|s| s.dual.is_some() || s.single.number() >= COMMERCIAL_FROM)
    }

    /// The family mark straight behind the rim. `C` there is the commercial
    /// mark on a bare size and load range C on a marked one.
    fn behind_rim(&mut self, at: &mut Cursor) -> Result<(), DesignationError> {
        let word = at.word();
        let mark = match word {
            "LT" => Mark::Lt,
            "ST" => Mark::St,
            "C" if self.family.is_none() => Mark::C,
            "CP" if self.family.is_none() => Mark::Cp,
            _ => return Ok(()),
        };
        at.take(word);
        self.set_family(mark)
    }

    fn set_family(&mut self, mark: Mark) -> Result<(), DesignationError> {
        if self.family.is_some_and(|family| family != mark) {
            return Err(DesignationError::Conflict {
                part: Part::Standard,
            });
        }
        self.family = Some(mark);
        Ok(())
    }

    /// One more mark.
    fn next(&mut self, at: &mut Cursor) -> Result<(), DesignationError> {
        if at.take("(") {
            self.bracketed = true;
            return Ok(());
        }
        if at.take(")") {
            self.bracketed = false;
            return Ok(());
        }
        // Between marks: `LT245/75R17/E`.
        if at.take("/") || at.phrase(SAYS_NOTHING_ABOUT_LOAD) {
            return Ok(());
        }
        if at.phrase(&["DOT"]) {
            // The maker's codes and the week it was made.
            at.0 = "";
            return Ok(());
        }
        if at.phrase(REINFORCED) {
            self.reinforced = true;
            return Ok(());
        }
        for (text, mark) in [("LT", Mark::Lt), ("ST", Mark::St), ("CP", Mark::Cp)] {
            if at.phrase(&[text]) {
                return self.set_family(mark);
            }
        }
        if at.one_of(LOAD_RANGE).is_some() {
            at.take("-");
            let range = at
                .letter()
                .and_then(LoadRange::from_letter)
                .ok_or_else(|| at.not_understood(Part::LoadRange))?;
            return self.set_load_range(range);
        }
        if at.starts_with_digit() {
            let number = at.integer(Part::LoadIndex)?;
            if at.one_of(PLIES).is_some() {
                let range = LoadRange::from_ply_rating(number)?;
                // There is no odd one: a digit is misread, and which range it
                // was decides the pressure.
                if number % 2 == 1 {
                    let found = format!("{number}PR");
                    return Err(DesignationError::NotUnderstood {
                        part: Part::LoadRange,
                        found,
                    });
                }
                return self.set_load_range(range);
            }
            return self.set_service(number, at);
        }
        let word = at.word();
        if let Some(range) = single_letter(word).and_then(LoadRange::from_letter) {
            if let Some(service) = self.service
                && service.speed.is_none()
            {
                return Err(DesignationError::AmbiguousLetter {
                    letter: range.letter(),
                });
            }
            at.take(word);
            return self.set_load_range(range);
        }
        self.passed_over.push(at.chunk().to_owned());
        Ok(())
    }

    fn set_load_range(&mut self, range: LoadRange) -> Result<(), DesignationError> {
        if self.load_range.is_some_and(|given| given != range) {
            return Err(DesignationError::Conflict {
                part: Part::LoadRange,
            });
        }
        self.load_range = Some(range);
        Ok(())
    }

    fn set_service(&mut self, single: u32, at: &mut Cursor) -> Result<(), DesignationError> {
        let single = LoadIndex::new(single)?;
        let dual = if at.take("/") {
            Some(LoadIndex::new(at.integer(Part::LoadIndex)?)?)
        } else {
            None
        };
        let pair_misread =
            dual.is_some_and(|dual| dual > single || single.number() - dual.number() > DUAL_WITHIN);
        let second = self.bracketed && self.service.is_some();
        if pair_misread || (self.service.is_some() && !second) {
            return Err(DesignationError::Conflict {
                part: Part::LoadIndex,
            });
        }
        let word = if at.has_gap() && single_letter(at.word()).is_some_and(is_load_range) {
            // `123/120 E`: left for the next mark, which asks.
            ""
        } else {
            at.word()
        };
        // `94VXL`.
        let word = word.strip_suffix("XL").unwrap_or(word);
        let speed = SpeedSymbol::parse(word);
        if speed.is_some() {
            at.take(word);
        } else if !at.has_gap() && !at.is_empty() {
            return Err(at.not_understood(Part::SpeedSymbol));
        }
        let described = ServiceDescription {
            single,
            dual,
            speed,
        };
        // A second description, in brackets, is for another speed.
        self.service.get_or_insert(described);
        Ok(())
    }
}

/// Extra load in its spellings.
const REINFORCED: &[&str] = &[
    "EXTRA LOAD",
    "EXTRA-LOAD",
    "EXTRALOAD",
    "XL",
    "REINFORCED",
    "REINF",
    "RF",
];

/// Marks of winter, run-flat, tube, pattern, lettering and use, which change no
/// load and no pressure.
const SAYS_NOTHING_ABOUT_LOAD: &[&str] = &[
    "M+S",
    "M&S",
    "M/S",
    "M-S",
    "M S",
    "MS",
    "3PMSF",
    "RUN FLAT",
    "RUN-FLAT",
    "RUNFLAT",
    "RFT",
    "TUBELESS",
    "TUBE TYPE",
    "TL",
    "TT",
    "STEEL BELTED",
    "STEEL",
    "RADIAL",
    "A/T",
    "M/T",
    "H/T",
    "AT",
    "MT",
    "HT",
    "OWL",
    "RWL",
    "BSW",
    "WSW",
    "SL",
    "STANDARD LOAD",
    "FOR TRAILER SERVICE ONLY",
    "TRAILER SERVICE ONLY",
    "FOR TRAILER USE ONLY",
    "TRAILER USE ONLY",
    "FRT",
];

const LOAD_RANGE: &[(&str, ())] = &[("LOAD RANGE", ()), ("L/R", ()), ("LR", ())];

const PLIES: &[(&str, ())] = &[
    ("-PLY RATING", ()),
    ("-PLY", ()),
    ("PLY RATING", ()),
    ("PLY RATED", ()),
    ("PLY", ()),
    ("PR", ()),
];

/// The text in capitals, with the marks of a decimal, a cross and a star as the
/// reader expects them: a dot stands between digits only.
fn plain(text: &str) -> String {
    let mut all = String::with_capacity(text.len());
    let mut before = None;
    let mut rest = text.chars();
    while let Some(c) = rest.next() {
        let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
        let between = digit(before) && digit(rest.clone().next());
        match c {
            '×' => all.push('X'),
            '*' if between => all.push('X'),
            ',' | '.' if between => all.push('.'),
            // `P.R.`, `REINF.`
            '.' => {}
            '*' | '★' | '®' | '™' => {}
            ',' | ';' | ':' | '[' | ']' => all.push(' '),
            '–' | '‑' => all.push('-'),
            c => all.push(c.to_ascii_uppercase()),
        }
        before = Some(c);
    }
    all
}

fn is_load_range(letter: char) -> bool {
    LoadRange::from_letter(letter).is_some()
}

fn single_letter(word: &str) -> Option<char> {
    let mut chars = word.chars();
    match (chars.next(), chars.next()) {
        (Some(letter), None) => Some(letter),
        _ => None,
    }
}

/// The text not read yet. Every read skips the blanks before it.
struct Cursor<'a>(&'a str);

impl<'a> Cursor<'a> {
    fn rest(&self) -> &'a str {
        self.0.trim_start()
    }

    fn is_empty(&self) -> bool {
        self.rest().is_empty()
    }

    fn has_gap(&self) -> bool {
        self.0.starts_with(char::is_whitespace)
    }

    fn starts_with_digit(&self) -> bool {
        self.rest().starts_with(|c: char| c.is_ascii_digit())
    }

    fn not_understood(&self, part: Part) -> DesignationError {
        DesignationError::NotUnderstood {
            part,
            found: self.rest().to_owned(),
        }
    }

    fn take(&mut self, expected: &str) -> bool {
        match self.rest().strip_prefix(expected) {
            Some(rest) => {
                self.0 = rest;
                true
            }
            None => false,
        }
    }

    /// Takes one of these, where no letter or digit goes on behind it.
    fn phrase(&mut self, choices: &[&str]) -> bool {
        let rest = self.rest();
        let ends = |text: &str| !text.starts_with(|c: char| c.is_ascii_alphanumeric());
        let first = rest.as_bytes().first();
        let found = choices
            .iter()
            .filter(|text| text.as_bytes().first() == first)
            .filter_map(|text| rest.strip_prefix(text))
            .find(|rest| ends(rest));
        if let Some(rest) = found {
            self.0 = rest;
        }
        found.is_some()
    }

    /// Takes `expected` where `next` stands behind it, and leaves that.
    fn takes_before(&mut self, expected: &str, next: char) -> bool {
        let ahead = self.rest().strip_prefix(expected);
        let fits = ahead.is_some_and(|rest| rest.trim_start().starts_with(next));
        fits && self.take(expected)
    }

    /// Whether `-75` stands ahead: an aspect ratio, and no rim.
    fn is_dashed_aspect(&self) -> bool {
        let mut ahead = Cursor(self.0);
        ahead.take("-")
            && ahead
                .number(Part::AspectRatio)
                .is_ok_and(|number| Field::AspectRatio.check(number).is_ok())
    }

    /// Takes what stands up to the next blank or bracket.
    fn chunk(&mut self) -> &'a str {
        let rest = self.rest();
        let end = rest
            .find(|c: char| c.is_whitespace() || matches!(c, '(' | ')'))
            .unwrap_or(rest.len());
        self.0 = &rest[end..];
        &rest[..end]
    }

    fn one_of<T: Copy>(&mut self, choices: &[(&str, T)]) -> Option<T> {
        choices
            .iter()
            .find(|(text, _)| self.take(text))
            .map(|(_, value)| *value)
    }

    /// The run of letters and digits ahead, without taking it.
    fn word(&self) -> &'a str {
        let rest = self.rest();
        let end = rest
            .find(|c: char| !c.is_ascii_alphanumeric())
            .unwrap_or(rest.len());
        &rest[..end]
    }

    fn letter(&mut self) -> Option<char> {
        let word = self.word();
        let letter = single_letter(word)?;
        self.take(word);
        Some(letter)
    }

    fn digits(
        &mut self,
        part: Part,
        more: impl Fn(char) -> bool,
    ) -> Result<&'a str, DesignationError> {
        let rest = self.rest();
        let end = rest.find(|c| !more(c)).unwrap_or(rest.len());
        if end == 0 {
            return Err(self.not_understood(part));
        }
        self.0 = &rest[end..];
        Ok(&rest[..end])
    }

    fn number(&mut self, part: Part) -> Result<f64, DesignationError> {
        let before = Cursor(self.0);
        let digits = self.digits(part, |c| c.is_ascii_digit() || c == '.')?;
        crate::decimal::parse(digits).ok_or_else(|| before.not_understood(part))
    }

    fn integer(&mut self, part: Part) -> Result<u32, DesignationError> {
        let before = Cursor(self.0);
        let digits = self.digits(part, |c| c.is_ascii_digit())?;
        digits.parse().map_err(|_| before.not_understood(part))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Designation {
        Designation::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"))
    }

    fn service(tyre: &Designation) -> (u8, Option<u8>, Option<&'static str>) {
        let s = tyre.service.expect("a service description");
        (
            s.single.number(),
            s.dual.map(LoadIndex::number),
            s.speed.map(SpeedSymbol::symbol),
        )
    }

    #[test]
    fn reads_every_form_in_use() {
        let t = read("265/75R16 123/120Q");
        assert_eq!(t.standard, Standard::Commercial);
        assert_eq!(service(&t), (123, Some(120), Some("Q")));

        let t = read("LT265/75R16 E");
        assert_eq!(
            (t.standard, t.load_range),
            (Standard::LightTruck, Some(LoadRange::E))
        );
        assert_eq!(t.service, None);

        let t = read("P265/70R17 115T");
        assert_eq!(t.standard, Standard::Passenger);
        assert_eq!(service(&t), (115, None, Some("T")));

        let t = read("225/75R16C 118/116R");
        assert_eq!(t.standard, Standard::Commercial);
        assert_eq!(service(&t), (118, Some(116), Some("R")));

        let t = read("195R14C 106/104P");
        assert_eq!(
            (t.standard, t.size),
            (Standard::Commercial, Size::FullProfile { width: 195.0 })
        );

        let t = read("7.50R16LT");
        assert_eq!(
            (t.standard, t.size),
            (Standard::LightTruck, Size::Numeric { width: 7.5 })
        );

        let t = read("31x10.50R15LT 109Q");
        assert_eq!(
            t.size,
            Size::Flotation {
                diameter: 31.0,
                width: 10.5
            }
        );
        assert_eq!(service(&t), (109, None, Some("Q")));

        let t = read("ST225/75R15 D");
        assert_eq!(
            (t.standard, t.load_range),
            (Standard::SpecialTrailer, Some(LoadRange::D))
        );

        let t = read("265/65R17 116H XL");
        assert_eq!((t.standard, t.reinforced), (Standard::Passenger, true));
        assert!(read("205/55R16 94V reinforced").reinforced);
        assert!(read("205/55R16 Extra Load 94V").reinforced);
    }

    #[test]
    fn case_and_spacing_do_not_matter() {
        let plain = read("LT265/75R16 123/120Q E");
        for text in [
            "lt265/75r16 123/120q e",
            " LT 265 / 75 R 16 123 / 120 Q LR E ",
            "LT265/75R16 E 123/120Q",
            "LT265/75R16 (123/120Q) 10PR",
            "265/75R16LT 123/120Q load range e",
            "LT265/75R16 123/120Q E M+S",
        ] {
            assert_eq!(read(text), plain, "{text}");
        }
        assert_eq!(read("31×10,50R15LT 109Q C"), read("31X10.50R15LT 109Q C"));
        assert_eq!(read("195R14 C 106/104P"), read("195R14C 106/104P"));
    }

    #[test]
    fn c_is_a_load_range_on_a_marked_size() {
        assert_eq!(read("LT265/75R16 C").load_range, Some(LoadRange::C));
        assert_eq!(read("LT265/75R16C").standard, Standard::LightTruck);
        assert_eq!(read("265/75R16 C").standard, Standard::Commercial);
    }

    /// Read as a passenger tyre, an unmarked 123/120 would carry 1,550 kg at
    /// 250 kPa: less than half of what it needs.
    #[test]
    fn commercial_marks_keep_a_bare_size_out_of_the_passenger_tables() {
        for text in [
            "265/75R16 123/120Q",
            "265/75R16 E",
            "265/75R16 10PR",
            "285/70R17 123Q",
            "7.50R16",
        ] {
            assert_eq!(read(text).standard, Standard::Commercial, "{text}");
        }
        assert_eq!(read("265/70R16 112S").standard, Standard::Passenger);
        // Nothing but the load gives these away: at 250 kPa they would be
        // asked for half of what their own tables ask.
        for text in ["285/70R17 121S", "225/75R16 118R"] {
            assert_eq!(read(text).standard, Standard::Commercial, "{text}");
        }
        for text in ["265/65R17 116H", "205/55R16 94V", "235/75R15 109T"] {
            assert_eq!(read(text).standard, Standard::Passenger, "{text}");
        }
    }

    #[test]
    fn says_which_part_was_not_understood() {
        use DesignationError::NotUnderstood;
        let part = |text: &str| match Designation::parse(text) {
            Err(NotUnderstood { part, .. }) => part,
            other => panic!("{text}: {other:?}"),
        };
        assert_eq!(part("tyre"), Part::FirstNumber);
        assert_eq!(part("265/R16"), Part::AspectRatio);
        assert_eq!(part("31xR15"), Part::SectionWidth);
        assert_eq!(part("265/75 16"), Part::Construction);
        assert_eq!(part("265/75R"), Part::Rim);
        assert_eq!(part("265/75R16 123/"), Part::LoadIndex);
        assert_eq!(part("265/75R16 115O"), Part::SpeedSymbol);
        assert_eq!(part("LT265/75R16 LR Q"), Part::LoadRange);
        assert_eq!(part("LT265/75R16 9PR"), Part::LoadRange);
        assert_eq!(part("LT265/75R16 E whatever"), Part::Rest);
        assert_eq!(part("265-75-16"), Part::Construction);
        assert_eq!(part("265/75/16"), Part::Construction);
        assert_eq!(Designation::parse("  "), Err(DesignationError::Empty));
        assert_eq!(
            Designation::parse(&"2".repeat(61)),
            Err(DesignationError::TooLong { allowed: 60 })
        );
    }

    /// As a passenger tyre this would carry 1,409 kg at 250 kPa on a 4WD; the
    /// tyre that has these indices needs 550.
    #[test]
    fn a_passenger_mark_does_not_go_with_commercial_ones() {
        for text in [
            "P265/75R16 123/120Q",
            "P265/75R16 123Q",
            "P265/75R16 E",
            "P225/75R16C 118/116R",
            "P265/75R16 10PR",
            "P7.50R16 108N",
            "P31x10.50R15 109Q",
        ] {
            assert_eq!(
                Designation::parse(text),
                Err(DesignationError::Conflict {
                    part: Part::Standard
                }),
                "{text}"
            );
        }
        assert_eq!(read("P265/70R17 121S").standard, Standard::Passenger);
    }

    /// 132 for 123: 2,000 kg for 1,550, and a quarter too little pressure.
    #[test]
    fn swapped_digits_of_a_load_index_are_noticed_beside_the_pair() {
        for text in ["265/75R16 132/120Q", "LT265/75R16 123/102Q E"] {
            assert_eq!(
                Designation::parse(text),
                Err(DesignationError::Conflict {
                    part: Part::LoadIndex
                }),
                "{text}"
            );
        }
        for text in ["315/80R22.5 156/150L", "LT265/75R16 123/120Q E"] {
            assert!(Designation::parse(text).is_ok(), "{text}");
        }
    }

    #[test]
    fn refuses_what_contradicts_itself() {
        for text in [
            "LT265/75R16ST",
            "LT265/75R16 E 8PR",
            "LT265/75R16 123/120Q 121Q",
            "LT265/75R16 120/123Q",
            "LT265/75R16 E XL",
            "20x10.50R22LT",
        ] {
            assert!(
                matches!(
                    Designation::parse(text),
                    Err(DesignationError::Conflict { .. })
                ),
                "{text}: {:?}",
                Designation::parse(text)
            );
        }
        assert_eq!(
            Designation::parse("LT265/75R16 123/120 E"),
            Err(DesignationError::AmbiguousLetter { letter: 'E' })
        );
        for text in [
            "265/5R16",
            "2650/75R16",
            "265/75R160",
            "265/75R16 201Q",
            "90x10R15",
        ] {
            assert!(
                matches!(
                    Designation::parse(text),
                    Err(DesignationError::OutOfRange(_))
                ),
                "{text}: {:?}",
                Designation::parse(text)
            );
        }
    }

    /// Source: a light-truck tyre maker's size sheet (reference 5.1): overall
    /// diameters 31.7 in and 30.5 in for these sizes, as inflated.
    #[test]
    fn dimensions_agree_with_a_size_sheet() {
        for (text, published) in [
            ("LT265/75R16", 31.7),
            ("LT235/85R16", 31.7),
            ("LT245/75R16", 30.5),
            ("LT285/75R16", 32.8),
        ] {
            let inches = read(text).overall_diameter().get::<inch>();
            println!("{text}: nominal {inches:.2} in, sheet {published} in");
            assert!((inches - published).abs() < 0.15, "{text} {inches}");
        }
        let flotation = read("31x10.50R15LT");
        assert!((flotation.overall_diameter().get::<inch>() - 31.0).abs() < 1e-9);
        assert!((flotation.aspect_ratio() - 76.19).abs() < 0.01);
    }
}
