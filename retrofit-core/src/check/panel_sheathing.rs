//! Whether the panels are of a sheathing that counts, and thick enough.

use super::bracing::judge_property;
use super::context::Line;
use super::finding::{Findings, Found, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::Panel;
use crate::observation::Truth;
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "panel-sheathing",
    group: Group::Bracing,
    title: "Sheathing of the panels",
    explanation: Explanation {
        looks_at: "What each panel is made of, and how thick it is.",
        why: "Boards, plaster and thin board tear or rack; the short studs behind them then fold over.",
        satisfied_by: "Enough panels of a sheathing the provisions name, of at least the least thickness.",
        fix: "Add panels of plywood or OSB of the thickness asked for over the studs.",
    },
    figures: &[FigureName::SheathingKinds, FigureName::MinSheathingThickness],
    reads: &[LookAt::Panels, LookAt::Sheathing, LookAt::SheathingThickness],
    run: Run::Line(check),
};

fn is_of_a_kind_that_counts(panel: &Panel, line: &Line<'_>) -> Truth {
    match line.rule(keys::SHEATHING_KINDS) {
        Rule::Given { value, .. } => panel.sheathing.satisfies(|sheathing| value.contains(sheathing)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn is_thick_enough(panel: &Panel, line: &Line<'_>) -> Truth {
    match line.rule(keys::MIN_SHEATHING_THICKNESS) {
        Rule::Given { value, .. } => panel.thickness.at_least(value),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

pub(super) fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    is_of_a_kind_that_counts(panel, line).and(is_thick_enough(panel, line))
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let kinds = line.rule(keys::SHEATHING_KINDS);
    let judgment = judge_property(line, kinds, is_of_a_kind_that_counts, LookAt::Sheathing, |p| {
        Found::of_choice(&p.sheathing)
    });
    findings.add(match kinds.figure() {
        Some(figure) => judgment.required(Quantity::Figure(figure)),
        None => judgment,
    });
    let thickness = line.rule(keys::MIN_SHEATHING_THICKNESS);
    let judgment = judge_property(
        line,
        thickness,
        is_thick_enough,
        LookAt::SheathingThickness,
        |panel| Found::of_length(&panel.thickness),
    );
    findings.add(judgment.at_least(thickness.value().map_or(Quantity::None, Quantity::Length)));
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    #[rstest]
    #[case(json!({"sheathing": "three_ply"}), "met")]
    #[case(json!({"sheathing": "osb"}), "met")]
    #[case(json!({"sheathing": "diagonal_boards"}), "not met")]
    #[case(json!({"sheathing": "stucco"}), "not met")]
    #[case(json!({"thickness": "15/32 in"}), "met")]
    #[case(json!({"thickness": "29/64 in"}), "not met")]
    #[case(json!({"thickness": "31/64 in"}), "met")]
    #[case(json!({"thickness": {"seen": {"at_least": "15/32 in"}}}), "met")]
    #[case(json!({"thickness": null}), "not determined")]
    fn limits(#[case] changes: Value, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &wall_with_panels(&changes)), expected);
    }

    #[test]
    fn not_known_is_not_determined_and_named() {
        let said = ask(
            CHECK.name,
            CEBC,
            1,
            &wall_with_panels(&json!({"sheathing": null})),
        );
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&LookAt::Sheathing), "{:?}", said.deciding);
    }

    /// One that does not count beside enough that do, of which nothing is asked.
    #[test]
    fn what_does_not_count_beside_enough_that_do_is_surplus() {
        let mut wall = good_wall();
        let list = wall["panels"].as_array_mut().unwrap();
        list.push(with(
            &good_panel(),
            &json!({"from": "8 ft", "to": "12 ft", "sheathing": "stucco"}),
        ));
        assert_eq!(ruling(CHECK.name, &wall), "met");
    }

    #[rstest]
    #[case(json!([]), "not applicable")]
    #[case(Value::Null, "not determined")]
    fn no_panels_and_panels_not_recorded(#[case] list: Value, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &wall_with(&json!({"panels": list}))), expected);
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
