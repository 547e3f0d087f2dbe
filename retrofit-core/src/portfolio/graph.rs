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

use std::collections::BTreeSet;

use super::column::{COLUMNS, Column};
use super::row::List;
use crate::check::{ANCHOR_PROPERTIES, CheckId, PANEL_PROPERTIES, Shared};
use crate::provisions::{FigureName, Provisions};

/// The place of a number in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Slot(pub(super) u8);

impl Slot {
    /// Always 0: what a node with fewer than eight inputs reads in place of the others.
    pub(super) const NONE: Self = Self(255);
    /// Never read: where a node puts an answer that nobody shares.
    pub(super) const UNREAD: Self = Self(254);
}

/// How many slots a node can read.
pub(super) const INPUTS: usize = 8;

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
    pub(super) inputs: [Slot; INPUTS],
    pub(super) into: Slot,
    /// Where the answer goes that others share with it: what a check answers, or the link of a group.
    pub(super) answer: Slot,
    /// The place of a check in the order of findings.
    pub(super) place: u8,
}

/// What a node works out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Of {
    Shared(Shared),
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
    /// That one length is not more than another; where it is, the node tells whether both can be.
    Within {
        less: Slot,
        more: Slot,
        node: Node,
    },
    /// The check over the three links of an earlier strengthening, each in parts, as a group.
    Links {
        /// The column that says whether there was one.
        done: Slot,
        links: [Slot; 5],
        into: Slot,
        place: u8,
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
    pub(super) inputs: [Slot; INPUTS],
    /// How many steps there are.
    pub(super) steps: usize,
    /// The slots they put something into.
    slots: std::ops::Range<u8>,
    /// Those of them that are read by others.
    pub(super) outputs: Vec<Slot>,
    /// The places of their checks.
    pub(super) places: std::ops::Range<u8>,
}

/// Everything that is worked out for a row.
#[derive(Clone, Debug)]
pub(super) struct Graph {
    pub(super) lists: Vec<ListSlot>,
    /// The list of the sill, which is there when the number of its pieces is known.
    pub(super) sill: ListSlot,
    pub(super) steps: Vec<Step>,
    /// The groups, whose findings are all that there are.
    pub(super) groups: Vec<Slot>,
    /// The checks in the order of findings, with where what each shows is kept.
    pub(super) checks: Vec<CheckId>,
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

struct Builder<'p> {
    /// Which columns the table has; what stands in no column is blank in every row.
    has: &'p dyn Fn(&Column) -> bool,
    next: u8,
    steps: Vec<Step>,
    provisions: &'p Provisions,
    /// Of the house and of the wall line.
    of_case: [OfCase; 2],
    checks: Vec<CheckId>,
    groups: Vec<Slot>,
    /// The lists behind gates.
    lists: Vec<ListSlot>,
}

/// The slot of a column.
fn column(name: &str) -> Slot {
    let at = COLUMNS.iter().position(|column| column.name == name);
    debug_assert!(at.is_some(), "no column {name}");
    at.and_then(|at| u8::try_from(at).ok()).map_or(Slot::NONE, Slot)
}

/// Slots that are kept for sets of figures.
const SETS_OF_HOUSE: u8 = 12;
const SETS_OF_LINE: u8 = 44;

impl<'p> Builder<'p> {
    fn new(provisions: &'p Provisions, has: &'p dyn Fn(&Column) -> bool) -> Self {
        let columns = u8::try_from(COLUMNS.len()).unwrap_or(u8::MAX);
        let of_case = |of_house, first| OfCase {
            case: Slot::NONE,
            of_house,
            sets: Vec::new(),
            first: Slot(first),
            settled: Vec::new(),
        };
        Self {
            has,
            next: columns + SETS_OF_HOUSE + SETS_OF_LINE,
            steps: Vec::new(),
            provisions,
            of_case: [of_case(true, columns), of_case(false, columns + SETS_OF_HOUSE)],
            checks: Vec::new(),
            groups: Vec::new(),
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
        match COLUMNS.get(usize::from(slot.0)) {
            Some(column) if !(self.has)(column) => Slot::NONE,
            _ => slot,
        }
    }

    fn new_node(&mut self, of: Of, inputs: &[Slot], answer: Slot) -> Node {
        let inputs: Vec<Slot> = if let Of::Group { .. } = of {
            inputs.to_vec() // a group goes by the order of its checks
        } else {
            let told = inputs.iter().map(|slot| self.told(*slot));
            told.filter(|slot| *slot != Slot::NONE).collect()
        };
        let inputs = padded(&inputs);
        debug_assert!(inputs.is_some(), "{of:?}");
        let into = self.slot();
        let place = match of {
            Of::Check(..) => self.last_place(),
            _ => u8::MAX,
        };
        Node {
            of,
            inputs: inputs.unwrap_or([Slot::NONE; INPUTS]),
            into,
            answer,
            place,
        }
    }

    /// The place of the check that was added last.
    fn last_place(&self) -> u8 {
        let last = self.checks.len().checked_sub(1);
        last.and_then(|place| u8::try_from(place).ok()).unwrap_or(u8::MAX)
    }

    /// Steps that hang on little where there are no items of a list.
    fn gate<T>(&mut self, list: Slot, case: Slot, add: impl FnOnce(&mut Self) -> T) -> T {
        let (at, slot, check) = (self.steps.len(), self.next, self.checks.len());
        self.steps.push(Step::Gate(Gate {
            list,
            inputs: [Slot::NONE; INPUTS],
            steps: 0,
            slots: 0..0,
            outputs: Vec::new(),
            places: 0..0,
        }));
        let added = add(self);
        let steps = self.steps.get(at + 1..).unwrap_or_default();
        let inputs = self.inputs_of(steps, slot..self.next, list, case);
        let count = steps.len();
        let place = |at: usize| u8::try_from(at).unwrap_or(u8::MAX);
        let (slots, places) = (slot..self.next, place(check)..place(self.checks.len()));
        match (padded(&inputs), self.steps.get_mut(at)) {
            (Some(inputs), Some(Step::Gate(gate))) if count > 1 => {
                gate.inputs = inputs;
                gate.steps = count;
                gate.slots = slots;
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
    fn together<T>(&mut self, case: Slot, add: impl FnOnce(&mut Self) -> T) -> T {
        self.gate(Slot::NONE, case, add)
    }

    /// What some steps read that they do not put there themselves; where a list is named, as far as they read it where
    /// there are no items of that list: nothing that describes one. What is asked hangs on the case.
    fn inputs_of(&self, steps: &[Step], own: std::ops::Range<u8>, list: Slot, case: Slot) -> Vec<Slot> {
        let [of_house, of_line] = &self.of_case;
        let asked = of_house.first.0..of_line.first.0 + SETS_OF_LINE;
        let described = self.lists.iter().find(|other| other.slot == list);
        let described = described.map_or(&[] as &[Slot], |list| &list.described);
        // What is settled with the case differs from case to case.
        let mut inputs = vec![case];
        let mut read = |slot: Slot| {
            let is_blank = described.contains(&slot);
            let slot = if asked.contains(&slot.0) { case } else { slot };
            if !(is_blank || own.contains(&slot.0) || slot == Slot::NONE || inputs.contains(&slot)) {
                inputs.push(slot);
            }
        };
        read(list);
        for step in steps {
            match step {
                Step::Node(node) => node.inputs.into_iter().for_each(&mut read),
                Step::Unless { nothing_to, from, .. } => [*nothing_to, *from].into_iter().for_each(&mut read),
                Step::Asked(of_case) => read(of_case.case),
                // What is blank is within anything.
                Step::Within { less, more, .. }
                    if [less, more].iter().any(|slot| described.contains(slot)) => {}
                Step::Within { less, more, .. } => [*less, *more].into_iter().for_each(&mut read),
                Step::Links { done, links, .. } => {
                    [done].into_iter().chain(links).copied().for_each(&mut read);
                }
                // Its steps follow.
                Step::Gate(_) => {}
            }
        }
        inputs
    }

    /// What hangs on the case of the house, or on that of the wall line.
    fn of_case(&mut self, of_house: bool) -> &mut OfCase {
        let [house, line] = &mut self.of_case;
        if of_house { house } else { line }
    }

    /// The slot of what is asked by some figures.
    fn asked(&mut self, of_house: bool, figures: &[FigureName]) -> Slot {
        let OfCase { sets, first, .. } = self.of_case(of_house);
        let at = sets.iter().position(|set| set == figures).unwrap_or_else(|| {
            sets.push(figures.to_vec());
            sets.len() - 1
        });
        u8::try_from(at).map_or(Slot::NONE, |at| Slot(first.0 + at))
    }

    /// A node that hangs on what is asked by its own figures and by some more. Where the provisions leave its own
    /// open in every case, there is nothing to hold anything against and it hangs on nothing else.
    fn asking(
        &mut self,
        of: Of,
        of_house: bool,
        [own, more]: [&[FigureName]; 2],
        inputs: &[Slot],
        answer: Slot,
    ) -> Slot {
        let asked = self.asked(of_house, &[own, more].concat());
        if self.provisions.leaves_open(own) {
            let node = self.new_node(of, &[asked], answer);
            let into = node.into;
            self.of_case(of_house).settled.push(node);
            return into;
        }
        self.node(of, &[&[asked], inputs].concat(), answer)
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
        self.asking(Of::Shared(shared), false, [figures, &[]], inputs, Slot::UNREAD)
    }

    /// A check. It hangs on the figures it declares, and on some more.
    fn check(&mut self, id: CheckId, more: &[FigureName], inputs: &[Slot]) -> Slot {
        self.add_check(id, more, inputs, None, Slot::UNREAD)
    }

    /// A check with an answer that others share.
    fn answering(
        &mut self,
        id: CheckId,
        more: &[FigureName],
        inputs: &[Slot],
        shared: Shared,
    ) -> (Slot, Slot) {
        let answer = self.slot();
        (self.add_check(id, more, inputs, Some(shared), answer), answer)
    }

    fn add_check(
        &mut self,
        id: CheckId,
        more: &[FigureName],
        inputs: &[Slot],
        shared: Option<Shared>,
        answer: Slot,
    ) -> Slot {
        self.checks.push(id);
        let figures = [id.check().figures, more];
        self.asking(Of::Check(id, shared), id.is_of_house(), figures, inputs, answer)
    }

    /// The last so many checks as a group.
    fn group(&mut self, checks: &[Slot]) {
        self.add_group(checks, Slot::UNREAD);
    }

    /// The last so many checks as a group that is a link, or a part of one; the slot of the link.
    fn link(&mut self, checks: &[Slot]) -> Slot {
        let link = self.slot();
        self.add_group(checks, link);
        link
    }

    fn add_group(&mut self, checks: &[Slot], link: Slot) {
        let first = self.checks.len().saturating_sub(checks.len());
        let first = u8::try_from(first).unwrap_or_default();
        let group = self.node(Of::Group { first }, checks, link);
        self.groups.push(group);
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
}

/// Slots and, after them, none.
fn padded(slots: &[Slot]) -> Option<[Slot; INPUTS]> {
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
fn find_outputs(steps: &mut [Step], groups: &[Slot]) {
    for at in 0..steps.len() {
        let Some(Step::Gate(gate)) = steps.get(at) else {
            continue;
        };
        let own = |slot: &Slot| gate.slots.contains(&slot.0);
        let after = steps.get(at + 1 + gate.steps..).unwrap_or_default();
        let read = after.iter().flat_map(Step::reads).chain(groups.iter().copied());
        let outputs: BTreeSet<Slot> = read.filter(own).collect();
        if let Some(Step::Gate(gate)) = steps.get_mut(at) {
            gate.outputs = outputs.into_iter().collect();
        }
    }
}

impl Step {
    /// The slots it reads.
    fn reads(&self) -> Vec<Slot> {
        match self {
            Self::Node(node) => node.inputs.to_vec(),
            Self::Asked(of_case) => vec![of_case.case],
            Self::Unless { nothing_to, from, .. } => vec![*nothing_to, *from],
            Self::Within { less, more, .. } => vec![*less, *more],
            Self::Links { done, links, .. } => [&[*done], links.as_slice()].concat(),
            Self::Gate(gate) => gate.inputs.to_vec(),
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
        // What is asked is not known before all that asks is there: its steps are put here at the end.
        let at = to.steps.len();

        house(&mut to, &lists, house_case);
        foundation_and_sill(&mut to, &lists, line_case, studs);
        to.lists = vec![lists.anchors.clone(), lists.panels.clone()];
        let anchors = lists.anchors.slot;
        let anchorage = to.gate(anchors, line_case, |to| {
            anchorage(to, line_case, anchors, [length, pieces])
        });
        let panels = lists.panels.slot;
        // Where there are no panels, no length of one hangs on the studs.
        let panel_studs = to.unless(panels, studs);
        let braced = to.gate(panels, line_case, |to| {
            bracing(to, &lists, line_case, [length, panel_studs])
        });
        let floor = to.together(line_case, |to| {
            framing(to, &lists);
            floor(to, &lists, length)
        });
        stud_bay_vents(&mut to, &lists, &braced, line_case, length);

        to.checks.push(CheckId::EarlierRetrofit);
        let audit = to.slot();
        let ([many_anchors, single_anchors], [much_bracing, single_panels]) = (anchorage, braced.links);
        to.steps.push(Step::Links {
            done: to.told(column("earlier_retrofit")),
            links: [many_anchors, single_anchors, much_bracing, single_panels, floor],
            into: audit,
            place: to.last_place(),
        });
        to.groups.push(audit);

        let [of_house, of_line] = to.of_case;
        debug_assert!(of_house.sets.len() <= usize::from(SETS_OF_HOUSE));
        debug_assert!(of_line.sets.len() <= usize::from(SETS_OF_LINE));
        let asked = [(of_house, house_case), (of_line, line_case)];
        let asked = asked.map(|(of_case, case)| Step::Asked(OfCase { case, ..of_case }));
        to.steps.splice(at..at, asked);
        find_outputs(&mut to.steps, &to.groups);
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
            groups: to.groups,
            checks: to.checks,
        }
    }
}

/// The checks on the house as a whole.
fn house(to: &mut Builder<'_>, lists: &Lists, case: Slot) {
    to.together(case, |to| limits(to, lists));
    to.together(case, |to| house_in_general(to, lists));
}

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
fn foundation_and_sill(to: &mut Builder<'_>, lists: &Lists, case: Slot, studs: Slot) {
    let height = column("cripple_wall_height");
    let height = to.check(
        CheckId::CrippleWallHeight,
        &[],
        &[lists.cripple_wall.slot, height, studs],
    );
    to.together(case, |to| {
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
fn floor(to: &mut Builder<'_>, lists: &Lists, length: Slot) -> Slot {
    let has_length = to.unless(Slot::NONE, length);
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
fn stud_bay_vents(to: &mut Builder<'_>, lists: &Lists, braced: &Braced, case: Slot, length: Slot) {
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
    to.together(case, |to| {
        let vents = to.check(CheckId::StudBayVents, &AMOUNT_OF_BRACING, &hang_on);
        to.group(&[vents]);
    });
}

/// The checks on anchors: how many there are and where, and what each is. Both parts of the link.
fn anchorage(to: &mut Builder<'_>, case: Slot, anchors: Slot, [length, pieces]: [Slot; 2]) -> [Slot; 2] {
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
    let (no_rod, count) = to.together(case, |to| {
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
        (no_rod, to.plain(Shared::AnchorsCount, &properties))
    });

    let [spacing, end] = ["anchor_spacing", "anchor_end_distance"]
        .map(column)
        .map(|amount| to.unless(count, amount));
    let [stoutness, rod] = [diameter, no_rod].map(|property| to.unless(count, property));
    let spaced = to.check(
        CheckId::AnchorSpacing,
        &[FigureName::MaxEndDistance, FigureName::MinEndDistance],
        &[count, length, pieces, spacing, stoutness, rod],
    );
    let ends = to.check(
        CheckId::AnchorEndDistance,
        &[FigureName::AnchorsPerPiece, FigureName::MinAnchorSpacing],
        &[count, length, pieces, spacing, end, stoutness, rod],
    );
    let number = to.check(CheckId::AnchorsPerPiece, &[], &[count, length, pieces, spacing]);
    let amount = to.link(&[spaced, ends, number]);
    // Whether the anchors that count are enough plays no part: a row describes one run of anchors, and where that may
    // lack a property, no anchor surely counts, and so there surely are not enough. Whether any number is asked for
    // does.
    let amount_asked = [
        FigureName::AnchorSpacing,
        FigureName::AnchorsPerPiece,
        FigureName::MaxEndDistance,
    ];
    let single = to.together(case, |to| {
        let mut one =
            |id, columns: &[Slot]| to.check(id, &amount_asked, &[&[anchors, kind], columns].concat());
        let single = [
            one(CheckId::AnchorKind, &[]),
            one(CheckId::AnchorDiameter, &[diameter]),
            one(CheckId::AnchorWasher, &[washer, diameter]),
            one(CheckId::AnchorEmbedment, &[embedment]),
            one(CheckId::AnchorEdgeDistance, &[edge]),
            one(CheckId::AnchorCondition, &[tightness, corrosion]),
        ];
        to.link(&single)
    });
    [amount, single]
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
    /// Both parts of the link.
    links: [Slot; 2],
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

/// The checks on panels: how much of the wall they brace, and what each is.
fn bracing(to: &mut Builder<'_>, lists: &Lists, case: Slot, [length, studs]: [Slot; 2]) -> Braced {
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
    let panel_length = to.plain(Shared::PanelLength, &[panels, shortest, braced]);
    let proportion = [cripple_wall, panel_length, studs];
    let count = whether_panels_count(to, panels, case, proportion);
    let [amount, at_each_end, gap] = [braced, column("braced_at_each_end"), gap];
    let amounts = [amount, at_each_end, gap].map(|amount| to.unless(count, amount));
    let (link, enough) = to.together(case, |to| {
        amount_of_bracing(to, [count, cripple_wall], length, amounts)
    });
    let single = panels_one_by_one(to, case, [panels, cripple_wall, enough], [panel_length, studs]);
    let [amount, at_each_end, gap] = amounts;
    Braced {
        links: [link, single],
        count,
        amount,
        at_each_end,
        gap,
    }
}

/// Whether the panels count.
fn whether_panels_count(to: &mut Builder<'_>, panels: Slot, case: Slot, proportion: [Slot; 3]) -> Slot {
    let (sheathing, nailing, foot) = (SHEATHING.map(column), NAILING.map(column), FOOT.map(column));
    // In the order of the properties.
    let hang_on: [(CheckId, &[Slot]); PANEL_PROPERTIES] = [
        (CheckId::PanelSheathing, &sheathing),
        (CheckId::PanelNailing, &nailing),
        (CheckId::PanelJoints, &[column("joints_blocked")]),
        (CheckId::PanelFoot, &foot),
        (CheckId::PanelProportion, &proportion),
        (CheckId::PanelOpenings, &[column("panel_cut_through")]),
    ];
    let property = |to: &mut Builder<'_>, number: usize| match hang_on.get(number) {
        Some((id, inputs)) => {
            let inputs = [&[panels], *inputs].concat();
            to.shared(Shared::PanelProperty(number), id.check().figures, &inputs)
        }
        None => Slot::NONE,
    };
    let [sheathed, nailed] = to.together(case, |to| [0, 1].map(|number| property(to, number)));
    let [joined, at_foot, whole] = to.together(case, |to| [2, 3, 5].map(|number| property(to, number)));
    let stout = property(to, 4);
    let properties: [Slot; PANEL_PROPERTIES] = [sheathed, nailed, joined, at_foot, stout, whole];
    to.plain(Shared::PanelsCount, &[&[panels], properties.as_slice()].concat())
}

/// The checks on how much of the wall is braced: their part of the link, and whether it is enough.
fn amount_of_bracing(
    to: &mut Builder<'_>,
    [count, cripple_wall]: [Slot; 2],
    length: Slot,
    [amount, at_each_end, gap]: [Slot; 3],
) -> (Slot, Slot) {
    let has_length = to.unless(Slot::NONE, length);
    let (long, long_enough) = to.answering(
        CheckId::BracingLength,
        &[],
        &[count, cripple_wall, length, amount],
        Shared::LongEnough,
    );
    let (ends, at_ends) = to.answering(
        CheckId::BracingEnds,
        &[],
        &[count, cripple_wall, has_length, at_each_end],
        Shared::AtEnds,
    );
    let (gaps, gaps_small_enough) = to.answering(
        CheckId::PanelGaps,
        &[],
        &[count, cripple_wall, length, gap],
        Shared::GapsSmallEnough,
    );
    let link = to.link(&[long, ends, gaps]);
    let enough = to.shared(
        Shared::BracingEnough,
        &AMOUNT_OF_BRACING,
        &[long_enough, at_ends, gaps_small_enough],
    );
    (link, enough)
}

/// The checks on single properties of the panels; their part of the link.
fn panels_one_by_one(to: &mut Builder<'_>, case: Slot, common: [Slot; 3], proportion: [Slot; 2]) -> Slot {
    let one = |to: &mut Builder<'_>, id, inputs: &[Slot]| to.check(id, &[], &[&common, inputs].concat());
    let first = [
        one(to, CheckId::PanelProportion, &proportion),
        one(to, CheckId::PanelSheathing, &SHEATHING.map(column)),
        one(to, CheckId::PanelNailing, &NAILING.map(column)),
    ];
    let [joints, foot] = to.together(case, |to| {
        [
            one(to, CheckId::PanelJoints, &[column("joints_blocked")]),
            one(to, CheckId::PanelFoot, &FOOT.map(column)),
        ]
    });
    let [cut, height] = ["panel_cut_through", "cripple_wall_height"].map(column);
    let openings = one(to, CheckId::PanelOpenings, &[cut, height]);
    to.link(&[first.as_slice(), &[joints, foot, openings]].concat())
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
    fn every_check_stands_in_it_once_and_in_the_order_of_findings() {
        for graph in graphs() {
            let of_house = CheckId::ALL.into_iter().filter(|id| id.is_of_house());
            let of_line = CheckId::ALL.into_iter().filter(|id| !id.is_of_house());
            assert_eq!(graph.checks, of_house.chain(of_line).collect::<Vec<_>>());
        }
    }

    #[test]
    fn nothing_is_read_before_it_is_there() {
        for graph in graphs() {
            let columns = (0..COLUMNS.len()).map(|at| Slot(u8::try_from(at).unwrap()));
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
                    Step::Links {
                        done, links, into, ..
                    } => {
                        assert!(there.contains(done) && links.iter().all(|link| there.contains(link)));
                        add(&mut there, *into);
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
                    Step::Unless { from, .. } | Step::Links { done: from, .. } => {
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
