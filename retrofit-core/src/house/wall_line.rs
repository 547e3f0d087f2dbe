//! A wall line: one straight run of perimeter or interior wall, described along its stations.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Anchor, Connection, CrippleStretch, FoundationStretch, Opening, Panel, Rim, SillPiece};
use crate::by_name::by_name;
use crate::choice::choices;
use crate::measure::Length;
use crate::observation::Observed;

/// One wall line.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WallLine {
    /// A name that is used once in the house, such as `north` or `front porch`.
    #[schemars(regex(pattern = r"\S"))]
    pub name: String,
    /// Its length.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub length: Observed<Length>,
    /// Where it begins and ends in plan; left out, the plan sketch places it by order.
    #[serde(
        default,
        deserialize_with = "by_name",
        skip_serializing_if = "Option::is_none"
    )]
    pub plan: Option<[PlanPoint; 2]>,
    /// Whether the floor joists run along the wall or across it.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub joists: Observed<JoistDirection>,
    /// What closes the ends of the joists over the wall.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub rim: Observed<Rim>,
    /// The foundation, stretch by stretch.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub foundation: Observed<Vec<FoundationStretch>>,
    /// The sill plate, piece by piece.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub sill: Observed<Vec<SillPiece>>,
    /// The anchors.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub anchors: Observed<Vec<Anchor>>,
    /// The cripple wall, stretch by stretch; an empty list where the floor bears on the sill.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub cripple_wall: Observed<Vec<CrippleStretch>>,
    /// The braced panels.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub panels: Observed<Vec<Panel>>,
    /// What ties the floor to the wall or sill below.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub connections: Observed<Vec<Connection>>,
    /// Vents, access doors, pipes.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub openings: Observed<Vec<Opening>>,
    /// Whether an earlier strengthening was done along this wall line; left out, what is said of the house holds.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub earlier_retrofit: Observed<bool>,
    /// Stretches that could not be seen, and of what.
    #[serde(default, deserialize_with = "by_name", skip_serializing_if = "Vec::is_empty")]
    pub unseen: Vec<Unseen>,
    /// Anything else worth writing down.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

impl WallLine {
    /// Stretches in which the given part could not be seen. What is recorded of foundation and sill holds where
    /// nothing else could be seen; only where they are named themselves may they be other than recorded.
    pub fn unseen_of(&self, part: Parts) -> impl Iterator<Item = &Unseen> + Clone {
        let is_named_alone = matches!(part, Parts::Foundation | Parts::Sill);
        self.unseen.iter().filter(move |unseen| {
            unseen.parts.contains(&part) || (unseen.parts.is_empty() && !is_named_alone)
        })
    }
}

/// A stretch of a wall line that could not be seen.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Unseen {
    /// Station where it begins; left out, it is the beginning of the wall line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<Length>,
    /// Station where it ends; left out, it is the end of the wall line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<Length>,
    /// What could not be seen there; left out, no anchor, panel, connection or opening could be, and foundation
    /// and sill are what the record says of them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<Parts>,
    /// Why not.
    #[schemars(regex(pattern = r"\S"))]
    pub why: String,
}

impl Unseen {
    /// The stretch as stations along a wall line of the given length.
    pub fn span(&self, length: Option<Length>) -> Span {
        Span::of(self.from, self.to, length)
    }
}

choices! {
    /// Parts of a wall line that are listed by station.
    pub enum Parts: "part of a wall line" {
        /// The foundation.
        Foundation = "foundation", "foundation";
        /// The sill, its splices included.
        Sill = "sill", "sill";
        /// The anchors.
        Anchors = "anchors", "anchors";
        /// The braced panels.
        Panels = "panels", "braced panels";
        /// The floor connection.
        Connections = "connections", "floor connection";
        /// The openings.
        Openings = "openings", "openings";
    }
}

choices! {
    /// How the floor joists run.
    pub enum JoistDirection: "joist direction" {
        /// Along the wall.
        Parallel = "parallel", "parallel to the wall";
        /// Across the wall, or at an angle to it.
        Perpendicular = "perpendicular", "perpendicular to the wall";
    }
}

/// A point in plan: x runs east, y runs north.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlanPoint {
    /// Distance east of the origin.
    pub x: Length,
    /// Distance north of the origin.
    pub y: Length,
}

/// A stretch of a wall line between two stations; `to` is `None` when it runs to an end whose station is
/// not known because the length of the wall line is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Option<Length>,
}

impl Span {
    /// A stretch between two stations.
    pub const fn new(from: Length, to: Length) -> Self {
        Self { from, to: Some(to) }
    }

    /// A recorded stretch: missing ends are those of the wall line.
    pub fn of(from: Option<Length>, to: Option<Length>, wall_length: Option<Length>) -> Self {
        Self {
            from: from.unwrap_or(Length::ZERO),
            to: to.or(wall_length),
        }
    }

    /// Its length, when both ends are known.
    pub fn length(self) -> Option<Length> {
        self.to.and_then(|to| to.checked_sub(self.from))
    }

    /// Whether two stretches share more than an end.
    pub fn overlaps(self, other: Self) -> bool {
        let begins_before = |from: Length, to: Option<Length>| to.is_none_or(|to| from < to);
        begins_before(self.from, other.to) && begins_before(other.from, self.to)
    }
}
