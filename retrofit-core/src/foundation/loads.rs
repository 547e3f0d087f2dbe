//! What the house brings to its foundation: a line load for each wall line, a load for each post, part by part.
//!
//! Weights are those of `tables/standards/dead-loads`. What the record leaves open stands at both ends of what
//! it can be, so that every part is a range, and the facts that would narrow it are named beside it. Live load
//! counts in full, on every floor and on the roof at once: no reduction is taken. What is nowhere on record and
//! cannot be bounded is *not determined*, and there is no total.
//!
//! Not counted, and said so: see [`HouseLoads::not_counted`].

use std::collections::BTreeSet;

use typenum::{N1, P1, Z0};

use super::shoring::ShoringFigures;
use crate::house::{AsBuilt, JoistDirection, PlanPoint, Post, Stories, WallLine};
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::provisions::{Standing, cited};
use crate::screen::{ExistingBuildings, Figure, PLF, POUND, Quantity, SQUARE_INCH, Standards, TypedUnit};

/// A wall line nearer than this to a side of the outline stands under it, in inches.
const BESIDE: f64 = 24.0;

/// Weight or occupancy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadKind {
    /// Weight that is always there.
    Dead,
    /// Load of occupancy, or of work on a roof.
    Live,
}

/// One part of a load. `L` is the exponent of length: of a line load −1, of a load 0.
#[derive(Clone, Debug)]
pub struct LoadPart<L> {
    /// What it is.
    pub words: &'static str,
    /// Weight or occupancy.
    pub kind: LoadKind,
    /// The least it can be by the record and the tables.
    pub low: Quantity<P1, L, f64>,
    /// The most.
    pub high: Quantity<P1, L, f64>,
    /// The documents of its figures.
    pub sources: Vec<String>,
    /// The weakest standing among its figures.
    pub standing: Standing,
    /// What the record does not say and would narrow it.
    pub open: Vec<String>,
}

/// Something that keeps a load from being summed up.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("not determined: {field} is {reason}; {needed}")]
pub struct NotDetermined {
    /// The field of the record.
    pub field: String,
    /// What the record says of it.
    pub reason: String,
    /// What it is needed for.
    pub needed: &'static str,
}

/// The least and the most that a load can be.
pub type Ends<L> = (Quantity<P1, L, f64>, Quantity<P1, L, f64>);

/// A load as its parts.
#[derive(Clone, Debug)]
pub struct Loads<L> {
    /// The parts.
    pub parts: Vec<LoadPart<L>>,
    /// Why they do not sum up to the whole; empty where they do.
    pub not_determined: Vec<NotDetermined>,
}

impl<L> Loads<L> {
    /// The parts of a kind together, least and most; `None` where something is not determined.
    pub fn of(&self, kind: LoadKind) -> Option<Ends<L>>
    where
        L: Copy,
    {
        self.sum(|part| part.kind == kind)
    }

    /// All parts together, least and most; `None` where something is not determined.
    pub fn total(&self) -> Option<Ends<L>>
    where
        L: Copy,
    {
        self.sum(|_| true)
    }

    fn sum(&self, counts: impl Fn(&LoadPart<L>) -> bool) -> Option<Ends<L>>
    where
        L: Copy,
    {
        if !self.not_determined.is_empty() {
            return None;
        }
        self.parts
            .iter()
            .filter(|part| counts(part))
            .map(|part| (part.low, part.high))
            .reduce(|sum, part| (sum.0 + part.0, sum.1 + part.1))
    }

    /// The weakest standing among the figures of its parts.
    pub fn standing(&self) -> Option<Standing> {
        self.parts.iter().map(|part| part.standing).max()
    }
}

/// What comes down on a foot of a wall line.
pub type LineLoads = Loads<N1>;
/// What comes down on one post.
pub type PostLoads = Loads<Z0>;

/// The loads of a house.
///
/// ```
/// use retrofit_core::foundation::loads::HouseLoads;
/// use retrofit_core::foundation::shoring::ShoringFigures;
/// use retrofit_core::house::{AsBuilt, House};
/// use retrofit_core::screen::{PLF, Standards};
///
/// let house: House = serde_json::from_str(include_str!("../../../examples/quince-lantern-way.json"))?;
/// let house = AsBuilt::new(house).expect("the record makes sense");
/// let (standards, figures) = (Standards::shipped().unwrap(), ShoringFigures::shipped().unwrap());
/// let loads = HouseLoads::of(&house, standards, figures);
/// let (low, high) = loads.wall_lines[0].total().expect("stories and outline are on record");
/// assert!(low.to(PLF) < high.to(PLF), "nobody saw how the roof bears");
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct HouseLoads {
    /// Of each wall line, in the order of the record.
    pub wall_lines: Vec<LineLoads>,
    /// Of each entry of posts, in the order of the record: what comes down on one of them.
    pub posts: Vec<PostLoads>,
    /// What comes down on a foot of a girder that joists bear on from both sides.
    pub girder: LineLoads,
    /// What is not counted and has to be looked at by itself.
    pub not_counted: Vec<&'static str>,
}

impl HouseLoads {
    /// Reckons the loads of every wall line and post.
    pub fn of(house: &AsBuilt, standards: &Standards, figures: &ShoringFigures) -> Self {
        let above = Above::of(house, standards, figures);
        let mut not_counted = vec![
            "snow, where it lies heavier than the live load of the roof",
            "wind and earthquake, which a temporary support has to be braced for",
            "porch roofs, balconies and stairs that hang on the wall",
            "a piano, a filled tub, an aquarium, a water heater, stored goods",
        ];
        if house.building.masonry_chimneys.bounds().1 != Some(&0) {
            not_counted.push("masonry chimneys and hearths, which need support of their own");
        }
        Self {
            wall_lines: house
                .wall_lines
                .iter()
                .enumerate()
                .map(|(number, wall)| above.on_line(house, number, wall))
                .collect(),
            posts: house
                .posts
                .listed()
                .iter()
                .enumerate()
                .map(|(number, post)| above.on_post(house, number, post))
                .collect(),
            girder: above.on_girder(house),
            not_counted,
        }
    }
}

/// A number with both its ends, in pounds and inches, and where it came from. None is ever below zero, so that
/// the low end of a product is the product of the low ends.
#[derive(Clone, Debug)]
struct Term {
    low: f64,
    high: f64,
    sources: BTreeSet<String>,
    standing: Standing,
    open: BTreeSet<String>,
}

impl Term {
    fn record(low: f64, high: f64) -> Self {
        Self {
            low,
            high,
            sources: BTreeSet::new(),
            standing: Standing::Verified,
            open: BTreeSet::new(),
        }
    }

    fn figure<F, L>(figure: &Figure<F, L>) -> Self {
        let place = cited(&figure.document, &figure.section);
        Self {
            sources: (!place.is_empty()).then_some(place).into_iter().collect(),
            standing: figure.standing,
            ..Self::record(figure.low, figure.high)
        }
    }

    /// A length of the record, or what a table bounds it by.
    fn length(observed: &Observed<Length>, field: &str, otherwise: &Figure<Z0, P1>) -> Self {
        let inches = |length: &Length| length.as_inches_f64().max(0.0);
        match observed.bounds() {
            (Some(least), Some(most)) => Self::record(inches(least), inches(most)),
            (least, most) => {
                let table = Self::figure(otherwise);
                let low = least.map_or(table.low, inches);
                let high = most.map_or(table.high, inches);
                // A bound of the record that lies beyond the table's range leaves only itself.
                Self {
                    low: low.min(high),
                    high: high.max(low),
                    ..table
                }
                .open(field)
            }
        }
    }

    fn open(mut self, field: &str) -> Self {
        self.open.insert(field.to_owned());
        self
    }

    fn with(mut self, other: &Self, low: f64, high: f64) -> Self {
        self.sources.extend(other.sources.iter().cloned());
        self.open.extend(other.open.iter().cloned());
        self.standing = self.standing.max(other.standing);
        (self.low, self.high) = (low, high);
        self
    }

    fn plus(self, other: &Self) -> Self {
        let (low, high) = (self.low + other.low, self.high + other.high);
        self.with(other, low, high)
    }

    fn times(self, other: &Self) -> Self {
        let (low, high) = (self.low * other.low, self.high * other.high);
        self.with(other, low, high)
    }

    /// Either of two, nobody knows which.
    fn or(self, other: &Self) -> Self {
        let (low, high) = (self.low.min(other.low), self.high.max(other.high));
        self.with(other, low, high)
    }

    fn part<L: Copy>(self, words: &'static str, kind: LoadKind, unit: TypedUnit<P1, L>) -> LoadPart<L> {
        let of = |value: f64| unit.of(value / unit.unit().factor());
        LoadPart {
            words,
            kind,
            low: of(self.low),
            high: of(self.high),
            sources: self.sources.into_iter().collect(),
            standing: self.standing,
            open: self.open.into_iter().collect(),
        }
    }
}

/// The terms of a list that a fact of the record leaves possible.
fn of_kind<T: Copy + PartialEq, F, L>(
    observed: &Observed<T>,
    rows: &[(T, Figure<F, L>)],
    field: &str,
) -> Option<Term> {
    let seen = observed.value();
    let term = rows
        .iter()
        .filter(|(kind, _)| seen.is_none_or(|seen| seen == kind))
        .map(|(_, figure)| Term::figure(figure))
        .reduce(|either, or| either.or(&or))?;
    Some(if seen.is_some() { term } else { term.open(field) })
}

/// What weighs down, for a square inch of floor, roof or wall.
struct Above<'a> {
    existing: &'a ExistingBuildings,
    figures: &'a ShoringFigures,
    floor: Term,
    partitions: Term,
    live: Term,
    ceiling: Term,
    roof: Option<Term>,
    bare_wall: Option<Term>,
    outside_wall: Option<Term>,
    inside_wall: Term,
    story_height: Term,
    /// Stories that count, a half one as a half; `None` where nothing bounds them.
    stories: Option<(f64, f64)>,
}

impl<'a> Above<'a> {
    fn of(house: &AsBuilt, standards: &'a Standards, figures: &'a ShoringFigures) -> Self {
        let (loads, existing, building) = (&standards.loads, &standards.existing, &house.building);
        let plastered = building.interior_plaster.value().copied();
        let by_finish = |plaster: Term, board: Term| match plastered {
            Some(true) => plaster,
            Some(false) => board,
            None => plaster.or(&board).open("building.interior_plaster"),
        };
        let ceiling = by_finish(
            Term::figure(&loads.plaster_ceiling),
            Term::figure(&loads.board_ceiling),
        );
        let plaster = by_finish(Term::figure(&loads.plaster_on_wall), Term::record(0.0, 0.0));
        let roof = of_kind(&building.roof, &loads.roofs, "building.roof").map(|covering| {
            covering
                .plus(&Term::figure(&loads.roof_sheathing))
                .times(&Term::figure(&existing.roof_slope_factor))
                .plus(&Term::figure(&loads.roof_framing))
                .plus(&ceiling)
        });
        let bare_wall = of_kind(&building.exterior, &loads.walls, "building.exterior");
        let count =
            |stories: &Stories| f64::from(stories.counted()) - if stories.is_whole() { 0.0 } else { 0.5 };
        let (least, most) = building.stories.bounds();
        Self {
            existing,
            figures,
            floor: Term::figure(&loads.floor_framing)
                .plus(&Term::figure(&loads.subfloor))
                .plus(&Term::figure(&loads.floor_finish)),
            partitions: Term::figure(&loads.partitions),
            live: Term::figure(&loads.live),
            ceiling,
            roof,
            outside_wall: bare_wall.clone().map(|wall| wall.plus(&plaster)),
            bare_wall,
            inside_wall: by_finish(
                Term::figure(&figures.inside_wall_plaster),
                Term::figure(&figures.inside_wall_board),
            ),
            story_height: Term::length(
                &building.story_height,
                "building.story_height",
                &existing.story_height,
            ),
            stories: most.map(|most| (least.map_or(0.5, count), count(most))),
        }
    }

    fn on_line(&self, house: &AsBuilt, number: usize, wall: &WallLine) -> LineLoads {
        let mut parts = Vec::new();
        let mut not_determined = Vec::new();
        let mut add = |term: Term, words, kind| parts.push(term.part(words, kind, PLF));
        let outside = stands_outside(house, wall);
        let first = self.first_floor_width(house, number, wall, outside);
        for (weight, words, kind) in self.floor_weights() {
            add(first.clone().times(weight), words, kind);
        }
        match (&self.bare_wall, self.cripple_height(number, wall)) {
            (Some(weight), Some(height)) => {
                add(height.times(weight), "cripple wall", LoadKind::Dead);
            }
            (None, _) => not_determined.push(no_row("building.exterior")),
            (_, None) => {}
        }
        let Some(stories) = self.stories else {
            not_determined.push(missing(
                "building.stories",
                &house.building.stories,
                "the walls, floors and roof above hang on it",
            ));
            return LineLoads {
                parts,
                not_determined,
            };
        };
        if let Some(walls) = &self.outside_wall {
            let inside = Term::record(0.0, 1.0).times(&self.inside_wall);
            let (weight, words) = match outside {
                Truth::True => (walls.clone(), "outside walls above"),
                Truth::False => (inside, "a wall above, if one stands on it"),
                Truth::Maybe => (
                    walls
                        .clone()
                        .or(&inside)
                        .open("building.outline and the place of the wall line"),
                    "outside or inside walls above",
                ),
            };
            let height = Term::record(stories.0, stories.1).times(&self.story_height);
            add(height.times(&weight), words, LoadKind::Dead);
        }
        match depth_across(house, wall) {
            Some(depth) => {
                let width = Term::figure(&self.existing.bearing_share)
                    .times(&Term::record(depth.0, depth.1))
                    .open("how upper floors and roof bear");
                for (weight, words, kind) in self.upper_weights(stories) {
                    add(width.clone().times(&weight), words, kind);
                }
            }
            None => not_determined.push(NotDetermined {
                field: "building.outline".into(),
                reason: "not recorded".into(),
                needed: "how much roof and upper floor a wall line can carry hangs on it",
            }),
        }
        if self.roof.is_none() {
            not_determined.push(no_row("building.roof"));
        }
        LineLoads {
            parts,
            not_determined,
        }
    }

    fn on_post(&self, house: &AsBuilt, number: usize, post: &Post) -> PostLoads {
        let mut parts = Vec::new();
        let field = format!("posts[{number}].carried_area");
        let mut not_determined = Vec::new();
        let area = |area: &crate::measure::Area| SQUARE_INCH.of(area.as_square_inches_f64()).value();
        match post.carried_area.bounds() {
            (least, Some(most)) => {
                let carried = Term::record(least.map_or(0.0, area), area(most));
                for (weight, words, kind) in self.floor_weights() {
                    parts.push(carried.clone().times(weight).part(words, kind, POUND));
                }
                if let Some(stories) = self.stories {
                    let above = carried
                        .times(&Term::figure(&self.figures.above_a_post))
                        .open("what bears on the beam above the post");
                    for (weight, words, kind) in self.upper_weights(stories) {
                        parts.push(above.clone().times(&weight).part(words, kind, POUND));
                    }
                }
            }
            (_, None) => not_determined.push(missing(
                &field,
                &post.carried_area,
                "all that a post carries hangs on it",
            )),
        }
        if self.stories.is_none() {
            not_determined.push(missing(
                "building.stories",
                &house.building.stories,
                "upper floors and roof may come down on the post",
            ));
        }
        if self.roof.is_none() {
            not_determined.push(no_row("building.roof"));
        }
        PostLoads {
            parts,
            not_determined,
        }
    }

    /// A girder takes half a span of joists from each side. Its own weight lies in that of the floor framing.
    fn on_girder(&self, house: &AsBuilt) -> LineLoads {
        let width = self.joist_span(house);
        let mut parts: Vec<LoadPart<N1>> = self
            .floor_weights()
            .into_iter()
            .map(|(weight, words, kind)| width.clone().times(weight).part(words, kind, PLF))
            .collect();
        let mut not_determined = Vec::new();
        match self.stories {
            Some(stories) => {
                let above = width
                    .times(&Term::figure(&self.figures.above_a_post))
                    .open("what bears on the girder from above");
                for (weight, words, kind) in self.upper_weights(stories) {
                    parts.push(above.clone().times(&weight).part(words, kind, PLF));
                }
            }
            None => not_determined.push(missing(
                "building.stories",
                &house.building.stories,
                "upper floors and roof may come down on a girder",
            )),
        }
        if self.roof.is_none() {
            not_determined.push(no_row("building.roof"));
        }
        LineLoads {
            parts,
            not_determined,
        }
    }

    fn joist_span(&self, house: &AsBuilt) -> Term {
        Term::length(
            &house.floor.joist_span,
            "floor.joist_span",
            &self.figures.joist_span,
        )
    }

    fn floor_weights(&self) -> [(&Term, &'static str, LoadKind); 3] {
        [
            (
                &self.floor,
                "first floor: framing, subfloor and finish",
                LoadKind::Dead,
            ),
            (&self.partitions, "first floor: partitions", LoadKind::Dead),
            (&self.live, "first floor: live load", LoadKind::Live),
        ]
    }

    /// Upper floors and roof, for a square inch of the plan.
    fn upper_weights(&self, stories: (f64, f64)) -> Vec<(Term, &'static str, LoadKind)> {
        let upper = Term::record((stories.0 - 1.0).max(0.0), (stories.1 - 1.0).max(0.0));
        let dead = self.floor.clone().plus(&self.partitions).plus(&self.ceiling);
        let mut weights = Vec::new();
        if upper.high > 0.0 {
            let words = "upper floors with partitions and ceilings";
            weights.push((upper.clone().times(&dead), words, LoadKind::Dead));
            let words = "upper floors: live load";
            weights.push((upper.times(&self.live), words, LoadKind::Live));
        }
        if let Some(roof) = &self.roof {
            weights.push((roof.clone(), "roof and ceiling", LoadKind::Dead));
        }
        let live = Term::figure(&self.figures.roof_live);
        weights.push((live, "roof: live load", LoadKind::Live));
        weights
    }

    /// The width of first floor that bears on a wall line: half a span of joists across it, on each side that has
    /// any; a strip of joists along it.
    fn first_floor_width(&self, house: &AsBuilt, number: usize, wall: &WallLine, outside: Truth) -> Term {
        let sides = match outside {
            Truth::True => Term::record(1.0, 1.0),
            Truth::False => Term::record(2.0, 2.0),
            Truth::Maybe => Term::record(1.0, 2.0).open("building.outline and the place of the wall line"),
        };
        let floor = &house.floor;
        let span = || self.joist_span(house).times(&Term::record(0.5, 0.5));
        let strip = || {
            Term::length(
                &floor.joist_spacing,
                "floor.joist_spacing",
                &self.figures.joist_spacing,
            )
            .times(&Term::figure(&self.figures.parallel_strip))
        };
        let width = match wall.joists.value() {
            Some(JoistDirection::Perpendicular) => span(),
            Some(JoistDirection::Parallel) => strip(),
            None => strip().or(&span()).open(&format!("wall_lines[{number}].joists")),
        };
        width.times(&sides)
    }

    /// The height of cripple wall; `None` where the record says that there is none.
    fn cripple_height(&self, number: usize, wall: &WallLine) -> Option<Term> {
        let field = format!("wall_lines[{number}].cripple_wall");
        let otherwise = &self.existing.cripple_height;
        match wall.cripple_wall.value() {
            Some(stretches) => stretches
                .iter()
                .map(|stretch| Term::length(&stretch.height, &field, otherwise))
                .reduce(|either, or| either.or(&or)),
            None => Some(
                Term::record(0.0, 1.0)
                    .times(&Term::figure(otherwise))
                    .open(&field),
            ),
        }
    }
}

pub(super) fn missing<T>(field: &str, observed: &Observed<T>, needed: &'static str) -> NotDetermined {
    let reason = observed
        .reason()
        .map_or("without an upper bound", |reason| reason.words());
    NotDetermined {
        field: field.to_owned(),
        reason: reason.to_owned(),
        needed,
    }
}

fn no_row(field: &str) -> NotDetermined {
    NotDetermined {
        field: field.to_owned(),
        reason: "of a kind that the table of weights does not list".to_owned(),
        needed: "its weight",
    }
}

fn xy(point: PlanPoint) -> [f64; 2] {
    [point.x.as_inches_f64(), point.y.as_inches_f64()]
}

/// The sides of the outline: where each begins, its unit direction, its length.
fn sides(house: &AsBuilt) -> Vec<([f64; 2], [f64; 2], f64)> {
    let outline = &house.building.outline;
    let next = outline.iter().cycle().skip(1);
    outline
        .iter()
        .zip(next)
        .filter_map(|(from, to)| ray(xy(*from), xy(*to)))
        .collect()
}

fn ray(from: [f64; 2], to: [f64; 2]) -> Option<([f64; 2], [f64; 2], f64)> {
    let along = [to[0] - from[0], to[1] - from[1]];
    let length = along[0].hypot(along[1]);
    (length > 0.0).then(|| (from, along.map(|part| part / length), length))
}

/// Whether a wall line stands under a side of the outline; unknown without outline or place.
pub(super) fn stands_outside(house: &AsBuilt, wall: &WallLine) -> Truth {
    let sides = sides(house);
    let Some([from, to]) = wall.plan.filter(|_| !sides.is_empty()) else {
        return Truth::Maybe;
    };
    let (from, to) = (xy(from), xy(to));
    let lies_along = sides.iter().any(|(start, [east, north], length)| {
        let [a, b] = [from, to].map(|end| {
            let away = [end[0] - start[0], end[1] - start[1]];
            (
                away[0] * east + away[1] * north,
                (away[0] * north - away[1] * east).abs(),
            )
        });
        a.1 < BESIDE && b.1 < BESIDE && a.0.min(b.0) < *length && a.0.max(b.0) > 0.0
    });
    lies_along.into()
}

/// The depth of the house across a wall line, in inches, least and most; `None` without an outline.
fn depth_across(house: &AsBuilt, wall: &WallLine) -> Option<(f64, f64)> {
    let depth = |[east, north]: [f64; 2]| {
        let across = |corner: &PlanPoint| xy(*corner)[1] * east - xy(*corner)[0] * north;
        let offsets = || house.building.outline.iter().map(across);
        offsets().fold(f64::NEG_INFINITY, f64::max) - offsets().fold(f64::INFINITY, f64::min)
    };
    let placed = wall.plan.and_then(|[from, to]| ray(xy(from), xy(to)));
    match placed {
        Some((_, along, _)) if !house.building.outline.is_empty() => Some((depth(along), depth(along))),
        _ => sides(house)
            .iter()
            .map(|(_, along, _)| (depth(*along), depth(*along)))
            .reduce(|either, or| (either.0.min(or.0), either.1.max(or.1))),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::house::House;

    /// 24 by 40 ft, one story, everything on record that can be.
    fn record() -> Value {
        json!({
            "format": "house-1", "name": "Wren Cellar Close",
            "building": {
                "stories": 1, "story_height": "9 ft", "exterior": "wood", "roof": "gravel",
                "interior_plaster": true, "masonry_chimneys": 0,
                "outline": [{"x": "0 ft", "y": "0 ft"}, {"x": "40 ft", "y": "0 ft"},
                            {"x": "40 ft", "y": "24 ft"}, {"x": "0 ft", "y": "24 ft"}]
            },
            "floor": {"joist_span": "12 ft", "joist_spacing": "16 in"},
            "wall_lines": [
                {"name": "south", "joists": "perpendicular", "cripple_wall": [],
                 "plan": [{"x": "0 ft", "y": "0 ft"}, {"x": "40 ft", "y": "0 ft"}]},
                {"name": "east", "joists": "parallel", "cripple_wall": [],
                 "plan": [{"x": "40 ft", "y": "0 ft"}, {"x": "40 ft", "y": "24 ft"}]},
                {"name": "girder", "joists": "perpendicular", "cripple_wall": [],
                 "plan": [{"x": "0 ft", "y": "12 ft"}, {"x": "40 ft", "y": "12 ft"}]}
            ],
            "posts": [{"carried_area": "48 sq ft"}]
        })
    }

    fn loads(record: &Value) -> HouseLoads {
        let house: House = serde_json::from_value(record.clone()).unwrap();
        HouseLoads::of(
            &AsBuilt::new(house).unwrap(),
            Standards::shipped().unwrap(),
            ShoringFigures::shipped().unwrap(),
        )
    }

    fn near(found: f64, expected: f64) {
        assert!(
            (found - expected).abs() <= 1e-12 * expected.abs(),
            "{found} is not {expected}"
        );
    }

    fn part<'a, L>(loads: &'a Loads<L>, words: &str) -> &'a LoadPart<L> {
        loads
            .parts
            .iter()
            .find(|part| part.words.contains(words))
            .unwrap()
    }

    /// By hand, from the weights of the table: 12/2 = 6 ft of floor at 3 + 3 + 0 to 4 psf, 8 to 10 psf of
    /// partitions and 40 psf of live load; a wall of 9 ft at 11 + 5.25 to 12 + 5.8 psf; up to 12 ft of roof at
    /// 1.2 (5.5 + 2.4) + 2 + 8 psf.
    #[rstest]
    #[case(0, "framing, subfloor", 36.0, 60.0)]
    #[case(0, "first floor: partitions", 48.0, 60.0)]
    #[case(0, "first floor: live", 240.0, 240.0)]
    #[case(0, "outside walls", 146.25, 160.2)]
    #[case(0, "roof and ceiling", 0.0, 12.0 * 19.48)]
    #[case(0, "roof: live", 0.0, 240.0)]
    #[case(1, "first floor: live", 40.0 * 8.0 / 12.0, 40.0 * 16.0 / 12.0)]
    #[case(1, "roof: live", 0.0, 400.0)]
    #[case(2, "first floor: live", 480.0, 480.0)]
    #[case(2, "a wall above", 0.0, 180.0)]
    fn parts_as_reckoned_by_hand(
        #[case] wall: usize,
        #[case] words: &str,
        #[case] low: f64,
        #[case] high: f64,
    ) {
        let loads = loads(&record());
        let part = part(&loads.wall_lines[wall], words);
        near(part.low.to(PLF), low);
        near(part.high.to(PLF), high);
    }

    #[test]
    fn a_total_is_the_sum_of_its_parts_and_a_post_carries_its_area() {
        let loads = loads(&record());
        let (low, high) = loads.wall_lines[0].total().unwrap();
        near(low.to(PLF), 470.25);
        near(high.to(PLF), 760.2 + 12.0 * 19.48);
        let (dead, live) = (
            loads.wall_lines[0].of(LoadKind::Dead).unwrap(),
            loads.wall_lines[0].of(LoadKind::Live).unwrap(),
        );
        near((dead.1 + live.1).value(), high.value());
        // 48 sq ft at 6 + 8 + 40 psf, nothing above.
        let (low, high) = loads.posts[0].total().unwrap();
        near(low.to(POUND), 48.0 * 54.0);
        near(high.to(POUND), 48.0 * (60.0 + 19.48 + 20.0));
        // 6 ft of floor from each side of a girder at the same, nothing or all of the roof on it.
        let (low, high) = loads.girder.total().unwrap();
        near(low.to(PLF), 12.0 * 54.0);
        near(high.to(PLF), 12.0 * (60.0 + 19.48 + 20.0));
        assert_eq!(loads.wall_lines[0].standing(), Some(Standing::CommonPractice));
        assert!(loads.not_counted.iter().all(|it| !it.contains("chimney")));
    }

    #[rstest]
    #[case("stories", "building.stories")]
    #[case("outline", "building.outline")]
    fn what_nothing_bounds_leaves_no_total(#[case] key: &str, #[case] field: &str) {
        let mut record = record();
        record["building"].as_object_mut().unwrap().remove(key);
        let loads = loads(&record);
        assert!(loads.wall_lines[0].total().is_none());
        let reason = &loads.wall_lines[0].not_determined[0];
        assert_eq!(
            (reason.field.as_str(), reason.reason.as_str()),
            (field, "not recorded")
        );
        assert!(
            !loads.wall_lines[0].parts.is_empty(),
            "the first floor is known all the same"
        );
    }

    #[test]
    fn a_post_of_unknown_area_and_an_unknown_chimney_are_said() {
        let mut record = record();
        record["posts"] = json!([{}]);
        record["building"]
            .as_object_mut()
            .unwrap()
            .remove("masonry_chimneys");
        let loads = loads(&record);
        assert!(loads.posts[0].total().is_none());
        assert_eq!(loads.posts[0].not_determined[0].field, "posts[0].carried_area");
        assert!(loads.not_counted.iter().any(|it| it.contains("chimney")));
    }

    #[rstest]
    #[case("joists")]
    #[case("cripple_wall")]
    #[case("plan")]
    fn forgetting_a_fact_of_a_wall_line_only_widens(#[case] key: &str) {
        let mut forgotten = record();
        forgotten["wall_lines"][0].as_object_mut().unwrap().remove(key);
        widens(&record(), &forgotten);
    }

    #[rstest]
    #[case("/building", "exterior")]
    #[case("/building", "roof")]
    #[case("/building", "interior_plaster")]
    #[case("/building", "story_height")]
    #[case("/floor", "joist_span")]
    #[case("/floor", "joist_spacing")]
    fn forgetting_a_fact_of_the_house_only_widens(#[case] part: &str, #[case] key: &str) {
        let mut forgotten = record();
        forgotten
            .pointer_mut(part)
            .unwrap()
            .as_object_mut()
            .unwrap()
            .remove(key);
        widens(&record(), &forgotten);
    }

    fn widens(known: &Value, forgotten: &Value) {
        let (known, forgotten) = (loads(known), loads(forgotten));
        let mut has_widened = false;
        for (known, forgotten) in known.wall_lines.iter().zip(&forgotten.wall_lines) {
            let (known, wider) = (known.total().unwrap(), forgotten.total().unwrap());
            assert!(wider.0.value() <= known.0.value() + 1e-9 && known.1.value() <= wider.1.value() + 1e-9);
            has_widened |= wider.1.value() > known.1.value() || wider.0.value() < known.0.value();
            assert!(forgotten.parts.iter().any(|part| !part.open.is_empty()));
        }
        assert!(has_widened);
    }

    /// Nothing on record at all gives no total, and no panic.
    #[test]
    fn an_empty_record() {
        let empty =
            json!({"format": "house-1", "name": "x", "wall_lines": [{"name": "north"}], "posts": [{}]});
        let loads = loads(&empty);
        assert!(loads.wall_lines[0].total().is_none() && loads.posts[0].total().is_none());
    }

    proptest! {
        /// More stories and heavier finishes never weigh less, on any wall line.
        #[test]
        fn more_is_never_less(halves in 1_u8..8, more in 0_u8..3, finish in 0_usize..3) {
            let at = |halves: u8, wall: &str, roof: &str| {
                let mut record = record();
                record["building"]["stories"] = json!(f64::from(halves) / 2.0);
                record["building"]["exterior"] = json!(wall);
                record["building"]["roof"] = json!(roof);
                loads(&record)
            };
            let walls = ["light_board", "wood", "stucco", "masonry"];
            let roofs = ["light", "gravel", "tile", "tile"];
            let lighter = at(halves, walls[finish], roofs[finish]);
            let heavier = at(halves + more, walls[finish + 1], roofs[finish + 1]);
            for (light, heavy) in lighter.wall_lines.iter().zip(&heavier.wall_lines) {
                let (light, heavy) = (light.total().unwrap(), heavy.total().unwrap());
                prop_assert!(light.0.value() <= heavy.0.value() + 1e-9);
                prop_assert!(light.1.value() <= heavy.1.value() + 1e-9);
            }
        }
    }
}
