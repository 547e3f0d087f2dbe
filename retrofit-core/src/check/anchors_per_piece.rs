//! Whether every sill piece has enough anchors that count.

use super::anchorage::what_decides_whether_anchors_count;
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "anchors-per-piece",
    group: Group::Anchorage,
    title: "Anchors in each sill piece",
    explanation: Explanation {
        looks_at: "The number of anchors that count in each sill piece, by the length of the piece.",
        why: "A piece with one bolt turns about it; a piece with none is only lying there.",
        satisfied_by: "The least number of anchors in every piece; two closer than the least distance count as one.",
        fix: "Add anchors to the pieces that have too few.",
    },
    figures: &[FigureName::AnchorsPerPiece, FigureName::MinAnchorSpacing],
    reads: &[LookAt::WallLength, LookAt::Sill, LookAt::Anchors],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let number = line.anchorage().number;
    let mut judgment = Judgment::met_if(number.answer).facts(
        "Every sill piece has the number of anchors asked for.",
        "A sill piece has fewer anchors that count than asked for.",
        "Whether every sill piece has enough anchors depends on something that was not seen.",
    );
    if let Some(in_piece) = number.at {
        let found = match in_piece.most {
            Some(most) if most == in_piece.least => Quantity::Count(most),
            Some(most) => Quantity::CountBetween(in_piece.least, most),
            None => Quantity::None,
        };
        judgment = judgment
            .measured(found)
            .required(Quantity::Count(in_piece.needed))
            .span(Some(in_piece.span));
    }
    if line.sill().is_empty() {
        judgment = judgment.decided_by(LookAt::Sill);
    }
    for look_at in what_decides_whether_anchors_count(line) {
        judgment = judgment.decided_by(look_at);
    }
    let mut judgment = judgment.applicable_if(
        number.applies,
        "No sill piece here is of a length for which a number of anchors is asked.",
        LookAt::Sill,
    );
    if let Some(figure) = number.figure {
        judgment = judgment.figure(figure);
    }
    if number.at.is_some() {
        judgment = judgment
            .figure_of(line.rule(keys::MIN_ANCHOR_SPACING))
            .decided_by(LookAt::Anchors);
    }
    findings.add(
        judgment
            .about(LookAt::Sill, None)
            .basis(line.wall.anchors.basis()),
    );
}
