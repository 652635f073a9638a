//! Copies of rigs: by link, QR code and file, and what comes by one.

pub mod qr;
pub mod words;

#[cfg(target_arch = "wasm32")]
mod coming;
#[cfg(target_arch = "wasm32")]
mod file;
#[cfg(target_arch = "wasm32")]
mod incoming;
#[cfg(target_arch = "wasm32")]
mod line;
#[cfg(target_arch = "wasm32")]
mod share;
#[cfg(target_arch = "wasm32")]
mod view;

#[cfg(target_arch = "wasm32")]
pub use incoming::view as incoming;
#[cfg(target_arch = "wasm32")]
pub use line::line;
#[cfg(target_arch = "wasm32")]
pub use view::view;
