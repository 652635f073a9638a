//! Days counted from 1970-01-01, in the calendar.

use time::{Date, Duration, Month, Weekday};

const FIRST: Date = match Date::from_ordinal_date(1970, 1) {
    Ok(date) => date,
    Err(_) => Date::MIN,
};

/// The last year written with four digits ends here; so does every date.
const LAST: Date = Date::MAX;

fn civil(day: u32) -> Date {
    let date = FIRST.checked_add(Duration::days(day.into()));
    date.unwrap_or(LAST)
}

fn day_of(date: Date) -> Option<u32> {
    (date - FIRST).whole_days().try_into().ok()
}

/// The year of a day.
pub fn year(day: u32) -> u16 {
    civil(day).year().unsigned_abs() as u16
}

/// Year, month from 1 and day from 1.
pub fn parts(day: u32) -> (i32, u8, u8) {
    let (year, month, of_month) = civil(day).to_calendar_date();
    (year, month as u8, of_month)
}

/// A day as a date field has it (ISO 8601).
pub fn iso(day: u32) -> String {
    let (year, month, of_month) = parts(day);
    format!("{year:04}-{month:02}-{of_month:02}")
}

/// The day of a date field's text; none before 1970, and none that no calendar
/// has.
pub fn of_iso(text: &str) -> Option<u32> {
    let mut fields = text.split('-');
    let year: i32 = fields.next()?.parse().ok()?;
    let month: u8 = fields.next()?.parse().ok()?;
    let of_month: u8 = fields.next()?.parse().ok()?;
    let month = Month::try_from(month).ok()?;
    let day = day_of(Date::from_calendar_date(year, month, of_month).ok()?)?;
    (fields.next().is_none() && iso(day) == text).then_some(day)
}

/// The first day of a week of a year, both of ISO 8601; none where that year
/// has no such week.
pub fn of_week(year: u16, week: u8) -> Option<u32> {
    day_of(Date::from_iso_week_date(year.into(), week, Weekday::Monday).ok()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By ISO 8601 and the Gregorian calendar: leap days in 2000 and 2024,
    /// none in 2100.
    #[test]
    fn days_are_those_of_the_calendar() {
        for (day, text) in [
            (0, "1970-01-01"),
            (11_016, "2000-02-29"),
            (19_782, "2024-02-29"),
            (19_783, "2024-03-01"),
            (47_540, "2100-02-28"),
            (47_541, "2100-03-01"),
        ] {
            assert_eq!(iso(day), text);
            assert_eq!(year(day).to_string(), text[..4]);
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
        assert_eq!(iso(u32::MAX), "9999-12-31");
    }

    /// ISO 8601: week 1 has the year's first Thursday; 2020 has 53 weeks, 2021
    /// has 52.
    #[test]
    fn weeks_are_those_of_the_standard() {
        assert_eq!(of_week(2019, 1).map(iso), Some("2018-12-31".to_owned()));
        assert_eq!(of_week(2019, 23).map(iso), Some("2019-06-03".to_owned()));
        assert_eq!(of_week(2020, 53).map(iso), Some("2020-12-28".to_owned()));
        assert_eq!(of_week(2021, 53), None);
    }
}
