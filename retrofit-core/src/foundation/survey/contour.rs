//! Lines of equal height, exact to the flat triangles between the readings.

use std::collections::BTreeMap;

use super::corrections::rounded;
use super::surface::Surface;
use crate::house::PlanPoint;
use crate::measure::Length;

/// More levels than this cannot be told apart in a drawing.
pub const MOST_LEVELS: i64 = 400;

/// Why contours cannot be drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ContourError {
    /// The interval is no interval.
    #[error("found the contour interval {0}; expected more than zero")]
    NoInterval(Length),
    /// The interval is too fine.
    #[error(
        "the contour interval {interval} gives {levels} levels; expected at most {MOST_LEVELS}: take a larger one"
    )]
    TooFine {
        /// The interval.
        interval: Length,
        /// The levels it would take.
        levels: i64,
    },
}

/// One line of equal height.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contour {
    /// The height.
    pub level: Length,
    /// The line, with the higher floor on its left.
    pub line: Vec<PlanPoint>,
    /// Whether it comes back to where it began; its last point is its first then.
    pub closed: bool,
    /// Where to write the height: the middle of the line by its length.
    pub label: PlanPoint,
}

impl Surface {
    /// Contours at every whole multiple of an interval, from the lowest up.
    ///
    /// A reading that lies exactly at a level counts as above it, so that every line has two ends on the edge
    /// of the readings or none. A flat patch at a level has its contour at its lower edge.
    ///
    /// ```
    /// use retrofit_core::foundation::survey::{Corrected, Limits, Surface};
    /// use retrofit_core::house::Survey;
    /// use retrofit_core::measure::Length;
    /// let survey: Survey = serde_json::from_str(r#"{"date": "2026-05-04", "readings": [
    ///     {"at": {"x": "0 ft", "y": "0 ft"}, "height": "0 in", "finish": "bare"},
    ///     {"at": {"x": "20 ft", "y": "0 ft"}, "height": "1 in", "finish": "bare"},
    ///     {"at": {"x": "0 ft", "y": "10 ft"}, "height": "0 in", "finish": "bare"},
    ///     {"at": {"x": "20 ft", "y": "10 ft"}, "height": "1 in", "finish": "bare"}
    /// ]}"#)?;
    /// let surface = Surface::of(&Corrected::of(&survey, Limits::shipped()).unwrap().points).unwrap();
    /// let contours = surface.contours("1/2 in".parse().unwrap()).unwrap();
    /// let half = &contours[0];
    /// assert_eq!(half.level.to_string(), "1/2\"");
    /// assert!(half.line.iter().all(|point| point.x == Length::feet(10)));
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    pub fn contours(&self, interval: Length) -> Result<Vec<Contour>, ContourError> {
        if interval <= Length::ZERO {
            return Err(ContourError::NoInterval(interval));
        }
        let used = self.triangles().iter().flatten();
        let heights = used.filter_map(|corner| Some(self.corner(*corner)?.height.nanometers()));
        let (mut low, mut high) = (i64::MAX, i64::MIN);
        for height in heights {
            (low, high) = (low.min(height), high.max(height));
        }
        let step = interval.nanometers();
        // The lowest level is the first one above the lowest reading: there is nothing below it.
        let (first, last) = (low.div_euclid(step) + 1, high.div_euclid(step));
        let levels = last - first + 1;
        if levels > MOST_LEVELS {
            return Err(ContourError::TooFine { interval, levels });
        }
        Ok((first..=last)
            .filter_map(|number| interval.times(number))
            .flat_map(|level| self.contours_at(level))
            .collect())
    }

    /// The contours at one level.
    pub fn contours_at(&self, level: Length) -> Vec<Contour> {
        // A line crosses a triangle from side to side. Sides are known by their corners, so lines join
        // exactly.
        let mut onward: BTreeMap<Side, Side> = BTreeMap::new();
        let mut entered: Vec<Side> = Vec::new();
        for [a, b, c] in self.triangles() {
            let mut enters = None;
            let mut leaves = None;
            for (from, to) in [(*a, *b), (*b, *c), (*c, *a)] {
                match (self.is_above(from, level), self.is_above(to, level)) {
                    // Counterclockwise, with the higher floor on the left.
                    (false, true) => leaves = Some(side(from, to)),
                    (true, false) => enters = Some(side(from, to)),
                    _ => {}
                }
            }
            if let (Some(enters), Some(leaves)) = (enters, leaves) {
                onward.insert(enters, leaves);
                entered.push(leaves);
            }
        }
        entered.sort_unstable();
        let begins: Vec<Side> = onward
            .keys()
            .copied()
            .filter(|side| entered.binary_search(side).is_err())
            .collect();
        let mut contours: Vec<Contour> = begins
            .into_iter()
            .filter_map(|begin| self.follow(begin, level, &mut onward))
            .collect();
        // What is left goes round.
        while let Some(begin) = onward.keys().next().copied() {
            contours.extend(self.follow(begin, level, &mut onward));
        }
        contours
    }

    fn is_above(&self, corner: usize, level: Length) -> bool {
        self.corner(corner).is_some_and(|corner| corner.height >= level)
    }

    fn follow(&self, begin: Side, level: Length, onward: &mut BTreeMap<Side, Side>) -> Option<Contour> {
        let mut line = vec![self.crossing(begin, level)?];
        let mut at = begin;
        while let Some(next) = onward.remove(&at) {
            let point = self.crossing(next, level)?;
            // Triangles around a reading at the level all cross in that one point.
            if line.last() != Some(&point) {
                line.push(point);
            }
            at = next;
        }
        (line.len() > 1).then(|| Contour {
            level,
            label: middle(&line),
            closed: at == begin,
            line,
        })
    }

    /// Where a side passes the level, to the nanometer.
    fn crossing(&self, (low, high): Side, level: Length) -> Option<PlanPoint> {
        let (from, to) = (self.corner(low)?, self.corner(high)?);
        let whole = i128::from(to.height.nanometers()) - i128::from(from.height.nanometers());
        let part = i128::from(level.nanometers()) - i128::from(from.height.nanometers());
        let between = |from: Length, to: Length| {
            let run = i128::from(to.nanometers()) - i128::from(from.nanometers());
            // A side that is crossed has ends of different heights.
            let share = if whole == 0 { 0 } else { rounded(run * part, whole) };
            let share = i64::try_from(share).ok()?;
            from.checked_add(Length::from_nanometers(share))
        };
        Some(PlanPoint {
            x: between(from.at.x, to.at.x)?,
            y: between(from.at.y, to.at.y)?,
        })
    }
}

type Side = (usize, usize);

fn side(a: usize, b: usize) -> Side {
    (a.min(b), a.max(b))
}

/// The point halfway along a line.
fn middle(line: &[PlanPoint]) -> PlanPoint {
    let apart = |a: &PlanPoint, b: &PlanPoint| {
        let (x, y) = (b.x.saturating_sub(a.x), b.y.saturating_sub(a.y));
        x.as_inches_f64().hypot(y.as_inches_f64())
    };
    let steps = || line.iter().zip(line.iter().skip(1));
    let half = steps().map(|(a, b)| apart(a, b)).sum::<f64>() / 2.0;
    let mut gone = 0.0;
    for (a, b) in steps() {
        let step = apart(a, b);
        if step > 0.0 && gone + step >= half {
            let share = (half - gone) / step;
            let between = |a: Length, b: Length| {
                let run = b.saturating_sub(a).as_inches_f64();
                a.saturating_add(Length::nearest_inches(run * share))
            };
            return PlanPoint {
                x: between(a.x, b.x),
                y: between(a.y, b.y),
            };
        }
        gone += step;
    }
    line.first().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::super::{Corrected, Limits};
    use super::*;
    use crate::house::Survey;

    fn surface(readings: &[(i64, i64, &str)]) -> Surface {
        let readings: Vec<Value> = readings
            .iter()
            .map(|(x, y, height)| {
                json!({"at": {"x": format!("{x} ft"), "y": format!("{y} ft")}, "height": height, "finish": "bare"})
            })
            .collect();
        let survey: Survey =
            serde_json::from_value(json!({"date": "2026-05-04", "readings": readings})).unwrap();
        Surface::of(&Corrected::of(&survey, Limits::shipped()).unwrap().points).unwrap()
    }

    fn tent(top: &str) -> Surface {
        surface(&[
            (0, 0, "0 in"),
            (20, 0, "0 in"),
            (20, 20, "0 in"),
            (0, 20, "0 in"),
            (10, 10, top),
        ])
    }

    #[test]
    fn a_tent_has_a_square_contour_with_the_top_on_its_left() {
        let contours = tent("1 in").contours_at("1/2 in".parse().unwrap());
        let [square] = contours.as_slice() else {
            panic!("{contours:?}");
        };
        assert!(square.closed);
        assert_eq!(square.line.len(), 5);
        let feet = |length: Length| length.as_feet_f64();
        let area: f64 = square
            .line
            .windows(2)
            .map(|pair| feet(pair[0].x) * feet(pair[1].y) - feet(pair[1].x) * feet(pair[0].y))
            .sum();
        assert!(
            (area / 2.0 - 100.0).abs() < 1e-9,
            "10 ft by 10 ft, counterclockwise"
        );
        let dip = tent("-1 in").contours_at("-1/2 in".parse().unwrap());
        let area: f64 = dip[0]
            .line
            .windows(2)
            .map(|pair| feet(pair[0].x) * feet(pair[1].y) - feet(pair[1].x) * feet(pair[0].y))
            .sum();
        assert!((area / 2.0 + 100.0).abs() < 1e-9, "clockwise around a dip");
    }

    #[test]
    fn levels_are_whole_multiples_between_the_extremes() {
        let contours = tent("1 in").contours("1/4 in".parse().unwrap()).unwrap();
        let levels: Vec<String> = contours.iter().map(|contour| contour.level.to_string()).collect();
        // The top itself is a point, and no line.
        assert_eq!(levels, ["1/4\"", "1/2\"", "3/4\""]);
        assert_eq!(
            tent("0 in").contours("1/4 in".parse().unwrap()),
            Ok(Vec::new()),
            "a level floor"
        );
    }

    #[test]
    fn an_interval_out_of_reason_is_refused() {
        let zero = tent("1 in").contours(Length::ZERO);
        assert_eq!(zero, Err(ContourError::NoInterval(Length::ZERO)));
        let fine = tent("1 in").contours(Length::from_nanometers(1));
        assert!(matches!(fine, Err(ContourError::TooFine { .. })));
        let told = fine.unwrap_err().to_string();
        assert!(told.contains("at most 400"), "{told}");
    }
}
