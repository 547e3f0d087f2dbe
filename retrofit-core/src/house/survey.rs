//! A floor level survey of one day: heights read over the floor, and the cracks, doors and walls looked at.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{CheckedOn, PlanPoint};
use crate::by_name::by_name;
use crate::choice::choices;
use crate::measure::Length;
use crate::observation::Observed;

/// What was read and seen of the floor and the walls on one day.
///
/// Heights count up from the base point. Readings and repeat readings of the base are listed in the order in
/// which they were taken, because the instrument's drift is shared out in that order.
///
/// ```
/// use retrofit_core::house::Survey;
/// let survey: Survey = serde_json::from_str(r#"{
///     "date": "2026-05-04",
///     "base": {"place": "entry, on the tile", "at": {"x": "0 ft", "y": "0 ft"}},
///     "readings": [
///         {"at": {"x": "2 ft", "y": "2 ft"}, "height": "1/4 in", "finish": "hardwood", "finish_thickness": "3/4 in"},
///         {"at": {"x": "22 ft", "y": "2 ft"}, "height": "-1/2 in", "finish": "carpet"}
///     ],
///     "base_checks": [{"after": 2, "height": "1/16 in"}]
/// }"#)?;
/// assert_eq!(survey.readings.listed().len(), 2);
/// assert!(!survey.readings.listed()[1].finish_thickness.is_known());
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Survey {
    /// The day.
    pub date: CheckedOn,
    /// What the heights were read with.
    #[serde(default, deserialize_with = "by_name")]
    pub instrument: LevelInstrument,
    /// Where the heights count from.
    #[serde(default, deserialize_with = "by_name")]
    pub base: BasePoint,
    /// The heights, in the order in which they were read; left out, no heights were read.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub readings: Observed<Vec<LevelReading>>,
    /// Repeat readings of the base point, in order.
    #[serde(default, deserialize_with = "by_name", skip_serializing_if = "Vec::is_empty")]
    pub base_checks: Vec<BaseCheck>,
    /// Cracks that were measured; an empty list says that someone looked and found none.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub cracks: Observed<Vec<Crack>>,
    /// Doors that were looked at, whether in square or not.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub doors: Observed<Vec<Door>>,
    /// Walls whose plumb was measured.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub plumb: Observed<Vec<WallPlumb>>,
    /// Anything else worth writing down.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

impl Survey {
    /// A survey of a day of which nothing is known yet.
    pub fn on(date: CheckedOn) -> Self {
        Self {
            date,
            instrument: LevelInstrument::default(),
            base: BasePoint::default(),
            readings: Observed::default(),
            base_checks: Vec::new(),
            cracks: Observed::default(),
            doors: Observed::default(),
            plumb: Observed::default(),
            note: String::new(),
        }
    }
}

/// What heights were read with.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct LevelInstrument {
    /// Its kind.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub kind: Observed<InstrumentKind>,
    /// How far a single reading can be off, either way, as its maker or the surveyor says.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub reading_error: Observed<Length>,
}

choices! {
    /// A kind of instrument for heights.
    pub enum InstrumentKind: "level instrument" {
        /// Pressurized or open liquid level with a gauge.
        Manometer = "manometer", "manometer";
        /// Open water level.
        WaterLevel = "water_level", "water level";
        /// Rotating or line laser.
        Laser = "laser", "laser level";
        /// Optical level and rod.
        Optical = "optical", "optical level and rod";
        /// Straightedge and spirit level.
        SpiritLevel = "spirit_level", "straightedge and spirit level";
    }
}

/// The point that heights count from.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct BasePoint {
    /// Where it is, in words: two surveys can be compared in height only when they share it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// Where it is in plan.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<PlanPoint>,
    /// What the instrument showed there at the start; left out, zero.
    #[serde(skip_serializing_if = "is_zero")]
    pub height: Length,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands a reference over")]
fn is_zero(height: &Length) -> bool {
    *height == Length::ZERO
}

/// One height.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LevelReading {
    /// A name of its own, such as `A3` or `kitchen, sink`; left out, it goes by its place in the list.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub label: String,
    /// Where it was read.
    pub at: PlanPoint,
    /// The height that the instrument showed, above (or, negative, below) the base point.
    pub height: Length,
    /// What lies on the structural floor there.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub finish: Observed<FloorFinish>,
    /// How thick that is.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub finish_thickness: Observed<Length>,
    /// Minutes since the base point was read first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minute: Option<u16>,
}

choices! {
    /// What lies on a structural floor.
    pub enum FloorFinish: "floor finish" {
        /// Nothing: boards or panels of the floor itself.
        Bare = "bare", "bare subfloor";
        /// Wood strip or plank flooring.
        Hardwood = "hardwood", "wood flooring";
        /// Carpet with its pad.
        Carpet = "carpet", "carpet";
        /// Tile with its bed.
        Tile = "tile", "tile";
        /// Vinyl or linoleum, in sheets or tiles.
        Resilient = "resilient", "vinyl or linoleum";
        /// Laminate or other floating flooring.
        Floating = "floating", "floating floor";
        /// Anything else.
        Other = "other", "other finish";
    }
}

/// A repeat reading of the base point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BaseCheck {
    /// After how many readings it was taken.
    pub after: u16,
    /// What the instrument showed.
    pub height: Length,
    /// Minutes since the base point was read first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minute: Option<u16>,
}

/// One crack.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Crack {
    /// Where, in words.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// Where in plan, for the map.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<PlanPoint>,
    /// What is cracked.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub part: Observed<CrackedPart>,
    /// Its greatest width.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub width: Observed<Length>,
    /// How it runs.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub pattern: Observed<CrackPattern>,
    /// Where it is wider.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub wider: Observed<CrackTaper>,
    /// How far one face stands out from the other.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub offset: Observed<Length>,
    /// Anything else.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
}

choices! {
    /// What is cracked.
    pub enum CrackedPart: "cracked part" {
        /// Footing or stem wall.
        Foundation = "foundation", "foundation";
        /// Plaster or gypsum board inside.
        InsideFinish = "inside_finish", "inside finish";
        /// Stucco or another covering outside.
        OutsideFinish = "outside_finish", "outside finish";
        /// Brick or stone.
        Masonry = "masonry", "brick or stone";
        /// A slab, a walk or steps.
        Slab = "slab", "slab, walk or steps";
    }
}

choices! {
    /// How a crack runs.
    pub enum CrackPattern: "crack pattern" {
        /// Upright.
        Vertical = "vertical", "vertical";
        /// Level.
        Horizontal = "horizontal", "horizontal";
        /// On a slant.
        Diagonal = "diagonal", "diagonal";
        /// From the corner of a door or window.
        FromOpening = "from_opening", "from the corner of an opening";
        /// In steps along the joints of masonry.
        Stepped = "stepped", "stepped along joints";
        /// A net of fine cracks.
        Map = "map", "map cracking";
    }
}

choices! {
    /// Where a crack is wider.
    pub enum CrackTaper: "crack taper" {
        /// Wider at its upper end.
        Top = "top", "wider at the top";
        /// Wider at its lower end.
        Bottom = "bottom", "wider at the bottom";
        /// As wide all along.
        Even = "even", "of even width";
    }
}

/// One door or its frame.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Door {
    /// Where, in words.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// Where in plan, for the map.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<PlanPoint>,
    /// Width of the opening.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub width: Observed<Length>,
    /// Difference of height of the head of the frame between its two sides.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub out_of_square: Observed<Length>,
    /// How it works.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub action: Observed<DoorAction>,
    /// Anything else.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
}

choices! {
    /// How a door works.
    pub enum DoorAction: "door action" {
        /// It opens and latches.
        Free = "free", "opens and latches";
        /// It rubs a little.
        SticksSlightly = "sticks_slightly", "sticks slightly";
        /// It sticks.
        Sticks = "sticks", "sticks";
        /// The frame is visibly out of shape, or the door does not open.
        Distorted = "distorted", "frame distorted";
    }
}

/// The plumb of one wall.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct WallPlumb {
    /// Where, in words.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// Where in plan, for the map.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<PlanPoint>,
    /// What the wall is made of.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub kind: Observed<PlumbWall>,
    /// How far its top stands out from its foot, over the height measured.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub out_of_plumb: Observed<Length>,
    /// The height over which that was measured.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub over: Observed<Length>,
    /// Anything else.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
}

choices! {
    /// What a wall is made of, as far as its plumb goes.
    pub enum PlumbWall: "wall" {
        /// Wood framing.
        WoodFramed = "wood_framed", "wood-framed wall";
        /// Concrete.
        Concrete = "concrete", "concrete wall";
        /// Brick, stone or block.
        Masonry = "masonry", "masonry wall";
    }
}
