//! Following signals, and letting go of them.
//!
//! Leptos' signals keep an effect or memo that is gone on the list of every
//! signal that it followed, and with it its memory. The rig's signals live as
//! long as the page: they would hold more with each view that was ever opened,
//! and a change would call on all of it. So all that follows is made here or by
//! [`element`](super::element), and lets go when its part of the page does.
//! `clippy.toml` forbids the library's own makers.

use leptos::prelude::*;
use leptos::reactive::graph::{Observer, Subscriber};

/// Has what is running now let go, at its end or before it runs again, of all
/// that it reads.
pub(super) fn let_go_at_the_end() {
    if let Some(follower) = Observer::get() {
        on_cleanup(move || follower.clear_sources(&follower));
    }
}

/// A value worked out from signals, once for all that read it.
pub fn memo<T: PartialEq + Send + Sync + 'static>(
    value: impl Fn(Option<&T>) -> T + Send + Sync + 'static,
) -> Memo<T> {
    #[expect(clippy::disallowed_methods, reason = "it lets go")]
    Memo::new(move |was| {
        let_go_at_the_end();
        value(was)
    })
}

/// Runs `act` soon, and again whenever what it reads has changed; each time
/// with what it gave the time before.
pub fn effect<T: 'static>(act: impl Fn(Option<T>) -> T + 'static) {
    #[expect(clippy::disallowed_methods, reason = "it lets go")]
    Effect::new(move |was| {
        let_go_at_the_end();
        act(was)
    });
}
