//! The addresses along the way.

/// The first screen.
pub const PRESSURES: &str = "#/pressures";
/// The walk from tyre to tyre.
pub const WALK: &str = "#/pressures/walk";
/// The footprint of a wheel.
pub const FOOTPRINT: &str = "#/pressures/footprint";
/// The compressor and the deflator.
pub const TOOLS: &str = "#/rig/tools";
