//! `retrofit demo`: an invented house from its file to the list of what to buy.

use std::path::PathBuf;

use clap::Args;
use retrofit_core::prices::UnitPrices;
use retrofit_core::remedy::design;
use retrofit_core::takeoff::{Stock, take_off};
use retrofit_report::input::{HouseError, HouseFile, Origin, parse_house};
use retrofit_report::output::{make_folder, write_whole};
use retrofit_report::takeoff::TakeoffReport;
use retrofit_report::{takeoff, terminal};

use super::check::judge;
use super::console::Console;
use super::exit::{Failure, Status};
use super::look::{LookArgs, keep_result};
use super::provisions::ProvisionsArgs;
use super::remedy::{Work, named};
use super::report::{Page, for_a_machine, in_folder, in_full, write_pages};

/// Show an invented house from its file to a report and the work
///
/// Writes the house file of an invented one-story bungalow of 1926 to a folder, checks it, prints the verdict,
/// and writes the deficiency list and the permit worksheet, with the drawings, as web pages and as Markdown, and
/// the takeoff as Markdown. A good place to begin: change the file and check it again.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Demo {
    /// Folder for the house file and the reports
    #[arg(long, value_name = "DIR", default_value = "retrofit-demo")]
    out: PathBuf,
    #[command(flatten)]
    provisions: ProvisionsArgs,
    #[command(flatten)]
    look: LookArgs,
}

const EXAMPLES: &str = "\
Examples:
  retrofit demo
      Writes retrofit-demo/quince-lantern-way.json, .html, .worksheet.html, .takeoff.md and more.
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
        let (reports, _) = judge(&file, &sets)?;
        let ids: Vec<&str> = sets.iter().map(|set| set.id.as_str()).collect();
        let prices = UnitPrices::placeholder();
        let dressed = || {
            let look = self.look.look()?;
            let mut pages = in_folder(&self.out, NAME, &in_full(&file, &sets, &reports)?, &ids, &look)?;
            for set in &sets {
                let id = Some(set.id.as_str()).filter(|_| sets.len() > 1);
                let work = Work::of(&file, set, prices);
                let named = |part: &str, kind: &str| named(NAME, part, id, kind);
                pages.extend(work.worksheet_pages(&self.out, named, &look)?);
            }
            Ok(pages)
        };
        let mut pages = dressed().map_err(|why| {
            let path = self.out.join(format!("{NAME}.result.json"));
            keep_result(why, path, &for_a_machine(&reports))
        })?;
        for set in &sets {
            let id = Some(set.id.as_str()).filter(|_| sets.len() > 1);
            let taken_off = take_off(&design(&file.house, set, prices), prices, Stock::shipped());
            let list = TakeoffReport::new(&file.house, &set.title, &taken_off);
            let path = self.out.join(named(NAME, "takeoff", id, "md"));
            pages.push(Page::new(path, takeoff::markdown(&list)));
        }
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
