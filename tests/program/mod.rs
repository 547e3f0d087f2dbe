//! The program as a test runs it: what it prints, what it refuses, the files of the workspace it is given, and what it
//! leaves behind.
#![allow(dead_code, reason = "each test uses what it needs of it")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use retrofit_report::triage::Fingerprint;

pub(crate) fn command(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_retrofit"));
    // The width to which help is broken, on any machine.
    command.args(args).env("COLUMNS", "80").stdin(Stdio::null());
    command
}

pub(crate) fn run(args: &[&str]) -> Output {
    command(args).output().unwrap()
}

/// What a run prints that has to end with the exit code.
pub(crate) fn printed(args: &[&str], exit_code: i32) -> String {
    let output = run(args);
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(exit_code), "{args:?}: {told}");
    String::from_utf8(output.stdout).unwrap()
}

/// What is told on bad input, on one line: nothing is printed.
pub(crate) fn refused(args: &[&str]) -> String {
    let output = run(args);
    assert_eq!(output.status.code(), Some(3), "{args:?}");
    assert_eq!(String::from_utf8_lossy(&output.stdout), "", "{args:?}");
    let told = String::from_utf8(output.stderr).unwrap();
    told.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The names of what stands in a folder.
pub(crate) fn names_in(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// Whether a fingerprint is that of a file: by the library, over its whole content at once.
pub(crate) fn is_of(fingerprint: &Fingerprint, path: &Path) -> bool {
    let content = fs::read(path).unwrap();
    fingerprint.bytes == content.len() as u64
        && fingerprint.blake3 == blake3::hash(&content).to_hex().as_str()
}

/// What a run tells that gets a signal some time after it has begun, which is seen by a second file in its folder. Its
/// input, a header and rows by their numbers, has no end, so that it cannot come to its own.
#[cfg(unix)]
pub(crate) fn interrupted(
    args: &[&str],
    (header, row): (&'static str, fn(u64) -> String),
    (folder, after): (&Path, std::time::Duration),
    signal: &str,
) -> Output {
    use std::io::Write as _;
    use std::time::{Duration, Instant};
    let mut child = command(args)
        .stdin(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // It is written until nobody reads it.
    let mut input = child.stdin.take().unwrap();
    let writer = std::thread::spawn(move || {
        let mut write = |line: &str| writeln!(input, "{line}");
        write(header).unwrap();
        for number in 0.. {
            if write(&row(number)).is_err() {
                break;
            }
        }
    });
    let patience = Instant::now();
    while names_in(folder).len() < 2 {
        assert!(patience.elapsed() < Duration::from_mins(1), "nothing was begun");
        std::thread::sleep(Duration::from_millis(5));
    }
    std::thread::sleep(after);
    let pid = child.id().to_string();
    let sent = Command::new("kill").args(["-s", signal, &pid]).status().unwrap();
    assert!(sent.success());
    let output = child.wait_with_output().unwrap();
    writer.join().unwrap();
    output
}

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The house file of an example.
pub(crate) fn example(name: &str) -> String {
    let path = root().join(format!("examples/{name}.json"));
    path.to_str().unwrap().to_owned()
}

/// Copies a shipped edition of a standard into a folder under a name, with one text put for another in a file;
/// gives the path of the copy.
pub(crate) fn own_edition(folder: &Path, id: &str, name: &str, [file, old, new]: [&str; 3]) -> String {
    let own = folder.join(name);
    fs::create_dir(&own).unwrap();
    for entry in fs::read_dir(root().join("tables/standards").join(id)).unwrap() {
        let path = entry.unwrap().path();
        let mut text = fs::read_to_string(&path).unwrap();
        let file_name = path.file_name().unwrap().to_str().unwrap();
        if file_name == "edition.json" {
            text = text.replace(&format!("\"id\": \"{id}\""), &format!("\"id\": \"{name}\""));
        }
        if file_name == file {
            assert!(text.contains(old), "{file_name} holds no {old}");
            text = text.replacen(old, new, 1);
        }
        fs::write(own.join(file_name), text).unwrap();
    }
    own.to_str().unwrap().to_owned()
}
