//! How what a verb writes looks: templates and a letterhead of the user's own.

use std::path::{Path, PathBuf};

use clap::Args;
use retrofit_report::input::{HouseFile, Origin};
use retrofit_report::look::{Letterhead, Look, Picture, read_photos};
use retrofit_report::output::write_whole;

use super::exit::Failure;

/// Templates and a letterhead of the user's own.
#[derive(Clone, Debug, Default, Args)]
#[command(next_help_heading = "Look")]
pub(super) struct LookArgs {
    /// Folder with templates of your own; a file there takes the place of ours of the same name
    ///
    /// `retrofit templates DIR` writes ours out as a start. A template sees what the report holds and can open
    /// no file; a mistake in one is told with its line, and the result is written as JSON all the same.
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
    /// Whose report it is: a TOML file with `name`, `lines`, and `logo` as a path beside it
    #[arg(long, value_name = "FILE.toml")]
    letterhead: Option<PathBuf>,
}

impl LookArgs {
    /// The look that was asked for; ours where none was.
    pub(super) fn look(&self) -> Result<Look, Failure> {
        let look = match &self.templates {
            Some(folder) => Look::from_folder(folder)?,
            None => Look::default(),
        };
        Ok(match &self.letterhead {
            Some(file) => look.under(Letterhead::read(file)?),
            None => look,
        })
    }
}

/// The photographs that a house file names, from beside it; what comes by standard input lies in the current folder.
pub(super) fn photos(file: &HouseFile) -> Result<Vec<Picture>, Failure> {
    let folder = match &file.origin {
        Origin::File(path) => path.parent().unwrap_or(Path::new("")),
        Origin::StandardInput => Path::new(""),
    };
    Ok(read_photos(&file.house, folder)?)
}

/// Writes a result that could not be made into pages, and tells so beside why.
pub(super) fn keep_result(why: Failure, path: PathBuf, json: &str) -> Failure {
    match write_whole(&path, json.as_bytes()) {
        Ok(()) => Failure::Kept {
            why: Box::new(why),
            path,
        },
        Err(_) => why,
    }
}
