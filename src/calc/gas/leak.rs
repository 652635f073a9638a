//! Slow leaks: dated readings of one tyre brought to one temperature and
//! height, a line through them, and how far that line may be off.
//!
//! A pressure that falls by leaking falls ever slower, so a line drawn on into
//! the future reaches a given pressure too soon rather than too late, unless
//! the leak itself grows.

use super::height::Height;
use super::{AmbientTemperature, TyreAir, TyreTemperature, bring};
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::quantity::{
    GaugePressure, Span, TemperatureInterval, Time, day, kelvin, kelvin_interval, kilopascal, psi,
    second,
};
use crate::calc::sort_by_number;

/// One cold reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeakReading {
    /// When, counted from any one moment.
    pub at: Time,
    /// What the gauge showed, tyre cold.
    pub pressure: GaugePressure,
    /// The step that the gauge shows.
    pub resolution: GaugePressure,
    /// Temperature of the air around, and so of the tyre's.
    pub temperature: AmbientTemperature,
    /// How far that may be off: a degree for a thermometer in the shade, more
    /// for a guess or a tyre in the sun.
    pub temperature_within: TemperatureInterval,
    /// Height above the sea.
    pub height: Height,
}

/// Why readings can't carry a rate of loss.
#[derive(Debug, Clone, PartialEq)]
pub enum LeakError {
    /// A value of a reading beyond its limit.
    OutOfRange {
        /// Which reading, as given.
        reading: usize,
        /// The value and its limit.
        error: OutOfRange,
    },
    /// Fewer than two readings.
    TooFew {
        /// How many there were.
        given: usize,
    },
    /// All within a minute.
    TooClose,
    /// The pressure rose by more than readings can be off: the tyre was pumped
    /// up in between. Start again from the later reading.
    Pumped {
        /// Time of the reading before the rise.
        from: Time,
        /// Time of the reading after it.
        to: Time,
    },
    /// The doubt is wider than natural loss, and no loss beyond it is shown.
    TooShort {
        /// Loss per month, as wide as it is.
        loss: Span<GaugePressure>,
        /// The time between first and last reading at which two readings as
        /// good as these would do.
        needed: Time,
    },
}

crate::calc::error_by_its_fields!(LeakError);

/// The loss against a sound tyre's 1 to 2 psi a month (US GAO-07-246R, 2007).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LossVerdict {
    /// Surely no more than 2 psi a month.
    Natural,
    /// More or less than 2 psi a month: the readings can't tell.
    PerhapsFaster,
    /// Surely more than 2 psi a month: look for the leak.
    Faster,
}

/// When the tyre reaches a pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reaches {
    /// It was there or below at the last reading.
    Already,
    /// Not before `earliest`; by `latest`, if the readings show that it must.
    Between {
        /// The first moment that the readings allow: the last reading's, if its
        /// doubt reaches as low.
        earliest: Time,
        /// The last one, within [`HORIZON_DAYS`].
        latest: Option<Time>,
    },
    /// Not within [`HORIZON_DAYS`] of the last reading.
    NotWithinHorizon,
}

/// A reading brought to the reference.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeakPoint {
    /// When.
    pub at: Time,
    /// The pressure brought to the reference temperature and height.
    pub pressure: GaugePressure,
    /// The most it may be off.
    pub within: GaugePressure,
}

/// The line through the readings.
#[derive(Debug, Clone, PartialEq)]
pub struct LeakLine {
    points: Vec<LeakPoint>,
    /// Weighted mean time, in seconds, and pressure, in kilopascals.
    centre: (f64, f64),
    /// Kilopascals per second; negative for a loss.
    slope: f64,
    /// Half the band's width at the centre, in kilopascals.
    level_within: f64,
    /// The same of the slope, in kilopascals per second.
    slope_within: f64,
    beyond_gauge: bool,
}

/// The most that a sound tyre loses, psi a month (US GAO-07-246R, 9 Feb 2007:
/// 1 to 2 psi a month).
pub const NATURAL_LOSS_PSI: (f64, f64) = (1.0, 2.0);

/// Days in a month: a twelfth of 365.25.
pub const MONTH_DAYS: f64 = 30.4375;

/// How far ahead of the last reading the line is drawn, in days.
pub const HORIZON_DAYS: f64 = 365.0;

/// Half of what weather moves the ambient pressure, and with it the gauge, in
/// kilopascals: 1013 ± 15 hPa (from memory).
const WEATHER_KILOPASCAL: f64 = 1.5;

// √6: for two readings of one gauge the band is then the most that rounding
// alone can do; for many it covers 98.6 % of normally spread errors.
const COVERAGE: f64 = 2.449_489_742_783_178;

const LEAST_SPAN_SECONDS: f64 = 60.0;

struct Weighed {
    point: LeakPoint,
    seconds: f64,
    kilopascals: f64,
    weight: f64,
}

fn weigh(reading: &LeakReading, to: TyreAir) -> Result<Weighed, OutOfRange> {
    Field::ReadingDay.check(reading.at.get::<day>())?;
    Field::TyreReading.check_pressure(reading.pressure)?;
    Field::GaugeResolution.check_pressure(reading.resolution)?;
    let doubt =
        Field::TemperatureDoubt.check(reading.temperature_within.get::<kelvin_interval>())?;
    let from = TyreAir::cold(reading.temperature, reading.height);
    let pressure = bring(reading.pressure, from, to);
    let warming = to
        .temperature
        .ratio_to(TyreTemperature::from(reading.temperature));
    // Half widths of evenly spread errors; σ = half width / √3 each.
    let half_widths = [
        reading.resolution.get::<kilopascal>() / 2.0 * warming,
        pressure.to_absolute(to.ambient).get::<kilopascal>() * doubt
            / reading.temperature.absolute().get::<kelvin>(),
        WEATHER_KILOPASCAL,
    ];
    let variance = half_widths.iter().map(|w| w * w / 3.0).sum::<f64>();
    Ok(Weighed {
        point: LeakPoint {
            at: reading.at,
            pressure,
            within: GaugePressure::new::<kilopascal>(half_widths.iter().sum()),
        },
        seconds: reading.at.get::<second>(),
        kilopascals: pressure.get::<kilopascal>(),
        weight: variance.recip(),
    })
}

impl LeakLine {
    /// Fits a line to `readings`, in any order, brought to `reference`: the
    /// temperature and height at which the load minimum must hold. The coldest
    /// morning expected is the careful choice.
    ///
    /// Weighted least squares; each reading's weight is that of its gauge step,
    /// its temperature's doubt and the weather. Where three or more readings
    /// scatter further than that explains, the band widens to what they do.
    ///
    /// # Errors
    /// [`LeakError`].
    ///
    /// ```
    /// use tyreside::calc::gas::{AmbientTemperature, TyreAir, height::Height};
    /// use tyreside::calc::gas::leak::{LeakError, LeakLine, LeakReading, LossVerdict};
    /// use tyreside::calc::quantity::{
    ///     GaugePressure, TemperatureInterval, Time, day, kelvin_interval, psi,
    /// };
    /// let air = AmbientTemperature::celsius(20.0)?;
    /// let reading = |days, pressure| LeakReading {
    ///     at: Time::new::<day>(days),
    ///     pressure: GaugePressure::new::<psi>(pressure),
    ///     resolution: GaugePressure::new::<psi>(0.5),
    ///     temperature: air,
    ///     temperature_within: TemperatureInterval::new::<kelvin_interval>(2.0),
    ///     height: Height::SEA_LEVEL,
    /// };
    /// let here = TyreAir::cold(air, Height::SEA_LEVEL);
    /// let line = LeakLine::fit(&[reading(0.0, 50.0), reading(14.0, 45.0)], here)?;
    /// assert_eq!(line.verdict(), LossVerdict::Faster);
    /// let short = LeakLine::fit(&[reading(0.0, 50.0), reading(2.0, 49.5)], here);
    /// assert!(matches!(short, Err(LeakError::TooShort { .. })));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn fit(readings: &[LeakReading], reference: TyreAir) -> Result<Self, LeakError> {
        let mut weighed = Vec::new();
        for (reading, r) in readings.iter().enumerate() {
            let one = weigh(r, reference);
            weighed.push(one.map_err(|error| LeakError::OutOfRange { reading, error })?);
        }
        sort_by_number(&mut weighed, |w| w.seconds);
        let [first, .., last] = weighed.as_slice() else {
            return Err(LeakError::TooFew {
                given: readings.len(),
            });
        };
        let span = last.seconds - first.seconds;
        if span < LEAST_SPAN_SECONDS {
            return Err(LeakError::TooClose);
        }
        if let Some((from, to)) = weighed
            .iter()
            .zip(weighed.iter().skip(1))
            .find(|(a, b)| b.point.pressure - a.point.pressure > a.point.within + b.point.within)
        {
            return Err(LeakError::Pumped {
                from: from.point.at,
                to: to.point.at,
            });
        }

        let sum = |f: &dyn Fn(&Weighed) -> f64| weighed.iter().map(f).sum::<f64>();
        let weight = sum(&|w| w.weight);
        let centre = (
            sum(&|w| w.weight * w.seconds) / weight,
            sum(&|w| w.weight * w.kilopascals) / weight,
        );
        let spread = sum(&|w| w.weight * (w.seconds - centre.0).powi(2));
        let slope =
            sum(&|w| w.weight * (w.seconds - centre.0) * (w.kilopascals - centre.1)) / spread;
        let misfit = sum(&|w| {
            let line = centre.1 + slope * (w.seconds - centre.0);
            w.weight * (w.kilopascals - line).powi(2)
        });
        let spare = weighed.len() - 2;
        let scatter = if spare > 0 {
            (misfit / spare as f64).sqrt()
        } else {
            0.0
        };
        let coverage = COVERAGE * scatter.max(1.0);
        let line = Self {
            centre,
            slope,
            level_within: coverage / weight.sqrt(),
            slope_within: coverage / spread.sqrt(),
            beyond_gauge: scatter > 1.0,
            points: weighed.iter().map(|w| w.point).collect(),
        };

        let loss = line.loss_per_month();
        let (_, natural) = NATURAL_LOSS_PSI;
        let doubt = (loss.high - loss.likely).get::<psi>();
        if doubt > natural && line.verdict() != LossVerdict::Faster {
            return Err(LeakError::TooShort {
                loss,
                needed: Time::new::<second>(span * doubt / natural),
            });
        }
        Ok(line)
    }

    /// The readings in order of time, brought to the reference.
    pub fn points(&self) -> &[LeakPoint] {
        &self.points
    }

    /// Whether the readings scatter further than gauge, temperature and weather
    /// explain; the band is widened to that.
    pub fn beyond_gauge(&self) -> bool {
        self.beyond_gauge
    }

    /// Loss per month of [`MONTH_DAYS`]; negative for a gain.
    pub fn loss_per_month(&self) -> Span<GaugePressure> {
        let month = Time::new::<day>(MONTH_DAYS).get::<second>();
        let loss = |slope: f64| GaugePressure::new::<kilopascal>(-slope * month);
        Span {
            low: loss(self.slope + self.slope_within),
            likely: loss(self.slope),
            high: loss(self.slope - self.slope_within),
        }
    }

    /// The loss against a sound tyre's.
    pub fn verdict(&self) -> LossVerdict {
        let (_, natural) = NATURAL_LOSS_PSI;
        let natural = GaugePressure::new::<psi>(natural);
        let loss = self.loss_per_month();
        if loss.low > natural {
            LossVerdict::Faster
        } else if loss.high > natural {
            LossVerdict::PerhapsFaster
        } else {
            LossVerdict::Natural
        }
    }

    /// The line and its band at a time, for drawing.
    pub fn pressure_at(&self, at: Time) -> Span<GaugePressure> {
        let (low, likely, high) = self.band(at.get::<second>());
        let p = GaugePressure::new::<kilopascal>;
        Span {
            low: p(low),
            likely: p(likely),
            high: p(high),
        }
    }

    fn band(&self, seconds: f64) -> (f64, f64, f64) {
        let from_centre = seconds - self.centre.0;
        let likely = self.centre.1 + self.slope * from_centre;
        let within = self.level_within.hypot(self.slope_within * from_centre);
        (likely - within, likely, likely + within)
    }

    /// When the tyre falls to `minimum`, a cold pressure at the reference.
    ///
    /// # Errors
    /// [`OutOfRange`] for `minimum`.
    pub fn reaches(&self, minimum: GaugePressure) -> Result<Reaches, OutOfRange> {
        let floor = Field::ColdPressure
            .check_pressure(minimum)?
            .get::<kilopascal>();
        let Some(last) = self.points.last() else {
            return Ok(Reaches::NotWithinHorizon);
        };
        let now = last.at.get::<second>();
        if last.pressure <= minimum || self.band(now).1 <= floor {
            return Ok(Reaches::Already);
        }
        let horizon = now + Time::new::<day>(HORIZON_DAYS).get::<second>();
        // The low edge is concave: above the floor at both ends, it is above
        // all the way between. The high edge falls throughout, or else never
        // comes below the centre, which is above the floor.
        let crossing = |edge: &dyn Fn(f64) -> f64| {
            if edge(horizon) > floor {
                return None;
            }
            let (mut above, mut below) = (now, horizon);
            // 365 days halved 40 times: 30 microseconds.
            for _ in 0..40 {
                let middle = f64::midpoint(above, below);
                if edge(middle) > floor {
                    above = middle;
                } else {
                    below = middle;
                }
            }
            Some(Time::new::<second>(above))
        };
        let earliest = if self.band(now).0 <= floor {
            last.at
        } else if let Some(earliest) = crossing(&|t| self.band(t).0) {
            earliest
        } else {
            return Ok(Reaches::NotWithinHorizon);
        };
        let latest = crossing(&|t| self.band(t).2);
        Ok(Reaches::Between { earliest, latest })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kpa(value: f64) -> GaugePressure {
        GaugePressure::new::<kilopascal>(value)
    }

    fn days(value: f64) -> Time {
        Time::new::<day>(value)
    }

    /// In still air at one temperature, known to the last digit.
    fn line(readings: &[(f64, f64)], resolution: f64) -> LeakLine {
        let temperature = AmbientTemperature::celsius(20.0).unwrap();
        let readings: Vec<_> = readings
            .iter()
            .map(|&(at, pressure)| LeakReading {
                at: days(at),
                pressure: kpa(pressure),
                resolution: kpa(resolution),
                temperature,
                temperature_within: TemperatureInterval::new::<kelvin_interval>(0.0),
                height: Height::SEA_LEVEL,
            })
            .collect();
        LeakLine::fit(&readings, TyreAir::cold(temperature, Height::SEA_LEVEL)).unwrap()
    }

    /// Two readings, each off by up to half a step r and w of weather: the
    /// slope by √(r² + 4w²) over the time between, their mean by √(r²/4 + w²).
    #[test]
    fn the_band_of_two_readings_is_that_of_their_errors() {
        let line = line(&[(0.0, 350.0), (60.0, 330.0)], 6.0);
        let w = WEATHER_KILOPASCAL;
        let loss = line.loss_per_month();
        let month = |fall: f64| fall / 60.0 * MONTH_DAYS;
        let slope_within = (36.0 + 4.0 * w * w).sqrt();
        for (got, expected) in [
            (loss.low, month(20.0 - slope_within)),
            (loss.likely, month(20.0)),
            (loss.high, month(20.0 + slope_within)),
        ] {
            assert!((got.get::<kilopascal>() - expected).abs() < 1e-6);
        }
        let middle = line.pressure_at(days(30.0));
        let level_within = (9.0 + w * w).sqrt();
        assert!((middle.likely.get::<kilopascal>() - 340.0).abs() < 1e-6);
        let half = (middle.high - middle.low).get::<kilopascal>() / 2.0;
        assert!((half - level_within).abs() < 1e-6);
    }

    #[test]
    fn a_low_last_reading_counts_however_high_the_line() {
        let line = line(&[(0.0, 330.0), (30.0, 330.0), (60.0, 322.0)], 6.0);
        let minimum = kpa(323.0);
        assert!(line.pressure_at(days(60.0)).likely > minimum);
        assert_eq!(line.reaches(minimum), Ok(Reaches::Already));
    }

    #[test]
    fn a_minimum_within_the_doubt_may_be_reached_at_once() {
        let line = line(&[(0.0, 350.0), (60.0, 330.0)], 6.0);
        let minimum = kpa(328.0);
        let Ok(Reaches::Between { earliest, latest }) = line.reaches(minimum) else {
            panic!("{:?}", line.reaches(minimum));
        };
        assert_eq!(earliest, days(60.0));
        // By then the upper edge is there too.
        let latest = latest.unwrap();
        assert!(
            (line.pressure_at(latest).high - minimum)
                .get::<kilopascal>()
                .abs()
                < 1e-3
        );
    }

    #[test]
    fn a_rise_within_the_doubt_is_no_reason_to_wait() {
        let readings = [0.0, 10.0, 20.0, 30.0, 40.0, 50.0].map(|at| (at, 300.0 + 0.2 * at));
        let line = line(&readings, 6.0);
        assert!(line.loss_per_month().high < kpa(0.0));
        let reaches = line.reaches(kpa(307.0));
        assert_eq!(
            reaches,
            Ok(Reaches::Between {
                earliest: days(50.0),
                latest: None
            })
        );
    }

    #[test]
    fn a_tyre_that_may_not_leak_at_all_has_no_latest_day() {
        let line = line(&[(0.0, 350.0), (60.0, 345.0)], 6.0);
        assert_eq!(line.verdict(), LossVerdict::Natural);
        let reaches = line.reaches(kpa(330.0));
        assert!(
            matches!(reaches, Ok(Reaches::Between { latest: None, .. })),
            "{reaches:?}"
        );
        assert!(line.reaches(kpa(f64::NAN)).is_err());
    }
}
