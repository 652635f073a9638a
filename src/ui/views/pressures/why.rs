//! What stands behind an axle's figure.

use super::own;
use crate::calc::pressure::{Answer, Decided, SpeedLimit};
use crate::rig::footprint::FootprintOf;
use crate::rig::{PressureUnit, Surface, Understood, Units};
use crate::ui::frame::state::{State, go_to};
use crate::ui::kit::element::{Content, Element, element, live};
use crate::ui::kit::fields::{button, buttons, paragraph};
use crate::ui::kit::route;
use crate::ui::kit::{chart, format, tyre_names, words};
use leptos::prelude::*;

/// The id of the part of the page that explains a figure.
pub const WHY: &str = "why";

/// What stands behind the figure of the axle that was tapped.
pub fn view(state: State) -> Content {
    live(move || behind(state, state.explained.get()?))
}

fn why(
    state: State,
    units: Units,
    index: usize,
    understood: &Understood,
    answer: &Answer,
) -> Vec<Element> {
    let unit = units.pressure;
    let p = |pressure| format::pressure(unit, pressure);
    let axle = &understood.axle;
    let own_band = state.rig_now(|rig| rig.has_own_band(rig.surface));
    let basis = state.rig_now(|rig| {
        rig.axles
            .get(index)
            .map(|axle| words::load_basis(axle, rig.uneven_load.percent()))
    });
    // Practice may be slower than the surface's usual speed.
    let below = answer.recommended < answer.least;
    let mut facts: Vec<(&'static str, String)> = vec![
        (
            "Load on a tyre",
            format!(
                "{}, {}",
                format::mass(units.mass, axle.wheel_load),
                basis.unwrap_or_default()
            ),
        ),
        (
            "Least for the load here",
            match answer.speed {
                SpeedLimit::UpTo(_) if below => {
                    format!(
                        "{} at the surface's usual speed",
                        format::pressure_up(unit, answer.least)
                    )
                }
                SpeedLimit::UpTo(speed) => format!(
                    "{} up to {}",
                    format::pressure_up(unit, answer.least),
                    format::speed(speed)
                ),
                SpeedLimit::Posted { .. } => format::pressure_up(unit, answer.least),
            },
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
    if answer.band.is_some() {
        let tables = format::pressure_up(unit, answer.load_minimum);
        facts.push(("Load tables, at road speed", tables));
    }
    if let Some((low, high)) = answer.band {
        let range = format::pressure_range(unit, low, high);
        facts.push(if own_band {
            ("Your own band", range)
        } else {
            (
                "Usual band",
                format!("{range} (common practice, no source)"),
            )
        });
        facts.push((
            "Sealed road",
            format!(
                "{}, {}",
                p(answer.sealed.pressure),
                words::decided(Decided::Sealed(answer.sealed.reason), own_band)
            ),
        ));
        facts.push(("Floor", p(axle.floor)));
    }
    facts.push(("Most allowed cold", p(answer.sealed.maximum)));
    if let SpeedLimit::Posted { tyre: Some(limit) } = answer.speed {
        facts.push(("Tyre's own limit", format::speed(limit)));
    }
    let facts = facts.into_iter().map(|(term, text)| {
        element("div")
            .child(element("dt").child(term))
            .child(element("dd").child(text))
    });
    let mut parts = vec![paragraph("", words::decided_why(answer))];
    if let Some(held) = &answer.held {
        parts.push(paragraph("held", words::held(held, axle.tyres, units)));
    }
    parts.push(
        element("div")
            .class("chart")
            .markup(chart::svg(understood, answer, unit)),
    );
    parts.push(legend(answer.band.is_some()));
    parts.push(facts.fold(element("dl").class("facts"), Element::child));
    if let Some(other) = answer.sealed.stiffness_model {
        parts.push(paragraph(
            "opinion",
            words::methods_differ(&answer.sealed, other, unit),
        ));
    }
    if axle.shape.is_some() && words::meets_slow_rule(answer) {
        parts.push(paragraph("", words::slow_rule(axle.slow)));
    }
    if axle.capacity.passenger_divisor() {
        parts.push(paragraph(
            "",
            "A passenger tyre here counts for its load divided by 1.10.",
        ));
    }
    parts
}

fn legend(band: bool) -> Element {
    let item = |class, text| element("li").class(class).child(text);
    element("ul")
        .class("legend")
        .attr("aria-hidden", "true")
        .child(item("l-point", "recommended"))
        .child(item("l-minimum", "least for the load"))
        .child(band.then(|| item("l-band", "band")))
        .child(item("l-floor", "floor"))
}

fn behind(state: State, index: usize) -> Option<Element> {
    let (units, surface) = state.rig(|rig| (rig.units(), rig.surface));
    let name = state.rig(|rig| tyre_names::group(rig, index));
    let outcome = state
        .outcomes
        .with(|outcomes| outcomes.get(index).cloned())?;
    let Some(Ok((understood, answer))) = outcome.result else {
        return None;
    };
    let title = format!("{name}: {}", title(&answer, surface, units.pressure));
    let parts = why(state, units, index, &understood, &answer);
    let footprint = button("Its footprint", move || {
        let axle = state.rig_now(|rig| rig.axles.get(index).map(|axle| axle.id));
        state.section::<FootprintOf>().change(|of| {
            of.axle = axle.unwrap_or(of.axle);
            of.typed = false;
        });
        go_to(route::FOOTPRINT);
    });
    let close = button("Close", move || state.explained.set(None));
    Some(
        element("section")
            .class("why")
            .attr("id", WHY)
            .attr("aria-label", name)
            .child(element("h3").child(title))
            .child(own::view(state, understood.axle))
            .child(parts)
            .child(buttons().child(footprint).child(close)),
    )
}

fn title(answer: &Answer, surface: Surface, unit: PressureUnit) -> String {
    format!(
        "{} on {}",
        format::pressure(unit, answer.recommended),
        words::surface(surface).to_ascii_lowercase()
    )
}
