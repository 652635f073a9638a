//! The coded marks: load index, speed symbol, load range.

use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{Mass, Velocity, kilogram, kilometer_per_hour};

/// Load per tyre by load index, kg.
///
/// Source: Arrêté du 24 octobre 1994 (EQUS9401799A), annexe II, which prints
/// the UN R30/R54 Annex 4 table; index 59 is 243 there in other editions and
/// in the open tyre-model library that was read beside it (the arrêté prints
/// 240, out of step with its neighbours).
#[rustfmt::skip]
const LOAD_INDEX_KG: [f64; 201] = [
    45.0, 46.2, 47.5, 48.7, 50.0, 51.5, 53.0, 54.5, 56.0, 58.0, // 0
    60.0, 61.5, 63.0, 65.0, 67.0, 69.0, 71.0, 73.0, 75.0, 77.5, // 10
    80.0, 82.5, 85.0, 87.5, 90.0, 92.5, 95.0, 97.5, 100.0, 103.0, // 20
    106.0, 109.0, 112.0, 115.0, 118.0, 121.0, 125.0, 128.0, 132.0, 136.0, // 30
    140.0, 145.0, 150.0, 155.0, 160.0, 165.0, 170.0, 175.0, 180.0, 185.0, // 40
    190.0, 195.0, 200.0, 206.0, 212.0, 218.0, 224.0, 230.0, 236.0, 243.0, // 50
    250.0, 257.0, 265.0, 272.0, 280.0, 290.0, 300.0, 307.0, 315.0, 325.0, // 60
    335.0, 345.0, 355.0, 365.0, 375.0, 387.0, 400.0, 412.0, 425.0, 437.0, // 70
    450.0, 462.0, 475.0, 487.0, 500.0, 515.0, 530.0, 545.0, 560.0, 580.0, // 80
    600.0, 615.0, 630.0, 650.0, 670.0, 690.0, 710.0, 730.0, 750.0, 775.0, // 90
    800.0, 825.0, 850.0, 875.0, 900.0, 925.0, 950.0, 975.0, 1000.0, 1030.0, // 100
    1060.0, 1090.0, 1120.0, 1150.0, 1180.0, 1215.0, 1250.0, 1285.0, 1320.0, 1360.0, // 110
    1400.0, 1450.0, 1500.0, 1550.0, 1600.0, 1650.0, 1700.0, 1750.0, 1800.0, 1850.0, // 120
    1900.0, 1950.0, 2000.0, 2060.0, 2120.0, 2180.0, 2240.0, 2300.0, 2360.0, 2430.0, // 130
    2500.0, 2575.0, 2650.0, 2725.0, 2800.0, 2900.0, 3000.0, 3075.0, 3150.0, 3250.0, // 140
    3350.0, 3450.0, 3550.0, 3650.0, 3750.0, 3875.0, 4000.0, 4125.0, 4250.0, 4375.0, // 150
    4500.0, 4625.0, 4750.0, 4875.0, 5000.0, 5150.0, 5300.0, 5450.0, 5600.0, 5800.0, // 160
    6000.0, 6150.0, 6300.0, 6500.0, 6700.0, 6900.0, 7100.0, 7300.0, 7500.0, 7750.0, // 170
    8000.0, 8250.0, 8500.0, 8750.0, 9000.0, 9250.0, 9500.0, 9750.0, 10000.0, 10300.0, // 180
    10600.0, 10900.0, 11200.0, 11500.0, 11800.0, 12150.0, 12500.0, 12850.0, 13200.0, 13600.0, // 190
    14000.0, // 200
];

/// Speed limits by symbol, km/h, slowest first.
///
/// Source: Arrêté du 24 octobre 1994, annexe I, for F to V; trade charts that
/// agree with each other for the rest. Z and ZR promise more than 240 km/h;
/// no more than that is taken from them.
const SPEED_SYMBOLS: [(&str, f64); 31] = [
    ("A1", 5.0),
    ("A2", 10.0),
    ("A3", 15.0),
    ("A4", 20.0),
    ("A5", 25.0),
    ("A6", 30.0),
    ("A7", 35.0),
    ("A8", 40.0),
    ("B", 50.0),
    ("C", 60.0),
    ("D", 65.0),
    ("E", 70.0),
    ("F", 80.0),
    ("G", 90.0),
    ("J", 100.0),
    ("K", 110.0),
    ("L", 120.0),
    ("M", 130.0),
    ("N", 140.0),
    ("P", 150.0),
    ("Q", 160.0),
    ("R", 170.0),
    ("S", 180.0),
    ("T", 190.0),
    ("U", 200.0),
    ("H", 210.0),
    ("V", 240.0),
    ("Z", 240.0),
    ("ZR", 240.0),
    ("W", 270.0),
    ("Y", 300.0),
];

/// A load index, 0 to 200.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct LoadIndex(u8);

impl LoadIndex {
    /// The load index `number`.
    ///
    /// # Errors
    /// [`OutOfRange`] above 200.
    ///
    /// ```
    /// use tyreside::calc::{quantity::kilogram, tyre::marks::LoadIndex};
    /// assert_eq!(LoadIndex::new(123).unwrap().load().get::<kilogram>(), 1550.0);
    /// assert!(LoadIndex::new(201).is_err());
    /// ```
    pub fn new(number: u32) -> Result<Self, OutOfRange> {
        Field::LoadIndex.check(f64::from(number))?;
        // In range, so it fits.
        Ok(Self(number as u8))
    }

    /// The bare index.
    pub fn number(self) -> u8 {
        self.0
    }

    /// The load one tyre carries at its reference pressure.
    pub fn load(self) -> Mass {
        Mass::new::<kilogram>(LOAD_INDEX_KG[usize::from(self.0)])
    }
}

/// A speed symbol, A1 to Y.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SpeedSymbol(u8);

impl SpeedSymbol {
    /// The symbol written `text` (capitals), if there is one.
    pub fn parse(text: &str) -> Option<Self> {
        let at = SPEED_SYMBOLS
            .iter()
            .position(|(symbol, _)| *symbol == text)?;
        Some(Self(at as u8))
    }

    /// The symbol as moulded.
    pub fn symbol(self) -> &'static str {
        SPEED_SYMBOLS[usize::from(self.0)].0
    }

    /// The fastest speed the tyre is approved for.
    pub fn limit(self) -> Velocity {
        Velocity::new::<kilometer_per_hour>(SPEED_SYMBOLS[usize::from(self.0)].1)
    }
}

/// A load range of the light-truck and special-trailer standards.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadRange {
    /// 4 plies.
    B,
    /// 6 plies.
    C,
    /// 8 plies.
    D,
    /// 10 plies.
    E,
    /// 12 plies.
    F,
    /// 14 plies.
    G,
}

impl LoadRange {
    const ALL: [(Self, char); 6] = [
        (Self::B, 'B'),
        (Self::C, 'C'),
        (Self::D, 'D'),
        (Self::E, 'E'),
        (Self::F, 'F'),
        (Self::G, 'G'),
    ];

    /// The load range of a letter.
    pub fn from_letter(letter: char) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|(_, l)| *l == letter)
            .map(|(range, _)| range)
    }

    /// The load range of a ply rating: 4 is B, 6 is C, and so on to 14, G.
    ///
    /// # Errors
    /// [`OutOfRange`] outside 4 to 14. There is no odd rating; one counts as
    /// that below it, and the designation's reader refuses it.
    pub fn from_ply_rating(plies: u32) -> Result<Self, OutOfRange> {
        Field::PlyRating.check(f64::from(plies))?;
        Ok(Self::ALL[(plies as usize - 4) / 2].0)
    }

    /// The letter as moulded.
    pub fn letter(self) -> char {
        Self::ALL[self as usize].1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn speed_symbols_stand_in_order_of_speed() {
        assert!(SPEED_SYMBOLS.windows(2).all(|w| w[0].1 <= w[1].1));
        for (symbol, _) in SPEED_SYMBOLS {
            assert_eq!(SpeedSymbol::parse(symbol).unwrap().symbol(), symbol);
        }
        assert_eq!(SpeedSymbol::parse("O"), None);
    }

    #[test]
    fn load_ranges_agree_with_their_letters_and_plies() {
        for (n, (range, letter)) in LoadRange::ALL.into_iter().enumerate() {
            assert_eq!(LoadRange::from_letter(letter), Some(range));
            assert_eq!(range.letter(), letter);
            assert_eq!(LoadRange::from_ply_rating(4 + 2 * n as u32), Ok(range));
        }
        assert!(LoadRange::from_ply_rating(3).is_err());
        assert!(LoadRange::from_ply_rating(15).is_err());
    }
}
