//! Whether the foundation runs around the whole perimeter.

use super::context::{Line, Whole, WorkedOut};
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{FoundationKind, Parts};
use crate::observation::Truth;
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "continuous-perimeter",
    group: Group::Applicability,
    title: "Continuous perimeter",
    explanation: Explanation {
        looks_at: "Whether the foundation runs unbroken around the house, porches and fireplaces aside.",
        why: "A wall without a foundation under it has nothing to be anchored to, and the rest of the house has to hold it.",
        satisfied_by: "A continuous foundation around the perimeter: no stretch on separate posts, on the bare ground or on nothing.",
        fix: "A new foundation where there is none, or a design by an engineer.",
    },
    figures: &[FigureName::ContinuousPerimeter],
    reads: &[
        LookAt::WallLength,
        LookAt::Perimeter,
        LookAt::Foundation,
        LookAt::FoundationKind,
    ],
    run: Run::House(check),
};

/// What the stretches of a wall line say of it. A part that was not recorded may stand on anything.
fn carries(line: &Line<'_>) -> (Truth, Option<LookAt>) {
    let stretches = line.foundation();
    let by_kind = stretches.iter().fold(Truth::True, |truth, stretch| {
        truth.and(stretch.kind.satisfies(|kind| {
            !matches!(
                kind,
                FoundationKind::Posts | FoundationKind::Ground | FoundationKind::None
            )
        }))
    });
    match by_kind {
        Truth::False => (Truth::False, None),
        Truth::Maybe => (Truth::Maybe, Some(LookAt::FoundationKind)),
        Truth::True => {
            let spans = stretches.iter().map(|stretch| stretch.span(line.length()));
            let all_seen = line.wall.unseen_of(Parts::Foundation).next().is_none();
            if all_seen && line.is_covered_by(spans) {
                (Truth::True, None)
            } else {
                (Truth::Maybe, Some(LookAt::Foundation))
            }
        }
    }
}

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let house = whole.house;
    let said = &house.continuous_perimeter;
    findings.add(Judgment::by_limit(whole.rule(keys::CONTINUOUS_PERIMETER), |_| {
        let runs = said.satisfies(|runs| runs);
        let lines = || {
            house
                .wall_lines
                .iter()
                .map(|wall| carries(&Line::new(house, wall, whole.requirement, &WorkedOut::default())))
        };
        let carried = lines().fold(Truth::True, |truth, (carries, _)| truth.and(carries));
        let answer = runs.and(carried);
        let judgment = Judgment::inside_if(answer)
            .facts(
                "The foundation runs around the whole perimeter.",
                if carried == Truth::False {
                    "A wall line stands on separate posts, on the ground or on nothing: the foundation is not continuous."
                } else {
                    "The foundation does not run around the whole perimeter."
                },
                "Whether the foundation runs around the whole perimeter is not known for every wall line.",
            )
            .measured(match answer {
                Truth::True => Quantity::Word("continuous"),
                Truth::False => Quantity::Word("broken"),
                Truth::Maybe => Quantity::None,
            })
            .required(Quantity::Word("continuous"))
            .basis(said.basis().filter(|_| answer != Truth::Maybe));
        let judgment = if said.is_known() {
            judgment
        } else {
            judgment.decided_by(LookAt::Perimeter)
        };
        lines()
            .filter_map(|(_, look_at)| look_at)
            .fold(judgment, Judgment::decided_by)
    })
    .about(LookAt::Perimeter, None));
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case("cebc-a3-2013", "continuous_perimeter = true", Met)]
    #[case("cebc-a3-2013", "continuous_perimeter = false", Outside)]
    #[case("cebc-a3-2013", "continuous_perimeter = ?", NotDetermined)]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"kind": "posts"}]"#, Outside)]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"kind": "ground"}]"#, Outside)]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"kind": "none"}]"#, Outside)]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"kind": "brick"}]"#, Met)]
    #[case(
        "cebc-a3-2013",
        r#"continuous_perimeter = ?; wall.foundation = [{"kind": "posts"}]"#,
        Outside
    )]
    #[case("cebc-a3-2013", "wall.foundation = [{}]", NotDetermined)]
    #[case(
        "cebc-a3-2013",
        r#"wall.foundation = [{"to": "20 ft", "kind": "concrete"}]"#,
        NotDetermined
    )]
    #[case("cebc-a3-2013", "wall.foundation = ?", NotDetermined)]
    #[case("cebc-a3-2013", "continuous_perimeter = false; wall.foundation = ?", Outside)]
    #[case("cbc-2013-new-construction", "continuous_perimeter = false", NotApplicable)]
    fn said_and_seen_have_to_agree(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(
            ruling_after(changes, &shipped(set), "continuous-perimeter"),
            expected
        );
    }
}
