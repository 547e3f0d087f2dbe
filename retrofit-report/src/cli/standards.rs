//! By which editions and options a house is screened.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use retrofit_core::screen::{Edition, Method, Options, StandardFolder, StandardTable, Standards, screen};
use retrofit_report::input::{HouseFile, read_standards};
use retrofit_report::result::ReportInfo;
use retrofit_report::screen::{ScreenReport, Units};

use super::check::name;
use super::exit::Failure;

/// How a house is screened.
#[derive(Clone, Debug, Default, Args)]
#[command(next_help_heading = "Screen")]
pub(super) struct ScreenArgs {
    /// Folder with an edition of a standard of your own, or folders that are editions; may be given more than once
    ///
    /// The tables of `tables/standards` show the form. An edition of yours takes the place of the shipped edition of
    /// its standard.
    #[arg(long = "standards-dir", value_name = "DIR")]
    standard_folders: Vec<PathBuf>,
    /// Design method
    #[arg(long, value_name = "METHOD", default_value = "asd", value_enum)]
    method: MethodArg,
    /// Redundancy factor; left out, whether 1.0 is allowed counts as not known
    #[arg(long, value_name = "NUMBER", allow_negative_numbers = true)]
    redundancy: Option<f64>,
    /// Reduce forces as for an existing building, where the code official allows it
    #[arg(long)]
    reduced: bool,
    /// Units for a reader; JSON has both
    #[arg(long, value_name = "UNITS", default_value = "both", value_enum)]
    units: UnitsArg,
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum MethodArg {
    /// Allowable stress design
    #[default]
    Asd,
    /// Load and resistance factor design
    Lrfd,
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum UnitsArg {
    /// U.S. units
    Us,
    /// SI units
    Si,
    /// U.S. units with their SI companions
    #[default]
    Both,
}

impl ScreenArgs {
    /// The folders of one's own.
    pub(super) fn folders(&self) -> Result<Vec<StandardFolder>, Failure> {
        let mut folders = Vec::new();
        for path in &self.standard_folders {
            folders.extend(read_standards(path)?);
        }
        Ok(folders)
    }

    /// The editions of each list of names, one edition of each standard.
    pub(super) fn standards(&self, lists: &[String]) -> Result<Vec<Standards>, Failure> {
        let folders = self.folders()?;
        let none = [String::new()];
        let lists = if lists.is_empty() { &none } else { lists };
        lists.iter().map(|list| chosen(list, &folders)).collect()
    }

    /// What is asked for, by the figures of the chosen editions.
    pub(super) fn options(&self, standards: &Standards) -> Result<Options, Failure> {
        let range = &standards.existing.redundancy;
        if let Some(redundancy) = self.redundancy
            && !(range.low..=range.high).contains(&redundancy)
        {
            return Err(Failure::Usage(format!(
                "--redundancy: found {redundancy}; expected a number from {} to {}",
                range.low, range.high
            )));
        }
        Ok(Options {
            method: match self.method {
                MethodArg::Asd => Method::Asd,
                MethodArg::Lrfd => Method::Lrfd,
            },
            redundancy: self.redundancy,
            reduced: self.reduced,
            derivations: true,
        })
    }

    /// The screen of a house by some editions.
    pub(super) fn screen(&self, file: &HouseFile, standards: &Standards) -> Result<ScreenReport, Failure> {
        let options = self.options(standards)?;
        let info = ReportInfo::of_input(env!("CARGO_PKG_VERSION"), &name(file), file.text.as_bytes());
        let units = match self.units {
            UnitsArg::Us => Units::Us,
            UnitsArg::Si => Units::Si,
            UnitsArg::Both => Units::Both,
        };
        Ok(ScreenReport::new(
            &file.house,
            &screen(&file.house, standards, options),
            &standards.editions(),
            options,
            units,
            &info,
        ))
    }
}

/// Reads the editions named in a list; a folder of the user's stands for the shipped edition of its standard.
fn chosen(list: &str, folders: &[StandardFolder]) -> Result<Standards, Failure> {
    let ids: Vec<&str> = list
        .split(',')
        .map(str::trim)
        .filter(|id| !id.is_empty())
        .collect();
    let edition = |id: &str| -> Result<Edition, Failure> {
        let table = match folders.iter().find(|folder| folder.id == id) {
            Some(folder) => StandardTable::read(&folder.id, &folder.files),
            None => StandardTable::shipped(id),
        };
        match table {
            Ok(table) => Ok(table.edition),
            Err(_) if folders.iter().all(|folder| folder.id != id) => Err(unknown(id, folders)),
            Err(faults) => Err(Failure::Tables(faults)),
        }
    };
    let mut named: Vec<Edition> = Vec::new();
    for id in &ids {
        let edition = edition(id)?;
        if let Some(other) = named.iter().find(|other| other.standard == edition.standard) {
            return Err(Failure::Usage(format!(
                "--standards: found {} and {id}, two editions of one standard; expected one of each (give \
                 --standards once for each to see them side by side)",
                other.id
            )));
        }
        named.push(edition);
    }
    let mut used: Vec<(Edition, StandardFolder)> = Vec::new();
    for folder in folders {
        let own = edition(&folder.id)?;
        let is_named = named.iter().any(|named| named.id == own.id);
        // A named edition of the same standard takes its place.
        if !is_named && named.iter().any(|named| named.standard == own.standard) {
            continue;
        }
        if let Some((other, _)) = used.iter().find(|(other, _)| other.standard == own.standard) {
            return Err(Failure::Usage(format!(
                "--standards-dir: found {} and {}, two editions of one standard; name one of them with --standards",
                other.id, own.id
            )));
        }
        let copy = StandardFolder {
            id: folder.id.clone(),
            files: folder.files.clone(),
        };
        used.push((own, copy));
    }
    let used: Vec<StandardFolder> = used.into_iter().map(|(_, folder)| folder).collect();
    Standards::with_folders(&ids, &used).map_err(Failure::Tables)
}

fn unknown(id: &str, folders: &[StandardFolder]) -> Failure {
    let mut all: Vec<&str> = StandardTable::shipped_ids().collect();
    all.extend(folders.iter().map(|folder| folder.id.as_str()));
    let near = retrofit_core::choice::nearest(id, all.iter().copied())
        .map_or_else(String::new, |near| format!("; did you mean {near:?}?"));
    let found: String = id.chars().take(60).collect();
    Failure::Usage(format!(
        "--standards: found {found:?}; expected editions out of {}{near}",
        all.join(", ")
    ))
}
