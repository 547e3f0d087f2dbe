//! Whether every sill piece has enough anchors that count.

use super::anchorage::{self, what_decides_whether_anchors_count};
use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "anchors-per-piece",
    group: Group::Anchorage,
    title: "Anchors in each sill piece",
    explanation: Explanation {
        looks_at: "The number of anchors that count in each sill piece, by the length of the piece.",
        why: "A piece with one bolt turns about it; a piece with none is only lying there.",
        satisfied_by: "The least number of anchors in every piece; two closer than the least distance count as one.",
        fix: "Add anchors to the pieces that have too few.",
    },
    figures: &[FigureName::AnchorsPerPiece, FigureName::MinAnchorSpacing],
    reads: &[LookAt::WallLength, LookAt::Sill, LookAt::Anchors],
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let number = *line.number();
    let mut judgment = Judgment::met_if(number.answer).facts(
        "Every sill piece has the number of anchors asked for.",
        "A sill piece has fewer anchors that count than asked for.",
        "Whether every sill piece has enough anchors depends on something that was not seen.",
    );
    if let Some(in_piece) = number.at {
        let found = match in_piece.most {
            Some(most) if most == in_piece.least => Quantity::Count(most),
            Some(most) => Quantity::CountBetween(in_piece.least, most),
            None => Quantity::None,
        };
        judgment = judgment
            .measured(found)
            .at_least(Quantity::Count(in_piece.needed))
            .span(Some(in_piece.span));
    }
    if anchorage::may_have_other_pieces(line) {
        judgment = judgment.decided_by(LookAt::Sill);
    }
    for look_at in what_decides_whether_anchors_count(line) {
        judgment = judgment.decided_by(look_at);
    }
    let mut judgment = judgment.applicable_if(
        number.applies,
        "No sill piece here is of a length for which a number of anchors is asked.",
        LookAt::Sill,
    );
    if let Some(figure) = number.figure {
        judgment = judgment.figure(figure);
    }
    if number.at.is_some() {
        judgment = judgment
            .figure_of(line.rule(keys::MIN_ANCHOR_SPACING))
            .decided_by(LookAt::Anchors);
    }
    findings.add(
        judgment
            .about(LookAt::Sill, None)
            .basis(anchorage::basis(line, |anchor| anchor.spacing.basis())),
    );
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    fn piece(length: &str, anchors: Value) -> Value {
        wall_with(&json!({
            "length": length, "anchors": anchors, "cripple_wall": [], "panels": null
        }))
    }

    #[rstest]
    #[case::one("30 in", &["15 in"], "met")]
    #[case::one_in_the_next_row("30 1/64 in", &["15 in"], "not met")]
    #[case::two("72 in", &["10 in", "62 in"], "met")]
    #[case::two_in_the_next_row("72 1/64 in", &["10 in", "62 in"], "not met")]
    #[case::three("144 in", &["10 in", "70 in", "134 in"], "met")]
    #[case::two_of_three("144 in", &["10 in", "134 in"], "not met")]
    #[case::longer_than_every_row("144 1/64 in", &["10 in"], "not applicable")]
    #[case::far_enough_apart("72 in", &["10 in", "22 in"], "met")]
    #[case::too_close_to_count_twice("72 in", &["10 in", "21 63/64 in"], "not met")]
    #[case::in_any_order("144 in", &["134 in", "10 in", "70 in"], "met")]
    #[case::none("30 in", &[], "not met")]
    fn by_length(#[case] length: &str, #[case] stations: &[&str], #[case] expected: &str) {
        assert_eq!(
            ruling(CHECK.name, &piece(length, anchors(stations, &json!({})))),
            expected
        );
    }

    #[rstest]
    #[case::regular(json!({"first": "10 in", "last": "134 in", "spacing": "62 in"}), "met")]
    #[case::both_ends_only(json!({"first": "10 in", "last": "134 in", "spacing": "124 in"}), "not met")]
    #[case::spacing_not_known(json!({"first": "10 in", "last": "134 in", "spacing": {"unknown": "dark"}}), "not determined")]
    #[case::ends_not_known(json!({"spacing": "48 in"}), "met")]
    #[case::ends_not_known_and_sparse(json!({"spacing": "49 in"}), "not determined")]
    #[case::closer_than_counts(json!({"first": "10 in", "last": "30 in", "spacing": "5 in"}), "not met")]
    fn runs(#[case] place: Value, #[case] expected: &str) {
        let run = with(&good_anchor(), &place);
        assert_eq!(ruling(CHECK.name, &piece("144 in", json!([run]))), expected);
    }

    /// The same anchors recorded twice, one by one and as a run, are no more than they are.
    #[test]
    fn anchors_recorded_twice_count_once() {
        let mut list = anchors(&["10 in", "134 in"], &json!({}));
        let run = json!({"first": "10 in", "last": "134 in", "spacing": "124 in"});
        list.as_array_mut().unwrap().push(with(&good_anchor(), &run));
        assert_eq!(ruling(CHECK.name, &piece("144 in", list)), "not met");
    }

    /// However close a run is said to be, counting comes to an end.
    #[test]
    fn counting_ends() {
        let run = json!({"first": "0 in", "last": "144 in", "spacing": "0.000001 mm"});
        let wall = piece("144 in", json!([with(&good_anchor(), &run)]));
        assert_eq!(
            ask(CHECK.name, "crc-2013-new-construction", 1, &wall).ruling,
            "met"
        );
    }

    #[test]
    fn every_piece_needs_its_own() {
        let pieces = json!([{"to": "60 in"}, {"from": "60 in"}]);
        let enough = anchors(&["10 in", "50 in", "70 in", "110 in"], &json!({}));
        let wall = |list| with(&piece("120 in", list), &json!({"sill": pieces}));
        assert_eq!(ruling(CHECK.name, &wall(enough)), "met");
        let one_sided = anchors(&["10 in", "30 in", "50 in", "70 in"], &json!({}));
        assert_eq!(ruling(CHECK.name, &wall(one_sided)), "not met");
    }

    #[test]
    fn one_that_does_not_count_is_not_counted() {
        let mut list = anchors(&["10 in", "62 in"], &json!({}));
        list[1]["kind"] = json!("nail");
        assert_eq!(ruling(CHECK.name, &piece("72 in", list)), "not met");
    }

    #[rstest]
    #[case(json!({"anchors": null}), LookAt::Anchors)]
    #[case(json!({"sill": null}), LookAt::Sill)]
    #[case(json!({"unseen": [{"from": "40 in", "why": "duct"}]}), LookAt::Anchors)]
    fn what_is_not_known_is_named(#[case] changes: Value, #[case] look_at: LookAt) {
        let wall = with(&piece("72 in", anchors(&["10 in"], &json!({}))), &changes);
        let said = ask(CHECK.name, CEBC, 1, &wall);
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&look_at), "{:?}", said.deciding);
    }

    /// Of a row for any piece and one for long pieces, the narrower holds, wherever it stands.
    #[rstest]
    #[case("12 ft", "met")]
    #[case("12'-0 1/64\"", "not met")]
    #[case("20'-0 1/64\"", "not met")]
    fn the_narrower_row_holds(#[case] length: &str, #[case] expected: &str) {
        let rows = [
            ("anchors-per-piece,,,,,,,,", "2"),
            ("anchors-per-piece,,,,12 ft,,,,", "3"),
            ("anchors-per-piece,,,,20 ft,,,,", "4"),
        ];
        let two = ["10 in", "100 in"];
        let three = ["10 in", "60 in", "110 in"];
        let list = anchors(if length.starts_with("20") { &three } else { &two }, &json!({}));
        for rows in [rows, [rows[2], rows[1], rows[0]]] {
            let said = ask_by(
                CHECK.name,
                &own_set(&rows),
                &json!({"stories": 1}),
                &piece(length, list.clone()),
            );
            assert_eq!(said.ruling, expected);
        }
    }

    #[test]
    fn a_missing_figure_is_not_determined() {
        assert_eq!(
            ask(CHECK.name, MISSING[0], 1, &good_wall()).ruling,
            "not determined"
        );
    }
}
