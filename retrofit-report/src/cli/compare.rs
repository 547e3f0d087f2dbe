//! `retrofit compare`: the same house before and after, and as built against what was designed.

use std::path::PathBuf;

use clap::Args;
use retrofit_core::before_after::compare;
use retrofit_core::prices::UnitPrices;
use retrofit_core::remedy::design;
use retrofit_report::input::{HouseFile, Origin, read_house};
use retrofit_report::result::{BeforeAfter, ReportInfo};
use retrofit_report::{html, json, markdown, terminal};

use super::check::{Format, name};
use super::console::Console;
use super::exit::{Failure, Status};
use super::look::LookArgs;
use super::provisions::ProvisionsArgs;
use super::report::{Page, write_pages};

/// Tell what closed between two records of a house, and what was built otherwise than designed
///
/// Holds both records against one set of provisions and tells, check by check and wall line by wall line,
/// what closed, what is still short, what is newly short and what can no longer be determined. Wall lines are
/// paired by name. What the earlier record says and the later one does not is listed, and never counts as
/// closed.
///
/// With --designed, work is laid out for the earlier record, and every designed piece is looked for in the
/// later one: built as designed, built elsewhere (and how far off), built differently, not built, or not
/// seen, with a box to tick; what was built and not designed; and whether each wall line is met with what was
/// built.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Compare {
    /// House file of the earlier record, as found; `-` reads it from standard input
    #[arg(value_name = "BEFORE.json")]
    before: PathBuf,
    /// House file of the later record, as built; `-` reads it from standard input
    #[arg(value_name = "AFTER.json")]
    after: PathBuf,
    /// Hold the later record against the work that is designed for the earlier one
    #[arg(long)]
    designed: bool,
    #[command(flatten)]
    provisions: ProvisionsArgs,
    #[command(flatten)]
    look: LookArgs,
    /// How to print the result
    #[arg(long, value_name = "FORMAT", default_value = "text", value_enum)]
    format: Format,
    /// Write the result as a web page to this file as well
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Write the result as Markdown to this file as well
    #[arg(long, value_name = "FILE")]
    markdown: Option<PathBuf>,
}

const EXAMPLES: &str = "\
Examples:
  retrofit compare found.json built.json
      What closed, and what is still short.
  retrofit compare found.json built.json --designed
      The list an inspector signs: what was designed, what was built.
  retrofit compare found.json built.json --designed --markdown sign-off.md
      The same as a file to print and tick.
  retrofit compare 2009.json 2024.json -p la-division-92-2018
      An existing retrofit, looked at again, by another set.
  retrofit compare found.json built.json --format json > closed.json
      For a machine; `retrofit schema before-after` describes it.

A distance is told as it is: there is no tolerance but that of the provisions. Something of which the later record \
says nothing is not seen, and not built as designed.

Exit codes, by what the house comes to in the later record: 0 met, 1 not met, 2 not determined or outside the \
prescriptive provisions, 3 bad input. Where the later record leaves a wall line out it is never 0; a set that is for \
comparison only never gives 0 or 1.";

impl Compare {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let set = self.provisions.one_set()?;
        let is_standard_input = |path: &PathBuf| path.as_os_str() == "-";
        if is_standard_input(&self.before) && is_standard_input(&self.after) {
            return Err(Failure::Usage(
                "found - twice; expected at most one record on standard input".to_owned(),
            ));
        }
        let before = read_house(&Origin::from(self.before.as_path()))?;
        let after = read_house(&Origin::from(self.after.as_path()))?;
        let compared = compare(&before.house, &after.house, &set);
        let remedy = self
            .designed
            .then(|| design(&before.house, &set, UnitPrices::placeholder()));
        let info = |file: &HouseFile| {
            ReportInfo::of_input(env!("CARGO_PKG_VERSION"), &name(file), file.text.as_bytes())
        };
        let result = BeforeAfter::new(&compared, remedy.as_ref(), &info(&before), &info(&after));

        let look = self.look.look()?;
        let mut pages = Vec::new();
        if let Some(path) = &self.html {
            pages.push(Page::new(
                path.clone(),
                html::render_before_after(&result, &look)?,
            ));
        }
        if let Some(path) = &self.markdown {
            pages.push(Page::new(
                path.clone(),
                markdown::render_before_after(&result, &look)?,
            ));
        }
        write_pages(&pages, &[&before, &after], console)?;
        match self.format {
            Format::Text if console.quiet => {}
            Format::Text => console.say(&terminal::render_before_after(&result, console.styled()))?,
            Format::Json => console.say(&json::render_before_after(&result))?,
        }
        Ok(Status::of(compared.ruling(), set.comparison_only))
    }
}
