//! How a run ends: with a status by the verdict, or with a failure.

use std::path::PathBuf;
use std::process::ExitCode;

use retrofit_core::check::Ruling;
use retrofit_core::provisions::TableError;
use retrofit_report::input::{ColumnMapError, HouseError, PricesError, TablesError, TextError};
use retrofit_report::language::LanguageError;
use retrofit_report::look::{FolderError, LetterheadError, PhotoError};
use retrofit_report::output::OutputError;
use retrofit_report::ranking::RankError;
use retrofit_report::readers::ReaderError;
use retrofit_report::result::RenderError;
use retrofit_report::screen::{ExplainError, PathState};
use retrofit_report::triage::TriageError;
use thiserror::Error;

/// How a run that did its work ended, from the mildest to the strictest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Status {
    /// There was no verdict to give.
    Done,
    /// Met.
    Met,
    /// Not determined, or nothing was asked.
    NotDetermined,
    /// Not met.
    NotMet,
    /// Outside the prescriptive provisions.
    Outside,
    /// Part of the input was bad and was reported; the rest was done.
    PartlyBad,
}

impl Status {
    const BAD_INPUT: u8 = 3;

    /// The status of a command line that cannot be understood.
    pub(crate) fn bad_usage() -> ExitCode {
        Self::BAD_INPUT.into()
    }

    /// The status of a verdict. A set shipped for comparison only cannot find an older house met or not met,
    /// and where a set asks nothing there is nothing that was met.
    pub(crate) fn of(ruling: Ruling, comparison_only: bool) -> Self {
        match ruling {
            _ if comparison_only => Self::NotDetermined,
            Ruling::Met => Self::Met,
            Ruling::NotApplicable | Ruling::NotDetermined => Self::NotDetermined,
            Ruling::NotMet => Self::NotMet,
            Ruling::Outside => Self::Outside,
        }
    }
}

impl From<PathState> for Status {
    fn from(path: PathState) -> Self {
        match path {
            PathState::Reaches => Self::Met,
            PathState::MayBeShort | PathState::NotDetermined => Self::NotDetermined,
            PathState::Short => Self::NotMet,
            PathState::Declined => Self::Outside,
        }
    }
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        match status {
            Status::Done | Status::Met => Self::SUCCESS,
            Status::NotMet => 1.into(),
            Status::NotDetermined | Status::Outside => 2.into(),
            Status::PartlyBad => Status::BAD_INPUT.into(),
        }
    }
}

/// The exit code of a defect of the program itself.
pub(crate) fn internal() -> ExitCode {
    4.into()
}

/// Why a run could not do its work.
#[derive(Debug, Error)]
pub(crate) enum Failure {
    /// A house file cannot be used.
    #[error(transparent)]
    House(#[from] HouseError),
    /// A file cannot be read.
    #[error(transparent)]
    Text(#[from] TextError),
    /// A folder of tables cannot be read.
    #[error(transparent)]
    Folder(#[from] TablesError),
    /// Tables are faulty, or there is no such set.
    #[error("{}", each(.0))]
    Tables(Vec<TableError>),
    /// A number of a screen cannot be explained.
    #[error(transparent)]
    Explain(#[from] ExplainError),
    /// A table of unit prices cannot be used.
    #[error(transparent)]
    Prices(#[from] PricesError),
    /// A column map cannot be used.
    #[error(transparent)]
    Map(#[from] ColumnMapError),
    /// A portfolio cannot be used.
    #[error(transparent)]
    Triage(#[from] TriageError),
    /// A portfolio cannot be ranked.
    #[error(transparent)]
    Rank(#[from] RankError),
    /// A result cannot be written.
    #[error(transparent)]
    Output(#[from] OutputError),
    /// The standard output cannot be written to.
    #[error("the standard output cannot be written to: {0}")]
    Stdout(std::io::Error),
    /// The arguments contradict each other or name something that is not there.
    #[error("{0}")]
    Usage(String),
    /// A folder of templates cannot be used.
    #[error(transparent)]
    Look(#[from] FolderError),
    /// A letterhead cannot be used.
    #[error(transparent)]
    Letterhead(#[from] LetterheadError),
    /// A photograph cannot be shown.
    #[error(transparent)]
    Photo(#[from] PhotoError),
    /// There is a result and no page of it.
    #[error("{why}\nno page was written; the result is in {}", .path.display())]
    Kept {
        /// Why there is no page.
        why: Box<Failure>,
        /// Where the result is.
        path: PathBuf,
    },
    /// A report could not be put together.
    #[error(transparent)]
    Render(#[from] RenderError),
    /// A page cannot be said in the language that was asked for.
    #[error(transparent)]
    Language(#[from] LanguageError),
    /// Something that is put together here could not be.
    #[error("{0} could not be put together")]
    Internal(&'static str),
}

fn each(errors: &[TableError]) -> String {
    let lines: Vec<String> = errors.iter().map(TableError::to_string).collect();
    lines.join("\nerror: ")
}

impl From<ReaderError> for Failure {
    fn from(error: ReaderError) -> Self {
        match error {
            ReaderError::Language(error) => Self::Language(error),
            ReaderError::Render(error) => Self::Render(error),
        }
    }
}

impl Failure {
    /// The exit code.
    pub(crate) fn exit_code(&self) -> ExitCode {
        match self {
            Self::Language(LanguageError::UnknownLanguage { .. }) => Status::BAD_INPUT.into(),
            Self::Render(RenderError::Ours(_)) | Self::Internal(_) | Self::Language(_) => internal(),
            Self::Kept { why, .. } => why.exit_code(),
            _ => Status::BAD_INPUT.into(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_strictest_verdict_counts() {
        let of = |ruling| Status::of(ruling, false);
        assert!(of(Ruling::Met) < of(Ruling::NotDetermined));
        assert!(of(Ruling::NotDetermined) < of(Ruling::NotMet));
        assert!(of(Ruling::NotMet) < of(Ruling::Outside));
    }

    #[test]
    fn a_set_for_comparison_never_finds_a_house_met() {
        assert_eq!(Status::of(Ruling::Met, true), Status::NotDetermined);
    }
}
