//! The words of copies.

use crate::rig::keep::Value;
use crate::rig::weights::total::of_axle;
use crate::rig::{Axle, Rig};
use crate::store::link::LinkError;
use crate::store::merge::Stands;
use crate::ui::kit::{tyre_names, words};

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
pub const NO_LOG: &str = "Checks are not in it: rounds, what is due, each tyre's age and \
                          tread. A file holds those too.";

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

/// What is entered otherwise in a rig that comes than in the one here: names,
/// and of each axle its tyre, masses and pressures, as typed.
pub fn entered_otherwise(here: &Rig, coming: &Rig, by_link: bool) -> Vec<String> {
    let there = if by_link {
        "in the link"
    } else {
        "in the file"
    };
    let mut all = Vec::new();
    let mut tell = |of: &str, ours: String, theirs: String| {
        if ours != theirs {
            all.push(format!("{of}: {ours} here, {theirs} {there}"));
        }
    };
    tell(
        "Name",
        words::rig_name(&here.name),
        words::rig_name(&coming.name),
    );
    for (index, theirs) in coming.axles.iter().enumerate() {
        let name = tyre_names::group(coming, index);
        let Some(ours) = here.axles.iter().find(|axle| axle.id == theirs.id) else {
            tell(&name, "none".to_owned(), "an axle".to_owned());
            continue;
        };
        for (what, of) in ENTERED {
            tell(&format!("{name}, {what}"), of(ours), of(theirs));
        }
    }
    for (index, ours) in here.axles.iter().enumerate() {
        if !coming.axles.iter().any(|axle| axle.id == ours.id) {
            let name = tyre_names::group(here, index);
            tell(&name, "an axle".to_owned(), "none".to_owned());
        }
    }
    all
}

type Entered = (&'static str, fn(&Axle) -> String);

const ENTERED: [Entered; 4] = [
    ("tyre", |axle| match axle.tyre.trim() {
        "" => "blank".to_owned(),
        tyre => tyre.to_owned(),
    }),
    ("mass", |axle| {
        let masses = of_axle(axle).unwrap_or_default();
        let masses: Vec<_> = masses.into_iter().map(|of| as_typed(Some(of))).collect();
        if masses.is_empty() {
            return "blank".to_owned();
        }
        masses.join(" and ")
    }),
    ("placard", |axle| as_typed(axle.placard)),
    ("own sealed-road pressure", |axle| as_typed(axle.own_sealed)),
];

fn as_typed<T: Value>(amount: Option<T>) -> String {
    let mut text = String::new();
    let Some(amount) = amount else {
        return "blank".to_owned();
    };
    amount.write(&mut text);
    text.trim_matches('"').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::Place;
    use crate::rig::typed::in_unit::{kg, psi};

    /// 'Axles and settings: newer in the link' hid a mass of 1,440 for 1,340.
    #[test]
    fn what_is_entered_otherwise_is_named() {
        let here = Rig::demo();
        assert!(entered_otherwise(&here, &here, true).is_empty());
        let mut coming = here.clone();
        coming.name = "Theirs".to_owned();
        coming.axles[0].weighed = Some(kg(1440.0));
        coming.axles[1].placard = Some(psi(45.0));
        coming.axles[1].left = None;
        coming.axles[2].own_sealed = None;
        assert_eq!(
            entered_otherwise(&here, &coming, true),
            [
                "Name: Demo rig here, Theirs in the link",
                "Front, mass: 1310 kg here, 1440 kg in the link",
                "Rear, mass: 905 kg and 870 kg here, blank in the link",
                "Rear, placard: 42 psi here, 45 psi in the link",
                "Trailer, own sealed-road pressure: 50 psi here, blank in the link",
            ]
        );
        let mut fewer = here.clone();
        fewer.remove_axle(2);
        assert_eq!(
            entered_otherwise(&here, &fewer, false),
            ["Trailer: an axle here, none in the file"]
        );
        fewer.axles.push(Axle::empty(Place::Trailer));
        fewer.axles[2].id = crate::rig::AxleId(77);
        assert_eq!(
            entered_otherwise(&here, &fewer, false),
            [
                "Trailer: none here, an axle in the file",
                "Trailer: an axle here, none in the file"
            ]
        );
    }
}
