//! `retrofit report --for`: a page for each of those who read a house.

use std::path::{Path, PathBuf};

use clap::Args;
use clap::builder::PossibleValuesParser;
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::Provisions;
use retrofit_core::screen::{Options, Standards, screen};
use retrofit_report::input::{HouseFile, read_prices};
use retrofit_report::language::{Language, Words};
use retrofit_report::look::Look;
use retrofit_report::output::make_folder;
use retrofit_report::readers::{self, HouseResult, Reader};
use retrofit_report::result::ReportInfo;

use super::check::name;
use super::exit::Failure;
use super::look::photos;
use super::report::{Page, stem};
use super::standards::ScreenArgs;

/// Every page there is.
const ALL: &str = "all";

/// For whom a page is written, and how.
#[derive(Debug, Args)]
pub(super) struct ReaderArgs {
    /// Write the page for this reader instead of the deficiency list: the owner's in plain words, the engineer's,
    /// the assessor's sheet, the permit worksheet, the crew's sheets, or all of them
    ///
    /// All are written from one result and never disagree. The files are named after the reader, such as
    /// house.owner.html; with all, the whole result for a machine stands beside them as house.result.json.
    #[arg(long = "for", value_name = "READER", value_parser = readers_there_are())]
    reader: Option<String>,
    /// Language of the pages for owners, assessors and crews, such as en or es; the others are in English
    #[arg(long, value_name = "TAG", default_value = "en", requires = "reader")]
    language: String,
    /// With `--for all`: all pages in one web page to print, each on sheets of its own behind a list of contents
    #[arg(long, requires = "reader")]
    one_file: bool,
    /// Table of unit prices of your own for the cost on a page, as `tables/unit-prices-placeholder/prices.csv` has it
    #[arg(long, value_name = "FILE.csv", requires = "reader")]
    prices: Option<PathBuf>,
}

fn readers_there_are() -> PossibleValuesParser {
    PossibleValuesParser::new(Reader::ALL.map(Reader::name).into_iter().chain([ALL]))
}

/// Where pages go that are written one by one.
pub(super) struct Named<'a> {
    pub(super) html: Option<&'a Path>,
    pub(super) markdown: Option<&'a Path>,
    pub(super) json: Option<&'a Path>,
}

impl Named<'_> {
    fn is_empty(&self) -> bool {
        self.html.is_none() && self.markdown.is_none() && self.json.is_none()
    }
}

impl ReaderArgs {
    /// The table of prices, when one is read.
    pub(super) fn prices(&self) -> Option<&Path> {
        self.prices.as_deref()
    }

    /// Whether a page for a reader is asked for.
    pub(super) const fn is_asked(&self) -> bool {
        self.reader.is_some()
    }

    /// Who it is that is asked for.
    fn asked(&self) -> &str {
        self.reader.as_deref().unwrap_or(ALL)
    }

    /// The readers whose pages are asked for.
    fn readers(&self) -> Vec<Reader> {
        let asked = |reader: &Reader| self.asked() == ALL || reader.name() == self.asked();
        Reader::ALL.into_iter().filter(asked).collect()
    }

    /// Everything that is known of the house.
    pub(super) fn result(&self, file: &HouseFile, set: &Provisions) -> Result<HouseResult, Failure> {
        let own = self.prices.as_deref().map(read_prices).transpose()?;
        let prices = own.as_ref().unwrap_or_else(|| UnitPrices::placeholder());
        // Only the engineer's sheets, and the whole result, show the screen; its tables take longer to read than a page.
        let screened = if self.readers().contains(&Reader::Engineer) {
            let standards = Standards::shipped().map_err(|faults| Failure::Tables(faults.to_vec()))?;
            Some(screen(&file.house, standards, Options::default()))
        } else {
            None
        };
        let info = ReportInfo::of_input(env!("CARGO_PKG_VERSION"), &name(file), file.text.as_bytes());
        Ok(HouseResult::new(
            &file.house,
            set,
            prices,
            screened.as_ref(),
            &info,
        ))
    }

    /// The pages asked for.
    pub(super) fn pages(
        &self,
        file: &HouseFile,
        mut result: HouseResult,
        folder: &Path,
        named: &Named<'_>,
        look: &Look,
    ) -> Result<Vec<Page>, Failure> {
        let readers = self.readers();
        if readers.contains(&Reader::Engineer) {
            let standards = Standards::shipped().map_err(|faults| Failure::Tables(faults.to_vec()))?;
            result.report = result
                .report
                .with_load_path(ScreenArgs::default().screen(file, standards)?)
                .with_work(&result.remedy)
                .with_photos(photos(file)?);
        }
        let words = Words::of(Language::named(&self.language)?)?;
        let mut pages = Vec::new();
        if self.one_file {
            let path = match named {
                _ if self.asked() != ALL => {
                    return Err(Failure::Usage(format!(
                        "--one-file: found --for {}; expected --for all, whose pages are put together",
                        self.asked()
                    )));
                }
                Named {
                    html: Some(path),
                    markdown: None,
                    json: None,
                } => path.to_path_buf(),
                _ if named.is_empty() => {
                    make_folder(folder)?;
                    folder.join(format!("{}.all.html", stem(file)))
                }
                _ => {
                    return Err(Failure::Usage(
                        "--one-file: found --markdown or --json; expected --html, or --out with a folder"
                            .to_owned(),
                    ));
                }
            };
            pages.push(Page::new(path, result.in_one_file(&words, look)?));
            return Ok(pages);
        }
        if named.is_empty() {
            make_folder(folder)?;
            for reader in readers {
                let page = result.page_for(reader, &words, look)?;
                let path = |kind: &str| folder.join(format!("{}.{}.{kind}", stem(file), reader.name()));
                pages.push(Page::new(path("html"), page.html));
                pages.push(Page::new(path("md"), page.markdown));
            }
            if self.asked() == ALL {
                let path = folder.join(format!("{}.result.json", stem(file)));
                pages.push(Page::new(path, result.json()));
            }
            return Ok(pages);
        }
        let [reader] = readers.as_slice() else {
            return Err(Failure::Usage(
                "--for all: found --html, --markdown or --json; expected --out with a folder for the pages"
                    .to_owned(),
            ));
        };
        let readers::Page { html, markdown, json } = result.page_for(*reader, &words, look)?;
        for (path, text) in [(named.html, html), (named.markdown, markdown), (named.json, json)] {
            pages.extend(path.map(|path| Page::new(path.to_path_buf(), text)));
        }
        Ok(pages)
    }
}
