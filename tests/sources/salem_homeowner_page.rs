//! Against the City of Salem, Oregon, page for homeowners on reducing a home's risk of earthquake damage
//! (undated).
//!
//! Seen 2026-11-25 (salemcityofor.prod.govaccess.org): the criteria. Standing of every value: *verified*. The
//! page's notes on the work were not seen; what they would decide stays open.

use crate::sound_house::SoundHouse;
use retrofit_core::check::Outcome;
use retrofit_core::check::Ruling::{self, Met, Outside};
use retrofit_core::provisions::FigureName;
use retrofit_core::provisions::Standing::Verified;
use rstest::rstest;
use serde_json::{Value, json};

const SET: &str = "salem-homeowner-undated";

/// Up to two stories, masonry veneer less than 4 ft, a continuous perimeter, of concrete. Verified.
#[rstest]
#[case::two_stories("building/stories", json!(2), FigureName::MaxStories, Met)]
#[case::three_stories("building/stories", json!(3), FigureName::MaxStories, Outside)]
#[case::low_veneer("building/veneer_height", json!("47 63/64 in"), FigureName::MaxVeneerHeight, Met)]
#[case::veneer_of_four_feet("building/veneer_height", json!("48 in"), FigureName::MaxVeneerHeight, Outside)]
#[case::perimeter("continuous_perimeter", json!(true), FigureName::ContinuousPerimeter, Met)]
#[case::broken_perimeter("continuous_perimeter", json!(false), FigureName::ContinuousPerimeter, Outside)]
#[case::concrete("wall_lines/0/foundation", json!([{"kind": "concrete"}]), FigureName::FoundationKinds, Met)]
#[case::stone("wall_lines/0/foundation", json!([{"kind": "stone"}]), FigureName::FoundationKinds, Outside)]
fn criteria(#[case] path: &str, #[case] found: Value, #[case] name: FigureName, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1).with(path, found).judged_by(SET);
    judged.assert_on(name, expected, "Criteria", Verified);
}

/// 1/2 in bolts 6 ft apart, named as what the state code of 1986 asked for. Verified, in the page; the best
/// case, because the washer was not seen.
#[rstest]
#[case::six_feet("1/2 in", "6 ft", Outcome::Met)]
#[case::farther("1/2 in", "6'-0 1/64\"", Outcome::NotMet)]
#[case::thinner("3/8 in", "6 ft", Outcome::NotMet)]
fn bolts(#[case] diameter: &str, #[case] spacing: &str, #[case] expected: Outcome) {
    let judged = SoundHouse::of_stories(1)
        .anchored_every(spacing)
        .every_anchor("diameter", diameter)
        .judged_by(SET);
    assert_eq!(judged.best("anchor-spacing"), expected);
    judged.assert_cites("anchor-spacing", FigureName::AnchorSpacing, "", Verified);
}
