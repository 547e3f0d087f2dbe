//! The bays in plan, by the order of their pours.

use retrofit_core::foundation::sequence::{Bay, Schedule};
use retrofit_core::house::House;
use retrofit_core::measure::Length;

use super::super::drafting::{Drafting, Nm, Title, at, lettered};
use super::super::plan::{COLUMN_WIDE, PlanSheet, sideways};
use super::super::sheet::{Anchor, Extent, Hatch, Layer, Point, Scale, Shape, Sheet, Tint};
use super::step_of;

/// The most room on paper for the wall lines, in thousandths of an inch.
const ROOM: (i64, i64) = (9_600, 7_200);
/// How wide a bay is drawn on paper, in thousandths of an inch.
const BAY_WIDE: i64 = 260;

/// The bays in plan, hatched and numbered by the day they are poured; `None` where no wall line has a place.
pub(super) fn bays(house: &House, bays: &[Bay], schedule: &Schedule) -> Option<Sheet> {
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
    let unplaced = draw_bays(&mut draft, bays, schedule);
    let sheet = PlanSheet::around(&mut draft, "ORDER OF POURS", true);
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
    let width = draft.paper(COLUMN_WIDE);
    let beside = draft.column(sheet.column, sheet.under_scale, width, "POURS", &pours);
    let low = beside.min(sheet.lowest - draft.paper(200)) - draft.paper(120);
    let middle = sheet.middle(&draft);
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
        sheet.top,
        low,
    ))
}

/// Every bay that has a place; gives how many have none.
fn draw_bays(draft: &mut Drafting, bays: &[Bay], schedule: &Schedule) -> usize {
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
            pattern(draft, Extent::between(quad[0], quad[2]), step);
        }
        draft.add(
            Layer::New,
            Shape::Polyline {
                points: quad.to_vec(),
                is_closed: true,
            },
        );
        let spot = place(whole.middle(), -draft.paper(150));
        let tall = draft.paper(lettered::DIMENSION);
        let base = at(spot.x.nanometers(), spot.y.nanometers() - tall / 2);
        draft.text(base, lettered::DIMENSION, Anchor::Middle, &step.to_string());
    }
    unplaced
}

/// Fills a rectangle by the number of a step: a color, and one of four patterns that copy in black and white.
fn pattern(draft: &mut Drafting, within: Extent, step: usize) {
    let (near, far) = (draft.paper(70), draft.paper(210));
    let lines: &[(bool, Nm)] = match step % 4 {
        1 => &[(true, near)],
        2 => &[(false, near)],
        3 => &[(true, near), (false, near)],
        _ => &[(true, far)],
    };
    for (rises, spacing) in lines {
        let hatch = Hatch {
            within,
            spacing: Length::from_nanometers(*spacing),
            rises: *rises,
            tint: Some(Tint::of_step(step)),
        };
        draft.add(Layer::Hatch, Shape::Hatch(hatch));
    }
}
