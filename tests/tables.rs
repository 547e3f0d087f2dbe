//! The tables of provisions: every shipped set reads, every row says where it comes from, no figure gains a
//! standing unnoticed, and a user's folder changes what it says it changes or is refused at the right place.

#![cfg(test)]

#[path = "sources/sound_house.rs"]
mod sound_house;

use std::collections::BTreeMap;
use std::fmt::Write as _;

use retrofit_core::choice::Choice;
use retrofit_core::house::WeightCase;
use retrofit_core::measure::Length;
use retrofit_core::provisions::{
    Compare, Content, Figure, FigureName, Library, Provisions, Standing, TableFile, Value, keys,
};
use rstest::rstest;
use sound_house::SoundHouse;

const FIGURE_HEADER: &str = "figure,stories,weight,diameter,piece_over,piece_up_to,stud_over,stud_up_to,\
                             compare,value,source,section,standing,note";
const SOURCE_HEADER: &str = "source,document,edition,publisher,where,seen_on,note";
const ATTESTED_HEADER: &str = "figure,stories,weight,diameter,piece_over,piece_up_to,stud_over,stud_up_to,\
                               value,document,edition,page,attested_by,attested_on";

/// Every shipped set, read.
fn shipped() -> Vec<Provisions> {
    let library = Library::shipped();
    library
        .ids()
        .into_iter()
        .map(|id| {
            library
                .set(id)
                .unwrap_or_else(|faults| panic!("{id}: {faults:#?}"))
        })
        .collect()
}

/// The column of the README under which a row is counted.
fn column(figure: &Figure) -> &'static str {
    match figure.content {
        Content::Value(_, _, standing) => standing.spelling(),
        Content::Missing => "missing",
        Content::None => "none",
    }
}

const COLUMNS: [&str; 6] = [
    "verified",
    "secondary",
    "memory",
    "common practice",
    "missing",
    "none",
];

/// Counts of the rows that a set's own folder holds.
fn own_counts(set: &Provisions) -> BTreeMap<&'static str, usize> {
    let mut counts: BTreeMap<&'static str, usize> = COLUMNS.iter().map(|name| (*name, 0)).collect();
    let folder = format!("{}/", set.id);
    for figure in set
        .figures()
        .iter()
        .filter(|figure| figure.row.starts_with(&folder))
    {
        *counts.entry(column(figure)).or_default() += 1;
    }
    counts
}

/// A figure that is better known than it was, or less well, shows here: say in the change who saw what and
/// where.
#[test]
fn standings_of_every_set_with_what_it_inherits() {
    let mut table = String::new();
    for set in shipped() {
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        for figure in set.figures() {
            *counts.entry(column(figure)).or_default() += 1;
        }
        let counts: Vec<String> = COLUMNS
            .iter()
            .filter_map(|name| Some(format!("{} {name}", counts.get(name)?)))
            .collect();
        writeln!(table, "{}: {}", set.id, counts.join(", ")).unwrap();
    }
    insta::assert_snapshot!(table, @r#"
    bay-area-plan-set-a-2008: 5 verified, 2 secondary, 1 common practice, 19 missing
    berkeley-guidelines-2006: 5 verified, 2 secondary, 1 common practice, 19 missing
    cbc-2013-new-construction: 16 verified
    cebc-a3-2013: 55 verified, 3 memory, 3 common practice, 19 none
    crc-2013-new-construction: 24 verified, 1 none
    iebc-a3-2012: 13 secondary, 42 memory, 3 common practice, 4 missing, 6 none
    iebc-a3-2015: 13 secondary, 42 memory, 3 common practice, 4 missing, 6 none
    iebc-a3-2018: 13 secondary, 42 memory, 3 common practice, 4 missing, 6 none
    iebc-a3-2021: 13 secondary, 42 memory, 3 common practice, 4 missing, 6 none
    iebc-a3-2024: 13 secondary, 42 memory, 3 common practice, 4 missing, 6 none
    la-division-92-2018: 13 verified, 1 secondary, 1 common practice, 30 missing
    portland-strengthening-2011: 8 verified, 1 common practice, 17 missing
    salem-homeowner-undated: 5 verified, 1 common practice, 7 missing
    san-leandro-handout-2001: 14 secondary, 1 common practice, 2 missing
    santa-monica-2022: 1 verified, 13 secondary, 41 memory, 3 common practice, 4 missing, 6 none
    seismic-sleuths-2014: 8 verified, 1 common practice
    ucbc-appendix-6-2011: 3 secondary, 1 common practice, 10 missing
    "#);
}

/// The default set is the one whose key table was seen: every cell of its Table A3-A is verified, and what is
/// not is named here.
#[test]
fn what_the_default_set_does_not_rest_on_the_document_for() {
    let set = sound_house::provisions(Library::DEFAULT_SET);
    let weak: Vec<String> = set
        .figures()
        .iter()
        .filter(|figure| {
            figure
                .standing()
                .is_some_and(|standing| standing != Standing::Verified)
        })
        .map(|figure| format!("{}: {}", figure.title(), column(figure)))
        .collect();
    insta::assert_snapshot!(weak.join("\n"), @r#"
    sound foundation: common practice
    least anchors in a sill piece (sill pieces up to 2'-6"): memory
    least anchors in a sill piece (sill pieces over 2'-6", sill pieces up to 6'-0"): memory
    least anchors in a sill piece (sill pieces over 6'-0", sill pieces up to 12'-0"): memory
    largest offset of an end panel: common practice
    top plate: common practice
    "#);
}

/// The table of sets in tables/README.md is what the tables hold.
#[test]
fn the_readme_counts_the_rows() {
    let readme = include_str!("../tables/README.md");
    for set in shipped() {
        let start = format!("| `{}`", set.id);
        let line = readme
            .lines()
            .find(|line| {
                line.strip_prefix(&start)
                    .is_some_and(|rest| rest.starts_with([' ', ',']))
            })
            .unwrap_or_else(|| panic!("the README has no line for {}", set.id));
        let written: Vec<usize> = line
            .split('|')
            .filter_map(|cell| cell.trim().parse().ok())
            .collect();
        let counts = own_counts(&set);
        let mut held: Vec<usize> = COLUMNS.iter().map(|name| counts[name]).collect();
        held.push(held.iter().sum());
        assert_eq!(written, held, "{}", set.id);
        assert_eq!(
            line.contains("(comparison only)"),
            set.comparison_only,
            "{}",
            set.id
        );
    }
}

#[test]
fn every_row_says_where_it_comes_from() {
    for set in shipped() {
        for figure in set.figures() {
            let place = &figure.row;
            let source = &figure.source;
            assert!(!source.document.is_empty(), "{place}: no document");
            let seen = !matches!(source.seen_at.as_str(), "" | "not seen");
            match figure.content {
                Content::Value(_, _, Standing::Verified | Standing::Secondary) => {
                    assert!(seen && !source.seen_on.is_empty(), "{place}: seen nowhere");
                }
                Content::Value(_, _, Standing::Memory) => {
                    assert!(!figure.section.is_empty() || !figure.note.is_empty(), "{place}");
                }
                Content::Value(_, _, Standing::CommonPractice) => {
                    assert_eq!(source.key, "common-practice", "{place}");
                    assert!(
                        !figure.note.is_empty(),
                        "{place}: no word on what is common practice"
                    );
                }
                Content::Value(_, _, Standing::Attested) => {
                    panic!("{place}: shipped tables attest nothing")
                }
                // That a document is silent has to be seen as well, and said.
                Content::None => {
                    assert!(
                        !figure.note.is_empty(),
                        "{place}: no word on what the document gives instead"
                    );
                }
                Content::Missing => {}
            }
            if !matches!(figure.content, Content::Value(_, _, Standing::CommonPractice)) {
                assert_ne!(source.key, "common-practice", "{place}: a source that is none");
            }
        }
    }
}

/// A value is read back from what is printed of it, lists of terms aside, which print as words.
#[test]
fn every_single_value_reads_back_as_printed() {
    for set in shipped() {
        for figure in set.figures() {
            let (Some(value), place) = (figure.value(), &figure.row) else {
                continue;
            };
            let text = value.to_string();
            match value {
                Value::Length(length) => assert_eq!(text.parse(), Ok(length), "{place}"),
                Value::Percent(percent) => assert_eq!(text.parse(), Ok(percent), "{place}"),
                Value::Count(count) => assert_eq!(text.parse(), Ok(count), "{place}"),
                Value::Slope(slope) => assert_eq!(text.parse(), Ok(slope), "{place}"),
                Value::Nail(nail) => assert_eq!(text.parse(), Ok(nail), "{place}"),
                Value::Washer(washer) => assert_eq!(text.parse(), Ok(washer), "{place}"),
                Value::Asked => assert_eq!(text, "yes", "{place}"),
                _ => assert!(!text.is_empty(), "{place}: an empty list allows nothing"),
            }
        }
    }
}

#[test]
fn every_figure_name_reads_back() {
    for name in FigureName::ALL {
        assert_eq!(name.spelling().parse::<FigureName>().unwrap(), *name);
    }
}

// ---- Folders of a user ---------------------------------------------------------------------------------

fn file(set: &str, name: &str, text: &str) -> TableFile {
    TableFile {
        path: format!("{set}/{name}"),
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

fn head(set: &str, extends: &str) -> TableFile {
    let extends = if extends.is_empty() {
        String::new()
    } else {
        format!(r#","extends": "{extends}""#)
    };
    file(
        set,
        "set.json",
        &format!(r#"{{"id": "{set}", "title": "Ours", "document": "Ordinance 1"{extends}}}"#),
    )
}

fn sources(set: &str) -> TableFile {
    let text = format!("{SOURCE_HEADER}\nordinance,Ordinance 1,2026,,city hall,2026-12-01,\n");
    file(set, "sources.csv", &text)
}

fn table(set: &str, name: &str, rows: &str) -> TableFile {
    file(set, name, &format!("{FIGURE_HEADER}\n{rows}\n"))
}

fn attested(set: &str, rows: &str) -> TableFile {
    file(set, "attested.csv", &format!("{ATTESTED_HEADER}\n{rows}\n"))
}

fn library_with(set: &str, files: Vec<TableFile>) -> Library {
    let mut library = Library::shipped().clone();
    library.add_folder(set, files);
    library
}

fn spacing_at(provisions: &Provisions, stories: u8) -> Option<Length> {
    let requirement = provisions.requirement(stories, WeightCase::Other, 0)?;
    requirement.get(keys::ANCHOR_SPACING).value()
}

#[test]
fn a_folder_of_a_new_name_extends_a_set_and_changes_one_row() {
    let rows = "anchor-spacing,1,,1/2 in,,,,,,5 ft,ordinance,Section 2,verified,";
    let files = vec![
        head("our-city", "cebc-a3-2013"),
        sources("our-city"),
        table("our-city", "anchorage.csv", rows),
    ];
    let library = library_with("our-city", files);
    let ours = library.set("our-city").unwrap();
    assert_eq!(spacing_at(&ours, 1), Some(Length::feet(5)));
    assert_eq!(spacing_at(&ours, 3), Some(Length::feet(4)), "inherited");
    let house = SoundHouse::of_stories(1)
        .anchored_every("6 ft")
        .every_anchor("diameter", "1/2 in");
    let judged = house.judged_under(ours);
    judged.assert_decides("anchor-spacing", retrofit_core::check::Ruling::NotMet);
    let figure = judged.figure("anchor-spacing", FigureName::AnchorSpacing);
    assert_eq!(figure.clause(), "Ordinance 1, 2026, Section 2");
    assert_eq!(figure.row, "our-city/anchorage.csv, line 2");
    // The set it started from is as it was.
    assert_eq!(
        spacing_at(&library.set("cebc-a3-2013").unwrap(), 1),
        Some(Length::feet(6))
    );
}

#[test]
fn a_folder_of_a_shipped_name_overrides_in_place_and_for_what_extends_it() {
    let rows = "max-units,,,,,,,,,2,ordinance,Section 3,verified,\n\
                min-end-distance,3,,,,,,,,10 in,ordinance,Section 4,verified,";
    let set = "iebc-a3-2021";
    let library = library_with(set, vec![sources(set), table(set, "local.csv", rows)]);
    let ours = library.set(set).unwrap();
    let units = |provisions: &Provisions| {
        let requirement = provisions.requirement(1, WeightCase::Other, 0).unwrap();
        requirement.get(keys::MAX_UNITS).value()
    };
    assert_eq!(units(&ours), Some(2));
    assert_eq!(units(&library.set("iebc-a3-2024").unwrap()), Some(2));
    assert_eq!(
        units(&library.set("santa-monica-2022").unwrap()),
        Some(1),
        "its own row"
    );
    // A row for three stories alone leaves the row for any number as it was.
    let end = |stories| {
        let requirement = ours.requirement(stories, WeightCase::Other, 0).unwrap();
        requirement.get(keys::MIN_END_DISTANCE).value()
    };
    assert_eq!(end(2), Some(Length::inches(9)));
    assert_eq!(end(3), Some(Length::inches(10)));
}

/// Every reading of a figure gives the narrower row alone, wherever the broad one stands.
#[test]
fn a_row_for_any_case_never_softens_a_row_for_one() {
    let rows = "anchor-spacing,,,1/2 in,,,,,,6 ft,ordinance,,verified,\n\
                anchor-spacing,3,,1/2 in,,,,,,4 ft,ordinance,,verified,\n\
                anchors-per-piece,,,,,12 ft,,,,2,ordinance,,verified,\n\
                anchors-per-piece,3,,,,12 ft,,,,4,ordinance,,verified,";
    let files = vec![
        head("our-city", ""),
        sources("our-city"),
        table("our-city", "local.csv", rows),
    ];
    let ours = library_with("our-city", files).set("our-city").unwrap();
    for (stories, spacing, anchors) in [(1, 6, 2), (3, 4, 4)] {
        let requirement = ours.requirement(stories, WeightCase::Other, 0).unwrap();
        let spacings: Vec<_> = requirement
            .all(keys::ANCHOR_SPACING)
            .map(|(_, rule)| rule.value())
            .collect();
        assert_eq!(spacings, [Some(Length::feet(spacing))], "{stories}");
        assert_eq!(spacing_at(&ours, stories), Some(Length::feet(spacing)));
        let counts: Vec<_> = requirement
            .all(keys::ANCHORS_PER_PIECE)
            .map(|(_, rule)| rule.value())
            .collect();
        assert_eq!(counts, [Some(anchors)], "{stories}");
    }
}

/// A figure nobody had seen, kept as one row for any diameter, can be filled in diameter by diameter.
#[test]
fn spacings_by_diameter_replace_one_for_any() {
    let rows = "anchor-spacing,1,,1/2 in,,,,,,6 ft,ordinance,,verified,\n\
                anchor-spacing,1,,5/8 in,,,,,,8 ft,ordinance,,verified,";
    let files = vec![
        head("our-city", "la-division-92-2018"),
        sources("our-city"),
        table("our-city", "local.csv", rows),
    ];
    let ours = library_with("our-city", files).set("our-city").unwrap();
    let requirement = ours.requirement(1, WeightCase::Other, 0).unwrap();
    let spacings: Vec<_> = requirement
        .all(keys::ANCHOR_SPACING)
        .map(|(_, rule)| rule.value())
        .collect();
    assert_eq!(spacings, [Some(Length::feet(6)), Some(Length::feet(8))]);
}

/// A row for all pieces up to a length takes the place of the rows for parts of that range.
#[test]
fn a_row_for_a_wider_range_of_pieces_replaces_the_rows_within_it() {
    let rows = "anchors-per-piece,,,,,12 ft,,,,4,ordinance,,verified,";
    let files = vec![
        head("our-city", "cebc-a3-2013"),
        sources("our-city"),
        table("our-city", "local.csv", rows),
    ];
    let ours = library_with("our-city", files).set("our-city").unwrap();
    let requirement = ours.requirement(1, WeightCase::Other, 0).unwrap();
    let short: Vec<_> = requirement
        .all(keys::ANCHORS_PER_PIECE)
        .filter(|(case, _)| case.piece_up_to.is_some())
        .map(|(_, rule)| rule.value())
        .collect();
    assert_eq!(short, [Some(4)]);
}

#[test]
fn a_limit_that_is_not_allowed_itself_is_kept_as_such() {
    let set = sound_house::provisions("bay-area-plan-set-a-2008");
    let figure = set
        .figures()
        .iter()
        .find(|figure| figure.name == FigureName::MaxCrippleWallHeight)
        .unwrap();
    assert!(matches!(figure.content, Content::Value(_, Compare::LessThan, _)));
}

#[test]
fn an_attested_figure_is_held_by_name_and_the_verdict_says_so() {
    let set = "cebc-a3-2013";
    // Two anchors where three are asked, by a count that is only recalled.
    let house = SoundHouse::of_stories(1)
        .wall_length("8 ft")
        .anchors_at(&["1 ft", "7 ft"])
        .panels_at(&[("0 ft", "8 ft")]);
    assert_eq!(house.judged_by(set).words, "not met, by a remembered figure");

    let row = "anchors-per-piece,,,,6 ft,12 ft,,,3,\
               California Existing Building Code,2013,Table A3-B,A. Reader,2026-12-01";
    let library = library_with(set, vec![attested(set, row)]);
    let judged = house.judged_under(library.set(set).unwrap());
    assert_eq!(judged.words, "not met, by a figure confirmed by a user");
    let figure = judged.figure("anchors-per-piece", FigureName::AnchorsPerPiece);
    assert_eq!(figure.standing(), Some(Standing::Attested));
    let attestation = figure.attested.as_ref().unwrap();
    assert_eq!(attestation.by, "A. Reader");
    assert_eq!(attestation.page, "Table A3-B");
    assert_eq!(attestation.on, "2026-12-01");
    // Only that row.
    let others = library.set(set).unwrap();
    let attested = others.figures().iter().filter(|figure| figure.attested.is_some());
    assert_eq!(attested.count(), 1);
}

/// A fault in a folder is told with its file, line and column, what was found and what was expected.
#[rstest]
#[case::misspelled_figure(
    "anchor-spaceing,1,,1/2 in,,,,,,6 ft,ordinance,,verified,",
    &["local.csv, line 2, column \"figure\"", "found \"anchor-spaceing\"", "did you mean \"anchor-spacing\"?"]
)]
#[case::bare_number(
    "anchor-spacing,1,,1/2 in,,,,,,6,ordinance,,verified,",
    &["local.csv, line 2, column \"value\"", "bare number 6"]
)]
#[case::value_of_another_kind(
    "max-slope,,,,,,,,,6 ft,ordinance,,verified,",
    &["local.csv, line 2, column \"value\""]
)]
#[case::count_with_a_unit(
    "max-units,,,,,,,,,4 units,ordinance,,verified,",
    &["column \"value\"", "found \"4 units\"", "expected a whole number"]
)]
#[case::asked_is_yes_or_nothing(
    "sound-sill,,,,,,,,,no,ordinance,,verified,",
    &["column \"value\"", "found \"no\"", "expected yes"]
)]
#[case::unknown_term(
    "foundation-kinds,,,,,,,,,concreet,ordinance,,verified,",
    &["column \"value\"", "found \"concreet\"", "did you mean \"concrete\"?"]
)]
#[case::unknown_source(
    "max-units,,,,,,,,,4,ordinanse,,verified,",
    &["column \"source\"", "found \"ordinanse\"", "did you mean \"ordinance\"?"]
)]
#[case::no_source("max-units,,,,,,,,,4,,,verified,", &["column \"source\"", "empty cell"])]
#[case::unknown_standing(
    "max-units,,,,,,,,,4,ordinance,,certain,",
    &["column \"standing\"", "found \"certain\"", "expected verified"]
)]
#[case::nobody_attests_in_a_figure_table(
    "max-units,,,,,,,,,4,ordinance,,attested,",
    &["column \"standing\"", "found \"attested\""]
)]
#[case::standing_without_value(
    "max-units,,,,,,,,,,ordinance,,verified,", &["column \"value\"", "empty cell"]
)]
#[case::value_without_standing(
    "max-units,,,,,,,,,4,ordinance,,missing,",
    &["column \"value\"", "found \"4\"", "expected nothing"]
)]
#[case::stories(
    "anchor-spacing,5,,1/2 in,,,,,,6 ft,ordinance,,verified,", &["column \"stories\"", "found \"5\""]
)]
#[case::weight(
    "braced-share,1,light,,,,,,,40 %,ordinance,,verified,",
    &["column \"weight\"", "found \"light\"", "expected heavy, other"]
)]
#[case::diameter("anchor-spacing,1,,1/2,,,,,,6 ft,ordinance,,verified,", &["column \"diameter\"", "1/2"])]
#[case::compare(
    "max-units,,,,,,,,more,4,ordinance,,verified,",
    &["column \"compare\"", "found \"more\"", "expected less-than"]
)]
#[case::limit_that_its_check_would_let_pass(
    "anchor-spacing,1,,1/2 in,,,,,less-than,5 ft,ordinance,,verified,",
    &["column \"compare\"", "found \"less-than\"", "largest anchor spacing"]
)]
#[case::negative("max-panel-gap,,,,,,,,,-4 ft,ordinance,,verified,", &["column \"value\"", "zero or more"])]
#[case::more_than_the_whole_wall(
    "braced-share,,,,,,,,,101 %,ordinance,,verified,", &["column \"value\"", "at most 100%"]
)]
#[case::piece_of_a_figure_without_pieces(
    "max-slope,,,,6 ft,,,,,3H:1V,ordinance,,verified,", &["column \"piece_over\"", "does not go by it"]
)]
#[case::diameter_of_a_figure_without_diameters(
    "max-panel-gap,,,1/2 in,,,,,,4 ft,ordinance,,verified,", &["column \"diameter\"", "does not go by it"]
)]
#[case::pieces_upside_down(
    "anchors-per-piece,,,,12 ft,6 ft,,,,3,ordinance,,verified,", &["column \"piece_up_to\"", "more than 12'-0\""]
)]
#[case::overlapping_pieces(
    "anchors-per-piece,,,,8 ft,14 ft,,,,4,ordinance,,verified,",
    &["cases that overlap", "cebc-a3-2013/anchorage.csv", "local.csv, line 2"]
)]
#[case::by_stories_and_by_weight(
    "max-panel-gap,2,,,,,,,,4 ft,ordinance,,verified,\nmax-panel-gap,,heavy,,,,,,,3 ft,ordinance,,verified,",
    &["cases that overlap", "local.csv, line 2", "local.csv, line 3"]
)]
#[case::thin_anchors_in_any_house_and_stout_ones_in_a_tall_one(
    "anchor-spacing,,,3/4 in,,,,,,6 ft,ordinance,,verified,",
    &["two diameters", "cebc-a3-2013/anchorage.csv", "local.csv, line 2", "each diameter in each case"]
)]
#[case::a_diameter_that_does_not_count(
    "anchor-spacing,1,,3/8 in,,,,,,,ordinance,,none,",
    &["once as none", "local.csv, line 2", "no row for a diameter"]
)]
#[case::any_diameter_and_one(
    "anchor-spacing,4,,,,,,,,4 ft,ordinance,,verified,\nanchor-spacing,4,,5/8 in,,,,,,6 ft,ordinance,,verified,",
    &["any diameter", "local.csv, line 2", "local.csv, line 3"]
)]
#[case::cells("max-units,4", &["line 2", "found 2 cells; expected 14"])]
#[case::the_same_place_twice(
    "max-units,,,,,,,,,4,ordinance,,verified,\nmax-units,,,,,,,,,3,ordinance,,verified,",
    &["local.csv, line 3, column \"figure\"", "local.csv, line 2"]
)]
fn a_wrong_row_is_refused_where_it_stands(#[case] rows: &str, #[case] says: &[&str]) {
    let files = vec![
        head("our-city", "cebc-a3-2013"),
        sources("our-city"),
        table("our-city", "local.csv", rows),
    ];
    assert_refused(&library_with("our-city", files), "our-city", says);
}

fn assert_refused(library: &Library, set: &str, says: &[&str]) {
    let faults = library.set(set).expect_err("the folder is wrong");
    assert_eq!(faults.len(), 1, "one fault was made: {faults:#?}");
    let text = faults[0].to_string();
    for part in says {
        assert!(text.contains(part), "{text:?} does not say {part:?}");
    }
}

#[rstest]
#[case::another_value(
    "max-units,,,,,,,,3,Code,2013,A301.2,A. Reader,2026-12-01",
    &["attested.csv, line 2, column \"value\"", "attested 3, but the table holds 4", "cebc-a3-2013/scope.csv"]
)]
#[case::of_a_row_without_a_value(
    "max-slope,,,,,,,,3H:1V,Code,2013,A301.2,A. Reader,2026-12-01",
    &["column \"value\"", "the table holds no value"]
)]
#[case::of_no_row(
    "max-units,1,,,,,,,4,Code,2013,A301.2,A. Reader,2026-12-01",
    &["column \"figure\"", "no row for this figure and case"]
)]
#[case::by_nobody(
    "max-units,,,,,,,,4,Code,2013,A301.2,,2026-12-01", &["column \"attested_by\"", "empty cell"]
)]
#[case::on_no_day(
    "max-units,,,,,,,,4,Code,2013,A301.2,A. Reader,", &["column \"attested_on\"", "empty cell"]
)]
#[case::on_some_day(
    "max-units,,,,,,,,4,Code,2013,A301.2,A. Reader,2026-02-30", &["column \"attested_on\"", "2026-02-30"]
)]
#[case::twice(
    "max-units,,,,,,,,4,Code,2013,A301.2,A. Reader,2026-12-01\nmax-units,,,,,,,,4,Code,2013,A301.2,B. Reader,2026-12-02",
    &["line 3", "a second time"]
)]
fn a_wrong_attestation_is_refused(#[case] row: &str, #[case] says: &[&str]) {
    let set = "cebc-a3-2013";
    assert_refused(&library_with(set, vec![attested(set, row)]), set, says);
}

#[rstest]
#[case::missing_head(vec![sources("our-city")], &["our-city", "no set.json"])]
#[case::broken_head(
    vec![file("our-city", "set.json", "{\"id\": \"our-city\",")], &["our-city/set.json", "line 1"]
)]
#[case::unknown_key_in_head(
    vec![file("our-city", "set.json", r#"{"id": "our-city", "title": "", "document": "", "extend": "x"}"#)],
    &["our-city/set.json", "extend"]
)]
#[case::head_that_is_a_list(
    vec![file("our-city", "set.json", r#"["our-city", "Our City", "Ordinance 1"]"#)],
    &["our-city/set.json", "expected struct"]
)]
#[case::head_of_another_set(
    vec![file("our-city", "set.json", r#"{"id": "your-city", "title": "", "document": ""}"#)],
    &["our-city/set.json", "found the id \"your-city\"", "expected \"our-city\""]
)]
#[case::renamed_column(
    vec![head("our-city", ""), file("our-city", "scope.csv", "figure,storeys\n")],
    &[
        "our-city/scope.csv, line 1, column \"header\"",
        "found the columns figure,storeys",
        "expected figure,stories"
    ]
)]
#[case::not_a_table(
    vec![head("our-city", ""), file("our-city", "scope.xlsx", "")],
    &["our-city/scope.xlsx", "not a table"]
)]
#[case::the_same_source_twice(
    vec![
        head("our-city", ""),
        file("our-city", "sources.csv", &format!("{SOURCE_HEADER}\na,A,,,,,\na,B,,,,,\n"))
    ],
    &["our-city/sources.csv, line 3, column \"source\"", "stands twice"]
)]
#[case::parent_that_is_not_there(
    vec![head("our-city", "cebc-a3-2031")],
    &["cebc-a3-2031", "which \"our-city\" extends", "did you mean \"cebc-a3-2013\"?"]
)]
#[case::its_own_parent(vec![head("our-city", "our-city")], &["the set extends itself", "our-city"])]
fn a_wrong_folder_is_refused(#[case] files: Vec<TableFile>, #[case] says: &[&str]) {
    assert_refused(&library_with("our-city", files), "our-city", says);
}

#[test]
fn a_circle_of_sets_is_refused() {
    let mut library = library_with("our-city", vec![head("our-city", "our-county")]);
    library.add_folder("our-county", vec![head("our-county", "our-city")]);
    assert_refused(
        &library,
        "our-city",
        &["the set extends itself", "our-city → our-county → our-city"],
    );
}

#[test]
fn all_faults_of_a_folder_are_told_at_once() {
    let rows = "max-units,,,,,,,,,four,ordinance,,verified,\nmax-story,,,,,,,,,3,ordinance,,verified,";
    let files = vec![
        head("our-city", ""),
        sources("our-city"),
        table("our-city", "local.csv", rows),
    ];
    let faults = library_with("our-city", files).set("our-city").unwrap_err();
    assert_eq!(faults.len(), 2, "{faults:#?}");
}

/// A file saved by a spreadsheet: a byte order mark, and lines that end in CR LF.
#[test]
fn a_table_saved_by_a_spreadsheet_is_read() {
    let text = format!("\u{feff}{FIGURE_HEADER}\r\nmax-units,,,,,,,,,2,ordinance,Section 3,verified,\r\n");
    let files = vec![
        head("our-city", ""),
        sources("our-city"),
        file("our-city", "scope.csv", &text),
    ];
    let ours = library_with("our-city", files).set("our-city").unwrap();
    assert_eq!(ours.figures()[0].value(), Some(Value::Count(2)));
}
