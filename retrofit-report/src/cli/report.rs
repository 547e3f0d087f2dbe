//! `retrofit report`: the deficiency list as files.

use std::path::{Path, PathBuf};

use clap::Args;
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::Provisions;
use retrofit_core::remedy::design;
use retrofit_core::screen::Standards;
use retrofit_report::input::{HouseFile, Origin, read_house};
use retrofit_report::look::Look;
use retrofit_report::output::{is_same_file, make_folder, write_whole};
use retrofit_report::result::{self, Comparison};
use retrofit_report::{html, json, markdown};

use super::check::judge;
use super::console::Console;
use super::exit::{Failure, Status};
use super::look::{LookArgs, keep_result, photos};
use super::provisions::ProvisionsArgs;
use super::readers::{Named, ReaderArgs};
use super::standards::ScreenArgs;

/// Write the deficiency list of a house to files
///
/// The report leads with the answer and gives, wall line by wall line, what was measured against what is
/// required, with the clause and how well its figure is known; what was not seen; and whom to ask. The web
/// page is one file that needs no network, prints on letter paper and can be read on a telephone.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Report {
    /// House file; `-` reads it from standard input
    #[arg(value_name = "HOUSE.json")]
    house: PathBuf,
    /// Folder for the web page and the Markdown text, which take the name of the house file
    #[arg(long, value_name = "DIR", default_value = ".")]
    out: PathBuf,
    /// Write the web page to this file
    #[arg(long, value_name = "FILE", conflicts_with = "out")]
    html: Option<PathBuf>,
    /// Write the Markdown text to this file
    #[arg(long, value_name = "FILE", conflicts_with = "out")]
    markdown: Option<PathBuf>,
    /// Write the result for a machine to this file
    #[arg(long, value_name = "FILE", conflicts_with = "out")]
    json: Option<PathBuf>,
    #[command(flatten)]
    reader: ReaderArgs,
    #[command(flatten)]
    provisions: ProvisionsArgs,
    #[command(flatten)]
    look: LookArgs,
}

const EXAMPLES: &str = "\
Examples:
  retrofit report house.json
      Writes house.html and house.md here.
  retrofit report house.json --out reports
      Writes reports/house.html and reports/house.md.
  retrofit report house.json --html list.html --json list.json
      Writes these two and nothing else.
  retrofit report house.json --for owner --language es
      The owner's page in plain Spanish: house.owner.html and house.owner.md.
  retrofit report house.json --for all --out reports
      A page for each reader, all from one result.
  retrofit report house.json --for crew --language es
      Sheets for a crew that reads Spanish: where each piece goes, cutting list, where to stop.
  retrofit report house.json --for all --one-file
      All of them in house.all.html, to print in one go.
  retrofit report house.json -p cebc-a3-2013 -p la-division-92-2018
      A report for each set, house.cebc-a3-2013.html and so on, and in
      house.html the sets side by side.

With --html, --markdown or --json and several sets, that file holds the sets side by side. A file is written whole \
or not at all. The exit code is that of the verdict, as with `retrofit check`; 3 tells that no report was written.";

impl Report {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        if self.reader.is_asked() {
            return self.run_for_reader(console);
        }
        let sets = self.provisions.sets()?;
        let file = read_house(&Origin::from(self.house.as_path()))?;
        let (reports, status) = judge(&file, &sets)?;
        match self.pages(&file, &sets, &reports) {
            Ok(pages) => write_pages(&pages, &[&file], console)?,
            Err(why) => return Err(self.keep(why, &file, &reports)),
        }
        Ok(status)
    }

    fn run_for_reader(self, console: &mut Console) -> Result<Status, Failure> {
        let set = self.provisions.one_set()?;
        let file = read_house(&Origin::from(self.house.as_path()))?;
        let named = Named {
            html: self.html.as_deref(),
            markdown: self.markdown.as_deref(),
            json: self.json.as_deref(),
        };
        let result = self.reader.result(&file, &set)?;
        let status = Status::of(result.report.verdict.ruling, set.comparison_only);
        let report = result.report.clone();
        let pages = self
            .look
            .look()
            .and_then(|look| self.reader.pages(&file, result, &self.out, &named, &look));
        let pages = match pages {
            Ok(pages) => pages,
            Err(why @ (Failure::Usage(_) | Failure::Language(_))) => return Err(why),
            Err(why) => return Err(self.keep(why, &file, &[report])),
        };
        spare_table(&pages, self.reader.prices())?;
        write_pages(&pages, &[&file], console)?;
        Ok(status)
    }

    fn pages(
        &self,
        file: &HouseFile,
        sets: &[Provisions],
        reports: &[result::Report],
    ) -> Result<Vec<Page>, Failure> {
        let look = self.look.look()?;
        let reports = in_full(file, sets, reports)?;
        if self.html.is_none() && self.markdown.is_none() && self.json.is_none() {
            let ids: Vec<&str> = sets.iter().map(|set| set.id.as_str()).collect();
            in_folder(&self.out, &stem(file), &reports, &ids, &look)
        } else {
            self.named(&reports, &look)
        }
    }

    /// What is a mistake in the look of a page takes nothing from the result: that is written all the same.
    fn keep(&self, why: Failure, file: &HouseFile, reports: &[result::Report]) -> Failure {
        let named = self.html.as_ref().or(self.markdown.as_ref());
        let folder = named.map_or(Some(self.out.as_path()), |page| page.parent());
        let beside = || Some(folder?.join(format!("{}.result.json", stem(file))));
        match self.json.clone().or_else(beside) {
            Some(path) if make_folder(path.parent().unwrap_or(Path::new("."))).is_ok() => {
                keep_result(why, path, &for_a_machine(reports))
            }
            _ => why,
        }
    }

    fn named(&self, reports: &[result::Report], look: &Look) -> Result<Vec<Page>, Failure> {
        let both = Document::of(reports);
        let mut pages = Vec::new();
        if let Some(path) = &self.html {
            pages.push(Page::new(path.clone(), both.html(look)?));
        }
        if let Some(path) = &self.markdown {
            pages.push(Page::new(path.clone(), both.markdown(look)?));
        }
        if let Some(path) = &self.json {
            pages.push(Page::new(path.clone(), both.json()));
        }
        Ok(pages)
    }
}

/// Reports with what only a page shows: the load path with its derivations, the work on the sketch, photographs.
pub(super) fn in_full(
    file: &HouseFile,
    sets: &[Provisions],
    reports: &[result::Report],
) -> Result<Vec<result::Report>, Failure> {
    let photos = photos(file)?;
    let standards = Standards::shipped().map_err(|faults| Failure::Tables(faults.to_vec()))?;
    let load_path = ScreenArgs::default().screen(file, standards)?;
    let each = reports.iter().zip(sets);
    Ok(each
        .map(|(report, set)| {
            let remedy = design(&file.house, set, UnitPrices::placeholder());
            report
                .clone()
                .with_load_path(load_path.clone())
                .with_work(&remedy)
                .with_photos(photos.clone())
        })
        .collect())
}

/// The name of the house file without its folder and extension.
pub(super) fn stem(file: &HouseFile) -> String {
    match &file.origin {
        Origin::File(path) => path.file_stem().map(|stem| stem.to_string_lossy().into_owned()),
        Origin::StandardInput => None,
    }
    .unwrap_or_else(|| "house".to_owned())
}

/// A page or a drawing, and the file it is meant for.
#[derive(Debug)]
pub(super) struct Page {
    /// The file.
    pub(super) path: PathBuf,
    content: Vec<u8>,
}

impl Page {
    pub(super) fn new(path: PathBuf, content: impl Into<Vec<u8>>) -> Self {
        Self {
            path,
            content: content.into(),
        }
    }
}

/// One report, or several side by side.
enum Document<'a> {
    One(&'a result::Report),
    SideBySide(Box<Comparison>),
}

impl<'a> Document<'a> {
    fn of(reports: &'a [result::Report]) -> Self {
        match reports {
            [report] => Self::One(report),
            reports => Self::SideBySide(Box::new(Comparison::new(reports))),
        }
    }

    fn html(&self, look: &Look) -> Result<String, Failure> {
        Ok(match self {
            Self::One(report) => html::render(report, look)?,
            Self::SideBySide(comparison) => html::render_comparison(comparison, look)?,
        })
    }

    fn markdown(&self, look: &Look) -> Result<String, Failure> {
        Ok(match self {
            Self::One(report) => markdown::render(report, look)?,
            Self::SideBySide(comparison) => markdown::render_comparison(comparison, look)?,
        })
    }

    fn json(&self) -> String {
        match self {
            Self::One(report) => json::render(report),
            Self::SideBySide(comparison) => json::render_comparison(comparison),
        }
    }
}

/// Reports for a machine: one, or several side by side.
pub(super) fn for_a_machine(reports: &[result::Report]) -> String {
    Document::of(reports).json()
}

/// Web page and Markdown text of a house, and of each set where there are several. The folder is made.
pub(super) fn in_folder(
    folder: &Path,
    stem: &str,
    reports: &[result::Report],
    set_ids: &[&str],
    look: &Look,
) -> Result<Vec<Page>, Failure> {
    make_folder(folder)?;
    let mut documents = vec![(stem.to_owned(), Document::of(reports))];
    if reports.len() > 1 {
        let each = reports.iter().zip(set_ids);
        documents.extend(each.map(|(report, id)| (format!("{stem}.{id}"), Document::One(report))));
    }
    let mut pages = Vec::new();
    for (name, document) in &documents {
        pages.push(Page::new(
            folder.join(format!("{name}.html")),
            document.html(look)?,
        ));
        pages.push(Page::new(
            folder.join(format!("{name}.md")),
            document.markdown(look)?,
        ));
    }
    Ok(pages)
}

/// Refuses to write a page over a table that was read for it.
pub(super) fn spare_table(pages: &[Page], table: Option<&Path>) -> Result<(), Failure> {
    match table {
        Some(table) if pages.iter().any(|page| is_same_file(&page.path, table)) => {
            Err(Failure::Usage(format!(
                "{}: found a table that was read; expected another file",
                table.display()
            )))
        }
        _ => Ok(()),
    }
}

/// Writes pages, all of which were put together before, and tells where they are.
pub(super) fn write_pages(
    pages: &[Page],
    inputs: &[&HouseFile],
    console: &mut Console,
) -> Result<(), Failure> {
    for (number, page) in pages.iter().enumerate() {
        let path = page.path.display();
        if pages
            .iter()
            .take(number)
            .any(|other| is_same_file(&other.path, &page.path))
        {
            return Err(Failure::Usage(format!(
                "{path}: found the same file twice; expected a file for each format"
            )));
        }
        let is_input = |file: &&HouseFile| matches!(&file.origin, Origin::File(house) if is_same_file(house, &page.path));
        if inputs.iter().any(is_input) {
            return Err(Failure::Usage(format!(
                "{path}: found the house file itself; expected another file"
            )));
        }
    }
    for page in pages {
        write_whole(&page.path, &page.content)?;
        console.remark(&format!("wrote {}", page.path.display()));
    }
    Ok(())
}
