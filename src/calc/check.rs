//! A check: what a tyre's reading says against the pressure that it should
//! have.

use crate::calc::gas::warm::{
    ColdSetting, EXPECTED_RISE_PERCENT, Surroundings, WarmAir, WarmError,
};
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::pressure::{Answer, Caution};
use crate::calc::quantity::{GaugePressure, GaugeStep};

/// What a tyre should read when cold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// The figure, in whole gauge steps.
    pub goal: GaugePressure,
    /// The low end of what may be used; not above `goal`.
    pub low: GaugePressure,
    /// The high end; not below `goal`.
    pub high: GaugePressure,
    /// What the load asks for at the surface's usual speed.
    pub least: GaugePressure,
    /// The most that tyre and wheel may hold.
    pub maximum: GaugePressure,
    /// Whether `goal` is the least that the load needs, which nobody
    /// recommends: no placard and no own figure is known.
    pub least_only: bool,
}

impl From<&Answer> for Wanted {
    fn from(answer: &Answer) -> Self {
        Self {
            goal: answer.recommended,
            low: answer.low,
            high: answer.high,
            least: answer.least,
            maximum: answer.sealed.maximum,
            least_only: answer
                .cautions
                .iter()
                .any(|caution| matches!(caution, Caution::LeastOnly(_))),
        }
    }
}

/// How warm the tyre is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Warmth {
    /// As warm as the air around: not driven on for three hours (common
    /// practice, no source), and out of the sun.
    Cold,
    /// Driven on, or in the sun; with how warm, where that was found out on a
    /// tyre of the rig.
    Warm(Option<WarmAir>),
}

/// What a reading says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    /// Too little for the load, warm or cold.
    TooLow {
        /// What to pump up to; of a warm tyre whose warmth is not known at
        /// least that.
        pump_to: GaugePressure,
    },
    /// Too little for the load, and a quarter or more under the figure.
    FarTooLow {
        /// As above.
        pump_to: GaugePressure,
    },
    /// Under the figure, but not too little for the load.
    Low {
        /// As above.
        pump_to: GaugePressure,
    },
    /// No less than the load needs; what it should be is not known. Only of a
    /// cold tyre.
    Enough,
    /// As it should be.
    Right,
    /// Over the figure, but within what may be used.
    Within,
    /// Over what may be used; only of a cold tyre.
    High {
        /// What to let down to.
        let_down_to: GaugePressure,
    },
    /// Over what tyre and wheel may hold cold; only of a cold tyre.
    AboveMaximum {
        /// What to let down to.
        let_down_to: GaugePressure,
    },
    /// Not under its cold figure, but by less than a driven tyre should be: it
    /// may be low when cold.
    WarmUnsure,
    /// As much over its cold figure as a warm tyre should be.
    WarmEnough,
    /// More over its cold figure than a warm tyre should be: set too high, or
    /// too warm.
    WarmHigh,
    /// Not under its cold figure, but less than a tyre as warm as the one that
    /// was measured would read: it is cooler, or has lost air.
    WarmLow {
        /// What such a tyre would read.
        expected: GaugePressure,
    },
    /// More than warmth can explain: too hot to drive on, or far too much air.
    TooHot,
}

impl Verdict {
    /// Whether it is as it should be, so far as can be told.
    pub fn is_good(self) -> bool {
        matches!(self, Self::Right | Self::Within | Self::WarmEnough)
    }

    /// Whether something is to be done about the tyre.
    pub fn is_bad(self) -> bool {
        !self.is_good() && !matches!(self, Self::Enough | Self::WarmUnsure)
    }
}

/// How much more than the tyre that was measured another may show and be as
/// warm: common practice, no source.
const ALIKE: f64 = 1.05;

/// The share of its figure at which a tyre is far too low: a vehicle that watches
/// its own tyres must warn at 25 % under the placard (FMVSS 138, 70 FR 18136).
const FAR_LOW: f64 = 0.75;

/// Judges what a gauge with this `step` reads now.
///
/// A tyre that is warm reads more than it will cold, so a warm reading under a
/// cold figure is low for certain; one over it is never a reason to let air
/// out.
///
/// # Errors
/// [`OutOfRange`] for a reading that no gauge shows, or a goal that is no cold
/// pressure.
///
/// ```
/// use tyreside::calc::check::{Verdict, Wanted, Warmth, judge};
/// use tyreside::calc::quantity::{GaugePressure, GaugeStep, psi};
/// let p = GaugePressure::new::<psi>;
/// let wanted = Wanted { goal: p(50.0), low: p(50.0), high: p(50.0), least: p(44.2), maximum: p(65.0),
///     least_only: false };
/// let on = |reading, warmth| judge(p(reading), &wanted, warmth, GaugeStep::one_psi());
/// assert_eq!(on(50.0, Warmth::Cold)?, Verdict::Right);
/// assert_eq!(on(46.0, Warmth::Cold)?, Verdict::Low { pump_to: p(50.0) });
/// assert_eq!(on(44.0, Warmth::Cold)?, Verdict::TooLow { pump_to: p(50.0) });
/// assert_eq!(on(37.0, Warmth::Cold)?, Verdict::FarTooLow { pump_to: p(50.0) });
/// assert_eq!(on(56.0, Warmth::Cold)?, Verdict::High { let_down_to: p(50.0) });
/// assert_eq!(on(56.0, Warmth::Warm(None))?, Verdict::WarmEnough);
/// # Ok::<(), tyreside::calc::limits::OutOfRange>(())
/// ```
pub fn judge(
    reading: GaugePressure,
    wanted: &Wanted,
    warmth: Warmth,
    step: GaugeStep,
) -> Result<Verdict, OutOfRange> {
    Field::TyreReading.check_pressure(reading)?;
    Field::ColdPressure.check_pressure(wanted.goal)?;
    // The snap of a rounded mark is not a pressure missing.
    let slack = step.size().scaled(1e-5);
    let under = |mark: GaugePressure| reading < mark - slack;
    let over = |mark: GaugePressure| reading >= mark + step.size() - slack;
    let warm_goal = match warmth {
        Warmth::Warm(Some(air)) => air.to_now(wanted.goal).round_up(step),
        _ => wanted.goal,
    };
    if under(wanted.goal) {
        // As much as the load asks for counts, also where the range shown
        // begins above it: on sealed road it is the figure alone.
        let pump_to = warm_goal;
        let is_too_low = under(wanted.low) && under(wanted.least);
        return Ok(if !is_too_low {
            Verdict::Low { pump_to }
        } else if reading <= wanted.goal.scaled(FAR_LOW) + slack {
            Verdict::FarTooLow { pump_to }
        } else {
            Verdict::TooLow { pump_to }
        });
    }
    Ok(match warmth {
        Warmth::Cold if over(wanted.maximum) => Verdict::AboveMaximum {
            let_down_to: wanted.goal,
        },
        Warmth::Cold if wanted.least_only => Verdict::Enough,
        Warmth::Cold if !over(wanted.goal) => Verdict::Right,
        Warmth::Cold if !over(wanted.high) => Verdict::Within,
        Warmth::Cold => Verdict::High {
            let_down_to: wanted.goal,
        },
        Warmth::Warm(air) => {
            // What a driven tyre should read, from the least to the most.
            let (least, most) = match air {
                // Tyres of one rig differ by sun and load; low errs to more air.
                Some(_) => (warm_goal - step.size(), warm_goal.scaled(ALIKE)),
                None => {
                    let risen = |percent: f64| wanted.goal.scaled(1.0 + percent / 100.0);
                    let (least, most) = EXPECTED_RISE_PERCENT;
                    (risen(least), risen(most))
                }
            };
            if is_too_hot(reading, wanted.maximum, air, step) {
                Verdict::TooHot
            } else if over(most) {
                Verdict::WarmHigh
            } else if !under(least) {
                Verdict::WarmEnough
            } else if air.is_some() {
                Verdict::WarmLow {
                    expected: warm_goal,
                }
            } else {
                Verdict::WarmUnsure
            }
        }
    })
}

/// Whether a tyre would be too hot even if it had been at its maximum when
/// cold.
fn is_too_hot(
    reading: GaugePressure,
    maximum: GaugePressure,
    air: Option<WarmAir>,
    step: GaugeStep,
) -> bool {
    let here = Surroundings {
        temperature: None,
        height: None,
    };
    let set = ColdSetting {
        pressure: maximum,
        at: here,
    };
    let alone = WarmAir::from_reading(reading, &set, &here, step);
    // One as warm as the tyre measured, and filled to the maximum, reads this.
    let explained = air.is_some_and(|air| reading < air.to_now(maximum) + step.size());
    matches!(alone, Err(WarmError::TooHot(_))) && !explained
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::psi;

    fn p(value: f64) -> GaugePressure {
        GaugePressure::new::<psi>(value)
    }

    /// A dirt-road answer: 37 psi, good from 35 to 40, the load asks for 33.6.
    fn dirt() -> Wanted {
        Wanted {
            goal: p(37.0),
            low: p(35.0),
            high: p(40.0),
            least: p(33.6),
            maximum: p(65.0),
            least_only: false,
        }
    }

    fn on(reading: f64, warmth: Warmth) -> Verdict {
        judge(p(reading), &dirt(), warmth, GaugeStep::one_psi()).expect("within limits")
    }

    fn air(reading: f64, cold: f64) -> WarmAir {
        let here = Surroundings::default();
        let set = ColdSetting {
            pressure: p(cold),
            at: here,
        };
        WarmAir::from_reading(p(reading), &set, &here, GaugeStep::one_psi()).expect("warm air")
    }

    #[test]
    fn every_reading_of_a_cold_tyre_has_its_verdict_in_order() {
        let pump_to = p(37.0);
        for (reading, verdict) in [
            (0.0, Verdict::FarTooLow { pump_to }),
            // Three quarters of 37 psi: 27.75.
            (27.7, Verdict::FarTooLow { pump_to }),
            (27.8, Verdict::TooLow { pump_to }),
            (33.0, Verdict::TooLow { pump_to }),
            (34.0, Verdict::Low { pump_to }),
            (36.9, Verdict::Low { pump_to }),
            (37.0, Verdict::Right),
            (37.9, Verdict::Right),
            (38.0, Verdict::Within),
            (40.9, Verdict::Within),
            (
                41.0,
                Verdict::High {
                    let_down_to: p(37.0),
                },
            ),
            (
                65.9,
                Verdict::High {
                    let_down_to: p(37.0),
                },
            ),
            (
                66.0,
                Verdict::AboveMaximum {
                    let_down_to: p(37.0),
                },
            ),
        ] {
            assert_eq!(on(reading, Warmth::Cold), verdict, "{reading} psi");
        }
    }

    /// A reading in kilopascals beside its mark in psi must not cry wolf: 255
    /// kPa is 36.98 psi.
    #[test]
    fn a_figure_on_the_gauges_own_step_is_right() {
        use crate::calc::quantity::kilopascal;
        let step = GaugeStep::five_kilopascals();
        let goal = p(36.98).round_up(step);
        let wanted = Wanted { goal, ..dirt() };
        let typed = GaugePressure::new::<kilopascal>(255.0);
        assert_eq!(
            judge(typed, &wanted, Warmth::Cold, step),
            Ok(Verdict::Right)
        );
    }

    #[test]
    fn a_warm_tyre_is_never_told_to_let_air_out() {
        for air in [None, Some(air(56.0, 50.0))] {
            for tenth in 370..=900 {
                let verdict = on(f64::from(tenth) / 10.0, Warmth::Warm(air));
                assert!(
                    matches!(
                        verdict,
                        Verdict::WarmUnsure
                            | Verdict::WarmEnough
                            | Verdict::WarmHigh
                            | Verdict::WarmLow { .. }
                            | Verdict::TooHot
                    ),
                    "{tenth}: {verdict:?}"
                );
            }
        }
    }

    /// A tyre of 20 psi for 37 was told what one of 32 was: to be pumped up. At 25
    /// % under the placard a vehicle that watches its tyres must warn: FMVSS 138,
    /// 70 FR 18136.
    #[test]
    fn a_quarter_under_the_figure_is_far_too_low_also_warm() {
        let wanted = Wanted {
            goal: p(50.0),
            low: p(50.0),
            high: p(50.0),
            least: p(44.2),
            ..dirt()
        };
        for warmth in [Warmth::Cold, Warmth::Warm(None)] {
            let on = |reading| {
                judge(p(reading), &wanted, warmth, GaugeStep::one_psi()).expect("within limits")
            };
            assert!(matches!(on(37.5), Verdict::FarTooLow { .. }));
            assert!(matches!(on(37.6), Verdict::TooLow { .. }));
        }
        // Where the load needs far less than what is run, no more than low.
        let light = Wanted {
            least: p(30.0),
            ..wanted
        };
        let of = judge(p(35.0), &light, Warmth::Cold, GaugeStep::one_psi());
        assert_eq!(of, Ok(Verdict::Low { pump_to: p(50.0) }));
    }

    #[test]
    fn low_warm_is_low_for_certain_and_pumped_to_the_warm_figure() {
        assert_eq!(
            on(36.0, Warmth::Warm(None)),
            Verdict::Low { pump_to: p(37.0) }
        );
        let air = air(56.0, 50.0);
        // The gas law from 50 to 56 psi over 14.696: 37 becomes 41.8.
        let expected = p(42.0);
        let Verdict::Low { pump_to } = on(36.0, Warmth::Warm(Some(air))) else {
            panic!("low");
        };
        assert!((pump_to - expected).get::<psi>().abs() < 1e-6);
        assert!(matches!(
            on(39.0, Warmth::Warm(Some(air))),
            Verdict::WarmLow { .. }
        ));
        // One step cooler is no loss of air.
        assert_eq!(on(41.0, Warmth::Warm(Some(air))), Verdict::WarmEnough);
    }

    /// A tyre at its cold figure after a drive had a tick, and would have been
    /// low when cold. A driven tyre reads 10 to 15 % more: common practice, no
    /// source.
    #[test]
    fn a_warm_tyre_is_good_only_where_a_driven_tyre_should_be() {
        for (reading, verdict) in [
            (37.0, Verdict::WarmUnsure),
            (40.6, Verdict::WarmUnsure),
            (40.7, Verdict::WarmEnough),
            (43.5, Verdict::WarmEnough),
            (43.6, Verdict::WarmHigh),
        ] {
            assert_eq!(on(reading, Warmth::Warm(None)), verdict, "{reading} psi");
        }
        let air = Warmth::Warm(Some(air(56.0, 50.0)));
        assert_eq!(on(45.0, air), Verdict::WarmEnough);
        assert_eq!(on(45.2, air), Verdict::WarmHigh);
    }

    /// Without a placard the figure is the least that the load needs: a rear
    /// tyre at 41 psi was to be let down to it.
    #[test]
    fn nothing_is_let_down_to_the_least_that_the_load_needs() {
        let wanted = Wanted {
            least_only: true,
            ..dirt()
        };
        let on = |reading| {
            let step = GaugeStep::one_psi();
            judge(p(reading), &wanted, Warmth::Cold, step).expect("within limits")
        };
        for reading in [37.0, 41.0, 65.0] {
            assert_eq!(on(reading), Verdict::Enough);
        }
        assert_eq!(on(36.0), Verdict::Low { pump_to: p(37.0) });
        assert!(matches!(on(70.0), Verdict::AboveMaximum { .. }));
    }

    #[test]
    fn what_no_warmth_explains_is_too_hot() {
        // 25 % of the absolute 65 + 14.696 psi above 65 psi: 84.9 psi.
        assert_eq!(on(84.0, Warmth::Warm(None)), Verdict::WarmHigh);
        assert_eq!(on(86.0, Warmth::Warm(None)), Verdict::TooHot);
    }

    #[test]
    fn what_no_gauge_shows_is_refused() {
        let step = GaugeStep::one_psi();
        for reading in [-1.0, 189.0, f64::NAN] {
            assert!(judge(p(reading), &dirt(), Warmth::Cold, step).is_err());
        }
        let wanted = Wanted {
            goal: p(5.0),
            ..dirt()
        };
        assert!(judge(p(30.0), &wanted, Warmth::Cold, step).is_err());
    }
}
