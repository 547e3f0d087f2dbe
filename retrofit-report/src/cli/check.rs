//! `retrofit check`: the verdict on houses, on the terminal or for a machine.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use retrofit_core::check::assess;
use retrofit_core::provisions::Provisions;
use retrofit_core::screen::{Options, Standards, screen};
use retrofit_report::input::{HouseFile, Origin, read_house};
use retrofit_report::result::{Comparison, Report, ReportInfo};
use retrofit_report::{json, terminal};

use super::console::Console;
use super::exit::{Failure, Status};
use super::provisions::ProvisionsArgs;

/// Give the verdict on a house, and answer with it as exit code
///
/// Holds each house against each set of provisions and tells, wall line by wall line, what is met, what is
/// not met and by how much, what could not be determined, and what to look at next. What was not seen is never
/// taken to be fine.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Check {
    /// House files; `-` reads one from standard input
    #[arg(required = true, value_name = "HOUSE.json")]
    houses: Vec<PathBuf>,
    #[command(flatten)]
    provisions: ProvisionsArgs,
    /// How to print the result
    #[arg(long, value_name = "FORMAT", default_value = "text", value_enum)]
    format: Format,
}

const EXAMPLES: &str = "\
Examples:
  retrofit check house.json
      The verdict by the default set.
  retrofit check house.json -p cebc-a3-2013 -p la-division-92-2018
      The same house under two sets, side by side.
  retrofit check house.json -p our-city-2026 --tables our-tables
      By a set of your own, in the folder our-tables/our-city-2026.
  retrofit check --quiet house.json || echo \"look closer\"
      In a script, by the exit code.
  retrofit check --format json house.json > result.json
      For a machine; `retrofit schema result` describes it.

Several sets print a comparison, several houses in JSON a list.

Exit codes: 0 met, 1 not met, 2 not determined or outside the prescriptive provisions, 3 bad input. The strictest \
verdict counts; a set that is for comparison only never gives 0 or 1. Where one of several houses cannot be read, \
the others are checked all the same and the exit code is 3.";

/// How a result is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For a reader
    Text,
    /// For a machine
    Json,
}

impl Check {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let sets = self.provisions.sets()?;
        let mut status = Status::Done;
        let mut pages = Vec::new();
        for path in &self.houses {
            let file = match read_house(&Origin::from(path.as_path())) {
                Ok(file) => file,
                Err(error) => {
                    console.complain(&error.into());
                    status = Status::PartlyBad;
                    continue;
                }
            };
            let (reports, verdict) = judge(&file, &sets)?;
            status = status.max(verdict);
            pages.push(page(&reports, self.format, console.styled()));
        }
        match self.format {
            Format::Text if console.quiet => {}
            Format::Text if pages.is_empty() => {}
            Format::Text => console.say(&pages.join("\n\n"))?,
            Format::Json if self.houses.len() > 1 => console.say(&format!("[\n{}\n]", pages.join(",\n")))?,
            Format::Json => pages.iter().try_for_each(|page| console.say(page))?,
        }
        Ok(status)
    }
}

/// Holds one house against each set, and beside it the engineering screen: a report for each, and the strictest
/// verdict.
pub(super) fn judge(file: &HouseFile, sets: &[Provisions]) -> Result<(Vec<Report>, Status), Failure> {
    let standards = Standards::shipped().map_err(|faults| Failure::Tables(faults.to_vec()))?;
    let screened = screen(&file.house, standards, Options::default());
    let info = ReportInfo::of_input(env!("CARGO_PKG_VERSION"), &name(file), file.text.as_bytes());
    let mut status = Status::Done;
    let reports = sets
        .iter()
        .map(|set| {
            let assessment = assess(&file.house, set);
            status = status.max(Status::of(assessment.verdict.ruling(), set.comparison_only));
            Report::new(&assessment, &info).with_screen(&assessment, &screened)
        })
        .collect();
    Ok((reports, status))
}

/// The name of a file without its folder: a report is the same wherever its house file lies.
pub(super) fn name(file: &HouseFile) -> String {
    match &file.origin {
        Origin::File(path) => path.file_name().map(|name| name.to_string_lossy().into_owned()),
        Origin::StandardInput => None,
    }
    .unwrap_or_else(|| file.origin.to_string())
}

fn page(reports: &[Report], format: Format, styled: bool) -> String {
    let page = match (reports, format) {
        ([report], Format::Text) => terminal::render(report, styled),
        ([report], Format::Json) => json::render(report),
        (reports, Format::Text) => terminal::render_comparison(&Comparison::new(reports), styled),
        (reports, Format::Json) => json::render_comparison(&Comparison::new(reports)),
    };
    page.trim_end().to_owned()
}
