//! The odometer, entered wherever something hangs on it.

use crate::calc::limits::{Field, Unit};
use crate::rig::Owner;
use crate::rig::nuts::Nuts;
use crate::rig::section::Entered;
use crate::rig::typed::TypedDistance;
use crate::ui::frame::state::State;
use crate::ui::kit::element::Element;
use crate::ui::kit::fields::{NumberField, Slot};
use crate::ui::kit::format::Entry;

const ID: &str = "nuts-odometer";

/// The odometer now.
pub fn odometer(state: State) -> Element {
    NumberField {
        of: Owner::Nothing,
        name: ID.to_owned(),
        id: ID.to_owned(),
        label: "Odometer now",
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
