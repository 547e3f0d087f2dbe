//! `retrofit rank`: the houses of a portfolio in the order in which a budget does most.

use std::io;
use std::num::NonZeroUsize;
use std::path::PathBuf;

use clap::{Args, ValueEnum, value_parser};
use retrofit_core::ranking::{Money, RankingTables};
use retrofit_report::input::{Origin, read_column_map, read_prices};
use retrofit_report::output::write_whole;
use retrofit_report::ranking::{
    self, Costs, ListFormat, RankError, RankOptions, read_hazard, read_ranking_tables,
};
use retrofit_report::result::wording::sentence_case;
use retrofit_report::triage::{Stop, Terminal, TriageError, refuse_one_file_twice};
use retrofit_report::{html, json, terminal};

use super::console::Console;
use super::exit::{Failure, Status};
use super::interrupt;
use super::look::LookArgs;
use super::provisions::ProvisionsArgs;
use super::triage::OnlyBadRows;

/// Rank many houses by what a budget avoids, with how sure each place is and what to look at next
///
/// Each row of the file is a house, with the columns that `retrofit triage --columns` lists. Houses that somebody
/// looked under go through the checks; any other is inferred from its year and climate zone, by published shares
/// where there are any and by stated assumptions where there are none, and says so in every row. What a house may
/// lose is read off published curves made for other houses: proxies, good for putting houses in order and no forecast.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Rank {
    /// The houses, one row each; `-` reads them from standard input
    #[arg(value_name = "HOUSES.csv")]
    houses: PathBuf,
    /// How the columns of an extract become ours; `retrofit map` proposes such a file
    #[arg(long, value_name = "MAP.toml")]
    map: Option<PathBuf>,
    /// Write the ranked list to this file, whole or not at all, instead of standard output
    #[arg(long, short, value_name = "FILE")]
    out: Option<PathBuf>,
    /// How to write the list
    #[arg(long, value_name = "FORMAT", default_value = "csv", value_enum)]
    format: Format,
    /// Write what the list comes to, as JSON, to this file: all that a page about the portfolio shows
    #[arg(long, value_name = "FILE.json")]
    summary: Option<PathBuf>,
    /// Write a page about the portfolio, one HTML file that needs no network, to this file
    #[arg(long, value_name = "FILE.html")]
    page: Option<PathBuf>,
    /// What there is to spend, in dollars [default: as long as a dollar avoids a dollar of loss]
    #[arg(long, value_name = "DOLLARS", value_parser = dollars)]
    budget: Option<f64>,
    /// The most that one house is given, in dollars; its owner bears the rest [default: its whole cost]
    #[arg(long, value_name = "DOLLARS", value_parser = dollars)]
    grant_cap: Option<f64>,
    /// Shaking where no column tells it: a CSV grid with the columns longitude, latitude, pga
    ///
    /// Between four points of the grid the shaking is interpolated; outside it is unknown, never zero.
    #[arg(long, value_name = "GRID.csv")]
    hazard: Option<PathBuf>,
    /// Folder with tables of your own in place of those of tables/ranking that have the same names
    #[arg(long, value_name = "FOLDER")]
    priors: Option<PathBuf>,
    /// Price the work by unit prices of your own, as `tables/unit-prices-placeholder/prices.csv` has them
    #[arg(long, value_name = "FILE.csv")]
    prices: Option<PathBuf>,
    /// Price whole jobs by their published ranges (costs.csv of the tables), whatever the size of a house
    #[arg(long, conflicts_with = "prices")]
    whole_jobs: bool,
    /// Count houses and money by the values of this column (region, district or x_...); may be given more than once
    #[arg(long, value_name = "COLUMN")]
    cut_by: Vec<String>,
    /// Seed of the draws that tell how sure a place is; the same seed gives the same list
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
    /// How often everything unknown is drawn
    #[arg(long, value_name = "NUMBER", default_value_t = 100, value_parser = value_parser!(u16).range(1..=1000))]
    draws: u16,
    /// Write the rows that cannot be read to this CSV file instead of standard error
    #[arg(long, value_name = "FILE")]
    bad_rows: Option<PathBuf>,
    /// How many threads check, from 1 to 256 [default: as many as there are cores]
    #[arg(long, value_name = "NUMBER", value_parser = value_parser!(u16).range(1..=256))]
    threads: Option<u16>,
    /// Go on with a run to the same --out that was stopped; the list comes out as if it had not been
    #[arg(long, requires = "out")]
    resume: bool,
    #[command(flatten)]
    provisions: ProvisionsArgs,
    #[command(flatten)]
    look: LookArgs,
}

const EXAMPLES: &str = "\
Examples:
  retrofit rank houses.csv --out ranked.csv
      The list, and what it comes to on the terminal.
  retrofit rank houses.csv --out ranked.csv --budget 2500000 --grant-cap 3000 --cut-by district
      A program of $2.5 million that gives a house no more than $3,000, counted by district.
  retrofit rank houses.csv --out ranked.csv --hazard shaking.csv --priors our-tables --summary ranked.json
      With a grid of shaking and likelihoods of your own; everything for a page as JSON.
  retrofit rank houses.csv --out ranked.csv --budget 2500000 --page portfolio.html
      A page for whoever decides: verdicts, map, budget curve, groups, what to look at next.
  retrofit rank houses.csv --out ranked.csv --prices our-prices.csv
      The work priced by unit prices of your own; those shipped are placeholders.
  retrofit rank houses.csv --format jsonl --seed 7
      One JSON object a line, with other draws.
  retrofit rank houses.csv --out ranked.csv --resume
      Goes on with a run that was stopped.

What the columns of the list say:
  basis            observed, or inferred where nobody looked
  evidence         seen; seen_in_part; inferred; assumed (inferred, with year, zone, shaking or value assumed)
  reasons          anchors_short, bracing_short, other_short, nothing_short, still_open, not_looked_at, outside,
                   foundation_first, no_year, no_zone, no_shaking, no_value
  funded           whether the budget reaches it; funded_in_draws: in what share of the draws it would
  rank_from, _to   nine in ten draws put it between these places
  avoided          dollars of loss avoided on average, should the shaking come; _per_dollar: of cost,
                   whoever pays it
  cost_from        size_on_record: takeoff of a bare house of its size;
                   size_assumed: likewise, with size or framing assumed;
                   whole_jobs: published prices, where there is no layout;
                   no_work: nothing found short
  look_next        the one thing whose answer would change the decision most; look_worth: what that is worth, in dollars

An id that stands in more than one row is listed with its lines; each row stays in the list, and the id is paid for once.

Beside the list stands a manifest, ranked.csv.manifest.json: the fingerprints of what was read and written, the \
provisions, tables, prices and settings, the counts. No list is in order before every row was read, so a run that is \
interrupted writes none; it leaves what it had worked out in ranked.csv.partial, and --resume goes on from there. A second \
interrupt, a full disk or an input that breaks off leave nothing; the run is then begun again.

Where a house without observations stands is a guess about houses like it. No place in the list says that a house is \
safe or unsafe; the local code official and a licensed engineer decide.

The exit code is 0 when every row was ranked, and 3 when rows had to be left out.";

/// How the list is written.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Format {
    /// A table with a header
    Csv,
    /// One JSON object a line
    Jsonl,
}

/// An amount of dollars.
fn dollars(text: &str) -> Result<f64, String> {
    let is_plain = text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    let dollars = text
        .parse()
        .ok()
        .filter(|dollars| is_plain && *dollars > 0.0 && *dollars <= 1e12);
    dollars.ok_or_else(|| "expected dollars over 0, without sign or separators, such as 2500000".to_owned())
}

impl Rank {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let stop = Stop::default();
        let end_as_asked = interrupt::stop_at_first(stop.clone());
        let provisions = self.provisions.one_set()?;
        let inputs = [
            Some(&self.houses),
            self.map.as_ref(),
            self.hazard.as_ref(),
            self.prices.as_ref(),
        ];
        let outputs = [&self.out, &self.bad_rows, &self.summary, &self.page];
        let files = inputs.into_iter().flatten().chain(outputs.into_iter().flatten());
        refuse_one_file_twice(files.map(PathBuf::as_path)).map_err(RankError::Triage)?;
        let look = self.look.look()?;
        let tables = match &self.priors {
            Some(folder) => read_ranking_tables(folder)?,
            None => RankingTables::shipped().clone(),
        };
        let hazard = self.hazard.as_deref().map(read_hazard).transpose()?;
        let map = self
            .map
            .as_deref()
            .map(|path| read_column_map(&Origin::from(path)));
        let options = RankOptions {
            houses: self.houses,
            map: map.transpose()?,
            out: self.out,
            format: match self.format {
                Format::Csv => ListFormat::Csv,
                Format::Jsonl => ListFormat::JsonLines,
            },
            bad_rows: self.bad_rows,
            tables,
            costs: match self.prices {
                Some(file) => Costs::Own {
                    prices: read_prices(&file)?,
                    file,
                },
                None if self.whole_jobs => Costs::WholeJobs,
                None => Costs::Placeholder,
            },
            hazard,
            budget: self.budget,
            money: Money {
                grant_cap: self.grant_cap,
            },
            seed: self.seed,
            draws: self.draws.into(),
            cut_by: self.cut_by,
            threads: self.threads.and_then(|threads| NonZeroUsize::new(threads.into())),
            resume: self.resume,
            stop,
        };
        let ran = if console.quiet {
            ranking::run(&options, &provisions, &mut OnlyBadRows(console))
        } else {
            ranking::run(&options, &provisions, &mut Terminal::default())
        };
        let summary = match ran {
            // Whoever reads has read enough.
            Err(RankError::Triage(TriageError::Stdout(error)))
                if error.kind() == io::ErrorKind::BrokenPipe =>
            {
                return Ok(Status::Done);
            }
            Err(stopped @ RankError::Stopped { .. }) => {
                console.remark(&sentence_case(&stopped.to_string()));
                end_as_asked();
                return Ok(Status::PartlyBad);
            }
            ran => ran?,
        };
        if let Some(path) = &self.summary {
            write_whole(path, json::ranking(&summary).as_bytes())?;
        }
        let page = summary.document();
        if let Some(path) = &self.page {
            write_whole(path, html::render_document(&page, &look)?.as_bytes())?;
        }
        if options.out.is_none() {
            console.remark(&terminal::render_document(&page, false));
        } else if !console.quiet {
            console.say(&terminal::render_document(&page, console.styled()))?;
        }
        Ok(if summary.input.bad_rows == 0 {
            Status::Done
        } else {
            Status::PartlyBad
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    fn a_budget_is_plain_dollars(#[values("", "0", "-5", "2.5M", "1e6", "inf", "2,500")] text: &str) {
        assert!(dollars(text).is_err());
    }
}
