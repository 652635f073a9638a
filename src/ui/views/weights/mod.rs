//! The weights view: what stands on each axle and on the ball, what is left of
//! each rating, and what moving a load does.

#[cfg(target_arch = "wasm32")]
mod desk;
pub mod drawing;
#[cfg(target_arch = "wasm32")]
mod entries;
#[cfg(target_arch = "wasm32")]
mod plan;
#[cfg(target_arch = "wasm32")]
mod tickets;
#[cfg(target_arch = "wasm32")]
mod view;
pub mod words;

#[cfg(target_arch = "wasm32")]
pub use view::view;
