//! Rows side by side, each step of the graph for all of them before the next; as far as everything has met before.
//!
//! Nothing is worked out here: a row in which anything is new is left to be checked on its own, and then its like is
//! known. Next to each other the look-ups of a step do not wait for one another, and what a step is need be found out
//! only once.

use super::super::rows::{ROWS, RowSet, Rows, each};
use super::{Came, FINDINGS, NOTHING, Recall, Recalled, Role, Works, is_name, numbered};
use crate::check::CheckId;
use crate::portfolio::digest::{Digest, Governing};
use crate::portfolio::direct::key_of;
use crate::portfolio::graph::{EMPTY, Gate, Graph, Inputs, LISTED, ListSlot, Node, Of, SLOTS, Slot, Step};
use crate::portfolio::row::basis_of;
use crate::portfolio::share::Share;

/// The numbers of some rows, slot by slot.
#[derive(Clone, Debug)]
pub(super) struct Together {
    numbers: Vec<[u16; ROWS]>,
    /// By slot, the rows with nothing to what their numbers stand for.
    nothing: Vec<RowSet>,
    of_cases: OfCases,
    /// What came of the present step.
    came: [Came; ROWS],
    /// By row, the numbers of the shares in its digest.
    shares: [Shares; ROWS],
    /// By row, the number of what the check over the links of an earlier strengthening shows.
    links_show: [u16; ROWS],
    /// By check, the gates before it, those first that hold others.
    gates: Vec<Vec<usize>>,
    /// What each row comes to, where that is known.
    digests: Vec<Option<Digest>>,
}

/// What is asked in the cases of the rows. Few of the many figures are ever gone by for a row, so that they are fetched
/// only for the steps that are taken.
#[derive(Clone, Debug)]
struct OfCases {
    /// By slot, which of the cases it hangs on alone, and its place in what is asked.
    places: Vec<Option<(usize, usize)>>,
    /// The numbers of the cases of house and wall line.
    numbers: [[u16; ROWS]; 2],
    /// By slot, the rows for which it has been fetched.
    fetched: Vec<RowSet>,
}

/// Numbers of shares, one after another.
#[derive(Clone, Copy, Debug)]
struct Shares {
    numbers: [u16; Self::MOST],
    count: usize,
}

impl Shares {
    /// More than there are groups and gates.
    const MOST: usize = 31;
    const NONE: Self = Self {
        numbers: [0; Self::MOST],
        count: 0,
    };

    #[inline]
    fn add(&mut self, share: u16) {
        if let Some(next) = self.numbers.get_mut(self.count) {
            *next = share;
            self.count += usize::from(share > 0);
        }
    }
}

/// Rows that wait behind a gate for those that take its steps one by one.
struct Waiting {
    last: usize,
    rows: RowSet,
}

/// That something about a row is not known yet.
struct NotKnown;

impl Together {
    pub(super) fn new(graph: &Graph) -> Self {
        let mut places = vec![None; SLOTS];
        for step in &graph.steps {
            if let Step::Asked(of_case) = step {
                for (at, slot) in of_case.fetched().into_iter().enumerate() {
                    if let (Some(place), true) = (places.get_mut(slot.place()), slot != Slot::UNREAD) {
                        *place = Some((usize::from(of_case.of_house), at));
                    }
                }
            }
        }
        let gates_of = |check: usize| {
            let gates = graph.steps.iter().enumerate();
            let gates = gates.filter(|(_, step)| matches!(step, Step::Gate(gate) if gate.places >> check & 1 > 0));
            gates.map(|(at, _)| at).collect()
        };
        let mut nothing = vec![0; SLOTS];
        if let Some(none) = nothing.get_mut(Slot::NONE.place()) {
            *none = RowSet::MAX;
        }
        debug_assert!(
            graph.steps.iter().filter(|step| step.has_share()).count() <= Shares::MOST,
            "room for every share"
        );
        Self {
            numbers: vec![[0; ROWS]; SLOTS],
            nothing,
            of_cases: OfCases {
                places,
                numbers: [[0; ROWS]; 2],
                fetched: vec![0; SLOTS],
            },
            came: [Came::default(); ROWS],
            shares: [Shares::NONE; ROWS],
            links_show: [0; ROWS],
            gates: (0..graph.checks.len()).map(gates_of).collect(),
            digests: Vec::with_capacity(ROWS),
        }
    }

    /// What each of some rows comes to; nothing of a row in which anything is new.
    pub(super) fn look_up(
        &mut self,
        graph: &Graph,
        roles: &[Role],
        works: &Works<'_>,
        rows: Rows<'_>,
    ) {
        let recalled = &works.recalled;
        self.of_cases.fetched.fill(0);
        self.shares.iter_mut().for_each(|shares| shares.count = 0);
        let known = self.number_cells(roles, works, rows);
        let mut going = self.number_lists(graph, known);
        let mut waiting: Vec<Waiting> = Vec::new();
        let mut at = 0;
        while let Some(step) = graph.steps.get(at) {
            match step {
                Step::Within { less, more, .. } => {
                    let [less, more] = [less, more].map(|slot| (slot.place(), self.column(*slot)));
                    let mut within = 0;
                    for row in each(going) {
                        let pair = [less, more].map(|(place, numbers)| (place, at_row(numbers, row)));
                        within |= RowSet::from(works.reader.is_within(pair)) << row;
                    }
                    going &= within;
                }
                Step::Node(node) => {
                    going = self.recall(recalled, at, &node.inputs, going);
                    self.put(node, going);
                }
                Step::Asked(of_case) => going = self.of_cases.begin(of_case, &self.numbers, recalled, going),
                Step::Unless {
                    nothing_to,
                    from,
                    into,
                } => {
                    self.fetch(recalled, *nothing_to, going);
                    let nothing = self.nothing.get(nothing_to.place()).copied().unwrap_or_default();
                    self.hand_on(*from, *into, |row, number| match nothing >> row & 1 {
                        0 => number,
                        _ => number.min(1),
                    });
                }
                Step::InPlaceOf { blank, from, into } => {
                    let blank = *self.column(*blank);
                    self.hand_on(*from, *into, |row, number| match at_row(&blank, row) {
                        0 => number,
                        _ => 0,
                    });
                }
                Step::Links { done, links } => going = self.recall_links(recalled, *done, links, going),
                Step::Gate(gate) => {
                    let list = self.column(gate.list);
                    let listed = each(going).fold(0, |listed, row| {
                        listed | RowSet::from(at_row(list, row) == LISTED) << row
                    });
                    let shut = self.recall(recalled, at, &gate.inputs, going & !listed);
                    self.pass(recalled, at, gate, shut);
                    self.add_shares(shut);
                    at += if listed == 0 { gate.steps } else { 0 };
                    if listed == 0 {
                        going = shut;
                    } else {
                        waiting.push(Waiting {
                            last: at + gate.steps,
                            rows: shut,
                        });
                        going = listed;
                    }
                }
            }
            while let Some(gate) = waiting.pop_if(|gate| gate.last == at) {
                going |= gate.rows;
            }
            at += 1;
        }
        self.digest(graph, recalled, going);
    }

    /// What a row comes to, where it is known.
    pub(super) fn take(&mut self, row: usize) -> Option<Digest> {
        self.digests.get_mut(row).and_then(Option::take)
    }

    #[inline]
    fn column(&self, slot: Slot) -> &[u16; ROWS] {
        self.numbers.get(slot.place()).unwrap_or(&ZEROS)
    }

    /// Numbers the cells of all rows; the rows that have a name and of which every cell is known.
    fn number_cells(&mut self, roles: &[Role], works: &Works<'_>, rows: Rows<'_>) -> RowSet {
        let (mut known, mut named) = (rows.all(), 0);
        for (position, (role, memory)) in roles.iter().zip(works.reader.memories()).enumerate() {
            match role {
                Role::Observation(_, slot) => {
                    if let Some(numbers) = self.numbers.get_mut(slot.place()) {
                        let (are_known, written) = memory.number_each(rows.bytes(), rows.column(position), numbers);
                        known &= are_known;
                        if let Some(nothing) = self.nothing.get_mut(slot.place()) {
                            *nothing = !written;
                        }
                    }
                }
                Role::Id => {
                    let (cells, apart) = rows.column(position);
                    for (row, cell) in cells.iter().step_by(apart).enumerate().take(ROWS) {
                        let name = rows.bytes().get(cell.range()).unwrap_or_default();
                        named |= RowSet::from(is_name(name)) << row;
                    }
                }
                Role::KnownBy => {
                    let mut are_known = 0;
                    for row in each(rows.all()) {
                        let basis = rows.row(row).nth(position).unwrap_or_default();
                        are_known |= RowSet::from(basis_of(basis).is_ok()) << row;
                    }
                    known &= are_known;
                }
                Role::Passed => {}
            }
        }
        known & named
    }

    /// Finds which lists there are; of some rows, those that do not say two things of one.
    fn number_lists(&mut self, graph: &Graph, mut rows: RowSet) -> RowSet {
        let described = |nothing: &[RowSet], list: &ListSlot| {
            let blank = list.described.iter().filter_map(|slot| nothing.get(slot.place()));
            !blank.fold(RowSet::MAX, |blank, nothing| blank & nothing)
        };
        for list in &graph.lists {
            let is_described = described(&self.nothing, list);
            let stated = *self.column(list.stated);
            let Some(numbers) = self.numbers.get_mut(list.slot.place()) else {
                continue;
            };
            let (mut listed, mut empty) = (0, 0);
            for (row, (number, stated)) in numbers.iter_mut().zip(&stated).enumerate() {
                *number = if is_described >> row & 1 > 0 { LISTED } else { *stated };
                listed |= RowSet::from(*stated == LISTED) << row;
                empty |= RowSet::from(*stated == EMPTY) << row;
            }
            rows &= !(is_described & empty);
            if let Some(nothing) = self.nothing.get_mut(list.slot.place()) {
                *nothing = !is_described & !listed;
            }
        }
        let sill = &graph.sill;
        let without = self.nothing.get(sill.stated.place()).copied().unwrap_or(RowSet::MAX);
        if let Some(numbers) = self.numbers.get_mut(sill.slot.place()) {
            for (row, number) in numbers.iter_mut().enumerate() {
                *number = if without >> row & 1 > 0 { 0 } else { LISTED };
            }
        }
        rows & !(without & described(&self.nothing, sill))
    }

    /// Recalls what came of a step for each of some rows; the rows of which it is known.
    #[inline]
    fn recall(&mut self, recalled: &Recalled, at: usize, inputs: &Inputs, rows: RowSet) -> RowSet {
        if rows == 0 {
            return 0;
        }
        for slot in inputs {
            self.fetch(recalled, *slot, rows);
        }
        let Self { numbers, came, .. } = self;
        let column = |slot: Slot| numbers.get(slot.place()).unwrap_or(&ZEROS);
        match recalled.steps.get(at) {
            Some(Recall::Direct(table)) => table.find_each(inputs, column, rows, came),
            Some(Recall::Hashed(table)) => {
                let columns = inputs.map(column);
                let mut known = 0;
                for row in each(rows) {
                    let key = key_of(columns.map(|column| at_row(column, row)));
                    if let (Some(found), Some(here)) = (table.find(key), came.get_mut(row)) {
                        *here = found;
                        known |= 1 << row;
                    }
                }
                known
            }
            None => 0,
        }
    }

    /// Recalls what came of the links of an earlier strengthening.
    fn recall_links(
        &mut self,
        recalled: &Recalled,
        done: Slot,
        links: &[Vec<Slot>; 3],
        rows: RowSet,
    ) -> RowSet {
        let Self {
            numbers,
            shares,
            links_show,
            ..
        } = self;
        let mut known = 0;
        for row in each(rows) {
            let number_of = |slot: Slot| numbers.get(slot.place()).map_or(0, |numbers| at_row(numbers, row));
            let came = recalled.came_of_links(done, links, number_of);
            if let (Ok(came), Some(shares), Some(shows)) = (came, shares.get_mut(row), links_show.get_mut(row)) {
                shares.add(came.share);
                *shows = came.answer;
                known |= 1 << row;
            }
        }
        known
    }

    /// Fetches what is asked in the cases of some rows, where a slot hangs on nothing else.
    #[inline]
    fn fetch(&mut self, recalled: &Recalled, slot: Slot, rows: RowSet) {
        let of_cases = &mut self.of_cases;
        let Some(Some((which, place))) = of_cases.places.get(slot.place()).copied() else {
            return;
        };
        let (Some(numbers), Some(nothing), Some(fetched)) = (
            self.numbers.get_mut(slot.place()),
            self.nothing.get_mut(slot.place()),
            of_cases.fetched.get_mut(slot.place()),
        ) else {
            return;
        };
        let missing = rows & !*fetched;
        *fetched |= missing;
        let (Some(cases), Some(asked)) = (of_cases.numbers.get(which), recalled.asked.get(which)) else {
            return;
        };
        for row in each(missing) {
            let asked = asked.get(usize::from(at_row(cases, row))).and_then(Option::as_ref);
            let number = asked.and_then(|asked| asked.fetched.get(place)).copied();
            let number = number.unwrap_or_default();
            if let Some(here) = numbers.get_mut(row) {
                *here = number & !NOTHING;
            }
            *nothing = *nothing & !(1 << row) | RowSet::from(number & NOTHING > 0) << row;
        }
    }

    /// Puts what came of a node into its slots, for some rows.
    fn put(&mut self, node: &Node, rows: RowSet) {
        if let Of::Group { .. } = node.of {
            self.add_shares(rows);
        } else {
            let (numbers, nothing) = (
                self.numbers.get_mut(node.into.place()),
                self.nothing.get_mut(node.into.place()),
            );
            if let (Some(numbers), Some(nothing)) = (numbers, nothing) {
                let mut is_nothing = 0;
                for row in each(rows) {
                    if let (Some(number), Some(came)) = (numbers.get_mut(row), self.came.get(row)) {
                        *number = came.to;
                        is_nothing |= RowSet::from(came.is_nothing) << row;
                    }
                }
                *nothing = *nothing & !rows | is_nothing;
            }
        }
        if node.answer == Slot::UNREAD {
            return;
        }
        if let Some(numbers) = self.numbers.get_mut(node.answer.place()) {
            for row in each(rows) {
                if let (Some(number), Some(came)) = (numbers.get_mut(row), self.came.get(row)) {
                    *number = came.answer;
                }
            }
        }
    }

    fn add_shares(&mut self, rows: RowSet) {
        for row in each(rows) {
            if let (Some(shares), Some(came)) = (self.shares.get_mut(row), self.came.get(row)) {
                shares.add(came.share);
            }
        }
    }

    /// Puts what the steps behind a gate leave into their slots, for the rows that it is shut for.
    fn pass(&mut self, recalled: &Recalled, at: usize, gate: &Gate, rows: RowSet) {
        let Some(passages) = recalled.passages.get(at) else {
            return;
        };
        let width = gate.outputs.len();
        for (place, slot) in gate.outputs.iter().enumerate() {
            let (Some(numbers), Some(nothing)) = (
                self.numbers.get_mut(slot.place()),
                self.nothing.get_mut(slot.place()),
            ) else {
                continue;
            };
            let mut is_nothing = 0;
            for row in each(rows) {
                let passage = self.came.get(row).map_or(0, |came| usize::from(came.to.saturating_sub(1)));
                let left = passages.rows.get(passage * width + place).copied().unwrap_or_default();
                if let Some(number) = numbers.get_mut(row) {
                    *number = left & !NOTHING;
                    is_nothing |= RowSet::from(left & NOTHING > 0) << row;
                }
            }
            *nothing = *nothing & !rows | is_nothing;
        }
    }

    /// Hands the numbers of a slot on to another, changed.
    #[inline]
    fn hand_on(&mut self, from: Slot, into: Slot, change: impl Fn(usize, u16) -> u16) {
        let from = *self.column(from);
        if let Some(into) = self.numbers.get_mut(into.place()) {
            for (row, (into, number)) in into.iter_mut().zip(from).enumerate() {
                *into = change(row, number);
            }
        }
    }

    /// What each of some rows comes to.
    fn digest(&mut self, graph: &Graph, recalled: &Recalled, rows: RowSet) {
        let mut digests = std::mem::take(&mut self.digests);
        digests.clear();
        for (row, shares) in self.shares.iter().enumerate() {
            let mut whole = Share::NOTHING;
            if rows >> row & 1 == 0 {
                digests.push(None);
                continue;
            }
            for share in shares.numbers.iter().take(shares.count) {
                if let Some(share) = numbered(&recalled.shares, *share) {
                    whole.join(share);
                }
            }
            let digest = whole.digest(|place| self.governing(graph, recalled, row, place));
            digests.push(digest.ok());
        }
        self.digests = digests;
    }

    /// What the check at some place among the findings shows.
    fn governing(
        &self,
        graph: &Graph,
        recalled: &Recalled,
        row: usize,
        place: u8,
    ) -> Result<Option<Governing>, NotKnown> {
        let (check, item) = (usize::from(place / FINDINGS), usize::from(place % FINDINGS));
        let Some(id) = graph.checks.get(check).copied() else {
            return Ok(None);
        };
        let shows = if id == CheckId::EarlierRetrofit {
            at_row(&self.links_show, row)
        } else {
            let gates = self.gates.get(check).into_iter().flatten();
            let gate = gates.filter_map(|at| match graph.steps.get(*at) {
                Some(Step::Gate(gate)) => Some(gate),
                _ => None,
            });
            let gate = gate
                .into_iter()
                .find(|gate| at_row(self.column(gate.list), row) != LISTED);
            let slots = gate.map_or(graph.shown_by.get(check), |gate| Some(&gate.shown_by));
            let tables = recalled.shown_by.get(check).ok_or(NotKnown)?;
            let table = tables.get(usize::from(gate.is_some())).ok_or(NotKnown)?;
            let slots = slots.ok_or(NotKnown)?;
            let key = key_of(slots.map(|slot| self.number(recalled, slot, row)));
            table.find(key).ok_or(NotKnown)?
        };
        let wall_line = (!id.is_of_house()).then_some(0);
        let shows = numbered(&recalled.shown, shows).and_then(|shows| shows.get(item));
        Ok(shows.map(|shows| Governing::new(id, wall_line, *shows)))
    }

    /// The number of a row in a slot, whether it has been fetched or not.
    fn number(&self, recalled: &Recalled, slot: Slot, row: usize) -> u16 {
        match self.of_cases.places.get(slot.place()) {
            Some(Some((which, place))) => {
                let case = self.of_cases.numbers.get(*which).map_or(0, |cases| at_row(cases, row));
                let asked = recalled.asked.get(*which).and_then(|asked| asked.get(usize::from(case)));
                let number = asked.and_then(|asked| asked.as_ref()?.fetched.get(*place).copied());
                number.unwrap_or_default() & !NOTHING
            }
            _ => at_row(self.column(slot), row),
        }
    }
}

impl OfCases {
    /// Takes note of the cases of some rows; the rows of which it is known what is asked.
    fn begin(
        &mut self,
        of_case: &super::OfCase,
        numbers: &[[u16; ROWS]],
        recalled: &Recalled,
        rows: RowSet,
    ) -> RowSet {
        let which = usize::from(of_case.of_house);
        let (Some(to), Some(cases), Some(asked)) = (
            self.numbers.get_mut(which),
            numbers.get(of_case.case.place()),
            recalled.asked.get(which),
        ) else {
            return 0;
        };
        to.copy_from_slice(cases);
        each(rows).fold(0, |known, row| {
            let is_known = matches!(asked.get(usize::from(at_row(cases, row))), Some(Some(_)));
            known | RowSet::from(is_known) << row
        })
    }
}

const ZEROS: [u16; ROWS] = [0; ROWS];

#[inline]
fn at_row(numbers: &[u16; ROWS], row: usize) -> u16 {
    numbers.get(row).copied().unwrap_or_default()
}
