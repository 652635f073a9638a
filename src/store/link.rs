//! One rig in a link: its sections in the part of an address behind `#`, which
//! a browser sends to no host.
//!
//! `RIG1-` and letters and digits. In them, in base 36: the length of a text,
//! its CRC-32, and the text packed as an LZ4 block with `DICTIONARY` before
//! it. The text is `{"axles":[2,{…}],"nuts":[2,{…}]}`: a section's version and
//! its body, without envelopes, since one checksum is over all.
//!
//! Capitals and digits alone pass through messages unharmed, are taken whole
//! by a tap that selects, and stand in a QR code at 5.5 bits each.

use super::envelope;
use super::file::{Found, Sections};
use crate::rig::Rig;
use crate::rig::air::{Air, Leaks, Tools};
use crate::rig::copies::{Copies, Sum};
use crate::rig::footprint::FootprintOf;
use crate::rig::keep::{self, Object, Unknown, Value};
use crate::rig::nuts::Nuts;
use crate::rig::section::{self, Section};
use crate::rig::set_to::SetTo;
use crate::rig::weights::Weights;
use crate::rig::weights::ticket::Tickets;
use std::fmt;

/// The version written.
pub const VERSION: u32 = 1;

/// What every such link begins with, behind `#`.
pub const MARK: &str = "RIG";

/// Longest link read or written, in characters behind `#`. Browsers take
/// longer ones; messengers and mail cut them at several thousand or let them
/// be (common practice, no source), so that a file is the better way.
pub const LONGEST: usize = 16_000;

/// Longest text in one, in bytes: ten times what the fullest rig has.
const LONGEST_TEXT: usize = 100_000;

/// Longest stored name of a section.
const LONGEST_PART: usize = 24;

/// What a link carries, if the rig has it. Check logs stay: they are long, and
/// of no use to whoever enters the rig.
const CARRIED: [&str; 10] = [
    Rig::PART,
    Copies::PART,
    Nuts::PART,
    Weights::PART,
    FootprintOf::PART,
    SetTo::PART,
    Air::PART,
    Tools::PART,
    Leaks::PART,
    Tickets::PART,
];

/// How many of [`CARRIED`] say what the rig is; the others say what was
/// measured and done with it.
const OF_THE_RIG: usize = 4;

/// What texts of rigs are mostly made of. What is packed with it can be read
/// with it alone: it stays as it is for as long as [`VERSION`] does.
const DICTIONARY: &str = include_str!("link.dictionary");

/// Why a link is not taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LinkError {
    /// Longer than [`LONGEST`], or holds more than a rig.
    TooLong,
    /// Not a whole link to a rig: cut, damaged or another thing.
    NotOne,
    /// Written by a newer version of this page.
    Newer {
        /// Its version.
        version: u32,
    },
}

impl fmt::Display for LinkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong => write!(f, "a link of more than {LONGEST} characters"),
            Self::NotOne => f.write_str("not a whole link to a rig"),
            Self::Newer { version } => write!(f, "link version {version}; at most {VERSION}"),
        }
    }
}

impl std::error::Error for LinkError {}

/// How much of a rig a link carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// What the rig is: axles and settings, wheel nuts, weights.
    Rig,
    /// That, and what was measured and done: tickets, readings, what the tyres
    /// are set to.
    Whole,
}

/// The sections that a link of this extent carries of a rig's.
pub fn carried(sections: &[(String, String)], extent: Extent) -> Sections {
    let parts = match extent {
        Extent::Rig => &CARRIED[..OF_THE_RIG],
        Extent::Whole => &CARRIED[..],
    };
    let found = parts
        .iter()
        .filter_map(|part| sections.iter().find(|(of, _)| of == part));
    // A body that is no object would make the whole link none.
    let whole = |text: &str| {
        envelope::read(text)
            .is_ok_and(|(_, body)| body.trim() == body && keep::members(body).is_some())
    };
    found.filter(|(_, text)| whole(text)).cloned().collect()
}

/// The link to a rig, behind `#`.
///
/// # Errors
/// [`LinkError::TooLong`] where the rig has too much for one;
/// [`LinkError::NotOne`] where its own section can't be read.
pub fn write(sections: &[(String, String)]) -> Result<String, LinkError> {
    let now: Vec<Sum> = sections
        .iter()
        .map(|(part, text)| (part.clone(), envelope::sum(text)))
        .collect();
    let mut text = String::new();
    let mut object = Object::begin(&mut text);
    let mut own = false;
    for (part, record) in sections {
        let Ok((version, body)) = envelope::read(record) else {
            continue;
        };
        let to = object.member(part);
        to.push('[');
        version.write(to);
        to.push(',');
        match section::read::<Copies>(version, body) {
            Ok(copies) if part == Copies::PART => copies.in_short(&now).write(to),
            _ => to.push_str(body),
        }
        to.push(']');
        own |= part == Rig::PART;
    }
    object.end(&Unknown::default());
    if !own {
        return Err(LinkError::NotOne);
    }
    if text.len() > LONGEST_TEXT {
        return Err(LinkError::TooLong);
    }
    let link = packed(&text);
    if link.len() > LONGEST {
        return Err(LinkError::TooLong);
    }
    Ok(link)
}

/// The link that holds a text.
pub fn packed(text: &str) -> String {
    let mut bytes = Vec::new();
    bytes.extend((text.len() as u32).to_be_bytes().into_iter().skip(1));
    bytes.extend(envelope::sum(text).to_be_bytes());
    bytes.extend(lz4_flex::block::compress_with_dict(
        text.as_bytes(),
        DICTIONARY.as_bytes(),
    ));
    format!("{MARK}{VERSION}-{}", to_base36(&bytes))
}

/// The rig in a link, from what stands behind `#`.
///
/// # Errors
/// [`LinkError`]. A rig whose own section a newer page wrote is no error, and
/// found as such.
pub fn read(link: &str) -> Result<Found, LinkError> {
    if link.len() > LONGEST {
        return Err(LinkError::TooLong);
    }
    let rest = link.strip_prefix(MARK).ok_or(LinkError::NotOne)?;
    let (version, digits) = rest.split_once('-').ok_or(LinkError::NotOne)?;
    let version = number(version).ok_or(LinkError::NotOne)?;
    if version > VERSION {
        return Err(LinkError::Newer { version });
    }
    let bytes = of_base36(digits).ok_or(LinkError::NotOne)?;
    let text = unpacked(&bytes)?;
    let sections = sections(&text).ok_or(LinkError::NotOne)?;
    Found::of(sections).ok_or(LinkError::NotOne)
}

/// A version from 1, as it is written.
fn number(text: &str) -> Option<u32> {
    let number: u32 = text.parse().ok().filter(|number| *number > 0)?;
    (number.to_string() == text).then_some(number)
}

fn unpacked(bytes: &[u8]) -> Result<String, LinkError> {
    let none = LinkError::NotOne;
    let (length, rest) = bytes.split_at_checked(3).ok_or(none)?;
    let (sum, packed) = rest.split_at_checked(4).ok_or(none)?;
    let length = length
        .iter()
        .fold(0, |length, byte| length << 8 | usize::from(*byte));
    if length > LONGEST_TEXT {
        return Err(LinkError::TooLong);
    }
    let text = lz4_flex::block::decompress_with_dict(packed, length, DICTIONARY.as_bytes());
    let text = text.ok().and_then(|text| String::from_utf8(text).ok());
    let text = text.filter(|text| text.len() == length).ok_or(none)?;
    let same = envelope::sum(&text).to_be_bytes() == *sum;
    if same { Ok(text) } else { Err(none) }
}

fn sections(text: &str) -> Option<Sections> {
    let mut sections = Sections::new();
    for (part, value) in keep::members(text)? {
        let named = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || "_.-".contains(c);
        if part.is_empty() || part.len() > LONGEST_PART || !part.chars().all(named) {
            return None;
        }
        let items = keep::items(value)?;
        let [version, body] = items[..] else {
            return None;
        };
        keep::members(body)?;
        let text = envelope::write(number(version)?, body);
        sections.push((part, text));
    }
    Some(sections)
}

const DIGITS: &[u8; 36] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/// How many digits hold so many bytes; whole groups are of seven bytes.
const LENGTHS: [usize; 8] = [0, 2, 4, 5, 7, 8, 10, 11];

fn to_base36(bytes: &[u8]) -> String {
    let mut text = String::new();
    for group in bytes.chunks(7) {
        let mut value = group
            .iter()
            .fold(0_u64, |value, byte| value << 8 | u64::from(*byte));
        let mut digits = [0; 11];
        let digits = &mut digits[..LENGTHS[group.len()]];
        for digit in digits.iter_mut().rev() {
            *digit = DIGITS[(value % 36) as usize];
            value /= 36;
        }
        text.extend(digits.iter().map(|digit| char::from(*digit)));
    }
    text
}

/// Each text of digits is that of one row of bytes, or of none.
fn of_base36(text: &str) -> Option<Vec<u8>> {
    let mut bytes = Vec::new();
    for group in text.as_bytes().chunks(11) {
        let count = LENGTHS.iter().position(|length| *length == group.len())?;
        let mut value = 0_u64;
        for digit in group {
            let digit = DIGITS.iter().position(|of| of == digit)? as u64;
            value = value.checked_mul(36)?.checked_add(digit)?;
        }
        let all = value.to_be_bytes();
        let (over, group) = all.split_at(all.len() - count);
        if over.iter().any(|byte| *byte != 0) {
            return None;
        }
        bytes.extend(group);
    }
    Some(bytes)
}
