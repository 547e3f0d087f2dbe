//! One number of a screen with everything behind it, for a terminal or a machine.

use std::fmt::Write;

use retrofit_core::choice::{Choice, nearest};
use retrofit_core::screen::{Direction, LinkKind};
use schemars::JsonSchema;
use serde::Serialize;
use thiserror::Error;

use super::working::WorkLine;
use super::{Found, LinePart, LinkRow, LinkState, ScreenReport, Shown, spelled};

/// Which number is asked for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// The name of the number or the link.
    pub name: String,
    /// The wall line, where there are several of it.
    pub wall: Option<String>,
    /// The direction, where there are two of it.
    pub direction: Option<Direction>,
}

/// Numbers of a screen that are no links, each with what it is.
const NUMBERS: [(&str, &str, Of); 10] = [
    ("shaking", "design acceleration of the site", Of::House),
    ("weight", "weight of the house", Of::House),
    ("coefficient", "seismic response coefficient", Of::Direction),
    (
        "base-shear",
        "base shear, equivalent lateral force procedure",
        Of::Direction,
    ),
    (
        "simplified-base-shear",
        "base shear, simplified procedure",
        Of::Direction,
    ),
    ("flexible-shear", "shear of a wall line by area", Of::Line),
    ("rigid-shear", "shear of a wall line by stiffness", Of::Line),
    ("shear", "shear of a wall line, the greater of the two", Of::Line),
    (
        "factored-shear",
        "shear that every link of a wall line has to carry",
        Of::Line,
    ),
    (
        "uplift",
        "uplift at the end of the worst panel of a wall line",
        Of::Line,
    ),
];

/// What a number is of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Of {
    House,
    Direction,
    Line,
}

/// Why a number cannot be explained.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ExplainError {
    /// The house is not screened.
    #[error("{0}")]
    Declined(String),
    /// There is no number of this name.
    #[error("found {found:?}; expected a number or a link of the screen{hint}")]
    Name {
        /// What was asked for.
        found: String,
        /// The nearest name.
        hint: String,
    },
    /// A wall line has to be named.
    #[error("{name} is computed for each wall line; name one with --wall: {lines}")]
    Wall {
        /// The number.
        name: String,
        /// The wall lines.
        lines: String,
    },
    /// There is no wall line of this name.
    #[error("found the wall line {found:?}; expected one of {lines}")]
    NoWall {
        /// What was asked for.
        found: String,
        /// The wall lines.
        lines: String,
    },
    /// A direction has to be named.
    #[error("{name} is computed for each direction; name one with --direction: east-west or north-south")]
    Direction {
        /// The number.
        name: String,
    },
    /// The number is not one of that wall line or direction.
    #[error("{name} is not computed for {instead}; leave {option} out")]
    NotOf {
        /// The number.
        name: String,
        /// What was named in vain.
        instead: &'static str,
        /// The option.
        option: &'static str,
    },
    /// The number was not computed.
    #[error("{title}: {why}")]
    NotComputed {
        /// The number.
        title: String,
        /// Why.
        why: String,
    },
}

/// A number with everything behind it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Derivation of a number of a screen")]
pub struct Explanation {
    /// The name of the house.
    pub house: String,
    /// What the number is.
    pub title: String,
    /// The lines it rests on, each after those it uses; the number itself is the last.
    pub lines: Vec<WorkLine>,
}

/// The names of everything that can be explained: of each, what it is and what has to be named with it.
pub fn explainable(report: &ScreenReport) -> Vec<(&'static str, &'static str, &'static str)> {
    let of = |of| match of {
        Of::House => "",
        Of::Direction => "--direction",
        Of::Line => "--wall",
    };
    let mut all: Vec<_> = NUMBERS
        .iter()
        .filter(|(name, _, _)| {
            *name != "shaking" || report.found.as_ref().is_some_and(|found| found.shaking.is_some())
        })
        .map(|(name, words, what)| (*name, *words, of(*what)))
        .collect();
    all.extend(
        LinkKind::ALL
            .iter()
            .map(|kind| (kind.spelling(), kind.words(), of(of_kind(*kind)))),
    );
    all
}

/// Looks a number up and gathers everything behind it.
pub fn explain(report: &ScreenReport, asked: &Asked) -> Result<Explanation, ExplainError> {
    let Some(found) = &report.found else {
        return Err(ExplainError::Declined(report.standing.meaning.clone()));
    };
    let (title, place) = find(found, asked)?;
    let place = place.ok_or_else(|| ExplainError::NotComputed {
        title: title.clone(),
        why: "it has no derivation, because it is none of the numbers that were computed".to_owned(),
    })?;
    Ok(Explanation {
        house: report.house.clone(),
        title,
        lines: behind(&found.derivations, place),
    })
}

/// What a name stands for.
#[derive(Clone, Copy)]
enum Target {
    /// A number, by its name here, and its words.
    Number(&'static str, &'static str),
    /// A link.
    Link(LinkKind),
}

impl Target {
    /// The number or link of a name, in whichever spelling of its parts, and what it is of.
    fn named(name: &str) -> Result<(Self, Of), ExplainError> {
        let alike = |other: &str| other.replace('_', "-") == name.replace('_', "-");
        if let Some((name, words, of)) = NUMBERS.iter().find(|(other, _, _)| alike(other)) {
            return Ok((Self::Number(name, words), *of));
        }
        if let Some(kind) = LinkKind::ALL.iter().find(|kind| alike(kind.spelling())) {
            return Ok((Self::Link(*kind), of_kind(*kind)));
        }
        let numbers = NUMBERS.iter().map(|(name, _, _)| *name);
        let links = LinkKind::ALL.iter().map(|kind| kind.spelling());
        let hint = nearest(name, numbers.chain(links)).map_or_else(
            || " (`retrofit explain --house FILE` lists them)".to_owned(),
            |near| format!("; did you mean {near:?}?"),
        );
        Err(ExplainError::Name {
            found: name.chars().take(60).collect(),
            hint,
        })
    }
}

/// What a link is of.
const fn of_kind(kind: LinkKind) -> Of {
    match kind {
        LinkKind::Sliding => Of::Direction,
        LinkKind::Posts | LinkKind::Pads | LinkKind::PostUplift => Of::House,
        _ => Of::Line,
    }
}

type Place = (String, Option<usize>);

fn find(found: &Found, asked: &Asked) -> Result<Place, ExplainError> {
    let name = asked.name.trim();
    let (target, of) = Target::named(name)?;
    let not_of = |instead, option| {
        Err(ExplainError::NotOf {
            name: name.to_owned(),
            instead,
            option,
        })
    };
    if asked.wall.is_some() && of != Of::Line {
        return not_of("one wall line", "--wall");
    }
    if asked.direction.is_some() && of != Of::Direction {
        return not_of("one direction", "--direction");
    }
    match of {
        Of::House => of_house(found, target),
        Of::Direction => {
            let direction = asked.direction.ok_or_else(|| ExplainError::Direction {
                name: name.to_owned(),
            })?;
            of_direction(found, target, direction)
        }
        Of::Line => of_line(found, target, name, asked.wall.as_deref()),
    }
}

fn of_house(found: &Found, target: Target) -> Result<Place, ExplainError> {
    match target {
        Target::Link(kind) => {
            let row = found.of_house.iter().find(|row| row.link == kind.spelling());
            of_link(row, kind.words(), "")
        }
        Target::Number("shaking", words) => match &found.shaking {
            Some(shaking) => of_shown(Some(shaking), words, ""),
            None => Err(ExplainError::NotComputed {
                title: titled(words, ""),
                why: found.shaking_unknown.clone(),
            }),
        },
        Target::Number(_, words) => of_shown(Some(&found.weight), words, ""),
    }
}

fn of_direction(found: &Found, target: Target, direction: Direction) -> Result<Place, ExplainError> {
    let of = spelled(direction);
    match target {
        Target::Link(kind) => {
            let mut rows = found.of_house.iter().filter(|row| row.link == kind.spelling());
            of_link(rows.nth(direction as usize), kind.words(), of)
        }
        Target::Number(name, words) => {
            let row = found
                .directions
                .iter()
                .find(|row| row.direction == direction.words());
            let shown = row.and_then(|row| match name {
                "coefficient" => Some(&row.coefficient),
                "base-shear" => Some(&row.base_shear),
                _ => row.simplified.as_ref(),
            });
            of_shown(shown, words, of)
        }
    }
}

fn of_line(found: &Found, target: Target, name: &str, wall: Option<&str>) -> Result<Place, ExplainError> {
    let names = || {
        let names: Vec<&str> = found.lines.iter().map(|line| line.name.as_str()).collect();
        names.join(", ")
    };
    let wall = wall.ok_or_else(|| ExplainError::Wall {
        name: name.to_owned(),
        lines: names(),
    })?;
    let exactly = found.lines.iter().find(|line| line.name == wall);
    let part = exactly
        .or_else(|| {
            let alike = |line: &&LinePart| line.name.eq_ignore_ascii_case(wall.trim());
            found.lines.iter().find(alike)
        })
        .ok_or_else(|| ExplainError::NoWall {
            found: wall.chars().take(60).collect(),
            lines: names(),
        })?;
    match target {
        Target::Link(kind) => {
            let row = part.links.iter().find(|row| row.link == kind.spelling());
            of_link(row, kind.words(), &part.name)
        }
        Target::Number(name, words) => {
            let shown = match name {
                "flexible-shear" => Some(&part.flexible),
                "rigid-shear" => part.rigid.as_ref(),
                "shear" => Some(&part.envelope),
                "uplift" => part.uplift.as_ref(),
                _ => Some(&part.factored),
            };
            of_shown(shown, words, &part.name)
        }
    }
}

fn titled(words: &str, of: &str) -> String {
    let words = super::title(words);
    if of.is_empty() {
        words
    } else {
        format!("{words}: {of}")
    }
}

fn of_link(row: Option<&LinkRow>, words: &str, of: &str) -> Result<Place, ExplainError> {
    let title = titled(words, of);
    match row {
        Some(row) if row.state == LinkState::Computed => Ok((title, row.work)),
        Some(row) => Err(ExplainError::NotComputed {
            title,
            why: match row.state {
                LinkState::NoCapacity => format!("no capacity: {}", row.why),
                LinkState::NotApplicable => format!("no part in the path: {}", row.why),
                LinkState::NotDetermined | LinkState::Computed => format!("not determined: {}", row.why),
            },
        }),
        None => Err(ExplainError::NotComputed {
            title,
            why: "it is not computed for this house".to_owned(),
        }),
    }
}

fn of_shown(shown: Option<&Shown>, words: &str, of: &str) -> Result<Place, ExplainError> {
    let title = titled(words, of);
    match shown {
        Some(shown) => Ok((title, shown.work)),
        None => Err(ExplainError::NotComputed {
            title,
            why: "it was not computed: something that it takes is not on record, or the procedure does not apply"
                .to_owned(),
        }),
    }
}

/// A line and everything it rests on, renumbered, the line itself last.
fn behind(lines: &[WorkLine], place: usize) -> Vec<WorkLine> {
    let mut is_needed = vec![false; lines.len()];
    let mut open = vec![place];
    while let Some(place) = open.pop() {
        if let (Some(needed @ false), Some(line)) = (is_needed.get_mut(place), lines.get(place)) {
            *needed = true;
            open.extend(&line.inputs);
        }
    }
    let mut moved: Vec<usize> = Vec::with_capacity(lines.len());
    let mut count = 0;
    for needed in &is_needed {
        moved.push(count);
        count += usize::from(*needed);
    }
    lines
        .iter()
        .zip(&is_needed)
        .filter(|(_, needed)| **needed)
        .map(|(line, _)| {
            let mut line = line.clone();
            for input in &mut line.inputs {
                *input = moved.get(*input).copied().unwrap_or(usize::MAX);
            }
            line
        })
        .collect()
}

impl Explanation {
    /// The derivation as an indented tree, from the number down to what was measured; what stands above is not
    /// written again.
    pub fn text(&self, columns: usize) -> String {
        let mut tree = Tree {
            lines: &self.lines,
            written: vec![false; self.lines.len()],
            columns,
            text: format!("{}\n{}\n\n", self.house, self.title),
        };
        if let Some(last) = self.lines.len().checked_sub(1) {
            let symbol = self.lines.get(last).map_or("", |line| line.symbol.as_str());
            tree.add(last, symbol, 0);
        }
        tree.text
    }
}

struct Tree<'a> {
    lines: &'a [WorkLine],
    written: Vec<bool>,
    columns: usize,
    text: String,
}

impl Tree<'_> {
    fn add(&mut self, place: usize, name: &str, depth: usize) {
        let lines = self.lines;
        let Some(line) = lines.get(place) else {
            return;
        };
        let head = if name.is_empty() {
            line.value.shown.clone()
        } else {
            format!("{name} = {}", line.value.shown)
        };
        let Some(equation) = &line.equation else {
            self.paragraph(
                depth,
                &format!("{head}: {} ({})", line.title(), line.source.words()),
            );
            return;
        };
        let is_written = self.written.get(place).copied().unwrap_or(false);
        if is_written {
            self.paragraph(depth, &format!("{head}: {} (worked above)", line.title()));
            return;
        }
        if let Some(written) = self.written.get_mut(place) {
            *written = true;
        }
        self.paragraph(depth, &format!("{head}: {}", line.title()));
        self.paragraph(depth + 2, &format!("= {equation}"));
        if let Some(numbers) = &line.numbers {
            self.paragraph(depth + 2, &format!("= {numbers}"));
        }
        let words = line.source.words();
        if !words.is_empty() {
            self.paragraph(depth + 2, &format!("[{words}]"));
        }
        for (input, name) in line.input_names(lines) {
            self.add(input, &name, depth + 2);
        }
    }

    /// A text broken between words; lines after the first stand a little further in.
    fn paragraph(&mut self, indent: usize, text: &str) {
        // However deep the tree, some words have to fit on a line.
        let room = self.columns.saturating_sub(indent).max(40);
        let mut width = 0;
        let _ = write!(self.text, "{:indent$}", "");
        for word in text.split(' ') {
            let columns = unicode_width::UnicodeWidthStr::width(word);
            if width > 0 && width + 1 + columns > room {
                let _ = write!(self.text, "\n{:1$}", "", indent + 4);
                width = 4;
            } else if width > 0 {
                self.text.push(' ');
                width += 1;
            }
            self.text.push_str(word);
            width += columns;
        }
        self.text.push('\n');
    }
}
