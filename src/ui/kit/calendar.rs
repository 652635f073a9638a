//! Days in words.

use crate::rig::calendar::parts;

const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

/// A day counted from 1970-01-01, in words.
///
/// ```
/// use tyreside::ui::kit::calendar::date;
/// assert_eq!(date(19_782), "29 Feb 2024");
/// ```
pub fn date(day: u32) -> String {
    let (year, month, of_month) = parts(day);
    format!("{of_month} {} {year}", MONTHS[usize::from(month) - 1])
}
