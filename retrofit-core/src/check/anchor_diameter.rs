//! Whether the anchors are thick enough.

use super::anchorage::judge_property;
use super::context::Line;
use super::finding::{Findings, Found, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Anchor, AnchorKind};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{FigureName, Requirement, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-diameter",
    group: Group::Anchorage,
    title: "Anchor diameter",
    explanation: Explanation {
        looks_at: "The diameter of each anchor against the least one the provisions name for this number of stories.",
        why: "A thin bolt bends in the wood and splits the sill at a smaller push than a stout one.",
        satisfied_by: "Enough anchors of at least the least diameter. Stouter ones may stand farther apart where the provisions say so.",
        fix: "Add anchors of the diameter asked for between the thin ones.",
    },
    figures: &[FigureName::AnchorSpacing],
    reads: &[LookAt::Anchors, LookAt::AnchorDiameter, LookAt::AnchorKind],
    run: Run::Line(check),
};

/// The row for the thinnest anchor the provisions name.
fn thinnest(requirement: &Requirement) -> (Rule<Length>, Option<Length>) {
    let mut rows = requirement.all(keys::ANCHOR_SPACING);
    let Some((case, rule)) = rows.next() else {
        return (Rule::NotRegulated, None);
    };
    let least = rows
        .filter_map(|(case, _)| case.diameter)
        .chain(case.diameter)
        .min();
    (rule, least)
}

pub(super) fn counts(anchor: &Anchor, requirement: &Requirement) -> Truth {
    match thinnest(requirement) {
        (Rule::Missing(_), _) => Truth::Maybe,
        // Plates and straps have no rod whose diameter could be measured.
        (Rule::Given { .. }, Some(least)) => anchor.diameter.at_least(least).or(has_no_rod(anchor)),
        _ => Truth::True,
    }
}

/// Whether the anchor is a plate or strap beside the sill, to which rules on bolts do not apply.
pub(super) fn has_no_rod(anchor: &Anchor) -> Truth {
    anchor
        .kind
        .satisfies(|kind| matches!(kind, AnchorKind::SidePlate | AnchorKind::Strap))
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let (rule, least) = thinnest(line.requirement);
    let judgment = judge_property(line, rule, counts, LookAt::AnchorDiameter, |anchor| {
        Found::of_length(&anchor.diameter)
    });
    findings.add(judgment.at_least(least.map_or(Quantity::None, Quantity::Length)));
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    #[rstest]
    #[case(json!({"diameter": "1/2 in"}), "met")]
    #[case(json!({"diameter": "31/64 in"}), "not met")]
    #[case(json!({"diameter": "33/64 in"}), "met")]
    #[case(json!({"kind": "side_plate", "diameter": null}), "met")]
    #[case(json!({"kind": null, "diameter": "3/8 in"}), "not determined")]
    fn limits(#[case] changes: Value, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &wall_with_anchors(&changes)), expected);
    }

    #[test]
    fn not_known_is_not_determined_and_named() {
        let said = ask(
            CHECK.name,
            CEBC,
            1,
            &wall_with_anchors(&json!({"diameter": null})),
        );
        assert_eq!(said.ruling, "not determined");
        assert!(
            said.deciding.contains(&LookAt::AnchorDiameter),
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
            &json!({"at": "100 in", "diameter": "3/8 in"}),
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

    #[rstest]
    #[case(2, "1/2 in", "met")]
    #[case(3, "1/2 in", "not met")]
    #[case(3, "5/8 in", "met")]
    #[case(3, "39/64 in", "not met")]
    fn by_stories(#[case] stories: u8, #[case] diameter: &str, #[case] expected: &str) {
        let stations: Vec<String> = (0..=5).map(|n| format!("{} in", 10 + 44 * n)).collect();
        let stations: Vec<&str> = stations.iter().map(String::as_str).collect();
        let list = anchors(&stations, &json!({ "diameter": diameter }));
        let said = ask(CHECK.name, CEBC, stories, &wall_with(&json!({ "anchors": list })));
        assert_eq!(said.ruling, expected);
    }

    /// Of a thin anchor whose kind is not known, the kind decides: a plate has no rod.
    #[test]
    fn the_kind_may_decide() {
        let said = ask(
            CHECK.name,
            CEBC,
            1,
            &wall_with_anchors(&json!({"kind": null, "diameter": "3/8 in"})),
        );
        assert!(said.deciding.contains(&LookAt::AnchorKind));
    }

    /// A figure nobody has seen leaves it open, and nothing to look at under the house decides it.
    #[rstest]
    fn a_missing_figure_is_not_determined(#[values(MISSING[0], MISSING[1])] set: &str) {
        let said = ask(CHECK.name, set, 1, &good_wall());
        assert_eq!(said.ruling, "not determined");
        assert_eq!(said.deciding, []);
    }
}
