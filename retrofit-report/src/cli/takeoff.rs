//! `retrofit takeoff`: what a remedy takes and costs.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use retrofit_core::prices::UnitPrices;
use retrofit_core::remedy::design;
use retrofit_core::takeoff::{Stock, take_off};
use retrofit_report::input::{Origin, read_house, read_prices};
use retrofit_report::output::make_folder;
use retrofit_report::takeoff::{TakeoffReport, csv, cutting_csv, json, markdown, terminal};

use super::console::Console;
use super::exit::{Failure, Status};
use super::provisions::ProvisionsArgs;
use super::report::{Page, stem, write_pages};

/// Count what the remedy of a house takes, cut the sheets, and give its cost as a range
///
/// Everything is read off the layout that `retrofit remedy` draws: anchors, washers, clips, blocks, nails by size and
/// pound, and whole sheets with their cutting list and the waste. The cost is low, likely and high, with what drives
/// the spread. The prices shipped are placeholders of published ratios; give your own with --prices.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Takeoff {
    /// House file; `-` reads it from standard input
    #[arg(value_name = "HOUSE.json")]
    house: PathBuf,
    /// Folder for the takeoff as Markdown and the two lists as CSV; left out, it is printed
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Table of unit prices of your own, as `tables/unit-prices-placeholder/prices.csv` has it
    #[arg(long, value_name = "FILE.csv")]
    prices: Option<PathBuf>,
    #[command(flatten)]
    provisions: ProvisionsArgs,
    /// How to print the takeoff
    #[arg(long, value_name = "FORMAT", default_value = "text", value_enum)]
    format: Format,
}

const EXAMPLES: &str = "\
Examples:
  retrofit takeoff house.json
      What to order and what it may cost.
  retrofit takeoff house.json --out order
      Writes order/house.takeoff.md, house.takeoff.csv and house.cutting.csv.
  retrofit takeoff house.json --prices our-prices.csv --format csv > takeoff.csv
      By your own prices, for a spreadsheet.
  retrofit takeoff house.json --format json
      For a machine; `retrofit schema takeoff` describes it.

Exit codes: 0 where every wall line has a layout for all it lacks, 2 where something has none and so is not counted, \
3 bad input.";

/// How a takeoff is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For a reader
    Text,
    /// The rows, for a spreadsheet
    Csv,
    /// For a machine
    Json,
}

impl Takeoff {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let set = self.provisions.one_set()?;
        let own = self.prices.as_deref().map(read_prices).transpose()?;
        let prices = own.as_ref().unwrap_or_else(|| UnitPrices::placeholder());
        let file = read_house(&Origin::from(self.house.as_path()))?;
        let remedy = design(&file.house, &set, prices);
        let takeoff = take_off(&remedy, prices, Stock::shipped());
        let report = TakeoffReport::new(&file.house, &set.title, &takeoff);
        let status = if remedy.is_complete() {
            Status::Done
        } else {
            Status::NotDetermined
        };
        if let Some(folder) = &self.out {
            make_folder(folder)?;
            let stem = stem(&file);
            let pages = [
                ("takeoff.md", markdown(&report)),
                ("takeoff.csv", csv(&report)),
                ("cutting.csv", cutting_csv(&report)),
            ];
            let pages: Vec<Page> = pages
                .into_iter()
                .map(|(name, text)| Page::new(folder.join(format!("{stem}.{name}")), text))
                .collect();
            write_pages(&pages, &[&file], console)?;
            return Ok(status);
        }
        let text = match self.format {
            Format::Text => terminal(&report),
            Format::Csv => csv(&report),
            Format::Json => json(&report),
        };
        console.say(text.trim_end())?;
        Ok(status)
    }
}
