//! The words of the frame.

/// While a view is being fetched.
pub const COMING: &str = "Opening…";

/// A view that could not be fetched.
pub const NOT_FETCHED: &str = "This view could not be fetched. It needs a network once. If a new version was put in place meanwhile, load the page again: your entries are kept.";

/// Fetches it again.
pub const TRY_AGAIN: &str = "Try again";

/// Loads the whole page again.
pub const LOAD_AGAIN: &str = "Load again";
