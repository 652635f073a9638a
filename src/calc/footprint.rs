//! What airing down does to the contact patch on firm ground.
//!
//! Three forms meet. A stiffness gives the deflection, the deflection gives
//! length and width, and two bounds that need neither give the least and the
//! greatest growth that a change of pressure can bring. The estimate lies
//! between them wherever the model is valid. Of two tyres printed at several
//! pressures, the one with a square shoulder and flat tread grows little more
//! than the lower bound, the one with a round tread nearly as the upper; each
//! print scatters besides (`tests/published/footprint.rs` prints the tables).
//!
//! - Stiffness, kgf/mm: `K = 0.00028·P·√((1.03 − 0.004·AR)·S·(S·AR/50 + D)) + 3.45`
//!   with P in kPa, section width S and rim diameter D in mm, aspect ratio AR in
//!   percent. Rhyne, Tire Science and Technology 33(3), 2005; the coefficients
//!   are from memory. Measured stiffness of two tyres is met within 12 %.
//! - Half length `a = R·(0.733·x + 0.671·√x)` and half width
//!   `b = S·(−1.1878·x + 1.059·∛x)`, where x is the deflection over the free
//!   radius R. Besselink, Schmeitz and Pacejka, Vehicle System Dynamics 48 (2010);
//!   the form and coefficients as read in open tyre-model code, not in the paper.
//! - Area: a [superellipse](SHAPE_FACTOR) in the rectangle of length and width.
//! - Greatest growth: the air and a carcass worth a constant pressure `p_c` carry
//!   the load, so area goes as `1/(p + p_c)`. `p_c` is the pressure whose share of
//!   K equals its constant, so this is also the growth of the deflection.
//! - Least growth: the width stays, the length is the chord `2√(2Rδ − δ²)` that
//!   the ground cuts off the free circle.
//!
//! Rolling circumference and speedometer error are left out: a radial's belt
//! hardly changes its length, so its rolling radius follows neither the loaded
//! radius nor the footprint, and nothing here models it.
//!
//! Not modelled either: speed (standing or slow is meant), camber, tread voids
//! (areas are gross), and ground that gives.

use super::limits::{Field, OutOfRange};
use super::quantity::{
    Area, Force, GaugePressure, Length, Mass, Pressure, Stiffness, inch, kilogram, kilopascal,
    millimeter, weight,
};
pub use super::tyre::designation::Construction;
use super::tyre::designation::Designation;
use std::fmt;

/// Footprint area over the rectangle of its length and width: that of the
/// superellipse `|x/a|³ + |y/b|³ = 1`, Γ(4/3)²/Γ(5/3).
///
/// Fitted to the 50 measured prints of `tests/published/footprint/prints.csv`,
/// whose mean is 0.885 (0.80 to 0.97). A rectangle has 1, an ellipse π/4.
pub const SHAPE_FACTOR: f64 = 0.883_319_375_142_725_5;

/// The power in the superellipse of [`SHAPE_FACTOR`].
const SHAPE_EXPONENT: f64 = 3.0;

/// Greatest deflection over free radius. Beyond it the width formula turns over
/// (its peak is at 0.162) and would make a flatter tyre narrower.
pub const MAX_RELATIVE_DEFLECTION: f64 = 0.15;

/// Greatest deflection over section height. A choice, no source: the measured
/// sets end near 0.3, and a low-profile tyre soon stands on its rim.
pub const MAX_DEFLECTION_SHARE: f64 = 0.50;

/// Deflection over section height from which [`Footprint::bulges`] says so
/// (from memory, no source).
pub const BULGING_SHARE: f64 = 0.30;

/// Rhyne's constant: the stiffness left at zero gauge, kgf/mm.
const CARCASS_STIFFNESS: f64 = 3.45;

/// What the tyre stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// Sealed road, packed gravel or rock slab: the ground keeps its shape.
    Firm,
    /// Sand, mud or snow: the tyre sinks and the true footprint is larger.
    Soft,
}

/// A tyre's nominal measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TyreGeometry {
    section_width: Length,
    aspect_ratio: f64,
    rim_diameter: Length,
}

/// What is alike but for rounding differs by less.
const SAME_WITHIN: f64 = 1e-9;

impl TyreGeometry {
    /// A tyre sized by section width, aspect ratio in percent and rim diameter.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::SectionWidth`], [`Field::AspectRatio`] or
    /// [`Field::RimDiameter`].
    ///
    /// ```
    /// use tyreside::calc::footprint::TyreGeometry;
    /// use tyreside::calc::quantity::{Length, inch, millimeter};
    /// let (width, rim) = (Length::new::<millimeter>(265.0), Length::new::<inch>(16.0));
    /// let tyre = TyreGeometry::metric(width, 75.0, rim).unwrap();
    /// assert!((tyre.section_height().get::<millimeter>() - 198.75).abs() < 1e-9);
    /// assert!(TyreGeometry::metric(width, 7.5, rim).is_err());
    /// ```
    pub fn metric(
        section_width: Length,
        aspect_ratio: f64,
        rim_diameter: Length,
    ) -> Result<Self, OutOfRange> {
        Field::SectionWidth.check(section_width.get::<millimeter>())?;
        Self::new(section_width, aspect_ratio, rim_diameter)
    }

    /// A tyre sized by overall diameter, section width and rim diameter, as
    /// flotation sizes are.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::OverallDiameter`], [`Field::SectionWidthInches`]
    /// or [`Field::RimDiameter`], and by [`Field::AspectRatio`] where the three
    /// leave an impossible section height.
    ///
    /// ```
    /// use tyreside::calc::footprint::TyreGeometry;
    /// use tyreside::calc::quantity::{Length, inch};
    /// let inches = Length::new::<inch>;
    /// let tyre = TyreGeometry::flotation(inches(31.0), inches(10.5), inches(15.0)).unwrap();
    /// assert!((tyre.free_radius().get::<inch>() - 15.5).abs() < 1e-9);
    /// assert!(TyreGeometry::flotation(inches(20.0), inches(10.5), inches(22.0)).is_err());
    /// ```
    pub fn flotation(
        overall_diameter: Length,
        section_width: Length,
        rim_diameter: Length,
    ) -> Result<Self, OutOfRange> {
        Field::OverallDiameter.check(overall_diameter.get::<inch>())?;
        Field::SectionWidthInches.check(section_width.get::<inch>())?;
        let aspect_ratio = 50.0 * ((overall_diameter - rim_diameter) / section_width).value;
        Self::new(section_width, aspect_ratio, rim_diameter)
    }

    /// The tyre that a sidewall names.
    ///
    /// # Errors
    /// [`OutOfRange`] by [`Field::AspectRatio`]: the designation has kept to
    /// the other limits.
    pub fn of(tyre: &Designation) -> Result<Self, OutOfRange> {
        Self::new(
            tyre.section_width(),
            tyre.aspect_ratio(),
            tyre.rim_diameter(),
        )
    }

    fn new(
        section_width: Length,
        aspect_ratio: f64,
        rim_diameter: Length,
    ) -> Result<Self, OutOfRange> {
        Field::RimDiameter.check(rim_diameter.get::<inch>())?;
        Ok(Self {
            section_width,
            aspect_ratio: Field::AspectRatio.check(aspect_ratio)?,
            rim_diameter,
        })
    }

    /// Width from sidewall to sidewall.
    pub fn section_width(&self) -> Length {
        self.section_width
    }

    /// Height from rim to tread.
    pub fn section_height(&self) -> Length {
        self.section_width * (self.aspect_ratio / 100.0)
    }

    /// Nominal rim diameter.
    pub fn rim_diameter(&self) -> Length {
        self.rim_diameter
    }

    /// Radius of the unloaded tyre.
    pub fn free_radius(&self) -> Length {
        self.rim_diameter / 2.0 + self.section_height()
    }

    /// What one kPa adds to the stiffness, kgf/mm.
    fn stiffness_per_kilopascal(&self) -> f64 {
        let width = self.section_width.get::<millimeter>();
        let diameter = 2.0 * self.free_radius().get::<millimeter>();
        0.00028 * ((1.03 - 0.004 * self.aspect_ratio) * width * diameter).sqrt()
    }

    /// Vertical stiffness at `pressure`. Valid for what [`Wheel`] accepts.
    pub fn stiffness(&self, pressure: GaugePressure) -> Stiffness {
        Stiffness::from_kilogram_force_per_millimetre(
            self.stiffness_per_kilopascal() * pressure.get::<kilopascal>() + CARCASS_STIFFNESS,
        )
    }

    /// The deflection that is `share` of the section height, or where the model
    /// ends if that comes first.
    fn deflection_of(&self, share: f64) -> Length {
        let by_height = self.section_height() * share;
        let by_radius = self.free_radius() * MAX_RELATIVE_DEFLECTION;
        if by_height < by_radius {
            by_height
        } else {
            by_radius
        }
    }

    /// The least pressure at which `load` presses the tyre in by no more than
    /// `share` of its section height, within what the model holds for (80 to
    /// 700 kPa, and [`MAX_RELATIVE_DEFLECTION`]). None where no such pressure
    /// is enough.
    pub fn pressure_at_deflection(&self, load: Mass, share: f64) -> Option<GaugePressure> {
        let limit = Field::FootprintPressure.limit();
        let needed =
            Stiffness::of(weight(load), self.deflection_of(share)).kilogram_force_per_millimetre();
        let pressure = (needed - CARCASS_STIFFNESS) / self.stiffness_per_kilopascal();
        // What is carried at the end asks for no more than the end: worked back,
        // it is a hair above it as often as not.
        (pressure <= limit.max * (1.0 + SAME_WITHIN))
            .then(|| GaugePressure::new::<kilopascal>(pressure.min(limit.max).max(limit.min)))
    }

    /// The load that presses the tyre in by `share` of its section height at
    /// `pressure`: the inverse of [`Self::pressure_at_deflection`]. Above the
    /// model's highest pressure what it is there, below its lowest nothing.
    pub fn load_at_deflection(&self, pressure: GaugePressure, share: f64) -> Mass {
        let limit = Field::FootprintPressure.limit();
        if pressure < GaugePressure::new::<kilopascal>(limit.min) {
            return Mass::default();
        }
        let pressure = pressure.min(GaugePressure::new::<kilopascal>(limit.max));
        let deflection = self.deflection_of(share).get::<millimeter>();
        Mass::new::<kilogram>(self.stiffness(pressure).kilogram_force_per_millimetre() * deflection)
    }

    /// The pressure that would carry what the bare carcass carries.
    pub fn carcass_pressure(&self) -> GaugePressure {
        GaugePressure::new::<kilopascal>(CARCASS_STIFFNESS / self.stiffness_per_kilopascal())
    }
}

/// Length and width of the contact of a tyre of this free radius and section
/// width, deflected by `relative_deflection` of its free radius.
///
/// For figures that a person acts on go through [`Wheel`], which refuses what
/// the form is not valid for.
pub fn contact_dimensions(
    free_radius: Length,
    section_width: Length,
    relative_deflection: f64,
) -> (Length, Length) {
    let x = relative_deflection;
    let half_length = free_radius * (0.733 * x + 0.671 * x.sqrt());
    let half_width = section_width * (-1.1878 * x + 1.059 * x.powf(1.0 / 3.0));
    (2.0 * half_length, 2.0 * half_width)
}

/// Why no footprint is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Refusal {
    /// The model is for radial tyres.
    NotRadial {
        /// The construction given.
        given: Construction,
    },
    /// The model is for ground that keeps its shape.
    NotFirm {
        /// The ground given.
        given: Ground,
    },
    /// The load or the pressure is outside its range.
    OutOfRange(OutOfRange),
    /// The tyre would be flatter than the model holds for.
    TooFlat {
        /// Deflection over free radius.
        given: f64,
        /// [`MAX_RELATIVE_DEFLECTION`].
        limit: f64,
    },
    /// The tyre would be near standing on its rim.
    NearRim {
        /// Deflection over section height.
        given: f64,
        /// [`MAX_DEFLECTION_SHARE`].
        limit: f64,
    },
}

impl From<OutOfRange> for Refusal {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotRadial { given } => write!(f, "{given:?} is not radial"),
            Self::NotFirm { given } => write!(f, "{given:?} ground is not firm"),
            Self::OutOfRange(error) => error.fmt(f),
            Self::TooFlat { given, limit } => {
                write!(f, "deflection over free radius {given} is above {limit}")
            }
            Self::NearRim { given, limit } => {
                write!(f, "deflection over section height {given} is above {limit}")
            }
        }
    }
}

impl std::error::Error for Refusal {}

/// One loaded wheel standing on firm ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheel {
    tyre: TyreGeometry,
    load: Mass,
}

impl Wheel {
    /// A wheel whose tyre carries `load`.
    ///
    /// # Errors
    /// [`Refusal::NotRadial`], [`Refusal::NotFirm`], or [`Refusal::OutOfRange`]
    /// by [`Field::WheelLoad`].
    pub fn new(
        tyre: TyreGeometry,
        construction: Construction,
        ground: Ground,
        load: Mass,
    ) -> Result<Self, Refusal> {
        if construction != Construction::Radial {
            return Err(Refusal::NotRadial {
                given: construction,
            });
        }
        if ground != Ground::Firm {
            return Err(Refusal::NotFirm { given: ground });
        }
        Field::WheelLoad.check(load.get::<kilogram>())?;
        Ok(Self { tyre, load })
    }

    /// The tyre.
    pub fn tyre(&self) -> TyreGeometry {
        self.tyre
    }

    /// The load it carries.
    pub fn load(&self) -> Mass {
        self.load
    }

    /// The footprint at `pressure`.
    ///
    /// # Errors
    /// [`Refusal::OutOfRange`] by [`Field::FootprintPressure`],
    /// [`Refusal::TooFlat`] and [`Refusal::NearRim`].
    ///
    /// ```
    /// use tyreside::calc::footprint::{Construction, Ground, Refusal, TyreGeometry, Wheel};
    /// use tyreside::calc::quantity::{
    ///     GaugePressure, Length, Mass, inch, kilogram, kilopascal, millimeter,
    /// };
    /// let size = (Length::new::<millimeter>(265.0), 75.0, Length::new::<inch>(16.0));
    /// let tyre = TyreGeometry::metric(size.0, size.1, size.2).unwrap();
    /// let load = Mass::new::<kilogram>(700.0);
    /// let wheel = Wheel::new(tyre, Construction::Radial, Ground::Firm, load).unwrap();
    /// let footprint = wheel.footprint(GaugePressure::new::<kilopascal>(345.0)).unwrap();
    /// assert!((footprint.deflection.get::<millimeter>() - 16.8).abs() < 0.05);
    /// let psi_typed_as_kpa = wheel.footprint(GaugePressure::new::<kilopascal>(35.0));
    /// assert!(matches!(psi_typed_as_kpa, Err(Refusal::OutOfRange(_))));
    /// ```
    pub fn footprint(&self, pressure: GaugePressure) -> Result<Footprint, Refusal> {
        Field::FootprintPressure.check(pressure.get::<kilopascal>())?;
        let force = weight(self.load);
        let stiffness = self.tyre.stiffness(pressure);
        let deflection = stiffness.deflection(force);
        let free_radius = self.tyre.free_radius();
        let relative_deflection = (deflection / free_radius).value;
        if relative_deflection > MAX_RELATIVE_DEFLECTION {
            return Err(Refusal::TooFlat {
                given: relative_deflection,
                limit: MAX_RELATIVE_DEFLECTION,
            });
        }
        let deflection_share = (deflection / self.tyre.section_height()).value;
        if deflection_share > MAX_DEFLECTION_SHARE {
            return Err(Refusal::NearRim {
                given: deflection_share,
                limit: MAX_DEFLECTION_SHARE,
            });
        }
        let (length, width) =
            contact_dimensions(free_radius, self.tyre.section_width, relative_deflection);
        Ok(Footprint {
            pressure,
            force,
            stiffness,
            deflection,
            relative_deflection,
            deflection_share,
            loaded_radius: free_radius - deflection,
            length,
            width,
        })
    }

    /// The lowest and highest pressure at which [`Self::footprint`] answers.
    ///
    /// # Errors
    /// The refusal at the highest pressure of [`Field::FootprintPressure`], where
    /// the load is too great even for that.
    pub fn pressure_range(&self) -> Result<(GaugePressure, GaugePressure), Refusal> {
        let highest = GaugePressure::new::<kilopascal>(Field::FootprintPressure.limit().max);
        self.footprint(highest)?;
        // A hair above the exact limit, so that rounding can't refuse the end.
        const ROUNDING: f64 = 1.0 + 1e-9;
        let lowest = self
            .tyre
            .pressure_at_deflection(self.load * ROUNDING, MAX_DEFLECTION_SHARE);
        Ok((lowest.unwrap_or(highest), highest))
    }

    /// What going from `before` to `after` does, up or down.
    ///
    /// # Errors
    /// Those of [`Self::footprint`] at either pressure.
    pub fn change(&self, before: GaugePressure, after: GaugePressure) -> Result<Change, Refusal> {
        let carcass = self.tyre.carcass_pressure();
        let membrane = (before + carcass).ratio_to(after + carcass);
        let before = self.footprint(before)?;
        let after = self.footprint(after)?;
        let chord = (after.chord() / before.chord()).value;
        Ok(Change {
            before,
            after,
            growth: Growth {
                least: chord.min(membrane),
                estimate: (after.area() / before.area()).value,
                greatest: chord.max(membrane),
            },
            clearance_lost: before.loaded_radius - after.loaded_radius,
        })
    }
}

/// A corner of a footprint's outline, in millimetres from its centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// In the rolling direction.
    pub along: f64,
    /// Across it.
    pub across: f64,
}

/// The contact of one tyre at one pressure.
///
/// Area and growth are what the model is for: measured areas are met within 10 %.
/// Length and width each miss measured low-profile prints by up to a third, in
/// opposite directions, so they are for drawing to scale, not for a tape measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Footprint {
    /// The cold pressure.
    pub pressure: GaugePressure,
    /// The weight carried.
    pub force: Force,
    /// Vertical stiffness.
    pub stiffness: Stiffness,
    /// How much the tyre is pressed in.
    pub deflection: Length,
    /// Deflection over free radius.
    pub relative_deflection: f64,
    /// Deflection over section height.
    pub deflection_share: f64,
    /// Wheel centre to ground.
    pub loaded_radius: Length,
    /// Contact length, in the rolling direction.
    pub length: Length,
    /// Contact width.
    pub width: Length,
}

impl Footprint {
    /// Gross area, tread voids counted in.
    pub fn area(&self) -> Area {
        self.greatest_area() * SHAPE_FACTOR
    }

    /// Area of the rectangle of this length and width.
    pub fn greatest_area(&self) -> Area {
        self.length * self.width
    }

    /// Weight over gross area.
    pub fn ground_pressure(&self) -> Pressure {
        self.force / self.area()
    }

    /// Whether the deflection is above [`BULGING_SHARE`] of the section height.
    pub fn bulges(&self) -> bool {
        self.deflection_share > BULGING_SHARE
    }

    /// What the ground plane cuts off the free circle. Longer than the contact:
    /// the tread lifts off before it.
    pub fn chord(&self) -> Length {
        let free_radius = self.loaded_radius + self.deflection;
        let x = self.relative_deflection;
        2.0 * free_radius * (x * (2.0 - x)).sqrt()
    }

    /// The outline as a closed polygon of `4 × per_quarter` corners, starting at
    /// the front and going round once; `per_quarter` is held to 1 to 256.
    pub fn outline(&self, per_quarter: usize) -> Vec<Point> {
        let steps = per_quarter.clamp(1, 256);
        let half_length = self.length.get::<millimeter>() / 2.0;
        let half_width = self.width.get::<millimeter>() / 2.0;
        let bow = |c: f64| c.powf(2.0 / SHAPE_EXPONENT);
        // A quarter of the unit circle by the tangent of half the angle: sines
        // would bring their tables into the page.
        let quarter = (0..steps).map(|step| {
            let t = step as f64 / steps as f64;
            let whole = 1.0 + t * t;
            (bow((1.0 - t * t) / whole), bow(2.0 * t / whole))
        });
        let quarter: Vec<_> = quarter.collect();
        // Each turn of a right angle takes (ahead, aside) to (-aside, ahead).
        let turns = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)];
        turns
            .into_iter()
            .flat_map(|(cos, sin)| {
                quarter.iter().map(move |(ahead, aside)| Point {
                    along: half_length * (cos * ahead - sin * aside),
                    across: half_width * (sin * ahead + cos * aside),
                })
            })
            .collect()
    }
}

/// Area after over area before. All three are exactly 1 without a change.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Growth {
    /// The lower bound. Airing down, the length alone grows by the chord;
    /// pumping up, the area follows the air.
    pub least: f64,
    /// The estimate.
    pub estimate: f64,
    /// The upper bound, the other way about.
    pub greatest: f64,
}

/// Two footprints of one wheel, and what lies between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    /// At the first pressure.
    pub before: Footprint,
    /// At the second.
    pub after: Footprint,
    /// How the area changes.
    pub growth: Growth,
    /// By how much the wheel centre comes down; negative when pumping up.
    pub clearance_lost: Length,
}
