//! The parts of the weights view.

use super::desk::{Desk, Seen, Undo, remember};
use super::{entries, plan, tickets, words as said};
use crate::calc::quantity::{Mass, kilogram};
use crate::calc::weights::AxleAt;
use crate::calc::weights::plates::Standing;
use crate::calc::weights::ticket::Weighing;
use crate::rig::{Place, Rig};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{button, buttons, demo_notice, focus_soon, listed, paragraph, tick};
use crate::ui::kit::follow::memo;
use crate::ui::kit::hitch;
use crate::ui::kit::parts::{closed, fold, heading};
use crate::ui::kit::rig_drawing::rig_drawing;
use crate::ui::{kit::format, kit::words};
use leptos::prelude::*;

/// The view.
pub fn view(state: State) -> Content {
    let desk = Desk::new(state);
    let there = memo(move |_| desk.seen.with(Result::is_ok));
    vec![
        demo_notice(state, "Invented demo rig.", " Not your weights."),
        live(move || {
            state.shape.track();
            if there.get() {
                answers(desk).node()
            } else {
                none(desk).node()
            }
        }),
        live(move || {
            state.shape.track();
            tickets::card(desk)
        }),
        live(move || {
            state.shape.track();
            entries::card(desk)
        }),
        definitions().node(),
        cautions().node(),
        element("p")
            .class("unseen")
            .attr("role", "status")
            .live(move || desk.spoken.get())
            .node(),
    ]
    .node()
}

fn none(desk: Desk) -> Element {
    let why = live(move || {
        let units = desk.units();
        desk.seen
            .with(|seen| seen.as_ref().err().map(|why| said::none(why, units)))
    });
    let row = element("div")
        .class("row")
        .child(element("h2").class("figure").child("No weights"));
    element("section")
        .class("axle none")
        .attr("role", "status")
        .child(row)
        .child(element("p").class("warning").child(why))
}

fn answers(desk: Desk) -> Element {
    let top = element("div")
        .class("heading")
        .child(heading("weights-heading", "Weights"))
        .child(paragraph("cold", desk.text(basis)));
    element("section")
        .class("answers weights")
        .attr("aria-labelledby", "weights-heading")
        .child(top)
        .child(hitch::switch(desk.state))
        .child(live(move || disagree(desk)))
        .child(worst(desk))
        .child(rig_drawing(desk.state, &|index| on_axle(desk, index), None))
        .child(ball(desk))
        .child(live(move || missing(desk)))
        .child(plan::part(desk))
        .child(pressures(desk))
        .child(margins(desk))
}

/// What the figures come from.
fn basis(seen: &Seen) -> String {
    match seen.found.readings {
        0 => format!(
            "No ticket yet: an estimate from plates and loads. {}",
            said::JUDGE
        ),
        count => format!(
            "From {count} readings on a ticket, and the plan below. {}",
            said::JUDGE
        ),
    }
}

/// That no figure below is sure, and the way to the readings.
fn disagree(desk: Desk) -> Option<Element> {
    (!desk.agrees()).then(|| {
        element("div")
            .class("danger contradiction")
            .attr("role", "status")
            .child(paragraph("warning", said::UNSURE))
            .child(buttons().child(button("Look at the readings", || {
                focus_soon(tickets::CONTRADICTION.to_owned());
            })))
    })
}

/// The rating with the least left, in large; nothing where a wrong reading is
/// in it.
fn worst(desk: Desk) -> Content {
    live(move || {
        let units = desk.units();
        desk.seen.with(|seen| {
            let seen = seen.as_ref().ok().filter(|seen| seen.agrees)?;
            Some(match seen.margins.first() {
                None => paragraph("", "No limit to compare yet: enter the plates below."),
                Some(margin) => {
                    let over = margin.standing() == Standing::Over;
                    let class = if over { "worst danger" } else { "worst" };
                    element("div")
                        .class(class)
                        .child(paragraph("number", said::left(margin, units.mass)))
                        .child(paragraph(
                            "",
                            format!(
                                "Least left: {}. {}.",
                                said::rating(margin.rating),
                                said::standing(margin, units.mass)
                            ),
                        ))
                }
            })
        })
    })
}

/// The mass on one of the rig's axles.
fn on_axle(desk: Desk, index: usize) -> Content {
    let place = desk.state.rig_now(|rig| rig.axles[index].place);
    let at = match place {
        Place::Front => AxleAt::Front,
        Place::Rear => AxleAt::Rear,
        Place::Trailer => AxleAt::Trailer,
    };
    let mass = live(move || {
        let units = desk.units();
        desk.seen.with(|seen| {
            let seen = seen.as_ref().ok()?;
            let figure = seen.figure(at.weighing(seen.coupling));
            Some(match figure {
                Some(figure) => said::figure(&figure, units.mass),
                None => "not known".to_owned(),
            })
        })
    });
    element("p")
        .class("mass")
        .child(element("span").child(said::axle(at)))
        .child(" ")
        .child(element("strong").child(mass))
        .node()
}

fn ball(desk: Desk) -> Content {
    if !desk.state.rig_now(Rig::has_trailer) {
        return Content::Nothing;
    }
    let mass = live(move || {
        let unit = desk.units().mass;
        desk.seen.with(|seen| {
            let figure = seen.as_ref().ok()?.figure(Weighing::Ball);
            Some(figure.map_or("not known".to_owned(), |of| said::figure(&of, unit)))
        })
    });
    let share = live(move || {
        let unit = desk.units().mass;
        desk.seen.with(|seen| {
            let found = &seen.as_ref().ok()?.found;
            let share = found.laden().ball_percent().map(said::ball_share)?;
            let moved = found.moved(Weighing::Ball);
            let moved = moved.filter(|moved| moved.get::<kilogram>().abs() >= 0.5);
            let by_plan = moved.map(|moved| format!(", {} by the plan", said::change(moved, unit)));
            Some(share + &by_plan.unwrap_or_default())
        })
    });
    let tail_heavy = live(move || {
        desk.seen.with(|seen| {
            let ball = seen.as_ref().ok()?.figure(Weighing::Ball)?;
            (ball.mass.low < Mass::new::<kilogram>(0.0))
                .then(|| paragraph("warning danger", said::TAIL_HEAVY))
        })
    });
    element("div")
        .class("ball-mass")
        .child(
            element("p")
                .child("Ball mass ")
                .child(element("strong").child(mass))
                .child(" ")
                .child(share),
        )
        .child(tail_heavy)
        .child(element("p").class("cold").child(lever(desk)))
        .child(paragraph("cold", said::ball_practice()))
        .child(fold("Why two-sided?").child(paragraph("", said::BALL_WHY)))
        .node()
}

/// What the ball's load does to the vehicle's axles.
fn lever(desk: Desk) -> Content {
    live(move || {
        let unit = desk.units().mass;
        desk.seen.with(|seen| {
            let seen = seen.as_ref().ok()?;
            let on = |weighing| Some(seen.figure(weighing)?.mass.likely);
            let front = on(Weighing::FrontHitched)? - on(Weighing::FrontAlone)?;
            let rear = on(Weighing::RearHitched)? - on(Weighing::RearAlone)?;
            Some(said::lever(front, rear, unit))
        })
    })
}

/// What is still to be weighed.
fn missing(desk: Desk) -> Option<Element> {
    let trailer = desk.state.rig_now(Rig::has_trailer);
    desk.seen.with(|seen| {
        let seen = seen.as_ref().ok()?;
        if !trailer {
            return None;
        }
        if seen.found.readings == 0 {
            let first = paragraph("", said::ASK_FOR);
            let missing = element("div").class("missing").child(first);
            return Some(missing.child(tickets::three()));
        }
        let asked = seen
            .found
            .solution()
            .missing(crate::calc::weights::solution::ALL_FIGURES);
        if asked.is_empty() {
            return None;
        }
        let names = asked.into_iter().map(|of| said::weighing(of).to_owned());
        Some(
            element("div")
                .class("missing")
                .child(paragraph(
                    "",
                    "Weigh these too, and nothing is left to an estimate:",
                ))
                .child(listed(names)),
        )
    })
}

/// What the plan does to the pressures, and the key that hands it over.
fn pressures(desk: Desk) -> Element {
    let axles = desk.state.rig_now(|rig| {
        let names = rig.axles.iter().map(words::axle);
        names.collect::<Vec<_>>()
    });
    let rows = axles.into_iter().enumerate().map(|(index, name)| {
        let cell = move |planned: bool| {
            live(move || {
                let unit = desk.units().pressure;
                desk.seen.with(|seen| {
                    let effects = &seen.as_ref().ok()?.effects;
                    let (now, by_plan) = *effects.get(index)?;
                    let effect = if planned { by_plan } else { now };
                    Some(match effect {
                        None => "no figure".to_owned(),
                        Some(effect) => format!(
                            "{} (least {})",
                            format::pressure(unit, effect.recommended),
                            format::pressure_up(unit, effect.least)
                        ),
                    })
                })
            })
        };
        element("tr")
            .child(element("th").attr("scope", "row").child(name))
            .child(element("td").child(cell(false)))
            .child(element("td").child(cell(true)))
    });
    let head = element("thead").child(
        element("tr")
            .child(element("td"))
            .child(element("th").attr("scope", "col").child("Rig page"))
            .child(element("th").attr("scope", "col").child("These loads")),
    );
    let caption = element("caption").live(move || {
        let surface = desk.state.rig(|rig| rig.surface);
        format!(
            "Cold pressures ({}); in brackets the least for the load at road speed",
            words::surface(surface)
        )
    });
    let table = element("table")
        .class("figures")
        .child(caption)
        .child(head)
        .child(rows.fold(element("tbody"), Element::child));
    let none = memo(move |_| {
        let seen = desk.seen;
        seen.with(|seen| seen.as_ref().is_ok_and(|seen| seen.loads.is_empty()))
    });
    let refused = live(move || {
        let units = desk.units();
        desk.seen.with(|seen| {
            let refused = seen.as_ref().ok()?.refused?;
            Some(paragraph(
                "warning",
                format!(
                    "The pressures can’t follow: {}",
                    words::out_of_range_in(refused, units)
                ),
            ))
        })
    });
    let agrees = memo(move |_| desk.agrees());
    let follow = live(move || {
        if !agrees.get() {
            return paragraph("warning", said::NOT_FOLLOWED);
        }
        if none.get() {
            return paragraph(
                "said",
                "No axle mass yet: enter a ticket, or plates and measures.",
            );
        }
        tick(
            "The pressures follow these loads",
            move || desk.weights.read(|weights| weights.in_use),
            move |ticked| follow(desk, ticked),
        )
    });
    element("div")
        .class("effects")
        .child(table)
        .child(follow)
        .child(refused)
        .child(paragraph(
            "hint",
            "Puts the masses on the rig page in place of those there, and keeps them there as loads \
             move. An estimate goes in at its high end. Unticked, they stay.",
        ))
}

/// Has the rig's axles take their loads from here, or no longer.
fn follow(desk: Desk, ticked: bool) {
    let before = desk.state.rig_now(|rig| rig.axles.clone());
    desk.weights.change(|weights| weights.in_use = ticked);
    desk.spoken.set(if ticked {
        remember(desk, Undo::Handed(before));
        "The rig’s axles have these loads now. Undo, under the plan, takes them back.".to_owned()
    } else {
        "The rig’s axles keep the loads that they have.".to_owned()
    });
}

fn margins(desk: Desk) -> Element {
    let list = element("ul").class("margins").live(move || {
        let unit = desk.units().mass;
        desk.seen.with(|seen| {
            let seen = seen.as_ref().ok()?;
            let each = seen.margins.iter().map(|margin| {
                let class = match margin.standing() {
                    Standing::Within => "margin",
                    Standing::Doubtful => "margin doubtful",
                    Standing::Over => "margin danger",
                };
                element("li")
                    .class(class)
                    .child(paragraph("name", said::rating(margin.rating)))
                    .child(paragraph("left", said::left(margin, unit)))
                    .child(paragraph(
                        "cold",
                        format!(
                            "{}: {}",
                            said::standing(margin, unit),
                            said::of_limit(margin, unit)
                        ),
                    ))
            });
            Some(each.collect::<Vec<_>>())
        })
    });
    element("section")
        .attr("aria-labelledby", "margins-heading")
        .child(heading("margins-heading", "Ratings, least left first"))
        .child(list)
}

fn definitions() -> Element {
    said::DEFINITIONS
        .iter()
        .map(|(word, means)| {
            element("p")
                .child(element("strong").child(*word))
                .child(": ")
                .child(*means)
        })
        .fold(closed("What the words mean"), Element::child)
}

fn cautions() -> Element {
    element("section")
        .class("card")
        .attr("aria-labelledby", "weights-cautions")
        .child(heading("weights-cautions", "Before you drive"))
        .child(listed(said::CAUTIONS.iter().map(|text| (*text).to_owned())))
}
