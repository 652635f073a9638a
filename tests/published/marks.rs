//! Load index, speed symbol, and how sidewalls round psi to kPa.

use crate::near;
use tyreside::calc::quantity::{kilogram, kilometer_per_hour, kilopascal};
use tyreside::calc::tyre::marks::{LoadIndex, SpeedSymbol};

/// Load index to kg: first index of the row, then ten loads.
///
/// Source: Arrêté du 24 octobre 1994 (EQUS9401799A), annexe II (read, in the
/// etalab copy of French regulations), typed from there and not from `src`.
/// Beside it a general multibody library's load-index array (Project Chrono,
/// `ChTMeasyTire.cpp`; read). They disagree three times in 0 to 200:
/// - 1: 46.2 in the arrêté, 46.5 in the library. Kept 46.2, the legal text and
///   the lower load.
/// - 59: 240 in the arrêté, 243 in the library and in a tyre dealer's chart
///   (quoted). Kept 243: [`disputed_loads_are_the_smoother_ones`].
/// - 169: 5800 in the arrêté, 5850 in the library. Kept 5800, the legal text
///   and the lower load; it is also a hundred times 58, index 9.
///
/// UN R30, UN R54 and ISO 4000-1 themselves were not read.
const LOADS: &str = "
  0     45  46.2  47.5  48.7    50  51.5    53  54.5    56    58
 10     60  61.5    63    65    67    69    71    73    75  77.5
 20     80  82.5    85  87.5    90  92.5    95  97.5   100   103
 30    106   109   112   115   118   121   125   128   132   136
 40    140   145   150   155   160   165   170   175   180   185
 50    190   195   200   206   212   218   224   230   236   243
 60    250   257   265   272   280   290   300   307   315   325
 70    335   345   355   365   375   387   400   412   425   437
 80    450   462   475   487   500   515   530   545   560   580
 90    600   615   630   650   670   690   710   730   750   775
100    800   825   850   875   900   925   950   975  1000  1030
110   1060  1090  1120  1150  1180  1215  1250  1285  1320  1360
120   1400  1450  1500  1550  1600  1650  1700  1750  1800  1850
130   1900  1950  2000  2060  2120  2180  2240  2300  2360  2430
140   2500  2575  2650  2725  2800  2900  3000  3075  3150  3250
150   3350  3450  3550  3650  3750  3875  4000  4125  4250  4375
160   4500  4625  4750  4875  5000  5150  5300  5450  5600  5800
170   6000  6150  6300  6500  6700  6900  7100  7300  7500  7750
180   8000  8250  8500  8750  9000  9250  9500  9750 10000 10300
190  10600 10900 11200 11500 11800 12150 12500 12850 13200 13600
200  14000
";

/// The rows of [`LOADS`] in order of index.
fn published_loads() -> Vec<f64> {
    let mut loads = Vec::new();
    for line in LOADS.lines().filter(|line| !line.is_empty()) {
        let mut numbers = line
            .split_whitespace()
            .map(|n| n.parse::<f64>().expect("a number"));
        assert_eq!(numbers.next(), Some(loads.len() as f64), "row {line}");
        loads.extend(numbers);
    }
    loads
}

fn our_load(index: usize) -> f64 {
    let index = LoadIndex::new(index as u32).expect("an index");
    index.load().get::<kilogram>()
}

#[test]
fn load_index_0_to_200() {
    let published = published_loads();
    assert_eq!(published.len(), 201);
    for (index, load) in published.into_iter().enumerate() {
        assert_eq!(our_load(index), load, "index {index}");
    }
    assert!(LoadIndex::new(201).is_err());
}

/// Two typed copies could share a slip. The preferred-number series behind
/// the table, 45 kg × 10^(LI/80), is from memory; what is checked is that the
/// table stays as near to it as was measured, and that no step between
/// neighbours stands out.
#[test]
fn load_index_keeps_near_its_series() {
    let deviations = (0..=200).map(|index| {
        let series = 45.0 * 10_f64.powf(index as f64 / 80.0);
        100.0 * (series / our_load(index) - 1.0)
    });
    let (lowest, highest) = deviations.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), d| {
        (a.min(d), b.max(d))
    });
    println!("series against table, 0 to 200: {lowest:+.3} % to {highest:+.3} %");
    near("series below the table, %", lowest, -0.534, 0.001);
    near("series above the table, %", highest, 1.977, 0.001);
    for index in 1..=200 {
        let step = our_load(index) / our_load(index - 1);
        assert!((1.015..=1.037).contains(&step), "index {index}: {step}");
    }
}

/// 59: between 236 and 250 the series' middle is 242.9, so 243 fits and 240
/// does not; 58 and 60 would stand 1.7 % and 4.2 % away from it.
#[test]
fn disputed_loads_are_the_smoother_ones() {
    let middle = (our_load(58) * our_load(60)).sqrt();
    println!("index 59: kept 243, other 240, middle of its neighbours {middle:.1}");
    assert_eq!(our_load(59), 243.0);
    assert!((243.0 - middle).abs() < (240.0 - middle).abs());
    // The neighbours cannot tell 46.2 from 46.5, nor 5800 from 5850: the
    // legal text and the lower load stand.
    for (index, other) in [(1, 46.5), (169, 5850.0)] {
        assert!(our_load(index) < other, "index {index}");
    }
}

/// Symbol to km/h.
///
/// Source: F to V, Arrêté du 24 octobre 1994, annexe I (read), which has only
/// the letter Z for 'over 240'. A1 to E, W and Y: a tyre retailer's and a
/// trailer maker's chart that agree (quoted). UN R30 and R54 were not read.
const SPEEDS: &str = "
A1 5   A2 10  A3 15  A4 20  A5 25  A6 30  A7 35  A8 40
B 50   C 60   D 65   E 70
F 80   G 90   J 100  K 110  L 120  M 130  N 140  P 150
Q 160  R 170  S 180  T 190  U 200  H 210  V 240
W 270  Y 300
Z 240  ZR 240
";

#[test]
fn every_speed_symbol() {
    let words: Vec<_> = SPEEDS.split_whitespace().collect();
    assert_eq!(words.len(), 2 * 31);
    for pair in words.chunks(2) {
        let symbol = SpeedSymbol::parse(pair[0]).expect("a symbol");
        assert_eq!(symbol.symbol(), pair[0]);
        near(
            pair[0],
            symbol.limit().get::<kilometer_per_hour>(),
            pair[1].parse().expect("a speed"),
            1e-9,
        );
    }
    // No speed has these letters; I, O and X are easily misread for others.
    for letter in ["A", "A0", "A9", "I", "O", "X", "", "q", "ZRR"] {
        assert_eq!(SpeedSymbol::parse(letter), None, "{letter}");
    }
}

/// UN R54, Annex 7 appendix 2, as a clause extract prints it (read): pressure
/// index in psi, bar, kPa. Sidewalls round psi to 10 kPa by it, so a moulded
/// kPa figure may stand up to 5 kPa beside the exact one.
const PRESSURE_INDEX: [(f64, f64, f64); 13] = [
    (20.0, 1.4, 140.0),
    (25.0, 1.7, 170.0),
    (30.0, 2.1, 210.0),
    (35.0, 2.4, 240.0),
    (40.0, 2.8, 280.0),
    (45.0, 3.1, 310.0),
    (50.0, 3.4, 340.0),
    (55.0, 3.8, 380.0),
    (60.0, 4.1, 410.0),
    (65.0, 4.5, 450.0),
    (70.0, 4.8, 480.0),
    (75.0, 5.2, 520.0),
    (80.0, 5.5, 550.0),
];

/// The extract's further rows, psi and kPa (read).
const PRESSURE_INDEX_ABOVE: [(f64, f64); 7] = [
    (85.0, 590.0),
    (90.0, 620.0),
    (95.0, 660.0),
    (100.0, 690.0),
    (110.0, 760.0),
    (120.0, 830.0),
    (150.0, 1030.0),
];

#[test]
fn sidewalls_round_psi_to_ten_kilopascals() {
    let rows = PRESSURE_INDEX
        .iter()
        .map(|&(psi, bar, kpa)| {
            near("bar and kPa", bar * 100.0, kpa, 1e-9);
            (psi, kpa)
        })
        .chain(PRESSURE_INDEX_ABOVE);
    for (psi, kpa) in rows {
        let exact = crate::in_psi(psi).get::<kilopascal>();
        println!("{psi:>5} psi: {exact:7.2} kPa exact, {kpa:>5} as moulded");
        assert_eq!((exact / 10.0).round() * 10.0, kpa, "{psi} psi");
    }
}
