//! `retrofit rank`: the houses of a portfolio in the order in which a budget does most.

use std::io;
use std::num::NonZeroUsize;
use std::path::PathBuf;

use clap::{Args, ValueEnum, value_parser};
use retrofit_core::ranking::{Money, RankingTables};
use retrofit_report::json;
use retrofit_report::output::{is_same_file, write_whole};
use retrofit_report::ranking::{
    self, GroupRow, RankError, RankOptions, RankingSummary, read_hazard, read_ranking_tables,
};
use retrofit_report::triage::{self, Stop, Terminal, TriageError};

use super::console::Console;
use super::exit::{Failure, Status};
use super::interrupt;
use super::provisions::ProvisionsArgs;
use super::triage::OnlyBadRows;
use super::words::Page;

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
    /// Write the ranked list to this file, whole or not at all, instead of standard output
    #[arg(long, short, value_name = "FILE")]
    out: Option<PathBuf>,
    /// How to write the list
    #[arg(long, value_name = "FORMAT", default_value = "csv", value_enum)]
    format: Format,
    /// Write what the list comes to, as JSON, to this file: all that a page about the portfolio shows
    #[arg(long, value_name = "FILE.json")]
    summary: Option<PathBuf>,
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
    #[command(flatten)]
    provisions: ProvisionsArgs,
}

const EXAMPLES: &str = "\
Examples:
  retrofit rank houses.csv --out ranked.csv
      The list, and what it comes to on the terminal.
  retrofit rank houses.csv --out ranked.csv --budget 2500000 --grant-cap 3000 --cut-by district
      A program of $2.5 million that gives a house no more than $3,000, counted by district.
  retrofit rank houses.csv --out ranked.csv --hazard shaking.csv --priors our-tables --summary ranked.json
      With a grid of shaking and likelihoods of your own; everything for a page as JSON.
  retrofit rank houses.csv --format jsonl --seed 7
      One JSON object a line, with other draws.

What the columns of the list say:
  basis            observed, or inferred where nobody looked
  evidence         seen; seen_in_part; inferred; assumed (inferred, with year, zone, shaking or value assumed)
  reasons          anchors_short, bracing_short, other_short, nothing_short, still_open, not_looked_at, outside,
                   foundation_first, no_year, no_zone, no_shaking, no_value
  funded           whether the budget reaches it; funded_in_draws: in what share of the draws it would
  rank_from, _to   nine in ten draws put it between these places
  avoided          dollars of loss avoided on average, should the shaking come; _per_dollar: of cost,
                   whoever pays it
  look_next        the one thing whose answer would change the decision most; look_worth: what that is worth, in dollars

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
        self.spare_inputs()?;
        let tables = match &self.priors {
            Some(folder) => read_ranking_tables(folder)?,
            None => RankingTables::shipped().clone(),
        };
        let hazard = self.hazard.as_deref().map(read_hazard).transpose()?;
        let options = RankOptions {
            houses: self.houses,
            out: self.out,
            format: match self.format {
                Format::Csv => triage::Format::Csv,
                Format::Jsonl => triage::Format::JsonLines,
            },
            bad_rows: self.bad_rows,
            tables,
            hazard,
            budget: self.budget,
            money: Money {
                grant_cap: self.grant_cap,
            },
            seed: self.seed,
            draws: self.draws.into(),
            cut_by: self.cut_by,
            threads: self.threads.and_then(|threads| NonZeroUsize::new(threads.into())),
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
            Err(RankError::Stopped) => {
                console
                    .remark("Stopped; no list was written, since none is in order before every row was read");
                end_as_asked();
                return Ok(Status::PartlyBad);
            }
            ran => ran?,
        };
        if let Some(path) = &self.summary {
            write_whole(path, json::ranking(&summary).as_bytes())?;
        }
        let told = told(&summary);
        if options.out.is_some() && !console.quiet {
            console.say(&told)?;
        } else {
            console.remark(&told);
        }
        Ok(if summary.input.bad_rows == 0 {
            Status::Done
        } else {
            Status::PartlyBad
        })
    }

    /// Refuses to write the summary over a file of the run, or anything over the grid.
    fn spare_inputs(&self) -> Result<(), Failure> {
        let written = [&self.out, &self.bad_rows, &self.summary];
        let files = [
            Some(&self.houses),
            self.out.as_ref(),
            self.bad_rows.as_ref(),
            self.hazard.as_ref(),
        ];
        for (path, other) in self
            .summary
            .iter()
            .flat_map(|summary| files.iter().flatten().map(move |other| (summary, *other)))
            .chain(written.into_iter().flatten().zip(self.hazard.iter().cycle()))
        {
            if is_same_file(path, other) {
                return Err(RankError::Triage(TriageError::SameFile(path.clone())).into());
            }
        }
        Ok(())
    }
}

/// What the list comes to, for a reader.
fn told(summary: &RankingSummary) -> String {
    let mut page = Page::default();
    let all = &summary.all;
    let left_out = match summary.input.bad_rows {
        0 => String::new(),
        rows => format!("; {} could not be read and left out", count(rows, "row")),
    };
    page.line(format_args!("{} ranked{left_out}", count(all.houses, "house")));
    page.paragraph(
        0,
        &format!(
            "{} are paid for with {}, avoiding {} of {} that all of them could avoid, should the shaking come; at the \
             cut line a dollar of cost avoids {:.2}.",
            all.funded,
            money(all.paid),
            money(all.avoided),
            money(all.avoidable),
            summary.cut_line
        ),
    );
    page.heading("How much was seen");
    groups(&mut page, &summary.evidence);
    page.heading("Verdicts of those that somebody looked under; the others are inferred");
    groups(&mut page, &summary.verdicts);
    for table in &summary.cuts {
        page.heading(&format!("By {}", table.column));
        groups(&mut page, &table.groups);
    }
    page.heading("What a budget avoids");
    for point in summary.budget_curve.iter().step_by(10) {
        page.line(format_args!(
            "  {:>9} houses  {:>14}  avoids {:>14}",
            point.houses,
            money(point.paid),
            money(point.benefit)
        ));
    }
    looks(&mut page, summary);
    reliance(&mut page, summary);
    blanks(&mut page, summary);
    method(&mut page, summary);
    page.into_text()
}

/// What to look at next.
fn looks(page: &mut Page, summary: &RankingSummary) {
    page.heading("What to look at next: the one thing worth most at each house");
    for look in &summary.looks.by_unknown {
        page.line(format_args!(
            "  {:<46} {:>8} houses  worth {:>9} a house on average",
            look.words,
            look.houses,
            money(look.mean_worth)
        ));
    }
    page.line(format_args!(
        "  {:<46} {:>8} houses",
        "no answer would change the decision", summary.looks.nothing_to_gain
    ));
    for house in summary.looks.houses.iter().take(5) {
        page.line(format_args!(
            "  {}, at place {}: {}, worth {}",
            house.id,
            house.rank,
            house.words,
            money(house.worth)
        ));
    }
}

/// How far the list can be relied on.
fn reliance(page: &mut Page, summary: &RankingSummary) {
    page.heading("How far the list can be relied on");
    let stability = &summary.stability;
    page.paragraph(
        2,
        &format!(
            "Of the houses paid for, {} are in at least nine of ten draws, {} in at least half, {} in fewer; {} that are \
             left out would be in half of them or more.",
            stability.funded_and_sure,
            stability.funded_and_likely,
            stability.funded_and_unsure,
            stability.left_out_and_likely
        ),
    );
    for row in &summary.sensitivity {
        page.paragraph(
            2,
            &format!(
                "{}, where nobody told: at the low end of the tables the same houses avoid {}, at the high end {}; {} \
                 drop below the cut line, {} rise above it.",
                row.words,
                money(row.avoided_low),
                money(row.avoided_high),
                row.drop_out_at_low,
                row.come_in_at_high
            ),
        );
    }
}

/// What the table did not tell.
fn blanks(page: &mut Page, summary: &RankingSummary) {
    page.heading("What the table did not tell");
    let quality = &summary.data_quality;
    for (houses, what) in [
        (quality.not_looked_at, "nobody looked under the floor"),
        (quality.no_year, "year unknown"),
        (
            quality.year_1900,
            "year 1900, which often stands for an unknown one",
        ),
        (quality.no_climate_zone, "climate zone unknown"),
        (quality.shaking_assumed, "shaking assumed"),
        (quality.value_assumed, "value assumed"),
        (quality.repeated_rows, "repeats another row; paid for once"),
    ] {
        if houses > 0 {
            page.line(format_args!("  {houses:>9}  {what}"));
        }
    }
}

/// How the list was come by.
fn method(page: &mut Page, summary: &RankingSummary) {
    page.heading("How it was come by");
    for sentence in &summary.method.sentences {
        page.paragraph(2, sentence);
    }
    page.heading("Sources");
    for source in &summary.method.sources {
        let rows = count(source.rows as u64, "row");
        page.paragraph(
            2,
            &format!(
                "{}: {} ({rows}; {})",
                source.used_for,
                source.document,
                source.standing.words()
            ),
        );
    }
}

fn groups(page: &mut Page, groups: &[GroupRow]) {
    for group in groups {
        let words = if group.words.is_empty() {
            "(blank)"
        } else {
            &group.words
        };
        page.line(format_args!(
            "  {words:<32} {:>9}  funded {:>9}  {:>14}  avoids {:>14}",
            group.houses,
            group.funded,
            money(group.paid),
            money(group.avoided)
        ));
    }
}

fn count(number: u64, what: &str) -> String {
    let s = if number == 1 { "" } else { "s" };
    format!("{number} {what}{s}")
}

/// Whole dollars with separators.
fn money(dollars: f64) -> String {
    let digits = format!("{dollars:.0}");
    let mut text = String::from("$");
    for (position, digit) in digits.chars().enumerate() {
        if position > 0 && (digits.len() - position).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case(0.0, "$0")]
    #[case(999.4, "$999")]
    #[case(1000.0, "$1,000")]
    #[case(2_500_000.0, "$2,500,000")]
    fn money_is_whole_dollars(#[case] dollars: f64, #[case] text: &str) {
        assert_eq!(money(dollars), text);
    }

    #[rstest]
    fn a_budget_is_plain_dollars(#[values("", "0", "-5", "2.5M", "1e6", "inf", "2,500")] text: &str) {
        assert!(dollars(text).is_err());
    }
}
