//! A schedule read again, by nothing but its tasks, the bays and the settings.
//!
//! Nothing here is shared with the search: neighbors, open days, gates and limits are worked out anew, so that a mistake
//! there is not a mistake here.

use std::collections::BTreeMap;

use thiserror::Error;

use super::bays::Bay;
use super::schedule::{Schedule, Task};
use super::settings::{Activity, Settings};
use crate::choice::Choice;
use crate::foundation::earthwork::SolidVolume;
use crate::measure::Length;

/// Something in a schedule that its rules do not allow. Bays are named by their place in the list, days count from 0.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ScheduleFault {
    /// A task in a bay that is not there.
    #[error("a task names bay {bay}; there are {bays}")]
    NoSuchBay {
        /// The bay.
        bay: usize,
        /// How many there are.
        bays: usize,
    },
    /// An activity that a bay needs and does not get, or gets more than once.
    #[error("bay {bay}: {activity} stands {found} times; expected once")]
    NotOnce {
        /// The bay.
        bay: usize,
        /// The activity.
        activity: Activity,
        /// How often it stands.
        found: usize,
    },
    /// A task with fewer or more work days than it takes.
    #[error("bay {bay}: {activity} from day {first} to {last} has {found} work days; expected {expected}")]
    WorkDays {
        /// The bay.
        bay: usize,
        /// The activity.
        activity: Activity,
        /// Its first day.
        first: u32,
        /// Its last day.
        last: u32,
        /// Work days in it.
        found: u32,
        /// Work days it takes.
        expected: u16,
    },
    /// A task that begins or ends on a day without work.
    #[error("bay {bay}: {activity} begins or ends on day {day}, which is no work day")]
    NoWorkDay {
        /// The bay.
        bay: usize,
        /// The activity.
        activity: Activity,
        /// The day.
        day: u32,
    },
    /// Work before the inspection that it waits for.
    #[error("bay {bay}: {work} on day {day} stands before the {inspection} is passed")]
    HoldPoint {
        /// The bay.
        bay: usize,
        /// The inspection.
        inspection: Activity,
        /// What does not wait for it.
        work: Activity,
        /// The day.
        day: u32,
    },
    /// An activity before the one it follows.
    #[error("bay {bay}: {later} on day {day} stands before {earlier} is done")]
    OutOfOrder {
        /// The bay.
        bay: usize,
        /// What comes first.
        earlier: Activity,
        /// What stands too early.
        later: Activity,
        /// The day.
        day: u32,
    },
    /// Concrete that is loaded, or stripped, too young.
    #[error("bay {bay}: {activity} begins {found} days after the pour; expected {expected} or more")]
    TooYoung {
        /// The bay.
        bay: usize,
        /// What begins.
        activity: Activity,
        /// Days after the pour.
        found: u32,
        /// Days to wait.
        expected: u16,
    },
    /// A bay dug or formed, and left.
    #[error("bay {bay} lies open and unused before {activity} on day {day}")]
    LeftOpen {
        /// The bay.
        bay: usize,
        /// What it waits for.
        activity: Activity,
        /// When that begins.
        day: u32,
    },
    /// Two bays open together with too little between them.
    #[error(
        "bays {first} and {second} are open together on day {day} with {between} untouched bays between; expected {expected}"
    )]
    OpenTogether {
        /// One bay.
        first: usize,
        /// The other.
        second: usize,
        /// A day on which both are open.
        day: u32,
        /// Untouched bays between them.
        between: u32,
        /// What is asked for.
        expected: u32,
    },
    /// Too much of the foundation open.
    #[error("on day {day} {open} of foundation is open; no more than {limit} may be")]
    TooMuchOpen {
        /// The day.
        day: u32,
        /// The length that is open.
        open: Length,
        /// The limit, rounded down to a nanometer.
        limit: Length,
    },
    /// A task of a crew without one, or an inspection with one, or a crew that there is not.
    #[error("bay {bay}: {activity} is given to the wrong crew; there are {crews}, counted from 0")]
    WrongCrew {
        /// The bay.
        bay: usize,
        /// The activity.
        activity: Activity,
        /// How many crews there are.
        crews: u16,
    },
    /// A crew in more bays than it works in on one day.
    #[error("crew {crew} is in {found} bays on day {day}; it works in no more than {expected} at a time")]
    CrewTorn {
        /// The crew.
        crew: u16,
        /// The day.
        day: u32,
        /// In how many bays it is.
        found: usize,
        /// In how many it may be.
        expected: u16,
    },
    /// More concrete in a day than its trucks bring.
    #[error("on day {day} more concrete is poured than {trucks} trucks bring")]
    TooMuchConcrete {
        /// The day.
        day: u32,
        /// Trucks in a day.
        trucks: u16,
    },
    /// A pour day, or the days of an open bay, that are not what the tasks say.
    #[error("what the schedule says of {what} is not what its tasks say")]
    Summary {
        /// What of.
        what: &'static str,
    },
}

/// Every fault of a schedule; none where it keeps to the bays and the settings.
///
/// The limits that it is held to are those of the settings, whoever chose them: a schedule without faults is no
/// statement about the house.
pub fn check_schedule(bays: &[Bay], schedule: &Schedule, settings: &Settings) -> Vec<ScheduleFault> {
    let mut faults = Vec::new();
    for task in &schedule.tasks {
        if task.bay >= bays.len() {
            faults.push(ScheduleFault::NoSuchBay {
                bay: task.bay,
                bays: bays.len(),
            });
        }
    }
    each_bay(bays, schedule, settings, &mut faults);
    each_task(schedule, settings, &mut faults);
    let open: Vec<Option<(u32, u32)>> = (0..bays.len())
        .map(|bay| open_days(bay, schedule, settings))
        .collect();
    together(bays, &open, settings, &mut faults);
    how_much(bays, &open, settings, &mut faults);
    concrete(bays, schedule, settings, &mut faults);
    let said: Vec<(usize, u32, u32)> = schedule
        .open
        .iter()
        .map(|open| (open.bay, open.from, open.to))
        .collect();
    let found = open
        .iter()
        .enumerate()
        .filter_map(|(bay, open)| open.map(|(from, to)| (bay, from, to)));
    if !found.eq(said) {
        faults.push(ScheduleFault::Summary { what: "open bays" });
    }
    faults
}

/// The one task of an activity in a bay.
fn the(schedule: &Schedule, bay: usize, activity: Activity) -> Option<&Task> {
    schedule
        .tasks
        .iter()
        .find(|task| task.bay == bay && task.activity == activity)
}

fn works(day: u32, settings: &Settings) -> bool {
    let monday_is_0 = settings.start.map_or(0, |start| u32::from(start.weekday()));
    settings.works_weekends || (monday_is_0 + day % 7) % 7 < 5
}

/// The work days of a task; of one that lasts for years, those of the first.
fn work_days(task: &Task, settings: &Settings) -> impl Iterator<Item = u32> {
    (task.first..=task.last)
        .take(365)
        .filter(|day| works(*day, settings))
}

fn each_bay(bays: &[Bay], schedule: &Schedule, settings: &Settings, faults: &mut Vec<ScheduleFault>) {
    for bay in 0..bays.len() {
        for activity in Activity::ALL {
            let tasks = schedule.tasks.iter();
            let found = tasks
                .filter(|task| task.bay == bay && task.activity == *activity)
                .count();
            if found != 1 {
                faults.push(ScheduleFault::NotOnce {
                    bay,
                    activity: *activity,
                    found,
                });
            }
        }
        for (earlier, later) in Activity::ALL.iter().zip(Activity::ALL.iter().skip(1)) {
            let (Some(before), Some(after)) = (the(schedule, bay, *earlier), the(schedule, bay, *later))
            else {
                continue;
            };
            let is_inspection = matches!(
                earlier,
                Activity::FoundationInspection | Activity::CoverInspection
            );
            if after.first <= before.last {
                faults.push(if is_inspection {
                    ScheduleFault::HoldPoint {
                        bay,
                        inspection: *earlier,
                        work: *later,
                        day: after.first,
                    }
                } else {
                    ScheduleFault::OutOfOrder {
                        bay,
                        earlier: *earlier,
                        later: *later,
                        day: after.first,
                    }
                });
            }
            let is_before_the_pour = matches!(
                later,
                Activity::BarsAndForms | Activity::FoundationInspection | Activity::Pour
            );
            let idle = (before.last.saturating_add(1)..after.first)
                .take(365)
                .any(|day| works(day, settings));
            if is_before_the_pour && idle {
                faults.push(ScheduleFault::LeftOpen {
                    bay,
                    activity: *later,
                    day: after.first,
                });
            }
        }
        let Some(pour) = the(schedule, bay, Activity::Pour) else {
            continue;
        };
        let gates = [
            (Activity::Strip, settings.strip_cure),
            (Activity::SillAndAnchors, settings.load_cure),
        ];
        for (activity, expected) in gates {
            let Some(task) = the(schedule, bay, activity) else {
                continue;
            };
            let found = task.first.saturating_sub(pour.last);
            if found < u32::from(expected) {
                faults.push(ScheduleFault::TooYoung {
                    bay,
                    activity,
                    found,
                    expected,
                });
            }
        }
    }
}

fn each_task(schedule: &Schedule, settings: &Settings, faults: &mut Vec<ScheduleFault>) {
    for task in &schedule.tasks {
        let (bay, activity) = (task.bay, task.activity);
        let found = u32::try_from(work_days(task, settings).count()).unwrap_or(u32::MAX);
        let expected = match activity {
            Activity::Dig => settings.durations.dig,
            Activity::BarsAndForms => settings.durations.bars_and_forms,
            Activity::FoundationInspection => settings.durations.foundation_inspection,
            Activity::Pour => 1,
            Activity::Strip => settings.durations.strip,
            Activity::SillAndAnchors => settings.durations.sill_and_anchors,
            Activity::CoverInspection => settings.durations.cover_inspection,
            Activity::Cover => settings.durations.cover,
        };
        if found != u32::from(expected) || task.work_days != expected {
            faults.push(ScheduleFault::WorkDays {
                bay,
                activity,
                first: task.first,
                last: task.last,
                found,
                expected,
            });
        }
        for day in [task.first, task.last] {
            if !works(day, settings) {
                faults.push(ScheduleFault::NoWorkDay { bay, activity, day });
            }
        }
        let is_inspection = matches!(
            activity,
            Activity::FoundationInspection | Activity::CoverInspection
        );
        if task.crew.is_none() != is_inspection || task.crew.is_some_and(|crew| crew >= settings.crews) {
            faults.push(ScheduleFault::WrongCrew {
                bay,
                activity,
                crews: settings.crews,
            });
        }
    }
    let mut at_work: BTreeMap<(u32, u16), usize> = BTreeMap::new();
    for task in &schedule.tasks {
        let Some(crew) = task.crew else { continue };
        for day in work_days(task, settings) {
            *at_work.entry((day, crew)).or_default() += 1;
        }
    }
    if at_work.len() as u64 != schedule.crew_days {
        faults.push(ScheduleFault::Summary { what: "crew days" });
    }
    let torn = at_work
        .into_iter()
        .filter(|(_, found)| *found > settings.bays_a_crew.into());
    faults.extend(torn.map(|((day, crew), found)| ScheduleFault::CrewTorn {
        crew,
        day,
        found,
        expected: settings.bays_a_crew,
    }));
}

/// The first and the last day on which a bay is open: from the first day of digging until its sill is set and the day on
/// which its neighbor may open is next.
fn open_days(bay: usize, schedule: &Schedule, settings: &Settings) -> Option<(u32, u32)> {
    let dig = the(schedule, bay, Activity::Dig)?;
    let pour = the(schedule, bay, Activity::Pour)?;
    let sill = the(schedule, bay, Activity::SillAndAnchors)?;
    let neighbor = pour.last.saturating_add(settings.neighbor_cure.into());
    Some((dig.first, sill.last.max(neighbor.saturating_sub(1))))
}

fn together(bays: &[Bay], open: &[Option<(u32, u32)>], settings: &Settings, faults: &mut Vec<ScheduleFault>) {
    let between = untouched_between(bays, settings);
    for (first, days) in open.iter().enumerate() {
        for (second, other) in open.iter().enumerate().skip(first + 1) {
            let (Some((from, to)), Some((other_from, other_to))) = (days, other) else {
                continue;
            };
            let day = *from.max(other_from);
            let between = between
                .get(first)
                .and_then(|row| row.get(second))
                .copied()
                .flatten();
            if let Some(between) = between.filter(|between| *between < settings.least_between)
                && day <= *to.min(other_to)
            {
                faults.push(ScheduleFault::OpenTogether {
                    first,
                    second,
                    day,
                    between,
                    expected: settings.least_between,
                });
            }
        }
    }
}

/// For each two bays the least number of untouched ones between; `None` where no foundation leads from one to the other.
fn untouched_between(bays: &[Bay], settings: &Settings) -> Vec<Vec<Option<u32>>> {
    let direct = |a: usize, b: usize| {
        let (bay, other) = (bays.get(a)?, bays.get(b)?);
        let gap = if bay.wall_line == other.wall_line {
            let is_next = !bays.iter().any(|third| {
                third.wall_line == bay.wall_line
                    && third.from > bay.from.min(other.from)
                    && third.from < bay.from.max(other.from)
            });
            let gap = bay.from.max(other.from).nanometers() - bay.to.min(other.to).nanometers();
            is_next.then_some(gap)?
        } else if let (Some(plan), Some(other)) = (bay.plan, other.plan) {
            let mut least = i128::MAX;
            for a in plan {
                for b in other {
                    let x = i128::from(a.x.nanometers()) - i128::from(b.x.nanometers());
                    let y = i128::from(a.y.nanometers()) - i128::from(b.y.nanometers());
                    least = least.min(x.saturating_mul(x).saturating_add(y.saturating_mul(y)));
                }
            }
            i64::try_from(least.isqrt()).ok()?
        } else {
            let ways = [
                round_the_corner(bays, bay, other),
                round_the_corner(bays, other, bay),
            ];
            ways.into_iter().flatten().min()?
        };
        let full = gap.max(0) / settings.largest_open.nanometers().max(1);
        Some(u32::try_from(full).unwrap_or(u32::MAX))
    };
    let mut least: Vec<Vec<Option<u32>>> = (0..bays.len())
        .map(|a| {
            (0..bays.len())
                .map(|b| if a == b { None } else { direct(a, b) })
                .collect()
        })
        .collect();
    // Ways over a third bay, which is untouched itself.
    for over in 0..bays.len() {
        let from_there = least.get(over).cloned().unwrap_or_default();
        for (bay, row) in least.iter_mut().enumerate() {
            let Some(to_there) = row.get(over).copied().flatten() else {
                continue;
            };
            for (other, (held, on)) in row.iter_mut().zip(&from_there).enumerate() {
                let Some(on) = on.filter(|_| other != bay && bay != over) else {
                    continue;
                };
                let way = to_there.saturating_add(on).saturating_add(1);
                *held = Some(held.map_or(way, |held| held.min(way)));
            }
        }
    }
    least
}

/// Untouched foundation from the end of one wall line to the beginning of the next, where the plan is not known: for the
/// last bay of the one and the first of the other.
fn round_the_corner(bays: &[Bay], bay: &Bay, other: &Bay) -> Option<i64> {
    let lines = || bays.iter().map(|bay| bay.wall_line);
    let closes_the_ring = Some(bay.wall_line) == lines().max() && Some(other.wall_line) == lines().min();
    let follows = bay.wall_line.checked_add(1) == Some(other.wall_line);
    let of = |line: usize| bays.iter().filter(move |bay| bay.wall_line == line);
    let is_last = of(bay.wall_line).all(|third| third.from <= bay.from);
    let is_first = of(other.wall_line).all(|third| third.from >= other.from);
    ((closes_the_ring || follows) && is_last && is_first).then(|| {
        let end = bay.line_length.unwrap_or(bay.to).saturating_sub(bay.to);
        end.nanometers().max(0).saturating_add(other.from.nanometers())
    })
}

fn how_much(bays: &[Bay], open: &[Option<(u32, u32)>], settings: &Settings, faults: &mut Vec<ScheduleFault>) {
    let nanometers = |bay: &Bay| i128::from(bay.to.nanometers()) - i128::from(bay.from.nanometers());
    let as_length = |length: i128| Length::from_nanometers(i64::try_from(length).unwrap_or(i64::MAX));
    let work: i128 = bays.iter().map(nanometers).sum();
    let share = i128::from(settings.share_open.hundredths());
    let mut limit = match settings.perimeter {
        Some(perimeter) => i128::from(perimeter.nanometers()) * share / 10_000,
        None => (work * share / 10_000).max(bays.iter().map(nanometers).max().unwrap_or(0)),
    };
    if let Some(most) = settings.most_open {
        limit = limit.min(most.nanometers().into());
    }
    // What is open only grows on a day on which a bay is opened.
    let mut mornings: Vec<u32> = open.iter().flatten().map(|(from, _)| *from).collect();
    mornings.sort_unstable();
    mornings.dedup();
    for day in mornings {
        let is_open = |days: &Option<(u32, u32)>| days.is_some_and(|(from, to)| from <= day && day <= to);
        let length: i128 = bays
            .iter()
            .zip(open)
            .filter(|(_, days)| is_open(days))
            .map(|(bay, _)| nanometers(bay))
            .sum();
        if length > limit {
            faults.push(ScheduleFault::TooMuchOpen {
                day,
                open: as_length(length),
                limit: as_length(limit),
            });
        }
    }
}

fn concrete(bays: &[Bay], schedule: &Schedule, settings: &Settings, faults: &mut Vec<ScheduleFault>) {
    let pours = || {
        schedule
            .tasks
            .iter()
            .filter(|task| task.activity == Activity::Pour)
    };
    let mut days: Vec<u32> = pours().map(|task| task.first).collect();
    days.sort_unstable();
    days.dedup();
    let mut is_as_said = schedule
        .pours
        .iter()
        .map(|pour| pour.day)
        .eq(days.iter().copied());
    for day in days {
        let mut poured: Vec<usize> = pours()
            .filter(|task| task.first == day)
            .map(|task| task.bay)
            .collect();
        poured.sort_unstable();
        let volumes = poured.iter().filter_map(|bay| bays.get(*bay));
        let ordered = volumes.fold(SolidVolume::ZERO, |sum, bay| {
            sum.plus(bay.concrete.with(settings.concrete_waste))
        });
        let trucks = ordered.loads_of(settings.truck);
        if trucks > settings.trucks_a_day.into() {
            faults.push(ScheduleFault::TooMuchConcrete {
                day,
                trucks: settings.trucks_a_day,
            });
        }
        let said = schedule.pours.iter().find(|pour| pour.day == day);
        is_as_said &=
            said.is_some_and(|pour| pour.bays == poured && pour.ordered == ordered && pour.trucks == trucks);
    }
    if !is_as_said {
        faults.push(ScheduleFault::Summary { what: "pour days" });
    }
}

#[cfg(test)]
mod tests {
    use super::super::bays::kept_apart;
    use super::super::bays::tests::{settings, work};
    use super::super::divide;
    use super::*;
    use crate::house::PlanPoint;
    use proptest::prelude::*;

    proptest! {
        /// Two ways to count untouched bays, over wall lines with and without a plan, with kept foundation between and at
        /// their ends, find the same bays too near each other.
        #[test]
        fn neighbors_are_found_the_same_by_both(
            lines in prop::collection::vec((0_i64..150, 10_i64..250, 0_i64..150, any::<bool>(), any::<bool>()), 1..6),
            skipped in 0_usize..3,
            least in 1_u32..5,
        ) {
            let mut settings = settings();
            settings.least_between = least;
            let mut lengths = Vec::new();
            for (place, (from, run, after, is_known, has_plan)) in lines.into_iter().enumerate() {
                let line = if place >= skipped { place + 1 } else { place };
                let mut length = work(line, from, from + run);
                length.line_length = is_known.then(|| Length::inches(from + run + after));
                // Wall lines beside each other, an inch of `after` apart.
                let point = |x: i64| PlanPoint { x: Length::inches(x), y: Length::inches(after) };
                length.plan = has_plan.then(|| [point(from), point(from + run)]);
                lengths.push(length);
                lengths.push(work(line, from + run + after, from + run + after + 30));
            }
            let bays = divide(&lengths, &settings).unwrap();
            let between = untouched_between(&bays, &settings);
            for (bay, apart) in kept_apart(&bays, &settings).into_iter().enumerate() {
                let near: Vec<usize> = (0..bays.len())
                    .filter(|other| *other != bay && between[bay][*other].is_some_and(|between| between < least))
                    .collect();
                prop_assert_eq!(near, apart, "bay {}", bay);
            }
        }
    }
}
