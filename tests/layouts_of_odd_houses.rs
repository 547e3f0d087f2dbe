//! Layouts of houses that a record leaves half open, that were strengthened by halves, or that cannot be.
//!
//! What nobody measured has to stand among the assumptions, what cannot be met has to say by how much, and what is
//! there already has to be used where that is cheaper than new work.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic)]

use retrofit_core::check::{LookAt, Quantity};
use retrofit_core::house::{AsBuilt, House};
use retrofit_core::measure::Length;
use retrofit_core::prices::{Item, UnitPrices};
use retrofit_core::provisions::{Library, TableFile};
use retrofit_core::remedy::{Credit, Decline, Part, Remedy, Shortfall, design};
use rstest::rstest;
use serde_json::{Value, json};

fn length(text: &str) -> Length {
    text.parse().unwrap()
}

/// A 24 ft wall line of a one-story house with everything recorded but what `changes` takes away or puts in.
fn house(changes: &Value) -> AsBuilt {
    let mut wall = json!({
        "name": "north", "length": {"measured": "24 ft"},
        "foundation": [{"kind": "concrete", "condition": "sound", "stem_thickness": "8 in"}],
        "sill": [{"soundness": "sound", "against_studs": "flush"}],
        "cripple_wall": [{"height": "2 ft", "tallest_stud": "20 in", "stud_spacing": "16 in",
            "stud_thickness": "1 1/2 in"}],
        "anchors": [], "panels": [], "openings": [], "connections": [],
        "joists": "perpendicular", "rim": "continuous"
    });
    for (key, value) in changes.as_object().unwrap() {
        wall[key] = value.clone();
    }
    let house: House = serde_json::from_value(json!({
        "format": "house-1", "name": "odd",
        "building": {"stories": 1, "exterior": "wood", "roof": "light"},
        "wall_lines": [wall]
    }))
    .unwrap();
    AsBuilt::new(house).unwrap()
}

fn remedy_by(set: &str, changes: &Value) -> Remedy {
    let provisions = Library::shipped().set(set).unwrap();
    let remedy = design(&house(changes), &provisions, UnitPrices::placeholder());
    assert!(remedy.is_proved());
    remedy
}

fn remedy(changes: &Value) -> Remedy {
    remedy_by("cebc-a3-2013", changes)
}

fn assumed(remedy: &Remedy) -> Vec<(LookAt, Quantity)> {
    let assumptions = remedy.assumptions.iter();
    assumptions
        .map(|assumption| (assumption.look_at, assumption.taken_as))
        .collect()
}

#[test]
fn a_whole_record_leaves_nothing_to_assume() {
    assert_eq!(assumed(&remedy(&json!({}))), []);
}

/// Sizes that the layout rests on and that nobody measured.
#[rstest]
#[case::studs_beside_rods("cebc-a3-2013",
    json!({"cripple_wall": [{"height": "2 ft", "tallest_stud": "20 in", "stud_spacing": "16 in"}]}),
    LookAt::StudThickness, Quantity::Length(length("1 1/2 in")))]
#[case::joists_between_blocks("cebc-a3-2013",
    json!({"rim": "none"}), LookAt::JoistSpacing, Quantity::Length(length("16 in")))]
#[case::height_to_drill_in("cebc-a3-2013",
    json!({"cripple_wall": [{"stud_spacing": "16 in", "stud_thickness": "1 1/2 in"}]}),
    LookAt::CrippleHeight, Quantity::Word("too low for a hammer drill"))]
#[case::sill_to_replace("cebc-a3-2013",
    json!({"sill": [{"soundness": "decayed", "against_studs": "flush"}]}),
    LookAt::SillThickness, Quantity::Length(length("1 1/2 in")))]
fn a_size_that_nobody_measured_is_an_assumption(
    #[case] set: &str,
    #[case] changes: Value,
    #[case] look_at: LookAt,
    #[case] taken_as: Quantity,
) {
    assert_eq!(assumed(&remedy_by(set, &changes)), [(look_at, taken_as)]);
}

/// Openings that nobody recorded are in the way where they are found; there is nothing about them to credit.
#[test]
fn openings_taken_as_none_are_told_as_in_the_way() {
    let remedy = remedy(&json!({"openings": {"unknown": "dark"}}));
    let openings = &remedy.assumptions[0];
    assert_eq!(openings.look_at, LookAt::Openings);
    assert!(openings.because.contains("keep clear"), "{}", openings.because);
}

#[test]
fn studs_that_cannot_stand_so_close_are_measured_again() {
    let wall = json!({"cripple_wall": [{"height": "2 ft", "stud_spacing": "1/64 in"}]});
    let remedy = remedy(&wall);
    let expected = Decline::StudsTooClose {
        spacing: length("1/64 in"),
        thickness: length("1 1/2 in"),
    };
    assert_eq!(remedy.lines[0].panels.declined(), Some(&expected));
    // Where no stud can be placed no rod can be kept clear of one.
    assert_eq!(remedy.lines[0].anchors.declined(), Some(&expected));
}

/// A slip in a record must not keep anybody waiting: 12000 in of wall with studs 2 in apart.
#[test]
fn more_stud_bays_than_a_house_has_are_refused_at_once() {
    let remedy = remedy(&json!({
        "length": "1000 ft",
        "cripple_wall": [{"height": "2 ft", "tallest_stud": "20 in", "stud_spacing": "2 in"}]
    }));
    // 12000 in by 2 in.
    assert_eq!(
        remedy.lines[0].panels.declined(),
        Some(&Decline::TooManyStudBays {
            bays: 6000,
            most: 1000
        })
    );
}

/// The default set asks for 4 ft at the least and twice the height of the wall (A304.4.2); an end may lie 2 ft bare
/// at most, and a door leaves 40 in.
#[test]
fn an_end_without_room_for_a_panel_says_how_much_is_missing() {
    let remedy = remedy(&json!({"openings": [{"kind": "access", "from": "40 in", "to": "250 in"}]}));
    // The last stud before the door stands at 32 in.
    assert_eq!(
        remedy.lines[0].panels.declined(),
        Some(&Decline::Unmet(Shortfall::NoPanelAtEnd {
            end: Length::ZERO,
            room: length("32 in"),
            shortest: length("4 ft"),
        }))
    );
}

/// No block stands on a flush sill, so that nobody has to have seen how many nails one takes.
#[test]
fn the_nails_of_blocks_matter_only_where_there_are_blocks() {
    let flush = remedy_by("iebc-a3-2021", &json!({}));
    assert!(
        flush.lines[0].panels.work().is_some(),
        "{:?}",
        flush.lines[0].panels
    );
    let wider = json!({"sill": [{"soundness": "sound", "against_studs": "sill_wider"}]});
    let wider = remedy_by("iebc-a3-2021", &wider);
    assert!(matches!(
        wider.lines[0].panels.declined(),
        Some(Decline::FigureNotSeen(_))
    ));
    // Nor is it known to be of no account where an old panel may stand on blocks.
    let old = remedy_by(
        "iebc-a3-2021",
        &json!({"panels": [{"from": "0 in", "to": "16 in", "sheathing": "plywood", "foot": {"unknown": "dark"}}]}),
    );
    assert!(matches!(
        old.lines[0].panels.declined(),
        Some(Decline::FigureNotSeen(_))
    ));
}

fn run(spacing: &str) -> Value {
    json!({"anchors": [{"first": "9 in", "last": "23'-3\"", "spacing": {"measured": spacing},
        "kind": "cast_in_place", "diameter": "1/2 in", "embedment": "7 in", "washer": "cut",
        "tightness": "snug", "corrosion": "light", "installed": "original"}]})
}

/// Five good bolts under cut washers, 5'-7 1/2" apart: five plate washers are all it takes.
#[test]
fn a_run_of_anchors_is_mended_where_that_is_cheaper_than_new_ones() {
    let remedy = remedy(&run("5'-7 1/2\""));
    let Part::Work(anchors) = &remedy.lines[0].anchors else {
        panic!("{:?}", remedy.lines[0].anchors)
    };
    assert!(anchors.added.is_empty(), "{:?}", anchors.added);
    assert!(matches!(
        anchors.existing[0].credit,
        Credit::Mended {
            washer: Some(_),
            tighten: false
        }
    ));
    let washer = UnitPrices::placeholder().likely(Item::PlateWasher);
    let panels = design(
        &house(&json!({"anchors": run("5'-7 1/2\"")["anchors"], "cripple_wall": []})),
        &Library::shipped().set("cebc-a3-2013").unwrap(),
        UnitPrices::placeholder(),
    );
    assert_eq!(panels.lines[0].cost, washer.times(5));
}

/// Where plate washers cost more than new anchors, the run stays as it is.
#[test]
fn a_run_of_anchors_is_left_where_new_ones_are_cheaper() {
    let table = UnitPrices::placeholder();
    let mut csv = include_str!("../tables/unit-prices-placeholder/prices.csv").to_owned();
    let row = csv
        .lines()
        .find(|line| line.starts_with("plate_washer,"))
        .unwrap()
        .to_owned();
    let cells: Vec<&str> = row.split(',').collect();
    let mut dear: Vec<String> = cells.iter().map(ToString::to_string).collect();
    for cell in &mut dear[2..5] {
        *cell = "900".to_owned();
    }
    csv = csv.replace(&row, &dear.join(","));
    let prices = UnitPrices::parse("prices.csv", &csv).unwrap();
    assert!(prices.likely(Item::PlateWasher) > table.likely(Item::PlateWasher));
    let provisions = Library::shipped().set("cebc-a3-2013").unwrap();
    let remedy = design(&house(&run("5'-7 1/2\"")), &provisions, &prices);
    assert!(remedy.is_proved());
    let anchors = remedy.lines[0].anchors.work().unwrap();
    assert_eq!(anchors.existing[0].credit, Credit::Lacks(LookAt::AnchorWasher));
    assert_eq!(anchors.added.len(), 5);
}

/// A sill piece of 6 in between two longer ones: an anchor 9 in from its end stands in the next piece and holds
/// nothing here. Whatever a set asks of short pieces, no layout may claim to meet it that way.
#[test]
fn an_anchor_in_the_next_piece_does_not_hold_a_short_one() {
    let sill = json!({"length": "12 ft", "cripple_wall": [], "openings": [
            {"from": "8'-7\"", "to": "8'-8\"", "kind": "access"}], "sill": [
        {"to": "7'-8\"", "soundness": "sound", "against_studs": "flush"},
        {"from": "7'-8\"", "to": "8'-2\"", "soundness": "sound", "against_studs": "flush"},
        {"from": "8'-2\"", "soundness": "sound", "against_studs": "flush"}]});
    for set in Library::shipped().ids() {
        // Proves every check that the layout touches.
        let remedy = remedy_by(set, &sill);
        if let Part::Work(anchors) = &remedy.lines[0].anchors {
            assert!(!anchors.added.is_empty(), "{set}");
        }
    }
}

/// A vent reaches from an old panel that counts, for it is in order where it is, into the bays beside it. It stays
/// there: were it closed for a new panel, the hole in the old one would be one that nobody has judged.
#[test]
fn a_vent_through_an_old_panel_that_counts_stays() {
    let panel = |from: &str, to: &str, vent_holes: &str| {
        json!({"from": from, "to": to, "sheathing": "plywood", "thickness": "1/2 in",
            "nail": "8d common", "edge_nailing": "4 in", "field_nailing": "12 in", "nails_flush": true,
            "joints_blocked": true, "foot": "sill", "nails_per_sill_block": 4, "cut_through": true,
            "vent_holes": vent_holes, "closes_stud_bays": true})
    };
    let vent = |from: &str, to: &str| json!({"from": from, "to": to, "kind": "vent", "top": "2 in"});
    let changes = json!({
        "length": "10 ft",
        "cripple_wall": [{"height": "15 in", "tallest_stud": "10 in", "shortest_stud": "10 in",
            "stud_spacing": "12 in", "stud_thickness": "1 1/2 in"}],
        "panels": [panel("0 in", "49 in", "0 in"), panel("50 in", "10 ft", "4 in")],
        "openings": [vent("46 in", "73 in"), vent("67 in", "68 in")]
    });
    let remedy = remedy(&changes);
    // The vent keeps the bay from 72 to 84 in, which leaves 36 in at the end.
    assert_eq!(
        remedy.lines[0].panels.declined(),
        Some(&Decline::Unmet(Shortfall::NoPanelAtEnd {
            end: length("10 ft"),
            room: length("36 in"),
            shortest: length("4 ft"),
        }))
    );
}

/// Of two rows of a user's table that both fit a sill piece the narrower holds, for the layout as for the check.
#[test]
fn the_narrower_row_for_a_sill_piece_holds() {
    let columns = "figure,stories,weight,diameter,piece_over,piece_up_to,stud_over,stud_up_to,compare,value,source,section,standing,note";
    let rows =
        "anchors-per-piece,,,,,,,,,1,ours,1,verified,\nanchors-per-piece,,,,,12 ft,,,,3,ours,1,verified,\n";
    let file = |name: &str, text: String| TableFile {
        path: name.to_owned(),
        name: name.to_owned(),
        text,
    };
    let mut library = Library::shipped().clone();
    let sources = "source,document,edition,publisher,where,seen_on,note\nours,Our ordinance,2026,,,,\n";
    library.add_folder(
        "cebc-a3-2013",
        vec![
            file("sources.csv", sources.to_owned()),
            file("anchorage.csv", format!("{columns}\n{rows}")),
        ],
    );
    let provisions = library.set("cebc-a3-2013").unwrap();
    let ten_feet = house(&json!({"length": {"measured": "10 ft"}}));
    let remedy = design(&ten_feet, &provisions, UnitPrices::placeholder());
    assert!(remedy.is_proved());
    assert_eq!(
        remedy.lines[0].anchors.work().map(|work| work.added.len()),
        Some(3)
    );
}
