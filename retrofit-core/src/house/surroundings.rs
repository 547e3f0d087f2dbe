//! What may move a foundation: water, soil, trees, leaks, and what was done to the ground.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::observation::Observed;

/// What was looked for around and under the house. Whatever is not written down is unknown, never absent.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Surroundings {
    /// Whether water stands, or has stood, along the foundation or under the house.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub standing_water: Observed<bool>,
    /// Whether downspouts end at the foundation, or there are no gutters.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub roof_water_at_foundation: Observed<bool>,
    /// Whether the ground falls toward the house.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub ground_falls_to_house: Observed<bool>,
    /// Whether the soil is known to be expansive clay, by report, map or test.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub expansive_soil: Observed<bool>,
    /// Whether gaps open between soil and foundation, or the ground cracks, in dry months.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub shrinkage_cracks_in_soil: Observed<bool>,
    /// Whether doors or cracks open and close with the seasons.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub moves_with_seasons: Observed<bool>,
    /// Whether large trees or shrubs stand closer to the foundation than they are tall.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub trees_near: Observed<bool>,
    /// Whether a large tree was taken out nearby.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub tree_removed: Observed<bool>,
    /// Whether a supply pipe or a drain leaks, or has leaked.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub plumbing_leak: Observed<bool>,
    /// Whether wood of the house touches soil.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub wood_on_soil: Observed<bool>,
    /// Whether wood under the house is decayed or eaten by insects.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub decay_or_insects: Observed<bool>,
    /// Whether posts or piers have sunk, lean, lack footings, or stand farther apart than their beams bear.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub weak_posts: Observed<bool>,
    /// Whether beams or joists sag between their supports, or were cut.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub weak_framing: Observed<bool>,
    /// Whether the house, or a part of it, stands on fill.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub fill: Observed<bool>,
    /// Whether the ground under or beside a footing was washed or dug away.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub undermined: Observed<bool>,
    /// Whether the slope shows signs of moving: leaning trees or poles, scarps, cracked paving across it.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub slope_moves: Observed<bool>,
    /// Whether a part was added to the house on a foundation of its own.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub addition: Observed<bool>,
}
