//! Whether the house has no more dwelling units than the provisions cover.

use super::context::Whole;
use super::finding::{Findings, Judgment, Quantity};
use super::limit;
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "dwelling-units",
    group: Group::Applicability,
    title: "Dwelling units",
    explanation: Explanation {
        looks_at: "The number of dwelling units in the building.",
        why: "Buildings with many units are longer, heavier and more open at the ground than the houses these provisions were made for, and more people live in them.",
        satisfied_by: "No more units than the provisions cover.",
        fix: "None by these provisions: an engineer or architect has to design the strengthening.",
    },
    figures: &[FigureName::MaxUnits],
    reads: &[LookAt::Units],
    limit_is_a_maximum: true,
    run: Run::House(check),
};

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let units = &whole.house.building.units;
    let rule = whole.rule(keys::MAX_UNITS);
    let judgment = Judgment::by_limit(rule, |most| {
        let measured = match units.bounds() {
            (Some(least), Some(most)) if least == most => Quantity::Count((*least).into()),
            (Some(least), Some(most)) => Quantity::CountBetween((*least).into(), (*most).into()),
            _ => Quantity::None,
        };
        let limit = u16::try_from(most).unwrap_or(u16::MAX);
        Judgment::inside_if(limit::is_within(units, limit, rule))
            .facts(
                "The building has no more dwelling units than these provisions cover.",
                "The building has more dwelling units than these provisions cover.",
                "The number of dwelling units is not known.",
            )
            .measured(measured)
            .required(Quantity::Count(most))
    });
    findings.add(
        judgment
            .about(LookAt::Units, None)
            .basis(units.basis())
            .decided_by(LookAt::Units),
    );
}

#[cfg(test)]
mod tests {
    use crate::check::LookAt;
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{changed, findings, ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case("cebc-a3-2013", "building.units = 3", Met)]
    #[case("cebc-a3-2013", "building.units = 4", Met)]
    #[case("cebc-a3-2013", "building.units = 5", Outside)]
    #[case("bay-area-plan-set-a-2008", "building.units = 1", Met)]
    #[case("bay-area-plan-set-a-2008", "building.units = 2", Met)]
    #[case("bay-area-plan-set-a-2008", "building.units = 3", Outside)]
    #[case("cebc-a3-2013", "building.units = ?", NotDetermined)]
    #[case("crc-2013-new-construction", "building.units = 9", NotApplicable)]
    fn units_are_counted_up_to_the_limit(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "dwelling-units"), expected);
    }

    #[test]
    fn unknown_units_are_not_blamed_on_stories_or_weight() {
        let found = findings(
            changed("building.units = ?; building.stories = ?; building.roof = ?"),
            "cebc-a3-2013",
            "dwelling-units",
        );
        let deciding: Vec<_> = found.iter().flat_map(|finding| finding.deciding.iter()).collect();
        assert_eq!(deciding, [LookAt::Units]);
    }
}
