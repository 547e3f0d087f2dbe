//! Existing buildings: reduced forces, and between what ends lies what nobody saw.

use typenum::{N2, P1, Z0};

use super::standard::{Edition, Figure, StandardTable};
use crate::table::TableError;

type Size = Figure<Z0, P1>;
type Share = Figure<Z0, Z0>;

/// What may be assumed of an existing building where nothing was seen.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "each is named after its row in figures.csv")]
pub struct ExistingBuildings {
    pub edition: Edition,
    pub reduced_force: Share,
    pub redundancy: Share,
    pub hillside_slope: Share,
    pub concrete_strength: Figure<P1, N2>,
    pub story_height: Size,
    pub roof_slope_factor: Share,
    pub chimneys: Share,
    pub cripple_height: Size,
    pub sill_thickness: Size,
    pub anchor_diameter: Size,
    pub anchor_embedment: Size,
    pub anchor_edge_distance: Size,
    pub anchor_spacing: Size,
    pub anchor_end_distance: Size,
    pub floor_depth: Size,
    pub end_give: Size,
    pub framing_elasticity: Figure<P1, N2>,
    pub connection_spacing: Size,
    pub nails_per_block: Share,
    pub toenail: Share,
    pub splice_nails: Share,
    pub panel_thickness: Size,
    pub edge_nailing: Size,
    pub stem_thickness: Size,
    pub stem_height: Size,
    pub footing_width: Size,
    pub footing_thickness: Size,
    pub stud_thickness: Size,
    pub stud_depth: Size,
    pub end_studs: Share,
    pub bearing_share: Share,
    pub footing_depth: Size,
    /// Whether something is there at all: from nothing to all of it.
    pub counted: Share,
}

impl ExistingBuildings {
    /// Reads the figures from their table.
    pub fn parse(table: &StandardTable) -> Result<Self, Vec<TableError>> {
        Self::read(table).map_err(|fault| vec![fault])
    }

    fn read(table: &StandardTable) -> Result<Self, TableError> {
        let size = |figure: &str| table.figure(figure, "");
        let share = |figure: &str| table.figure(figure, "");
        let read = Self {
            edition: table.edition.clone(),
            reduced_force: share("reduced-force")?,
            redundancy: share("redundancy")?,
            hillside_slope: share("hillside-slope")?,
            concrete_strength: table.figure("concrete-strength", "")?,
            story_height: size("story-height")?,
            roof_slope_factor: share("roof-slope-factor")?,
            chimneys: share("chimneys")?,
            cripple_height: size("cripple-height")?,
            sill_thickness: size("sill-thickness")?,
            anchor_diameter: size("anchor-diameter")?,
            anchor_embedment: size("anchor-embedment")?,
            anchor_edge_distance: size("anchor-edge-distance")?,
            anchor_spacing: size("anchor-spacing")?,
            anchor_end_distance: size("anchor-end-distance")?,
            floor_depth: size("floor-depth")?,
            end_give: size("end-give")?,
            framing_elasticity: table.figure("framing-elasticity", "")?,
            connection_spacing: size("connection-spacing")?,
            nails_per_block: share("nails-per-block")?,
            toenail: share("toenail")?,
            splice_nails: share("splice-nails")?,
            panel_thickness: size("panel-thickness")?,
            edge_nailing: size("edge-nailing")?,
            stem_thickness: size("stem-thickness")?,
            stem_height: size("stem-height")?,
            footing_width: size("footing-width")?,
            footing_thickness: size("footing-thickness")?,
            stud_thickness: size("stud-thickness")?,
            stud_depth: size("stud-depth")?,
            end_studs: share("end-studs")?,
            bearing_share: share("bearing-share")?,
            footing_depth: size("footing-depth")?,
            counted: share("counted")?,
        };
        table.unread().map_or(Ok(read), Err)
    }
}
