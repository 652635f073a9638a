//! Air space of a tyre from its size.

use super::InflationError;
use crate::calc::limits::Field;
use crate::calc::quantity::{Length, Span, Volume, inch, liter, millimeter};

/// How tall a tyre's section is, from rim to tread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SectionHeight {
    /// By the aspect ratio of its size, in hundredths of the width.
    Aspect(f64),
    /// By the overall diameter: moulded on a flotation tyre, or measured.
    Overall(Length),
}

/// The size of a tyre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Section width.
    pub width: Length,
    /// Section height.
    pub height: SectionHeight,
    /// Nominal rim diameter.
    pub rim: Length,
}

// Shares of the gross form, which is the rectangle around the section, outside
// of the rubber. Liquid ballast charts for farm tyres come to 0.63-0.72 of
// it, deep ribs and all (`tests/published/air.rs`); an ellipse is 0.785 of its
// rectangle, and a low section on a wide rim is squarer than an ellipse.
const LEAST_OF_GROSS: f64 = 0.60;
const LIKELY_OF_GROSS: f64 = 0.70;
const MOST_OF_GROSS: f64 = 0.85;

impl Section {
    fn height(&self) -> Result<Length, InflationError> {
        let width = self.width.get::<millimeter>();
        Field::SectionWidth.check(width)?;
        let rim = Field::RimDiameter.check(self.rim.get::<inch>())?;
        match self.height {
            SectionHeight::Aspect(percent) => {
                Ok(self.width * (Field::AspectRatio.check(percent)? / 100.0))
            }
            SectionHeight::Overall(overall) => {
                let overall = Field::OverallDiameter.check(overall.get::<inch>())?;
                let height = Length::new::<inch>((overall - rim) / 2.0);
                Field::WorkedAspect.check(100.0 * height.get::<millimeter>() / width)?;
                Ok(height)
            }
        }
    }

    /// The gross volume `π·(H + D)·S·H` of the Tire and Rim Association's
    /// Design Guide 3-24 (2004): a rectangle turned around the axle.
    ///
    /// # Errors
    /// [`InflationError::OutOfRange`].
    pub fn gross_volume(&self) -> Result<Volume, InflationError> {
        let height = self.height()?;
        Ok((height + self.rim) * (self.width * height) * std::f64::consts::PI)
    }

    /// Air space: a torus between rim and tread, whose section fills 0.70 of
    /// the rectangle around it, 0.60 at least and 0.85 at most.
    ///
    /// A timed fill takes that doubt out of a time, because the same air space
    /// then stands on both sides.
    ///
    /// # Errors
    /// [`InflationError::OutOfRange`], also for an overall diameter that does
    /// not go with the width and rim, and for a result beyond a tyre's.
    ///
    /// ```
    /// use tyreside::calc::fill::space::{Section, SectionHeight};
    /// use tyreside::calc::quantity::{Length, inch, liter, millimeter};
    /// let size = Section {
    ///     width: Length::new::<millimeter>(265.0),
    ///     height: SectionHeight::Aspect(75.0),
    ///     rim: Length::new::<inch>(16.0),
    /// };
    /// assert!((size.air_space()?.likely.get::<liter>() - 70.1).abs() < 0.1);
    /// let swapped = SectionHeight::Overall(Length::new::<inch>(18.0));
    /// assert!(Section { height: swapped, ..size }.air_space().is_err());
    /// # Ok::<(), tyreside::calc::fill::InflationError>(())
    /// ```
    pub fn air_space(&self) -> Result<Span<Volume>, InflationError> {
        let gross = self.gross_volume()?;
        let space = Span {
            low: gross * LEAST_OF_GROSS,
            likely: gross * LIKELY_OF_GROSS,
            high: gross * MOST_OF_GROSS,
        };
        for volume in [space.low, space.high] {
            Field::AirSpace.check(volume.get::<liter>())?;
        }
        Ok(space)
    }
}
