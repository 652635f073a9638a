//! Decimal text to numbers and back.
//!
//! The standard library's and the JSON library's own conversions are exact
//! for every double, with some 30 kB of tables for it in the page. A person
//! types and reads a few digits; for those, these are exact as well.

/// Most digits read. Up to here a whole number is a double without rounding,
/// and so is the power of ten that it is divided by.
const MOST_DIGITS: usize = 15;

/// The number that `text` states: a sign if need be, digits, and a dot among
/// or around them. Rounded once, so the nearest double to what was written.
///
/// ```
/// use tyreside::decimal;
/// assert_eq!(decimal::parse("10.50"), Some(10.5));
/// assert_eq!(decimal::parse("-.5"), Some(-0.5));
/// for none in ["", ".", "1.2.3", "1e5", "inf", "1234567890123456"] {
///     assert_eq!(decimal::parse(none), None);
/// }
/// ```
pub fn parse(text: &str) -> Option<f64> {
    let (sign, digits) = match text.as_bytes() {
        [b'-', rest @ ..] => (-1.0, rest),
        [b'+', rest @ ..] => (1.0, rest),
        rest => (1.0, rest),
    };
    let (mut whole, mut count, mut scale) = (0_u64, 0, None);
    for byte in digits {
        match byte {
            b'0'..=b'9' => {
                whole = whole.checked_mul(10)?.checked_add(u64::from(byte - b'0'))?;
                count += 1;
                scale = scale.map(|scale: f64| scale * 10.0);
            }
            b'.' if scale.is_none() => scale = Some(1.0),
            _ => return None,
        }
    }
    let readable = (1..=MOST_DIGITS).contains(&count);
    readable.then(|| sign * whole as f64 / scale.unwrap_or(1.0))
}

/// `value` with `decimals` decimals, nine at most, a half rounded away from
/// zero; a dash for what is no number or would need more than 18 digits.
///
/// ```
/// use tyreside::decimal;
/// assert_eq!(decimal::fixed(2.345, 1), "2.3");
/// assert_eq!(decimal::fixed(-0.04, 1), "0.0");
/// assert_eq!(decimal::fixed(f64::NAN, 1), "—");
/// ```
pub fn fixed(value: f64, decimals: usize) -> String {
    let decimals = decimals.min(9);
    let scale = 10_u64.pow(decimals as u32);
    let steps = (value.abs() * scale as f64).round();
    // Asked this way round, what is no number gets the dash too.
    let writable = steps < 1e18;
    if !writable {
        return "—".to_owned();
    }
    let steps = steps as u64;
    let sign = if value < 0.0 && steps > 0 { "-" } else { "" };
    let (whole, rest) = (steps / scale, steps % scale);
    if decimals == 0 {
        format!("{sign}{whole}")
    } else {
        format!("{sign}{whole}.{rest:0decimals$}")
    }
}

/// [`fixed`] without zeros at the end.
pub fn short(value: f64, decimals: usize) -> String {
    let text = fixed(value, decimals);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the standard library, which is exact.
    #[test]
    fn both_ways_agree_with_the_standard_library() {
        let mut state = 1_u64;
        for _ in 0..200_000 {
            // A linear congruential step is random enough to spread digits.
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            let value = (state >> 20) as f64 / 1e8 - 40_000.0;
            for decimals in [0, 1, 2, 6] {
                let text = fixed(value, decimals);
                let exact: f64 = text.parse().unwrap();
                assert_eq!(parse(&text), Some(exact), "{text}");
                let half = 0.5 / 10_f64.powi(decimals as i32);
                let last_bit = value.abs() * f64::EPSILON;
                assert!((exact - value).abs() <= half + last_bit, "{value} {text}");
            }
        }
    }

    #[test]
    fn short_drops_only_what_says_nothing() {
        assert_eq!(short(240.0, 2), "240");
        assert_eq!(short(50.5, 2), "50.5");
        assert_eq!(short(100.0, 0), "100");
        assert_eq!(short(0.0, 2), "0");
    }
}
