//! Pieces of panels cut from whole sheets, with the saw's own cut counted.
//!
//! Cuts go from edge to edge of what is being cut, as a crew cuts, and no piece is turned. Whatever can be
//! cut that way is two groups of pieces side by side or one above the other, and so on down to single pieces;
//! so the boxes into which a set of pieces fits follow from those of its parts. From them come the
//! *patterns*, every set of pieces that one sheet holds, and from the patterns the cheapest sheets, by trying
//! every choice once. Where there are too many choices for that, the pieces are cut a few at a time and the
//! worst filled sheets again and again; [`Cutting::least_area`] then says how far from the best the answer
//! can be.

use std::collections::BTreeMap;

use super::stock::Sheet;
use crate::measure::{Area, Length};

/// Pieces of more sizes than this are cut a few at a time from the start.
const MOST_KINDS: usize = 40;

/// Times that sheets are cut anew to save some.
const MOST_ROUNDS: usize = 400;

/// Patterns beyond this many are not looked at.
const MOST_PATTERNS: usize = 1_500;

/// Ways of dividing sets of pieces in two that are tried while patterns are found.
const MOST_SPLITS: usize = 150_000;

/// Choices tried when patterns are put together.
const MOST_CHOICES: usize = 600_000;

/// A piece to be cut: its side along the sheet and its side across.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PieceSize {
    /// Along the longer side of the sheet.
    pub along: Length,
    /// Along the shorter side of the sheet.
    pub across: Length,
}

impl PieceSize {
    /// Its area.
    pub const fn area(self) -> Area {
        self.along.by(self.across)
    }
}

/// A piece or an offcut where it lies in its sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed<T> {
    /// What it is: the place of a piece in the list that was given, or nothing for an offcut.
    pub what: T,
    /// How far its corner lies along the sheet.
    pub along: Length,
    /// How far its corner lies across the sheet.
    pub across: Length,
    /// Its size.
    pub size: PieceSize,
}

/// A sheet and what is cut from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutSheet {
    /// The sheet.
    pub sheet: Sheet,
    /// Its pieces.
    pub pieces: Vec<Placed<usize>>,
    /// What is left over.
    pub offcuts: Vec<Placed<()>>,
    /// What the saw takes.
    pub kerf: Area,
}

impl CutSheet {
    /// The area of its pieces.
    pub fn used(&self) -> Area {
        sum(self.pieces.iter().map(|piece| piece.size.area()))
    }

    /// The area of what is left over.
    pub fn left_over(&self) -> Area {
        sum(self.offcuts.iter().map(|offcut| offcut.size.area()))
    }
}

/// The sheets that a list of pieces is cut from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cutting {
    /// The sheets.
    pub sheets: Vec<CutSheet>,
    /// Pieces that no sheet holds, by their place in the list.
    pub too_large: Vec<usize>,
    /// No way of cutting these pieces takes less than this area of sheets.
    pub least_area: Area,
}

impl Cutting {
    /// The area of all sheets.
    pub fn area(&self) -> Area {
        sum(self.sheets.iter().map(|cut| area(cut.sheet)))
    }

    /// The area of all pieces.
    pub fn used(&self) -> Area {
        sum(self.sheets.iter().map(CutSheet::used))
    }

    /// What is paid for and not used: offcuts and what the saw takes.
    pub fn waste(&self) -> Area {
        self.area().saturating_sub(self.used())
    }

    /// Whether no other way of cutting these pieces takes a smaller area of sheets.
    pub fn is_least(&self) -> bool {
        self.area() <= self.least_area
    }
}

fn sum(areas: impl Iterator<Item = Area>) -> Area {
    areas.fold(Area::ZERO, Area::saturating_add)
}

const fn area(sheet: Sheet) -> Area {
    sheet.length.by(sheet.width)
}

/// Cuts pieces from sheets of the sizes on offer, as little area of sheets as can be found.
///
/// ```
/// use retrofit_core::measure::Length;
/// use retrofit_core::takeoff::{PieceSize, Sheet, cut};
/// let (ft, kerf) = (Length::feet, Length::sixty_fourths(8));
/// let sheet = Sheet { length: ft(8), width: ft(4) };
/// let piece = PieceSize { along: ft(8), across: ft(2) };
/// // The saw takes an eighth of an inch, so that two pieces of 2 ft do not come out of 4 ft.
/// assert_eq!(cut(&[piece, piece], &[sheet], kerf).sheets.len(), 2);
/// assert_eq!(cut(&[piece, piece], &[sheet], Length::ZERO).sheets.len(), 1);
/// ```
pub fn cut(pieces: &[PieceSize], sheets: &[Sheet], kerf: Length) -> Cutting {
    let kerf = kerf.max(Length::ZERO);
    let mut kinds = pieces.to_vec();
    kinds.sort_unstable();
    kinds.dedup();
    let in_one = (kinds.len() <= MOST_KINDS).then(|| together(pieces, sheets, kerf));
    let is_least = in_one.as_ref().is_some_and(|(_, is_least)| *is_least);
    let mut cutting = in_one.map(|(cutting, _)| cutting);
    if !is_least {
        let few = few_at_a_time(pieces, sheets, kerf);
        if cutting.as_ref().is_none_or(|held| few.area() < held.area()) {
            cutting = Some(few);
        }
    }
    let mut cutting = cutting.unwrap_or_default();
    if !is_least {
        let held: Vec<PieceSize> = (0..)
            .zip(pieces)
            .filter(|(place, _)| !cutting.too_large.contains(place))
            .map(|(_, size)| *size)
            .collect();
        cutting.least_area = bound(&held, sheets, kerf);
    }
    cutting.least_area = if is_least {
        cutting.area()
    } else {
        cutting.least_area.min(cutting.area())
    };
    cutting
}

/// Cuts all pieces by one set of patterns; whether no other way takes less.
fn together(pieces: &[PieceSize], sheets: &[Sheet], kerf: Length) -> (Cutting, bool) {
    let holds = |sheet: &Sheet, size: PieceSize| size.along <= sheet.length && size.across <= sheet.width;
    let mut kinds: BTreeMap<PieceSize, Vec<usize>> = BTreeMap::new();
    let mut too_large = Vec::new();
    for (place, size) in pieces.iter().enumerate() {
        let has_sides = size.along > Length::ZERO && size.across > Length::ZERO;
        if has_sides && sheets.iter().any(|sheet| holds(sheet, *size)) {
            kinds.entry(*size).or_default().push(place);
        } else {
            too_large.push(place);
        }
    }
    let wanted: Vec<usize> = kinds.values().map(Vec::len).collect();
    let sizes: Vec<PieceSize> = kinds.keys().copied().collect();
    let patterns = Patterns::of(&sizes, &wanted, sheets, kerf);
    let (chosen, is_least) = patterns.cheapest(&wanted);
    let mut places: Vec<Vec<usize>> = kinds.into_values().collect();
    let sheets = chosen
        .iter()
        .filter_map(|pattern| patterns.lay_out(*pattern, &mut places))
        .collect();
    let cutting = Cutting {
        sheets,
        too_large,
        least_area: Area::ZERO,
    };
    (cutting, is_least)
}

/// Pieces are cut in strips, or those of like size a few at a time, each few in the best way; then the pieces
/// of the worst filled sheets are cut anew together as long as that saves anything.
fn few_at_a_time(pieces: &[PieceSize], sheets: &[Sheet], kerf: Length) -> Cutting {
    const FEW: usize = 8;
    let again = |places: &[usize]| -> Cutting {
        let few: Vec<PieceSize> = places
            .iter()
            .filter_map(|place| pieces.get(*place))
            .copied()
            .collect();
        let mut cutting = together(&few, sheets, kerf).0;
        let name = |few: &mut usize| *few = places.get(*few).copied().unwrap_or(*few);
        cutting.too_large.iter_mut().for_each(name);
        for piece in cutting.sheets.iter_mut().flat_map(|sheet| &mut sheet.pieces) {
            name(&mut piece.what);
        }
        cutting
    };
    let mut order: Vec<(PieceSize, usize)> = pieces.iter().copied().zip(0..).collect();
    order.sort_by_key(|(size, place)| (size.across, size.along, *place));
    let order: Vec<usize> = order.into_iter().map(|(_, place)| place).collect();
    let mut all = Cutting::default();
    for places in order.chunks(FEW) {
        let cutting = again(places);
        all.sheets.extend(cutting.sheets);
        all.too_large.extend(cutting.too_large);
    }
    all.too_large.sort_unstable();
    for sheet in sheets {
        let strips = in_strips(pieces, *sheet, sheets, kerf);
        if let Some(strips) = strips.filter(|strips| strips.area() < all.area()) {
            all.sheets = strips.sheets;
        }
    }
    let mut skip = 0;
    // Every round either saves a sheet's worth or goes on to better filled sheets.
    for _ in 0..MOST_ROUNDS {
        if skip >= all.sheets.len() {
            break;
        }
        all.sheets.sort_by_key(|cut| {
            let unused = area(cut.sheet).saturating_sub(cut.used());
            std::cmp::Reverse(unused)
        });
        let mut places: Vec<usize> = Vec::new();
        let mut taken = 0;
        for sheet in all.sheets.iter().skip(skip) {
            if taken > 0 && places.len() + sheet.pieces.len() > FEW {
                break;
            }
            places.extend(sheet.pieces.iter().map(|piece| piece.what));
            taken += 1;
        }
        let anew = again(&places);
        let old = all.sheets.iter().skip(skip).take(taken);
        let old = sum(old.map(|cut| area(cut.sheet)));
        if anew.area() < old {
            all.sheets.splice(skip..skip + taken, anew.sheets);
            skip = 0;
        } else {
            skip += 1;
        }
    }
    all
}

/// Rips sheets of one size into strips, tallest first, each filled with the first pieces that go in; a sheet
/// that turns out to hold little is bought in a smaller size. `None` where that size does not hold every
/// piece that some size holds.
fn in_strips(pieces: &[PieceSize], sheet: Sheet, sheets: &[Sheet], kerf: Length) -> Option<Cutting> {
    struct Strip {
        bin: usize,
        across: Length,
        left: Length,
    }
    let fits = |size: PieceSize, sheet: &Sheet| size.along <= sheet.length && size.across <= sheet.width;
    let mut found = Patterns {
        sizes: pieces.to_vec(),
        kerf,
        bins: Vec::new(),
        all: Vec::new(),
        is_complete: false,
    };
    let mut order: Vec<(PieceSize, usize)> = pieces
        .iter()
        .copied()
        .zip(0..)
        .filter(|(size, _)| size.along > Length::ZERO && size.across > Length::ZERO)
        .filter(|(size, _)| sheets.iter().any(|sheet| fits(*size, sheet)))
        .collect();
    if order.iter().any(|(size, _)| !fits(*size, &sheet)) {
        return None;
    }
    order.sort_by_key(|(size, _)| std::cmp::Reverse((size.across, size.along)));
    // Of each sheet, the width that is left and its strips.
    let mut ripped: Vec<(Length, Vec<Strip>)> = Vec::new();
    let less = |left: Length, piece: Length| left.saturating_sub(piece).saturating_sub(kerf);
    for (size, place) in order {
        let bin = found.keep(Bin {
            along: size.along,
            across: size.across,
            how: How::Piece(place),
        });
        let mut strips = ripped.iter_mut().flat_map(|(_, strips)| strips);
        let room = strips.find(|strip| strip.across >= size.across && strip.left >= size.along);
        if let Some(strip) = room {
            strip.bin = found.join(strip.bin, bin, Way::Along)?;
            strip.left = less(strip.left, size.along);
            continue;
        }
        let strip = Strip {
            bin,
            across: size.across,
            left: less(sheet.length, size.along),
        };
        match ripped.iter_mut().find(|(left, _)| *left >= size.across) {
            Some((left, strips)) => {
                *left = less(*left, size.across);
                strips.push(strip);
            }
            None => ripped.push((less(sheet.width, size.across), vec![strip])),
        }
    }
    for (_, strips) in &ripped {
        let mut bins = strips.iter().map(|strip| strip.bin);
        let first = bins.next()?;
        let bin = bins.try_fold(first, |held, bin| found.join(held, bin, Way::Across))?;
        let whole = *found.bins.get(bin)?;
        let size = PieceSize {
            along: whole.along,
            across: whole.across,
        };
        let smallest = sheets
            .iter()
            .filter(|sheet| fits(size, sheet))
            .min_by_key(|sheet| area(**sheet));
        found.all.push(Pattern {
            counts: Vec::new(),
            sheet: *smallest?,
            bin,
        });
    }
    let mut places: Vec<Vec<usize>> = (0..pieces.len()).map(|place| vec![place]).collect();
    let sheets: Option<Vec<CutSheet>> = (0..found.all.len())
        .map(|pattern| found.lay_out(pattern, &mut places))
        .collect();
    Some(Cutting {
        sheets: sheets?,
        ..Cutting::default()
    })
}

/// The area of sheets that any way of cutting takes: enough for the area of the pieces, and long enough for
/// those of which no two lie one above the other.
fn bound(pieces: &[PieceSize], sheets: &[Sheet], kerf: Length) -> Area {
    let nanometers = |length: Length| i128::from(length.nanometers());
    let width = sheets.iter().map(|sheet| sheet.width).max().unwrap_or_default();
    let (mut needed, mut length) = (0_i128, 0_i128);
    for size in pieces {
        needed = needed.saturating_add(size.area().square_nanometers());
        if size.across.saturating_add(size.across).saturating_add(kerf) > width {
            length = length.saturating_add(nanometers(size.along.saturating_add(kerf)));
        }
    }
    // Of each size: its area, and the length it lends with the cut that its last piece does not need.
    let offers: Vec<(i128, i128)> = sheets
        .iter()
        .map(|sheet| {
            (
                area(*sheet).square_nanometers(),
                nanometers(sheet.length.saturating_add(kerf)),
            )
        })
        .collect();
    Area::from_square_nanometers(fewest(&offers, needed, length).unwrap_or(needed))
}

/// The least area of whole sheets with an area and a length; `None` where counting them would take too long.
fn fewest(offers: &[(i128, i128)], area: i128, length: i128) -> Option<i128> {
    /// More sheets than this are not told apart.
    const MOST_SHEETS: i128 = 150;
    if area <= 0 && length <= 0 {
        return Some(0);
    }
    let ((of_area, of_length), rest) = offers.split_first()?;
    if *of_area <= 0 || *of_length <= 0 || offers.len() > 3 {
        return None;
    }
    let up = |needed: i128, of: i128| (needed.max(0) + of - 1) / of;
    let most = up(area, *of_area).max(up(length, *of_length));
    if most > MOST_SHEETS {
        return None;
    }
    if rest.is_empty() {
        return Some(most * of_area);
    }
    (0..=most)
        .filter_map(|count| {
            fewest(rest, area - count * of_area, length - count * of_length)
                .map(|rest| rest + count * of_area)
        })
        .min()
}

/// How many pieces of each size.
type Counts = Vec<usize>;

/// A box that holds a set of pieces, and how.
#[derive(Clone, Copy)]
struct Bin {
    along: Length,
    across: Length,
    how: How,
}

#[derive(Clone, Copy)]
enum How {
    /// One piece, by its size.
    Piece(usize),
    /// Two boxes along the sheet.
    Beside(usize, usize),
    /// Two boxes across the sheet.
    Above(usize, usize),
}

/// A set of pieces that one sheet holds: the cheapest sheet, and the box in it.
struct Pattern {
    counts: Counts,
    sheet: Sheet,
    bin: usize,
}

/// Every set of pieces that one sheet holds.
struct Patterns {
    sizes: Vec<PieceSize>,
    kerf: Length,
    bins: Vec<Bin>,
    all: Vec<Pattern>,
    is_complete: bool,
}

impl Patterns {
    fn of(sizes: &[PieceSize], wanted: &[usize], sheets: &[Sheet], kerf: Length) -> Self {
        let mut found = Self {
            sizes: sizes.to_vec(),
            kerf,
            bins: Vec::new(),
            all: Vec::new(),
            is_complete: true,
        };
        let mut boxes: BTreeMap<Counts, Vec<usize>> = BTreeMap::new();
        let mut layer: Vec<Counts> = Vec::new();
        for (kind, size) in sizes.iter().enumerate() {
            let counts: Counts = (0..sizes.len()).map(|other| usize::from(other == kind)).collect();
            let bin = Bin {
                along: size.along,
                across: size.across,
                how: How::Piece(kind),
            };
            found.bins.push(bin);
            boxes.insert(counts.clone(), vec![found.bins.len() - 1]);
            layer.push(counts);
        }
        let mut splits = 0;
        // Sets of two pieces, of three, and so on: each is a set that fits and one piece more.
        while !layer.is_empty() {
            let mut next: Vec<Counts> = Vec::new();
            for counts in &layer {
                for kind in 0..sizes.len() {
                    let mut more = counts.clone();
                    if let (Some(count), Some(wanted)) = (more.get_mut(kind), wanted.get(kind))
                        && *count < *wanted
                    {
                        *count += 1;
                        next.push(more);
                    }
                }
            }
            next.sort();
            next.dedup();
            layer.clear();
            for counts in next {
                if boxes.len() >= MOST_PATTERNS || splits >= MOST_SPLITS {
                    found.is_complete = false;
                    break;
                }
                let bins = found.fronts(&counts, &boxes, sheets, &mut splits);
                if !bins.is_empty() {
                    boxes.insert(counts.clone(), bins);
                    layer.push(counts);
                }
            }
            if !found.is_complete {
                break;
            }
        }
        for (counts, bins) in boxes {
            let of_bins = bins.iter().flat_map(|bin| {
                let held = found.bins.get(*bin).copied();
                let fits = move |sheet: &&Sheet| {
                    held.is_some_and(|bin| bin.along <= sheet.length && bin.across <= sheet.width)
                };
                sheets.iter().filter(fits).map(|sheet| (*sheet, *bin))
            });
            if let Some((sheet, bin)) = of_bins.min_by_key(|(sheet, _)| area(*sheet)) {
                found.all.push(Pattern { counts, sheet, bin });
            }
        }
        found
    }

    fn keep(&mut self, bin: Bin) -> usize {
        self.bins.push(bin);
        self.bins.len() - 1
    }

    /// The box of two boxes side by side or one above the other, with a cut between them.
    fn join(&mut self, first: usize, second: usize, way: Way) -> Option<usize> {
        let (one, two) = (self.bins.get(first)?, self.bins.get(second)?);
        let joined = |one: Length, two: Length| one.saturating_add(self.kerf).saturating_add(two);
        let bin = match way {
            Way::Along => Bin {
                along: joined(one.along, two.along),
                across: one.across.max(two.across),
                how: How::Beside(first, second),
            },
            Way::Across => Bin {
                along: one.along.max(two.along),
                across: joined(one.across, two.across),
                how: How::Above(first, second),
            },
        };
        Some(self.keep(bin))
    }

    /// The boxes that hold a set of pieces and fit a sheet, none of them larger both ways than another.
    fn fronts(
        &mut self,
        counts: &Counts,
        boxes: &BTreeMap<Counts, Vec<usize>>,
        sheets: &[Sheet],
        splits: &mut usize,
    ) -> Vec<usize> {
        let mut front: Vec<Bin> = Vec::new();
        let mut part: Counts = vec![0; counts.len()];
        while step(&mut part, counts) {
            let rest: Counts = counts.iter().zip(&part).map(|(all, some)| all - some).collect();
            // Which of two parts comes first makes no difference.
            if part > rest {
                continue;
            }
            let (Some(first), Some(second)) = (boxes.get(&part), boxes.get(&rest)) else {
                continue;
            };
            for (a, b) in first.iter().flat_map(|a| second.iter().map(move |b| (*a, *b))) {
                *splits += 1;
                let (Some(one), Some(two)) = (self.bins.get(a), self.bins.get(b)) else {
                    continue;
                };
                let joined = |one: Length, two: Length| one.saturating_add(self.kerf).saturating_add(two);
                let beside = Bin {
                    along: joined(one.along, two.along),
                    across: one.across.max(two.across),
                    how: How::Beside(a, b),
                };
                let above = Bin {
                    along: one.along.max(two.along),
                    across: joined(one.across, two.across),
                    how: How::Above(a, b),
                };
                for bin in [beside, above] {
                    let fits = |sheet: &Sheet| bin.along <= sheet.length && bin.across <= sheet.width;
                    let covers = |a: &Bin, b: &Bin| a.along <= b.along && a.across <= b.across;
                    if sheets.iter().any(fits) && !front.iter().any(|held| covers(held, &bin)) {
                        front.retain(|held| !covers(&bin, held));
                        front.push(bin);
                    }
                }
            }
        }
        let first = self.bins.len();
        self.bins.extend(front);
        (first..self.bins.len()).collect()
    }

    /// The patterns to cut, and whether none take less area.
    fn cheapest(&self, wanted: &[usize]) -> (Vec<usize>, bool) {
        let mut left = wanted.to_vec();
        let mut chosen = Vec::new();
        let is_small = |left: &[usize]| {
            let states = left
                .iter()
                .fold(1_usize, |states, count| states.saturating_mul(count + 1));
            states.saturating_mul(self.all.len()) <= MOST_CHOICES
        };
        let is_exact = is_small(&left) && self.is_complete;
        while !is_small(&left) {
            // The best filled sheet first.
            let fits = |pattern: &&(usize, &Pattern)| within(&pattern.1.counts, &left);
            let best = self.all.iter().enumerate().collect::<Vec<_>>();
            let best = best.iter().filter(fits).min_by(|(_, a), (_, b)| {
                let (used_a, used_b) = (self.used(a), self.used(b));
                // Compared as fractions, the fuller first.
                let (area_a, area_b) = (
                    area(a.sheet).square_nanometers() / 1_000_000_000,
                    area(b.sheet).square_nanometers() / 1_000_000_000,
                );
                (used_b.saturating_mul(area_a)).cmp(&used_a.saturating_mul(area_b))
            });
            let Some((place, pattern)) = best else {
                break;
            };
            take(&mut left, &pattern.counts);
            chosen.push(*place);
        }
        chosen.extend(self.by_trying(&left));
        (chosen, is_exact)
    }

    fn used(&self, pattern: &Pattern) -> i128 {
        let used = sum(self.sizes.iter().zip(&pattern.counts).map(|(size, count)| {
            let count = i64::try_from(*count).unwrap_or(i64::MAX);
            size.area().times(count).unwrap_or_default()
        }));
        used.square_nanometers() / 1_000_000_000
    }

    /// The patterns of least area for every number of pieces up to those wanted, in order of number.
    fn by_trying(&self, wanted: &[usize]) -> Vec<usize> {
        let states = wanted
            .iter()
            .fold(1_usize, |states, count| states.saturating_mul(count + 1));
        // Of each state: area, sheets, and the pattern cut last.
        let mut best: Vec<Option<(i128, usize, usize)>> = vec![None; states];
        if let Some(nothing) = best.first_mut() {
            *nothing = Some((0, 0, 0));
        }
        let places: Vec<usize> = self
            .all
            .iter()
            .map(|pattern| place(&pattern.counts, wanted))
            .collect();
        let mut counts: Counts = vec![0; wanted.len()];
        while step_to_end(&mut counts, wanted) {
            let here = place(&counts, wanted);
            // Some pattern has to cut the first piece that is left.
            let first = counts.iter().position(|count| *count > 0).unwrap_or(0);
            let mut found: Option<(i128, usize, usize)> = None;
            for (number, (pattern, offset)) in self.all.iter().zip(&places).enumerate() {
                let cuts_first = pattern.counts.get(first).is_some_and(|count| *count > 0);
                if !cuts_first || !within(&pattern.counts, &counts) {
                    continue;
                }
                let before = here.checked_sub(*offset).and_then(|before| best.get(before));
                if let Some(Some((before, sheets, _))) = before {
                    let candidate = (
                        before + area(pattern.sheet).square_nanometers(),
                        sheets + 1,
                        number,
                    );
                    if found.is_none_or(|found| candidate < found) {
                        found = Some(candidate);
                    }
                }
            }
            if let Some(state) = best.get_mut(here) {
                *state = found;
            }
        }
        let mut chosen = Vec::new();
        let mut at = states.saturating_sub(1);
        while at > 0 {
            let Some(Some((_, _, pattern))) = best.get(at) else {
                break;
            };
            let Some(offset) = places.get(*pattern).filter(|offset| **offset > 0) else {
                break;
            };
            chosen.push(*pattern);
            at = at.saturating_sub(*offset);
        }
        chosen
    }

    /// Lays a pattern out on its sheet, with pieces from those that are left of each size.
    fn lay_out(&self, pattern: usize, places: &mut [Vec<usize>]) -> Option<CutSheet> {
        let pattern = self.all.get(pattern)?;
        let mut cut = CutSheet {
            sheet: pattern.sheet,
            pieces: Vec::new(),
            offcuts: Vec::new(),
            kerf: Area::ZERO,
        };
        let whole = Placed {
            what: (),
            along: Length::ZERO,
            across: Length::ZERO,
            size: PieceSize {
                along: pattern.sheet.length,
                across: pattern.sheet.width,
            },
        };
        self.divide(pattern.bin, whole, &mut cut, places)?;
        // From the end that is cut first.
        cut.pieces.sort_by_key(|piece| (piece.along, piece.across));
        Some(cut)
    }

    fn divide(
        &self,
        bin: usize,
        part: Placed<()>,
        cut: &mut CutSheet,
        places: &mut [Vec<usize>],
    ) -> Option<()> {
        let bin = *self.bins.get(bin)?;
        let (part, rest) = self.saw(part, bin.along, Way::Along, cut);
        cut.offcuts.extend(rest);
        let (part, rest) = self.saw(part, bin.across, Way::Across, cut);
        cut.offcuts.extend(rest);
        let (way, at, first, second) = match bin.how {
            How::Piece(kind) => {
                let what = places.get_mut(kind)?.pop()?;
                cut.pieces.push(Placed {
                    what,
                    along: part.along,
                    across: part.across,
                    size: part.size,
                });
                return Some(());
            }
            How::Beside(first, second) => (Way::Along, self.bins.get(first)?.along, first, second),
            How::Above(first, second) => (Way::Across, self.bins.get(first)?.across, first, second),
        };
        let (one, two) = self.saw(part, at, way, cut);
        self.divide(first, one, cut, places)?;
        self.divide(second, two?, cut, places)
    }

    /// Saws a part off at a distance from its corner: that part, and what is left beyond the cut.
    fn saw(
        &self,
        part: Placed<()>,
        at: Length,
        way: Way,
        cut: &mut CutSheet,
    ) -> (Placed<()>, Option<Placed<()>>) {
        let (side, length) = match way {
            Way::Along => (part.size.along, part.size.across),
            Way::Across => (part.size.across, part.size.along),
        };
        if at >= side {
            return (part, None);
        }
        let kerf = self.kerf.min(side.saturating_sub(at));
        cut.kerf = cut.kerf.saturating_add(kerf.by(length));
        let beyond = at.saturating_add(kerf);
        let left = side.saturating_sub(beyond);
        let (mut one, mut two) = (part, part);
        match way {
            Way::Along => {
                one.size.along = at;
                two.along = part.along.saturating_add(beyond);
                two.size.along = left;
            }
            Way::Across => {
                one.size.across = at;
                two.across = part.across.saturating_add(beyond);
                two.size.across = left;
            }
        }
        (one, Some(two).filter(|_| left > Length::ZERO))
    }
}

/// Which side of a part a cut divides.
#[derive(Clone, Copy)]
enum Way {
    Along,
    Across,
}

/// The next set within `all`, in order; false after the last but one, so that neither none nor all is met.
fn step(part: &mut Counts, all: &[usize]) -> bool {
    step_to_end(part, all) && part.as_slice() != all
}

/// The next set within `all`, in order of [`place`]; false after the last.
fn step_to_end(part: &mut Counts, all: &[usize]) -> bool {
    for (count, most) in part.iter_mut().zip(all) {
        if *count < *most {
            *count += 1;
            return true;
        }
        *count = 0;
    }
    false
}

/// The number of a set among those within `all`.
fn place(counts: &[usize], all: &[usize]) -> usize {
    let mut weight = 1_usize;
    let mut place = 0_usize;
    for (count, most) in counts.iter().zip(all) {
        place = place.saturating_add(count.saturating_mul(weight));
        weight = weight.saturating_mul(most + 1);
    }
    place
}

fn within(counts: &[usize], all: &[usize]) -> bool {
    counts.iter().zip(all).all(|(count, most)| count <= most)
}

fn take(from: &mut [usize], counts: &[usize]) {
    for (left, count) in from.iter_mut().zip(counts) {
        *left = left.saturating_sub(*count);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const KERF: Length = Length::sixty_fourths(8);

    fn stock() -> [Sheet; 3] {
        [8, 9, 10].map(|length| Sheet {
            length: Length::feet(length),
            width: Length::feet(4),
        })
    }

    fn size(along: i64, across: i64) -> PieceSize {
        PieceSize {
            along: Length::inches(along),
            across: Length::inches(across),
        }
    }

    /// Everything that must hold of a cutting list, whatever found it.
    fn holds_together(pieces: &[PieceSize], cutting: &Cutting, kerf: Length) {
        let mut cut: Vec<usize> = cutting.too_large.clone();
        for sheet in &cutting.sheets {
            let whole = area(sheet.sheet);
            let parts = sheet.used().saturating_add(sheet.left_over());
            assert_eq!(
                parts.saturating_add(sheet.kerf),
                whole,
                "pieces, offcuts and cuts are the sheet"
            );
            for piece in &sheet.pieces {
                assert_eq!(piece.size, pieces[piece.what], "no piece is turned or trimmed");
                cut.push(piece.what);
            }
            let pieces = sheet
                .pieces
                .iter()
                .map(|piece| (piece.along, piece.across, piece.size, true));
            let offcuts = sheet
                .offcuts
                .iter()
                .map(|rest| (rest.along, rest.across, rest.size, false));
            let parts: Vec<_> = pieces.chain(offcuts).collect();
            for (number, (along, across, size, is_piece)) in parts.iter().enumerate() {
                assert!(along.saturating_add(size.along) <= sheet.sheet.length);
                assert!(across.saturating_add(size.across) <= sheet.sheet.width);
                for (other_along, other_across, other, other_is_piece) in &parts[number + 1..] {
                    // Between two pieces there is room for the saw.
                    let gap = if *is_piece && *other_is_piece {
                        kerf
                    } else {
                        Length::ZERO
                    };
                    let past = |from: Length, side: Length, other: Length| {
                        from.saturating_add(side).saturating_add(gap) <= other
                    };
                    assert!(
                        past(*along, size.along, *other_along)
                            || past(*other_along, other.along, *along)
                            || past(*across, size.across, *other_across)
                            || past(*other_across, other.across, *across),
                        "{parts:?} overlap"
                    );
                }
            }
        }
        cut.sort_unstable();
        assert_eq!(cut, (0..pieces.len()).collect::<Vec<_>>(), "every piece once");
        assert!(cutting.least_area <= cutting.area());
        assert!(cutting.used() <= cutting.area());
    }

    #[test]
    fn pieces_of_half_a_sheet_lose_to_the_saw() {
        let sheets = [Sheet {
            length: Length::feet(8),
            width: Length::feet(4),
        }];
        let cutting = cut(&[size(96, 24); 4], &sheets, KERF);
        holds_together(&[size(96, 24); 4], &cutting, KERF);
        assert_eq!(cutting.sheets.len(), 4);
        let low = [size(96, 23); 4];
        let cutting = cut(&low, &sheets, KERF);
        holds_together(&low, &cutting, KERF);
        assert_eq!(cutting.sheets.len(), 2);
        assert!(cutting.is_least());
    }

    #[test]
    fn offcuts_are_used() {
        // 6 ft and 2 ft less a cut come from one sheet of 8 ft.
        let pieces = [size(72, 48), size(23, 48), size(72, 40), size(23, 40)];
        let cutting = cut(&pieces, &stock(), KERF);
        holds_together(&pieces, &cutting, KERF);
        assert_eq!(cutting.area(), Area::square_feet(64));
        assert!(cutting.is_least());
    }

    #[test]
    fn what_no_sheet_holds_is_named() {
        let pieces = [size(130, 20), size(20, 50), size(20, 20), size(0, 20)];
        let cutting = cut(&pieces, &stock(), KERF);
        assert_eq!(cutting.too_large, [0, 1, 3]);
        assert_eq!(cutting.sheets.len(), 1);
        assert_eq!(cut(&pieces, &[], KERF).too_large.len(), 4);
        assert_eq!(cut(&[], &stock(), KERF), Cutting::default());
    }

    /// Strips ripped off sheets of 4 ft by 10 ft, tallest first, each filled with the first pieces that go
    /// in.
    fn by_strips(pieces: &[PieceSize], kerf: Length) -> Area {
        let whole = stock()[2];
        let mut pieces = pieces.to_vec();
        pieces.sort_by_key(|piece| std::cmp::Reverse((piece.across, piece.along)));
        // Of each sheet the width that is left, and of each strip its sheet, height and length that is left.
        let mut sheets: Vec<Length> = Vec::new();
        let mut strips: Vec<(Length, Length)> = Vec::new();
        for piece in pieces {
            let fits = |strip: &&mut (Length, Length)| strip.0 >= piece.across && strip.1 >= piece.along;
            if let Some(strip) = strips.iter_mut().find(fits) {
                strip.1 = strip.1.saturating_sub(piece.along).saturating_sub(kerf);
                continue;
            }
            let has_room = sheets.iter().position(|left| *left >= piece.across);
            let sheet = has_room.unwrap_or(sheets.len());
            if sheet == sheets.len() {
                sheets.push(whole.width);
            }
            sheets[sheet] = sheets[sheet].saturating_sub(piece.across).saturating_sub(kerf);
            strips.push((
                piece.across,
                whole.length.saturating_sub(piece.along).saturating_sub(kerf),
            ));
        }
        area(whole).times(i64::try_from(sheets.len()).unwrap()).unwrap()
    }

    #[test]
    fn a_long_list_of_odd_pieces_is_cut_no_worse_than_in_strips() {
        let pieces: Vec<PieceSize> = (0..60)
            .map(|number| size(32 + number * 7 % 64, 14 + number * 5 % 33))
            .collect();
        let cutting = cut(&pieces, &stock(), KERF);
        holds_together(&pieces, &cutting, KERF);
        assert!(cutting.area() <= by_strips(&pieces, KERF));
        assert!(!cutting.is_least(), "it does not claim what it has not tried");
    }

    /// Every way of sawing: takes a list of parts, and tries each whole saw cut at each place where a sum of
    /// sides and cuts ends. Independent of the patterns above.
    fn fits(pieces: &[PieceSize], along: Length, across: Length, kerf: Length) -> bool {
        match pieces {
            [] => true,
            [one] => one.along <= along && one.across <= across,
            _ => (1..(1_u32 << pieces.len()) - 1).any(|mask| {
                let side = |wanted: bool| -> Vec<PieceSize> {
                    let chosen = pieces.iter().enumerate();
                    let chosen = chosen.filter(|(bit, _)| (mask >> bit & 1 == 1) == wanted);
                    chosen.map(|(_, piece)| *piece).collect()
                };
                let (one, two) = (side(true), side(false));
                let ends = |of: fn(&PieceSize) -> Length| -> Vec<Length> {
                    let mut ends = vec![Length::ZERO];
                    for piece in &one {
                        for end in ends.clone() {
                            let first = end == Length::ZERO;
                            let gap = if first { Length::ZERO } else { kerf };
                            ends.push(end.saturating_add(gap).saturating_add(of(piece)));
                        }
                    }
                    ends
                };
                let rest = |side: Length, at: Length| side.saturating_sub(at).saturating_sub(kerf);
                ends(|piece| piece.along).into_iter().any(|at| {
                    at < along && fits(&one, at, across, kerf) && fits(&two, rest(along, at), across, kerf)
                }) || ends(|piece| piece.across).into_iter().any(|at| {
                    at < across && fits(&one, along, at, kerf) && fits(&two, along, rest(across, at), kerf)
                })
            }),
        }
    }

    /// The least area over every way of dividing the pieces among sheets.
    fn by_brute_force(pieces: &[PieceSize], sheets: &[Sheet], kerf: Length) -> Area {
        let Some((first, rest)) = pieces.split_first() else {
            return Area::ZERO;
        };
        let mut best = Area::LIMIT;
        for mask in 0..1_u32 << rest.len() {
            let chosen = |wanted: bool| {
                let rest = rest.iter().enumerate();
                rest.filter(move |(bit, _)| (mask >> bit & 1 == 1) == wanted)
                    .map(|(_, piece)| *piece)
            };
            let together: Vec<PieceSize> = std::iter::once(*first).chain(chosen(true)).collect();
            let fitting = sheets
                .iter()
                .filter(|sheet| fits(&together, sheet.length, sheet.width, kerf));
            if let Some(sheet) = fitting.map(|sheet| area(*sheet)).min() {
                let others: Vec<PieceSize> = chosen(false).collect();
                best = best.min(sheet.saturating_add(by_brute_force(&others, sheets, kerf)));
            }
        }
        best
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(120))]

        #[test]
        fn a_few_pieces_are_cut_as_well_as_trying_every_way(
            sizes in prop::collection::vec((20_i64..=96, 10_i64..=48), 1..5),
        ) {
            let pieces: Vec<PieceSize> = sizes.iter().map(|(along, across)| size(*along, *across)).collect();
            let cutting = cut(&pieces, &stock(), KERF);
            holds_together(&pieces, &cutting, KERF);
            prop_assert_eq!(cutting.area(), by_brute_force(&pieces, &stock(), KERF));
            prop_assert!(cutting.is_least());
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(30))]

        #[test]
        fn any_list_holds_together(
            sizes in prop::collection::vec((1_i64..=125, 1_i64..=50), 0..20),
        ) {
            let pieces: Vec<PieceSize> = sizes.iter().map(|(along, across)| size(*along, *across)).collect();
            let cutting = cut(&pieces, &stock(), KERF);
            holds_together(&pieces, &cutting, KERF);
            let by_area = bound(&pieces, &stock(), KERF);
            if cutting.too_large.is_empty() {
                prop_assert!(by_area <= cutting.area());
            }
        }
    }
}
