//! `retrofit new`: a house file to fill in, questions on the terminal, and a form for paper.

use std::io::{self, BufRead, IsTerminal};
use std::path::{Path, PathBuf};

use clap::Args;
use retrofit_report::capture::{Depth, Form, Given, Record, Session};
use retrofit_report::input::{HouseError, LARGEST_HOUSE_FILE, Origin, read_text};
use retrofit_report::language::{Language, Words};
use retrofit_report::output::write_whole;

use super::console::Console;
use super::exit::{Failure, Status};

/// Begin a house file: to fill in, by answering questions, or on paper
///
/// Writes a house file with a comment at every question, in the order of a crawl, in which everything is
/// "not looked at yet": `retrofit check` reads it and answers that nothing is determined. With `--ask` it asks the
/// same questions on the terminal and saves after each answer; with `--form` it prints them on two sheets of letter
/// paper, one for the house and one to be copied for each wall line.
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a switch of the command line"
)]
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct New {
    /// The house file to begin
    #[arg(value_name = "HOUSE", required_unless_present = "form")]
    house: Option<PathBuf>,
    /// Ask the questions, one after another
    #[arg(long, requires = "house")]
    ask: bool,
    /// Go on with a house file that is there already, where the questions stopped; comments in it are not kept
    #[arg(long, requires = "house", conflicts_with = "force")]
    resume: bool,
    /// Begin anew over a house file that is there already
    #[arg(long, requires = "house")]
    force: bool,
    /// Ask everything that a house file can hold, not only what checks read
    #[arg(long)]
    everything: bool,
    /// What to call the house [default: the name of the file]
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// The wall lines to begin with
    #[arg(
        long,
        value_name = "NAMES",
        value_delimiter = ',',
        default_value = "north,east,south,west"
    )]
    wall_lines: Vec<String>,
    /// Write the blank form for paper here, as a web page to print, or as Markdown where the name ends in .md
    #[arg(long, value_name = "FILE")]
    form: Option<PathBuf>,
    /// Language of the questions and the form: en or es
    #[arg(long, value_name = "TAG", default_value = "en")]
    language: String,
}

const EXAMPLES: &str = "\
Examples:
  retrofit new --form form.html
      Two sheets to print and take under the house: one for the house, one to copy for each wall line.
  retrofit new quince.json
      A house file to fill in with an editor, with a comment at every question.
  retrofit new quince.json --ask
      Asks what the form asks. ? explains, back returns, quit stops; every answer is saved at once.
  retrofit new quince.json --ask --resume
      Goes on where it stopped.
  retrofit new quince.json --ask --language es --everything
      In Spanish, with what the engineering screen and the foundation plan can use besides.

Answers are typed as they are measured: 1'-6\", 18 in, 0.46 m. Before an answer stands how it is known, if it was not
seen: measured, reported or inferred, or their first letters. Anchors, panels and joints are typed in one go:
2'-0\", 6'-0\", 10'-0\". A file that is there is never written over without --resume or --force.

The exit code is 0 once the file is written, and 3 where an answer from a pipe could not be taken.";

impl New {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let language = Language::named(&self.language)?;
        let words = Words::of(language)?;
        if let Some(path) = &self.form {
            let form = Form::new(&words)?;
            let page = match path.extension().and_then(|extension| extension.to_str()) {
                Some("md") => form.markdown(),
                Some("html" | "htm") => form.html()?,
                // A house file must not be written over by a blank form.
                _ => {
                    return Err(Failure::Usage(format!(
                        "--form: found {}; expected the name of a file that ends in .html or .md",
                        path.display()
                    )));
                }
            };
            write_whole(path, page.as_bytes())?;
            console.remark(&format!("wrote {}", path.display()));
        }
        let Some(path) = &self.house else {
            return Ok(Status::Done);
        };
        let record = self.record(path)?;
        if self.ask || self.resume {
            return self.ask(record, path, &words, console);
        }
        let text = record.with_every_question().with_comments(&words)?;
        write_whole(path, text.as_bytes())?;
        console.remark(&format!("wrote {}", path.display()));
        Ok(Status::Done)
    }

    /// The record to begin with: an empty one, or the one that is there.
    fn record(&self, path: &Path) -> Result<Record, Failure> {
        let is_there = path.symlink_metadata().is_ok();
        if is_there && self.resume {
            let origin = Origin::File(path.to_owned());
            let text = read_text(&origin, LARGEST_HOUSE_FILE)?;
            return Record::read(&text).map_err(|faults| HouseError::Faulty { origin, faults }.into());
        }
        if is_there && !self.force {
            return Err(Failure::Usage(format!(
                "{}: is there already; --resume goes on with it, --force begins anew",
                path.display()
            )));
        }
        let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
        let name = self.name.clone().or(stem).unwrap_or_default();
        let lines: Vec<&str> = self.wall_lines.iter().map(|line| line.trim()).collect();
        let record = Record::starter(&name, &lines);
        match record.house() {
            Ok(_) => Ok(record),
            Err(faults) => {
                let faults: Vec<String> = faults
                    .iter()
                    .map(|fault| format!("{}: {}", fault.path, fault.message))
                    .collect();
                Err(Failure::Usage(faults.join("\nerror: ")))
            }
        }
    }

    /// Asks until every question has been asked, or somebody has had enough.
    fn ask(
        &self,
        record: Record,
        path: &Path,
        words: &Words,
        console: &mut Console,
    ) -> Result<Status, Failure> {
        let depth = if self.everything {
            Depth::Everything
        } else {
            Depth::Checked
        };
        let said = |error: retrofit_report::capture::CaptureError| Failure::Usage(error.to_string());
        let mut session = Session::new(record, depth, words).map_err(said)?;
        let mut refused = 0_usize;
        let (behind, _) = session.progress();
        let opening = if behind == 0 {
            "capture-caution"
        } else {
            "capture-resumed"
        };
        console.say(&words.term(opening)?)?;
        console.say(&words.term("capture-hint")?)?;
        // What is asked is worth keeping from the first answer on, and a file that cannot be written is found out now.
        write_whole(path, session.record().written().as_bytes())?;
        let mut lines = io::stdin().lock().lines();
        let mut headed = None;
        while session.place().is_some() {
            let heading = session.heading(words)?;
            if heading.is_some() && heading != headed {
                console.say(&format!("\n{}", heading.as_deref().unwrap_or_default()))?;
                headed = heading;
            }
            console.say(&session.asked(words).map_err(said)?)?;
            let Some(line) = lines.next() else { break };
            let line = line.map_err(|cause| {
                Failure::Usage(format!(
                    "standard input: found text that cannot be read ({cause}); expected UTF-8"
                ))
            })?;
            match line.trim() {
                "?" => console.say(&session.explained(words).map_err(said)?)?,
                "quit" => break,
                "skip" => session.skip(),
                "back" => {
                    if !session.back() {
                        console.say(&words.term("capture-first")?)?;
                    }
                }
                answer => match session.answer(answer) {
                    Ok(Given::Recorded) => write_whole(path, session.record().written().as_bytes())?,
                    Ok(Given::Kept | Given::NoMore) => {}
                    Err(error) => {
                        refused += 1;
                        console.say(&format!("  {error}"))?;
                    }
                },
            }
        }
        let (behind, all) = session.progress();
        let rest = if behind < all {
            format!(
                "; `retrofit new {} --ask --resume` goes on with it",
                path.display()
            )
        } else {
            String::new()
        };
        console.remark(&format!("wrote {}{rest}", path.display()));
        // Somebody at a terminal sees that an answer was not taken; a script has to be told.
        let was_scripted = !io::stdin().is_terminal();
        Ok(if refused > 0 && was_scripted {
            Status::PartlyBad
        } else {
            Status::Done
        })
    }
}
