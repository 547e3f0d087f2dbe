//! A page as its parts: headings, words, lists, tables and drawings, from which every format for a reader is rendered.
//!
//! A report whose sections differ from house to house puts itself together as a [`Document`]; web page, Markdown and
//! terminal then show the same words in the same order. Nothing is computed here.

use retrofit_core::check::Ruling;
use serde::{Serialize, Serializer};

use crate::drawing::Sheet;
use crate::result::ReportInfo;

/// A page.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Document {
    /// What the page is, and what it is not.
    pub kind: String,
    /// The name of the house.
    pub house: String,
    /// Facts under the name, each with its label.
    pub head: Vec<(String, String)>,
    /// The answer.
    pub answer: Answer,
    /// What a reader must know before anything else.
    pub warnings: Vec<String>,
    /// To whom the reader has to turn.
    pub deferral: &'static str,
    /// What follows the answer.
    pub sections: Vec<Section>,
    /// How it was come by, at the foot of the page.
    pub method: String,
    /// The version of the program that wrote it.
    pub program_version: String,
    /// The name of the input file.
    pub input_file: String,
    /// The fingerprint of the input, in hexadecimal digits.
    pub input_fingerprint: String,
    /// What that was taken by.
    pub fingerprint_by: String,
}

/// The answer of a page.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Answer {
    /// The ruling with whose mark and color it is shown.
    pub mark: Ruling,
    /// The answer in a few words.
    pub headline: String,
    /// What it means for the reader.
    pub meaning: String,
}

/// A section of a page.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Section {
    /// Its name in a link.
    pub id: &'static str,
    /// Its heading.
    pub heading: String,
    /// What stands in it.
    pub parts: Vec<Part>,
}

/// One part of a section.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "part", rename_all = "snake_case")]
pub enum Part {
    /// A heading within the section.
    Heading {
        /// Its words.
        words: String,
    },
    /// A paragraph.
    Words {
        /// Its words.
        words: String,
    },
    /// Words that stand out.
    Warning {
        /// Its words.
        words: String,
    },
    /// A list.
    List {
        /// Its items.
        items: Vec<String>,
    },
    /// A table.
    Table(FilledTable),
    /// A drawing.
    Drawing(Drawing),
    /// A chart in the colors of the page; what it shows stands in a table too.
    Chart {
        /// What it shows.
        caption: String,
        /// The picture.
        svg: String,
        /// What its marks stand for: each as a picture, with its words.
        key: Vec<(String, &'static str)>,
    },
}

impl Part {
    /// A heading within the section.
    pub fn heading(words: impl Into<String>) -> Self {
        Self::Heading { words: words.into() }
    }

    /// A paragraph.
    pub fn words(words: impl Into<String>) -> Self {
        Self::Words { words: words.into() }
    }

    /// Words that stand out.
    pub fn warning(words: impl Into<String>) -> Self {
        Self::Warning { words: words.into() }
    }

    /// A drawing, with what it shows as its caption.
    pub fn drawing(sheet: Sheet) -> Self {
        Self::Drawing(Drawing {
            caption: sheet.description.clone(),
            sheet,
        })
    }

    /// A list.
    pub fn list(items: impl IntoIterator<Item = String>) -> Self {
        Self::List {
            items: items.into_iter().collect(),
        }
    }
}

/// A drawing with its caption.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Drawing {
    /// What it shows.
    pub caption: String,
    /// The picture.
    #[serde(rename = "svg", serialize_with = "as_svg")]
    pub sheet: Sheet,
}

fn as_svg<S: Serializer>(sheet: &Sheet, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(&sheet.to_svg())
}

/// A table that is being filled: as many cells in a row as it has columns. The first cell of a row names the row.
#[derive(Clone, Debug)]
pub struct Table<const COLUMNS: usize> {
    caption: String,
    columns: [&'static str; COLUMNS],
    rows: Vec<[Cell; COLUMNS]>,
}

impl<const COLUMNS: usize> Table<COLUMNS> {
    /// A table without rows.
    pub fn new(caption: impl Into<String>, columns: [&'static str; COLUMNS]) -> Self {
        Self {
            caption: caption.into(),
            columns,
            rows: Vec::new(),
        }
    }

    /// Puts a row at its end.
    pub fn push(&mut self, row: [Cell; COLUMNS]) {
        self.rows.push(row);
    }

    /// The table as a part, unless it has no rows.
    pub fn part(self) -> Option<Part> {
        (!self.rows.is_empty()).then(|| {
            Part::Table(FilledTable {
                caption: self.caption,
                columns: self.columns.into(),
                rows: self.rows.into_iter().map(Vec::from).collect(),
            })
        })
    }
}

/// A table as a page shows it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FilledTable {
    /// What it shows.
    pub caption: String,
    /// The heads of its columns.
    pub columns: Vec<&'static str>,
    /// Its rows, each with as many cells as there are columns.
    pub rows: Vec<Vec<Cell>>,
}

/// A cell of a table.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Cell {
    /// Its words.
    pub words: String,
    /// The ruling with whose mark and color they are shown; null where they are no ruling.
    pub mark: Option<Ruling>,
    /// What stands under them, smaller.
    pub small: String,
    /// The length of a bar beside a number, as a share of the longest; null without one.
    pub bar: Option<f64>,
}

impl Cell {
    /// Words with a ruling's mark and color.
    pub fn ruling(mark: Ruling, words: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            mark: Some(mark),
            small: String::new(),
            bar: None,
        }
    }

    /// The cell with a bar, as long as this share of the longest.
    #[must_use]
    pub fn with_bar(mut self, share: f64) -> Self {
        self.bar = Some(share);
        self
    }

    /// The cell with smaller words under it; an empty cell has these words alone.
    #[must_use]
    pub fn under(mut self, small: impl Into<String>) -> Self {
        if self.words.is_empty() {
            self.words = small.into();
        } else {
            self.small = small.into();
        }
        self
    }
}

impl<T: Into<String>> From<T> for Cell {
    fn from(words: T) -> Self {
        Self {
            words: words.into(),
            mark: None,
            small: String::new(),
            bar: None,
        }
    }
}

impl Document {
    /// A page that holds its answer and no sections yet.
    pub fn new(kind: &str, house: &str, answer: Answer, deferral: &'static str, info: &ReportInfo) -> Self {
        Self {
            kind: kind.to_owned(),
            house: house.to_owned(),
            head: Vec::new(),
            answer,
            warnings: Vec::new(),
            deferral,
            sections: Vec::new(),
            method: String::new(),
            program_version: info.program_version.clone(),
            input_file: info.input_file.clone(),
            input_fingerprint: info.input_sha256.clone(),
            fingerprint_by: "SHA-256".to_owned(),
        }
    }

    /// Puts a section at the end, unless nothing stands in it.
    pub fn section(&mut self, id: &'static str, heading: &str, parts: impl IntoIterator<Item = Part>) {
        let parts: Vec<Part> = parts.into_iter().collect();
        if !parts.is_empty() {
            self.sections.push(Section {
                id,
                heading: heading.to_owned(),
                parts,
            });
        }
    }

    /// The drawings, in the order of the page.
    pub fn drawings(&self) -> impl Iterator<Item = &Sheet> {
        let parts = self.sections.iter().flat_map(|section| &section.parts);
        parts.filter_map(|part| match part {
            Part::Drawing(drawing) => Some(&drawing.sheet),
            _ => None,
        })
    }
}
