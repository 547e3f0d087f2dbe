//! Whether breaks in the top plate of the cripple wall are tied across.

use super::bracing::NO_CRIPPLE_WALL;
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches, met_or_not};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "plate-splices",
    group: Group::Framing,
    title: "Splices in the top plate",
    explanation: Explanation {
        looks_at: "Whether every break in the top plate is tied across, by lapped and nailed plates or by a strap.",
        why: "Panels far apart work together only through the plate; where it is broken, one end of the wall is left alone.",
        satisfied_by: "Every break tied, where the provisions ask for it.",
        fix: "Add a strap or a lapped plate across each break.",
    },
    figures: &[FigureName::TiedSplices],
    reads: &[LookAt::CrippleWall, LookAt::PlateSplices],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let judgment = Judgment::by(line.rule(keys::TIED_SPLICES), |_| {
        Stretches::of_cripple_wall(line)
            .judge(line, met_or_not(), LookAt::PlateSplices, |stretch| {
                let tied = &stretch.plate_splices_tied;
                Reading {
                    outcomes: Judgment::met_if(tied.satisfies(|tied| tied)).outcomes(),
                    measured: match tied.value() {
                        Some(true) => Quantity::Word("tied"),
                        Some(false) => Quantity::Word("not tied"),
                        None => Quantity::None,
                    },
                    basis: tied.basis(),
                }
            })
            .facts(
                "Every break in the top plate is tied.",
                "A break in the top plate is not tied.",
                "Whether breaks in the top plate are tied was not seen along the whole cripple wall.",
            )
            .required(Quantity::Word("tied"))
    });
    findings.add(
        judgment
            .applicable_if(line.has_cripple_wall(), NO_CRIPPLE_WALL, LookAt::CrippleWall)
            .or_about(LookAt::PlateSplices),
    );
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case(
        "crc-2013-new-construction",
        r#"wall.cripple_wall = [{"plate_splices_tied": true}]"#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.cripple_wall = [{"plate_splices_tied": false}]"#,
        NotMet
    )]
    #[case("crc-2013-new-construction", "wall.cripple_wall = [{}]", NotDetermined)]
    #[case("crc-2013-new-construction", "wall.cripple_wall = ?", NotDetermined)]
    #[case("crc-2013-new-construction", "wall.cripple_wall = []", NotApplicable)]
    #[case(
        "cebc-a3-2013",
        r#"wall.cripple_wall = [{"plate_splices_tied": false}]"#,
        NotApplicable
    )]
    fn every_break_is_tied_where_it_is_asked(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(ruling_after(changes, &shipped(set), "plate-splices"), expected);
    }
}
