//! `retrofit foundation`: the work on the foundation of a house.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use retrofit_core::foundation::lift::{LiftError, LiftTarget};
use retrofit_core::foundation::plan::{FoundationPlan, PlanFigures, PlanSettings, PlanTables};
use retrofit_core::foundation::sequence::SequenceError;
use retrofit_core::house::CheckedOn;
use retrofit_core::measure::Length;
use retrofit_core::prices::UnitPrices;
use retrofit_report::foundation::FoundationReport;
use retrofit_report::input::{Origin, read_house, read_prices, read_standards};
use retrofit_report::json;
use retrofit_report::result::ReportInfo;

use super::check::name;
use super::console::Console;
use super::document::{Delivery, Format};
use super::exit::{Failure, Status};
use super::look::LookArgs;
use super::provisions::ProvisionsArgs;

/// Plan the work on a foundation: keep, repair or replace each length, hold the house up, lift, pour; not a design
///
/// For each length of foundation it tells which options are open by what was seen, and why the others are not; sizes new
/// work; puts temporary support beside published figures; plans a lift from the level survey; finds an order of pours in
/// which no two neighbors are open, and checks it by itself; and counts concrete, steel, spoil, days and cost. What must
/// be so before each step stands first. It is kept apart from the seismic verdict, which `retrofit check` gives.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Foundation {
    /// House file; `-` reads it from standard input
    #[arg(value_name = "HOUSE.json")]
    house: PathBuf,
    /// How to print or write the plan
    #[arg(long, value_name = "FORMAT", default_value = "terminal", value_enum)]
    format: Format,
    /// Write the plan to this file
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Folder for the drawings: sections, temporary support, pours, calendar and lift, each as SVG and DXF
    #[arg(long, value_name = "DIR")]
    drawings: Option<PathBuf>,
    /// Table of unit prices of your own, as `tables/unit-prices-placeholder/prices.csv` has it
    #[arg(long, value_name = "FILE.csv")]
    prices: Option<PathBuf>,
    /// Folder with tables of your own in place of shipped ones of `tables/standards`; may be given more than once
    #[arg(long = "standards-dir", value_name = "DIR")]
    standard_folders: Vec<PathBuf>,
    #[command(flatten)]
    provisions: ProvisionsArgs,
    #[command(flatten)]
    order: OrderArgs,
    #[command(flatten)]
    lift: LiftArgs,
    #[command(flatten)]
    look: LookArgs,
}

/// How the work is put in order.
#[derive(Debug, Args)]
#[command(next_help_heading = "Order of pours")]
struct OrderArgs {
    /// First day of work, as 2026-09-14; left out, days are numbered
    #[arg(long, value_name = "DATE")]
    start: Option<CheckedOn>,
    /// Longest bay, as "4 ft"; an engineer confirms it
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    longest_bay: Option<Length>,
    /// Untouched bays between two open ones
    #[arg(long, value_name = "NUMBER", allow_negative_numbers = true)]
    between: Option<u32>,
    /// Crews at work
    #[arg(long, value_name = "NUMBER", allow_negative_numbers = true)]
    crews: Option<u16>,
    /// Concrete trucks a day
    #[arg(long, value_name = "NUMBER", allow_negative_numbers = true)]
    trucks: Option<u16>,
    /// Days from a pour until its neighbor opens
    #[arg(long, value_name = "DAYS", allow_negative_numbers = true)]
    neighbor_cure: Option<u16>,
    /// Days from a pour until it may carry
    #[arg(long, value_name = "DAYS", allow_negative_numbers = true)]
    load_cure: Option<u16>,
    /// Work on weekends too
    #[arg(long)]
    weekends: bool,
}

/// How the floor is lifted.
#[derive(Debug, Args)]
#[command(next_help_heading = "Lift")]
struct LiftArgs {
    /// What the floor is brought to
    #[arg(long, value_name = "TARGET", default_value = "plane", value_enum)]
    lift_to: Target,
    /// A place this near to it is left as it is, as "1/4 in"
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    tolerance: Option<Length>,
    /// No place is lifted more than this in all
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    most_lift: Option<Length>,
    /// The most that a place rises in one step
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    largest_step: Option<Length>,
    /// The most by which the rises of two neighbors differ in one step
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    neighbor_step: Option<Length>,
    /// Published pace of the lift: published practice disagrees, and every row has a name
    #[arg(long, value_name = "NAME")]
    pace: Option<String>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Target {
    /// The plane of the part that still stands, whatever its tilt
    Plane,
    /// Level, at the height of the highest reading
    Level,
}

const EXAMPLES: &str = "\
Examples:
  retrofit foundation house.json
      What must be so before each step, then each length with its options.
  retrofit foundation house.json --format html --out house.foundation.html
      The same as a web page, with the order of pours and the calendar.
  retrofit foundation house.json --start 2026-09-14 --longest-bay \"3 ft\" --crews 2
      Bays of 3 ft by two crews, in the calendar.
  retrofit foundation house.json --lift-to level --most-lift \"1 in\" --pace eighth-a-day
      Another lift; whose practice each pace is stands in the report.
  retrofit foundation house.json --drawings sheets --prices our-prices.csv
      Drawings as SVG and DXF; cost by your own prices.

What is chosen for a length can be set in the house file, as \"work\" of a stretch of foundation.

Exit codes: 0 where every length may be kept, 1 where there is work, 2 where a length is not decided and none has work, \
3 bad input.";

impl OrderArgs {
    fn set(&self, settings: &mut PlanSettings) {
        let order = &mut settings.sequence;
        order.start = self.start;
        order.works_weekends |= self.weekends;
        order.largest_open = self.longest_bay.unwrap_or(order.largest_open);
        order.least_between = self.between.unwrap_or(order.least_between);
        order.crews = self.crews.unwrap_or(order.crews);
        order.trucks_a_day = self.trucks.unwrap_or(order.trucks_a_day);
        order.neighbor_cure = self.neighbor_cure.unwrap_or(order.neighbor_cure);
        order.load_cure = self.load_cure.unwrap_or(order.load_cure);
    }
}

impl LiftArgs {
    fn set(&self, settings: &mut PlanSettings, figures: &PlanFigures<'_>) -> Result<(), Failure> {
        let lift = &mut settings.lift;
        lift.target = match self.lift_to {
            Target::Plane => LiftTarget::StandingPlane,
            Target::Level => LiftTarget::Level,
        };
        lift.tolerance = self.tolerance.unwrap_or(lift.tolerance);
        lift.most_lift = self.most_lift;
        lift.largest_step = self.largest_step.unwrap_or(lift.largest_step);
        lift.neighbor_step = self.neighbor_step.unwrap_or(lift.neighbor_step);
        if let Some(name) = &self.pace {
            let paces = &figures.shoring.paces;
            let found = paces.iter().find(|pace| pace.name == *name);
            lift.pace = found.cloned().ok_or_else(|| {
                let names: Vec<&str> = paces.iter().map(|pace| pace.name.as_str()).collect();
                let found: String = name.chars().take(60).collect();
                Failure::Usage(format!(
                    "--pace: found {found:?}; expected one of {}",
                    names.join(", ")
                ))
            })?;
        }
        Ok(())
    }
}

/// Refuses a setting that no job has, by the option that it came from.
fn check(settings: &PlanSettings) -> Result<(), Failure> {
    let refuse = |name: &str, found: String, expected: String| {
        let option = match name {
            "largest_open" => "--longest-bay",
            "least_between" => "--between",
            "crews" => "--crews",
            "trucks_a_day" => "--trucks",
            "neighbor_cure" => "--neighbor-cure",
            "load_cure" => "--load-cure",
            "tolerance" => "--tolerance",
            "most that is lifted" => "--most-lift",
            "largest step" => "--largest-step",
            "largest difference between neighbors" => "--neighbor-step",
            other => other,
        };
        Failure::Usage(format!("{option}: found {found}; expected {expected}"))
    };
    settings.sequence.check().map_err(|error| match error {
        SequenceError::Setting {
            setting,
            found,
            expected,
        } => refuse(setting, found, expected.to_owned()),
        error => Failure::Usage(error.to_string()),
    })?;
    settings.lift.check().map_err(|error| match error {
        LiftError::Setting {
            what,
            found,
            expected,
        } => refuse(what, found.to_string(), expected),
        error => Failure::Usage(error.to_string()),
    })
}

impl Foundation {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let provisions = self.provisions.one_set()?;
        let own = self.prices.as_deref().map(read_prices).transpose()?;
        let prices = own.as_ref().unwrap_or_else(|| UnitPrices::placeholder());
        let mut folders = Vec::new();
        for path in &self.standard_folders {
            folders.extend(read_standards(path)?);
        }
        let tables = PlanTables::with_folders(&folders).map_err(Failure::Tables)?;
        let figures = tables
            .figures()
            .map_err(|faults| Failure::Tables(faults.to_vec()))?;
        let mut settings = PlanSettings::of(&figures);
        self.order.set(&mut settings);
        self.lift.set(&mut settings, &figures)?;
        check(&settings)?;
        let file = read_house(&Origin::from(self.house.as_path()))?;
        let plan = FoundationPlan::of(&file.house, &figures, &provisions, prices, &settings);
        let info = ReportInfo::of_input(env!("CARGO_PKG_VERSION"), &name(&file), file.text.as_bytes());
        let report = FoundationReport::new(&file.house, &plan, &figures, &provisions, &info);
        let document = report.document();
        let json = || json::render_foundation(&report);
        let delivery = Delivery {
            format: self.format,
            out: self.out.as_deref(),
            drawings: self.drawings.as_deref(),
            table: self.prices.as_deref(),
            look: self.look.look()?,
        };
        delivery.of(&document, json, report.drawings(), &file, console)
    }
}
