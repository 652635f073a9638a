//! The footprint view: what letting air out does to a tyre on the ground.

pub mod drawing;
pub mod words;
