//! Against the classroom book Seismic Sleuths (a federal agency with a scientific society; 2014 copy), pages
//! 307 and 308, adapted there from a regional preparedness project.
//!
//! Seen 2026-11-25, whole pages (ad.seattletimes.com, Make It Through Seismic Sleuths, page344.html and
//! page345.html). Standing of every value: *verified* in the book. It is older advice for one-story work, not
//! a code.

use crate::sound_house::SoundHouse;
use retrofit_core::check::Ruling::{self, Met, NotMet};
use retrofit_core::house::WeightCase;
use retrofit_core::provisions::Standing::Verified;
use retrofit_core::provisions::{FigureName, keys};
use rstest::rstest;

const SET: &str = "seismic-sleuths-2014";

/// Page 307-308: 1/2 in expansion bolts no more than 6 ft apart. Verified.
#[rstest]
#[case::six_feet("1/2 in", "6 ft", Met)]
#[case::farther("1/2 in", "6'-0 1/64\"", NotMet)]
#[case::thinner("3/8 in", "6 ft", NotMet)]
fn bolts(#[case] diameter: &str, #[case] spacing: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .anchored_every(spacing)
        .every_anchor("kind", "expansion")
        .every_anchor("diameter", diameter)
        .judged_by(SET);
    judged.assert_decides("anchor-spacing", expected);
    judged.assert_cites(
        "anchor-spacing",
        FigureName::AnchorSpacing,
        "p. 307-308",
        Verified,
    );
}

/// Page 307-308: 4 to 12 in from the end of a sill. Verified.
#[rstest]
#[case::four_inches("4 in", Met)]
#[case::nearer("3 63/64 in", NotMet)]
#[case::twelve_inches("12 in", Met)]
#[case::farther("12 1/64 in", NotMet)]
fn distance_from_ends(#[case] distance: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1).end_anchors_at(distance).judged_by(SET);
    judged.assert_decides("anchor-end-distance", expected);
    judged.assert_cites(
        "anchor-end-distance",
        FigureName::MinEndDistance,
        "p. 307-308",
        Verified,
    );
}

/// Page 307-308: holes at least 4-1/2 in deep. Verified.
#[rstest]
#[case::four_and_a_half("4-1/2 in", Met)]
#[case::shallower("4 31/64 in", NotMet)]
fn depth(#[case] embedment: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .every_anchor("embedment", embedment)
        .judged_by(SET);
    judged.assert_decides("anchor-embedment", expected);
}

/// Page 307-308: a cut washer. Verified.
#[rstest]
#[case::cut("cut", Met)]
#[case::none("none", NotMet)]
fn cut_washer(#[case] washer: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .every_anchor("washer", washer)
        .judged_by(SET);
    judged.assert_decides("anchor-washer", expected);
}

/// Page 308: 3 to 6 nails of 16d in each block on the sill. Verified. The book gives no length of bracing, so
/// no number of panels is too few and none is wanting; the figure is compared as it is looked up.
#[test]
fn nails_in_sill_blocks() {
    let provisions = crate::sound_house::provisions(SET);
    let requirement = provisions.requirement(1, WeightCase::Other, 0).unwrap();
    assert_eq!(requirement.get(keys::NAILS_PER_SILL_BLOCK).value(), Some(3));
}
