//! How a value is written down and read: JSON, by one reader and one writer,
//! which a section's fields are listed for once. A derived reader for each
//! would cost the page some 25 kB.

use crate::decimal;
use serde::de::{Deserializer, MapAccess, Visitor};
use serde_json::value::RawValue;
use std::fmt;

/// What can be written down.
pub trait Value: Sized {
    /// The value that a JSON text holds; none where it holds no such.
    fn read(json: &str) -> Option<Self>;

    /// Writes it behind `to`.
    fn write(&self, to: &mut String);

    /// Whether it is so by its absence, and so is not written.
    fn is_absent(&self) -> bool {
        false
    }

    /// The value that absence says.
    fn absent() -> Option<Self> {
        None
    }
}

/// Members of an object that this page does not know, as they stand: they are
/// written back unchanged.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Unknown(Vec<(String, String)>);

impl Unknown {
    /// Their names.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(name, _)| name.as_str())
    }
}

/// The members of an object, their values as they stand.
struct Members<'a>(Vec<(String, &'a RawValue)>);

impl<'de> serde::Deserialize<'de> for Members<'de> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Each;
        impl<'de> Visitor<'de> for Each {
            type Value = Members<'de>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut members = Vec::new();
                while let Some(member) = map.next_entry()? {
                    members.push(member);
                }
                Ok(Members(members))
            }
        }
        from.deserialize_map(Each)
    }
}

/// The members of a JSON object, each with its value as it stands; none where
/// it is no object, or names one twice.
#[inline(never)]
pub fn members(json: &str) -> Option<Vec<(String, &str)>> {
    let Members(raw) = serde_json::from_str(json).ok()?;
    let mut members: Vec<(String, &str)> = Vec::new();
    for (name, value) in raw {
        if members.iter().any(|(of, _)| *of == name) {
            return None;
        }
        members.push((name, value.get()));
    }
    Some(members)
}

/// Hands every member of an object to `take`, which says whether it knows the
/// name, or nothing where it can't be read; what it does not know comes back.
#[inline(never)]
pub fn read_members(
    json: &str,
    take: &mut dyn FnMut(&str, &str) -> Option<bool>,
) -> Option<Unknown> {
    let mut unknown = Vec::new();
    for (name, value) in members(json)? {
        if !take(&name, value)? {
            unknown.push((name, value.to_owned()));
        }
    }
    Some(Unknown(unknown))
}

/// The items of a JSON list, as they stand.
#[inline(never)]
pub fn items(json: &str) -> Option<Vec<&str>> {
    let items: Vec<&RawValue> = serde_json::from_str(json).ok()?;
    Some(items.into_iter().map(RawValue::get).collect())
}

/// Writes a text as JSON.
#[inline(never)]
pub fn text(text: &str, to: &mut String) {
    to.push('"');
    for c in text.chars() {
        match c {
            '"' => to.push_str("\\\""),
            '\\' => to.push_str("\\\\"),
            c if c < ' ' => to.push_str(&format!("\\u{:04x}", c as u32)),
            c => to.push(c),
        }
    }
    to.push('"');
}

/// An object being written.
pub struct Object<'a> {
    to: &'a mut String,
    empty: bool,
}

impl<'a> Object<'a> {
    /// Begins one behind `to`.
    pub fn begin(to: &'a mut String) -> Self {
        to.push('{');
        Self { to, empty: true }
    }

    /// Writes a member, if it is not so by its absence.
    #[inline(never)]
    pub fn put<T: Value>(&mut self, name: &str, value: &T) {
        if !value.is_absent() {
            value.write(self.member(name));
        }
    }

    /// Begins a member: its value is to be written behind what comes back.
    #[inline(never)]
    pub fn member(&mut self, name: &str) -> &mut String {
        if !self.empty {
            self.to.push(',');
        }
        self.empty = false;
        text(name, self.to);
        self.to.push(':');
        self.to
    }

    /// Ends it with what is not known.
    #[inline(never)]
    pub fn end(mut self, unknown: &Unknown) {
        for (name, value) in &unknown.0 {
            self.member(name).push_str(value);
        }
        self.to.push('}');
    }
}

impl Value for String {
    fn read(json: &str) -> Option<Self> {
        serde_json::from_str(json).ok()
    }

    fn write(&self, to: &mut String) {
        text(self, to);
    }

    fn is_absent(&self) -> bool {
        self.is_empty()
    }
}

impl Value for bool {
    fn read(json: &str) -> Option<Self> {
        match json {
            "true" => Some(true),
            "false" => Some(false),
            _ => None,
        }
    }

    fn write(&self, to: &mut String) {
        to.push_str(if *self { "true" } else { "false" });
    }
}

macro_rules! whole {
    ($($number:ty),+) => {$(
        impl Value for $number {
            fn read(json: &str) -> Option<Self> {
                json.parse().ok()
            }

            fn write(&self, to: &mut String) {
                to.push_str(&self.to_string());
            }
        }
    )+};
}
whole!(u8, u32, usize);

/// A bare number, nine decimals at most: of a moment in days they are a tenth
/// of a millisecond.
impl Value for f64 {
    fn read(json: &str) -> Option<Self> {
        decimal::parse(json)
    }

    fn write(&self, to: &mut String) {
        to.push_str(&decimal::short(*self, 9));
    }
}

impl<T: Value> Value for Option<T> {
    fn read(json: &str) -> Option<Self> {
        match json {
            "null" => Some(None),
            json => T::read(json).map(Some),
        }
    }

    fn write(&self, to: &mut String) {
        match self {
            Some(value) => value.write(to),
            None => to.push_str("null"),
        }
    }

    fn is_absent(&self) -> bool {
        self.is_none()
    }

    fn absent() -> Option<Self> {
        Some(None)
    }
}

impl<T: Value> Value for Vec<T> {
    fn read(json: &str) -> Option<Self> {
        // An iterator's `collect` would cost each type its own of it.
        let mut read = Self::new();
        for item in items(json)? {
            read.push(T::read(item)?);
        }
        Some(read)
    }

    fn write(&self, to: &mut String) {
        to.push('[');
        for (index, item) in self.iter().enumerate() {
            if index > 0 {
                to.push(',');
            }
            item.write(to);
        }
        to.push(']');
    }

    fn is_absent(&self) -> bool {
        self.is_empty()
    }
}

/// A struct that is written down as an object, each field under a stored name.
/// A field that a record lacks is as in the struct's default, and what a
/// record has besides stays in `unknown`. Fields `beside` are not written with
/// it.
macro_rules! kept {
    (
        $(#[$meta:meta])*
        pub struct $name:ident {
            $($(#[$field_meta:meta])* $field:ident: $type:ty = $text:literal,)+
        } $(beside {
            $($(#[$beside_meta:meta])* $beside:ident: $beside_type:ty,)+
        })?
    ) => {
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            $($(#[$field_meta])* pub $field: $type,)+
            $($($(#[$beside_meta])* pub $beside: $beside_type,)+)?
            /// What this page does not know of it.
            pub unknown: $crate::rig::keep::Unknown,
        }

        impl $crate::rig::keep::Value for $name {
            fn read(json: &str) -> Option<Self> {
                let mut this = Self::default();
                this.unknown = $crate::rig::keep::read_members(json, &mut |name, value| {
                    match name {
                        $($text => $crate::rig::keep::take(&mut this.$field, value)?,)+
                        _ => return Some(false),
                    }
                    Some(true)
                })?;
                Some(this)
            }

            fn write(&self, to: &mut String) {
                let mut object = $crate::rig::keep::Object::begin(to);
                $(object.put($text, &self.$field);)+
                object.end(&self.unknown);
            }
        }
    };
}
pub(super) use kept;

/// A small value written down as an object. It has no room for what it does
/// not know, and is unreadable with it: a new field needs a new version.
macro_rules! kept_value {
    (
        $(#[$meta:meta])*
        pub struct $name:ident {
            $($(#[$field_meta:meta])* $field:ident: $type:ty = $text:literal,)+
        }
    ) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct $name {
            $($(#[$field_meta])* pub $field: $type,)+
        }

        impl $crate::rig::keep::Value for $name {
            fn read(json: &str) -> Option<Self> {
                // A struct, since fields may be called as units are.
                struct Read {
                    $($field: Option<$type>,)+
                }
                let mut read = Read { $($field: None,)+ };
                let unknown = $crate::rig::keep::read_members(json, &mut |name, value| {
                    match name {
                        $($text => $crate::rig::keep::take_once(&mut read.$field, value)?,)+
                        _ => return Some(false),
                    }
                    Some(true)
                })?;
                if unknown.names().next().is_some() {
                    return None;
                }
                Some(Self {
                    $($field: $crate::rig::keep::or_absent(read.$field)?,)+
                })
            }

            fn write(&self, to: &mut String) {
                let mut object = $crate::rig::keep::Object::begin(to);
                $(object.put($text, &self.$field);)+
                object.end(&$crate::rig::keep::Unknown::default());
            }
        }
    };
}
pub(super) use kept_value;

/// Reads a member in the place of what stands there. Written out once for each
/// type, not for each field.
#[inline(never)]
pub fn take<T: Value>(place: &mut T, json: &str) -> Option<()> {
    *place = T::read(json)?;
    Some(())
}

/// The same where nothing stands there yet.
#[inline(never)]
pub fn take_once<T: Value>(place: &mut Option<T>, json: &str) -> Option<()> {
    *place = Some(T::read(json)?);
    Some(())
}

/// A member's value; of one that is left out, what that says, if anything.
pub fn or_absent<T: Value>(read: Option<T>) -> Option<T> {
    read.or_else(T::absent)
}

#[cfg(test)]
mod tests {
    use super::*;

    kept! {
        /// A thing with one of each.
        #[derive(Default)]
        pub struct Thing {
            /// A text.
            name: String = "name",
            /// A flag.
            whole: bool = "whole",
            /// Numbers.
            days: Vec<f64> = "days",
            /// One that may be missing.
            count: Option<u8> = "count",
            /// Others inside.
            inside: Vec<Thing> = "inside",
        }
    }

    fn written(value: &impl Value) -> String {
        let mut text = String::new();
        value.write(&mut text);
        text
    }

    #[test]
    fn what_is_not_known_comes_back_as_it_stood() {
        let text = "{\"name\":\"A \\\"b\\\" \\\\ \u{1f69a}\\u000a\",\"whole\":true,\"days\":[20782.123456789,-3],\
            \"inside\":[{\"whole\":false,\"later\":[1.50, {\"x\" : null}]}],\"colour\":1e400}";
        let thing = Thing::read(text).expect("a thing");
        assert_eq!(thing.name, "A \"b\" \\ \u{1f69a}\n");
        assert_eq!(thing.days, [20782.123456789, -3.0]);
        assert_eq!(
            thing.inside[0].unknown.names().collect::<Vec<_>>(),
            ["later"]
        );
        assert_eq!(written(&thing), text);
        // The JSON library, which is someone else's, reads the same.
        let theirs: serde_json::Value =
            serde_json::from_str(&text.replace("1e400", "1")).expect("JSON");
        assert_eq!(theirs["name"], thing.name);
    }

    #[test]
    fn a_value_of_another_kind_or_named_twice_makes_it_unreadable() {
        for text in [
            "{\"name\":1}",
            "{\"whole\":\"yes\"}",
            "{\"count\":256}",
            "{\"count\":1.5}",
            "{\"days\":{}}",
            "{\"days\":[1e3]}",
            "{\"name\":\"a\",\"name\":\"b\"}",
            "{\"x\":1,\"x\":1}",
            "{\"inside\":[{\"count\":-1}]}",
            "[]",
            "null",
            "{} {}",
        ] {
            assert_eq!(Thing::read(text), None, "{text}");
        }
        assert_eq!(Thing::read(" {\"count\":null} "), Some(Thing::default()));
    }
}
