//! Rows through every check, with what came of the same values on an earlier row looked up and not worked out again.

use indexmap::IndexSet;
use thiserror::Error;

use super::column::{COLUMNS, Column};
use super::digest::{Digest, Governing};
use super::graph::{Asked, EMPTY, Graph, INPUTS, LISTED, ListColumns, Node, Of, Slot, Step};
use super::layout::{Layout, Meaning};
use super::memory::{Memory, NO};
use super::row::{CellError, RowReader, basis_of, name_of, trimmed};
use super::share::Share;
use super::table::{Key, Table};
use crate::check::{Assessor, Begun, Brief, Finding, Link, Quantity, Shared};
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
}

/// What works out what is not known yet, and remembers it.
#[derive(Clone, Debug)]
struct Works<'p> {
    provisions: &'p Provisions,
    reader: RowReader,
    house: AsBuilt,
    assessor: Assessor,
    /// Whether house and assessor are those of the present row.
    begun: Option<Begun>,
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
    /// By check, the number of what its findings show.
    shows: [u16; SLOTS],
}

/// As many as a slot has names.
const SLOTS: usize = 1 << u8::BITS;

impl Slots {
    fn get(&self, slot: Slot) -> u16 {
        self.numbers.get(usize::from(slot.0)).copied().unwrap_or_default()
    }

    fn set(&mut self, slot: Slot, number: u16) {
        if let Some(here) = self.numbers.get_mut(usize::from(slot.0)) {
            *here = number;
        }
    }

    fn is_nothing(&self, slot: Slot) -> bool {
        self.is_nothing.get(usize::from(slot.0)).copied().unwrap_or_default()
    }

    #[inline]
    fn put(&mut self, node: &Node, came: Came) {
        self.set(node.into, came.to);
        self.set(node.answer, came.answer);
        if let Some(here) = self.is_nothing.get_mut(usize::from(node.into.0)) {
            *here = came.is_nothing;
        }
        if let Some(here) = self.shows.get_mut(usize::from(node.place)) {
            *here = came.shows;
        }
    }

    /// The inputs of a node side by side.
    #[inline]
    fn key(&self, inputs: &[Slot; INPUTS]) -> Key {
        let [a, b, c, d, e, f, g, h] = inputs.map(|slot| u64::from(self.get(slot)));
        [a | b << 16 | c << 32 | d << 48, e | f << 16 | g << 32 | h << 48]
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
    /// For each step; empty for those that are no node.
    tables: Vec<Table<Came>>,
    /// The codes of what is shared, for each step; and of what is asked.
    codes: IndexSet<Box<[i64]>>,
    /// What the findings of a check come to.
    briefs: IndexSet<Vec<Brief>>,
    /// What they show.
    shown: IndexSet<Vec<[Quantity; 2]>>,
    shares: IndexSet<Share>,
    links: IndexSet<Link>,
    /// What is asked in a case, by the number of the case: of the house and of the wall line.
    asked: [Vec<Option<Box<[u16]>>>; 2],
}

impl Recalled {
    /// With more than this of anything, it is time to begin anew.
    const MOST: usize = 1 << 14;
    /// The most keys of a table, as a power of two.
    const TABLE_BITS: u32 = 14;

    fn new(graph: &Graph) -> Self {
        Self {
            tables: graph.steps.iter().map(|_| Table::new(Self::TABLE_BITS)).collect(),
            codes: IndexSet::new(),
            briefs: IndexSet::new(),
            shown: IndexSet::new(),
            shares: IndexSet::new(),
            links: IndexSet::new(),
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
        ];
        most.into_iter().any(|count| count >= Self::MOST)
    }
}

/// The number of a value, which is one more than its place.
fn number<T: std::hash::Hash + Eq>(set: &mut IndexSet<T>, value: T) -> u16 {
    // Everything is forgotten long before there are so many.
    u16::try_from(set.insert_full(value).0 + 1).unwrap_or(u16::MAX)
}

/// The value of a number.
fn numbered<T>(set: &IndexSet<T>, number: u16) -> Option<&T> {
    set.get_index(usize::from(number).checked_sub(1)?)
}

impl<'p> RowChecker<'p> {
    /// For a table whose rows hold a house and its one wall line.
    pub fn new(layout: Layout, provisions: &'p Provisions) -> Self {
        let place_of = |column: &Column| COLUMNS.iter().position(|other| std::ptr::eq(other, column));
        let roles = layout.meanings.iter().map(|meaning| match meaning {
            Meaning::Id => Role::Id,
            Meaning::KnownBy => Role::KnownBy,
            Meaning::WallLine | Meaning::Passed => Role::Passed,
            Meaning::Observation(column) => {
                let place = place_of(column).and_then(|place| u8::try_from(place).ok());
                Role::Observation(column, place.map_or(Slot::NONE, Slot))
            }
        });
        let roles = roles.collect();
        let graph = Graph::new();
        let mut slots = Slots {
            numbers: [0; SLOTS],
            is_nothing: [false; SLOTS],
            shows: [0; SLOTS],
        };
        if let Some(is_nothing) = slots.is_nothing.get_mut(usize::from(Slot::NONE.0)) {
            *is_nothing = true;
        }
        Self {
            roles,
            slots,
            works: Works {
                provisions,
                reader: RowReader::one_table(layout),
                house: AsBuilt::default(),
                assessor: Assessor::default(),
                begun: None,
                has_grown: false,
                recalled: Recalled::new(&graph),
            },
            graph,
        }
    }

    /// Checks a row.
    pub fn check<'c>(&mut self, cells: impl Iterator<Item = &'c str> + Clone) -> Result<Digest, RowError> {
        let Self {
            graph,
            roles,
            slots,
            works,
        } = self;
        works.begun = None;
        works.begin_anew_when_full(graph);
        if !slots.number_cells(roles, works.reader.memories(), cells.clone()) {
            works.begin(cells.clone())?;
            slots.number_vouched(roles, &mut works.reader, cells.clone())?;
        }
        if !slots.number_lists(graph) {
            // One column contradicts another; reading the row tells which.
            works.begin(cells.clone())?;
        }
        for (at, step) in graph.steps.iter().enumerate() {
            match step {
                Step::Node(node) => {
                    let key = slots.key(&node.inputs);
                    let came = match works.recalled.tables.get(at).and_then(|table| table.find(key)) {
                        Some(came) => came,
                        None => works.work_out(at, node, key, slots, cells.clone())?,
                    };
                    slots.put(node, came);
                }
                Step::Asked { case, of_house } => {
                    let asked = if *of_house { &graph.asked_of_house } else { &graph.asked_of_line };
                    works.put_asked(*case, *of_house, asked, slots, cells.clone())?;
                }
                Step::Unless {
                    nothing_to,
                    from,
                    into,
                } => {
                    let number = slots.get(*from);
                    let number = if slots.is_nothing(*nothing_to) { number.min(1) } else { number };
                    slots.set(*into, number);
                }
                Step::UnlessNo { column, from, into } => {
                    let number = if slots.get(*column) == NO { 0 } else { slots.get(*from) };
                    slots.set(*into, number);
                }
            }
        }
        let mut whole = Share::NOTHING;
        for group in &graph.groups {
            if let Some(share) = numbered(&works.recalled.shares, slots.get(*group)) {
                whole.join(share);
            }
        }
        Ok(whole.digest(|place| {
            let check = usize::from(place / FINDINGS);
            let id = *graph.checks.get(check)?;
            let shows = numbered(&works.recalled.shown, *slots.shows.get(check)?)?;
            let wall_line = (!id.is_of_house()).then_some(0);
            Some(Governing::new(id, wall_line, *shows.get(usize::from(place % FINDINGS))?))
        }))
    }

    /// The house of the row that was last checked, from the same cells.
    pub fn house<'c>(&mut self, cells: impl Iterator<Item = &'c str> + Clone) -> Result<&AsBuilt, RowError> {
        self.works.begin(cells)?;
        Ok(&self.works.house)
    }
}

/// How far apart the places of two checks are in the order of findings: no check finds more of one wall line.
const FINDINGS: u16 = 8;

impl Slots {
    /// Puts the number of each cell into its slot; false where one has not stood in a row that made sense.
    #[inline]
    fn number_cells<'c>(
        &mut self,
        roles: &[Role],
        memories: &[Memory],
        cells: impl Iterator<Item = &'c str>,
    ) -> bool {
        let mut are_known = true;
        for ((role, memory), cell) in roles.iter().zip(memories).zip(cells) {
            match role {
                Role::Observation(_, slot) => {
                    let cell = trimmed(cell);
                    let number = if cell.is_empty() { Some(0) } else { memory.number_of(cell) };
                    are_known &= number.is_some();
                    self.set(*slot, number.unwrap_or_default());
                }
                Role::Id => are_known &= name_of(cell).is_ok(),
                Role::KnownBy => are_known &= basis_of(cell).is_ok(),
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
                let number = if cell.is_empty() { 0 } else { reader.vouch(at, column, cell)? };
                self.set(*slot, number);
            }
        }
        Ok(())
    }

    /// Finds which lists there are; false where the row says two things of one.
    fn number_lists(&mut self, graph: &Graph) -> bool {
        let mut told: ListColumns = 0;
        for (at, number) in self.numbers.iter().take(COLUMNS.len()).enumerate() {
            told |= ListColumns::from(*number > 0) << at;
        }
        let mut is_consistent = true;
        for list in &graph.lists {
            let stated = self.get(list.stated);
            let is_described = told & list.described != 0;
            is_consistent &= !(is_described && stated == EMPTY);
            self.set(list.slot, if is_described { LISTED } else { stated });
        }
        let has_pieces = self.get(graph.sill.stated) > 0;
        is_consistent &= has_pieces || told & graph.sill.described == 0;
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
        if let Some(begun) = self.begun {
            return Ok(begun);
        }
        self.has_grown = true;
        let mut read = Ok(());
        let whole = self.house.refill(|house| read = self.reader.read(house, cells));
        read?;
        whole.map_err(RowError::House)?;
        let begun = self.assessor.begin(&self.house, self.provisions);
        self.begun = Some(begun);
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
        let came = match node.of {
            Of::Shared(shared) => {
                let begun = self.begin(cells)?;
                let (to, is_nothing) = self.share(shared, begun);
                Came {
                    to,
                    is_nothing,
                    ..Came::default()
                }
            }
            Of::Check(id, shared) => {
                let begun = self.begin(cells)?;
                let answer = shared.map_or(0, |shared| self.share(shared, begun).0);
                let findings = self.assessor.findings_of(id, &self.house, self.provisions, begun);
                Came {
                    answer,
                    ..self.recalled.keep(findings)
                }
            }
            Of::Group { first } => self.group(first, &node.inputs.map(|slot| slots.get(slot))),
            Of::Links => {
                let [done, spaced, single, long, panels, floor, ..] =
                    node.inputs.map(|slot| slots.get(slot));
                let link = |parts: &[u16]| {
                    let mut link = Link::NOTHING;
                    let parts = parts.iter().filter_map(|part| numbered(&self.recalled.links, *part));
                    parts.for_each(|part| link.join(part));
                    link
                };
                let links = [link(&[spaced, single]), link(&[long, panels]), link(&[floor])];
                let done = match done {
                    0 => Truth::Maybe,
                    NO => Truth::False,
                    _ => Truth::True,
                };
                self.recalled.keep(self.assessor.over_links(done, links))
            }
        };
        if let Some(table) = self.recalled.tables.get_mut(at) {
            table.keep(key, came);
        }
        Ok(came)
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
    fn group(&mut self, first: u16, checks: &[u16]) -> Came {
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

    /// Puts what is asked in a case into the slots for it.
    #[inline]
    fn put_asked<'c>(
        &mut self,
        case: Slot,
        of_house: bool,
        asked: &Asked,
        slots: &mut Slots,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<(), RowError> {
        let case = usize::from(slots.get(case));
        let first = usize::from(asked.first.0);
        let into = slots.numbers.get_mut(first..first + asked.sets.len());
        let known = self.recalled.asked.get(usize::from(of_house)).and_then(|cases| cases.get(case));
        match (known, into) {
            (Some(Some(known)), Some(into)) if known.len() == into.len() => into.copy_from_slice(known),
            (_, into) => {
                let begun = self.begin(cells)?;
                let numbers: Box<[u16]> = asked.sets.iter().enumerate().map(|(at, figures)| {
                    let mut codes = vec![i64::try_from(at).unwrap_or_default(), i64::from(of_house)];
                    self.assessor.asked(of_house, figures, self.provisions, begun, &mut codes);
                    number(&mut self.recalled.codes, codes.into())
                }).collect();
                if let Some(into) = into {
                    into.copy_from_slice(&numbers);
                }
                if let Some(cases) = self.recalled.asked.get_mut(usize::from(of_house)) {
                    if cases.len() <= case {
                        cases.resize(case + 1, None);
                    }
                    if let Some(slot) = cases.get_mut(case) {
                        *slot = Some(numbers);
                    }
                }
            }
        }
        Ok(())
    }
}

impl Recalled {
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
