//! The check round: every tyre in the order of a walk round the rig, then the
//! nuts, kept as one.

use super::finished::{Finished, take_back};
use super::words;
use crate::calc::check::{Verdict, Wanted, Warmth};
use crate::calc::limits::Field;
use crate::calc::quantity::{GaugePressure, kilopascal};
use crate::rig::checks::round::verdict;
use crate::rig::checks::{Checks, LastRound, Log, Reading, Round};
use crate::rig::nuts::Nuts;
use crate::rig::position::{Spot, Wheel};
use crate::rig::section::Entered;
use crate::rig::set_to::{Likely, SetTo};
use crate::rig::typed::{Amount, Measure, Typed, TypedPressure};
use crate::rig::{Owner, PressureUnit, Rig, Surface};
use crate::ui::frame::state::{Kept, State};
use crate::ui::kit::air_fields::{air_now, forget_old};
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{
    NumberField, Slot, button, buttons, demo_notice, done, focus_soon, link, listed, paragraph,
    select,
};
use crate::ui::kit::follow::memo;
use crate::ui::kit::odometer::{odometer, odometer_now};
use crate::ui::kit::parts::heading;
use crate::ui::kit::rig_drawing::{Marks, Standing, rig_drawing, standing_of};
use crate::ui::kit::warm::{self, Now};
use crate::ui::kit::{
    calendar, check_words, clock, format, route, torque_words, tyre_names, words as shared,
};
use leptos::prelude::*;
use leptos::wasm_bindgen::JsCast;
use leptos::web_sys::HtmlInputElement;
use std::rc::Rc;

const HEADING: &str = "round-heading";
const READING: &str = "round-reading";

/// How long a round that was left counts as the same one, in days.
const SAME_ROUND_DAYS: u32 = 1;

/// What was taken away last.
#[derive(Clone, PartialEq)]
enum Back {
    Saved(Box<Finished>),
    Thrown(Box<Round>),
    /// All tyres were said to be set for a road: what was known before.
    Set(Surface, Box<SetTo>, Box<Finished>),
}

#[derive(Clone, Copy)]
struct Desk {
    state: State,
    warm: Memo<Now>,
    /// The road picked for the next round.
    surface: RwSignal<Surface>,
    /// Counts steps, which make the field anew.
    steps: RwSignal<u32>,
    back: RwSignal<Option<Back>>,
    /// What could not be done, in words.
    said: RwSignal<String>,
}

/// What the page follows of a round.
#[derive(Clone, PartialEq)]
enum Stage {
    None,
    Tyre(Spot),
    Nuts,
}

/// The view.
pub fn view(state: State) -> Content {
    let clock = clock::every(30);
    forget_old(state, clock);
    let set_for = state.rig_now(|rig| rig.set_to.last.map(|last| last.surface));
    let desk = Desk {
        state,
        warm: memo(move |_| warm::read(state, clock)),
        surface: RwSignal::new(set_for.unwrap_or(Surface::Sealed)),
        steps: RwSignal::new(0),
        back: RwSignal::new(None),
        said: RwSignal::new(String::new()),
    };
    let stage = memo(move |_| {
        desk.checks().read(|checks| match &checks.round {
            None => Stage::None,
            Some(round) => round.hand.map_or(Stage::Nuts, Stage::Tyre),
        })
    });
    element("section")
        .class("walk")
        .attr("aria-labelledby", HEADING)
        .child(demo_notice(
            state,
            "Invented demo rig.",
            " Not for your tyres.",
        ))
        .child(live(move || {
            state.shape.track();
            let stage = stage.get();
            // Parts follow the rig by themselves: what is typed in is not made
            // anew with every change of it.
            untrack(|| match stage {
                Stage::None => desk.start(),
                Stage::Tyre(spot) => desk.tyre(spot),
                Stage::Nuts => desk.nuts(),
            })
        }))
        .child(
            element("p")
                .class("warning")
                .attr("role", "status")
                .live(move || desk.said.get()),
        )
        .child(paragraph("hint", words::FITTER))
        .node()
}

/// Where a tyre's text that can't be used stands.
fn name_of(spot: Spot) -> String {
    format!("round-{}", spot.name())
}

impl Desk {
    fn checks(self) -> Kept<Checks> {
        self.state.section()
    }

    /// Changes the round under way.
    fn change(self, change: impl FnOnce(&mut Round)) {
        self.said.set(String::new());
        self.checks().change(|checks| {
            if let Some(round) = &mut checks.round {
                change(round);
            }
        });
    }

    /// The round under way, as it is.
    fn round(self) -> Round {
        let round = self.checks().read(|checks| checks.round.clone());
        round.unwrap_or_default()
    }

    /// What the tyres of an axle should read cold on the round's road.
    fn wanted(self, axle: usize) -> Option<Wanted> {
        let surface = self.checks().read(|checks| {
            let round = checks.round.as_ref();
            round.map_or(Surface::Sealed, |round| round.surface)
        });
        let outcomes = self.state.outcomes_on(surface);
        outcomes.get(axle)?.answer().map(Wanted::from)
    }

    fn warmth(self, round: &Round) -> Warmth {
        match (round.warm, self.warm.get()) {
            (false, _) => Warmth::Cold,
            (true, Now::Warm { air, .. }) => Warmth::Warm(Some(air)),
            (true, _) => Warmth::Warm(None),
        }
    }

    fn unit(self) -> PressureUnit {
        self.state.rig(|rig| rig.unit)
    }

    fn start(self) -> Vec<Content> {
        let state = self.state;
        let names = Surface::ALL.map(shared::surface).into();
        let picked = Surface::ALL
            .iter()
            .position(|surface| *surface == self.surface.get_untracked());
        let pick = move |index: usize| {
            if let Some(surface) = Surface::ALL.get(index) {
                self.surface.set(*surface);
            }
        };
        let begin = move |warm| {
            let now = clock::now_day();
            let hand = state.rig_now(|rig| rig.round().first().map(|at| rig.spot_of(*at)));
            self.back.set(None);
            self.said.set(String::new());
            self.checks().change(|checks| {
                checks.round = Some(Round {
                    day: clock::today(),
                    minute: clock::minute_of_day(now),
                    surface: self.surface.get_untracked(),
                    warm,
                    hand,
                    ..Round::default()
                });
            });
            focus_soon(READING.to_owned());
        };
        let tyres = state.rig(|rig| rig.round().len());
        let last = state.rig(|rig| rig.set_to.last);
        let warm = last.filter(|last| last.likely(clock::now_day()) == Likely::Warm);
        let (cold_key, warm_key) = (
            button("Start, tyres cold", move || begin(false)),
            button("Start, tyres warm", move || begin(true)),
        );
        // Read as cold, a warm tyre would be let down.
        let (cold_key, warm_key) = match warm {
            None => (cold_key.class("button primary"), warm_key),
            Some(_) => (cold_key, warm_key.class("button primary")),
        };
        vec![
            live(move || self.taken_back()),
            heading(HEADING, "Check round")
                .attr("tabindex", "-1")
                .node(),
            paragraph(
                "cold",
                format!(
                    "All {tyres} tyres, then the nuts. Cold is best: before driving, or 3 hours \
                     after."
                ),
            )
            .node(),
            warm.map(|last| paragraph("doubt", shared::were_warm(&clock::time_of_day(last.day))))
                .node(),
            select(
                "round-surface".to_owned(),
                "Tyres are set for",
                names,
                picked.unwrap_or(0),
                Box::new(pick),
            )
            .node(),
            element("div")
                .class("walk-keys")
                .child(cold_key)
                .child(warm_key)
                .node(),
            buttons().child(link("Log", route::LOG)).node(),
        ]
    }

    /// Says what was just saved or thrown away, and brings it back.
    fn taken_back(self) -> Option<Element> {
        let state = self.state;
        let undo = |label| {
            button(label, move || {
                self.bring_back();
                focus_soon(HEADING.to_owned());
            })
        };
        match self.back.get()? {
            Back::Thrown(_) => Some(done(
                "The round was thrown away.".to_owned(),
                undo("Bring it back"),
            )),
            Back::Set(surface, ..) => {
                let surface = shared::surface(surface).to_ascii_lowercase();
                let said = format!("Kept as you say it: all tyres are set for {surface}.");
                Some(done(said, undo("Undo")))
            }
            Back::Saved(saved) => {
                let round = &saved.round;
                let said = state.rig(|rig| words::round(rig, round));
                let mut keys = buttons().child(undo("Take it back"));
                let all_read = state.rig(|rig| round.unread(rig).is_empty());
                let stated = !self.is_least_only(round.surface);
                let mut said = format!("Saved. {said}");
                if !round.bad().is_empty() {
                    said += " Put right what was found, and read it again.";
                    // Only of a whole round is every tyre known.
                    if all_read && stated && !round.warm {
                        keys = keys.child(button("They are all at their figures now", move || {
                            self.say_set(&saved);
                        }));
                    }
                }
                Some(done(said, keys))
            }
        }
    }

    /// Whether an axle has no more than the least that its load needs.
    fn is_least_only(self, surface: Surface) -> bool {
        let outcomes = self.state.outcomes_on(surface);
        let mut answers = outcomes.iter().filter_map(|outcome| outcome.answer());
        answers.any(|answer| Wanted::from(answer).least_only)
    }

    /// Takes every tyre as set to its figure: those found wrong were put right.
    fn say_set(self, saved: &Finished) {
        let surface = saved.round.surface;
        let outcomes = self.state.outcomes_on(surface);
        let cold: Vec<_> = outcomes
            .iter()
            .map(|outcome| Some(outcome.answer()?.recommended))
            .collect();
        let before = self.state.rig_now(|rig| rig.set_to.clone());
        self.state
            .change(|rig| rig.say_set(surface, &cold, false, clock::now_day()));
        let (before, saved) = (Box::new(before), Box::new(saved.clone()));
        self.back.set(Some(Back::Set(surface, before, saved)));
    }

    fn tyre(self, spot: Spot) -> Vec<Content> {
        let state = self.state;
        let Some(at) = state.rig(|rig| rig.tyre_of(spot)) else {
            // The axle went meanwhile.
            return vec![
                heading(HEADING, "Check round").node(),
                button("Go on", move || self.go_on())
                    .class("primary")
                    .node(),
            ];
        };
        let name = state.rig(|rig| tyre_names::tyre(rig, at));
        let wanted = memo(move |_| self.wanted(at.group));
        let marks = self.marks();
        let centre = |index| self.on_axle(index);
        vec![
            self.old(),
            heading(HEADING, name).attr("tabindex", "-1").node(),
            live(move || paragraph("cold", self.progress(wanted.get()))),
            rig_drawing(state, &centre, Some(marks)).node(),
            live(move || {
                self.steps.track();
                let wanted = wanted.get();
                untrack(|| self.entry(spot, wanted))
            }),
            element("div")
                .attr("role", "status")
                .live(move || self.judged(spot, wanted.get()))
                .node(),
            live(move || self.keys(spot)),
        ]
    }

    /// That a round was begun on another day, and the way to begin anew.
    fn old(self) -> Content {
        let day = untrack(|| self.round()).day;
        if clock::today() < day.saturating_add(SAME_ROUND_DAYS) {
            return Content::Nothing;
        }
        let begun = format!(
            "This round was begun on {}. What was read then may have changed.",
            calendar::date(day)
        );
        let anew = button("Begin anew", move || self.throw_away());
        done(begun, anew).node()
    }

    fn progress(self, wanted: Option<Wanted>) -> String {
        let (unit, round) = (self.unit(), self.round());
        let read = round.readings.len();
        let tyres = self.state.rig(|rig| rig.round().len());
        let surface = shared::surface(round.surface).to_ascii_lowercase();
        let figure = match (wanted, round.warm) {
            (None, _) => "No figure for this axle: the reading is kept, and not judged.".to_owned(),
            (Some(wanted), false) if wanted.least_only => format!(
                "The least for this load is {} cold, for {surface}; no figure is known: enter the \
                 placard’s.",
                format::pressure(unit, wanted.goal)
            ),
            (Some(wanted), false) => format!(
                "Should read {} cold, for {surface}.",
                format::pressure(unit, wanted.goal)
            ),
            (Some(wanted), true) => format!(
                "Cold it should read {}, for {surface}; warm it reads more.",
                format::pressure(unit, wanted.goal)
            ),
        };
        format!("{read} of {tyres} read. {figure}")
    }

    fn marks(self) -> Marks {
        let standing = memo(move |_| {
            let round = self.round();
            let (warmth, unit) = (self.warmth(&round), self.unit());
            let wanted: Vec<_> = self
                .state
                .outcomes_on(round.surface)
                .iter()
                .map(|outcome| outcome.answer().map(Wanted::from))
                .collect();
            let of_read = |group: usize, reading: &Reading| {
                let wanted = wanted.get(group).and_then(Option::as_ref);
                let verdict = verdict(reading.read, wanted, warmth, unit);
                words::mark(verdict, reading.wrong).map_or(Standing::Done, Standing::As)
            };
            self.state.rig(|rig| {
                let each = rig.round().into_iter().map(|at| {
                    let spot = rig.spot_of(at);
                    let standing = match round.reading(spot) {
                        _ if round.hand == Some(spot) => Standing::Next,
                        Some(reading) => of_read(at.group, reading),
                        None => Standing::Open,
                    };
                    (at, standing)
                });
                each.collect::<Vec<_>>()
            })
        });
        Marks {
            by_wheel: false,
            standing: Rc::new(move |at| standing.with(|all| standing_of(all, at))),
            press: Rc::new(move |at| {
                let spot = self.state.rig_now(|rig| rig.spot_of(at));
                self.take(Some(spot));
            }),
        }
    }

    fn on_axle(self, index: usize) -> Content {
        live(move || {
            let name = self.state.rig(|rig| tyre_names::group(rig, index));
            let goal = self.wanted(index).map_or("no figure".to_owned(), |wanted| {
                format::pressure(self.unit(), wanted.goal)
            });
            element("p")
                .class("on-line")
                .child(element("span").class("name").child(name))
                .child(" ")
                .child(element("span").class("goal").child(goal))
        })
    }

    fn entry(self, spot: Spot, wanted: Option<Wanted>) -> Element {
        let unit = self.unit();
        let warmth = untrack(|| self.warmth(&self.round()));
        let field = NumberField::<Checks> {
            id: READING.to_owned(),
            of: Owner::Nothing,
            name: name_of(spot),
            // In large text the tyre's name above is off the screen.
            label: format!(
                "{} reads",
                self.state.rig(|rig| check_words::tyre(rig, spot))
            )
            .into(),
            hint: "",
            field: Field::TyreReading,
            optional: true,
            slot: Slot {
                get: Box::new(move |checks| {
                    let round = checks.round.as_ref()?;
                    Some(round.reading(spot)?.read.amount())
                }),
                set: Box::new(move |checks, amount| {
                    let Some(round) = &mut checks.round else {
                        return;
                    };
                    match amount.and_then(Typed::of) {
                        Some(read) => round.read(found(spot, read, wanted.as_ref(), warmth, unit)),
                        None => round.forget(spot),
                    }
                }),
            },
        };
        // From a blank field a step would keep a reading that nobody took.
        let has = memo(move |_| usize::from(self.round().reading(spot).is_some()));
        let step = move |by: f64, sign, says| {
            let key = move || button(sign, move || self.step(spot, wanted, by));
            live(move || (has.get() == 1).then(|| key().attr("aria-label", says)))
        };
        let as_wanted = move || {
            let goal = wanted?.goal;
            let reads = format!("Reads {}", format::pressure(unit, goal));
            let key = element("button")
                .attr("type", "button")
                .class("as-wanted")
                .child(reads)
                .on("click", move |_| self.keep(spot, wanted, goal));
            (has.get() == 0).then_some(key)
        };
        // So that the keyboard's own key for it goes on.
        let submit = move |event: leptos::web_sys::Event| {
            event.prevent_default();
            if untrack(|| self.round()).reading(spot).is_some() {
                self.go_on();
            }
        };
        element("form")
            .class("round-reading")
            .attr("autocomplete", "off")
            .on("submit", submit)
            .on("input", move |_| {
                // What was typed before it no longer stands.
                self.said.set(String::new());
                if self
                    .checks()
                    .now(|checks| checks.is_unusable(&name_of(spot)))
                {
                    self.change(|round| round.forget(spot));
                }
            })
            .on("focusin", |event| {
                // Come back to, it is typed anew, not added to.
                let input = event.target();
                if let Some(input) = input.and_then(|of| of.dyn_into::<HtmlInputElement>().ok()) {
                    input.select();
                }
            })
            .child(step(-1.0, "−", "A step less"))
            .child(field.view(self.state))
            .child(step(1.0, "+", "A step more"))
            .live(as_wanted)
    }

    /// Steps the reading.
    fn step(self, spot: Spot, wanted: Option<Wanted>, by: f64) {
        let unit = self.state.rig_now(|rig| rig.unit);
        let round = untrack(|| self.round());
        let Some(read) = round.reading(spot).map(|of| of.read.quantity()) else {
            return;
        };
        let size = unit.number(unit.step().size());
        let steps = (unit.number(read) / size).round() + by;
        self.keep(spot, wanted, unit.reading((steps * size).max(0.0)));
    }

    /// Keeps what was read by a key.
    fn keep(self, spot: Spot, wanted: Option<Wanted>, read: GaugePressure) {
        let unit = self.state.rig_now(|rig| rig.unit);
        let warmth = untrack(|| self.warmth(&self.round()));
        let read = Typed::of(Amount::new(unit.number(read), Measure::from(unit)));
        let Some(read) = read.and_then(|read: TypedPressure| read.check(Field::TyreReading).ok())
        else {
            return;
        };
        let name = name_of(spot);
        self.checks().forget_drafts(|text| text.field == name);
        self.change(|round| round.read(found(spot, read, wanted.as_ref(), warmth, unit)));
        self.steps.update(|steps| *steps += 1);
    }

    fn judged(self, spot: Spot, wanted: Option<Wanted>) -> Option<Element> {
        if self.checks().is_unusable(&name_of(spot)) {
            return None;
        }
        let round = self.round();
        let read = round.reading(spot)?.read;
        let Some(wanted) = wanted else {
            return Some(paragraph(
                "hint",
                "Kept. Without a figure it is not judged.",
            ));
        };
        let verdict = verdict(read, Some(&wanted), self.warmth(&round), self.unit())?;
        let (class, says) = words::verdict(verdict, &wanted, self.unit());
        let sign = match verdict {
            good if good.is_good() => "✓ ",
            bad if bad.is_bad() => "! ",
            _ => "",
        };
        Some(paragraph(class, format!("{sign}{says}")))
    }

    fn keys(self, spot: Spot) -> Element {
        let (read, more) = {
            let round = self.round();
            let more = self.state.rig(|rig| round.next(rig).is_some());
            (round.reading(spot).is_some(), more)
        };
        let label = match (read, more) {
            (true, true) => "Next tyre",
            (false, true) => "Pass over",
            (true, false) => "On to the nuts",
            (false, false) => "On to the nuts, without this one",
        };
        let next = button(label, move || self.go_on());
        // What is to be done next is read; passing over is not the aim.
        let next = if read {
            next.class("button primary")
        } else {
            next
        };
        let nuts = more.then(|| button("To the nuts", move || self.take(None)));
        element("div").class("walk-keys").child(next).child(nuts)
    }

    fn go_on(self) {
        let next = self.state.rig_now(|rig| {
            let round = self.checks().now(|checks| checks.round.clone());
            let next = round.and_then(|round| round.next(rig));
            next.map(|at| rig.spot_of(at))
        });
        self.take(next);
    }

    /// Takes a tyre in hand, or the nuts, but for a text that can't be used.
    fn take(self, spot: Option<Spot>) {
        let hand = untrack(|| self.round().hand);
        if let Some(hand) = hand
            && self
                .checks()
                .now(|checks| checks.is_unusable(&name_of(hand)))
        {
            self.said.set("This reading can’t be used.".to_owned());
            return focus_soon(READING.to_owned());
        }
        self.change(|round| round.hand = spot);
        let to = if spot.is_some() { READING } else { HEADING };
        focus_soon(to.to_owned());
    }

    fn nuts(self) -> Vec<Content> {
        let state = self.state;
        let all = button("All of them are checked", move || {
            let wheels = state.rig_now(wheels);
            self.change(|round| {
                // A second tap takes it back.
                let had = wheels.iter().all(|wheel| round.nuts.contains(wheel));
                round.nuts = if had { Vec::new() } else { wheels };
            });
        });
        let pressed = move || {
            let round = self.round();
            Some(state.rig(|rig| round.all_nuts(rig)).to_string())
        };
        vec![
            self.old(),
            heading(HEADING, "Tap each wheel once its nuts are checked")
                .attr("tabindex", "-1")
                .node(),
            paragraph("cold", live(move || self.counted())).node(),
            live(move || {
                let torques = state
                    .section::<Nuts>()
                    .with_rig(|rig, nuts| torque_words::of_nuts(nuts, rig.has_trailer()));
                let lines = torques.into_iter().map(|of| paragraph("hint", of));
                lines.collect::<Vec<_>>()
            }),
            rig_drawing(
                state,
                &|index| self.on_wheels(index),
                Some(self.wheel_marks()),
            )
            .node(),
            buttons()
                .child(all.attr_live("aria-pressed", pressed))
                .child(link("Torque and how to check", "#/nuts"))
                .node(),
            live(move || self.found_wrong()),
            odometer(state).node(),
            air_now(state, "May be left blank. In the shade.").node(),
            element("div")
                .class("walk-keys")
                .child(button("Save the round", move || self.save()).class("button primary"))
                .child(button("Back to the tyres", move || self.back_to_tyres()))
                .node(),
            buttons()
                .child(button("Throw it away", move || {
                    self.throw_away();
                    focus_soon(HEADING.to_owned());
                }))
                .node(),
        ]
    }

    fn counted(self) -> String {
        let round = self.round();
        let (tyres, wheels) = self
            .state
            .rig(|rig| (rig.round().len(), rig.wheels().len()));
        format!(
            "Tyres: {} of {tyres} read. Nuts: {} of {wheels} wheels checked.",
            round.readings.len(),
            round.nuts.len()
        )
    }

    fn on_wheels(self, index: usize) -> Content {
        let name = self.state.rig_now(|rig| tyre_names::group(rig, index));
        element("span").class("axle-name").child(name).node()
    }

    fn wheel_marks(self) -> Marks {
        let standing = memo(move |_| {
            let round = self.round();
            self.state.rig(|rig| {
                let each = rig.wheels().into_iter().map(|at| {
                    let is_done = round.nuts.contains(&rig.wheel_at(at));
                    let standing = if is_done {
                        Standing::Done
                    } else {
                        Standing::Open
                    };
                    (at, standing)
                });
                each.collect::<Vec<_>>()
            })
        });
        Marks {
            by_wheel: true,
            standing: Rc::new(move |at| standing.with(|all| standing_of(all, at))),
            press: Rc::new(move |at| {
                let wheel = self.state.rig_now(|rig| rig.wheel_at(at));
                self.change(|round| {
                    let before = round.nuts.len();
                    round.nuts.retain(|of| *of != wheel);
                    if round.nuts.len() == before {
                        round.nuts.push(wheel);
                    }
                });
            }),
        }
    }

    /// The tyres that are not as they should be, before the round is saved.
    fn found_wrong(self) -> Option<Element> {
        let round = self.round();
        let unread = self.state.rig(|rig| {
            let names = round.unread(rig).into_iter();
            names
                .map(|spot| check_words::tyre(rig, spot))
                .collect::<Vec<_>>()
        });
        let unread = (!unread.is_empty())
            .then(|| paragraph("doubt", format!("Not read: {}.", unread.join("; "))));
        if round.bad().is_empty() {
            return unread;
        }
        let lines = self.state.rig(|rig| {
            let wrong = round.readings.iter().filter(|of| of.wrong);
            let lines = wrong.map(|of| {
                let at = rig.tyre_of(of.tyre);
                let wanted = at.and_then(|at| self.wanted(at.group));
                let verdict = verdict(of.read, wanted.as_ref(), self.warmth(&round), rig.unit);
                let short = verdict.map_or(String::new(), |verdict| {
                    format!(": {}", words::short(verdict))
                });
                words::reading(rig, of, rig.unit) + &short
            });
            lines.collect::<Vec<_>>()
        });
        Some(
            element("div")
                .child(unread)
                .child(element("h3").child("Not as they should be"))
                .child(listed(lines.into_iter())),
        )
    }

    fn back_to_tyres(self) {
        let first = self.state.rig_now(|rig| {
            let round = self.checks().now(|checks| checks.round.clone());
            let open = round.and_then(|round| round.next(rig));
            let first = open.or_else(|| rig.round().first().copied());
            first.map(|at| rig.spot_of(at))
        });
        self.take(first);
    }

    fn throw_away(self) {
        let round = untrack(|| self.round());
        self.back.set(Some(Back::Thrown(Box::new(round))));
        self.checks().change(|checks| checks.round = None);
        self.forget_texts();
        self.said.set(String::new());
    }

    fn forget_texts(self) {
        self.checks()
            .forget_drafts(|text| text.field.starts_with("round-"));
    }

    fn save(self) {
        let state = self.state;
        let unusable = self.checks().now(|checks| {
            let text = checks.unusable.iter();
            let mut fields = text.map(|text| text.field.clone());
            fields.find(|field| field.starts_with("round-"))
        });
        if let Some(field) = unusable {
            let spot = state.rig_now(|rig| {
                let mut round = rig.round().into_iter().map(|at| rig.spot_of(at));
                round.find(|spot| name_of(*spot) == field)
            });
            if let Some(spot) = spot {
                self.take(Some(spot));
            }
            self.said.set("This reading can’t be used.".to_owned());
            return;
        }
        let now = clock::now_day();
        let mut round = untrack(|| self.round());
        if round.readings.is_empty() && round.nuts.is_empty() {
            self.said.set("Nothing was read or checked yet.".to_owned());
            return;
        }
        round.hand = None;
        round.day = clock::today();
        round.minute = clock::minute_of_day(now);
        round.odometer = untrack(|| odometer_now(state));
        round.celsius = state.rig_now(|rig| rig.air.now.celsius());
        // The log first: cut short, the round is still under way, and saved
        // again it is the same.
        let mut room = true;
        let piece = state.piece::<Log>(Log::piece(round.day));
        if piece.why_aside().is_some() {
            self.said.set(
                "This year’s log can’t be read, and nothing is written over it: see the rig page."
                    .to_owned(),
            );
            return;
        }
        piece.change(|log| {
            if log.rounds.last() != Some(&round) {
                room = log.add(round.clone());
            }
        });
        if !room {
            self.said
                .set("There is no room for another round in this year’s log.".to_owned());
            return;
        }
        let nuts = state.rig_now(|rig| round.nut_lines(rig));
        let lines = nuts.clone();
        if !lines.is_empty() {
            state.section::<Nuts>().change(|nuts| {
                for line in lines {
                    nuts.log(line);
                }
            });
        }
        let last = self.checks().now(|checks| checks.last.clone());
        self.checks().change(|checks| {
            checks.round = None;
            checks.last = LastRound::after(checks.last.take(), &round, now);
        });
        self.said.set(String::new());
        let saved = Finished { round, last, nuts };
        self.back.set(Some(Back::Saved(Box::new(saved))));
        focus_soon(HEADING.to_owned());
    }

    fn bring_back(self) {
        let Some(back) = self.back.get_untracked() else {
            return;
        };
        self.back.set(None);
        match back {
            Back::Thrown(round) => self.checks().change(|checks| checks.round = Some(*round)),
            Back::Saved(saved) => take_back(self.state, *saved),
            Back::Set(_, before, saved) => {
                self.state.change(|rig| rig.set_to = *before);
                self.back.set(Some(Back::Saved(saved)));
            }
        }
    }
}

/// A reading, judged.
fn found(
    tyre: Spot,
    read: TypedPressure,
    wanted: Option<&Wanted>,
    warmth: Warmth,
    unit: PressureUnit,
) -> Reading {
    let verdict = verdict(read, wanted, warmth, unit);
    let kilopascals = |pressure: GaugePressure| pressure.get::<kilopascal>();
    Reading {
        tyre,
        read,
        goal_kpa: wanted.map(|wanted| kilopascals(wanted.goal)),
        wrong: verdict.is_some_and(Verdict::is_bad),
    }
}

fn wheels(rig: &Rig) -> Vec<Wheel> {
    rig.wheels()
        .into_iter()
        .map(|at| rig.wheel_at(at))
        .collect()
}
