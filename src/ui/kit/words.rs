//! The core's findings in words.

use crate::calc::doubt::Doubt;
use crate::calc::limits::{Field, Limit, OutOfRange};
use crate::calc::pressure::{
    Answer, Caution, Decided, Held, Maximum, OwnRefused, Refusal, Sealed, SealedReason, SpeedLimit,
};
use crate::calc::quantity::{GaugePressure, kilometer_per_hour};
use crate::calc::regime::{Regime, SlowRule};
use crate::calc::surface::BandError;
use crate::calc::torque::{Torque, newton_meter};
use crate::calc::tyre::capacity::{CapacityError, Fitment};
use crate::calc::tyre::designation::{Construction, Designation, DesignationError, Part, Standard};
use crate::decimal;
use crate::rig::section::Unreadable;
use crate::rig::{Axle, LoadFrom, MassUnit, Missing, Place, PressureUnit, Problem, Surface, Units};
use crate::store::Trouble;
use crate::store::file::FileError;
use crate::ui::kit::format::{self, Entry, EntryError};

/// A surface's name.
pub fn surface(surface: Surface) -> &'static str {
    match surface {
        Surface::Sealed => "Sealed",
        Surface::Gravel => "Gravel",
        Surface::Dirt => "Dirt",
        Surface::Corrugations => "Corrugations",
        Surface::Rock => "Rock",
        Surface::Mud => "Mud",
        Surface::Sand => "Soft sand",
        Surface::Bogged => "Bogged",
    }
}

/// A surface's name in a heading.
pub fn surface_heading(surface: Surface) -> &'static str {
    match surface {
        Surface::Sealed => "Sealed road",
        Surface::Gravel => "Gravel, formed and graded",
        Surface::Dirt => "Dirt road",
        other => self::surface(other),
    }
}

/// An axle group's name within its rig.
pub fn axle(axle: &Axle) -> &'static str {
    match axle.place {
        Place::Front => "Front",
        Place::Rear => "Rear",
        Place::Trailer => "Trailer",
    }
}

/// So many tyres.
pub fn tyres(count: usize) -> String {
    format!("{count} tyre{}", if count == 1 { "" } else { "s" })
}

/// The range of a field, its ends rounded inward.
pub fn within(limit: Limit, entry: Entry) -> String {
    let [min, max] = [limit.min, limit.max].map(|end| {
        // Inward, so that the ends as shown are allowed; a mark itself may come
        // out a hair beside it.
        let inward = |value: f64, marks: f64| {
            let steps = value * marks;
            let steps = if end == limit.min {
                (steps - 1e-6).ceil()
            } else {
                (steps + 1e-6).floor()
            };
            format::entered(steps / marks)
        };
        let pressure = |unit: PressureUnit| unit.number(PressureUnit::Kpa.reading(end));
        match entry {
            Entry::Pressure(unit @ PressureUnit::Psi) => inward(pressure(unit), 1.0),
            Entry::Pressure(unit @ PressureUnit::Bar) => inward(pressure(unit), 100.0),
            Entry::Mass(unit @ MassUnit::Pound) => {
                inward(unit.number(MassUnit::Kilogram.mass(end)), 1.0)
            }
            Entry::Torque(unit) => inward(unit.of(Torque::new::<newton_meter>(end)), 100.0),
            _ => entry.show(end),
        }
    });
    format!("{min} to {max} {}", entry.mark())
        .trim_end()
        .to_owned()
}

/// What a field allows.
pub fn allowed(limit: Limit, entry: Entry) -> String {
    format!("Allowed: {}.", within(limit, entry))
}

/// Why a typed value is none.
pub fn entry_error(error: EntryError, limit: Limit, entry: Entry) -> String {
    let what = match error {
        EntryError::NotANumber => "This is not a number.",
        EntryError::TwoMarks => "Use one decimal mark, comma or dot.",
        EntryError::UnknownUnit => "This unit is not known here.",
        EntryError::ThousandsOrDecimals => {
            "Is the mark a decimal mark, or does it set thousands apart? Leave it out."
        }
        EntryError::UnitFirst => return "Pick its unit first: then it counts.".to_owned(),
    };
    format!("{what} {}", allowed(limit, entry))
}

/// Why a value that is no mass is out of range.
pub fn out_of_range(error: OutOfRange, unit: PressureUnit) -> String {
    let units = Units {
        pressure: unit,
        mass: MassUnit::default(),
    };
    out_of_range_in(error, units)
}

/// Why a value is out of range.
pub fn out_of_range_in(error: OutOfRange, units: Units) -> String {
    outside(error, Entry::of(error.limit.unit, units))
}

/// Why a value is out of range, where it is typed as `entry`.
pub fn outside(error: OutOfRange, entry: Entry) -> String {
    let side = if error.given < error.limit.min {
        "low"
    } else {
        "high"
    };
    format!("Too {side}. {}", allowed(error.limit, entry))
}

fn part(part: Part) -> &'static str {
    match part {
        Part::FirstNumber => "a size such as 265/75R16, 31x10.50R15 or 7.50R16",
        Part::AspectRatio => "the aspect ratio, such as 75 in 265/75R16",
        Part::SectionWidth => "the section width, such as 10.50 in 31x10.50R15",
        Part::Construction => "R for radial before the rim diameter",
        Part::Rim => "the rim diameter, such as 16 in 265/75R16",
        Part::Standard => "one of LT, ST, P, C or CP",
        Part::LoadIndex => "the load index, such as 123 or 123/120",
        Part::SpeedSymbol => "a speed symbol, such as Q",
        Part::LoadRange => "a load range, such as E",
        Part::Rest => "load index and speed symbol, load range, ply rating or XL",
    }
}

fn sidewall_field(field: Field) -> &'static str {
    match field {
        Field::AspectRatio => "Aspect ratio",
        Field::RimDiameter => "Rim diameter",
        Field::OverallDiameter => "Overall diameter",
        Field::LoadIndex => "Load index",
        Field::PlyRating => "Ply rating",
        _ => "Section width",
    }
}

/// Why a designation was not understood.
pub fn designation_error(error: &DesignationError, unit: PressureUnit) -> String {
    match error {
        DesignationError::Empty => {
            "Enter the tyre as its sidewall says, such as LT265/75R16 123/120Q E.".to_owned()
        }
        DesignationError::TooLong { allowed } => {
            format!("Too long: {allowed} characters at most.")
        }
        DesignationError::NotUnderstood {
            part: expected,
            found,
        } if found.is_empty() => {
            format!("It stops before {}.", part(*expected))
        }
        DesignationError::NotUnderstood {
            part: expected,
            found,
        } => {
            format!(
                "“{found}” was not understood: expected {}.",
                part(*expected)
            )
        }
        DesignationError::Conflict {
            part: Part::Standard,
        } => "It names two tyre standards that don't go together.".to_owned(),
        DesignationError::Conflict {
            part: Part::LoadIndex,
        } => "Its load indices contradict each other: give them once, the single one first."
            .to_owned(),
        DesignationError::Conflict { part: Part::Rim } => {
            "Its overall diameter is no greater than its rim.".to_owned()
        }
        DesignationError::Conflict { .. } => {
            "Its load range and ply rating contradict each other.".to_owned()
        }
        DesignationError::AmbiguousLetter { letter } => format!(
            "{letter} may be the speed symbol or the load range. Write the speed symbol straight \
             behind the load index, or “LR {letter}” for the load range."
        ),
        DesignationError::Temporary => "This is a tyre for temporary use (T): keep to the speed \
                                        and the pressure on its sidewall, and fit a full one."
            .to_owned(),
        DesignationError::OutOfRange(error) => {
            let text = out_of_range(*error, unit);
            format!("{}: t{}", sidewall_field(error.limit.field), &text[1..])
        }
    }
}

/// What was passed over in a designation.
pub fn passed_over(marks: &[String]) -> String {
    if marks.is_empty() {
        return String::new();
    }
    format!(" Not known, and passed over: {}.", marks.join(", "))
}

/// What was understood of a designation.
pub fn designation(tyre: &Designation, mass: MassUnit) -> String {
    let standard = match tyre.standard {
        Standard::LightTruck => "Light-truck tyre",
        Standard::SpecialTrailer => "Special-trailer tyre",
        Standard::Commercial => "Commercial tyre",
        Standard::Camper => "Camper tyre",
        Standard::Passenger if tyre.reinforced => "Passenger tyre, extra load",
        Standard::Passenger => "Passenger tyre, standard load (add XL if it is moulded)",
    };
    let mut text = standard.to_owned();
    if tyre.construction == Construction::Diagonal {
        text += ", diagonal";
    }
    if let Some(service) = tyre.service {
        text += &format!(
            "; load index {} is {}",
            service.single.number(),
            format::mass(mass, service.single.load())
        );
        if let Some(dual) = service.dual {
            text += &format!(" ({} in pairs)", format::mass(mass, dual.load()));
        }
        if let Some(symbol) = service.speed {
            text += &format!("; {} is {}", symbol.symbol(), format::speed(symbol.limit()));
        }
    }
    if let Some(range) = tyre.load_range {
        text += &format!("; load range {}", range.letter());
    }
    text + "."
}

fn missing(missing: Missing) -> &'static str {
    match missing {
        Missing::Left => "Enter the mass on the left side.",
        Missing::Right => "Enter the mass on the right side.",
        Missing::Weighed => "Enter the mass on this axle.",
        Missing::Rating => "Enter the axle's rating.",
        Missing::Alone => "Enter this axle's mass with the van unhitched.",
    }
}

fn capacity_error(error: &CapacityError, units: Units) -> String {
    let unit = units.pressure;
    let kg = |mass| format::mass(units.mass, mass);
    match error {
        CapacityError::DiagonalNotCovered => {
            "This is a diagonal tyre; the published rows these figures were checked against are \
             of radials. Ask the tyre's maker for its load table."
                .to_owned()
        }
        CapacityError::ReferenceLoadNeeded {
            fitment: Fitment::Single,
        } => "How much the tyre carries is not known: add its load index, or the maximum load \
             moulded on the sidewall."
            .to_owned(),
        CapacityError::ReferenceLoadNeeded {
            fitment: Fitment::Dual,
        } => "How much the tyre carries in pairs is not known: add the second load index, or the \
             maximum dual load moulded on the sidewall."
            .to_owned(),
        CapacityError::ReferencePressureNeeded => {
            "The pressure of this tyre's maximum load can't be looked up: enter the cold pressure \
             moulded beside the maximum load, and LT before the size if the sidewall has it."
                .to_owned()
        }
        CapacityError::LoadsDisagree { index, moulded } => format!(
            "The load index says {} and the moulded load says {}: one of them is misread.",
            kg(*index),
            kg(*moulded)
        ),
        CapacityError::PressuresDisagree { range, moulded } => format!(
            "The load range stands for {} and the moulded pressure says {}: one of them is \
             misread.",
            format::pressure(unit, *range),
            format::pressure(unit, *moulded)
        ),
        CapacityError::NotAPassengerPressure { moulded } => format!(
            "{} is more than a passenger tyre holds: enter the LT or C of the sidewall with the \
             size, or check the pressure.",
            format::pressure(unit, *moulded)
        ),
        CapacityError::BeyondItsSize { load, pressure } => format!(
            "No tyre of this size carries {} at {}: check size, load, load range and pressure on \
             the sidewall, and their units.",
            kg(*load),
            format::pressure(unit, *pressure)
        ),
        CapacityError::SecondMarkNeeded { load, pressure } => format!(
            "{} at {} is as much as any tyre of this size carries: a digit or the load range may \
             be misread. Read the maximum load and the cold pressure beside it off the sidewall, \
             and enter both.",
            kg(*load),
            format::pressure(unit, *pressure)
        ),
        CapacityError::ExtraLoadOrMaximumNeeded => {
            "This load index is above standard load for the size. Does the sidewall say XL, extra \
             load or reinforced? Add XL; or LT or C, if it says that. If it says none, enter the \
             maximum pressure moulded."
                .to_owned()
        }
        CapacityError::FamilyMarkNeeded => {
            "A light-truck tyre of this size may have this load index too. Does the sidewall say \
             LT or P beside the size? Add it. If it says neither, enter the maximum pressure \
             moulded."
                .to_owned()
        }
        CapacityError::MinimumAboveMaximum { minimum, maximum } => format!(
            "The least pressure, {}, is above the most, {}.",
            format::pressure(unit, *minimum),
            format::pressure(unit, *maximum)
        ),
        CapacityError::OutOfRange(error) => out_of_range_in(*error, units),
    }
}

fn maximum(limited_by: Maximum) -> &'static str {
    match limited_by {
        Maximum::Sidewall => "the sidewall's maximum",
        Maximum::Standard => {
            "the passenger standard's pressure (enter the one moulded if that is higher)"
        }
        Maximum::Wheel => "the wheel or valve maximum",
    }
}

fn refusal(refusal: &Refusal, units: Units) -> String {
    let unit = units.pressure;
    match refusal {
        Refusal::Overloaded {
            shed,
            limited_by,
            at,
        } => format!(
            "Overloaded by {}. At {}, {}, the tyres carry less than is on them. Take that much \
             off this axle before driving.",
            format::mass_up(units.mass, *shed),
            format::pressure(unit, *at),
            maximum(*limited_by)
        ),
        Refusal::PlacardAboveMaximum {
            placard,
            maximum: most,
            limited_by,
        } => format!(
            "The placard's {} is above {}, {}. Check both; a tyre fitter can say which tyre \
             belongs here.",
            format::pressure(unit, *placard),
            maximum(*limited_by),
            format::pressure(unit, *most)
        ),
        Refusal::OwnAboveMaximum {
            own,
            maximum: most,
            limited_by,
        } => format!(
            "Your own {} is above {}, {}. Check both.",
            format::pressure(unit, *own),
            maximum(*limited_by),
            format::pressure(unit, *most)
        ),
        Refusal::MakersFigureNeeded => "Camper tyres (CP) stand loaded, and single on this axle \
                                        their load alone gives no figure. Enter the vehicle \
                                        maker's pressure as placard pressure or as your own."
            .to_owned(),
        Refusal::WheelMaximumNeeded { figure, moulded } => format!(
            "{} is above the {} moulded. A maker may ask for that of a camper tyre, where wheel \
             and valve allow it: enter the wheel or valve maximum too.",
            format::pressure(unit, *figure),
            format::pressure(unit, *moulded)
        ),
        Refusal::FloorAboveMaximum { floor, maximum } => format!(
            "The rig's floor, {}, is above the most this tyre or wheel may hold, {}.",
            format::pressure(unit, *floor),
            format::pressure(unit, *maximum)
        ),
        Refusal::OutOfRange(error) => out_of_range_in(*error, units),
    }
}

/// Why a band is none.
pub fn band_error(error: &BandError, unit: PressureUnit) -> String {
    match error {
        BandError::OutOfRange(error) => out_of_range(*error, unit),
        BandError::LowAboveHigh => "The band's low end is above its high end.".to_owned(),
    }
}

/// Why an axle has no figure.
pub fn problem(problem: &Problem, units: Units) -> String {
    match problem {
        Problem::LeftBehind => "The van stays behind.".to_owned(),
        Problem::Missing(what) => missing(*what).to_owned(),
        Problem::Tyre(error) => designation_error(error, units.pressure),
        Problem::Capacity(error) => capacity_error(error, units),
        Problem::Band(error) => band_error(error, units.pressure),
        Problem::OutOfRange(error) => out_of_range_in(*error, units),
        Problem::Refused(why) => refusal(why, units),
    }
}

/// Whether a problem is a danger, rather than something still to be entered
/// or put right.
pub fn is_danger(problem: &Problem) -> bool {
    matches!(problem, Problem::Refused(Refusal::Overloaded { .. }))
}

/// Whether a problem is of entries that don't go together, rather than of one
/// that is still missing.
pub fn entries_disagree(problem: &Problem) -> bool {
    match problem {
        Problem::Refused(Refusal::MakersFigureNeeded | Refusal::WheelMaximumNeeded { .. }) => false,
        Problem::Refused(_) => true,
        _ => false,
    }
}

/// What decided, in a few words. `own` where the rig has its own band.
pub fn decided(decided: Decided, own: bool) -> &'static str {
    match decided {
        Decided::Band if own => "your own band",
        Decided::Band => "usual band",
        Decided::Tables | Decided::LoadShare => "least for the load",
        Decided::Deflection => "least for the sidewall",
        Decided::Floor => "least for the bead",
        Decided::Sealed(SealedReason::LoadMinimum) => "least for the load",
        Decided::Sealed(SealedReason::Placard) => "set by the placard",
        Decided::Sealed(SealedReason::LowestRow) => "lowest in the tables",
        Decided::Sealed(SealedReason::Floor) => "least for the bead",
        Decided::Sealed(SealedReason::Own) => "your own figure",
    }
}

/// Whether a speed limit is one of slow driving.
pub fn is_slow(limit: SpeedLimit) -> bool {
    matches!(limit, SpeedLimit::UpTo(speed) if Regime::at(speed) != Regime::Road)
}

/// What decided, in a sentence.
pub fn decided_why(answer: &Answer) -> &'static str {
    let carried = !answer
        .cautions
        .iter()
        .any(|caution| matches!(caution, Caution::Overloaded { .. }));
    match answer.decided {
        Decided::Band if carried => {
            "The middle of the surface's band carries the load at this speed."
        }
        Decided::Band => "The middle of the surface's band; the load asks for more at any speed.",
        Decided::Tables if is_slow(answer.speed) => {
            "There is no figure for slow driving on such tyres, so the load tables hold."
        }
        Decided::Tables => "The load tables ask for more at this speed than the band gives.",
        Decided::Deflection => "Less air would press the sidewall in too far.",
        Decided::LoadShare => "The load asks for more than the band gives, even driven slowly.",
        Decided::Floor => "The band would go below the floor that keeps the bead seated.",
        Decided::Sealed(SealedReason::LoadMinimum) => {
            "The load on the tyre needs this by its load table."
        }
        Decided::Sealed(SealedReason::Placard) => "The tyre placard asks for more than the load.",
        Decided::Sealed(SealedReason::LowestRow) => {
            "The load would need less; this is the lowest pressure the tables have for such a \
             tyre."
        }
        Decided::Sealed(SealedReason::Floor) => "The load would need less than the floor.",
        Decided::Sealed(SealedReason::Own) => "Your own sealed-road figure carries the load.",
    }
}

/// A speed limit.
pub fn speed_limit(limit: SpeedLimit) -> String {
    let (words, speed) = speed_words(limit);
    format!("up to {words}{speed}")
}

/// A speed limit in a heading.
pub fn speed_heading(limit: SpeedLimit) -> String {
    let (words, speed) = speed_words(limit);
    let max = if words.is_empty() { "max " } else { "" };
    format!("{max}{words}{speed}")
}

fn speed_words(limit: SpeedLimit) -> (&'static str, String) {
    // Above any posted limit, a tyre's own says nothing.
    const FASTEST_POSTED_KMH: f64 = 130.0;
    match limit {
        SpeedLimit::UpTo(speed) => ("", format::speed(speed)),
        SpeedLimit::Posted { tyre: Some(tyre) }
            if tyre.get::<kilometer_per_hour>() <= FASTEST_POSTED_KMH =>
        {
            ("posted limit, at most ", format::speed(tyre))
        }
        SpeedLimit::Posted { .. } => ("posted limit", String::new()),
    }
}

/// That tyres are likely to be warm still.
pub fn were_warm(time: &str) -> String {
    format!("They were warm at {time}, less than 3 hours ago.")
}

/// The speed limit of a figure for slow driving, and what road speed asks for,
/// on the gauge.
pub fn slow_only(answer: &Answer, unit: PressureUnit) -> Option<String> {
    let tables = answer.cautions.iter().find_map(|caution| match caution {
        Caution::SlowOnly(tables) => Some(*tables),
        _ => None,
    })?;
    Some(format!(
        "{}; faster from {}",
        speed_limit(answer.speed),
        format::pressure(unit, tables.round_up(unit.step()))
    ))
}

/// Whether the slow rule gives an answer or an alternative to it.
pub fn meets_slow_rule(answer: &Answer) -> bool {
    is_slow(answer.speed) || answer.held.is_some_and(|held| held.slow.is_some())
}

fn slow_speed() -> String {
    let fastest = Regime::Slow.fastest().map(format::speed);
    format!("up to {}", fastest.unwrap_or_default())
}

/// What the slow rule is.
pub fn slow_rule(rule: SlowRule) -> String {
    let percent = |share: f64| decimal::short(share * 100.0, 1);
    format!(
        "{} on ground that gives, the load tables say nothing. Here the tyre may be pressed in by \
         {} % of its section height and needs {} % of its load minimum: common practice, no \
         source.",
        slow_speed().replacen('u', "U", 1),
        percent(rule.deflection()),
        percent(rule.load_share())
    )
}

/// What would let a held pressure come down.
pub fn held(held: &Held, tyres: u8, units: Units) -> String {
    let lower = format::pressure(units.pressure, held.reachable);
    let shed = format::mass_up(units.mass, held.shed);
    let slow = held.slow.map(|slow| {
        let slow = format::pressure(units.pressure, slow);
        format!("{}, {slow} will do. ", slow_speed().replacen('u', "U", 1))
    });
    format!(
        "{}To use {lower} at this speed, take {shed} off these {tyres} tyres.",
        slow.unwrap_or_default()
    )
}

/// That two methods differ, and how far.
pub fn methods_differ(sealed: &Sealed, other: GaugePressure, unit: PressureUnit) -> String {
    // Beside each other by the last digits of a record they are the same.
    let above = |p: GaugePressure| other.ratio_to(p) > 1.0 + 1e-9;
    let advice = if above(sealed.maximum) {
        "That is above what the tyre or wheel may hold: carry less."
    } else if above(sealed.pressure) {
        "In doubt, take the higher on sealed road."
    } else {
        "The sealed-road pressure used here meets both."
    };
    format!(
        "Methods differ: on sealed road the load table asks for {}, a published stiffness model \
         for {}, {} more. {advice}",
        format::pressure_up(unit, sealed.load_minimum),
        format::pressure_up(unit, other),
        format::pressure_up(unit, other - sealed.load_minimum),
    )
}

/// A caution in words.
pub fn caution(caution: Caution, unit: PressureUnit) -> String {
    match caution {
        Caution::PumpUpBeforeSealed => "Pump up before sealed road.".to_owned(),
        Caution::CheckSidewallHeat => {
            "Stop and feel the sidewalls: too hot to hold means slower, or more air.".to_owned()
        }
        Caution::NoSharpSteering => {
            "No sharp steering or hard braking: the bead can come off the rim.".to_owned()
        }
        Caution::OutThenPumpUp => "Only to get out. Then pump up.".to_owned(),
        Caution::BelowLowestRow(row) => format!(
            "Below {}, the lowest pressure that published tables have for such a tyre: worked \
             out beyond them.",
            format::pressure(unit, row)
        ),
        Caution::SlowOnly(_) => {
            "Slow and short only. Above the speed shown the load tables ask for more air: pump up \
             before going faster."
                .to_owned()
        }
        Caution::Overloaded { tables, slow } => {
            let slow = slow.map(|slow| {
                let slow = format::pressure_up(unit, slow);
                format!("driven slowly it takes {slow}, ")
            });
            format!(
                "Too little air for this load at any speed: {}at road speed {}.",
                slow.unwrap_or_default(),
                format::pressure_up(unit, tables)
            )
        }
        Caution::BelowPlacard(placard) => {
            format!(
                "Your own sealed-road figure is below the placard's {}.",
                format::pressure(unit, placard)
            )
        }
        Caution::LeastOnly(model) => {
            let model = model.map(|model| {
                format!(
                    " A published stiffness model asks for {}.",
                    format::pressure_up(unit, model)
                )
            });
            format!(
                "The least for this load, no recommendation: enter the placard's pressure.{}",
                model.unwrap_or_default()
            )
        }
        Caution::Doubted(doubt) => doubted(doubt, unit),
        Caution::SpeedSymbolUnknown => {
            "The tyre's speed symbol was not entered: look for it on the sidewall and stay below \
             it."
            .to_owned()
        }
    }
}

/// Why a mass is doubted, with the slips that come to mind.
fn doubted(doubt: Doubt, unit: PressureUnit) -> String {
    match doubt {
        Doubt::Light { share } => format!(
            "Check the mass: it is {} % of what these tyres carry. Is it one side only, or one \
             axle of two? Is a digit left out? Are there really so many axles and tyres across?",
            decimal::fixed(share * 100.0, 0)
        ),
        Doubt::LessThanFront => "Check the mass: the rear tyres work less hard than the front \
                                 ones. Is it one side only? Is a digit left out? Are there \
                                 really four tyres across?"
            .to_owned(),
        Doubt::FarLessThanRear => "Check the mass: the front tyres work far less hard than the \
                                   rear ones. Is it one side only? Is a digit left out?"
            .to_owned(),
        Doubt::DualInFront => {
            "Check the tyres: are there really four across the front axle?".to_owned()
        }
        Doubt::Placard { swapped } => format!(
            "Check the placard’s pressure: it is far more than this load needs, and {} would do. \
             Are two digits swapped? If the placard says so, it stands.",
            format::pressure(unit, swapped)
        ),
    }
}

/// Whether a caution says that the figure itself is weak, and belongs right
/// beside the number.
pub fn is_grave(caution: Caution, surface: Surface) -> bool {
    match caution {
        // Too much air is no danger by itself.
        Caution::Doubted(Doubt::Placard { .. }) => false,
        Caution::Overloaded { .. } | Caution::Doubted(_) | Caution::OutThenPumpUp => true,
        Caution::BelowLowestRow(_) | Caution::BelowPlacard(_) | Caution::LeastOnly(_) => {
            surface == Surface::Sealed
        }
        _ => false,
    }
}

/// Why the user's own sealed pressure was not taken.
pub fn own_refused(refused: OwnRefused, unit: PressureUnit) -> String {
    let p = |p| format::pressure_up(unit, p);
    match refused {
        OwnRefused::BelowLoadMinimum(by) => {
            format!(
                "Unsafe: your own sealed-road pressure is {} short of what the load needs. It was not used.",
                p(by)
            )
        }
        OwnRefused::BelowFloor(by) => {
            format!(
                "Your own sealed-road pressure is {} below the floor. It was not used.",
                p(by)
            )
        }
    }
}

/// Where the wheel load came from.
pub fn load_basis(axle: &Axle, uneven_percent: f64) -> String {
    let shared = if axle.axles > 1 {
        ", the axles taken to share evenly"
    } else {
        ""
    };
    match axle.load_from {
        LoadFrom::Sides => format!("heavier side weighed{shared}"),
        LoadFrom::Weighed => format!(
            "axle weighed plus {} %{shared}",
            format::entered(uneven_percent)
        ),
        LoadFrom::Rating => format!(
            "axle rating plus {} %{shared}",
            format::entered(uneven_percent)
        ),
    }
}

/// Trouble with keeping rigs.
pub fn trouble(trouble: Trouble) -> String {
    let what = match trouble {
        Trouble::Blocked => "This browser keeps nothing for this page.",
        Trouble::Full => "There is no room left to keep changes on this phone.",
        Trouble::Failed => "Your last change could not be kept on this phone.",
        Trouble::Elsewhere => {
            return "Another tab changed this meanwhile. What it kept is shown now, and your last \
                    change here was not made: look, and make it again."
                .to_owned();
        }
        Trouble::Gone => {
            return "Another tab deleted the rig that was shown here. Another one is shown now."
                .to_owned();
        }
        Trouble::SetAside => {
            return "What is kept here can't be read, and nothing is written over it. See the end \
                    of the rig page: save it to a file, or delete it. Until then nothing entered \
                    here is kept."
                .to_owned();
        }
    };
    format!("{what} Everything works, but what you enter lasts only until the page is closed.")
}

/// That what was entered is not kept.
pub const UNKEPT: &str = "Not kept on this phone yet.";

/// What keeps the rigs all the same.
pub const SAVE: &str = "Save the rigs to a file";

/// A rig's name, as it is shown.
pub fn rig_name(name: &str) -> String {
    if name.trim().is_empty() {
        "Rig without a name".to_owned()
    } else {
        name.to_owned()
    }
}

/// Whether the browser keeps what is entered when it wants room.
pub fn lasting(lasting: bool) -> &'static str {
    if lasting {
        "This browser keeps the rigs until you clear its data."
    } else {
        "This browser may clear the rigs when the phone runs short of room."
    }
}

/// How many axles a rig has.
pub fn axles(count: usize) -> String {
    match count {
        1 => "1 axle group".to_owned(),
        count => format!("{count} axle groups"),
    }
}

/// Why a file is not taken.
pub fn file(why: FileError) -> String {
    match why {
        FileError::TooLong { .. } => "This file is too long to be one of rigs.".to_owned(),
        FileError::NotOne => {
            "This is no whole file of rigs. Save it anew where it came from, and send it as it is."
                .to_owned()
        }
        FileError::Newer { version } => format!(
            "A newer version of this page wrote this file (version {version}). Open it there, or \
             load this page anew."
        ),
    }
}

/// Why a record can't be read.
pub fn unreadable(why: Unreadable) -> String {
    match why {
        Unreadable::Damaged => "It is damaged.".to_owned(),
        Unreadable::Newer { version } => {
            format!("A newer version of this page wrote it (record version {version}).")
        }
        Unreadable::Left => "Its rig is no longer there.".to_owned(),
        Unreadable::Older => {
            "An older version of this page kept it in another tab, after this one had taken the \
             rig over."
                .to_owned()
        }
    }
}

/// What a record is of, by the stored name of its section.
pub fn section(part: &str) -> String {
    if let Some(year) = part.strip_prefix("log.") {
        return format!("Log of {year}");
    }
    match part {
        "" => "A whole rig".to_owned(),
        "axles" => "Axles and settings".to_owned(),
        "nuts" => "Wheel nuts".to_owned(),
        "air" => "Warm tyres and walk".to_owned(),
        "tools" => "Compressor and deflator".to_owned(),
        "leaks" => "Slow leaks".to_owned(),
        "set_to" => "What the tyres are set to".to_owned(),
        "footprint" => "Footprint".to_owned(),
        "weights" => "Plates, loads and total".to_owned(),
        "tickets" => "Weighbridge tickets".to_owned(),
        "checks" => "Checks".to_owned(),
        "copies" => "What is known of copies".to_owned(),
        other => format!("Something this page does not know, “{other}”"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::limits::{LIMITS, Unit};
    use crate::calc::quantity::{Mass, kilogram, psi};
    use crate::calc::torque::TorqueUnit;

    /// Of a section that came new, 'something this page does not know' was said.
    #[test]
    fn every_section_has_its_words() {
        use crate::rig::section::Section;
        use crate::rig::{Rig, air, checks, copies, footprint, nuts, set_to, weights};
        let parts = [
            Rig::PART,
            nuts::Nuts::PART,
            air::Air::PART,
            air::Tools::PART,
            air::Leaks::PART,
            set_to::SetTo::PART,
            footprint::FootprintOf::PART,
            weights::Weights::PART,
            weights::ticket::Tickets::PART,
            checks::Checks::PART,
            checks::Log::PART,
            copies::Copies::PART,
        ];
        for part in parts {
            // The log has its year.
            let part = match part {
                checks::Log::PART => "log.2026",
                part => part,
            };
            assert!(!section(part).contains("does not know"), "{part}");
        }
    }

    /// The ends as shown must themselves be accepted.
    #[test]
    fn every_allowed_range_as_shown_is_allowed() {
        let units =
            PressureUnit::ALL.map(|pressure| MassUnit::ALL.map(|mass| Units { pressure, mass }));
        for limit in LIMITS {
            for units in units.into_iter().flatten() {
                let shown = within(*limit, Entry::of(limit.unit, units));
                let mut numbers = shown.split(' ').filter_map(|word| word.parse::<f64>().ok());
                for _ in 0..2 {
                    let end = numbers.next().expect("two ends");
                    let end = match limit.unit {
                        Unit::KiloPascal => units
                            .pressure
                            .reading(end)
                            .get::<crate::calc::quantity::kilopascal>(),
                        Unit::Kilogram => units.mass.mass(end).get::<kilogram>(),
                        _ => end,
                    };
                    assert!(
                        limit.field.check((end * 1e9).round() / 1e9).is_ok(),
                        "{shown}"
                    );
                }
            }
        }
        for limit in LIMITS {
            if limit.unit != Unit::NewtonMetre {
                continue;
            }
            for unit in TorqueUnit::ALL {
                let shown = within(*limit, Entry::Torque(unit));
                let ends = shown
                    .split(' ')
                    .filter_map(|word| Entry::Torque(unit).read(word).ok().flatten());
                assert_eq!(ends.clone().count(), 2, "{shown}");
                for end in ends {
                    let end = end.in_limit_unit();
                    assert!(limit.field.check(end).is_ok(), "{:?}: {shown}", limit.field);
                }
            }
        }
        assert_eq!(
            allowed(Field::Floor.limit(), Entry::Pressure(PressureUnit::Psi)),
            "Allowed: 15 to 36 psi."
        );
        assert_eq!(
            allowed(Field::AxleMass.limit(), Entry::Mass(MassUnit::Kilogram)),
            "Allowed: 40 to 40000 kg."
        );
        assert_eq!(
            allowed(Field::AxleMass.limit(), Entry::Mass(MassUnit::Pound)),
            "Allowed: 89 to 88184 lb."
        );
    }

    #[test]
    fn messages_read_as_reviewed() {
        let unit = PressureUnit::Psi;
        let read =
            |text: &str| designation_error(&Designation::parse(text).expect_err("an error"), unit);
        assert_eq!(
            read("265/75 16"),
            "“16” was not understood: expected R for radial before the rim diameter."
        );
        assert_eq!(
            read("265/75R"),
            "It stops before the rim diameter, such as 16 in 265/75R16."
        );
        assert_eq!(
            read("LT265/75R16 123/120 E"),
            "E may be the speed symbol or the load range. Write the speed symbol straight behind \
             the load index, or “LR E” for the load range."
        );
        assert_eq!(
            read("265/5R16"),
            "Aspect ratio: too low. Allowed: 25 to 100 %."
        );
        let overloaded = Refusal::Overloaded {
            shed: Mass::new::<kilogram>(119.2),
            limited_by: Maximum::Wheel,
            at: GaugePressure::new::<psi>(65.0),
        };
        assert_eq!(
            problem(
                &Problem::Refused(overloaded),
                Units {
                    pressure: unit,
                    mass: MassUnit::Kilogram
                }
            ),
            "Overloaded by 120 kg. At 65 psi, the wheel or valve maximum, the tyres carry less \
             than is on them. Take that much off this axle before driving."
        );
        assert_eq!(
            designation(
                &Designation::parse("LT265/75R16 123/120Q E").unwrap(),
                MassUnit::Kilogram
            ),
            "Light-truck tyre; load index 123 is 1550 kg (1400 kg in pairs); Q is 160 km/h; load \
             range E."
        );
    }
}
