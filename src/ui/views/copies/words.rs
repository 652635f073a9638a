//! The words of copies.

use crate::store::link::LinkError;
use crate::store::merge::Stands;

/// What copies are for.
pub const WHY: &str = "A phone that is lost or cleared takes its rigs along. A copy elsewhere \
                       brings them back, here or on another phone.";

/// What a second phone is sent.
pub const LINK: &str = "The link holds the rig itself: nothing is sent to a host, and whoever has \
                        the link has the rig. It asks before anything is kept.";

/// How a code is used.
pub const SCAN: &str = "Point the other phone's camera at it. It opens this page there.";

/// Why there is no code.
pub const NO_CODE: &str = "This rig is too long for a code that a camera can read off this \
                           screen. The link holds it.";

/// Why there is no link either.
pub const NO_LINK: &str = "This rig is too long for a link. A file holds all of it.";

/// What a code leaves out.
pub const CODE_IN_SHORT: &str = "The code holds axles, settings, wheel nuts and weights. Tickets, \
                                 readings and what the tyres are set to are too much for one: the \
                                 link holds them.";

/// What a link leaves out.
pub const LINK_IN_SHORT: &str = "The link holds axles, settings, wheel nuts and weights. Tickets, \
                                 readings and what the tyres are set to are too much for one: the \
                                 file holds them.";

/// That check logs stay.
pub const NO_LOG: &str = "Check rounds are not in it: a file holds those too.";

/// What a phone's maker does with pages.
pub const SEVEN_DAYS: &str = "On an iPhone or iPad, the browser clears what a page keeps after \
                              seven days of use without a visit, unless the page is on the home \
                              screen. Put it there, or keep a copy.";

/// That nothing of it is kept yet.
pub const NOTHING_YET: &str = "Nothing of it is kept yet.";

/// That a rig is here as it comes.
pub const SAME: &str = "The same is here already.";

/// That a rig is not here.
pub const NEW: &str = "Not on this phone.";

/// That a rig here is the same one, and otherwise.
pub const DIFFERS: &str = "On this phone too, and not the same:";

/// That it was found by its name alone.
pub const BY_NAME: &str = "Taken for the one here by its name alone: look before you replace it.";

/// Why a link is not taken.
pub fn link(why: LinkError) -> String {
    match why {
        LinkError::TooLong => {
            "This link holds more than a rig can have. Ask for a file in its place.".to_owned()
        }
        LinkError::NotOne => "This is no whole link to a rig. Part of it may have been cut off on \
                              its way: ask for it again, or for a file."
            .to_owned(),
        LinkError::Newer { version } => format!(
            "A newer version of this page made this link (version {version}). Load this page anew \
             where there is a network, then open the link again."
        ),
    }
}

/// How a section stands.
pub fn stands(stands: Stands, by_link: bool) -> &'static str {
    match (stands, by_link) {
        (Stands::Same, _) => "the same",
        (Stands::OnlyComing, false) => "only in the file",
        (Stands::OnlyComing, true) => "only in the link",
        (Stands::OnlyHere, _) => "only here, stays",
        (Stands::ComingNewer, false) => "newer in the file",
        (Stands::ComingNewer, true) => "newer in the link",
        (Stands::HereNewer, _) => "newer here",
        (Stands::Both, _) => "differs on both sides",
    }
}
