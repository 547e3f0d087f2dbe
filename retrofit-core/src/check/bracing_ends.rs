//! Whether a braced panel stands at each end of the cripple wall.

use super::bracing::{has_summary, where_there_is_a_cripple_wall};
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::observation::Truth;
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "bracing-ends",
    group: Group::Bracing,
    title: "A panel at each end",
    explanation: Explanation {
        looks_at: "Whether a panel that counts stands at each end of the cripple wall.",
        why: "The corners are where two wall lines help each other; a corner without a panel opens up first.",
        satisfied_by: "A panel that counts at each end, no farther in than about a stud bay unless something is in the way.",
        fix: "Add a panel at the end that has none; move a vent out of the corner where one is in the way.",
    },
    figures: &[FigureName::PanelAtEachEnd, FigureName::MaxEndOffset],
    reads: &[
        LookAt::WallLength,
        LookAt::CrippleWall,
        LookAt::Panels,
        LookAt::PanelEnds,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let bracing = line.bracing();
    let judgment = Judgment::by(line.rule(keys::PANEL_AT_EACH_END), |_| {
        let mut judgment = Judgment::met_if(bracing.at_ends)
            .facts(
                "A panel that counts stands at each end.",
                "An end of the cripple wall has no panel that counts.",
                "Whether a panel that counts stands at each end depends on something that was not seen.",
            )
            .measured(Quantity::Word(match bracing.at_ends {
                Truth::True => "at both ends",
                Truth::False => "missing at an end",
                Truth::Maybe => "not seen at both ends",
            }))
            .required(Quantity::Word("a panel at each end"))
            .span(bracing.bare_end);
        // How near the end is near enough plays no part where there is no panel at all.
        if !line.wall.panels.value().is_some_and(Vec::is_empty) {
            judgment = judgment.figure_of(line.rule(keys::MAX_END_OFFSET));
        }
        if line.length().is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
        judgment.decided_by(if has_summary(line) {
            LookAt::PanelEnds
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
