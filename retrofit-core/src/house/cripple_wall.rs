//! The cripple wall: the short studs between foundation and floor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Span;
use crate::choice::choices;
use crate::measure::Length;
use crate::observation::Observed;

/// One stretch of cripple wall. Where a wall line has no cripple wall, the floor bears on the sill.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct CrippleStretch {
    /// Station where the stretch begins; left out, it is the beginning of the wall line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<Length>,
    /// Station where the stretch ends; left out, it is the end of the wall line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Length>,
    /// Greatest height from the top of the foundation to the underside of the floor framing, plates included.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub height: Observed<Length>,
    /// Height of the shortest stud, without the plates.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub shortest_stud: Observed<Length>,
    /// Height of the tallest stud, without the plates.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub tallest_stud: Observed<Length>,
    /// Depth of the studs across the wall, as it measures.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub stud_depth: Observed<Length>,
    /// Thickness of the studs along the wall, as it measures.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub stud_thickness: Observed<Length>,
    /// Spacing of the studs, center to center.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub stud_spacing: Observed<Length>,
    /// The top plate.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub top_plate: Observed<TopPlate>,
    /// Whether every break in the top plate is tied across.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub plate_splices_tied: Observed<bool>,
    /// Whether the studs run past the floor, which hangs on a ledger.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub balloon_framed: Observed<bool>,
    /// Whether the studs are replaced or filled by solid blocking.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub solid_blocked: Observed<bool>,
    /// What covers the outside of the studs and is fastened to them and to the plates.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub covering: Observed<CrippleCovering>,
    /// Nails on each side of a break in the top plate.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub splice_nails: Observed<u16>,
}

impl CrippleStretch {
    /// The stretch as stations along a wall line of the given length.
    pub fn span(&self, length: Option<Length>) -> Span {
        Span::of(self.from, self.to, length)
    }
}

choices! {
    /// The plate on top of a cripple wall.
    pub enum TopPlate: "top plate" {
        /// Two plates nailed to each other.
        Double = "double", "double plate, nailed together";
        /// Two plates not nailed to each other.
        DoubleLoose = "double_loose", "double plate, not nailed together";
        /// One plate.
        Single = "single", "single plate";
        /// None.
        None = "none", "no top plate";
    }
}

choices! {
    /// What covers the outside of a cripple wall, as far as it can brace it.
    pub enum CrippleCovering: "covering of the cripple wall" {
        /// Boards laid level.
        HorizontalBoards = "horizontal_boards", "boards laid level";
        /// Boards laid on the diagonal.
        DiagonalBoards = "diagonal_boards", "boards laid on the diagonal";
        /// Cement plaster on lath.
        Stucco = "stucco", "stucco";
        /// Nothing that braces it.
        None = "none", "nothing that braces it";
    }
}
