//! `retrofit man`: the manual.

use std::path::PathBuf;

use clap::{Args, Command};
use clap_mangen::Man as Page;
use retrofit_report::output::{make_folder, write_whole};

use super::console::Console;
use super::exit::{Failure, Status};

/// Print the manual page, or write the pages of all verbs to a folder
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Man {
    /// Write a page for the program and one for each verb to this folder
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

const EXAMPLES: &str = "\
Examples:
  retrofit man > retrofit.1
  retrofit man --out ~/.local/share/man/man1";

impl Man {
    pub(super) fn run(self, console: &mut Console, mut command: Command) -> Result<Status, Failure> {
        command.build();
        match &self.out {
            None => console.say(&rendered(&Page::new(command))?)?,
            Some(folder) => {
                make_folder(folder)?;
                let verbs = command.get_subcommands().filter(|verb| verb.get_name() != "help");
                for page in std::iter::once(&command).chain(verbs) {
                    let page = Page::new(page.clone());
                    let path = folder.join(page.get_filename());
                    write_whole(&path, rendered(&page)?.as_bytes())?;
                    console.remark(&format!("wrote {}", path.display()));
                }
            }
        }
        Ok(Status::Done)
    }
}

fn rendered(page: &Page) -> Result<String, Failure> {
    let mut text = Vec::new();
    page.render(&mut text)
        .map_err(|_| Failure::Internal("the manual page"))?;
    Ok(String::from_utf8_lossy(&text).into_owned())
}
