//! `retrofit explain`: what a check or a figure means, and how a number of the engineering screen or of a foundation plan
//! came about.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use retrofit_core::check::{Check, Group, LookAt, REGISTRY};
use retrofit_core::choice::{Choice, nearest};
use retrofit_core::foundation::plan::{FoundationPlan, PlanSettings, PlanTables};
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::{FigureName, Provisions};
use retrofit_core::screen::Direction;
use retrofit_report::foundation::explain::{
    AskedOfPlan, PlanExplanation, explain as explain_plan, explainable as explainable_of_plan,
    nearest_name as nearest_of_plan,
};
use retrofit_report::input::{Origin, read_house};
use retrofit_report::screen::{Asked, ExplainError, ScreenReport, explain, explainable};
use serde::Serialize;

use super::console::Console;
use super::exit::{Failure, Status};
use super::provisions::ProvisionsArgs;
use super::standards::ScreenArgs;
use super::tables::{FigureRow, add_figures, figure_rows};
use super::words::Page;

/// Tell what a check means, why it matters, and by which clause; or how a number of a house was computed
///
/// Takes the name of a check, as results and reports give it, or of a figure, as tables give it. Without a
/// name it lists all checks.
///
/// With --house it takes the name of a number or a link of the engineering screen of that house, and prints the
/// derivation of its worse end: every equation in symbols and in numbers, with clause and source, down to what was
/// measured. A number of the foundation plan of that house, such as the width of a new footing, is explained as well, with
/// the figures it rests on and their sources. Without a name it lists all of these.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Explain {
    /// Name of a check or a figure; with --house, of a number or a link of the screen, or a number of the foundation plan
    #[arg(value_name = "NAME")]
    name: Option<String>,
    /// House file of which a number is explained; `-` reads it from standard input
    #[arg(long, value_name = "HOUSE.json")]
    house: Option<PathBuf>,
    /// Wall line of the number
    #[arg(long, value_name = "NAME", requires = "house")]
    wall: Option<String>,
    /// Entry of posts of the number, counted from 1
    #[arg(long, value_name = "NUMBER", requires = "house")]
    posts: Option<usize>,
    /// Jack of the number, by the label of its reading
    #[arg(long, value_name = "LABEL", requires = "house")]
    jack: Option<String>,
    /// Direction of shaking of the number
    #[arg(long, value_name = "DIRECTION", requires = "house", value_enum)]
    direction: Option<DirectionArg>,
    /// Editions to compute by, as `asce7-22,sdpws-2021`
    #[arg(long, value_name = "ID,ID", requires = "house")]
    standards: Option<String>,
    #[command(flatten)]
    how: ScreenArgs,
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
      A figure: what it means, which checks apply it, and its rows.
  retrofit explain --house house.json
      The numbers and links of the engineering screen that can be explained.
  retrofit explain sill_anchors --house house.json --wall north
      How demand and capacity of the sill anchors were computed, down to what was measured.
  retrofit explain base-shear --house house.json --direction east-west --standards asce7-10
      The base shear by an older edition; weight, coefficient and shears likewise.
  retrofit explain footing-width --house house.json --wall east
      How the new footing came by its width: load, soil and table, each with its source.
  retrofit explain post-load --house house.json --posts 1
      What comes down on a post, and what its pad and the least post carry.
  retrofit explain lift-step --house house.json --jack C3
      How far a place is lifted, step by step; shoring-load tells what comes down on a support.";

/// A direction of shaking.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum DirectionArg {
    /// Along walls that run east and west
    EastWest,
    /// Along walls that run north and south
    NorthSouth,
}

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
        if let Some(house) = &self.house {
            let text = match &self.name {
                Some(name) if explainable_of_plan().any(|(number, _, _)| number == name) => {
                    self.of_plan(house, name)?
                }
                _ => self.of_screen(house)?,
            };
            console.say(&text)?;
            return Ok(Status::Done);
        }
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

/// The most columns of a line of a derivation.
const COLUMNS: usize = 110;

impl Explain {
    /// A number of the screen of a house, or the list of them.
    fn of_screen(&self, house: &Path) -> Result<String, Failure> {
        let lists: Vec<String> = self.standards.iter().cloned().collect();
        let standards = self.how.standards(&lists)?;
        let Some(standards) = standards.first() else {
            return Err(Failure::Internal("the screen"));
        };
        let file = read_house(&Origin::from(house))?;
        let report = self.how.screen(&file, standards)?;
        let Some(name) = &self.name else {
            return match self.format {
                Format::Text => Ok(numbers(&report)),
                Format::Json => as_json(
                    &explainable(&report)
                        .into_iter()
                        .chain(explainable_of_plan())
                        .map(Number::of)
                        .collect::<Vec<_>>(),
                ),
            };
        };
        let asked = Asked {
            name: name.clone(),
            wall: self.wall.clone(),
            direction: self.direction.map(|direction| match direction {
                DirectionArg::EastWest => Direction::EastWest,
                DirectionArg::NorthSouth => Direction::NorthSouth,
            }),
        };
        let explanation = explain(&report, &asked).map_err(|error| match (error, nearest_of_plan(name)) {
            (ExplainError::Name { found, hint }, Some(near)) if !hint.contains("did you mean") => {
                ExplainError::Name {
                    found,
                    hint: format!("; did you mean {near:?}?"),
                }
            }
            (error, _) => error,
        })?;
        match self.format {
            Format::Text => Ok(explanation.text(COLUMNS)),
            Format::Json => as_json(&explanation),
        }
    }
}

impl Explain {
    /// A number of the foundation plan of a house.
    fn of_plan(&self, house: &Path, name: &str) -> Result<String, Failure> {
        let provisions = self.provisions.one_set()?;
        let tables = PlanTables::with_folders(&self.how.folders()?).map_err(Failure::Tables)?;
        let figures = tables
            .figures()
            .map_err(|faults| Failure::Tables(faults.to_vec()))?;
        let settings = PlanSettings::of(&figures);
        let file = read_house(&Origin::from(house))?;
        let plan = FoundationPlan::of(
            &file.house,
            &figures,
            &provisions,
            UnitPrices::placeholder(),
            &settings,
        );
        let asked = AskedOfPlan {
            name: name.to_owned(),
            wall: self.wall.clone(),
            posts: self.posts,
            jack: self.jack.clone(),
        };
        let explanation =
            explain_plan(&file.house, &plan, &asked).map_err(|error| Failure::Usage(error.to_string()))?;
        match self.format {
            Format::Text => Ok(told(&explanation)),
            Format::Json => as_json(&explanation),
        }
    }
}

/// A derivation of a plan, step by step.
fn told(explanation: &PlanExplanation) -> String {
    let mut page = Page::default();
    page.line(format_args!("{}", explanation.house));
    page.line(format_args!("{}", explanation.title));
    for step in &explanation.steps {
        page.heading(&format!("{}: {}", step.what, step.value));
        if !step.how.is_empty() {
            page.paragraph(2, &step.how);
        }
        let from = match (step.source.as_str(), step.standing) {
            ("", "") => continue,
            ("", standing) => standing.to_owned(),
            (source, standing) => format!("{source} ({standing})"),
        };
        page.paragraph(2, &format!("From: {from}"));
    }
    page.into_text()
}

/// A number of a screen in one line of a list.
#[derive(Debug, Serialize)]
struct Number {
    name: &'static str,
    title: &'static str,
    with: &'static str,
}

impl Number {
    const fn of((name, title, with): (&'static str, &'static str, &'static str)) -> Self {
        Self { name, title, with }
    }
}

fn numbers(report: &ScreenReport) -> String {
    let mut page = Page::default();
    page.line(format_args!("{}", report.house));
    page.line(format_args!(""));
    if report.found.is_none() {
        page.paragraph(0, &report.standing.meaning);
        plan_numbers(&mut page);
        return page.into_text();
    }
    for (name, words, with) in explainable(report) {
        let with = if with.is_empty() {
            String::new()
        } else {
            format!(" (with {with})")
        };
        page.line(format_args!("  {name:22}  {words}{with}"));
    }
    plan_numbers(&mut page);
    page.line(format_args!(""));
    if let Some(found) = &report.found {
        let lines: Vec<&str> = found.lines.iter().map(|line| line.name.as_str()).collect();
        page.paragraph(0, &format!("Wall lines: {}", lines.join(", ")));
    }
    page.into_text()
}

fn plan_numbers(page: &mut Page) {
    page.heading("Of the foundation plan:");
    for (name, words, with) in explainable_of_plan() {
        page.line(format_args!("  {name:22}  {words} (with {with})"));
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
