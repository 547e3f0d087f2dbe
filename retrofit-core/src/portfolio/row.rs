//! From a row of cells to a house.

use std::mem;

use thiserror::Error;

use super::cell::{Holds, Slot, Value, shown};
use super::column::{COLUMNS, Column, Place};
use super::layout::{Layout, Meaning, STANDS_FOR_ALL};
use super::memory::Memory;
use crate::house::{
    Anchor, Connection, CrippleStretch, FoundationStretch, House, Panel, Post, Problem, SillPiece, WallLine,
};
use crate::measure::Length;
use crate::observation::{Basis, Observed};

/// A sill in more pieces than this is a slip of the pen.
const MOST_SILL_PIECES: u16 = 100;

/// A cell that cannot be read, or that contradicts another.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("column {column}: {problem}")]
pub struct CellError {
    /// The name of its column.
    pub column: String,
    /// What was found and what was expected.
    pub problem: String,
}

impl CellError {
    pub(super) fn new(column: &str, problem: impl Into<String>) -> Self {
        Self {
            column: column.to_owned(),
            problem: problem.into(),
        }
    }

    /// A fault of the house that rows were read into, told by the column it came from.
    pub fn of_house(problem: &Problem) -> Self {
        let without_numbers: String = problem.path.chars().filter(|c| !c.is_ascii_digit()).collect();
        let column = COLUMNS.iter().find(|column| column.path == without_numbers);
        let name = match column {
            Some(column) => column.name,
            None if without_numbers == "wall_lines[].name" => super::WALL_LINE,
            None => &without_numbers,
        };
        Self::new(
            name,
            format!("found {}; expected {}", problem.found, problem.expected),
        )
    }
}

/// A list in a house that a row describes by one item.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum List {
    Foundation,
    Sill,
    Anchors,
    CrippleWall,
    Panels,
    Connections,
    Posts,
}

/// The lists of which a row says anything.
#[derive(Clone, Copy, Debug, Default)]
struct Told(u8);

impl Told {
    fn add(&mut self, list: Option<List>) {
        if let Some(list) = list {
            self.0 |= 1 << list as u8;
        }
    }

    fn of(self, list: List) -> bool {
        self.0 & (1 << list as u8) != 0
    }
}

/// Where the cells of a house go.
pub(super) struct HousePlaces<'a> {
    pub(super) house: &'a mut House,
    pub(super) post: &'a mut Post,
    pub(super) has_posts: &'a mut Observed<bool>,
}

/// Where the cells of a wall line go.
pub(super) struct LinePlaces<'a> {
    pub(super) wall: &'a mut WallLine,
    pub(super) foundation: &'a mut FoundationStretch,
    pub(super) sill: &'a mut SillPiece,
    pub(super) anchor: &'a mut Anchor,
    pub(super) cripple: &'a mut CrippleStretch,
    pub(super) panel: &'a mut Panel,
    pub(super) connection: &'a mut Connection,
    pub(super) stated: &'a mut Stated,
}

/// What a row says about whole lists.
#[derive(Clone, Debug, Default)]
pub(super) struct Stated {
    pub(super) anchors: Observed<bool>,
    pub(super) cripple_wall: Observed<bool>,
    pub(super) panels: Observed<bool>,
    pub(super) sill_pieces: Observed<u16>,
}

/// The one item of each list of a wall line, kept here while the house does not have it, so that its memory
/// is used again.
#[derive(Clone, Debug, Default)]
struct Items {
    foundation: Vec<FoundationStretch>,
    sill: Vec<SillPiece>,
    anchors: Vec<Anchor>,
    cripple_wall: Vec<CrippleStretch>,
    panels: Vec<Panel>,
    connections: Vec<Connection>,
    stated: Stated,
}

impl Items {
    /// Takes the items back from the wall line they were lent to.
    fn take_back(&mut self, wall: &mut WallLine) {
        take_back(&mut wall.foundation, &mut self.foundation);
        take_back(&mut wall.sill, &mut self.sill);
        take_back(&mut wall.anchors, &mut self.anchors);
        take_back(&mut wall.cripple_wall, &mut self.cripple_wall);
        take_back(&mut wall.panels, &mut self.panels);
        take_back(&mut wall.connections, &mut self.connections);
    }

    fn places<'a>(&'a mut self, wall: &'a mut WallLine) -> Option<LinePlaces<'a>> {
        Some(LinePlaces {
            wall,
            foundation: only(&mut self.foundation)?,
            sill: only(&mut self.sill)?,
            anchor: only(&mut self.anchors)?,
            cripple: only(&mut self.cripple_wall)?,
            panel: only(&mut self.panels)?,
            connection: only(&mut self.connections)?,
            stated: &mut self.stated,
        })
    }

    /// Lends the wall line the items of which its row says something.
    fn lend(&mut self, wall: &mut WallLine, told: Told, basis: Basis) -> Result<(), CellError> {
        lend(
            &mut wall.foundation,
            &mut self.foundation,
            told.of(List::Foundation),
            basis,
        );
        lend(
            &mut wall.connections,
            &mut self.connections,
            told.of(List::Connections),
            basis,
        );
        self.divide_sill(&wall.length, told.of(List::Sill))?;
        let has_sill = self.stated.sill_pieces.is_known();
        lend(&mut wall.sill, &mut self.sill, has_sill, basis);

        let stated = &self.stated;
        // Whether there are any may be known otherwise than the rest of the row.
        let of = |stated: &Observed<bool>| stated.basis().unwrap_or(basis);
        let has = is_there(&stated.anchors, told.of(List::Anchors), "anchors")?;
        if let (Some(true), Some(anchor)) = (has, self.anchors.first_mut())
            && anchor.spacing.is_not_recorded()
        {
            anchor.spacing = some_length();
        }
        lend_or_none(&mut wall.anchors, &mut self.anchors, has, of(&stated.anchors));
        let has = is_there(&stated.cripple_wall, told.of(List::CrippleWall), "cripple_wall")?;
        lend_or_none(
            &mut wall.cripple_wall,
            &mut self.cripple_wall,
            has,
            of(&stated.cripple_wall),
        );
        let has = is_there(&stated.panels, told.of(List::Panels), "panels")?;
        if let (Some(true), Some(panel)) = (has, self.panels.first_mut())
            && panel.total_length.is_not_recorded()
        {
            panel.total_length = some_length();
        }
        lend_or_none(&mut wall.panels, &mut self.panels, has, of(&stated.panels));
        Ok(())
    }

    /// Divides the sill into as many pieces as the row says, all alike.
    fn divide_sill(&mut self, length: &Observed<Length>, is_described: bool) -> Result<(), CellError> {
        let refuse = |found: String, expected: &str| {
            Err(CellError::new(
                "sill_pieces",
                format!("found {found}; expected {expected}"),
            ))
        };
        let Some(&pieces) = self.stated.sill_pieces.value() else {
            // The ends of its pieces are where a sill needs anchors: to describe it as one piece because
            // their number is blank would make an unknown fine.
            return if is_described {
                refuse(
                    "nothing".into(),
                    "the number of pieces of the sill that the other columns describe",
                )
            } else {
                Ok(())
            };
        };
        self.sill.truncate(1);
        let Some(first) = self.sill.first_mut() else {
            return Ok(());
        };
        (first.from, first.to) = (None, None);
        match (pieces, length.value()) {
            (0 | MOST_SILL_PIECES.., _) => refuse(
                pieces.to_string(),
                &format!("a number of pieces from 1 to {}", MOST_SILL_PIECES - 1),
            ),
            (1, _) => Ok(()),
            (_, None) => refuse(
                pieces.to_string(),
                "1, or a wall_length for the pieces to be divided from",
            ),
            (pieces, Some(length)) => {
                let end_of = |piece: u16| {
                    let share = i128::from(length.nanometers()) * i128::from(piece) / i128::from(pieces);
                    i64::try_from(share).ok().map(Length::from_nanometers)
                };
                first.to = end_of(1);
                for piece in 1..pieces {
                    let Some(mut next) = self.sill.first().cloned() else {
                        break;
                    };
                    (next.from, next.to) = (end_of(piece), end_of(piece + 1));
                    self.sill.push(next);
                }
                Ok(())
            }
        }
    }
}

/// An anchor spacing or a braced length that is there, and of which nothing more is known.
fn some_length() -> Observed<Length> {
    Observed::bounded(Some(Length::ZERO), None, Basis::Inferred)
}

fn take_back<T>(list: &mut Observed<Vec<T>>, items: &mut Vec<T>) {
    match mem::take(list) {
        Observed::Known { value, .. } if !value.is_empty() => *items = value,
        _ => {}
    }
}

/// The one item of a list.
fn only<T: Default>(items: &mut Vec<T>) -> Option<&mut T> {
    if items.is_empty() {
        items.push(T::default());
    }
    items.first_mut()
}

fn lend<T>(list: &mut Observed<Vec<T>>, items: &mut Vec<T>, is_told: bool, basis: Basis) {
    if is_told {
        *list = Observed::Known {
            value: mem::take(items),
            basis,
        };
    }
}

fn lend_or_none<T>(list: &mut Observed<Vec<T>>, items: &mut Vec<T>, has: Option<bool>, basis: Basis) {
    match has {
        Some(true) => lend(list, items, true, basis),
        Some(false) => {
            *list = Observed::Known {
                value: Vec::new(),
                basis,
            }
        }
        None => {}
    }
}

/// Whether a list has items: as stated, or because one is described.
fn is_there(stated: &Observed<bool>, is_described: bool, column: &str) -> Result<Option<bool>, CellError> {
    match (stated.value(), is_described) {
        (Some(false), true) => Err(CellError::new(
            column,
            "found \"no\"; expected yes, or nothing in the columns that describe them",
        )),
        (_, true) => Ok(Some(true)),
        (stated, false) => Ok(stated.copied()),
    }
}

/// Reads rows into houses, one after another, and keeps their memory for the next.
#[derive(Clone, Debug)]
pub struct RowReader {
    house: Sheet,
    /// The table of wall lines, where there is one of its own.
    walls: Option<Sheet>,
    /// The items of each wall line of the house.
    items: Vec<Items>,
    posts: Vec<Post>,
    has_posts: Observed<bool>,
    /// Wall lines that the present house does not need.
    spare: Vec<WallLine>,
}

impl RowReader {
    /// For a table whose rows hold a house and its one wall line.
    pub fn one_table(layout: Layout) -> Self {
        Self::new(layout, None)
    }

    /// For a table of houses and a table of wall lines.
    pub fn two_tables(houses: Layout, wall_lines: Layout) -> Self {
        Self::new(houses, Some(wall_lines))
    }

    fn new(houses: Layout, wall_lines: Option<Layout>) -> Self {
        Self {
            house: Sheet::new(houses),
            walls: wall_lines.map(Sheet::new),
            items: Vec::new(),
            posts: Vec::new(),
            has_posts: Observed::default(),
            spare: Vec::new(),
        }
    }

    /// Reads a row of the first table. Afterwards the house is that of the row, with its wall line, or, where
    /// wall lines have a table of their own, without any. After an error it is fit only to be read into again.
    pub fn read<'c>(
        &mut self,
        house: &mut House,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<(), CellError> {
        let wall_lines = usize::from(self.walls.is_none());
        while house.wall_lines.len() > wall_lines {
            self.take_away_wall_line(house);
        }
        if house.wall_lines.len() < wall_lines {
            self.add_wall_line(house);
        }
        // A house that came with a wall line of its own has none of these items yet.
        self.provide_items(house.wall_lines.len());
        take_back(&mut house.posts, &mut self.posts);
        let mut walls = mem::take(&mut house.wall_lines);
        let read = self.house.basis(cells.clone()).and_then(|basis| {
            self.read_house(house, walls.first_mut(), basis, |sheet, house, line| {
                sheet.read(cells, basis, house, line)
            })
        });
        house.wall_lines = walls;
        read
    }

    /// Changes a house that was read, or changed, before into that of a row of which the number of each cell is known;
    /// but not its name, and not how things are known. The lists of the row must not contradict each other.
    pub(super) fn change(
        &mut self,
        house: &mut House,
        number_of: impl Fn(usize) -> u16,
    ) -> Result<(), CellError> {
        if house.wall_lines.is_empty() {
            self.add_wall_line(house);
        }
        take_back(&mut house.posts, &mut self.posts);
        let mut walls = mem::take(&mut house.wall_lines);
        let changed = self.read_house(house, walls.first_mut(), Basis::Seen, |sheet, house, line| {
            Ok(sheet.change(number_of, house, line))
        });
        house.wall_lines = walls;
        changed
    }

    fn read_house(
        &mut self,
        house: &mut House,
        wall: Option<&mut WallLine>,
        basis: Basis,
        read: impl FnOnce(
            &mut Sheet,
            Option<&mut HousePlaces<'_>>,
            Option<&mut LinePlaces<'_>>,
        ) -> Result<Told, CellError>,
    ) -> Result<(), CellError> {
        let Some(post) = only(&mut self.posts) else {
            return Ok(());
        };
        let mut to = HousePlaces {
            house,
            post,
            has_posts: &mut self.has_posts,
        };
        let told = match (wall, self.items.first_mut()) {
            (Some(wall), Some(items)) => {
                items.take_back(wall);
                STANDS_FOR_ALL.clone_into(&mut wall.name);
                let mut line = items.places(wall);
                let told = read(&mut self.house, Some(&mut to), line.as_mut())?;
                items.lend(wall, told, basis)?;
                told
            }
            _ => read(&mut self.house, Some(&mut to), None)?,
        };
        let has = is_there(to.has_posts, told.of(List::Posts), "posts")?;
        let basis = to.has_posts.basis().unwrap_or(basis);
        lend_or_none(&mut house.posts, &mut self.posts, has, basis);
        Ok(())
    }

    /// Reads a row of the table of wall lines and adds its wall line to the house.
    pub fn read_wall_line<'c>(
        &mut self,
        house: &mut House,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<(), CellError> {
        self.add_wall_line(house);
        let number = house.wall_lines.len().saturating_sub(1);
        let (Some(sheet), Some(wall), Some(items)) = (
            self.walls.as_mut(),
            house.wall_lines.last_mut(),
            self.items.get_mut(number),
        ) else {
            return Ok(());
        };
        let basis = sheet.basis(cells.clone())?;
        STANDS_FOR_ALL.clone_into(&mut wall.name);
        let mut line = items.places(wall);
        let told = sheet.read(cells, basis, None, line.as_mut())?;
        items.lend(wall, told, basis)
    }

    /// What each column of the first table has shown so far.
    pub(super) fn memories(&self) -> &[Memory] {
        &self.house.memory
    }

    /// Notes that a cell stood in a row that made sense; the number of its value.
    pub(super) fn vouch(&mut self, at: usize, column: &'static Column, cell: &str) -> Result<u16, CellError> {
        let read = || {
            let (_, text) = own_basis(cell);
            with_slot(column.slot, |slot| slot.read(text))
                .map_err(|problem| CellError::new(column.name, problem))
        };
        self.house
            .memory
            .get_mut(at)
            .map_or(Ok(0), |memory| memory.vouch(cell, read))
    }

    /// Whether, of two columns of lengths, what stands in the one is surely not more than what stands in the other; each
    /// by its place among all columns and the number of its value.
    #[inline]
    pub(super) fn is_within(&self, [less, more]: [(usize, u16); 2]) -> bool {
        let is_blank = |(_, number): (usize, u16)| number == 0;
        // What is blank contradicts nothing.
        if is_blank(less) || is_blank(more) {
            return true;
        }
        match [less, more].map(|(column, number)| self.house.value(column, number)) {
            [Some(Value::Length(less)), Some(Value::Length(more))] => less <= more,
            _ => false,
        }
    }

    /// Whether a column has shown so many values that it is time to begin anew.
    pub(super) fn is_full(&self) -> bool {
        self.house.memory.iter().any(Memory::is_full)
    }

    /// Forgets all values of all columns, and their numbers.
    pub(super) fn forget(&mut self) {
        self.house.memory.iter_mut().for_each(Memory::forget);
        self.house.present.fill(UNKNOWN);
    }

    fn add_wall_line(&mut self, house: &mut House) {
        house.wall_lines.push(self.spare.pop().unwrap_or_default());
        self.provide_items(house.wall_lines.len());
    }

    fn provide_items(&mut self, wall_lines: usize) {
        if self.items.len() < wall_lines {
            self.items.resize_with(wall_lines, Items::default);
        }
    }

    fn take_away_wall_line(&mut self, house: &mut House) {
        let Some(mut wall) = house.wall_lines.pop() else {
            return;
        };
        if let Some(items) = self.items.get_mut(house.wall_lines.len()) {
            items.take_back(&mut wall);
        }
        self.spare.push(wall);
    }
}

/// A table: its layout, and the cells it has shown so far.
#[derive(Clone, Debug)]
struct Sheet {
    layout: Layout,
    memory: Vec<Memory>,
    /// For each column of the table, its place among all columns of observations.
    places: Vec<usize>,
    /// For each of all columns, where it stands in the table.
    positions: Vec<usize>,
    /// The numbers of the cells that the house was last changed to, by position.
    present: Vec<u16>,
}

/// Of a cell that was read by its text: no value has this number.
const UNKNOWN: u16 = u16::MAX;

impl Sheet {
    fn new(layout: Layout) -> Self {
        let place_of = |meaning: &Meaning| match meaning {
            Meaning::Observation(column) => COLUMNS.iter().position(|other| std::ptr::eq(other, *column)),
            _ => None,
        };
        let places: Vec<usize> = layout
            .meanings
            .iter()
            .map(|meaning| place_of(meaning).unwrap_or(usize::MAX))
            .collect();
        let position_of = |column| places.iter().position(|place| *place == column);
        Self {
            positions: (0..COLUMNS.len())
                .map(|column| position_of(column).unwrap_or(usize::MAX))
                .collect(),
            present: vec![UNKNOWN; places.len()],
            places,
            memory: layout
                .meanings
                .iter()
                .map(|meaning| {
                    Memory::new(&match meaning {
                        Meaning::Observation(column) => column.holds(),
                        _ => Holds::Text,
                    })
                })
                .collect(),
            layout,
        }
    }

    /// How the row is known. This has to be read before any other cell.
    fn basis<'c>(&self, mut cells: impl Iterator<Item = &'c str>) -> Result<Basis, CellError> {
        basis_of(
            self.layout
                .known_by
                .and_then(|at| cells.nth(at))
                .unwrap_or_default(),
        )
    }

    /// Reads the cells of a row into their places, and says of which lists there was anything.
    fn read<'c>(
        &mut self,
        cells: impl Iterator<Item = &'c str>,
        basis: Basis,
        mut house: Option<&mut HousePlaces<'_>>,
        mut line: Option<&mut LinePlaces<'_>>,
    ) -> Result<Told, CellError> {
        self.present.fill(UNKNOWN);
        let mut told = Told::default();
        for ((meaning, memory), cell) in self.layout.meanings.iter().zip(&mut self.memory).zip(cells) {
            let column = match meaning {
                Meaning::Observation(column) => column,
                Meaning::Id => {
                    let id = name_of(cell)?;
                    if let Some(to) = &mut house {
                        id.clone_into(&mut to.house.name);
                    }
                    continue;
                }
                Meaning::WallLine => {
                    if let (Some(to), false) = (&mut line, cell.trim().is_empty()) {
                        cell.trim().clone_into(&mut to.wall.name);
                    }
                    continue;
                }
                Meaning::KnownBy | Meaning::Passed | Meaning::Context(_) => continue,
            };
            let slot = match (column.slot, &mut house, &mut line) {
                (Place::House(find), Some(to), _) => find(to),
                (Place::Line(find), _, Some(to)) => find(to),
                _ => continue,
            };
            let cell = trimmed(cell);
            if cell.is_empty() {
                slot.clear();
                continue;
            }
            told.add(column.of);
            let (own_basis, text) = own_basis(cell);
            let value = memory.recall(cell, || {
                slot.read(text)
                    .map_err(|problem| CellError::new(column.name, problem))
            })?;
            slot.put(value, own_basis.unwrap_or(basis));
        }
        Ok(told)
    }
}

impl Sheet {
    /// The value of a number in one of all columns.
    #[inline]
    fn value(&self, column: usize, number: u16) -> Option<Value> {
        self.memory.get(*self.positions.get(column)?)?.value(number)
    }

    /// Changes what differs from the row before, and says of which lists there is anything.
    fn change(
        &mut self,
        number_of: impl Fn(usize) -> u16,
        mut house: Option<&mut HousePlaces<'_>>,
        mut line: Option<&mut LinePlaces<'_>>,
    ) -> Told {
        let mut told = Told::default();
        let columns = self.layout.meanings.iter().zip(&self.memory);
        for ((meaning, memory), (place, present)) in columns.zip(self.places.iter().zip(&mut self.present)) {
            let Meaning::Observation(column) = meaning else {
                continue;
            };
            let number = number_of(*place);
            if number > 0 {
                told.add(column.of);
            }
            if mem::replace(present, number) == number {
                continue;
            }
            let slot = match (column.slot, &mut house, &mut line) {
                (Place::House(find), Some(to), _) => find(to),
                (Place::Line(find), _, Some(to)) => find(to),
                _ => continue,
            };
            match memory.value(number) {
                Some(value) => slot.put(value, Basis::Seen),
                None => slot.clear(),
            }
        }
        told
    }
}

/// How a row is known, by the cell that says so.
pub(super) fn basis_of(cell: &str) -> Result<Basis, CellError> {
    let text = cell.trim();
    if text.is_empty() {
        return Ok(Basis::Seen);
    }
    let all = [Basis::Measured, Basis::Seen, Basis::Reported, Basis::Inferred];
    all.into_iter().find(|basis| basis.word() == text).ok_or_else(|| {
        CellError::new(
            super::KNOWN_BY,
            format!(
                "found {}; expected measured, seen, reported or inferred",
                shown(text)
            ),
        )
    })
}

/// The name of a house, by the cell that holds it.
#[inline]
pub(super) fn name_of(cell: &str) -> Result<&str, CellError> {
    let id = trimmed(cell);
    if id.is_empty() {
        return Err(CellError::new(
            super::ID,
            "found nothing; expected a name for the house",
        ));
    }
    // The second line of a row that was broken inside a cell would pass for a house.
    if id.contains('"') {
        return Err(CellError::new(
            super::ID,
            "found a quote in it; expected a name without one, and no line break in a cell before it",
        ));
    }
    Ok(id)
}

/// A cell without space around it. Most cells have none, and then their first and last byte tell.
#[inline]
pub(super) fn trimmed(cell: &str) -> &str {
    let is_ink = |byte: &u8| byte.is_ascii_graphic();
    let bytes = cell.as_bytes();
    match (bytes.first(), bytes.last()) {
        (None, None) => cell,
        (Some(first), Some(last)) if is_ink(first) && is_ink(last) => cell,
        _ => cell.trim(),
    }
}

/// A cell that begins with how it is known, as in `inferred: no`, apart from that beginning.
fn own_basis(text: &str) -> (Option<Basis>, &str) {
    if !text.contains(':') {
        return (None, text);
    }
    let told = text.split_once(": ").and_then(|(word, rest)| {
        let basis = Basis::ALL.into_iter().find(|basis| basis.word() == word)?;
        Some((Some(basis), rest.trim_start()))
    });
    told.unwrap_or((None, text))
}

/// What the cells of a column hold.
pub(super) fn holds(place: Place) -> Holds {
    with_slot(place, |slot| slot.holds())
}

/// Does something with the place of an observation in a house of which nothing is known.
fn with_slot<T>(place: Place, what: impl FnOnce(&dyn Slot) -> T) -> T {
    match place {
        Place::House(find) => what(find(&mut HousePlaces {
            house: &mut House::default(),
            post: &mut Post::default(),
            has_posts: &mut Observed::default(),
        })),
        Place::Line(find) => what(find(&mut LinePlaces {
            wall: &mut WallLine::default(),
            foundation: &mut FoundationStretch::default(),
            sill: &mut SillPiece::default(),
            anchor: &mut Anchor::default(),
            cripple: &mut CrippleStretch::default(),
            panel: &mut Panel::default(),
            connection: &mut Connection::default(),
            stated: &mut Stated::default(),
        })),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::house::AsBuilt;
    use crate::portfolio::Form;
    use rstest::rstest;

    fn reader(names: &[&str]) -> RowReader {
        RowReader::one_table(Layout::new(names.iter().copied(), Form::OneTable).unwrap())
    }

    fn read(names: &[&str], cells: &[&str]) -> Result<House, CellError> {
        let mut house = House::default();
        reader(names).read(&mut house, cells.iter().copied())?;
        Ok(house)
    }

    #[test]
    fn a_blank_is_unknown_in_every_column() {
        let names: Vec<&str> = COLUMNS.iter().map(|column| column.name).chain(["id"]).collect();
        let cells: Vec<&str> = COLUMNS.iter().map(|_| " ").chain(["a"]).collect();
        let blank = read(&names, &cells).unwrap();
        let bare = read(&["id"], &["a"]).unwrap();
        assert_eq!(blank, bare);
        assert_eq!(blank.wall_lines.len(), 1);
        assert!(blank.wall_lines[0].anchors.is_not_recorded());
    }

    #[rstest]
    #[case(&["anchors", "anchor_spacing"], &["no", "4 ft"], "anchors")]
    #[case(&["cripple_wall", "tallest_stud"], &["no", "24 in"], "cripple_wall")]
    #[case(&["panels", "sheathing"], &["no", "plywood"], "panels")]
    #[case(&["posts", "posts_top"], &["no", "connected"], "posts")]
    #[case(&["sill_soundness"], &["sound"], "sill_pieces")]
    #[case(&["sill_pieces"], &["2"], "sill_pieces")]
    #[case(&["sill_pieces"], &["0"], "sill_pieces")]
    #[case(&["units"], &["+1"], "units")]
    #[case(&["known_by"], &["guessed"], "known_by")]
    fn what_contradicts_itself_is_refused(#[case] names: &[&str], #[case] cells: &[&str], #[case] at: &str) {
        let names = [names, &["id"]].concat();
        let cells = [cells, &["a"]].concat();
        let error = read(&names, &cells).unwrap_err();
        assert_eq!(error.column, at, "{error}");
        assert!(
            error.problem.contains("found") && error.problem.contains("expected"),
            "{error}"
        );
    }

    #[test]
    fn a_cell_can_say_itself_how_it_is_known() {
        let names = ["id", "known_by", "stories", "anchors", "posts_top"];
        let cells = ["a", "reported", "1", "inferred: no", "measured: bearing"];
        let house = read(&names, &cells).unwrap();
        assert_eq!(house.building.stories.basis(), Some(Basis::Reported));
        assert_eq!(house.wall_lines[0].anchors.basis(), Some(Basis::Inferred));
        assert_eq!(house.posts.listed()[0].top.basis(), Some(Basis::Measured));
        let error = read(&names, &["a", "", "", "guessed: no", ""]).unwrap_err();
        assert_eq!(error.column, "anchors", "{error}");
    }

    #[test]
    fn a_list_that_is_there_is_known_even_where_nothing_more_is() {
        let house = read(&["id", "anchors", "panels"], &["a", "yes", "yes"]).unwrap();
        let house = AsBuilt::new(house).unwrap();
        let wall = &house.wall_lines[0];
        assert_eq!(wall.anchors.value().map(Vec::len), Some(1));
        assert_eq!(wall.panels.value().map(Vec::len), Some(1));
        let limit = Length::feet(4);
        assert!(wall.anchors.value().unwrap()[0].spacing.at_most(limit).possible());
        assert!(!wall.anchors.value().unwrap()[0].spacing.at_most(limit).certain());
    }

    #[test]
    fn a_sill_is_divided_into_pieces_without_a_gap() {
        let names = ["id", "wall_length", "sill_pieces", "sill_soundness"];
        let house = AsBuilt::new(read(&names, &["a", "25 ft", "3", "split"]).unwrap()).unwrap();
        let sill = house.wall_lines[0].sill.value().unwrap();
        assert_eq!(sill.len(), 3);
        assert_eq!((sill[0].from, sill[2].to), (None, Some(Length::feet(25))));
        assert_eq!((sill[0].to, sill[1].to), (sill[1].from, sill[2].from));
        assert!(sill.iter().all(|piece| piece.soundness == sill[0].soundness));
    }

    /// Rows of every kind one after another: nothing of a row is left in the next.
    #[test]
    fn no_row_leaves_anything_behind() {
        let names = [
            "id",
            "known_by",
            "stories",
            "wall_length",
            "sill_pieces",
            "anchors",
            "anchor_spacing",
            "panels",
            "sheathing",
            "posts_top",
        ];
        let rows = [
            [
                "a", "measured", "1", "24 ft", "3", "", "4 ft", "yes", "plywood", "bearing",
            ],
            ["b", "", "", "", "", "no", "", "", "", ""],
            [
                "c",
                "reported",
                "2",
                "18 ft",
                "1",
                "yes",
                "",
                "no",
                "",
                "connected",
            ],
            ["d", "", "", "", "", "", "", "", "", ""],
            ["e", "", "one", "", "", "", "", "", "", ""],
            ["f", "", "", "30 ft", "2", "", "6 ft", "", "osb", ""],
        ];
        let mut reader = reader(&names);
        let mut house = House::default();
        for row in rows.iter().chain(rows.iter().rev()) {
            let again = reader.read(&mut house, row.iter().copied());
            match read(&names, row) {
                Ok(fresh) => assert_eq!(house, fresh),
                Err(error) => assert_eq!(again, Err(error)),
            }
        }
    }
}
