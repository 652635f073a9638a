//! The footprint in figures and words.
//!
//! Area, its growth and the deflection are what the model is for, and have
//! their digits. Length and width each miss measured prints by up to a third,
//! so they are rounded to the centimetre; so is what follows from them.

use crate::calc::footprint::{BULGING_SHARE, Change, Construction, Footprint, Ground, Refusal};
use crate::calc::limits::Field;
use crate::calc::quantity::{
    Area, GaugePressure, Length, kilopascal, millimeter, square_centimeter,
};
use crate::calc::surface::Surface;
use crate::decimal;
use crate::rig::footprint::{Footing, NoFootprint};
use crate::rig::{PressureUnit, Units};
use crate::ui::kit::format::Entry;
use crate::ui::{kit::format, kit::words};

/// A length in whole millimetres.
pub fn millimetres(length: Length) -> String {
    format!("{} mm", decimal::fixed(length.get::<millimeter>(), 0))
}

/// A length of the contact, in whole centimetres.
pub fn centimetres(length: Length) -> String {
    let tenths = length.get::<millimeter>() / 10.0;
    format!("{} cm", decimal::fixed(tenths, 0))
}

fn area_number(area: Area) -> String {
    decimal::fixed(area.get::<square_centimeter>(), 0)
}

/// An area.
pub fn area(area: Area) -> String {
    format!("{} cm²", area_number(area))
}

/// A growth.
pub fn times(ratio: f64) -> String {
    format!("×{}", decimal::fixed(ratio, 2))
}

/// The bounds of the growth.
pub fn bounds(change: &Change) -> String {
    let [least, greatest] = [change.growth.least, change.growth.greatest].map(times);
    format!("{least} to {greatest}")
}

/// Deflection in hundredths of the section height.
pub fn share(footprint: &Footprint) -> String {
    let percent = footprint.deflection_share * 100.0;
    // What is flagged reads as above the mark, and what is not does not.
    let whole = if footprint.bulges() {
        percent.ceil()
    } else {
        percent.round()
    };
    format!("{} %", decimal::fixed(whole, 0))
}

/// Mean ground pressure: it hangs on the area, so it has two figures or so.
pub fn ground_pressure(footprint: &Footprint, unit: PressureUnit) -> String {
    let gauge = GaugePressure::new::<kilopascal>(footprint.ground_pressure().get::<kilopascal>());
    let number = unit.number(gauge);
    let number = match unit {
        PressureUnit::Psi => decimal::fixed(number, 0),
        PressureUnit::Kpa => decimal::fixed((number / 10.0).round() * 10.0, 0),
        PressureUnit::Bar => decimal::fixed(number, 1),
    };
    format!("{number} {}", format::unit_mark(unit))
}

/// A row of the table of figures.
pub enum Row {
    /// A figure of each footprint.
    Each(&'static str, fn(&Footprint, PressureUnit) -> String),
    /// A figure of the change.
    Change(&'static str, fn(&Change) -> String),
}

/// The table of figures.
pub const ROWS: [Row; 9] = [
    Row::Each("Area", |footprint, _| area(footprint.area())),
    Row::Change("Its growth, estimated", |change| {
        times(change.growth.estimate)
    }),
    Row::Change("Bounds of its growth", bounds),
    Row::Each("Length, about", |footprint, _| {
        centimetres(footprint.length)
    }),
    Row::Each("Width, about", |footprint, _| centimetres(footprint.width)),
    Row::Each("Mean ground pressure, about", ground_pressure),
    Row::Each("Deflection", |footprint, _| {
        millimetres(footprint.deflection)
    }),
    Row::Each("of the section height", |footprint, _| share(footprint)),
    Row::Change("Ground clearance lost, about", |change| {
        millimetres(change.clearance_lost)
    }),
];

impl Row {
    /// Its name.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Each(name, _) | Self::Change(name, _) => name,
        }
    }

    /// At the higher pressure.
    pub fn before(&self, change: &Change, unit: PressureUnit) -> String {
        match self {
            Self::Each(_, figure) => figure(&change.before, unit),
            Self::Change(..) => "—".to_owned(),
        }
    }

    /// At the lower pressure, or between the two.
    pub fn after(&self, change: &Change, unit: PressureUnit) -> String {
        match self {
            Self::Each(_, figure) => figure(&change.after, unit),
            Self::Change(_, figure) => figure(change),
        }
    }
}

/// The areas before and after.
pub fn areas(change: &Change) -> String {
    format!(
        "{} to {}",
        area_number(change.before.area()),
        area(change.after.area())
    )
}

/// Where a deflection is large, that it is.
pub fn bulging(footprint: &Footprint) -> Option<String> {
    footprint.bulges().then(|| {
        format!(
            "The tyre is pressed in by {} of its section height. Above {} % the sidewall bulges \
             far, heats and is easily cut (from memory, no source): drive slowly, and pump up.",
            share(footprint),
            decimal::fixed(BULGING_SHARE * 100.0, 0)
        )
    })
}

/// The load reserve at a pressure, and whether the load is carried.
pub fn carried(footing: &Footing, pressure: GaugePressure, unit: PressureUnit) -> (bool, String) {
    let Some((reserve, fastest)) = footing.carried(pressure) else {
        return (
            false,
            "What this tyre carries is not known here: add its load index and load range. The \
             drawing says nothing about it."
                .to_owned(),
        );
    };
    let here = format!(
        "at {} and {} ({})",
        format::pressure(unit, pressure),
        format::speed(footing.speed),
        surface(footing.surface)
    );
    if reserve >= 0.0 {
        let reserve = format::signed_percent(reserve);
        return (true, format!("Load reserve {reserve} {here}."));
    }
    // Away from zero: what is short is not rounded down.
    let short = decimal::fixed((-reserve * 100.0 - 1e-9).ceil(), 0);
    let carried = match fastest {
        Some(speed) => format!("It will do up to {}.", format::speed(speed)),
        None => "It will do at no speed.".to_owned(),
    };
    (
        false,
        format!("Too little air {here}: {short} % short of the load. {carried}"),
    )
}

/// A surface within a sentence.
pub fn surface(surface: Surface) -> String {
    words::surface_heading(surface).to_ascii_lowercase()
}

/// The surfaces whose band a pressure lies in.
pub fn bands_at(footing: &Footing, pressure: GaugePressure) -> String {
    let slack = GaugePressure::new::<kilopascal>(1e-6);
    let within = footing
        .bands
        .iter()
        .filter(|(_, low, high)| *low <= pressure + slack && pressure <= *high + slack)
        .map(|(surface, ..)| words::surface(*surface));
    let names: Vec<_> = within.collect();
    if !names.is_empty() {
        return format!("in the band of {}", names.join(", ").to_ascii_lowercase());
    }
    let below = footing.bands.iter().all(|(_, low, _)| pressure < *low);
    if below {
        "below every band".to_owned()
    } else if pressure >= footing.sealed {
        "the sealed-road pressure".to_owned()
    } else {
        "in no band".to_owned()
    }
}

/// The ends of the slider, lower and higher.
pub fn ends(footing: &Footing, unit: PressureUnit) -> [String; 2] {
    let low = if footing.ends_above_floor() {
        "model ends"
    } else {
        "floor"
    };
    let high = if footing.ends_below_sealed() {
        "model ends"
    } else {
        "sealed"
    };
    let p = |pressure| format::pressure(unit, pressure);
    [
        format!("{} {low}", p(footing.low)),
        format!("{high} {}", p(footing.high)),
    ]
}

/// Why the slider ends short of the sealed pressure or the floor.
pub fn cut(footing: &Footing, unit: PressureUnit) -> Option<String> {
    let p = |pressure| format::pressure(unit, pressure);
    let low = footing.ends_above_floor().then(|| {
        format!(
            "Below {} the estimate no longer holds for this load: the tyre would be too flat. \
             The floor is {}.",
            p(footing.low),
            p(footing.floor)
        )
    });
    let high = footing.ends_below_sealed().then(|| {
        format!(
            "The estimate holds up to {} only; the sealed-road pressure is {}. All growth is \
             counted from {0}.",
            p(footing.high),
            p(footing.sealed)
        )
    });
    let both: Vec<_> = low.into_iter().chain(high).collect();
    (!both.is_empty()).then(|| both.join(" "))
}

/// Where the estimate holds, and how far to trust it.
pub fn validity(unit: PressureUnit) -> [String; 3] {
    let range = words::within(Field::FootprintPressure.limit(), Entry::Pressure(unit));
    [
        format!(
            "For a radial tyre, upright on firm ground, standing or slow, at {range}. On sand, \
             mud or snow the tyre sinks and the true footprint is larger."
        ),
        "Measured prints of road tyres had the area within 10 %; length and width are rougher. \
         None was measured on a tall sidewall or below 165 kPa (24 psi), where the tyre may grow \
         less than estimated: the bounds say as much. Tread gaps are counted in."
            .to_owned(),
        "Estimate by published formulas for stiffness (Rhyne 2005, coefficients from memory) and \
         contact (Besselink, Schmeitz and Pacejka 2010)."
            .to_owned(),
    ]
}

/// What goes with every load reserve.
pub const NO_LICENCE: &str = "A bigger footprint is no licence to go below what the load asks for.";

/// What goes with every footprint.
pub const CAUTIONS: [&str; 2] = [
    "Pump up before sealed road. No sharp steering or hard braking at low pressure: the bead can \
     come off the rim.",
    "The tyre placard, the makers of vehicle, wheel and tyre and local law come first. In doubt, \
     ask a licensed tyre fitter.",
];

/// Why there is no footprint.
pub fn none(why: &NoFootprint, units: Units) -> String {
    let unit = units.pressure;
    let p = |pressure| format::pressure(unit, pressure);
    match why {
        NoFootprint::Axle(problem) => words::problem(problem, units),
        NoFootprint::Blank(Field::WheelLoad) => "Enter the load on the tyre.".to_owned(),
        NoFootprint::Blank(_) => "Enter the tyre's pressure on sealed road.".to_owned(),
        NoFootprint::Sealed(why) => words::own_refused(*why, unit),
        NoFootprint::NothingToLetOut { sealed, floor } => format!(
            "There is no air to let out: the tyre is used at {} on sealed road, and {} is the \
             least here.",
            p(*sealed),
            p(*floor)
        ),
        NoFootprint::Model(refusal) => refused(refusal, units),
    }
}

fn refused(refusal: &Refusal, units: Units) -> String {
    let percent = |share: f64| decimal::fixed(share * 100.0, 0);
    match refusal {
        Refusal::NotRadial {
            given: Construction::Radial | Construction::Diagonal,
        } => "This is a diagonal tyre. The estimate was made from radials, and a diagonal tyre \
              flattens otherwise."
            .to_owned(),
        Refusal::NotFirm {
            given: Ground::Firm | Ground::Soft,
        } => "The estimate is for firm ground; on soft ground a tyre sinks.".to_owned(),
        Refusal::OutOfRange(error) => words::out_of_range_in(*error, units),
        Refusal::TooFlat { limit, .. } => format!(
            "Too flat: this load would press the tyre in by more than {} % of its radius, where \
             the estimate no longer holds. Is the load that of one tyre?",
            percent(*limit)
        ),
        Refusal::NearRim { limit, .. } => format!(
            "Too flat: this load would press the tyre in by more than {} % of its section height, \
             near the rim. Is the load that of one tyre?",
            percent(*limit)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::footprint::FootprintOf;
    use crate::rig::typed::in_unit::{kg, kpa};
    use crate::rig::{Rig, Surface as Stored};

    fn typed(tyre: &str, load: f64) -> FootprintOf {
        FootprintOf {
            typed: true,
            tyre: tyre.to_owned(),
            load: Some(kg(load)),
            sealed: Some(kpa(345.0)),
            ..FootprintOf::default()
        }
    }

    fn worked() -> Footing {
        let rig = Rig {
            unit: PressureUnit::Kpa,
            ..Rig::demo()
        };
        typed("LT265/75R16 123/120Q E", 700.0)
            .footing(&rig)
            .expect("a footing")
    }

    fn change_at(footing: &Footing, kpa: f64) -> Change {
        let pressure = PressureUnit::Kpa.reading(kpa);
        footing.wheel.change(footing.high, pressure).unwrap()
    }

    /// The design's worked case as it reads on the page.
    #[test]
    fn worked_case_reads_as_reviewed() {
        let change = change_at(&worked(), 207.0);
        let unit = PressureUnit::Kpa;
        assert_eq!(areas(&change), "201 to 291 cm²");
        let shown: Vec<_> = ROWS
            .iter()
            .map(|row| {
                let (before, after) = (row.before(&change, unit), row.after(&change, unit));
                format!("{}: {before}; {after}", row.name())
            })
            .collect();
        assert_eq!(
            shown,
            [
                "Area: 201 cm²; 291 cm²",
                "Its growth, estimated: —; ×1.45",
                "Bounds of its growth: —; ×1.25 to ×1.58",
                "Length, about: 14 cm; 18 cm",
                "Width, about: 17 cm; 19 cm",
                "Mean ground pressure, about: 340 kPa; 240 kPa",
                "Deflection: 17 mm; 27 mm",
                "of the section height: 8 %; 13 %",
                "Ground clearance lost, about: —; 10 mm",
            ]
        );
        assert_eq!(bulging(&change.after), None);
    }

    /// Deflections near 30 % of the section height.
    #[test]
    fn above_three_tenths_it_is_said_and_the_figure_shows_it() {
        let footing = worked();
        let heavy = |kg: f64| {
            let footing = typed("265/75R16", kg).footing(&Rig::demo()).unwrap();
            footing.change(0).unwrap().after
        };
        let mut said = Vec::new();
        for kg in 800..=950 {
            let footprint = heavy(f64::from(kg));
            let shown: f64 = share(&footprint).trim_end_matches(" %").parse().unwrap();
            assert_eq!(bulging(&footprint).is_some(), shown > 30.0, "{kg} kg");
            said.push(footprint.bulges());
        }
        assert!(said.contains(&true) && said.contains(&false));
        assert!(bulging(&footing.change(0).unwrap().before).is_none());
    }

    #[test]
    fn too_little_air_is_said_at_the_pressure_and_the_speed() {
        let mut rig = Rig::demo();
        rig.surface = Stored::Dirt;
        let of = FootprintOf {
            axle: rig.axles[1].id,
            ..FootprintOf::default()
        };
        let unit = PressureUnit::Psi;
        let footing = of.footing(&rig).unwrap();
        let (within, text) = carried(&footing, footing.high, unit);
        assert!(within, "{text}");
        assert!(
            text.ends_with("at 50 psi and 80 km/h (dirt road)."),
            "{text}"
        );
        let (within, text) = carried(&footing, footing.low, unit);
        assert!(!within);
        assert_eq!(
            text,
            "Too little air at 16 psi and 80 km/h (dirt road): 45 % short of the load. It will do \
             up to 10 km/h."
        );
        let mut unknown = footing;
        unknown.axle = None;
        let (within, text) = carried(&unknown, unknown.high, unit);
        assert!(!within && text.contains("not known"));
    }

    #[test]
    fn a_pressure_is_named_by_its_bands() {
        let footing = worked();
        let at = |kpa: f64| bands_at(&footing, PressureUnit::Kpa.reading(kpa));
        assert_eq!(at(345.0), "the sealed-road pressure");
        assert_eq!(at(300.0), "in no band");
        assert_eq!(at(207.0), "in the band of dirt, corrugations, rock");
        assert_eq!(at(130.0), "in the band of soft sand");
        assert_eq!(at(80.0), "below every band");
    }
}
