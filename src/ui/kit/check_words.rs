//! What is to be looked at, in words.

use super::tyre_names;
use crate::rig::Rig;
use crate::rig::checks::{Checks, Matter, Task};
use crate::rig::position::Spot;

/// How a view shows a tyre in a way of its own.
#[derive(Debug, PartialEq, Eq)]
pub struct Look {
    /// The class of its mark.
    pub class: &'static str,
    /// What is said of it behind its name, with the comma between.
    pub word: &'static str,
    /// What stands in it.
    pub sign: &'static str,
}

/// The name of a tyre of a log, also where the rig has lost it since.
pub fn tyre(rig: &Rig, spot: Spot) -> String {
    match rig.tyre_of(spot) {
        Some(at) => tyre_names::tyre(rig, at),
        None => {
            let wheel = tyre_names::wheel(rig, Some(spot.wheel));
            format!("{wheel}{}", if spot.inner { ", inner" } else { "" })
        }
    }
}

/// What is to be looked at.
pub fn matter(rig: &Rig, checks: &Checks, matter: &Matter) -> String {
    match matter {
        Matter::Bad(tyres) => match tyres.as_slice() {
            [one] => format!("Not good: {}", tyre(rig, *one).to_ascii_lowercase()),
            tyres => format!("{} tyres not good", tyres.len()),
        },
        Matter::Pressures => "Tyre pressures".to_owned(),
        Matter::Nuts { wheels, all, .. } => match wheels.as_slice() {
            [wheel] if !all => format!(
                "Wheel nuts: {}",
                tyre_names::wheel(rig, Some(*wheel)).to_ascii_lowercase()
            ),
            wheels if !all => format!("Wheel nuts of {} wheels", wheels.len()),
            _ => "Wheel nuts".to_owned(),
        },
        Matter::Age { tyre, .. } | Matter::Tread { tyre, .. } => {
            format!("Tyre: {}", self::tyre(rig, *tyre).to_ascii_lowercase())
        }
        Matter::Own(id) => own_name(checks, *id),
    }
}

/// The name of a check of one's own.
pub fn own_name(checks: &Checks, id: u32) -> String {
    let name = checks.own(id).map_or("", |own| own.name.trim());
    if name.is_empty() {
        "A check without a name".to_owned()
    } else {
        name.to_owned()
    }
}

/// What is due, in one line; nothing where nothing is. Nuts have a line of
/// their own. A tyre that is old, and is to be looked at each year, is said
/// where nothing else is due.
pub fn due_line(rig: &Rig, checks: &Checks, tasks: &[Task]) -> Option<String> {
    let now: Vec<String> = tasks
        .iter()
        .filter(|task| task.is_now() && !matches!(task.matter, Matter::Nuts { .. }))
        .map(|task| matter(rig, checks, &task.matter))
        .collect();
    match now.as_slice() {
        [] => old(rig, tasks),
        [one] => Some(one.clone()),
        [one, two] => Some(format!("{one}, {two}")),
        [one, rest @ ..] => Some(format!("{one} and {} more", rest.len())),
    }
}

/// The oldest of the tyres whose age has no day of its own.
fn old(rig: &Rig, tasks: &[Task]) -> Option<String> {
    let ages = tasks.iter().filter_map(|task| match task.matter {
        Matter::Age { tyre, years, .. } => Some((tyre, years)),
        _ => None,
    });
    let (tyre, years) = ages.reduce(|a, b| if b.1 > a.1 { b } else { a })?;
    let name = self::tyre(rig, tyre).to_ascii_lowercase();
    Some(format!(
        "a fitter’s look at a tyre of {years} years: {name}"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::tyre::wear::Age;
    use crate::rig::checks::OwnCheck;
    use crate::rig::checks::due::When;

    #[test]
    fn the_line_names_what_is_due_and_counts_the_rest() {
        let rig = Rig::demo();
        let mut checks = Checks::default();
        for (id, name) in [(1, "Plugs"), (2, "  "), (3, "Roof")] {
            checks.own.push(OwnCheck {
                id,
                name: name.to_owned(),
                ..OwnCheck::default()
            });
        }
        let now = |matter| Task {
            matter,
            when: When::Now { since: None },
        };
        let mut tasks = vec![
            Task {
                matter: Matter::Pressures,
                when: When::Never,
            },
            now(Matter::Nuts {
                wheels: Vec::new(),
                all: true,
                overdue: true,
            }),
        ];
        assert_eq!(due_line(&rig, &checks, &tasks), None);
        // Old tyres have no day, and were on no first screen.
        let of = |years, at: usize| Task {
            matter: Matter::Age {
                tyre: rig.spot_of(rig.round()[at]),
                age: Age::after(f64::from(years)),
                years,
            },
            when: When::Standing,
        };
        tasks.splice(0..0, [of(5, 0), of(7, 1), of(7, 2)]);
        assert_eq!(
            due_line(&rig, &checks, &tasks).as_deref(),
            Some("a fitter’s look at a tyre of 7 years: rear, left")
        );
        tasks.drain(..3);
        for expected in ["Plugs", "Plugs, A check without a name", "Plugs and 2 more"] {
            let id = tasks.len() as u32 - 1;
            tasks.push(now(Matter::Own(id)));
            assert_eq!(due_line(&rig, &checks, &tasks).as_deref(), Some(expected));
        }
    }
}
