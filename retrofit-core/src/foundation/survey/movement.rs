//! Two surveys of one floor at different dates: what moved, how fast, and what is within reading error.

use super::corrections::{Corrected, FinishStep, Point};
use super::plane::{FitError, Plane};
use crate::measure::Length;

/// Readings of two surveys this close together are one place, where labels do not tell. A choice of this
/// program, from no source.
const SAME_PLACE: Length = Length::inches(6);

/// Days in a year, for a rate.
const DAYS_IN_YEAR: f64 = 365.25;

/// Why two surveys give no movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MovementError {
    /// They are of one day, or in the wrong order.
    #[error("the later survey is not later than the earlier one")]
    NotLater,
    /// No place was read in both.
    #[error("no place was read in both surveys: give readings the same label or the same position")]
    NothingInCommon,
}

/// One place that was read twice.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// Its point in the earlier survey.
    pub earlier: usize,
    /// Its point in the later survey.
    pub later: usize,
    /// Its label in the later survey.
    pub label: String,
    /// How far it rose; fell, negative. Relative to the base point where both surveys share it, otherwise to
    /// the middle of all places.
    pub rise: Length,
    /// What that can be off either way; `None` where a finish is not known.
    pub off: Option<Length>,
    /// The rise in inches a year.
    pub inches_a_year: f64,
}

impl Moved {
    /// Whether the rise is no more than what the readings can be off: nothing can be said to have moved.
    pub fn is_within_error(&self) -> bool {
        self.off.is_none_or(|off| self.rise.abs_diff(Length::ZERO) <= off)
    }
}

/// What moved between two surveys.
#[derive(Clone, Debug, PartialEq)]
pub struct Movement {
    /// Days between them.
    pub days: i32,
    /// Whether both name the same base point: otherwise only changes of shape can be told, and the middle of
    /// the places is held still.
    pub same_base: bool,
    /// The places read in both.
    pub places: Vec<Moved>,
    /// Readings of the earlier survey that were not found again.
    pub not_read_again: Vec<usize>,
    /// Readings of the later survey that were not there before.
    pub new: Vec<usize>,
    /// The plane of the rises: how the tilt of the floor changed.
    pub plane: Result<Plane, FitError>,
}

impl Movement {
    /// Compares an earlier survey with a later one.
    pub fn between(earlier: &Corrected, later: &Corrected) -> Result<Self, MovementError> {
        let days = later.date.days_since(earlier.date);
        if days <= 0 {
            return Err(MovementError::NotLater);
        }
        let pairs = pairs(&earlier.points, &later.points);
        if pairs.is_empty() {
            return Err(MovementError::NothingInCommon);
        }
        let same_base = !earlier.base.is_empty() && earlier.base == later.base;
        let rise = |(before, after): (&Point, &Point)| after.height.saturating_sub(before.height);
        let shift = if same_base {
            Length::ZERO
        } else {
            let sum: i128 = pairs
                .iter()
                .map(|(_, _, before, after)| i128::from(rise((before, after)).nanometers()))
                .sum();
            let number = i128::try_from(pairs.len()).unwrap_or(1);
            Length::from_nanometers(i64::try_from(sum / number).unwrap_or_default())
        };
        let offs: Vec<Option<Length>> = pairs
            .iter()
            .map(|(_, _, before, after)| off(before, after, same_base))
            .collect();
        // The middle of the places is off by as much as they are in the middle.
        let middle_off = if same_base {
            Some(Length::ZERO)
        } else {
            mean(&offs)
        };
        let places: Vec<Moved> = pairs
            .iter()
            .zip(&offs)
            .map(|((at, found, before, after), off)| {
                let rise = rise((before, after)).saturating_sub(shift);
                Moved {
                    earlier: *at,
                    later: *found,
                    label: after.label.clone(),
                    rise,
                    off: off
                        .zip(middle_off)
                        .map(|(off, middle)| off.saturating_add(middle)),
                    inches_a_year: rise.as_inches_f64() / f64::from(days) * DAYS_IN_YEAR,
                }
            })
            .collect();
        let risen: Vec<Point> = pairs
            .iter()
            .zip(&places)
            .map(|((_, _, _, after), moved)| Point {
                height: moved.rise,
                off: moved.off,
                ..(*after).clone()
            })
            .collect();
        let unpaired = |points: &[Point], is_paired: &dyn Fn(usize) -> bool| {
            (0..points.len()).filter(|it| !is_paired(*it)).collect()
        };
        Ok(Self {
            days,
            same_base,
            not_read_again: unpaired(&earlier.points, &|it| {
                places.iter().any(|moved| moved.earlier == it)
            }),
            new: unpaired(&later.points, &|it| places.iter().any(|moved| moved.later == it)),
            plane: Plane::fit(&risen),
            places,
        })
    }

    /// Whether every place is within what the readings can be off. It does not say that nothing moves.
    pub fn is_within_error(&self) -> bool {
        self.places.iter().all(Moved::is_within_error)
    }
}

/// What a rise can be off. An unknown finish drops out where the record names the same one both times.
fn off(before: &Point, after: &Point, same_base: bool) -> Option<Length> {
    let sum = before.off?.saturating_add(after.off?);
    // One finish everywhere drops out of the shape of one survey; from survey to survey it drops out only
    // where heights are held to their middle, or both surveys leave it in.
    if same_base && (before.finish == FinishStep::Alike) != (after.finish == FinishStep::Alike) {
        return None;
    }
    Some(sum)
}

fn mean(lengths: &[Option<Length>]) -> Option<Length> {
    let sum = lengths.iter().try_fold(0_i128, |sum, length| {
        Some(sum + i128::from((*length)?.nanometers()))
    })?;
    let mean = sum.checked_div(i128::try_from(lengths.len()).ok()?)?;
    i64::try_from(mean).ok().map(Length::from_nanometers)
}

type Pair<'a> = (usize, usize, &'a Point, &'a Point);

/// The places read in both: by label, and otherwise the nearest within reach, each taken once.
fn pairs<'a>(earlier: &'a [Point], later: &'a [Point]) -> Vec<Pair<'a>> {
    let apart = |a: &Point, b: &Point| {
        let ([ax, ay], [bx, by]) = (a.xy(), b.xy());
        (ax - bx).hypot(ay - by)
    };
    let mut taken = vec![false; later.len()];
    let mut pairs = Vec::new();
    let mut left: Vec<(usize, &Point)> = Vec::new();
    for (number, before) in earlier.iter().enumerate() {
        let by_label = later
            .iter()
            .enumerate()
            .find(|(_, after)| after.label == before.label && is_named(before) && is_named(after));
        match by_label {
            // A label that wandered by more than a stride names another place.
            Some((found, after)) if apart(before, after) <= 36.0 => {
                if let Some(taken) = taken.get_mut(found) {
                    *taken = true;
                }
                pairs.push((number, found, before, after));
            }
            _ => left.push((number, before)),
        }
    }
    for (number, before) in left {
        let nearest = later
            .iter()
            .enumerate()
            .filter(|(found, _)| taken.get(*found) == Some(&false))
            .min_by(|(_, a), (_, b)| apart(before, a).total_cmp(&apart(before, b)))
            .filter(|(_, after)| apart(before, after) <= SAME_PLACE.as_inches_f64());
        if let Some((found, after)) = nearest {
            if let Some(taken) = taken.get_mut(found) {
                *taken = true;
            }
            pairs.push((number, found, before, after));
        }
    }
    pairs.sort_by_key(|(number, ..)| *number);
    pairs
}

/// Whether a point has a label of its own, and not the number it stands at.
fn is_named(point: &Point) -> bool {
    point.label != (point.reading + 1).to_string()
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::super::Limits;
    use super::*;
    use crate::house::Survey;

    fn survey(date: &str, base: &str, readings: &[(i64, i64, &str)]) -> Corrected {
        let readings: Vec<Value> = readings
            .iter()
            .map(|(x, y, height)| {
                json!({"at": {"x": format!("{x} ft"), "y": format!("{y} ft")}, "height": height, "finish": "bare"})
            })
            .collect();
        let survey: Survey = serde_json::from_value(json!({
            "date": date, "base": {"place": base}, "readings": readings,
            "instrument": {"reading_error": "1/16 in"},
        }))
        .unwrap();
        Corrected::of(&survey, Limits::shipped()).unwrap()
    }

    #[test]
    fn movement_has_rate_and_error() {
        let before = survey(
            "2024-05-04",
            "hearth",
            &[(0, 0, "0 in"), (10, 0, "0 in"), (0, 10, "0 in")],
        );
        let after = survey(
            "2026-05-04",
            "hearth",
            &[(0, 0, "1/8 in"), (10, 0, "-1/4 in"), (30, 30, "0 in")],
        );
        let movement = Movement::between(&before, &after).unwrap();
        assert_eq!(movement.days, 730);
        assert!(
            movement.places[0].is_within_error(),
            "an eighth is twice a sixteenth"
        );
        assert!(!movement.places[1].is_within_error());
        assert!((movement.places[1].inches_a_year + 0.125).abs() < 1e-3);
        assert_eq!(movement.not_read_again, [2]);
        assert_eq!(movement.new, [2]);
        assert_eq!(movement.plane, Err(FitError::TooFew { found: 2 }));
    }

    #[test]
    fn without_a_common_base_only_shape_is_told() {
        let before = survey("2024-05-04", "hearth", &[(0, 0, "0 in"), (10, 0, "0 in")]);
        let after = survey("2026-05-04", "entry", &[(0, 0, "3 in"), (10, 0, "2 in")]);
        let movement = Movement::between(&before, &after).unwrap();
        assert!(!movement.same_base);
        let rises: Vec<String> = movement.places.iter().map(|it| it.rise.to_string()).collect();
        assert_eq!(rises, ["1/2\"", "-1/2\""]);
        assert_eq!(Movement::between(&after, &before), Err(MovementError::NotLater));
        let elsewhere = survey("2026-05-04", "entry", &[(50, 50, "3 in")]);
        assert_eq!(
            Movement::between(&before, &elsewhere),
            Err(MovementError::NothingInCommon)
        );
    }
}
