//! A block of rows on its way from the files through the checks to the output, and where blocks come from.

use std::collections::HashMap;

use super::cells::Cells;
use super::error::{BadRow, TriageError};
use super::lines::{Lines, ReadSoFar, rows};

/// Rows that are checked together, and what came of them. Its memory is used again for later rows.
#[derive(Debug, Default)]
pub(crate) struct Block {
    /// Lines of the table of houses.
    pub(crate) houses: Vec<u8>,
    /// The line on which they begin.
    pub(crate) first_line: u64,
    /// Lines of the table of wall lines, in the order of their houses.
    pub(super) walls: Vec<u8>,
    /// The number in its file of each of them.
    pub(super) wall_numbers: Vec<u64>,
    /// How many wall lines each house has.
    pub(super) walls_of: Vec<u32>,
    /// Rows that cannot be read.
    pub(crate) bad: Vec<BadRow>,
    /// The results, as they are to be written.
    pub(crate) results: Vec<u8>,
    /// Houses by ruling.
    pub(super) tally: super::Tally,
    /// How far the files had been read when this block was filled: a run that is stopped goes on from here.
    pub(crate) read_so_far: Vec<ReadSoFar>,
}

impl Block {
    /// Takes up rows of one table.
    pub(super) fn begin(&mut self, rows: &[u8]) {
        self.clear();
        self.houses.clear();
        self.houses.extend_from_slice(rows);
        self.first_line = 1;
    }

    /// How many bytes of input it holds.
    pub(crate) fn len(&self) -> u64 {
        u64::try_from(self.houses.len() + self.walls.len()).unwrap_or_default()
    }

    fn clear(&mut self) {
        self.walls.clear();
        self.wall_numbers.clear();
        self.walls_of.clear();
        self.bad.clear();
        self.results.clear();
        self.tally = super::Tally::default();
    }
}

/// Where blocks come from.
#[derive(Debug)]
pub(crate) enum Source {
    /// One table.
    One(Box<Lines>),
    /// A table of houses and a table of wall lines.
    Two(Box<Join>),
}

impl Source {
    /// Fills a block with the next rows; false when there are none.
    pub(crate) fn fill(&mut self, block: &mut Block) -> Result<bool, TriageError> {
        block.clear();
        let is_filled = match self {
            Self::One(lines) => match lines.next_block(&mut block.houses, &mut block.bad)? {
                Some(first_line) => {
                    block.first_line = first_line;
                    true
                }
                // The last line may have been a bad one.
                None => !block.bad.is_empty(),
            },
            Self::Two(join) => join.fill(block)?,
        };
        block.read_so_far.clear();
        block
            .read_so_far
            .extend(self.files().map(Lines::read_so_far).cloned());
        Ok(is_filled)
    }

    /// The files that are read, the houses first.
    pub(crate) fn files(&self) -> impl Iterator<Item = &Lines> {
        let (houses, walls) = match self {
            Self::One(lines) => (&**lines, None),
            Self::Two(join) => (&join.houses, Some(&join.walls)),
        };
        std::iter::once(houses).chain(walls)
    }
}

/// Two tables read side by side: both name houses in the same order, so that neither has to be kept.
///
/// Where they disagree, the houses of this block and the next tell which of them to go on with: a wall line
/// whose house comes soon waits for it, and any other is a bad row.
#[derive(Debug)]
pub(crate) struct Join {
    houses: Lines,
    house_id: usize,
    walls: Lines,
    wall_id: usize,
    /// The houses after those being handed out, and their first line.
    ahead: Option<(Vec<u8>, u64)>,
    has_begun: bool,
    wall_block: Vec<u8>,
    /// Wall lines of the block that were handed out.
    wall_at: usize,
    wall_number: u64,
    has_walls: bool,
    cells: Cells,
}

/// The next wall line: its number, where it ends in its block, and the house it names.
struct NextWall {
    number: u64,
    from: usize,
    to: usize,
    after: usize,
    id: Option<String>,
}

impl Join {
    pub(super) fn new(houses: Lines, house_id: usize, walls: Lines, wall_id: usize) -> Self {
        Self {
            houses,
            house_id,
            walls,
            wall_id,
            ahead: None,
            has_begun: false,
            wall_block: Vec::new(),
            wall_at: 0,
            wall_number: 0,
            has_walls: true,
            cells: Cells::default(),
        }
    }

    fn fill(&mut self, block: &mut Block) -> Result<bool, TriageError> {
        if !self.has_begun {
            self.has_begun = true;
            self.read_ahead(&mut block.bad)?;
        }
        let Some((houses, first_line)) = self.ahead.take() else {
            return self.leave_over(block);
        };
        block.houses.clone_from(&houses);
        block.first_line = first_line;
        self.read_ahead(&mut block.bad)?;

        let mut soon: Option<HashMap<String, usize>> = None;
        let mut next = self.next_wall(&mut block.bad)?;
        for (position, (_, line)) in rows(&houses, first_line).enumerate() {
            let mut count = 0u32;
            let house = id_of(&mut self.cells, line, self.house_id);
            if let Some(house) = house {
                while let Some(wall) = &next {
                    if wall.id.as_deref() == Some(house.as_str()) {
                        self.hand_out(wall, block);
                        count += 1;
                    } else {
                        let soon = soon.get_or_insert_with(|| self.houses_soon(&houses));
                        let waits = wall.id.as_ref().and_then(|id| soon.get(id));
                        if waits.is_some_and(|at| *at > position) {
                            break;
                        }
                        block.bad.push(self.without_house(wall));
                    }
                    self.pass(wall);
                    next = self.next_wall(&mut block.bad)?;
                }
            }
            block.walls_of.push(count);
        }
        Ok(true)
    }

    /// At the end of the houses: no house is left for the wall lines that are.
    fn leave_over(&mut self, block: &mut Block) -> Result<bool, TriageError> {
        block.houses.clear();
        for _ in 0..1000 {
            let Some(wall) = self.next_wall(&mut block.bad)? else {
                break;
            };
            block.bad.push(self.without_house(&wall));
            self.pass(&wall);
        }
        Ok(!block.bad.is_empty())
    }

    fn read_ahead(&mut self, bad: &mut Vec<BadRow>) -> Result<(), TriageError> {
        let mut houses = Vec::new();
        self.ahead = self
            .houses
            .next_block(&mut houses, bad)?
            .map(|first| (houses, first));
        Ok(())
    }

    /// The houses of this block and the next by their names, each with the last place it stands at.
    fn houses_soon(&self, houses: &[u8]) -> HashMap<String, usize> {
        let mut cells = Cells::default();
        let ahead = self.ahead.as_ref().map_or(&[][..], |(lines, _)| lines);
        rows(houses, 1)
            .chain(rows(ahead, 1))
            .enumerate()
            .filter_map(|(position, (_, line))| Some((id_of(&mut cells, line, self.house_id)?, position)))
            .collect()
    }

    fn next_wall(&mut self, bad: &mut Vec<BadRow>) -> Result<Option<NextWall>, TriageError> {
        while self.has_walls {
            let rest = self.wall_block.get(self.wall_at..).unwrap_or_default();
            if let Some((number, line)) = rows(rest, self.wall_number).next() {
                let skipped = usize::try_from(number - self.wall_number).unwrap_or_default();
                let from = self.wall_at
                    + skipped
                        .checked_sub(1)
                        .and_then(|last| memchr::memchr_iter(b'\n', rest).nth(last))
                        .map_or(0, |end| end + 1);
                let to = from + line.len();
                let after = memchr::memchr(b'\n', self.wall_block.get(from..).unwrap_or_default())
                    .map_or(self.wall_block.len(), |end| from + end + 1);
                let id = id_of(&mut self.cells, line, self.wall_id);
                return Ok(Some(NextWall {
                    number,
                    from,
                    to,
                    after,
                    id,
                }));
            }
            self.wall_at = 0;
            match self.walls.next_block(&mut self.wall_block, bad)? {
                Some(first) => self.wall_number = first,
                None => self.has_walls = false,
            }
        }
        Ok(None)
    }

    fn hand_out(&self, wall: &NextWall, block: &mut Block) {
        let line = self.wall_block.get(wall.from..wall.to).unwrap_or_default();
        block.walls.extend_from_slice(line);
        block.walls.push(b'\n');
        block.wall_numbers.push(wall.number);
    }

    fn pass(&mut self, wall: &NextWall) {
        self.wall_at = wall.after;
        self.wall_number = wall.number + 1;
    }

    fn without_house(&self, wall: &NextWall) -> BadRow {
        let found = match wall.id.as_deref() {
            None => "found no readable name of a house".to_owned(),
            Some("") => "found nothing".to_owned(),
            Some(id) => format!("found {:?}", id.chars().take(60).collect::<String>()),
        };
        BadRow {
            file: self.walls.path().to_owned(),
            line: wall.number,
            column: Some("id".to_owned()),
            problem: format!(
                "{found}; expected a house of {}, both files in the same order of houses",
                self.houses.path().display()
            ),
        }
    }
}

/// The name of the house in a row, where it can be read at all.
fn id_of(cells: &mut Cells, line: &[u8], position: usize) -> Option<String> {
    let line = std::str::from_utf8(line).ok()?;
    cells.split(line).ok()?;
    Some(cells.get(line, position).trim().to_owned())
}
