//! Rating plates: what each of them limits, and how much of it is left.
//!
//! In one line each, as Australian public documents give them (read: GVM, GCM
//! and GTM on a South Australian government page, ATM in a department's
//! circular quoting the design rules; quoted: tare, ball mass, towing limit):
//!
//! - GVM: the most that the loaded vehicle may weigh, by its maker; the ball
//!   mass is on it.
//! - GCM: the most that vehicle and trailer may weigh together.
//! - Tare: ready for service, nobody and nothing in it.
//! - ATM: the most that the loaded trailer may weigh, with what it puts on the
//!   vehicle. Elsewhere: maximum laden mass.
//! - GTM: the most that the trailer's axles may put on the ground, coupled.
//! - Ball mass: what the trailer puts on the ball; ATM less GTM at the most
//!   loaded. Elsewhere: nose weight, tongue weight, static vertical load.

use super::plan::Laden;
use super::ticket::{Weighing, Wheels};
use super::{AxleAt, Coupling, Figure, WeightsError, number};
use crate::calc::limits::Field;
use crate::calc::quantity::Mass;
use crate::calc::sort_by_number;

/// Ball mass in percent of the van's: the usual aim in Australia. Common
/// practice, no source; trade pages repeat it.
pub const BALL_PERCENT_AUSTRALIA: f64 = 10.0;

/// The same in Europe, from and to. Common practice; 5 to 7 was quoted of a
/// British trade body, 4 is the least of a European coupling rule.
pub const BALL_PERCENT_EUROPE: (f64, f64) = (4.0, 7.0);

/// A figure on a trailer's plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Plate {
    /// Empty.
    Tare,
    /// On its axles at most.
    Gtm,
    /// In all at most.
    Atm,
}

/// A trailer's plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TrailerPlate {
    tare: Mass,
    gtm: Mass,
    atm: Mass,
}

impl TrailerPlate {
    /// As on the plate.
    ///
    /// # Errors
    /// [`WeightsError::OutOfRange`] by [`Field::RatedMass`];
    /// [`WeightsError::PlateOrder`] where tare or GTM exceed the ATM.
    ///
    /// ```
    /// use tyreside::calc::quantity::{Mass, kilogram};
    /// use tyreside::calc::weights::plates::TrailerPlate;
    /// let kg = Mass::new::<kilogram>;
    /// let plate = TrailerPlate::new(kg(2500.0), kg(3250.0), kg(3500.0)).unwrap();
    /// assert_eq!((plate.payload(), plate.least_ball()), (kg(1000.0), kg(250.0)));
    /// assert!(TrailerPlate::new(kg(2500.0), kg(3500.0), kg(3250.0)).is_err());
    /// ```
    pub fn new(tare: Mass, gtm: Mass, atm: Mass) -> Result<Self, WeightsError> {
        for mass in [tare, gtm, atm] {
            Field::RatedMass.check(number(mass))?;
        }
        for (lesser, mass) in [(Plate::Tare, tare), (Plate::Gtm, gtm)] {
            if mass > atm {
                return Err(WeightsError::PlateOrder {
                    lesser,
                    greater: Plate::Atm,
                });
            }
        }
        Ok(Self { tare, gtm, atm })
    }

    /// What may be loaded: ATM less tare.
    pub fn payload(&self) -> Mass {
        self.atm - self.tare
    }

    /// What must be on the ball when loaded to the ATM, or the axles carry
    /// more than the GTM.
    pub fn least_ball(&self) -> Mass {
        self.atm - self.gtm
    }
}

/// The towing limit: the lesser of the towing gear's rating and what the GCM
/// leaves beside the GVM (design rules, quoted).
pub fn towing_limit(gear: Mass, gcm: Mass, gvm: Mass) -> Mass {
    let beside = gcm - gvm;
    if beside < gear { beside } else { gear }
}

/// What may be towed where neither maker gives a limit, in South Australia:
/// 1.5 times the vehicle's unladen mass with trailer brakes that the driver can
/// work, else its unladen mass (Road Traffic (Mass and Loading Requirements)
/// Regulations 1999, schedule 2 clause 2: read). Other places differ.
pub fn towing_limit_unstated(unladen: Mass, braked: bool) -> Mass {
    unladen * if braked { 1.5 } else { 1.0 }
}

/// A limit on a mass of the rig.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rating {
    /// Of the vehicle's front or rear axle by its maker, or of the van's axles
    /// by theirs.
    Axle(AxleAt),
    /// The vehicle with what is on its ball.
    Gvm,
    /// Vehicle and van.
    Gcm,
    /// The van's axles, coupled.
    Gtm,
    /// The whole van.
    Atm,
    /// What may be on the ball, the least of ball, bar and vehicle.
    Ball,
    /// What may be towed.
    Towing,
    /// What one tyre of an axle carries at the pressure set. Its mass is the
    /// heaviest wheel's.
    Tyre(AxleAt),
}

impl Rating {
    /// What of the rig it limits in a state, if anything. The van by itself
    /// stands still, so that only its whole mass still counts.
    pub fn weighing(self, coupling: Coupling) -> Option<Weighing> {
        let hitched = coupling == Coupling::Hitched;
        match self {
            Self::Axle(AxleAt::Trailer) | Self::Gtm => hitched.then_some(Weighing::TrailerAxles),
            Self::Axle(at) => Some(at.weighing(coupling)),
            Self::Gvm => Some(match coupling {
                Coupling::Hitched => Weighing::VehicleHitched,
                Coupling::Unhitched => Weighing::VehicleAlone,
            }),
            Self::Gcm => hitched.then_some(Weighing::Combination),
            Self::Atm => Some(Weighing::TrailerWhole),
            Self::Towing => hitched.then_some(Weighing::TrailerWhole),
            Self::Ball => hitched.then_some(Weighing::Ball),
            Self::Tyre(_) => None,
        }
    }
}

/// How a mass stands to its limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Within, even at the high end of its doubt.
    Within,
    /// Within if it is as likely; at the high end of its doubt not.
    Doubtful,
    /// Above.
    Over,
}

/// What is left of a rating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// Which.
    pub rating: Rating,
    /// The mass that it limits.
    pub mass: Figure,
    /// The limit.
    pub limit: Mass,
}

impl Margin {
    /// What may come on yet; less than nothing where it is over.
    pub fn left(&self) -> Mass {
        self.limit - self.mass.mass.likely
    }

    /// The same in percent of the limit.
    pub fn percent(&self) -> f64 {
        number(self.left()) / number(self.limit) * 100.0
    }

    /// Within, doubtful or over.
    pub fn standing(&self) -> Standing {
        if self.mass.mass.likely > self.limit {
            Standing::Over
        } else if self.mass.mass.high > self.limit {
            Standing::Doubtful
        } else {
            Standing::Within
        }
    }
}

/// What is left of each limit in a state, worst first by its percent. A limit
/// whose mass is not known is left out, and so is one that says nothing in
/// this state.
///
/// # Errors
/// [`WeightsError::OutOfRange`] by [`Field::RatedMass`].
pub fn margins(
    laden: &Laden,
    coupling: Coupling,
    limits: &[(Rating, Mass)],
) -> Result<Vec<Margin>, WeightsError> {
    let mut all = Vec::new();
    for (rating, limit) in limits {
        Field::RatedMass.check(number(*limit))?;
        let mass = rating
            .weighing(coupling)
            .and_then(|weighing| laden.figure(weighing, Wheels::Both));
        if let Some(mass) = mass {
            all.push(Margin {
                rating: *rating,
                mass,
                limit: *limit,
            });
        }
    }
    worst_first(&mut all);
    Ok(all)
}

/// Puts the least percent left first.
pub fn worst_first(margins: &mut [Margin]) {
    sort_by_number(margins, Margin::percent);
}
