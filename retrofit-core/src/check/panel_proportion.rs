//! Whether the panels are long enough for their height.

use super::bracing::{judge_property, panel_length, stud_height};
use super::context::Line;
use super::finding::{Findings, Found, Judgment, Quantity};
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
        LookAt::ShortestStud,
        LookAt::CrippleHeight,
    ],
    run: Run::Line(check),
};

pub(super) fn is_long_enough(panel: &Panel, line: &Line<'_>) -> Truth {
    match line.rule(keys::MIN_PANEL_LENGTH) {
        Rule::Given { value, .. } => panel_length(panel).at_least(value),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

pub(super) fn is_long_for_its_height(panel: &Panel, line: &Line<'_>) -> Truth {
    match line.rule(keys::MIN_PANEL_PROPORTION) {
        Rule::Given { .. } => {
            let length = panel_length(panel);
            let [least, most] = least_for_height(panel, line);
            // The longest panel over the shortest stud is the best case; the shortest over the tallest the worst.
            let best = match (length.bounds().1, least) {
                (Some(longest), Some(least)) => *longest >= least,
                _ => true,
            };
            let worst = match (length.bounds().0, most) {
                (Some(shortest), Some(most)) => *shortest >= most,
                _ => false,
            };
            Truth::from_cases(best, worst)
        }
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    }
}

/// The least length asked for of a panel for the height of its studs: for the lowest that they can be, and for the
/// tallest.
pub(super) fn least_for_height(panel: &Panel, line: &Line<'_>) -> [Option<Length>; 2] {
    let height = stud_height(panel, line);
    let proportion = line.rule(keys::MIN_PANEL_PROPORTION).value();
    let (lowest, tallest) = height.bounds();
    [lowest, tallest].map(|height| Some(proportion?.of(*height?)))
}

pub(super) fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    is_long_enough(panel, line).and(is_long_for_its_height(panel, line))
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    // Stations are known as the list is; of a summary, the length of the shortest panel is known on its own.
    let show = |panel: &Panel| Found {
        measured: Quantity::of_length(&panel_length(panel)),
        basis: match panel.stations() {
            Some(_) => line.wall.panels.basis(),
            None => panel_length(panel).basis(),
        },
    };
    let rule = line.rule(keys::MIN_PANEL_LENGTH);
    let judgment = judge_property(line, rule, is_long_enough, LookAt::ShortestPanel, show);
    let required = rule.value().map_or(Quantity::None, Quantity::Length);
    findings.add(about_the_length(line, judgment.at_least(required)));

    let rule = line.rule(keys::MIN_PANEL_PROPORTION);
    let needed = |panel: &Panel| {
        let [_, most] = least_for_height(panel, line);
        most
    };
    let panels = line.wall.panels.value();
    let asked = panels.into_iter().flatten().filter_map(needed).max();
    let look_at = if super::context::tallest_stud(line.wall).is_known() {
        LookAt::ShortestPanel
    } else {
        LookAt::TallestStud
    };
    let show_against_height = |panel: &Panel| {
        let length = show(panel);
        Found {
            basis: length.basis.max(stud_height(panel, line).basis()),
            ..length
        }
    };
    let judgment = judge_property(line, rule, is_long_for_its_height, look_at, show_against_height);
    let required = asked.map_or(Quantity::None, Quantity::Length);
    findings.add(about_the_length(line, judgment.at_least(required)));
}

/// The length of a panel is known by its stations; that of the shortest stands on record only in a summary.
fn about_the_length(line: &Line<'_>, judgment: Judgment) -> Judgment {
    let panels = line.wall.panels.listed();
    judgment.about_its(|item| {
        let panel = item.and_then(|item| panels.get(usize::from(item)));
        if panel.is_some_and(|panel| panel.stations().is_none()) {
            LookAt::ShortestPanel
        } else {
            LookAt::Panels
        }
    })
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    /// A wall line with a panel at each end of the given length, and studs of the given height.
    fn wall(length: &str, stud: &Value) -> Value {
        let mut list = panels(&[("0 in", length), ("16 ft", "20 ft")], &json!({}));
        list[1]["from"] = json!("12 ft");
        wall_with(&json!({
            "panels": list,
            "cripple_wall": [{"height": "9 ft", "tallest_stud": stud}]
        }))
    }

    #[rstest]
    #[case::least_length("48 in", json!("20 in"), "met")]
    #[case::under_the_least_length("47 63/64 in", json!("20 in"), "not met")]
    #[case::twice_the_stud("60 in", json!("30 in"), "met")]
    #[case::under_twice_the_stud("59 63/64 in", json!("30 in"), "not met")]
    #[case::over_twice_the_stud("60 1/64 in", json!("30 in"), "met")]
    #[case::stud_not_known("60 in", json!({"unknown": "closed"}), "not determined")]
    #[case::low_enough_anyway("60 in", json!({"seen": {"at_most": "30 in"}}), "met")]
    #[case::just_possible("60 in", json!({"seen": {"at_least": "30 in"}}), "not determined")]
    #[case::too_tall_anyway("60 in", json!({"seen": {"at_least": "30 1/64 in"}}), "not met")]
    fn limits(#[case] length: &str, #[case] stud: Value, #[case] expected: &str) {
        let said = ask(CHECK.name, CEBC, 1, &wall(length, &stud));
        assert_eq!(said.ruling, expected);
        assert_eq!(
            said.deciding.contains(&LookAt::TallestStud),
            expected == "not determined"
        );
    }

    /// A stud is no taller than its wall.
    #[rstest]
    #[case("30 in", "met")]
    #[case("31 in", "not determined")]
    fn the_wall_bounds_its_studs(#[case] height: &str, #[case] expected: &str) {
        let list = panels(&[("0 in", "60 in"), ("15 ft", "20 ft")], &json!({}));
        let wall = wall_with(&json!({"panels": list, "cripple_wall": [{ "height": height }]}));
        assert_eq!(ruling(CHECK.name, &wall), expected);
    }

    /// A panel answers to the studs behind it, not to taller ones elsewhere.
    #[test]
    fn each_panel_answers_to_its_own_studs() {
        let wall = |low: &str, high: &str| {
            wall_with(&json!({
                "panels": panels(&[("0 in", "4 ft"), ("10 ft", "20 ft")], &json!({})),
                "cripple_wall": [
                    {"to": "10 ft", "height": "6 ft", "tallest_stud": low},
                    {"from": "10 ft", "height": "6 ft", "tallest_stud": high}
                ]
            }))
        };
        assert_eq!(ruling(CHECK.name, &wall("24 in", "60 in")), "met");
        assert_eq!(ruling(CHECK.name, &wall("24 1/64 in", "60 in")), "not met");
        assert_eq!(ruling(CHECK.name, &wall("24 in", "60 1/64 in")), "not met");
    }

    #[rstest]
    #[case(json!("48 in"), "met")]
    #[case(json!("47 63/64 in"), "not met")]
    #[case(json!({"unknown": "dark"}), "not determined")]
    fn summaries(#[case] shortest: Value, #[case] expected: &str) {
        let summary = json!({"total_length": "8 ft", "at_each_end": true, "shortest": shortest});
        let wall = wall_with(&json!({"panels": [with(&good_panel(), &summary)]}));
        let said = ask(CHECK.name, CEBC, 1, &wall);
        assert_eq!(said.ruling, expected);
        assert_eq!(
            said.deciding.contains(&LookAt::ShortestPanel),
            expected == "not determined"
        );
    }

    /// No panel of a summary is longer than all of them together.
    #[test]
    fn a_total_shorter_than_a_panel_has_no_panel_long_enough() {
        let summary = json!({"total_length": {"seen": {"at_most": "47 in"}}, "at_each_end": false});
        let wall = wall_with(&json!({"panels": [with(&good_panel(), &summary)]}));
        assert_eq!(ruling(CHECK.name, &wall), "not met");
    }

    /// A figure nobody has seen leaves it open, and nothing to look at under the house decides it.
    #[rstest]
    fn a_missing_figure_is_not_determined(#[values(MISSING[0], MISSING[1])] set: &str) {
        let said = ask(CHECK.name, set, 1, &good_wall());
        assert_eq!(said.ruling, "not determined");
        assert!(
            !said.findings.iter().any(|finding| {
                matches!(finding.required, Quantity::None) && !finding.deciding.is_empty()
            })
        );
    }

    #[rstest]
    fn where_there_is_no_cripple_wall_it_does_not_apply(#[values(CEBC, MISSING[0], MISSING[1])] set: &str) {
        let wall = wall_with(&json!({"cripple_wall": []}));
        assert_eq!(ask(CHECK.name, set, 1, &wall).ruling, "not applicable");
    }
}
