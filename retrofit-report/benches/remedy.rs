//! How long it takes to design the work on a house: an ordinary one, the worst wall lines, and longer and longer walls.
//!
//! Run with `cargo bench -p retrofit-report --bench remedy`. What is wanted: an ordinary house under 2 ms, the worst
//! wall line under 50 ms.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a benchmark tells what it measured"
)]

use std::hint::black_box;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use retrofit_core::house::{AsBuilt, House};
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::{Library, Provisions};
use retrofit_core::remedy::design;
use serde_json::{Value, json};

/// How often each is designed, unless that takes longer than `PATIENCE`.
const RUNS: usize = 31;
const PATIENCE: Duration = Duration::from_secs(3);
/// The house that the program itself shows.
const ORDINARY: &str = include_str!("../../examples/quince-lantern-way.json");
/// Wall lengths in feet: each twice as long as the one before.
const LENGTHS: [u32; 6] = [20, 40, 80, 160, 320, 640];

fn main() -> ExitCode {
    // `cargo test --benches` only asks whether it runs.
    let runs = if std::env::args().any(|arg| arg == "--bench") {
        RUNS
    } else {
        1
    };
    match measure(runs) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn measure(runs: usize) -> Result<(), String> {
    let provisions = Library::shipped()
        .set(Library::DEFAULT_SET)
        .map_err(|faults| format!("{faults:?}"))?;
    let ordinary = serde_json::from_str(ORDINARY).map_err(|error| error.to_string())?;
    let cases = [
        ("ordinary house, 4 wall lines", as_built(ordinary)?),
        ("wall of 100 ft, worst of its kind", worst(100)?),
        ("wall of 1000 ft, the same", worst(1000)?),
    ];
    println!(
        "{:34} {:>9} {:>9} {:>9}   of {runs} runs or fewer",
        "design", "least", "median", "most"
    );
    for (title, house) in &cases {
        let times = times(house, &provisions, runs)?;
        println!(
            "{title:34} {:6.2} ms {:6.2} ms {:6.2} ms",
            ms(times.first()),
            ms(times.get(times.len() / 2)),
            ms(times.last())
        );
    }
    println!("\nlength of the wall   median");
    let mut medians = Vec::new();
    for feet in LENGTHS {
        let times = times(&worst(feet)?, &provisions, runs)?;
        medians.push((feet, ms(times.get(times.len() / 2))));
    }
    let longest = medians
        .iter()
        .fold(f64::MIN_POSITIVE, |most, (_, time)| most.max(*time));
    for (feet, time) in medians {
        println!("{feet:>15} ft {time:8.2} ms  {}", bar(time / longest));
    }
    Ok(())
}

/// A bar of characters, forty at most.
fn bar(share: f64) -> String {
    let filled = (1..=40).take_while(|n| f64::from(*n) <= share * 40.0 + 0.5);
    filled.map(|_| '#').collect()
}

fn ms(time: Option<&Duration>) -> f64 {
    time.map_or(f64::NAN, |time| time.as_secs_f64() * 1e3)
}

/// The times of some runs, the shortest first; a run that lays nothing out is no measurement.
fn times(house: &AsBuilt, provisions: &Provisions, runs: usize) -> Result<Vec<Duration>, String> {
    let prices = UnitPrices::placeholder();
    let mut times = Vec::with_capacity(runs);
    let begin = Instant::now();
    for run in 0..runs {
        if run > 2 && begin.elapsed() > PATIENCE {
            break;
        }
        let start = Instant::now();
        let remedy = design(black_box(house), provisions, prices);
        times.push(start.elapsed());
        let has_layout = |line: &retrofit_core::remedy::LineRemedy| {
            line.anchors.work().is_some() && line.panels.work().is_some()
        };
        if !remedy.lines.iter().any(has_layout) || !remedy.is_proved() {
            let why = remedy.lines.iter().find_map(|line| line.declined());
            return Err(format!("nothing was laid out for {}: {why:?}", house.name));
        }
        black_box(remedy);
    }
    times.sort();
    Ok(times)
}

fn as_built(house: House) -> Result<AsBuilt, String> {
    AsBuilt::new(house).map_err(|problems| format!("{problems:?}"))
}

/// One wall line under three stories, with the closest studs, a vent every 8 ft and sill pieces of 16 ft: more places
/// to choose between than a wall is likely to have.
fn worst(feet: u32) -> Result<AsBuilt, String> {
    let pieces = |every: u32| {
        (0..feet.div_ceil(every)).map(move |count| (count * every, (count * every + every).min(feet)))
    };
    let sill: Vec<Value> = pieces(16)
        .map(|(from, to)| {
            json!({"from": format!("{from} ft"), "to": format!("{to} ft"), "soundness": "sound",
                   "against_studs": "flush", "thickness": {"measured": "1-1/2\""}})
        })
        .collect();
    let vents = pieces(8).filter(|(from, _)| from + 5 < feet).map(|(from, _)| {
        json!({"kind": "vent", "from": format!("{} in", from * 12 + 49), "to": format!("{} in", from * 12 + 58),
               "net_area": "72 sq in"})
    });
    let openings: Vec<Value> = vents.collect();
    let house = json!({
        "format": "house-1",
        "name": format!("wall of {feet} ft"),
        "building": {"stories": 3, "exterior": "wood", "roof": "light", "interior_plaster": false},
        "wall_lines": [{
            "name": "long",
            "length": {"measured": format!("{feet} ft")},
            "foundation": [{"kind": "concrete", "condition": "sound"}],
            "sill": sill,
            "anchors": [],
            "panels": [],
            "openings": openings,
            "cripple_wall": [{"height": {"measured": "1'-2\""}, "stud_spacing": {"measured": "12 in"}}]
        }]
    });
    as_built(serde_json::from_value(house).map_err(|error| error.to_string())?)
}
