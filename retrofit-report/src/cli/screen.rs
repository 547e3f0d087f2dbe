//! `retrofit screen`: the load path of a house computed, link by link.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use retrofit_report::input::{Origin, read_house};
use retrofit_report::look::Look;
use retrofit_report::screen::{ScreenReport, ScreensReport};
use retrofit_report::{html, json, markdown, terminal};

use super::console::Console;
use super::exit::{Failure, Status};
use super::look::LookArgs;
use super::report::{Page, write_pages};
use super::standards::ScreenArgs;

/// Compute the load path of a house, link by link: a screen for an engineer, not a design
///
/// For each wall line and each link from floor to soil it tells what an earthquake asks, what the link may give, the
/// weakest link, and the shaking at which each reaches its capacity. What is not known stands at both ends of what it
/// may be, so that results are ranges, and the unknown that widens each most is named. Every number can show how it
/// was computed: folded up in the web page, and by `retrofit explain --house`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Screen {
    /// House file; `-` reads it from standard input
    #[arg(value_name = "HOUSE.json")]
    house: PathBuf,
    /// Editions to compute by, as `asce7-22,sdpws-2021`; given more than once, the screens stand side by side
    ///
    /// The names are those of the folders in `tables/standards`. Of a standard that is not named, its default edition
    /// is taken.
    #[arg(long, value_name = "ID,ID")]
    standards: Vec<String>,
    /// How to print or write the screen
    #[arg(long, value_name = "FORMAT", default_value = "terminal", value_enum)]
    format: Format,
    /// Write the screen to this file
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    #[command(flatten)]
    how: ScreenArgs,
    #[command(flatten)]
    look: LookArgs,
}

const EXAMPLES: &str = "\
Examples:
  retrofit screen house.json
      The standing of each wall line, its links and the ladder.
  retrofit screen house.json --format html --out house.screen.html
      The same as a web page, every number with its derivation.
  retrofit screen house.json --standards asce7-10,sdpws-2008 --standards asce7-22,sdpws-2021
      By older and newer editions, side by side.
  retrofit screen house.json --standards-dir our-standards/dead-loads
      With weights of materials of your own, in a folder like tables/standards/dead-loads.
  retrofit screen house.json --method lrfd --redundancy 1.3 --units si
      By another method, with a redundancy factor, in SI units.
  retrofit screen house.json --format json > screen.json
      For a machine; `retrofit schema screen` describes it, and with several editions
      `retrofit schema screens`.

Exit codes: 0 where every link reaches its demand at both ends of what is not known, 1 where one surely falls short, \
2 where one may, where something was not determined, or where the house is not screened, 3 bad input. By several \
editions the strictest counts.";

/// How a screen is printed or written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For a reader on a terminal
    Terminal,
    /// As Markdown
    Markdown,
    /// As one web page
    Html,
    /// For a machine
    Json,
}

/// One screen, or several side by side.
enum Document {
    One(Box<ScreenReport>),
    SideBySide(Box<ScreensReport>),
}

impl Document {
    fn render(&self, format: Format, styled: bool, look: &Look) -> Result<String, Failure> {
        Ok(match (self, format) {
            (Self::One(one), Format::Terminal) => terminal::render_screen(one, styled),
            (Self::One(one), Format::Markdown) => markdown::render_screen(one, look)?,
            (Self::One(one), Format::Html) => html::render_screen(one, look)?,
            (Self::One(one), Format::Json) => json::render_screen(one),
            (Self::SideBySide(several), Format::Terminal) => terminal::render_screens(several, styled),
            (Self::SideBySide(several), Format::Markdown) => markdown::render_screens(several, look)?,
            (Self::SideBySide(several), Format::Html) => html::render_screens(several, look)?,
            (Self::SideBySide(several), Format::Json) => json::render_screens(several),
        })
    }
}

impl Screen {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let standards = self.how.standards(&self.standards)?;
        for standards in &standards {
            self.how.options(standards)?;
        }
        let file = read_house(&Origin::from(self.house.as_path()))?;
        let mut screens = Vec::new();
        for standards in &standards {
            screens.push(self.how.screen(&file, standards)?);
        }
        let status = screens
            .iter()
            .map(|screen| Status::from(screen.standing.path))
            .max()
            .unwrap_or(Status::Done);
        let document = match <[ScreenReport; 1]>::try_from(screens) {
            Ok([one]) => Document::One(Box::new(one)),
            Err(several) => Document::SideBySide(Box::new(ScreensReport::new(several))),
        };
        let look = self.look.look()?;
        match &self.out {
            Some(path) => {
                let text = document.render(self.format, false, &look)?;
                write_pages(&[Page::new(path.clone(), text)], &[&file], console)?;
            }
            None if console.quiet && self.format == Format::Terminal => {}
            None => console.say(&document.render(self.format, console.styled(), &look)?)?,
        }
        Ok(status)
    }
}
