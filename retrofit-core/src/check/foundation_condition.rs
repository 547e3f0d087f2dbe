//! Whether the foundation is hard and in line.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches, met_or_not};
use crate::house::FoundationCondition;
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "foundation-condition",
    group: Group::Foundation,
    title: "Condition of the foundation",
    explanation: Explanation {
        looks_at: "Whether the foundation is hard and in line along every stretch: whether it scrapes away with a tool, leans, has settled or is broken through.",
        why: "An anchor set in soft or broken concrete pulls out with the first hard pull.",
        satisfied_by: "A foundation that is hard and in line; cracks do where the concrete is hard and has not moved.",
        fix: "Repair or replace that stretch before anchoring to it; an engineer tells which.",
    },
    figures: &[FigureName::SoundFoundation],
    reads: &[
        LookAt::WallLength,
        LookAt::Foundation,
        LookAt::FoundationCondition,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    findings.add(
        Judgment::by(line.rule(keys::SOUND_FOUNDATION), |_| {
            Stretches::of_foundation(line)
                .judge(line, met_or_not(), LookAt::FoundationCondition, |stretch| {
                    let is_hard = stretch.condition.satisfies(|condition| {
                        matches!(
                            condition,
                            FoundationCondition::Sound | FoundationCondition::Cracked
                        )
                    });
                    Reading {
                        outcomes: Judgment::met_if(is_hard).outcomes(),
                        measured: Quantity::of_choice(&stretch.condition),
                        basis: stretch.condition.basis(),
                    }
                })
                .facts(
                    "The foundation is hard and in line.",
                    "The foundation is soft, broken or out of line here.",
                    "Whether the foundation is hard and in line was not seen along the whole wall line.",
                )
                .required(Quantity::Word("hard and in line"))
        })
        .or_about(LookAt::Foundation),
    );
}

#[cfg(test)]
mod tests {
    use crate::check::LookAt;
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{changed, findings, ruling_after, shipped};
    use crate::house::Span;
    use crate::measure::Length;
    use rstest::rstest;

    #[rstest]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"condition": "sound"}]"#, Met)]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"condition": "cracked"}]"#, Met)]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"condition": "crumbling"}]"#, NotMet)]
    #[case("cebc-a3-2013", r#"wall.foundation = [{"condition": "displaced"}]"#, NotMet)]
    #[case("cebc-a3-2013", "wall.foundation = [{}]", NotDetermined)]
    #[case("cebc-a3-2013", "wall.foundation = ?", NotDetermined)]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation = [{"condition": "crumbling"}]"#,
        NotApplicable
    )]
    fn hard_and_in_line_is_asked(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(
            ruling_after(changes, &shipped(set), "foundation-condition"),
            expected
        );
    }

    #[test]
    fn the_stretch_that_falls_short_is_the_one_shown() {
        let house = changed(
            r#"wall.foundation = [
                {"to": "10 ft", "condition": "sound"},
                {"from": "10 ft", "to": "16 ft", "condition": "displaced"},
                {"from": "16 ft", "condition": "sound"}]"#,
        );
        let found = findings(house, "cebc-a3-2013", "foundation-condition");
        assert_eq!(found[0].outcomes.ruling(), NotMet);
        assert_eq!(found[0].span, Some(Span::new(Length::feet(10), Length::feet(16))));
        assert_eq!(found[0].path().unwrap(), "wall_lines[0].foundation[1].condition");
    }

    #[test]
    fn a_part_that_was_not_recorded_is_open() {
        let house = changed(r#"wall.foundation = [{"to": "20 ft", "condition": "sound"}]"#);
        let found = findings(house, "cebc-a3-2013", "foundation-condition");
        assert_eq!(found[0].outcomes.ruling(), NotDetermined);
        let deciding: Vec<_> = found[0].deciding.iter().collect();
        assert_eq!(deciding, [LookAt::Foundation]);
    }
}
