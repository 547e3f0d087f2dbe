//! Rows side by side, each step of the graph for all of them before the next. Next to each other the look-ups of a step
//! do not wait for one another, and what a step is need be found out only once. So those rows that have to go through the
//! graph are gathered from many until there are enough.
//!
//! What a step comes to is worked out where it is new. A row of which it is not known yet whether it makes sense, what is
//! asked in its case, or what comes of the links of its earlier strengthening, is left to be checked on its own, and then its
//! like is known.

use super::super::rows::{ROWS, RowList, RowSet, Rows, each, first_rows, put_for, rows_with};
use super::cell_numbers::CellNumbers;
use super::recalled::{Came, NOTHING, Recall, Recalled};
use super::sparse::Sparse;
use super::{FINDINGS, Role, RowDigest, Slots, Works, is_done, unless};
use crate::check::{CheckId, LinkInWords};
use crate::observation::Truth;
use crate::portfolio::column::COLUMNS;
use crate::portfolio::digest::Digest;
use crate::portfolio::direct::key_of;
use crate::portfolio::graph::{
    EMPTY, Gate, Graph, INPUTS, Inputs, LISTED, ListSlot, Node, Of, OfCase, SLOTS, Slot, Step,
};
use crate::portfolio::table::Sought;

/// What is found out of some rows, and the numbers of those that are gathered, slot by slot.
#[derive(Clone, Debug)]
pub(super) struct Together {
    cells: CellNumbers,
    pub(super) sparse: Sparse,
    /// What is known of each row.
    known: Vec<Known>,
    /// What those came to that were taken through the graph.
    digests: Vec<Digest>,
    /// Which of the rows those are that are gathered.
    gathered: Vec<usize>,
    /// By column, whether anything may be written in one of them.
    are_filled: Vec<bool>,
    numbers: Vec<[u16; ROWS]>,
    /// By slot, the rows with nothing to what their numbers stand for; kept where a step goes by it.
    nothing: Vec<RowSet>,
    /// By slot, whether one does.
    is_gone_by: Vec<bool>,
    of_cases: OfCases,
    /// By row, the numbers of the shares in its digest.
    shares: Box<[Shares]>,
    /// By row, the number of what the check over the links of an earlier strengthening shows.
    links_show: [u16; ROWS],
    /// By check, the gates before it, those first that hold others.
    gates: Vec<Vec<usize>>,
    /// The numbers of one row of which something is new.
    alone: Slots,
    /// The row that was last gone back to for that.
    begun: Option<usize>,
    waiting: Vec<Waiting>,
    /// What is looked for, row by row, in a table by hash.
    sought: Box<[Sought<Came>; ROWS]>,
    /// What is shown of the findings of rows.
    shows: Vec<Shows>,
}

/// What is known of a row.
#[derive(Clone, Copy, Debug)]
enum Known {
    /// Nothing yet.
    Not,
    /// What it comes to as a whole, by the number of that.
    AsAWhole(u16),
    /// Where its digest stands.
    Digest(usize),
}

/// What is asked in the cases of the rows. Few of the many figures are ever gone by for a row, so that they are fetched
/// only for the steps that are taken.
#[derive(Clone, Debug)]
struct OfCases {
    /// By slot, where what stands in it is to be fetched, if it hangs on a case alone.
    places: Vec<Option<PlaceInCase>>,
    /// By row, where begins what is asked in the case of the house and in that of the wall line.
    begins: [[u32; ROWS]; 2],
    /// How much is asked in each.
    widths: [usize; 2],
    /// By slot, the rows for which it has been fetched.
    fetched: Vec<RowSet>,
    /// By slot, the number that stands in it for all rows, if there is one.
    filled: Vec<Option<u16>>,
}

/// A place in what is asked in a case.
#[derive(Clone, Copy, Debug)]
struct PlaceInCase {
    which: usize,
    place: u32,
}

/// What is shown of a finding.
#[derive(Clone, Copy, Debug)]
struct Shows {
    row: usize,
    id: CheckId,
    /// Which of the findings of the check it is.
    item: usize,
    number: Number,
}

/// The number of what findings show.
#[derive(Clone, Copy, Debug)]
enum Number {
    Known(u16),
    /// Looked for where it is remembered.
    Sought((usize, usize), Sought<u16>),
}

/// Numbers of shares, one after another.
#[derive(Clone, Copy, Debug)]
struct Shares {
    numbers: [u16; Self::MOST],
    count: u8,
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
        if let Some(next) = self.numbers.get_mut(usize::from(self.count)) {
            *next = share;
            self.count += u8::from(share > 0);
        }
    }

    #[inline]
    fn numbers(&self) -> &[u16] {
        self.numbers.get(..usize::from(self.count)).unwrap_or_default()
    }
}

/// Rows that wait behind a gate for those that take its steps one by one.
#[derive(Clone, Copy, Debug)]
struct Waiting {
    at: usize,
    last: usize,
    rows: RowSet,
    /// Of those that take the steps, the ones for which the gate is shut and it is new what the steps leave.
    new: RowSet,
    /// How many shares each row had before.
    shares: [u8; ROWS],
}

impl Together {
    pub(super) fn new(graph: &Graph, roles: &[Role]) -> Self {
        let mut of_cases = OfCases {
            places: vec![None; SLOTS],
            begins: [[0; ROWS]; 2],
            widths: [0; 2],
            fetched: vec![0; SLOTS],
            filled: vec![None; SLOTS],
        };
        for step in &graph.steps {
            if let Step::Asked(of_case) = step {
                of_cases.add(of_case);
            }
        }
        let gates_of = |check: usize| {
            let gates = graph.steps.iter().enumerate();
            let gates =
                gates.filter(|(_, step)| matches!(step, Step::Gate(gate) if gate.places >> check & 1 > 0));
            gates.map(|(at, _)| at).collect()
        };
        let mut is_gone_by = vec![false; SLOTS];
        for step in &graph.steps {
            if let Step::Unless { nothing_to, .. } = step
                && let Some(is_gone_by) = is_gone_by.get_mut(nothing_to.place())
            {
                *is_gone_by = true;
            }
        }
        let mut nothing = vec![0; SLOTS];
        let columns_of = nothing.get_mut(..COLUMNS.len());
        columns_of.unwrap_or_default().fill(RowSet::MAX);
        if let Some(none) = nothing.get_mut(Slot::NONE.place()) {
            *none = RowSet::MAX;
        }
        let columns = roles.iter().filter_map(|role| match role {
            Role::Observation(_, slot) => Some(*slot),
            _ => None,
        });
        const {
            let (numbered, rows) = (Recalled::MOST as usize, Rows::MOST);
            assert!(numbered + rows < NOTHING as usize, "the mark is free");
            assert!(
                numbered + rows * Shares::MOST < u16::MAX as usize,
                "every share has a number"
            );
        }
        debug_assert!(
            graph.steps.iter().filter(|step| step.has_share()).count() <= Shares::MOST,
            "room for every share"
        );
        debug_assert!(
            graph.steps.iter().all(|step| match step {
                Step::Links { links, .. } => links.iter().flatten().count() <= MOST_PARTS,
                _ => true,
            }),
            "room for every part of a link"
        );
        Self {
            cells: CellNumbers::new(),
            sparse: Sparse::new(graph, columns),
            known: Vec::with_capacity(Rows::MOST),
            digests: Vec::with_capacity(Rows::MOST),
            gathered: Vec::with_capacity(ROWS),
            are_filled: vec![false; COLUMNS.len()],
            numbers: vec![[0; ROWS]; SLOTS],
            nothing,
            is_gone_by,
            of_cases,
            shares: vec![Shares::NONE; ROWS].into(),
            links_show: [0; ROWS],
            gates: (0..graph.checks.len()).map(gates_of).collect(),
            alone: Slots::new(),
            begun: None,
            waiting: Vec::new(),
            sought: Box::new([Sought::nothing(); ROWS]),
            shows: Vec::with_capacity(ROWS),
        }
    }

    /// Finds what each of some rows comes to, but for rows that are left to be checked on their own.
    pub(super) fn look_up(&mut self, graph: &Graph, roles: &[Role], works: &mut Works<'_>, rows: Rows<'_>) {
        works.begin_anew_when_full(graph);
        works.recalled.sparse.begin_anew_when_full();
        self.digests.clear();
        self.known.clear();
        self.known.resize(rows.len(), Known::Not);
        for group in rows.groups() {
            let make_sense = self.cells.number(graph, roles, works, (rows, group));
            let found = self.sparse.find(&works.recalled.sparse, &self.cells, make_sense);
            for (row, number) in found.iter() {
                self.put_known(group.first + row, Known::AsAWhole(number));
            }
            let mut left = make_sense & !found.rows;
            while left > 0 {
                left &= !self.gather(group.first, left);
                if self.gathered.len() == ROWS {
                    self.take_through(graph, works, rows);
                }
            }
        }
        if !self.gathered.is_empty() {
            self.take_through(graph, works, rows);
        }
    }

    fn put_known(&mut self, row: usize, known: Known) {
        if let Some(here) = self.known.get_mut(row) {
            *here = known;
        }
    }

    /// Gathers some rows of a group, as far as there is room; those that were.
    fn gather(&mut self, first: usize, rows: RowSet) -> RowSet {
        let begin = self.gathered.len();
        self.gathered
            .extend(each(rows).take(ROWS - begin).map(|row| first + row));
        let gathered = self.gathered.get(begin..).unwrap_or_default();
        let columns = self.numbers.iter_mut().zip(&mut self.are_filled);
        for ((numbers, written), (into, is_filled)) in self.cells.columns().zip(columns) {
            if written == 0 {
                continue;
            }
            *is_filled = true;
            let places = into.get_mut(begin..).unwrap_or_default();
            for (place, row) in places.iter_mut().zip(gathered) {
                *place = at_row(numbers, row % ROWS);
            }
        }
        let taken = gathered.iter().fold(0, |taken, row| taken | 1 << (row % ROWS));
        self.sparse.gather(taken, begin);
        taken
    }

    /// Takes the rows that are gathered through the graph, and lets go of them.
    fn take_through(&mut self, graph: &Graph, works: &mut Works<'_>, rows: Rows<'_>) {
        self.begun = None;
        self.of_cases.fetched.fill(0);
        self.shares.iter_mut().for_each(|shares| shares.count = 0);
        let columns = self.numbers.iter().zip(&mut self.nothing).zip(&self.are_filled);
        for ((numbers, nothing), _) in columns.filter(|(_, is_filled)| **is_filled) {
            *nothing = rows_with(numbers, 0);
        }
        let consistent = self.number_lists(graph, first_rows(self.gathered.len()));
        let mut going = RowList::new(consistent);
        let mut waiting = std::mem::take(&mut self.waiting);
        let mut at = 0;
        while let Some(step) = graph.steps.get(at) {
            match step {
                Step::Within { less, more, .. } => {
                    let beyond = self.beyond(works, [*less, *more], going.set());
                    going.change(going.set() & !beyond);
                }
                Step::Node(node) => {
                    let new = self.take_node(&works.recalled, at, node, &going);
                    let lost = self.work_out(graph, works, (at, node), rows, new);
                    going.change(going.set() & !lost);
                }
                Step::Asked(of_case) => {
                    let lost = self
                        .of_cases
                        .begin(of_case, &self.numbers, &works.recalled, &going);
                    going.change(going.set() & !lost);
                }
                Step::Unless {
                    nothing_to,
                    from,
                    into,
                } => {
                    self.fetch(&works.recalled, *nothing_to, &going);
                    let nothing = self.nothing.get(nothing_to.place()).copied().unwrap_or_default();
                    self.hand_on(*from, *into, |row, number| unless(nothing >> row & 1 > 0, number));
                }
                Step::InPlaceOf { blank, from, into } => {
                    let blank = *self.column(*blank);
                    self.hand_on(*from, *into, |row, number| match at_row(&blank, row) {
                        0 => number,
                        _ => 0,
                    });
                }
                Step::Links { done, links } => {
                    let lost = self.take_links(&works.recalled, *done, links, &going);
                    going.change(going.set() & !lost);
                }
                Step::Gate(gate) => {
                    let listed = rows_with(self.column(gate.list), LISTED) & going.set();
                    let mut shut = going;
                    shut.change(going.set() & !listed);
                    let new = self.take_gate(&works.recalled, at, gate, &shut);
                    shut.change(shut.set() & !new);
                    if listed | new == 0 {
                        going = shut;
                        at += gate.steps;
                    } else {
                        waiting.push(self.wait((at, gate), shut.set(), new));
                        going.change(listed | new);
                    }
                }
            }
            while let Some(behind) = waiting.pop_if(|behind| behind.last == at) {
                self.keep_passages(graph, works, &behind, going.set());
                going.change(going.set() | behind.rows);
            }
            at += 1;
        }
        self.waiting = waiting;
        self.digest(graph, works, rows, going.set());
        let digest_of = |place: usize| match self.known.get(*self.gathered.get(place)?)? {
            Known::Digest(at) => self.digests.get(*at),
            _ => None,
        };
        self.sparse.keep(&mut works.recalled.sparse, digest_of);
        self.let_go();
    }

    /// Nothing is gathered any more.
    fn let_go(&mut self) {
        self.gathered.clear();
        let columns = self.numbers.iter_mut().zip(&mut self.nothing);
        for ((numbers, nothing), is_filled) in columns.zip(&mut self.are_filled) {
            if std::mem::take(is_filled) {
                (*numbers, *nothing) = ([0; ROWS], RowSet::MAX);
            }
        }
    }

    /// What a row comes to, where it is known.
    pub(super) fn digest_of<'d>(&'d self, works: &'d Works<'_>, row: usize) -> Option<RowDigest<'d>> {
        match *self.known.get(row)? {
            Known::Not => None,
            Known::AsAWhole(number) => works.recalled.sparse.digest(number),
            Known::Digest(at) => self.digests.get(at).map(RowDigest::from),
        }
    }

    /// The cells of one of the rows that are gathered.
    fn cells_of<'t>(&self, rows: Rows<'t>, place: usize) -> impl Iterator<Item = &'t str> + Clone + use<'t> {
        rows.row(self.gathered.get(place).copied().unwrap_or(usize::MAX))
    }

    #[inline]
    fn column(&self, slot: Slot) -> &[u16; ROWS] {
        column_of(&self.numbers, slot)
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
            let [listed, empty] = [LISTED, EMPTY].map(|number| rows_with(&stated, number));
            *numbers = stated;
            put_for(numbers, is_described, LISTED);
            rows &= !(is_described & empty);
            if let Some(nothing) = self.nothing.get_mut(list.slot.place()) {
                *nothing = !is_described & !listed;
            }
        }
        let sill = &graph.sill;
        let without = self
            .nothing
            .get(sill.stated.place())
            .copied()
            .unwrap_or(RowSet::MAX);
        if let Some(numbers) = self.numbers.get_mut(sill.slot.place()) {
            *numbers = [LISTED; ROWS];
            put_for(numbers, without, 0);
        }
        rows & !(without & described(&self.nothing, sill))
    }

    /// Of some rows, those with more in the one column of lengths than in the other.
    fn beyond(&self, works: &Works<'_>, pair: [Slot; 2], rows: RowSet) -> RowSet {
        let blank = pair.map(|slot| self.nothing.get(slot.place()).copied().unwrap_or_default());
        let [less, more] = pair.map(|slot| (slot.place(), self.column(slot)));
        let mut beyond = 0;
        // What is blank is beyond nothing.
        for row in each(blank.into_iter().fold(rows, |rows, blank| rows & !blank)) {
            let pair = [less, more].map(|(place, numbers)| (place, at_row(numbers, row)));
            beyond |= RowSet::from(!works.reader.is_within(pair)) << row;
        }
        beyond
    }

    /// Puts what came of a node for some rows into its slots; the rows of which it is not known.
    fn take_node(&mut self, recalled: &Recalled, at: usize, node: &Node, rows: &RowList) -> RowSet {
        let (mut into, mut answers) = (*self.column(node.into), *self.column(node.answer));
        let lost = if let Of::Group { .. } = node.of {
            let mut shares = std::mem::take(&mut self.shares);
            let lost = self.recall(recalled, at, &node.inputs, rows, |row, came| {
                set_row(&mut answers, row, came.answer);
                if let Some(shares) = shares.get_mut(row) {
                    shares.add(came.share);
                }
            });
            self.shares = shares;
            lost
        } else {
            let mut nothing = 0;
            let lost = self.recall(recalled, at, &node.inputs, rows, |row, came| {
                set_row(&mut into, row, came.to);
                set_row(&mut answers, row, came.answer);
                nothing |= RowSet::from(came.is_nothing) << row;
            });
            if let Some(here) = self.nothing.get_mut(node.into.place()) {
                *here = *here & !rows.set() | nothing;
            }
            self.put(node.into, &into);
            lost
        };
        self.put(node.answer, &answers);
        lost
    }

    /// Works out what comes of a node for some rows of which it is new, and puts it into its slots; the rows that make no
    /// sense, or whose house does not.
    fn work_out(
        &mut self,
        graph: &Graph,
        works: &mut Works<'_>,
        (at, node): (usize, &Node),
        rows: Rows<'_>,
        new: RowSet,
    ) -> RowSet {
        let mut lost = 0;
        for row in each(new) {
            self.stand_alone(works, row, node.inputs);
            match works.work_out(graph, at, node, &self.alone, self.cells_of(rows, row)) {
                Ok(came) => self.put_alone(node, came, row),
                Err(_) => lost |= 1 << row,
            }
        }
        lost
    }

    /// Puts what came of a node for a row into its slots.
    fn put_alone(&mut self, node: &Node, came: Came, row: usize) {
        for (slot, number) in [(node.into, came.to), (node.answer, came.answer)] {
            if let Some(numbers) = self.numbers.get_mut(slot.place()) {
                set_row(numbers, row, number);
            }
        }
        if let Some(nothing) = self.nothing.get_mut(node.into.place()) {
            *nothing = *nothing & !(1 << row) | RowSet::from(came.is_nothing) << row;
        }
        if let Some(shares) = self.shares.get_mut(row) {
            shares.add(came.share);
        }
    }

    /// Puts what the steps behind a gate leave into their slots, for some rows for which it is shut; the rows of which it is
    /// not known, and which have to take the steps.
    fn take_gate(&mut self, recalled: &Recalled, at: usize, gate: &Gate, rows: &RowList) -> RowSet {
        let width = u32::try_from(gate.outputs.len()).unwrap_or_default();
        let mut begins = [0; ROWS];
        let mut shares = std::mem::take(&mut self.shares);
        let lost = self.recall(recalled, at, &gate.inputs, rows, |row, Came { to, share, .. }| {
            if let (Some(shares), Some(begin)) = (shares.get_mut(row), begins.get_mut(row)) {
                shares.add(share);
                *begin = u32::from(to.saturating_sub(1)) * width;
            }
        });
        self.shares = shares;
        let left = recalled
            .passages
            .get(at)
            .map_or(&[] as &[u16], |passages| &passages.rows);
        let left = |place: usize| left.get(place).copied().unwrap_or_default();
        for (place, slot) in (0..).zip(&gate.outputs) {
            self.lay_out(*slot, left, (&begins, place), rows);
        }
        lost
    }

    /// Has some rows wait until others have taken the steps behind a gate, some of which are new there.
    fn wait(&self, (at, gate): (usize, &Gate), rows: RowSet, new: RowSet) -> Waiting {
        let mut shares = [0; ROWS];
        for (before, now) in shares.iter_mut().zip(&self.shares) {
            *before = now.count;
        }
        Waiting {
            at,
            last: at + gate.steps,
            rows,
            new,
            shares,
        }
    }

    /// Remembers what the steps behind a gate left of some rows, where that was new.
    fn keep_passages(&mut self, graph: &Graph, works: &mut Works<'_>, behind: &Waiting, rows: RowSet) {
        let Some(Step::Gate(gate)) = graph.steps.get(behind.at) else {
            return;
        };
        for row in each(behind.new & rows) {
            self.stand_alone(works, row, gate.inputs);
            for slot in &gate.outputs {
                let nothing = self.nothing.get(slot.place()).copied().unwrap_or_default();
                self.alone.set(*slot, at_row(self.column(*slot), row));
                self.alone.set_nothing(*slot, nothing >> row & 1 > 0);
            }
            let before = behind.shares.get(row).copied().unwrap_or_default();
            let shares = self.shares.get(row).map_or(&[] as &[u16], Shares::numbers);
            let added = shares.get(usize::from(before)..).unwrap_or_default();
            works.keep_passage(graph, behind.at, &self.alone, added);
        }
    }

    /// Puts what came of the links of an earlier strengthening where it belongs; the rows of which it is not known.
    fn take_links(
        &mut self,
        recalled: &Recalled,
        done: Slot,
        links: &[Vec<Slot>; 3],
        rows: &RowList,
    ) -> RowSet {
        let Self {
            numbers,
            shares,
            links_show,
            sought,
            ..
        } = self;
        let column = |slot: Slot| column_of(numbers, slot);
        let done = column(done);
        let mut parts: [(usize, &[u16; ROWS], &[LinkInWords]); MOST_PARTS] = [(0, &ZEROS, &[]); MOST_PARTS];
        let slots = links.iter().enumerate();
        let slots = slots.flat_map(|(link, slots)| slots.iter().map(move |slot| (link, *slot)));
        for (part, (link, slot)) in parts.iter_mut().zip(slots) {
            let in_words = recalled.links_in_words.get(slot.place());
            *part = (link, column(slot), in_words.map_or(&[], Vec::as_slice));
        }
        for (row, sought) in rows.iter().zip(sought.iter_mut()) {
            let parts = parts.iter().filter_map(|(link, numbers, in_words)| {
                let part = in_words.get(usize::from(at_row(numbers, row)))?;
                Some((*link, part))
            });
            match is_done(at_row(done, row)) {
                Truth::False => {}
                done => *sought = recalled.chains.seek(LinkInWords::key_of_chain(done, parts)),
            }
        }
        let mut lost = 0;
        for (row, sought) in rows.iter().zip(sought.iter()) {
            let came = match is_done(at_row(done, row)) {
                Truth::False => recalled.not_done,
                _ => recalled.chains.find_sought(sought),
            };
            if let (Some(came), Some(shares)) = (came, shares.get_mut(row)) {
                shares.add(came.share);
                set_row(links_show, row, came.answer);
            } else {
                lost |= 1 << row;
            }
        }
        lost
    }

    /// Recalls what came of a step for each of some rows; the rows of which it is not known, for which what is handed over
    /// is of no account.
    #[inline]
    fn recall(
        &mut self,
        recalled: &Recalled,
        at: usize,
        inputs: &Inputs,
        rows: &RowList,
        mut found: impl FnMut(usize, Came),
    ) -> RowSet {
        for slot in inputs {
            self.fetch(recalled, *slot, rows);
        }
        let column = |slot: Slot| self.column(slot);
        let mut lost = 0;
        match recalled.steps.get(at) {
            Some(Recall::Direct(table)) => {
                let numbers = table.number_each(inputs, column, rows);
                for row in rows.iter() {
                    let number = at_row(&numbers, row);
                    lost |= RowSet::from(number == 0) << row;
                    found(row, table.came(number));
                }
            }
            Some(Recall::Hashed(table)) => {
                let columns = inputs.map(|slot| column_of(&self.numbers, slot));
                for (row, sought) in rows.iter().zip(self.sought.iter_mut()) {
                    *sought = table.seek(key_of(columns.map(|column| at_row(column, row))));
                }
                for (row, sought) in rows.iter().zip(self.sought.iter()) {
                    let came = table.find_sought(sought);
                    lost |= RowSet::from(came.is_none()) << row;
                    found(row, came.unwrap_or_default());
                }
            }
            None => {}
        }
        lost
    }

    /// Fetches what is asked in the cases of some rows, where a slot hangs on nothing else.
    #[inline]
    fn fetch(&mut self, recalled: &Recalled, slot: Slot, rows: &RowList) {
        let Some(Some(in_case)) = self.of_cases.places.get(slot.place()).copied() else {
            return;
        };
        if let Some(fetched) = self.of_cases.fetched.get_mut(slot.place()) {
            if rows.set() & !*fetched == 0 {
                return;
            }
            *fetched |= rows.set();
        }
        let PlaceInCase { which, place } = in_case;
        let Some(asked) = recalled.asked.get(which) else {
            return;
        };
        let same = asked.same(place);
        if let Some(filled) = self.of_cases.filled.get_mut(slot.place()) {
            if same.is_some() && same == *filled {
                return;
            }
            *filled = same;
        }
        if let Some(number) = same {
            self.fill(slot, number);
        } else if let Some(begins) = self.of_cases.begins.get(which).copied() {
            self.lay_out(slot, |place| asked.number(place), (&begins, place), rows);
        }
    }

    /// Puts one number into a slot for all rows.
    fn fill(&mut self, slot: Slot, number: u16) {
        self.put(slot, &[number & !NOTHING; ROWS]);
        if let Some(nothing) = self.nothing.get_mut(slot.place()) {
            *nothing = if number & NOTHING > 0 { RowSet::MAX } else { 0 };
        }
    }

    /// Puts into a slot what stands at a place of what was kept for each row.
    fn lay_out(
        &mut self,
        slot: Slot,
        kept: impl Fn(usize) -> u16,
        (begins, place): (&[u32; ROWS], u32),
        rows: &RowList,
    ) {
        let mut numbers = *self.column(slot);
        let kept_for = |row: usize| {
            let begin = begins.get(row).copied().unwrap_or_default();
            kept((begin + place) as usize)
        };
        for row in rows.iter() {
            set_row(&mut numbers, row, kept_for(row) & !NOTHING);
        }
        self.put(slot, &numbers);
        if self.is_gone_by.get(slot.place()) == Some(&true) {
            let mut nothing = 0;
            for row in rows.iter() {
                let number = kept_for(row);
                nothing |= RowSet::from(number & NOTHING > 0) << row;
            }
            if let Some(here) = self.nothing.get_mut(slot.place()) {
                *here = *here & !rows.set() | nothing;
            }
        }
    }

    fn put(&mut self, slot: Slot, numbers: &[u16; ROWS]) {
        if let Some(here) = self.numbers.get_mut(slot.place()) {
            *here = *numbers;
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

    /// What each of some rows comes to that were taken through the graph.
    fn digest(&mut self, graph: &Graph, works: &mut Works<'_>, cells: Rows<'_>, rows: RowSet) {
        let mut shows = std::mem::take(&mut self.shows);
        shows.clear();
        for row in each(rows) {
            let shares = self.shares.get(row).map_or(&[] as &[u16], Shares::numbers);
            let (digest, place) = works.recalled.sum_of_shares(shares).digest();
            let known = Known::Digest(self.digests.len());
            self.digests.push(digest);
            if let Some(at) = self.gathered.get(row) {
                self.put_known(*at, known);
            }
            shows.extend(place.and_then(|place| self.shows(graph, &works.recalled, row, place)));
        }
        for shows in &shows {
            let number = self.number_shown(works, shows, cells);
            let Some(known) = self
                .gathered
                .get(shows.row)
                .and_then(|at| self.known.get_mut(*at))
            else {
                continue;
            };
            match (number, *known) {
                (Some(number), Known::Digest(at)) => {
                    if let Some(digest) = self.digests.get_mut(at) {
                        digest.governing = works.recalled.shows(shows.id, number, shows.item);
                    }
                }
                _ => *known = Known::Not,
            }
        }
        self.shows = shows;
    }

    /// What is shown of the finding at some place among those of a row.
    #[inline]
    fn shows(&self, graph: &Graph, recalled: &Recalled, row: usize, place: u8) -> Option<Shows> {
        let check = usize::from(place / FINDINGS);
        let id = graph.checks.get(check).copied()?;
        let item = usize::from(place % FINDINGS);
        if id == CheckId::EarlierRetrofit {
            let number = Number::Known(at_row(&self.links_show, row));
            return Some(Shows {
                row,
                id,
                item,
                number,
            });
        }
        let gates = self.gates.get(check)?.iter();
        let mut gates = gates.filter_map(|at| match graph.steps.get(*at) {
            Some(Step::Gate(gate)) => Some(gate),
            _ => None,
        });
        let gate = gates.find(|gate| at_row(self.column(gate.list), row) != LISTED);
        let slots = gate.map_or(graph.shown_by.get(check), |gate| Some(&gate.shown_by))?;
        let mut numbers = [0; INPUTS];
        for (number, slot) in numbers.iter_mut().zip(slots) {
            if *slot == Slot::NONE {
                break;
            }
            *number = self.number(recalled, *slot, row);
        }
        let table = (check, usize::from(gate.is_some()));
        let sought = recalled.shown_by(table)?.seek(key_of(numbers));
        Some(Shows {
            row,
            id,
            item,
            number: Number::Sought(table, sought),
        })
    }

    /// The number of what is shown, worked out where it is new; none where the row makes no sense.
    #[inline]
    fn number_shown(&mut self, works: &mut Works<'_>, shows: &Shows, rows: Rows<'_>) -> Option<u16> {
        let (table, sought) = match shows.number {
            Number::Known(number) => return Some(number),
            Number::Sought(table, sought) => (table, sought),
        };
        let known = works.recalled.shown_by(table)?.find_sought(&sought);
        if known.is_some() {
            return known;
        }
        self.stand_alone(works, shows.row, []);
        works
            .work_out_shows(
                shows.id,
                table,
                sought.key(),
                &self.alone,
                self.cells_of(rows, shows.row),
            )
            .ok()
    }

    /// Goes back to a row of which something is new, and takes the numbers in some slots of it on their own. Those of its
    /// columns are taken, and its house is made, once for all that is new of it.
    fn stand_alone(&mut self, works: &mut Works<'_>, row: usize, slots: impl IntoIterator<Item = Slot>) {
        if self.begun != Some(row) {
            works.begun = None;
            self.begun = Some(row);
            let (columns, _) = self.numbers.split_at_checked(COLUMNS.len()).unwrap_or_default();
            for (number, column) in self.alone.numbers.iter_mut().zip(columns) {
                *number = at_row(column, row);
            }
        }
        for slot in slots {
            self.alone.set(slot, at_row(self.column(slot), row));
        }
    }

    /// The number of a row in a slot, whether it has been fetched or not.
    fn number(&self, recalled: &Recalled, slot: Slot, row: usize) -> u16 {
        match self.of_cases.places.get(slot.place()) {
            Some(Some(PlaceInCase { which, place, .. })) => {
                let begins = self
                    .of_cases
                    .begins
                    .get(*which)
                    .and_then(|begins| begins.get(row));
                let place = begins.map(|begin| (begin + place) as usize);
                let asked = recalled.asked.get(*which);
                let number = asked.zip(place).map(|(asked, place)| asked.number(place));
                number.unwrap_or_default() & !NOTHING
            }
            _ => at_row(self.column(slot), row),
        }
    }
}

impl OfCases {
    /// Takes up what hangs on a case.
    fn add(&mut self, of_case: &OfCase) {
        let which = usize::from(of_case.of_house);
        let fetched = of_case.fetched();
        if let Some(width) = self.widths.get_mut(which) {
            *width = fetched.len();
        }
        for (at, slot) in (0..).zip(&fetched) {
            if let (Some(place), true) = (self.places.get_mut(slot.place()), *slot != Slot::UNREAD) {
                *place = Some(PlaceInCase { which, place: at });
            }
        }
    }

    /// Takes note of the cases of some rows; the rows of which it is not known what is asked.
    fn begin(
        &mut self,
        of_case: &OfCase,
        numbers: &[[u16; ROWS]],
        recalled: &Recalled,
        rows: &RowList,
    ) -> RowSet {
        let which = usize::from(of_case.of_house);
        let (Some(begins), Some(width), Some(cases), Some(asked)) = (
            self.begins.get_mut(which),
            self.widths.get(which),
            numbers.get(of_case.case.place()),
            recalled.asked.get(which),
        ) else {
            return rows.set();
        };
        let mut lost = 0;
        for row in rows.iter() {
            let case = usize::from(at_row(cases, row));
            lost |= RowSet::from(!asked.is_known(case)) << row;
            if let Some(begin) = begins.get_mut(row) {
                *begin = u32::try_from(case * width).unwrap_or(u32::MAX);
            }
        }
        lost
    }
}

/// More parts than the links of an earlier strengthening have together.
const MOST_PARTS: usize = 8;

static ZEROS: [u16; ROWS] = [0; ROWS];

/// The numbers of a slot.
#[inline]
fn column_of(numbers: &[[u16; ROWS]], slot: Slot) -> &[u16; ROWS] {
    numbers.get(slot.place()).unwrap_or(&ZEROS)
}

#[inline]
fn at_row(numbers: &[u16; ROWS], row: usize) -> u16 {
    numbers.get(row).copied().unwrap_or_default()
}

#[inline]
fn set_row(numbers: &mut [u16; ROWS], row: usize, number: u16) {
    if let Some(here) = numbers.get_mut(row) {
        *here = number;
    }
}
