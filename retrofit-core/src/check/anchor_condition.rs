//! Whether nuts are tight and the steel is whole.

use super::anchor_diameter::has_no_rod;
use super::anchorage::judge_property;
use super::context::Line;
use super::finding::{Findings, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Anchor, Corrosion, Tightness};
use crate::observation::Truth;
use crate::provisions::{FigureName, Requirement, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-condition",
    group: Group::Anchorage,
    title: "Tight nuts and whole steel",
    explanation: Explanation {
        looks_at: "Whether the nut of each anchor is snug-tight, and how far its steel has rusted.",
        why: "A loose or missing nut lets the sill lift and slide before the anchor takes hold; wasted steel shears.",
        satisfied_by: "Snug-tight nuts and steel that has kept its section on every anchor that counts.",
        fix: "Tighten loose nuts; replace missing ones; add anchors beside those that rust has wasted.",
    },
    figures: &[FigureName::TightAnchors],
    reads: &[
        LookAt::Anchors,
        LookAt::AnchorTightness,
        LookAt::AnchorCorrosion,
        LookAt::AnchorKind,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn is_tight(anchor: &Anchor) -> Truth {
    anchor
        .tightness
        .satisfies(|tightness| tightness == Tightness::Snug)
        .or(has_no_rod(anchor))
}

fn is_whole(anchor: &Anchor) -> Truth {
    anchor
        .corrosion
        .satisfies(|corrosion| corrosion != Corrosion::Wasted)
}

/// Holds an anchor against the rule on tight nuts and whole steel.
fn where_asked(requirement: &Requirement, answer: Truth) -> Truth {
    match requirement.get(keys::TIGHT_ANCHORS) {
        Rule::Given { .. } => answer,
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

pub(super) fn nut_counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    where_asked(requirement, is_tight(anchor))
}

pub(super) fn steel_counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    where_asked(requirement, is_whole(anchor))
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::TIGHT_ANCHORS);
    let nuts = judge_property(line, rule, nut_counts, LookAt::AnchorTightness, |anchor| {
        Quantity::of_choice(&anchor.tightness)
    });
    findings.add(nuts.required(Quantity::Word("snug-tight")));
    let steel = judge_property(line, rule, steel_counts, LookAt::AnchorCorrosion, |anchor| {
        Quantity::of_choice(&anchor.corrosion)
    });
    findings.add(steel.required(Quantity::Word("not wasted")));
}
