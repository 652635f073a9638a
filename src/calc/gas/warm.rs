//! Warm tyres: what a gauge should show now for a cold target, and what the
//! rise after a drive says.
//!
//! A cold pressure is one with the tyre as warm as the air around it, here and
//! now. One tyre's warm reading gives its air's temperature; other tyres of the
//! rig need not be as warm.

use super::height::Height;
use super::{AmbientTemperature, TyreTemperature};
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{
    AbsolutePressure, GaugePressure, GaugeStep, Span, ThermodynamicTemperature, Time, kelvin,
    kilopascal, minute,
};

/// Height and air temperature at one time, as far as they are known.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Surroundings {
    /// Height above the sea.
    pub height: Option<Height>,
    /// Temperature of the air around, in the shade.
    pub temperature: Option<AmbientTemperature>,
}

/// A cold pressure and where it was set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ColdSetting {
    /// Gauge pressure, tyre cold.
    pub pressure: GaugePressure,
    /// Where it was set.
    pub at: Surroundings,
}

/// Where a figure of the surroundings came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// All that was needed was given.
    Given,
    /// One of setting and now was given; the other is taken as the same.
    TakenAsSame,
    /// Neither was given. Temperature: unchanged since setting. Height: sea level.
    NotGiven,
}

/// Why there is no figure for a warm tyre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WarmError {
    /// A pressure or time beyond its limit.
    OutOfRange(OutOfRange),
    /// The reading is more than a gauge step below the cold pressure, brought
    /// to these surroundings: air was lost, or an entry is wrong.
    BelowCold {
        /// The reading.
        reading: GaugePressure,
        /// The least that a tyre which kept its air would show.
        cold: GaugePressure,
    },
    /// The tyre's temperature is below the air around it.
    BelowAmbient {
        /// The tyre's temperature.
        tyre: TyreTemperature,
        /// The air's.
        ambient: AmbientTemperature,
    },
    /// The reading would need a tyre hotter than any should be: do not drive
    /// on, or look for a wrong entry.
    TooHot(OutOfRange),
    /// A tyre's temperature says nothing without that of the air around it.
    NoAmbientTemperature,
}

crate::calc::error_by_its_fields!(WarmError);

impl From<OutOfRange> for WarmError {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

/// What a target is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Road {
    /// A sealed road.
    Sealed,
    /// Any other surface.
    Unsealed,
}

/// Which tyre the warm reading was taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeasuredOn {
    /// A tyre of the axle in question.
    ThisAxle,
    /// A tyre of another axle, which may be warmer or cooler.
    OtherAxle,
}

/// What to say beside a target read warm.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Caution {
    /// A warm tyre is never bled to a sealed-road pressure (common practice,
    /// no source): wait until it is cold.
    NeverBleedWarmToSealed,
    /// The warmth is another axle's.
    OtherAxle,
    /// Now may be colder than at setting; the cold pressure would then end up
    /// lower than meant.
    AmbientTakenAsUnchanged,
}

/// A cold target as the gauge should show it now.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadNow {
    /// The target, tyre cold.
    pub cold: GaugePressure,
    /// What the gauge should show now, not rounded: round up to the gauge's
    /// step.
    pub now: GaugePressure,
    /// How far `now` may be off, by half a gauge step in each of the two
    /// readings; none when the temperature was measured.
    pub within: Option<GaugePressure>,
    /// What to say beside it.
    pub cautions: Vec<Caution>,
}

/// What to do with a tyre that reads something now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Action {
    /// Within a gauge step of the target.
    Leave,
    /// Let air out, down to this reading.
    LetDown(GaugePressure),
    /// Pump up to this reading.
    PumpUp(GaugePressure),
    /// Above a sealed-road target and warm: let it cool, then read again.
    WaitUntilCold,
}

/// How warm the air of a driven tyre is, against air as warm as outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WarmAir {
    ratio: f64,
    ambient: AbsolutePressure,
    temperature: Option<TyreTemperature>,
    /// Doubt of `ratio` by the gauge's step.
    ratio_within: Option<f64>,
    temperature_basis: Basis,
    height_basis: Basis,
}

fn either<T: Copy>(setting: Option<T>, now: Option<T>) -> (Option<T>, Option<T>, Basis) {
    let basis = match (setting, now) {
        (Some(_), Some(_)) => Basis::Given,
        (None, None) => Basis::NotGiven,
        _ => Basis::TakenAsSame,
    };
    (setting.or(now), now.or(setting), basis)
}

/// A warm reading and the cold pressure brought to the same place.
struct Compared {
    cold: GaugePressure,
    ambient: AbsolutePressure,
    ratio: f64,
    now: Option<AmbientTemperature>,
    temperature_basis: Basis,
    height_basis: Basis,
}

impl Compared {
    fn new(
        reading: GaugePressure,
        set: &ColdSetting,
        now: &Surroundings,
        step: GaugeStep,
    ) -> Result<Self, WarmError> {
        Field::TyreReading.check_pressure(reading)?;
        Field::ColdPressure.check_pressure(set.pressure)?;
        let (set_height, now_height, height_basis) = either(set.at.height, now.height);
        let (set_air, now_air, temperature_basis) = either(set.at.temperature, now.temperature);
        let ambient = |height: Option<Height>| height.unwrap_or(Height::SEA_LEVEL).ambient();
        let weather = match (set_air, now_air) {
            (Some(set), Some(now)) => now.ratio_to(set),
            _ => 1.0,
        };
        let cold = set
            .pressure
            .to_absolute(ambient(set_height))
            .scaled(weather);
        let ambient = ambient(now_height);
        let compared = Self {
            cold: cold.to_gauge(ambient),
            ambient,
            ratio: reading.to_absolute(ambient).ratio_to(cold),
            now: now_air,
            temperature_basis,
            height_basis,
        };
        if reading < compared.cold - step.size() {
            return Err(WarmError::BelowCold {
                reading,
                cold: compared.cold,
            });
        }
        Ok(compared)
    }

    /// The tyre's temperature where the air's is known, and whether the ratio
    /// is one that a sound tyre can have.
    fn temperature(&self) -> Result<Option<TyreTemperature>, OutOfRange> {
        let Some(now) = self.now else {
            Field::WarmRatio.check(self.ratio.max(1.0))?;
            return Ok(None);
        };
        let kelvins = now.absolute().get::<kelvin>() * self.ratio.max(1.0);
        TyreTemperature::new(ThermodynamicTemperature::new::<kelvin>(kelvins)).map(Some)
    }
}

impl WarmAir {
    /// From one warm reading of a tyre whose cold pressure is known.
    ///
    /// A reading at most one gauge `step` under the cold pressure counts as
    /// cold, which errs to more air.
    ///
    /// # Errors
    /// [`WarmError::BelowCold`] where air must have been lost,
    /// [`WarmError::TooHot`] where the reading implies more than 95 °C, or a
    /// ratio of 1.25 with no temperature given, [`WarmError::OutOfRange`].
    ///
    /// ```
    /// use tyreside::calc::gas::warm::{ColdSetting, MeasuredOn, Road, Surroundings, WarmAir};
    /// use tyreside::calc::quantity::{GaugePressure, GaugeStep, psi};
    /// let p = GaugePressure::new::<psi>;
    /// let here = Surroundings::default();
    /// let set = ColdSetting { pressure: p(50.0), at: here };
    /// let air = WarmAir::from_reading(p(56.0), &set, &here, GaugeStep::one_psi())?;
    /// let dirt = air.target(p(32.0), Road::Unsealed, MeasuredOn::ThisAxle)?;
    /// assert!((dirt.now.get::<psi>() - 36.3).abs() < 0.05);
    /// assert!(WarmAir::from_reading(p(45.0), &set, &here, GaugeStep::one_psi()).is_err());
    /// # Ok::<(), tyreside::calc::gas::warm::WarmError>(())
    /// ```
    pub fn from_reading(
        reading: GaugePressure,
        set: &ColdSetting,
        now: &Surroundings,
        step: GaugeStep,
    ) -> Result<Self, WarmError> {
        let compared = Compared::new(reading, set, now, step)?;
        let temperature = compared.temperature().map_err(WarmError::TooHot)?;
        let cold = compared.cold.to_absolute(compared.ambient);
        let half_step = step.size().scaled(0.5).share_of(cold);
        Ok(Self {
            ratio: compared.ratio.max(1.0),
            ambient: compared.ambient,
            temperature,
            ratio_within: Some(half_step * (1.0 + compared.ratio)),
            temperature_basis: compared.temperature_basis,
            height_basis: compared.height_basis,
        })
    }

    /// From the temperature of the air in the tyre, as a sensor inside it shows.
    ///
    /// # Errors
    /// [`WarmError::NoAmbientTemperature`], [`WarmError::BelowAmbient`].
    pub fn from_temperature(tyre: TyreTemperature, now: &Surroundings) -> Result<Self, WarmError> {
        let ambient = now.temperature.ok_or(WarmError::NoAmbientTemperature)?;
        let ratio = tyre.ratio_to(ambient);
        if ratio < 1.0 {
            return Err(WarmError::BelowAmbient { tyre, ambient });
        }
        Ok(Self {
            ratio,
            ambient: now.height.unwrap_or(Height::SEA_LEVEL).ambient(),
            temperature: Some(tyre),
            ratio_within: None,
            temperature_basis: Basis::Given,
            height_basis: match now.height {
                Some(_) => Basis::Given,
                None => Basis::NotGiven,
            },
        })
    }

    /// Temperature of this air over that of the air around, kelvins both.
    pub fn ratio(&self) -> f64 {
        self.ratio
    }

    /// The tyre's temperature, where that of the air around was given.
    pub fn temperature(&self) -> Option<TyreTemperature> {
        self.temperature
    }

    /// What the temperatures rest on.
    pub fn temperature_basis(&self) -> Basis {
        self.temperature_basis
    }

    /// What the heights rest on.
    pub fn height_basis(&self) -> Basis {
        self.height_basis
    }

    /// What the gauge shows now of a tyre this warm, were it `cold` when cold.
    pub fn to_now(&self, cold: GaugePressure) -> GaugePressure {
        cold.to_absolute(self.ambient)
            .scaled(self.ratio)
            .to_gauge(self.ambient)
    }

    /// A cold target as the gauge should show it now.
    ///
    /// # Errors
    /// [`WarmError::OutOfRange`] for a target beyond a cold pressure's limit.
    pub fn target(
        &self,
        cold: GaugePressure,
        road: Road,
        measured: MeasuredOn,
    ) -> Result<ReadNow, WarmError> {
        Field::ColdPressure.check_pressure(cold)?;
        let cautions = [
            (
                road == Road::Sealed && self.ratio > 1.0,
                Caution::NeverBleedWarmToSealed,
            ),
            (measured == MeasuredOn::OtherAxle, Caution::OtherAxle),
            (
                self.temperature_basis != Basis::Given,
                Caution::AmbientTakenAsUnchanged,
            ),
        ];
        Ok(ReadNow {
            cold,
            now: self.to_now(cold),
            within: self.ratio_within.map(|doubt| {
                let air = cold.to_absolute(self.ambient);
                GaugePressure::new::<kilopascal>(air.get::<kilopascal>() * doubt)
            }),
            cautions: cautions
                .into_iter()
                .filter_map(|(said, caution)| said.then_some(caution))
                .collect(),
        })
    }

    /// What to do with a tyre that reads `reading` now, for a cold target.
    ///
    /// The figure to stop at is rounded up to the gauge's `step`.
    ///
    /// # Errors
    /// [`WarmError::OutOfRange`].
    pub fn action(
        &self,
        reading: GaugePressure,
        cold: GaugePressure,
        road: Road,
        step: GaugeStep,
    ) -> Result<Action, WarmError> {
        Field::TyreReading.check_pressure(reading)?;
        Field::ColdPressure.check_pressure(cold)?;
        let goal = self.to_now(cold).round_up(step);
        // The snap of a rounded mark must not ask for a millionth of a step.
        let slack = step.size().scaled(1e-5);
        Ok(if reading < goal - slack {
            Action::PumpUp(goal)
        } else if reading < goal + step.size() {
            Action::Leave
        } else if road == Road::Sealed && self.ratio > 1.0 {
            Action::WaitUntilCold
        } else {
            Action::LetDown(goal)
        })
    }
}

/// The rise to expect after an hour's drive, in hundredths of the cold gauge
/// pressure. Common practice, no source.
pub const EXPECTED_RISE_PERCENT: (f64, f64) = (10.0, 15.0);

/// The drive after which too small a rise means something, in minutes. Common
/// practice, no source.
pub const SETTLED_MINUTES: f64 = 60.0;

/// What the rise of a driven tyre says, by common practice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WarmVerdict {
    /// As expected.
    AsExpected,
    /// Too much: too little pressure for the load or speed, or something rubs
    /// or drags.
    TooMuch,
    /// Too little: more pressure than the load and speed need.
    TooLittle,
    /// Below the expected, but not driven long enough to say.
    TooSoon,
    /// Hotter than any tyre should be: do not drive on.
    DangerouslyHot,
}

/// A warm check.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WarmCheck {
    /// Rise in hundredths of the cold gauge pressure, with half a gauge step's
    /// doubt in each reading.
    pub rise_percent: Span<f64>,
    /// The cold pressure brought to these surroundings.
    pub cold: GaugePressure,
    /// The readings to expect.
    pub expected: (GaugePressure, GaugePressure),
    /// What the likely rise says.
    pub verdict: WarmVerdict,
    /// Whether the whole of `rise_percent` says the same.
    pub certain: bool,
    /// What the temperatures rest on.
    pub temperature_basis: Basis,
    /// What the heights rest on.
    pub height_basis: Basis,
}

/// Compares the rise after `driven` with the expected one.
///
/// # Errors
/// [`WarmError::BelowCold`] where air must have been lost,
/// [`WarmError::OutOfRange`].
///
/// ```
/// use tyreside::calc::gas::warm::{ColdSetting, Surroundings, WarmVerdict, warm_check};
/// use tyreside::calc::quantity::{GaugePressure, GaugeStep, Time, minute, psi};
/// let p = GaugePressure::new::<psi>;
/// let here = Surroundings::default();
/// let set = ColdSetting { pressure: p(40.0), at: here };
/// let hour = Time::new::<minute>(60.0);
/// let check = warm_check(p(48.0), &set, &here, GaugeStep::one_psi(), hour)?;
/// assert_eq!(check.verdict, WarmVerdict::TooMuch);
/// assert!(warm_check(p(30.0), &set, &here, GaugeStep::one_psi(), hour).is_err());
/// # Ok::<(), tyreside::calc::gas::warm::WarmError>(())
/// ```
pub fn warm_check(
    reading: GaugePressure,
    set: &ColdSetting,
    now: &Surroundings,
    step: GaugeStep,
    driven: Time,
) -> Result<WarmCheck, WarmError> {
    let settled = Field::TimeDriven.check(driven.get::<minute>())? >= SETTLED_MINUTES;
    let compared = Compared::new(reading, set, now, step)?;
    let cold = compared.cold;
    // Height and cold can take a low setting to almost nothing, of which no
    // share means anything.
    Field::ColdPressure.check_pressure(cold)?;
    let (least, most) = EXPECTED_RISE_PERCENT;
    let half = step.size().scaled(0.5);
    let rise = |warm: GaugePressure, cold: GaugePressure| 100.0 * (warm - cold).ratio_to(cold);
    let rise_percent = Span {
        low: rise(reading - half, cold + half),
        likely: rise(reading, cold),
        high: rise(reading + half, cold - half),
    };
    let judge = |percent: f64| {
        if percent > most {
            WarmVerdict::TooMuch
        } else if percent >= least {
            WarmVerdict::AsExpected
        } else if settled {
            WarmVerdict::TooLittle
        } else {
            WarmVerdict::TooSoon
        }
    };
    let verdict = match compared.temperature() {
        Ok(_) => judge(rise_percent.likely),
        Err(_) => WarmVerdict::DangerouslyHot,
    };
    Ok(WarmCheck {
        rise_percent,
        cold,
        expected: (
            cold.scaled(1.0 + least / 100.0),
            cold.scaled(1.0 + most / 100.0),
        ),
        verdict,
        certain: verdict == WarmVerdict::DangerouslyHot
            || (judge(rise_percent.low) == verdict && judge(rise_percent.high) == verdict),
        temperature_basis: compared.temperature_basis,
        height_basis: compared.height_basis,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::psi;

    fn p(value: f64) -> GaugePressure {
        GaugePressure::new::<psi>(value)
    }

    fn at(height: f64, celsius: f64) -> Surroundings {
        Surroundings {
            height: Height::metres(height).ok(),
            temperature: AmbientTemperature::celsius(celsius).ok(),
        }
    }

    fn set(pressure: f64, at: Surroundings) -> ColdSetting {
        ColdSetting {
            pressure: p(pressure),
            at,
        }
    }

    const STEP: fn() -> GaugeStep = GaugeStep::one_psi;

    #[test]
    fn the_weather_since_setting_is_not_taken_for_warmth() {
        // Set on a 0 °C dawn; at noon, parked in 30 °C shade, it reads 57.1 psi.
        let dawn = set(50.0, at(0.0, 0.0));
        let noon = at(0.0, 30.0);
        let reading = p((50.0 + 14.6959) * 303.15 / 273.15 - 14.6959);
        let air = WarmAir::from_reading(reading, &dawn, &noon, STEP()).unwrap();
        assert!((air.ratio() - 1.0).abs() < 1e-6);
        assert!((air.to_now(p(30.0)).get::<psi>() - 30.0).abs() < 1e-3);
        // Without the temperatures the same reading passes for a warm tyre.
        let blind = WarmAir::from_reading(
            reading,
            &set(50.0, Surroundings::default()),
            &Surroundings::default(),
            STEP(),
        )
        .unwrap();
        assert!(blind.ratio() > 1.1);
        let said = blind
            .target(p(30.0), Road::Unsealed, MeasuredOn::ThisAxle)
            .unwrap();
        assert_eq!(said.cautions, [Caution::AmbientTakenAsUnchanged]);
    }

    #[test]
    fn one_height_stands_for_both_and_none_for_the_sea() {
        let high = Surroundings {
            height: Height::metres(2000.0).ok(),
            temperature: None,
        };
        let none = Surroundings::default();
        let both = WarmAir::from_reading(p(56.0), &set(50.0, high), &high, STEP()).unwrap();
        let one = WarmAir::from_reading(p(56.0), &set(50.0, none), &high, STEP()).unwrap();
        let sea = WarmAir::from_reading(p(56.0), &set(50.0, none), &none, STEP()).unwrap();
        assert_eq!(one.height_basis(), Basis::TakenAsSame);
        assert_eq!(sea.height_basis(), Basis::NotGiven);
        assert_eq!(both.ratio(), one.ratio());
        // Not knowing a height that didn't change costs a third of a psi at most.
        let apart = both.to_now(p(20.0)) - sea.to_now(p(20.0));
        assert!(apart.get::<psi>().abs() < 0.35, "{apart:?}");
    }

    #[test]
    fn an_implausible_warmth_is_refused_with_its_reason() {
        let here = at(0.0, 20.0);
        let cold = set(50.0, here);
        assert!(matches!(
            WarmAir::from_reading(p(48.9), &cold, &here, STEP()),
            Err(WarmError::BelowCold { .. })
        ));
        // Within a step of the cold pressure it counts as cold.
        let air = WarmAir::from_reading(p(49.1), &cold, &here, STEP()).unwrap();
        assert_eq!(air.ratio(), 1.0);
        assert!(matches!(
            WarmAir::from_reading(p(68.0), &cold, &here, STEP()),
            Err(WarmError::TooHot(out)) if out.limit.field == Field::TyreTemperature
        ));
        let none = Surroundings::default();
        assert!(matches!(
            WarmAir::from_reading(p(68.0), &set(50.0, none), &none, STEP()),
            Err(WarmError::TooHot(out)) if out.limit.field == Field::WarmRatio
        ));
        assert!(matches!(
            WarmAir::from_reading(p(f64::NAN), &cold, &here, STEP()),
            Err(WarmError::OutOfRange(_))
        ));
        let cool = TyreTemperature::celsius(10.0).unwrap();
        assert!(matches!(
            WarmAir::from_temperature(cool, &here),
            Err(WarmError::BelowAmbient { .. })
        ));
        assert_eq!(
            WarmAir::from_temperature(cool, &none),
            Err(WarmError::NoAmbientTemperature)
        );
    }

    #[test]
    fn a_warm_tyre_is_never_let_down_to_a_sealed_road_pressure() {
        let here = at(0.0, 20.0);
        let tyre = TyreTemperature::celsius(50.0).unwrap();
        let air = WarmAir::from_temperature(tyre, &here).unwrap();
        let target = air
            .target(p(45.0), Road::Sealed, MeasuredOn::OtherAxle)
            .unwrap();
        assert_eq!(
            target.cautions,
            [Caution::NeverBleedWarmToSealed, Caution::OtherAxle]
        );
        // 45 psi cold reads 51.1 psi at 50 °C.
        let act = |reading, road| air.action(p(reading), p(45.0), road, STEP()).unwrap();
        assert_eq!(act(56.0, Road::Sealed), Action::WaitUntilCold);
        assert!(matches!(act(56.0, Road::Unsealed),
            Action::LetDown(to) if (to.get::<psi>() - 52.0).abs() < 1e-9));
        assert!(matches!(act(51.0, Road::Sealed),
            Action::PumpUp(to) if (to.get::<psi>() - 52.0).abs() < 1e-9));
        assert_eq!(act(52.0, Road::Sealed), Action::Leave);
        assert_eq!(act(52.9, Road::Sealed), Action::Leave);
        // A cold tyre may be let down for any road.
        let cold = WarmAir::from_temperature(TyreTemperature::celsius(20.0).unwrap(), &here);
        let act = cold.unwrap().action(p(50.0), p(45.0), Road::Sealed, STEP());
        assert!(matches!(act, Ok(Action::LetDown(_))));
    }

    /// The doubt is the worst of the four ways in which two readings can be off
    /// by half a step.
    #[test]
    fn the_gauge_step_bounds_what_the_target_may_be_off() {
        let none = Surroundings::default();
        let air = |warm, cold| {
            WarmAir::from_reading(p(warm), &set(cold, none), &none, STEP())
                .unwrap()
                .to_now(p(30.0))
        };
        let stated = WarmAir::from_reading(p(56.0), &set(50.0, none), &none, STEP())
            .unwrap()
            .target(p(30.0), Road::Unsealed, MeasuredOn::ThisAxle)
            .unwrap();
        let worst = (air(56.5, 49.5) - stated.now).get::<psi>();
        let within = stated.within.unwrap().get::<psi>();
        assert!((within / worst - 1.0).abs() < 0.02, "{within} {worst}");
    }

    #[test]
    fn the_warm_check_says_what_practice_says() {
        let here = at(0.0, 20.0);
        let check = |reading, minutes| {
            warm_check(
                GaugePressure::new::<kilopascal>(reading),
                &ColdSetting {
                    pressure: GaugePressure::new::<kilopascal>(300.0),
                    at: here,
                },
                &here,
                GaugeStep::five_kilopascals(),
                Time::new::<minute>(minutes),
            )
            .unwrap()
        };
        for (reading, minutes, verdict, certain) in [
            (337.5, 60.0, WarmVerdict::AsExpected, true),
            (332.0, 60.0, WarmVerdict::AsExpected, false),
            (360.0, 60.0, WarmVerdict::TooMuch, true),
            // Too much is too much however short the drive.
            (360.0, 20.0, WarmVerdict::TooMuch, true),
            (315.0, 60.0, WarmVerdict::TooLittle, true),
            (315.0, 59.0, WarmVerdict::TooSoon, true),
            (405.0, 60.0, WarmVerdict::DangerouslyHot, true),
        ] {
            let got = check(reading, minutes);
            assert_eq!((got.verdict, got.certain), (verdict, certain), "{reading}");
        }
        // 337.5 over 300 is 12.5 %; with half of 5 kPa off in each, 335 over
        // 302.5 to 340 over 297.5.
        let rise = check(337.5, 60.0).rise_percent;
        for (got, expected) in [
            (rise.low, 100.0 * 32.5 / 302.5),
            (rise.likely, 12.5),
            (rise.high, 100.0 * 42.5 / 297.5),
        ] {
            assert!((got - expected).abs() < 1e-9, "{got} {expected}");
        }
        let (low, high) = check(337.5, 60.0).expected;
        assert!((low.get::<kilopascal>() - 330.0).abs() < 1e-9);
        assert!((high.get::<kilopascal>() - 345.0).abs() < 1e-9);
    }
}
