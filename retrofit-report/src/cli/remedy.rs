//! `retrofit remedy`: where each new anchor, panel and clip goes.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::Provisions;
use retrofit_core::remedy::design;
use retrofit_report::drawing::{Sheet, sheets};
use retrofit_report::input::{HouseFile, Origin, read_house, read_prices};
use retrofit_report::look::Look;
use retrofit_report::output::make_folder;
use retrofit_report::result::ReportInfo;
use retrofit_report::worksheet::{SideBySide, Worksheet};
use retrofit_report::{html, json, markdown, terminal};

use super::check::name;
use super::console::Console;
use super::document::drawing_pages;
use super::exit::{Failure, Status};
use super::look::{LookArgs, keep_result};
use super::provisions::ProvisionsArgs;
use super::report::{Page, stem, write_pages};

/// Lay out where each new anchor, panel and clip goes, and write the permit worksheet
///
/// The layout is the cheapest one that satisfies the provisions, found exactly, by station along each wall line. It
/// credits what the checks credit, keeps clear of studs, steps, vents and doors, and is checked again with the work
/// done. What the record leaves open is taken as given and listed; where no layout can be had, the reason stands
/// there and an engineer has to design that part.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Remedy {
    /// House file; `-` reads it from standard input
    #[arg(value_name = "HOUSE.json")]
    house: PathBuf,
    /// Folder for the worksheet as a web page and as Markdown; left out, it is printed
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Folder for the drawings: plan, elevations and details, each as SVG and DXF
    #[arg(long, value_name = "DIR")]
    drawings: Option<PathBuf>,
    /// Table of unit prices of your own, as `tables/unit-prices-placeholder/prices.csv` has it
    #[arg(long, value_name = "FILE.csv")]
    prices: Option<PathBuf>,
    #[command(flatten)]
    provisions: ProvisionsArgs,
    #[command(flatten)]
    look: LookArgs,
    /// How to print the worksheet
    #[arg(long, value_name = "FORMAT", default_value = "text", value_enum)]
    format: Format,
}

const EXAMPLES: &str = "\
Examples:
  retrofit remedy house.json
      What is added, by station, and what to verify first.
  retrofit remedy house.json --out permit
      Writes permit/house.worksheet.html, with the drawings, and .md.
  retrofit remedy house.json --drawings sheets
      Writes plan, elevations and details as sheets/house.plan.svg, .dxf and so on.
  retrofit remedy house.json -p cebc-a3-2013 -p san-leandro-handout-2001
      The work by two sets side by side: what each adds.
  retrofit remedy house.json --prices our-prices.csv --format json
      By your own prices, for a machine; `retrofit schema worksheet` describes it,
      and with several sets `retrofit schema worksheets`.

Exit codes: 0 where every wall line has a layout for all it lacks, 2 where something has none, 3 bad input.";

/// How a worksheet is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For a reader
    Text,
    /// For a machine
    Json,
}

/// The work by one set of provisions.
pub(super) struct Work {
    worksheet: Worksheet,
    sheets: Vec<Sheet>,
}

/// One worksheet, or several side by side.
enum Document {
    One(Box<Worksheet>),
    SideBySide(Box<SideBySide>),
}

impl Document {
    fn json(&self) -> String {
        match self {
            Self::One(one) => json::render_worksheet(one),
            Self::SideBySide(several) => json::render_worksheets(several),
        }
    }
}

impl Work {
    pub(super) fn of(file: &HouseFile, set: &Provisions, prices: &UnitPrices) -> Self {
        let remedy = design(&file.house, set, prices);
        let info = ReportInfo::of_input(env!("CARGO_PKG_VERSION"), &name(file), file.text.as_bytes());
        Self {
            worksheet: Worksheet::new(&remedy, set, prices, &info),
            sheets: sheets(&remedy, set),
        }
    }

    /// The worksheet as a web page, with the drawings, and as Markdown.
    pub(super) fn worksheet_pages(
        &self,
        folder: &Path,
        named: impl Fn(&str, &str) -> String,
        look: &Look,
    ) -> Result<[Page; 2], Failure> {
        let html = html::render_worksheet(&self.worksheet, &self.sheets, look)?;
        let markdown = markdown::render_worksheet(&self.worksheet, look)?;
        Ok([
            Page::new(folder.join(named("worksheet", "html")), html),
            Page::new(folder.join(named("worksheet", "md")), markdown),
        ])
    }
}

/// Names the files of a house; several sets are told apart by theirs.
pub(super) fn named(stem: &str, part: &str, set: Option<&str>, kind: &str) -> String {
    match set {
        Some(set) => format!("{stem}.{part}.{set}.{kind}"),
        None => format!("{stem}.{part}.{kind}"),
    }
}

impl Remedy {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let sets = self.provisions.sets()?;
        let own = self.prices.as_deref().map(read_prices).transpose()?;
        let prices = own.as_ref().unwrap_or_else(|| UnitPrices::placeholder());
        let file = read_house(&Origin::from(self.house.as_path()))?;
        let works: Vec<Work> = sets.iter().map(|set| Work::of(&file, set, prices)).collect();
        let status = if works.iter().all(|work| work.worksheet.is_complete) {
            Status::Done
        } else {
            Status::NotDetermined
        };
        let pages = self.pages(&file, &works);
        let worksheets: Vec<Worksheet> = works.into_iter().map(|work| work.worksheet).collect();
        let document = match <[Worksheet; 1]>::try_from(worksheets) {
            Ok([one]) => Document::One(Box::new(one)),
            Err(several) => Document::SideBySide(Box::new(SideBySide::new(several))),
        };
        match pages.and_then(|(mut pages, look)| {
            pages.extend(self.side_by_side(&file, &document, &look)?);
            Ok(pages)
        }) {
            Ok(pages) => write_pages(&pages, &[&file], console)?,
            Err(why) => {
                let Some(folder) = &self.out else { return Err(why) };
                let path = folder.join(format!("{}.worksheet.result.json", stem(&file)));
                return Err(keep_result(why, path, &document.json()));
            }
        }
        if self.out.is_none() {
            let text = match (&document, self.format) {
                (Document::One(one), Format::Text) => terminal::render_worksheet(one, console.styled()),
                (Document::SideBySide(several), Format::Text) => {
                    terminal::render_worksheets(several, console.styled())
                }
                (document, Format::Json) => document.json(),
            };
            console.say(text.trim_end())?;
        }
        Ok(status)
    }

    /// The worksheet of each set, and the drawings; the folders are made.
    fn pages(&self, file: &HouseFile, works: &[Work]) -> Result<(Vec<Page>, Look), Failure> {
        let stem = stem(file);
        for folder in [&self.out, &self.drawings].into_iter().flatten() {
            make_folder(folder)?;
        }
        let look = self.look.look()?;
        let mut pages = Vec::new();
        for work in works {
            let set = Some(work.worksheet.provisions.id.as_str()).filter(|_| works.len() > 1);
            let named = |part: &str, kind: &str| named(&stem, part, set, kind);
            if let Some(folder) = &self.out {
                pages.extend(work.worksheet_pages(folder, named, &look)?);
            }
            if let Some(folder) = &self.drawings {
                pages.extend(drawing_pages(folder, &work.sheets, named)?);
            }
        }
        Ok((pages, look))
    }

    /// The work of several sets side by side, where it is written to a folder.
    fn side_by_side(&self, file: &HouseFile, document: &Document, look: &Look) -> Result<Vec<Page>, Failure> {
        let (Some(folder), Document::SideBySide(several)) = (&self.out, document) else {
            return Ok(Vec::new());
        };
        let named = |kind: &str| folder.join(format!("{}.worksheets.{kind}", stem(file)));
        Ok(vec![
            Page::new(named("html"), html::render_worksheets(several, look)?),
            Page::new(named("md"), markdown::render_worksheets(several, look)?),
        ])
    }
}
