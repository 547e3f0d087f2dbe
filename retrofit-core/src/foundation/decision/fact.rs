//! The facts that rules go by, read off the record of one length of foundation: true, false or maybe.

use std::collections::BTreeMap;

use super::rules::{Figures, OptionRules};
use crate::choice::{Choice, choices};
use crate::foundation::causes::{Sign, Signs};
use crate::foundation::survey::Limits;
use crate::house::{
    Crack, CrackedPart, FoundationCondition, FoundationKind, FoundationStretch, House, InsideAccess,
    OutsideAccess, PlanPoint, Reinforcing, SillPiece, SillTreatment, Span, WallLine,
};
use crate::measure::Length;
use crate::observation::{Observed, Truth};

/// A crack this close to a wall line in plan is on it. A choice of this program, from no source.
const ON_THE_WALL: f64 = 6.0;

/// A crack farther from a wall line, in inches, is not on it; nor is one that much beyond an end of a length.
/// Another such choice.
const OFF_THE_WALL: f64 = 24.0;

choices! {
    /// Something about a length of foundation, or the house on it, that bears on what can be done.
    pub enum Fact: "fact" {
        /// Concrete block.
        Block = "block", "concrete block";
        /// Brick or stone.
        Masonry = "masonry", "brick or stone without reinforcing";
        /// Posts on separate piers.
        Posts = "posts", "posts on separate piers";
        /// Framing on the ground, or nothing under the wall.
        NoFooting = "no_footing", "no foundation under the wall";
        /// Sound, or cracked but hard and in line.
        Hard = "hard", "hard and in line";
        /// Cracked but hard.
        Cracked = "cracked", "cracked but hard";
        /// Soft.
        Crumbling = "crumbling", "soft or crumbling";
        /// Out of line.
        Displaced = "displaced", "leaning, settled or broken through";
        /// A crack beyond a width or a step.
        WideCrack = "wide_crack", "a wide or stepped crack";
        /// The sill is close to the soil and is not known to resist decay.
        LowSill = "low_sill", "a sill close to the soil";
        /// With the soil cut back from a low sill the footing would be too shallow.
        NoSoilToCut = "no_soil_to_cut", "a low sill over a shallow footing";
        /// The footing is smaller than new work has.
        SmallFooting = "small_footing", "a footing smaller than new work has";
        /// No bars.
        Unreinforced = "unreinforced", "no reinforcing";
        /// Something stands outside.
        OutsideBlocked = "outside_blocked", "no room to work outside";
        /// It is a neighbor's.
        Neighbor = "neighbor", "a neighbor's house, wall or lot line";
        /// No room inside.
        InsideBlocked = "inside_blocked", "no room to work inside";
        /// No room on either side.
        NoAccess = "no_access", "no room to work on either side";
        /// The house has to come up.
        Settled = "settled", "a house that has to come up here";
        /// The house has to come down.
        Heaved = "heaved", "a house that has to come down here";
        /// A tall stem wall.
        TallStem = "tall_stem", "a tall stem wall";
        /// Ground is missing under this length.
        Undermined = "undermined", "ground missing under the footing";
        /// It moved between two surveys.
        Moving = "moving", "movement between surveys";
        /// Expansive soil.
        ExpansiveSoil = "expansive_soil", "expansive soil";
        /// Fill under the house or a part of it.
        Fill = "fill", "fill under the house";
        /// Ground steeper than prescriptive criteria allow.
        SteepSlope = "steep_slope", "steep ground";
        /// The slope moves.
        SlopeMoves = "slope_moves", "signs of a moving slope";
        /// A mapped zone of fault rupture, liquefaction or landslides.
        StudyZone = "study_zone", "a mapped hazard zone";
        /// The perimeter foundation does not run through.
        BrokenPerimeter = "broken_perimeter", "a perimeter foundation that does not run through";
        /// Most of the length of all wall lines has to be replaced.
        MostNeedReplacing = "most_need_replacing", "most of the foundation to be replaced";
        /// Always there.
        AnyHouse = "any_house", "work under any house";
    }
}

/// Which facts are there, are not, or are not known.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Facts(BTreeMap<Fact, Truth>);

impl Facts {
    /// Whether a fact is there; *maybe* of one that nobody looked for.
    pub fn get(&self, fact: Fact) -> Truth {
        self.0.get(&fact).copied().unwrap_or(Truth::Maybe)
    }

    /// Says whether a fact is there.
    pub fn put(&mut self, fact: Fact, there: Truth) {
        self.0.insert(fact, there);
    }

    /// Every fact.
    pub fn iter(&self) -> impl Iterator<Item = (Fact, Truth)> + '_ {
        Fact::ALL.iter().map(|fact| (*fact, self.get(*fact)))
    }

    /// The facts that hold for a house as a whole.
    pub(super) fn of_house(house: &House, rules: &OptionRules) -> Self {
        let mut facts = Self::default();
        let figures = rules.measures();
        let (around, site) = (&house.surroundings, &house.site);
        let yes = |observed: &Observed<bool>| observed.satisfies(|there| there);
        for (fact, there) in [
            (Fact::ExpansiveSoil, yes(&around.expansive_soil)),
            (Fact::Fill, yes(&around.fill)),
            (Fact::SlopeMoves, yes(&around.slope_moves)),
            // Under which length the ground is missing, a note on the whole house does not say.
            (Fact::Undermined, yes(&around.undermined).and(Truth::Maybe)),
            (Fact::SteepSlope, !site.slope.at_most(figures.steepest_slope)),
            (Fact::BrokenPerimeter, !yes(&house.continuous_perimeter)),
            (
                Fact::StudyZone,
                yes(&site.fault_zone)
                    .or(yes(&site.liquefaction_zone))
                    .or(yes(&site.landslide_zone)),
            ),
            (
                Fact::Moving,
                Signs::of(house, Limits::shipped()).get(Sign::Moving),
            ),
            (Fact::AnyHouse, Truth::True),
        ] {
            facts.put(fact, there);
        }
        facts
    }

    /// The facts of one length, beside those of its house.
    pub(super) fn of_length(
        &self,
        house: &House,
        wall: &WallLine,
        stretch: &FoundationStretch,
        span: Span,
        figures: &Figures,
    ) -> Self {
        use FoundationCondition as Condition;
        let mut facts = self.clone();
        let kind = |kind: FoundationKind| stretch.kind.satisfies(|found| found == kind);
        let condition = |condition: Condition| stretch.condition.satisfies(|found| found == condition);
        let outside = stretch
            .outside
            .satisfies(|outside| outside != OutsideAccess::Open);
        let inside = stretch.inside.satisfies(|inside| inside == InsideAccess::Blocked);
        let low_sill = stretch
            .sill_above_ground
            .less_than(figures.least_sill_height)
            .and(!resists_decay(&wall.sill, wall.length.value().copied(), span));
        for (fact, there) in [
            (Fact::Block, kind(FoundationKind::Block)),
            (
                Fact::Masonry,
                kind(FoundationKind::Brick).or(kind(FoundationKind::Stone)),
            ),
            (Fact::Posts, kind(FoundationKind::Posts)),
            (
                Fact::NoFooting,
                kind(FoundationKind::Ground).or(kind(FoundationKind::None)),
            ),
            (
                Fact::Hard,
                condition(Condition::Sound).or(condition(Condition::Cracked)),
            ),
            (Fact::Cracked, condition(Condition::Cracked)),
            (Fact::Crumbling, condition(Condition::Crumbling)),
            (Fact::Displaced, condition(Condition::Displaced)),
            (Fact::WideCrack, wide_crack(house, wall, stretch, span, figures)),
            (Fact::LowSill, low_sill),
            (
                Fact::NoSoilToCut,
                low_sill.and(too_shallow_once_cut(stretch, figures)),
            ),
            (Fact::SmallFooting, small_footing(house, stretch, figures)),
            (
                Fact::Unreinforced,
                stretch.reinforcing.satisfies(|bars| bars == Reinforcing::None),
            ),
            (Fact::OutsideBlocked, outside),
            (
                Fact::Neighbor,
                stretch
                    .outside
                    .satisfies(|outside| outside == OutsideAccess::Neighbor),
            ),
            (Fact::InsideBlocked, inside),
            (Fact::NoAccess, outside.and(inside)),
            (Fact::Settled, !stretch.settled.at_most(figures.level_tolerance)),
            (
                Fact::Heaved,
                stretch
                    .settled
                    .less_than(Length::ZERO.saturating_sub(figures.level_tolerance)),
            ),
            (Fact::TallStem, !stretch.stem_height.at_most(figures.tallest_stem)),
        ] {
            facts.put(fact, there);
        }
        facts
    }
}

/// Whether every piece of sill over a length resists decay.
fn resists_decay(sill: &Observed<Vec<SillPiece>>, wall: Option<Length>, span: Span) -> Truth {
    let over = |piece: &&SillPiece| piece.span(wall).overlaps(span);
    let known = sill.listed().iter().filter(over).map(|piece| {
        piece
            .treatment
            .satisfies(|treatment| matches!(treatment, SillTreatment::Treated | SillTreatment::Durable))
    });
    let pieces = known.fold(Truth::True, Truth::and);
    // What the list leaves out may be of any wood.
    let covered = sill.listed().iter().filter(over).filter_map(|piece| {
        let piece = piece.span(wall);
        piece.to?.min(span.to?).checked_sub(piece.from.max(span.from))
    });
    let covered = covered.fold(Length::ZERO, Length::saturating_add);
    if span.length().is_some_and(|length| covered >= length) {
        pieces
    } else {
        pieces.and(Truth::Maybe)
    }
}

/// Whether the footing would be too shallow once the soil is cut back as far as a low sill asks.
fn too_shallow_once_cut(stretch: &FoundationStretch, figures: &Figures) -> Truth {
    let left = |sill: Option<&Length>, depth: Option<&Length>| {
        let cut = figures.least_sill_height.saturating_sub(*sill?);
        Some(depth?.saturating_sub(cut.max(Length::ZERO)))
    };
    let (sill, depth) = (stretch.sill_above_ground.bounds(), stretch.footing_depth.bounds());
    let is_shallow = |left: Length| left < figures.least_footing_depth;
    match (left(sill.0, depth.0), left(sill.1, depth.1)) {
        (_, Some(most)) if is_shallow(most) => Truth::True,
        (Some(least), _) if !is_shallow(least) => Truth::False,
        _ => Truth::Maybe,
    }
}

/// Whether the footing is narrower, thinner or shallower than that of new work.
fn small_footing(house: &House, stretch: &FoundationStretch, figures: &Figures) -> Truth {
    let (least, most) = house.building.stories.bounds();
    let widths = &figures.least_footing_widths;
    // Wider footings are asked for under more stories, so that one too narrow for the fewest is too narrow. Of
    // a house taller than the table no width is known to do.
    let fewest = least.map_or(1, |stories| usize::from(stories.counted()));
    let fewest = fewest.clamp(1, widths.len().max(1)).saturating_sub(1);
    let most = most.map(|stories| usize::from(stories.counted()).saturating_sub(1));
    let narrower = |least: Option<&Length>| least.map(|least| stretch.footing_width.less_than(*least));
    let narrow = Truth::from_cases(
        narrower(most.and_then(|most| widths.get(most))) != Some(Truth::False),
        narrower(widths.get(fewest)) == Some(Truth::True),
    );
    narrow
        .or(stretch
            .footing_thickness
            .less_than(figures.least_footing_thickness))
        .or(stretch.footing_depth.less_than(figures.least_footing_depth))
}

/// Whether a crack on this length is wide or stepped. What was seen sound has hairline cracks at most, unless
/// one was measured there that is more.
fn wide_crack(
    house: &House,
    wall: &WallLine,
    stretch: &FoundationStretch,
    span: Span,
    figures: &Figures,
) -> Truth {
    let cracks = house
        .surveys
        .iter()
        .rev()
        .find_map(|survey| survey.cracks.value());
    let beyond = |crack: &Crack| {
        let wide = !crack.width.at_most(figures.wide_crack);
        wide.or(!crack.offset.at_most(figures.stepped_crack))
    };
    let here: Vec<(Truth, Truth)> = cracks
        .into_iter()
        .flatten()
        .map(|crack| (is_on(crack, wall, span), beyond(crack)))
        .collect();
    let wide = here
        .iter()
        .map(|(on, beyond)| on.and(*beyond))
        .fold(Truth::False, Truth::or);
    let sound = stretch
        .condition
        .satisfies(|condition| condition == FoundationCondition::Sound);
    let is_measured = here.iter().any(|(on, _)| on.certain());
    match (wide, sound) {
        (Truth::True, _) => Truth::True,
        (_, Truth::True) => Truth::False,
        (Truth::False, _) if is_measured => Truth::False,
        _ => Truth::Maybe,
    }
}

/// Whether a crack is in the foundation along a length, going by the plan.
fn is_on(crack: &Crack, wall: &WallLine, span: Span) -> Truth {
    let part = crack
        .part
        .satisfies(|part| matches!(part, CrackedPart::Foundation | CrackedPart::Masonry));
    let place = match (crack.at, wall.plan) {
        (Some(at), Some([begin, end])) => along(at, begin, end),
        _ => None,
    };
    let Some((station, off)) = place else {
        return part.and(Truth::Maybe);
    };
    let from = span.from.as_inches_f64();
    let to = span.to.map(Length::as_inches_f64);
    let surely = off <= ON_THE_WALL && station >= from && to.is_some_and(|to| station <= to);
    let possibly = off <= OFF_THE_WALL
        && station >= from - OFF_THE_WALL
        && to.is_none_or(|to| station <= to + OFF_THE_WALL);
    part.and(Truth::from_cases(possibly, surely))
}

/// Station of a point along a line in plan and its distance from that line, in inches.
fn along(at: PlanPoint, begin: PlanPoint, end: PlanPoint) -> Option<(f64, f64)> {
    let inches = |length: Length| length.as_inches_f64();
    let (dx, dy) = (inches(end.x) - inches(begin.x), inches(end.y) - inches(begin.y));
    let (px, py) = (inches(at.x) - inches(begin.x), inches(at.y) - inches(begin.y));
    let length = dx.hypot(dy);
    (length > 0.0).then(|| ((px * dx + py * dy) / length, ((px * dy - py * dx) / length).abs()))
}
