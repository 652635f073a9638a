//! Controls that the views share.

use super::format::Entry;
use super::state::{Draft, State};
use super::words;
use crate::calc::limits::{Field, Unit};
use crate::rig::{PressureUnit, Rig};
use leptos::prelude::*;

/// One of several, as a row of large keys.
pub fn choice(
    legend: &'static str,
    name: &'static str,
    class: &'static str,
    options: Vec<&'static str>,
    picked: Signal<usize>,
    pick: impl Fn(usize) + Copy + 'static,
) -> AnyView {
    let keys = options
        .into_iter()
        .enumerate()
        .map(|(index, label)| {
            view! {
                <label class="key">
                    <input
                        type="radio"
                        name=name
                        prop:checked=move || picked.get() == index
                        on:change=move |_| pick(index)
                    />
                    <span>{label}</span>
                </label>
            }
            .into_any()
        })
        .collect_view();
    view! {
        <fieldset class=format!("choice {class}")>
            <legend>{legend}</legend>
            <div class="keys">{keys}</div>
        </fieldset>
    }
    .into_any()
}

/// A box to tick.
pub fn tick(label: &'static str, ticked: Signal<bool>, set: impl Fn(bool) + 'static) -> AnyView {
    view! {
        <label class="tick">
            <input
                type="checkbox"
                prop:checked=move || ticked.get()
                on:change=move |event| set(event_target_checked(&event))
            />
            <span>{label}</span>
        </label>
    }
    .into_any()
}

/// A plain button.
pub fn button(label: &'static str, class: &'static str, press: impl Fn() + 'static) -> AnyView {
    view! {
        <button type="button" class=class on:click=move |_| press()>
            {label}
        </button>
    }
    .into_any()
}

type Reader = dyn Fn(&Rig) -> Option<f64>;
type Writer = dyn Fn(&mut Rig, Option<f64>);

/// Where a number field keeps its value.
pub struct Slot {
    /// Reads it.
    pub get: Box<Reader>,
    /// Writes it.
    pub set: Box<Writer>,
}

/// A number with its unit: text in the field, the value derived from it.
pub struct NumberField {
    /// Names it within the rig.
    pub id: String,
    /// What it is, without its unit.
    pub label: &'static str,
    /// Where to find it, or what it does.
    pub hint: &'static str,
    /// What it may be.
    pub field: Field,
    /// The axle it belongs to.
    pub axle: Option<usize>,
    /// Whether it may be left blank.
    pub optional: bool,
    /// Where it is kept.
    pub slot: Slot,
}

impl NumberField {
    /// Reads typed text: the value, or what is wrong with it.
    fn read(&self, text: &str, unit: PressureUnit) -> Result<Option<f64>, String> {
        let limit = self.field.limit();
        let value = entry(self.field, unit)
            .read(text)
            .map_err(|error| words::entry_error(error, limit, unit))?;
        match value {
            Some(value) => self
                .field
                .check(value)
                .map(Some)
                .map_err(|error| words::out_of_range(error, unit)),
            None if self.optional => Ok(None),
            None => Err(format!("This is needed. {}", words::allowed(limit, unit))),
        }
    }

    /// The field.
    pub fn view(self, state: State) -> AnyView {
        let unit = state.rig_now(|rig| rig.unit);
        let id = self.id.clone();
        let (hint_id, error_id) = (format!("{id}-hint"), format!("{id}-error"));
        let described = format!("{hint_id} {error_id}");
        let draft = state
            .drafts
            .with_untracked(|drafts| drafts.get(&id).map(|d| d.text.clone()));
        let text = RwSignal::new(draft.unwrap_or_else(|| {
            state
                .rig_now(|rig| (self.slot.get)(rig))
                .map(|value| entry(self.field, unit).show(value))
                .unwrap_or_default()
        }));
        let (label, hint, mark) = (self.label, self.hint, entry(self.field, unit).mark());
        let this = StoredValue::new_local(self);
        let error = Memo::new(move |_| {
            text.with(|text| this.with_value(|this| this.read(text, unit).err()))
        });
        // A half-typed number is no mistake yet: it is said on leaving.
        let left = RwSignal::new(error.get_untracked().is_some());
        let key = id.clone();
        let typed = move |now: String| {
            this.with_value(|this| match this.read(&now, unit) {
                Ok(value) => {
                    state.drafts.update(|drafts| {
                        drafts.remove(&key);
                    });
                    state.change(|rig| (this.slot.set)(rig, value));
                }
                Err(_) => state.drafts.update(|drafts| {
                    let draft = Draft {
                        axle: this.axle,
                        text: now.clone(),
                    };
                    drafts.insert(key.clone(), draft);
                }),
            });
            text.set(now);
        };
        let said = move || if left.get() { error.get() } else { None };
        view! {
            <div class="field" class:wrong=move || said().is_some()>
                <label for=id.clone()>{label} " " <span class="unit">{mark}</span></label>
                <input
                    id=id
                    type="text"
                    inputmode="decimal"
                    autocomplete="off"
                    maxlength="20"
                    aria-describedby=described
                    aria-invalid=move || said().is_some().to_string()
                    prop:value=move || text.get()
                    on:input=move |event| typed(event_target_value(&event))
                    on:blur=move |_| left.set(true)
                    on:focus=move |_| left.set(error.get_untracked().is_some())
                />
                <p class="hint" id=hint_id>{hint}</p>
                <p class="error" id=error_id>{said}</p>
            </div>
        }
        .into_any()
    }
}

fn entry(field: Field, unit: PressureUnit) -> Entry {
    match field.limit().unit {
        Unit::KiloPascal => Entry::Pressure(unit),
        other => Entry::Plain(other),
    }
}
