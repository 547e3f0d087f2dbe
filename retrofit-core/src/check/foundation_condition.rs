//! Whether the foundation is hard and in line.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches, met_or_not};
use crate::house::FoundationCondition;
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "foundation-condition",
    group: Group::Foundation,
    title: "Condition of the foundation",
    explanation: Explanation {
        looks_at: "Whether the foundation is hard and in line along every stretch: whether it scrapes away with a tool, leans, has settled or is broken through.",
        why: "An anchor set in soft or broken concrete pulls out with the first hard pull.",
        satisfied_by: "A foundation that is hard and in line; cracks do where the concrete is hard and has not moved.",
        fix: "Repair or replace that stretch before anchoring to it; an engineer tells which.",
    },
    figures: &[FigureName::SoundFoundation],
    reads: &[
        LookAt::WallLength,
        LookAt::Foundation,
        LookAt::FoundationCondition,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    findings.add(Judgment::by(line.rule(keys::SOUND_FOUNDATION), |_| {
        Stretches::of_foundation(line)
            .judge(line, met_or_not(), LookAt::FoundationCondition, |stretch| {
                let is_hard = stretch.condition.satisfies(|condition| {
                    matches!(
                        condition,
                        FoundationCondition::Sound | FoundationCondition::Cracked
                    )
                });
                Reading {
                    outcomes: Judgment::met_if(is_hard).outcomes(),
                    measured: Quantity::of_choice(&stretch.condition),
                    basis: stretch.condition.basis(),
                }
            })
            .facts(
                "The foundation is hard and in line.",
                "The foundation is soft, broken or out of line here.",
                "Whether the foundation is hard and in line was not seen along the whole wall line.",
            )
            .required(Quantity::Word("hard and in line"))
    }));
}
