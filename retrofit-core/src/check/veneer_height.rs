//! Whether masonry veneer reaches no higher than the provisions allow.

use super::context::Whole;
use super::finding::{Findings, Judgment, Quantity};
use super::limit;
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "veneer-height",
    group: Group::Applicability,
    title: "Masonry veneer",
    explanation: Explanation {
        looks_at: "The height of the highest brick or stone veneer above the foundation, chimneys aside.",
        why: "Veneer is heavy, and what it weighs pushes on the cripple walls below it.",
        satisfied_by: "No veneer, or veneer no higher than the provisions allow.",
        fix: "None by these provisions: an engineer has to reckon with the weight, or the veneer comes off.",
    },
    figures: &[FigureName::MaxVeneerHeight],
    reads: &[LookAt::VeneerHeight],
    limit_is_a_maximum: true,
    run: Run::House(check),
};

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let height = &whole.house.building.veneer_height;
    let rule = whole.rule(keys::MAX_VENEER_HEIGHT);
    let judgment = Judgment::by_limit(rule, |most| {
        Judgment::inside_if(limit::is_within(height, most, rule))
            .facts(
                "Masonry veneer, if any, stays within the height these provisions allow.",
                "Masonry veneer reaches higher than these provisions allow.",
                "How high any masonry veneer reaches is not known closely enough.",
            )
            .measured(Quantity::of_length(height))
            .required(limit::shown(most, rule))
    });
    findings.add(
        judgment
            .about(LookAt::VeneerHeight, None)
            .basis(height.basis())
            .decided_by(LookAt::VeneerHeight),
    );
}
