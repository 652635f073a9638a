//! Where each tyre of a rig stands.

use super::{Axle, Place, Rig};

/// A side of the rig, seen in the direction of travel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

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
    fn the_front_stands_first_wherever_it_was_entered() {
        let rig = rig(&[
            (Place::Trailer, 1, false),
            (Place::Rear, 1, false),
            (Place::Front, 1, false),
        ]);
        assert_eq!(rig.from_front(), [2, 1, 0]);
    }
}
