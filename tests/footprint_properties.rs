//! What holds of every footprint that is given, and of every refusal.

#![cfg(not(target_arch = "wasm32"))]

use proptest::prelude::*;
use tyreside::calc::footprint::{
    Change, Construction, Footprint, Ground, MAX_DEFLECTION_SHARE, MAX_RELATIVE_DEFLECTION,
    Refusal, TyreGeometry, Wheel,
};
use tyreside::calc::limits::Field;
use tyreside::calc::quantity::{
    GaugePressure, Length, Mass, inch, kilogram, kilogram_force, kilopascal, millimeter,
    square_millimeter,
};

/// Room for the last digits of a double.
const ROUNDING: f64 = 1e-12;

fn within(field: Field) -> impl Strategy<Value = f64> {
    let limit = field.limit();
    limit.min..=limit.max
}

fn tyre() -> impl Strategy<Value = TyreGeometry> {
    (
        within(Field::SectionWidth),
        within(Field::AspectRatio),
        within(Field::RimDiameter),
    )
        .prop_map(|(width, aspect, rim)| {
            TyreGeometry::metric(
                Length::new::<millimeter>(width),
                aspect,
                Length::new::<inch>(rim),
            )
            .unwrap()
        })
}

fn wheel(tyre: TyreGeometry, load: f64) -> Wheel {
    let load = Mass::new::<kilogram>(load);
    Wheel::new(tyre, Construction::Radial, Ground::Firm, load).unwrap()
}

/// A wheel that the model answers for, and the pressures at two places of its
/// range. The load is drawn from what the tyre can be given at 700 kPa.
fn answered() -> impl Strategy<Value = (Wheel, GaugePressure, GaugePressure)> {
    (tyre(), 0.0..=1.0, 0.0..=1.0, 0.0..=1.0).prop_map(|(tyre, load, low, high)| {
        let stiffest = tyre
            .stiffness(GaugePressure::new::<kilopascal>(700.0))
            .kilogram_force_per_millimetre();
        let flattest = (MAX_RELATIVE_DEFLECTION * tyre.free_radius().get::<millimeter>())
            .min(MAX_DEFLECTION_SHARE * tyre.section_height().get::<millimeter>());
        let limit = Field::WheelLoad.limit();
        let most = (0.999 * stiffest * flattest).min(limit.max);
        let wheel = wheel(tyre, limit.min + load * (most - limit.min));
        let (least, greatest) = wheel.pressure_range().unwrap();
        let at = |share: f64| (least + (greatest - least).scaled(share)).min(greatest);
        let (low, high) = (at(low), at(high));
        (wheel, low.min(high), low.max(high))
    })
}

fn finite(footprint: &Footprint) -> bool {
    let numbers = [
        footprint.stiffness.kilogram_force_per_millimetre(),
        footprint.deflection.get::<millimeter>(),
        footprint.relative_deflection,
        footprint.deflection_share,
        footprint.loaded_radius.get::<millimeter>(),
        footprint.length.get::<millimeter>(),
        footprint.width.get::<millimeter>(),
        footprint.area().get::<square_millimeter>(),
        footprint.ground_pressure().get::<kilopascal>(),
        footprint.chord().get::<millimeter>(),
    ];
    numbers.iter().all(|n| n.is_finite() && *n > 0.0)
}

fn estimate_lies_between(change: &Change) -> bool {
    let growth = change.growth;
    growth.least <= growth.estimate * (1.0 + ROUNDING)
        && growth.estimate <= growth.greatest * (1.0 + ROUNDING)
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 100_000,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn prop_lower_pressure_never_gives_less((wheel, low, high) in answered()) {
        let down = wheel.change(high, low).unwrap();
        prop_assert!(down.after.area() >= down.before.area());
        prop_assert!(down.after.length >= down.before.length);
        prop_assert!(down.after.width >= down.before.width);
        prop_assert!(down.after.ground_pressure() <= down.before.ground_pressure());
        prop_assert!(down.clearance_lost.get::<millimeter>() >= 0.0);
        prop_assert!(down.growth.least >= 1.0);
    }

    #[test]
    fn prop_more_load_never_gives_less((heavy, low, _) in answered(), share in 0.0..=1.0) {
        let loaded = heavy.footprint(low).unwrap();
        let least = Field::WheelLoad.limit().min;
        let most = loaded.force.get::<kilogram_force>();
        let lighter: f64 = least + share * (most - least);
        let light = wheel(heavy.tyre(), lighter.max(least));
        let unloaded = light.footprint(low).unwrap();
        prop_assert!(unloaded.area() <= loaded.area() * (1.0 + ROUNDING));
        prop_assert!(unloaded.deflection <= loaded.deflection * (1.0 + ROUNDING));
    }

    #[test]
    fn prop_estimate_lies_between_the_bounds((wheel, low, high) in answered()) {
        let down = wheel.change(high, low).unwrap();
        let up = wheel.change(low, high).unwrap();
        prop_assert!(estimate_lies_between(&down), "{:?}", down.growth);
        prop_assert!(estimate_lies_between(&up), "{:?}", up.growth);
        let there_and_back = down.growth.estimate * up.growth.estimate;
        prop_assert!((there_and_back - 1.0).abs() < ROUNDING);
    }

    #[test]
    fn prop_no_change_is_exactly_one((wheel, low, high) in answered()) {
        for pressure in [low, high] {
            let growth = wheel.change(pressure, pressure).unwrap().growth;
            prop_assert_eq!(growth.least, 1.0);
            prop_assert_eq!(growth.estimate, 1.0);
            prop_assert_eq!(growth.greatest, 1.0);
        }
    }

    #[test]
    fn prop_what_is_given_is_finite_and_within_the_model((wheel, low, high) in answered()) {
        for pressure in [low, high] {
            let footprint = wheel.footprint(pressure).unwrap();
            prop_assert!(finite(&footprint), "{footprint:?}");
            prop_assert!(footprint.relative_deflection <= MAX_RELATIVE_DEFLECTION);
            prop_assert!(footprint.deflection_share <= MAX_DEFLECTION_SHARE);
            let share = (footprint.deflection / wheel.tyre().section_height()).value;
            prop_assert!(footprint.bulges() == (share > 0.30) || (share - 0.30).abs() < ROUNDING);
            prop_assert!(footprint.width < wheel.tyre().section_width());
            prop_assert!(footprint.length < footprint.chord());
            // Between an ellipse and a rectangle of its length and width.
            let ellipse = footprint.greatest_area() * std::f64::consts::FRAC_PI_4;
            prop_assert!(ellipse < footprint.area());
            prop_assert!(footprint.area() < footprint.greatest_area());
        }
    }

    #[test]
    fn prop_pressure_range_is_all_that_is_answered((wheel, _, _) in answered()) {
        let (least, greatest) = wheel.pressure_range().unwrap();
        prop_assert!(wheel.footprint(least).is_ok() && wheel.footprint(greatest).is_ok());
        prop_assert!(wheel.footprint(least.scaled(1.0 - 1e-6)).is_err());
        prop_assert!(wheel.footprint(greatest.scaled(1.0 + 1e-6)).is_err());
    }

    #[test]
    fn prop_every_refusal_is_true(
        tyre in tyre(),
        load in within(Field::WheelLoad),
        pressure in 0.0..1000.0f64,
    ) {
        let wheel = wheel(tyre, load);
        match wheel.footprint(GaugePressure::new::<kilopascal>(pressure)) {
            Ok(footprint) => prop_assert!(finite(&footprint)),
            Err(Refusal::OutOfRange(error)) => {
                prop_assert_eq!(error.limit.field, Field::FootprintPressure);
                prop_assert!(!(80.0..=700.0).contains(&pressure));
            }
            Err(Refusal::TooFlat { given, limit } | Refusal::NearRim { given, limit }) => {
                prop_assert!(given > limit);
            }
            Err(other) => prop_assert!(false, "{other}"),
        }
    }

    #[test]
    fn prop_any_number_is_answered_or_refused(
        numbers in prop::array::uniform5(any::<f64>()),
    ) {
        let [width, aspect, rim, load, pressure] = numbers;
        let (width, rim) = (Length::new::<millimeter>(width), Length::new::<inch>(rim));
        for tyre in [
            TyreGeometry::metric(width, aspect, rim),
            TyreGeometry::flotation(Length::new::<inch>(aspect), width, rim),
            TyreGeometry::metric(
                Length::new::<millimeter>(265.0),
                75.0,
                Length::new::<inch>(16.0),
            ),
        ]
        .into_iter()
        .flatten()
        {
            let pressure = GaugePressure::new::<kilopascal>(pressure);
            for load in [load, 700.0] {
                let load = Mass::new::<kilogram>(load);
                if let Ok(footprint) =
                    Wheel::new(tyre, Construction::Radial, Ground::Firm, load)
                        .and_then(|wheel| wheel.footprint(pressure))
                {
                    prop_assert!(finite(&footprint));
                }
            }
        }
    }

    #[test]
    fn prop_outline_is_closed_within_its_box_and_of_the_stated_area(
        (wheel, low, _) in answered(),
        per_quarter in 24..80usize,
    ) {
        let footprint = wheel.footprint(low).unwrap();
        let outline = footprint.outline(per_quarter);
        prop_assert_eq!(outline.len(), 4 * per_quarter);
        let half_length = footprint.length.get::<millimeter>() / 2.0;
        let half_width = footprint.width.get::<millimeter>() / 2.0;
        let mut twice_area = 0.0;
        for (i, point) in outline.iter().enumerate() {
            prop_assert!(point.along.abs() <= half_length * (1.0 + ROUNDING));
            prop_assert!(point.across.abs() <= half_width * (1.0 + ROUNDING));
            let next = outline[(i + 1) % outline.len()];
            twice_area += point.along * next.across - next.along * point.across;
        }
        let stated = footprint.area().get::<square_millimeter>();
        let drawn = twice_area / 2.0;
        prop_assert!(drawn <= stated && drawn > 0.995 * stated, "{drawn} of {stated}");
    }
}

#[test]
fn refusals_name_what_was_given() {
    let tyre = TyreGeometry::metric(
        Length::new::<millimeter>(265.0),
        75.0,
        Length::new::<inch>(16.0),
    )
    .unwrap();
    let load = Mass::new::<kilogram>(700.0);
    assert_eq!(
        Wheel::new(tyre, Construction::Diagonal, Ground::Firm, load),
        Err(Refusal::NotRadial {
            given: Construction::Diagonal
        })
    );
    assert_eq!(
        Wheel::new(tyre, Construction::Radial, Ground::Soft, load),
        Err(Refusal::NotFirm {
            given: Ground::Soft
        })
    );
    let shown = |refusal: Refusal| refusal.to_string();
    let wheel = wheel(tyre, 800.0);
    let at = |kpa: f64| wheel.footprint(GaugePressure::new::<kilopascal>(kpa));
    assert_eq!(
        shown(at(60.0).unwrap_err()),
        "FootprintPressure: 60 is not within 80 to 700 KiloPascal"
    );
    assert!(shown(at(80.0).unwrap_err()).starts_with("deflection over free radius 0.162"));
}

/// A tyre this low stands on its rim before the deflection is a large share of
/// its radius.
#[test]
fn low_profile_tyre_is_refused_near_its_rim() {
    let tyre = TyreGeometry::metric(
        Length::new::<millimeter>(255.0),
        25.0,
        Length::new::<inch>(20.0),
    )
    .unwrap();
    let refusal = wheel(tyre, 800.0).footprint(GaugePressure::new::<kilopascal>(190.0));
    assert!(
        matches!(refusal, Err(Refusal::NearRim { .. })),
        "{refusal:?}"
    );
    let (least, _) = wheel(tyre, 800.0).pressure_range().unwrap();
    let footprint = wheel(tyre, 800.0).footprint(least).unwrap();
    assert!(footprint.bulges());
    assert!((footprint.deflection_share - MAX_DEFLECTION_SHARE).abs() < 1e-6);
}
