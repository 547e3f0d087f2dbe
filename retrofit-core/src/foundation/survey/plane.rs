//! The best-fit plane: the tilt of the floor as a whole, and the readings that stand apart from it.
//!
//! The plane is the least-squares plane of the readings that do not stand apart. Which ones do is found with
//! the least median of squares (Rousseeuw 1984), which up to half of the readings cannot carry off: of the
//! planes through any three readings, the one whose residuals are smallest in their middle. A reading stands
//! apart when its residual from that plane is beyond 2.5 times the scale that goes with it (Rousseeuw and
//! Leroy 1987), and beyond three times what a reading can be off; *and* when none of its neighbors bears it
//! out by departing to the same side, beyond the same bound, by at least a quarter as much. So a corner that
//! has sunk together with what lies around it stays in the fit: that is distortion, and no blunder. One that
//! turns out to lie within the bound of the plane fitted without it is taken back, and the plane fitted anew. The
//! constants of the method are recalled, not read in the books; the three times and the quarter are choices
//! of this program.

use super::corrections::Point;
use super::surface::Surface;
use super::uncertain::Uncertain;

/// With fewer readings than this, none can be told to stand apart.
pub const READINGS_TO_TELL_APART: usize = 5;

/// All planes through three readings are tried up to this number; of more readings, as many taken here and
/// there.
const MOST_TRIPLES: usize = 5_000;

/// A neighbor bears a reading out when it departs from the plane by this share of what the reading does.
const BORNE_OUT: f64 = 0.25;

/// Readings whose spread across is less than this share of their spread along stand in a line.
const NARROWEST: f64 = 0.01;

/// Why no plane can be fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FitError {
    /// Too few readings.
    #[error("found {found} readings; expected at least 3 for a plane")]
    TooFew {
        /// How many there are.
        found: usize,
    },
    /// They stand in a line, and the floor may tilt about it any way.
    #[error("all readings stand in a line; expected some to the side of it")]
    Collinear,
}

/// A reading that stands apart from the plane, and that none of its neighbors bears out.
#[derive(Clone, Debug, PartialEq)]
pub struct Apart {
    /// Its place among the points.
    pub point: usize,
    /// How far it is above (or, negative, below) the plane, in inches.
    pub from_plane: f64,
    /// How far it is above the middle of its neighbors (or, negative, below), the tilt of the floor taken
    /// off, in inches.
    pub from_neighbors: f64,
    /// Beyond this, in inches, it stands apart.
    pub beyond: f64,
}

/// A plane through the floor, in inches.
#[derive(Clone, Debug, PartialEq)]
pub struct Plane {
    /// The middle of the readings that it is fitted to.
    pub center: [f64; 2],
    /// Its height there.
    pub height: f64,
    /// Its rise toward the east, inches for each inch.
    pub east: Uncertain,
    /// Its rise toward the north.
    pub north: Uncertain,
    /// The height of every point above it, whether the point took part in the fit or not.
    pub residuals: Vec<f64>,
    /// The readings left out of the fit because they stand apart: to be read again, or one place has sunk.
    pub apart: Vec<Apart>,
    /// The points left out of the fit because their finish is not known.
    pub without_finish: Vec<usize>,
    /// Standard deviation of the residuals of the fit; `None` for three readings, which any plane fits.
    pub spread: Option<f64>,
    /// Whether there are readings enough to tell that one stands apart.
    pub can_tell_apart: bool,
}

impl Plane {
    /// Fits the plane of the points.
    pub fn fit(points: &[Point]) -> Result<Self, FitError> {
        let spots: Vec<Spot> = points.iter().map(Spot::of).collect();
        let known: Vec<usize> = indices(points, |point| point.off.is_some());
        let everyone: Vec<usize> = (0..points.len()).collect();
        // A point of unknown height takes part only where no plane can be had without it.
        let used = if is_flat_enough(points, &spots, &known).is_ok() {
            known
        } else {
            is_flat_enough(points, &spots, &everyone)?;
            everyone.clone()
        };
        let without_finish = everyone.iter().copied().filter(|it| !used.contains(it)).collect();
        let can_tell_apart = used.len() >= READINGS_TO_TELL_APART;
        let mut apart = if can_tell_apart {
            stand_apart(points, &spots, &used)
        } else {
            Vec::new()
        };
        let (flat, fitted, residuals) = loop {
            let fitted: Vec<usize> = used
                .iter()
                .copied()
                .filter(|it| apart.iter().all(|apart| apart.point != *it))
                .collect();
            is_flat_enough(points, &spots, &fitted)?;
            let flat = Flat::least_squares(&spots, &fitted).ok_or(FitError::Collinear)?;
            let residuals: Vec<f64> = spots.iter().map(|spot| flat.residual(spot)).collect();
            for found in &mut apart {
                found.from_plane = residuals.get(found.point).copied().unwrap_or(found.from_plane);
            }
            // Nobody can be told that a reading stands apart from a plane that it lies on: it takes part after all.
            let before = apart.len();
            apart.retain(|found| found.from_plane.abs() > found.beyond);
            if apart.len() == before {
                break (flat, fitted, residuals);
            }
        };
        let squares: f64 = fitted
            .iter()
            .filter_map(|it| residuals.get(*it))
            .map(|residual| residual * residual)
            .sum();
        let freedom = fitted.len().saturating_sub(3);
        let (east_off, north_off) = flat.slopes_off(&spots, &fitted);
        Ok(Self {
            center: flat.center,
            height: flat.height,
            east: Uncertain::new(flat.east, east_off),
            north: Uncertain::new(flat.north, north_off),
            residuals,
            apart,
            without_finish,
            spread: (freedom > 0).then(|| (squares / count(freedom)).sqrt()),
            can_tell_apart,
        })
    }

    /// The slope of the plane where it falls most.
    ///
    /// ```
    /// use retrofit_core::foundation::survey::{Corrected, Limits, Plane};
    /// use retrofit_core::house::Survey;
    /// let survey: Survey = serde_json::from_str(r#"{"date": "2026-05-04", "readings": [
    ///     {"at": {"x": "0 ft", "y": "0 ft"}, "height": "0 in", "finish": "bare"},
    ///     {"at": {"x": "25 ft", "y": "0 ft"}, "height": "-1 in", "finish": "bare"},
    ///     {"at": {"x": "0 ft", "y": "20 ft"}, "height": "0 in", "finish": "bare"}
    /// ]}"#)?;
    /// let plane = Plane::fit(&Corrected::of(&survey, Limits::shipped()).unwrap().points).unwrap();
    /// assert!((plane.tilt().likely - 1.0 / 300.0).abs() < 1e-12);
    /// assert!((plane.falls_toward().unwrap() - 90.0).abs() < 1e-9, "toward the east");
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    pub fn tilt(&self) -> Uncertain {
        Uncertain::new(
            self.east.likely.hypot(self.north.likely),
            self.east.off.hypot(self.north.off),
        )
    }

    /// The direction in which it falls most, in degrees from north toward the east; `None` of a level plane.
    pub fn falls_toward(&self) -> Option<f64> {
        let (east, north) = (-self.east.likely, -self.north.likely);
        (east.hypot(north) > 1e-12).then(|| east.atan2(north).to_degrees().rem_euclid(360.0))
    }

    /// Its rise along a direction given as a unit vector east and north.
    pub fn along(&self, [east, north]: [f64; 2]) -> Uncertain {
        Uncertain::new(
            self.east.likely * east + self.north.likely * north,
            self.east.off * east.abs() + self.north.off * north.abs(),
        )
    }

    /// Its height at a place, in inches.
    pub fn height_at(&self, [x, y]: [f64; 2]) -> f64 {
        self.height + self.east.likely * (x - self.center[0]) + self.north.likely * (y - self.center[1])
    }

    /// Whether a point is left out because it stands apart.
    pub fn is_apart(&self, point: usize) -> bool {
        self.apart.iter().any(|apart| apart.point == point)
    }
}

/// A point in inches.
#[derive(Clone, Copy, Debug)]
struct Spot {
    x: f64,
    y: f64,
    height: f64,
    off: f64,
}

impl Spot {
    fn of(point: &Point) -> Self {
        let [x, y] = point.xy();
        Self {
            x,
            y,
            height: point.height.as_inches_f64(),
            off: point.off_inches(),
        }
    }
}

/// A plane as numbers.
#[derive(Clone, Copy, Debug)]
struct Flat {
    center: [f64; 2],
    height: f64,
    east: f64,
    north: f64,
    /// The inverse of the scatter of the places about the center: xx, xy, yy.
    inverse: [f64; 3],
}

impl Flat {
    fn residual(&self, spot: &Spot) -> f64 {
        let [x, y] = self.center;
        spot.height - self.height - self.east * (spot.x - x) - self.north * (spot.y - y)
    }

    fn least_squares(spots: &[Spot], of: &[usize]) -> Option<Self> {
        let chosen = || of.iter().filter_map(|it| spots.get(*it));
        let number = count(of.len());
        let mean = |part: fn(&Spot) -> f64| chosen().map(part).sum::<f64>() / number;
        let (x, y, height) = (mean(|it| it.x), mean(|it| it.y), mean(|it| it.height));
        let sum = |part: &dyn Fn(f64, f64, f64) -> f64| {
            chosen()
                .map(|it| part(it.x - x, it.y - y, it.height - height))
                .sum::<f64>()
        };
        let (xx, xy, yy) = (
            sum(&|x, _, _| x * x),
            sum(&|x, y, _| x * y),
            sum(&|_, y, _| y * y),
        );
        let (xh, yh) = (sum(&|x, _, h| x * h), sum(&|_, y, h| y * h));
        let determinant = xx * yy - xy * xy;
        if determinant.is_nan() || determinant <= 0.0 {
            return None;
        }
        Some(Self {
            center: [x, y],
            height,
            east: (xh * yy - yh * xy) / determinant,
            north: (yh * xx - xh * xy) / determinant,
            inverse: [yy / determinant, -xy / determinant, xx / determinant],
        })
    }

    /// What the slopes can be off: each is a sum of the heights with weights, and so is what it can be off.
    fn slopes_off(&self, spots: &[Spot], of: &[usize]) -> (f64, f64) {
        let [xx, xy, yy] = self.inverse;
        of.iter()
            .filter_map(|it| spots.get(*it))
            .fold((0.0, 0.0), |(east, north), spot| {
                let (x, y) = (spot.x - self.center[0], spot.y - self.center[1]);
                (
                    east + weighed((xx * x + xy * y).abs(), spot.off),
                    north + weighed((xy * x + yy * y).abs(), spot.off),
                )
            })
    }
}

/// A weight times what a height can be off: a height without weight adds nothing, however unknown it is.
pub(super) fn weighed(weight: f64, off: f64) -> f64 {
    if weight > 0.0 { weight * off } else { 0.0 }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a number of readings, at most hundreds"
)]
fn count(number: usize) -> f64 {
    number as f64
}

fn indices(points: &[Point], is_in: impl Fn(&Point) -> bool) -> Vec<usize> {
    let numbered = points.iter().enumerate();
    numbered
        .filter(|(_, point)| is_in(point))
        .map(|(it, _)| it)
        .collect()
}

/// Whether points span a plane: three at least, and not in a line.
fn is_flat_enough(points: &[Point], spots: &[Spot], of: &[usize]) -> Result<(), FitError> {
    if of.len() < 3 {
        return Err(FitError::TooFew { found: of.len() });
    }
    let places = of.iter().filter_map(|it| points.get(*it)).map(|point| point.at);
    if super::surface::all_in_a_line(places) {
        return Err(FitError::Collinear);
    }
    let Some(flat) = Flat::least_squares(spots, of) else {
        return Err(FitError::Collinear);
    };
    // The two principal spreads of the places, from the inverse of their scatter.
    let [xx, xy, yy] = flat.inverse;
    let (middle, half) = (f64::midpoint(xx, yy), ((xx - yy) / 2.0).hypot(xy));
    let (along, across) = (middle - half, middle + half);
    if along.is_nan() || along < across * NARROWEST * NARROWEST {
        return Err(FitError::Collinear);
    }
    Ok(())
}

fn stand_apart(points: &[Point], spots: &[Spot], used: &[usize]) -> Vec<Apart> {
    let Some((flat, scale)) = least_median(spots, used) else {
        return Vec::new();
    };
    let residual = |it: usize| spots.get(it).map_or(0.0, |spot| flat.residual(spot));
    let most_off = used
        .iter()
        .filter_map(|it| spots.get(*it))
        .map(|spot| spot.off)
        .fold(0.0, f64::max);
    let beyond = (2.5 * scale).max(3.0 * most_off);
    let chosen: Vec<Point> = used.iter().filter_map(|it| points.get(*it)).cloned().collect();
    let Ok(surface) = Surface::of(&chosen) else {
        return Vec::new();
    };
    let neighbors = surface.neighbors();
    used.iter()
        .zip(&neighbors)
        .filter_map(|(point, around)| {
            let from_plane = residual(*point);
            let around: Vec<f64> = around
                .iter()
                .filter_map(|it| used.get(*it))
                .map(|it| residual(*it))
                .collect();
            let is_borne_out = around.iter().any(|other| {
                other.is_sign_negative() == from_plane.is_sign_negative()
                    && other.abs() > beyond
                    && other.abs() >= from_plane.abs() * BORNE_OUT
            });
            let from_neighbors = from_plane - median(around)?;
            (from_plane.abs() > beyond && !is_borne_out).then_some(Apart {
                point: *point,
                from_plane,
                from_neighbors,
                beyond,
            })
        })
        .collect()
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let upper = values.get(values.len() / 2)?;
    if values.len() % 2 == 1 {
        return Some(*upper);
    }
    let lower = values.get((values.len() / 2).checked_sub(1)?)?;
    Some(f64::midpoint(*lower, *upper))
}

/// The plane of the least median of squares, with the scale of residuals that goes with it.
fn least_median(spots: &[Spot], used: &[usize]) -> Option<(Flat, f64)> {
    let number = used.len();
    let middle = number / 2 + 1;
    let mut best: Option<(Flat, f64)> = None;
    let mut squares = Vec::with_capacity(number);
    for triple in triples(number) {
        let three: Vec<usize> = triple.iter().filter_map(|it| used.get(*it)).copied().collect();
        let Some(flat) = Flat::least_squares(spots, &three).filter(|flat| flat.height.is_finite()) else {
            continue;
        };
        squares.clear();
        squares.extend(used.iter().filter_map(|it| spots.get(*it)).map(|spot| {
            let residual = flat.residual(spot);
            residual * residual
        }));
        if middle >= squares.len() {
            return None;
        }
        let (_, square, _) = squares.select_nth_unstable_by(middle, f64::total_cmp);
        if square.is_finite() && best.is_none_or(|(_, least)| *square < least) {
            best = Some((flat, *square));
        }
    }
    let small_sample = 1.0 + 5.0 / (count(number) - 3.0);
    best.map(|(flat, square)| (flat, 1.4826 * small_sample * square.sqrt()))
}

/// Three out of so many, each way once; where that is too many ways, some of them, the same every time.
fn triples(number: usize) -> Vec<[usize; 3]> {
    let all = number * number.saturating_sub(1) * number.saturating_sub(2) / 6;
    if all <= MOST_TRIPLES {
        return (0..number)
            .flat_map(|a| (a + 1..number).flat_map(move |b| (b + 1..number).map(move |c| [a, b, c])))
            .collect();
    }
    let mut state: u64 = 0x5851_F42D_4C95_7F2D;
    let mut next = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap_or_default() % number
    };
    let mut found = Vec::with_capacity(MOST_TRIPLES);
    while found.len() < MOST_TRIPLES {
        let [a, b, c] = [next(), next(), next()];
        if a != b && b != c && a != c {
            found.push([a, b, c]);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::super::{Corrected, Limits};
    use super::*;
    use crate::house::Survey;

    fn points(readings: &[(i64, i64, &str, &str)]) -> Vec<Point> {
        let readings: Vec<Value> = readings
            .iter()
            .map(|(x, y, height, finish)| {
                json!({"at": {"x": format!("{x} ft"), "y": format!("{y} ft")}, "height": height, "finish": finish})
            })
            .collect();
        let survey: Survey =
            serde_json::from_value(json!({"date": "2026-05-04", "readings": readings})).unwrap();
        Corrected::of(&survey, Limits::shipped()).unwrap().points
    }

    #[test]
    fn too_few_readings_and_readings_in_a_line_fit_no_plane() {
        let two = points(&[(0, 0, "0 in", "bare"), (9, 0, "1 in", "bare")]);
        assert_eq!(Plane::fit(&two), Err(FitError::TooFew { found: 2 }));
        let line = points(&[
            (0, 0, "0 in", "bare"),
            (9, 3, "1 in", "bare"),
            (27, 9, "1 in", "bare"),
        ]);
        assert_eq!(Plane::fit(&line), Err(FitError::Collinear));
        // All but in a line: 4 ft to the side in 900 ft.
        let nearly = points(&[
            (0, 0, "0 in", "bare"),
            (450, 4, "1 in", "bare"),
            (900, 0, "1 in", "bare"),
        ]);
        assert_eq!(Plane::fit(&nearly), Err(FitError::Collinear));
    }

    fn grid(height: impl Fn(i64, i64) -> &'static str) -> Vec<(i64, i64, &'static str, &'static str)> {
        (0..5)
            .flat_map(|x| (0..4).map(move |y| (x, y)))
            .map(|(x, y)| (8 * x, 8 * y, height(x, y), "bare"))
            .collect()
    }

    /// A corner that went down together with what lies around it is distortion; a single reading is no such
    /// thing.
    #[test]
    fn a_settled_corner_is_no_blunder() {
        let settled = grid(|x, y| match x + y {
            0 => "-2 in",
            1 => "-1.3 in",
            2 => "-0.6 in",
            _ => "0 in",
        });
        assert_eq!(Plane::fit(&points(&settled)).unwrap().apart, []);
        let blunder = grid(|x, y| if (x, y) == (2, 1) { "-2 in" } else { "0 in" });
        let plane = Plane::fit(&points(&blunder)).unwrap();
        assert_eq!(plane.apart.len(), 1);
        assert!((plane.apart[0].from_plane + 2.0).abs() < 1e-9);
        assert!(plane.tilt().likely < 1e-12);
    }

    #[test]
    fn a_point_of_unknown_height_takes_no_part_unless_it_has_to() {
        let mut floor = grid(|_, _| "0 in");
        floor[7] = (8, 24, "2 in", "carpet");
        let plane = Plane::fit(&points(&floor)).unwrap();
        assert_eq!(plane.without_finish, [7]);
        assert!(plane.tilt().likely < 1e-12 && plane.tilt().off.is_finite());
        let three = [
            (0, 0, "0 in", "bare"),
            (9, 0, "0 in", "bare"),
            (0, 9, "0 in", "carpet"),
        ];
        let plane = Plane::fit(&points(&three)).unwrap();
        assert!(plane.without_finish.is_empty() && plane.tilt().off.is_infinite());
    }

    #[test]
    fn four_readings_cannot_tell_which_of_them_is_wrong() {
        let four = points(&[
            (0, 0, "0 in", "bare"),
            (9, 0, "0 in", "bare"),
            (0, 9, "0 in", "bare"),
            (9, 9, "5 in", "bare"),
        ]);
        let plane = Plane::fit(&four).unwrap();
        assert!(!plane.can_tell_apart && plane.apart.is_empty());
    }
}
