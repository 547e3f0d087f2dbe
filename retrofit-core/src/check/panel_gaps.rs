//! Whether the gaps between panels are small enough.

use super::bracing::{has_summary, where_there_is_a_cripple_wall};
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
            Some(gap) if gap.worst == gap.best => Quantity::Length(gap.worst),
            Some(gap) => Quantity::LengthBetween(Some(gap.best), Some(gap.worst)),
            None => Quantity::None,
        };
        let mut judgment = Judgment::met_if(bracing.gaps_small_enough)
            .facts(
                "No gap between panels that count is larger than allowed.",
                "A gap between panels that count is larger than allowed.",
                "Whether the gaps are small enough depends on something that was not seen.",
            )
            .measured(measured)
            .required(Quantity::Length(limit))
            .span(bracing.gap.map(|gap| gap.span));
        if bracing.gap.is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
        judgment.decided_by(if has_summary(line) {
            LookAt::PanelGap
        } else {
            LookAt::Panels
        })
    });
    findings.add(
        where_there_is_a_cripple_wall(line, judgment)
            .about(LookAt::Panels, None)
            .basis(line.wall.panels.basis()),
    );
}
