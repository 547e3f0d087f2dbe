//! Whether every sill piece has enough anchors that count.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::observation::Truth;
use crate::provisions::FigureName;

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
    let pieces = line.anchorage().pieces;
    let judgment = if pieces.applies == Truth::False {
        Judgment::not_applicable("No sill piece here is of a length for which a number of anchors is asked.")
    } else {
        let mut judgment = Judgment::met_if(pieces.answer).facts(
            "Every sill piece has the number of anchors asked for.",
            "A sill piece has fewer anchors that count than asked for.",
            "Whether every sill piece has enough anchors depends on something that was not seen.",
        );
        if let Some((span, least, most, needed)) = pieces.at {
            let found = match most {
                _ if least == most => Quantity::Count(least),
                u32::MAX => Quantity::None,
                _ => Quantity::CountBetween(least, most),
            };
            judgment = judgment
                .measured(found)
                .required(Quantity::Count(needed))
                .span(Some(span));
        }
        let judgment = if line.sill().is_empty() {
            judgment.decided_by(LookAt::Sill)
        } else {
            judgment
        };
        judgment.applicable_if(pieces.applies, "", LookAt::Sill)
    };
    let judgment = match pieces.figure {
        Some(figure) => judgment.figure(figure),
        None => judgment,
    };
    findings.add(
        judgment
            .about(LookAt::Sill, None)
            .basis(line.wall.anchors.basis())
            .decided_by(LookAt::Anchors),
    );
}
