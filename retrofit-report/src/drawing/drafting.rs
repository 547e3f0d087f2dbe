//! The hand that draws: shapes put on a sheet at its scale, words that find their place, title block and key.

use retrofit_core::measure::Length;

use super::lettering;
use super::sheet::{Anchor, Dimension, Extent, Item, Layer, Point, Scale, Shape, Sheet, Text};
use super::symbol::{Kind, Symbol, View};

/// Nanometers: a [`Length`] on its way through arithmetic. The record bounds every length far below overflow.
pub(super) type Nm = i64;

/// A point by nanometers.
pub(super) const fn at(x: Nm, y: Nm) -> Point {
    Point::new(Length::from_nanometers(x), Length::from_nanometers(y))
}

/// A rectangle by nanometers: left, bottom, right, top.
pub(super) fn span(left: Nm, bottom: Nm, right: Nm, top: Nm) -> Extent {
    Extent::between(at(left, bottom), at(right, top))
}

/// How high words are on paper, in thousandths of an inch.
pub(super) mod lettered {
    /// A heading.
    pub(crate) const HEADING: i64 = 120;
    /// Notes and labels.
    pub(crate) const NOTE: i64 = 88;
    /// Dimensions.
    pub(crate) const DIMENSION: i64 = 84;
}

/// The size of the paper, in thousandths of an inch; a sheet that needs more is taller.
pub(super) const PAPER: (i64, i64) = (17_000, 11_000);
/// The room between the edge of the paper and its frame.
const EDGE: i64 = 350;
/// The height of the title block.
const TITLE_BLOCK: i64 = 820;
/// The room that drawings and notes keep from the frame.
pub(super) const MARGIN: i64 = 700;

/// What the title block says.
pub(super) struct Title<'a> {
    pub(super) house: &'a str,
    pub(super) sheet: &'a str,
    pub(super) provisions: &'a str,
    pub(super) number: String,
    /// What stands in place of the scale, where lengths stand for something else.
    pub(super) scale: Option<&'static str>,
}

/// A sheet being drawn.
pub(super) struct Drafting {
    pub(super) scale: Scale,
    pub(super) items: Vec<Item>,
}

impl Drafting {
    pub(super) const fn new(scale: Scale) -> Self {
        Self {
            scale,
            items: Vec::new(),
        }
    }

    /// What some thousandths of an inch on paper stand for.
    pub(super) fn paper(&self, thousandths: i64) -> Nm {
        self.scale
            .real(Length::from_nanometers(thousandths * 25_400))
            .nanometers()
    }

    pub(super) fn add(&mut self, layer: Layer, shape: Shape) {
        self.items.push(Item { layer, shape });
    }

    pub(super) fn line(&mut self, layer: Layer, from: Point, to: Point) {
        self.add(layer, Shape::Line(from, to));
    }

    pub(super) fn rectangle(&mut self, layer: Layer, extent: Extent) {
        self.add(layer, Shape::Rectangle(extent));
    }

    pub(super) fn symbol(&mut self, kind: Kind, view: View, extent: Extent) {
        self.add(Layer::Existing, Shape::Symbol(Symbol::within(kind, view, extent)));
    }

    fn lettering(&self, at: Point, height: i64, anchor: Anchor, words: &str) -> Text {
        Text {
            at,
            height: Length::from_nanometers(self.paper(height)),
            anchor,
            is_upright: false,
            is_bold: false,
            words: lettering::plain(words),
        }
    }

    pub(super) fn text(&mut self, at: Point, height: i64, anchor: Anchor, words: &str) {
        let text = self.lettering(at, height, anchor, words);
        if !text.words.trim().is_empty() {
            self.add(Layer::Note, Shape::Text(text));
        }
    }

    pub(super) fn heading(&mut self, at: Point, height: i64, anchor: Anchor, words: &str) {
        let text = Text {
            is_bold: true,
            ..self.lettering(at, height, anchor, words)
        };
        self.add(Layer::Note, Shape::Text(text));
    }

    /// The width of words in real lengths.
    pub(super) fn width(&self, words: &str, height: i64) -> Nm {
        lettering::width(words, Length::from_nanometers(self.paper(height)), false).nanometers()
    }

    /// Words cut to a width.
    pub(super) fn fitted(&self, words: &str, height: i64, room: Nm) -> String {
        let height = Length::from_nanometers(self.paper(height));
        lettering::fitted(&lettering::plain(words), height, Length::from_nanometers(room))
    }

    /// The distance from line to line of a paragraph.
    pub(super) fn pitch(&self, height: i64) -> Nm {
        self.paper(height * 17 / 10)
    }

    /// A paragraph from its top edge down; gives where the next one may begin.
    pub(super) fn paragraph(&mut self, left: Nm, top: Nm, room: Nm, words: &str) -> Nm {
        let height = Length::from_nanometers(self.paper(lettered::NOTE));
        let pitch = self.pitch(lettered::NOTE);
        let mut top = top;
        for line in lettering::wrapped(&lettering::plain(words), height, Length::from_nanometers(room)) {
            top -= pitch;
            self.text(
                at(left, top + pitch * 3 / 10),
                lettered::NOTE,
                Anchor::Start,
                &line,
            );
        }
        top - pitch * 4 / 10
    }

    /// A heading and the paragraphs under it.
    pub(super) fn column(&mut self, left: Nm, top: Nm, room: Nm, heading: &str, paragraphs: &[String]) -> Nm {
        let mut top = self.column_heading(left, top, room, heading);
        for words in paragraphs {
            top = self.paragraph(left, top, room, words);
        }
        top
    }

    pub(super) fn column_heading(&mut self, left: Nm, top: Nm, room: Nm, heading: &str) -> Nm {
        let pitch = self.pitch(lettered::HEADING);
        self.heading(
            at(left, top - pitch * 7 / 10),
            lettered::HEADING,
            Anchor::Start,
            heading,
        );
        let rule = top - pitch;
        self.line(Layer::Note, at(left, rule), at(left + room, rule));
        rule - self.paper(70)
    }

    /// The key: every kind of symbol on the sheet, once, in the order of the kinds.
    pub(super) fn key(&mut self, left: Nm, top: Nm, room: Nm, lines: &[(Layer, &str)]) -> Nm {
        let mut kinds: Vec<(Kind, View)> = self
            .items
            .iter()
            .filter_map(|item| match &item.shape {
                Shape::Symbol(symbol) => Some((symbol.kind, symbol.view)),
                _ => None,
            })
            .collect();
        kinds.sort_by_key(|(kind, _)| *kind);
        kinds.dedup();
        let mut top = self.column_heading(left, top, room, "KEY");
        let pitch = self.paper(250);
        let middle = left + self.paper(300);
        let words_at = left + self.paper(720);
        let room = room - self.paper(720);
        for (kind, view) in kinds {
            let mid = top - pitch / 2;
            let (half_width, half_height) = match (kind, view) {
                (
                    Kind::NewAnchor | Kind::ExistingAnchor | Kind::MendedAnchor | Kind::UncountedAnchor,
                    View::Plan,
                ) => (50, 50),
                (Kind::NewAnchor | Kind::ExistingAnchor | Kind::MendedAnchor | Kind::UncountedAnchor, _) => {
                    (42, 95)
                }
                (Kind::NewSidePlate, View::Plan) => (70, 35),
                (Kind::NewSidePlate, _) => (60, 85),
                (Kind::NewClip, _) => (48, 42),
                (Kind::Post, _) => (75, 75),
                (Kind::NewJoistBlock, _) => (120, 75),
                (Kind::Joists | Kind::JoistsTaken, _) => (200, 35),
                (_, View::Plan) => (220, 40),
                _ => (220, 80),
            };
            let (half_width, half_height) = (self.paper(half_width), self.paper(half_height));
            self.symbol(
                kind,
                view,
                span(
                    middle - half_width,
                    mid - half_height,
                    middle + half_width,
                    mid + half_height,
                ),
            );
            self.key_words(words_at, mid, room, kind.words());
            top -= pitch;
        }
        for (layer, words) in lines {
            let mid = top - pitch / 2;
            let half = self.paper(240);
            self.line(*layer, at(middle - half, mid), at(middle + half, mid));
            self.key_words(words_at, mid, room, words);
            top -= pitch;
        }
        top
    }

    fn key_words(&mut self, left: Nm, middle: Nm, room: Nm, words: &str) {
        let words = self.fitted(words, lettered::NOTE, room);
        let down = self.paper(lettered::NOTE) / 2;
        self.text(at(left, middle - down), lettered::NOTE, Anchor::Start, &words);
    }

    /// A level string of dimensions along `line`, its words on the side `away` (1 up, -1 down). Words that
    /// have no room between their ends go to a second row; where they would meet there, they are set upright
    /// and fanned out. Gives how far the string reaches.
    pub(super) fn level_string(&mut self, stations: &[Nm], line: Nm, away: i64) -> Nm {
        let height = lettered::DIMENSION;
        let tall = self.paper(height);
        let pitch = self.paper(height * 19 / 10);
        let (pad, tick) = (self.paper(45), self.paper(45));
        let spans: Vec<(Nm, Nm, String, Nm)> = stations
            .windows(2)
            .filter_map(|pair| match pair {
                [from, to] if from != to => Some((*from, *to)),
                _ => None,
            })
            .map(|(from, to)| {
                let words = Length::from_nanometers(to - from).to_string();
                let width = self.width(&words, height);
                (from, to, words, width)
            })
            .collect();
        let is_narrow = |(from, to, _, width): &(Nm, Nm, String, Nm)| width + 2 * pad > to - from;
        let narrow: Vec<Nm> = spans
            .iter()
            .filter(|span| is_narrow(span))
            .map(|span| span.0.midpoint(span.1))
            .collect();
        let second_row = spans.iter().filter(|span| is_narrow(span));
        let second_row: Vec<(Nm, Nm)> = second_row
            .map(|(from, to, _, width)| {
                let middle = from.midpoint(*to);
                (middle - width / 2 - pad, middle + width / 2 + pad)
            })
            .collect();
        let is_crowded = second_row.windows(2).any(|pair| match pair {
            [left, right] => left.1 > right.0,
            _ => false,
        });
        let first = line + away * self.paper(60);
        let second = first + away * pitch;
        let fan = second + away * self.paper(190);
        let mut places = spread(&narrow, pitch).into_iter();
        let mut reach = if narrow.is_empty() {
            second
        } else {
            second + away * pitch
        };
        for span in &spans {
            let (from, to, words, width) = span;
            let middle = from.midpoint(*to);
            let level = |near: Nm| {
                if away > 0 {
                    near + tall / 4
                } else {
                    near - tall * 5 / 4
                }
            };
            let (text, leader) = if !is_narrow(span) {
                (
                    self.lettering(at(middle, level(first)), height, Anchor::Middle, words),
                    Vec::new(),
                )
            } else if is_crowded {
                let place = places.next().unwrap_or(middle);
                let anchor = if away > 0 { Anchor::Start } else { Anchor::End };
                let mut text = self.lettering(at(place + tall * 2 / 5, fan), height, anchor, words);
                text.is_upright = true;
                let end = fan + away * (width + self.paper(40));
                reach = if away > 0 { reach.max(end) } else { reach.min(end) };
                let foot = fan - away * self.paper(35);
                (text, vec![at(middle, second), at(place, foot)])
            } else {
                let text = self.lettering(at(middle, level(second)), height, Anchor::Middle, words);
                (text, vec![at(middle, second - away * tall / 4)])
            };
            self.add(
                Layer::Dimension,
                Shape::Dimension(Dimension {
                    from: at(*from, line),
                    to: at(*to, line),
                    text,
                    tick: Length::from_nanometers(tick),
                    leader,
                }),
            );
        }
        reach + away * self.paper(40)
    }

    /// An upright string of dimensions at `line`, its words level and to the left, spread so that they keep
    /// apart.
    pub(super) fn upright_string(&mut self, levels: &[Nm], line: Nm) {
        let height = lettered::DIMENSION;
        let tall = self.paper(height);
        let middles: Vec<Nm> = levels
            .windows(2)
            .filter_map(|pair| match pair {
                [from, to] if from != to => Some(from.midpoint(*to)),
                _ => None,
            })
            .collect();
        let places = spread(&middles, self.paper(height * 18 / 10));
        let pairs = levels.windows(2).filter(|pair| pair.first() != pair.last());
        for ((pair, middle), place) in pairs.zip(&middles).zip(&places) {
            let [from, to] = *pair else { continue };
            let words = Length::from_nanometers((to - from).abs()).to_string();
            let right = line - self.paper(130);
            let text = self.lettering(at(right, place - tall / 2), height, Anchor::End, &words);
            let leader = if place == middle {
                Vec::new()
            } else {
                vec![at(right + self.paper(30), *place)]
            };
            self.add(
                Layer::Dimension,
                Shape::Dimension(Dimension {
                    from: at(line, from),
                    to: at(line, to),
                    text,
                    tick: Length::from_nanometers(self.paper(45)),
                    leader,
                }),
            );
        }
    }

    /// Words in a column to the right of a drawing, each led to what it names; gives how low the column
    /// reaches.
    pub(super) fn labels(&mut self, labels: &mut [(Point, String)], left: Nm, room: Nm) -> Nm {
        labels.sort_by_key(|(target, words)| (target.y, target.x, words.clone()));
        let height = lettered::NOTE;
        let pitch = self.pitch(height);
        let cap = Length::from_nanometers(self.paper(height));
        let blocks: Vec<Vec<String>> = labels
            .iter()
            .map(|(_, words)| {
                lettering::wrapped(&lettering::plain(words), cap, Length::from_nanometers(room))
            })
            .collect();
        let heights: Vec<Nm> = blocks
            .iter()
            .map(|lines| pitch * i64::try_from(lines.len()).unwrap_or(1) + pitch * 4 / 10)
            .collect();
        let wanted: Vec<Nm> = labels.iter().map(|(target, _)| target.y.nanometers()).collect();
        let middles = spread_blocks(&wanted, &heights);
        let mut lowest = Nm::MAX;
        for (((target, _), lines), (middle, block)) in
            labels.iter().zip(&blocks).zip(middles.iter().zip(&heights))
        {
            let elbow = at(left - self.paper(260), *middle);
            self.add(
                Layer::Note,
                Shape::Polyline {
                    points: vec![*target, elbow, at(left - self.paper(50), *middle)],
                    is_closed: false,
                },
            );
            let radius = Length::from_nanometers(self.paper(18));
            self.add(
                Layer::Note,
                Shape::Disk {
                    center: *target,
                    radius,
                },
            );
            let mut base = middle + (block - pitch * 4 / 10) / 2;
            for line in lines {
                base -= pitch;
                self.text(at(left, base + pitch * 2 / 10), height, Anchor::Start, line);
            }
            lowest = lowest.min(middle - block / 2);
        }
        lowest
    }

    /// The rectangle around all that was drawn since `first`.
    pub(super) fn reach(&self, first: usize) -> Option<Extent> {
        let new = self.items.iter().skip(first);
        new.flat_map(|item| reach_of(&item.shape)).reduce(Extent::with)
    }

    /// Moves all that was drawn since `first`.
    pub(super) fn shift(&mut self, first: usize, right: Nm, up: Nm) {
        let (right, up) = (Length::from_nanometers(right), Length::from_nanometers(up));
        for item in self.items.iter_mut().skip(first) {
            shift(&mut item.shape, right, up);
        }
    }

    /// Whether nothing that was drawn meets a rectangle.
    pub(super) fn is_clear(&self, extent: Extent) -> bool {
        self.items.iter().all(|item| is_clear_of(&item.shape, extent))
    }

    /// Frames what was drawn, puts the title block under it and hands the sheet over. The frame begins at
    /// `top`; the lowest thing drawn ends at `bottom`; the middle from left to right is `middle`.
    pub(super) fn finish(
        mut self,
        title: &Title<'_>,
        name: String,
        description: &str,
        middle: Nm,
        top: Nm,
        bottom: Nm,
    ) -> Sheet {
        let (wide, least) = (self.paper(PAPER.0), self.paper(PAPER.1));
        let (edge, block) = (self.paper(EDGE), self.paper(TITLE_BLOCK));
        // A drawing that does not need the whole sheet stands a little above its middle.
        let spare = (least - (top - bottom) - block - 2 * edge).max(0);
        let high = top + edge + spare * 2 / 5;
        let low = (bottom - block - edge).min(high - least);
        let left = middle - wide / 2;
        let paper = span(left, low, left + wide, high);
        let frame = span(left + edge, low + edge, left + wide - edge, high - edge);
        let (left, right) = (left + edge, left + wide - edge);
        let block_top = low + edge + block;
        let mut back = Self::new(self.scale);
        back.rectangle(Layer::Frame, frame);
        back.line(Layer::Frame, at(left, block_top), at(right, block_top));
        let cells =
            [0, 4_700, 9_700, 13_900, 15_300, 16_300].map(|thousandths| left + self.paper(thousandths));
        let scale = title.scale.map_or_else(|| self.scale.to_string(), str::to_owned);
        let words = [
            ("House", title.house, lettered::HEADING),
            ("Drawing", title.sheet, lettered::HEADING),
            ("Laid out by", title.provisions, lettered::NOTE),
            ("Scale", scale.as_str(), lettered::NOTE),
            ("Sheet", title.number.as_str(), lettered::HEADING),
        ];
        for ((cell, (caption, words, height)), next) in cells.iter().zip(words).zip(cells.iter().skip(1)) {
            let inset = cell + self.paper(110);
            if *cell > left {
                back.line(
                    Layer::Frame,
                    at(*cell, block_top),
                    at(*cell, low + edge + self.paper(260)),
                );
            }
            back.text(at(inset, block_top - self.paper(165)), 70, Anchor::Start, caption);
            let room = next - inset - self.paper(60);
            let cap = Length::from_nanometers(self.paper(height));
            let lines = lettering::wrapped(&lettering::plain(words), cap, Length::from_nanometers(room));
            let is_one_line = lines.len() < 2 || height == lettered::HEADING;
            let (lines, base) = if is_one_line {
                (vec![back.fitted(words, height, room)], 410)
            } else {
                let rest = lines
                    .iter()
                    .skip(1)
                    .map(String::as_str)
                    .collect::<Vec<_>>()
                    .join(" ");
                let first = lines.into_iter().next().unwrap_or_default();
                (vec![first, back.fitted(&rest, height, room)], 330)
            };
            for (line, down) in lines.iter().zip([base, base + 180]) {
                back.text(
                    at(inset, block_top - self.paper(down)),
                    height,
                    Anchor::Start,
                    line,
                );
            }
        }
        back.line(
            Layer::Frame,
            at(left, low + edge + self.paper(260)),
            at(right, low + edge + self.paper(260)),
        );
        back.text(
            at(left + self.paper(110), low + edge + self.paper(90)),
            78,
            Anchor::Start,
            DEFERRAL,
        );
        back.items.append(&mut self.items);
        Sheet {
            name,
            title: format!(
                "{}: {}",
                lettering::plain(title.house),
                lettering::plain(title.sheet)
            ),
            description: lettering::plain(description),
            scale: self.scale,
            paper,
            items: back.items,
        }
    }
}

/// What every sheet says of itself.
const DEFERRAL: &str = "Laid out from a field record; verify every size and station on site before \
                        ordering. The local code official and a licensed engineer decide.";

/// Places in the same order, at least `apart` from each other, near where they are wanted.
pub(super) fn spread(wanted: &[Nm], apart: Nm) -> Vec<Nm> {
    let is_falling = wanted.first() > wanted.last();
    let rising: Vec<Nm> = if is_falling {
        wanted.iter().rev().copied().collect()
    } else {
        wanted.to_vec()
    };
    let heights = vec![apart; rising.len()];
    let mut places = spread_blocks(&rising, &heights);
    if is_falling {
        places.reverse();
    }
    places
}

/// The middles of blocks of some heights, stacked upward in the order given, near where they are wanted:
/// blocks that would meet form one pile, and a pile stands where its blocks are wanted on average.
fn spread_blocks(wanted: &[Nm], heights: &[Nm]) -> Vec<Nm> {
    struct Pile {
        bottom: Nm,
        height: Nm,
        wanted: i128,
        count: i128,
    }
    let mut piles: Vec<Pile> = Vec::new();
    for (wanted, height) in wanted.iter().zip(heights) {
        // Where the bottom of the pile should be for this block alone.
        let mut pile = Pile {
            bottom: wanted - height / 2,
            height: *height,
            wanted: i128::from(wanted - height / 2),
            count: 1,
        };
        while let Some(below) = piles.pop_if(|below| below.bottom + below.height > pile.bottom) {
            let wanted = below.wanted + pile.wanted - pile.count * i128::from(below.height);
            let count = below.count + pile.count;
            pile = Pile {
                bottom: i64::try_from(wanted / count).unwrap_or(pile.bottom),
                height: below.height + pile.height,
                wanted,
                count,
            };
        }
        piles.push(pile);
    }
    let mut bottoms = piles.iter().flat_map(|pile| {
        let count = usize::try_from(pile.count).unwrap_or(0);
        std::iter::once(Some(pile.bottom)).chain(std::iter::repeat_n(None, count.saturating_sub(1)))
    });
    let mut middles = Vec::with_capacity(wanted.len());
    let mut next = 0;
    for height in heights {
        if let Some(Some(bottom)) = bottoms.next() {
            next = bottom;
        }
        middles.push(next + height / 2);
        next += height;
    }
    middles
}

fn reach_of(shape: &Shape) -> Vec<Extent> {
    let around = |center: &Point, radius: &Length| {
        let back = Length::ZERO.saturating_sub(*radius);
        Extent {
            low: center.moved(back, back),
            high: center.moved(*radius, *radius),
        }
    };
    match shape {
        Shape::Line(from, to) => vec![Extent::between(*from, *to)],
        Shape::Polyline { points, .. } | Shape::Solid(points) => points
            .iter()
            .map(|point| Extent::between(*point, *point))
            .collect(),
        Shape::Rectangle(extent) => vec![*extent],
        Shape::Circle { center, radius } | Shape::Disk { center, radius } => vec![around(center, radius)],
        Shape::Hatch(hatch) => vec![hatch.within],
        Shape::Text(text) => vec![text.extent()],
        Shape::Dimension(dimension) => {
            vec![
                dimension.text.extent(),
                Extent::between(dimension.from, dimension.to),
            ]
        }
        Shape::Symbol(symbol) => vec![symbol.extent()],
    }
}

fn shift(shape: &mut Shape, right: Length, up: Length) {
    let moved = |point: &mut Point| *point = point.moved(right, up);
    match shape {
        Shape::Line(from, to) => {
            moved(from);
            moved(to);
        }
        Shape::Polyline { points, .. } | Shape::Solid(points) => points.iter_mut().for_each(moved),
        Shape::Rectangle(extent) => *extent = extent.moved(right, up),
        Shape::Circle { center, .. } | Shape::Disk { center, .. } => moved(center),
        Shape::Hatch(hatch) => hatch.within = hatch.within.moved(right, up),
        Shape::Text(text) => moved(&mut text.at),
        Shape::Dimension(dimension) => {
            for point in [&mut dimension.from, &mut dimension.to, &mut dimension.text.at] {
                moved(point);
            }
            dimension.leader.iter_mut().for_each(moved);
        }
        Shape::Symbol(symbol) => symbol.corners.iter_mut().for_each(moved),
    }
}

fn is_clear_of(shape: &Shape, extent: Extent) -> bool {
    let clear_of_lines = |points: &[Point], is_closed: bool| {
        let back = points.last().zip(points.first()).filter(|_| is_closed);
        let mut pairs = points
            .windows(2)
            .filter_map(|pair| pair.first().zip(pair.last()))
            .chain(back);
        pairs.all(|(from, to)| !crosses(*from, *to, extent))
    };
    match shape {
        Shape::Line(from, to) => !crosses(*from, *to, extent),
        Shape::Polyline { points, is_closed } => clear_of_lines(points, *is_closed),
        Shape::Rectangle(rectangle) => clear_of_lines(&rectangle.corners(), true),
        Shape::Dimension(dimension) => {
            !dimension.text.extent().overlaps(extent)
                && dimension
                    .strokes()
                    .iter()
                    .all(|[from, to]| !crosses(*from, *to, extent))
        }
        Shape::Symbol(symbol) => {
            let [a, b, c, d] = symbol.corners;
            clear_of_lines(&symbol.corners, true) && !crosses(a, c, extent) && !crosses(b, d, extent)
        }
        other => reach_of(other).iter().all(|reach| !reach.overlaps(extent)),
    }
}

/// Whether a straight line passes through a rectangle.
pub(super) fn crosses(from: Point, to: Point, extent: Extent) -> bool {
    if !touches(Extent::between(from, to), extent) {
        return false;
    }
    // Two boxes that meet are crossed unless all corners of one lie on the same side of the line.
    let side = |corner: Point| {
        let across = |a: Length, b: Length| i128::from(a.nanometers()) - i128::from(b.nanometers());
        let turn =
            across(to.x, from.x) * across(corner.y, from.y) - across(to.y, from.y) * across(corner.x, from.x);
        turn.signum()
    };
    let sides = extent.corners().map(side);
    let is_one_side = |sign: i128| sides.iter().all(|side| *side == sign);
    !is_one_side(1) && !is_one_side(-1)
}

/// Whether two rectangles, one of which may be as thin as a line, meet.
fn touches(a: Extent, b: Extent) -> bool {
    a.low.x <= b.high.x && b.low.x <= a.high.x && a.low.y <= b.high.y && b.low.y <= a.high.y
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crowded_places_keep_apart_and_in_order() {
        let places = spread_blocks(&[0, 1, 2, 100], &[10, 10, 10, 10]);
        assert!(
            places.windows(2).all(|pair| pair[1] - pair[0] >= 10),
            "{places:?}"
        );
        assert_eq!(places[3], 100);
        // The pile stands about where its blocks were wanted.
        assert!((places[1] - 1).abs() <= 1, "{places:?}");
        assert_eq!(spread(&[100, 2, 1], 10)[0], 100);
    }

    #[test]
    fn a_line_beside_a_rectangle_does_not_cross_it() {
        let square = span(0, 0, 10, 10);
        assert!(crosses(at(-5, 5), at(15, 5), square));
        assert!(crosses(at(2, 2), at(3, 3), square));
        assert!(!crosses(at(-5, 8), at(3, 16), square));
        assert!(crosses(at(-5, 0), at(5, 10), square));
        assert!(!crosses(at(11, 0), at(11, 10), square));
    }
}
