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

mod anchorage;
mod bracing;
mod builder;
mod house;
mod wall_line;

use self::builder::{Builder, CaseOf, SETS_OF_HOUSE, SETS_OF_LINE, column, find_outputs};
use super::column::{COLUMNS, Column};
use super::row::List;
use crate::check::{CheckId, Shared};
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

    /// Everything that hangs on the case alone: the slots of its sets, and of each node that is settled with it that of what
    /// came of it and that of its answer.
    pub(super) fn fetched(&self) -> Vec<Slot> {
        let settled = self.settled.iter().flat_map(|node| [node.into, node.answer]);
        self.slots().take(self.sets.len()).chain(settled).collect()
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

    /// Whether what comes of it may be part of a digest.
    pub(super) fn has_share(&self) -> bool {
        match self {
            Self::Node(node) => matches!(node.of, Of::Group { .. }),
            Self::Links { .. } | Self::Gate(_) => true,
            _ => false,
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

/// The columns that describe a list.
fn described(of: List) -> Vec<Slot> {
    let columns = COLUMNS.iter().filter(|column| column.of == Some(of));
    columns.map(|described| column(described.name)).collect()
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

        to.together(CaseOf::House, |to| house::limits(to, &lists));
        to.together(CaseOf::House, |to| house::house_in_general(to, &lists));
        wall_line::foundation_and_sill(&mut to, &lists, studs);
        to.lists = vec![lists.anchors.clone(), lists.panels.clone()];
        let anchors = lists.anchors.slot;
        let anchorage = to.gate(anchors, CaseOf::Line, |to| {
            anchorage::anchorage(to, anchors, [length, pieces]).to_vec()
        });
        let panels = lists.panels.slot;
        // Where there are no panels, no length of one hangs on the studs.
        let panel_studs = to.unless(panels, studs);
        let to_brace = to.unless(panels, length);
        let has_length = to.unless(Slot::NONE, length);
        let (braced, bracing) = to.gate(panels, CaseOf::Line, |to| {
            bracing::bracing(to, &lists, [length, to_brace, has_length], panel_studs)
        });
        let floor = to.together(CaseOf::Line, |to| {
            wall_line::framing(to, &lists);
            wall_line::floor(to, &lists, has_length)
        });
        bracing::stud_bay_vents(&mut to, &lists, &braced, length);
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
