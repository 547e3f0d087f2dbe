//! Bars of a new wall, and dowels into an old one.

use super::{BarSize, Flag, FootingTable, NewWork, SizingError, SizingInput, Source, Sourced, half};
use crate::measure::Length;
use crate::observation::Truth;

/// A bar that runs along the wall.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionBar {
    /// Its size.
    pub size: BarSize,
    /// Its diameter.
    pub diameter: Length,
    /// Its middle, from the outside face of the footing inward.
    pub x: Length,
    /// Its middle, from the bottom of the footing up.
    pub y: Length,
    /// Where it lies.
    pub place: BarPlace,
    /// How far it may lie, at most, from the face that it lies near.
    pub within: Sourced<Length>,
    /// What asks for it.
    pub source: Source,
}

/// Where a bar along the wall lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BarPlace {
    /// Near the top of the stem wall.
    TopOfStem,
    /// Near the bottom of the footing.
    BottomOfFooting,
}

/// Where bars lie that are spread evenly over a width, the outer ones `edge` from its sides; one lies in the middle.
pub(super) fn across(width: Length, edge: Length, count: u32) -> impl Iterator<Item = Length> {
    let between = width
        .saturating_sub(edge.times(2).unwrap_or_default())
        .nanometers();
    (0..count).map(move |index| match count - 1 {
        0 => half(width),
        gaps => {
            let step = (between / i64::from(gaps)).saturating_mul(index.into());
            edge.saturating_add(Length::from_nanometers(step))
        }
    })
}

/// Bars that stand upright in the stem wall, each with a hook that lies in the footing. A standard hook is too long
/// to lie across a narrow footing with its cover, and is turned along the wall.
#[derive(Clone, Debug, PartialEq)]
pub struct VerticalBars {
    /// Their size.
    pub size: BarSize,
    /// Their diameter.
    pub diameter: Length,
    /// Their middle, from the outside face of the footing inward.
    pub x: Length,
    /// The underside of their hook, from the bottom of the footing up.
    pub from: Length,
    /// Their top, from the bottom of the footing up.
    pub to: Length,
    /// Length of the hook beyond its bend.
    pub hook: Length,
    /// The same, in diameters of the bar.
    pub hook_diameters: Sourced<u32>,
    /// From one to the next, as is usual.
    pub spacing: Sourced<Length>,
    /// The most that the code lets them stand apart.
    pub spacing_most: Sourced<Length>,
    /// How far they have to reach into the stem wall where there is a joint over the footing.
    pub into_stem_least: Sourced<Length>,
}

impl VerticalBars {
    /// How many stand in a length of wall: one at each end and no two farther apart than the spacing. `None` for a
    /// length or a spacing that is not above zero.
    ///
    /// ```
    /// # use retrofit_core::foundation::new_work::{FootingTable, NewFoundation, NewWork, SizingInput, Work};
    /// # use retrofit_core::{measure::Length, provisions::Library, screen::Standards};
    /// # let set = Library::shipped().set("crc-2013-new-construction").unwrap();
    /// # let (table, standards) = (FootingTable::shipped().unwrap(), Standards::shipped().unwrap());
    /// # let sized = NewFoundation::size(&SizingInput::new(NewWork::Replacement), table, standards, &set)?;
    /// # let Work::Wall(wall) = &sized.work else { panic!() };
    /// assert_eq!(wall.section.vertical.count(Length::feet(4)), Some(3));
    /// assert_eq!(wall.section.vertical.count(Length::inches(49)), Some(4));
    /// # Ok::<(), retrofit_core::foundation::new_work::SizingError>(())
    /// ```
    pub fn count(&self, length: Length) -> Option<u32> {
        let (length, spacing) = (length.nanometers(), self.spacing.value.nanometers());
        if length <= 0 || spacing <= 0 {
            return None;
        }
        let gaps = length.checked_add(spacing.checked_sub(1)?)? / spacing;
        u32::try_from(gaps.checked_add(1)?).ok()
    }

    /// The length of one bar, its hook included; the bend is not taken off.
    pub fn length(&self) -> Length {
        self.to.saturating_sub(self.from).saturating_add(self.hook)
    }
}

/// Dowels in epoxy into an old foundation.
#[derive(Clone, Debug, PartialEq)]
pub struct Dowels {
    /// Their size.
    pub size: BarSize,
    /// How many at each joint of old and new footing: one near the top and one near the bottom.
    pub at_each_joint: Sourced<u32>,
    /// From one to the next along an old wall that the new work lies on or against; `None` for a replaced length,
    /// which meets the old at its ends.
    pub along: Option<Sourced<Length>>,
    /// How deep they are set.
    pub embedment: Sourced<Length>,
    /// How far they lap with the new bars.
    pub lap: Sourced<Length>,
}

impl Dowels {
    /// The length of one dowel.
    pub fn length(&self) -> Length {
        self.embedment.value.saturating_add(self.lap.value)
    }

    /// Dowels into the old foundation where it holds them; where nobody knows, they are drawn and flagged.
    pub(super) fn into_old(
        input: &SizingInput,
        table: &FootingTable,
        flags: &mut Vec<Flag>,
    ) -> Result<Option<Self>, SizingError> {
        let size = table.bar_size.value;
        match input.old.holds_dowels() {
            Truth::True => {}
            Truth::Maybe => flags.push(Flag::DowelsToConfirm),
            Truth::False => {
                flags.push(Flag::OldHoldsNoDowels);
                if input.work == NewWork::WallBeside {
                    flags.push(Flag::StandsForItself);
                }
                return Ok(None);
            }
        }
        let bar = table.bar(size).ok_or(SizingError::NoBar(size))?;
        Ok(Some(Self {
            size,
            at_each_joint: table.dowels.clone(),
            along: (input.work != NewWork::Replacement).then(|| table.dowel_spacing.clone()),
            embedment: table.dowel_embedment.clone(),
            lap: bar.lap.clone(),
        }))
    }
}
