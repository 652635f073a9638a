//! The figures. Pure: no web crate, no clock, no storage, no text for the screen.
//!
//! Nothing in here panics on any input. Quantities carry their unit in their
//! type; values enter through [`limits::Field::check`] or a parser that uses it.

/// Makes an error of an enum: its message is the variant with what it holds, in
/// SI units, for a log or a failed test. The screen's words are the page's.
macro_rules! error_by_its_fields {
    ($name:ident) => {
        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                write!(f, "{self:?}")
            }
        }

        impl std::error::Error for $name {}
    };
}
pub(crate) use error_by_its_fields;

pub mod check;
mod digits;
pub mod doubt;
mod exact;
pub mod fill;
pub mod footprint;
pub mod gas;
pub mod limits;
pub mod load;
pub mod pressure;
pub mod quantity;
pub mod regime;
pub mod stated;
pub mod surface;
pub mod torque;
pub mod total;
pub mod tyre;
pub mod weights;

/// Sorts by rising numbers. For the few items of an entered list the library's
/// sorts are ten times the code, of which each use brings its own.
fn sort_by_number<T>(items: &mut [T], number: fn(&T) -> f64) {
    for end in 1..items.len() {
        let mut at = end;
        while at > 0 && number(&items[at]) < number(&items[at - 1]) {
            items.swap(at, at - 1);
            at -= 1;
        }
    }
}
