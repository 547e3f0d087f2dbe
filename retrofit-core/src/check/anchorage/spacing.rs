//! The largest distance along the sill without an anchor that counts.

use super::stand::Stand;
use super::{Case, Piece, Strictest, anchors, may_be_unseen, pieces, unseen};
use crate::check::anchor_diameter::has_no_rod;
use crate::check::context::Line;
use crate::house::{Anchor, Span};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{Rule, keys};

/// The largest distance between anchors that count.
#[derive(Clone, Copy, Debug)]
pub(in crate::check) struct Spacing {
    pub(in crate::check) answer: Truth,
    /// Whether the spacing is asked for: not where every sill piece is short enough to go by number.
    pub(in crate::check) applies: Truth,
    pub(in crate::check) rule: Rule<Length>,
    /// The largest distance in the worst case, and where.
    pub(in crate::check) worst: Option<(Length, Span)>,
    /// The largest distance in the best case.
    pub(in crate::check) best: Option<Length>,
}

/// The anchors of a piece held against one row: the largest spacing for anchors of a diameter or stouter.
#[derive(Clone, Copy)]
struct ByRow {
    answer: Truth,
    rule: Rule<Length>,
    worst: Option<(Length, Span)>,
    best: Option<Length>,
}

impl ByRow {
    /// How much farther apart the anchors may stand than the row allows.
    fn shortfall(self) -> Option<Length> {
        let (worst, _) = self.worst?;
        worst.checked_sub(self.rule.value()?)
    }
}

impl Spacing {
    pub(in crate::check) fn of(line: &Line<'_>) -> Self {
        let mut strictest = Strictest::new();
        let mut applies = Truth::False;
        let of_whole = by_mildest_row(line, line.whole());
        for piece in pieces(line) {
            let is_long = goes_by_spacing(line, piece);
            let Some(span) = from_first_to_last(line, piece, is_long) else {
                continue;
            };
            // Most sills are one piece.
            let by_row = if span == line.whole() {
                of_whole
            } else {
                by_mildest_row(line, span)
            };
            let Some(by_row) = by_row.filter(|_| is_long.possible()) else {
                continue;
            };
            // Too far for a long piece; but the piece may be short and go by number.
            let answer = match is_long {
                Truth::True => by_row.answer,
                _ => by_row.answer.or(Truth::Maybe),
            };
            applies = applies.or(is_long);
            strictest.take(answer, by_row);
        }
        // Two things are asked of every wall line, however long its pieces are: an anchor at all, and no
        // distance longer than a short piece with an anchor near each end could hold.
        if let Some(whole) = of_whole
            && !whole.rule.is_open()
        {
            let answer = has_any(line).and(fits_short_pieces(line));
            applies = applies.or(!answer);
            if answer != Truth::True {
                strictest.take(answer, whole);
            }
        }
        let shown = strictest.at.or(of_whole);
        Self {
            answer: strictest.answer,
            applies,
            rule: shown.map_or(Rule::NotRegulated, |shown| shown.rule),
            worst: shown.and_then(|shown| shown.worst),
            best: shown.and_then(|shown| shown.best),
        }
    }
}

/// The stretch over which the spacing is asked for: a piece together with those that follow it and are as
/// long, because a splice holds nothing. `None` for a piece that follows another and went with it.
fn from_first_to_last(line: &Line<'_>, piece: Piece, is_long: Truth) -> Option<Span> {
    if is_long != Truth::True {
        return Some(piece.span);
    }
    let long = || pieces(line).filter(|other| goes_by_spacing(line, *other) == Truth::True);
    if piece.is_recorded && long().any(|other| other.is_recorded && other.span.to == Some(piece.span.from)) {
        return None;
    }
    let mut span = piece.span;
    // Each turn goes on to a piece farther along, so there are no more turns than pieces.
    while let Some(next) = long().find(|other| Some(other.span.from) == span.to && other.span.to > span.to) {
        span.to = next.span.to;
    }
    Some(span)
}

/// Whether a sill piece is long enough for the spacing to be asked for.
fn goes_by_spacing(line: &Line<'_>, piece: Piece) -> Truth {
    match line.rule(keys::SPACING_APPLIES_OVER) {
        Rule::Given { value: over, .. } if piece.is_recorded => piece
            .span
            .length()
            .map_or(Truth::Maybe, |length| (length > over).into()),
        Rule::Given { .. } | Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

/// The anchors of a piece may answer to any one diameter and its spacing: the row they answer to best.
fn by_mildest_row(line: &Line<'_>, span: Span) -> Option<ByRow> {
    let rows = line.requirement.all(keys::ANCHOR_SPACING);
    let thinnest = rows.clone().filter_map(|(case, _)| case.diameter).min();
    let by_rows = rows.map(|(row, rule)| {
        let stouter_than = row.diameter.filter(|diameter| Some(*diameter) != thinnest);
        let worst = largest_gap(line, span, Case::Worst, stouter_than);
        let best = largest_gap(line, span, Case::Best, stouter_than).map(|(gap, _)| gap);
        let answer = match (rule, best, worst) {
            (Rule::Given { value: limit, .. }, Some(best), Some((worst, _))) => {
                Truth::from_cases(best <= limit, worst <= limit)
            }
            (Rule::Given { .. } | Rule::Missing(_), ..) => Truth::Maybe,
            (Rule::Silent(_) | Rule::NotRegulated, ..) => Truth::True,
        };
        ByRow {
            answer,
            rule,
            worst,
            best,
        }
    });
    by_rows.reduce(|mildest, row| {
        let is_milder = if row.answer == mildest.answer {
            // Both come to the same: the one that is nearer to being met tells more.
            row.shortfall() < mildest.shortfall()
        } else {
            row.answer.or(mildest.answer) == row.answer
        };
        if is_milder { row } else { mildest }
    })
}

/// Whether there is an anchor that counts at all.
fn has_any(line: &Line<'_>) -> Truth {
    let best = anchors(line, Case::Best).next().is_some() || may_be_unseen(line, line.whole());
    Truth::from_cases(best, anchors(line, Case::Worst).next().is_some())
}

/// Whether no distance is longer than the longest piece that goes by number can hold between an anchor near
/// each of its ends. A longer one lies in a long piece, or leaves the end of a piece without its anchor.
fn fits_short_pieces(line: &Line<'_>) -> Truth {
    let (Some(over), Some(_)) = (
        line.rule(keys::SPACING_APPLIES_OVER).value(),
        line.rule(keys::MAX_END_DISTANCE).value(),
    ) else {
        return Truth::True;
    };
    let end = line.rule(keys::MIN_END_DISTANCE).value().unwrap_or(Length::ZERO);
    let longest = over.saturating_sub(end).saturating_sub(end);
    let gap = |case| largest_gap(line, line.whole(), case, None);
    match (gap(Case::Best), gap(Case::Worst)) {
        (Some((best, _)), Some((worst, _))) => Truth::from_cases(best <= longest, worst <= longest),
        _ => Truth::Maybe,
    }
}

/// Whether an anchor answers to a row for stouter anchors than the thinnest that count.
pub(in crate::check) fn is_stout(anchor: &Anchor, diameter: Length) -> Truth {
    anchor.diameter.at_least(diameter).and(!has_no_rod(anchor))
}

/// Whether an anchor answers to each row for anchors of a diameter or stouter.
pub(in crate::check) fn stoutness(anchor: &Anchor, line: &Line<'_>) -> impl Iterator<Item = Truth> {
    let rows = line.requirement.all(keys::ANCHOR_SPACING);
    rows.filter_map(|(row, _)| Some(is_stout(anchor, row.diameter?)))
}

/// The largest distance without an anchor in a stretch. `None` when it is not known how long that is.
fn largest_gap(
    line: &Line<'_>,
    span: Span,
    case: Case,
    stouter_than: Option<Length>,
) -> Option<(Length, Span)> {
    let end = span.to?;
    if case == Case::Best && line.wall.anchors.value().is_none() {
        return Some((Length::ZERO, Span::new(span.from, span.from)));
    }
    let stands = anchors(line, case)
        .filter(|anchor| stouter_than.is_none_or(|diameter| case.holds(is_stout(anchor, diameter))))
        .map(|anchor| Stand::of(anchor, case));
    let hidden = unseen(line).filter(|_| case == Case::Best).map(Stand::anywhere);
    let stands = stands.chain(hidden);

    let mut largest = (Length::ZERO, Span::new(span.from, span.from));
    let mut from = span.from;
    // From one known station to the next. In between there are only the inner anchors of runs, and the
    // closest run sets how far apart they can be.
    while from < end {
        let stations = stands
            .clone()
            .flat_map(|stand| [stand.first, stand.last])
            .flatten();
        let to = stations.filter(|station| *station > from).min();
        let to = to.map_or(end, |to| to.min(end));
        let stretch = to.saturating_sub(from);
        let runs = stands.clone().filter(|stand| stand.covers(from, to));
        let gap = runs.filter_map(|run| run.apart).fold(stretch, Ord::min);
        if gap > largest.0 {
            largest = (gap, Span::new(from, from.saturating_add(gap)));
        }
        from = to;
    }
    Some(largest)
}
