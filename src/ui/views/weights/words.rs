//! The words of the weights view.

use crate::calc::limits::Field;
use crate::calc::quantity::{Length, Mass, kilogram, meter};
use crate::calc::weights::plates::{
    BALL_PERCENT_AUSTRALIA, BALL_PERCENT_EUROPE, Margin, Plate, Rating, Standing,
};
use crate::calc::weights::solution::Residual;
use crate::calc::weights::ticket::{Weighing, Wheels};
use crate::calc::weights::{AxleAt, Figure, WeightsError};
use crate::decimal;
use crate::rig::weights::ticket::OnPlate;
use crate::rig::weights::{ItemKind, NoWeights, On};
use crate::rig::{MassUnit, Units};
use crate::ui::kit::{format, words};

/// An axle.
pub fn axle(at: AxleAt) -> &'static str {
    match at {
        AxleAt::Front => "Front axle",
        AxleAt::Rear => "Rear axle",
        AxleAt::Trailer => "Van axles",
    }
}

/// A rating.
pub fn rating(rating: Rating) -> &'static str {
    match rating {
        Rating::Axle(AxleAt::Front) => "Front axle limit",
        Rating::Axle(AxleAt::Rear) => "Rear axle limit",
        Rating::Axle(AxleAt::Trailer) => "Van axle maker’s limit",
        Rating::Gvm => "Vehicle (GVM)",
        Rating::Gcm => "Vehicle and van (GCM)",
        Rating::Gtm => "Van axles (GTM)",
        Rating::Atm => "Whole van (ATM)",
        Rating::Ball => "On the ball",
        Rating::Towing => "Towing limit",
        Rating::Tyre(AxleAt::Front) => "Front tyres, each",
        Rating::Tyre(AxleAt::Rear) => "Rear tyres, each",
        Rating::Tyre(AxleAt::Trailer) => "Van tyres, each",
    }
}

/// What a rating means, in a line.
pub const DEFINITIONS: [(&str, &str); 8] = [
    (
        "GVM",
        "gross vehicle mass: the most the loaded vehicle may weigh, by its maker. What is on the ball is part of it.",
    ),
    (
        "GCM",
        "gross combination mass: the most vehicle and van may weigh together.",
    ),
    (
        "ATM",
        "aggregate trailer mass: the most the loaded van may weigh, with what it puts on the vehicle. Elsewhere: maximum laden mass.",
    ),
    (
        "GTM",
        "gross trailer mass: the most the van’s axles may put on the ground while it is hitched.",
    ),
    (
        "Ball mass",
        "what the hitched van puts on the ball. Elsewhere: nose weight, tongue weight, static vertical load.",
    ),
    (
        "Tare",
        "the van or vehicle ready for service, nobody and nothing in it.",
    ),
    ("Axle limit", "the most one axle may carry, by its maker."),
    (
        "Towing limit",
        "the most the vehicle may tow: the lesser of what its maker and the towing gear allow.",
    ),
];

/// How a margin stands: within by how much even at the high end of its doubt.
pub fn standing(margin: &Margin, unit: MassUnit) -> String {
    match margin.standing() {
        Standing::Within => {
            let surely = margin.limit - margin.mass.mass.high;
            format!("Within by {} at least", mass_down(unit, surely))
        }
        Standing::Doubtful => "Too close to tell".to_owned(),
        Standing::Over => "Over".to_owned(),
    }
}

/// A mass that is not to be made more: down to a whole one.
fn mass_down(unit: MassUnit, mass: Mass) -> String {
    let down = (unit.number(mass) + 1e-6).floor();
    format!("{} {}", format::grouped(down), format::mass_mark(unit))
}

/// What is left of a rating.
pub fn left(margin: &Margin, unit: MassUnit) -> String {
    let left = margin.left();
    let percent = |value: f64| format!("{} %", decimal::fixed(value, 1));
    if margin.standing() == Standing::Over {
        let over = -margin.left();
        return format!(
            "{} over ({})",
            format::mass_up(unit, over),
            percent(-margin.percent())
        );
    }
    format!(
        "{} left ({})",
        mass_down(unit, left),
        percent(margin.percent())
    )
}

/// A mass beside its limit.
pub fn of_limit(margin: &Margin, unit: MassUnit) -> String {
    let limit = format::mass(unit, margin.limit);
    let what = if matches!(margin.rating, Rating::Tyre(_)) {
        "of what it carries at the pressure set"
    } else {
        "of"
    };
    format!("{} {what} {limit}", figure(&margin.mass, unit))
}

/// A mass with how far it may be off.
pub fn figure(figure: &Figure, unit: MassUnit) -> String {
    let mass = format::mass(unit, figure.mass.likely);
    let doubt = figure.doubt();
    let about = if figure.estimated { "about " } else { "" };
    if doubt.get::<kilogram>() < 0.5 {
        return format!("{about}{mass}");
    }
    format!("{about}{mass} ± {}", format::mass_up(unit, doubt))
}

/// A change of a mass, with its sign.
pub fn change(change: Mass, unit: MassUnit) -> String {
    let rounded = unit.number(change).round();
    let sign = if rounded > 0.0 {
        "+"
    } else if rounded < 0.0 {
        "−"
    } else {
        "±"
    };
    format!(
        "{sign}{} {}",
        format::grouped(rounded.abs()),
        format::mass_mark(unit)
    )
}

/// The ball mass in percent of the van's.
pub fn ball_share(percent: f64) -> String {
    format!("{} % of the van", decimal::fixed(percent, 1))
}

/// What stands beside a ball mass, always.
pub fn ball_practice() -> String {
    let (low, high) = BALL_PERCENT_EUROPE;
    let whole = |value: f64| decimal::fixed(value, 0);
    format!(
        "About {} % of the van is usual in Australia, {} to {} % in Europe: practice, no law and no \
         promise of stability.",
        whole(BALL_PERCENT_AUSTRALIA),
        whole(low),
        whole(high)
    )
}

/// Why neither much nor little on the ball is safe by itself.
pub const BALL_WHY: &str = "Too little lets a van snake; too much lightens the vehicle’s front and loads its rear. \
     Published studies find that less on the ball helps against one kind of instability and harms \
     against the other. Speed, a long spread of heavy loads, a short drawbar and soft tyres matter \
     as much.";

/// What the ball's load does to the vehicle's front and rear axle.
pub fn lever(front: Mass, rear: Mass, unit: MassUnit) -> String {
    format!(
        "What the ball does to the vehicle: front axle {}, rear axle {}.",
        change(front, unit),
        change(rear, unit)
    )
}

/// Right under the heading.
pub const JUDGE: &str = "A public weighbridge is the judge; the plates and local law decide.";

/// Before the three weighings, while there is no ticket.
pub const ASK_FOR: &str = "Three weighings to ask for at a public weighbridge, in order:";

/// A ball that is pulled up.
pub const TAIL_HEAVY: &str =
    "The van may lift the ball. Do not tow it so: bring loads forward first.";

/// What a tank that is part full is cautioned for.
pub fn part_full(name: &str) -> String {
    format!(
        "{name}: part full, its water runs to one side and back unless the tank is baffled. Fill it \
         or empty it for the road."
    )
}

/// Beside all figures.
pub const CAUTIONS: [&str; 4] = [
    "A public weighbridge is the judge. Weigh the rig as you travel: people in, tanks as filled, load-levelling bars slack.",
    "The plates on vehicle and van, the makers’ handbooks and local law decide what may be carried. No figure here gives leave to exceed one.",
    "Statics on level ground. How the rig handles also follows from speed, height of loads, springs, dampers and tyres.",
    "If you are near or over a limit, take load off before you drive, and ask a weighbridge or a licensed workshop.",
];

/// Where a load lies.
pub fn place(on: On, ahead: Length) -> String {
    let metres = ahead.get::<meter>();
    let axle = match on {
        On::Vehicle => "the vehicle’s rear axle",
        On::Trailer => "the van’s axles",
    };
    let whole = match on {
        On::Vehicle => "On the vehicle",
        On::Trailer => "On the van",
    };
    let distance = decimal::fixed(metres.abs(), 2);
    if metres.abs() < 0.005 {
        format!("{whole}, over {axle}")
    } else if metres > 0.0 {
        format!("{whole}, {distance} m ahead of {axle}")
    } else {
        format!("{whole}, {distance} m behind {axle}")
    }
}

/// A kind of load.
pub fn kind(kind: ItemKind) -> &'static str {
    match kind {
        ItemKind::Load => "Load",
        ItemKind::Tank => "Water tank",
        ItemKind::SpareWheel => "Spare wheel",
        ItemKind::RearBox => "Rear box",
    }
}

/// What stood on the plate, as asked for at the weighbridge.
pub fn on_plate(on: OnPlate) -> &'static str {
    match on {
        OnPlate::FrontHitched => "Front axle, hitched",
        OnPlate::RearHitched => "Rear axle, hitched",
        OnPlate::VehicleHitched => "Whole vehicle, hitched",
        OnPlate::TrailerAxles => "Van axles, hitched",
        OnPlate::TrailerFirst => "First van axle, hitched",
        OnPlate::TrailerSecond => "Second van axle, hitched",
        OnPlate::TrailerThird => "Third van axle, hitched",
        OnPlate::RearAndTrailer => "Rear axle and van, hitched",
        OnPlate::Combination => "Vehicle and van together",
        OnPlate::TrailerWhole => "Whole van, unhitched",
        OnPlate::Ball => "Coupling on a ball scale",
        OnPlate::FrontAlone => "Front axle, unhitched",
        OnPlate::RearAlone => "Rear axle, unhitched",
        OnPlate::VehicleAlone => "Whole vehicle, unhitched",
    }
}

/// The same of what the core asks for.
pub fn weighing(weighing: Weighing) -> &'static str {
    on_plate(match weighing {
        Weighing::FrontAlone => OnPlate::FrontAlone,
        Weighing::RearAlone => OnPlate::RearAlone,
        Weighing::VehicleAlone => OnPlate::VehicleAlone,
        Weighing::FrontHitched => OnPlate::FrontHitched,
        Weighing::RearHitched => OnPlate::RearHitched,
        Weighing::VehicleHitched => OnPlate::VehicleHitched,
        Weighing::TrailerAxles => OnPlate::TrailerAxles,
        Weighing::TrailerLine(0) => OnPlate::TrailerFirst,
        Weighing::TrailerLine(1) => OnPlate::TrailerSecond,
        Weighing::TrailerLine(_) => OnPlate::TrailerThird,
        Weighing::RearAndTrailer => OnPlate::RearAndTrailer,
        Weighing::Combination => OnPlate::Combination,
        Weighing::TrailerWhole => OnPlate::TrailerWhole,
        Weighing::Ball => OnPlate::Ball,
    })
}

/// Readings that are seldom had, with their labels.
pub const FURTHER: [(OnPlate, Wheels, &str); 24] = [
    (OnPlate::RearHitched, Wheels::Both, "Rear axle, hitched"),
    (OnPlate::RearAlone, Wheels::Both, "Rear axle, unhitched"),
    (
        OnPlate::Combination,
        Wheels::Both,
        "Vehicle and van together",
    ),
    (
        OnPlate::RearAndTrailer,
        Wheels::Both,
        "Rear axle and van, hitched",
    ),
    (OnPlate::Ball, Wheels::Both, "Coupling on a ball scale"),
    (
        OnPlate::FrontHitched,
        Wheels::Left,
        "Front axle, hitched, left wheels",
    ),
    (
        OnPlate::FrontHitched,
        Wheels::Right,
        "Front axle, hitched, right wheels",
    ),
    (
        OnPlate::RearHitched,
        Wheels::Left,
        "Rear axle, hitched, left wheels",
    ),
    (
        OnPlate::RearHitched,
        Wheels::Right,
        "Rear axle, hitched, right wheels",
    ),
    (
        OnPlate::TrailerAxles,
        Wheels::Left,
        "Van axles, hitched, left wheels",
    ),
    (
        OnPlate::TrailerAxles,
        Wheels::Right,
        "Van axles, hitched, right wheels",
    ),
    (
        OnPlate::TrailerFirst,
        Wheels::Both,
        "First van axle, hitched",
    ),
    (
        OnPlate::TrailerSecond,
        Wheels::Both,
        "Second van axle, hitched",
    ),
    (
        OnPlate::TrailerThird,
        Wheels::Both,
        "Third van axle, hitched",
    ),
    (
        OnPlate::TrailerFirst,
        Wheels::Left,
        "First van axle, hitched, left wheels",
    ),
    (
        OnPlate::TrailerFirst,
        Wheels::Right,
        "First van axle, hitched, right wheels",
    ),
    (
        OnPlate::TrailerSecond,
        Wheels::Left,
        "Second van axle, hitched, left wheels",
    ),
    (
        OnPlate::TrailerSecond,
        Wheels::Right,
        "Second van axle, hitched, right wheels",
    ),
    (
        OnPlate::TrailerThird,
        Wheels::Left,
        "Third van axle, hitched, left wheels",
    ),
    (
        OnPlate::TrailerThird,
        Wheels::Right,
        "Third van axle, hitched, right wheels",
    ),
    (
        OnPlate::FrontAlone,
        Wheels::Left,
        "Front axle, unhitched, left wheels",
    ),
    (
        OnPlate::FrontAlone,
        Wheels::Right,
        "Front axle, unhitched, right wheels",
    ),
    (
        OnPlate::RearAlone,
        Wheels::Left,
        "Rear axle, unhitched, left wheels",
    ),
    (
        OnPlate::RearAlone,
        Wheels::Right,
        "Rear axle, unhitched, right wheels",
    ),
];

/// A reading's label.
pub fn further(on: OnPlate, wheels: Wheels) -> &'static str {
    let found = FURTHER
        .iter()
        .find(|(of, side, _)| (*of, *side) == (on, wheels));
    found.map_or(on_plate(on), |(_, _, label)| *label)
}

/// A new ticket.
pub const NEW_TICKET: &str =
    "A ticket of today. The loads count as they lie in the plan now; change that at each load.";

/// Readings that agree.
pub const AGREE: &str = "Each is as far off as the plate’s steps explain.";

/// What stands above figures whose readings can’t all be right.
pub const UNSURE: &str =
    "The ticket’s readings can’t all be right. No mass below is sure until they agree.";

/// Why the pressures follow no such readings.
pub const NOT_FOLLOWED: &str = "The pressures don’t follow readings that can’t all be right: the rig page keeps the masses that it has.";

/// What is said beside such readings.
pub const DISAGREE: &str = "These readings can’t all be right: the steps of the plate don’t explain the differences. Was somebody out of the vehicle, or water used in between?";

/// The readings of the three weighings, in order.
pub const ASKED: [&[OnPlate]; 3] = [
    &[
        OnPlate::FrontHitched,
        OnPlate::VehicleHitched,
        OnPlate::TrailerAxles,
    ],
    &[OnPlate::TrailerWhole],
    &[OnPlate::FrontAlone, OnPlate::VehicleAlone],
];

/// What to do for each of the three weighings.
pub const THREE: [(&str, &str); 3] = [
    (
        "1 Hitched",
        "Roll on: front axle, then the whole vehicle. Roll off in front until only the van’s axles stand on the plate.",
    ),
    (
        "2 The van by itself",
        "Unhitch on the plate, jockey wheel and all on it.",
    ),
    (
        "3 The vehicle by itself",
        "Same people and load: front axle, then the whole vehicle.",
    ),
];

/// Why there are no weights.
pub fn none(why: &NoWeights, units: Units) -> String {
    match why {
        NoWeights::Unusable => "An entry below can’t be used. It is marked there.".to_owned(),
        NoWeights::Axles => "This view knows a vehicle with one front and one rear axle, and one \
                             van. Change the axles on the rig page."
            .to_owned(),
        NoWeights::Wrong(error) => wrong(error, units),
    }
}

fn plate(plate: Plate) -> &'static str {
    match plate {
        Plate::Tare => "tare",
        Plate::Gtm => "GTM",
        Plate::Atm => "ATM",
    }
}

/// A mass or ticket that is none.
pub fn wrong(error: &WeightsError, units: Units) -> String {
    match error {
        WeightsError::OutOfRange(error) => words::out_of_range_in(*error, units),
        WeightsError::OneSideOf(of) => format!("{}: it has no sides.", weighing(*of)),
        WeightsError::NoSuchAxle { line, lines } => format!(
            "A ticket has van axle {}; the rig page has a van with {lines}.",
            line + 1
        ),
        WeightsError::AxleCount { given } => format!("A van can’t have {given} axles here."),
        WeightsError::PlateOrder { lesser, greater } => format!(
            "The {} is above the {}: look at the plate again.",
            plate(*lesser),
            plate(*greater)
        ),
    }
}

/// A measure that is still to be entered.
pub fn lacks(field: Field) -> &'static str {
    match field {
        Field::Wheelbase => "the wheelbase",
        Field::BallOverhang => "the distance from rear axle to ball",
        _ => "the distance from ball to van axles",
    }
}

/// How a ticket's reading stands to all of them.
pub fn residual(of: &Residual, unit: MassUnit) -> String {
    let off = change(of.off, unit);
    format!(
        "{off}; steps explain up to {}",
        format::mass_up(unit, of.explained)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::{Span, millimeter};
    use crate::calc::weights::ticket::THREE_WEIGHINGS;

    fn kg(value: f64) -> Mass {
        Mass::new::<kilogram>(value)
    }

    fn margin(likely: f64, doubt: f64, limit: f64) -> Margin {
        Margin {
            rating: Rating::Gvm,
            mass: Figure {
                mass: Span {
                    low: kg(likely - doubt),
                    likely: kg(likely),
                    high: kg(likely + doubt),
                },
                estimated: false,
            },
            limit: kg(limit),
        }
    }

    /// A rating that held once said no more than 'within'.
    #[test]
    fn what_is_left_is_never_made_more_nor_what_is_over_less() {
        let kilograms = MassUnit::Kilogram;
        for (likely, doubt, says, stands) in [
            (
                3084.2,
                10.0,
                "65 kg left (2.1 %)",
                "Within by 55 kg at least",
            ),
            (3145.2, 10.0, "4 kg left (0.2 %)", "Too close to tell"),
            (3150.2, 10.0, "1 kg over (0.0 %)", "Over"),
            (3350.0, 10.0, "200 kg over (6.3 %)", "Over"),
        ] {
            let margin = margin(likely, doubt, 3150.0);
            assert_eq!(left(&margin, kilograms), says);
            assert_eq!(standing(&margin, kilograms), stands);
        }
        assert_eq!(
            of_limit(&margin(3084.2, 10.0, 3150.0), kilograms),
            "3084 kg ± 10 kg of 3150 kg"
        );
        assert_eq!(
            left(&margin(3084.2, 10.0, 3150.0), MassUnit::Pound),
            "145 lb left (2.1 %)"
        );
    }

    #[test]
    fn a_place_is_said_from_its_axle() {
        let at = |mm| Length::new::<millimeter>(mm);
        assert_eq!(
            place(On::Trailer, at(-3000.0)),
            "On the van, 3.00 m behind the van’s axles"
        );
        assert_eq!(
            place(On::Trailer, at(0.0)),
            "On the van, over the van’s axles"
        );
        assert_eq!(
            place(On::Vehicle, at(450.0)),
            "On the vehicle, 0.45 m ahead of the vehicle’s rear axle"
        );
    }

    #[test]
    fn what_is_asked_for_is_what_the_core_asks_for() {
        let asked = ASKED.map(|asked| {
            let each = asked.iter().map(|on| on.weighing());
            each.collect::<Vec<_>>()
        });
        assert_eq!(asked, THREE_WEIGHINGS.map(<[Weighing]>::to_vec));
    }

    #[test]
    fn a_change_has_its_sign() {
        assert_eq!(change(kg(22.86), MassUnit::Kilogram), "+23 kg");
        assert_eq!(change(kg(-22.86), MassUnit::Kilogram), "−23 kg");
        assert_eq!(change(kg(0.0), MassUnit::Kilogram), "±0 kg");
    }
}
