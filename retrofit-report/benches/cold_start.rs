//! One house from a cold start: how long a whole process takes, from its start to its end.
//!
//! Run with `cargo bench -p retrofit-report --bench cold_start`. What is wanted: `check` under 5 ms, `report` and the
//! owner's page under 15 ms, and all pages for readers under 60 ms.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a benchmark tells what it measured"
)]

use std::path::Path;
use std::process::{Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

const RUNS: usize = 51;

fn main() -> ExitCode {
    // `cargo test --benches` only asks whether it runs.
    let runs = if std::env::args().any(|arg| arg == "--bench") {
        RUNS
    } else {
        3
    };
    let house = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/quince-lantern-way.json");
    let out = match tempfile::tempdir() {
        Ok(out) => out,
        Err(error) => return failed(&error.to_string()),
    };
    let set = "cebc-a3-2013";
    let cases: [(&str, &[&str]); 6] = [
        ("start and end only (--version)", &["--version"]),
        ("check", &["check", "HOUSE"]),
        (
            "check --format json",
            &["check", "HOUSE", "--format", "json", "-p", set],
        ),
        (
            "report (HTML and Markdown)",
            &["report", "HOUSE", "--out", "OUT", "--quiet"],
        ),
        (
            "report --for owner",
            &["report", "HOUSE", "--for", "owner", "--out", "OUT", "--quiet"],
        ),
        (
            "report --for all",
            &["report", "HOUSE", "--for", "all", "--out", "OUT", "--quiet"],
        ),
    ];
    println!(
        "{:34} {:>9} {:>9} {:>9}   of {runs} runs",
        "whole process", "least", "median", "most"
    );
    for (title, args) in cases {
        let mut times = Vec::with_capacity(runs);
        for _ in 0..runs {
            match time(args, &house, out.path()) {
                Ok(time) => times.push(time),
                Err(error) => return failed(&format!("{title}: {error}")),
            }
        }
        times.sort();
        let ms = |time: Option<&Duration>| time.map_or(f64::NAN, |time| time.as_secs_f64() * 1e3);
        println!(
            "{title:34} {:6.2} ms {:6.2} ms {:6.2} ms",
            ms(times.first()),
            ms(times.get(times.len() / 2)),
            ms(times.last())
        );
    }
    ExitCode::SUCCESS
}

fn failed(why: &str) -> ExitCode {
    eprintln!("{why}");
    ExitCode::FAILURE
}

/// One run of the program; a run that does not do its work is no measurement.
fn time(args: &[&str], house: &Path, out: &Path) -> Result<Duration, String> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_retrofit"));
    for arg in args {
        match *arg {
            "HOUSE" => command.arg(house),
            "OUT" => command.arg(out),
            other => command.arg(other),
        };
    }
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    let start = Instant::now();
    let status = command.status().map_err(|error| error.to_string())?;
    let time = start.elapsed();
    match status.code() {
        Some(0..=2) => Ok(time),
        code => Err(format!("exit code {code:?}")),
    }
}
