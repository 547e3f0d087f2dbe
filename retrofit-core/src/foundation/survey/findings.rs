//! Everything one survey says, beside every published limit.

use super::condition::{CrackFinding, DoorFinding, PlumbFinding};
use super::corrections::{Corrected, Point, SurveyError};
use super::limits::{Compared, Limit, LimitMeasure, LimitValue, Limits};
use super::plane::{FitError, Plane};
use super::profile::{Profile, ProfileError};
use super::surface::Surface;
use super::uncertain::Uncertain;
use crate::house::{House, PlanPoint, Survey};
use crate::measure::Length;
use crate::observation::Truth;

/// What one survey says.
#[derive(Clone, Debug)]
pub struct SurveyFindings<'a> {
    /// The readings, corrected.
    pub corrected: Result<Corrected, SurveyError>,
    /// The plane through them.
    pub plane: Result<Plane, FitError>,
    /// The floor between them.
    pub surface: Result<Surface, FitError>,
    /// The tilt beside every limit for it; none without a plane.
    pub tilt: Vec<Compared<'a>>,
    /// Differences of level beside every limit for them.
    pub levels: Vec<LevelFinding<'a>>,
    /// The floor along every wall line, in the order of the record.
    pub wall_lines: Vec<LineFindings<'a>>,
    /// The cracks, classed.
    pub cracks: Vec<CrackFinding<'a>>,
    /// The doors, classed.
    pub doors: Vec<DoorFinding<'a>>,
    /// The walls.
    pub plumb: Vec<PlumbFinding<'a>>,
    limits: &'a Limits,
}

/// The greatest difference of level between two readings no farther apart than a limit says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LevelFinding<'a> {
    /// The limit.
    pub limit: &'a Limit,
    /// The two points that differ most, as numbers of points; `None` where no two are that near.
    pub pair: Option<(usize, usize)>,
    /// Their difference of height.
    pub difference: Length,
    /// What that can be off either way; `None` where a finish is not known.
    pub off: Option<Length>,
    /// Whether all such pairs keep the limit; *maybe* where there is none.
    pub kept: Truth,
}

/// The floor along one line.
#[derive(Clone, Debug, PartialEq)]
pub struct LineFindings<'a> {
    /// The name of the wall line, or of the line asked for.
    pub name: String,
    /// The profile.
    pub profile: Result<Profile, ProfileError>,
    /// Angular distortion, deflection ratios and slopes beside every limit for them.
    pub compared: Vec<Compared<'a>>,
    /// The same without the readings that stand apart, where there are any: both are shown, none is dropped.
    pub without_apart: Option<Vec<Compared<'a>>>,
}

impl<'a> SurveyFindings<'a> {
    /// Computes everything a survey says of a house.
    pub fn of(house: &'a House, survey: &'a Survey, limits: &'a Limits) -> Self {
        let corrected = Corrected::of(survey, limits);
        let points = corrected.as_ref().map_or(&[][..], |corrected| &corrected.points);
        let plane = Plane::fit(points);
        let surface = Surface::of(points);
        let tilt = plane
            .as_ref()
            .map(|plane| limits.compare(LimitMeasure::Tilt, plane.tilt()))
            .unwrap_or_default();
        let levels = limits
            .of(LimitMeasure::Level)
            .filter_map(|limit| level(limit, points))
            .collect();
        let mut findings = Self {
            corrected,
            plane,
            surface,
            tilt,
            levels,
            wall_lines: Vec::new(),
            cracks: survey
                .cracks
                .listed()
                .iter()
                .map(|crack| CrackFinding::of(crack, limits))
                .collect(),
            doors: survey
                .doors
                .listed()
                .iter()
                .map(|door| DoorFinding::of(door, limits))
                .collect(),
            plumb: survey
                .plumb
                .listed()
                .iter()
                .map(|wall| PlumbFinding::of(wall, limits))
                .collect(),
            limits,
        };
        findings.wall_lines = house
            .wall_lines
            .iter()
            .map(|wall| match wall.plan {
                Some([from, to]) => findings.line(&wall.name, from, to),
                None => LineFindings {
                    name: wall.name.clone(),
                    profile: Err(ProfileError::NoPlace),
                    compared: Vec::new(),
                    without_apart: None,
                },
            })
            .collect();
        findings
    }

    /// The corrected points; none where there are no readings.
    pub fn points(&self) -> &[Point] {
        self.corrected
            .as_ref()
            .map_or(&[][..], |corrected| &corrected.points)
    }

    /// The floor along any line.
    pub fn line(&self, name: &str, from: PlanPoint, to: PlanPoint) -> LineFindings<'a> {
        let points = self.points();
        let plane = self.plane.as_ref().ok();
        let profile = Profile::along(points, plane, self.surface.as_ref().ok(), from, to);
        let compared = profile
            .as_ref()
            .map(|profile| compare(self.limits, profile, plane))
            .unwrap_or_default();
        let without_apart = plane.filter(|plane| !plane.apart.is_empty()).and_then(|plane| {
            let rest: Vec<Point> = points
                .iter()
                .enumerate()
                .filter(|(number, _)| !plane.is_apart(*number))
                .map(|(_, point)| point.clone())
                .collect();
            let without =
                Profile::along(&rest, Some(plane), Surface::of(&rest).ok().as_ref(), from, to).ok()?;
            (Some(&without) != profile.as_ref().ok()).then(|| compare(self.limits, &without, Some(plane)))
        });
        LineFindings {
            name: name.to_owned(),
            profile,
            compared,
            without_apart,
        }
    }

    /// The slope between two readings, from the first to the second; `None` for the same one twice.
    pub fn slope_between(&self, from: usize, to: usize) -> Option<Uncertain> {
        let (a, b) = (self.points().get(from)?, self.points().get(to)?);
        let ([ax, ay], [bx, by]) = (a.xy(), b.xy());
        let run = (bx - ax).hypot(by - ay);
        let rise = b.height.saturating_sub(a.height).as_inches_f64();
        (run > 0.0).then(|| Uncertain::new(rise, a.off_inches() + b.off_inches()).over(run))
    }
}

/// A profile beside every limit for a line.
fn compare<'a>(limits: &'a Limits, profile: &Profile, plane: Option<&Plane>) -> Vec<Compared<'a>> {
    let distortions = profile.distortions(plane);
    let rotations: Vec<Uncertain> = distortions.iter().map(|it| it.rotation.size()).collect();
    let slopes: Vec<Uncertain> = distortions.iter().map(|it| it.slope.size()).collect();
    let whole = profile.deflection();
    // Where the floor never sags, it sags by nothing, give or take what the readings can be off.
    let worst = |hogging: bool| -> Vec<Uncertain> {
        let found = profile.worst_deflection(hogging).map(|found| found.ratio.size());
        let nothing = whole.map(|whole| Uncertain::new(0.0, whole.ratio.off));
        found.or(nothing).into_iter().collect()
    };
    let (sagging, hogging) = (worst(false), worst(true));
    let mut either: Vec<Uncertain> = whole.iter().map(|whole| whole.ratio.size()).collect();
    either.extend(sagging.iter().chain(&hogging));
    [
        (LimitMeasure::AngularDistortion, rotations),
        (LimitMeasure::DeflectionRatio, either),
        (LimitMeasure::SaggingRatio, sagging),
        (LimitMeasure::HoggingRatio, hogging),
        (LimitMeasure::Slope, slopes),
    ]
    .into_iter()
    .flat_map(|(measure, values)| compare_all(limits, measure, &values))
    .collect()
}

/// Several values of one measure beside every limit for it: the greatest is shown, and all have to keep it.
fn compare_all<'a>(limits: &'a Limits, measure: LimitMeasure, values: &[Uncertain]) -> Vec<Compared<'a>> {
    let Some(greatest) = values
        .iter()
        .copied()
        .max_by(|a, b| a.likely.total_cmp(&b.likely))
    else {
        return Vec::new();
    };
    limits
        .of(measure)
        .filter_map(|limit| {
            let ratio = limit.value.ratio()?;
            Some(Compared {
                limit,
                value: greatest,
                kept: values
                    .iter()
                    .fold(Truth::True, |kept, value| kept.and(value.at_most(ratio))),
            })
        })
        .collect()
}

/// Every pair of points no farther apart than the limit says, compared exactly.
fn level<'a>(limit: &'a Limit, points: &[Point]) -> Option<LevelFinding<'a>> {
    let LimitValue::Within(rise, distance) = limit.value else {
        return None;
    };
    let square = |length: Length| i128::from(length.nanometers()) * i128::from(length.nanometers());
    let is_near = |a: &Point, b: &Point| {
        square(a.at.x.abs_diff(b.at.x)) + square(a.at.y.abs_diff(b.at.y)) <= square(distance)
    };
    let mut found = LevelFinding {
        limit,
        pair: None,
        difference: Length::ZERO,
        off: None,
        kept: Truth::True,
    };
    for (number, a) in points.iter().enumerate() {
        for (other, b) in points.iter().enumerate().skip(number + 1) {
            if !is_near(a, b) {
                continue;
            }
            let difference = a.height.abs_diff(b.height);
            let off = a.off.zip(b.off).map(|(a, b)| a.saturating_add(b));
            let kept = match off {
                None => Truth::Maybe,
                Some(off) => Truth::from_cases(
                    difference.saturating_sub(off) <= rise,
                    difference.saturating_add(off) <= rise,
                ),
            };
            found.kept = found.kept.and(kept);
            if found.pair.is_none() || difference > found.difference {
                found.pair = Some((number, other));
                found.difference = difference;
                found.off = off;
            }
        }
    }
    if found.pair.is_none() {
        found.kept = Truth::Maybe;
    }
    Some(found)
}
