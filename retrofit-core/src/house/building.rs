//! The house above the floor: stories, units, age and the clues to its weight.

use std::fmt;
use std::ops::RangeInclusive;
use std::str::FromStr;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::PlanPoint;
use crate::by_name::by_name;
use crate::choice::choices;
use crate::measure::{Area, Length};
use crate::observation::{Observed, Truth, on_a_scale, schema_of_number};

/// The building.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Building {
    /// Stories above the crawl space; half stories are allowed.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub stories: Observed<Stories>,
    /// Dwelling units.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    #[schemars(schema_with = "units_schema")]
    pub units: Observed<u16>,
    /// Year in which the house was built.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    #[schemars(schema_with = "year_schema")]
    pub year_built: Observed<u16>,
    /// Floor area of all stories.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub floor_area: Observed<Area>,
    /// Corners of the plan outline in order; x runs east and y runs north.
    #[serde(deserialize_with = "by_name", skip_serializing_if = "Vec::is_empty")]
    #[schemars(extend("anyOf" = [{"maxItems": 0}, {"minItems": 3}]))]
    pub outline: Vec<PlanPoint>,
    /// What covers the outside walls.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub exterior: Observed<ExteriorWall>,
    /// What covers the inside of the walls: true when it is plaster.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub interior_plaster: Observed<bool>,
    /// What covers the roof.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub roof: Observed<Roof>,
    /// Height of the highest masonry veneer above the foundation, chimneys aside; zero when there is none.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub veneer_height: Observed<Length>,
    /// Whether the floor of each story lies at one level.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub floors_at_one_level: Observed<bool>,
    /// Whether there are rooms over a garage or another open space at ground level.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub rooms_over_garage: Observed<bool>,
    /// Whether part of the house stands on a slab at grade or on poles set in the ground.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub slab_or_pole_portion: Observed<bool>,
    /// Whether a masonry chimney stands without visible ties to the framing.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub untied_chimney: Observed<bool>,
    /// Height of a story, floor to floor.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub story_height: Observed<Length>,
    /// Masonry chimneys that the floor or roof framing has to hold.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub masonry_chimneys: Observed<u16>,
    /// Plan area of porch roofs that hang on the house.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub porch_area: Observed<Area>,
}

/// The years in which a wood house that still stands can have been built.
pub(super) const YEARS: RangeInclusive<u16> = 1600..=2200;

fn year_schema(_: &mut SchemaGenerator) -> Schema {
    schema_of_number(*YEARS.start(), *YEARS.end())
}

fn units_schema(_: &mut SchemaGenerator) -> Schema {
    schema_of_number(1, u16::MAX)
}

impl Building {
    /// Whether the house falls in the heavy case: outside walls of cement plaster together with a clay or
    /// concrete tile roof. Plaster on the inside does not make a house heavy in these tables.
    pub fn is_heavy(&self) -> Truth {
        let stucco = self
            .exterior
            .satisfies(|exterior| exterior == ExteriorWall::Stucco);
        stucco.and(self.roof.satisfies(|roof| roof == Roof::Tile))
    }
}

/// The weight case by which bracing tables are keyed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum WeightCase {
    /// Outside walls of cement plaster and a clay or concrete tile roof.
    Heavy,
    /// Everything else.
    Other,
}

impl WeightCase {
    /// The word used in tables.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Heavy => "heavy",
            Self::Other => "other",
        }
    }
}

choices! {
    /// Covering of the outside walls.
    pub enum ExteriorWall: "exterior wall covering" {
        /// Wood boards or shingles.
        Wood = "wood", "wood siding";
        /// Cement plaster on lath.
        Stucco = "stucco", "stucco";
        /// Brick or stone veneer over most of the wall.
        Masonry = "masonry", "masonry veneer";
        /// Fiber cement, vinyl, metal or another light board.
        LightBoard = "light_board", "light board siding";
        /// Single-wall planks without studs.
        SingleWall = "single_wall", "single-wall planks";
    }
}

choices! {
    /// Covering of the roof.
    pub enum Roof: "roof covering" {
        /// Asphalt, wood or metal: six pounds a square foot or less.
        Light = "light", "light roofing";
        /// Clay or concrete tile, or slate.
        Tile = "tile", "clay or concrete tile";
        /// Built-up roofing with gravel.
        Gravel = "gravel", "built-up roofing with gravel";
    }
}

/// A number of stories in halves: 1, 1.5, 2 …
///
/// ```
/// use retrofit_core::house::Stories;
/// let stories: Stories = "1.5".parse()?;
/// assert_eq!(stories.counted(), 2); // tables know whole stories only; a half story counts as one
/// # Ok::<(), String>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stories {
    halves: u8,
}

impl Stories {
    /// Whole stories.
    pub const fn whole(stories: u8) -> Self {
        Self {
            halves: stories.saturating_mul(2),
        }
    }

    /// Stories given as a number of half stories.
    pub const fn from_halves(halves: u8) -> Self {
        Self { halves }
    }

    /// Whether the top story is a whole one.
    pub const fn is_whole(self) -> bool {
        self.halves.is_multiple_of(2)
    }

    /// The number of half stories.
    pub const fn halves(self) -> u8 {
        self.halves
    }

    /// The number of stories as tables count them: a half story counts as a whole one.
    pub const fn counted(self) -> u8 {
        self.halves.div_ceil(2)
    }

    fn from_number(number: f64) -> Result<Self, String> {
        let halves = number * 2.0;
        if (1.0..=20.0).contains(&halves) && halves.fract() == 0.0 {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "whole and from 1 to 20"
            )]
            return Ok(Self { halves: halves as u8 });
        }
        Err(format!(
            "found {number}; expected a number of stories from 0.5 to 10 in steps of one half"
        ))
    }
}

on_a_scale!(Stories);

impl FromStr for Stories {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        let text = text.trim();
        match text.parse::<f64>() {
            Ok(number) if text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.') => {
                Self::from_number(number)
            }
            _ => {
                let found: String = text.chars().take(40).collect();
                Err(format!(
                    "found {found:?}; expected a number of stories, such as 1, 1.5 or 2"
                ))
            }
        }
    }
}

impl fmt::Display for Stories {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.halves.is_multiple_of(2) {
            write!(f, "{}", self.halves / 2)
        } else {
            write!(f, "{}.5", self.halves / 2)
        }
    }
}

impl Serialize for Stories {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.halves.is_multiple_of(2) {
            serializer.serialize_u8(self.halves / 2)
        } else {
            serializer.serialize_f64(f64::from(self.halves) / 2.0)
        }
    }
}

impl<'de> Deserialize<'de> for Stories {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let number = f64::deserialize(deserializer)?;
        Self::from_number(number).map_err(serde::de::Error::custom)
    }
}

impl JsonSchema for Stories {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Stories".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "number", "minimum": 0.5, "maximum": 10, "multipleOf": 0.5,
            "description": "Stories above the crawl space, in steps of one half."
        })
    }
}
