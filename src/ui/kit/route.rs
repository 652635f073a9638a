//! The addresses along the way.

/// The first screen.
pub const PRESSURES: &str = "#/pressures";
/// The walk from tyre to tyre.
pub const WALK: &str = "#/pressures/walk";
/// The footprint of a wheel.
pub const FOOTPRINT: &str = "#/pressures/footprint";
/// The compressor and the deflator.
pub const TOOLS: &str = "#/rig/tools";
/// What is due, and the checks.
pub const CHECKS: &str = "#/checks";
/// A round of all tyres and nuts.
pub const ROUND: &str = "#/checks/round";
/// The log of rounds.
pub const LOG: &str = "#/checks/log";
/// The door card.
pub const CARD: &str = "#/rig/card";
/// Copies of rigs.
pub const COPIES: &str = "#/rig/copies";
/// What the address of a rig that comes by link begins with.
pub const BY_LINK: &str = "#RIG";
