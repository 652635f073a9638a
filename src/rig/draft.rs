//! Texts that can't be used: kept as typed, so that the value each was to
//! replace is not shown as current while it stands.

use super::AxleId;
use super::keep::{self, Value, kept};
use super::names::Named;
use super::typed::Measure;

/// What a text that can't be used belongs to: where it stands, no figure that
/// hangs on its owner is current.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Owner {
    /// The whole rig.
    Rig,
    /// One axle of it.
    Axle(AxleId),
    /// A wheel typed in.
    TypedIn,
    /// Nothing that a pressure hangs on.
    #[default]
    Nothing,
}

const RIG: &str = "rig";
const AXLE: &str = "axle ";
const TYPED_IN: &str = "typed_in";
const NOTHING: &str = "nothing";

impl Value for Owner {
    fn read(json: &str) -> Option<Self> {
        let name = String::read(json)?;
        match name.as_str() {
            RIG => Some(Self::Rig),
            TYPED_IN => Some(Self::TypedIn),
            NOTHING => Some(Self::Nothing),
            axle => {
                let id = axle.strip_prefix(AXLE)?.parse().ok()?;
                Some(Self::Axle(AxleId(id)))
            }
        }
    }

    fn write(&self, to: &mut String) {
        match self {
            Self::Rig => keep::text(RIG, to),
            Self::Axle(id) => keep::text(&format!("{AXLE}{}", id.0), to),
            Self::TypedIn => keep::text(TYPED_IN, to),
            Self::Nothing => keep::text(NOTHING, to),
        }
    }
}

kept! {
    /// A text in a field that could not be used.
    #[derive(Default)]
    pub struct Unusable {
        /// What it belongs to.
        of: Owner = "of",
        /// The field, by its stored name; with the owner, no other's.
        field: String = "field",
        /// As typed.
        text: String = "text",
        /// What it was meant in, where no unit stands behind it.
        meant: Option<Measure> = "meant",
    }
}

impl Unusable {
    /// Whether it stands in this field.
    pub fn is_in(&self, of: Owner, field: &str) -> bool {
        self.of == of && self.field == field
    }

    /// As it reads where a bare number would be meant in `shown`.
    pub fn shown_in(&self, shown: Option<Measure>) -> String {
        match self.meant {
            Some(meant)
                if self.meant != shown && self.text.ends_with(|c: char| c.is_ascii_digit()) =>
            {
                format!("{} {}", self.text, meant.name())
            }
            _ => self.text.clone(),
        }
    }
}
