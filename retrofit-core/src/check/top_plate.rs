//! Whether the top plate of the cripple wall is of a kind that will do.

use super::bracing::NO_CRIPPLE_WALL;
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches, met_or_not};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "top-plate",
    group: Group::Framing,
    title: "Top plate",
    explanation: Explanation {
        looks_at: "The plate on top of the cripple wall: double and nailed together, loose, single or missing.",
        why: "The top plate gathers the push of the floor and hands it to the panels; two plates not nailed to each other slide.",
        satisfied_by: "A top plate of a kind the provisions accept along the whole cripple wall.",
        fix: "Nail the plates together, or add a plate or straps.",
    },
    figures: &[FigureName::TopPlates],
    reads: &[LookAt::CrippleWall, LookAt::TopPlate],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::TOP_PLATES);
    let judgment = Judgment::by(rule, |plates| {
        Stretches::of_cripple_wall(line)
            .judge(line, met_or_not(), LookAt::TopPlate, |stretch| {
                let will_do = stretch.top_plate.satisfies(|plate| plates.contains(plate));
                Reading {
                    outcomes: Judgment::met_if(will_do).outcomes(),
                    measured: Quantity::of_choice(&stretch.top_plate),
                    basis: stretch.top_plate.basis(),
                }
            })
            .facts(
                "The top plate is of a kind that will do.",
                "The top plate is not of a kind that will do.",
                "What the top plate is was not seen along the whole cripple wall.",
            )
    });
    let judgment = match rule.figure() {
        Some(figure) => judgment.required(Quantity::Figure(figure)),
        None => judgment,
    };
    findings.add(
        judgment
            .applicable_if(line.has_cripple_wall(), NO_CRIPPLE_WALL, LookAt::CrippleWall)
            .or_about(LookAt::TopPlate),
    );
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case("cebc-a3-2013", r#"wall.cripple_wall = [{"top_plate": "double"}]"#, Met)]
    #[case("cebc-a3-2013", r#"wall.cripple_wall = [{"top_plate": "single"}]"#, Met)]
    #[case(
        "cebc-a3-2013",
        r#"wall.cripple_wall = [{"top_plate": "double_loose"}]"#,
        NotMet
    )]
    #[case("cebc-a3-2013", r#"wall.cripple_wall = [{"top_plate": "none"}]"#, NotMet)]
    #[case("cebc-a3-2013", "wall.cripple_wall = [{}]", NotDetermined)]
    #[case("cebc-a3-2013", "wall.cripple_wall = ?", NotDetermined)]
    #[case("cebc-a3-2013", "wall.cripple_wall = []", NotApplicable)]
    #[case(
        "la-division-92-2018",
        r#"wall.cripple_wall = [{"top_plate": "none"}]"#,
        NotApplicable
    )]
    fn kinds_that_are_named_will_do(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "top-plate"), expected);
    }
}
