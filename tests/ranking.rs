//! Rankings from file to file: what comes out is what the published figures, put together by hand, would say.

#![cfg(test)]

mod program;

#[path = "ranking/costs.rs"]
mod costs;
#[path = "ranking/long_runs.rs"]
mod long_runs;
#[path = "ranking/repeated.rs"]
mod repeated;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use program::{interrupted, is_of, names_in, printed, refused, root, run};
use proptest::prelude::*;
use retrofit_core::provisions::{Library, Provisions};
use retrofit_core::ranking::{Money, RankingTables};
use retrofit_report::json;
use retrofit_report::ranking::{self, Costs, ListFormat, RankOptions, RankingSummary};
use retrofit_report::triage::{Silent, Stop};
use rstest::rstest;
use serde_json::Value;
use tempfile::TempDir;

const BUDGET: f64 = 2_500_000.0;
const CAP: f64 = 3000.0;

fn provisions() -> Provisions {
    Library::shipped().set(Library::DEFAULT_SET).unwrap()
}

fn portfolio() -> PathBuf {
    root().join("examples/palo-verde-junction.csv")
}

/// A folder with the input of a run, and its output afterwards.
struct Desk(TempDir);

impl Desk {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn put(&self, name: &str, content: impl AsRef<[u8]>) -> String {
        let path = self.path(name);
        fs::write(&path, content).unwrap();
        path.to_str().unwrap().to_owned()
    }

    fn options(&self, houses: &Path) -> RankOptions {
        RankOptions {
            houses: houses.to_owned(),
            out: Some(self.path("out")),
            map: None,
            format: ListFormat::JsonLines,
            bad_rows: None,
            tables: RankingTables::shipped().clone(),
            hazard: None,
            budget: Some(BUDGET),
            money: Money { grant_cap: Some(CAP) },
            seed: 1,
            draws: 20,
            cut_by: Vec::new(),
            costs: Costs::default(),
            resume: false,
            threads: NonZeroUsize::new(2),
            stop: Stop::default(),
        }
    }

    fn ranked(options: &RankOptions) -> (RankingSummary, String) {
        let summary = ranking::run(options, &provisions(), &mut Silent).unwrap();
        (
            summary,
            fs::read_to_string(options.out.as_ref().unwrap()).unwrap(),
        )
    }

    /// The list of a few houses, without a budget.
    fn list(&self, houses: &str) -> Vec<Value> {
        let path = self.put("houses.csv", houses);
        let options = RankOptions {
            budget: None,
            money: Money::default(),
            ..self.options(Path::new(&path))
        };
        rows(&Self::ranked(&options).1)
    }
}

fn rows(list: &str) -> Vec<Value> {
    list.lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

/// The example portfolio ranked with its budget, as a program of grants would.
fn ranked() -> &'static (RankingSummary, Vec<Value>) {
    static RANKED: LazyLock<(RankingSummary, Vec<Value>)> = LazyLock::new(|| {
        let desk = Desk::new();
        let options = RankOptions {
            cut_by: vec!["region".to_owned(), "district".to_owned()],
            ..desk.options(&portfolio())
        };
        let (summary, list) = Desk::ranked(&options);
        (summary, rows(&list))
    });
    &RANKED
}

/// A shipped table, read with the csv crate.
fn table(name: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_path(root().join("tables/ranking").join(name)).unwrap();
    reader.deserialize().map(|row| row.unwrap()).collect()
}

/// The row of the latest years that hold a year.
fn of_year(
    rows: &[BTreeMap<String, String>],
    year: u16,
    is_it: impl Fn(&BTreeMap<String, String>) -> bool,
) -> &BTreeMap<String, String> {
    let from = |row: &BTreeMap<String, String>| row["built_from"].parse::<u16>().unwrap_or(0);
    let fitting = rows.iter().filter(|row| is_it(row) && from(row) <= year);
    fitting.max_by_key(|row| from(row)).unwrap()
}

fn figure(row: &BTreeMap<String, String>, column: &str) -> f64 {
    row[column].parse().unwrap()
}

/// The error function by its series, which no library had a hand in.
fn erf(x: f64) -> f64 {
    let (mut term, mut sum, mut n) = (x, x, 0.0);
    while term.abs() > 1e-17 {
        n += 1.0;
        term *= -x * x / n;
        sum += term / (2.0 * n + 1.0);
    }
    sum * 2.0 / std::f64::consts::PI.sqrt()
}

/// Expected loss as a share of the value, by the rows of the tables.
fn loss(curve: &str, shaking: f64) -> f64 {
    let curves = table("fragility.csv");
    let curve = curves.iter().find(|row| row["curve"] == curve).unwrap();
    let mut below = 0.0;
    table("losses.csv")
        .iter()
        .map(|row| {
            let median = figure(curve, &row["damage"]);
            let z = (shaking / median).ln() / figure(curve, "beta");
            let step = figure(row, "ratio") - below;
            below = figure(row, "ratio");
            step * (1.0 + erf(z / 2f64.sqrt())) / 2.0
        })
        .sum()
}

static CRAWL: LazyLock<Vec<BTreeMap<String, String>>> = LazyLock::new(|| table("crawl-space.csv"));
static SHORT: LazyLock<Vec<BTreeMap<String, String>>> = LazyLock::new(|| table("shortfall.csv"));

/// How much is avoided at a house, worked out from its row, the tables, and what the checks found short.
fn avoided(row: &BTreeMap<String, String>, found: &Value, losses: &BTreeMap<String, f64>) -> Option<f64> {
    let reasons: Vec<&str> = found["reasons"]
        .as_array()
        .unwrap()
        .iter()
        .map(|reason| reason.as_str().unwrap())
        .collect();
    let value: f64 = row["replacement_value"].parse().ok()?;
    let stake = value * losses.get(&row["peak_ground_acceleration"])?;
    if reasons.contains(&"nothing_short") {
        return Some(0.0);
    }
    if reasons.iter().any(|reason| reason.ends_with("_short")) {
        return Some(stake);
    }
    if !reasons.contains(&"not_looked_at") {
        return None; // open, and which part it is the list does not say
    }
    let year: u16 = row["year_built"].parse().ok()?;
    let zone = Some(&row["climate_zone"]).filter(|zone| !zone.is_empty())?;
    let crawl = of_year(&CRAWL, year, |row| row["climate_zone"] == *zone);
    let crawl = figure(crawl, "vented") + figure(crawl, "unvented");
    let sound: f64 = ["anchorage", "bracing", "other"]
        .iter()
        .map(|part| {
            let row = of_year(&SHORT, year, |row| row["part"] == *part);
            let mean = (figure(row, "low") + 2.0 * figure(row, "likely") + figure(row, "high")) / 4.0;
            1.0 - mean
        })
        .product();
    Some(stake * crawl * (1.0 - sound))
}

/// Against a computation of its own: every house of which nothing is assumed avoids what the tables say.
#[test]
fn every_house_avoids_what_the_tables_say() {
    let mut reader = csv::Reader::from_path(portfolio()).unwrap();
    let houses: BTreeMap<String, BTreeMap<String, String>> = reader
        .deserialize()
        .map(|row| row.unwrap())
        .map(|row: BTreeMap<String, String>| (row["id"].clone(), row))
        .collect();
    let losses: BTreeMap<String, f64> = houses
        .values()
        .filter_map(|row| {
            let text = &row["peak_ground_acceleration"];
            let shaking = text.parse().ok()?;
            Some((text.clone(), loss("pre", shaking) - loss("moderate", shaking)))
        })
        .collect();
    let mut held = 0;
    for found in &ranked().1 {
        let id = found["id"].as_str().unwrap();
        if let Some(expected) = avoided(&houses[id], found, &losses) {
            let told = found["avoided"].as_f64().unwrap();
            assert!((told - expected).abs() <= 0.5 + 1e-6, "{id}: {told}, {expected}");
            held += 1;
        }
    }
    assert!(held > 3000, "{held} houses were held to it");
}

/// The list is in order, ties go by id, and the money goes down it until it is gone.
#[test]
fn the_list_is_in_order_and_the_money_goes_down_it() {
    let (summary, list) = ranked();
    let number = |row: &Value, key: &str| row[key].as_f64().unwrap();
    for pair in list.windows(2) {
        let (first, second) = (
            number(&pair[0], "avoided_per_dollar"),
            number(&pair[1], "avoided_per_dollar"),
        );
        assert!(first >= second, "{} before {}", pair[0], pair[1]);
        if number(&pair[0], "avoided") == 0.0 && number(&pair[1], "avoided") == 0.0 {
            assert!(pair[0]["id"].as_str() <= pair[1]["id"].as_str());
        }
    }
    let (mut paid, mut is_over, mut met) = (0.0, false, BTreeSet::new());
    for row in list {
        let id = row["id"].as_str().unwrap();
        let is_repeat = !met.insert(id);
        // What a row says is rounded to the dollar.
        let is_within = paid + number(row, "paid") <= BUDGET + 1.0;
        is_over |= !is_repeat && (!is_within || number(row, "avoided") == 0.0);
        assert_eq!(row["funded"].as_bool().unwrap(), !is_over && !is_repeat, "{id}");
        if row["funded"] == true {
            paid += number(row, "paid");
        }
        assert!(number(row, "paid") <= CAP);
        assert_eq!(row["paid"] == 0.0, row["cost_from"] == "no_work");
    }
    assert!(is_over && summary.all.funded > 500);
    // Half a dollar for each of no more than a thousand houses.
    assert!((summary.all.paid - paid).abs() < 500.0 && summary.all.funded < 1000);
    // A row that stands twice is paid for once.
    assert!(summary.data_quality.repeated_ids.further_rows > 50);
}

/// What is not known is never paid for as if it were, and says so in every row.
#[test]
fn what_nobody_saw_is_called_inferred() {
    for row in &ranked().1 {
        let is_inferred = row["verdict"].is_null();
        assert_eq!(row["basis"], if is_inferred { "inferred" } else { "observed" });
        let reasons = row["reasons"].as_array().unwrap();
        assert_eq!(
            reasons.iter().any(|reason| reason == "not_looked_at"),
            is_inferred
        );
        assert_eq!(
            reasons.iter().any(|reason| reason == "no_shaking"),
            row["shaking"].is_null()
        );
        if is_inferred {
            assert!(row["need_chance"].as_f64().unwrap() < 1.0);
            assert!(matches!(row["evidence"].as_str(), Some("inferred" | "assumed")));
        }
    }
}

/// All parts of a summary are the same houses, counted in other ways.
#[test]
fn a_summary_adds_up() {
    let (summary, list) = ranked();
    assert_eq!(summary.all.houses, list.len() as u64);
    let by_era: Vec<_> = summary.eras.iter().map(|era| &era.group).collect();
    let verdicts: Vec<_> = summary.verdicts.iter().collect();
    let evidence: Vec<_> = summary.evidence.iter().collect();
    let cuts = summary
        .cuts
        .iter()
        .map(|cut| cut.groups.iter().collect::<Vec<_>>());
    for groups in [by_era, verdicts, evidence].into_iter().chain(cuts) {
        assert_eq!(
            groups.iter().map(|group| group.houses).sum::<u64>(),
            summary.all.houses
        );
        assert_eq!(
            groups.iter().map(|group| group.funded).sum::<u64>(),
            summary.all.funded
        );
        let paid: f64 = groups.iter().map(|group| group.paid).sum();
        assert!((paid - summary.all.paid).abs() <= 10.0);
    }
    let map = &summary.map;
    let on_map: u64 = map
        .cells
        .iter()
        .map(|cell| cell.funded + cell.beyond_budget + cell.nothing_short)
        .sum();
    assert_eq!(on_map + map.without_place, summary.all.houses);
    assert!(map.cells.len() <= 4000);
    let looks = &summary.looks;
    let looked: u64 = looks.by_unknown.iter().map(|look| look.houses).sum();
    assert_eq!(
        looked + looks.nothing_to_gain + summary.data_quality.repeated_ids.further_rows,
        summary.all.houses
    );
    assert!(looks.houses.is_sorted_by(|a, b| a.worth >= b.worth));
    let curve = &summary.budget_curve;
    assert!(curve.is_sorted_by(|a, b| a.paid <= b.paid && a.benefit <= b.benefit));
    let stability = &summary.stability;
    assert_eq!(
        stability.funded_and_sure + stability.funded_and_likely + stability.funded_and_unsure,
        summary.all.funded
    );
}

#[test]
fn a_summary_is_what_its_schema_says() {
    let schema: Value = serde_json::from_str(&json::ranking_schema()).unwrap();
    let summary: Value = serde_json::from_str(&json::ranking(&ranked().0)).unwrap();
    let faults: Vec<String> = jsonschema::validator_for(&schema)
        .unwrap()
        .iter_errors(&summary)
        .map(|error| format!("{error} at {}", error.instance_path()))
        .collect();
    assert!(faults.is_empty(), "{faults:#?}");
}

/// The same bytes for any number of threads, and for any order of the rows.
#[rstest]
#[case(ListFormat::Csv)]
#[case(ListFormat::JsonLines)]
fn neither_threads_nor_the_order_of_rows_move_a_byte(#[case] format: ListFormat) {
    let desk = Desk::new();
    let options = |houses: &Path, threads| RankOptions {
        format,
        threads: NonZeroUsize::new(threads),
        ..desk.options(houses)
    };
    let (summary, list) = Desk::ranked(&options(&portfolio(), 1));
    let (of_two, list_of_two) = Desk::ranked(&options(&portfolio(), 2));
    assert_eq!(list, list_of_two);
    assert_eq!(summary, of_two);
    let text = fs::read_to_string(portfolio()).unwrap();
    let (header, rest) = text.split_once('\n').unwrap();
    let mut lines: Vec<&str> = rest.lines().collect();
    lines.reverse();
    let turned = desk.put("turned.csv", format!("{header}\n{}\n", lines.join("\n")));
    let (_, list_of_turned) = Desk::ranked(&options(Path::new(&turned), 2));
    assert_eq!(list, list_of_turned);
}

/// Another seed draws other worlds, and moves no house in the list.
#[test]
fn the_seed_moves_no_house() {
    let desk = Desk::new();
    let (_, list) = Desk::ranked(&desk.options(&portfolio()));
    let options = RankOptions {
        seed: 2,
        ..desk.options(&portfolio())
    };
    let (_, of_other_seed) = Desk::ranked(&options);
    let pairs: Vec<(Value, Value)> = rows(&list).into_iter().zip(rows(&of_other_seed)).collect();
    assert!(
        pairs
            .iter()
            .all(|(one, other)| one["id"] == other["id"] && one["avoided"] == other["avoided"])
    );
    assert!(
        pairs
            .iter()
            .any(|(one, other)| one["funded_in_draws"] != other["funded_in_draws"])
    );
}

const HEADER: &str = "id,year_built,climate_zone,replacement_value,peak_ground_acceleration,anchors,x_tract";

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Every value scaled alike scales what is avoided and leaves the order; more shaking never means less loss.
    #[test]
    fn value_scales_and_shaking_adds(
        houses in prop::collection::vec((1900u16..1990, 100_000u32..900_000, 10u32..120, any::<bool>()), 2..12),
        more in 1u32..40,
    ) {
        let table = |times: u32, more: u32| {
            let rows = houses.iter().enumerate().map(|(number, (year, value, shaking, bare))| {
                let anchors = if *bare { "no" } else { "" };
                let (value, shaking) = (value * times, f64::from(shaking + more) / 100.0);
                format!("Q-{number},{year},3C,{value},{shaking:.2},{anchors},7")
            });
            let rows: Vec<String> = rows.collect();
            format!("{HEADER}\n{}\n", rows.join("\n"))
        };
        let desk = Desk::new();
        let (once, twice, shaken) =
            (desk.list(&table(1, 0)), desk.list(&table(2, 0)), desk.list(&table(1, more)));
        for (one, two) in once.iter().zip(&twice) {
            prop_assert_eq!(&one["id"], &two["id"]);
            let (one, two) = (one["avoided"].as_f64().unwrap(), two["avoided"].as_f64().unwrap());
            prop_assert!((two - 2.0 * one).abs() <= 1.5);
        }
        for before in &once {
            let after = shaken.iter().find(|row| row["id"] == before["id"]).unwrap();
            prop_assert!(after["loss_before_proxy"].as_f64() >= before["loss_before_proxy"].as_f64());
        }
    }
}

/// What a table infers of a house is not what somebody saw.
#[test]
fn an_inferred_row_is_not_taken_for_an_inspection() {
    let desk = Desk::new();
    let list = desk.list("id,known_by,anchors\nseen,seen,no\nguessed,inferred,no\n");
    let of = |id: &str| list.iter().find(|row| row["id"] == id).unwrap();
    assert_eq!(of("seen")["basis"], "observed");
    assert_eq!(of("guessed")["basis"], "inferred");
}

/// A house with observations goes through the checks, and one without is inferred, in one file.
#[test]
fn both_depths_in_one_pass() {
    let desk = Desk::new();
    let list = desk.list(&format!(
        "{HEADER}\nbare,1926,3C,400000,0.5,no,7\nblank,1926,3C,400000,0.5,,7\nnothing,,,,,,\n"
    ));
    let of = |id: &str| list.iter().find(|row| row["id"] == id).unwrap();
    assert_eq!(of("bare")["verdict"], "not_met");
    assert_eq!(of("bare")["need_chance"], 1.0);
    assert_eq!(of("blank")["crawl_space_chance"], 0.435);
    assert_eq!(of("blank")["passed"]["x_tract"], "7");
    // What nobody told is assumed, and never zero.
    assert_eq!(of("nothing")["evidence"], "assumed");
    assert!(of("nothing")["avoided"].as_f64().unwrap() > 0.0);
    for reason in ["no_year", "no_zone", "no_shaking", "no_value"] {
        assert!(
            of("nothing")["reasons"]
                .as_array()
                .unwrap()
                .contains(&reason.into()),
            "{reason}"
        );
    }
}

mod command_line {
    use super::*;

    const HOUSES: &str = "id,latitude,longitude,year_built,climate_zone,replacement_value\n\
                          inside,37.5,-122.5,1926,3C,400000\n\
                          outside,39,-122.5,1926,3C,400000\n\
                          nowhere,,,1926,3C,400000\n";
    const GRID: &str = "longitude,latitude,pga\n-123,37,0.4\n-122,37,0.6\n-123,38,0.4\n-122,38,0.6\n";

    #[test]
    fn a_grid_tells_shaking_inside_and_nothing_outside() {
        let desk = Desk::new();
        let (houses, grid) = (desk.put("houses.csv", HOUSES), desk.put("grid.csv", GRID));
        let list = printed(&["rank", &houses, "--hazard", &grid, "--format", "jsonl"], 0);
        for row in rows(&list) {
            let is_inside = row["id"] == "inside";
            assert_eq!(
                row["shaking_from"],
                if is_inside { "grid" } else { "assumption" },
                "{row}"
            );
            assert_eq!(row["shaking"], if is_inside { 0.5.into() } else { Value::Null });
        }
    }

    #[test]
    fn tables_of_a_users_own_take_the_place_of_those_shipped() {
        let desk = Desk::new();
        let houses = desk.put("houses.csv", HOUSES);
        let folder = desk.path("ours");
        fs::create_dir(&folder).unwrap();
        let shipped = fs::read_to_string(root().join("tables/ranking/costs.csv")).unwrap();
        let dearer = shipped.replace(
            "anchors_and_bracing,3000,5200,7000",
            "anchors_and_bracing,9000,9000,9000",
        );
        assert_ne!(shipped, dearer);
        fs::write(folder.join("costs.csv"), dearer).unwrap();
        fs::write(folder.join("notes.md"), "ours").unwrap();
        let folder = folder.to_str().unwrap();
        let list = printed(
            &[
                "rank",
                &houses,
                "--priors",
                folder,
                "--whole-jobs",
                "--format",
                "jsonl",
            ],
            0,
        );
        assert!(
            rows(&list)
                .iter()
                .all(|row| row["cost"] == serde_json::json!([9000.0, 9000.0, 9000.0]))
        );
    }

    #[test]
    fn a_summary_is_written_beside_the_list() {
        let desk = Desk::new();
        let (houses, out, summary) = (
            desk.put("houses.csv", HOUSES),
            desk.path("out.csv"),
            desk.path("all.json"),
        );
        let (out, path) = (out.to_str().unwrap(), summary.to_str().unwrap());
        let told = printed(
            &[
                "rank",
                &houses,
                "--out",
                out,
                "--summary",
                path,
                "--budget",
                "20000",
            ],
            0,
        );
        assert!(told.contains("2 of 3 houses are reached"), "{told}");
        assert!(told.contains("They are proxies"), "{told}");
        let summary: Value = serde_json::from_slice(&fs::read(summary).unwrap()).unwrap();
        assert_eq!(summary["format"], "ranking-2");
        assert_eq!(summary["all"]["funded"], 2);
        assert_eq!(summary["data_quality"]["shaking_assumed"], 3);
        assert_eq!(summary["map"]["without_place"], 1);
        assert_eq!(printed(&["rank", &houses, "--out", out, "--quiet"], 0), "");
    }

    #[test]
    fn a_bad_row_is_left_out_and_told() {
        let desk = Desk::new();
        let houses = desk.put(
            "houses.csv",
            format!("{HOUSES}wrong,137.5,-122,1926,3C,400000\nbad,,,soon,,\n"),
        );
        let output = run(&["rank", &houses, "--format", "jsonl"]);
        assert_eq!(output.status.code(), Some(3));
        assert_eq!(rows(std::str::from_utf8(&output.stdout).unwrap()).len(), 3);
        let told = String::from_utf8(output.stderr).unwrap();
        assert!(
            told.contains(":5: column latitude: found \"137.5\"; expected degrees from -90 to 90"),
            "{told}"
        );
        assert!(told.contains(":6: column year_built"), "{told}");
        assert!(
            told.contains("2 rows could not be read and are left out"),
            "{told}"
        );
    }

    #[rstest]
    #[case(&["--cut-by", "x_tract"], "found no column \"x_tract\" to group by")]
    #[case(&["--budget", "2.5M"], "expected dollars over 0")]
    #[case(&["--draws", "0"], "0 is not in 1..=1000")]
    #[case(&["--hazard", "nowhere.csv"], "nowhere.csv: cannot be read")]
    #[case(&["--priors", "nowhere"], "nowhere: cannot be read")]
    #[case(&["-p", "cebc-a3-1066"], "cebc-a3-1066")]
    fn wrong_words_are_refused(#[case] words: &[&str], #[case] says: &str) {
        let desk = Desk::new();
        let houses = desk.put("houses.csv", HOUSES);
        let told = refused(&[&["rank", &houses], words].concat());
        assert!(told.contains(says), "{told}");
    }

    #[rstest]
    #[case(
        "grid.csv",
        "longitude,latitude,pga\n1,2,40\n",
        "grid.csv:2: column pga: found \"40\""
    )]
    #[case("grid.csv", "lon,lat,pga\n", "grid.csv:1: found the columns lon,lat,pga")]
    fn a_wrong_grid_is_refused(#[case] name: &str, #[case] text: &str, #[case] says: &str) {
        let desk = Desk::new();
        let (houses, grid) = (desk.put("houses.csv", HOUSES), desk.put(name, text));
        let told = refused(&["rank", &houses, "--hazard", &grid]);
        assert!(told.contains(says), "{told}");
    }

    #[test]
    fn wrong_tables_are_refused_where_they_are_wrong() {
        let desk = Desk::new();
        let houses = desk.put("houses.csv", HOUSES);
        let folder = desk.path("ours");
        fs::create_dir(&folder).unwrap();
        fs::write(
            folder.join("losses.csv"),
            "damage,ratio,source,section,standing,note\nslight,2,none,,memory,\n",
        )
        .unwrap();
        let told = refused(&["rank", &houses, "--priors", folder.to_str().unwrap()]);
        assert!(told.contains("losses.csv, line 2"), "{told}");
    }

    #[test]
    fn no_input_is_written_over() {
        let desk = Desk::new();
        let (houses, grid) = (desk.put("houses.csv", HOUSES), desk.put("grid.csv", GRID));
        for words in [
            &["--out", &*houses][..],
            &["--summary", &houses],
            &["--hazard", &grid, "--summary", &grid],
            &["--hazard", &grid, "--out", &grid],
        ] {
            let told = refused(&[&["rank", &*houses], words].concat());
            assert!(told.contains("found the same file twice"), "{told}");
        }
        assert_eq!(fs::read_to_string(houses).unwrap(), HOUSES);
        assert_eq!(fs::read_to_string(grid).unwrap(), GRID);
    }
}
