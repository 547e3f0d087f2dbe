//! `retrofit completions`: what a shell needs to complete a command line.

use clap::{Args, Command};
use clap_complete::Shell;

use super::console::Console;
use super::exit::{Failure, Status};

/// Print completions for a shell
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Completions {
    /// The shell
    #[arg(value_enum)]
    shell: Shell,
}

const EXAMPLES: &str = "\
Examples:
  retrofit completions bash > ~/.local/share/bash-completion/completions/retrofit
  retrofit completions zsh > ~/.zfunc/_retrofit
  retrofit completions fish > ~/.config/fish/completions/retrofit.fish";

impl Completions {
    pub(super) fn run(self, console: &mut Console, mut command: Command) -> Result<Status, Failure> {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut command, "retrofit", &mut script);
        console.say(&String::from_utf8_lossy(&script))?;
        Ok(Status::Done)
    }
}
