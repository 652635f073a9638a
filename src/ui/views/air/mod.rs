//! The air view: a trip's pressures and minutes, the walk from tyre to tyre,
//! the warm check and slow leaks.

pub mod drawing;
pub mod words;

#[cfg(target_arch = "wasm32")]
mod awake;
#[cfg(target_arch = "wasm32")]
mod clock;
#[cfg(target_arch = "wasm32")]
mod leak;
#[cfg(target_arch = "wasm32")]
pub mod now;
#[cfg(target_arch = "wasm32")]
mod tools;
#[cfg(target_arch = "wasm32")]
mod trip;
#[cfg(target_arch = "wasm32")]
mod walk;

#[cfg(target_arch = "wasm32")]
pub use browser::view;

#[cfg(target_arch = "wasm32")]
mod browser {
    use super::{clock, leak, now, tools, trip, walk};
    use crate::calc::limits::Field;
    use crate::calc::quantity::GaugePressure;
    use crate::rig::NO_AXLE;
    use crate::rig::PressureUnit;
    use crate::rig::air::Key;
    use crate::ui::frame::state::State;
    use crate::ui::kit::element::{Element, Node, element, live};
    use crate::ui::kit::fields::demo_notice;
    use crate::ui::kit::fields::{NumberField, Slot, choice};
    use crate::ui::{kit::format, kit::words};
    use leptos::prelude::*;

    /// The view.
    pub fn view(state: State) -> AnyView {
        let clock = clock::every(1);
        forget_old(state, clock);
        let warm = Memo::new(move |_| now::read(state, clock));
        let walking = Memo::new(move |_| state.rig(|rig| rig.air.walk().is_some()));
        let held = super::awake::keep(move || walking.get());
        vec![
            demo_notice(state, "Invented demo rig.", " Not for your tyres."),
            live(move || {
                state.shape.track();
                if walking.get() {
                    walk::view(state, clock, warm, held)
                } else {
                    vec![
                        trip::view(state, warm),
                        tools::view(state, clock),
                        here(state),
                        now::check(state, clock),
                        leak::view(state),
                    ]
                    .node()
                }
            }),
        ]
        .node()
    }

    /// Keeps the weather of another day out of today's figures.
    pub fn forget_old(state: State, clock: RwSignal<u32>) {
        let forget = move |now_day| {
            let old = state.rig_now(|rig| rig.air.clone().forget_old(now_day));
            if old {
                state.reshape(|garage, shelf| {
                    garage.change(shelf, |rig| {
                        rig.air.forget_old(now_day);
                    })
                });
            }
        };
        // At once, before anything is shown, and then as time goes by.
        forget(clock::now_day());
        Effect::new(move |_| forget(clock::following(clock)));
    }

    /// A number that the air view keeps, or none.
    pub fn number(
        state: State,
        id: &'static str,
        label: &'static str,
        hint: &'static str,
        field: Field,
        key: Key,
    ) -> Element {
        number_at(state, id.to_owned(), label, hint, field, key, 0)
    }

    /// The same, where there are several of its name.
    pub fn number_at(
        state: State,
        id: String,
        label: &'static str,
        hint: &'static str,
        field: Field,
        key: Key,
        index: u8,
    ) -> Element {
        NumberField {
            id,
            label,
            hint,
            field,
            axle: Some(NO_AXLE),
            optional: true,
            slot: Slot {
                get: Box::new(move |rig| rig.air.at(key, index)),
                set: Box::new(move |rig, value| {
                    rig.air.set_at(key, index, value);
                    let stamp = match key {
                        Key::WarmKpa | Key::TyreCelsius => Key::WarmDay,
                        Key::NowCelsius | Key::NowHeightM => Key::NowDay,
                        _ => return,
                    };
                    rig.air.set(stamp, Some(clock::now_day()));
                }),
            },
        }
        .view(state)
    }

    /// One of the rig's axles.
    pub fn axle_choice(
        state: State,
        legend: &'static str,
        name: String,
        key: Key,
        index: u8,
    ) -> Element {
        let names = state.rig_now(|rig| rig.axles.iter().map(words::axle).collect());
        choice(
            legend,
            name,
            "",
            names,
            move || state.rig(|rig| rig.air.count(key, index)).into(),
            move |picked| {
                state.change(|rig| {
                    rig.air.set_at(key, index, Some(picked as f64));
                    if key == Key::LeakAxle {
                        // It may have fewer tyres.
                        rig.air.set(Key::LeakTyre, None);
                    }
                });
            },
        )
    }

    /// A heading with its id.
    pub fn heading(id: &'static str, text: impl Node) -> Element {
        element("h2").attr("id", id).child(text)
    }

    /// A part of the view with a heading.
    pub fn part(id: &'static str, title: &'static str) -> Element {
        element("section")
            .class("card")
            .attr("aria-labelledby", id)
            .child(heading(id, title))
    }

    /// A part of the view with a heading, closed until tapped.
    pub fn closed(title: &'static str) -> Element {
        element("details")
            .class("card")
            .child(element("summary").child(element("h2").child(title)))
    }

    /// A smaller part that opens at a tap.
    pub fn fold(title: &'static str) -> Element {
        element("details")
            .class("fold")
            .child(element("summary").child(title))
    }

    /// A row with an axle's name, a pressure and what stands below its name.
    pub fn row(
        heading: &'static str,
        name: &'static str,
        tyres: u8,
        figure: Option<(PressureUnit, GaugePressure, &'static str)>,
        basis: String,
    ) -> Element {
        let title = element(heading).child(name).child(" ").child(
            element("span")
                .class("tyres")
                .child((tyres > 0).then(|| words::tyres(tyres))),
        );
        let number = element("span").class("figure");
        let number = match figure {
            None => number.child("No figure"),
            Some((unit, pressure, mark)) => number
                .child(
                    element("span")
                        .class("number")
                        .child(format::pressure_number(unit, pressure)),
                )
                .child(" ")
                .child(
                    element("span")
                        .class("unit")
                        .child(format!("{}{mark}", format::unit_mark(unit))),
                ),
        };
        element("div")
            .class("row")
            .child(title)
            .child(number)
            .child(element("span").class("basis").child(basis))
    }

    /// Two fields side by side.
    pub fn pair(left: Element, right: Element) -> Element {
        element("div").class("pair").child(left).child(right)
    }

    /// Height and temperature now, on which all other parts hang.
    fn here(state: State) -> AnyView {
        part("here-heading", "Here and now")
            .child(surroundings_now(state))
            .node()
    }

    /// The fields of height and temperature now.
    pub fn surroundings_now(state: State) -> Element {
        pair(
            number(
                state,
                "now-height",
                "Height now",
                "Blank: sea level. Feet: type ft behind it.",
                Field::Height,
                Key::NowHeightM,
            ),
            number(
                state,
                "now-air",
                "Air around now",
                "In the shade. Fahrenheit: type F behind it.",
                Field::AmbientTemperature,
                Key::NowCelsius,
            ),
        )
    }
}
#[cfg(target_arch = "wasm32")]
use browser::{
    axle_choice, closed, fold, forget_old, heading, number, number_at, pair, part, row,
    surroundings_now,
};
