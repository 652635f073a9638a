//! The door card: the rig's figures on paper, for where the placard hangs.

mod face;
mod view;

pub use view::view;
