//! `retrofit templates`: our templates, as a start for templates of one's own.

use std::path::PathBuf;

use clap::Args;
use retrofit_report::look::templates;
use retrofit_report::output::{make_folder, write_whole};

use super::console::Console;
use super::exit::{Failure, Status};

/// Write our templates to a folder, as a start for templates of your own
///
/// Keep the files you change and delete the others: a template that is not in the folder is ours, and follows what
/// later versions do. The head of a page is not among them, since it holds the policy that keeps a page from the
/// network.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Templates {
    /// Folder to write to; left out, the names are printed
    #[arg(value_name = "DIR")]
    folder: Option<PathBuf>,
    /// Write these only
    #[arg(value_name = "NAME", requires = "folder")]
    names: Vec<String>,
}

const EXAMPLES: &str = "\
Examples:
  retrofit templates
      The names of all templates.
  retrofit templates ours style.css letter.html
      Writes ours/style.css and ours/letter.html.
  retrofit report house.json --templates ours
      With these in place of ours.

A file that is there already is not written over.";

impl Templates {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let Some(folder) = self.folder else {
            let names: Vec<&str> = templates().map(|(name, _)| name).collect();
            console.say(&names.join("\n"))?;
            return Ok(Status::Done);
        };
        let unknown = self
            .names
            .iter()
            .find(|name| !templates().any(|(ours, _)| ours == name.as_str()));
        if let Some(name) = unknown {
            return Err(Failure::Usage(format!(
                "{name}: found no template of this name; `retrofit templates` lists them"
            )));
        }
        let asked: Vec<(&str, &str)> = templates()
            .filter(|(name, _)| self.names.is_empty() || self.names.iter().any(|asked| asked == name))
            .collect();
        make_folder(&folder)?;
        if let Some((name, _)) = asked.iter().find(|(name, _)| folder.join(name).exists()) {
            return Err(Failure::Usage(format!(
                "{}: found a file there already; expected a folder without it",
                folder.join(name).display()
            )));
        }
        for (name, text) in asked {
            let path = folder.join(name);
            write_whole(&path, text.as_bytes())?;
            console.remark(&format!("wrote {}", path.display()));
        }
        Ok(Status::Done)
    }
}
