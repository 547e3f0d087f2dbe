//! The columns a table may have: a closed list, each with what it means and where it goes in a house.

use super::cell::{Holds, Slot};
use super::row::{HousePlaces, LinePlaces, List};

/// The column that names the house: a parcel or file number that the owner of the table will recognize.
pub const ID: &str = "id";
/// The column that names a wall line, in a table of wall lines.
pub const WALL_LINE: &str = "wall_line";
/// The column that says how everything in its row is known: measured, seen (also where it is left out),
/// reported or inferred.
pub const KNOWN_BY: &str = "known_by";
/// Columns that are handed on unread, to group results by.
pub const PASSED_ON: [&str; 2] = ["region", "district"];
/// How the name of any other column begins that is to be handed on unread.
pub const PASSED_PREFIX: &str = "x_";

/// A column that holds an observation.
#[derive(Debug)]
pub struct Column {
    /// Its name.
    pub name: &'static str,
    /// What it means.
    pub means: &'static str,
    /// Where it goes: the path of the observation in a house file.
    pub path: &'static str,
    /// Which table it belongs to where houses and wall lines stand in tables of their own.
    pub table: Table,
    /// The list of which it describes the one item, where it does.
    pub(super) of: Option<List>,
    pub(super) slot: Place,
}

/// A table of the form with two tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Table {
    /// The houses.
    House,
    /// The wall lines.
    WallLine,
}

type OfHouse = for<'s> fn(&'s mut HousePlaces<'_>) -> &'s mut dyn Slot;
type OfLine = for<'s> fn(&'s mut LinePlaces<'_>) -> &'s mut dyn Slot;

/// How a column finds its observation.
#[derive(Clone, Copy, Debug)]
pub(super) enum Place {
    House(OfHouse),
    Line(OfLine),
}

impl Column {
    /// What its cells hold.
    pub fn holds(&self) -> Holds {
        super::row::holds(self.slot)
    }

    const fn house(
        name: &'static str,
        means: &'static str,
        path: &'static str,
        of: Option<List>,
        slot: OfHouse,
    ) -> Self {
        Self {
            name,
            means,
            path,
            table: Table::House,
            of,
            slot: Place::House(slot),
        }
    }

    const fn line(
        name: &'static str,
        means: &'static str,
        path: &'static str,
        of: Option<List>,
        slot: OfLine,
    ) -> Self {
        Self {
            name,
            means,
            path,
            table: Table::WallLine,
            of,
            slot: Place::Line(slot),
        }
    }
}

/// Every column that holds an observation. Where a row stands for many things of a kind, it tells the worst.
pub static COLUMNS: [Column; 79] = [
    Column::house(
        "stories",
        "Stories above the crawl space; half stories are allowed",
        "building.stories",
        None,
        |to| &mut to.house.building.stories,
    ),
    Column::house("units", "Dwelling units", "building.units", None, |to| {
        &mut to.house.building.units
    }),
    Column::house(
        "year_built",
        "Year in which the house was built",
        "building.year_built",
        None,
        |to| &mut to.house.building.year_built,
    ),
    Column::house(
        "floor_area",
        "Floor area of all stories",
        "building.floor_area",
        None,
        |to| &mut to.house.building.floor_area,
    ),
    Column::house(
        "exterior",
        "Covering of the outside walls",
        "building.exterior",
        None,
        |to| &mut to.house.building.exterior,
    ),
    Column::house(
        "interior_plaster",
        "Whether the walls are plastered inside",
        "building.interior_plaster",
        None,
        |to| &mut to.house.building.interior_plaster,
    ),
    Column::house("roof", "Covering of the roof", "building.roof", None, |to| {
        &mut to.house.building.roof
    }),
    Column::house(
        "veneer_height",
        "Height of the highest masonry veneer above the foundation, chimneys aside; 0 in when there is none",
        "building.veneer_height",
        None,
        |to| &mut to.house.building.veneer_height,
    ),
    Column::house(
        "floors_at_one_level",
        "Whether the floor of each story lies at one level",
        "building.floors_at_one_level",
        None,
        |to| &mut to.house.building.floors_at_one_level,
    ),
    Column::house(
        "rooms_over_garage",
        "Whether there are rooms over a garage or another open space at ground level",
        "building.rooms_over_garage",
        None,
        |to| &mut to.house.building.rooms_over_garage,
    ),
    Column::house(
        "slab_or_pole_portion",
        "Whether part of the house stands on a slab at grade or on poles",
        "building.slab_or_pole_portion",
        None,
        |to| &mut to.house.building.slab_or_pole_portion,
    ),
    Column::house(
        "untied_chimney",
        "Whether a masonry chimney stands without visible ties to the framing",
        "building.untied_chimney",
        None,
        |to| &mut to.house.building.untied_chimney,
    ),
    Column::house(
        "slope",
        "Steepest slope of the ground under or along the foundation",
        "site.slope",
        None,
        |to| &mut to.house.site.slope,
    ),
    Column::house(
        "seismic_category",
        "Seismic design category",
        "site.seismic_category",
        None,
        |to| &mut to.house.site.seismic_category,
    ),
    Column::house(
        "access",
        "How far the crawl space was entered",
        "inspection.access",
        None,
        |to| &mut to.house.inspection.access,
    ),
    Column::house(
        "continuous_perimeter",
        "Whether the foundation runs unbroken around the perimeter",
        "continuous_perimeter",
        None,
        |to| &mut to.house.continuous_perimeter,
    ),
    Column::house(
        "earlier_retrofit",
        "Whether an earlier strengthening was done",
        "earlier_retrofit",
        None,
        |to| &mut to.house.earlier_retrofit,
    ),
    Column::house(
        "crawl_space_area",
        "Area of the crawl space, inside the perimeter",
        "crawl_space_area",
        None,
        |to| &mut to.house.crawl_space_area,
    ),
    Column::house(
        "vent_area",
        "Net free area of all underfloor vents together",
        "vent_area",
        None,
        |to| &mut to.house.vent_area,
    ),
    Column::house("posts", "Whether there are interior posts", "posts", None, |to| {
        to.has_posts
    }),
    Column::house(
        "posts_top",
        "How the interior posts meet their beams; the weakest of them",
        "posts[].top",
        Some(List::Posts),
        |to| &mut to.post.top,
    ),
    Column::house(
        "posts_base",
        "How the interior posts meet their piers; the weakest of them",
        "posts[].base",
        Some(List::Posts),
        |to| &mut to.post.base,
    ),
    Column::house(
        "posts_sound",
        "Whether the posts are sound and plumb, all of them",
        "posts[].sound_and_plumb",
        Some(List::Posts),
        |to| &mut to.post.sound_and_plumb,
    ),
    Column::line(
        "wall_length",
        "Length of the wall line",
        "wall_lines[].length",
        None,
        |to| &mut to.wall.length,
    ),
    Column::line(
        "joists",
        "Whether the floor joists run along the wall or across it",
        "wall_lines[].joists",
        None,
        |to| &mut to.wall.joists,
    ),
    Column::line(
        "rim",
        "What closes the ends of the joists over the wall",
        "wall_lines[].rim",
        None,
        |to| &mut to.wall.rim,
    ),
    Column::line(
        "foundation_kind",
        "What the foundation is made of",
        "wall_lines[].foundation[].kind",
        Some(List::Foundation),
        |to| &mut to.foundation.kind,
    ),
    Column::line(
        "foundation_condition",
        "The state it is in, at its worst",
        "wall_lines[].foundation[].condition",
        Some(List::Foundation),
        |to| &mut to.foundation.condition,
    ),
    Column::line(
        "stem_height",
        "Height of the stem wall above the ground inside",
        "wall_lines[].foundation[].stem_height",
        Some(List::Foundation),
        |to| &mut to.foundation.stem_height,
    ),
    Column::line(
        "stem_thickness",
        "Thickness of the stem wall at its top",
        "wall_lines[].foundation[].stem_thickness",
        Some(List::Foundation),
        |to| &mut to.foundation.stem_thickness,
    ),
    Column::line(
        "footing_width",
        "Width of the footing",
        "wall_lines[].foundation[].footing_width",
        Some(List::Foundation),
        |to| &mut to.foundation.footing_width,
    ),
    Column::line(
        "footing_thickness",
        "Thickness of the footing",
        "wall_lines[].foundation[].footing_thickness",
        Some(List::Foundation),
        |to| &mut to.foundation.footing_thickness,
    ),
    Column::line(
        "footing_depth",
        "Depth of the bottom of the footing below the ground outside",
        "wall_lines[].foundation[].footing_depth",
        Some(List::Foundation),
        |to| &mut to.foundation.footing_depth,
    ),
    Column::line(
        "reinforcing",
        "Reinforcing bars in the foundation",
        "wall_lines[].foundation[].reinforcing",
        Some(List::Foundation),
        |to| &mut to.foundation.reinforcing,
    ),
    Column::line(
        "sill_pieces",
        "Number of pieces of the sill, taken as equally long",
        "wall_lines[].sill",
        None,
        |to| &mut to.stated.sill_pieces,
    ),
    Column::line(
        "sill_soundness",
        "Whether the wood of the sill is sound; its worst place",
        "wall_lines[].sill[].soundness",
        Some(List::Sill),
        |to| &mut to.sill.soundness,
    ),
    Column::line(
        "sill_thickness",
        "Thickness of the sill as it measures",
        "wall_lines[].sill[].thickness",
        Some(List::Sill),
        |to| &mut to.sill.thickness,
    ),
    Column::line(
        "sill_treatment",
        "Whether the wood of the sill resists decay",
        "wall_lines[].sill[].treatment",
        Some(List::Sill),
        |to| &mut to.sill.treatment,
    ),
    Column::line(
        "sill_installed",
        "Whether the sill is original or came with later work",
        "wall_lines[].sill[].installed",
        Some(List::Sill),
        |to| &mut to.sill.installed,
    ),
    Column::line(
        "sill_against_studs",
        "How the inside edge of the sill lies against the studs",
        "wall_lines[].sill[].against_studs",
        Some(List::Sill),
        |to| &mut to.sill.against_studs,
    ),
    Column::line(
        "anchors",
        "Whether there are anchors; no says that someone looked and found none",
        "wall_lines[].anchors",
        None,
        |to| &mut to.stated.anchors,
    ),
    Column::line(
        "anchor_spacing",
        "Largest distance between anchors",
        "wall_lines[].anchors[].spacing",
        Some(List::Anchors),
        |to| &mut to.anchor.spacing,
    ),
    Column::line(
        "anchor_end_distance",
        "Largest distance from an end of a sill piece to its nearest anchor",
        "wall_lines[].anchors[].end_distance",
        Some(List::Anchors),
        |to| &mut to.anchor.end_distance,
    ),
    Column::line(
        "anchor_kind",
        "How the anchors hold the sill",
        "wall_lines[].anchors[].kind",
        Some(List::Anchors),
        |to| &mut to.anchor.kind,
    ),
    Column::line(
        "anchor_diameter",
        "Diameter of the rods or bolts; the thinnest",
        "wall_lines[].anchors[].diameter",
        Some(List::Anchors),
        |to| &mut to.anchor.diameter,
    ),
    Column::line(
        "anchor_washer",
        "Washer under the nuts; the smallest",
        "wall_lines[].anchors[].washer",
        Some(List::Anchors),
        |to| &mut to.anchor.washer,
    ),
    Column::line(
        "anchor_tightness",
        "Whether the nuts are tight; the loosest",
        "wall_lines[].anchors[].tightness",
        Some(List::Anchors),
        |to| &mut to.anchor.tightness,
    ),
    Column::line(
        "anchor_corrosion",
        "How far the anchors have rusted; the worst",
        "wall_lines[].anchors[].corrosion",
        Some(List::Anchors),
        |to| &mut to.anchor.corrosion,
    ),
    Column::line(
        "anchor_edge_distance",
        "Distance from the rods to the nearest face of the foundation; the least",
        "wall_lines[].anchors[].edge_distance",
        Some(List::Anchors),
        |to| &mut to.anchor.edge_distance,
    ),
    Column::line(
        "anchor_embedment",
        "Length of the rods inside the foundation; the least",
        "wall_lines[].anchors[].embedment",
        Some(List::Anchors),
        |to| &mut to.anchor.embedment,
    ),
    Column::line(
        "cripple_wall",
        "Whether there is a cripple wall; no says that the floor bears on the sill",
        "wall_lines[].cripple_wall",
        None,
        |to| &mut to.stated.cripple_wall,
    ),
    Column::line(
        "cripple_wall_height",
        "Greatest height from the top of the foundation to the floor framing, plates included",
        "wall_lines[].cripple_wall[].height",
        Some(List::CrippleWall),
        |to| &mut to.cripple.height,
    ),
    Column::line(
        "tallest_stud",
        "Height of the tallest cripple stud, without the plates",
        "wall_lines[].cripple_wall[].tallest_stud",
        Some(List::CrippleWall),
        |to| &mut to.cripple.tallest_stud,
    ),
    Column::line(
        "shortest_stud",
        "Height of the shortest cripple stud, without the plates",
        "wall_lines[].cripple_wall[].shortest_stud",
        Some(List::CrippleWall),
        |to| &mut to.cripple.shortest_stud,
    ),
    Column::line(
        "stud_spacing",
        "Spacing of the cripple studs, center to center",
        "wall_lines[].cripple_wall[].stud_spacing",
        Some(List::CrippleWall),
        |to| &mut to.cripple.stud_spacing,
    ),
    Column::line(
        "top_plate",
        "The plate on top of the cripple wall",
        "wall_lines[].cripple_wall[].top_plate",
        Some(List::CrippleWall),
        |to| &mut to.cripple.top_plate,
    ),
    Column::line(
        "plate_splices_tied",
        "Whether every break in the top plate is tied across",
        "wall_lines[].cripple_wall[].plate_splices_tied",
        Some(List::CrippleWall),
        |to| &mut to.cripple.plate_splices_tied,
    ),
    Column::line(
        "solid_blocked",
        "Whether the studs are replaced or filled by solid blocking",
        "wall_lines[].cripple_wall[].solid_blocked",
        Some(List::CrippleWall),
        |to| &mut to.cripple.solid_blocked,
    ),
    Column::line(
        "balloon_framed",
        "Whether the studs run past the floor",
        "wall_lines[].cripple_wall[].balloon_framed",
        Some(List::CrippleWall),
        |to| &mut to.cripple.balloon_framed,
    ),
    Column::line(
        "panels",
        "Whether there are braced panels; no says that someone looked and found none",
        "wall_lines[].panels",
        None,
        |to| &mut to.stated.panels,
    ),
    Column::line(
        "braced_length",
        "Length of all braced panels together",
        "wall_lines[].panels[].total_length",
        Some(List::Panels),
        |to| &mut to.panel.total_length,
    ),
    Column::line(
        "braced_at_each_end",
        "Whether a braced panel stands at each end of the cripple wall",
        "wall_lines[].panels[].at_each_end",
        Some(List::Panels),
        |to| &mut to.panel.at_each_end,
    ),
    Column::line(
        "shortest_panel",
        "Length of the shortest panel",
        "wall_lines[].panels[].shortest",
        Some(List::Panels),
        |to| &mut to.panel.shortest,
    ),
    Column::line(
        "largest_panel_gap",
        "Largest clear distance between two panels",
        "wall_lines[].panels[].largest_gap",
        Some(List::Panels),
        |to| &mut to.panel.largest_gap,
    ),
    Column::line(
        "sheathing",
        "What the panels are made of",
        "wall_lines[].panels[].sheathing",
        Some(List::Panels),
        |to| &mut to.panel.sheathing,
    ),
    Column::line(
        "sheathing_thickness",
        "Thickness of the sheathing; the thinnest",
        "wall_lines[].panels[].thickness",
        Some(List::Panels),
        |to| &mut to.panel.thickness,
    ),
    Column::line(
        "panel_nail",
        "The nails of the panels; the smallest",
        "wall_lines[].panels[].nail",
        Some(List::Panels),
        |to| &mut to.panel.nail,
    ),
    Column::line(
        "edge_nailing",
        "Nail spacing along panel edges; the widest",
        "wall_lines[].panels[].edge_nailing",
        Some(List::Panels),
        |to| &mut to.panel.edge_nailing,
    ),
    Column::line(
        "field_nailing",
        "Nail spacing along the studs between the edges; the widest",
        "wall_lines[].panels[].field_nailing",
        Some(List::Panels),
        |to| &mut to.panel.field_nailing,
    ),
    Column::line(
        "nails_flush",
        "Whether nail heads sit flush; no when they break the face",
        "wall_lines[].panels[].nails_flush",
        Some(List::Panels),
        |to| &mut to.panel.nails_flush,
    ),
    Column::line(
        "joints_blocked",
        "Whether horizontal joints between sheets lie over blocking; yes when there are none",
        "wall_lines[].panels[].joints_blocked",
        Some(List::Panels),
        |to| &mut to.panel.joints_blocked,
    ),
    Column::line(
        "panel_foot",
        "How the foot of the panels is fastened",
        "wall_lines[].panels[].foot",
        Some(List::Panels),
        |to| &mut to.panel.foot,
    ),
    Column::line(
        "nails_per_sill_block",
        "Nails that hold each block on the sill",
        "wall_lines[].panels[].nails_per_sill_block",
        Some(List::Panels),
        |to| &mut to.panel.nails_per_sill_block,
    ),
    Column::line(
        "panel_cut_through",
        "Whether a vent, door or pipe hole is cut through a panel",
        "wall_lines[].panels[].cut_through",
        Some(List::Panels),
        |to| &mut to.panel.cut_through,
    ),
    Column::line(
        "panel_vent_holes",
        "Diameter of the ventilation holes in closed stud bays; 0 in when there are none",
        "wall_lines[].panels[].vent_holes",
        Some(List::Panels),
        |to| &mut to.panel.vent_holes,
    ),
    Column::line(
        "panels_close_bays",
        "Whether the panels close the stud bays",
        "wall_lines[].panels[].closes_stud_bays",
        Some(List::Panels),
        |to| &mut to.panel.closes_stud_bays,
    ),
    Column::line(
        "floor_connection",
        "What ties the floor to the wall or sill below; the weakest",
        "wall_lines[].connections[].kind",
        Some(List::Connections),
        |to| &mut to.connection.kind,
    ),
    Column::line(
        "connection_spacing",
        "Spacing of toenails along a rim, or of framing clips; the widest",
        "wall_lines[].connections[].spacing",
        Some(List::Connections),
        |to| &mut to.connection.spacing,
    ),
    Column::line(
        "nails_per_block",
        "Toenails in each block between joists; the fewest",
        "wall_lines[].connections[].nails_per_block",
        Some(List::Connections),
        |to| &mut to.connection.nails_per_block,
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::LookAt;
    use crate::choice::Choice;
    use crate::portfolio::ContextField;
    use std::collections::BTreeSet;

    #[test]
    fn names_and_paths_are_used_once() {
        let names: BTreeSet<_> = COLUMNS.iter().map(|column| column.name).collect();
        let paths: BTreeSet<_> = COLUMNS.iter().map(|column| column.path).collect();
        assert_eq!((names.len(), paths.len()), (COLUMNS.len(), COLUMNS.len()));
        assert!(names.iter().all(|name| !name.starts_with(PASSED_PREFIX)));
        let context = ContextField::ALL.iter().map(|field| field.spelling());
        let others = [ID, WALL_LINE, KNOWN_BY]
            .into_iter()
            .chain(PASSED_ON)
            .chain(context);
        assert!(names.is_disjoint(&others.collect()));
    }

    /// Whatever a row's result asks to have looked at next can be written into the table.
    #[test]
    fn every_observation_that_a_check_reads_has_a_column() {
        // The foundation as a list has none: the columns of its one stretch stand for it. So do those of the
        // floor connection. Openings are told by their effect on panels and by the vent area. Some sizes are read
        // by no check, only by a layout.
        let told_otherwise = [
            LookAt::Foundation,
            LookAt::Connections,
            LookAt::Openings,
            LookAt::OpeningTop,
            LookAt::StemThickness,
            LookAt::StudThickness,
            LookAt::JoistSpacing,
        ];
        for look_at in LookAt::ALL
            .iter()
            .filter(|look_at| !told_otherwise.contains(look_at))
        {
            let path = look_at.spelling();
            assert!(
                COLUMNS.iter().any(|column| column.path == path),
                "no column for {path}"
            );
        }
    }

    #[test]
    fn every_column_says_what_it_holds() {
        let holds = |name: &str| COLUMNS.iter().find(|column| column.name == name).unwrap().holds();
        assert_eq!(holds("wall_length"), Holds::Length);
        assert_eq!(holds("posts"), Holds::YesOrNo);
        assert_eq!(holds("joists"), Holds::OneOf(vec!["parallel", "perpendicular"]));
        assert_eq!(holds("anchor_washer"), Holds::Washer);
    }
}
