//! New panels as pieces of sheets: where the joints fall, and how many nails hold each piece.

use std::collections::BTreeMap;

use super::cutting::{Cutting, PieceSize, cut};
use super::stock::{Sheet, Stock};
use crate::house::Sheathing;
use crate::measure::{Area, Length};
use crate::remedy::{NewPanel, PanelMake, Remedy};

/// A piece of a new panel, in one sheet's thickness.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PanelPiece {
    /// The wall line, by its place in the house.
    pub wall_line: usize,
    /// The panel, by its place in the layout of the wall line.
    pub panel: usize,
    /// Where the piece begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// How high above the foot of the panel it begins.
    pub bottom: Length,
    /// Its height.
    pub height: Length,
    /// Whether its sheet stands on end, its length up the wall.
    pub on_end: bool,
    /// Studs behind it between its two ends.
    pub inner_studs: u32,
}

impl PanelPiece {
    /// The length along the wall.
    pub const fn length(&self) -> Length {
        self.to.saturating_sub(self.from)
    }

    /// Its size in the sheet.
    pub const fn size(&self) -> PieceSize {
        if self.on_end {
            PieceSize {
                along: self.height,
                across: self.length(),
            }
        } else {
            PieceSize {
                along: self.length(),
                across: self.height,
            }
        }
    }

    /// The nails that hold it: one at each corner and along each edge at no more than the edge spacing, so
    /// that both edges of a joint are nailed; and along each stud between, from edge to edge, at no more than
    /// the field spacing.
    ///
    /// `None` where the provisions name no spacing.
    pub fn nails(&self, make: &PanelMake) -> Option<u64> {
        let edge = make.edge_nailing.filter(|spacing| *spacing > Length::ZERO)?;
        // A corner is counted once: along each edge the nail at its end belongs to the next edge.
        let around = 2 * (spaces(self.length(), edge) + spaces(self.height, edge));
        if self.inner_studs == 0 {
            return Some(around);
        }
        let field = make.field_nailing.filter(|spacing| *spacing > Length::ZERO)?;
        let of_stud = spaces(self.height, field).saturating_sub(1);
        Some(around + u64::from(self.inner_studs) * of_stud)
    }
}

/// The fewest spaces no larger than `spacing` that a length is divided into.
fn spaces(length: Length, spacing: Length) -> u64 {
    let (length, spacing) = (length.nanometers().max(0), spacing.nanometers().max(1));
    u64::try_from(length / spacing + i64::from(length % spacing != 0)).unwrap_or(0)
}

/// The sheets of one kind of sheathing for a whole house.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetList {
    /// What the sheets are made of.
    pub sheathing: Sheathing,
    /// Their least thickness, where one is asked for.
    pub thickness: Option<Length>,
    /// The pieces, in the order of the house.
    pub pieces: Vec<PanelPiece>,
    /// How they are cut; its pieces are named by their place in `pieces`.
    pub cutting: Cutting,
}

impl SheetList {
    /// How many sheets of each size to buy.
    pub fn to_buy(&self) -> BTreeMap<Sheet, usize> {
        let mut sheets = BTreeMap::new();
        for cut in &self.cutting.sheets {
            *sheets.entry(cut.sheet).or_default() += 1;
        }
        sheets
    }

    /// The waste in hundredths of a percent of the area bought, rounded.
    pub fn waste_share(&self) -> u32 {
        let bought = self.cutting.area().square_nanometers();
        let waste = self.cutting.waste().square_nanometers();
        if bought <= 0 {
            return 0;
        }
        u32::try_from((waste.saturating_mul(10_000) + bought / 2) / bought).unwrap_or(10_000)
    }

    /// The area of pieces that no sheet holds.
    pub fn not_cut(&self) -> Area {
        let pieces = self.cutting.too_large.iter();
        let pieces = pieces.filter_map(|piece| self.pieces.get(*piece));
        pieces.fold(Area::ZERO, |sum, piece| sum.saturating_add(piece.size().area()))
    }
}

/// The sheets for all new panels of a remedy, for each kind of sheathing.
///
/// Joints between pieces fall on studs. A panel no higher than a sheet is wide is made of pieces that lie
/// along the wall, as few as can be; where they fall is tried for each length of sheet on offer and the least
/// area of sheets is kept. A higher panel stands on end where its studs and the sheets allow it, because no
/// joint then needs blocking, and lies in rows with blocked joints where they do not.
pub(super) fn sheets(remedy: &Remedy, stock: &Stock) -> Vec<SheetList> {
    let offered: Vec<Sheet> = stock.sheets().collect();
    let mut kinds: Vec<(Sheathing, Option<Length>)> = Vec::new();
    for work in remedy.lines.iter().filter_map(|line| line.panels.work()) {
        let kind = (work.make.sheathing, work.make.thickness);
        if !work.added.is_empty() && !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    let of_kind = |(sheathing, thickness): (Sheathing, Option<Length>)| {
        let mut lengths: Vec<Length> = offered.iter().map(|sheet| sheet.length).collect();
        lengths.sort_unstable();
        lengths.dedup();
        let tried = lengths.into_iter().map(|longest| {
            let mut pieces = Vec::new();
            for line in &remedy.lines {
                let work = line.panels.work();
                let work =
                    work.filter(|work| (work.make.sheathing, work.make.thickness) == (sheathing, thickness));
                let panels = work.into_iter().flat_map(|work| work.added.iter().enumerate());
                for (place, panel) in panels {
                    pieces.extend(pieces_of(panel, line.wall_line, place, &offered, longest));
                }
            }
            let sizes: Vec<PieceSize> = pieces.iter().map(PanelPiece::size).collect();
            let cutting = cut(&sizes, &offered, stock.kerf().value);
            (pieces, cutting)
        });
        let best = tried.min_by_key(|(pieces, cutting)| {
            (
                cutting.too_large.len(),
                cutting.area(),
                cutting.sheets.len(),
                pieces.len(),
            )
        });
        let (pieces, cutting) = best.unwrap_or_default();
        SheetList {
            sheathing,
            thickness,
            pieces,
            cutting,
        }
    };
    kinds.into_iter().map(of_kind).collect()
}

/// The pieces of one panel, none longer than `longest` where its studs allow that.
fn pieces_of(
    panel: &NewPanel,
    wall_line: usize,
    place: usize,
    offered: &[Sheet],
    longest: Length,
) -> Vec<PanelPiece> {
    let width = offered.iter().map(|sheet| sheet.width).max().unwrap_or_default();
    let tallest = offered.iter().map(|sheet| sheet.length).max().unwrap_or_default();
    let piece = |(from, to): (Length, Length), bottom: Length, height: Length, on_end: bool| {
        let inner = panel.studs.iter().filter(|stud| from < **stud && **stud < to);
        PanelPiece {
            wall_line,
            panel: place,
            from,
            to,
            bottom,
            height,
            on_end,
            inner_studs: u32::try_from(inner.count()).unwrap_or(u32::MAX),
        }
    };
    let runs = |most: Length| runs_between_studs(&panel.studs, most);
    let upright = runs(width);
    let stands = upright.iter().all(|(from, to)| to.saturating_sub(*from) <= width);
    if panel.height > width && panel.height <= tallest && stands {
        let whole = |run| piece(run, Length::ZERO, panel.height, true);
        return upright.into_iter().map(whole).collect();
    }
    let mut pieces = Vec::new();
    for (bottom, height) in rows(panel.height, width) {
        pieces.extend(
            runs(longest)
                .into_iter()
                .map(|run| piece(run, bottom, height, false)),
        );
    }
    pieces
}

/// Rows one above the other, as high as a sheet is wide: where each begins, and its height.
fn rows(height: Length, width: Length) -> Vec<(Length, Length)> {
    /// No cripple wall has more; a record of one is cut no further.
    const MOST_ROWS: usize = 20;
    let mut rows = Vec::new();
    let mut bottom = Length::ZERO;
    while bottom < height && rows.len() < MOST_ROWS {
        let left = height.saturating_sub(bottom);
        let row = if width > Length::ZERO && rows.len() + 1 < MOST_ROWS {
            left.min(width)
        } else {
            left
        };
        rows.push((bottom, row));
        bottom = bottom.saturating_add(row);
    }
    rows
}

/// The fewest runs from stud to stud, none longer than `most`; a bay that is longer by itself stays whole.
fn runs_between_studs(studs: &[Length], most: Length) -> Vec<(Length, Length)> {
    let mut runs: Vec<(Length, Length)> = Vec::new();
    for pair in studs.windows(2) {
        let [from, to] = *pair else { continue };
        match runs.last_mut() {
            Some((start, end)) if to.saturating_sub(*start) <= most => *end = to,
            _ => runs.push((from, to)),
        }
    }
    runs
}

/// The length of blocking behind level joints of a panel: as long as the panel for each joint.
pub(super) fn level_joints(pieces: &[PanelPiece]) -> Length {
    let joints = pieces.iter().filter(|piece| piece.bottom > Length::ZERO);
    joints.fold(Length::ZERO, |sum, piece| sum.saturating_add(piece.length()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::house::PanelFoot;

    fn panel(feet: i64, height: i64, spacing: i64) -> NewPanel {
        let to = Length::feet(feet);
        let mut studs: Vec<Length> = (0..1000)
            .map(|stud| Length::inches(stud * spacing))
            .take_while(|stud| *stud < to)
            .collect();
        studs.push(to);
        NewPanel {
            from: Length::ZERO,
            to,
            stretch: 0,
            height: Length::inches(height),
            studs,
            foot: PanelFoot::Sill,
            sill_blocks: 0,
        }
    }

    fn offered() -> Vec<Sheet> {
        Stock::shipped().sheets().collect()
    }

    fn pieces(panel: &NewPanel, longest: i64) -> Vec<PanelPiece> {
        pieces_of(panel, 0, 0, &offered(), Length::feet(longest))
    }

    #[test]
    fn joints_fall_on_studs() {
        let long = panel(24, 24, 16);
        let lengths = |longest| -> Vec<i64> {
            let of = |piece: &PanelPiece| piece.length().nanometers() / Length::inches(1).nanometers();
            pieces(&long, longest).iter().map(of).collect()
        };
        assert_eq!(lengths(8), [96, 96, 96]);
        assert_eq!(lengths(9), [96, 96, 96]);
        assert_eq!(lengths(10), [112, 112, 64]);
    }

    #[test]
    fn a_high_panel_stands_on_end_or_is_blocked() {
        let on_end = pieces(&panel(8, 60, 16), 8);
        assert!(
            on_end
                .iter()
                .all(|piece| piece.on_end && piece.length() == Length::inches(48))
        );
        assert_eq!(level_joints(&on_end), Length::ZERO);
        // No stud stands within 4 ft.
        let rows = pieces(&panel(8, 60, 50), 8);
        assert_eq!(
            rows.iter().map(|piece| piece.height).collect::<Vec<_>>(),
            [48, 12].map(Length::inches)
        );
        assert_eq!(level_joints(&rows), Length::feet(8));
        // Higher than the longest sheet.
        assert!(pieces(&panel(8, 130, 16), 8).iter().all(|piece| !piece.on_end));
    }

    /// Marked one by one on a grid of quarter inches, corners once.
    fn nails_one_by_one(length: i64, height: i64, edge: i64, field: i64, inner: &[i64]) -> usize {
        let mut nails = std::collections::BTreeSet::new();
        let along = |side: i64, spacing: i64| -> Vec<i64> {
            let count = (side + spacing - 1) / spacing;
            (0..=count).map(|nail| side * nail * 1000 / count).collect()
        };
        for x in along(length, edge) {
            nails.extend([(x, 0), (x, height * 1000)]);
        }
        for y in along(height, edge) {
            nails.extend([(0, y), (length * 1000, y)]);
        }
        for x in inner {
            for y in along(height, field) {
                if y != 0 && y != height * 1000 {
                    nails.insert((x * 1000 + 1, y));
                }
            }
        }
        nails.len()
    }

    #[test]
    fn nails_are_those_of_marking_them_one_by_one() {
        let make = PanelMake {
            sheathing: Sheathing::Plywood,
            thickness: None,
            nail: None,
            edge_nailing: Some(Length::inches(4)),
            field_nailing: Some(Length::inches(12)),
            nails_per_sill_block: None,
            vent_holes: None,
        };
        for (feet, height) in [(8, 24), (4, 14), (2, 30), (8, 48), (1, 5)] {
            let all = pieces(&panel(feet, height, 16), 8);
            let [piece] = all.as_slice() else {
                panic!("{all:?}")
            };
            let inner: Vec<i64> = (1..1000)
                .map(|stud| stud * 16)
                .take_while(|stud| *stud < feet * 12)
                .collect();
            let marked = nails_one_by_one(feet * 12, height, 4, 12, &inner);
            assert_eq!(
                piece.nails(&make),
                Some(marked as u64),
                "{feet} ft by {height} in"
            );
        }
        let all = pieces(&panel(8, 24, 16), 8);
        assert_eq!(
            all[0].nails(&PanelMake {
                edge_nailing: None,
                ..make
            }),
            None
        );
        assert_eq!(
            all[0].nails(&PanelMake {
                field_nailing: None,
                ..make
            }),
            None
        );
    }
}
