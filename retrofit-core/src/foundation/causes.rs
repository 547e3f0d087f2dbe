//! What the distress of a house is consistent with: rules that are data, with their reasons.
//!
//! A rule says that a sign is *needed* for a cause, speaks *for* it or speaks *against* it. A sign is there,
//! not there, or unknown, and what nobody looked for is unknown: it never turns into *not there*. The outcome
//! is a list of causes that the signs are consistent with, not consistent with, or too few to tell; with what
//! to look at next, and whom to call. It is no diagnosis: causes come together, and the list is not complete.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::survey::{
    Corrected, Documents, LimitMeasure, Limits, Movement, Plane, Point, Surface, origin, read_sources,
};
use crate::choice::{Choice, choices};
use crate::house::{CrackTaper, DistressKind, House, SoilClass};
use crate::measure::{Length, Slope};
use crate::observation::{Observed, Truth};
use crate::provisions::{Standing, TableError, TableFile};
use crate::table::each_row;

const CAUSES: &str = include_str!("../../../tables/distress-causes/causes.csv");
const RULES: &str = include_str!("../../../tables/distress-causes/rules.csv");
const SOURCES: &str = include_str!("../../../tables/distress-causes/sources.csv");

const CAUSE_COLUMNS: [&str; 4] = ["cause", "words", "look_next", "call"];
const RULE_COLUMNS: [&str; 7] = [
    "cause", "sign", "bearing", "reason", "source", "section", "standing",
];

/// Two surveys closer together than this, in days, have not seen both a wet and a dry season. A choice of
/// this program, from no source.
const HALF_A_YEAR: i32 = 182;

choices! {
    /// Something that can be seen, or read off a survey.
    pub enum Sign: "sign" {
        /// The soil under the footings is clay.
        Clay = "clay", "clay under the footings";
        /// The soil is known to be expansive.
        ExpansiveSoil = "expansive_soil", "expansive soil by report, map or test";
        /// Soil cracks or leaves gaps when dry.
        ShrinkageCracksInSoil = "shrinkage_cracks_in_soil", "gaps or cracks in dry soil";
        /// Doors or cracks follow the seasons.
        MovesWithSeasons = "moves_with_seasons", "doors or cracks that follow the seasons";
        /// Water stands at or under the house.
        StandingWater = "standing_water", "standing water";
        /// Roof water ends at the foundation.
        RoofWaterAtFoundation = "roof_water_at_foundation", "roof water let out at the foundation";
        /// The ground falls toward the house.
        GroundFallsToHouse = "ground_falls_to_house", "ground that falls toward the house";
        /// Large trees stand near.
        TreesNear = "trees_near", "large trees near the foundation";
        /// A large tree was taken out.
        TreeRemoved = "tree_removed", "a large tree taken out nearby";
        /// Pipes leak.
        PlumbingLeak = "plumbing_leak", "a leaking pipe or drain";
        /// Wood touches soil.
        WoodOnSoil = "wood_on_soil", "wood in contact with soil";
        /// Wood is decayed or eaten.
        DecayOrInsects = "decay_or_insects", "decay or insects";
        /// Posts or piers are weak.
        WeakPosts = "weak_posts", "weak posts or piers";
        /// Beams or joists are weak.
        WeakFraming = "weak_framing", "weak beams or joists";
        /// The house stands on fill.
        Fill = "fill", "fill under the house";
        /// Ground is missing at a footing.
        Undermined = "undermined", "ground missing at a footing";
        /// The slope moves.
        SlopeMoves = "slope_moves", "signs of a moving slope";
        /// A part was added.
        Addition = "addition", "an addition on its own foundation";
        /// There is no slope.
        LevelSite = "level_site", "a level site";
        /// The middle of the floor is lower than its edges, its tilt taken off.
        MiddleLow = "middle_low", "middle of the floor low";
        /// The middle of the floor is higher than its edges.
        MiddleHigh = "middle_high", "middle of the floor high";
        /// The edges of the floor are lower than its middle: the same in one survey, since nothing tells
        /// which of the two moved.
        EdgeLow = "edge_low", "edges of the floor low";
        /// The floor tilts as a whole.
        OneSideLow = "one_side_low", "one side of the floor low";
        /// A corner is lowest.
        CornerLow = "corner_low", "a corner of the floor low";
        /// One reading is lower than all around it.
        LowSpot = "low_spot", "a low spot";
        /// A crack is wider at its top.
        CrackWiderTop = "crack_wider_top", "a crack wider at its top";
        /// It moved between two surveys.
        Moving = "moving", "movement between surveys";
        /// Nothing moved between two surveys half a year apart.
        Still = "still", "no movement between surveys half a year apart";
    }
}

choices! {
    /// What a sign says of a cause.
    pub enum Bearing: "bearing" {
        /// Without it, it is another cause.
        Needed = "needed", "needed";
        /// It speaks for the cause.
        For = "for", "for";
        /// It speaks against the cause.
        Against = "against", "against";
    }
}

/// A cause of distress.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cause {
    /// Its name in the table.
    pub name: String,
    /// The cause in words.
    pub words: String,
    /// What to look at next.
    pub look_next: String,
    /// Whom to call.
    pub call: String,
    /// The rules for it.
    pub rules: Vec<CauseRule>,
}

/// What one sign says of a cause, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CauseRule {
    /// The sign.
    pub sign: Sign,
    /// What it says of the cause when it is there.
    pub bearing: Bearing,
    /// Why.
    pub reason: String,
    /// The document, with its edition.
    pub document: String,
    /// Where in the document.
    pub section: String,
    /// How well it was seen.
    pub standing: Standing,
}

/// Whether signs fit a cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fit {
    /// Something speaks for it, nothing against it, and all it needs is there. It need not be the cause.
    Consistent,
    /// Too few signs were looked for.
    NotEnoughSeen,
    /// Something speaks against it, or what it needs was looked for and is not there.
    NotConsistent,
}

impl Fit {
    /// The outcome in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Consistent => "consistent with what was seen",
            Self::NotEnoughSeen => "not enough seen",
            Self::NotConsistent => "not consistent with what was seen",
        }
    }
}

/// A cause beside the signs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CauseFinding<'a> {
    /// The cause.
    pub cause: &'a Cause,
    /// Whether the signs fit it.
    pub fit: Fit,
    /// Every rule, with whether its sign is there.
    pub signs: Vec<(&'a CauseRule, Truth)>,
}

impl<'a> CauseFinding<'a> {
    /// The signs nobody looked for, or could not tell: what to look at next.
    pub fn not_seen(&self) -> impl Iterator<Item = &'a CauseRule> {
        self.signs
            .iter()
            .filter(|(_, there)| *there == Truth::Maybe)
            .map(|(rule, _)| *rule)
    }
}

/// The causes and their rules.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CauseRules {
    causes: Vec<Cause>,
}

impl CauseRules {
    /// The shipped tables.
    pub fn shipped() -> &'static Self {
        // A test holds that the shipped tables read.
        static SHIPPED: LazyLock<CauseRules> =
            LazyLock::new(|| CauseRules::parse(CAUSES, RULES, SOURCES).unwrap_or_default());
        &SHIPPED
    }

    /// Reads the three files of the folder; the error lists every fault with file, line and column.
    pub fn parse(causes: &str, rules: &str, sources: &str) -> Result<Self, Vec<TableError>> {
        let file = |name: &str, text: &str| TableFile {
            path: format!("tables/distress-causes/{name}"),
            name: name.to_owned(),
            text: text.to_owned(),
        };
        let mut faults = Vec::new();
        let documents: Documents = read_sources(&file("sources.csv", sources), &mut faults);
        let mut found: Vec<Cause> = Vec::new();
        each_row(&file("causes.csv", causes), &CAUSE_COLUMNS, &mut faults, |row| {
            let name = row.required("cause")?.to_owned();
            if found.iter().any(|cause| cause.name == name) {
                return Err(row.fault("cause", format!("found {name:?} a second time")));
            }
            found.push(Cause {
                name,
                words: row.required("words")?.to_owned(),
                look_next: row.required("look_next")?.to_owned(),
                call: row.required("call")?.to_owned(),
                rules: Vec::new(),
            });
            Ok(())
        });
        each_row(&file("rules.csv", rules), &RULE_COLUMNS, &mut faults, |row| {
            let name = row.required("cause")?;
            let Some(cause) = found.iter_mut().find(|cause| cause.name == name) else {
                let fault = format!("found {name:?}; expected a cause of causes.csv");
                return Err(row.fault("cause", fault));
            };
            let sign: Sign = row
                .required("sign")?
                .parse()
                .map_err(|error| row.fault("sign", error))?;
            if cause.rules.iter().any(|rule| rule.sign == sign) {
                return Err(row.fault("sign", format!("found {:?} a second time", sign.spelling())));
            }
            let (document, section, standing) = origin(row, &documents)?;
            cause.rules.push(CauseRule {
                sign,
                bearing: row
                    .required("bearing")?
                    .parse()
                    .map_err(|error| row.fault("bearing", error))?,
                reason: row.required("reason")?.to_owned(),
                document,
                section,
                standing,
            });
            Ok(())
        });
        let rules_file = file("rules.csv", rules);
        for cause in &found {
            // Without a sign that speaks for it a cause could never be consistent with anything.
            if !cause.rules.iter().any(|rule| rule.bearing == Bearing::For) {
                let fault = format!("nothing speaks for {:?}; expected a rule that does", cause.name);
                faults.push(TableError::column(&rules_file, "bearing", fault));
            }
        }
        if faults.is_empty() {
            Ok(Self { causes: found })
        } else {
            Err(faults)
        }
    }

    /// The causes.
    pub fn causes(&self) -> &[Cause] {
        &self.causes
    }

    /// Every cause beside the signs: those they are consistent with first.
    pub fn judge(&self, signs: &Signs) -> Vec<CauseFinding<'_>> {
        let mut findings: Vec<CauseFinding<'_>> = self
            .causes
            .iter()
            .map(|cause| {
                let signs: Vec<_> = cause
                    .rules
                    .iter()
                    .map(|rule| (rule, signs.get(rule.sign)))
                    .collect();
                CauseFinding {
                    cause,
                    fit: fit(&signs),
                    signs,
                }
            })
            .collect();
        findings.sort_by_key(|finding| finding.fit);
        findings
    }
}

fn fit(signs: &[(&CauseRule, Truth)]) -> Fit {
    let of = |bearing: Bearing| {
        let signs = signs.iter().filter(move |(rule, _)| rule.bearing == bearing);
        signs.map(|(_, there)| *there)
    };
    let needed = of(Bearing::Needed).fold(Truth::True, Truth::and);
    let speaks_for = of(Bearing::For).fold(Truth::False, Truth::or);
    let speaks_against = of(Bearing::Against).fold(Truth::False, Truth::or);
    match (needed, speaks_for, speaks_against) {
        (_, _, Truth::True) | (Truth::False, ..) | (_, Truth::False, _) => Fit::NotConsistent,
        (Truth::True, Truth::True, _) => Fit::Consistent,
        _ => Fit::NotEnoughSeen,
    }
}

/// What is there, what is not, and what is unknown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Signs(BTreeMap<Sign, Truth>);

impl Signs {
    /// Reads the signs off a record: what was written down around the house, and what its surveys say.
    pub fn of(house: &House, limits: &Limits) -> Self {
        let mut signs = Self::default();
        signs.around(house);
        let corrected: Vec<Corrected> = house
            .surveys
            .iter()
            .filter_map(|survey| Corrected::of(survey, limits).ok())
            .collect();
        if let Some(latest) = corrected.last() {
            signs.shape(&latest.points, limits);
        }
        if let (Some(first), Some(last)) = (corrected.first(), corrected.last()) {
            signs.movement(first, last);
        }
        let cracks = house
            .surveys
            .iter()
            .rev()
            .find_map(|survey| survey.cracks.value());
        signs.put(
            Sign::CrackWiderTop,
            cracks.map_or(Truth::Maybe, |cracks| {
                any(cracks
                    .iter()
                    .map(|crack| crack.wider.satisfies(|wider| wider == CrackTaper::Top)))
            }),
        );
        signs
    }

    /// Whether a sign is there; *maybe* of one that nobody looked for.
    pub fn get(&self, sign: Sign) -> Truth {
        self.0.get(&sign).copied().unwrap_or(Truth::Maybe)
    }

    /// Says whether a sign is there.
    pub fn put(&mut self, sign: Sign, there: Truth) {
        self.0.insert(sign, there);
    }

    fn around(&mut self, house: &House) {
        let around = &house.surroundings;
        // A note of distress says that a sign is there; its absence says nothing.
        let noted = |kind: DistressKind| house.distress.iter().any(|distress| distress.kind == kind);
        let or_noted = |observed: &Observed<bool>, kind: DistressKind| {
            if noted(kind) { Truth::True } else { seen(observed) }
        };
        for (sign, observed) in [
            (Sign::ExpansiveSoil, &around.expansive_soil),
            (Sign::ShrinkageCracksInSoil, &around.shrinkage_cracks_in_soil),
            (Sign::MovesWithSeasons, &around.moves_with_seasons),
            (Sign::RoofWaterAtFoundation, &around.roof_water_at_foundation),
            (Sign::GroundFallsToHouse, &around.ground_falls_to_house),
            (Sign::TreesNear, &around.trees_near),
            (Sign::TreeRemoved, &around.tree_removed),
            (Sign::PlumbingLeak, &around.plumbing_leak),
            (Sign::DecayOrInsects, &around.decay_or_insects),
            (Sign::WeakPosts, &around.weak_posts),
            (Sign::WeakFraming, &around.weak_framing),
            (Sign::Fill, &around.fill),
            (Sign::Undermined, &around.undermined),
            (Sign::SlopeMoves, &around.slope_moves),
            (Sign::Addition, &around.addition),
        ] {
            self.put(sign, seen(observed));
        }
        self.put(
            Sign::StandingWater,
            or_noted(&around.standing_water, DistressKind::Damp),
        );
        self.put(
            Sign::WoodOnSoil,
            or_noted(&around.wood_on_soil, DistressKind::WoodOnSoil),
        );
        // Expansive soil is clay, whatever else is known of it.
        let expansive = seen(&around.expansive_soil).certain();
        let clay = house.site.soil.satisfies(|soil| soil == SoilClass::Clay);
        self.put(Sign::Clay, if expansive { Truth::True } else { clay });
        self.put(Sign::LevelSite, house.site.slope.at_most(Slope::FLAT));
    }

    fn shape(&mut self, points: &[Point], limits: &Limits) {
        let Ok(plane) = Plane::fit(points) else { return };
        if let Some(limit) = limits
            .of(LimitMeasure::Tilt)
            .filter_map(|limit| limit.value.ratio())
            .min_by(f64::total_cmp)
        {
            // The least tilt for which a published limit has anything done.
            self.put(Sign::OneSideLow, !plane.tilt().at_most(limit));
        }
        let Ok(surface) = Surface::of(points) else { return };
        let spots: Vec<Spot> = Spot::all(points, &plane, &surface);
        let (edge, middle): (Vec<&Spot>, Vec<&Spot>) = spots.iter().partition(|spot| spot.on_edge);
        if let (Some(edge), Some(middle)) = (mean(&edge), mean(&middle)) {
            let off = edge.1 + middle.1;
            let rise = middle.0 - edge.0;
            let beyond = |rise: f64| {
                if rise - off > 0.0 {
                    Truth::True
                } else if rise + off < 0.0 {
                    Truth::False
                } else {
                    Truth::Maybe
                }
            };
            self.put(Sign::MiddleHigh, beyond(rise));
            self.put(Sign::EdgeLow, beyond(rise));
            self.put(Sign::MiddleLow, beyond(-rise));
        }
        self.put(Sign::CornerLow, corner_low(&spots));
        let neighbors = surface.neighbors();
        let low = spots.iter().zip(&neighbors).map(|(spot, around)| {
            // Lower than every neighbor, by more than the readings can be off.
            around
                .iter()
                .filter_map(|it| spots.get(*it))
                .map(|other| {
                    let below = other.residual - spot.residual;
                    let off = spot.off + other.off;
                    Truth::from_cases(below + off > 0.0, below - off > 0.0)
                })
                .fold(Truth::True, Truth::and)
        });
        // A floor has a lowest reading always; that it is a low spot takes more than what readings can be
        // off.
        self.put(Sign::LowSpot, any(low));
    }

    fn movement(&mut self, first: &Corrected, last: &Corrected) {
        let Ok(movement) = Movement::between(first, last) else {
            return;
        };
        let known = movement.places.iter().all(|place| place.off.is_some());
        let (moving, still) = if !movement.is_within_error() {
            (Truth::True, Truth::False)
        } else if known && movement.days >= HALF_A_YEAR {
            (Truth::False, Truth::True)
        } else {
            (Truth::Maybe, Truth::Maybe)
        };
        self.put(Sign::Moving, moving);
        self.put(Sign::Still, still);
    }
}

fn seen(observed: &Observed<bool>) -> Truth {
    observed.satisfies(|there| there)
}

fn any(signs: impl Iterator<Item = Truth>) -> Truth {
    signs.fold(Truth::False, Truth::or)
}

/// A reading by its place on the floor, the tilt of the floor taken off; in inches.
struct Spot {
    xy: [f64; 2],
    residual: f64,
    off: f64,
    on_edge: bool,
}

impl Spot {
    fn all(points: &[Point], plane: &Plane, surface: &Surface) -> Vec<Self> {
        let edge = surface.edge();
        points
            .iter()
            .zip(&plane.residuals)
            .enumerate()
            .map(|(number, (point, residual))| Self {
                xy: [point.at.x.as_inches_f64(), point.at.y.as_inches_f64()],
                residual: *residual,
                off: point.off.map_or(f64::INFINITY, Length::as_inches_f64),
                on_edge: edge.contains(&number),
            })
            .collect()
    }
}

/// The mean residual of some readings, and what it can be off.
fn mean(spots: &[&Spot]) -> Option<(f64, f64)> {
    if spots.is_empty() {
        return None;
    }
    #[expect(
        clippy::cast_precision_loss,
        reason = "a number of readings, at most hundreds"
    )]
    let number = spots.len() as f64;
    let sum = |part: fn(&Spot) -> f64| spots.iter().map(|spot| part(spot)).sum::<f64>() / number;
    Some((sum(|spot| spot.residual), sum(|spot| spot.off)))
}

/// Whether the lowest reading is the one nearest to a corner of the floor.
fn corner_low(spots: &[Spot]) -> Truth {
    let (mut least, mut most) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    for spot in spots {
        least = [least[0].min(spot.xy[0]), least[1].min(spot.xy[1])];
        most = [most[0].max(spot.xy[0]), most[1].max(spot.xy[1])];
    }
    let corners = [
        (least[0], least[1]),
        (most[0], least[1]),
        (most[0], most[1]),
        (least[0], most[1]),
    ];
    let is_corner = |spot: &Spot| {
        let apart = |spot: &Spot, (x, y): (f64, f64)| (spot.xy[0] - x).hypot(spot.xy[1] - y);
        corners.iter().any(|corner| {
            let nearest = spots.iter().map(|other| apart(other, *corner));
            apart(spot, *corner) <= nearest.fold(f64::INFINITY, f64::min)
        })
    };
    let (corner, elsewhere): (Vec<&Spot>, Vec<&Spot>) = spots.iter().partition(|spot| is_corner(spot));
    let lowest = |spots: &[&Spot], sign: f64| {
        let low = spots.iter().map(|spot| spot.residual + sign * spot.off);
        low.fold(f64::INFINITY, f64::min)
    };
    // Surely so when even the highest a low corner can be is below the lowest that anything else can be.
    Truth::from_cases(
        lowest(&corner, -1.0) < lowest(&elsewhere, 1.0),
        lowest(&corner, 1.0) < lowest(&elsewhere, -1.0),
    )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;

    fn house(part: Value) -> House {
        let mut house = json!({"format": "house-1", "name": "trial", "wall_lines": [{"name": "north"}]});
        house
            .as_object_mut()
            .unwrap()
            .extend(part.as_object().unwrap().clone());
        serde_json::from_value(house).unwrap()
    }

    fn fit_of(signs: &Signs, name: &str) -> Fit {
        let findings = CauseRules::shipped().judge(signs);
        findings
            .iter()
            .find(|finding| finding.cause.name == name)
            .unwrap()
            .fit
    }

    #[test]
    fn the_shipped_tables_read_and_use_every_sign() {
        let rules = CauseRules::parse(CAUSES, RULES, SOURCES).unwrap();
        assert_eq!(&rules, CauseRules::shipped());
        assert_eq!(rules.causes().len(), 13);
        for sign in Sign::ALL {
            let used = rules.causes().iter().flat_map(|cause| &cause.rules);
            assert!(used.into_iter().any(|rule| rule.sign == *sign), "{sign}");
        }
    }

    #[test]
    fn where_nobody_looked_nothing_is_told() {
        let signs = Signs::of(&house(json!({})), Limits::shipped());
        for finding in CauseRules::shipped().judge(&signs) {
            assert_eq!(finding.fit, Fit::NotEnoughSeen, "{}", finding.cause.name);
            assert!(!finding.cause.call.is_empty() && finding.not_seen().count() > 0);
        }
    }

    #[test]
    fn a_note_of_distress_is_a_sign_and_its_absence_is_none() {
        let noted = Signs::of(&house(json!({"distress": [{"kind": "damp"}]})), Limits::shipped());
        assert_eq!(fit_of(&noted, "poor-drainage"), Fit::Consistent);
        let silent = Signs::of(&house(json!({"distress": []})), Limits::shipped());
        assert_eq!(silent.get(Sign::StandingWater), Truth::Maybe);
    }

    #[test]
    fn sand_rules_clay_out() {
        let around = json!({"site": {"soil": "sand"}, "surroundings": {"moves_with_seasons": true, "trees_near": true}});
        let signs = Signs::of(&house(around), Limits::shipped());
        for cause in ["clay-shrinkage", "clay-heave", "tree-drying"] {
            assert_eq!(fit_of(&signs, cause), Fit::NotConsistent, "{cause}");
        }
    }

    fn dished(middle: &str) -> Signs {
        let readings: Vec<Value> = (0..4)
            .flat_map(|x| (0..4).map(move |y| (x, y)))
            .map(|(x, y)| {
                let inside = (1..3).contains(&x) && (1..3).contains(&y);
                json!({"at": {"x": format!("{} ft", 10 * x), "y": format!("{} ft", 10 * y)},
                       "height": if inside { middle } else { "0 in" }, "finish": "bare"})
            })
            .collect();
        let survey = json!([{"date": "2026-05-04", "readings": readings}]);
        Signs::of(
            &house(json!({"surveys": survey, "surroundings": {"weak_posts": true}})),
            Limits::shipped(),
        )
    }

    #[rstest]
    #[case("-2 in", Truth::True, Fit::Consistent)]
    #[case("2 in", Truth::False, Fit::NotEnoughSeen)]
    #[case("-1/16 in", Truth::Maybe, Fit::NotEnoughSeen)]
    fn a_dished_floor_speaks_for_its_posts(#[case] middle: &str, #[case] low: Truth, #[case] posts: Fit) {
        let signs = dished(middle);
        assert_eq!(signs.get(Sign::MiddleLow), low);
        assert_eq!(fit_of(&signs, "weak-posts"), posts);
    }

    #[rstest]
    #[case(
        "poor-drainage,standing_water",
        "poor-drainge,standing_water",
        "expected a cause of causes.csv"
    )]
    #[case(",for,Wet soil", ",fro,Wet soil", "column \"bearing\"")]
    #[case("decay,wood_on_soil", "decay,decay_or_insects", "a second time")]
    fn a_fault_is_named_with_its_place(#[case] from: &str, #[case] to: &str, #[case] words: &str) {
        let rules = RULES.replacen(from, to, 1);
        assert_ne!(rules, RULES);
        let errors = CauseRules::parse(CAUSES, &rules, SOURCES).unwrap_err();
        assert!(errors[0].to_string().contains(words), "{errors:?}");
    }

    proptest! {
        /// Forgetting a sign never rules a cause out.
        #[test]
        fn an_unknown_never_turns_into_not_there(
            told in prop::collection::vec(0_u8..3, Sign::ALL.len()),
            forgotten in 0..Sign::ALL.len(),
        ) {
            let mut signs = Signs::default();
            for (sign, told) in Sign::ALL.iter().zip(&told) {
                signs.put(*sign, [Truth::True, Truth::False, Truth::Maybe][usize::from(*told)]);
            }
            let mut fewer = signs.clone();
            fewer.put(Sign::ALL[forgotten], Truth::Maybe);
            for cause in CauseRules::shipped().causes() {
                let (before, after) = (fit_of(&signs, &cause.name), fit_of(&fewer, &cause.name));
                prop_assert!(after != Fit::NotConsistent || before == Fit::NotConsistent, "{}", cause.name);
            }
        }
    }
}
