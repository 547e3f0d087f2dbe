//! The sill plate: the wood that lies on the foundation, piece by piece.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Installed, Span};
use crate::choice::choices;
use crate::measure::Length;
use crate::observation::Observed;

/// One piece of sill plate. Its ends are where anchors have to be near.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct SillPiece {
    /// Station where the piece begins; left out, it is the beginning of the wall line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<Length>,
    /// Station where the piece ends; left out, it is the end of the wall line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Length>,
    /// Thickness, top to bottom, as it measures (not the nominal size).
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub thickness: Observed<Length>,
    /// Width across the foundation, as it measures.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub width: Observed<Length>,
    /// How its inside edge lies against the inside face of the studs.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub against_studs: Observed<SillAgainstStuds>,
    /// What wood it is, as far as can be told.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub species: Observed<SillSpecies>,
    /// Whether the wood resists decay.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub treatment: Observed<SillTreatment>,
    /// Whether the wood is sound.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub soundness: Observed<SillSoundness>,
    /// Whether it is bedded in the concrete.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub embedded: Observed<bool>,
    /// Whether it is original or came with later work.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub installed: Observed<Installed>,
}

impl SillPiece {
    /// The piece as stations along a wall line of the given length.
    pub fn span(&self, length: Option<Length>) -> Span {
        Span::of(self.from, self.to, length)
    }
}

choices! {
    /// How the inside edge of a sill lies against the studs.
    pub enum SillAgainstStuds: "sill against studs" {
        /// Sill and studs are flush: a panel reaches both.
        Flush = "flush", "flush with the studs";
        /// The sill is wider: a panel on the studs does not reach it.
        SillWider = "sill_wider", "wider than the studs";
        /// The sill is narrower than the studs are deep.
        SillNarrower = "sill_narrower", "narrower than the studs";
    }
}

choices! {
    /// What wood a sill is of. Whether it resists decay is said by its treatment: of redwood and cedar only the
    /// heartwood does.
    pub enum SillSpecies: "sill species" {
        /// Redwood.
        Redwood = "redwood", "redwood";
        /// Cedar.
        Cedar = "cedar", "cedar";
        /// Douglas fir or larch.
        DouglasFir = "douglas_fir", "Douglas fir or larch";
        /// Hemlock or true fir.
        HemFir = "hem_fir", "hemlock or fir";
        /// Another wood.
        Other = "other", "another wood";
    }
}

choices! {
    /// Whether sill wood resists decay.
    pub enum SillTreatment: "sill treatment" {
        /// Pressure-treated with preservative.
        Treated = "treated", "preservative-treated";
        /// A naturally durable species such as redwood heartwood or cedar.
        Durable = "durable", "naturally durable wood";
        /// Neither.
        Untreated = "untreated", "untreated wood";
    }
}

choices! {
    /// Whether sill wood is sound.
    pub enum SillSoundness: "sill soundness" {
        /// Sound throughout.
        Sound = "sound", "sound";
        /// Split along the grain at anchors.
        Split = "split", "split";
        /// Insect damage.
        Insects = "insects", "damaged by insects";
        /// Decay by fungus.
        Decayed = "decayed", "decayed";
    }
}
