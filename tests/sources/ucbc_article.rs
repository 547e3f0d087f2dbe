//! Against the Uniform Code for Building Conservation, in a contractor's article of 2011 on bolting mudsills
//! that quotes its rules for sill bolts.
//!
//! Seen 2026-11-25, beginning of the article (studylib.net/doc/8759476). The code itself and its edition were
//! not seen. Standing of every value: *secondary*. The article asks for plate washers; the part seen gives no
//! size, nor distances from ends. So the checks stay open on those, and the best case is compared.

use crate::sound_house::SoundHouse;
use retrofit_core::check::Outcome::{self, Met, NotMet};
use retrofit_core::check::Ruling;
use retrofit_core::provisions::FigureName;
use retrofit_core::provisions::Standing::Secondary;
use rstest::rstest;

const SET: &str = "ucbc-appendix-6-2011";

/// Bolts by stories: 1/2 in at 6 ft, 1/2 in at 4 ft, 5/8 in at 4 ft. Secondary.
#[rstest]
#[case::one_story(1, "1/2 in", "6 ft", Met)]
#[case::one_story_beyond(1, "1/2 in", "6'-0 1/64\"", NotMet)]
#[case::two_stories(2, "1/2 in", "4 ft", Met)]
#[case::two_stories_beyond(2, "1/2 in", "4'-0 1/64\"", NotMet)]
#[case::three_stories(3, "5/8 in", "4 ft", Met)]
#[case::three_stories_beyond(3, "5/8 in", "4'-0 1/64\"", NotMet)]
#[case::three_stories_thinner(3, "1/2 in", "4 ft", NotMet)]
fn bolts(#[case] stories: u8, #[case] diameter: &str, #[case] spacing: &str, #[case] expected: Outcome) {
    let judged = SoundHouse::of_stories(stories)
        .anchored_every(spacing)
        .every_anchor("diameter", diameter)
        .judged_by(SET);
    assert_eq!(judged.best("anchor-spacing"), expected);
    judged.assert_cites("anchor-spacing", FigureName::AnchorSpacing, "", Secondary);
}

/// A size of washer that nobody has seen is not taken as met, nor as missing.
#[test]
fn an_unseen_washer_size_stays_open() {
    let judged = SoundHouse::of_stories(1).judged_by(SET);
    assert_eq!(judged.ruling("anchor-washer"), Ruling::NotDetermined);
}
