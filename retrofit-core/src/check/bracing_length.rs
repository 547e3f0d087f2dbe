//! Whether enough of the cripple wall is braced.

use super::bracing::{has_summary, where_there_is_a_cripple_wall};
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::FigureName;

pub(super) static CHECK: Check = Check {
    name: "bracing-length",
    group: Group::Bracing,
    title: "Length of bracing",
    explanation: Explanation {
        looks_at: "The length of all panels that count, together, against the share of the cripple wall that has to be braced for this number of stories and weight.",
        why: "Each wall line has to carry its own part of the push; one with too little bracing folds, and the floor above comes down with it. Short end walls need it as much as long sides.",
        satisfied_by: "Panels that count over at least the share asked for.",
        fix: "Add braced panels.",
    },
    figures: &[FigureName::BracedShare],
    reads: &[
        LookAt::WallLength,
        LookAt::CrippleWall,
        LookAt::Panels,
        LookAt::PanelLength,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let bracing = line.bracing();
    let judgment = Judgment::by(bracing.share, |share| {
        let measured = match bracing.length {
            (worst, Some(best)) if worst == best => Quantity::Length(worst),
            (worst, best) => Quantity::LengthBetween(Some(worst), best),
        };
        let required = bracing
            .base
            .map_or(Quantity::Percent(share), |base| Quantity::Share(share, base));
        let mut judgment = Judgment::met_if(bracing.long_enough)
            .facts(
                "Enough of the cripple wall is braced by panels that count.",
                "Less of the cripple wall is braced by panels that count than asked for.",
                "Whether enough of the cripple wall is braced depends on something that was not seen.",
            )
            .measured(measured)
            .required(required);
        if bracing.base.is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
        judgment.decided_by(if has_summary(line) {
            LookAt::PanelLength
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
