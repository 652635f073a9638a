//! My figure: what a person runs by habit, judged for one axle and surface.

use crate::calc::limits::{Field, Unit};
use crate::calc::pressure;
use crate::rig::Rig;
use crate::rig::typed::TypedPressure;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element, live, typed};
use crate::ui::kit::fields::{buttons, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::format::Entry;
use crate::ui::kit::{format, judged as said, words};
use leptos::prelude::*;

const FIELD: &str = "my-figure";

/// The field and its answer. What is typed here is a question: it is kept only
/// as the rig's own band, where that is asked for.
pub fn view(state: State, axle: pressure::Axle) -> Element {
    let units = state.rig_now(Rig::units);
    let entry = Entry::of(Unit::KiloPascal, units);
    let text = RwSignal::new(String::new());
    let value = memo(move |_| {
        let limit = Field::BandPressure.limit();
        match text.with(|text| entry.read(text)) {
            Ok(None) => Ok(None),
            Ok(Some(amount)) => Field::BandPressure
                .check(amount.in_limit_unit())
                .map(|_| TypedPressure::of(amount))
                .map_err(|error| words::outside(error, entry)),
            Err(error) => Err(words::entry_error(error, limit, entry)),
        }
    });
    let input = element("input")
        .attr("id", FIELD)
        .attr("type", "text")
        .attr("inputmode", "decimal")
        .attr("autocomplete", "off")
        .attr("maxlength", "12")
        .attr("aria-describedby", "my-figure-said")
        .value_live(move || text.get())
        .on("input", move |event| text.set(typed(&event)));
    let answer = live(move || match value.get() {
        Ok(None) => None,
        Err(wrong) => Some(vec![paragraph("error", wrong)]),
        Ok(Some(typed)) => Some(verdict(state, axle, typed)),
    });
    element("div")
        .class("field my-figure")
        .child(
            element("label")
                .attr("for", FIELD)
                .child(format!("What I run here ({})", entry.mark())),
        )
        .child(input)
        .child(
            element("div")
                .attr("id", "my-figure-said")
                .attr("role", "status")
                .child(answer),
        )
}

fn verdict(state: State, axle: pressure::Axle, typed: TypedPressure) -> Vec<Element> {
    let own = typed.quantity();
    let (units, surface, band) = state.rig(|rig| {
        let band = rig.band(rig.surface).ok().flatten();
        (rig.units(), rig.surface, band)
    });
    let judged = match axle.judge(own, surface, band, units.pressure.step()) {
        Ok(judged) => judged,
        Err(refusal) => {
            let problem = crate::rig::Problem::Refused(refusal);
            return vec![paragraph("warning", words::problem(&problem, units))];
        }
    };
    let (good, text) = said::judged(judged, units);
    let mut parts = vec![paragraph(if good { "good" } else { "warning" }, text)];
    let may_be_kept = !matches!(
        judged,
        pressure::Judged::AboveMaximum { .. } | pressure::Judged::BelowFloor { .. }
    );
    if band.is_some() && may_be_kept {
        let label = format!(
            "Keep {} as my band on {}, all axles",
            format::pressure(units.pressure, own),
            words::surface(surface).to_ascii_lowercase()
        );
        let keep = element("button")
            .attr("type", "button")
            .child(label)
            .on("click", move |_| {
                state.change(|rig| rig.keep_as_band(surface, typed));
            });
        parts.push(buttons().child(keep));
        parts.push(paragraph(
            "hint",
            "It changes every axle's figure here. What it is short of the tables stays said beside the number; the band can be changed back on the rig page, under Settings.",
        ));
    }
    parts
}
