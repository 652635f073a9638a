//! What a new rig is: a vehicle alone, or one with a trailer.

use crate::rig::{Axle, Place};

/// The heading that asks.
pub const QUESTION: &str = "rig-kind";

/// What a rig is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A vehicle with a front and a rear axle.
    Alone,
    /// One that tows a trailer with this many axles.
    Towing(u8),
}

impl Kind {
    /// What can be picked.
    pub const ALL: [Self; 4] = [
        Self::Alone,
        Self::Towing(1),
        Self::Towing(2),
        Self::Towing(3),
    ];

    /// Its name on its key.
    pub fn name(self) -> &'static str {
        match self {
            Self::Alone => "Vehicle alone",
            Self::Towing(1) => "With a trailer, 1 axle",
            Self::Towing(2) => "With a trailer, 2 axles",
            Self::Towing(_) => "With a trailer, 3 axles",
        }
    }

    /// Its axles with nothing entered; a trailer's are one group.
    pub fn axles(self) -> Vec<Axle> {
        let mut axles = vec![Axle::empty(Place::Front), Axle::empty(Place::Rear)];
        if let Self::Towing(count) = self {
            axles.push(Axle {
                axles: count,
                ..Axle::empty(Place::Trailer)
            });
        }
        axles
    }

    /// Its axles from above, front on the left.
    pub fn svg(self) -> String {
        let mut svg =
            String::from(r#"<svg viewBox="0 0 120 40" aria-hidden="true"><path d="M12 20H50"/>"#);
        let mut axle = |x: u16| {
            svg += &format!(
                r#"<path d="M{x} 8V32"/><rect x="{0}" y="3" width="14" height="8" rx="2"/><rect x="{0}" y="29" width="14" height="8" rx="2"/>"#,
                x - 7
            );
        };
        axle(12);
        axle(50);
        if let Self::Towing(count) = self {
            // Around the middle of the trailer.
            let first = 92 - 8 * (u16::from(count) - 1);
            for line in 0..u16::from(count) {
                axle(first + 16 * line);
            }
            svg += r#"<path d="M62 20H112"/><circle cx="62" cy="20" r="3"/>"#;
        }
        svg + "</svg>"
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{PressureUnit, Rig};

    #[test]
    fn each_kind_is_a_sound_rig_drawn_with_as_many_axles() {
        for (kind, lines) in Kind::ALL.into_iter().zip([2, 3, 4, 5]) {
            let mut rig = Rig::empty("", PressureUnit::Psi);
            rig.begin_with(kind.axles());
            assert!(rig.is_sound(), "{kind:?}");
            let axles: u8 = rig.axles.iter().map(|axle| axle.axles).sum();
            assert_eq!(axles, lines);
            assert_eq!(kind.svg().matches("<rect").count(), 2 * usize::from(lines));
        }
    }
}
