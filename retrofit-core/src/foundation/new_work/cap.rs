//! A cap: new concrete on top of an old wall that stays.

use super::reinforcing::across;
use super::sill::NewSill;
use super::table::whole_inches;
use super::{
    BarPlace, Dowels, Face, Flag, FootingTable, OldSection, SectionBar, SillAnchors, SizingError,
    SizingInput, Sourced, half,
};
use crate::measure::{Area, Length};

/// Concrete on top of an old wall. It carries the sill and its anchors and mends nothing below itself.
///
/// Places are measured from its outside face inward (`x`) and from the top of the old wall up (`y`).
#[derive(Clone, Debug)]
pub struct Cap {
    /// Its thickness on top of the old wall: the greater of those below.
    pub thickness: Length,
    /// The least that is usual.
    pub usual: Sourced<Length>,
    /// What anchors need that hold in the cap alone: their embedment and the cover under them; `None` where the set
    /// gives no embedment.
    pub for_anchors: Option<Length>,
    /// Its width: that of the old wall, and no less than the sill's, in whole inches.
    pub width: Length,
    /// Width of the sill.
    pub sill_width: Length,
    /// Thickness of the sill.
    pub sill_thickness: Length,
    /// Bars along it.
    pub bars: Vec<SectionBar>,
    /// Concrete over bars where it is cast in forms.
    pub cover_formed: Sourced<Length>,
    /// Dowels into the old wall; `None` where that holds none, and then no cap is to be built on it.
    pub dowels: Option<Dowels>,
}

impl Cap {
    pub(super) fn of(
        input: &SizingInput,
        table: &FootingTable,
        old: &OldSection,
        sill: &NewSill,
        anchors: &SillAnchors,
        flags: &mut Vec<Flag>,
    ) -> Result<Self, SizingError> {
        let size = table.bar_size.value;
        let bar = table.bar(size).ok_or(SizingError::NoBar(size))?;
        let cover = table.cover(Face::Formed, size);
        let for_anchors = anchors
            .embedment
            .as_ref()
            .map(|embedment| embedment.value.saturating_add(cover.value));
        let thickness = table.cap_thickness.value.max(for_anchors.unwrap_or_default());
        let width = whole_inches(old.thickness.max(sill.width).as_inches_f64());
        flags.push(Flag::CapRaisesSill { by: thickness });
        let radius = half(bar.diameter.value);
        let y = thickness
            .saturating_sub(table.top_bar_clear.value)
            .saturating_sub(radius);
        let count = &table.top_bars;
        let bars = across(width, cover.value.saturating_add(radius), count.value)
            .map(|x| SectionBar {
                size,
                diameter: bar.diameter.value,
                x,
                y,
                place: BarPlace::TopOfStem,
                within: table.top_bar_within.clone(),
                source: count.source.clone(),
            })
            .collect();
        Ok(Self {
            thickness,
            usual: table.cap_thickness.clone(),
            for_anchors,
            width,
            sill_width: sill.width,
            sill_thickness: sill.thickness,
            bars,
            cover_formed: cover.clone(),
            dowels: Dowels::into_old(input, table, flags)?,
        })
    }

    /// The area of concrete that is cut.
    pub fn concrete(&self) -> Area {
        self.width.by(self.thickness)
    }
}
