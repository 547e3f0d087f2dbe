//! Rows through every check, with what came of the same values on an earlier row looked up and not worked out again.

use thiserror::Error;

use super::column::{COLUMNS, Column};
use super::digest::{Digest, Governing};
use super::direct::key_of;
use super::graph::{EMPTY, Graph, INPUTS, Inputs, LISTED, ListSlot, Node, Of, OfCase, SLOTS, Slot, Step};
use super::layout::{Layout, Meaning};
use super::memory::{Memory, NO};
use super::row::{CellError, RowReader, basis_of, name_of, trimmed};
use super::rows::Rows;
use super::share::Share;
use super::table::Key;
use crate::check::{Assessor, Begun, Brief, Chain, CheckId, Finding, Link, Shared};
use crate::house::{AsBuilt, Problem};
use crate::observation::Truth;
use crate::provisions::Provisions;

use recalled::{Came, Recalled, marked, number_of, numbered};
use together::Together;

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

/// What a row comes to, among some that were checked together.
#[derive(Clone, Copy, Debug)]
pub struct RowDigest<'d> {
    /// What its findings come to.
    pub digest: &'d Digest,
    /// The number of this digest, if it is one that comes again and again: what is made of it can be kept by that. No other
    /// digest of the same [`RowChecker`] has it.
    pub number: Option<u32>,
}

impl<'d> From<&'d Digest> for RowDigest<'d> {
    /// One of which it is not known whether it comes again.
    fn from(digest: &'d Digest) -> Self {
        Self { digest, number: None }
    }
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
    sum: Sum,
    together: Box<Together>,
    works: Works<'p>,
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
    /// Whether a row was read since it was last asked whether there are too many values.
    has_read: bool,
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
}

impl Slots {
    fn new() -> Self {
        let mut slots = Self {
            numbers: [0; SLOTS],
            is_nothing: [false; SLOTS],
        };
        slots.set_nothing(Slot::NONE, true);
        slots
    }

    #[inline]
    fn get(&self, slot: Slot) -> u16 {
        self.numbers.get(slot.place()).copied().unwrap_or_default()
    }

    #[inline]
    fn set(&mut self, slot: Slot, number: u16) {
        if let Some(here) = self.numbers.get_mut(slot.place()) {
            *here = number;
        }
    }

    #[inline]
    fn is_nothing(&self, slot: Slot) -> bool {
        self.is_nothing.get(slot.place()).copied().unwrap_or_default()
    }

    #[inline]
    fn set_nothing(&mut self, slot: Slot, is_nothing: bool) {
        if let Some(here) = self.is_nothing.get_mut(slot.place()) {
            *here = is_nothing;
        }
    }

    #[inline]
    fn put(&mut self, node: &Node, came: Came) {
        self.set(node.into, came.to);
        self.set(node.answer, came.answer);
        self.set_nothing(node.into, came.is_nothing);
    }

    /// Two columns and their numbers.
    #[inline]
    fn pair(&self, one: Slot, other: Slot) -> [(usize, u16); 2] {
        [one, other].map(|slot| (slot.place(), self.get(slot)))
    }

    /// The numbers in some slots side by side.
    fn key(&self, slots: &Inputs) -> Key {
        key_of(slots.map(|slot| self.get(slot)))
    }
}

/// What the steps taken for a row add to its digest.
#[derive(Clone, Debug, Default)]
struct Sum {
    /// The numbers of the shares.
    shares: Vec<u16>,
    /// The gates on the way, those first that hold others.
    gates: Vec<usize>,
    /// The gates whose passage is not known yet.
    open: Vec<OpenGate>,
    /// The number of what the check over the links of an earlier strengthening shows.
    links_show: u16,
}

impl Sum {
    fn clear(&mut self) {
        self.shares.clear();
        self.gates.clear();
        self.open.clear();
    }

    #[inline]
    fn add(&mut self, share: u16) {
        if share > 0 {
            self.shares.push(share);
        }
    }
}

/// A gate whose steps are taken one by one.
#[derive(Clone, Copy, Debug)]
struct OpenGate {
    at: usize,
    last: usize,
    /// How many shares there were before it.
    shares: usize,
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
                let place = place_of(column).and_then(|place| u16::try_from(place).ok());
                Role::Observation(column, place.map_or(Slot::NONE, Slot))
            }
        });
        let roles: Vec<Role> = roles.collect();
        let has = |column: &Column| {
            let meant = |meaning: &Meaning| matches!(meaning, Meaning::Observation(other) if std::ptr::eq(*other, column));
            layout.meanings.iter().any(meant)
        };
        let graph = Graph::new(provisions, &has);
        Self {
            together: Box::new(Together::new(&graph, &roles)),
            roles,
            slots: Slots::new(),
            sum: Sum::default(),
            works: Works {
                provisions,
                reader: RowReader::one_table(layout),
                house: AsBuilt::default(),
                assessor: Assessor::default(),
                begun: None,
                is_whole: false,
                has_read: false,
                recalled: Recalled::new(&graph),
            },
            graph,
        }
    }

    /// Checks a row.
    pub fn check<'c>(&mut self, cells: impl Iterator<Item = &'c str> + Clone) -> Result<Digest, RowError> {
        let written = cells.clone().map(str::as_bytes).enumerate();
        let written = written.filter(|(_, cell)| !cell.is_empty());
        let Self {
            graph,
            roles,
            slots,
            sum,
            together: _,
            works,
        } = self;
        works.begun = None;
        sum.clear();
        works.begin_anew_when_full(graph);
        if !slots.number_cells(roles, works.reader.memories(), written) {
            works.begin(cells.clone())?;
            works.number_vouched(graph, roles, slots, cells.clone())?;
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
                    let came = match works.recalled.came(at, &node.inputs, slots) {
                        Some(came) => came,
                        None => works.work_out(graph, at, node, slots, cells.clone())?,
                    };
                    slots.put(node, came);
                    sum.add(came.share);
                }
                Step::Asked(of_case) => {
                    if !works.recalled.put_asked(of_case, slots) {
                        works.find_asked(graph, of_case, slots, cells.clone())?;
                    }
                }
                Step::Unless {
                    nothing_to,
                    from,
                    into,
                } => {
                    let number = unless(slots.is_nothing(*nothing_to), slots.get(*from));
                    slots.set(*into, number);
                }
                Step::InPlaceOf { blank, from, into } => {
                    let number = if slots.get(*blank) > 0 {
                        0
                    } else {
                        slots.get(*from)
                    };
                    slots.set(*into, number);
                }
                Step::Links { done, links } => {
                    let came = works.over_links(is_done(slots.get(*done)), links, slots, graph);
                    sum.add(came.share);
                    sum.links_show = came.answer;
                }
                Step::Gate(gate) => {
                    if slots.get(gate.list) != LISTED {
                        sum.gates.push(at);
                        if let Some(came) = works.recalled.came(at, &gate.inputs, slots) {
                            works.recalled.put_passage(at, gate, came, slots);
                            sum.add(came.share);
                            at += gate.steps;
                        } else {
                            sum.open.push(OpenGate {
                                at,
                                last: at + gate.steps,
                                shares: sum.shares.len(),
                            });
                        }
                    }
                }
            }
            // The steps behind a gate that was shut for the first time have been taken one by one.
            while let Some(gate) = sum.open.pop_if(|gate| gate.last == at) {
                let behind = sum.shares.get(gate.shares..).unwrap_or_default();
                works.keep_passage(graph, gate.at, slots, behind);
            }
            at += 1;
        }
        let (mut digest, place) = works.recalled.sum_of_shares(&sum.shares).digest();
        if let Some(place) = place {
            digest.governing = works.governing(graph, slots, sum, place, cells)?;
        }
        Ok(digest)
    }

    /// Checks up to [`Rows::MOST`] rows and hands over what each comes to, in their order. Rows in which little is new are
    /// looked up together, which is quicker than one by one.
    pub fn check_rows(
        &mut self,
        rows: Rows<'_>,
        mut each: impl FnMut(usize, Result<RowDigest<'_>, &RowError>),
    ) {
        self.together
            .look_up(&self.graph, &self.roles, &mut self.works, rows);
        for row in 0..rows.len() {
            if let Some(known) = self.together.digest_of(&self.works, row) {
                each(row, Ok(known));
            } else {
                let digest = self.check(rows.row(row));
                each(row, digest.as_ref().map(RowDigest::from));
            }
        }
    }
}

/// Whether a cell is the name of a house. Most are told by their bytes.
fn is_name(cell: &[u8]) -> bool {
    let is_ink = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_graphic);
    // Names are short: looking at each byte, whatever came of those before, is quickest.
    let is_quote = |byte: &u8| *byte == b'"';
    let has_quote = cell.iter().fold(false, |any, byte| any | is_quote(byte));
    let is_plain = is_ink(cell.first()) && is_ink(cell.last()) && !has_quote;
    is_plain || std::str::from_utf8(cell).is_ok_and(|cell| name_of(cell).is_ok())
}

/// Whether there was an earlier strengthening, by the number of the cell that says so.
fn is_done(number: u16) -> Truth {
    match number {
        0 => Truth::Maybe,
        NO => Truth::False,
        _ => Truth::True,
    }
}

/// That there is anything, whatever it is.
const ANYTHING: u16 = 1;

/// What [`Step::Unless`] hands on of a number. One that is told and one that is only known to be there are never alike, so
/// that it makes no difference what else the steps go by that read it.
#[inline]
const fn unless(is_nothing: bool, number: u16) -> u16 {
    match (number, is_nothing) {
        (0, _) => 0,
        (_, true) => ANYTHING,
        (number, false) => number + ANYTHING,
    }
}

/// How far apart the places of two checks are in the order of findings: no check finds more of one wall line.
const FINDINGS: u8 = 4;

impl Slots {
    /// Puts the number of each cell in which anything is written into its slot, and 0 into the others; false where one has
    /// not stood in a row that made sense, or the house has no name.
    #[inline]
    fn number_cells<'c>(
        &mut self,
        roles: &[Role],
        memories: &[Memory],
        written: impl Iterator<Item = (usize, &'c [u8])>,
    ) -> bool {
        if let Some(columns) = self.numbers.get_mut(..COLUMNS.len()) {
            columns.fill(0);
        }
        let (mut are_known, mut is_named) = (true, false);
        for (position, cell) in written {
            match roles.get(position) {
                Some(Role::Observation(_, slot)) => {
                    let number = memories.get(position).and_then(|memory| memory.number_of(cell));
                    are_known &= number.is_some();
                    self.set(*slot, number.unwrap_or_default());
                }
                Some(Role::Id) => is_named = is_name(cell),
                Some(Role::KnownBy) => {
                    are_known &= std::str::from_utf8(cell).is_ok_and(|cell| basis_of(cell).is_ok());
                }
                Some(Role::Passed) | None => {}
            }
        }
        are_known && is_named
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
        let may_be_full = std::mem::take(&mut self.has_read) && self.reader.is_full();
        if may_be_full || self.recalled.is_full() {
            self.recalled = self.recalled.anew(graph);
            self.reader.forget();
        }
    }

    /// Reads the row into the house, unless it has been.
    fn begin<'c>(&mut self, cells: impl Iterator<Item = &'c str> + Clone) -> Result<Begun, RowError> {
        if let (Some(begun), true) = (self.begun, self.is_whole) {
            return Ok(begun);
        }
        self.begun = None;
        self.has_read = true;
        let mut read = Ok(());
        let whole = self.house.refill(|house| read = self.reader.read(house, cells));
        read?;
        whole.map_err(RowError::House)?;
        let begun = self.assessor.begin(&self.house, self.provisions);
        self.begun = Some(begun);
        self.is_whole = true;
        Ok(begun)
    }

    /// Puts the number of each cell of a row into its slot, which was read and makes sense.
    fn number_vouched<'c>(
        &mut self,
        graph: &Graph,
        roles: &[Role],
        slots: &mut Slots,
        cells: impl Iterator<Item = &'c str>,
    ) -> Result<(), CellError> {
        for (at, (role, cell)) in roles.iter().zip(cells).enumerate() {
            if let Role::Observation(column, slot) = role {
                let cell = trimmed(cell);
                let number = if cell.is_empty() {
                    0
                } else {
                    self.reader.vouch(at, column, cell)?
                };
                slots.set(*slot, number);
                self.recalled.make_room(graph, *slot, number);
            }
        }
        Ok(())
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
    #[inline(never)]
    fn work_out<'c>(
        &mut self,
        graph: &Graph,
        at: usize,
        node: &Node,
        slots: &Slots,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<Came, RowError> {
        let came = if let Of::Group { .. } | Of::Together = node.of {
            self.by_numbers(graph, node, slots)
        } else {
            let begun = self.begin_for(node.of, slots, cells)?;
            self.came_of(graph, node, slots, begun)
        };
        self.recalled.remember(at, &node.inputs, slots, came);
        Ok(came)
    }

    /// What comes of a node for the row that was begun.
    fn came_of(&mut self, graph: &Graph, node: &Node, slots: &Slots, begun: Begun) -> Came {
        match node.of {
            Of::Shared(shared) => {
                let (to, is_nothing) = self.share(graph, shared, node.into, begun);
                Came {
                    to,
                    is_nothing,
                    ..Came::default()
                }
            }
            Of::Check(id, shared) => {
                let answer = shared.map_or(0, |shared| self.share(graph, shared, node.answer, begun).0);
                let findings = self.assessor.findings_of(id, &self.house, self.provisions, begun);
                let briefs = findings.iter().map(Finding::brief).collect();
                let to = number_of(&mut self.recalled.briefs, node.into, briefs);
                self.recalled.make_room(graph, node.into, to);
                self.recalled.note(to);
                Came {
                    to,
                    answer,
                    ..Came::default()
                }
            }
            Of::Group { .. } | Of::Together => self.by_numbers(graph, node, slots),
        }
    }

    /// What comes of a node that goes by the numbers of its inputs alone.
    fn by_numbers(&mut self, graph: &Graph, node: &Node, slots: &Slots) -> Came {
        if let Of::Group { first } = node.of {
            return self.group(graph, first, node, slots);
        }
        let numbers = node.inputs.map(|slot| i64::from(slots.get(slot)));
        Came {
            to: self.recalled.number_codes(graph, node.into, numbers.to_vec()),
            ..Came::default()
        }
    }

    /// What the check at some place among the findings shows.
    fn governing<'c>(
        &mut self,
        graph: &Graph,
        slots: &Slots,
        sum: &Sum,
        place: u8,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<Option<Governing>, RowError> {
        let (check, item) = (usize::from(place / FINDINGS), usize::from(place % FINDINGS));
        let Some(id) = graph.checks.get(check).copied() else {
            return Ok(None);
        };
        let shows = if id == CheckId::EarlierRetrofit {
            sum.links_show
        } else {
            self.shows(graph, slots, sum, (check, id), cells)?
        };
        Ok(self.recalled.shows(id, shows, item))
    }

    /// The number of what the findings of a check show.
    fn shows<'c>(
        &mut self,
        graph: &Graph,
        slots: &Slots,
        sum: &Sum,
        (check, id): (usize, CheckId),
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<u16, RowError> {
        let gate = sum.gates.iter().find_map(|at| match graph.steps.get(*at) {
            Some(Step::Gate(gate)) if gate.places >> check & 1 > 0 => Some(gate),
            _ => None,
        });
        let slots_of = gate.map_or(graph.shown_by.get(check), |gate| Some(&gate.shown_by));
        let key = slots.key(slots_of.unwrap_or(&[Slot::NONE; INPUTS]));
        let table = (check, usize::from(gate.is_some()));
        match self.recalled.shown_by(table).and_then(|table| table.find(key)) {
            Some(shows) => Ok(shows),
            None => self.work_out_shows(id, table, key, slots, cells),
        }
    }

    /// Works out what the findings of a check show, and remembers it.
    #[cold]
    fn work_out_shows<'c>(
        &mut self,
        id: CheckId,
        table: (usize, usize),
        key: Key,
        slots: &Slots,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<u16, RowError> {
        let begun = self.begin_for(Of::Check(id, None), slots, cells)?;
        let findings = self.assessor.findings_of(id, &self.house, self.provisions, begun);
        let shows = self.recalled.keep_shown(findings);
        self.recalled.remember_shows(table, key, shows);
        Ok(shows)
    }

    /// The check over the links of an earlier strengthening.
    fn over_links(&mut self, done: Truth, links: &[Vec<Slot>; 3], slots: &Slots, graph: &Graph) -> Came {
        if let (Truth::False, Some(came)) = (done, self.recalled.not_done) {
            return came;
        }
        let of = &self.recalled.links;
        let link = |slot: &Slot| numbered(of.get(slot.place())?, slots.get(*slot));
        let chain = Chain::new(links.each_ref().map(|links| links.iter().filter_map(link)));
        if let Some(came) = self.recalled.chains.find(chain.key(done)) {
            return came;
        }
        let findings = self.assessor.over_links(done, &chain);
        let briefs: Vec<Brief> = findings.iter().map(Finding::brief).collect();
        let answer = self.recalled.keep_shown(findings);
        let place = graph.checks.len().saturating_sub(1);
        let mut share = Share::NOTHING;
        for (place, brief) in (u8::try_from(place).unwrap_or(u8::MAX) * FINDINGS..).zip(&briefs) {
            share.add(CheckId::EarlierRetrofit, place, brief, self.provisions);
        }
        let came = Came {
            answer,
            share: self.recalled.number_share(share),
            ..Came::default()
        };
        if done == Truth::False {
            self.recalled.not_done = Some(came);
        }
        let may_grow = self.recalled.may_grow();
        self.recalled.chains.keep(chain.key(done), came, may_grow);
        came
    }

    /// Remembers what the steps behind a gate left, and the shares that they added.
    fn keep_passage(&mut self, graph: &Graph, at: usize, slots: &Slots, shares: &[u16]) {
        let Some(Step::Gate(gate)) = graph.steps.get(at) else {
            return;
        };
        let whole = self.recalled.sum_of_shares(shares);
        let share = if whole == Share::NOTHING {
            0
        } else {
            self.recalled.number_share(whole)
        };
        let passages = self.recalled.passages.get_mut(at);
        let passage = passages.map_or(0, |passages| passages.keep(gate, slots));
        let came = Came {
            to: self.recalled.note(passage),
            share,
            ..Came::default()
        };
        self.recalled.remember(at, &gate.inputs, slots, came);
    }

    /// The number of something shared, and whether there is nothing to it.
    fn share(&mut self, graph: &Graph, shared: Shared, into: Slot, begun: Begun) -> (u16, bool) {
        let mut codes = Vec::new();
        let is_nothing = self
            .assessor
            .codes_of(shared, &self.house, self.provisions, begun, &mut codes);
        codes.push(i64::from(is_nothing));
        (self.recalled.number_codes(graph, into, codes), is_nothing)
    }

    /// What the findings of some checks come to together.
    fn group(&mut self, graph: &Graph, first: u8, node: &Node, slots: &Slots) -> Came {
        let (mut share, mut link) = (Share::NOTHING, Link::NOTHING);
        for (check, slot) in (first..).zip(&node.inputs) {
            let briefs = self.recalled.briefs.get(slot.place());
            let briefs = briefs.and_then(|briefs| numbered(briefs, slots.get(*slot)));
            let Some(id) = graph.checks.get(usize::from(check)) else {
                continue;
            };
            for (place, brief) in (check * FINDINGS..).zip(briefs.into_iter().flatten()) {
                share.add(*id, place, brief, self.provisions);
                link.add(None, brief);
            }
        }
        Came {
            share: self.recalled.number_share(share),
            answer: self.recalled.number_link(node.answer, link),
            ..Came::default()
        }
    }

    /// Finds out what is asked in a case, and what comes of the nodes that hang on nothing else.
    #[cold]
    fn find_asked<'c>(
        &mut self,
        graph: &Graph,
        of_case: &OfCase,
        slots: &mut Slots,
        cells: impl Iterator<Item = &'c str> + Clone,
    ) -> Result<(), RowError> {
        let begun = self.begin_for(Of::Shared(Shared::LineCases), slots, cells)?;
        let of_house = of_case.of_house;
        let mut numbers = Vec::new();
        for (slot, figures) in of_case.slots().zip(&of_case.sets) {
            let mut codes = Vec::new();
            self.assessor
                .asked(of_house, figures, self.provisions, begun, &mut codes);
            numbers.push(self.recalled.number_codes(graph, slot, codes));
        }
        for node in &of_case.settled {
            let came = self.came_of(graph, node, slots, begun);
            numbers.extend([marked(came.to, came.is_nothing), came.answer]);
        }
        let case = usize::from(slots.get(of_case.case));
        if let Some(asked) = self.recalled.asked.get_mut(usize::from(of_house)) {
            asked.keep(case, &numbers);
        }
        self.recalled.put_asked(of_case, slots);
        Ok(())
    }
}

mod cell_numbers;
mod recalled;
mod sparse;
mod together;

#[cfg(test)]
mod tests;
