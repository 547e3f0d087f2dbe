//! What carries a wall line: its kind, condition and size, stretch by stretch.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Span;
use crate::choice::choices;
use crate::measure::{Length, Pressure};
use crate::observation::Observed;

/// One stretch of foundation along a wall line; a wall line may change kind, height or condition.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct FoundationStretch {
    /// Station where the stretch begins; left out, it is the beginning of the wall line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<Length>,
    /// Station where the stretch ends; left out, it is the end of the wall line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Length>,
    /// What it is made of.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub kind: Observed<FoundationKind>,
    /// The state it is in.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub condition: Observed<FoundationCondition>,
    /// Height of the stem wall above the ground inside.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub stem_height: Observed<Length>,
    /// Thickness of the stem wall at its top.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub stem_thickness: Observed<Length>,
    /// Width of the footing.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub footing_width: Observed<Length>,
    /// Thickness of the footing.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub footing_thickness: Observed<Length>,
    /// Depth of the bottom of the footing below the ground outside.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub footing_depth: Observed<Length>,
    /// Reinforcing bars.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub reinforcing: Observed<Reinforcing>,
    /// Compressive strength of the concrete, where it was tested or a drawing gives it.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub concrete_strength: Observed<Pressure>,
}

impl FoundationStretch {
    /// The stretch as stations along a wall line of the given length.
    pub fn span(&self, length: Option<Length>) -> Span {
        Span::of(self.from, self.to, length)
    }
}

choices! {
    /// What a stretch of foundation is made of.
    pub enum FoundationKind: "foundation kind" {
        /// Cast-in-place concrete.
        Concrete = "concrete", "concrete";
        /// Hollow or grouted concrete block.
        Block = "block", "concrete block";
        /// Brick without reinforcing, with or without a cement skim coat.
        Brick = "brick", "unreinforced brick";
        /// Rubble or cut stone.
        Stone = "stone", "stone";
        /// Posts on separate pads or piers.
        Posts = "posts", "posts on separate piers";
        /// Sill or framing directly on the ground.
        Ground = "ground", "framing directly on the ground";
        /// Nothing under the wall.
        None = "none", "no foundation";
    }
}

choices! {
    /// The state of a stretch of foundation.
    pub enum FoundationCondition: "foundation condition" {
        /// Hard, with no more than hairline cracks.
        Sound = "sound", "sound";
        /// Cracked, but hard and in line.
        Cracked = "cracked", "cracked but hard";
        /// Soft, crumbling, honeycombed, or it scrapes away with a tool.
        Crumbling = "crumbling", "soft or crumbling";
        /// Leaning, stepped at cracks, settled or broken through.
        Displaced = "displaced", "leaning, settled or broken through";
    }
}

choices! {
    /// Reinforcing bars in a foundation.
    pub enum Reinforcing: "reinforcing" {
        /// None found.
        None = "none", "no reinforcing";
        /// Some bars, arrangement not known.
        Some = "some", "some reinforcing";
        /// A continuous bar at top and bottom or better.
        TopAndBottom = "top_and_bottom", "continuous bars at top and bottom";
    }
}
