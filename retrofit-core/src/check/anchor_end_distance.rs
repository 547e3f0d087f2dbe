//! Whether an anchor that counts stands near each end of every sill piece.

use super::anchorage::what_decides_whether_anchors_count;
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-end-distance",
    group: Group::Anchorage,
    title: "Anchors near sill ends",
    explanation: Explanation {
        looks_at: "The distance from each end of every sill piece to the nearest anchor that counts.",
        why: "Each piece has to be held at its own ends: too far in, the end kicks out; too near the end, the wood splits out.",
        satisfied_by: "At each end of every piece one anchor that counts, no nearer and no farther than the provisions say.",
        fix: "Add an anchor near each end that lacks one; an old anchor too near the end stays but does not count.",
    },
    figures: &[
        FigureName::MaxEndDistance,
        FigureName::MinEndDistance,
        FigureName::MinEndDiameters,
    ],
    reads: &[
        LookAt::WallLength,
        LookAt::Sill,
        LookAt::Anchors,
        LookAt::AnchorEnds,
    ],
    limit_is_a_maximum: true,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let ends = line.anchorage().ends;
    let judgment = Judgment::by(ends.most, |most| {
        let nearest = ends.at.and_then(|(_, nearest)| nearest);
        let mut judgment = Judgment::met_if(ends.answer)
            .facts(
                "An anchor that counts stands near each end of every sill piece.",
                "An end of a sill piece has no anchor that counts within the distances asked for.",
                "Whether every end of every sill piece has its anchor depends on something that was not seen.",
            )
            .measured(nearest.map_or(Quantity::Word("none near an end"), Quantity::Length))
            .required(Quantity::LengthRange(ends.least, most))
            .span(ends.at.map(|(span, _)| span))
            .figure_of(line.rule(keys::MIN_END_DISTANCE))
            .figure_of(line.rule(keys::MIN_END_DIAMETERS));
        if line.sill().is_empty() {
            judgment = judgment.decided_by(LookAt::Sill);
        }
        let has_open_run = line
            .wall
            .anchors
            .value()
            .into_iter()
            .flatten()
            .any(|anchor| anchor.at.is_none() && !anchor.end_distance.is_known());
        if has_open_run {
            judgment = judgment.decided_by(LookAt::AnchorEnds);
        }
        if line.length().is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
        for look_at in what_decides_whether_anchors_count(line) {
            judgment = judgment.decided_by(look_at);
        }
        judgment.decided_by(LookAt::Anchors)
    });
    findings.add(
        judgment
            .about(LookAt::Anchors, None)
            .basis(line.wall.anchors.basis()),
    );
}
