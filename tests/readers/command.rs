//! `retrofit report --for`.

use std::process::{Command, Output};

use retrofit_report::readers;
use rstest::rstest;
use serde_json::Value;

use super::examples;

fn retrofit(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_retrofit"))
        .args(arguments)
        .current_dir(examples())
        .output()
        .unwrap()
}

#[test]
fn all_pages_come_from_one_command_in_the_language_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let run = retrofit(&[
        "report",
        "quince-lantern-way.json",
        "--for",
        "all",
        "--language",
        "es",
        "--out",
        out,
    ]);
    assert_eq!(
        run.status.code(),
        Some(1),
        "{}",
        String::from_utf8_lossy(&run.stderr)
    );
    let mut files: Vec<String> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    files.sort();
    let expected = ["assessor", "crew", "engineer", "owner", "permit"]
        .iter()
        .flat_map(|reader| ["html", "md"].map(|kind| format!("quince-lantern-way.{reader}.{kind}")))
        .chain(["quince-lantern-way.result.json".to_owned()]);
    assert_eq!(files, expected.collect::<Vec<_>>());
    let owner = std::fs::read_to_string(folder.path().join("quince-lantern-way.owner.html")).unwrap();
    assert!(owner.contains("Qué se encontró"));
}

/// What a machine is given is what its schema says.
#[test]
fn pages_for_a_machine_fit_their_schemas() {
    let folder = tempfile::tempdir().unwrap();
    for (reader, schema) in [
        ("owner", readers::owner_schema()),
        ("assessor", readers::assessor_schema()),
        ("crew", readers::crew_schema()),
    ] {
        let file = folder.path().join(format!("{reader}.json"));
        let json = file.to_str().unwrap();
        let run = retrofit(&[
            "report",
            "sorrel-ferry-street.json",
            "--for",
            reader,
            "--json",
            json,
        ]);
        assert_eq!(
            run.status.code(),
            Some(2),
            "{}",
            String::from_utf8_lossy(&run.stderr)
        );
        let page: Value = serde_json::from_str(&std::fs::read_to_string(&file).unwrap()).unwrap();
        let validator = jsonschema::validator_for(&serde_json::from_str(&schema).unwrap()).unwrap();
        let errors: Vec<String> = validator
            .iter_errors(&page)
            .map(|error| error.to_string())
            .collect();
        assert!(errors.is_empty(), "{errors:?}");
    }
    let whole = super::result("sorrel-ferry-street").json();
    let validator = jsonschema::validator_for(&serde_json::from_str(&readers::schema()).unwrap()).unwrap();
    assert!(validator.is_valid(&serde_json::from_str(&whole).unwrap()));
}

#[rstest]
#[case(&["--language", "ess", "--for", "owner"], "found `ess`; expected one of en, es; did you mean `es`?")]
#[case(&["--for", "neighbor"], "neighbor")]
#[case(&["--language", "es"], "--for <READER>")]
#[case(&["--for", "all", "--html", "page.html"], "expected --out with a folder")]
#[case(&["--for", "owner", "-p", "cebc-a3-2013,la-division-92-2018"], "found several sets")]
fn what_cannot_be_done_is_told(#[case] arguments: &[&str], #[case] expected: &str) {
    let run = retrofit(&[&["report", "quince-lantern-way.json"], arguments].concat());
    let told = String::from_utf8_lossy(&run.stderr).into_owned();
    assert_eq!(run.status.code(), Some(3), "{told}");
    assert!(told.contains(expected), "{told}");
}
