//! A cap: new concrete on top of an old wall that stays.

use super::{Dowels, Face, Flag, FootingTable, SillAnchors, SizingError, SizingInput, Sourced};
use crate::measure::Length;

/// Concrete on top of an old wall. It carries the sill and its anchors and mends nothing below itself.
#[derive(Clone, Debug)]
pub struct Cap {
    /// Its thickness on top of the old wall: the greater of those below.
    pub thickness: Length,
    /// The least that is usual.
    pub usual: Sourced<Length>,
    /// What anchors need that hold in the cap alone: their embedment and the cover under them; `None` where the set
    /// gives no embedment.
    pub for_anchors: Option<Length>,
    /// Bars along it.
    pub bars: Sourced<u32>,
    /// Dowels into the old wall; `None` where that holds none, and then no cap is to be built on it.
    pub dowels: Option<Dowels>,
}

impl Cap {
    pub(super) fn of(
        input: &SizingInput,
        table: &FootingTable,
        anchors: &SillAnchors,
        flags: &mut Vec<Flag>,
    ) -> Result<Self, SizingError> {
        let cover = table.cover(Face::Formed, table.bar_size.value);
        let for_anchors = anchors
            .embedment
            .as_ref()
            .map(|embedment| embedment.value.saturating_add(cover.value));
        Ok(Self {
            thickness: table.cap_thickness.value.max(for_anchors.unwrap_or_default()),
            usual: table.cap_thickness.clone(),
            for_anchors,
            bars: table.top_bars.clone(),
            dowels: Dowels::into_old(input, table, flags)?,
        })
    }
}
