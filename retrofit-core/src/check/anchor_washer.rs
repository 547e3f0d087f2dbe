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

/// The row for anchors of a diameter: that for the stoutest which is no stouter, else that for the thinnest.
fn row_for(diameter: Length, requirement: &Requirement) -> Rule<Washer> {
    let rows = requirement.all(keys::WASHER);
    rows.clone()
        .filter(|(case, _)| case.diameter.is_none_or(|of| of <= diameter))
        .max_by_key(|(case, _)| case.diameter)
        .or_else(|| rows.min_by_key(|(case, _)| case.diameter))
        .map_or(Rule::NotRegulated, |(_, rule)| rule)
}

/// The rows that may apply to an anchor: one where its diameter is known, more where it is not.
fn rows_for<'a>(anchor: &Anchor, requirement: &'a Requirement) -> impl Iterator<Item = Rule<Washer>> + 'a {
    let (least, most) = anchor.diameter.bounds();
    let least = least.copied().unwrap_or(Length::ZERO);
    let most = most.copied();
    let stouter = requirement
        .all(keys::WASHER)
        .filter(move |(case, _)| {
            case.diameter
                .is_some_and(|of| of > least && most.is_none_or(|most| of <= most))
        })
        .map(|(_, rule)| rule);
    std::iter::once(row_for(least, requirement)).chain(stouter)
}

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    let by_row = |rule| match rule {
        Rule::Given { value, .. } => anchor
            .washer
            .satisfies(|washer: Washer| washer.is_as_good_as(value))
            .or(has_no_rod(anchor)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    };
    rows_for(anchor, requirement)
        .map(by_row)
        .reduce(|one, other| if one == other { one } else { Truth::Maybe })
        .unwrap_or(Truth::True)
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    // Shown is the row for the anchor that the finding is about: the first that does not have its washer.
    let mut anchors = line.wall.anchors.value().into_iter().flatten();
    let lacking = anchors
        .clone()
        .find(|anchor| counts(anchor, line.requirement) != Truth::True)
        .or_else(|| anchors.next());
    let rule = match lacking {
        Some(anchor) => rows_for(anchor, line.requirement).next(),
        None => Some(row_for(Length::ZERO, line.requirement)),
    };
    let rule = rule.unwrap_or(Rule::NotRegulated);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorWasher, |anchor| {
        anchor
            .washer
            .value()
            .map_or(Quantity::None, |washer| Quantity::Washer(*washer))
    });
    findings.add(judgment.required(rule.value().map_or(Quantity::None, Quantity::Washer)));
}
