//! The context of a house: where it stands and what it would cost to build anew. No check reads it; a ranking does.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::cell::shown;
use super::layout::Layout;
use super::row::CellError;
use crate::choice::{Choice, choices};

choices! {
    /// What a column of context holds.
    pub enum ContextField: "column of context" {
        /// Degrees north of the equator.
        Latitude = "latitude", "latitude";
        /// Degrees east of Greenwich.
        Longitude = "longitude", "longitude";
        /// Climate zone of the energy code.
        ClimateZone = "climate_zone", "climate zone";
        /// What building the house anew would cost.
        ReplacementValue = "replacement_value", "replacement value";
        /// Shaking to reckon with.
        PeakGroundAcceleration = "peak_ground_acceleration", "peak ground acceleration";
    }
}

impl ContextField {
    /// What the column means.
    pub const fn means(self) -> &'static str {
        match self {
            Self::Latitude => "Latitude of the house",
            Self::Longitude => "Longitude of the house, negative west of Greenwich",
            Self::ClimateZone => "Climate zone of the International Energy Conservation Code",
            Self::ReplacementValue => "What building the house anew would cost; not its price with the land",
            Self::PeakGroundAcceleration => "Peak ground acceleration to reckon with at the site",
        }
    }

    /// What its cells hold.
    pub const fn holds(self) -> &'static str {
        match self {
            Self::Latitude => "degrees from -90 to 90, such as 37.81",
            Self::Longitude => "degrees from -180 to 180, such as -122.27",
            Self::ClimateZone => {
                "a number from 0 to 8, and A, B or C where the zone has a letter, such as 3C or 7"
            }
            Self::ReplacementValue => "dollars over 0, without sign or separators, such as 412000",
            Self::PeakGroundAcceleration => "a fraction of g over 0 and up to 5, such as 0.45",
        }
    }
}

/// The context of one house; what is `None` is unknown.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Context {
    /// Latitude in degrees.
    pub latitude: Option<f64>,
    /// Longitude in degrees.
    pub longitude: Option<f64>,
    /// Climate zone.
    pub climate_zone: Option<ClimateZone>,
    /// Replacement value in dollars.
    pub replacement_value: Option<f64>,
    /// Peak ground acceleration as a fraction of g.
    pub peak_ground_acceleration: Option<f64>,
}

impl Context {
    /// Reads the cells of context of a row, given by a look-up of a cell by its position.
    ///
    /// ```
    /// use retrofit_core::portfolio::{Context, Form, Layout};
    /// let layout = Layout::new(["id", "climate_zone", "peak_ground_acceleration"], Form::OneTable)?;
    /// let row = ["Q-17", "3C", ""];
    /// let context = Context::read(&layout, |position| row[position])?;
    /// assert_eq!(context.climate_zone, Some("3C".parse()?));
    /// assert_eq!(context.peak_ground_acceleration, None); // blank is unknown, never zero
    ///
    /// let row = ["Q-18", "3C", "45"];
    /// let error = Context::read(&layout, |position| row[position]).unwrap_err();
    /// assert_eq!(error.column, "peak_ground_acceleration");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn read<'c>(layout: &Layout, cell: impl Fn(usize) -> &'c str) -> Result<Self, CellError> {
        let mut context = Self::default();
        for (position, field) in layout.context() {
            let text = cell(position).trim();
            if text.is_empty() {
                continue;
            }
            let refuse = || {
                CellError::new(
                    field.spelling(),
                    format!("found {}; expected {}", shown(text), field.holds()),
                )
            };
            let number = || {
                decimal(text)
                    .filter(|number| field.allows(*number))
                    .ok_or_else(refuse)
            };
            match field {
                ContextField::Latitude => context.latitude = Some(number()?),
                ContextField::Longitude => context.longitude = Some(number()?),
                ContextField::ReplacementValue => context.replacement_value = Some(number()?),
                ContextField::PeakGroundAcceleration => context.peak_ground_acceleration = Some(number()?),
                ContextField::ClimateZone => context.climate_zone = Some(text.parse().map_err(|_| refuse())?),
            }
        }
        Ok(context)
    }

    /// Where the house stands, as longitude and latitude, where both are known.
    pub fn place(&self) -> Option<(f64, f64)> {
        self.longitude.zip(self.latitude)
    }
}

impl ContextField {
    /// Whether a number lies within what the column may hold. The bounds catch degrees in the wrong column,
    /// shaking in percent, and a zero that stands for *unknown*.
    fn allows(self, number: f64) -> bool {
        match self {
            Self::Latitude => (-90.0..=90.0).contains(&number),
            Self::Longitude => (-180.0..=180.0).contains(&number),
            Self::ReplacementValue => number > 0.0 && number <= 1e10,
            Self::PeakGroundAcceleration => number > 0.0 && number <= 5.0,
            Self::ClimateZone => false,
        }
    }
}

/// A plain decimal; the standard parser would also take words, such as the one for infinity.
fn decimal(text: &str) -> Option<f64> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let is_plain = digits.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    text.parse().ok().filter(|_| is_plain)
}

/// A climate zone of the energy code: a number, and a letter for how moist it is, which the coldest have not.
///
/// ```
/// use retrofit_core::portfolio::ClimateZone;
/// let zone: ClimateZone = "3C".parse()?;
/// assert_eq!(zone.to_string(), "3C");
/// # Ok::<(), retrofit_core::portfolio::NoClimateZone>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct ClimateZone {
    number: u8,
    moisture: Option<Moisture>,
}

/// How moist the climate of a zone is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
enum Moisture {
    Moist,
    Dry,
    Marine,
}

/// Text that names no climate zone.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("found {}; expected a climate zone, such as 3C", shown(.0))]
pub struct NoClimateZone(String);

impl FromStr for ClimateZone {
    type Err = NoClimateZone;

    fn from_str(text: &str) -> Result<Self, NoClimateZone> {
        let (number, moisture) = match text.as_bytes() {
            [number] => (number, None),
            [number, b'A' | b'a'] => (number, Some(Moisture::Moist)),
            [number, b'B' | b'b'] => (number, Some(Moisture::Dry)),
            [number, b'C' | b'c'] => (number, Some(Moisture::Marine)),
            _ => return Err(NoClimateZone(text.to_owned())),
        };
        match number {
            b'0'..=b'8' => Ok(Self {
                number: number - b'0',
                moisture,
            }),
            _ => Err(NoClimateZone(text.to_owned())),
        }
    }
}

impl fmt::Display for ClimateZone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let letter = match self.moisture {
            None => "",
            Some(Moisture::Moist) => "A",
            Some(Moisture::Dry) => "B",
            Some(Moisture::Marine) => "C",
        };
        write!(f, "{}{letter}", self.number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::portfolio::Form;
    use rstest::rstest;

    fn read(field: ContextField, text: &str) -> Result<Context, CellError> {
        let layout = Layout::new(["id", field.spelling()], Form::OneTable).unwrap();
        Context::read(&layout, |_| text)
    }

    /// A cell that cannot be what its column says is refused by name; zero never stands for unknown.
    #[rstest]
    fn a_cell_out_of_bounds_is_refused(
        #[values(
            (ContextField::Latitude, "-122.27"),
            (ContextField::Latitude, "north"),
            (ContextField::Longitude, "180.1"),
            (ContextField::Longitude, "1e2"),
            (ContextField::ClimateZone, "9"),
            (ContextField::ClimateZone, "3D"),
            (ContextField::ClimateZone, "3 C"),
            (ContextField::ReplacementValue, "0"),
            (ContextField::ReplacementValue, "412,000"),
            (ContextField::ReplacementValue, "-1"),
            (ContextField::PeakGroundAcceleration, "0"),
            (ContextField::PeakGroundAcceleration, "45"),
            (ContextField::PeakGroundAcceleration, "nan"),
            (ContextField::PeakGroundAcceleration, "."),
        )]
        (field, text): (ContextField, &str),
    ) {
        let error = read(field, text).unwrap_err();
        assert_eq!(error.column, field.spelling());
        assert!(error.problem.contains(text), "{error}");
        assert!(error.problem.contains(field.holds()), "{error}");
    }

    #[test]
    fn a_row_says_where_its_house_stands() {
        let layout = Layout::new(
            [
                "latitude",
                "id",
                "stories",
                "longitude",
                "climate_zone",
                "replacement_value",
                "peak_ground_acceleration",
            ],
            Form::OneTable,
        )
        .unwrap();
        let row = [" 37.8 ", "Q-17", "1", "-122.3", "3c", "412000.50", ".45"];
        let context = Context::read(&layout, |position| row[position]).unwrap();
        assert_eq!(context.place(), Some((-122.3, 37.8)));
        assert_eq!(context.climate_zone.unwrap().to_string(), "3C");
        assert_eq!(context.replacement_value, Some(412_000.5));
        assert_eq!(context.peak_ground_acceleration, Some(0.45));
    }

    #[test]
    fn a_blank_cell_is_unknown() {
        for field in ContextField::ALL {
            assert_eq!(read(*field, "  ").unwrap(), Context::default());
        }
    }
}
