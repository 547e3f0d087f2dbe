//! The command line as a user or a script meets it: help, exit codes, files, and output for machines.

#![cfg(test)]

mod program;

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use program::{command, interrupted, names_in, printed, run};
use retrofit_core::check::REGISTRY;
use retrofit_core::choice::Choice;
use retrofit_core::portfolio::{COLUMNS, ContextField};
use retrofit_core::provisions::{FigureName, Library};
use rstest::rstest;
use serde_json::{Value, json};

const VERBS: [&str; 19] = [
    "demo",
    "new",
    "check",
    "remedy",
    "report",
    "takeoff",
    "compare",
    "screen",
    "survey",
    "foundation",
    "triage",
    "map",
    "rank",
    "explain",
    "tables",
    "schema",
    "templates",
    "completions",
    "man",
];

fn run_in(folder: &Path, args: &[&str]) -> Output {
    command(args).current_dir(folder).output().unwrap()
}

fn printed_json(args: &[&str], exit_code: i32) -> Value {
    serde_json::from_str(&printed(args, exit_code)).unwrap()
}

fn example() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/quince-lantern-way.json")
}

/// A house file with one wall line, in a folder of its own.
fn house(wall_line: &Value) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.json");
    let house = json!({
        "format": "house-1", "name": "Tamarind Gate", "building": {"stories": 1},
        "wall_lines": [wall_line]
    });
    fs::write(&path, house.to_string()).unwrap();
    (folder, path)
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

mod help {
    use super::*;

    #[test]
    fn of_the_program() {
        insta::assert_snapshot!("help", printed(&["--help"], 0));
        insta::assert_snapshot!("help_short", printed(&["-h"], 0));
    }

    #[test]
    fn of_every_verb() {
        for verb in VERBS {
            insta::assert_snapshot!(format!("help_{verb}"), printed(&[verb, "--help"], 0));
        }
    }

    #[test]
    fn teaches_with_examples_that_are_commands_of_this_program() {
        for verb in VERBS {
            let help = printed(&["help", verb], 0);
            let (_, examples) = help
                .split_once("Examples:")
                .unwrap_or_else(|| panic!("{verb} has no examples"));
            let commands: Vec<&str> = examples
                .lines()
                .filter_map(|line| line.strip_prefix("  retrofit "))
                .collect();
            assert!(!commands.is_empty(), "{verb}");
            for command in commands {
                let first = command.split_whitespace().next().unwrap();
                assert!(VERBS.contains(&first), "{verb}: {command}");
            }
        }
    }

    #[test]
    fn tells_every_exit_code_and_whom_to_ask() {
        let help = printed(&["--help"], 0);
        for code in ["  0  ", "  1  ", "  2  ", "  3  ", "  4  "] {
            assert!(help.contains(code), "{code}");
        }
        let flowing = help.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flowing.contains("local code official"));
        assert!(flowing.contains("licensed engineer"));
    }
}

mod exit_codes {
    use super::*;

    #[test]
    fn without_a_verb_or_with_a_wrong_one_it_is_bad_usage() {
        for args in [
            &[][..],
            &["chek"],
            &["check"],
            &["check", "--formt", "json", "x"],
            &["schema", "hous"],
        ] {
            let output = run(args);
            assert_eq!(output.status.code(), Some(3), "{args:?}");
            assert!(output.stdout.is_empty() && !output.stderr.is_empty(), "{args:?}");
        }
    }

    #[test]
    fn one_where_it_is_not_met() {
        let (_folder, path) =
            house(&json!({"name": "north", "length": {"measured": "24 ft"}, "anchors": []}));
        printed(&["check", path.to_str().unwrap()], 1);
    }

    #[test]
    fn two_where_nothing_was_seen() {
        let (_folder, path) = house(&json!({"name": "north"}));
        printed(&["check", path.to_str().unwrap()], 2);
    }

    #[test]
    fn a_set_for_comparison_finds_nothing_met_or_not_met() {
        let (_folder, path) =
            house(&json!({"name": "north", "length": {"measured": "24 ft"}, "anchors": []}));
        printed(
            &["check", path.to_str().unwrap(), "-p", "crc-2013-new-construction"],
            2,
        );
    }

    #[test]
    fn the_strictest_of_several_houses_counts() {
        let (_folder, open) = house(&json!({"name": "north"}));
        let (_other_folder, short) =
            house(&json!({"name": "north", "length": {"measured": "24 ft"}, "anchors": []}));
        let (open, short) = (open.to_str().unwrap(), short.to_str().unwrap());
        printed(&["check", open, short], 1);
        printed(&["check", short, open], 1);
    }

    #[test]
    fn quiet_answers_by_the_exit_code_alone() {
        let output = run(&["check", "--quiet", example().to_str().unwrap()]);
        assert_eq!(output.status.code(), Some(1));
        assert!(output.stdout.is_empty() && output.stderr.is_empty());
    }
}

mod check {
    use super::*;

    #[test]
    fn a_house_can_come_from_standard_input() {
        let mut child = command(&["check", "-", "--format", "json"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        child
            .stdin
            .take()
            .unwrap()
            .write_all(&fs::read(example()).unwrap())
            .unwrap();
        let output = child.wait_with_output().unwrap();
        let result: Value = serde_json::from_slice(&output.stdout).unwrap();
        assert_eq!(result["house"], "Quince Lantern Way");
        assert_eq!(output.status.code(), Some(1));
    }

    #[test]
    fn the_result_is_what_its_schema_says() {
        let schema = printed_json(&["schema", "result"], 0);
        let result = printed_json(&["check", example().to_str().unwrap(), "--format", "json"], 1);
        let validator = jsonschema::validator_for(&schema).unwrap();
        let errors: Vec<String> = validator
            .iter_errors(&result)
            .map(|error| error.to_string())
            .collect();
        assert!(errors.is_empty(), "{errors:?}");
    }

    #[test]
    fn several_houses_give_a_list_and_several_sets_a_comparison() {
        let path = example();
        let path = path.to_str().unwrap();
        let list = printed_json(&["check", path, path, "--format", "json"], 1);
        assert_eq!(list.as_array().unwrap().len(), 2);
        let both = "cebc-a3-2013,iebc-a3-2021";
        let comparison = printed_json(&["check", path, "--format", "json", "-p", both], 1);
        let text = comparison.to_string();
        assert!(
            text.contains("cebc-a3-2013") && text.contains("iebc-a3-2021"),
            "{text}"
        );
    }

    #[test]
    fn the_same_house_gives_the_same_bytes_wherever_it_lies() {
        let folder = tempfile::tempdir().unwrap();
        fs::copy(example(), folder.path().join("quince-lantern-way.json")).unwrap();
        let here = run_in(
            folder.path(),
            &["check", "quince-lantern-way.json", "--format", "json"],
        );
        let there = printed(&["check", example().to_str().unwrap(), "--format", "json"], 1);
        assert_eq!(String::from_utf8(here.stdout).unwrap(), there);
    }

    #[test]
    fn color_comes_only_when_asked_for() {
        let path = example();
        let path = path.to_str().unwrap();
        assert!(!printed(&["check", path], 1).contains('\u{1b}'));
        assert!(printed(&["check", path, "--color", "always"], 1).contains('\u{1b}'));
        assert!(!printed(&["check", path, "--color", "never"], 1).contains('\u{1b}'));
    }

    /// `retrofit tables | head` must not end in a complaint.
    #[test]
    fn a_reader_who_has_seen_enough_gets_no_error() {
        let mut child = command(&["tables", "cebc-a3-2013"])
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let status = child.wait().unwrap();
        let mut told = String::new();
        child.stderr.take().unwrap().read_to_string(&mut told).unwrap();
        assert_eq!((status.code(), told.as_str()), (Some(0), ""));
    }
}

mod files {
    use super::*;

    #[test]
    fn the_demo_tells_the_verdict_and_writes_house_and_reports() {
        let folder = tempfile::tempdir().unwrap();
        let output = run_in(folder.path(), &["demo"]);
        assert_eq!(output.status.code(), Some(0));
        let told = String::from_utf8(output.stdout).unwrap();
        assert!(
            told.contains("Quince Lantern Way") && told.contains("not met"),
            "{told}"
        );
        let demo = folder.path().join("retrofit-demo");
        let files = [
            "quince-lantern-way.html",
            "quince-lantern-way.json",
            "quince-lantern-way.md",
            "quince-lantern-way.takeoff.md",
            "quince-lantern-way.worksheet.html",
            "quince-lantern-way.worksheet.md",
        ]
        .map(str::to_owned);
        assert_eq!(names(&demo), files);
        let remarks = String::from_utf8(output.stderr).unwrap();
        for file in files {
            assert!(
                remarks.contains(&format!("wrote retrofit-demo/{file}")),
                "{remarks}"
            );
        }
        assert_eq!(
            fs::read(demo.join("quince-lantern-way.json")).unwrap(),
            fs::read(example()).unwrap()
        );
    }

    #[test]
    fn the_demo_is_what_the_other_verbs_make_of_the_same_file() {
        let folder = tempfile::tempdir().unwrap();
        run_in(folder.path(), &["demo", "--out", "demo"]);
        run_in(
            folder.path(),
            &["report", "demo/quince-lantern-way.json", "--out", "report"],
        );
        for verb in ["remedy", "takeoff"] {
            run_in(
                folder.path(),
                &[verb, "demo/quince-lantern-way.json", "--out", "report"],
            );
        }
        for file in [
            "quince-lantern-way.html",
            "quince-lantern-way.md",
            "quince-lantern-way.takeoff.md",
            "quince-lantern-way.worksheet.html",
            "quince-lantern-way.worksheet.md",
        ] {
            let read = |of: &str| fs::read_to_string(folder.path().join(of).join(file)).unwrap();
            assert_eq!(read("demo"), read("report"), "{file}");
        }
    }

    #[test]
    fn a_report_goes_where_it_is_told() {
        let folder = tempfile::tempdir().unwrap();
        let house = example();
        let house = house.to_str().unwrap();
        run_in(folder.path(), &["report", house]);
        assert_eq!(
            names(folder.path()),
            ["quince-lantern-way.html", "quince-lantern-way.md"]
        );

        let folder = tempfile::tempdir().unwrap();
        run_in(
            folder.path(),
            &[
                "report",
                house,
                "--json",
                "a.json",
                "--markdown",
                "b.md",
                "--html",
                "c.html",
            ],
        );
        assert_eq!(names(folder.path()), ["a.json", "b.md", "c.html"]);
        let json: Value = serde_json::from_slice(&fs::read(folder.path().join("a.json")).unwrap()).unwrap();
        assert_eq!(json["verdict"]["ruling"], "not_met");
        let page = fs::read_to_string(folder.path().join("c.html")).unwrap();
        assert!(page.to_lowercase().starts_with("<!doctype html>"));
    }

    #[test]
    fn several_sets_give_a_report_each_and_one_side_by_side() {
        let folder = tempfile::tempdir().unwrap();
        let sets = "cebc-a3-2013,iebc-a3-2021";
        run_in(
            folder.path(),
            &["report", example().to_str().unwrap(), "-p", sets],
        );
        let expected = [
            "quince-lantern-way.cebc-a3-2013.html",
            "quince-lantern-way.cebc-a3-2013.md",
            "quince-lantern-way.html",
            "quince-lantern-way.iebc-a3-2021.html",
            "quince-lantern-way.iebc-a3-2021.md",
            "quince-lantern-way.md",
        ];
        assert_eq!(names(folder.path()), expected);
    }

    #[test]
    fn a_report_is_as_open_as_any_other_file() {
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let folder = tempfile::tempdir().unwrap();
            run_in(folder.path(), &["report", example().to_str().unwrap()]);
            fs::write(folder.path().join("other"), "").unwrap();
            let mode = |name: &str| {
                fs::metadata(folder.path().join(name))
                    .unwrap()
                    .permissions()
                    .mode()
            };
            assert_eq!(mode("quince-lantern-way.html"), mode("other"));
        }
    }

    #[test]
    fn the_manual_has_a_page_for_every_verb() {
        let folder = tempfile::tempdir().unwrap();
        let output = run_in(folder.path(), &["man", "--out", "man1"]);
        assert_eq!(output.status.code(), Some(0));
        let mut expected: Vec<String> = VERBS.iter().map(|verb| format!("retrofit-{verb}.1")).collect();
        expected.push("retrofit.1".to_owned());
        expected.sort();
        assert_eq!(names(&folder.path().join("man1")), expected);
        let page = fs::read_to_string(folder.path().join("man1/retrofit-check.1")).unwrap();
        assert!(page.contains(".TH retrofit-check 1"), "{page}");
        assert!(printed(&["man"], 0).contains(".TH retrofit 1"));
    }
}

mod explain {
    use super::*;

    #[test]
    fn every_check() {
        let list = printed(&["explain"], 0);
        for check in REGISTRY {
            assert!(list.contains(check.name), "{}", check.name);
            let page = printed(&["explain", check.name], 0);
            let flowing = page.split_whitespace().collect::<Vec<_>>().join(" ");
            for part in [
                check.title,
                check.explanation.why,
                check.explanation.fix,
                "Figures in cebc-a3-2013",
            ] {
                assert!(flowing.contains(part), "{}: {part}", check.name);
            }
            let result = printed_json(&["explain", check.name, "--format", "json"], 0);
            assert_eq!(result["name"], check.name);
            assert_eq!(result["why"], check.explanation.why);
        }
    }

    #[test]
    fn every_figure() {
        for figure in FigureName::ALL {
            let page = printed(&["explain", figure.spelling()], 0);
            assert!(page.starts_with(figure.spelling()), "{page}");
        }
    }

    /// Table A3-A of the 2013 California chapter: one story, 1/2-inch anchors at 6 ft.
    #[test]
    fn a_figure_comes_with_its_clause_and_standing() {
        let page = printed(&["explain", "anchor-spacing"], 0);
        let flowing = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flowing.contains("(1 story, 1/2\" anchors): 6'-0\""), "{page}");
        assert!(flowing.contains("Table A3-A; seen in the document"), "{page}");
    }

    #[test]
    fn a_misspelled_name_comes_with_the_nearest() {
        let output = run(&["explain", "anchor-spaceing"]);
        assert_eq!(output.status.code(), Some(3));
        assert!(String::from_utf8_lossy(&output.stderr).contains("did you mean \"anchor-spacing\"?"));
    }
}

mod tables {
    use super::*;

    #[test]
    fn every_set_is_listed_and_can_be_printed() {
        let list = printed(&["tables"], 0);
        let listed = printed_json(&["tables", "--format", "json"], 0);
        for (id, entry) in Library::shipped()
            .ids()
            .into_iter()
            .zip(listed.as_array().unwrap())
        {
            let set = Library::shipped().set(id).unwrap();
            assert!(list.contains(id), "{id}");
            assert_eq!(entry["id"], id);
            assert_eq!(entry["figures"], set.figures().len());
            let page = printed(&["tables", id], 0);
            assert_eq!(page.lines().next(), Some(id));
            let rows = printed_json(&["tables", id, "--format", "json"], 0);
            assert_eq!(rows.as_array().unwrap().len(), set.figures().len(), "{id}");
        }
    }

    /// The counts by standing account for every figure.
    #[test]
    fn no_figure_is_left_out_of_the_counts() {
        let listed = printed_json(&["tables", "--format", "json"], 0);
        let standings = [
            "verified",
            "attested",
            "secondary",
            "memory",
            "common_practice",
            "missing",
            "none",
        ];
        for set in listed.as_array().unwrap() {
            let sum: u64 = standings
                .iter()
                .map(|standing| set[standing].as_u64().unwrap())
                .sum();
            assert_eq!(sum, set["figures"].as_u64().unwrap(), "{set}");
        }
    }

    #[test]
    fn the_rows_of_a_table_are_also_a_spreadsheet() {
        let text = printed(&["tables", "cebc-a3-2013", "--format", "csv"], 0);
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let rows = reader.records().map(Result::unwrap).count();
        assert_eq!(
            rows,
            Library::shipped().set("cebc-a3-2013").unwrap().figures().len()
        );
    }

    #[test]
    fn one_figure_over_all_sets() {
        let rows = printed_json(&["tables", "--figure", "anchor-spacing", "--format", "json"], 0);
        let rows = rows.as_array().unwrap();
        assert!(rows.iter().all(|row| row["figure"] == "anchor-spacing"));
        assert!(rows.iter().any(|row| row["set"] == "cebc-a3-2013"));
        assert!(rows.iter().any(|row| row["set"] == "iebc-a3-2021"));
    }

    /// A user who has the document raises the standing of a figure, by name, in their own reports.
    #[test]
    fn an_attested_figure_is_shown_with_the_name_of_who_attested_it() {
        let folder = tempfile::tempdir().unwrap();
        let set = folder.path().join("cebc-a3-2013");
        fs::create_dir(&set).unwrap();
        fs::write(
            set.join("attested.csv"),
            "figure,stories,weight,diameter,piece_over,piece_up_to,stud_over,stud_up_to,value,document,edition,page,attested_by,attested_on\n\
             anchors-per-piece,,,,6 ft,12 ft,,,3,California Existing Building Code,2013,Table A3-B,A. Reader,2026-12-01\n",
        )
        .unwrap();
        let folder = folder.path().to_str().unwrap();
        let args = ["explain", "anchors-per-piece", "--tables", folder];
        let page = printed(&args, 0).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(page.contains("attested by A. Reader on 2026-12-01"), "{page}");

        let house = example();
        let house = house.to_str().unwrap();
        let to_confirm = |args: &[&str]| {
            let result = printed_json(args, 1);
            let figures = result["figures"].as_array().unwrap().iter();
            figures.filter(|figure| figure["trust"] == "confirm").count()
        };
        let before = to_confirm(&["check", house, "--format", "json"]);
        let after = to_confirm(&["check", house, "--format", "json", "--tables", folder]);
        assert!(before > after, "{before} {after}");
    }
}

mod triage {
    use super::*;

    const ROWS: &str = "id,stories,wall_length\nQ-1,1,24 ft\nQ-2,1,24\nQ-3,2,30 ft\n";

    fn portfolio() -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("houses.csv"), ROWS).unwrap();
        folder
    }

    /// Whoever stops a run finds the old file, or none, and beside it the rows that were done.
    #[cfg(unix)]
    #[rstest]
    #[case::interrupt("INT", 2)]
    #[case::request_to_end("TERM", 15)]
    fn an_interrupted_run_leaves_whole_rows_and_the_old_file(#[case] signal: &str, #[case] number: i32) {
        use std::os::unix::process::ExitStatusExt;
        use std::time::Duration;
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("verdicts.csv");
        fs::write(&out, "old").unwrap();
        let output = interrupted(
            &["triage", "-", "--out", out.to_str().unwrap()],
            ("id,stories,wall_length", |_| "Q-1,1,24 ft".to_owned()),
            (folder.path(), Duration::ZERO),
            signal,
        );
        assert_eq!(output.status.signal(), Some(number), "{}", output.status);
        assert_eq!(
            names_in(folder.path()),
            [
                "verdicts.csv",
                "verdicts.partial.csv",
                "verdicts.partial.csv.manifest.json"
            ]
        );
        assert_eq!(fs::read_to_string(&out).unwrap(), "old");
        let partial = fs::read_to_string(folder.path().join("verdicts.partial.csv")).unwrap();
        assert!(partial.starts_with("id,") && partial.ends_with('\n'));
        let told = String::from_utf8(output.stderr).unwrap();
        assert!(
            told.contains("verdicts.partial.csv, and --resume goes on from there"),
            "{told}"
        );
    }

    #[test]
    fn houses_come_out_as_they_went_in_and_a_bad_row_is_told() {
        let folder = portfolio();
        for args in [
            &["triage", "houses.csv"][..],
            &["triage", "houses.csv", "--quiet"],
        ] {
            let output = run_in(folder.path(), args);
            assert_eq!(output.status.code(), Some(3), "a row was left out");
            let told = String::from_utf8(output.stderr).unwrap();
            assert!(
                told.contains("houses.csv:3: column wall_length: found the bare number 24"),
                "{told}"
            );
            let ids: Vec<String> = csv::Reader::from_reader(output.stdout.as_slice())
                .records()
                .map(|row| row.unwrap()[0].to_owned())
                .collect();
            assert_eq!(ids, ["Q-1", "Q-3"]);
        }
    }

    #[test]
    fn json_lines_go_to_a_file() {
        let folder = portfolio();
        let args = [
            "triage",
            "houses.csv",
            "--format",
            "jsonl",
            "--out",
            "out.jsonl",
            "--bad-rows",
            "bad.csv",
        ];
        let output = run_in(folder.path(), &args);
        assert_eq!(output.status.code(), Some(3));
        let lines = fs::read_to_string(folder.path().join("out.jsonl")).unwrap();
        let houses: Vec<Value> = lines
            .lines()
            .map(|line| serde_json::from_str(line).unwrap())
            .collect();
        assert_eq!(houses.len(), 2);
        assert!(
            fs::read_to_string(folder.path().join("bad.csv"))
                .unwrap()
                .contains("wall_length")
        );
    }

    #[test]
    fn houses_may_come_from_standard_input() {
        use std::io::Write as _;
        use std::process::Stdio;
        let mut child = Command::new(env!("CARGO_BIN_EXE_retrofit"))
            .args(["triage", "-"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        child.stdin.take().unwrap().write_all(ROWS.as_bytes()).unwrap();
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(3));
        let told = String::from_utf8(output.stderr).unwrap();
        assert!(told.contains("standard input:3: column wall_length"), "{told}");
        assert_eq!(String::from_utf8(output.stdout).unwrap().lines().count(), 3);
    }

    #[test]
    fn more_threads_than_are_of_use_are_refused() {
        let folder = portfolio();
        // The header and two houses, or nothing at all.
        for (threads, lines) in [("0", 0), ("1", 3), ("256", 3), ("257", 0)] {
            let output = run_in(folder.path(), &["triage", "houses.csv", "--threads", threads]);
            assert_eq!(output.status.code(), Some(3), "{threads}");
            let printed = String::from_utf8(output.stdout).unwrap();
            assert_eq!(printed.lines().count(), lines, "{threads}");
        }
    }

    #[test]
    fn another_separator_is_named() {
        let folder = portfolio();
        for (separator, name) in [("\t", "tabs"), (";", "semicolons")] {
            fs::write(folder.path().join("other.csv"), ROWS.replace(',', separator)).unwrap();
            let output = run_in(folder.path(), &["triage", "other.csv"]);
            assert_eq!(output.status.code(), Some(3));
            let told = String::from_utf8(output.stderr).unwrap();
            assert!(told.contains(name) && told.contains("expected commas"), "{told}");
        }
    }

    #[test]
    fn the_input_is_never_replaced_by_the_result() {
        let folder = portfolio();
        for option in ["--out", "--bad-rows", "--wall-lines"] {
            let output = run_in(folder.path(), &["triage", "houses.csv", option, "./houses.csv"]);
            assert_eq!(output.status.code(), Some(3), "{option}");
            assert!(
                String::from_utf8_lossy(&output.stderr).contains("the same file twice"),
                "{option}"
            );
            assert_eq!(
                fs::read_to_string(folder.path().join("houses.csv")).unwrap(),
                ROWS,
                "{option}"
            );
        }
    }

    #[test]
    fn a_directory_is_neither_input_nor_output() {
        let folder = portfolio();
        fs::create_dir(folder.path().join("taken")).unwrap();
        for args in [
            &["triage", "taken"][..],
            &["triage", "houses.csv", "--out", "taken"],
        ] {
            let output = run_in(folder.path(), args);
            assert_eq!(output.status.code(), Some(3), "{args:?}");
            assert!(
                String::from_utf8_lossy(&output.stderr).contains("a directory"),
                "{args:?}"
            );
        }
    }
}

mod schema {
    use super::*;

    #[test]
    fn of_a_comparison() {
        let schema = printed_json(&["schema", "comparison"], 0);
        let house = example();
        let args = [
            "check",
            house.to_str().unwrap(),
            "--format",
            "json",
            "-p",
            "cebc-a3-2013",
            "-p",
            "la-division-92-2018",
        ];
        let comparison = printed_json(&args, 1);
        let validator = jsonschema::validator_for(&schema).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&comparison)
            .map(|fault| fault.to_string())
            .collect();
        assert_eq!(faults, [""; 0]);
    }

    #[test]
    fn of_the_house_fits_the_example() {
        let schema = printed_json(&["schema", "house"], 0);
        let house: Value = serde_json::from_slice(&fs::read(example()).unwrap()).unwrap();
        assert!(jsonschema::validator_for(&schema).unwrap().is_valid(&house));
    }

    #[test]
    fn of_the_columns_names_each_of_them() {
        let schema = printed_json(&["schema", "columns"], 0);
        let page = printed(&["triage", "--columns"], 0);
        for column in &COLUMNS {
            assert!(schema["properties"][column.name].is_object(), "{}", column.name);
            assert!(page.contains(&format!("  {}: ", column.name)), "{}", column.name);
        }
        for field in ContextField::ALL {
            assert!(schema["properties"][field.spelling()].is_object(), "{field}");
            assert!(page.contains(&format!("  {}: ", field.spelling())), "{field}");
        }
        let validator = jsonschema::validator_for(&schema).unwrap();
        assert!(
            validator.is_valid(&json!({"id": "Q-17", "stories": "1", "x_ward": "3", "latitude": "37.5"}))
        );
        assert!(!validator.is_valid(&json!({"id": "Q-17", "storeys": "1"})));
        assert!(!validator.is_valid(&json!({"stories": "1"})));
    }
}

#[rstest]
#[case("bash")]
#[case("zsh")]
#[case("fish")]
#[case("elvish")]
#[case("powershell")]
fn completions_know_every_verb(#[case] shell: &str) {
    let script = printed(&["completions", shell], 0);
    for verb in VERBS {
        assert!(script.contains(verb), "{verb}");
    }
}

mod remedy {
    use super::*;

    fn is_described(by: &str, result: &Value) {
        let schema = printed_json(&["schema", by], 0);
        let validator = jsonschema::validator_for(&schema).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(result)
            .map(|fault| fault.to_string())
            .collect();
        assert_eq!(faults, [""; 0]);
    }

    /// A wall line that lacks anchors and panels and can have both.
    fn bare() -> (tempfile::TempDir, PathBuf) {
        house(&json!({
            "name": "north <b>", "length": {"measured": "52'-0\""},
            "foundation": [{"kind": "concrete", "condition": "sound"}],
            "anchors": [], "panels": [], "openings": [],
            "cripple_wall": [{"height": {"measured": "2'-0\""}, "stud_spacing": "16 in"}]
        }))
    }

    #[test]
    fn a_layout_for_everything_ends_with_0_and_one_without_with_2() {
        let (_folder, path) = bare();
        let text = printed(&["remedy", path.to_str().unwrap()], 0);
        let unbroken = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            unbroken.contains("Checked again with the work done, every check that it touches is met."),
            "{text}"
        );
        assert!(text.contains("licensed engineer"), "{text}");
        let brick = house(&json!({
            "name": "north", "length": {"measured": "24'-0\""}, "foundation": [{"kind": "brick"}], "anchors": []
        }));
        let text = printed(&["remedy", brick.1.to_str().unwrap()], 2);
        assert!(text.contains("No wall line has a layout"), "{text}");
    }

    #[test]
    fn for_a_machine_it_is_as_its_schema_says() {
        let (_folder, path) = bare();
        let path = path.to_str().unwrap();
        is_described(
            "worksheet",
            &printed_json(&["remedy", path, "--format", "json"], 0),
        );
        is_described(
            "takeoff",
            &printed_json(&["takeoff", path, "--format", "json"], 0),
        );
        let both = [
            "remedy",
            path,
            "--format",
            "json",
            "-p",
            "cebc-a3-2013,san-leandro-handout-2001",
        ];
        let both: Value = serde_json::from_slice(&run(&both).stdout).unwrap();
        is_described("worksheets", &both);
        assert_eq!(both["worksheets"].as_array().map(Vec::len), Some(2));
        assert_eq!(both["wall_lines"][0]["by_set"].as_array().map(Vec::len), Some(2));
    }

    #[test]
    fn worksheet_drawings_and_lists_are_written_and_hold_no_mark_of_the_user() {
        let (folder, path) = bare();
        let path = path.to_str().unwrap();
        let work = ["remedy", path, "--out", "permit", "--drawings", "permit"];
        assert_eq!(run_in(folder.path(), &work).status.code(), Some(0));
        let order = ["takeoff", path, "--out", "permit"];
        assert_eq!(run_in(folder.path(), &order).status.code(), Some(0));
        let written = names(&folder.path().join("permit"));
        for name in [
            "house.cutting.csv",
            "house.details-1.dxf",
            "house.elevation-1.svg",
            "house.plan.dxf",
            "house.plan.svg",
            "house.takeoff.csv",
            "house.takeoff.md",
            "house.worksheet.html",
            "house.worksheet.md",
        ] {
            assert!(
                written.iter().any(|other| other == name),
                "{name} is not among {written:?}"
            );
        }
        for name in ["house.worksheet.html", "house.elevation-1.svg"] {
            let text = fs::read_to_string(folder.path().join("permit").join(name)).unwrap();
            assert!(!text.contains("<b>\n") && !text.contains("north <b>"), "{name}");
        }
        let again = run_in(
            folder.path(),
            &["remedy", path, "--out", "again", "--drawings", "again"],
        );
        assert_eq!(again.status.code(), Some(0));
        for name in names(&folder.path().join("again")) {
            let bytes = |folder_name: &str| fs::read(folder.path().join(folder_name).join(&name)).unwrap();
            assert!(
                bytes("permit") == bytes("again"),
                "{name} differs from run to run"
            );
        }
    }

    #[test]
    fn prices_of_ones_own_are_taken_or_refused_where_they_are_wrong() {
        let (folder, path) = bare();
        let shipped =
            Path::new(env!("CARGO_MANIFEST_DIR")).join("../tables/unit-prices-placeholder/prices.csv");
        let text = fs::read_to_string(shipped).unwrap();
        let own = folder.path().join("own.csv");
        let cost = |text: &str| {
            fs::write(&own, text).unwrap();
            let args = [
                "remedy",
                path.to_str().unwrap(),
                "--prices",
                own.to_str().unwrap(),
                "--format",
                "json",
            ];
            printed_json(&args, 0)["cost"]["likely"].clone()
        };
        let dearer = text.replace("each,60,72,84", "each,60,80,84");
        assert_ne!(dearer, text);
        assert_ne!(cost(&dearer), cost(&text));
        fs::write(
            &own,
            text.replace("adhesive_anchor,each,60,72,84", "adhesive_anchor,each,60,-72,84"),
        )
        .unwrap();
        for verb in ["remedy", "takeoff"] {
            let output = run(&[verb, path.to_str().unwrap(), "--prices", own.to_str().unwrap()]);
            let told = String::from_utf8_lossy(&output.stderr);
            assert_eq!(output.status.code(), Some(3), "{told}");
            assert!(
                told.contains("own.csv, line 3, column \"material_likely\""),
                "{told}"
            );
            let output = run(&[verb, path.to_str().unwrap(), "--prices", "no-such-file.csv"]);
            assert_eq!(output.status.code(), Some(3));
        }
    }

    #[test]
    fn no_page_of_it_says_safe() {
        let (_folder, path) = bare();
        for verb in ["remedy", "takeoff"] {
            let text = printed(&[verb, path.to_str().unwrap()], 0).to_lowercase();
            assert!(
                !text
                    .split(|c: char| !c.is_alphabetic())
                    .any(|word| word == "safe"),
                "{text}"
            );
        }
    }
}

/// A wall line that got another name is told of, and what has no layout is not said to cost nothing.
mod what_is_left_out_is_said {
    use super::*;

    fn brick(name: &str) -> (tempfile::TempDir, PathBuf) {
        house(&json!({
            "name": name, "length": "20 ft", "anchors": [], "cripple_wall": [],
            "foundation": [{"kind": "brick", "condition": "crumbling"}]
        }))
    }

    #[test]
    fn a_renamed_wall_line_is_told_from_both_records() {
        let (_found, found) = brick("north");
        let (_built, built) = brick("rear");
        let output = run(&[
            "compare",
            found.to_str().unwrap(),
            built.to_str().unwrap(),
            "--format",
            "json",
        ]);
        let told: Value = serde_json::from_slice(&output.stdout).unwrap();
        let warnings = told["warnings"].to_string();
        assert!(warnings.contains("of the earlier one: north."), "{warnings}");
        assert!(warnings.contains("of the later one: rear."), "{warnings}");
    }

    #[test]
    fn a_house_without_a_layout_has_no_cost() {
        let (_folder, path) = brick("north");
        let told = printed_json(&["remedy", path.to_str().unwrap(), "--format", "json"], 2);
        assert_eq!(told["cost"]["likely"], "Not known");
    }
}
