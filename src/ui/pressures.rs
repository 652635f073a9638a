//! The pressures view: the surface ahead, and what each axle needs for it.

use super::state::{Outcome, State};
use super::widgets::{button, choice};
use super::{chart, format, words};
use crate::calc::pressure::{Answer, Decided, SealedReason, SpeedLimit};
use crate::calc::surface::Surface;
use crate::rig::{PressureUnit, Problem, Rig, Setting, Understood};
use leptos::prelude::*;

/// The view.
pub fn view(state: State) -> AnyView {
    let open = RwSignal::new(None::<usize>);
    let picked = Signal::derive(move || {
        let surface = state.rig(|rig| rig.surface);
        Surface::ALL
            .iter()
            .position(|s| crate::rig::Surface::from(*s) == surface)
            .unwrap_or(0)
    });
    let surfaces = choice(
        "Surface ahead",
        "surface",
        "surfaces",
        Surface::ALL
            .iter()
            .map(|s| words::surface((*s).into()))
            .collect(),
        picked,
        move |index| state.change(|rig| rig.surface = Surface::ALL[index].into()),
    );
    view! {
        {move || state.rig(|rig| rig.demo).then(|| demo_notice(state))}
        {surfaces}
        <section class="answers" aria-labelledby="answers-heading">
            {move || heading(state)}
            <ul class="axles">
                {move || {
                    let unit = state.rig(|rig| rig.unit);
                    let outcomes = state.outcomes.get();
                    outcomes
                        .into_iter()
                        .enumerate()
                        .map(|(index, outcome)| axle(state, unit, index, outcome, open))
                        .collect_view()
                }}
            </ul>
        </section>
        {move || cautions(state)}
        <p class="unseen" role="status" aria-live="polite">{move || announcement(state)}</p>
    }
    .into_any()
}

fn demo_notice(state: State) -> AnyView {
    view! {
        <aside class="notice demo" aria-label="Demo rig">
            <p><strong>"Invented demo rig."</strong> " Not for your tyres."</p>
            {button("Enter my rig", "primary", move || {
                state.reshape(|garage, shelf| {
                    let unit = garage.current().unit;
                    garage.add(shelf, Rig::empty("My rig", unit))
                });
                super::app::go_to("#/rig");
            })}
        </aside>
    }
    .into_any()
}

/// The least of the axles' speed limits: the rig drives at one speed.
fn rig_speed(outcomes: &[Outcome]) -> Option<SpeedLimit> {
    let limits = outcomes.iter().filter_map(|o| match &o.result {
        Some(Ok((_, answer))) => Some(answer.speed),
        _ => None,
    });
    limits.reduce(|a, b| match (a, b) {
        (SpeedLimit::UpTo(a), SpeedLimit::UpTo(b)) => SpeedLimit::UpTo(if b < a { b } else { a }),
        (SpeedLimit::UpTo(_), _) => a,
        (_, SpeedLimit::UpTo(_)) => b,
        (SpeedLimit::Posted { tyre: a }, SpeedLimit::Posted { tyre: b }) => SpeedLimit::Posted {
            tyre: a
                .into_iter()
                .chain(b)
                .reduce(|a, b| if b < a { b } else { a }),
        },
    })
}

fn heading(state: State) -> AnyView {
    let surface = state.rig(|rig| rig.surface);
    let speed = state.outcomes.with(|outcomes| rig_speed(outcomes));
    let speed = match speed {
        Some(SpeedLimit::UpTo(speed)) => format!("max {}", format::speed(speed)),
        Some(SpeedLimit::Posted { .. }) => "posted limit".to_owned(),
        None => String::new(),
    };
    view! {
        <div class="heading">
            <h2 id="answers-heading">{words::surface_heading(surface)}</h2>
            <p class="speed">{speed}</p>
        </div>
        <p class="cold">"Cold pressures: before driving, or 3 hours after."</p>
    }
    .into_any()
}

fn axle(
    state: State,
    unit: PressureUnit,
    index: usize,
    outcome: Outcome,
    open: RwSignal<Option<usize>>,
) -> AnyView {
    let Outcome {
        name,
        tyres,
        result,
    } = outcome;
    let title = view! {
        <h3>{name} <span class="tyres">{words::tyres(tyres)}</span></h3>
    };
    match result {
        Some(Ok((understood, answer))) => {
            let details = format!("axle-{index}-why");
            let is_open = move || open.get() == Some(index);
            let grave = answer
                .cautions
                .iter()
                .filter(|c| words::is_grave(**c))
                .map(|c| words::caution(*c, unit))
                .chain(
                    answer
                        .sealed
                        .own_refused
                        .map(|why| words::own_refused(why, unit)),
                )
                .map(|text| view! { <p class="warning">{text}</p> })
                .collect_view();
            let range = (answer.low != answer.high).then(|| {
                format!(
                    "{} · ",
                    format::pressure_range(unit, answer.low, answer.high)
                )
            });
            let (number, decided, speed) = (
                format::pressure_number(unit, answer.recommended),
                words::decided(answer.decided),
                words::speed_limit(answer.speed),
            );
            view! {
                <li class="axle">
                    <button
                        type="button"
                        class="row"
                        aria-expanded=move || is_open().to_string()
                        aria-controls=details.clone()
                        on:click=move |_| open.update(|o| *o = if *o == Some(index) { None } else { Some(index) })
                    >
                        {title}
                        <span class="figure">
                            <span class="number">{number}</span>
                            <span class="unit">{format::unit_mark(unit)}</span>
                        </span>
                        <span class="basis">{range}{decided}", "{speed}</span>
                        <span class="more" aria-hidden="true"></span>
                    </button>
                    {grave}
                    <div id=details class="why" hidden=move || !is_open()>
                        {move || is_open().then(|| why(state, unit, index, &understood, &answer))}
                    </div>
                </li>
            }
            .into_any()
        }
        Some(Err(problem)) => {
            let danger = words::is_danger(&problem);
            let text = match &problem {
                Problem::Tyre(crate::calc::tyre::designation::DesignationError::Empty) => {
                    "Enter the tyre and the load first.".to_owned()
                }
                problem => words::problem(problem, unit),
            };
            view! {
                <li class="axle none" class:danger=danger>
                    <div class="row">
                        {title}
                        <span class="figure">
                            {if danger { "Stop: no pressure is safe" } else { "No figure yet" }}
                        </span>
                    </div>
                    <p class="warning">{text}</p>
                    <a class="button" href="#/rig">"Open the rig page"</a>
                </li>
            }
            .into_any()
        }
        None => view! {
            <li class="axle none">
                <div class="row">{title}<span class="figure">"No figure"</span></div>
                <p class="warning">"An entry on the rig page can't be used. It is marked there."</p>
                <a class="button" href="#/rig">"Mend the entry"</a>
            </li>
        }
        .into_any(),
    }
}

/// What stands behind the figure.
fn why(
    state: State,
    unit: PressureUnit,
    index: usize,
    understood: &Understood,
    answer: &Answer,
) -> AnyView {
    let p = |pressure| format::pressure(unit, pressure);
    let axle = &understood.axle;
    let basis = state.rig_now(|rig| {
        rig.axles
            .get(index)
            .map(|axle| words::load_basis(axle, rig.uneven_load_percent))
    });
    let mut facts: Vec<(&'static str, String)> = vec![
        (
            "Load on a tyre",
            format!(
                "{}, {}",
                format::mass(axle.wheel_load),
                basis.unwrap_or_default()
            ),
        ),
        (
            "Load minimum here",
            format!(
                "{} at {}",
                p(answer.load_minimum),
                match answer.speed {
                    SpeedLimit::UpTo(speed) => format::speed(speed),
                    SpeedLimit::Posted { .. } => "80 km/h and above".to_owned(),
                }
            ),
        ),
        (
            "Load reserve",
            format!(
                "{} at {}",
                format::signed_percent(answer.reserve),
                p(answer.recommended)
            ),
        ),
    ];
    if let Some((low, high)) = answer.band {
        facts.push((
            "Band of practice",
            format!(
                "{} (common practice, no source)",
                format::pressure_range(unit, low, high)
            ),
        ));
        facts.push((
            "Sealed road",
            format!(
                "{}, {}",
                p(answer.sealed.pressure),
                words::decided(Decided::Sealed(answer.sealed.reason))
            ),
        ));
        facts.push(("Floor", p(axle.floor)));
    }
    facts.push(("Most allowed cold", p(answer.sealed.maximum)));
    if let SpeedLimit::Posted { tyre: Some(limit) } = answer.speed {
        facts.push(("Tyre's own limit", format::speed(limit)));
    }
    let held = answer.held.as_ref().map(|held| {
        view! { <p class="held">{words::held(held, axle.tyres, unit)}</p> }
    });
    let opinion = answer.sealed.stiffness_model.map(|other| {
        let capped = other.min(answer.sealed.maximum);
        view! {
            <p class="opinion">
                {format!(
                    "Methods differ: on sealed road the load table asks for {}, a published stiffness model for {}. {}",
                    p(answer.sealed.load_minimum),
                    p(capped),
                    if answer.recommended < other && answer.sealed.reason != SealedReason::Placard {
                        "Where in doubt, take the higher."
                    } else {
                        "The figure above meets both, or the placard."
                    },
                )}
            </p>
        }
    });
    let divisor = axle.capacity.passenger_divisor().then(|| {
        view! { <p>"A passenger tyre here counts for its load divided by 1.10."</p> }
    });
    let cautions = answer
        .cautions
        .iter()
        .filter(|c| !words::is_grave(**c) && !words::is_shared(**c))
        .map(|c| view! { <li>{words::caution(*c, unit)}</li> })
        .collect_view();
    view! {
        <p>{words::decided_why(answer.decided)}</p>
        {held}
        <div class="chart" inner_html=chart::svg(understood, answer, unit)></div>
        <ul class="legend" aria-hidden="true">
            <li class="l-point">"recommended"</li>
            <li class="l-minimum">"load minimum"</li>
            {answer.band.map(|_| view! { <li class="l-band">"band"</li> })}
            <li class="l-floor">"floor"</li>
        </ul>
        <dl class="facts">
            {facts
                .into_iter()
                .map(|(term, text)| view! { <div><dt>{term}</dt><dd>{text}</dd></div> })
                .collect_view()}
        </dl>
        {opinion}
        {divisor}
        <ul class="cautions">{cautions}</ul>
    }
    .into_any()
}

/// The cautions that hold for every axle, and whom the figures defer to.
fn cautions(state: State) -> AnyView {
    let unit = state.rig(|rig| rig.unit);
    let (sealed, trailer, practice) = state.rig(|rig| {
        let sealed = rig.surface == crate::rig::Surface::Sealed;
        (
            sealed,
            rig.has_trailer(),
            !sealed && rig.setting == Setting::Practice,
        )
    });
    // Said once for the rig, weightiest first.
    let mut shared: Vec<String> = Vec::new();
    if practice {
        shared.push("Set to practice: the bands are not held to the load tables.".to_owned());
    }
    state.outcomes.with(|outcomes| {
        for outcome in outcomes {
            if let Some(Ok((_, answer))) = &outcome.result {
                for caution in answer.cautions.iter().filter(|c| words::is_shared(**c)) {
                    let text = words::caution(*caution, unit);
                    if !shared.contains(&text) {
                        shared.push(text);
                    }
                }
            }
        }
    });
    if sealed && trailer {
        shared.push("Above 100 km/h with a trailer: check the local towing limit.".to_owned());
    }
    shared.push("Never let air out of a warm tyre to reach a cold sealed-road figure.".to_owned());
    view! {
        <section class="notice" aria-labelledby="cautions-heading">
            <h2 id="cautions-heading">"Before you drive"</h2>
            <ul class="cautions">
                {shared.into_iter().map(|text| view! { <li>{text}</li> }).collect_view()}
                <li>
                    "The tyre placard, the vehicle's, wheel's and tyre's makers and local law come \
                     first. In doubt, ask a licensed tyre fitter."
                </li>
            </ul>
        </section>
    }
    .into_any()
}

fn announcement(state: State) -> String {
    let (surface, unit) = state.rig(|rig| (rig.surface, rig.unit));
    state.outcomes.with(|outcomes| {
        let mut text = format!("{}.", words::surface_heading(surface));
        for outcome in outcomes {
            text += &match &outcome.result {
                Some(Ok((_, answer))) => format!(
                    " {} {}, {}.",
                    outcome.name,
                    format::pressure(unit, answer.recommended),
                    words::speed_limit(answer.speed)
                ),
                _ => format!(" {}: no figure.", outcome.name),
            };
        }
        text
    })
}
