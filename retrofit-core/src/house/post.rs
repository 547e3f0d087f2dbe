//! Interior posts and piers.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::PlanPoint;
use crate::by_name::by_name;
use crate::choice::choices;
use crate::measure::{Area, Length};
use crate::observation::Observed;

/// One post, or `count` posts that are alike.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Post {
    /// How many posts the record stands for; left out, one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1))]
    pub count: Option<u16>,
    /// Where it stands in plan.
    #[serde(deserialize_with = "by_name", skip_serializing_if = "Option::is_none")]
    pub at: Option<PlanPoint>,
    /// How it meets the beam.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub top: Observed<PostTop>,
    /// How it meets the pier.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub base: Observed<PostBase>,
    /// Whether the wood is sound and the post plumb.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub sound_and_plumb: Observed<bool>,
    /// How far its top stands out over its foot, where it leans; of like posts, the one that leans most.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub lean: Observed<Length>,
    /// The least side of the post, as it measures.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub width: Observed<Length>,
    /// Height of the post from pier to beam.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub height: Observed<Length>,
    /// The least side of the pad or pier on the ground.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub pad_width: Observed<Length>,
    /// Floor area that the post carries.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub carried_area: Observed<Area>,
    /// From this post to the next under the same girder; of its two sides, and of like posts, the longest.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub girder_span: Observed<Length>,
}

choices! {
    /// How a post meets its beam.
    pub enum PostTop: "post top" {
        /// A steel connector, strap or nailed gusset.
        Connected = "connected", "connected to the beam";
        /// Toenails only.
        Toenailed = "toenailed", "toenailed to the beam";
        /// It only bears.
        Bearing = "bearing", "only bearing under the beam";
    }
}

choices! {
    /// How a post meets its pier.
    pub enum PostBase: "post base" {
        /// A steel connector set in the pier.
        Connected = "connected", "connected to the pier";
        /// Nailed to a wood block set in the pier.
        NailedBlock = "nailed_block", "nailed to a block in the pier";
        /// It only stands on the pier.
        Bearing = "bearing", "only standing on the pier";
        /// Loose blocks, shims or bricks.
        Loose = "loose", "on loose blocks or shims";
    }
}
