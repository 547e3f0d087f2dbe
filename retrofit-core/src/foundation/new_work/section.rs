//! The cross-section of a new wall: exact geometry, from which it is drawn and its concrete and bars are counted.

use super::footing::{Footing, depth};
use super::reinforcing::{BarPlace, SectionBar, VerticalBars};
use super::sill::NewSill;
use super::table::whole_inches;
use super::{Face, Flag, FootingTable, NewWork, SizingError, SizingInput, Sourced, half, within};
use crate::measure::{Area, Length};

/// A stem wall comes out of the ground by no more than this.
const HIGHEST: Length = Length::feet(20);

/// A footing with its stem wall, cut across.
///
/// Places are measured from the outside face of the footing inward (`x`) and from its bottom up (`y`).
#[derive(Clone, Debug)]
pub struct CrossSection {
    /// Width of the footing.
    pub footing_width: Length,
    /// Thickness of the footing.
    pub footing_thickness: Length,
    /// From the outside face of the footing to that of the stem wall.
    pub stem_offset: Length,
    /// Thickness of the stem wall.
    pub stem_thickness: Length,
    /// The least thickness for its height.
    pub stem_thickness_least: Sourced<Length>,
    /// Height of the stem wall, from the top of the footing to the underside of the sill.
    pub stem_height: Length,
    /// Depth of the bottom of the footing below the ground outside.
    pub depth_below_grade: Length,
    /// Width of the sill.
    pub sill_width: Length,
    /// Thickness of the sill.
    pub sill_thickness: Length,
    /// Bars along the wall.
    pub bars: Vec<SectionBar>,
    /// Upright bars.
    pub vertical: VerticalBars,
    /// Concrete over bars where it is cast against the earth.
    pub cover_earth: Sourced<Length>,
    /// Concrete over bars where it is cast in forms.
    pub cover_formed: Sourced<Length>,
    /// The share of steel along the wall.
    pub steel: Steel,
}

/// Steel along a wall over its section.
#[derive(Clone, Debug)]
pub struct Steel {
    /// Area of the bars over that of the concrete.
    pub ratio: f64,
    /// The ratio that a rule asks for; dwellings with stud walls are excepted from it, so it is shown and not applied.
    pub rule: Sourced<f64>,
}

impl Steel {
    /// Whether the rule would be met.
    pub fn reaches_rule(&self) -> bool {
        self.ratio >= self.rule.value
    }
}

/// What of a section is settled before the footing has a width.
#[derive(Clone, Debug)]
pub(super) struct Place {
    is_beside: bool,
    /// How far the stem wall comes out of the ground.
    above: Length,
    /// How deep the bottom of the footing lies, unless it is thicker.
    pub(super) depth: Length,
    pub(super) thickness: Length,
    thickness_least: Sourced<Length>,
}

impl Place {
    pub(super) fn of(
        input: &SizingInput,
        table: &FootingTable,
        sill: &NewSill,
        flags: &mut Vec<Flag>,
    ) -> Result<Self, SizingError> {
        let depth = depth(input, table, flags)?;
        let above = if let Some(top) = input.top_of_sill {
            let top = within(
                "the top of the sill above the ground",
                top,
                sill.thickness,
                HIGHEST,
            )?;
            let above = top.saturating_sub(sill.thickness);
            let least = table.stem_above_grade.value;
            if above < least {
                flags.push(Flag::StemTooLow { found: above, least });
            }
            above
        } else {
            let taken = table.wood_above_grade.value;
            flags.push(Flag::HeightAssumed { taken });
            taken
        };
        // The thinnest footing leaves the tallest stem wall.
        let thinnest = table.thickness(1).map_or(Length::ZERO, |figure| figure.value);
        let tallest = above.saturating_add(depth).saturating_sub(thinnest);
        let least = table
            .stem_thickness(tallest)
            .ok_or_else(|| SizingError::StemTooTall {
                found: tallest,
                most: table.tallest_stem(),
            })?;
        Ok(Self {
            is_beside: input.work == NewWork::WallBeside,
            above,
            depth,
            thickness: least.value.max(whole_inches(sill.width.as_inches_f64())),
            thickness_least: least.clone(),
        })
    }

    /// From the outside face of a footing to that of the stem wall: a wall beside an old one stands against it.
    pub(super) fn offset(&self, width: Length) -> Length {
        if self.is_beside {
            Length::ZERO
        } else {
            half(width.saturating_sub(self.thickness))
        }
    }

    /// The width, or what the stem wall and its least projections ask for, in whole inches.
    pub(super) fn widened(&self, width: Length, table: &FootingTable) -> Length {
        let sides = if self.is_beside { 1 } else { 2 };
        let projections = table.projection_least.value.times(sides).unwrap_or_default();
        let least = self.thickness.saturating_add(projections);
        whole_inches(width.max(least).as_inches_f64())
    }

    pub(super) fn stem_height(&self, depth: Length, footing_thickness: Length) -> Length {
        self.above.saturating_add(depth).saturating_sub(footing_thickness)
    }
}

impl CrossSection {
    pub(super) fn of(
        footing: &Footing,
        place: &Place,
        sill: &NewSill,
        table: &FootingTable,
        flags: &mut Vec<Flag>,
    ) -> Result<Self, SizingError> {
        let bar = table
            .bar(table.bar_size.value)
            .ok_or(SizingError::NoBar(table.bar_size.value))?;
        let d = bar.diameter.value;
        let radius = half(d);
        let earth = table.cover(Face::Earth, bar.size);
        let formed = table.cover(Face::Formed, bar.size);
        let (width, thickness) = (footing.width, footing.thickness);
        let offset = place.offset(width);
        let height = place.stem_height(footing.depth, thickness);
        let top = thickness.saturating_add(height);

        // In the middle of the stem wall, but not so near the side of the footing that earth is close.
        let upright = offset
            .saturating_add(half(place.thickness))
            .max(earth.value.saturating_add(radius));
        let beside = upright.saturating_add(d);
        let mut bars = Vec::new();
        let mut put = |place, x, y, count: &Sourced<u32>| {
            bars.push(SectionBar {
                size: bar.size,
                diameter: d,
                x,
                y,
                place,
                within: match place {
                    BarPlace::TopOfStem => table.top_bar_within.clone(),
                    BarPlace::BottomOfFooting => table.bottom_bar_within.clone(),
                },
                source: count.source.clone(),
            });
        };
        // A diameter higher than they could, so that the hooks of the uprights pass under them.
        let bottom = earth.value.saturating_add(d).saturating_add(radius);
        let count = table
            .bottom_bars(width)
            .ok_or(SizingError::TooWide { most: width })?;
        let edge = earth.value.saturating_add(radius);
        let between = width.saturating_sub(edge.times(2).unwrap_or_default());
        for index in 0..count.value {
            let x = match count.value.checked_sub(1) {
                None | Some(0) => beside,
                Some(gaps) => {
                    let step = between.nanometers() / i64::from(gaps);
                    let x = edge.saturating_add(Length::from_nanometers(step.saturating_mul(index.into())));
                    if x.abs_diff(upright) < d { beside } else { x }
                }
            };
            put(BarPlace::BottomOfFooting, x, bottom, count);
        }
        let y = top
            .saturating_sub(table.top_bar_clear.value)
            .saturating_sub(radius);
        for index in 0..table.top_bars.value {
            // A second bar at the top goes on the other side of the uprights.
            let x = if index == 0 {
                beside
            } else {
                upright.saturating_sub(d)
            };
            put(BarPlace::TopOfStem, x, y, &table.top_bars);
        }

        let vertical = VerticalBars {
            size: bar.size,
            diameter: d,
            x: upright,
            from: earth.value,
            to: top.saturating_sub(formed.value),
            hook: d.times(table.hook_extension.value.into()).unwrap_or_default(),
            hook_diameters: table.hook_extension.clone(),
            spacing: table.vertical_spacing_usual.clone(),
            spacing_most: table.vertical_spacing_most.clone(),
            into_stem_least: table.vertical_into_stem.clone(),
        };
        let into_stem = vertical.to.saturating_sub(thickness);
        if into_stem < table.vertical_into_stem.value {
            flags.push(Flag::UprightsShort {
                found: into_stem,
                least: table.vertical_into_stem.value,
            });
        }
        let concrete = width.by(thickness).saturating_add(place.thickness.by(height));
        let steel = f64::from(u32::try_from(bars.len()).unwrap_or(u32::MAX)) * bar.area.value;
        Ok(Self {
            footing_width: width,
            footing_thickness: thickness,
            stem_offset: offset,
            stem_thickness: place.thickness,
            stem_thickness_least: place.thickness_least.clone(),
            stem_height: height,
            depth_below_grade: footing.depth,
            sill_width: sill.width,
            sill_thickness: sill.thickness,
            bars,
            vertical,
            cover_earth: earth.clone(),
            cover_formed: formed.clone(),
            steel: Steel {
                ratio: steel / concrete.as_square_inches_f64(),
                rule: table.steel_ratio.clone(),
            },
        })
    }

    /// The area of concrete that is cut.
    pub fn concrete(&self) -> Area {
        let footing = self.footing_width.by(self.footing_thickness);
        footing.saturating_add(self.stem_thickness.by(self.stem_height))
    }

    /// The middle of the stem wall, from the outside face of the footing.
    pub fn stem_center(&self) -> Length {
        self.stem_offset.saturating_add(half(self.stem_thickness))
    }

    /// Height of the underside of the sill above the bottom of the footing.
    pub fn top(&self) -> Length {
        self.footing_thickness.saturating_add(self.stem_height)
    }
}
