//! What is there, as it is drawn: sizes from the record, and how a size that is not on record is drawn.

use retrofit_core::house::{CrippleStretch, FoundationStretch, House, Placement, SillPiece, WallLine};
use retrofit_core::measure::Length;
use retrofit_core::observation::Observed;
use retrofit_core::remedy::LineRemedy;

use super::drafting::Nm;
use super::elevation::kind_of;
use super::symbol::Kind;

/// What is said of sizes that nobody took.
pub(super) const DRAWN_DASHED: &str = "What is drawn with short dashes is hidden, or its size is not on \
                                       record: size to be verified. The height of openings is not on \
                                       record; they are drawn by station.";

// How members are drawn whose size is not on record. No figure of any code and nothing to build by: the
// sheets mark each as to be verified.
pub(super) const MEMBER: Length = Length::sixty_fourths(96);
pub(super) const JOIST_DEPTH: Length = Length::inches(8);
pub(super) const SUBFLOOR: Length = Length::sixty_fourths(48);
pub(super) const STEM: Length = Length::inches(12);
pub(super) const STEM_THICKNESS: Length = Length::inches(8);
pub(super) const FOOTING: Length = Length::inches(10);
pub(super) const WALL_HEIGHT: Length = Length::inches(24);
pub(super) const EMBEDMENT: Length = Length::inches(5);
const SPACING: Length = Length::inches(16);

/// A size in nanometers, and whether it is on record.
pub(super) fn or_usual(size: &Observed<Length>, drawn: Length) -> (Nm, bool) {
    match size.value() {
        Some(size) if *size > Length::ZERO => (size.nanometers(), true),
        _ => (drawn.nanometers(), false),
    }
}

/// The distance between joists.
pub(super) fn joist_spacing(house: &House) -> Nm {
    let least = Length::inches(1).nanometers();
    or_usual(&house.floor.joist_spacing, SPACING).0.max(least)
}

/// Whether studs stand on the sill, as far as is known.
pub(super) fn has_cripple_wall(wall: &WallLine) -> bool {
    wall.cripple_wall
        .value()
        .is_some_and(|stretches| !stretches.is_empty())
}

/// From the top of the foundation to the underside of the floor framing.
pub(super) fn height_at(wall: &WallLine, station: Length) -> (Nm, bool) {
    match cripple_wall_at(wall, station) {
        Some(stretch) => {
            let size = if stretch.height.is_known() {
                &stretch.height
            } else {
                &stretch.tallest_stud
            };
            or_usual(size, WALL_HEIGHT)
        }
        None => sill_at(wall, station).map_or((MEMBER.nanometers(), false), |piece| {
            or_usual(&piece.thickness, MEMBER)
        }),
    }
}

/// The stretch of cripple wall at a station.
pub(super) fn cripple_wall_at(wall: &WallLine, station: Length) -> Option<&CrippleStretch> {
    let length = wall.length.value().copied();
    let mut stretches = wall.cripple_wall.listed().iter();
    stretches.find(|stretch| covers(stretch.span(length), station))
}

/// The stretch of foundation at a station.
pub(super) fn foundation_at(wall: &WallLine, station: Length) -> Option<&FoundationStretch> {
    let length = wall.length.value().copied();
    let mut stretches = wall.foundation.listed().iter();
    stretches.find(|stretch| covers(stretch.span(length), station))
}

/// The sill piece at a station.
pub(super) fn sill_at(wall: &WallLine, station: Length) -> Option<&SillPiece> {
    let length = wall.length.value().copied();
    let mut pieces = wall.sill.listed().iter();
    pieces.find(|piece| covers(piece.span(length), station))
}

fn covers(span: retrofit_core::house::Span, station: Length) -> bool {
    span.from <= station && span.to.is_none_or(|to| station <= to)
}

/// Existing anchors by station, each with the symbol that tells how far it counts.
pub(super) fn anchors(wall: &WallLine, line: &LineRemedy) -> Vec<(Length, Kind)> {
    if let Some(work) = line.anchors.work() {
        let existing = work.existing.iter();
        return existing
            .flat_map(|anchor| anchor.stations.iter().map(|at| (*at, kind_of(anchor.credit))))
            .collect();
    }
    // Where no layout was drawn up, single anchors are shown as found; of runs, the ends that were found.
    let records = wall.anchors.listed().iter();
    records
        .flat_map(|record| match record.placement() {
            Placement::At(at) => vec![at],
            Placement::Run { first, last, .. } => first.into_iter().chain(last).collect(),
        })
        .map(|at| (at, Kind::ExistingAnchor))
        .collect()
}
