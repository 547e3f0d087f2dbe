//! What the earthquake asks of each wall line.

use typenum::{P1, Z0};

use super::asce7::{
    Asce7, Asce7Error, Combination, Demand, LateralSystem, Level, MOST_LEVELS, SystemFactors,
};
use super::diaphragm::{Acting, Resisting, RigidFloor};
use super::input::{Case, Input};
use super::line::{Line, Part, Rating};
use super::method::Method;
use super::number::{Ledger, Number};
use super::plan::Direction;
use super::quantity::{Distance, Force, LineLoad, Ratio};
use super::standard::Equation;
use super::unit::Unit;
use super::weights::{DeadLoads, Weighed, Weights};
use crate::house::SiteClass;
use crate::provisions::Standing;

/// The shaking of the site.
#[derive(Clone, Debug)]
pub(super) enum Shaking {
    /// Design accelerations.
    Design {
        sds: Input<Z0, Z0>,
        sd1: Option<Input<Z0, Z0>>,
        s1: Option<Input<Z0, Z0>>,
    },
    /// Mapped accelerations and a site class.
    Mapped {
        ss: Input<Z0, Z0>,
        s1: Option<Input<Z0, Z0>>,
        class: SiteClass,
    },
}

/// The inputs of the demand.
#[derive(Clone, Debug)]
pub(super) struct Asked {
    pub(super) shaking: Shaking,
    pub(super) redundancy: Input<Z0, Z0>,
    pub(super) reduction: Option<Input<Z0, Z0>>,
    pub(super) method: Method,
    /// Extent of the house across east-west and across north-south.
    pub(super) width_across: [Input<Z0, P1>; 2],
    /// The center of the floor, across east-west and across north-south.
    pub(super) center_across: [Input<Z0, P1>; 2],
    /// Height of a first floor that lies on the sill.
    pub(super) first_floor: Input<Z0, P1>,
}

/// What the earthquake asks in one direction.
#[derive(Clone, Copy)]
pub(super) struct DirectionDemand<N: Number> {
    pub(super) system: SystemFactors<N>,
    pub(super) coefficient: Ratio<N>,
    pub(super) base_shear: Force<N>,
    /// By the simplified procedure, where it applies.
    pub(super) simplified: Option<Force<N>>,
    pub(super) level_forces: [Option<Force<N>>; MOST_LEVELS],
}

/// The shear of one wall line at the foot of its wall.
#[derive(Clone, Copy)]
pub(super) struct LineShear<N: Number> {
    /// By tributary area.
    pub(super) flexible: Force<N>,
    /// By stiffness, with accidental torsion; `None` where the stiffness of a line is not known.
    pub(super) rigid: Option<Force<N>>,
    /// The greater of the two.
    pub(super) envelope: Force<N>,
    /// What a link of the load path has to carry: with redundancy and the factor of the method.
    pub(super) factored: Force<N>,
}

/// What the earthquake asks of a house in a case.
pub(super) struct Demands<N: Number> {
    pub(super) sds: Ratio<N>,
    pub(super) ie: Ratio<N>,
    /// What the method's load combination multiplies the earthquake by.
    pub(super) earthquake: f64,
    pub(super) weights: Weights<N>,
    pub(super) directions: [DirectionDemand<N>; 2],
    /// In the order of the lines.
    pub(super) lines: Vec<LineShear<N>>,
}

const fn force(symbol: &'static str, words: &'static str, section: &'static str) -> Equation {
    Equation {
        symbol,
        words,
        unit: Unit::Pound,
        section,
        standing: Standing::Memory,
    }
}

const HEIGHT: Equation = Equation {
    symbol: "h_n",
    words: "height of the roof above the foundation",
    unit: Unit::Foot,
    section: "11.2",
    standing: Standing::Memory,
};
const LEVEL_HEIGHT: Equation = Equation {
    symbol: "h_x",
    words: "height of the level above the foundation",
    unit: Unit::Foot,
    section: "12.8.3",
    standing: Standing::Memory,
};
const FLEXIBLE: Equation = force(
    "V_flexible",
    "shear of the wall line by the floor area nearer to it than to the next",
    "12.3.1.1",
);
const ENVELOPE: Equation = force(
    "V_line",
    "shear of the wall line: the greater of the two",
    "12.8.4",
);
const FACTORED: Equation = force(
    "E",
    "shear that every link of the wall line has to carry",
    "12.4.2.1, 2.4.5",
);
const STIFFNESS: Equation = Equation {
    symbol: "k",
    words: "stiffness of the panels of the wall line",
    unit: Unit::KipPerInch,
    section: "4.3.2",
    standing: Standing::Secondary,
};

/// Why nothing is asked of a house.
pub(super) type Asking<N> = Result<Demands<N>, Asce7Error>;

/// `S_DS`, `S_D1` and `S_1`.
type Accelerations<N> = (Ratio<N>, Option<Ratio<N>>, Option<Ratio<N>>);

/// Everything that the demand is computed from.
pub(super) struct Sources<'a> {
    pub(super) asked: &'a Asked,
    pub(super) weighed: &'a Weighed,
    pub(super) lines: &'a [Line<'a>],
    pub(super) loads: &'a DeadLoads,
    pub(super) asce7: &'a Asce7,
}

impl Sources<'_> {
    /// What the earthquake asks in a case; `shaking` scales the design accelerations.
    pub(super) fn demands<G: Ledger>(
        &self,
        ledger: G,
        case: Case,
        shaking: Option<f64>,
    ) -> Asking<G::Number> {
        let asked = self.asked;
        let (sds, sd1, s1) = self.accelerations(ledger, case)?;
        let scaled = |acceleration: Ratio<G::Number>| match shaking {
            None => acceleration,
            Some(factor) => factor * acceleration,
        };
        let (sds, sd1, s1) = (scaled(sds), sd1.map(scaled), s1.map(scaled));
        let ie = self.asce7.importance(ledger);
        let cripple = self
            .lines
            .iter()
            .filter_map(|line| match &line.cripple {
                Part::There(cripple) => Some(cripple.height.get(ledger, case)),
                _ => None,
            })
            .reduce(Distance::max);
        let weights = self
            .weighed
            .weigh(ledger, case, self.loads, &self.asce7.edition, cripple);
        let floors = weights.levels.saturating_sub(1);
        let heights = self.heights(ledger, &weights, cripple);
        let top = heights.get(floors).copied().unwrap_or(weights.story_height);
        let period = self.asce7.period(ledger, top.by(&HEIGHT, &self.asce7.edition))?;
        let mut levels: [Option<Level<G::Number>>; MOST_LEVELS] = [None; MOST_LEVELS];
        for line in &weights.lines {
            let (Some(level), Some(height)) = (levels.get_mut(line.level), heights.get(line.level)) else {
                return Err(Asce7Error::TooMany {
                    what: "levels",
                    found: weights.levels,
                    most: MOST_LEVELS,
                });
            };
            let weight = match level {
                Some(level) => level.weight + line.weight,
                None => line.weight,
            };
            *level = Some(Level {
                weight,
                height: *height,
            });
        }
        let demand_of = |direction: Direction| -> Result<_, Asce7Error> {
            let system = self.system(ledger, case, direction);
            let factors = self.asce7.system(ledger, system).ok_or(Asce7Error::TooMany {
                what: "lateral systems",
                found: 0,
                most: 1,
            })?;
            let coefficient = self.asce7.response_coefficient(&Demand {
                sds,
                sd1,
                s1,
                r: factors.r,
                ie,
                period,
                long_period: None,
            })?;
            let reduction = asked
                .reduction
                .as_ref()
                .map(|reduction| reduction.get(ledger, case));
            let base_shear = self.asce7.base_shear(coefficient, weights.total, reduction)?;
            let stories = u8::try_from(floors).unwrap_or(u8::MAX);
            let simplified = self
                .asce7
                .simplified_base_shear(ledger, stories, sds, factors.r, weights.total)
                .ok();
            let mut present = [Level {
                weight: weights.total,
                height: top,
            }; MOST_LEVELS];
            let mut count = 0;
            for (place, level) in present.iter_mut().zip(levels.into_iter().flatten()) {
                *place = level;
                count += 1;
            }
            let present = present.get(..count).unwrap_or_default();
            Ok(DirectionDemand {
                system: factors,
                coefficient,
                base_shear,
                simplified,
                level_forces: self.asce7.vertical_distribution(base_shear, period, present)?,
            })
        };
        let directions = [demand_of(Direction::EastWest)?, demand_of(Direction::NorthSouth)?];
        let earthquake = self
            .asce7
            .coefficients(asked.method, Combination::Uplift, sds)?
            .earthquake;
        let lines = self.line_shears(ledger, case, &directions, &weights, earthquake);
        Ok(Demands {
            sds,
            ie,
            earthquake,
            weights,
            directions,
            lines,
        })
    }

    /// `S_DS`, and `S_D1` and `S_1` where they are known.
    fn accelerations<G: Ledger>(
        &self,
        ledger: G,
        case: Case,
    ) -> Result<Accelerations<G::Number>, Asce7Error> {
        match &self.asked.shaking {
            Shaking::Design { sds, sd1, s1 } => Ok((
                sds.get(ledger, case),
                sd1.as_ref().map(|sd1| sd1.get(ledger, case)),
                s1.as_ref().map(|s1| s1.get(ledger, case)),
            )),
            Shaking::Mapped { ss, s1, class } => {
                let sds = self.asce7.sds(ledger, *class, ss.get(ledger, case))?;
                let s1 = s1.as_ref().map(|s1| s1.get(ledger, case));
                // Where a study would have to give it, the coefficient stays on the plateau.
                let sd1 = s1.and_then(|s1| self.asce7.sd1(ledger, *class, s1).ok());
                Ok((sds, sd1, s1))
            }
        }
    }

    /// Heights of the floors and the roof above the foundation.
    fn heights<G: Ledger>(
        &self,
        ledger: G,
        weights: &Weights<G::Number>,
        cripple: Option<Distance<G::Number>>,
    ) -> Vec<Distance<G::Number>> {
        // A floor that lies on the sill is a floor's own depth above the foundation.
        let first = cripple.unwrap_or_else(|| self.asked.first_floor.get(ledger, Case::LOW));
        let mut height = first;
        let mut heights = Vec::with_capacity(weights.levels);
        for level in 0..weights.levels {
            if level > 0 {
                height = height + weights.story_height;
            }
            heights.push(height.by_for(&LEVEL_HEIGHT, &self.asce7.edition, || {
                format!("level {}", level + 1)
            }));
        }
        heights
    }

    /// The system whose factors apply in a direction: the weakest that is counted on.
    fn system<G: Ledger>(&self, ledger: G, case: Case, direction: Direction) -> LateralSystem {
        let counts_on_others = self
            .lines
            .iter()
            .filter(|line| line.placed.direction == direction)
            .filter_map(|line| match &line.cripple {
                Part::There(cripple) => Some(cripple),
                _ => None,
            })
            .any(|cripple| {
                let covering = cripple.covering.as_ref();
                covering.is_some_and(|(_, relied)| relied.get(ledger, case).value() > 0.0)
                    || cripple
                        .panels
                        .iter()
                        .any(|panel| matches!(panel.rating.get(ledger, case), Rating::Covering(_)))
            });
        if counts_on_others {
            LateralSystem::OtherPanels
        } else {
            LateralSystem::WoodPanels
        }
    }

    fn line_shears<G: Ledger>(
        &self,
        ledger: G,
        case: Case,
        directions: &[DirectionDemand<G::Number>; 2],
        weights: &Weights<G::Number>,
        share: f64,
    ) -> Vec<LineShear<G::Number>> {
        let asked = self.asked;
        let edition = &self.asce7.edition;
        let redundancy = asked.redundancy.get(ledger, case);
        let stiffness: Option<Vec<LineLoad<G::Number>>> = self
            .lines
            .iter()
            .map(|line| {
                line.stiffness(ledger, case)
                    .map(|stiffness| stiffness.by_for(&STIFFNESS, edition, || line.name.clone()))
            })
            .collect();
        let walls: Option<Vec<_>> = stiffness.map(|stiffness| {
            self.lines
                .iter()
                .zip(stiffness)
                .map(|(line, stiffness)| Resisting {
                    direction: line.placed.direction,
                    stiffness,
                    across: line.across.get(ledger, case),
                })
                .collect()
        });
        let floor = walls.as_deref().and_then(|walls| RigidFloor::of(walls, edition));
        let accidental = |direction: usize| {
            let width = asked.width_across.get(direction)?.get(ledger, case);
            let center = asked.center_across.get(direction)?.get(ledger, case);
            let accidental = self.asce7.accidental_eccentricity(ledger, width).ok()?;
            Some(Acting { center, accidental })
        };
        let mut shears = Vec::with_capacity(self.lines.len());
        for (place, line) in self.lines.iter().enumerate() {
            let subject = || line.name.clone();
            let [east_west, north_south] = directions;
            let base_shear = match line.placed.direction {
                Direction::EastWest => east_west.base_shear,
                Direction::NorthSouth => north_south.base_shear,
            };
            let tributary = line.tributary.get(ledger, case);
            let flexible = (tributary / weights.area * base_shear).by_for(&FLEXIBLE, edition, subject);
            let rigid = floor.and_then(|floor| {
                let wall = walls.as_deref()?.get(place)?;
                let acting = accidental(line.placed.direction.index())?;
                Some(floor.shear(wall, base_shear, &acting, edition, subject))
            });
            let envelope = match rigid {
                Some(rigid) => flexible.max(rigid).by_for(&ENVELOPE, edition, subject),
                None => flexible,
            };
            shears.push(LineShear {
                flexible,
                rigid,
                envelope,
                factored: (share * (redundancy * envelope)).by_for(&FACTORED, edition, subject),
            });
        }
        shears
    }
}
