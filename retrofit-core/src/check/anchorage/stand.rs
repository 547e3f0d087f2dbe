//! Where the anchors of one record stand along a wall line.

use super::Case;
use crate::house::{Anchor, Placement, Span};
use crate::measure::Length;

/// The anchors of a record, as close or as far apart as they can be in one case. Both ends of a run whose
/// stations are known hold an anchor; a run with an open end goes on to the end of the wall line.
#[derive(Clone, Copy)]
pub(super) struct Stand {
    pub(super) first: Option<Length>,
    pub(super) last: Option<Length>,
    /// The distance from one anchor to the next; `None` where it may be any.
    pub(super) apart: Option<Length>,
    /// Whether that distance is known, so that every anchor stands a whole number of them from the first.
    is_regular: bool,
}

impl Stand {
    pub(super) fn of(anchor: &Anchor, case: Case) -> Self {
        match anchor.placement() {
            Placement::At(at) => Self {
                first: Some(at),
                last: Some(at),
                apart: Some(Length::ZERO),
                is_regular: true,
            },
            Placement::Run { first, last, spacing } => {
                let (least, most) = spacing.bounds();
                Self {
                    first,
                    last,
                    apart: match case {
                        Case::Worst => most.copied(),
                        Case::Best => Some(least.copied().unwrap_or(Length::ZERO)),
                    },
                    is_regular: spacing.is_known(),
                }
            }
        }
    }

    /// Anchors that may stand anywhere in a stretch.
    pub(super) fn anywhere(span: Span) -> Self {
        Self {
            first: Some(span.from),
            last: span.to,
            apart: Some(Length::ZERO),
            is_regular: false,
        }
    }

    /// Whether the record may have an anchor in a stretch, its ends included.
    pub(super) fn reaches_into(self, span: Span) -> bool {
        self.first
            .is_none_or(|first| span.to.is_none_or(|to| first <= to))
            && self.last.is_none_or(|last| last >= span.from)
    }

    /// Whether it runs on without a break over the whole of a stretch.
    pub(super) fn covers(self, from: Length, to: Length) -> bool {
        self.first.is_none_or(|first| first <= from) && self.last.is_none_or(|last| last >= to)
    }

    /// The first anchor at or beyond a station, in a piece that begins at `piece_from`.
    pub(super) fn next_from(self, station: Length, piece_from: Length, case: Case) -> Option<Length> {
        if self.last.is_some_and(|last| last < station) {
            return None;
        }
        // Where the run begins was not found: its first anchor may stand a whole spacing into the piece.
        let first = match (self.first, case) {
            (Some(first), _) => Some(first),
            (None, Case::Best) => Some(piece_from),
            (None, Case::Worst) => self.apart.map(|apart| piece_from.saturating_add(apart)),
        };
        let next = match (first, self.apart.filter(|apart| *apart > Length::ZERO)) {
            (Some(first), _) if station <= first => Some(first),
            (Some(first), Some(apart)) if self.is_regular => {
                let beyond = station.saturating_sub(first).nanometers();
                let spaces = beyond / apart.nanometers() + i64::from(beyond % apart.nanometers() != 0);
                apart.times(spaces).map(|length| first.saturating_add(length))
            }
            _ if case == Case::Best => Some(station),
            (_, apart) => apart.map(|apart| station.saturating_add(apart)),
        };
        // The last anchor stands where it stands, however the others fall.
        match (next, self.last) {
            (Some(next), Some(last)) => Some(next.min(last)),
            (next, last) => next.or(last),
        }
    }
}
