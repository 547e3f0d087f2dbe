//! The plan sketch: every wall line drawn, with its number and what was found of it.
//!
//! A ruling is told by the kind of line and by a word, and only then by color, so that the sketch says the
//! same on a black-and-white print. The words stand where they meet neither each other nor a line.

use retrofit_core::check::Ruling;
use retrofit_core::house::{House, PlanPoint};
use retrofit_core::measure::Length;
use retrofit_core::remedy::Remedy;
use serde::Serialize;
use tera::Context;

use crate::look::Look;
use crate::result::{RenderError, Report, WallLine};

/// The width of the drawing; a phone shows it nearly one to one.
const WIDTH: f64 = 360.0;
/// The room left of and right of the plan.
const MARGIN_X: f64 = 26.0;
/// The room above and below the plan, for words outside it.
const MARGIN_Y: f64 = 46.0;
/// The most room the plan itself takes from top to bottom.
const MOST_HEIGHT: f64 = 300.0;
/// What one wall line takes when it is drawn below the plan, by order.
const STRIP: f64 = 42.0;
/// The height of a line of words.
const LINE_HEIGHT: f64 = 15.0;
/// Half of what a mark in the middle of a wall line takes from side to side.
const MARK: f64 = 11.0;
/// With more wall lines than this in plan there is no room for words, and no point in looking for it.
const MOST_TAGGED: usize = 200;
/// How far inside its wall line a new panel is drawn, clear of the words.
const BESIDE: f64 = 6.0;
/// The width of a character: that of a wide one, so that words never come out wider than thought.
const CHARACTER: f64 = 7.6;

/// The sketch of one house.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub(crate) struct Plan {
    width: String,
    height: String,
    title: String,
    description: String,
    /// Corners of the outline of the house; empty when it was not recorded.
    outline: String,
    strokes: Vec<Stroke>,
    tags: Vec<Tag>,
    /// Where north is up, because at least one wall line is drawn in its place.
    north: bool,
    /// Whether wall lines are drawn one below the other, for want of a place.
    has_strips: bool,
    /// Anchors and panels that work laid out would add.
    anchors: Vec<Dot>,
    panels: Vec<Bar>,
    /// Wall lines of which some part has no layout.
    #[serde(skip)]
    pub(crate) without_layout: Vec<WithoutLayout>,
    /// Whether work was laid out, be it none.
    pub(crate) has_work: bool,
}

/// What has no layout along a wall line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct WithoutLayout {
    /// The number of the wall line.
    number: String,
    parts: Vec<&'static str>,
}

/// A new anchor on its wall line.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Dot {
    x: String,
    y: String,
}

/// A new panel beside its wall line.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Bar {
    x1: String,
    y1: String,
    x2: String,
    y2: String,
}

/// What stands on a sketch, in one language.
pub(crate) struct PlanWords<'a> {
    /// What the sketch is.
    pub(crate) title: String,
    /// What it shows, for those who do not see it.
    pub(crate) description: String,
    /// Whether a mark stands in the middle of each wall line, so that no words may.
    pub(crate) has_marks: bool,
    /// What a ruling is called: beside a wall line, where there is little room, and over one drawn by itself.
    pub(crate) ruling: &'a dyn Fn(Ruling, Room) -> String,
}

/// How much room there is for words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Room {
    /// Beside other wall lines.
    Little,
    /// Over a wall line by itself.
    Enough,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct Stroke {
    /// The number of the wall line.
    number: String,
    /// Whether some part of the work along it has no layout.
    lacks_layout: bool,
    ruling: Ruling,
    x1: String,
    y1: String,
    x2: String,
    y2: String,
    /// The middle, where a mark can stand.
    mark_x: String,
    mark_y: String,
    /// From the left end of the wall line to its right end.
    #[serde(skip)]
    ends: [Point; 2],
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct Tag {
    ruling: Ruling,
    /// The number of the wall line.
    line: String,
    number: String,
    words: String,
    x: String,
    number_y: String,
    words_y: String,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Point {
    x: f64,
    y: f64,
}

#[derive(Clone, Copy, Debug)]
struct Box2 {
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
}

impl Box2 {
    fn around(center: Point, half_width: f64, half_height: f64) -> Self {
        Self {
            left: center.x - half_width,
            top: center.y - half_height,
            right: center.x + half_width,
            bottom: center.y + half_height,
        }
    }

    fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether a line from `a` to `b` passes through it: clipped to the box, something is left.
    fn is_crossed_by(&self, a: Point, b: Point) -> bool {
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (step, room) in [
            (-dx, a.x - self.left),
            (dx, self.right - a.x),
            (-dy, a.y - self.top),
            (dy, self.bottom - a.y),
        ] {
            if step == 0.0 {
                if room < 0.0 {
                    return false;
                }
            } else if step < 0.0 {
                enters = enters.max(room / step);
            } else {
                leaves = leaves.min(room / step);
            }
        }
        enters <= leaves
    }
}

impl Plan {
    /// Whether some wall lines are drawn one below the other, for want of a place.
    pub(crate) const fn has_strips(&self) -> bool {
        self.has_strips
    }

    pub(crate) fn of(house: &House, lines: &[WallLine]) -> Self {
        let words = PlanWords {
            title: "Sketch of the wall lines".to_owned(),
            description: described(lines),
            has_marks: false,
            ruling: &|ruling, room| match room {
                Room::Little => short_words(ruling).to_owned(),
                Room::Enough => ruling.words().to_owned(),
            },
        };
        Self::in_words(house, lines, &words)
    }

    /// Whether north is up, because at least one wall line is drawn in its place.
    pub(crate) const fn is_placed(&self) -> bool {
        self.north
    }

    /// The sketch in words other than those of the report.
    pub(crate) fn in_words(house: &House, lines: &[WallLine], words: &PlanWords<'_>) -> Self {
        let mut plan = Self {
            width: shown(WIDTH),
            title: words.title.clone(),
            description: words.description.clone(),
            ..Self::default()
        };
        let placed: Vec<Option<[PlanPoint; 2]>> = house
            .wall_lines
            .iter()
            .map(|wall| wall.plan.filter(|[from, to]| from != to))
            .collect();
        let ends: Vec<&PlanPoint> = placed.iter().flatten().flatten().collect();
        let mut bottom = 0.0;
        if !ends.is_empty() {
            let scale = Scale::of(&ends.iter().copied().chain(&house.building.outline));
            bottom = scale.height + 2.0 * MARGIN_Y;
            plan.north = true;
            let corners = house.building.outline.iter().map(|corner| scale.place(*corner));
            plan.outline = corners
                .map(|corner| format!("{},{}", shown(corner.x), shown(corner.y)))
                .collect::<Vec<_>>()
                .join(" ");
            let drawn: Vec<(&WallLine, Point, Point)> = lines
                .iter()
                .zip(&placed)
                .filter_map(|(line, place)| {
                    place.map(|[from, to]| (line, scale.place(from), scale.place(to)))
                })
                .collect();
            plan.draw_in_place(&drawn, bottom, words);
        }
        for (line, _) in lines.iter().zip(&placed).filter(|(_, place)| place.is_none()) {
            plan.has_strips = true;
            let stroke_y = bottom + STRIP - 12.0;
            plan.strokes.push(Stroke::of(
                line,
                Point {
                    x: MARGIN_X,
                    y: stroke_y,
                },
                Point {
                    x: WIDTH - MARGIN_X,
                    y: stroke_y,
                },
            ));
            let words = (words.ruling)(line.verdict.ruling, Room::Enough);
            plan.tags.push(Tag {
                ruling: line.verdict.ruling,
                line: line.number.clone(),
                number: format!("{}  {words}", line.number),
                words: String::new(),
                x: shown(WIDTH / 2.0),
                number_y: shown(stroke_y - 9.0),
                words_y: String::new(),
            });
            bottom += STRIP;
        }
        plan.height = shown(bottom.max(STRIP) + if plan.has_strips { 8.0 } else { 0.0 });
        plan
    }

    /// Puts the anchors and panels of work laid out on the wall lines.
    pub(crate) fn lay_out(&mut self, remedy: &Remedy) {
        self.has_work = true;
        for line in &remedy.lines {
            let number = (line.wall_line + 1).to_string();
            let parts: Vec<&str> = [
                ("anchors", line.anchors.declined().is_some()),
                ("braced panels", line.panels.declined().is_some()),
                ("the floor", line.floor.declined().is_some()),
            ]
            .into_iter()
            .filter_map(|(part, is_declined)| is_declined.then_some(part))
            .collect();
            let lacks_layout = !parts.is_empty();
            if lacks_layout {
                let number = number.clone();
                self.without_layout.push(WithoutLayout { number, parts });
            }
            let Some(stroke) = self.strokes.iter_mut().find(|stroke| stroke.number == number) else {
                continue;
            };
            stroke.lacks_layout = lacks_layout;
            let Some(length) = remedy
                .taken_as
                .wall_lines
                .get(line.wall_line)
                .and_then(|wall| wall.length.value())
            else {
                continue;
            };
            let [a, b] = stroke.ends;
            let whole = length.as_feet_f64().max(0.001);
            let (dx, dy) = (b.x - a.x, b.y - a.y);
            let drawn = dx.hypot(dy).max(0.1);
            // Seen from the crawl space, the way from the left end to the right one has the inside on its right.
            let (inward_x, inward_y) = (-dy / drawn, dx / drawn);
            let at = |station: Length, inward: f64| {
                let along = (station.as_feet_f64() / whole).clamp(0.0, 1.0);
                Point {
                    x: a.x + along * dx + inward * inward_x,
                    y: a.y + along * dy + inward * inward_y,
                }
            };
            for anchor in line.anchors.work().into_iter().flat_map(|work| &work.added) {
                let Point { x, y } = at(anchor.at, 0.0);
                self.anchors.push(Dot {
                    x: shown(x),
                    y: shown(y),
                });
            }
            for panel in line.panels.work().into_iter().flat_map(|work| &work.added) {
                let (from, to) = (at(panel.from, BESIDE), at(panel.to, BESIDE));
                self.panels.push(Bar {
                    x1: shown(from.x),
                    y1: shown(from.y),
                    x2: shown(to.x),
                    y2: shown(to.y),
                });
            }
        }
    }

    fn draw_in_place(&mut self, drawn: &[(&WallLine, Point, Point)], height: f64, words: &PlanWords<'_>) {
        #[expect(clippy::cast_precision_loss, reason = "a handful of wall lines")]
        let count = (2 * drawn.len()).max(1) as f64;
        let sum = drawn
            .iter()
            .fold((0.0, 0.0), |(x, y), (_, a, b)| (x + a.x + b.x, y + a.y + b.y));
        let center = Point {
            x: sum.0 / count,
            y: sum.1 / count,
        };
        // The north arrow keeps its corner.
        let mut taken = vec![Box2 {
            left: WIDTH - 34.0,
            top: 0.0,
            right: WIDTH,
            bottom: 40.0,
        }];
        if words.has_marks {
            let middles = drawn.iter().map(|(_, a, b)| Point {
                x: a.x.midpoint(b.x),
                y: a.y.midpoint(b.y),
            });
            taken.extend(middles.map(|middle| Box2::around(middle, MARK, MARK)));
        }
        for (line, a, b) in drawn {
            self.strokes.push(Stroke::of(line, *a, *b));
            if drawn.len() > MOST_TAGGED {
                continue;
            }
            let ruling = (words.ruling)(line.verdict.ruling, Room::Little);
            for words in [ruling.as_str(), ""] {
                let half_width = width_of(&line.number).max(width_of(words)) / 2.0 + 2.0;
                let half_height = if words.is_empty() { 0.5 } else { 1.0 } * LINE_HEIGHT + 1.0;
                let fits = |place: &Box2| {
                    place.left >= 1.0
                        && place.right <= WIDTH - 1.0
                        && place.top >= 1.0
                        && place.bottom <= height - 1.0
                        && !taken.iter().any(|other| other.meets(place))
                        && !drawn.iter().any(|(_, a, b)| place.is_crossed_by(*a, *b))
                };
                let spot = spots(*a, *b, center, half_width, half_height)
                    .into_iter()
                    .find(|spot| fits(&Box2::around(*spot, half_width + 3.0, half_height + 3.0)));
                if let Some(spot) = spot {
                    taken.push(Box2::around(spot, half_width, half_height));
                    let first = spot.y - half_height + LINE_HEIGHT - 2.0;
                    self.tags.push(Tag {
                        ruling: line.verdict.ruling,
                        line: line.number.clone(),
                        number: line.number.clone(),
                        words: words.to_owned(),
                        x: shown(spot.x),
                        number_y: shown(first),
                        words_y: shown(first + LINE_HEIGHT),
                    });
                    break;
                }
                // Where there is no room even for a number, the list beside the sketch tells the line.
            }
        }
    }
}

impl Stroke {
    fn of(line: &WallLine, a: Point, b: Point) -> Self {
        Self {
            number: line.number.clone(),
            lacks_layout: false,
            ends: [a, b],
            ruling: line.verdict.ruling,
            x1: shown(a.x),
            y1: shown(a.y),
            x2: shown(b.x),
            y2: shown(b.y),
            mark_x: shown(a.x.midpoint(b.x)),
            mark_y: shown(a.y.midpoint(b.y)),
        }
    }
}

/// Where the words of a wall line may stand, the best place first: near the middle of the line, inside the
/// house before outside, close before far.
fn spots(a: Point, b: Point, center: Point, half_width: f64, half_height: f64) -> Vec<Point> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let length = dx.hypot(dy).max(0.1);
    let (mut nx, mut ny) = (-dy / length, dx / length);
    let middle = Point {
        x: a.x.midpoint(b.x),
        y: a.y.midpoint(b.y),
    };
    if (center.x - middle.x) * nx + (center.y - middle.y) * ny < 0.0 {
        (nx, ny) = (-nx, -ny);
    }
    let clear = half_width * nx.abs() + half_height * ny.abs() + 9.0;
    let mut spots = Vec::new();
    for further in [0.0, 16.0, 34.0] {
        for side in [1.0, -1.0] {
            for along in [0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95] {
                let away = side * (clear + further);
                spots.push(Point {
                    x: a.x + along * dx + away * nx,
                    y: a.y + along * dy + away * ny,
                });
            }
        }
    }
    spots
}

/// From the ground to the paper.
struct Scale {
    west: f64,
    north: f64,
    per_foot: f64,
    left: f64,
    height: f64,
}

impl Scale {
    fn of<'a>(points: &(impl Iterator<Item = &'a PlanPoint> + Clone)) -> Self {
        let least = |of: fn(&PlanPoint) -> f64| points.clone().map(of).fold(f64::INFINITY, f64::min);
        let most = |of: fn(&PlanPoint) -> f64| points.clone().map(of).fold(f64::NEG_INFINITY, f64::max);
        let x = |point: &PlanPoint| point.x.as_feet_f64();
        let y = |point: &PlanPoint| point.y.as_feet_f64();
        let (wide, deep) = (most(x) - least(x), most(y) - least(y));
        let room = WIDTH - 2.0 * MARGIN_X;
        let per_foot = (room / wide.max(0.001)).min(MOST_HEIGHT / deep.max(0.001));
        Self {
            west: least(x),
            north: most(y),
            per_foot,
            left: MARGIN_X + (room - wide * per_foot) / 2.0,
            height: deep * per_foot,
        }
    }

    fn place(&self, point: PlanPoint) -> Point {
        Point {
            x: self.left + (point.x.as_feet_f64() - self.west) * self.per_foot,
            y: MARGIN_Y + (self.north - point.y.as_feet_f64()) * self.per_foot,
        }
    }
}

/// A ruling in as few words as a sketch has room for.
const fn short_words(ruling: Ruling) -> &'static str {
    match ruling {
        Ruling::Outside => "outside",
        other => other.words(),
    }
}

fn width_of(text: &str) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a word or a number")]
    let characters = text.chars().count() as f64;
    characters * CHARACTER
}

fn shown(coordinate: f64) -> String {
    format!("{coordinate:.1}")
}

fn described(lines: &[WallLine]) -> String {
    let lines: Vec<String> = lines
        .iter()
        .map(|line| format!("{}, {}: {}.", line.number, line.name, line.verdict.words))
        .collect();
    lines.join(" ")
}

/// Renders the sketch as an SVG picture that stands on its own.
pub fn render(report: &Report, look: &Look) -> Result<String, RenderError> {
    let mut context = Context::new();
    context.insert("plan", &report.plan);
    look.fill_in("plan.svg", context)
}
