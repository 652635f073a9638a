//! The digits of a number, and the slips that are made with them.

/// A number's digits, three decimals among them, and by what they count.
fn digits(number: f64) -> Option<(u32, f64)> {
    /// Far beyond what can be entered, and no sum of it overflows.
    const MOST: u32 = 99_999_999;
    let scale = [1.0, 10.0, 100.0, 1000.0]
        .into_iter()
        .find(|scale| ((number * scale).round() - number * scale).abs() < 1e-6)?;
    let whole = (number * scale).round() as u32;
    (whole <= MOST).then_some((whole, scale))
}

/// Shows a number with two neighbouring digits the other way round, in each
/// way. Not as a list: the page's start does without one.
pub(super) fn swapped(number: f64, show: &mut dyn FnMut(f64)) {
    let Some((whole, scale)) = digits(number) else {
        return;
    };
    let mut place = 1;
    while whole / place >= 10 {
        let (left, right) = (whole / place / 10 % 10, whole / place % 10);
        if left != right {
            show(f64::from(whole + 9 * place * right - 9 * place * left) / scale);
        }
        place *= 10;
    }
}

/// A number with one digit another, in each way.
pub(super) fn misread(number: f64) -> Vec<f64> {
    let mut all = Vec::new();
    let Some((whole, scale)) = digits(number) else {
        return all;
    };
    let mut place = 1;
    while whole >= place {
        let digit = whole / place % 10;
        let others = (0..10).filter(|other| *other != digit);
        all.extend(others.map(|other| f64::from(whole + place * other - place * digit) / scale));
        place *= 10;
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn swaps(number: f64) -> Vec<f64> {
        let mut all = Vec::new();
        swapped(number, &mut |of| all.push(of));
        all
    }

    #[test]
    fn digits_are_swapped_and_misread_in_every_way() {
        assert_eq!(swaps(1720.0), [1702.0, 1270.0, 7120.0]);
        assert_eq!(swaps(2.6), [6.2]);
        assert_eq!(swaps(7.0), [] as [f64; 0]);
        assert_eq!(swaps(1.0 / 3.0), [] as [f64; 0]);
        for number in [-3.0, 0.0, f64::NAN, f64::INFINITY, 1e300] {
            let all = [swaps(number), misread(number)].concat();
            assert!(all.iter().all(|of| of.is_finite()), "{number}");
        }
        let all = misread(21.0);
        assert_eq!(all.len(), 18);
        assert!(all.contains(&91.0) && all.contains(&20.0) && all.contains(&1.0));
    }
}
