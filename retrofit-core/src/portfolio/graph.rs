//! What each check hangs on: the columns of a row, the figures that apply, and what it shares with other checks.
//!
//! A row is a set of slots with a small number in each: for every column the number of its value, for every
//! thing worked out from them the number of what came of it. A node works something out from at most eight slots
//! and puts it into a slot of its own. Nodes stand in the order in which they need each other.
//!
//! What a node names here is all that it may hang on: `checker.rs` looks up by it what came of the same numbers
//! on an earlier row. Single properties of panels hang on their own columns and on whether those that count are
//! *enough*, not on everything that makes them enough; so rows that differ in all but a few columns still have
//! most of their nodes in common.

use std::collections::{BTreeMap, BTreeSet};

use super::column::{COLUMNS, Column};
use super::row::List;
use crate::check::{ANCHOR_PROPERTIES, CheckId, PANEL_PROPERTIES, Shared};
use crate::provisions::{FigureName, Provisions};

/// The place of a number in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Slot(pub(super) u16);

impl Slot {
    /// Always 0: what a node with fewer than eight inputs reads in place of the others.
    pub(super) const NONE: Self = Self(LAST_SLOT);
    /// Never read: where a node puts what nobody goes by.
    pub(super) const UNREAD: Self = Self(LAST_SLOT - 1);

    #[inline]
    pub(super) fn place(self) -> usize {
        usize::from(self.0)
    }
}

const LAST_SLOT: u16 = 511;

/// How many slots a row has.
pub(super) const SLOTS: usize = LAST_SLOT as usize + 1;

/// How many slots a node can read.
pub(super) const INPUTS: usize = 8;

/// Slots and, after them, none.
pub(super) type Inputs = [Slot; INPUTS];

/// A list of which a row describes the one item, as far as the row tells whether there is one: 0 where it does
/// not, [`LISTED`] and [`EMPTY`] where it does.
#[derive(Clone, Debug)]
pub(super) struct ListSlot {
    pub(super) slot: Slot,
    /// The column that says so outright.
    pub(super) stated: Slot,
    /// Those that describe it.
    pub(super) described: Vec<Slot>,
}

pub(super) const LISTED: u16 = super::memory::YES;
pub(super) const EMPTY: u16 = super::memory::NO;

/// Something that is worked out from the slots before it.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub(super) of: Of,
    pub(super) inputs: Inputs,
    pub(super) into: Slot,
    /// Where the answer goes that others share with it: what a check answers, or the link of a group.
    pub(super) answer: Slot,
}

/// What a node works out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Of {
    Shared(Shared),
    /// A number for the inputs together.
    Together,
    /// What a check finds, and the answer that others share with it.
    Check(CheckId, Option<Shared>),
    /// What the findings of its inputs come to together; the first check stands at that place in the order of
    /// findings.
    Group {
        first: u8,
    },
}

/// One thing to do for a row.
#[derive(Clone, Debug)]
pub(super) enum Step {
    Node(Node),
    /// Fetches what is asked in a case.
    Asked(OfCase),
    /// Hands on only whether there is anything in a slot, where there is nothing to what it would be used for.
    Unless {
        nothing_to: Slot,
        from: Slot,
        into: Slot,
    },
    /// Hands on what is in a slot where another is blank.
    InPlaceOf {
        blank: Slot,
        from: Slot,
        into: Slot,
    },
    /// That one length is not more than another; where it is, the node tells whether both can be.
    Within {
        less: Slot,
        more: Slot,
        node: Node,
    },
    /// The check over the three links of an earlier strengthening, each in parts.
    Links {
        /// The column that says whether there was one.
        done: Slot,
        links: [Vec<Slot>; 3],
    },
    /// The steps that follow, all at once.
    Gate(Gate),
}

/// Steps that are taken all at once where all that they hang on has met before.
#[derive(Clone, Debug)]
pub(super) struct Gate {
    /// A list that there must be no item of, because the steps hang on more where there is one; or none.
    pub(super) list: Slot,
    /// All that they hang on then.
    pub(super) inputs: Inputs,
    /// All that what their checks show hangs on then.
    pub(super) shown_by: Inputs,
    /// How many steps there are.
    pub(super) steps: usize,
    /// The slots they put something into.
    slots: std::ops::Range<u16>,
    /// Those of them that are read by others.
    pub(super) outputs: Vec<Slot>,
    /// The places of their checks, a bit for each.
    pub(super) places: u64,
}

/// Everything that is worked out for a row.
#[derive(Clone, Debug)]
pub(super) struct Graph {
    pub(super) lists: Vec<ListSlot>,
    /// The list of the sill, which is there when the number of its pieces is known.
    pub(super) sill: ListSlot,
    pub(super) steps: Vec<Step>,
    /// The checks in the order of findings.
    pub(super) checks: Vec<CheckId>,
    /// For each of them, what its findings show hangs on.
    pub(super) shown_by: Vec<Inputs>,
}

/// What hangs on the case of the house or of the wall line alone.
#[derive(Clone, Debug)]
pub(super) struct OfCase {
    pub(super) case: Slot,
    pub(super) of_house: bool,
    /// Sets of figures by which something is asked, and the first of their slots, which stand side by side.
    pub(super) sets: Vec<Vec<FigureName>>,
    pub(super) first: Slot,
    /// Nodes that hang on nothing but what is asked.
    pub(super) settled: Vec<Node>,
}

impl OfCase {
    /// The slots of its sets.
    pub(super) fn slots(&self) -> impl Iterator<Item = Slot> {
        (self.first.0..).map(Slot)
    }
}

/// Which case something hangs on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum CaseOf {
    House,
    Line,
}

struct Builder<'p> {
    /// Which columns the table has; what stands in no column is blank in every row.
    has: &'p dyn Fn(&Column) -> bool,
    next: u16,
    steps: Vec<Step>,
    provisions: &'p Provisions,
    /// Of the house and of the wall line.
    of_case: [OfCase; 2],
    checks: Vec<CheckId>,
    shown_by: Vec<Inputs>,
    /// The checks by the slots they put something into.
    places: BTreeMap<Slot, u8>,
    /// The figures that what is settled with the case hangs on, by the slots it puts something into.
    settled_by: BTreeMap<Slot, Vec<FigureName>>,
    /// The lists behind gates.
    lists: Vec<ListSlot>,
}

/// The slot of a column.
fn column(name: &str) -> Slot {
    let at = COLUMNS.iter().position(|column| column.name == name);
    debug_assert!(at.is_some(), "no column {name}");
    at.and_then(|at| u16::try_from(at).ok()).map_or(Slot::NONE, Slot)
}

/// Slots that are kept for sets of figures.
const SETS_OF_HOUSE: u16 = 24;
const SETS_OF_LINE: u16 = 80;

/// All of one checks, one after another as in a report.
fn checks_in_order() -> Vec<CheckId> {
    let of = |is_of_house| {
        CheckId::ALL
            .into_iter()
            .filter(move |id| id.is_of_house() == is_of_house)
    };
    of(true).chain(of(false)).collect()
}

impl<'p> Builder<'p> {
    fn new(provisions: &'p Provisions, has: &'p dyn Fn(&Column) -> bool) -> Self {
        let columns = u16::try_from(COLUMNS.len()).unwrap_or(u16::MAX);
        let of_case = |of_house, first| OfCase {
            case: Slot::NONE,
            of_house,
            sets: Vec::new(),
            first: Slot(first),
            settled: Vec::new(),
        };
        let checks = checks_in_order();
        Self {
            has,
            next: columns + SETS_OF_HOUSE + SETS_OF_LINE,
            steps: Vec::new(),
            provisions,
            of_case: [of_case(true, columns), of_case(false, columns + SETS_OF_HOUSE)],
            shown_by: vec![[Slot::NONE; INPUTS]; checks.len()],
            checks,
            places: BTreeMap::new(),
            settled_by: BTreeMap::new(),
            lists: Vec::new(),
        }
    }

    fn slot(&mut self) -> Slot {
        let slot = Slot(self.next);
        debug_assert!(slot < Slot::UNREAD, "more slots than a row has");
        self.next = self.next.saturating_add(1);
        slot
    }

    fn node(&mut self, of: Of, inputs: &[Slot], answer: Slot) -> Slot {
        let node = self.new_node(of, inputs, answer);
        let into = node.into;
        self.steps.push(Step::Node(node));
        into
    }

    /// A slot, where anything may ever stand in it.
    fn told(&self, slot: Slot) -> Slot {
        match COLUMNS.get(slot.place()) {
            Some(column) if !(self.has)(column) => Slot::NONE,
            _ => slot,
        }
    }

    /// Those slots in which anything may ever stand.
    fn all_told(&self, slots: &[Slot]) -> Inputs {
        let told = slots.iter().map(|slot| self.told(*slot));
        let told: Vec<Slot> = told.filter(|slot| *slot != Slot::NONE).collect();
        let inputs = padded(&told);
        debug_assert!(inputs.is_some(), "{slots:?}");
        inputs.unwrap_or([Slot::NONE; INPUTS])
    }

    fn new_node(&mut self, of: Of, inputs: &[Slot], answer: Slot) -> Node {
        let (inputs, into) = if let Of::Group { .. } = of {
            // A group goes by the order of its checks.
            (padded(inputs).unwrap_or([Slot::NONE; INPUTS]), Slot::UNREAD)
        } else {
            (self.all_told(inputs), self.slot())
        };
        Node {
            of,
            inputs,
            into,
            answer,
        }
    }

    /// Steps that hang on little where there are no items of a list.
    fn gate<T>(&mut self, list: Slot, of: CaseOf, add: impl FnOnce(&mut Self) -> T) -> T {
        let (at, slot) = (self.steps.len(), self.next);
        self.steps.push(Step::Gate(Gate {
            list,
            inputs: [Slot::NONE; INPUTS],
            shown_by: [Slot::NONE; INPUTS],
            steps: 0,
            slots: 0..0,
            outputs: Vec::new(),
            places: 0,
        }));
        let added = add(self);
        let own = slot..self.next;
        let (read, shown, places) = self.read_behind(at + 1, &own, list);
        let asked = self.asked_by(of, &read);
        let is_own = |slot: &Slot| own.contains(&slot.0);
        let mut inputs: Vec<Slot> = asked.into_iter().collect();
        let is_free = |slot: Slot| {
            let is_of_case = self.figures_of(slot).is_some();
            slot != Slot::NONE && !is_own(&slot) && !is_of_case
        };
        inputs.extend(read.iter().copied().filter(|slot| is_free(*slot)));
        let mut shown_by = inputs.clone();
        shown_by.extend(
            shown
                .into_iter()
                .filter(|slot| is_free(*slot) && !read.contains(slot)),
        );
        let steps = self.steps.len() - at - 1;
        match (padded(&inputs), padded(&shown_by), self.steps.get_mut(at)) {
            (Some(inputs), Some(shown_by), Some(Step::Gate(gate))) if steps > 1 => {
                gate.inputs = inputs;
                gate.shown_by = shown_by;
                gate.steps = steps;
                gate.slots = own;
                gate.places = places;
            }
            // They hang on too much, or one look-up is as good.
            _ => {
                self.steps.remove(at);
            }
        }
        added
    }

    /// Steps that hang on few things, or on things that seldom change.
    fn together<T>(&mut self, of: CaseOf, add: impl FnOnce(&mut Self) -> T) -> T {
        self.gate(Slot::NONE, of, add)
    }

    /// What the steps from one on read; what the findings of their checks show hangs on; and the places of these checks.
    /// Where a list is named, as far as they read it where there are no items of that list: nothing that describes one.
    fn read_behind(
        &self,
        from: usize,
        own: &std::ops::Range<u16>,
        list: Slot,
    ) -> (BTreeSet<Slot>, BTreeSet<Slot>, u64) {
        let described = self.lists.iter().find(|other| other.slot == list);
        let described = described.map_or(&[] as &[Slot], |list| &list.described);
        let steps = self.steps.get(from..).unwrap_or_default();
        let (mut read, mut shown) = (BTreeSet::from([list]), BTreeSet::new());
        let mut places = 0;
        let mut note = |slot: Slot| {
            if let Some(place) = self.places.get(&slot) {
                places |= 1 << place;
                let shown_by = self.shown_by.get(usize::from(*place));
                shown.extend(shown_by.into_iter().flatten());
            }
        };
        for step in steps {
            match step {
                // What is blank is within anything.
                Step::Within { less, more, .. }
                    if [less, more].iter().any(|slot| described.contains(slot)) => {}
                Step::Node(Node { into, .. }) => {
                    note(*into);
                    read.extend(step.reads());
                }
                // Its steps follow.
                Step::Gate(_) => {}
                _ => read.extend(step.reads()),
            }
        }
        // Checks that are settled are found by the groups that read them.
        let settled = read.iter().filter(|slot| self.settled_by.contains_key(slot));
        settled.copied().for_each(&mut note);
        let settled = self.settled_by.keys().filter(|slot| own.contains(&slot.0));
        settled.copied().for_each(note);
        read.retain(|slot| !described.contains(slot));
        shown.retain(|slot| !described.contains(slot));
        (read, shown, places)
    }

    /// The figures behind a slot that hangs on nothing but the case.
    fn figures_of(&self, slot: Slot) -> Option<&[FigureName]> {
        if let Some(figures) = self.settled_by.get(&slot) {
            return Some(figures);
        }
        self.of_case.iter().find_map(|of_case| {
            let at = slot.0.checked_sub(of_case.first.0)?;
            of_case.sets.get(usize::from(at)).map(Vec::as_slice)
        })
    }

    /// The slot of what is asked by all figures behind some slots.
    fn asked_by(&mut self, of: CaseOf, slots: &BTreeSet<Slot>) -> Option<Slot> {
        let figures = slots.iter().filter_map(|slot| self.figures_of(*slot)).flatten();
        let mut all: Vec<FigureName> = Vec::new();
        for figure in figures {
            if !all.contains(figure) {
                all.push(*figure);
            }
        }
        (!all.is_empty()).then(|| self.asked(of, &all))
    }

    /// What hangs on the case of the house, or on that of the wall line.
    fn of_case(&mut self, of: CaseOf) -> &mut OfCase {
        let [house, line] = &mut self.of_case;
        match of {
            CaseOf::House => house,
            CaseOf::Line => line,
        }
    }

    /// The slot of what is asked by some figures.
    fn asked(&mut self, of: CaseOf, figures: &[FigureName]) -> Slot {
        let OfCase { sets, first, .. } = self.of_case(of);
        let at = sets.iter().position(|set| set == figures).unwrap_or_else(|| {
            sets.push(figures.to_vec());
            sets.len() - 1
        });
        u16::try_from(at).map_or(Slot::NONE, |at| Slot(first.0 + at))
    }

    /// A node that hangs on what is asked by its own figures and by some more, and what is asked. Where the provisions
    /// leave its own open in every case, there is nothing to hold anything against and it hangs on nothing else.
    fn asking(
        &mut self,
        of: Of,
        case: CaseOf,
        [own, more]: [&[FigureName]; 2],
        inputs: &[Slot],
        answer: Slot,
    ) -> (Slot, Slot) {
        let figures = [own, more].concat();
        let asked = self.asked(case, &figures);
        if self.provisions.leaves_open(own) {
            let node = self.new_node(of, &[], answer);
            let into = node.into;
            for slot in [into, answer].into_iter().filter(|slot| *slot != Slot::UNREAD) {
                self.settled_by.insert(slot, figures.clone());
            }
            self.of_case(case).settled.push(node);
            return (into, asked);
        }
        (self.node(of, &[&[asked], inputs].concat(), answer), asked)
    }

    /// Makes sure that a length is not more than another, or at least does not contradict it.
    fn within(&mut self, [less, more]: [Slot; 2]) {
        let [less, more] = [less, more].map(|slot| self.told(slot));
        if [less, more].contains(&Slot::NONE) {
            return; // what is blank contradicts nothing
        }
        let node = self.new_node(Of::Shared(Shared::Sound), &[less, more], Slot::UNREAD);
        self.steps.push(Step::Within { less, more, node });
    }

    /// Something shared that hangs on no figure.
    fn plain(&mut self, shared: Shared, inputs: &[Slot]) -> Slot {
        self.node(Of::Shared(shared), inputs, Slot::UNREAD)
    }

    /// Something shared that hangs on what is asked of a wall line.
    fn shared(&mut self, shared: Shared, figures: &[FigureName], inputs: &[Slot]) -> Slot {
        self.part_of([figures, &[]], shared, inputs)
    }

    /// Something shared that a check goes by, with its own figures and some more.
    fn part_of(&mut self, figures: [&[FigureName]; 2], shared: Shared, inputs: &[Slot]) -> Slot {
        let (into, _) = self.asking(Of::Shared(shared), CaseOf::Line, figures, inputs, Slot::UNREAD);
        into
    }

    /// The same for what hangs on much: what seldom differs is numbered together first.
    fn along(
        &mut self,
        figures: [&[FigureName]; 2],
        shared: Shared,
        seldom: &[Slot],
        inputs: &[Slot],
    ) -> Slot {
        let [own, _] = figures;
        if self.provisions.leaves_open(own) {
            return self.part_of(figures, shared, &[]);
        }
        let asked = self.asked(CaseOf::Line, &figures.concat());
        let seldom = self.node(Of::Together, &[&[asked], seldom].concat(), Slot::UNREAD);
        self.node(Of::Shared(shared), &[&[seldom], inputs].concat(), Slot::UNREAD)
    }

    /// A check. It hangs on the figures it declares, and on some more.
    fn check(&mut self, id: CheckId, more: &[FigureName], inputs: &[Slot]) -> Slot {
        self.check_showing(id, more, inputs, inputs)
    }

    /// A check whose findings show what hangs on other things than what it comes to.
    fn check_showing(
        &mut self,
        id: CheckId,
        more: &[FigureName],
        inputs: &[Slot],
        shown_by: &[Slot],
    ) -> Slot {
        self.add_check(id, more, [inputs, shown_by], None, Slot::UNREAD)
    }

    /// A check with an answer that others share.
    fn answering(&mut self, id: CheckId, inputs: &[Slot], shown_by: &[Slot], shared: Shared) -> (Slot, Slot) {
        let answer = self.slot();
        let shared = Some(shared);
        (
            self.add_check(id, &[], [inputs, shown_by], shared, answer),
            answer,
        )
    }

    fn add_check(
        &mut self,
        id: CheckId,
        more: &[FigureName],
        [inputs, shown_by]: [&[Slot]; 2],
        shared: Option<Shared>,
        answer: Slot,
    ) -> Slot {
        let figures = [id.check().figures, more];
        let of = if id.is_of_house() {
            CaseOf::House
        } else {
            CaseOf::Line
        };
        let (into, asked) = self.asking(Of::Check(id, shared), of, figures, inputs, answer);
        let shown_by = self.all_told(&[&[asked], shown_by].concat());
        if let Some(place) = self.checks.iter().position(|other| *other == id) {
            if let Some(slots) = self.shown_by.get_mut(place) {
                *slots = shown_by;
            }
            self.places.insert(into, u8::try_from(place).unwrap_or(u8::MAX));
        }
        into
    }

    /// Checks that stand one after another, as a group.
    fn group(&mut self, checks: &[Slot]) {
        self.add_group(checks, Slot::UNREAD);
    }

    /// Checks that stand one after another, as a group that is a link, or a part of one; the slot of the link.
    fn link(&mut self, checks: &[Slot]) -> Slot {
        let link = self.slot();
        self.add_group(checks, link);
        link
    }

    fn add_group(&mut self, checks: &[Slot], link: Slot) {
        let first = checks.first().and_then(|check| self.places.get(check));
        let first = first.copied().unwrap_or_default();
        debug_assert!(
            (first..)
                .zip(checks)
                .all(|(place, check)| self.places.get(check) == Some(&place)),
            "checks in the order of findings"
        );
        self.node(Of::Group { first }, checks, link);
    }

    fn unless(&mut self, nothing_to: Slot, from: Slot) -> Slot {
        let from = self.told(from);
        if from == Slot::NONE {
            return from;
        }
        let into = self.slot();
        self.steps.push(Step::Unless {
            nothing_to,
            from,
            into,
        });
        into
    }

    fn in_place_of(&mut self, blank: Slot, from: Slot) -> Slot {
        let [blank, from] = [blank, from].map(|slot| self.told(slot));
        if [blank, from].contains(&Slot::NONE) {
            return from;
        }
        let into = self.slot();
        self.steps.push(Step::InPlaceOf { blank, from, into });
        into
    }
}

/// Slots and, after them, none.
fn padded(slots: &[Slot]) -> Option<Inputs> {
    let mut padded = [Slot::NONE; INPUTS];
    padded.get_mut(..slots.len())?.copy_from_slice(slots);
    Some(padded)
}

/// The columns that describe a list.
fn described(of: List) -> Vec<Slot> {
    let columns = COLUMNS.iter().filter(|column| column.of == Some(of));
    columns.map(|described| column(described.name)).collect()
}

/// Finds which of the slots that the steps behind a gate put something into are read by others.
fn find_outputs(steps: &mut [Step]) {
    for at in 0..steps.len() {
        let Some(Step::Gate(gate)) = steps.get(at) else {
            continue;
        };
        let own = |slot: &Slot| gate.slots.contains(&slot.0);
        let behind = steps.get(at + 1..=at + gate.steps).unwrap_or_default();
        let put: BTreeSet<Slot> = behind.iter().flat_map(Step::puts).collect();
        let after = steps.get(at + 1 + gate.steps..).unwrap_or_default();
        let read = after.iter().flat_map(Step::reads);
        let outputs: BTreeSet<Slot> = read.filter(|slot| own(slot) && put.contains(slot)).collect();
        if let Some(Step::Gate(gate)) = steps.get_mut(at) {
            gate.outputs = outputs.into_iter().collect();
        }
    }
}

impl Step {
    /// What it is looked up by, where it is.
    pub(super) fn inputs(&self) -> Option<&Inputs> {
        match self {
            Self::Node(node) | Self::Within { node, .. } => Some(&node.inputs),
            Self::Gate(gate) => Some(&gate.inputs),
            _ => None,
        }
    }

    /// The slots it reads.
    pub(super) fn reads(&self) -> Vec<Slot> {
        match self {
            Self::Node(node) => node.inputs.to_vec(),
            Self::Asked(of_case) => vec![of_case.case],
            Self::Unless { nothing_to, from, .. } => vec![*nothing_to, *from],
            Self::InPlaceOf { blank, from, .. } => vec![*blank, *from],
            Self::Within { less, more, .. } => vec![*less, *more],
            Self::Links { done, links } => [&[*done], links.concat().as_slice()].concat(),
            Self::Gate(gate) => gate.inputs.to_vec(),
        }
    }

    /// The slots it puts something into.
    fn puts(&self) -> Vec<Slot> {
        match self {
            Self::Node(node) | Self::Within { node, .. } => vec![node.into, node.answer],
            Self::Unless { into, .. } | Self::InPlaceOf { into, .. } => vec![*into],
            Self::Asked(_) | Self::Links { .. } | Self::Gate(_) => Vec::new(),
        }
    }
}

/// The lists of a row.
struct Lists {
    posts: ListSlot,
    anchors: ListSlot,
    cripple_wall: ListSlot,
    panels: ListSlot,
    foundation: ListSlot,
    connections: ListSlot,
    sill: ListSlot,
}

impl Lists {
    fn new(to: &mut Builder<'_>) -> Self {
        let mut list = |stated: Option<&str>, of| {
            let slot = to.slot();
            let told = |slot: Slot| to.told(slot);
            ListSlot {
                slot,
                stated: stated.map_or(Slot::NONE, |name| told(column(name))),
                described: described(of)
                    .into_iter()
                    .filter(|slot| told(*slot) != Slot::NONE)
                    .collect(),
            }
        };
        Self {
            posts: list(Some("posts"), List::Posts),
            anchors: list(Some("anchors"), List::Anchors),
            cripple_wall: list(Some("cripple_wall"), List::CrippleWall),
            panels: list(Some("panels"), List::Panels),
            foundation: list(None, List::Foundation),
            connections: list(None, List::Connections),
            sill: list(Some("sill_pieces"), List::Sill),
        }
    }
}

impl Graph {
    pub(super) fn new(provisions: &Provisions, has: &dyn Fn(&Column) -> bool) -> Self {
        let mut to = Builder::new(provisions, has);
        let lists = Lists::new(&mut to);

        // The cases, and what is asked in them. The studs have to make sense for a case to be found.
        let [length, pieces] = ["wall_length", "sill_pieces"].map(column);
        let studs = ["tallest_stud", "shortest_stud", "cripple_wall_height"].map(column);
        let studs = to.plain(Shared::TallestStud, &studs);
        to.plain(Shared::Sound, &[length, pieces]);
        let weight = ["stories", "exterior", "roof"].map(column);
        let house_case = to.plain(Shared::HouseCases, &weight);
        let line_case = to.plain(Shared::LineCases, &[house_case, studs]);
        for (of_case, case) in to.of_case.iter_mut().zip([house_case, line_case]) {
            of_case.case = case;
        }
        // What is asked is not known before all that asks is there: its steps are put here at the end.
        let at = to.steps.len();

        to.together(CaseOf::House, |to| limits(to, &lists));
        to.together(CaseOf::House, |to| house_in_general(to, &lists));
        foundation_and_sill(&mut to, &lists, studs);
        to.lists = vec![lists.anchors.clone(), lists.panels.clone()];
        let anchors = lists.anchors.slot;
        let anchorage = to.gate(anchors, CaseOf::Line, |to| {
            anchorage(to, anchors, [length, pieces]).to_vec()
        });
        let panels = lists.panels.slot;
        // Where there are no panels, no length of one hangs on the studs.
        let panel_studs = to.unless(panels, studs);
        let to_brace = to.unless(panels, length);
        let has_length = to.unless(Slot::NONE, length);
        let (braced, bracing) = to.gate(panels, CaseOf::Line, |to| {
            bracing(to, &lists, [length, to_brace, has_length], panel_studs)
        });
        let floor = to.together(CaseOf::Line, |to| {
            framing(to, &lists);
            floor(to, &lists, has_length)
        });
        stud_bay_vents(&mut to, &lists, &braced, length);
        to.steps.push(Step::Links {
            done: to.told(column("earlier_retrofit")),
            links: [anchorage, bracing, vec![floor]],
        });

        let [of_house, of_line] = to.of_case;
        debug_assert!(of_house.sets.len() <= usize::from(SETS_OF_HOUSE));
        debug_assert!(of_line.sets.len() <= usize::from(SETS_OF_LINE));
        to.steps.splice(at..at, [of_house, of_line].map(Step::Asked));
        find_outputs(&mut to.steps);
        Self {
            lists: vec![
                lists.posts,
                lists.anchors,
                lists.cripple_wall,
                lists.panels,
                lists.foundation,
                lists.connections,
            ],
            sill: lists.sill,
            steps: to.steps,
            checks: to.checks,
            shown_by: to.shown_by,
        }
    }
}

/// The checks by which a house is within the provisions or not.
fn limits(to: &mut Builder<'_>, lists: &Lists) {
    let foundation = lists.foundation.slot;
    let limits = [
        (CheckId::StoriesLimit, "stories", Slot::NONE),
        (CheckId::DwellingUnits, "units", Slot::NONE),
        (CheckId::GroundSlope, "slope", Slot::NONE),
        (
            CheckId::ContinuousPerimeter,
            "continuous_perimeter",
            column("foundation_kind"),
        ),
        (CheckId::FloorLevels, "floors_at_one_level", Slot::NONE),
        (CheckId::VeneerHeight, "veneer_height", Slot::NONE),
        (CheckId::RoomsOverGarage, "rooms_over_garage", Slot::NONE),
        (CheckId::SlabOrPoles, "slab_or_pole_portion", Slot::NONE),
    ];
    let limits = limits.map(|(id, name, other)| match other {
        Slot::NONE => to.check(id, &[], &[column(name)]),
        other => to.check(id, &[], &[column(name), foundation, other]),
    });
    to.group(&limits);
}

/// The other checks on the house as a whole.
fn house_in_general(to: &mut Builder<'_>, lists: &Lists) {
    let year = to.check(CheckId::YearBuilt, &[], &[column("year_built")]);
    let areas = ["crawl_space_area", "vent_area"].map(column);
    let vents = to.check(CheckId::UnderfloorVentArea, &[], &areas);
    let [top, base, sound] = ["posts_top", "posts_base", "posts_sound"].map(column);
    let posts = to.check(
        CheckId::PostsConnected,
        &[],
        &[lists.posts.slot, top, base, sound],
    );
    to.group(&[year, vents, posts]);
}

/// The height of the cripple wall, and the checks on what is below it.
fn foundation_and_sill(to: &mut Builder<'_>, lists: &Lists, studs: Slot) {
    let height = column("cripple_wall_height");
    let height = to.check(
        CheckId::CrippleWallHeight,
        &[],
        &[lists.cripple_wall.slot, height, studs],
    );
    to.together(CaseOf::Line, |to| {
        let mut one = |id, list: &ListSlot, names: &[&str]| {
            let columns = names.iter().map(|name| column(name));
            let inputs: Vec<Slot> = [list.slot].into_iter().chain(columns).collect();
            to.check(id, &[], &inputs)
        };
        let (foundation, sill) = (&lists.foundation, &lists.sill);
        let below = [
            height,
            one(CheckId::FoundationKind, foundation, &["foundation_kind"]),
            one(
                CheckId::FoundationCondition,
                foundation,
                &["foundation_condition"],
            ),
            one(
                CheckId::FootingSize,
                foundation,
                &["footing_width", "footing_thickness", "footing_depth"],
            ),
            one(CheckId::FootingBars, foundation, &["reinforcing"]),
            one(CheckId::SillSoundness, sill, &["sill_soundness"]),
            one(
                CheckId::NewSill,
                sill,
                &["sill_installed", "sill_thickness", "sill_treatment"],
            ),
        ];
        to.group(&below);
    });
}

/// The checks on the framing of the cripple wall.
fn framing(to: &mut Builder<'_>, lists: &Lists) {
    let cripple_wall = lists.cripple_wall.slot;
    let plate = to.check(CheckId::TopPlate, &[], &[cripple_wall, column("top_plate")]);
    let splices = to.check(
        CheckId::PlateSplices,
        &[],
        &[cripple_wall, column("plate_splices_tied")],
    );
    let [shortest, tallest, height] = ["shortest_stud", "tallest_stud", "cripple_wall_height"].map(column);
    let [blocked, sheathing] = ["solid_blocked", "sheathing"].map(column);
    let studs = [
        cripple_wall,
        shortest,
        tallest,
        height,
        blocked,
        lists.panels.slot,
        sheathing,
    ];
    let studs = to.check(CheckId::ShortStuds, &[], &studs);
    to.group(&[plate, splices, studs]);
}

/// The checks on what ties the floor to the wall; the link that they are.
fn floor(to: &mut Builder<'_>, lists: &Lists, has_length: Slot) -> Slot {
    let [joists, rim] = ["joists", "rim"].map(column);
    let closed = to.check(
        CheckId::RimOrBlocking,
        &[],
        &[joists, rim, lists.cripple_wall.slot],
    );
    let [kind, spacing, nails] = ["floor_connection", "connection_spacing", "nails_per_block"].map(column);
    let tied = [lists.connections.slot, has_length, rim, kind, spacing, nails];
    let tied = to.check(CheckId::FloorConnection, &[], &tied);
    to.link(&[closed, tied])
}

/// The check on the ventilation of stud bays.
fn stud_bay_vents(to: &mut Builder<'_>, lists: &Lists, braced: &Braced, length: Slot) {
    let holes = to.shared(
        Shared::Ventilated,
        CheckId::StudBayVents.check().figures,
        &[
            lists.panels.slot,
            column("panels_close_bays"),
            column("panel_vent_holes"),
        ],
    );
    let amounts = [length, braced.amount, braced.at_each_end, braced.gap];
    let [length, amount, at_each_end, gap] = amounts.map(|amount| to.unless(holes, amount));
    let cripple_wall = lists.cripple_wall.slot;
    let hang_on = [
        holes,
        braced.count,
        cripple_wall,
        length,
        amount,
        at_each_end,
        gap,
    ];
    to.together(CaseOf::Line, |to| {
        let vents = to.check(CheckId::StudBayVents, &AMOUNT_OF_BRACING, &hang_on);
        to.group(&[vents]);
    });
}

/// The checks on anchors: how many there are and where, and what each is. Both parts of the link.
fn anchorage(to: &mut Builder<'_>, anchors: Slot, [length, pieces]: [Slot; 2]) -> [Slot; 2] {
    let (count, single) = to.together(CaseOf::Line, |to| anchors_one_by_one(to, anchors));
    let [spacing, end, diameter] = ["anchor_spacing", "anchor_end_distance", "anchor_diameter"]
        .map(column)
        .map(|amount| to.unless(count.with_what_decides, amount));
    let rod = to.unless(count.with_what_decides, count.no_rod);
    let stout = to.shared(
        Shared::AnchorsStout,
        &[FigureName::AnchorSpacing],
        &[anchors, diameter, rod],
    );
    let [for_number, of_ends] =
        [CheckId::AnchorsPerPiece, CheckId::AnchorEndDistance].map(|id| id.check().figures);
    let for_ends = [FigureName::AnchorsPerPiece, FigureName::MinAnchorSpacing];
    let along = [length, pieces, spacing];
    let with = |more: &[Slot]| [&[count.alone], along.as_slice(), more].concat();
    let in_pieces = to.along(
        // Both checks go by it, and so it is open only where both are.
        [&[for_number, of_ends].concat(), &for_ends],
        Shared::AnchorsInPieces,
        &[count.alone],
        &along,
    );
    // Some sets count the distance from an end by the diameter.
    let by_distance = if to.provisions.leaves_open(&[FigureName::MinEndDiameters]) {
        vec![end]
    } else {
        vec![end, diameter, rod]
    };
    let for_spacing = [FigureName::MaxEndDistance, FigureName::MinEndDistance];
    let is_spaced = to.along(
        [CheckId::AnchorSpacing.check().figures, &for_spacing],
        Shared::AnchorsSpaced,
        &[count.alone, stout],
        &along,
    );
    let are_at_ends = to.part_of(
        [of_ends, &for_ends],
        Shared::AnchorsAtEnds,
        &[&[count.alone, in_pieces], by_distance.as_slice()].concat(),
    );
    let mut judged = |id, more: &[FigureName], by, shown_by: &[Slot]| {
        to.check_showing(id, more, &[count.with_what_decides, by], shown_by)
    };
    let spaced = judged(CheckId::AnchorSpacing, &for_spacing, is_spaced, &with(&[stout]));
    let ends = judged(
        CheckId::AnchorEndDistance,
        &for_ends,
        are_at_ends,
        &with(&by_distance),
    );
    let number = judged(CheckId::AnchorsPerPiece, &[], in_pieces, &with(&[]));
    let amount = to.link(&[spaced, ends, number]);
    [amount, single]
}

/// Whether the anchors count.
struct AnchorsCount {
    no_rod: Slot,
    alone: Slot,
    /// With the observations that leave it open.
    with_what_decides: Slot,
}

/// Whether the anchors count, and the checks on what each is; their part of the link.
fn anchors_one_by_one(to: &mut Builder<'_>, anchors: Slot) -> (AnchorsCount, Slot) {
    let [kind, diameter, washer, embedment, edge, tightness, corrosion] = [
        "anchor_kind",
        "anchor_diameter",
        "anchor_washer",
        "anchor_embedment",
        "anchor_edge_distance",
        "anchor_tightness",
        "anchor_corrosion",
    ]
    .map(column);
    let no_rod = to.plain(Shared::HasNoRod, &[anchors, kind]);
    // In the order of the properties.
    let hang_on: [(CheckId, &[Slot]); ANCHOR_PROPERTIES] = [
        (CheckId::AnchorKind, &[kind]),
        (CheckId::AnchorDiameter, &[diameter, no_rod]),
        (CheckId::AnchorWasher, &[washer, diameter, no_rod]),
        (CheckId::AnchorEmbedment, &[embedment, no_rod]),
        (CheckId::AnchorEdgeDistance, &[edge, no_rod]),
        (CheckId::AnchorCondition, &[tightness, no_rod]),
        (CheckId::AnchorCondition, &[corrosion]),
    ];
    let mut properties = [anchors; ANCHOR_PROPERTIES + 1];
    let slots = properties.iter_mut().skip(1);
    for (number, (slot, (id, inputs))) in slots.zip(hang_on).enumerate() {
        let inputs = [&[anchors], inputs].concat();
        *slot = to.shared(Shared::AnchorProperty(number), id.check().figures, &inputs);
    }
    let count = AnchorsCount {
        no_rod,
        alone: to.plain(Shared::AnchorsMayCount, &properties),
        with_what_decides: to.plain(Shared::AnchorsCount, &properties),
    };
    // Whether the anchors that count are enough plays no part: a row describes one run of anchors, and where that may
    // lack a property, no anchor surely counts, and so there surely are not enough. Whether any number is asked for
    // does.
    let amount_asked = [
        FigureName::AnchorSpacing,
        FigureName::AnchorsPerPiece,
        FigureName::MaxEndDistance,
    ];
    let mut one = |id, columns: &[Slot]| to.check(id, &amount_asked, &[&[anchors, kind], columns].concat());
    let single = [
        one(CheckId::AnchorKind, &[]),
        one(CheckId::AnchorDiameter, &[diameter]),
        one(CheckId::AnchorWasher, &[washer, diameter]),
        one(CheckId::AnchorEmbedment, &[embedment]),
        one(CheckId::AnchorEdgeDistance, &[edge]),
        one(CheckId::AnchorCondition, &[tightness, corrosion]),
    ];
    (count, to.link(&single))
}

/// The figures by which an amount of bracing is asked for.
const AMOUNT_OF_BRACING: [FigureName; 4] = [
    FigureName::BracedShare,
    FigureName::PanelAtEachEnd,
    FigureName::MaxEndOffset,
    FigureName::MaxPanelGap,
];

/// What comes of the bracing.
struct Braced {
    /// Whether the panels count.
    count: Slot,
    /// What is said of their amount, where they do.
    amount: Slot,
    at_each_end: Slot,
    gap: Slot,
}

const SHEATHING: [&str; 2] = ["sheathing", "sheathing_thickness"];
const NAILING: [&str; 4] = ["panel_nail", "edge_nailing", "field_nailing", "nails_flush"];
const FOOT: [&str; 2] = ["panel_foot", "nails_per_sill_block"];

/// The checks on panels: how much of the wall they brace, and what each is. All parts of the link.
fn bracing(
    to: &mut Builder<'_>,
    lists: &Lists,
    [length, to_brace, has_length]: [Slot; 3],
    studs: Slot,
) -> (Braced, Vec<Slot>) {
    let [panels, cripple_wall] = [lists.panels.slot, lists.cripple_wall.slot];
    let [braced, shortest, gap] = ["braced_length", "shortest_panel", "largest_panel_gap"].map(column);
    for pair in [
        [braced, length],
        [shortest, length],
        [gap, length],
        [shortest, braced],
    ] {
        to.within(pair);
    }
    let proportion = Proportion::new(to, [panels, cripple_wall], [shortest, braced], studs);
    let count = whether_panels_count(to, panels, &proportion);
    let [amount, at_each_end, gap] =
        [braced, column("braced_at_each_end"), gap].map(|amount| to.unless(count, amount));
    // Where no panel counts, any length is too long.
    let to_brace = to.unless(count, to_brace);
    let (link, enough) = to.together(CaseOf::Line, |to| {
        let lengths = [length, to_brace, has_length];
        amount_of_bracing(to, [count, cripple_wall], lengths, [amount, at_each_end, gap])
    });
    let single = panels_one_by_one(to, [panels, cripple_wall, enough], &proportion);
    let braced = Braced {
        count,
        amount,
        at_each_end,
        gap,
    };
    (braced, [&[link], single.as_slice()].concat())
}

/// How long the panels are for their studs.
struct Proportion {
    length: Slot,
    studs: Slot,
    is_long_enough: Slot,
    is_long_for_its_height: Slot,
}

impl Proportion {
    fn new(
        to: &mut Builder<'_>,
        [panels, cripple_wall]: [Slot; 2],
        [shortest, braced]: [Slot; 2],
        studs: Slot,
    ) -> Self {
        // No panel is longer than all together; which tells something only where its own length was not recorded.
        let braced = to.in_place_of(shortest, braced);
        let length = to.plain(Shared::PanelLength, &[panels, shortest, braced]);
        let of_length = [FigureName::MinPanelLength];
        let for_height = [FigureName::MinPanelProportion];
        let least = to.shared(
            Shared::LeastPanelLength,
            &for_height,
            &[panels, cripple_wall, studs],
        );
        Self {
            length,
            studs,
            is_long_enough: to.shared(Shared::PanelLongEnough, &of_length, &[panels, length]),
            // What is asked and whether there are panels is told by what it goes by.
            is_long_for_its_height: to.plain(Shared::PanelLongForHeight, &[length, least]),
        }
    }
}

/// Whether the panels count.
fn whether_panels_count(to: &mut Builder<'_>, panels: Slot, proportion: &Proportion) -> Slot {
    let (sheathing, nailing, foot) = (SHEATHING.map(column), NAILING.map(column), FOOT.map(column));
    let stout = [proportion.is_long_enough, proportion.is_long_for_its_height];
    // In the order of the properties.
    let hang_on: [(CheckId, &[Slot]); PANEL_PROPERTIES] = [
        (CheckId::PanelSheathing, &sheathing),
        (CheckId::PanelNailing, &nailing),
        (CheckId::PanelJoints, &[column("joints_blocked")]),
        (CheckId::PanelFoot, &foot),
        (CheckId::PanelProportion, &stout),
        (CheckId::PanelOpenings, &[column("panel_cut_through")]),
    ];
    let property = |to: &mut Builder<'_>, number: usize| match hang_on.get(number) {
        Some((id, inputs)) => {
            let inputs = [&[panels], *inputs].concat();
            to.shared(Shared::PanelProperty(number), id.check().figures, &inputs)
        }
        None => Slot::NONE,
    };
    let [sheathed, nailed] = [0, 1].map(|number| property(to, number));
    let [joined, at_foot, whole] =
        to.together(CaseOf::Line, |to| [2, 3, 5].map(|number| property(to, number)));
    let stout = property(to, 4);
    let properties: [Slot; PANEL_PROPERTIES] = [sheathed, nailed, joined, at_foot, stout, whole];
    to.plain(Shared::PanelsCount, &[&[panels], properties.as_slice()].concat())
}

/// The checks on how much of the wall is braced: their part of the link, and whether it is enough.
fn amount_of_bracing(
    to: &mut Builder<'_>,
    [count, cripple_wall]: [Slot; 2],
    [length, to_brace, has_length]: [Slot; 3],
    [amount, at_each_end, gap]: [Slot; 3],
) -> (Slot, Slot) {
    let (long, long_enough) = to.answering(
        CheckId::BracingLength,
        &[count, cripple_wall, to_brace, amount],
        &[count, cripple_wall, length, amount],
        Shared::LongEnough,
    );
    let at_ends = [count, cripple_wall, has_length, at_each_end];
    let (ends, at_ends) = to.answering(CheckId::BracingEnds, &at_ends, &at_ends, Shared::AtEnds);
    let gaps = [count, cripple_wall, length, gap];
    let (gaps, gaps_small_enough) = to.answering(CheckId::PanelGaps, &gaps, &gaps, Shared::GapsSmallEnough);
    let link = to.link(&[long, ends, gaps]);
    let enough = to.shared(
        Shared::BracingEnough,
        &AMOUNT_OF_BRACING,
        &[long_enough, at_ends, gaps_small_enough],
    );
    (link, enough)
}

/// The checks on single properties of the panels; their parts of the link.
fn panels_one_by_one(to: &mut Builder<'_>, common: [Slot; 3], proportion: &Proportion) -> [Slot; 2] {
    let with = |inputs: &[Slot]| [&common, inputs].concat();
    let by = with(&[proportion.is_long_enough, proportion.is_long_for_its_height]);
    let shown_by = with(&[proportion.length, proportion.studs]);
    let first = [
        to.check_showing(CheckId::PanelProportion, &[], &by, &shown_by),
        to.check(CheckId::PanelSheathing, &[], &with(&SHEATHING.map(column))),
        to.check(CheckId::PanelNailing, &[], &with(&NAILING.map(column))),
    ];
    let first = to.link(&first);
    let others = to.together(CaseOf::Line, |to| {
        let [cut, height] = ["panel_cut_through", "cripple_wall_height"].map(column);
        let others = [
            to.check(CheckId::PanelJoints, &[], &with(&[column("joints_blocked")])),
            to.check(CheckId::PanelFoot, &[], &with(&FOOT.map(column))),
            to.check_showing(CheckId::PanelOpenings, &[], &with(&[cut]), &with(&[cut, height])),
        ];
        to.link(&others)
    });
    [first, others]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::provisions::Library;
    use std::collections::BTreeSet;

    /// The graph under every set. Building one asserts that there is a slot for everything.
    fn graphs() -> impl Iterator<Item = Graph> {
        let sets = Library::shipped().ids().into_iter();
        sets.map(|set| Graph::new(&Library::shipped().set(set).unwrap(), &|_| true))
    }

    #[test]
    fn every_check_stands_in_it_once() {
        for graph in graphs() {
            let nodes = graph.steps.iter().flat_map(|step| match step {
                Step::Node(node) => std::slice::from_ref(node),
                Step::Asked(of_case) => &of_case.settled,
                _ => &[],
            });
            let checks = nodes.filter_map(|node| match node.of {
                Of::Check(id, _) => Some(id),
                _ => None,
            });
            let mut checks: Vec<CheckId> = checks.chain([CheckId::EarlierRetrofit]).collect();
            checks.sort_by_key(|id| graph.checks.iter().position(|other| other == id));
            assert_eq!(graph.checks, checks);
        }
    }

    #[test]
    fn nothing_is_read_before_it_is_there() {
        for graph in graphs() {
            let columns = (0..COLUMNS.len()).map(|at| Slot(u16::try_from(at).unwrap()));
            let lists = graph.lists.iter().chain([&graph.sill]).map(|list| list.slot);
            let mut there: BTreeSet<Slot> = columns.chain(lists).chain([Slot::NONE]).collect();
            let add = |there: &mut BTreeSet<Slot>, slot: Slot| {
                assert!(
                    slot == Slot::UNREAD || there.insert(slot),
                    "{slot:?} is written twice"
                );
            };
            let node = |there: &mut BTreeSet<Slot>, node: &Node| {
                assert!(node.inputs.iter().all(|slot| there.contains(slot)), "{node:?}");
                add(there, node.into);
                add(there, node.answer);
            };
            for step in &graph.steps {
                match step {
                    Step::Node(one) | Step::Within { node: one, .. } => node(&mut there, one),
                    Step::Asked(of_case) => {
                        assert!(there.contains(&of_case.case));
                        for (slot, _) in of_case.slots().zip(&of_case.sets) {
                            add(&mut there, slot);
                        }
                        of_case.settled.iter().for_each(|one| node(&mut there, one));
                    }
                    Step::Unless {
                        nothing_to,
                        from,
                        into,
                    } => {
                        assert!(there.contains(nothing_to) && there.contains(from));
                        add(&mut there, *into);
                    }
                    Step::InPlaceOf { blank, from, into } => {
                        assert!(there.contains(blank) && there.contains(from));
                        add(&mut there, *into);
                    }
                    Step::Links { done, links } => {
                        let mut read = links.iter().flatten().chain([done]);
                        assert!(read.all(|slot| there.contains(slot)));
                    }
                    Step::Gate(gate) => {
                        assert!(gate.inputs.iter().all(|slot| there.contains(slot)), "{gate:?}");
                    }
                }
            }
        }
    }

    /// Every column that a check reads takes part under some set; the others hold what only other parts of the
    /// program read, or what no set shipped goes by.
    #[test]
    fn columns_that_no_check_reads_are_these() {
        let mut read: BTreeSet<Slot> = BTreeSet::new();
        for graph in graphs() {
            for step in &graph.steps {
                match step {
                    Step::Node(node) => read.extend(node.inputs),
                    Step::Unless { from, .. }
                    | Step::InPlaceOf { from, .. }
                    | Step::Links { done: from, .. } => {
                        read.insert(*from);
                    }
                    Step::Within { less, more, .. } => read.extend([*less, *more]),
                    Step::Asked(_) | Step::Gate(_) => {}
                }
            }
            let lists = graph.lists.iter().chain([&graph.sill]);
            read.extend(lists.map(|list| list.stated));
        }
        let unread: Vec<&str> = COLUMNS
            .iter()
            .map(|column| column.name)
            .filter(|name| !read.contains(&column(name)))
            .collect();
        assert_eq!(unread, NOT_GONE_BY);
    }

    const NOT_GONE_BY: [&str; 16] = [
        "year_built",
        "floor_area",
        "interior_plaster",
        "rooms_over_garage",
        "untied_chimney",
        "seismic_category",
        "access",
        "posts_top",
        "posts_base",
        "posts_sound",
        "stem_height",
        "stem_thickness",
        "sill_against_studs",
        "anchor_edge_distance",
        "stud_spacing",
        "balloon_framed",
    ];
}
