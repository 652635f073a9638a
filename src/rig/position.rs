//! Where each tyre and each wheel of a rig stands.

use super::keep::{self, Value};
use super::names::{Named, named};
use super::{Axle, Place, Rig};

/// A side of the rig, seen in the direction of travel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

named!(Side {
    Left: "left",
    Right: "right",
});

/// Which of two tyres at one end of an axle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfPair {
    /// On the outside.
    Outer,
    /// On the inside.
    Inner,
}

/// Where one tyre stands on a rig.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TyrePosition {
    /// Its axle group, by its place in the rig's list.
    pub group: usize,
    /// Its axle within the group, from 0 at the front.
    pub line: u8,
    /// Its side.
    pub side: Side,
    /// Which of a pair, where two stand at each end.
    pub pair: Option<OfPair>,
}

impl TyrePosition {
    /// Its number within its group, from 0: axle by axle, from the left.
    pub fn number(self) -> u8 {
        let (across, place) = match (self.side, self.pair) {
            (Side::Left, None) => (2, 0),
            (Side::Right, None) => (2, 1),
            (Side::Left, Some(OfPair::Outer)) => (4, 0),
            (Side::Left, Some(OfPair::Inner)) => (4, 1),
            (Side::Right, Some(OfPair::Inner)) => (4, 2),
            (Side::Right, Some(OfPair::Outer)) => (4, 3),
        };
        self.line * across + place
    }
}

/// Which half of the rig a wheel is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Half {
    /// The tow vehicle.
    #[default]
    Vehicle,
    /// The trailer.
    Trailer,
}

named!(Half {
    Vehicle: "vehicle",
    Trailer: "trailer",
});

/// A wheel: what the nuts of one hub hold, with one tyre or the two of a pair.
/// Named by its place on its half of the rig, so that it stays itself when
/// axles are entered in another order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wheel {
    /// Its half.
    pub half: Half,
    /// Its axle, from 0 at the front of that half, or [`Self::LAST`].
    pub axle: u8,
    /// Its side.
    pub side: Side,
}

impl Wheel {
    /// The last axle of a half, however many there are: older logs say 'rear'.
    pub const LAST: u8 = u8::MAX;

    /// Its stored name, such as `trailer_2_left`; axles count from 1 there.
    pub fn name(self) -> String {
        let (half, side) = (self.half.name(), self.side.name());
        if self.axle == Self::LAST {
            format!("{half}_last_{side}")
        } else {
            format!("{half}_{}_{side}", self.axle + 1)
        }
    }

    /// The wheel of a stored name.
    pub(super) fn named(name: &str) -> Option<Self> {
        let (half, rest) = name.split_once('_')?;
        let (axle, side) = rest.split_once('_')?;
        Some(Self {
            half: Half::of_name(half)?,
            axle: match axle {
                "last" => Self::LAST,
                number => number.parse::<u8>().ok()?.checked_sub(1)?,
            },
            side: Side::of_name(side)?,
        })
    }
}

impl Value for Wheel {
    fn read(json: &str) -> Option<Self> {
        Self::named(&String::read(json)?)
    }

    fn write(&self, to: &mut String) {
        keep::text(&self.name(), to);
    }
}

/// A tyre, named as its wheel is, so that it stays itself in a log.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spot {
    /// Its wheel.
    pub wheel: Wheel,
    /// Whether it is the inner one of a pair.
    pub inner: bool,
}

impl Spot {
    /// What follows the wheel's stored name.
    const INNER: &str = "_inner";

    /// Its stored name, such as `vehicle_2_left_inner`.
    pub fn name(self) -> String {
        self.wheel.name() + if self.inner { Self::INNER } else { "" }
    }
}

impl Value for Spot {
    fn read(json: &str) -> Option<Self> {
        let name = String::read(json)?;
        let (wheel, inner) = match name.strip_suffix(Self::INNER) {
            Some(wheel) => (wheel, true),
            None => (name.as_str(), false),
        };
        let wheel = Wheel::named(wheel)?;
        Some(Self { wheel, inner })
    }

    fn write(&self, to: &mut String) {
        keep::text(&self.name(), to);
    }
}

/// The tyres at one end of an axle, from the left.
pub fn ends(axle: &Axle, group: usize, line: u8, side: Side) -> Vec<TyrePosition> {
    let at = |pair| TyrePosition {
        group,
        line,
        side,
        pair,
    };
    let pair = [Some(OfPair::Outer), Some(OfPair::Inner)];
    match (axle.dual, side) {
        (false, _) => vec![at(None)],
        (true, Side::Left) => pair.map(at).into(),
        (true, Side::Right) => pair.into_iter().rev().map(at).collect(),
    }
}

impl Rig {
    /// The axle groups from the front of the rig to its back, by their places
    /// in its list.
    pub fn from_front(&self) -> Vec<usize> {
        let along = [Place::Front, Place::Rear, Place::Trailer];
        along
            .into_iter()
            .flat_map(|place| {
                let groups = self.axles.iter().enumerate();
                groups
                    .filter(move |(_, axle)| axle.place == place)
                    .map(|(index, _)| index)
            })
            .collect()
    }

    /// Every tyre in the order of a walk round the rig: down the left side and
    /// back up the right.
    pub fn round(&self) -> Vec<TyrePosition> {
        let side = |side| {
            self.from_front()
                .into_iter()
                .flat_map(move |group| {
                    let axle = &self.axles[group];
                    (0..axle.axles).flat_map(move |line| ends(axle, group, line, side))
                })
                .collect::<Vec<_>>()
        };
        let mut all = side(Side::Left);
        all.extend(side(Side::Right).into_iter().rev());
        all
    }

    /// Where every wheel stands, in the order of a walk round the rig: as the
    /// tyres, with the two of a pair counted once and of no pair.
    pub fn wheels(&self) -> Vec<TyrePosition> {
        let mut wheels = self.round();
        wheels.retain(|at| at.pair != Some(OfPair::Inner));
        for at in &mut wheels {
            at.pair = None;
        }
        wheels
    }

    /// The half that an axle group is of, and how many axles of that half
    /// stand before it.
    fn half_of(&self, group: usize) -> (Half, u8) {
        let is_trailer = |index: usize| {
            let axle = self.axles.get(index);
            axle.is_some_and(|axle| axle.place == Place::Trailer)
        };
        let order = self.from_front();
        let before = order.iter().take_while(|index| **index != group);
        let axles = before
            .filter(|index| is_trailer(**index) == is_trailer(group))
            .map(|index| self.axles[*index].axles)
            .sum();
        let half = if is_trailer(group) {
            Half::Trailer
        } else {
            Half::Vehicle
        };
        (half, axles)
    }

    /// The half that an axle group is of.
    pub fn half_at(&self, group: usize) -> Half {
        self.half_of(group).0
    }

    /// The wheel that a tyre is on.
    pub fn wheel_at(&self, at: TyrePosition) -> Wheel {
        let (half, before) = self.half_of(at.group);
        Wheel {
            half,
            axle: before + at.line,
            side: at.side,
        }
    }

    /// A tyre by the name that a log has.
    pub fn spot_of(&self, at: TyrePosition) -> Spot {
        Spot {
            wheel: self.wheel_at(at),
            inner: at.pair == Some(OfPair::Inner),
        }
    }

    /// Where a tyre of a log stands; nothing if the rig has no such tyre now.
    pub fn tyre_of(&self, spot: Spot) -> Option<TyrePosition> {
        let mut round = self.round().into_iter();
        round.find(|at| self.spot_of(*at) == spot)
    }

    /// Where a wheel stands; nothing if the rig has no such axle now.
    pub fn place_of(&self, wheel: Wheel) -> Option<TyrePosition> {
        let of_side = |at: &TyrePosition| {
            let own = self.wheel_at(*at);
            own.half == wheel.half && own.side == wheel.side
        };
        let of_side = self.wheels().into_iter().filter(of_side);
        let mut along: Vec<TyrePosition> = of_side.collect();
        // A walk comes back up the right side.
        if wheel.side == Side::Right {
            along.reverse();
        }
        if wheel.axle == Wheel::LAST {
            along.last().copied()
        } else {
            along.get(usize::from(wheel.axle)).copied()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::PressureUnit;

    fn rig(axles: &[(Place, u8, bool)]) -> Rig {
        Rig {
            axles: axles
                .iter()
                .map(|(place, axles, dual)| Axle {
                    axles: *axles,
                    dual: *dual,
                    ..Axle::empty(*place)
                })
                .collect(),
            ..Rig::empty("", PressureUnit::Psi)
        }
    }

    #[test]
    fn a_walk_comes_to_every_tyre_once_and_ends_beside_where_it_began() {
        for axles in [
            vec![(Place::Front, 1, false), (Place::Rear, 1, true)],
            vec![
                (Place::Trailer, 3, false),
                (Place::Front, 1, false),
                (Place::Rear, 1, false),
            ],
            vec![(Place::Trailer, 2, true)],
        ] {
            let rig = rig(&axles);
            let round = rig.round();
            for (group, axle) in rig.axles.iter().enumerate() {
                let mut numbers: Vec<u8> = round
                    .iter()
                    .filter(|at| at.group == group)
                    .map(|at| at.number())
                    .collect();
                numbers.sort_unstable();
                let all: Vec<u8> = (0..axle.group().tyres()).collect();
                assert_eq!(numbers, all);
            }
            let (first, last) = (round[0], round[round.len() - 1]);
            assert_eq!((first.side, last.side), (Side::Left, Side::Right));
            assert_eq!((first.group, first.line), (last.group, last.line));
        }
    }

    #[test]
    fn every_wheel_is_found_where_it_stands_and_by_its_name() {
        let rig = rig(&[
            (Place::Trailer, 3, false),
            (Place::Front, 1, false),
            (Place::Rear, 1, true),
            (Place::Trailer, 1, true),
        ]);
        let wheels = rig.wheels();
        // Six axles with a wheel at each end, whatever is dual.
        assert_eq!(wheels.len(), 12);
        for at in wheels {
            let wheel = rig.wheel_at(at);
            assert_eq!(rig.place_of(wheel), Some(at), "{wheel:?}");
            assert_eq!(Wheel::named(&wheel.name()), Some(wheel));
        }
        for at in rig.round() {
            let end = TyrePosition { pair: None, ..at };
            assert_eq!(rig.place_of(rig.wheel_at(at)), Some(end));
            let spot = rig.spot_of(at);
            assert_eq!(rig.tyre_of(spot), Some(at));
            let mut text = String::new();
            spot.write(&mut text);
            assert_eq!(Spot::read(&text), Some(spot), "{text}");
        }
        let last = Wheel::named("trailer_last_right").expect("a wheel");
        let at = rig.place_of(last).expect("a place");
        assert_eq!((at.group, at.line, at.side), (3, 0, Side::Right));
        assert_eq!(rig.wheel_at(at).axle, 3);
        for name in ["trailer_0_left", "trailer_5", "van_1_left", "trailer_1_up"] {
            assert_eq!(Wheel::named(name), None, "{name}");
        }
        let beyond = Wheel::named("vehicle_3_left").expect("a wheel");
        assert_eq!(rig.place_of(beyond), None);
    }

    #[test]
    fn the_front_stands_first_wherever_it_was_entered() {
        let rig = rig(&[
            (Place::Trailer, 1, false),
            (Place::Rear, 1, false),
            (Place::Front, 1, false),
        ]);
        assert_eq!(rig.from_front(), [2, 1, 0]);
    }
}
