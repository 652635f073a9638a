//! What a sidewall says, and what the tyre then carries.

pub mod capacity;
pub mod designation;
pub mod marks;
mod plausible;
pub mod wear;
