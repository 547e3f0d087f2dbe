//! Whether a braced panel stands at each end of the cripple wall.

use super::bracing::{self, has_summary, where_there_is_a_cripple_wall};
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::observation::Truth;
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "bracing-ends",
    group: Group::Bracing,
    title: "A panel at each end",
    explanation: Explanation {
        looks_at: "Whether a panel that counts stands at each end of the cripple wall.",
        why: "The corners are where two wall lines help each other; a corner without a panel opens up first.",
        satisfied_by: "A panel that counts at each end, no farther in than about a stud bay unless something is in the way.",
        fix: "Add a panel at the end that has none; move a vent out of the corner where one is in the way.",
    },
    figures: &[FigureName::PanelAtEachEnd, FigureName::MaxEndOffset],
    reads: &[
        LookAt::WallLength,
        LookAt::CrippleWall,
        LookAt::Panels,
        LookAt::PanelEnds,
    ],
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let bracing = line.bracing();
    let judgment = Judgment::by(line.rule(keys::PANEL_AT_EACH_END), |_| {
        let mut judgment = Judgment::met_if(bracing.at_ends)
            .facts(
                "A panel that counts stands at each end.",
                "An end of the cripple wall has no panel that counts.",
                "Whether a panel that counts stands at each end depends on something that was not seen.",
            )
            .measured(Quantity::Word(match bracing.at_ends {
                Truth::True => "at both ends",
                Truth::False => "missing at an end",
                Truth::Maybe => "not seen at both ends",
            }))
            .required(Quantity::Word("a panel at each end"))
            .span(bracing.bare_end);
        // How near the end is near enough plays no part where there is no panel at all.
        if !line.wall.panels.value().is_some_and(Vec::is_empty) {
            judgment = judgment.figure_of(line.rule(keys::MAX_END_OFFSET));
        }
        if line.length().is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
        judgment.decided_by(if has_summary(line) {
            LookAt::PanelEnds
        } else {
            LookAt::Panels
        })
    });
    findings.add(
        where_there_is_a_cripple_wall(line, judgment)
            .about(LookAt::Panels, None)
            .basis(bracing::basis(line, |panel| panel.at_each_end.basis())),
    );
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    #[rstest]
    #[case::at("16 in", "224 in", "met")]
    #[case::under("15 63/64 in", "224 in", "met")]
    #[case::over("16 1/64 in", "224 in", "not met")]
    #[case::over_at_the_other("16 in", "223 63/64 in", "not met")]
    fn limits(#[case] from: &str, #[case] to: &str, #[case] expected: &str) {
        let list = panels(&[(from, "7 ft"), ("13 ft", to)], &json!({}));
        assert_eq!(
            ruling(CHECK.name, &wall_with(&json!({ "panels": list }))),
            expected
        );
    }

    /// The ends are those of the cripple wall, and a panel beyond it stands at neither.
    #[rstest]
    #[case("5 ft", "15 ft", &[("5 ft", "9 ft"), ("11 ft", "15 ft")], "met")]
    #[case("5 ft", "15 ft", &[("0 ft", "4 ft"), ("11 ft", "15 ft")], "not met")]
    #[case("5 ft", "15 ft", &[("5 ft", "9 ft"), ("16 ft", "20 ft")], "not met")]
    fn ends_of_the_cripple_wall(
        #[case] from: &str,
        #[case] to: &str,
        #[case] stations: &[(&str, &str)],
        #[case] expected: &str,
    ) {
        let wall = wall_with(&json!({
            "cripple_wall": [{"from": from, "to": to, "height": "24 in", "tallest_stud": "20 in"}],
            "panels": panels(stations, &json!({}))
        }));
        assert_eq!(ruling(CHECK.name, &wall), expected);
    }

    #[rstest]
    #[case(json!(true), "met")]
    #[case(json!(false), "not met")]
    #[case(json!({"unknown": "dark"}), "not determined")]
    fn summaries(#[case] at_each_end: Value, #[case] expected: &str) {
        let summary = json!({"total_length": "8 ft", "at_each_end": at_each_end, "shortest": "4 ft"});
        let wall = wall_with(&json!({"panels": [with(&good_panel(), &summary)]}));
        let said = ask(CHECK.name, CEBC, 1, &wall);
        assert_eq!(said.ruling, expected);
        assert_eq!(
            said.deciding.contains(&LookAt::PanelEnds),
            expected == "not determined"
        );
    }

    #[rstest]
    #[case(json!({"panels": null}), LookAt::Panels)]
    #[case(json!({"length": null}), LookAt::WallLength)]
    #[case(json!({"cripple_wall": null}), LookAt::CrippleWall)]
    #[case(json!({"panels": panels(&[("0 in", "4 ft")], &json!({})), "unseen": [{"from": "224 in", "why": "ducts"}]}), LookAt::Panels)]
    fn what_is_not_known_is_named(#[case] changes: Value, #[case] look_at: LookAt) {
        let said = ask(CHECK.name, CEBC, 1, &wall_with(&changes));
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&look_at), "{:?}", said.deciding);
    }

    #[test]
    fn a_panel_that_does_not_count_stands_at_no_end() {
        let mut wall = good_wall();
        wall["panels"][1]["edge_nailing"] = json!("6 in");
        assert_eq!(ruling(CHECK.name, &wall), "not met");
    }

    /// In the heavy house of three stories the whole wall is braced, and the row for it asks nothing. Where it
    /// is not known whether the house is heavy, that decides.
    #[rstest]
    #[case("tile", "not applicable")]
    #[case("light", "not met")]
    fn a_row_that_asks_nothing_does_not_apply(#[case] roof: &str, #[case] expected: &str) {
        let bare = wall_with(&json!({"panels": []}));
        let mut building = json!({"stories": 3, "exterior": "stucco", "roof": roof});
        assert_eq!(ask_of(CHECK.name, CEBC, &building, &bare).ruling, expected);
        building.as_object_mut().unwrap().remove("roof");
        let said = ask_of(CHECK.name, CEBC, &building, &bare);
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&LookAt::Roof), "{:?}", said.deciding);
    }

    /// A figure nobody has seen leaves it open, and nothing to look at under the house decides it.
    #[rstest]
    fn a_missing_figure_is_not_determined(#[values(MISSING[0], MISSING[1])] set: &str) {
        let said = ask(CHECK.name, set, 1, &good_wall());
        assert_eq!(said.ruling, "not determined");
        assert!(
            !said.findings.iter().any(|finding| {
                matches!(finding.required, Quantity::None) && !finding.deciding.is_empty()
            })
        );
    }

    #[rstest]
    fn where_there_is_no_cripple_wall_it_does_not_apply(#[values(CEBC, MISSING[0], MISSING[1])] set: &str) {
        let wall = wall_with(&json!({"cripple_wall": []}));
        assert_eq!(ask(CHECK.name, set, 1, &wall).ruling, "not applicable");
    }
}
