//! Takeoffs over every example house by every set of provisions, and over random houses: what is counted is
//! the layout, piece by piece, and what it costs is the sum of its rows and, where the design prices the same
//! work, the design's own cost.
#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[path = "laws/houses.rs"]
#[expect(dead_code, reason = "the laws of the checks use the rest")]
mod houses;

use std::path::Path;
use std::sync::LazyLock;

use houses::Dice;

use retrofit_core::choice::Choice;
use retrofit_core::house::{
    AsBuilt, FoundationCondition, FoundationKind, House, OpeningKind, SillAgainstStuds, TopPlate,
};
use retrofit_core::measure::{Area, Length};
use retrofit_core::observation::Observed;
use retrofit_core::prices::{Cents, CostRange, Item, UnitPrices};
use retrofit_core::provisions::{Library, Standing};
use retrofit_core::remedy::{Credit, Remedy, design};
use retrofit_core::takeoff::{Amount, Article, Place, Price, RodLength, Row, Stock, Takeoff, take_off};

struct Case {
    name: String,
    remedy: Remedy,
    takeoff: Takeoff,
}

/// Every example house, twins too, under every set that judges older houses.
static CASES: LazyLock<Vec<Case>> = LazyLock::new(|| {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "json"))
        .collect();
    files.sort();
    assert!(files.len() >= 20, "the examples are there");
    let library = Library::shipped();
    let prices = UnitPrices::placeholder();
    let mut cases = Vec::new();
    for file in files {
        let text = std::fs::read_to_string(&file).unwrap();
        let house: House = serde_json::from_str(&text).unwrap();
        let house = AsBuilt::new(house).unwrap();
        for id in library.ids() {
            let set = library.set(id).unwrap();
            if set.comparison_only {
                continue;
            }
            let remedy = design(&house, &set, prices);
            cases.push(Case {
                name: format!("{} by {id}", file.file_stem().unwrap().display()),
                takeoff: take_off(&remedy, prices, Stock::shipped()),
                remedy,
            });
        }
    }
    let default = library.set(Library::DEFAULT_SET).unwrap();
    for seed in 0..RANDOM_HOUSES {
        let house = AsBuilt::new(random_house(seed)).unwrap();
        let remedy = design(&house, &default, prices);
        cases.push(Case {
            name: format!("random house {seed}"),
            takeoff: take_off(&remedy, prices, Stock::shipped()),
            remedy,
        });
    }
    cases
});

const RANDOM_HOUSES: u64 = 300;

/// A random house where the provisions reach: on sound concrete, with stepped walls and odd stud grids,
/// earlier work of every quality, sills of known thickness and crawl spaces of any height.
fn random_house(seed: u64) -> House {
    let mut random = oorandom::Rand32::new(seed);
    let rolls: Vec<u16> = (0..900)
        .map(|_| u16::try_from(random.rand_range(0..65_536)).unwrap())
        .collect();
    let mut house = houses::house(&rolls);
    let mut dice = Dice::new(&rolls[600..]);
    house.building.stories =
        Observed::measured(retrofit_core::house::Stories::from_halves(dice.pick(&[2, 4])));
    house.building.veneer_height = Observed::measured(Length::ZERO);
    house.building.floors_at_one_level = Observed::measured(true);
    house.building.rooms_over_garage = Observed::measured(false);
    house.building.slab_or_pole_portion = Observed::measured(false);
    house.continuous_perimeter = Observed::measured(true);
    house.inspection.clear_height = Observed::measured(Length::inches(dice.pick(&[18, 24, 40])));
    for wall in &mut house.wall_lines {
        let mut foundation = wall.foundation.value().cloned().unwrap_or_default();
        for stretch in &mut foundation {
            stretch.kind = Observed::measured(FoundationKind::Concrete);
            stretch.condition = Observed::measured(FoundationCondition::Sound);
        }
        wall.foundation = Observed::measured(foundation);
        let mut sill = wall.sill.value().cloned().unwrap_or_default();
        for piece in &mut sill {
            piece.against_studs = Observed::measured(dice.pick(SillAgainstStuds::ALL));
        }
        wall.sill = Observed::measured(sill);
        let mut stretches = wall.cripple_wall.value().cloned().unwrap_or_default();
        for stretch in &mut stretches {
            let stud = dice.pick(&[20, 14, 10, 31, 44]);
            stretch.height = Observed::measured(Length::inches(stud + 5));
            stretch.tallest_stud = Observed::measured(Length::inches(stud));
            stretch.shortest_stud = Observed::measured(Length::inches(stud - dice.between(0, 6)));
            stretch.stud_spacing =
                Observed::measured(Length::sixty_fourths(dice.pick(&[1024, 1536, 1229, 1000])));
            stretch.top_plate = Observed::measured(dice.pick(TopPlate::ALL));
        }
        wall.cripple_wall = Observed::measured(stretches);
    }
    house
}

fn rows_of(case: &Case, line: usize) -> impl Iterator<Item = &Row> {
    case.takeoff
        .rows
        .iter()
        .filter(move |row| row.wall_line == Some(line))
}

/// The pieces of an article on a wall line.
fn pieces(case: &Case, line: usize, is: impl Fn(&Article) -> bool) -> u64 {
    rows_of(case, line)
        .filter(|row| is(&row.article))
        .map(|row| match row.amount {
            Amount::Pieces(count) | Amount::AtLeast(count) => count,
            other => panic!("{}: {other:?}", case.name),
        })
        .sum()
}

fn run(case: &Case, line: usize, is: impl Fn(&Article) -> bool) -> Length {
    rows_of(case, line)
        .filter(|row| is(&row.article))
        .map(|row| match row.amount {
            Amount::Run(length) => length,
            other => panic!("{}: {other:?}", case.name),
        })
        .fold(Length::ZERO, Length::saturating_add)
}

fn surface(case: &Case, line: usize, is: impl Fn(&Article) -> bool) -> Area {
    rows_of(case, line)
        .filter(|row| is(&row.article))
        .map(|row| match row.amount {
            Amount::Surface(area) => area,
            other => panic!("{}: {other:?}", case.name),
        })
        .fold(Area::ZERO, Area::saturating_add)
}

fn stations(case: &Case, line: usize, is: impl Fn(&Article) -> bool) -> Vec<Length> {
    let mut stations: Vec<Length> = rows_of(case, line)
        .filter(|row| is(&row.article))
        .flat_map(|row| &row.places)
        .map(|place| match place {
            Place::At(at) => *at,
            Place::Along(from, _) => *from,
        })
        .collect();
    stations.sort_unstable();
    stations
}

#[test]
fn the_houses_have_work_of_many_kinds() {
    let mut seen: Vec<Item> = Vec::new();
    for case in CASES.iter() {
        seen.extend(case.takeoff.rows.iter().map(|row| row.article.item()));
    }
    let expected = [
        Item::AdhesiveAnchor,
        Item::SidePlate,
        Item::PlateWasher,
        Item::Sheathing,
        Item::SillBlock,
        Item::LowCrawl,
        Item::TightenNut,
        Item::PanelRemoval,
        Item::SillReplacement,
        Item::JoistBlock,
        Item::EndJoist,
        Item::VentMove,
        Item::FramingClip,
        Item::Nails,
        Item::AdhesiveCartridge,
    ];
    for item in expected {
        assert!(seen.contains(&item), "no house takes {item:?}");
    }
}

#[test]
fn every_piece_of_the_layout_is_counted_where_it_stands() {
    let is_anchor = |article: &Article| matches!(article, Article::Anchor { .. });
    let is_board = |article: &Article| matches!(article, Article::Sheathing { .. });
    for case in CASES.iter() {
        for remedy in &case.remedy.lines {
            let (name, line) = (&case.name, remedy.wall_line);
            let anchors = remedy.anchors.work();
            let mut at: Vec<Length> = anchors
                .into_iter()
                .flat_map(|work| &work.added)
                .map(|anchor| anchor.at)
                .collect();
            at.sort_unstable();
            assert_eq!(stations(case, line, is_anchor), at, "{name}");
            assert_eq!(pieces(case, line, is_anchor), at.len() as u64, "{name}");

            let mended = anchors.into_iter().flat_map(|work| &work.existing);
            let mended = mended.map(|existing| match existing.credit {
                // Of a run, each anchor is mended.
                Credit::Mended { washer, tighten } => {
                    existing.stations.len() as u64 * (u64::from(washer.is_some()) + u64::from(tighten))
                }
                _ => 0,
            });
            let counted = pieces(case, line, |article| {
                matches!(article, Article::WasherUnderOldNut(_) | Article::NutTightened)
            });
            assert_eq!(counted, mended.sum::<u64>(), "{name}");

            let panels = remedy.panels.work();
            let added = || panels.into_iter().flat_map(|work| &work.added);
            let from: Vec<Length> = added().map(|panel| panel.from).collect();
            assert_eq!(stations(case, line, is_board), from, "{name}");
            let area = added()
                .map(|panel| panel.to.saturating_sub(panel.from).by(panel.height))
                .fold(Area::ZERO, Area::saturating_add);
            assert_eq!(surface(case, line, is_board), area, "{name}");
            let blocks = added().map(|panel| u64::from(panel.sill_blocks)).sum::<u64>();
            let is_block = |article: &Article| *article == Article::SillBlock;
            assert_eq!(pieces(case, line, is_block), blocks, "{name}");
            let vents = panels.map_or(0, |work| work.moved_vents.len() as u64);
            assert_eq!(
                pieces(case, line, |article| *article == Article::VentMove),
                vents,
                "{name}"
            );

            let floor = remedy.floor.work();
            let clips: Vec<Length> = floor.into_iter().flat_map(|work| work.clips.clone()).collect();
            assert_eq!(
                stations(case, line, |article| *article == Article::FramingClip),
                clips,
                "{name}"
            );
            let rim = floor.and_then(|work| work.rim.as_ref());
            let blocks: Vec<Length> = rim.into_iter().flat_map(|rim| rim.blocks.clone()).collect();
            assert_eq!(
                stations(case, line, |article| *article == Article::JoistBlock),
                blocks,
                "{name}"
            );

            let sill = remedy.sill.iter().map(|work| work.to.saturating_sub(work.from));
            let sill = sill.fold(Length::ZERO, Length::saturating_add);
            let is_sill = |article: &Article| matches!(article, Article::SillReplacement { .. });
            assert_eq!(run(case, line, is_sill), sill, "{name}");

            for row in rows_of(case, line) {
                assert!(!row.because.is_empty());
                let shared = row.article == Article::LowCrawl;
                assert!(
                    shared || !row.places.is_empty(),
                    "{name}: {} has no place",
                    row.article
                );
            }
        }
    }
}

#[test]
fn the_sheets_cover_every_panel_and_nothing_is_lost() {
    for case in CASES.iter() {
        for list in &case.takeoff.sheets {
            let cutting = &list.cutting;
            assert!(
                cutting.too_large.is_empty(),
                "{}: a piece without a sheet",
                case.name
            );
            let bought = list
                .to_buy()
                .iter()
                .map(|(sheet, count)| {
                    sheet
                        .length
                        .by(sheet.width)
                        .times(i64::try_from(*count).unwrap())
                        .unwrap()
                })
                .fold(Area::ZERO, Area::saturating_add);
            let mut parts = Area::ZERO;
            for cut in &cutting.sheets {
                let parts_of_sheet = [cut.used(), cut.left_over(), cut.kerf];
                parts = parts_of_sheet.into_iter().fold(parts, Area::saturating_add);
                for piece in &cut.pieces {
                    assert_eq!(list.pieces[piece.what].size(), piece.size, "{}", case.name);
                }
            }
            assert_eq!(bought, cutting.area(), "{}", case.name);
            assert_eq!(parts, bought, "{}", case.name);
            assert!(cutting.used() <= bought && cutting.least_area <= bought);
            let waste = case
                .takeoff
                .rows
                .iter()
                .find_map(|row| match (row.article, row.amount) {
                    (Article::SheetWaste { .. }, Amount::Surface(area)) => Some(area),
                    _ => None,
                });
            assert!(waste.is_some(), "{}: waste is a row like any other", case.name);
        }
        let pieces: Vec<_> = case.takeoff.sheets.iter().flat_map(|list| &list.pieces).collect();
        for line in &case.remedy.lines {
            for (number, panel) in line
                .panels
                .work()
                .into_iter()
                .flat_map(|work| work.added.iter().enumerate())
            {
                let of_panel = || {
                    let pieces = pieces.iter();
                    pieces.filter(|piece| piece.wall_line == line.wall_line && piece.panel == number)
                };
                let covered = of_panel()
                    .map(|piece| piece.size().area())
                    .fold(Area::ZERO, Area::saturating_add);
                let whole = panel.to.saturating_sub(panel.from).by(panel.height);
                assert_eq!(covered, whole, "{}", case.name);
                for piece in of_panel() {
                    let on_stud = |at: &Length| panel.studs.contains(at);
                    assert!(
                        on_stud(&piece.from) && on_stud(&piece.to),
                        "{}: a joint off a stud",
                        case.name
                    );
                }
            }
        }
    }
}

#[test]
fn the_total_is_the_sum_of_its_rows_however_they_are_added() {
    for case in CASES.iter() {
        let takeoff = &case.takeoff;
        let total = takeoff.total();
        assert!(
            total.low <= total.likely && total.likely <= total.high,
            "{}",
            case.name
        );
        let by_row: i64 = takeoff.rows.iter().map(|row| row.price.cost().likely.0).sum();
        assert_eq!(total.likely, Cents(by_row), "{}", case.name);
        let by_line = (0..case.remedy.lines.len())
            .map(|line| takeoff.total_of(Some(line)))
            .fold(takeoff.total_of(None), CostRange::plus);
        assert_eq!(by_line, total, "{}", case.name);
        let drivers = takeoff.drivers();
        let by_item = drivers
            .iter()
            .fold(CostRange::ZERO, |sum, driver| sum.plus(driver.cost));
        assert_eq!(by_item, total, "{}", case.name);
        assert!(drivers.is_sorted_by(|a, b| a.cost.width() >= b.cost.width()));
        let by_article = takeoff.articles();
        let by_article = by_article
            .iter()
            .fold(CostRange::ZERO, |sum, row| sum.plus(row.price.cost()));
        assert_eq!(by_article, total, "{}", case.name);
    }
}

/// What the takeoff prices and the design of a layout does not weigh.
fn beyond_the_design(article: &Article) -> bool {
    matches!(
        article,
        Article::JointBlocking | Article::LowCrawl | Article::SheetWaste { .. }
    )
}

#[test]
fn the_likely_cost_is_that_of_the_design_where_both_price_the_work() {
    let mut agreeing = 0;
    for case in CASES.iter() {
        for remedy in &case.remedy.lines {
            let rows = rows_of(case, remedy.wall_line).filter(|row| !beyond_the_design(&row.article));
            let counted: i64 = rows.map(|row| row.price.cost().likely.0).sum();
            assert_eq!(
                Cents(counted),
                remedy.cost,
                "{}, wall line {}",
                case.name,
                remedy.wall_line
            );
            agreeing += i64::from(remedy.cost != Cents::ZERO);
        }
    }
    assert!(agreeing > 100, "{agreeing} wall lines with work");
}

#[test]
fn item_by_item_the_cost_is_the_price_times_the_count() {
    let prices = UnitPrices::placeholder();
    for case in CASES.iter() {
        for row in &case.takeoff.rows {
            let (Price::Of(cost), Amount::Pieces(count)) = (row.price, row.amount) else {
                continue;
            };
            if row.article == Article::LowCrawl {
                continue;
            }
            let one = prices.likely(row.article.item());
            let tight = matches!(
                row.article,
                Article::Anchor {
                    tight_drilling: true,
                    ..
                }
            );
            let one = if tight { one.hundredths_of(150) } else { one };
            assert_eq!(
                cost.likely,
                one.times(i64::try_from(count).unwrap()),
                "{}",
                case.name
            );
        }
    }
}

#[test]
fn what_has_no_layout_is_named_and_not_left_out_in_silence() {
    for case in CASES.iter() {
        let declined: usize = case
            .remedy
            .lines
            .iter()
            .map(|line| {
                usize::from(line.anchors.declined().is_some())
                    + usize::from(line.panels.declined().is_some())
                    + usize::from(line.floor.declined().is_some())
            })
            .sum();
        assert_eq!(case.takeoff.gaps.len(), declined, "{}", case.name);
    }
}

#[test]
fn a_length_that_the_provisions_do_not_give_is_no_number() {
    let (mut by_maker, mut given) = (0, 0);
    for case in CASES.iter() {
        for row in &case.takeoff.rows {
            let Article::Anchor { rod: Some(rod), .. } = row.article else {
                continue;
            };
            let line = &case.remedy.lines[row.wall_line.unwrap()];
            let of_row = line.anchors.work().unwrap().added.iter();
            let mut of_row = of_row.filter(|anchor| row.places.contains(&Place::At(anchor.at)));
            match rod {
                RodLength::ByTheMaker => {
                    by_maker += 1;
                    assert!(of_row.all(|anchor| anchor.embedment.is_none() || anchor.diameter.is_none()));
                }
                RodLength::AtLeast(length) => {
                    given += 1;
                    assert!(
                        of_row.all(|anchor| anchor.embedment.is_some_and(|embedment| embedment < length))
                    );
                }
                RodLength::NeedsSillThickness => {}
            }
        }
    }
    assert!(
        by_maker > 0 && given > 0,
        "{by_maker} by the maker, {given} given"
    );
}

#[test]
fn another_region_multiplies_every_row() {
    let text = include_str!("../tables/unit-prices-placeholder/prices.csv");
    let dearer = text.replace(
        "regional_multiplier,factor,1,1,1",
        "regional_multiplier,factor,1.1,1.25,1.5",
    );
    let dearer = UnitPrices::parse("prices.csv", &dearer).unwrap();
    for case in CASES.iter().step_by(7) {
        let takeoff = take_off(&case.remedy, &dearer, Stock::shipped());
        for (before, after) in case.takeoff.rows.iter().zip(&takeoff.rows) {
            let (before, after) = (before.price.cost(), after.price.cost());
            assert_eq!(after.low, before.low.hundredths_of(110));
            assert_eq!(after.likely, before.likely.hundredths_of(125));
            assert_eq!(after.high, before.high.hundredths_of(150));
        }
    }
}

#[test]
fn a_moved_vent_is_a_vent() {
    for case in CASES.iter() {
        for row in case
            .takeoff
            .rows
            .iter()
            .filter(|row| row.article == Article::VentMove)
        {
            let wall = &case.remedy.taken_as.wall_lines[row.wall_line.unwrap()];
            let openings = wall.openings.value().unwrap();
            for place in &row.places {
                let is_here = openings.iter().any(|opening| {
                    *place == Place::Along(opening.from, opening.to) && opening.kind == OpeningKind::Vent
                });
                assert!(is_here, "{}: no vent at {place}", case.name);
            }
        }
    }
}

/// The keys of a source sheet.
fn keys(sheet: &str) -> Vec<&str> {
    let keys = sheet.lines().skip(1).filter_map(|line| line.split(',').next());
    keys.collect()
}

#[test]
fn every_price_and_every_stock_figure_names_a_source_that_is_on_its_sheet() {
    let prices = keys(include_str!("../tables/unit-prices-placeholder/sources.csv"));
    for row in UnitPrices::placeholder().rows() {
        assert!(
            prices.contains(&row.source.as_str()),
            "{:?}: {:?}",
            row.item,
            row.source
        );
        if row.source == "placeholder" {
            assert_eq!(
                row.standing,
                Standing::CommonPractice,
                "a stand-in has no better standing"
            );
        }
    }
    let sheet = keys(include_str!("../tables/takeoff-stock/sources.csv"));
    let stock = include_str!("../tables/takeoff-stock/stock.csv");
    for line in stock.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        assert!(sheet.contains(&cells[3]), "{line}");
        assert_eq!(
            cells[3] == "common-practice",
            cells[5] == "common practice",
            "{line}"
        );
    }
}

#[test]
fn a_table_without_an_item_is_refused_by_name() {
    let text = include_str!("../tables/unit-prices-placeholder/prices.csv");
    for item in Item::ALL {
        let without: Vec<&str> = text
            .lines()
            .filter(|line| line.split(',').next() != Some(item.spelling()))
            .collect();
        let without = without.join("\n");
        let faults = UnitPrices::parse("mine.csv", &without).unwrap_err();
        let [fault] = faults.as_slice() else {
            panic!("{faults:?}")
        };
        let told = fault.to_string();
        assert!(told.starts_with("mine.csv, column \"item\""), "{told}");
        assert!(told.contains(item.spelling()), "{told}");
    }
}
