//! `retrofit screen` and `retrofit explain --house` as a user or a script meets them: exit codes, formats, editions of
//! the user's own, and what is wrong said with its place.

#![cfg(test)]

mod program;

use std::fs;
use std::path::Path;

use program::{example, printed, refused, root};
use rstest::rstest;
use serde_json::{Value, json};

fn demo() -> String {
    example("quince-lantern-way")
}

/// An example with one change.
fn changed(name: &str, change: impl FnOnce(&mut Value)) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let mut record: Value = serde_json::from_str(&fs::read_to_string(example(name)).unwrap()).unwrap();
    change(&mut record);
    let path = folder.path().join("house.json");
    fs::write(&path, record.to_string()).unwrap();
    let path = path.to_str().unwrap().to_owned();
    (folder, path)
}

/// A copy of a shipped edition under a name, with one text put for another in a file.
fn own_edition(id: &str, name: &str, file: &str, old: &str, new: &str) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let own = program::own_edition(folder.path(), id, name, [file, old, new]);
    (folder, own)
}

mod exit_codes {
    use super::*;

    #[test]
    fn one_where_a_link_surely_falls_short() {
        printed(&["screen", &demo()], 1);
    }

    #[test]
    fn two_where_one_may_and_where_the_house_is_not_screened() {
        printed(&["screen", &example("bramble-kiln-court")], 2);
        let declined = printed(&["screen", &example("cinder-alder-terrace")], 2);
        assert!(declined.contains("Not screened") && declined.contains("more than one level"));
    }

    #[test]
    fn two_where_the_shaking_is_not_known_and_every_link_has_some_capacity() {
        let text = printed(&["screen", &example("wren-cellar-close")], 2);
        assert!(text.contains("stands in for that of the site"));
    }

    #[test]
    fn the_strictest_of_several_editions_counts() {
        let args = [
            "screen",
            &demo(),
            "--standards",
            "asce7-10",
            "--standards",
            "asce7-22",
        ];
        assert!(printed(&args, 1).contains("ASCE 7-22"));
    }

    #[test]
    fn quiet_answers_by_the_exit_code_alone() {
        assert_eq!(printed(&["screen", "--quiet", &demo()], 1), "");
    }
}

mod formats {
    use super::*;

    #[test]
    fn for_a_machine_it_is_as_its_schema_says() {
        let schema: Value = serde_json::from_str(&printed(&["schema", "screen"], 0)).unwrap();
        assert_eq!(schema["$id"], "screen-1");
        let validator = jsonschema::validator_for(&schema).unwrap();
        for (house, code) in [
            ("quince-lantern-way", 1),
            ("larch-harbor-way", 1),
            ("wren-cellar-close", 2),
            ("cinder-alder-terrace", 2),
        ] {
            let result: Value =
                serde_json::from_str(&printed(&["screen", "--format", "json", &example(house)], code))
                    .unwrap();
            let errors: Vec<String> = validator
                .iter_errors(&result)
                .map(|error| error.to_string())
                .collect();
            assert!(errors.is_empty(), "{house}: {errors:?}");
            let mut wrong = result.clone();
            wrong["standing"]["path"] = json!("fine");
            assert!(!validator.is_valid(&wrong), "{house}");
        }
    }

    #[test]
    fn several_editions_are_as_their_schema_says() {
        let schema: Value = serde_json::from_str(&printed(&["schema", "screens"], 0)).unwrap();
        let house = demo();
        let args = [
            "screen",
            "--format",
            "json",
            &house,
            "--standards",
            "asce7-10",
            "--standards",
            "asce7-22",
        ];
        let result: Value = serde_json::from_str(&printed(&args, 1)).unwrap();
        assert_eq!(result["screens"].as_array().unwrap().len(), 2);
        assert!(jsonschema::validator_for(&schema).unwrap().is_valid(&result));
    }

    /// The units beside each other are the same quantity: 1 lbf is 4.448 221 615 260 5 N (NIST SP 811, B.8).
    #[test]
    fn numbers_are_exact_in_both_units() {
        let result: Value =
            serde_json::from_str(&printed(&["screen", "--format", "json", &demo()], 1)).unwrap();
        let weight = &result["found"]["weight"];
        assert_eq!(
            (&weight["unit"], &weight["si_unit"]),
            (&json!("lb"), &json!("kN"))
        );
        let ratio = weight["si_high"].as_f64().unwrap() / weight["high"].as_f64().unwrap();
        assert!((ratio - 0.004_448_221_615_260_5).abs() < 1e-15);
        let parts = result["found"]["weights"].as_array().unwrap();
        let sum: f64 = parts
            .iter()
            .map(|part| part["weight"]["high"].as_f64().unwrap())
            .sum();
        assert!((sum - weight["high"].as_f64().unwrap()).abs() < 1e-6);
    }

    #[rstest]
    #[case("terminal", "not a design")]
    #[case("markdown", "| Link |")]
    #[case("html", "<!DOCTYPE html>")]
    #[case("json", "\"format\": \"screen-1\"")]
    fn a_file_is_written_as_it_is_printed(#[case] format: &str, #[case] holds: &str) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("screen");
        let (path, house) = (path.to_str().unwrap(), demo());
        assert_eq!(
            printed(&["screen", &house, "--format", format, "--out", path], 1),
            ""
        );
        let written = fs::read_to_string(path).unwrap();
        assert!(written.contains(holds));
        assert_eq!(
            printed(&["screen", &house, "--format", format], 1).trim_end(),
            written.trim_end()
        );
    }

    #[test]
    fn units_are_those_asked_for() {
        let us = printed(&["screen", &demo(), "--units", "us"], 1);
        let si = printed(&["screen", &demo(), "--units", "si"], 1);
        assert!(us.contains(" lb") && !us.contains(" kN"));
        assert!(si.contains(" kN") && !si.contains(" lb"));
    }

    #[test]
    fn the_same_house_gives_the_same_bytes() {
        let args = ["screen", &demo(), "--format", "html"];
        assert_eq!(printed(&args, 1), printed(&args, 1));
    }
}

mod options {
    use super::*;

    #[test]
    fn each_changes_what_is_asked_of_the_house() {
        let house = demo();
        let asked = |more: &[&str]| -> f64 {
            let mut args = vec!["screen", "--format", "json", house.as_str()];
            args.extend(more);
            let result: Value = serde_json::from_str(&printed(&args, 1)).unwrap();
            result["found"]["lines"][0]["factored"]["high"].as_f64().unwrap()
        };
        let plain = asked(&[]);
        assert!(asked(&["--redundancy", "1.0"]) < plain);
        assert!((asked(&["--redundancy", "1.3"]) - plain).abs() < 1e-6);
        assert!(asked(&["--method", "lrfd"]) > plain);
        assert!(asked(&["--reduced"]) < plain);
    }

    #[test]
    fn an_edition_of_ones_own_takes_the_place_of_the_shipped_one() {
        let text = fs::read_to_string(root().join("tables/standards/dead-loads/figures.csv")).unwrap();
        let row = text
            .lines()
            .find(|line| line.starts_with("subfloor"))
            .unwrap()
            .to_owned();
        let cells: Vec<&str> = row.split(',').collect();
        let mut heavier = cells.clone();
        heavier[3] = "13";
        heavier[4] = "";
        let (_folder, own) = own_edition(
            "dead-loads",
            "our-weights",
            "figures.csv",
            &row,
            &heavier.join(","),
        );
        let weight = |args: &[&str]| -> f64 {
            let result: Value = serde_json::from_str(&printed(args, 1)).unwrap();
            result["found"]["weight"]["high"].as_f64().unwrap()
        };
        let house = demo();
        let shipped = weight(&["screen", "--format", "json", &house]);
        let own_weight = weight(&["screen", "--format", "json", &house, "--standards-dir", &own]);
        // Ten pounds and more on each of 1,152 square feet of floor.
        assert!(
            own_weight > shipped + 10.0 * 1152.0 - 1.0,
            "{own_weight} {shipped}"
        );
        let named = weight(&[
            "screen",
            "--format",
            "json",
            &house,
            "--standards-dir",
            &own,
            "--standards",
            "dead-loads",
        ]);
        assert!((named - shipped).abs() < 1e-6, "a named edition counts");
        let parent = Path::new(&own).parent().unwrap().to_str().unwrap().to_owned();
        let by_parent = weight(&["screen", "--format", "json", &house, "--standards-dir", &parent]);
        assert!((by_parent - own_weight).abs() < 1e-6);
    }
}

mod wrong_input {
    use super::*;

    #[rstest]
    #[case(&["--redundancy", "7"], "--redundancy: found 7; expected a number from 1 to 1.3")]
    #[case(&["--redundancy", "-1"], "--redundancy: found -1;")]
    #[case(&["--redundancy", "nan"], "--redundancy: found NaN;")]
    #[case(&["--redundancy", "much"], "invalid value 'much'")]
    #[case(&["--standards", "asce7-9"], "--standards: found \"asce7-9\"; expected editions out of")]
    #[case(&["--standards", "asce7-10,asce7-22"], "two editions of one standard")]
    #[case(&["--method", "lfrd"], "invalid value 'lfrd'")]
    #[case(&["--format", "text"], "[possible values: terminal, markdown, html, json]")]
    #[case(&["--units", "imperial"], "[possible values: us, si, both]")]
    #[case(&["--standards-dir", "/nowhere/at/all"], "/nowhere/at/all: cannot be read")]
    fn an_option_is_named_with_what_was_expected(#[case] options: &[&str], #[case] told: &str) {
        let house = demo();
        let mut args = vec!["screen", house.as_str()];
        args.extend(options);
        let refused = refused(&args);
        assert!(refused.contains(told), "{refused}");
    }

    #[rstest]
    #[case("dead-loads", "figures.csv", "psf,", "furlong,", "figures.csv, line")]
    #[case("dead-loads", "figures.csv", "psf,", "lb,", "expected a unit of another kind")]
    #[case("dead-loads", "edition.json", "{", "{\"shade\": 1,", "edition.json")]
    #[case("dead-loads", "sources.csv", "source,", "sauce,", "sources.csv")]
    fn a_faulty_table_is_named_with_its_place(
        #[case] id: &str,
        #[case] file: &str,
        #[case] old: &str,
        #[case] new: &str,
        #[case] told: &str,
    ) {
        let (_folder, own) = own_edition(id, "ours", file, old, new);
        let refused = refused(&["screen", &demo(), "--standards-dir", &own]);
        assert!(refused.contains(told) && refused.contains("ours"), "{refused}");
    }

    #[test]
    fn a_negative_dead_load_is_no_load() {
        let text = fs::read_to_string(root().join("tables/standards/dead-loads/figures.csv")).unwrap();
        let row = text
            .lines()
            .find(|line| line.starts_with("subfloor"))
            .unwrap()
            .to_owned();
        let mut cells: Vec<&str> = row.split(',').collect();
        let negative = format!("-{}", cells[3]);
        cells[3] = &negative;
        let (_folder, own) = own_edition("dead-loads", "ours", "figures.csv", &row, &cells.join(","));
        let refused = refused(&["screen", &demo(), "--standards-dir", &own]);
        assert!(
            refused.contains(&format!("found {negative:?}; expected a number from 0")),
            "{refused}"
        );
        assert!(
            refused.contains("figures.csv") && refused.contains("column \"value\""),
            "{refused}"
        );
    }

    #[test]
    fn a_link_or_a_folder_inside_a_folder_is_refused_as_in_provisions() {
        let (_folder, own) = own_edition("dead-loads", "ours", "figures.csv", "psf", "psf");
        fs::create_dir(Path::new(&own).join("inside")).unwrap();
        let refused = refused(&["screen", &demo(), "--standards-dir", &own]);
        assert!(refused.contains("found a folder inside a set"), "{refused}");
    }

    #[test]
    fn two_editions_of_ones_own_for_one_standard_have_to_be_told_apart() {
        let (_first, ours) = own_edition("dead-loads", "ours", "figures.csv", "psf", "psf");
        let (_second, theirs) = own_edition("dead-loads", "theirs", "figures.csv", "psf", "psf");
        let house = demo();
        let both = [
            "screen",
            &house,
            "--standards-dir",
            &ours,
            "--standards-dir",
            &theirs,
        ];
        assert!(refused(&both).contains("name one of them with --standards"));
        let mut named = both.to_vec();
        named.extend(["--standards", "theirs"]);
        assert!(printed(&named, 1).contains("not a design"));
    }

    #[test]
    fn a_house_file_with_a_fault_is_shown_where_it_is() {
        let (_folder, house) = changed("quince-lantern-way", |record| {
            record["site"]["s_ds"] = json!({"reported": -1.5});
        });
        let refused = refused(&["screen", &house]);
        assert!(refused.contains("site.s_ds"), "{refused}");
    }

    #[test]
    fn a_site_class_that_takes_a_study_leaves_only_the_ladder() {
        let (_folder, house) = changed("quince-lantern-way", |record| {
            record["site"]["s_ds"] = json!({"unknown": "no report"});
            record["site"]["s_s"] = json!({"reported": 1.5});
            record["site"]["site_class"] = json!({"reported": "F"});
        });
        let text = printed(&["screen", "--format", "json", &house], 1);
        let result: Value = serde_json::from_str(&text).unwrap();
        assert_eq!(result["found"]["shaking"], Value::Null);
        assert!(!result["found"]["shaking_unknown"].as_str().unwrap().is_empty());
        assert!(!result["found"]["ladder"].as_array().unwrap().is_empty());
    }

    #[test]
    fn a_house_without_an_outline_is_not_screened() {
        let (_folder, house) = changed("quince-lantern-way", |record| {
            record["building"].as_object_mut().unwrap().remove("outline");
        });
        assert!(printed(&["screen", &house], 2).contains("no outline"));
    }

    #[test]
    fn the_house_file_is_never_replaced() {
        let (_folder, house) = changed("quince-lantern-way", |_| {});
        let before = fs::read(&house).unwrap();
        let refused = refused(&["screen", &house, "--out", &house]);
        assert!(refused.contains("found the house file itself"), "{refused}");
        assert_eq!(fs::read(&house).unwrap(), before);
    }
}

mod explain {
    use super::*;

    #[test]
    fn a_link_down_to_what_was_measured() {
        let text = printed(
            &[
                "explain",
                "floor_connection",
                "--house",
                &demo(),
                "--wall",
                "north",
            ],
            0,
        );
        for words in [
            "D/C = ",
            "A = 1,152 sq ft (107 sq m)",
            "building.outline, measured",
            "ASCE 7-16",
            "= C_s × W",
        ] {
            assert!(text.contains(words), "{words}");
        }
    }

    #[test]
    fn numbers_of_the_house_and_of_a_direction_in_units_asked_for() {
        assert!(
            printed(&["explain", "weight", "--house", &demo(), "--units", "us"], 0)
                .contains("W = 78,033 lb:")
        );
        let shear = [
            "explain",
            "base-shear",
            "--house",
            &demo(),
            "--direction",
            "east-west",
            "--units",
            "si",
        ];
        assert!(printed(&shear, 0).contains("V = 80.102 kN"));
        let coefficient = [
            "explain",
            "coefficient",
            "--house",
            &demo(),
            "--direction",
            "north-south",
        ];
        assert!(printed(&coefficient, 0).contains("C_s = 0.23077"));
        let older = ["explain", "weight", "--house", &demo(), "--standards", "asce7-10"];
        assert!(printed(&older, 0).contains("ASCE 7-10"));
    }

    #[test]
    fn without_a_name_it_lists_what_there_is() {
        let text = printed(&["explain", "--house", &demo()], 0);
        for name in [
            "base-shear",
            "sill_anchors",
            "Wall lines: north, east, south, west",
        ] {
            assert!(text.contains(name), "{name}");
        }
    }

    #[test]
    fn for_a_machine_every_line_is_after_those_it_uses() {
        let text = printed(&["explain", "weight", "--house", &demo(), "--format", "json"], 0);
        let result: Value = serde_json::from_str(&text).unwrap();
        let lines = result["lines"].as_array().unwrap();
        assert_eq!(lines.last().unwrap()["symbol"], "W");
        for (place, line) in lines.iter().enumerate() {
            for input in line["inputs"].as_array().unwrap() {
                assert!(usize::try_from(input.as_u64().unwrap()).unwrap() < place);
            }
        }
    }

    #[rstest]
    #[case(&["sill_anchors"], "name one with --wall: north, east, south, west")]
    #[case(&["sill_anchors", "--wall", "nroth"], "found the wall line \"nroth\"; expected one of north")]
    #[case(&["sill_anchors", "--wall", "north"], "no capacity: no anchor holds the sill")]
    #[case(&["base-shear"], "name one with --direction")]
    #[case(&["weight", "--wall", "north"], "leave --wall out")]
    #[case(&["base-sheer", "--direction", "east-west"], "did you mean \"base-shear\"?")]
    fn what_is_missing_or_wrong_is_named(#[case] args: &[&str], #[case] told: &str) {
        let house = demo();
        let mut all = vec!["explain", "--house", house.as_str()];
        all.extend(args);
        let refused = refused(&all);
        assert!(refused.contains(told), "{refused}");
    }

    #[test]
    fn a_wall_line_without_a_house_is_bad_usage() {
        assert!(refused(&["explain", "sill_anchors", "--wall", "north"]).contains("--house"));
    }
}

mod in_reports {
    use super::*;

    #[test]
    fn verdict_and_screen_stand_side_by_side_in_every_format() {
        let house = example("larch-harbor-way");
        let text = printed(&["check", &house], 0);
        let flowing = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flowing.contains("Engineering screen"));
        assert!(flowing.contains("no check asks for hold-downs"), "{flowing}");
        let result: Value =
            serde_json::from_str(&printed(&["check", "--format", "json", &house], 0)).unwrap();
        let rows = result["screen"]["rows"].as_array().unwrap();
        let lines: usize = rows
            .iter()
            .map(|row| row["wall_lines"].as_array().unwrap().len())
            .sum();
        assert_eq!(lines, result["wall_lines"].as_array().unwrap().len());
        for row in rows {
            assert_eq!(row["agree"], json!(false));
            assert!(row["why"].as_str().unwrap().ends_with('.'));
        }
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().to_str().unwrap();
        printed(&["report", &house, "--out", out], 0);
        for file in ["larch-harbor-way.html", "larch-harbor-way.md"] {
            let text = fs::read_to_string(folder.path().join(file)).unwrap();
            assert!(text.contains("Engineering screen"), "{file}");
        }
    }

    #[test]
    fn a_house_that_is_not_screened_gets_one_sentence() {
        let text = printed(
            &["check", "--format", "json", &example("cinder-alder-terrace")],
            2,
        );
        let result: Value = serde_json::from_str(&text).unwrap();
        assert_eq!(result["screen"]["is_screened"], json!(false));
        let about = result["screen"]["about"].as_str().unwrap();
        assert!(about.starts_with("This house is not screened:"), "{about}");
    }
}
