//! Temporary support: where it stands in plan, and cut across the wall.

use retrofit_core::foundation::plan::{FoundationPlan, ShoredLine};
use retrofit_core::foundation::shoring::{Arrangement, Scheme, Side, Support, Trial, shown, without_a_match};
use retrofit_core::house::{House, WallLine};
use retrofit_core::measure::Length;

use super::super::drafting::{Drafting, Nm, Title, at, lettered, span};
use super::super::plan::{COLUMN_WIDE, PlanSheet, sideways};
use super::super::sheet::{Anchor, Extent, Layer, Point, Scale, Sheet};

/// The most room on paper for the wall lines, in thousandths of an inch.
const ROOM: (i64, i64) = (8_700, 6_400);
/// Needle beams with their pads reach so far out of the walls, both sides together.
const AROUND: Length = Length::feet(10);
/// Needle beams, joists and ground are drawn so far past what they bear on or meet.
const PAST: Length = Length::feet(1);
/// What is not on record is drawn at this height, dashed and without a dimension.
const HEIGHT_NOT_KNOWN: Length = Length::feet(3);
/// Joists of which the depth is not on record are drawn so deep, dashed.
const JOIST_NOT_KNOWN: Length = Length::inches(6);
/// Pads and jacks are drawn as high as this: neither thickness is sized.
const PAD_DRAWN: Length = Length::inches(3);
const JACK_DRAWN: Length = Length::inches(6);

/// What goes with every sheet of temporary support.
const ASKS: &str = "Shown beside published figures and not designed: a licensed engineer designs temporary support, and \
    nobody is under a load that stands on jacks alone.";

/// Supports in plan. Where both ways to hold up a wall line are shown, the second stands on a sheet of its own.
pub(super) fn plans(house: &House, plan: &FoundationPlan<'_>) -> Vec<Sheet> {
    let most = plan.shoring.iter().map(|line| line.shoring.schemes.len()).max();
    (0..most.unwrap_or(0))
        .filter_map(|way| plan_sheet(house, plan, way))
        .collect()
}

fn wall_of<'h>(house: &'h House, line: &ShoredLine) -> Option<&'h WallLine> {
    house.wall_lines.get(line.wall_line)
}

fn plan_sheet(house: &House, plan: &FoundationPlan<'_>, way: usize) -> Option<Sheet> {
    let walls: Vec<[Point; 2]> = house
        .wall_lines
        .iter()
        .filter_map(|wall| wall.plan)
        .map(|ends| ends.map(|end| Point::new(end.x, end.y)))
        .collect();
    let around = walls
        .iter()
        .flatten()
        .map(|place| Extent::between(*place, *place))
        .reduce(Extent::with)?;
    let room = |thousandths: i64| Length::from_nanometers(thousandths * 25_400);
    let scale = Scale::to_fit(
        &[
            (around.width().saturating_add(AROUND), room(ROOM.0)),
            (around.height().saturating_add(AROUND), room(ROOM.1)),
        ],
        Scale::HALF_INCH,
    );
    let mut draft = Drafting::new(scale);
    for [from, to] in &walls {
        draft.line(Layer::Existing, *from, *to);
    }
    let mut named = Vec::new();
    let mut told = Vec::new();
    let mut unplaced = Vec::new();
    for line in &plan.shoring {
        let (Some(wall), Some(scheme)) = (wall_of(house, line), line.shoring.schemes.get(way)) else {
            continue;
        };
        if let Some(ends) = wall.plan {
            let ends = ends.map(|end| Point::new(end.x, end.y));
            let is_both_sides = scheme.arrangement == Arrangement::Needles;
            named.push((is_both_sides, draw_supports(&mut draft, wall, ends, scheme)));
        } else {
            unplaced.push(wall.name.as_str());
        }
        told.push(supports_words(&wall.name, scheme));
    }
    if told.is_empty() {
        return None;
    }
    for (_, supports) in &named {
        name_supports(&mut draft, supports);
    }
    dimension_stations(&mut draft, &named);
    let sheet = PlanSheet::around(&mut draft, "TEMPORARY SUPPORT", true);
    if !unplaced.is_empty() {
        told.push(format!(
            "Without a place on record, and not drawn: {}.",
            unplaced.join(", ")
        ));
    }
    if plan.shoring.iter().any(|line| line.shoring.schemes.len() > 1) {
        told.push("Where nobody saw how the joists run, both ways are shown, each on a sheet, and neither is chosen.".to_owned());
    }
    told.push(
        "Squares are pads, to scale; stations and loads are in the report. Where a support falls on the foundation that \
         meets the wall line, it stands clear of it as the engineer says."
            .to_owned(),
    );
    told.push(ASKS.to_owned());
    let width = draft.paper(COLUMN_WIDE);
    let beside = draft.column(sheet.column, sheet.under_scale, width, "SUPPORTS", &told);
    let low = beside.min(sheet.lowest - draft.paper(200)) - draft.paper(120);
    let middle = sheet.middle(&draft);
    let description = format!(
        "Where the temporary supports of {} stand along each wall line, in plan.",
        house.name
    );
    Some(draft.finish(
        &Title {
            house: &house.name,
            sheet: "Temporary support in plan",
            provisions: "published figures named in the report",
            number: format!("T{}", way + 1),
            scale: None,
        },
        format!("shoring-plan-{}", way + 1),
        &description,
        middle,
        sheet.top,
        low,
    ))
}

/// The supports of a wall line in a sentence.
fn supports_words(name: &str, scheme: &Scheme) -> String {
    let heaviest = scheme
        .supports
        .iter()
        .map(|support| support.load)
        .fold(0.0, f64::max);
    let beam = size_words(&scheme.beams);
    let what = match scheme.arrangement {
        Arrangement::CarryingBeam => {
            format!(
                "carrying beam {beam} inside, {} from support to support",
                scheme.span
            )
        }
        Arrangement::Needles => format!("needle beams {beam} through the wall"),
    };
    let count = scheme.supports.len();
    format!(
        "{name}: {what}; {count} supports, {heaviest:.0} lb on one at the most; posts {}, jacks {}, pads {}.",
        size_words(&scheme.posts),
        size_words(&scheme.jacks),
        size_words(&scheme.pads)
    )
}

/// The size that is shown of a list, and what has to be said of it.
fn size_words(trials: &[Trial]) -> String {
    shown(trials).map_or_else(String::new, |trial| {
        format!("{}{}", trial.size, without_a_match(trials))
    })
}

/// The name of a support with the middle of its pad and the way out of the pad to where the name stands.
struct Named<'a> {
    label: &'a str,
    center: Point,
    half: Nm,
    away: (Nm, Nm),
}

/// Beams and pads of a scheme along a wall line; gives the supports to be named.
fn draw_supports<'a>(
    draft: &mut Drafting,
    wall: &WallLine,
    [from, to]: [Point; 2],
    scheme: &'a Scheme,
) -> Vec<Named<'a>> {
    let nm = Length::nanometers;
    let (dx, dy) = (nm(to.x.saturating_sub(from.x)), nm(to.y.saturating_sub(from.y)));
    let run = wall.length.bounds().1.map_or(0, |length| nm(*length)).max(1);
    // The inside is to the right of the way from left to right.
    let place = |station: Length, inward: Nm| {
        let part = |of: Nm| {
            let part = i128::from(of) * i128::from(nm(station)) / i128::from(run);
            Length::from_nanometers(i64::try_from(part).unwrap_or(0))
        };
        let (right, up) = sideways(dx, dy, inward);
        from.moved(part(dx), part(dy)).moved(right, up)
    };
    let inward = |side: Side, offset: Length| match side {
        Side::Inside => nm(offset),
        Side::Outside => -nm(offset) - nm(scheme.foundation_thickness),
    };
    match scheme.arrangement {
        Arrangement::CarryingBeam => {
            if let (Some(first), Some(last)) = (scheme.supports.first(), scheme.supports.last()) {
                let depth = inward(first.side, first.offset);
                draft.line(
                    Layer::New,
                    place(first.station, depth),
                    place(last.station, depth),
                );
            }
        }
        Arrangement::Needles => {
            let inside = |support: &&Support| support.side == Side::Inside;
            for support in scheme.supports.iter().filter(inside) {
                let out = inward(Side::Outside, support.offset) - nm(PAST);
                let deep = inward(Side::Inside, support.offset) + nm(PAST);
                draft.line(
                    Layer::New,
                    place(support.station, out),
                    place(support.station, deep),
                );
            }
        }
    }
    let half = shown(&scheme.pads)
        .and_then(|pad| pad.measures)
        .map_or(0, |[side, _]| nm(side) / 2);
    let mut named = Vec::new();
    for support in &scheme.supports {
        let depth = inward(support.side, support.offset);
        let center = place(support.station, depth);
        let (x, y) = (nm(center.x), nm(center.y));
        draft.rectangle(Layer::New, span(x - half, y - half, x + half, y + half));
        let sign = match support.side {
            Side::Inside => 1,
            Side::Outside => -1,
        };
        let (right, up) = sideways(dx, dy, sign * draft.paper(100));
        named.push(Named {
            label: &support.label,
            center,
            half,
            away: (nm(right), nm(up)),
        });
    }
    named
}

/// Writes each name beside its pad: beyond it where there is room, and else on another side.
fn name_supports(draft: &mut Drafting, named: &[Named<'_>]) {
    let tall = draft.paper(lettered::DIMENSION);
    for support in named {
        let wide = draft.width(support.label, lettered::DIMENSION) + draft.paper(60);
        let center = (support.center.x.nanometers(), support.center.y.nanometers());
        let (right, up) = support.away;
        let ways = [(right, up), (-right, -up), (up, -right), (-up, right)];
        let spots = (1..=6).flat_map(|steps| {
            ways.map(|(right, up)| {
                // Past the pad by so many steps of a tenth of an inch on paper.
                let past = |part: Nm, words: Nm| part.signum() * (support.half + words / 2) + part * steps;
                (center.0 + past(right, wide), center.1 + past(up, tall))
            })
        });
        let is_free =
            |(x, y): &(Nm, Nm)| draft.is_clear(span(x - wide / 2, y - tall, x + wide / 2, y + tall));
        // Where there is no room the table of the report tells it by its station.
        if let Some((x, y)) = spots.into_iter().find(is_free) {
            draft.text(
                at(x, y - tall / 2),
                lettered::DIMENSION,
                Anchor::Middle,
                support.label,
            );
        }
    }
}

/// Strings of dimensions from support to support, outside of all that was drawn, for wall lines that run level or upright.
fn dimension_stations(draft: &mut Drafting, named: &[(bool, Vec<Named<'_>>)]) {
    let drawn = draft.reach(0).unwrap_or_default();
    let gap = draft.paper(260);
    let (mut above, mut below) = (drawn.high.y.nanometers() + gap, drawn.low.y.nanometers() - gap);
    let (mut left, mut right) = (
        drawn.low.x.nanometers() - gap,
        drawn.high.x.nanometers() + draft.paper(850),
    );
    for (is_both_sides, supports) in named {
        let Some(first) = supports.first() else { continue };
        // Needle beams have two supports at a station.
        let places = supports.iter().step_by(if *is_both_sides { 2 } else { 1 });
        let (away_right, away_up) = first.away;
        let stations = |of: fn(Point) -> Length| {
            let mut stations: Vec<Nm> = places
                .clone()
                .map(|support| of(support.center).nanometers())
                .collect();
            stations.sort_unstable();
            stations
        };
        // Names stand toward the inside, and the string on the other side.
        if away_right == 0 {
            let stations = stations(|point| point.x);
            if away_up < 0 {
                above = draft.level_string(&stations, above, 1) + gap;
            } else {
                below = draft.level_string(&stations, below, -1) - gap;
            }
        } else if away_up == 0 {
            let stations = stations(|point| point.y);
            let line = if away_right > 0 { &mut left } else { &mut right };
            draft.upright_string(&stations, *line);
            *line += away_right.signum() * -draft.paper(850);
        }
    }
}

/// A section of each way to hold up a wall line, once for all wall lines that look the same.
pub(super) fn sections(house: &House, plan: &FoundationPlan<'_>) -> Vec<Sheet> {
    let mut told: Vec<(&Scheme, Vec<String>)> = Vec::new();
    for line in &plan.shoring {
        let Some(wall) = wall_of(house, line) else {
            continue;
        };
        for scheme in &line.shoring.schemes {
            match told.iter_mut().find(|(other, _)| looks_like(other, scheme)) {
                Some((_, names)) => names.push(wall.name.clone()),
                None => told.push((scheme, vec![wall.name.clone()])),
            }
        }
    }
    let sheets = told.into_iter().enumerate();
    sheets
        .map(|(number, (scheme, names))| section_sheet(house, scheme, &names, number))
        .collect()
}

/// Whether two schemes are the same drawing.
fn looks_like(a: &Scheme, b: &Scheme) -> bool {
    let of = |scheme: &Scheme| {
        let sizes = [
            &scheme.beams,
            &scheme.posts,
            &scheme.cribs,
            &scheme.jacks,
            &scheme.pads,
        ];
        let offset = scheme.supports.first().map(|support| support.offset);
        let sizes = sizes.map(|trials| shown(trials).map(|trial| trial.size.clone()));
        (
            scheme.arrangement,
            scheme.height,
            scheme.foundation_thickness,
            offset,
            sizes,
        )
    };
    of(a) == of(b)
}

/// The parts of a scheme as they are drawn, the inner face of the foundation at zero and the ground at zero.
struct Parts<'a> {
    scheme: &'a Scheme,
    offset: Nm,
    height: Nm,
    thickness: Nm,
    /// Width and depth of the beam.
    beam: [Nm; 2],
    post: Nm,
    pad: Nm,
}

impl<'a> Parts<'a> {
    fn of(scheme: &'a Scheme) -> Self {
        let nm = Length::nanometers;
        let measures = |trials: &[Trial]| {
            let measures = shown(trials).and_then(|trial| trial.measures);
            measures.map_or([0, 0], |sides| sides.map(nm))
        };
        Self {
            scheme,
            offset: scheme.supports.first().map_or(0, |support| nm(support.offset)),
            height: nm(scheme.height.unwrap_or(HEIGHT_NOT_KNOWN)),
            thickness: nm(scheme.foundation_thickness),
            beam: measures(&scheme.beams),
            post: measures(&scheme.posts)[0],
            pad: measures(&scheme.pads)[0],
        }
    }

    /// What is drawn of something whose size hangs on the height: dashed where that is not on record.
    const fn layer(&self) -> Layer {
        if self.scheme.height.is_some() {
            Layer::New
        } else {
            Layer::Hidden
        }
    }

    fn is_needle(&self) -> bool {
        self.scheme.arrangement == Arrangement::Needles
    }

    /// The ends of what is drawn of wall and floor, from left to right.
    fn reach(&self) -> (Nm, Nm) {
        let past = Length::nanometers(PAST) + self.pad / 2;
        let left = if self.is_needle() {
            -self.thickness - self.offset - past
        } else {
            -self.thickness - past
        };
        (left, self.offset + past)
    }
}

fn section_sheet(house: &House, scheme: &Scheme, names: &[String], number: usize) -> Sheet {
    let parts = Parts::of(scheme);
    let (left, right) = parts.reach();
    let room = |thousandths: i64| Length::from_nanometers(thousandths * 25_400);
    let scale = Scale::to_fit(
        &[
            (Length::from_nanometers(right - left), room(6_500)),
            (Length::from_nanometers(parts.height), room(5_000)),
        ],
        Scale::DETAIL,
    );
    let mut draft = Drafting::new(scale);
    let mut labels = draw_house(&mut draft, house, &parts);
    labels.extend(draw_support(&mut draft, &parts));
    dimension(&mut draft, &parts);
    let edge = draft.reach(0).unwrap_or_default().high.x.nanometers();
    let lowest = draft.labels(&mut labels, edge + draft.paper(600), draft.paper(3_600));
    let drawn = draft.reach(0).unwrap_or_default();
    let head_at = drawn.high.y.nanometers() + draft.paper(450);
    let lines = if names.len() == 1 {
        "Wall line"
    } else {
        "Wall lines"
    };
    let title = format!("{lines} {}", names.join(", "));
    let title = draft.fitted(&title, lettered::HEADING, draft.paper(13_500));
    draft.heading(
        at(drawn.low.x.nanometers(), head_at),
        lettered::HEADING,
        Anchor::Start,
        &title,
    );
    let mut notes = vec![
        "Cribs follow every lift; thicknesses of pads, the jack and all bracing are not sized here. The ground outside is \
         drawn level with that inside."
            .to_owned(),
    ];
    if scheme.height.is_none() {
        notes.push("Dashed: the height from the ground to the floor framing is not on record.".to_owned());
    }
    notes.push(ASKS.to_owned());
    let under = lowest.min(drawn.low.y.nanometers()) - draft.paper(300);
    let below = draft.column(
        drawn.low.x.nanometers(),
        under,
        draft.paper(9_000),
        "NOTES",
        &notes,
    );
    let description = format!(
        "Temporary support of {} cut across, for {}.",
        house.name,
        names.join(", ")
    );
    let middle = drawn.middle().x.nanometers();
    let (high, low) = (head_at + draft.paper(300), below - draft.paper(120));
    draft.finish(
        &Title {
            house: &house.name,
            sheet: if parts.is_needle() {
                "Needle beam cut across the wall"
            } else {
                "Carrying beam cut across"
            },
            provisions: "published figures named in the report",
            number: format!("U{}", number + 1),
            scale: None,
        },
        format!("shoring-section-{}", number + 1),
        &description,
        middle,
        high,
        low,
    )
}

/// Ground, foundation with what stands on it, and joists; gives what is to be named.
fn draw_house(draft: &mut Drafting, house: &House, parts: &Parts<'_>) -> Vec<(Point, String)> {
    let (left, right) = parts.reach();
    let deep = Length::nanometers(PAST);
    draft.line(Layer::Ground, at(left, 0), at(-parts.thickness, 0));
    draft.line(Layer::Ground, at(0, 0), at(right, 0));
    let joist = house.floor.joist_depth.bounds().1.copied();
    let (depth, floor) = (joist.unwrap_or(JOIST_NOT_KNOWN), parts.height);
    let top = floor + Length::nanometers(depth);
    let known = |is_known: bool| if is_known { Layer::Existing } else { Layer::Hidden };
    let wall = known(parts.scheme.height.is_some());
    for face in [-parts.thickness, 0] {
        draft.line(wall, at(face, -deep), at(face, floor));
    }
    draft.line(Layer::Hidden, at(-parts.thickness, -deep), at(0, -deep));
    let joists = known(joist.is_some());
    if parts.is_needle() {
        // The joists run along the wall, and are cut.
        let wide = Length::inches(2).nanometers();
        let last = right - wide;
        let mut x = -parts.thickness;
        while x < last {
            draft.rectangle(joists, span(x, floor, x + wide, top));
            x += Length::inches(16).nanometers();
        }
        draft.line(joists, at(-parts.thickness, top), at(right, top));
    } else {
        draft.rectangle(joists, span(-parts.thickness, floor, right, top));
    }
    let words = match (parts.is_needle(), joist) {
        (false, Some(depth)) => format!("Joists across the wall, {depth} deep"),
        (true, Some(depth)) => format!("Joists along the wall, {depth} deep, drawn 16\" apart"),
        (_, None) => "Joists, depth not on record".to_owned(),
    };
    vec![
        (at(right - deep / 2, floor.midpoint(top)), words),
        (
            at(-parts.thickness / 2, floor * 3 / 4),
            "Foundation and what stands on it; opened bay by bay".to_owned(),
        ),
    ]
}

/// Beam, posts, jacks, cribs and pads; gives what is to be named.
fn draw_support(draft: &mut Drafting, parts: &Parts<'_>) -> Vec<(Point, String)> {
    let nm = Length::nanometers;
    let scheme = parts.scheme;
    let [wide, deep] = parts.beam;
    let under = parts.height - deep;
    let (left, right) = (-parts.thickness - parts.offset, parts.offset);
    let (beam, centers) = if parts.is_needle() {
        let past = nm(PAST);
        (
            span(left - past, under, right + past, parts.height),
            vec![left, right],
        )
    } else {
        let half = wide / 2;
        (span(right - half, under, right + half, parts.height), vec![right])
    };
    draft.rectangle(parts.layer(), beam);
    if !parts.is_needle() {
        let corners = beam.corners();
        draft.line(parts.layer(), corners[0], corners[2]);
        draft.line(parts.layer(), corners[1], corners[3]);
    }
    let pad_top = nm(PAD_DRAWN);
    let jack_top = pad_top + nm(JACK_DRAWN);
    for center in &centers {
        let half_pad = parts.pad / 2;
        draft.rectangle(Layer::New, span(center - half_pad, 0, center + half_pad, pad_top));
        let half = parts.post / 2;
        if under > jack_top {
            draft.rectangle(parts.layer(), span(center - half, jack_top, center + half, under));
            draft.rectangle(
                parts.layer(),
                span(center - half / 2, pad_top, center + half / 2, jack_top),
            );
        }
        draw_crib(draft, scheme, *center, pad_top, under);
    }
    let kind = if parts.is_needle() {
        "Needle beam"
    } else {
        "Carrying beam"
    };
    let mut labels = vec![
        (
            at(right, beam.middle().y.nanometers()),
            format!("{kind} {}", size_words(&scheme.beams)),
        ),
        (
            at(right, pad_top / 2),
            format!("Square pad {}", size_words(&scheme.pads)),
        ),
    ];
    if under > jack_top {
        labels.push((
            at(right, under - (under - jack_top) / 4),
            format!("Post {}", size_words(&scheme.posts)),
        ));
        labels.push((
            at(right, pad_top.midpoint(jack_top)),
            format!("Jack {}; its size is not drawn", size_words(&scheme.jacks)),
        ));
        labels.push((
            at(
                right - parts.post / 2 - nm(Length::inches(1)),
                pad_top.midpoint(under),
            ),
            format!("Dashed, beside the post: crib {}", size_words(&scheme.cribs)),
        ));
    } else {
        labels.push((
            at(right, pad_top),
            "No room here for a post on a jack; an engineer says what takes its place".to_owned(),
        ));
    }
    labels
}

/// A crib behind the post: its layers, from the pad to the beam.
fn draw_crib(draft: &mut Drafting, scheme: &Scheme, center: Nm, from: Nm, to: Nm) {
    let Some([side, piece]) = shown(&scheme.cribs).and_then(|crib| crib.measures) else {
        return;
    };
    let (side, half) = (side.nanometers().max(1), piece.nanometers() / 2);
    if to <= from {
        return;
    }
    draft.rectangle(Layer::Hidden, span(center - half, from, center + half, to));
    let mut level = from + side;
    while level < to {
        draft.line(Layer::Hidden, at(center - half, level), at(center + half, level));
        level += side;
    }
}

/// Distances along the ground and heights.
fn dimension(draft: &mut Drafting, parts: &Parts<'_>) {
    let drawn = draft.reach(0).unwrap_or_default();
    let gap = draft.paper(300);
    let bottom = drawn.low.y.nanometers() - gap;
    let mut across = vec![-parts.thickness, 0, parts.offset];
    if parts.is_needle() {
        across.insert(0, -parts.thickness - parts.offset);
    }
    let reached = draft.level_string(&across, bottom, -1);
    let half = parts.pad / 2;
    draft.level_string(
        &[parts.offset - half, parts.offset + half],
        reached - draft.paper(120),
        -1,
    );
    if parts.scheme.height.is_some() {
        let line = drawn.low.x.nanometers() - gap;
        draft.upright_string(&[0, parts.height - parts.beam[1], parts.height], line);
        draft.upright_string(&[0, parts.height], line - draft.paper(800));
    }
}
