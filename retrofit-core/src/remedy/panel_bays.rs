//! The cheapest stud bays to brace along one wall line, found by an exact dynamic program.
//!
//! A new panel begins and ends on a stud. So the wall is a row of stud bays, each of which is braced or left open,
//! and the program decides them from left to right. What matters of the bays behind is only whether a panel is
//! under way and where it began, where the last gap began, the length braced so far and what that cost; of two
//! states alike in the rest, one that is shorter and dearer is dropped.

use std::collections::BTreeMap;

use crate::measure::Length;

/// The bays of a wall line and what is asked of its bracing.
#[derive(Clone, Debug, Default)]
pub(super) struct Problem {
    /// The bays in order; those of a stretch cover it without a break.
    pub(super) bays: Vec<Bay>,
    /// What a panel would have to have moved or taken off, in order.
    pub(super) obstacles: Vec<Obstacle>,
    /// The stretches of cripple wall.
    pub(super) stretches: Vec<Stretch>,
    /// The least length of new panels together.
    pub(super) needed: Length,
    /// Where a panel is asked for at each end: the station by which one has to begin, and the one it has to reach.
    pub(super) ends: Option<(Length, Length)>,
    /// The largest gap without a panel, in any stretch.
    pub(super) largest_gap: Option<Length>,
    /// What one more panel costs whatever its length, in cents.
    pub(super) panel_cost: i64,
}

/// A stretch of cripple wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stretch {
    pub(super) from: Length,
    pub(super) to: Length,
    /// The least length of a panel on it.
    pub(super) shortest_panel: Length,
}

/// The room between two neighboring studs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Bay {
    pub(super) from: Length,
    pub(super) to: Length,
    pub(super) stretch: usize,
    pub(super) state: BayState,
}

/// What may be done with a bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum BayState {
    /// It can be braced, at a cost in cents.
    Free(i64),
    /// A panel that counts is there.
    Braced,
    /// Something is in the way.
    Blocked,
}

/// Something over some bays, such as a vent, and what moving it costs once any of them is braced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Obstacle {
    pub(super) first: usize,
    pub(super) last: usize,
    pub(super) cost: i64,
}

/// Why no layout satisfies the demands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unmet {
    /// New panels can be no longer together than this.
    Length { possible: Length },
    /// No panel can stand at one of the ends: the room there, and the shortest that a panel may be.
    Ends {
        end: Length,
        room: Length,
        shortest: Length,
    },
    /// Some gap stays larger than allowed: the longest stretch on which no panel can stand.
    Gap { from: Length, to: Length },
}

/// What a layout costs: money first, then how uneven the panels are: a foot of a panel weighs more the farther it
/// is from where the panel began.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    pub(super) cents: i64,
    pub(super) unevenness: i64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Last {
    /// Nothing; the gap began here.
    Gap(Length),
    /// A new panel that began with this bay.
    New(usize),
    /// A new panel that is long enough, wherever it began.
    Long,
    /// A panel that was there.
    Old,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    last: Last,
    has_panel: bool,
    reaches_end: bool,
    /// Which obstacles over the bay behind have been paid for, by a bit each.
    paid: u64,
}

#[derive(Clone, Copy, Debug)]
struct Label {
    length: Length,
    cost: Cost,
    is_new: bool,
    from: Option<usize>,
}

/// A panel of as many bays is long, however many more it has.
const LONG: usize = 12;

/// What a bay adds to the unevenness: the more, the farther it is from where its panel began.
fn unevenness(run: Last, index: usize, bay: &Bay) -> i64 {
    let position = match run {
        Last::New(first) => (index - first + 1).min(LONG),
        _ => LONG,
    };
    let inches = bay.length().nanometers() / Length::inches(1).nanometers();
    inches.saturating_mul(i64::try_from(position).unwrap_or(i64::MAX))
}

/// Labels of one bay, by state.
type Front = BTreeMap<Key, Vec<usize>>;

/// The cheapest bays to brace, as runs of bays from the first to the last included.
pub(super) fn solve(problem: &Problem) -> Result<(Cost, Vec<(usize, usize)>), Unmet> {
    let (search, ends) = Search::of(problem);
    let labels = || ends.iter().filter_map(|end| Some((*end, search.label(*end)?)));
    let long_enough = labels().filter(|(_, label)| label.length >= problem.needed);
    if let Some((end, label)) = long_enough.min_by_key(|(_, label)| label.cost) {
        return Ok((label.cost, search.runs(end)));
    }
    // Dearer layouts are kept as long as they are longer, so that the longest of all is among them.
    if let Some(possible) = labels().map(|(_, label)| label.length).max() {
        return Err(Unmet::Length { possible });
    }
    let without_gaps = Problem {
        largest_gap: None,
        ..problem.clone()
    };
    let (_, ends) = Search::of(&without_gaps);
    Err(if ends.is_empty() {
        problem.without_an_end()
    } else {
        let (from, to) = problem.longest_bare();
        Unmet::Gap { from, to }
    })
}

impl Bay {
    fn length(&self) -> Length {
        self.to.saturating_sub(self.from)
    }
}

#[derive(Default)]
struct Search {
    labels: Vec<Label>,
}

impl Search {
    /// Decides every bay; the labels that are left stand for layouts that meet every demand but the length.
    fn of(problem: &Problem) -> (Self, Vec<usize>) {
        let mut search = Self::default();
        let ends = search.decide(problem).unwrap_or_default();
        (search, ends)
    }

    fn decide(&mut self, problem: &Problem) -> Option<Vec<usize>> {
        let start = problem.bays.first()?;
        let key = Key {
            last: Last::Gap(problem.gap_start(start.stretch, Length::ZERO)),
            has_panel: false,
            reaches_end: false,
            paid: 0,
        };
        let mut front = Front::new();
        self.add(
            &mut front,
            key,
            Label {
                length: Length::ZERO,
                cost: Cost::default(),
                is_new: false,
                from: None,
            },
        );
        let mut stretch = start.stretch;
        for (index, bay) in problem.bays.iter().enumerate() {
            if bay.stretch != stretch {
                front = self.close_stretch(problem, &front, stretch, index, Some(bay.stretch));
                stretch = bay.stretch;
            }
            let mut next = Front::new();
            for (key, labels) in &front {
                for label in labels {
                    self.step(problem, index, bay, *key, *label, &mut next);
                }
            }
            front = next;
        }
        let front = self.close_stretch(problem, &front, stretch, problem.bays.len(), None);
        let has_ends = |key: &Key| problem.ends.is_none() || (key.has_panel && key.reaches_end);
        let done = front.into_iter().filter(|(key, _)| has_ends(key));
        Some(done.flat_map(|(_, labels)| labels).collect())
    }

    fn label(&self, index: usize) -> Option<Label> {
        self.labels.get(index).copied()
    }

    /// Braces a bay, or leaves it open.
    fn step(&mut self, problem: &Problem, index: usize, bay: &Bay, key: Key, label: usize, next: &mut Front) {
        let Some(held) = self.label(label) else { return };
        let key = Key {
            paid: key.paid & problem.obstacles_over(index),
            ..key
        };
        let from = Some(label);
        let covers = |key: Key| Key {
            has_panel: true,
            reaches_end: key.reaches_end || problem.ends.is_some_and(|(_, by)| bay.to >= by),
            ..key
        };
        // The first panel of the wall line settles whether one begins early enough.
        let may_begin = key.has_panel || problem.ends.is_none_or(|(by, _)| bay.from <= by);
        let gap_will_do = |last: Last| match (last, problem.largest_gap) {
            (Last::Gap(began), Some(most)) => bay.from.saturating_sub(began) <= most,
            _ => true,
        };
        if bay.state == BayState::Braced {
            if problem.may_end(key.last, index) && may_begin && gap_will_do(key.last) {
                let key = covers(Key {
                    last: Last::Old,
                    ..key
                });
                self.add(
                    next,
                    key,
                    Label {
                        is_new: false,
                        from,
                        ..held
                    },
                );
            }
            return;
        }
        // Left open.
        let is_too_large = |last: Last| match (last, problem.largest_gap) {
            (Last::Gap(began), Some(most)) => bay.to.saturating_sub(began) > most,
            _ => false,
        };
        if problem.may_end(key.last, index) && !is_too_large(key.last) {
            let last = match key.last {
                Last::Gap(began) => Last::Gap(began),
                Last::New(_) | Last::Long | Last::Old => Last::Gap(problem.gap_start(bay.stretch, bay.from)),
            };
            let unevenness = problem.bare_end(bay);
            self.add(
                next,
                Key { last, ..key },
                Label {
                    is_new: false,
                    from,
                    ..held.with(0, unevenness, Length::ZERO)
                },
            );
        }
        // Braced anew.
        let BayState::Free(cost) = bay.state else { return };
        let (run, start_cost) = match key.last {
            Last::New(_) | Last::Long => (key.last, 0),
            _ if may_begin && gap_will_do(key.last) => (Last::New(index), problem.panel_cost),
            _ => return,
        };
        let (obstacles, paid) = problem.pay(index, key.paid);
        let key = covers(Key {
            last: problem.settled(run, index),
            paid,
            ..key
        });
        let cents = cost.saturating_add(start_cost).saturating_add(obstacles);
        self.add(
            next,
            key,
            Label {
                is_new: true,
                from,
                ..held.with(cents, unevenness(run, index, bay), bay.length())
            },
        );
    }

    /// Ends whatever is under way at the end of a stretch.
    fn close_stretch(
        &mut self,
        problem: &Problem,
        front: &Front,
        stretch: usize,
        index: usize,
        next_stretch: Option<usize>,
    ) -> Front {
        let end = problem
            .stretches
            .get(stretch)
            .map_or(Length::ZERO, |stretch| stretch.to);
        let mut closed = Front::new();
        for (key, labels) in front {
            if let (Last::Gap(began), Some(most)) = (key.last, problem.largest_gap)
                && end.saturating_sub(began) > most
            {
                continue;
            }
            if !problem.may_end(key.last, index) {
                continue;
            }
            let begins = next_stretch.map_or(Length::ZERO, |next| problem.gap_start(next, Length::ZERO));
            for label in labels {
                let Some(held) = self.label(*label) else { continue };
                let key = Key {
                    last: Last::Gap(begins),
                    ..*key
                };
                self.add(&mut closed, key, held);
            }
        }
        closed
    }

    /// Keeps a label among those of its state, in order of length; of two, one that is no longer and no cheaper is
    /// dropped.
    fn add(&mut self, front: &mut Front, key: Key, label: Label) {
        let held = front.entry(key).or_default();
        let of = |index: &usize| self.labels.get(*index).map(|label| (label.length, label.cost));
        let place = held.partition_point(|other| of(other).is_some_and(|(length, _)| length < label.length));
        // The longer the dearer, so that the first that is as long is the cheapest of them.
        let next = held.get(place).and_then(of);
        if next.is_some_and(|(_, cost)| cost <= label.cost) {
            return;
        }
        let is_as_long = next.is_some_and(|(length, _)| length == label.length);
        let behind = held.get(..place).unwrap_or_default();
        let first = behind.partition_point(|other| of(other).is_some_and(|(_, cost)| cost < label.cost));
        held.splice(first..place + usize::from(is_as_long), [self.labels.len()]);
        self.labels.push(label);
    }

    /// The runs of new bays that lead to a label.
    fn runs(&self, best: usize) -> Vec<(usize, usize)> {
        let mut marks = Vec::new();
        let mut at = self.label(best);
        while let Some(label) = at {
            let Some(from) = label.from else { break };
            marks.push(label.is_new);
            at = self.label(from);
        }
        marks.reverse();
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for (bay, _) in marks.iter().enumerate().filter(|(_, is_new)| **is_new) {
            match runs.last_mut() {
                Some((_, last)) if *last + 1 == bay => *last = bay,
                _ => runs.push((bay, bay)),
            }
        }
        runs
    }
}

impl Label {
    fn with(self, cents: i64, unevenness: i64, length: Length) -> Self {
        Self {
            length: self.length.saturating_add(length),
            cost: Cost {
                cents: self.cost.cents.saturating_add(cents),
                unevenness: self.cost.unevenness.saturating_add(unevenness),
            },
            ..self
        }
    }
}

impl Problem {
    /// Of layouts that cost the same, one that leaves a bay open at an end is the poorer, however even it is.
    fn bare_end(&self, bay: &Bay) -> i64 {
        const POORER: i64 = 1_000_000;
        let is_at_end = self
            .ends
            .is_some_and(|(begin, reach)| bay.from < begin || bay.to > reach);
        if is_at_end { POORER } else { 0 }
    }

    /// Where a gap begins, as far as it matters.
    fn gap_start(&self, stretch: usize, station: Length) -> Length {
        if self.largest_gap.is_none() {
            return Length::ZERO;
        }
        let from = self
            .stretches
            .get(stretch)
            .map_or(Length::ZERO, |stretch| stretch.from);
        station.max(from)
    }

    /// Runs of bays of one stretch that can be braced or are, and whether a panel on each is long enough.
    fn open_runs(&self) -> Vec<(Length, Length, bool)> {
        let mut runs: Vec<(Length, Length, usize, bool)> = Vec::new();
        for bay in self.bays.iter().filter(|bay| bay.state != BayState::Blocked) {
            let is_old = bay.state == BayState::Braced;
            match runs.last_mut() {
                Some((_, to, stretch, held)) if *to == bay.from && *stretch == bay.stretch => {
                    *to = bay.to;
                    *held |= is_old;
                }
                _ => runs.push((bay.from, bay.to, bay.stretch, is_old)),
            }
        }
        let will_do = |(from, to, stretch, has_old): (Length, Length, usize, bool)| {
            let shortest = self.stretches.get(stretch).map(|stretch| stretch.shortest_panel);
            (
                from,
                to,
                has_old || shortest.is_some_and(|shortest| to.saturating_sub(from) >= shortest),
            )
        };
        runs.into_iter().map(will_do).collect()
    }

    /// The longest stretch on which no panel can stand.
    fn longest_bare(&self) -> (Length, Length) {
        let mut longest = (Length::ZERO, Length::ZERO);
        let mut reached = self.stretches.iter().map(|stretch| stretch.from).min();
        let end = self.stretches.iter().map(|stretch| stretch.to).max();
        let usable = self.open_runs().into_iter().filter(|(.., will_do)| *will_do);
        let ahead = usable.map(|(from, to, _)| (from, to));
        for (from, to) in ahead.chain(end.map(|end| (end, end))) {
            if let Some(reached) = reached
                && from.saturating_sub(reached) > longest.1.saturating_sub(longest.0)
            {
                longest = (reached, from);
            }
            reached = Some(to);
        }
        longest
    }

    /// The end at which no panel can stand, and by how much it would be too short.
    fn without_an_end(&self) -> Unmet {
        let (begin, reach) = self.ends.unwrap_or_default();
        let first = self.stretches.iter().min_by_key(|stretch| stretch.from);
        let last = self.stretches.iter().max_by_key(|stretch| stretch.to);
        let runs = self.open_runs();
        let unmet = |end: Option<Length>, room: Option<Length>, stretch: Option<&Stretch>| Unmet::Ends {
            end: end.unwrap_or_default(),
            room: room.unwrap_or_default(),
            shortest: stretch.map_or(Length::ZERO, |stretch| stretch.shortest_panel),
        };
        let at_first = || {
            let near = runs.iter().filter(|(from, ..)| *from <= begin);
            near.clone().all(|(.., will_do)| !will_do).then(|| {
                let room = near.map(|(from, to, _)| to.saturating_sub(*from)).max();
                unmet(first.map(|stretch| stretch.from), room, first)
            })
        };
        let at_last = || {
            let near = runs.iter().filter(|(_, to, _)| *to >= reach);
            let room = near.map(|(from, to, _)| to.saturating_sub(*from)).max();
            unmet(last.map(|stretch| stretch.to), room, last)
        };
        at_first().unwrap_or_else(at_last)
    }

    /// Whether what is under way may end before a bay: a new panel must not be too short.
    fn may_end(&self, last: Last, index: usize) -> bool {
        match last {
            Last::New(first) => self.is_long_enough(first, index),
            Last::Gap(_) | Last::Long | Last::Old => true,
        }
    }

    /// Whether the bays from the first up to an index make a panel that is long enough.
    fn is_long_enough(&self, first: usize, index: usize) -> bool {
        let last = index.checked_sub(1).and_then(|last| self.bays.get(last));
        let Some((first, last)) = self.bays.get(first).zip(last) else {
            return false;
        };
        let shortest = self
            .stretches
            .get(first.stretch)
            .map(|stretch| stretch.shortest_panel);
        shortest.is_some_and(|shortest| last.to.saturating_sub(first.from) >= shortest)
    }

    /// Forgets where a panel began once that is of no account.
    fn settled(&self, run: Last, index: usize) -> Last {
        match run {
            Last::New(first) if index - first + 1 >= LONG && self.is_long_enough(first, index + 1) => {
                Last::Long
            }
            run => run,
        }
    }

    /// The obstacles over a bay, by a bit each. They are in order, so that only a bay under more than 64 of them
    /// would take two for one.
    fn obstacles_over(&self, bay: usize) -> u64 {
        self.over(bay).fold(0, |bits, (bit, _)| bits | bit)
    }

    /// What bracing a bay costs for the obstacles over it that are not paid for, and those that are then.
    fn pay(&self, bay: usize, paid: u64) -> (i64, u64) {
        self.over(bay).fold((0, paid), |(cost, paid), (bit, obstacle)| {
            let is_new = paid & bit == 0;
            (cost + if is_new { obstacle.cost } else { 0 }, paid | bit)
        })
    }

    fn over(&self, bay: usize) -> impl Iterator<Item = (u64, &Obstacle)> {
        let list = self.obstacles.iter().enumerate();
        list.filter(move |(_, obstacle)| obstacle.first <= bay && bay <= obstacle.last)
            .map(|(place, obstacle)| (1 << (place % 64), obstacle))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const fn inches(inches: i64) -> Length {
        Length::inches(inches)
    }

    /// Runs of chosen bays; a panel never goes on from one stretch to the next.
    fn runs_of(problem: &Problem, chosen: &[bool]) -> Vec<(usize, usize)> {
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for bay in (0..chosen.len()).filter(|bay| chosen[*bay]) {
            match runs.last_mut() {
                Some((_, last))
                    if *last + 1 == bay && problem.bays[*last].stretch == problem.bays[bay].stretch =>
                {
                    *last = bay;
                }
                _ => runs.push((bay, bay)),
            }
        }
        runs
    }

    /// What a choice costs, when it satisfies every demand; told from the demands alone.
    fn cost(problem: &Problem, chosen: &[bool]) -> Option<i64> {
        let runs = runs_of(problem, chosen);
        let free = |bay: usize| matches!(problem.bays[bay].state, BayState::Free(_));
        if (0..chosen.len()).any(|bay| chosen[bay] && !free(bay)) {
            return None;
        }
        let panels: Vec<(Length, Length)> = runs
            .iter()
            .map(|(first, last)| (problem.bays[*first].from, problem.bays[*last].to))
            .collect();
        let long_enough = runs.iter().zip(&panels).all(|((first, _), (from, to))| {
            to.saturating_sub(*from) >= problem.stretches[problem.bays[*first].stretch].shortest_panel
        });
        let total = panels.iter().fold(Length::ZERO, |sum, (from, to)| {
            sum.saturating_add(to.saturating_sub(*from))
        });
        let mut all = panels.clone();
        all.extend(
            problem
                .bays
                .iter()
                .filter(|bay| bay.state == BayState::Braced)
                .map(|bay| (bay.from, bay.to)),
        );
        let ends = problem.ends.is_none_or(|(begin, reach)| {
            all.iter().any(|(from, _)| *from <= begin) && all.iter().any(|(_, to)| *to >= reach)
        });
        let gaps = problem.largest_gap.is_none_or(|most| {
            problem.stretches.iter().all(|stretch| {
                let mut reached = stretch.from;
                let mut inside: Vec<_> = all
                    .iter()
                    .filter(|(from, to)| *from < stretch.to && *to > stretch.from)
                    .copied()
                    .collect();
                inside.push((stretch.to, stretch.to));
                inside.sort_unstable();
                inside.iter().all(|(from, to)| {
                    let fits = from.saturating_sub(reached) <= most;
                    reached = *to;
                    fits
                })
            })
        });
        let bays: i64 = (0..chosen.len())
            .filter(|bay| chosen[*bay])
            .map(|bay| match problem.bays[bay].state {
                BayState::Free(cost) => cost,
                _ => 0,
            })
            .sum();
        let is_met = |obstacle: &&Obstacle| chosen[obstacle.first..=obstacle.last].contains(&true);
        let obstacles: i64 = problem
            .obstacles
            .iter()
            .filter(is_met)
            .map(|obstacle| obstacle.cost)
            .sum();
        (long_enough && total >= problem.needed && ends && gaps)
            .then(|| bays + obstacles + problem.panel_cost * i64::try_from(runs.len()).unwrap())
    }

    fn every_choice(problem: &Problem) -> Option<i64> {
        let count = problem.bays.len();
        (0..1u32 << count)
            .filter_map(|bits| {
                let chosen: Vec<bool> = (0..count).map(|bay| bits & (1 << bay) != 0).collect();
                cost(problem, &chosen)
            })
            .min()
    }

    fn problems() -> impl Strategy<Value = Problem> {
        let bays = proptest::collection::vec((8i64..25, 0u8..8, 1i64..9), 2..12);
        (
            bays,
            0usize..12,
            0i64..160,
            any::<bool>(),
            proptest::option::of(10i64..90),
            0i64..70,
            0i64..12,
            0usize..12,
        )
            .prop_map(|(widths, step, needed, ends, gap, shortest, panel_cost, vent)| {
                let step = step.min(widths.len());
                let mut at = 0;
                let mut bays = Vec::new();
                for (index, (width, state, cost)) in widths.iter().enumerate() {
                    bays.push(Bay {
                        from: inches(at),
                        to: inches(at + width),
                        stretch: usize::from(index >= step && step > 0),
                        state: match state {
                            0 => BayState::Braced,
                            1 => BayState::Blocked,
                            _ => BayState::Free(*cost),
                        },
                    });
                    at += width;
                }
                let boundary = bays.get(step.max(1)).filter(|_| step > 0).map(|bay| bay.from);
                let first = Stretch {
                    from: inches(0),
                    to: boundary.unwrap_or(inches(at)),
                    shortest_panel: inches(shortest),
                };
                let second = Stretch {
                    from: first.to,
                    to: inches(at),
                    shortest_panel: inches(shortest / 2),
                };
                let vent = vent.min(bays.len() - 1);
                Problem {
                    obstacles: vec![Obstacle {
                        first: vent,
                        last: (vent + 2).min(bays.len() - 1),
                        cost: 5,
                    }],
                    bays,
                    stretches: vec![first, second],
                    needed: inches(needed),
                    ends: ends.then_some((inches(16), inches(at - 16))),
                    largest_gap: gap.map(inches),
                    panel_cost,
                }
            })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]

        /// Trying every choice finds nothing cheaper, and nothing where the program finds nothing.
        #[test]
        fn the_layout_is_the_cheapest_there_is(problem in problems()) {
            match solve(&problem) {
                Ok((found, runs)) => {
                    let mut chosen = vec![false; problem.bays.len()];
                    for (first, last) in runs {
                        chosen[first..=last].fill(true);
                    }
                    prop_assert_eq!(cost(&problem, &chosen), Some(found.cents));
                    prop_assert_eq!(Some(found.cents), every_choice(&problem));
                }
                Err(unmet) => {
                    prop_assert_eq!(every_choice(&problem), None);
                    if let Unmet::Length { possible } = unmet {
                        let tried = |needed| every_choice(&Problem { needed, ..problem.clone() });
                        prop_assert!(tried(possible).is_some());
                        prop_assert_eq!(tried(possible.saturating_add(Length::from_nanometers(1))), None);
                    }
                }
            }
        }
    }
}
