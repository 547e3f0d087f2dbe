//! The foundation plan: wall lines in their places, north up, with what is there and what is added.

use retrofit_core::check::LookAt;
use retrofit_core::choice::Choice;
use retrofit_core::house::{JoistDirection, WallLine};
use retrofit_core::measure::Length;
use retrofit_core::provisions::Provisions;
use retrofit_core::remedy::{LineRemedy, Remedy};

use super::drafting::{Drafting, MARGIN, Nm, PAPER, Title, at, lettered, span};
use super::existing;
use super::sheet::{Anchor, Extent, Item, Layer, Point, Scale, Shape, Sheet};
use super::symbol::{Kind, Symbol, View};
use super::words;

/// The most room on paper for the wall lines, in thousandths of an inch.
const ROOM: (i64, i64) = (9_100, 5_300);
/// The distance on paper between wall lines drawn one below the other.
const STRIP: i64 = 900;
/// With more wall lines than this there is no room for words at each, and the schedule tells them.
const MOST_LABELED: usize = 120;
/// With more corners than this a string of dimensions shows the whole only.
const MOST_DIMENSIONS: usize = 16;

/// A wall line in its place.
struct Placed<'a> {
    wall: &'a WallLine,
    line: &'a LineRemedy,
    begin: Point,
    end: Point,
    /// Its length by the record; that of the plan where there is none.
    length: Nm,
    thickness: Nm,
    is_thickness_known: bool,
}

impl Placed<'_> {
    /// A station and a distance inward of the outer face: the inside is to the right of the way from left to
    /// right.
    fn place(&self, station: Nm, inward: Nm) -> Point {
        let (dx, dy) = (
            self.end.x.saturating_sub(self.begin.x).nanometers(),
            self.end.y.saturating_sub(self.begin.y).nanometers(),
        );
        let part = |whole: Nm| {
            let part = i128::from(whole) * i128::from(station) / i128::from(self.length.max(1));
            Length::from_nanometers(i64::try_from(part).unwrap_or(0))
        };
        let on_line = self.begin.moved(part(dx), part(dy));
        let (right, up) = sideways(dx, dy, inward);
        on_line.moved(right, up)
    }

    fn quad(&self, from: Nm, to: Nm, outside: Nm, inside: Nm) -> [Point; 4] {
        [
            self.place(from, outside),
            self.place(to, outside),
            self.place(to, inside),
            self.place(from, inside),
        ]
    }
}

/// A distance to the right of a direction: exact where the direction is level or upright.
pub(super) fn sideways(dx: Nm, dy: Nm, distance: Nm) -> (Length, Length) {
    if dx == 0 || dy == 0 {
        let step = |part: Nm| Length::from_nanometers(part.signum() * distance);
        return (step(dy), step(-dx));
    }
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        reason = "a slant is drawn, not measured"
    )]
    let step = |part: Nm| {
        let length = (dx as f64).hypot(dy as f64).max(1.0);
        Length::from_nanometers((part as f64 / length * distance as f64).round() as i64)
    };
    (step(dy), step(-dx))
}

/// The foundation plan of a house with the added work of a remedy.
///
/// ```
/// # use retrofit_core::house::{AsBuilt, House};
/// # use retrofit_core::prices::UnitPrices;
/// # use retrofit_core::provisions::Library;
/// # use retrofit_core::remedy::design;
/// use retrofit_report::drawing::{self, Kind};
///
/// # let house: House = serde_json::from_str(r#"{
/// #     "format": "house-1", "name": "Quince Lantern Way",
/// #     "building": {"stories": 1, "exterior": "wood", "roof": "light"},
/// #     "wall_lines": [{
/// #         "name": "north", "length": {"measured": "52'-0\""},
/// #         "foundation": [{"kind": "concrete", "condition": "sound"}],
/// #         "anchors": [], "panels": [],
/// #         "cripple_wall": [{"height": {"measured": "2'-0\""}, "stud_spacing": "16 in"}]
/// #     }]
/// # }"#)?;
/// # let house = AsBuilt::new(house).expect("the record makes sense");
/// # let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
/// let remedy = design(&house, &provisions, UnitPrices::placeholder());
/// let plan = drawing::plan(&remedy, &provisions);
/// let anchors = plan.symbols().filter(|symbol| symbol.kind == Kind::NewAnchor).count();
/// assert_eq!(anchors, 10 + 1, "ten on the wall line and one in the key");
/// # Ok::<(), serde_json::Error>(())
/// ```
pub fn plan(remedy: &Remedy, provisions: &Provisions) -> Sheet {
    let house = &remedy.taken_as;
    let ends: Vec<Point> = house
        .wall_lines
        .iter()
        .filter_map(|wall| wall.plan)
        .flatten()
        .map(|corner| Point::new(corner.x, corner.y))
        .collect();
    let around = ends
        .iter()
        .map(|end| Extent::between(*end, *end))
        .reduce(Extent::with)
        .unwrap_or_default();
    let unplaced = house.wall_lines.iter().filter(|wall| !is_placed(wall));
    let longest = unplaced
        .clone()
        .filter_map(|wall| wall.length.value())
        .max()
        .copied()
        .unwrap_or_default();
    let strips = i64::try_from(unplaced.count()).unwrap_or(i64::MAX);
    let room = |thousandths: i64| Length::from_nanometers(thousandths * 25_400);
    let strip_room = strips.saturating_mul(STRIP).min(ROOM.1 / 2);
    let scale = Scale::to_fit(
        &[
            (around.width().max(longest), room(ROOM.0)),
            (around.height(), room(ROOM.1 - strip_room)),
        ],
        Scale::HALF_INCH,
    );
    let mut draft = Drafting::new(scale);
    let placed = place(remedy, &draft, around);
    for wall in &placed {
        draw_wall(&mut draft, remedy, wall);
    }
    posts(&mut draft, remedy);
    if placed.len() <= MOST_LABELED {
        for wall in &placed {
            label(&mut draft, wall);
        }
    }
    dimensions(&mut draft, &ends);
    compose(draft, remedy, provisions)
}

/// Whether a wall line has a place in plan.
fn is_placed(wall: &WallLine) -> bool {
    wall.plan.is_some_and(|[from, to]| from != to)
}

/// Every wall line in its place; those without one, one below the other.
fn place<'a>(remedy: &'a Remedy, draft: &Drafting, around: Extent) -> Vec<Placed<'a>> {
    let mut below = around.low.y.nanometers();
    let mut placed = Vec::new();
    for line in &remedy.lines {
        let Some(wall) = remedy.taken_as.wall_lines.get(line.wall_line) else {
            continue;
        };
        let recorded = wall.length.value().map(|length| length.nanometers());
        let (begin, end) = if let Some([from, to]) = wall.plan.filter(|_| is_placed(wall)) {
            (Point::new(from.x, from.y), Point::new(to.x, to.y))
        } else {
            let Some(length) = recorded else { continue };
            below -= draft.paper(STRIP);
            let left = around.low.x.nanometers();
            (at(left, below), at(left + length, below))
        };
        let length = recorded.unwrap_or_else(|| {
            let extent = Extent::between(begin, end);
            extent.width().max(extent.height()).nanometers()
        });
        let first = wall.foundation.value().and_then(|stretches| stretches.first());
        let (thickness, is_thickness_known) = first
            .map_or((existing::STEM_THICKNESS.nanometers(), false), |stretch| {
                existing::or_usual(&stretch.stem_thickness, existing::STEM_THICKNESS)
            });
        placed.push(Placed {
            wall,
            line,
            begin,
            end,
            length,
            thickness,
            is_thickness_known,
        });
    }
    placed
}

fn draw_wall(draft: &mut Drafting, remedy: &Remedy, placed: &Placed<'_>) {
    let Placed {
        length, thickness, ..
    } = *placed;
    let inner = if placed.is_thickness_known {
        Layer::Existing
    } else {
        Layer::Hidden
    };
    draft.line(Layer::Existing, placed.place(0, 0), placed.place(length, 0));
    draft.line(inner, placed.place(0, thickness), placed.place(length, thickness));
    for end in [0, length] {
        draft.line(inner, placed.place(end, 0), placed.place(end, thickness));
    }
    let mut symbols = openings(placed);
    symbols.extend(panels(draft, placed));
    symbols.extend(anchors(draft, placed));
    symbols.extend(joists(draft, remedy, placed));
    for (kind, corners) in symbols {
        let view = View::Plan;
        draft.add(Layer::Existing, Shape::Symbol(Symbol { kind, view, corners }));
    }
}

/// Vents, doors and pipes across the foundation, where they are and where vents go.
fn openings(placed: &Placed<'_>) -> Vec<(Kind, [Point; 4])> {
    let moved = placed
        .line
        .panels
        .work()
        .map(|work| work.moved_vents.as_slice())
        .unwrap_or_default();
    let across =
        |from: Length, to: Length| placed.quad(from.nanometers(), to.nanometers(), 0, placed.thickness);
    let mut symbols = Vec::new();
    for (place, opening) in (0..).zip(placed.wall.openings.listed().iter()) {
        let moved = moved.iter().find(|vent| vent.opening == place);
        let kind = Kind::of_opening(opening.kind, moved.is_some());
        symbols.push((kind, across(opening.from, opening.to)));
        if let Some((from, to)) = moved.and_then(|vent| vent.to) {
            symbols.push((Kind::NewVent, across(from, to)));
        }
    }
    symbols
}

/// Panels along the inside of the foundation.
fn panels(draft: &Drafting, placed: &Placed<'_>) -> Vec<(Kind, [Point; 4])> {
    let near = placed.thickness + draft.paper(35);
    let far = placed.thickness + draft.paper(105);
    let along = |from: Length, to: Length| placed.quad(from.nanometers(), to.nanometers(), near, far);
    let work = placed.line.panels.work();
    let mut symbols = Vec::new();
    for (place, record) in (0..).zip(placed.wall.panels.listed().iter()) {
        let Some((from, to)) = record.stations() else {
            continue;
        };
        let judged = work.and_then(|work| work.existing.iter().find(|panel| panel.item == place));
        let kind = match judged {
            Some(panel) if panel.is_removed => Kind::RemovedPanel,
            Some(panel) if !panel.credit.is_relied_on() => Kind::UncountedPanel,
            _ => Kind::ExistingPanel,
        };
        symbols.push((kind, along(from, to)));
    }
    let added = work.into_iter().flat_map(|work| &work.added);
    symbols.extend(added.map(|panel| (Kind::NewPanel, along(panel.from, panel.to))));
    symbols
}

/// Anchors in the middle of the foundation, plates on its inside.
fn anchors(draft: &Drafting, placed: &Placed<'_>) -> Vec<(Kind, [Point; 4])> {
    let thickness = placed.thickness;
    let mut rods = existing::anchors(placed.wall, placed.line);
    let mut symbols = Vec::new();
    for anchor in placed
        .line
        .anchors
        .work()
        .into_iter()
        .flat_map(|work| &work.added)
    {
        if words::is_plate(anchor) {
            let (at, half, deep) = (anchor.at.nanometers(), draft.paper(70), draft.paper(60));
            let corners = placed.quad(at - half, at + half, thickness - deep, thickness);
            symbols.push((Kind::NewSidePlate, corners));
        } else {
            rods.push((anchor.at, Kind::NewAnchor));
        }
    }
    let radius = Length::from_nanometers(draft.paper(45).min(thickness * 9 / 20));
    let back = Length::ZERO.saturating_sub(radius);
    for (station, kind) in rods {
        let middle = placed.place(station.nanometers(), thickness / 2);
        let around = Extent {
            low: middle.moved(back, back),
            high: middle.moved(radius, radius),
        };
        symbols.push((kind, around.corners()));
    }
    symbols
}

/// A double arrow along the joists, inside the middle of the wall line; dashed where their direction was
/// taken as given.
fn joists(draft: &Drafting, remedy: &Remedy, placed: &Placed<'_>) -> Option<(Kind, [Point; 4])> {
    let is_taken = remedy
        .assumptions
        .iter()
        .any(|held| held.wall_line == Some(placed.line.wall_line) && held.look_at == LookAt::Joists);
    let kind = if is_taken { Kind::JoistsTaken } else { Kind::Joists };
    let (half, wide) = (draft.paper(190), draft.paper(35));
    let inward = placed.thickness + draft.paper(400);
    let middle = placed.length / 2;
    let corners = match placed.wall.joists.value()? {
        JoistDirection::Parallel => placed.quad(middle - half, middle + half, inward - wide, inward + wide),
        JoistDirection::Perpendicular => {
            let [a, b, c, d] = placed.quad(middle - wide, middle + wide, inward - half, inward + half);
            [b, c, d, a]
        }
    };
    Some((kind, corners))
}

fn posts(draft: &mut Drafting, remedy: &Remedy) {
    for post in remedy.taken_as.posts.listed() {
        let Some(place) = post.at else { continue };
        let half = draft.paper(60);
        let (x, y) = (place.x.nanometers(), place.y.nanometers());
        draft.symbol(
            Kind::Post,
            View::Plan,
            span(x - half, y - half, x + half, y + half),
        );
    }
}

/// Number, name and length of a wall line, in the first place where they meet nothing: outside before inside,
/// near the middle before near the ends.
fn label(draft: &mut Drafting, placed: &Placed<'_>) {
    let mut words = format!("{}  {}", words::number(placed.line.wall_line), placed.wall.name);
    if let Some(length) = placed.wall.length.value() {
        words = format!("{words}  {}", words::length(*length));
    }
    let words = draft.fitted(&words, lettered::NOTE, draft.paper(3_000));
    let half = draft.width(&words, lettered::NOTE) / 2;
    let tall = draft.paper(lettered::NOTE);
    let is_upright = {
        let extent = Extent::between(placed.begin, placed.end);
        extent.height() > extent.width()
    };
    for is_turned in [is_upright, false] {
        for away in [150, 300, 480, 700, 950] {
            for side in [-1, 1] {
                for along in [4, 3, 5, 2, 6, 1, 7] {
                    let reach = draft.paper(away);
                    let inward = if side < 0 {
                        -reach
                    } else {
                        placed.thickness + reach
                    };
                    let Point { x, y } = placed.place(placed.length / 8 * along, inward);
                    let (x, y) = (x.nanometers(), y.nanometers());
                    let around = if is_turned {
                        span(x - tall, y - half, x + tall, y + half)
                    } else {
                        span(x - half, y - tall, x + half, y + tall)
                    };
                    if !draft.is_clear(around) {
                        continue;
                    }
                    let base = if is_turned {
                        at(x + tall / 2, y)
                    } else {
                        at(x, y - tall / 2)
                    };
                    draft.text(base, lettered::NOTE, Anchor::Middle, &words);
                    if let Some(Item {
                        shape: Shape::Text(text),
                        ..
                    }) = draft.items.last_mut()
                    {
                        text.is_upright = is_turned;
                    }
                    return;
                }
            }
        }
    }
    // Where there is no room for it, the schedule tells the wall line by its number.
}

/// The corners of the plan along its lower and left edges.
fn dimensions(draft: &mut Drafting, ends: &[Point]) {
    let Some(reach) = draft.reach(0) else { return };
    let stations = |of: fn(&Point) -> Length| {
        let mut stations: Vec<Nm> = ends.iter().map(|end| of(end).nanometers()).collect();
        stations.sort_unstable();
        stations.dedup();
        if stations.len() > MOST_DIMENSIONS {
            stations = stations
                .first()
                .copied()
                .into_iter()
                .chain(stations.last().copied())
                .collect();
        }
        stations
    };
    let bottom = reach.low.y.nanometers() - draft.paper(220);
    let left = reach.low.x.nanometers() - draft.paper(220);
    draft.level_string(&stations(|end| end.x), bottom, -1);
    draft.upright_string(&stations(|end| end.y), left);
}

/// Where the parts of a sheet with a plan on it stand: the plan at the left, in the middle of its room, and a column of
/// key and notes beside it.
pub(super) struct PlanSheet {
    /// The left edge of the room of the plan.
    pub(super) left: Nm,
    /// The top of the sheet.
    pub(super) top: Nm,
    /// The left edge of the column.
    pub(super) column: Nm,
    /// Where the column goes on under north arrow and scale.
    pub(super) under_scale: Nm,
    /// The lowest line of the plan.
    pub(super) lowest: Nm,
}

/// The room of a plan on paper, and the width of the column beside it, in thousandths of an inch.
pub(super) const PLAN_WIDE: i64 = 10_900;
pub(super) const COLUMN_WIDE: i64 = 4_400;

impl PlanSheet {
    /// Puts heading, scale and, where places are known, north arrow beside the plan that was drawn.
    pub(super) fn around(draft: &mut Drafting, heading: &str, has_places: bool) -> Self {
        let drawn = draft.reach(0).unwrap_or_default();
        let room = draft.paper(PLAN_WIDE);
        let left = drawn.middle().x.nanometers() - room.max(drawn.width().nanometers()) / 2;
        let top = drawn.high.y.nanometers() + draft.paper(700);
        let heading_at = at(left, top - draft.paper(330));
        draft.heading(heading_at, lettered::HEADING, Anchor::Start, heading);
        let column = left + room + draft.paper(300);
        let compass = top - draft.paper(600);
        if has_places {
            let arrow = column + draft.paper(300);
            north(draft, arrow, compass);
        }
        let bar = column + draft.paper(950);
        graphic_scale(draft, bar, compass);
        Self {
            left,
            top,
            column,
            under_scale: compass - draft.paper(480),
            lowest: drawn.low.y.nanometers(),
        }
    }

    /// The middle of the sheet.
    pub(super) fn middle(&self, draft: &Drafting) -> Nm {
        self.left - draft.paper(MARGIN) + draft.paper(PAPER.0) / 2
    }
}

/// Puts plan, north arrow, scale, key, notes and schedule together on the sheet.
fn compose(mut draft: Drafting, remedy: &Remedy, provisions: &Provisions) -> Sheet {
    let house = &remedy.taken_as;
    let gap = draft.paper(250);
    let has_places = house.wall_lines.iter().any(is_placed);
    let sheet = PlanSheet::around(&mut draft, "FOUNDATION PLAN", has_places);
    let (left, top, column) = (sheet.left, sheet.top, sheet.column);
    let (room, width) = (draft.paper(PLAN_WIDE), draft.paper(COLUMN_WIDE));
    let lines = [(Layer::Hidden, "Size or direction not on record")];
    let key = draft.key(column, sheet.under_scale, width, &lines);
    let mut notes = vec![
        "New work is drawn heavy and filled, what is there thin and hollow, what goes dashed and crossed."
            .to_owned(),
        "Framing clips and nailing are on the elevations.".to_owned(),
    ];
    let unplaced = house.wall_lines.iter().filter(|wall| !is_placed(wall)).count();
    if unplaced > 0 {
        notes.push("Wall lines without a place on record are drawn one below the other.".to_owned());
    }
    let posts: u32 = house
        .posts
        .listed()
        .iter()
        .filter(|post| post.at.is_none())
        .map(|post| u32::from(post.count.unwrap_or(1)))
        .sum();
    if posts > 0 {
        notes.push(format!("Interior posts whose places are not on record: {posts}."));
    } else if house.posts.value().is_none() {
        notes.push("Interior posts are not on record.".to_owned());
    }
    let assumed: Vec<String> = remedy
        .assumptions
        .iter()
        .filter(|assumption| assumption.wall_line.is_none())
        .filter_map(|assumption| {
            let taken_as = crate::result::wording::quantity(assumption.taken_as, provisions)?;
            Some(format!("{}: {taken_as}", assumption.look_at.words()))
        })
        .collect();
    if !assumed.is_empty() {
        notes.push(format!("VERIFY ON SITE, taken as given: {}.", assumed.join("; ")));
    }
    notes.extend(words::standing(provisions));
    let beside = draft.column(column, key - gap, width, "NOTES", &notes);
    let under = sheet.lowest - draft.paper(300);
    let table = schedule(&mut draft, remedy, provisions, left, under, room);
    let low = beside.min(table) - draft.paper(120);
    let middle = sheet.middle(&draft);
    let description = format!(
        "{} wall lines of {} with {} new anchors and {} new panels.",
        house.wall_lines.len(),
        house.name,
        remedy
            .lines
            .iter()
            .filter_map(|line| line.anchors.work())
            .map(|work| work.added.len())
            .sum::<usize>(),
        remedy
            .lines
            .iter()
            .filter_map(|line| line.panels.work())
            .map(|work| work.added.len())
            .sum::<usize>(),
    );
    draft.finish(
        &Title {
            house: &house.name,
            sheet: "Foundation plan",
            provisions: &provisions.title,
            number: "S1".to_owned(),
            scale: None,
        },
        "plan".to_owned(),
        &description,
        middle,
        top,
        low,
    )
}

fn north(draft: &mut Drafting, x: Nm, y: Nm) {
    let radius = draft.paper(200);
    let tip = radius * 3 / 4;
    let circle = Shape::Circle {
        center: at(x, y),
        radius: Length::from_nanometers(radius),
    };
    draft.add(Layer::Note, circle);
    let wing = radius * 9 / 20;
    draft.add(
        Layer::Note,
        Shape::Solid(vec![at(x, y + tip), at(x - wing, y - tip), at(x, y - wing)]),
    );
    draft.add(
        Layer::Note,
        Shape::Polyline {
            points: vec![at(x, y + tip), at(x + wing, y - tip), at(x, y - wing)],
            is_closed: true,
        },
    );
    draft.text(
        at(x, y + radius + draft.paper(50)),
        lettered::HEADING,
        Anchor::Middle,
        "N",
    );
}

/// A bar of four parts, each of a round number of feet.
fn graphic_scale(draft: &mut Drafting, left: Nm, y: Nm) {
    let most = draft.paper(3_000) / 4;
    let foot = Length::feet(1).nanometers();
    let mut feet = 1;
    for (place, tenfold) in (0..).zip(
        [1_i64, 10, 100, 1_000, 10_000]
            .iter()
            .flat_map(|ten| [*ten, ten * 2, ten * 5]),
    ) {
        if place == 0 || tenfold * foot <= most {
            feet = tenfold;
        }
    }
    let part = feet * foot;
    let tall = draft.paper(70);
    for place in 0..4 {
        let (from, to) = (left + place * part, left + (place + 1) * part);
        draft.rectangle(Layer::Note, span(from, y, to, y + tall));
        let half = if place % 2 == 0 {
            (y, y + tall / 2)
        } else {
            (y + tall / 2, y + tall)
        };
        let corners = span(from, half.0, to, half.1).corners();
        draft.add(Layer::Note, Shape::Solid(corners.to_vec()));
    }
    for (place, words) in [
        (0, "0".to_owned()),
        (2, (feet * 2).to_string()),
        (4, format!("{} ft", feet * 4)),
    ] {
        let below = y - draft.paper(150);
        draft.text(
            at(left + place * part, below),
            lettered::NOTE,
            Anchor::Middle,
            &words,
        );
    }
}

/// The wall lines one by one; gives how low the table reaches.
fn schedule(
    draft: &mut Drafting,
    remedy: &Remedy,
    provisions: &Provisions,
    left: Nm,
    top: Nm,
    room: Nm,
) -> Nm {
    // Where each column begins, in thousandths of an inch.
    const COLUMNS: [(i64, &str); 8] = [
        (0, "No."),
        (450, "Wall line"),
        (2_450, "Length"),
        (3_550, "New anchors"),
        (4_700, "Existing"),
        (5_450, "New panels"),
        (6_500, "Clips"),
        (7_050, "Remarks"),
    ];
    let mut top = draft.column_heading(left, top, room, "WALL LINES");
    let end = room;
    let pitch = draft.pitch(lettered::NOTE);
    let mut rows: Vec<[String; 8]> = vec![COLUMNS.map(|(_, heading)| heading.to_owned())];
    for line in &remedy.lines {
        let Some(wall) = remedy.taken_as.wall_lines.get(line.wall_line) else {
            continue;
        };
        let anchors = line.anchors.work();
        let panels = line.panels.work();
        let length = wall
            .length
            .value()
            .map_or_else(|| "not on record".to_owned(), |length| words::length(*length));
        let held = existing::anchors(wall, line);
        let held = held
            .iter()
            .filter(|(_, kind)| *kind != Kind::UncountedAnchor)
            .count();
        let panel_length = panels.map_or(Length::ZERO, |work| {
            let lengths = work.added.iter().map(|panel| panel.to.saturating_sub(panel.from));
            lengths.fold(Length::ZERO, Length::saturating_add)
        });
        let panel_words = match panels.map_or(0, |work| work.added.len()) {
            0 => "0".to_owned(),
            count => format!("{count}: {}", words::length(panel_length)),
        };
        let remark = match line.declined() {
            Some(decline) => {
                let parts = words::declined_parts(line).join(", ");
                format!("NOT LAID OUT ({parts}): {}", words::reason(decline, provisions))
            }
            None if super::elevation::is_done(&line.anchors)
                && super::elevation::is_done(&line.panels)
                && super::elevation::is_done(&line.floor) =>
            {
                "Nothing to add.".to_owned()
            }
            None => super::details::numbers(remedy, line.wall_line)
                .map(|detail| format!("See {detail}."))
                .unwrap_or_default(),
        };
        rows.push([
            words::number(line.wall_line).to_string(),
            wall.name.clone(),
            length,
            anchors.map_or(0, |work| work.added.len()).to_string(),
            held.to_string(),
            panel_words,
            line.floor.work().map_or(0, |work| work.clips.len()).to_string(),
            remark,
        ]);
    }
    for row in rows {
        top -= draft.paper(45);
        let mut lowest = top - pitch * 14 / 10;
        for ((place, words), (column, _)) in row.iter().enumerate().zip(COLUMNS) {
            let column = draft.paper(column);
            let next = COLUMNS.get(place + 1).map_or(end, |(next, _)| draft.paper(*next));
            let room = next - column - draft.paper(80);
            if place + 1 == COLUMNS.len() {
                // Remarks take as many lines as they need.
                lowest = lowest.min(draft.paragraph(left + column, top, room, words));
            } else {
                let words = draft.fitted(words, lettered::NOTE, room);
                let base = top - pitch * 7 / 10;
                draft.text(at(left + column, base), lettered::NOTE, Anchor::Start, &words);
            }
        }
        top = lowest + draft.paper(10);
        draft.line(Layer::Note, at(left, top), at(left + room, top));
    }
    top
}
