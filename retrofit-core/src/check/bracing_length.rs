//! Whether enough of the cripple wall is braced.

use super::bracing::{self, has_summary, where_there_is_a_cripple_wall};
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::panel_openings::openings_take_an_unknown_length;
use super::registry::{Check, Explanation, Group, Run};
use crate::measure::{Length, Percent};
use crate::observation::Truth;
use crate::provisions::{FigureName, Rule};

pub(super) static CHECK: Check = Check {
    name: "bracing-length",
    group: Group::Bracing,
    title: "Length of bracing",
    explanation: Explanation {
        looks_at: "The length of all panels that count, together, against the share of the cripple wall that has to be braced for this number of stories and weight.",
        why: "Each wall line has to carry its own part of the push; one with too little bracing folds, and the floor above comes down with it. Short end walls need it as much as long sides.",
        satisfied_by: "Panels that count over at least the share asked for.",
        fix: "Add braced panels.",
    },
    figures: &[FigureName::BracedShare],
    reads: &[
        LookAt::WallLength,
        LookAt::CrippleWall,
        LookAt::Panels,
        LookAt::PanelLength,
        LookAt::StudSpacing,
    ],
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let bracing = line.bracing();
    let judgment = match bracing.share {
        // Whichever share is asked for, none at all falls short of it.
        Rule::Missing(figure) if bracing.long_enough == Truth::False => Judgment::met_if(Truth::False)
            .fact("No panel that counts braces this wall. How much is asked for nobody has seen; none is too little.")
            .measured(Quantity::Length(Length::ZERO))
            .figure(figure),
        share => judge(line, share),
    };
    findings.add(
        where_there_is_a_cripple_wall(line, judgment)
            .about(LookAt::Panels, None)
            .basis(bracing::basis(line, |panel| panel.total_length.basis())),
    );
}

fn judge(line: &Line<'_>, share: Rule<Percent>) -> Judgment {
    let bracing = line.bracing();
    Judgment::by(share, |share| {
        let measured = match bracing.length {
            (worst, Some(best)) if worst == best => Quantity::Length(worst),
            (worst, best) => Quantity::LengthBetween(Some(worst), best),
        };
        let required = bracing
            .base
            .map_or(Quantity::Percent(share), |base| Quantity::Share(share, base));
        let mut judgment = Judgment::met_if(bracing.long_enough)
            .facts(
                "Enough of the cripple wall is braced by panels that count.",
                "Less of the cripple wall is braced by panels that count than asked for.",
                "Whether enough of the cripple wall is braced depends on something that was not seen.",
            )
            .measured(measured)
            .at_least(required);
        if bracing.base.is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
        if openings_take_an_unknown_length(line) {
            judgment = judgment.decided_by(LookAt::StudSpacing);
        }
        judgment.decided_by(if has_summary(line) {
            LookAt::PanelLength
        } else {
            LookAt::Panels
        })
    })
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    fn wall(to: &str) -> Value {
        wall_with(&json!({"panels": panels(&[("0 in", "4 ft"), ("16 ft", to)], &json!({}))}))
    }

    #[rstest]
    #[case::at("20 ft", "met")]
    #[case::under("239 63/64 in", "not met")]
    fn limits(#[case] to: &str, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &wall(to)), expected);
    }

    /// 40 % of 20 ft for one story, 50 % for two, 80 % for three.
    #[rstest]
    #[case(1, "8 ft", "met")]
    #[case(2, "10 ft", "met")]
    #[case(2, "119 63/64 in", "not met")]
    #[case(3, "16 ft", "met")]
    #[case(3, "191 63/64 in", "not met")]
    fn by_stories(#[case] stories: u8, #[case] to: &str, #[case] expected: &str) {
        let wall = wall_with(&json!({"panels": panels(&[("0 in", to)], &json!({}))}));
        assert_eq!(ask(CHECK.name, CEBC, stories, &wall).ruling, expected);
    }

    /// Only what stands on the cripple wall braces it, and only the cripple wall has to be braced.
    #[rstest]
    #[case(json!([{"to": "10 ft", "height": "24 in", "tallest_stud": "20 in"}]), "met")]
    #[case(json!([{"from": "12 ft", "height": "24 in", "tallest_stud": "20 in"}]), "met")]
    #[case(json!([{"from": "5 ft", "to": "15 ft", "height": "24 in", "tallest_stud": "20 in"}]), "not met")]
    fn on_part_of_the_wall_line(#[case] cripple_wall: Value, #[case] expected: &str) {
        assert_eq!(
            ruling(CHECK.name, &wall_with(&json!({"cripple_wall": cripple_wall}))),
            expected
        );
    }

    #[rstest]
    #[case(json!("8 ft"), "met")]
    #[case(json!("95 63/64 in"), "not met")]
    #[case(json!({"reported": {"at_least": "8 ft"}}), "met")]
    #[case(json!({"reported": {"at_most": "95 in"}}), "not met")]
    #[case(json!({"unknown": "dark"}), "not determined")]
    fn summaries(#[case] total: Value, #[case] expected: &str) {
        let summary = json!({"total_length": total, "at_each_end": true, "shortest": "4 ft"});
        let wall = wall_with(&json!({"panels": [with(&good_panel(), &summary)]}));
        let said = ask(CHECK.name, CEBC, 1, &wall);
        assert_eq!(said.ruling, expected);
        assert_eq!(
            said.deciding.contains(&LookAt::PanelLength),
            expected == "not determined"
        );
    }

    #[rstest]
    #[case(json!({"panels": null}), LookAt::Panels)]
    #[case(json!({"length": null}), LookAt::WallLength)]
    #[case(json!({"cripple_wall": null}), LookAt::CrippleWall)]
    #[case(json!({"panels": panels(&[("0 in", "4 ft")], &json!({})), "unseen": [{"from": "10 ft", "why": "ducts"}]}), LookAt::Panels)]
    fn what_is_not_known_is_named(#[case] changes: Value, #[case] look_at: LookAt) {
        let said = ask(CHECK.name, CEBC, 1, &wall_with(&changes));
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&look_at), "{:?}", said.deciding);
    }

    #[test]
    fn an_unseen_stretch_too_short_to_matter_does_not_matter() {
        let wall = wall_with(&json!({
            "panels": panels(&[("0 in", "4 ft")], &json!({})),
            "unseen": [{"from": "10 ft", "to": "13 ft", "why": "ducts"}]
        }));
        assert_eq!(ruling(CHECK.name, &wall), "not met");
    }

    #[test]
    fn no_panels_are_too_few_wherever_the_cripple_wall_is() {
        let wall = wall_with(&json!({"panels": [], "length": null}));
        assert_eq!(ruling(CHECK.name, &wall), "not met");
    }

    /// Even where every inch is braced: the cripple wall may be elsewhere, or there may be none.
    #[test]
    fn without_knowing_where_the_cripple_wall_is_it_is_open() {
        let set = own_set(&[("braced-share,,,,,,,,", "40 %")]);
        let list = panels(&[("0 in", "20 ft")], &json!({}));
        for (cripple_wall, expected) in [(json!([{}]), "met"), (json!({"unknown": "?"}), "not determined")] {
            let wall = wall_with(&json!({"panels": list, "cripple_wall": cripple_wall}));
            let said = ask_by(CHECK.name, &set, &json!({"stories": 1}), &wall);
            assert_eq!(said.ruling, expected);
        }
    }

    /// 40 % will do for one story; for two it takes 50 %, for three 80 %.
    #[rstest]
    #[case("8 ft", json!({"unknown": "attic not entered"}), "not determined")]
    #[case("10 ft", json!({"seen": {"at_most": 2}}), "met")]
    #[case("9 ft", json!({"seen": {"at_least": 2, "at_most": 3}}), "not met")]
    #[case("7 ft", json!({"seen": {"at_most": 3}}), "not met")]
    fn stories_not_known(#[case] to: &str, #[case] stories: Value, #[case] expected: &str) {
        let wall = wall_with(&json!({"panels": panels(&[("0 in", to)], &json!({}))}));
        let building = json!({"stories": stories, "exterior": "wood", "interior_plaster": false});
        let said = ask_of(CHECK.name, CEBC, &building, &wall);
        assert_eq!(said.ruling, expected);
        assert_eq!(
            said.deciding.contains(&LookAt::Stories),
            expected == "not determined"
        );
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
