//! A house whose record makes sense.

mod surveys;

use std::fmt;
use std::ops::{Deref, RangeInclusive};

pub use surveys::{CLOSEST_READINGS, MOST_READINGS};

use serde::Serialize;

use super::building::YEARS;
use super::{Anchor, CrippleStretch, FoundationStretch, House, Panel, Span, WallLine};
use crate::measure::{Area, Length, Pressure};
use crate::observation::{Observable, Observed};

/// A wall line longer than this is a slip of the pen.
pub const LONGEST_WALL_LINE: Length = Length::feet(1000);

/// So is any member, height or spacing under a house that is longer than this.
const LONGEST_PART: Length = Length::feet(100);

/// And any anchor or sheathing thicker than this: feet written for inches.
const THICKEST_STEEL_OR_SHEET: Length = Length::feet(1);

/// The least that is more than nothing.
const A_LITTLE: Length = Length::from_nanometers(1);

/// A house that can be checked: its wall lines have names of their own, everything along a wall line lies
/// within it, and nothing that takes up room overlaps its like.
///
/// ```
/// use retrofit_core::house::{AsBuilt, House, WallLine};
/// let twice = WallLine { name: "north".into(), ..WallLine::default() };
/// let house = House { wall_lines: vec![twice.clone(), twice], ..House::default() };
/// let problems = AsBuilt::new(house).unwrap_err();
/// assert_eq!(problems[0].path, "wall_lines[1].name");
/// ```
///
/// The default is a house of which nothing is recorded yet, to be [refilled](AsBuilt::refill).
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(transparent)]
pub struct AsBuilt(House);

impl AsBuilt {
    /// Takes a house as recorded; the error lists everything in it that cannot be.
    pub fn new(house: House) -> Result<Self, Vec<Problem>> {
        let problems = problems_of(&house);
        if problems.is_empty() {
            Ok(Self(house))
        } else {
            Err(problems)
        }
    }

    /// Fills the same value anew, keeping its memory: the way many houses are checked one after another.
    /// When the record does not make sense the value holds no wall lines afterwards.
    pub fn refill(&mut self, fill: impl FnOnce(&mut House)) -> Result<(), Vec<Problem>> {
        fill(&mut self.0);
        let problems = problems_of(&self.0);
        if problems.is_empty() {
            return Ok(());
        }
        self.0.wall_lines.clear();
        Err(problems)
    }

    /// The record, for whoever knows that what is changed in it makes sense.
    pub(crate) fn inner_mut(&mut self) -> &mut House {
        &mut self.0
    }

    /// The record.
    pub fn into_inner(self) -> House {
        self.0
    }
}

impl Deref for AsBuilt {
    type Target = House;
    fn deref(&self) -> &House {
        &self.0
    }
}

/// Something in a record that cannot be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Where: a path into the house file.
    pub path: String,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}: found {}; expected {}",
            self.path, self.found, self.expected
        )
    }
}

impl std::error::Error for Problem {}

fn problems_of(house: &House) -> Vec<Problem> {
    let mut problems = Problems::default();
    if house.wall_lines.is_empty() {
        problems.add(|| "wall_lines".into(), "no wall line", "at least one");
    }
    for (index, wall) in house.wall_lines.iter().enumerate() {
        problems.line = index;
        if wall.name.trim().is_empty() {
            problems.add_at("name", "an empty name", "a name such as \"north\"");
        }
        if house
            .wall_lines
            .iter()
            .take(index)
            .any(|other| other.name == wall.name)
        {
            problems.add_at(
                "name",
                &format!("{:?} a second time", shortened(&wall.name)),
                "a name of its own",
            );
        }
        check_wall_line(wall, &mut problems);
    }
    let listed = house.listed_vent_area();
    if let Some(most) = house.vent_area.bounds().1.filter(|most| **most < listed) {
        problems.add(
            || "vent_area".into(),
            &most.to_string(),
            &format!("at least {listed}, which is what the vents along the wall lines add up to"),
        );
    }
    problems.positive(&house.inspection.clear_height, || {
        "inspection.clear_height".into()
    });
    problems.positive(&house.inspection.access_width, || {
        "inspection.access_width".into()
    });
    problems.positive(&house.inspection.access_height, || {
        "inspection.access_height".into()
    });
    problems.not_negative(&house.building.veneer_height, || "building.veneer_height".into());
    problems.positive(&house.floor.joist_depth, || "floor.joist_depth".into());
    problems.positive(&house.floor.joist_thickness, || "floor.joist_thickness".into());
    problems.positive(&house.floor.joist_spacing, || "floor.joist_spacing".into());
    problems.positive(&house.floor.joist_span, || "floor.joist_span".into());
    check_building(house, &mut problems);
    for (item, post) in house.posts.listed().iter().enumerate() {
        if post.count == Some(0) {
            problems.add(
                || format!("posts[{item}].count"),
                "0",
                "a number from 1 up, or an empty list where there are no posts",
            );
        }
        problems.not_negative(&post.lean, || format!("posts[{item}].lean"));
        problems.positive(&post.width, || format!("posts[{item}].width"));
        problems.positive(&post.height, || format!("posts[{item}].height"));
        problems.positive(&post.pad_width, || format!("posts[{item}].pad_width"));
        problems.area(&post.carried_area, true, || format!("posts[{item}].carried_area"));
        problems.positive(&post.girder_span, || format!("posts[{item}].girder_span"));
    }
    for (item, distress) in house.distress.iter().enumerate() {
        problems.not_negative(&distress.size, || format!("distress[{item}].size"));
    }
    check_photos(house, &mut problems);
    surveys::check_surveys(house, &mut problems);
    problems.list
}

fn check_photos(house: &House, problems: &mut Problems) {
    for (item, photo) in house.photos.iter().enumerate() {
        if photo.file.trim().is_empty() {
            problems.add(
                || format!("photos[{item}].file"),
                "an empty name",
                "a file below the folder of the house file, such as \"photos/north.jpg\"",
            );
        }
        match &photo.wall_line {
            Some(name) if !house.wall_lines.iter().any(|wall| wall.name == *name) => problems.add(
                || format!("photos[{item}].wall_line"),
                &format!("{:?}", shortened(name)),
                "the name of a wall line of this house",
            ),
            None if photo.station.is_some() => problems.add(
                || format!("photos[{item}].station"),
                "a station and no wall line",
                "the name of the wall line beside it",
            ),
            _ => {}
        }
    }
}

fn check_building(house: &House, problems: &mut Problems) {
    let building = &house.building;
    problems.in_order(&building.stories, || "building.stories".into());
    problems.in_order(&building.units, || "building.units".into());
    problems.in_order(&building.year_built, || "building.year_built".into());
    problems.in_order(&house.site.slope, || "site.slope".into());
    problems.in_order(&house.site.s_ds, || "site.s_ds".into());
    problems.in_order(&house.site.s_d1, || "site.s_d1".into());
    problems.in_order(&house.site.s_s, || "site.s_s".into());
    problems.in_order(&house.site.s_1, || "site.s_1".into());
    problems.in_order(&building.masonry_chimneys, || "building.masonry_chimneys".into());
    problems.positive(&building.story_height, || "building.story_height".into());
    problems.area(&building.porch_area, false, || "building.porch_area".into());
    if building.units.bounds().1 == Some(&0) {
        problems.add(
            || "building.units".into(),
            "0",
            "a number from 1 up, or leave it out when it is not known",
        );
    }
    let (least, most) = building.year_built.bounds();
    let beyond = most
        .filter(|year| *year < YEARS.start())
        .or(least.filter(|year| *year > YEARS.end()));
    if let Some(year) = beyond {
        let expected = format!(
            "a year from {} to {}, or leave it out when it is not known",
            YEARS.start(),
            YEARS.end()
        );
        problems.add(|| "building.year_built".into(), &year.to_string(), &expected);
    }
    if !(building.outline.is_empty() || building.outline.len() >= 3) {
        problems.add(
            || "building.outline".into(),
            &format!("an outline of {} corners", building.outline.len()),
            "at least three corners",
        );
    }
    problems.area(&building.floor_area, true, || "building.floor_area".into());
    problems.area(&house.crawl_space_area, true, || "crawl_space_area".into());
    problems.area(&house.vent_area, false, || "vent_area".into());
}

fn check_wall_line(wall: &WallLine, problems: &mut Problems) {
    let line = problems.line;
    problems.check_length(&wall.length, A_LITTLE..=LONGEST_WALL_LINE, || {
        format!("wall_lines[{line}].length")
    });
    // The greatest length it can have: a station beyond that is beyond the wall whatever the length is.
    let end = wall.length.bounds().1.copied();

    problems.check_spans("foundation", &wall.foundation, end, |stretch| {
        Some(stretch.span(end))
    });
    problems.check_spans("sill", &wall.sill, end, |piece| Some(piece.span(end)));
    problems.check_spans("cripple_wall", &wall.cripple_wall, end, |stretch| {
        Some(stretch.span(end))
    });
    problems.check_spans("panels", &wall.panels, end, |panel| {
        panel.stations().map(|(from, to)| Span::new(from, to))
    });
    for (item, connection) in wall.connections.listed().iter().enumerate() {
        problems.check_span("connections", item, connection.span(end), end);
    }
    if let Some(openings) = wall.openings.value() {
        for (item, opening) in openings.iter().enumerate() {
            problems.check_span("openings", item, Span::new(opening.from, opening.to), end);
            problems.positive_in(&opening.top, "openings", item, "top");
            problems.area(&opening.net_area, false, || {
                format!("wall_lines[{line}].openings[{item}].net_area")
            });
        }
    }
    for (item, unseen) in wall.unseen.iter().enumerate() {
        problems.check_span("unseen", item, unseen.span(end), end);
        if unseen.why.trim().is_empty() {
            problems.add_in(
                "unseen",
                item,
                "why",
                "no reason",
                "why the stretch could not be seen",
            );
        }
    }
    if let Some(anchors) = wall.anchors.value() {
        for (item, anchor) in anchors.iter().enumerate() {
            check_anchor(anchor, item, end, problems);
        }
    }
    if let Some(panels) = wall.panels.value() {
        for (item, panel) in panels.iter().enumerate() {
            check_panel(panel, item, end, problems);
            if panel.stations().is_none() && panels.len() > 1 {
                problems.add_in(
                    "panels",
                    item,
                    "from",
                    "a summary among other panels",
                    "one summary of all panels of the wall line, or panels one by one",
                );
            }
        }
    }
    for (item, stretch) in wall.foundation.listed().iter().enumerate() {
        check_foundation_stretch(stretch, item, problems);
    }
    for (item, piece) in wall.sill.listed().iter().enumerate() {
        problems.positive_in(&piece.thickness, "sill", item, "thickness");
        problems.positive_in(&piece.width, "sill", item, "width");
    }
    for (item, stretch) in wall.cripple_wall.listed().iter().enumerate() {
        check_cripple_stretch(stretch, item, problems);
    }
    let line = problems.line;
    for (item, connection) in wall.connections.listed().iter().enumerate() {
        problems.positive_in(&connection.spacing, "connections", item, "spacing");
        problems.in_order(&connection.capacity, || {
            format!("wall_lines[{line}].connections[{item}].capacity")
        });
    }
}

fn check_foundation_stretch(stretch: &FoundationStretch, item: usize, problems: &mut Problems) {
    problems.not_negative_in(&stretch.stem_height, "foundation", item, "stem_height");
    problems.positive_in(&stretch.stem_thickness, "foundation", item, "stem_thickness");
    problems.positive_in(&stretch.footing_width, "foundation", item, "footing_width");
    problems.positive_in(
        &stretch.footing_thickness,
        "foundation",
        item,
        "footing_thickness",
    );
    problems.not_negative_in(&stretch.footing_depth, "foundation", item, "footing_depth");
    problems.up_or_down_in(
        &stretch.sill_above_ground,
        "foundation",
        item,
        "sill_above_ground",
    );
    problems.up_or_down_in(&stretch.settled, "foundation", item, "settled");
    let line = problems.line;
    problems.in_order(&stretch.concrete_strength, || {
        format!("wall_lines[{line}].foundation[{item}].concrete_strength")
    });
    if let Some(strength) = stretch.concrete_strength.bounds().0
        && *strength == Pressure::default()
    {
        problems.add_in(
            "foundation",
            item,
            "concrete_strength",
            "0 psi",
            "more than nothing",
        );
    }
}

fn check_cripple_stretch(stretch: &CrippleStretch, item: usize, problems: &mut Problems) {
    problems.positive_in(&stretch.height, "cripple_wall", item, "height");
    problems.positive_in(&stretch.shortest_stud, "cripple_wall", item, "shortest_stud");
    problems.positive_in(&stretch.tallest_stud, "cripple_wall", item, "tallest_stud");
    problems.positive_in(&stretch.stud_depth, "cripple_wall", item, "stud_depth");
    problems.positive_in(&stretch.stud_thickness, "cripple_wall", item, "stud_thickness");
    problems.positive_in(&stretch.stud_spacing, "cripple_wall", item, "stud_spacing");
    if let (Some(shortest), Some(tallest)) =
        (stretch.shortest_stud.bounds().0, stretch.tallest_stud.bounds().1)
        && shortest > tallest
    {
        problems.add_in(
            "cripple_wall",
            item,
            "shortest_stud",
            &shown(&stretch.shortest_stud),
            "no more than tallest_stud",
        );
    }
    for (field, stud) in [
        ("tallest_stud", &stretch.tallest_stud),
        ("shortest_stud", &stretch.shortest_stud),
    ] {
        if let (Some(stud_least), Some(height)) = (stud.bounds().0, stretch.height.bounds().1)
            && stud_least > height
        {
            problems.add_in("cripple_wall", item, field, &shown(stud), "no more than height");
        }
    }
}

fn check_anchor(anchor: &Anchor, item: usize, end: Option<Length>, problems: &mut Problems) {
    let is_run = anchor.first.is_some() || anchor.last.is_some() || !anchor.spacing.is_not_recorded();
    if anchor.at.is_some() && is_run {
        problems.add_in(
            "anchors",
            item,
            "at",
            "both at and a run",
            "either at, or spacing with first and last",
        );
    }
    if anchor.at.is_none() && !is_run {
        problems.add_in(
            "anchors",
            item,
            "at",
            "no station and no spacing",
            "at for one anchor, or spacing for a run",
        );
    }
    for (field, station) in [("at", anchor.at), ("first", anchor.first), ("last", anchor.last)] {
        let Some(station) = station else { continue };
        if station < Length::ZERO || end.is_some_and(|end| station > end) {
            let expected = end.map_or_else(
                || "a station from 0 up".to_owned(),
                |end| format!("a station from 0\" to {end}, the end of the wall line"),
            );
            problems.add_in("anchors", item, field, &station.to_string(), &expected);
        }
    }
    if let (Some(first), Some(last)) = (anchor.first, anchor.last)
        && first > last
    {
        problems.add_in(
            "anchors",
            item,
            "first",
            &first.to_string(),
            "a station before last",
        );
    }
    problems.positive_in(&anchor.spacing, "anchors", item, "spacing");
    problems.thin_in(&anchor.diameter, "anchors", item, "diameter");
    problems.not_negative_in(&anchor.end_distance, "anchors", item, "end_distance");
    problems.not_negative_in(&anchor.embedment, "anchors", item, "embedment");
    problems.not_negative_in(&anchor.edge_distance, "anchors", item, "edge_distance");
    let line = problems.line;
    problems.in_order(&anchor.capacity, || {
        format!("wall_lines[{line}].anchors[{item}].capacity")
    });
}

fn check_panel(panel: &Panel, item: usize, end: Option<Length>, problems: &mut Problems) {
    let is_summary = [&panel.total_length, &panel.shortest, &panel.largest_gap]
        .into_iter()
        .any(|length| !length.is_not_recorded())
        || !panel.at_each_end.is_not_recorded();
    match (panel.from.is_some(), panel.to.is_some(), is_summary) {
        (true, true, false) | (false, false, true) => {}
        _ => problems.add_in(
            "panels",
            item,
            "from",
            "neither one panel nor a summary",
            "from and to for one panel, or total_length and at_each_end for a summary",
        ),
    }
    for (field, length) in [
        ("total_length", &panel.total_length),
        ("shortest", &panel.shortest),
        ("largest_gap", &panel.largest_gap),
    ] {
        if let (Some(least), Some(end)) = (length.bounds().0, end)
            && *least > end
        {
            let expected = format!("at most {end}, the length of the wall line");
            problems.add_in("panels", item, field, &least.to_string(), &expected);
        }
        let line = problems.line;
        problems.check_length(length, Length::ZERO..=LONGEST_WALL_LINE, || {
            format!("wall_lines[{line}].panels[{item}].{field}")
        });
    }
    if let (Some(shortest), Some(total)) = (panel.shortest.bounds().0, panel.total_length.bounds().1)
        && shortest > total
    {
        problems.add_in(
            "panels",
            item,
            "shortest",
            &shown(&panel.shortest),
            "no more than total_length",
        );
    }
    problems.thin_in(&panel.thickness, "panels", item, "thickness");
    problems.positive_in(&panel.edge_nailing, "panels", item, "edge_nailing");
    problems.positive_in(&panel.field_nailing, "panels", item, "field_nailing");
    problems.not_negative_in(&panel.vent_holes, "panels", item, "vent_holes");
    let line = problems.line;
    problems.in_order(&panel.hold_down, || {
        format!("wall_lines[{line}].panels[{item}].hold_down")
    });
}

fn shown(length: &Observed<Length>) -> String {
    match length.bounds() {
        (Some(least), Some(most)) if least == most => least.to_string(),
        (Some(least), Some(most)) => format!("{least} to {most}"),
        (Some(least), None) => format!("at least {least}"),
        (None, Some(most)) => format!("at most {most}"),
        (None, None) => "unknown".to_owned(),
    }
}

fn shortened(text: &str) -> String {
    text.chars().take(60).collect()
}

/// Collects problems. Paths are put together only when there is one, so that a good record costs no memory.
#[derive(Default)]
struct Problems {
    list: Vec<Problem>,
    /// The wall line being looked at.
    line: usize,
}

impl Problems {
    fn add(&mut self, path: impl FnOnce() -> String, found: &str, expected: &str) {
        self.list.push(Problem {
            path: path(),
            found: found.to_owned(),
            expected: expected.to_owned(),
        });
    }

    fn add_at(&mut self, field: &str, found: &str, expected: &str) {
        let line = self.line;
        self.add(|| format!("wall_lines[{line}].{field}"), found, expected);
    }

    fn add_in(&mut self, list: &str, item: usize, field: &str, found: &str, expected: &str) {
        let line = self.line;
        self.add(
            || format!("wall_lines[{line}].{list}[{item}].{field}"),
            found,
            expected,
        );
    }

    fn in_order<T: Observable + fmt::Display>(&mut self, value: &Observed<T>, path: impl Fn() -> String) {
        if let (Some(least), Some(most)) = value.bounds()
            && !value.is_in_order()
        {
            let found = format!("at least {least} and at most {most}");
            self.add(path, &found, "bounds in order");
        }
    }

    fn check_length(
        &mut self,
        length: &Observed<Length>,
        range: RangeInclusive<Length>,
        path: impl Fn() -> String,
    ) {
        self.in_order(length, &path);
        let (low, high) = length.bounds();
        if high.is_some_and(|high| high < range.start()) || low.is_some_and(|low| *low < Length::ZERO) {
            let expected = if *range.start() > Length::ZERO {
                "a length greater than zero"
            } else {
                "a length of zero or more"
            };
            self.add(&path, &shown(length), expected);
        }
        if low.is_some_and(|low| low > range.end()) {
            self.add(path, &shown(length), &format!("at most {}", range.end()));
        }
    }

    fn area(&mut self, area: &Observed<Area>, is_positive: bool, path: impl Fn() -> String) {
        self.in_order(area, &path);
        let (low, high) = area.bounds();
        let too_small = |area: &&Area| **area < Area::ZERO || (is_positive && **area == Area::ZERO);
        let negative = |area: &&Area| **area < Area::ZERO;
        if let Some(found) = high.filter(too_small).or(low.filter(negative)) {
            let expected = if is_positive {
                "an area greater than zero"
            } else {
                "an area of zero or more"
            };
            self.add(path, &found.to_string(), expected);
        }
    }

    fn positive(&mut self, length: &Observed<Length>, path: impl Fn() -> String) {
        self.check_length(length, A_LITTLE..=LONGEST_PART, path);
    }

    fn not_negative(&mut self, length: &Observed<Length>, path: impl Fn() -> String) {
        self.check_length(length, Length::ZERO..=LONGEST_PART, path);
    }

    fn thin_in(&mut self, length: &Observed<Length>, list: &str, item: usize, field: &str) {
        let line = self.line;
        self.check_length(length, A_LITTLE..=THICKEST_STEEL_OR_SHEET, || {
            format!("wall_lines[{line}].{list}[{item}].{field}")
        });
    }

    fn positive_in(&mut self, length: &Observed<Length>, list: &str, item: usize, field: &str) {
        let line = self.line;
        self.positive(length, || format!("wall_lines[{line}].{list}[{item}].{field}"));
    }

    fn not_negative_in(&mut self, length: &Observed<Length>, list: &str, item: usize, field: &str) {
        let line = self.line;
        self.not_negative(length, || format!("wall_lines[{line}].{list}[{item}].{field}"));
    }

    /// A height that may be below where it counts from.
    fn up_or_down_in(&mut self, length: &Observed<Length>, list: &str, item: usize, field: &str) {
        let line = self.line;
        let path = || format!("wall_lines[{line}].{list}[{item}].{field}");
        self.in_order(length, path);
        let (low, high) = length.bounds();
        if low.is_some_and(|low| *low > LONGEST_PART)
            || high.is_some_and(|high| high.saturating_add(LONGEST_PART) < Length::ZERO)
        {
            let expected = format!("at most {LONGEST_PART} up or down");
            self.add(path, &shown(length), &expected);
        }
    }

    /// Stretches lie within the wall line, run forward, and do not overlap.
    fn check_spans<T>(
        &mut self,
        list: &str,
        items: &Observed<Vec<T>>,
        end: Option<Length>,
        span_of: impl Fn(&T) -> Option<Span>,
    ) {
        let items = items.listed();
        for (item, span) in items
            .iter()
            .enumerate()
            .filter_map(|(item, it)| Some((item, span_of(it)?)))
        {
            self.check_span(list, item, span, end);
            let earlier = items
                .iter()
                .take(item)
                .filter_map(&span_of)
                .position(|other| other.overlaps(span));
            if let Some(earlier) = earlier {
                let found = format!("{}, which overlaps {list}[{earlier}]", spoken(span));
                self.add_in(list, item, "from", &found, "stretches that do not overlap");
            }
        }
    }

    fn check_span(&mut self, list: &str, item: usize, span: Span, end: Option<Length>) {
        if span.from < Length::ZERO || end.is_some_and(|end| span.from > end) {
            let expected = end.map_or_else(
                || "0\" or more".to_owned(),
                |end| format!("a station from 0\" to {end}"),
            );
            self.add_in(list, item, "from", &span.from.to_string(), &expected);
        }
        let Some(to) = span.to else { return };
        if to <= span.from {
            self.add_in(
                list,
                item,
                "to",
                &spoken(span),
                "a stretch that ends beyond its beginning",
            );
        }
        if let Some(end) = end.filter(|end| to > *end) {
            self.add_in(
                list,
                item,
                "to",
                &to.to_string(),
                &format!("at most {end}, the end of the wall line"),
            );
        }
    }
}

fn spoken(span: Span) -> String {
    match span.to {
        Some(to) => format!("{} to {to}", span.from),
        None => format!("{} to the end", span.from),
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::observation::Basis;

    fn problems(part: &Value, wall_part: &Value) -> Vec<String> {
        let mut house = json!({
            "format": "house-1", "name": "trial", "wall_lines": [{"name": "north", "length": "20 ft"}],
        });
        let with = |place: &mut Value, part: &Value| {
            place
                .as_object_mut()
                .unwrap()
                .extend(part.as_object().unwrap().clone());
        };
        with(&mut house, part);
        with(&mut house["wall_lines"][0], wall_part);
        match AsBuilt::new(serde_json::from_value(house).unwrap()) {
            Ok(_) => Vec::new(),
            Err(problems) => problems.into_iter().map(|problem| problem.path).collect(),
        }
    }

    #[rstest]
    #[case::no_units(json!({"building": {"units": 0}}), "building.units")]
    #[case::year_of_two_digits(json!({"building": {"year_built": 26}}), "building.year_built")]
    #[case::year_to_come(json!({"building": {"year_built": 19266}}), "building.year_built")]
    #[case::outline_of_a_line(
        json!({"building": {"outline": [{"x": "0 ft", "y": "0 ft"}, {"x": "9 ft", "y": "0 ft"}]}}),
        "building.outline"
    )]
    #[case::no_floor(json!({"building": {"floor_area": "0 sq ft"}}), "building.floor_area")]
    #[case::negative_crawl_space(json!({"crawl_space_area": "-1 sq ft"}), "crawl_space_area")]
    #[case::hatch_without_width(json!({"inspection": {"access_width": "0 in"}}), "inspection.access_width")]
    #[case::hatch_as_high_as_a_tower(json!({"inspection": {"access_height": "101 ft"}}), "inspection.access_height")]
    #[case::girder_of_no_span(json!({"posts": [{"girder_span": "0 ft"}]}), "posts[0].girder_span")]
    #[case::pad_of_no_width(json!({"posts": [{"pad_width": "0 in"}]}), "posts[0].pad_width")]
    #[case::story_of_no_height(json!({"building": {"story_height": "0 ft"}}), "building.story_height")]
    #[case::negative_porch(json!({"building": {"porch_area": "-1 sq ft"}}), "building.porch_area")]
    #[case::lean_the_wrong_way(json!({"posts": [{"lean": "-1 in"}]}), "posts[0].lean")]
    #[case::no_posts(json!({"posts": [{"count": 0}]}), "posts[0].count")]
    #[case::photo_without_a_file(json!({"photos": [{"file": " "}]}), "photos[0].file")]
    #[case::photo_of_no_wall_line(json!({"photos": [{"file": "a.png", "wall_line": "attic"}]}), "photos[0].wall_line")]
    #[case::photo_at_a_station_of_nothing(json!({"photos": [{"file": "a.png", "station": "2'-0\""}]}), "photos[0].station")]
    #[case::negative_crack(json!({"distress": [{"kind": "foundation_crack", "size": "-1 in"}]}), "distress[0].size")]
    #[case::joist_as_long_as_a_street(json!({"floor": {"joist_span": "101 ft"}}), "floor.joist_span")]
    fn a_house_that_cannot_be_is_refused(#[case] part: Value, #[case] path: &str) {
        assert_eq!(problems(&part, &json!({})), [path]);
    }

    #[rstest]
    #[case::shortest_stud_over_its_wall(
        json!({"cripple_wall": [{"height": "2 ft", "shortest_stud": "25 in"}]}), "cripple_wall[0].shortest_stud"
    )]
    #[case::tallest_stud_over_its_wall(
        json!({"cripple_wall": [{"height": "2 ft", "tallest_stud": "25 in"}]}), "cripple_wall[0].tallest_stud"
    )]
    #[case::wall_as_tall_as_a_tower(json!({"cripple_wall": [{"height": "400 ft"}]}), "cripple_wall[0].height")]
    #[case::diameter_in_feet(json!({"anchors": [{"at": "1 ft", "diameter": "5 ft"}]}), "anchors[0].diameter")]
    #[case::negative_vent(
        json!({"openings": [{"from": "1 ft", "to": "2 ft", "kind": "vent", "net_area": "-1 sq in"}]}),
        "openings[0].net_area"
    )]
    #[case::concrete_without_strength(
        json!({"foundation": [{"concrete_strength": "0 psi"}]}), "foundation[0].concrete_strength"
    )]
    #[case::sill_as_high_as_a_tower(
        json!({"foundation": [{"sill_above_ground": "101 ft"}]}), "foundation[0].sill_above_ground"
    )]
    #[case::settled_as_deep_as_a_well(json!({"foundation": [{"settled": "-101 ft"}]}), "foundation[0].settled")]
    #[case::unseen_without_a_reason(json!({"unseen": [{"why": " "}]}), "unseen[0].why")]
    #[case::panel_longer_than_all_panels(
        json!({"panels": [{"total_length": "8 ft", "shortest": "97 in"}]}), "panels[0].shortest"
    )]
    #[case::gap_longer_than_the_wall(
        json!({"panels": [{"total_length": "8 ft", "largest_gap": "241 in"}]}), "panels[0].largest_gap"
    )]
    #[case::summary_among_panels(
        json!({"panels": [{"from": "0 ft", "to": "4 ft"}, {"total_length": "8 ft"}]}), "panels[1].from"
    )]
    fn a_wall_line_that_cannot_be_is_refused(#[case] wall_part: Value, #[case] path: &str) {
        assert_eq!(
            problems(&json!({}), &wall_part),
            [format!("wall_lines[0].{path}")]
        );
    }

    #[test]
    fn the_limits_themselves_can_be() {
        let part = json!({"building": {"units": 1, "year_built": 1600}, "floor": {"joist_span": "100 ft"},
            "vent_area": "0 sq in", "posts": [{"count": 1}]});
        let wall_part = json!({"anchors": [{"at": "20 ft", "diameter": "1 ft"}],
            "panels": [{"total_length": "8 ft", "shortest": "96 in", "largest_gap": "240 in"}]});
        assert_eq!(problems(&part, &wall_part), [""; 0]);
    }

    #[test]
    fn bounds_out_of_order_are_refused_whoever_made_the_house() {
        let mut house: House = serde_json::from_value(json!({
            "format": "house-1", "name": "trial", "wall_lines": [{"name": "north"}],
        }))
        .unwrap();
        house.building.year_built = Observed::bounded(Some(1930), Some(1920), Basis::Reported);
        house.site.slope = Observed::bounded(
            Some("2H:1V".parse().unwrap()),
            Some("3H:1V".parse().unwrap()),
            Basis::Seen,
        );
        let problems = AsBuilt::new(house).unwrap_err();
        let paths: Vec<&str> = problems.iter().map(|problem| problem.path.as_str()).collect();
        assert_eq!(paths, ["building.year_built", "site.slope"]);
    }
}
