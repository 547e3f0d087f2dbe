//! How near an anchor that counts is to each end of each sill piece.

use super::number::{has_one, single_anchor_is_enough};
use super::stand::Stand;
use super::{Case, Piece, Strictest, anchors, counted, may_be_unseen, pieces};
use crate::check::anchor_diameter::has_no_rod;
use crate::check::context::Line;
use crate::house::{Anchor, Placement, Span};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{Rule, keys};

/// How near an anchor that counts is to each end of each sill piece.
#[derive(Clone, Copy, Debug)]
pub(in crate::check) struct Ends {
    pub(in crate::check) answer: Truth,
    /// The end that is farthest from having one: its sill piece, and the distance of its nearest anchor.
    pub(in crate::check) at: Option<(Span, Option<Length>)>,
    pub(in crate::check) least: Length,
    pub(in crate::check) most: Rule<Length>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Start,
    End,
}

impl Ends {
    pub(in crate::check) fn of(line: &Line<'_>) -> Self {
        let most = line.rule(keys::MAX_END_DISTANCE);
        let mut strictest = Strictest::new();
        match most {
            Rule::Given { value: limit, .. } => {
                for piece in pieces(line) {
                    for side in [Side::Start, Side::End] {
                        let (answer, nearest) = at_end(line, piece, side, limit);
                        strictest.take(answer, (piece.span, nearest));
                    }
                }
            }
            Rule::Missing(_) => strictest.answer = Truth::Maybe,
            Rule::Silent(_) | Rule::NotRegulated => {}
        }
        Self {
            answer: strictest.answer,
            at: strictest.at,
            least: line.rule(keys::MIN_END_DISTANCE).value().unwrap_or(Length::ZERO),
            most,
        }
    }
}

/// Whether one end of a piece has its anchor, and how near the nearest stands.
fn at_end(line: &Line<'_>, piece: Piece, side: Side, most: Length) -> (Truth, Option<Length>) {
    let (near, nearest) = near_end(line, piece.span, side, most);
    let known = piece.is_recorded.then_some(piece.span);
    let answer = match single_anchor_is_enough(line, known) {
        // One anchor, at the middle of a short piece.
        (Truth::True, _) => has_one(line, piece.span),
        (Truth::Maybe, up_to) => near.or(may_hold_a_short_piece(line, piece.span, side, up_to)),
        (Truth::False, _) => near,
    };
    // Where pieces were not recorded there may be more ends along the wall line.
    let answer = if piece.is_recorded {
        answer
    } else {
        answer.and(Truth::Maybe)
    };
    (answer, nearest)
}

/// For each sill piece, whether a single anchor is enough for it, and whether it has one.
pub(in crate::check) fn short_pieces<'a>(line: &'a Line<'_>) -> impl Iterator<Item = [Truth; 2]> + 'a {
    pieces(line).map(|piece| {
        let known = piece.is_recorded.then_some(piece.span);
        let (is_short, _) = single_anchor_is_enough(line, known);
        [is_short, is_short.and(has_one(line, piece.span))]
    })
}

/// Whether an anchor stands so that a piece at this end of the stretch, if it were short, could go by it.
fn may_hold_a_short_piece(line: &Line<'_>, span: Span, side: Side, up_to: Option<Length>) -> Truth {
    let within = match (side, up_to, span.to) {
        (Side::Start, Some(up_to), _) => Span::new(span.from, span.from.saturating_add(up_to)),
        (Side::End, Some(up_to), Some(end)) => Span::new(end.saturating_sub(up_to), end),
        _ => span,
    };
    let reached = anchors(line, Case::Best).any(|anchor| Stand::of(anchor, Case::Best).reaches_into(within));
    if reached { Truth::Maybe } else { Truth::False }
}

/// Whether an anchor that counts stands near enough to one end of a piece, and how near the nearest stands.
fn near_end(line: &Line<'_>, piece: Span, side: Side, most: Length) -> (Truth, Option<Length>) {
    let mut answer = Truth::False;
    let mut nearest: Option<Length> = None;
    let distances = counted(line).flat_map(|(anchor, counts)| {
        let of_both = [distance(anchor, piece, side), far_end_of_run(anchor, piece, side)];
        of_both
            .into_iter()
            .flatten()
            .map(move |distance| (anchor, counts, distance))
    });
    for (anchor, counts, distance) in distances {
        if let (true, Some(farthest)) = (counts.possible(), distance.1) {
            nearest = Some(nearest.map_or(farthest, |other| other.min(farthest)));
        }
        let near_enough = Truth::from_cases(
            distance.0.is_none_or(|least| least <= most),
            distance.1.is_some_and(|farthest| farthest <= most),
        );
        answer = answer.or(counts.and(near_enough).and(is_far_enough(line, anchor, distance)));
    }
    let window = match (side, piece.to) {
        (Side::Start, _) => Span::new(piece.from, piece.from.saturating_add(most)),
        (Side::End, Some(end)) => Span::new(end.saturating_sub(most), end),
        (Side::End, None) => piece,
    };
    if may_be_unseen(line, window) {
        answer = answer.or(Truth::Maybe);
    }
    (answer, nearest)
}

/// A distance by the least and the most it can be.
type Bounds = (Option<Length>, Option<Length>);

/// Whether an anchor stands far enough from the end: by a distance, and by a number of its own diameters.
fn is_far_enough(line: &Line<'_>, anchor: &Anchor, distance: Bounds) -> Truth {
    let at_least = |(least, most): Bounds| {
        Truth::from_cases(
            distance
                .1
                .is_none_or(|farthest| least.is_none_or(|least| farthest >= least)),
            distance
                .0
                .is_some_and(|nearest| most.is_some_and(|most| nearest >= most)),
        )
    };
    let by_distance = match line.rule(keys::MIN_END_DISTANCE) {
        Rule::Given { value, .. } => at_least((Some(value), Some(value))),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    };
    let by_diameters = match line.rule(keys::MIN_END_DIAMETERS) {
        Rule::Given { value, .. } => {
            let times = |diameter: Option<&Length>| diameter.and_then(|d| d.times(i64::from(value)));
            let (thinnest, stoutest) = anchor.diameter.bounds();
            // A plate or strap beside the sill has no rod to be counted by.
            at_least((times(thinnest), times(stoutest))).or(has_no_rod(anchor))
        }
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    };
    by_distance.and(by_diameters)
}

/// The distance from an end of a piece to the anchor at the other end of a run, where that was found: it stands
/// there wherever the others do.
fn far_end_of_run(anchor: &Anchor, piece: Span, side: Side) -> Option<Bounds> {
    let Placement::Run { first, last, .. } = anchor.placement() else {
        return None;
    };
    let station = if side == Side::Start { last } else { first };
    let station = station.filter(|station| holds(piece, *station))?;
    Some(exactly(piece, side, station))
}

fn holds(piece: Span, station: Length) -> bool {
    piece.from <= station && piece.to.is_none_or(|to| station <= to)
}

fn exactly(piece: Span, side: Side, station: Length) -> Bounds {
    let end = match side {
        Side::Start => Some(piece.from),
        Side::End => piece.to,
    };
    let distance = end.map(|end| end.abs_diff(station));
    (distance, distance)
}

/// The distance from an end of a piece to the nearest anchor of a record; `None` where the record has no
/// anchor in the piece.
fn distance(anchor: &Anchor, piece: Span, side: Side) -> Option<Bounds> {
    match anchor.placement() {
        Placement::At(at) => Some(at)
            .filter(|at| holds(piece, *at))
            .map(|at| exactly(piece, side, at)),
        Placement::Run { first, last, .. } => {
            let outermost = if side == Side::Start { first } else { last };
            match outermost.filter(|station| holds(piece, *station)) {
                Some(station) => Some(exactly(piece, side, station)),
                // A run that goes on past this end: how its anchors fall here is known only by the distance
                // that was measured at ends.
                None if Stand::of(anchor, Case::Best).reaches_into(piece) => {
                    let (least, most) = anchor.end_distance.bounds();
                    Some((least.copied(), most.copied()))
                }
                None => None,
            }
        }
    }
}
