//! Whether the anchors have plate washers.

use super::anchor_diameter::has_no_rod;
use super::anchorage::judge_property;
use super::context::Line;
use super::finding::{Findings, Found, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Anchor, Washer};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{FigureName, Requirement, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-washer",
    group: Group::Anchorage,
    title: "Plate washers",
    explanation: Explanation {
        looks_at: "The washer under each nut: a square plate, a round cut washer, or none.",
        why: "Under a small washer the sill splits along the bolt line and lifts off; a plate spreads the force over the grain.",
        satisfied_by: "A plate washer of at least the size asked for on every anchor that counts.",
        fix: "Take off the nuts and put plate washers under them, where bolt and wood are good.",
    },
    figures: &[FigureName::Washer],
    reads: &[
        LookAt::Anchors,
        LookAt::AnchorWasher,
        LookAt::AnchorKind,
        LookAt::AnchorDiameter,
    ],
    run: Run::Line(check),
};

/// The row for anchors of a diameter: that for the stoutest which is no stouter, else that for the thinnest.
pub(super) fn row_for(diameter: Length, requirement: &Requirement) -> Rule<Washer> {
    let rows = requirement.all(keys::WASHER);
    rows.clone()
        .filter(|(case, _)| case.diameter.is_none_or(|of| of <= diameter))
        .max_by_key(|(case, _)| case.diameter)
        .or_else(|| rows.min_by_key(|(case, _)| case.diameter))
        .map_or(Rule::NotRegulated, |(_, rule)| rule)
}

/// The rows that may apply to an anchor: one where its diameter is known, more where it is not.
fn rows_for<'a>(anchor: &Anchor, requirement: &'a Requirement) -> impl Iterator<Item = Rule<Washer>> + 'a {
    let (least, most) = anchor.diameter.bounds();
    let least = least.copied().unwrap_or(Length::ZERO);
    let most = most.copied();
    let stouter = requirement
        .all(keys::WASHER)
        .filter(move |(case, _)| {
            case.diameter
                .is_some_and(|of| of > least && most.is_none_or(|most| of <= most))
        })
        .map(|(_, rule)| rule);
    std::iter::once(row_for(least, requirement)).chain(stouter)
}

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    let by_row = |rule| match rule {
        Rule::Given { value, .. } => anchor
            .washer
            .satisfies(|washer: Washer| washer.is_as_good_as(value))
            .or(has_no_rod(anchor)),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    };
    rows_for(anchor, requirement)
        .map(by_row)
        .reduce(|one, other| if one == other { one } else { Truth::Maybe })
        .unwrap_or(Truth::True)
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    // Shown is the row for the anchor that the finding is about: the first that does not have its washer.
    let mut anchors = line.wall.anchors.listed().iter();
    let lacking = anchors
        .clone()
        .find(|anchor| counts(anchor, line.requirement) != Truth::True)
        .or_else(|| anchors.next());
    let rule = match lacking {
        Some(anchor) => rows_for(anchor, line.requirement).next(),
        None => Some(row_for(Length::ZERO, line.requirement)),
    };
    let rule = rule.unwrap_or(Rule::NotRegulated);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorWasher, |anchor| {
        Found::of(&anchor.washer, Quantity::Washer)
    });
    findings.add(judgment.at_least(rule.value().map_or(Quantity::None, Quantity::Washer)));
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    #[rstest]
    #[case(json!({"washer": "3 in x 3 in x 0.229 in"}), "met")]
    #[case(json!({"washer": "2 63/64 in x 3 in x 0.229 in"}), "not met")]
    #[case(json!({"washer": "3 in x 3 in x 0.228 in"}), "not met")]
    #[case(json!({"washer": "3 1/64 in x 3 in x 1/4 in"}), "met")]
    #[case(json!({"washer": "cut"}), "not met")]
    #[case(json!({"washer": "none"}), "not met")]
    #[case(json!({"washer": null, "kind": "side_plate"}), "met")]
    fn limits(#[case] changes: Value, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &wall_with_anchors(&changes)), expected);
    }

    #[test]
    fn not_known_is_not_determined_and_named() {
        let said = ask(CHECK.name, CEBC, 1, &wall_with_anchors(&json!({"washer": null})));
        assert_eq!(said.ruling, "not determined");
        assert!(
            said.deciding.contains(&LookAt::AnchorWasher),
            "{:?}",
            said.deciding
        );
    }

    /// One that does not count beside enough that do, of which nothing is asked.
    #[test]
    fn what_does_not_count_beside_enough_that_do_is_surplus() {
        let mut wall = good_wall();
        let list = wall["anchors"].as_array_mut().unwrap();
        list.push(with(&good_anchor(), &json!({"at": "100 in", "washer": "cut"})));
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

    /// Where rows differ by diameter and the diameter is not known, none of them is taken for granted.
    #[rstest]
    #[case(json!("1/2 in"), "cut", Truth::True)]
    #[case(json!("5/8 in"), "cut", Truth::False)]
    #[case(json!("9/16 in"), "cut", Truth::True)]
    #[case(json!({"unknown": "?"}), "cut", Truth::Maybe)]
    #[case(json!({"seen": {"at_most": "9/16 in"}}), "cut", Truth::True)]
    #[case(json!({"seen": {"at_least": "5/8 in"}}), "cut", Truth::False)]
    #[case(json!({"unknown": "?"}), "none", Truth::False)]
    #[case(json!({"unknown": "?"}), "3 in x 3 in x 1/4 in", Truth::True)]
    fn rows_by_diameter(#[case] diameter: Value, #[case] washer: &str, #[case] expected: Truth) {
        let set = own_set(&[
            ("washer,,,1/2 in,,,,,", "cut"),
            ("washer,,,5/8 in,,,,,", "3 in x 3 in x 1/4 in"),
        ]);
        let requirement = set.requirement(1, crate::house::WeightCase::Other, 0).unwrap();
        let anchor: Anchor = serde_json::from_value(with(
            &good_anchor(),
            &json!({"at": "1 ft", "diameter": diameter, "washer": washer}),
        ))
        .unwrap();
        assert_eq!(counts(&anchor, requirement), expected);
    }

    /// A figure nobody has seen leaves it open, and nothing to look at under the house decides it.
    #[rstest]
    fn a_missing_figure_is_not_determined(#[values(MISSING[0], MISSING[1])] set: &str) {
        let said = ask(CHECK.name, set, 1, &good_wall());
        assert_eq!(said.ruling, "not determined");
        assert_eq!(said.deciding, []);
    }
}
