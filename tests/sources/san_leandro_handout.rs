//! Against older homeowner handouts on bolting sills and on plywood for cripple walls.
//!
//! Seen 2026-11-25: "How to reinforce your walls with plywood"
//! (<https://docslib.org/doc/6114774/how-to-reinforce-your-walls-with-plywood>) and a reprint of the bolting
//! handout (<http://www.millennium-ark.net/News_Files/Newsletters/News010331/News010331B.html>, 2001).
//! Neither shows its publisher; that they are San Leandro's is inferred from a photo credit. Standing of
//! every value: *secondary*.
//!
//! The part of the handout that was seen gives no nail spacing. So no panel can be said to count, and the
//! checks on bracing stay open: what is compared here is the best case, in which only the seen figures
//! decide.

use crate::sound_house::{SoundHouse, length};
use retrofit_core::check::{Outcome, Quantity, Ruling};
use retrofit_core::provisions::FigureName;
use retrofit_core::provisions::Standing::Secondary;
use rstest::rstest;

const SET: &str = "san-leandro-handout-2001";

/// The worked example: a wall "52 ft long, 12 in high, one story" takes 26 ft, as 4 ft at each end and three
/// panels of 6 ft between. Secondary.
#[rstest]
#[case::as_drawn("48 ft", Outcome::Met)]
#[case::one_end_panel_shorter("48'-0 1/64\"", Outcome::NotMet)]
fn worked_example(#[case] last_panel_from: &str, #[case] expected: Outcome) {
    let judged = SoundHouse::of_stories(1)
        .wall_length("52 ft")
        .anchors_four_feet_apart()
        .wall("cripple_wall/0/height", "12 in")
        .wall("cripple_wall/0/shortest_stud", "7-1/2 in")
        .wall("cripple_wall/0/tallest_stud", "7-1/2 in")
        .panels_at(&[
            ("0 ft", "4 ft"),
            ("10'-6\"", "16'-6\""),
            ("23 ft", "29 ft"),
            ("35'-6\"", "41'-6\""),
            (last_panel_from, "52 ft"),
        ])
        .judged_by(SET);
    assert_eq!(judged.best("bracing-length"), expected);
    judged.assert_cites("bracing-length", FigureName::BracedShare, "", Secondary);
    let Quantity::Share(share, whole) = judged.findings("bracing-length")[0].required else {
        panic!("the length asked for is a share of the wall");
    };
    assert_eq!(share.of(whole), length("26 ft"));
}

/// "Both ends and 50 %" of each cripple wall at one story, "80 %" at two. Secondary.
#[rstest]
#[case::one_story(1, "15 ft", Outcome::Met)]
#[case::one_story_less(1, "14'-11 63/64\"", Outcome::NotMet)]
#[case::two_stories(2, "24 ft", Outcome::Met)]
#[case::two_stories_less(2, "23'-11 63/64\"", Outcome::NotMet)]
fn share_of_the_wall(#[case] stories: u8, #[case] bracing: &str, #[case] expected: Outcome) {
    let judged = SoundHouse::of_stories(stories)
        .braced_for("30 ft", bracing)
        .judged_by(SET);
    assert_eq!(judged.best("bracing-length"), expected);
    judged.assert_cites("bracing-length", FigureName::BracedShare, "", Secondary);
}

/// Panels of 1/2 in CDX plywood with 8d or 10d common nails. Secondary.
#[rstest]
#[case::half_inch("panel-sheathing", "thickness", "1/2 in", Outcome::Met)]
#[case::thinner("panel-sheathing", "thickness", "15/32 in", Outcome::NotMet)]
#[case::plywood("panel-sheathing", "sheathing", "plywood", Outcome::Met)]
#[case::three_ply("panel-sheathing", "sheathing", "three_ply", Outcome::NotMet)]
#[case::eight_penny("panel-nailing", "nail", "8d common", Outcome::Met)]
#[case::ten_penny("panel-nailing", "nail", "10d common", Outcome::Met)]
#[case::six_penny("panel-nailing", "nail", "6d common", Outcome::NotMet)]
fn panels(#[case] check: &str, #[case] field: &str, #[case] found: &str, #[case] expected: Outcome) {
    let judged = SoundHouse::of_stories(1).every_panel(field, found).judged_by(SET);
    assert_eq!(judged.best(check), expected);
}

/// Bolts of 1/2 or 5/8 in, about 4 ft apart (the reprint drops the unit), at one story and at two. Secondary.
#[rstest]
#[case::one_story_half_inch(1, "1/2 in", "4 ft", Ruling::Met)]
#[case::one_story_five_eighths(1, "5/8 in", "4 ft", Ruling::Met)]
#[case::one_story_farther(1, "5/8 in", "4'-0 1/64\"", Ruling::NotMet)]
#[case::two_stories_half_inch(2, "1/2 in", "4 ft", Ruling::Met)]
#[case::two_stories_farther(2, "1/2 in", "4'-0 1/64\"", Ruling::NotMet)]
fn bolts(#[case] stories: u8, #[case] diameter: &str, #[case] spacing: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(stories)
        .anchored_every(spacing)
        .every_anchor("diameter", diameter)
        .judged_by(SET);
    assert_eq!(judged.ruling("anchor-spacing"), expected);
    judged.assert_cites("anchor-spacing", FigureName::AnchorSpacing, "", Secondary);
}

/// A bolt 9 to 12 in from each corner, joint and step. Secondary.
#[rstest]
#[case::nine_inches("9 in", Ruling::Met)]
#[case::nearer("8 63/64 in", Ruling::NotMet)]
#[case::twelve_inches("12 in", Ruling::Met)]
#[case::farther("12 1/64 in", Ruling::NotMet)]
fn distance_from_ends(#[case] distance: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1).end_anchors_at(distance).judged_by(SET);
    assert_eq!(judged.ruling("anchor-end-distance"), expected);
}

/// Holes at least 5 in deep. Secondary.
#[rstest]
#[case::five_inches("5 in", Ruling::Met)]
#[case::shallower("4 63/64 in", Ruling::NotMet)]
fn depth(#[case] embedment: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .every_anchor("embedment", embedment)
        .judged_by(SET);
    assert_eq!(judged.ruling("anchor-embedment"), expected);
    judged.assert_cites("anchor-embedment", FigureName::MinEmbedment, "", Secondary);
}
