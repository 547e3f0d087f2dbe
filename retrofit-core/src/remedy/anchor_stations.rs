//! The cheapest stations for new anchors along one wall line, found by an exact dynamic program.
//!
//! What the provisions ask of anchors comes down to four demands on stations: an anchor in each of some windows
//! (the ends of sill pieces), no distance along some stretches longer than the largest spacing, a number in each
//! short piece, and a least distance between anchors. The program walks the stations at which an anchor can stand
//! from left to right. What lies behind the last new anchor is settled, so that the last new anchor and the number
//! counted so far in its sill piece are all that has to be remembered.

use crate::measure::Length;

/// Where anchors may stand along a wall line, and what is asked of them.
#[derive(Clone, Debug, Default)]
pub(super) struct Problem {
    /// Stations of anchors that are there and count, in order.
    pub(super) existing: Vec<Length>,
    /// Places for a new anchor, in order of station.
    pub(super) candidates: Vec<Candidate>,
    /// Stretches in each of which an anchor has to stand, ends included.
    pub(super) windows: Vec<(Length, Length)>,
    /// Stretches along which no distance without an anchor may be longer than `spacing`.
    pub(super) runs: Vec<(Length, Length)>,
    /// Stretches between two existing anchors along which more of them keep the spacing, though nobody knows their
    /// stations.
    pub(super) kept: Vec<(Length, Length)>,
    /// The largest spacing along the runs.
    pub(super) spacing: Length,
    /// Sill pieces that need a number of anchors, in order and apart from each other.
    pub(super) pieces: Vec<PieceNeed>,
    /// The least distance between anchors; closer ones count as one.
    pub(super) apart: Length,
}

/// A place for a new anchor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Candidate {
    pub(super) at: Length,
    /// What it costs, in cents.
    pub(super) cost: i64,
}

/// A sill piece that needs a number of anchors.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct PieceNeed {
    pub(super) from: Length,
    pub(super) to: Length,
    pub(super) needed: u32,
}

/// Why no layout satisfies the demands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unmet {
    /// Nothing can stand in a window.
    Window { from: Length, to: Length },
    /// The smallest distance without an anchor that can be had is longer than the spacing.
    Spacing { from: Length, to: Length },
    /// A piece has room for fewer anchors than it needs.
    Number { piece: PieceNeed, possible: u32 },
    /// Each demand can be met alone, but not all of them together.
    Together,
}

/// What a layout costs: money first, then how uneven the distances are, by their squares.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    pub(super) cents: i64,
    pub(super) unevenness: i64,
}

#[derive(Clone, Copy)]
struct Label {
    cost: Cost,
    /// The node before, and the number counted there.
    from: Option<(usize, u32)>,
}

/// What choosing a candidate comes to, whatever was chosen before it.
struct Place {
    at: Length,
    cost: Cost,
    /// Its sill piece, where that needs a number of anchors, and how many existing ones count there before it.
    piece: Option<(PieceNeed, u32)>,
}

impl Place {
    fn new(problem: &Problem, candidate: Candidate) -> Self {
        let at = candidate.at;
        let piece = problem.piece_at(at);
        Self {
            at,
            cost: Cost {
                cents: candidate.cost,
                unevenness: awkwardness(at),
            },
            piece: piece.map(|piece| (piece, problem.counted_between(piece.from, false, at))),
        }
    }
}

/// The cheapest choice among the candidates, by position.
pub(super) fn solve(problem: &Problem) -> Result<(Cost, Vec<usize>), Unmet> {
    let most_needed = problem.pieces.iter().map(|piece| piece.needed).max().unwrap_or(0);
    let states = most_needed as usize + 1;
    let places = problem.candidates.iter();
    let places: Vec<Place> = places.map(|candidate| Place::new(problem, *candidate)).collect();
    let nodes = places.len() + 1; // the last is the end of the wall line
    let mut labels: Vec<Option<Label>> = vec![None; nodes * states];

    let extend = |labels: &mut Vec<Option<Label>>, from: Option<(usize, u32)>, cost: Cost| {
        let (station, first) = match from {
            Some((node, _)) => (places.get(node).map(|place| place.at), node + 1),
            None => (None, 0),
        };
        let reach = problem.reach(station);
        let counted = from.map_or(0, |(_, counted)| counted);
        let here = station.and_then(|station| problem.piece_at(station));
        // Where the piece of this anchor is not full without another new one, the next one has to stand in it.
        let lacks = here.zip(station).is_some_and(|(piece, station)| {
            counted + problem.counted_within(station, true, piece.to) < piece.needed
        });
        let reach = match (here, lacks) {
            (Some(piece), true) => Some(reach.map_or(piece.to, |reach| reach.min(piece.to))),
            _ => reach,
        };
        for (next, place) in places.iter().enumerate().skip(first) {
            let to = place.at;
            if reach.is_some_and(|reach| to > reach) {
                return;
            }
            let too_close =
                station.is_some_and(|station| to.saturating_sub(station) < problem.apart || to == station);
            if too_close {
                continue;
            }
            let count = place.piece.map_or(0, |(piece, in_piece)| {
                let before = match (here, station) {
                    (Some(of), Some(station)) if of == piece => {
                        counted + problem.counted_between(station, true, to)
                    }
                    _ => in_piece,
                };
                (before + 1).min(piece.needed)
            });
            let total = Cost {
                cents: cost.cents.saturating_add(place.cost.cents),
                unevenness: cost
                    .unevenness
                    .saturating_add(problem.unevenness(station, Some(to)))
                    .saturating_add(place.cost.unevenness),
            };
            improve(
                labels,
                next * states + count as usize,
                Label { cost: total, from },
            );
        }
        if reach.is_none() {
            let total = Cost {
                cents: cost.cents,
                unevenness: cost.unevenness.saturating_add(problem.unevenness(station, None)),
            };
            improve(labels, places.len() * states, Label { cost: total, from });
        }
    };

    extend(
        &mut labels,
        None,
        Cost {
            cents: 0,
            unevenness: 0,
        },
    );
    for node in 0..places.len() {
        for counted in 0..=most_needed {
            let slot = node * states + counted as usize;
            if let Some(label) = labels.get(slot).copied().flatten() {
                extend(&mut labels, Some((node, counted)), label.cost);
            }
        }
    }
    let end = labels.get((nodes - 1) * states).copied().flatten();
    let Some(end) = end else {
        return Err(problem.diagnose());
    };
    let mut chosen = Vec::new();
    let mut from = end.from;
    while let Some((node, counted)) = from {
        chosen.push(node);
        from = labels
            .get(node * states + counted as usize)
            .copied()
            .flatten()
            .and_then(|label| label.from);
    }
    chosen.reverse();
    Ok((end.cost, chosen))
}

/// A station between two inch marks is taken only where a mark would cost more: crews measure by marks.
fn awkwardness(station: Length) -> i64 {
    const BETWEEN_MARKS: i64 = 500;
    if station.nanometers() % Length::inches(1).nanometers() == 0 {
        0
    } else {
        BETWEEN_MARKS
    }
}

fn improve(labels: &mut [Option<Label>], slot: usize, label: Label) {
    if let Some(place) = labels.get_mut(slot)
        && place.is_none_or(|held| label.cost < held.cost)
    {
        *place = Some(label);
    }
}

impl Problem {
    fn piece_at(&self, station: Length) -> Option<PieceNeed> {
        self.pieces
            .iter()
            .copied()
            .find(|piece| piece.from <= station && station <= piece.to)
    }

    /// Existing anchors beyond a station (or from it on, where there was none before), in order.
    fn existing_after(&self, station: Option<Length>) -> &[Length] {
        let first = station.map_or(0, |station| self.existing.partition_point(|at| *at <= station));
        self.existing.get(first..).unwrap_or_default()
    }

    /// How far the next new anchor may stand from the last one (`None`: from the start of the wall line) so that
    /// nothing in between goes without; `None` where no other new anchor is needed.
    fn reach(&self, station: Option<Length>) -> Option<Length> {
        let mut reach: Option<Length> = None;
        let mut hold = |to: Length| reach = Some(reach.map_or(to, |reach| reach.min(to)));
        let ahead = self.existing_after(station);
        for (from, to) in &self.windows {
            let behind = station.is_some_and(|station| *from <= station);
            if !behind && !ahead.iter().any(|at| from <= at && at <= to) {
                hold(*to);
            }
        }
        for (from, to) in &self.runs {
            if station.is_some_and(|station| *to <= station) {
                continue;
            }
            let start = station.map_or(*from, |station| station.max(*from));
            let inside = ahead
                .iter()
                .copied()
                .filter(|at| *at > start && at < to)
                .chain([*to]);
            let mut last = start;
            let mut stuck = None;
            for next in inside {
                if self.is_too_far(last, next) {
                    stuck = Some(last);
                    break;
                }
                last = next;
            }
            if let Some(stuck) = stuck {
                hold(stuck.saturating_add(self.spacing));
            }
        }
        for piece in &self.pieces {
            let begins_ahead = station.is_none_or(|station| piece.from > station);
            if begins_ahead && self.counted_within(piece.from, false, piece.to) < piece.needed {
                hold(piece.to);
            }
        }
        reach
    }

    /// Whether two anchors with none in between whose station is known leave too long a distance.
    fn is_too_far(&self, from: Length, to: Length) -> bool {
        to.saturating_sub(from) > self.spacing && !self.kept.iter().any(|kept| kept.0 <= from && to <= kept.1)
    }

    /// Existing anchors that count as more than one between a station and another: from `from` on, or, where an
    /// anchor stands at `from`, no closer to it than the least distance. Those beyond `to` are left out.
    fn counted_within(&self, from: Length, anchor_at_from: bool, to: Length) -> u32 {
        let mut next = if anchor_at_from {
            from.saturating_add(self.step())
        } else {
            from
        };
        let mut total = 0;
        for at in self.existing.iter().filter(|at| **at <= to) {
            if *at >= next {
                total += 1;
                next = at.saturating_add(self.step());
            }
        }
        total
    }

    /// The same up to a new anchor, which stands clear of every anchor that counts.
    fn counted_between(&self, from: Length, anchor_at_from: bool, new: Length) -> u32 {
        self.counted_within(
            from,
            anchor_at_from,
            new.saturating_sub(Length::from_nanometers(1)),
        )
    }

    fn step(&self) -> Length {
        self.apart.max(Length::from_nanometers(1))
    }

    /// The squares of the distances between two new anchors, over the existing ones in between.
    fn unevenness(&self, station: Option<Length>, to: Option<Length>) -> i64 {
        let square = |from: Length, to: Length| {
            let inches = to.saturating_sub(from).nanometers() / Length::inches(1).nanometers();
            inches.saturating_mul(inches)
        };
        let mut last = station;
        let mut sum = 0i64;
        let ahead = self.existing_after(station).iter().copied();
        let between = ahead.take_while(|at| to.is_none_or(|to| *at < to)).chain(to);
        for next in between {
            if let Some(last) = last {
                sum = sum.saturating_add(square(last, next));
            }
            last = Some(next);
        }
        sum
    }

    /// Which demand cannot be met, even by every anchor that could stand.
    fn diagnose(&self) -> Unmet {
        let mut all: Vec<Length> = self.existing.clone();
        all.extend(self.candidates.iter().map(|candidate| candidate.at));
        all.sort_unstable();
        for (from, to) in &self.windows {
            if !all.iter().any(|at| from <= at && at <= to) {
                return Unmet::Window { from: *from, to: *to };
            }
        }
        for piece in &self.pieces {
            let everything = Self {
                existing: all.clone(),
                apart: self.apart,
                ..Self::default()
            };
            let possible = everything.counted_within(piece.from, false, piece.to);
            if possible < piece.needed {
                return Unmet::Number {
                    piece: *piece,
                    possible,
                };
            }
        }
        let mut widest: Option<(Length, Length)> = None;
        for (from, to) in &self.runs {
            let mut last = *from;
            for next in all.iter().copied().filter(|at| from < at && at < to).chain([*to]) {
                let gap = next.saturating_sub(last);
                if self.is_too_far(last, next)
                    && widest.is_none_or(|(from, to)| gap > to.saturating_sub(from))
                {
                    widest = Some((last, next));
                }
                last = next;
            }
        }
        widest.map_or(Unmet::Together, |(from, to)| Unmet::Spacing { from, to })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const fn inches(inches: i64) -> Length {
        Length::inches(inches)
    }

    /// Whether a choice satisfies every demand, told from the demands alone.
    fn satisfies(problem: &Problem, chosen: &[usize]) -> bool {
        let new: Vec<Length> = chosen.iter().map(|node| problem.candidates[*node].at).collect();
        let mut all = [problem.existing.clone(), new.clone()].concat();
        all.sort_unstable();
        let clear = new.iter().enumerate().all(|(one, at)| {
            new.iter()
                .enumerate()
                .all(|(other, to)| one == other || at.abs_diff(*to) >= problem.apart.max(inches(1)))
        });
        let windows = problem
            .windows
            .iter()
            .all(|(from, to)| all.iter().any(|at| from <= at && at <= to));
        let runs = problem.runs.iter().all(|(from, to)| {
            let mut stations = vec![*from, *to];
            stations.extend(all.iter().filter(|at| from < *at && *at < to));
            stations.sort_unstable();
            stations.windows(2).all(|pair| {
                let is_kept = problem
                    .kept
                    .iter()
                    .any(|kept| kept.0 <= pair[0] && pair[1] <= kept.1);
                is_kept || pair[1].saturating_sub(pair[0]) <= problem.spacing
            })
        });
        let pieces = problem.pieces.iter().all(|piece| {
            let mut next = piece.from;
            let mut count = 0;
            for at in all.iter().filter(|at| piece.from <= **at && **at <= piece.to) {
                if *at >= next {
                    count += 1;
                    next = at.saturating_add(problem.apart);
                }
            }
            count >= piece.needed
        });
        clear && windows && runs && pieces
    }

    fn cost(problem: &Problem, chosen: &[usize]) -> i64 {
        chosen.iter().map(|node| problem.candidates[*node].cost).sum()
    }

    fn every_choice(problem: &Problem) -> Option<i64> {
        let count = problem.candidates.len();
        (0..1u32 << count)
            .map(|bits| {
                (0..count)
                    .filter(|node| bits & (1 << node) != 0)
                    .collect::<Vec<_>>()
            })
            .filter(|chosen| satisfies(problem, chosen))
            .map(|chosen| cost(problem, &chosen))
            .min()
    }

    fn problems() -> impl Strategy<Value = Problem> {
        let stations = proptest::collection::btree_set(0i64..240, 0..12);
        let existing = proptest::collection::btree_set(0i64..240, 0..5);
        (
            stations,
            existing,
            20i64..110,
            0i64..26,
            0u32..4,
            40i64..200,
            any::<u64>(),
            proptest::bool::ANY,
        )
            .prop_map(
                |(stations, existing, spacing, apart, needed, split, prices, with_run)| {
                    let existing: Vec<Length> = existing.into_iter().map(inches).collect();
                    let ends = existing.first().copied().zip(existing.last().copied());
                    let candidates = stations
                        .into_iter()
                        .enumerate()
                        .map(|(place, at)| Candidate {
                            at: inches(at),
                            cost: 3 + i64::try_from((prices >> (place * 3)) & 7).unwrap(),
                        })
                        .filter(|candidate| {
                            existing
                                .iter()
                                .all(|at| at.abs_diff(candidate.at) >= inches(apart.max(1)))
                        })
                        .collect();
                    Problem {
                        existing,
                        candidates,
                        windows: vec![
                            (inches(9), inches(21)),
                            (inches(split - 20), inches(split - 6)),
                            (inches(215), inches(231)),
                        ],
                        kept: ends.filter(|_| prices % 3 == 0).into_iter().collect(),
                        runs: if with_run {
                            vec![(inches(split), inches(240))]
                        } else {
                            Vec::new()
                        },
                        spacing: inches(spacing),
                        pieces: vec![PieceNeed {
                            from: inches(0),
                            to: inches(split),
                            needed,
                        }],
                        apart: inches(apart),
                    }
                },
            )
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]

        /// Trying every choice finds nothing cheaper, and nothing where the program finds nothing.
        #[test]
        fn the_layout_is_the_cheapest_there_is(problem in problems()) {
            match solve(&problem) {
                Ok((found, chosen)) => {
                    prop_assert!(satisfies(&problem, &chosen), "{chosen:?}");
                    prop_assert_eq!(found.cents, cost(&problem, &chosen));
                    prop_assert_eq!(Some(found.cents), every_choice(&problem));
                }
                Err(unmet) => {
                    prop_assert_eq!(every_choice(&problem), None);
                    let all: Vec<usize> = (0..problem.candidates.len()).collect();
                    prop_assert!(unmet == Unmet::Together || !satisfies(&problem, &all));
                }
            }
        }
    }

    /// Of layouts that cost the same, the evener one is drawn.
    #[test]
    fn anchors_are_spread_evenly() {
        let candidates = (0..=264)
            .map(|at| Candidate {
                at: inches(at),
                cost: 1,
            })
            .collect();
        let problem = Problem {
            candidates,
            windows: vec![(inches(9), inches(12)), (inches(252), inches(255))],
            runs: vec![(inches(0), inches(264))],
            spacing: inches(72),
            apart: inches(12),
            ..Problem::default()
        };
        let (_, chosen) = solve(&problem).unwrap();
        assert_eq!(chosen, [12, 72, 132, 192, 252]);
    }
}
