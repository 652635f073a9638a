//! The envelope of a section: its version and a checksum around its body, all
//! of it one JSON text of a fixed form.
//!
//! The checksum is CRC-32 (ISO 3309, ITU-T V.42) of everything but itself. It
//! finds every change within 32 bits, so every damaged byte, and misses one
//! other change in four thousand million.

use crate::rig::section::Unreadable;

/// Longest text read, in bytes: a section is under 4 kB, under 60 kB with as
/// many dated leak readings as are kept, and a year's log is under 50 kB with a
/// round a week; full, of the largest rig, it is under this.
pub const LONGEST: usize = 2_000_000;

const VERSION: &str = "{\"version\":";
const CHECK: &str = ",\"crc32\":\"";
const BODY: &str = "\",\"body\":";
const DIGITS: usize = 8;

/// Carries a checksum on over more bytes.
fn crc(mut crc: u32, bytes: &[u8]) -> u32 {
    /// The polynomial of the standard, its bits in the order of transmission.
    const POLYNOMIAL: u32 = 0xedb8_8320;
    for byte in bytes {
        crc ^= u32::from(*byte);
        for _ in 0..8 {
            let out = crc & 1;
            crc = (crc >> 1) ^ (POLYNOMIAL * out);
        }
    }
    crc
}

/// The checksum of any text.
pub fn sum(text: &str) -> u32 {
    !crc(u32::MAX, text.as_bytes())
}

fn checksum(before: &str, behind: &str) -> String {
    let sum = crc(crc(u32::MAX, before.as_bytes()), behind.as_bytes());
    format!("{:08x}", !sum)
}

/// A section's text.
pub fn write(version: u32, body: &str) -> String {
    let before = format!("{VERSION}{version}");
    let behind = format!("{body}}}");
    let sum = checksum(&before, &behind);
    format!("{before}{CHECK}{sum}{BODY}{behind}")
}

/// Whether a section's text begins as one of a version up to `most`; its
/// checksum is not looked at.
pub fn is_up_to(text: &str, most: u32) -> bool {
    let version = || {
        let (version, _) = text.strip_prefix(VERSION)?.split_once(',')?;
        version.parse::<u32>().ok()
    };
    version().is_some_and(|version| version <= most)
}

/// The version and the body of a section's text.
///
/// # Errors
/// [`Unreadable::Damaged`] for anything that [`write()`] did not write; the
/// caller keeps it.
pub fn read(text: &str) -> Result<(u32, &str), Unreadable> {
    parts(text).ok_or(Unreadable::Damaged)
}

fn parts(text: &str) -> Option<(u32, &str)> {
    if text.len() > LONGEST {
        return None;
    }
    let (version, rest) = text.strip_prefix(VERSION)?.split_once(CHECK)?;
    let (sum, rest) = rest.split_at_checked(DIGITS)?;
    let behind = rest.strip_prefix(BODY)?;
    let before = &text[..VERSION.len() + version.len()];
    if checksum(before, behind) != sum {
        return None;
    }
    Some((version.parse().ok()?, behind.strip_suffix('}')?))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The check value that catalogues of the standard give for "123456789".
    #[test]
    fn the_checksum_is_that_of_the_standard() {
        assert_eq!(checksum("1234", "56789"), "cbf43926");
    }

    #[test]
    fn what_is_written_is_read_and_nothing_else_is() {
        let body = "{\"name\":\"Dusty \u{1f69a}\",\"x\":[1,2]}";
        let text = write(2, body);
        assert_eq!(read(&text), Ok((2, body)));
        let json: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        assert_eq!(json["body"]["name"], "Dusty \u{1f69a}");
        let (mut cut, mut changed) = (0, 0);
        for end in 0..text.len() {
            if let Some(text) = text.get(..end) {
                assert_eq!(read(text), Err(Unreadable::Damaged), "cut at {end}");
                cut += 1;
            }
            for byte in 0..=255 {
                let mut bytes = text.clone().into_bytes();
                if bytes[end] == byte {
                    continue;
                }
                bytes[end] = byte;
                // Storage holds text: what is none can't be in it.
                if let Ok(text) = String::from_utf8(bytes) {
                    assert_eq!(read(&text), Err(Unreadable::Damaged), "{byte} at {end}");
                    changed += 1;
                }
            }
        }
        println!("{cut} truncations, {changed} changed bytes: all found");
    }
}
