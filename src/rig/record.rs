//! A rig as it is written down: JSON in a versioned envelope.
//!
//! Numbers are written with nine decimals at most, which keeps a pressure
//! typed in any unit on its gauge mark.

use super::Rig;
use serde::{Deserialize, Serialize};

/// The version written now.
pub const VERSION: u32 = 1;

/// Longest record read, in bytes: a rig is under 4 kB, and under 60 kB with as
/// many dated readings as are kept.
const LONGEST: usize = 200_000;

#[derive(Serialize)]
struct Written<'a> {
    version: u32,
    rig: &'a Rig,
}

#[derive(Deserialize)]
struct VersionOnly {
    version: u32,
}

#[derive(Deserialize)]
struct Version1 {
    rig: Rig,
}

/// Numbers of a rig, for `#[serde(with = "number")]`.
pub(super) mod number {
    use crate::decimal;
    use serde::{Deserialize, Deserializer, Serialize, Serializer, ser::Error};
    use serde_json::value::RawValue;

    pub(crate) fn serialize<S: Serializer>(value: &f64, to: S) -> Result<S::Ok, S::Error> {
        // What is no number is no JSON either, and says so here.
        raw(*value)
            .ok_or_else(|| S::Error::custom("no number"))?
            .serialize(to)
    }

    #[inline(never)]
    fn raw(value: f64) -> Option<Box<RawValue>> {
        RawValue::from_string(decimal::short(value, 9)).ok()
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<f64, D::Error> {
        f64::deserialize(from)
    }

    /// The same, where a number may be missing.
    pub(crate) mod maybe {
        use super::{Deserialize, Deserializer, Serializer};

        pub(crate) fn serialize<S: Serializer>(
            value: &Option<f64>,
            to: S,
        ) -> Result<S::Ok, S::Error> {
            match value {
                Some(value) => super::serialize(value, to),
                None => to.serialize_none(),
            }
        }

        pub(crate) fn deserialize<'de, D: Deserializer<'de>>(
            from: D,
        ) -> Result<Option<f64>, D::Error> {
            Option::deserialize(from)
        }
    }
}

/// Reads one of `names` and gives its place among them.
pub(super) fn name<'de, D: serde::Deserializer<'de>>(
    from: D,
    names: &[&str],
) -> Result<usize, D::Error> {
    let name = String::deserialize(from)?;
    let place = names.iter().position(|of| *of == name);
    place.ok_or_else(unknown_name)
}

/// That a stored name means nothing here.
pub(super) fn unknown_name<E: serde::de::Error>() -> E {
    E::custom("an unknown name")
}

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
}

/// The record of a rig; none of one that is not sound, which could not be
/// read again.
pub fn write(rig: &Rig) -> Option<String> {
    rig.is_sound()
        .then(|| {
            serde_json::to_string(&Written {
                version: VERSION,
                rig,
            })
            .ok()
        })
        .flatten()
}

/// The rig in a record, brought up to the present version.
///
/// # Errors
/// [`Unreadable`]; the caller keeps the text.
pub fn read(text: &str) -> Result<Rig, Unreadable> {
    let damaged = |_| Unreadable::Damaged;
    if text.len() > LONGEST {
        return Err(Unreadable::Damaged);
    }
    let VersionOnly { version } = serde_json::from_str(text).map_err(damaged)?;
    let Version1 { rig } = match version {
        1 => serde_json::from_str(text).map_err(damaged)?,
        0 => return Err(Unreadable::Damaged),
        _ => return Err(Unreadable::Newer { version }),
    };
    if !rig.is_sound() {
        return Err(Unreadable::Damaged);
    }
    Ok(rig)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::quantity::{GaugeStep, kilopascal};
    use crate::rig::{Axle, LoadFrom, OwnBand, Place, PressureUnit, Setting, Surface, Vehicle};

    #[test]
    fn what_is_written_is_read_back_and_stays_on_its_mark() {
        let mut rig = Rig::demo();
        let step = GaugeStep::one_psi();
        for mark in 15..=130 {
            let typed = PressureUnit::Psi.reading(f64::from(mark));
            rig.axles[0].placard_kpa = Some(typed.get::<kilopascal>());
            let back = read(&write(&rig).unwrap()).expect("a rig");
            let kpa = back.axles[0].placard_kpa.expect("a placard");
            let reading = PressureUnit::Kpa.reading(kpa);
            for rounded in [reading.round_up(step), reading.round_down(step)] {
                assert!((PressureUnit::Psi.number(rounded) - f64::from(mark)).abs() < 1e-6);
            }
            // Written once more it no longer changes.
            assert_eq!(read(&write(&back).unwrap()), Ok(back));
        }
    }

    /// A record as version 1 wrote it first, with an allowance for low speed
    /// that has gone and without what came later. If this fails, a user's saved
    /// rig would no longer be read: add a version instead of changing it.
    #[test]
    fn a_version_1_record_stays_readable() {
        let text = r#"{"version":1,"rig":{"name":"Old one","demo":false,"unit":"kpa",
            "surface":"corrugations","setting":"practice","low_speed_allowance":false,
            "floor_kpa":110.0,"uneven_load_percent":5.0,"tow_vehicle":"passenger_car",
            "bands":[{"surface":"sand","low_percent":40.0,"high_percent":50.0,"speed_kmh":30.0}],
            "axles":[{"place":"trailer","axles":2,"dual":true,"tyre":"195R14C 106/104P",
            "moulded_load_kg":950.0,"moulded_dual_load_kg":900.0,"moulded_pressure_kpa":450.0,
            "moulded_minimum_kpa":200.0,"placard_kpa":400.0,"wheel_maximum_kpa":500.0,
            "own_sealed_kpa":420.0,"load_from":"rating","left_kg":101.0,"right_kg":102.0,
            "weighed_kg":103.0,"rating_kg":2400.0}]}}"#;
        let rig = read(text).expect("a rig");
        let axle = Axle {
            axles: 2,
            dual: true,
            tyre: "195R14C 106/104P".to_owned(),
            moulded_load_kg: Some(950.0),
            moulded_dual_load_kg: Some(900.0),
            moulded_pressure_kpa: Some(450.0),
            moulded_minimum_kpa: Some(200.0),
            placard_kpa: Some(400.0),
            wheel_maximum_kpa: Some(500.0),
            own_sealed_kpa: Some(420.0),
            load_from: LoadFrom::Rating,
            left_kg: Some(101.0),
            right_kg: Some(102.0),
            weighed_kg: Some(103.0),
            rating_kg: Some(2400.0),
            ..Axle::empty(Place::Trailer)
        };
        let expected = Rig {
            name: "Old one".to_owned(),
            unit: PressureUnit::Kpa,
            surface: Surface::Corrugations,
            setting: Setting::Practice,
            floor_kpa: 110.0,
            uneven_load_percent: 5.0,
            tow_vehicle: Vehicle::PassengerCar,
            bands: vec![OwnBand {
                surface: Surface::Sand,
                low_percent: 40.0,
                high_percent: 50.0,
                low_kpa: None,
                high_kpa: None,
                speed_kmh: 30.0,
            }],
            axles: vec![axle],
            ..Rig::empty("", PressureUnit::Psi)
        };
        assert_eq!(rig, expected);
    }

    #[test]
    fn anything_else_is_unreadable_and_never_a_panic() {
        let whole = write(&Rig::demo()).unwrap();
        for end in 0..whole.len() {
            assert!(read(&whole[..end]).is_err(), "cut at {end}");
        }
        for text in [
            "",
            "null",
            "[]",
            "{\"version\":1}",
            "{\"version\":0,\"rig\":{}}",
            "\u{feff}{}",
        ] {
            assert_eq!(read(text), Err(Unreadable::Damaged), "{text}");
        }
        let newer = whole.replacen("\"version\":1", "\"version\":7", 1);
        assert_eq!(read(&newer), Err(Unreadable::Newer { version: 7 }));
        // Numbers out of their limits; written out and read back, 1e9 kg
        // once left a record of no bytes.
        for (old, new) in [
            ("1310", "1e9"),
            ("1310", "-1"),
            ("\"axles\":2", "\"axles\":255"),
        ] {
            let text = whole.replacen(old, new, 1);
            assert_ne!(text, whole);
            assert_eq!(read(&text), Err(Unreadable::Damaged), "{old} to {new}");
        }
        assert_eq!(
            write(&Rig {
                axles: Vec::new(),
                ..Rig::demo()
            }),
            None
        );
    }
}
