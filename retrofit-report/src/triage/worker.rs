//! The rows of a block through the checks.

use std::path::PathBuf;

use retrofit_core::check::{Assessor, Ruling};
use retrofit_core::house::AsBuilt;
use retrofit_core::portfolio::{CellError, Digest, Layout, RowChecker, RowError, RowReader};
use retrofit_core::provisions::Provisions;

use super::Lane;
use super::block::Block;
use super::cells::Cells;
use super::error::BadRow;
use super::lines::rows;
use super::result::{ResultRow, ResultWriter};
use crate::extract::SourceNames;

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
    cells: Cells,
}

/// How the houses of a run come to their digests.
#[derive(Debug)]
enum Checks<'a> {
    /// Row by row.
    OneTable(Box<RowChecker<'a>>),
    /// House by house, each with its wall lines.
    TwoTables(Box<WholeHouses>),
}

/// Reads houses from two tables, and checks each.
#[derive(Debug)]
struct WholeHouses {
    reader: RowReader,
    house: AsBuilt,
    assessor: Assessor,
    wall_cells: Cells,
}

impl Lane for Worker<'_> {
    fn work(&mut self, block: &mut Block) {
        self.check(block);
    }
}

impl<'a> Worker<'a> {
    pub(super) fn new(tables: &'a Tables<'a>, writer: ResultWriter<'a>) -> Self {
        let layout = tables.houses.layout.clone();
        let checks = match &tables.walls {
            None => Checks::OneTable(Box::new(RowChecker::new(layout, tables.provisions))),
            Some(walls) => Checks::TwoTables(Box::new(WholeHouses {
                reader: RowReader::two_tables(layout, walls.layout.clone()),
                house: AsBuilt::default(),
                assessor: Assessor::default(),
                wall_cells: Cells::default(),
            })),
        };
        Self {
            tables,
            checks,
            writer,
            cells: Cells::default(),
        }
    }

    /// Checks the houses of a block and leaves their results in it.
    fn check(&mut self, block: &mut Block) {
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
            let written = self.write((number, line), &mut its_walls, results);
            // All are passed by even where the row of the house is bad, so that the next house finds its own.
            its_walls.for_each(drop);
            match written {
                Ok(ruling) => tally.add(ruling),
                Err(row) => bad.push(row),
            }
        }
    }

    /// Checks a house, with its wall lines where they have a table of their own, and writes its result.
    fn write<'l>(
        &mut self,
        (number, line): (u64, &'l [u8]),
        walls: impl Iterator<Item = (u64, &'l [u8])>,
        results: &mut Vec<u8>,
    ) -> Result<Ruling, BadRow> {
        let Tables {
            provisions,
            houses: table,
            walls: wall_table,
        } = self.tables;
        let text = table.take_apart(number, line, &mut self.cells)?;
        let cells = &self.cells;
        let (digest, wall_line) = match (&mut self.checks, wall_table) {
            (Checks::OneTable(checker), _) => {
                let digest = checker
                    .check_written(cells.written(text), cells.of(text))
                    .map_err(|error| table.bad_row(number, error))?;
                let of_a_wall_line = digest
                    .governing
                    .is_some_and(|finding| finding.wall_line.is_some());
                let wall_line = of_a_wall_line.then(|| table.layout.wall_line_of(cells.of(text)));
                (digest, wall_line.unwrap_or_default())
            }
            (Checks::TwoTables(houses), Some(wall_table)) => {
                houses.read((number, cells.of(text)), walls, table, wall_table)?;
                houses.check(provisions)
            }
            (Checks::TwoTables(_), None) => return Err(table.bad(number, None, SENSELESS.into())),
        };
        let row = ResultRow {
            id: cells.get(text, table.layout.id()).trim(),
            wall_line,
            digest: &digest,
            line: text,
            cells,
        };
        self.writer.write(&row, results);
        Ok(digest.outcomes.ruling())
    }
}

impl WholeHouses {
    /// Reads a house and its wall lines.
    fn read<'c, 'l>(
        &mut self,
        (number, cells): (u64, impl Iterator<Item = &'c str> + Clone),
        mut walls: impl Iterator<Item = (u64, &'l [u8])>,
        table: &Table,
        wall_table: &Table,
    ) -> Result<(), BadRow> {
        let Self {
            reader, wall_cells, ..
        } = self;
        let mut read = Ok(());
        let whole = self.house.refill(|house| {
            read = reader
                .read(house, cells)
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

    /// Checks the house that was read; the name of the wall line whose deficiency governs.
    fn check(&mut self, provisions: &Provisions) -> (Digest, &str) {
        let digest = Digest::of(self.assessor.run(&self.house, provisions), provisions);
        let wall_line = digest.governing.and_then(|finding| finding.wall_line);
        let wall_line = wall_line.and_then(|line| self.house.wall_lines.get(usize::from(line)));
        (digest, wall_line.map_or("", |wall| &wall.name))
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
        cells
            .split(text)
            .map_err(|fault| self.bad(number, Some(fault.cell), fault.problem.to_owned()))?;
        let expected = self.layout.len();
        if cells.len() == expected {
            return Ok(text);
        }
        Err(self.bad(
            number,
            None,
            format!(
                "found {} cells; expected {expected}, as in the header",
                cells.len()
            ),
        ))
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
    fn bad_row(&self, line: u64, error: RowError) -> BadRow {
        match error {
            RowError::Cell(error) => self.bad_cell(line, error),
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
