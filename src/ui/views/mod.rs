//! The views, a folder each. None calls another.

pub mod air;
pub mod footprint;
pub mod nuts;
#[cfg(target_arch = "wasm32")]
pub mod pressures;
#[cfg(target_arch = "wasm32")]
pub mod rig;
