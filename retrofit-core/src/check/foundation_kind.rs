//! Whether the foundation is of a kind the provisions cover.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::outcome::{Outcome, Outcomes};
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "foundation-kind",
    group: Group::Applicability,
    title: "Kind of foundation",
    explanation: Explanation {
        looks_at: "What the foundation is made of, along every stretch of the wall line.",
        why: "Anchors hold only as well as what they are set in. Brick and stone come apart around a bolt; posts on piers tip over.",
        satisfied_by: "A foundation of a kind the provisions cover along the whole wall line.",
        fix: "A new foundation under that stretch, or a design by an engineer.",
    },
    figures: &[FigureName::FoundationKinds],
    reads: &[LookAt::WallLength, LookAt::Foundation, LookAt::FoundationKind],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::FOUNDATION_KINDS);
    let judgment = Judgment::by_limit(rule, |kinds| {
        let unrecorded = Outcomes::only(Outcome::Met).or(Outcomes::only(Outcome::Outside));
        Stretches::of_foundation(line)
            .judge(line, unrecorded, LookAt::FoundationKind, |stretch| {
                let is_covered = stretch.kind.satisfies(|kind| kinds.contains(kind));
                Reading {
                    outcomes: Judgment::inside_if(is_covered).outcomes(),
                    measured: Quantity::of_choice(&stretch.kind),
                    basis: stretch.kind.basis(),
                }
            })
            .facts(
                "The foundation is of a kind these provisions cover.",
                "The foundation is of a kind these provisions do not cover.",
                "What the foundation is made of is not known along the whole wall line.",
            )
    });
    let judgment = judgment.or_about(LookAt::FoundationKind);
    findings.add(match rule.figure() {
        Some(figure) => judgment.required(Quantity::Figure(figure)),
        None => judgment,
    });
}

#[cfg(test)]
mod tests {
    use crate::check::LookAt;
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{changed, findings, ruling_after, shipped};
    use crate::house::Span;
    use crate::measure::Length;
    use rstest::rstest;

    #[rstest]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"kind": "concrete"}]"#, Met)]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"kind": "block"}]"#, Outside)]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"kind": "brick"}]"#, Outside)]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"kind": "posts"}]"#, Outside)]
    #[case(
        "cebc-a3-2013",
        r#"wall.foundation = [{"kind": {"unknown": "behind a skirt"}}]"#,
        NotDetermined
    )]
    #[case("cebc-a3-2013", "wall.foundation = ?", NotDetermined)]
    #[case(
        "bay-area-plan-set-a-2008",
        r#"wall.foundation = [{"kind": "brick"}]"#,
        NotDetermined
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation = [{"kind": "brick"}]"#,
        NotApplicable
    )]
    fn kinds_that_are_named_are_inside(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "foundation-kind"), expected);
    }

    #[test]
    fn the_stretch_that_falls_short_is_the_one_shown() {
        let house = changed(
            r#"wall.foundation = [
                {"to": "10 ft", "kind": "concrete"},
                {"from": "10 ft", "to": "16 ft", "kind": "brick"},
                {"from": "16 ft", "kind": "concrete"}]"#,
        );
        let found = findings(house, "cebc-a3-2013", "foundation-kind");
        assert_eq!(found[0].outcomes.ruling(), Outside);
        assert_eq!(found[0].span, Some(Span::new(Length::feet(10), Length::feet(16))));
        assert_eq!(found[0].path().unwrap(), "wall_lines[0].foundation[1].kind");
    }

    #[test]
    fn a_part_that_was_not_recorded_is_open() {
        let house = changed(r#"wall.foundation = [{"to": "20 ft", "kind": "concrete"}]"#);
        let found = findings(house, "cebc-a3-2013", "foundation-kind");
        assert_eq!(found[0].outcomes.ruling(), NotDetermined);
        let deciding: Vec<_> = found[0].deciding.iter().collect();
        assert_eq!(deciding, [LookAt::Foundation]);
    }
}
