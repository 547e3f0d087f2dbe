//! The floor that bears on the wall lines.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::choice::choices;
use crate::measure::Length;
use crate::observation::Observed;

/// The framing of the first floor.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct FloorFraming {
    /// Depth of the joists, as it measures.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub joist_depth: Observed<Length>,
    /// Thickness of the joists, as it measures.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub joist_thickness: Observed<Length>,
    /// Spacing of the joists, center to center.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub joist_spacing: Observed<Length>,
    /// Span of the joists between supports.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub joist_span: Observed<Length>,
    /// What lies on the joists.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub subfloor: Observed<Subfloor>,
    /// What the joists bear on at the perimeter.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub bearing: Observed<JoistBearing>,
}

choices! {
    /// What lies on the floor joists.
    pub enum Subfloor: "subfloor" {
        /// Boards laid straight.
        StraightBoards = "straight_boards", "straight boards";
        /// Boards laid on the diagonal.
        DiagonalBoards = "diagonal_boards", "diagonal boards";
        /// Plywood or OSB.
        Panels = "panels", "plywood or OSB";
    }
}

choices! {
    /// What the floor joists bear on at the perimeter.
    pub enum JoistBearing: "joist bearing" {
        /// The top plate of a cripple wall.
        TopPlate = "top_plate", "the top plate of the cripple wall";
        /// The sill.
        Sill = "sill", "the sill";
        /// A ledger on studs that run past the floor.
        Ledger = "ledger", "a ledger on the studs";
    }
}
