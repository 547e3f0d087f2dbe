//! Whether the gaps between panels are small enough.

use super::bracing::NO_CRIPPLE_WALL;
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "panel-gaps",
    group: Group::Bracing,
    title: "Gaps between panels",
    explanation: Explanation {
        looks_at: "The largest clear distance between two panels that count, or between a panel and the end of the cripple wall.",
        why: "A long stretch without a panel has to carry its push along the plates, which part at their joints.",
        satisfied_by: "No gap larger than the provisions allow, where they give a figure.",
        fix: "Add a panel in the gap.",
    },
    figures: &[FigureName::MaxPanelGap],
    reads: &[
        LookAt::WallLength,
        LookAt::CrippleWall,
        LookAt::Panels,
        LookAt::PanelGap,
    ],
    limit_is_a_maximum: true,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let bracing = line.bracing();
    let judgment = Judgment::by(line.rule(keys::MAX_PANEL_GAP), |limit| {
        let measured = match bracing.gap {
            Some((worst, best, _)) if worst == best => Quantity::Length(worst),
            Some((worst, best, _)) => Quantity::LengthBetween(Some(best), Some(worst)),
            None => Quantity::None,
        };
        Judgment::met_if(bracing.gaps_small_enough)
            .facts(
                "No gap between panels that count is larger than allowed.",
                "A gap between panels that count is larger than allowed.",
                "Whether the gaps are small enough depends on something that was not seen.",
            )
            .measured(measured)
            .required(Quantity::Length(limit))
            .span(bracing.gap.map(|(_, _, span)| span))
            .applicable_if(line.has_cripple_wall(), NO_CRIPPLE_WALL, LookAt::CrippleWall)
    });
    let has_summary = line
        .wall
        .panels
        .value()
        .into_iter()
        .flatten()
        .any(|panel| panel.stations().is_none());
    let look_at = if has_summary {
        LookAt::PanelGap
    } else {
        LookAt::Panels
    };
    findings.add(
        judgment
            .about(LookAt::Panels, None)
            .basis(line.wall.panels.basis())
            .decided_by(look_at),
    );
}
