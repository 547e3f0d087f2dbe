//! Against the 2013 California Existing Building Code (California Code of Regulations, Title 24, Part 10, in
//! force from January 1, 2014), Appendix Chapter A3.
//!
//! Seen 2026-11-25 in an unofficial text copy of the official code
//! (github.com/abrightguy/abrightguy.github.io, "codes/2013/10/10 - California Existing Building Code (Jan 1,
//! 2014).txt"). Text and Table A3-A were clean in that copy, figures partly legible, the cells of Table A3-B
//! lost. So the standing of every value here is *verified*, except where its row says otherwise: the counts
//! of Table A3-B are recalled (*memory*), and the offset of an end panel and a sound foundation are *common
//! practice*.
//!
//! A house that has everything in place is put at the published limit and just beyond it: by 1/64 in, the
//! finest a tape is read. At the limit the house as a whole meets the chapter; beyond it the house does not.

use crate::sound_house::SoundHouse;
use retrofit_core::check::Ruling::{self, Met, NotApplicable, NotMet, Outside};
use retrofit_core::house::WeightCase;
use retrofit_core::provisions::Standing::{CommonPractice, Memory, Verified};
use retrofit_core::provisions::{FigureName, keys};
use rstest::rstest;
use serde_json::{Value, json};

const SET: &str = "cebc-a3-2013";

/// The house from which every row below starts does meet the chapter: else no row would show anything.
#[rstest]
fn a_house_with_everything_in_place_meets_the_chapter(
    #[values(1, 2, 3)] stories: u8,
    #[values(true, false)] heavy: bool,
) {
    let house = SoundHouse::of_stories(stories);
    let house = if heavy { house.heavy() } else { house };
    house.judged_by(SET).assert_house(Met);
}

/// Table A3-A, "minimum sill plate connection and maximum spacing", cell by cell. Verified.
#[rstest]
#[case::one_story_half_inch(1, "1/2 in", "6'-0\"", Met)]
#[case::one_story_half_inch_beyond(1, "1/2 in", "6'-0 1/64\"", NotMet)]
#[case::one_story_half_inch_in_metric(1, "12.7 mm", "1828.8 mm", Met)]
#[case::two_stories_half_inch(2, "1/2 in", "4'-0\"", Met)]
#[case::two_stories_half_inch_beyond(2, "1/2 in", "4'-0 1/64\"", NotMet)]
#[case::two_stories_half_inch_at_the_spacing_of_one_story(2, "1/2 in", "6'-0\"", NotMet)]
#[case::two_stories_five_eighths(2, "5/8 in", "6'-0\"", Met)]
#[case::two_stories_five_eighths_beyond(2, "5/8 in", "6'-0 1/64\"", NotMet)]
#[case::three_stories_five_eighths(3, "5/8 in", "4'-0\"", Met)]
#[case::three_stories_five_eighths_beyond(3, "5/8 in", "4'-0 1/64\"", NotMet)]
#[case::three_stories_half_inch_has_no_cell(3, "1/2 in", "4'-0\"", NotMet)]
#[case::one_story_three_eighths_is_too_thin(1, "3/8 in", "4'-0\"", NotMet)]
fn table_a3_a_anchors(
    #[case] stories: u8,
    #[case] diameter: &str,
    #[case] spacing: &str,
    #[case] expected: Ruling,
) {
    let house = SoundHouse::of_stories(stories)
        .anchored_every(spacing)
        .every_anchor("diameter", diameter);
    let judged = house.judged_by(SET);
    judged.assert_decides("anchor-spacing", expected);
    judged.assert_cites(
        "anchor-spacing",
        FigureName::AnchorSpacing,
        "Table A3-A",
        Verified,
    );
}

/// Table A3-A, "amount of bracing for each wall line", cell by cell, on a wall of 30 ft where every share
/// comes out in whole feet. Verified.
#[rstest]
#[case::one_story_heavy_50_percent(1, true, "15 ft", Met)]
#[case::one_story_heavy_under(1, true, "14'-11 63/64\"", NotMet)]
#[case::one_story_other_40_percent(1, false, "12 ft", Met)]
#[case::one_story_other_under(1, false, "11'-11 63/64\"", NotMet)]
#[case::two_stories_heavy_70_percent(2, true, "21 ft", Met)]
#[case::two_stories_heavy_under(2, true, "20'-11 63/64\"", NotMet)]
#[case::two_stories_other_50_percent(2, false, "15 ft", Met)]
#[case::two_stories_other_under(2, false, "14'-11 63/64\"", NotMet)]
#[case::three_stories_heavy_100_percent(3, true, "30 ft", Met)]
#[case::three_stories_heavy_under(3, true, "29'-11 63/64\"", NotMet)]
#[case::three_stories_other_80_percent(3, false, "24 ft", Met)]
#[case::three_stories_other_under(3, false, "23'-11 63/64\"", NotMet)]
fn table_a3_a_bracing(
    #[case] stories: u8,
    #[case] heavy: bool,
    #[case] bracing: &str,
    #[case] expected: Ruling,
) {
    let house = SoundHouse::of_stories(stories).braced_for("30 ft", bracing);
    let house = if heavy { house.heavy() } else { house };
    let judged = house.judged_by(SET);
    judged.assert_decides("bracing-length", expected);
    judged.assert_cites("bracing-length", FigureName::BracedShare, "Table A3-A", Verified);
}

/// Table A3-A asks the larger share of "a combination of exterior walls finished with portland cement plaster
/// and roofing using clay tile or concrete tile"; either alone is among "all other conditions". Verified.
#[rstest]
#[case::plaster_and_tile("stucco", "tile", NotMet)]
#[case::plaster_alone("stucco", "light", Met)]
#[case::tile_alone("wood", "tile", Met)]
fn the_heavy_case_is_a_combination(#[case] exterior: &str, #[case] roof: &str, #[case] expected: Ruling) {
    // 40 % of the wall: enough in the other case, too little in the heavy one.
    let house = SoundHouse::of_stories(1)
        .with("building/exterior", exterior)
        .with("building/roof", roof)
        .braced_for("30 ft", "12 ft");
    house.judged_by(SET).assert_decides("bracing-length", expected);
}

/// The worked examples of Figure A3-10: "30 ft. x 0.40 = 12 ft." for one story and "40 ft. x 0.50 = 20 ft."
/// for two. Verified (text of the figure).
#[rstest]
#[case::one_story(1, "30 ft", "12 ft")]
#[case::two_stories(2, "40 ft", "20 ft")]
fn figure_a3_10_worked_examples(#[case] stories: u8, #[case] wall: &str, #[case] printed: &str) {
    let sound = SoundHouse::of_stories(stories)
        .wall_length(wall)
        .anchors_four_feet_apart();
    let short = crate::sound_house::length(printed)
        .saturating_sub(crate::sound_house::length("1/64 in"))
        .to_string();
    sound
        .clone()
        .braced_for(wall, printed)
        .judged_by(SET)
        .assert_decides("bracing-length", Met);
    sound
        .braced_for(wall, &short)
        .judged_by(SET)
        .assert_decides("bracing-length", NotMet);
}

/// Table A3-A, "each end and not less than …", and its note d, "as near to the end as possible". Verified.
/// How near that is the chapter does not say: one stud bay of 16 in is common practice.
#[rstest]
#[case::at_both_ends(&[("0 ft", "8 ft"), ("22 ft", "30 ft")], Met)]
#[case::one_bay_in(&[("16 in", "9 ft"), ("22 ft", "30 ft")], Met)]
#[case::farther_in(&[("16 1/64 in", "9 ft"), ("22 ft", "30 ft")], NotMet)]
#[case::none_at_the_far_end(&[("0 ft", "16 ft")], NotMet)]
fn table_a3_a_a_panel_at_each_end(#[case] panels: &[(&str, &str)], #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1).panels_at(panels).judged_by(SET);
    judged.assert_decides("bracing-ends", expected);
    judged.assert_cites("bracing-ends", FigureName::PanelAtEachEnd, "Table A3-A", Verified);
    if expected == Met {
        judged.assert_cites("bracing-ends", FigureName::MaxEndOffset, "", CommonPractice);
    }
}

/// Section A304.3.2: anchors "within 12 inches (305 mm), but not less than 9 inches (229 mm), from the ends
/// of sill plates". Verified.
#[rstest]
#[case::nine_inches("9 in", Met)]
#[case::nearer("8 63/64 in", NotMet)]
#[case::twelve_inches("12 in", Met)]
#[case::farther("12 1/64 in", NotMet)]
#[case::between_in_metric("300 mm", Met)]
fn a304_3_2_distance_from_sill_ends(#[case] distance: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1).end_anchors_at(distance).judged_by(SET);
    judged.assert_decides("anchor-end-distance", expected);
    judged.assert_cites(
        "anchor-end-distance",
        FigureName::MaxEndDistance,
        "A304.3.2",
        Verified,
    );
    judged.assert_cites(
        "anchor-end-distance",
        FigureName::MinEndDistance,
        "A304.3.2",
        Verified,
    );
}

/// Section A304.3.2: the spacing of Table A3-A is for "lengths of sill plates greater than 12 feet (3658
/// mm)"; others go by Table A3-B. Verified.
#[rstest]
#[case::twelve_feet("12 ft", NotApplicable)]
#[case::longer("12'-0 1/64\"", Met)]
fn a304_3_2_twelve_feet_divide_spacing_from_number(#[case] wall: &str, #[case] expected: Ruling) {
    let last = crate::sound_house::length(wall)
        .saturating_sub(crate::sound_house::length("1 ft"))
        .to_string();
    let house = SoundHouse::of_stories(1)
        .wall_length(wall)
        .anchors_at(&["1 ft", "6 ft", &last])
        .panels_at(&[("0 ft", wall)]);
    let judged = house.judged_by(SET);
    assert_eq!(judged.ruling("anchor-spacing"), expected);
    judged.assert_cites(
        "anchor-spacing",
        if expected == Met {
            FigureName::AnchorSpacing
        } else {
            FigureName::SpacingAppliesOver
        },
        if expected == Met { "Table A3-A" } else { "A304.3.2" },
        Verified,
    );
}

/// Table A3-B, number of anchors by length of sill plate: 3, 2 and 1. MEMORY: the cells were not legible;
/// which row 30 in and 6 ft themselves belong to is not confirmed, so the rows stay clear of both.
#[rstest]
#[case::eight_feet_three("8 ft", &["1 ft", "4 ft", "7 ft"], Met)]
#[case::eight_feet_two("8 ft", &["1 ft", "7 ft"], NotMet)]
#[case::five_feet_two("5 ft", &["1 ft", "4 ft"], Met)]
#[case::five_feet_one("5 ft", &["1 ft"], NotMet)]
#[case::two_feet_one_at_the_center("2 ft", &["1 ft"], Met)]
#[case::two_feet_none("2 ft", &[], NotMet)]
fn table_a3_b_number_of_anchors(#[case] wall: &str, #[case] anchors: &[&str], #[case] expected: Ruling) {
    let house = SoundHouse::of_stories(1)
        .wall_length(wall)
        .anchors_at(anchors)
        .panels_at(&[("0 ft", wall)]);
    let judged = house.judged_by(SET);
    assert_eq!(judged.ruling("anchors-per-piece"), expected);
    judged.assert_cites(
        "anchors-per-piece",
        FigureName::AnchorsPerPiece,
        "Table A3-B",
        Memory,
    );
}

/// Section A304.3.2, exception: "center-to-center spacing shall not be less than 12 inches (305 mm)".
/// Verified; the number of anchors it is tried on, three for 8 ft, is memory.
#[rstest]
#[case::twelve_inches(&["1 ft", "2 ft", "7 ft"], Met)]
#[case::closer(&["1 ft", "1'-11 63/64\"", "7 ft"], NotMet)]
fn a304_3_2_anchors_too_close_count_as_one(#[case] anchors: &[&str], #[case] expected: Ruling) {
    let house = SoundHouse::of_stories(1)
        .wall_length("8 ft")
        .anchors_at(anchors)
        .panels_at(&[("0 ft", "8 ft")]);
    assert_eq!(house.judged_by(SET).ruling("anchors-per-piece"), expected);
}

/// Table A3-A, note b, and Figure A3-3, note 1: "all washer plates shall be 3 inches by 3 inches by .229 inch
/// minimum", under 1/2 in and 5/8 in anchors alike. Verified.
#[rstest]
#[case::half_inch("1/2 in", "3 in x 3 in x 0.229 in", Met)]
#[case::five_eighths("5/8 in", "3 in x 3 in x 0.229 in", Met)]
#[case::larger("1/2 in", "3 in x 3 in x 1/4 in", Met)]
#[case::thinner("1/2 in", "3 in x 3 in x 0.228 in", NotMet)]
#[case::smaller("1/2 in", "2 63/64 in x 3 in x 0.229 in", NotMet)]
#[case::the_older_two_inch_plate("1/2 in", "2 in x 2 in x 3/16 in", NotMet)]
#[case::cut_washer("1/2 in", "cut", NotMet)]
#[case::none("1/2 in", "none", NotMet)]
fn note_b_washer(#[case] diameter: &str, #[case] washer: &str, #[case] expected: Ruling) {
    let house = SoundHouse::of_stories(1)
        .every_anchor("diameter", diameter)
        .every_anchor("washer", washer);
    let judged = house.judged_by(SET);
    judged.assert_decides("anchor-washer", expected);
    judged.assert_cites("anchor-washer", FigureName::Washer, "Table A3-A note b", Verified);
}

/// Section A304.3.1 and Table A3-A, note a: adhesive or expansion anchors, side details where the sill cannot
/// be drilled; Section A303.1, item 5: sill bolts. Verified.
#[rstest]
#[case("adhesive", Met)]
#[case("expansion", Met)]
#[case("side_plate", Met)]
#[case("cast_in_place", Met)]
#[case("powder_driven", NotMet)]
#[case("nail", NotMet)]
fn a304_3_1_kinds_of_anchor(#[case] kind: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .every_anchor("kind", kind)
        .judged_by(SET);
    judged.assert_decides("anchor-kind", expected);
    judged.assert_cites("anchor-kind", FigureName::AnchorKinds, "A304.3.1", Verified);
}

/// Section A304.3.1 and the definition in A302: "the nut shall be tightened to a snug-tight condition".
/// Verified.
#[rstest]
#[case("snug", Met)]
#[case("loose", NotMet)]
#[case("missing", NotMet)]
fn a304_3_1_snug_tight(#[case] tightness: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .every_anchor("tightness", tightness)
        .judged_by(SET);
    judged.assert_decides("anchor-condition", expected);
    judged.assert_cites(
        "anchor-condition",
        FigureName::TightAnchors,
        "A304.3.1; A302",
        Verified,
    );
}

/// Section A304.3.1: anchors go in "in accordance with manufacturer's recommendations"; the chapter gives no
/// number for embedment or edge distance. Verified: a check that would need one does not apply.
#[rstest]
#[case("anchor-embedment")]
#[case("anchor-edge-distance")]
fn a304_3_1_leaves_embedment_and_edge_to_the_maker(#[case] check: &str) {
    assert_eq!(
        SoundHouse::of_stories(1).judged_by(SET).ruling(check),
        NotApplicable
    );
}

/// Figure A3-10: "Minimum panel length = 4 ft. 0 in." Verified (text of the figure; A304.4.2 does not give
/// it).
#[rstest]
#[case::four_feet("4 ft", Met)]
#[case::shorter("3'-11 63/64\"", NotMet)]
fn figure_a3_10_least_panel(#[case] panel: &str, #[case] expected: Ruling) {
    let judged = four_panels(SoundHouse::of_stories(1), panel).judged_by(SET);
    judged.assert_decides("panel-proportion", expected);
    judged.assert_cites(
        "panel-proportion",
        FigureName::MinPanelLength,
        "Figure A3-10",
        Verified,
    );
}

/// Section A304.4.2: "each braced panel length must be at least two times the height of the cripple stud".
/// Verified.
#[rstest]
#[case::stud_of_30_inches("30 in", "60 in", Met)]
#[case::stud_of_30_inches_shorter_panel("30 in", "59 63/64 in", NotMet)]
#[case::stud_of_43_inches_and_a_half("43-1/2 in", "87 in", Met)]
#[case::stud_of_43_inches_and_a_half_shorter_panel("43-1/2 in", "86 63/64 in", NotMet)]
fn a304_4_2_twice_the_stud_height(#[case] stud: &str, #[case] panel: &str, #[case] expected: Ruling) {
    let house = SoundHouse::of_stories(1)
        .wall("cripple_wall/0/shortest_stud", stud)
        .wall("cripple_wall/0/tallest_stud", stud)
        .wall("cripple_wall/0/height", "48 in");
    let judged = four_panels(house, panel).judged_by(SET);
    judged.assert_decides("panel-proportion", expected);
    judged.assert_cites(
        "panel-proportion",
        FigureName::MinPanelProportion,
        "A304.4.2",
        Verified,
    );
}

/// Four panels alike on the 30 ft wall, one at each end.
fn four_panels(house: SoundHouse, panel: &str) -> SoundHouse {
    let panel = crate::sound_house::length(panel);
    let place = |from: &str| {
        let to = crate::sound_house::length(from).saturating_add(panel);
        (from.to_owned(), to.to_string())
    };
    let last = crate::sound_house::length("30 ft")
        .saturating_sub(panel)
        .to_string();
    let places = [place("0 in"), place("7'-4\""), place("14'-8\""), place(&last)];
    let places: Vec<(&str, &str)> = places
        .iter()
        .map(|(from, to)| (from.as_str(), to.as_str()))
        .collect();
    house.panels_at(&places)
}

/// Section A304.4.1.1: sheathing and its nails. Verified.
#[rstest]
#[case::fifteen_thirty_seconds("panel-sheathing", "thickness", "15/32 in", Met)]
#[case::thinner("panel-sheathing", "thickness", "29/64 in", NotMet)]
#[case::twelve_millimeters_as_printed("panel-sheathing", "thickness", "12 mm", Met)]
#[case::three_eighths("panel-sheathing", "thickness", "3/8 in", NotMet)]
#[case::plywood("panel-sheathing", "sheathing", "plywood", Met)]
#[case::oriented_strand_board("panel-sheathing", "sheathing", "osb", Met)]
#[case::cement_plaster("panel-sheathing", "sheathing", "stucco", NotMet)]
#[case::level_boards("panel-sheathing", "sheathing", "horizontal_boards", NotMet)]
#[case::eight_penny_common("panel-nailing", "nail", "8d common", Met)]
#[case::eight_penny_box("panel-nailing", "nail", "8d box", NotMet)]
#[case::six_penny_common("panel-nailing", "nail", "6d common", NotMet)]
#[case::edges_at_4("panel-nailing", "edge_nailing", "4 in", Met)]
#[case::edges_beyond_4("panel-nailing", "edge_nailing", "4 1/64 in", NotMet)]
#[case::field_at_12("panel-nailing", "field_nailing", "12 in", Met)]
#[case::field_beyond_12("panel-nailing", "field_nailing", "12 1/64 in", NotMet)]
fn a304_4_1_1_sheathing_and_nails(
    #[case] check: &str,
    #[case] field: &str,
    #[case] found: &str,
    #[case] expected: Ruling,
) {
    let judged = SoundHouse::of_stories(1).every_panel(field, found).judged_by(SET);
    judged.assert_decides(check, expected);
    let name = match field {
        "thickness" => FigureName::MinSheathingThickness,
        "sheathing" => FigureName::SheathingKinds,
        "nail" => FigureName::PanelNail,
        "edge_nailing" => FigureName::EdgeNailing,
        _ => FigureName::FieldNailing,
    };
    judged.assert_cites(check, name, "A304.4.1.1", Verified);
}

/// Section A304.4.1.1: "when a nail fractures the surface, it shall be left in place and not counted", and
/// horizontal joints "shall occur over nominal 2-inch by 4-inch blocking". Verified.
#[rstest]
#[case("panel-nailing", "nails_flush", FigureName::FlushNails)]
#[case("panel-joints", "joints_blocked", FigureName::BlockedJoints)]
fn a304_4_1_1_flush_nails_and_blocked_joints(
    #[case] check: &str,
    #[case] field: &str,
    #[case] name: FigureName,
    #[values(true, false)] as_asked: bool,
) {
    let judged = SoundHouse::of_stories(1)
        .every_panel(field, as_asked)
        .judged_by(SET);
    judged.assert_decides(check, if as_asked { Met } else { NotMet });
    judged.assert_cites(check, name, "A304.4.1.1", Verified);
}

/// Figure A3-6: "new 2x blocking with 4-10d nails each block to sill", where bracing on the inside face does
/// not reach a sill wider than the studs. Verified (text of the figure).
#[rstest]
#[case::four("sill_blocks", 4, Met)]
#[case::three("sill_blocks", 3, NotMet)]
#[case::not_nailed_at_all("short", 0, NotMet)]
fn figure_a3_6_nails_in_sill_blocks(#[case] foot: &str, #[case] nails: u16, #[case] expected: Ruling) {
    let house = SoundHouse::of_stories(1)
        .wall("sill/0/against_studs", "sill_wider")
        .every_panel("foot", foot)
        .every_panel("nails_per_sill_block", nails);
    let judged = house.judged_by(SET);
    judged.assert_decides("panel-foot", expected);
    if foot == "sill_blocks" {
        judged.assert_cites(
            "panel-foot",
            FigureName::NailsPerSillBlock,
            "Figure A3-6",
            Verified,
        );
    }
}

/// Section A304.4.4: a panel may hold a vent whose top, from the top of the foundation, "does not exceed 25
/// percent of the height of the cripple stud wall". Verified. On a wall 36 in high that is 9 in.
#[rstest]
#[case::a_quarter("9 in", Met)]
#[case::higher("9 1/64 in", NotMet)]
fn a304_4_4_a_low_vent_in_a_panel(#[case] top: &str, #[case] expected: Ruling) {
    let house = SoundHouse::of_stories(1)
        .wall("cripple_wall/0/height", "36 in")
        .wall("cripple_wall/0/shortest_stud", "31-1/2 in")
        .wall("cripple_wall/0/tallest_stud", "31-1/2 in")
        .every_panel("cut_through", true)
        .wall(
            "openings",
            json!([{"from": "10 ft", "to": "11'-4\"", "kind": "vent", "top": top}]),
        );
    let judged = house.judged_by(SET);
    judged.assert_decides("panel-openings", expected);
    judged.assert_cites(
        "panel-openings",
        FigureName::MaxOpeningInPanel,
        "A304.4.4",
        Verified,
    );
}

/// Section A304.4.4: "the length of the panel shall be increased a distance equal to the length of the
/// opening". Verified. On 30 ft at one story 12 ft are needed: with a vent of 16 in in them, 13'-4".
#[rstest]
#[case::lengthened("13'-4\"", Met)]
#[case::lengthened_by_less("13'-3 63/64\"", NotMet)]
fn a304_4_4_a_vent_lengthens_its_panel(#[case] bracing: &str, #[case] expected: Ruling) {
    let house = SoundHouse::of_stories(1)
        .braced_for("30 ft", bracing)
        .wall("panels/0/cut_through", true)
        .wall(
            "openings",
            json!([{"from": "2 ft", "to": "3'-4\"", "kind": "vent", "top": "4 in"}]),
        );
    house.judged_by(SET).assert_decides("bracing-length", expected);
}

// ---- Limits of applicability ---------------------------------------------------------------------------

/// Section A301.2, exceptions 1 to 4 and 6, and A304.4.1: beyond them "these buildings or elements require
/// analysis by a registered design professional". Verified.
#[rstest]
#[case::four_units("building/units", json!(4), FigureName::MaxUnits, "A301.2 exception 1", Met)]
#[case::five_units("building/units", json!(5), FigureName::MaxUnits, "A301.2 exception 1", Outside)]
#[case::no_slab_or_poles(
    "building/slab_or_pole_portion",
    json!(false),
    FigureName::NoSlabOrPoles,
    "A301.2 exceptions 2 and 6",
    Met
)]
#[case::slab_or_poles(
    "building/slab_or_pole_portion",
    json!(true),
    FigureName::NoSlabOrPoles,
    "A301.2 exceptions 2 and 6",
    Outside
)]
#[case::three_stories("building/stories", json!(3), FigureName::MaxStories, "A301.2 exception 4", Met)]
#[case::four_stories("building/stories", json!(4), FigureName::MaxStories, "A301.2 exception 4", Outside)]
#[case::continuous_perimeter(
    "continuous_perimeter", json!(true), FigureName::ContinuousPerimeter, "A303.1 item 3", Met
)]
#[case::broken_perimeter(
    "continuous_perimeter", json!(false), FigureName::ContinuousPerimeter, "A303.1 item 3", Outside
)]
fn a301_2_limits(
    #[case] path: &str,
    #[case] found: Value,
    #[case] name: FigureName,
    #[case] section: &str,
    #[case] expected: Ruling,
) {
    let judged = SoundHouse::of_stories(2).with(path, found).judged_by(SET);
    judged.assert_on(name, expected, section, Verified);
    judged.assert_house(expected);
}

/// Section A301.2, exception 3 ("cripple walls that exceed 4 feet in height", so that 4 ft itself is inside)
/// and exception 4 ("any three-story building with cripple wall studs exceeding 14 inches"). Verified.
#[rstest]
#[case::four_feet(1, "48 in", "43-1/2 in", FigureName::MaxCrippleWallHeight, Met)]
#[case::four_feet_in_metric(1, "1219.2 mm", "43-1/2 in", FigureName::MaxCrippleWallHeight, Met)]
#[case::higher(1, "48 1/64 in", "43-1/2 in", FigureName::MaxCrippleWallHeight, Outside)]
#[case::two_stories(2, "48 in", "43-1/2 in", FigureName::MaxCrippleWallHeight, Met)]
#[case::two_stories_higher(2, "48 1/64 in", "43-1/2 in", FigureName::MaxCrippleWallHeight, Outside)]
#[case::three_stories_higher(3, "48 1/64 in", "14 in", FigureName::MaxCrippleWallHeight, Outside)]
#[case::three_stories(3, "18-1/2 in", "14 in", FigureName::MaxStudHeight, Met)]
#[case::three_stories_taller_studs(3, "20 in", "14 1/64 in", FigureName::MaxStudHeight, Outside)]
fn a301_2_cripple_walls(
    #[case] stories: u8,
    #[case] height: &str,
    #[case] studs: &str,
    #[case] name: FigureName,
    #[case] expected: Ruling,
) {
    let judged = SoundHouse::of_stories(stories)
        .cripple_wall(height, studs)
        .judged_by(SET);
    judged.assert_on(name, expected, "A301.2 exception", Verified);
    judged.assert_house(expected);
}

/// Section A303.1, items 1, 2 and 4: framing on the ground, posts on isolated pads, and unreinforced masonry
/// or stone are weaknesses that A304.2 sends to a new foundation or a design professional. Verified.
#[rstest]
#[case("concrete", Met)]
#[case("brick", Outside)]
#[case("stone", Outside)]
#[case("posts", Outside)]
#[case("ground", Outside)]
fn a303_1_foundations(#[case] kind: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .wall("foundation/0/kind", kind)
        .judged_by(SET);
    judged.assert_on(FigureName::FoundationKinds, expected, "A303.1", Verified);
    judged.assert_house(expected);
}

/// The chapter gives no limit on slope, on floor levels, on veneer, on rooms over a garage, on age, and no
/// ratio of vents: city plans do. Verified, in that the whole chapter was read.
#[rstest]
#[case::slope("site/slope", json!("1H:1V"), "ground-slope")]
#[case::split_level("building/floors_at_one_level", json!(false), "floor-levels")]
#[case::veneer("building/veneer_height", json!("20 ft"), "veneer-height")]
#[case::garage("building/rooms_over_garage", json!(true), "rooms-over-garage")]
#[case::age("building/year_built", json!(2012), "year-built")]
#[case::vents("vent_area", json!("0 sq in"), "underfloor-vent-area")]
#[case::posts("posts", json!([{"top": "bearing", "base": "loose"}]), "posts-connected")]
fn what_the_chapter_does_not_limit(#[case] path: &str, #[case] found: Value, #[case] check: &str) {
    let judged = SoundHouse::of_stories(1).with(path, found).judged_by(SET);
    assert_eq!(judged.ruling(check), NotApplicable);
    judged.assert_house(Met);
}

// ---- Sill, floor, ventilation --------------------------------------------------------------------------

/// Section A304.1.2: wood with "fungus infection shall be removed and replaced", wood "infested with insects
/// … strengthened or replaced". Verified.
#[rstest]
#[case("sound", Met)]
#[case("decayed", NotMet)]
#[case("insects", NotMet)]
fn a304_1_2_sill_wood(#[case] soundness: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .wall("sill/0/soundness", soundness)
        .judged_by(SET);
    judged.assert_on(FigureName::SoundSill, expected, "A304.1.2", Verified);
    judged.assert_house(expected);
}

/// Section A304.2.6: new sills "shall be minimum 2x nominal thickness and shall be preservative-treated wood
/// or naturally durable wood". Verified; that a dressed 2x measures 1-1/2 in is the lumber standard's.
#[rstest]
#[case::two_by("added", "1-1/2 in", "treated", Met)]
#[case::durable("added", "1-1/2 in", "durable", Met)]
#[case::thinner("added", "1 31/64 in", "treated", NotMet)]
#[case::untreated("added", "1-1/2 in", "untreated", NotMet)]
#[case::an_old_sill_is_not_held_to_it("original", "1 in", "untreated", Met)]
fn a304_2_6_new_sills(
    #[case] installed: &str,
    #[case] thickness: &str,
    #[case] treatment: &str,
    #[case] expected: Ruling,
) {
    let judged = SoundHouse::of_stories(1)
        .wall("sill/0/installed", installed)
        .wall("sill/0/thickness", thickness)
        .wall("sill/0/treatment", treatment)
        .judged_by(SET);
    judged.assert_house(expected);
    if installed == "added" {
        judged.assert_decides("new-sill", expected);
        judged.assert_cites("new-sill", FigureName::MinSillThickness, "A304.2.6", Verified);
        judged.assert_cites("new-sill", FigureName::TreatedNewSill, "A304.2.6", Verified);
    }
}

/// Section A304.1.3: a continuous rim joist, or blocks "between alternate joists in one- and two-story
/// buildings, and between each joist in three-story buildings". Verified. (Blocks in every bay above a braced
/// panel, which the section asks of two stories as well, are left out of these rows.)
#[rstest]
#[case::one_story_rim(1, "continuous", Met)]
#[case::one_story_alternate_bays(1, "alternate_bays", Met)]
#[case::one_story_here_and_there(1, "scattered", NotMet)]
#[case::one_story_nothing(1, "none", NotMet)]
#[case::two_stories_every_bay(2, "every_bay", Met)]
#[case::three_stories_every_bay(3, "every_bay", Met)]
#[case::three_stories_alternate_bays(3, "alternate_bays", NotMet)]
fn a304_1_3_blocking(#[case] stories: u8, #[case] rim: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(stories).wall("rim", rim).judged_by(SET);
    judged.assert_on(FigureName::RimPatterns, expected, "A304.1.3", Verified);
    judged.assert_house(expected);
}

/// Section A304.1.4: where joists run along the wall, "the end joist shall be located over the foundation and
/// … shall be continuous". Verified.
#[rstest]
#[case("continuous", Met)]
#[case("none", NotMet)]
fn a304_1_4_end_joist(#[case] rim: &str, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .wall("joists", "parallel")
        .wall("rim", rim)
        .judged_by(SET);
    judged.assert_on(FigureName::EndJoist, expected, "A304.1.4", Verified);
    judged.assert_house(expected);
}

/// Section A304.1.3: at the bottom edge of a rim "8d toenails spaced 6 inches apart", or "three 8d toenails
/// per block"; Figure A3-8A: otherwise clips at 48, 32 and 16 in by stories. In a one-story building they
/// "need not be verified". Verified; the clips are text of the figure.
#[rstest]
#[case::rim_at_6(
    2, "continuous", json!({"kind": "toenails", "spacing": "6 in"}), FigureName::RimToenails, Met
)]
#[case::rim_beyond_6(
    2, "continuous", json!({"kind": "toenails", "spacing": "6 1/64 in"}), FigureName::RimToenails, NotMet
)]
#[case::rim_at_6_three_stories(
    3, "continuous", json!({"kind": "toenails", "spacing": "6 in"}), FigureName::RimToenails, Met
)]
#[case::three_in_a_block(
    2, "every_bay", json!({"kind": "toenails", "nails_per_block": 3}), FigureName::ToenailsPerBlock, Met
)]
#[case::two_in_a_block(
    2, "every_bay", json!({"kind": "toenails", "nails_per_block": 2}), FigureName::ToenailsPerBlock, NotMet
)]
#[case::clips_two_stories(
    2, "continuous", json!({"kind": "clips", "spacing": "32 in"}), FigureName::ClipSpacing, Met
)]
#[case::clips_two_stories_beyond(
    2, "continuous", json!({"kind": "clips", "spacing": "32 1/64 in"}), FigureName::ClipSpacing, NotMet
)]
#[case::clips_three_stories(
    3, "continuous", json!({"kind": "clips", "spacing": "16 in"}), FigureName::ClipSpacing, Met
)]
#[case::clips_three_stories_beyond(
    3, "continuous", json!({"kind": "clips", "spacing": "16 1/64 in"}), FigureName::ClipSpacing, NotMet
)]
#[case::nothing(2, "continuous", json!({"kind": "none"}), FigureName::RimToenails, NotMet)]
fn a304_1_3_floor_connection(
    #[case] stories: u8,
    #[case] rim: &str,
    #[case] connection: Value,
    #[case] name: FigureName,
    #[case] expected: Ruling,
) {
    let judged = SoundHouse::of_stories(stories)
        .wall("rim", rim)
        .wall("connections", json!([connection]))
        .judged_by(SET);
    judged.assert_decides("floor-connection", expected);
    let section = if name == FigureName::ClipSpacing {
        "Figure A3-8A"
    } else {
        "A304.1.3"
    };
    judged.assert_cites("floor-connection", name, section, Verified);
}

#[test]
fn a304_1_3_one_story_toenails_need_not_be_verified() {
    let judged = SoundHouse::of_stories(1)
        .wall("connections", json!([{"kind": "toenails", "spacing": "24 in"}]))
        .judged_by(SET);
    assert_eq!(judged.ruling("floor-connection"), NotApplicable);
    judged.assert_house(Met);
}

/// Figure A3-8A, clips of one story: 48 in. Verified (text of the figure). No house is held to it, since
/// toenails of one story need not be verified; the figure is compared as it is looked up.
#[test]
fn figure_a3_8a_clips_of_one_story() {
    let provisions = crate::sound_house::provisions(SET);
    let requirement = provisions.requirement(1, WeightCase::Other, 0).unwrap();
    let clips = requirement.get(keys::CLIP_SPACING).value();
    assert_eq!(clips, Some(crate::sound_house::length("48 in")));
}

/// Section A304.4.3: "one 2-inch to 3-inch-diameter round hole" at top and bottom of each stud space that
/// bracing encloses. Verified. Rows of 3/4 in holes, as a trade guide has them, are too small.
#[rstest]
#[case::two_inches("2 in", true, Met)]
#[case::smaller("1 63/64 in", true, NotMet)]
#[case::three_inches("3 in", true, Met)]
#[case::larger("3 1/64 in", true, NotMet)]
#[case::trade_guide("3/4 in", true, NotMet)]
#[case::none("0 in", true, NotMet)]
#[case::bays_left_open("0 in", false, NotApplicable)]
fn a304_4_3_vent_holes(#[case] hole: &str, #[case] closes: bool, #[case] expected: Ruling) {
    let judged = SoundHouse::of_stories(1)
        .every_panel("vent_holes", hole)
        .every_panel("closes_stud_bays", closes)
        .judged_by(SET);
    assert_eq!(judged.ruling("stud-bay-vents"), expected);
    judged.assert_house(if expected == NotMet { NotMet } else { Met });
    judged.assert_cites("stud-bay-vents", FigureName::MinVentHole, "A304.4.3", Verified);
    judged.assert_cites("stud-bay-vents", FigureName::MaxVentHole, "A304.4.3", Verified);
}

/// COMMON PRACTICE, no source: anchors need sound material, and two plates not nailed together are not a
/// plate.
#[rstest]
#[case::sound("foundation/0/condition", "sound", FigureName::SoundFoundation, Met)]
#[case::crumbling("foundation/0/condition", "crumbling", FigureName::SoundFoundation, NotMet)]
#[case::double_plate("cripple_wall/0/top_plate", "double", FigureName::TopPlates, Met)]
#[case::single_plate("cripple_wall/0/top_plate", "single", FigureName::TopPlates, Met)]
#[case::loose_plates("cripple_wall/0/top_plate", "double_loose", FigureName::TopPlates, NotMet)]
fn common_practice(
    #[case] path: &str,
    #[case] found: &str,
    #[case] name: FigureName,
    #[case] expected: Ruling,
) {
    let judged = SoundHouse::of_stories(1).wall(path, found).judged_by(SET);
    judged.assert_on(name, expected, "", CommonPractice);
    judged.assert_house(expected);
    if expected == NotMet {
        assert_eq!(judged.words, "not met, by common practice");
    }
}

// ---- Units ---------------------------------------------------------------------------------------------

/// Sizes the chapter prints in both systems. Verified.
#[rstest]
#[case::cripple_wall_a301_2("4 ft", "1219")]
#[case::studs_a301_2("14 in", "356")]
#[case::wrench_a302("10 in", "254")]
#[case::extension_wall_a303_1("10 ft", "3048")]
#[case::toenails_a304_1_3("6 in", "152")]
#[case::blocking_a304_1_3("3/4 in", "19")]
#[case::blocking_a304_1_3_rated("23/32 in", "18")]
#[case::end_distance_a304_3_2("9 in", "229")]
#[case::end_distance_a304_3_2_most("12 in", "305")]
#[case::sill_piece_a304_3_2("12 ft", "3658")]
#[case::sheathing_a304_4_1_1("15/32 in", "12")]
#[case::edge_nailing_a304_4_1_1("4 in", "102")]
#[case::penetration_a304_4_1_1("1-1/2 in", "38")]
#[case::panel_gap_a304_4_1_1("1/8 in", "3.2")]
#[case::nail_edge_a304_4_1_1("1/2 in", "12.7")]
#[case::vent_hole_a304_4_3("2 in", "51")]
#[case::vent_hole_a304_4_3_most("3 in", "76")]
#[case::one_hole_a304_4_3("18 in", "457")]
#[case::spacing_table_a3_a("6 ft", "1829")]
#[case::anchor_table_a3_a("5/8 in", "15.9")]
#[case::washer_table_a3_a("0.229 in", "5.8")]
fn metric_prints(#[case] customary: &str, #[case] millimeters: &str) {
    crate::metric_print::assert_prints_as(customary, millimeters);
}
