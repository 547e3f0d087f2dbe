//! Laws that hold for every house and every set of provisions, over random houses.
//!
//! Something added never makes a house worse; something learned never leaves the range that was open before;
//! and neither order nor unit nor spelling is of any account.

use std::sync::LazyLock;

use crate::change::{blanked, in_other_units, misread, shuffled_keys, with_hidden_stretch};
use crate::houses::{Dice, anchor, connection, few_rolls, good_panel, house, rolls};
use proptest::prelude::*;
use retrofit_core::check::{Assessor, Outcome, Outcomes, REGISTRY, Ruling, assess};
use retrofit_core::house::{Anchor, AsBuilt, House, Nail, OpeningKind, Shank, Span, WallLine};
use retrofit_core::measure::Length;
use retrofit_core::observation::{Basis, Observed};
use retrofit_core::provisions::{Library, Provisions};

/// Sets with figures for everything, with rows of their own kind, with missing figures, and with few.
static SETS: LazyLock<Vec<Provisions>> = LazyLock::new(|| {
    [
        "cebc-a3-2013",
        "crc-2013-new-construction",
        "la-division-92-2018",
        "san-leandro-handout-2001",
    ]
    .map(|id| {
        Library::shipped()
            .set(id)
            .expect("the shipped tables are in order")
    })
    .into()
});

fn config() -> ProptestConfig {
    ProptestConfig {
        cases: 512,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// What a house comes to, by place: the house as a whole and each wall line by name.
struct Result {
    place: String,
    outcomes: Outcomes,
    /// The strictest of each check.
    by_check: Vec<Option<Outcomes>>,
}

fn results(house: &House, set: &Provisions) -> Vec<Result> {
    let house = AsBuilt::new(house.clone()).expect("the record makes sense");
    let assessment = assess(&house, set);
    let by_check = |line: Option<usize>| {
        let mut list = vec![None; REGISTRY.len()];
        for finding in assessment.findings_at(line) {
            let slot: &mut Option<Outcomes> = &mut list[finding.check_index()];
            *slot = Some(slot.map_or(finding.outcomes, |other| other.strictest(finding.outcomes)));
        }
        list
    };
    let lines = assessment
        .wall_lines
        .iter()
        .enumerate()
        .map(|(line, verdict)| Result {
            place: house.wall_lines[line].name.clone(),
            outcomes: verdict.outcomes,
            by_check: by_check(Some(line)),
        });
    let mut list: Vec<Result> = lines.collect();
    list.push(Result {
        place: "the house".to_owned(),
        outcomes: assessment.verdict.outcomes,
        by_check: by_check(None),
    });
    list.sort_by(|a, b| a.place.cmp(&b.place));
    list
}

/// Nothing asked is as good as everything asked being there.
fn how_bad(outcomes: Outcomes) -> (Ruling, Outcome, Outcome) {
    (
        outcomes.ruling().max(Ruling::Met),
        outcomes.best().max(Outcome::Met),
        outcomes.worst().max(Outcome::Met),
    )
}

fn never_worse(before: &House, after: &House) -> std::result::Result<(), TestCaseError> {
    for set in SETS.iter() {
        for (before, after) in results(before, set).iter().zip(results(after, set)) {
            let (was, is) = (how_bad(before.outcomes), how_bad(after.outcomes));
            prop_assert!(
                is.0 <= was.0 && is.1 <= was.1 && is.2 <= was.2,
                "{}, {}: {:?} became {:?}",
                set.id,
                before.place,
                before.outcomes,
                after.outcomes
            );
        }
    }
    Ok(())
}

fn lies_within(learned: Outcomes, open: Outcomes) -> bool {
    open.best() <= learned.best() && learned.worst() <= open.worst()
}

/// What is learned stays within what was open: at every place, and where asked for each check.
fn only_narrows(
    open_house: &House,
    learned_house: &House,
    each_check: bool,
) -> std::result::Result<(), TestCaseError> {
    for set in SETS.iter() {
        for (open, learned) in results(open_house, set).iter().zip(results(learned_house, set)) {
            prop_assert!(
                lies_within(learned.outcomes, open.outcomes),
                "{}, {}: {:?} after {:?}\nopen: {}\nlearned: {}",
                set.id,
                open.place,
                learned.outcomes,
                open.outcomes,
                serde_json::to_string(open_house).unwrap(),
                serde_json::to_string(learned_house).unwrap()
            );
            for (check, pair) in open.by_check.iter().zip(&learned.by_check).enumerate() {
                if let (true, (Some(open_one), Some(learned_one))) = (each_check, pair) {
                    prop_assert!(
                        lies_within(*learned_one, *open_one),
                        "{}, {}, {}: {:?} after {:?}\nopen: {}\nlearned: {}",
                        set.id,
                        open.place,
                        REGISTRY[check].name,
                        learned_one,
                        open_one,
                        serde_json::to_string(open_house).unwrap(),
                        serde_json::to_string(learned_house).unwrap()
                    );
                }
            }
        }
    }
    Ok(())
}

/// A house as it is usually recorded: some of it not known.
fn partly_known(house_rolls: &[u16], blank_rolls: &[u16]) -> House {
    blanked(&house(house_rolls), &mut Dice::new(blank_rolls))
}

fn inches(length: Length) -> i64 {
    length.nanometers() / Length::inches(1).nanometers()
}

fn wall_length(wall: &WallLine) -> Option<i64> {
    wall.length.bounds().0.map(|length| inches(*length))
}

/// A stretch on a wall line that touches none of those listed.
fn free_stretch(wall: &WallLine, taken: &[Span], dice: &mut Dice<'_>) -> Option<(Length, Length)> {
    let length = wall_length(wall)?;
    let from = dice.between(0, (length - 2).max(0));
    let (from, to) = (
        Length::inches(from),
        Length::inches((from + dice.between(1, 140)).min(length)),
    );
    let span = Span::new(from, to);
    (from < to && !taken.iter().any(|other| other.overlaps(span))).then_some((from, to))
}

/// Puts an item somewhere into a list, when there is a list.
fn insert<T>(list: &mut Observed<Vec<T>>, item: T, dice: &mut Dice<'_>) {
    if let Observed::Known { value, .. } = list {
        value.insert(dice.below(value.len() + 1), item);
    }
}

fn smaller(length: &Observed<Length>) -> Observed<Length> {
    match length.bounds() {
        (Some(least), _) => Observed::measured(Length::from_nanometers((least.nanometers() / 2).max(1))),
        _ => Observed::measured(Length::inches(3)),
    }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn an_anchor_more_never_makes_it_worse(h in rolls(), b in few_rolls(), c in few_rolls()) {
        let before = partly_known(&h, &b);
        let mut after = before.clone();
        let mut dice = Dice::new(&c);
        let number = dice.below(after.wall_lines.len());
        let wall = &mut after.wall_lines[number];
        let length = wall_length(wall).unwrap_or(24).max(2);
        let added: Anchor = anchor(length, &mut dice);
        insert(&mut wall.anchors, added, &mut dice);
        prop_assume!(AsBuilt::new(after.clone()).is_ok());
        never_worse(&before, &after)?;
    }

    #[test]
    fn a_good_panel_more_never_makes_it_worse(h in rolls(), b in few_rolls(), c in few_rolls()) {
        let before = partly_known(&h, &b);
        let mut after = before.clone();
        let mut dice = Dice::new(&c);
        let number = dice.below(after.wall_lines.len());
        let wall = &mut after.wall_lines[number];
        let end = wall.length.value().copied();
        let panels = wall.panels.listed().iter();
        let mut taken: Vec<Span> = panels
            .filter_map(retrofit_core::house::Panel::stations)
            .map(|(from, to)| Span::new(from, to))
            .collect();
        // A whole panel stands clear of vents and doors.
        let openings = wall.openings.listed().iter();
        taken.extend(
            openings
                .filter(|opening| opening.kind != OpeningKind::Blocked)
                .map(|opening| Span::new(opening.from, opening.to)),
        );
        let Some((from, to)) = free_stretch(wall, &taken, &mut dice) else { return Ok(()) };
        // Panels stand on cripple walls.
        let is_on = |wall: &WallLine| match wall.cripple_wall.value() {
            Some(stretches) => stretches
                .iter()
                .map(|stretch| stretch.span(end))
                .any(|span| span.from <= from && span.to.is_none_or(|end| end >= to)),
            None => true,
        };
        prop_assume!(is_on(wall));
        insert(&mut wall.panels, good_panel(from, to), &mut dice);
        prop_assume!(AsBuilt::new(after.clone()).is_ok());
        never_worse(&before, &after)?;
    }

    #[test]
    fn more_nails_never_make_it_worse(h in rolls(), b in few_rolls(), c in few_rolls()) {
        let before = partly_known(&h, &b);
        let mut after = before.clone();
        let mut dice = Dice::new(&c);
        for wall in &mut after.wall_lines {
            let Observed::Known { value: panels, .. } = &mut wall.panels else { continue };
            for panel in panels {
                if dice.chance(50) {
                    panel.edge_nailing = smaller(&panel.edge_nailing);
                }
                if dice.chance(50) {
                    panel.field_nailing = smaller(&panel.field_nailing);
                }
                if let Some(Nail { penny, shank }) = panel.nail.value().copied() && dice.chance(50) {
                    let shank = if dice.chance(50) { Shank::Common } else { shank };
                    panel.nail = Observed::measured(Nail { penny: penny + 2, shank });
                }
                if let Some(nails) = panel.nails_per_sill_block.value().copied() {
                    panel.nails_per_sill_block = Observed::measured(nails + 1);
                }
            }
        }
        never_worse(&before, &after)?;
    }

    #[test]
    fn a_connection_more_never_makes_it_worse(h in rolls(), b in few_rolls(), c in few_rolls()) {
        let before = partly_known(&h, &b);
        let mut after = before.clone();
        let mut dice = Dice::new(&c);
        let number = dice.below(after.wall_lines.len());
        let wall = &mut after.wall_lines[number];
        let end = wall.length.bounds().1.copied();
        let connections = wall.connections.listed().iter();
        let taken: Vec<Span> = connections.map(|stretch| stretch.span(end)).collect();
        let Some((from, to)) = free_stretch(wall, &taken, &mut dice) else { return Ok(()) };
        let added = connection(from, to, &mut dice);
        insert(&mut wall.connections, added, &mut dice);
        prop_assume!(AsBuilt::new(after.clone()).is_ok());
        never_worse(&before, &after)?;
    }

    #[test]
    fn what_is_learned_lies_within_what_was_open(h in rolls(), b in few_rolls()) {
        let known = house(&h);
        let open = blanked(&known, &mut Dice::new(&b));
        only_narrows(&open, &known, true)?;
    }

    #[test]
    fn one_observation_learned_lies_within_what_was_open(h in rolls(), b in few_rolls(), c in few_rolls()) {
        let some = partly_known(&h, &b);
        let less = blanked(&some, &mut Dice::new(&c));
        only_narrows(&less, &some, true)?;
    }

    #[test]
    fn a_stretch_seen_lies_within_what_was_open(h in rolls(), b in few_rolls()) {
        let known = house(&h);
        let open = with_hidden_stretch(&known, &mut Dice::new(&b));
        only_narrows(&open, &known, false)?;
    }

    #[test]
    fn order_never_matters(h in rolls(), b in few_rolls(), c in few_rolls()) {
        let house = partly_known(&h, &b);
        let mut other = house.clone();
        let mut dice = Dice::new(&c);
        dice.shuffle(&mut other.wall_lines);
        macro_rules! shuffle {
            ($($list:expr),+) => {$(
                if let Observed::Known { value, .. } = &mut $list {
                    dice.shuffle(value);
                }
            )+};
        }
        shuffle!(other.posts);
        for wall in &mut other.wall_lines {
            shuffle!(
                wall.anchors, wall.panels, wall.sill, wall.cripple_wall, wall.foundation, wall.connections,
                wall.openings
            );
            dice.shuffle(&mut wall.unseen);
        }
        for set in SETS.iter() {
            for (one, other) in results(&house, set).iter().zip(results(&other, set)) {
                prop_assert_eq!(&one.place, &other.place);
                prop_assert_eq!(one.outcomes, other.outcomes, "{}", one.place);
                prop_assert_eq!(&one.by_check, &other.by_check, "{}", one.place);
            }
        }
    }

    #[test]
    fn units_never_matter(h in rolls(), b in few_rolls(), c in few_rolls()) {
        let house = partly_known(&h, &b);
        let other = in_other_units(&house, &mut Dice::new(&c));
        prop_assert_eq!(&house, &other);
        let (one, other) = (AsBuilt::new(house).unwrap(), AsBuilt::new(other).unwrap());
        for set in SETS.iter() {
            let (one, other) = (assess(&one, set), assess(&other, set));
            prop_assert_eq!(&one.findings, &other.findings);
            prop_assert_eq!(&one.verdict, &other.verdict);
        }
    }

    #[test]
    fn the_order_of_keys_never_matters(h in rolls(), b in few_rolls(), c in few_rolls()) {
        let house = partly_known(&h, &b);
        let text = shuffled_keys(&serde_json::to_value(&house).unwrap(), &mut Dice::new(&c));
        let other: House = serde_json::from_str(&text).unwrap();
        prop_assert_eq!(house, other);
    }

    #[test]
    fn no_record_makes_it_panic(h in rolls(), b in few_rolls(), c in few_rolls()) {
        let house = partly_known(&h, &b);
        let Some(house) = misread(&house, &mut Dice::new(&c)) else { return Ok(()) };
        if let Ok(house) = AsBuilt::new(house) {
            for set in SETS.iter() {
                let assessment = assess(&house, set);
                // A house is never passed over: something was said of every wall line.
                for line in 0..house.wall_lines.len() {
                    prop_assert!(assessment.findings_at(Some(line)).next().is_some());
                }
            }
        }
    }

    #[test]
    fn extreme_lengths_never_make_it_panic(h in rolls(), c in few_rolls()) {
        let mut house = house(&h);
        let mut dice = Dice::new(&c);
        let mut wild = || {
            Length::from_nanometers(dice.pick(&[0, 1, -1, i64::MAX, i64::MIN, 300_000_000_000, i64::MAX / 2]))
        };
        for wall in &mut house.wall_lines {
            wall.length = Observed::bounded(Some(wild()), Some(wild()), Basis::Measured);
            if let Observed::Known { value, .. } = &mut wall.anchors {
                for anchor in value {
                    anchor.at = anchor.at.map(|_| wild());
                    anchor.diameter = Observed::measured(wild());
                    anchor.first = anchor.first.map(|_| wild());
                    anchor.last = None;
                    anchor.spacing = anchor.spacing.value().map_or_else(Observed::default, |_| Observed::measured(wild()));
                }
            }
            if let Observed::Known { value, .. } = &mut wall.cripple_wall {
                for stretch in value {
                    stretch.height = Observed::measured(wild());
                    stretch.tallest_stud = Observed::measured(wild());
                    stretch.shortest_stud = Observed::default();
                }
            }
            if let Observed::Known { value, .. } = &mut wall.panels {
                for panel in value {
                    panel.total_length = panel.total_length.value().map_or_else(Observed::default, |_| Observed::measured(wild()));
                    panel.edge_nailing = Observed::measured(wild());
                }
            }
        }
        if let Ok(house) = AsBuilt::new(house) {
            for set in SETS.iter() {
                assess(&house, set);
            }
        }
    }

    #[test]
    fn a_reused_assessor_finds_the_same(h in rolls(), i in rolls(), b in few_rolls()) {
        let mut assessor = Assessor::default();
        let houses = [house(&h), partly_known(&i, &b), house(&h)].map(|house| AsBuilt::new(house).unwrap());
        for set in SETS.iter() {
            for house in &houses {
                let assessment = assess(house, set);
                prop_assert_eq!(assessor.run(house, set), &assessment.findings[..]);
                let (outcomes, counts) = assessor.summary();
                prop_assert_eq!(outcomes, assessment.verdict.outcomes);
                prop_assert_eq!(counts, assessment.verdict.counts);
            }
        }
    }
}
