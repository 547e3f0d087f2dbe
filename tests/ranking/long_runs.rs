//! Rankings that are stopped, that break off, and that go on.

use std::fmt::Write as _;

use retrofit_report::ranking::{RankError, RankingManifest};
use retrofit_report::triage::{BadRow, Manifest, Progress, State};

use super::*;

/// Asks the run to stop when so many blocks of houses were worked out, or, of 0, when all of them were.
struct StopAfter(usize, Stop);

impl Progress for StopAfter {
    fn begin(&mut self, _: Option<u64>) {}
    fn advance(&mut self, _: u64, houses: u64) {
        // What is passed over on the way to the place where a run goes on holds no houses.
        if houses > 0 && self.0 > 0 {
            self.0 -= 1;
            if self.0 == 0 {
                self.1.ask();
            }
        }
    }
    fn bad_row(&mut self, _: &BadRow) {}
    fn end(&mut self) {
        if self.0 > 0 {
            self.1.ask();
        }
    }
}

/// Rows for some forty blocks, every hundredth of them bad, every fiftieth under the id of another.
fn many_rows() -> String {
    rows_with_notes(800)
}

/// The same with notes of up to so many letters.
fn rows_with_notes(most: usize) -> String {
    let mut text = "id,year_built,replacement_value,peak_ground_acceleration,x_note\n".to_owned();
    for n in 0..12_000 {
        let year = if n % 100 == 99 {
            "soon".to_owned()
        } else {
            (1900 + n % 90).to_string()
        };
        let id = if n % 50 == 7 { n - 3 } else { n };
        writeln!(
            text,
            "h{id},{year},{},0.5,{}",
            200_000 + n * 17 % 300_000,
            "x".repeat(n % most)
        )
        .unwrap();
    }
    text
}

fn options_of(desk: &Desk, threads: usize) -> RankOptions {
    let houses = desk.put("houses.csv", many_rows());
    RankOptions {
        out: Some(desk.path("ranked.csv")),
        bad_rows: Some(desk.path("bad.csv")),
        format: ListFormat::Csv,
        budget: Some(1_000_000.0),
        threads: NonZeroUsize::new(threads),
        draws: 10,
        ..desk.options(Path::new(&houses))
    }
}

/// Runs until so many blocks are worked out; where that is all, until the list would be written.
fn stopped_after(blocks: usize, options: &RankOptions) -> (u64, Option<PathBuf>) {
    let options = RankOptions {
        stop: Stop::default(),
        ..options.clone()
    };
    let stop = options.stop.clone();
    match ranking::run(&options, &provisions(), &mut StopAfter(blocks, stop)) {
        Err(RankError::Stopped { houses, kept }) => (houses, kept),
        other => panic!("{other:?}"),
    }
}

fn names(desk: &Desk) -> Vec<String> {
    names_in(desk.0.path())
}

fn manifest_of(path: &Path) -> RankingManifest {
    serde_json::from_slice(&fs::read(Manifest::path_of(path)).unwrap()).unwrap()
}

/// However often a run is stopped, while it reads or while it writes, the list is that of one run, byte for byte.
#[rstest]
fn a_run_that_was_stopped_goes_on_to_the_same_list(#[values(1, 2, 3)] threads: usize) {
    let desk = Desk::new();
    let mut options = options_of(&desk, threads);
    let whole = ranking::run(&options, &provisions(), &mut Silent).unwrap();
    let (out, bad) = (options.out.clone().unwrap(), options.bad_rows.clone().unwrap());
    let expected = [fs::read(&out).unwrap(), fs::read(&bad).unwrap()];
    let made = manifest_of(&out);
    fs::remove_file(&out).unwrap();
    fs::remove_file(&bad).unwrap();
    fs::remove_file(Manifest::path_of(&out)).unwrap();

    let partial = desk.path("ranked.csv.partial");
    let mut before = 0;
    // The last of them is stopped when every row was read, and the list is about to be written.
    for blocks in [1, 2, usize::MAX] {
        let (houses, kept) = stopped_after(blocks, &options);
        assert_eq!(kept, Some(partial.clone()));
        assert!(
            houses > before && houses <= whole.all.houses,
            "{before}, {houses}"
        );
        before = houses;
        assert!(
            !out.exists() && !bad.exists(),
            "a list stands for a run that is over"
        );
        let manifest = manifest_of(&partial);
        assert_eq!(
            (manifest.state, manifest.summary.houses),
            (State::Stopped, houses)
        );
        assert_eq!(manifest.summary.list, None);
        assert!(is_of(&manifest.results, &partial));
        options.resume = true;
    }
    assert_eq!(before, whole.all.houses);
    let resumed = ranking::run(&options, &provisions(), &mut Silent).unwrap();
    assert_eq!(resumed, whole);
    assert!([fs::read(&out).unwrap(), fs::read(&bad).unwrap()] == expected);
    assert_eq!(manifest_of(&out), made);
    assert_eq!(
        names(&desk),
        ["bad.csv", "houses.csv", "ranked.csv", "ranked.csv.manifest.json"]
    );
}

/// A manifest holds what anybody can find out with a tool of their own, and what its schema says.
#[test]
fn a_manifest_tells_what_was_read_and_written() {
    let desk = Desk::new();
    let options = options_of(&desk, 2);
    let summary = ranking::run(&options, &provisions(), &mut Silent).unwrap();
    let out = options.out.unwrap();
    let manifest = manifest_of(&out);
    assert_eq!(manifest.state, State::Complete);
    assert!(is_of(&manifest.inputs[0], &options.houses));
    assert!(is_of(&manifest.results, &out));
    assert!(is_of(
        manifest.bad_rows.as_ref().unwrap(),
        &options.bad_rows.unwrap()
    ));
    assert_eq!(manifest.made_by.checked_by.provisions, Library::DEFAULT_SET);
    assert!(manifest.made_by.prices_are_placeholders);
    assert_eq!(
        (manifest.summary.houses, manifest.summary.bad_rows),
        (11_880, 120)
    );
    let list = manifest.summary.list.unwrap();
    assert_eq!(list.funded, summary.all.funded);
    assert_eq!(list.repeated_ids, summary.data_quality.repeated_ids);
    assert_eq!(list.repeated_ids.ids, 240);

    let schema: Value = serde_json::from_str(&json::ranking_manifest_schema()).unwrap();
    let told: Value = serde_json::from_slice(&fs::read(Manifest::path_of(&out)).unwrap()).unwrap();
    jsonschema::validate(&schema, &told).unwrap();
}

/// What a list is made by has a fingerprint that moves with it.
#[test]
fn a_manifest_knows_tables_prices_and_grid() {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", "id,year_built\na,1926\n");
    let options = desk.options(Path::new(&houses));
    let made_by = |options: &RankOptions| {
        ranking::run(options, &provisions(), &mut Silent).unwrap();
        manifest_of(options.out.as_ref().unwrap()).made_by
    };
    let plain = made_by(&options);
    assert_eq!(plain, made_by(&options));
    let shipped = fs::read_to_string(root().join("tables/unit-prices-placeholder/prices.csv")).unwrap();
    let dearer = retrofit_core::prices::UnitPrices::parse(
        "own.csv",
        &shipped.replace("each,60,72,84", "each,61,72,84"),
    );
    let own = made_by(&RankOptions {
        costs: Costs::Own {
            file: "own.csv".into(),
            prices: dearer.unwrap(),
        },
        ..options.clone()
    });
    assert_ne!(own.prices_sha256, plain.prices_sha256);
    assert!(!own.prices_are_placeholders);
    let text = fs::read_to_string(root().join("tables/ranking/assumptions.csv")).unwrap();
    let tables = RankingTables::with(&[retrofit_core::provisions::TableFile {
        path: "assumptions.csv".into(),
        name: "assumptions.csv".into(),
        text: text.replace("cripple_height,12,", "cripple_height,13,"),
    }]);
    let of_tables = made_by(&RankOptions {
        tables: tables.unwrap(),
        ..options.clone()
    });
    assert_ne!(of_tables.tables_sha256, plain.tables_sha256);
    let grid = |pga: &str| {
        let text = format!("longitude,latitude,pga\n-123,37,0.4\n-122,37,0.6\n-123,38,0.4\n-122,38,{pga}\n");
        made_by(&RankOptions {
            hazard: Some(retrofit_core::ranking::HazardGrid::parse(&text).unwrap()),
            ..options.clone()
        })
        .hazard_sha256
        .unwrap()
    };
    assert_ne!(grid("0.6"), grid("0.7"));
    assert_eq!(plain.hazard_sha256, None);
}

#[rstest]
#[case::changed_rows(|desk: &Desk, _: &mut RankOptions| { desk.put("houses.csv", many_rows().replacen("h5,", "h-5,", 1)); }, "other rows")]
#[case::fewer_rows(|desk: &Desk, _: &mut RankOptions| { desk.put("houses.csv", many_rows().lines().next().unwrap()); }, "other rows")]
#[case::changed_work(|desk: &Desk, _: &mut RankOptions| { desk.put("ranked.csv.partial", "rank,id\n"); }, "another content")]
#[case::cut_work(|desk: &Desk, _: &mut RankOptions| { let mut bytes = fs::read(desk.path("ranked.csv.partial")).unwrap(); bytes.pop(); desk.put("ranked.csv.partial", bytes); }, "another content")]
#[case::other_seed(|_: &Desk, options: &mut RankOptions| options.seed = 2, "other settings")]
#[case::other_draws(|_: &Desk, options: &mut RankOptions| options.draws = 11, "other settings")]
#[case::other_budget(|_: &Desk, options: &mut RankOptions| options.budget = None, "other settings")]
#[case::other_costs(|_: &Desk, options: &mut RankOptions| options.costs = Costs::WholeJobs, "other settings")]
#[case::no_bad_rows(|_: &Desk, options: &mut RankOptions| options.bad_rows = None, "another --bad-rows")]
#[case::no_run(|desk: &Desk, options: &mut RankOptions| options.out = Some(desk.path("x.csv")), "cannot read")]
#[case::no_manifest(|desk: &Desk, _: &mut RankOptions| { desk.put("ranked.csv.partial.manifest.json", "{\"format\": 1}"); }, "expected the manifest of a run that was stopped")]
#[case::standard_output(|_: &Desk, options: &mut RankOptions| options.out = None, "no file for the list")]
fn a_run_goes_on_only_from_what_it_left(#[case] change: fn(&Desk, &mut RankOptions), #[case] says: &str) {
    let desk = Desk::new();
    let mut options = options_of(&desk, 2);
    stopped_after(2, &options);
    options.resume = true;
    change(&desk, &mut options);
    let error = ranking::run(&options, &provisions(), &mut Silent)
        .unwrap_err()
        .to_string();
    assert!(error.contains(says), "{error}");
    assert!(!desk.path("ranked.csv").exists());
}

/// Where there is no file for a list there is none for what is left of it.
#[test]
fn a_device_keeps_nothing() {
    let desk = Desk::new();
    let options = RankOptions {
        out: Some("/dev/null".into()),
        ..options_of(&desk, 2)
    };
    assert_eq!(stopped_after(2, &options).1, None);
    assert!(!Path::new("/dev/null.partial").exists());
}

#[cfg(unix)]
mod from_outside {
    use std::process::Command;

    use super::*;

    fn shell(desk: &Desk, text: &str) -> std::process::Output {
        Command::new("bash")
            .args(["-c", text])
            .current_dir(desk.0.path())
            .output()
            .unwrap()
    }

    const PROGRAM: &str = env!("CARGO_BIN_EXE_retrofit");

    /// A disk that is full, whether while houses are put in order or while the list is written: nothing is left of the
    /// run, the old list stands, and it says why. Begun again with room, it comes to its end.
    #[cfg(target_os = "linux")]
    #[rstest]
    #[case::in_order_on_disk(6_000, "File too large (os error 27); no list was written")]
    #[case::the_list(400, "ranked.csv: cannot be written: File too large")]
    fn a_full_disk_leaves_the_old_list(#[case] notes: usize, #[case] says: &str) {
        let desk = Desk::new();
        desk.put("houses.csv", rows_with_notes(notes));
        desk.put("ranked.csv", "old");
        let command = format!(
            "\"{PROGRAM}\" --color never rank houses.csv --out ranked.csv --bad-rows bad.csv --draws 2"
        );
        // No file may grow over so much; the signal that tells so is left aside, as on a full disk there is none.
        let output = shell(&desk, &format!("trap '' XFSZ; ulimit -f 1000; exec {command}"));
        let told = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(3), "{told}");
        assert!(told.contains(says), "{told}");
        assert_eq!(fs::read_to_string(desk.path("ranked.csv")).unwrap(), "old");
        assert_eq!(names(&desk), ["houses.csv", "ranked.csv"]);
        let output = shell(&desk, &command);
        assert_eq!(output.status.code(), Some(3), "bad rows were left out");
        assert!(fs::metadata(desk.path("ranked.csv")).unwrap().len() > 1_000_000);
    }

    /// Whoever has read enough closes the pipe, and that is no fault.
    #[test]
    fn a_pipe_that_is_closed_ends_a_run_without_a_word() {
        let desk = Desk::new();
        desk.put("houses.csv", many_rows());
        let text = format!(
            "\"{PROGRAM}\" --quiet rank houses.csv --draws 2 --bad-rows bad.csv | head -n 2; exit ${{PIPESTATUS[0]}}"
        );
        let output = shell(&desk, &text);
        assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
        assert_eq!(output.status.code(), Some(0));
        assert_eq!(String::from_utf8(output.stdout).unwrap().lines().count(), 2);
    }

    /// Whoever stops a run finds the old list, and beside it what was worked out.
    #[rstest]
    #[case::interrupt("INT", 2)]
    #[case::request_to_end("TERM", 15)]
    fn an_interrupted_run_leaves_the_old_list_and_goes_on(#[case] signal: &str, #[case] number: i32) {
        use std::os::unix::process::ExitStatusExt;
        use std::time::Duration;
        let desk = Desk::new();
        let out = desk.put("ranked.csv", "old");
        let output = interrupted(
            &["rank", "-", "--draws", "2", "--out", &out],
            ("id,year_built", |number| format!("Q-{number},1926")),
            // Long enough that some blocks are worked out.
            (desk.0.path(), Duration::from_millis(1500)),
            signal,
        );
        let told = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.signal(), Some(number), "{}: {told}", output.status);
        assert!(
            told.contains("ranked.csv.partial, and --resume goes on from there"),
            "{told}"
        );
        assert_eq!(fs::read_to_string(&out).unwrap(), "old");
        assert_eq!(
            names(&desk),
            [
                "ranked.csv",
                "ranked.csv.partial",
                "ranked.csv.partial.manifest.json"
            ]
        );
    }
}
