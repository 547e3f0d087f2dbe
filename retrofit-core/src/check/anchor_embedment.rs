//! Whether the anchors reach deep enough into the foundation.

use super::anchor_diameter::has_no_rod;
use super::anchorage::judge_property;
use super::context::Line;
use super::finding::{Findings, Found, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::Anchor;
use crate::observation::Truth;
use crate::provisions::{FigureName, Requirement, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-embedment",
    group: Group::Anchorage,
    title: "Anchor embedment",
    explanation: Explanation {
        looks_at: "How far each anchor reaches into the foundation, where the provisions give a least depth.",
        why: "A shallow anchor breaks out a cone of concrete instead of holding.",
        satisfied_by: "The least embedment on every anchor that counts. It can seldom be seen; a permit or a maker's mark may tell.",
        fix: "Add anchors of known embedment beside those whose depth is short or cannot be told.",
    },
    figures: &[FigureName::MinEmbedment],
    reads: &[LookAt::Anchors, LookAt::AnchorEmbedment, LookAt::AnchorKind],
    run: Run::Line(check),
};

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    match requirement.get(keys::MIN_EMBEDMENT) {
        Rule::Given { value, .. } => anchor.embedment.at_least(value).or(has_no_rod(anchor)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::MIN_EMBEDMENT);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorEmbedment, |anchor| {
        Found::of_length(&anchor.embedment)
    });
    findings.add(judgment.at_least(rule.value().map_or(Quantity::None, Quantity::Length)));
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    /// Anchors close enough for this set, which asks for 4 ft.
    fn wall(changes: &Value) -> Value {
        let stations: Vec<String> = (0..=5).map(|n| format!("{} in", 10 + 44 * n)).collect();
        let stations: Vec<&str> = stations.iter().map(String::as_str).collect();
        wall_with(&json!({ "anchors": anchors(&stations, changes) }))
    }

    #[rstest]
    #[case(json!({"embedment": "5 in"}), "met")]
    #[case(json!({"embedment": "4 63/64 in"}), "not met")]
    #[case(json!({"embedment": "5 1/64 in"}), "met")]
    #[case(json!({"embedment": null}), "not determined")]
    #[case(json!({"embedment": {"inferred": {"at_least": "5 in"}}}), "met")]
    #[case(json!({"embedment": {"inferred": {"at_most": "5 in"}}}), "not determined")]
    #[case(json!({"embedment": "3 in", "kind": "side_plate"}), "met")]
    fn limits(#[case] changes: Value, #[case] expected: &str) {
        let said = ask(CHECK.name, "san-leandro-handout-2001", 1, &wall(&changes));
        assert_eq!(said.ruling, expected);
        assert_eq!(
            said.deciding.contains(&LookAt::AnchorEmbedment),
            expected == "not determined"
        );
    }

    #[test]
    fn a_set_that_says_it_gives_none_asks_nothing() {
        let shallow = wall_with_anchors(&json!({"embedment": "1 in"}));
        assert_eq!(ruling(CHECK.name, &shallow), "not applicable");
    }

    /// A figure nobody has seen leaves it open, and nothing to look at under the house decides it.
    #[rstest]
    fn a_missing_figure_is_not_determined(#[values(MISSING[1])] set: &str) {
        let said = ask(CHECK.name, set, 1, &good_wall());
        assert_eq!(said.ruling, "not determined");
        assert_eq!(said.deciding, []);
    }
}
