//! Where published neighbours fall beside the surface bands, which are
//! themselves common practice with no source.

use crate::{in_psi, near, pounds};
use tyreside::calc::footprint::TyreGeometry;
use tyreside::calc::pressure::{Axle, FLOOR_KPA, Setting};
use tyreside::calc::quantity::{GaugePressure, GaugeStep, Mass, kilogram, kilopascal, psi};
use tyreside::calc::regime::SlowRule;
use tyreside::calc::surface::Surface;
use tyreside::calc::tyre::capacity::{Capacity, Fitment, Moulded, Vehicle};
use tyreside::calc::tyre::designation::Designation;

/// A band as shares of the sealed pressure.
fn shares(surface: Surface) -> (f64, f64) {
    let band = surface.band().expect("a band");
    band.shares().expect("shares")
}

/// Where a share of the sealed pressure falls beside a band.
#[derive(Debug, PartialEq)]
enum Place {
    /// Under the low end by this many hundredths of the sealed pressure.
    Below(f64),
    Within,
    /// Over the high end by this many.
    Above(f64),
}

/// To a tenth of a percent, as the sources' whole psi allow no more.
fn tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

fn place(what: &str, share: f64, surface: Surface) -> Place {
    let (low, high) = shares(surface);
    let place = if share < low {
        Place::Below(tenth(100.0 * (low - share)))
    } else if share > high {
        Place::Above(tenth(100.0 * (share - high)))
    } else {
        Place::Within
    };
    println!(
        "{what}: {:.1} % of sealed; {surface:?} {:.0}-{:.0} %: {place:?}",
        100.0 * share,
        100.0 * low,
        100.0 * high
    );
    place
}

/// Source: a military truck's operator manual, TM 9-2320-364-10 table 2-7
/// (read): psi by setting, front and rear. A heavy truck at full load: its
/// order and shares are compared, not its pressures.
pub(crate) const MILITARY_SETTINGS: [(&str, f64, f64); 4] = [
    ("highway", 65.0, 75.0),
    ("cross-country", 34.0, 38.0),
    ("mud, sand, snow", 20.0, 23.0),
    ("emergency", 15.0, 18.0),
];

/// Every setting of both axles as a share of highway, beside every band.
#[test]
fn beside_a_military_trucks_table() {
    let (_, front_highway, rear_highway) = MILITARY_SETTINGS[0];
    let mut at = Vec::new();
    for (setting, front, rear) in MILITARY_SETTINGS {
        let shares = [front / front_highway, rear / rear_highway];
        println!(
            "{setting}: front {front} psi, {:.1} %; rear {rear} psi, {:.1} %",
            100.0 * shares[0],
            100.0 * shares[1]
        );
        let places: Vec<_> = Surface::ALL
            .into_iter()
            .filter(|surface| *surface != Surface::Sealed)
            .map(|surface| {
                [("front", shares[0]), ("rear", shares[1])]
                    .map(|(axle, share)| place(&format!("{setting}, {axle}"), share, surface))
            })
            .collect();
        at.push(places);
        // Even its emergency pressures keep above our floor.
        for lowest in [front, rear] {
            assert!(in_psi(lowest).get::<kilopascal>() > FLOOR_KPA);
        }
    }

    use Place::{Above, Below, Within};
    // Gravel, dirt, corrugations, rock, mud, sand, bogged; front and rear.
    let [highway, country, soft, emergency] = &at[..] else {
        panic!("four settings");
    };
    assert!(
        highway
            .iter()
            .flatten()
            .all(|place| matches!(place, Above(_)))
    );
    // Softer than our roads of dirt, as our rock and mud are.
    assert_eq!(
        country[..],
        [
            [Below(17.7), Below(19.3)],
            [Below(7.7), Below(9.3)],
            [Below(2.7), Below(4.3)],
            [Within, Within],
            [Within, Within],
            [Above(7.3), Above(5.7)],
            [Above(19.3), Above(17.7)],
        ]
    );
    // Softer than our mud and sand: what that table keeps for soft ground we
    // keep for a bogged rig, and its emergency lies below that.
    assert_eq!(
        soft[4..],
        [
            [Below(14.2), Below(14.3)],
            [Below(4.2), Below(4.3)],
            [Within, Within]
        ]
    );
    assert_eq!(
        emergency[4..],
        [
            [Below(21.9), Below(21.0)],
            [Below(11.9), Below(11.0)],
            [Below(4.9), Below(4.0)]
        ]
    );
}

/// Source: a forest service's study of 1987 (quoted): a loaded truck on 110
/// psi, and 45 psi at 25 mph or less.
#[test]
fn beside_a_loaded_forest_truck() {
    assert_eq!(
        place("slow forest road", 45.0 / 110.0, Surface::Sand),
        Place::Within
    );
    assert_eq!(
        place("slow forest road", 45.0 / 110.0, Surface::Rock),
        Place::Below(9.1)
    );
}

/// Source: a national park service's beach-driving page, Cape Lookout (read):
/// 20 to 25 psi in all tyres, 25 mph.
#[test]
fn beside_a_park_services_beach_pressures() {
    let band = Surface::Sand.band().expect("a band");
    let (low, high) = shares(Surface::Sand);
    let sand = |sealed: f64| (sealed * low, sealed * high);
    for sealed in [36.0, 40.0, 45.0, 50.0, 55.0, 60.0] {
        let (low, high) = sand(sealed);
        println!("sand from {sealed} psi sealed: {low:.1}-{high:.1} psi beside 20-25");
    }
    // A heavy rig on 50 psi: the middle of our band is their low end.
    near("middle from 50 psi", 50.0 * (low + high) / 2.0, 20.0, 1e-9);
    let (low, high) = sand(50.0);
    assert!(low < 20.0 && high > 20.0 && high < 25.0);
    // Finding: a light vehicle on 36 psi comes out below their 20 psi
    // altogether, by 3.8 psi at the high end. A share of the sealed pressure
    // goes lower there than a fixed figure does.
    near("36 psi, high end", sand(36.0).1, 20.0 - 3.8, 1e-9);
    // From 44.4 psi sealed the bands overlap, to 71.4 psi.
    assert!(sand(44.4).1 < 20.0 && sand(44.5).1 > 20.0);
    assert!(sand(71.4).0 < 25.0 && sand(71.5).0 > 25.0);
    // Their 25 mph is our sand's 40 km/h.
    let ours = band
        .speed()
        .get::<tyreside::calc::quantity::kilometer_per_hour>();
    near("25 mph", 25.0 * 1.609_344, ours, 0.3);
}

/// Source: a regional tourism body's dirt-road series (read; not a road
/// authority): 36 psi on sealed road to 26 on dirt, which it calls 75 %.
#[test]
fn beside_a_regional_bodys_dirt_pressures() {
    let share = 26.0 / 36.0;
    assert_eq!(
        place("36 to 26 psi on dirt", share, Surface::Dirt),
        Place::Above(2.2)
    );
    assert_eq!(
        place("36 to 26 psi on dirt", share, Surface::Gravel),
        Place::Within
    );
}

pub(crate) fn light_truck(wheel_load: Mass) -> Axle {
    of("LT265/75R16 123/120Q E", None, wheel_load)
}

/// An axle of two such tyres, the moulded pressure in kilopascals.
pub(crate) fn of(tyre: &str, moulded_kpa: Option<f64>, wheel_load: Mass) -> Axle {
    let tyre = Designation::parse(tyre).expect("a designation");
    let capacity = Capacity::new(
        &tyre,
        &Moulded {
            pressure: moulded_kpa.map(GaugePressure::new::<kilopascal>),
            ..Moulded::default()
        },
        Fitment::Single,
        Vehicle::Other,
    )
    .expect("a capacity");
    Axle {
        capacity,
        wheel_load,
        tyres: 2,
        placard: None,
        wheel_maximum: None,
        own_sealed: None,
        floor: GaugePressure::new::<kilopascal>(FLOOR_KPA),
        needs_makers_figure: false,
        shape: TyreGeometry::of(&tyre).ok(),
        slow: SlowRule::default(),
    }
}

/// Common practice, no source: 50 psi on sealed road gives 30 to 35 psi on
/// dirt. The invented axle is light enough for the band to stand.
#[test]
fn fifty_psi_sealed_gives_thirty_to_thirty_five_on_dirt() {
    let axle = Axle {
        own_sealed: Some(in_psi(50.0)),
        ..light_truck(pounds(1600.0))
    };
    for setting in [Setting::HoldToTables, Setting::Practice] {
        let answer = axle
            .on(
                Surface::Dirt,
                Surface::Dirt.band(),
                setting,
                GaugeStep::one_psi(),
            )
            .expect("an answer");
        near("sealed", answer.sealed.pressure.get::<psi>(), 50.0, 1e-9);
        near("low end", answer.low.get::<psi>(), 30.0, 1e-9);
        near("high end", answer.high.get::<psi>(), 35.0, 1e-9);
        let recommended = answer.recommended.get::<psi>();
        assert!((30.0..=35.0).contains(&recommended), "{recommended}");
    }
}

/// An invented light-truck tyre of 1,550 kg at 550 kPa, n = 0.70: what the
/// law asks before floors and rounding, worked by hand from the formula.
#[test]
fn worked_example() {
    for (load, expected) in [(700.0, 25.6), (900.0, 36.7), (1100.0, 48.9)] {
        let load = Mass::new::<kilogram>(load);
        let capacity = light_truck(load).capacity;
        let asked = capacity.load_minimum(load).get::<psi>();
        println!("{load:?} asks {asked:.2} psi");
        near("worked example", asked, expected, 0.05);
    }
}
