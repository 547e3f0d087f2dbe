//! Against the 2013 California Building Code (Title 24, Part 2), conventional construction: what it asks of a new
//! building. For comparison only; an older house is not judged by it.
//!
//! Seen 2026-11-25 in an unofficial text copy of the official code (github.com/abrightguy/abrightguy.github.io,
//! codes/2013/2/2/18.md and 23.md). Standing of every value: *verified*; of the one footing thickness for three
//! floors the digit is poorly legible.

#[cfg(test)]
mod metric_print;
#[cfg(test)]
mod sound_house;

use retrofit_core::check::Ruling::{self, Met, NotMet};
use retrofit_core::provisions::FigureName;
use retrofit_core::provisions::Standing::Verified;
use rstest::rstest;
use sound_house::SoundHouse;

const SET: &str = "cbc-2013-new-construction";

/// 2308.6: 1/2 in bolts "spaced not more than 6 feet apart"; 2308.3.3: "not more than 4 feet o.c. for structures
/// over two stories". Verified.
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

/// Sizes that 2308.6 to 2308.8.1 print in both systems. Verified.
#[rstest]
#[case::end_distance("4 in", "102")]
#[case::girder("6 in", "152")]
#[case::girder_spacing("8 ft", "2438")]
#[case::joist_bearing("1-1/2 in", "38")]
#[case::ribbon("1 in", "25.4")]
fn metric_prints(#[case] customary: &str, #[case] millimeters: &str) {
    metric_print::assert_prints_as(customary, millimeters);
}
