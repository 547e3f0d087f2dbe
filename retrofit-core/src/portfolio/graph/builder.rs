//! Steps are put one after another, with what each hangs on.

use std::collections::{BTreeMap, BTreeSet};

use super::{Gate, INPUTS, Inputs, ListSlot, Node, Of, OfCase, Slot, Step};
use crate::check::{CheckId, Shared};
use crate::portfolio::column::{COLUMNS, Column};
use crate::provisions::{FigureName, Provisions};

/// Which case something hangs on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum CaseOf {
    House,
    Line,
}

pub(super) struct Builder<'p> {
    /// Which columns the table has; what stands in no column is blank in every row.
    pub(super) has: &'p dyn Fn(&Column) -> bool,
    pub(super) next: u16,
    pub(super) steps: Vec<Step>,
    pub(super) provisions: &'p Provisions,
    /// Of the house and of the wall line.
    pub(super) of_case: [OfCase; 2],
    pub(super) checks: Vec<CheckId>,
    pub(super) shown_by: Vec<Inputs>,
    /// The checks by the slots they put something into.
    pub(super) places: BTreeMap<Slot, u8>,
    /// The figures that what is settled with the case hangs on, by the slots it puts something into.
    pub(super) settled_by: BTreeMap<Slot, Vec<FigureName>>,
    /// The lists behind gates.
    pub(super) lists: Vec<ListSlot>,
}

/// The slot of a column.
pub(super) fn column(name: &str) -> Slot {
    let at = COLUMNS.iter().position(|column| column.name == name);
    debug_assert!(at.is_some(), "no column {name}");
    at.and_then(|at| u16::try_from(at).ok()).map_or(Slot::NONE, Slot)
}

/// Slots that are kept for sets of figures.
pub(super) const SETS_OF_HOUSE: u16 = 24;
pub(super) const SETS_OF_LINE: u16 = 80;

/// All of one checks, one after another as in a report.
pub(super) fn checks_in_order() -> Vec<CheckId> {
    let of = |is_of_house| {
        CheckId::ALL
            .into_iter()
            .filter(move |id| id.is_of_house() == is_of_house)
    };
    of(true).chain(of(false)).collect()
}

impl<'p> Builder<'p> {
    pub(super) fn new(provisions: &'p Provisions, has: &'p dyn Fn(&Column) -> bool) -> Self {
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

    pub(super) fn slot(&mut self) -> Slot {
        let slot = Slot(self.next);
        debug_assert!(slot < Slot::UNREAD, "more slots than a row has");
        self.next = self.next.saturating_add(1);
        slot
    }

    pub(super) fn node(&mut self, of: Of, inputs: &[Slot], answer: Slot) -> Slot {
        let node = self.new_node(of, inputs, answer);
        let into = node.into;
        self.steps.push(Step::Node(node));
        into
    }

    /// A slot, where anything may ever stand in it.
    pub(super) fn told(&self, slot: Slot) -> Slot {
        match COLUMNS.get(slot.place()) {
            Some(column) if !(self.has)(column) => Slot::NONE,
            _ => slot,
        }
    }

    /// Those slots in which anything may ever stand.
    pub(super) fn all_told(&self, slots: &[Slot]) -> Inputs {
        let told = slots.iter().map(|slot| self.told(*slot));
        let told: Vec<Slot> = told.filter(|slot| *slot != Slot::NONE).collect();
        let inputs = padded(&told);
        debug_assert!(inputs.is_some(), "{slots:?}");
        inputs.unwrap_or([Slot::NONE; INPUTS])
    }

    pub(super) fn new_node(&mut self, of: Of, inputs: &[Slot], answer: Slot) -> Node {
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
    pub(super) fn gate<T>(&mut self, list: Slot, of: CaseOf, add: impl FnOnce(&mut Self) -> T) -> T {
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
    pub(super) fn together<T>(&mut self, of: CaseOf, add: impl FnOnce(&mut Self) -> T) -> T {
        self.gate(Slot::NONE, of, add)
    }

    /// What the steps from one on read; what the findings of their checks show hangs on; and the places of these checks.
    /// Where a list is named, as far as they read it where there are no items of that list: nothing that describes one.
    pub(super) fn read_behind(
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
    pub(super) fn figures_of(&self, slot: Slot) -> Option<&[FigureName]> {
        if let Some(figures) = self.settled_by.get(&slot) {
            return Some(figures);
        }
        self.of_case.iter().find_map(|of_case| {
            let at = slot.0.checked_sub(of_case.first.0)?;
            of_case.sets.get(usize::from(at)).map(Vec::as_slice)
        })
    }

    /// The slot of what is asked by all figures behind some slots.
    pub(super) fn asked_by(&mut self, of: CaseOf, slots: &BTreeSet<Slot>) -> Option<Slot> {
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
    pub(super) fn of_case(&mut self, of: CaseOf) -> &mut OfCase {
        let [house, line] = &mut self.of_case;
        match of {
            CaseOf::House => house,
            CaseOf::Line => line,
        }
    }

    /// The slot of what is asked by some figures.
    pub(super) fn asked(&mut self, of: CaseOf, figures: &[FigureName]) -> Slot {
        let OfCase { sets, first, .. } = self.of_case(of);
        let at = sets.iter().position(|set| set == figures).unwrap_or_else(|| {
            sets.push(figures.to_vec());
            sets.len() - 1
        });
        u16::try_from(at).map_or(Slot::NONE, |at| Slot(first.0 + at))
    }

    /// A node that hangs on what is asked by its own figures and by some more, and what is asked. Where the provisions
    /// leave its own open in every case, there is nothing to hold anything against and it hangs on nothing else.
    pub(super) fn asking(
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
    pub(super) fn within(&mut self, [less, more]: [Slot; 2]) {
        let [less, more] = [less, more].map(|slot| self.told(slot));
        if [less, more].contains(&Slot::NONE) {
            return; // what is blank contradicts nothing
        }
        let node = self.new_node(Of::Shared(Shared::Sound), &[less, more], Slot::UNREAD);
        self.steps.push(Step::Within { less, more, node });
    }

    /// Something shared that hangs on no figure.
    pub(super) fn plain(&mut self, shared: Shared, inputs: &[Slot]) -> Slot {
        self.node(Of::Shared(shared), inputs, Slot::UNREAD)
    }

    /// Something shared that hangs on what is asked of a wall line.
    pub(super) fn shared(&mut self, shared: Shared, figures: &[FigureName], inputs: &[Slot]) -> Slot {
        self.part_of([figures, &[]], shared, inputs)
    }

    /// Something shared that a check goes by, with its own figures and some more.
    pub(super) fn part_of(&mut self, figures: [&[FigureName]; 2], shared: Shared, inputs: &[Slot]) -> Slot {
        let (into, _) = self.asking(Of::Shared(shared), CaseOf::Line, figures, inputs, Slot::UNREAD);
        into
    }

    /// The same for what hangs on much: what seldom differs is numbered together first.
    pub(super) fn along(
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
    pub(super) fn check(&mut self, id: CheckId, more: &[FigureName], inputs: &[Slot]) -> Slot {
        self.check_showing(id, more, inputs, inputs)
    }

    /// A check whose findings show what hangs on other things than what it comes to.
    pub(super) fn check_showing(
        &mut self,
        id: CheckId,
        more: &[FigureName],
        inputs: &[Slot],
        shown_by: &[Slot],
    ) -> Slot {
        self.add_check(id, more, [inputs, shown_by], None, Slot::UNREAD)
    }

    /// A check with an answer that others share.
    pub(super) fn answering(
        &mut self,
        id: CheckId,
        inputs: &[Slot],
        shown_by: &[Slot],
        shared: Shared,
    ) -> (Slot, Slot) {
        let answer = self.slot();
        let shared = Some(shared);
        (
            self.add_check(id, &[], [inputs, shown_by], shared, answer),
            answer,
        )
    }

    pub(super) fn add_check(
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
    pub(super) fn group(&mut self, checks: &[Slot]) {
        self.add_group(checks, Slot::UNREAD);
    }

    /// Checks that stand one after another, as a group that is a link, or a part of one; the slot of the link.
    pub(super) fn link(&mut self, checks: &[Slot]) -> Slot {
        let link = self.slot();
        self.add_group(checks, link);
        link
    }

    pub(super) fn add_group(&mut self, checks: &[Slot], link: Slot) {
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

    pub(super) fn unless(&mut self, nothing_to: Slot, from: Slot) -> Slot {
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

    pub(super) fn in_place_of(&mut self, blank: Slot, from: Slot) -> Slot {
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
pub(super) fn padded(slots: &[Slot]) -> Option<Inputs> {
    let mut padded = [Slot::NONE; INPUTS];
    padded.get_mut(..slots.len())?.copy_from_slice(slots);
    Some(padded)
}

/// Finds which of the slots that the steps behind a gate put something into are read by others.
pub(super) fn find_outputs(steps: &mut [Step]) {
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
