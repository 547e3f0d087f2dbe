//! Extracts: whatever columns and forms others keep their houses in, the rows that come of it are those that someone
//! would have written by hand in our columns.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::format_push_string,
    reason = "a test that finds something else than it expects has to fail"
)]

use std::fs;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};

use geojson::{FeatureCollection, GeoJson};
use proptest::prelude::*;
use retrofit_core::portfolio::{ColumnMap, Form, Layout};
use retrofit_core::provisions::Library;
use retrofit_report::extract::{coverage, propose, translate};
use retrofit_report::input::{MapFile, Origin, parse_column_map, read_column_map};
use retrofit_report::triage::{BadRow, Format, Silent, Stop, TriageOptions, TriageSummary, run};
use rstest::rstest;
use tempfile::TempDir;

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../examples/maps")
        .join(name)
}

fn map_of(name: &str) -> MapFile {
    read_column_map(&Origin::from(example(name).as_path())).unwrap_or_else(|error| panic!("{error}"))
}

/// The rows that an extract comes to, and those that cannot be translated.
fn translated(path: &Path, map: Option<&MapFile>) -> (String, Vec<BadRow>) {
    let (mut text, mut bad) = (Vec::new(), Vec::new());
    translate(path, map, &mut |row| bad.push(row), &mut |block| {
        text.extend_from_slice(block);
        Ok(())
    })
    .unwrap_or_else(|error| panic!("{error}"));
    (String::from_utf8(text).unwrap(), bad)
}

/// A folder with what a run writes.
struct Desk(TempDir);

impl Desk {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn put(&self, name: &str, content: impl AsRef<[u8]>) -> PathBuf {
        let path = self.0.path().join(name);
        fs::write(&path, content).unwrap();
        path
    }

    fn check(
        &self,
        houses: &Path,
        map: Option<&MapFile>,
        format: Format,
        threads: usize,
    ) -> (TriageSummary, String) {
        let out = self.0.path().join("out");
        let options = TriageOptions {
            houses: houses.to_owned(),
            map: map.cloned(),
            wall_lines: None,
            out: Some(out.clone()),
            format,
            bad_rows: None,
            threads: NonZeroUsize::new(threads),
            resume: false,
            stop: Stop::default(),
        };
        let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
        let summary = run(&options, &provisions, &mut Silent).unwrap_or_else(|error| panic!("{error}"));
        (summary, fs::read_to_string(out).unwrap())
    }
}

/// The shipped maps and an invented extract for each, beside the same houses written by hand in our columns. The number
/// is that of the rows of the extract that cannot be read.
#[rstest]
#[case("county-residential-buildings", "csv", 1)]
#[case("regional-parcels", "csv", 0)]
#[case("listings", "csv", 0)]
#[case("structure-inventory", "geojson", 0)]
#[case("city-roll", "csv", 0)]
fn a_shipped_map_makes_the_rows_that_were_written_by_hand(
    #[case] name: &str,
    #[case] end: &str,
    #[case] left_out: u64,
) {
    let map = map_of(&format!("{name}.toml"));
    let extract = example(&format!("{name}.{end}"));
    let by_hand = example(&format!("{name}.ours.csv"));
    let (text, _) = translated(&extract, Some(&map));
    // Rows that triage refuses are no houses, and nobody writes them by hand.
    let houses = fs::read_to_string(&by_hand).unwrap();
    for (translated, written) in text.lines().zip(houses.lines()) {
        assert_eq!(translated, written);
    }
    assert_eq!(
        text.lines().count(),
        houses.lines().count() + usize::try_from(left_out).unwrap()
    );

    let desk = Desk::new();
    let (summary, results) = desk.check(&extract, Some(&map), Format::Csv, 2);
    assert_eq!(summary.bad_rows, left_out, "{:?}", summary.first_bad_rows);
    assert_eq!(results, desk.check(&by_hand, None, Format::Csv, 1).1);
}

#[test]
fn home_energy_data_becomes_the_rows_that_were_written_by_hand() {
    let (text, bad) = translated(&example("home-energy.xml"), None);
    assert_eq!(bad, []);
    assert_eq!(text, fs::read_to_string(example("home-energy.ours.csv")).unwrap());
}

#[test]
fn a_cell_that_cannot_be_read_is_told_by_the_column_of_the_extract() {
    let map = map_of("county-residential-buildings.toml");
    let extract = example("county-residential-buildings.csv");
    let (summary, _) = Desk::new().check(&extract, Some(&map), Format::Csv, 1);
    let bad = &summary.first_bad_rows[0];
    assert_eq!(
        (bad.line, bad.column.as_deref()),
        (5, Some("SqFtTotLiving (our floor_area)"))
    );
    assert!(bad.problem.contains("1 120"), "{bad}");
}

#[test]
fn the_coverage_counts_every_cell_once() {
    let map = map_of("county-residential-buildings.toml");
    let coverage = coverage(&example("county-residential-buildings.csv"), &map).unwrap();
    assert_eq!((coverage.rows, coverage.readable_rows), (4, 3));
    for field in &coverage.fields {
        let cells =
            field.filled + field.inferred + field.blank + field.placeholder + field.untold + field.unread;
        assert_eq!(cells + field.faulty, coverage.rows, "{}", field.column);
    }
    let field = |name: &str| coverage.fields.iter().find(|field| field.column == name).unwrap();
    assert_eq!(
        (field("year_built").filled, field("year_built").placeholder),
        (2, 2)
    );
    assert_eq!((field("floor_area").filled, field("floor_area").faulty), (2, 1));
    assert_eq!(field("rooms_over_garage").inferred, 1);
    assert_eq!(field("id").examples[1].becomes, "004021-0036-1");
    assert_eq!(coverage.not_used, Vec::<String>::new());
    assert!(
        coverage.faults[0].starts_with("line 5: column SqFtTotLiving: found"),
        "{:?}",
        coverage.faults
    );
}

#[rstest]
#[case(
    "county-residential-buildings",
    "County residential buildings by Major and Minor"
)]
#[case("regional-parcels", "Regional parcel table")]
#[case("listings", "Real-estate listings")]
#[case("city-roll", "City property roll")]
fn the_columns_of_a_public_set_are_recognized(#[case] name: &str, #[case] set: &str) {
    let extract = example(&format!("{name}.csv"));
    let proposal = propose(&extract).unwrap();
    assert_eq!(proposal.recognized.as_deref(), Some(set));
    let proposed = parse_column_map(&Origin::from("proposal.toml"), proposal.text).unwrap();
    let shipped = map_of(&format!("{name}.toml"));
    assert_eq!(
        translated(&extract, Some(&proposed)).0,
        translated(&extract, Some(&shipped)).0
    );
}

#[test]
fn a_proposal_finds_names_units_gaps_and_how_the_file_is_written() {
    let mut roll = "Parcel No;Yr Built;Storeys;Living Area;Roof Type;Garage\n".to_owned();
    for number in 0..40 {
        let year = if number % 4 == 0 { 1900 } else { 1920 + number };
        let roof = ["Tile", "Comp Shingle", "N/A"][number % 3];
        roll += &format!("{number:04};{year};1,5;1.480,5;{roof};\n");
    }
    let desk = Desk::new();
    let path = desk.put("roll.csv", roll);
    let proposal = propose(&path).unwrap();
    assert_eq!(proposal.recognized, None);
    for line in [
        "delimiter = \"semicolon\"",
        "decimal = \"comma\"",
        "from = \"Parcel No\"",
        "from = \"Yr Built\"",
        "blank = [\"1900\"]",
        "unit = \"sq ft\"",
        "blank = [\"N/A\"]",
        "Tile = \"tile\" # 14 of 40",
        "\"Comp Shingle\" = \"\" # 13 of 40",
        "# Not used: Garage.",
    ] {
        assert!(
            proposal.text.lines().any(|other| other == line),
            "no {line}\n{}",
            proposal.text
        );
    }
    let map = parse_column_map(&Origin::from("proposal.toml"), proposal.text).unwrap();
    let (summary, _) = desk.check(&path, Some(&map), Format::Csv, 1);
    assert_eq!(
        (summary.houses, summary.bad_rows),
        (40, 0),
        "{:?}",
        summary.first_bad_rows
    );
}

/// Of several columns that could name a house the first that holds anything does, and the proposal is a map.
#[test]
fn a_proposal_names_the_house_once() {
    let desk = Desk::new();
    let path = desk.put("roll.csv", "Pin,Parcel,APN,Year Built\n,4,5,1950\n,6,7,1951\n");
    let proposal = propose(&path).unwrap();
    let map = parse_column_map(&Origin::from("proposal.toml"), proposal.text).unwrap();
    assert_eq!(
        translated(&path, Some(&map)).0,
        "id,known_by,year_built\n4,reported,1950\n6,reported,1951\n"
    );
}

/// Features are proposed, told and covered like a table.
#[test]
fn a_map_is_proposed_for_features_and_covers_them() {
    let desk = Desk::new();
    let mut features = Vec::new();
    for number in 0..40 {
        features.push(serde_json::json!({
            "type": "Feature",
            "id": number,
            "geometry": {"type": "Point", "coordinates": [f64::from(number), 1.0]},
            "properties": {
                "Parcel": format!("{number:04}"),
                "YrBuilt": if number % 4 == 0 { 1900 } else { 1920 + number },
                "Roof": if number % 2 == 0 { "Tile" } else { "Comp Shingle" },
                "Attic": true,
            },
        }));
    }
    features[7]["geometry"] = serde_json::json!({"type": "Blob"});
    let collection = serde_json::json!({"type": "FeatureCollection", "features": features});
    let path = desk.put("roll.geojson", collection.to_string());
    let proposal = propose(&path).unwrap();
    assert_eq!((proposal.recognized, proposal.rows), (None, 39));
    for line in [
        "from = \"Parcel\"",
        "from = \"(longitude)\"",
        "blank = [\"1900\"]",
        "Tile = \"tile\" # 20 of 39",
        "# Not used: Attic, (feature id).",
    ] {
        assert!(
            proposal.text.lines().any(|other| other == line),
            "no {line}\n{}",
            proposal.text
        );
    }
    let map = parse_column_map(&Origin::from("proposal.toml"), proposal.text).unwrap();
    let coverage = coverage(&path, &map).unwrap();
    assert_eq!((coverage.rows, coverage.readable_rows), (40, 39), "{coverage:?}");
    assert!(
        coverage.faults[0].starts_with("feature 8: found a feature"),
        "{:?}",
        coverage.faults
    );
    let field = |name: &str| coverage.fields.iter().find(|field| field.column == name).unwrap();
    assert_eq!(
        (field("year_built").filled, field("year_built").placeholder),
        (29, 10)
    );
    assert_eq!(field("longitude").filled, 39);
    assert_eq!(coverage.not_used, ["Attic"]);
    let (summary, _) = desk.check(&path, Some(&map), Format::Csv, 2);
    assert_eq!((summary.houses, summary.bad_rows), (coverage.readable_rows, 1));
}

/// The columns of a public set are recognized in features too, and cover all of it.
#[test]
fn a_public_set_of_features_is_recognized() {
    let extract = example("structure-inventory.geojson");
    let proposal = propose(&extract).unwrap();
    let shipped = map_of("structure-inventory.toml");
    assert_eq!(proposal.recognized.as_deref(), Some(shipped.map.name.as_str()));
    let proposed = parse_column_map(&Origin::from("proposal.toml"), proposal.text).unwrap();
    assert_eq!(
        translated(&extract, Some(&proposed)).0,
        translated(&extract, Some(&shipped)).0
    );
    let found = coverage(&extract, &shipped).unwrap();
    assert_eq!(found.rows, found.readable_rows, "{found:?}");
}

/// What has a fixed meaning takes no map, and the error says what to do instead.
#[test]
fn home_energy_data_takes_no_map() {
    let map = map_of("listings.toml");
    let extract = example("home-energy.xml");
    for error in [
        propose(&extract).unwrap_err(),
        coverage(&extract, &map).unwrap_err(),
    ] {
        let said = error.to_string();
        assert!(
            said.contains("home-energy.xml: ") && said.contains("--format csv"),
            "{said}"
        );
    }
}

/// Features with properties by our names are the rows of a table; the file is in one line, as programs write it.
#[test]
fn features_by_our_names_are_rows() {
    let desk = Desk::new();
    let mut features = Vec::new();
    let mut table = "id,known_by,stories,wall_length,latitude,longitude\n".to_owned();
    for number in 0..3_000 {
        let place = f64::from(number) / 100.0;
        features.push(serde_json::json!({
            "type": "Feature",
            "id": format!("Q-{number}"),
            "geometry": {"type": "Point", "coordinates": [place, -place]},
            "properties": {"stories": 1.5, "wall_length": if number % 2 == 0 { "24'-6\"" } else { "" }},
        }));
        let length = if number % 2 == 0 { "\"24'-6\"\"\"" } else { "" };
        table += &format!("Q-{number},seen,1.5,{length},{},{place}\n", -place);
    }
    let collection = serde_json::json!({"features": features, "type": "FeatureCollection"});
    let features = desk.put("houses.geojson", collection.to_string());
    let table = desk.put("houses.csv", table);
    let (_, expected) = desk.check(&table, None, Format::Csv, 1);
    for threads in [1, 2] {
        let (summary, results) = desk.check(&features, None, Format::Csv, threads);
        assert_eq!((summary.houses, summary.bad_rows), (3_000, 0));
        assert_eq!(results, expected);
    }
}

#[test]
fn a_faulty_feature_is_told_by_its_number_and_stops_nothing() {
    let desk = Desk::new();
    let path = desk.put(
        "houses.geojson",
        r#"{"type": "FeatureCollection", "features": [
            {"type": "Feature", "geometry": null, "properties": {"id": "a", "stories": 1}},
            {"type": "Feature", "geometry": {"type": "Blob"}, "properties": {"id": "b", "stories": 1}},
            {"type": "Feature", "geometry": null, "properties": {"id": "c", "stories": "one"}},
            {"type": "Feature", "geometry": null, "properties": {"id": "d", "storeys": 1}},
            7,
            {"type": "Feature", "geometry": null, "properties": {"id": "f"}}
        ]}"#,
    );
    let (summary, results) = desk.check(&path, None, Format::Csv, 2);
    let mut bad: Vec<_> = summary
        .first_bad_rows
        .iter()
        .map(|row| (row.line, row.column.as_deref()))
        .collect();
    bad.sort_unstable();
    assert_eq!(
        bad,
        [(2, None), (3, Some("stories")), (4, Some("storeys")), (5, None)]
    );
    let ids: Vec<_> = results.lines().skip(1).map(|line| &line[..1]).collect();
    assert_eq!(ids, ["a", "f"]);
}

#[rstest]
#[case("[]", "a FeatureCollection")]
#[case("{\"type\": \"FeatureCollection\"}", "found no \"features\"")]
#[case("{\"features\": [{}, ", "no collection of features")]
#[case("{\"features\": 3}", "a list of features")]
#[case("", "no collection of features")]
fn a_file_that_is_no_collection_is_refused(#[case] text: &str, #[case] says: &str) {
    let desk = Desk::new();
    let path = desk.put("houses.geojson", text);
    let error = translate(&path, None, &mut |_| {}, &mut |_| Ok(()))
        .unwrap_err()
        .to_string();
    assert!(error.contains(says), "{error}");
}

#[rstest]
#[case("<HPXML>", "no XML")]
#[case("<house/>", "expected HPXML")]
fn a_file_that_is_no_home_energy_data_is_refused(#[case] text: &str, #[case] says: &str) {
    let path_of = Desk::new();
    let path = path_of.put("homes.xml", text);
    let error = translate(&path, None, &mut |_| {}, &mut |_| Ok(()))
        .unwrap_err()
        .to_string();
    assert!(error.contains(says), "{error}");
}

/// Against the geojson crate: what is written is a collection that it reads, in any number of threads.
#[test]
fn results_are_a_collection_of_features() {
    let desk = Desk::new();
    let map = map_of("structure-inventory.toml");
    let extract = example("structure-inventory.geojson");
    let (summary, text) = desk.check(&extract, Some(&map), Format::GeoJson, 2);
    assert_eq!(text, desk.check(&extract, Some(&map), Format::GeoJson, 1).1);
    let collection: FeatureCollection = match text.parse::<GeoJson>().unwrap() {
        GeoJson::FeatureCollection(collection) => collection,
        other => panic!("{other:?}"),
    };
    assert_eq!(u64::try_from(collection.features.len()).unwrap(), summary.houses);
    let has_place: Vec<bool> = collection
        .features
        .iter()
        .map(|feature| feature.geometry.is_some())
        .collect();
    assert_eq!(has_place, [true, true, false]);
    for feature in &collection.features {
        assert!(feature.property("verdict").unwrap().is_string());
    }

    // No house is an empty collection, not a broken one.
    let empty = desk.put("empty.csv", "id\n");
    let (_, text) = desk.check(&empty, None, Format::GeoJson, 1);
    assert!(
        matches!(text.parse().unwrap(), GeoJson::FeatureCollection(collection) if collection.features.is_empty())
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever bytes a file holds, a map can be proposed or it is said why not; what is proposed is a map that fits.
    #[test]
    fn any_file_can_be_asked_for_a_map(
        names in "[ A-Za-z,;\t\"|éÄ]{0,40}",
        rows in prop::collection::vec(any::<u8>(), 0..300),
    ) {
        let desk = Desk::new();
        let path = desk.put("extract.csv", [names.as_bytes(), b"\n", &rows].concat());
        if let Ok(proposal) = propose(&path) {
            let map = parse_column_map(&Origin::from("proposal.toml"), proposal.text.clone());
            let map = map.unwrap_or_else(|error| panic!("{error}\n{}", proposal.text));
            match coverage(&path, &map) {
                Ok(coverage) => prop_assert!(coverage.readable_rows <= coverage.rows),
                // Two columns with one name cannot be told apart, which only the map can set right.
                Err(error) => prop_assert!(error.to_string().contains("two columns"), "{}\n{}", error, proposal.text),
            }
        }
    }

    /// Any text can be tried as a map.
    #[test]
    fn any_text_can_be_read_as_a_map(text in "(\\PC|[\n\\[\\]=\"{}.#])*", bytes in prop::collection::vec(any::<u8>(), 0..60)) {
        let head = "format = \"column-map-1\"\nname = \"\"\n";
        for text in [text.clone(), format!("{head}[columns]\n{text}"), String::from_utf8_lossy(&bytes).into_owned()] {
            match parse_column_map(&Origin::from("m.toml"), text) {
                Ok(file) => {
                    let header: Vec<String> = file.map.sources().map(str::to_owned).collect();
                    if let Err(fault) = file.map.compile(&header) {
                        prop_assert!(file.fault(&fault).picture(false).contains("m.toml"));
                    }
                }
                Err(error) => prop_assert!(!error.picture(false).is_empty()),
            }
        }
    }

    /// A table with other names, units and gaps becomes the table that is written by hand.
    #[test]
    fn renamed_rows_are_the_rows_written_by_hand(
        houses in prop::collection::vec((1u32..99_999, 1850u16..2020, 1u8..4, any::<bool>()), 1..40),
        delimiter in prop::sample::select(vec![("comma", ','), ("semicolon", ';'), ("tab", '\t'), ("bar", '|')]),
    ) {
        let (word, mark) = delimiter;
        let mut extract = ["Lot", "Built", "Height", "Size"].join(&mark.to_string()) + "\n";
        let mut by_hand = "id,known_by,floor_area,stories,year_built\n".to_owned();
        for (lot, year, stories, is_gap) in &houses {
            let area = u64::from(*lot) * 13;
            let apart = match area {
                0..1_000 => area.to_string(),
                1_000..1_000_000 => format!("\"{},{:03}\"", area / 1_000, area % 1_000),
                _ => format!("\"{},{:03},{:03}\"", area / 1_000_000, area / 1_000 % 1_000, area % 1_000),
            };
            let built = if *is_gap { "1900".to_owned() } else { year.to_string() };
            let cells = [lot.to_string(), built, format!("{stories} 1/2"), apart];
            extract += &(cells.join(&mark.to_string()) + "\n");
            let built = if *is_gap || *year == 1900 { String::new() } else { year.to_string() };
            by_hand += &format!("{lot:06},reported,{area} sq ft,{stories}.5,{built}\n");
        }
        let text = format!(
            "format = \"column-map-1\"\nname = \"\"\n[file]\ndelimiter = \"{word}\"\n\
             [columns]\nid = {{ from = \"Lot\", widths = [6] }}\nyear_built = {{ from = \"Built\", blank = [\"1900\"] }}\n\
             stories = {{ from = \"Height\" }}\nfloor_area = {{ from = \"Size\", unit = \"sq ft\" }}\n"
        );
        let map = parse_column_map(&Origin::from("m.toml"), text).unwrap();
        let desk = Desk::new();
        let path = desk.put("extract.csv", extract);
        prop_assert_eq!(translated(&path, Some(&map)).0, by_hand);
    }

    /// Whatever bytes the rows of an extract hold, each becomes a house or a bad row, and no thread changes anything.
    #[test]
    fn any_bytes_are_houses_or_bad_rows(rows in prop::collection::vec(prop::collection::vec(any::<u8>(), 0..30), 0..30)) {
        let map = map_of("city-roll.toml");
        let header = fs::read(example("city-roll.csv")).unwrap();
        let mut extract = header.split_inclusive(|byte| *byte == b'\n').next().unwrap().to_vec();
        for row in &rows {
            extract.extend(row.iter().filter(|byte| **byte != b'\n'));
            extract.push(b'\n');
        }
        let desk = Desk::new();
        let path = desk.put("extract.csv", extract);
        let one = desk.check(&path, Some(&map), Format::Csv, 1);
        let two = desk.check(&path, Some(&map), Format::Csv, 2);
        prop_assert_eq!(&one.1, &two.1);
        prop_assert!(one.0.houses + one.0.bad_rows <= u64::try_from(rows.len()).unwrap());
    }
}

/// A map can be written and read again without a loss: proposals of recognized sets are written so.
#[rstest]
#[case("county-residential-buildings.toml")]
#[case("listings.toml")]
#[case("structure-inventory.toml")]
fn a_map_is_written_as_it_was_read(#[case] name: &str) {
    let map = map_of(name).map;
    let again: ColumnMap = toml::from_str(&toml::to_string(&map).unwrap()).unwrap();
    assert_eq!(again, map);
    let columns = map.columns.keys().map(String::as_str);
    Layout::new(columns, Form::OneTable).unwrap();
}

/// What stands in Parquet comes to what the same stands for in a table of text, with a map and without one.
#[cfg(feature = "parquet")]
mod parquet {
    use std::collections::BTreeMap;
    use std::sync::Arc;

    use ::parquet::arrow::ArrowWriter;
    use arrow_array::{ArrayRef, BooleanArray, Int32Array, RecordBatch, StringArray};

    use super::*;

    fn put(desk: &Desk, name: &str, columns: Vec<(&str, ArrayRef)>) -> PathBuf {
        let batch = RecordBatch::try_from_iter(columns).unwrap();
        let path = desk.0.path().join(name);
        let mut writer =
            ArrowWriter::try_new(fs::File::create(&path).unwrap(), batch.schema(), None).unwrap();
        writer.write(&batch).unwrap();
        writer.close().unwrap();
        path
    }

    /// A table of text, column by column.
    fn as_columns(path: &Path) -> Vec<(String, ArrayRef)> {
        let mut reader = csv::Reader::from_path(path).unwrap();
        let names: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        names
            .into_iter()
            .enumerate()
            .map(|(at, name)| {
                let cells = rows
                    .iter()
                    .map(|row| Some(&row[at]).filter(|cell| !cell.is_empty()));
                (name, Arc::new(cells.collect::<StringArray>()) as ArrayRef)
            })
            .collect()
    }

    #[test]
    fn the_portfolio_says_the_same() {
        let desk = Desk::new();
        let table = example("../palo-verde-junction.csv");
        let columns = as_columns(&table);
        let columns = columns
            .iter()
            .map(|(name, cells)| (name.as_str(), Arc::clone(cells)));
        let parquet = put(&desk, "houses.parquet", columns.collect());
        // The columns handed on stand in another order.
        let verdicts = |houses: &Path| {
            let (summary, text) = desk.check(houses, None, Format::Csv, 2);
            let mut reader = csv::Reader::from_reader(text.as_bytes());
            let rows = reader.deserialize().map(Result::unwrap);
            (summary, rows.collect::<Vec<BTreeMap<String, String>>>())
        };
        let (of_parquet, of_table) = (verdicts(&parquet), verdicts(&table));
        assert!(of_parquet == of_table);
        assert_eq!(of_table.1.len(), 5000);
    }

    #[test]
    fn values_with_types_of_their_own_are_read_as_their_text() {
        let desk = Desk::new();
        let parquet = put(
            &desk,
            "houses.parquet",
            vec![
                ("id", Arc::new(StringArray::from(vec!["a", "b", "c"])) as ArrayRef),
                (
                    "stories",
                    Arc::new(Int32Array::from(vec![Some(1), None, Some(-1)])),
                ),
                (
                    "anchors",
                    Arc::new(BooleanArray::from(vec![Some(false), None, Some(true)])),
                ),
            ],
        );
        let table = desk.put("houses.csv", "id,stories,anchors\na,1,no\nb,,\nc,-1,yes\n");
        let verdicts = |houses: &Path| desk.check(houses, None, Format::Csv, 1);
        let (of_parquet, of_table) = (verdicts(&parquet), verdicts(&table));
        assert_eq!(of_parquet.1, of_table.1);
        assert_eq!(
            of_parquet.0.first_bad_rows[0].problem,
            of_table.0.first_bad_rows[0].problem
        );
        assert_eq!(
            of_parquet.0.first_bad_rows[0].line, 3,
            "told by its number, without a header"
        );
    }

    /// A column of a table is proposed, told and covered alike, whatever file it lies in.
    #[test]
    fn a_map_is_proposed_and_covers_as_for_a_table() {
        let desk = Desk::new();
        let table = example("county-residential-buildings.csv");
        let columns = as_columns(&table);
        let columns = columns
            .iter()
            .map(|(name, cells)| (name.as_str(), Arc::clone(cells)));
        let parquet = put(&desk, "roll.parquet", columns.collect());
        let of_parquet = propose(&parquet).unwrap();
        assert_eq!(of_parquet.recognized, propose(&table).unwrap().recognized);
        assert!(of_parquet.recognized.is_some());
        let map = map_of("county-residential-buildings.toml");
        let (mut found, expected) = (coverage(&parquet, &map).unwrap(), coverage(&table, &map).unwrap());
        assert!(
            found.faults[0].starts_with("row 4: column SqFtTotLiving: found"),
            "{:?}",
            found.faults
        );
        assert_eq!(
            (&found.fields, &found.not_used),
            (&expected.fields, &expected.not_used)
        );
        found.file.clone_from(&expected.file);
        found.faults.clone_from(&expected.faults);
        assert_eq!(found, expected);
    }

    #[test]
    fn what_is_no_parquet_is_told() {
        let desk = Desk::new();
        let path = desk.put("houses.parquet", "id,stories\na,1\n");
        let error = translate(&path, None, &mut |_| (), &mut |_| Ok(()))
            .unwrap_err()
            .to_string();
        assert!(error.contains("houses.parquet"), "{error}");
    }
}
