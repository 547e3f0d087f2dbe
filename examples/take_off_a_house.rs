//! Counts what the strengthening of one house takes and what it costs.
//!
//! ```text
//! cargo run --example take_off_a_house -- examples/quince-lantern-way.json my-prices.csv
//! ```
//!
//! Without a price table of your own the placeholder is used, and the takeoff says so.
#![expect(clippy::print_stdout, reason = "an example that is run to see what it prints")]

use std::error::Error;

use retrofit_core::house::{AsBuilt, House};
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::Library;
use retrofit_core::remedy::design;
use retrofit_core::takeoff::{Stock, take_off};
use retrofit_report::takeoff::{TakeoffReport, terminal};

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let path = arguments.next().unwrap_or_else(|| {
        concat!(env!("CARGO_MANIFEST_DIR"), "/../examples/quince-lantern-way.json").into()
    });
    let house: House = serde_json::from_str(&std::fs::read_to_string(&path)?)?;
    let house = AsBuilt::new(house).map_err(|problems| lines(&problems))?;
    let provisions = Library::shipped()
        .set(Library::DEFAULT_SET)
        .map_err(|faults| lines(&faults))?;

    // A table of your own is refused with file, line and column of every fault in it.
    let own = match arguments.next() {
        Some(file) => {
            let text = std::fs::read_to_string(&file)?;
            Some(UnitPrices::parse(&file, &text).map_err(|faults| lines(&faults))?)
        }
        None => None,
    };
    let prices = own.as_ref().unwrap_or(UnitPrices::placeholder());

    let remedy = design(&house, &provisions, prices);
    let takeoff = take_off(&remedy, prices, Stock::shipped());
    let report = TakeoffReport::new(&house, &provisions.title, &takeoff);
    print!("{}", terminal(&report));
    Ok(())
}

fn lines(faults: &[impl ToString]) -> String {
    let lines: Vec<String> = faults.iter().map(ToString::to_string).collect();
    lines.join("\n")
}
