//! The masses of all axles held to their total: one digit misread, or two
//! swapped, leaves an axle's mass as likely as the right one, but not the sum.

use super::digits::{misread, swapped};
use super::quantity::{Mass, kilogram};

/// A mass as it stands on a ticket: a number and its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Printed {
    /// The number.
    pub number: f64,
    /// What one of its unit weighs.
    pub unit: Mass,
}

/// Half of what a public weighbridge shows next: 20 kg, or 20 lb (common
/// practice, no source).
const HALF_A_STEP: f64 = 10.0;

impl Printed {
    /// The mass.
    pub fn mass(self) -> Mass {
        self.number * self.unit
    }

    fn kg(self) -> f64 {
        self.mass().get::<kilogram>()
    }

    /// How far it may be rounded from what the plate felt. The plate's own
    /// error, which tickets count as well, is in the axles and in their total
    /// alike, and the smallest swap that matters, 90 of a unit, is to be seen.
    /// Of tonnes the step is the kilogram's.
    fn rounded_by(self) -> f64 {
        let unit = self.unit.get::<kilogram>();
        HALF_A_STEP * if unit < 1.0 { unit } else { 1.0 }
    }
}

/// Which of the masses a slip may be in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum In {
    /// This one of those that are added up.
    Mass(usize),
    /// The total.
    Total,
}

/// What a gap between sum and total looks like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Slip {
    /// Two neighbouring digits the other way round, which always makes a
    /// difference that nine divides; where it can be in one mass only, in
    /// which, and what it is with them set right.
    Swapped(Option<(In, Mass)>),
    /// One digit for another.
    Misread,
    /// Neither would close it.
    Unclear,
}

/// Masses whose sum is not their total.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Apart {
    /// What they add up to.
    pub sum: Mass,
    /// What was said of all of them together.
    pub total: Mass,
    /// What it looks like.
    pub slip: Slip,
}

/// All of them together.
pub fn sum(masses: &[Printed]) -> Mass {
    let kg = masses.iter().map(|of| of.kg()).sum();
    Mass::new::<kilogram>(kg)
}

/// Holds `masses` to their `total`, as far as all were rounded. Where one is a
/// limit (`at_most`) they may well add up to more, and only less is a gap.
///
/// ```
/// use tyreside::calc::quantity::{Mass, kilogram};
/// use tyreside::calc::total::{In, Printed, Slip, apart};
/// let kg = |number| Printed { number, unit: Mass::new::<kilogram>(1.0) };
/// let total = kg(5340.0);
/// assert_eq!(apart(&[kg(1320.0), kg(1780.0), kg(2240.0)], total, false), None);
/// let apart = apart(&[kg(1320.0), kg(1780.0), kg(2420.0)], total, false).expect("a gap");
/// let right = Mass::new::<kilogram>(2240.0);
/// assert_eq!(apart.slip, Slip::Swapped(Some((In::Mass(2), right))));
/// ```
pub fn apart(masses: &[Printed], total: Printed, at_most: bool) -> Option<Apart> {
    /// Not a gap: what doubles leave of pounds.
    const NOTHING: f64 = 1e-6;
    let sum = sum(masses);
    let gap = total.kg() - sum.get::<kilogram>();
    let rounded = masses
        .iter()
        .fold(total.rounded_by(), |all, of| all + of.rounded_by());
    let rounded = rounded + NOTHING;
    if gap.abs() <= rounded || (at_most && gap < 0.0) {
        return None;
    }
    let all = || {
        let masses = masses.iter().enumerate();
        let masses = masses.map(|(at, of)| (In::Mass(at), *of, 1.0));
        masses.chain([(In::Total, total, -1.0)])
    };
    // What closes the gap to the last digit says more than what closes it as
    // far as all were rounded.
    let slip = [NOTHING, rounded].into_iter().find_map(|within| {
        let closes = |of: Printed, sign: f64, number: f64| {
            let more = sign * (number - of.number) * of.unit.get::<kilogram>();
            (gap - more).abs() <= within
        };
        let mut swaps = Vec::new();
        for (at, of, sign) in all() {
            swapped(of.number, &mut |number| {
                if closes(of, sign, number) {
                    swaps.push((at, Printed { number, ..of }.mass()));
                }
            });
        }
        match swaps[..] {
            [] => {}
            [only] => return Some(Slip::Swapped(Some(only))),
            _ => return Some(Slip::Swapped(None)),
        }
        let misread = all().any(|(_, of, sign)| {
            let mut right = misread(of.number).into_iter();
            right.any(|number| closes(of, sign, number))
        });
        misread.then_some(Slip::Misread)
    });
    Some(Apart {
        sum,
        total: total.mass(),
        slip: slip.unwrap_or(Slip::Unclear),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::pound;

    fn kg(number: f64) -> Printed {
        let unit = Mass::new::<kilogram>(1.0);
        Printed { number, unit }
    }

    fn lb(number: f64) -> Printed {
        let unit = Mass::new::<pound>(1.0);
        Printed { number, unit }
    }

    /// Half a step for each mass and the total: 40 kg with three, and what
    /// pounds are rounded to is less.
    #[test]
    fn a_sum_may_be_off_by_what_all_were_rounded_by() {
        let three = [kg(1310.0), kg(1780.0), kg(2240.0)];
        for total in [5290.0, 5330.0, 5370.0] {
            assert_eq!(apart(&three, kg(total), false), None, "{total}");
        }
        for total in [5289.0, 5371.0] {
            assert!(apart(&three, kg(total), false).is_some(), "{total}");
        }
        let two = [lb(2880.0), lb(3920.0)];
        assert_eq!(apart(&two, lb(6830.0), false), None);
        assert!(apart(&two, lb(6831.0), false).is_some());
        // The same in tonnes.
        let tonnes = Printed {
            number: 5.37,
            unit: Mass::new::<kilogram>(1000.0),
        };
        assert_eq!(apart(&three, tonnes, false), None);
        // A limit may be far above what is on its axle.
        assert_eq!(apart(&three, kg(4600.0), true), None);
        assert!(apart(&three, kg(5400.0), true).is_some());
    }

    #[test]
    fn a_gap_is_named_by_what_closes_it() {
        let slip = |masses: &[Printed], total| apart(masses, total, false).expect("a gap").slip;
        let mass = Mass::new::<kilogram>;
        // 1,720 typed 1,270.
        let swapped = [kg(1310.0), kg(1270.0), kg(2600.0)];
        let right = Slip::Swapped(Some((In::Mass(1), mass(1720.0))));
        assert_eq!(slip(&swapped, kg(5630.0)), right);
        // The total by itself was rounded once more.
        assert_eq!(slip(&swapped, kg(5640.0)), right);
        // The total's own digits.
        let three = [kg(1300.0), kg(1700.0), kg(2300.0)];
        assert_eq!(
            slip(&three, kg(3500.0)),
            Slip::Swapped(Some((In::Total, mass(5300.0))))
        );
        // In two of them.
        let two = [kg(1310.0), kg(1310.0)];
        assert_eq!(slip(&two, kg(2440.0)), Slip::Swapped(None));
        // 2,780 typed 1,780: nine divides no 1,000.
        assert_eq!(slip(&[kg(1310.0), kg(1780.0)], kg(4090.0)), Slip::Misread);
        // One side for the axle.
        assert_eq!(slip(&[kg(1310.0), kg(890.0)], kg(3091.0)), Slip::Unclear);
        // In pounds.
        assert!(matches!(
            slip(&[lb(2880.0), lb(3290.0)], lb(6800.0)),
            Slip::Swapped(Some((In::Mass(1), _)))
        ));
    }
}
