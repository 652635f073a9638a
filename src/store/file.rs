//! A file of rigs: the sections of each, as they stand on the shelf.
//!
//! One JSON object: `{"tyreside":1,"rigs":[{"axles":{…},"nuts":{…}}]}`. A
//! section is the record's own text, so its checksum goes with it; one that
//! can't be read is kept as a string. Nothing is put on the shelf by reading a
//! file.

use super::envelope;
use super::garage::apart;
use crate::rig::Rig;
use crate::rig::air::{Air, PARTED};
use crate::rig::keep::{self, Object, Unknown, Value};
use crate::rig::section::{self, Section, Unreadable};
use std::fmt;

/// The version written.
pub const VERSION: u32 = 1;

/// Longest file read, in bytes: more than a browser keeps for a page.
pub const LONGEST: usize = 6_000_000;

const MARK: &str = "tyreside";
const RIGS: &str = "rigs";

/// A rig's sections by their stored names.
pub type Sections = Vec<(String, String)>;

/// Why a file is not taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileError {
    /// Longer than [`LONGEST`].
    TooLong {
        /// Its length in bytes.
        bytes: usize,
    },
    /// Not such a file: cut, damaged or another thing.
    NotOne,
    /// Written by a newer version of this page.
    Newer {
        /// Its version.
        version: u32,
    },
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong { bytes } => write!(f, "a file of {bytes} bytes; at most {LONGEST}"),
            Self::NotOne => f.write_str("not a whole file of rigs"),
            Self::Newer { version } => write!(f, "file version {version}; at most {VERSION}"),
        }
    }
}

impl std::error::Error for FileError {}

/// A rig in a file.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The rig, or why its own section can't be read.
    pub rig: Result<Rig, Unreadable>,
    /// All its sections.
    pub sections: Sections,
}

/// A file of the rigs that have their own section.
pub fn write(rigs: &[Sections]) -> String {
    let mut file = String::new();
    let mut object = Object::begin(&mut file);
    VERSION.write(object.member(MARK));
    let to = object.member(RIGS);
    to.push('[');
    // The invented rig is on no shelf until something of it is changed.
    let own = |sections: &&Sections| sections.iter().any(|(part, _)| part == Rig::PART);
    for (index, sections) in rigs.iter().filter(own).enumerate() {
        if index > 0 {
            to.push(',');
        }
        let mut rig = Object::begin(to);
        for (part, text) in sections {
            let to = rig.member(part);
            if envelope::read(text).is_ok() && keep::members(text).is_some() {
                to.push_str(text);
            } else {
                keep::text(text, to);
            }
        }
        rig.end(&Unknown::default());
    }
    to.push(']');
    object.end(&Unknown::default());
    file
}

/// The rigs in a file.
///
/// # Errors
/// [`FileError`]; a rig or section that can't be read is no error, and found
/// as such.
pub fn read(file: &str) -> Result<Vec<Found>, FileError> {
    if file.len() > LONGEST {
        return Err(FileError::TooLong { bytes: file.len() });
    }
    let members = keep::members(file.trim()).ok_or(FileError::NotOne)?;
    let member = |name| {
        let mut members = members.iter();
        members.find(|(of, _)| of == name).map(|(_, value)| *value)
    };
    let version = member(MARK).and_then(u32::read).ok_or(FileError::NotOne)?;
    if version > VERSION {
        return Err(FileError::Newer { version });
    }
    let rigs = member(RIGS).and_then(keep::items);
    let rigs = rigs.ok_or(FileError::NotOne)?;
    let mut all = Vec::new();
    for rig in rigs {
        all.push(found(rig).ok_or(FileError::NotOne)?);
    }
    Ok(all)
}

impl Found {
    /// The rig that these sections are of; none without its own. Those that
    /// were part of another in an older page stand as copies of that.
    pub fn of(mut sections: Sections) -> Option<Self> {
        let one = sections.iter().find(|(part, _)| part == Air::PART);
        let one = one.map(|(_, text)| text.clone());
        if let Some(one) = one.filter(|one| apart(one).is_some()) {
            for part in PARTED {
                if !sections.iter().any(|(of, _)| of == part) {
                    sections.push((part.to_owned(), one.clone()));
                }
            }
        }
        let own = sections.iter().find(|(part, _)| part == Rig::PART);
        let (_, own) = own?;
        let rig = envelope::read(own).and_then(|(version, body)| section::read(version, body));
        Some(Self { rig, sections })
    }
}

fn found(rig: &str) -> Option<Found> {
    let mut sections = Sections::new();
    for (part, value) in keep::members(rig)? {
        // Without a name it would be taken for a whole rig of an older page.
        if part.is_empty() {
            return None;
        }
        let text = if value.starts_with('"') {
            String::read(value)?
        } else {
            value.to_owned()
        };
        sections.push((part, text));
    }
    Found::of(sections)
}
