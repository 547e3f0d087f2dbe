//! Runs that are stopped, that break off, and that go on.

use std::fmt::Write as _;

use retrofit_report::triage::{Manifest, State};
use serde_json::Value;

use super::*;

/// Asks the run to stop when so many times something was done.
struct StopAfter(usize, Stop);

impl Progress for StopAfter {
    fn begin(&mut self, _: Option<u64>) {}
    fn advance(&mut self, _: u64, houses: u64) {
        // What is passed over on the way to the place where a run goes on holds no houses.
        if houses > 0 {
            self.0 = self.0.saturating_sub(1);
        }
        if self.0 == 0 {
            self.1.ask();
        }
    }
    fn bad_row(&mut self, _: &BadRow) {}
    fn end(&mut self) {}
}

/// Runs until so many blocks are written.
fn stopped_after(blocks: usize, options: &TriageOptions) -> Result<TriageSummary, TriageError> {
    let options = TriageOptions {
        stop: Stop::default(),
        ..options.clone()
    };
    let stop = options.stop.clone();
    run(&options, &provisions(), &mut StopAfter(blocks, stop))
}

/// Rows for some forty blocks, every hundredth of them bad.
fn many_rows() -> String {
    let mut text = "id,stories,x_note\n".to_owned();
    for n in 0..20_000 {
        let stories = if n % 100 == 99 { "none" } else { "1" };
        writeln!(text, "h{n},{stories},{}", "x".repeat(n % 800)).unwrap();
    }
    text
}

fn options_of(desk: &Desk, threads: usize, two_tables: bool) -> TriageOptions {
    let houses = desk.put("houses.csv", many_rows());
    let walls: String = (0..20_000).map(|n| format!("h{n},north,24 ft\n")).collect();
    let walls = desk.put("walls.csv", format!("id,wall_line,wall_length\n{walls}"));
    TriageOptions {
        wall_lines: two_tables.then_some(walls),
        out: Some(desk.0.path().join("verdicts.csv")),
        bad_rows: Some(desk.0.path().join("bad.csv")),
        threads: NonZeroUsize::new(threads),
        ..desk.options(&houses)
    }
}

fn names(desk: &Desk) -> Vec<String> {
    names_in(desk.0.path())
}

fn manifest_of(path: &Path) -> Manifest {
    serde_json::from_slice(&fs::read(Manifest::path_of(path)).unwrap()).unwrap()
}

/// However often a run is stopped, what stands at the end is what one run would have written, byte for byte.
#[rstest]
fn a_run_that_was_stopped_goes_on_without_a_row_lost_or_twice(
    #[values(1, 2, 3)] threads: usize,
    #[values(false, true)] two_tables: bool,
) {
    let desk = Desk::new();
    let options = options_of(&desk, threads, two_tables);
    let whole = run(&options, &provisions(), &mut Silent).unwrap();
    let (out, bad) = (options.out.clone().unwrap(), options.bad_rows.clone().unwrap());
    let expected = [fs::read(&out).unwrap(), fs::read(&bad).unwrap()];
    let made = manifest_of(&out);
    fs::remove_file(&out).unwrap();
    fs::remove_file(&bad).unwrap();

    let partial = desk.0.path().join("verdicts.partial.csv");
    let mut options = options;
    let mut done = 0;
    for blocks in [1, 2] {
        let stopped = stopped_after(blocks, &options).unwrap();
        assert_eq!(stopped.stopped, Some(Some(partial.clone())));
        assert!(stopped.houses > done && stopped.houses < whole.houses);
        done = stopped.houses;
        let written = fs::read(&partial).unwrap();
        assert!(
            expected[0].starts_with(&written) && written.ends_with(b"\n"),
            "whole rows"
        );
        assert!(!out.exists());
        let manifest = manifest_of(&partial);
        assert_eq!((manifest.state, manifest.summary.houses), (State::Stopped, done));
        assert!(is_of(&manifest.results, &partial));
        options.resume = true;
    }
    let resumed = run(&options, &provisions(), &mut Silent).unwrap();
    assert_eq!(resumed.houses, whole.houses);
    assert_eq!(resumed.bad_rows, whole.bad_rows);
    assert_eq!([fs::read(&out).unwrap(), fs::read(&bad).unwrap()], expected);
    assert_eq!(manifest_of(&out), made);
    let mut left = vec![
        "bad.csv",
        "houses.csv",
        "verdicts.csv",
        "verdicts.csv.manifest.json",
    ];
    left.push("walls.csv");
    assert_eq!(names(&desk), left);
}

/// What a run that was stopped leaves is whole in every format, and the run goes on from it all the same.
#[test]
fn features_that_were_left_are_a_collection() {
    let desk = Desk::new();
    let options = TriageOptions {
        format: Format::GeoJson,
        ..options_of(&desk, 2, false)
    };
    let out = options.out.clone().unwrap();
    run(&options, &provisions(), &mut Silent).unwrap();
    let expected = fs::read(&out).unwrap();
    fs::remove_file(&out).unwrap();
    let stopped = stopped_after(2, &options).unwrap();
    let partial = fs::read(stopped.stopped.unwrap().unwrap()).unwrap();
    let left: Value = serde_json::from_slice(&partial).unwrap();
    assert_eq!(left["features"].as_array().unwrap().len() as u64, stopped.houses);
    let options = TriageOptions {
        resume: true,
        ..options
    };
    run(&options, &provisions(), &mut Silent).unwrap();
    assert!(fs::read(&out).unwrap() == expected);
}

/// A manifest holds what anybody can find out with a tool of their own.
#[test]
fn a_manifest_tells_what_was_read_and_written() {
    let desk = Desk::new();
    let options = options_of(&desk, 2, true);
    let summary = run(&options, &provisions(), &mut Silent).unwrap();
    let out = options.out.unwrap();
    let manifest = manifest_of(&out);
    assert_eq!(manifest.state, State::Complete);
    assert!(is_of(&manifest.inputs[0], &options.houses));
    assert!(is_of(&manifest.inputs[1], &options.wall_lines.unwrap()));
    assert!(is_of(&manifest.results, &out));
    assert!(is_of(&manifest.bad_rows.unwrap(), &options.bad_rows.unwrap()));
    assert_eq!(manifest.made_by.provisions, Library::DEFAULT_SET);
    assert_eq!(manifest.summary.houses, summary.houses);

    let text = fs::read(Manifest::path_of(&out)).unwrap();
    let schema: Value = serde_json::to_value(schemars::schema_for!(Manifest)).unwrap();
    let told: Value = serde_json::from_slice(&text).unwrap();
    jsonschema::validate(&schema, &told).unwrap();
}

/// Other provisions have other figures, and a fingerprint of their own.
#[test]
fn a_manifest_knows_the_figures() {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", "id,stories\na,1\n");
    let options = desk.options(&houses);
    let figures = |set: &str| {
        run(&options, &Library::shipped().set(set).unwrap(), &mut Silent).unwrap();
        manifest_of(options.out.as_ref().unwrap()).made_by.figures_sha256
    };
    assert_eq!(figures(Library::DEFAULT_SET), figures(Library::DEFAULT_SET));
    assert_ne!(figures(Library::DEFAULT_SET), figures("iebc-a3-2024"));
}

#[rstest]
#[case::changed_rows(|desk: &Desk, _: &mut TriageOptions| { desk.put("houses.csv", many_rows().replacen("h5,", "h-5,", 1)); }, "other rows")]
#[case::fewer_rows(|desk: &Desk, _: &mut TriageOptions| { desk.put("houses.csv", "id,stories,x_note\na,1,\n"); }, "other rows")]
#[case::changed_results(|desk: &Desk, _: &mut TriageOptions| { desk.put("verdicts.partial.csv", "id\n"); }, "another content")]
#[case::other_format(|_: &Desk, options: &mut TriageOptions| options.format = Format::JsonLines, "another format")]
#[case::no_bad_rows(|_: &Desk, options: &mut TriageOptions| options.bad_rows = None, "another --bad-rows")]
#[case::no_run(|_: &Desk, options: &mut TriageOptions| options.out = Some(options.out.clone().unwrap().with_file_name("x.csv")), "cannot read")]
#[case::no_manifest(|desk: &Desk, _: &mut TriageOptions| { desk.put("verdicts.partial.csv.manifest.json", "{\"format\": 1}"); }, "expected the manifest of a run that was stopped")]
#[case::standard_output(|_: &Desk, options: &mut TriageOptions| options.out = None, "no file of results")]
fn a_run_goes_on_only_from_what_it_left(#[case] change: fn(&Desk, &mut TriageOptions), #[case] says: &str) {
    let desk = Desk::new();
    let mut options = options_of(&desk, 2, false);
    stopped_after(2, &options).unwrap();
    options.resume = true;
    change(&desk, &mut options);
    let error = run(&options, &provisions(), &mut Silent).unwrap_err().to_string();
    assert!(error.contains(says), "{error}");
    assert!(!desk.0.path().join("verdicts.csv").exists());
}

/// A disk that is full in the midst of a run: the rows before stand, and the run goes on when there is room.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_loses_nothing_that_was_done() {
    use std::process::Command;
    let desk = Desk::new();
    desk.put("houses.csv", many_rows());
    let command = format!(
        "\"{}\" --color never triage houses.csv --out verdicts.csv --bad-rows bad.csv",
        env!("CARGO_BIN_EXE_retrofit")
    );
    let shell = |text: &str| {
        let output = Command::new("bash")
            .args(["-c", text])
            .current_dir(desk.0.path())
            .output()
            .unwrap();
        (output.status.code(), String::from_utf8(output.stderr).unwrap())
    };
    // No file may grow over 3,000 kB; the signal that tells so is left aside, as on a full disk there is none.
    let (code, told) = shell(&format!("trap '' XFSZ; ulimit -f 3000; exec {command}"));
    assert_eq!(code, Some(3), "{told}");
    assert!(told.contains("verdicts.csv: cannot be written"), "{told}");
    assert!(
        told.contains("verdicts.partial.csv: `--resume` goes on from there"),
        "{told}"
    );
    let partial = fs::read_to_string(desk.0.path().join("verdicts.partial.csv")).unwrap();
    assert!(partial.ends_with('\n') && partial.len() > 100_000);

    let (code, told) = shell(&format!("{command} --resume"));
    assert_eq!(code, Some(3), "bad rows were left out: {told}");
    let resumed = fs::read(desk.0.path().join("verdicts.csv")).unwrap();
    assert!(resumed.starts_with(partial.as_bytes()));
    shell(&command);
    assert_eq!(fs::read(desk.0.path().join("verdicts.csv")).unwrap(), resumed);
}

/// Whoever has read enough closes the pipe, and that is no fault.
#[cfg(unix)]
#[test]
fn a_pipe_that_is_closed_ends_a_run_without_a_word() {
    use std::process::Command;
    let desk = Desk::new();
    desk.put("houses.csv", many_rows());
    let text = format!(
        "\"{}\" --quiet triage houses.csv --bad-rows bad.csv | head -n 2; exit ${{PIPESTATUS[0]}}",
        env!("CARGO_BIN_EXE_retrofit")
    );
    let output = Command::new("bash")
        .args(["-c", &text])
        .current_dir(desk.0.path())
        .output()
        .unwrap();
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(String::from_utf8(output.stdout).unwrap().lines().count(), 2);
}
