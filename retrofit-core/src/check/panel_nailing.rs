//! Whether the panels are nailed with the nails and at the spacing asked for.

use super::bracing::judge_property;
use super::context::Line;
use super::finding::{Findings, Found, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Nail, Panel, Shank};
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::provisions::{FigureKey, FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "panel-nailing",
    group: Group::Bracing,
    title: "Nailing of the panels",
    explanation: Explanation {
        looks_at: "The nails, their spacing along panel edges and between them, and whether their heads broke the face.",
        why: "A panel is as strong as its edge nails. Thin, sparse or overdriven nails pull through and the panel comes off.",
        satisfied_by: "At least the nail asked for, at no more than the spacing asked for, heads flush.",
        fix: "Add nails of the size asked for between the old ones; beside each overdriven nail drive a new one.",
    },
    figures: &[
        FigureName::PanelNail,
        FigureName::EdgeNailing,
        FigureName::FieldNailing,
        FigureName::FlushNails,
    ],
    reads: &[
        LookAt::Panels,
        LookAt::PanelNail,
        LookAt::EdgeNailing,
        LookAt::FieldNailing,
        LookAt::NailsFlush,
    ],
    run: Run::Line(check),
};

/// Whether a nail may stand in for the one asked for: as many pennies, and a shank as stout.
fn is_as_good_as(nail: Nail, required: Nail) -> bool {
    let is_stout = matches!(nail.shank, Shank::Common) || nail.shank == required.shank;
    nail.penny >= required.penny && is_stout
}

fn nail(panel: &Panel, line: &Line<'_>) -> Truth {
    match line.rule(keys::PANEL_NAIL) {
        Rule::Given { value, .. } => panel.nail.satisfies(|nail| is_as_good_as(nail, value)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn spacing(line: &Line<'_>, key: FigureKey<Length>, found: &Observed<Length>) -> Truth {
    match line.rule(key) {
        Rule::Given { value, .. } => found.at_most(value),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn edge(panel: &Panel, line: &Line<'_>) -> Truth {
    spacing(line, keys::EDGE_NAILING, &panel.edge_nailing)
}

fn field(panel: &Panel, line: &Line<'_>) -> Truth {
    spacing(line, keys::FIELD_NAILING, &panel.field_nailing)
}

fn flush(panel: &Panel, line: &Line<'_>) -> Truth {
    match line.rule(keys::FLUSH_NAILS) {
        Rule::Given { .. } => panel.nails_flush.satisfies(|flush| flush),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

pub(super) fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    nail(panel, line)
        .and(edge(panel, line))
        .and(field(panel, line))
        .and(flush(panel, line))
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::PANEL_NAIL);
    let judgment = judge_property(line, rule, nail, LookAt::PanelNail, |panel| {
        Found::of(&panel.nail, Quantity::Nail)
    });
    findings.add(judgment.at_least(rule.value().map_or(Quantity::None, Quantity::Nail)));

    let rule = line.rule(keys::EDGE_NAILING);
    let judgment = judge_property(line, rule, edge, LookAt::EdgeNailing, |panel| {
        Found::of_length(&panel.edge_nailing)
    });
    findings.add(judgment.at_most(rule.value().map_or(Quantity::None, Quantity::Length)));

    let rule = line.rule(keys::FIELD_NAILING);
    let judgment = judge_property(line, rule, field, LookAt::FieldNailing, |panel| {
        Found::of_length(&panel.field_nailing)
    });
    findings.add(judgment.at_most(rule.value().map_or(Quantity::None, Quantity::Length)));

    let judgment = judge_property(
        line,
        line.rule(keys::FLUSH_NAILS),
        flush,
        LookAt::NailsFlush,
        |panel| {
            Found::of(&panel.nails_flush, |flush| {
                Quantity::Word(if flush { "flush" } else { "heads break the face" })
            })
        },
    );
    findings.add(judgment.required(Quantity::Word("flush")));
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    #[rstest]
    #[case(json!({"nail": "10d common"}), "met")]
    #[case(json!({"nail": "6d common"}), "not met")]
    #[case(json!({"nail": "8d box"}), "not met")]
    #[case(json!({"nail": "10d ring"}), "not met")]
    #[case(json!({"edge_nailing": "4 in"}), "met")]
    #[case(json!({"edge_nailing": "3 63/64 in"}), "met")]
    #[case(json!({"edge_nailing": "4 1/64 in"}), "not met")]
    #[case(json!({"field_nailing": "12 in"}), "met")]
    #[case(json!({"field_nailing": "12 1/64 in"}), "not met")]
    #[case(json!({"field_nailing": "11 63/64 in"}), "met")]
    #[case(json!({"nails_flush": false}), "not met")]
    #[case(json!({"nails_flush": null}), "not determined")]
    #[case(json!({"edge_nailing": null}), "not determined")]
    fn limits(#[case] changes: Value, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &wall_with_panels(&changes)), expected);
    }

    #[test]
    fn not_known_is_not_determined_and_named() {
        let said = ask(CHECK.name, CEBC, 1, &wall_with_panels(&json!({"nail": null})));
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&LookAt::PanelNail), "{:?}", said.deciding);
    }

    /// One that does not count beside enough that do, of which nothing is asked.
    #[test]
    fn what_does_not_count_beside_enough_that_do_is_surplus() {
        let mut wall = good_wall();
        let list = wall["panels"].as_array_mut().unwrap();
        list.push(with(
            &good_panel(),
            &json!({"from": "8 ft", "to": "12 ft", "nail": "6d box"}),
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
