//! The frame: what the page holds, its views by their addresses, and what
//! stands around them.

pub mod app;
pub mod parts;
pub mod state;
pub mod table;
#[cfg(feature = "split")]
pub mod words;
