//! The footprint against what has been published and measured.
//!
//! What was read and where is in `footprint/facts.md`; the data files beside it
//! carry their sources. `cargo test --test published footprint -- --nocapture`
//! prints the error tables.

use crate::python::accepts;
use serde_json::{Value, json};
use tyreside::calc::footprint::{
    Change, Construction, Footprint, Ground, Growth, Refusal, SHAPE_FACTOR, TyreGeometry, Wheel,
    contact_dimensions,
};
use tyreside::calc::quantity::{
    Force, GaugePressure, Length, Mass, Stiffness, inch, kilogram, kilopascal, millimeter, newton,
    psi, square_centimeter,
};

const POUND_KG: f64 = 0.453_592_37;
const INCH_MM: f64 = 25.4;
const SQUARE_INCH_CM2: f64 = 6.4516;

const PRINTS: &str = include_str!("footprint/prints.csv");
const STIFFNESS: &str = include_str!("footprint/stiffness.csv");
const OFF_ROAD: &str = include_str!("footprint/off_road.csv");

fn tyre(width: f64, aspect: f64, rim: f64) -> TyreGeometry {
    TyreGeometry::metric(
        Length::new::<millimeter>(width),
        aspect,
        Length::new::<inch>(rim),
    )
    .unwrap()
}

fn wheel(tyre: TyreGeometry, load_kg: f64) -> Wheel {
    let load = Mass::new::<kilogram>(load_kg);
    Wheel::new(tyre, Construction::Radial, Ground::Firm, load).unwrap()
}

fn kpa(value: f64) -> GaugePressure {
    GaugePressure::new::<kilopascal>(value)
}

fn pounds_per_square_inch(value: f64) -> GaugePressure {
    GaugePressure::new::<psi>(value)
}

fn mm(length: Length) -> f64 {
    length.get::<millimeter>()
}

/// The rows of a data file, each as its set's name and its numbers.
fn rows(file: &str) -> Vec<(String, Vec<f64>)> {
    file.lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            let named = cells[0].parse::<f64>().is_err();
            let name = if named { cells[0] } else { "" };
            let numbers = cells[usize::from(named)..].iter();
            (
                name.to_owned(),
                numbers.map(|cell| cell.parse().unwrap()).collect(),
            )
        })
        .collect()
}

fn percent_off(model: f64, measured: f64) -> f64 {
    100.0 * (model / measured - 1.0)
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn worst(errors: &[f64]) -> f64 {
    errors.iter().fold(0.0, |worst, e| worst.max(e.abs()))
}

/// The design's worked case: 265/75R16, 700 kg, 345 to 207 kPa.
fn worked_case() -> Change {
    wheel(tyre(265.0, 75.0, 16.0), 700.0)
        .change(kpa(345.0), kpa(207.0))
        .unwrap()
}

/// By hand, from Rhyne's form (2005; coefficients from memory):
/// overall 265·75/50 + 406.4 = 803.9 mm; 1.03 − 0.3 = 0.73; √(0.73·265·803.9) =
/// 394.4; ·0.00028 = 0.11042 kgf/mm per kPa; ·345 = 38.09 and ·207 = 22.86;
/// + 3.45 = 41.54 and 26.31 kgf/mm; 700/41.54 = 16.85 and 700/26.31 = 26.61 mm.
#[test]
fn stiffness_and_deflection_as_by_hand() {
    let change = worked_case();
    for (footprint, stiffness, deflection) in
        [(change.before, 41.54, 16.85), (change.after, 26.31, 26.61)]
    {
        let k = footprint.stiffness.kilogram_force_per_millimetre();
        assert!((k - stiffness).abs() < 0.005, "{k}");
        let d = mm(footprint.deflection);
        assert!((d - deflection).abs() < 0.005, "{d}");
    }
    assert!((mm(change.clearance_lost) - 9.76).abs() < 0.005);
}

/// The rest of the worked case, to its shown digits.
#[test]
fn worked_case_to_its_shown_digits() {
    let change = worked_case();
    let shown = [
        (mm(change.before.length), 135.0, 0.5),
        (mm(change.after.length), 178.0, 0.5),
        (mm(change.before.width), 169.0, 0.5),
        (mm(change.after.width), 185.0, 0.5),
        (change.growth.estimate, 1.45, 0.005),
        (change.growth.least, 1.25, 0.005),
        (change.growth.greatest, 1.58, 0.005),
    ];
    for (value, expected, half_digit) in shown {
        assert!(
            (value - expected).abs() <= half_digit,
            "{value} for {expected}"
        );
    }
    assert!(!change.before.bulges() && !change.after.bulges());
}

/// Rectangles 2a·2b from the form of Besselink, Schmeitz and Pacejka (2010) with
/// the coefficients read in open code: R0 0.3135 m, W 0.205 m, Cz 209 651 N/m
/// (inputs from memory) give 105, 186, 222 and 255 cm² at 2, 4, 5 and 6 kN.
#[test]
fn contact_form_gives_its_example() {
    let radius = Length::new::<millimeter>(313.5);
    let width = Length::new::<millimeter>(205.0);
    let stiffness = Stiffness::of(
        Force::new::<newton>(209_651.0),
        Length::new::<millimeter>(1000.0),
    );
    for (load, area) in [
        (2000.0, 105.0),
        (4000.0, 186.0),
        (5000.0, 222.0),
        (6000.0, 255.0),
    ] {
        let deflection = stiffness.deflection(Force::new::<newton>(load));
        let (length, breadth) = contact_dimensions(radius, width, (deflection / radius).value);
        let rectangle = (length * breadth).get::<square_centimeter>();
        assert!((rectangle - area).abs() < 0.5, "{rectangle} for {area}");
    }
}

#[test]
fn stiffness_meets_two_measured_tyres_within_12_percent() {
    println!("stiffness, N/mm: tyre, kPa, measured, model, error %");
    /// Of a kilogram-force, exactly (NIST SP 811, B.8).
    const NEWTONS: f64 = 9.806_65;
    let errors: Vec<f64> = rows(STIFFNESS)
        .iter()
        .map(|(_, row)| {
            let &[width, aspect, rim, pressure, measured] = row.as_slice() else {
                panic!("a row of five: {row:?}")
            };
            let model = tyre(width, aspect, rim)
                .stiffness(kpa(pressure))
                .kilogram_force_per_millimetre()
                * NEWTONS;
            let error = percent_off(model, measured);
            println!(
                "{width}/{aspect}R{rim} {pressure:4.0} {measured:6.1} {model:6.1} {error:+5.1}"
            );
            error
        })
        .collect();
    println!(
        "mean {:+.1} %, worst {:.1} %",
        mean(&errors),
        worst(&errors)
    );
    assert_eq!(errors.len(), 8);
    assert!(worst(&errors) < 12.0 && mean(&errors).abs() < 3.0);
}

/// One measured print and the model's footprint for its load and pressure.
struct Print {
    set: String,
    load: f64,
    pressure: f64,
    area: f64,
    length: f64,
    width: f64,
    model: Footprint,
}

fn prints() -> Vec<Print> {
    rows(PRINTS)
        .into_iter()
        .map(|(set, row)| {
            let &[load, pressure, area, length, width] = row.as_slice() else {
                panic!("a row of five: {row:?}")
            };
            let model = wheel(tyre(255.0, 40.0, 17.0), load * POUND_KG)
                .footprint(pounds_per_square_inch(pressure))
                .unwrap();
            Print {
                set,
                load,
                pressure,
                area: area * SQUARE_INCH_CM2,
                length: length * INCH_MM,
                width: width * INCH_MM,
                model,
            }
        })
        .collect()
}

/// The shape is a property of the print alone: area over length times width.
#[test]
fn shape_factor_is_the_mean_of_the_prints() {
    let shapes: Vec<f64> = prints()
        .iter()
        .map(|p| 100.0 * p.area / (p.length * p.width))
        .collect();
    assert_eq!(shapes.len(), 50);
    let (low, high) = shapes
        .iter()
        .fold((1.0f64, 0.0f64), |(l, h), s| (l.min(*s), h.max(*s)));
    println!(
        "shape of 50 prints: {low:.3} to {high:.3}, mean {:.4}; used {SHAPE_FACTOR:.4}",
        mean(&shapes)
    );
    assert!((mean(&shapes) - SHAPE_FACTOR).abs() < 0.005);
    assert!(low > std::f64::consts::FRAC_PI_4 && high < 1.0);
}

#[test]
fn areas_of_prints_are_met_within_their_spread() {
    println!("set, lb, psi: area cm2 measured, model, error %; length error %; width error %");
    let (mut areas, mut lengths, mut widths) = (vec![], vec![], vec![]);
    for p in prints() {
        let model = p.model.area().get::<square_centimeter>();
        areas.push(percent_off(model, p.area));
        lengths.push(percent_off(mm(p.model.length), p.length));
        widths.push(percent_off(mm(p.model.width), p.width));
        println!(
            "{} {:4} {:2}: {:5.1} {model:5.1} {:+5.1}; {:+5.1}; {:+5.1}",
            p.set,
            p.load,
            p.pressure,
            p.area,
            areas[areas.len() - 1],
            lengths[lengths.len() - 1],
            widths[widths.len() - 1]
        );
    }
    for (what, errors) in [("area", &areas), ("length", &lengths), ("width", &widths)] {
        let size: Vec<f64> = errors.iter().map(|e| e.abs()).collect();
        println!(
            "{what}: mean {:+.1} %, mean size {:.1} %, worst {:.1} %",
            mean(errors),
            mean(&size),
            worst(errors)
        );
    }
    assert_eq!(areas.len(), 50);
    assert!(mean(&areas).abs() < 4.0 && worst(&areas) < 10.0);
    assert!(worst(&lengths) < 32.0 && worst(&widths) < 22.0);
}

fn growth_between(before: &Print, after: &Print) -> Growth {
    wheel(tyre(255.0, 40.0, 17.0), before.load * POUND_KG)
        .change(
            pounds_per_square_inch(before.pressure),
            pounds_per_square_inch(after.pressure),
        )
        .unwrap()
        .growth
}

fn bounded(growth: Growth, measured: f64) -> bool {
    (growth.least..=growth.greatest).contains(&measured)
}

/// Each load of each set, from its highest pressure to its lowest. Pairs of
/// nearer pressures are counted too: there a print's own scatter outweighs the
/// change, and many fall outside the bounds.
#[test]
fn growth_of_prints_is_met_within_their_spread() {
    println!("set, lb, psi to psi: growth measured; least, estimate, greatest; error %");
    let prints = prints();
    let mut errors = vec![];
    let (mut outside, mut pairs_outside, mut pairs) = (0, 0, 0);
    let mut by_set = [("A", vec![]), ("B", vec![])];
    for first in &prints {
        let of_load = || {
            prints
                .iter()
                .filter(|p| p.set == first.set && p.load == first.load)
        };
        let low = of_load()
            .min_by(|a, b| a.pressure.total_cmp(&b.pressure))
            .unwrap();
        let high = of_load()
            .max_by(|a, b| a.pressure.total_cmp(&b.pressure))
            .unwrap();
        for lower in of_load().filter(|p| p.pressure < first.pressure) {
            let growth = growth_between(first, lower);
            pairs += 1;
            pairs_outside += u32::from(!bounded(growth, lower.area / first.area));
        }
        if !std::ptr::eq(first, high) {
            continue;
        }
        let measured = low.area / high.area;
        let growth = growth_between(high, low);
        let error = percent_off(growth.estimate, measured);
        outside += u32::from(!bounded(growth, measured));
        println!(
            "{} {:4} {:2} to {:2}: {measured:.3}; {:.3} {:.3} {:.3}; {error:+5.1}",
            first.set,
            first.load,
            high.pressure,
            low.pressure,
            growth.least,
            growth.estimate,
            growth.greatest
        );
        errors.push(error);
        let set = usize::from(first.set == "B");
        by_set[set].1.push(error);
    }
    for (set, errors) in &by_set {
        println!("set {set}: mean {:+.1} %", mean(errors));
    }
    println!(
        "all: mean {:+.1} %, worst {:.1} %, outside the bounds {outside} of {}",
        mean(&errors),
        worst(&errors),
        errors.len()
    );
    println!("of all pairs of pressures: outside the bounds {pairs_outside} of {pairs}");
    assert_eq!((errors.len(), pairs), (10, 100));
    assert_eq!(outside, 0);
    assert!(pairs_outside <= 30);
    assert!(mean(&errors).abs() < 3.0 && worst(&errors) < 10.0);
}

/// The only set at sand pressures. Loads were assumed by its author, and the
/// lengths are a tape measure's, so the margins are wide; what is refused must be.
#[test]
fn off_road_tyre_is_met_and_refused_below_80_kpa() {
    println!(
        "285/75R16, psi: length mm measured, model, error %; clearance lost mm measured, model"
    );
    let wheel = wheel(tyre(285.0, 75.0, 16.0), 1750.0 * POUND_KG);
    let start = pounds_per_square_inch(50.0);
    let (mut lengths, mut losses, mut refused) = (vec![], vec![], vec![]);
    for (_, row) in rows(OFF_ROAD) {
        let &[pressure, length, loss] = row.as_slice() else {
            panic!("a row of three: {row:?}")
        };
        match wheel.change(start, pounds_per_square_inch(pressure)) {
            Ok(change) => {
                let (length, loss) = (length * INCH_MM, loss * INCH_MM);
                let model = mm(change.after.length);
                let lost = mm(change.clearance_lost);
                lengths.push(percent_off(model, length));
                losses.push(lost - loss);
                let growth = change.growth;
                println!(
                    "{pressure:2}: {length:5.1} {model:5.1} {:+5.1}; {loss:4.1} {lost:4.1}; \
                     {:.2} {:.2}; {:.2} {:.2} {:.2}",
                    lengths[lengths.len() - 1],
                    length / (6.75 * INCH_MM),
                    model / mm(change.before.length),
                    growth.least,
                    growth.estimate,
                    growth.greatest
                );
            }
            Err(Refusal::OutOfRange(error)) => {
                println!("{pressure:2}: {error}");
                refused.push(pressure);
            }
            Err(other) => panic!("{pressure}: {other}"),
        }
    }
    println!(
        "length: mean {:+.1} %, worst {:.1} %; clearance: mean {:+.1} mm, worst {:.1} mm",
        mean(&lengths),
        worst(&lengths),
        mean(&losses),
        worst(&losses)
    );
    assert_eq!(refused, [10.0, 7.0, 5.0]);
    assert_eq!(lengths.len(), 6);
    assert!(worst(&lengths) < 17.0 && worst(&losses) < 10.0);
}

/// The figures that `footprint_check.py` works out again by itself.
fn figures() -> Value {
    let cases = [
        (265.0, 75.0, 16.0, 700.0, 345.0, 207.0),
        (265.0, 75.0, 16.0, 700.0, 207.0, 345.0),
        (285.0, 75.0, 16.0, 793.8, 345.0, 110.0),
        (205.0, 60.0, 15.0, 400.0, 240.0, 150.0),
        (185.0, 80.0, 14.0, 600.0, 450.0, 300.0),
        (255.0, 40.0, 17.0, 454.0, 250.0, 165.0),
    ];
    let footprint = |f: &Footprint| {
        json!({
            "stiffness_kgf_per_mm": f.stiffness.kilogram_force_per_millimetre(),
            "deflection_mm": mm(f.deflection),
            "deflection_share": f.deflection_share,
            "loaded_radius_mm": mm(f.loaded_radius),
            "length_mm": mm(f.length),
            "width_mm": mm(f.width),
            "area_cm2": f.area().get::<square_centimeter>(),
            "ground_pressure_kpa": f.ground_pressure().get::<kilopascal>(),
        })
    };
    cases
        .into_iter()
        .map(|(width, aspect, rim, load, before, after)| {
            let change = wheel(tyre(width, aspect, rim), load)
                .change(kpa(before), kpa(after))
                .unwrap();
            json!({
                "given": {
                    "section_mm": width, "aspect_pct": aspect, "rim_in": rim,
                    "load_kg": load, "before_kpa": before, "after_kpa": after,
                },
                "before": footprint(&change.before),
                "after": footprint(&change.after),
                "growth": {
                    "least": change.growth.least,
                    "estimate": change.growth.estimate,
                    "greatest": change.growth.greatest,
                },
                "clearance_lost_mm": mm(change.clearance_lost),
            })
        })
        .collect()
}

#[test]
fn figures_agree_with_an_independent_reproduction() {
    let figures = figures();
    println!("{figures}");
    assert!(accepts("footprint_check.py", &figures));
}

#[test]
fn independent_reproduction_notices_a_wrong_figure() {
    let mut figures = figures();
    let wrong = figures[0]["growth"]["estimate"].as_f64().unwrap() * 1.000_01;
    figures[0]["growth"]["estimate"] = json!(wrong);
    assert!(!accepts("footprint_check.py", &figures));
}
