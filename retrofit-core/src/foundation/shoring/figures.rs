//! What is published on temporary support and on lifting, row by row with its source.

use std::sync::LazyLock;

use typenum::{N2, P1, Z0};

use super::super::survey::{origin, read_sources};
use crate::choice::choices;
use crate::provisions::{Standing, TableError, TableFile};
use crate::screen::{Edition, Figure, StandardTable, Unit};
use crate::table::each_row;

type Size = Figure<Z0, P1>;
type Share = Figure<Z0, Z0>;
type Load = Figure<P1, Z0>;
type Stress = Figure<P1, N2>;

const GATES: &str = include_str!("../../../../tables/standards/shoring-and-lifting/gates.csv");
const SOURCES: &str = include_str!("../../../../tables/standards/shoring-and-lifting/sources.csv");
const GATE_COLUMNS: [&str; 7] = ["gate", "kind", "words", "source", "section", "standing", "note"];

/// A published figure beside which something was put.
#[derive(Clone, Debug, PartialEq)]
pub struct Published {
    /// Its value in its unit; of a range, the low end.
    pub value: f64,
    /// The high end of a range; otherwise the value.
    pub high: f64,
    /// The unit.
    pub unit: Unit,
    /// The document it was read in.
    pub document: String,
    /// Section or table.
    pub section: String,
    /// How well it was seen.
    pub standing: Standing,
    /// A note for the reader.
    pub note: String,
}

impl<F, L> From<&Figure<F, L>> for Published {
    fn from(figure: &Figure<F, L>) -> Self {
        Self {
            value: figure.low / figure.unit.factor(),
            high: figure.high / figure.unit.factor(),
            unit: figure.unit,
            document: figure.document.as_ref().to_owned(),
            section: figure.section.as_ref().to_owned(),
            standing: figure.standing,
            note: figure.note.as_ref().to_owned(),
        }
    }
}

/// One of several published figures for the same thing, which need not agree.
#[derive(Clone, Debug)]
pub struct Named<T> {
    /// The name by which it is chosen.
    pub name: String,
    /// The figure.
    pub figure: T,
}

/// A published rate of lifting.
#[derive(Clone, Debug, PartialEq)]
pub struct Pace {
    /// The name by which it is chosen, such as `eighth-a-week`.
    pub name: String,
    /// The most that a point rises, in inches …
    pub rise: f64,
    /// … in so many days.
    pub days: u32,
    /// Where it was published.
    pub published: Published,
    /// The rise of the jack in a turn, where the rate counts turns.
    pub pitch: Option<Published>,
}

/// Pieces of a crib by their nominal size.
#[derive(Clone, Debug)]
pub struct CribFigures {
    /// Nominal size, such as `4x4`.
    pub name: &'static str,
    /// Side of a piece as dressed.
    pub side: Size,
    /// Length of a piece.
    pub piece: Size,
    /// What a crib of two pieces in a layer carries, as published.
    pub capacity: Load,
    /// What one crossing carries, as published.
    pub contact: Load,
    /// Greatest height, as published.
    pub height: Size,
}

choices! {
    /// When a gate is asked for.
    pub enum GateKind: "gate" {
        /// Before the first step.
        Before = "before", "before the first step";
        /// After each step.
        EachStep = "each step", "at each step";
        /// It stops the work.
        Stop = "stop", "stop and call the engineer";
    }
}

/// Something that has to be done or seen before the work goes on, or that stops it.
#[derive(Clone, Debug, PartialEq)]
pub struct Gate {
    /// Its name.
    pub name: String,
    /// When it is asked for.
    pub kind: GateKind,
    /// What it asks, in words.
    pub words: String,
    /// The document it stands in.
    pub document: String,
    /// Section.
    pub section: String,
    /// How well it was seen.
    pub standing: Standing,
}

/// The figures of temporary support and lifting.
///
/// ```
/// use retrofit_core::foundation::shoring::ShoringFigures;
/// use retrofit_core::screen::POUND;
/// let figures = ShoringFigures::shipped().expect("the shipped table is in order");
/// assert_eq!(figures.cribs[0].capacity.to(POUND), 24_000.0);
/// assert_eq!(figures.paces[0].name, "eighth-a-week");
/// ```
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "each is named after its row in figures.csv")]
pub struct ShoringFigures {
    pub edition: Edition,
    pub joist_span: Size,
    pub joist_spacing: Size,
    pub parallel_strip: Share,
    pub above_a_post: Share,
    pub inside_wall_board: Stress,
    pub inside_wall_plaster: Stress,
    pub roof_live: Stress,
    pub carrying_beam_offset: Size,
    pub support_spacings: Vec<Named<Size>>,
    pub needle_spacings: Vec<Named<Size>>,
    pub needle_post_offset: Size,
    pub cribs: Vec<CribFigures>,
    pub crib_stress: Stress,
    pub crib_slenderness: Share,
    pub jack_reserves: Vec<Named<Share>>,
    pub jack_capacities: Vec<Named<Load>>,
    pub pad_sides: Vec<Named<Size>>,
    pub lift_tolerance: Size,
    pub lift_steps: Vec<Named<Size>>,
    pub neighbor_step: Size,
    /// The published rates; the first is taken where none is named.
    pub paces: Vec<Pace>,
    /// What has to be done or seen, and what stops the work.
    pub gates: Vec<Gate>,
}

impl ShoringFigures {
    /// The figures that come with the program; the error lists the faults of their table.
    pub fn shipped() -> Result<&'static Self, &'static [TableError]> {
        static FIGURES: LazyLock<Result<ShoringFigures, Vec<TableError>>> = LazyLock::new(|| {
            ShoringFigures::parse(&StandardTable::shipped("shoring-and-lifting")?, GATES, SOURCES)
        });
        FIGURES.as_ref().map_err(Vec::as_slice)
    }

    /// Reads the figures from their table, and the gates from theirs with its sources.
    pub fn parse(table: &StandardTable, gates: &str, sources: &str) -> Result<Self, Vec<TableError>> {
        let gates = read_gates(gates, sources)?;
        Self::read(table, gates).map_err(|fault| vec![fault])
    }

    /// The gates of a moment.
    pub fn gates_of(&self, kind: GateKind) -> impl Iterator<Item = &Gate> {
        self.gates.iter().filter(move |gate| gate.kind == kind)
    }

    fn read(table: &StandardTable, gates: Vec<Gate>) -> Result<Self, TableError> {
        let size = |figure: &str| table.figure(figure, "");
        let share = |figure: &str| table.figure(figure, "");
        let crib = |name: &'static str| {
            Ok(CribFigures {
                name,
                side: table.figure("crib-side", name)?,
                piece: table.figure("crib-piece", name)?,
                capacity: table.figure("crib-capacity", name)?,
                contact: table.figure("crib-contact", name)?,
                height: table.figure("crib-height", name)?,
            })
        };
        let read = Self {
            edition: table.edition.clone(),
            joist_span: size("joist-span")?,
            joist_spacing: size("joist-spacing")?,
            parallel_strip: share("parallel-strip")?,
            above_a_post: share("above-a-post")?,
            inside_wall_board: table.figure("inside-wall", "board")?,
            inside_wall_plaster: table.figure("inside-wall", "plaster")?,
            roof_live: table.figure("roof-live", "")?,
            carrying_beam_offset: size("carrying-beam-offset")?,
            support_spacings: sizes(table, "support-spacing")?,
            needle_spacings: sizes(table, "needle-spacing")?,
            needle_post_offset: size("needle-post-offset")?,
            cribs: vec![crib("4x4")?, crib("6x6")?],
            crib_stress: table.figure("crib-stress", "")?,
            crib_slenderness: share("crib-slenderness")?,
            jack_reserves: named(table, "jack-reserve")?,
            jack_capacities: named(table, "jack-capacity")?,
            pad_sides: sizes(table, "pad-side")?,
            lift_tolerance: size("lift-tolerance")?,
            lift_steps: sizes(table, "lift-step")?,
            neighbor_step: size("neighbor-step")?,
            paces: paces(table)?,
            gates,
        };
        table.unread().map_or(Ok(read), Err)
    }
}

fn sizes(table: &StandardTable, figure: &str) -> Result<Vec<Named<Size>>, TableError> {
    named(table, figure)
}

/// Every row of a figure; at least one.
fn named<F: typenum::Integer, L: typenum::Integer>(
    table: &StandardTable,
    figure: &str,
) -> Result<Vec<Named<Figure<F, L>>>, TableError> {
    let mut rows = Vec::new();
    for cell in table.rows(figure) {
        if let Some(read) = table.read_cell(cell)? {
            rows.push(Named {
                name: cell.of.as_ref().to_owned(),
                figure: read,
            });
        }
    }
    if rows.is_empty() {
        let fault = format!("found no row {figure:?}; expected one or more");
        return Err(TableError::set(&table.edition.id, fault));
    }
    Ok(rows)
}

/// The rates: those in inches, then those in turns of a screw.
fn paces(table: &StandardTable) -> Result<Vec<Pace>, TableError> {
    let pitch: Size = table.figure("screw-pitch", "")?;
    let mut paces = Vec::new();
    let days_of = |cell: &crate::screen::Cell| {
        let most = 365;
        (1..=most)
            .find(|days| cell.at == Some(f64::from(*days)))
            .ok_or_else(|| {
                table.fault(
                    cell,
                    format!("found no whole number of days from 1 to {most} in \"at\""),
                )
            })
    };
    for cell in table.rows("lift-rate") {
        if let Some(rise) = table.read_cell::<Z0, P1>(cell)? {
            paces.push(Pace {
                name: cell.of.as_ref().to_owned(),
                rise: rise.low,
                days: days_of(cell)?,
                published: (&rise).into(),
                pitch: None,
            });
        }
    }
    for cell in table.rows("lift-turn") {
        if let Some(turns) = table.read_cell::<Z0, Z0>(cell)? {
            paces.push(Pace {
                name: cell.of.as_ref().to_owned(),
                rise: turns.low * pitch.low,
                days: days_of(cell)?,
                published: (&turns).into(),
                pitch: Some((&pitch).into()),
            });
        }
    }
    if paces.is_empty() {
        let fault = "found no row \"lift-rate\"; expected one or more".to_owned();
        return Err(TableError::set(&table.edition.id, fault));
    }
    Ok(paces)
}

fn read_gates(gates: &str, sources: &str) -> Result<Vec<Gate>, Vec<TableError>> {
    let file = |name: &str, text: &str| TableFile {
        path: format!("tables/standards/shoring-and-lifting/{name}"),
        name: name.to_owned(),
        text: text.to_owned(),
    };
    let mut faults = Vec::new();
    let documents = read_sources(&file("sources.csv", sources), &mut faults);
    let mut read: Vec<Gate> = Vec::new();
    each_row(&file("gates.csv", gates), &GATE_COLUMNS, &mut faults, |row| {
        let kind = row.required("kind")?;
        let kind = kind.parse().map_err(|error| row.fault("kind", error))?;
        let (document, section, standing) = origin(row, &documents)?;
        read.push(Gate {
            name: row.required("gate")?.to_owned(),
            kind,
            words: row.required("words")?.to_owned(),
            document,
            section,
            standing,
        });
        Ok(())
    });
    if faults.is_empty() { Ok(read) } else { Err(faults) }
}
