//! Section details: one for each condition that occurs, cut through the wall, drawn to scale from the house's
//! own sizes.

use retrofit_core::choice::Choice;
use retrofit_core::house::{JoistDirection, PanelFoot, Rim, SillAgainstStuds, TopPlate, WallLine, Washer};
use retrofit_core::measure::Length;
use retrofit_core::observation::Observed;
use retrofit_core::provisions::Provisions;
use retrofit_core::remedy::{LineRemedy, NewAnchor, Remedy};

use super::drafting::{Drafting, MARGIN, Nm, PAPER, Title, at, lettered, span};
use super::existing;
use super::sheet::{Anchor, Layer, Point, Scale, Shape, Sheet};
use super::words::{self, TO_BE_VERIFIED};

/// Details that stand beside each other on a sheet.
const BESIDE: usize = 2;
/// The room for the cut itself on paper, in thousandths of an inch.
const ROOM: (i64, i64) = (3_500, 7_000);
/// How far the floor is drawn inward of the foundation.
const INWARD: Length = Length::inches(13);
/// How far the ground is drawn outside.
const OUTWARD: Length = Length::inches(5);
/// How a covering is drawn whose thickness is not on record.
const COVERING: Length = Length::sixty_fourths(48);
/// How a panel is drawn for which the provisions name no thickness.
const SHEATHING: Length = Length::sixty_fourths(32);

/// A condition: wall lines that share it are built alike.
#[derive(Clone, Debug)]
struct Condition<'a> {
    remedy: &'a Remedy,
    /// The wall lines, by their place in the house; the first is drawn.
    wall_lines: Vec<usize>,
    wall: &'a WallLine,
    line: &'a LineRemedy,
    /// Where the first of them is cut.
    station: Length,
    built: Built,
}

/// What makes a condition differ from another.
#[derive(Clone, Debug, PartialEq)]
struct Built {
    on_studs: bool,
    foot: Option<PanelFoot>,
    joists: Option<JoistDirection>,
    anchor: Option<NewAnchor>,
    has_clips: bool,
    has_rim_work: bool,
    stem_thickness: Option<Length>,
    sill: (Option<Length>, Option<Length>),
    studs: Option<Length>,
    against: Option<SillAgainstStuds>,
}

/// The conditions of a remedy in the order of the house.
fn conditions(remedy: &Remedy) -> Vec<Condition<'_>> {
    let mut conditions: Vec<Condition<'_>> = Vec::new();
    for line in &remedy.lines {
        let Some(wall) = remedy.taken_as.wall_lines.get(line.wall_line) else {
            continue;
        };
        let Some(length) = wall.length.value() else {
            continue;
        };
        let panels = line.panels.work().filter(|work| !work.added.is_empty());
        let anchors = line.anchors.work().filter(|work| !work.added.is_empty());
        let floor = line.floor.work();
        if panels.is_none() && anchors.is_none() && floor.is_none() {
            continue;
        }
        let panel = panels.and_then(|work| work.added.first());
        let anchor = anchors.and_then(|work| work.added.first());
        let station = match (panel, anchor) {
            (Some(panel), _) => super::sheet::halfway(panel.from, panel.to),
            (None, Some(anchor)) => anchor.at,
            (None, None) => super::sheet::halfway(Length::ZERO, *length),
        };
        let sill = existing::sill_at(wall, station);
        let built = Built {
            on_studs: existing::cripple_wall_at(wall, station).is_some(),
            foot: panel.map(|panel| panel.foot),
            joists: wall.joists.value().copied(),
            anchor: anchor.map(|anchor| NewAnchor {
                at: Length::ZERO,
                ..*anchor
            }),
            has_clips: floor.is_some_and(|work| !work.clips.is_empty()),
            has_rim_work: floor.is_some_and(|work| work.rim.is_some()),
            stem_thickness: existing::foundation_at(wall, station)
                .and_then(|stretch| stretch.stem_thickness.value().copied()),
            sill: (
                sill.and_then(|piece| piece.thickness.value().copied()),
                sill.and_then(|piece| piece.width.value().copied()),
            ),
            studs: existing::cripple_wall_at(wall, station)
                .and_then(|stretch| stretch.stud_depth.value().copied()),
            against: sill.and_then(|piece| piece.against_studs.value().copied()),
        };
        match conditions.iter_mut().find(|held| held.built == built) {
            Some(held) => held.wall_lines.push(line.wall_line),
            None => conditions.push(Condition {
                remedy,
                wall_lines: vec![line.wall_line],
                wall,
                line,
                station,
                built,
            }),
        }
    }
    conditions
}

/// Where the section through a wall line is: `detail 2 on sheet S6`.
pub(super) fn numbers(remedy: &Remedy, wall_line: usize) -> Option<String> {
    let place = conditions(remedy)
        .iter()
        .position(|condition| condition.wall_lines.contains(&wall_line))?;
    Some(format!(
        "detail {} on sheet {}",
        place + 1,
        sheet_number(remedy, place / BESIDE)
    ))
}

/// The plan comes first, then a sheet for each wall line.
fn sheet_number(remedy: &Remedy, page: usize) -> String {
    format!("S{}", remedy.taken_as.wall_lines.len() + 2 + page)
}

/// A section detail for each condition that occurs where something is added, as many to a sheet as have room.
pub fn details(remedy: &Remedy, provisions: &Provisions) -> Vec<Sheet> {
    let conditions = conditions(remedy);
    let mut sheets = Vec::new();
    for (page, conditions) in conditions.chunks(BESIDE).enumerate() {
        let sections: Vec<Section<'_>> = conditions.iter().map(Section::new).collect();
        let room = |thousandths: i64| Length::from_nanometers(thousandths * 25_400);
        let mut sizes = Vec::new();
        for section in &sections {
            let wide = section.right + OUTWARD.nanometers();
            let tall = section.top() - section.bottom();
            sizes.push((Length::from_nanometers(wide), room(ROOM.0)));
            sizes.push((Length::from_nanometers(tall), room(ROOM.1)));
        }
        let mut draft = Drafting::new(Scale::to_fit(&sizes, Scale::DETAIL));
        let cell = draft.paper(PAPER.0 - 2 * MARGIN) / 2;
        let mut low = 0;
        let heading_at = sections.iter().map(Section::top).max().unwrap_or(0) + draft.paper(550);
        for (place, section) in (0..).zip(&sections) {
            let first = draft.items.len();
            let number = page * BESIDE + usize::try_from(place).unwrap_or(0) + 1;
            low = low.min(section.draw(&mut draft, provisions, number, heading_at));
            draft.shift(first, place * cell, 0);
        }
        let left = -draft.paper(1_450);
        let foot = low - draft.paper(250);
        let mut note = format!(
            "New work is drawn heavy or black. {} Nailing and stations: see the elevations.",
            existing::DRAWN_DASHED
        );
        if let Some(standing) = words::standing(provisions) {
            note = format!("{note} {standing}");
        }
        let low = draft.paragraph(left, foot, draft.paper(PAPER.0 - 2 * MARGIN), &note);
        let top = heading_at + draft.paper(330);
        let middle = left - draft.paper(MARGIN) + draft.paper(PAPER.0) / 2;
        let title = "Section details";
        sheets.push(draft.finish(
            &Title {
                house: &remedy.taken_as.name,
                sheet: title,
                provisions: &provisions.title,
                number: sheet_number(remedy, page),
                scale: None,
            },
            format!("details-{}", page + 1),
            &format!(
                "Sections through {} as they are built after the work.",
                remedy.taken_as.name
            ),
            middle,
            top,
            low,
        ));
    }
    sheets
}

/// A cut through a wall line: x from the outer face of the foundation inward, y from its top up.
struct Section<'a> {
    condition: &'a Condition<'a>,
    stem: (Nm, bool),
    stem_height: (Nm, bool),
    footing_depth: (Nm, bool),
    footing_width: (Nm, bool),
    sill_thickness: (Nm, bool),
    sill_width: (Nm, bool),
    stud: (Nm, bool),
    /// From the top of the foundation to the underside of the floor framing.
    height: (Nm, bool),
    joist_depth: (Nm, bool),
    joist_thickness: (Nm, bool),
    right: Nm,
}

impl<'a> Section<'a> {
    fn new(condition: &'a Condition<'a>) -> Self {
        let unknown = Observed::default();
        let foundation = existing::foundation_at(condition.wall, condition.station);
        let of_foundation = |of: fn(&retrofit_core::house::FoundationStretch) -> &Observed<Length>, drawn| {
            existing::or_usual(foundation.map_or(&unknown, of), drawn)
        };
        let stem = of_foundation(|stretch| &stretch.stem_thickness, existing::STEM_THICKNESS);
        let sill = existing::sill_at(condition.wall, condition.station);
        let studs = existing::cripple_wall_at(condition.wall, condition.station);
        let stud = existing::or_usual(
            studs.map_or(&unknown, |stretch| &stretch.stud_depth),
            Length::sixty_fourths(224),
        );
        // A sill whose width nobody took is drawn as it lies against the studs.
        let drawn = Length::from_nanometers(match condition.built.against {
            Some(SillAgainstStuds::SillWider) => stud.0 + Length::inches(2).nanometers(),
            Some(SillAgainstStuds::SillNarrower) => stud.0 - Length::inches(1).nanometers(),
            _ => stud.0,
        });
        let sill_width = existing::or_usual(sill.map_or(&unknown, |piece| &piece.width), drawn);
        let floor = &condition.remedy.taken_as.floor;
        Self {
            condition,
            stem,
            stem_height: of_foundation(|stretch| &stretch.stem_height, existing::STEM),
            footing_depth: of_foundation(|stretch| &stretch.footing_depth, existing::FOOTING),
            footing_width: of_foundation(|stretch| &stretch.footing_width, Length::inches(14)),
            sill_thickness: existing::or_usual(
                sill.map_or(&unknown, |piece| &piece.thickness),
                existing::MEMBER,
            ),
            sill_width,
            stud,
            height: existing::height_at(condition.wall, condition.station),
            joist_depth: existing::or_usual(&floor.joist_depth, existing::JOIST_DEPTH),
            joist_thickness: existing::or_usual(&floor.joist_thickness, existing::MEMBER),
            right: stem.0.max(sill_width.0) + INWARD.nanometers(),
        }
    }

    fn top(&self) -> Nm {
        self.height.0 + self.joist_depth.0 + existing::SUBFLOOR.nanometers()
    }

    fn bottom(&self) -> Nm {
        -self.stem_height.0 - self.footing_depth.0
    }

    /// Draws the cut and its words; gives how low they reach.
    fn draw(&self, draft: &mut Drafting, provisions: &Provisions, number: usize, heading_at: Nm) -> Nm {
        let mut labels: Vec<(Point, String)> = Vec::new();
        self.foundation(draft, &mut labels);
        self.sill_and_studs(draft, &mut labels);
        self.floor(draft, &mut labels);
        self.panel(draft, &mut labels);
        self.anchor(draft, &mut labels);

        let lines: Vec<String> = self
            .condition
            .wall_lines
            .iter()
            .map(|line| words::number(*line).to_string())
            .collect();
        let plural = if lines.len() == 1 { "" } else { "S" };
        let left = -draft.paper(1_450);
        let room = draft.paper(7_000);
        let heading = format!("DETAIL {number}: WALL LINE{plural} {}", lines.join(", "));
        let heading = draft.fitted(&heading, lettered::HEADING * 114 / 100, room);
        draft.heading(at(left, heading_at), lettered::HEADING, Anchor::Start, &heading);
        let missing = words::declined_parts(self.condition.line);
        let subtitle = if missing.is_empty() {
            self.name().to_owned()
        } else {
            format!("{}; NOT LAID OUT: {}", self.name(), missing.join(", "))
        };
        draft.text(
            at(left, heading_at - draft.paper(200)),
            lettered::NOTE,
            Anchor::Start,
            &subtitle,
        );

        let mut levels = Vec::new();
        if self.height.1 {
            levels.extend([self.height.0, 0]);
            if self.stem_height.1 {
                levels.push(-self.stem_height.0);
            }
        }
        let line = -OUTWARD.nanometers() - draft.paper(150);
        draft.upright_string(&levels, line);
        let mut low = self.bottom() - draft.paper(150);
        if self.stem.1 {
            low = draft.level_string(&[0, self.stem.0], low - draft.paper(100), -1);
        }
        let column = self.right + draft.paper(420);
        let room = draft.paper(7_600 - 1_450 - 150) - column;
        let labels_low = draft.labels(&mut labels, column, room);
        let _ = provisions;
        low.min(labels_low)
    }

    fn name(&self) -> &'static str {
        let built = &self.condition.built;
        match (built.on_studs, built.against, built.joists) {
            (false, _, Some(JoistDirection::Parallel)) => {
                "Floor bears on the sill, joists parallel to the wall"
            }
            (false, ..) => "Floor bears on the sill, joists perpendicular to the wall",
            (_, Some(SillAgainstStuds::SillWider), Some(JoistDirection::Parallel)) => {
                "Sill wider than the studs, joists parallel to the wall"
            }
            (_, Some(SillAgainstStuds::SillWider), _) => {
                "Sill wider than the studs, joists perpendicular to the wall"
            }
            (_, Some(SillAgainstStuds::SillNarrower), _) => "Sill narrower than the studs are deep",
            (_, _, Some(JoistDirection::Parallel)) => {
                "Sill flush with the studs, joists parallel to the wall"
            }
            _ => "Sill flush with the studs, joists perpendicular to the wall",
        }
    }

    fn foundation(&self, draft: &mut Drafting, labels: &mut Vec<(Point, String)>) {
        let (stem, is_stem_known) = self.stem;
        let ground = -self.stem_height.0;
        let bottom = self.bottom();
        let layer = known(is_stem_known && self.stem_height.1);
        let stretch = existing::foundation_at(self.condition.wall, self.condition.station);
        let line = |points: &[(Nm, Nm)]| Shape::Polyline {
            points: points.iter().map(|(x, y)| at(*x, *y)).collect(),
            is_closed: false,
        };
        draft.add(layer, line(&[(0, ground), (0, 0), (stem, 0), (stem, ground)]));
        // What lies in the ground was not seen.
        let footing = stretch.and_then(|stretch| stretch.footing_thickness.value().copied());
        let shoulder = footing.map_or(ground, |thickness| (bottom + thickness.nanometers()).min(ground));
        let (wide, is_wide_known) = self.footing_width;
        let out = ((wide - stem) / 2).max(0);
        draft.add(
            Layer::Hidden,
            line(&[
                (0, ground),
                (0, shoulder),
                (-out, shoulder),
                (-out, bottom),
                (stem + out, bottom),
                (stem + out, shoulder),
                (stem, shoulder),
                (stem, ground),
            ]),
        );
        let (left, right) = (-OUTWARD.nanometers(), self.right);
        draft.line(Layer::Ground, at(stem, ground), at(right, ground));
        draft.line(Layer::Hidden, at(left, ground), at(0, ground));
        let within = span(0, ground, stem, 0);
        let hatch = super::sheet::Hatch {
            within,
            spacing: Length::from_nanometers(draft.paper(160)),
            rises: true,
            tint: None,
        };
        draft.add(Layer::Hatch, Shape::Hatch(hatch));
        let kind = stretch
            .and_then(|stretch| stretch.kind.value())
            .map_or("foundation", |kind| kind.words());
        let words = format!("Existing {kind}, {} thick", size(self.stem));
        labels.push((at(stem * 3 / 4, ground * 5 / 8), words));
        labels.push((
            at(self.right.midpoint(stem), ground),
            "Ground inside; outside grade not on record".to_owned(),
        ));
        let footing = match (is_wide_known, self.footing_depth.1) {
            (true, true) => format!(
                "Footing {} wide, {} deep",
                words::length(Length::from_nanometers(wide)),
                words::length(Length::from_nanometers(self.footing_depth.0))
            ),
            _ => format!("Footing: {TO_BE_VERIFIED}"),
        };
        labels.push((at(stem + out, bottom.midpoint(shoulder)), footing));
    }

    fn sill_and_studs(&self, draft: &mut Drafting, labels: &mut Vec<(Point, String)>) {
        let (thick, wide) = (self.sill_thickness, self.sill_width);
        let layer = known(thick.1 && wide.1);
        let sill = span(0, 0, wide.0, thick.0);
        cut(draft, layer, sill);
        let is_replaced = self
            .condition
            .line
            .sill
            .iter()
            .any(|work| work.from <= self.condition.station && self.condition.station <= work.to);
        let which = if is_replaced {
            "New sill, preservative-treated"
        } else {
            "Existing sill"
        };
        labels.push((
            at(wide.0 * 15 / 16, thick.0 / 2),
            format!("{which}: {} thick, {} wide", size(thick), size(wide)),
        ));
        let Some(stretch) = existing::cripple_wall_at(self.condition.wall, self.condition.station) else {
            // Covering down to the foundation.
            self.covering(draft, labels);
            return;
        };
        let (plate, _) = existing::or_usual(&stretch.stud_thickness, existing::MEMBER);
        let plates = match stretch.top_plate.value() {
            Some(TopPlate::Double | TopPlate::DoubleLoose) => 2,
            Some(TopPlate::None) => 0,
            Some(TopPlate::Single) | None => 1,
        };
        let height = self.height.0;
        let stud_top = height - plates * plate;
        draft.rectangle(
            known(self.stud.1 && self.height.1),
            span(0, thick.0, self.stud.0, stud_top),
        );
        for place in 0..plates {
            let top = height - place * plate;
            cut(
                draft,
                known(stretch.top_plate.is_known()),
                span(0, top - plate, self.stud.0, top),
            );
        }
        let spacing = match stretch.stud_spacing.value() {
            Some(spacing) => words::inches(*spacing),
            None => TO_BE_VERIFIED.to_owned(),
        };
        labels.push((
            at(self.stud.0 * 3 / 4, thick.0 + (stud_top - thick.0) * 3 / 8),
            format!("Existing studs, {} deep, at {spacing} on center", size(self.stud)),
        ));
        let plate_words = stretch
            .top_plate
            .value()
            .map_or("top plate: to be verified", |plate| plate.words());
        labels.push((
            at(self.stud.0 * 7 / 8, height - plate / 2),
            format!("Existing {plate_words}"),
        ));
        self.covering(draft, labels);
    }

    fn covering(&self, draft: &mut Drafting, labels: &mut Vec<(Point, String)>) {
        let low = -(self.stem_height.0 / 4).min(Length::inches(3).nanometers());
        let top = self.top();
        draft.rectangle(Layer::Hidden, span(-COVERING.nanometers(), low, 0, top));
        let exterior = self.condition.remedy.taken_as.building.exterior.value();
        let words = exterior.map_or("exterior covering: to be verified", |exterior| exterior.words());
        let high = self.height.0 + self.joist_depth.0 * 7 / 8;
        labels.push((at(-COVERING.nanometers() / 2, high), format!("Existing {words}")));
    }

    fn floor(&self, draft: &mut Drafting, labels: &mut Vec<(Point, String)>) {
        let built = &self.condition.built;
        let (depth, thickness) = (self.joist_depth, self.joist_thickness);
        let (low, high) = (self.height.0, self.height.0 + self.joist_depth.0);
        let layer = known(depth.1);
        let right = self.right;
        draft.rectangle(
            Layer::Existing,
            span(0, high, right, high + existing::SUBFLOOR.nanometers()),
        );
        let work = self.condition.line.floor.work();
        let rim_work = work.and_then(|work| work.rim.as_ref());
        let rim = span(0, low, thickness.0, high);
        let rim_layer = if rim_work.is_some() { Layer::New } else { layer };
        if built.joists == Some(JoistDirection::Parallel) {
            cut(draft, rim_layer, rim);
            let spacing = existing::joist_spacing(&self.condition.remedy.taken_as);
            if spacing + thickness.0 < right {
                cut(draft, layer, span(spacing, low, spacing + thickness.0, high));
            }
            let which = if rim_work.is_some() {
                "New end joist"
            } else {
                "Existing end joist"
            };
            labels.push((
                at(thickness.0 / 2, low.midpoint(high)),
                format!("{which}, {} deep, parallel to the wall", size(depth)),
            ));
        } else {
            let has_rim = self.condition.wall.rim.value() != Some(&Rim::None) || rim_work.is_some();
            if has_rim {
                cut(draft, rim_layer, rim);
            }
            draft.rectangle(layer, span(thickness.0, low, right, high));
            labels.push((
                at(right - Length::inches(1).nanometers(), low + depth.0 / 4),
                format!("Existing joist, {} deep, perpendicular to the wall", size(depth)),
            ));
            let words = match (rim_work, self.condition.wall.rim.value()) {
                (Some(rim), _) => format!("New: {}", rim.pattern.words()),
                (None, Some(rim)) => format!("Existing {}", rim.words()),
                (None, None) => "Rim or blocks: to be verified".to_owned(),
            };
            labels.push((at(thickness.0 / 2, low + depth.0 * 5 / 8), words));
        }
        if let Some(spacing) = work.and_then(|work| work.clip_spacing) {
            let leg = Length::inches(2).nanometers().min(depth.0 / 2);
            let face = thickness.0;
            draft.add(
                Layer::New,
                Shape::Polyline {
                    points: vec![at(face, low + leg), at(face, low), at(face + leg, low)],
                    is_closed: false,
                },
            );
            labels.push((
                at(face + leg, low),
                format!(
                    "New framing clip at {} on center, to the maker's instructions",
                    spacing.in_feet_inches()
                ),
            ));
        }
    }

    fn panel(&self, draft: &mut Drafting, labels: &mut Vec<(Point, String)>) {
        let Some(work) = self.condition.line.panels.work() else {
            return;
        };
        let Some(panel) = work.added.first() else { return };
        let (face, top) = (self.stud.0, self.height.0);
        let thickness = work.make.thickness.unwrap_or(SHEATHING).nanometers();
        let sill = self.sill_thickness.0;
        let low = if panel.foot == PanelFoot::SillBlocks {
            sill
        } else {
            0
        };
        let extent = span(face, low, face + thickness, top);
        draft.rectangle(Layer::New, extent);
        let hatch = super::sheet::Hatch {
            within: extent,
            spacing: Length::from_nanometers(draft.paper(50)),
            rises: true,
            tint: None,
        };
        draft.add(Layer::Hatch, Shape::Hatch(hatch));
        let reach = face + thickness;
        labels.push((
            at(reach, low + (top - low) * 5 / 8),
            format!("New panel: {}", words::make_words(work)),
        ));
        let block = existing::MEMBER.nanometers();
        let mut nails = vec![top - block / 2];
        if panel.foot == PanelFoot::SillBlocks {
            cut(draft, Layer::New, span(0, sill, face, sill + block));
            labels.push((
                at(face * 7 / 8, sill + block / 2),
                format!("New block between studs, {}", words::block_words(work)),
            ));
            nails.push(sill + block / 2);
            let x = face / 4;
            draft.line(
                Layer::New,
                at(x, sill + block),
                at(x, sill - self.sill_thickness.0 * 3 / 4),
            );
        } else {
            nails.push(sill / 2);
        }
        for y in nails {
            let head = draft.paper(20);
            draft.line(Layer::New, at(reach, y), at(face - block * 3 / 4, y));
            draft.line(Layer::New, at(reach, y - head), at(reach, y + head));
        }
    }

    fn anchor(&self, draft: &mut Drafting, labels: &mut Vec<(Point, String)>) {
        let Some(anchor) = self.condition.built.anchor else {
            return;
        };
        let sill = self.sill_thickness.0;
        if words::is_plate(&anchor) {
            let face = self.stem.0.max(self.sill_width.0);
            let thick = Length::sixty_fourths(16).nanometers();
            let low = -(self.stem_height.0 * 3 / 4).min(Length::inches(5).nanometers());
            draft.add(
                Layer::New,
                Shape::Solid(span(face, low, face + thick, sill).corners().to_vec()),
            );
            if self.sill_width.0 < face {
                let shim = span(self.sill_width.0, 0, face, sill);
                draft.rectangle(Layer::Hidden, shim);
                labels.push((
                    at(face - (face - self.sill_width.0) / 4, sill * 3 / 4),
                    "Shim where the faces are not flush".to_owned(),
                ));
            }
            let bolt = low / 2;
            draft.line(
                Layer::New,
                at(face + 2 * thick, bolt),
                at(face - (self.stem.0 / 2), bolt),
            );
            labels.push((
                at(face + thick, low * 3 / 4),
                format!("New {}", words::anchor_words(&anchor)),
            ));
            return;
        }
        let x = self.sill_width.0.min(self.stem.0) / 2;
        let embedment = anchor.embedment.unwrap_or(existing::EMBEDMENT).nanometers();
        let half = anchor.diameter.unwrap_or(Length::sixty_fourths(32)).nanometers() / 2;
        let mut top = sill;
        if let Some(Washer::Plate { side, thickness }) = anchor.washer {
            let side = side.nanometers() / 2;
            draft.add(
                Layer::New,
                Shape::Solid(
                    span(x - side, top, x + side, top + thickness.nanometers())
                        .corners()
                        .to_vec(),
                ),
            );
            top += thickness.nanometers();
        }
        // How deep a rod goes by its maker's instructions is not known here.
        let depth = if anchor.embedment.is_some() {
            Layer::New
        } else {
            Layer::Hidden
        };
        draft.rectangle(depth, span(x - half, -embedment, x + half, 0));
        draft.rectangle(Layer::New, span(x - half, 0, x + half, sill));
        let nut = half * 3 / 2;
        draft.rectangle(Layer::New, span(x - nut, top, x + nut, top + half * 2));
        labels.push((
            at(x + half, -embedment * 3 / 4),
            format!("New {}", words::anchor_words(&anchor)),
        ));
    }
}

/// A member cut across: its outline and one diagonal.
fn cut(draft: &mut Drafting, layer: Layer, extent: super::sheet::Extent) {
    draft.rectangle(layer, extent);
    let [_, right, _, left] = extent.corners();
    draft.line(Layer::Hatch, extent.low, extent.high);
    draft.line(Layer::Hatch, left, right);
}

/// The layer of what is there, by whether its size is on record.
const fn known(is_known: bool) -> Layer {
    if is_known { Layer::Existing } else { Layer::Hidden }
}

/// A size for a label.
fn size((size, is_known): (Nm, bool)) -> String {
    if is_known {
        words::length(Length::from_nanometers(size))
    } else {
        TO_BE_VERIFIED.to_owned()
    }
}
