//! A section: one part of a rig that is kept as a record of its own, with its
//! own version, and read by the view that needs it.

use super::draft::Unusable;
use super::keep::Value;

/// Why a record can't be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unreadable {
    /// Not a record: cut, damaged or another thing.
    Damaged,
    /// Written by a newer version of this page.
    Newer {
        /// Its version.
        version: u32,
    },
    /// A part of a rig that is no longer there.
    Left,
    /// Kept by an older page in another tab, after this one had taken the rig
    /// over.
    Older,
}

crate::calc::error_by_its_fields!(Unreadable);

/// One part of a rig, kept by itself.
pub trait Section: Value + Clone + PartialEq + Send + Sync + 'static {
    /// Its stored name, which ends its key.
    const PART: &'static str;

    /// The version written now.
    const VERSION: u32;

    /// What it is where nothing was kept: of the invented rig, or of one's own.
    fn fresh(demo: bool) -> Self;

    /// Brings the body of an older version up to the present one.
    fn migrate(version: u32, body: &str) -> Option<Self>;

    /// Whether every number is one that could have been entered. A record is
    /// neither written nor read otherwise.
    fn is_sound(&self) -> bool;
}

/// A section with fields of its own.
pub trait Entered: Section {
    /// Its texts that can't be used.
    fn texts(&self) -> &[Unusable];

    /// The same, to change.
    fn texts_mut(&mut self) -> &mut Vec<Unusable>;

    /// Whether a field whose name begins so holds a text that can't be used.
    fn is_unusable(&self, prefix: &str) -> bool {
        self.texts()
            .iter()
            .any(|text| text.field.starts_with(prefix))
    }
}

/// A section whose texts that can't be used stand in its field `unusable`.
macro_rules! entered {
    ($section:ty) => {
        impl $crate::rig::section::Entered for $section {
            fn texts(&self) -> &[$crate::rig::draft::Unusable] {
                &self.unusable
            }

            fn texts_mut(&mut self) -> &mut Vec<$crate::rig::draft::Unusable> {
                &mut self.unusable
            }
        }
    };
}
pub(super) use entered;

/// The section in a record's body.
///
/// # Errors
/// [`Unreadable`]; the caller keeps the text.
pub fn read<S: Section>(version: u32, body: &str) -> Result<S, Unreadable> {
    if version > S::VERSION {
        return Err(Unreadable::Newer { version });
    }
    let section = if version == S::VERSION {
        S::read(body)
    } else {
        S::migrate(version, body)
    };
    section.filter(S::is_sound).ok_or(Unreadable::Damaged)
}

/// The body of a section's record; none of one that is not sound, which could
/// not be read again.
pub fn body<S: Section>(section: &S) -> Option<String> {
    section.is_sound().then(|| {
        let mut body = String::new();
        section.write(&mut body);
        body
    })
}

/// Whether it can be written down and read back. What a figure may be is for
/// its section to say, here or on its way to where it counts.
pub(super) fn comes_back<S: Value>(section: &S) -> bool {
    let mut body = String::new();
    section.write(&mut body);
    S::read(&body).is_some()
}

/// A section as it comes back from its record.
#[cfg(test)]
pub(crate) fn again<S: Section>(section: &S) -> S {
    let body = body(section).expect("a sound section");
    read(S::VERSION, &body).expect("a section")
}
