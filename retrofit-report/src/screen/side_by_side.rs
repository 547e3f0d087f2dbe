//! The screens of one house by several editions, side by side.

use std::fmt;

use schemars::JsonSchema;
use serde::Serialize;

use super::{PathState, ScreenReport, Shown};

/// The version of the format.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum ScreensFormat {
    /// The first published format.
    #[default]
    #[serde(rename = "screens-1")]
    Screens1,
}

/// The screens of one house by several editions: what each says, and where they differ.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Engineering screens of a house by several editions")]
pub struct ScreensReport {
    /// The version of this format: always `screens-1`.
    pub format: ScreensFormat,
    /// The name of the house.
    pub house: String,
    /// What it is, and what it is not.
    pub title: &'static str,
    /// What they come to, in a sentence.
    pub answer: String,
    /// The names of the columns: the editions in which they differ.
    pub columns: Vec<String>,
    /// How the path of the house stands by each.
    pub headlines: Vec<String>,
    /// Shaking, weight and base shears by each.
    pub numbers: Vec<ComparedNumber>,
    /// The wall lines by each.
    pub lines: Vec<ComparedLine>,
    /// The screens themselves.
    pub screens: Vec<ScreenReport>,
    /// To whom the reader has to turn.
    pub deferral: &'static str,
}

/// One number by each.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ComparedNumber {
    /// What it is.
    pub what: String,
    /// The number by each, for a reader.
    pub by: Vec<String>,
    /// Whether they differ.
    pub differ: bool,
}

/// One wall line by each.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ComparedLine {
    /// Its number in the report.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// How its path stands by each; null where the house is not screened by it.
    pub paths: Vec<Option<PathState>>,
    /// The same in words.
    pub path_words: Vec<String>,
    /// Its weakest link by each, in words; empty where none is.
    pub weakest: Vec<String>,
    /// Its links: demand over capacity by each.
    pub links: Vec<ComparedLink>,
    /// Whether paths or weakest links differ.
    pub differ: bool,
}

/// One link by each.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ComparedLink {
    /// The link in words.
    pub title: String,
    /// Demand over capacity by each, for a reader.
    pub ratios: Vec<String>,
    /// Whether they differ.
    pub differ: bool,
}

fn differ<T: PartialEq>(values: &[T]) -> bool {
    values.windows(2).any(|pair| matches!(pair, [a, b] if a != b))
}

impl ScreensReport {
    /// Sets screens of one house side by side.
    pub fn new(screens: Vec<ScreenReport>) -> Self {
        let columns = columns(&screens);
        let headlines: Vec<String> = screens
            .iter()
            .map(|screen| screen.standing.headline.clone())
            .collect();
        let lines = lines(&screens);
        let differing = lines.iter().filter(|line| line.differ).count();
        let answer = if differ(&headlines) {
            "The editions come to different standings of the load path.".to_owned()
        } else {
            let headline = headlines.first().map_or("", String::as_str);
            let where_they_differ = match differing {
                0 => "No wall line stands otherwise by one than by another.".to_owned(),
                1 => {
                    "One wall line stands otherwise by one than by another, or over another link.".to_owned()
                }
                count => format!(
                    "{count} wall lines stand otherwise by one than by another, or over another link."
                ),
            };
            format!("By each edition: {}. {where_they_differ}", lower(headline))
        };
        Self {
            format: ScreensFormat::Screens1,
            house: screens
                .first()
                .map_or_else(String::new, |screen| screen.house.clone()),
            title: super::words::TITLE,
            answer,
            columns,
            numbers: numbers(&screens),
            lines,
            headlines,
            deferral: super::words::DEFERRAL,
            screens,
        }
    }
}

fn lower(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}

/// The editions that not all have in common; where they have all in common, their places.
fn columns(screens: &[ScreenReport]) -> Vec<String> {
    let is_common = |id: &str| {
        screens
            .iter()
            .all(|other| other.editions.iter().any(|edition| edition.id == id))
    };
    screens
        .iter()
        .enumerate()
        .map(|(place, screen)| {
            let own: Vec<&str> = screen
                .editions
                .iter()
                .filter(|edition| !is_common(&edition.id))
                .map(|edition| edition.name.as_str())
                .collect();
            if own.is_empty() {
                format!("Editions {}", place + 1)
            } else {
                own.join(", ")
            }
        })
        .collect()
}

fn numbers(screens: &[ScreenReport]) -> Vec<ComparedNumber> {
    const NOT_COMPUTED: &str = "not computed";
    let mut numbers: Vec<ComparedNumber> = Vec::new();
    let mut add = |what: String, of: &dyn Fn(&super::Found) -> Option<String>| {
        let by: Vec<String> = screens
            .iter()
            .map(|screen| {
                let shown = screen.found.as_ref().and_then(of);
                shown.unwrap_or_else(|| NOT_COMPUTED.to_owned())
            })
            .collect();
        if by.iter().any(|shown| shown != NOT_COMPUTED) {
            numbers.push(ComparedNumber {
                what,
                differ: differ(&by),
                by,
            });
        }
    };
    let text = |shown: &Shown| shown.amount.shown.clone();
    add("Design acceleration".to_owned(), &|found| {
        found.shaking.as_ref().map(text)
    });
    add("Weight".to_owned(), &|found| Some(text(&found.weight)));
    for place in 0..2 {
        let direction = screens
            .iter()
            .find_map(|screen| screen.found.as_ref()?.directions.get(place))
            .map_or("", |direction| direction.direction);
        let of = |name: &dyn fmt::Display| format!("{name}, {direction}");
        add(of(&"Seismic response coefficient"), &|found| {
            found
                .directions
                .get(place)
                .map(|direction| text(&direction.coefficient))
        });
        add(of(&"Base shear"), &|found| {
            found
                .directions
                .get(place)
                .map(|direction| text(&direction.base_shear))
        });
        add(of(&"Base shear, simplified procedure"), &|found| {
            found.directions.get(place)?.simplified.as_ref().map(text)
        });
    }
    numbers
}

fn lines(screens: &[ScreenReport]) -> Vec<ComparedLine> {
    let Some(first) = screens.iter().find_map(|screen| screen.found.as_ref()) else {
        return Vec::new();
    };
    first
        .lines
        .iter()
        .map(|line| {
            let same: Vec<Option<&super::LinePart>> = screens
                .iter()
                .map(|screen| {
                    let lines = &screen.found.as_ref()?.lines;
                    lines.iter().find(|other| other.number == line.number)
                })
                .collect();
            let paths: Vec<Option<PathState>> = same.iter().map(|line| line.map(|line| line.path)).collect();
            let weakest: Vec<String> = same
                .iter()
                .map(|line| {
                    line.and_then(|line| line.links.iter().find(|link| Some(link.link) == line.weakest))
                        .map_or_else(String::new, |link| link.title.clone())
                })
                .collect();
            let links = line
                .links
                .iter()
                .map(|link| {
                    let ratios: Vec<String> = same
                        .iter()
                        .map(|line| {
                            line.and_then(|line| line.links.iter().find(|other| other.link == link.link))
                                .map_or_else(|| "not computed".to_owned(), super::LinkRow::ratio_words)
                        })
                        .collect();
                    ComparedLink {
                        title: link.title.clone(),
                        differ: differ(&ratios),
                        ratios,
                    }
                })
                .collect();
            ComparedLine {
                number: line.number,
                name: line.name.clone(),
                path_words: paths
                    .iter()
                    .map(|path| path.map_or("not screened", PathState::words).to_owned())
                    .collect(),
                differ: differ(&paths) || differ(&weakest),
                paths,
                weakest,
                links,
            }
        })
        .collect()
}
