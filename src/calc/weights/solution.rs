//! What all tickets together say.
//!
//! Each ticket is a sum of the same few masses. More tickets than masses are
//! reconciled by least squares, each weighted by its step. Where they leave a
//! mass open, an estimate may fill it, and never moves what tickets say.

use super::estimate::Estimated;
use super::fit::{Fit, fit, is_fixed};
use super::ticket::{Ticket, Weighing, Wheels, check_count, with_lever};
use super::{Figure, Lever, Row, UNKNOWNS, WeightsError, add, dot, kg, number};
use crate::calc::quantity::{Mass, Span};

/// What a rig with a van needs known: everything else is a sum of these.
pub const ALL_FIGURES: &[Weighing] = &[
    Weighing::FrontHitched,
    Weighing::RearHitched,
    Weighing::TrailerAxles,
    Weighing::Ball,
    Weighing::FrontAlone,
    Weighing::RearAlone,
];

/// What can be asked for, best first.
const TO_ASK: [Weighing; 6] = [
    Weighing::FrontHitched,
    Weighing::RearHitched,
    Weighing::TrailerAxles,
    Weighing::TrailerWhole,
    Weighing::FrontAlone,
    Weighing::RearAlone,
];

/// One number that was read or estimated.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Reading {
    row: Row,
    kg: f64,
    doubt: f64,
}

/// How a ticket stands to all of them together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residual {
    /// What it shows above what all together say.
    pub off: Mass,
    /// The most that could be, were every ticket within its step of the truth.
    pub explained: Mass,
}

impl Residual {
    /// Whether steps don't explain it.
    pub fn contradicts(&self) -> bool {
        const ROUNDING: f64 = 1e-6;
        number(self.off).abs() > number(self.explained) + ROUNDING
    }
}

/// Tickets that can't all be right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Contradiction {
    /// The one ticket without which the others agree, by its place in the
    /// list. None where that holds of several, or of none.
    pub suspect: Option<usize>,
}

/// Tickets, reconciled.
#[derive(Debug, Clone, PartialEq)]
pub struct Solution {
    /// Tickets first, then what was estimated.
    readings: Vec<Reading>,
    tickets: usize,
    lines: u8,
    lever: Option<Lever>,
    gains: Vec<Row>,
    /// What tickets leave open.
    open: Vec<Row>,
    /// What is open even with the estimates.
    free: Vec<Row>,
}

impl Solution {
    /// What `tickets` say of a rig whose van has `lines` axles, and `estimates`
    /// where they say nothing. With the `lever` measured, fewer tickets do.
    ///
    /// # Errors
    /// [`WeightsError::AxleCount`] unless there are one to three lines;
    /// [`WeightsError::NoSuchAxle`] for a ticket of an axle beyond them.
    ///
    /// ```
    /// use tyreside::calc::quantity::{Mass, kilogram};
    /// use tyreside::calc::weights::solution::Solution;
    /// use tyreside::calc::weights::ticket::{Ticket, Weighing, Wheels};
    /// let ticket = |weighing, mass| {
    ///     let kg = Mass::new::<kilogram>;
    ///     Ticket::new(weighing, Wheels::Both, kg(mass), kg(20.0)).unwrap()
    /// };
    /// let tickets = [ticket(Weighing::TrailerWhole, 2600.0), ticket(Weighing::TrailerAxles, 2340.0)];
    /// let both = Solution::new(&tickets, 2, None, &[]).unwrap();
    /// let ball = both.figure(Weighing::Ball, Wheels::Both).unwrap();
    /// assert!((ball.mass.likely.get::<kilogram>() - 260.0).abs() < 1e-9);
    /// assert!((ball.doubt().get::<kilogram>() - 40.0).abs() < 1e-9);
    /// assert!(Solution::new(&tickets, 4, None, &[]).is_err());
    /// ```
    pub fn new(
        tickets: &[Ticket],
        lines: u8,
        lever: Option<Lever>,
        estimates: &[Estimated],
    ) -> Result<Self, WeightsError> {
        check_count(lines)?;
        for ticket in tickets {
            ticket.check_lines(lines)?;
        }
        let reading = |weighing: Weighing, wheels, mass, doubt| Reading {
            row: with_lever(weighing.row(wheels, lines), lever),
            kg: number(mass),
            doubt: number(doubt),
        };
        let read = tickets.iter().map(|ticket| {
            reading(
                ticket.weighing(),
                ticket.wheels(),
                ticket.mass(),
                ticket.doubt(),
            )
        });
        let estimated = estimates
            .iter()
            .map(|of| reading(of.weighing, Wheels::Both, of.mass, of.doubt));
        Ok(Self::of(
            read.chain(estimated).collect(),
            tickets.len(),
            lines,
            lever,
        ))
    }

    fn of(readings: Vec<Reading>, tickets: usize, lines: u8, lever: Option<Lever>) -> Self {
        let (read, estimated) = readings.split_at(tickets);
        let rows: Vec<_> = read.iter().map(|of| (of.row, of.doubt)).collect();
        let Fit { mut gains, free } = fit(&rows);
        let open = free;

        // What the estimates say along the open directions, and only there.
        let along = |row: &Row| -> Row {
            std::array::from_fn(|i| match open.get(i) {
                Some(way) if !is_fixed(row, std::slice::from_ref(way)) => dot(row, way),
                _ => 0.0,
            })
        };
        let back = |ways: &Row| {
            let mut row = [0.0; UNKNOWNS];
            for (way, times) in open.iter().zip(ways) {
                add(&mut row, *times, way);
            }
            row
        };
        let rows: Vec<_> = estimated
            .iter()
            .map(|of| (along(&of.row), of.doubt))
            .collect();
        let second = fit(&rows);
        let filled: Vec<Row> = second.gains.iter().map(back).collect();
        // An estimate fills what it has over the tickets, so that theirs are
        // taken off it.
        for gain in &mut gains {
            let of_tickets = *gain;
            for (of, fill) in estimated.iter().zip(&filled) {
                add(gain, -dot(&of.row, &of_tickets), fill);
            }
        }
        gains.extend(filled);
        let free = second
            .free
            .iter()
            .map(back)
            .filter(|way| way.iter().any(|x| *x != 0.0));
        let free = free.collect();
        Self {
            readings,
            tickets,
            lines,
            lever,
            gains,
            open,
            free,
        }
    }

    /// How many axles the van has.
    pub fn lines(&self) -> u8 {
        self.lines
    }

    fn row(&self, weighing: Weighing, wheels: Wheels) -> Row {
        with_lever(weighing.row(wheels, self.lines), self.lever)
    }

    /// A mass, where tickets or estimates give it.
    pub fn figure(&self, weighing: Weighing, wheels: Wheels) -> Option<Figure> {
        let beyond = matches!(weighing, Weighing::TrailerLine(line) if line >= self.lines);
        if beyond || (wheels != Wheels::Both && !weighing.has_sides()) {
            return None;
        }
        self.sum(&self.row(weighing, wheels))
    }

    fn sum(&self, row: &Row) -> Option<Figure> {
        if !is_fixed(row, &self.free) {
            return None;
        }
        let (mut likely, mut doubt) = (0.0, 0.0);
        for (reading, gain) in self.readings.iter().zip(&self.gains) {
            let times = dot(row, gain);
            likely += times * reading.kg;
            doubt += times.abs() * reading.doubt;
        }
        Some(Figure {
            mass: Span {
                low: kg(likely - doubt),
                likely: kg(likely),
                high: kg(likely + doubt),
            },
            estimated: !is_fixed(row, &self.open),
        })
    }

    /// What the ball mass takes off the front axle, as a share of it: as
    /// measured, or as the tickets have it.
    pub fn lever(&self) -> Option<f64> {
        if let Some(lever) = self.lever {
            return Some(lever.ratio());
        }
        let front = |weighing| Some(self.figure(weighing, Wheels::Both)?.mass.likely);
        let relief = front(Weighing::FrontAlone)? - front(Weighing::FrontHitched)?;
        let ball = front(Weighing::Ball)?;
        (number(ball) > 0.0).then(|| number(relief) / number(ball))
    }

    /// How each ticket stands to all of them together, in their order.
    pub fn residuals(&self) -> Vec<Residual> {
        let read = &self.readings[..self.tickets];
        let each = read.iter().enumerate().map(|(i, of)| {
            let (mut off, mut explained) = (0.0, 0.0);
            for (j, (other, gain)) in read.iter().zip(&self.gains).enumerate() {
                let times = f64::from(u8::from(i == j)) - dot(&of.row, gain);
                off += times * other.kg;
                explained += times.abs() * other.doubt;
            }
            Residual {
                off: kg(off),
                explained: kg(explained),
            }
        });
        each.collect()
    }

    /// Whether the tickets can't all be within their steps of the truth, and
    /// which one may be wrong.
    pub fn contradiction(&self) -> Option<Contradiction> {
        if self.agrees() {
            return None;
        }
        let mut suspects = (0..self.tickets).filter(|without| {
            let mut readings = self.readings[..self.tickets].to_vec();
            readings.remove(*without);
            Self::of(readings, self.tickets - 1, self.lines, self.lever).agrees()
        });
        let first = suspects.next();
        Some(Contradiction {
            suspect: first.filter(|_| suspects.next().is_none()),
        })
    }

    /// Whether the tickets can all be within their steps of the truth.
    pub fn agrees(&self) -> bool {
        !self.residuals().iter().any(Residual::contradicts)
    }

    /// The fewest further weighings by which tickets alone would give each of
    /// `wanted` (see [`ALL_FIGURES`]), in the order to ask for them. None where
    /// nothing is missing.
    pub fn missing(&self, wanted: &[Weighing]) -> Vec<Weighing> {
        let rows = |of: &[Weighing]| -> Vec<Row> {
            of.iter().map(|of| self.row(*of, Wheels::Both)).collect()
        };
        let wanted = rows(wanted);
        let read: Vec<_> = self.readings[..self.tickets]
            .iter()
            .map(|of| (of.row, of.doubt))
            .collect();
        for count in 0..=TO_ASK.len() {
            // Of as many, those that stand first in the list: the low bits.
            for chosen in 0_u32..1 << TO_ASK.len() {
                if chosen.count_ones() as usize != count {
                    continue;
                }
                let asked: Vec<Weighing> = TO_ASK
                    .into_iter()
                    .enumerate()
                    .filter(|(bit, _)| chosen & (1 << bit) != 0)
                    .map(|(_, weighing)| weighing)
                    .collect();
                let mut all = read.clone();
                all.extend(rows(&asked).into_iter().map(|row| (row, 1.0)));
                let would = fit(&all);
                if wanted.iter().all(|row| would.determines(row)) {
                    return asked;
                }
            }
        }
        // Sides and single axles, which no ticket of the list tells.
        Vec::new()
    }
}
