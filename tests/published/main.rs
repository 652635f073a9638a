//! Checks against published figures.
//!
//! Each row names its source and how it was had. Where a published row asks
//! for more pressure than our law does, the line says so and the worst such
//! shortfall is pinned to what was measured: a change of the law or of a row
//! moves it and fails. Nothing is tuned to a row.
//!
//! Torque has a file and a target of its own, `torque.rs`. Left out, since
//! nothing in `calc` computes it yet: reference vectors for temperature and the
//! towing rule of 15 %. Left out for good: rows
//! whose columns could not be told apart in the copy that was read (a heavy
//! truck's table with ranges by tyre type), and rows from memory only.

mod capacity;
#[cfg(not(target_arch = "wasm32"))]
mod footprint;
mod marks;
#[cfg(not(target_arch = "wasm32"))]
mod python;
#[cfg(not(target_arch = "wasm32"))]
mod slow;
mod surfaces;

use std::fmt;
use tyreside::calc::quantity::{GaugePressure, Mass, kilogram, psi};

/// How a published figure was had.
#[derive(Clone, Copy)]
enum Confidence {
    /// In the document itself, or a stored copy of it.
    Read,
    /// In another document that quotes it.
    Quoted,
}

impl fmt::Display for Confidence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Read => "read",
            Self::Quoted => "quoted",
        })
    }
}

/// The pound is 0.45359237 kg exactly (international pound, 1959).
fn pounds(value: f64) -> Mass {
    Mass::new::<kilogram>(value * 0.453_592_37)
}

fn in_psi(value: f64) -> GaugePressure {
    GaugePressure::new::<psi>(value)
}

/// Fails unless `got` is within `tolerance` of `expected`.
#[track_caller]
fn near(what: &str, got: f64, expected: f64, tolerance: f64) {
    assert!(
        (got - expected).abs() <= tolerance,
        "{what}: {got} is not within {tolerance} of {expected}"
    );
}
