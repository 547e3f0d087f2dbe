//! Whether the anchors are of a kind that counts.

use super::anchorage::judge_property;
use super::context::Line;
use super::finding::{Findings, Found, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::Anchor;
use crate::observation::Truth;
use crate::provisions::{FigureName, Requirement, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-kind",
    group: Group::Anchorage,
    title: "Kind of anchor",
    explanation: Explanation {
        looks_at: "How each anchor holds the sill: cast in, set in adhesive, expanding, a side plate, or only driven pins or nails.",
        why: "Pins and nails pull out or shear long before a bolt does; a sill held by them slides off its foundation.",
        satisfied_by: "Enough anchors of a kind the provisions name.",
        fix: "Add anchors of a kind that counts beside the ones that do not.",
    },
    figures: &[FigureName::AnchorKinds],
    reads: &[LookAt::Anchors, LookAt::AnchorKind],
    run: Run::Line(check),
};

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    match requirement.get(keys::ANCHOR_KINDS) {
        Rule::Given { value, .. } => anchor.kind.satisfies(|kind| value.contains(kind)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::ANCHOR_KINDS);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorKind, |anchor| {
        Found::of_choice(&anchor.kind)
    });
    findings.add(match rule.figure() {
        Some(figure) => judgment.required(Quantity::Figure(figure)),
        None => judgment,
    });
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    #[rstest]
    #[case(json!({"kind": "cast_in_place"}), "met")]
    #[case(json!({"kind": "adhesive"}), "met")]
    #[case(json!({"kind": "expansion"}), "met")]
    #[case(json!({"kind": "side_plate"}), "met")]
    #[case(json!({"kind": "screw"}), "not met")]
    #[case(json!({"kind": "strap"}), "not met")]
    #[case(json!({"kind": "powder_driven"}), "not met")]
    #[case(json!({"kind": "nail"}), "not met")]
    fn limits(#[case] changes: Value, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &wall_with_anchors(&changes)), expected);
    }

    #[test]
    fn not_known_is_not_determined_and_named() {
        let said = ask(CHECK.name, CEBC, 1, &wall_with_anchors(&json!({"kind": null})));
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&LookAt::AnchorKind), "{:?}", said.deciding);
    }

    /// One that does not count beside enough that do, of which nothing is asked.
    #[test]
    fn what_does_not_count_beside_enough_that_do_is_surplus() {
        let mut wall = good_wall();
        let list = wall["anchors"].as_array_mut().unwrap();
        list.push(with(&good_anchor(), &json!({"at": "100 in", "kind": "nail"})));
        assert_eq!(ruling(CHECK.name, &wall), "met");
    }

    #[rstest]
    #[case(json!([]), "not applicable")]
    #[case(Value::Null, "not determined")]
    fn no_anchors_and_anchors_not_recorded(#[case] list: Value, #[case] expected: &str) {
        assert_eq!(
            ruling(CHECK.name, &wall_with(&json!({"anchors": list}))),
            expected
        );
    }

    /// Whether the anchors that count are enough is open: then so is whether the pin is wanting.
    #[test]
    fn while_it_is_open_whether_there_are_enough_a_pin_is_too() {
        let mut list = anchors(&["10 in", "230 in"], &json!({}));
        list[0]["kind"] = json!("powder_driven");
        let wall = wall_with(&json!({"anchors": list, "unseen": [{"why": "ducts"}]}));
        let said = ask(CHECK.name, CEBC, 1, &wall);
        assert_eq!(said.ruling, "not determined");
        assert_eq!(said.deciding, [LookAt::Anchors]);
    }

    #[test]
    fn anchors_that_were_not_recorded_may_not_be_there() {
        let said = ask(CHECK.name, CEBC, 1, &wall_with(&json!({"anchors": null})));
        assert!(
            said.findings[0]
                .outcomes
                .contains(crate::check::Outcome::NotApplicable)
        );
    }

    /// A figure nobody has seen leaves it open, and nothing to look at under the house decides it.
    #[rstest]
    fn a_missing_figure_is_not_determined(#[values(MISSING[0], MISSING[1])] set: &str) {
        let said = ask(CHECK.name, set, 1, &good_wall());
        assert_eq!(said.ruling, "not determined");
        assert_eq!(said.deciding, []);
    }
}
