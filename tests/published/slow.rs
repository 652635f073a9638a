//! Slow driving on soft ground, beside what has been published.
//!
//! What was read and where is in `slow/facts.md`. Neither the 30 % of section
//! height nor the half of the load minimum has a source; here they stand beside
//! a military table, the bands of practice and the load tables.

use crate::python::accepts;
use crate::surfaces::{MILITARY_SETTINGS, of};
use crate::{in_psi, near};
use serde_json::{Map, Value, json};
use tyreside::calc::pressure::{Answer, Axle, Decided, SealedReason, Setting};
use tyreside::calc::quantity::{
    GaugePressure, GaugeStep, Mass, Velocity, inch, kilogram, kilometer_per_hour, kilopascal,
    millimeter, psi,
};
use tyreside::calc::surface::Surface;

/// Invented wheels of usual sizes: designation, moulded kPa where it is asked
/// for, exponent of its law, kg on the wheel, psi on sealed road.
const RIGS: [(&str, Option<f64>, f64, f64, f64); 20] = [
    ("LT265/75R16 123/120Q E", None, 0.7, 600.0, 36.0),
    ("LT265/75R16 123/120Q E", None, 0.7, 720.0, 38.0),
    ("LT265/75R16 123/120Q E", None, 0.7, 905.0, 50.0),
    ("LT265/75R16 123/120Q E", None, 0.7, 1000.0, 50.0),
    ("LT265/75R16 123/120Q E", None, 0.7, 1100.0, 50.0),
    ("LT265/75R16 123/120Q E", None, 0.7, 1300.0, 65.0),
    ("LT265/75R16 123/120Q E", None, 0.7, 1500.0, 78.0),
    ("LT285/75R16 126/123Q E", None, 0.7, 900.0, 42.0),
    ("LT245/75R16 120/116S E", None, 0.7, 800.0, 45.0),
    ("LT235/85R16 120/116R E", None, 0.7, 850.0, 45.0),
    ("LT235/85R16 120/116R E", None, 0.7, 1200.0, 70.0),
    ("LT315/75R16 127/124Q E", Some(450.0), 0.7, 1200.0, 50.0),
    ("31x10.50R15LT 109Q C", None, 0.7, 700.0, 38.0),
    ("LT285/70R17 121/118R E", None, 0.7, 950.0, 50.0),
    ("P265/70R17 115T", Some(300.0), 0.8, 900.0, 38.0),
    ("P265/65R17 112H", Some(350.0), 0.8, 850.0, 40.0),
    ("195R14C 106/104P", Some(450.0), 0.8, 700.0, 50.0),
    ("225/75R16C 116/114R", Some(475.0), 0.8, 1000.0, 55.0),
    ("205/65R15C 102/100T", Some(375.0), 0.8, 650.0, 45.0),
    ("ST225/75R15 117/112M E", None, 0.585, 900.0, 60.0),
];

fn axle((tyre, moulded, _, load, sealed): (&str, Option<f64>, f64, f64, f64)) -> Axle {
    Axle {
        own_sealed: Some(in_psi(sealed)),
        ..of(tyre, moulded, Mass::new::<kilogram>(load))
    }
}

fn on(axle: &Axle, surface: Surface) -> Answer {
    let answer = axle
        .on(
            surface,
            surface.band(),
            Setting::HoldToTables,
            GaugeStep::one_psi(),
        )
        .expect("an answer");
    // Else the rig is not the one that it says it is.
    assert_eq!(answer.sealed.reason, SealedReason::Own);
    answer
}

fn deflection(axle: &Axle, pressure: GaugePressure) -> f64 {
    let shape = axle.shape.expect("measures");
    let stiffness = shape.stiffness(pressure).kilogram_force_per_millimetre();
    let height = shape.section_height().get::<millimeter>();
    axle.wheel_load.get::<kilogram>() / stiffness / height
}

/// Each rig's figures for soft ground beside the load tables, the band, and the
/// shares of the military table for mud, sand and snow and for an emergency.
#[test]
fn twenty_rigs_beside_the_tables_the_bands_and_a_military_table() {
    let rear = MILITARY_SETTINGS.map(|(_, _, rear)| rear);
    let (soft, emergency) = (rear[2] / rear[0], rear[3] / rear[0]);
    let kmh = Velocity::new::<kilometer_per_hour>;
    let mut decided = Vec::new();
    let (mut sand_shares, mut most) = (Vec::new(), 0.0_f64);
    println!("psi; pressed in, of section height; band and military shares of sealed");
    for rig in RIGS {
        let axle = axle(rig);
        let (tyre, _, _, load, sealed) = rig;
        let [rock, mud, sand, bogged] =
            [Surface::Rock, Surface::Mud, Surface::Sand, Surface::Bogged].map(|s| on(&axle, s));
        let tables = sand.load_minimum;
        let number = |p: GaugePressure| p.get::<psi>();
        let (low, high) = sand.band.expect("a band");
        println!(
            "{tyre}, {load} kg from {sealed}: tables {:.1}; rock {:.0}, mud {:.0}, sand {:.0} \
             ({:?}, {:.1} %), bogged {:.0} ({:?}, {:.1} %); rule {:.1} up to 40, {:.1} up to 10 \
             km/h; band of sand {:.1}-{:.1}; military {:.1} on sand, {:.1} in an emergency",
            number(tables),
            number(rock.recommended),
            number(mud.recommended),
            number(sand.recommended),
            sand.decided,
            100.0 * deflection(&axle, sand.recommended),
            number(bogged.recommended),
            bogged.decided,
            100.0 * deflection(&axle, bogged.recommended),
            number(axle.least_at(kmh(40.0))),
            number(axle.least_at(kmh(10.0))),
            number(low),
            number(high),
            sealed * soft,
            sealed * emergency,
        );
        for answer in [&rock, &mud, &sand, &bogged] {
            most = most.max(deflection(&axle, answer.recommended));
            assert!(answer.recommended <= on(&axle, Surface::Dirt).recommended);
            assert!(answer.reserve > -1e-6);
        }
        // Never softer than the military table's shares for the like ground:
        // that truck is at its full load.
        assert!(number(sand.recommended) > sealed * soft);
        assert!(number(bogged.recommended) > sealed * emergency);
        sand_shares.push(sand.recommended.ratio_to(sand.sealed.pressure));
        decided.extend([sand.decided, bogged.decided]);
    }
    let least = sand_shares.iter().copied().fold(f64::INFINITY, f64::min);
    let greatest = sand_shares.iter().copied().fold(0.0, f64::max);
    println!(
        "sand: {:.0} to {:.0} % of sealed; most pressed in {:.1} %",
        100.0 * least,
        100.0 * greatest,
        100.0 * most
    );
    assert!(most <= 0.30 * (1.0 + 1e-9));
    for kind in [Decided::Band, Decided::LoadShare, Decided::Deflection] {
        assert!(decided.contains(&kind), "{kind:?} decides nowhere");
    }
    // As measured: a heavy rig on sand is told at most this.
    near("greatest share on sand", greatest, 0.50, 0.001);
}

fn figures() -> Value {
    let figures = |rig: (&str, Option<f64>, f64, f64, f64)| {
        let axle = axle(rig);
        let (_, _, exponent, load, sealed) = rig;
        let shape = axle.shape.expect("measures");
        let surfaces: Map<String, Value> = Surface::ALL
            .into_iter()
            .filter(|surface| *surface != Surface::Sealed)
            .map(|surface| {
                let answer = on(&axle, surface);
                let figures = json!({
                    "least_kpa": answer.least.get::<kilopascal>(),
                    "recommended_psi": answer.recommended.get::<psi>(),
                });
                (format!("{surface:?}"), figures)
            })
            .collect();
        let limit = axle.capacity.speed_limit().expect("a speed symbol");
        json!({
            "given": {
                "section_mm": shape.section_width().get::<millimeter>(),
                "aspect_pct": 100.0 * (shape.section_height() / shape.section_width()).value,
                "rim_in": shape.rim_diameter().get::<inch>(),
                "load_kg": load,
                "sealed_psi": sealed,
                "index_kg": axle.capacity.reference_load_per_tyre().get::<kilogram>(),
                "reference_kpa": axle.capacity.reference_pressure_cold().get::<kilopascal>(),
                "exponent": exponent,
                "tyre_kmh": limit.get::<kilometer_per_hour>(),
            },
            "load_minimum_kpa": axle.capacity.load_minimum(axle.wheel_load).get::<kilopascal>(),
            "surfaces": surfaces,
        })
    };
    RIGS.into_iter().map(figures).collect()
}

#[test]
fn figures_agree_with_an_independent_reproduction() {
    assert!(accepts("slow_check.py", &figures()));
}

#[test]
fn the_independent_reproduction_notices_a_wrong_figure() {
    let mut figures = figures();
    let sand = &mut figures[4]["surfaces"]["Sand"]["recommended_psi"];
    *sand = json!(sand.as_f64().expect("a number") - 1.0);
    assert!(!accepts("slow_check.py", &figures));
}
