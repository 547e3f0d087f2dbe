//! Whether the anchors that count stand close enough together.

use super::anchorage::what_decides_whether_anchors_count;
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::Parts;
use crate::observation::Truth;
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-spacing",
    group: Group::Anchorage,
    title: "Anchor spacing",
    explanation: Explanation {
        looks_at: "The largest distance along the sill without an anchor that counts, for the anchor diameter and number of stories.",
        why: "The house is pushed sideways at the floor; where anchors are missing or far apart, the sill slides off the foundation.",
        satisfied_by: "No more than the largest spacing between anchors that count, along every sill piece. Sill pieces short enough to go by number of anchors are judged by that instead.",
        fix: "Add anchors in the gaps.",
    },
    figures: &[FigureName::AnchorSpacing, FigureName::SpacingAppliesOver],
    reads: &[
        LookAt::WallLength,
        LookAt::Sill,
        LookAt::Anchors,
        LookAt::AnchorSpacing,
        LookAt::AnchorKind,
        LookAt::AnchorDiameter,
        LookAt::AnchorWasher,
        LookAt::AnchorTightness,
        LookAt::AnchorCorrosion,
        LookAt::AnchorEdge,
        LookAt::AnchorEmbedment,
    ],
    limit_is_a_maximum: true,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let spacing = line.anchorage().spacing;
    if spacing.applies == Truth::False && !spacing.rule.is_open() {
        let over = line.rule(keys::SPACING_APPLIES_OVER);
        let judgment =
            Judgment::not_applicable("Every sill piece is short enough to go by its number of anchors.");
        return findings.add(judgment.figure_of(over).about(LookAt::Sill, None));
    }
    let judgment = Judgment::by(spacing.rule, |limit| {
        let measured = match (spacing.best, spacing.worst) {
            (Some(best), Some((worst, _))) if best == worst => Quantity::Length(worst),
            (Some(best), Some((worst, _))) => Quantity::LengthBetween(Some(best), Some(worst)),
            _ => Quantity::None,
        };
        let mut judgment = Judgment::met_if(spacing.answer)
            .facts(
                "The anchors that count stand close enough together.",
                "There is a stretch of sill without an anchor that counts that is longer than allowed.",
                "Whether the anchors stand close enough together depends on something that was not seen.",
            )
            .measured(measured)
            .required(Quantity::Length(limit))
            .span(spacing.worst.map(|(_, span)| span))
            .applicable_if(spacing.applies, "", LookAt::Sill);
        let anchors = line.wall.anchors.value();
        if anchors.is_none() || line.wall.unseen_of(Parts::Anchors).next().is_some() {
            judgment = judgment.decided_by(LookAt::Anchors);
        }
        if line.length().is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
        if anchors
            .into_iter()
            .flatten()
            .any(|anchor| anchor.at.is_none() && !anchor.spacing.is_known())
        {
            judgment = judgment.decided_by(LookAt::AnchorSpacing);
        }
        for look_at in what_decides_whether_anchors_count(line) {
            judgment = judgment.decided_by(look_at);
        }
        judgment
    });
    findings.add(
        judgment
            .about(LookAt::Anchors, None)
            .basis(line.wall.anchors.basis()),
    );
}
