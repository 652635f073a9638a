//! Days counted from 1970-01-01, in the calendar.

const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

/// Days from 1 March of the year 0 to 1970-01-01.
const TO_1970: u64 = 719_468;

/// Year, month from 1, day from 1.
fn civil(day: u32) -> (u64, usize, u64) {
    // Counted from 1 March of the year 0 in turns of 400 years, so that the
    // odd day of a leap year comes last.
    let day = u64::from(day) + TO_1970;
    let (turn, of_turn) = (day / 146_097, day % 146_097);
    let year = (of_turn - of_turn / 1460 + of_turn / 36_524 - of_turn / 146_096) / 365;
    let of_year = of_turn - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    let of_month = of_year - (153 * month + 2) / 5 + 1;
    // March is month 0.
    let index = (month as usize + 2) % 12;
    let year = turn * 400 + year + u64::from(index < 2);
    (year, index + 1, of_month)
}

/// A day, in words.
pub fn date(day: u32) -> String {
    let (year, month, of_month) = civil(day);
    format!("{of_month} {} {year}", MONTHS[month - 1])
}

/// A day as a date field has it (ISO 8601).
pub fn iso(day: u32) -> String {
    let (year, month, of_month) = civil(day);
    format!("{year:04}-{month:02}-{of_month:02}")
}

/// The day of a date field's text; none before 1970, and none that no calendar
/// has.
pub fn of_iso(text: &str) -> Option<u32> {
    let mut parts = text.split('-');
    let year: u64 = parts.next()?.parse().ok()?;
    let month: u64 = parts.next()?.parse().ok()?;
    let of_month: u64 = parts.next()?.parse().ok()?;
    if parts.next().is_some() || !(1970..=9999).contains(&year) || !(1..=12).contains(&month) {
        return None;
    }
    let from_march = year - u64::from(month < 3);
    let month = (month + 9) % 12;
    let days = 365 * from_march + from_march / 4 - from_march / 100
        + from_march / 400
        + (153 * month + 2) / 5
        + of_month;
    let day = u32::try_from((days - 1).checked_sub(TO_1970)?).ok()?;
    (iso(day) == text).then_some(day)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By ISO 8601 and the Gregorian calendar: leap days in 2000 and 2024,
    /// none in 2100.
    #[test]
    fn days_are_those_of_the_calendar() {
        for (day, text, words) in [
            (0, "1970-01-01", "1 Jan 1970"),
            (11_016, "2000-02-29", "29 Feb 2000"),
            (19_782, "2024-02-29", "29 Feb 2024"),
            (19_783, "2024-03-01", "1 Mar 2024"),
            (47_540, "2100-02-28", "28 Feb 2100"),
            (47_541, "2100-03-01", "1 Mar 2100"),
        ] {
            assert_eq!(iso(day), text);
            assert_eq!(date(day), words);
        }
        for day in 0..60_000 {
            assert_eq!(of_iso(&iso(day)), Some(day));
        }
        for text in [
            "",
            "1969-12-31",
            "2023-02-29",
            "2024-13-01",
            "2024-1-1",
            "2024-01-00",
            "x",
            "2024-01-01-1",
        ] {
            assert_eq!(of_iso(text), None, "{text}");
        }
    }
}
