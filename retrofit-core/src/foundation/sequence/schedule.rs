//! The order and the days: a search over what can stand at the end of a day.
//!
//! Once a bay is opened its days up to the pour are fixed, so what is left to decide each morning is which bays to open,
//! and which forms, sills and backfills to give to a free crew. First the days are gone through by rules of thumb, in
//! several orders of the bays; the best of that is a schedule and its length an upper bound. From below, the search asks
//! for a schedule of the least length that no bound excludes, then of one day more, and so on: each length is refuted by
//! going through every choice, remembering the states that led nowhere. The first length that is not refuted is the
//! shortest. Where the budget ends before that, the schedule stands and says how short it could be at best.

use std::collections::{HashMap, HashSet};

use super::bays::{Bay, MOST_BAYS, kept_apart};
use super::settings::{Activity, SequenceError, Settings, Yards};
use crate::choice::Choice;
use crate::foundation::earthwork::SolidVolume;
use crate::house::CheckedOn;
use crate::measure::Length;

/// One activity in one bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Task {
    /// The bay, by its place in the list of bays.
    pub bay: usize,
    /// What is done.
    pub activity: Activity,
    /// The crew, counted from 0; none for an inspection.
    pub crew: Option<u16>,
    /// The first day, counted from the first day of the job, which is 0.
    pub first: u32,
    /// The last day.
    pub last: u32,
    /// Work days in it.
    pub work_days: u16,
}

/// A day on which concrete is poured.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PourDay {
    /// The day.
    pub day: u32,
    /// The bays that are poured.
    pub bays: Vec<usize>,
    /// The concrete ordered for them, waste included.
    pub ordered: SolidVolume,
    /// The trucks that bring it.
    pub trucks: u64,
}

/// The days on which a bay is open, both included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OpenInterval {
    /// The bay.
    pub bay: usize,
    /// The first day of digging.
    pub from: u32,
    /// The last day before its neighbors may open.
    pub to: u32,
}

/// Order and days of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Schedule {
    /// The tasks by first day, then by bay.
    pub tasks: Vec<Task>,
    /// The days on which concrete is poured.
    pub pours: Vec<PourDay>,
    /// When each bay is open, in the order of the bays.
    pub open: Vec<OpenInterval>,
    /// Work days on which a crew is there, added up over all crews.
    pub crew_days: u64,
    /// No schedule of these bays under these settings has fewer days.
    pub lower_bound: u32,
    /// The first day, where one is set.
    pub start: Option<CheckedOn>,
}

impl Schedule {
    /// Calendar days from the first to the last, both included.
    pub fn days(&self) -> u32 {
        self.tasks
            .iter()
            .map(|task| task.last.saturating_add(1))
            .max()
            .unwrap_or(0)
    }

    /// Whether no schedule is shorter.
    pub fn is_proven_shortest(&self) -> bool {
        self.lower_bound == self.days()
    }

    /// A day of the schedule in the calendar; `None` where no first day is set.
    pub fn date(&self, day: u32) -> Option<CheckedOn> {
        self.start?.plus_days(i32::try_from(day).ok()?)
    }
}

/// Order and days for the bays, as short as the search could make them.
///
/// Deterministic: the same bays and settings give the same schedule. The error names a setting or a bay for which there
/// is no schedule at all.
pub fn schedule(bays: &[Bay], settings: &Settings) -> Result<Schedule, SequenceError> {
    let problem = Problem::of(bays, settings)?;
    if bays.is_empty() {
        return Ok(problem.put_together(&[], 0));
    }
    let mut best = problem.by_rules();
    let mut bound = problem.least_last_day(&problem.nothing_done(), 0);
    let mut search = Search {
        problem: &problem,
        failed: HashMap::new(),
        budget: settings.search_budget,
    };
    while bound < last_day(&best) {
        match search.within(bound) {
            Searched::Found(found) => best = found,
            Searched::Refuted => bound += 1,
            Searched::OutOfBudget => break,
        }
    }
    Ok(problem.put_together(&best, bound + 1))
}

/// How far a bay is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
struct Progress {
    /// Activities behind it.
    done: u8,
    /// Work days of the next one behind it.
    days: u16,
    /// Days since the pour in the morning, no more than the longest gate.
    cure: u16,
}

impl Progress {
    fn activity(self) -> Option<Activity> {
        Activity::ALL.get(usize::from(self.done)).copied()
    }

    fn is_waiting(self) -> bool {
        self.done == 0 && self.days == 0
    }

    fn is_poured(self) -> bool {
        usize::from(self.done) > Activity::Pour.index() as usize
    }

    /// Whether the sill is set.
    fn is_set(self) -> bool {
        usize::from(self.done) > Activity::SillAndAnchors.index() as usize
    }

    fn is_done(self) -> bool {
        self.activity().is_none()
    }

    /// Whether its activity goes on today by itself: it is under way, or nobody decides about it.
    fn goes_on(self) -> bool {
        self.days > 0
            || self
                .activity()
                .is_some_and(|activity| follows_at_once(activity) || !activity.takes_a_crew())
    }
}

/// Whether an activity begins on the work day after the one before it.
const fn follows_at_once(activity: Activity) -> bool {
    matches!(
        activity,
        Activity::BarsAndForms | Activity::FoundationInspection | Activity::Pour
    )
}

/// How far all bays are.
type State = Vec<Progress>;
/// The bays that begin an activity on one day, of which somebody decides.
type Chosen = Vec<usize>;
/// What is decided day by day.
type Decisions = Vec<Chosen>;

/// What is promised for the coming work days: crews, and concrete.
#[derive(Clone, Debug, Default)]
struct Promised {
    crews: Vec<u16>,
    concrete: Vec<SolidVolume>,
}

impl Promised {
    fn add(&mut self, days: &[(usize, Option<SolidVolume>)]) {
        for &(day, concrete) in days {
            if self.crews.len() <= day {
                self.crews.resize(day + 1, 0);
                self.concrete.resize(day + 1, SolidVolume::ZERO);
            }
            if let (Some(crews), Some(sum)) = (self.crews.get_mut(day), self.concrete.get_mut(day)) {
                *crews += 1;
                *sum = sum.plus(concrete.unwrap_or(SolidVolume::ZERO));
            }
        }
    }
}

struct Problem<'a> {
    bays: &'a [Bay],
    settings: &'a Settings,
    apart: Vec<Vec<usize>>,
    /// Sets of bays of which no two may be open together.
    cliques: Vec<Vec<usize>>,
    ordered: Vec<SolidVolume>,
    limit: Length,
    /// How many bays fit into the limit at once, at most.
    most_at_once: u32,
    /// Days a lone bay takes from the morning of a weekday until it is done, and until its neighbor may open.
    alone: [(u32, u32); 7],
    longest_cure: u16,
}

impl<'a> Problem<'a> {
    fn of(bays: &'a [Bay], settings: &'a Settings) -> Result<Self, SequenceError> {
        settings.check()?;
        if bays.len() > MOST_BAYS {
            return Err(SequenceError::TooMany {
                found: bays.len(),
                most: MOST_BAYS,
            });
        }
        let limit = limit(bays, settings);
        let ordered: Vec<SolidVolume> = bays.iter().map(|bay| bay.ordered(settings)).collect();
        for (place, (bay, ordered)) in bays.iter().zip(&ordered).enumerate() {
            let longest = limit.min(settings.largest_open);
            if bay.length() > longest {
                return Err(SequenceError::BayTooLong {
                    bay: place,
                    length: bay.length(),
                    limit: longest,
                });
            }
            if *ordered > settings.a_days_concrete() {
                return Err(SequenceError::TooMuchConcrete {
                    bay: place,
                    ordered: Yards(ordered.hundredths_of_cubic_yards()),
                    limit: Yards(settings.a_days_concrete().hundredths_of_cubic_yards()),
                });
            }
        }
        let apart = kept_apart(bays, settings);
        let mut lengths: Vec<Length> = bays.iter().map(Bay::length).collect();
        lengths.sort_unstable();
        let fitting = lengths.iter().scan(Length::ZERO, |sum, length| {
            *sum = sum.saturating_add(*length);
            Some(*sum)
        });
        let most_at_once = fitting.take_while(|sum| *sum <= limit).count();
        let mut problem = Self {
            bays,
            settings,
            cliques: cliques(&apart),
            apart,
            ordered,
            limit,
            most_at_once: u32::try_from(most_at_once).unwrap_or(u32::MAX).max(1),
            alone: [(0, 0); 7],
            longest_cure: settings
                .strip_cure
                .max(settings.load_cure)
                .max(settings.neighbor_cure),
        };
        problem.alone = [0, 1, 2, 3, 4, 5, 6].map(|day| {
            let (done, closed) = problem.left_alone(Progress::default(), day);
            (done - day, closed - day)
        });
        Ok(problem)
    }

    fn nothing_done(&self) -> State {
        vec![Progress::default(); self.bays.len()]
    }

    fn is_open(&self, bay: Progress) -> bool {
        !(bay.is_waiting() || bay.is_set() && bay.cure >= self.settings.neighbor_cure)
    }

    /// One bay in the evening of a day on which it was worked on, or not.
    fn next_day(&self, bay: Progress, worked: bool) -> Progress {
        let mut next = bay;
        if worked && let Some(activity) = bay.activity() {
            next.days += 1;
            if next.days >= self.settings.durations.of(activity) {
                next.done += 1;
                next.days = 0;
            }
        }
        if next.is_poured() {
            next.cure = (bay.cure + 1).min(self.longest_cure);
        }
        next
    }

    /// Whether the cure of a bay allows its next activity.
    fn is_cured(&self, bay: Progress) -> bool {
        match bay.activity() {
            Some(Activity::Strip) => bay.cure >= self.settings.strip_cure,
            Some(Activity::SillAndAnchors) => bay.cure >= self.settings.load_cure,
            _ => true,
        }
    }

    /// The first days, at the earliest, on which a bay is done and on which its neighbor may open, if nothing holds it up.
    fn left_alone(&self, mut bay: Progress, mut day: u32) -> (u32, u32) {
        let (mut done, mut closed) = (None, None);
        loop {
            if bay.is_done() {
                done = done.or(Some(day));
            }
            if bay.is_set() && !self.is_open(bay) {
                closed = closed.or(Some(day));
            }
            if let (Some(done), Some(closed)) = (done, closed) {
                return (done, closed);
            }
            let worked = self.settings.is_work_day(day) && (bay.goes_on() || self.is_cured(bay));
            bay = self.next_day(bay, worked);
            day += 1;
        }
    }

    fn weekday(&self, day: u32) -> usize {
        if self.settings.works_weekends {
            return 0;
        }
        (day % 7) as usize
    }

    fn next_work_day(&self, day: u32) -> u32 {
        (day..day + 7)
            .find(|day| self.settings.is_work_day(*day))
            .unwrap_or(day)
    }

    /// The last day of so many bays one after the other, of which the first may open on a day.
    fn one_after_the_other(&self, count: u32, day: u32) -> u32 {
        let mut at = day;
        let alone = |at: u32| self.alone.get(self.weekday(at)).copied().unwrap_or_default();
        for _ in 1..count {
            at = self.next_work_day(at);
            at += alone(at).1;
        }
        at = self.next_work_day(at);
        (at + alone(at).0).saturating_sub(1)
    }

    /// No way on from this state, in the morning of a day, ends before this day.
    fn least_last_day(&self, state: &State, day: u32) -> u32 {
        let mut least = day.saturating_sub(1);
        // A bay that is under way.
        let mut closes = vec![day; state.len()];
        let mut crew_days = 0_u64;
        for (bay, closes) in state.iter().zip(&mut closes) {
            crew_days += self.crew_days_left(*bay);
            if !bay.is_waiting() && !bay.is_done() {
                let (done, may_open) = self.left_alone(*bay, day);
                least = least.max(done - 1);
                *closes = may_open;
            }
        }
        // Bays that have to open one after the other.
        let is_waiting = |bay: usize| state.get(bay).is_some_and(|bay| bay.is_waiting());
        for clique in &self.cliques {
            let waiting = clique.iter().filter(|bay| is_waiting(**bay)).count();
            if waiting > 0 {
                let opens = clique.iter().filter_map(|bay| closes.get(*bay)).max().copied();
                let waiting = u32::try_from(waiting).unwrap_or(u32::MAX);
                least = least.max(self.one_after_the_other(waiting, opens.unwrap_or(day)));
            }
        }
        // Bays of which only so many fit into the limit at once.
        let waiting = state.iter().filter(|bay| bay.is_waiting()).count();
        let waiting = u32::try_from(waiting).unwrap_or(u32::MAX);
        if waiting > 0 {
            least = least.max(self.one_after_the_other(waiting.div_ceil(self.most_at_once), day));
        }
        // Days of crews.
        let days = crew_days.div_ceil(u64::from(self.settings.bays_at_work()));
        let mut at = day;
        for _ in 0..days {
            at = self.next_work_day(at) + 1;
        }
        least.max(at.saturating_sub(1))
    }

    fn crew_days_left(&self, bay: Progress) -> u64 {
        let left = Activity::ALL.iter().skip(usize::from(bay.done));
        let crewed = left.filter(|activity| activity.takes_a_crew());
        let days: u64 = crewed
            .map(|activity| u64::from(self.settings.durations.of(*activity)))
            .sum();
        let begun = bay.activity().is_some_and(Activity::takes_a_crew);
        days.saturating_sub(if begun { bay.days.into() } else { 0 })
    }

    /// The coming work days on which a bay that is worked on today has a crew, with what is poured on them.
    fn promises(&self, place: usize, bay: Progress) -> Vec<(usize, Option<SolidVolume>)> {
        let mut promises = Vec::new();
        let (mut day, mut behind) = (0, bay.days);
        for activity in Activity::ALL.iter().skip(usize::from(bay.done)) {
            if day > 0 && !follows_at_once(*activity) {
                break;
            }
            let days = usize::from(self.settings.durations.of(*activity).saturating_sub(behind));
            if activity.takes_a_crew() {
                let pour = (*activity == Activity::Pour).then(|| self.ordered.get(place).copied());
                promises.extend((day..day + days).map(|day| (day, pour.flatten())));
            }
            day += days;
            behind = 0;
        }
        promises
    }

    /// Everything that is promised in the morning.
    fn promised(&self, state: &State) -> Promised {
        let mut promised = Promised::default();
        for (place, bay) in state.iter().enumerate() {
            if bay.goes_on() {
                promised.add(&self.promises(place, *bay));
            }
        }
        promised
    }

    /// The bays that can begin something today, in an order of bays: closing before opening, covering last.
    fn candidates(&self, state: &State, order: &[usize]) -> Vec<usize> {
        let rank = |bay: Progress| match bay.activity() {
            Some(Activity::SillAndAnchors) => 0,
            Some(Activity::Strip) => 1,
            Some(Activity::Dig) => 2,
            _ => 3,
        };
        let of = |place: usize| state.get(place).copied().unwrap_or_default();
        let can_begin = |place: &usize| {
            let bay = of(*place);
            let apart = self.apart.get(*place).into_iter().flatten();
            !bay.is_done()
                && !bay.goes_on()
                && self.is_cured(bay)
                && (!bay.is_waiting() || apart.into_iter().all(|other| !self.is_open(of(*other))))
        };
        let mut candidates: Vec<usize> = order.iter().copied().filter(can_begin).collect();
        candidates.sort_by_key(|place| rank(of(*place)));
        candidates
    }

    fn open_length(&self, state: &State) -> Length {
        let open = state.iter().zip(self.bays).filter(|(bay, _)| self.is_open(**bay));
        open.fold(Length::ZERO, |sum, (_, bay)| sum.saturating_add(bay.length()))
    }

    /// Whether a bay can begin beside what is already promised and chosen for today.
    fn fits(&self, place: usize, state: &State, so_far: &SoFar) -> bool {
        let (Some(bay), Some(shape)) = (state.get(place), self.bays.get(place)) else {
            return false;
        };
        let apart = self.apart.get(place).into_iter().flatten();
        let digs = |other: &usize| state.get(*other).is_some_and(|bay| bay.is_waiting());
        if bay.is_waiting()
            && (so_far.open.saturating_add(shape.length()) > self.limit
                || apart
                    .into_iter()
                    .any(|other| so_far.chosen.contains(other) && digs(other)))
        {
            return false;
        }
        self.promises(place, *bay).into_iter().all(|(day, concrete)| {
            let crews = so_far.promised.crews.get(day).copied().unwrap_or(0);
            let poured = so_far
                .promised
                .concrete
                .get(day)
                .copied()
                .unwrap_or(SolidVolume::ZERO);
            crews < self.settings.bays_at_work()
                && concrete.is_none_or(|concrete| poured.plus(concrete) <= self.settings.a_days_concrete())
        })
    }

    fn with(&self, place: usize, state: &State, so_far: &SoFar) -> SoFar {
        let mut next = so_far.clone();
        let bay = state.get(place).copied().unwrap_or_default();
        next.promised.add(&self.promises(place, bay));
        if let Some(shape) = self.bays.get(place).filter(|_| bay.is_waiting()) {
            next.open = next.open.saturating_add(shape.length());
        }
        next.chosen.push(place);
        next
    }

    fn morning(&self, state: &State) -> SoFar {
        SoFar {
            chosen: Chosen::new(),
            promised: self.promised(state),
            open: self.open_length(state),
        }
    }

    /// The state on the next morning.
    fn advance(&self, state: &State, day: u32, chosen: &[usize]) -> State {
        let is_work_day = self.settings.is_work_day(day);
        let bays = state.iter().enumerate();
        bays.map(|(place, bay)| {
            let worked = is_work_day && (bay.goes_on() || chosen.contains(&place));
            self.next_day(*bay, worked)
        })
        .collect()
    }

    /// The best of going through the days by rules of thumb: whatever can begin begins, in several orders of the bays.
    fn by_rules(&self) -> Decisions {
        let count = self.bays.len();
        let strides = 1..=(self.settings.least_between as usize + 2).min(count.max(1));
        let mut orders: Vec<Vec<usize>> = strides
            .map(|stride| {
                let mut order: Vec<usize> = (0..count).collect();
                order.sort_by_key(|place| (place % stride, *place));
                order
            })
            .collect();
        let mut dearest: Vec<usize> = (0..count).collect();
        dearest.sort_by_key(|place| std::cmp::Reverse(self.apart.get(*place).map_or(0, Vec::len)));
        orders.push(dearest);
        let ways = orders.iter().map(|order| self.by_rule(order));
        ways.min_by_key(last_day).unwrap_or_default()
    }

    fn by_rule(&self, order: &[usize]) -> Decisions {
        let (mut state, mut decisions) = (self.nothing_done(), Decisions::new());
        // Of bays that wait, one can always open once all others are closed; so this ends.
        while state.iter().any(|bay| !bay.is_done()) {
            let day = u32::try_from(decisions.len()).unwrap_or(u32::MAX);
            let mut so_far = self.morning(&state);
            if self.settings.is_work_day(day) {
                for place in self.candidates(&state, order) {
                    if self.fits(place, &state, &so_far) {
                        so_far = self.with(place, &state, &so_far);
                    }
                }
            }
            state = self.advance(&state, day, &so_far.chosen);
            decisions.push(so_far.chosen);
        }
        decisions
    }

    /// The schedule that decisions make.
    fn put_together(&self, decisions: &[Chosen], lower_bound: u32) -> Schedule {
        let mut state = self.nothing_done();
        let mut tasks: Vec<Task> = Vec::new();
        for (day, chosen) in (0_u32..).zip(decisions) {
            let next = self.advance(&state, day, chosen);
            for (place, (before, after)) in state.iter().zip(&next).enumerate() {
                let Some(activity) = before.activity() else {
                    continue;
                };
                if (before.done, before.days) == (after.done, after.days) {
                    continue;
                }
                if before.days == 0 {
                    tasks.push(Task {
                        bay: place,
                        activity,
                        crew: None,
                        first: day,
                        last: day,
                        work_days: 0,
                    });
                }
                let task = tasks.iter_mut().rev().find(|task| task.bay == place);
                if let Some(task) = task {
                    task.last = day;
                    task.work_days += 1;
                }
            }
            state = next;
        }
        tasks.sort_by_key(|task| (task.first, task.bay, task.activity));
        let crew_days = self.give_to_crews(&mut tasks);
        let mut pours: Vec<PourDay> = Vec::new();
        for task in tasks.iter().filter(|task| task.activity == Activity::Pour) {
            let ordered = self.ordered.get(task.bay).copied().unwrap_or(SolidVolume::ZERO);
            match pours.last_mut().filter(|pour| pour.day == task.first) {
                Some(pour) => {
                    pour.bays.push(task.bay);
                    pour.ordered = pour.ordered.plus(ordered);
                }
                None => pours.push(PourDay {
                    day: task.first,
                    bays: vec![task.bay],
                    ordered,
                    trucks: 0,
                }),
            }
        }
        for pour in &mut pours {
            pour.trucks = pour.ordered.loads_of(self.settings.truck);
        }
        let day = |bay: usize, activity: Activity| {
            tasks
                .iter()
                .find(|task| task.bay == bay && task.activity == activity)
                .copied()
        };
        let open = (0..self.bays.len()).filter_map(|bay| {
            let (dig, pour) = (day(bay, Activity::Dig)?, day(bay, Activity::Pour)?);
            let cured = pour.last + u32::from(self.settings.neighbor_cure);
            Some(OpenInterval {
                bay,
                from: dig.first,
                to: day(bay, Activity::SillAndAnchors)?
                    .last
                    .max(cured.saturating_sub(1)),
            })
        });
        Schedule {
            pours,
            open: open.collect(),
            crew_days,
            tasks,
            lower_bound,
            start: self.settings.start,
        }
    }
}

impl Problem<'_> {
    /// Gives each task to the first crew with a free hand, and counts the days of crews. A crew has as many hands as it
    /// works in bays; so many suffice as are at work on the busiest day.
    fn give_to_crews(&self, tasks: &mut [Task]) -> u64 {
        let mut free_from: Vec<u32> = Vec::new();
        let mut days: HashSet<(u16, u32)> = HashSet::new();
        for task in tasks.iter_mut().filter(|task| task.activity.takes_a_crew()) {
            let hand = free_from.iter().position(|free| *free <= task.first);
            let hand = hand.unwrap_or_else(|| {
                free_from.push(0);
                free_from.len() - 1
            });
            if let Some(free) = free_from.get_mut(hand) {
                *free = task.last + 1;
            }
            let crew =
                u16::try_from(hand / usize::from(self.settings.bays_a_crew.max(1))).unwrap_or(u16::MAX);
            task.crew = Some(crew);
            let at_work = (task.first..=task.last).filter(|day| self.settings.is_work_day(*day));
            days.extend(at_work.map(|day| (crew, day)));
        }
        days.len() as u64
    }
}

/// The last day on which anything is done: decisions end with it.
fn last_day(decisions: &Decisions) -> u32 {
    u32::try_from(decisions.len())
        .unwrap_or(u32::MAX)
        .saturating_sub(1)
}

/// The length that may be open at once, on any count.
fn limit(bays: &[Bay], settings: &Settings) -> Length {
    let lengths = bays.iter().map(Bay::length);
    let longest = lengths.clone().max().unwrap_or(Length::ZERO);
    let work = lengths.fold(Length::ZERO, Length::saturating_add);
    let whole = settings.perimeter.unwrap_or(work);
    let share = i128::from(whole.nanometers()) * i128::from(settings.share_open.hundredths()) / 10_000;
    let share = Length::from_nanometers(i64::try_from(share).unwrap_or(i64::MAX));
    let by_share = if settings.perimeter.is_none() {
        share.max(longest)
    } else {
        share
    };
    settings.most_open.map_or(by_share, |most| most.min(by_share))
}

/// For each bay a set of bays around it of which no two may be open together.
fn cliques(apart: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let is_apart = |a: usize, b: usize| apart.get(a).is_some_and(|others| others.contains(&b));
    let mut cliques: Vec<Vec<usize>> = (0..apart.len())
        .map(|bay| {
            let mut clique = vec![bay];
            // Round the bay, forward first: along a wall line these are the bays that follow it.
            let others = apart.get(bay).into_iter().flatten().copied();
            let (behind, ahead): (Vec<usize>, Vec<usize>) = others.partition(|other| *other < bay);
            for other in ahead.into_iter().chain(behind) {
                if clique.iter().all(|member| is_apart(*member, other)) {
                    clique.push(other);
                }
            }
            clique.sort_unstable();
            clique
        })
        .collect();
    cliques.sort_unstable();
    cliques.dedup();
    cliques
}

/// What is settled of one day while its choices are put together.
#[derive(Clone, Debug)]
struct SoFar {
    chosen: Chosen,
    promised: Promised,
    open: Length,
}

/// What came of looking for a schedule that ends by a day.
enum Searched {
    Found(Decisions),
    Refuted,
    OutOfBudget,
}

struct Search<'p, 'a> {
    problem: &'p Problem<'a>,
    /// States from which so many days do not suffice, by the weekday of their morning.
    failed: HashMap<(State, usize), u32>,
    budget: u32,
}

/// One morning on the way.
struct Morning {
    state: State,
    day: u32,
    choices: Vec<Chosen>,
    next: usize,
}

impl Search<'_, '_> {
    /// Goes through every choice of every day up to a last one.
    fn within(&mut self, last: u32) -> Searched {
        let mut way: Vec<Morning> = Vec::new();
        let mut state = self.problem.nothing_done();
        let mut day = 0;
        loop {
            if state.iter().all(|bay| bay.is_done()) {
                return Searched::Found(decisions(&way));
            }
            if self.is_hopeless(&state, day, last) {
                match self.back(&mut way, last) {
                    Some((next, at)) => (state, day) = (next, at),
                    None => return Searched::Refuted,
                }
                continue;
            }
            let choices = if self.problem.settings.is_work_day(day) {
                match self.choices(&state) {
                    Some(choices) => choices,
                    None => return Searched::OutOfBudget,
                }
            } else {
                vec![Chosen::new()]
            };
            let chosen = choices.first().cloned().unwrap_or_default();
            let next = self.problem.advance(&state, day, &chosen);
            way.push(Morning {
                state,
                day,
                choices,
                next: 1,
            });
            (state, day) = (next, day + 1);
        }
    }

    fn is_hopeless(&self, state: &State, day: u32, last: u32) -> bool {
        let known = self.failed.get(&(state.clone(), self.problem.weekday(day)));
        known.is_some_and(|days| last.saturating_sub(day) <= *days)
            || self.problem.least_last_day(state, day) > last
    }

    /// The next choice that was not tried, from the end of the way; what has none left leads nowhere.
    fn back(&mut self, way: &mut Vec<Morning>, last: u32) -> Option<(State, u32)> {
        loop {
            let morning = way.last_mut()?;
            if let Some(chosen) = morning.choices.get(morning.next) {
                morning.next += 1;
                return Some((
                    self.problem.advance(&morning.state, morning.day, chosen),
                    morning.day + 1,
                ));
            }
            let morning = way.pop()?;
            let key = (morning.state, self.problem.weekday(morning.day));
            self.failed.insert(key, last.saturating_sub(morning.day));
        }
    }

    /// Every set of bays that can begin something today, the fullest first; `None` where the budget is spent.
    fn choices(&mut self, state: &State) -> Option<Vec<Chosen>> {
        let order: Vec<usize> = (0..state.len()).collect();
        let candidates = self.problem.candidates(state, &order);
        let a_state = u32::try_from(state.len()).unwrap_or(u32::MAX);
        let mut choices = Vec::new();
        let mut open = vec![(0, self.problem.morning(state))];
        while let Some((place, so_far)) = open.pop() {
            let Some(candidate) = candidates.get(place).copied() else {
                self.budget = self.budget.checked_sub(a_state)?;
                choices.push(so_far.chosen);
                continue;
            };
            let fits = self.problem.fits(candidate, state, &so_far);
            let with = fits.then(|| self.problem.with(candidate, state, &so_far));
            open.push((place + 1, so_far));
            open.extend(with.map(|with| (place + 1, with)));
        }
        Some(choices)
    }
}

/// What was decided on the way.
fn decisions(way: &[Morning]) -> Decisions {
    let chosen = |morning: &Morning| {
        let tried = morning.next.checked_sub(1);
        tried.and_then(|tried| morning.choices.get(tried)).cloned()
    };
    way.iter()
        .map(|morning| chosen(morning).unwrap_or_default())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::foundation::sequence::bays::tests::{settings, work};
    use crate::foundation::sequence::{ScheduleFault, check_schedule, divide};
    use crate::measure::Percent;
    use proptest::prelude::*;
    use rstest::rstest;

    /// Bays of 4 ft along one wall line with kept foundation round the corners, so that the ends do not meet.
    fn path(count: i64, settings: &Settings) -> Vec<Bay> {
        let mut line = work(0, 480, 480 + 48 * count);
        line.line_length = Some(Length::inches(960 + 48 * count));
        divide(&[line], settings).unwrap()
    }

    /// Bays of 4 ft round a house, each wall line a bay or more.
    fn ring(lines: &[i64], settings: &Settings) -> Vec<Bay> {
        let lines: Vec<_> = lines
            .iter()
            .enumerate()
            .map(|(line, count)| work(line, 0, 48 * count))
            .collect();
        divide(&lines, settings).unwrap()
    }

    /// Short gates and activities of a day, so that everything can be tried.
    fn quick(least_between: u32, crews: u16, trucks: u16) -> Settings {
        let mut settings = settings();
        settings.least_between = least_between;
        (settings.crews, settings.bays_a_crew) = (crews, 1);
        settings.trucks_a_day = trucks;
        settings.share_open = Percent::WHOLE;
        settings.perimeter = Some(Length::feet(400));
        (settings.strip_cure, settings.load_cure, settings.neighbor_cure) = (1, 2, 2);
        settings.durations.dig = 1;
        settings.search_budget = 2_000_000;
        settings
    }

    /// The days that the bays take at the least, by going through every state that every choice of every day leads to. No
    /// bound, no order, no promise: what is chosen wrongly dies where too few crews are left.
    fn by_every_choice(bays: &[Bay], settings: &Settings) -> u32 {
        type Every = Vec<(usize, u16, u16)>;
        let apart = kept_apart(bays, settings);
        let limit = limit(bays, settings);
        let cap = settings
            .load_cure
            .max(settings.neighbor_cure)
            .max(settings.strip_cure);
        let is_open = |bay: &(usize, u16, u16)| {
            (bay.0 > 0 || bay.1 > 0) && !(bay.0 >= 6 && bay.2 >= settings.neighbor_cure)
        };
        let mut states: HashSet<Every> = HashSet::from([vec![(0, 0, 0); bays.len()]]);
        for day in 0..400 {
            if states.iter().any(|state| state.iter().all(|bay| bay.0 == 8)) {
                return day;
            }
            let mut next = HashSet::new();
            for state in &states {
                let must: Vec<bool> = state
                    .iter()
                    .map(|bay| bay.1 > 0 || [1, 2, 3, 6].contains(&bay.0))
                    .collect();
                for set in 0_u32..1 << bays.len() {
                    let is_in = |bay: usize| set >> bay & 1 == 1;
                    let works = settings.is_work_day(day);
                    if set > 0 && !works {
                        break;
                    }
                    let is_allowed = (0..bays.len()).filter(|bay| is_in(*bay)).all(|bay| {
                        let (done, _, cure) = state[bay];
                        !must[bay]
                            && match done {
                                0 => apart[bay]
                                    .iter()
                                    .all(|o| !is_open(&state[*o]) && (!is_in(*o) || state[*o].0 > 0)),
                                4 => cure >= settings.strip_cure,
                                5 => cure >= settings.load_cure,
                                7 => true,
                                _ => false,
                            }
                    });
                    let at_work = |bay: &usize| works && (must[*bay] || is_in(*bay));
                    let crews = (0..bays.len())
                        .filter(at_work)
                        .filter(|bay| ![2, 6].contains(&state[*bay].0))
                        .count();
                    let poured = (0..bays.len()).filter(at_work).filter(|bay| state[*bay].0 == 3);
                    let poured = poured.fold(SolidVolume::ZERO, |sum, bay| {
                        sum.plus(bays[bay].ordered(settings))
                    });
                    let open = (0..bays.len())
                        .filter(|bay| is_open(&state[*bay]) || is_in(*bay) && state[*bay].0 == 0);
                    let open = open.fold(Length::ZERO, |sum, bay| sum.saturating_add(bays[bay].length()));
                    if !is_allowed
                        || crews > usize::from(settings.crews * settings.bays_a_crew)
                        || poured > settings.a_days_concrete()
                        || open > limit
                    {
                        continue;
                    }
                    next.insert(
                        (0..bays.len())
                            .map(|bay| {
                                let (mut done, mut days, mut cure) = state[bay];
                                if at_work(&bay) {
                                    days += 1;
                                    if days == settings.durations.of(Activity::ALL[done]) {
                                        (done, days) = (done + 1, 0);
                                    }
                                }
                                if done > 3 {
                                    cure = (cure + 1).min(cap);
                                }
                                (done, days, cure)
                            })
                            .collect::<Every>(),
                    );
                }
            }
            states = next;
        }
        panic!("no schedule in 400 days");
    }

    #[rstest]
    #[case::one(path(1, &quick(1, 1, 9)), quick(1, 1, 9))]
    #[case::two_neighbors(path(2, &quick(1, 1, 9)), quick(1, 1, 9))]
    #[case::three_one_crew(path(3, &quick(1, 1, 9)), quick(1, 1, 9))]
    #[case::four_two_crews(path(4, &quick(1, 2, 9)), quick(1, 2, 9))]
    #[case::four_between_two(path(4, &quick(2, 2, 9)), quick(2, 2, 9))]
    #[case::ring_of_five(ring(&[1, 1, 2, 1], &quick(1, 2, 9)), quick(1, 2, 9))]
    #[case::ring_of_six(ring(&[2, 1, 2, 1], &quick(2, 2, 9)), quick(2, 2, 9))]
    fn small_jobs_are_as_short_as_trying_everything(#[case] bays: Vec<Bay>, #[case] settings: Settings) {
        let found = schedule(&bays, &settings).unwrap();
        assert!(
            found.is_proven_shortest(),
            "{} of {}",
            found.lower_bound,
            found.days()
        );
        assert_eq!(found.days(), by_every_choice(&bays, &settings));
        assert_eq!(check_schedule(&bays, &found, &settings), []);
    }

    #[test]
    fn a_lone_bay_takes_its_activities_and_its_gate() {
        let settings = settings();
        let bays = path(1, &settings);
        let found = schedule(&bays, &settings).unwrap();
        // Counted by hand from a Monday: dug Monday and Tuesday, bars Wednesday, inspected Thursday, poured Friday (day 4),
        // forms off on Monday (7), loaded a week after the pour on the next Friday (11), inspected on Monday (14), covered
        // on Tuesday (15).
        let days: Vec<(Activity, u32, u32)> = found
            .tasks
            .iter()
            .map(|task| (task.activity, task.first, task.last))
            .collect();
        let expected = [
            (Activity::Dig, 0, 1),
            (Activity::BarsAndForms, 2, 2),
            (Activity::FoundationInspection, 3, 3),
            (Activity::Pour, 4, 4),
            (Activity::Strip, 7, 7),
            (Activity::SillAndAnchors, 11, 11),
            (Activity::CoverInspection, 14, 14),
            (Activity::Cover, 15, 15),
        ];
        assert_eq!(days, expected);
        assert_eq!((found.days(), found.lower_bound, found.crew_days), (16, 16, 7));
        assert_eq!(
            found.open,
            [OpenInterval {
                bay: 0,
                from: 0,
                to: 11
            }]
        );
        assert_eq!(found.pours[0].trucks, 1);
        assert!(check_schedule(&bays, &found, &settings).is_empty());
    }

    #[test]
    fn days_stand_in_the_calendar() {
        let mut settings = settings();
        // A Thursday: dug on Thursday and Friday, bars on Monday.
        settings.start = Some("2026-11-26".parse().unwrap());
        let bays = path(1, &settings);
        let found = schedule(&bays, &settings).unwrap();
        assert_eq!(found.tasks[1].first, 4);
        assert_eq!(found.date(4).unwrap().to_string(), "2026-11-30");
        assert!(check_schedule(&bays, &found, &settings).is_empty());
        settings.start = Some("2026-11-28".parse().unwrap());
        let found = schedule(&bays, &settings).unwrap();
        assert_eq!(found.tasks[0].first, 2, "nobody digs on a Saturday");
    }

    #[test]
    fn a_house_of_many_bays_is_scheduled_and_says_what_is_proven() {
        let mut settings = settings();
        settings.perimeter = Some(Length::feet(120));
        settings.crews = 2;
        let bays = ring(&[9, 6, 9, 6], &settings);
        let found = schedule(&bays, &settings).unwrap();
        assert_eq!(check_schedule(&bays, &found, &settings), []);
        assert!(found.lower_bound <= found.days());
        assert_eq!(found.tasks.len(), 8 * bays.len());
        // Of 30 ft that may be open seven bays are at most: in steps, and so in months.
        assert!(found.days() > 40, "{}", found.days());
    }

    #[test]
    fn what_has_no_schedule_is_refused_by_bay() {
        let mut settings = settings();
        settings.perimeter = Some(Length::feet(12));
        let told = schedule(&path(2, &settings), &settings).unwrap_err().to_string();
        assert!(told.contains("no more than 3'-0\" may be open"), "{told}");
        settings.perimeter = None;
        settings.truck = SolidVolume::from_cubic_yards(0.2);
        let told = schedule(&path(2, &settings), &settings).unwrap_err().to_string();
        assert!(
            told.contains("0.33 cubic yards") && told.contains("bring 0.20"),
            "{told}"
        );
        let bays: Vec<Bay> = path(1, &settings)
            .into_iter()
            .cycle()
            .take(MOST_BAYS + 1)
            .collect();
        assert!(matches!(
            schedule(&bays, &settings),
            Err(SequenceError::TooMany { .. })
        ));
        assert_eq!(schedule(&[], &settings).unwrap().days(), 0);
    }

    /// Bays round a house or along a wall line, and settings of a job.
    fn job() -> impl Strategy<Value = (Vec<Bay>, Settings)> {
        let counts = prop_oneof![
            prop::collection::vec(1_i64..4, 1..5).prop_map(|lines| (true, lines)),
            (1_i64..9).prop_map(|count| (false, vec![count])),
        ];
        let waits = (1_u16..3, 1_u16..4, 1_u16..8, 0_u16..8);
        let limits = (1_u32..4, (1_u16..4, 1_u16..3), 1_u16..3, 10_u32..60);
        (counts, waits, limits, any::<bool>(), 0_i32..7).prop_map(
            |(
                (is_ring, counts),
                (dig, strip, load, neighbor),
                (between, (crews, hands), trucks, open),
                weekends,
                start,
            )| {
                let mut settings = quick(between, crews, trucks);
                settings.bays_a_crew = hands;
                settings.durations.dig = dig;
                (settings.strip_cure, settings.load_cure, settings.neighbor_cure) = (strip, load, neighbor);
                settings.perimeter = Some(Length::feet(100));
                settings.share_open = Percent::from_hundredths(open * 100).unwrap();
                settings.truck = SolidVolume::from_cubic_yards(0.7);
                settings.works_weekends = weekends;
                let monday: CheckedOn = "2026-11-23".parse().unwrap();
                settings.start = monday.plus_days(start);
                settings.search_budget = 20_000;
                let bays = if is_ring {
                    ring(&counts, &settings)
                } else {
                    path(counts[0], &settings)
                };
                (bays, settings)
            },
        )
    }

    /// The one task of an activity.
    fn at(schedule: &mut Schedule, bay: usize, activity: Activity) -> &mut Task {
        let mut tasks = schedule.tasks.iter_mut();
        tasks
            .find(|task| task.bay == bay && task.activity == activity)
            .unwrap()
    }

    macro_rules! finds {
        ($faults:expr, $fault:pat) => {{
            let faults = $faults;
            prop_assert!(
                faults.iter().any(|fault| matches!(fault, $fault)),
                "found {:?}",
                faults
            );
        }};
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]

        #[test]
        fn the_checker_finds_nothing_in_what_the_search_found((bays, settings) in job()) {
            let found = schedule(&bays, &settings).unwrap();
            prop_assert_eq!(check_schedule(&bays, &found, &settings), vec![]);
            prop_assert!(found.lower_bound <= found.days());
            prop_assert_eq!(&found, &schedule(&bays, &settings).unwrap());
        }

        #[test]
        fn every_harm_done_to_a_schedule_is_found((bays, settings) in job(), which in any::<prop::sample::Index>(), by in 1_u32..5) {
            let whole = schedule(&bays, &settings).unwrap();
            let faults = |harmed: &Schedule| check_schedule(&bays, harmed, &settings);
            let bay = which.index(bays.len());

            let mut harmed = whole.clone();
            harmed.tasks.remove(which.index(whole.tasks.len()));
            finds!(faults(&harmed), ScheduleFault::NotOnce { found: 0, .. });

            let mut harmed = whole.clone();
            let inspected = at(&mut harmed, bay, Activity::FoundationInspection).first;
            let pour = at(&mut harmed, bay, Activity::Pour);
            (pour.first, pour.last) = (inspected, inspected);
            finds!(faults(&harmed), ScheduleFault::HoldPoint { work: Activity::Pour, .. });

            let mut harmed = whole.clone();
            let inspected = at(&mut harmed, bay, Activity::CoverInspection).first;
            let cover = at(&mut harmed, bay, Activity::Cover);
            (cover.first, cover.last) = (inspected, inspected);
            finds!(faults(&harmed), ScheduleFault::HoldPoint { work: Activity::Cover, .. });

            // The sill a day before its gate.
            let mut harmed = whole.clone();
            let poured = at(&mut harmed, bay, Activity::Pour).last;
            let sill = at(&mut harmed, bay, Activity::SillAndAnchors);
            let early = (poured + u32::from(settings.load_cure)).saturating_sub(by.min(settings.load_cure.into()));
            (sill.first, sill.last) = (early, early);
            finds!(faults(&harmed), ScheduleFault::TooYoung { activity: Activity::SillAndAnchors, .. });

            // A shorter dig, a longer one.
            let mut harmed = whole.clone();
            at(&mut harmed, bay, Activity::Dig).last += 7;
            finds!(faults(&harmed), ScheduleFault::WorkDays { activity: Activity::Dig, .. });

            // All of a bay on the days of one that may not be open with it.
            let apart = kept_apart(&bays, &settings);
            if let Some(other) = apart[bay].first().copied() {
                let mut harmed = whole.clone();
                for activity in Activity::ALL {
                    let days = *at(&mut harmed, other, *activity);
                    let task = at(&mut harmed, bay, *activity);
                    (task.first, task.last) = (days.first, days.last);
                }
                finds!(faults(&harmed), ScheduleFault::OpenTogether { .. });
            }

            // Two bays that change their days, of which one then is open with a neighbor of the other.
            let days = |bay: usize| (whole.open[bay].from, whole.open[bay].to);
            let meet = |a: (u32, u32), b: (u32, u32)| a.0 <= b.1 && b.0 <= a.1;
            for other in 0..bays.len() {
                let clash = apart[bay].iter().any(|third| *third != other && meet(days(other), days(*third)));
                if clash {
                    let mut harmed = whole.clone();
                    for task in &mut harmed.tasks {
                        task.bay = if task.bay == bay { other } else if task.bay == other { bay } else { task.bay };
                    }
                    finds!(faults(&harmed), ScheduleFault::OpenTogether { .. });
                }
            }

            // A crew in two places, and one that there is not.
            let mut harmed = whole.clone();
            at(&mut harmed, bay, Activity::Pour).crew = Some(settings.crews);
            finds!(faults(&harmed), ScheduleFault::WrongCrew { .. });
            let mut harmed = whole.clone();
            harmed.tasks.iter_mut().for_each(|task| task.crew = task.crew.map(|_| 0));
            let busiest = (0..whole.days())
                .map(|day| whole.tasks.iter().filter(|task| task.crew.is_some() && task.first <= day && day <= task.last).count())
                .max();
            let doubled = faults(&harmed).iter().any(|fault| matches!(fault, ScheduleFault::CrewTorn { .. }));
            prop_assert_eq!(doubled, busiest > Some(settings.bays_a_crew.into()));

            // What is said of pours and open days.
            let mut harmed = whole.clone();
            harmed.pours[0].trucks += 1;
            prop_assert!(!faults(&harmed).is_empty());
            let mut harmed = whole.clone();
            harmed.crew_days -= 1;
            prop_assert!(!faults(&harmed).is_empty());
            let mut harmed = whole.clone();
            harmed.open[bay].to += 1;
            prop_assert!(!faults(&harmed).is_empty());
        }

        #[test]
        fn a_limit_below_what_was_used_is_found((bays, settings) in job()) {
            let whole = schedule(&bays, &settings).unwrap();
            let most = (0..whole.days())
                .map(|day| whole.open.iter().filter(|open| open.from <= day && day <= open.to).count())
                .max()
                .unwrap();
            let mut tighter = settings.clone();
            tighter.most_open = Length::inches(48).times(i64::try_from(most).unwrap() - 1);
            let faults = check_schedule(&bays, &whole, &tighter);
            finds!(faults, ScheduleFault::TooMuchOpen { .. });
            let mut tighter = settings.clone();
            tighter.truck = SolidVolume::from_cubic_yards(0.1);
            let faults = check_schedule(&bays, &whole, &tighter);
            finds!(faults, ScheduleFault::TooMuchConcrete { .. });
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        /// Where both are proven shortest: more crews, more concrete, more that may be open and fewer bays between never
        /// make a job longer.
        #[test]
        fn what_is_allowed_more_is_never_longer(
            count in 1_i64..6, between in 1_u32..3, crews in 1_u16..3, open in 1_u32..4, trucks in 1_u16..3,
        ) {
            let mut settings = quick(between, crews, trucks);
            settings.truck = SolidVolume::from_cubic_yards(0.4);
            settings.most_open = Length::inches(48).times(open.into());
            let bays = path(count, &settings);
            let whole = schedule(&bays, &settings).unwrap();
            let mut freer = vec![settings.clone(); 5];
            freer[0].crews += 1;
            freer[1].trucks_a_day += 1;
            freer[2].most_open = None;
            freer[3].least_between = 1;
            freer[4].bays_a_crew += 1;
            for freer in freer {
                let other = schedule(&bays, &freer).unwrap();
                if other.is_proven_shortest() && whole.is_proven_shortest() {
                    prop_assert!(other.days() <= whole.days());
                }
                prop_assert!(other.lower_bound <= whole.days());
            }
        }

        #[test]
        fn small_jobs_of_any_kind_are_as_short_as_trying_everything(
            count in 1_i64..5, is_ring in any::<bool>(), between in 1_u32..3, crews in 1_u16..3, load in 1_u16..4,
            weekends in any::<bool>(), dig in 1_u16..3, start in 0_i32..7,
        ) {
            let mut settings = quick(between, crews, 1);
            settings.truck = SolidVolume::from_cubic_yards(0.4);
            settings.load_cure = load;
            settings.durations.dig = dig;
            settings.works_weekends = weekends;
            settings.start = "2026-11-23".parse::<CheckedOn>().unwrap().plus_days(start);
            let lines: Vec<i64> = (0..count).map(|_| 1).collect();
            let bays = if is_ring { ring(&lines, &settings) } else { path(count, &settings) };
            let found = schedule(&bays, &settings).unwrap();
            let shortest = by_every_choice(&bays, &settings);
            prop_assert!(found.lower_bound <= shortest && shortest <= found.days());
            prop_assert!(found.is_proven_shortest(), "{} to {}", found.lower_bound, found.days());
        }
    }
}
