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

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case("la-division-92-2018", r#"site.slope = "33 %""#, Met)]
    #[case("la-division-92-2018", r#"site.slope = "3H:1V""#, Met)]
    #[case("la-division-92-2018", r#"site.slope = "33.4 %""#, Outside)]
    #[case("la-division-92-2018", "site.slope = ?", NotDetermined)]
    #[case(
        "la-division-92-2018",
        r#"site.slope = {"seen": {"at_least": "2H:1V"}}"#,
        Outside
    )]
    #[case("cebc-a3-2013", r#"site.slope = "1H:1V""#, NotApplicable)]
    #[case("bay-area-plan-set-a-2008", r#"site.slope = "1H:1V""#, NotApplicable)]
    fn the_limit_itself_is_not_too_steep(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "ground-slope"), expected);
    }
}
