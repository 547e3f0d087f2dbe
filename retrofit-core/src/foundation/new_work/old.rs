//! The old foundation that stays under or beside new work, cut across.

use super::{Flag, NewWork, SizingInput, Source};
use crate::measure::Length;
use crate::screen::Standards;

/// An old foundation cut across, as far as it is on record.
#[derive(Clone, Debug, PartialEq)]
pub struct OldSection {
    /// Thickness of its stem wall: the greatest that it may be.
    pub thickness: Length,
    /// What the thickness was taken from; `None` where it is on record.
    pub thickness_taken_from: Option<Source>,
    /// Its top above the ground outside, where that is on record.
    pub top: Option<Length>,
    /// Its bottom below the ground outside, where that is on record.
    pub depth: Option<Length>,
    /// Width and thickness of its footing, where both are on record.
    pub footing: Option<(Length, Length)>,
}

impl OldSection {
    /// The old foundation, where the work leaves it; `None` where it is taken out.
    pub(super) fn of(input: &SizingInput, standards: &Standards, flags: &mut Vec<Flag>) -> Option<Self> {
        if input.work == NewWork::Replacement {
            return None;
        }
        let old = &input.old;
        let recorded = old.stem_thickness.bounds().1.copied();
        let otherwise = &standards.existing.stem_thickness;
        let thickness = recorded.unwrap_or_else(|| Length::nearest_inches(otherwise.high));
        if recorded.is_none() {
            flags.push(Flag::OldThicknessAssumed { taken: thickness });
        }
        let width = old.footing_width.value().copied();
        Some(Self {
            thickness,
            thickness_taken_from: recorded.is_none().then(|| Source::of(otherwise)),
            top: old.top.value().copied(),
            depth: old.footing_depth.value().copied(),
            footing: width.zip(old.footing_thickness.value().copied()),
        })
    }
}
