//! The current rig's nuts, being edited, and what follows from them.

use crate::calc::limits::Field;
use crate::calc::torque::TorqueUnit;
use crate::rig::Owner;
use crate::rig::nuts::{Finding, Nuts, Slip, WrenchLacks};
use crate::rig::position::Half;
use crate::rig::section::Entered;
use crate::ui::frame::state::State;
use crate::ui::kit::element::Element;
use crate::ui::kit::fields::{Holds, NumberField, Slot, choice, link, select};
use crate::ui::kit::follow::memo;
use crate::ui::kit::format::Entry;
use leptos::prelude::*;

/// Begins the ids of the wrench and of what is on it.
pub const WRENCH: &str = "nuts-wrench-";

/// Begins the ids of what the makers of one half state.
pub fn spec_id(half: Half) -> &'static str {
    match half {
        Half::Vehicle => "nuts-vehicle-",
        Half::Trailer => "nuts-trailer-",
    }
}

/// Reads the nuts; what calls this runs again when the rig changes.
pub fn nuts<T>(state: State, read: impl FnOnce(&Nuts) -> T) -> T {
    state.section::<Nuts>().read(read)
}

/// Reads the nuts once.
pub fn nuts_now<T>(state: State, read: impl FnOnce(&Nuts) -> T) -> T {
    state.section::<Nuts>().now(read)
}

/// Changes the nuts and keeps them.
pub fn change(state: State, change: impl FnOnce(&mut Nuts)) {
    let mut change = Some(change);
    change_boxed(state, &mut |nuts| {
        if let Some(change) = change.take() {
            change(nuts);
        }
    });
}

/// Written out once, not once for every use of [`change`].
fn change_boxed(state: State, change: &mut dyn FnMut(&mut Nuts)) {
    state.section::<Nuts>().change(|nuts| change(nuts));
}

/// A number of the nuts, typed as `entry`.
pub fn number(
    state: State,
    id: String,
    label: &'static str,
    hint: &'static str,
    field: Field,
    entry: Entry,
    slot: fn(&mut Nuts) -> &mut dyn Holds,
) -> Element {
    NumberField {
        of: Owner::Nothing,
        name: id.clone(),
        id,
        label: label.into(),
        hint,
        field,
        optional: true,
        slot: Slot::within(slot),
    }
    .view_as(state, entry)
}

/// One of several as keys, each a value of the nuts'.
pub fn keys<T: Copy + PartialEq + Send + Sync + 'static, const N: usize>(
    state: State,
    legend: &'static str,
    name: &'static str,
    options: [(&'static str, T); N],
    get: fn(&Nuts) -> T,
    set: fn(State, T),
) -> Element {
    choice(
        legend,
        name.to_owned(),
        "",
        options.iter().map(|(label, _)| *label).collect(),
        move || place(&options, nuts(state, get)),
        move |picked| set(state, options[picked].1),
    )
}

/// One of several in a list, each a value of the nuts'.
pub fn list<T: Copy + PartialEq + 'static, const N: usize>(
    state: State,
    id: &'static str,
    label: &'static str,
    options: [(&'static str, T); N],
    get: fn(&Nuts) -> T,
    set: fn(State, T),
) -> Element {
    select(
        id.to_owned(),
        label,
        options.iter().map(|(label, _)| *label).collect(),
        place(&options, nuts_now(state, get)),
        Box::new(move |picked| {
            if let Some((_, value)) = options.get(picked) {
                set(state, *value);
            }
        }),
    )
}

/// Beyond the options where none has the value: then none is picked.
fn place<T: PartialEq>(options: &[(&'static str, T)], value: T) -> usize {
    let place = options.iter().position(|(_, of)| *of == value);
    place.unwrap_or(options.len())
}

/// Follows something of the nuts that parts of the page are built anew for,
/// as a number: one type, and its code once.
pub fn shape(state: State, read: fn(&Nuts) -> usize) -> Memo<usize> {
    memo(move |_| nuts(state, read))
}

/// Builds what calls this anew when `shape` changes. Tracking alone would not
/// do: a memo that nothing reads is never worked out.
pub fn follow(shape: Memo<usize>) {
    shape.get();
}

/// The way to the converter, which touches no rig.
pub fn to_converter() -> Element {
    link("Convert a figure", "#/convert").class("button way-to")
}

/// Forgets unusable texts of fields that go.
pub fn forget(state: State, prefix: &str) {
    state
        .section::<Nuts>()
        .forget_drafts(|text| text.field.starts_with(prefix));
}

/// What is known of the mark now: nothing old while an entry is unusable.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// What was entered gives this.
    pub finding: Finding,
    /// The mark counts on an extension being on the wrench.
    pub extended: bool,
    /// Why the makers' figure is likely to be a slip.
    pub slip: Option<Slip>,
    /// What is missing of its accuracy, its scale being known.
    pub wrench_lacks: Option<WrenchLacks>,
    /// What the wrench is marked in.
    pub wrench_unit: TorqueUnit,
    /// A field of the makers' figure can't be used.
    pub spec_unusable: bool,
    /// A field of the wrench, or of what is on it, can't be used.
    pub wrench_unusable: bool,
}

impl Known {
    /// The finding, where nothing that it hangs on is unusable.
    pub fn current(&self) -> Option<&Finding> {
        let usable = !self.spec_unusable && !self.wrench_unusable;
        usable.then_some(&self.finding)
    }
}

/// Follows what is known of the mark.
pub fn known(state: State) -> Memo<Known> {
    memo(move |_| Known {
        finding: nuts(state, Nuts::finding),
        extended: nuts(state, |nuts| nuts.adapter.fitted),
        slip: nuts(state, |nuts| nuts.slip(nuts.half)),
        wrench_lacks: nuts(state, |nuts| nuts.wrench.lacks()),
        wrench_unit: nuts(state, |nuts| nuts.wrench.unit),
        spec_unusable: nuts(state, |nuts| nuts.is_unusable(spec_id(nuts.half))),
        wrench_unusable: nuts(state, |nuts| nuts.is_unusable(WRENCH)),
    })
}
