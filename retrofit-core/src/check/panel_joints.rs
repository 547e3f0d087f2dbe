//! Whether level joints between sheets lie over blocking.

use super::bracing::judge_property;
use super::context::Line;
use super::finding::{Findings, Found, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::Panel;
use crate::observation::Truth;
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "panel-joints",
    group: Group::Bracing,
    title: "Joints over blocking",
    explanation: Explanation {
        looks_at: "Whether every level joint between two sheets of a panel is nailed to blocking behind it.",
        why: "At a joint without blocking the two sheets slide past each other, and the panel bends there.",
        satisfied_by: "Blocking behind every level joint, or panels without level joints.",
        fix: "Put flat blocking behind the joints and nail both sheets to it.",
    },
    figures: &[FigureName::BlockedJoints],
    reads: &[LookAt::Panels, LookAt::JointsBlocked],
    run: Run::Line(check),
};

pub(super) fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    match line.rule(keys::BLOCKED_JOINTS) {
        Rule::Given { .. } => panel.joints_blocked.satisfies(|blocked| blocked),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::BLOCKED_JOINTS);
    let judgment = judge_property(line, rule, counts, LookAt::JointsBlocked, |panel| {
        Found::of(&panel.joints_blocked, |blocked| {
            Quantity::Word(if blocked {
                "blocked, or no joints"
            } else {
                "joints without blocking"
            })
        })
    });
    findings.add(judgment.required(Quantity::Word("blocked")));
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    #[rstest]
    #[case(json!({"joints_blocked": true}), "met")]
    #[case(json!({"joints_blocked": false}), "not met")]
    fn limits(#[case] changes: Value, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &wall_with_panels(&changes)), expected);
    }

    #[test]
    fn not_known_is_not_determined_and_named() {
        let said = ask(
            CHECK.name,
            CEBC,
            1,
            &wall_with_panels(&json!({"joints_blocked": null})),
        );
        assert_eq!(said.ruling, "not determined");
        assert!(
            said.deciding.contains(&LookAt::JointsBlocked),
            "{:?}",
            said.deciding
        );
    }

    /// One that does not count beside enough that do, of which nothing is asked.
    #[test]
    fn what_does_not_count_beside_enough_that_do_is_surplus() {
        let mut wall = good_wall();
        let list = wall["panels"].as_array_mut().unwrap();
        list.push(with(
            &good_panel(),
            &json!({"from": "8 ft", "to": "12 ft", "joints_blocked": false}),
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
    fn a_missing_figure_is_not_determined(#[values(MISSING[0])] set: &str) {
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
