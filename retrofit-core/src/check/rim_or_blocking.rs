//! Whether a rim joist or blocking closes the ends of the joists over the wall.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{JoistDirection, Rim};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "rim-or-blocking",
    group: Group::Floor,
    title: "Rim joist or blocking",
    explanation: Explanation {
        looks_at: "What stands between the joists over the wall: a continuous rim or end joist, blocks in every bay, in every other bay, or nothing.",
        why: "Without a rim or blocks the joists roll over like dominoes, and the floor has nothing to be tied to the wall by.",
        satisfied_by: "Where joists cross the wall, a rim or blocks in a pattern the provisions accept; where they run along it, a continuous end joist over the plate.",
        fix: "Add full-depth blocks between the joists, or an end joist over the wall.",
    },
    figures: &[FigureName::RimPatterns, FigureName::EndJoist],
    reads: &[LookAt::Joists, LookAt::Rim, LookAt::CrippleWall],
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    findings.add(match line.wall.joists.value() {
        Some(JoistDirection::Perpendicular) => where_joists_cross(line),
        Some(JoistDirection::Parallel) => where_joists_run_along(line),
        None => {
            let either = where_joists_cross(line).or(where_joists_run_along(line));
            let either = if line.wall.rim.is_known() && !either.outcomes().is_determined() {
                either.fact("Whether what closes the joist bays will do depends on which way the joists run.")
            } else {
                either
            };
            either.decided_by(LookAt::Joists)
        }
    });
}

fn where_joists_cross(line: &Line<'_>) -> Judgment {
    let rule = line.rule(keys::RIM_PATTERNS);
    let judgment = Judgment::by(rule, |patterns| {
        let needs_blocks_over_panels = patterns.contains(Rim::AlternateAndOverPanels)
            && !patterns.contains(Rim::AlternateBays)
            && line.wall.rim.value() == Some(&Rim::AlternateBays);
        if needs_blocks_over_panels {
            // Every other bay will do only where no braced panel stands below.
            let judgment = Judgment::met_if(!line.has_cripple_wall()).facts(
                "There is no cripple wall, and so no braced panel that needs a block above it.",
                "Blocks in every other bay leave bays above braced panels without one.",
                "Blocks in every other bay will do only where there is no braced panel below.",
            );
            return judgment.decided_by(LookAt::CrippleWall);
        }
        Judgment::met_if(line.wall.rim.satisfies(|rim| patterns.contains(rim))).facts(
            "A rim joist or blocks close the joist bays as asked for.",
            "The joist bays are not closed by a rim joist or blocks as asked for.",
            "What closes the joist bays was not seen.",
        )
    });
    let judgment = match rule.figure() {
        Some(figure) => judgment.required(Quantity::Figure(figure)),
        None => judgment,
    };
    shown(judgment, line)
}

fn where_joists_run_along(line: &Line<'_>) -> Judgment {
    let judgment = Judgment::by(line.rule(keys::END_JOIST), |_| {
        Judgment::met_if(line.wall.rim.satisfies(|rim| rim == Rim::Continuous))
            .facts(
                "A continuous end joist lies over the wall.",
                "No continuous end joist lies over the wall.",
                "Whether a continuous end joist lies over the wall was not seen.",
            )
            .required(Quantity::Word("continuous end joist"))
    });
    shown(judgment, line)
}

fn shown(judgment: Judgment, line: &Line<'_>) -> Judgment {
    let judgment = if line.wall.rim.is_known() {
        judgment
    } else {
        judgment.decided_by(LookAt::Rim)
    };
    judgment
        .about(LookAt::Rim, None)
        .measured(Quantity::of_choice(&line.wall.rim))
        .basis(line.wall.rim.basis())
        .span(Some(line.whole()))
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = "continuous""#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = "every_bay""#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = "alternate_bays""#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = "scattered""#,
        NotMet
    )]
    #[case("cebc-a3-2013", r#"wall.joists = "perpendicular"; wall.rim = "none""#, NotMet)]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = "alternate_bays"; building.stories = 2"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = "alternate_and_over_panels"; building.stories = 2"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = "alternate_bays"; wall.cripple_wall = []; building.stories = 2"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = "alternate_and_over_panels"; building.stories = 3"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = "alternate_bays"; building.stories = 3"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = "every_bay"; building.stories = 3"#,
        Met
    )]
    #[case("cebc-a3-2013", r#"wall.joists = "parallel"; wall.rim = "continuous""#, Met)]
    #[case("cebc-a3-2013", r#"wall.joists = "parallel"; wall.rim = "every_bay""#, NotMet)]
    #[case("cebc-a3-2013", r#"wall.joists = ?; wall.rim = "continuous""#, Met)]
    #[case("cebc-a3-2013", r#"wall.joists = ?; wall.rim = "every_bay""#, NotDetermined)]
    #[case("cebc-a3-2013", r#"wall.joists = ?; wall.rim = "none""#, NotMet)]
    #[case(
        "cebc-a3-2013",
        r#"wall.joists = "perpendicular"; wall.rim = ?"#,
        NotDetermined
    )]
    #[case(
        "la-division-92-2018",
        r#"wall.joists = "parallel"; wall.rim = "continuous""#,
        NotDetermined
    )]
    #[case(
        "bay-area-plan-set-a-2008",
        r#"wall.joists = "perpendicular"; wall.rim = "continuous""#,
        NotDetermined
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.joists = "perpendicular"; wall.rim = "none""#,
        NotApplicable
    )]
    fn what_closes_the_bays_goes_by_the_joists(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(ruling_after(changes, &shipped(set), "rim-or-blocking"), expected);
    }
}
