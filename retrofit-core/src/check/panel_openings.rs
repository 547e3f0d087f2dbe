//! Whether vents, doors or pipes are cut through the panels.

use super::bracing::{judge_property, stud_height};
use super::context::{Line, wall_height};
use super::finding::{Findings, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Opening, OpeningKind, Panel, Parts, Span};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "panel-openings",
    group: Group::Bracing,
    title: "Openings in panels",
    explanation: Explanation {
        looks_at: "Vents, doors and large holes cut through a panel, and how high they reach.",
        why: "A hole in the middle of a panel takes its strength; panels with a vent cut into every bay brace nothing.",
        satisfied_by: "Panels without openings, or with low ones where the provisions allow them; the panel then counts for its length less the opening.",
        fix: "Move the vent and close the hole with a new panel, or add panels clear of the openings.",
    },
    figures: &[FigureName::MaxOpeningInPanel],
    reads: &[
        LookAt::Panels,
        LookAt::CutThrough,
        LookAt::Openings,
        LookAt::OpeningTop,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

/// The openings that lie inside a panel. Pipes are left out: the provisions speak of vents and doors.
fn inside<'a>(panel: &Panel, line: &'a Line<'_>) -> impl Iterator<Item = &'a Opening> {
    let span = panel.stations().map(|(from, to)| Span::new(from, to));
    line.wall
        .openings
        .value()
        .into_iter()
        .flatten()
        .filter(|opening| matches!(opening.kind, OpeningKind::Vent | OpeningKind::Access))
        .filter(move |opening| span.is_some_and(|span| span.overlaps(Span::new(opening.from, opening.to))))
}

/// The length that openings take from a panel.
pub(super) fn length_inside(panel: &Panel, line: &Line<'_>) -> Length {
    let Some((from, to)) = panel.stations() else {
        return Length::ZERO;
    };
    inside(panel, line).fold(Length::ZERO, |sum, opening| {
        sum.saturating_add(opening.to.min(to).saturating_sub(opening.from.max(from)))
    })
}

pub(super) fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    let limit = match line.rule(keys::MAX_OPENING_IN_PANEL) {
        Rule::Given { value, .. } => value,
        Rule::Missing(_) => return panel.cut_through.satisfies(|cut| !cut).or(Truth::Maybe),
        Rule::Silent(_) | Rule::NotRegulated => return Truth::True,
    };
    let height = wall_height(line.wall);
    let height = if height.is_known() {
        height
    } else {
        stud_height(panel, line)
    };
    let low = inside(panel, line).fold(Truth::True, |truth, opening| {
        let (least_top, most_top) = opening.top.bounds();
        let best = match (least_top, height.bounds().1) {
            (Some(top), Some(height)) => *top <= limit.of(*height),
            _ => true,
        };
        let worst = match (most_top, height.bounds().0) {
            (Some(top), Some(height)) => *top <= limit.of(*height),
            _ => false,
        };
        truth.and(Truth::from_cases(best, worst))
    });
    let is_listed = inside(panel, line).next().is_some();
    let span = panel.stations().map(|(from, to)| Span::new(from, to));
    let may_be_hidden = line.wall.openings.value().is_none()
        || line
            .wall
            .unseen_of(Parts::Openings)
            .any(|unseen| span.is_none_or(|span| unseen.span(line.length()).overlaps(span)));
    match panel.cut_through.value() {
        // The observer says so; an opening on the list may still be a low one.
        Some(true) if is_listed => low,
        Some(true) => Truth::False,
        Some(false) => low,
        // A summary names no stations: whether an opening lies inside one of its panels is not known.
        None if panel.stations().is_none() || may_be_hidden => low.and(Truth::Maybe),
        None => low,
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::MAX_OPENING_IN_PANEL);
    let judgment = judge_property(line, rule, counts, LookAt::CutThrough, |panel| {
        let tops = inside(panel, line).filter_map(|opening| opening.top.bounds().1.copied());
        match (panel.cut_through.value(), tops.max()) {
            (_, Some(top)) => Quantity::Length(top),
            (Some(true), None) => Quantity::Word("cut through"),
            (Some(false), None) => Quantity::Word("not cut"),
            (None, None) => Quantity::None,
        }
    });
    findings.add(judgment.required(rule.value().map_or(Quantity::None, Quantity::Percent)));
}
