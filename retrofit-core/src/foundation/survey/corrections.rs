//! Heights made comparable: drift of the instrument and thickness of finishes taken out, in exact lengths.

use super::limits::{Limit, LimitValue, Limits};
use crate::house::{CheckedOn, FloorFinish, LevelReading, PlanPoint, Survey};
use crate::measure::Length;

/// Why a survey cannot be computed with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SurveyError {
    /// No heights were read.
    #[error("the survey holds no height readings")]
    NoReadings,
}

/// What was taken off a reading for the floor finish.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FinishStep {
    /// This much, give or take this much.
    Taken {
        /// The thickness.
        thickness: Length,
        /// What that can be off: half of what lies between its bounds.
        off: Length,
    },
    /// Nothing: the same finish lies everywhere, and what it adds is the same everywhere.
    Alike,
    /// Nothing, since the thickness is not known: how high the floor is there is not known either.
    Unknown,
}

/// One reading, corrected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Point {
    /// Its place in the list of readings.
    pub reading: usize,
    /// Its name: its label, or its number.
    pub label: String,
    /// Where it was read.
    pub at: PlanPoint,
    /// What the instrument showed, above its first reading of the base.
    pub read: Length,
    /// The drift of the instrument at that moment, which was taken off.
    pub drift: Length,
    /// What was taken off for the finish.
    pub finish: FinishStep,
    /// The height of the floor: what was read less drift and finish.
    pub height: Length,
    /// What the height can be off either way; `None` where the finish is not known.
    pub off: Option<Length>,
}

impl Point {
    /// What the height can be off, in inches; infinite where that is not known.
    pub(super) fn off_inches(&self) -> f64 {
        self.off.map_or(f64::INFINITY, Length::as_inches_f64)
    }

    /// Its place in inches.
    pub(crate) fn xy(&self) -> [f64; 2] {
        [self.at.x.as_inches_f64(), self.at.y.as_inches_f64()]
    }
}

/// The readings between two readings of the base.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BaseLeg {
    /// How many readings were taken in it.
    pub readings: usize,
    /// How far the base read off at its end, against its beginning.
    pub error: Length,
    /// Whether that is within the tolerance.
    pub kept: bool,
}

/// How the survey closes on its base point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Closure {
    /// The legs, in order; none where the base was not read again.
    pub legs: Vec<BaseLeg>,
    /// How many readings came after the last reading of the base: nothing tells what the instrument did
    /// there, and the last drift is carried on.
    pub open_readings: usize,
    /// Whether the error is shared out by minutes; by the order of readings otherwise.
    pub by_minutes: bool,
    /// The tolerance, with its source.
    pub tolerance: Limit,
}

impl Closure {
    /// Whether the base was read again and every leg is within the tolerance.
    pub fn is_kept(&self) -> bool {
        !self.legs.is_empty() && self.legs.iter().all(|leg| leg.kept)
    }

    /// The largest error of a leg.
    pub fn largest(&self) -> Option<Length> {
        self.legs.iter().map(|leg| leg.error.abs_diff(Length::ZERO)).max()
    }
}

/// A survey whose heights can be compared with each other.
///
/// The error of a leg is shared out evenly over minutes, or over the order of readings where a minute is
/// missing; so the base itself closes exactly. Shares are rounded to the nanometer.
///
/// ```
/// use retrofit_core::foundation::survey::{Corrected, Limits};
/// use retrofit_core::house::Survey;
/// use retrofit_core::measure::Length;
/// let survey: Survey = serde_json::from_str(r#"{
///     "date": "2026-05-04",
///     "readings": [
///         {"at": {"x": "0 ft", "y": "0 ft"}, "height": "1 in", "finish": "tile", "finish_thickness": "1/2 in"},
///         {"at": {"x": "9 ft", "y": "0 ft"}, "height": "1 in", "finish": "bare"}
///     ],
///     "base_checks": [{"after": 2, "height": "3/64 in"}]
/// }"#)?;
/// let corrected = Corrected::of(&survey, Limits::shipped()).unwrap();
/// let heights: Vec<String> = corrected.points.iter().map(|point| point.height.to_string()).collect();
/// assert_eq!(heights, ["31/64\"", "31/32\""], "less 1/64 and 2/64 of drift, and the tile");
/// assert_eq!(corrected.closure.largest(), Some(Length::sixty_fourths(3)));
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Corrected {
    /// The day.
    pub date: CheckedOn,
    /// The base point in words.
    pub base: String,
    /// The readings, in the order they were taken.
    pub points: Vec<Point>,
    /// How the survey closes.
    pub closure: Closure,
    /// What a single reading can be off.
    pub reading_error: Length,
    /// Where that comes from; `None` where the record says it of the instrument.
    pub reading_error_from: Option<Limit>,
}

impl Corrected {
    /// Corrects the readings of a survey.
    pub fn of(survey: &Survey, limits: &Limits) -> Result<Self, SurveyError> {
        let readings = survey.readings.listed();
        if readings.is_empty() {
            return Err(SurveyError::NoReadings);
        }
        let stated = survey.instrument.reading_error.bounds().1;
        let (by_table, table_row) = limits.reading_error();
        let reading_error = stated.copied().unwrap_or(by_table);
        let reading_error_from = stated.is_none().then(|| table_row.clone());
        let drift = Drift::of(survey);
        let alike = all_alike(readings);
        let points = readings
            .iter()
            .enumerate()
            .map(|(number, reading)| {
                let read = reading.height.saturating_sub(survey.base.height);
                let drift = drift.at(number);
                let finish = if alike {
                    FinishStep::Alike
                } else {
                    step_of(reading)
                };
                let (thickness, off) = match finish {
                    FinishStep::Taken { thickness, off } => (thickness, Some(off)),
                    FinishStep::Alike => (Length::ZERO, Some(Length::ZERO)),
                    FinishStep::Unknown => (Length::ZERO, None),
                };
                Point {
                    reading: number,
                    label: match reading.label.trim() {
                        "" => (number + 1).to_string(),
                        label => label.to_owned(),
                    },
                    at: reading.at,
                    read,
                    drift,
                    finish,
                    height: read.saturating_sub(drift).saturating_sub(thickness),
                    off: off.map(|off| off.saturating_add(reading_error)),
                }
            })
            .collect();
        Ok(Self {
            date: survey.date,
            base: survey.base.place.trim().to_owned(),
            points,
            closure: drift.closure(limits.closure()),
            reading_error,
            reading_error_from,
        })
    }

    /// Whether the height of every point is known, as far as its finish goes.
    pub fn finishes_are_known(&self) -> bool {
        self.points.iter().all(|point| point.off.is_some())
    }
}

/// Whether one and the same finish lies everywhere, of a thickness that nobody took.
fn all_alike(readings: &[LevelReading]) -> bool {
    let Some(first) = readings.first().and_then(|reading| reading.finish.value()) else {
        return false;
    };
    // "Other" names no finish: two of them need not be the same.
    *first != FloorFinish::Other
        && readings.iter().all(|reading| {
            reading.finish.value() == Some(first) && reading.finish_thickness.basis().is_none()
        })
}

fn step_of(reading: &LevelReading) -> FinishStep {
    match reading.finish_thickness.bounds() {
        (Some(least), Some(most)) => {
            let off = Length::from_nanometers(most.abs_diff(*least).nanometers() / 2);
            FinishStep::Taken {
                thickness: least.saturating_add(off),
                // Half of an odd number of nanometers is rounded down above, and up here.
                off: most.saturating_sub(least.saturating_add(off)),
            }
        }
        _ if reading.finish.value() == Some(&FloorFinish::Bare) => FinishStep::Taken {
            thickness: Length::ZERO,
            off: Length::ZERO,
        },
        _ => FinishStep::Unknown,
    }
}

/// The drift of the instrument: a line from one reading of the base to the next.
struct Drift {
    /// When each reading was taken.
    moments: Vec<i64>,
    /// When the base was read, what it was off, and how many readings came before.
    base: Vec<(i64, Length, usize)>,
    by_minutes: bool,
}

impl Drift {
    fn of(survey: &Survey) -> Self {
        let readings = survey.readings.listed();
        let checks = &survey.base_checks;
        let by_minutes = !checks.is_empty()
            && readings.iter().all(|reading| reading.minute.is_some())
            && checks.iter().all(|check| check.minute.is_some());
        // By order, readings of the floor and of the base count alike, one after the other.
        let order = |before: usize| i64::try_from(before).unwrap_or(i64::MAX);
        let moments = readings.iter().enumerate().map(|(number, reading)| {
            let base_read = checks
                .iter()
                .filter(|check| usize::from(check.after) <= number)
                .count();
            match reading.minute.filter(|_| by_minutes) {
                Some(minute) => i64::from(minute),
                None => order(number + 1 + base_read),
            }
        });
        let base = checks.iter().enumerate().map(|(number, check)| {
            let moment = match check.minute.filter(|_| by_minutes) {
                Some(minute) => i64::from(minute),
                None => order(usize::from(check.after) + number + 1),
            };
            let off = check.height.saturating_sub(survey.base.height);
            (moment, off, usize::from(check.after))
        });
        Self {
            moments: moments.collect(),
            base: std::iter::once((0, Length::ZERO, 0)).chain(base).collect(),
            by_minutes,
        }
    }

    fn at(&self, reading: usize) -> Length {
        let moment = self.moments.get(reading).copied().unwrap_or_default();
        // The leg is known by how many readings came before, since minutes can be equal.
        let later = self.base.iter().position(|(_, _, after)| *after > reading);
        let Some(later) = later else {
            return self.base.last().map_or(Length::ZERO, |(_, off, _)| *off);
        };
        let ends = later.checked_sub(1).and_then(|earlier| self.base.get(earlier));
        let (Some((begin, from, _)), Some((end, to, _))) = (ends, self.base.get(later)) else {
            return Length::ZERO;
        };
        let share = i128::from(to.nanometers() - from.nanometers()) * i128::from(moment - begin);
        let share = match i128::from(end - begin) {
            0 => share,
            whole => rounded(share, whole),
        };
        let share = i64::try_from(share).unwrap_or_default();
        from.saturating_add(Length::from_nanometers(share))
    }

    fn closure(&self, tolerance: &Limit) -> Closure {
        let most = match tolerance.value {
            LimitValue::Length(length) => length,
            _ => Length::ZERO,
        };
        let legs = self.base.iter().zip(self.base.iter().skip(1));
        let last = self.base.last().map_or(0, |(_, _, after)| *after);
        Closure {
            legs: legs
                .map(|((_, from, before), (_, to, after))| {
                    let error = to.saturating_sub(*from);
                    BaseLeg {
                        readings: after.saturating_sub(*before),
                        error,
                        kept: error.abs_diff(Length::ZERO) <= most,
                    }
                })
                .collect(),
            open_readings: self.moments.len().saturating_sub(last),
            by_minutes: self.by_minutes,
            tolerance: tolerance.clone(),
        }
    }
}

/// A quotient to the nearest whole number, halves away from zero.
pub(super) fn rounded(dividend: i128, divisor: i128) -> i128 {
    let half = divisor.abs() / 2;
    (dividend + half * dividend.signum()) / divisor
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::{Value, json};

    use super::*;

    fn corrected(survey: Value) -> Corrected {
        let survey: Survey = serde_json::from_value(survey).unwrap();
        Corrected::of(&survey, Limits::shipped()).unwrap()
    }

    fn reading(x: i64, height: &str) -> Value {
        json!({"at": {"x": format!("{x} ft"), "y": "0 ft"}, "height": height, "finish": "bare"})
    }

    #[test]
    fn quotients_round_to_the_nearest_whatever_the_signs() {
        for (dividend, divisor, quotient) in [
            (10, -5, -2),
            (-10, -5, 2),
            (-10, 5, -2),
            (7, -2, -4),
            (-7, 3, -2),
            (8, 3, 3),
        ] {
            assert_eq!(rounded(dividend, divisor), quotient, "{dividend} by {divisor}");
        }
    }

    #[test]
    fn drift_is_shared_out_by_minutes_where_all_are_known() {
        let at = |x: i64, minute: u16| {
            let mut reading = reading(x, "0 in");
            reading["minute"] = json!(minute);
            reading
        };
        let survey = corrected(json!({
            "date": "2026-05-04", "readings": [at(0, 2), at(1, 8)],
            "base_checks": [{"after": 2, "height": "10 mm", "minute": 10}],
        }));
        assert!(survey.closure.by_minutes);
        let drifts: Vec<Length> = survey.points.iter().map(|point| point.drift).collect();
        assert_eq!(drifts, [Length::millimeters(2), Length::millimeters(8)]);
    }

    #[test]
    fn what_comes_after_the_last_reading_of_the_base_is_open() {
        let survey = corrected(json!({
            "date": "2026-05-04", "readings": [reading(0, "0 in"), reading(1, "0 in"), reading(2, "0 in")],
            "base_checks": [{"after": 1, "height": "1 in"}],
        }));
        assert_eq!(survey.closure.open_readings, 2);
        assert!(!survey.closure.is_kept(), "an inch is over the tolerance");
        let drifts: Vec<Length> = survey.points.iter().map(|point| point.drift).collect();
        assert_eq!(drifts[1..], [Length::inches(1), Length::inches(1)]);
        assert_eq!(drifts[0], "0.5 in".parse().unwrap());
    }

    #[test]
    fn a_survey_that_never_went_back_to_its_base_is_not_closed() {
        let survey = corrected(json!({"date": "2026-05-04", "readings": [reading(0, "0 in")]}));
        assert!(!survey.closure.is_kept());
        assert_eq!(survey.closure.open_readings, 1);
    }

    #[test]
    fn a_finish_of_unknown_thickness_leaves_the_height_open() {
        let survey = corrected(json!({"date": "2026-05-04", "readings": [
            {"at": {"x": "0 ft", "y": "0 ft"}, "height": "0 in", "finish": "carpet"},
            {"at": {"x": "9 ft", "y": "0 ft"}, "height": "0 in", "finish": "tile",
             "finish_thickness": {"inferred": {"at_least": "3/8 in", "at_most": "5/8 in"}}}
        ]}));
        assert_eq!(survey.points[0].off, None);
        assert_eq!(survey.points[1].height, "-1/2 in".parse().unwrap());
        assert_eq!(survey.points[1].off, Some("0.225 in".parse().unwrap()));
        assert!(!survey.finishes_are_known());
    }

    #[test]
    fn one_finish_everywhere_drops_out() {
        let all = json!([
            {"at": {"x": "0 ft", "y": "0 ft"}, "height": "1 in", "finish": "hardwood"},
            {"at": {"x": "9 ft", "y": "0 ft"}, "height": "0 in", "finish": "hardwood"}
        ]);
        let survey = corrected(json!({"date": "2026-05-04", "readings": all}));
        assert!(
            survey
                .points
                .iter()
                .all(|point| point.finish == FinishStep::Alike)
        );
        assert!(survey.finishes_are_known());
    }

    #[test]
    fn no_readings_is_an_error() {
        let survey: Survey = serde_json::from_value(json!({"date": "2026-05-04"})).unwrap();
        assert_eq!(
            Corrected::of(&survey, Limits::shipped()),
            Err(SurveyError::NoReadings)
        );
    }

    proptest! {
        /// Whatever the errors, drift is nothing at the start, the whole error at each reading of the base,
        /// and between the two in between.
        #[test]
        fn drift_keeps_its_ends(errors in prop::collection::vec(-9_000_000_i64..9_000_000, 1..5), each in 1_usize..7) {
            let readings: Vec<Value> = (0..errors.len() * each)
                .map(|x| reading(i64::try_from(x).unwrap(), "0 in"))
                .collect();
            let checks: Vec<Value> = errors
                .iter()
                .enumerate()
                .map(|(leg, error)| {
                    json!({"after": (leg + 1) * each, "height": Length::from_nanometers(*error)})
                })
                .collect();
            let survey = corrected(json!({"date": "2026-05-04", "readings": readings, "base_checks": checks}));
            let mut from = 0;
            for (leg, to) in errors.iter().enumerate() {
                let drifts = survey.points[leg * each..(leg + 1) * each].iter().map(|point| point.drift.nanometers());
                for (place, drift) in drifts.enumerate() {
                    let steps = i64::try_from(each + 1).unwrap();
                    let exact = f64::from(i32::try_from(to - from).unwrap())
                        * f64::from(u32::try_from(place + 1).unwrap())
                        / f64::from(i32::try_from(steps).unwrap());
                    #[allow(clippy::cast_precision_loss)]
                    let miss = ((drift - from) as f64 - exact).abs();
                    prop_assert!(miss <= 0.5 + 1e-6);
                }
                prop_assert_eq!(survey.closure.legs[leg].error.nanometers(), to - from);
                from = *to;
            }
            prop_assert_eq!(survey.closure.open_readings, 0);
        }
    }
}
