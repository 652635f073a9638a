//! The tightening: a wheel whose nuts are ticked as they are pulled.

use super::checks::{standings, today_line};
use super::edit::{
    Known, WRENCH, change, follow, keys, known, nuts, nuts_now, shape, spec_id, to_converter,
};
use super::{drawing, words};
use crate::calc::torque::TorqueUnit;
use crate::calc::torque::sequence::Progress;
use crate::calc::torque::spec::Spec;
use crate::calc::torque::wrench::{Answer, Fit};
use crate::rig::Rig;
use crate::rig::nuts::{Done, Finding, LogEntry, Nuts, Target};
use crate::rig::position::{Half, TyrePosition};
use crate::rig::section::Entered;
use crate::rig::typed::TypedTorque;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, element, live};
use crate::ui::kit::fields::{button, buttons, listed, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::odometer::{odometer, odometer_now};
use crate::ui::kit::rig_drawing::{Marks, Standing, rig_drawing, standing_of};
use crate::ui::kit::tyre_names;
use leptos::prelude::*;
use std::rc::Rc;

/// The job, with what its parts follow.
#[derive(Clone, Copy)]
struct Work {
    state: State,
    known: Memo<Known>,
    /// What the last tap came to, where that needs saying.
    said: RwSignal<String>,
    /// Whether the wheel is being chosen.
    choosing: RwSignal<bool>,
    /// Goes to where the figure is entered.
    to_figure: Callback<()>,
}

/// The job.
pub fn view(state: State, to_figure: Callback<()>) -> Content {
    // A wheel under way is taken up again, if it is known which.
    let under_way = nuts_now(state, |nuts| {
        let set = nuts.set();
        set.wheel.is_some() && !set.ticked.is_empty()
    });
    let work = Work {
        state,
        known: known(state),
        said: RwSignal::new(String::new()),
        choosing: RwSignal::new(!under_way),
        to_figure,
    };
    let face = memo(move |_| work.face());
    vec![
        live(move || (!work.choosing.get()).then(|| chosen(work))),
        live(move || match face.get() {
            CHOOSE => which_wheel(work),
            NO_TARGET => no_target(work),
            OTHERWISE => otherwise(work),
            FINISHED => finished(work),
            studs => wheel(work, studs),
        }),
        paragraph("unseen", live(move || announcement(work)))
            .attr("role", "status")
            .node(),
        element("section")
            .class("notice")
            .attr("aria-label", "Cautions")
            .child(element("h2").child("At the wheel"))
            .child(listed(CAUTIONS.into_iter().map(str::to_owned)))
            .child(
                element("details")
                    .child(element("summary").child("Why in this order"))
                    .child(paragraph(
                        "",
                        "The order and the parts of the torque are common practice, no source. \
                         The vehicle's manual comes first.",
                    )),
            )
            .node(),
    ]
    .node()
}

/// The wheel that was chosen, and the way back to the others.
fn chosen(work: Work) -> Element {
    let name = move || {
        work.state
            .section::<Nuts>()
            .with_rig(|rig, nuts| tyre_names::wheel(rig, nuts.set().wheel))
    };
    element("div")
        .class("chosen")
        .child(element("h2").live(name))
        .child(button("Another wheel", move || {
            work.say(None);
            work.choosing.set(true);
        }))
}

/// The rig with the mark for the nuts on each axle: the wheels are the keys.
fn which_wheel(work: Work) -> Element {
    let state = work.state;
    let standing = memo(move |_| {
        let now = odometer_now(state);
        state.section::<Nuts>().with_rig(|rig, nuts| {
            let mut all = standings(rig, nuts, now, is_done);
            for half in [Half::Vehicle, Half::Trailer] {
                let set = nuts.of(half);
                let under_way = set.wheel.filter(|_| !set.ticked.is_empty());
                let at = under_way.and_then(|wheel| rig.place_of(wheel));
                if let Some((_, standing)) = all.iter_mut().find(|(of, _)| Some(*of) == at) {
                    *standing = Standing::Next;
                }
            }
            all
        })
    });
    let marks = Marks {
        standing: Rc::new(move |at| standing.with(|all| standing_of(all, at))),
        press: Rc::new(move |at| work.choose(at)),
        by_wheel: true,
    };
    let centre = |index: usize| {
        let half = state.rig_now(|rig| rig.half_at(index));
        let name = state.rig_now(|rig| tyre_names::group(rig, index));
        let mark = move || {
            let unusable = nuts(state, |nuts| {
                nuts.is_unusable(spec_id(half)) || nuts.is_unusable(WRENCH)
            });
            words::on_axle(&nuts(state, |nuts| nuts.finding_of(half)), unusable)
        };
        element("span")
            .class("axle-name")
            .child(name)
            .child(element("strong").class("axle-mark").live(mark))
            .node()
    };
    element("section")
        .class("round")
        .attr("aria-labelledby", "nuts-which")
        .child(
            element("h2")
                .attr("id", "nuts-which")
                .child("Which wheel went on?"),
        )
        .child(rig_drawing(state, &centre, Some(marks)))
        .child(paragraph("tapped", live(move || work.said.get())).attr("role", "status"))
        .live(move || {
            let any = standing.with(|all| all.iter().any(|(_, of)| *of != Standing::Open));
            any.then(|| {
                paragraph(
                    "hint",
                    "✓ done today. ● under way. ○ due for a check. ! overdue.",
                )
            })
        })
        .child(to_converter())
}

/// Whether the newest that was done to a wheel was done today.
fn is_done(rig: &Rig, nuts: &Nuts, at: TyrePosition, day: u32) -> bool {
    nuts.done(rig, at)
        .next()
        .is_some_and(|entry| entry.day == day)
}

/// Where the wheel stands, for a screen reader.
fn announcement(work: Work) -> String {
    if work.choosing.get() {
        return String::new();
    }
    let progress = work.progress();
    let (Some(stage), Some(next), Some(target)) =
        (progress.stage(), progress.next(), work.target())
    else {
        return if progress.is_finished() {
            "Every nut is pulled.".to_owned()
        } else {
            String::new()
        };
    };
    let (number, unit) = words::stage_target(stage, target, work.unit())
        .unwrap_or_else(|| ("snug by hand".to_owned(), ""));
    format!(
        "{}, {number} {unit}. Next: nut {}.",
        words::stage(stage),
        order(progress.studs().star(), next)
    )
}

// What the job shows: one of these, or the wheel, by its number of studs.
/// The wheel is to be chosen.
const CHOOSE: usize = 3;
/// No figure to pull to.
const NO_TARGET: usize = 0;
/// The wheel under way was begun with another figure.
const OTHERWISE: usize = 1;
/// Every nut is done.
const FINISHED: usize = 2;

const CAUTIONS: [&str; 5] = [
    "Nuts whose seats match the wheel: cone, ball or flat.",
    "Threads and seats clean and dry, unless the maker says otherwise.",
    "Start every nut by hand. One that binds or turns without stiffening, or a damaged stud, ends \
     the job: a licensed tyre fitter.",
    "The last stage with the wheel on the ground.",
    "A click on the first pull of a nut that was already tight proves nothing about \
     overtightening. Loosen it and pull it up again.",
];

impl Work {
    fn target(self) -> Option<Target> {
        self.known
            .with(|known| known.current().and_then(Finding::last_stage))
    }

    fn unit(self) -> TorqueUnit {
        self.known.with(|known| {
            known
                .finding
                .spec()
                .map_or(TorqueUnit::NewtonMetre, Spec::unit)
        })
    }

    fn face(self) -> usize {
        if self.choosing.get() {
            return CHOOSE;
        }
        let Some(target) = self.target() else {
            return NO_TARGET;
        };
        nuts(self.state, |nuts| {
            let progress = nuts.set().progress();
            if nuts.set().begun_otherwise(target) {
                OTHERWISE
            } else if progress.is_finished() {
                FINISHED
            } else {
                usize::from(progress.studs().count())
            }
        })
    }

    fn progress(self) -> Progress {
        nuts(self.state, |nuts| nuts.set().progress())
    }

    fn progress_now(self) -> Progress {
        nuts_now(self.state, |nuts| nuts.set().progress())
    }

    /// Turns to the wheel that was tapped on the drawing.
    fn choose(self, at: TyrePosition) {
        let wheel = self.state.rig_now(|rig| rig.wheel_at(at));
        self.say(None);
        change(self.state, |nuts| {
            nuts.half = wheel.half;
            nuts.set_mut().turn_to(Some(wheel));
        });
        self.choosing.set(false);
    }

    fn keep(self, progress: &Progress) {
        let (ticked, target) = (progress.ticked().to_vec(), untrack(|| self.target()));
        change(self.state, |nuts| nuts.set_mut().keep(ticked, target));
    }

    fn tick(self, stud: u8) {
        let mut progress = self.progress_now();
        let result = progress.tick(stud);
        let star = progress.studs().star();
        self.say(words::ticked(result, |stud| order(star, stud)));
        if result.is_ok() {
            self.keep(&progress);
        }
    }

    fn undo(self) {
        self.say(None);
        let mut progress = self.progress_now();
        if progress.undo().is_some() {
            self.keep(&progress);
        } else {
            change(self.state, |nuts| nuts.set_mut().take_up());
        }
    }

    fn start_again(self) {
        self.say(None);
        change(self.state, |nuts| nuts.set_mut().give_up());
    }

    fn say(self, text: Option<String>) {
        self.said.set(text.unwrap_or_default());
    }

    /// Whether a nut of the wheel under way is ticked.
    fn is_begun(self) -> bool {
        nuts(self.state, |nuts| !nuts.set().ticked.is_empty())
    }

    /// Whether there is anything to undo.
    fn can_undo(self) -> bool {
        self.is_begun() || nuts(self.state, |nuts| !nuts.set().given_up.is_empty())
    }

    fn undo_keys(self) -> Element {
        buttons()
            .class("buttons undo")
            .live(move || self.can_undo().then(|| button("Undo", move || self.undo())))
            .live(move || {
                self.is_begun()
                    .then(|| button("Start again", move || self.start_again()))
            })
    }
}

/// A stud's place in the star order, from 1.
fn order(star: &[u8], stud: u8) -> usize {
    star.iter().position(|of| *of == stud).unwrap_or(0) + 1
}

fn no_target(work: Work) -> Element {
    element("section")
        .class("answers")
        .attr("role", "status")
        .child(element("h2").child("No figure to tighten to"))
        .live(move || {
            let why = work.known.with(|known| match &known.finding {
                Finding::NoUnit | Finding::NoSpec => {
                    "The makers' torque for these nuts comes first, with its unit."
                }
                _ if known.spec_unusable || known.wrench_unusable => {
                    "An entry can't be used. It is marked there."
                }
                _ => "The wrench as entered can't set this torque.",
            });
            paragraph("", why)
        })
        .child(
            buttons()
                .child(button("Set the wrench", move || work.to_figure.run(())).class("primary")),
        )
        .live(move || {
            work.is_begun()
                .then(|| paragraph("", "The nuts ticked so far are kept."))
        })
}

fn otherwise(work: Work) -> Element {
    element("section")
        .class("answers")
        .attr("role", "status")
        .child(element("h2").child("The figure has changed"))
        .child(paragraph(
            "",
            "This wheel was begun with another figure. Its ticks say nothing of the new one: \
             start the wheel again.",
        ))
        .child(buttons().child(button("Start again", move || work.start_again()).class("primary")))
}

fn wheel(work: Work, studs: usize) -> Element {
    let state = work.state;
    let stage = shape(state, |nuts| {
        let stage = nuts.set().progress().stage();
        stage.map_or(0, |stage| usize::from(stage.number()))
    });
    let drawing = element("div")
        .class("drawing")
        .live(move || element("div").markup(drawing::svg(&work.progress())));
    let star = work.progress_now().studs().star();
    let nuts = star
        .iter()
        .map(|stud| nut(work, star, *stud))
        .fold(element("ol").class("studs"), Element::child);
    let plate = element("div")
        .attr("class", format!("wheel of-{studs}"))
        .child(drawing)
        .child(nuts)
        .child(hub(work));
    element("section")
        .class("tighten")
        .attr("aria-label", "Tightening")
        .live(move || doubt(work))
        .live(move || {
            work.known
                .with(|known| known.extended)
                .then(|| paragraph("advice", "With the extension on the wrench."))
        })
        .live(move || {
            follow(stage);
            advice(work)
        })
        .child(plate)
        .child(paragraph("tapped", live(move || work.said.get())).attr("role", "status"))
        .child(work.undo_keys())
        .live(move || (!work.is_begun()).then(|| setup(state)))
}

/// That the wrench can't promise what is pulled here.
fn doubt(work: Work) -> Option<Element> {
    if let Some(slip) = work.known.with(|known| known.slip) {
        return Some(paragraph("doubt", words::slip(slip)));
    }
    if let Some(lacks) = work.known.with(|known| known.wrench_lacks) {
        let says = format!("{} See “Set the wrench”.", words::lacks(lacks));
        return Some(paragraph("doubt", says));
    }
    let doubtful = work.known.with(|known| {
        let Some(Finding::Mark(_, _, Answer::Set(reading))) = known.current() else {
            return false;
        };
        matches!(reading.fit, Fit::Outside { .. } | Fit::Unpromised { .. })
    });
    doubtful.then(|| {
        paragraph(
            "warning",
            "This wrench can't promise the makers' range. See “Set the wrench”.",
        )
    })
}

/// What to see to before this stage.
fn advice(work: Work) -> Option<Element> {
    let stage = work.progress_now().stage()?;
    Some(if stage.is_last() {
        paragraph(
            "advice last",
            "Last stage: lower the wheel to the ground now, then pull every nut.",
        )
    } else if stage.number() == 0 {
        paragraph(
            "advice",
            "Wheel off the ground or just touching. Run every nut on by hand, then pull them in \
             the order of the numbers.",
        )
    } else {
        paragraph("advice", "Once more round, in the same order.")
    })
}

fn hub(work: Work) -> Element {
    element("div").class("at-hub").live(move || {
        let progress = work.progress();
        let star = progress.studs().star();
        let (Some(stage), Some(next), Some(target)) =
            (progress.stage(), progress.next(), work.target())
        else {
            return Vec::new();
        };
        let figure = match words::stage_target(stage, target, work.unit()) {
            Some((number, unit)) => vec![
                element("span").class("number").child(number),
                element("span").class("unit").child(unit),
            ],
            None => vec![
                element("span").class("unit").child("Snug by hand:"),
                element("span").child("below the scale"),
            ],
        };
        vec![
            element("span").child(words::stage(stage)),
            element("span").class("set").child(figure),
            element("span")
                .class("unit")
                .child(format!("Next: nut {}", order(star, next))),
        ]
    })
}

fn nut(work: Work, star: &'static [u8], stud: u8) -> Element {
    let number = order(star, stud);
    let standing = move || {
        let progress = work.progress();
        let done = progress
            .stage()
            .is_some_and(|stage| progress.is_done(stage.number(), stud));
        if done {
            "done"
        } else if progress.next() == Some(stud) {
            "next"
        } else {
            "later"
        }
    };
    let key = element("button")
        .attr("type", "button")
        .attr_live("class", move || Some(format!("nut {}", standing())))
        .attr_live("aria-label", move || {
            Some(format!("Nut {number}, {}", standing()))
        })
        .on("click", move |_| work.tick(stud))
        .child(number.to_string());
    element("li").attr("class", format!("at-{stud}")).child(key)
}

/// Studs and stages, while no nut is ticked: ticks would not outlast a change.
fn setup(state: State) -> Element {
    element("div")
        .class("card")
        .child(keys(
            state,
            "Studs on this wheel",
            "nuts-studs",
            [("4", 4), ("5", 5), ("6", 6), ("8", 8), ("10", 10)],
            |nuts| nuts.set().progress().studs().count(),
            |state, studs| change(state, |nuts| nuts.set_mut().studs = studs),
        ))
        .child(keys(
            state,
            "Times round",
            "nuts-stages",
            [("Two: half, all", 2), ("Three: thirds", 3)],
            |nuts| nuts.set().progress().stages().count(),
            |state, stages| change(state, |nuts| nuts.set_mut().stages = stages),
        ))
}

fn finished(work: Work) -> Element {
    let state = work.state;
    element("section")
        .class("card")
        .attr("aria-labelledby", "nuts-finished")
        .child(
            element("h2")
                .attr("id", "nuts-finished")
                .child("Every nut is pulled"),
        )
        .child(odometer(state))
        .child(
            buttons()
                .child(button("Write to the log", move || write(work)).class("primary"))
                .child(button("Undo the last nut", move || work.undo())),
        )
        .child(paragraph(
            "",
            "Re-check after 50 to 100 km, then every two weeks (common practice, no source). The \
             log keeps count under “Re-check”.",
        ))
}

/// Logs the wheel, and goes on to the next.
fn write(work: Work) {
    let state = work.state;
    let torque = work.known.with_untracked(|known| {
        let spec = known.finding.spec();
        spec.map(|spec| TypedTorque::stated(spec.nominal(), spec.unit()))
    });
    let wheel = nuts_now(state, |nuts| nuts.set().wheel);
    let name = state.rig_now(|rig| tyre_names::wheel(rig, wheel));
    let line = today_line(state, wheel, Done::Refitted);
    change(state, |nuts| {
        nuts.log(LogEntry { torque, ..line });
        nuts.set_mut().keep(Vec::new(), None);
        nuts.set_mut().wheel = None;
    });
    work.choosing.set(true);
    work.say(Some(format!("{name}: written to the log. The next wheel?")));
}
