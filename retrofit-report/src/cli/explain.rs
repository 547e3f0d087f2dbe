//! `retrofit explain`: what a check or a figure means.

use clap::{Args, ValueEnum};
use retrofit_core::check::{Check, Group, LookAt, REGISTRY};
use retrofit_core::choice::{Choice, nearest};
use retrofit_core::provisions::{FigureName, Provisions};
use serde::Serialize;

use super::console::Console;
use super::exit::{Failure, Status};
use super::provisions::ProvisionsArgs;
use super::tables::{FigureRow, add_figures, figure_rows};
use super::words::Page;

/// Tell what a check means, why it matters, and by which clause and figures
///
/// Takes the name of a check, as results and reports give it, or of a figure, as tables give it. Without a
/// name it lists all checks.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Explain {
    /// Name of a check or a figure
    #[arg(value_name = "NAME")]
    name: Option<String>,
    #[command(flatten)]
    provisions: ProvisionsArgs,
    /// How to print it
    #[arg(long, value_name = "FORMAT", default_value = "text", value_enum)]
    format: Format,
}

const EXAMPLES: &str = "\
Examples:
  retrofit explain
      All checks, by group.
  retrofit explain anchor-spacing
      What it looks at, why, what satisfies it, and its figures in the default set.
  retrofit explain anchor-spacing -p iebc-a3-2021 -p cebc-a3-2013
      Its figures in two sets.
  retrofit explain max-panel-gap
      A figure: what it means, which checks apply it, and its rows.";

/// How an explanation is printed.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Format {
    /// For a reader
    Text,
    /// For a machine
    Json,
}

impl Explain {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let Some(name) = &self.name else {
            let text = match self.format {
                Format::Text => all_by_group(),
                Format::Json => as_json(&REGISTRY.iter().map(|check| Brief::of(check)).collect::<Vec<_>>())?,
            };
            console.say(&text)?;
            return Ok(Status::Done);
        };
        let subject = Subject::named(name)?;
        let sets = self.provisions.sets()?;
        let text = match self.format {
            Format::Text => subject.page(&sets),
            Format::Json => as_json(&subject.explained(&sets))?,
        };
        console.say(&text)?;
        Ok(Status::Done)
    }
}

/// What can be explained.
enum Subject {
    Check(&'static Check),
    Figure(FigureName),
}

impl Subject {
    fn named(name: &str) -> Result<Self, Failure> {
        if let Some(check) = REGISTRY.iter().find(|check| check.name == name) {
            return Ok(Self::Check(check));
        }
        if let Some(figure) = FigureName::ALL.iter().find(|figure| figure.spelling() == name) {
            return Ok(Self::Figure(*figure));
        }
        let checks = REGISTRY.iter().map(|check| check.name);
        let figures = FigureName::ALL.iter().map(|figure| figure.spelling());
        let near = nearest(name, checks.chain(figures))
            .map_or_else(String::new, |near| format!("; did you mean {near:?}?"));
        let shown: String = name.chars().take(60).collect();
        Err(Failure::Usage(format!(
            "found {shown:?}; expected the name of a check or a figure (`retrofit explain` lists the checks){near}"
        )))
    }

    fn figures(&self) -> &[FigureName] {
        match self {
            Self::Check(check) => check.figures,
            Self::Figure(figure) => std::slice::from_ref(figure),
        }
    }

    /// The checks that apply a figure.
    fn applied_by(figure: FigureName) -> Vec<&'static str> {
        REGISTRY
            .iter()
            .filter(|check| check.figures.contains(&figure))
            .map(|check| check.name)
            .collect()
    }

    fn page(&self, sets: &[Provisions]) -> String {
        let mut page = Page::default();
        match self {
            Self::Check(check) => {
                page.line(format_args!("{}", check.name));
                page.line(format_args!("{} ({})", check.title, check.group.words()));
                page.section("What it looks at", check.explanation.looks_at);
                page.section("Why it matters in an earthquake", check.explanation.why);
                page.section("What satisfies it", check.explanation.satisfied_by);
                page.section("Direction of the fix", check.explanation.fix);
                page.heading("What it needs to know");
                for look_at in check.reads {
                    page.paragraph(2, &format!("{} ({})", look_at.words(), look_at.spelling()));
                }
            }
            Self::Figure(figure) => {
                page.line(format_args!("{}", figure.spelling()));
                page.line(format_args!("{}", capitalized(figure.words())));
                let checks = Self::applied_by(*figure);
                let checks = if checks.is_empty() {
                    "no check yet".to_owned()
                } else {
                    checks.join(", ")
                };
                page.section("Applied by", &checks);
            }
        }
        for set in sets {
            page.heading(&format!("Figures in {} ({})", set.id, set.title));
            add_figures(
                &mut page,
                set.figures()
                    .iter()
                    .filter(|figure| self.figures().contains(&figure.name)),
            );
        }
        page.into_text()
    }

    fn explained(&self, sets: &[Provisions]) -> Explained {
        let (brief, explanation, applied_by, reads) = match self {
            Self::Check(check) => (Brief::of(check), Some(check.explanation), Vec::new(), check.reads),
            Self::Figure(figure) => (
                Brief {
                    name: figure.spelling(),
                    title: figure.words(),
                    group: None,
                },
                None,
                Self::applied_by(*figure),
                &[] as &[LookAt],
            ),
        };
        Explained {
            brief,
            looks_at: explanation.map(|explanation| explanation.looks_at),
            why: explanation.map(|explanation| explanation.why),
            satisfied_by: explanation.map(|explanation| explanation.satisfied_by),
            fix: explanation.map(|explanation| explanation.fix),
            applied_by,
            reads: reads.iter().map(|look_at| look_at.spelling()).collect(),
            figures: sets
                .iter()
                .flat_map(figure_rows)
                .filter(|row| {
                    self.figures()
                        .iter()
                        .any(|figure| figure.spelling() == row.figure)
                })
                .collect(),
        }
    }
}

/// A check in one line of a list.
#[derive(Debug, Serialize)]
struct Brief {
    name: &'static str,
    title: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    group: Option<&'static str>,
}

impl Brief {
    fn of(check: &Check) -> Self {
        Self {
            name: check.name,
            title: check.title,
            group: Some(check.group.spelling()),
        }
    }
}

/// An explanation for a machine.
#[derive(Debug, Serialize)]
struct Explained {
    #[serde(flatten)]
    brief: Brief,
    #[serde(skip_serializing_if = "Option::is_none")]
    looks_at: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    satisfied_by: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    fix: Option<&'static str>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    applied_by: Vec<&'static str>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    reads: Vec<&'static str>,
    figures: Vec<FigureRow>,
}

fn all_by_group() -> String {
    let width = REGISTRY
        .iter()
        .map(|check| check.name.len())
        .max()
        .unwrap_or_default();
    let mut page = Page::default();
    for group in Group::ALL {
        let mut checks = REGISTRY.iter().filter(|check| check.group == *group).peekable();
        if checks.peek().is_none() {
            continue;
        }
        page.line(format_args!("{}", capitalized(group.words())));
        for check in checks {
            page.line(format_args!("  {:width$}  {}", check.name, check.title));
        }
        page.line(format_args!(""));
    }
    page.line(format_args!("`retrofit explain NAME` tells what a check means."));
    page.into_text()
}

fn capitalized(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

pub(super) fn as_json(value: &impl Serialize) -> Result<String, Failure> {
    serde_json::to_string_pretty(value).map_err(|_| Failure::Internal("the JSON text"))
}
