//! The figures. Pure: no web crate, no clock, no storage, no text for the screen.
//!
//! Nothing in here panics on any input. Quantities carry their unit in their
//! type; values enter through [`limits::Field::check`] or a parser that uses it.

pub mod footprint;
pub mod limits;
pub mod load;
pub mod pressure;
pub mod quantity;
pub mod surface;
pub mod torque;
pub mod tyre;
