//! The drawings of every example, held to geometry: no words meet words or lines, every dimension is the
//! distance it spans, every piece of the layout is drawn once where it stands, and picture and CAD file hold
//! the same shapes.
#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::collections::BTreeMap;
use std::path::Path;

use retrofit_core::foundation::plan::{FoundationPlan, PlanFigures, PlanSettings};
use retrofit_core::foundation::survey::{Limits, SurveyFindings};
use retrofit_core::house::{AnchorKind, AsBuilt, House, OpeningKind, Panel};
use retrofit_core::measure::Length;
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::{Library, Provisions};
use retrofit_core::remedy::{Credit, LineRemedy, Remedy, design};
use retrofit_report::drawing::{self, Anchor, Extent, Item, Kind, Layer, Point, Shape, Sheet, Text};
use serde_json::{Value, json};

const SETS: [&str; 2] = [Library::DEFAULT_SET, "la-division-92-2018"];

/// Advance widths of the printable ASCII characters from the space on, in thousandths of an em, as the font
/// file of `DejaVu Sans` 2.37 gives them: one of the widest sans-serif faces in common use.
const DEJAVU_SANS: [i64; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
    636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
    295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
    500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
    392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];

/// The same of `DejaVu Sans Bold` 2.37.
const DEJAVU_SANS_BOLD: [i64; 95] = [
    348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365, 696, 696, 696, 696, 696,
    696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830, 683, 683, 821, 837, 372,
    372, 775, 637, 995, 837, 850, 733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838,
    500, 500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687, 716, 716, 493, 595,
    478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838,
];

fn provisions(id: &str) -> Provisions {
    Library::shipped().set(id).unwrap()
}

fn as_built(house: Value) -> AsBuilt {
    let house: House = serde_json::from_value(house).unwrap();
    AsBuilt::new(house).unwrap()
}

/// Every example under every set: a name for messages, its remedy, its sheets.
fn every_example(mut look: impl FnMut(&str, &Remedy, &[Sheet])) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    files.sort();
    assert!(files.len() >= 20, "ten houses and their twins");
    for file in files {
        let house = as_built(serde_json::from_str(&std::fs::read_to_string(&file).unwrap()).unwrap());
        for id in SETS {
            let provisions = provisions(id);
            let remedy = design(&house, &provisions, UnitPrices::placeholder());
            let name = format!("{} under {id}", file.file_name().unwrap().to_string_lossy());
            look(&name, &remedy, &drawing::sheets(&remedy, &provisions));
        }
    }
}

/// The box that words take in the face above, or more for what it does not hold.
fn box_of(text: &Text) -> Extent {
    let widths = if text.is_bold {
        DEJAVU_SANS_BOLD
    } else {
        DEJAVU_SANS
    };
    let thousandths: i64 = text
        .words
        .chars()
        .map(|character| match u32::from(character) {
            code @ 32..127 => widths[usize::try_from(code - 32).unwrap()],
            _ => 1000,
        })
        .sum();
    // Capitals are about 0.72 em high in any face; letters reach 0.76 em up and 0.21 em down.
    let em = text.height.nanometers() * 100 / 72;
    let (width, up, down) = (em * thousandths / 1000, em * 76 / 100, em * 21 / 100);
    let left = match text.anchor {
        Anchor::Start => 0,
        Anchor::Middle => -width / 2,
        Anchor::End => -width,
    };
    let at = |right: i64, up: i64| {
        text.at
            .moved(Length::from_nanometers(right), Length::from_nanometers(up))
    };
    if text.is_upright {
        Extent::between(at(-up, left), at(down, left + width))
    } else {
        Extent::between(at(left, -down), at(left + width, up))
    }
}

/// Whether a straight line passes through the inside of a box (clipping it, by floating point: a way of its
/// own).
fn passes(from: Point, to: Point, extent: Extent) -> bool {
    let (x, y) = (from.x.as_inches_f64(), from.y.as_inches_f64());
    let (dx, dy) = (to.x.as_inches_f64() - x, to.y.as_inches_f64() - y);
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for (step, room) in [
        (-dx, x - extent.low.x.as_inches_f64()),
        (dx, extent.high.x.as_inches_f64() - x),
        (-dy, y - extent.low.y.as_inches_f64()),
        (dy, extent.high.y.as_inches_f64() - y),
    ] {
        if step == 0.0 {
            if room <= 0.0 {
                return false;
            }
        } else if step < 0.0 {
            enters = enters.max(room / step);
        } else {
            leaves = leaves.min(room / step);
        }
    }
    enters < leaves
}

/// The straight lines of what is drawn; a round thing by the box around it.
fn lines(shape: &Shape) -> Vec<(Point, Point)> {
    let around = |points: &[Point]| -> Vec<(Point, Point)> {
        (0..points.len())
            .map(|place| (points[place], points[(place + 1) % points.len()]))
            .collect()
    };
    match shape {
        Shape::Line(from, to) => vec![(*from, *to)],
        Shape::Polyline {
            points,
            is_closed: false,
        } => points.windows(2).map(|pair| (pair[0], pair[1])).collect(),
        Shape::Polyline { points, .. } | Shape::Solid(points) => around(points),
        Shape::Rectangle(extent) => around(&extent.corners()),
        Shape::Circle { center, radius } | Shape::Disk { center, radius } => {
            let back = Length::ZERO.saturating_sub(*radius);
            around(&Extent::between(center.moved(back, back), center.moved(*radius, *radius)).corners())
        }
        Shape::Text(_) => Vec::new(),
        Shape::Hatch(_) | Shape::Dimension(_) | Shape::Symbol(_) => panic!("strokes() takes these apart"),
    }
}

/// Words keep apart from words and lines, and stay on the paper.
fn assert_legible(name: &str, sheet: &Sheet) {
    let texts: Vec<(&Text, Extent)> = sheet.texts().map(|text| (text, box_of(text))).collect();
    for (place, (text, extent)) in texts.iter().enumerate() {
        for (other, other_extent) in &texts[place + 1..] {
            assert!(
                !extent.overlaps(*other_extent),
                "{name}, {}: {:?} meets {:?}",
                sheet.name,
                text.words,
                other.words
            );
        }
        assert_eq!(
            extent.with(sheet.paper),
            sheet.paper,
            "{name}, {}: {:?} leaves the paper",
            sheet.name,
            text.words
        );
    }
    for Item { layer, shape } in sheet.strokes() {
        for (from, to) in lines(&shape) {
            for (text, extent) in &texts {
                assert!(
                    !passes(from, to, *extent),
                    "{name}, {}: a line of {layer:?} crosses {:?}",
                    sheet.name,
                    text.words
                );
            }
        }
    }
}

/// Every dimension says the distance between the points it spans.
fn assert_true_dimensions(name: &str, sheet: &Sheet) {
    for dimension in sheet.dimensions() {
        let (from, to) = (dimension.from, dimension.to);
        assert!(
            from.x == to.x || from.y == to.y,
            "{name}, {}: a slanting dimension",
            sheet.name
        );
        let distance = if from.y == to.y {
            from.x.abs_diff(to.x)
        } else {
            from.y.abs_diff(to.y)
        };
        let said: Length = dimension.text.words.parse().unwrap();
        assert_eq!(said, distance, "{name}, {}: {:?}", sheet.name, dimension);
    }
}

#[test]
fn no_words_meet_words_or_lines() {
    let mut count = 0;
    every_example(|name, _, sheets| {
        for sheet in sheets {
            assert_legible(name, sheet);
            count += 1;
        }
    });
    assert!(count > 150, "{count} sheets");
}

/// A wall line of posts as one of concrete that is capped, with all of the old wall on record or hardly any of it.
fn capped(mut record: Value, is_measured: bool) -> Value {
    let mut stretch = json!({
        "kind": "concrete", "condition": "sound", "reinforcing": "some", "settled": "3/4 in",
        "sill_above_ground": {"measured": "18 in"}, "outside": "open", "inside": "open", "work": "cap"
    });
    if is_measured {
        stretch["stem_thickness"] = json!({"measured": "10 in"});
        stretch["footing_depth"] = json!({"measured": "12 in"});
        stretch["footing_width"] = json!({"measured": "16 in"});
        stretch["footing_thickness"] = json!({"measured": "6 in"});
    }
    record["wall_lines"][3]["foundation"] = json!([stretch]);
    record
}

/// Every sheet of the level survey and the foundation plan of every example with a survey, and of one with a cap.
fn every_foundation_sheet(mut look: impl FnMut(&str, &Sheet)) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples");
    let record = |name: &str| -> Value {
        let text = std::fs::read_to_string(folder.join(format!("{name}.json"))).unwrap();
        serde_json::from_str(&text).unwrap()
    };
    let figures = PlanFigures::shipped().unwrap();
    let mut count = 0;
    for (name, record) in [
        ("copper-finch-row", record("copper-finch-row")),
        ("heron-mill-crescent", record("heron-mill-crescent")),
        ("mango-anchor-road", record("mango-anchor-road")),
        ("sorrel-ferry-street", record("sorrel-ferry-street")),
        ("capped, measured", capped(record("mango-anchor-road"), true)),
        ("capped, not measured", capped(record("mango-anchor-road"), false)),
    ] {
        let house = as_built(record);
        let settings = PlanSettings::of(&figures);
        let provisions = provisions(Library::DEFAULT_SET);
        let plan = FoundationPlan::of(
            &house,
            &figures,
            &provisions,
            UnitPrices::placeholder(),
            &settings,
        );
        let mut sheets = drawing::foundation(&house, &plan);
        for survey in &house.surveys {
            let findings = SurveyFindings::of(&house, survey, Limits::shipped());
            let lines: Vec<_> = findings.wall_lines.iter().collect();
            sheets.extend(drawing::survey(&house, &findings, &lines, None, survey.date));
        }
        count += sheets.len();
        for sheet in &sheets {
            look(&format!("{name}, {}", sheet.name), sheet);
        }
    }
    assert!(count > 30, "{count} sheets");
}

#[test]
fn no_words_of_foundation_work_meet_words() {
    every_foundation_sheet(|name, sheet| {
        let boxes: Vec<(&Text, Extent)> = sheet.texts().map(|text| (text, box_of(text))).collect();
        for (number, (text, extent)) in boxes.iter().enumerate() {
            assert!(
                sheet.paper.with(*extent) == sheet.paper,
                "{name}: {:?} leaves the paper",
                text.words
            );
            for (other, around) in boxes.iter().skip(number + 1) {
                assert!(
                    !extent.overlaps(*around),
                    "{name}: {:?} meets {:?}",
                    text.words,
                    other.words
                );
            }
        }
    });
}

#[test]
fn every_dimension_of_foundation_work_is_the_distance_it_spans() {
    every_foundation_sheet(assert_true_dimensions);
}

#[test]
fn a_cad_file_of_foundation_work_reads_back_as_the_shapes_of_its_sheet() {
    every_foundation_sheet(|name, sheet| {
        let bytes = sheet.to_dxf().unwrap();
        assert_eq!(read_back(&bytes), shapes_of(sheet), "{name}");
    });
}

#[test]
fn every_dimension_is_the_distance_it_spans() {
    let mut count = 0;
    every_example(|name, _, sheets| {
        for sheet in sheets {
            assert_true_dimensions(name, sheet);
            count += sheet.dimensions().count();
        }
    });
    assert!(count > 1_000, "{count} dimensions");
}

/// The room that the crate keeps for words holds them in a face that it did not measure by.
#[test]
fn the_room_kept_for_words_is_enough() {
    every_example(|name, _, sheets| {
        for text in sheets.iter().flat_map(Sheet::texts) {
            let kept = text.extent();
            assert_eq!(kept.with(box_of(text)), kept, "{name}: {:?}", text.words);
        }
    });
}

/// What the layout of a wall line asks to be drawn: kind, where it begins, where it ends.
fn asked_for(remedy: &Remedy, line: &LineRemedy) -> BTreeMap<(Kind, Length, Length), usize> {
    let wall = &remedy.taken_as.wall_lines[line.wall_line];
    let mut asked = BTreeMap::new();
    let mut ask = |kind, from, to| *asked.entry((kind, from, to)).or_insert(0) += 1;
    if let Some(work) = line.anchors.work() {
        for anchor in &work.added {
            let is_plate = anchor.kind == AnchorKind::SidePlate;
            ask(
                if is_plate {
                    Kind::NewSidePlate
                } else {
                    Kind::NewAnchor
                },
                anchor.at,
                anchor.at,
            );
        }
        for existing in &work.existing {
            for at in &existing.stations {
                let kind = match existing.credit {
                    Credit::Counts => Kind::ExistingAnchor,
                    Credit::Mended { .. } => Kind::MendedAnchor,
                    _ => Kind::UncountedAnchor,
                };
                ask(kind, *at, *at);
            }
        }
    } else {
        for at in wall.anchors.listed().iter().filter_map(|anchor| anchor.at) {
            ask(Kind::ExistingAnchor, at, at);
        }
    }
    let work = line.panels.work();
    for panel in work.into_iter().flat_map(|work| &work.added) {
        ask(Kind::NewPanel, panel.from, panel.to);
    }
    for (item, record) in wall.panels.listed().iter().enumerate() {
        let Some((from, to)) = record.stations() else {
            continue;
        };
        let judged = work.and_then(|work| work.existing.iter().find(|panel| panel.item == item));
        let kind = match judged {
            Some(panel) if panel.is_removed => Kind::RemovedPanel,
            Some(panel) if panel.credit != Credit::Counts => Kind::UncountedPanel,
            _ => Kind::ExistingPanel,
        };
        ask(kind, from, to);
    }
    for (place, opening) in wall.openings.listed().iter().enumerate() {
        let moved = work.and_then(|work| work.moved_vents.iter().find(|vent| vent.opening == place));
        let kind = match (opening.kind, moved) {
            (OpeningKind::Vent, Some(_)) => Kind::RemovedVent,
            (OpeningKind::Vent, None) => Kind::Vent,
            (OpeningKind::Access, _) => Kind::AccessDoor,
            (OpeningKind::Pipe, _) => Kind::Pipe,
            (OpeningKind::Blocked, _) => Kind::Blocked,
        };
        ask(kind, opening.from, opening.to);
        if let Some((from, to)) = moved.and_then(|vent| vent.to) {
            ask(Kind::NewVent, from, to);
        }
    }
    for clip in line.floor.work().into_iter().flat_map(|work| &work.clips) {
        ask(Kind::NewClip, *clip, *clip);
    }
    let rim = line.floor.work().and_then(|work| work.rim.as_ref());
    for block in rim.into_iter().flat_map(|rim| &rim.blocks) {
        ask(Kind::NewJoistBlock, *block, *block);
    }
    asked
}

/// Symbols of a station only stand about it; the others reach from station to station.
fn drawn(sheet: &Sheet) -> BTreeMap<(Kind, Length, Length), usize> {
    // The drawing stands above its string for the whole length, and the key below.
    let overall = sheet
        .dimensions()
        .map(|dimension| dimension.from.y)
        .min()
        .unwrap();
    let mut drawn = BTreeMap::new();
    for symbol in sheet.symbols().filter(|symbol| symbol.extent().low.y > overall) {
        let extent = symbol.extent();
        let (from, to) = match symbol.kind {
            Kind::NewAnchor
            | Kind::NewSidePlate
            | Kind::ExistingAnchor
            | Kind::MendedAnchor
            | Kind::UncountedAnchor
            | Kind::NewClip
            | Kind::NewJoistBlock => {
                let twice = extent.low.x.nanometers() + extent.high.x.nanometers();
                (
                    Length::from_nanometers(twice / 2),
                    Length::from_nanometers(twice / 2),
                )
            }
            _ => (extent.low.x, extent.high.x),
        };
        *drawn.entry((symbol.kind, from, to)).or_insert(0) += 1;
    }
    drawn
}

#[test]
fn everything_in_a_layout_is_drawn_once_on_its_elevation() {
    let mut seen: BTreeMap<Kind, usize> = BTreeMap::new();
    every_example(|name, remedy, sheets| {
        for line in &remedy.lines {
            let elevation = format!("elevation-{}", line.wall_line + 1);
            let Some(sheet) = sheets.iter().find(|sheet| sheet.name == elevation) else {
                assert!(
                    remedy.taken_as.wall_lines[line.wall_line]
                        .length
                        .value()
                        .is_none(),
                    "{name}: {elevation}"
                );
                continue;
            };
            let asked = asked_for(remedy, line);
            let mut drawn = drawn(sheet);
            // Sills and end joists are drawn by the stretch, and ends of runs where no layout was drawn up.
            drawn.retain(|(kind, ..), _| !matches!(kind, Kind::NewSill | Kind::NewEndJoist));
            if line.anchors.work().is_none() {
                drawn.retain(|key, _| key.0 != Kind::ExistingAnchor || asked.contains_key(key));
            }
            assert_eq!(drawn, asked, "{name}, {elevation}");
            for ((kind, ..), count) in asked {
                *seen.entry(kind).or_insert(0) += count;
            }
        }
    });
    for kind in [
        Kind::NewAnchor,
        Kind::NewSidePlate,
        Kind::ExistingAnchor,
        Kind::NewPanel,
        Kind::NewClip,
        Kind::NewVent,
    ] {
        assert!(
            seen.get(&kind).is_some_and(|count| *count > 0),
            "no example has a {kind:?}"
        );
    }
}

/// The studs that a new panel is nailed to are among those drawn.
#[test]
fn panels_are_drawn_on_the_studs_they_are_nailed_to() {
    every_example(|name, remedy, sheets| {
        for line in &remedy.lines {
            let elevation = format!("elevation-{}", line.wall_line + 1);
            let Some(sheet) = sheets.iter().find(|sheet| sheet.name == elevation) else {
                continue;
            };
            let wall = &remedy.taken_as.wall_lines[line.wall_line];
            let studs: Vec<Extent> = sheet
                .items
                .iter()
                .filter(|item| item.layer == Layer::Hidden)
                .filter_map(|item| match item.shape {
                    Shape::Rectangle(extent) if extent.height() > extent.width() => Some(extent),
                    _ => None,
                })
                .collect();
            for stud in line
                .panels
                .work()
                .into_iter()
                .flat_map(|work| &work.added)
                .flat_map(|panel| &panel.studs)
            {
                // Where an old panel that stays ends, a stud is taken to be.
                let mut old = wall.panels.listed().iter().filter_map(Panel::stations);
                let is_old = old.any(|(from, to)| from == *stud || to == *stud);
                let is_drawn = studs
                    .iter()
                    .any(|extent| extent.low.x <= *stud && *stud <= extent.high.x);
                assert!(is_drawn || is_old, "{name}, {elevation}: the stud at {stud}");
            }
        }
    });
}

#[test]
fn a_picture_holds_the_words_of_its_sheet_and_nothing_that_runs() {
    every_example(|name, _, sheets| {
        for sheet in sheets {
            let svg = sheet.to_svg();
            let picture = roxmltree::Document::parse(&svg).unwrap_or_else(|error| panic!("{name}: {error}"));
            let root = picture.root_element();
            assert!(root.attribute("viewBox").is_some());
            let tags = |tag: &'static str| root.descendants().filter(move |node| node.has_tag_name(tag));
            let mut written: Vec<&str> = tags("text").filter_map(|node| node.text()).collect();
            let mut words: Vec<&str> = sheet.texts().map(|text| text.words.as_str()).collect();
            written.sort_unstable();
            words.sort_unstable();
            assert_eq!(written, words, "{name}, {}", sheet.name);
            assert_eq!(
                tags("title").filter_map(|node| node.text()).collect::<Vec<_>>(),
                [sheet.title.as_str()]
            );
            assert_eq!(tags("desc").count(), 1);
            for forbidden in ["script", "foreignObject", "image", "style", "a", "use"] {
                assert_eq!(tags(forbidden).count(), 0, "{name}: {forbidden}");
            }
            assert!(!svg.contains("href") && !svg.contains("url("));
        }
    });
}

/// What a CAD file holds of one kind of shape, by layer, in whole ten-thousandths of an inch.
type Shapes = Vec<(String, &'static str, Vec<i64>)>;

#[expect(
    clippy::cast_possible_truncation,
    reason = "a drawing is a few thousand inches wide"
)]
fn rounded(inches: f64) -> i64 {
    (inches * 1e4).round() as i64
}

fn read_back(bytes: &[u8]) -> Shapes {
    use dxf::entities::EntityType;
    let drawing = dxf::Drawing::load(&mut &bytes[..]).unwrap();
    let mut shapes: Shapes = drawing
        .entities()
        .map(|entity| {
            let (kind, numbers) = match &entity.specific {
                EntityType::Line(line) => ("line", vec![line.p1.x, line.p1.y, line.p2.x, line.p2.y]),
                EntityType::Circle(circle) => {
                    ("circle", vec![circle.center.x, circle.center.y, circle.radius])
                }
                EntityType::LwPolyline(line) if line.constant_width > 0.0 => {
                    let (a, b) = (line.vertices[0], line.vertices[1]);
                    // A ring as wide as its radius: the middle of its line is half the disk's.
                    assert!((b.x - a.x - line.constant_width).abs() < 1e-6);
                    ("disk", vec![f64::midpoint(a.x, b.x), a.y, line.constant_width])
                }
                EntityType::LwPolyline(line) => (
                    "polyline",
                    line.vertices
                        .iter()
                        .flat_map(|vertex| [vertex.x, vertex.y])
                        .collect(),
                ),
                EntityType::Solid(solid) => {
                    let (a, b, c, d) = (
                        &solid.first_corner,
                        &solid.second_corner,
                        &solid.fourth_corner,
                        &solid.third_corner,
                    );
                    ("solid", vec![a.x, a.y, b.x, b.y, c.x, c.y, d.x, d.y])
                }
                EntityType::Text(text) => ("text", vec![text.location.x, text.location.y, text.text_height]),
                other => panic!("{other:?}"),
            };
            (
                entity.common.layer.clone(),
                kind,
                numbers.into_iter().map(rounded).collect(),
            )
        })
        .collect();
    shapes.sort();
    shapes
}

fn shapes_of(sheet: &Sheet) -> Shapes {
    let inches = |points: &[Point]| -> Vec<i64> {
        points
            .iter()
            .flat_map(|point| [point.x, point.y])
            .map(|length| rounded(length.as_inches_f64()))
            .collect()
    };
    let mut shapes: Shapes = sheet
        .strokes()
        .into_iter()
        .map(|Item { layer, shape }| {
            let round = |center: Point, radius: Length| {
                let mut numbers = inches(&[center]);
                numbers.push(rounded(radius.as_inches_f64()));
                numbers
            };
            let (kind, numbers) = match shape {
                Shape::Line(from, to) => ("line", inches(&[from, to])),
                Shape::Polyline { points, .. } => ("polyline", inches(&points)),
                Shape::Rectangle(extent) => ("polyline", inches(&extent.corners())),
                Shape::Circle { center, radius } => ("circle", round(center, radius)),
                Shape::Disk { center, radius } => ("disk", round(center, radius)),
                Shape::Solid(mut points) => {
                    points.resize(4, points[points.len() - 1]);
                    ("solid", inches(&points))
                }
                Shape::Text(text) => ("text", round(text.at, text.height)),
                Shape::Hatch(_) | Shape::Dimension(_) | Shape::Symbol(_) => {
                    panic!("strokes() takes these apart")
                }
            };
            (layer.name().to_owned(), kind, numbers)
        })
        .collect();
    shapes.sort();
    shapes
}

#[test]
fn a_cad_file_reads_back_as_the_shapes_of_its_sheet() {
    let mut count = 0;
    every_example(|name, _, sheets| {
        for sheet in sheets.iter().filter(|_| !name.contains("twin")) {
            let bytes = sheet.to_dxf().unwrap();
            assert_eq!(bytes, sheet.to_dxf().unwrap(), "the same bytes");
            let (back, drawn) = (read_back(&bytes), shapes_of(sheet));
            assert_eq!(back.len(), drawn.len(), "{name}, {}", sheet.name);
            for (back, drawn) in back.iter().zip(&drawn) {
                assert_eq!(
                    (&back.0, back.1, back.2.len()),
                    (&drawn.0, drawn.1, drawn.2.len()),
                    "{name}, {}",
                    sheet.name
                );
                for (back, drawn) in back.2.iter().zip(&drawn.2) {
                    assert!(
                        (back - drawn).abs() <= 1,
                        "{name}, {}: {back} for {drawn}",
                        sheet.name
                    );
                }
            }
            count += back.len();
        }
    });
    assert!(count > 10_000, "{count} shapes");
}

/// A CAD file tells nothing of when and where it was written.
#[test]
fn a_cad_file_holds_no_time_of_day() {
    let provisions = provisions(SETS[0]);
    let house = as_built(json!({
        "format": "house-1", "name": "Quince Lantern Way", "building": {"stories": 1},
        "wall_lines": [{"name": "north", "length": {"measured": "24'-0\""}}]
    }));
    let remedy = design(&house, &provisions, UnitPrices::placeholder());
    let text = String::from_utf8(drawing::plan(&remedy, &provisions).to_dxf().unwrap()).unwrap();
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    for variable in ["$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"] {
        let place = lines.iter().position(|line| *line == variable).unwrap();
        let day: f64 = lines[place + 2].parse().unwrap();
        // The first day of 2000, which the crate gives back to within a second or so.
        assert!((day - 2_451_545.0).abs() < 1e-4, "{variable}: {day}");
    }
}

/// Houses that strain a sheet: very long, very short, in many pieces, slanting, many, without places,
/// with hard names.
#[test]
fn odd_houses_stay_legible() {
    let wall = |name: &str, length: &str| {
        json!({
            "name": name, "length": {"measured": length},
            "foundation": [{"kind": "concrete", "condition": "sound"}],
            "anchors": [], "panels": [],
            "cripple_wall": [{"height": {"measured": "2'-0\""}, "stud_spacing": "16 in"}]
        })
    };
    let placed = |mut wall: Value, plan: [[&str; 2]; 2]| {
        wall["plan"] = json!([{"x": plan[0][0], "y": plan[0][1]}, {"x": plan[1][0], "y": plan[1][1]}]);
        wall
    };
    // Sills in pieces so short that their lengths have no room in one row, or even beside each other.
    let in_pieces = |count: i64, sixty_fourths: i64| {
        let end = |place: i64| Length::sixty_fourths(sixty_fourths * place).to_string();
        let mut wall = wall(&format!("{count} pieces"), "40 ft");
        wall["sill"] = (0..count)
            .map(|place| json!({"from": end(place), "to": end(place + 1)}))
            .collect();
        wall
    };
    let hard =
        "<script>alert('&')</script> 東京の家 WWWWWWWWWWWWWWWW %%d \u{202e}\u{7}\n]]> mmmmmmmmmmmmmmmmm";
    let houses = [
        json!([
            wall("very long", "140 ft"),
            wall("very short", "14 in"),
            wall("odd", "7317 mm")
        ]),
        json!([
            in_pieces(60, 500),
            in_pieces(40, 200),
            wall("odd", "19'-7 13/64\"")
        ]),
        json!([wall(hard, "31 ft"), {"name": "no length"}]),
        json!([
            placed(wall("slanting", "50 ft"), [["0 ft", "0 ft"], ["30 ft", "40 ft"]]),
            placed(wall("across", "50 ft"), [["30 ft", "0 ft"], ["0 ft", "40 ft"]]),
            placed(wall("a hair", "1 in"), [["0 ft", "0 ft"], ["1 in", "0 ft"]]),
        ]),
        Value::Array(
            (0..40)
                .map(|place| wall(&format!("wall {place}"), "12 ft"))
                .collect(),
        ),
    ];
    for walls in houses {
        let house = as_built(json!({
            "format": "house-1", "name": hard,
            "building": {"stories": 1, "exterior": "wood", "roof": "light"},
            "wall_lines": walls
        }));
        for id in SETS {
            let provisions = provisions(id);
            let remedy = design(&house, &provisions, UnitPrices::placeholder());
            for sheet in drawing::sheets(&remedy, &provisions) {
                assert_legible(id, &sheet);
                assert_true_dimensions(id, &sheet);
                let svg = sheet.to_svg();
                let picture = roxmltree::Document::parse(&svg).unwrap();
                assert!(!picture.descendants().any(|node| node.has_tag_name("script")));
                assert_eq!(read_back(&sheet.to_dxf().unwrap()).len(), shapes_of(&sheet).len());
            }
        }
    }
}
