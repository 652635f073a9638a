//! A rig from a file or a link beside one that is here: what differs, and the
//! two made one.

use super::file::{Found, Sections};
use super::{RigId, envelope};
use crate::rig::Rig;
use crate::rig::copies::{Copies, Sum};
use crate::rig::section::{self, Section};

/// How a section stands on the two sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stands {
    /// The same on both.
    Same,
    /// Only in what comes.
    OnlyComing,
    /// Only here.
    OnlyHere,
    /// It differs, and what comes was made from what is here.
    ComingNewer,
    /// It differs, and what is here was made from what comes.
    HereNewer,
    /// It differs, and both were changed, or nothing is known.
    Both,
}

/// A rig that is here.
#[derive(Debug, Clone, PartialEq)]
pub struct Here {
    /// Its number.
    pub id: RigId,
    /// What it is called.
    pub name: String,
    /// All its sections.
    pub sections: Sections,
}

/// The rig here that one which comes is a copy of, among those not `taken` by
/// another. It is known by its identity; where one of the two has none, by
/// its own section, or by its name if no other here has it.
pub fn meet<'a>(here: &'a [Here], found: &Found, taken: &[RigId]) -> Option<&'a Here> {
    let rig = found.rig.as_ref().ok()?;
    let identity = copies(&found.sections).rig;
    let free = || here.iter().filter(|of| !taken.contains(&of.id));
    let known = |of: &&Here| copies(&of.sections).rig;
    if !identity.is_empty()
        && let Some(same) = free().find(|of| known(of) == identity)
    {
        return Some(same);
    }
    let open = |of: &&Here| identity.is_empty() || known(of).is_empty();
    let own = text(&found.sections, Rig::PART);
    let equal = free().find(|of| open(of) && text(&of.sections, Rig::PART) == own);
    equal.or_else(|| {
        let called = |of: &&Here| !rig.name.trim().is_empty() && of.name == rig.name;
        let mut called = free().filter(called);
        let one = called.next().filter(open);
        one.filter(|_| called.next().is_none())
    })
}

/// What becomes of a rig that comes and one that is here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Take {
    /// Of each section the newer one; where there is none newer, what is here.
    Newer,
    /// Every section that comes; those only here stay.
    Coming,
}

/// The states of a rig's sections.
pub fn sums(sections: &[(String, String)]) -> Vec<Sum> {
    let own = |part: &str| part != Copies::PART;
    let sections = sections.iter().filter(|(part, _)| own(part));
    sections
        .map(|(part, text)| (part.clone(), envelope::sum(text)))
        .collect()
}

/// What a rig's sections know of its copies; nothing where they say nothing,
/// or what can't be read.
pub fn copies(sections: &[(String, String)]) -> Copies {
    let text = text(sections, Copies::PART);
    let read = text.and_then(|text| {
        let (version, body) = envelope::read(text).ok()?;
        section::read(version, body).ok()
    });
    read.unwrap_or_default()
}

/// The same sections with this in place of what they know of copies; as they
/// are where that is from a newer page.
#[must_use]
pub fn with_copies(mut sections: Sections, copies: &Copies) -> Sections {
    let kept = text(&sections, Copies::PART).map(envelope::read);
    let newer = matches!(kept, Some(Ok((version, _))) if version > Copies::VERSION);
    if let Some(body) = section::body(copies).filter(|_| !newer) {
        sections.retain(|(part, _)| part != Copies::PART);
        let text = envelope::write(Copies::VERSION, &body);
        sections.push((Copies::PART.to_owned(), text));
    }
    sections
}

/// How every section stands but what is known of copies, those here first.
pub fn compare(here: &[(String, String)], coming: &[(String, String)]) -> Vec<(String, Stands)> {
    let (ours, theirs) = (copies(here), copies(coming));
    let stands = |part: &str| match (text(here, part), text(coming, part)) {
        (Some(here), Some(coming)) if here == coming => Stands::Same,
        (None, _) => Stands::OnlyComing,
        (_, None) => Stands::OnlyHere,
        (Some(here), Some(coming)) => {
            let was_there = theirs.has_seen(&(part.to_owned(), envelope::sum(here)));
            let was_here = ours.has_seen(&(part.to_owned(), envelope::sum(coming)));
            match (was_there, was_here) {
                (true, false) => Stands::ComingNewer,
                (false, true) => Stands::HereNewer,
                // Neither knows the other's, or it was changed back.
                _ => Stands::Both,
            }
        }
    };
    let parts = here.iter().chain(coming).map(|(part, _)| part);
    let mut all: Vec<(String, Stands)> = Vec::new();
    for part in parts.filter(|part| *part != Copies::PART) {
        if !all.iter().any(|(of, _)| of == part) {
            all.push((part.clone(), stands(part)));
        }
    }
    all
}

/// A rig that is new here: what it came as is known of it from now on, and a
/// link or a file that it came from is a copy of it.
pub fn arriving(coming: &[(String, String)], day: f64) -> Sections {
    let mut known = copies(coming);
    let now = sums(coming);
    known.see(&now);
    if known.copied.is_none() {
        known.copied(&now, day);
    }
    with_copies(coming.to_vec(), &known)
}

/// The two made one.
pub fn joined(here: &[(String, String)], coming: &[(String, String)], take: Take) -> Sections {
    let picked = compare(here, coming)
        .into_iter()
        .filter_map(|(part, stands)| {
            let from = match (take, stands) {
                (_, Stands::OnlyComing) | (Take::Coming, _) | (_, Stands::ComingNewer) => coming,
                _ => here,
            };
            let text = text(from, &part).or(text(here, &part))?.to_owned();
            Some((part, text))
        });
    let picked: Sections = picked.collect();
    let mut known = copies(here);
    let theirs = copies(coming);
    known.join(&theirs);
    // Found by its name, it takes the identity of the one that has it.
    if known.rig.is_empty() {
        known.rig = theirs.rig;
    }
    known.see(&sums(coming));
    let mut all = picked;
    if let Some(text) = text(here, Copies::PART) {
        all.push((Copies::PART.to_owned(), text.to_owned()));
    }
    with_copies(all, &known)
}

fn text<'a>(sections: &'a [(String, String)], part: &str) -> Option<&'a str> {
    let found = sections.iter().find(|(of, _)| of == part);
    found.map(|(_, text)| text.as_str())
}
