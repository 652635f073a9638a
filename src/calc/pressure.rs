//! The decision: what cold pressure an axle needs on a surface, and what
//! decided it.

use super::doubt::Doubt;
use super::limits::{Field, OutOfRange};
use super::quantity::{
    GaugePressure, GaugeStep, Mass, Velocity, kilogram, kilometer_per_hour, kilopascal,
};
use super::surface::{Band, Surface};
use super::tyre::capacity::{Capacity, TableSpeed, full_speed};

/// Lowest pressure used anywhere unless the rig says a higher one: 100 kPa
/// keeps a tubeless bead seated (common practice, no source).
pub const FLOOR_KPA: f64 = 100.0;

/// How far a placard or own figure may read above the maximum and still be
/// taken for it: 80 psi beside 550 kPa is 0.3 %.
const ROUNDED_WITHIN: f64 = 0.005;

/// How near two pressures count as the same, as a share: a placard that comes
/// back from a record lies up to a billionth of a gauge step above its mark.
const SAME_WITHIN: f64 = 1e-9;

/// What `Setting::Practice` calls a walking pace, km/h.
const WALKING_KMH: f64 = 5.0;

/// The load minimum and the stiffness model are said to differ above this.
const METHODS_DIFFER: f64 = 1.10;

/// What an axle's pressures follow from: the user's side of the tables.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axle {
    /// What one of its tyres carries.
    pub capacity: Capacity,
    /// Load on the most heavily loaded tyre.
    pub wheel_load: Mass,
    /// Tyres in the axle group.
    pub tyres: u8,
    /// Cold pressure on the tyre placard for the load carried.
    pub placard: Option<GaugePressure>,
    /// The most the wheel or its valve allows.
    pub wheel_maximum: Option<GaugePressure>,
    /// The user's own cold pressure on sealed road.
    pub own_sealed: Option<GaugePressure>,
    /// Lowest pressure used anywhere.
    pub floor: GaugePressure,
    /// Whether the load alone gives no figure for a sealed road, as on a rear
    /// or trailer axle with single camper tyres: a placard or own figure must.
    pub needs_makers_figure: bool,
}

/// How the band of practice and the tables are weighed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Setting {
    /// Never below what the tables ask for at the speed.
    HoldToTables,
    /// The band; where it is below the tables, that is said.
    Practice,
}

/// Why no pressure is given. Masses are per axle group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Refusal {
    /// The tyres don't carry the load at the highest pressure allowed.
    Overloaded {
        /// What must come off the group.
        shed: Mass,
        /// What sets the highest pressure.
        limited_by: Maximum,
        /// That pressure.
        at: GaugePressure,
    },
    /// The placard asks for more than the tyre or wheel may hold.
    PlacardAboveMaximum {
        /// The placard's pressure.
        placard: GaugePressure,
        /// The highest allowed.
        maximum: GaugePressure,
        /// What sets it.
        limited_by: Maximum,
    },
    /// The user's own figure is more than the tyre or wheel may hold.
    OwnAboveMaximum {
        /// The user's own.
        own: GaugePressure,
        /// The highest allowed.
        maximum: GaugePressure,
        /// What sets it.
        limited_by: Maximum,
    },
    /// Single camper tyres off the front axle need the maker's figure: their
    /// load alone gives none.
    MakersFigureNeeded,
    /// A maker's figure above a camper tyre's moulded pressure stands only
    /// where what wheel and valve allow is known.
    WheelMaximumNeeded {
        /// The figure.
        figure: GaugePressure,
        /// The moulded pressure.
        moulded: GaugePressure,
    },
    /// The floor is above the highest pressure allowed.
    FloorAboveMaximum {
        /// The floor.
        floor: GaugePressure,
        /// The highest allowed.
        maximum: GaugePressure,
    },
    /// An entered value is outside its range.
    OutOfRange(OutOfRange),
}

impl From<OutOfRange> for Refusal {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

/// What sets the highest pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Maximum {
    /// The tyre's sidewall.
    Sidewall,
    /// The passenger standard; the sidewall may allow more, and was not read.
    Standard,
    /// The wheel or its valve.
    Wheel,
}

/// What decided a sealed-road pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SealedReason {
    /// The load.
    LoadMinimum,
    /// The tyre placard.
    Placard,
    /// The lowest pressure that the tables have, or the moulded minimum.
    LowestRow,
    /// The floor.
    Floor,
    /// The user's own figure, which carries the load.
    Own,
}

/// Why the user's own sealed pressure was not taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OwnRefused {
    /// It doesn't carry the load; short by this much.
    BelowLoadMinimum(GaugePressure),
    /// It is under the floor.
    BelowFloor(GaugePressure),
}

/// The cold pressure on sealed road.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sealed {
    /// Rounded up to the gauge step, and never above the maximum.
    pub pressure: GaugePressure,
    /// What the load alone needs.
    pub load_minimum: GaugePressure,
    /// What decided.
    pub reason: SealedReason,
    /// The highest pressure allowed.
    pub maximum: GaugePressure,
    /// Why the user's own figure does not stand, where one was given.
    pub own_refused: Option<OwnRefused>,
    /// The stiffness model's load minimum, where it is more than a tenth
    /// above. At most the tyre's reference pressure; it may lie above a
    /// maximum set by the wheel, where by that model the load is too much.
    pub stiffness_model: Option<GaugePressure>,
}

/// What decided a pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Decided {
    /// Sealed road.
    Sealed(SealedReason),
    /// The surface's band.
    Band,
    /// The load at the band's speed limit.
    Tables,
    /// The floor.
    Floor,
}

/// A speed limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpeedLimit {
    /// The posted one; the tyre's own where it is known.
    Posted {
        /// By speed symbol.
        tyre: Option<Velocity>,
    },
    /// The surface's, or the tyre's where that is lower.
    UpTo(Velocity),
}

/// What would let the pressure come down to the middle of the band, or to the
/// floor where that is higher.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// What it would come down to.
    pub reachable: GaugePressure,
    /// The speed at which it is within the tables.
    pub table_speed: TableSpeed,
    /// What would have to come off the group at the band's speed limit.
    pub shed: Mass,
}

/// A caution that belongs beside the figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Caution {
    /// Pump up before sealed road.
    PumpUpBeforeSealed,
    /// Feel the sidewalls for heat.
    CheckSidewallHeat,
    /// No sharp steering.
    NoSharpSteering,
    /// For getting out, then pump up.
    OutThenPumpUp,
    /// Below the lowest published row: the law is carried on beyond it.
    BelowLowestRow(GaugePressure),
    /// Below what the tables ask for; within them up to a speed, or at none.
    BelowTables(TableSpeed),
    /// On sealed road the user's own figure is below the placard.
    BelowPlacard(GaugePressure),
    /// Neither placard nor own figure was given: the least that the load
    /// needs is no recommendation. With what the stiffness model asks, where
    /// that is more.
    LeastOnly(Option<GaugePressure>),
    /// The mass that was entered is doubted; the rig knows, an axle alone does not.
    Doubted(Doubt),
    /// Half of a remembered low-speed allowance is counted in it.
    LowSpeedAllowance,
    /// The tyre's speed symbol is not known.
    SpeedSymbolUnknown,
}

/// The answer for one axle on one surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Recommended cold pressure, in whole gauge steps; on sealed road as the
    /// user or a maximum has it.
    pub recommended: GaugePressure,
    /// Low end of what may be used.
    pub low: GaugePressure,
    /// High end.
    pub high: GaugePressure,
    /// Speed limit at these pressures.
    pub speed: SpeedLimit,
    /// Load carried above the load there is, as a share of it, at the
    /// recommended pressure and the speed limit. Negative below the tables.
    pub reserve: f64,
    /// What decided.
    pub decided: Decided,
    /// The band itself in pressures, low and high, before anything cut it.
    pub band: Option<(GaugePressure, GaugePressure)>,
    /// Load minimum at the surface's or tyre's speed limit. Practice below it
    /// has a lower speed limit.
    pub load_minimum: GaugePressure,
    /// What would let it come down, where the tables hold it above the band.
    pub held: Option<Held>,
    /// The sealed-road figure it was derated from.
    pub sealed: Sealed,
    /// Cautions, weightiest first.
    pub cautions: Vec<Caution>,
}

impl Axle {
    /// The highest cold pressure allowed, and what sets it.
    pub fn maximum(&self) -> (GaugePressure, Maximum) {
        let sidewall = self.capacity.maximum();
        match self.wheel_maximum {
            // A camper's maker may ask for more than is moulded.
            Some(wheel) if self.capacity.is_camper() => (wheel, Maximum::Wheel),
            Some(wheel) if wheel < sidewall.scaled(1.0 - SAME_WITHIN) => (wheel, Maximum::Wheel),
            _ if self.capacity.maximum_moulded() => (sidewall, Maximum::Sidewall),
            _ => (sidewall, Maximum::Standard),
        }
    }

    fn check(&self) -> Result<(), OutOfRange> {
        let pressure = |field: Field, p: Option<GaugePressure>| match p {
            Some(p) => field.check(p.get::<kilopascal>()).map(drop),
            None => Ok(()),
        };
        pressure(Field::PlacardPressure, self.placard)?;
        pressure(Field::WheelMaximum, self.wheel_maximum)?;
        pressure(Field::OwnSealedPressure, self.own_sealed)?;
        pressure(Field::Floor, Some(self.floor))?;
        // A load that is none, or no number, would give figures that are none.
        // Entered masses are far above this.
        const LEAST_KG: f64 = 1.0;
        let group = self.wheel_load.get::<kilogram>() * f64::from(self.tyres);
        if group.is_finite() && group >= LEAST_KG {
            return Ok(());
        }
        Err(OutOfRange {
            given: group,
            limit: Field::AxleMass.limit(),
        })
    }

    /// The cold pressure on sealed road:
    /// `max(load minimum, placard, lowest published row, floor)`, or the
    /// user's own where it carries the load.
    ///
    /// # Errors
    /// [`Refusal`] where no safe figure exists.
    pub fn sealed(&self, step: GaugeStep) -> Result<Sealed, Refusal> {
        self.check()?;
        let (maximum, limited_by) = self.maximum();
        let heaviest = self.capacity.heaviest(maximum);
        if self.wheel_load > heaviest {
            return Err(Refusal::Overloaded {
                shed: (self.wheel_load - heaviest) * f64::from(self.tyres),
                limited_by,
                at: maximum,
            });
        }
        if self.floor > maximum.scaled(1.0 + SAME_WITHIN) {
            return Err(Refusal::FloorAboveMaximum {
                floor: self.floor,
                maximum,
            });
        }
        // Sidewalls and placards round between psi and kilopascals.
        let above = |p: GaugePressure| p.ratio_to(maximum) > 1.0 + ROUNDED_WITHIN;
        if self.capacity.is_camper() && self.wheel_maximum.is_none() {
            let figure = self
                .placard
                .into_iter()
                .chain(self.own_sealed)
                .find(|p| above(*p));
            if let Some(figure) = figure {
                return Err(Refusal::WheelMaximumNeeded {
                    figure,
                    moulded: maximum,
                });
            }
        }
        if let Some(placard) = self.placard
            && above(placard)
        {
            return Err(Refusal::PlacardAboveMaximum {
                placard,
                maximum,
                limited_by,
            });
        }

        if let Some(own) = self.own_sealed
            && above(own)
        {
            return Err(Refusal::OwnAboveMaximum {
                own,
                maximum,
                limited_by,
            });
        }

        let load_minimum = self.capacity.load_minimum(self.wheel_load, full_speed());
        let mut pressure = load_minimum;
        let mut reason = SealedReason::LoadMinimum;
        let others = [
            (self.placard, SealedReason::Placard),
            (
                Some(self.capacity.lowest_row().min(maximum)),
                SealedReason::LowestRow,
            ),
            (Some(self.floor), SealedReason::Floor),
        ];
        for (other, why) in others {
            if let Some(other) = other
                && other > pressure
            {
                (pressure, reason) = (other, why);
            }
        }
        pressure = pressure.round_up(step).min(maximum);

        let mut own_refused = None;
        if let Some(own) = self.own_sealed {
            if own < load_minimum.scaled(1.0 - SAME_WITHIN) {
                own_refused = Some(OwnRefused::BelowLoadMinimum(load_minimum - own));
            } else if own < self.floor.scaled(1.0 - SAME_WITHIN) {
                own_refused = Some(OwnRefused::BelowFloor(self.floor - own));
            } else {
                (pressure, reason) = (own.min(maximum), SealedReason::Own);
            }
        }
        if self.needs_makers_figure && self.placard.is_none() && reason != SealedReason::Own {
            return Err(Refusal::MakersFigureNeeded);
        }
        let stiffness = self.capacity.stiffness_minimum(self.wheel_load);
        Ok(Sealed {
            pressure,
            load_minimum,
            reason,
            maximum,
            own_refused,
            stiffness_model: (stiffness.ratio_to(load_minimum) > METHODS_DIFFER)
                .then_some(stiffness),
        })
    }

    /// The answer for `surface`, whose band is `band` (none on sealed road).
    ///
    /// # Errors
    /// [`Refusal`] where no safe figure exists.
    pub fn on(
        &self,
        surface: Surface,
        band: Option<Band>,
        setting: Setting,
        step: GaugeStep,
    ) -> Result<Answer, Refusal> {
        let sealed = self.sealed(step)?;
        let mut answer = match band {
            Some(band) if surface != Surface::Sealed => self.derated(sealed, band, setting, step),
            _ => self.as_sealed(sealed),
        };
        self.add_cautions(&mut answer, surface);
        Ok(answer)
    }

    fn as_sealed(&self, sealed: Sealed) -> Answer {
        let recommended = sealed.pressure;
        Answer {
            recommended,
            low: recommended,
            high: recommended,
            speed: SpeedLimit::Posted {
                tyre: self.capacity.speed_limit(),
            },
            reserve: self.reserve(recommended, full_speed()),
            decided: Decided::Sealed(sealed.reason),
            band: None,
            load_minimum: sealed.load_minimum,
            held: None,
            sealed,
            cautions: Vec::new(),
        }
    }

    fn derated(&self, sealed: Sealed, band: Band, setting: Setting, step: GaugeStep) -> Answer {
        let speed = match self.capacity.speed_limit() {
            Some(limit) if limit < band.speed() => limit,
            _ => band.speed(),
        };
        let middle = sealed.pressure.scaled(band.middle());
        let tables = self.capacity.load_minimum(self.wheel_load, speed);
        // What the pressure may not go below, and why.
        let (least, because) = match setting {
            Setting::HoldToTables if tables > self.floor => (tables, Decided::Tables),
            _ => (self.floor, Decided::Floor),
        };
        // Nothing brings it below the floor.
        let reachable = middle.max(self.floor);
        let decided = if middle >= least.scaled(1.0 - SAME_WITHIN) {
            Decided::Band
        } else {
            because
        };
        // The sealed pressure meets the load, the floor and the maximum, so
        // it bounds all of these from above.
        let cut = |p: GaugePressure| p.max(least).min(sealed.pressure);
        let recommended = self.in_steps(cut(middle), sealed, step);
        let band_low = sealed.pressure.scaled(band.low());
        let band_high = sealed.pressure.scaled(band.high());
        let low = cut(band_low).round_up(step).min(recommended);
        // Practice below the tables is for the speed at which they allow it.
        let below = recommended < tables.scaled(1.0 - SAME_WITHIN);
        let slower = below.then(|| self.capacity.table_speed(recommended, self.wheel_load));
        let walking = Velocity::new::<kilometer_per_hour>(WALKING_KMH);
        let speed = match slower {
            Some(TableSpeed::UpTo(slower)) if slower < speed => slower,
            Some(TableSpeed::Never) if walking < speed => walking,
            _ => speed,
        };
        Answer {
            recommended,
            low,
            high: cut(band_high).round_down(step).max(recommended),
            speed: SpeedLimit::UpTo(speed),
            reserve: self.reserve(recommended, speed),
            decided,
            band: Some((band_low, band_high)),
            load_minimum: tables,
            held: (decided == Decided::Tables).then(|| Held {
                reachable,
                table_speed: self.capacity.table_speed(reachable, self.wheel_load),
                shed: (self.wheel_load - self.capacity.carries(reachable, speed))
                    * f64::from(self.tyres),
            }),
            sealed,
            cautions: slower.map(Caution::BelowTables).into_iter().collect(),
        }
    }

    /// `pressure` in whole gauge steps and enough: at most the sealed one where
    /// a step lies between, else the step above. Only where the maximum itself
    /// is on no step and nothing else will do, it is that maximum.
    fn in_steps(&self, pressure: GaugePressure, sealed: Sealed, step: GaugeStep) -> GaugePressure {
        let up = pressure.round_up(step);
        let most = sealed.maximum.scaled(1.0 + SAME_WITHIN);
        if up <= sealed.pressure.round_up(step) && up <= most {
            up.min(sealed.maximum)
        } else {
            sealed.pressure
        }
    }

    fn reserve(&self, pressure: GaugePressure, speed: Velocity) -> f64 {
        (self.capacity.carries(pressure, speed) / self.wheel_load).value - 1.0
    }

    fn add_cautions(&self, answer: &mut Answer, surface: Surface) {
        let slower = answer.cautions.iter().find_map(|caution| match caution {
            Caution::BelowTables(speed) => Some(*speed),
            _ => None,
        });
        let mut add = |caution| answer.cautions.push(caution);
        let p = answer.recommended;
        let sealed = answer.sealed.pressure;
        match self.placard {
            Some(placard)
                if sealed < placard.min(answer.sealed.maximum).scaled(1.0 - SAME_WITHIN) =>
            {
                add(Caution::BelowPlacard(placard));
            }
            None if answer.sealed.reason != SealedReason::Own => {
                add(Caution::LeastOnly(
                    answer
                        .sealed
                        .stiffness_model
                        .filter(|other| *other > sealed.scaled(1.0 + SAME_WITHIN)),
                ));
            }
            _ => {}
        }
        if surface != Surface::Sealed {
            if surface == Surface::Bogged {
                add(Caution::OutThenPumpUp);
            }
            add(Caution::PumpUpBeforeSealed);
            if surface.no_sharp_steering() {
                add(Caution::NoSharpSteering);
            }
            add(Caution::CheckSidewallHeat);
        }
        if p < self.capacity.lowest_row() {
            add(Caution::BelowLowestRow(self.capacity.lowest_row()));
        }
        // Where the allowance let a pressure pass, or sets a speed named here.
        let named = [answer.held.map(|held| held.table_speed), slower];
        let by_allowance = |speed: Option<TableSpeed>| matches!(speed, Some(TableSpeed::UpTo(speed)) if speed < full_speed());
        let lowered =
            answer.load_minimum < answer.sealed.load_minimum && p < answer.sealed.load_minimum;
        if self.capacity.low_speed_allowance() && (lowered || named.into_iter().any(by_allowance)) {
            add(Caution::LowSpeedAllowance);
        }
        if self.capacity.speed_limit().is_none() {
            add(Caution::SpeedSymbolUnknown);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::psi;
    use crate::calc::tyre::capacity::{Fitment, Moulded, Vehicle};
    use crate::calc::tyre::designation::Designation;

    const STEP: fn() -> GaugeStep = GaugeStep::one_psi;

    /// An invented axle: light-truck tyres of 1,550 kg at 550 kPa.
    fn axle(wheel_load_kg: f64) -> Axle {
        let tyre = Designation::parse("LT265/75R16 123/120Q E").expect("a designation");
        let capacity = Capacity::new(
            &tyre,
            &Moulded::default(),
            Fitment::Single,
            Vehicle::Other,
            true,
        )
        .expect("a capacity");
        Axle {
            capacity,
            wheel_load: Mass::new::<kilogram>(wheel_load_kg),
            tyres: 2,
            placard: None,
            wheel_maximum: None,
            own_sealed: None,
            floor: GaugePressure::new::<kilopascal>(FLOOR_KPA),
            needs_makers_figure: false,
        }
    }

    fn in_psi(value: f64) -> Option<GaugePressure> {
        Some(GaugePressure::new::<psi>(value))
    }

    fn shown(p: GaugePressure) -> f64 {
        (p.get::<psi>() * 1e6).round() / 1e6
    }

    fn on(axle: &Axle, surface: Surface, setting: Setting) -> Answer {
        axle.on(surface, surface.band(), setting, STEP())
            .expect("an answer")
    }

    #[test]
    fn sealed_takes_the_greatest_and_says_which() {
        let sealed = |axle: Axle| axle.sealed(STEP()).expect("a pressure");
        // 900 kg needs 36.7 psi, above the lowest row of 240 kPa.
        let s = sealed(axle(900.0));
        assert_eq!(
            (shown(s.pressure), s.reason),
            (37.0, SealedReason::LoadMinimum)
        );
        let s = sealed(axle(700.0));
        assert_eq!(
            (shown(s.pressure), s.reason),
            (35.0, SealedReason::LowestRow)
        );
        let s = sealed(Axle {
            placard: in_psi(42.0),
            ..axle(900.0)
        });
        assert_eq!((shown(s.pressure), s.reason), (42.0, SealedReason::Placard));
    }

    #[test]
    fn an_own_pressure_stands_only_where_it_carries_the_load() {
        let own = |value| {
            Axle {
                own_sealed: in_psi(value),
                ..axle(900.0)
            }
            .sealed(STEP())
            .unwrap()
        };
        let s = own(50.0);
        assert_eq!(
            (shown(s.pressure), s.reason, s.own_refused),
            (50.0, SealedReason::Own, None)
        );
        let s = own(30.0);
        assert_eq!(
            (shown(s.pressure), s.reason),
            (37.0, SealedReason::LoadMinimum)
        );
        match s.own_refused {
            Some(OwnRefused::BelowLoadMinimum(by)) => {
                assert!((by.get::<psi>() - 6.7).abs() < 0.05);
            }
            other => panic!("{other:?}"),
        }
        // Dropped, it once let the figure fall from 45 to the load minimum.
        let too_much = Axle {
            own_sealed: in_psi(90.0),
            ..axle(900.0)
        };
        assert!(matches!(
            too_much.sealed(STEP()),
            Err(Refusal::OwnAboveMaximum { .. })
        ));
    }

    #[test]
    fn overload_is_refused_with_what_must_come_off_the_axle() {
        match axle(1600.0).sealed(STEP()) {
            Err(Refusal::Overloaded {
                shed, limited_by, ..
            }) => {
                assert!((shed.get::<kilogram>() - 100.0).abs() < 1e-6);
                assert_eq!(limited_by, Maximum::Sidewall);
            }
            other => panic!("{other:?}"),
        }
        // 1,100 kg needs 48.9 psi; the wheel allows 45.
        let limited = Axle {
            wheel_maximum: in_psi(45.0),
            ..axle(1100.0)
        };
        assert!(matches!(
            limited.sealed(STEP()),
            Err(Refusal::Overloaded {
                limited_by: Maximum::Wheel,
                ..
            })
        ));
    }

    #[test]
    fn contradictions_are_refused_not_averaged() {
        let placard = Axle {
            placard: in_psi(85.0),
            ..axle(900.0)
        };
        assert!(matches!(
            placard.sealed(STEP()),
            Err(Refusal::PlacardAboveMaximum { .. })
        ));
        // An overload of NaN kilograms is no answer either.
        for load in [f64::NAN, f64::INFINITY, 0.0, -900.0] {
            assert!(
                matches!(axle(load).sealed(STEP()), Err(Refusal::OutOfRange(_))),
                "{load}"
            );
        }
        let floor = Axle {
            floor: GaugePressure::new::<kilopascal>(20.0),
            ..axle(900.0)
        };
        assert!(matches!(floor.sealed(STEP()), Err(Refusal::OutOfRange(_))));
    }

    /// The sidewall prints 550 kPa and 80 psi, which is 551.6: taking the one
    /// for the other called 80 psi a danger.
    #[test]
    fn rounding_up_stops_at_the_sidewalls_maximum() {
        let s = axle(1549.0).sealed(STEP()).unwrap();
        assert_eq!(shown(s.pressure), 80.0);
    }

    #[test]
    fn the_tables_hold_a_loaded_axle_above_the_band_and_say_how_to_come_down() {
        let loaded = Axle {
            own_sealed: in_psi(50.0),
            ..axle(1000.0)
        };
        let a = on(&loaded, Surface::Dirt, Setting::HoldToTables);
        // 42.7 psi at 80 km/h against a band of 30 to 35.
        assert_eq!((shown(a.recommended), a.decided), (43.0, Decided::Tables));
        assert!(a.reserve >= 0.0);
        let held = a.held.expect("held above the band");
        assert!((shown(held.reachable) - 32.5).abs() < 1e-6);
        assert_eq!(held.table_speed, TableSpeed::Never);
        let lighter = Axle {
            wheel_load: loaded.wheel_load - held.shed / 2.0,
            ..loaded
        };
        let a = on(&lighter, Surface::Dirt, Setting::HoldToTables);
        assert!((a.load_minimum.get::<psi>() - 32.5).abs() < 1e-6);
    }

    #[test]
    fn practice_gives_the_band_and_says_where_it_is_below_the_tables() {
        let loaded = Axle {
            own_sealed: in_psi(50.0),
            ..axle(1000.0)
        };
        let a = on(&loaded, Surface::Dirt, Setting::Practice);
        assert_eq!(
            (shown(a.low), shown(a.recommended), shown(a.high)),
            (30.0, 33.0, 35.0)
        );
        assert_eq!(a.decided, Decided::Band);
        assert!(
            a.cautions
                .contains(&Caution::BelowTables(TableSpeed::Never))
        );
        assert!(a.reserve < 0.0);
        // The speed shown is not the band's, which the tables don't allow.
        let walking = Velocity::new::<kilometer_per_hour>(WALKING_KMH);
        assert_eq!(a.speed, SpeedLimit::UpTo(walking));
        let lighter = Axle {
            own_sealed: in_psi(50.0),
            ..axle(900.0)
        };
        let a = on(&lighter, Surface::Dirt, Setting::Practice);
        match (a.speed, a.cautions[0]) {
            (SpeedLimit::UpTo(speed), Caution::BelowTables(TableSpeed::UpTo(allowed))) => {
                assert_eq!(speed, allowed);
                assert!(a.reserve > -1e-9);
            }
            other => panic!("{other:?}"),
        }
    }

    /// On sand from 35 psi the band's middle is 14 psi, under the floor: the
    /// speed and the kilograms named were those for 14 psi, which no rig of
    /// this floor would be given.
    #[test]
    fn nothing_is_promised_below_the_floor() {
        let a = on(&axle(550.0), Surface::Sand, Setting::HoldToTables);
        assert_eq!(a.decided, Decided::Tables);
        let held = a.held.expect("held above the band");
        assert_eq!(held.reachable.get::<kilopascal>(), FLOOR_KPA);
        let lighter = axle(550.0).wheel_load - held.shed / 2.0;
        let a = on(
            &Axle {
                wheel_load: lighter * (1.0 - 1e-9),
                ..axle(550.0)
            },
            Surface::Sand,
            Setting::HoldToTables,
        );
        assert_eq!((shown(a.recommended), a.decided), (15.0, Decided::Floor));
    }

    /// An own 210 kPa shown in psi is 30.5: on gravel 30.2 psi by the tables
    /// was rounded up to a step and cut back to 30.5, which no gauge shows.
    #[test]
    fn an_own_figure_off_the_step_leaves_the_others_on_it() {
        for (kg, kpa) in [
            (785.0, 210.0),
            (789.0, 210.0),
            (900.0, 254.0),
            (1000.0, 300.0),
        ] {
            let axle = Axle {
                own_sealed: Some(GaugePressure::new::<crate::calc::quantity::kilopascal>(kpa)),
                ..axle(kg)
            };
            for surface in Surface::ALL {
                let a = on(&axle, surface, Setting::HoldToTables);
                assert_eq!(
                    a.decided == Decided::Sealed(SealedReason::Own),
                    surface == Surface::Sealed
                );
                for p in [a.low, a.recommended, a.high] {
                    let mark = p.get::<psi>();
                    let whole = (mark - mark.round()).abs() < 1e-9;
                    assert!(
                        whole || surface == Surface::Sealed,
                        "{kg} kg, {surface:?}: {mark}"
                    );
                }
            }
        }
    }

    /// A van with nothing entered but its GTM got a figure that looked as sure
    /// as one off a placard.
    #[test]
    fn the_least_for_the_load_is_called_no_recommendation() {
        let least = |axle: Axle| {
            let a = on(&axle, Surface::Sealed, Setting::HoldToTables);
            a.cautions
                .iter()
                .any(|c| matches!(c, Caution::LeastOnly(_)))
        };
        assert!(least(axle(900.0)));
        assert!(!least(Axle {
            placard: in_psi(36.0),
            ..axle(900.0)
        }));
        assert!(!least(Axle {
            own_sealed: in_psi(45.0),
            ..axle(900.0)
        }));
    }

    #[test]
    fn the_floor_holds_a_light_axle() {
        let a = on(&axle(400.0), Surface::Bogged, Setting::HoldToTables);
        assert_eq!((shown(a.recommended), a.decided), (15.0, Decided::Floor));
        assert!(a.cautions.contains(&Caution::OutThenPumpUp));
        assert!(a.cautions.contains(&Caution::NoSharpSteering));
    }

    #[test]
    fn a_slow_tyre_limits_the_speed_of_the_surface() {
        let tyre = Designation::parse("LT265/75R16 123/120B E").expect("a designation");
        let capacity = Capacity::new(
            &tyre,
            &Moulded::default(),
            Fitment::Single,
            Vehicle::Other,
            true,
        )
        .expect("a capacity");
        let a = on(
            &Axle {
                capacity,
                ..axle(700.0)
            },
            Surface::Dirt,
            Setting::HoldToTables,
        );
        assert_eq!(
            a.speed,
            SpeedLimit::UpTo(Velocity::new::<kilometer_per_hour>(50.0))
        );
    }
}
