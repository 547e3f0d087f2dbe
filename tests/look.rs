//! Templates, letterhead and photographs of the user's own, as the command line takes them.

#![cfg(test)]

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const HOUSE: &str = "../examples/quince-lantern-way.json";

fn retrofit(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_retrofit"))
        .args(arguments)
        .current_dir(folder)
        .output()
        .unwrap()
}

/// A folder with the house of the demonstration in it.
fn with_house() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let house = Path::new(env!("CARGO_MANIFEST_DIR")).join(HOUSE);
    fs::copy(house, folder.path().join("house.json")).unwrap();
    folder
}

fn told(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn our_templates_are_written_out_changed_and_used() {
    let folder = with_house();
    let here = folder.path();
    let written = retrofit(here, &["templates", "ours", "style.css"]);
    assert_eq!(written.status.code(), Some(0), "{}", told(&written));
    let style = here.join("ours/style.css");
    let text = fs::read_to_string(&style).unwrap();
    fs::write(&style, format!("{text}\n/* a mark of our own */\n")).unwrap();
    let again = retrofit(here, &["templates", "ours", "style.css"]);
    assert_eq!(
        again.status.code(),
        Some(3),
        "a file that is there is not written over"
    );
    let report = retrofit(here, &["report", "house.json", "--templates", "ours"]);
    assert_eq!(report.status.code(), Some(1), "{}", told(&report));
    let page = fs::read_to_string(here.join("house.html")).unwrap();
    assert!(page.contains("/* a mark of our own */"));
    let names = retrofit(here, &["templates"]);
    let names = String::from_utf8_lossy(&names.stdout).into_owned();
    assert!(names.contains("report.html\n") && !names.contains("head.html"));
}

/// Whatever is wrong with the look, the result is written, and the program says where and why.
#[test]
fn a_mistake_in_the_look_never_loses_the_result() {
    let folder = with_house();
    let here = folder.path();
    fs::create_dir(here.join("ours")).unwrap();
    fs::write(
        here.join("ours/report.html"),
        "{% include \"head.html\" %}\n{{ nothing_like_it }}\n",
    )
    .unwrap();
    fs::write(
        here.join("ours/worksheet.html"),
        "{% include \"head.html\" %}\n{{ nothing_like_it }}\n",
    )
    .unwrap();
    fs::write(here.join("head.toml"), "name = \"\"").unwrap();
    let cases: [(&[&str], &str, &str); 4] = [
        (
            &["report", "house.json", "--templates", "ours"],
            "house.result.json",
            "report.html:2:",
        ),
        (
            &["report", "house.json", "--letterhead", "head.toml"],
            "house.result.json",
            "head.toml: name",
        ),
        (
            &["remedy", "house.json", "--out", ".", "--templates", "ours"],
            "house.worksheet.result.json",
            "worksheet.html:2:",
        ),
        (
            &["demo", "--out", ".", "--templates", "ours"],
            "quince-lantern-way.result.json",
            "report.html:2:",
        ),
    ];
    for (arguments, kept, why) in cases {
        let output = retrofit(here, arguments);
        let words = told(&output);
        assert_eq!(output.status.code(), Some(3), "{arguments:?}: {words}");
        assert!(
            words.contains(why) && words.contains(kept),
            "{arguments:?}: {words}"
        );
        let result = fs::read_to_string(here.join(kept)).unwrap();
        let result: serde_json::Value = serde_json::from_str(&result).unwrap();
        assert!(
            result["house"].as_str() == Some("Quince Lantern Way"),
            "{arguments:?}"
        );
        fs::remove_file(here.join(kept)).unwrap();
        assert!(!here.join("house.html").exists(), "no half of a page");
    }
}

#[test]
fn photographs_come_from_beside_the_house_file() {
    let folder = with_house();
    let here = folder.path();
    let text = fs::read_to_string(here.join("house.json")).unwrap();
    let mut house: serde_json::Value = serde_json::from_str(&text).unwrap();
    house["photos"] =
        serde_json::json!([{"file": "north.png", "caption": "the north sill", "wall_line": "north"}]);
    fs::write(here.join("house.json"), house.to_string()).unwrap();
    let without = retrofit(
        here,
        &["report", "house.json", "--html", "a.html", "--json", "a.json"],
    );
    assert_eq!(without.status.code(), Some(3));
    let words = told(&without);
    assert!(
        words.contains("photos[0].file: north.png cannot be read") && words.contains("a.json"),
        "{words}"
    );
    assert!(here.join("a.json").exists() && !here.join("a.html").exists());
    fs::write(
        here.join("north.png"),
        [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a],
    )
    .unwrap();
    // From elsewhere the same: the folder is that of the house file.
    let elsewhere = tempfile::tempdir().unwrap();
    let path = here.join("house.json");
    let with = retrofit(elsewhere.path(), &["report", path.to_str().unwrap()]);
    assert_eq!(with.status.code(), Some(1), "{}", told(&with));
    let page = fs::read_to_string(elsewhere.path().join("house.html")).unwrap();
    assert!(page.contains("src=\"data:image/png;base64,") && page.contains("the north sill"));
}
