//! Compressor, deflator and air space.

use crate::calc::limits::Field;
use crate::rig::air::tools::{Flow, Timing, Tools, Way, space_by_size};
use crate::rig::air::walk::seconds_since;
use crate::rig::typed::{Typed, in_unit};
use crate::rig::{AxleId, Owner, Rig};
use crate::ui::frame::state::State;
use crate::ui::kit::air_fields::{axle_choice, number, number_in};
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{Holds, NumberField, Slot, button, buttons, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::parts::{fold, pair, part};
use crate::ui::kit::words as shared;
use crate::ui::kit::{air_words as words, clock, tools};
use leptos::prelude::*;

/// What the minutes follow from.
pub fn view(state: State) -> Content {
    let clock = clock::every(1);
    tools::take_over_texts(state);
    part("tools-heading", "Compressor, deflator, air space")
        .child(paragraph(
            "hint",
            "Ranges stand until you time a tyre: air space is estimated, and pumps give from half \
             to all of their printed flow (common practice, no source). Taken at 20 °C and sea level \
             unless Here and now says otherwise.",
        ))
        .child(compressor(state))
        .child(deflator(state))
        .child(fold("Time one tyre pumped up").child(timing(state, clock, "pump", Way::Up)))
        .child(fold("Time one tyre let down").child(timing(state, clock, "out", Way::Down)))
        .child(spaces(state))
        .node()
}

/// What is said where a flow, or the pressure beside it, is blank.
const NO_FLOW: [&str; 2] = [
    "“Free-air flow” is blank: this pressure counts for nothing.",
    "“At” is blank: this flow counts for nothing. Enter 0 where no pressure is printed.",
];

/// Two fields that say something together only, and right below them which is
/// blank while the other is not. `there` is which of the two is.
fn halved(
    state: State,
    fields: Element,
    index: usize,
    there: fn(&Tools, usize) -> [bool; 2],
    blank: [&'static str; 2],
) -> Element {
    let says = move || {
        let [first, second] = state.section::<Tools>().read(|tools| there(tools, index));
        (first != second).then(|| blank[usize::from(first)])
    };
    element("div").child(fields).child(
        element("div")
            .attr("role", "status")
            .live(move || says().map(|text| paragraph("asked", text))),
    )
}

/// A place within the tools.
type ToolsPlace = fn(&mut Tools) -> &mut dyn Holds;

/// The places of the compressor's stated flows.
const FLOWS: [[ToolsPlace; 2]; Tools::MOST_FLOWS] = [
    [
        |tools| &mut tools.flow_mut(0).flow,
        |tools| &mut tools.flow_mut(0).at,
    ],
    [
        |tools| &mut tools.flow_mut(1).flow,
        |tools| &mut tools.flow_mut(1).at,
    ],
    [
        |tools| &mut tools.flow_mut(2).flow,
        |tools| &mut tools.flow_mut(2).at,
    ],
];

fn is_there(flow: &Flow) -> [bool; 2] {
    [flow.flow.is_some(), flow.at.is_some()]
}

fn compressor(state: State) -> Element {
    let flows = FLOWS.into_iter().enumerate().map(|(index, [flow, at])| {
        let hints = if index == 0 {
            ["Printed. Cubic feet: type cfm.", "0 where none is printed."]
        } else {
            ["", ""]
        };
        let fields = pair(
            number(
                state,
                &format!("pump-flow-{index}"),
                "Free-air flow",
                hints[0],
                Field::FreeAirFlow,
                flow,
            ),
            number(
                state,
                &format!("pump-at-{index}"),
                "At",
                hints[1],
                Field::TyreReading,
                at,
            ),
        );
        let there = |tools: &Tools, index: usize| {
            let flow = tools.flows.get(index);
            flow.map_or([false; 2], is_there)
        };
        halved(state, fields, index, there, NO_FLOW)
    });
    flows
        .fold(fold("Compressor"), Element::child)
        .child(halved(
            state,
            pair(
                number(
                    state,
                    "pump-run",
                    "May run",
                    "Duty cycle.",
                    Field::DutyRun,
                    |tools: &mut Tools| &mut tools.compressor.run,
                ),
                number(
                    state,
                    "pump-rest",
                    "Then rests",
                    "",
                    Field::DutyRest,
                    |tools: &mut Tools| &mut tools.compressor.rest,
                ),
            ),
            0,
            |tools, _| {
                let of = &tools.compressor;
                [of.run.is_some(), of.rest.is_some()]
            },
            [
                "“May run” is blank: no pause is counted.",
                "“Then rests” is blank: no pause is counted.",
            ],
        ))
        .child(pair(
            number(
                state,
                "pump-most",
                "Highest pressure",
                "It is made for.",
                Field::PumpMaximum,
                |tools: &mut Tools| &mut tools.compressor.maximum,
            ),
            number(
                state,
                "pump-change",
                "Valve to valve",
                "Minutes: type min.",
                Field::ChangeOver,
                |tools: &mut Tools| &mut tools.compressor.change_over,
            ),
        ))
}

fn deflator(state: State) -> Element {
    let fields = pair(
        number(
            state,
            "out-flow",
            "Free-air flow",
            "By its maker.",
            Field::FreeAirFlow,
            |tools: &mut Tools| &mut tools.deflator.flow,
        ),
        number(
            state,
            "out-at",
            "At",
            "",
            Field::LetDownTo,
            |tools: &mut Tools| &mut tools.deflator.at,
        ),
    );
    let blank = [
        NO_FLOW[0],
        "“At” is blank: this flow counts for nothing without the pressure that it is given at.",
    ];
    fold("Deflator")
        .child(halved(
            state,
            fields,
            0,
            |tools, _| is_there(&tools.deflator),
            blank,
        ))
        .child(paragraph("hint", "Or time one tyre, which is better."))
}

/// A place within what was timed. Of an axle that has gone it counts for
/// nothing.
fn of_timing(way: Way, axles: &[AxleId], place: fn(&mut Timing) -> &mut dyn Holds) -> Slot<Tools> {
    let (there, axles) = (axles.to_vec(), axles.to_vec());
    Slot {
        get: Box::new(move |tools: &Tools| {
            let mut timing = *tools.timing(way);
            let amount = place(&mut timing).amount();
            amount.filter(|_| !timing.is_left(&there))
        }),
        set: Box::new(move |tools: &mut Tools, amount| {
            place(tools.timing_mut(way, &axles)).put(amount);
        }),
    }
}

/// What was timed.
#[inline(never)]
fn timed(state: State, way: Way) -> Timing {
    let tools = state.section::<Tools>();
    tools.with_rig(|rig, tools| tools.timing_of(rig, way))
}

/// The stopwatch and what it gives.
fn timing(state: State, clock: RwSignal<u32>, prefix: &'static str, way: Way) -> Element {
    let id = move |name: &str| format!("{prefix}-timed-{name}");
    let tools = state.section::<Tools>();
    let axles = state.rig_now(Rig::axle_ids);
    let timed = move || timed(state, way);
    let running = memo(move |_| timed().started_day.is_some());
    let of = axles.clone();
    let seconds = move || {
        running.track();
        number_in(
            state,
            &id("seconds"),
            "Time it took",
            "Air moving, without pauses. Minutes: type min.",
            Field::TimedRun,
            of_timing(way, &of, |timing| &mut timing.took),
        )
    };
    let of = axles.clone();
    let watch = move || {
        let of = of.clone();
        let label = if running.get() {
            "Stop"
        } else {
            "Start the stopwatch"
        };
        button(label, move || {
            let now = clock::now_day();
            let field = id("seconds");
            tools.forget_drafts(|text| text.field == field);
            tools.change(|tools| {
                let timing = tools.timing_mut(way, &of);
                match timing.started_day.take() {
                    Some(started) => {
                        let took = Field::TimedRun.check(seconds_since(started, now));
                        // Shown to the tenth, and kept as shown.
                        let took = took.ok().map(|s| (s * 10.0).round() / 10.0);
                        timing.took = took.map(in_unit::seconds);
                    }
                    None => timing.started_day = Some(now),
                }
            });
        })
        .class("primary")
    };
    let face = move || {
        let started = timed().started_day?;
        let shown = words::stopwatch(seconds_since(started, clock::following(clock)));
        Some(paragraph("stopwatch", shown).attr("role", "timer"))
    };
    let says = move || {
        if tools::is_unusable(state, &[prefix]) {
            return "An entry can't be used.";
        }
        let of = timed();
        let known = [of.from.is_some(), of.to.is_some(), of.took.is_some()];
        if running.get() {
            "Stop it when the gauge shows the end."
        } else if known == [true; 3] {
            "Timed: it counts in the minutes above."
        } else if known == [false; 3] {
            ""
        } else {
            "Not yet whole: from, to and the time are needed."
        }
    };
    let drop = button("Drop this timing", move || {
        let fields = id("");
        state.reshape(|garage, shelf| {
            garage.change(shelf, |tools: &mut Tools| {
                tools.forget_timing(way);
                tools
                    .unusable
                    .retain(|text| !text.field.starts_with(&fields));
            })
        });
    });
    let end = |name, label, hint, place| {
        let slot = of_timing(way, &axles, place);
        number_in(state, &id(name), label, hint, Field::TyreReading, slot)
    };
    let all = axles.clone();
    element("div")
        .class("form")
        .child(axle_choice(
            state,
            "A tyre of",
            &id("axle"),
            move || {
                let axle = timed().axle;
                axle.and_then(|axle| state.rig(|rig| rig.axle_at(axle)))
                    .unwrap_or(0)
            },
            move |picked| {
                tools.change(|tools| {
                    tools.timing_mut(way, &all).axle = all.get(picked).copied();
                });
            },
        ))
        .child(pair(
            end("from", "From", "As read at the start.", |timing| {
                &mut timing.from
            }),
            end("to", "To", "As read at the end.", |timing| &mut timing.to),
        ))
        .live(face)
        .live(watch)
        .live(seconds)
        .child(element("p").class("hint").attr("role", "status").live(says))
        .child(buttons().child(drop))
}

/// Each axle's air space: by its size, or typed in.
fn spaces(state: State) -> Element {
    let axles = state.rig_now(|rig| rig.axles.len());
    (0..axles).fold(fold("Air space of a tyre"), |part, index| {
        part.child(space(state, index))
    })
}

fn space(state: State, index: usize) -> Element {
    let axle = state.rig_now(|rig| {
        let axle = rig.axles.get(index)?;
        Some((shared::axle(axle), axle.id))
    });
    let (name, axle) = axle.unwrap_or_default();
    let by_size = live(move || {
        state.rig(|rig| match space_by_size(rig, index) {
            Ok(space) => format!("By size: {}.", words::air_space(space)),
            Err(why) => format!("By size: none, {}.", words::no_time(why, rig.unit)),
        })
    });
    let field = NumberField {
        id: format!("space-{index}"),
        of: Owner::Axle(axle),
        name: tools::SPACE.to_owned(),
        label: name.into(),
        hint: "Blank: by the tyre's size.",
        field: Field::AirSpace,
        optional: true,
        slot: Slot {
            get: Box::new(move |tools: &Tools| tools.space(axle).map(Typed::amount)),
            set: Box::new(move |tools: &mut Tools, amount| {
                tools.set_space(axle, amount.and_then(Typed::of));
            }),
        },
    };
    element("div")
        .child(field.view(state))
        .child(paragraph("hint", by_size))
}
