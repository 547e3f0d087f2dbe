//! `retrofit demo`: an invented house from its file to a report.

use std::path::PathBuf;

use clap::Args;
use retrofit_report::input::{HouseError, HouseFile, Origin, parse_house};
use retrofit_report::output::{make_folder, write_whole};
use retrofit_report::terminal;

use super::check::judge;
use super::console::Console;
use super::exit::{Failure, Status};
use super::provisions::ProvisionsArgs;
use super::report::{in_folder, write_pages};

/// Show an invented house from its file to a report
///
/// Writes the house file of an invented one-story bungalow of 1926 to a folder, checks it, prints the verdict,
/// and writes the deficiency list as a web page and as Markdown. A good place to begin: change the file and
/// check it again.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Demo {
    /// Folder for the house file and the reports
    #[arg(long, value_name = "DIR", default_value = "retrofit-demo")]
    out: PathBuf,
    #[command(flatten)]
    provisions: ProvisionsArgs,
}

const EXAMPLES: &str = "\
Examples:
  retrofit demo
      Writes retrofit-demo/quince-lantern-way.json, .html and .md.
  retrofit demo --out somewhere -p iebc-a3-2021
      To another folder, by another set of provisions.
  retrofit check retrofit-demo/quince-lantern-way.json
      Afterwards: check the file again, with changes of your own.

The exit code is 0 once the files are written, though the house falls short; `retrofit check` on its file
answers with the verdict.";

const NAME: &str = "quince-lantern-way";
const HOUSE: &str = include_str!("../../../examples/quince-lantern-way.json");

impl Demo {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let sets = self.provisions.sets()?;
        let file = invented_house(&self.out)?;
        let (reports, _) = judge(&file, &sets);
        let ids: Vec<&str> = sets.iter().map(|set| set.id.as_str()).collect();
        let pages = in_folder(&self.out, NAME, &reports, &ids)?;
        for report in &reports {
            console.say(&terminal::render(report, console.styled()))?;
        }
        console.say("")?;
        let Origin::File(path) = &file.origin else {
            return Err(Failure::Internal("the demonstration"));
        };
        write_whole(path, HOUSE.as_bytes())?;
        console.remark(&format!("wrote {}", path.display()));
        // The pages do not replace the house file: their names end differently.
        write_pages(&pages, &[&file], console)?;
        Ok(Status::Done)
    }
}

fn invented_house(folder: &std::path::Path) -> Result<HouseFile, Failure> {
    make_folder(folder)?;
    let origin = Origin::File(folder.join(format!("{NAME}.json")));
    let house = parse_house(HOUSE).map_err(|faults| HouseError::Faulty {
        origin: origin.clone(),
        faults,
    })?;
    Ok(HouseFile {
        origin,
        house,
        text: HOUSE.to_owned(),
    })
}
