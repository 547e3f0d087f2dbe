//! Whether the anchors have plate washers.

use super::anchor_diameter::has_no_rod;
use super::anchorage::judge_property;
use super::context::Line;
use super::finding::{Findings, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Anchor, Washer};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{FigureName, Requirement, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-washer",
    group: Group::Anchorage,
    title: "Plate washers",
    explanation: Explanation {
        looks_at: "The washer under each nut: a square plate, a round cut washer, or none.",
        why: "Under a small washer the sill splits along the bolt line and lifts off; a plate spreads the force over the grain.",
        satisfied_by: "A plate washer of at least the size asked for on every anchor that counts.",
        fix: "Take off the nuts and put plate washers under them, where bolt and wood are good.",
    },
    figures: &[FigureName::Washer],
    reads: &[
        LookAt::Anchors,
        LookAt::AnchorWasher,
        LookAt::AnchorKind,
        LookAt::AnchorDiameter,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

/// The rule for an anchor: the row of its diameter where rows differ by diameter.
fn rule_for(anchor: Option<&Anchor>, requirement: &Requirement) -> Rule<Washer> {
    let diameter = anchor
        .and_then(|anchor| anchor.diameter.value())
        .copied()
        .unwrap_or(Length::ZERO);
    let rows = requirement.all(keys::WASHER);
    // Where the diameter is not known the row for the thinnest applies, which asks for the least.
    rows.clone()
        .filter(|(case, _)| case.diameter.is_none_or(|of| of <= diameter))
        .last()
        .or_else(|| rows.clone().next())
        .map_or(Rule::NotRegulated, |(_, rule)| rule)
}

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    match rule_for(Some(anchor), requirement) {
        Rule::Given { value, .. } => anchor
            .washer
            .satisfies(|washer| washer.is_as_good_as(value))
            .or(has_no_rod(anchor)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let first = line.wall.anchors.value().and_then(|anchors| anchors.first());
    let rule = rule_for(first, line.requirement);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorWasher, |anchor| {
        anchor
            .washer
            .value()
            .map_or(Quantity::None, |washer| Quantity::Washer(*washer))
    });
    findings.add(judgment.required(rule.value().map_or(Quantity::None, Quantity::Washer)));
}
