//! Whether a sidewall was read rightly: held to what published ratings of its
//! family reach for its size.

use super::capacity::{CapacityError, Fitment, Moulded, exponent};
use super::designation::{Designation, Size, Standard};
use crate::calc::quantity::{GaugePressure, Mass, kilogram, kilopascal};
use uom::si::length::{inch, millimeter};

/// How hard the readings of one family may work their tyres, by
/// [`Designation::loading`]. `tests/published` prints where the published
/// ratings lie.
struct Bounds {
    /// Beyond the published ratings by a margin of our own of about a tenth:
    /// pounds read as kilograms, another load range, half the pressure.
    hardest: f64,
    /// The hardest published rating. Above it a misread digit or load range is
    /// as likely as such a tyre.
    published: f64,
    /// What a load index alone, its pair not given, may reach: the most easily
    /// worked tyre of the family with its index misread by as much as takes a
    /// seventh off the pressure.
    by_one_index: f64,
}

fn bounds(tyre: &Designation) -> Bounds {
    let (hardest, published, by_one_index) = match tyre.standard {
        Standard::LightTruck => (0.95, 0.88, 0.87),
        Standard::SpecialTrailer => (2.25, 2.08, 2.0),
        Standard::Commercial if tyre.marked => (0.65, 0.55, 0.53),
        // Some have one index moulded.
        Standard::Camper => (0.65, 0.55, 0.55),
        // A bare size may be a light-truck tyre's, which works harder at a
        // greater exponent: at 350 to 550 kPa 0.88 of theirs is 0.47 to 0.49.
        Standard::Commercial => (0.65, 0.47, 0.47),
        // From memory: 0.24 at most. Closer bounds are held to its size.
        Standard::Passenger => (0.25, 0.25, 0.25),
    };
    // A size in inches is narrower in name than the tyre is: from memory, up
    // to a third harder worked by its name.
    let by_name = match tyre.size {
        Size::Numeric { .. } => 1.4,
        _ => 1.0,
    };
    Bounds {
        hardest: hardest * by_name,
        published: published * by_name,
        by_one_index: by_one_index * by_name,
    }
}

/// The exponent of [`Designation::loading`] for [`Bounds`].
fn loading_exponent(standard: Standard) -> f64 {
    match standard {
        Standard::Passenger => 1.0,
        other => exponent(other),
    }
}

/// Above this share of [`standard_load`] a passenger tyre's index is that of
/// extra load: standard ones come to 1.08 at most, extra load to 1.11 and more
/// (54 sizes, their indices from memory).
const STANDARD_UP_TO: f64 = 1.09;

/// Above this share an index is of neither, nor any passenger tyre's: extra
/// load comes to 1.23 at most (from memory).
const EXTRA_LOAD_UP_TO: f64 = 1.26;

/// Below this share an index may be a light-truck tyre's whose `LT` was left
/// off: those of load range C come to 0.99 at most (from memory).
const STANDARD_FROM: f64 = 0.993;
/// On the tallest sizes the two have one index.
const STANDARD_FROM_TALL: f64 = 1.0;
const TALL_ASPECT: f64 = 75.0;

/// From here up a moulded pressure may be a light-truck tyre's of load range
/// C, 350 kPa or 50 psi.
const LIGHT_TRUCK_FROM_KPA: f64 = 340.0;

/// Standard load of a passenger size.
///
/// `6.67e-5 · √P · Sd^1.39 · (Dr + Sd)` kg with P 240 kPa, `Sd = (0.34848 +
/// 0.6497·A)·S`, section S and rim Dr in mm, aspect A: the load formula of the
/// P-metric standard as a tyre engineer restates it (eng-tips FAQ 108-1148,
/// 2005), with the nominal section for that on a rim of 70 %.
fn standard_load(tyre: &Designation) -> Option<Mass> {
    let Size::Metric { width, aspect } = tyre.size else {
        return None;
    };
    let section = (0.348_48 + 0.6497 * aspect / 100.0) * width;
    let rim = tyre.rim_diameter().get::<millimeter>().round();
    let kg = 6.67e-5 * 240.0_f64.sqrt() * section.powf(1.39) * (rim + section);
    Some(Mass::new::<kilogram>(kg))
}

/// What one index of a passenger size says beside its standard load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SizeLoad {
    /// Below it, on a size that light-truck tyres come in too.
    Below,
    /// About it, or not known.
    Standard,
    /// That of extra load.
    Extra,
    /// Beyond any passenger tyre.
    Beyond,
}

pub(super) fn size_load(tyre: &Designation) -> SizeLoad {
    let (Some(standard), Some(service)) = (standard_load(tyre), tyre.service) else {
        return SizeLoad::Standard;
    };
    let share = (service.single.load() / standard).value;
    let also_light_truck = tyre.aspect_ratio() >= 65.0
        && tyre.rim_diameter().get::<inch>() >= 15.0
        && tyre.section_width().get::<millimeter>() >= 215.0;
    let from = if tyre.aspect_ratio() >= TALL_ASPECT {
        STANDARD_FROM_TALL
    } else {
        STANDARD_FROM
    };
    if share > EXTRA_LOAD_UP_TO {
        SizeLoad::Beyond
    } else if share > STANDARD_UP_TO {
        SizeLoad::Extra
    } else if share < from && also_light_truck {
        SizeLoad::Below
    } else {
        SizeLoad::Standard
    }
}

/// Checks a reading of a sidewall: `load` at `pressure`, before any divisor.
///
/// # Errors
/// [`CapacityError::BeyondItsSize`] where no tyre of this size is so rated;
/// [`CapacityError::SecondMarkNeeded`], [`CapacityError::ExtraLoadOrMaximumNeeded`]
/// or [`CapacityError::FamilyMarkNeeded`] where a second mark must bear it out.
pub(super) fn check(
    tyre: &Designation,
    moulded: &Moulded,
    fitment: Fitment,
    load: Mass,
    pressure: GaugePressure,
) -> Result<(), CapacityError> {
    // The bounds are of single ratings; one misread for a pair shows there.
    let single = tyre.service.map(|service| service.single.load());
    let load = single.filter(|single| *single > load).unwrap_or(load);
    let bounds = bounds(tyre);
    let loading = tyre.loading(load, pressure, loading_exponent(tyre.standard));
    if loading > bounds.hardest {
        return Err(CapacityError::BeyondItsSize { load, pressure });
    }
    let moulded_load = match fitment {
        Fitment::Single => moulded.load_single,
        Fitment::Dual => moulded.load_dual,
    };
    if tyre.standard == Standard::Passenger {
        let light_truck = GaugePressure::new::<kilopascal>(LIGHT_TRUCK_FROM_KPA);
        let below_light_truck = moulded
            .pressure
            .is_some_and(|moulded| moulded < light_truck);
        return match size_load(tyre) {
            _ if moulded_load.is_some() => Ok(()),
            SizeLoad::Beyond => Err(CapacityError::BeyondItsSize { load, pressure }),
            SizeLoad::Extra if !tyre.reinforced && moulded.pressure.is_none() => {
                Err(CapacityError::ExtraLoadOrMaximumNeeded)
            }
            SizeLoad::Below if !tyre.marked && !below_light_truck => {
                Err(CapacityError::FamilyMarkNeeded)
            }
            _ => Ok(()),
        };
    }
    let pair = tyre.service.is_some_and(|service| service.dual.is_some());
    // Flotation tyres have one index moulded.
    let one_index = !pair && moulded_load.is_none() && !matches!(tyre.size, Size::Flotation { .. });
    let most = if one_index {
        bounds.by_one_index
    } else {
        bounds.published
    };
    let both = moulded_load.is_some() && moulded.pressure.is_some();
    if loading > most && !both {
        return Err(CapacityError::SecondMarkNeeded { load, pressure });
    }
    Ok(())
}
