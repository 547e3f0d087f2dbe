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
    /// What stands in the way of work from outside.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub outside: Observed<OutsideAccess>,
    /// Whether there is room to work from inside.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub inside: Observed<InsideAccess>,
    /// Height of the underside of the sill above the ground beside it, where the ground is highest; negative
    /// where the sill lies lower than the ground.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub sill_above_ground: Observed<Length>,
    /// How far the house has to come up here to where it is wanted, as far as it settled; negative where it
    /// has to come down.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub settled: Observed<Length>,
    /// The work that the estimator has chosen for this length.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub work: Option<FoundationOption>,
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

choices! {
    /// What stands in the way of work from outside.
    pub enum OutsideAccess: "outside of the foundation" {
        /// Open ground.
        Open = "open", "open ground";
        /// A stair or a porch.
        Stair = "stair", "a stair or porch";
        /// A walk, a patio or a driveway.
        Paving = "paving", "paving";
        /// Finish or ornament that has to stay.
        Ornament = "ornament", "ornament that has to stay";
        /// A neighbor's house, wall or lot line.
        Neighbor = "neighbor", "a neighbor's house, wall or lot line";
        /// Anything else.
        Other = "other", "something else in the way";
    }
}

choices! {
    /// Room to work from inside.
    pub enum InsideAccess: "inside of the foundation" {
        /// Room for digging, forms and concrete.
        Open = "open", "room to work";
        /// Ducts, pipes, a finished wall, or no room to get there.
        Blocked = "blocked", "no room to work";
    }
}

choices! {
    /// What can be done about a length of foundation, from the least intrusive up.
    pub enum FoundationOption: "foundation work" {
        /// Left as it is.
        Keep = "keep", "keep";
        /// Mended in place: cracks filled, soil cut back from the sill.
        Repair = "repair", "repair in place";
        /// New concrete on top of the old, doweled to it.
        Cap = "cap", "cap";
        /// A new wall and footing inside the old one, which stays.
        Sister = "sister", "sister wall inside";
        /// Posts, piers and pads mended or made new.
        PostsAndPiers = "posts_and_piers", "post-and-pier work";
        /// This length made new.
        ReplaceLength = "replace_length", "replace this length";
        /// The whole foundation made new.
        ReplaceAll = "replace_all", "replace the whole foundation";
    }
}
