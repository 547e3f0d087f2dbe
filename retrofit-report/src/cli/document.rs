//! How a page that is put together from its parts leaves the program, with its drawings.

use std::path::{Path, PathBuf};

use clap::ValueEnum;
use retrofit_report::document::Document;
use retrofit_report::drawing::Sheet;
use retrofit_report::input::HouseFile;
use retrofit_report::look::Look;
use retrofit_report::output::make_folder;
use retrofit_report::{html, markdown, terminal};

use super::console::Console;
use super::exit::{Failure, Status};
use super::report::{Page, spare_table, stem, write_pages};

/// How a page that is put together from its parts is printed or written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For a reader on a terminal
    Terminal,
    /// As Markdown
    Markdown,
    /// As one web page
    Html,
    /// For a machine
    Json,
}

impl Format {
    /// The page in this format; `json` is what a machine gets.
    fn render(
        self,
        document: &Document,
        json: impl FnOnce() -> String,
        styled: bool,
        look: &Look,
    ) -> Result<String, Failure> {
        Ok(match self {
            Self::Terminal => terminal::render_document(document, styled),
            Self::Markdown => markdown::render_document(document, look)?,
            Self::Html => html::render_document(document, look)?,
            Self::Json => json(),
        })
    }
}

/// Where a page and its drawings go.
pub(super) struct Delivery<'a> {
    /// How the page is printed or written.
    pub(super) format: Format,
    /// The file it is written to; left out, it is printed.
    pub(super) out: Option<&'a Path>,
    /// The folder of the drawings.
    pub(super) drawings: Option<&'a Path>,
    /// A table that was read, which is not written over.
    pub(super) table: Option<&'a Path>,
    /// How the page looks.
    pub(super) look: Look,
}

impl Delivery<'_> {
    /// Prints or writes a page and its drawings; the status is that of its answer.
    pub(super) fn of(
        &self,
        document: &Document,
        json: impl Fn() -> String,
        sheets: &[Sheet],
        file: &HouseFile,
        console: &mut Console,
    ) -> Result<Status, Failure> {
        let mut pages = Vec::new();
        if let Some(folder) = self.drawings {
            let stem = stem(file);
            pages.extend(drawing_pages(folder, sheets, |sheet, kind| {
                format!("{stem}.{sheet}.{kind}")
            })?);
        }
        let page = |styled| self.format.render(document, &json, styled, &self.look);
        match self.out {
            Some(path) => pages.push(Page::new(path.to_owned(), page(false)?)),
            None if console.quiet && self.format == Format::Terminal => {}
            None => console.say(&page(console.styled())?)?,
        }
        spare_table(&pages, self.table)?;
        write_pages(&pages, &[file], console)?;
        Ok(Status::of(document.answer.mark, false))
    }
}

/// Drawings as pages of a folder, each as SVG and DXF, named by sheet and kind; the folder is made.
pub(super) fn drawing_pages(
    folder: &Path,
    sheets: &[Sheet],
    named: impl Fn(&str, &str) -> String,
) -> Result<Vec<Page>, Failure> {
    make_folder(folder)?;
    let mut pages = Vec::new();
    for sheet in sheets {
        let path = |kind: &str| -> PathBuf { folder.join(named(&sheet.name, kind)) };
        pages.push(Page::new(path("svg"), sheet.to_svg()));
        let dxf = sheet.to_dxf().map_err(|_| Failure::Internal("a drawing"))?;
        pages.push(Page::new(path("dxf"), dxf));
    }
    Ok(pages)
}
