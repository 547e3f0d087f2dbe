//! The floor along a wall line, or along any line: slopes, angular distortion and deflection ratio.
//!
//! Where three readings or more stand within reach of the line, they are the profile, each carried to its
//! foot on the line along the tilt of the floor, so that a rigid tilt bends nothing. Where fewer do, the
//! profile is the section of the surface between readings, and says so: its points are interpolated.

use super::corrections::Point;
use super::plane::{Plane, weighed};
use super::surface::Surface;
use super::uncertain::Uncertain;
use crate::house::PlanPoint;
use crate::measure::Length;

/// Readings this far from a line stand for the floor along it: an instrument does not stand against a wall. A
/// choice of this program, from no source.
pub const REACH: Length = Length::feet(2);

/// Two readings whose feet on the line are closer than this, in inches, are one: the nearer to the line is
/// kept.
const SAME_STATION: f64 = 6.0;

/// Why there is no profile.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ProfileError {
    /// The record does not say where the line is.
    #[error("the record gives the wall line no place in plan")]
    NoPlace,
    /// The line is a point.
    #[error("the line begins where it ends")]
    NoLength,
    /// The floor along it is not known.
    #[error(
        "found {readings} readings within 2' of the line, and no surface of readings under it; expected three, or \
         readings on both sides"
    )]
    NotCovered {
        /// The readings within reach.
        readings: usize,
    },
}

/// A point of a profile, in inches.
#[derive(Clone, Debug, PartialEq)]
pub struct ProfilePoint {
    /// Its distance along the line.
    pub station: f64,
    /// The height of the floor.
    pub height: Uncertain,
    /// The reading that was taken there, by its place in the list of readings; `None` of a point
    /// interpolated.
    pub point: Option<usize>,
}

/// The floor along a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// Its points, in order.
    pub points: Vec<ProfilePoint>,
    /// The direction of the line, east and north.
    pub direction: [f64; 2],
    /// Whether its points lie on the surface between readings, and not in readings along the line.
    pub interpolated: bool,
}

/// The rotation of a stretch against the tilt of the floor as a whole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distortion {
    /// Where the stretch begins and ends, in inches along the line.
    pub stretch: (f64, f64),
    /// Its slope.
    pub slope: Uncertain,
    /// Its slope less that of the plane along the line; positive where it rises more.
    pub rotation: Uncertain,
}

/// The greatest departure from a chord.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deflection {
    /// Where the chord begins and ends, in inches along the line.
    pub chord: (f64, f64),
    /// Where the floor departs most from it.
    pub station: f64,
    /// How far it is above the chord; below, negative: the floor sags.
    pub departure: Uncertain,
    /// That over the length of the chord.
    pub ratio: Uncertain,
}

impl Profile {
    /// The profile along a line from one place to another; plane and surface are those of the same floor.
    pub fn along(
        points: &[Point],
        plane: Option<&Plane>,
        surface: Option<&Surface>,
        from: PlanPoint,
        to: PlanPoint,
    ) -> Result<Self, ProfileError> {
        let inches = |point: PlanPoint| [point.x.as_inches_f64(), point.y.as_inches_f64()];
        let (begin, end) = (inches(from), inches(to));
        let (dx, dy) = (end[0] - begin[0], end[1] - begin[1]);
        let length = dx.hypot(dy);
        if length.is_nan() || length <= 0.0 {
            return Err(ProfileError::NoLength);
        }
        let direction = [dx / length, dy / length];
        let reach = REACH.as_inches_f64();
        let mut feet: Vec<(f64, ProfilePoint)> = Vec::new();
        for point in points {
            let [x, y] = point.xy();
            let (x, y) = (x - begin[0], y - begin[1]);
            let station = x * direction[0] + y * direction[1];
            let to_the_right = x * direction[1] - y * direction[0];
            let aside = to_the_right.abs();
            // From the reading to its foot on the line, the floor falls or rises with its tilt.
            let across = plane.map_or(Uncertain::new(0.0, 0.0), |plane| {
                plane.along([-direction[1], direction[0]])
            });
            let height = point.height.as_inches_f64() + to_the_right * across.likely;
            let off = point.off_inches() + weighed(aside, across.off);
            if aside <= reach && (-reach..=length + reach).contains(&station) {
                feet.push((
                    aside,
                    ProfilePoint {
                        station,
                        height: Uncertain::new(height, off),
                        point: Some(point.reading),
                    },
                ));
            }
        }
        feet.sort_by(|a, b| a.1.station.total_cmp(&b.1.station));
        let mut kept: Vec<(f64, ProfilePoint)> = Vec::new();
        for (aside, point) in feet {
            match kept.last_mut() {
                Some(last) if point.station - last.1.station < SAME_STATION => {
                    if aside < last.0 {
                        *last = (aside, point);
                    }
                }
                _ => kept.push((aside, point)),
            }
        }
        if kept.len() >= 3 {
            return Ok(Self {
                points: kept.into_iter().map(|(_, point)| point).collect(),
                direction,
                interpolated: false,
            });
        }
        let readings = kept.len();
        surface
            .and_then(|surface| Self::of_surface(points, surface, from, to, direction))
            .ok_or(ProfileError::NotCovered { readings })
    }

    /// The longest run of a section, with what each of its points can be off.
    fn of_surface(
        points: &[Point],
        surface: &Surface,
        from: PlanPoint,
        to: PlanPoint,
        direction: [f64; 2],
    ) -> Option<Self> {
        let run = surface.section(from, to).into_iter().max_by(|a, b| {
            let length = |run: &super::section::SectionRun| {
                let ends = run.points.first().zip(run.points.last());
                ends.map_or(0.0, |(first, last)| last.station - first.station)
            };
            length(a).total_cmp(&length(b))
        })?;
        let begin = [from.x.as_inches_f64(), from.y.as_inches_f64()];
        let points: Vec<ProfilePoint> = run
            .points
            .iter()
            .map(|at| {
                let place = [0, 1].map(|axis| {
                    let origin = begin.get(axis).copied().unwrap_or_default();
                    origin + at.station * direction.get(axis).copied().unwrap_or_default()
                });
                let off = surface.weights_at(place).map_or(f64::INFINITY, |weights| {
                    let off = |corner: usize| points.get(corner).map_or(f64::INFINITY, Point::off_inches);
                    // A share that is nothing but the last bit of one is none.
                    let share = |weight: f64| if weight.abs() < 1e-9 { 0.0 } else { weight.abs() };
                    weights
                        .iter()
                        .map(|(corner, weight)| weighed(share(*weight), off(*corner)))
                        .sum()
                });
                ProfilePoint {
                    station: at.station,
                    height: Uncertain::new(at.height, off),
                    point: None,
                }
            })
            .collect();
        (points.len() > 1).then_some(Self {
            points,
            direction,
            interpolated: true,
        })
    }

    /// Slope and rotation of every stretch between neighboring points. Without a plane the tilt is that of
    /// the chord between the ends of the line.
    pub fn distortions(&self, plane: Option<&Plane>) -> Vec<Distortion> {
        let tilt = match plane {
            Some(plane) => plane.along(self.direction),
            None => self.chord_slope(),
        };
        self.stretches()
            .map(|(a, b)| {
                let slope = slope(a, b);
                Distortion {
                    stretch: (a.station, b.station),
                    slope,
                    rotation: Uncertain::new(slope.likely - tilt.likely, slope.off + tilt.off),
                }
            })
            .collect()
    }

    /// The stretch that rotates most.
    pub fn worst_distortion(&self, plane: Option<&Plane>) -> Option<Distortion> {
        let worst = self.distortions(plane).into_iter();
        worst.max_by(|a, b| a.rotation.likely.abs().total_cmp(&b.rotation.likely.abs()))
    }

    /// The greatest departure from the chord between the ends of the line, over its length.
    pub fn deflection(&self) -> Option<Deflection> {
        deflection(&self.points)
    }

    /// The worst deflection ratio over any part of the line with a point between its ends: upward (hogging)
    /// when asked for, downward (sagging) otherwise. Over a short part, what the readings can be off weighs
    /// more.
    pub fn worst_deflection(&self, hogging: bool) -> Option<Deflection> {
        let sign = if hogging { 1.0 } else { -1.0 };
        (0..self.points.len())
            .flat_map(|from| (from + 3..=self.points.len()).map(move |to| (from, to)))
            .filter_map(|(from, to)| deflection_of(self.points.get(from..to)?, sign))
            .filter(|found| found.departure.likely * sign > 0.0)
            .max_by(|a, b| a.ratio.size().likely.total_cmp(&b.ratio.size().likely))
    }

    fn stretches(&self) -> impl Iterator<Item = (&ProfilePoint, &ProfilePoint)> {
        self.points.iter().zip(self.points.iter().skip(1))
    }

    fn chord_slope(&self) -> Uncertain {
        match (self.points.first(), self.points.last()) {
            (Some(first), Some(last)) if last.station > first.station => slope(first, last),
            _ => Uncertain::new(0.0, f64::INFINITY),
        }
    }
}

fn slope(a: &ProfilePoint, b: &ProfilePoint) -> Uncertain {
    Uncertain::new(b.height.likely - a.height.likely, a.height.off + b.height.off).over(b.station - a.station)
}

fn deflection(points: &[ProfilePoint]) -> Option<Deflection> {
    let either = [1.0, -1.0]
        .into_iter()
        .filter_map(|sign| deflection_of(points, sign));
    either.max_by(|a, b| a.departure.likely.abs().total_cmp(&b.departure.likely.abs()))
}

/// The greatest departure upward (`sign` 1) or downward (-1) from the chord of the ends.
fn deflection_of(points: &[ProfilePoint], sign: f64) -> Option<Deflection> {
    let [first, between @ .., last] = points else {
        return None;
    };
    let length = last.station - first.station;
    if length.is_nan() || length <= 0.0 {
        return None;
    }
    between
        .iter()
        .map(|point| {
            let share = (point.station - first.station) / length;
            let chord = first.height.likely * (1.0 - share) + last.height.likely * share;
            let off =
                point.height.off + weighed(1.0 - share, first.height.off) + weighed(share, last.height.off);
            let departure = Uncertain::new(point.height.likely - chord, off);
            Deflection {
                chord: (first.station, last.station),
                station: point.station,
                departure,
                ratio: departure.over(length),
            }
        })
        .max_by(|a, b| (a.departure.likely * sign).total_cmp(&(b.departure.likely * sign)))
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::super::{Corrected, Limits};
    use super::*;
    use crate::house::Survey;

    /// Readings in feet, with heights as text; what a reading can be off is a hundredth of an inch.
    fn points(readings: &[(i64, i64, &str)]) -> Vec<Point> {
        let readings: Vec<Value> = readings
            .iter()
            .map(|(x, y, height)| {
                json!({"at": {"x": format!("{x} ft"), "y": format!("{y} ft")}, "height": height, "finish": "bare"})
            })
            .collect();
        let survey: Survey = serde_json::from_value(json!({
            "date": "2026-05-04", "instrument": {"reading_error": "0.01 in"}, "readings": readings,
        }))
        .unwrap();
        Corrected::of(&survey, Limits::shipped()).unwrap().points
    }

    fn at(x: i64, y: i64) -> PlanPoint {
        PlanPoint {
            x: Length::feet(x),
            y: Length::feet(y),
        }
    }

    fn near(a: f64, b: f64) {
        assert!((a - b).abs() < 1e-9, "{a}, {b}");
    }

    /// A parabola that sags by 1 in over 40 ft: the ends rotate by three times the sag over the length, read
    /// in quarters.
    #[test]
    fn a_parabola_sags_by_its_closed_form() {
        let sagging = points(&[
            (0, 0, "0 in"),
            (10, 0, "-0.75 in"),
            (20, 0, "-1 in"),
            (30, 0, "-0.75 in"),
            (40, 0, "0 in"),
        ]);
        let profile = Profile::along(&sagging, None, None, at(0, 1), at(40, 1)).unwrap();
        assert!(!profile.interpolated);
        let whole = profile.deflection().unwrap();
        near(whole.departure.likely, -1.0);
        near(whole.ratio.likely, -1.0 / 480.0);
        near(whole.departure.off, 0.02);
        near(whole.station, 240.0);
        let worst = profile.worst_distortion(None).unwrap();
        near(worst.rotation.size().likely, 3.0 / 480.0);
        // Half the length sags by a quarter: half the ratio. The whole is the worst part.
        assert_eq!(profile.worst_deflection(false), Some(whole));
        assert_eq!(profile.worst_deflection(true), None, "it never hogs");
    }

    #[test]
    fn a_step_between_two_rooms_is_the_worst_stretch() {
        let step = points(&[(0, 0, "0 in"), (10, 0, "0 in"), (12, 0, "1 in"), (22, 0, "1 in")]);
        let profile = Profile::along(&step, None, None, at(0, 0), at(22, 0)).unwrap();
        let worst = profile.worst_distortion(None).unwrap();
        near(worst.stretch.0, 120.0);
        near(worst.slope.likely, 1.0 / 24.0);
        near(worst.rotation.likely, 1.0 / 24.0 - 1.0 / 264.0);
        assert!(profile.worst_deflection(true).unwrap().departure.likely > 0.0);
        assert!(profile.worst_deflection(false).unwrap().departure.likely < 0.0);
    }

    #[test]
    fn where_no_reading_is_near_the_surface_is_taken_and_says_so() {
        let floor = points(&[(0, 0, "0 in"), (20, 0, "1 in"), (0, 20, "0 in"), (20, 20, "1 in")]);
        let surface = Surface::of(&floor).unwrap();
        let profile = Profile::along(&floor, None, Some(&surface), at(0, 10), at(20, 10)).unwrap();
        assert!(profile.interpolated && profile.points.iter().all(|point| point.point.is_none()));
        near(profile.points.last().unwrap().height.likely, 1.0);
        assert!((profile.points.last().unwrap().height.off - 0.01).abs() < 1e-6);
        let outside = Profile::along(&floor, None, Some(&surface), at(50, 50), at(60, 60));
        assert_eq!(outside, Err(ProfileError::NotCovered { readings: 0 }));
        let nowhere = Profile::along(&floor, None, Some(&surface), at(5, 5), at(5, 5));
        assert_eq!(nowhere, Err(ProfileError::NoLength));
    }
}
