//! The floor along a line, exact to the flat triangles between the readings.

use super::surface::Surface;
use crate::house::PlanPoint;

/// A point of a section, in inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SectionPoint {
    /// Its distance from where the line begins.
    pub station: f64,
    /// The height of the floor.
    pub height: f64,
}

/// A stretch of a section over which the floor is known.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionRun {
    /// Where the floor bends, and both ends.
    pub points: Vec<SectionPoint>,
}

/// Two sides that meet in a reading are crossed in one place, but for the last bit; in inches.
const SAME: f64 = 1e-6;

impl Surface {
    /// The floor along a straight line; in several runs where the line leaves the readings and comes back,
    /// and in none where it misses them.
    ///
    /// ```
    /// use retrofit_core::foundation::survey::{Corrected, Limits, Surface};
    /// use retrofit_core::house::{PlanPoint, Survey};
    /// use retrofit_core::measure::Length;
    /// let survey: Survey = serde_json::from_str(r#"{"date": "2026-05-04", "readings": [
    ///     {"at": {"x": "0 ft", "y": "0 ft"}, "height": "0 in", "finish": "bare"},
    ///     {"at": {"x": "20 ft", "y": "0 ft"}, "height": "1 in", "finish": "bare"},
    ///     {"at": {"x": "0 ft", "y": "10 ft"}, "height": "0 in", "finish": "bare"},
    ///     {"at": {"x": "20 ft", "y": "10 ft"}, "height": "1 in", "finish": "bare"}
    /// ]}"#)?;
    /// let surface = Surface::of(&Corrected::of(&survey, Limits::shipped()).unwrap().points).unwrap();
    /// let at = |feet| PlanPoint { x: Length::feet(feet), y: Length::feet(5) };
    /// let runs = surface.section(at(-5), at(30));
    /// assert_eq!(runs.len(), 1);
    /// let (first, last) = (runs[0].points[0], *runs[0].points.last().unwrap());
    /// assert!((first.station - 60.0).abs() < 1e-6 && first.height.abs() < 1e-9);
    /// assert!((last.station - 300.0).abs() < 1e-6 && (last.height - 1.0).abs() < 1e-9);
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    pub fn section(&self, from: PlanPoint, to: PlanPoint) -> Vec<SectionRun> {
        let inches = |point: PlanPoint| [point.x.as_inches_f64(), point.y.as_inches_f64()];
        let (begin, end) = (inches(from), inches(to));
        let (dx, dy) = (end[0] - begin[0], end[1] - begin[1]);
        let length = dx.hypot(dy);
        if length.is_nan() || length <= 0.0 {
            return Vec::new();
        }
        let across = |[x, y]: [f64; 2]| dx * (y - begin[1]) - dy * (x - begin[0]);
        let along = |[x, y]: [f64; 2]| (dx * (x - begin[0]) + dy * (y - begin[1])) / length;
        let mut stations = vec![0.0, length];
        for (a, b) in self.sides() {
            let (Some(a), Some(b)) = (self.corner(a), self.corner(b)) else {
                continue;
            };
            let (a, b) = (a.xy(), b.xy());
            let (of_a, of_b) = (across(a), across(b));
            if (of_a > 0.0 && of_b > 0.0) || (of_a < 0.0 && of_b < 0.0) {
                continue;
            }
            let parted = of_a - of_b;
            if parted == 0.0 {
                // The side lies in the line.
                stations.extend([along(a), along(b)]);
            } else {
                let share = of_a / parted;
                stations.push(along([
                    a[0] + share * (b[0] - a[0]),
                    a[1] + share * (b[1] - a[1]),
                ]));
            }
        }
        stations.retain(|station| (-SAME..=length + SAME).contains(station));
        stations.sort_by(f64::total_cmp);
        stations.dedup_by(|next, last| *next - *last < SAME);
        let height_at = |station: f64| {
            let share = station / length;
            self.height_at_inches([begin[0] + share * dx, begin[1] + share * dy])
        };
        let mut runs: Vec<SectionRun> = Vec::new();
        let mut run: Vec<SectionPoint> = Vec::new();
        for (station, next) in stations
            .iter()
            .zip(stations.iter().skip(1).map(Some).chain(std::iter::once(None)))
        {
            if let Some(height) = height_at(*station) {
                run.push(SectionPoint {
                    station: *station,
                    height,
                });
            }
            // Between two crossings the line is in one triangle, or outside.
            let goes_on = next.is_some_and(|next| height_at(f64::midpoint(*station, *next)).is_some());
            if !goes_on {
                if run.len() > 1 {
                    runs.push(SectionRun {
                        points: std::mem::take(&mut run),
                    });
                }
                run.clear();
            }
        }
        runs
    }
}
