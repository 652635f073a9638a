//! One axle's entry: sidewall, load and placard; the rest folded away.

use super::explain::{self, By, Need};
use super::sidewall::{self, Sidewall};
use super::{Entries, UNDO, words as said};
use crate::calc::limits::Field;
use crate::calc::load::AxleGroup;
use crate::rig::weights::Weights;
use crate::rig::{Axle, Coupling, LoadFrom, Owner, Place, Problem, Rig, axle_field};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::{
    Holds, NumberField, Slot, button, buttons, choice, designation, focus_soon, paragraph, tick,
};
use crate::ui::kit::fold::fold;
use crate::ui::kit::follow::memo;
use crate::ui::kit::{format, tyre_names, words};
use leptos::prelude::*;

/// One axle of the current rig, being edited.
#[derive(Clone, Copy)]
struct Edited {
    state: State,
    index: usize,
}

impl Edited {
    fn read<T>(self, read: impl FnOnce(&Axle) -> T) -> Option<T> {
        self.state.rig(|rig| rig.axles.get(self.index).map(read))
    }

    fn change(self, change: impl FnOnce(&mut Axle)) {
        self.state.change(|rig| {
            if let Some(axle) = rig.axles.get_mut(self.index) {
                change(axle);
            }
        });
    }

    fn id(self, name: &str) -> String {
        axle_field(self.index, name)
    }

    fn owner(self) -> Owner {
        let id = self
            .state
            .rig_now(|rig| rig.axles.get(self.index).map(|axle| axle.id));
        id.map_or(Owner::Nothing, Owner::Axle)
    }

    /// One of several, each a value of the axle's.
    fn choice<T: Copy + PartialEq + Send + Sync + 'static, const N: usize>(
        self,
        legend: &'static str,
        name: &str,
        options: [(&'static str, T); N],
        get: fn(&Axle) -> T,
        set: fn(&mut Axle, T),
    ) -> Element {
        choice(
            legend,
            self.id(name),
            "",
            options.iter().map(|(label, _)| *label).collect(),
            move || {
                let now = self.read(get);
                options
                    .iter()
                    .position(|(_, value)| Some(*value) == now)
                    .unwrap_or(0)
            },
            move |picked| self.change(|axle| set(axle, options[picked].1)),
        )
    }

    fn number(
        self,
        name: &str,
        label: &'static str,
        hint: &'static str,
        field: Field,
        slot: fn(&mut Axle) -> &mut dyn Holds,
    ) -> Element {
        let index = self.index;
        NumberField {
            id: self.id(name),
            of: self.owner(),
            name: name.to_owned(),
            label: label.into(),
            hint,
            field,
            optional: true,
            slot: Slot {
                get: Box::new(move |rig: &Rig| slot(&mut rig.axles.get(index)?.clone()).amount()),
                set: Box::new(move |rig: &mut Rig, value| {
                    if let Some(axle) = rig.axles.get_mut(index) {
                        slot(axle).put(value);
                    }
                }),
            },
        }
        .view(self.state)
    }

    fn on_trailer(self) -> bool {
        self.state.rig_now(|rig| {
            let axle = rig.axles.get(self.index);
            axle.is_some_and(|axle| axle.place == Place::Trailer)
        })
    }

    /// The mass and the placard, side by side.
    fn masses(self, from: LoadFrom) -> Vec<Element> {
        let placard = self.number(
            "placard",
            "Placard pressure",
            "Cold, for this load.",
            Field::PlacardPressure,
            |a| &mut a.placard,
        );
        let pair = element("div").class("pair");
        match from {
            LoadFrom::Sides => vec![
                pair.child(self.number("left", "Left side", "", Field::SideMass, |a| &mut a.left))
                    .child(
                        self.number("right", "Right side", "", Field::SideMass, |a| &mut a.right),
                    ),
                placard,
            ],
            LoadFrom::Weighed => vec![
                pair.child(self.number(
                    "weighed",
                    "Mass on the axle",
                    if self.on_trailer() {
                        "All its axles together."
                    } else {
                        "Loaded, hitched."
                    },
                    Field::AxleMass,
                    |a| &mut a.weighed,
                ))
                .child(placard),
            ],
            LoadFrom::Rating => vec![
                pair.child(self.number(
                    "rating",
                    "Axle limit or GTM",
                    "GTM: all axles together.",
                    Field::AxleMass,
                    |a| &mut a.rating,
                ))
                .child(placard),
            ],
        }
    }

    fn set_load_from(self, from: LoadFrom) {
        // A field that goes takes its unusable text along.
        const GONE: [&str; 5] = ["left", "right", "weighed", "rating", "alone"];
        let gone = &GONE[..if from == LoadFrom::Rating { 5 } else { 4 }];
        let of = self.owner();
        self.state
            .forget_drafts(|text| text.of == of && gone.contains(&text.field.as_str()));
        self.change(|axle| axle.load_from = from);
    }

    /// Whether one of these fields holds a text that could not be used.
    fn has_draft(self, names: &[&str]) -> bool {
        let of = self.owner();
        self.state.rig_now(|rig| {
            let mut texts = rig.unusable.iter();
            texts.any(|text| names.iter().any(|name| text.is_in(of, name)))
        })
    }

    /// What the mass comes to on one tyre: the check on which axles it was of.
    fn on_one_tyre(self) -> Option<String> {
        let (load, unit) = self.state.rig(|rig| {
            let axle = rig.axles.get(self.index)?;
            Some((rig.hitched().wheel_load(axle).ok()?, rig.mass_unit))
        })?;
        Some(format!(
            "That is {} on the most loaded tyre.",
            format::mass(unit, load)
        ))
    }

    /// Whether plain numbers of the sidewall were entered.
    fn has_rating(self) -> bool {
        self.has_draft(&["moulded-load", "moulded-dual", "moulded-pressure"])
            || self.state.rig(|rig| {
                let axle = rig.axles.get(self.index);
                axle.is_some_and(|axle| {
                    axle.moulded_load.is_some()
                        || axle.moulded_dual_load.is_some()
                        || axle.moulded_pressure.is_some()
                })
            })
    }

    /// What is found about the fields `by`: as soon as it can be said, right
    /// below them.
    fn findings(self, entries: Entries, by: &'static [By]) -> Element {
        element("div")
            .class("findings")
            .attr("role", "status")
            .live(move || self.found(entries, by))
    }

    fn found(self, entries: Entries, by: &[By]) -> Vec<Element> {
        let units = self.state.rig(Rig::units);
        entries.with(|outcomes| {
            let outcome = outcomes.get(self.index);
            match outcome.and_then(|outcome| outcome.result.as_ref()) {
                // An empty field says by itself that it is to be filled, and
                // the designation's says what it did not understand.
                None | Some(Err(Problem::Tyre(_) | Problem::Missing(_))) => Vec::new(),
                Some(Err(problem)) if by.contains(&explain::of_problem(problem)) => {
                    let class = if words::is_danger(problem) {
                        "warning"
                    } else {
                        "asked"
                    };
                    let said = paragraph(class, words::problem(problem, units));
                    let mut found = vec![said];
                    if explain::of_problem(problem) == By::Wheel {
                        // It is folded away below.
                        let field = self.id(explain::field_of(Need::Mend(By::Wheel)));
                        let key = button("Enter it", move || focus_soon(field.clone()));
                        found.push(buttons().child(key));
                    }
                    found
                }
                Some(Err(_)) => Vec::new(),
                Some(Ok((_, answer))) => {
                    let cautions = answer.cautions.iter();
                    let cautions = cautions
                        .filter(|of| explain::of_caution(**of).is_some_and(|of| by.contains(&of)));
                    let refused = answer.sealed.own_refused;
                    refused
                        .filter(|_| by.contains(&By::More))
                        .map(|of| paragraph("warning", words::own_refused(of, units.pressure)))
                        .into_iter()
                        .chain(cautions.map(|of| paragraph("asked", said::caution(*of, units))))
                        .collect()
                }
            }
        })
    }

    /// The tyres of the axles before, to be taken over by one tap.
    fn same_tyre(self) -> Option<Element> {
        if self.index == 0 || !self.read(|axle| axle.tyre.trim().is_empty())? {
            return None;
        }
        let before = self.state.rig(|rig| {
            let before = explain::tyres_before(rig, self.index).into_iter();
            before
                .map(|like| (like, said::same_tyre(&tyre_names::group(rig, like))))
                .collect::<Vec<_>>()
        });
        if before.is_empty() {
            return None;
        }
        let keys = before.into_iter().map(|(like, label)| {
            element("button")
                .attr("type", "button")
                .child(label)
                .on("click", move |_| self.take_tyre(like))
        });
        Some(keys.fold(buttons(), Element::child))
    }

    fn take_tyre(self, like: usize) {
        let texts = [
            "moulded-load",
            "moulded-dual",
            "moulded-pressure",
            "moulded-minimum",
        ];
        let of = self.owner();
        self.state.reshape(|garage, shelf| {
            garage.change(shelf, |rig: &mut Rig| {
                rig.unusable
                    .retain(|text| text.of != of || !texts.contains(&text.field.as_str()));
                explain::same_tyre(rig, self.index, like);
            })
        });
        let from = self.read(|axle| axle.load_from);
        focus_soon(self.id(match from {
            Some(LoadFrom::Sides) => "left",
            Some(LoadFrom::Rating) => "rating",
            _ => "weighed",
        }));
    }

    /// What is read of the sidewall so far.
    fn sidewall(self, entries: Entries) -> Sidewall {
        let (tyre, rating) = self.state.rig(|rig| {
            let axle = rig.axles.get(self.index);
            let units = rig.units();
            axle.map(|axle| (axle.tyre.clone(), said::rating(axle, units)))
                .unwrap_or_default()
        });
        entries.with(|outcomes| {
            let result = outcomes
                .get(self.index)
                .and_then(|outcome| outcome.result.as_ref());
            Sidewall::read(
                &tyre,
                rating,
                result.and_then(|result| result.as_ref().err()),
            )
        })
    }

    /// What is moulded as plain numbers.
    fn rating(self, dual: bool) -> Element {
        let load = if dual {
            self.number(
                "moulded-dual",
                "Maximum load moulded, in pairs",
                "Dual.",
                Field::ReferenceLoad,
                |a| &mut a.moulded_dual_load,
            )
        } else {
            self.number(
                "moulded-load",
                "Maximum load moulded",
                "Single. Or the load index above.",
                Field::ReferenceLoad,
                |a| &mut a.moulded_load,
            )
        };
        let pressure = self.number(
            "moulded-pressure",
            "Pressure moulded at maximum load",
            "Cold.",
            Field::ReferencePressure,
            |a| &mut a.moulded_pressure,
        );
        element("div").class("pair").child(load).child(pressure)
    }

    fn remove(self) {
        self.state.remove_axle(self.index);
        focus_soon(UNDO.to_owned());
    }
}

pub(super) fn axle(state: State, index: usize, entries: Entries) -> Element {
    let edited = Edited { state, index };
    const SOURCES: [(&str, LoadFrom); 3] = [
        ("Axle weighed", LoadFrom::Weighed),
        ("Each side", LoadFrom::Sides),
        ("Plate rating", LoadFrom::Rating),
    ];
    let from = memo(move |_| {
        let now = edited.read(|axle| axle.load_from);
        SOURCES
            .iter()
            .position(|(_, from)| Some(*from) == now)
            .unwrap_or(0)
    });
    let source = choice(
        "How the load is known",
        edited.id("load"),
        "bare",
        SOURCES.iter().map(|(label, _)| *label).collect(),
        move || from.get(),
        move |picked| edited.set_load_from(SOURCES[picked].1),
    );
    let heading = element("h2")
        .attr("id", edited.id("heading"))
        .attr("tabindex", "-1")
        .live(move || state.rig(|rig| tyre_names::group(rig, index)))
        .child(" ")
        .child(
            element("span")
                .class("tyres")
                .live(move || edited.read(|axle| words::tyres(axle.group().tyres().into()))),
        );
    let dual = memo(move |_| edited.read(|axle| axle.dual).unwrap_or(false));
    // It stays where it is typed in, here or folded away.
    let asked = memo(move |was: Option<&bool>| {
        let here = was.copied().unwrap_or(true) && edited.has_rating();
        here || edited.sidewall(entries).rating_helps()
    });
    let tyre = state.rig_now(|rig| rig.axles.get(index).map(|axle| axle.tyre.clone()));
    let tyre = tyre.unwrap_or_default();
    // Once looked for, the marks stay drawn: they light up to the last.
    let blank = tyre.trim().is_empty();
    let looking = memo(move |was: Option<&bool>| {
        was.copied().unwrap_or(blank) || edited.sidewall(entries).next().is_some()
    });
    element("section")
        .class("axle-entry")
        .attr("aria-labelledby", edited.id("heading"))
        .child(heading)
        .child(designation(
            state,
            edited.id("tyre"),
            tyre,
            Box::new(move |now| edited.change(|axle| axle.tyre = now)),
        ))
        .live(move || edited.same_tyre())
        .child(edited.findings(entries, &[By::Tyre]))
        .live(move || looking.get().then(|| marks(edited, entries)))
        .live(move || asked.get().then(|| edited.rating(dual.get())))
        .child(source)
        .live(move || edited.masses(SOURCES[from.get()].1))
        .child(
            element("p")
                .class("said")
                .live(move || edited.on_one_tyre()),
        )
        .child(
            element("p")
                .class("said")
                .live(move || follows(state).then_some(said::FOLLOWS)),
        )
        .child(edited.findings(entries, &[By::Load, By::Placard, By::Wheel, By::More]))
        .child(more(edited, asked, dual))
}

/// Whether the axles take their loads from the weights.
fn follows(state: State) -> bool {
    state.section::<Weights>().read(|weights| weights.in_use)
}

/// The sidewall drawn, open while its marks are still looked for.
fn marks(edited: Edited, entries: Entries) -> Element {
    let drawn = memo(move |_| edited.sidewall(entries));
    // Open where entry stands: at the first axle without a tyre.
    let open = edited.state.rig_now(|rig| {
        let mut axles = rig.axles.iter();
        axles.position(|axle| axle.tyre.trim().is_empty()) == Some(edited.index)
    });
    let details = element("details").child(element("summary").child("Where the marks stand"));
    let details = if open {
        details.attr("open", "")
    } else {
        details
    };
    details
        .child(
            element("div")
                .class("sidewall")
                .markup_live(move || drawn.with(sidewall::svg)),
        )
        .child(element("ul").class("marks unseen").live(move || {
            drawn.with(|drawn| {
                let marks = said::sidewall(drawn).into_iter();
                marks
                    .map(|text| element("li").child(text))
                    .collect::<Vec<_>>()
            })
        }))
        .child(
            element("p")
                .class("said")
                .live(move || drawn.with(|drawn| drawn.next().map(said::next_mark))),
        )
}

/// What few axles need.
fn more(edited: Edited, asked: Memo<bool>, dual: Memo<bool>) -> Element {
    let state = edited.state;
    // Read hitched, a mass does not tell what is on the axle by itself.
    let alone = memo(move |_| {
        let read =
            edited.read(|axle| axle.place != Place::Trailer && axle.load_from != LoadFrom::Rating);
        read == Some(true) && state.rig(Rig::has_trailer)
    });
    let asks_alone = state.rig_now(|rig| rig.coupling == Coupling::Unhitched)
        && alone.get_untracked()
        && edited.read(|axle| axle.alone.is_none()) == Some(true);
    let on_trailer = memo(move |_| edited.read(|axle| axle.place) == Some(Place::Trailer));
    let wrong = edited.has_draft(&[
        "own",
        "moulded-load",
        "moulded-dual",
        "moulded-pressure",
        "moulded-minimum",
        "wheel-maximum",
        "alone",
    ]);
    let remove = (state.rig_now(|rig| rig.axles.len()) > 1)
        .then(|| buttons().child(button("Remove this axle", move || edited.remove())));
    fold(edited.id("more"), "More of this axle", wrong || asks_alone)
        .child(edited.number(
            "own",
            "Your sealed-road pressure",
            "Cold. Used where it carries the load.",
            Field::OwnSealedPressure,
            |a| &mut a.own_sealed,
        ))
        .live(move || (!asked.get()).then(|| edited.rating(dual.get())))
        .child(edited.number(
            "moulded-minimum",
            "Least pressure by the tyre's maker",
            "Stands in for the lowest row of the tables.",
            Field::SidewallMinimum,
            |a| &mut a.moulded_minimum,
        ))
        .child(edited.number(
            "wheel-maximum",
            "Wheel or valve maximum",
            "Stamped on the wheel, or said by its maker.",
            Field::WheelMaximum,
            |a| &mut a.wheel_maximum,
        ))
        .live(move || {
            alone.get().then(|| {
                edited.number(
                    "alone",
                    "Mass, van unhitched",
                    "For drives without the van.",
                    Field::AxleMass,
                    |a| &mut a.alone,
                )
            })
        })
        .child(edited.choice(
            "Place",
            "place",
            [
                ("Front", Place::Front),
                ("Rear", Place::Rear),
                ("Trailer", Place::Trailer),
            ],
            |axle| axle.place,
            |axle, place| {
                axle.place = place;
                if place != Place::Trailer {
                    axle.axles = 1;
                }
            },
        ))
        .live(move || {
            // Only a trailer's axles are ever weighed together.
            on_trailer.get().then(|| {
                edited.choice(
                    "Trailer axles",
                    "axles",
                    [("1", 1), ("2", 2), ("3", AxleGroup::MOST_AXLES)],
                    |axle| axle.axles,
                    |axle, axles| axle.axles = axles,
                )
            })
        })
        .child(tick(
            "Pairs: four tyres across",
            move || edited.read(|axle| axle.dual).unwrap_or(false),
            move |ticked| edited.change(|axle| axle.dual = ticked),
        ))
        .child(remove)
}
