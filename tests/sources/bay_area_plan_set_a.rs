//! Against the San Francisco Bay Area Standard Plan Set A (2008), and the Berkeley guidelines of 2006 that
//! send houses to it.
//!
//! Seen 2026-11-25: the eligibility list on the page of the Association of Bay Area Governments
//! (resilience.abag.ca.gov/residents/planset; its last item cut off) and the Berkeley memo of July 11, 2006
//! (studylib.net/doc/18659145). Standing of every value: *verified*. The plan's table of anchors, panels and
//! clips was not seen; what it would decide stays open. The edge nailing is from an account of the plan's
//! calculations (bayarearetrofit.com): *secondary*.

use crate::sound_house::SoundHouse;
use retrofit_core::check::Quantity;
use retrofit_core::check::Ruling::{self, Met, NotDetermined, Outside};
use retrofit_core::provisions::FigureName;
use retrofit_core::provisions::Standing::{Secondary, Verified};
use rstest::rstest;

const SET: &str = "bay-area-plan-set-a-2008";

/// Up to two stories. Verified, in the plan and in the memo.
#[rstest]
#[case::two(2, Met)]
#[case::three(3, Outside)]
fn most_stories(
    #[case] stories: u8,
    #[case] expected: Ruling,
    #[values(SET, "berkeley-guidelines-2006")] set: &str,
) {
    let judged = SoundHouse::of_stories(stories).judged_by(set);
    judged.assert_on(FigureName::MaxStories, expected, "", Verified);
}

/// One- and two-family houses. Verified.
#[rstest]
#[case::two(2, Met)]
#[case::three(3, Outside)]
fn most_units(#[case] units: u16, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .with("building/units", units)
        .judged_by(SET);
    judged.assert_on(FigureName::MaxUnits, expected, "Eligibility", Verified);
}

/// All cripple walls *less than* 4 ft: 4 ft itself is outside. Verified, in the plan and in the memo.
#[rstest]
#[case::under("47 63/64 in", Met)]
#[case::four_feet("48 in", Outside)]
#[case::four_feet_in_metric("1219.2 mm", Outside)]
#[case::four_feet_as_codes_print_it("1219 mm", Met)]
fn cripple_wall_height(
    #[case] height: &str,
    #[case] expected: Ruling,
    #[values(SET, "berkeley-guidelines-2006")] set: &str,
) {
    let judged = SoundHouse::of_stories(1)
        .cripple_wall(height, "43 in")
        .judged_by(set);
    judged.assert_on(FigureName::MaxCrippleWallHeight, expected, "", Verified);
}

/// Masonry veneer less than 4 ft above the foundation. Verified.
#[rstest]
#[case::under("3'-11 63/64\"", Met)]
#[case::four_feet("4 ft", Outside)]
fn veneer(#[case] height: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .with("building/veneer_height", height)
        .judged_by(SET);
    judged.assert_on(FigureName::MaxVeneerHeight, expected, "Eligibility", Verified);
}

/// A continuous perimeter foundation. Verified.
#[rstest]
fn perimeter(#[values(true, false)] continuous: bool) {
    let judged = SoundHouse::of_stories(1)
        .with("continuous_perimeter", continuous)
        .judged_by(SET);
    judged.assert_on(
        FigureName::ContinuousPerimeter,
        if continuous { Met } else { Outside },
        "Eligibility",
        Verified,
    );
}

/// 8d nails at 4 in along the edges. Secondary. How much bracing the plan asks was not seen, so no nailing is
/// found wanting; what a finding holds the nails against is compared.
#[test]
fn edge_nailing() {
    let judged = SoundHouse::of_stories(1).judged_by(SET);
    judged.assert_cites("panel-nailing", FigureName::EdgeNailing, "", Secondary);
    let nailing = judged.findings("panel-nailing");
    let four_inches = Quantity::Length(crate::sound_house::length("4 in"));
    assert!(nailing.iter().any(|finding| finding.required == four_inches));
}

/// The plan's table was not seen: nothing is said to be met or wanting by it.
#[rstest]
#[case(FigureName::AnchorSpacing)]
#[case(FigureName::BracedShare)]
fn the_table_stays_open(#[case] name: FigureName) {
    assert_eq!(
        SoundHouse::of_stories(1).judged_by(SET).ruling_on(name),
        NotDetermined
    );
}
