//! The wheel behind the nuts, as SVG.

use crate::calc::torque::sequence::Progress;
use crate::decimal;

/// The bolt circle's share of half the drawing. The styles place the nuts by
/// the same share.
const BOLT_CIRCLE: f64 = 76.0;
const RADIUS: f64 = 100.0;

/// Rim and hub, and the way from the nut pulled last to the next. Hidden from
/// screen readers, which have the nuts in order.
pub fn svg(progress: &Progress) -> String {
    let mut svg = format!(
        r#"<svg viewBox="-{0} -{0} {1} {1}" aria-hidden="true"><circle class="rim" r="97"/>"#,
        at(RADIUS),
        at(2.0 * RADIUS)
    );
    // Between two stages there is no way: all nuts start anew.
    let each = usize::from(progress.studs().count());
    let within_stage = !progress.ticked().len().is_multiple_of(each);
    if let (true, Some(from), Some(to)) = (within_stage, progress.ticked().last(), progress.next())
    {
        let [from, to] = [*from, to].map(|stud| {
            let place = progress.studs().place(stud);
            [place.right, place.down].map(|share| at(share * BOLT_CIRCLE))
        });
        svg += &format!(
            r#"<path class="way" d="M{} {}L{} {}"/>"#,
            from[0], from[1], to[0], to[1]
        );
    }
    svg + r#"<circle class="hub" r="46"/></svg>"#
}

fn at(value: f64) -> String {
    decimal::short(value, 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::torque::sequence::{Stages, Studs};

    #[test]
    fn the_way_leads_from_nut_to_nut_within_a_stage() {
        for studs in Studs::ALL {
            let mut wheel = Progress::new(studs, Stages::Two);
            assert!(!svg(&wheel).contains("way"));
            let mut ways = 0;
            while let Some(stud) = wheel.next() {
                wheel.tick(stud).unwrap();
                ways += svg(&wheel).matches("way").count();
            }
            assert_eq!(ways, 2 * (usize::from(studs.count()) - 1));
        }
        let mut wheel = Progress::new(Studs::Four, Stages::Two);
        wheel.tick(0).unwrap();
        assert!(
            svg(&wheel).contains(r#"d="M0 -76L0 76""#),
            "{}",
            svg(&wheel)
        );
    }
}
