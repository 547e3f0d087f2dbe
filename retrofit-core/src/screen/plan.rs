//! Which wall line takes how much of the floor: directions, tributary areas, centers.

use crate::house::{House, PlanPoint};
use crate::measure::Length;

/// The direction that a wall line runs in, and so the direction of shaking that it resists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Direction {
    /// East and west.
    EastWest,
    /// North and south.
    NorthSouth,
}

impl Direction {
    /// Both directions.
    pub const BOTH: [Self; 2] = [Self::EastWest, Self::NorthSouth];

    /// The direction in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::EastWest => "east-west",
            Self::NorthSouth => "north-south",
        }
    }

    pub(super) const fn index(self) -> usize {
        match self {
            Self::EastWest => 0,
            Self::NorthSouth => 1,
        }
    }
}

/// Why the plan of a house cannot be computed with.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PlanError {
    /// There is no outline.
    #[error("the record gives no outline of the house")]
    NoOutline,
    /// The outline is no closed figure with an inside.
    #[error("the outline of the house encloses no area, or crosses itself")]
    NoArea,
    /// A side of the outline runs neither way.
    #[error("a side of the outline runs neither east-west nor north-south")]
    SkewOutline,
    /// A wall line has no place.
    #[error("wall line {0:?} has no place in plan")]
    NoPlace(String),
    /// A wall line runs neither way.
    #[error("wall line {0:?} runs neither east-west nor north-south")]
    SkewWall(String),
    /// Nothing resists shaking in a direction.
    #[error("no wall line runs {}", .0.words())]
    NothingResists(Direction),
    /// All resisting wall lines of a direction stand in one place.
    #[error("all wall lines that run {} stand in one line, so that the house can turn about it", .0.words())]
    OneLine(Direction),
}

/// One wall line in plan. Lengths are in inches.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedLine {
    /// Its place among the wall lines of the house.
    pub wall: usize,
    /// Which way it runs.
    pub direction: Direction,
    /// Its distance from the origin, across its direction.
    pub across: f64,
    /// Where it begins and ends along its direction.
    pub along: (f64, f64),
    /// The floor area that it takes where the floor is flexible.
    pub tributary: f64,
    /// The length of floor, beyond its own ends, that has to drag its load into it.
    pub drag: f64,
    /// Whether it runs along no side of the outline.
    pub is_inside: bool,
}

impl PlacedLine {
    /// Its length in plan.
    pub fn length(&self) -> f64 {
        self.along.1 - self.along.0
    }
}

/// The plan of a house, in inches.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorPlan {
    /// Area inside the outline.
    pub area: f64,
    /// Length of the outline.
    pub perimeter: f64,
    /// The center of the area: east, north.
    pub center: [f64; 2],
    /// The extent of the outline: east-west, north-south.
    pub extent: [f64; 2],
    /// Whether the outline is more than one rectangle: an L, a U, a T.
    pub has_parts: bool,
    /// The wall lines.
    pub lines: Vec<PlacedLine>,
}

/// Walls closer together than this across their direction are one line of resistance.
const SAME_LINE: f64 = 24.0;

#[expect(
    clippy::cast_precision_loss,
    reason = "a floor plan, computed with in floating point"
)]
fn inches(length: Length) -> f64 {
    length.nanometers() as f64 / Length::inches(1).nanometers() as f64
}

fn point(point: PlanPoint) -> [f64; 2] {
    [inches(point.x), inches(point.y)]
}

impl FloorPlan {
    /// Reads the plan of a house.
    pub fn of(house: &House) -> Result<Self, PlanError> {
        let corners: Vec<[f64; 2]> = house
            .building
            .outline
            .iter()
            .map(|corner| point(*corner))
            .collect();
        if corners.len() < 3 {
            return Err(PlanError::NoOutline);
        }
        let mut lines = Vec::with_capacity(house.wall_lines.len());
        for (wall, line) in house.wall_lines.iter().enumerate() {
            let Some([from, to]) = line.plan else {
                return Err(PlanError::NoPlace(line.name.clone()));
            };
            let ([x1, y1], [x2, y2]) = (point(from), point(to));
            let (direction, across, ends) = if from.y == to.y && from.x != to.x {
                (Direction::EastWest, y1, (x1, x2))
            } else if from.x == to.x && from.y != to.y {
                (Direction::NorthSouth, x1, (y1, y2))
            } else {
                return Err(PlanError::SkewWall(line.name.clone()));
            };
            lines.push(PlacedLine {
                wall,
                direction,
                across,
                along: (ends.0.min(ends.1), ends.0.max(ends.1)),
                tributary: 0.0,
                drag: 0.0,
                is_inside: false,
            });
        }
        Self::of_outline(&corners, lines)
    }

    /// The plan of an outline given by its corners in inches, with its wall lines.
    pub fn of_outline(corners: &[[f64; 2]], lines: Vec<PlacedLine>) -> Result<Self, PlanError> {
        #[expect(clippy::float_cmp, reason = "equal lengths are equal inches")]
        let is_skew = sides(corners).any(|(a, b)| a[0] != b[0] && a[1] != b[1]);
        if is_skew {
            return Err(PlanError::SkewOutline);
        }
        if crosses_itself(corners) {
            return Err(PlanError::NoArea);
        }
        let (area, center) = area_and_center(corners);
        if area <= 0.0 || !area.is_finite() {
            return Err(PlanError::NoArea);
        }
        let extent_of = |axis: usize| {
            let values = || corners.iter().filter_map(move |corner| corner.get(axis).copied());
            values().fold(f64::NEG_INFINITY, f64::max) - values().fold(f64::INFINITY, f64::min)
        };
        let extent = [extent_of(0), extent_of(1)];
        let mut plan = Self {
            area,
            perimeter: sides(corners)
                .map(|(a, b)| (a[0] - b[0]).abs() + (a[1] - b[1]).abs())
                .sum(),
            center,
            extent,
            has_parts: area < extent[0] * extent[1] * 0.999_999,
            lines,
        };
        for line in &mut plan.lines {
            line.is_inside = !sides(corners).any(|side| runs_along(side, line));
        }
        for direction in Direction::BOTH {
            plan.share_out(corners, direction)?;
        }
        Ok(plan)
    }

    /// Gives each line of a direction the area nearest to it: half the way to the next line on either side, and all
    /// of it to the edge. Where the outline falls into parts, each part goes to the lines beside it.
    fn share_out(&mut self, corners: &[[f64; 2]], direction: Direction) -> Result<(), PlanError> {
        let mut levels: Vec<(f64, Vec<usize>)> = Vec::new();
        let mut order: Vec<usize> = (0..self.lines.len())
            .filter(|line| {
                self.lines
                    .get(*line)
                    .is_some_and(|line| line.direction == direction)
            })
            .collect();
        let across = |line: &usize| self.lines.get(*line).map_or(0.0, |line| line.across);
        order.sort_by(|a, b| across(a).total_cmp(&across(b)));
        for line in order {
            let place = across(&line);
            match levels.last_mut() {
                Some((level, members)) if place - *level < SAME_LINE => members.push(line),
                _ => levels.push((place, vec![line])),
            }
        }
        match levels.as_slice() {
            [] => return Err(PlanError::NothingResists(direction)),
            [_] => return Err(PlanError::OneLine(direction)),
            _ => {}
        }
        let middles: Vec<f64> = levels
            .windows(2)
            .filter_map(|pair| match pair {
                [a, b] => Some(f64::midpoint(a.0, b.0)),
                _ => None,
            })
            .collect();
        let bounds = std::iter::once(f64::NEG_INFINITY)
            .chain(middles.iter().copied())
            .zip(middles.iter().copied().chain(std::iter::once(f64::INFINITY)));
        for ((_, members), band) in levels.iter().zip(bounds) {
            for (from, to, area) in strips(corners, direction, band) {
                self.give(members, (from, to), area);
            }
        }
        Ok(())
    }

    /// Gives the area of a strip, which reaches along a direction from one place to another, to the lines of one
    /// level: to those beside it by the length they share with it, and where none stands beside it, to all by their
    /// length, through drag.
    fn give(&mut self, members: &[usize], strip: (f64, f64), area: f64) {
        let shared = |line: &PlacedLine| (line.along.1.min(strip.1) - line.along.0.max(strip.0)).max(0.0);
        let of = |weigh: &dyn Fn(&PlacedLine) -> f64, lines: &[PlacedLine]| -> f64 {
            members
                .iter()
                .filter_map(|line| lines.get(*line))
                .map(weigh)
                .sum()
        };
        let beside = of(&shared, &self.lines);
        let all = of(&PlacedLine::length, &self.lines);
        let width = strip.1 - strip.0;
        for line in members {
            let Some(line) = self.lines.get_mut(*line) else {
                continue;
            };
            let share = if beside > 0.0 {
                shared(line) / beside
            } else {
                line.length() / all
            };
            line.tributary += area * share;
            line.drag = line.drag.max((width * share - shared(line)).max(0.0));
        }
    }

    /// The lines of a direction.
    pub fn of_direction(&self, direction: Direction) -> impl Iterator<Item = &PlacedLine> {
        self.lines.iter().filter(move |line| line.direction == direction)
    }

    /// The extent across a direction: what an accidental eccentricity is a share of.
    pub fn width_across(&self, direction: Direction) -> f64 {
        let [east_west, north_south] = self.extent;
        match direction {
            Direction::EastWest => north_south,
            Direction::NorthSouth => east_west,
        }
    }

    /// The distance of the center of the floor from the origin, across a direction.
    pub fn center_across(&self, direction: Direction) -> f64 {
        let [east, north] = self.center;
        match direction {
            Direction::EastWest => north,
            Direction::NorthSouth => east,
        }
    }
}

fn sides(corners: &[[f64; 2]]) -> impl Iterator<Item = ([f64; 2], [f64; 2])> {
    corners
        .iter()
        .copied()
        .zip(corners.iter().copied().cycle().skip(1))
}

/// Whether a wall line runs along a side of the outline.
fn runs_along((a, b): ([f64; 2], [f64; 2]), line: &PlacedLine) -> bool {
    let axis = line.direction.index();
    let along = |corner: [f64; 2]| corner.get(axis).copied().unwrap_or_default();
    let across = |corner: [f64; 2]| corner.get(1 - axis).copied().unwrap_or_default();
    let (from, to) = (along(a).min(along(b)), along(a).max(along(b)));
    let is_beside =
        (across(a) - line.across).abs() < SAME_LINE && (across(b) - line.across).abs() < SAME_LINE;
    is_beside && from < line.along.1 && line.along.0 < to
}

/// Whether two sides that are not neighbors meet. Outlines have few corners, so every pair is tried.
fn crosses_itself(corners: &[[f64; 2]]) -> bool {
    let sides: Vec<_> = sides(corners).collect();
    let count = sides.len();
    let boxes_meet = |a: &([f64; 2], [f64; 2]), b: &([f64; 2], [f64; 2])| {
        (0..2).all(|axis| {
            let ends = |side: &([f64; 2], [f64; 2])| {
                let (from, to) = (
                    side.0.get(axis).copied().unwrap_or_default(),
                    side.1.get(axis).copied().unwrap_or_default(),
                );
                (from.min(to), from.max(to))
            };
            let (a, b) = (ends(a), ends(b));
            a.0 <= b.1 && b.0 <= a.1
        })
    };
    sides.iter().enumerate().any(|(i, a)| {
        sides
            .iter()
            .enumerate()
            .skip(i + 2)
            .any(|(j, b)| !(i == 0 && j == count - 1) && boxes_meet(a, b))
    })
}

fn area_and_center(corners: &[[f64; 2]]) -> (f64, [f64; 2]) {
    let (mut doubled, mut x, mut y) = (0.0, 0.0, 0.0);
    for (a, b) in sides(corners) {
        let cross = a[0] * b[1] - b[0] * a[1];
        doubled += cross;
        x += (a[0] + b[0]) * cross;
        y += (a[1] + b[1]) * cross;
    }
    let center = if doubled == 0.0 {
        [0.0, 0.0]
    } else {
        [x / (3.0 * doubled), y / (3.0 * doubled)]
    };
    (doubled.abs() / 2.0, center)
}

/// The parts of a right-angled outline within a band across a direction: each a strip along the direction with its
/// area within the band.
fn strips(corners: &[[f64; 2]], direction: Direction, band: (f64, f64)) -> Vec<(f64, f64, f64)> {
    let axis = direction.index();
    let along = |corner: &[f64; 2]| corner.get(axis).copied().unwrap_or_default();
    let across = |corner: &[f64; 2]| corner.get(1 - axis).copied().unwrap_or_default();
    let mut places: Vec<f64> = corners.iter().map(along).collect();
    places.sort_by(f64::total_cmp);
    places.dedup();
    let mut strips: Vec<(f64, f64, f64)> = Vec::new();
    for pair in places.windows(2) {
        let &[from, to] = pair else { continue };
        let middle = f64::midpoint(from, to);
        let mut crossings: Vec<f64> = sides(corners)
            .filter(|(a, b)| {
                let (a, b) = (along(a), along(b));
                a.min(b) < middle && middle < a.max(b)
            })
            .map(|(a, _)| across(&a))
            .collect();
        crossings.sort_by(f64::total_cmp);
        let height: f64 = crossings
            .chunks_exact(2)
            .filter_map(|ends| match ends {
                [low, high] => Some((high.min(band.1) - low.max(band.0)).max(0.0)),
                _ => None,
            })
            .sum();
        if height <= 0.0 {
            continue;
        }
        match strips.last_mut() {
            // Neighboring strips are one part of the floor.
            Some(last) if (last.1 - from).abs() < f64::EPSILON => {
                last.1 = to;
                last.2 += height * (to - from);
            }
            _ => strips.push((from, to, height * (to - from))),
        }
    }
    strips
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "whole feet are exact")]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn line(wall: usize, direction: Direction, across: f64, along: (f64, f64)) -> PlacedLine {
        PlacedLine {
            wall,
            direction,
            across,
            along,
            tributary: 0.0,
            drag: 0.0,
            is_inside: false,
        }
    }

    fn rectangle(x: f64, y: f64) -> (Vec<[f64; 2]>, Vec<PlacedLine>) {
        use Direction::{EastWest, NorthSouth};
        (
            vec![[0.0, 0.0], [x, 0.0], [x, y], [0.0, y]],
            vec![
                line(0, EastWest, 0.0, (0.0, x)),
                line(1, EastWest, y, (0.0, x)),
                line(2, NorthSouth, 0.0, (0.0, y)),
                line(3, NorthSouth, x, (0.0, y)),
            ],
        )
    }

    #[test]
    fn a_rectangle_is_shared_by_halves() {
        let (corners, lines) = rectangle(576.0, 288.0);
        let plan = FloorPlan::of_outline(&corners, lines).unwrap();
        assert!(!plan.has_parts);
        assert_eq!(plan.center, [288.0, 144.0]);
        for line in &plan.lines {
            assert!(!line.is_inside);
            assert_eq!(line.tributary, 576.0 * 288.0 / 2.0);
            assert_eq!(line.drag, 0.0);
        }
    }

    /// An L of a main part 40 by 20 ft and a wing 16 ft wide that reaches 12 ft further north.
    #[test]
    fn an_l_shape_is_shared_by_its_parts() {
        use Direction::{EastWest, NorthSouth};
        let ft = 12.0;
        let corners = [
            [0.0, 0.0],
            [40.0, 0.0],
            [40.0, 20.0],
            [16.0, 20.0],
            [16.0, 32.0],
            [0.0, 32.0],
        ]
        .map(|corner| corner.map(|value| value * ft));
        let lines = vec![
            line(0, EastWest, 0.0, (0.0, 40.0 * ft)),
            line(1, EastWest, 20.0 * ft, (16.0 * ft, 40.0 * ft)),
            line(2, EastWest, 32.0 * ft, (0.0, 16.0 * ft)),
            line(3, NorthSouth, 0.0, (0.0, 32.0 * ft)),
            line(4, NorthSouth, 16.0 * ft, (20.0 * ft, 32.0 * ft)),
            line(5, NorthSouth, 40.0 * ft, (0.0, 20.0 * ft)),
        ];
        let plan = FloorPlan::of_outline(&corners, lines).unwrap();
        assert!(plan.has_parts);
        let tributary: Vec<f64> = plan.lines.iter().map(|line| line.tributary / (ft * ft)).collect();
        // By hand, in square feet: 40 x 10; 40 x 10 + 16 x 6; 16 x 6; then from the west 8 x 32, 8 x 32 + 12 x 20, 12 x 20.
        assert_eq!(tributary, [400.0, 496.0, 96.0, 256.0, 496.0, 240.0]);
        // The wall at the inner corner gathers 40 ft of floor and is 24 ft long.
        assert_eq!(plan.lines[1].drag, 16.0 * ft);
    }

    #[test]
    fn the_two_wings_of_a_u_shape_go_to_their_own_ends() {
        use Direction::{EastWest, NorthSouth};
        let corners = [
            [0.0, 0.0],
            [60.0, 0.0],
            [60.0, 40.0],
            [40.0, 40.0],
            [40.0, 20.0],
            [10.0, 20.0],
            [10.0, 40.0],
            [0.0, 40.0],
        ];
        let corners = corners.map(|corner| corner.map(|value| value * 12.0));
        let at = |wall, across: f64, from: f64, to: f64| {
            line(wall, EastWest, across * 12.0, (from * 12.0, to * 12.0))
        };
        let lines = vec![
            at(0, 0.0, 0.0, 60.0),
            at(1, 20.0, 10.0, 40.0),
            at(2, 40.0, 0.0, 10.0),
            at(3, 40.0, 40.0, 60.0),
            line(4, NorthSouth, 0.0, (0.0, 480.0)),
            line(5, NorthSouth, 720.0, (0.0, 480.0)),
        ];
        let plan = FloorPlan::of_outline(&corners, lines).unwrap();
        let feet: Vec<f64> = plan.lines.iter().map(|line| line.tributary / 144.0).collect();
        assert_eq!(feet[2..4], [100.0, 200.0]);
        assert_eq!(feet[..4].iter().sum::<f64>(), plan.area / 144.0);
    }

    #[test]
    fn what_cannot_be_computed_with_is_refused() {
        let (corners, lines) = rectangle(576.0, 288.0);
        let without = |direction| {
            lines
                .iter()
                .filter(|line| line.direction != direction)
                .cloned()
                .collect::<Vec<_>>()
        };
        assert_eq!(
            FloorPlan::of_outline(&corners, without(Direction::EastWest)),
            Err(PlanError::NothingResists(Direction::EastWest))
        );
        assert_eq!(
            FloorPlan::of_outline(&corners, lines[1..].to_vec()),
            Err(PlanError::OneLine(Direction::EastWest))
        );
        let skew = [[0.0, 0.0], [100.0, 10.0], [100.0, 100.0], [0.0, 100.0]];
        assert_eq!(
            FloorPlan::of_outline(&skew, lines.clone()),
            Err(PlanError::SkewOutline)
        );
        let crossing = [
            [0.0, 0.0],
            [100.0, 0.0],
            [100.0, 100.0],
            [50.0, 100.0],
            [50.0, -50.0],
            [0.0, -50.0],
        ];
        assert_eq!(FloorPlan::of_outline(&crossing, lines), Err(PlanError::NoArea));
    }

    proptest! {
        /// No floor is lost and none is counted twice, whatever the house's proportions.
        #[test]
        fn tributary_areas_add_up(x in 240.0..1200.0_f64, y in 240.0..1200.0_f64, inner in 0.1..0.9_f64) {
            let (corners, mut lines) = rectangle(x, y);
            lines.push(line(4, Direction::EastWest, y * inner, (0.0, x / 2.0)));
            let plan = FloorPlan::of_outline(&corners, lines).unwrap();
            for direction in Direction::BOTH {
                let sum: f64 = plan.of_direction(direction).map(|line| line.tributary).sum();
                prop_assert_eq!(plan.of_direction(direction).filter(|line| line.is_inside).count(),
                    usize::from(direction == Direction::EastWest && (y * inner).min(y * (1.0 - inner)) >= SAME_LINE));
                prop_assert!((sum / plan.area - 1.0).abs() < 1e-9);
            }
        }
    }
}
