//! Braced panels on a cripple wall: where they are, what they are made of and how they are nailed.

use std::fmt;
use std::str::FromStr;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::choice::choices;
use crate::measure::{Force, Length};
use crate::observation::{Observable, Observed};

/// One braced panel (`from` and `to`), or a summary of all panels of a wall line (`total_length` …) where
/// the stations were not taken.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Panel {
    /// Station where the panel begins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<Length>,
    /// Station where the panel ends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Length>,
    /// In a summary: length of all panels together.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub total_length: Observed<Length>,
    /// In a summary: whether there is a panel at each end of the cripple wall.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub at_each_end: Observed<bool>,
    /// In a summary: length of the shortest panel.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub shortest: Observed<Length>,
    /// In a summary: the largest clear distance between two panels.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub largest_gap: Observed<Length>,
    /// What the panel is made of.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub sheathing: Observed<Sheathing>,
    /// Thickness of the sheathing.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub thickness: Observed<Length>,
    /// The nails.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub nail: Observed<Nail>,
    /// Nail spacing along the edges of the panel.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub edge_nailing: Observed<Length>,
    /// Nail spacing along the studs between the edges.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub field_nailing: Observed<Length>,
    /// Whether nail heads sit flush; false when they break the face.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub nails_flush: Observed<bool>,
    /// Whether horizontal joints between sheets lie over blocking; true when there are no such joints.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub joints_blocked: Observed<bool>,
    /// How the foot of the panel is fastened.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub foot: Observed<PanelFoot>,
    /// Nails that hold each block on the sill, where the panel is nailed to blocks.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub nails_per_sill_block: Observed<u16>,
    /// Whether a vent, door or pipe hole is cut through the panel.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub cut_through: Observed<bool>,
    /// Diameter of the ventilation holes at the top and bottom of each stud bay; zero when there are none.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub vent_holes: Observed<Length>,
    /// Whether the panel closes the stud bays, with another covering on the other face.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub closes_stud_bays: Observed<bool>,
    /// Allowable uplift that a maker declares for the hold-down at each end; zero where there is none.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub hold_down: Observed<Force>,
}

impl Panel {
    /// The panel's stations; `None` for a summary.
    pub fn stations(&self) -> Option<(Length, Length)> {
        self.from.zip(self.to)
    }
}

choices! {
    /// What a panel is made of.
    pub enum Sheathing: "sheathing" {
        /// Plywood of four or more plies.
        Plywood = "plywood", "plywood";
        /// Three-ply plywood.
        ThreePly = "three_ply", "three-ply plywood";
        /// Oriented strand board.
        Osb = "osb", "OSB";
        /// Boards laid on the diagonal.
        DiagonalBoards = "diagonal_boards", "diagonal boards";
        /// Boards laid level.
        HorizontalBoards = "horizontal_boards", "horizontal boards";
        /// Cement plaster.
        Stucco = "stucco", "stucco";
        /// Particleboard, fiberboard or another board without a shear rating.
        Board = "board", "board without a shear rating";
    }
}

choices! {
    /// How the foot of a panel is fastened.
    pub enum PanelFoot: "panel foot" {
        /// Nailed to the sill itself.
        Sill = "sill", "nailed to the sill";
        /// Nailed to blocks that are nailed to the sill.
        SillBlocks = "sill_blocks", "nailed to blocks on the sill";
        /// Stops short of the sill.
        Short = "short", "not nailed to the sill";
    }
}

/// A nail by penny size and shank.
///
/// ```
/// use retrofit_core::house::{Nail, Shank};
/// let nail: Nail = "8d common".parse()?;
/// assert_eq!(nail, Nail { penny: 8, shank: Shank::Common });
/// # Ok::<(), String>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Nail {
    /// Penny size: 8 for 8d.
    pub penny: u8,
    /// Kind of shank.
    pub shank: Shank,
}

choices! {
    /// Shank of a nail, which sets its diameter for a given penny size.
    pub enum Shank: "nail shank" {
        /// Common.
        Common = "common", "common";
        /// Box: thinner than common.
        Box = "box", "box";
        /// Sinker: shorter and thinner than common.
        Sinker = "sinker", "sinker";
        /// Ring shank.
        Ring = "ring", "ring-shank";
    }
}

impl Observable for Nail {}

impl FromStr for Nail {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        let refuse = || {
            let found: String = text.chars().take(40).collect();
            format!(
                "found {found:?}; expected a nail by penny size and shank, such as \"8d common\" or \"10d box\""
            )
        };
        let (size, shank) = text.trim().split_once(' ').ok_or_else(refuse)?;
        let penny = size
            .strip_suffix('d')
            .and_then(|penny| penny.parse().ok())
            .ok_or_else(refuse)?;
        if !(2..=60).contains(&penny) {
            return Err(refuse());
        }
        Ok(Self {
            penny,
            shank: shank.parse().map_err(|_| refuse())?,
        })
    }
}

impl fmt::Display for Nail {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}d {}",
            self.penny,
            crate::choice::Choice::spelling(self.shank)
        )
    }
}

impl Serialize for Nail {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Nail {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

impl JsonSchema for Nail {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Nail".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "A nail by penny size and shank.",
            "pattern": "^([2-9]|[1-5][0-9]|60)d (common|box|sinker|ring)$",
            "examples": ["8d common", "10d box"]
        })
    }
}
