//! What is known of a rig's copies elsewhere: which rig it is, whatever it is
//! called, and which states of its sections have left or entered.
//!
//! States are known by checksums of their records. A state that the other
//! side has seen is older than what it has now; where neither has seen the
//! other's, both changed. No clock is asked.

use super::air::{Air, PARTED};
use super::keep::kept;
use super::section::Section;
use crate::calc::limits::Field;

/// A section and the checksum of its record.
pub type Sum = (String, u32);

kept! {
    /// The states of one section, the newest last.
    #[derive(Default)]
    pub struct Seen {
        /// The section's stored name.
        part: String = "part",
        /// Checksums of its records.
        sums: Vec<u32> = "sums",
    }
}

kept! {
    /// What is known of a rig's copies.
    #[derive(Default)]
    pub struct Copies {
        /// Which rig it is: drawn by lot when its first copy is made, and the
        /// same in all of them.
        rig: String = "rig",
        /// The states that have left or entered.
        seen: Vec<Seen> = "seen",
        /// When the last copy was made, days since 1970.
        copied: Option<f64> = "copied",
        /// When a copy was made, or the word to make one waved away.
        marked: Option<f64> = "marked",
        /// The states then, one a section.
        marks: Vec<Seen> = "marks",
    }
}

impl Section for Copies {
    const PART: &'static str = "copies";
    const VERSION: u32 = 1;

    fn fresh(_: bool) -> Self {
        Self::default()
    }

    fn migrate(_: u32, _: &str) -> Option<Self> {
        None
    }

    fn is_sound(&self) -> bool {
        let short = |list: &[Seen]| {
            list.len() <= Self::MOST_PARTS && list.iter().all(|of| of.sums.len() <= Self::MOST_SUMS)
        };
        let day = |day: Option<f64>| day.is_none_or(|day| Field::ReadingDay.check(day).is_ok());
        self.rig.len() <= Self::LONGEST_NAME
            && short(&self.seen)
            && short(&self.marks)
            && day(self.copied)
            && day(self.marked)
    }
}

impl Copies {
    /// Most states kept of a section.
    pub const MOST_SUMS: usize = 8;
    /// Most sections: logs come in pieces by year.
    pub const MOST_PARTS: usize = 100;
    /// Longest name of a rig.
    pub const LONGEST_NAME: usize = 32;
    /// So many changed sections are much.
    pub const MUCH: usize = 3;
    /// After so many days any change is much.
    pub const LONG_DAYS: f64 = 90.0;

    /// Whether a section was in this state when a copy left or entered.
    pub fn has_seen(&self, (part, sum): &Sum) -> bool {
        is_among(&self.seen, part, *sum)
    }

    /// Takes note of the states in which a copy leaves or has entered.
    pub fn see(&mut self, now: &[Sum]) {
        for (part, sum) in now {
            add(&mut self.seen, part, *sum);
        }
    }

    /// Takes over what another copy has seen.
    pub fn join(&mut self, other: &Self) {
        for seen in &other.seen {
            for sum in &seen.sums {
                add(&mut self.seen, &seen.part, *sum);
            }
        }
    }

    /// Takes note of when a copy was made.
    pub fn copied(&mut self, now: &[Sum], day: f64) {
        self.copied = Some(day);
        self.mark(now, day);
    }

    /// Counts changes from now on.
    pub fn mark(&mut self, now: &[Sum], day: f64) {
        self.marked = Some(day);
        self.marks.clear();
        for (part, sum) in now {
            add(&mut self.marks, part, *sum);
        }
    }

    /// Whether a copy should be made: there is none, or much has changed since
    /// [`Self::mark`]. What the tyres are set to does not count: every walk
    /// changes it.
    pub fn is_due(&self, now: &[Sum], day: f64) -> bool {
        let Some(marked) = self.marked else {
            return true;
        };
        let counts = |part: &str| part != Self::PART && part != super::set_to::SetTo::PART;
        let changed = now
            .iter()
            .filter(|(part, sum)| counts(part) && !is_among(&self.marks, part, *sum))
            .count();
        changed >= Self::MUCH || changed > 0 && day - marked >= Self::LONG_DAYS
    }

    /// What a link has room for: which rig it is, and the last states before
    /// those that it holds.
    #[must_use]
    pub fn in_short(&self, now: &[Sum]) -> Self {
        let mut short = Self {
            rig: self.rig.clone(),
            ..Self::default()
        };
        for (part, sum) in now {
            let mut before = sums_of(&self.seen, part).iter().rev();
            if let Some(before) = before.find(|of| *of != sum) {
                add(&mut short.seen, part, *before);
            }
        }
        short
    }
}

/// Whether a state of a section is one of these: also as it stood when it was
/// part of another.
fn is_among(list: &[Seen], part: &str, sum: u32) -> bool {
    let was_of = PARTED.contains(&part).then_some(Air::PART);
    let mut parts = [part].into_iter().chain(was_of);
    parts.any(|part| sums_of(list, part).contains(&sum))
}

fn sums_of<'a>(list: &'a [Seen], part: &str) -> &'a [u32] {
    let of = list.iter().find(|of| of.part == part);
    of.map_or(&[], |of| &of.sums)
}

fn add(list: &mut Vec<Seen>, part: &str, sum: u32) {
    let at = list.iter().position(|of| of.part == part);
    let at = at.unwrap_or_else(|| {
        list.push(Seen {
            part: part.to_owned(),
            ..Seen::default()
        });
        list.len() - 1
    });
    let sums = &mut list[at].sums;
    sums.retain(|of| *of != sum);
    sums.push(sum);
    if sums.len() > Copies::MOST_SUMS {
        sums.remove(0);
    }
    if list.len() > Copies::MOST_PARTS {
        list.remove(0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::section::again;

    fn sums(of: &[(&str, u32)]) -> Vec<Sum> {
        of.iter()
            .map(|(part, sum)| ((*part).to_owned(), *sum))
            .collect()
    }

    #[test]
    fn a_copy_is_due_at_first_and_when_much_has_changed() {
        let mut copies = Copies::default();
        let first = sums(&[("axles", 1), ("nuts", 1), ("air", 1), ("set_to", 1)]);
        assert!(copies.is_due(&first, 20_000.0));
        copies.copied(&first, 20_000.0);
        assert!(!copies.is_due(&first, 20_000.0));
        // Nothing changed: never.
        assert!(!copies.is_due(&first, 29_000.0));
        let two = sums(&[("axles", 2), ("nuts", 2), ("air", 1), ("set_to", 2)]);
        assert!(!copies.is_due(&two, 20_089.0));
        assert!(copies.is_due(&two, 20_090.0));
        let three = sums(&[("axles", 2), ("nuts", 2), ("air", 1), ("weights", 1)]);
        assert!(copies.is_due(&three, 20_001.0));
        copies.mark(&three, 20_001.0);
        assert!(!copies.is_due(&three, 20_001.0));
        assert_eq!(copies.copied, Some(20_000.0));
        assert_eq!(again(&copies), copies);
    }

    #[test]
    fn as_many_states_as_are_kept_are_sound_and_the_newest_stay() {
        let mut copies = Copies::default();
        let most = Copies::MOST_PARTS;
        for sum in 0..20 {
            for part in 0..most {
                copies.see(&[(format!("log_{part}"), sum)]);
            }
        }
        copies.see(&[("one_more".to_owned(), 1)]);
        assert!(copies.is_sound());
        assert!(copies.has_seen(&("one_more".to_owned(), 1)));
        assert!(!copies.has_seen(&("log_0".to_owned(), 19)));
        let last = format!("log_{}", most - 1);
        assert!(copies.has_seen(&(last.clone(), 19)));
        assert!(copies.has_seen(&(last.clone(), 12)));
        assert!(!copies.has_seen(&(last.clone(), 11)));
        let now = sums(&[(last.as_str(), 19)]);
        let short = copies.in_short(&now);
        assert!(short.has_seen(&(last, 18)));
        assert!(!short.has_seen(&now[0]));
        assert_eq!(again(&copies), copies);
    }
}
