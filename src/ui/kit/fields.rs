//! Controls that the views share.

use crate::calc::limits::Field;
use crate::calc::tyre::designation::{Designation, DesignationError};
use crate::rig::section::Entered;
use crate::rig::typed::{Amount, Kind, Measure, Typed};
use crate::rig::{Owner, PressureUnit, Rig, Unusable};
use crate::ui::frame::state::{Kept, State, go_to};
use crate::ui::kit::element::{Content, Element, Node, element, live, typed};
use crate::ui::kit::follow::memo;
use crate::ui::kit::format::{self, Entry};
use crate::ui::kit::words;
use leptos::prelude::*;
use leptos::wasm_bindgen::JsCast;
use leptos::web_sys::HtmlElement;
use std::borrow::Cow;
use std::rc::Rc;
use std::time::Duration;

/// One of several, as a row of large keys.
pub fn choice(
    legend: &'static str,
    name: String,
    class: &'static str,
    options: Vec<&'static str>,
    picked: impl Fn() -> usize + Send + Sync + 'static,
    pick: impl Fn(usize) + 'static,
) -> Element {
    boxed_choice(
        legend,
        name,
        class,
        options,
        Box::new(picked),
        Rc::new(pick),
    )
}

/// Written out once, not once for every use of [`choice`].
fn boxed_choice(
    legend: &'static str,
    name: String,
    class: &'static str,
    options: Vec<&'static str>,
    picked: Box<dyn Fn() -> usize + Send + Sync>,
    pick: Rc<dyn Fn(usize)>,
) -> Element {
    // Compared once per change, not once per key.
    let picked = memo(move |_| picked());
    let keys = options.into_iter().enumerate().map(|(index, label)| {
        let pick = Rc::clone(&pick);
        let key = element("input")
            .attr("type", "radio")
            .attr("name", name.clone())
            .checked_live(move || picked.get() == index)
            .on("change", move |_| pick(index));
        element("label")
            .class("key")
            .child(key)
            .child(element("span").child(label))
    });
    let keys = keys.fold(element("div").class("keys"), Element::child);
    element("fieldset")
        .attr("class", format!("choice {class}"))
        .child(element("legend").child(legend))
        .child(keys)
}

/// One of several, picked from a list; it starts at `picked`.
pub fn select(
    id: String,
    label: &'static str,
    options: Vec<&'static str>,
    picked: usize,
    pick: Box<dyn Fn(usize)>,
) -> Element {
    let list = element("select")
        .attr("id", id.clone())
        .on("change", move |event| {
            if let Ok(index) = typed(&event).parse() {
                pick(index);
            }
        });
    let options = options.into_iter().enumerate().map(|(index, name)| {
        let option = element("option")
            .attr("value", index.to_string())
            .child(name);
        if index == picked {
            option.attr("selected", "")
        } else {
            option
        }
    });
    element("div")
        .class("field")
        .child(element("label").attr("for", id).child(label))
        .child(options.fold(list, Element::child))
}

/// A box to tick.
pub fn tick(
    label: &'static str,
    ticked: impl Fn() -> bool + 'static,
    set: impl Fn(bool) + 'static,
) -> Element {
    let input = element("input")
        .attr("type", "checkbox")
        .checked_live(ticked)
        .on("change", move |event| set(event_target_checked(&event)));
    element("label")
        .class("tick")
        .child(input)
        .child(element("span").child(label))
}

/// A plain button.
pub fn button(label: &'static str, press: impl Fn() + 'static) -> Element {
    element("button")
        .attr("type", "button")
        .child(label)
        .on("click", move |_| press())
}

/// A link that looks like a button.
pub fn link(label: &'static str, href: impl Into<Cow<'static, str>>) -> Element {
    element("a").class("button").attr("href", href).child(label)
}

/// What was just done, beside the key that takes it back.
pub fn done(said: String, back: Element) -> Element {
    element("div")
        .class("notice")
        .attr("role", "status")
        .child(paragraph("", said))
        .child(back)
}

/// Puts the focus on an element, once the page has followed what was done.
/// What is folded away could not take it, so its folds are opened.
pub fn focus_soon(id: String) {
    request_animation_frame(move || {
        let element = document().get_element_by_id(&id);
        let fold = |of: &leptos::web_sys::Element| {
            let fold = of.closest("details:not([open])").ok().flatten();
            fold.map(|fold| fold.set_attribute("open", ""))
        };
        while element.as_ref().and_then(fold).is_some() {}
        if let Some(element) = element.and_then(|e| e.dyn_into::<HtmlElement>().ok()) {
            let _ = element.focus();
        }
    });
}

/// A row of buttons.
pub fn buttons() -> Element {
    element("div").class("buttons")
}

/// A paragraph.
pub fn paragraph(class: &'static str, text: impl Node) -> Element {
    element("p").class(class).child(text)
}

/// A list of things said.
pub fn listed(texts: impl Iterator<Item = String>) -> Element {
    texts
        .map(|text| element("li").child(text))
        .fold(element("ul").class("cautions"), Element::child)
}

/// While the rig is the invented one: that it is, and the way to one's own.
pub fn demo_notice(state: State, strong: &'static str, says: &'static str) -> Content {
    live(move || {
        state.rig(|rig| rig.demo).then(|| {
            let says = element("p")
                .child(element("strong").child(strong))
                .child(says);
            let enter = button("Enter my rig", move || {
                state.add_rig(|rig| Rig::another("My rig", rig.units()));
                go_to("#/rig");
            });
            element("aside")
                .class("notice demo")
                .attr("aria-label", "Demo rig")
                .child(says)
                .child(enter.class("primary"))
        })
    })
}

type GetAmount<S> = dyn Fn(&S) -> Option<Amount>;
type SetAmount<S> = dyn Fn(&mut S, Option<Amount>);

/// A place within a section where an amount may stand, of whatever kind.
pub trait Holds {
    /// The amount.
    fn amount(&self) -> Option<Amount>;

    /// Puts one there, if it is of the place's kind.
    fn put(&mut self, amount: Option<Amount>);
}

impl<K: Kind> Holds for Option<Typed<K>> {
    fn amount(&self) -> Option<Amount> {
        self.map(Typed::amount)
    }

    fn put(&mut self, amount: Option<Amount>) {
        *self = amount.and_then(Typed::of);
    }
}

/// Where a number field of a section keeps its value.
pub struct Slot<S> {
    /// Reads it.
    pub get: Box<GetAmount<S>>,
    /// Writes it.
    pub set: Box<SetAmount<S>>,
}

impl<S: Clone + 'static> Slot<S> {
    /// A place for a typed quantity within the section.
    pub fn within(slot: fn(&mut S) -> &mut dyn Holds) -> Self {
        Self {
            get: Box::new(move |section| slot(&mut section.clone()).amount()),
            set: Box::new(move |section, amount| slot(section).put(amount)),
        }
    }
}

/// A number with its unit: text in the field, the value derived from it.
pub struct NumberField<S> {
    /// Names its element on the page.
    pub id: String,
    /// What a text in it that can't be used belongs to.
    pub of: Owner,
    /// Names it among its owner's fields, in records.
    pub name: String,
    /// What it is, without its unit.
    pub label: Cow<'static, str>,
    /// Where to find it, or what it does.
    pub hint: &'static str,
    /// What it may be.
    pub field: Field,
    /// Whether it may be left blank.
    pub optional: bool,
    /// Where it is kept.
    pub slot: Slot<S>,
}

impl<S: Entered> NumberField<S> {
    /// The field.
    pub fn view(self, state: State) -> Element {
        let entry = Entry::of(self.field.limit().unit, state.rig_now(Rig::units));
        self.view_as(state, entry)
    }

    /// The field, its value typed as `entry`.
    pub fn view_as(self, state: State, entry: Entry) -> Element {
        let Self {
            id,
            of,
            name,
            label,
            hint,
            field,
            optional,
            slot,
        } = self;
        let place = InSection {
            kept: state.section::<S>(),
            of,
            name,
            slot,
        };
        Number {
            id,
            label,
            hint,
            field,
            optional,
            place: Box::new(place),
        }
        .view_as(entry)
    }
}

/// Where a field's value and its text are, of whatever section.
trait Place {
    /// The value.
    fn value(&self) -> Option<Amount>;

    /// The text in the field that can't be used, if there is one, as it reads
    /// where a bare number is meant in `shown`.
    fn draft(&self, shown: Option<Measure>) -> Option<String>;

    /// Keeps a value, or a text that can't be used.
    fn keep(&self, read: Result<Option<Amount>, (String, Option<Measure>)>);
}

struct InSection<S> {
    kept: Kept<S>,
    of: Owner,
    name: String,
    slot: Slot<S>,
}

impl<S: Entered> Place for InSection<S> {
    fn value(&self) -> Option<Amount> {
        self.kept.now(|section| (self.slot.get)(section))
    }

    fn draft(&self, shown: Option<Measure>) -> Option<String> {
        self.kept
            .now(|section| draft(section.texts(), self.of, &self.name, shown))
    }

    fn keep(&self, read: Result<Option<Amount>, (String, Option<Measure>)>) {
        self.kept.change(|section| {
            if let Some(value) = settle(section.texts_mut(), self.of, &self.name, read) {
                (self.slot.set)(section, value);
            }
        });
    }
}

/// The text of a field among those that can't be used.
#[inline(never)]
fn draft(texts: &[Unusable], of: Owner, name: &str, shown: Option<Measure>) -> Option<String> {
    let draft = texts.iter().find(|text| text.is_in(of, name));
    draft.map(|draft| draft.shown_in(shown))
}

/// Puts a text that can't be used in the place of its field's last one, or
/// gives the value that is to be kept.
#[inline(never)]
fn settle(
    texts: &mut Vec<Unusable>,
    of: Owner,
    name: &str,
    read: Result<Option<Amount>, (String, Option<Measure>)>,
) -> Option<Option<Amount>> {
    texts.retain(|text| !text.is_in(of, name));
    let (text, meant) = match read {
        Ok(value) => return Some(value),
        Err(draft) => draft,
    };
    texts.push(Unusable {
        of,
        field: name.to_owned(),
        text,
        meant,
        ..Unusable::default()
    });
    None
}

/// A field, written out once for all sections.
struct Number {
    id: String,
    label: Cow<'static, str>,
    hint: &'static str,
    field: Field,
    optional: bool,
    place: Box<dyn Place>,
}

impl Number {
    /// Reads typed text: the value, or what is wrong with it.
    fn read(&self, text: &str, entry: Entry) -> Result<Option<Amount>, String> {
        let limit = self.field.limit();
        // A stored value is shown rounded: 100 kPa as 14.5 psi, which read
        // back would be a little less, and here too low.
        let stored = self.place.value();
        if stored.is_some_and(|stored| entry.show_amount(stored) == text) {
            return Ok(stored);
        }
        let amount = entry
            .read_within(text, limit)
            .map_err(|error| words::entry_error(error, limit, entry))?;
        match amount {
            Some(amount) => self
                .field
                .check(amount.in_limit_unit())
                .map(|_| Some(amount))
                .map_err(|error| words::outside(error, entry)),
            None if self.optional => Ok(None),
            None => Err(format!("This is needed. {}", words::allowed(limit, entry))),
        }
    }

    /// What the field starts with: a text that could not be used, or the value.
    fn text(&self, entry: Entry) -> String {
        self.place.draft(entry.measure()).unwrap_or_else(|| {
            self.place
                .value()
                .map(|value| entry.show_amount(value))
                .unwrap_or_default()
        })
    }

    /// Takes a text that could not be used and now can: in another unit it may
    /// be within the limits.
    fn take_up(&self, entry: Entry) {
        if let Some(text) = self.place.draft(entry.measure())
            && self.read(&text, entry).is_ok()
        {
            self.take(entry, &text);
        }
    }

    /// Takes typed text: into the section, or aside as a draft.
    fn take(&self, entry: Entry, text: &str) {
        // A torque's unit is chosen beside it, also after its digits.
        let meant = match entry {
            Entry::Torque(_) => None,
            entry => entry.measure(),
        };
        let read = self.read(text, entry);
        let read = read.map_err(|_| (text.to_owned(), meant));
        self.place.keep(read);
    }

    /// The field, its value typed as `entry`.
    fn view_as(self, entry: Entry) -> Element {
        let id = self.id.clone();
        let (hint_id, error_id) = (format!("{id}-hint"), format!("{id}-error"));
        let label = element("label")
            .attr("for", id.clone())
            .child(self.label.clone())
            .child(" ")
            .child(
                element("span")
                    .class("unit")
                    .child(format!("({})", entry.mark())),
            );
        let hint = paragraph("hint", self.hint).attr("id", hint_id.clone());
        self.take_up(entry);
        let text = RwSignal::new(self.text(entry));
        // Some phones' keypads for decimals have no minus.
        let below_zero = self.field.limit().min < 0.0;
        let keypad = if below_zero { "text" } else { "decimal" };
        let this = StoredValue::new_local(self);
        let error =
            memo(move |_| text.with(|text| this.with_value(|this| this.read(text, entry).err())));
        // That the unit comes first is no mistake, and said at once. A
        // half-typed number is none yet: it is said on leaving.
        let waits = entry == Entry::TorqueUnset;
        let left = RwSignal::new(waits || error.get_untracked().is_some());
        let said = memo(move |_| if left.get() { error.get() } else { None });
        let input = element("input")
            .attr("id", id)
            .attr("type", "text")
            .attr("inputmode", keypad)
            .attr("autocomplete", "off")
            .attr("maxlength", "20")
            .attr("aria-describedby", format!("{hint_id} {error_id}"))
            .attr_live("aria-invalid", move || {
                Some((!waits && said.with(Option::is_some)).to_string())
            })
            .value_live(move || text.get())
            .on("input", move |event| {
                let now = typed(&event);
                this.with_value(|this| this.take(entry, &now));
                text.set(now);
            })
            .on("blur", move |_| soon_left(left));
        element("div")
            .attr_live("class", move || {
                Some(field_class(!waits && said.with(Option::is_some)))
            })
            .child(label)
            .child(input)
            .child(hint)
            .child(
                element("p")
                    .class(if waits { "first" } else { "error" })
                    .attr("id", error_id)
                    .child(live(move || said.get())),
            )
    }
}

/// Has a field say what is wrong, once the tap that left it was taken: said at
/// once, it would move the key away from under the finger.
pub fn soon_left(left: RwSignal<bool>) {
    const AFTER_A_TAP: Duration = Duration::from_millis(200);
    let say = move || {
        // The field may have gone with the tap.
        let _ = left.try_set(true);
    };
    set_timeout(say, AFTER_A_TAP);
}

/// The class of a field's frame.
pub fn field_class(wrong: bool) -> String {
    if wrong { "field wrong" } else { "field" }.to_owned()
}

/// A field for a tyre's designation, which starts as `now`.
pub fn designation(state: State, id: String, now: String, keep: Box<dyn Fn(String)>) -> Element {
    let said_id = format!("{id}-said");
    let text = RwSignal::new(now);
    let read = move || text.with(|text| Designation::read(text));
    // Half of it is no mistake yet: that is said on leaving.
    let left = RwSignal::new(true);
    let wrong = move || left.get() && !matches!(read(), Ok(_) | Err(DesignationError::Empty));
    let said = move || {
        let units = state.rig_now(Rig::units);
        match read() {
            Ok(tyre) => {
                let said = words::designation(&tyre.designation, units.mass);
                said + &words::passed_over(&tyre.passed_over)
            }
            Err(error) => words::designation_error(&error, units.pressure),
        }
    };
    let input = element("input")
        .attr("id", id.clone())
        .attr("type", "text")
        .attr("autocomplete", "off")
        .attr("autocapitalize", "characters")
        .attr("spellcheck", "false")
        .attr("maxlength", Designation::LONGEST.to_string())
        .attr("aria-describedby", said_id.clone())
        .attr_live("aria-invalid", move || Some(wrong().to_string()))
        .value_live(move || text.get())
        .on("input", move |event| {
            let now = typed(&event);
            keep(now.clone());
            text.set(now);
        })
        .on("focus", move |_| left.set(false))
        .on("blur", move |_| soon_left(left));
    element("div")
        .attr_live("class", move || Some(field_class(wrong())))
        .child(
            element("label")
                .attr("for", id)
                .child("Tyre, as its sidewall says"),
        )
        .child(input)
        .child(element("p").class("said").attr("id", said_id).live(said))
}

/// The unit beside a number: a key that shows every pressure in the next unit.
pub fn unit_key(state: State, unit: PressureUnit) -> Element {
    let all = PressureUnit::ALL;
    let at = all.iter().position(|of| *of == unit).unwrap_or(0);
    let next = all[(at + 1) % all.len()];
    let says = format!(
        "{}, show {}",
        format::unit_mark(unit),
        format::unit_mark(next)
    );
    element("button")
        .class("unit-key")
        .attr("type", "button")
        .attr("aria-label", says)
        .child(format::unit_mark(unit))
        .on("click", move |_| {
            state.reshape(|garage, shelf| {
                garage.change(shelf, |rig: &mut Rig| {
                    rig.unit = next;
                })
            });
        })
}
