//! Whether the panels are nailed with the nails and at the spacing asked for.

use super::bracing::judge_property;
use super::context::Line;
use super::finding::{Findings, Quantity};
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
    limit_is_a_maximum: true,
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
        panel
            .nail
            .value()
            .map_or(Quantity::None, |nail| Quantity::Nail(*nail))
    });
    findings.add(judgment.required(rule.value().map_or(Quantity::None, Quantity::Nail)));

    let rule = line.rule(keys::EDGE_NAILING);
    let judgment = judge_property(line, rule, edge, LookAt::EdgeNailing, |panel| {
        Quantity::of_length(&panel.edge_nailing)
    });
    findings.add(judgment.required(rule.value().map_or(Quantity::None, Quantity::Length)));

    let rule = line.rule(keys::FIELD_NAILING);
    let judgment = judge_property(line, rule, field, LookAt::FieldNailing, |panel| {
        Quantity::of_length(&panel.field_nailing)
    });
    findings.add(judgment.required(rule.value().map_or(Quantity::None, Quantity::Length)));

    let judgment = judge_property(
        line,
        line.rule(keys::FLUSH_NAILS),
        flush,
        LookAt::NailsFlush,
        |panel| match panel.nails_flush.value() {
            Some(true) => Quantity::Word("flush"),
            Some(false) => Quantity::Word("heads break the face"),
            None => Quantity::None,
        },
    );
    findings.add(judgment.required(Quantity::Word("flush")));
}
