//! Layouts against counts that the provisions themselves lead to, done by hand on paper.
//!
//! Sources: the 2013 California Existing Building Code, Appendix Chapter A3, Table A3-A and A304.3.2 (anchor spacing,
//! end distance: verified), Table A3-B (anchors in short sill pieces: from memory, so marked), Figure A3-10 and A304.4.2
//! (least length of a panel: verified). A worked layout of a 52 ft wall braced for half its length, one story, stands in
//! the reference figures of this project. Each expected number is worked out beside it.

#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use retrofit_core::house::{AsBuilt, House};
use retrofit_core::measure::Length;
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::Library;
use retrofit_core::remedy::{AnchorLayout, PanelLayout, Remedy, design};
use rstest::rstest;
use serde_json::{Value, json};

fn remedy(stories: u8, exterior: &str, roof: &str, wall: Value) -> Remedy {
    let mut wall = wall;
    let rest = json!({
        "name": "north", "anchors": [], "panels": [], "openings": [], "joists": "perpendicular",
        "rim": "continuous", "foundation": [{"kind": "concrete", "condition": "sound"}]
    });
    for (key, value) in rest.as_object().unwrap() {
        wall[key] = value.clone();
    }
    let house: House = serde_json::from_value(json!({
        "format": "house-1", "name": "by hand",
        "building": {"stories": stories, "exterior": exterior, "roof": roof},
        "wall_lines": [wall]
    }))
    .unwrap();
    let provisions = Library::shipped().set("cebc-a3-2013").unwrap();
    let remedy = design(
        &AsBuilt::new(house).unwrap(),
        &provisions,
        UnitPrices::placeholder(),
    );
    assert!(remedy.is_proved());
    remedy
}

fn anchors(remedy: &Remedy) -> &AnchorLayout {
    remedy.lines[0].anchors.work().unwrap()
}

fn panels(remedy: &Remedy) -> &PanelLayout {
    remedy.lines[0].panels.work().unwrap()
}

fn braced(layout: &PanelLayout) -> Length {
    let lengths = layout
        .added
        .iter()
        .map(|panel| panel.to.saturating_sub(panel.from));
    lengths.fold(Length::ZERO, Length::saturating_add)
}

/// A sill in one piece, studs so far apart that none is in the way: the first and the last anchor 9 to 12 in from the
/// ends, the rest at the largest spacing. So (length less two times 12 in) over the spacing, rounded up, and one more.
#[rstest]
#[case::fifty_two_feet_one_story(1, "52 ft", 10)] // 50 ft at 6 ft: 9 spaces
#[case::fifty_two_feet_two_stories(2, "52 ft", 10)] // 50 ft at 6 ft with 5/8 in anchors: 9 spaces
#[case::thirty_two_feet_one_story(1, "32 ft", 6)] // 30 ft at 6 ft: 5 spaces
#[case::just_over(1, "32'-1\"", 7)] // 30 ft 1 in at 6 ft: 6 spaces
#[case::fourteen_feet_one_story(1, "14 ft", 3)] // 12 ft at 6 ft: 2 spaces
fn anchors_along_one_sill_piece(#[case] stories: u8, #[case] length: &str, #[case] count: usize) {
    let wall = json!({
        "length": {"measured": length}, "sill": [{"soundness": "sound", "against_studs": "flush"}],
        "cripple_wall": [{"height": {"measured": "2 ft"}, "stud_spacing": "99 ft"}]
    });
    assert_eq!(
        anchors(&remedy(stories, "wood", "light", wall)).added.len(),
        count
    );
}

/// Short pieces go by number: one anchor up to 30 in, two up to 6 ft, three up to 12 ft (Table A3-B, from memory).
#[rstest]
#[case("2 ft", 1)]
#[case("30 in", 1)]
#[case("31 in", 2)]
#[case("6 ft", 2)]
#[case("6'-1\"", 3)]
#[case("12 ft", 3)]
fn anchors_in_a_short_sill_piece(#[case] length: &str, #[case] count: usize) {
    let wall = json!({
        "length": {"measured": length}, "sill": [{"soundness": "sound", "against_studs": "flush"}],
        "cripple_wall": [{"height": {"measured": "2 ft"}, "stud_spacing": "99 ft"}]
    });
    assert_eq!(anchors(&remedy(1, "wood", "light", wall)).added.len(), count);
}

/// Half of 52 ft is 26 ft: stucco and tile on one story. The studs stand 16 in apart, so that a panel is a whole number
/// of bays of 16 in and 26 ft takes 19.5 of them: 20 bays, 26'-8". One panel at each end.
#[test]
fn fifty_two_feet_braced_for_half_its_length() {
    let wall = json!({
        "length": {"measured": "52 ft"}, "sill": [{"soundness": "sound", "against_studs": "flush"}],
        "cripple_wall": [{"height": {"measured": "2 ft"}, "stud_spacing": "16 in"}]
    });
    let remedy = remedy(1, "stucco", "tile", wall);
    let layout = panels(&remedy);
    assert_eq!(layout.needed, Length::feet(26));
    assert_eq!(braced(layout), Length::inches(20 * 16));
    assert_eq!(layout.added.len(), 2);
    assert_eq!(layout.added[0].from, Length::ZERO);
    assert_eq!(layout.added[1].to, Length::feet(52));
}

/// The shares of Table A3-A: 40 % light and 50 % heavy on one story, 50 % and 70 % on two. 48 ft is 36 bays of 16 in.
#[rstest]
#[case(1, "wood", "light", 15)] // 14.4 bays
#[case(1, "stucco", "tile", 18)] // 18 bays
#[case(2, "wood", "light", 18)] // 18 bays
#[case(2, "stucco", "tile", 26)] // 25.2 bays
fn shares_in_whole_stud_bays(
    #[case] stories: u8,
    #[case] exterior: &str,
    #[case] roof: &str,
    #[case] bays: i64,
) {
    let wall = json!({
        "length": {"measured": "48 ft"}, "sill": [{"soundness": "sound", "against_studs": "flush"}],
        "cripple_wall": [{"height": {"measured": "2 ft"}, "stud_spacing": "16 in"}]
    });
    assert_eq!(
        braced(panels(&remedy(stories, exterior, roof, wall))),
        Length::inches(16 * bays)
    );
}

/// A panel is at least 48 in long and at least twice its stud height: 40 in studs need 80 in, five bays of 16 in. So two
/// of them on a wall of 30 ft, of which 40 % is 144 in.
#[test]
fn a_tall_panel_is_twice_as_long_as_it_is_high() {
    let wall = json!({
        "length": {"measured": "30 ft"}, "sill": [{"soundness": "sound", "against_studs": "flush"}],
        "cripple_wall": [{"height": {"measured": "44 in"}, "tallest_stud": {"measured": "40 in"}, "stud_spacing": "16 in"}]
    });
    let remedy = remedy(1, "wood", "light", wall);
    let layout = panels(&remedy);
    assert_eq!(layout.added.len(), 2);
    assert!(
        layout
            .added
            .iter()
            .all(|panel| panel.to.saturating_sub(panel.from) >= Length::inches(80))
    );
}
