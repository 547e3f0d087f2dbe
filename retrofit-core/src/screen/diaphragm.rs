//! A rigid floor: it shares a force among the walls by their stiffness, and turns where the force does not act at the
//! center of the stiffness.

use super::number::Number;
use super::plan::Direction;
use super::quantity::{Distance, Force, LineLoad, Moment};
use super::standard::{Edition, Equation};
use super::unit::Unit;
use crate::provisions::Standing;

/// A wall that holds a rigid floor.
#[derive(Clone, Copy, Debug)]
pub struct Resisting<N: Number> {
    /// The direction it resists in.
    pub direction: Direction,
    /// Its stiffness.
    pub stiffness: LineLoad<N>,
    /// Its distance from the origin, across its direction.
    pub across: Distance<N>,
}

/// How a force acts on a rigid floor in one direction.
#[derive(Clone, Copy, Debug)]
pub struct Acting<N: Number> {
    /// The distance of the center of the floor from the origin, across the direction.
    pub center: Distance<N>,
    /// The accidental eccentricity, to be taken to either side.
    pub accidental: Distance<N>,
}

/// A rigid floor on its walls.
///
/// ```
/// use retrofit_core::screen::{Acting, Direction, FOOT, KIP, KIP_PER_INCH, Resisting, RigidFloor, Edition};
/// let wall = |direction, stiffness, across| Resisting {
///     direction,
///     stiffness: KIP_PER_INCH.of(stiffness),
///     across: FOOT.of(across),
/// };
/// let walls = [
///     wall(Direction::NorthSouth, 4.5, 0.0),
///     wall(Direction::NorthSouth, 5.5, 90.0),
///     wall(Direction::EastWest, 4.0, 0.0),
///     wall(Direction::EastWest, 4.0, 60.0),
/// ];
/// let edition = Edition::default();
/// let floor = RigidFloor::of(&walls, &edition).unwrap();
/// let acting = Acting { center: FOOT.of(45.0), accidental: FOOT.of(4.5) };
/// let shear = floor.shear(&walls[0], KIP.of(100.0), &acting, &edition, String::new);
/// assert!((shear.to(KIP) - 52.36).abs() < 0.01);
/// ```
#[derive(Clone, Copy, Debug)]
pub struct RigidFloor<N: Number> {
    sums: [LineLoad<N>; 2],
    centers: [Distance<N>; 2],
    polar: Moment<N>,
}

const fn equation(symbol: &'static str, words: &'static str, unit: Unit, section: &'static str) -> Equation {
    Equation {
        symbol,
        words,
        unit,
        section,
        // Seen at work in a textbook's example, not in the standard.
        standing: Standing::Secondary,
    }
}

const CENTER: Equation = equation(
    "x_r",
    "center of stiffness, across the direction",
    Unit::Foot,
    "12.8.4.1",
);
const OFFSET: Equation = equation(
    "e",
    "from the center of stiffness to the center of the floor",
    Unit::Foot,
    "12.8.4.1",
);
const DIRECT: Equation = equation("V_direct", "shear by stiffness alone", Unit::Pound, "12.8.4");
const TORSION: Equation = equation(
    "V_torsion",
    "shear from the turning of the floor, accidental eccentricity to the worse side",
    Unit::Pound,
    "12.8.4.1, 12.8.4.2",
);
const RIGID: Equation = equation(
    "V_rigid",
    "shear of the wall by stiffness, with accidental torsion",
    Unit::Pound,
    "12.8.4",
);

fn magnitude<N: Number>(distance: Distance<N>) -> Distance<N> {
    if distance.value() < 0.0 {
        -1.0 * distance
    } else {
        distance
    }
}

impl<N: Number> RigidFloor<N> {
    /// A floor on its walls; `None` where no wall is stiff in one of the directions, or all stand at its center.
    pub fn of(walls: &[Resisting<N>], edition: &Edition) -> Option<Self> {
        let half = |direction: Direction| {
            let of = || walls.iter().filter(move |wall| wall.direction == direction);
            let sum = of().map(|wall| wall.stiffness).reduce(|a, b| a + b)?;
            let moment = of()
                .map(|wall| wall.stiffness * wall.across)
                .reduce(|a, b| a + b)?;
            if sum.value() <= 0.0 {
                return None;
            }
            Some((
                sum,
                (moment / sum).by_for(&CENTER, edition, || direction.words().to_owned()),
            ))
        };
        let [(east_west, across), (north_south, along)] =
            [half(Direction::EastWest)?, half(Direction::NorthSouth)?];
        let centers = [across, along];
        let polar = walls
            .iter()
            .filter_map(|wall| {
                let arm = wall.across - *centers.get(wall.direction.index())?;
                Some(wall.stiffness * arm * arm)
            })
            .reduce(|a, b| a + b)
            .filter(|polar| polar.value() > 0.0)?;
        Some(Self {
            sums: [east_west, north_south],
            centers,
            polar,
        })
    }

    /// The center of stiffness, across a direction.
    pub fn center(&self, direction: Direction) -> Distance<N> {
        let [east_west, north_south] = self.centers;
        match direction {
            Direction::EastWest => east_west,
            Direction::NorthSouth => north_south,
        }
    }

    /// The sum of the stiffnesses times the squares of their distances from the center.
    pub const fn polar(&self) -> Moment<N> {
        self.polar
    }

    /// The shear of a wall under a force in its direction, with the accidental eccentricity to the side that is worse
    /// for it.
    pub fn shear(
        &self,
        wall: &Resisting<N>,
        force: Force<N>,
        acting: &Acting<N>,
        edition: &Edition,
        subject: impl Fn() -> String,
    ) -> Force<N> {
        let [east_west, north_south] = self.sums;
        let sum = match wall.direction {
            Direction::EastWest => east_west,
            Direction::NorthSouth => north_south,
        };
        let center = self.center(wall.direction);
        let offset = (acting.center - center).by_for(&OFFSET, edition, || wall.direction.words().to_owned());
        let arm = wall.across - center;
        let moment = offset * arm + acting.accidental * magnitude(arm);
        let direct = (wall.stiffness / sum * force).by_for(&DIRECT, edition, &subject);
        let torsion = (force * wall.stiffness * moment / self.polar).by_for(&TORSION, edition, &subject);
        (direct + torsion).by_for(&RIGID, edition, subject)
    }
}
