//! The sheet: every line, symbol, word and dimension of a drawing, once, in real lengths.
//!
//! The two writers, [`svg`](super::svg) and [`dxf`](super::dxf), read nothing else; what one shows, the other
//! shows.

use std::fmt;

use retrofit_core::measure::Length;

use super::lettering;
use super::symbol::Symbol;

/// A drawing ready to be written: shapes in real lengths on a piece of paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// A short name that tells it from the other sheets of the house, fit for a file name: `plan`,
    /// `elevation-2`, `details-1`.
    pub name: String,
    /// What it shows, for the title block and for a reader who cannot see it.
    pub title: String,
    /// The same in a sentence or two.
    pub description: String,
    /// How large it is drawn.
    pub scale: Scale,
    /// The edges of the paper, in real lengths.
    pub paper: Extent,
    /// What is drawn, from the back to the front.
    pub items: Vec<Item>,
}

/// One thing drawn on a layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Its layer.
    pub layer: Layer,
    /// What it is.
    pub shape: Shape,
}

/// What kind of thing something is: this sets the weight and dash of its line, and never a color.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// The edge of the sheet and its title block.
    Frame,
    /// What is there: thin lines.
    Existing,
    /// What is added: heavy lines.
    New,
    /// What is taken away: thin long dashes.
    Removed,
    /// What lies behind, below grade, or was not on record: thin short dashes.
    Hidden,
    /// The surface of the ground.
    Ground,
    /// What something is made of.
    Hatch,
    /// Dimension strings.
    Dimension,
    /// Words, and the lines that lead to what they name.
    Note,
}

impl Layer {
    /// Every layer, from the back to the front.
    pub const ALL: [Self; 9] = [
        Self::Frame,
        Self::Existing,
        Self::New,
        Self::Removed,
        Self::Hidden,
        Self::Ground,
        Self::Hatch,
        Self::Dimension,
        Self::Note,
    ];

    /// Its name, in CAD and as a class in a picture.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Frame => "FRAME",
            Self::Existing => "EXISTING",
            Self::New => "NEW",
            Self::Removed => "REMOVED",
            Self::Hidden => "HIDDEN",
            Self::Ground => "GROUND",
            Self::Hatch => "HATCH",
            Self::Dimension => "DIMENSION",
            Self::Note => "NOTE",
        }
    }

    /// The weight of its lines on paper, in hundredths of a millimeter.
    pub const fn weight(self) -> i16 {
        match self {
            Self::New => 50,
            Self::Frame | Self::Ground => 35,
            Self::Existing | Self::Removed | Self::Hidden => 18,
            Self::Dimension | Self::Note => 13,
            Self::Hatch => 9,
        }
    }

    /// The dash and gap of its lines on paper, in hundredths of a millimeter; `None` where they are unbroken.
    pub const fn dash(self) -> Option<[i16; 2]> {
        match self {
            Self::Removed => Some([240, 100]),
            Self::Hidden => Some([90, 70]),
            _ => None,
        }
    }
}

/// Something drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A straight line.
    Line(Point, Point),
    /// Straight lines from point to point.
    Polyline {
        /// The points.
        points: Vec<Point>,
        /// Whether the last point is joined to the first.
        is_closed: bool,
    },
    /// A rectangle.
    Rectangle(Extent),
    /// A circle.
    Circle {
        /// Its center.
        center: Point,
        /// Its radius.
        radius: Length,
    },
    /// A black disk.
    Disk {
        /// Its center.
        center: Point,
        /// Its radius.
        radius: Length,
    },
    /// A black triangle or quadrilateral, by its corners in order.
    Solid(Vec<Point>),
    /// Parallel lines within a rectangle.
    Hatch(Hatch),
    /// Words.
    Text(Text),
    /// A measured distance.
    Dimension(Dimension),
    /// A symbol that the key explains.
    Symbol(Symbol),
}

/// A point: x to the right, y up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Point {
    /// To the right.
    pub x: Length,
    /// Up.
    pub y: Length,
}

impl Point {
    /// A point by its two coordinates.
    pub const fn new(x: Length, y: Length) -> Self {
        Self { x, y }
    }

    /// The point moved to the right and up.
    #[must_use]
    pub const fn moved(self, right: Length, up: Length) -> Self {
        Self::new(self.x.saturating_add(right), self.y.saturating_add(up))
    }
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Extent {
    /// Its lower left corner.
    pub low: Point,
    /// Its upper right corner.
    pub high: Point,
}

impl Extent {
    /// The rectangle between two opposite corners, in any order.
    pub fn between(a: Point, b: Point) -> Self {
        Self {
            low: Point::new(a.x.min(b.x), a.y.min(b.y)),
            high: Point::new(a.x.max(b.x), a.y.max(b.y)),
        }
    }

    /// Its width.
    pub const fn width(self) -> Length {
        self.high.x.saturating_sub(self.low.x)
    }

    /// Its height.
    pub const fn height(self) -> Length {
        self.high.y.saturating_sub(self.low.y)
    }

    /// Its middle, to the nanometer below.
    pub fn middle(self) -> Point {
        Point::new(halfway(self.low.x, self.high.x), halfway(self.low.y, self.high.y))
    }

    /// Its corners, counterclockwise from the lower left.
    pub const fn corners(self) -> [Point; 4] {
        [
            self.low,
            Point::new(self.high.x, self.low.y),
            self.high,
            Point::new(self.low.x, self.high.y),
        ]
    }

    /// Whether two rectangles share more than an edge.
    pub fn overlaps(self, other: Self) -> bool {
        self.low.x < other.high.x
            && other.low.x < self.high.x
            && self.low.y < other.high.y
            && other.low.y < self.high.y
    }

    /// The smallest rectangle around two.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            low: Point::new(self.low.x.min(other.low.x), self.low.y.min(other.low.y)),
            high: Point::new(self.high.x.max(other.high.x), self.high.y.max(other.high.y)),
        }
    }

    /// The rectangle moved.
    #[must_use]
    pub const fn moved(self, right: Length, up: Length) -> Self {
        Self {
            low: self.low.moved(right, up),
            high: self.high.moved(right, up),
        }
    }
}

/// The point halfway between two coordinates, to the nanometer below.
pub(super) fn halfway(a: Length, b: Length) -> Length {
    Length::from_nanometers(a.nanometers().midpoint(b.nanometers()))
}

/// Words on a sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// Where the line they stand on begins, is halved, or ends.
    pub at: Point,
    /// The height of a capital letter.
    pub height: Length,
    /// Which part of the words stands at the point.
    pub anchor: Anchor,
    /// Whether they read from the bottom up.
    pub is_upright: bool,
    /// Whether they are set bold; this is for headings.
    pub is_bold: bool,
    /// The words: one line, without control characters.
    pub words: String,
}

impl Text {
    /// A rectangle that holds the words in any common sans-serif typeface.
    pub fn extent(&self) -> Extent {
        let width = lettering::width(&self.words, self.height, self.is_bold);
        let half = Length::from_nanometers(width.nanometers() / 2);
        let (before, after) = match self.anchor {
            Anchor::Start => (Length::ZERO, width),
            Anchor::Middle => (half, half),
            Anchor::End => (width, Length::ZERO),
        };
        let below = lettering::descent(self.height);
        let above = lettering::ascent(self.height);
        let Point { x, y } = self.at;
        if self.is_upright {
            Extent {
                low: Point::new(x.saturating_sub(above), y.saturating_sub(before)),
                high: Point::new(x.saturating_add(below), y.saturating_add(after)),
            }
        } else {
            Extent {
                low: Point::new(x.saturating_sub(before), y.saturating_sub(below)),
                high: Point::new(x.saturating_add(after), y.saturating_add(above)),
            }
        }
    }
}

/// Which part of a line of words stands at its point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    #[default]
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// A measured distance: a line with a slash at each end, and the distance in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dimension {
    /// One end of what is measured, on the dimension line.
    pub from: Point,
    /// The other end.
    pub to: Point,
    /// The distance in words.
    pub text: Text,
    /// Half the length of the slashes and of the short lines across the ends.
    pub tick: Length,
    /// The way of a thin line from the dimension line to words that had no room there; empty where they had.
    pub leader: Vec<Point>,
}

impl Dimension {
    /// The lines of the dimension, without its words.
    pub fn strokes(&self) -> Vec<[Point; 2]> {
        let tick = self.tick;
        let back = Length::ZERO.saturating_sub(tick);
        let mut strokes = vec![[self.from, self.to]];
        for end in [self.from, self.to] {
            strokes.push([end.moved(back, back), end.moved(tick, tick)]);
            strokes.push(if self.from.y == self.to.y {
                [end.moved(Length::ZERO, back), end.moved(Length::ZERO, tick)]
            } else {
                [end.moved(back, Length::ZERO), end.moved(tick, Length::ZERO)]
            });
        }
        let mut from = Extent::between(self.from, self.to).middle();
        for to in &self.leader {
            strokes.push([from, *to]);
            from = *to;
        }
        strokes
    }
}

/// Parallel lines within a rectangle, rising or falling at one in one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hatch {
    /// The rectangle.
    pub within: Extent,
    /// The distance from line to line, measured level.
    pub spacing: Length,
    /// Whether the lines rise to the right.
    pub rises: bool,
    /// The color behind it in a picture, never by itself: the lines tell the same in black and white.
    pub tint: Option<Tint>,
}

/// One of a few pale colors that color-blind readers tell apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tint(usize);

impl Tint {
    /// Pale shades of colors chosen for color-blind readers (Okabe and Ito 2008, recalled).
    const COLORS: [&'static str; 6] = ["#cfe3f2", "#fbe3b8", "#c9e8dc", "#f2d6e4", "#f8f3bf", "#e2e2e2"];

    /// The color of a step; steps that follow each other have different ones.
    pub const fn of_step(step: usize) -> Self {
        Self(step % Self::COLORS.len())
    }

    /// The color as a picture spells it.
    pub fn color(self) -> &'static str {
        Self::COLORS.get(self.0).copied().unwrap_or("none")
    }
}

/// More lines than this in one hatch say nothing more.
const MOST_HATCH_LINES: i64 = 4_000;

impl Hatch {
    /// Its lines, each cut at the edges of the rectangle.
    pub fn strokes(&self) -> Vec<[Point; 2]> {
        let width = self.within.width().nanometers();
        let height = self.within.height().nanometers();
        let reach = width.saturating_add(height);
        let spacing = self.spacing.nanometers().max(reach / MOST_HATCH_LINES).max(1);
        let mut strokes = Vec::new();
        // A line that rises from the bottom edge at `foot`, counted from one height left of the rectangle.
        let mut foot = spacing - height;
        while foot < width {
            let (from, to) = (foot.max(0), (foot + height).min(width));
            if from < to {
                let place = |across: i64, up: i64| {
                    let across = if self.rises { across } else { width - across };
                    self.within
                        .low
                        .moved(Length::from_nanometers(across), Length::from_nanometers(up))
                };
                strokes.push([place(from, from - foot), place(to, to - foot)]);
            }
            foot += spacing;
        }
        strokes
    }
}

/// How large a drawing is on paper: one to so many.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale(i64);

/// The scales of the trade, from the largest, with their names.
const SCALES: [(i64, &str); 14] = [
    (4, "3\" = 1'-0\""),
    (8, "1 1/2\" = 1'-0\""),
    (12, "1\" = 1'-0\""),
    (16, "3/4\" = 1'-0\""),
    (24, "1/2\" = 1'-0\""),
    (32, "3/8\" = 1'-0\""),
    (48, "1/4\" = 1'-0\""),
    (64, "3/16\" = 1'-0\""),
    (96, "1/8\" = 1'-0\""),
    (128, "3/32\" = 1'-0\""),
    (192, "1/16\" = 1'-0\""),
    (384, "1/32\" = 1'-0\""),
    (1_200, "1\" = 100'-0\""),
    (2_400, "1\" = 200'-0\""),
];

impl Scale {
    /// The largest scale of the trade, from `largest` on, at which a real length takes no more than some room
    /// on paper.
    pub fn to_fit(sizes: &[(Length, Length)], largest: Self) -> Self {
        let fits = |factor: i64| {
            sizes
                .iter()
                .all(|(real, room)| room.times(factor).is_none_or(|room| *real <= room))
        };
        let of_the_trade = SCALES
            .iter()
            .map(|(factor, _)| *factor)
            .find(|factor| *factor >= largest.0 && fits(*factor));
        let mut factor = of_the_trade.unwrap_or(4_800);
        while !fits(factor) && factor < i64::from(u32::MAX) {
            factor *= 2;
        }
        Self(factor)
    }

    /// 1 1/2 in on paper for a foot.
    pub const DETAIL: Self = Self(8);

    /// 1/2 in on paper for a foot.
    pub const HALF_INCH: Self = Self(24);

    /// How many times larger the real thing is.
    pub const fn factor(self) -> i64 {
        self.0
    }

    /// What a length on paper stands for.
    pub fn real(self, on_paper: Length) -> Length {
        on_paper.times(self.0).unwrap_or(Length::LIMIT)
    }
}

impl fmt::Display for Scale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match SCALES.iter().find(|(factor, _)| *factor == self.0) {
            Some((_, name)) => f.write_str(name),
            None => write!(f, "1 : {}", self.0),
        }
    }
}

impl Sheet {
    /// Every text on the sheet, those of its dimensions included.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(text),
            Shape::Dimension(dimension) => Some(&dimension.text),
            _ => None,
        })
    }

    /// Every dimension on the sheet.
    pub fn dimensions(&self) -> impl Iterator<Item = &Dimension> {
        self.items.iter().filter_map(|item| match &item.shape {
            Shape::Dimension(dimension) => Some(dimension),
            _ => None,
        })
    }

    /// Every symbol on the sheet, that of the key included.
    pub fn symbols(&self) -> impl Iterator<Item = &Symbol> {
        self.items.iter().filter_map(|item| match &item.shape {
            Shape::Symbol(symbol) => Some(symbol),
            _ => None,
        })
    }

    /// The sheet as simple shapes: symbols, hatches and dimensions taken apart into lines, disks and words.
    /// This is what is written.
    pub fn strokes(&self) -> Vec<Item> {
        let mut strokes = Vec::with_capacity(self.items.len());
        for Item { layer, shape } in &self.items {
            let mut add = |layer: Layer, shape: Shape| strokes.push(Item { layer, shape });
            match shape {
                Shape::Hatch(hatch) => {
                    for [from, to] in hatch.strokes() {
                        add(*layer, Shape::Line(from, to));
                    }
                }
                Shape::Dimension(dimension) => {
                    for [from, to] in dimension.strokes() {
                        add(*layer, Shape::Line(from, to));
                    }
                    add(Layer::Note, Shape::Text(dimension.text.clone()));
                }
                Shape::Symbol(symbol) => {
                    for Item { layer, shape } in symbol.strokes() {
                        if let Shape::Hatch(hatch) = shape {
                            for [from, to] in hatch.strokes() {
                                add(layer, Shape::Line(from, to));
                            }
                        } else {
                            add(layer, shape);
                        }
                    }
                }
                other => add(*layer, other.clone()),
            }
        }
        strokes
    }
}
