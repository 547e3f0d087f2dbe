//! The calendar of the bays.

use retrofit_core::foundation::sequence::{Activity, Bay, Schedule};
use retrofit_core::house::House;
use retrofit_core::measure::Length;

use super::super::drafting::{Drafting, Nm, Title, at, lettered, span};
use super::super::sheet::{Anchor, Extent, Hatch, Layer, Point, Scale, Shape, Sheet};
use super::{bay_name, step_of};

/// How many bays a calendar holds.
const ROWS: usize = 36;
/// How high a row of a calendar is, and how wide its names and its days stand, in thousandths of an inch.
const ROW: i64 = 190;
const NAMES: i64 = 3_300;
const DAYS: i64 = 12_000;

/// The days of every bay, in as many sheets as it takes.
pub(super) fn calendars(house: &House, bays: &[Bay], schedule: &Schedule) -> Vec<Sheet> {
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
    let middle = names.midpoint(draft.paper(DAYS));
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
            tint: None,
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
