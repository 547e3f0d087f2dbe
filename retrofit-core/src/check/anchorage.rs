//! Which anchors count, and whether those that count are enough: shared by the checks on anchorage.
//!
//! An anchor counts when its kind, diameter, washer, embedment, edge distance and condition are what the
//! provisions ask. Spacing, end distance and number are judged over the anchors that count; the checks on
//! single properties tell why others do not. So an anchor more never makes a wall line worse: at worst it
//! does not count.

mod ends;
mod number;
mod spacing;
mod stand;

pub(super) use self::ends::{Ends, short_pieces};
pub(super) use self::number::{Number, required_of as anchors_required_of};
pub(super) use self::spacing::{Spacing, is_stout, stoutness};

use super::anchor_condition;
use super::anchor_diameter;
use super::anchor_edge_distance;
use super::anchor_embedment;
use super::anchor_kind;
use super::anchor_washer;
use super::context::Line;
use super::credit::{Credit, CreditWords};
use super::finding::{Found, Judgment};
use super::look_at::LookAt;
use crate::house::{Anchor, Parts, Span, Unseen};
use crate::observation::{Basis, Truth};
use crate::provisions::{Requirement, Rule, keys};

/// A property by which an anchor counts or does not.
pub(super) type Property = fn(&Anchor, &Requirement) -> Truth;

/// Every property an anchor has to have, with the observation behind it.
pub(super) const PROPERTIES: [(Property, LookAt); 7] = [
    (anchor_kind::counts, LookAt::AnchorKind),
    (anchor_diameter::counts, LookAt::AnchorDiameter),
    (anchor_washer::counts, LookAt::AnchorWasher),
    (anchor_embedment::counts, LookAt::AnchorEmbedment),
    (anchor_edge_distance::counts, LookAt::AnchorEdge),
    (anchor_condition::nut_counts, LookAt::AnchorTightness),
    (anchor_condition::steel_counts, LookAt::AnchorCorrosion),
];

/// Whether an anchor counts.
pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    let mut truth = Truth::True;
    for (property, _) in PROPERTIES {
        truth = truth.and(property(anchor, requirement));
        if truth == Truth::False {
            break; // nothing else can make it count
        }
    }
    truth
}

/// The observations that leave it open whether some anchor counts.
pub(super) fn what_decides_whether_anchors_count<'a>(
    line: &'a Line<'_>,
) -> impl Iterator<Item = LookAt> + 'a {
    let is_open = |property: Property| {
        counted(line)
            .any(|(anchor, counts)| counts.possible() && property(anchor, line.requirement) == Truth::Maybe)
    };
    PROPERTIES
        .into_iter()
        .filter(move |(property, _)| is_open(*property))
        .map(|(_, look_at)| look_at)
}

/// Spacing, ends and number together: whether the anchors that count are enough.
fn enough(line: &Line<'_>) -> Truth {
    line.spacing()
        .answer
        .and(line.ends().answer)
        .and(line.number().answer)
}

/// Whether the provisions ask for any number of anchors, by spacing, ends or pieces.
fn amount_is_asked(line: &Line<'_>) -> bool {
    line.requirement
        .all(keys::ANCHOR_SPACING)
        .any(|(_, rule)| !rule.is_open())
        || line
            .requirement
            .all(keys::ANCHORS_PER_PIECE)
            .any(|(_, rule)| !rule.is_open())
        || !line.rule(keys::MAX_END_DISTANCE).is_open()
}

/// The end of the unknowns that is reckoned with: the anchors that surely count, as far apart as they can
/// be, or all that may count, as close as they can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Case {
    Worst,
    Best,
}

impl Case {
    fn holds(self, truth: Truth) -> bool {
        match self {
            Self::Worst => truth.certain(),
            Self::Best => truth.possible(),
        }
    }
}

/// The strictest answer over several places, and what was found at that place.
struct Strictest<T> {
    answer: Truth,
    at: Option<T>,
}

impl<T> Strictest<T> {
    const fn new() -> Self {
        Self {
            answer: Truth::True,
            at: None,
        }
    }

    fn take(&mut self, answer: Truth, at: T) {
        let is_stricter = answer != self.answer && answer.and(self.answer) == answer;
        if self.at.is_none() || is_stricter {
            self.at = Some(at);
        }
        self.answer = self.answer.and(answer);
    }
}

/// A sill piece, or the whole wall line where the pieces were not recorded.
#[derive(Clone, Copy)]
struct Piece {
    span: Span,
    is_recorded: bool,
}

/// The sill pieces of a wall line; stretches for which none was recorded stand for pieces not known.
fn pieces<'a>(line: &'a Line<'_>) -> impl Iterator<Item = Piece> + Clone + 'a {
    let recorded = line.sill().iter().map(|piece| Piece {
        span: piece.span(line.length()),
        is_recorded: true,
    });
    let covered = line.is_covered_by(line.sill().iter().map(|piece| piece.span(line.length())));
    // Where the sill was not seen a piece may end.
    let all_seen = line.wall.unseen_of(Parts::Sill).next().is_none();
    recorded.chain((!(covered && all_seen)).then(|| Piece {
        span: line.whole(),
        is_recorded: false,
    }))
}

/// Whether some piece of the sill is not known.
pub(super) fn may_have_other_pieces(line: &Line<'_>) -> bool {
    pieces(line).any(|piece| !piece.is_recorded)
}

/// Whether each of the first anchors of a wall line counts: asked for so often that it is worked out once.
pub(super) type FirstCounts = [Truth; 32];

/// The anchors of a wall line, each with whether it counts.
fn counted<'a>(line: &'a Line<'_>) -> impl Iterator<Item = (&'a Anchor, Truth)> + Clone + 'a {
    let list = line.wall.anchors.listed();
    let first = line.first_anchor_counts(|| {
        let mut first = [Truth::Maybe; 32];
        for (slot, anchor) in first.iter_mut().zip(list) {
            *slot = counts(anchor, line.requirement);
        }
        first
    });
    list.iter().enumerate().map(move |(item, anchor)| {
        let known = first.get(item).copied();
        (anchor, known.unwrap_or_else(|| counts(anchor, line.requirement)))
    })
}

/// The anchors to reckon with.
fn anchors<'a>(line: &'a Line<'_>, case: Case) -> impl Iterator<Item = &'a Anchor> + Clone + 'a {
    counted(line)
        .filter(move |(_, counts)| case.holds(*counts))
        .map(|(anchor, _)| anchor)
}

/// The stretches in which anchors may stand that nobody saw.
fn unseen<'a>(line: &'a Line<'_>) -> impl Iterator<Item = Span> + Clone + 'a {
    let length = line.length();
    line.wall
        .unseen_of(Parts::Anchors)
        .map(move |unseen: &Unseen| unseen.span(length))
}

/// Whether anchors may stand within a stretch, its ends included, that nobody saw.
fn may_be_unseen(line: &Line<'_>, within: Span) -> bool {
    line.wall.anchors.value().is_none()
        || unseen(line).any(|unseen| {
            within.to.is_none_or(|to| unseen.from <= to) && unseen.to.is_none_or(|to| to >= within.from)
        })
}

/// How what all anchors together come to is known: as the list, and as what is recorded of them.
pub(super) fn basis(line: &Line<'_>, of: impl Fn(&Anchor) -> Option<Basis>) -> Option<Basis> {
    let list = &line.wall.anchors;
    let weakest = list.listed().iter().filter_map(of).max();
    list.basis().max(weakest)
}

/// The judgment on one property of the anchors: shared by the checks on kind, diameter, washer, embedment,
/// edge distance and condition.
pub(super) fn judge_property<T: Copy>(
    line: &Line<'_>,
    rule: Rule<T>,
    property: Property,
    look_at: LookAt,
    show: impl Fn(&Anchor) -> Found,
) -> Judgment {
    let has_property = |anchor: &Anchor| property(anchor, line.requirement);
    Judgment::by(rule, |_| {
        let judgment = Credit {
            list: &line.wall.anchors,
            enough: enough(line),
            amount_is_asked: amount_is_asked(line),
            look_at_list: LookAt::Anchors,
            words: CreditWords {
                not_recorded: "The anchors of this wall line were not recorded.",
                none: "There are no anchors to judge.",
                all: "Every anchor recorded here has what is asked for.",
                surplus: "Enough anchors have what is asked for; those that do not are surplus.",
                no_amount: "Anchors here lack what is asked for; how many are needed these provisions do not say.",
                failing: "Anchors here lack what is asked for and do not count.",
                open: "Whether these anchors count depends on something that was not seen.",
            },
        }
        .judge(look_at, has_property, &show, |anchor| {
            anchor.at.map(|at| Span::new(at, at))
        });
        // What is asked of a bolt is not asked of a plate or strap, so its kind may decide as well.
        let kind_may_decide = line
            .wall
            .anchors
            .listed().iter()
            .any(|anchor| !anchor.kind.is_known() && has_property(anchor) == Truth::Maybe);
        if kind_may_decide {
            judgment.decided_by(LookAt::AnchorKind)
        } else {
            judgment
        }
    })
    .or_about(look_at)
}
