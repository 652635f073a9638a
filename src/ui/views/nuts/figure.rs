//! Which mark to set: the makers' figure, the wrench, and what comes of them.

use super::edit::{
    Known, WRENCH, change, follow, forget, keys, known, list, number, nuts, nuts_now, shape,
    spec_id, to_converter,
};
use super::words;
use crate::calc::limits::{Field, Unit};
use crate::calc::torque::TorqueUnit;
use crate::calc::torque::spec::Spec;
use crate::calc::torque::thread::{PropertyClass, Surfaces, Thread, clamp_load};
use crate::calc::torque::wrench::{Answer, Reading};
use crate::rig::nuts::{AccuracyFrom, Finding, Nuts, Stated};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, Node, element};
use crate::ui::kit::fields::{Holds, button, buttons, listed, paragraph, tick};
use crate::ui::kit::follow::memo;
use crate::ui::kit::format::{Entry, torque_mark};
use leptos::prelude::*;

const UNITS: [(&str, TorqueUnit); 4] = [
    ("N·m", TorqueUnit::NewtonMetre),
    ("ft·lbf", TorqueUnit::FootPound),
    ("lbf·in", TorqueUnit::InchPound),
    ("kgf·m", TorqueUnit::KilogramMetre),
];

/// The same for a figure whose unit may still be to be chosen.
const STATED_UNITS: [(&str, Option<TorqueUnit>); 4] = [
    ("N·m", Some(TorqueUnit::NewtonMetre)),
    ("ft·lbf", Some(TorqueUnit::FootPound)),
    ("lbf·in", Some(TorqueUnit::InchPound)),
    ("kgf·m", Some(TorqueUnit::KilogramMetre)),
];

const TOLERANCES: [(&str, Stated); 5] = [
    ("None", Stated::Nothing),
    ("± %", Stated::Percent),
    ("±", Stated::PlusMinus),
    ("− / +", Stated::MinusPlus),
    ("Range", Stated::Range),
];

/// The nominal's part of its field's id.
const NOMINAL: &str = "nominal";
/// What the ids of a tolerance's fields go on with.
const TOLERANCE: &str = "tolerance-";

const ACCURACIES: [(&str, AccuracyFrom); 7] = [
    ("Choose…", AccuracyFrom::Unknown),
    ("ISO 6789-1, set and clicks", AccuracyFrom::SettingScale),
    ("ISO 6789-1, dial", AccuracyFrom::IndicatingDial),
    ("ISO 6789-1, electronic", AccuracyFrom::IndicatingElectronic),
    ("ISO 6789-1, bending bar", AccuracyFrom::IndicatingBar),
    ("Maker's, % of the reading", AccuracyFrom::OfReading),
    ("Maker's, % of the highest mark", AccuracyFrom::OfFullScale),
];

/// The job.
pub fn view(state: State, to_wheels: Callback<()>) -> Content {
    let known = known(state);
    let ready = memo(move |_| known.with(|of| usize::from(is_ready(of))));
    vec![
        answer(known)
            .live(move || slip(known))
            .live(move || {
                (ready.get() == 1).then(|| {
                    let on = button("Tighten a wheel", move || to_wheels.run(()));
                    buttons().child(on.class("primary"))
                })
            })
            .node(),
        spec(state, known).node(),
        wrench(state).node(),
        adapter(state).node(),
        clamp(state, known).node(),
        to_converter().node(),
        cautions().node(),
    ]
    .node()
}

/// Whether nuts can be pulled to what is known.
fn is_ready(known: &Known) -> bool {
    known.current().and_then(Finding::last_stage).is_some()
}

/// The largest thing on the page.
fn answer(known: Memo<Known>) -> Element {
    element("section")
        .class("answers torque")
        .attr("aria-live", "polite")
        .live(move || known.with(answered))
}

fn answered(known: &Known) -> Vec<Element> {
    let unit = known
        .finding
        .spec()
        .map_or(TorqueUnit::NewtonMetre, Spec::unit);
    let none = |why: String| no_mark("No mark to set", why);
    if known.finding == Finding::NoUnit {
        return vec![
            heading("Which unit is it in?"),
            paragraph(
                "",
                "Pick the unit that the sticker or the manual gives the torque in. No number \
                 counts before: 105 ft·lbf is 142 N·m.",
            ),
        ];
    }
    if known.spec_unusable {
        let why = "An entry of the makers' figure can't be used. It is marked below.";
        return no_mark("No figure", why.to_owned());
    }
    match &known.finding {
        Finding::NoUnit | Finding::NoSpec => vec![
            heading("No figure yet"),
            paragraph(
                "",
                "Enter the makers' torque: from the manual, the sticker or the wheel's maker.",
            ),
        ],
        Finding::BadSpec(error) => no_mark("No figure", words::error(*error, unit)),
        Finding::NoWrench(spec) => converted(spec, known),
        _ if known.wrench_unusable => {
            none("An entry of the wrench can't be used. It is marked below.".to_owned())
        }
        Finding::NoAdapter(_) => {
            none("Enter the extension's lengths and angle, or take it off.".to_owned())
        }
        Finding::BadWrench(_, error) => none(words::error(*error, unit)),
        Finding::Mark(_, wrench, Answer::OffScale { end, needed }) => {
            none(words::off_scale(*end, *needed, wrench))
        }
        Finding::Mark(spec, _, Answer::Set(reading)) => mark(spec, reading, known.extended),
    }
}

/// That a slip is likely.
fn slip(known: Memo<Known>) -> Option<Element> {
    let slip = known.with(|known| known.slip.filter(|_| !known.spec_unusable))?;
    Some(paragraph("doubt", words::slip(slip)))
}

fn no_mark(what: &'static str, why: String) -> Vec<Element> {
    vec![heading(what), paragraph("why-none", why)]
}

fn heading(text: &'static str) -> Element {
    element("h2").child(text)
}

fn figure(number: String, unit: &'static str) -> Element {
    paragraph("figure", element("span").class("number").child(number))
        .child(" ")
        .child(element("span").class("unit").child(unit))
}

fn mark(spec: &Spec, reading: &Reading, extended: bool) -> Vec<Element> {
    let (tone, verdict) = words::verdict(reading);
    let mark = reading.mark;
    vec![
        heading(if extended {
            "Mark on the wrench, extension on"
        } else {
            "Mark on the wrench"
        }),
        figure(
            words::bare(mark.value, mark.decimals),
            torque_mark(mark.unit),
        ),
        paragraph(tone.class(), verdict),
        paragraph("basis", words::band(spec, reading)),
    ]
}

/// Without a wrench's marks, the figure in the unit that it is marked in.
fn converted(spec: &Spec, known: &Known) -> Vec<Element> {
    let unit = known.wrench_unit;
    let shown = spec.shown_in(unit, unit.decimals());
    vec![
        heading("The makers' figure"),
        figure(
            words::bare(shown.nominal, shown.decimals),
            torque_mark(unit),
        ),
        words::allowed(spec, unit).map_or_else(
            || paragraph("basis", "No tolerance stated."),
            |range| paragraph("basis", format!("Allowed {range}.")),
        ),
        match known.wrench_lacks {
            Some(lacks) => paragraph("doubt", format!("{} Enter it below.", words::lacks(lacks))),
            None => paragraph(
                "basis",
                "Enter the wrench below for the mark to set and what it can promise.",
            ),
        },
    ]
}

fn spec(state: State, known: Memo<Known>) -> Element {
    let built_for = shape(state, |nuts| {
        let set = nuts.set();
        set.unit.map_or(9, |unit| unit as usize) * 10 + set.stated as usize
    });
    element("section")
        .class("card")
        .attr("aria-label", "Makers' figure")
        .child(keys(
            state,
            "Makers' torque, stated in",
            "nuts-unit",
            STATED_UNITS,
            |nuts| nuts.set().unit,
            |state, unit| {
                if let Some(unit) = unit {
                    change(state, |nuts| nuts.set_mut().restate(unit));
                }
            },
        ))
        .live(move || {
            follow(built_for);
            (nuts_now(state, |nuts| nuts.set().stated) != Stated::Range).then(|| nominal(state))
        })
        .child(keys(
            state,
            "Tolerance stated",
            "nuts-tolerance",
            TOLERANCES,
            |nuts| nuts.set().stated,
            |state, stated| {
                // A field that goes takes its unusable text along.
                let of = spec_id(nuts_now(state, |nuts| nuts.half));
                forget(state, &format!("{of}{TOLERANCE}"));
                if stated == Stated::Range {
                    forget(state, &format!("{of}{NOMINAL}"));
                }
                change(state, |nuts| nuts.set_mut().stated = stated);
            },
        ))
        .live(move || {
            follow(built_for);
            tolerance(state)
        })
        .live(move || known.with(conversions))
}

/// A number of the makers' figure.
fn stated(
    state: State,
    name: &str,
    label: &'static str,
    hint: &'static str,
    field: Field,
    slot: fn(&mut Nuts) -> &mut dyn Holds,
) -> Element {
    let (half, unit) = nuts_now(state, |nuts| (nuts.half, nuts.set().unit));
    let entry = match field.limit().unit {
        Unit::NewtonMetre => unit.map_or(Entry::TorqueUnset, Entry::Torque),
        other => Entry::Plain(other),
    };
    let id = format!("{}{name}", spec_id(half));
    number(state, id, label, hint, field, entry, slot)
}

fn nominal(state: State) -> Element {
    stated(
        state,
        NOMINAL,
        "Torque stated",
        "",
        Field::SpecTorque,
        |nuts| &mut nuts.set_mut().nominal,
    )
}

fn tolerance(state: State) -> Option<Element> {
    let side = |name: &str, label, slot: fn(&mut Nuts) -> &mut dyn Holds| {
        let name = format!("{TOLERANCE}{name}");
        stated(state, &name, label, "", Field::ToleranceValue, slot)
    };
    let end = |name: &str, label, slot: fn(&mut Nuts) -> &mut dyn Holds| {
        let name = format!("{TOLERANCE}{name}");
        stated(state, &name, label, "", Field::SpecTorque, slot)
    };
    let pair = |first, second| element("div").class("pair").child(first).child(second);
    match nuts_now(state, |nuts| nuts.set().stated) {
        Stated::Nothing => None,
        Stated::Percent => Some(stated(
            state,
            &format!("{TOLERANCE}percent"),
            "To either side",
            "",
            Field::TolerancePercent,
            |nuts| &mut nuts.set_mut().tolerance,
        )),
        Stated::PlusMinus => Some(side("either", "To either side", |nuts| {
            &mut nuts.set_mut().plus
        })),
        Stated::MinusPlus => Some(pair(
            side("minus", "Below", |nuts| &mut nuts.set_mut().minus),
            side("plus", "Above", |nuts| &mut nuts.set_mut().plus),
        )),
        Stated::Range => Some(pair(
            end("low", "From", |nuts| &mut nuts.set_mut().low),
            end("high", "To", |nuts| &mut nuts.set_mut().high),
        )),
    }
}

/// The figure in every other unit.
fn conversions(known: &Known) -> Option<Element> {
    let spec = known.finding.spec().filter(|_| !known.spec_unusable)?;
    let rows = TorqueUnit::ALL
        .into_iter()
        .filter(|unit| *unit != spec.unit());
    let rows = rows.map(|unit| {
        element("div")
            .child(element("dt").child(format!("In {}", torque_mark(unit))))
            .child(element("dd").child(words::spec(spec, unit)))
    });
    Some(rows.fold(element("dl").class("facts"), Element::child))
}

fn wrench(state: State) -> Element {
    let unit = shape(state, |nuts| nuts.wrench.unit as usize);
    let accuracy = shape(state, |nuts| nuts.wrench.accuracy as usize);
    let marks = move || {
        follow(unit);
        let entry = Entry::Torque(nuts_now(state, |nuts| nuts.wrench.unit));
        let mark = |name: &str, label, field, slot: fn(&mut Nuts) -> &mut dyn Holds| {
            number(
                state,
                format!("{WRENCH}{name}"),
                label,
                "",
                field,
                entry,
                slot,
            )
        };
        element("div")
            .class("pair")
            .child(mark("lowest", "Lowest mark", Field::LowestMark, |nuts| {
                &mut nuts.wrench.lowest
            }))
            .child(mark(
                "highest",
                "Highest mark",
                Field::HighestMark,
                |nuts| &mut nuts.wrench.highest,
            ))
            .child(mark("step", "Step", Field::MarkStep, |nuts| {
                &mut nuts.wrench.step
            }))
    };
    let entered = nuts_now(state, |nuts| matches!(nuts.wrench.wrench(), Ok(Some(_))));
    let details = element("details")
        .child(element("summary").child("Wrench: scale and accuracy"))
        .child(keys(
            state,
            "Scale marked in",
            "nuts-wrench-unit",
            UNITS,
            |nuts| nuts.wrench.unit,
            |state, unit| change(state, |nuts| nuts.wrench.restate(unit)),
        ))
        .live(marks)
        .child(list(
            state,
            "nuts-accuracy",
            "Accuracy",
            ACCURACIES,
            |nuts| nuts.wrench.accuracy,
            |state, accuracy| {
                forget(state, &format!("{WRENCH}percent"));
                change(state, |nuts| nuts.wrench.accuracy = accuracy);
            },
        ))
        .child(paragraph(
            "hint",
            "By its standard only where the wrench or its certificate says so; else by its maker. \
             Where nothing is said, have it tested.",
        ))
        .live(move || {
            follow(accuracy);
            let own = matches!(
                nuts_now(state, |nuts| nuts.wrench.accuracy),
                AccuracyFrom::OfReading | AccuracyFrom::OfFullScale
            );
            own.then(|| {
                number(
                    state,
                    format!("{WRENCH}percent"),
                    "May be off by",
                    "To either side.",
                    Field::WrenchAccuracy,
                    Entry::Plain(Unit::Percent),
                    |nuts| &mut nuts.wrench.maker_accuracy,
                )
            })
        });
    let details = if entered {
        details
    } else {
        details.attr("open", "")
    };
    element("section")
        .class("card")
        .attr("aria-label", "Wrench")
        .child(details)
}

fn adapter(state: State) -> Element {
    let fitted = shape(state, |nuts| usize::from(nuts.adapter.fitted));
    fn of(
        state: State,
        name: &str,
        label: &'static str,
        hint: &'static str,
        field: Field,
        slot: fn(&mut Nuts) -> &mut dyn Holds,
    ) -> Element {
        let entry = Entry::Plain(field.limit().unit);
        let id = format!("{WRENCH}{name}");
        number(state, id, label, hint, field, entry, slot)
    }
    element("section")
        .class("card")
        .attr("aria-label", "Extension")
        .child(tick(
            "Extension or crow's-foot on the wrench",
            move || fitted.get() == 1,
            move |ticked| {
                forget(state, &format!("{WRENCH}arm-"));
                change(state, |nuts| nuts.adapter.fitted = ticked);
            },
        ))
        .live(move || {
            (fitted.get() == 1).then(|| {
                vec![
                    of(
                        state,
                        "arm-handle",
                        "Drive to middle of grip",
                        "Where the hand pulls. Holding it elsewhere changes the torque.",
                        Field::HandleLength,
                        |nuts| &mut nuts.adapter.handle,
                    ),
                    of(
                        state,
                        "arm-length",
                        "Drive to middle of nut",
                        "",
                        Field::AdapterLength,
                        |nuts| &mut nuts.adapter.length,
                    ),
                    of(
                        state,
                        "arm-angle",
                        "Angle",
                        "0 straight on from the handle, 90 square to it, 180 back along it. \
                         Square changes nothing.",
                        Field::AdapterAngle,
                        |nuts| &mut nuts.adapter.angle,
                    ),
                ]
            })
        })
}

fn clamp(state: State, known: Memo<Known>) -> Element {
    let choices = vec![
        list(
            state,
            "nuts-thread",
            "Stud thread",
            [
                ("Choose…", None),
                ("M12×1.25", Some(Thread::M12Pitch125)),
                ("M12×1.5", Some(Thread::M12Pitch150)),
                ("M14×1.5", Some(Thread::M14Pitch150)),
                ("7/16-20 UNF", Some(Thread::SevenSixteenths20)),
                ("1/2-20 UNF", Some(Thread::Half20)),
                ("9/16-18 UNF", Some(Thread::NineSixteenths18)),
            ],
            |nuts| nuts.set().thread,
            |state, thread| change(state, |nuts| nuts.set_mut().thread = thread),
        ),
        list(
            state,
            "nuts-class",
            "Stud strength",
            [
                ("Choose…", None),
                ("Class 8.8 (ISO 898-1)", Some(PropertyClass::Iso8_8)),
                ("Class 10.9 (ISO 898-1)", Some(PropertyClass::Iso10_9)),
                ("Grade 5 (SAE J429)", Some(PropertyClass::Sae5)),
                ("Grade 8 (SAE J429)", Some(PropertyClass::Sae8)),
            ],
            |nuts| nuts.set().class,
            |state, class| change(state, |nuts| nuts.set_mut().class = class),
        ),
        keys(
            state,
            "Threads and seats",
            "nuts-threads",
            [
                ("Clean and dry", Surfaces::Dry),
                ("Oiled or greased", Surfaces::Lubricated),
            ],
            |nuts| nuts.set().threads,
            |state, threads| change(state, |nuts| nuts.set_mut().threads = threads),
        ),
    ];
    let loads = move || {
        let (thread, class, threads) = nuts(state, |nuts| {
            let set = nuts.set();
            (set.thread, set.class, set.threads)
        });
        known.with(|known| {
            let spec = known.finding.spec().filter(|_| !known.spec_unusable);
            match (spec, thread, class) {
                (Some(spec), Some(thread), Some(class)) => loads(spec, thread, class, threads),
                (None, ..) => vec![paragraph("", "The makers' torque comes first.")],
                _ => vec![paragraph(
                    "",
                    "Choose the thread and the strength. Both are stamped on the stud, or known to \
                     its maker.",
                )],
            }
        })
    };
    let details = element("details")
        .child(element("summary").child("Clamp load, and what oil would do"))
        .child(choices)
        .live(loads);
    element("section")
        .class("card")
        .attr("aria-label", "Clamp load")
        .child(details)
}

fn loads(spec: &Spec, thread: Thread, class: PropertyClass, threads: Surfaces) -> Vec<Element> {
    let torque = spec.nominal();
    let Ok(answer) = clamp_load(torque, thread, class, threads) else {
        return vec![paragraph("warning", "No clamp load for such a torque.")];
    };
    let row = |term, clamp| {
        element("div")
            .child(element("dt").child(term))
            .child(element("dd").child(words::clamp(&clamp)))
    };
    let facts = element("dl").class("facts");
    let facts = match threads {
        Surfaces::Dry => facts
            .child(row("Dry", answer.as_is))
            .child(row("With oil", answer.oiled)),
        Surfaces::Lubricated => facts.child(row("Oiled", answer.as_is)),
    };
    vec![
        paragraph(
            "",
            format!(
                "Pull in one stud at {}, by F = T/(K·d) with K 0.20 dry and 0.15 oiled.",
                words::torque(torque, spec.unit())
            ),
        ),
        facts,
        paragraph(
            "",
            "Friction scatters by 30 % to either side, more with rust, dirt or paint. This is an \
             insight, never a reason to change the makers' torque: they have counted on the \
             threads being as they say. Where it looks wrong, check thread and class, then ask \
             the maker.",
        ),
    ]
}

fn cautions() -> Element {
    let said = [
        "The makers' figure comes first: vehicle for the vehicle's wheels, caravan or axle for \
         the caravan's, and the wheel's own maker where the wheel is not the original.",
        "Threads and seats clean and dry, unless the maker says otherwise.",
        "Pull smoothly at the middle of the grip, and stop at the signal.",
        "A damaged stud or nut, or one that turns without stiffening, ends the job. In doubt, a \
         licensed tyre fitter.",
    ];
    element("section")
        .class("notice")
        .attr("aria-label", "Cautions")
        .child(heading("Before you pull"))
        .child(listed(said.into_iter().map(str::to_owned)))
}
