//! Numbers to text and text to numbers.

use crate::calc::limits::{Limit, Unit};
use crate::calc::quantity::{GaugePressure, Mass, Velocity, kilogram, kilometer_per_hour};
use crate::calc::torque::{Torque, TorqueUnit, newton_meter};
use crate::decimal;
use crate::rig::typed::{Amount, Measure};
use crate::rig::{MassUnit, PressureUnit, Units};

/// The mark of a pressure unit.
pub fn unit_mark(unit: PressureUnit) -> &'static str {
    match unit {
        PressureUnit::Psi => "psi",
        PressureUnit::Kpa => "kPa",
        PressureUnit::Bar => "bar",
    }
}

/// Added before rounding to the nearest digit: a record may move a value by its
/// last digits, and half a digit is to go up on both sides of it.
const TIE: f64 = 1e-7;

/// A pressure's number: on a whole gauge step without decimals it needs none.
pub fn pressure_number(unit: PressureUnit, pressure: GaugePressure) -> String {
    let value = unit.number(pressure) + TIE;
    match unit {
        PressureUnit::Bar => decimal::fixed(value, 2),
        PressureUnit::Psi if (value - value.round()).abs() >= 0.05 => decimal::fixed(value, 1),
        PressureUnit::Psi | PressureUnit::Kpa => decimal::fixed(value, 0),
    }
}

/// A pressure with its unit.
pub fn pressure(unit: PressureUnit, value: GaugePressure) -> String {
    format!("{} {}", pressure_number(unit, value), unit_mark(unit))
}

/// A pressure that must be reached: up to the last digit shown.
pub fn pressure_up(unit: PressureUnit, value: GaugePressure) -> String {
    let steps = match unit {
        PressureUnit::Psi => 10.0,
        PressureUnit::Kpa => 1.0,
        PressureUnit::Bar => 100.0,
    };
    let up = (unit.number(value) * steps - 1e-6).ceil() / steps;
    pressure(unit, unit.reading(up))
}

/// From one pressure to another, or the one where they read alike.
pub fn pressure_range(unit: PressureUnit, low: GaugePressure, high: GaugePressure) -> String {
    let (low, high) = (pressure_number(unit, low), pressure_number(unit, high));
    if low == high {
        format!("{low} {}", unit_mark(unit))
    } else {
        format!("{low} to {high} {}", unit_mark(unit))
    }
}

/// The mark of a mass unit.
pub fn mass_mark(unit: MassUnit) -> &'static str {
    match unit {
        MassUnit::Kilogram => "kg",
        MassUnit::Pound => "lb",
    }
}

/// A mass in whole units.
pub fn mass(unit: MassUnit, value: Mass) -> String {
    whole_mass(unit, (unit.number(value) + TIE).round())
}

/// A mass to be taken off: up to the next whole unit.
pub fn mass_up(unit: MassUnit, value: Mass) -> String {
    whole_mass(unit, (unit.number(value) - 1e-6).ceil())
}

fn whole_mass(unit: MassUnit, whole: f64) -> String {
    format!("{} {}", grouped(whole), mass_mark(unit))
}

/// A whole number, its thousands set apart by a thin space: a comma or a dot
/// there would read as a decimal mark to half the world.
pub fn grouped(whole: f64) -> String {
    let digits = decimal::fixed(whole, 0);
    let split = digits.len().saturating_sub(3);
    match digits.split_at_checked(split) {
        Some((thousands, rest)) if digits.len() > 4 => format!("{thousands}\u{202f}{rest}"),
        _ => digits,
    }
}

/// A speed, down to the whole km/h.
pub fn speed(value: Velocity) -> String {
    let whole = (value.get::<kilometer_per_hour>() + 1e-6).floor();
    format!("{} km/h", decimal::fixed(whole, 0))
}

/// A share in whole percent, with its sign.
pub fn signed_percent(share: f64) -> String {
    // Down: a reserve is not made greater, nor a shortfall smaller.
    let percent = decimal::fixed((share * 100.0 + 1e-6).floor(), 0);
    let plus = if percent.starts_with('-') { "" } else { "+" };
    format!("{plus}{percent} %")
}

/// The mark of a torque unit.
pub fn torque_mark(unit: TorqueUnit) -> &'static str {
    match unit {
        TorqueUnit::NewtonMetre => "N·m",
        TorqueUnit::FootPound => "ft·lbf",
        TorqueUnit::InchPound => "lbf·in",
        TorqueUnit::KilogramMetre => "kgf·m",
    }
}

/// What a field shows of a stored value: two decimals at most.
pub fn entered(value: f64) -> String {
    decimal::short(value, 2)
}

/// What a typed value is stated in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Entry {
    /// A pressure; the rig's unit where none is typed.
    Pressure(PressureUnit),
    /// A mass; the rig's unit where none is typed.
    Mass(MassUnit),
    /// A torque in this unit.
    Torque(TorqueUnit),
    /// A torque whose unit is still to be picked: no number counts before.
    TorqueUnset,
    /// A plain number in a limit's unit.
    Plain(Unit),
}

/// Why a typed value is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EntryError {
    /// Not a number.
    NotANumber,
    /// Both a comma and a dot, or two of one: which is the decimal mark?
    TwoMarks,
    /// A unit that this field doesn't know.
    UnknownUnit,
    /// `20,000`, where both 20 and 20000 are allowed.
    ThousandsOrDecimals,
    /// Its unit is to be picked first.
    UnitFirst,
}

impl Entry {
    /// How a limit's unit is typed in a rig shown in these units.
    pub fn of(unit: Unit, shown: Units) -> Self {
        match unit {
            Unit::KiloPascal => Self::Pressure(shown.pressure),
            Unit::Kilogram => Self::Mass(shown.mass),
            other => Self::Plain(other),
        }
    }

    /// Reads typed text. Blank text is no value. A decimal comma and a dot both
    /// count; a unit may follow.
    ///
    /// # Errors
    /// [`EntryError`]. The result is finite, and not yet within any range.
    pub fn read(self, text: &str) -> Result<Option<Amount>, EntryError> {
        let text = text.trim();
        if text.is_empty() {
            return Ok(None);
        }
        if self == Self::TorqueUnset {
            return Err(EntryError::UnitFirst);
        }
        let is_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+');
        // Digits may be grouped by a blank, which is no end of the number.
        let end = text
            .find(|c: char| !is_number(c) && !matches!(c, ' ' | '\u{a0}' | '\u{202f}'))
            .unwrap_or(text.len());
        let (number, unit) = text.split_at(end);
        let number: String = number.chars().filter(|c| is_number(*c)).collect();
        if number.matches([',', '.']).count() > 1 {
            return Err(EntryError::TwoMarks);
        }
        if number.len() > 12 {
            return Err(EntryError::NotANumber);
        }
        let value = decimal::parse(&number.replace(',', ".")).ok_or(EntryError::NotANumber)?;
        let amount = match (self, spelling(unit).as_str()) {
            (Self::Plain(Unit::Second), "min") => Some(Amount::new(value * 60.0, Measure::Second)),
            (_, unit) => self.spelt(unit).map(|unit| Amount::new(value, unit)),
        };
        amount.map(Some).ok_or(EntryError::UnknownUnit)
    }

    /// [`Self::read`] for a value that `limit` is of. A mass or a distance such as `1,720`
    /// or `1.720`, its thousands set apart by a mark, is 1720 where only that
    /// is allowed.
    ///
    /// # Errors
    /// As [`Self::read`]; [`EntryError::ThousandsOrDecimals`] where both
    /// readings are allowed.
    pub fn read_within(self, text: &str, limit: Limit) -> Result<Option<Amount>, EntryError> {
        let as_decimal = self.read(text)?;
        let without_mark = match self {
            Self::Mass(_) | Self::Plain(Unit::Kilometre) => without_thousands_mark(text),
            _ => None,
        };
        let Some(without_mark) = without_mark else {
            return Ok(as_decimal);
        };
        let as_thousands = self.read(&without_mark)?;
        let allowed = |amount: Option<Amount>| {
            amount.is_some_and(|amount| limit.field.check(amount.in_limit_unit()).is_ok())
        };
        match (allowed(as_decimal), allowed(as_thousands)) {
            (true, true) => Err(EntryError::ThousandsOrDecimals),
            (true, false) => Ok(as_decimal),
            (false, _) => Ok(as_thousands),
        }
    }

    /// The unit that a bare number is read in.
    pub fn measure(self) -> Option<Measure> {
        match self {
            Self::Pressure(unit) => Some(unit.into()),
            Self::Mass(unit) => Some(unit.into()),
            Self::Torque(unit) => Some(unit.into()),
            Self::TorqueUnset => None,
            Self::Plain(unit) => Measure::of_limits(unit),
        }
    }

    /// The unit of a spelling.
    fn spelt(self, unit: &str) -> Option<Measure> {
        Some(match (self, unit) {
            (_, "") => return self.measure(),
            (Self::Pressure(_), "psi" | "psig" | "lb/in2" | "lbs/in2" | "lbf/in2" | "lb/sqin") => {
                Measure::Psi
            }
            (Self::Pressure(_), "kpa") => Measure::Kilopascal,
            (Self::Pressure(_), "bar" | "bars") => Measure::Bar,
            (Self::Pressure(_), "kg/cm2" | "kgf/cm2" | "kp/cm2") => {
                Measure::KilogramForcePerSquareCentimetre
            }
            (Self::Mass(_), "kg" | "kgs" | "kilo" | "kilos") => Measure::Kilogram,
            (Self::Mass(_), "lb" | "lbs" | "pound" | "pounds") => Measure::Pound,
            (Self::Mass(_), "t" | "tonne" | "tonnes") => Measure::Tonne,
            (Self::Torque(_), "nm") => Measure::NewtonMetre,
            (Self::Torque(_), "ftlb" | "ftlbs" | "ftlbf" | "lbft" | "lbsft" | "lbfft") => {
                Measure::FootPound
            }
            (Self::Torque(_), "inlb" | "inlbs" | "inlbf" | "lbin" | "lbsin" | "lbfin") => {
                Measure::InchPound
            }
            (Self::Torque(_), "kgm" | "kgfm" | "mkg" | "mkgf" | "mkp" | "kpm") => {
                Measure::KilogramMetre
            }
            (Self::Plain(Unit::Percent), "%") => Measure::Percent,
            (Self::Plain(Unit::KilometrePerHour), "km/h" | "kmh" | "kph") => {
                Measure::KilometrePerHour
            }
            (Self::Plain(Unit::KilometrePerHour), "mph") => Measure::MilePerHour,
            (Self::Plain(Unit::Kilometre), "km") => Measure::Kilometre,
            (Self::Plain(Unit::Millimetre), "mm") => Measure::Millimetre,
            (Self::Plain(Unit::Celsius), "c" | "°c") => Measure::Celsius,
            (Self::Plain(Unit::Celsius), "f" | "°f") => Measure::Fahrenheit,
            (Self::Plain(Unit::Metre), "m") => Measure::Metre,
            (Self::Plain(Unit::Metre), "ft") => Measure::Foot,
            (Self::Plain(Unit::Litre), "l") => Measure::Litre,
            (Self::Plain(Unit::LitrePerMinute), "l/min" | "lpm") => Measure::LitrePerMinute,
            (Self::Plain(Unit::LitrePerMinute), "cfm") => Measure::CubicFootPerMinute,
            (Self::Plain(Unit::Second), "s") => Measure::Second,
            (Self::Plain(Unit::Minute), "min") => Measure::Minute,
            (Self::Plain(Unit::Day), "d" | "day" | "days") => Measure::Day,
            _ => return None,
        })
    }

    /// What a field shows of an amount: its own digits in its own unit.
    pub fn show_amount(self, amount: Amount) -> String {
        if Some(amount.unit()) != self.measure() {
            return self.show(amount.in_limit_unit());
        }
        match self {
            Self::Torque(_) => decimal::short(amount.number(), 6),
            _ => entered(amount.number()),
        }
    }

    /// What a field shows of a value in the limit's unit.
    pub fn show(self, value: f64) -> String {
        use crate::calc::quantity::kilopascal;
        match self {
            Self::Pressure(unit) => entered(unit.number(GaugePressure::new::<kilopascal>(value))),
            Self::Mass(unit) => entered(unit.number(Mass::new::<kilogram>(value))),
            // As fine as a torque is kept: what was typed comes back.
            Self::Torque(unit) => decimal::short(unit.of(Torque::new::<newton_meter>(value)), 6),
            Self::TorqueUnset | Self::Plain(_) => entered(value),
        }
    }

    /// The mark of the unit a bare number is read in.
    pub fn mark(self) -> &'static str {
        match self {
            Self::Pressure(unit) => unit_mark(unit),
            Self::Mass(unit) => mass_mark(unit),
            Self::Torque(unit) => torque_mark(unit),
            Self::TorqueUnset => "which unit?",
            Self::Plain(Unit::KiloPascal) => "kPa",
            Self::Plain(Unit::Kilogram) => "kg",
            Self::Plain(Unit::KilometrePerHour) => "km/h",
            Self::Plain(Unit::Percent) => "%",
            Self::Plain(Unit::Millimetre) => "mm",
            Self::Plain(Unit::Inch) => "in",
            Self::Plain(Unit::Number) => "",
            Self::Plain(Unit::NewtonMetre) => "N·m",
            Self::Plain(Unit::Degree) => "°",
            Self::Plain(Unit::Kilometre) => "km",
            Self::Plain(Unit::Celsius) => "°C",
            Self::Plain(Unit::Kelvin) => "K",
            Self::Plain(Unit::Metre) => "m",
            Self::Plain(Unit::Litre) => "L",
            Self::Plain(Unit::LitrePerMinute) => "L/min",
            Self::Plain(Unit::Second) => "s",
            Self::Plain(Unit::Minute) => "min",
            Self::Plain(Unit::Day) => "days",
        }
    }
}

/// A typed unit as it is looked up: stickers write one unit in many ways,
/// `ft-lb`, `ft·lbf`, `N.m`, `kgf/cm²`.
fn spelling(unit: &str) -> String {
    let between = |c: char| matches!(c, ' ' | '\u{a0}' | '.' | '·' | '⋅' | '-' | '*' | '^');
    unit.chars()
        .filter(|c| !between(*c))
        .map(|c| match c {
            '²' => '2',
            'º' => '°',
            c => c.to_ascii_lowercase(),
        })
        .collect()
}

/// `1720` for `1,720` and `1.720`: the text without its one mark, where that
/// has up to three digits before it, not begun by a zero, and three behind.
fn without_thousands_mark(text: &str) -> Option<String> {
    let (before, behind) = text.trim().split_once([',', '.'])?;
    let digits = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
    let thousands = (1..=3).contains(&before.len())
        && digits(before) == before.len()
        && !before.starts_with('0')
        && digits(behind) == 3;
    thousands.then(|| format!("{before}{behind}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::limits::Field;
    use crate::calc::quantity::{kilopascal, psi};

    const KG: Entry = Entry::Mass(MassUnit::Kilogram);
    const LB: Entry = Entry::Mass(MassUnit::Pound);

    /// What is read, in the limit's unit.
    trait InLimitUnit {
        fn limit(self, text: &str) -> Result<Option<f64>, EntryError>;
        fn limit_within(self, text: &str, limit: Limit) -> Result<Option<f64>, EntryError>;
    }

    impl InLimitUnit for Entry {
        fn limit(self, text: &str) -> Result<Option<f64>, EntryError> {
            Ok(self.read(text)?.map(Amount::in_limit_unit))
        }

        fn limit_within(self, text: &str, limit: Limit) -> Result<Option<f64>, EntryError> {
            Ok(self.read_within(text, limit)?.map(Amount::in_limit_unit))
        }
    }

    #[test]
    fn pressures_show_no_more_than_a_gauge_does() {
        let p = GaugePressure::new::<psi>;
        assert_eq!(pressure(PressureUnit::Psi, p(33.0)), "33 psi");
        assert_eq!(
            pressure(PressureUnit::Psi, GaugePressure::new::<kilopascal>(550.0)),
            "79.8 psi"
        );
        assert_eq!(pressure(PressureUnit::Kpa, p(50.0)), "345 kPa");
        assert_eq!(pressure(PressureUnit::Bar, p(50.0)), "3.45 bar");
        assert_eq!(
            pressure_range(PressureUnit::Psi, p(30.0), p(35.0)),
            "30 to 35 psi"
        );
        assert_eq!(
            pressure_range(PressureUnit::Psi, p(30.0), p(30.001)),
            "30 psi"
        );
    }

    #[test]
    fn masses_to_shed_are_rounded_up_and_speeds_down() {
        let kg = Mass::new::<kilogram>;
        let in_kg = MassUnit::Kilogram;
        assert_eq!(mass_up(in_kg, kg(120.01)), "121 kg");
        assert_eq!(mass_up(in_kg, kg(120.0)), "120 kg");
        assert_eq!(mass(in_kg, kg(12_345.4)), "12\u{202f}345 kg");
        assert_eq!(mass(in_kg, kg(1550.0)), "1550 kg");
        assert_eq!(mass(MassUnit::Pound, kg(1550.0)), "3417 lb");
        assert_eq!(mass_up(MassUnit::Pound, kg(120.01)), "265 lb");
        assert_eq!(speed(Velocity::new::<kilometer_per_hour>(36.99)), "36 km/h");
        assert_eq!(speed(Velocity::new::<kilometer_per_hour>(80.0)), "80 km/h");
        assert_eq!(signed_percent(0.0999), "+9 %");
        assert_eq!(signed_percent(-0.12), "-12 %");
        assert_eq!(signed_percent(0.0), "+0 %");
        // A shortfall of 0.9 % once read "+0 %".
        assert_eq!(signed_percent(-0.009), "-1 %");
        let needs = GaugePressure::new::<psi>;
        assert_eq!(pressure_up(PressureUnit::Psi, needs(36.91)), "37 psi");
        assert_eq!(pressure_up(PressureUnit::Psi, needs(36.72)), "36.8 psi");
        assert_eq!(pressure_up(PressureUnit::Kpa, needs(50.0)), "345 kPa");
    }

    #[test]
    fn a_comma_and_a_dot_are_both_decimal_marks() {
        for text in [
            "2.4", "2,4", " 2,4 ", "2.4bar", "2,4 BAR", "240 kPa", "240kpa",
        ] {
            let kpa = Entry::Pressure(PressureUnit::Bar)
                .limit(text)
                .unwrap()
                .unwrap();
            assert!((kpa - 240.0).abs() < 1e-9, "{text}: {kpa}");
        }
        assert_eq!(Entry::Pressure(PressureUnit::Psi).limit("  "), Ok(None));
        assert_eq!(KG.limit("1 310"), Ok(Some(1310.0)));
        assert_eq!(KG.limit("2,5 t"), Ok(Some(2500.0)));
        let pounds = KG.limit("3415 lb").unwrap().unwrap();
        assert!((pounds - 1549.0).abs() < 0.1);
    }

    #[test]
    fn other_units_may_be_typed_behind_the_number() {
        for (unit, text, expected) in [
            (Unit::Celsius, "-5", -5.0),
            (Unit::Celsius, "68 °F", 20.0),
            (Unit::Celsius, "20 °C", 20.0),
            (Unit::Metre, "1000 ft", 304.8),
            (Unit::LitrePerMinute, "2 cfm", 56.633_693_184),
            (Unit::Second, "1,5 min", 90.0),
        ] {
            let read = Entry::Plain(unit).limit(text).unwrap().unwrap();
            assert!((read - expected).abs() < 1e-9, "{text}: {read}");
        }
    }

    /// Each as stickers, handbooks and weighbridge tickets write it.
    #[test]
    fn a_unit_is_read_in_every_usual_spelling() {
        let gauge = Entry::Pressure(PressureUnit::Kpa);
        let torque = Entry::Torque(TorqueUnit::NewtonMetre);
        let groups: [(Entry, f64, f64, &[&str]); 12] = [
            // NIST SP 811 (2008) B.8, to the digits it prints.
            (
                gauge,
                36.0,
                248.211,
                &["psi", "PSI", "p.s.i.", "lb/in²", "lbf/in2", "lb/sq in"],
            ),
            (gauge, 250.0, 250.0, &["kPa", "KPA", " kpa", ""]),
            (gauge, 2.5, 250.0, &["bar", "Bar"]),
            (
                gauge,
                2.5,
                245.166,
                &["kg/cm2", "kgf/cm²", "kg/cm²", "kp/cm2", "kgf/cm^2"],
            ),
            (KG, 1720.0, 1720.0, &["kg", "KG", "kgs", "Kg.", "kilos", ""]),
            (
                KG,
                3790.0,
                1719.115,
                &["lb", "lbs", "LBS.", "lb.", "pounds"],
            ),
            (KG, 1.72, 1720.0, &["t", "tonnes"]),
            (LB, 3790.0, 1719.115, &["", "lb"]),
            (LB, 1720.0, 1720.0, &["kg"]),
            (
                torque,
                105.0,
                142.361,
                &[
                    "ft-lb", "lb-ft", "ft·lbf", "ft lb", "lbf.ft", "ft-lbs", "lb·ft", "FT LBS",
                ],
            ),
            (
                torque,
                142.0,
                142.0,
                &["Nm", "N·m", "N.m", "N-m", "n m", "N⋅m", ""],
            ),
            (
                torque,
                14.5,
                142.196,
                &["kgf·m", "kg-m", "kgm", "m·kgf", "kgf m"],
            ),
        ];
        for (entry, number, expected, units) in groups {
            for unit in units {
                let text = format!("{number} {unit}");
                let read = entry.limit(&text).map(Option::unwrap);
                assert!(
                    read.is_ok_and(|read| (read / expected - 1.0).abs() < 5e-6),
                    "{text}: {read:?}"
                );
            }
        }
        let inches = torque.limit("300 in-lb").unwrap().unwrap();
        assert!((inches / 33.8954 - 1.0).abs() < 5e-6, "{inches}");
    }

    /// '1,720' was answered with 'Too low', and said nothing of its comma.
    #[test]
    fn thousands_set_apart_by_a_mark_are_read_or_asked_about() {
        let axle = Field::AxleMass.limit();
        for text in ["1,720", "1.720", "1 720", "1720", " 1,720 kg", "1.720 t"] {
            assert_eq!(KG.limit_within(text, axle), Ok(Some(1720.0)), "{text}");
        }
        let pounds = LB.limit_within("3,790", axle).unwrap().unwrap();
        assert!((pounds - 1719.115).abs() < 0.001, "{pounds}");
        assert_eq!(KG.limit_within("905,5", axle), Ok(Some(905.5)));
        assert_eq!(KG.limit_within("1720,5", axle), Ok(Some(1720.5)));
        let side = Field::SideMass.limit();
        assert_eq!(
            KG.limit_within("20,000", side),
            Err(EntryError::ThousandsOrDecimals)
        );
        // Not a mass: 105 and no thousand.
        let torque = Entry::Torque(TorqueUnit::NewtonMetre);
        let spec = Field::SpecTorque.limit();
        assert_eq!(torque.limit_within("105.500", spec), Ok(Some(105.5)));
    }

    #[test]
    fn what_is_no_number_is_refused_and_never_a_panic() {
        use EntryError::*;
        for (text, error) in [
            ("abc", NotANumber),
            ("-", NotANumber),
            ("1,310.5", TwoMarks),
            ("1.3.5", TwoMarks),
            ("inf", NotANumber),
            ("NaN", NotANumber),
            ("1e5", UnknownUnit),
            ("50 stone", UnknownUnit),
            ("1234567890123", NotANumber),
            ("٣٤", NotANumber),
        ] {
            assert_eq!(KG.limit(text), Err(error), "{text}");
        }
    }

    #[test]
    fn a_typed_torque_comes_back_as_typed() {
        for unit in TorqueUnit::ALL {
            let entry = Entry::Torque(unit);
            for typed in ["105", "142.4", "0.05", "14.525", "999.999999"] {
                let stored = entry.read(typed).unwrap().unwrap();
                assert_eq!(entry.show_amount(stored), typed, "{unit:?}");
                assert_eq!(entry.show(stored.in_limit_unit()), typed, "{unit:?}");
            }
        }
    }

    #[test]
    fn what_is_shown_reads_back_as_stored() {
        for unit in PressureUnit::ALL {
            let entry = Entry::Pressure(unit);
            for typed in ["36", "50.5", "2.45", "240"] {
                let stored = entry.read(typed).unwrap().unwrap();
                assert_eq!(entry.show_amount(stored), typed);
            }
        }
    }
}
