//! A figure off any sticker in other units. Touches no rig: its texts are the
//! view's own, and nothing of it is kept.

pub mod words;

#[cfg(target_arch = "wasm32")]
pub use view::view;

#[cfg(target_arch = "wasm32")]
mod view {
    use super::words::{Outcome, Part, Row, StatedIn, Typed, convert};
    use crate::calc::stated::StatedPressureUnit;
    use crate::calc::torque::TorqueUnit;
    use crate::rig::nuts::Stated;
    use crate::ui::frame::state::State;
    use crate::ui::kit::element::{Content, Element, Node, element, live, typed};
    use crate::ui::kit::fields::{choice, field_class, focus_soon, link, listed, paragraph};
    use crate::ui::kit::follow::memo;
    use leptos::prelude::*;

    const FIGURE: &str = "convert-figure";

    const TOLERANCES: [(&str, Stated); 5] = [
        ("None", Stated::Nothing),
        ("± %", Stated::Percent),
        ("±", Stated::PlusMinus),
        ("− / +", Stated::MinusPlus),
        ("Range", Stated::Range),
    ];

    fn units(torque: bool) -> [StatedIn; 4] {
        if torque {
            TorqueUnit::ALL.map(StatedIn::Torque)
        } else {
            StatedPressureUnit::ALL.map(StatedIn::Pressure)
        }
    }

    /// What the parts of the view follow.
    #[derive(Clone, Copy)]
    struct Work {
        torque: RwSignal<bool>,
        typed: RwSignal<Typed>,
        outcome: Memo<Outcome>,
    }

    /// The view.
    pub fn view(_: State) -> Content {
        let typed = RwSignal::new(Typed {
            unit: None,
            stated: Stated::Nothing,
            figure: String::new(),
            first: String::new(),
            second: String::new(),
        });
        let work = Work {
            torque: RwSignal::new(true),
            typed,
            outcome: memo(move |_| typed.with(convert)),
        };
        let range = memo(move |_| typed.with(|typed| typed.stated == Stated::Range));
        let parts: Vec<Content> = vec![
            link("‹ Wheel nuts", "#/nuts").class("button way-to").node(),
            element("h2").child("Convert a figure").node(),
            choice(
                "What is it?",
                "convert-what".to_owned(),
                "plain",
                vec!["Torque", "Pressure"],
                move || usize::from(!work.torque.get()),
                move |picked| {
                    work.torque.set(picked == 0);
                    work.typed.update(|typed| typed.unit = None);
                },
            )
            .node(),
            live(move || work.unit_keys(work.torque.get())),
            live(move || {
                work.field(
                    Part::Figure,
                    if range.get() { "From" } else { "The figure" },
                )
            }),
            element("section")
                .class("answers converted")
                .attr("aria-live", "polite")
                .live(move || work.outcome.with(answered))
                .node(),
            work.tolerance().node(),
            cautions(work).node(),
        ];
        element("div").class("convert").child(parts).node()
    }

    impl Work {
        fn unit_keys(self, torque: bool) -> Element {
            let units = units(torque);
            choice(
                "Which unit is it in?",
                "convert-unit".to_owned(),
                "",
                units.iter().map(|unit| unit.mark()).collect(),
                move || {
                    let picked = self.typed.with(|typed| typed.unit);
                    let place = units.iter().position(|unit| Some(*unit) == picked);
                    place.unwrap_or(units.len())
                },
                move |picked| {
                    self.typed.update(|typed| typed.unit = Some(units[picked]));
                    focus_soon(FIGURE.to_owned());
                },
            )
        }

        /// What is wrong with a field.
        fn wrong(self, part: Part) -> Option<String> {
            self.outcome.with(|outcome| match outcome {
                Outcome::Wrong(of, why) if *of == part => Some(why.clone()),
                _ => None,
            })
        }

        fn text(self, part: Part) -> String {
            self.typed.with(|typed| {
                match part {
                    Part::Figure => &typed.figure,
                    Part::First => &typed.first,
                    Part::Second => &typed.second,
                }
                .clone()
            })
        }

        fn field(self, part: Part, label: &'static str) -> Element {
            let id = match part {
                Part::Figure => FIGURE,
                Part::First => "convert-first",
                Part::Second => "convert-second",
            };
            let error_id = format!("{id}-error");
            // In percent whatever the figure is in.
            let mark = move || {
                self.typed.with(|typed| match (part, typed.stated) {
                    (Part::First, Stated::Percent) => "(%)".to_owned(),
                    _ => match typed.unit {
                        Some(unit) => format!("({})", unit.mark()),
                        None => "(which unit?)".to_owned(),
                    },
                })
            };
            let input = element("input")
                .attr("id", id)
                .attr("type", "text")
                .attr("inputmode", "decimal")
                .attr("autocomplete", "off")
                .attr("maxlength", "20")
                .attr("aria-describedby", error_id.clone())
                .attr_live("aria-invalid", move || {
                    Some(self.wrong(part).is_some().to_string())
                })
                .value_live(move || self.text(part))
                .on("input", move |event| {
                    let text = typed(&event);
                    self.typed.update(|typed| match part {
                        Part::Figure => typed.figure = text,
                        Part::First => typed.first = text,
                        Part::Second => typed.second = text,
                    });
                });
            element("div")
                .attr_live("class", move || {
                    Some(field_class(self.wrong(part).is_some()))
                })
                .child(
                    element("label")
                        .attr("for", id)
                        .child(label)
                        .child(" ")
                        .child(element("span").class("unit").live(mark)),
                )
                .child(input)
                .child(
                    element("p")
                        .class("error")
                        .attr("id", error_id)
                        .live(move || self.wrong(part)),
                )
        }

        fn tolerance(self) -> Element {
            let stated = memo(move |_| {
                let now = self.typed.with(|typed| typed.stated);
                let place = TOLERANCES.iter().position(|(_, of)| *of == now);
                place.unwrap_or(0)
            });
            element("div")
                .class("card")
                .child(choice(
                    "Tolerance stated",
                    "convert-tolerance".to_owned(),
                    "",
                    TOLERANCES.iter().map(|(label, _)| *label).collect(),
                    move || stated.get(),
                    move |picked| {
                        self.typed
                            .update(|typed| typed.stated = TOLERANCES[picked].1)
                    },
                ))
                .live(move || {
                    let pair =
                        |first, second| element("div").class("pair").child(first).child(second);
                    let first = |label| self.field(Part::First, label);
                    match TOLERANCES[stated.get()].1 {
                        Stated::Nothing => None,
                        Stated::Percent | Stated::PlusMinus => Some(first("To either side")),
                        Stated::MinusPlus => {
                            Some(pair(first("Below"), self.field(Part::Second, "Above")))
                        }
                        Stated::Range => Some(first("To")),
                    }
                })
        }
    }

    fn answered(outcome: &Outcome) -> Vec<Element> {
        match outcome {
            Outcome::Waits(what) => vec![paragraph("first", *what)],
            Outcome::Wrong(..) => vec![paragraph("first", "No figure: see the field.")],
            Outcome::Rows(rows) => rows.iter().map(row).collect(),
        }
    }

    fn row(row: &Row) -> Element {
        let figure = paragraph(
            "figure",
            element("span").class("number").child(row.number.clone()),
        )
        .child(" ")
        .child(element("span").class("unit").child(row.unit));
        let allowed = row.allowed.as_ref();
        let allowed = allowed.map(|range| paragraph("basis", format!("allowed {range}")));
        element("div").class("in-unit").child(figure).child(allowed)
    }

    const OF_TORQUE: [&str; 2] = [
        "The sticker and the makers of vehicle, axle and wheel come first: this only turns their \
         figure into another unit.",
        "Threads clean and dry, wheel on the ground for the last pull, and the nuts checked again \
         after 50 to 100 km. In doubt, a licensed tyre fitter.",
    ];
    const OF_PRESSURE: [&str; 2] = [
        "The tyre placard comes first: this only turns its figure into another unit.",
        "A placard's pressure is a cold one, for the load it states: read the gauge before \
         driving, or three hours after.",
    ];

    fn cautions(work: Work) -> Element {
        element("section")
            .class("notice")
            .attr("aria-label", "Cautions")
            .live(move || {
                let said = if work.torque.get() {
                    OF_TORQUE
                } else {
                    OF_PRESSURE
                };
                listed(said.into_iter().map(str::to_owned))
            })
            .child(
                element("details")
                    .child(element("summary").child("How it is worked out"))
                    .child(paragraph(
                        "",
                        "By exact factors (NIST SP 811): the figure to the nearest of the last \
                         place, a range rounded inward, so that it never promises more than the \
                         sticker. Nothing typed here is kept, and no rig is changed.",
                    )),
            )
    }
}
