//! Whether the crawl space has vents enough for its area.

use super::context::Whole;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::House;
use crate::measure::Area;
use crate::observation::{Basis, Observed, Truth};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "underfloor-vent-area",
    group: Group::Ventilation,
    title: "Vents of the crawl space",
    explanation: Explanation {
        looks_at: "The net free area of all underfloor vents against the area of the crawl space.",
        why: "A damp crawl space rots the sill and the panels; new bracing must not close the vents the house needs.",
        satisfied_by: "Net vent area of at least the share of the crawl space area that the provisions name. Some documents ask for less over a ground cover; see the note to the figure.",
        fix: "Add vents clear of the panels, or a ground cover where the provisions give credit for it.",
    },
    figures: &[FigureName::AreaPerVentArea],
    reads: &[LookAt::CrawlSpaceArea, LookAt::VentArea, LookAt::Openings],
    run: Run::House(check),
};

/// The net free area of all vents: as written down, or no less than that of the vents along the wall lines,
/// which need not be all the wall lines there are.
fn vent_area(house: &House) -> Observed<Area> {
    let recorded = &house.vent_area;
    let lists = house.wall_lines.iter().filter_map(|wall| wall.openings.basis());
    match lists.max() {
        Some(basis) if !recorded.is_known() => {
            let (least, most) = recorded.bounds();
            Observed::Between {
                at_least: least.copied().max(Some(house.listed_vent_area())),
                at_most: most.copied(),
                basis: recorded.basis().map_or(basis, |of_total| of_total.weaker(basis)),
            }
        }
        _ => recorded.clone(),
    }
}

/// The area of the crawl space: as written down, or no more than the outline of the house encloses.
fn crawl_space_area(house: &House) -> Observed<Area> {
    let recorded = &house.crawl_space_area;
    if recorded.is_known() || house.building.outline.len() < 3 {
        return recorded.clone();
    }
    let corners: Vec<_> = house
        .building
        .outline
        .iter()
        .map(|corner| (corner.x, corner.y))
        .collect();
    let (least, most) = recorded.bounds();
    let enclosed = Area::of_polygon(&corners);
    if most.is_some_and(|most| *most <= enclosed) {
        return recorded.clone();
    }
    Observed::Between {
        at_least: least.copied(),
        at_most: Some(enclosed),
        basis: Basis::Inferred,
    }
}

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let judgment = Judgment::by(whole.rule(keys::AREA_PER_VENT_AREA), |ratio| {
        let vents = vent_area(whole.house);
        let crawl_space = crawl_space_area(whole.house);
        // Too large a product is larger than any crawl space.
        let ventilated_by = |vents: Area| vents.times(i64::from(ratio)).unwrap_or(Area::LIMIT);
        let (least_vents, most_vents) = vents.bounds();
        let (least_space, most_space) = crawl_space.bounds();
        let best = match (most_vents, least_space) {
            (Some(vents), Some(space)) => ventilated_by(*vents) >= *space,
            (Some(vents), None) => *vents > Area::ZERO,
            (None, _) => true,
        };
        let worst = match (least_vents, most_space) {
            (Some(vents), Some(space)) => ventilated_by(*vents) >= *space,
            _ => false,
        };
        let needed = most_space.filter(|_| crawl_space.is_known()).map(|space| {
            let ratio = i128::from(ratio.max(1));
            let exact = space.square_nanometers();
            Area::from_square_nanometers(exact.div_euclid(ratio) + i128::from(exact.rem_euclid(ratio) != 0))
        });
        let judgment = Judgment::met_if(Truth::from_cases(best, worst))
            .facts(
                "The crawl space has the vent area asked for.",
                "The crawl space has less vent area than asked for.",
                "Whether the crawl space has enough vent area depends on something that was not measured.",
            )
            .measured(vents.value().map_or(Quantity::None, |area| Quantity::Area(*area)))
            .at_least(needed.map_or(Quantity::None, Quantity::Area))
            .basis(vents.basis().zip(crawl_space.basis()).map(|(a, b)| a.weaker(b)));
        let judgment = if vents.is_known() {
            judgment
        } else {
            judgment.decided_by(LookAt::VentArea)
        };
        if crawl_space.is_known() {
            judgment
        } else {
            judgment.decided_by(LookAt::CrawlSpaceArea)
        }
    });
    findings.add(judgment.about(LookAt::VentArea, None));
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case(
        "crc-2013-new-construction",
        r#"crawl_space_area = "600 sq ft"; vent_area = "577 sq in""#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"crawl_space_area = "600 sq ft"; vent_area = "4 sq ft""#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"crawl_space_area = "600 sq ft"; wall.openings = []; vent_area = "575 sq in""#,
        NotMet
    )]
    #[case(
        "crc-2013-new-construction",
        r#"crawl_space_area = "601 sq ft"; vent_area = "4 sq ft""#,
        NotMet
    )]
    #[case("crc-2013-new-construction", "vent_area = ?", Met)]
    #[case("crc-2013-new-construction", "wall.openings = ?", NotDetermined)]
    #[case("crc-2013-new-construction", "wall.openings = []", NotDetermined)]
    #[case(
        "crc-2013-new-construction",
        r#"crawl_space_area = ?; vent_area = "4 sq ft""#,
        NotDetermined
    )]
    #[case(
        "crc-2013-new-construction",
        r#"crawl_space_area = ?; vent_area = "692 sq in""#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        "crawl_space_area = ?; building.outline = []",
        NotDetermined
    )]
    // A weak bound on record does not hide what the listed vents and the outline tell.
    #[case(
        "crc-2013-new-construction",
        r#"vent_area = {"reported": {"at_least": "1 sq in"}}"#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"vent_area = {"reported": {"at_most": "99 sq ft"}}"#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"crawl_space_area = {"inferred": {"at_most": "9000 sq ft"}}; vent_area = "692 sq in""#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"crawl_space_area = "600 sq ft"; wall.openings = []; vent_area = "1 sq in""#,
        NotApplicable
    )]
    fn vents_are_held_against_the_crawl_space(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(
            ruling_after(changes, &shipped(set), "underfloor-vent-area"),
            expected
        );
    }
}
