//! The command line: one file for each verb.

mod check;
mod compare;
mod completions;
mod console;
mod demo;
mod document;
mod exit;
mod explain;
mod foundation;
mod interrupt;
mod look;
mod man;
mod map;
mod new;
mod provisions;
mod rank;
mod readers;
mod remedy;
mod report;
mod schema;
mod screen;
mod standards;
mod survey;
mod tables;
mod takeoff;
mod templates;
mod triage;
mod words;

use std::process::ExitCode;

use clap::{CommandFactory, Parser, Subcommand};

use console::{Console, ConsoleArgs};
use exit::{Failure, Status};

pub(crate) use exit::internal;

/// Judge an older raised-floor wood house against published provisions for its seismic strengthening
///
/// You write down what was found under a house (crawl space, sill plates, anchors, cripple walls, braced
/// panels) in a house file. This program holds it against a set of prescriptive provisions and tells which
/// wall lines fall short, by how much and by which clause, and what could not be judged because it was not
/// seen.
#[derive(Debug, Parser)]
#[command(
    name = "retrofit",
    version,
    subcommand_required = true,
    arg_required_else_help = true
)]
#[command(after_help = AFTER_HELP, after_long_help = AFTER_LONG_HELP)]
struct Cli {
    #[command(flatten)]
    console: ConsoleArgs,
    #[command(subcommand)]
    verb: Verb,
}

const AFTER_HELP: &str = "Begin with `retrofit demo`; `retrofit help VERB` teaches a verb with examples.";

const AFTER_LONG_HELP: &str = "\
A first walk:
  retrofit demo                                an invented house, from its file to a report
  retrofit new house.json --ask                a house file by answering questions; --form for paper
  retrofit check house.json                    the verdict on the terminal
  retrofit report house.json                   the deficiency list as a web page and as Markdown
  retrofit report house.json --for owner       the same for the owner, in plain words
  retrofit remedy house.json                   where each new anchor, panel and clip goes
  retrofit takeoff house.json                  what that takes and what it may cost
  retrofit compare found.json built.json       before and after: what closed, what is still short
  retrofit screen house.json                   the load path computed, link by link; not a design
  retrofit survey house.json                   a floor level survey beside published limits
  retrofit foundation house.json               the work on its foundation, length by length
  retrofit triage houses.csv                   many houses through the same checks
  retrofit rank houses.csv --budget 2500000    which first, how sure, and what to look at next
  retrofit explain anchor-spacing              what a check looks at, why, and by which clause
  retrofit tables cebc-a3-2013                 every figure of a set, with its source
  retrofit schema house > house.schema.json    lets an editor help with a house file
  retrofit templates ours                      our templates, as a start for your own

Exit codes:
  0  met, or the verb has no verdict to give and did its work
  1  not met
  2  not determined, or outside the prescriptive provisions
  3  bad input, bad usage, or a file that cannot be read or written
  4  a defect of this program
`check`, `report` and `compare` answer with the verdict, `screen` with the standing of the load path, `survey` with \
published limits, `foundation` with 1 where there is work and 2 where a length is not decided; over several houses and sets the strictest counts.

What a verdict is not:
It tells what was checked, against which set of provisions and with which figures, and what nobody saw. It says \
nothing of the rest of the house. The local code official decides what is required and permitted; a licensed \
engineer or architect has to design what lies outside the prescriptive provisions, and should be asked wherever \
a report leaves a doubt.

Before you crawl:
Stay out where there is standing water or sewage, a smell of gas, bare or damaged wiring, crumbling insulation \
that may hold asbestos, a sagging or shored floor, or signs of animals. Have someone outside who knows where you \
are. Do not go under a house after an earthquake before it has been cleared.";

#[derive(Debug, Subcommand)]
enum Verb {
    Demo(demo::Demo),
    New(new::New),
    Check(check::Check),
    Report(report::Report),
    Remedy(remedy::Remedy),
    Takeoff(takeoff::Takeoff),
    Compare(compare::Compare),
    Screen(screen::Screen),
    Survey(survey::Survey),
    Foundation(foundation::Foundation),
    Triage(triage::Triage),
    Map(map::Map),
    Rank(rank::Rank),
    Explain(explain::Explain),
    Tables(tables::Tables),
    Schema(schema::Schema),
    Templates(templates::Templates),
    Completions(completions::Completions),
    Man(man::Man),
}

/// Runs the command line of this process.
pub(crate) fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(help) => {
            // Nobody is left to tell when the output is closed.
            drop(help.print());
            return if help.use_stderr() {
                Status::bad_usage()
            } else {
                Status::Done.into()
            };
        }
    };
    let mut console = Console::new(cli.console);
    match run(cli.verb, &mut console) {
        Ok(status) => status.into(),
        Err(failure) => {
            console.complain(&failure);
            failure.exit_code()
        }
    }
}

fn run(verb: Verb, console: &mut Console) -> Result<Status, Failure> {
    match verb {
        Verb::Demo(demo) => demo.run(console),
        Verb::New(new) => new.run(console),
        Verb::Check(check) => check.run(console),
        Verb::Report(report) => report.run(console),
        Verb::Remedy(remedy) => remedy.run(console),
        Verb::Takeoff(takeoff) => takeoff.run(console),
        Verb::Compare(compare) => compare.run(console),
        Verb::Screen(screen) => screen.run(console),
        Verb::Survey(survey) => survey.run(console),
        Verb::Foundation(foundation) => foundation.run(console),
        Verb::Triage(triage) => triage.run(console),
        Verb::Map(map) => map.run(console),
        Verb::Rank(rank) => rank.run(console),
        Verb::Explain(explain) => explain.run(console),
        Verb::Tables(tables) => tables.run(console),
        Verb::Schema(schema) => schema.run(console),
        Verb::Templates(templates) => templates.run(console),
        Verb::Completions(completions) => completions.run(console, Cli::command()),
        Verb::Man(man) => man.run(console, Cli::command()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_command_line_is_well_formed() {
        Cli::command().debug_assert();
    }
}
