//! The list of all checks, each with its explanation.

use super::context::{Line, Whole};
use super::finding::{Finding, Findings, Judgment};
use super::look_at::LookAt;
use super::{
    anchor_condition, anchor_diameter, anchor_edge_distance, anchor_embedment, anchor_end_distance,
    anchor_kind, anchor_spacing, anchor_washer, anchors_per_piece, bracing_ends, bracing_length,
    continuous_perimeter, cripple_wall_height, dwelling_units, earlier_retrofit, floor_connection,
    floor_levels, footing_bars, footing_size, foundation_condition, foundation_kind, ground_slope, new_sill,
    panel_foot, panel_gaps, panel_joints, panel_nailing, panel_openings, panel_proportion, panel_sheathing,
    plate_splices, posts_connected, rim_or_blocking, rooms_over_garage, short_studs, sill_soundness,
    slab_or_poles, stories_limit, stud_bay_vents, top_plate, underfloor_vent_area, veneer_height, year_built,
};
use crate::choice::{choices, nearest};
use crate::provisions::FigureName;

/// A check: what it looks at, why, by which figures, and the function that does it.
#[derive(Debug)]
pub struct Check {
    /// Its name, used once and never again for another.
    pub name: &'static str,
    /// Its group.
    pub group: Group,
    /// A title for a table.
    pub title: &'static str,
    /// What it means, for `explain`, the report and the documentation.
    pub explanation: Explanation,
    /// The figures it applies.
    pub figures: &'static [FigureName],
    /// The observations it reads.
    pub reads: &'static [LookAt],
    pub(super) run: Run,
}

/// What a check means, in plain words.
#[derive(Clone, Copy, Debug)]
pub struct Explanation {
    /// What it looks at.
    pub looks_at: &'static str,
    /// Why it matters in an earthquake.
    pub why: &'static str,
    /// What would satisfy it.
    pub satisfied_by: &'static str,
    /// The general direction of the fix.
    pub fix: &'static str,
}

/// What a check is run on.
#[derive(Clone, Copy)]
pub(super) enum Run {
    /// The house as a whole.
    House(fn(&Whole<'_>, &mut Findings)),
    /// Each wall line.
    Line(fn(&Line<'_>, &mut Findings)),
    /// Each wall line, after all other checks, over what they found there.
    Audit(fn(&Line<'_>, &[Finding]) -> Judgment),
}

impl std::fmt::Debug for Run {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::House(_) => "House",
            Self::Line(_) => "Line",
            Self::Audit(_) => "Audit",
        })
    }
}

choices! {
    /// A group of checks, in the order of a report.
    pub enum Group: "group of checks" {
        /// Limits of applicability.
        Applicability = "applicability", "limits of the provisions";
        /// Foundation.
        Foundation = "foundation", "foundation";
        /// Sill plate.
        Sill = "sill", "sill plate";
        /// Anchorage.
        Anchorage = "anchorage", "sill anchorage";
        /// Bracing.
        Bracing = "bracing", "cripple wall bracing";
        /// Cripple wall framing.
        Framing = "framing", "cripple wall framing";
        /// Floor connection.
        Floor = "floor", "floor to wall";
        /// Ventilation.
        Ventilation = "ventilation", "ventilation";
        /// Posts and piers.
        Posts = "posts", "posts and piers";
        /// Earlier retrofit.
        Retrofit = "retrofit", "earlier retrofit";
    }
}

/// Makes the registry from one list, so that a finding names a check that is there.
macro_rules! registry {
    ($($id:ident = $module:ident;)+) => {
        /// A check of the registry: what a finding keeps of it, in one byte.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub(crate) enum CheckId { $($id),+ }

        impl CheckId {
            /// Every check, in the order of a report.
            pub(crate) const ALL: [Self; COUNT] = [$(Self::$id),+];

            pub(crate) const fn check(self) -> &'static Check {
                match self { $(Self::$id => &$module::CHECK),+ }
            }
        }

        impl CheckId {
            /// Whether it is run on the house as a whole.
            pub(crate) const fn is_of_house(self) -> bool {
                matches!(self.check().run, Run::House(_))
            }
        }

        const COUNT: usize = [$(stringify!($id)),+].len();

        /// Every check, in the order of a report.
        pub static REGISTRY: [&Check; COUNT] = [$(&$module::CHECK),+];
    };
}

registry! {
    StoriesLimit = stories_limit;
    DwellingUnits = dwelling_units;
    CrippleWallHeight = cripple_wall_height;
    GroundSlope = ground_slope;
    FoundationKind = foundation_kind;
    ContinuousPerimeter = continuous_perimeter;
    FloorLevels = floor_levels;
    VeneerHeight = veneer_height;
    RoomsOverGarage = rooms_over_garage;
    SlabOrPoles = slab_or_poles;
    YearBuilt = year_built;
    FoundationCondition = foundation_condition;
    FootingSize = footing_size;
    FootingBars = footing_bars;
    SillSoundness = sill_soundness;
    NewSill = new_sill;
    AnchorSpacing = anchor_spacing;
    AnchorEndDistance = anchor_end_distance;
    AnchorsPerPiece = anchors_per_piece;
    AnchorKind = anchor_kind;
    AnchorDiameter = anchor_diameter;
    AnchorWasher = anchor_washer;
    AnchorEmbedment = anchor_embedment;
    AnchorEdgeDistance = anchor_edge_distance;
    AnchorCondition = anchor_condition;
    BracingLength = bracing_length;
    BracingEnds = bracing_ends;
    PanelGaps = panel_gaps;
    PanelProportion = panel_proportion;
    PanelSheathing = panel_sheathing;
    PanelNailing = panel_nailing;
    PanelJoints = panel_joints;
    PanelFoot = panel_foot;
    PanelOpenings = panel_openings;
    TopPlate = top_plate;
    PlateSplices = plate_splices;
    ShortStuds = short_studs;
    RimOrBlocking = rim_or_blocking;
    FloorConnection = floor_connection;
    StudBayVents = stud_bay_vents;
    UnderfloorVentArea = underfloor_vent_area;
    PostsConnected = posts_connected;
    EarlierRetrofit = earlier_retrofit;
}

/// The check of a name; the error is the nearest name that there is.
///
/// ```
/// use retrofit_core::check::check_named;
/// assert_eq!(check_named("anchor-spacing").unwrap().title, "Anchor spacing");
/// assert_eq!(check_named("anchor-spaceing").unwrap_err(), Some("anchor-spacing"));
/// ```
pub fn check_named(name: &str) -> Result<&'static Check, Option<&'static str>> {
    REGISTRY
        .iter()
        .find(|check| check.name == name)
        .copied()
        .ok_or_else(|| nearest(name, REGISTRY.iter().map(|check| check.name)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::choice::Choice;

    #[test]
    fn a_position_in_the_registry_is_that_of_its_check() {
        assert_eq!(size_of::<CheckId>(), 1);
        for (position, id) in CheckId::ALL.into_iter().enumerate() {
            assert_eq!(id as usize, position);
            assert_eq!(id.check().name, REGISTRY[position].name);
        }
    }

    #[test]
    fn every_name_is_used_once_and_spelled_in_lower_case_with_hyphens() {
        for (position, check) in REGISTRY.iter().enumerate() {
            let is_spelled_well = check
                .name
                .split('-')
                .all(|word| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_lowercase()));
            assert!(is_spelled_well, "{}", check.name);
            assert_eq!(
                REGISTRY.iter().position(|other| other.name == check.name),
                Some(position)
            );
        }
    }

    #[test]
    fn the_order_is_that_of_the_groups_in_a_report() {
        assert!(REGISTRY.is_sorted_by_key(|check| check.group));
        for group in Group::ALL {
            assert!(REGISTRY.iter().any(|check| check.group == *group), "{group}");
        }
    }

    #[test]
    fn every_check_explains_itself_and_says_what_it_applies_and_reads() {
        for check in REGISTRY {
            let Explanation {
                looks_at,
                why,
                satisfied_by,
                fix,
            } = check.explanation;
            for text in [check.title, looks_at, why, satisfied_by, fix] {
                assert!(!text.trim().is_empty(), "{}", check.name);
            }
            for sentence in [looks_at, why, satisfied_by, fix] {
                assert!(sentence.ends_with('.'), "{}: {sentence}", check.name);
                assert!(
                    !sentence.to_lowercase().contains("is safe"),
                    "{}: {sentence}",
                    check.name
                );
            }
            assert!(!check.figures.is_empty(), "{}", check.name);
            assert!(!check.reads.is_empty(), "{}", check.name);
        }
    }

    #[test]
    fn every_figure_of_the_catalog_is_applied_by_a_check() {
        for figure in FigureName::ALL {
            let is_applied = REGISTRY.iter().any(|check| check.figures.contains(figure));
            assert!(is_applied, "{figure}");
        }
    }
}
