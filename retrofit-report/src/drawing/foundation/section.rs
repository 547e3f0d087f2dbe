//! Sections of new work, to scale.

use retrofit_core::choice::Choice;
use retrofit_core::foundation::new_work::{
    BarPlace, Cap, CrossSection, Dowels, OldSection, SectionBar, Wall, Work,
};
use retrofit_core::foundation::plan::FoundationPlan;
use retrofit_core::house::House;
use retrofit_core::measure::Length;

use super::super::drafting::{Drafting, Nm, Title, at, lettered, span};
use super::super::sheet::{Anchor, Extent, Layer, Point, Scale, Shape, Sheet};

/// How far the ground is drawn to either side, in thousandths of an inch on paper.
const BEYOND: i64 = 900;

/// New work cut across, with the old foundation that stays.
#[derive(Clone, Copy, Debug)]
enum Cut<'a> {
    /// A footing with its stem wall: in place of the old, or beside it.
    Wall(&'a Wall, Option<&'a OldSection>),
    /// Concrete on the old wall.
    Cap(&'a Cap, &'a OldSection),
}

/// A section of each size of new work, once for all lengths that have it.
pub(super) fn sections(house: &House, plan: &FoundationPlan<'_>) -> Vec<Sheet> {
    let mut told: Vec<(Cut<'_>, Vec<String>)> = Vec::new();
    for sized in &plan.sizes {
        let (Ok(size), Some(found)) = (&sized.size, plan.decision(sized)) else {
            continue;
        };
        let cut = match (&size.work, &size.old) {
            (Work::Wall(wall), old) => Cut::Wall(wall, old.as_ref()),
            (Work::Cap(cap), Some(old)) => Cut::Cap(cap, old),
            (Work::Cap(_), None) => continue,
        };
        let to = found
            .to
            .map_or_else(|| "the end".to_owned(), |to| to.in_feet_inches().to_string());
        let name = format!("{}, {} to {to}", found.name, found.from.in_feet_inches());
        match told.iter_mut().find(|(other, _)| other.looks_like(cut)) {
            Some((_, names)) => names.push(name),
            None => told.push((cut, vec![name])),
        }
    }
    let sheets = told.into_iter().enumerate();
    sheets
        .map(|(number, (cut, names))| section_sheet(house, cut, &names, number))
        .collect()
}

impl Cut<'_> {
    /// Whether two are the same drawing.
    fn looks_like(self, other: Self) -> bool {
        match (self, other) {
            (Self::Wall(a, old), Self::Wall(b, other)) => {
                outline(&a.section) == outline(&b.section) && old == other && a.dowels == b.dowels
            }
            (Self::Cap(a, old), Self::Cap(b, other)) => {
                let sizes = |cap: &Cap| [cap.width, cap.thickness, cap.sill_width, cap.sill_thickness];
                sizes(a) == sizes(b) && old == other && a.dowels == b.dowels
            }
            _ => false,
        }
    }

    /// How wide and how high it is.
    fn size(self) -> (Length, Length) {
        match self {
            Self::Wall(wall, old) => {
                let section = &wall.section;
                let beside = old.map_or(Length::ZERO, |old| old.thickness);
                let high = section.top().saturating_add(section.sill_thickness);
                (section.footing_width.saturating_add(beside), high)
            }
            Self::Cap(cap, old) => {
                let high = cap.thickness.saturating_add(cap.sill_thickness);
                let footing = old.footing.map_or(Length::ZERO, |(width, _)| width);
                let wide = cap.width.max(old.thickness).max(footing);
                (wide, high.saturating_add(below(old)))
            }
        }
    }

    const fn title(self) -> &'static str {
        match self {
            Self::Wall(_, None) => "Section of new work",
            Self::Wall(_, Some(_)) => "Section of a wall beside the old",
            Self::Cap(..) => "Section of a cap on the old wall",
        }
    }
}

/// How far an old foundation is drawn below its top: to its bottom, or where that is not on record a foot below the
/// ground.
fn below(old: &OldSection) -> Length {
    let top = old.top.unwrap_or(Length::feet(1)).max(Length::ZERO);
    top.saturating_add(old.depth.unwrap_or(Length::feet(1)))
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

fn section_sheet(house: &House, cut: Cut<'_>, names: &[String], number: usize) -> Sheet {
    let (wide, high) = cut.size();
    let room = |thousandths: i64| Length::from_nanometers(thousandths * 25_400);
    let scale = Scale::to_fit(&[(wide, room(4_500)), (high, room(6_500))], Scale::DETAIL);
    let mut draft = Drafting::new(scale);
    let mut labels = match cut {
        Cut::Wall(wall, old) => {
            let mut labels = draw_section(&mut draft, &wall.section, old);
            if let Some(old) = old {
                labels.extend(draw_old_beside(&mut draft, wall, old));
            }
            labels
        }
        Cut::Cap(cap, old) => draw_cap(&mut draft, cap, old),
    };
    let right = draft.reach(0).unwrap_or_default().high.x.nanometers();
    let lowest = draft.labels(&mut labels, right + draft.paper(700), draft.paper(4_200));
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
    let mut notes = vec![
        "Sizes by table and by load are in the report, each with its source. An engineer and the code official say which \
         edition holds."
            .to_owned(),
    ];
    if !matches!(cut, Cut::Wall(_, None)) {
        notes.push(
            "Thin: the old foundation as recorded. Dashed: what of it is not on record. An engineer says how old and new \
             work together."
                .to_owned(),
        );
    }
    let under = lowest.min(drawn.low.y.nanometers()) - draft.paper(300);
    let below = draft.column(
        drawn.low.x.nanometers(),
        under,
        draft.paper(9_000),
        "NOTES",
        &notes,
    );
    let description = format!("{} of {}: {}.", cut.title(), house.name, names.join("; "));
    let middle = drawn.middle().x.nanometers();
    let (high, low) = (head_at + draft.paper(300), below - draft.paper(120));
    draft.finish(
        &Title {
            house: &house.name,
            sheet: cut.title(),
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

/// The sides of an old wall and its footing, from its top down: thin where they are on record, dashed where not.
fn draw_old(draft: &mut Drafting, old: &OldSection, left: Nm, top: Nm) -> Extent {
    let nm = Length::nanometers;
    let (right, bottom) = (left + nm(old.thickness), top - nm(below(old)));
    let sides = if old.thickness_taken_from.is_none() {
        Layer::Existing
    } else {
        Layer::Hidden
    };
    let foot = |is_known: bool| if is_known { Layer::Existing } else { Layer::Hidden };
    draft.line(sides, at(left, bottom), at(left, top));
    draft.line(sides, at(right, bottom), at(right, top));
    draft.line(sides, at(left, top), at(right, top));
    draft.line(foot(old.depth.is_some()), at(left, bottom), at(right, bottom));
    if let (Some((width, thickness)), Some(_)) = (old.footing, old.depth) {
        let out = (nm(width) - nm(old.thickness)).max(0) / 2;
        if out > 0 {
            draft.rectangle(
                Layer::Existing,
                span(left - out, bottom, right + out, bottom + nm(thickness)),
            );
        }
    }
    span(left, bottom, right, top)
}

/// What is to be said of an old wall.
fn old_words(old: &OldSection) -> String {
    let assumed = if old.thickness_taken_from.is_some() {
        ", thickness assumed"
    } else {
        ""
    };
    let depth = if old.depth.is_none() {
        ", bottom not on record"
    } else {
        ""
    };
    format!("Old wall, {}{assumed}{depth}; it stays", old.thickness)
}

fn dowel_words(dowels: &Dowels) -> String {
    let along = dowels
        .along
        .as_ref()
        .map_or_else(String::new, |along| format!(" at {}", along.value));
    format!(
        "{} dowel{along}, {} into the old wall, turned along the bars to lap {}",
        dowels.size.words(),
        dowels.embedment.value,
        dowels.lap.value
    )
}

/// The old wall outside a new one, and the dowels between them; gives what is to be named.
fn draw_old_beside(draft: &mut Drafting, wall: &Wall, old: &OldSection) -> Vec<(Point, String)> {
    let nm = Length::nanometers;
    let section = &wall.section;
    let ground = nm(section.depth_below_grade);
    let top = old.top.map_or(nm(section.top()), |top| ground + nm(top));
    let drawn = draw_old(draft, old, -nm(old.thickness), top);
    let middle = drawn.middle();
    let mut labels = vec![(
        at(
            middle.x.nanometers(),
            middle.y.nanometers() + (top - middle.y.nanometers()) / 2,
        ),
        old_words(old),
    )];
    if let Some(dowels) = &wall.dowels {
        let up = nm(section.footing_thickness) + nm(section.stem_height) / 2;
        let (deep, reach) = (nm(dowels.embedment.value), nm(section.vertical.x));
        draft.line(Layer::New, at(-deep.min(nm(old.thickness)), up), at(reach, up));
        labels.push((at(reach / 2, up), dowel_words(dowels)));
    }
    labels
}

/// A cap on the old wall, with sill, bars, dowels and dimensions; gives what is to be named.
fn draw_cap(draft: &mut Drafting, cap: &Cap, old: &OldSection) -> Vec<(Point, String)> {
    let nm = Length::nanometers;
    let (width, thick) = (nm(cap.width), nm(cap.thickness));
    let left = (width - nm(old.thickness)) / 2;
    let drawn = draw_old(draft, old, left, 0);
    draft.rectangle(Layer::New, span(0, 0, width, thick));
    let half_sill = nm(cap.sill_width) / 2;
    let high = thick + nm(cap.sill_thickness);
    let sill = draw_sill(
        draft,
        span(width / 2 - half_sill, thick, width / 2 + half_sill, high),
    );
    let mut labels = vec![
        (sill, "Sill, preservative-treated or durable".to_owned()),
        (
            at(width * 3 / 4, thick / 4),
            format!("Cap; cover {} in forms", cap.cover_formed.value),
        ),
        (
            at(drawn.middle().x.nanometers(), drawn.middle().y.nanometers()),
            old_words(old),
        ),
    ];
    draw_bars(draft, &cap.bars);
    if let Some(bar) = cap.bars.last() {
        labels.push((
            Point::new(bar.x, bar.y),
            format!("{} {} along the wall", cap.bars.len(), bar.size.words()),
        ));
    }
    if let Some(dowels) = &cap.dowels {
        let beside = cap
            .bars
            .first()
            .map_or(width / 2, |bar| nm(bar.x) - nm(bar.diameter));
        let (deep, up) = (nm(dowels.embedment.value), thick - nm(cap.cover_formed.value));
        draft.line(Layer::New, at(beside, -deep), at(beside, up));
        labels.push((at(beside, -deep / 2), dowel_words(dowels)));
    }
    let beyond = draft.paper(BEYOND);
    let (far_left, far_right) = (
        drawn.low.x.nanometers().min(0),
        drawn.high.x.nanometers().max(width),
    );
    if let Some(top) = old.top {
        let (ground, low, high) = (-nm(top), drawn.low.x.nanometers(), drawn.high.x.nanometers());
        draft.line(Layer::Ground, at(far_left - beyond, ground), at(low, ground));
        draft.line(Layer::Hidden, at(high, ground), at(far_right + beyond, ground));
        draft.text(
            at(far_left - beyond, ground + draft.paper(60)),
            lettered::NOTE,
            Anchor::Start,
            "Ground outside",
        );
    }
    let gap = draft.paper(300);
    let bottom = draft.reach(0).unwrap_or_default().low.y.nanometers();
    let mut across = vec![0, width];
    if old.thickness_taken_from.is_none() {
        across.extend([drawn.low.x.nanometers(), drawn.high.x.nanometers()]);
        across.sort_unstable();
    }
    draft.level_string(&across, bottom - gap, -1);
    let line = far_left - beyond - gap;
    let levels: Vec<Nm> = old
        .top
        .map(|top| -nm(top))
        .into_iter()
        .chain([0, thick, high])
        .collect();
    draft.upright_string(&levels, line);
    labels
}

/// A sill with the cross of cut wood; gives its middle.
fn draw_sill(draft: &mut Drafting, sill: Extent) -> Point {
    draft.rectangle(Layer::New, sill);
    let corners = sill.corners();
    draft.line(Layer::New, corners[0], corners[2]);
    draft.line(Layer::New, corners[1], corners[3]);
    sill.middle()
}

fn draw_bars(draft: &mut Drafting, bars: &[SectionBar]) {
    for bar in bars {
        draft.add(
            Layer::New,
            Shape::Disk {
                center: Point::new(bar.x, bar.y),
                radius: Length::from_nanometers(bar.diameter.nanometers() / 2),
            },
        );
    }
}

/// Concrete, sill, ground and bars with their dimensions; gives what is to be named.
fn draw_section(
    draft: &mut Drafting,
    section: &CrossSection,
    old: Option<&OldSection>,
) -> Vec<(Point, String)> {
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
    draw_sill(draft, sill);
    // The outside is to the left, and an old wall that stays stands there.
    let ground = nm(section.depth_below_grade);
    let beyond = draft.paper(BEYOND);
    let (face, inner) = if ground > thick { (left, right) } else { (0, width) };
    let outside = old.map_or(0, |old| nm(old.thickness));
    let face = if old.is_some() { -outside } else { face };
    draft.line(Layer::Ground, at(-outside - beyond, ground), at(face, ground));
    draft.text(
        at(-outside - beyond, ground + draft.paper(60)),
        lettered::NOTE,
        Anchor::Start,
        "Ground outside",
    );
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
    draw_bars(draft, &section.bars);
    let gap = draft.paper(300);
    let mut across = vec![0, left, right, width];
    if old.is_some_and(|old| old.thickness_taken_from.is_none()) {
        across.insert(0, -outside);
    }
    let lowest = old
        .and_then(|old| old.depth)
        .map_or(0, |depth| (ground - nm(depth)).min(0));
    draft.level_string(&across, lowest - gap, -1);
    let line = -outside - beyond - gap;
    draft.upright_string(&[0, thick, top, nm(high)], line);
    let outer = line - draft.paper(900);
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
