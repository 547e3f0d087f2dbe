//! Whether the floor of each story lies at one level.

use super::context::Whole;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "floor-levels",
    group: Group::Applicability,
    title: "Floor levels",
    explanation: Explanation {
        looks_at: "Whether the floor of each story lies at one level, or steps within the story.",
        why: "Where a floor steps, its two parts pull apart in shaking, and the wall between them gets a push from both.",
        satisfied_by: "One level for the floor of each story.",
        fix: "None by these provisions: an engineer or architect has to design the strengthening.",
    },
    figures: &[FigureName::FloorsAtOneLevel],
    reads: &[LookAt::FloorLevels],
    limit_is_a_maximum: false,
    run: Run::House(check),
};

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let levels = &whole.house.building.floors_at_one_level;
    let judgment = Judgment::by_limit(whole.rule(keys::FLOORS_AT_ONE_LEVEL), |_| {
        Judgment::inside_if(levels.satisfies(|one_level| one_level))
            .facts(
                "The floor of each story lies at one level.",
                "A floor steps within its story; these provisions cover floors at one level only.",
                "Whether the floors lie at one level is not known.",
            )
            .measured(match levels.value() {
                Some(true) => Quantity::Word("one level"),
                Some(false) => Quantity::Word("stepped"),
                None => Quantity::None,
            })
            .required(Quantity::Word("one level"))
    });
    findings.add(
        judgment
            .about(LookAt::FloorLevels, None)
            .basis(levels.basis())
            .decided_by(LookAt::FloorLevels),
    );
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case("la-division-92-2018", "building.floors_at_one_level = true", Met)]
    #[case("la-division-92-2018", "building.floors_at_one_level = false", Outside)]
    #[case("la-division-92-2018", "building.floors_at_one_level = ?", NotDetermined)]
    #[case("cebc-a3-2013", "building.floors_at_one_level = false", NotApplicable)]
    fn floors_at_one_level_where_it_is_asked(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(ruling_after(changes, &shipped(set), "floor-levels"), expected);
    }
}
