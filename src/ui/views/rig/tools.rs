//! Compressor, deflator and air space.

use crate::calc::limits::Field;
use crate::rig::Rig;
use crate::rig::air::{Air, Key, seconds_since};
use crate::ui::frame::state::State;
use crate::ui::kit::air_fields::{axle_choice, number, number_at};
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{button, buttons, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::parts::{fold, pair, part};
use crate::ui::kit::words as shared;
use crate::ui::kit::{air_words as words, clock};
use leptos::prelude::*;

/// What the minutes follow from.
pub fn view(state: State) -> Content {
    let clock = clock::every(1);
    part("tools-heading", "Compressor, deflator, air space")
        .child(paragraph(
            "hint",
            "Ranges stand until you time a tyre: air space is estimated, and pumps give from half \
             to all of their printed flow (common practice, no source). Taken at 20 °C and sea level \
             unless Here and now says otherwise.",
        ))
        .child(compressor(state))
        .child(deflator(state))
        .child(fold("Time one tyre pumped up").child(timing(state, clock, "pump", Air::UP)))
        .child(fold("Time one tyre let down").child(timing(state, clock, "out", Air::DOWN)))
        .child(spaces(state))
        .node()
}

/// What is said where a flow, or the pressure beside it, is blank.
const NO_FLOW: [&str; 2] = [
    "“Free-air flow” is blank: this pressure counts for nothing.",
    "“At” is blank: this flow counts for nothing. Enter 0 where no pressure is printed.",
];

/// Two fields that say something together only, and right below them which is
/// blank while the other is not.
fn halved(
    state: State,
    fields: Element,
    pair: [Key; 2],
    index: u8,
    blank: [&'static str; 2],
) -> Element {
    let says = move || {
        state.rig(|rig| {
            let air = &rig.air;
            let second = air.at(pair[0], index).is_some();
            air.is_half(pair, index).then(|| blank[usize::from(second)])
        })
    };
    element("div").child(fields).child(
        element("div")
            .attr("role", "status")
            .live(move || says().map(|text| paragraph("asked", text))),
    )
}

fn compressor(state: State) -> Element {
    let flows = (0..Air::MOST_FLOWS).map(|index| {
        let hints = if index == 0 {
            ["Printed. Cubic feet: type cfm.", "0 where none is printed."]
        } else {
            ["", ""]
        };
        let fields = pair(
            number_at(
                state,
                format!("pump-flow-{index}"),
                "Free-air flow",
                hints[0],
                Field::FreeAirFlow,
                Key::FlowLitresPerMin,
                index,
            ),
            number_at(
                state,
                format!("pump-at-{index}"),
                "At",
                hints[1],
                Field::TyreReading,
                Key::FlowKpa,
                index,
            ),
        );
        halved(state, fields, Key::FLOW, index, NO_FLOW)
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
                    Key::DutyRunMin,
                ),
                number(
                    state,
                    "pump-rest",
                    "Then rests",
                    "",
                    Field::DutyRest,
                    Key::DutyRestMin,
                ),
            ),
            Key::DUTY,
            0,
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
                Key::PumpMaximumKpa,
            ),
            number(
                state,
                "pump-change",
                "Valve to valve",
                "Minutes: type min.",
                Field::ChangeOver,
                Key::ChangeOverS,
            ),
        ))
}

fn deflator(state: State) -> Element {
    fold("Deflator")
        .child(halved(state, pair(
            number(
                state,
                "out-flow",
                "Free-air flow",
                "By its maker.",
                Field::FreeAirFlow,
                Key::OutLitresPerMin,
            ),
            number(state, "out-at", "At", "", Field::LetDownTo, Key::OutKpa),
        ), Key::FLOW_OUT, 0, [
            NO_FLOW[0],
            "“At” is blank: this flow counts for nothing without the pressure that it is given at.",
        ]))
        .child(paragraph("hint", "Or time one tyre, which is better."))
}

/// The stopwatch and what it gives.
fn timing(state: State, clock: RwSignal<u32>, prefix: &'static str, which: u8) -> Element {
    let id = move |name: &str| format!("{prefix}-timed-{name}");
    let figure = move |key| state.rig(|rig| rig.air.at(key, which));
    let running = memo(move |_| figure(Key::TimedStartedDay).is_some());
    // A stopped watch writes its time into the field.
    let seconds = move || {
        running.track();
        number_at(
            state,
            id("seconds"),
            "Time it took",
            "Air moving, without pauses. Minutes: type min.",
            Field::TimedRun,
            Key::TimedS,
            which,
        )
    };
    let watch = move || {
        let label = if running.get() {
            "Stop"
        } else {
            "Start the stopwatch"
        };
        button(label, move || {
            let now = clock::now_day();
            let field = id("seconds");
            state.forget_drafts(|text| text.field == field);
            state.change(|rig| {
                let air = &mut rig.air;
                let started = air.at(Key::TimedStartedDay, which);
                if let Some(started) = started {
                    let took = Field::TimedRun.check(seconds_since(started, now));
                    // Shown to the tenth, and kept as shown.
                    let took = took.ok().map(|s| (s * 10.0).round() / 10.0);
                    air.set_at(Key::TimedS, which, took);
                }
                let start = if started.is_some() { None } else { Some(now) };
                air.set_at(Key::TimedStartedDay, which, start);
            });
        })
        .class("primary")
    };
    let face = move || {
        let started = figure(Key::TimedStartedDay)?;
        let shown = words::stopwatch(seconds_since(started, clock::following(clock)));
        Some(paragraph("stopwatch", shown).attr("role", "timer"))
    };
    let says = move || {
        if state.is_unusable(prefix) {
            return "An entry can't be used.";
        }
        let known = [Key::TimedFromKpa, Key::TimedToKpa, Key::TimedS].map(figure);
        if running.get() {
            "Stop it when the gauge shows the end."
        } else if known.iter().all(Option::is_some) {
            "Timed: it counts in the minutes above."
        } else if known.iter().all(Option::is_none) {
            ""
        } else {
            "Not yet whole: from, to and the time are needed."
        }
    };
    let drop = button("Drop this timing", move || {
        let timed = id("");
        state.forget_drafts(|text| text.field.starts_with(&timed));
        state.reshape(|garage, shelf| {
            garage.change(shelf, |rig: &mut Rig| rig.air.forget_timing(which))
        });
    });
    let end = |name, label, hint, key| {
        number_at(state, id(name), label, hint, Field::TyreReading, key, which)
    };
    element("div")
        .class("form")
        .child(axle_choice(
            state,
            "A tyre of",
            id("axle"),
            Key::TimedAxle,
            which,
        ))
        .child(pair(
            end("from", "From", "As read at the start.", Key::TimedFromKpa),
            end("to", "To", "As read at the end.", Key::TimedToKpa),
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
    let name = state.rig_now(|rig| rig.axles.get(index).map_or("", shared::axle));
    let by_size = live(move || {
        state.rig(|rig| match rig.air_space_by_size(index) {
            Ok(space) => format!("By size: {}.", words::air_space(space)),
            Err(why) => format!("By size: none, {}.", words::no_time(why, rig.unit)),
        })
    });
    element("div")
        .child(number_at(
            state,
            format!("space-{index}"),
            name,
            "Blank: by the tyre's size.",
            Field::AirSpace,
            Key::SpaceL,
            index as u8,
        ))
        .child(paragraph("hint", by_size))
}
