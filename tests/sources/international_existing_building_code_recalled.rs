//! Against the International Existing Building Code, Appendix Chapter A3, Table A304.3.1, as it is recalled.
//!
//! No edition of the table was seen, so no difference between editions is known; all editions share the rows
//! of the 2021 set. Standing of every value: *memory*. The 2013 California text, which was seen, gives the
//! same amounts, but a recalled figure does not gain a standing by that, and a verdict that rests on one says
//! so.

use crate::sound_house::SoundHouse;
use retrofit_core::check::Ruling::{self, Met, NotMet};
use retrofit_core::provisions::FigureName;
use retrofit_core::provisions::Standing::Memory;
use rstest::rstest;

const EDITIONS: [&str; 5] = [
    "iebc-a3-2012",
    "iebc-a3-2015",
    "iebc-a3-2018",
    "iebc-a3-2021",
    "iebc-a3-2024",
];

/// Anchors. Memory.
#[rstest]
#[case::one_story(1, "1/2 in", "6 ft", Met)]
#[case::one_story_beyond(1, "1/2 in", "6'-0 1/64\"", NotMet)]
#[case::two_stories_half_inch(2, "1/2 in", "4 ft", Met)]
#[case::two_stories_half_inch_beyond(2, "1/2 in", "4'-0 1/64\"", NotMet)]
#[case::two_stories_five_eighths(2, "5/8 in", "6 ft", Met)]
#[case::three_stories(3, "5/8 in", "4 ft", Met)]
#[case::three_stories_beyond(3, "5/8 in", "4'-0 1/64\"", NotMet)]
fn recalled_anchors(
    #[case] stories: u8,
    #[case] diameter: &str,
    #[case] spacing: &str,
    #[case] expected: Ruling,
) {
    let house = SoundHouse::of_stories(stories)
        .anchored_every(spacing)
        .every_anchor("diameter", diameter);
    for edition in EDITIONS {
        let judged = house.judged_by(edition);
        assert_eq!(judged.ruling("anchor-spacing"), expected, "{edition}");
        judged.assert_cites(
            "anchor-spacing",
            FigureName::AnchorSpacing,
            "Table A304.3.1",
            Memory,
        );
    }
}

/// Bracing. Memory. What falls short is said to fall short by a remembered figure.
#[rstest]
#[case::one_story_heavy(1, true, "15 ft", "14'-11 63/64\"")]
#[case::one_story_other(1, false, "12 ft", "11'-11 63/64\"")]
#[case::two_stories_heavy(2, true, "21 ft", "20'-11 63/64\"")]
#[case::two_stories_other(2, false, "15 ft", "14'-11 63/64\"")]
#[case::three_stories_heavy(3, true, "30 ft", "29'-11 63/64\"")]
#[case::three_stories_other(3, false, "24 ft", "23'-11 63/64\"")]
fn recalled_bracing(#[case] stories: u8, #[case] heavy: bool, #[case] enough: &str, #[case] short: &str) {
    let house = SoundHouse::of_stories(stories);
    let house = if heavy { house.heavy() } else { house };
    for edition in EDITIONS {
        let judged = house.clone().braced_for("30 ft", enough).judged_by(edition);
        assert_eq!(judged.ruling("bracing-length"), Met, "{edition}");
        judged.assert_cites(
            "bracing-length",
            FigureName::BracedShare,
            "Table A304.3.1",
            Memory,
        );
        let judged = house.clone().braced_for("30 ft", short).judged_by(edition);
        judged.assert_decides("bracing-length", NotMet);
        assert_eq!(judged.words, "not met, by a remembered figure");
    }
}
