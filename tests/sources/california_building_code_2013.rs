//! Against the 2013 California Building Code (Title 24, Part 2), conventional construction: what it asks of a
//! new building. For comparison only; an older house is not judged by it.
//!
//! Seen 2026-11-25 in an unofficial text copy of the official code
//! (github.com/abrightguy/abrightguy.github.io, codes/2013/2/2/18.md and 23.md). Standing of every value:
//! *verified*; of the one footing thickness for three floors the digit is poorly legible.

use crate::sound_house::SoundHouse;
use retrofit_core::check::Ruling::{self, Met, NotMet};
use retrofit_core::provisions::FigureName;
use retrofit_core::provisions::Standing::Verified;
use rstest::rstest;

const SET: &str = "cbc-2013-new-construction";

/// 2308.6: 1/2 in bolts "spaced not more than 6 feet apart"; 2308.3.3: "not more than 4 feet o.c. for
/// structures over two stories". Verified.
#[rstest]
#[case::one_story(1, "6 ft", "2308.6", Met)]
#[case::one_story_beyond(1, "6'-0 1/64\"", "2308.6", NotMet)]
#[case::two_stories(2, "6 ft", "2308.6", Met)]
#[case::three_stories(3, "4 ft", "2308.3.3", Met)]
#[case::three_stories_beyond(3, "4'-0 1/64\"", "2308.3.3", NotMet)]
fn bolts(#[case] stories: u8, #[case] spacing: &str, #[case] section: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(stories)
        .anchored_every(spacing)
        .every_anchor("diameter", "1/2 in")
        .judged_by(SET);
    judged.assert_decides("anchor-spacing", expected);
    judged.assert_cites("anchor-spacing", FigureName::AnchorSpacing, section, Verified);
}

/// 2308.6: one bolt "not more than 12 inches (305 mm) or less than 4 inches (102 mm) from each end of each
/// piece". Verified.
#[rstest]
#[case::four_inches("4 in", Met)]
#[case::nearer("3 63/64 in", NotMet)]
#[case::twelve_inches("12 in", Met)]
#[case::farther("12 1/64 in", NotMet)]
fn distance_from_sill_ends(#[case] distance: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1).end_anchors_at(distance).judged_by(SET);
    judged.assert_decides("anchor-end-distance", expected);
    judged.assert_cites(
        "anchor-end-distance",
        FigureName::MaxEndDistance,
        "2308.6",
        Verified,
    );
}

/// 2308.6: bolts "embedded at least 7 inches", two for each piece. Verified.
#[rstest]
#[case::seven_inches("7 in", Met)]
#[case::less("6 63/64 in", NotMet)]
fn depth_in_concrete(#[case] embedment: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .every_anchor("embedment", embedment)
        .judged_by(SET);
    judged.assert_decides("anchor-embedment", expected);
    judged.assert_cites("anchor-embedment", FigureName::MinEmbedment, "2308.6", Verified);
}

/// Table 1809.7, by floors supported: footings 12, 15 and 18 in wide, 6, 6 and 8 in thick (the 8 poorly
/// legible); 1809.4: at least 12 in deep. Verified.
#[rstest]
#[case::one_floor_width(1, "footing_width", "12 in", FigureName::MinFootingWidth, "Table 1809.7", Met)]
#[case::one_floor_width_less(
    1,
    "footing_width",
    "11 63/64 in",
    FigureName::MinFootingWidth,
    "Table 1809.7",
    NotMet
)]
#[case::two_floors_width(2, "footing_width", "15 in", FigureName::MinFootingWidth, "Table 1809.7", Met)]
#[case::two_floors_width_less(
    2,
    "footing_width",
    "14 63/64 in",
    FigureName::MinFootingWidth,
    "Table 1809.7",
    NotMet
)]
#[case::three_floors_width(3, "footing_width", "18 in", FigureName::MinFootingWidth, "Table 1809.7", Met)]
#[case::three_floors_width_less(
    3,
    "footing_width",
    "17 63/64 in",
    FigureName::MinFootingWidth,
    "Table 1809.7",
    NotMet
)]
#[case::one_floor_thickness(
    1,
    "footing_thickness",
    "6 in",
    FigureName::MinFootingThickness,
    "Table 1809.7",
    Met
)]
#[case::two_floors_thickness(
    2,
    "footing_thickness",
    "6 in",
    FigureName::MinFootingThickness,
    "Table 1809.7",
    Met
)]
#[case::two_floors_thinner(
    2,
    "footing_thickness",
    "5 63/64 in",
    FigureName::MinFootingThickness,
    "Table 1809.7",
    NotMet
)]
#[case::three_floors_thickness(
    3,
    "footing_thickness",
    "8 in",
    FigureName::MinFootingThickness,
    "Table 1809.7",
    Met
)]
#[case::three_floors_thinner(
    3,
    "footing_thickness",
    "7 63/64 in",
    FigureName::MinFootingThickness,
    "Table 1809.7",
    NotMet
)]
#[case::depth(1, "footing_depth", "12 in", FigureName::MinFootingDepth, "1809.4", Met)]
#[case::shallower(
    1,
    "footing_depth",
    "11 63/64 in",
    FigureName::MinFootingDepth,
    "1809.4",
    NotMet
)]
fn footings(
    #[case] stories: u8,
    #[case] field: &str,
    #[case] size: &str,
    #[case] name: FigureName,
    #[case] section: &str,
    #[case] expected: Ruling,
) {
    let judged = SoundHouse::of_stories(stories)
        .wall(&format!("foundation/0/{field}"), size)
        .judged_by(SET);
    judged.assert_decides("footing-size", expected);
    judged.assert_cites("footing-size", name, section, Verified);
}

/// 2308.9.4: studs of at least 14 in, or solid blocking. Verified. (Sheathing, which the residential code
/// takes instead, is left out of these rows.)
#[rstest]
#[case::fourteen_inches("14 in", false, Met)]
#[case::shorter("13 63/64 in", false, NotMet)]
#[case::shorter_solid("13 63/64 in", true, Met)]
fn short_studs(#[case] studs: &str, #[case] solid: bool, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .cripple_wall("18-1/2 in", studs)
        .wall("cripple_wall/0/solid_blocked", solid)
        .panels_at(&[])
        .judged_by(SET);
    judged.assert_on(FigureName::ShortStudHeight, expected, "2308.9.4", Verified);
}

/// Sizes that 2308.6 to 2308.8.1 print in both systems. Verified.
#[rstest]
#[case::end_distance("4 in", "102")]
#[case::girder("6 in", "152")]
#[case::girder_spacing("8 ft", "2438")]
#[case::joist_bearing("1-1/2 in", "38")]
#[case::ribbon("1 in", "25.4")]
fn metric_prints(#[case] customary: &str, #[case] millimeters: &str) {
    crate::metric_print::assert_prints_as(customary, millimeters);
}
