//! Weights: from weighbridge tickets to the masses on axles and ball, what the
//! plates leave of them, and what moving a load does.
//!
//! | module | answers |
//! | --- | --- |
//! | [`ticket`] | what stood on the plate, and what was read? |
//! | [`solution`] | what do all tickets together say, do they agree, which is missing? |
//! | [`estimate`] | what can be said before any was had? |
//! | [`plan`] | what does a load do where it lies? |
//! | [`plates`] | how much is left of each rating? |
//!
//! Statics on level ground, nothing more: a ball mass B behind the rear axle
//! by the overhang o lightens the front axle by B·o/w and gives the rear
//! B·(w + o)/w, w the wheelbase. A coupling with load-levelling bars under
//! tension shifts mass otherwise: weigh with the bars slack.
//!
//! What no ticket tells apart is shared evenly: the axles of a van's group,
//! and the two sides under a load that is moved.

pub mod estimate;
mod fit;
pub mod plan;
pub mod plates;
pub mod solution;
pub mod ticket;

use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{Length, Mass, Span, kilogram, millimeter};
use ticket::Weighing;

/// The masses that everything else is a sum of. Each end of the vehicle's
/// axles as the vehicle stands alone, the ball mass, what that takes off the
/// front axle, and each end of the van's axles coupled.
const UNKNOWNS: usize = 12;
const FRONT: usize = 0;
const REAR: usize = 2;
const BALL: usize = 4;
const RELIEF: usize = 5;
const TRAILER: usize = 6;

/// One number for each of the [`UNKNOWNS`]: the masses themselves, or how
/// often each is in a sum.
type Row = [f64; UNKNOWNS];

fn dot(a: &Row, b: &Row) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Adds `times` `b` to `a`.
fn add(a: &mut Row, times: f64, b: &Row) {
    for (a, b) in a.iter_mut().zip(b) {
        *a += times * b;
    }
}

fn kg(value: f64) -> Mass {
    Mass::new::<kilogram>(value)
}

fn number(mass: Mass) -> f64 {
    mass.get::<kilogram>()
}

/// A tape's measures of the rig, each along the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measures {
    wheelbase: Length,
    /// Overhang and drawbar, where there is a van.
    van: Option<(Length, Length)>,
}

impl Measures {
    /// `wheelbase` from the vehicle's front to its rear axle, `overhang` from
    /// its rear axle back to the ball, `drawbar` from the ball to the middle
    /// of the van's axles.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::Wheelbase`], [`Field::BallOverhang`] or
    /// [`Field::DrawbarLength`].
    ///
    /// ```
    /// use tyreside::calc::quantity::{Length, meter};
    /// use tyreside::calc::weights::Measures;
    /// let m = Length::new::<meter>;
    /// let rig = Measures::new(m(2.8), m(1.12), m(4.9)).unwrap();
    /// assert!((rig.lever().unwrap().ratio() - 0.4).abs() < 1e-12);
    /// assert!(Measures::new(m(28.0), m(1.12), m(4.9)).is_err());
    /// ```
    pub fn new(wheelbase: Length, overhang: Length, drawbar: Length) -> Result<Self, OutOfRange> {
        Lever::new(overhang, wheelbase)?;
        Field::DrawbarLength.check(drawbar.get::<millimeter>())?;
        Ok(Self {
            wheelbase,
            van: Some((overhang, drawbar)),
        })
    }

    /// Those of a vehicle that tows nothing: what lies on a van is then nowhere.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::Wheelbase`].
    pub fn of_vehicle(wheelbase: Length) -> Result<Self, OutOfRange> {
        Field::Wheelbase.check(wheelbase.get::<millimeter>())?;
        Ok(Self {
            wheelbase,
            van: None,
        })
    }

    /// From the front to the rear axle.
    pub fn wheelbase(&self) -> Length {
        self.wheelbase
    }

    /// From the rear axle to the ball.
    pub fn overhang(&self) -> Option<Length> {
        self.van.map(|(overhang, _)| overhang)
    }

    /// From the ball to the middle of the van's axles.
    pub fn drawbar(&self) -> Option<Length> {
        self.van.map(|(_, drawbar)| drawbar)
    }

    /// How the ball's load reaches the vehicle's axles.
    pub fn lever(&self) -> Option<Lever> {
        let behind = self.overhang()?;
        Some(Lever((behind / self.wheelbase).value))
    }
}

/// Overhang over wheelbase: the share of the ball mass that comes off the
/// front axle, and is on the rear axle besides the ball mass itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lever(f64);

impl Lever {
    /// From the rear axle to the ball, over the wheelbase.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::BallOverhang`] or [`Field::Wheelbase`].
    pub fn new(overhang: Length, wheelbase: Length) -> Result<Self, OutOfRange> {
        let base = Field::Wheelbase.check(wheelbase.get::<millimeter>())?;
        let behind = Field::BallOverhang.check(overhang.get::<millimeter>())?;
        Ok(Self(behind / base))
    }

    /// The bare ratio.
    pub fn ratio(self) -> f64 {
        self.0
    }
}

/// Whether the van hangs on the vehicle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Coupling {
    /// The van on the ball.
    Hitched,
    /// Each by itself.
    Unhitched,
}

/// An axle, or the van's group of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AxleAt {
    /// The vehicle's front axle.
    Front,
    /// The vehicle's rear axle.
    Rear,
    /// The van's axles.
    Trailer,
}

impl AxleAt {
    /// All three, from the front.
    pub const ALL: [Self; 3] = [Self::Front, Self::Rear, Self::Trailer];

    /// What a plate under it would show. The van's axles carry what they carry
    /// coupled: a van on its jockey wheel goes nowhere.
    pub fn weighing(self, coupling: Coupling) -> Weighing {
        match (self, coupling) {
            (Self::Front, Coupling::Hitched) => Weighing::FrontHitched,
            (Self::Front, Coupling::Unhitched) => Weighing::FrontAlone,
            (Self::Rear, Coupling::Hitched) => Weighing::RearHitched,
            (Self::Rear, Coupling::Unhitched) => Weighing::RearAlone,
            (Self::Trailer, _) => Weighing::TrailerAxles,
        }
    }
}

/// A mass that was worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// The likely mass, and how far it may be off where every ticket is within
    /// its step of the truth.
    pub mass: Span<Mass>,
    /// Whether tickets alone don't give it, and an estimate stands in.
    pub estimated: bool,
}

impl Figure {
    /// How far the mass may be off to either side.
    pub fn doubt(&self) -> Mass {
        self.mass.high - self.mass.likely
    }

    /// The same after `more` came on.
    #[must_use]
    fn plus(self, more: Mass) -> Self {
        let Span { low, likely, high } = self.mass;
        Self {
            mass: Span {
                low: low + more,
                likely: likely + more,
                high: high + more,
            },
            ..self
        }
    }
}

/// Why weights were not taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WeightsError {
    /// A value beyond its limit.
    OutOfRange(OutOfRange),
    /// One side only of what has none: a ball, or a van on its jockey wheel.
    OneSideOf(Weighing),
    /// An axle that the van has not.
    NoSuchAxle {
        /// Which, from 0 at the front.
        line: u8,
        /// How many it has.
        lines: u8,
    },
    /// A group of less than one axle or more than three.
    AxleCount {
        /// How many were given.
        given: u8,
    },
    /// Of two plate figures the first must not exceed the second.
    PlateOrder {
        /// The lesser by its meaning.
        lesser: plates::Plate,
        /// The greater by its meaning.
        greater: plates::Plate,
    },
}

crate::calc::error_by_its_fields!(WeightsError);

impl From<OutOfRange> for WeightsError {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}
