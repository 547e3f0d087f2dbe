//! Laws of the foundation plan, over random houses with random surveys.

use proptest::prelude::*;
use retrofit_core::choice::Choice;
use retrofit_core::foundation::decision::{Decisions, FoundationOption, OptionRules};
use retrofit_core::foundation::earthwork::SolidVolume;
use retrofit_core::foundation::lift::{LiftPlan, LiftSettings, LiftTarget, check_plan};
use retrofit_core::foundation::plan::{FoundationPlan, PlanFigures, PlanSettings};
use retrofit_core::foundation::shoring::ShoringFigures;
use retrofit_core::foundation::survey::{Corrected, Limits, LineFindings, Plane, SurveyFindings};
use retrofit_core::foundation::work_takeoff::{WorkAmount, WorkArticle};
use retrofit_core::house::{
    AsBuilt, FoundationCondition, FoundationKind, FoundationStretch, House, InsideAccess, OutsideAccess,
    PlanPoint, Reinforcing, Site, SoilClass, Surroundings,
};
use retrofit_core::measure::{Length, Slope};
use retrofit_core::observation::Observed;
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::Library;

use crate::change::{blanked, misread};
use crate::houses::{Dice, few_rolls, house, rolls};
use crate::level_survey::{any_floor, length, moved, places, survey};

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// A plan by the shipped tables; the search for the shortest schedule is cut short.
fn planned(house: &AsBuilt) -> FoundationPlan<'static> {
    let figures = PlanFigures::shipped().unwrap();
    let set = Library::shipped().set(Library::DEFAULT_SET).unwrap();
    let mut settings = PlanSettings::of(&figures);
    settings.sequence.search_budget = 500;
    FoundationPlan::of(house, &figures, &set, UnitPrices::placeholder(), &settings)
}

fn any<T: Choice + Clone>(dice: &mut Dice<'_>) -> Observed<T> {
    Observed::measured(dice.pick(T::ALL))
}

fn inches(dice: &mut Dice<'_>, least: i64, most: i64) -> Observed<Length> {
    Observed::measured(Length::inches(dice.between(least, most)))
}

/// A random house of which everything that bears on its foundation is known too: its wall lines run round a block.
fn with_foundation(rolls: &[u16], more: &[u16]) -> House {
    let mut house = house(rolls);
    let dice = &mut Dice::new(more);
    let no = |dice: &mut Dice<'_>| Observed::measured(dice.chance(15));
    let corner = |x: i64, y: i64| PlanPoint {
        x: Length::feet(x),
        y: Length::feet(y),
    };
    house.building.outline = vec![corner(0, 0), corner(36, 0), corner(36, 24), corner(0, 24)];
    house.building.story_height = Observed::measured(Length::feet(9));
    house.building.masonry_chimneys = Observed::measured(0);
    house.floor.joist_span = inches(dice, 60, 190);
    house.site = Site {
        soil: any::<SoilClass>(dice),
        slope: Observed::measured("0%".parse::<Slope>().unwrap()),
        fault_zone: no(dice),
        liquefaction_zone: no(dice),
        landslide_zone: no(dice),
        ..Site::default()
    };
    house.surroundings = Surroundings {
        undermined: no(dice),
        fill: no(dice),
        slope_moves: no(dice),
        expansive_soil: no(dice),
        ..Surroundings::default()
    };
    let mut here = corner(0, 0);
    for (number, wall) in house.wall_lines.iter_mut().enumerate() {
        let run = wall.length.value().copied().unwrap_or_default();
        let there = match number % 4 {
            0 => PlanPoint {
                x: here.x.saturating_add(run),
                ..here
            },
            1 => PlanPoint {
                y: here.y.saturating_add(run),
                ..here
            },
            2 => PlanPoint {
                x: here.x.saturating_sub(run),
                ..here
            },
            _ => PlanPoint {
                y: here.y.saturating_sub(run),
                ..here
            },
        };
        wall.plan = Some([here, there]);
        here = there;
        if let Observed::Known { value, .. } = &mut wall.foundation {
            for stretch in value {
                seen(stretch, dice);
            }
        }
    }
    house
}

/// Everything that the rules for foundation work go by.
fn seen(stretch: &mut FoundationStretch, dice: &mut Dice<'_>) {
    use FoundationKind::{Brick, Concrete};
    stretch.kind =
        Observed::measured(dice.pick(&[Concrete, Brick, Concrete, FoundationKind::Stone, Concrete]));
    stretch.condition = any::<FoundationCondition>(dice);
    stretch.reinforcing = any::<Reinforcing>(dice);
    stretch.outside =
        Observed::measured(dice.pick(&[OutsideAccess::Open, OutsideAccess::Open, OutsideAccess::Stair]));
    stretch.inside =
        Observed::measured(dice.pick(&[InsideAccess::Open, InsideAccess::Open, InsideAccess::Blocked]));
    stretch.sill_above_ground = inches(dice, -2, 20);
    stretch.settled = inches(dice, -2, 3);
    stretch.work = dice.chance(40).then(|| dice.pick(FoundationOption::ALL));
}

/// Takes one fact of a stretch away.
fn forget(stretch: &mut FoundationStretch, fact: usize) {
    match fact % 13 {
        0 => stretch.kind = Observed::default(),
        1 => stretch.condition = Observed::default(),
        2 => stretch.stem_height = Observed::default(),
        3 => stretch.stem_thickness = Observed::default(),
        4 => stretch.footing_width = Observed::default(),
        5 => stretch.footing_thickness = Observed::default(),
        6 => stretch.footing_depth = Observed::default(),
        7 => stretch.reinforcing = Observed::default(),
        8 => stretch.concrete_strength = Observed::default(),
        9 => stretch.outside = Observed::default(),
        10 => stretch.inside = Observed::default(),
        11 => stretch.sill_above_ground = Observed::default(),
        _ => stretch.settled = Observed::default(),
    }
}

fn lift_settings(target: LiftTarget) -> LiftSettings {
    LiftSettings {
        target,
        ..LiftSettings::of(ShoringFigures::shipped().unwrap())
    }
}

/// Amounts alike: what is counted or exact to the last unit, what is weighed to its last bits.
fn alike(a: WorkAmount, b: WorkAmount) -> bool {
    match (a, b) {
        (WorkAmount::Loose(a), WorkAmount::Loose(b)) | (WorkAmount::Pounds(a), WorkAmount::Pounds(b)) => {
            (a - b).abs() <= 1e-9 * a.abs().max(1.0)
        }
        (a, b) => a == b,
    }
}

proptest! {
    #![proptest_config(config(64))]

    /// A floor that is a plane has no distortion and needs no lift to stay one; brought to level, it ends as a plane.
    #[test]
    fn a_tilted_floor_ends_in_a_plane(places in places(), east in -0.01..0.01_f64, north in -0.01..0.01_f64) {
        let tilted: Vec<[f64; 3]> = places.iter().map(|[x, y]| [*x, *y, east * x + north * y]).collect();
        let corrected = Corrected::of(&survey(&tilted), Limits::shipped()).unwrap();
        let stays = LiftPlan::of(&corrected, lift_settings(LiftTarget::StandingPlane)).unwrap();
        prop_assert!(stays.steps.is_empty() && stays.left_out.is_empty());
        prop_assert!((stays.slope[0] - east).abs() < 1e-7 && (stays.slope[1] - north).abs() < 1e-7);
        let level = LiftPlan::of(&corrected, lift_settings(LiftTarget::Level)).unwrap();
        prop_assert_eq!(check_plan(&level, &level.settings), []);
        prop_assert!(level.residuals().iter().all(|residual| residual.is_within));
        for plan in [stays, level] {
            let floor = plan.floor_after(plan.steps.len());
            let plane = Plane::fit(&floor).unwrap();
            // What is near enough stays, so that the plane is one to within the tolerance.
            let near = if plan.steps.is_empty() { 1e-6 } else { plan.settings.tolerance.as_inches_f64() };
            prop_assert!(plane.residuals.iter().all(|residual| residual.abs() <= near), "{:?}", plane.residuals);
        }
    }

    /// The same added to every reading changes neither slopes nor distortions, nor what is lifted on what day.
    #[test]
    fn a_shift_of_all_readings_lifts_the_same(rolls in rolls(), more in few_rolls(), floor in any_floor(), shift in -20.0..20.0_f64) {
        let shift = length(shift).as_inches_f64();
        let with = |readings: &[[f64; 3]]| House { surveys: vec![survey(readings)], ..with_foundation(&rolls, &more) };
        let (before, after) = (with(&floor), with(&moved(&floor, |[x, y, h]| [x, y, h + shift])));
        let limits = Limits::shipped();
        let (low, high) = (
            SurveyFindings::of(&before, &before.surveys[0], limits),
            SurveyFindings::of(&after, &after.surveys[0], limits),
        );
        let (a, b) = (low.plane.as_ref().unwrap(), high.plane.as_ref().unwrap());
        prop_assert!((a.east.likely - b.east.likely).abs() < 1e-9 && (a.north.likely - b.north.likely).abs() < 1e-9);
        for (a, b) in low.wall_lines.iter().zip(&high.wall_lines) {
            let distortions = |findings: &SurveyFindings<'_>, line: &LineFindings<'_>| {
                let profile = line.profile.as_ref().ok();
                profile.map(|profile| profile.distortions(findings.plane.as_ref().ok())).unwrap_or_default()
            };
            let (a, b) = (distortions(&low, a), distortions(&high, b));
            prop_assert_eq!(a.len(), b.len());
            for (a, b) in a.iter().zip(&b) {
                let run = a.stretch.1 - a.stretch.0;
                prop_assert!((a.rotation.likely - b.rotation.likely).abs() * run < 1e-6);
            }
        }
        let lift = |house: House| {
            let plan = planned(&AsBuilt::new(house).unwrap()).lift.unwrap().plan.unwrap();
            let lifts: Vec<Length> = plan.jacks.iter().map(|jack| jack.lift).collect();
            (lifts, plan.steps)
        };
        prop_assert_eq!(lift(before), lift(after));
    }

    /// What is counted for each length adds up to what is counted in all, and to what is drawn, put in bays and poured.
    #[test]
    fn quantities_add_up(rolls in rolls(), more in few_rolls()) {
        let plan = planned(&AsBuilt::new(with_foundation(&rolls, &more)).unwrap());
        let Some(takeoff) = &plan.takeoff else {
            prop_assert!(plan.pieces.is_empty());
            return Ok(());
        };
        let takeoff = takeoff.as_ref().unwrap();
        for line in &takeoff.lines {
            let mut parts = line.parts.iter().map(|(_, amount)| *amount);
            if let Some(first) = parts.next() {
                let sum = parts.fold(first, WorkAmount::plus);
                prop_assert!(alike(sum, line.total), "{:?}: {sum:?}, {:?}", line.article, line.total);
            }
            prop_assert!(line.parts.iter().all(|(piece, _)| *piece < plan.pieces.len()));
        }
        let total = |article| takeoff.line(article).unwrap().total;
        let pieces = plan.pieces.iter();
        let sill = pieces.clone().fold(Length::ZERO, |sum, piece| sum.saturating_add(piece.length()));
        prop_assert_eq!(total(WorkArticle::Sill), WorkAmount::Run(sill));
        let anchors = pieces.clone().map(|piece| u64::from(piece.anchors)).sum();
        prop_assert_eq!(total(WorkArticle::Anchors), WorkAmount::Pieces(anchors));
        let drawn = pieces.fold(SolidVolume::ZERO, |sum, piece| {
            let section = &piece.section;
            let area = section.footing_width.by(section.footing_thickness);
            let area = area.saturating_add(section.stem_thickness.by(section.stem_height));
            sum.plus(SolidVolume::of(area, piece.length()))
        });
        prop_assert_eq!(total(WorkArticle::Concrete), WorkAmount::Solid(drawn));
        let in_bays = plan.bays.iter().fold(SolidVolume::ZERO, |sum, bay| sum.plus(bay.concrete));
        prop_assert_eq!(in_bays, drawn);
        let WorkAmount::Solid(ordered) = total(WorkArticle::ConcreteOrdered) else { panic!("concrete is solid") };
        if let Some(Ok(schedule)) = &plan.schedule {
            let poured = schedule.pours.iter().fold(SolidVolume::ZERO, |sum, pour| sum.plus(pour.ordered));
            prop_assert!((poured.cubic_yards() - ordered.cubic_yards()).abs() < 1e-9);
            let trucks = schedule.pours.iter().map(|pour| pour.trucks).sum();
            prop_assert_eq!(total(WorkArticle::ConcreteTrucks), WorkAmount::Pieces(trucks));
        }
    }

    /// The checkers of the schedule and of the lift, which know nothing of how either was made, find nothing.
    #[test]
    fn checkers_find_nothing(rolls in rolls(), more in few_rolls(), floor in any_floor(), blank in few_rolls()) {
        let mut house = with_foundation(&rolls, &more);
        house.surveys = vec![survey(&floor)];
        for house in [blanked(&house, &mut Dice::new(&blank)), house] {
            let plan = planned(&AsBuilt::new(house).unwrap());
            prop_assert_eq!(&plan.schedule_faults, &[]);
            if let Some(lift) = &plan.lift {
                prop_assert_eq!(&lift.faults, &[]);
            }
        }
    }
}

proptest! {
    #![proptest_config(config(256))]

    /// A fact of a stretch that is forgotten never decides for another option, and what could come of it still can.
    #[test]
    fn a_forgotten_fact_decides_for_nothing_else(rolls in rolls(), more in few_rolls(), wall in 0_usize..4, stretch in 0_usize..2, fact in 0_usize..13) {
        let known = with_foundation(&rolls, &more);
        let mut open = known.clone();
        let lines = open.wall_lines.len();
        if let Observed::Known { value, .. } = &mut open.wall_lines[wall % lines].foundation {
            let count = value.len();
            forget(&mut value[stretch % count], fact);
        }
        let (known, open) = (AsBuilt::new(known).unwrap(), AsBuilt::new(open).unwrap());
        let (known, open) = (Decisions::of(&known, OptionRules::shipped()), Decisions::of(&open, OptionRules::shipped()));
        prop_assert_eq!(known.lengths.len(), open.lengths.len());
        for (known, open) in known.lengths.iter().zip(&open.lengths) {
            prop_assert!(open.by_rules.is_none() || open.by_rules == known.by_rules, "{:?}, {:?}", known.by_rules, open.by_rules);
            prop_assert!(known.possible.iter().all(|option| open.possible.contains(option)));
            prop_assert_eq!(known.by_estimator, open.by_estimator);
        }
    }
}

proptest! {
    #![proptest_config(config(96))]

    /// No house that makes sense, however little is known of it or however odd, makes the plan panic.
    #[test]
    fn no_plan_panics(rolls in rolls(), more in few_rolls(), change in few_rolls(), floor in any_floor()) {
        let mut whole = with_foundation(&rolls, &more);
        whole.surveys = vec![survey(&floor)];
        let mut dice = Dice::new(&change);
        let houses = [Some(house(&rolls)), misread(&whole, &mut dice), misread(&whole, &mut dice)];
        for house in houses.into_iter().flatten().filter_map(|house| AsBuilt::new(house).ok()) {
            let plan = planned(&house);
            for piece in &plan.pieces {
                prop_assert!(piece.from < piece.to);
            }
        }
    }
}
