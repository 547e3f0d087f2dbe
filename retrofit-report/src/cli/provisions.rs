//! Which sets of provisions a verb works with.

use std::borrow::Cow;
use std::path::PathBuf;

use clap::Args;
use retrofit_core::provisions::{Library, Provisions};
use retrofit_report::input::add_table_folders;

use super::exit::Failure;

/// Folders with tables of the user's own.
#[derive(Clone, Debug, Default, Args)]
pub(super) struct TablesArgs {
    /// Folder with tables of your own: a set, or folders that are sets; may be given more than once
    ///
    /// A folder with the name of a shipped set changes or attests figures of that set; any other name adds a
    /// set. `retrofit tables --check DIR` tells whether a folder is in order.
    #[arg(long = "tables", value_name = "DIR")]
    folders: Vec<PathBuf>,
}

impl TablesArgs {
    /// The shipped sets, and those of the folders.
    pub(super) fn library(&self) -> Result<Cow<'static, Library>, Failure> {
        let mut library = Cow::Borrowed(Library::shipped());
        for folder in &self.folders {
            add_table_folders(library.to_mut(), folder)?;
        }
        Ok(library)
    }
}

/// The choice of sets.
#[derive(Clone, Debug, Default, Args)]
pub(super) struct ProvisionsArgs {
    /// Set of provisions to check against; several, to see them side by side [default: cebc-a3-2013]
    ///
    /// `retrofit tables` lists the sets.
    #[arg(long = "provisions", short = 'p', value_name = "SET", value_delimiter = ',')]
    ids: Vec<String>,
    #[command(flatten)]
    tables: TablesArgs,
}

impl ProvisionsArgs {
    /// The chosen sets, each once, in the order in which they were named; only these are read.
    pub(super) fn sets(&self) -> Result<Vec<Provisions>, Failure> {
        let library = self.tables.library()?;
        let mut ids: Vec<&str> = Vec::new();
        for id in &self.ids {
            if !ids.contains(&id.as_str()) {
                ids.push(id);
            }
        }
        if ids.is_empty() {
            ids.push(Library::DEFAULT_SET);
        }
        ids.into_iter()
            .map(|id| library.set(id).map_err(Failure::Tables))
            .collect()
    }

    /// The one chosen set, for a verb that takes no more.
    pub(super) fn one_set(&self) -> Result<Provisions, Failure> {
        let mut sets = self.sets()?;
        match (sets.pop(), sets.is_empty()) {
            (Some(set), true) => Ok(set),
            _ => Err(Failure::Usage(
                "found several sets of provisions; expected one (run it once for each)".to_owned(),
            )),
        }
    }
}
