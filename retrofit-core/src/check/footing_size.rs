//! Whether the footing is as wide, as thick and as deep as the provisions ask.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches, met_or_not};
use crate::house::FoundationStretch;
use crate::measure::Length;
use crate::observation::Observed;
use crate::provisions::{FigureKey, FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "footing-size",
    group: Group::Foundation,
    title: "Size of the footing",
    explanation: Explanation {
        looks_at: "The width, thickness and depth of the footing, where the provisions give a least size.",
        why: "The panels push down and pull up at their ends; a narrow or shallow footing rocks and cracks under them.",
        satisfied_by: "A footing of at least the least width, thickness and depth along the whole wall line.",
        fix: "Widen or replace the footing, or have an engineer show that it is enough.",
    },
    figures: &[
        FigureName::MinFootingWidth,
        FigureName::MinFootingThickness,
        FigureName::MinFootingDepth,
    ],
    reads: &[
        LookAt::WallLength,
        LookAt::Foundation,
        LookAt::FootingWidth,
        LookAt::FootingThickness,
        LookAt::FootingDepth,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

/// One dimension of a footing: the figure that limits it, where it is recorded, and what is said of it.
struct Dimension {
    key: FigureKey<Length>,
    look_at: LookAt,
    of: fn(&FoundationStretch) -> &Observed<Length>,
    facts: [&'static str; 3],
}

const DIMENSIONS: [Dimension; 3] = [
    Dimension {
        key: keys::MIN_FOOTING_WIDTH,
        look_at: LookAt::FootingWidth,
        of: |stretch| &stretch.footing_width,
        facts: [
            "The footing is as wide as asked for.",
            "The footing is narrower than asked for.",
            "The width of the footing is not known along the whole wall line.",
        ],
    },
    Dimension {
        key: keys::MIN_FOOTING_THICKNESS,
        look_at: LookAt::FootingThickness,
        of: |stretch| &stretch.footing_thickness,
        facts: [
            "The footing is as thick as asked for.",
            "The footing is thinner than asked for.",
            "The thickness of the footing is not known along the whole wall line.",
        ],
    },
    Dimension {
        key: keys::MIN_FOOTING_DEPTH,
        look_at: LookAt::FootingDepth,
        of: |stretch| &stretch.footing_depth,
        facts: [
            "The footing is as deep as asked for.",
            "The footing is shallower than asked for.",
            "The depth of the footing is not known along the whole wall line.",
        ],
    },
];

fn check(line: &Line<'_>, findings: &mut Findings) {
    if DIMENSIONS
        .iter()
        .all(|dimension| line.rule(dimension.key).is_open())
    {
        // One line tells it; each dimension has its row all the same.
        let judgment = Judgment::not_applicable("No least size is given for an existing footing.");
        return findings.add(
            DIMENSIONS
                .iter()
                .fold(judgment, |judgment, dimension| {
                    judgment.figure_of(line.rule(dimension.key))
                })
                .about(LookAt::Foundation, None),
        );
    }
    for dimension in &DIMENSIONS {
        let [met, not_met, open] = dimension.facts;
        findings.add(
            Judgment::by(line.rule(dimension.key), |least| {
                Stretches::of_foundation(line)
                    .judge(line, met_or_not(), dimension.look_at, |stretch| {
                        let size = (dimension.of)(stretch);
                        Reading {
                            outcomes: Judgment::met_if(size.at_least(least)).outcomes(),
                            measured: Quantity::of_length(size),
                            basis: size.basis(),
                        }
                    })
                    .facts(met, not_met, open)
                    .required(Quantity::Length(least))
            })
            .or_about(dimension.look_at),
        );
    }
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{changed, findings, ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation.0.footing_width = "12 in""#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation.0.footing_width = "12 1/64 in""#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation.0.footing_width = "11 63/64 in""#,
        NotMet
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation.0.footing_thickness = "6 1/64 in""#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation.0.footing_thickness = "5 63/64 in""#,
        NotMet
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation.0.footing_depth = "12 1/64 in""#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation.0.footing_depth = "11 63/64 in""#,
        NotMet
    )]
    #[case("crc-2013-new-construction", "wall.foundation = ?", NotDetermined)]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation = [{"footing_width": "11 in"}]"#,
        NotMet
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation = [{"footing_width": "12 in"}]"#,
        NotDetermined
    )]
    #[case("crc-2013-new-construction", "building.stories = 2", NotMet)]
    #[case(
        "cebc-a3-2013",
        r#"wall.foundation = [{"footing_width": "6 in"}]"#,
        NotApplicable
    )]
    #[case(
        "la-division-92-2018",
        r#"wall.foundation = [{"footing_width": "6 in"}]"#,
        NotApplicable
    )]
    fn each_dimension_has_its_least(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "footing-size"), expected);
    }

    #[test]
    fn width_thickness_and_depth_are_told_apart() {
        let found = findings(changed(""), "crc-2013-new-construction", "footing-size");
        let required: Vec<_> = found.iter().map(|finding| finding.required.to_string()).collect();
        assert_eq!(required, ["1'-0\"", "6\"", "1'-0\""]);
        assert_eq!(findings(changed(""), "cebc-a3-2013", "footing-size").len(), 1);
    }

    #[test]
    fn the_narrowest_stretch_is_the_one_shown() {
        let house = changed(
            r#"wall.foundation = [
                {"to": "8 ft", "footing_width": "15 in"},
                {"from": "8 ft", "to": "16 ft", "footing_width": "12 in"},
                {"from": "16 ft", "footing_width": "13 in"}]"#,
        );
        let found = findings(house, "crc-2013-new-construction", "footing-size");
        assert_eq!(
            found[0].path().unwrap(),
            "wall_lines[0].foundation[1].footing_width"
        );
    }
}
