//! How hard a stud pulls at a torque: F = T/(K·d).
//!
//! An insight, never a reason to change the maker's torque: the friction that
//! K stands for is not known at the wheel, and the scatter says by how much.

use super::{Torque, TorqueError, newton_meter};
use crate::calc::limits::Field;
use crate::calc::quantity::psi;
use std::f64::consts::FRAC_PI_4;
use std::ops::RangeInclusive;
use uom::si::area::square_meter;
use uom::si::f64::{Area, Force, Length, Pressure};
use uom::si::force::newton;
use uom::si::length::{inch, meter, millimeter};
use uom::si::pressure::{megapascal, pascal};

/// Clamp load at a known torque scatters by this share to either side
/// (±25 %: a university design team's notes on bolting; 30 % from memory). [`Spread`] takes
/// the wider.
pub const SCATTER: RangeInclusive<f64> = 0.25..=0.30;

/// The threads of wheel studs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Thread {
    /// M12×1.25.
    M12Pitch125,
    /// M12×1.5.
    M12Pitch150,
    /// M14×1.5.
    M14Pitch150,
    /// 7/16-20 UNF.
    SevenSixteenths20,
    /// 1/2-20 UNF.
    Half20,
    /// 9/16-18 UNF.
    NineSixteenths18,
}

impl Thread {
    /// Every thread, in the order to offer them.
    pub const ALL: [Self; 6] = [
        Self::M12Pitch125,
        Self::M12Pitch150,
        Self::M14Pitch150,
        Self::SevenSixteenths20,
        Self::Half20,
        Self::NineSixteenths18,
    ];

    /// Nominal diameter, and pitch.
    fn size(self) -> (Length, Length) {
        let metric = |d, pitch| {
            (
                Length::new::<millimeter>(d),
                Length::new::<millimeter>(pitch),
            )
        };
        let unified =
            |d, per_inch: f64| (Length::new::<inch>(d), Length::new::<inch>(1.0 / per_inch));
        match self {
            Self::M12Pitch125 => metric(12.0, 1.25),
            Self::M12Pitch150 => metric(12.0, 1.5),
            Self::M14Pitch150 => metric(14.0, 1.5),
            Self::SevenSixteenths20 => unified(0.4375, 20.0),
            Self::Half20 => unified(0.5, 20.0),
            Self::NineSixteenths18 => unified(0.5625, 18.0),
        }
    }

    /// Nominal diameter.
    pub fn diameter(self) -> Length {
        self.size().0
    }

    /// Tensile stress area: ISO 898-1 and ASME B1.1 (both formulas from
    /// memory; they give the published areas).
    ///
    /// Metric π/4·((d₂+d₃)/2)² with d₂ = d − 0.649519·P, d₃ = d − 1.226869·P;
    /// unified π/4·(D − 0.9743·P)².
    pub fn stress_area(self) -> Area {
        let (diameter, pitch) = self.size();
        let (d, p) = (diameter.get::<meter>(), pitch.get::<meter>());
        let effective = match self {
            Self::M12Pitch125 | Self::M12Pitch150 | Self::M14Pitch150 => {
                ((d - 0.649_519 * p) + (d - 1.226_869 * p)) / 2.0
            }
            Self::SevenSixteenths20 | Self::Half20 | Self::NineSixteenths18 => d - 0.974_3 * p,
        };
        Area::new::<square_meter>(FRAC_PI_4 * effective * effective)
    }

    /// The load that a stud of this thread and `class` bears without taking a
    /// permanent stretch.
    pub fn proof_load(self, class: PropertyClass) -> Force {
        Force::new::<newton>(
            class.proof_stress().get::<pascal>() * self.stress_area().get::<square_meter>(),
        )
    }
}

/// Strength of a stud, as stamped on its end or in its maker's data.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PropertyClass {
    /// ISO 898-1 class 8.8.
    Iso8_8,
    /// ISO 898-1 class 10.9.
    Iso10_9,
    /// SAE J429 grade 5.
    Sae5,
    /// SAE J429 grade 8.
    Sae8,
}

impl PropertyClass {
    /// Every class, in the order to offer them.
    pub const ALL: [Self; 4] = [Self::Iso8_8, Self::Iso10_9, Self::Sae5, Self::Sae8];

    /// Proof stress at the sizes in [`Thread`], all below 16 mm: 580 and
    /// 830 MPa (summaries of ISO 898-1), 85 ksi (coxhardware.com, SAE J429),
    /// 120 ksi (from memory).
    pub fn proof_stress(self) -> Pressure {
        match self {
            Self::Iso8_8 => Pressure::new::<megapascal>(580.0),
            Self::Iso10_9 => Pressure::new::<megapascal>(830.0),
            Self::Sae5 => Pressure::new::<psi>(85_000.0),
            Self::Sae8 => Pressure::new::<psi>(120_000.0),
        }
    }
}

/// The state of thread and seat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Surfaces {
    /// Clean and dry.
    Dry,
    /// Oiled or greased.
    Lubricated,
}

impl Surfaces {
    /// K in T = K·d·F: 0.20 dry, 0.15 lubricated (Speck, Mechanical
    /// Fastening, Joining, and Assembly, 2nd ed., p. 85).
    pub fn nut_factor(self) -> f64 {
        match self {
            Self::Dry => 0.20,
            Self::Lubricated => 0.15,
        }
    }
}

/// A figure with its scatter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread<T> {
    /// 30 % less.
    pub low: T,
    /// The figure itself.
    pub typical: T,
    /// 30 % more.
    pub high: T,
}

/// How a clamp load stands to the proof load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// All of the scatter is within it.
    Within,
    /// The upper part of the scatter is beyond it.
    MayExceed,
    /// The typical load is beyond it already.
    Exceeds,
}

/// What the stud pulls with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clamp {
    /// Tension in the stud.
    pub tension: Spread<Force>,
    /// The same as a share of the proof load, 1 at the proof load.
    pub proof_share: Spread<f64>,
}

/// From this share of the proof load up a torque is doubted: its unit, or the
/// stud. Axle makers' figures reach 0.83 of it for studs of class 8.8 and grade
/// 5, dry (a trailer dealer's data sheet; `tests/published` prints them), and
/// charts aim at 0.75 (AFT, Cox, South Bend).
///
/// No least is drawn: of studs of class 10.9 the same figures are down to 0.28,
/// and a figure in ft·lbf that is read as N·m only loses a quarter.
const DOUBTED_FROM: f64 = 0.92;

impl Clamp {
    /// Whether so much pull says that the torque's unit, the thread or the
    /// class is a slip.
    pub fn is_doubted(&self) -> bool {
        self.proof_share.typical > DOUBTED_FROM
    }

    /// How it stands to the proof load.
    pub fn proof(&self) -> Proof {
        if self.proof_share.high <= 1.0 {
            Proof::Within
        } else if self.proof_share.typical <= 1.0 {
            Proof::MayExceed
        } else {
            Proof::Exceeds
        }
    }
}

/// The clamp load as the threads are, and with oil on them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClampAnswer {
    /// As said.
    pub as_is: Clamp,
    /// The same torque with oil on thread and seat. The same figures where
    /// they were said to be lubricated.
    pub oiled: Clamp,
}

/// Clamp load of a stud tightened to `torque`.
///
/// # Errors
/// [`Field::SpecTorque`] out of range.
///
/// ```
/// use tyreside::calc::torque::thread::*;
/// use tyreside::calc::torque::{Torque, newton_meter};
/// use uom::si::force::kilonewton;
/// let torque = Torque::new::<newton_meter>(120.0);
/// let answer =
///     clamp_load(torque, Thread::M12Pitch150, PropertyClass::Iso8_8, Surfaces::Dry).unwrap();
/// assert!((answer.as_is.tension.typical.get::<kilonewton>() - 50.0).abs() < 1e-9);
/// assert_eq!(answer.as_is.proof(), Proof::MayExceed);
/// assert_eq!(answer.oiled.proof(), Proof::Exceeds);
/// let none = Torque::new::<newton_meter>(f64::NAN);
/// assert!(clamp_load(none, Thread::Half20, PropertyClass::Sae8, Surfaces::Dry).is_err());
/// ```
pub fn clamp_load(
    torque: Torque,
    thread: Thread,
    class: PropertyClass,
    surfaces: Surfaces,
) -> Result<ClampAnswer, TorqueError> {
    let moment = Field::SpecTorque.check(torque.get::<newton_meter>())?;
    let proof = thread.proof_load(class).get::<newton>();
    let with = |surfaces: Surfaces| {
        let tension = moment / (surfaces.nut_factor() * thread.diameter().get::<meter>());
        let (less, more) = (1.0 - SCATTER.end(), 1.0 + SCATTER.end());
        Clamp {
            tension: Spread {
                low: Force::new::<newton>(tension * less),
                typical: Force::new::<newton>(tension),
                high: Force::new::<newton>(tension * more),
            },
            proof_share: Spread {
                low: tension * less / proof,
                typical: tension / proof,
                high: tension * more / proof,
            },
        }
    };
    Ok(ClampAnswer {
        as_is: with(surfaces),
        oiled: with(Surfaces::Lubricated),
    })
}
