//! Which anchors count, and whether those that count are enough: shared by the checks on anchorage.
//!
//! An anchor counts when its kind, diameter, washer, embedment, edge distance and condition are what the
//! provisions ask. Spacing, end distance and number are judged over the anchors that count; the checks on
//! single properties tell why others do not. So an anchor more never makes a wall line worse: at worst it
//! does not count.

use super::anchor_condition;
use super::anchor_diameter;
use super::anchor_edge_distance;
use super::anchor_embedment;
use super::anchor_kind;
use super::anchor_washer;
use super::context::Line;
use super::credit::{Credit, CreditWords};
use super::finding::{Judgment, Quantity};
use super::look_at::LookAt;
use crate::house::{Anchor, Parts, Placement, Span, WallLine};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{FigureId, Requirement, Rule, keys};

/// A property by which an anchor counts or does not.
pub(super) type Property = fn(&Anchor, &Requirement) -> Truth;

/// Every property an anchor has to have.
const PROPERTIES: [Property; 6] = [
    anchor_kind::counts,
    anchor_diameter::counts,
    anchor_washer::counts,
    anchor_embedment::counts,
    anchor_edge_distance::counts,
    anchor_condition::counts,
];

/// Whether an anchor counts.
pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    let mut truth = Truth::True;
    for property in PROPERTIES {
        truth = truth.and(property(anchor, requirement));
        if truth == Truth::False {
            break; // nothing else can make it count
        }
    }
    truth
}

/// What the anchors of a wall line come to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Anchorage {
    pub(super) spacing: Spacing,
    pub(super) ends: Ends,
    pub(super) pieces: Pieces,
    /// Spacing, ends and number together: whether the anchors that count are enough.
    pub(super) enough: Truth,
}

/// The largest distance between anchors that count.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spacing {
    pub(super) answer: Truth,
    pub(super) rule: Rule<Length>,
    /// The largest distance in the worst case, and where.
    pub(super) worst: Option<(Length, Span)>,
    /// The largest distance in the best case.
    pub(super) best: Option<Length>,
    /// Whether every sill piece is short enough to go by number instead.
    pub(super) by_number: bool,
}

/// How near an anchor that counts is to each end of each sill piece.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ends {
    pub(super) answer: Truth,
    /// The end that is farthest from having one: its sill piece, and the distance of its nearest anchor.
    pub(super) at: Option<(Span, Option<Length>)>,
    pub(super) least: Length,
    pub(super) most: Rule<Length>,
}

/// How many anchors that count each sill piece has.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pieces {
    pub(super) answer: Truth,
    pub(super) applies: Truth,
    /// The piece that has too few: its stations, what it has at least and at most, what it needs.
    pub(super) at: Option<(Span, u32, u32, u32)>,
    pub(super) figure: Option<FigureId>,
}

/// A sill piece, or the whole wall line where the pieces were not recorded.
#[derive(Clone, Copy)]
struct Piece {
    span: Span,
    is_recorded: bool,
}

impl Anchorage {
    pub(super) fn of(line: &Line<'_>) -> Self {
        let ends = Ends::of(line);
        let pieces = Pieces::of(line);
        let spacing = Spacing::of(line);
        let mut enough = spacing.answer.and(ends.answer).and(pieces.answer);
        if line.wall.anchors.value().is_none() {
            enough = enough.and(Truth::Maybe);
        }
        Self {
            spacing,
            ends,
            pieces,
            enough,
        }
    }
}

/// The sill pieces of a wall line; stretches for which none was recorded stand for pieces not known.
fn pieces<'a>(line: &'a Line<'_>) -> impl Iterator<Item = Piece> + Clone + 'a {
    let recorded = line.sill().iter().map(|piece| Piece {
        span: piece.span(line.length()),
        is_recorded: true,
    });
    let covered = line.is_covered_by(line.sill().iter().map(|piece| piece.span(line.length())));
    recorded.chain((!covered).then(|| Piece {
        span: line.whole(),
        is_recorded: false,
    }))
}

/// Anchors as they stand along a wall line: from the first to the last of a record, at a spacing.
#[derive(Clone, Copy)]
struct Stand {
    from: Length,
    to: Option<Length>,
    /// The distance between the anchors of a run.
    within: Option<Length>,
    ends_known: (bool, bool),
}

fn stand(anchor: &Anchor, worst: bool) -> Stand {
    match anchor.placement() {
        Placement::At(at) => Stand {
            from: at,
            to: Some(at),
            within: Some(Length::ZERO),
            ends_known: (true, true),
        },
        Placement::Run { first, last, spacing } => {
            let (least, most) = spacing.bounds();
            let within = if worst {
                most.copied()
            } else {
                Some(least.copied().unwrap_or(Length::ZERO))
            };
            Stand {
                from: first.unwrap_or(Length::ZERO),
                to: last,
                within,
                ends_known: (first.is_some(), last.is_some()),
            }
        }
    }
}

/// The anchors to reckon with: in the worst case those that surely count, in the best all that may.
fn anchors<'a>(line: &'a Line<'_>, worst: bool) -> impl Iterator<Item = &'a Anchor> + Clone + 'a {
    let list = line.wall.anchors.value().map(Vec::as_slice).unwrap_or_default();
    list.iter().filter(move |anchor| {
        let counts = counts(anchor, line.requirement);
        if worst {
            counts.certain()
        } else {
            counts.possible()
        }
    })
}

/// Whether anchors may stand in a stretch that nobody saw.
fn may_be_unseen(wall: &WallLine, within: Span) -> bool {
    wall.anchors.value().is_none()
        || wall
            .unseen_of(Parts::Anchors)
            .any(|unseen| unseen.span(None).overlaps(within))
}

/// The largest distance without an anchor in a stretch. `None` when it is not known how long that is.
fn largest_gap(line: &Line<'_>, span: Span, worst: bool, least_diameter: Length) -> Option<(Length, Span)> {
    let end = span.to?;
    if !worst && line.wall.anchors.value().is_none() {
        return Some((Length::ZERO, span));
    }
    let stands = anchors(line, worst)
        .filter(|anchor| {
            let stout = anchor.diameter.at_least(least_diameter);
            if worst { stout.certain() } else { stout.possible() }
        })
        .map(|anchor| stand(anchor, worst));
    let unseen = line
        .wall
        .unseen_of(Parts::Anchors)
        .filter(|_| !worst)
        .map(|unseen| unseen.span(line.length()))
        .map(|span| Stand {
            from: span.from,
            to: span.to,
            within: Some(Length::ZERO),
            ends_known: (true, true),
        });
    let stands = stands.chain(unseen);

    let mut largest = (Length::ZERO, Span::new(span.from, span.from));
    let mut take = |from: Length, to: Length| {
        let gap = to.saturating_sub(from);
        if gap > largest.0 {
            largest = (gap, Span::new(from, to));
        }
    };
    let mut reached = span.from;
    // Each turn moves on to the nearest anchor ahead, so there are no more turns than anchors.
    while reached < end {
        let ahead = |stand: &Stand| {
            stand.to.unwrap_or(end) > reached || (stand.to.unwrap_or(end) == reached && stand.from == reached)
        };
        let Some(next) = stands
            .clone()
            .filter(ahead)
            .filter(|stand| stand.from <= end)
            .min_by_key(|stand| stand.from)
        else {
            break;
        };
        let begins = next.from.max(reached);
        take(reached, begins);
        let stops = next.to.unwrap_or(end).min(end);
        // Where a run's spacing is not known, the worst case is that it holds nothing between its ends.
        let within = next.within.unwrap_or_else(|| stops.saturating_sub(begins));
        if within > Length::ZERO && stops > begins {
            take(begins, begins.saturating_add(within).min(stops));
        }
        if stops <= reached {
            break;
        }
        reached = stops;
    }
    take(reached, end);
    Some(largest)
}

impl Spacing {
    fn of(line: &Line<'_>) -> Self {
        let options = line.requirement.all(keys::ANCHOR_SPACING);
        let over = line.rule(keys::SPACING_APPLIES_OVER).value();
        let mut answer = Truth::True;
        let mut shown: Option<(Truth, Rule<Length>, Option<(Length, Span)>, Option<Length>)> = None;
        let mut by_number = true;
        for piece in pieces(line) {
            let is_short =
                piece.is_recorded && over.is_some_and(|over| piece.span.length().is_some_and(|l| l <= over));
            if is_short {
                continue;
            }
            by_number = false;
            // The anchors of a piece may answer to any one diameter and its spacing.
            let mut best_option: Option<(Truth, Rule<Length>, Option<(Length, Span)>, Option<Length>)> = None;
            for (case, rule) in options.clone() {
                let diameter = case.diameter.unwrap_or(Length::ZERO);
                let worst = largest_gap(line, piece.span, true, diameter);
                let best = largest_gap(line, piece.span, false, diameter).map(|(gap, _)| gap);
                let truth = match rule {
                    Rule::Given { value, .. } => match (best, worst) {
                        (Some(best), Some((worst, _))) => Self::judge(best, worst, value, piece, over, line),
                        _ if line.wall.anchors.value().is_some_and(Vec::is_empty)
                            && line.wall.unseen_of(Parts::Anchors).next().is_none() =>
                        {
                            Truth::False
                        }
                        _ => Truth::Maybe,
                    },
                    Rule::Missing(_) => Truth::Maybe,
                    Rule::Silent(_) | Rule::NotRegulated => Truth::True,
                };
                let rank = |truth: Truth| match truth {
                    Truth::False => 0,
                    Truth::Maybe => 1,
                    Truth::True => 2,
                };
                if best_option.is_none_or(|(other, ..)| rank(truth) > rank(other)) {
                    best_option = Some((truth, rule, worst, best));
                }
            }
            let Some(option) = best_option else { continue };
            answer = answer.and(option.0);
            let is_stricter = shown.is_none_or(|other| match (option.0, other.0) {
                (Truth::False, Truth::True | Truth::Maybe) | (Truth::Maybe, Truth::True) => true,
                (a, b) if a == b => option.2.map(|(gap, _)| gap) > other.2.map(|(gap, _)| gap),
                _ => false,
            });
            if is_stricter {
                shown = Some(option);
            }
        }
        let (_, rule, worst, best) = shown.unwrap_or((answer, Rule::NotRegulated, None, None));
        Self {
            answer,
            rule,
            worst,
            best,
            by_number,
        }
    }

    fn judge(
        best: Length,
        worst: Length,
        limit: Length,
        piece: Piece,
        over: Option<Length>,
        line: &Line<'_>,
    ) -> Truth {
        let truth = Truth::from_cases(best <= limit, worst <= limit);
        match over {
            // The pieces are not known and might all be short enough to go by number. A distance that cannot
            // lie inside a short piece with anchors near both its ends settles it all the same.
            Some(over) if !piece.is_recorded && truth != Truth::True => {
                let ends = line.rule(keys::MIN_END_DISTANCE).value().unwrap_or(Length::ZERO);
                if best > over.saturating_sub(ends).saturating_sub(ends) {
                    truth
                } else {
                    Truth::Maybe
                }
            }
            _ => truth,
        }
    }
}

impl Ends {
    fn of(line: &Line<'_>) -> Self {
        let most = line.rule(keys::MAX_END_DISTANCE);
        let least = line.rule(keys::MIN_END_DISTANCE).value().unwrap_or(Length::ZERO);
        let mut ends = Self {
            answer: Truth::True,
            at: None,
            least,
            most,
        };
        let limit = match most {
            Rule::Given { value, .. } => value,
            Rule::Missing(_) => {
                ends.answer = Truth::Maybe;
                return ends;
            }
            Rule::Silent(_) | Rule::NotRegulated => return ends,
        };
        for piece in pieces(line) {
            if piece.is_recorded && required_anchors(line, piece.span).0 == Some(1) {
                continue; // one anchor at the center of a short piece
            }
            let sides = [(Some(piece.span.from), true), (piece.span.to, false)];
            for (end, is_start) in sides {
                let (mut truth, nearest) = Self::at_end(line, end, is_start, least, limit);
                if !piece.is_recorded && truth == Truth::True {
                    truth = Truth::Maybe; // there may be more ends along the wall line
                }
                let is_stricter = ends.at.is_none()
                    || matches!(
                        (truth, ends.answer),
                        (Truth::False, Truth::True | Truth::Maybe) | (Truth::Maybe, Truth::True)
                    );
                if is_stricter {
                    ends.at = Some((piece.span, nearest));
                }
                ends.answer = ends.answer.and(truth);
            }
        }
        ends
    }

    /// Whether an anchor that counts stands near enough to one end, and how near the nearest stands.
    fn at_end(
        line: &Line<'_>,
        end: Option<Length>,
        is_start: bool,
        least: Length,
        most: Length,
    ) -> (Truth, Option<Length>) {
        let Some(list) = line.wall.anchors.value() else {
            return (Truth::Maybe, None);
        };
        let mut answer = Truth::False;
        let mut nearest: Option<Length> = None;
        let diameters = line.rule(keys::MIN_END_DIAMETERS).value().unwrap_or(0);
        for anchor in list {
            let counts = counts(anchor, line.requirement);
            let (distance_bounds, reaches) = Self::distance(anchor, end, is_start);
            let least_most = anchor
                .diameter
                .bounds()
                .1
                .and_then(|diameter| diameter.times(i64::from(diameters)));
            let least_least = anchor
                .diameter
                .bounds()
                .0
                .and_then(|diameter| diameter.times(i64::from(diameters)));
            let far_enough = match distance_bounds {
                (Some(low), Some(high)) => {
                    let surely = if diameters == 0 {
                        Some(least)
                    } else {
                        least_most.map(|d| d.max(least))
                    };
                    let perhaps = least_least.unwrap_or(Length::ZERO).max(least);
                    Truth::from_cases(high >= perhaps, surely.is_some_and(|surely| low >= surely))
                        .and(Truth::from_cases(low <= most, high <= most))
                }
                _ => Truth::Maybe,
            };
            if !reaches {
                continue;
            }
            if let (true, Some(high)) = (counts.possible(), distance_bounds.1) {
                nearest = Some(nearest.map_or(high, |other: Length| other.min(high)));
            }
            answer = answer.or(counts.and(far_enough));
        }
        let window = end.map(|end| {
            if is_start {
                Span::new(end, end.saturating_add(most))
            } else {
                Span::new(end.saturating_sub(most), end)
            }
        });
        let unseen = match window {
            Some(window) => may_be_unseen(line.wall, window),
            None => line.wall.unseen_of(Parts::Anchors).next().is_some(),
        };
        if unseen {
            answer = answer.or(Truth::Maybe);
        }
        (answer, nearest)
    }

    /// The least and the most the distance between an end and the nearest anchor of a record can be, and
    /// whether the record can be near that end at all.
    fn distance(
        anchor: &Anchor,
        end: Option<Length>,
        is_start: bool,
    ) -> ((Option<Length>, Option<Length>), bool) {
        let exactly = |length: Length| ((Some(length), Some(length)), true);
        match anchor.placement() {
            Placement::At(at) => match end {
                Some(end) if is_start && at >= end => exactly(at.saturating_sub(end)),
                Some(end) if !is_start && at <= end => exactly(end.saturating_sub(at)),
                Some(_) => ((None, None), false),
                None => ((None, None), true),
            },
            Placement::Run { first, last, .. } => {
                let known = if is_start { first } else { last };
                match (known, end) {
                    (Some(known), Some(end)) if (is_start && known >= end) || (!is_start && known <= end) => {
                        exactly(if is_start {
                            known.saturating_sub(end)
                        } else {
                            end.saturating_sub(known)
                        })
                    }
                    // A run that goes on past this end: how its anchors fall here is known only by the
                    // distance that was measured at ends.
                    _ => {
                        let (least, most) = anchor.end_distance.bounds();
                        ((least.copied(), most.copied()), true)
                    }
                }
            }
        }
    }
}

/// The number of anchors a piece has to have, and the figure that says so.
fn required_anchors(line: &Line<'_>, span: Span) -> (Option<u32>, Option<FigureId>) {
    let Some(length) = span.length() else {
        return (None, None);
    };
    for (case, rule) in line.requirement.all(keys::ANCHORS_PER_PIECE) {
        let is_over = case.piece_over.is_none_or(|over| length > over);
        let is_up_to = case.piece_up_to.is_none_or(|up_to| length <= up_to);
        if is_over && is_up_to {
            return (rule.value(), rule.figure());
        }
    }
    (None, None)
}

impl Pieces {
    fn of(line: &Line<'_>) -> Self {
        let mut pieces_found = Self {
            answer: Truth::True,
            applies: Truth::False,
            at: None,
            figure: None,
        };
        let mut rows = line.requirement.all(keys::ANCHORS_PER_PIECE);
        let Some((_, first)) = rows.next() else {
            return pieces_found;
        };
        if matches!(first, Rule::Silent(_)) {
            pieces_found.figure = first.figure();
            return pieces_found;
        }
        let none_anywhere = line.wall.anchors.value().is_some_and(Vec::is_empty)
            && line.wall.unseen_of(Parts::Anchors).next().is_none();
        for piece in pieces(line) {
            let (needed, figure) = if piece.is_recorded {
                required_anchors(line, piece.span)
            } else {
                (None, first.figure())
            };
            if piece.is_recorded && piece.span.length().is_some() && figure.is_none() {
                continue; // longer than every row: it goes by spacing
            }
            let Some(needed) = needed else {
                // Pieces or a figure not known.
                pieces_found.applies = pieces_found.applies.or(Truth::Maybe);
                pieces_found.answer = pieces_found.answer.and(Truth::Maybe);
                pieces_found.figure = pieces_found.figure.or(figure);
                continue;
            };
            pieces_found.applies = Truth::True;
            let (least, most) = (count(line, piece.span, true), count(line, piece.span, false));
            let truth = if none_anywhere {
                Truth::False
            } else {
                Truth::from_cases(most >= needed, least >= needed)
            };
            let is_stricter = pieces_found.at.is_none()
                || matches!(
                    (truth, pieces_found.answer),
                    (Truth::False, Truth::True | Truth::Maybe) | (Truth::Maybe, Truth::True)
                );
            if is_stricter {
                pieces_found.at = Some((piece.span, least, most, needed));
                pieces_found.figure = figure;
            }
            pieces_found.answer = pieces_found.answer.and(truth);
        }
        pieces_found
    }
}

/// The number of anchors that count in a piece; two closer than the least distance count as one.
fn count(line: &Line<'_>, span: Span, worst: bool) -> u32 {
    let Some(end) = span.to else {
        return if worst { 0 } else { u32::MAX };
    };
    if !worst && may_be_unseen(line.wall, span) {
        return u32::MAX;
    }
    let apart = line
        .rule(keys::MIN_ANCHOR_SPACING)
        .value()
        .unwrap_or(Length::ZERO);
    let within = |at: Length| span.from <= at && at <= end;
    let mut total = 0u32;
    let singles = anchors(line, worst)
        .filter_map(|anchor| anchor.at)
        .filter(|at| within(*at));
    let mut last: Option<Length> = None;
    loop {
        let free = |at: &Length| last.is_none_or(|last| *at > last && at.saturating_sub(last) >= apart);
        let Some(next) = singles.clone().filter(free).min() else {
            break;
        };
        total = total.saturating_add(1);
        last = Some(next);
    }
    for anchor in anchors(line, worst).filter(|anchor| anchor.at.is_none()) {
        let stand = stand(anchor, worst);
        let from = stand.from.max(span.from);
        let to = stand.to.unwrap_or(end).min(end);
        let Some(length) = to.checked_sub(from).filter(|length| *length >= Length::ZERO) else {
            continue;
        };
        let in_run = match stand.within.map(Length::nanometers) {
            Some(spacing) if spacing > 0 => {
                let spaces = u32::try_from(length.nanometers() / spacing).unwrap_or(u32::MAX);
                // A run whose first and last anchor stand in the piece holds one more than its spaces.
                let both_ends =
                    stand.ends_known == (true, true) && from == stand.from && stand.to == Some(to);
                spaces.saturating_add(u32::from(both_ends || !worst))
            }
            _ => {
                if worst {
                    0
                } else {
                    u32::MAX
                }
            }
        };
        total = total.saturating_add(in_run);
    }
    total
}

/// The judgment on one property of the anchors: shared by the checks on kind, diameter, washer, embedment,
/// edge distance and condition.
pub(super) fn judge_property<T: Copy>(
    line: &Line<'_>,
    rule: Rule<T>,
    property: Property,
    look_at: LookAt,
    show: impl Fn(&Anchor) -> Quantity,
) -> Judgment {
    Judgment::by(rule, |_| {
        Credit {
            list: &line.wall.anchors,
            enough: line.anchorage().enough,
            look_at_list: LookAt::Anchors,
            words: CreditWords {
                not_recorded: "The anchors of this wall line were not recorded.",
                none: "There are no anchors to judge.",
                all: "Every anchor recorded here has what is asked for.",
                surplus: "Enough anchors have what is asked for; those that do not are surplus.",
                failing: "Anchors here lack what is asked for and do not count.",
                open: "Whether these anchors count depends on something that was not seen.",
            },
        }
        .judge(
            look_at,
            |anchor| property(anchor, line.requirement),
            &show,
            |anchor| anchor.at.map(|at| Span::new(at, at)),
        )
    })
}
