//! What all axles carry together, beside what a ticket says of it.

use crate::calc::limits::Field;
use crate::rig::section::Entered;
use crate::rig::weights::Weights;
use crate::rig::weights::total::{self, Held};
use crate::rig::{Owner, Rig};
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Element, element};
use crate::ui::kit::fields::{NumberField, Slot, paragraph};
use crate::ui::kit::fold::fold;
use crate::ui::kit::total_words;

/// The sum of the masses entered, and the field of the total that they are
/// held to.
pub(super) fn total(state: State) -> Element {
    let hint = if state.rig_now(Rig::has_trailer) {
        "Optional: all axles, loaded, hitched. It shows a digit misread."
    } else {
        "Optional: all axles, loaded. It shows a digit misread."
    };
    let field = NumberField::<Weights> {
        id: total::FIELD.to_owned(),
        of: Owner::Nothing,
        name: Weights::TOTAL.to_owned(),
        label: "Total on the ticket".into(),
        hint,
        field: Field::WeighedMass,
        optional: true,
        slot: Slot::within(|of: &mut Weights| &mut of.total),
    };
    let found = move || {
        state.section::<Weights>().with_rig(|rig, weights| {
            if let Some(found) = weights.not_the_total(rig) {
                return Some(paragraph("asked", total_words::not_the_total(rig, found)));
            }
            let sum = total::sum(rig)?;
            let held = weights.held(rig);
            let class = match held {
                Held::Limits(_) => "asked",
                Held::Not | Held::Whole => "said",
            };
            Some(paragraph(class, total_words::sum(rig, sum, held)))
        })
    };
    // Open where there is one, and what it says.
    let open = state
        .section::<Weights>()
        .now(|weights| weights.total.is_some() || weights.is_unusable(Weights::TOTAL));
    fold("axles-total".to_owned(), "Total of all axles", open)
        .child(field.view(state))
        .child(
            element("div")
                .class("findings")
                .attr("role", "status")
                .live(found),
        )
}
