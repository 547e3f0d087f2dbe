//! Whether the gaps between panels are small enough.

use super::bracing::{self, has_summary, where_there_is_a_cripple_wall};
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "panel-gaps",
    group: Group::Bracing,
    title: "Gaps between panels",
    explanation: Explanation {
        looks_at: "The largest clear distance between two panels that count, or between a panel and the end of the cripple wall.",
        why: "A long stretch without a panel has to carry its push along the plates, which part at their joints.",
        satisfied_by: "No gap larger than the provisions allow, where they give a figure.",
        fix: "Add a panel in the gap.",
    },
    figures: &[FigureName::MaxPanelGap],
    reads: &[
        LookAt::WallLength,
        LookAt::CrippleWall,
        LookAt::Panels,
        LookAt::PanelGap,
    ],
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let bracing = line.bracing();
    let judgment = Judgment::by(line.rule(keys::MAX_PANEL_GAP), |limit| {
        let measured = match bracing.gap {
            Some(gap) if gap.worst == gap.best => Quantity::Length(gap.worst),
            Some(gap) => Quantity::LengthBetween(Some(gap.best), Some(gap.worst)),
            None => Quantity::None,
        };
        let mut judgment = Judgment::met_if(bracing.gaps_small_enough)
            .facts(
                "No gap between panels that count is larger than allowed.",
                "A gap between panels that count is larger than allowed.",
                "Whether the gaps are small enough depends on something that was not seen.",
            )
            .measured(measured)
            .at_most(Quantity::Length(limit))
            .span(bracing.gap.map(|gap| gap.span));
        if bracing.gap.is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
        judgment.decided_by(if has_summary(line) {
            LookAt::PanelGap
        } else {
            LookAt::Panels
        })
    });
    findings.add(
        where_there_is_a_cripple_wall(line, judgment)
            .about(LookAt::Panels, None)
            .basis(bracing::basis(line, |panel| panel.largest_gap.basis())),
    );
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    /// This set allows 14 ft.
    const SET: &str = "crc-2013-new-construction";

    fn wall(from: &str) -> Value {
        wall_with(&json!({"panels": panels(&[("0 in", "4 ft"), (from, "20 ft")], &json!({}))}))
    }

    #[rstest]
    #[case::at("18 ft", "met")]
    #[case::under("215 63/64 in", "met")]
    #[case::over("216 1/64 in", "not met")]
    fn limits(#[case] from: &str, #[case] expected: &str) {
        let wall = wall(from);
        let counts = ask("panel-proportion", SET, 1, &wall);
        assert_ne!(counts.ruling, "not met", "only the gap is in question");
        assert_eq!(ask(CHECK.name, SET, 1, &wall).ruling, expected);
    }

    /// Where the floor bears on the sill there is nothing to brace, and no gap.
    #[test]
    fn a_stretch_without_cripple_wall_is_no_gap() {
        let wall = wall_with(&json!({
            "cripple_wall": [
                {"to": "2 ft", "height": "24 in", "tallest_stud": "20 in"},
                {"from": "18 ft", "height": "24 in", "tallest_stud": "20 in"}
            ],
            "panels": panels(&[("0 in", "1 ft"), ("19 ft", "20 ft")], &json!({}))
        }));
        assert_eq!(ask(CHECK.name, SET, 1, &wall).ruling, "met");
    }

    #[rstest]
    #[case(json!("14 ft"), "met")]
    #[case(json!("168 1/64 in"), "not met")]
    #[case(json!({"unknown": "dark"}), "not determined")]
    fn summaries(#[case] gap: Value, #[case] expected: &str) {
        let summary =
            json!({"total_length": "8 ft", "at_each_end": true, "shortest": "4 ft", "largest_gap": gap});
        let wall = wall_with(&json!({"panels": [with(&good_panel(), &summary)]}));
        let said = ask(CHECK.name, SET, 1, &wall);
        assert_eq!(said.ruling, expected);
        assert_eq!(
            said.deciding.contains(&LookAt::PanelGap),
            expected == "not determined"
        );
    }

    #[rstest]
    #[case(json!({"panels": null}), LookAt::Panels)]
    #[case(json!({"length": null}), LookAt::WallLength)]
    #[case(json!({"cripple_wall": null}), LookAt::CrippleWall)]
    fn what_is_not_known_is_named(#[case] changes: Value, #[case] look_at: LookAt) {
        let said = ask(CHECK.name, SET, 1, &wall_with(&changes));
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&look_at), "{:?}", said.deciding);
    }

    /// What is said of panels that may not count settles nothing.
    #[test]
    fn a_summary_that_may_not_count_is_open() {
        let summary = json!({
            "total_length": "8 ft", "at_each_end": true, "shortest": "4 ft", "largest_gap": "10 ft",
            "sheathing": null
        });
        let wall = wall_with(&json!({"panels": [with(&good_panel(), &summary)]}));
        let set = own_set(&[
            ("max-panel-gap,,,,,,,,", "14 ft"),
            ("sheathing-kinds,,,,,,,,", "plywood"),
        ]);
        let said = ask_by(CHECK.name, &set, &json!({"stories": 1}), &wall);
        assert_eq!(said.ruling, "not determined");
    }

    #[test]
    fn a_set_that_says_it_gives_none_asks_nothing() {
        assert_eq!(ruling(CHECK.name, &wall("18 ft")), "not applicable");
    }

    #[rstest]
    fn where_there_is_no_cripple_wall_it_does_not_apply(#[values(CEBC, SET)] set: &str) {
        let wall = wall_with(&json!({"cripple_wall": []}));
        assert_eq!(ask(CHECK.name, set, 1, &wall).ruling, "not applicable");
    }
}
