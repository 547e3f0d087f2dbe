//! The rows of a block through the checks.

use std::path::PathBuf;

use retrofit_core::check::{Assessor, Ruling};
use retrofit_core::house::AsBuilt;
use retrofit_core::portfolio::{CellError, Digest, Layout, RowDigest, RowError, RowReader};
use retrofit_core::provisions::Provisions;

use super::block::Block;
use super::cells::{Cells, QuoteFault, Row};
use super::checked_rows::CheckedRows;
use super::error::BadRow;
use super::lines::rows;
use super::result::{ResultRow, ResultWriter};
use crate::extract::SourceNames;
use crate::lanes::Lane;

/// What is the same for every row of a run.
#[derive(Debug)]
pub(super) struct Tables<'a> {
    pub(super) provisions: &'a Provisions,
    pub(super) houses: Table,
    /// The table of wall lines, where it is one of its own.
    pub(super) walls: Option<Table>,
}

/// A file and what its columns are.
#[derive(Debug)]
pub(crate) struct Table {
    pub(crate) path: PathBuf,
    pub(crate) layout: Layout,
    /// Which columns of an extract its columns come from.
    pub(crate) sources: SourceNames,
}

/// Checks blocks, one after another, in memory of its own.
#[derive(Debug)]
pub(super) struct Worker<'a> {
    tables: &'a Tables<'a>,
    checks: Checks<'a>,
    writer: ResultWriter<'a>,
}

/// How the houses of a run come to their digests.
#[derive(Debug)]
enum Checks<'a> {
    /// Row by row.
    OneTable(Box<CheckedRows<'a>>),
    /// House by house, each with its wall lines.
    TwoTables(Box<WholeHouses<'a>>),
}

/// Reads houses from two tables, and checks each.
#[derive(Debug)]
struct WholeHouses<'a> {
    walls: &'a Table,
    reader: RowReader,
    house: AsBuilt,
    assessor: Assessor,
    cells: Cells,
    wall_cells: Cells,
}

impl<'a> Worker<'a> {
    pub(super) fn new(tables: &'a Tables<'a>, writer: ResultWriter<'a>) -> Self {
        let houses = &tables.houses;
        let checks = match &tables.walls {
            None => Checks::OneTable(Box::new(CheckedRows::new(houses, tables.provisions))),
            Some(walls) => Checks::TwoTables(Box::new(WholeHouses {
                walls,
                reader: RowReader::two_tables(houses.layout.clone(), walls.layout.clone()),
                house: AsBuilt::default(),
                assessor: Assessor::default(),
                cells: Cells::default(),
                wall_cells: Cells::default(),
            })),
        };
        Self {
            tables,
            checks,
            writer,
        }
    }
}

impl Lane<Block> for Worker<'_> {
    /// Checks the houses of a block and leaves their results in it.
    fn work(&mut self, block: &mut Block) {
        let (tables, writer) = (self.tables, &mut self.writer);
        let table = &tables.houses;
        match &mut self.checks {
            Checks::OneTable(rows) => rows.each(table, block, |row, block| match row.digest {
                Ok(of_row) => {
                    table.write(row.cells, of_row, writer, &mut block.results);
                    block.tally.add(of_row.digest.outcomes.ruling());
                }
                Err(error) => block.bad.push(table.bad_row(row.number, error)),
            }),
            Checks::TwoTables(houses) => houses.check_all(tables, block, writer),
        }
    }
}

impl WholeHouses<'_> {
    /// Checks the houses of a block one by one, each with its wall lines.
    fn check_all(&mut self, tables: &Tables<'_>, block: &mut Block, writer: &mut ResultWriter<'_>) {
        let Block {
            houses,
            first_line,
            walls,
            wall_numbers,
            walls_of,
            bad,
            results,
            tally,
            read_so_far: _,
        } = block;
        let mut walls = rows(walls, 0)
            .zip(wall_numbers.iter())
            .map(|((_, line), number)| (*number, line));
        let mut walls_of = walls_of.iter();
        for (number, line) in rows(houses, *first_line) {
            let count = walls_of.next().map_or(0, |count| *count as usize);
            let mut its_walls = walls.by_ref().take(count);
            let written = self.write(tables, (number, line), &mut its_walls, writer, results);
            // All are passed by even where the row of the house is bad, so that the next house finds its own.
            its_walls.for_each(drop);
            match written {
                Ok(ruling) => tally.add(ruling),
                Err(row) => bad.push(row),
            }
        }
    }

    /// Checks a house with its wall lines, and writes its result.
    fn write<'l>(
        &mut self,
        tables: &Tables<'_>,
        (number, line): (u64, &'l [u8]),
        walls: impl Iterator<Item = (u64, &'l [u8])>,
        writer: &mut ResultWriter<'_>,
        results: &mut Vec<u8>,
    ) -> Result<Ruling, BadRow> {
        let table = &tables.houses;
        let text = table.take_apart(number, line, &mut self.cells)?;
        self.read((number, text), walls, table)?;
        let cells = self.cells.row(text);
        let digest = Digest::of(
            self.assessor.run(&self.house, tables.provisions),
            tables.provisions,
        );
        let wall_line = digest.governing.and_then(|finding| finding.wall_line);
        let wall_line = wall_line.and_then(|line| self.house.wall_lines.get(usize::from(line)));
        let row = ResultRow {
            id: cells.get(table.layout.id()).trim(),
            wall_line: wall_line.map_or("", |wall| &wall.name),
            of_row: RowDigest::from(&digest),
            cells,
        };
        writer.write(&row, results);
        Ok(digest.outcomes.ruling())
    }

    /// Reads a house that was taken apart, and its wall lines.
    fn read<'l>(
        &mut self,
        (number, text): (u64, &str),
        mut walls: impl Iterator<Item = (u64, &'l [u8])>,
        table: &Table,
    ) -> Result<(), BadRow> {
        let Self {
            walls: wall_table,
            reader,
            house,
            cells,
            wall_cells,
            ..
        } = self;
        let mut read = Ok(());
        let whole = house.refill(|house| {
            read = reader
                .read(house, cells.of(text))
                .map_err(|error| table.bad_cell(number, error));
            for (number, line) in walls.by_ref() {
                // All its wall lines are read even after a bad one, so that the next house finds its own.
                if read.is_err() {
                    continue;
                }
                read = wall_table.take_apart(number, line, wall_cells).and_then(|text| {
                    reader
                        .read_wall_line(house, wall_cells.of(text))
                        .map_err(|error| wall_table.bad_cell(number, error))
                });
            }
        });
        read?;
        whole.map_err(|problems| table.bad_house(number, wall_table, &problems))
    }
}

/// What is said of a house of which nothing more can be said.
const SENSELESS: &str = "found a house that does not make sense";

impl Table {
    /// Takes a line apart and counts its cells.
    pub(crate) fn take_apart<'l>(
        &self,
        number: u64,
        line: &'l [u8],
        cells: &mut Cells,
    ) -> Result<&'l str, BadRow> {
        let text =
            std::str::from_utf8(line).map_err(|error| self.not_utf8(number, line, error.valid_up_to()))?;
        let split = cells.split(text).map(|()| cells.len());
        self.whole(number, split)?;
        Ok(text)
    }

    /// Whether a line could be taken apart into as many cells as the table has columns.
    pub(super) fn whole(&self, number: u64, split: Result<usize, QuoteFault>) -> Result<(), BadRow> {
        let found = split.map_err(|fault| self.bad(number, Some(fault.cell), fault.problem.to_owned()))?;
        let expected = self.layout.len();
        if found == expected {
            return Ok(());
        }
        Err(self.bad(
            number,
            None,
            format!("found {found} cells; expected {expected}, as in the header"),
        ))
    }

    /// Writes the result of a house that stands in one row.
    fn write(
        &self,
        cells: Row<'_>,
        of_row: RowDigest<'_>,
        writer: &mut ResultWriter<'_>,
        results: &mut Vec<u8>,
    ) {
        let governing = of_row.digest.governing;
        let is_of_wall_line = governing.is_some_and(|finding| finding.wall_line.is_some());
        let wall_line = is_of_wall_line.then(|| self.layout.wall_line_of(cells.iter()));
        let row = ResultRow {
            id: cells.get(self.layout.id()).trim(),
            wall_line: wall_line.unwrap_or_default(),
            of_row,
            cells,
        };
        writer.write(&row, results);
    }

    fn not_utf8(&self, number: u64, line: &[u8], valid_up_to: usize) -> BadRow {
        // The cells before the fault are text; their number is that of the cell it stands in.
        let before = line
            .get(..valid_up_to)
            .and_then(|before| std::str::from_utf8(before).ok())
            .unwrap_or_default();
        let mut cells = Cells::default();
        let cell = cells
            .split(before)
            .map_or_else(|fault| fault.cell, |()| cells.len().saturating_sub(1));
        self.bad(
            number,
            Some(cell),
            "found bytes that are not UTF-8; expected UTF-8 text (save the table as \"CSV UTF-8\")".into(),
        )
    }

    pub(crate) fn bad(&self, line: u64, cell: Option<usize>, problem: String) -> BadRow {
        BadRow {
            file: self.path.clone(),
            line,
            column: cell
                .and_then(|cell| self.layout.names().get(cell))
                .map(|column| self.sources.told(column)),
            problem,
        }
    }

    pub(crate) fn bad_cell(&self, line: u64, error: CellError) -> BadRow {
        BadRow {
            file: self.path.clone(),
            line,
            column: Some(self.sources.told(&error.column)),
            problem: error.problem,
        }
    }

    /// A row whose house cannot be checked.
    pub(crate) fn bad_row(&self, line: u64, error: &RowError) -> BadRow {
        match error {
            RowError::Cell(error) => self.bad_cell(line, error.clone()),
            RowError::House(problems) => match problems.first() {
                Some(problem) => self.bad_cell(line, CellError::of_house(problem)),
                None => self.bad(line, None, SENSELESS.into()),
            },
        }
    }

    /// A house whose own row can be read and that does not make sense together with its wall lines.
    fn bad_house(&self, line: u64, walls: &Self, problems: &[retrofit_core::house::Problem]) -> BadRow {
        match problems.first() {
            Some(problem) if problem.path == "wall_lines" => self.bad(
                line,
                None,
                format!(
                    "found no wall line of this house in {}; expected at least one",
                    walls.path.display()
                ),
            ),
            Some(problem) => {
                let error = CellError::of_house(problem);
                let of_a_wall_line = problem
                    .path
                    .strip_prefix("wall_lines[")
                    .and_then(|rest| rest.split_once(']'));
                let which = of_a_wall_line
                    .and_then(|(index, _)| index.parse::<usize>().ok())
                    .map_or_else(String::new, |index| {
                        format!("in wall line {} of this house: ", index + 1)
                    });
                BadRow {
                    problem: which + &error.problem,
                    ..self.bad_cell(line, error.clone())
                }
            }
            None => self.bad(line, None, SENSELESS.into()),
        }
    }
}
