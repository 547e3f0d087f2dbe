//! Whether nuts are tight and the steel is whole.

use super::anchor_diameter::has_no_rod;
use super::anchorage::judge_property;
use super::context::Line;
use super::finding::{Findings, Found, Quantity};
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
        Found::of_choice(&anchor.tightness)
    });
    findings.add(nuts.required(Quantity::Word("snug-tight")));
    let steel = judge_property(line, rule, steel_counts, LookAt::AnchorCorrosion, |anchor| {
        Found::of_choice(&anchor.corrosion)
    });
    findings.add(steel.required(Quantity::Word("not wasted")));
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    #[rstest]
    #[case(json!({"tightness": "snug"}), "met")]
    #[case(json!({"tightness": "loose"}), "not met")]
    #[case(json!({"tightness": "missing"}), "not met")]
    #[case(json!({"corrosion": "scaling"}), "met")]
    #[case(json!({"corrosion": "wasted"}), "not met")]
    #[case(json!({"kind": "side_plate", "tightness": null, "diameter": null}), "met")]
    #[case(json!({"corrosion": null}), "not determined")]
    fn limits(#[case] changes: Value, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &wall_with_anchors(&changes)), expected);
    }

    #[test]
    fn not_known_is_not_determined_and_named() {
        let said = ask(
            CHECK.name,
            CEBC,
            1,
            &wall_with_anchors(&json!({"tightness": null})),
        );
        assert_eq!(said.ruling, "not determined");
        assert!(
            said.deciding.contains(&LookAt::AnchorTightness),
            "{:?}",
            said.deciding
        );
    }

    /// One that does not count beside enough that do, of which nothing is asked.
    #[test]
    fn what_does_not_count_beside_enough_that_do_is_surplus() {
        let mut wall = good_wall();
        let list = wall["anchors"].as_array_mut().unwrap();
        list.push(with(
            &good_anchor(),
            &json!({"at": "100 in", "tightness": "loose"}),
        ));
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

    /// A loose nut and wasted steel on two anchors are two findings, each about its own anchor.
    #[test]
    fn nuts_and_steel_are_told_apart() {
        let mut list = anchors(&["10 in", "230 in"], &json!({}));
        list[0]["tightness"] = json!("loose");
        list[1]["corrosion"] = json!("wasted");
        let said = ask(CHECK.name, CEBC, 1, &wall_with(&json!({"anchors": list})));
        let told: Vec<_> = said.findings.iter().map(|f| (f.path(), f.measured)).collect();
        assert_eq!(
            told,
            [
                (
                    Some("wall_lines[0].anchors[0].tightness".to_owned()),
                    Quantity::Word("loose")
                ),
                (
                    Some("wall_lines[0].anchors[1].corrosion".to_owned()),
                    Quantity::Word("wasted by rust")
                ),
            ]
        );
    }

    #[test]
    fn rust_that_was_not_looked_at_is_named() {
        let said = ask(
            CHECK.name,
            CEBC,
            1,
            &wall_with_anchors(&json!({"corrosion": null})),
        );
        assert_eq!(said.deciding, [LookAt::AnchorCorrosion]);
    }

    /// A figure nobody has seen leaves it open, and nothing to look at under the house decides it.
    #[rstest]
    fn a_missing_figure_is_not_determined(#[values(MISSING[0])] set: &str) {
        let said = ask(CHECK.name, set, 1, &good_wall());
        assert_eq!(said.ruling, "not determined");
        assert_eq!(said.deciding, []);
    }
}
