//! Lengths of foundation work divided into bays, and which bays are neighbors.

use super::settings::{SequenceError, Settings};
use crate::choice::choices;
use crate::foundation::earthwork::SolidVolume;
use crate::house::PlanPoint;
use crate::measure::{Area, Length};

choices! {
    /// What is done to a length of foundation.
    pub enum WorkKind: "kind of foundation work" {
        /// The old foundation is taken out and a new one poured in its place.
        Replace = "replace", "replaced";
        /// A new foundation is poured beside the old one, which stays.
        Sister = "sister", "sistered";
        /// New concrete is poured on top of the old foundation, which stays.
        Cap = "cap", "capped";
    }
}

/// A length of foundation that is worked on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkLength {
    /// The wall line, by its place in the house.
    pub wall_line: usize,
    /// The name of the wall line.
    pub name: String,
    /// Station where it begins.
    pub from: Length,
    /// Station where it ends.
    pub to: Length,
    /// The length of the wall line; left out, the work is taken to reach its end.
    pub line_length: Option<Length>,
    /// The two ends of the work in plan; left out, wall lines are taken to meet in their order.
    pub plan: Option<[PlanPoint; 2]>,
    /// What is done.
    pub kind: WorkKind,
    /// The concrete in the cross-section of the new work.
    pub concrete: Area,
}

/// One bay: what is opened, poured and closed at a time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bay {
    /// The wall line, by its place in the house.
    pub wall_line: usize,
    /// The name of the wall line.
    pub name: String,
    /// Station where it begins.
    pub from: Length,
    /// Station where it ends.
    pub to: Length,
    /// The length of the wall line, where it is known.
    pub line_length: Option<Length>,
    /// Its two ends in plan, where they are known.
    pub plan: Option<[PlanPoint; 2]>,
    /// What is done.
    pub kind: WorkKind,
    /// The concrete in the new work, without waste.
    pub concrete: SolidVolume,
}

impl Bay {
    /// Its length.
    pub fn length(&self) -> Length {
        self.to.saturating_sub(self.from)
    }

    /// The concrete ordered for it.
    pub(super) fn ordered(&self, settings: &Settings) -> SolidVolume {
        self.concrete.with(settings.concrete_waste)
    }
}

/// The most bays of one house.
pub(super) const MOST_BAYS: usize = 400;

/// Divides each length evenly into as few bays as the longest bay allows.
///
/// Bays of one length differ by no more than a nanometer, so no short remainder is left. The list is in the order of
/// wall lines and stations.
pub fn divide(lengths: &[WorkLength], settings: &Settings) -> Result<Vec<Bay>, SequenceError> {
    settings.check()?;
    let mut lengths: Vec<&WorkLength> = lengths.iter().collect();
    lengths.sort_by_key(|length| (length.wall_line, length.from));
    for (length, next) in lengths.iter().zip(lengths.iter().skip(1)) {
        if length.wall_line == next.wall_line && next.from < length.to {
            return Err(SequenceError::Overlap {
                name: next.name.clone(),
                at: next.from,
            });
        }
    }
    let mut bays = Vec::new();
    for length in lengths {
        if length.from < Length::ZERO || length.to <= length.from || length.to > Length::LIMIT {
            return Err(SequenceError::Stations {
                name: length.name.clone(),
                from: length.from,
                to: length.to,
            });
        }
        let whole = length.to.saturating_sub(length.from);
        let (run, largest) = (whole.nanometers(), settings.largest_open.nanometers());
        let count = run / largest + i64::from(run % largest > 0);
        let found = usize::try_from(count)
            .unwrap_or(usize::MAX)
            .saturating_add(bays.len());
        if found > MOST_BAYS {
            return Err(SequenceError::TooMany {
                found,
                most: MOST_BAYS,
            });
        }
        let station = |number: i64| {
            // A part of the run is no longer than the run.
            let part = i128::from(run) * i128::from(number) / i128::from(count);
            Length::from_nanometers(i64::try_from(part).unwrap_or(run))
        };
        for number in 0..count {
            let (begin, end) = (station(number), station(number + 1));
            let plan = length.plan;
            bays.push(Bay {
                wall_line: length.wall_line,
                name: length.name.clone(),
                from: length.from.saturating_add(begin),
                to: length.from.saturating_add(end),
                line_length: length.line_length,
                plan: plan.map(|plan| [between(plan, begin, whole), between(plan, end, whole)]),
                kind: length.kind,
                concrete: SolidVolume::of(length.concrete, end.saturating_sub(begin)),
            });
        }
    }
    Ok(bays)
}

/// The point at a part of the way from one point to another.
fn between([begin, end]: [PlanPoint; 2], part: Length, whole: Length) -> PlanPoint {
    let along = |a: Length, b: Length| {
        let run = i128::from(b.nanometers()) - i128::from(a.nanometers());
        let way = run * i128::from(part.nanometers()) / i128::from(whole.nanometers().max(1));
        Length::from_nanometers(a.nanometers().saturating_add(i64::try_from(way).unwrap_or(0)))
    };
    PlanPoint {
        x: along(begin.x, end.x),
        y: along(begin.y, end.y),
    }
}

/// Untouched foundation as bays: each full largest open length of it counts as one.
fn untouched(length: i64, settings: &Settings) -> u32 {
    let largest = settings.largest_open.nanometers().max(1);
    u32::try_from(length.max(0) / largest).unwrap_or(u32::MAX)
}

/// For each bay the others that may not be open with it: those with fewer untouched bays between than asked for.
pub(super) fn kept_apart(bays: &[Bay], settings: &Settings) -> Vec<Vec<usize>> {
    let neighbors = neighbors(bays, settings);
    (0..bays.len())
        .map(|bay| {
            // The least number of untouched bays on the way to each bay within reach.
            let mut least: Vec<Option<u32>> = vec![None; bays.len()];
            let mut ahead = vec![(0, bay)];
            while let Some((passed, at)) = ahead.pop() {
                for (next, kept) in neighbors.get(at).into_iter().flatten() {
                    let on_the_way = passed + u32::from(at != bay);
                    let between = on_the_way.saturating_add(*kept);
                    let held = least.get_mut(*next);
                    if let Some(held) = held.filter(|held| {
                        between < settings.least_between && held.is_none_or(|held| between < held)
                    }) {
                        *held = Some(between);
                        ahead.push((between, *next));
                    }
                }
            }
            let apart = least.iter().enumerate();
            apart
                .filter(|(other, between)| *other != bay && between.is_some())
                .map(|(other, _)| other)
                .collect()
        })
        .collect()
}

/// For each bay its neighbors, with the untouched foundation between the two.
fn neighbors(bays: &[Bay], settings: &Settings) -> Vec<Vec<(usize, u32)>> {
    let mut neighbors = vec![Vec::new(); bays.len()];
    let mut join = |a: usize, b: usize, kept: u32| {
        for (one, other) in [(a, b), (b, a)] {
            if let Some(list) = neighbors.get_mut(one) {
                list.push((other, kept));
            }
        }
    };
    let lines = bays.chunk_by(|a, b| a.wall_line == b.wall_line);
    let mut ends: Vec<(usize, usize)> = Vec::new();
    let mut first = 0;
    for line in lines {
        for (offset, (bay, next)) in line.iter().zip(line.iter().skip(1)).enumerate() {
            let kept = next.from.saturating_sub(bay.to).nanometers();
            join(first + offset, first + offset + 1, untouched(kept, settings));
        }
        ends.push((first, first + line.len() - 1));
        first += line.len();
    }
    for (place, &(begin, end)) in ends.iter().enumerate() {
        for (other_place, &(other_begin, other_end)) in ends.iter().enumerate().skip(place + 1) {
            for a in begin..=end {
                for b in other_begin..=other_end {
                    if let Some(apart) = bays.get(a).zip(bays.get(b)).and_then(|(a, b)| distance(a, b)) {
                        join(a, b, untouched(apart, settings));
                    }
                }
            }
            // Where the plan is not known, wall lines meet in their order, and the last one meets the first.
            let line = |bay: usize| bays.get(bay).map(|bay| bay.wall_line);
            let has_plan = |bay: usize| bays.get(bay).is_some_and(|bay| bay.plan.is_some());
            let follows = line(begin).and_then(|line| line.checked_add(1)) == line(other_begin);
            if follows && !(has_plan(end) && has_plan(other_begin)) {
                join(end, other_begin, across(bays, end, other_begin, settings));
            }
            let closes = place == 0 && other_place + 1 == ends.len();
            if closes && !(has_plan(other_end) && has_plan(begin)) {
                join(other_end, begin, across(bays, other_end, begin, settings));
            }
        }
    }
    neighbors
}

/// Untouched foundation from the end of the last bay of a wall line, round the corner, to the first bay of another.
fn across(bays: &[Bay], last: usize, first: usize, settings: &Settings) -> u32 {
    let kept_at_end = bays.get(last).map_or(0, |bay| {
        let length = bay.line_length.unwrap_or(bay.to);
        length.saturating_sub(bay.to).nanometers()
    });
    let kept_at_begin = bays.get(first).map_or(0, |bay| bay.from.nanometers());
    untouched(kept_at_end.max(0).saturating_add(kept_at_begin), settings)
}

/// The least distance in plan between an end of one bay and an end of the other, rounded down.
fn distance(a: &Bay, b: &Bay) -> Option<i64> {
    let (a, b) = (a.plan?, b.plan?);
    let pairs = a.iter().flat_map(|a| b.iter().map(move |b| (a, b)));
    let square = |a: Length, b: Length| {
        let run = u128::from(a.abs_diff(b).nanometers().unsigned_abs());
        run.saturating_mul(run)
    };
    let least = pairs
        .map(|(a, b)| square(a.x, b.x).saturating_add(square(a.y, b.y)))
        .min()?;
    i64::try_from(least.isqrt()).ok()
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::foundation::sequence::Practice;
    use proptest::prelude::*;
    use rstest::rstest;

    pub(in crate::foundation::sequence) fn settings() -> Settings {
        Settings::of(Practice::shipped().unwrap())
    }

    pub(in crate::foundation::sequence) fn work(wall_line: usize, from: i64, to: i64) -> WorkLength {
        WorkLength {
            wall_line,
            name: format!("line {wall_line}"),
            from: Length::inches(from),
            to: Length::inches(to),
            line_length: None,
            plan: None,
            kind: WorkKind::Replace,
            concrete: Area::square_feet(2),
        }
    }

    fn point(x: i64, y: i64) -> PlanPoint {
        PlanPoint {
            x: Length::inches(x),
            y: Length::inches(y),
        }
    }

    #[rstest]
    #[case::just_one(48, &[48])]
    #[case::a_little_over(49, &[])]
    #[case::twenty_two_feet(264, &[44; 6])]
    #[case::short(10, &[10])]
    fn a_length_is_divided_evenly(#[case] length: i64, #[case] expected: &[i64]) {
        let bays = divide(&[work(0, 12, 12 + length)], &settings()).unwrap();
        if expected.is_empty() {
            assert_eq!(bays.len(), 2);
            assert!(
                bays.iter().all(|bay| bay.length() <= Length::inches(25)),
                "no short remainder"
            );
        } else {
            let found: Vec<Length> = bays.iter().map(Bay::length).collect();
            let expected: Vec<Length> = expected.iter().map(|inches| Length::inches(*inches)).collect();
            assert_eq!(found, expected);
        }
        assert_eq!(bays[0].from, Length::inches(12));
        assert_eq!(bays.last().unwrap().to, Length::inches(12 + length));
    }

    #[test]
    fn bays_meet_across_a_corner_in_plan() {
        let mut south = work(0, 0, 96);
        south.plan = Some([point(0, 0), point(96, 0)]);
        // Described from its far end: it is its last bay that stands at the corner.
        let mut east = work(5, 0, 96);
        east.plan = Some([point(96, 96), point(96, 0)]);
        let mut settings = settings();
        settings.least_between = 1;
        let bays = divide(&[south, east], &settings).unwrap();
        assert_eq!(
            kept_apart(&bays, &settings),
            [vec![1], vec![0, 3], vec![3], vec![1, 2]]
        );
    }

    #[test]
    fn without_a_plan_wall_lines_meet_in_their_order_and_the_last_meets_the_first() {
        let mut settings = settings();
        settings.least_between = 1;
        let lines: Vec<WorkLength> = (0..4).map(|line| work(line, 0, 48)).collect();
        let bays = divide(&lines, &settings).unwrap();
        assert_eq!(
            kept_apart(&bays, &settings),
            [vec![1, 3], vec![0, 2], vec![1, 3], vec![0, 2]]
        );
    }

    #[rstest]
    #[case::close(40, 2, true)]
    #[case::one_bay_of_it(48, 2, true)]
    #[case::two_bays_of_it(96, 2, false)]
    #[case::one_is_enough(48, 1, false)]
    fn untouched_foundation_counts_by_the_full_bay(
        #[case] gap: i64,
        #[case] least: u32,
        #[case] apart: bool,
    ) {
        let mut settings = settings();
        settings.least_between = least;
        let bays = divide(&[work(0, 0, 48), work(0, 48 + gap, 96 + gap)], &settings).unwrap();
        assert_eq!(!kept_apart(&bays, &settings)[0].is_empty(), apart);
    }

    #[test]
    fn what_cannot_be_divided_is_refused_by_name() {
        let told = |lengths: &[WorkLength]| divide(lengths, &settings()).unwrap_err().to_string();
        assert!(told(&[work(0, 10, 10)]).contains("line 0"));
        assert!(told(&[work(0, -5, 10)]).contains("stations from 0"));
        assert!(told(&[work(0, 0, 50), work(0, 40, 90)]).contains("overlap at"));
        assert!(told(&[work(0, 0, 240_000)]).contains("no more than 400"));
    }

    proptest! {
        #[test]
        fn bays_cover_the_lengths_exactly_and_evenly(length in 1_i64..4_000, largest in 6_i64..100) {
            let mut settings = settings();
            settings.largest_open = Length::inches(largest);
            let Ok(bays) = divide(&[work(3, 7, 7 + length)], &settings) else {
                return Ok(());
            };
            prop_assert_eq!(i64::try_from(bays.len()).unwrap(), (length + largest - 1) / largest);
            prop_assert!(bays.iter().all(|bay| bay.length() <= settings.largest_open && bay.length() > Length::ZERO));
            prop_assert!(bays.windows(2).all(|pair| pair[0].to == pair[1].from));
            let lengths = bays.iter().map(|bay| bay.length().nanometers());
            prop_assert!(lengths.clone().max().unwrap() - lengths.min().unwrap() <= 1);
            let concrete = bays.iter().fold(SolidVolume::ZERO, |sum, bay| sum.plus(bay.concrete));
            prop_assert_eq!(concrete, SolidVolume::of(Area::square_feet(2), Length::inches(length)));
        }

        #[test]
        fn being_kept_apart_is_mutual(lines in prop::collection::vec((0_i64..200, 10_i64..300), 1..6), least in 1_u32..4) {
            let mut settings = settings();
            settings.least_between = least;
            let lengths: Vec<WorkLength> =
                lines.iter().enumerate().map(|(line, (from, length))| work(line, *from, from + length)).collect();
            let apart = kept_apart(&divide(&lengths, &settings).unwrap(), &settings);
            for (bay, others) in apart.iter().enumerate() {
                prop_assert!(others.iter().all(|other| apart[*other].contains(&bay)));
            }
        }
    }
}
