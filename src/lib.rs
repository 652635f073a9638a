//! Tyreside: tyre pressure figures for a loaded rig, at the tyre, offline.
//!
//! | module | holds | may call |
//! | --- | --- | --- |
//! | [`calc`] | the figures: no web, no clock, no storage, no text for the screen | `decimal` |
//! | [`decimal`] | decimal text to numbers and back | nothing here |
//! | [`rig`] | the rig profile as plain data, checked on the way into `calc` | `calc`, `decimal` |
//! | [`store`] | keeping rigs: the rules, and the browser's storage | `rig` |
//! | `ui` | the page (wasm32 only) | all of them |
//!
//! Arrows go one way. Web crates are dependencies of the wasm32 target alone,
//! so a native build fails if `calc` or `rig` reaches for one.

// `unit!` calls its helper macros by bare name.
#[macro_use]
extern crate uom;

pub mod calc;
pub mod decimal;
pub mod rig;
pub mod store;
pub mod ui;
