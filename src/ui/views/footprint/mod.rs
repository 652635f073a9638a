//! The footprint view: what letting air out does to a tyre on the ground.

pub mod drawing;
#[cfg(target_arch = "wasm32")]
mod view;
pub mod words;

#[cfg(target_arch = "wasm32")]
pub use view::view;
