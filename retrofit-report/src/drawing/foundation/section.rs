//! Sections of new work, to scale.

use retrofit_core::choice::Choice;
use retrofit_core::foundation::new_work::{BarPlace, CrossSection, Work};
use retrofit_core::foundation::plan::FoundationPlan;
use retrofit_core::house::House;
use retrofit_core::measure::Length;

use super::super::drafting::{Drafting, Title, at, lettered, span};
use super::super::sheet::{Anchor, Layer, Point, Scale, Shape, Sheet};

/// How far the ground is drawn to either side, in thousandths of an inch on paper.
const BEYOND: i64 = 900;

/// A section of each size of new wall, once for all lengths that have it.
pub(super) fn sections(house: &House, plan: &FoundationPlan<'_>) -> Vec<Sheet> {
    let mut told: Vec<(&CrossSection, Vec<String>)> = Vec::new();
    for sized in &plan.sizes {
        let (Ok(size), Some(found)) = (&sized.size, plan.decision(sized)) else {
            continue;
        };
        let Work::Wall(wall) = &size.work else { continue };
        let to = found
            .to
            .map_or_else(|| "the end".to_owned(), |to| to.in_feet_inches().to_string());
        let name = format!("{}, {} to {to}", found.name, found.from.in_feet_inches());
        let same = |section: &CrossSection| outline(section) == outline(&wall.section);
        match told.iter_mut().find(|(section, _)| same(section)) {
            Some((_, names)) => names.push(name),
            None => told.push((&wall.section, vec![name])),
        }
    }
    let sheets = told.into_iter().enumerate();
    sheets
        .map(|(number, (section, names))| section_sheet(house, section, &names, number))
        .collect()
}

/// What makes two sections the same drawing.
fn outline(section: &CrossSection) -> ([Length; 8], Vec<(Length, Length)>) {
    (
        [
            section.footing_width,
            section.footing_thickness,
            section.stem_offset,
            section.stem_thickness,
            section.stem_height,
            section.depth_below_grade,
            section.sill_width,
            section.sill_thickness,
        ],
        section.bars.iter().map(|bar| (bar.x, bar.y)).collect(),
    )
}

fn section_sheet(house: &House, section: &CrossSection, names: &[String], number: usize) -> Sheet {
    let nm = Length::nanometers;
    let high = section.top().saturating_add(section.sill_thickness);
    let room = |thousandths: i64| Length::from_nanometers(thousandths * 25_400);
    let scale = Scale::to_fit(
        &[(section.footing_width, room(4_500)), (high, room(6_500))],
        Scale::DETAIL,
    );
    let mut draft = Drafting::new(scale);
    let mut labels = draw_section(&mut draft, section);
    let (width, ground) = (nm(section.footing_width), nm(section.depth_below_grade));
    let beyond = draft.paper(BEYOND);
    let column = width + beyond + draft.paper(700);
    let lowest = draft.labels(&mut labels, column, draft.paper(4_200));
    draft.text(
        at(-beyond, ground + draft.paper(60)),
        lettered::NOTE,
        Anchor::Start,
        "Ground outside",
    );
    let drawn = draft.reach(0).unwrap_or_default();
    let heading = draft.paper(450);
    let head_at = drawn.high.y.nanometers() + heading;
    let title = draft.fitted(&names.join("; "), lettered::HEADING, draft.paper(13_500));
    draft.heading(
        at(drawn.low.x.nanometers(), head_at),
        lettered::HEADING,
        Anchor::Start,
        &title,
    );
    let notes = vec![
        "Sizes by table and by load are in the report, each with its source. An engineer and the code official say which \
         edition holds."
            .to_owned(),
    ];
    let under = lowest.min(drawn.low.y.nanometers()) - draft.paper(300);
    let below = draft.column(
        drawn.low.x.nanometers(),
        under,
        draft.paper(9_000),
        "NOTES",
        &notes,
    );
    let description = format!(
        "New foundation of {} cut across: {}.",
        house.name,
        names.join("; ")
    );
    let middle = drawn.middle().x.nanometers();
    let (high, low) = (head_at + draft.paper(300), below - draft.paper(120));
    draft.finish(
        &Title {
            house: &house.name,
            sheet: "Section of new work",
            provisions: "sources named in the report",
            number: format!("N{}", number + 1),
            scale: None,
        },
        format!("section-{}", number + 1),
        &description,
        middle,
        high,
        low,
    )
}

/// Concrete, sill, ground and bars with their dimensions; gives what is to be named.
fn draw_section(draft: &mut Drafting, section: &CrossSection) -> Vec<(Point, String)> {
    let nm = Length::nanometers;
    let high = section.top().saturating_add(section.sill_thickness);
    let (width, thick) = (nm(section.footing_width), nm(section.footing_thickness));
    let (left, right) = (
        nm(section.stem_offset),
        nm(section.stem_offset.saturating_add(section.stem_thickness)),
    );
    let top = nm(section.top());
    let concrete = vec![
        at(0, 0),
        at(width, 0),
        at(width, thick),
        at(right, thick),
        at(right, top),
        at(left, top),
        at(left, thick),
        at(0, thick),
    ];
    draft.add(
        Layer::New,
        Shape::Polyline {
            points: concrete,
            is_closed: true,
        },
    );
    let middle = nm(section.stem_center());
    let half_sill = nm(section.sill_width) / 2;
    let sill = span(middle - half_sill, top, middle + half_sill, nm(high));
    draft.rectangle(Layer::New, sill);
    let corners = sill.corners();
    draft.line(Layer::New, corners[0], corners[2]);
    draft.line(Layer::New, corners[1], corners[3]);
    // The outside is to the left.
    let ground = nm(section.depth_below_grade);
    let beyond = draft.paper(BEYOND);
    let (face, inner) = if ground > thick { (left, right) } else { (0, width) };
    draft.line(Layer::Ground, at(-beyond, ground), at(face, ground));
    draft.line(Layer::Hidden, at(inner, ground), at(width + beyond, ground));
    let vertical = &section.vertical;
    let (x, from, to) = (nm(vertical.x), nm(vertical.from), nm(vertical.to));
    draft.add(
        Layer::New,
        Shape::Polyline {
            points: vec![at(x + nm(vertical.hook), from), at(x, from), at(x, to)],
            is_closed: false,
        },
    );
    for bar in &section.bars {
        draft.add(
            Layer::New,
            Shape::Disk {
                center: Point::new(bar.x, bar.y),
                radius: Length::from_nanometers(nm(bar.diameter) / 2),
            },
        );
    }
    let gap = draft.paper(300);
    draft.level_string(&[0, left, right, width], -gap, -1);
    draft.upright_string(&[0, thick, top, nm(high)], -beyond - gap);
    let outer = -beyond - gap - draft.paper(900);
    draft.upright_string(&[0, ground], outer);
    names_of(section)
}

/// What the parts of a section are.
fn names_of(section: &CrossSection) -> Vec<(Point, String)> {
    let nm = Length::nanometers;
    let (thick, top) = (nm(section.footing_thickness), nm(section.top()));
    let right = nm(section.stem_offset.saturating_add(section.stem_thickness));
    let vertical = &section.vertical;
    let sill = nm(section.sill_thickness) / 2;
    let mut labels = vec![
        (
            at(nm(section.stem_center()), top + sill),
            "Sill, preservative-treated or durable".to_owned(),
        ),
        (
            at(
                nm(vertical.x),
                nm(vertical.to) - (nm(vertical.to) - nm(vertical.from)) / 4,
            ),
            format!("{} at {}", vertical.size.words(), vertical.spacing.value),
        ),
        (
            at(nm(section.footing_width) / 2, thick / 3),
            format!("Footing; cover {} against the earth", section.cover_earth.value),
        ),
        (
            at(right, thick + (top - thick) / 3),
            format!("Stem wall; cover {} in forms", section.cover_formed.value),
        ),
    ];
    for place in [BarPlace::TopOfStem, BarPlace::BottomOfFooting] {
        let bars: Vec<_> = section.bars.iter().filter(|bar| bar.place == place).collect();
        if let Some(last) = bars.last() {
            labels.push((
                Point::new(last.x, last.y),
                format!("{} {} along the wall", bars.len(), last.size.words()),
            ));
        }
    }
    labels
}
