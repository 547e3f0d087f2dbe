//! Real files damaged at random, handed to every reader: none may panic, hang or take memory out of proportion, and each
//! has to be right about what it counts.
//!
//! Every target begins with the files of `examples/` and `tables/`, takes a few damages from a seeded generator and
//! reads. A round is told by its number, so that what failed can be had again:
//!
//! ```sh
//! ROUNDS=100000 cargo test -p retrofit-report --test mutations              # a long run
//! ROUNDS=1 FIRST_ROUND=4711 cargo test -p retrofit-report --test mutations geojson
//! ```
//!
//! What fails is left in `target/tmp/mutations/`, and becomes a test beside its reader.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that finds something else than it expects has to fail"
)]

use std::fs;
use std::num::NonZeroUsize;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

use allocation_counter::measure;
use oorandom::Rand64;
use retrofit_core::check::Assessor;
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::{Library, TableFile};
use retrofit_core::ranking::HazardGrid;
use retrofit_report::extract::{coverage, propose, translate};
use retrofit_report::input::{HouseError, Origin, parse_column_map, parse_house};
use retrofit_report::look::Look;
use retrofit_report::triage::{Format, Silent, Stop, TriageOptions, run};

/// How many rounds each target has where nobody asks for more.
const ROUNDS: u64 = 150;

/// The longest that one round may take, on a slow machine without optimization.
const LONGEST: Duration = Duration::from_mins(1);

/// The most that a reader may hold at once: so much, and so much for each byte that it reads. A portfolio is passed in
/// blocks of some megabytes, whatever its size.
const MOST_MEMORY: u64 = 48 << 20;
const MOST_MEMORY_PER_BYTE: u64 = 64;

/// Pieces that readers stumble over: marks of every format, numbers at the edge of what a number may be, text that turns
/// around, bytes that are no text.
const PIECES: [&[u8]; 48] = [
    b"\"",
    b"\"\"",
    b",",
    b";",
    b"\t",
    b"|",
    b"\n",
    b"\r\n",
    b"\r",
    b"\0",
    b"\xff",
    b"\xef\xbb\xbf",
    b"\xe9",
    b"{",
    b"}",
    b"[",
    b"]",
    b"[[",
    b":",
    b"null",
    b"true",
    b"//",
    b"/*",
    b"*/",
    b"#",
    b"=",
    b"<",
    b"<!--",
    b"&#0;",
    b"]]>",
    b"-1",
    b"0",
    b"-0",
    b"1e999",
    b"1e-999",
    b"NaN",
    b"18446744073709551616",
    b"9223372036854775807",
    b"9999999999999 ft",
    b"1/0",
    b"1'-13 99/100\"",
    "\u{202e}\u{bd}\u{2033}".as_bytes(),
    b"\\u0000",
    b"\\ud800",
    b"{{ 7 }}",
    b"{% for x in range(end=99) %}",
    b"{% include \"report.html\" %}",
    b"inferred: ",
];

/// A file with a few damages.
fn damaged(files: &[Vec<u8>], chance: &mut Rand64) -> Vec<u8> {
    let below = |chance: &mut Rand64, end: usize| -> usize {
        let end = u64::try_from(end.max(1)).unwrap();
        usize::try_from(chance.rand_range(0..end)).unwrap()
    };
    let mut bytes = files[below(chance, files.len())].clone();
    for _ in 0..=below(chance, 6) {
        let at = below(chance, bytes.len() + 1);
        // Most damages are small; a few take or bring most of a file.
        let reach = if below(chance, 8) == 0 { bytes.len() } else { 24 };
        let end = (at + below(chance, reach + 1)).min(bytes.len());
        match below(chance, 7) {
            0 if at < bytes.len() => bytes[at] ^= 1 << below(chance, 8),
            1 => drop(bytes.drain(at..end)),
            2 => {
                let piece = bytes[at..end].to_vec();
                let times = 1 + below(chance, 40);
                bytes.splice(at..at, piece.repeat(times));
            }
            3 => {
                let other = &files[below(chance, files.len())];
                let from = below(chance, other.len());
                let to = (from + below(chance, 200)).min(other.len());
                bytes.splice(at..end, other[from..to].iter().copied());
            }
            4 => bytes.truncate(at),
            _ => {
                let piece = PIECES[below(chance, PIECES.len())];
                let times = if below(chance, 10) == 0 { 3000 } else { 1 };
                bytes.splice(at..end, piece.repeat(times));
            }
        }
    }
    bytes
}

fn number(name: &str, otherwise: u64) -> u64 {
    std::env::var(name).map_or(otherwise, |text| text.parse().expect("a whole number"))
}

/// Reads damaged files, round by round.
fn damage(target: &'static str, files: Vec<Vec<u8>>, read: fn(&[u8], &Path)) {
    assert!(!files.is_empty(), "{target} has nothing to begin with");
    let first = number("FIRST_ROUND", 0);
    let rounds = first..first + number("ROUNDS", ROUNDS);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("mutations")
        .join(target);
    fs::create_dir_all(&folder).unwrap();
    let place = folder.clone();
    let (tell, told) = channel();
    // A thread of its own, since what hangs cannot be stopped.
    thread::spawn(move || {
        for round in rounds {
            let bytes = damaged(&files, &mut Rand64::new(u128::from(round) + 1));
            let most = MOST_MEMORY + MOST_MEMORY_PER_BYTE * u64::try_from(bytes.len()).unwrap();
            fs::write(place.join("damaged"), &bytes).unwrap();
            let mut ended = Ok(());
            let taken = measure(|| {
                ended = catch_unwind(AssertUnwindSafe(|| read(&bytes, &place)));
            });
            let well = ended.is_ok() && taken.bytes_max <= most;
            if !well {
                fs::copy(place.join("damaged"), place.join(format!("round-{round}"))).unwrap();
            }
            if tell.send((round, ended.is_ok(), taken.bytes_max, most)).is_err() {
                return;
            }
        }
    });
    let mut last = None;
    loop {
        match told.recv_timeout(LONGEST) {
            Ok((round, ended, taken, most)) => {
                last = Some(round);
                assert!(
                    ended,
                    "{target}: round {round} panicked; see {}",
                    folder.display()
                );
                assert!(
                    taken <= most,
                    "{target}: round {round} held {taken} bytes, over {most}; see {}",
                    folder.display()
                );
            }
            Err(RecvTimeoutError::Disconnected) => break,
            Err(RecvTimeoutError::Timeout) => panic!(
                "{target}: the round after {last:?} takes longer than {LONGEST:?}; see {}/damaged",
                folder.display()
            ),
        }
    }
    assert!(last.is_some(), "{target} had no round");
}

/// What goes wrong is told, so that silence means something.
#[test]
fn a_reader_at_fault_is_told() {
    let told = |read: fn(&[u8], &Path)| {
        let fault = catch_unwind(|| damage("a_reader_at_fault", vec![b"a,b\n1,2\n".to_vec()], read));
        let fault = fault.expect_err("a fault").downcast::<String>().expect("words");
        *fault
    };
    let panics = told(|bytes, _| assert!(!bytes.contains(&b'{'), "a brace"));
    assert!(panics.contains("panicked; see"), "{panics}");
    let hoards = told(|bytes, _| {
        let _ = std::hint::black_box(vec![0_u8; if bytes.len() > 20 { 200 << 20 } else { 0 }]);
    });
    assert!(hoards.contains("held 2097"), "{hoards}");
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The files below a folder whose names end so.
fn files(folder: &str, ends: &[&str]) -> Vec<Vec<u8>> {
    let mut paths: Vec<PathBuf> = fs::read_dir(root().join(folder))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            ends.iter()
                .any(|end| path.to_str().is_some_and(|name| name.ends_with(end)))
        })
        .collect();
    paths.sort();
    paths.into_iter().map(|path| fs::read(path).unwrap()).collect()
}

/// Writes the bytes under a name that tells their kind.
fn named(bytes: &[u8], folder: &Path, name: &str) -> PathBuf {
    let path = folder.join(name);
    fs::write(&path, bytes).unwrap();
    path
}

/// Through the checks as a portfolio, on two threads: every row is a house or a bad row, and every house a row.
fn through_the_checks(path: &Path, folder: &Path) {
    let out = folder.join("verdicts.csv");
    let _ = fs::remove_file(&out);
    let options = TriageOptions {
        houses: path.to_owned(),
        map: None,
        wall_lines: None,
        out: Some(out.clone()),
        format: Format::Csv,
        bad_rows: Some(folder.join("bad.csv")),
        threads: NonZeroUsize::new(2),
        resume: false,
        stop: Stop::default(),
    };
    let provisions = Library::shipped().set("cebc-a3-2013").unwrap();
    if let Ok(summary) = run(&options, &provisions, &mut Silent) {
        let mut results = csv::Reader::from_path(&out).unwrap();
        let rows = results.records().map(Result::unwrap).count();
        assert_eq!(u64::try_from(rows).unwrap(), summary.houses);
    } else {
        assert!(!out.exists(), "a run that failed leaves no results");
    }
}

/// As an extract: translated by our names, a map proposed, and held against it.
fn as_an_extract(path: &Path) {
    let _ = translate(path, None, &mut |_| {}, &mut |_| Ok(()));
    if let Ok(proposal) = propose(path) {
        let map = parse_column_map(&Origin::from("map.toml"), proposal.text).expect("a proposal is a map");
        let mut lines = 0;
        let read = translate(path, Some(&map), &mut |_| {}, &mut |block| {
            lines += memchr::memchr_iter(b'\n', block).count();
            Ok(())
        });
        if let (Ok(()), Ok(found)) = (read, coverage(path, &map)) {
            assert!(found.readable_rows <= found.rows, "{found:?}");
            assert!(
                u64::try_from(lines).unwrap() > found.readable_rows,
                "{lines} lines: {found:?}"
            );
        }
    }
}

/// The head of the invented portfolio, which is long.
fn portfolio() -> Vec<u8> {
    let text = fs::read_to_string(root().join("examples/palo-verde-junction.csv")).unwrap();
    let head: String = text.split_inclusive('\n').take(60).collect();
    head.into_bytes()
}

#[test]
fn portfolio_csv() {
    let mut all = files("examples/maps", &[".ours.csv"]);
    all.push(portfolio());
    damage("portfolio_csv", all, |bytes, folder| {
        through_the_checks(&named(bytes, folder, "houses.csv"), folder);
    });
}

#[test]
fn tables_of_any_columns() {
    let mut all = files("examples/maps", &[".csv"]);
    all.push(portfolio());
    damage("tables_of_any_columns", all, |bytes, folder| {
        as_an_extract(&named(bytes, folder, "extract.csv"));
    });
}

#[test]
fn geojson() {
    damage(
        "geojson",
        files("examples/maps", &[".geojson"]),
        |bytes, folder| {
            let path = named(bytes, folder, "extract.geojson");
            as_an_extract(&path);
            through_the_checks(&path, folder);
        },
    );
}

#[test]
fn hpxml() {
    damage("hpxml", files("examples/maps", &[".xml"]), |bytes, folder| {
        let path = named(bytes, folder, "extract.xml");
        as_an_extract(&path);
        through_the_checks(&path, folder);
    });
}

/// Any text as a map: read, held against its own columns, and its faults shown.
#[test]
fn column_map() {
    let mut all = files("examples/maps", &[".toml"]);
    let in_json = all.iter().map(|bytes| {
        let text = String::from_utf8(bytes.clone()).unwrap();
        let file = parse_column_map(&Origin::from("map.toml"), text).unwrap();
        serde_json::to_vec_pretty(&file.map).unwrap()
    });
    let in_json: Vec<_> = in_json.collect();
    all.extend(in_json);
    damage("column_map", all, |bytes, _| {
        let Ok(text) = std::str::from_utf8(bytes) else {
            return;
        };
        match parse_column_map(&Origin::from("map.toml"), text.to_owned()) {
            Ok(file) => {
                let header: Vec<String> = file.map.sources().map(str::to_owned).collect();
                match file.map.compile(&header) {
                    Ok(mut translator) => {
                        let mut line = Vec::new();
                        for cell in text.lines().take(20) {
                            line.clear();
                            let _ = translator.translate(|_| cell, &mut line);
                            assert!(memchr::memchr_iter(b'\n', &line).count() <= 1);
                        }
                    }
                    Err(fault) => assert!(!file.fault(&fault).picture(false).is_empty()),
                }
            }
            Err(error) => assert!(!error.picture(false).is_empty()),
        }
    });
}

#[test]
fn house_file() {
    let mut all = files("examples", &[".json"]);
    all.push(b"// a note\n{ /* two\n lines */ \"format\": \"house-1\", \"name\": \"a // b\" }\n".to_vec());
    damage("house_file", all, |bytes, _| {
        let Ok(text) = std::str::from_utf8(bytes) else {
            return;
        };
        match parse_house(text) {
            Ok(house) => {
                let provisions = Library::shipped().set("cebc-a3-2013").unwrap();
                let _ = Assessor::default().run(&house, &provisions);
            }
            Err(faults) => {
                assert!(!faults.is_empty());
                let origin = Origin::from("house.json");
                assert!(!HouseError::Faulty { origin, faults }.picture(false).is_empty());
            }
        }
    });
}

#[test]
fn provisions_tables() {
    damage(
        "provisions_tables",
        files("tables/cebc-a3-2013", &[".csv"]),
        |bytes, _| {
            let Ok(text) = std::str::from_utf8(bytes) else {
                return;
            };
            for name in ["anchorage.csv", "bracing.csv", "limits.csv", "sources.csv"] {
                // Over the shipped set, and as a set of its own.
                for id in ["cebc-a3-2013", "of-our-own"] {
                    let mut library = Library::shipped().clone();
                    library.add_folder(
                        id,
                        vec![TableFile {
                            path: name.to_owned(),
                            name: name.to_owned(),
                            text: text.to_owned(),
                        }],
                    );
                    if let Err(faults) = library.set(id) {
                        assert!(!faults.is_empty());
                    }
                }
            }
        },
    );
}

#[test]
fn unit_prices() {
    damage(
        "unit_prices",
        files("tables/unit-prices-placeholder", &[".csv"]),
        |bytes, _| {
            if let Ok(text) = std::str::from_utf8(bytes) {
                let _ = UnitPrices::parse("prices.csv", text);
            }
        },
    );
}

#[test]
fn hazard_grid() {
    let grid = "longitude,latitude,pga\n-122.5,37.5,0.4\n-122.4,37.5,0.5\n-122.5,37.6,0.6\n-122.4,37.6,0.7\n";
    assert!(HazardGrid::parse(grid).is_ok(), "the grid to begin with is one");
    damage("hazard_grid", vec![grid.into()], |bytes, _| {
        let Ok(text) = std::str::from_utf8(bytes) else {
            return;
        };
        if let Ok(grid) = HazardGrid::parse(text) {
            for (longitude, latitude) in [(-122.45, 37.55), (0.0, 0.0), (180.0, 90.0), (-122.5, 37.5)] {
                let _ = grid.at(longitude, latitude);
            }
        }
    });
}

/// A template is read and tried; what it would write has bounds of its own.
#[test]
fn templates() {
    damage(
        "templates",
        files(
            "retrofit-report/templates",
            &["report.html", "owner.md", "parts.html"],
        ),
        |bytes, folder| {
            let own = folder.join("own");
            fs::create_dir_all(&own).unwrap();
            for name in ["report.html", "owner.md", "parts.html"] {
                fs::write(own.join(name), bytes).unwrap();
                let _ = Look::from_folder(&own).map_err(|error| error.to_string());
                fs::remove_file(own.join(name)).unwrap();
            }
        },
    );
}
