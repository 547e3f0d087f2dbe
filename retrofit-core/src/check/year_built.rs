//! Whether the house was built before the year the provisions name.

use super::context::Whole;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "year-built",
    group: Group::Applicability,
    title: "Year built",
    explanation: Explanation {
        looks_at: "The year in which the house was built.",
        why: "Later houses were built to codes that asked for anchors and bracing; provisions for older houses are not made for them.",
        satisfied_by: "A year before the one that the provisions name, where they name one.",
        fix: "None by these provisions: a later house is judged by the code it was built to.",
    },
    figures: &[FigureName::BuiltBefore],
    reads: &[LookAt::YearBuilt],
    limit_is_a_maximum: true,
    run: Run::House(check),
};

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let year = &whole.house.building.year_built;
    let judgment = Judgment::by_limit(whole.rule(keys::BUILT_BEFORE), |before| {
        let measured = match year.bounds() {
            (Some(least), Some(most)) if least == most => Quantity::Count((*least).into()),
            (Some(least), Some(most)) => Quantity::CountBetween((*least).into(), (*most).into()),
            _ => Quantity::None,
        };
        // "Before" is before, whatever the row says of its limit: the year itself is too late.
        let limit = u16::try_from(before).unwrap_or(u16::MAX);
        Judgment::inside_if(year.less_than(limit))
            .facts(
                "The house was built before the year these provisions name.",
                "The house was built too late for these provisions.",
                "The year in which the house was built is not known.",
            )
            .measured(measured)
            // The last year that will do.
            .required(Quantity::Count(before.saturating_sub(1)))
    });
    findings.add(
        judgment
            .about(LookAt::YearBuilt, None)
            .basis(year.basis())
            .decided_by(LookAt::YearBuilt),
    );
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{amended, ruling_after, shipped};
    use crate::provisions::Library;
    use rstest::rstest;

    #[rstest]
    #[case("building.year_built = 1978", Met)]
    #[case("building.year_built = 1979", Met)]
    #[case("building.year_built = 1980", Outside)]
    #[case("building.year_built = 1981", Outside)]
    #[case("building.year_built = ?", NotDetermined)]
    #[case(r#"building.year_built = {"reported": {"at_most": 1945}}"#, Met)]
    fn the_named_year_itself_is_too_late(#[case] changes: &str, #[case] expected: Ruling) {
        let provisions = amended(&[("built-before", "", "1980")]);
        assert_eq!(ruling_after(changes, &provisions, "year-built"), expected);
    }

    #[test]
    fn no_shipped_set_names_a_year() {
        for id in Library::shipped().ids() {
            assert_eq!(
                ruling_after("building.year_built = 2020", &shipped(id), "year-built"),
                NotApplicable,
                "{id}"
            );
        }
    }
}
