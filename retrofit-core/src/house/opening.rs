//! Openings through a wall line below the floor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::choice::choices;
use crate::measure::{Area, Length};
use crate::observation::Observed;

/// One opening.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Opening {
    /// Station where the opening begins.
    pub from: Length,
    /// Station where the opening ends.
    pub to: Length,
    /// What it is for.
    pub kind: OpeningKind,
    /// Height of its top above the foundation.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub top: Observed<Length>,
    /// Net free area of a vent.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub net_area: Observed<Area>,
}

choices! {
    /// What an opening is for.
    pub enum OpeningKind: "opening" {
        /// A vent.
        Vent = "vent", "vent";
        /// A door or hatch.
        Access = "access", "access door";
        /// A pipe, duct or cable.
        Pipe = "pipe", "pipe or duct";
        /// An outside stair or another thing that blocks the wall.
        Blocked = "blocked", "blocked";
    }
}
