//! A standard as data: its edition, and its figures with source and standing.
//!
//! A folder of `tables/standards` holds one edition of one standard: `edition.json`, `figures.csv` and `sources.csv`.
//! The equations stand in one file of code for each standard; an edition is a value that is passed in.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::marker::PhantomData;
use std::sync::Arc;

use serde::Deserialize;
use typenum::Integer;

use super::number::{Given, Ledger, Origin};
use super::quantity::Quantity;
use super::unit::{TypedUnit, Unit};
use crate::by_name::by_name;
use crate::provisions::Standing;
use crate::table::{TableError, TableFile, each_row};

/// An equation of a standard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Equation {
    /// The symbol of its result.
    pub symbol: &'static str,
    /// What its result is, in words.
    pub words: &'static str,
    /// The unit its result is shown in.
    pub unit: Unit,
    /// Section and equation, as the latest edition known here numbers them.
    pub section: &'static str,
    /// How well the equation was seen.
    pub standing: Standing,
}

/// One edition of a standard.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Edition {
    /// The name by which it is chosen: the name of its folder.
    pub id: String,
    /// Which standard it is an edition of.
    pub standard: StandardName,
    /// The document, for a reader.
    pub document: String,
    /// The edition, for a reader.
    pub edition: String,
    /// The edition that has taken its place, if one has.
    #[serde(default)]
    pub superseded_by: Option<String>,
    /// Whether it is taken where no edition is chosen.
    #[serde(default)]
    pub default: bool,
    /// How this edition numbers a section that the equations name otherwise.
    #[serde(default)]
    pub sections: BTreeMap<String, String>,
    /// Notes for the reader.
    #[serde(default)]
    pub notes: Vec<String>,
}

impl Edition {
    /// The document with its edition.
    pub fn name(&self) -> String {
        format!("{}{}", self.document, self.edition)
    }

    /// A section as this edition numbers it.
    pub fn section<'a>(&'a self, section: &'a str) -> &'a str {
        self.sections.get(section).map_or(section, String::as_str)
    }
}

/// The standards that the screen computes by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StandardName {
    /// Seismic loads: ASCE 7.
    #[default]
    SeismicLoads,
    /// Wood shear walls: SDPWS.
    ShearWalls,
    /// Wood members and connections: NDS.
    WoodConnections,
    /// Concrete and anchors in it: ACI 318.
    Concrete,
    /// Soil and footings: IBC chapter 18.
    Soil,
    /// Sizes of new footings, stem walls and their bars: chapter 4 of the residential code.
    Footings,
    /// Weights of materials.
    DeadLoads,
    /// Existing buildings: reduced forces, existing materials, and what may be assumed where nothing was seen.
    ExistingBuildings,
    /// Bays, cure and crews of foundation work.
    FoundationSequence,
    /// Swell, weights and containers of earthwork and concrete.
    Earthwork,
    /// Temporary support and lifting; no part of the screen.
    Shoring,
}

/// A figure of a standard, or the two ends of what it can be.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure<F, L> {
    /// Its value, or its least value, in pounds and inches.
    pub low: f64,
    /// Its value, or its greatest value, in pounds and inches.
    pub high: f64,
    /// The unit the table gives it in.
    pub unit: Unit,
    /// The document it was read in.
    pub document: Arc<str>,
    /// Section or table.
    pub section: Arc<str>,
    /// How well it was seen.
    pub standing: Standing,
    /// A note for the reader.
    pub note: Arc<str>,
    dimension: PhantomData<(F, L)>,
}

impl<F, L> Figure<F, L> {
    /// The figure as an input of a calculation; of a range, its low end.
    pub fn given<G: Ledger>(&self, ledger: G, symbol: &str, words: &str) -> Quantity<F, L, G::Number> {
        self.given_as(ledger, symbol, || words.to_owned())
    }

    /// The same, with words that are put together only when somebody reads them.
    pub fn given_as<G: Ledger>(
        &self,
        ledger: G,
        symbol: &str,
        words: impl FnOnce() -> String,
    ) -> Quantity<F, L, G::Number> {
        Quantity::new(ledger.given(self.low, self.standing, None, || Given {
            symbol: symbol.to_owned(),
            words: words(),
            unit: self.unit,
            origin: Origin::Table {
                document: self.document.as_ref().to_owned(),
                section: self.section.as_ref().to_owned(),
                standing: self.standing,
                note: self.note.as_ref().to_owned(),
            },
        }))
    }

    /// Whether it gives a range.
    pub fn is_range(&self) -> bool {
        self.low < self.high
    }

    /// Its value in a unit; of a range, its low end.
    pub fn to(&self, unit: TypedUnit<F, L>) -> f64 {
        self.low / unit.unit().factor()
    }
}

/// Figures by their place in a series.
pub type Series<F, L> = Vec<(f64, Figure<F, L>)>;

/// One row of `figures.csv`.
#[derive(Clone, Debug)]
pub struct Cell {
    /// What the row is about: a site class, a species, a panel.
    pub of: Box<str>,
    /// The place in a series: an acceleration, a nail spacing.
    pub at: Option<f64>,
    line: u64,
    figure: Box<str>,
    /// Low, high, unit; `None` where the document says that the figure takes a study.
    value: Option<(f64, f64, Unit)>,
    document: Arc<str>,
    section: Arc<str>,
    standing: Standing,
    note: Arc<str>,
}

/// The figures of one edition, before a standard makes its own types of them.
#[derive(Debug)]
pub struct StandardTable {
    /// The edition.
    pub edition: Edition,
    file: TableFile,
    cells: Vec<Cell>,
    asked: RefCell<BTreeSet<Box<str>>>,
}

const FIGURE_COLUMNS: [&str; 10] = [
    "figure", "of", "at", "value", "high", "unit", "source", "section", "standing", "note",
];
const SOURCE_COLUMNS: [&str; 7] = [
    "source",
    "document",
    "edition",
    "publisher",
    "where",
    "seen_on",
    "note",
];

/// The word of a cell that gives no figure because the document asks for a study.
const STUDY: &str = "study";
/// The word of an anchor of a range that has no end worth naming.
const LARGEST: f64 = 1e9;

impl Edition {
    /// Reads the head of a folder of this name: its `edition.json`.
    pub(super) fn read(id: &str, head: &TableFile) -> Result<Self, Vec<TableError>> {
        let mut reader = serde_json::Deserializer::from_str(&head.text);
        let edition: Self = by_name(&mut reader)
            .and_then(|edition| reader.end().map(|()| edition))
            .map_err(|error| vec![TableError::file(head, error)])?;
        if edition.id == id {
            return Ok(edition);
        }
        let fault = format!(
            "found the id {:?}; expected {id:?}, the name of the folder",
            edition.id
        );
        Err(vec![TableError::file(head, fault)])
    }
}

impl StandardTable {
    /// Reads the files of a folder; the error lists every fault.
    pub fn read(id: &str, files: &[TableFile]) -> Result<Self, Vec<TableError>> {
        let missing = |name: &str| vec![TableError::set(id, format!("the folder holds no {name}"))];
        let find = |name: &str| files.iter().find(|file| file.name == name);
        let head = find("edition.json").ok_or_else(|| missing("edition.json"))?;
        let file = find("figures.csv").ok_or_else(|| missing("figures.csv"))?;
        let sources = find("sources.csv").ok_or_else(|| missing("sources.csv"))?;
        let edition = Edition::read(id, head)?;
        let mut faults = Vec::new();
        let mut documents: BTreeMap<String, Arc<str>> = BTreeMap::new();
        each_row(sources, &SOURCE_COLUMNS, &mut faults, |row| {
            let document = row.required("document")?;
            let name = match row.get("edition") {
                "" => document.to_owned(),
                edition => format!("{document}, {edition}"),
            };
            documents.insert(row.required("source")?.to_owned(), name.into());
            Ok(())
        });
        let mut cells: Vec<Cell> = Vec::new();
        each_row(file, &FIGURE_COLUMNS, &mut faults, |row| {
            let source = row.required("source")?;
            let document = documents.get(source).ok_or_else(|| {
                row.fault(
                    "source",
                    format!("found {source:?}; expected a key of sources.csv"),
                )
            })?;
            let (unit, factor) = Unit::spelled(row.get("unit")).ok_or_else(|| {
                let signs: Vec<&str> = Unit::ALL.iter().map(|unit| unit.sign()).collect();
                row.fault(
                    "unit",
                    format!("found {:?}; expected one of {}", row.get("unit"), signs.join(" ")),
                )
            })?;
            let at = row.optional("at", number)?;
            let value = match row.required("value")? {
                STUDY => None,
                text => {
                    let low = number(text).map_err(|fault| row.fault("value", fault))?;
                    let high = row.optional("high", number)?.unwrap_or(low);
                    if high < low {
                        return Err(row.fault("high", format!("found {high}, less than the value {low}")));
                    }
                    Some((low * factor, high * factor, unit))
                }
            };
            let cell = Cell {
                figure: row.required("figure")?.into(),
                of: row.get("of").into(),
                at,
                line: row.line,
                value,
                document: Arc::clone(document),
                section: row.get("section").into(),
                standing: Standing::of_row(row)?,
                note: row.get("note").into(),
            };
            let stands_twice = cells
                .iter()
                .any(|other| other.figure == cell.figure && other.of == cell.of && other.at == cell.at);
            if stands_twice {
                return Err(row.fault("figure", "the figure stands twice"));
            }
            cells.push(cell);
            Ok(())
        });
        if !faults.is_empty() {
            return Err(faults);
        }
        Ok(Self {
            edition,
            file: file.clone(),
            cells,
            asked: RefCell::default(),
        })
    }

    /// The figure of this name; an error where there is none, or of another dimension.
    pub fn figure<F: Integer, L: Integer>(&self, figure: &str, of: &str) -> Result<Figure<F, L>, TableError> {
        let cell = self.rows(figure).find(|cell| cell.of.as_ref() == of);
        let cell = cell.ok_or_else(|| {
            TableError::column(
                &self.file,
                "figure",
                format!("found no row {figure:?} for {of:?}; expected one"),
            )
        })?;
        let read = self.read_cell(cell)?;
        read.ok_or_else(|| self.fault(cell, "found \"study\"; expected a number"))
    }

    /// The rows of a figure, in the order of the file.
    pub fn rows(&self, figure: &str) -> impl Iterator<Item = &Cell> {
        self.asked.borrow_mut().insert(figure.into());
        let figure: Box<str> = figure.into();
        self.cells.iter().filter(move |cell| cell.figure == figure)
    }

    /// The rows of a figure that go by a place in a series, in the order of the series.
    pub fn series<F: Integer, L: Integer>(&self, figure: &str, of: &str) -> Result<Series<F, L>, TableError> {
        let mut series = Vec::new();
        for cell in self.rows(figure).filter(|cell| cell.of.as_ref() == of) {
            let at = cell
                .at
                .ok_or_else(|| self.fault(cell, "found nothing in the column at; expected a number"))?;
            if let Some(value) = self.read_cell(cell)? {
                series.push((at, value));
            }
        }
        series.sort_by(|a, b| a.0.total_cmp(&b.0));
        Ok(series)
    }

    /// The figure in a row; `None` where the document asks for a study.
    pub fn read_cell<F: Integer, L: Integer>(&self, cell: &Cell) -> Result<Option<Figure<F, L>>, TableError> {
        let Some((low, high, unit)) = cell.value else {
            return Ok(None);
        };
        if unit.dimension() != (F::I8, L::I8) {
            return Err(self.fault(
                cell,
                format!("found {:?}; expected a unit of another kind", unit.sign()),
            ));
        }
        Ok(Some(Figure {
            low,
            high,
            unit,
            document: Arc::clone(&cell.document),
            section: Arc::clone(&cell.section),
            standing: cell.standing,
            note: Arc::clone(&cell.note),
            dimension: PhantomData,
        }))
    }

    /// A fault in a row.
    pub fn fault(&self, cell: &Cell, fault: impl std::fmt::Display) -> TableError {
        TableError::cell(&self.file, cell.line, "value", fault)
    }

    /// The first row of a figure that was never asked for: a slip of the pen.
    pub fn unread(&self) -> Option<TableError> {
        let asked = self.asked.borrow();
        let cell = self.cells.iter().find(|cell| !asked.contains(&cell.figure))?;
        let names: Vec<&str> = asked.iter().map(AsRef::as_ref).collect();
        let fault = format!("found {:?}; expected one of {}", cell.figure, names.join(", "));
        Some(TableError::cell(&self.file, cell.line, "figure", fault))
    }
}

/// A number of a table: finite, and neither negative nor beyond anything under a house.
fn number(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if (0.0..=LARGEST).contains(&number) => Ok(number),
        _ => Err(format!(
            "found {:?}; expected a number from 0 to {LARGEST}",
            text.chars().take(40).collect::<String>()
        )),
    }
}
