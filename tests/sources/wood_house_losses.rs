//! Damage curves, loss ratios and shares of crawl spaces against the open tables they were taken from, and what the
//! curves come to against another program: Hazus W1 and RES1 as transcribed in an open library of damage and loss
//! models, and the table of foundation types of an open model of the national housing stock.

use crate::published::{Outcome, Row, every_row};
use retrofit_core::choice::Choice;
use retrofit_core::ranking::{Damage, RankingTables};

fn compute(row: &Row) -> Outcome {
    let tables = RankingTables::shipped();
    let curve = || tables.curve(row.text("curve")).unwrap();
    Outcome::Number(match row.check.as_str() {
        "expected-loss" => 100.0 * curve().expected_loss(row.number("pga")),
        "complete" => {
            let [.., complete] = curve().fragility.at(row.number("pga"));
            complete
        }
        "median" => {
            let damage: Damage = row.text("damage").parse().unwrap();
            curve().fragility.medians[damage.index() as usize]
        }
        "crawl-space" => {
            let zone = row.text("zone").parse().unwrap();
            let year = row.text("year").parse().unwrap();
            let [likely] = tables.likelihoods(Some(zone), Some(tables.class_of(year))) else {
                panic!("one class of years");
            };
            assert!(likely.crawl_space.is_known());
            likely.crawl_space.likely
        }
        other => panic!("no such check: {other}"),
    })
}

#[test]
fn every_printed_value() {
    every_row(include_str!("published/wood-house-losses.csv"), 83, compute);
}

/// RES1: 2, 10, 44.7 and 100 percent of the value.
#[test]
fn what_each_state_costs() {
    let ratios = RankingTables::shipped().before().ratios;
    assert_eq!(
        ratios.map(|ratio| ratio.to_string()),
        ["0.02", "0.1", "0.447", "1"]
    );
}

/// The proxies are named, and only they are used.
#[test]
fn before_and_after_are_the_curves_that_the_table_names() {
    let tables = RankingTables::shipped();
    assert_eq!(tables.proxies(), ["pre", "moderate"]);
    assert_eq!(*tables.before(), tables.curve("pre").unwrap());
    assert_eq!(*tables.after(), tables.curve("moderate").unwrap());
}
