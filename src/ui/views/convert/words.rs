//! A sticker's figure in other units, in words.

use crate::calc::limits::Limit;
use crate::calc::stated::{Shown, StatedError, StatedPressure, StatedPressureUnit, Tolerance};
use crate::calc::torque::TorqueUnit;
use crate::calc::torque::spec::Spec;
use crate::decimal;
use crate::rig::nuts::Stated;
use crate::rig::typed::Amount;
use crate::ui::kit::format::{Entry, EntryError, torque_mark};

/// What is converted, in the unit that it is stated in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StatedIn {
    /// A torque.
    Torque(TorqueUnit),
    /// A pressure.
    Pressure(StatedPressureUnit),
}

impl StatedIn {
    /// The unit's mark.
    pub fn mark(self) -> &'static str {
        match self {
            Self::Torque(unit) => torque_mark(unit),
            Self::Pressure(unit) => match unit {
                StatedPressureUnit::PoundPerSquareInch => "psi",
                StatedPressureUnit::Kilopascal => "kPa",
                StatedPressureUnit::Bar => "bar",
                StatedPressureUnit::KilogramPerSquareCentimetre => "kgf/cm²",
            },
        }
    }

    fn decimals(self) -> u8 {
        match self {
            Self::Torque(unit) => unit.decimals(),
            Self::Pressure(unit) => unit.decimals(),
        }
    }

    /// The other units of the same quantity.
    fn others(self) -> Vec<Self> {
        let all: [Self; 4] = match self {
            Self::Torque(_) => TorqueUnit::ALL.map(Self::Torque),
            Self::Pressure(_) => StatedPressureUnit::ALL.map(Self::Pressure),
        };
        all.into_iter().filter(|unit| *unit != self).collect()
    }
}

/// What stands in the fields.
#[derive(Debug, Clone, PartialEq)]
pub struct Typed {
    /// The unit that was picked.
    pub unit: Option<StatedIn>,
    /// How the tolerance is stated.
    pub stated: Stated,
    /// The figure; the low end of a range.
    pub figure: String,
    /// The tolerance, the part below, or the high end of a range.
    pub first: String,
    /// The part above.
    pub second: String,
}

/// A field of the view.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// The figure.
    Figure,
    /// The first field of the tolerance.
    First,
    /// The second one.
    Second,
}

/// The figure in one unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The number.
    pub number: String,
    /// Its unit.
    pub unit: &'static str,
    /// What is allowed, where it is stated.
    pub allowed: Option<String>,
}

/// What comes of what was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// Something is still to be picked or typed.
    Waits(&'static str),
    /// A field can't be used, and why.
    Wrong(Part, String),
    /// The figure in the other units.
    Rows(Vec<Row>),
}

/// A figure of either quantity.
enum Figure {
    Torque(Spec),
    Pressure(StatedPressure),
}

impl Figure {
    fn shown(&self, unit: StatedIn) -> Option<Shown> {
        match (self, unit) {
            (Self::Torque(spec), StatedIn::Torque(to)) => Some(spec.shown_in(to, unit.decimals())),
            (Self::Pressure(stated), StatedIn::Pressure(to)) => {
                Some(stated.shown_in(to, unit.decimals()))
            }
            _ => None,
        }
    }
}

/// Converts what was typed.
pub fn convert(typed: &Typed) -> Outcome {
    let Some(unit) = typed.unit else {
        return Outcome::Waits("Pick the unit that the sticker states. No number counts before.");
    };
    let number = |part, text: &str| match Entry::Plain(crate::calc::limits::Unit::Number).read(text)
    {
        Ok(number) => Ok(number.map(Amount::number)),
        Err(error) => Err(Outcome::Wrong(part, entry_error(error, unit).to_owned())),
    };
    match read(typed, unit, &number) {
        Ok(figure) => Outcome::Rows(
            unit.others()
                .into_iter()
                .filter_map(|to| Some(row(to, figure.shown(to)?)))
                .collect(),
        ),
        Err(outcome) => outcome,
    }
}

type Reader<'a> = dyn Fn(Part, &str) -> Result<Option<f64>, Outcome> + 'a;

fn read(typed: &Typed, unit: StatedIn, number: &Reader) -> Result<Figure, Outcome> {
    let Some(figure) = number(Part::Figure, &typed.figure)? else {
        return Err(Outcome::Waits(match typed.stated {
            Stated::Range => "Type both ends of the range.",
            _ => "Type the number that the sticker states.",
        }));
    };
    let first = match typed.stated {
        Stated::Nothing => None,
        _ => number(Part::First, &typed.first)?,
    };
    let second = match typed.stated {
        Stated::MinusPlus => number(Part::Second, &typed.second)?,
        _ => None,
    };
    let tolerance = match (typed.stated, first, second) {
        (Stated::Nothing, ..) => Tolerance::Unstated,
        (Stated::Percent, Some(percent), _) => Tolerance::Percent(percent),
        (Stated::PlusMinus, Some(side), _) => Tolerance::PlusMinus(side),
        (Stated::MinusPlus, Some(minus), Some(plus)) => Tolerance::MinusPlus { minus, plus },
        (Stated::Range, Some(high), _) => return range(figure, high, unit),
        (Stated::Range, None, _) => return Err(Outcome::Waits("Type both ends of the range.")),
        _ => return Err(Outcome::Waits("Type the tolerance too, or pick “None”.")),
    };
    match unit {
        StatedIn::Torque(of) => Spec::new(figure, of, tolerance)
            .map(Figure::Torque)
            .map_err(|error| refused(error, unit)),
        StatedIn::Pressure(of) => StatedPressure::new(figure, of, tolerance)
            .map(Figure::Pressure)
            .map_err(|error| refused(error, unit)),
    }
}

fn range(low: f64, high: f64, unit: StatedIn) -> Result<Figure, Outcome> {
    match unit {
        StatedIn::Torque(of) => Spec::range(low, high, of)
            .map(Figure::Torque)
            .map_err(|error| refused(error, unit)),
        StatedIn::Pressure(of) => StatedPressure::range(low, high, of)
            .map(Figure::Pressure)
            .map_err(|error| refused(error, unit)),
    }
}

fn row(unit: StatedIn, shown: Shown) -> Row {
    let text = |number| decimal::fixed(number, usize::from(shown.decimals));
    Row {
        number: text(shown.nominal),
        unit: unit.mark(),
        allowed: shown
            .range
            .map(|(low, high)| format!("{} to {} {}", text(low), text(high), unit.mark())),
    }
}

fn entry_error(error: EntryError, unit: StatedIn) -> &'static str {
    match (error, unit) {
        (EntryError::TwoMarks, _) => "Use one decimal mark, comma or dot.",
        (EntryError::UnknownUnit, _) => "Only the number: its unit is picked above.",
        _ => "This is not a number.",
    }
}

fn refused(error: StatedError, unit: StatedIn) -> Outcome {
    use crate::calc::limits::Field;
    match error {
        StatedError::Crossed { .. } => Outcome::Wrong(
            Part::First,
            "The most allowed must be above the least.".to_owned(),
        ),
        StatedError::TooFine {
            field, decimals, ..
        } => Outcome::Wrong(
            if field == Field::TolerancePercent {
                Part::First
            } else {
                Part::Figure
            },
            format!("Too many decimals: at most {decimals} can be kept."),
        ),
        StatedError::OutOfRange(error) => {
            let limit = error.limit;
            match limit.field {
                Field::SpecTorque | Field::StatedPressure => {
                    let what = match (limit.field, error.given < limit.min) {
                        (Field::SpecTorque, true) => "Too low for a wheel nut.",
                        (Field::SpecTorque, false) => "Too high for a wheel nut.",
                        (_, true) => "Too low for a tyre.",
                        (_, false) => "Too high for a tyre.",
                    };
                    let from = ends(limit, unit);
                    Outcome::Wrong(
                        Part::Figure,
                        format!("{what} With its tolerance, {from}. Is the unit right?"),
                    )
                }
                Field::TolerancePercent => Outcome::Wrong(
                    Part::First,
                    "A tolerance of 0.1 to 50 % can be converted.".to_owned(),
                ),
                _ => Outcome::Wrong(
                    Part::First,
                    "This tolerance leaves no range, or one too wide. Is it in the same unit?"
                        .to_owned(),
                ),
            }
        }
    }
}

/// A limit's ends in the picked unit, rounded inward.
fn ends(limit: Limit, unit: StatedIn) -> String {
    let number = |end: f64| match unit {
        StatedIn::Torque(of) => Spec::new(end, TorqueUnit::NewtonMetre, Tolerance::Unstated)
            .map(|spec| spec.shown_in(of, 6).nominal)
            .ok(),
        StatedIn::Pressure(of) => {
            StatedPressure::new(end, StatedPressureUnit::Kilopascal, Tolerance::Unstated)
                .map(|stated| stated.shown_in(of, 6).nominal)
                .ok()
        }
    };
    let (low, high) = (
        number(limit.min).unwrap_or(0.0),
        number(limit.max).unwrap_or(0.0),
    );
    let low = (low * 10.0 - 1e-6).ceil() / 10.0;
    format!(
        "{} to {} {} can be converted",
        decimal::short(low, 1),
        decimal::fixed(high.floor(), 0),
        unit.mark()
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(unit: StatedIn, stated: Stated, texts: [&str; 3]) -> Typed {
        let [figure, first, second] = texts.map(str::to_owned);
        Typed {
            unit: Some(unit),
            stated,
            figure,
            first,
            second,
        }
    }

    fn said(typed: &Typed) -> Vec<String> {
        match convert(typed) {
            Outcome::Rows(rows) => rows
                .into_iter()
                .map(|row| match row.allowed {
                    Some(allowed) => format!("{} {}; {allowed}", row.number, row.unit),
                    None => format!("{} {}", row.number, row.unit),
                })
                .collect(),
            Outcome::Waits(what) => vec![what.to_owned()],
            Outcome::Wrong(part, why) => vec![format!("{part:?}: {why}")],
        }
    }

    const FT_LBF: StatedIn = StatedIn::Torque(TorqueUnit::FootPound);
    const PSI: StatedIn = StatedIn::Pressure(StatedPressureUnit::PoundPerSquareInch);

    /// Source: a sheet of axle makers' values (banburytrailers.co.uk) has
    /// 85 ft·lbf as 115 N·m, and 65 as 88.
    #[test]
    fn a_stickers_figure_reads_as_reviewed() {
        assert_eq!(
            said(&typed(FT_LBF, Stated::Nothing, ["85", "", ""])),
            ["115.2 N·m", "1020 lbf·in", "11.75 kgf·m"]
        );
        assert_eq!(
            said(&typed(FT_LBF, Stated::PlusMinus, ["65", "5", ""])),
            [
                "88.1 N·m; 81.4 to 94.9 N·m",
                "780 lbf·in; 720 to 840 lbf·in",
                "8.99 kgf·m; 8.30 to 9.67 kgf·m"
            ]
        );
        assert_eq!(
            said(&typed(PSI, Stated::Range, ["34", "38,5", ""])),
            [
                "250 kPa; 235 to 265 kPa",
                "2.50 bar; 2.35 to 2.65 bar",
                "2.55 kgf/cm²; 2.40 to 2.70 kgf/cm²"
            ]
        );
        let kpa = StatedIn::Pressure(StatedPressureUnit::Kilopascal);
        assert_eq!(
            said(&typed(kpa, Stated::MinusPlus, ["240", "0", "10"])),
            [
                "34.9 psi; 34.9 to 36.2 psi",
                "2.40 bar; 2.40 to 2.50 bar",
                "2.45 kgf/cm²; 2.45 to 2.54 kgf/cm²"
            ]
        );
    }

    #[test]
    fn what_is_missing_is_asked_for_and_what_is_wrong_is_said_at_its_field() {
        let none = Typed {
            unit: None,
            ..typed(PSI, Stated::Nothing, ["36", "", ""])
        };
        for (typed, expected) in [
            (
                none,
                "Pick the unit that the sticker states. No number counts before.",
            ),
            (
                typed(PSI, Stated::Nothing, ["", "", ""]),
                "Type the number that the sticker states.",
            ),
            (
                typed(PSI, Stated::Percent, ["36", "", ""]),
                "Type the tolerance too, or pick “None”.",
            ),
            (
                typed(PSI, Stated::Range, ["36", "", ""]),
                "Type both ends of the range.",
            ),
            (
                typed(PSI, Stated::Nothing, ["36 psi", "", ""]),
                "Figure: Only the number: its unit is picked above.",
            ),
            (
                typed(PSI, Stated::PlusMinus, ["36", "1.2.3", ""]),
                "First: Use one decimal mark, comma or dot.",
            ),
            (
                typed(PSI, Stated::Nothing, ["240", "", ""]),
                "Figure: Too high for a tyre. With its tolerance, 1.5 to 217 psi can be \
                 converted. Is the unit right?",
            ),
            (
                typed(FT_LBF, Stated::Nothing, ["1260", "", ""]),
                "Figure: Too high for a wheel nut. With its tolerance, 0.8 to 737 ft·lbf can be \
                 converted. Is the unit right?",
            ),
            (
                typed(FT_LBF, Stated::Range, ["90", "80", ""]),
                "First: The most allowed must be above the least.",
            ),
            (
                typed(FT_LBF, Stated::Percent, ["90", "80", ""]),
                "First: A tolerance of 0.1 to 50 % can be converted.",
            ),
            (
                typed(FT_LBF, Stated::PlusMinus, ["90", "0", ""]),
                "First: This tolerance leaves no range, or one too wide. Is it in the same unit?",
            ),
        ] {
            assert_eq!(said(&typed), [expected]);
        }
    }
}
