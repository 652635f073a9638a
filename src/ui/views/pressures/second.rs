//! Masses that fall short of a second figure: a ticket, the mass as built, a
//! plate. Those are kept with the weights, which the first figures do without.

use crate::calc::doubt::Second;
use crate::rig::Units;
use crate::rig::weights::Weights;
use crate::rig::weights::ticket::Tickets;
use crate::ui::frame::state::State;
use crate::ui::kit::element::{Content, Element, element, live};
use crate::ui::kit::fields::{button, paragraph};
use crate::ui::kit::{format, tyre_names};

/// What is doubted, with the way to each entry; nothing where nothing is.
pub fn view(state: State) -> Content {
    live(move || said(state))
}

fn said(state: State) -> Option<Element> {
    let tickets = state.section::<Tickets>().read(Clone::clone);
    let (doubts, units) = state.section::<Weights>().with_rig(|rig, weights| {
        let doubts = weights.doubts(&tickets, rig).into_iter();
        let named = doubts.map(|(axle, of)| (axle, tyre_names::group(rig, axle), of));
        (named.collect::<Vec<_>>(), rig.units())
    });
    if doubts.is_empty() {
        return None;
    }
    let rows = doubts.into_iter().map(|(axle, name, of)| {
        element("li")
            .child(paragraph(
                "warning",
                format!("{name}: {}", words(of, units)),
            ))
            .child(button("Open its entry", move || state.go_to_field(axle)))
    });
    Some(rows.fold(element("ul").class("beside"), Element::child))
}

fn words(of: Second, units: Units) -> String {
    let mass = |mass| format::mass(units.mass, mass);
    let why = match of {
        Second::Ticket(ticket) => format!("the weighbridge ticket gives at least {}", mass(ticket)),
        Second::Empty(empty) => format!("empty it weighs about {} there", mass(empty)),
        Second::Plate(plate) => {
            format!(
                "it is less than two thirds of the {} on its plate",
                mass(plate)
            )
        }
    };
    format!(
        "Check the mass: {why}. Is a digit left out, misread or swapped with another? Is it one \
         side only?"
    )
}
