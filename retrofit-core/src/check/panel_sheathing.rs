//! Whether the panels are of a sheathing that counts, and thick enough.

use super::bracing::judge_property;
use super::context::Line;
use super::finding::{Findings, Quantity};
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
    limit_is_a_maximum: false,
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
        Quantity::of_choice(&p.sheathing)
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
        |panel| Quantity::of_length(&panel.thickness),
    );
    findings.add(judgment.required(thickness.value().map_or(Quantity::None, Quantity::Length)));
}
