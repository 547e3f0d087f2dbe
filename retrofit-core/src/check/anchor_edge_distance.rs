//! Whether the anchors stand far enough from the face of the foundation.

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
    name: "anchor-edge-distance",
    group: Group::Anchorage,
    title: "Anchor edge distance",
    explanation: Explanation {
        looks_at: "The distance from each anchor to the nearest face of the foundation.",
        why: "An anchor close to the face spalls the concrete off and holds nothing.",
        satisfied_by: "The least edge distance on every anchor that counts.",
        fix: "Add anchors nearer the middle of the foundation, or side plates where the sill leaves no room.",
    },
    figures: &[FigureName::MinEdgeDistance],
    reads: &[LookAt::Anchors, LookAt::AnchorEdge, LookAt::AnchorKind],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    match requirement.get(keys::MIN_EDGE_DISTANCE) {
        Rule::Given { value, .. } => anchor.edge_distance.at_least(value).or(has_no_rod(anchor)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::MIN_EDGE_DISTANCE);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorEdge, |anchor| {
        Quantity::of_length(&anchor.edge_distance)
    });
    findings.add(judgment.required(rule.value().map_or(Quantity::None, Quantity::Length)));
}
