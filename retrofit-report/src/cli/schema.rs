//! `retrofit schema`: what the files hold, for editors and machines.

use clap::{Args, ValueEnum};
use retrofit_core::house::House;
use retrofit_report::json;

use super::exit::{Failure, Status};
use super::screen::Screen;

/// Print the JSON Schema of a house file or of a result
///
/// With the schema of the house file an editor completes keys and marks mistakes while the file is written.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Schema {
    /// What to describe
    #[arg(value_enum)]
    of: Of,
}

const EXAMPLES: &str = "\
Examples:
  retrofit schema house > house.schema.json
      The house file.
  retrofit schema result > result.schema.json
      What `retrofit check --format json` prints.";

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Of {
    /// The house file
    House,
    /// The result for a machine
    Result,
}

impl Schema {
    pub(super) fn run(self, screen: &mut Screen) -> Result<Status, Failure> {
        let text = match self.of {
            Of::House => serde_json::to_string_pretty(&schemars::schema_for!(House))
                .map_err(|_| Failure::Internal("the schema"))?,
            Of::Result => json::schema(),
        };
        screen.say(&text)?;
        Ok(Status::Done)
    }
}
