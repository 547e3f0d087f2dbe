//! Drawings of foundation work: the bays in plan by the order of their pours, the calendar, the floor during its lift,
//! and sections of new work.

use retrofit_core::foundation::lift::LiftPlan;
use retrofit_core::foundation::plan::FoundationPlan;
use retrofit_core::foundation::sequence::{Activity, Bay, Schedule};
use retrofit_core::foundation::survey::{Plane, Profile, Surface};
use retrofit_core::house::House;
use retrofit_core::measure::Length;

use super::drafting::{Drafting, MARGIN, Nm, PAPER, Title, at, lettered, span};
use super::plan::{graphic_scale, north, sideways};
use super::sheet::{Anchor, Extent, Hatch, Layer, Point, Scale, Shape, Sheet};

/// The most room on paper for the wall lines, in thousandths of an inch.
const ROOM: (i64, i64) = (9_600, 7_200);
/// How wide a bay is drawn on paper, in thousandths of an inch.
const BAY_WIDE: i64 = 260;
/// How many bays a calendar holds.
const ROWS: usize = 36;
/// How high a row of a calendar is, and how wide its names and its days stand, in thousandths of an inch.
const ROW: i64 = 190;
const NAMES: i64 = 3_300;
const DAYS: i64 = 12_000;
/// How many wall lines a sheet of a lift holds.
const LIFTS: usize = 4;
const LIFT_HIGH: i64 = 1_600;
const LIFT_WIDE: i64 = 12_000;

/// Every sheet of a foundation plan.
pub fn foundation(house: &House, plan: &FoundationPlan<'_>) -> Vec<Sheet> {
    let mut sheets = Vec::new();
    if let Some(Ok(schedule)) = &plan.schedule {
        sheets.extend(bays(house, &plan.bays, schedule));
        sheets.extend(calendars(house, &plan.bays, schedule));
    }
    if let Some(lift) = &plan.lift
        && let Ok(lift) = &lift.plan
    {
        sheets.extend(floor(house, lift));
    }
    sheets
}

/// The place of each bay's pour among all pour days, from 1.
fn step_of(bay: usize, schedule: &Schedule) -> usize {
    let step = schedule.pours.iter().position(|pour| pour.bays.contains(&bay));
    step.map_or(0, |step| step + 1)
}

/// Fills a rectangle by the number of a step: four patterns that copy in black and white.
fn pattern(draft: &mut Drafting, within: Extent, step: usize) {
    let spacing = Length::from_nanometers(draft.paper(70));
    let rising: &[bool] = match step % 4 {
        1 => &[true],
        2 => &[false],
        3 => &[true, false],
        _ => &[],
    };
    for rises in rising {
        let hatch = Hatch {
            within,
            spacing,
            rises: *rises,
        };
        draft.add(Layer::Hatch, Shape::Hatch(hatch));
    }
}

/// The bays in plan, hatched and numbered by the day they are poured; `None` where no wall line has a place.
fn bays(house: &House, bays: &[Bay], schedule: &Schedule) -> Option<Sheet> {
    let walls: Vec<[Point; 2]> = house
        .wall_lines
        .iter()
        .filter_map(|wall| wall.plan)
        .map(|ends| ends.map(|end| Point::new(end.x, end.y)))
        .collect();
    let around = walls
        .iter()
        .flatten()
        .map(|place| Extent::between(*place, *place))
        .reduce(Extent::with)?;
    let room = |thousandths: i64| Length::from_nanometers(thousandths * 25_400);
    let scale = Scale::to_fit(
        &[(around.width(), room(ROOM.0)), (around.height(), room(ROOM.1))],
        Scale::HALF_INCH,
    );
    let mut draft = Drafting::new(scale);
    for [from, to] in &walls {
        draft.line(Layer::Existing, *from, *to);
    }
    let wide = draft.paper(BAY_WIDE);
    let mut unplaced = 0;
    for (number, bay) in bays.iter().enumerate() {
        let Some([from, to]) = bay.plan.map(|ends| ends.map(|end| Point::new(end.x, end.y))) else {
            unplaced += 1;
            continue;
        };
        let whole = Extent::between(from, to);
        let place = |end: Point, inward: Nm| {
            let (right, up) = sideways(
                to.x.saturating_sub(from.x).nanometers(),
                to.y.saturating_sub(from.y).nanometers(),
                inward,
            );
            end.moved(right, up)
        };
        let quad = [place(from, 0), place(to, 0), place(to, wide), place(from, wide)];
        let step = step_of(number, schedule);
        if whole.width() == Length::ZERO || whole.height() == Length::ZERO {
            pattern(&mut draft, Extent::between(quad[0], quad[2]), step);
        }
        draft.add(
            Layer::New,
            Shape::Polyline {
                points: quad.to_vec(),
                is_closed: true,
            },
        );
        let spot = place(whole.middle(), wide + draft.paper(150));
        let tall = draft.paper(lettered::DIMENSION);
        let base = at(spot.x.nanometers(), spot.y.nanometers() - tall / 2);
        draft.text(base, lettered::DIMENSION, Anchor::Middle, &step.to_string());
    }
    let drawn = draft.reach(0).unwrap_or_default();
    let room = draft.paper(10_600);
    let left = drawn.middle().x.nanometers() - room.max(drawn.width().nanometers()) / 2;
    let top = drawn.high.y.nanometers() + draft.paper(700);
    draft.heading(
        at(left, top - draft.paper(330)),
        lettered::HEADING,
        Anchor::Start,
        "ORDER OF POURS",
    );
    let column = left + room + draft.paper(300);
    let width = draft.paper(4_700);
    let compass = top - draft.paper(600);
    let (arrow, bar) = (column + draft.paper(300), column + draft.paper(950));
    north(&mut draft, arrow, compass);
    graphic_scale(&mut draft, bar, compass);
    let mut pours: Vec<String> = schedule
        .pours
        .iter()
        .enumerate()
        .map(|(step, pour)| {
            let day = schedule
                .date(pour.day)
                .map_or_else(|| format!("day {}", pour.day + 1), |date| date.to_string());
            let count = pour.bays.len();
            let bays = if count == 1 { "bay" } else { "bays" };
            format!("{}: {day}, {count} {bays}, {}", step + 1, pour.ordered)
        })
        .collect();
    if unplaced > 0 {
        pours.push(format!(
            "Bays of wall lines without a place on record: {unplaced}."
        ));
    }
    pours.push(
        "No two bays are open together without untouched foundation between them; the calendar has the days. An \
         engineer confirms lengths and order before anything is dug."
            .to_owned(),
    );
    let beside = draft.column(column, compass - draft.paper(480), width, "POURS", &pours);
    let low = beside.min(drawn.low.y.nanometers() - draft.paper(200)) - draft.paper(120);
    let middle = left - draft.paper(MARGIN) + draft.paper(PAPER.0) / 2;
    let description = format!(
        "{} bays of {} in plan, numbered and hatched by the day of their pour.",
        bays.len(),
        house.name
    );
    Some(draft.finish(
        &Title {
            house: &house.name,
            sheet: "Order of pours",
            provisions: "bays and settings named in the report",
            number: "F1".to_owned(),
            scale: None,
        },
        "pours".to_owned(),
        &description,
        middle,
        top,
        low,
    ))
}

/// The name of a bay: its wall line and its stations.
pub(crate) fn bay_name(bay: &Bay) -> String {
    format!(
        "{}, {} to {}",
        bay.name,
        bay.from.in_feet_inches(),
        bay.to.in_feet_inches()
    )
}

/// The days of every bay, in as many sheets as it takes.
fn calendars(house: &House, bays: &[Bay], schedule: &Schedule) -> Vec<Sheet> {
    let mut order: Vec<usize> = (0..bays.len()).collect();
    order.sort_by_key(|bay| (schedule.open.get(*bay).map(|open| open.from), *bay));
    order
        .chunks(ROWS)
        .enumerate()
        .map(|(number, rows)| calendar(house, bays, schedule, rows, number))
        .collect()
}

fn calendar(house: &House, bays: &[Bay], schedule: &Schedule, rows: &[usize], number: usize) -> Sheet {
    let mut draft = Drafting::new(Scale::HALF_INCH);
    let days = Nm::from(schedule.days().max(1));
    let (row, names) = (draft.paper(ROW), draft.paper(NAMES));
    let day = draft.paper(DAYS) / days;
    let left_of = |first: u32| names + Nm::from(first) * day;
    let foot = -Nm::try_from(rows.len()).unwrap_or(0) * row;
    for week in (0..=days).step_by(7) {
        let x = names + week * day;
        draft.line(Layer::Hatch, at(x, 0), at(x, foot));
    }
    // So many weeks between words that they keep apart.
    let between = (draft.paper(900) / (day * 7).max(1) + 1).max(1);
    for week in (0..days).step_by(usize::try_from(between * 7).unwrap_or(7)) {
        let first = u32::try_from(week).unwrap_or(0);
        let words = schedule
            .date(first)
            .map_or_else(|| format!("day {}", first + 1), |date| date.to_string());
        let place = at(names + week * day, draft.paper(60));
        draft.text(place, lettered::DIMENSION, Anchor::Start, &words);
    }
    for (line, bay) in (0..).zip(rows) {
        let high: Nm = -line * row;
        let Some(found) = bays.get(*bay) else { continue };
        let words = format!("{}  {}", step_of(*bay, schedule), bay_name(found));
        let words = draft.fitted(&words, lettered::DIMENSION, names - draft.paper(100));
        draft.text(
            at(0, high - row * 7 / 10),
            lettered::DIMENSION,
            Anchor::Start,
            &words,
        );
        let (upper, lower) = (high - row / 5, high - row * 9 / 10);
        if let Some(open) = schedule.open.get(*bay) {
            let middle = upper.midpoint(lower);
            draft.line(
                Layer::New,
                at(left_of(open.from), middle),
                at(left_of(open.to + 1), middle),
            );
        }
        for task in schedule.tasks.iter().filter(|task| task.bay == *bay) {
            let extent = span(left_of(task.first), lower, left_of(task.last + 1), upper);
            draw_task(&mut draft, extent, task.activity);
        }
    }
    let drawn = draft.reach(0).unwrap_or_default();
    let keys: [(Activity, &str); 5] = [
        (Activity::Dig, "break out and dig"),
        (Activity::BarsAndForms, "bars and forms; strip; sill and anchors"),
        (Activity::FoundationInspection, "inspection, a hold point"),
        (Activity::Pour, "pour"),
        (Activity::Cover, "backfill and cover"),
    ];
    let under = foot - draft.paper(250);
    let mut x = 0;
    for (activity, words) in keys {
        let box_wide = draft.paper(260);
        let sample = span(x, under - draft.paper(120), x + box_wide, under);
        draw_task(&mut draft, sample, activity);
        let place = at(x + box_wide + draft.paper(60), under - draft.paper(110));
        draft.text(place, lettered::DIMENSION, Anchor::Start, words);
        x += box_wide + draft.paper(320) + draft.width(words, lettered::DIMENSION);
    }
    let proven = if schedule.is_proven_shortest() {
        "No order under these settings is shorter.".to_owned()
    } else {
        format!(
            "No order under these settings takes fewer than {} days.",
            schedule.lower_bound
        )
    };
    let notes = vec![format!(
        "{} calendar days. The heavy line shows how long a bay counts as open: its neighbors stay closed. {proven} An \
         independent check of this calendar is in the report.",
        schedule.days()
    )];
    let below = draft.column(0, under - draft.paper(350), draft.paper(10_000), "NOTES", &notes);
    let description = format!("The days of {} bays of {}.", rows.len(), house.name);
    let top = drawn.high.y.nanometers() + draft.paper(250);
    let low = below - draft.paper(120);
    let middle = (names + draft.paper(DAYS)) / 2;
    draft.finish(
        &Title {
            house: &house.name,
            sheet: "Calendar",
            provisions: "bays and settings named in the report",
            number: format!("F{}", number + 2),
            scale: Some("days"),
        },
        format!("calendar-{}", number + 1),
        &description,
        middle,
        top,
        low,
    )
}

fn draw_task(draft: &mut Drafting, extent: Extent, activity: Activity) {
    let spacing = Length::from_nanometers(draft.paper(45));
    let hatch = |within: Extent, rises: bool| {
        Shape::Hatch(Hatch {
            within,
            spacing,
            rises,
        })
    };
    match activity {
        Activity::Dig => draft.add(Layer::Hatch, hatch(extent, true)),
        Activity::BarsAndForms | Activity::Strip | Activity::SillAndAnchors => {
            draft.add(Layer::Hatch, hatch(extent, false));
        }
        Activity::FoundationInspection | Activity::CoverInspection => {
            let middle = extent.middle();
            let corners = vec![
                Point::new(extent.low.x, middle.y),
                Point::new(middle.x, extent.low.y),
                Point::new(extent.high.x, middle.y),
                Point::new(middle.x, extent.high.y),
            ];
            draft.add(
                Layer::Existing,
                Shape::Polyline {
                    points: corners,
                    is_closed: true,
                },
            );
            return;
        }
        Activity::Pour => draft.add(Layer::New, Shape::Solid(extent.corners().to_vec())),
        Activity::Cover => {}
    }
    draft.rectangle(Layer::Existing, extent);
}

/// The floor along the wall lines before, half way and after the lift.
fn floor(house: &House, lift: &LiftPlan) -> Vec<Sheet> {
    if lift.steps.is_empty() {
        return Vec::new();
    }
    let states = [0, lift.steps.len() / 2, lift.steps.len()].map(|steps| lift.floor_after(steps));
    let lines: Vec<(&str, Vec<Profile>)> = house
        .wall_lines
        .iter()
        .filter_map(|wall| {
            let [from, to] = wall.plan?;
            let profiles: Vec<Profile> = states
                .iter()
                .filter_map(|points| {
                    let plane = Plane::fit(points).ok()?;
                    let surface = Surface::of(points).ok()?;
                    Profile::along(points, Some(&plane), Some(&surface), from, to).ok()
                })
                .collect();
            (profiles.len() == states.len()).then_some((wall.name.as_str(), profiles))
        })
        .collect();
    let sheets = lines.chunks(LIFTS).enumerate();
    sheets
        .map(|(number, lines)| lift_sheet(house, lift, lines, number))
        .collect()
}

fn lift_sheet(house: &House, lift: &LiftPlan, lines: &[(&str, Vec<Profile>)], number: usize) -> Sheet {
    let inch = Length::inches(1).nanometers();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_precision_loss,
        reason = "drawn to the micrometer"
    )]
    let nanometers = |inches: f64| (inches * inch as f64) as Nm;
    let points = |profiles: &[Profile]| -> Vec<(f64, f64)> {
        let points = profiles.iter().flat_map(|profile| &profile.points);
        points.map(|point| (point.station, point.height.likely)).collect()
    };
    let extent = |values: &mut dyn Iterator<Item = f64>| {
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
            (low.min(value), high.max(value))
        })
    };
    let (mut longest, mut range) = (1.0_f64, 0.25_f64);
    for (_, profiles) in lines {
        let points = points(profiles);
        let along = extent(&mut points.iter().map(|point| point.0));
        let up = extent(&mut points.iter().map(|point| point.1));
        longest = longest.max(along.1 - along.0);
        range = range.max(up.1 - up.0);
    }
    let room = Length::from_nanometers(LIFT_WIDE * 25_400);
    let scale = Scale::to_fit(
        &[(Length::from_nanometers(nanometers(longest)), room)],
        Scale::HALF_INCH,
    );
    let mut draft = Drafting::new(scale);
    let larger = (draft.paper(LIFT_HIGH) * 7 / 10 / nanometers(range).max(1)).clamp(1, 96);
    let mut top = 0;
    for (name, profiles) in lines {
        let all = points(profiles);
        let first = extent(&mut all.iter().map(|point| point.0)).0;
        let lowest = extent(&mut all.iter().map(|point| point.1)).0;
        let base = top - draft.paper(LIFT_HIGH);
        draft.heading(
            at(0, top - draft.paper(40)),
            lettered::NOTE,
            Anchor::Start,
            &format!("Along {name}"),
        );
        for (profile, layer) in profiles.iter().zip([Layer::Existing, Layer::Hidden, Layer::New]) {
            let line = profile
                .points
                .iter()
                .map(|point| {
                    at(
                        nanometers(point.station - first),
                        base + nanometers(point.height.likely - lowest) * larger,
                    )
                })
                .collect();
            draft.add(
                layer,
                Shape::Polyline {
                    points: line,
                    is_closed: false,
                },
            );
        }
        top = base - draft.paper(260);
    }
    let drawn = draft.reach(0).unwrap_or_default();
    let left = drawn.low.x.nanometers();
    let notes = vec![
        format!(
            "Thin: as read. Dashed: after {} of {} steps. Heavy: after the last. Heights are drawn {larger} times as \
             large as lengths.",
            lift.steps.len() / 2,
            lift.steps.len()
        ),
        "Cribs follow every lift. Nobody is under a load that stands on jacks alone.".to_owned(),
    ];
    let below = draft.column(
        left,
        drawn.low.y.nanometers() - draft.paper(200),
        draft.paper(9_500),
        "NOTES",
        &notes,
    );
    let names: Vec<&str> = lines.iter().map(|(name, _)| *name).collect();
    let description = format!(
        "The floor of {} along {} before, during and after the lift.",
        house.name,
        names.join(", ")
    );
    let middle = drawn.middle().x.nanometers();
    let high = drawn.high.y.nanometers() + draft.paper(250);
    let low = below - draft.paper(120);
    draft.finish(
        &Title {
            house: &house.name,
            sheet: "The floor during the lift",
            provisions: "lift settings named in the report",
            number: format!("J{}", number + 1),
            scale: None,
        },
        format!("lift-{}", number + 1),
        &description,
        middle,
        high,
        low,
    )
}
