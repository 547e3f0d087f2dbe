//! A point inside an outline, to put a house on a map by.

/// A point on the ground: longitude and latitude, in degrees.
pub type Point = [f64; 2];

/// A point inside a polygon: its first ring goes around it, and every other around a hole. It is the center of the area
/// where that lies inside, and otherwise the middle of the widest stretch at the height of the center. `None` for an
/// outline that encloses nothing.
///
/// ```
/// use retrofit_report::extract::point_inside;
///
/// let square = vec![[0.0, 0.0], [4.0, 0.0], [4.0, 2.0], [0.0, 2.0], [0.0, 0.0]];
/// assert_eq!(point_inside(&[square]), Some([2.0, 1.0]));
/// ```
pub fn point_inside(rings: &[Vec<Point>]) -> Option<Point> {
    let (_, center) = area_and_center(rings.first()?)?;
    if is_inside(rings, center) {
        return Some(center);
    }
    widest_at(rings, center[1])
}

/// The area that a ring encloses and its center.
pub(super) fn area_and_center(ring: &[Point]) -> Option<(f64, Point)> {
    // Taken from the first corner: outlines are small, and far from where longitude and latitude begin.
    let [x0, y0] = *ring.first()?;
    let (mut twice, mut x, mut y) = (0.0, 0.0, 0.0);
    for ([xa, ya], [xb, yb]) in edges(ring) {
        let (xa, ya, xb, yb) = (xa - x0, ya - y0, xb - x0, yb - y0);
        let cross = xa * yb - xb * ya;
        twice += cross;
        x += (xa + xb) * cross;
        y += (ya + yb) * cross;
    }
    let center = [x0 + x / (3.0 * twice), y0 + y / (3.0 * twice)];
    center
        .iter()
        .all(|value| value.is_finite())
        .then_some((twice.abs() / 2.0, center))
}

/// The edges of a ring, the one that closes it included.
fn edges(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// Whether a point lies inside the outline and outside its holes: a line from it crosses an odd number of edges.
fn is_inside(rings: &[Vec<Point>], [x, y]: Point) -> bool {
    let to_the_right = crossings(rings, y).into_iter().filter(|at| *at > x).count();
    to_the_right % 2 == 1
}

/// Where a level line crosses the edges, from west to east.
fn crossings(rings: &[Vec<Point>], y: f64) -> Vec<f64> {
    let mut at: Vec<f64> = rings
        .iter()
        .flat_map(|ring| edges(ring))
        // An edge counts with its lower end and without its upper one, so that no corner counts twice.
        .filter(|([_, ya], [_, yb])| (*ya <= y) != (*yb <= y))
        .map(|([xa, ya], [xb, yb])| xa + (y - ya) / (yb - ya) * (xb - xa))
        .collect();
    at.sort_by(f64::total_cmp);
    at
}

fn widest_at(rings: &[Vec<Point>], y: f64) -> Option<Point> {
    let at = crossings(rings, y);
    let (pairs, _) = at.as_chunks::<2>();
    // Of equals the westernmost.
    pairs
        .iter()
        .rev()
        .filter(|[from, to]| to > from)
        .max_by(|[a, b], [c, d]| (b - a).total_cmp(&(d - c)))
        .map(|[from, to]| [f64::midpoint(*from, *to), y])
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_center_of_a_bent_house_may_lie_outside_it() {
        // A U, open to the north: its center of area is at (2.5, 1.9), in the court.
        let u = vec![
            [0.0, 0.0],
            [5.0, 0.0],
            [5.0, 5.0],
            [4.0, 5.0],
            [4.0, 1.0],
            [1.0, 1.0],
            [1.0, 5.0],
            [0.0, 5.0],
        ];
        let (area, center) = area_and_center(&u).unwrap();
        assert!((area - 13.0).abs() < 1e-12);
        assert!((center[0] - 2.5).abs() < 1e-12);
        assert!(center[1] > 1.0);
        assert!((point_inside(&[u]).unwrap()[0] - 0.5).abs() < 1e-12);
    }

    #[test]
    fn a_hole_is_not_inside() {
        let around = vec![[0.0, 0.0], [9.0, 0.0], [9.0, 9.0], [0.0, 9.0]];
        let hole = vec![[2.0, 2.0], [6.0, 2.0], [6.0, 6.0], [2.0, 6.0]];
        assert_eq!(point_inside(&[around, hole]), Some([7.5, 4.5]));
    }

    #[test]
    fn an_outline_that_encloses_nothing_has_no_inside() {
        assert_eq!(point_inside(&[]), None);
        assert_eq!(point_inside(&[vec![]]), None);
        assert_eq!(point_inside(&[vec![[1.0, 1.0], [2.0, 2.0]]]), None);
        assert_eq!(
            point_inside(&[vec![[f64::NAN, 1.0], [2.0, 2.0], [0.0, 0.0]]]),
            None
        );
    }

    proptest! {
        /// Star-shaped outlines, which are often bent inward: the point lies inside by the angle that the outline
        /// turns around it, which is another way to tell than counting crossings.
        #[test]
        fn the_point_lies_inside_by_its_winding(radii in prop::collection::vec(0.2f64..1.0, 3..12)) {
            let step = std::f64::consts::TAU / f64::from(u32::try_from(radii.len()).unwrap());
            let ring: Vec<Point> = radii
                .iter()
                .enumerate()
                .map(|(number, radius)| {
                    let angle = step * f64::from(u32::try_from(number).unwrap());
                    [-122.0 + radius * angle.cos(), 37.0 + radius * angle.sin()]
                })
                .collect();
            let [x, y] = point_inside(std::slice::from_ref(&ring)).unwrap();
            let turned: f64 = edges(&ring)
                .map(|([xa, ya], [xb, yb])| {
                    let (from, to) = ((ya - y).atan2(xa - x), (yb - y).atan2(xb - x));
                    let turn = to - from;
                    turn - std::f64::consts::TAU * (turn / std::f64::consts::TAU).round()
                })
                .sum();
            prop_assert!((turned.abs() - std::f64::consts::TAU).abs() < 1e-6, "{}", turned);
        }
    }
}
