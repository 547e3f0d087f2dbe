//! Whether the anchors that count stand close enough together.

use super::anchorage::{self, what_decides_whether_anchors_count};
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::Parts;
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-spacing",
    group: Group::Anchorage,
    title: "Anchor spacing",
    explanation: Explanation {
        looks_at: "The largest distance along the sill without an anchor that counts, for the anchor diameter and number of stories.",
        why: "The house is pushed sideways at the floor; where anchors are missing or far apart, the sill slides off the foundation.",
        satisfied_by: "No more than the largest spacing between anchors that count, along every sill piece. Sill pieces short enough to go by number of anchors are judged by that instead.",
        fix: "Add anchors in the gaps.",
    },
    figures: &[FigureName::AnchorSpacing, FigureName::SpacingAppliesOver],
    reads: &[
        LookAt::WallLength,
        LookAt::Sill,
        LookAt::Anchors,
        LookAt::AnchorSpacing,
        LookAt::AnchorKind,
        LookAt::AnchorDiameter,
        LookAt::AnchorWasher,
        LookAt::AnchorTightness,
        LookAt::AnchorCorrosion,
        LookAt::AnchorEdge,
        LookAt::AnchorEmbedment,
    ],
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let spacing = *line.spacing();
    if spacing.applies == Truth::False && !spacing.rule.is_open() {
        let over = line.rule(keys::SPACING_APPLIES_OVER);
        let judgment =
            Judgment::not_applicable("Every sill piece is short enough to go by its number of anchors.");
        return findings.add(judgment.figure_of(over).about(LookAt::Sill, None));
    }
    let judgment = match spacing.rule {
        // Whichever spacing is asked for, none at all falls short of it.
        Rule::Missing(figure) if spacing.answer == Truth::False => Judgment::met_if(Truth::False)
            .fact("No anchor that counts holds this sill. How close they have to stand nobody has seen; none is too few.")
            .measured(Quantity::Count(0))
            .figure(figure),
        rule => judge(line, rule),
    };
    findings.add(
        judgment
            .about(LookAt::Anchors, None)
            .basis(anchorage::basis(line, |anchor| anchor.spacing.basis())),
    );
}

fn judge(line: &Line<'_>, rule: Rule<Length>) -> Judgment {
    let spacing = *line.spacing();
    Judgment::by(rule, |limit| {
        let measured = match (spacing.best, spacing.worst) {
            (Some(best), Some((worst, _))) if best == worst => Quantity::Length(worst),
            (Some(best), Some((worst, _))) => Quantity::LengthBetween(Some(best), Some(worst)),
            _ => Quantity::None,
        };
        let mut judgment = Judgment::met_if(spacing.answer)
            .facts(
                "The anchors that count stand close enough together.",
                "There is a stretch of sill without an anchor that counts that is longer than allowed.",
                "Whether the anchors stand close enough together depends on something that was not seen.",
            )
            .measured(measured)
            .at_most(Quantity::Length(limit))
            .span(spacing.worst.map(|(_, span)| span))
            .applicable_if(spacing.applies, "", LookAt::Sill);
        let anchors = line.wall.anchors.value();
        if anchors.is_none() || line.wall.unseen_of(Parts::Anchors).next().is_some() {
            judgment = judgment.decided_by(LookAt::Anchors);
        }
        if line.length().is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
        if anchors
            .into_iter()
            .flatten()
            .any(|anchor| anchor.at.is_none() && !anchor.spacing.is_known())
        {
            judgment = judgment.decided_by(LookAt::AnchorSpacing);
        }
        for look_at in what_decides_whether_anchors_count(line) {
            judgment = judgment.decided_by(look_at);
        }
        judgment
    })
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    fn wall(length: &str, anchors: Value) -> Value {
        wall_with(&json!({
            "length": length, "anchors": anchors, "cripple_wall": [], "panels": null
        }))
    }

    fn run(spacing: &Value) -> Value {
        let place = json!({"first": "10 in", "last": "146 in", "spacing": spacing});
        json!([with(&good_anchor(), &place)])
    }

    #[rstest]
    #[case::at(1, "1/2 in", &["10 in", "82 in", "146 in"], "met")]
    #[case::under(1, "1/2 in", &["10 in", "81 63/64 in", "146 in"], "met")]
    #[case::over(1, "1/2 in", &["10 in", "82 1/64 in", "146 in"], "not met")]
    #[case::at_two_stories(2, "1/2 in", &["10 in", "58 in", "106 in", "146 in"], "met")]
    #[case::over_at_two_stories(2, "1/2 in", &["10 in", "58 1/64 in", "106 in", "146 in"], "not met")]
    #[case::stout_at_two_stories(2, "5/8 in", &["10 in", "82 in", "146 in"], "met")]
    #[case::stout_over_at_two_stories(2, "5/8 in", &["10 in", "82 1/64 in", "146 in"], "not met")]
    #[case::thin_at_three_stories(3, "1/2 in", &["10 in", "58 in", "106 in", "146 in"], "not met")]
    #[case::stout_at_three_stories(3, "5/8 in", &["10 in", "58 in", "106 in", "146 in"], "met")]
    #[case::in_any_order(1, "1/2 in", &["146 in", "10 in", "82 in"], "met")]
    fn single_anchors(
        #[case] stories: u8,
        #[case] diameter: &str,
        #[case] stations: &[&str],
        #[case] ruling: &str,
    ) {
        let wall = wall("13 ft", anchors(stations, &json!({ "diameter": diameter })));
        assert_eq!(ask(CHECK.name, CEBC, stories, &wall).ruling, ruling);
    }

    /// A side plate has no rod; it stands in for the thinnest bolt, never for a stout one.
    #[rstest]
    #[case(1, &["10 in", "82 in", "146 in"], "met")]
    #[case(2, &["10 in", "82 in", "146 in"], "not met")]
    #[case(2, &["10 in", "58 in", "106 in", "146 in"], "met")]
    fn side_plates(#[case] stories: u8, #[case] stations: &[&str], #[case] ruling: &str) {
        let plate = json!({"kind": "side_plate", "diameter": null, "washer": null, "tightness": null});
        let wall = wall("13 ft", anchors(stations, &plate));
        assert_eq!(ask(CHECK.name, CEBC, stories, &wall).ruling, ruling);
    }

    #[rstest]
    #[case::at(json!("6 ft"), "met")]
    #[case::over(json!("72 1/64 in"), "not met")]
    #[case::bounded(json!({"reported": {"at_most": "6 ft"}}), "met")]
    #[case::too_wide_anyway(json!({"reported": {"at_least": "72 1/64 in"}}), "not met")]
    #[case::open(json!({"reported": {"at_least": "4 ft"}}), "not determined")]
    #[case::not_known(json!({"unknown": "insulation"}), "not determined")]
    fn runs(#[case] spacing: Value, #[case] ruling: &str) {
        let said = ask(CHECK.name, CEBC, 1, &wall("13 ft", run(&spacing)));
        assert_eq!(said.ruling, ruling);
        let is_named = said.deciding.contains(&LookAt::AnchorSpacing);
        assert_eq!(is_named, ruling == "not determined");
    }

    /// A sparse run beside anchors that are close enough, or beside a close run, takes nothing from them.
    #[rstest]
    fn a_sparse_run_takes_nothing_away(#[values(0, 1, 3)] position: usize) {
        let mut list = anchors(&["10 in", "82 in", "146 in"], &json!({}));
        list.as_array_mut()
            .unwrap()
            .insert(position, run(&json!("10 ft"))[0].clone());
        assert_eq!(ruling(CHECK.name, &wall("13 ft", list)), "met");
        let mut list = run(&json!("5 ft"));
        list.as_array_mut()
            .unwrap()
            .insert(position.min(1), run(&json!("10 ft"))[0].clone());
        assert_eq!(ruling(CHECK.name, &wall("13 ft", list)), "met");
    }

    #[rstest]
    #[case::hides_enough("40 in", "100 in", "not determined")]
    #[case::hides_too_little("11 in", "12 in", "not met")]
    fn unseen_stretches(#[case] from: &str, #[case] to: &str, #[case] ruling: &str) {
        let wall = with(
            &wall("13 ft", anchors(&["10 in", "146 in"], &json!({}))),
            &json!({"unseen": [{"from": from, "to": to, "parts": ["anchors"], "why": "duct"}]}),
        );
        let said = ask(CHECK.name, CEBC, 1, &wall);
        assert_eq!(said.ruling, ruling);
        assert_eq!(
            said.deciding.contains(&LookAt::Anchors),
            ruling == "not determined"
        );
    }

    #[rstest]
    #[case::short("144 in", "not applicable")]
    #[case::long("144 1/64 in", "not met")]
    fn short_pieces_go_by_number(#[case] length: &str, #[case] ruling: &str) {
        let wall = wall(length, anchors(&["10 in", "134 in"], &json!({})));
        assert_eq!(ask(CHECK.name, CEBC, 1, &wall).ruling, ruling);
    }

    #[test]
    fn no_anchor_at_all_is_not_met_however_short_the_piece() {
        assert_eq!(ruling(CHECK.name, &wall("4 ft", json!([]))), "not met");
        let pins = anchors(&["10 in", "38 in"], &json!({"kind": "powder_driven"}));
        assert_eq!(ruling(CHECK.name, &wall("4 ft", pins)), "not met");
    }

    /// Only the long one of two pieces goes by spacing.
    #[rstest]
    #[case(&["10 in", "75 in", "130 in", "200 in", "260 in", "290 in"], "met")]
    #[case(&["10 in", "75 in", "130 in", "220 in", "290 in"], "not met")]
    #[case(&["10 in", "85 in", "130 in", "200 in", "260 in", "290 in"], "met")]
    fn several_pieces(#[case] stations: &[&str], #[case] ruling: &str) {
        let wall = with(
            &wall("300 in", anchors(stations, &json!({}))),
            &json!({"sill": [{"to": "140 in"}, {"from": "140 in"}]}),
        );
        assert_eq!(ask(CHECK.name, CEBC, 1, &wall).ruling, ruling);
    }

    /// Without the pieces only a distance that no row of short pieces could hold is surely too long: 12 ft
    /// less 9 in at each end.
    #[rstest]
    #[case::close(&["10 in", "82 in", "146 in"], "met")]
    #[case::open(&["10 in", "136 in", "146 in"], "not determined")]
    #[case::too_long(&["10 in", "136 1/64 in", "146 in"], "not met")]
    fn pieces_not_recorded(#[case] stations: &[&str], #[case] ruling: &str) {
        let wall = with(
            &wall("13 ft", anchors(stations, &json!({}))),
            &json!({"sill": null}),
        );
        let said = ask(CHECK.name, CEBC, 1, &wall);
        assert_eq!(said.ruling, ruling);
        assert_eq!(said.deciding.contains(&LookAt::Sill), ruling != "not met");
    }

    #[rstest]
    #[case(json!({"anchors": null}), LookAt::Anchors)]
    #[case(json!({"length": null}), LookAt::WallLength)]
    #[case(json!({"anchors": anchors(&["10 in", "80 in", "150 in", "222 in", "230 in"], &json!({"washer": null}))}), LookAt::AnchorWasher)]
    #[case(json!({"anchors": anchors(&["10 in", "80 in", "150 in", "222 in", "230 in"], &json!({"corrosion": null}))}), LookAt::AnchorCorrosion)]
    fn what_is_not_known_is_named(#[case] changes: Value, #[case] look_at: LookAt) {
        let said = ask(CHECK.name, CEBC, 1, &wall_with(&changes));
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&look_at), "{:?}", said.deciding);
    }

    #[test]
    fn a_set_without_the_figure_asks_nothing() {
        assert_eq!(
            ask(CHECK.name, "seismic-sleuths-2014", 2, &good_wall()).ruling,
            "not applicable"
        );
    }

    /// A figure nobody has seen leaves it open, and nothing to look at under the house decides it.
    #[rstest]
    fn a_missing_figure_is_not_determined(#[values(MISSING[0], MISSING[1])] set: &str) {
        let said = ask(CHECK.name, set, 1, &good_wall());
        assert_eq!(said.ruling, "not determined");
        assert_eq!(said.deciding, []);
    }
}
