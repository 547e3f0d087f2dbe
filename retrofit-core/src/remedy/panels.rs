//! New braced panels along a wall line: the stud bays that can be braced, and the cheapest that will do.

use super::layout::{
    Credit, Decline, ExistingPanel, Holes, MovedVent, NewPanel, PanelLayout, PanelMake, Part, Shortfall,
};
use super::line::{Line, given, most, studs, too_close};
use super::panel_bays::{self, Bay, BayState, Obstacle, Problem, Stretch, Unmet};
use crate::check::{Counted, LookAt};
use crate::house::{
    Opening, OpeningKind, Panel, PanelFoot, Sheathing, SillAgainstStuds, SillPiece, WallLine,
};
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::prices::{Cents, Item};
use crate::provisions::{FigureId, keys};

/// The checks that ask for panels.
const CHECKS: [&str; 4] = ["bracing-length", "bracing-ends", "panel-gaps", "stud-bay-vents"];

/// Two ventilation holes in each stud bay: one at the top and one at the bottom.
const HOLES_IN_A_BAY: u32 = 2;

/// Stud bays along one wall line: over 1300 ft of studs at 16 in. The time to lay them out grows with the square of
/// their number, so that a slip in a record must not keep anybody waiting.
const MOST_BAYS: usize = 1_000;

/// Designs the braced panels of a wall line.
pub(super) fn design(line: &Line<'_>) -> (Part<PanelLayout>, Cents) {
    let has_no_cripple_wall = line.wall.cripple_wall.value().is_some_and(Vec::is_empty);
    if has_no_cripple_wall || line.is_enough(&CHECKS) {
        return (Part::NothingToAdd, Cents::ZERO);
    }
    match Design::new(line).and_then(Design::cheapest) {
        Ok((layout, cost)) => (Part::Work(layout), cost),
        Err(decline) => (Part::Declined(decline), Cents::ZERO),
    }
}

impl NewPanel {
    /// The panel as a record of it will read.
    pub fn record(&self, make: &PanelMake) -> Panel {
        fn asked<T>(value: Option<T>) -> Observed<T> {
            value.map_or_else(Observed::default, Observed::seen)
        }
        Panel {
            from: Some(self.from),
            to: Some(self.to),
            sheathing: Observed::seen(make.sheathing),
            thickness: asked(make.thickness),
            nail: asked(make.nail),
            edge_nailing: asked(make.edge_nailing),
            field_nailing: asked(make.field_nailing),
            nails_flush: Observed::seen(true),
            joints_blocked: Observed::seen(true),
            foot: Observed::seen(self.foot),
            nails_per_sill_block: match self.foot {
                PanelFoot::SillBlocks => asked(make.nails_per_sill_block),
                _ => Observed::default(),
            },
            cut_through: Observed::seen(false),
            vent_holes: asked(make.vent_holes),
            closes_stud_bays: Observed::seen(true),
            ..Panel::default()
        }
    }
}

/// What the provisions ask of panels here, and what is there.
struct Design<'a> {
    line: &'a Line<'a>,
    existing: Vec<ExistingPanel>,
    make: PanelMake,
    needed: Length,
    credited: Length,
    problem: Problem,
    /// Studs by stretch.
    studs: Vec<Vec<Length>>,
    /// What each obstacle is.
    obstacles: Vec<InTheWay>,
}

/// Something that a new panel would cover.
#[derive(Clone, Copy)]
enum InTheWay {
    Vent(usize),
    OldPanel(usize),
}

impl<'a> Design<'a> {
    fn new(line: &'a Line<'a>) -> Result<Self, Decline> {
        if line.wall.cripple_wall.value().is_none() {
            return Err(Decline::NotObserved(LookAt::CrippleWall));
        }
        let make = make(line).map_err(Decline::FigureNotSeen)?;
        let existing = existing(line, &make)?;
        let share = given(line.rule(keys::BRACED_SHARE)).map_err(Decline::FigureNotSeen)?;
        let relied_on = with_panels_relied_on(line, &existing);
        let braced = Counted::new(line.house, &relied_on, line.requirement).braced();
        let base = braced.base.ok_or(Decline::NotObserved(LookAt::CrippleWall))?;
        let needed = share.map_or(Length::ZERO, |share| {
            let length = share.of(base);
            // Half a nanometer may have been rounded off.
            if share.reached_by(length, base) {
                length
            } else {
                length.saturating_add(Length::from_nanometers(1))
            }
        });
        let mut design = Self {
            line,
            existing,
            make,
            needed,
            credited: braced.length,
            problem: Problem {
                needed: needed.saturating_sub(braced.length).max(Length::ZERO),
                panel_cost: line.prices.likely(Item::PanelStart).0,
                largest_gap: most(line.rule(keys::MAX_PANEL_GAP)).map_err(Decline::FigureNotSeen)?,
                ..Problem::default()
            },
            studs: Vec::new(),
            obstacles: Vec::new(),
        };
        design.stretches()?;
        design.ends()?;
        design.in_the_way();
        Ok(design)
    }

    /// The stretches of cripple wall and their stud bays.
    fn stretches(&mut self) -> Result<(), Decline> {
        let line = self.line;
        let not_seen = Decline::FigureNotSeen;
        let least = given(line.rule(keys::MIN_PANEL_LENGTH)).map_err(not_seen)?;
        let proportion = given(line.rule(keys::MIN_PANEL_PROPORTION)).map_err(not_seen)?;
        for (index, stretch) in line.cripple_wall().iter().enumerate() {
            let (from, to) = line.ends(stretch.span(Some(line.length)));
            let height = stretch.height.value().or(stretch.tallest_stud.value());
            let Some(height) = height.copied() else {
                return Err(Decline::NotObserved(LookAt::CrippleHeight));
            };
            let stud = stretch.tallest_stud.bounds().1.copied().unwrap_or(height);
            let by_height = proportion.map_or(Length::ZERO, |proportion| proportion.of(stud));
            self.problem.stretches.push(Stretch {
                from,
                to,
                shortest_panel: least.unwrap_or(Length::ZERO).max(by_height),
            });
            let studs = studs(stretch, from, to).ok_or_else(|| too_close(stretch))?;
            self.bays(index, height, &studs);
            self.studs.push(studs);
        }
        let bays = self.problem.bays.len();
        if bays > MOST_BAYS {
            let most = MOST_BAYS;
            return Err(Decline::TooManyStudBays { bays, most });
        }
        // Bays are decided from left to right.
        self.problem.bays.sort_by_key(|bay| bay.from);
        Ok(())
    }

    fn bays(&mut self, stretch: usize, height: Length, studs: &[Length]) {
        let (Some(from), Some(to)) = (studs.first().copied(), studs.last().copied()) else {
            return;
        };
        // Where an old panel that counts ends, a stud must be.
        let mut lines = studs.to_vec();
        let old: Vec<(Length, Length)> = self.credited_panels().collect();
        lines.extend(
            old.iter()
                .flat_map(|(from, to)| [*from, *to])
                .filter(|station| from < *station && *station < to),
        );
        lines.sort_unstable();
        lines.dedup();
        for pair in lines.windows(2) {
            let [from, to] = *pair else { continue };
            let overlaps = |start: Length, end: Length| start < to && from < end;
            let state = if old.iter().any(|(start, end)| overlaps(*start, *end)) {
                BayState::Braced
            } else if self.is_blocked(from, to) {
                BayState::Blocked
            } else {
                BayState::Free(self.bay_cost(from, to, height))
            };
            self.problem.bays.push(Bay {
                from,
                to,
                stretch,
                state,
            });
        }
    }

    fn credited_panels(&self) -> impl Iterator<Item = (Length, Length)> + '_ {
        let records = self.line.wall.panels.listed();
        self.existing
            .iter()
            .filter(|panel| panel.credit == Credit::Counts)
            .filter_map(|panel| records.get(panel.item)?.stations())
    }

    /// Whether a door, a pipe or something else that stays is in a bay. So does a vent that is cut through an old
    /// panel that counts: closing it would leave a hole there that nobody has judged.
    fn is_blocked(&self, from: Length, to: Length) -> bool {
        let openings = self.line.wall.openings.listed().iter();
        let is_in_an_old_panel = |opening: &Opening| {
            let mut old = self.credited_panels();
            old.any(|(start, end)| opening.from < end && start < opening.to)
        };
        openings
            .filter(|opening| opening.kind != OpeningKind::Vent || is_in_an_old_panel(opening))
            .any(|opening| opening.from < to && from < opening.to)
    }

    fn bay_cost(&self, from: Length, to: Length, height: Length) -> i64 {
        let prices = self.line.prices;
        let sheathing = prices
            .likely(Item::Sheathing)
            .for_square_feet(to.saturating_sub(from).by(height));
        let block = if self.sill_is_wider(from, to) {
            prices.likely(Item::SillBlock)
        } else {
            Cents::ZERO
        };
        let holes = if self.make.vent_holes.is_some() {
            prices.likely(Item::VentilationHole).times(HOLES_IN_A_BAY.into())
        } else {
            Cents::ZERO
        };
        sheathing.plus(block).plus(holes).0
    }

    fn sill_is_wider(&self, from: Length, to: Length) -> bool {
        self.line.sill().iter().any(|piece| {
            let (start, end) = self.line.ends(piece.span(Some(self.line.length)));
            start < to && from < end && piece.against_studs.value() == Some(&SillAgainstStuds::SillWider)
        })
    }

    fn ends(&mut self) -> Result<(), Decline> {
        let line = self.line;
        let asked = given(line.rule(keys::PANEL_AT_EACH_END)).map_err(Decline::FigureNotSeen)?;
        if asked.is_none() {
            return Ok(());
        }
        let offset = given(line.rule(keys::MAX_END_OFFSET)).map_err(Decline::FigureNotSeen)?;
        let offset = offset.unwrap_or(Length::ZERO);
        let from = self.problem.stretches.iter().map(|stretch| stretch.from).min();
        let to = self.problem.stretches.iter().map(|stretch| stretch.to).max();
        self.problem.ends = from
            .zip(to)
            .map(|(from, to)| (from.saturating_add(offset), to.saturating_sub(offset)));
        Ok(())
    }

    /// Vents that would have to move, and old panels that would have to come off.
    fn in_the_way(&mut self) {
        let line = self.line;
        let vent = line.prices.likely(Item::VentMove);
        let openings = line.wall.openings.listed().iter().enumerate();
        let vents = openings
            .filter(|(_, opening)| opening.kind == OpeningKind::Vent)
            .map(|(index, opening)| (InTheWay::Vent(index), opening.from, opening.to, vent));
        let records = line.wall.panels.listed();
        let old = self
            .existing
            .iter()
            .filter(|panel| panel.credit != Credit::Counts);
        let old = old.filter_map(|panel| {
            let (from, to) = records.get(panel.item)?.stations()?;
            let height = line
                .cripple_wall_at(from)
                .and_then(|stretch| stretch.height.value().copied());
            let removal = line.prices.likely(Item::PanelRemoval);
            let cost = removal.for_square_feet(to.saturating_sub(from).by(height.unwrap_or(Length::ZERO)));
            Some((InTheWay::OldPanel(panel.item), from, to, cost))
        });
        let mut all: Vec<_> = vents.chain(old).collect();
        all.sort_by_key(|(_, from, ..)| *from);
        for (what, from, to, cost) in all {
            let covers = |bay: &Bay| bay.from < to && from < bay.to;
            let first = self.problem.bays.iter().position(covers);
            let last = self.problem.bays.iter().rposition(covers);
            if let Some((first, last)) = first.zip(last) {
                self.problem.obstacles.push(Obstacle {
                    first,
                    last,
                    cost: cost.0,
                });
                self.obstacles.push(what);
            }
        }
    }

    fn cheapest(self) -> Result<(PanelLayout, Cents), Decline> {
        let (cost, runs) = panel_bays::solve(&self.problem).map_err(|unmet| {
            Decline::Unmet(match unmet {
                Unmet::Length { possible } => Shortfall::BracingTooShort {
                    needed: self.needed,
                    possible: possible.saturating_add(self.credited),
                },
                Unmet::Ends { end, room, shortest } => Shortfall::NoPanelAtEnd { end, room, shortest },
                Unmet::Gap { from, to } => Shortfall::PanelGapTooLarge {
                    from,
                    to,
                    allowed: self.problem.largest_gap.unwrap_or(Length::ZERO),
                },
            })
        })?;
        let bays = &self.problem.bays;
        let mut added = Vec::new();
        let mut is_new = vec![false; bays.len()];
        for (first, last) in &runs {
            // A run goes on over a step of the wall; a panel ends there.
            let mut start = *first;
            for bay in *first..=*last {
                if let Some(mark) = is_new.get_mut(bay) {
                    *mark = true;
                }
                let here = bays.get(bay);
                let next = bays.get(bay + 1).filter(|_| bay < *last);
                if let (Some(from), Some(here)) = (bays.get(start), here)
                    && next.is_none_or(|next| next.stretch != here.stretch)
                {
                    added.extend(self.panel(from.from, here.to, here.stretch));
                    start = bay + 1;
                }
            }
        }
        let covered = |obstacle: &Obstacle| {
            is_new
                .get(obstacle.first..=obstacle.last)
                .is_some_and(|bays| bays.contains(&true))
        };
        let mut existing = self.existing.clone();
        let mut vents = Vec::new();
        for (obstacle, what) in self.problem.obstacles.iter().zip(&self.obstacles) {
            match what {
                _ if !covered(obstacle) => {}
                InTheWay::Vent(opening) => vents.push(*opening),
                InTheWay::OldPanel(item) => {
                    if let Some(panel) = existing.iter_mut().find(|panel| panel.item == *item) {
                        panel.is_removed = true;
                    }
                }
            }
        }
        self.count_holes(&mut existing);
        let holes: u32 = existing
            .iter()
            .filter_map(|panel| panel.gets_holes)
            .map(|holes| holes.count)
            .sum();
        let holes = self.line.prices.likely(Item::VentilationHole).times(holes.into());
        let layout = PanelLayout {
            moved_vents: self.move_vents(&vents, &is_new),
            existing,
            added,
            make: self.make,
            needed: self.needed,
            credited: self.credited,
        };
        Ok((layout, Cents(cost.cents).plus(holes)))
    }

    /// Counts the holes drilled through old panels: one at top and bottom of each bay.
    fn count_holes(&self, existing: &mut [ExistingPanel]) {
        let records = self.line.wall.panels.listed();
        for panel in existing {
            let stations = records.get(panel.item).and_then(Panel::stations);
            let (Some(holes), Some((from, to))) = (&mut panel.gets_holes, stations) else {
                continue;
            };
            let behind = |bay: &&Bay| from < bay.to && bay.from < to;
            let bays = self.problem.bays.iter().filter(behind).count();
            holes.count = u32::try_from(bays)
                .unwrap_or(u32::MAX)
                .saturating_mul(HOLES_IN_A_BAY);
        }
    }

    fn panel(&self, from: Length, to: Length, stretch: usize) -> Option<NewPanel> {
        let record = self.line.cripple_wall().get(stretch)?;
        let mut studs = vec![from];
        let inner = self.studs.get(stretch)?.iter().copied();
        studs.extend(inner.filter(|stud| from < *stud && *stud < to));
        studs.push(to);
        let bays = studs.windows(2).filter_map(|pair| match pair {
            [from, to] => Some((*from, *to)),
            _ => None,
        });
        let sill_blocks = bays.filter(|(from, to)| self.sill_is_wider(*from, *to)).count();
        Some(NewPanel {
            from,
            to,
            stretch,
            height: record.height.value().or(record.tallest_stud.value()).copied()?,
            studs,
            foot: if sill_blocks > 0 {
                PanelFoot::SillBlocks
            } else {
                PanelFoot::Sill
            },
            sill_blocks: u32::try_from(sill_blocks).unwrap_or(u32::MAX),
        })
    }

    /// Each vent in the way goes to the nearest stud bay that is left open and wide enough.
    fn move_vents(&self, vents: &[usize], is_new: &[bool]) -> Vec<MovedVent> {
        let openings = self.line.wall.openings.listed();
        let mut open: Vec<&Bay> = self
            .problem
            .bays
            .iter()
            .zip(is_new)
            .filter(|(bay, is_new)| !**is_new && matches!(bay.state, BayState::Free(_)))
            .map(|(bay, _)| bay)
            .filter(|bay| {
                // A vent that stays, or an old panel, keeps the bay.
                !self.problem.obstacles.iter().any(|obstacle| {
                    let overlaps = |at: usize| self.problem.bays.get(at).is_some_and(|other| other == *bay);
                    (obstacle.first..=obstacle.last).any(overlaps)
                })
            })
            .collect();
        let mut moved = Vec::with_capacity(vents.len());
        for vent in vents {
            let Some(opening) = openings.get(*vent) else {
                continue;
            };
            let width = opening.to.saturating_sub(opening.from);
            let nearest = open
                .iter()
                .enumerate()
                .filter(|(_, bay)| bay.to.saturating_sub(bay.from) >= width)
                .min_by_key(|(_, bay)| bay.from.abs_diff(opening.from))
                .map(|(place, _)| place);
            let to = nearest.map(|place| {
                let bay = open.remove(place);
                let room = bay.to.saturating_sub(bay.from).saturating_sub(width);
                let from = bay
                    .from
                    .saturating_add(Length::from_nanometers(room.nanometers() / 2));
                (from, from.saturating_add(width))
            });
            moved.push(MovedVent { opening: *vent, to });
        }
        moved
    }
}

/// Every existing panel, with whether it is credited. One that braces the wall but closes its stud bays without
/// the ventilation asked for gets its holes.
fn existing(line: &Line<'_>, make: &PanelMake) -> Result<Vec<ExistingPanel>, Decline> {
    let counted = line.counted();
    let records = line.wall.panels.listed();
    let is_ventilated = line.is_enough(&["stud-bay-vents"]);
    let mut list = Vec::with_capacity(records.len());
    for (item, record) in records.iter().enumerate() {
        if record.stations().is_none() {
            // Where the old panels stand is not known, so that no new one can be placed beside them.
            return Err(Decline::NotObserved(LookAt::Panels));
        }
        let drilled = drill(record, make);
        let (credit, gets_holes) = match counted.panel(record) {
            (Truth::False, Some(lacks)) => (Credit::Lacks(lacks), None),
            (Truth::Maybe, Some(open)) => (Credit::NotSeen(open), None),
            _ if is_ventilated || counted.is_ventilated(record) == Truth::True => (Credit::Counts, None),
            _ if counted.is_ventilated(&drilled) == Truth::True => {
                (Credit::Counts, make.vent_holes.map(Holes::of))
            }
            // Holes that are too large cannot be made smaller.
            _ => (Credit::Lacks(LookAt::VentHoles), None),
        };
        list.push(ExistingPanel {
            item,
            credit,
            gets_holes,
            is_removed: false,
        });
    }
    Ok(list)
}

/// A panel as it is once its ventilation holes are drilled; holes that are there are not made smaller.
pub(super) fn drill(record: &Panel, make: &PanelMake) -> Panel {
    let mut drilled = record.clone();
    let is_larger = make
        .vent_holes
        .is_some_and(|holes| record.vent_holes.bounds().0.is_some_and(|there| *there > holes));
    if let Some(holes) = make.vent_holes.filter(|_| !is_larger) {
        drilled.vent_holes = Observed::seen(holes);
    }
    drilled
}

/// The wall line with the panels that the layout relies on and no others.
fn with_panels_relied_on(line: &Line<'_>, existing: &[ExistingPanel]) -> WallLine {
    let mut wall = line.wall.clone();
    if let Observed::Known { value, .. } = &mut wall.panels {
        let mut place = 0;
        value.retain(|_| {
            let is_relied_on = existing
                .iter()
                .any(|panel| panel.item == place && panel.credit == Credit::Counts);
            place += 1;
            is_relied_on
        });
    }
    wall
}

/// What new panels are made of.
fn make(line: &Line<'_>) -> Result<PanelMake, FigureId> {
    let kinds = given(line.rule(keys::SHEATHING_KINDS))?;
    let of_choice = [Sheathing::Plywood, Sheathing::Osb, Sheathing::ThreePly];
    let sheathing = of_choice
        .into_iter()
        .find(|sheathing| kinds.is_none_or(|kinds| kinds.contains(*sheathing)))
        .unwrap_or(Sheathing::Plywood);
    // Where no sill is wider than the studs and no old panel may stand on blocks, their nails need not be known.
    let is_wider = |piece: &SillPiece| piece.against_studs.value() == Some(&SillAgainstStuds::SillWider);
    let may_have_blocks = |panel: &Panel| matches!(panel.foot.value(), None | Some(PanelFoot::SillBlocks));
    let mut old = line.wall.panels.listed().iter();
    let nails = if line.sill().iter().any(is_wider) || old.any(may_have_blocks) {
        given(line.rule(keys::NAILS_PER_SILL_BLOCK))?
    } else {
        None
    };
    let least_hole = given(line.rule(keys::MIN_VENT_HOLE))?;
    let largest_hole = given(line.rule(keys::MAX_VENT_HOLE))?;
    Ok(PanelMake {
        sheathing,
        thickness: given(line.rule(keys::MIN_SHEATHING_THICKNESS))?,
        nail: given(line.rule(keys::PANEL_NAIL))?,
        edge_nailing: most(line.rule(keys::EDGE_NAILING))?,
        field_nailing: most(line.rule(keys::FIELD_NAILING))?,
        nails_per_sill_block: nails.map(|nails| u16::try_from(nails).unwrap_or(u16::MAX)),
        vent_holes: least_hole.or(largest_hole),
    })
}
