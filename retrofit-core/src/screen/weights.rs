//! What the house weighs, part by part and floor by floor.

use typenum::{N2, N3, P1, P2, Z0};

use super::existing::ExistingBuildings;
use super::input::{Case, Input, Pick, UnknownKind, What};
use super::number::{Ledger, Number};
use super::quantity::{Distance, Force, LineLoad, Stress, Surface};
use super::standard::{Edition, Equation, Figure, StandardTable};
use super::unit::{COUNT, FOOT, SQUARE_FOOT, Unit};
use crate::choice::Choice;
use crate::house::{Building, ExteriorWall, Roof, Stories};
use crate::observation::{Basis, Observed};
use crate::provisions::Standing;
use crate::table::TableError;

type AreaLoad = Figure<P1, N2>;

/// The weights of materials.
#[derive(Clone, Debug)]
pub struct DeadLoads {
    /// The edition of the table.
    pub edition: Edition,
    pub(crate) roofs: Vec<(Roof, AreaLoad)>,
    pub(crate) walls: Vec<(ExteriorWall, AreaLoad)>,
    pub(crate) roof_sheathing: AreaLoad,
    pub(crate) roof_framing: AreaLoad,
    pub(crate) plaster_ceiling: AreaLoad,
    pub(crate) board_ceiling: AreaLoad,
    pub(crate) floor_framing: AreaLoad,
    pub(crate) subfloor: AreaLoad,
    pub(crate) floor_finish: AreaLoad,
    pub(crate) partitions: AreaLoad,
    pub(crate) plaster_on_wall: AreaLoad,
    chimney: Figure<P1, Z0>,
    /// Live load of a floor, which posts carry; no part of the seismic weight.
    pub live: AreaLoad,
    /// What a volume of plain concrete weighs.
    pub concrete: Figure<P1, N3>,
}

impl DeadLoads {
    /// Reads the weights from their table.
    pub fn parse(table: &StandardTable) -> Result<Self, Vec<TableError>> {
        Self::read(table).map_err(|fault| vec![fault])
    }

    fn read(table: &StandardTable) -> Result<Self, TableError> {
        let loads = |figure: &str| table.figure(figure, "");
        let read = Self {
            edition: table.edition.clone(),
            roofs: each(table, "roof-covering")?,
            walls: each(table, "outside-wall")?,
            roof_sheathing: loads("roof-sheathing")?,
            roof_framing: loads("roof-framing")?,
            plaster_ceiling: table.figure("ceiling", "plaster")?,
            board_ceiling: table.figure("ceiling", "board")?,
            floor_framing: loads("floor-framing")?,
            subfloor: loads("subfloor")?,
            floor_finish: loads("floor-finish")?,
            partitions: loads("partitions")?,
            plaster_on_wall: loads("plaster-on-wall")?,
            chimney: table.figure("chimney", "")?,
            live: loads("live-load")?,
            concrete: table.figure("concrete", "")?,
        };
        table.unread().map_or(Ok(read), Err)
    }
}

/// A row for every term of a list.
fn each<T: Choice>(table: &StandardTable, figure: &str) -> Result<Vec<(T, AreaLoad)>, TableError> {
    T::ALL
        .iter()
        .map(|term| Ok((*term, table.figure(figure, term.spelling())?)))
        .collect()
}

/// The parts of a house as inputs of its weight.
#[derive(Clone, Debug)]
pub(super) struct Weighed {
    pub(super) stories: Pick<Stories>,
    area: Input<Z0, P2>,
    perimeter: Input<Z0, P1>,
    story_height: Input<Z0, P1>,
    roof_slope: Input<Z0, Z0>,
    roof: Input<P1, N2>,
    roof_sheathing: Input<P1, N2>,
    roof_framing: Input<P1, N2>,
    ceiling: Input<P1, N2>,
    wall: Input<P1, N2>,
    plaster: Option<Input<P1, N2>>,
    floor_framing: Input<P1, N2>,
    subfloor: Input<P1, N2>,
    floor_finish: Input<P1, N2>,
    partitions: Input<P1, N2>,
    chimneys: Input<Z0, Z0>,
    chimney: Input<P1, Z0>,
    porch: Input<Z0, P2>,
}

impl Weighed {
    /// Reads the parts of a house; `None` where nothing bounds the number of stories.
    pub(super) fn of(
        building: &Building,
        (area, perimeter): (f64, f64),
        loads: &DeadLoads,
        existing: &ExistingBuildings,
    ) -> Option<Self> {
        let (least, most) = building.stories.bounds();
        let stories = Pick {
            low: *least?,
            high: *most?,
            kind: UnknownKind::Stories,
        };
        let figure = |symbol, words, figure, kind| Input::figure(symbol, words, figure, kind);
        let plan_area = |symbol, words| {
            Input::seen(
                symbol,
                words,
                SQUARE_FOOT,
                area,
                "building.outline",
                Basis::Measured,
            )
        };
        let roof = of_kind(
            "w_c",
            "roof covering",
            &building.roof,
            &loads.roofs,
            UnknownKind::Roof,
        )?;
        let wall = of_kind(
            "w_w",
            "outside wall, its inside board included",
            &building.exterior,
            &loads.walls,
            UnknownKind::OutsideWalls,
        )?;
        let plastered = building.interior_plaster.value().copied();
        let ceilings = match plastered {
            Some(true) => vec![&loads.plaster_ceiling],
            Some(false) => vec![&loads.board_ceiling],
            None => vec![&loads.plaster_ceiling, &loads.board_ceiling],
        };
        let plaster = figure(
            "w_p",
            "plaster on lath, over what board weighs",
            &loads.plaster_on_wall,
            UnknownKind::Plaster,
        );
        Some(Self {
            stories,
            area: plan_area("A", "area inside the outline"),
            perimeter: Input::seen(
                "P",
                "length of the outline",
                FOOT,
                perimeter,
                "building.outline",
                Basis::Measured,
            ),
            story_height: What {
                symbol: "h_s",
                words: "height of a story",
                unit: FOOT,
                kind: UnknownKind::StoryHeight,
            }
            .or(
                &building.story_height,
                || "building.story_height".into(),
                &existing.story_height,
            ),
            roof_slope: Input::figure(
                "s_r",
                "surface of the roof over its plan area",
                &existing.roof_slope_factor,
                UnknownKind::RoofSlope,
            ),
            roof,
            roof_sheathing: figure("w_b", "roof sheathing", &loads.roof_sheathing, UnknownKind::Roof),
            roof_framing: figure("w_r", "roof framing", &loads.roof_framing, UnknownKind::Roof),
            ceiling: Input::any_of("w_k", "ceiling", ceilings, UnknownKind::Plaster)?,
            wall,
            plaster: match plastered {
                Some(true) => Some(plaster),
                Some(false) => None,
                None => Some(plaster.or_none(UnknownKind::Plaster)),
            },
            floor_framing: figure("w_j", "floor framing", &loads.floor_framing, UnknownKind::Floors),
            subfloor: figure("w_s", "subfloor", &loads.subfloor, UnknownKind::Floors),
            floor_finish: figure("w_f", "floor finish", &loads.floor_finish, UnknownKind::Floors),
            partitions: figure(
                "w_i",
                "partitions, over the floor area",
                &loads.partitions,
                UnknownKind::Floors,
            ),
            chimneys: chimneys(building, existing),
            chimney: Input::figure(
                "W_1",
                "one masonry chimney",
                &loads.chimney,
                UnknownKind::Chimneys,
            ),
            porch: porch(building),
        })
    }
}

/// Masonry chimneys: as counted, or one where its ties were looked for, or as it may be.
fn chimneys(building: &Building, existing: &ExistingBuildings) -> Input<Z0, Z0> {
    let counted = What {
        symbol: "n_c",
        words: "masonry chimneys",
        unit: COUNT,
        kind: UnknownKind::Chimneys,
    }
    .known(&building.masonry_chimneys, || "building.masonry_chimneys".into());
    // That no chimney stands untied does not say that there is none.
    let untied = match &building.untied_chimney {
        Observed::Known { value: true, basis } => Some(Input::seen(
            "n_c",
            "masonry chimneys: the one that stands untied",
            COUNT,
            1.0,
            "building.untied_chimney",
            *basis,
        )),
        _ => None,
    };
    counted
        .or(untied)
        .unwrap_or_else(|| figure_of_none_to_one(existing))
}

/// Porch roofs. A porch that nobody wrote down is taken not to be there, and the screen says so.
fn porch(building: &Building) -> Input<Z0, P2> {
    let recorded = What {
        symbol: "A_p",
        words: "plan area of porch roofs",
        unit: SQUARE_FOOT,
        kind: UnknownKind::Porch,
    }
    .known(&building.porch_area, || "building.porch_area".into());
    recorded.unwrap_or_else(|| {
        Input::seen(
            "A_p",
            "plan area of porch roofs: none on record",
            SQUARE_FOOT,
            0.0,
            "building.porch_area",
            Basis::Inferred,
        )
    })
}

fn figure_of_none_to_one(existing: &ExistingBuildings) -> Input<Z0, Z0> {
    Input::figure(
        "n_c",
        "masonry chimneys: not recorded",
        &existing.chimneys,
        UnknownKind::Chimneys,
    )
}

fn of_kind<T: Copy + PartialEq>(
    symbol: &'static str,
    words: &str,
    observed: &Observed<T>,
    rows: &[(T, AreaLoad)],
    kind: UnknownKind,
) -> Option<Input<P1, N2>> {
    let seen = observed.value();
    let fitting = rows
        .iter()
        .filter(|(term, _)| seen.is_none_or(|seen| seen == term))
        .map(|(_, figure)| figure);
    Input::any_of(symbol, words, fitting, kind)
}

/// One line of the takeoff of weight.
#[derive(Clone, Copy)]
pub(super) struct WeightLine<N: Number> {
    pub(super) what: &'static str,
    /// The level it is counted at: 0 is the first floor.
    pub(super) level: usize,
    pub(super) weight: Force<N>,
}

/// What a house weighs in a case.
#[derive(Clone)]
pub(super) struct Weights<N: Number> {
    pub(super) lines: Vec<WeightLine<N>>,
    /// Levels, floors and roof.
    pub(super) levels: usize,
    pub(super) total: Force<N>,
    pub(super) story_height: Distance<N>,
    pub(super) area: Surface<N>,
    /// What the outside walls above weigh on a foot of wall line.
    pub(super) wall_on_foot: LineLoad<N>,
    /// What a square foot of the first floor weighs, without the partitions on it.
    pub(super) first_floor_unit: Stress<N>,
    /// What a square foot of the first floor weighs, finish and partitions with it.
    pub(super) first_floor_loaded: Stress<N>,
    /// What the floors above the first and the roof weigh over a square foot of the plan.
    pub(super) upper_and_roof_unit: Stress<N>,
}

const PART: Equation = Equation {
    symbol: "W_i",
    words: "weight of a part of the house",
    unit: Unit::Pound,
    section: "takeoff",
    standing: Standing::Verified,
};
const TOTAL: Equation = Equation {
    symbol: "W",
    words: "effective seismic weight of the house",
    unit: Unit::Pound,
    section: "12.7.2",
    standing: Standing::Memory,
};

const ON_FOOT: Equation = Equation {
    symbol: "w_walls",
    words: "weight of the outside walls above, on a foot of wall line",
    unit: Unit::PoundPerFoot,
    section: "takeoff",
    standing: Standing::Verified,
};
const OVER_FOOT: Equation = Equation {
    symbol: "w_floors",
    words: "weight of the upper floors and the roof, over a square foot of the plan",
    unit: Unit::PoundPerSquareFoot,
    section: "takeoff",
    standing: Standing::Verified,
};

impl Weighed {
    /// The takeoff in a case.
    pub(super) fn weigh<G: Ledger>(
        &self,
        ledger: G,
        case: Case,
        loads: &DeadLoads,
        seismic: &Edition,
        cripple_height: Option<Distance<G::Number>>,
    ) -> Weights<G::Number> {
        let stories = self.stories.get(ledger, case);
        let floors = usize::from(stories.counted());
        let has_half = !stories.is_whole();
        let area = self.area.get(ledger, case);
        let perimeter = self.perimeter.get(ledger, case);
        let story_height = self.story_height.get(ledger, case);
        let slope = self.roof_slope.get(ledger, case);
        let covering = self.roof.get(ledger, case) + self.roof_sheathing.get(ledger, case);
        let roof_framing = self.roof_framing.get(ledger, case);
        let ceiling = self.ceiling.get(ledger, case);
        let bare_wall = self.wall.get(ledger, case);
        let wall = match &self.plaster {
            Some(plaster) => bare_wall + plaster.get(ledger, case),
            None => bare_wall,
        };
        let first_floor_unit = self.floor_framing.get(ledger, case) + self.subfloor.get(ledger, case);
        let floor =
            first_floor_unit + self.floor_finish.get(ledger, case) + self.partitions.get(ledger, case);
        let mut lines = Vec::with_capacity(3 * floors + 5);
        let mut add = |what: &'static str, level: usize, weight: Force<G::Number>| {
            let weight = weight.by_for(&PART, &loads.edition, || what.to_owned());
            lines.push(WeightLine { what, level, weight });
            weight
        };
        let roof = add(
            "roof and ceiling",
            floors,
            (slope * covering + roof_framing + ceiling) * area,
        );
        let porch = add(
            "porch roofs",
            1,
            (slope * covering + roof_framing) * self.porch.get(ledger, case),
        );
        let chimneys = add(
            "masonry chimneys",
            0,
            self.chimneys.get(ledger, case) * self.chimney.get(ledger, case),
        );
        let mut total = roof + porch + chimneys;
        if let Some(height) = cripple_height {
            total = total
                + add(
                    "upper half of the cripple walls",
                    0,
                    height / 2.0 * perimeter * bare_wall,
                );
        }
        let mut walls_on_foot = 0.0 * (story_height * wall);
        let mut upper_and_roof = slope * covering + roof_framing + ceiling;
        for story in 0..floors {
            let is_half = has_half && story + 1 == floors;
            let share = if is_half { 0.5 } else { 1.0 };
            let walls = share * (perimeter * story_height * wall);
            total = total + add("outside walls, lower half", story, walls / 2.0);
            total = total + add("outside walls, upper half", story + 1, walls / 2.0);
            walls_on_foot = walls_on_foot + share * (story_height * wall);
            if story > 0 {
                upper_and_roof = upper_and_roof + share * floor;
            }
            let on_floor = share * (floor * area);
            let weight = if story == 0 {
                on_floor
            } else {
                on_floor + share * (ceiling * area)
            };
            total = total
                + add(
                    if story == 0 {
                        "first floor"
                    } else {
                        "upper floor, its ceiling included"
                    },
                    story,
                    weight,
                );
        }
        Weights {
            lines,
            levels: floors + 1,
            total: total.by(&TOTAL, seismic),
            story_height,
            area,
            wall_on_foot: walls_on_foot.by(&ON_FOOT, &loads.edition),
            first_floor_unit,
            first_floor_loaded: floor,
            upper_and_roof_unit: upper_and_roof.by(&OVER_FOOT, &loads.edition),
        }
    }
}
