//! Whether the anchors are thick enough.

use super::anchorage::judge_property;
use super::context::Line;
use super::finding::{Findings, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Anchor, AnchorKind};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{FigureName, Requirement, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-diameter",
    group: Group::Anchorage,
    title: "Anchor diameter",
    explanation: Explanation {
        looks_at: "The diameter of each anchor against the least one the provisions name for this number of stories.",
        why: "A thin bolt bends in the wood and splits the sill at a smaller push than a stout one.",
        satisfied_by: "Enough anchors of at least the least diameter. Stouter ones may stand farther apart where the provisions say so.",
        fix: "Add anchors of the diameter asked for between the thin ones.",
    },
    figures: &[FigureName::AnchorSpacing],
    reads: &[LookAt::Anchors, LookAt::AnchorDiameter, LookAt::AnchorKind],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

/// The row for the thinnest anchor the provisions name.
fn thinnest(requirement: &Requirement) -> (Rule<Length>, Option<Length>) {
    let mut rows = requirement.all(keys::ANCHOR_SPACING);
    let Some((case, rule)) = rows.next() else {
        return (Rule::NotRegulated, None);
    };
    let least = rows
        .filter_map(|(case, _)| case.diameter)
        .chain(case.diameter)
        .min();
    (rule, least)
}

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    match thinnest(requirement) {
        (Rule::Missing(_), _) => Truth::Maybe,
        // Plates and straps have no rod whose diameter could be measured.
        (Rule::Given { .. }, Some(least)) => anchor.diameter.at_least(least).or(has_no_rod(anchor)),
        _ => Truth::True,
    }
}

/// Whether the anchor is a plate or strap beside the sill, to which rules on bolts do not apply.
pub(super) fn has_no_rod(anchor: &Anchor) -> Truth {
    anchor
        .kind
        .satisfies(|kind| matches!(kind, AnchorKind::SidePlate | AnchorKind::Strap))
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let (rule, least) = thinnest(line.requirement);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorDiameter, |anchor| {
        Quantity::of_length(&anchor.diameter)
    });
    findings.add(judgment.required(least.map_or(Quantity::None, Quantity::Length)));
}
