//! What an axle still needs, and by which field a finding is said.

use crate::calc::doubt::Doubt;
use crate::calc::pressure::{Caution, Refusal};
use crate::calc::tyre::capacity::CapacityError;
use crate::calc::tyre::designation::DesignationError;
use crate::rig::typed::TypedMass;
use crate::rig::{Axle, LoadFrom, Missing, Problem, Rig};

/// What an axle needs next before it has a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// Its tyre.
    Tyre,
    /// More marks of its tyre.
    Marks,
    /// A mass.
    Load(Missing),
    /// Something entered, or that it leads to, is to be put right.
    Mend(By),
}

/// What an axle needs next, by why it has no figure; nothing where the entry
/// is whole, also where the load is too much.
pub fn need(problem: &Problem) -> Option<Need> {
    match problem {
        Problem::Tyre(DesignationError::Empty) => Some(Need::Tyre),
        Problem::Missing(missing) => Some(Need::Load(*missing)),
        Problem::Capacity(error) if asks_for_a_mark(error) => Some(Need::Marks),
        Problem::Refused(Refusal::Overloaded { .. }) => None,
        other => Some(Need::Mend(of_problem(other))),
    }
}

/// Whether one more mark of the sidewall would settle it.
pub fn asks_for_a_mark(error: &CapacityError) -> bool {
    matches!(
        error,
        CapacityError::ReferenceLoadNeeded { .. }
            | CapacityError::ReferencePressureNeeded
            | CapacityError::SecondMarkNeeded { .. }
            | CapacityError::ExtraLoadOrMaximumNeeded
            | CapacityError::FamilyMarkNeeded
    )
}

/// A field of an axle's entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// The tyre's designation, and what else its sidewall says.
    Tyre,
    /// The mass.
    Load,
    /// The placard's pressure.
    Placard,
    /// The most that the wheel or valve allow.
    Wheel,
    /// One's own pressure, or another of those folded away.
    More,
}

/// The field that a problem is about.
pub fn of_problem(problem: &Problem) -> By {
    match problem {
        Problem::Tyre(_) | Problem::Capacity(_) => By::Tyre,
        Problem::Missing(_) | Problem::Refused(Refusal::Overloaded { .. }) => By::Load,
        Problem::Refused(Refusal::PlacardAboveMaximum { .. } | Refusal::MakersFigureNeeded) => {
            By::Placard
        }
        Problem::Refused(Refusal::WheelMaximumNeeded { .. }) => By::Wheel,
        _ => By::More,
    }
}

/// The field that a caution about an entry is about; none where it is about
/// driving.
pub fn of_caution(caution: Caution) -> Option<By> {
    match caution {
        Caution::Doubted(Doubt::DualInFront) => Some(By::More),
        Caution::Doubted(Doubt::Placard { .. }) => Some(By::Placard),
        Caution::Doubted(_) => Some(By::Load),
        Caution::LeastOnly(_) => Some(By::Placard),
        Caution::SpeedSymbolUnknown => Some(By::Tyre),
        Caution::BelowPlacard(_) => Some(By::More),
        _ => None,
    }
}

/// The field that what an axle needs is typed into, by its name on the axle.
pub fn field_of(need: Need) -> &'static str {
    match need {
        Need::Tyre | Need::Marks | Need::Mend(By::Tyre | By::Load) => "tyre",
        Need::Mend(By::Placard) => "placard",
        Need::Mend(By::Wheel) => "wheel-maximum",
        Need::Mend(By::More) => "own",
        Need::Load(Missing::Left) => "left",
        Need::Load(Missing::Right) => "right",
        Need::Load(Missing::Weighed) => "weighed",
        Need::Load(Missing::Rating) => "rating",
        Need::Load(Missing::Alone) => "alone",
    }
}

fn kilograms(typed: Option<TypedMass>) -> Option<f64> {
    typed.map(|typed| typed.amount().in_limit_unit())
}

/// The mass on an axle in kilograms as it was entered, both sides together.
pub fn entered_mass_kg(axle: &Axle) -> Option<f64> {
    match axle.load_from {
        LoadFrom::Sides => Some(kilograms(axle.left)? + kilograms(axle.right)?),
        LoadFrom::Weighed => kilograms(axle.weighed),
        LoadFrom::Rating => kilograms(axle.rating),
    }
}

/// Whether nothing of a rig of one's own was entered yet.
pub fn is_blank(rig: &Rig) -> bool {
    let untouched = |axle: &Axle| {
        let one = Axle {
            axles: 1,
            ..axle.clone()
        };
        one == Axle {
            id: axle.id,
            ..Axle::empty(axle.place)
        }
    };
    !rig.demo && rig.unusable.is_empty() && rig.axles.iter().all(untouched)
}

/// Takes over what the sidewall of another axle's tyre says.
pub fn same_tyre(rig: &mut Rig, index: usize, like: usize) {
    let Some(like) = rig.axles.get(like).cloned() else {
        return;
    };
    if let Some(axle) = rig.axles.get_mut(index) {
        axle.tyre = like.tyre;
        axle.moulded_load = like.moulded_load;
        axle.moulded_dual_load = like.moulded_dual_load;
        axle.moulded_pressure = like.moulded_pressure;
        axle.moulded_minimum = like.moulded_minimum;
    }
}

/// The axles before this one whose tyre it may have too: by their places in
/// the list, no tyre named twice.
pub fn tyres_before(rig: &Rig, index: usize) -> Vec<usize> {
    let mut found: Vec<usize> = Vec::new();
    for (other, axle) in rig.axles.iter().enumerate().take(index) {
        let named = found.iter().any(|of| rig.axles[*of].tyre == axle.tyre);
        if !named && !axle.tyre.trim().is_empty() {
            found.push(other);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::typed::in_unit::{kg, kpa};
    use crate::rig::{Place, PressureUnit};

    fn next(rig: &Rig, index: usize) -> Option<Need> {
        need(&rig.answer(&rig.axles[index]).err()?)
    }

    #[test]
    fn an_entry_asks_for_one_thing_after_another() {
        let mut rig = Rig::empty("", PressureUnit::Psi);
        assert_eq!(next(&rig, 0), Some(Need::Tyre));
        for (tyre, expected) in [
            ("265/75 16", Need::Mend(By::Tyre)),
            ("LT265/75R16", Need::Marks),
            ("265/75R16 123/120Q", Need::Marks),
            ("265/65R17 116H", Need::Marks),
            ("LT265/75R16 123/120Q E", Need::Load(Missing::Weighed)),
        ] {
            rig.axles[0].tyre = tyre.to_owned();
            assert_eq!(next(&rig, 0), Some(expected), "{tyre}");
        }
        rig.axles[0].weighed = Some(kg(1270.0));
        assert_eq!(next(&rig, 0), None);
        // Too much is no missing entry.
        rig.axles[0].weighed = Some(kg(3500.0));
        assert_eq!(next(&rig, 0), None);
        rig.axles[0].weighed = Some(kg(1270.0));
        rig.axles[0].placard = Some(kpa(650.0));
        assert_eq!(next(&rig, 0), Some(Need::Mend(By::Placard)));
    }

    #[test]
    fn a_camper_tyre_asks_for_the_makers_figure_by_the_placard() {
        let mut rig = Rig::empty("", PressureUnit::Psi);
        rig.axles[1].tyre = "225/75R16CP 118/116R".to_owned();
        rig.axles[1].moulded_load = Some(kg(1320.0));
        rig.axles[1].moulded_pressure = Some(kpa(475.0));
        rig.axles[1].weighed = Some(kg(2000.0));
        assert_eq!(next(&rig, 1), Some(Need::Mend(By::Placard)));
        rig.axles[1].placard = Some(kpa(550.0));
        assert_eq!(next(&rig, 1).map(field_of), Some("wheel-maximum"));
    }

    #[test]
    fn every_need_names_a_field_of_the_axle() {
        let missing = [
            (LoadFrom::Sides, "left"),
            (LoadFrom::Weighed, "weighed"),
            (LoadFrom::Rating, "rating"),
        ];
        let mut rig = Rig::empty("", PressureUnit::Psi);
        rig.axles[0].tyre = "LT265/75R16 123/120Q E".to_owned();
        for (from, field) in missing {
            rig.axles[0].load_from = from;
            assert_eq!(next(&rig, 0).map(field_of), Some(field));
        }
        rig.axles[0].load_from = LoadFrom::Sides;
        rig.axles[0].left = Some(kg(640.0));
        assert_eq!(next(&rig, 0).map(field_of), Some("right"));
        assert_eq!(entered_mass_kg(&rig.axles[0]), None);
        rig.axles[0].right = Some(kg(620.0));
        assert_eq!(entered_mass_kg(&rig.axles[0]), Some(1260.0));
    }

    #[test]
    fn a_rig_is_blank_until_something_is_typed() {
        let mut rig = Rig::empty("mine", PressureUnit::Psi);
        rig.axles[2].axles = 2;
        assert!(is_blank(&rig));
        for change in [
            (|rig| rig.axles[1].tyre = "2".to_owned()) as fn(&mut Rig),
            |rig| rig.axles[2].weighed = Some(kg(2400.0)),
            |rig| rig.axles[2].dual = true,
            |rig| rig.demo = true,
        ] {
            let mut changed = rig.clone();
            change(&mut changed);
            assert!(!is_blank(&changed));
        }
    }

    #[test]
    fn the_same_tyre_brings_its_sidewall_and_nothing_of_the_axle() {
        let mut rig = Rig::empty("", PressureUnit::Psi);
        rig.axles.push(Axle::empty(Place::Trailer));
        rig.axles[0] = Axle {
            tyre: "195R14C 106/104Q".to_owned(),
            moulded_pressure: Some(kpa(450.0)),
            placard: Some(kpa(300.0)),
            wheel_maximum: Some(kpa(500.0)),
            weighed: Some(kg(1000.0)),
            ..Axle::empty(Place::Front)
        };
        assert!(tyres_before(&rig, 0).is_empty());
        same_tyre(&mut rig, 1, 0);
        assert_eq!(
            rig.axles[1],
            Axle {
                tyre: "195R14C 106/104Q".to_owned(),
                moulded_pressure: Some(kpa(450.0)),
                id: rig.axles[1].id,
                ..Axle::empty(Place::Rear)
            }
        );
        // The rear's is the front's, so it is offered once.
        assert_eq!(tyres_before(&rig, 2), [0]);
        rig.axles[1].tyre = "LT265/75R16 123/120Q E".to_owned();
        assert_eq!(tyres_before(&rig, 3), [0, 1]);
    }
}
