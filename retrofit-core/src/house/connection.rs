//! How the floor is tied to the wall or sill below it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Nail, Span};
use crate::choice::choices;
use crate::measure::{Force, Length};
use crate::observation::Observed;

/// One way of tying the floor to the wall or sill below, along a stretch; several may lie over one another,
/// such as new clips over old toenails.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Connection {
    /// Station where the stretch begins; left out, it is the beginning of the wall line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<Length>,
    /// Station where the stretch ends; left out, it is the end of the wall line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Length>,
    /// What makes the joint.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub kind: Observed<ConnectionKind>,
    /// Spacing of toenails along a rim, or of framing clips.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub spacing: Observed<Length>,
    /// Toenails in each block, where there are blocks between joists.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub nails_per_block: Observed<u16>,
    /// The nail, for toenails and nailed blocks.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub nail: Observed<Nail>,
    /// Allowable shear along the wall that a maker declares for one framing clip.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub capacity: Observed<Force>,
}

impl Connection {
    /// The stretch as stations along a wall line of the given length.
    pub fn span(&self, length: Option<Length>) -> Span {
        Span::of(self.from, self.to, length)
    }
}

choices! {
    /// What ties the floor to the wall or sill below.
    pub enum ConnectionKind: "floor connection" {
        /// Toenails from rim or blocks into the plate.
        Toenails = "toenails", "toenails";
        /// Framing clips.
        Clips = "clips", "framing clips";
        /// Blocks nailed to the plate, with nails or clips into rim or joists.
        NailedBlocks = "nailed_blocks", "nailed blocks";
        /// Nothing but weight.
        None = "none", "no connection";
    }
}

choices! {
    /// What closes the ends of the joists over a wall line.
    pub enum Rim: "rim or blocking" {
        /// A continuous rim joist, or an end joist where the joists run along the wall.
        Continuous = "continuous", "continuous rim joist";
        /// Full-depth blocks in every joist bay.
        EveryBay = "every_bay", "blocks in every joist bay";
        /// Full-depth blocks in every other joist bay.
        AlternateBays = "alternate_bays", "blocks in every other joist bay";
        /// Full-depth blocks in every other joist bay, and in every bay over a braced panel.
        AlternateAndOverPanels = "alternate_and_over_panels",
            "blocks in every other joist bay and in every bay over a braced panel";
        /// Blocks here and there.
        Scattered = "scattered", "blocks here and there";
        /// Neither rim nor blocks.
        None = "none", "neither rim nor blocks";
    }
}

impl Rim {
    /// Whether it is blocks between the joists, in whichever bays.
    pub const fn is_of_blocks(self) -> bool {
        match self {
            Self::EveryBay | Self::AlternateBays | Self::AlternateAndOverPanels | Self::Scattered => true,
            Self::Continuous | Self::None => false,
        }
    }
}
