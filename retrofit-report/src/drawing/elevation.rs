//! The elevation of a wall line, seen from inside the crawl space: stations run from left to right.

use retrofit_core::house::{
    CrippleStretch, House, JoistDirection, Opening, OpeningKind, Panel, Rim, Span, TopPlate, WallLine,
};
use retrofit_core::measure::Length;
use retrofit_core::provisions::Provisions;
use retrofit_core::remedy::{Credit, LineRemedy, Part, Remedy, studs};

use super::drafting::{Drafting, MARGIN, Nm, PAPER, Title, at, lettered, span};
use super::existing;
use super::sheet::{Anchor, Extent, Layer, Scale, Sheet};
use super::symbol::{Kind, View};
use super::{details, words};

/// The room on paper beside the wall for heights, in thousandths of an inch.
const BESIDE: i64 = 1_150;
/// The most room on paper from the floor to the bottom of the footing.
const TALLEST: i64 = 4_600;
/// Openings are recorded by station and top; their height is not, so it is drawn like this.
const DRAWN_OPENING: Length = Length::inches(8);

/// A stretch of the wall line over which nothing changes its height.
struct Stretch {
    from: Nm,
    to: Nm,
    /// The top of the foundation, below the underside of the floor framing.
    foundation: Nm,
    is_height_known: bool,
    /// The ground inside.
    ground: Nm,
    is_ground_known: bool,
    /// The bottom of the footing.
    bottom: Nm,
}

/// What is drawn, and how.
struct Elevation<'a> {
    house: &'a House,
    wall: &'a WallLine,
    line: &'a LineRemedy,
    length: Nm,
    joist_depth: Nm,
    stretches: Vec<Stretch>,
    drafting: Drafting,
}

/// The elevation of a wall line, by its place in the house; `None` where its length is not on record, so that
/// there is nothing to draw.
pub fn elevation(remedy: &Remedy, provisions: &Provisions, wall_line: usize) -> Option<Sheet> {
    let house = &remedy.taken_as;
    let wall = house.wall_lines.get(wall_line)?;
    let line = remedy.lines.iter().find(|line| line.wall_line == wall_line)?;
    let length = wall.length.value()?.nanometers();
    let stretches = stretches(wall, length);
    let joist_depth = existing::or_usual(&house.floor.joist_depth, existing::JOIST_DEPTH).0;
    let lowest = stretches.iter().map(|stretch| stretch.bottom).min().unwrap_or(0);
    let room = |thousandths: i64| Length::from_nanometers(thousandths * 25_400);
    let scale = Scale::to_fit(
        &[
            (
                Length::from_nanometers(length),
                room(PAPER.0 - 2 * MARGIN - 2 * BESIDE),
            ),
            (Length::from_nanometers(joist_depth - lowest), room(TALLEST)),
        ],
        Scale::HALF_INCH,
    );
    let elevation = Elevation {
        house,
        wall,
        line,
        length,
        joist_depth,
        stretches,
        drafting: Drafting::new(scale),
    };
    Some(elevation.draw(remedy, provisions))
}

/// The heights along the wall line, cut wherever foundation or cripple wall change.
fn stretches(wall: &WallLine, length: Nm) -> Vec<Stretch> {
    let whole = Length::from_nanometers(length);
    let mut breaks = vec![0, length];
    let mut cut = |span: Span| {
        breaks.extend([span.from.nanometers(), span.to.unwrap_or(whole).nanometers()]);
    };
    for stretch in wall.foundation.listed() {
        cut(stretch.span(Some(whole)));
    }
    for stretch in wall.cripple_wall.listed() {
        cut(stretch.span(Some(whole)));
    }
    breaks.retain(|station| (0..=length).contains(station));
    breaks.sort_unstable();
    breaks.dedup();
    breaks
        .windows(2)
        .filter_map(|pair| match pair {
            [from, to] => Some((*from, *to)),
            _ => None,
        })
        .map(|(from, to)| {
            let middle = Length::from_nanometers(from.midpoint(to));
            let (height, is_height_known) = existing::height_at(wall, middle);
            let stem = existing::foundation_at(wall, middle).map(|stretch| &stretch.stem_height);
            let (stem, is_ground_known) = stem.map_or((existing::STEM.nanometers(), false), |stem| {
                existing::or_usual(stem, existing::STEM)
            });
            let depth = existing::foundation_at(wall, middle)
                .map_or(existing::FOOTING.nanometers(), |stretch| {
                    existing::or_usual(&stretch.footing_depth, existing::FOOTING).0
                });
            Stretch {
                from,
                to,
                foundation: -height,
                is_height_known,
                ground: -height - stem,
                is_ground_known,
                bottom: -height - stem - depth,
            }
        })
        .collect()
}

impl Elevation<'_> {
    fn draw(mut self, remedy: &Remedy, provisions: &Provisions) -> Sheet {
        let title = format!(
            "Elevation of wall line {}, {}, seen from inside",
            words::number(self.line.wall_line),
            self.wall.name
        );
        self.floor();
        self.foundation();
        self.sill();
        self.cripple_wall();
        self.openings();
        self.panels();
        self.floor_work();
        self.anchors();
        let top = self.panel_dimensions();
        let bottom = self.anchor_dimensions();
        self.heights();

        let left = self.length / 2 - self.drafting.paper(PAPER.0 / 2 - MARGIN);
        let stations = self.line_stations();
        let draft = &mut self.drafting;
        let heading_at = top + draft.paper(300);
        let heading = draft.fitted(
            &title.to_uppercase(),
            lettered::HEADING * 114 / 100,
            draft.paper(15_000),
        );
        draft.heading(at(left, heading_at), lettered::HEADING, Anchor::Start, &heading);
        draft.text(
            at(left, heading_at - draft.paper(210)),
            lettered::NOTE,
            Anchor::Start,
            "Stations in feet and inches from the left end.",
        );
        let top = heading_at + draft.paper(420);
        let first = draft.items.len();
        let columns = bottom - draft.paper(350);
        let column = |thousandths: i64| left + draft.paper(thousandths);
        let (second, third) = (column(6_700), column(11_700));
        let mut notes = words::notes(remedy, provisions, self.line, self.wall);
        if let Some(detail) = details::numbers(remedy, self.line.wall_line) {
            notes.push(format!("Section: see {detail}."));
        }
        notes.push(existing::DRAWN_DASHED.to_owned());
        notes.extend(words::standing(provisions));
        let room = draft.paper(6_300);
        let mut low = draft.column(left, columns, room, "NOTES", &notes);
        let room = draft.paper(4_600);
        low = low.min(draft.column(second, columns, room, "STATIONS", &stations));
        let room = draft.paper(3_900);
        let mut key = vec![(Layer::Hidden, "Behind, below grade, or not on record")];
        key.push((Layer::Ground, "Ground inside"));
        low = low.min(self.drafting.key(third, columns, room, &key));
        // What room is left on the paper is shared between the drawing and the notes.
        let spare = self.drafting.paper(PAPER.1 - 2 * 350 - 820) - (top - low);
        if spare > 0 {
            self.drafting.shift(first, 0, -spare / 3);
        }
        let top = top + spare.max(0) / 3;
        let low = low - spare.max(0) / 3;
        let description = format!(
            "Wall line {} of {}, {} long, with {} new anchors and {} new panels.",
            words::number(self.line.wall_line),
            self.house.name,
            words::length(Length::from_nanometers(self.length)),
            self.line.anchors.work().map_or(0, |work| work.added.len()),
            self.line.panels.work().map_or(0, |work| work.added.len()),
        );
        let name = format!("elevation-{}", words::number(self.line.wall_line));
        self.drafting.finish(
            &Title {
                house: &self.house.name,
                sheet: &title,
                provisions: &provisions.title,
                number: format!("S{}", self.line.wall_line + 2),
                scale: None,
            },
            name,
            &description,
            self.length / 2,
            top,
            low,
        )
    }

    fn line_stations(&self) -> Vec<String> {
        let list = |stations: &mut dyn Iterator<Item = Length>| {
            stations.map(words::length).collect::<Vec<_>>().join("; ")
        };
        let mut paragraphs = Vec::new();
        if let Some(work) = self.line.anchors.work() {
            let new = list(&mut work.added.iter().map(|anchor| anchor.at));
            if !new.is_empty() {
                paragraphs.push(format!("New anchors: {new}."));
            }
            let held = work.existing.iter().filter(|anchor| anchor.credit.is_relied_on());
            let held = list(&mut held.flat_map(|anchor| anchor.stations.iter().copied()));
            if !held.is_empty() {
                paragraphs.push(format!("Existing anchors that count: {held}."));
            }
        }
        for (place, panel) in self
            .line
            .panels
            .work()
            .into_iter()
            .flat_map(|work| &work.added)
            .enumerate()
        {
            let to = panel.to.saturating_sub(panel.from);
            paragraphs.push(format!(
                "Panel P{}: {} to {}, {} long, {} high, {} studs; {}.",
                place + 1,
                words::length(panel.from),
                words::length(panel.to),
                words::length(to),
                words::length(panel.height),
                panel.studs.len(),
                words::foot_words(panel.foot)
            ));
        }
        for opening in self.wall.openings.listed() {
            paragraphs.push(format!(
                "Existing {}: {} to {}.",
                words::opening_mark(opening.kind),
                words::length(opening.from),
                words::length(opening.to)
            ));
        }
        if let Some(pieces) = self.wall.sill.value().filter(|pieces| pieces.len() > 1) {
            let ends = pieces
                .iter()
                .filter_map(|piece| piece.from)
                .filter(|from| *from > Length::ZERO);
            paragraphs.push(format!(
                "Sill splices: {}.",
                list(&mut ends.collect::<Vec<_>>().into_iter())
            ));
        }
        let stretches = self
            .wall
            .cripple_wall
            .value()
            .filter(|stretches| stretches.len() > 1);
        for stretch in stretches.into_iter().flatten() {
            let height = stretch.height.value().map_or_else(
                || words::TO_BE_VERIFIED.to_owned(),
                |height| words::length(*height),
            );
            let whole = Length::from_nanometers(self.length);
            let Span { from, to } = stretch.span(Some(whole));
            paragraphs.push(format!(
                "Cripple wall: {} to {}, {height} high.",
                words::length(from),
                words::length(to.unwrap_or(whole))
            ));
        }
        if paragraphs.is_empty() {
            paragraphs.push("None.".to_owned());
        }
        paragraphs
    }

    /// The stretch at a station.
    fn at(&self, station: Nm) -> Option<&Stretch> {
        self.stretches
            .iter()
            .find(|stretch| stretch.from <= station && station <= stretch.to)
            .or_else(|| self.stretches.last())
    }

    /// The top of the foundation at a station.
    fn foundation_top(&self, station: Nm) -> Nm {
        self.at(station).map_or(0, |stretch| stretch.foundation)
    }

    /// The thickness of the sill at a station.
    fn sill_thickness(&self, station: Nm) -> Nm {
        existing::sill_at(self.wall, Length::from_nanometers(station))
            .map_or(existing::MEMBER.nanometers(), |piece| {
                existing::or_usual(&piece.thickness, existing::MEMBER).0
            })
    }

    fn sill_top(&self, station: Nm) -> Nm {
        self.foundation_top(station) + self.sill_thickness(station)
    }

    fn floor(&mut self) {
        let depth = self.joist_depth;
        let layer = if self.house.floor.joist_depth.is_known() {
            Layer::Existing
        } else {
            Layer::Hidden
        };
        let subfloor = existing::SUBFLOOR.nanometers();
        self.drafting.rectangle(layer, span(0, 0, self.length, depth));
        self.drafting
            .rectangle(Layer::Existing, span(0, depth, self.length, depth + subfloor));
        if self.wall.joists.value() != Some(&JoistDirection::Perpendicular) {
            return;
        }
        let spacing = existing::joist_spacing(self.house);
        let (thickness, _) = existing::or_usual(&self.house.floor.joist_thickness, existing::MEMBER);
        let mut station = 0;
        while station <= self.length {
            let (from, to) = (
                (station - thickness / 2).max(0),
                (station + thickness / 2).min(self.length),
            );
            self.drafting.rectangle(layer, span(from, 0, to, depth));
            station += spacing;
        }
    }

    fn foundation(&mut self) {
        let mut top = Vec::new();
        let mut ground = Vec::new();
        let mut bottom = Vec::new();
        for stretch in &self.stretches {
            top.extend([
                at(stretch.from, stretch.foundation),
                at(stretch.to, stretch.foundation),
            ]);
            ground.extend([at(stretch.from, stretch.ground), at(stretch.to, stretch.ground)]);
            bottom.extend([at(stretch.from, stretch.bottom), at(stretch.to, stretch.bottom)]);
        }
        let is_known = self.stretches.iter().all(|stretch| stretch.is_height_known);
        let (Some(first), Some(last)) = (self.stretches.first(), self.stretches.last()) else {
            return;
        };
        let ends = [
            (at(0, first.foundation), at(0, first.ground), at(0, first.bottom)),
            (
                at(self.length, last.foundation),
                at(self.length, last.ground),
                at(self.length, last.bottom),
            ),
        ];
        let draft = &mut self.drafting;
        let beyond = draft.paper(180);
        let layer = if is_known { Layer::Existing } else { Layer::Hidden };
        let line = |points| super::sheet::Shape::Polyline {
            points,
            is_closed: false,
        };
        draft.add(layer, line(top));
        draft.add(Layer::Hidden, line(bottom));
        for (top, grade, bottom) in ends {
            draft.line(layer, top, grade);
            draft.line(Layer::Hidden, grade, bottom);
        }
        let out = Length::from_nanometers(beyond);
        if let Some(first) = ground.first_mut() {
            *first = first.moved(Length::ZERO.saturating_sub(out), Length::ZERO);
        }
        if let Some(last) = ground.last_mut() {
            *last = last.moved(out, Length::ZERO);
        }
        for pair in ground.chunks(2) {
            if let [from, to] = pair {
                draft.line(Layer::Ground, *from, *to);
            }
        }
    }

    fn sill(&mut self) {
        let whole = Length::from_nanometers(self.length);
        let pieces = self.wall.sill.listed();
        for (place, piece) in pieces.iter().enumerate() {
            let Span { from, to } = piece.span(Some(whole));
            let (from, to) = (from.nanometers(), to.unwrap_or(whole).nanometers());
            let (thickness, is_known) = existing::or_usual(&piece.thickness, existing::MEMBER);
            let is_replaced = self.line.sill.iter().any(|work| work.piece == place);
            // A piece that was recorded in one over a step of the foundation is drawn on every step.
            let steps: Vec<Extent> = self
                .stretches
                .iter()
                .map(|stretch| (stretch.from.max(from), stretch.to.min(to), stretch.foundation))
                .filter(|(from, to, _)| from < to)
                .fold(Vec::new(), |mut steps: Vec<Extent>, (from, to, low)| {
                    let extent = span(from, low, to, low + thickness);
                    match steps.last_mut() {
                        Some(last) if last.low.y == extent.low.y => *last = last.with(extent),
                        _ => steps.push(extent),
                    }
                    steps
                });
            for extent in steps {
                if is_replaced {
                    self.drafting.symbol(Kind::NewSill, View::Elevation, extent);
                } else {
                    let layer = if is_known { Layer::Existing } else { Layer::Hidden };
                    self.drafting.rectangle(layer, extent);
                }
            }
        }
    }

    fn cripple_wall(&mut self) {
        let whole = Length::from_nanometers(self.length);
        for stretch in self.wall.cripple_wall.listed() {
            let Span { from, to } = stretch.span(Some(whole));
            let (from, to) = (from.nanometers(), to.unwrap_or(whole).nanometers());
            let (thickness, _) = existing::or_usual(&stretch.stud_thickness, existing::MEMBER);
            let plates = plates(stretch);
            let count = i64::try_from(plates.len()).unwrap_or(0);
            let bottom = self.sill_top(from.midpoint(to));
            for (place, layer) in (0..).zip(plates) {
                let top = -place * thickness;
                self.drafting
                    .rectangle(layer, span(from, top - thickness, to, top));
            }
            let top = -count * thickness;
            if top <= bottom {
                continue;
            }
            let ends = [from, to].map(Length::from_nanometers);
            let studs = studs(stretch, ends[0], ends[1]).unwrap_or_else(|| ends.to_vec());
            for stud in studs.into_iter().map(Length::nanometers) {
                // The stations of the two ends are those of their outer faces.
                let middle = stud.clamp(
                    from + thickness / 2,
                    (to - thickness / 2).max(from + thickness / 2),
                );
                let is_behind = self.new_panels().any(|(start, end)| start <= stud && stud <= end);
                let layer = if is_behind { Layer::Hidden } else { Layer::Existing };
                self.drafting.rectangle(
                    layer,
                    span(middle - thickness / 2, bottom, middle + thickness / 2, top),
                );
            }
        }
    }

    /// The new panels from station to station.
    fn new_panels(&self) -> impl Iterator<Item = (Nm, Nm)> {
        let added = self.line.panels.work().into_iter().flat_map(|work| &work.added);
        added.map(|panel| (panel.from.nanometers(), panel.to.nanometers()))
    }

    fn openings(&mut self) {
        let openings = self.wall.openings.listed();
        for (place, opening) in openings.iter().enumerate() {
            let moved = self
                .line
                .panels
                .work()
                .and_then(|work| work.moved_vents.iter().find(|vent| vent.opening == place));
            let kind = Kind::of_opening(opening.kind, moved.is_some());
            let extent = self.opening_extent(opening, opening.from, opening.to);
            self.drafting.symbol(kind, View::Elevation, extent);
            if let Some((from, to)) = moved.and_then(|vent| vent.to) {
                let extent = self.opening_extent(opening, from, to);
                self.drafting.symbol(Kind::NewVent, View::Elevation, extent);
            }
        }
    }

    fn opening_extent(&self, opening: &Opening, from: Length, to: Length) -> Extent {
        let (from, to) = (from.nanometers(), to.nanometers());
        let middle = from.midpoint(to);
        let foundation = self.foundation_top(middle);
        let sill = self.sill_top(middle);
        let drawn = DRAWN_OPENING.nanometers();
        let has_wall = existing::has_cripple_wall(self.wall);
        if !has_wall {
            // Through the foundation.
            let low = if opening.kind == OpeningKind::Vent {
                foundation - drawn
            } else {
                foundation - 2 * drawn
            };
            return span(from, low, to, foundation);
        }
        let under_plates = -2 * existing::MEMBER.nanometers();
        let top = opening
            .top
            .value()
            .map_or(under_plates, |top| foundation + top.nanometers());
        let top = top.clamp((sill + drawn / 2).min(0), 0);
        let low = match opening.kind {
            OpeningKind::Access | OpeningKind::Blocked => sill,
            OpeningKind::Vent | OpeningKind::Pipe => (top - drawn).max(sill),
        };
        span(from, low.min(top - drawn / 4), to, top)
    }

    fn panels(&mut self) {
        let records = self.wall.panels.listed();
        for (place, record) in records.iter().enumerate() {
            let Some((from, to)) = record.stations() else {
                continue;
            };
            let judged = self
                .line
                .panels
                .work()
                .and_then(|work| work.existing.iter().find(|panel| panel.item == place));
            let kind = match judged {
                Some(panel) if panel.is_removed => Kind::RemovedPanel,
                Some(panel) if !panel.credit.is_relied_on() => Kind::UncountedPanel,
                _ => Kind::ExistingPanel,
            };
            let extent = self.panel_extent(from, to);
            self.drafting.symbol(kind, View::Elevation, extent);
        }
        let added = self.line.panels.work().into_iter().flat_map(|work| &work.added);
        let extents: Vec<Extent> = added
            .map(|panel| self.panel_extent(panel.from, panel.to))
            .collect();
        for extent in extents {
            self.drafting.symbol(Kind::NewPanel, View::Elevation, extent);
        }
    }

    fn panel_extent(&self, from: Length, to: Length) -> Extent {
        let (from, to) = (from.nanometers(), to.nanometers());
        span(from, self.foundation_top(from.midpoint(to)), to, 0)
    }

    fn floor_work(&mut self) {
        let Some(work) = self.line.floor.work() else {
            return;
        };
        let depth = self.joist_depth;
        if let Some(rim) = &work.rim {
            if rim.pattern == Rim::Continuous && rim.blocks.is_empty() {
                let extent = span(0, 0, self.length, depth);
                self.drafting.symbol(Kind::NewEndJoist, View::Elevation, extent);
            }
            let (thickness, _) = existing::or_usual(&self.house.floor.joist_thickness, existing::MEMBER);
            let half = (existing::joist_spacing(self.house) - thickness).max(thickness) / 2;
            for block in &rim.blocks {
                let middle = block.nanometers();
                let (from, to) = ((middle - half).max(0), (middle + half).min(self.length));
                // Kept about its station where the end of the wall cuts the last bay short.
                let reach = (middle - from).min(to - middle);
                let extent = span(middle - reach, 0, middle + reach, depth);
                self.drafting.symbol(Kind::NewJoistBlock, View::Elevation, extent);
            }
        }
        for clip in &work.clips {
            let (half, tall) = (self.drafting.paper(45), self.drafting.paper(80));
            let middle = clip.nanometers();
            let extent = span(middle - half, 0, middle + half, tall);
            self.drafting.symbol(Kind::NewClip, View::Elevation, extent);
        }
    }

    fn anchors(&mut self) {
        for (station, kind) in existing::anchors(self.wall, self.line) {
            let extent = self.anchor_extent(station, None);
            self.drafting.symbol(kind, View::Elevation, extent);
        }
        let Some(work) = self.line.anchors.work() else {
            return;
        };
        for anchor in &work.added {
            if words::is_plate(anchor) {
                let station = anchor.at.nanometers();
                let (half, below) = (self.drafting.paper(60), self.drafting.paper(130));
                let extent = span(
                    station - half,
                    self.foundation_top(station) - below,
                    station + half,
                    self.sill_top(station),
                );
                self.drafting.symbol(Kind::NewSidePlate, View::Elevation, extent);
            } else {
                let extent = self.anchor_extent(anchor.at, anchor.embedment);
                self.drafting.symbol(Kind::NewAnchor, View::Elevation, extent);
            }
        }
    }

    fn anchor_extent(&self, station: Length, embedment: Option<Length>) -> Extent {
        let station = station.nanometers();
        let radius = self.drafting.paper(42);
        let embedment = embedment.unwrap_or(existing::EMBEDMENT).nanometers();
        let bottom = self.foundation_top(station) - embedment;
        span(
            station - radius,
            bottom,
            station + radius,
            self.sill_top(station) + 2 * radius,
        )
    }

    /// Panels and the gaps between them above the floor, and their numbers; gives how high they reach.
    fn panel_dimensions(&mut self) -> Nm {
        let floor = self.joist_depth + existing::SUBFLOOR.nanometers();
        let line = floor + self.drafting.paper(320);
        let mut stations: Vec<Nm> = self.new_panels().flat_map(|(from, to)| [from, to]).collect();
        let records = self.wall.panels.listed();
        let removed = |place: usize| {
            let work = self.line.panels.work();
            work.is_some_and(|work| {
                work.existing
                    .iter()
                    .any(|panel| panel.item == place && panel.is_removed)
            })
        };
        let kept = records.iter().enumerate().filter(|(place, _)| !removed(*place));
        let kept = kept.filter_map(|(_, record)| Panel::stations(record));
        stations.extend(kept.flat_map(|(from, to)| [from.nanometers(), to.nanometers()]));
        if stations.is_empty() {
            return floor + self.drafting.paper(120);
        }
        stations.extend([0, self.length]);
        stations.sort_unstable();
        stations.dedup();
        let top = self.drafting.level_string(&stations, line, 1);
        let numbered: Vec<(Nm, Nm)> = self.new_panels().collect();
        let mut free_from = Nm::MIN;
        for (place, (from, to)) in numbered.into_iter().enumerate() {
            let words = format!("P{}", place + 1);
            let half = self.drafting.width(&words, lettered::NOTE) / 2;
            let middle = from.midpoint(to);
            // Panels too short for their numbers are told by the list of stations.
            if middle - half > free_from && 2 * half < to - from {
                let base = floor + self.drafting.paper(110);
                self.drafting
                    .text(at(middle, base), lettered::NOTE, Anchor::Middle, &words);
                free_from = middle + half;
            }
        }
        top + self.drafting.paper(60)
    }

    /// Anchors, sill pieces and the whole length below the foundation; gives how low they reach.
    fn anchor_dimensions(&mut self) -> Nm {
        let lowest = self
            .stretches
            .iter()
            .map(|stretch| stretch.bottom)
            .min()
            .unwrap_or(0);
        let mut line = lowest - self.drafting.paper(260);
        let work = self.line.anchors.work();
        let mut anchors: Vec<Nm> = work
            .into_iter()
            .flat_map(|work| &work.added)
            .map(|anchor| anchor.at.nanometers())
            .collect();
        anchors.extend(
            existing::anchors(self.wall, self.line)
                .into_iter()
                .filter(|(_, kind)| *kind != Kind::UncountedAnchor)
                .map(|(station, _)| station.nanometers()),
        );
        let whole = Length::from_nanometers(self.length);
        let pieces = self.wall.sill.listed().iter();
        let pieces: Vec<Nm> = pieces
            .filter_map(|piece| piece.span(Some(whole)).to)
            .map(Length::nanometers)
            .collect();
        for (caption, stations) in [
            ("anchors", anchors),
            ("sill pieces", pieces),
            ("overall", Vec::new()),
        ] {
            let mut stations = stations;
            if stations.is_empty() && caption != "overall" || (caption == "sill pieces" && stations.len() < 2)
            {
                continue;
            }
            stations.extend([0, self.length]);
            stations.retain(|station| (0..=self.length).contains(station));
            stations.sort_unstable();
            stations.dedup();
            let tall = self.drafting.paper(lettered::NOTE);
            let right = -self.drafting.paper(330);
            self.drafting
                .text(at(right, line - tall / 2), lettered::NOTE, Anchor::End, caption);
            line = self.drafting.level_string(&stations, line, -1) - self.drafting.paper(90);
        }
        line
    }

    /// The heights at both ends, where they are on record.
    fn heights(&mut self) {
        let levels = |stretch: &Stretch| {
            let mut levels = Vec::new();
            if stretch.is_height_known {
                levels.extend([0, stretch.foundation]);
                if stretch.is_ground_known {
                    levels.push(stretch.ground);
                }
            }
            levels
        };
        let left = self.stretches.first().map(levels).unwrap_or_default();
        let right = self.stretches.last().map(levels).unwrap_or_default();
        let (near, far) = (
            -self.drafting.paper(330),
            self.length + self.drafting.paper(1_050),
        );
        self.drafting.upright_string(&left, near);
        if left != right {
            self.drafting.upright_string(&right, far);
        }
    }
}

/// The top plates from the top down, by the layer they are drawn on.
fn plates(stretch: &CrippleStretch) -> Vec<Layer> {
    match stretch.top_plate.value() {
        Some(TopPlate::Double | TopPlate::DoubleLoose) => vec![Layer::Existing; 2],
        Some(TopPlate::Single) => vec![Layer::Existing],
        Some(TopPlate::None) => Vec::new(),
        None => vec![Layer::Hidden],
    }
}

/// How an existing anchor is drawn.
pub(super) fn kind_of(credit: Credit) -> Kind {
    match credit {
        Credit::Counts => Kind::ExistingAnchor,
        Credit::Mended { .. } => Kind::MendedAnchor,
        Credit::Lacks(_) | Credit::NotSeen(_) | Credit::NotPlaced => Kind::UncountedAnchor,
    }
}

/// Whether a part has neither work nor a reason against it.
pub(super) const fn is_done<T>(part: &Part<T>) -> bool {
    matches!(part, Part::NothingToAdd)
}
