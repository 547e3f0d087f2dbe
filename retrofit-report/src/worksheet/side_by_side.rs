//! The work on one house by several sets of provisions, side by side: what each of them adds.

use schemars::JsonSchema;
use serde::Serialize;

use super::Worksheet;

/// The version of the format.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum Format {
    /// The first published format of worksheets side by side.
    #[default]
    #[serde(rename = "worksheets-1")]
    Worksheets1,
}

/// Several worksheets of one house side by side.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Permit worksheets side by side")]
pub struct SideBySide {
    /// The version of this format: always `worksheets-1`.
    pub format: Format,
    /// The name of the house.
    pub house: String,
    /// The sets of provisions.
    pub sets: Vec<BySet>,
    /// The wall lines, each with what every set adds.
    pub wall_lines: Vec<Added>,
    /// The worksheet of each set, in full.
    pub worksheets: Vec<Worksheet>,
    /// To whom the reader has to turn.
    pub deferral: String,
}

/// What one set comes to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BySet {
    /// The name by which the set is chosen.
    pub id: String,
    /// Its title.
    pub title: String,
    /// The answer in a sentence.
    pub answer: String,
    /// What the work likely costs.
    pub cost: String,
}

/// What the sets add along one wall line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Added {
    /// The wall line.
    pub wall_line: String,
    /// What each set adds, in the order of the sets.
    pub by_set: Vec<String>,
    /// Whether they do not all add the same.
    pub differ: bool,
}

impl SideBySide {
    /// Puts worksheets of one house side by side.
    pub fn new(worksheets: Vec<Worksheet>) -> Self {
        let first = worksheets.first();
        let lines = first.map(|first| first.wall_lines.as_slice()).unwrap_or_default();
        let wall_lines = lines
            .iter()
            .enumerate()
            .map(|(place, line)| {
                let of_set =
                    |worksheet: &Worksheet| worksheet.wall_lines.get(place).map(|line| line.summary.clone());
                let by_set: Vec<String> = worksheets.iter().filter_map(of_set).collect();
                Added {
                    wall_line: line.name.clone(),
                    differ: by_set.iter().any(|work| Some(work) != by_set.first()),
                    by_set,
                }
            })
            .collect();
        Self {
            format: Format::Worksheets1,
            house: first.map(|first| first.house.clone()).unwrap_or_default(),
            sets: worksheets
                .iter()
                .map(|worksheet| BySet {
                    id: worksheet.provisions.id.clone(),
                    title: worksheet.provisions.title.clone(),
                    answer: worksheet.answer.clone(),
                    cost: worksheet.cost.likely.clone(),
                })
                .collect(),
            wall_lines,
            deferral: first.map(|first| first.deferral.clone()).unwrap_or_default(),
            worksheets,
        }
    }
}
