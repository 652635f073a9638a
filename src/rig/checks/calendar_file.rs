//! What is due as a calendar's entries: iCalendar, RFC 5545.

use crate::rig::calendar::parts;

/// The longest line, in bytes without its end (RFC 5545, 3.1).
const LINE: usize = 75;

/// The hour of day for which an entry is set, by the clock wherever the phone
/// is then (RFC 5545, 3.3.5, form 1).
const HOUR: u8 = 9;

/// An entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Tells it from every other in the world, so that it replaces an older
    /// one of its own.
    pub uid: String,
    /// What to do.
    pub summary: String,
    /// How, and what to mind.
    pub description: String,
    /// The local day when it is first due, counted from 1970-01-01.
    pub day: u32,
    /// Days until it comes again; once only where there are none.
    pub every: Option<u32>,
}

/// A calendar of these entries, each with an alarm at its hour. `now` is the
/// moment that it was written, in seconds since 1970 (UTC).
pub fn write(entries: &[Entry], now: u64) -> String {
    let mut file = String::new();
    line(&mut file, "BEGIN:VCALENDAR");
    line(&mut file, "VERSION:2.0");
    line(&mut file, "PRODID:-//Tyreside//Checks//EN");
    line(&mut file, "CALSCALE:GREGORIAN");
    for entry in entries {
        let summary = escaped(&entry.summary);
        line(&mut file, "BEGIN:VEVENT");
        line(&mut file, &format!("UID:{}", escaped(&entry.uid)));
        line(&mut file, &format!("DTSTAMP:{}", stamp(now)));
        line(&mut file, &format!("DTSTART:{}", local(entry.day)));
        line(&mut file, "DURATION:PT30M");
        if let Some(days) = entry.every {
            line(&mut file, &format!("RRULE:FREQ=DAILY;INTERVAL={days}"));
        }
        line(&mut file, &format!("SUMMARY:{summary}"));
        let description = escaped(&entry.description);
        line(&mut file, &format!("DESCRIPTION:{description}"));
        line(&mut file, "TRANSP:TRANSPARENT");
        line(&mut file, "BEGIN:VALARM");
        line(&mut file, "ACTION:DISPLAY");
        line(&mut file, "TRIGGER:PT0S");
        line(&mut file, &format!("DESCRIPTION:{summary}"));
        line(&mut file, "END:VALARM");
        line(&mut file, "END:VEVENT");
    }
    line(&mut file, "END:VCALENDAR");
    file
}

fn date(day: u32) -> String {
    let (year, month, of_month) = parts(day);
    format!("{year:04}{month:02}{of_month:02}")
}

fn local(day: u32) -> String {
    format!("{}T{HOUR:02}0000", date(day))
}

fn stamp(now: u64) -> String {
    const DAY: u64 = 86_400;
    let (day, second) = (now / DAY, now % DAY);
    let day = u32::try_from(day).unwrap_or(u32::MAX);
    let (hour, minute) = (second / 3600, second / 60 % 60);
    format!("{}T{hour:02}{minute:02}{:02}Z", date(day), second % 60)
}

/// A text as a value (RFC 5545, 3.3.11). Other control characters have no
/// place in one, and are left out.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(c);
            }
            '\n' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Writes a line, folded where it is too long, never within a character.
fn line(to: &mut String, text: &str) {
    let mut room = LINE;
    for c in text.chars() {
        if c.len_utf8() > room {
            to.push_str("\r\n ");
            room = LINE - 1;
        }
        room -= c.len_utf8();
        to.push(c);
    }
    to.push_str("\r\n");
}
