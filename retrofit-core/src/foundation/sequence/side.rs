//! The same work a whole side at a time: how long the trade says it takes, to hold a schedule against.

use super::bays::{Bay, WorkLength, divide};
use super::schedule::{Schedule, schedule};
use super::settings::{Practice, SequenceError, Settings};
use crate::measure::Percent;

/// The same work done a side at a time.
///
/// The whole side hangs on temporary support at once and is opened, poured and closed before the next. Its activities
/// take the days that a bay takes: more hands dig it, or a machine does. Nothing is proposed by it: whether a side may be
/// opened at once is an engineer's to say.
#[derive(Clone, Debug)]
pub struct SideAtATime {
    /// The settings: a bay as long as the longest side, and one of them in hand.
    pub settings: Settings,
    /// The sides.
    pub bays: Vec<Bay>,
    /// Their order and days.
    pub schedule: Result<Schedule, SequenceError>,
}

impl SideAtATime {
    /// The lengths of a job by side, each carrying so many days after its pour.
    ///
    /// ```
    /// use retrofit_core::foundation::sequence::{Practice, Settings, SideAtATime, WorkKind, WorkLength};
    /// use retrofit_core::measure::{Area, Length};
    ///
    /// let side = |wall_line: usize, feet| WorkLength {
    ///     wall_line,
    ///     name: format!("side {wall_line}"),
    ///     from: Length::ZERO,
    ///     to: Length::feet(feet),
    ///     line_length: Some(Length::feet(feet)),
    ///     plan: None,
    ///     kind: WorkKind::Replace,
    ///     concrete: Area::square_feet(2),
    /// };
    /// let practice = Practice::shipped().unwrap();
    /// let lengths = [side(0, 36), side(1, 26), side(2, 36), side(3, 26)];
    /// let sides = SideAtATime::of(&lengths, &Settings::of(practice), practice.least_load_cure());
    /// assert_eq!(sides.bays.len(), 4);
    /// assert_eq!(sides.schedule?.weeks(), 6);
    /// # Ok::<(), retrofit_core::foundation::sequence::SequenceError>(())
    /// ```
    pub fn of(lengths: &[WorkLength], settings: &Settings, load_cure: u16) -> Self {
        let sides = sides(lengths);
        let longest = sides.iter().map(|side| side.to.saturating_sub(side.from)).max();
        let settings = Settings {
            largest_open: longest.unwrap_or(settings.largest_open),
            least_between: 1,
            share_open: Percent::WHOLE,
            perimeter: None,
            most_open: None,
            crews: 1,
            bays_a_crew: 1,
            load_cure,
            ..settings.clone()
        };
        let bays = divide(&sides, &settings);
        let (bays, schedule) = match bays {
            Ok(bays) => {
                let schedule = schedule(&bays, &settings);
                (bays, schedule)
            }
            Err(error) => (Vec::new(), Err(error)),
        };
        Self {
            settings,
            bays,
            schedule,
        }
    }
}

/// Lengths that touch, as one.
fn sides(lengths: &[WorkLength]) -> Vec<WorkLength> {
    let mut lengths: Vec<WorkLength> = lengths.to_vec();
    lengths.sort_by_key(|length| (length.wall_line, length.from));
    let mut sides: Vec<WorkLength> = Vec::new();
    for length in lengths {
        match sides.last_mut() {
            Some(side) if side.wall_line == length.wall_line && side.to == length.from => {
                side.to = length.to;
                side.plan = side.plan.zip(length.plan).map(|([from, _], [_, to])| [from, to]);
                side.concrete = side.concrete.max(length.concrete);
            }
            _ => sides.push(length),
        }
    }
    sides
}

impl Practice {
    /// The least days that anybody publishes before new work carries.
    pub fn least_load_cure(&self) -> u16 {
        let others = self.cure_before_load.others.iter().map(|(_, figure)| figure);
        let all = others.chain([&self.cure_before_load.used]);
        all.map(super::settings::whole).min().unwrap_or(0)
    }
}

impl Schedule {
    /// Calendar weeks that it reaches into.
    pub fn weeks(&self) -> u32 {
        self.days().div_ceil(7)
    }
}

#[cfg(test)]
mod tests {
    use super::super::bays::tests::work;
    use super::*;
    use crate::measure::Length;

    fn settings() -> Settings {
        Settings::of(Practice::shipped().unwrap())
    }

    #[test]
    fn lengths_that_touch_are_one_side_and_others_are_not() {
        let lengths = [work(0, 96, 200), work(0, 0, 96), work(1, 0, 48), work(1, 60, 120)];
        let found = SideAtATime::of(&lengths, &settings(), 7);
        let ends: Vec<(usize, Length, Length)> = found
            .bays
            .iter()
            .map(|bay| (bay.wall_line, bay.from, bay.to))
            .collect();
        let inches = Length::inches;
        assert_eq!(
            ends,
            [
                (0, inches(0), inches(200)),
                (1, inches(0), inches(48)),
                (1, inches(60), inches(120))
            ]
        );
    }

    #[test]
    fn a_longer_cure_never_takes_fewer_days_and_nothing_is_no_job() {
        let lengths = [work(0, 0, 300), work(1, 0, 240), work(2, 0, 300), work(3, 0, 240)];
        let days: Vec<u32> = [0, 1, 3, 7, 14, 28]
            .map(|cure| {
                SideAtATime::of(&lengths, &settings(), cure)
                    .schedule
                    .unwrap()
                    .days()
            })
            .to_vec();
        assert!(days.is_sorted(), "{days:?}");
        assert_eq!(SideAtATime::of(&[], &settings(), 3).schedule.unwrap().days(), 0);
    }
}
