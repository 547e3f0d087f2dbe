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

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{amended, ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case("bay-area-plan-set-a-2008", r#"building.veneer_height = "0 in""#, Met)]
    #[case("bay-area-plan-set-a-2008", r#"building.veneer_height = "47 63/64 in""#, Met)]
    #[case("bay-area-plan-set-a-2008", r#"building.veneer_height = "48 in""#, Outside)]
    #[case(
        "bay-area-plan-set-a-2008",
        r#"building.veneer_height = "48 1/64 in""#,
        Outside
    )]
    #[case("bay-area-plan-set-a-2008", "building.veneer_height = ?", NotDetermined)]
    #[case("cebc-a3-2013", r#"building.veneer_height = "9 ft""#, NotApplicable)]
    fn less_than_means_less_than(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "veneer-height"), expected);
    }

    #[rstest]
    #[case(r#"building.veneer_height = "48 in""#, Met)]
    #[case(r#"building.veneer_height = "48 1/64 in""#, Outside)]
    fn a_limit_that_is_allowed_itself_is_reached(#[case] changes: &str, #[case] expected: Ruling) {
        let provisions = amended(&[("max-veneer-height", "", "4 ft")]);
        assert_eq!(ruling_after(changes, &provisions, "veneer-height"), expected);
    }
}
