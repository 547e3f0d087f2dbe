//! How many anchors that count each sill piece has.

use super::stand::Stand;
use super::{Case, Strictest, anchors, may_be_unseen, pieces};
use crate::check::context::Line;
use crate::house::Span;
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{FigureId, Requirement, Rule, keys};

/// No table asks for more anchors in a sill piece, so that counting stops here.
const MOST_COUNTED: u32 = 1000;

/// How many anchors that count each sill piece has.
#[derive(Clone, Copy, Debug)]
pub(in crate::check) struct Number {
    pub(in crate::check) answer: Truth,
    pub(in crate::check) applies: Truth,
    /// The piece that is farthest from having enough.
    pub(in crate::check) at: Option<InPiece>,
    pub(in crate::check) figure: Option<FigureId>,
}

/// The anchors in one piece.
#[derive(Clone, Copy, Debug)]
pub(in crate::check) struct InPiece {
    pub(in crate::check) span: Span,
    pub(in crate::check) least: u32,
    /// `None` where part of the piece was not seen.
    pub(in crate::check) most: Option<u32>,
    pub(in crate::check) needed: u32,
}

impl Number {
    pub(in crate::check) fn of(line: &Line<'_>) -> Self {
        let mut number = Self {
            answer: Truth::True,
            applies: Truth::False,
            at: None,
            figure: None,
        };
        let Some((_, first)) = line.requirement.all(keys::ANCHORS_PER_PIECE).next() else {
            return number;
        };
        number.figure = first.figure();
        if first.is_open() {
            return number;
        }
        let mut strictest: Strictest<(InPiece, FigureId)> = Strictest::new();
        for piece in pieces(line) {
            let rule = if piece.is_recorded {
                required(line, piece.span)
            } else {
                None
            };
            match rule {
                Some(Rule::Given { value, figure, .. }) => {
                    let in_piece = InPiece {
                        span: piece.span,
                        least: count(line, piece.span, Case::Worst, MOST_COUNTED).unwrap_or(0),
                        most: count(line, piece.span, Case::Best, MOST_COUNTED),
                        needed: value,
                    };
                    let best = in_piece.most.is_none_or(|most| most >= value);
                    number.applies = Truth::True;
                    strictest.take(
                        Truth::from_cases(best, in_piece.least >= value),
                        (in_piece, figure),
                    );
                }
                // Longer than every row: it goes by spacing.
                Some(Rule::Silent(_) | Rule::NotRegulated) => {}
                // The pieces are not known, or how long this one is, or its figure.
                Some(Rule::Missing(_)) | None => {
                    number.applies = number.applies.or(Truth::Maybe);
                    number.answer = number.answer.and(Truth::Maybe);
                }
            }
        }
        number.answer = number.answer.and(strictest.answer);
        if let Some((in_piece, figure)) = strictest.at {
            number.at = Some(in_piece);
            number.figure = Some(figure);
        }
        number
    }
}

/// What is asked of a piece; `None` where its length is not known.
fn required(line: &Line<'_>, span: Span) -> Option<Rule<u32>> {
    span.length().map(|length| required_of(line.requirement, length))
}

/// What is asked of a piece of some length.
pub(in crate::check) fn required_of(requirement: &Requirement, length: Length) -> Rule<u32> {
    let rows = requirement.all(keys::ANCHORS_PER_PIECE).filter(|(case, _)| {
        case.piece_over.is_none_or(|over| length > over)
            && case.piece_up_to.is_none_or(|up_to| length <= up_to)
    });
    // Of two rows for a piece of this length one is the narrower, and holds: the loader saw to it.
    let row = rows.reduce(|one, other| if one.0.covers(&other.0) { other } else { one });
    row.map_or(Rule::NotRegulated, |(_, rule)| rule)
}

/// Whether a piece is so short that a single anchor holds it; and up to what length a piece is.
pub(super) fn single_anchor_is_enough(line: &Line<'_>, span: Option<Span>) -> (Truth, Option<Length>) {
    let mut rows = line.requirement.all(keys::ANCHORS_PER_PIECE);
    let row = rows.find(|(_, rule)| rule.value() == Some(1));
    let Some((case, _)) = row else {
        return (Truth::False, None);
    };
    let answer = match span.and_then(|span| required(line, span)) {
        Some(rule) => (rule.value() == Some(1)).into(),
        None => Truth::Maybe,
    };
    (answer, case.piece_up_to)
}

/// Whether there is an anchor that counts in a stretch.
pub(super) fn has_one(line: &Line<'_>, span: Span) -> Truth {
    let any = |case| count(line, span, case, 1);
    Truth::from_cases(
        any(Case::Best).is_none_or(|most| most > 0),
        any(Case::Worst) > Some(0),
    )
}

/// The number of anchors that count in a piece; two closer than the least distance count as one. `None`
/// where part of the piece was not seen or it is not known where it ends.
fn count(line: &Line<'_>, span: Span, case: Case, stop_at: u32) -> Option<u32> {
    let end = span.to?;
    if case == Case::Best && may_be_unseen(line, span) {
        return None;
    }
    let apart = match (line.rule(keys::MIN_ANCHOR_SPACING), case) {
        (Rule::Given { value, .. }, _) => value,
        // How far apart is not known: a single one is all that surely counts.
        (Rule::Missing(_), Case::Worst) => end,
        _ => Length::ZERO,
    };
    let mut total = 0;
    let mut from = span.from;
    // Taking the nearest anchor ahead each time finds as many as there can be, so that one more anchor never
    // makes fewer.
    while from <= end && total < stop_at {
        let next = anchors(line, case)
            .filter_map(|anchor| Stand::of(anchor, case).next_from(from, span.from, case))
            .filter(|at| *at <= end)
            .min();
        let Some(next) = next else { break };
        total += 1;
        from = next.saturating_add(apart.max(Length::from_nanometers(1)));
    }
    Some(total)
}
