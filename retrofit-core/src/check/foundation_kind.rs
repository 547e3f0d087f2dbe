//! Whether the foundation is of a kind the provisions cover.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::outcome::{Outcome, Outcomes};
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "foundation-kind",
    group: Group::Applicability,
    title: "Kind of foundation",
    explanation: Explanation {
        looks_at: "What the foundation is made of, along every stretch of the wall line.",
        why: "Anchors hold only as well as what they are set in. Brick and stone come apart around a bolt; posts on piers tip over.",
        satisfied_by: "A foundation of a kind the provisions cover along the whole wall line.",
        fix: "A new foundation under that stretch, or a design by an engineer.",
    },
    figures: &[FigureName::FoundationKinds],
    reads: &[LookAt::WallLength, LookAt::Foundation, LookAt::FoundationKind],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::FOUNDATION_KINDS);
    let judgment = Judgment::by_limit(rule, |kinds| {
        let unrecorded = Outcomes::only(Outcome::Met).or(Outcomes::only(Outcome::Outside));
        Stretches::of_foundation(line)
            .judge(line, unrecorded, LookAt::FoundationKind, |stretch| {
                let is_covered = stretch.kind.satisfies(|kind| kinds.contains(kind));
                Reading {
                    outcomes: Judgment::inside_if(is_covered).outcomes(),
                    measured: Quantity::of_choice(&stretch.kind),
                    basis: stretch.kind.basis(),
                }
            })
            .facts(
                "The foundation is of a kind these provisions cover.",
                "The foundation is of a kind these provisions do not cover.",
                "What the foundation is made of is not known along the whole wall line.",
            )
    });
    findings.add(match rule.figure() {
        Some(figure) => judgment.required(Quantity::Figure(figure)),
        None => judgment,
    });
}
