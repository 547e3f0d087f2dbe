//! Whether level joints between sheets lie over blocking.

use super::bracing::judge_property;
use super::context::Line;
use super::finding::{Findings, Quantity};
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
    limit_is_a_maximum: false,
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
        match panel.joints_blocked.value() {
            Some(true) => Quantity::Word("blocked, or no joints"),
            Some(false) => Quantity::Word("joints without blocking"),
            None => Quantity::None,
        }
    });
    findings.add(judgment.required(Quantity::Word("blocked")));
}
