//! Parts of a view: headings, folds, rows, pairs of fields.

use crate::calc::quantity::GaugePressure;
use crate::rig::PressureUnit;
use crate::ui::kit::element::{Element, Node, element};
use crate::ui::kit::{format, words};

/// A heading with its id.
pub fn heading(id: &'static str, text: impl Node) -> Element {
    element("h2").attr("id", id).child(text)
}

/// A part of the view with a heading.
pub fn part(id: &'static str, title: &'static str) -> Element {
    element("section")
        .class("card")
        .attr("aria-labelledby", id)
        .child(heading(id, title))
}

/// A part of the view with a heading, closed until tapped.
pub fn closed(title: &'static str) -> Element {
    element("details")
        .class("card")
        .child(element("summary").child(element("h2").child(title)))
}

/// A smaller part that opens at a tap.
pub fn fold(title: &'static str) -> Element {
    element("details")
        .class("fold")
        .child(element("summary").child(title))
}

/// A row with an axle's name, a pressure and what stands below its name.
pub fn row(
    heading: &'static str,
    name: &'static str,
    tyres: u8,
    figure: Option<(PressureUnit, GaugePressure, &'static str)>,
    basis: String,
) -> Element {
    let title = element(heading).child(name).child(" ").child(
        element("span")
            .class("tyres")
            .child((tyres > 0).then(|| words::tyres(tyres.into()))),
    );
    let number = element("span").class("figure");
    let number = match figure {
        None => number.child("No figure"),
        Some((unit, pressure, mark)) => number
            .child(
                element("span")
                    .class("number")
                    .child(format::pressure_number(unit, pressure)),
            )
            .child(" ")
            .child(
                element("span")
                    .class("unit")
                    .child(format!("{}{mark}", format::unit_mark(unit))),
            ),
    };
    element("div")
        .class("row")
        .child(title)
        .child(number)
        .child(element("span").class("basis").child(basis))
}

/// Two fields side by side.
pub fn pair(left: Element, right: Element) -> Element {
    element("div").class("pair").child(left).child(right)
}
