//! That nothing of a footprint's drawings lies outside its box, which is no
//! wider than the page is at 360 px.

#![cfg(not(target_arch = "wasm32"))]

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;
use tyreside::rig::footprint::{Footing, FootprintOf};
use tyreside::rig::typed::in_unit::{kg, kmh, kpa, percent};
use tyreside::rig::{AxleId, OwnBand, PressureUnit, Rig};
use tyreside::ui::views::footprint::drawing::{self, CHARACTER};

/// 360 px less the page's margins of 12 px.
const PAGE: f64 = 336.0;

/// Coordinates are written to a tenth.
const WRITTEN: f64 = 0.05 + 1e-9;

const TYRES: [&str; 8] = [
    "LT265/75R16 123/120Q E",
    "31x10.50R15LT 109S C",
    "37x12.50R17LT 124R D",
    "195R14C 106/104P",
    "145/80R10",
    "255/25R20",
    "455/100R26",
    "7.50R16LT 116/114N D",
];

/// Points of a drawing; a text counts as wide as it may come out.
fn points(svg: &str) -> Vec<(f64, f64)> {
    let mut points = Vec::new();
    for element in svg.split('<').skip(2) {
        let name = element.split([' ', '>', '/']).next().unwrap();
        let attribute = |name: &str| -> Option<&str> {
            let (_, rest) = element.split_once(&format!(" {name}=\""))?;
            rest.split('"').next()
        };
        let number = |name: &str| -> f64 { attribute(name).unwrap().parse().unwrap() };
        match name {
            "line" => {
                points.push((number("x1"), number("y1")));
                points.push((number("x2"), number("y2")));
            }
            "polygon" => {
                for pair in attribute("points").unwrap().split_whitespace() {
                    let (x, y) = pair.split_once(',').unwrap();
                    points.push((x.parse().unwrap(), y.parse().unwrap()));
                }
            }
            "path" => points.extend(path(attribute("d").unwrap())),
            "text" => {
                let text = element.split_once('>').unwrap().1;
                let width = CHARACTER * text.chars().count() as f64;
                let (x, y) = (number("x"), number("y"));
                let from = match attribute("text-anchor").unwrap() {
                    "start" => x,
                    "middle" => x - width / 2.0,
                    "end" => x - width,
                    other => panic!("anchor {other}"),
                };
                points.extend([(from, y - 10.0), (from + width, y + 3.0)]);
            }
            "" => {}
            closing => assert_eq!(closing, "svg", "not checked here: {element}"),
        }
    }
    points
}

/// A path's points, those that steer its curves included. Its arcs end level
/// with their circle's centre, so they lie within their ends' box and the
/// circle's lowest point.
fn path(d: &str) -> Vec<(f64, f64)> {
    let spaced: String = d
        .chars()
        .flat_map(|c| {
            let space = c.is_ascii_alphabetic().then_some(' ');
            space.into_iter().chain([c]).chain(space)
        })
        .collect();
    let (mut command, mut numbers, mut points) = (' ', Vec::<f64>::new(), Vec::new());
    for token in spaced.split_whitespace() {
        match token.parse() {
            Ok(number) => numbers.push(number),
            Err(_) => {
                assert!(numbers.is_empty(), "{command} with odd numbers in {d}");
                command = token.chars().next().unwrap();
                assert!("MLQAZ".contains(command), "{command} is not checked here");
            }
        }
        let needed = match command {
            'A' => 7,
            _ => 2,
        };
        if numbers.len() == needed {
            points.push((numbers[needed - 2], numbers[needed - 1]));
            numbers.clear();
        }
    }
    points
}

fn within_its_box(svg: &str) -> Result<(), TestCaseError> {
    prop_assert!(svg.starts_with("<svg viewBox=\"0 0 ") && svg.ends_with("</svg>"));
    prop_assert!(!svg.contains('—') && !svg.contains("NaN"), "{svg}");
    let size = svg.split('"').nth(1).unwrap();
    let size: Vec<f64> = size.split(' ').map(|n| n.parse().unwrap()).collect();
    let (width, height) = (size[2], size[3]);
    prop_assert!(width <= PAGE, "{width} is wider than the page");
    let points = points(svg);
    for (x, y) in points {
        prop_assert!((-WRITTEN..=width + WRITTEN).contains(&x), "x {x}: {svg}");
        prop_assert!((-WRITTEN..=height + WRITTEN).contains(&y), "y {y}: {svg}");
    }
    Ok(())
}

fn band() -> impl Strategy<Value = OwnBand> {
    let surfaces = select(&tyreside::calc::surface::Surface::ALL[..]);
    (surfaces, 20.0..100.0f64, 0.0..1.0f64, 5.0..130.0f64).prop_map(|(surface, low, up, speed)| {
        OwnBand {
            surface,
            low: percent(low),
            high: percent(low + up * (100.0 - low)),
            speed: kmh(speed),
            ..OwnBand::default()
        }
    })
}

/// A wheel that has a footprint: typed in, or of an axle of the demo.
fn footing() -> impl Strategy<Value = Footing> {
    (
        (any::<bool>(), 0..3u32, select(&TYRES[..])),
        (20.0..4000.0f64, 80.0..700.0f64, 100.0..250.0f64),
        vec(band(), 0..7),
        select(&PressureUnit::ALL[..]),
        select(&tyreside::calc::surface::Surface::ALL[..]),
    )
        .prop_filter_map(
            "refused",
            |((typed, axle, tyre), (load, sealed, floor), bands, unit, surface)| {
                let rig = Rig {
                    floor: kpa(floor),
                    bands,
                    unit,
                    surface,
                    ..Rig::demo()
                };
                let of = FootprintOf {
                    typed,
                    axle: AxleId(axle),
                    tyre: tyre.to_owned(),
                    load: Some(kg(load)),
                    sealed: Some(kpa(sealed)),
                    ..FootprintOf::default()
                };
                of.footing(&rig).ok()
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 3_000,
        max_local_rejects: 1_000_000,
        max_global_rejects: 1_000_000,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn prop_nothing_is_drawn_outside_its_box(
        footing in footing(),
        place in 0.0..=1.0f64,
        unit in select(&PressureUnit::ALL[..]),
    ) {
        let steps = (place * f64::from(footing.steps())).round() as u32;
        let change = footing.change(steps).unwrap();
        let largest = footing.change(0).unwrap().after;
        let tyre = footing.wheel.tyre();
        within_its_box(&drawing::print_before(&change, &largest, unit))?;
        within_its_box(&drawing::print_after(&change, &largest, unit))?;
        within_its_box(&drawing::side_before(&change, tyre))?;
        within_its_box(&drawing::side_after(&change, tyre))?;
        within_its_box(&drawing::marks(&footing))?;
    }
}

/// The check itself: a drawing cut down to a smaller box is noticed.
#[test]
fn a_drawing_beyond_its_box_is_noticed() {
    let footing = FootprintOf::default().footing(&Rig::demo()).unwrap();
    let change = footing.change(0).unwrap();
    for svg in [
        drawing::print_after(&change, &change.after, PressureUnit::Bar),
        drawing::side_after(&change, footing.wheel.tyre()),
        drawing::marks(&footing),
    ] {
        assert!(within_its_box(&svg).is_ok());
        let size = svg.split('"').nth(1).unwrap();
        let height = size.rsplit(' ').next().unwrap();
        for smaller in [
            size.replace(&format!(" {height}"), " 30"),
            size.replace("320", "250").replace("286", "130"),
        ] {
            assert!(
                within_its_box(&svg.replacen(size, &smaller, 1)).is_err(),
                "{smaller}"
            );
        }
    }
}
