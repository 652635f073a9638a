//! The load-pressure law beside published rows.

use crate::Confidence::{self, Quoted, Read};
use crate::{in_psi, near, pounds};
use tyreside::calc::quantity::{AbsolutePressure, GaugePressure, Mass, kilogram, kilopascal, psi};
use tyreside::calc::tyre::capacity::{Capacity, CapacityError, Fitment, Moulded, Vehicle};
use tyreside::calc::tyre::designation::Designation;

/// The units that a row is printed in.
#[derive(Clone, Copy)]
struct Units {
    pressure: fn(f64) -> GaugePressure,
    mass: fn(f64) -> Mass,
    pressure_name: &'static str,
    mass_name: &'static str,
}

const PSI_LB: Units = Units {
    pressure: in_psi,
    mass: pounds,
    pressure_name: "psi",
    mass_name: "lb",
};

const KPA_KG: Units = Units {
    pressure: GaugePressure::new::<kilopascal>,
    mass: Mass::new::<kilogram>,
    pressure_name: "kPa",
    mass_name: "kg",
};

/// One published row: loads per tyre at pressures, for a tyre whose
/// reference load is `load`.
struct Row<'a> {
    source: &'a str,
    confidence: Confidence,
    tyre: &'a str,
    fitment: Fitment,
    load: f64,
    /// Moulded pressure; none where the load range or standard names it.
    pressure: Option<f64>,
    units: Units,
    points: &'a [(f64, f64)],
}

/// How far the law falls from the rows compared so far.
struct Deviation {
    /// Most that the law carries above a published load, in % and kg.
    over_percent: f64,
    over_kg: f64,
    /// Most that it carries below one, as positive numbers.
    under_percent: f64,
    under_kg: f64,
    /// Most that a published pressure is above the one that the law asks for
    /// the published load, in % of it and kPa: there the row asks for more.
    short_percent: f64,
    short_kpa: f64,
}

impl Deviation {
    /// So that a first comparison always counts.
    const NONE: Self = Self {
        over_percent: f64::NEG_INFINITY,
        over_kg: f64::NEG_INFINITY,
        under_percent: f64::NEG_INFINITY,
        under_kg: f64::NEG_INFINITY,
        short_percent: f64::NEG_INFINITY,
        short_kpa: f64::NEG_INFINITY,
    };

    fn of<'a>(rows: impl IntoIterator<Item = Row<'a>>) -> Self {
        let mut worst = Self::NONE;
        for row in rows {
            worst.add(&row);
        }
        worst.print();
        worst
    }

    fn add(&mut self, row: &Row) {
        let capacity = row.capacity();
        let units = row.units;
        for &(pressure, load) in row.points {
            let (at, published) = ((units.pressure)(pressure), (units.mass)(load));
            let ours = capacity.carries(at) / (units.mass)(1.0);
            let asked = capacity.load_minimum(published);
            let percent = 100.0 * (ours.value / load - 1.0);
            let short = at - asked;
            println!(
                "{} ({}); {} {:?}; {pressure} {}; published {load} {}; ours {:.1}; {percent:+.2} %; \
                 published load asks {:.2} {}{}",
                row.source,
                row.confidence,
                row.tyre,
                row.fitment,
                units.pressure_name,
                units.mass_name,
                ours.value,
                asked.ratio_to((units.pressure)(1.0)),
                units.pressure_name,
                if asked < at {
                    " <- row asks for more"
                } else {
                    ""
                },
            );
            let kg = (ours.value - load) * (units.mass)(1.0).get::<kilogram>();
            self.over_percent = self.over_percent.max(percent);
            self.over_kg = self.over_kg.max(kg);
            self.under_percent = self.under_percent.max(-percent);
            self.under_kg = self.under_kg.max(-kg);
            self.short_percent = self.short_percent.max(100.0 * short.ratio_to(at));
            self.short_kpa = self.short_kpa.max(short.get::<kilopascal>());
        }
    }

    fn print(&self) {
        println!(
            "worst: over {:.2} % {:.2} kg, under {:.2} % {:.2} kg, short {:.2} % {:.2} kPa",
            self.over_percent,
            self.over_kg,
            self.under_percent,
            self.under_kg,
            self.short_percent,
            self.short_kpa
        );
    }

    /// Pins the worst shortfall in pressure to what was measured.
    #[track_caller]
    fn short_as_measured(&self, kpa: f64) {
        near("worst shortfall, kPa", self.short_kpa, kpa, 0.01);
    }
}

impl Row<'_> {
    fn capacity(&self) -> Capacity {
        let tyre = Designation::parse(self.tyre).expect("a designation");
        let load = Some((self.units.mass)(self.load));
        let moulded = Moulded {
            load_single: load.filter(|_| self.fitment == Fitment::Single),
            load_dual: load.filter(|_| self.fitment == Fitment::Dual),
            pressure: self.pressure.map(self.units.pressure),
            minimum: None,
        };
        // On a passenger car, so that no divisor stands between row and law.
        Capacity::new(&tyre, &moulded, self.fitment, Vehicle::PassengerCar)
            .unwrap_or_else(|error| panic!("{}: {error:?}", self.tyre))
    }
}

/// A chart of a tyre maker (Michelin) reproduced in a motorhome's
/// specifications of 1990 (quoted): LT235/85R16, lb per tyre.
const LT235_SINGLE: [(f64, f64); 10] = [
    (35.0, 1700.0),
    (40.0, 1870.0),
    (45.0, 2030.0),
    (50.0, 2205.0),
    (55.0, 2335.0),
    (60.0, 2485.0),
    (65.0, 2623.0),
    (70.0, 2765.0),
    (75.0, 2905.0),
    (80.0, 3042.0),
];

/// The same chart's pairs in dual, lb for both tyres.
const LT235_PAIR: [(f64, f64); 10] = [
    (35.0, 3090.0),
    (40.0, 3400.0),
    (45.0, 3690.0),
    (50.0, 4015.0),
    (55.0, 4250.0),
    (60.0, 4520.0),
    (65.0, 4765.0),
    (70.0, 5030.0),
    (75.0, 5290.0),
    (80.0, 5556.0),
];

/// Stated tolerance 0.75 %. The tyre is taken as its load range names it, at
/// 550 kPa, which is 0.3 % under the 80 psi of the chart.
#[test]
fn light_truck_full_row_single() {
    let worst = Deviation::of([Row {
        source: "tyre maker's chart in a motorhome's specifications",
        confidence: Quoted,
        tyre: "LT235/85R16 E",
        fitment: Fitment::Single,
        load: 3042.0,
        pressure: None,
        units: PSI_LB,
        points: &LT235_SINGLE,
    }]);
    assert!(worst.over_percent <= 0.75 && worst.under_percent <= 0.75);
    // Finding: nine points of ten ask for a little more than the law; the
    // worst is 65 psi, where the law asks 64.55 for 2,623 lb.
    worst.short_as_measured(3.10);
}

/// The dual row lies up to 1.03 % under the law: stated as measured.
#[test]
fn light_truck_full_row_dual() {
    let per_tyre = LT235_PAIR.map(|(pressure, pair)| (pressure, pair / 2.0));
    let worst = Deviation::of([Row {
        source: "tyre maker's chart in a motorhome's specifications",
        confidence: Quoted,
        tyre: "LT235/85R16 E",
        fitment: Fitment::Dual,
        load: 2778.0,
        pressure: None,
        units: PSI_LB,
        points: &per_tyre,
    }]);
    assert!(worst.over_percent <= 1.04 && worst.under_percent <= 0.25);
    // Finding: at 65 psi the law asks 64.06 for 4,765 lb a pair.
    worst.short_as_measured(6.51);
}

/// A tyre's rated points, one for each load range: letter, psi, lb.
type Rated = (char, f64, f64);

/// Sources: size sheets of a tyre maker (Toyo Tires, all-terrain and
/// mud-terrain; read); a how-to page, a tyre trade magazine, a caravan
/// newsletter, an owners' forum and a tyre engineer's answers (quoted).
const LIGHT_TRUCK_RATED: &[(&str, Confidence, &str, &[Rated])] = &[
    (
        "how-to page, trade magazine; E by size sheet",
        Quoted,
        "LT245/75R16",
        &[
            ('C', 50.0, 2205.0),
            ('D', 65.0, 2623.0),
            ('E', 80.0, 3042.0),
        ],
    ),
    ("size sheet", Read, "LT235/85R16", &[('E', 80.0, 3042.0)]),
    ("size sheet", Read, "LT255/85R16", &[('E', 80.0, 3415.0)]),
    (
        "owners' forum, trade magazine; E by size sheet",
        Quoted,
        "LT265/75R16",
        &[
            ('C', 50.0, 2470.0),
            ('D', 65.0, 3000.0),
            ('E', 80.0, 3415.0),
        ],
    ),
    ("size sheet", Read, "LT285/75R16", &[('E', 80.0, 3750.0)]),
    ("size sheet", Read, "LT255/75R17", &[('C', 50.0, 2405.0)]),
    (
        "tyre engineer's answer",
        Quoted,
        "31x10.50R15LT",
        &[('C', 50.0, 2270.0)],
    ),
    (
        "tyre engineer's answer",
        Quoted,
        "LT235/75R15",
        &[('C', 50.0, 1985.0)],
    ),
    (
        "trade magazine",
        Quoted,
        "LT255/70R16",
        &[('C', 50.0, 2205.0)],
    ),
    // The source looks like a dual value; weak.
    (
        "question site, doubtful",
        Quoted,
        "7.50R16LT",
        &[('D', 65.0, 2140.0)],
    ),
    (
        "tyre maker's data in a caravan newsletter",
        Quoted,
        "LT225/75R16",
        &[('E', 80.0, 2680.0)],
    ),
];

/// Each rated point and those of the lower ranges, from that range's own
/// reference: ratings are rounded to a load index for each range, so these
/// spread wider than a full row.
#[test]
fn light_truck_rated_points() {
    let mut worst = Deviation::NONE;
    for &(source, confidence, size, rated) in LIGHT_TRUCK_RATED {
        for (n, &(range, _, load)) in rated.iter().enumerate() {
            let points: Vec<_> = rated[..=n].iter().map(|&(_, p, l)| (p, l)).collect();
            worst.add(&Row {
                source,
                confidence,
                tyre: &format!("{size} LR {range}"),
                fitment: Fitment::Single,
                load,
                pressure: None,
                units: PSI_LB,
                points: &points,
            });
        }
    }
    // A tyre engineer's answer (quoted), with two lower points.
    worst.add(&Row {
        source: "tyre engineer's answer",
        confidence: Quoted,
        tyre: "LT285/70R17 LR C",
        fitment: Fitment::Single,
        load: 2755.0,
        pressure: None,
        units: PSI_LB,
        points: &[(35.0, 2105.0), (45.0, 2510.0), (50.0, 2755.0)],
    });
    worst.print();
    assert!(worst.over_percent <= 0.9, "{}", worst.over_percent);
    assert!(worst.under_percent <= 1.4, "{}", worst.under_percent);
    // Finding: LT285/70R17 at 45 psi; the law asks 44.44 for 2,510 lb.
    worst.short_as_measured(3.87);
}

/// Source: a tyre maker's size sheets (Toyo Tires; read): load range E at 65
/// psi on these widths, where a narrow tyre of the range has 80.
#[test]
fn wide_light_truck_tyres_are_not_looked_up_by_load_range() {
    for (tyre, load) in [("LT305/70R16 E", 3525.0), ("LT315/75R16 E", 3860.0)] {
        let designation = Designation::parse(tyre).expect("a designation");
        let moulded = |pressure| Moulded {
            load_single: Some(pounds(load)),
            pressure,
            ..Moulded::default()
        };
        let capacity = |pressure| {
            Capacity::new(
                &designation,
                &moulded(pressure),
                Fitment::Single,
                Vehicle::Other,
            )
        };
        assert_eq!(
            capacity(None),
            Err(CapacityError::ReferencePressureNeeded),
            "{tyre}"
        );
        let asked = capacity(Some(in_psi(65.0)))
            .expect("a capacity")
            .load_minimum(pounds(load));
        near(tyre, asked.get::<psi>(), 65.0, 1e-9);
    }
}

/// A load index stands for a rated load rounded to its own steps. Source: a
/// tyre maker's size sheets (Toyo Tires; read), lb and index side by side.
#[test]
fn load_index_beside_the_rated_load() {
    let mut worst = 0.0_f64;
    for (tyre, pressure, load) in [
        ("LT235/85R16 120/116 LR E", 80.0, 3042.0),
        ("LT255/85R16 123/120 LR E", 80.0, 3415.0),
        ("LT265/75R16 123/120 LR E", 80.0, 3415.0),
        ("LT285/75R16 126/123 LR E", 80.0, 3750.0),
        ("LT255/75R17 111/108 LR C", 50.0, 2405.0),
    ] {
        let designation = Designation::parse(tyre).expect("a designation");
        let by_index = Capacity::new(
            &designation,
            &Moulded::default(),
            Fitment::Single,
            Vehicle::Other,
        )
        .expect("a capacity");
        let over = by_index.reference_load_per_tyre() / pounds(load);
        let percent = 100.0 * (over.value - 1.0);
        let asked = by_index.load_minimum(pounds(load));
        println!(
            "size sheet (read); {tyre}: index {percent:+.2} % beside {load} lb, which asks {:.2} psi \
             beside {pressure}",
            asked.get::<psi>()
        );
        worst = worst.max(percent);
    }
    // Finding: index 120 is 1,400 kg and the sheet says 3,042 lb, 1,380 kg:
    // by index alone the law asks 78.1 psi where the sheet has 80.
    near("worst index, % over the rated load", worst, 1.46, 0.01);
}

/// A tyre maker's guide (Michelin; read): 205/65R15C, kg per tyre and, in
/// dual, per pair; the lb line of the same guide in the comments.
const COMMERCIAL_SINGLE: [(f64, f64); 6] = [
    (210.0, 535.0), // 1175
    (240.0, 595.0), // 1310
    (280.0, 675.0), // 1485, which is 673.6 kg
    (310.0, 730.0), // 1605
    (340.0, 785.0), // 1730
    (375.0, 850.0), // 1875
];
const COMMERCIAL_PAIR: [(f64, f64); 6] = [
    (210.0, 1005.0),
    (240.0, 1120.0),
    (280.0, 1265.0),
    (310.0, 1375.0),
    (340.0, 1480.0),
    (375.0, 1600.0),
];

/// Stated tolerance 1 kg, and it holds wherever the law carries more than the
/// row. Finding: at 280 kPa the single row stands 2.15 kg above the law, on
/// the safe side: the kg line is in steps of 5, and its own lb line gives
/// 673.6 kg there, 0.7 kg above the law.
#[test]
fn commercial_row() {
    let per_tyre = COMMERCIAL_PAIR.map(|(pressure, pair)| (pressure, pair / 2.0));
    let row = |fitment, load, points| Row {
        source: "tyre maker's guide",
        confidence: Read,
        tyre: "205/65R15C",
        fitment,
        load,
        pressure: Some(375.0),
        units: KPA_KG,
        points,
    };
    let single = Deviation::of([row(Fitment::Single, 850.0, &COMMERCIAL_SINGLE)]);
    assert!(single.over_kg <= 1.0);
    near(
        "single, kg under the row at 280 kPa",
        single.under_kg,
        2.15,
        0.01,
    );
    single.short_as_measured(0.50);
    let others = Deviation::of(
        COMMERCIAL_SINGLE
            .iter()
            .filter(|point| point.0 != 280.0)
            .map(|point| row(Fitment::Single, 850.0, std::slice::from_ref(point))),
    );
    assert!(others.over_kg <= 1.0 && others.under_kg <= 1.0);

    let dual = Deviation::of([row(Fitment::Dual, 800.0, &per_tyre)]);
    assert!(dual.over_kg <= 1.0 && dual.under_kg <= 1.0);
    dual.short_as_measured(0.43);
}

/// A chassis textbook's table (D. Crolla, ed., "Automotive Engineering:
/// Powertrain, Chassis System and Vehicle Body", chapter 10.1, p. 290 of a
/// digital copy; extract read; editor and year from memory): standard
/// passenger tyres, kg by load index at 1.5 to 2.5 bar in steps of 0.1.
const TEXTBOOK: [(u32, [f64; 11]); 8] = [
    (
        69,
        [
            215.0, 225.0, 240.0, 250.0, 260.0, 270.0, 285.0, 295.0, 305.0, 315.0, 325.0,
        ],
    ),
    (
        72,
        [
            235.0, 250.0, 260.0, 275.0, 285.0, 295.0, 310.0, 320.0, 330.0, 345.0, 355.0,
        ],
    ),
    (
        75,
        [
            255.0, 270.0, 285.0, 300.0, 310.0, 325.0, 335.0, 350.0, 360.0, 375.0, 387.0,
        ],
    ),
    (
        78,
        [
            280.0, 295.0, 310.0, 325.0, 340.0, 355.0, 370.0, 385.0, 400.0, 410.0, 425.0,
        ],
    ),
    (
        80,
        [
            300.0, 315.0, 330.0, 345.0, 360.0, 375.0, 390.0, 405.0, 420.0, 435.0, 450.0,
        ],
    ),
    (
        82,
        [
            315.0, 330.0, 350.0, 365.0, 380.0, 395.0, 415.0, 430.0, 445.0, 460.0, 475.0,
        ],
    ),
    (
        85,
        [
            340.0, 360.0, 380.0, 395.0, 415.0, 430.0, 450.0, 465.0, 480.0, 500.0, 515.0,
        ],
    ),
    (
        87,
        [
            360.0, 380.0, 400.0, 420.0, 440.0, 455.0, 475.0, 490.0, 510.0, 525.0, 545.0,
        ],
    ),
];

/// Stated tolerance 5 kg, the table's own step; 2.5 kg, half of it, holds.
#[test]
fn passenger_textbook_table() {
    let mut worst = Deviation::NONE;
    for (index, loads) in TEXTBOOK {
        let points: Vec<_> = loads
            .into_iter()
            .enumerate()
            .map(|(n, load)| (150.0 + 10.0 * n as f64, load))
            .collect();
        worst.add(&Row {
            source: "textbook table",
            confidence: Read,
            // The size is invented: only index and family count. It has no
            // aspect ratio, so that no standard load is known for it.
            tyre: &format!("175R14 {index}T"),
            fitment: Fitment::Single,
            load: loads[10],
            pressure: None,
            units: KPA_KG,
            points: &points,
        });
    }
    worst.print();
    assert!(worst.over_kg <= 2.5 && worst.under_kg <= 2.5);
    // Finding, within the rounding: index 69 at 160 kPa prints 225 kg, for
    // which the law asks 157.9.
    worst.short_as_measured(2.12);
}

/// Source: a trade magazine and a caravan newsletter (quoted): P235/75R15
/// carries 2,028 lb at 35 psi, extra load 2,183 lb at 41. The law takes 250
/// and 290 kPa, so that it never asks less than these.
#[test]
fn passenger_ratings_of_the_other_standards_body() {
    let row = |tyre, pressure, load: f64, points| Row {
        source: "trade magazine",
        confidence: Quoted,
        tyre,
        fitment: Fitment::Single,
        load,
        pressure,
        units: PSI_LB,
        points,
    };
    let worst = Deviation::of([
        row("P235/75R15", None, 2028.0, &[(35.0, 2028.0)]),
        row("P235/75R15 XL", None, 2183.0, &[(41.0, 2183.0)]),
    ]);
    assert!(worst.short_kpa < 0.0 && worst.over_percent < 0.0);
}

/// Source: a special-trailer chart (Goodyear) given to a boating magazine and
/// reproduced in a forum thread (quoted): lb at 35, 50, 65 and 80 psi, the
/// reference pressures of load ranges B, C, D and E.
const SPECIAL_TRAILER: [(&str, &[f64]); 6] = [
    ("ST205/75R15", &[1480.0, 1820.0, 2150.0]),
    ("ST225/75R15", &[1760.0, 2150.0, 2540.0, 2840.0]),
    ("ST215/80R16", &[1820.0, 2200.0, 2600.0, 2910.0]),
    ("ST235/80R16", &[2090.0, 2600.0, 3000.0, 3420.0]),
    ("ST205/80R14", &[1430.0, 1760.0, 2040.0]),
    ("ST185/80R13", &[1200.0, 1480.0]),
];
const SPECIAL_TRAILER_PSI: [f64; 4] = [35.0, 50.0, 65.0, 80.0];

/// The points of each size from each of its load ranges. Taken in pairs, a
/// size's points give exponents from 0.53 to 0.64, so that 0.585 can only be
/// in their midst: within 2 %, as the points spread.
#[test]
fn special_trailer_points() {
    let mut worst = Deviation::NONE;
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    for (size, loads) in SPECIAL_TRAILER {
        let points: Vec<_> = SPECIAL_TRAILER_PSI
            .into_iter()
            .zip(loads.iter().copied())
            .collect();
        for (n, range) in "BCDE".chars().enumerate().take(points.len()).skip(1) {
            worst.add(&Row {
                source: "special-trailer chart",
                confidence: Quoted,
                tyre: &format!("{size} {range}"),
                fitment: Fitment::Single,
                load: points[n].1,
                pressure: None,
                units: PSI_LB,
                points: &points[..=n],
            });
            let exponent =
                (points[n].1 / points[n - 1].1).ln() / (points[n].0 / points[n - 1].0).ln();
            least = least.min(exponent);
            most = most.max(exponent);
        }
    }
    println!("exponents between neighbours: {least:.3} to {most:.3}");
    assert!(least < 0.585 && 0.585 < most);
    worst.print();
    assert!(worst.over_percent <= 1.4, "{}", worst.over_percent);
    assert!(worst.under_percent <= 1.9, "{}", worst.under_percent);
    // Finding: ST215/80R16 D at 50 psi; the law asks 48.85 for 2,200 lb.
    worst.short_as_measured(7.91);
}

/// Source: 49 CFR 571.120 S5.1.2, quoted in NHTSA interpretation nht76-1.47
/// (letter read): a passenger tyre's load rating is divided by 1.10 on a
/// trailer, truck or multipurpose vehicle. Index 104, 900 kg, gives 818 kg;
/// the letter's other form of the rule is at most 91 %.
#[test]
fn passenger_tyres_carry_less_on_anything_but_a_car() {
    let tyre = Designation::parse("P245/70R16 104T").expect("a designation");
    let on = |vehicle| {
        let moulded = Moulded::default();
        Capacity::new(&tyre, &moulded, Fitment::Single, vehicle)
            .expect("a capacity")
            .reference_load_per_tyre()
            .get::<kilogram>()
    };
    assert_eq!(on(Vehicle::PassengerCar), 900.0);
    assert_eq!(on(Vehicle::Other).round(), 818.0);
    assert_eq!((100.0 * on(Vehicle::Other) / 900.0).round(), 91.0);
    // Only passenger tyres.
    let van = Designation::parse("195R14C 106/104P").expect("a designation");
    let moulded = Moulded {
        pressure: Some(GaugePressure::new::<kilopascal>(450.0)),
        ..Moulded::default()
    };
    let van = Capacity::new(&van, &moulded, Fitment::Single, Vehicle::Other);
    assert_eq!(
        van.expect("a capacity")
            .reference_load_per_tyre()
            .get::<kilogram>(),
        950.0
    );
}

/// Computed from the rows named above.
#[test]
fn check_vectors() {
    let capacity = |tyre, pressure, load, units| {
        Row {
            source: "",
            confidence: Read,
            tyre,
            fitment: Fitment::Single,
            load,
            pressure: Some(pressure),
            units,
            points: &[],
        }
        .capacity()
    };
    // 3,042 lb at 80 psi, for 2,030 lb: 44.9 psi (published step 45).
    let light_truck = capacity("LT235/85R16 E", 80.0, 3042.0, PSI_LB);
    let asked = light_truck.load_minimum(pounds(2030.0));
    near("LT, psi", asked.get::<psi>(), 44.9, 0.05);
    // 850 kg at 375 kPa, for 595 kg: 240.1 kPa (published 240).
    let commercial = capacity("205/65R15C", 375.0, 850.0, KPA_KG);
    let asked = commercial.load_minimum(Mass::new::<kilogram>(595.0));
    near("C, kPa", asked.get::<kilopascal>(), 240.1, 0.05);
    // At half load: 0.371 and 0.420 of the reference pressure.
    for (capacity, share) in [(light_truck, 0.371), (commercial, 0.420)] {
        let half = capacity.reference_load_per_tyre() / 2.0;
        let asked = capacity.load_minimum(half);
        near(
            "half load",
            asked.ratio_to(capacity.reference_pressure_cold()),
            share,
            0.0006,
        );
    }
}

/// Source: US Standard Atmosphere 1976 as a university page gives it (read):
/// 101.325 kPa at sea level and 84.556 at 1,500 m. The same air, carried up
/// at one temperature, reads 256.8 kPa where it read 240.
#[test]
fn a_gauge_reads_more_higher_up() {
    let ambient = AbsolutePressure::new::<kilopascal>;
    let below = GaugePressure::new::<kilopascal>(240.0).to_absolute(ambient(101.325));
    let above = below.to_gauge(ambient(84.556));
    near("at 1,500 m, kPa", above.get::<kilopascal>(), 256.8, 0.05);
}

/// Source: J. W. Daws, "Inflation Pressures at Less-Than-Maximum Tire Loads",
/// Tire Society, 2009 (abstract read); equation 9 and the worked value as an
/// owners' forum restates them (quoted): 1,720 of 1,850 at 50 psi, printed as
/// 46.4 and exactly 46.49.
#[test]
fn stiffness_model_worked_value() {
    let row = Row {
        source: "",
        confidence: Quoted,
        tyre: "LT235/75R15 C",
        fitment: Fitment::Single,
        load: 1850.0,
        pressure: Some(50.0),
        units: PSI_LB,
        points: &[],
    };
    let capacity = row.capacity();
    let asked = capacity.stiffness_minimum(pounds(1720.0)).get::<psi>();
    near("exact", asked, 1720.0 / 1850.0 * 50.0, 1e-9);
    near("as printed", asked, 46.4, 0.1);
    // It asks for more at part load than the law, and as much at full load.
    let law = capacity.load_minimum(pounds(1720.0));
    assert!(law.get::<psi>() < asked);
    let full = capacity.stiffness_minimum(pounds(1850.0));
    near("full load", full.get::<psi>(), 50.0, 1e-9);
}

/// How hard the published ratings work their tyres, beside the bounds above
/// which a sidewall counts as misread (0.95, 2.25 and 0.65, our own) and those
/// above which a second mark is asked for (0.88, 2.08 and 0.55). Each rating
/// must be inside, and two fifths more load outside of both.
#[test]
fn published_ratings_lie_inside_the_bounds_for_misread_sidewalls() {
    let print = |tyre: &Designation,
                 size: &str,
                 load: Mass,
                 pressure,
                 exponent: f64,
                 bound: f64,
                 asked: f64| {
        let loading = tyre.loading(load, pressure, exponent);
        println!("{size}: works at {loading:.3}, asked from {asked}, bound {bound}");
        assert!(loading < asked, "{size} {loading}");
        assert!(loading * 1.4 > bound, "{size} {loading}");
    };
    for &(_, _, size, rated) in LIGHT_TRUCK_RATED {
        let tyre = Designation::parse(size).expect("a designation");
        for &(range, at, load) in rated {
            print(
                &tyre,
                &format!("{size} {range}"),
                pounds(load),
                in_psi(at),
                0.70,
                0.95,
                0.88,
            );
        }
    }
    for (size, loads) in SPECIAL_TRAILER {
        let tyre = Designation::parse(size).expect("a designation");
        for (at, load) in SPECIAL_TRAILER_PSI.into_iter().zip(loads) {
            let size = format!("{size} {at} psi");
            print(&tyre, &size, pounds(*load), in_psi(at), 0.585, 2.25, 2.08);
        }
    }
    for (size, load, at) in [
        // Sources: the row above (read), and a vehicle handbook as quoted in an
        // owners' forum (quoted).
        ("205/65R15C", 850.0, 375.0),
        ("225/75R16CP", 1250.0, 475.0),
    ] {
        let tyre = Designation::parse(size).expect("a designation");
        let pressure = GaugePressure::new::<kilopascal>(at);
        print(
            &tyre,
            size,
            Mass::new::<kilogram>(load),
            pressure,
            0.80,
            0.65,
            0.55,
        );
    }
}
