//! Width, thickness and depth of a continuous footing: by the table, and by the load.

use super::section::{CrossSection, Place};
use super::table::whole_inches;
use super::{Ends, Flag, FootingTable, NewWork, SizingError, SizingInput, Source, Sourced, loads, within};
use crate::measure::Length;
use crate::screen::{EccentricLoad, FOOT, INCH, PCF, PLF, POUND, PSF, Standards};

/// The widest footing that is sized here; bars and thickness of wider ones are an engineer's.
const WIDEST: Length = Length::inches(48);
/// Ground freezes no deeper than this anywhere that houses stand on footings.
const DEEPEST_FROST: Length = Length::feet(12);

/// How a continuous footing came by its size.
#[derive(Clone, Debug)]
pub struct Footing {
    /// The width that is taken: the widest of those below, and whole inches.
    pub width: Length,
    /// What the table gives, for each number of stories that is possible.
    pub by_table: Vec<TableWidth>,
    /// What the load needs; `None` where it is not known.
    pub by_load: Option<LoadWidth>,
    /// The thickness that is taken.
    pub thickness: Length,
    /// How far it projects from the stem wall, on the side where it projects most.
    pub projection: Length,
    /// The least projection.
    pub projection_least: Sourced<Length>,
    /// The most, in thicknesses of the footing.
    pub projection_most: Sourced<f64>,
    /// Depth of its bottom below the ground outside.
    pub depth: Length,
    /// The least depth.
    pub depth_least: Sourced<Length>,
}

/// What the table gives for a number of stories.
#[derive(Clone, Debug)]
pub struct TableWidth {
    /// The stories.
    pub stories: u8,
    /// The least width.
    pub width: Sourced<Length>,
    /// The least thickness.
    pub thickness: Sourced<Length>,
}

/// What the load needs.
#[derive(Clone, Debug)]
pub struct LoadWidth {
    /// The load, in pounds a foot, without the weight of wall and footing.
    pub load: Ends,
    /// What wall and footing weigh, in pounds a foot, at the width that is taken.
    pub own_plf: f64,
    /// What the soil carries, in psf.
    pub bearing_psf: Sourced<f64>,
    /// The width, in whole inches, that the high end needs, the own weight included.
    pub width: Length,
}

/// The stories that a length can carry, as tables count them.
#[derive(Clone, Copy, Debug)]
pub(super) struct StoriesCarried {
    pub(super) least: u8,
    pub(super) most: u8,
}

/// The stories that are possible; where nothing bounds them, up to the last row of the table.
pub(super) fn stories(input: &SizingInput, table: &FootingTable, flags: &mut Vec<Flag>) -> StoriesCarried {
    let (least, most) = input.stories.bounds();
    let least = least.map_or(1, |stories| stories.counted()).max(1);
    let most = most
        .map_or(table.most_stories(), |stories| stories.counted())
        .max(least);
    if least < most {
        flags.push(Flag::StoriesAssumed { least, taken: most });
    }
    if most > table.most_stories() {
        flags.push(Flag::MoreStories {
            found: most,
            most: table.most_stories(),
        });
    }
    StoriesCarried { least, most }
}

impl Footing {
    pub(super) fn size(
        input: &SizingInput,
        table: &FootingTable,
        standards: &Standards,
        place: &Place,
        stories: StoriesCarried,
        flags: &mut Vec<Flag>,
    ) -> Result<Self, SizingError> {
        let bearing = bearing(input, standards, flags);
        let by_table: Vec<TableWidth> = (stories.least..=stories.most)
            .filter_map(|stories| {
                Some(TableWidth {
                    stories,
                    width: table.width(stories, bearing.value)?.clone(),
                    thickness: table.thickness(stories)?.clone(),
                })
            })
            .collect();
        if by_table.is_empty() && stories.least <= table.most_stories() {
            flags.push(Flag::SoilTooWeak { psf: bearing.value });
        }
        let widest = |of: fn(&TableWidth) -> Length| by_table.iter().map(of).max();
        // Where the table has no row, its last row is the least that is built; the load has the say.
        let thickness = widest(|row| row.thickness.value)
            .or_else(|| table.thickness(table.most_stories()).map(|figure| figure.value))
            .unwrap_or(Length::ZERO);
        let tabled = widest(|row| row.width.value);
        let Some(load) = input.line_load else {
            flags.push(Flag::LoadNotKnown);
            let Some(width) = tabled else {
                return Err(SizingError::NothingToSizeBy {
                    stories: stories.least,
                    most: table.most_stories(),
                });
            };
            let footing = Self::of_width(place.widened(width, table), thickness, table, place, by_table);
            footing.tell(thickness, flags);
            return Ok(footing);
        };

        let load = loads(load, "plf")?;
        let concrete = standards.loads.concrete.high / PCF.unit().factor();
        let own = |footing: &Self| {
            let stem = place
                .stem_height(footing.depth, footing.thickness)
                .by(place.thickness);
            let area = footing.width.by(footing.thickness).as_square_feet_f64() + stem.as_square_feet_f64();
            area * concrete
        };
        let narrowest = place.widened(tabled.unwrap_or(Length::ZERO), table);
        let mut width = place.widened(Length::ZERO, table);
        loop {
            let trial = Self::of_width(width, thickness, table, place, Vec::new());
            let total = PLF.of(load.high + own(&trial));
            let needed = standards.soil.strip_width(total, PSF.of(bearing.value))?;
            if whole_inches(needed.to(INCH)) <= width {
                break;
            }
            width = width.saturating_add(Length::inches(1));
            if width > WIDEST {
                return Err(SizingError::TooWide { most: WIDEST });
            }
        }
        if width > narrowest {
            flags.push(Flag::LoadGoverns);
        }
        let mut footing = Self::of_width(width.max(narrowest), thickness, table, place, by_table);
        footing.by_load = Some(LoadWidth {
            load,
            own_plf: own(&footing),
            bearing_psf: bearing,
            width,
        });
        footing.tell(thickness, flags);
        Ok(footing)
    }

    /// A footing of a width: as thick as it projects, and as deep as it has to be.
    fn of_width(
        width: Length,
        least_thickness: Length,
        table: &FootingTable,
        place: &Place,
        by_table: Vec<TableWidth>,
    ) -> Self {
        let projection = width
            .saturating_sub(place.thickness)
            .saturating_sub(place.offset(width));
        let for_projection = whole_inches(projection.as_inches_f64() / table.projection_most.value);
        let thickness = least_thickness.max(for_projection);
        Self {
            width,
            by_table,
            by_load: None,
            thickness,
            projection,
            projection_least: table.projection_least.clone(),
            projection_most: table.projection_most.clone(),
            depth: place.depth.max(thickness),
            depth_least: table.depth_least.clone(),
        }
    }

    fn tell(&self, least_thickness: Length, flags: &mut Vec<Flag>) {
        if self.thickness > least_thickness {
            flags.push(Flag::ThickerForProjection {
                projection: self.projection,
            });
        }
    }

    /// Says how a wall that stands off the center of its footing would press at the edge.
    pub(super) fn check_off_center(
        &self,
        input: &SizingInput,
        standards: &Standards,
        section: &CrossSection,
        flags: &mut Vec<Flag>,
    ) -> Result<(), SizingError> {
        if input.work != NewWork::WallBeside {
            return Ok(());
        }
        let by = super::half(self.width).abs_diff(section.stem_center());
        let edge_psf = match &self.by_load {
            Some(by_load) => {
                let pressure = standards.soil.edge_pressure(&EccentricLoad {
                    load: POUND.of(by_load.load.high + by_load.own_plf),
                    eccentricity: INCH.of(by.as_inches_f64()),
                    width: INCH.of(self.width.as_inches_f64()),
                    length: FOOT.of(1.0),
                })?;
                Some(pressure.to(PSF))
            }
            None => None,
        };
        flags.push(Flag::OffCenter { by, edge_psf });
        Ok(())
    }
}

/// What the soil carries, in psf: of a range, the low end.
pub(super) fn bearing(input: &SizingInput, standards: &Standards, flags: &mut Vec<Flag>) -> Sourced<f64> {
    let figure = standards.soil.bearing_figure(input.soil);
    let bearing = Sourced {
        value: figure.to(PSF),
        source: Source::of(figure),
    };
    if input.soil.is_none() {
        flags.push(Flag::SoilAssumed {
            psf: bearing.value,
            source: bearing.source.clone(),
        });
    }
    bearing
}

/// How deep the bottom of a footing has to lie, whatever its thickness.
pub(super) fn depth(
    input: &SizingInput,
    table: &FootingTable,
    flags: &mut Vec<Flag>,
) -> Result<Length, SizingError> {
    let least = table.depth_least.value;
    if let Some(frost) = input.frost_depth {
        return Ok(within("the frost depth", frost, Length::ZERO, DEEPEST_FROST)?.max(least));
    }
    flags.push(Flag::FrostDepthNotKnown { taken: least });
    Ok(least)
}
