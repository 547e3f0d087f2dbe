//! The as-built description of one house: what was found under it, wall line by wall line.
//!
//! A [`House`] is the record as it was written down. [`AsBuilt`] is a house whose record makes sense (no
//! overlapping panels, no anchors beyond the end of a wall); only that can be checked. The model holds no
//! requirement of any code.
//!
//! Positions along a wall line are *stations*: distances from its left end as seen from inside the crawl
//! space, facing the wall. Lists (`anchors`, `panels`, `openings` …) are observations too: an absent list is
//! unknown, an empty list says that someone looked and found none, and a list is complete except for the
//! stretches named under `unseen`.

mod as_built;
mod building;
mod connection;
mod cripple_wall;
mod floor;
mod foundation;
mod opening;
mod panel;
mod post;
mod record;
mod sill;
mod site;
mod surroundings;
mod survey;
mod wall_line;

pub mod anchor;

pub use anchor::{Anchor, AnchorKind, Corrosion, Installed, Placement, Tightness, Washer};
pub use as_built::{AsBuilt, CLOSEST_READINGS, LONGEST_WALL_LINE, MOST_READINGS, Problem};
pub use building::{Building, ExteriorWall, Roof, Stories, WeightCase};
pub use connection::{Connection, ConnectionKind, Rim};
pub use cripple_wall::{CrippleCovering, CrippleStretch, TopPlate};
pub use floor::{FloorFraming, JoistBearing, Subfloor};
pub use foundation::{
    FoundationCondition, FoundationKind, FoundationOption, FoundationStretch, InsideAccess, OutsideAccess,
    Reinforcing,
};
pub use opening::{Opening, OpeningKind};
pub use panel::{Nail, Panel, PanelFoot, Shank, Sheathing};
pub use post::{Post, PostBase, PostTop};
pub use record::{Access, CheckedOn, Distress, DistressKind, Inspection, Photo};
pub use sill::{SillAgainstStuds, SillPiece, SillSoundness, SillSpecies, SillTreatment};
pub use site::{SeismicCategory, Site, SiteClass, SoilClass, SpectralAcceleration};
pub use surroundings::Surroundings;
pub use survey::{
    BaseCheck, BasePoint, Crack, CrackPattern, CrackTaper, CrackedPart, Door, DoorAction, FloorFinish,
    InstrumentKind, LevelInstrument, LevelReading, PlumbWall, Survey, WallPlumb,
};
pub use wall_line::{JoistDirection, Parts, PlanPoint, Span, Unseen, WallLine};

use schemars::JsonSchema;
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize};

use crate::by_name::by_name;
use crate::measure::Area;
use crate::observation::Observed;

/// The version of the house-file format that this crate reads and writes.
pub const HOUSE_FORMAT: &str = "house-1";

const FOR_THE_SCHEMA: &str = "One house as it was found. This schema holds each field by itself. What fields \
    say together is for the reader of the file to judge: stations lie within the wall line, the items of a list \
    do not overlap, sizes are greater than zero, bounds are in order, wall lines have names of their own, an \
    anchor stands at one station or in a run, and a panel has stations or stands for all.";

/// One house as it was found.
///
/// ```
/// use retrofit_core::house::{AsBuilt, House};
/// let house: House = serde_json::from_str(r#"{
///     "format": "house-1",
///     "name": "Quince Lantern Way",
///     "building": {"stories": 1},
///     "wall_lines": [{"name": "north", "length": {"measured": "24'-0\""}}]
/// }"#)?;
/// let house = AsBuilt::new(house).expect("the record makes sense");
/// assert_eq!(house.wall_lines.len(), 1);
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(description = FOR_THE_SCHEMA)]
pub struct House {
    /// The version of this format: always `house-1`.
    pub format: Format,
    /// A name or file number that the reader will recognize.
    #[serde(deserialize_with = "a_name")]
    #[schemars(regex(pattern = r"\S"))]
    pub name: String,
    /// When and how the house was looked at.
    #[serde(default, deserialize_with = "by_name")]
    pub inspection: Inspection,
    /// The ground it stands on.
    #[serde(default, deserialize_with = "by_name")]
    pub site: Site,
    /// The house above the floor.
    #[serde(default, deserialize_with = "by_name")]
    pub building: Building,
    /// The framing of the first floor.
    #[serde(default, deserialize_with = "by_name")]
    pub floor: FloorFraming,
    /// The perimeter and any interior wall lines that were looked at.
    #[serde(deserialize_with = "by_name")]
    #[schemars(length(min = 1))]
    pub wall_lines: Vec<WallLine>,
    /// Whether the foundation runs unbroken around the perimeter, porches and fireplaces aside.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub continuous_perimeter: Observed<bool>,
    /// Area of the crawl space, inside the perimeter.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub crawl_space_area: Observed<Area>,
    /// Net free area of all underfloor vents together; left out, it is no less than that of the vents listed
    /// along the wall lines.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub vent_area: Observed<Area>,
    /// Interior posts and piers.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub posts: Observed<Vec<Post>>,
    /// Whether an earlier strengthening was done, by whomever and however well.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub earlier_retrofit: Observed<bool>,
    /// Cracks, slopes, sticking doors, damp: noted, and kept apart from the seismic verdict.
    #[serde(default, deserialize_with = "by_name", skip_serializing_if = "Vec::is_empty")]
    pub distress: Vec<Distress>,
    /// What may move a foundation: water, soil, trees, leaks.
    #[serde(default, deserialize_with = "by_name", skip_serializing_if = "is_default")]
    pub surroundings: Surroundings,
    /// Floor level surveys, each of a day of its own, the earliest first.
    #[serde(default, deserialize_with = "by_name", skip_serializing_if = "Vec::is_empty")]
    pub surveys: Vec<Survey>,
    /// Photographs, to be shown with a report.
    #[serde(default, deserialize_with = "by_name", skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<Photo>,
    /// Anything else worth writing down.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

fn is_default(surroundings: &Surroundings) -> bool {
    *surroundings == Surroundings::default()
}

fn a_name<'de, D: Deserializer<'de>>(deserializer: D) -> Result<String, D::Error> {
    let name = String::deserialize(deserializer)?;
    if name.trim().is_empty() {
        return Err(D::Error::custom(
            "found an empty name; expected a name or file number",
        ));
    }
    Ok(name)
}

impl House {
    /// Net free area of the vents listed along the wall lines, as far as it is known: the least there can be.
    pub fn listed_vent_area(&self) -> Area {
        let openings = self
            .wall_lines
            .iter()
            .filter_map(|wall| wall.openings.value())
            .flatten();
        openings
            .filter(|opening| opening.kind == OpeningKind::Vent)
            .filter_map(|vent| vent.net_area.bounds().0)
            .fold(Area::ZERO, |sum, area| sum.saturating_add(*area))
    }
}

/// The version of the house-file format.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Format {
    /// The first published format.
    #[default]
    #[serde(rename = "house-1")]
    House1,
}
