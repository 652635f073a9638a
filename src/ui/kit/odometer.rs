//! The odometer, entered wherever something hangs on it.

use crate::calc::limits::{Field, Unit};
use crate::rig::Owner;
use crate::rig::nuts::{LogEntry, Nuts};
use crate::rig::section::Entered;
use crate::rig::typed::TypedDistance;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::{NumberField, Slot, paragraph};
use crate::ui::kit::follow::memo;
use crate::ui::kit::format::{Entry, grouped};
use leptos::prelude::*;

const ID: &str = "nuts-odometer";

/// The odometer now, and that it can't run backwards.
pub fn odometer(state: State) -> Element {
    let backwards = memo(move |_| {
        let now = odometer_now(state)?.kilometres();
        let read = state.section::<Nuts>().read(|nuts| {
            let read = nuts.log.iter().filter_map(LogEntry::odometer_km);
            read.reduce(|a, b| if b > a { b } else { a })
        })?;
        (now < read).then_some(read)
    });
    element("div").child(field(state)).live(move || {
        let before = backwards.get()?;
        Some(paragraph(
            "doubt",
            format!(
                "Less than the {} km in the log. Look again.",
                grouped(before.floor())
            ),
        ))
    })
}

fn field(state: State) -> Element {
    NumberField {
        of: Owner::Nothing,
        name: ID.to_owned(),
        id: ID.to_owned(),
        label: "Odometer now".into(),
        hint: "May be left blank. Kept from last time, so look again.",
        field: Field::Odometer,
        optional: true,
        slot: Slot::within(|nuts: &mut Nuts| &mut nuts.odometer),
    }
    .view_as(state, Entry::Plain(Unit::Kilometre))
}

/// The odometer now; nothing while its field can't be used.
pub fn odometer_now(state: State) -> Option<TypedDistance> {
    state
        .section::<Nuts>()
        .read(|nuts| nuts.odometer.filter(|_| !nuts.is_unusable(ID)))
}
