//! What a design takes as given where the record leaves it open.
//!
//! Nothing unknown is called fine: every gap that is filled here becomes an assumption of the remedy, to be
//! verified on site before anything is ordered. What is dearer if wrong is taken at its worse: a part whose list is
//! missing counts as not there. What no layout can do without (a length, a height, what the foundation is made of)
//! is not filled.

use super::layout::{Assumption, LineRemedy, NewAnchor, SillWork};
use crate::check::{LookAt, Quantity};
use crate::choice::Choice;
use crate::house::{
    AnchorKind, CrippleStretch, ExteriorWall, FoundationCondition, House, JoistDirection, Parts, Rim, Roof,
    SillAgainstStuds, SillPiece, SillSoundness, Span, WallLine,
};
use crate::measure::Length;
use crate::observation::{Observable, Observed};

/// Studs are set this far apart where nobody measured: common practice of light wood framing, no source.
pub(super) const USUAL_STUD_SPACING: Length = Length::inches(16);

/// Joists likewise: common practice, no source.
pub(super) const USUAL_JOIST_SPACING: Length = Length::inches(16);

/// The thickness of a nominal 2 in member as it measures.
pub(super) const NOMINAL_2_IN: Length = Length::sixty_fourths(96);

const NOT_THERE: &str = "Nobody recorded any, so none is credited.";
const IN_THE_WAY: &str = "Nobody recorded any; the work has to keep clear of each that is found.";
const AS_RECORDED: &str = "A stretch of it could not be seen.";
const USUAL: &str = "It was not measured; this is usual.";

/// Fills the gaps of a record; the assumptions say which.
pub(super) fn fill(house: &House) -> (House, Vec<Assumption>) {
    let mut house = house.clone();
    let mut given = Given {
        assumptions: Vec::new(),
        wall_line: None,
    };
    if let Observed::Between {
        at_most: Some(most), ..
    } = house.building.stories
    {
        house.building.stories = Observed::inferred(most);
        given.take(
            LookAt::Stories,
            Quantity::Stories(most),
            "More stories need more of everything.",
        );
    }
    if house.building.is_heavy() == crate::observation::Truth::Maybe {
        let heavier = "The heavier case needs more bracing.";
        given.term(
            &mut house.building.exterior,
            ExteriorWall::Stucco,
            LookAt::Exterior,
            heavier,
        );
        given.term(&mut house.building.roof, Roof::Tile, LookAt::Roof, heavier);
    }
    for (index, wall) in house.wall_lines.iter_mut().enumerate() {
        given.wall_line = Some(index);
        given.wall_line(wall);
    }
    (house, given.assumptions)
}

struct Given {
    assumptions: Vec<Assumption>,
    wall_line: Option<usize>,
}

impl Given {
    fn take(&mut self, look_at: LookAt, taken_as: Quantity, because: &'static str) {
        let assumption = Assumption {
            wall_line: self.wall_line,
            look_at,
            taken_as,
            because,
        };
        if !self.assumptions.contains(&assumption) {
            self.assumptions.push(assumption);
        }
    }

    fn term<T: Choice + Observable>(
        &mut self,
        of: &mut Observed<T>,
        as_if: T,
        look_at: LookAt,
        because: &'static str,
    ) {
        if !of.is_known() {
            *of = Observed::inferred(as_if);
            self.take(look_at, Quantity::Word(as_if.words()), because);
        }
    }

    fn length(&mut self, of: &mut Observed<Length>, as_if: Length, look_at: LookAt, because: &'static str) {
        if !of.is_known() {
            let (least, most) = of.bounds();
            let within = as_if
                .max(least.copied().unwrap_or(as_if))
                .min(most.copied().unwrap_or(as_if));
            *of = Observed::inferred(within);
            self.take(look_at, Quantity::Length(within), because);
        }
    }

    fn list<T>(&mut self, of: &mut Observed<Vec<T>>, look_at: LookAt, because: &'static str) {
        if !of.is_known() {
            *of = Observed::inferred(Vec::new());
            self.take(look_at, Quantity::Word("none"), because);
        }
    }

    fn wall_line(&mut self, wall: &mut WallLine) {
        self.sill(wall);
        if let Some(stretches) = of(&mut wall.foundation) {
            for stretch in stretches {
                self.term(
                    &mut stretch.condition,
                    FoundationCondition::Sound,
                    LookAt::FoundationCondition,
                    "A layout needs sound concrete: sound it with a hammer first.",
                );
            }
        }
        if let Some(stretches) = of(&mut wall.cripple_wall) {
            for stretch in stretches {
                self.cripple_stretch(stretch);
            }
        }
        self.list(&mut wall.anchors, LookAt::Anchors, NOT_THERE);
        self.list(&mut wall.panels, LookAt::Panels, NOT_THERE);
        self.list(&mut wall.connections, LookAt::Connections, NOT_THERE);
        self.list(&mut wall.openings, LookAt::Openings, IN_THE_WAY);
        self.term(
            &mut wall.joists,
            JoistDirection::Perpendicular,
            LookAt::Joists,
            "Which way they run was not seen.",
        );
        self.term(
            &mut wall.rim,
            Rim::Continuous,
            LookAt::Rim,
            "Clips need a rim or blocks to go on; if there is none, blocks have to be added.",
        );
        self.unseen(wall);
    }

    /// What could not be seen is taken as empty, or as recorded next to it; the assumption stays.
    fn unseen(&mut self, wall: &mut WallLine) {
        const LISTS: [Parts; 4] = [Parts::Anchors, Parts::Panels, Parts::Connections, Parts::Openings];
        for unseen in std::mem::take(&mut wall.unseen) {
            let parts: &[Parts] = if unseen.parts.is_empty() {
                &LISTS
            } else {
                &unseen.parts
            };
            for part in parts {
                let (look_at, because) = match part {
                    Parts::Anchors => (LookAt::Anchors, NOT_THERE),
                    Parts::Panels => (LookAt::Panels, NOT_THERE),
                    Parts::Connections => (LookAt::Connections, NOT_THERE),
                    Parts::Openings => (LookAt::Openings, IN_THE_WAY),
                    Parts::Foundation => (LookAt::Foundation, AS_RECORDED),
                    Parts::Sill => (LookAt::Sill, AS_RECORDED),
                };
                let taken_as = if because == AS_RECORDED {
                    "as recorded"
                } else {
                    "none where it was not seen"
                };
                self.take(look_at, Quantity::Word(taken_as), because);
            }
        }
    }

    /// Pieces that were not recorded are taken to end where the foundation does.
    fn sill(&mut self, wall: &mut WallLine) {
        const BROKEN: &str =
            "The ends of the sill pieces were not found; anchors are needed near each of them.";
        let Some(length) = wall.length.value().copied() else {
            return;
        };
        let recorded = wall.sill.value().cloned().unwrap_or_default();
        let mut breaks = vec![Length::ZERO, length];
        for stretch in wall.foundation.listed() {
            let span = stretch.span(Some(length));
            breaks.extend([span.from, span.to.unwrap_or(length)]);
        }
        let spans: Vec<Span> = recorded.iter().map(|piece| piece.span(Some(length))).collect();
        for span in &spans {
            breaks.extend([span.from, span.to.unwrap_or(length)]);
        }
        breaks.sort_unstable();
        breaks.dedup();
        let mut pieces = recorded;
        let count = pieces.len();
        for pair in breaks.windows(2) {
            let [from, to] = *pair else { continue };
            if !spans.iter().any(|span| span.overlaps(Span::new(from, to))) {
                pieces.push(SillPiece {
                    from: Some(from),
                    to: Some(to),
                    ..SillPiece::default()
                });
            }
        }
        if pieces.len() > count {
            pieces.sort_by_key(|piece| piece.from);
            self.take(
                LookAt::Sill,
                Quantity::Word("one piece between steps of the foundation"),
                BROKEN,
            );
        }
        for piece in &mut pieces {
            self.term(
                &mut piece.soundness,
                SillSoundness::Sound,
                LookAt::SillSoundness,
                "It was not probed.",
            );
            if wall
                .cripple_wall
                .value()
                .is_none_or(|stretches| !stretches.is_empty())
            {
                self.term(
                    &mut piece.against_studs,
                    SillAgainstStuds::SillWider,
                    LookAt::SillAgainstStuds,
                    "A wider sill needs blocks, and a flush one does not.",
                );
            }
        }
        let basis = wall.sill.basis().unwrap_or(crate::observation::Basis::Inferred);
        wall.sill = Observed::Known { value: pieces, basis };
    }

    /// What has to be so for new rods to stand where they are laid out.
    fn for_rods(&mut self, wall: &WallLine, line: &LineRemedy) {
        let added = line.anchors.work().into_iter().flat_map(|work| &work.added);
        let rods: Vec<&NewAnchor> = added
            .filter(|anchor| anchor.kind != AnchorKind::SidePlate)
            .collect();
        if rods.is_empty() {
            return;
        }
        let studs = wall.cripple_wall.listed().iter();
        if studs
            .clone()
            .any(|stretch| stretch.stud_thickness.bounds().1.is_none())
        {
            let because = "It was not measured; rods keep clear of studs this thick.";
            self.take(LookAt::StudThickness, Quantity::Length(NOMINAL_2_IN), because);
        }
        if let Some(edge) = rods.iter().find_map(|rod| rod.edge_distance)
            && let mut stems = wall.foundation.listed().iter()
            && stems.any(|stretch| !stretch.stem_thickness.is_known())
        {
            let twice = edge.saturating_add(edge);
            let because = "It was not measured; a thinner wall leaves a rod too near its face.";
            self.take(
                LookAt::StemThickness,
                Quantity::LengthBetween(Some(twice), None),
                because,
            );
        }
        let is_height_open = |stretch: &CrippleStretch| {
            stretch.shortest_stud.bounds().0.is_none() && stretch.height.bounds().0.is_none()
        };
        if rods.iter().any(|rod| rod.tight_drilling) && studs.clone().any(is_height_open) {
            self.take(
                LookAt::CrippleHeight,
                Quantity::Word("too low for a hammer drill"),
                "It was not measured; drilling in tight space costs more.",
            );
        }
    }

    fn cripple_stretch(&mut self, stretch: &mut CrippleStretch) {
        self.length(
            &mut stretch.stud_spacing,
            USUAL_STUD_SPACING,
            LookAt::StudSpacing,
            USUAL,
        );
        if !stretch.tallest_stud.is_known()
            && let Some(height) = stretch.height.value().copied()
        {
            // A stud is lower than its wall, so this is the worse case for the length of a panel.
            let because = "It was not measured; it can be no taller than the wall.";
            self.length(&mut stretch.tallest_stud, height, LookAt::TallestStud, because);
        }
    }
}

/// Sizes that only some of the work rests on: assumptions of the lines that have it, and of no others.
pub(super) fn of_the_work(house: &House, lines: &[LineRemedy]) -> Vec<Assumption> {
    let mut given = Given {
        assumptions: Vec::new(),
        wall_line: None,
    };
    for line in lines {
        let Some(wall) = house.wall_lines.get(line.wall_line) else {
            continue;
        };
        given.wall_line = Some(line.wall_line);
        given.for_rods(wall, line);
        let is_new_sill_open = |work: &&SillWork| {
            let pieces = wall.sill.listed();
            pieces
                .get(work.piece)
                .is_some_and(|piece| !piece.thickness.is_known())
        };
        if let Some(work) = line.sill.iter().find(is_new_sill_open) {
            let because = "It was not measured; what replaces the sill has to fit below the studs.";
            given.take(LookAt::SillThickness, Quantity::Length(work.thickness), because);
        }
        let rim = line.floor.work().and_then(|work| work.rim.as_ref());
        if rim.is_some_and(|rim| !rim.blocks.is_empty()) && joist_spacing(house).is_none() {
            given.wall_line = None;
            given.take(
                LookAt::JoistSpacing,
                Quantity::Length(USUAL_JOIST_SPACING),
                "It was not measured; this is usual, and the number of blocks goes by it.",
            );
        }
    }
    given.assumptions
}

/// The joist spacing that blocks are laid out by, where it is on record and leaves room for a block.
pub(super) fn joist_spacing(house: &House) -> Option<Length> {
    let spacing = house.floor.joist_spacing.value().copied();
    spacing.filter(|spacing| *spacing >= Length::inches(1))
}

/// The list that is known.
fn of<T>(list: &mut Observed<Vec<T>>) -> Option<&mut Vec<T>> {
    match list {
        Observed::Known { value, .. } => Some(value),
        _ => None,
    }
}
