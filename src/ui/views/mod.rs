//! The views, a folder each. None calls another.

#[cfg(target_arch = "wasm32")]
pub mod card;
pub mod checks;
pub mod convert;
pub mod copies;
pub mod footprint;
pub mod nuts;
#[cfg(target_arch = "wasm32")]
pub mod pressures;
pub mod rig;
#[cfg(target_arch = "wasm32")]
pub mod walk;
pub mod weights;
