//! The floor between the readings: triangles from reading to reading, each of them flat.
//!
//! The triangles are those of Delaunay: of the ways to span the readings, the one with the least slender
//! triangles. Nothing is said of the floor beyond the outermost readings. Which diagonal is taken is decided
//! in whole numbers, with places rounded to a hundredth of a millimeter; of four readings on one circle, as
//! in a square grid, either diagonal will do and the one found first is kept.

use std::collections::{BTreeMap, BTreeSet};

use super::corrections::Point;
use super::plane::{FitError, Plane};
use crate::house::PlanPoint;
use crate::measure::Length;

/// The floor as flat triangles between readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Surface {
    corners: Vec<Corner>,
    triangles: Vec<[usize; 3]>,
}

/// A reading as a corner of triangles.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Corner {
    pub(super) at: PlanPoint,
    pub(super) height: Length,
    /// The place in hundredths of a millimeter.
    grid: [i128; 2],
}

impl Corner {
    fn of(at: PlanPoint, height: Length) -> Self {
        const STEP: i64 = 10_000;
        let round = |length: Length| i128::from((length.nanometers() + STEP / 2).div_euclid(STEP));
        Self {
            at,
            height,
            grid: [round(at.x), round(at.y)],
        }
    }

    pub(super) fn xy(&self) -> [f64; 2] {
        [self.at.x.as_inches_f64(), self.at.y.as_inches_f64()]
    }
}

impl Surface {
    /// The floor by its corrected heights.
    pub fn of(points: &[Point]) -> Result<Self, FitError> {
        Self::span(
            points
                .iter()
                .map(|point| Corner::of(point.at, point.height))
                .collect(),
        )
    }

    /// The floor with its tilt taken off: the heights of the readings above the plane.
    pub fn of_residuals(points: &[Point], plane: &Plane) -> Result<Self, FitError> {
        let heights = points.iter().zip(&plane.residuals);
        Self::span(
            heights
                .map(|(point, residual)| Corner::of(point.at, Length::nearest_inches(*residual)))
                .collect(),
        )
    }

    fn span(corners: Vec<Corner>) -> Result<Self, FitError> {
        if corners.len() < 3 {
            return Err(FitError::TooFew { found: corners.len() });
        }
        if all_in_a_line(corners.iter().map(|corner| corner.at)) {
            return Err(FitError::Collinear);
        }
        let mut triangles = sweep(&corners).ok_or(FitError::Collinear)?;
        while flip(&corners, &mut triangles) {}
        Ok(Self { corners, triangles })
    }

    /// The triangles, as numbers of points, counterclockwise.
    pub fn triangles(&self) -> &[[usize; 3]] {
        &self.triangles
    }

    pub(super) fn corner(&self, number: usize) -> Option<&Corner> {
        self.corners.get(number)
    }

    pub(super) fn corners_of(&self, triangle: [usize; 3]) -> Option<[&Corner; 3]> {
        let [a, b, c] = triangle.map(|number| self.corners.get(number));
        Some([a?, b?, c?])
    }

    /// For each point, those that a side of a triangle joins to it.
    pub fn neighbors(&self) -> Vec<Vec<usize>> {
        let mut neighbors = vec![Vec::new(); self.corners.len()];
        for [a, b, c] in &self.triangles {
            for (from, to) in [(a, b), (b, c), (c, a), (b, a), (c, b), (a, c)] {
                if let Some(around) = neighbors.get_mut(*from)
                    && !around.contains(to)
                {
                    around.push(*to);
                }
            }
        }
        neighbors
    }

    /// The outermost points: those on a side that has a triangle on one hand only.
    pub fn edge(&self) -> BTreeSet<usize> {
        let of = |[a, b, c]: &[usize; 3]| [(*a, *b), (*b, *c), (*c, *a)];
        let sides: BTreeSet<(usize, usize)> = self.triangles.iter().flat_map(of).collect();
        let outer = sides.iter().filter(|(a, b)| !sides.contains(&(*b, *a)));
        outer.flat_map(|(a, b)| [*a, *b]).collect()
    }

    /// The sides of the triangles, each once, as pairs of points in order.
    pub(super) fn sides(&self) -> Vec<(usize, usize)> {
        let mut sides: Vec<(usize, usize)> = self
            .triangles
            .iter()
            .flat_map(|[a, b, c]| [(*a, *b), (*b, *c), (*c, *a)])
            .map(|(a, b)| (a.min(b), a.max(b)))
            .collect();
        sides.sort_unstable();
        sides.dedup();
        sides
    }

    /// The height of the floor at a place, in inches; `None` beyond the outermost readings.
    pub fn height_at(&self, at: PlanPoint) -> Option<f64> {
        self.height_at_inches([at.x.as_inches_f64(), at.y.as_inches_f64()])
    }

    pub(super) fn height_at_inches(&self, [x, y]: [f64; 2]) -> Option<f64> {
        self.weights_at([x, y]).map(|weights| {
            weights
                .iter()
                .filter_map(|(corner, weight)| {
                    Some(self.corners.get(*corner)?.height.as_inches_f64() * weight)
                })
                .sum()
        })
    }

    /// The corners of the triangle that a place lies in, with the share each has in its height.
    pub(super) fn weights_at(&self, place: [f64; 2]) -> Option<[(usize, f64); 3]> {
        // A place on a side may miss both triangles by its last bit.
        const EDGE: f64 = 1e-9;
        self.triangles.iter().find_map(|triangle| {
            let [a, b, c] = self.corners_of(*triangle)?.map(Corner::xy);
            let area = cross(a, b, c);
            let shares = [cross(place, b, c), cross(a, place, c), cross(a, b, place)].map(|part| part / area);
            let [first, second, third] = *triangle;
            shares.iter().all(|share| *share >= -EDGE).then_some([
                (first, shares[0]),
                (second, shares[1]),
                (third, shares[2]),
            ])
        })
    }
}

/// Whether all places stand in one line, exactly.
pub(super) fn all_in_a_line(places: impl Iterator<Item = PlanPoint> + Clone) -> bool {
    let mut rest = places.clone();
    let Some(first) = rest.next() else { return true };
    let Some(second) = rest.find(|place| *place != first) else {
        return true;
    };
    let step = |from: Length, to: Length| i128::from(to.nanometers()) - i128::from(from.nanometers());
    places.into_iter().all(|place| {
        step(first.x, second.x) * step(first.y, place.y) == step(first.y, second.y) * step(first.x, place.x)
    })
}

/// Twice the area of a triangle, positive when counterclockwise.
fn cross(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

fn turn(a: &Corner, b: &Corner, c: &Corner) -> i128 {
    let ([ax, ay], [bx, by], [cx, cy]) = (a.grid, b.grid, c.grid);
    (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
}

/// Whether a fourth corner lies inside the circle through a counterclockwise triangle.
fn is_in_circle(a: &Corner, b: &Corner, c: &Corner, d: &Corner) -> bool {
    let [d_east, d_north] = d.grid;
    let from_d = |corner: &Corner| {
        let [east, north] = corner.grid;
        let (east, north) = (east - d_east, north - d_north);
        (east, north, east * east + north * north)
    };
    let ((ax, ay, aa), (bx, by, bb), (cx, cy, cc)) = (from_d(a), from_d(b), from_d(c));
    // Places within 2 km of each other are 2e8 steps apart, and the products 4e33: they fit.
    aa * (bx * cy - by * cx) - bb * (ax * cy - ay * cx) + cc * (ax * by - ay * bx) > 0
}

/// Spans the corners from left to right: each new one is joined to all sides of the hull that face it.
fn sweep(corners: &[Corner]) -> Option<Vec<[usize; 3]>> {
    let mut order: Vec<usize> = (0..corners.len()).collect();
    order.sort_by_key(|number| corners.get(*number).map(|corner| corner.grid));
    // A record that makes sense holds no place twice; of one that does not, the first reading there is kept.
    order.dedup_by_key(|number| corners.get(*number).map(|corner| corner.grid));
    let turn_of =
        |a: usize, b: usize, c: usize| Some(turn(corners.get(a)?, corners.get(b)?, corners.get(c)?));
    let (first, second) = (*order.first()?, *order.get(1)?);
    let apex = order
        .iter()
        .position(|number| turn_of(first, second, *number).is_some_and(|turn| turn != 0))?;
    let (line, rest) = order.split_at(apex);
    let (apex, rest) = rest.split_first()?;
    let is_left = turn_of(first, second, *apex)? > 0;
    let mut triangles: Vec<[usize; 3]> = line
        .iter()
        .zip(line.iter().skip(1))
        .map(|(a, b)| if is_left { [*a, *b, *apex] } else { [*b, *a, *apex] })
        .collect();
    // The hull, counterclockwise.
    let mut hull: Vec<usize> = if is_left {
        line.to_vec()
    } else {
        line.iter().rev().copied().collect()
    };
    hull.push(*apex);
    for new in rest {
        let faces = |at: usize| {
            let from = *hull.get(at)?;
            let to = *hull.get((at + 1) % hull.len())?;
            Some(turn_of(from, to, *new)? < 0)
        };
        let facing: Vec<bool> = (0..hull.len()).map(faces).collect::<Option<_>>()?;
        // The sides that face the new corner follow one another; begin after one that does not.
        let away = facing.iter().position(|faces| !faces)?;
        hull.rotate_left(away);
        let mut facing = facing;
        facing.rotate_left(away);
        let begin = facing.iter().position(|faces| *faces)?;
        let end = facing.iter().rposition(|faces| *faces)?;
        for at in begin..=end {
            let from = *hull.get(at)?;
            let to = *hull.get((at + 1) % hull.len())?;
            triangles.push([to, from, *new]);
        }
        // What lies between the ends of the facing sides is inside now.
        hull.splice(begin + 1..=end, [*new]);
    }
    Some(triangles)
}

/// Turns the diagonal of pairs of triangles where that makes them less slender; says whether any was turned.
fn flip(corners: &[Corner], triangles: &mut [[usize; 3]]) -> bool {
    let mut sides: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for (number, [a, b, c]) in triangles.iter().enumerate() {
        for side in [(*a, *b), (*b, *c), (*c, *a)] {
            sides.insert(side, number);
        }
    }
    let mut touched = vec![false; triangles.len()];
    let mut any = false;
    for ((a, b), left) in &sides {
        let Some(right) = sides.get(&(*b, *a)).filter(|_| a < b) else {
            continue;
        };
        if [*left, *right]
            .iter()
            .any(|it| touched.get(*it).is_none_or(|touched| *touched))
        {
            continue;
        }
        let apex = |triangle: usize| {
            let triangle = triangles.get(triangle)?;
            triangle.iter().copied().find(|corner| corner != a && corner != b)
        };
        let (Some(c), Some(d)) = (apex(*left), apex(*right)) else {
            continue;
        };
        let four = [*a, *b, c, d].map(|number| corners.get(number));
        let [Some(pa), Some(pb), Some(pc), Some(pd)] = four else {
            continue;
        };
        if !is_in_circle(pa, pb, pc, pd) {
            continue;
        }
        for (number, triangle) in [(*left, [*a, d, c]), (*right, [d, *b, c])] {
            if let Some(place) = triangles.get_mut(number) {
                *place = triangle;
            }
            if let Some(touched) = touched.get_mut(number) {
                *touched = true;
            }
        }
        any = true;
    }
    any
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn corners(places: &[(i64, i64)]) -> Vec<Corner> {
        let at = |(x, y): &(i64, i64)| PlanPoint {
            x: Length::inches(*x),
            y: Length::inches(*y),
        };
        places
            .iter()
            .map(|place| Corner::of(at(place), Length::ZERO))
            .collect()
    }

    #[test]
    fn a_grid_is_spanned_without_gap_or_overlap() {
        let places: Vec<(i64, i64)> = (0..5)
            .flat_map(|x| (0..4).map(move |y| (x * 96, y * 96)))
            .collect();
        let surface = Surface::span(corners(&places)).unwrap();
        assert_eq!(surface.triangles().len(), 2 * 4 * 3);
        assert_eq!(surface.height_at_inches([384.1, 0.0]), None);
        assert_eq!(surface.height_at_inches([384.0, 288.0]), Some(0.0));
    }

    #[test]
    fn readings_in_a_line_span_nothing() {
        let line = corners(&[(0, 0), (12, 24), (36, 72), (24, 48)]);
        assert_eq!(Surface::span(line), Err(FitError::Collinear));
        let two = corners(&[(0, 0), (12, 24)]);
        assert_eq!(Surface::span(two), Err(FitError::TooFew { found: 2 }));
    }

    proptest! {
        /// Triangles turn the same way, fill the hull, use every reading, and no reading lies in the circle
        /// of a triangle: the last is what makes them Delaunay's.
        #[test]
        fn triangles_are_those_of_delaunay(places in prop::collection::btree_set((0_i64..40, 0_i64..40), 3..40)) {
            let places: Vec<(i64, i64)> = places.into_iter().collect();
            let corners = corners(&places);
            let Ok(surface) = Surface::span(corners.clone()) else {
                prop_assert!(all_in_a_line(corners.iter().map(|corner| corner.at)));
                return Ok(());
            };
            let mut area = 0;
            for triangle in surface.triangles() {
                let [a, b, c] = surface.corners_of(*triangle).unwrap();
                prop_assert!(turn(a, b, c) > 0);
                area += turn(a, b, c);
                for other in &corners {
                    prop_assert!(!is_in_circle(a, b, c, other));
                }
            }
            prop_assert!(surface.neighbors().iter().all(|around| !around.is_empty()));
            // The hull by another way: monotone chains.
            let mut sorted = corners.clone();
            sorted.sort_by_key(|corner| corner.grid);
            let chain = |corners: &mut dyn Iterator<Item = &Corner>| {
                let mut chain: Vec<Corner> = Vec::new();
                for corner in corners {
                    while chain.len() >= 2 && turn(&chain[chain.len() - 2], &chain[chain.len() - 1], corner) <= 0 {
                        chain.pop();
                    }
                    chain.push(*corner);
                }
                chain
            };
            let mut hull = chain(&mut sorted.iter());
            hull.pop();
            hull.extend(chain(&mut sorted.iter().rev()));
            let shoelace: i128 = hull
                .windows(2)
                .map(|pair| pair[0].grid[0] * pair[1].grid[1] - pair[1].grid[0] * pair[0].grid[1])
                .sum();
            prop_assert_eq!(area, shoelace);
        }
    }
}
