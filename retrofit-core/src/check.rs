//! Checks: what a set of provisions asks, held against what was found, one file for each check.
//!
//! A check is a small pure function from a house or a wall line and a resolved [`Requirement`] to findings.
//! It declares what it reads and which figures it applies, and carries its own explanation. [`REGISTRY`] is
//! the list of all of them. To add one, add a file and name it there.
//!
//! An unknown gives a *set* of possible outcomes instead of one; the best and the worst case of a wall line
//! or a house fall out of these sets, and nothing is worked out twice.
//!
//! [`Requirement`]: crate::provisions::Requirement

mod anchor_condition;
mod anchor_diameter;
mod anchor_edge_distance;
mod anchor_embedment;
mod anchor_end_distance;
mod anchor_kind;
mod anchor_spacing;
mod anchor_washer;
mod anchorage;
mod anchors_per_piece;
mod assess;
mod bracing;
mod bracing_ends;
mod bracing_length;
mod context;
mod continuous_perimeter;
mod counted;
mod credit;
mod cripple_wall_height;
mod dwelling_units;
mod earlier_retrofit;
mod evidence;
mod finding;
mod floor_connection;
mod floor_levels;
mod footing_bars;
mod footing_size;
mod foundation_condition;
mod foundation_kind;
mod ground_slope;
#[cfg(test)]
mod laws;
mod limit;
mod look_at;
mod new_sill;
mod outcome;
mod panel_foot;
mod panel_gaps;
mod panel_joints;
mod panel_nailing;
mod panel_openings;
mod panel_proportion;
mod panel_sheathing;
mod piecemeal;
mod plate_splices;
mod posts_connected;
mod registry;
mod rim_or_blocking;
mod rooms_over_garage;
#[cfg(test)]
mod sample;
mod shared;
mod short_studs;
mod sill_soundness;
mod slab_or_poles;
mod stories_limit;
mod stretches;
mod stud_bay_vents;
mod top_plate;
#[cfg(test)]
mod trial;
mod underfloor_vent_area;
mod veneer_height;
mod verdict;
mod year_built;

pub(crate) use counted::Counted;
pub(crate) use earlier_retrofit::{Chain, Link, LinkInWords};
pub(crate) use finding::Brief;
pub(crate) use piecemeal::Begun;
pub(crate) use registry::CheckId;
pub(crate) use shared::{ANCHOR_PROPERTIES, OfAnchors, OfBracing, OfPanels, PANEL_PROPERTIES, Shared};

pub use assess::{Assessment, Assessor, assess};
pub use evidence::{Evidence, EvidenceGrade, wall_lines_by_ruling};
pub use finding::{Few, Finding, Findings, Limit, Margin, Quantity, Spare};
pub use look_at::LookAt;
pub use outcome::{Outcome, Outcomes, Ruling};
pub use registry::{Check, Explanation, Group, REGISTRY, check_named};
pub use verdict::{Counts, NextLook, Rests, Verdict};
