//! Drawings of a floor level survey: the floor in plan with its contours, and sections along lines.

use retrofit_core::foundation::survey::{LineFindings, Profile, SurveyFindings};
use retrofit_core::house::{CheckedOn, House};
use retrofit_core::measure::Length;

use super::drafting::{Drafting, Title, at, lettered, span};
use super::plan::{COLUMN_WIDE, PlanSheet};
use super::profiles::{self, Stacked};
use super::sheet::{Anchor, Extent, Layer, Point, Scale, Shape, Sheet};
use super::words;

/// The most room on paper for the floor, in thousandths of an inch.
const ROOM: (i64, i64) = (10_200, 7_600);
/// Contour intervals to choose from, in sixty-fourths of an inch, and the most contours that still read.
const INTERVALS: [i64; 7] = [4, 8, 16, 32, 64, 128, 256];
const MOST_CONTOURS: i64 = 9;
/// How many sections a sheet holds, and how high one stands on paper, in thousandths of an inch.
const SECTIONS: usize = 4;
const SECTION_HIGH: i64 = 1_500;
/// Words that are told on every sheet.
const SURVEYED: &str = "Heights as read, corrected for drift and floor finish";

/// The floor of a survey in plan, and sections along its lines; none where nothing was read.
pub fn survey(
    house: &House,
    findings: &SurveyFindings<'_>,
    lines: &[&LineFindings<'_>],
    interval: Option<Length>,
    date: CheckedOn,
) -> Vec<Sheet> {
    if findings.points().is_empty() {
        return Vec::new();
    }
    let profiles: Vec<(&str, &Profile)> = lines
        .iter()
        .filter_map(|line| Some((line.name.as_str(), line.profile.as_ref().ok()?)))
        .filter(|(_, profile)| profile.points.len() > 1)
        .collect();
    let mut sheets = vec![floor(house, findings, interval, date)];
    for (number, profiles) in profiles.chunks(SECTIONS).enumerate() {
        sheets.push(sections(house, profiles, number, date));
    }
    sheets
}

/// The interval that gives no more contours than can be read.
fn interval_for(findings: &SurveyFindings<'_>) -> Length {
    let heights = || findings.points().iter().map(|point| point.height);
    let range = heights()
        .max()
        .unwrap_or_default()
        .saturating_sub(heights().min().unwrap_or_default());
    INTERVALS
        .iter()
        .map(|parts| Length::sixty_fourths(*parts))
        .find(|interval| interval.times(MOST_CONTOURS).is_none_or(|reach| range <= reach))
        .unwrap_or(Length::inches(12))
}

fn floor(house: &House, findings: &SurveyFindings<'_>, interval: Option<Length>, date: CheckedOn) -> Sheet {
    let interval = interval.unwrap_or_else(|| interval_for(findings));
    let walls: Vec<[Point; 2]> = house
        .wall_lines
        .iter()
        .filter_map(|wall| wall.plan)
        .map(|ends| ends.map(|end| Point::new(end.x, end.y)))
        .collect();
    let places = findings
        .points()
        .iter()
        .map(|point| Point::new(point.at.x, point.at.y));
    let around = walls
        .iter()
        .flatten()
        .copied()
        .chain(places)
        .map(|place| Extent::between(place, place))
        .reduce(Extent::with)
        .unwrap_or_default();
    let room = |thousandths: i64| Length::from_nanometers(thousandths * 25_400);
    let scale = Scale::to_fit(
        &[(around.width(), room(ROOM.0)), (around.height(), room(ROOM.1))],
        Scale::HALF_INCH,
    );
    let mut draft = Drafting::new(scale);
    for [from, to] in &walls {
        draft.line(Layer::New, *from, *to);
    }
    marks(&mut draft, findings);
    readings(&mut draft, findings);
    let unlabeled = contours(&mut draft, findings, interval);
    compose(draft, house, interval, unlabeled, findings, date)
}

/// Cracks, doors and walls out of plumb where their place is on record: a letter and the number that the report lists
/// them by.
fn marks(draft: &mut Drafting, findings: &SurveyFindings<'_>) {
    let cracks = findings.cracks.iter().map(|found| found.crack.at);
    let doors = findings.doors.iter().map(|found| found.door.at);
    let walls = findings.plumb.iter().map(|found| found.wall.at);
    let places = cracks
        .map(|at| ('C', at))
        .enumerate()
        .chain(doors.map(|at| ('D', at)).enumerate())
        .chain(walls.map(|at| ('W', at)).enumerate());
    for (number, (letter, place)) in places {
        let Some(place) = place else { continue };
        let (x, y) = (place.x.nanometers(), place.y.nanometers());
        let half = draft.paper(60);
        let corners = vec![at(x - half, y - half), at(x + half, y - half), at(x, y + half)];
        draft.add(Layer::New, Shape::Solid(corners));
        let words = format!("{letter}{}", number + 1);
        let (tall, width) = (draft.paper(lettered::NOTE), draft.width(&words, lettered::NOTE));
        for (right, up) in [(110, 110), (110, -230), (-400, 110), (-400, -230)] {
            let (left, base) = (x + draft.paper(right), y + draft.paper(up));
            if draft.is_clear(span(left, base - tall / 3, left + width, base + tall)) {
                draft.text(at(left, base), lettered::NOTE, Anchor::Start, &words);
                break;
            }
        }
    }
}

/// A cross at each reading with its height; a circle around one that stands apart.
fn readings(draft: &mut Drafting, findings: &SurveyFindings<'_>) {
    let half = draft.paper(45);
    let plane = findings.plane.as_ref().ok();
    for (number, point) in findings.points().iter().enumerate() {
        let (x, y) = (point.at.x.nanometers(), point.at.y.nanometers());
        draft.line(Layer::Existing, at(x - half, y), at(x + half, y));
        draft.line(Layer::Existing, at(x, y - half), at(x, y + half));
        if plane.is_some_and(|plane| plane.is_apart(number)) {
            let radius = Length::from_nanometers(draft.paper(110));
            let circle = Shape::Circle {
                center: at(x, y),
                radius,
            };
            draft.add(Layer::New, circle);
        }
    }
    for point in findings.points() {
        let (x, y) = (point.at.x.nanometers(), point.at.y.nanometers());
        let words = words::height(point.height.as_inches_f64());
        let (tall, width) = (
            draft.paper(lettered::DIMENSION),
            draft.width(&words, lettered::DIMENSION),
        );
        let (near, far) = (draft.paper(70), draft.paper(60) + tall);
        let spots = [
            (near, near, Anchor::Start),
            (near, -far, Anchor::Start),
            (-near, near, Anchor::End),
            (-near, -far, Anchor::End),
            (0, far, Anchor::Middle),
        ];
        for (right, up, anchor) in spots {
            let left = match anchor {
                Anchor::Start => x + right,
                Anchor::Middle => x - width / 2,
                Anchor::End => x + right - width,
            };
            let around = span(left, y + up - tall / 3, left + width, y + up + tall);
            if draft.is_clear(around) {
                draft.text(at(x + right, y + up), lettered::DIMENSION, anchor, &words);
                break;
            }
        }
    }
}

/// The contours, each with its height where there is room for it; gives how many stand without.
fn contours(draft: &mut Drafting, findings: &SurveyFindings<'_>, interval: Length) -> usize {
    let Ok(surface) = &findings.surface else { return 0 };
    let Ok(contours) = surface.contours(interval) else {
        return 0;
    };
    let mut labels: Vec<Extent> = Vec::new();
    let mut unlabeled = 0;
    for contour in &contours {
        let line: Vec<Point> = contour
            .line
            .iter()
            .map(|point| Point::new(point.x, point.y))
            .collect();
        let words = words::height(contour.level.as_inches_f64());
        let width = draft.width(&words, lettered::DIMENSION);
        let tall = draft.paper(lettered::DIMENSION);
        let room = |center: Point| {
            let (x, y) = (center.x.nanometers(), center.y.nanometers());
            span(x - width * 3 / 5, y - tall, x + width * 3 / 5, y + tall)
        };
        let whole = run(&line);
        let found = [0.5, 0.35, 0.65, 0.2, 0.8].into_iter().find_map(|share| {
            let center = place_along(&line, whole * share)?;
            let extent = room(center);
            let is_free = draft.is_clear(extent) && labels.iter().all(|label| !label.overlaps(extent));
            #[expect(clippy::cast_precision_loss, reason = "a gap is drawn, not measured")]
            let gap = (width * 3 / 5) as f64;
            (is_free && whole > 4.0 * gap).then_some((center, whole * share, gap, extent))
        });
        let piece = |points: Vec<Point>| Shape::Polyline {
            points,
            is_closed: false,
        };
        let Some((center, middle, gap, extent)) = found else {
            unlabeled += 1;
            draft.add(Layer::Ground, piece(line));
            continue;
        };
        for (from, to) in [(0.0, middle - gap), (middle + gap, whole)] {
            draft.add(Layer::Ground, piece(part_of(&line, from, to)));
        }
        labels.push(extent);
        let base = center.moved(Length::ZERO, Length::from_nanometers(-tall / 2));
        draft.text(base, lettered::DIMENSION, Anchor::Middle, &words);
    }
    unlabeled
}

#[expect(clippy::cast_precision_loss, reason = "a line is drawn, not measured")]
fn apart(a: Point, b: Point) -> f64 {
    let (x, y) = (
        b.x.saturating_sub(a.x).nanometers(),
        b.y.saturating_sub(a.y).nanometers(),
    );
    (x as f64).hypot(y as f64)
}

/// The length of a line from point to point.
fn run(line: &[Point]) -> f64 {
    line.windows(2).map(steps).sum()
}

fn steps(pair: &[Point]) -> f64 {
    match pair {
        [a, b] => apart(*a, *b),
        _ => 0.0,
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "a share of a short line"
)]
fn between(a: Point, b: Point, share: f64) -> Point {
    let part = |a: Length, b: Length| {
        Length::from_nanometers((b.saturating_sub(a).nanometers() as f64 * share) as i64)
    };
    a.moved(part(a.x, b.x), part(a.y, b.y))
}

/// The place some way along a line.
fn place_along(line: &[Point], way: f64) -> Option<Point> {
    let mut gone = 0.0;
    for pair in line.windows(2) {
        let step = steps(pair);
        if let [a, b] = pair
            && step > 0.0
            && gone + step >= way
        {
            return Some(between(*a, *b, (way - gone) / step));
        }
        gone += step;
    }
    line.last().copied()
}

/// The part of a line between two ways along it.
fn part_of(line: &[Point], from: f64, to: f64) -> Vec<Point> {
    let mut points: Vec<Point> = place_along(line, from.max(0.0)).into_iter().collect();
    let mut gone = 0.0;
    for pair in line.windows(2) {
        gone += steps(pair);
        if gone > from
            && gone < to
            && let [_, b] = pair
        {
            points.push(*b);
        }
    }
    points.extend(place_along(line, to.max(0.0)));
    points
}

fn compose(
    mut draft: Drafting,
    house: &House,
    interval: Length,
    unlabeled: usize,
    findings: &SurveyFindings<'_>,
    date: CheckedOn,
) -> Sheet {
    let sheet = PlanSheet::around(&mut draft, "FLOOR LEVELS", true);
    let width = draft.paper(COLUMN_WIDE);
    let lines = [
        (Layer::New, "Wall line"),
        (Layer::Ground, "Contour of equal height"),
    ];
    let key = draft.key(sheet.column, sheet.under_scale, width, &lines);
    let mut notes = vec![
        format!("{SURVEYED}, in inches above the base point."),
        format!("Contours at every {interval}; between readings the floor is taken as flat triangles."),
        "A cross is a reading. A circled reading stands apart from all around it: read it again.".to_owned(),
        "A triangle is a crack (C), a door (D) or a wall (W), numbered as in the report.".to_owned(),
    ];
    if unlabeled > 0 {
        notes.push(format!("Contours without room for their height: {unlabeled}."));
    }
    if findings.surface.is_err() {
        notes.push("Too few readings, or all in a line: there are no contours.".to_owned());
    }
    let beside = draft.column(sheet.column, key - draft.paper(250), width, "NOTES", &notes);
    let low = beside.min(sheet.lowest - draft.paper(200)) - draft.paper(120);
    let middle = sheet.middle(&draft);
    let description = format!(
        "{} readings over the floor of {}, with contours at every {interval}.",
        findings.points().len(),
        house.name
    );
    let surveyed = format!("surveyed {date}");
    draft.finish(
        &Title {
            house: &house.name,
            sheet: "Floor levels",
            provisions: &surveyed,
            number: "L1".to_owned(),
            scale: None,
        },
        "floor".to_owned(),
        &description,
        middle,
        sheet.top,
        low,
    )
}

/// Sections, one below the other, with heights drawn larger than lengths.
fn sections(house: &House, profiles: &[(&str, &Profile)], number: usize, date: CheckedOn) -> Sheet {
    let places: Vec<Stacked<'_>> = profiles
        .iter()
        .map(|(name, profile)| {
            let floor: Vec<(f64, f64)> = profile
                .points
                .iter()
                .map(|point| (point.station, point.height.likely))
                .collect();
            let chord = floor.first().into_iter().chain(floor.last()).copied().collect();
            Stacked {
                name,
                lines: vec![(Layer::Hidden, chord), (Layer::New, floor)],
                is_labeled: true,
            }
        })
        .collect();
    let names: Vec<&str> = profiles.iter().map(|(name, _)| *name).collect();
    let surveyed = format!("surveyed {date}");
    profiles::sheet(
        &places,
        SECTION_HIGH,
        |larger| {
            let notes = vec![
                format!("{SURVEYED}, in inches. Heights are drawn {larger} times as large as lengths."),
                "The dashed line is the chord from end to end.".to_owned(),
            ];
            let description = format!(
                "The floor of {} along {}, heights {larger} times as large as lengths.",
                house.name,
                names.join(", ")
            );
            (notes, description)
        },
        &Title {
            house: &house.name,
            sheet: "Sections of the floor",
            provisions: &surveyed,
            number: format!("L{}", number + 2),
            scale: None,
        },
        format!("floor-sections-{}", number + 1),
    )
}
