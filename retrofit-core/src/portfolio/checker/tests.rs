//! The law of this module: a row comes to what its house comes to when it is read and checked whole. And the
//! proof that the law can fail: without any one thing that a step hangs on, some row comes out wrong.

use std::collections::BTreeMap;

use oorandom::Rand32;

use super::super::cell::Holds;
use super::super::layout::Form;
use super::super::rows::{RowCells, Span};
use super::*;
use crate::provisions::Library;

/// The row after the one before, in which one cell is another.
struct Walk {
    draw: Rand32,
    pools: Vec<Vec<String>>,
    row: Vec<String>,
}

/// Lengths that lie around the limits that sets give; the first will do for most.
fn lengths(column: &str) -> &'static [&'static str] {
    match column {
        "wall_length" => &["20 ft", "9 ft", "24 ft", "31 ft"],
        "braced_length" => &["16 ft", "4 ft", "8 ft", "12 ft", "0 in"],
        "shortest_panel" => &["4 ft", "8 in", "2 ft", "32 in"],
        "largest_panel_gap" => &["4 ft", "8 ft", "26 ft"],
        "anchor_spacing" => &["4 ft", "1 ft", "5 ft", "6 ft", "7 ft"],
        "anchor_end_distance" => &["9 in", "3 in", "12 in", "13 in"],
        "anchor_diameter" => &["5/8 in", "3/8 in", "1/2 in", "3/4 in"],
        "anchor_embedment" => &["7 in", "2 in", "4 in"],
        "anchor_edge_distance" => &["3 in", "1 in", "1-3/4 in"],
        "cripple_wall_height" => &["2 ft", "12 in", "4 ft", "49 in"],
        "tallest_stud" => &["14 in", "10 in", "20 in", "4 ft"],
        "shortest_stud" => &["14 in", "10 in", "13 in", "20 in"],
        "sheathing_thickness" => &["15/32 in", "3/8 in", "1/2 in"],
        "edge_nailing" | "field_nailing" => &["4 in", "3 in", "6 in", "12 in", "18 in"],
        "veneer_height" => &["0 in", "4 ft", "11 ft"],
        "panel_vent_holes" => &["2 in", "0 in", "1 in", "4 in"],
        "sill_thickness" => &["1-1/2 in", "1 in", "2-1/2 in"],
        _ => &["12 in", "3 in", "4 in", "6 in", "8 in", "18 in"],
    }
}

/// Cells that a column may hold.
fn pool(column: &Column) -> Vec<String> {
    let texts: &[&str] = match column.holds() {
        Holds::Text => &["any"],
        Holds::Length => lengths(column.name),
        Holds::Area => &["600 sq ft", "1000 sq ft", "2 sq ft", "6 sq ft"],
        Holds::Slope => &["flat", "5 %", "20 %", "2H:1V"],
        Holds::Stories => &["1", "1.5", "2", "3", "4"],
        Holds::Count if column.name == "year_built" => &["1906", "1960", "1985"],
        Holds::Count => &["1", "2", "3", "4", "5"],
        Holds::YesOrNo if ["panel_cut_through", "slab_or_pole_portion"].contains(&column.name) => {
            &["no", "yes"]
        }
        Holds::YesOrNo => &["yes", "no"],
        Holds::Washer => &["3 in x 3 in x 0.229 in", "none", "cut", "2 in x 2 in x 3/16 in"],
        Holds::Nail => &["8d common", "8d box", "6d common", "10d common"],
        Holds::OneOf(terms) => return terms.into_iter().map(str::to_owned).collect(),
    };
    texts.iter().map(|text| (*text).to_owned()).collect()
}

impl Walk {
    fn new(seed: u64) -> Self {
        let mut pools: Vec<Vec<String>> = COLUMNS.iter().map(pool).collect();
        let known_by = ["measured", "seen", "reported", "inferred"];
        pools.push(known_by.map(str::to_owned).to_vec());
        Self {
            draw: Rand32::new(seed),
            row: vec![String::new(); pools.len()],
            pools,
        }
    }

    fn names() -> Vec<&'static str> {
        COLUMNS
            .iter()
            .map(|column| column.name)
            .chain(["known_by", "id"])
            .collect()
    }

    fn below(&mut self, end: usize) -> usize {
        self.draw.rand_range(0..u32::try_from(end).unwrap()) as usize
    }

    /// Changes one cell. Most rows describe what there is: a list is seldom said to be empty, and two cells of three
    /// are as most sets want them.
    fn next(&mut self) -> Vec<String> {
        let at = self.below(self.pools.len());
        let is_blank = self.below(100) < 12;
        let is_good = self.below(3) > 0;
        let which = if is_good {
            0
        } else {
            self.below(self.pools[at].len())
        };
        self.row[at] = if is_blank {
            String::new()
        } else {
            self.pools[at][which].clone()
        };
        let name = COLUMNS.get(at).map_or("", |column| column.name);
        let is_list = ["anchors", "panels", "cripple_wall", "posts"].contains(&name);
        if is_list && self.row[at] == "no" && self.below(4) > 0 {
            self.row[at] = "yes".to_owned();
        }
        if is_list && self.row[at] == "no" {
            // What was said of it goes with it.
            let described = COLUMNS.iter().enumerate().filter(|(_, column)| {
                let path = format!("{}[]", COLUMNS[at].path);
                column.path.starts_with(&path)
            });
            for (described, _) in described {
                self.row[described].clear();
            }
        }
        self.named()
    }

    /// The row with the name of its house.
    fn named(&self) -> Vec<String> {
        let mut row = self.row.clone();
        row.push("Q".to_owned());
        row
    }

    /// A row in which a few cells are written and the others are blank.
    fn few(&mut self) -> Vec<String> {
        self.row.fill(String::new());
        for _ in 0..self.below(9) {
            let at = self.below(self.pools.len());
            let which = self.below(self.pools[at].len());
            self.row[at] = self.pools[at][which].clone();
        }
        self.named()
    }
}

/// Rows, and what each comes to when it is read and checked whole.
pub(super) type Judged = Vec<(Vec<String>, Result<Digest, RowError>)>;

pub(super) fn layout() -> Layout {
    Layout::new(Walk::names(), Form::OneTable).unwrap()
}

/// Reads rows and checks their houses whole.
struct Judge<'p> {
    provisions: &'p Provisions,
    reader: RowReader,
    assessor: Assessor,
    house: AsBuilt,
}

impl<'p> Judge<'p> {
    fn new(provisions: &'p Provisions) -> Self {
        Self {
            provisions,
            reader: RowReader::one_table(layout()),
            assessor: Assessor::default(),
            house: AsBuilt::default(),
        }
    }

    fn judge(&mut self, row: &[String]) -> Result<Digest, RowError> {
        let mut read = Ok(());
        let cells = row.iter().map(String::as_str);
        let whole = self.house.refill(|house| read = self.reader.read(house, cells));
        read?;
        whole.map_err(RowError::House)?;
        let findings = self.assessor.run(&self.house, self.provisions);
        Ok(Digest::of(findings, self.provisions))
    }
}

/// Rows one after another; most of those that do not make sense are left out, with the cell that made them so.
fn walk(seed: u64, rows: usize, provisions: &Provisions) -> Judged {
    let (mut walk, mut judge) = (Walk::new(seed), Judge::new(provisions));
    let mut judged = Vec::new();
    while judged.len() < rows {
        let before = walk.row.clone();
        let row = walk.next();
        let digest = judge.judge(&row);
        if digest.is_err() {
            walk.row = before;
            if walk.below(8) > 0 {
                continue;
            }
        }
        judged.push((row, digest));
    }
    judged
}

/// Rows in each of which little is written.
pub(super) fn few_in_each(seed: u64, rows: usize, provisions: &Provisions) -> Judged {
    let (mut walk, mut judge) = (Walk::new(seed), Judge::new(provisions));
    let rows = std::iter::repeat_with(|| walk.few()).take(rows);
    rows.map(|row| {
        let digest = judge.judge(&row);
        (row, digest)
    })
    .collect()
}

/// The first row that comes out otherwise.
fn first_wrong<'j>(checker: &mut RowChecker<'_>, judged: &'j Judged) -> Option<&'j Vec<String>> {
    judged
        .iter()
        .find(|(row, digest)| checker.check(row.iter().map(String::as_str)) != *digest)
        .map(|(row, _)| row)
}

/// The first row that comes out otherwise when rows are checked together; and how many were looked up so.
pub(super) fn first_wrong_together<'j>(
    checker: &mut RowChecker<'_>,
    judged: &'j Judged,
) -> (Option<&'j Vec<String>>, usize) {
    let (mut wrong, mut looked_up) = (None, 0);
    for judged in judged.chunks(Rows::MOST) {
        let (mut text, mut cells) = (String::new(), RowCells::new(Walk::names().len()));
        for (row, _) in judged {
            for (column, cell) in row.iter().enumerate() {
                let from = u32::try_from(text.len()).unwrap();
                text.push_str(cell);
                let to = u32::try_from(text.len()).unwrap();
                cells.put(column, Span { from, to });
            }
            cells.end_row();
        }
        text.push_str("        ");
        let rows = Rows::new(&text, &cells);
        checker.check_rows(rows, |row, digest| {
            let (cells, expected) = &judged[row];
            let digest = digest.map(|of_row| of_row.digest);
            if wrong.is_none() && digest != expected.as_ref() {
                wrong = Some(cells);
            }
        });
        looked_up += (0..rows.len())
            .filter(|row| checker.together.digest_of(&checker.works, *row).is_some())
            .count();
    }
    (wrong, looked_up)
}

#[test]
fn a_row_comes_to_what_its_house_comes_to() {
    for (seed, set) in (1..).zip(Library::shipped().ids()) {
        let provisions = Library::shipped().set(set).unwrap();
        let judged = walk(seed, 20_000, &provisions);
        let good = judged.iter().filter(|(_, digest)| digest.is_ok()).count();
        assert!(good > 15_000 && good < judged.len(), "{good} good rows for {set}");
        let mut checker = RowChecker::new(layout(), &provisions);
        if let Some(row) = first_wrong(&mut checker, &judged) {
            let cells: Vec<_> = Walk::names()
                .into_iter()
                .zip(row)
                .filter(|(_, cell)| !cell.is_empty())
                .collect();
            panic!("{set}: {cells:?}");
        }
        // Once they are known, the same rows are looked up together.
        let (wrong, looked_up) = first_wrong_together(&mut checker, &judged);
        assert_eq!(wrong, None, "{set}");
        assert!(looked_up > good / 2, "{set}: {looked_up} of {good}");
    }
}

/// Rows of which cells are new are read one by one, and then looked up together as the next of their kind are.
#[test]
fn rows_come_to_the_same_together_from_the_first() {
    let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
    let judged = walk(7, 20_000, &provisions);
    let mut checker = RowChecker::new(layout(), &provisions);
    let (wrong, looked_up) = first_wrong_together(&mut checker, &judged);
    assert_eq!(wrong, None);
    assert!(looked_up > 1000, "{looked_up}");
}

/// Whichever rows have to go through the graph, and however many of a group: they are gathered with those of others.
#[test]
fn rows_come_to_the_same_whichever_they_are_gathered_with() {
    let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
    let many = walk(11, 3000, &provisions);
    let mut few = few_in_each(12, 9000, &provisions).into_iter();
    // Now none of many with few cells between two of the others, now more and more.
    let mixed: Judged = many
        .into_iter()
        .enumerate()
        .flat_map(|(at, row)| {
            std::iter::once(row)
                .chain(few.by_ref().take(at / 100 % 8))
                .collect::<Vec<_>>()
        })
        .collect();
    let mut checker = RowChecker::new(layout(), &provisions);
    for round in ["new", "known"] {
        let (wrong, looked_up) = first_wrong_together(&mut checker, &mixed);
        assert_eq!(wrong, None, "{round}");
        assert!(looked_up > mixed.len() / 2, "{round}: {looked_up}");
    }
}

/// What is of no account in one row is so in that row only: where no anchor counts it makes no difference whether they
/// have a rod; where they may count, it does.
#[test]
fn what_is_of_no_account_in_one_row_is_in_another() {
    let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
    let names = [
        "id",
        "stories",
        "wall_length",
        "sill_pieces",
        "anchor_spacing",
        "anchor_kind",
        "anchor_diameter",
        "anchor_corrosion",
    ];
    let layout = Layout::new(names, Form::OneTable).unwrap();
    let rows = [
        ["Q-1", "2", "32 ft", "2", "6 ft", "cast_in_place", "5/8 in", ""],
        ["Q-2", "2", "32 ft", "2", "3 ft", "side_plate", "", "wasted"],
        ["Q-3", "2", "32 ft", "2", "6 ft", "cast_in_place", "", ""],
        ["Q-4", "2", "32 ft", "2", "6 ft", "", "3/8 in", "light"],
        ["Q-5", "2", "20 ft", "1", "6 ft", "", "", "light"],
    ];
    let mut checker = RowChecker::new(layout.clone(), &provisions);
    for row in rows {
        let after_others = checker.check(row.into_iter()).unwrap();
        let alone = RowChecker::new(layout.clone(), &provisions)
            .check(row.into_iter())
            .unwrap();
        assert_eq!(after_others, alone, "{row:?}");
    }
}

/// What is remembered is bounded: rows that are all new begin anew again and again, and come out right.
#[test]
fn beginning_anew_changes_nothing() {
    let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
    let judged = walk(99, 3_000, &provisions);
    let mut checker = RowChecker::new(layout(), &provisions);
    for part in judged.chunks(500) {
        checker.works.recalled = Recalled::new(&checker.graph);
        checker.works.reader.forget();
        assert_eq!(first_wrong(&mut checker, &part.to_vec()), None);
    }
}

/// A checker that leaves a slot out of account wherever a step reads it.
fn without(provisions: &Provisions, left_out: Slot) -> RowChecker<'_> {
    let mut checker = RowChecker::new(layout(), provisions);
    let leave_out = |slot: &mut Slot| {
        if *slot == left_out {
            *slot = Slot::NONE;
        }
    };
    for step in &mut checker.graph.steps {
        match step {
            Step::Node(node) => node.inputs.iter_mut().for_each(leave_out),
            Step::Gate(gate) => {
                let slots = gate.inputs.iter_mut().chain(&mut gate.shown_by);
                slots.for_each(leave_out);
            }
            Step::Unless { from, .. } => leave_out(from),
            Step::InPlaceOf { blank, from, .. } => [blank, from].into_iter().for_each(leave_out),
            Step::Within { less, more, node } => {
                node.inputs.iter_mut().chain([less, more]).for_each(leave_out);
            }
            Step::Links { done, links, .. } => {
                links.iter_mut().flatten().chain([done]).for_each(leave_out);
            }
            Step::Asked(_) => {}
        }
    }
    checker.graph.shown_by.iter_mut().flatten().for_each(leave_out);
    checker
}

/// What steps read: each slot by what it holds.
fn read_by_steps(graph: &Graph) -> BTreeMap<Slot, String> {
    let mut read = BTreeMap::new();
    let columns = (0..).map(Slot).zip(&COLUMNS);
    let columns: BTreeMap<Slot, &str> = columns.map(|(slot, column)| (slot, column.name)).collect();
    let nodes = || {
        graph.steps.iter().filter_map(|step| match step {
            Step::Node(node) | Step::Within { node, .. } => Some(node),
            _ => None,
        })
    };
    for slot in nodes().flat_map(|node| node.inputs) {
        let made_by = nodes().find(|node| node.into == slot || node.answer == slot);
        match (columns.get(&slot), made_by) {
            (Some(name), _) => read.insert(slot, (*name).to_owned()),
            (_, Some(node)) => read.insert(slot, format!("{:?}", node.of)),
            _ => None,
        };
    }
    read
}

/// Everything that steps read is needed: without it some row of some set comes out wrong.
#[test]
fn without_any_one_thing_some_row_comes_out_wrong() {
    let mut read = BTreeMap::new();
    for (seed, set) in (50..).zip(Library::shipped().ids()) {
        let provisions = Library::shipped().set(set).unwrap();
        let judged = walk(seed, 10_000, &provisions);
        for (slot, what) in read_by_steps(&Graph::new(&provisions, &|_| true)) {
            let is_needed = read.entry(what).or_insert(false);
            *is_needed = *is_needed || first_wrong(&mut without(&provisions, slot), &judged).is_some();
        }
    }
    let needless: Vec<_> = read.iter().filter(|(_, is_needed)| !**is_needed).collect();
    assert!(read.len() > 100, "{}", read.len());
    assert_eq!(needless, []);
}

/// Tables with space around their cells, or with names in other letters, go by what was remembered like any other.
#[test]
fn a_row_with_space_in_its_cells_is_not_read_again() {
    let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
    let layout = Layout::new(["id", "stories", "anchors", "roof"], Form::OneTable).unwrap();
    let mut checker = RowChecker::new(layout, &provisions);
    let first = checker.check([" \u{d1}-1", "1", "no", ""].into_iter()).unwrap();
    assert!(checker.works.begun.is_some(), "the first row is read");
    let second = checker
        .check(["\u{d1}-2 ", " 1", "no ", "  "].into_iter())
        .unwrap();
    assert!(checker.works.begun.is_none(), "the second is not");
    assert_eq!(first, second);
}
