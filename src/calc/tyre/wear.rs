//! A tyre's age by its date code, and the depth of its tread.

use crate::calc::limits::{Field, OutOfRange};
use std::fmt;
use std::ops::RangeInclusive;
use uom::si::f64::Length;
use uom::si::length::millimeter;

/// The date code behind a tyre's identification number: the week and the year
/// it was made. Of four digits since 2000, of three before (49 CFR 574.5 as
/// amended by 64 FR 36807, 8 July 1999).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DateCode {
    week: u8,
    year: u16,
}

/// Why a text is no date code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateCodeError {
    /// Nothing was given.
    Empty,
    /// Three digits: made before 2000, and long past its time.
    ThreeDigits,
    /// Not four digits.
    NotFourDigits,
    /// No year has such a week.
    NoSuchWeek {
        /// The week given; 1 to 53 are allowed.
        week: u8,
    },
}

impl fmt::Display for DateCodeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("date code: empty"),
            Self::ThreeDigits => f.write_str("date code: three digits, from before 2000"),
            Self::NotFourDigits => f.write_str("date code: four digits are allowed"),
            Self::NoSuchWeek { week } => {
                write!(f, "date code: week {week} given, 1 to 53 are allowed")
            }
        }
    }
}

impl std::error::Error for DateCodeError {}

impl DateCode {
    /// Reads the four digits; blanks around them are passed over.
    ///
    /// # Errors
    /// [`DateCodeError`].
    ///
    /// ```
    /// use tyreside::calc::tyre::wear::{DateCode, DateCodeError};
    /// let code = DateCode::read("2319")?;
    /// assert_eq!((code.week(), code.year()), (23, 2019));
    /// assert_eq!(DateCode::read("5419"), Err(DateCodeError::NoSuchWeek { week: 54 }));
    /// assert_eq!(DateCode::read("239"), Err(DateCodeError::ThreeDigits));
    /// # Ok::<(), DateCodeError>(())
    /// ```
    pub fn read(text: &str) -> Result<Self, DateCodeError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(DateCodeError::Empty);
        }
        if !text.bytes().all(|byte| byte.is_ascii_digit()) {
            return Err(DateCodeError::NotFourDigits);
        }
        let number = |text: &str| text.parse::<u8>().unwrap_or_default();
        match text.len() {
            3 => Err(DateCodeError::ThreeDigits),
            4 => {
                let (week, year) = text.split_at(2);
                let week = number(week);
                if !(1..=53).contains(&week) {
                    return Err(DateCodeError::NoSuchWeek { week });
                }
                Ok(Self {
                    week,
                    year: 2000 + u16::from(number(year)),
                })
            }
            _ => Err(DateCodeError::NotFourDigits),
        }
    }

    /// The week of the year, 1 to 53.
    pub fn week(self) -> u8 {
        self.week
    }

    /// The year, 2000 to 2099.
    pub fn year(self) -> u16 {
        self.year
    }
}

/// Years of age between which a tyre is looked at by a fitter every year, and
/// after which it is replaced whatever its tread: a vehicle maker's published
/// service information; others replace at six years, and no legal age was
/// found. The tyre's and the vehicle's maker come first.
pub const INSPECT_YEARS: RangeInclusive<f64> = 5.0..=10.0;

/// What a tyre's age asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Age {
    /// Nothing yet.
    Young,
    /// A fitter's look, every year.
    InspectYearly,
    /// Another tyre.
    Replace,
}

impl Age {
    /// Of `years` since it was made; what is not a number counts as old.
    ///
    /// ```
    /// use tyreside::calc::tyre::wear::Age;
    /// assert_eq!(Age::after(4.9), Age::Young);
    /// assert_eq!(Age::after(5.0), Age::InspectYearly);
    /// assert_eq!(Age::after(10.1), Age::Replace);
    /// assert_eq!(Age::after(f64::NAN), Age::Replace);
    /// ```
    pub fn after(years: f64) -> Self {
        if years < *INSPECT_YEARS.start() {
            Self::Young
        } else if INSPECT_YEARS.contains(&years) {
            Self::InspectYearly
        } else {
            Self::Replace
        }
    }
}

/// Legal minimum in all principal grooves, trailers too, in millimetres: WA
/// Road Traffic (Vehicles) Regulations 2014, regulation 270.
pub const LEGAL_AUSTRALIA_MM: f64 = 1.5;

/// Legal minimum over the central three quarters up to 3.5 t, in millimetres:
/// UK police guidance (askthe.police.uk). Taken for all, since it is the
/// greater.
pub const LEGAL_UK_MM: f64 = 1.6;

/// Where wet grip has gone well before the law's minimum, in millimetres:
/// common practice, no source.
pub const NEARLY_WORN_MM: f64 = 3.0;

/// What the depth of the tread asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tread {
    /// Nothing yet.
    Deep,
    /// Another tyre soon.
    NearlyWorn,
    /// Another tyre before driving on.
    WornOut,
}

impl Tread {
    /// Of the shallowest main groove.
    ///
    /// # Errors
    /// [`OutOfRange`] as by [`Field::TreadDepth`].
    ///
    /// ```
    /// use tyreside::calc::tyre::wear::Tread;
    /// use uom::si::{f64::Length, length::millimeter};
    /// let of = |mm| Tread::of(Length::new::<millimeter>(mm));
    /// assert_eq!(of(8.0), Ok(Tread::Deep));
    /// assert_eq!(of(3.0), Ok(Tread::NearlyWorn));
    /// assert_eq!(of(1.6), Ok(Tread::WornOut));
    /// assert!(of(-1.0).is_err());
    /// ```
    pub fn of(depth: Length) -> Result<Self, OutOfRange> {
        let mm = Field::TreadDepth.check(depth.get::<millimeter>())?;
        // 1.6 mm comes back from metres beside itself.
        const ROUNDED: f64 = 1e-9;
        Ok(if mm <= LEGAL_UK_MM.max(LEGAL_AUSTRALIA_MM) + ROUNDED {
            Self::WornOut
        } else if mm <= NEARLY_WORN_MM + ROUNDED {
            Self::NearlyWorn
        } else {
            Self::Deep
        })
    }
}
