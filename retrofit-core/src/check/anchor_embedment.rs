//! Whether the anchors reach deep enough into the foundation.

use super::anchor_diameter::has_no_rod;
use super::anchorage::judge_property;
use super::context::Line;
use super::finding::{Findings, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::Anchor;
use crate::observation::Truth;
use crate::provisions::{FigureName, Requirement, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-embedment",
    group: Group::Anchorage,
    title: "Anchor embedment",
    explanation: Explanation {
        looks_at: "How far each anchor reaches into the foundation, where the provisions give a least depth.",
        why: "A shallow anchor breaks out a cone of concrete instead of holding.",
        satisfied_by: "The least embedment on every anchor that counts. It can seldom be seen; a permit or a maker's mark may tell.",
        fix: "Add anchors of known embedment beside those whose depth is short or cannot be told.",
    },
    figures: &[FigureName::MinEmbedment],
    reads: &[LookAt::Anchors, LookAt::AnchorEmbedment, LookAt::AnchorKind],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    match requirement.get(keys::MIN_EMBEDMENT) {
        Rule::Given { value, .. } => anchor.embedment.at_least(value).or(has_no_rod(anchor)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::MIN_EMBEDMENT);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorEmbedment, |anchor| {
        Quantity::of_length(&anchor.embedment)
    });
    findings.add(judgment.required(rule.value().map_or(Quantity::None, Quantity::Length)));
}
