//! The masses of a rig's axles as they were entered, and the total that they
//! are held to.

use super::Weights;
use super::ticket::Tickets;
use crate::calc::doubt::{Second, is_settled, short_of};
use crate::calc::quantity::{Mass, kilogram};
use crate::calc::total::{self, Apart, In, Printed, Slip};
use crate::rig::section::Entered;
use crate::rig::typed::{Amount, TypedMass};
use crate::rig::{Axle, LoadFrom, Rig};

/// Names the total's field on the page.
pub const FIELD: &str = "rig-total";

/// Of one axle hitched, what its load was entered as: its mass, its two sides,
/// or its limit. Nothing while one is blank.
pub fn of_axle(axle: &Axle) -> Option<Vec<TypedMass>> {
    match axle.load_from {
        LoadFrom::Sides => Some(vec![axle.left?, axle.right?]),
        LoadFrom::Weighed => Some(vec![axle.weighed?]),
        LoadFrom::Rating => Some(vec![axle.rating?]),
    }
}

/// Those of all axles in their order, each with its axle's place in the rig's
/// list; nothing while one is blank or can't be used.
fn of_all(rig: &Rig) -> Option<Vec<(usize, TypedMass)>> {
    let mut all = Vec::new();
    for (at, axle) in rig.axles.iter().enumerate() {
        let usable = rig.unusable_of(at).is_none();
        let masses = of_axle(axle).filter(|_| usable)?;
        all.extend(masses.into_iter().map(|mass| (at, mass)));
    }
    Some(all)
}

fn printed(mass: TypedMass) -> Printed {
    let amount = mass.amount();
    let one = TypedMass::of(Amount::new(1.0, amount.unit()));
    Printed {
        number: amount.number(),
        unit: one.unwrap_or(mass).quantity(),
    }
}

fn is_rated(axle: &Axle) -> bool {
    axle.load_from == LoadFrom::Rating
}

/// What the rig's axles add up to, once each has its mass.
pub fn sum(rig: &Rig) -> Option<Mass> {
    let all: Vec<_> = of_all(rig)?.iter().map(|(_, of)| printed(*of)).collect();
    Some(total::sum(&all))
}

/// Masses that are not what their total says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NotTheTotal {
    /// By how much, and what it looks like.
    pub apart: Apart,
    /// The axle that the slip is in, where it can be in one mass only.
    pub axle: Option<usize>,
}

/// How far the masses of a rig are held to a total.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Held {
    /// There is none.
    Not,
    /// Each is part of the sum.
    Whole,
    /// Axles entered by their limit take up a gap: a digit too low in another
    /// stays unseen. What the total leaves for them.
    Limits(Mass),
}

/// What the axles that are entered by their limits are entered as, and all
/// others.
fn limits_and_masses(rig: &Rig, all: &[(usize, TypedMass)]) -> (Mass, Mass) {
    let nothing = Mass::new::<kilogram>(0.0);
    all.iter()
        .fold((nothing, nothing), |(limits, masses), (at, of)| {
            let mass = of.quantity();
            match rig.axles.get(*at).is_some_and(is_rated) {
                true => (limits + mass, masses),
                false => (limits, masses + mass),
            }
        })
}

impl Weights {
    /// The stored name of the total's field.
    pub const TOTAL: &'static str = "total";

    /// The total, while it can be used.
    fn total_now(&self) -> Option<TypedMass> {
        self.total.filter(|_| !self.is_unusable(Self::TOTAL))
    }

    /// How far the masses entered are held to a total.
    pub fn held(&self, rig: &Rig) -> Held {
        let total = self.total_now().filter(|_| !self.in_use);
        let Some((total, all)) = total.zip(of_all(rig)) else {
            return Held::Not;
        };
        if rig.axles.iter().any(is_rated) {
            let (_, masses) = limits_and_masses(rig, &all);
            Held::Limits(total.quantity() - masses)
        } else {
            Held::Whole
        }
    }

    /// Whether a text that these weights are worked out from can't be used.
    /// Nothing hangs on the total but a doubt.
    pub fn is_unusable_here(&self) -> bool {
        self.unusable.iter().any(|text| text.field != Self::TOTAL)
    }

    /// The masses entered, where they are not what their total says.
    pub fn not_the_total(&self, rig: &Rig) -> Option<NotTheTotal> {
        let total = self.total_now().filter(|_| !self.in_use)?;
        let all = of_all(rig)?;
        let masses: Vec<_> = all.iter().map(|(_, of)| printed(*of)).collect();
        let at_most = rig.axles.iter().any(is_rated);
        let apart = total::apart(&masses, printed(total), at_most).or_else(|| {
            // What is left for limits is held to them as a mass is to its plate.
            let (limits, others) = limits_and_masses(rig, &all);
            let left = total.quantity() - others;
            let is_short = at_most && short_of(left, &[Second::Plate(limits)]).is_some();
            is_short.then(|| Apart {
                sum: total::sum(&masses),
                total: total.quantity(),
                slip: Slip::Unclear,
            })
        })?;
        let axle = match apart.slip {
            Slip::Swapped(Some((In::Mass(at), _))) => all.get(at).map(|(axle, _)| *axle),
            _ => None,
        };
        Some(NotTheTotal { apart, axle })
    }

    /// Whether a digit too low in one of the masses would stay unseen: all are
    /// entered, no total holds them, and one that is no limit has nothing else
    /// that would show it. Not while they come from here, nor once they were
    /// said to be read right.
    pub fn asks_for_total(&self, tickets: &Tickets, rig: &Rig) -> bool {
        if rig.demo || self.in_use || self.held(rig) == Held::Whole {
            return false;
        }
        let Some(all) = of_all(rig) else { return false };
        let said = self.read_right.iter();
        if said.eq(all.iter().map(|(_, mass)| mass)) {
            return false;
        }
        let second = self.second(tickets, rig);
        let open = |(at, axle): (usize, &Axle)| {
            let mut of_this = second.iter().filter(|of| of.axle == at);
            !is_rated(axle) && !of_this.any(|of| is_settled(of.mass, &of.second))
        };
        rig.axles.iter().enumerate().any(open)
    }

    /// Keeps that the masses, as they are, were read right.
    pub fn say_read_right(&mut self, rig: &Rig) {
        let all = of_all(rig).unwrap_or_default();
        self.read_right = all.into_iter().map(|(_, mass)| mass).collect();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::section::{again, body, read};
    use crate::rig::typed::in_unit::{kg, lb};
    use crate::rig::{Place, PressureUnit, Unusable};

    /// A vehicle and a van of one's own, of which nothing but masses is known.
    fn rig() -> Rig {
        let mut rig = Rig::empty("mine", PressureUnit::Psi);
        rig.axles.truncate(2);
        rig.axles.push(Axle::empty(Place::Trailer));
        for (axle, mass) in rig.axles.iter_mut().zip([1270.0, 1640.0, 2600.0]) {
            axle.weighed = Some(kg(mass));
        }
        rig
    }

    fn with_total(kilograms: f64) -> Weights {
        Weights {
            total: Some(kg(kilograms)),
            ..Weights::default()
        }
    }

    /// 1,640 typed 1,460 gave a figure a tenth too low, and no word of it.
    #[test]
    fn masses_are_held_to_their_total() {
        let mut rig = rig();
        assert_eq!(sum(&rig), Some(kg(5510.0).quantity()));
        assert_eq!(with_total(5520.0).not_the_total(&rig), None);
        rig.axles[1].weighed = Some(kg(1460.0));
        let found = with_total(5520.0).not_the_total(&rig).expect("a gap");
        assert_eq!(found.axle, Some(1));
        // A side has a number of its own; the axle is that of both.
        rig.axles[1].load_from = LoadFrom::Sides;
        (rig.axles[1].left, rig.axles[1].right) = (Some(kg(850.0)), Some(kg(790.0)));
        assert_eq!(with_total(5520.0).not_the_total(&rig), None);
        rig.axles[1].left = Some(kg(580.0));
        let found = with_total(5510.0).not_the_total(&rig).expect("a gap");
        assert_eq!(found.axle, Some(1));
        // One in pounds beside kilograms.
        rig.axles[1].left = Some(lb(1874.0));
        assert_eq!(with_total(5520.0).not_the_total(&rig), None);
        // A limit may be above what is on its axle.
        rig.axles[1].load_from = LoadFrom::Rating;
        rig.axles[1].rating = Some(kg(1900.0));
        assert_eq!(with_total(5520.0).not_the_total(&rig), None);
        assert!(with_total(5900.0).not_the_total(&rig).is_some());
        // Half an entry adds up to nothing.
        rig.axles[1].rating = None;
        assert_eq!(
            (sum(&rig), with_total(5900.0).not_the_total(&rig)),
            (None, None)
        );
    }

    /// 'As their total says' stood below masses of 5,680 and a total of 5,590,
    /// of 5,000, of 3,000: the trailer's limit took up any gap.
    #[test]
    fn a_limit_is_no_mass_that_a_total_confirms() {
        let mut rig = rig();
        rig.axles[0].weighed = Some(kg(1430.0));
        rig.axles[1].weighed = Some(kg(1750.0));
        rig.axles[2].load_from = LoadFrom::Rating;
        rig.axles[2].rating = Some(kg(2500.0));
        let none = Tickets::default();
        for (total, left, doubted) in [
            (5590.0, 2410.0, false),
            (5000.0, 1820.0, false),
            (4800.0, 1620.0, true),
            (3000.0, -180.0, true),
        ] {
            let weights = with_total(total);
            assert_eq!(weights.held(&rig), Held::Limits(kg(left).quantity()));
            assert_eq!(weights.not_the_total(&rig).is_some(), doubted, "{total}");
            assert!(weights.asks_for_total(&none, &rig), "{total}");
        }
        rig.axles[2].load_from = LoadFrom::Weighed;
        assert_eq!(with_total(5680.0).held(&rig), Held::Whole);
        assert_eq!(Weights::default().held(&rig), Held::Not);
    }

    #[test]
    fn the_total_is_asked_for_while_nothing_holds_a_mass() {
        let none = Tickets::default();
        let (rig, mut weights) = (rig(), Weights::default());
        assert!(weights.asks_for_total(&none, &rig));
        assert!(!with_total(9000.0).asks_for_total(&none, &rig));
        let demo = Rig {
            demo: true,
            ..rig.clone()
        };
        assert!(!weights.asks_for_total(&none, &demo));
        // While the masses come from tickets, those hold them.
        weights.in_use = true;
        assert!(!weights.asks_for_total(&none, &rig));
        weights.in_use = false;
        // Plates near the masses do; one far above leaves room for a slip.
        weights.front_limit = Some(kg(1350.0));
        weights.rear_limit = Some(kg(1750.0));
        weights.gtm = Some(kg(2700.0));
        assert!(!weights.asks_for_total(&none, &rig));
        weights.rear_limit = Some(kg(1900.0));
        assert!(weights.asks_for_total(&none, &rig));
        // Of an axle at its limit there is nothing to misread but the plate.
        let mut rated = rig.clone();
        rated.axles[1].load_from = LoadFrom::Rating;
        rated.axles[1].rating = Some(kg(1900.0));
        assert!(!weights.asks_for_total(&none, &rated));
        // First all is to be entered.
        let mut half = rig.clone();
        half.axles[2].weighed = None;
        assert!(!weights.asks_for_total(&none, &half));
    }

    #[test]
    fn masses_said_to_be_right_are_asked_for_again_once_one_changes() {
        let none = Tickets::default();
        let (mut rig, mut weights) = (rig(), Weights::default());
        weights.say_read_right(&rig);
        let kept = again(&weights);
        assert!(!kept.asks_for_total(&none, &rig));
        rig.mass_unit = crate::rig::MassUnit::Pound;
        assert!(!kept.asks_for_total(&none, &rig));
        rig.axles[2].weighed = Some(kg(2620.0));
        assert!(kept.asks_for_total(&none, &rig));
        rig.axles[2].weighed = Some(kg(2600.0));
        rig.remove_axle(2);
        assert!(kept.asks_for_total(&none, &rig));
    }

    /// Half a number in the total's field took the whole weights view with it.
    #[test]
    fn a_total_that_cannot_be_used_holds_nothing_and_hides_nothing() {
        let rig = rig();
        let mut weights = with_total(5020.0);
        weights.unusable.push(Unusable {
            field: Weights::TOTAL.to_owned(),
            text: "5".to_owned(),
            ..Unusable::default()
        });
        assert_eq!(weights.not_the_total(&rig), None);
        assert!(weights.asks_for_total(&Tickets::default(), &rig));
        assert!(weights.found(&Tickets::default(), &rig).is_ok());
        weights.unusable[0].field = "gvm".to_owned();
        assert!(weights.not_the_total(&rig).is_some());
        assert!(weights.found(&Tickets::default(), &rig).is_err());
    }

    #[test]
    fn the_total_is_kept_as_typed() {
        let text =
            r#"{"in_use":false,"total":"5.51 t","read_right":["1270 kg","3615.6 lb"],"later":[1]}"#;
        let weights: Weights = read(1, text).expect("weights");
        assert_eq!(body(&weights).as_deref(), Some(text));
        for (old, new) in [("5.51 t", "5 kg"), ("1270 kg", "1270 L"), ("3615.6", "0")] {
            assert!(
                read::<Weights>(1, &text.replace(old, new)).is_err(),
                "{new}"
            );
        }
    }
}
