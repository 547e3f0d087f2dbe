//! Rows through every check, with what came of the same values on an earlier row looked up and not worked out again.

use indexmap::IndexSet;
use thiserror::Error;

use super::column::{COLUMNS, Column};
use super::digest::{Digest, Governing};
use super::graph::{EMPTY, Gate, Graph, INPUTS, LISTED, ListSlot, Node, Of, OfCase, Slot, Step};
use super::layout::{Layout, Meaning};
use super::memory::{Memory, NO};
use super::row::{CellError, RowReader, basis_of, name_of, trimmed};
use super::share::Share;
use super::table::{Key, Table};
use crate::check::{Assessor, Begun, Brief, Chain, Finding, Link, Quantity, Shared};
use crate::house::{AsBuilt, Problem};
use crate::observation::Truth;
use crate::provisions::Provisions;

/// Why a row has no digest.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum RowError {
    /// A cell cannot be read, or contradicts another.
    #[error(transparent)]
    Cell(#[from] CellError),
    /// Its house does not make sense.
    #[error("the house does not make sense")]
    House(Vec<Problem>),
}

/// Checks rows of a table that has a house and its one wall line in each.
///
/// What it comes to is what reading a row into a house, checking that house and taking the [`Digest`] of its
/// findings comes to. But most of a row has stood in the table before: a check is run only where the values and
/// figures it hangs on have not met before.
///
/// ```
/// use retrofit_core::check::Ruling;
/// use retrofit_core::portfolio::{Form, Layout, RowChecker};
/// use retrofit_core::provisions::Library;
///
/// let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
/// let layout = Layout::new(["id", "stories", "anchors"], Form::OneTable)?;
/// let mut checker = RowChecker::new(layout, &provisions);
/// let digest = checker.check(["Q-17", "1", "no"].into_iter())?;
/// assert_eq!(digest.outcomes.ruling(), Ruling::NotMet);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct RowChecker<'p> {
    graph: Graph,
    /// What stands in each column of the table.
    roles: Vec<Role>,
    slots: Slots,
    works: Works<'p>,
    /// Gates on the way whose passage is not known yet: the last step behind each, its own place, and its key.
    gates: Vec<(usize, usize, Key)>,
}

/// What works out what is not known yet, and remembers it.
#[derive(Clone, Debug)]
struct Works<'p> {
    provisions: &'p Provisions,
    reader: RowReader,
    house: AsBuilt,
    assessor: Assessor,
    /// Whether house and assessor are those of the present row, as far as checks go by it.
    begun: Option<Begun>,
    /// Whether they are so in all, because the row was read by its cells.
    is_whole: bool,
    /// Whether anything was worked out since it was last asked whether there is too much of it.
    has_grown: bool,
    recalled: Recalled,
}

/// What a column of a table is to a row.
#[derive(Clone, Copy, Debug)]
enum Role {
    Id,
    KnownBy,
    /// A column of observations, by its place among all.
    Observation(&'static Column, Slot),
    /// Not read.
    Passed,
}

/// The numbers of a row.
#[derive(Clone, Debug)]
struct Slots {
    numbers: [u16; SLOTS],
    /// Whether there is nothing to what a number stands for.
    is_nothing: [bool; SLOTS],
    /// By check, the number of what its findings show; but not where it was passed by.
    shows: [u16; SLOTS],
    /// The gates that steps were passed by at: the places of their checks, and the number of the passage.
    passed: Vec<(std::ops::Range<u8>, u16)>,
}

/// As many as a slot has names.
const SLOTS: usize = 1 << u8::BITS;

impl Slots {
    #[inline]
    fn get(&self, slot: Slot) -> u16 {
        self.numbers.get(usize::from(slot.0)).copied().unwrap_or_default()
    }

    #[inline]
    fn set(&mut self, slot: Slot, number: u16) {
        if let Some(here) = self.numbers.get_mut(usize::from(slot.0)) {
            *here = number;
        }
    }

    #[inline]
    fn set_nothing(&mut self, slot: Slot, is_nothing: bool) {
        if let Some(here) = self.is_nothing.get_mut(usize::from(slot.0)) {
            *here = is_nothing;
        }
    }

    /// The number of what the findings of a check show.
    fn shows(&self, place: u8, passages: &Numbered<Passage>) -> u16 {
        let passed = self.passed.iter().find(|(places, _)| places.contains(&place));
        let shows = match passed {
            Some((places, number)) => numbered(passages, *number)
                .and_then(|passage| passage.shows.get(usize::from(place - places.start))),
            None => self.shows.get(usize::from(place)),
        };
        shows.copied().unwrap_or_default()
    }

    #[inline]
    fn is_nothing(&self, slot: Slot) -> bool {
        self.is_nothing
            .get(usize::from(slot.0))
            .copied()
            .unwrap_or_default()
    }

    #[inline]
    fn put(&mut self, node: &Node, came: Came) {
        self.set(node.into, came.to);
        self.set(node.answer, came.answer);
        self.set_nothing(node.into, came.is_nothing);
        if let Some(here) = self.shows.get_mut(usize::from(node.place)) {
            *here = came.shows;
        }
    }

    /// Two columns and their numbers.
    #[inline]
    fn pair(&self, one: Slot, other: Slot) -> [(usize, u16); 2] {
        [one, other].map(|slot| (usize::from(slot.0), self.get(slot)))
    }

    /// The inputs of a node side by side.
    #[inline]
    fn key(&self, inputs: [Slot; INPUTS]) -> Key {
        let word = |slots: &[Slot; INPUTS / 2]| {
            let numbers = slots.iter().rev().map(|slot| u64::from(self.get(*slot)));
            numbers.fold(0, |word, number| word << u16::BITS | number)
        };
        let (halves, _) = inputs.as_chunks::<{ INPUTS / 2 }>();
        match halves {
            [few, [Slot::NONE, ..]] => [word(few), 0],
            [head, tail] => [word(head), word(tail)],
            _ => [0, 0],
        }
    }
}

/// What came of the inputs of a node.
#[derive(Clone, Copy, Debug, Default)]
struct Came {
    /// The number that goes into its slot.
    to: u16,
    /// The number of the answer that others share with it; of a group, of its link.
    answer: u16,
    /// The number of what its findings show.
    shows: u16,
    is_nothing: bool,
}

/// What was worked out on earlier rows.
#[derive(Clone, Debug)]
struct Recalled {
    /// What came of each step.
    tables: Vec<Table<Came>>,
    /// How many places all tables have together.
    places: usize,
    /// What came of the links of an earlier strengthening, by their numbers.
    chains: Table<Came>,
    /// What the steps behind a gate put into slots and places.
    passages: Numbered<Passage>,
    /// The codes of what is shared, for each step; and of what is asked.
    codes: Numbered<Box<[i64]>>,
    /// What the findings of a check come to.
    briefs: Numbered<Vec<Brief>>,
    /// What they show.
    shown: Numbered<Vec<[Quantity; 2]>>,
    shares: Numbered<Share>,
    links: Numbered<Link>,
    /// What is asked in a case, by the number of the case: of the house and of the wall line. With it stands what
    /// comes of the nodes that hang on nothing else.
    asked: [Vec<Option<Asked>>; 2],
}

/// What is asked in a case: a number for each set of figures.
#[derive(Clone, Debug)]
struct Asked {
    numbers: Box<[u16]>,
    settled: Box<[Came]>,
}

/// What the steps behind a gate left: the numbers of the slots that are read by others, whether there is nothing to
/// them, and what their findings show.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
struct Passage {
    outputs: Box<[(u16, bool)]>,
    shows: Box<[u16]>,
}

impl Passage {
    #[inline]
    fn put(&self, number: u16, gate: &Gate, slots: &mut Slots) {
        for (slot, (number, is_nothing)) in gate.outputs.iter().zip(&self.outputs) {
            slots.set(*slot, *number);
            slots.set_nothing(*slot, *is_nothing);
        }
        if !gate.places.is_empty() {
            slots.passed.push((gate.places.clone(), number));
        }
    }
}

#[inline]
fn copy<T: Copy>(from: &[T], to: Option<&mut [T]>) {
    if let Some(to) = to.filter(|to| to.len() == from.len()) {
        to.copy_from_slice(from);
    }
}

impl Recalled {
    /// With more than this of anything, it is time to begin anew.
    const MOST: usize = 40_000;
    /// The most keys of a table, as a power of two.
    const TABLE_BITS: u32 = 16;
    /// All tables together grow up to so many places, of 24 bytes each.
    const MOST_PLACES: usize = 1 << 19;

    fn new(graph: &Graph) -> Self {
        Self {
            tables: graph.steps.iter().map(|_| Table::new(Self::TABLE_BITS)).collect(),
            places: 0,
            chains: Table::new(Self::TABLE_BITS),
            passages: Numbered::default(),
            codes: Numbered::default(),
            briefs: Numbered::default(),
            shown: Numbered::default(),
            shares: Numbered::default(),
            links: Numbered::default(),
            asked: [Vec::new(), Vec::new()],
        }
    }

    fn is_full(&self) -> bool {
        let most = [
            self.codes.len(),
            self.briefs.len(),
            self.shown.len(),
            self.shares.len(),
            self.links.len(),
            self.passages.len(),
        ];
        most.into_iter().any(|count| count >= Self::MOST)
    }
}

/// Values by number.
type Numbered<T> = IndexSet<T, foldhash::fast::FixedState>;

/// The number of a value, which is one more than its place.
fn number<T: std::hash::Hash + Eq>(set: &mut Numbered<T>, value: T) -> u16 {
    // Everything is forgotten long before there are so many.
    u16::try_from(set.insert_full(value).0 + 1).unwrap_or(u16::MAX)
}

/// The value of a number.
#[inline]
fn numbered<T>(set: &Numbered<T>, number: u16) -> Option<&T> {
    set.get_index(usize::from(number).checked_sub(1)?)
}

impl<'p> RowChecker<'p> {
    /// For a table whose rows hold a house and its one wall line.
    pub fn new(layout: Layout, provisions: &'p Provisions) -> Self {
        let place_of = |column: &Column| COLUMNS.iter().position(|other| std::ptr::eq(other, column));
        let roles = layout.meanings.iter().map(|meaning| match meaning {
            Meaning::Id => Role::Id,
            Meaning::KnownBy => Role::KnownBy,
            Meaning::WallLine | Meaning::Context(_) | Meaning::Passed => Role::Passed,
            Meaning::Observation(column) => {
                let place = place_of(column).and_then(|place| u8::try_from(place).ok());
                Role::Observation(column, place.map_or(Slot::NONE, Slot))
            }
        });
        let roles = roles.collect();
        let has = |column: &Column| {
            let meant = |meaning: &Meaning| matches!(meaning, Meaning::Observation(other) if std::ptr::eq(*other, column));
            layout.meanings.iter().any(meant)
        };
        let graph = Graph::new(provisions, &has);
        let mut slots = Slots {
            numbers: [0; SLOTS],
            is_nothing: [false; SLOTS],
            shows: [0; SLOTS],
            passed: Vec::new(),
        };
        if let Some(is_nothing) = slots.is_nothing.get_mut(usize::from(Slot::NONE.0)) {
            *is_nothing = true;
        }
        Self {
            roles,
            slots,
            gates: Vec::new(),
            works: Works {
                provisions,
                reader: RowReader::one_table(layout),
                house: AsBuilt::default(),
                assessor: Assessor::default(),
                begun: None,
                is_whole: false,
                has_grown: false,
                recalled: Recalled::new(&graph),
            },
            graph,
        }
    }

    /// Checks a row.
    pub fn check<'c>(&mut self, cells: impl Iterator<Item = &'c str> + Clone) -> Result<Digest, RowError> {
        self.check_bytes(cells.clone().map(str::as_bytes), cells)
    }

    /// Checks a row that is at hand as bytes, and as text where it has to be read.
    pub fn check_bytes<'c>(
        &mut self,
        bytes: impl Iterator<Item = &'c [u8]>,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<Digest, RowError> {
        let Self {
            graph,
            roles,
            slots,
            works,
            gates,
        } = self;
        works.begun = None;
        gates.clear();
        slots.passed.clear();
        works.begin_anew_when_full(graph);
        if !slots.number_cells(roles, works.reader.memories(), bytes) {
            works.begin(cells.clone())?;
            slots.number_vouched(roles, &mut works.reader, cells.clone())?;
        }
        if !slots.number_lists(graph) {
            // One column contradicts another; reading the row tells which.
            works.begin(cells.clone())?;
        }
        let mut at = 0;
        while let Some(step) = graph.steps.get(at) {
            match step {
                Step::Within { less, more, .. } if works.reader.is_within(slots.pair(*less, *more)) => {}
                Step::Node(node) | Step::Within { node, .. } => {
                    let key = slots.key(node.inputs);
                    let came = match works.recalled.came(at, key) {
                        Some(came) => came,
                        None => works.work_out(at, node, key, slots, cells.clone())?,
                    };
                    slots.put(node, came);
                }
                Step::Asked(of_case) => {
                    if !works.recalled.put_asked(of_case, slots) {
                        works.find_asked(of_case, slots, cells.clone())?;
                    }
                }
                Step::Unless {
                    nothing_to,
                    from,
                    into,
                } => {
                    let number = slots.get(*from);
                    let number = if slots.is_nothing(*nothing_to) {
                        number.min(1)
                    } else {
                        number
                    };
                    slots.set(*into, number);
                }
                Step::Links {
                    done,
                    links,
                    into,
                    place,
                } => {
                    let came =
                        works.over_links((at, *place), slots.get(*done), links.map(|link| slots.get(link)));
                    slots.set(*into, came.to);
                    if let Some(shows) = slots.shows.get_mut(usize::from(*place)) {
                        *shows = came.shows;
                    }
                }
                Step::Gate(gate) => {
                    if slots.get(gate.list) != LISTED {
                        let key = slots.key(gate.inputs);
                        let passage = works.recalled.came(at, key);
                        match passage
                            .and_then(|came| Some((came.to, numbered(&works.recalled.passages, came.to)?)))
                        {
                            Some((number, passage)) => {
                                passage.put(number, gate, slots);
                                at += gate.steps;
                            }
                            None => gates.push((at + gate.steps, at, key)),
                        }
                    }
                }
            }
            // The steps behind a gate that was shut for the first time have been taken one by one.
            while let Some((_, gate_at, key)) = gates.pop_if(|(last, ..)| *last == at) {
                works.keep_passage(graph, gate_at, key, slots);
            }
            at += 1;
        }
        let groups = graph.groups.iter();
        let shares = groups.filter_map(|group| numbered(&works.recalled.shares, slots.get(*group)));
        Ok(Share::digest(shares, |place| {
            let check = place / FINDINGS;
            let id = *graph.checks.get(usize::from(check))?;
            let shows = slots.shows(check, &works.recalled.passages);
            let shows = numbered(&works.recalled.shown, shows)?;
            let wall_line = (!id.is_of_house()).then_some(0);
            Some(Governing::new(
                id,
                wall_line,
                *shows.get(usize::from(place % FINDINGS))?,
            ))
        }))
    }

    /// The house of the row that was last checked, from the same cells.
    pub fn house<'c>(&mut self, cells: impl Iterator<Item = &'c str> + Clone) -> Result<&AsBuilt, RowError> {
        self.works.begin(cells)?;
        Ok(&self.works.house)
    }
}

/// Whether a cell is the name of a house. Most are told by their bytes.
fn is_name(cell: &[u8]) -> bool {
    let is_ink = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_graphic);
    let is_plain = is_ink(cell.first()) && is_ink(cell.last()) && !cell.contains(&b'"');
    is_plain || std::str::from_utf8(cell).is_ok_and(|cell| name_of(cell).is_ok())
}

/// How far apart the places of two checks are in the order of findings: no check finds more of one wall line.
const FINDINGS: u8 = 4;

impl Slots {
    /// Puts the number of each cell into its slot; false where one has not stood in a row that made sense.
    #[inline]
    fn number_cells<'c>(
        &mut self,
        roles: &[Role],
        memories: &[Memory],
        cells: impl Iterator<Item = &'c [u8]>,
    ) -> bool {
        let mut are_known = true;
        for ((role, memory), cell) in roles.iter().zip(memories).zip(cells) {
            match role {
                Role::Observation(_, slot) => {
                    // As they are numbered when they are read; other space than this is rare, and such a row is read.
                    let cell = cell.trim_ascii();
                    let number = if cell.is_empty() {
                        Some(0)
                    } else {
                        memory.number_of(cell)
                    };
                    are_known &= number.is_some();
                    self.set(*slot, number.unwrap_or_default());
                }
                Role::Id => are_known &= is_name(cell),
                Role::KnownBy => {
                    are_known &= std::str::from_utf8(cell).is_ok_and(|cell| basis_of(cell).is_ok());
                }
                Role::Passed => {}
            }
        }
        are_known
    }

    /// The same for a row that was read and makes sense.
    fn number_vouched<'c>(
        &mut self,
        roles: &[Role],
        reader: &mut RowReader,
        cells: impl Iterator<Item = &'c str>,
    ) -> Result<(), CellError> {
        for (at, (role, cell)) in roles.iter().zip(cells).enumerate() {
            if let Role::Observation(column, slot) = role {
                let cell = trimmed(cell);
                let number = if cell.is_empty() {
                    0
                } else {
                    reader.vouch(at, column, cell)?
                };
                self.set(*slot, number);
            }
        }
        Ok(())
    }

    /// Finds which lists there are; false where the row says two things of one.
    fn number_lists(&mut self, graph: &Graph) -> bool {
        let mut is_consistent = true;
        let is_told = |slots: &Self, list: &ListSlot| list.described.iter().any(|slot| slots.get(*slot) > 0);
        for list in &graph.lists {
            let stated = self.get(list.stated);
            let is_described = is_told(self, list);
            is_consistent &= !(is_described && stated == EMPTY);
            self.set(list.slot, if is_described { LISTED } else { stated });
            self.set_nothing(list.slot, !is_described && stated != LISTED);
        }
        let has_pieces = self.get(graph.sill.stated) > 0;
        is_consistent &= has_pieces || !is_told(self, &graph.sill);
        self.set(graph.sill.slot, if has_pieces { LISTED } else { 0 });
        is_consistent
    }
}

impl Works<'_> {
    /// Begins anew when there is more than is worth to be remembered, so that memory does not grow with the table.
    fn begin_anew_when_full(&mut self, graph: &Graph) {
        if !std::mem::take(&mut self.has_grown) {
            return;
        }
        if self.recalled.is_full() || self.reader.is_full() {
            self.recalled = Recalled::new(graph);
            self.reader.forget();
        }
    }

    /// Reads the row into the house, unless it has been.
    fn begin<'c>(&mut self, cells: impl Iterator<Item = &'c str> + Clone) -> Result<Begun, RowError> {
        if let (Some(begun), true) = (self.begun, self.is_whole) {
            return Ok(begun);
        }
        self.begun = None;
        self.has_grown = true;
        let mut read = Ok(());
        let whole = self.house.refill(|house| read = self.reader.read(house, cells));
        read?;
        whole.map_err(RowError::House)?;
        let begun = self.assessor.begin(&self.house, self.provisions);
        self.begun = Some(begun);
        self.is_whole = true;
        Ok(begun)
    }

    /// Makes house and assessor those of the row as far as a step goes by it. A row of which it is not known yet
    /// whether it makes sense is read.
    fn begin_for<'c>(
        &mut self,
        of: Of,
        slots: &Slots,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<Begun, RowError> {
        if let Of::Shared(Shared::Sound | Shared::TallestStud) = of {
            return self.begin(cells);
        }
        if let Some(begun) = self.begun {
            return Ok(begun);
        }
        let number_of = |place| slots.numbers.get(place).copied().unwrap_or_default();
        self.reader.change(self.house.inner_mut(), number_of)?;
        let begun = self.assessor.begin(&self.house, self.provisions);
        self.begun = Some(begun);
        self.is_whole = false;
        Ok(begun)
    }

    /// Works out what comes of the inputs of a node, and remembers it.
    #[cold]
    fn work_out<'c>(
        &mut self,
        at: usize,
        node: &Node,
        key: Key,
        slots: &Slots,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<Came, RowError> {
        self.has_grown = true;
        let came = if let Of::Group { first } = node.of {
            self.group(first, &node.inputs.map(|slot| slots.get(slot)))
        } else {
            let begun = self.begin_for(node.of, slots, cells)?;
            self.came_of(node, slots, begun)
        };
        self.recalled.remember(at, key, came);
        Ok(came)
    }

    /// What comes of a node for the row that was begun.
    fn came_of(&mut self, node: &Node, slots: &Slots, begun: Begun) -> Came {
        match node.of {
            Of::Shared(shared) => {
                let (to, is_nothing) = self.share(shared, begun);
                Came {
                    to,
                    is_nothing,
                    ..Came::default()
                }
            }
            Of::Check(id, shared) => {
                let answer = shared.map_or(0, |shared| self.share(shared, begun).0);
                let findings = self.assessor.findings_of(id, &self.house, self.provisions, begun);
                Came {
                    answer,
                    ..self.recalled.keep(findings)
                }
            }
            Of::Group { first } => self.group(first, &node.inputs.map(|slot| slots.get(slot))),
        }
    }

    /// The check over the links of an earlier strengthening.
    fn over_links(&mut self, (at, place): (usize, u8), done: u16, links: [u16; 5]) -> Came {
        // Where nothing was done, the links are of no account.
        let (done, links) = match done {
            0 => (Truth::Maybe, links),
            NO => (Truth::False, [0; 5]),
            _ => (Truth::True, links),
        };
        let [spaced, single, long, panels, floor] = links.map(u64::from);
        let key = [
            spaced | single << 16 | long << 32 | panels << 48,
            floor | (done as u64) << 16,
        ];
        if let Some(came) = self.recalled.chains.find(key) {
            return came;
        }
        let came = self.over_chain((at, place), done, links);
        let may_grow = self.recalled.may_grow();
        self.recalled.chains.keep(key, came, may_grow);
        came
    }

    /// The same by as much of the links as it goes by.
    fn over_chain(
        &mut self,
        (at, place): (usize, u8),
        done: Truth,
        [spaced, single, long, panels, floor]: [u16; 5],
    ) -> Came {
        let links = &self.recalled.links;
        let parts = |parts: [u16; 2]| parts.into_iter().filter_map(|part| numbered(links, part));
        let chain = Chain::new([parts([spaced, single]), parts([long, panels]), parts([floor, 0])]);
        let key = chain.key(done);
        if let Some(came) = self.recalled.came(at, key) {
            return came;
        }
        self.has_grown = true;
        let kept = self.recalled.keep(self.assessor.over_links(done, &chain));
        let came = Came {
            shows: kept.shows,
            ..self.group(place, &[kept.to])
        };
        self.recalled.remember(at, key, came);
        came
    }

    /// Remembers what the steps behind a gate left.
    fn keep_passage(&mut self, graph: &Graph, at: usize, key: Key, slots: &Slots) {
        if let Some(Step::Gate(gate)) = graph.steps.get(at) {
            self.has_grown = true;
            let outputs = gate
                .outputs
                .iter()
                .map(|slot| (slots.get(*slot), slots.is_nothing(*slot)));
            let shows = gate.places.clone();
            let shows = shows.map(|place| slots.shows(place, &self.recalled.passages));
            let passage = Passage {
                outputs: outputs.collect(),
                shows: shows.collect(),
            };
            let came = Came {
                to: number(&mut self.recalled.passages, passage),
                ..Came::default()
            };
            self.recalled.remember(at, key, came);
        }
    }

    /// The number of something shared, and whether there is nothing to it.
    fn share(&mut self, shared: Shared, begun: Begun) -> (u16, bool) {
        let mut codes = vec![i64::MIN, shared.number()];
        let is_nothing = self
            .assessor
            .codes_of(shared, &self.house, self.provisions, begun, &mut codes);
        (number(&mut self.recalled.codes, codes.into()), is_nothing)
    }

    /// What the findings of some checks come to together.
    fn group(&mut self, first: u8, checks: &[u16]) -> Came {
        let (mut share, mut link) = (Share::NOTHING, Link::NOTHING);
        for (check, briefs) in (first..).zip(checks) {
            let briefs = numbered(&self.recalled.briefs, *briefs).into_iter().flatten();
            for (place, brief) in (check * FINDINGS..).zip(briefs) {
                share.add(place, brief, self.provisions);
                link.add(None, brief);
            }
        }
        Came {
            to: number(&mut self.recalled.shares, share),
            answer: number(&mut self.recalled.links, link),
            ..Came::default()
        }
    }

    /// Finds out what is asked in a case, and what comes of the nodes that hang on nothing else.
    #[cold]
    fn find_asked<'c>(
        &mut self,
        of_case: &OfCase,
        slots: &mut Slots,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<(), RowError> {
        let begun = self.begin_for(Of::Shared(Shared::LineCases), slots, cells)?;
        let of_house = of_case.of_house;
        let sets = of_case.sets.iter().zip(of_case.slots());
        let numbers = sets.map(|(figures, slot)| {
            let mut codes = vec![i64::from(slot.0)];
            self.assessor
                .asked(of_house, figures, self.provisions, begun, &mut codes);
            number(&mut self.recalled.codes, codes.into())
        });
        let numbers: Box<[u16]> = numbers.collect();
        let mut settled = Vec::new();
        for node in &of_case.settled {
            settled.push(self.came_of(node, slots, begun));
        }
        let case = usize::from(slots.get(of_case.case));
        if let Some(cases) = self.recalled.asked.get_mut(usize::from(of_house)) {
            if cases.len() <= case {
                cases.resize(case + 1, None);
            }
            if let Some(slot) = cases.get_mut(case) {
                *slot = Some(Asked {
                    numbers,
                    settled: settled.into(),
                });
            }
        }
        self.recalled.put_asked(of_case, slots);
        Ok(())
    }
}

impl Recalled {
    /// Puts what is asked in a case into the slots for it; false where it is not known yet.
    #[inline]
    fn put_asked(&self, of_case: &OfCase, slots: &mut Slots) -> bool {
        let case = usize::from(slots.get(of_case.case));
        let cases = self.asked.get(usize::from(of_case.of_house));
        let Some(Some(asked)) = cases.and_then(|cases| cases.get(case)) else {
            return false;
        };
        let first = usize::from(of_case.first.0);
        copy(
            &asked.numbers,
            slots.numbers.get_mut(first..first + asked.numbers.len()),
        );
        for (node, came) in of_case.settled.iter().zip(&asked.settled) {
            slots.put(node, *came);
        }
        true
    }

    #[inline]
    fn came(&self, at: usize, key: Key) -> Option<Came> {
        self.tables.get(at)?.find(key)
    }

    fn may_grow(&self) -> bool {
        self.places + self.chains.len() < Self::MOST_PLACES
    }

    fn remember(&mut self, at: usize, key: Key, came: Came) {
        let may_grow = self.may_grow();
        if let Some(table) = self.tables.get_mut(at) {
            let before = table.len();
            table.keep(key, came, may_grow);
            self.places += table.len() - before;
        }
    }

    /// Keeps what the findings of a check come to.
    fn keep(&mut self, findings: &[Finding]) -> Came {
        let shows = |finding: &Finding| [finding.measured, finding.required];
        Came {
            to: number(&mut self.briefs, findings.iter().map(Finding::brief).collect()),
            shows: number(&mut self.shown, findings.iter().map(shows).collect()),
            ..Came::default()
        }
    }
}

#[cfg(test)]
mod tests;
