//! Whether the anchors stand far enough from the face of the foundation.

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
    name: "anchor-edge-distance",
    group: Group::Anchorage,
    title: "Anchor edge distance",
    explanation: Explanation {
        looks_at: "The distance from each anchor to the nearest face of the foundation.",
        why: "An anchor close to the face spalls the concrete off and holds nothing.",
        satisfied_by: "The least edge distance on every anchor that counts.",
        fix: "Add anchors nearer the middle of the foundation, or side plates where the sill leaves no room.",
    },
    figures: &[FigureName::MinEdgeDistance],
    reads: &[LookAt::Anchors, LookAt::AnchorEdge, LookAt::AnchorKind],
    run: Run::Line(check),
};

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    match requirement.get(keys::MIN_EDGE_DISTANCE) {
        Rule::Given { value, .. } => anchor.edge_distance.at_least(value).or(has_no_rod(anchor)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::MIN_EDGE_DISTANCE);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorEdge, |anchor| {
        Found::of_length(&anchor.edge_distance)
    });
    findings.add(judgment.at_least(rule.value().map_or(Quantity::None, Quantity::Length)));
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    #[test]
    fn a_set_that_says_it_gives_none_asks_nothing() {
        let near = wall_with_anchors(&json!({"edge_distance": "1 in"}));
        assert_eq!(ruling(CHECK.name, &near), "not applicable");
    }

    /// No shipped set gives a figure; a user's own may.
    #[rstest]
    #[case(json!("1 3/4 in"), "cast_in_place", Truth::True)]
    #[case(json!("1 47/64 in"), "cast_in_place", Truth::False)]
    #[case(json!("1 49/64 in"), "cast_in_place", Truth::True)]
    #[case(json!({"unknown": "?"}), "cast_in_place", Truth::Maybe)]
    #[case(json!("1 in"), "side_plate", Truth::True)]
    fn limits(#[case] distance: Value, #[case] kind: &str, #[case] expected: Truth) {
        let set = own_set(&[("min-edge-distance,,,,,,,,", "1 3/4 in")]);
        let requirement = set.requirement(1, crate::house::WeightCase::Other, 0).unwrap();
        let changes = json!({"at": "1 ft", "edge_distance": distance, "kind": kind});
        let anchor: Anchor = serde_json::from_value(with(&good_anchor(), &changes)).unwrap();
        assert_eq!(counts(&anchor, requirement), expected);
    }
}
