//! Whether the ground is flat enough for the provisions.

use super::context::Whole;
use super::finding::{Findings, Judgment, Quantity};
use super::limit;
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "ground-slope",
    group: Group::Applicability,
    title: "Ground slope",
    explanation: Explanation {
        looks_at: "The steepest slope of the ground under or along the foundation.",
        why: "On a slope the uphill wall is short and stiff and takes the push, the downhill wall is tall and sways; the house twists, and the ground itself may move.",
        satisfied_by: "Ground no steeper than the provisions allow.",
        fix: "None by these provisions: an engineer, and often a soils engineer, has to look at a house on a slope.",
    },
    figures: &[FigureName::MaxSlope],
    reads: &[LookAt::Slope],
    limit_is_a_maximum: true,
    run: Run::House(check),
};

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let slope = &whole.house.site.slope;
    let rule = whole.rule(keys::MAX_SLOPE);
    let judgment = Judgment::by_limit(rule, |most| {
        Judgment::inside_if(limit::is_within(slope, most, rule))
            .facts(
                "The ground is no steeper than these provisions allow.",
                "The ground is steeper than these provisions allow.",
                "How steep the ground is was not found out closely enough.",
            )
            .measured(
                slope
                    .value()
                    .map_or(Quantity::None, |slope| Quantity::Slope(*slope)),
            )
            .required(Quantity::Slope(most))
    });
    findings.add(
        judgment
            .about(LookAt::Slope, None)
            .basis(slope.basis())
            .decided_by(LookAt::Slope),
    );
}
