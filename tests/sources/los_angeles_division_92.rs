//! Against the City of Los Angeles: Municipal Code, Division 92, and Standard Plan 1.
//!
//! Seen 2026-11-25: the scope on a sheet of a Los Angeles standard plan filed in Santa Ana
//! (publicdocs.santa-ana.org, document 380895, page 2; a scan), the city's page for Standard Plan 1
//! (permitla.org), and Sections 91.9203 and 91.9204 to 91.9204.1.3 (codelibrary.amlegal.com). Standing of
//! every value: *verified*. Table 92-A was not seen; what it would decide stays open.

use crate::sound_house::SoundHouse;
use retrofit_core::check::Ruling::{self, Met, NotDetermined, NotMet, Outside};
use retrofit_core::provisions::FigureName;
use retrofit_core::provisions::Standing::Verified;
use rstest::rstest;

const SET: &str = "la-division-92-2018";

/// One to three stories (Standard Plan 1, and the sheet). Verified.
#[rstest]
#[case::three(3, Met)]
#[case::four(4, Outside)]
fn most_stories(#[case] stories: u8, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(stories).judged_by(SET);
    judged.assert_on(FigureName::MaxStories, expected, "Scope", Verified);
}

/// Up to four dwelling units and guest rooms. Verified.
#[rstest]
#[case::four(4, Met)]
#[case::five(5, Outside)]
fn most_units(#[case] units: u16, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(2)
        .with("building/units", units)
        .judged_by(SET);
    judged.assert_on(FigureName::MaxUnits, expected, "Scope", Verified);
}

/// Cripple walls up to 48 in at one and two stories. Verified.
#[rstest]
#[case::one_story(1, "48 in", Met)]
#[case::one_story_higher(1, "48 1/64 in", Outside)]
#[case::two_stories(2, "48 in", Met)]
#[case::two_stories_higher(2, "48 1/64 in", Outside)]
fn cripple_wall_height(#[case] stories: u8, #[case] height: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(stories)
        .cripple_wall(height, "43-1/2 in")
        .judged_by(SET);
    judged.assert_on(FigureName::MaxCrippleWallHeight, expected, "Scope", Verified);
}

/// Studs up to 14 in at three stories. Verified.
#[rstest]
#[case::fourteen_inches("14 in", Met)]
#[case::taller("14 1/64 in", Outside)]
fn studs_of_three_stories(#[case] studs: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(3)
        .cripple_wall("20 in", studs)
        .judged_by(SET);
    judged.assert_on(FigureName::MaxStudHeight, expected, "Scope", Verified);
}

/// No part of the house on a slope steeper than 3H:1V. Verified.
#[rstest]
#[case::three_to_one("3H:1V", Met)]
#[case::a_third_as_printed("33.3 %", Met)]
#[case::steeper("33.4 %", Outside)]
#[case::two_to_one("2H:1V", Outside)]
fn ground_slope(#[case] slope: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1).with("site/slope", slope).judged_by(SET);
    judged.assert_on(FigureName::MaxSlope, expected, "Scope", Verified);
}

/// A continuous concrete footing and stem wall at the perimeter, and all floors of a story at one level.
/// Verified.
#[rstest]
#[case("continuous_perimeter", FigureName::ContinuousPerimeter)]
#[case("building/floors_at_one_level", FigureName::FloorsAtOneLevel)]
fn perimeter_and_floors(#[case] path: &str, #[case] name: FigureName, #[values(true, false)] as_asked: bool) {
    let judged = SoundHouse::of_stories(1).with(path, as_asked).judged_by(SET);
    judged.assert_on(name, if as_asked { Met } else { Outside }, "Scope", Verified);
}

/// The foundation is of concrete. Verified.
#[rstest]
#[case("concrete", Met)]
#[case("brick", Outside)]
#[case("block", Outside)]
fn foundation(#[case] kind: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .wall("foundation/0/kind", kind)
        .judged_by(SET);
    judged.assert_on(FigureName::FoundationKinds, expected, "Scope", Verified);
}

/// 91.9204.1.2: wood with fungus or insect damage is made good or replaced. Verified.
#[rstest]
#[case("sound", Met)]
#[case("decayed", NotMet)]
#[case("insects", NotMet)]
fn sill_wood(#[case] soundness: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .wall("sill/0/soundness", soundness)
        .judged_by(SET);
    judged.assert_on(FigureName::SoundSill, expected, "91.9204.1.2", Verified);
}

/// 91.9204.1.3: rim, or blocks in alternate bays; at three stories in every bay. Verified.
#[rstest]
#[case::rim_three_stories(3, "continuous", Met)]
#[case::every_bay_three_stories(3, "every_bay", Met)]
#[case::alternate_bays_three_stories(3, "alternate_bays", NotMet)]
#[case::alternate_bays_one_story(1, "alternate_bays", Met)]
#[case::here_and_there_one_story(1, "scattered", NotMet)]
#[case::nothing_one_story(1, "none", NotMet)]
fn blocking(#[case] stories: u8, #[case] rim: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(stories).wall("rim", rim).judged_by(SET);
    judged.assert_on(FigureName::RimPatterns, expected, "91.9204.1.3", Verified);
}

/// What Table 92-A gives was not seen: nothing is said to be met or wanting by it.
#[rstest]
#[case(FigureName::AnchorSpacing)]
#[case(FigureName::BracedShare)]
fn table_92_a_stays_open(#[case] name: FigureName) {
    assert_eq!(
        SoundHouse::of_stories(1).judged_by(SET).ruling_on(name),
        NotDetermined
    );
}
