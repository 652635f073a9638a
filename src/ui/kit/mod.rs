//! What the views are made of. Nothing in here knows any view.

pub mod air_words;
pub mod calendar;
pub mod chart;
pub mod format;
#[cfg(target_arch = "wasm32")]
pub mod hitch;
pub mod judged;
pub mod tyre_names;
pub mod words;

#[cfg(target_arch = "wasm32")]
pub mod air_fields;
#[cfg(target_arch = "wasm32")]
pub mod awake;
#[cfg(target_arch = "wasm32")]
pub mod clock;
#[cfg(target_arch = "wasm32")]
pub mod element;
#[cfg(target_arch = "wasm32")]
pub mod fields;
#[cfg(target_arch = "wasm32")]
pub mod files;
#[cfg(target_arch = "wasm32")]
pub mod fold;
#[cfg(target_arch = "wasm32")]
pub mod follow;
#[cfg(target_arch = "wasm32")]
pub mod leg;
#[cfg(target_arch = "wasm32")]
pub mod parts;
#[cfg(target_arch = "wasm32")]
pub mod rig_drawing;
#[cfg(target_arch = "wasm32")]
pub mod route;
#[cfg(target_arch = "wasm32")]
pub mod warm;
