//! Bad input: each file of `tests/bad-input` with the message and the exit code that `expected.csv` asks for,
//! and what cannot be kept as a file: directories, files of 100 MB, places that cannot be written.

#![cfg(test)]

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

fn corpus() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/bad-input")
}

/// Runs the program in a folder.
fn retrofit(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_retrofit"))
        .current_dir(folder)
        .args(args)
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

fn told(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn names_in(folder: &Path) -> BTreeSet<String> {
    let entries = fs::read_dir(folder).unwrap();
    entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect()
}

#[derive(Debug)]
struct Expected {
    file: String,
    exit_code: i32,
    message_holds: Vec<String>,
}

fn expectations() -> Vec<Expected> {
    let mut reader = csv::Reader::from_path(corpus().join("expected.csv")).unwrap();
    let rows = reader.records().map(|row| {
        let row = row.unwrap();
        Expected {
            file: row[0].to_owned(),
            exit_code: row[1].parse().unwrap(),
            message_holds: row[2]
                .split(" | ")
                .filter(|part| !part.is_empty())
                .map(str::to_owned)
                .collect(),
        }
    });
    rows.collect()
}

#[test]
fn every_file_of_the_corpus_has_its_expectation() {
    let mut files = names_in(&corpus());
    files.remove("expected.csv");
    let expected: BTreeSet<String> = expectations().into_iter().map(|it| it.file).collect();
    assert_eq!(files, expected);
}

#[test]
fn each_file_gives_its_message_and_exit_code() {
    let mut wrong = Vec::new();
    for expected in expectations() {
        let output = retrofit(&corpus(), &["check", "--color", "never", &expected.file]);
        let message = told(&output);
        if output.status.code() != Some(expected.exit_code) {
            wrong.push(format!("{}: {:?}\n{message}", expected.file, output.status));
        }
        for part in &expected.message_holds {
            if !message.contains(part.as_str()) {
                wrong.push(format!("{}: no {part:?} in\n{message}", expected.file));
            }
        }
        if expected.message_holds.is_empty() != message.is_empty() {
            wrong.push(format!("{}: {message:?}", expected.file));
        }
        // A picture stays a picture: no escape sequences, and no line that runs off the screen.
        let picture = message.lines().filter(|line| line.contains(" | "));
        if message.contains('\u{1b}') || picture.into_iter().any(|line| line.chars().count() > 120) {
            wrong.push(format!(
                "{}: a picture that cannot be shown\n{message}",
                expected.file
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_report_of_a_bad_file_is_not_begun() {
    let folder = tempfile::tempdir().unwrap();
    for expected in expectations().iter().filter(|expected| expected.exit_code == 3) {
        let house = corpus().join(&expected.file);
        let output = retrofit(
            folder.path(),
            &["report", house.to_str().unwrap(), "--out", "reports"],
        );
        assert_eq!(output.status.code(), Some(3), "{}", expected.file);
        assert!(names_in(folder.path()).is_empty(), "{}", expected.file);
    }
}

#[test]
fn a_cut_at_any_place_is_refused_and_never_a_panic() {
    let folder = tempfile::tempdir().unwrap();
    let whole = fs::read(corpus().join("../../examples/quince-lantern-way.json")).unwrap();
    // Every place takes too long; a stride without a common measure with the lines meets every kind of place.
    for length in (0..whole.len() - 2).step_by(331) {
        fs::write(folder.path().join("cut.json"), &whole[..length]).unwrap();
        let output = retrofit(folder.path(), &["check", "cut.json"]);
        assert_eq!(output.status.code(), Some(3), "cut at {length}");
        assert!(told(&output).contains("cut.json"), "cut at {length}");
    }
}

#[test]
fn a_directory_is_no_house() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("houses")).unwrap();
    let output = retrofit(folder.path(), &["check", "houses"]);
    assert_eq!(output.status.code(), Some(3));
    assert!(
        told(&output).contains("houses: found a directory; expected a file"),
        "{}",
        told(&output)
    );
}

#[test]
fn a_missing_file_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let output = retrofit(folder.path(), &["check", "nowhere.json"]);
    assert_eq!(output.status.code(), Some(3));
    assert!(
        told(&output).contains("nowhere.json: cannot be read"),
        "{}",
        told(&output)
    );
}

#[test]
fn a_bad_house_does_not_keep_the_others_from_being_checked() {
    let good = "../../examples/quince-lantern-way.json";
    let output = retrofit(&corpus(), &["check", "truncated.json", good]);
    assert_eq!(output.status.code(), Some(3));
    assert!(String::from_utf8_lossy(&output.stdout).contains("Quince Lantern Way"));
}

#[test]
fn a_file_of_100_mb_is_refused_before_it_is_read() {
    let folder = tempfile::tempdir().unwrap();
    let file = File::create(folder.path().join("huge.json")).unwrap();
    file.set_len(100 << 20).unwrap();
    drop(file);
    let start = Instant::now();
    let output = retrofit(folder.path(), &["check", "huge.json"]);
    assert_eq!(output.status.code(), Some(3));
    let message = told(&output);
    assert!(
        message.contains("huge.json: found 100 MB; expected at most 64 MB"),
        "{message}"
    );
    // Reading 100 MB and looking for the first byte that is no JSON would take longer even on a fast disk;
    // the limit leaves room for a busy machine.
    assert!(start.elapsed() < Duration::from_secs(2), "{:?}", start.elapsed());
}

#[test]
fn a_pipe_of_100_mb_is_refused_at_the_limit() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_retrofit"))
        .args(["check", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut pipe = child.stdin.take().unwrap();
    let blanks = vec![b' '; 1 << 20];
    let mut written = 0;
    while written < 100 && pipe.write_all(&blanks).is_ok() {
        written += 1;
    }
    drop(pipe);
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(3));
    let message = told(&output);
    assert!(
        message.contains("standard input: found more than 64 MB; expected at most 64 MB"),
        "{message}"
    );
    assert!(written < 100, "the program read on beyond its limit");
}

/// Places that cannot be written to: a directory, a file inside a file, a folder that is not there.
#[test]
fn an_output_that_cannot_be_written_is_named_and_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let house = corpus().join("../../examples/quince-lantern-way.json");
    let house = house.to_str().unwrap();
    fs::create_dir(folder.path().join("taken")).unwrap();
    fs::write(folder.path().join("file"), "not a folder").unwrap();
    let before = names_in(folder.path());
    for (option, place, message) in [
        (
            "--html",
            "taken",
            "taken: cannot be written: it is a directory; name a file",
        ),
        ("--markdown", "file/report.md", "file is a file, not a folder"),
        (
            "--json",
            "nowhere/report.json",
            "the folder nowhere does not exist",
        ),
        ("--out", "file", "file is a file, not a folder"),
        ("--out", "file/reports", "file is a file, not a folder"),
    ] {
        let output = retrofit(folder.path(), &["report", house, option, place]);
        assert_eq!(output.status.code(), Some(3), "{option} {place}");
        assert!(
            told(&output).contains(message),
            "{option} {place}: {}",
            told(&output)
        );
        assert_eq!(names_in(folder.path()), before, "{option} {place}");
        assert!(
            names_in(&folder.path().join("taken")).is_empty(),
            "{option} {place}"
        );
    }
    assert_eq!(
        fs::read_to_string(folder.path().join("file")).unwrap(),
        "not a folder"
    );
}

#[test]
fn a_report_never_replaces_the_house_file() {
    let folder = tempfile::tempdir().unwrap();
    let text = include_str!("../examples/quince-lantern-way.json");
    fs::write(folder.path().join("house.json"), text).unwrap();
    let output = retrofit(folder.path(), &["report", "house.json", "--json", "./house.json"]);
    assert_eq!(output.status.code(), Some(3));
    assert!(
        told(&output).contains("found the house file itself"),
        "{}",
        told(&output)
    );
    assert_eq!(
        fs::read_to_string(folder.path().join("house.json")).unwrap(),
        text
    );
}

#[test]
fn a_name_twice_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let house = corpus().join("../../examples/quince-lantern-way.json");
    let args = [
        "report",
        house.to_str().unwrap(),
        "--html",
        "a",
        "--markdown",
        "a",
    ];
    let output = retrofit(folder.path(), &args);
    assert_eq!(output.status.code(), Some(3));
    assert!(names_in(folder.path()).is_empty());
}

/// Tables of a user's own that are not in order.
mod tables {
    use super::*;

    const HEAD: &str = r#"{"id": "our-city-2026", "title": "Our City (2026)", "document": "Our City Ordinance 1",
        "edition": "2026", "extends": "cebc-a3-2013"}"#;
    const SOURCES: &str = "source,document,edition,publisher,where,seen_on,note\n\
        our-ordinance,Our City Ordinance 1,2026,Our City,at the counter,2026-11-02,\n";
    const COLUMNS: &str = "figure,stories,weight,diameter,piece_over,piece_up_to,stud_over,stud_up_to,compare,\
        value,source,section,standing,note\n";

    /// A folder with one set in it.
    fn set(rows: &str) -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        let set = folder.path().join("our-city-2026");
        fs::create_dir(&set).unwrap();
        fs::write(set.join("set.json"), HEAD).unwrap();
        fs::write(set.join("sources.csv"), SOURCES).unwrap();
        fs::write(set.join("scope.csv"), format!("{COLUMNS}{rows}")).unwrap();
        folder
    }

    fn checked(folder: &Path) -> (Option<i32>, String) {
        let output = retrofit(folder, &["tables", "--check", "."]);
        let text = told(&output) + &String::from_utf8_lossy(&output.stdout);
        (output.status.code(), text)
    }

    #[test]
    fn a_folder_in_order_is_told_to_be() {
        let folder = set("max-slope,,,,,,,,,4H:1V,our-ordinance,Section 2,verified,\n");
        let (code, text) = checked(folder.path());
        assert_eq!(code, Some(0), "{text}");
        assert!(text.contains("our-city-2026: in order"), "{text}");
        let (code, text) = checked(&folder.path().join("our-city-2026"));
        assert_eq!(code, Some(0), "the folder of the set itself: {text}");
    }

    #[test]
    fn every_fault_is_told_with_file_line_and_column() {
        let folder = set("max-slop,,,,,,,,,4H:1V,our-ordinance,Section 2,verified,\n\
             max-stories,,,,,,,,,two,our-ordinance,Section 2,verified,\n\
             max-units,,,,,,,,,2,our-ordinanse,Section 2,verified,\n");
        let (code, text) = checked(folder.path());
        assert_eq!(code, Some(3));
        for part in [
            "scope.csv, line 2, column \"figure\"",
            "did you mean \"max-slope\"?",
            "scope.csv, line 3, column \"value\"",
            "scope.csv, line 4, column \"source\"",
            "did you mean \"our-ordinance\"?",
        ] {
            assert!(text.contains(part), "no {part:?} in {text}");
        }
    }

    #[test]
    fn a_folder_inside_a_set_is_refused() {
        let folder = set("");
        fs::create_dir(folder.path().join("our-city-2026/more")).unwrap();
        let (code, text) = checked(folder.path());
        assert_eq!(code, Some(3));
        assert!(text.contains("found a folder inside a set"), "{text}");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_refused() {
        let folder = set("");
        let place = folder.path().join("our-city-2026/anchorage.csv");
        std::os::unix::fs::symlink("scope.csv", place).unwrap();
        let (code, text) = checked(folder.path());
        assert_eq!(code, Some(3));
        assert!(text.contains("found a link"), "{text}");
    }

    /// Whoever opened the pipe would wait for ever.
    #[cfg(unix)]
    #[test]
    fn a_pipe_is_refused() {
        let folder = set("");
        let place = folder.path().join("our-city-2026/anchorage.csv");
        let made = Command::new("mkfifo").arg(place).status().unwrap();
        assert!(made.success());
        let (code, text) = checked(folder.path());
        assert_eq!(code, Some(3));
        assert!(text.contains("found a pipe or a device"), "{text}");
    }

    #[test]
    fn an_oversized_table_is_refused() {
        let folder = set("");
        let table = File::create(folder.path().join("our-city-2026/anchorage.csv")).unwrap();
        table.set_len(9 << 20).unwrap();
        let (code, text) = checked(folder.path());
        assert_eq!(code, Some(3));
        assert!(text.contains("found 9 MB; expected at most 8 MB"), "{text}");
    }

    #[test]
    fn a_folder_without_tables_and_a_file_are_refused() {
        let folder = tempfile::tempdir().unwrap();
        let (code, text) = checked(folder.path());
        assert_eq!(code, Some(3));
        assert!(text.contains("found no tables"), "{text}");

        fs::write(folder.path().join("file"), "").unwrap();
        let output = retrofit(folder.path(), &["tables", "--check", "file"]);
        assert_eq!(output.status.code(), Some(3));
        assert!(
            told(&output).contains("expected a folder of tables"),
            "{}",
            told(&output)
        );
    }

    #[test]
    fn an_unknown_set_comes_with_the_nearest_one() {
        let output = retrofit(&corpus(), &["check", "good-crlf.json", "-p", "cebc-a3-2012"]);
        assert_eq!(output.status.code(), Some(3));
        assert!(
            told(&output).contains("did you mean \"cebc-a3-2013\"?"),
            "{}",
            told(&output)
        );
    }
}
