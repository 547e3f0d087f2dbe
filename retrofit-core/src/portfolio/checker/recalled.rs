//! What was worked out on earlier rows: bounded, and found again by the numbers that it hangs on.

use indexmap::IndexSet;

use super::super::digest::Governing;
use super::super::direct::{Direct, Extents, key_of};
use super::super::graph::{EMPTY, Gate, Graph, INPUTS, Inputs, LISTED, OfCase, SLOTS, Slot, Step};
use super::super::share::Share;
use super::super::table::{Key, Table};
use super::sparse::SparseRows;
use super::{ANYTHING, Slots};
use crate::check::{Brief, CheckId, Finding, Link, LinkInWords, Quantity};

/// What came of the inputs of a node.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(super) struct Came {
    /// The number that goes into its slot; of a gate, that of its passage.
    pub(super) to: u16,
    /// The number of the answer that others share with it; of a group, of its link; of what goes over the links, of what
    /// it shows.
    pub(super) answer: u16,
    /// The number of the share of a group or of all groups behind a gate; 0 where there is none.
    pub(super) share: u16,
    pub(super) is_nothing: bool,
}

/// What was worked out on earlier rows.
#[derive(Clone, Debug)]
pub(super) struct Recalled {
    /// What came of each step.
    pub(super) steps: Vec<Recall>,
    pub(super) extents: Box<Extents>,
    /// The largest number of anything.
    pub(super) fullest: u16,
    /// How many places the tables by hash have together.
    pub(super) places: usize,
    /// What the steps behind each gate put into the slots that are read by others.
    pub(super) passages: Vec<Passages>,
    /// By slot, the codes of what is shared, or of what is asked.
    pub(super) codes: Vec<Numbered<Box<[i64]>>>,
    /// By slot, what the findings of a check come to.
    pub(super) briefs: Vec<Numbered<Vec<Brief>>>,
    /// By slot, the links.
    pub(super) links: Vec<Numbered<Link>>,
    /// The same in words, by number; none has number 0.
    pub(super) links_in_words: Vec<Vec<LinkInWords>>,
    shares: Numbered<Share>,
    /// What came of the links of an earlier strengthening.
    pub(super) chains: Table<Came>,
    /// The same where there was none, when the links are of no account.
    pub(super) not_done: Option<Came>,
    /// What the findings of a check show, and where that of each number begins among all.
    pub(super) shown: Numbered<Vec<[Quantity; 2]>>,
    pub(super) shows: Vec<[Quantity; 2]>,
    pub(super) shows_from: Vec<u32>,
    /// Its number by what it hangs on, for each check: on its own, and behind a gate.
    pub(super) shown_by: Vec<[Table<u16>; 2]>,
    /// What is asked in a case of the house and in one of the wall line. With it stands what comes of the nodes that hang
    /// on nothing else.
    pub(super) asked: [Asked; 2],
    /// What rows came to as a whole.
    pub(super) sparse: SparseRows,
}

/// What came of a step, by the numbers it hangs on.
#[derive(Clone, Debug)]
pub(super) enum Recall {
    Direct(Direct<Came>),
    /// Of numbers that can stand together in too many ways.
    Hashed(Table<Came>),
}

impl Recall {
    /// As long as nothing is in it: with a place for each combination, if there are no more than some.
    pub(super) fn new(inputs: &Inputs, extents: &Extents, most: usize) -> Self {
        let direct = Direct::new(inputs, extents, most);
        direct.map_or_else(|| Self::Hashed(Table::new(Recalled::TABLE_BITS)), Self::Direct)
    }

    /// How many places there are for combinations.
    pub(super) fn places(&self) -> usize {
        match self {
            Self::Direct(table) => table.len(),
            Self::Hashed(_) => 0,
        }
    }
}

/// What is asked in the cases that were met: numbers side by side, for one case after another, as told by
/// [`OfCase::fetched`]. The top bit of each tells whether there is nothing to it.
#[derive(Clone, Debug)]
pub(super) struct Asked {
    numbers: Vec<u16>,
    is_known: Vec<bool>,
    /// For each place in a case, the number that stands there in every one of them, where it is the same.
    same: Vec<Option<u16>>,
}

impl Asked {
    const fn new() -> Self {
        Self {
            numbers: Vec::new(),
            is_known: Vec::new(),
            same: Vec::new(),
        }
    }

    pub(super) fn is_known(&self, case: usize) -> bool {
        self.is_known.get(case) == Some(&true)
    }

    fn of(&self, case: usize) -> Option<&[u16]> {
        let width = self.same.len();
        let numbers = self.numbers.get(case * width..(case + 1) * width);
        numbers.filter(|_| self.is_known(case))
    }

    /// The number at some place, counted over all cases.
    #[inline]
    pub(super) fn number(&self, place: usize) -> u16 {
        self.numbers.get(place).copied().unwrap_or_default()
    }

    /// The number at some place of a case, if it is the same in every case.
    #[inline]
    pub(super) fn same(&self, place: u32) -> Option<u16> {
        self.same.get(place as usize).copied().flatten()
    }

    pub(super) fn keep(&mut self, case: usize, numbers: &[u16]) {
        let width = numbers.len();
        if self.is_known.len() <= case {
            self.is_known.resize(case + 1, false);
            self.numbers.resize((case + 1) * width, 0);
        }
        let is_first = self.same.is_empty();
        self.same.resize(width, None);
        for (same, number) in self.same.iter_mut().zip(numbers) {
            *same = same.or(is_first.then_some(*number)).filter(|same| same == number);
        }
        if let Some(here) = self.numbers.get_mut(case * width..(case + 1) * width) {
            here.copy_from_slice(numbers);
        }
        if let Some(is_known) = self.is_known.get_mut(case) {
            *is_known = true;
        }
    }
}

/// What the steps behind a gate left in the slots that are read by others: a row of numbers for each passage, the top
/// bit of each telling whether there is nothing to it.
#[derive(Clone, Debug, Default)]
pub(super) struct Passages {
    pub(super) known: Numbered<Box<[u16]>>,
    pub(super) rows: Vec<u16>,
}

pub(super) const NOTHING: u16 = 1 << 15;

/// A number, with the mark where there is nothing to it.
pub(super) const fn marked(number: u16, is_nothing: bool) -> u16 {
    if is_nothing { number | NOTHING } else { number }
}

impl Slots {
    /// Puts a number into a slot that may have that mark.
    #[inline]
    fn put_marked(&mut self, slot: Slot, number: u16) {
        self.set(slot, number & !NOTHING);
        self.set_nothing(slot, number & NOTHING > 0);
    }
}

impl Passages {
    pub(super) fn keep(&mut self, gate: &Gate, slots: &Slots) -> u16 {
        let outputs = gate
            .outputs
            .iter()
            .map(|slot| marked(slots.get(*slot), slots.is_nothing(*slot)));
        let row: Box<[u16]> = outputs.collect();
        let number = number(&mut self.known, row.clone());
        if self.rows.len() < self.known.len() * gate.outputs.len() {
            self.rows.extend(row);
        }
        number
    }

    #[inline]
    pub(super) fn put(&self, number: u16, gate: &Gate, slots: &mut Slots) {
        let from = usize::from(number.saturating_sub(1)) * gate.outputs.len();
        let row = self.rows.get(from..).unwrap_or_default();
        for (slot, number) in gate.outputs.iter().zip(row) {
            slots.put_marked(*slot, *number);
        }
    }
}

impl Recalled {
    /// With more than this of anything, it is time to begin anew. Before that is asked again, each of many rows may add one to
    /// what is numbered for a slot, and some to the shares.
    pub(super) const MOST: u16 = 30_000;
    /// The most keys of a table by hash, as a power of two.
    const TABLE_BITS: u32 = 15;
    /// A table by place has at most so many places, and all together so many, of two bytes each.
    const MOST_IN_TABLE: usize = 1 << 17;
    const MOST_BY_PLACE: usize = 1 << 20;
    /// All tables by hash together grow up to so many places, of 24 bytes each.
    const MOST_PLACES: usize = 1 << 18;

    pub(super) fn new(graph: &Graph) -> Self {
        let mut extents = Box::new([1; SLOTS]);
        let lists = graph.lists.iter().chain([&graph.sill]);
        for slot in lists.map(|list| list.slot) {
            if let Some(extent) = extents.get_mut(slot.place()) {
                *extent = LISTED.max(EMPTY) + 1;
            }
        }
        let inputs = |step: &Step| step.inputs().copied().unwrap_or([Slot::NONE; INPUTS]);
        Self {
            steps: graph
                .steps
                .iter()
                .map(|step| Recall::new(&inputs(step), &extents, Self::MOST_IN_TABLE))
                .collect(),
            extents,
            fullest: 0,
            places: 0,
            passages: vec![Passages::default(); graph.steps.len()],
            codes: vec![Numbered::default(); SLOTS],
            briefs: vec![Numbered::default(); SLOTS],
            links: vec![Numbered::default(); SLOTS],
            links_in_words: vec![vec![LinkInWords::default()]; SLOTS],
            shares: Numbered::default(),
            chains: Table::new(Self::TABLE_BITS),
            not_done: None,
            shown: Numbered::default(),
            shows: Vec::new(),
            shows_from: Vec::new(),
            shown_by: graph
                .checks
                .iter()
                .map(|_| [Table::new(Self::TABLE_BITS), Table::new(Self::TABLE_BITS)])
                .collect(),
            asked: [Asked::new(), Asked::new()],
            sparse: SparseRows::new(),
        }
    }

    /// Without anything.
    pub(super) fn anew(&self, graph: &Graph) -> Self {
        Self {
            sparse: self.sparse.anew(),
            ..Self::new(graph)
        }
    }

    pub(super) fn is_full(&self) -> bool {
        self.fullest >= Self::MOST
    }

    /// The number of codes of a slot.
    pub(super) fn number_codes(&mut self, graph: &Graph, slot: Slot, codes: Vec<i64>) -> u16 {
        let number = number_of(&mut self.codes, slot, codes.into());
        self.make_room(graph, slot, number);
        self.note(number)
    }

    pub(super) fn number_share(&mut self, share: Share) -> u16 {
        let number = number(&mut self.shares, share);
        self.note(number)
    }

    /// What the shares of some numbers come to together.
    pub(super) fn sum_of_shares(&self, numbers: &[u16]) -> Share {
        let shares = numbers.iter();
        Share::of_all(shares.filter_map(|number| numbered(&self.shares, *number)))
    }

    pub(super) fn number_link(&mut self, slot: Slot, link: Link) -> u16 {
        let number = number_of(&mut self.links, slot, link);
        if let Some(in_words) = self.links_in_words.get_mut(slot.place())
            && in_words.len() == usize::from(number)
        {
            in_words.push(LinkInWords::new(&link));
        }
        self.note(number)
    }

    /// Notes a number that was given.
    pub(super) fn note(&mut self, number: u16) -> u16 {
        self.fullest = self.fullest.max(number);
        number
    }
}

/// An extent with room for a number: some more than is needed, so that tables are seldom laid out anew.
pub(super) fn extent_for(number: u16) -> u16 {
    let extents = (1u32..16).flat_map(|power| [1 << power, (1 << power) + (1 << (power - 1))]);
    let extent = extents
        .chain([u32::from(u16::MAX)])
        .find(|extent| *extent > u32::from(number));
    extent
        .and_then(|extent| u16::try_from(extent).ok())
        .unwrap_or(u16::MAX)
}

/// Values by number.
pub(super) type Numbered<T> = IndexSet<T, foldhash::fast::FixedState>;

/// The number of a value, which is one more than its place.
pub(super) fn number<T: std::hash::Hash + Eq>(set: &mut Numbered<T>, value: T) -> u16 {
    // Everything is forgotten long before there are so many.
    u16::try_from(set.insert_full(value).0 + 1).unwrap_or(u16::MAX)
}

/// The value of a number.
#[inline]
pub(super) fn numbered<T>(set: &Numbered<T>, number: u16) -> Option<&T> {
    set.get_index(usize::from(number).checked_sub(1)?)
}

/// The number of a value of a slot.
pub(super) fn number_of<T: std::hash::Hash + Eq>(sets: &mut [Numbered<T>], slot: Slot, value: T) -> u16 {
    sets.get_mut(slot.place()).map_or(0, |set| number(set, value))
}

impl Recalled {
    /// Puts what is asked in a case into the slots for it; false where it is not known yet.
    #[inline]
    pub(super) fn put_asked(&self, of_case: &OfCase, slots: &mut Slots) -> bool {
        let case = usize::from(slots.get(of_case.case));
        let asked = self.asked.get(usize::from(of_case.of_house));
        let Some(numbers) = asked.and_then(|asked| asked.of(case)) else {
            return false;
        };
        let (of_sets, settled) = numbers.split_at_checked(of_case.sets.len()).unwrap_or_default();
        for (slot, number) in of_case.slots().zip(of_sets) {
            slots.set(slot, *number);
        }
        for (node, [to, answer]) in of_case.settled.iter().zip(settled.as_chunks().0) {
            slots.put_marked(node.into, *to);
            slots.set(node.answer, *answer);
        }
        true
    }

    #[inline]
    pub(super) fn came(&self, at: usize, inputs: &Inputs, slots: &Slots) -> Option<Came> {
        match self.steps.get(at)? {
            Recall::Direct(table) => table.find(inputs, &slots.numbers),
            Recall::Hashed(table) => table.find(slots.key(inputs)),
        }
    }

    #[inline]
    pub(super) fn put_passage(&self, at: usize, gate: &Gate, came: Came, slots: &mut Slots) {
        if let Some(passages) = self.passages.get(at) {
            passages.put(came.to, gate, slots);
        }
    }

    pub(super) fn may_grow(&self) -> bool {
        self.places + self.chains.len() < Self::MOST_PLACES
    }

    pub(super) fn remember(&mut self, at: usize, inputs: &Inputs, slots: &Slots, came: Came) {
        match self.steps.get_mut(at) {
            Some(Recall::Direct(table)) => table.keep(inputs, &slots.numbers, came),
            Some(Recall::Hashed(_)) => self.remember_hashed(at, slots.key(inputs), came),
            None => {}
        }
    }

    pub(super) fn remember_hashed(&mut self, at: usize, key: Key, came: Came) {
        let may_grow = self.may_grow();
        if let Some(Recall::Hashed(table)) = self.steps.get_mut(at) {
            let before = table.len();
            table.keep(key, came, may_grow);
            self.places += table.len() - before;
        }
    }

    /// Makes room for a number in a slot, in all tables that go by it.
    pub(super) fn make_room(&mut self, graph: &Graph, slot: Slot, number: u16) {
        if number >= self.extents.get(slot.place()).copied().unwrap_or(u16::MAX) {
            self.widen(graph, slot, extent_for(number));
        }
    }

    /// Makes room for numbers below an end.
    pub(super) fn widen(&mut self, graph: &Graph, slot: Slot, end: u16) {
        if let Some(extent) = self.extents.get_mut(slot.place()) {
            *extent = end;
        }
        for (at, step) in graph.steps.iter().enumerate() {
            match step {
                // It hands on no more than whether there is anything.
                Step::Unless {
                    nothing_to: Slot::NONE,
                    from,
                    into,
                } if *from == slot => self.widen(graph, *into, ANYTHING + 1),
                Step::Unless { from, into, .. } if *from == slot => {
                    self.widen(graph, *into, end.saturating_add(ANYTHING));
                }
                Step::InPlaceOf { from, into, .. } if *from == slot => self.widen(graph, *into, end),
                _ => {}
            }
            if let Some(inputs) = step.inputs().filter(|inputs| inputs.contains(&slot)) {
                self.lay_out_anew(at, inputs);
            }
        }
    }

    /// Lays a table out for the extents that there are now.
    pub(super) fn lay_out_anew(&mut self, at: usize, inputs: &Inputs) {
        let by_place = self.steps.iter().map(Recall::places).sum::<usize>();
        let Some(recall) = self.steps.get_mut(at) else {
            return;
        };
        let left = (Self::MOST_BY_PLACE + recall.places()).saturating_sub(by_place);
        if matches!(recall, Recall::Hashed(_)) {
            return;
        }
        let wider = Recall::new(inputs, &self.extents, left.min(Self::MOST_IN_TABLE));
        let Recall::Direct(before) = std::mem::replace(recall, wider) else {
            return;
        };
        // A row with these numbers, to keep them by.
        let mut numbers = [0; SLOTS];
        for (kept_for, came) in before.entries() {
            if let Some(Recall::Direct(table)) = self.steps.get_mut(at) {
                for (slot, number) in inputs.iter().zip(kept_for) {
                    if let Some(here) = numbers.get_mut(slot.place()) {
                        *here = number;
                    }
                }
                table.keep(inputs, &numbers, came);
            } else {
                self.remember_hashed(at, key_of(kept_for), came);
            }
        }
    }

    /// The numbers of what the findings of a check show, by what they hang on: on their own, or behind a gate.
    #[inline]
    pub(super) fn shown_by(&self, (check, which): (usize, usize)) -> Option<&Table<u16>> {
        self.shown_by.get(check)?.get(which)
    }

    pub(super) fn remember_shows(&mut self, (check, which): (usize, usize), key: Key, shows: u16) {
        let may_grow = self.may_grow();
        let tables = self.shown_by.get_mut(check);
        if let Some(table) = tables.and_then(|tables| tables.get_mut(which)) {
            let before = table.len();
            table.keep(key, shows, may_grow);
            self.places += table.len() - before;
        }
    }

    /// What one finding of a check shows, by the number of what all of them show.
    #[inline]
    pub(super) fn shows(&self, id: CheckId, number: u16, item: usize) -> Option<Governing> {
        let from = self.shows_from.get(usize::from(number).checked_sub(1)?)?;
        let shows = self.shows.get(*from as usize + item)?;
        let wall_line = (!id.is_of_house()).then_some(0);
        Some(Governing::new(id, wall_line, *shows))
    }

    /// Keeps what findings show; its number.
    pub(super) fn keep_shown(&mut self, findings: &[Finding]) -> u16 {
        let shows = |finding: &Finding| [finding.measured, finding.required];
        let number = number(&mut self.shown, findings.iter().map(shows).collect());
        if self.shows_from.len() < usize::from(number) {
            self.shows_from
                .push(u32::try_from(self.shows.len()).unwrap_or(u32::MAX));
            self.shows.extend(findings.iter().map(shows));
        }
        self.note(number)
    }
}
