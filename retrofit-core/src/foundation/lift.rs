//! A plan for lifting a floor in steps, from its level survey.
//!
//! What is aimed at is not a flat floor unless that is asked for: it is the plane of the part that still stands,
//! which is what lies within the tolerance below the lowest lid that fits over the floor. What is within the tolerance stays as it is, and nothing is ever lowered: what stands above the
//! plane is told, not moved.
//!
//! The lowest place goes first; each other joins when the lowest has come up to it. So no two neighbors are ever
//! further out of line than they were before the work, and a step moves neighbors apart by no more than it is
//! high. [`check_plan`] recomputes all of that from the table of steps alone.
//!
//! A plan says what is lifted where and in what order. It does not say that a house can stand it: a licensed
//! engineer designs a lift, and [`Gate`](super::shoring::Gate)s tell what stops it.

use std::collections::BTreeSet;

use super::shoring::{Pace, ShoringFigures};
use super::survey::{Corrected, FinishStep, FitError, Plane, Point, Surface};
use crate::house::PlanPoint;
use crate::measure::Length;

/// A plan of more steps than this is a slip of the pen.
pub const MOST_STEPS: usize = 2_000;

/// Readings whose spread across is less than this share of their spread along stand in a line.
const NARROWEST: f64 = 0.01;

/// Heights nearer together than this, in inches, are alike: what rounding leaves.
const ROUNDING: f64 = 1e-6;

/// What the floor is brought to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LiftTarget {
    /// The plane of the part that still stands, whatever its tilt.
    StandingPlane,
    /// Level, at the height of the highest reading.
    Level,
}

/// How a lift is planned.
///
/// ```
/// use retrofit_core::foundation::lift::LiftSettings;
/// use retrofit_core::foundation::shoring::ShoringFigures;
/// use retrofit_core::measure::Length;
/// let figures = ShoringFigures::shipped().expect("the shipped table is in order");
/// let settings = LiftSettings::of(figures);
/// assert_eq!(settings.pace.name, "eighth-a-week");
/// assert_eq!(settings.largest_step, Length::sixty_fourths(8));
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct LiftSettings {
    /// What the floor is brought to.
    pub target: LiftTarget,
    /// A place this near to it, or nearer, is left as it is.
    pub tolerance: Length,
    /// No place is lifted more than this in all.
    pub most_lift: Option<Length>,
    /// Every rise is a multiple of this.
    pub grid: Length,
    /// The most that a place rises in one step.
    pub largest_step: Length,
    /// The most by which the rises of two neighbors differ in one step.
    pub neighbor_step: Length,
    /// The most that a place rises in so many days.
    pub pace: Pace,
}

impl LiftSettings {
    /// The settings that the table gives, with the first of every figure that it holds several of.
    pub fn of(figures: &ShoringFigures) -> Self {
        let length = Length::nearest_inches;
        Self {
            target: LiftTarget::StandingPlane,
            tolerance: length(figures.lift_tolerance.low),
            most_lift: None,
            grid: Length::sixty_fourths(4),
            largest_step: length(figures.lift_steps.first().map_or(0.0, |step| step.figure.low)),
            neighbor_step: length(figures.neighbor_step.low),
            pace: figures.paces.first().cloned().unwrap_or_else(|| Pace {
                name: String::new(),
                rise: 0.0,
                days: 1,
                published: (&figures.lift_tolerance).into(),
                pitch: None,
            }),
        }
    }

    /// Whether every number is one that a lift can have; the error is [`LiftError::Setting`].
    pub fn check(&self) -> Result<(), LiftError> {
        Grid::of(self).map(|_| ())
    }

    fn pace_rise(&self) -> Length {
        Length::nearest_inches(self.pace.rise)
    }
}

/// A jack, where the plan is asked for other places than those of the readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JackStation {
    /// Its name.
    pub label: String,
    /// Where it stands.
    pub at: PlanPoint,
}

/// Why no plan can be made.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum LiftError {
    /// No plane can be had.
    #[error(transparent)]
    Fit(#[from] FitError),
    /// A setting that cannot be.
    #[error("found {found} for the {what}; expected {expected}")]
    Setting {
        /// Which one.
        what: &'static str,
        /// What was found.
        found: Length,
        /// What was expected.
        expected: String,
    },
    /// More steps than anybody would take.
    #[error("found a lift of {lift} in steps of {step}; expected at most {MOST_STEPS} steps")]
    TooManySteps {
        /// The largest lift.
        lift: Length,
        /// The step.
        step: Length,
    },
}

/// Why a place takes no part in the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOutBecause {
    /// Its reading stands apart from all others: to be read again before anything is lifted there.
    StandsApart,
    /// The thickness of its finish is not known, and so not its height.
    FinishUnknown,
    /// It lies beyond the outermost readings.
    BeyondReadings,
}

impl LeftOutBecause {
    /// The reason in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::StandsApart => "stands apart from the other readings; read it again",
            Self::FinishUnknown => "the thickness of its finish is not known",
            Self::BeyondReadings => "lies beyond the outermost readings",
        }
    }
}

/// A place that takes no part in the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// Its name.
    pub label: String,
    /// Where it is.
    pub at: PlanPoint,
    /// Why.
    pub because: LeftOutBecause,
}

/// A place of the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LiftJack {
    /// Its name.
    pub label: String,
    /// Where it stands.
    pub at: PlanPoint,
    /// The height of the floor there now, above the base of the survey.
    pub now: Length,
    /// What that can be off.
    pub off: Length,
    /// The height that is aimed at.
    pub target: Length,
    /// What it is lifted in all; nothing where it is near enough.
    pub lift: Length,
}

/// One step: every place rises by so much, the crib follows, everything is looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LiftStep {
    /// The day, from 1.
    pub day: u32,
    /// What each place rises in it, in the order of the jacks.
    pub rises: Vec<Length>,
}

/// A place at the end of the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Residual {
    /// How far it then lies below what is aimed at; above it, less than zero.
    pub below: Length,
    /// Whether that is within the tolerance.
    pub is_within: bool,
}

/// A plan for a lift.
#[derive(Clone, Debug, PartialEq)]
pub struct LiftPlan {
    /// How it was planned.
    pub settings: LiftSettings,
    /// The slope of what is aimed at, inches for each inch toward the east and the north.
    pub slope: [f64; 2],
    /// The places, those that stay among them.
    pub jacks: Vec<LiftJack>,
    /// Which of them are neighbors.
    pub neighbors: Vec<(usize, usize)>,
    /// The steps, in order.
    pub steps: Vec<LiftStep>,
    /// What takes no part, and why.
    pub left_out: Vec<LeftOut>,
}

impl LiftPlan {
    /// Plans the lift of the places of a survey.
    ///
    /// ```
    /// use retrofit_core::foundation::lift::{LiftPlan, LiftSettings, check_plan};
    /// use retrofit_core::foundation::shoring::ShoringFigures;
    /// use retrofit_core::foundation::survey::{Corrected, Limits};
    /// use retrofit_core::house::Survey;
    /// use retrofit_core::measure::Length;
    /// let survey: Survey = serde_json::from_str(r#"{"date": "2026-05-04", "readings": [
    ///     {"at": {"x": "0 ft", "y": "0 ft"}, "height": "-1 in", "finish": "bare"},
    ///     {"at": {"x": "12 ft", "y": "0 ft"}, "height": "0 in", "finish": "bare"},
    ///     {"at": {"x": "0 ft", "y": "12 ft"}, "height": "0 in", "finish": "bare"},
    ///     {"at": {"x": "12 ft", "y": "12 ft"}, "height": "0 in", "finish": "bare"}
    /// ]}"#)?;
    /// let corrected = Corrected::of(&survey, Limits::shipped()).expect("it has readings");
    /// let settings = LiftSettings::of(ShoringFigures::shipped().expect("the shipped table is in order"));
    /// let plan = LiftPlan::of(&corrected, settings).expect("the readings span a floor");
    /// assert_eq!(plan.jacks[0].lift, Length::inches(1));
    /// assert_eq!((plan.steps.len(), plan.days()), (8, 50), "an eighth in a week");
    /// assert!(check_plan(&plan, &plan.settings).is_empty());
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    pub fn of(corrected: &Corrected, settings: LiftSettings) -> Result<Self, LiftError> {
        Self::plan(corrected, None, settings)
    }

    /// Plans the lift with jacks at places of one's own; the floor between the readings is that of the
    /// [`Surface`].
    pub fn with_jacks(
        corrected: &Corrected,
        jacks: &[JackStation],
        settings: LiftSettings,
    ) -> Result<Self, LiftError> {
        Self::plan(corrected, Some(jacks), settings)
    }

    fn plan(
        corrected: &Corrected,
        stations: Option<&[JackStation]>,
        settings: LiftSettings,
    ) -> Result<Self, LiftError> {
        let grid = Grid::of(&settings)?;
        // All is reckoned in heights below the highest reading, so that nothing hangs on the base.
        let base = corrected.points.iter().map(|point| point.height).max();
        let base = base.unwrap_or_default();
        let lowered = corrected.points.iter().map(|point| Point {
            height: point.height.saturating_sub(base),
            ..point.clone()
        });
        let (used, mut left_out) = usable(&lowered.collect::<Vec<_>>())?;
        let aim = match settings.target {
            LiftTarget::StandingPlane => Aim::standing(&used, settings.tolerance)?,
            LiftTarget::Level => Aim::level(&used),
        };
        let places = match stations {
            None => used,
            Some(stations) => at_stations(stations, &used, &mut left_out)?,
        };
        let jacks: Vec<LiftJack> = places
            .iter()
            .map(|place| {
                let target = Length::nearest_inches(aim.height_at(place.xy()));
                LiftJack {
                    label: place.label.clone(),
                    at: place.at,
                    now: place.height.saturating_add(base),
                    off: place.off.unwrap_or_default(),
                    target: target.saturating_add(base),
                    lift: grid.lift(target.saturating_sub(place.height), &settings),
                }
            })
            .collect();
        let neighbors = neighbors(&places);
        Ok(Self {
            slope: aim.slope,
            steps: grid.steps(&jacks, &settings)?,
            jacks,
            neighbors,
            left_out,
            settings,
        })
    }

    /// The heights of the floor at every place after so many steps; after none, as they are now.
    pub fn heights_after(&self, steps: usize) -> Vec<Length> {
        let mut heights: Vec<Length> = self.jacks.iter().map(|jack| jack.now).collect();
        for step in self.steps.iter().take(steps) {
            for (height, rise) in heights.iter_mut().zip(&step.rises) {
                *height = height.saturating_add(*rise);
            }
        }
        heights
    }

    /// The floor at every place after so many steps, as readings of it would be.
    pub fn floor_after(&self, steps: usize) -> Vec<Point> {
        let heights = self.heights_after(steps);
        let places = self.jacks.iter().zip(heights).enumerate();
        places
            .map(|(number, (jack, height))| Point {
                reading: number,
                label: jack.label.clone(),
                at: jack.at,
                read: height,
                drift: Length::ZERO,
                finish: FinishStep::Alike,
                height,
                off: Some(jack.off),
            })
            .collect()
    }

    /// What every place has risen after so many steps.
    pub fn totals_after(&self, steps: usize) -> Vec<Length> {
        let heights = self.heights_after(steps);
        let rises = heights.iter().zip(&self.jacks);
        rises
            .map(|(height, jack)| height.saturating_sub(jack.now))
            .collect()
    }

    /// What is left at every place in the end.
    pub fn residuals(&self) -> Vec<Residual> {
        let after = self.heights_after(self.steps.len());
        let ends = after.iter().zip(&self.jacks);
        ends.map(|(height, jack)| Residual {
            below: jack.target.saturating_sub(*height),
            is_within: jack.target.abs_diff(*height) <= self.settings.tolerance,
        })
        .collect()
    }

    /// The places whose height can be off by more than the tolerance: they are to be read better first.
    pub fn uncertain(&self) -> impl Iterator<Item = &LiftJack> {
        self.jacks
            .iter()
            .filter(|jack| jack.off > self.settings.tolerance)
    }

    /// The day of the last step; 0 where nothing is lifted.
    pub fn days(&self) -> u32 {
        self.steps.last().map_or(0, |step| step.day)
    }
}

/// The readings that a plan can go by, and those it leaves out.
fn usable(points: &[Point]) -> Result<(Vec<Point>, Vec<LeftOut>), FitError> {
    let plane = Plane::fit(points)?;
    let mut left_out = Vec::new();
    let mut used = Vec::new();
    for (number, point) in points.iter().enumerate() {
        let because = if point.off.is_none() {
            LeftOutBecause::FinishUnknown
        } else if plane.is_apart(number) {
            LeftOutBecause::StandsApart
        } else {
            used.push(point.clone());
            continue;
        };
        left_out.push(LeftOut {
            label: point.label.clone(),
            at: point.at,
            because,
        });
    }
    if used.len() < 3 {
        return Err(FitError::TooFew { found: used.len() });
    }
    Ok((used, left_out))
}

/// Places of one's own, with the height of the floor there.
fn at_stations(
    stations: &[JackStation],
    points: &[Point],
    left_out: &mut Vec<LeftOut>,
) -> Result<Vec<Point>, FitError> {
    let surface = Surface::of(points)?;
    // A height between readings is no better known than the least known of them.
    let off = points.iter().filter_map(|point| point.off).max();
    let mut places = Vec::new();
    for station in stations {
        let Some((height, pattern)) = surface.height_at(station.at).zip(points.first()) else {
            left_out.push(LeftOut {
                label: station.label.clone(),
                at: station.at,
                because: LeftOutBecause::BeyondReadings,
            });
            continue;
        };
        places.push(Point {
            label: station.label.clone(),
            at: station.at,
            height: Length::nearest_inches(height),
            off,
            ..pattern.clone()
        });
    }
    Ok(places)
}

/// Which places are neighbors: those that a side of a triangle joins; in a row, those that follow on each other.
fn neighbors(places: &[Point]) -> Vec<(usize, usize)> {
    let mut pairs = BTreeSet::new();
    if let Ok(surface) = Surface::of(places) {
        for [a, b, c] in surface.triangles() {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                pairs.insert((*from.min(to), *from.max(to)));
            }
        }
    } else {
        let mut row: Vec<(PlanPoint, usize)> = places.iter().map(|place| place.at).zip(0..).collect();
        row.sort_by_key(|(at, number)| (at.x, at.y, *number));
        for ((_, from), (_, to)) in row.iter().zip(row.iter().skip(1)) {
            pairs.insert((*from.min(to), *from.max(to)));
        }
    }
    pairs.into_iter().collect()
}

/// What is aimed at, as numbers in inches below the highest reading.
#[derive(Clone, Copy, Debug, Default)]
struct Aim {
    center: [f64; 2],
    height: f64,
    slope: [f64; 2],
}

impl Aim {
    /// The plane of the part that still stands: of the planes that no reading rises above, the one that asks for
    /// the least lift; then the least-squares plane of the readings that lie within the tolerance below it. A fit
    /// to all readings would lean toward what has sunk.
    fn standing(points: &[Point], tolerance: Length) -> Result<Self, FitError> {
        let everyone: Vec<&Point> = points.iter().collect();
        let fitted = Self::through(&everyone).ok_or(FitError::Collinear)?;
        let Some(lid) = Self::lid(points, fitted.center)? else {
            return Ok(fitted);
        };
        let standing: Vec<&Point> = everyone
            .into_iter()
            .filter(|point| lid.above(point) <= tolerance.as_inches_f64() + ROUNDING)
            .collect();
        Ok(Self::through(&standing).unwrap_or(lid))
    }

    /// Of the planes that no reading rises above, the one that is lowest over the middle of the readings, and so
    /// lowest on average. It rests on three readings around the middle that, joined by a triangle, are highest
    /// there; they are looked for among the outermost readings, and whatever rises above joins the search.
    fn lid(points: &[Point], center: [f64; 2]) -> Result<Option<Self>, FitError> {
        let edge = Surface::of(points)?.edge();
        let mut held: Vec<&Point> = edge.iter().filter_map(|number| points.get(*number)).collect();
        let mut lid = Self::highest_around(&held, center);
        while let Some(found) = lid {
            let risen = points
                .iter()
                .filter(|point| found.above(point) < -ROUNDING && !held.contains(point))
                .min_by(|a, b| found.above(a).total_cmp(&found.above(b)));
            let Some(risen) = risen else { break };
            held.push(risen);
            lid = Self::highest_around(&held, center);
        }
        Ok(lid)
    }

    /// The plane of three points around a place that is highest there; of planes alike, the one above which the
    /// points rise least, and of those the one that tilts least, since a floor was once built level.
    fn highest_around(points: &[&Point], center: [f64; 2]) -> Option<Self> {
        let mut best: Option<(Self, f64)> = None;
        for (first, a) in points.iter().enumerate() {
            for (second, b) in points.iter().enumerate().skip(first + 1) {
                for c in points.iter().skip(second + 1) {
                    let Some(plane) = Self::over([a, b, c], center) else {
                        continue;
                    };
                    // To look at every point takes longest, and is done last.
                    let is_higher = best.is_none_or(|(best, _)| plane.height > best.height + ROUNDING);
                    let may_do = best.is_none_or(|(best, over)| {
                        plane.height >= best.height - ROUNDING
                            && (over > ROUNDING || plane.tilt() < best.tilt())
                    });
                    if !is_higher && !may_do {
                        continue;
                    }
                    let over = points.iter().map(|point| -plane.above(point)).fold(0.0, f64::max);
                    if is_higher || best.is_none_or(|(_, least)| over <= least.max(ROUNDING)) {
                        best = Some((plane, over));
                    }
                }
            }
        }
        best.map(|(plane, _)| plane)
    }

    fn tilt(&self) -> f64 {
        self.slope[0].hypot(self.slope[1])
    }

    /// The plane through three points; `None` unless they stand around the place.
    fn over(corners: [&Point; 3], center: [f64; 2]) -> Option<Self> {
        let [a, b, c] = corners.map(|point| [point.xy()[0] - center[0], point.xy()[1] - center[1]]);
        let cross = |p: [f64; 2], q: [f64; 2]| p[0] * q[1] - p[1] * q[0];
        let shares = [cross(b, c), cross(c, a), cross(a, b)];
        let area: f64 = shares.iter().sum();
        if area.abs() < 1.0 || shares.iter().any(|share| share / area < -1e-12) {
            return None;
        }
        let heights = corners.map(|point| point.height.as_inches_f64());
        let weigh = |of: [f64; 3]| {
            of.iter()
                .zip(heights)
                .map(|(part, height)| part * height)
                .sum::<f64>()
                / area
        };
        Some(Self {
            center,
            height: weigh(shares),
            slope: [
                weigh([b[1] - c[1], c[1] - a[1], a[1] - b[1]]),
                weigh([c[0] - b[0], a[0] - c[0], b[0] - a[0]]),
            ],
        })
    }

    /// How far the plane lies above a point.
    fn above(&self, point: &Point) -> f64 {
        self.height_at(point.xy()) - point.height.as_inches_f64()
    }

    /// Level at the highest of the places.
    fn level(points: &[Point]) -> Self {
        let highest = points.iter().map(|point| point.height).max();
        Self {
            height: highest.unwrap_or_default().as_inches_f64(),
            ..Self::default()
        }
    }

    /// The least-squares plane; `None` for fewer than three points and for points in a line.
    fn through(points: &[&Point]) -> Option<Self> {
        if points.len() < 3 {
            return None;
        }
        let count: f64 = points.iter().map(|_| 1.0).sum();
        let mean = |of: &dyn Fn(&Point) -> f64| points.iter().map(|point| of(point)).sum::<f64>() / count;
        let center = [mean(&|point| point.xy()[0]), mean(&|point| point.xy()[1])];
        let height = mean(&|point| point.height.as_inches_f64());
        let away = |point: &Point| [point.xy()[0] - center[0], point.xy()[1] - center[1]];
        let rise = |point: &Point| point.height.as_inches_f64() - height;
        let xx = mean(&|point| away(point)[0] * away(point)[0]);
        let xy = mean(&|point| away(point)[0] * away(point)[1]);
        let yy = mean(&|point| away(point)[1] * away(point)[1]);
        let xh = mean(&|point| away(point)[0] * rise(point));
        let yh = mean(&|point| away(point)[1] * rise(point));
        let determinant = xx * yy - xy * xy;
        if determinant <= (NARROWEST * (xx + yy)).powi(2) {
            return None;
        }
        Some(Self {
            center,
            height,
            slope: [
                (xh * yy - yh * xy) / determinant,
                (yh * xx - xh * xy) / determinant,
            ],
        })
    }

    fn height_at(&self, [x, y]: [f64; 2]) -> f64 {
        self.height + self.slope[0] * (x - self.center[0]) + self.slope[1] * (y - self.center[1])
    }
}

/// Lifts in whole numbers of the smallest rise.
#[derive(Clone, Copy, Debug)]
struct Grid {
    nanometers: i64,
    step: i64,
    steps_an_interval: i64,
}

impl Grid {
    fn of(settings: &LiftSettings) -> Result<Self, LiftError> {
        let nanometers = settings.grid.nanometers();
        let fault = |what, found, expected: String| {
            Err(LiftError::Setting {
                what,
                found,
                expected,
            })
        };
        if nanometers <= 0 {
            return fault("smallest rise", settings.grid, "more than nothing".into());
        }
        if settings.tolerance < Length::ZERO {
            return fault("tolerance", settings.tolerance, "nothing or more".into());
        }
        if let Some(most) = settings.most_lift.filter(|most| *most < Length::ZERO) {
            return fault("most that is lifted", most, "nothing or more".into());
        }
        let pace = settings.pace_rise();
        for (what, length) in [
            ("largest step", settings.largest_step),
            ("largest difference between neighbors", settings.neighbor_step),
            ("rise that the pace lets through", pace),
        ] {
            if length < settings.grid {
                return fault(
                    what,
                    length,
                    format!("at least {}, the smallest rise", settings.grid),
                );
            }
        }
        let least = settings.largest_step.min(settings.neighbor_step).min(pace);
        let step = least.nanometers() / nanometers;
        Ok(Self {
            nanometers,
            step,
            steps_an_interval: (pace.nanometers() / nanometers / step).max(1),
        })
    }

    /// What a place is lifted that lies so far below what is aimed at.
    fn lift(self, gap: Length, settings: &LiftSettings) -> Length {
        if gap <= settings.tolerance {
            return Length::ZERO;
        }
        let nearest = gap.nanometers().saturating_add(self.nanometers / 2) / self.nanometers;
        let most = settings
            .most_lift
            .map_or(i64::MAX, |most| most.nanometers() / self.nanometers);
        self.length(nearest.min(most))
    }

    fn length(self, count: i64) -> Length {
        Length::from_nanometers(self.nanometers.saturating_mul(count))
    }

    /// The lowest first: at every step, what is left to lift is cut down to a bound that falls by one step.
    fn steps(self, jacks: &[LiftJack], settings: &LiftSettings) -> Result<Vec<LiftStep>, LiftError> {
        let left: Vec<i64> = jacks
            .iter()
            .map(|jack| jack.lift.nanometers() / self.nanometers)
            .collect();
        let largest = left.iter().copied().max().unwrap_or_default();
        let too_many = LiftError::TooManySteps {
            lift: self.length(largest),
            step: self.length(self.step),
        };
        let count = usize::try_from(largest.div_euclid(self.step)).unwrap_or(usize::MAX);
        if count > MOST_STEPS {
            return Err(too_many);
        }
        let mut steps = Vec::new();
        let mut bound = largest;
        let mut day = 1_u32;
        let mut in_interval = 0;
        while bound > 0 {
            let next = (bound - self.step).max(0);
            let rises = left.iter().map(|left| (left - next).clamp(0, bound - next));
            if in_interval == self.steps_an_interval {
                in_interval = 0;
                day = day.saturating_add(settings.pace.days);
            }
            in_interval += 1;
            steps.push(LiftStep {
                day,
                rises: rises.map(|rise| self.length(rise)).collect(),
            });
            bound = next;
        }
        Ok(steps)
    }
}

/// Something that a plan does not keep.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LiftFault {
    /// A step has a rise for other than every place.
    #[error("step {step} gives {found} rises; expected {expected}, one for each place")]
    Places {
        /// The step, from 1.
        step: usize,
        /// Rises found.
        found: usize,
        /// Places.
        expected: usize,
    },
    /// A step lies on an earlier day than the one before it.
    #[error("step {step} is on day {day}, before the step that it follows")]
    Order {
        /// The step, from 1.
        step: usize,
        /// Its day.
        day: u32,
    },
    /// A place goes down.
    #[error("step {step} moves {jack:?} by {rise}; expected nothing to be lowered")]
    Lowered {
        /// The step, from 1.
        step: usize,
        /// The place.
        jack: String,
        /// What it moves.
        rise: Length,
    },
    /// A step is too large.
    #[error("step {step} lifts {jack:?} by {rise}; expected at most {most}")]
    Step {
        /// The step, from 1.
        step: usize,
        /// The place.
        jack: String,
        /// Its rise.
        rise: Length,
        /// The most.
        most: Length,
    },
    /// Two neighbors rise too differently in a step.
    #[error("step {step} lifts {between:?} by amounts that differ by {found}; expected at most {most}")]
    Neighbors {
        /// The step, from 1.
        step: usize,
        /// The two.
        between: (String, String),
        /// By how much.
        found: Length,
        /// The most.
        most: Length,
    },
    /// A place rises too much in the days of the pace.
    #[error("from day {day} on {jack:?} rises by {found} within {days} days; expected at most {most}")]
    Pace {
        /// The first day.
        day: u32,
        /// The days of the pace.
        days: u32,
        /// The place.
        jack: String,
        /// Its rise in those days.
        found: Length,
        /// The most.
        most: Length,
    },
    /// Two neighbors are further out of line than before the work.
    #[error("after step {step} {between:?} are {found} out of line; expected at most {most}")]
    OutOfLine {
        /// The step, from 1.
        step: usize,
        /// The two.
        between: (String, String),
        /// By how much.
        found: Length,
        /// The most: as before, or the tolerance.
        most: Length,
    },
    /// A place does not end where it should.
    #[error("{jack:?} ends {found} below what is aimed at; expected {expected}")]
    End {
        /// The place.
        jack: String,
        /// Where it ends.
        found: Length,
        /// Where it should.
        expected: &'static str,
    },
}

/// Checks a plan from its table of steps, the heights now and the heights aimed at; by nothing that the planning
/// computed besides. An empty list is no word on whether the house can stand the lift.
pub fn check_plan(plan: &LiftPlan, settings: &LiftSettings) -> Vec<LiftFault> {
    let mut faults = Vec::new();
    let places = plan.jacks.len();
    for (step, found) in (1..).zip(plan.steps.iter().map(|step| step.rises.len())) {
        if found != places {
            faults.push(LiftFault::Places {
                step,
                found,
                expected: places,
            });
        }
    }
    if !faults.is_empty() {
        return faults;
    }
    let label = |number: usize| {
        plan.jacks
            .get(number)
            .map_or(String::new(), |jack| jack.label.clone())
    };
    let mut gaps: Vec<Length> = plan
        .jacks
        .iter()
        .map(|jack| jack.target.saturating_sub(jack.now))
        .collect();
    let apart = |lengths: &[Length], (a, b): (usize, usize)| match (lengths.get(a), lengths.get(b)) {
        (Some(a), Some(b)) => a.abs_diff(*b),
        _ => Length::ZERO,
    };
    let before = gaps.clone();
    let slack = settings.tolerance.saturating_add(settings.grid);
    let mut day = 0;
    for (number, step) in (1..).zip(&plan.steps) {
        if step.day < day {
            faults.push(LiftFault::Order {
                step: number,
                day: step.day,
            });
        }
        day = step.day;
        for ((rise, jack), gap) in step.rises.iter().zip(&plan.jacks).zip(&mut gaps) {
            *gap = gap.saturating_sub(*rise);
            if *rise < Length::ZERO {
                faults.push(LiftFault::Lowered {
                    step: number,
                    jack: jack.label.clone(),
                    rise: *rise,
                });
            }
            if *rise > settings.largest_step {
                faults.push(LiftFault::Step {
                    step: number,
                    jack: jack.label.clone(),
                    rise: *rise,
                    most: settings.largest_step,
                });
            }
        }
        for pair in &plan.neighbors {
            let between = (label(pair.0), label(pair.1));
            let found = apart(&step.rises, *pair);
            if found > settings.neighbor_step {
                faults.push(LiftFault::Neighbors {
                    step: number,
                    between: between.clone(),
                    found,
                    most: settings.neighbor_step,
                });
            }
            let (found, most) = (apart(&gaps, *pair), apart(&before, *pair).max(slack));
            if found > most {
                faults.push(LiftFault::OutOfLine {
                    step: number,
                    between,
                    found,
                    most,
                });
            }
        }
    }
    check_pace(plan, settings, &mut faults);
    check_ends(plan, settings, &gaps, &mut faults);
    faults
}

fn check_pace(plan: &LiftPlan, settings: &LiftSettings, faults: &mut Vec<LiftFault>) {
    let most = settings.pace_rise();
    for (first, step) in plan.steps.iter().enumerate() {
        let end = step.day.saturating_add(settings.pace.days);
        for (number, jack) in plan.jacks.iter().enumerate() {
            let found = plan
                .steps
                .iter()
                .skip(first)
                .take_while(|later| later.day < end)
                .filter_map(|later| later.rises.get(number))
                .fold(Length::ZERO, |sum, rise| sum.saturating_add(*rise));
            if found > most {
                faults.push(LiftFault::Pace {
                    day: step.day,
                    days: settings.pace.days,
                    jack: jack.label.clone(),
                    found,
                    most,
                });
            }
        }
    }
}

fn check_ends(plan: &LiftPlan, settings: &LiftSettings, gaps: &[Length], faults: &mut Vec<LiftFault>) {
    for (jack, gap) in plan.jacks.iter().zip(gaps) {
        let needed = jack.target.saturating_sub(jack.now);
        let risen = needed.saturating_sub(*gap);
        let (kept, expected) = if needed <= settings.tolerance {
            (risen == Length::ZERO, "no lift, as it was near enough")
        } else if let Some(most) = settings.most_lift.filter(|most| needed > *most) {
            let short = most.saturating_sub(risen);
            (
                Length::ZERO <= short && short < settings.grid,
                "the most that may be lifted",
            )
        } else {
            // Half a grid, and a nanometer for what halving an odd number loses.
            let near = settings.grid.nanometers() / 2 + 1;
            (
                gap.nanometers().saturating_abs() <= near,
                "what is aimed at, to half the smallest rise",
            )
        };
        if !kept {
            faults.push(LiftFault::End {
                jack: jack.label.clone(),
                found: *gap,
                expected,
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;
    use serde_json::json;

    use super::*;
    use crate::foundation::survey::Limits;
    use crate::house::Survey;

    const COLUMNS: i64 = 5;
    const ROWS: i64 = 4;

    /// A survey of 5 by 4 readings, 10 ft apart, of heights in sixty-fourths of an inch.
    fn survey(height: impl Fn(i64, i64) -> Length) -> Corrected {
        let mut readings = Vec::new();
        for (x, y) in (0..COLUMNS).flat_map(|x| (0..ROWS).map(move |y| (x, y))) {
            readings.push(json!({
                "label": format!("{x}{y}"), "height": height(x, y), "finish": "bare",
                "at": {"x": format!("{} ft", 10 * x), "y": format!("{} ft", 10 * y)},
            }));
        }
        let survey: Survey =
            serde_json::from_value(json!({"date": "2026-05-04", "readings": readings})).unwrap();
        Corrected::of(&survey, Limits::shipped()).unwrap()
    }

    fn settings() -> LiftSettings {
        LiftSettings::of(ShoringFigures::shipped().unwrap())
    }

    fn sixty_fourths(count: i64) -> Length {
        Length::sixty_fourths(count)
    }

    /// The corner at 0, 0 has sunk 1-1/2 in, and what lies around it less; the rest tilts 1/8 in in 10 ft.
    fn sunk_corner(x: i64, y: i64) -> Length {
        let sunk = match x + y {
            0 => 96,
            1 => 56,
            2 => 40,
            _ => 0,
        };
        sixty_fourths(8 * x - sunk)
    }

    fn jack<'a>(plan: &'a LiftPlan, label: &str) -> &'a LiftJack {
        plan.jacks.iter().find(|jack| jack.label == label).unwrap()
    }

    #[test]
    fn a_sunk_corner_comes_back_to_the_tilt_of_the_rest() {
        let plan = LiftPlan::of(&survey(sunk_corner), settings()).unwrap();
        for (label, lift) in [
            ("00", 96),
            ("01", 56),
            ("10", 56),
            ("11", 40),
            ("42", 0),
            ("30", 0),
        ] {
            assert_eq!(jack(&plan, label).lift, sixty_fourths(lift), "{label}");
        }
        assert!((plan.slope[0] - 0.125 / 120.0).abs() < 1e-9 && plan.slope[1].abs() < 1e-9);
        assert_eq!(plan.steps.len(), 12, "96 sixty-fourths by 8");
        assert_eq!(plan.days(), 1 + 11 * 7);
        // The corner alone, until it is as low as what lies beside it.
        let moved = |step: &LiftStep| step.rises.iter().filter(|rise| **rise > Length::ZERO).count();
        assert_eq!(
            plan.steps.iter().map(moved).collect::<Vec<_>>(),
            [1, 1, 1, 1, 1, 3, 3, 6, 6, 6, 6, 6]
        );
        assert!(plan.residuals().iter().all(|end| end.is_within));
        assert_eq!(check_plan(&plan, &plan.settings), []);
        assert_eq!(
            plan.heights_after(0),
            plan.jacks.iter().map(|jack| jack.now).collect::<Vec<_>>()
        );
    }

    #[test]
    fn level_is_only_where_it_is_asked_for() {
        let level = LiftSettings {
            target: LiftTarget::Level,
            ..settings()
        };
        let plan = LiftPlan::of(&survey(sunk_corner), level).unwrap();
        assert!(plan.slope.iter().all(|part| part.abs() < f64::EPSILON));
        assert_eq!(jack(&plan, "00").lift, sixty_fourths(32 + 96));
        assert_eq!(
            jack(&plan, "33").lift,
            Length::ZERO,
            "an eighth is within the tolerance"
        );
        assert_eq!(check_plan(&plan, &plan.settings), []);
    }

    #[test]
    fn no_place_is_lifted_beyond_the_most() {
        let capped = LiftSettings {
            most_lift: Some(Length::inches(1)),
            ..settings()
        };
        let plan = LiftPlan::of(&survey(sunk_corner), capped).unwrap();
        assert_eq!(jack(&plan, "00").lift, Length::inches(1));
        let ends = plan.residuals();
        assert_eq!(ends[0].below, sixty_fourths(32));
        assert!(!ends[0].is_within);
        assert_eq!(check_plan(&plan, &plan.settings), []);
    }

    #[test]
    fn a_blunder_is_named_and_not_lifted() {
        let with_blunder = survey(|x, y| {
            if (x, y) == (2, 2) {
                Length::inches(-3)
            } else {
                Length::ZERO
            }
        });
        let plan = LiftPlan::of(&with_blunder, settings()).unwrap();
        assert_eq!(plan.left_out.len(), 1);
        assert_eq!(plan.left_out[0].label, "22");
        assert_eq!(plan.left_out[0].because, LeftOutBecause::StandsApart);
        assert!(
            plan.jacks
                .iter()
                .all(|jack| jack.label != "22" && jack.lift == Length::ZERO)
        );
        assert!(plan.steps.is_empty());
    }

    #[test]
    fn a_finish_of_unknown_thickness_is_not_lifted_and_a_coarse_reading_is_told() {
        let mut corrected = survey(sunk_corner);
        corrected.points[0].off = None;
        corrected.points[1].off = Some(Length::inches(1));
        let plan = LiftPlan::of(&corrected, settings()).unwrap();
        assert_eq!(plan.left_out[0].because, LeftOutBecause::FinishUnknown);
        assert!(plan.uncertain().map(|jack| jack.label.as_str()).eq(["01"]));
    }

    #[test]
    fn jacks_of_ones_own_stand_on_the_floor_between_the_readings() {
        let station = |label: &str, x: i64, y: i64| JackStation {
            label: label.into(),
            at: PlanPoint {
                x: Length::feet(x),
                y: Length::feet(y),
            },
        };
        let stations = [
            station("a", 0, 5),
            station("b", 0, 15),
            station("out", 0, 90),
            station("c", 0, 25),
        ];
        let plan = LiftPlan::with_jacks(&survey(sunk_corner), &stations, settings()).unwrap();
        assert_eq!(jack(&plan, "a").lift, sixty_fourths(76));
        assert_eq!(plan.neighbors, [(0, 1), (1, 2)], "in a row");
        assert_eq!(plan.left_out[0].because, LeftOutBecause::BeyondReadings);
        assert_eq!(check_plan(&plan, &plan.settings), []);
    }

    #[rstest]
    #[case(|settings: &mut LiftSettings| settings.grid = Length::ZERO, "smallest rise")]
    #[case(|settings: &mut LiftSettings| settings.tolerance = Length::inches(-1), "tolerance")]
    #[case(|settings: &mut LiftSettings| settings.most_lift = Some(Length::inches(-1)), "most that is lifted")]
    #[case(|settings: &mut LiftSettings| settings.largest_step = sixty_fourths(1), "largest step")]
    #[case(|settings: &mut LiftSettings| settings.pace.rise = 0.01, "pace")]
    #[case(|settings: &mut LiftSettings| settings.pace.rise = f64::NAN, "pace")]
    fn settings_that_cannot_be(#[case] spoil: fn(&mut LiftSettings), #[case] word: &str) {
        let mut settings = settings();
        spoil(&mut settings);
        let error = LiftPlan::of(&survey(sunk_corner), settings)
            .unwrap_err()
            .to_string();
        assert!(error.contains(word) && error.contains("expected"), "{error}");
    }

    #[test]
    fn a_lift_in_endless_steps_is_refused() {
        let fine = LiftSettings {
            grid: Length::from_nanometers(1_000),
            largest_step: Length::from_nanometers(1_000),
            ..settings()
        };
        let error = LiftPlan::of(&survey(sunk_corner), fine).unwrap_err();
        assert!(matches!(error, LiftError::TooManySteps { .. }));
    }

    /// Every published pace is kept, and the slower takes the longer.
    #[rstest]
    #[case("eighth-a-week", 12, 78)]
    #[case("eighth-a-day", 12, 12)]
    #[case("quarter-turn-a-week", 24, 162)]
    #[case("quarter-turn-a-day", 24, 24)]
    fn paces(#[case] name: &str, #[case] steps: usize, #[case] days: u32) {
        let figures = ShoringFigures::shipped().unwrap();
        let pace = figures
            .paces
            .iter()
            .find(|pace| pace.name == name)
            .unwrap()
            .clone();
        let plan = LiftPlan::of(&survey(sunk_corner), LiftSettings { pace, ..settings() }).unwrap();
        assert_eq!((plan.steps.len(), plan.days()), (steps, days));
        assert_eq!(check_plan(&plan, &plan.settings), []);
    }

    /// A plan spoiled in one way is caught, and told as what it is.
    #[rstest]
    #[case(|plan: &mut LiftPlan| { plan.steps[0].rises.pop(); }, |fault: &LiftFault| matches!(fault, LiftFault::Places { step: 1, .. }))]
    #[case(|plan: &mut LiftPlan| plan.steps[3].day = 1, |fault: &LiftFault| matches!(fault, LiftFault::Order { step: 4, .. }))]
    #[case(|plan: &mut LiftPlan| plan.steps[3].day = 8 + 7, |fault: &LiftFault| matches!(fault, LiftFault::Pace { day: 15, .. }))]
    #[case(|plan: &mut LiftPlan| plan.steps[2].rises[9] = sixty_fourths(-4), |fault: &LiftFault| matches!(fault, LiftFault::Lowered { step: 3, .. }))]
    #[case(|plan: &mut LiftPlan| plan.steps[0].rises[0] = sixty_fourths(12), |fault: &LiftFault| matches!(fault, LiftFault::Step { step: 1, .. }))]
    #[case(|plan: &mut LiftPlan| plan.steps[0].rises[0] = sixty_fourths(12), |fault: &LiftFault| matches!(fault, LiftFault::Neighbors { step: 1, .. }))]
    #[case(|plan: &mut LiftPlan| { plan.steps.pop(); }, |fault: &LiftFault| matches!(fault, LiftFault::End { .. }))]
    #[case(|plan: &mut LiftPlan| plan.steps[5].rises[19] = sixty_fourths(8), |fault: &LiftFault| matches!(fault, LiftFault::End { jack, .. } if jack == "43"))]
    #[case(
        |plan: &mut LiftPlan| for step in &mut plan.steps { step.rises[19] = sixty_fourths(8); },
        |fault: &LiftFault| matches!(fault, LiftFault::OutOfLine { between, .. } if between.1 == "43")
    )]
    fn a_spoiled_plan_is_caught(#[case] spoil: fn(&mut LiftPlan), #[case] is_it: fn(&LiftFault) -> bool) {
        let mut plan = LiftPlan::of(&survey(sunk_corner), settings()).unwrap();
        spoil(&mut plan);
        let faults = check_plan(&plan, &plan.settings);
        assert!(faults.iter().any(is_it), "{faults:?}");
    }

    #[test]
    fn gates_are_there_for_every_moment_and_each_has_words() {
        use crate::choice::Choice;
        use crate::foundation::shoring::GateKind;
        let figures = ShoringFigures::shipped().unwrap();
        for kind in GateKind::ALL {
            assert!(figures.gates_of(*kind).count() >= 3, "{kind:?}");
        }
        let named = |name: &str| figures.gates.iter().any(|gate| gate.name == name);
        for name in [
            "engineer",
            "gas-and-water",
            "crib-follows",
            "nobody-under",
            "new-crack",
            "door-binds",
            "jack-leans",
        ] {
            assert!(named(name), "{name}");
        }
    }

    proptest! {
        /// A floor that only tilts is left as it is: there is nothing to bring back to its plane.
        #[test]
        fn a_rigid_tilt_stays_a_plane(east in -30_i64..30, north in -30_i64..30) {
            let plan = LiftPlan::of(&survey(|x, y| sixty_fourths(east * x + north * y)), settings()).unwrap();
            prop_assert!(plan.steps.is_empty());
            for end in plan.residuals() {
                prop_assert!(end.below.abs_diff(Length::ZERO) <= Length::from_nanometers(2));
            }
        }

        /// No reading rises above the lid, and it rests on readings around the middle: so it is the lowest there is.
        #[test]
        fn a_lid_covers_every_reading(heights in proptest::collection::vec(-96_i64..=0, 20)) {
            let at = |x: i64, y: i64| heights[usize::try_from(x * ROWS + y).unwrap()];
            let points = survey(|x, y| sixty_fourths(at(x, y))).points;
            let everyone: Vec<&Point> = points.iter().collect();
            let lid = Aim::lid(&points, Aim::through(&everyone).unwrap().center).unwrap().unwrap();
            prop_assert!(points.iter().all(|point| lid.above(point) > -1e-5));
            prop_assert!(points.iter().filter(|point| lid.above(point) < 1e-5).count() >= 3);
        }

        /// A floor that tilts and has sunk in places comes back to a plane within the tolerance, or is told.
        #[test]
        fn a_checked_plan(heights in proptest::collection::vec(-96_i64..=0, 20), shift in -400_i64..400, level: bool) {
            let at = |x: i64, y: i64| heights[usize::try_from(x * ROWS + y).unwrap()];
            let settings = LiftSettings {
                target: if level { LiftTarget::Level } else { LiftTarget::StandingPlane },
                ..settings()
            };
            let plan = LiftPlan::of(&survey(|x, y| sixty_fourths(at(x, y))), settings.clone()).unwrap();
            prop_assert_eq!(check_plan(&plan, &settings), []);
            for (end, jack) in plan.residuals().iter().zip(&plan.jacks) {
                prop_assert!(end.is_within || jack.lift == Length::ZERO && end.below < Length::ZERO);
            }
            // The base of the survey plays no part.
            let shifted = LiftPlan::of(&survey(|x, y| sixty_fourths(at(x, y) + shift)), settings).unwrap();
            prop_assert_eq!(&plan.steps, &shifted.steps);
            prop_assert_eq!(plan.residuals(), shifted.residuals());
        }
    }
}
