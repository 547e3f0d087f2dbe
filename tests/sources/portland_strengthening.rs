//! Against the City of Portland, Oregon, Residential Seismic Strengthening (notice of 2011).
//!
//! Seen 2026-11-25: the criteria on the city's page (portland.gov/ppd/residential-permitting/home-projects/
//! residential-seismic-strengthening). Standing of every value: *verified*. The tables of the city's brochure
//! were not seen; what they would decide stays open.

use crate::sound_house::SoundHouse;
use retrofit_core::check::Ruling::{self, Met, NotDetermined, Outside};
use retrofit_core::provisions::FigureName;
use retrofit_core::provisions::Standing::Verified;
use rstest::rstest;

const SET: &str = "portland-strengthening-2011";

/// Up to three stories, of one or two families. Verified.
#[rstest]
#[case::three_stories(3, 1, FigureName::MaxStories, Met)]
#[case::four_stories(4, 1, FigureName::MaxStories, Outside)]
#[case::two_families(2, 2, FigureName::MaxUnits, Met)]
#[case::three_families(2, 3, FigureName::MaxUnits, Outside)]
fn stories_and_units(
    #[case] stories: u8,
    #[case] units: u16,
    #[case] name: FigureName,
    #[case] expected: Ruling,
) {
    let judged = SoundHouse::of_stories(stories)
        .with("building/units", units)
        .judged_by(SET);
    judged.assert_on(name, expected, "Criteria", Verified);
}

/// Cripple walls up to 4 ft at one and two stories, studs up to 14 in at three. Verified.
#[rstest]
#[case::one_story(1, "48 in", "43-1/2 in", FigureName::MaxCrippleWallHeight, Met)]
#[case::one_story_higher(1, "48 1/64 in", "43-1/2 in", FigureName::MaxCrippleWallHeight, Outside)]
#[case::two_stories(2, "48 in", "43-1/2 in", FigureName::MaxCrippleWallHeight, Met)]
#[case::two_stories_higher(2, "48 1/64 in", "43-1/2 in", FigureName::MaxCrippleWallHeight, Outside)]
#[case::three_stories(3, "18-1/2 in", "14 in", FigureName::MaxStudHeight, Met)]
#[case::three_stories_taller(3, "20 in", "14 1/64 in", FigureName::MaxStudHeight, Outside)]
fn cripple_walls(
    #[case] stories: u8,
    #[case] height: &str,
    #[case] studs: &str,
    #[case] name: FigureName,
    #[case] expected: Ruling,
) {
    let judged = SoundHouse::of_stories(stories)
        .cripple_wall(height, studs)
        .judged_by(SET);
    judged.assert_on(name, expected, "Criteria", Verified);
}

/// Ground under the foundation no steeper than 3H:1V anywhere. Verified.
#[rstest]
#[case::three_to_one("1V:3H", Met)]
#[case::steeper("33.34 %", Outside)]
fn ground_slope(#[case] slope: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1).with("site/slope", slope).judged_by(SET);
    judged.assert_on(FigureName::MaxSlope, expected, "Criteria", Verified);
}

/// Continuous concrete around the whole perimeter. Verified.
#[rstest]
#[case::concrete("concrete", Met)]
#[case::stone("stone", Outside)]
#[case::brick("brick", Outside)]
#[case::posts("posts", Outside)]
fn foundation(#[case] kind: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .wall("foundation/0/kind", kind)
        .judged_by(SET);
    judged.assert_on(FigureName::FoundationKinds, expected, "Criteria", Verified);
}

#[rstest]
fn perimeter(#[values(true, false)] continuous: bool) {
    let judged = SoundHouse::of_stories(1)
        .with("continuous_perimeter", continuous)
        .judged_by(SET);
    let expected = if continuous { Met } else { Outside };
    judged.assert_on(FigureName::ContinuousPerimeter, expected, "Criteria", Verified);
}

/// The brochure's tables were not seen: nothing is said to be met or wanting by them.
#[rstest]
#[case(FigureName::AnchorSpacing)]
#[case(FigureName::BracedShare)]
fn the_brochure_stays_open(#[case] name: FigureName) {
    assert_eq!(
        SoundHouse::of_stories(1).judged_by(SET).ruling_on(name),
        NotDetermined
    );
}
