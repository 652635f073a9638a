//! A wrench's scale and accuracy: which mark to set, and what it may give.

use super::adapter::{Adapter, Gain};
use super::exact::{Exact, MILLION, compare_products, whole};
use super::spec::{Spec, StatedError, checked};
use super::{Torque, TorqueError, TorqueRange, TorqueUnit, newton_meter};
use crate::calc::limits::Field;
use std::cmp::Ordering;
use std::ops::Range;

/// The wrenches of ISO 6789-1 that have a scale.
///
/// Limits by highest mark, up to 10 N·m and above. Setting class A: ±6 and
/// ±4 %, from a summary of the standard. The
/// indicating classes and which of them allow ±6 % throughout: from memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ToolClass {
    /// Type I class A: a bar that bends or twists, with a pointer.
    IndicatingBar,
    /// Type I class B: a rigid housing with a dial, scale or display.
    IndicatingDial,
    /// Type I class C: a rigid housing with electronic measurement.
    IndicatingElectronic,
    /// Type II class A: set on a scale; clicks or gives way.
    SettingScale,
}

impl ToolClass {
    /// Every class, in the order to offer them.
    pub const ALL: [Self; 4] = [
        Self::SettingScale,
        Self::IndicatingDial,
        Self::IndicatingElectronic,
        Self::IndicatingBar,
    ];

    /// The limit of error in per cent for a tool whose highest mark is
    /// `highest`.
    pub fn limit_percent(self, highest: Torque) -> f64 {
        let small = highest <= Torque::new::<newton_meter>(10.0);
        if small || self == Self::IndicatingBar {
            6.0
        } else {
            4.0
        }
    }
}

/// How far a wrench may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Accuracy {
    /// By its class in ISO 6789-1.
    Class(ToolClass),
    /// By its maker: per cent of the reading.
    OfReading(f64),
    /// By its maker: per cent of the highest mark, the same all along the scale.
    OfFullScale(f64),
}

/// A scale as read off the wrench.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// The unit of its numbers.
    pub unit: TorqueUnit,
    /// The lowest mark; 0 where the scale starts at nothing.
    pub lowest: f64,
    /// The highest mark.
    pub highest: f64,
    /// From one mark to the next.
    pub step: f64,
}

/// A wrench, held exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wrench {
    unit: TorqueUnit,
    /// Lowest mark above nothing and step, in millionths of the unit.
    lowest: u128,
    step: u128,
    /// The number of steps above the lowest mark.
    steps: u128,
    error: Error,
}

/// Limit of error in millionths.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Error {
    OfReading(u128),
    OfFullScale(u128),
}

/// One mark on a scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// The number at the mark.
    pub value: f64,
    /// Its unit.
    pub unit: TorqueUnit,
    /// As many decimals as the scale's numbers need.
    pub decimals: u8,
}

/// What a wrench can do for a spec.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Answer {
    /// There is a mark to set.
    Set(Reading),
    /// The setting needed is beyond the end of the scale.
    OffScale {
        /// Below the lowest mark, or above the highest.
        end: ScaleEnd,
        /// The setting needed.
        needed: Torque,
    },
}

/// An end of a scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScaleEnd {
    /// The lowest mark.
    Lowest,
    /// The highest mark.
    Highest,
}

/// A mark with what to expect of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// The mark to set, or to pull to.
    pub mark: Mark,
    /// The least and most that the nut may get.
    pub band: TorqueRange,
    /// Whether that lies within the spec.
    pub fit: Fit,
    /// The mark is below 20 % of the highest, where the standard's test of
    /// accuracy does not reach (its lowest test point is 20 %).
    pub low_on_scale: bool,
}

/// How the torque that a mark may give lies to the spec.
///
/// Decided in whole numbers: the torques alongside are rounded, and may read
/// zero where the verdict turned on less than they can show.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fit {
    /// All of it is within, and the mark is where the accuracy is promised.
    Inside {
        /// What is left on the tighter side.
        room: Torque,
    },
    /// It would be within, but only marks below 20 % of full scale fit, where
    /// the accuracy is not promised.
    Unpromised {
        /// What would be left on the tighter side.
        room: Torque,
    },
    /// Some of it is outside.
    Outside {
        /// How far it may fall short of the least allowed.
        under: Torque,
        /// How far it may go past the most allowed.
        over: Torque,
    },
    /// The spec states no tolerance; the mark is the nearest to the nominal.
    NothingStated,
}

impl Wrench {
    /// The wrench with this scale and accuracy.
    ///
    /// # Errors
    /// [`Field::LowestMark`], [`Field::HighestMark`], [`Field::MarkStep`] or
    /// [`Field::WrenchAccuracy`] out of range; more than six decimals in a
    /// mark, or four in a percentage; [`StatedError::Crossed`] where the lowest
    /// mark is not below the highest; [`TorqueError::UnevenScale`].
    ///
    /// ```
    /// use tyreside::calc::torque::TorqueUnit::{FootPound, NewtonMetre};
    /// use tyreside::calc::torque::spec::{Spec, Tolerance};
    /// use tyreside::calc::torque::wrench::*;
    /// let scale = Scale { unit: NewtonMetre, lowest: 40.0, highest: 210.0, step: 2.0 };
    /// let wrench = Wrench::new(scale, Accuracy::Class(ToolClass::SettingScale)).unwrap();
    /// let spec = Spec::new(105.0, FootPound, Tolerance::Percent(8.0)).unwrap();
    /// let Answer::Set(reading) = wrench.mark_for(&spec, None) else { panic!() };
    /// assert_eq!(reading.mark.value, 142.0);
    /// assert!(matches!(reading.fit, Fit::Inside { .. }));
    /// let uneven = Scale { step: 3.0, ..scale };
    /// assert!(Wrench::new(uneven, Accuracy::OfReading(3.0)).is_err());
    /// ```
    pub fn new(scale: Scale, accuracy: Accuracy) -> Result<Self, TorqueError> {
        let Scale {
            unit,
            lowest,
            highest,
            step,
        } = scale;
        let first = checked(Field::LowestMark, lowest, unit)?;
        let last = checked(Field::HighestMark, highest, unit)?;
        let each = checked(Field::MarkStep, step, unit)?;
        if first >= last {
            let crossed = StatedError::Crossed {
                field: Field::HighestMark,
                low: lowest,
                high: highest,
            };
            return Err(crossed.into());
        }
        if (last - first).checked_rem(each) != Some(0) {
            return Err(TorqueError::UnevenScale {
                lowest,
                highest,
                step,
            });
        }
        // Nothing is ever set to zero.
        let first = if first == 0 { each } else { first };
        let parts = |percent| {
            whole(
                Field::WrenchAccuracy,
                Field::WrenchAccuracy.check(percent)?,
                4,
            )
        };
        let error = match accuracy {
            Accuracy::Class(class) => {
                Error::OfReading(parts(class.limit_percent(unit.torque(highest)))?)
            }
            Accuracy::OfReading(percent) => Error::OfReading(parts(percent)?),
            Accuracy::OfFullScale(percent) => Error::OfFullScale(parts(percent)?),
        };
        Ok(Self {
            unit,
            lowest: first,
            step: each,
            steps: (last - first) / each,
            error,
        })
    }

    /// The mark to set for `spec`, through `adapter` where there is one.
    ///
    /// Where marks fit, the one that leaves most room on its tighter side;
    /// else the one whose band is best centred on the spec. If any mark fits,
    /// one that fits is given: the lower limit is kept from some mark upward,
    /// the upper limit up to some mark, and both ends are found exactly.
    pub fn mark_for(&self, spec: &Spec, adapter: Option<&Adapter>) -> Answer {
        let gain = adapter.map_or(Gain::NONE, Adapter::gain);
        let Some((low, high)) = spec.exact_limits() else {
            let aim = spec.exact_nominal().newton_metres() / gain.value();
            let closeness = |k| -(self.exact(k).newton_metres() - aim).abs();
            return self.whatever_fit(aim, gain, closeness, |_| Fit::NothingStated);
        };
        let from = self.first_mark(|k| self.keeps_above(k, gain, low));
        let past = self.first_mark(|k| !self.keeps_below(k, gain, high));
        let promised = self.first_mark(|k| !self.low_on_scale(k));

        let (low, high) = (low.newton_metres(), high.newton_metres());
        let aim = self.centred(low, high) / gain.value();
        let margin = |k| {
            let band = self.band(k, gain);
            (band.0 - low).min(high - band.1)
        };
        let room = |k| Torque::new::<newton_meter>(margin(k)).or_none();
        if let Some(k) = self.best(aim, from.max(promised)..past, margin) {
            return Answer::Set(self.reading(k, gain, Fit::Inside { room: room(k) }));
        }
        if let Some(k) = self.best(aim, from..past, margin) {
            return Answer::Set(self.reading(k, gain, Fit::Unpromised { room: room(k) }));
        }
        self.whatever_fit(aim, gain, margin, |k| {
            let band = self.band(k, gain);
            Fit::Outside {
                under: Torque::new::<newton_meter>(low - band.0).or_none(),
                over: Torque::new::<newton_meter>(band.1 - high).or_none(),
            }
        })
    }

    /// The mark at or just below a share of `last`, for a stage before the
    /// last; none where that is below the scale. `share` is a fraction,
    /// numerator and denominator.
    pub fn stage_mark(&self, last: Mark, share: (u8, u8)) -> Option<Mark> {
        let millionths = checked(Field::HighestMark, last.value, last.unit).ok()?;
        let (part, of) = (u128::from(share.0), u128::from(share.1));
        let wanted = (millionths * part).checked_div(of)?;
        let k = wanted.checked_sub(self.lowest)? / self.step;
        (last.unit == self.unit && k <= self.steps).then(|| self.mark(k))
    }

    /// The highest mark.
    pub fn highest(&self) -> Mark {
        self.mark(self.steps)
    }

    /// The best mark of the whole scale for `aim`, unless `aim` is more than
    /// half a step beyond its end.
    fn whatever_fit(
        &self,
        aim: f64,
        gain: Gain,
        margin: impl Fn(u128) -> f64,
        fit: impl Fn(u128) -> Fit,
    ) -> Answer {
        let position = self.position(aim);
        let end = if position < -0.5 {
            ScaleEnd::Lowest
        } else {
            ScaleEnd::Highest
        };
        let on_scale = (-0.5..=self.steps as f64 + 0.5).contains(&position);
        match self.best(aim, 0..self.steps + 1, margin) {
            Some(k) if on_scale => Answer::Set(self.reading(k, gain, fit(k))),
            _ => Answer::OffScale {
                end,
                needed: Torque::new::<newton_meter>(aim),
            },
        }
    }

    /// Of `marks`, the one with the greatest `margin`, which must grow up to
    /// `aim` and fall after it: one of the two that `aim` is between.
    fn best(&self, aim: f64, marks: Range<u128>, margin: impl Fn(u128) -> f64) -> Option<u128> {
        let last = marks.end.checked_sub(1).filter(|_| !marks.is_empty())?;
        let position = self.position(aim).max(0.0);
        // Not `clamp`: its panic would bring formatting into the page.
        let lower = (position.floor() as u128).max(marks.start).min(last);
        let upper = (position.ceil() as u128).max(marks.start).min(last);
        Some(if margin(upper) > margin(lower) {
            upper
        } else {
            lower
        })
    }

    /// The first mark for which `holds`, which must hold from there on; one
    /// past the last mark if none.
    fn first_mark(&self, holds: impl Fn(u128) -> bool) -> u128 {
        let (mut from, mut to) = (0, self.steps + 1);
        while from < to {
            let middle = from.midpoint(to);
            if holds(middle) {
                to = middle;
            } else {
                from = middle + 1;
            }
        }
        from
    }

    /// The whole band of mark `k` is at or above `low`.
    fn keeps_above(&self, k: u128, gain: Gain, low: Exact) -> bool {
        let mark = self.exact(k).0;
        let least = match self.error {
            Error::OfReading(error) => mark * (MILLION - error),
            Error::OfFullScale(error) => {
                (mark * MILLION).saturating_sub(self.exact(self.steps).0 * error)
            }
        };
        compare_products(least, gain.least, low.0, gain.over * MILLION) != Ordering::Less
    }

    /// The whole band of mark `k` is at or below `high`.
    fn keeps_below(&self, k: u128, gain: Gain, high: Exact) -> bool {
        let mark = self.exact(k).0;
        let (most, of) = match self.error {
            Error::OfReading(error) => (mark * MILLION, MILLION - error),
            Error::OfFullScale(error) => {
                (mark * MILLION + self.exact(self.steps).0 * error, MILLION)
            }
        };
        compare_products(most, gain.most, high.0, gain.over * of) != Ordering::Greater
    }

    /// What mark `k` may give at the nut, in newton metres.
    ///
    /// A limit of ±e of the reading is read both ways: ISO 6789 takes it of the
    /// true torque, so that a mark m may give m/(1+e) to m/(1−e); makers also
    /// mean m·(1−e) to m·(1+e). The band m·(1−e) to m/(1−e) holds both.
    fn band(&self, k: u128, gain: Gain) -> (f64, f64) {
        let mark = self.exact(k).newton_metres();
        let share = |error: u128| error as f64 / MILLION as f64;
        let (least, most) = match self.error {
            Error::OfReading(error) => (mark * (1.0 - share(error)), mark / (1.0 - share(error))),
            Error::OfFullScale(error) => {
                let either = self.exact(self.steps).newton_metres() * share(error);
                ((mark - either).max(0.0), mark + either)
            }
        };
        let over = gain.over as f64;
        (
            least * (gain.least as f64 / over),
            most * (gain.most as f64 / over),
        )
    }

    /// The setting, in newton metres without an adapter, whose band leaves as
    /// much below `high` as above `low`.
    fn centred(&self, low: f64, high: f64) -> f64 {
        match self.error {
            Error::OfReading(error) => {
                let least = 1.0 - error as f64 / MILLION as f64;
                (low + high) * least / (1.0 + least * least)
            }
            Error::OfFullScale(_) => (low + high) / 2.0,
        }
    }

    /// Where `torque` newton metres lie on the scale, in steps from the lowest.
    fn position(&self, torque: f64) -> f64 {
        let lowest = self.exact(0).newton_metres();
        (torque - lowest) / Exact::of(self.step, self.unit).newton_metres()
    }

    fn low_on_scale(&self, k: u128) -> bool {
        self.millionths(k) * 5 < self.millionths(self.steps)
    }

    fn millionths(&self, k: u128) -> u128 {
        self.lowest + k * self.step
    }

    fn exact(&self, k: u128) -> Exact {
        Exact::of(self.millionths(k), self.unit)
    }

    fn mark(&self, k: u128) -> Mark {
        let finer = |decimals: &u8| {
            let place = 10_u128.pow(6 - u32::from(*decimals));
            self.lowest.is_multiple_of(place) && self.step.is_multiple_of(place)
        };
        Mark {
            value: self.millionths(k) as f64 / MILLION as f64,
            unit: self.unit,
            decimals: (0..6).find(finer).unwrap_or(6),
        }
    }

    fn reading(&self, k: u128, gain: Gain, fit: Fit) -> Reading {
        let (low, high) = self.band(k, gain);
        Reading {
            mark: self.mark(k),
            band: TorqueRange {
                low: Torque::new::<newton_meter>(low),
                high: Torque::new::<newton_meter>(high),
            },
            fit,
            low_on_scale: self.low_on_scale(k),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A cosine is known only between two values: whichever of them is worse
    /// for the limit at hand must decide.
    #[test]
    fn the_worse_end_of_an_uncertain_gain_decides() {
        let scale = Scale {
            unit: TorqueUnit::NewtonMetre,
            lowest: 100.0,
            highest: 200.0,
            step: 100.0,
        };
        let wrench = Wrench::new(scale, Accuracy::OfReading(1.0)).unwrap();
        let torque = |whole: u128| Exact::of(whole * MILLION, TorqueUnit::NewtonMetre);
        let gain = Gain {
            least: 9,
            most: 11,
            over: 10,
        };
        // 100 N·m less 1 % is 99, times 0.9 is 89.1; 100/0.99 times 1.1 is 111.1.
        assert!(wrench.keeps_above(0, gain, torque(89)));
        assert!(!wrench.keeps_above(0, gain, torque(90)));
        assert!(wrench.keeps_below(0, gain, torque(112)));
        assert!(!wrench.keeps_below(0, gain, torque(111)));
    }
}
