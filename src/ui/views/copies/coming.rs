//! Rigs that come by file or link, before any of it is kept: what each is
//! beside those here, and what is to become of it.

use super::words;
use crate::store::file::Found;
use crate::store::merge::{self, Here, Stands, Take};
use crate::store::{Plan, RigId, Trouble};
use crate::ui::frame::state::{Removed, State};
use crate::ui::kit::element::{Element, Node, element};
use crate::ui::kit::fields::{button, buttons, choice, paragraph, tick};
use crate::ui::kit::words as shared;
use crate::ui::kit::{clock, lots};
use leptos::prelude::*;
use std::rc::Rc;

/// What can be done with a rig that comes.
#[derive(Clone, Copy, PartialEq)]
enum Act {
    Add,
    Leave,
    Newer,
    Both,
    Coming,
    Mine,
}

impl Act {
    fn label(self, by_link: bool) -> &'static str {
        match self {
            Self::Add => "Keep it here",
            Self::Leave => "Leave it",
            Self::Newer => "Take what is newer",
            Self::Both => "Keep both",
            Self::Coming if by_link => "Take the link's",
            Self::Coming => "Take the file's",
            Self::Mine => "Keep mine",
        }
    }
}

/// A rig that comes, and the one here that it is a copy of.
struct Side {
    found: Found,
    here: Option<Here>,
    parts: Vec<(String, Stands)>,
    acts: Vec<Act>,
}

impl Side {
    fn of(found: Found, here: Option<Here>) -> Self {
        let parts = here.as_ref().map_or_else(Vec::new, |here| {
            merge::compare(&here.sections, &found.sections)
        });
        let any = |some: &[Stands]| parts.iter().any(|(_, stands)| some.contains(stands));
        let acts = if here.is_none() {
            vec![Act::Add, Act::Leave]
        } else if any(&[Stands::Both]) {
            vec![Act::Both, Act::Coming, Act::Mine]
        } else if any(&[Stands::OnlyComing, Stands::ComingNewer]) {
            vec![Act::Newer, Act::Both, Act::Coming, Act::Mine]
        } else if any(&[Stands::HereNewer]) {
            vec![Act::Mine, Act::Both, Act::Coming]
        } else {
            Vec::new()
        };
        Self {
            found,
            here,
            parts,
            acts,
        }
    }
}

/// What was found, and what to do with it. `over` follows the answer: whether
/// something was kept.
pub(super) fn preview(
    state: State,
    found: &[Found],
    by_link: bool,
    over: impl Fn(bool) + Copy + 'static,
) -> Element {
    let box_ = element("div").class("coming").attr("role", "status");
    if found.is_empty() {
        return box_
            .child(paragraph("", "There is no rig in this file."))
            .child(buttons().child(button("Leave it", move || over(false))));
    }
    let here = state.with_shelf(|garage, shelf| garage.all(shelf));
    let mut taken: Vec<RigId> = Vec::new();
    let mut sides = Vec::new();
    let mut rows = vec![paragraph("hint", words::NOTHING_YET)];
    for found in found {
        if let Err(why) = found.rig {
            let why = shared::unreadable(why);
            rows.push(paragraph("", format!("A rig that can't be read. {why}")));
            continue;
        }
        let met = merge::meet(&here, found, &taken).cloned();
        taken.extend(met.iter().map(|of| of.id));
        sides.push(Side::of(found.clone(), met));
    }
    // One that is new here is kept or not by the keys below.
    let one = sides.len() == 1 && sides[0].here.is_none();
    let picks = StoredValue::new_local(vec![0_usize; sides.len()]);
    rows.extend(
        sides
            .iter()
            .enumerate()
            .map(|(index, side)| row(side, by_link, index, (!one).then_some(picks))),
    );
    let asked = sides.iter().any(|side| !side.acts.is_empty());
    let others: Vec<Here> = here
        .iter()
        // The invented rig is on no shelf, and nobody's loss.
        .filter(|of| !taken.contains(&of.id) && !of.sections.is_empty())
        .cloned()
        .collect();
    let replace = RwSignal::new(false);
    if !by_link && !others.is_empty() && !sides.is_empty() {
        let names: Vec<String> = others.iter().map(|of| shared::rig_name(&of.name)).collect();
        rows.push(paragraph("", format!("Only here: {}.", names.join(", "))));
        rows.push(tick(
            "Remove the rigs that are only here",
            move || replace.get(),
            move |on| replace.set(on),
        ));
    }
    let sides = Rc::new((sides, others));
    let keep = (asked || !by_link && !sides.1.is_empty()).then(|| {
        button(
            if one {
                Act::Add.label(by_link)
            } else {
                "Do so"
            },
            move || {
                let (sides, others) = &*sides;
                let others: &[Here] = if replace.get_untracked() { others } else { &[] };
                let plan = picks.with_value(|picks| plan(sides, picks, others));
                over(carry_out(state, &plan));
            },
        )
        .class("primary")
    });
    let leave = if keep.is_some() {
        "Not now"
    } else {
        "Leave it"
    };
    rows.into_iter().fold(box_, Element::child).child(
        buttons()
            .child(keep.map(Element::node))
            .child(button(leave, move || over(false))),
    )
}

fn row(
    side: &Side,
    by_link: bool,
    index: usize,
    picks: Option<StoredValue<Vec<usize>, LocalStorage>>,
) -> Element {
    let Ok(rig) = &side.found.rig else {
        return element("div");
    };
    let name = shared::rig_name(&rig.name);
    let heading = element("h3").child(format!("{name}: {}", shared::axles(rig.axles.len())));
    let same = side.acts.is_empty();
    let said = match &side.here {
        None => words::NEW,
        Some(_) if same => words::SAME,
        Some(_) => words::DIFFERS,
    };
    let known = side.here.as_ref().is_some_and(|here| {
        let identity = merge::copies(&here.sections).rig;
        !identity.is_empty() && identity == merge::copies(&side.found.sections).rig
    });
    let by_name = side.here.is_some() && !same && !known;
    let parts = side.parts.iter().map(|(part, stands)| {
        let part = shared::section(part);
        element("li").child(format!("{part}: {}", words::stands(*stands, by_link)))
    });
    let ours = side.here.as_ref().filter(|_| !same);
    let ours = ours.and_then(|here| Found::of(here.sections.clone())?.rig.ok());
    let entered = ours.map(|ours| words::entered_otherwise(&ours, rig, by_link));
    let entered = entered.unwrap_or_default().into_iter();
    let parts = parts.chain(entered.map(|said| element("li").child(said)));
    let parts = (!same).then(|| parts.fold(element("ul").class("stands"), Element::child));
    let labels: Vec<&'static str> = side.acts.iter().map(|act| act.label(by_link)).collect();
    let pick = RwSignal::new(0_usize);
    let choice = picks.filter(|_| !same).map(|picks| {
        choice(
            "What to do",
            format!("coming-{index}"),
            "",
            labels,
            move || pick.get(),
            move |to| {
                pick.set(to);
                picks.update_value(|picks| picks[index] = to);
            },
        )
    });
    element("section")
        .class("card")
        .child(heading)
        .child(paragraph("", said))
        .child(by_name.then(|| paragraph("hint", words::BY_NAME)))
        .child(parts)
        .child(choice)
}

fn plan(sides: &[Side], picks: &[usize], others: &[Here]) -> Plan {
    let mut plan = Plan::default();
    for (side, pick) in sides.iter().zip(picks) {
        let coming = &side.found.sections;
        match (side.acts.get(*pick), &side.here) {
            (Some(Act::Add | Act::Both), _) => {
                let arriving = merge::arriving(coming, clock::now_day());
                plan.put.push((None, arriving));
            }
            (Some(act @ (Act::Newer | Act::Coming)), Some(here)) => {
                let take = if *act == Act::Newer {
                    Take::Newer
                } else {
                    Take::Coming
                };
                let joined = merge::joined(&here.sections, coming, take);
                plan.put.push((Some(here.id), joined));
                plan.seen.push(here.clone());
            }
            _ => {}
        }
    }
    plan.remove = others.iter().map(|of| of.id).collect();
    plan.seen.extend(others.iter().cloned());
    plan
}

/// Whether it changed anything.
fn carry_out(state: State, plan: &Plan) -> bool {
    if plan.put.is_empty() && plan.remove.is_empty() {
        return false;
    }
    let mut done = false;
    state.reshape(|garage, shelf| {
        let restored = garage.restore(shelf, plan, &mut lots::draw);
        if restored == Err(Trouble::Full) {
            state.trouble.set(Some(Trouble::Full));
        }
        let restored = restored?;
        done = true;
        state.removed.set(Some(Removed::Replaced(restored)));
        Ok(())
    });
    done
}
