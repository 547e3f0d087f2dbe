//! Whether an anchor that counts stands near each end of every sill piece.

use super::anchorage::{self, what_decides_whether_anchors_count};
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "anchor-end-distance",
    group: Group::Anchorage,
    title: "Anchors near sill ends",
    explanation: Explanation {
        looks_at: "The distance from each end of every sill piece to the nearest anchor that counts.",
        why: "Each piece has to be held at its own ends: too far in, the end kicks out; too near the end, the wood splits out.",
        satisfied_by: "At each end of every piece one anchor that counts, no nearer and no farther than the provisions say.",
        fix: "Add an anchor near each end that lacks one; an old anchor too near the end stays but does not count.",
    },
    figures: &[
        FigureName::MaxEndDistance,
        FigureName::MinEndDistance,
        FigureName::MinEndDiameters,
    ],
    reads: &[
        LookAt::WallLength,
        LookAt::Sill,
        LookAt::Anchors,
        LookAt::AnchorEnds,
    ],
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let ends = *line.ends();
    let judgment = Judgment::by(ends.most, |most| {
        let nearest = ends.at.and_then(|(_, nearest)| nearest);
        let mut judgment = Judgment::met_if(ends.answer)
            .facts(
                "An anchor that counts stands near each end of every sill piece.",
                "An end of a sill piece has no anchor that counts within the distances asked for.",
                "Whether every end of every sill piece has its anchor depends on something that was not seen.",
            )
            .measured(nearest.map_or(Quantity::Word("none near an end"), Quantity::Length))
            .required(Quantity::LengthRange(ends.least, most))
            .span(ends.at.map(|(span, _)| span))
            .figure_of(line.rule(keys::MIN_END_DISTANCE))
            .figure_of(line.rule(keys::MIN_END_DIAMETERS));
        if anchorage::may_have_other_pieces(line) {
            judgment = judgment.decided_by(LookAt::Sill);
        }
        let has_open_run = line
            .wall
            .anchors
            .listed()
            .iter()
            .any(|anchor| anchor.at.is_none() && !anchor.end_distance.is_known());
        if has_open_run {
            judgment = judgment.decided_by(LookAt::AnchorEnds);
        }
        if line.length().is_none() {
            judgment = judgment.decided_by(LookAt::WallLength);
        }
        for look_at in what_decides_whether_anchors_count(line) {
            judgment = judgment.decided_by(look_at);
        }
        judgment.decided_by(LookAt::Anchors)
    });
    findings.add(
        judgment
            .about(LookAt::Anchors, None)
            .basis(anchorage::basis(line, |anchor| anchor.end_distance.basis())),
    );
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    fn ends(first: &str, last: &str) -> Value {
        wall_with(&json!({"anchors": anchors(&[first, "80 in", "150 in", last], &json!({}))}))
    }

    #[rstest]
    #[case::nearest_allowed("9 in", "231 in", "met")]
    #[case::farthest_allowed("12 in", "228 in", "met")]
    #[case::too_near("8 63/64 in", "230 in", "not met")]
    #[case::too_far("12 1/64 in", "230 in", "not met")]
    #[case::too_near_the_other("10 in", "231 1/64 in", "not met")]
    #[case::too_far_from_the_other("10 in", "227 63/64 in", "not met")]
    fn limits(#[case] first: &str, #[case] last: &str, #[case] expected: &str) {
        assert_eq!(ruling(CHECK.name, &ends(first, last)), expected);
    }

    #[test]
    fn one_too_near_beside_a_good_one_is_surplus() {
        let list = anchors(&["4 in", "10 in", "80 in", "150 in", "230 in"], &json!({}));
        assert_eq!(ruling(CHECK.name, &wall_with(&json!({"anchors": list}))), "met");
    }

    /// An anchor in the next piece does not hold the end of this one.
    #[rstest]
    #[case(&["10 in", "110 in", "130 in", "230 in"], "met")]
    #[case(&["10 in", "111 1/64 in", "130 in", "230 in"], "not met")]
    #[case(&["10 in", "110 in", "132 1/64 in", "230 in"], "not met")]
    fn several_pieces(#[case] stations: &[&str], #[case] expected: &str) {
        let wall = wall_with(&json!({
            "sill": [{"to": "120 in"}, {"from": "120 in"}], "anchors": anchors(stations, &json!({}))
        }));
        assert_eq!(ruling(CHECK.name, &wall), expected);
    }

    /// A piece of up to 30 in goes by one anchor, wherever in it.
    #[rstest]
    #[case("30 in", "15 in", "met")]
    #[case("30 1/64 in", "15 in", "not met")]
    #[case("30 in", "31 in", "not met")]
    fn one_anchor_holds_a_short_piece(#[case] joint: &str, #[case] at: &str, #[case] expected: &str) {
        let stations = [at, "40 in", "150 in", "230 in"];
        let wall = wall_with(&json!({
            "sill": [{"to": joint}, {"from": joint}], "anchors": anchors(&stations, &json!({}))
        }));
        assert_eq!(ruling(CHECK.name, &wall), expected);
    }

    #[rstest]
    #[case::first_and_last(json!({"first": "10 in", "last": "230 in"}), "met")]
    #[case::first_too_far(json!({"first": "12 1/64 in", "last": "230 in"}), "not met")]
    #[case::by_end_distance(json!({"end_distance": "12 in"}), "met")]
    #[case::end_distance_too_far(json!({"end_distance": "12 1/64 in"}), "not met")]
    #[case::end_distance_too_near(json!({"end_distance": {"measured": {"at_most": "8 in"}}}), "not met")]
    #[case::end_distance_open(json!({"end_distance": {"measured": {"at_most": "12 in"}}}), "not determined")]
    #[case::not_measured(json!({}), "not determined")]
    fn runs(#[case] place: Value, #[case] expected: &str) {
        let run = with(&with(&good_anchor(), &json!({"spacing": "4 ft"})), &place);
        let said = ask(CHECK.name, CEBC, 1, &wall_with(&json!({"anchors": [run]})));
        assert_eq!(said.ruling, expected);
        assert_eq!(
            said.deciding.contains(&LookAt::AnchorEnds),
            expected == "not determined"
        );
    }

    /// A run that ends before a piece begins is of no account there, whatever was measured at its ends.
    #[test]
    fn a_run_elsewhere_does_not_hold_this_piece() {
        let run = json!({"first": "10 in", "last": "110 in", "spacing": "4 ft", "end_distance": "10 in"});
        let wall = wall_with(&json!({
            "sill": [{"to": "120 in"}, {"from": "120 in"}], "anchors": [with(&good_anchor(), &run)]
        }));
        assert_eq!(ruling(CHECK.name, &wall), "not met");
    }

    #[rstest]
    #[case::at_the_end(json!({"from": "225 in", "parts": ["anchors"], "why": "duct"}), "not determined")]
    #[case::touching_the_window(json!({"from": "200 in", "to": "228 in", "why": "duct"}), "not determined")]
    #[case::beside_it(json!({"from": "200 in", "to": "227 63/64 in", "why": "duct"}), "not met")]
    #[case::of_something_else(json!({"from": "225 in", "parts": ["panels"], "why": "duct"}), "not met")]
    fn unseen_stretches(#[case] unseen: Value, #[case] expected: &str) {
        let stations = ["10 in", "80 in", "150 in"];
        let wall = wall_with(&json!({"anchors": anchors(&stations, &json!({})), "unseen": [unseen]}));
        assert_eq!(ruling(CHECK.name, &wall), expected);
    }

    #[rstest]
    #[case(json!({"anchors": null}), LookAt::Anchors)]
    #[case(json!({"sill": null}), LookAt::Sill)]
    #[case(json!({"length": null}), LookAt::WallLength)]
    fn what_is_not_known_is_named(#[case] changes: Value, #[case] look_at: LookAt) {
        let said = ask(CHECK.name, CEBC, 1, &wall_with(&changes));
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&look_at), "{:?}", said.deciding);
    }

    /// 7 diameters of a 1/2 in anchor are 3 1/2 in.
    #[rstest]
    #[case("3 1/2 in", json!("1/2 in"), "met")]
    #[case("3 31/64 in", json!("1/2 in"), "not met")]
    #[case("3 1/2 in", json!("33/64 in"), "not met")]
    #[case("3 1/2 in", json!({"unknown": "nut in the way"}), "not determined")]
    #[case("4 3/8 in", json!({"seen": {"at_least": "1/2 in", "at_most": "5/8 in"}}), "met")]
    fn by_diameters(#[case] first: &str, #[case] diameter: Value, #[case] expected: &str) {
        let mut list = anchors(&[first, "80 in", "150 in", "230 in"], &json!({}));
        list[0]["diameter"] = diameter;
        let wall = wall_with(&json!({"anchors": list}));
        assert_eq!(
            ask(CHECK.name, "crc-2013-new-construction", 1, &wall).ruling,
            expected
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
