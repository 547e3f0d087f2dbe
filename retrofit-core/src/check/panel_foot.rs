//! Whether the panels are nailed to the sill, or to blocks that are.

use super::bracing::judge_property;
use super::context::Line;
use super::finding::{Findings, Found, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Panel, PanelFoot};
use crate::observation::Truth;
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "panel-foot",
    group: Group::Bracing,
    title: "Panels nailed to the sill",
    explanation: Explanation {
        looks_at: "How the foot of each panel is fastened: to the sill, to blocks on a sill that is wider than the studs, or not at all.",
        why: "The panel has to hand its force to the sill. Where it stops at the studs, the studs tip and the sill stays behind.",
        satisfied_by: "Panels nailed to the sill, or to blocks between the studs with enough nails into the sill.",
        fix: "Nail blocks to the sill between the studs and nail the panel to the blocks.",
    },
    figures: &[FigureName::PanelToSill, FigureName::NailsPerSillBlock],
    reads: &[LookAt::Panels, LookAt::PanelFoot, LookAt::NailsPerSillBlock],
    run: Run::Line(check),
};

fn reaches_the_sill(panel: &Panel, line: &Line<'_>) -> Truth {
    match line.rule(keys::PANEL_TO_SILL) {
        Rule::Given { .. } => panel.foot.satisfies(|foot| foot != PanelFoot::Short),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn blocks_are_nailed(panel: &Panel, line: &Line<'_>) -> Truth {
    let has_no_blocks = panel.foot.satisfies(|foot| foot != PanelFoot::SillBlocks);
    match line.rule(keys::NAILS_PER_SILL_BLOCK) {
        Rule::Given { value, .. } => {
            let least = u16::try_from(value).unwrap_or(u16::MAX);
            panel.nails_per_sill_block.at_least(least).or(has_no_blocks)
        }
        Rule::Missing(_) => has_no_blocks.or(Truth::Maybe),
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

pub(super) fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    reaches_the_sill(panel, line).and(blocks_are_nailed(panel, line))
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::PANEL_TO_SILL);
    let judgment = judge_property(line, rule, reaches_the_sill, LookAt::PanelFoot, |panel| {
        Found::of_choice(&panel.foot)
    });
    findings.add(judgment.required(Quantity::Word("nailed to the sill or to blocks on it")));

    let blocks = line.wall.panels.value().map_or(Truth::Maybe, |panels| {
        let on_blocks = |panel: &Panel| panel.foot.satisfies(|foot| foot == PanelFoot::SillBlocks);
        panels.iter().map(on_blocks).fold(Truth::False, Truth::or)
    });
    let rule = line.rule(keys::NAILS_PER_SILL_BLOCK);
    if blocks.possible() && !rule.is_open() {
        let judgment = judge_property(
            line,
            rule,
            blocks_are_nailed,
            LookAt::NailsPerSillBlock,
            |panel| {
                Found::of(&panel.nails_per_sill_block, |nails| {
                    Quantity::Count(u32::from(nails))
                })
            },
        );
        let judgment = judgment.at_least(rule.value().map_or(Quantity::None, Quantity::Count));
        findings.add(judgment.applicable_if(blocks, "No panel here is nailed to blocks.", LookAt::PanelFoot));
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    #[rstest]
    #[case(json!({"foot": "sill"}), "met")]
    #[case(json!({"foot": "short"}), "not met")]
    #[case(json!({"foot": "sill_blocks", "nails_per_sill_block": 4}), "met")]
    #[case(json!({"foot": "sill_blocks", "nails_per_sill_block": 3}), "not met")]
    #[case(json!({"foot": "sill_blocks", "nails_per_sill_block": 5}), "met")]
    #[case(json!({"foot": "sill_blocks"}), "not determined")]
    #[case(json!({"foot": null, "nails_per_sill_block": 4}), "not determined")]
    fn limits(#[case] changes: Value, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &wall_with_panels(&changes)), expected);
    }

    #[test]
    fn not_known_is_not_determined_and_named() {
        let said = ask(CHECK.name, CEBC, 1, &wall_with_panels(&json!({"foot": null})));
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&LookAt::PanelFoot), "{:?}", said.deciding);
    }

    /// One that does not count beside enough that do, of which nothing is asked.
    #[test]
    fn what_does_not_count_beside_enough_that_do_is_surplus() {
        let mut wall = good_wall();
        let list = wall["panels"].as_array_mut().unwrap();
        list.push(with(
            &good_panel(),
            &json!({"from": "8 ft", "to": "12 ft", "foot": "short"}),
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
