//! Whether the panels are long enough for their height.

use super::bracing::{judge_property, panel_length, stud_height};
use super::context::Line;
use super::finding::{Findings, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::Panel;
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "panel-proportion",
    group: Group::Bracing,
    title: "Length of single panels",
    explanation: Explanation {
        looks_at: "The length of each panel against the least length, and against the height of its studs.",
        why: "A panel that is short for its height tips up at its end instead of holding the wall.",
        satisfied_by: "Enough panels of at least the least length and the least length for their stud height.",
        fix: "Lengthen short panels or add longer ones.",
    },
    figures: &[FigureName::MinPanelLength, FigureName::MinPanelProportion],
    reads: &[
        LookAt::Panels,
        LookAt::ShortestPanel,
        LookAt::TallestStud,
        LookAt::CrippleHeight,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn is_long_enough(panel: &Panel, line: &Line<'_>) -> Truth {
    match line.rule(keys::MIN_PANEL_LENGTH) {
        Rule::Given { value, .. } => panel_length(panel).at_least(value),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn is_long_for_its_height(panel: &Panel, line: &Line<'_>) -> Truth {
    match line.rule(keys::MIN_PANEL_PROPORTION) {
        Rule::Given { value, .. } => {
            let length = panel_length(panel);
            let height = stud_height(panel, line);
            // The longest panel over the shortest stud is the best case; the shortest over the tallest the worst.
            let best = match (length.bounds().1, height.bounds().0) {
                (Some(longest), Some(lowest)) => *longest >= value.of(*lowest),
                _ => true,
            };
            let worst = match (length.bounds().0, height.bounds().1) {
                (Some(shortest), Some(tallest)) => *shortest >= value.of(*tallest),
                _ => false,
            };
            Truth::from_cases(best, worst)
        }
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

pub(super) fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    is_long_enough(panel, line).and(is_long_for_its_height(panel, line))
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let show = |panel: &Panel| Quantity::of_length(&panel_length(panel));
    let rule = line.rule(keys::MIN_PANEL_LENGTH);
    let judgment = judge_property(line, rule, is_long_enough, LookAt::ShortestPanel, show);
    findings.add(judgment.required(rule.value().map_or(Quantity::None, Quantity::Length)));

    let rule = line.rule(keys::MIN_PANEL_PROPORTION);
    let needed = |panel: &Panel| -> Option<Length> {
        let height = stud_height(panel, line).bounds().1.copied()?;
        rule.value().map(|proportion| proportion.of(height))
    };
    let panels = line.wall.panels.value();
    let asked = panels.into_iter().flatten().filter_map(needed).max();
    let look_at = if super::context::tallest_stud(line.wall).is_known() {
        LookAt::ShortestPanel
    } else {
        LookAt::TallestStud
    };
    let judgment = judge_property(line, rule, is_long_for_its_height, look_at, show);
    findings.add(judgment.required(asked.map_or(Quantity::None, Quantity::Length)));
}
