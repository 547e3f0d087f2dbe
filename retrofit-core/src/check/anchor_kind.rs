//! Whether the anchors are of a kind that counts.

use super::anchorage::judge_property;
use super::context::Line;
use super::finding::{Findings, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::Anchor;
use crate::observation::Truth;
use crate::provisions::{FigureName, Requirement, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-kind",
    group: Group::Anchorage,
    title: "Kind of anchor",
    explanation: Explanation {
        looks_at: "How each anchor holds the sill: cast in, set in adhesive, expanding, a side plate, or only driven pins or nails.",
        why: "Pins and nails pull out or shear long before a bolt does; a sill held by them slides off its foundation.",
        satisfied_by: "Enough anchors of a kind the provisions name.",
        fix: "Add anchors of a kind that counts beside the ones that do not.",
    },
    figures: &[FigureName::AnchorKinds],
    reads: &[LookAt::Anchors, LookAt::AnchorKind],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    match requirement.get(keys::ANCHOR_KINDS) {
        Rule::Given { value, .. } => anchor.kind.satisfies(|kind| value.contains(kind)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::ANCHOR_KINDS);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorKind, |anchor| {
        Quantity::of_choice(&anchor.kind)
    });
    findings.add(match rule.figure() {
        Some(figure) => judgment.required(Quantity::Figure(figure)),
        None => judgment,
    });
}
