//! New anchors along a wall line: where one can stand, of what kind, and the cheapest stations that will do.

use super::anchor_stations::{self, Candidate, PieceNeed, Problem, Unmet};
use super::layout::{AnchorLayout, Credit, Decline, ExistingAnchor, NewAnchor, Part, Shortfall};
use super::line::{Line, given, most, stud_thickness, studs, too_close};
use crate::check::{Counted, LookAt};
use crate::choice::Allowed;
use crate::house::{
    Anchor, AnchorKind, FoundationCondition, FoundationKind, Installed, OpeningKind, Placement, Tightness,
    Washer,
};
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::prices::{Cents, Item};
use crate::provisions::{FigureId, keys};

/// The checks that ask for anchors.
const CHECKS: [&str; 3] = ["anchor-spacing", "anchor-end-distance", "anchors-per-piece"];

/// The height above the sill from which a hammer drill fits: the account of published unit prices that
/// `tables/unit-prices-placeholder` names sets its price for walls of 18 in and more.
const ROOM_FOR_A_HAMMER_DRILL: Length = Length::inches(18);

/// The diameter of anchors where the document names none: common practice of the trade, no source.
const USUAL_DIAMETER: Length = Length::sixty_fourths(32);

/// Records of more anchors than this along one wall line are not told apart.
const MOST_IN_A_RUN: usize = 2_000;

/// Of runs beyond this many along one wall line, all are mended with the last of these or none is.
const MOST_RUNS_TOLD_APART: usize = 3;

/// Designs the anchors of a wall line.
pub(super) fn design(line: &Line<'_>) -> (Part<AnchorLayout>, Cents) {
    if line.is_enough(&CHECKS) {
        return (Part::NothingToAdd, Cents::ZERO);
    }
    match Design::new(line).and_then(Design::cheapest) {
        Ok((layout, cost)) => (Part::Work(layout), cost),
        Err(decline) => (Part::Declined(decline), Cents::ZERO),
    }
}

impl NewAnchor {
    /// The anchor as a record of it will read.
    pub fn record(&self) -> Anchor {
        let known = |length: Option<Length>| length.map_or_else(Observed::default, Observed::seen);
        Anchor {
            at: Some(self.at),
            kind: Observed::seen(self.kind),
            diameter: known(self.diameter),
            embedment: known(self.embedment),
            edge_distance: known(self.edge_distance),
            washer: self.washer.map_or_else(Observed::default, Observed::seen),
            tightness: Observed::seen(Tightness::Snug),
            corrosion: Observed::seen(crate::house::Corrosion::Light),
            installed: Observed::seen(Installed::Added),
            ..Anchor::default()
        }
    }
}

/// What the provisions ask of anchors here, and what is there.
struct Design<'a> {
    line: &'a Line<'a>,
    existing: Vec<ExistingAnchor>,
    kinds: Option<Allowed<AnchorKind>>,
    embedment: Option<Length>,
    edge_distance: Option<Length>,
    apart: Length,
    min_end: Length,
    end_diameters: u32,
    max_end: Option<Length>,
    applies_over: Option<Length>,
}

/// A run of existing anchors, mended one by one.
#[derive(Clone, Copy)]
struct MendedRun {
    item: usize,
    credit: Credit,
    cost: Cents,
}

/// A row of the spacing table to design by.
#[derive(Clone, Copy)]
struct Row {
    diameter: Option<Length>,
    spacing: Option<Length>,
    /// Whether anchors thinner than the diameter, and plates without any, answer to it too.
    is_for_any: bool,
}

impl<'a> Design<'a> {
    fn new(line: &'a Line<'a>) -> Result<Self, Decline> {
        foundation_will_hold(line)?;
        if line.wall.cripple_wall.value().is_none() {
            return Err(Decline::NotObserved(LookAt::CrippleWall));
        }
        for stretch in line.cripple_wall() {
            // Without the studs nobody knows where a rod comes up under one.
            let (from, to) = line.ends(stretch.span(Some(line.length)));
            if to > from && studs(stretch, from, to).is_none() {
                return Err(too_close(stretch));
            }
        }
        let not_seen = Decline::FigureNotSeen;
        let length = |key| given(line.rule(key)).map_err(not_seen);
        Ok(Self {
            line,
            existing: existing(line),
            kinds: given(line.rule(keys::ANCHOR_KINDS)).map_err(not_seen)?,
            embedment: length(keys::MIN_EMBEDMENT)?,
            edge_distance: length(keys::MIN_EDGE_DISTANCE)?,
            apart: length(keys::MIN_ANCHOR_SPACING)?.unwrap_or(Length::ZERO),
            min_end: length(keys::MIN_END_DISTANCE)?.unwrap_or(Length::ZERO),
            end_diameters: given(line.rule(keys::MIN_END_DIAMETERS))
                .map_err(not_seen)?
                .unwrap_or(0),
            max_end: length(keys::MAX_END_DISTANCE)?,
            applies_over: length(keys::SPACING_APPLIES_OVER)?,
        })
    }

    /// The cheapest layout by any row of the spacing table.
    fn cheapest(self) -> Result<(AnchorLayout, Cents), Decline> {
        let mut best: Option<(Cents, AnchorLayout)> = None;
        let mut first_decline = None;
        for row in self.rows()? {
            match self.by_row(row) {
                Ok((cost, _)) if best.as_ref().is_some_and(|(held, _)| *held <= cost) => {}
                Ok(found) => best = Some(found),
                Err(decline) => {
                    first_decline.get_or_insert(decline);
                }
            }
        }
        match (best, first_decline) {
            (Some((cost, layout)), _) => Ok((layout, cost)),
            (None, Some(decline)) => Err(decline),
            (None, None) => Err(Decline::Unmet(Shortfall::AnchorsTogether)),
        }
    }

    fn rows(&self) -> Result<Vec<Row>, Decline> {
        let rules = || self.line.requirement.all(keys::ANCHOR_SPACING);
        let thinnest = rules().filter_map(|(case, _)| case.diameter).min();
        let mut rows = Vec::new();
        let mut not_seen = None;
        for (case, rule) in rules() {
            match most(rule) {
                Ok(spacing) => rows.push(Row {
                    diameter: case.diameter,
                    spacing,
                    is_for_any: case.diameter.is_none() || case.diameter == thinnest,
                }),
                Err(figure) => not_seen = Some(figure),
            }
        }
        match (rows.is_empty(), not_seen) {
            (true, Some(figure)) => Err(Decline::FigureNotSeen(figure)),
            (true, None) => Ok(vec![Row {
                // Where the distance to an end is asked for in diameters, the anchors need one.
                diameter: (self.end_diameters > 0).then_some(USUAL_DIAMETER),
                spacing: None,
                is_for_any: true,
            }]),
            (false, _) => Ok(rows),
        }
    }

    /// How near an anchor may stand to the end of a sill piece.
    fn least_end(&self, row: Row) -> Length {
        let by_diameter = row
            .diameter
            .and_then(|diameter| diameter.times(i64::from(self.end_diameters)));
        self.min_end.max(by_diameter.unwrap_or(Length::ZERO))
    }

    /// The cheapest layout by a row, over every choice of runs of existing anchors to mend: a run is one record and
    /// is mended as a whole or not at all.
    fn by_row(&self, row: Row) -> Result<(Cents, AnchorLayout), Decline> {
        let runs = self.mendable_runs(row);
        let choices = 1usize << runs.len().min(MOST_RUNS_TOLD_APART);
        let mut best: Option<(i64, i64, AnchorLayout)> = None;
        let mut first_decline = None;
        for choice in 0..choices {
            let is_chosen = |place: usize| choice >> place.min(MOST_RUNS_TOLD_APART - 1) & 1 == 1;
            let chosen: Vec<MendedRun> = runs
                .iter()
                .enumerate()
                .filter(|(place, _)| is_chosen(*place))
                .map(|(_, run)| *run)
                .collect();
            match self.with_runs(row, &chosen) {
                Ok((cost, layout)) => {
                    let is_better = best
                        .as_ref()
                        .is_none_or(|(cents, uneven, _)| (cost.cents, cost.unevenness) < (*cents, *uneven));
                    if is_better {
                        best = Some((cost.cents, cost.unevenness, layout));
                    }
                }
                Err(decline) => {
                    first_decline.get_or_insert(decline);
                }
            }
        }
        match (best, first_decline) {
            (Some((cents, _, layout)), _) => Ok((Cents(cents), layout)),
            (None, decline) => Err(decline.unwrap_or(Decline::Unmet(Shortfall::AnchorsTogether))),
        }
    }

    /// The cheapest layout by a row once some runs of existing anchors are mended.
    fn with_runs(
        &self,
        row: Row,
        mended: &[MendedRun],
    ) -> Result<(anchor_stations::Cost, AnchorLayout), Decline> {
        let mut problem = Problem {
            apart: self.apart,
            ..Problem::default()
        };
        let answers = |anchor: &Anchor| row.is_for_any || Self::is_stout(anchor, row);
        let records = self.line.wall.anchors.listed();
        let is_mended = |item: usize| mended.iter().any(|run| run.item == item);
        for existing in self
            .existing
            .iter()
            .filter(|existing| existing.credit == Credit::Counts || is_mended(existing.item))
        {
            let Some(record) = records.get(existing.item).filter(|record| answers(record)) else {
                continue;
            };
            problem.existing.extend(known_stations(record));
            if let Placement::Run {
                first: Some(first),
                last: Some(last),
                spacing,
            } = record.placement()
                && row
                    .spacing
                    .is_none_or(|most| spacing.at_most(most) == Truth::True)
            {
                problem.kept.push((first, last));
            }
        }
        problem.existing.sort_unstable();
        problem.existing.dedup();

        self.demands(row, &mut problem)?;
        let places = self.places(row, &problem)?;
        problem.candidates = places
            .iter()
            .map(|place| Candidate {
                at: place.at(),
                cost: place.cost().0,
            })
            .collect();
        let (mut cost, chosen) = anchor_stations::solve(&problem).map_err(|unmet| decline(unmet, row))?;
        let mut layout = AnchorLayout {
            existing: self.existing.clone(),
            added: Vec::new(),
            spacing: row.spacing,
        };
        for run in mended {
            cost.cents = cost.cents.saturating_add(run.cost.0);
            if let Some(existing) = layout.existing.iter_mut().find(|one| one.item == run.item) {
                existing.credit = run.credit;
            }
        }
        for place in chosen.iter().filter_map(|chosen| places.get(*chosen)) {
            match place {
                Place::New(anchor, _) => layout.added.push(*anchor),
                Place::Mended { item, credit, .. } => {
                    if let Some(existing) = layout.existing.iter_mut().find(|existing| existing.item == *item)
                    {
                        existing.credit = *credit;
                    }
                }
            }
        }
        Ok((cost, layout))
    }

    /// Whether an existing anchor is of the diameter of a row or stouter.
    fn is_stout(anchor: &Anchor, row: Row) -> bool {
        row.diameter
            .is_none_or(|diameter| Counted::is_stout(anchor, diameter) == Truth::True)
    }

    /// The sill pieces by their ends.
    fn pieces(&self) -> impl Iterator<Item = (Length, Length)> + '_ {
        let line = self.line;
        line.sill()
            .iter()
            .map(|piece| line.ends(piece.span(Some(line.length))))
    }

    /// Windows, runs and numbers.
    fn demands(&self, row: Row, problem: &mut Problem) -> Result<(), Decline> {
        let end = self.least_end(row);
        let mut runs: Vec<(Length, Length)> = Vec::new();
        let mut pieces: Vec<(Length, Length)> = self.pieces().collect();
        pieces.sort_unstable();
        for (from, to) in pieces {
            let length = to.saturating_sub(from);
            let number = self.number_for(length).map_err(Decline::FigureNotSeen)?;
            if number == Some(1) {
                problem.windows.push((from, to));
            } else if let Some(max_end) = self.max_end {
                // An anchor in the next piece does nothing for a piece that is too short to hold one itself.
                let first = (from.saturating_add(end), from.saturating_add(max_end).min(to));
                let last = (to.saturating_sub(max_end).max(from), to.saturating_sub(end));
                problem.windows.extend([first, last]);
            }
            if let Some(needed) = number.filter(|needed| *needed > 1) {
                problem.pieces.push(PieceNeed { from, to, needed });
            }
            if self.applies_over.is_none_or(|over| length > over) {
                // A splice between two long pieces does not begin the spacing anew.
                match runs.last_mut() {
                    Some((_, end)) if *end == from => *end = to,
                    _ => runs.push((from, to)),
                }
            }
        }
        if let Some(spacing) = row.spacing {
            problem.spacing = spacing;
            problem.runs = runs;
        }
        Ok(())
    }

    /// The number of anchors asked of a piece of some length.
    fn number_for(&self, length: Length) -> Result<Option<u32>, FigureId> {
        given(self.line.counted().anchors_in_piece(length))
    }

    /// Every place where an anchor can be had, in order of station.
    fn places(&self, row: Row, problem: &Problem) -> Result<Vec<Place>, Decline> {
        let washer = self.washer(row).map_err(Decline::FigureNotSeen)?;
        let clear = clearance(washer, row);
        let mut places = self.mended(row, problem);
        let taken: Vec<Length> = self
            .existing
            .iter()
            .flat_map(|existing| existing.stations.iter().copied())
            .collect();
        let mut barred = self.barred(row, clear);
        for at in &taken {
            let counts = problem.existing.binary_search(at).is_ok();
            let room = if counts {
                self.apart.max(clear)
            } else {
                clear.saturating_add(clear)
            };
            barred.push((at.saturating_sub(room), at.saturating_add(room)));
        }
        barred.sort_unstable();
        let studs = self.under_studs(clear);
        let mut no_kind = None;
        for at in self.stations(row, problem, &barred, &studs) {
            let is_under_a_stud = studs.iter().any(|(from, to)| *from < at && at < *to);
            match self.kind_at(at, row, washer, is_under_a_stud) {
                Some((anchor, cost)) => places.push(Place::New(anchor, cost)),
                None => no_kind = Some(at),
            }
        }
        places.sort_by_key(Place::at);
        places.dedup_by_key(|place| place.at());
        self.only_middles_of_short_pieces(&mut places);
        match no_kind {
            Some(at) if places.is_empty() => Err(Decline::NoKindOfAnchor { at }),
            _ => Ok(places),
        }
    }

    /// Of a piece that one anchor holds, only the place nearest to its middle is offered.
    fn only_middles_of_short_pieces(&self, places: &mut Vec<Place>) {
        for (from, to) in self.pieces() {
            if self.number_for(to.saturating_sub(from)) != Ok(Some(1)) {
                continue;
            }
            // Twice the station against twice the middle, so that nothing is halved.
            let off_middle = |place: &Place| {
                place
                    .at()
                    .saturating_add(place.at())
                    .abs_diff(from.saturating_add(to))
            };
            let inside = |place: &&Place| from <= place.at() && place.at() <= to;
            let nearest = places
                .iter()
                .filter(inside)
                .min_by_key(|place| off_middle(place))
                .map(Place::at);
            places.retain(|place| !inside(&place) || Some(place.at()) == nearest);
        }
    }

    /// Single existing anchors that count once they are mended.
    fn mended(&self, row: Row, problem: &Problem) -> Vec<Place> {
        let mut places = Vec::new();
        for existing in self.existing.iter().filter(|existing| !self.is_run(existing)) {
            let [at] = existing.stations.as_slice() else {
                continue;
            };
            let is_clear = problem
                .existing
                .iter()
                .all(|other| other.abs_diff(*at) >= self.apart.max(Length::from_nanometers(1)));
            if let Some((credit, cost)) = self.mending(existing, row).filter(|_| is_clear) {
                places.push(Place::Mended {
                    at: *at,
                    item: existing.item,
                    credit,
                    cost,
                });
            }
        }
        places
    }

    /// Runs of existing anchors that count once each of them is mended.
    fn mendable_runs(&self, row: Row) -> Vec<MendedRun> {
        let runs = self.existing.iter().filter(|existing| self.is_run(existing));
        runs.filter_map(|existing| {
            let (credit, each) = self.mending(existing, row)?;
            let count = i64::try_from(existing.stations.len()).ok()?;
            Some(MendedRun {
                item: existing.item,
                credit,
                cost: each.times(count),
            })
        })
        .collect()
    }

    fn record(&self, existing: &ExistingAnchor) -> Option<&Anchor> {
        self.line.wall.anchors.value()?.get(existing.item)
    }

    /// Whether a record is of a run whose two ends were found.
    fn is_run(&self, existing: &ExistingAnchor) -> bool {
        self.record(existing).is_some_and(|record| {
            matches!(
                record.placement(),
                Placement::Run {
                    first: Some(_),
                    last: Some(_),
                    ..
                }
            )
        })
    }

    /// What an anchor of a record needs to count, and what that costs; `None` where no mending helps.
    fn mending(&self, existing: &ExistingAnchor, row: Row) -> Option<(Credit, Cents)> {
        let record = self
            .record(existing)
            .filter(|_| matches!(existing.credit, Credit::Lacks(_)))?;
        let washer = self.washer(row).ok().flatten();
        let mended = mend(record, washer);
        let answers = row.is_for_any || Self::is_stout(record, row);
        if self.line.counted().anchor(&mended).0 != Truth::True || !answers {
            return None;
        }
        let gets_washer = mended.washer != record.washer;
        let tighten = mended.tightness != record.tightness;
        let price = |item, is_needed: bool| {
            if is_needed {
                self.line.prices.likely(item)
            } else {
                Cents::ZERO
            }
        };
        let credit = Credit::Mended {
            washer: washer.filter(|_| gets_washer),
            tighten,
        };
        let cost = price(Item::PlateWasher, gets_washer).plus(price(Item::TightenNut, tighten));
        Some((credit, cost))
    }

    /// The washer asked for under the nut of a new anchor.
    fn washer(&self, row: Row) -> Result<Option<Washer>, FigureId> {
        given(self.line.counted().washer(row.diameter.unwrap_or(Length::ZERO)))
    }

    /// Stretches, without their ends, in which no new anchor may stand.
    fn barred(&self, row: Row, clear: Length) -> Vec<(Length, Length)> {
        let line = self.line;
        let around =
            |from: Length, to: Length, room: Length| (from.saturating_sub(room), to.saturating_add(room));
        let mut barred = Vec::new();
        let end = self.least_end(row);
        for (from, to) in self.pieces() {
            // A piece that one anchor holds may be too short to keep the distance from both ends.
            let length = to.saturating_sub(from);
            let is_single = self.number_for(length) == Ok(Some(1));
            let room = if is_single && length < end.saturating_add(end) {
                Length::ZERO
            } else {
                end
            };
            barred.push(around(from, from, room.max(Length::from_nanometers(1))));
            barred.push(around(to, to, room.max(Length::from_nanometers(1))));
        }
        for stretch in line.foundation() {
            let (from, _) = line.ends(stretch.span(Some(line.length)));
            if from > Length::ZERO {
                barred.push(around(from, from, clear));
            }
        }
        for opening in line.wall.openings.listed() {
            // A vent in a cripple wall leaves the sill below it free; in a foundation it does not.
            let is_above_the_sill =
                opening.kind == OpeningKind::Vent && line.cripple_wall_at(opening.from).is_some();
            if !is_above_the_sill {
                barred.push(around(opening.from, opening.to, clear));
            }
        }
        barred
    }

    /// Stretches, without their ends, in which a stud stands in the way of a rod; a plate goes on the side of the
    /// sill below it.
    fn under_studs(&self, clear: Length) -> Vec<(Length, Length)> {
        let line = self.line;
        let mut under = Vec::new();
        for stretch in line.cripple_wall() {
            let (from, to) = line.ends(stretch.span(Some(line.length)));
            let thickness = stud_thickness(stretch);
            let half = Length::from_nanometers(thickness.nanometers() / 2 + thickness.nanometers() % 2);
            for stud in studs(stretch, from, to).unwrap_or_default() {
                let (left, right) = if stud == from {
                    (from, from.saturating_add(thickness))
                } else if stud == to {
                    (to.saturating_sub(thickness), to)
                } else {
                    (stud.saturating_sub(half), stud.saturating_add(half))
                };
                under.push((left.saturating_sub(clear), right.saturating_add(clear)));
            }
        }
        under
    }

    /// Stations to choose from: whole inches, as a crew marks them, and the limits themselves.
    fn stations(
        &self,
        row: Row,
        problem: &Problem,
        barred: &[(Length, Length)],
        studs: &[(Length, Length)],
    ) -> Vec<Length> {
        let length = self.line.length;
        let inches = length.nanometers() / Length::inches(1).nanometers();
        let mut stations: Vec<Length> = (0..=inches).map(Length::inches).collect();
        for (from, to) in problem.windows.iter().chain(barred).chain(studs) {
            stations.extend([*from, *to]);
        }
        stations.extend(
            self.pieces()
                .map(|(from, to)| Length::from_nanometers(from.saturating_add(to).nanometers() / 2)),
        );
        for at in &problem.existing {
            stations.extend([at.saturating_sub(self.apart), at.saturating_add(self.apart)]);
            if let Some(spacing) = row.spacing {
                stations.extend([at.saturating_sub(spacing), at.saturating_add(spacing)]);
            }
        }
        let on_a_piece = |station: Length| self.pieces().any(|(from, to)| from <= station && station <= to);
        stations.retain(|station| on_a_piece(*station));
        stations.sort_unstable();
        stations.dedup();
        // Both lists are in order: one walk over them.
        let mut free = Vec::with_capacity(stations.len());
        let mut first = 0;
        let mut reach = Length::ZERO.saturating_sub(Length::inches(1));
        for station in stations {
            while let Some((from, to)) = barred.get(first)
                && *from < station
            {
                reach = reach.max(*to);
                first += 1;
            }
            if station >= reach {
                free.push(station);
            }
        }
        free
    }

    /// The cheapest kind of anchor that can be installed at a station.
    fn kind_at(
        &self,
        at: Length,
        row: Row,
        washer: Option<Washer>,
        is_under_a_stud: bool,
    ) -> Option<(NewAnchor, Cents)> {
        let line = self.line;
        let allowed = |kind: AnchorKind| self.kinds.is_none_or(|kinds| kinds.contains(kind));
        let stretch = line.foundation().iter().find(|stretch| {
            let (from, to) = line.ends(stretch.span(Some(line.length)));
            from <= at && at <= to
        })?;
        let above = line.cripple_wall_at(at);
        let is_cracked = stretch.condition.value() == Some(&FoundationCondition::Cracked);
        // A rod down the middle of the wall keeps the edge distance where the wall is twice that thick.
        let keeps_the_edge = self.edge_distance.is_none_or(|edge| {
            stretch
                .stem_thickness
                .bounds()
                .1
                .is_none_or(|thickness| *thickness >= edge.saturating_add(edge))
        });
        let height = above.and_then(|stretch| {
            let (least, _) = stretch.shortest_stud.bounds();
            least.or(stretch.height.bounds().0).copied()
        });
        let tight_drilling = height.is_none_or(|height| height < ROOM_FOR_A_HAMMER_DRILL);
        let mut best: Option<(NewAnchor, Cents)> = None;
        let mut offer = |anchor: NewAnchor, cost: Cents| {
            if best.as_ref().is_none_or(|(_, held)| cost < *held) {
                best = Some((anchor, cost));
            }
        };
        let rods = [
            (AnchorKind::Adhesive, Item::AdhesiveAnchor),
            (AnchorKind::Expansion, Item::ExpansionAnchor),
            (AnchorKind::Screw, Item::ScrewAnchor),
        ];
        // Where the floor bears on the sill nothing can be drilled from above.
        for (kind, item) in rods
            .into_iter()
            .filter(|_| above.is_some() && keeps_the_edge && !is_under_a_stud)
        {
            // An expansion anchor splits cracked concrete further (common practice, no source).
            if !allowed(kind) || (is_cracked && kind != AnchorKind::Adhesive) {
                continue;
            }
            let price = line.prices.likely(item);
            let factor = line.prices.likely(Item::TightDrilling).0;
            let cost = if tight_drilling {
                price.hundredths_of(factor)
            } else {
                price
            };
            offer(
                NewAnchor {
                    at,
                    kind,
                    diameter: row.diameter,
                    embedment: self.embedment,
                    washer,
                    edge_distance: self.edge_distance,
                    tight_drilling,
                },
                cost,
            );
        }
        if allowed(AnchorKind::SidePlate) && row.is_for_any {
            offer(
                NewAnchor {
                    at,
                    kind: AnchorKind::SidePlate,
                    diameter: None,
                    embedment: None,
                    washer: None,
                    edge_distance: None,
                    tight_drilling: false,
                },
                line.prices.likely(Item::SidePlate),
            );
        }
        best
    }
}

/// A place for an anchor: a new one, or an old one that is mended.
enum Place {
    New(NewAnchor, Cents),
    Mended {
        at: Length,
        item: usize,
        credit: Credit,
        cost: Cents,
    },
}

impl Place {
    const fn at(&self) -> Length {
        match self {
            Self::New(anchor, _) => anchor.at,
            Self::Mended { at, .. } => *at,
        }
    }

    const fn cost(&self) -> Cents {
        match self {
            Self::New(_, cost) | Self::Mended { cost, .. } => *cost,
        }
    }
}

/// The room a new anchor needs to each side: half its plate washer, or as much as its nut, which is about twice as
/// wide as its rod.
fn clearance(washer: Option<Washer>, row: Row) -> Length {
    let half = |length: Length| Length::from_nanometers(length.nanometers() / 2 + length.nanometers() % 2);
    match washer {
        Some(Washer::Plate { side, .. }) => half(side),
        _ => row.diameter.unwrap_or(Length::inches(1)),
    }
}

/// An anchor as it is once it has its washer and its nut is tight.
pub(super) fn mend(record: &Anchor, washer: Option<Washer>) -> Anchor {
    let mut mended = record.clone();
    let lacks_washer = |required: Washer| {
        record
            .washer
            .satisfies(|found: Washer| found.is_as_good_as(required))
            != Truth::True
    };
    if let Some(washer) = washer.filter(|washer| lacks_washer(*washer)) {
        mended.washer = Observed::seen(washer);
    }
    if record.tightness.value() != Some(&Tightness::Snug) {
        mended.tightness = Observed::seen(Tightness::Snug);
    }
    mended
}

/// Whether the foundation is known and can be drilled into.
fn foundation_will_hold(line: &Line<'_>) -> Result<(), Decline> {
    if line.foundation().is_empty() {
        return Err(Decline::NotObserved(LookAt::Foundation));
    }
    let mut reached = Length::ZERO;
    for stretch in line.foundation() {
        let (from, to) = line.ends(stretch.span(Some(line.length)));
        if from > reached {
            return Err(Decline::NotObserved(LookAt::Foundation));
        }
        reached = reached.max(to);
        match stretch.kind.value() {
            None => return Err(Decline::NotObserved(LookAt::FoundationKind)),
            Some(FoundationKind::Concrete | FoundationKind::Block) => {}
            Some(kind) => return Err(Decline::FoundationKind { kind: *kind, from }),
        }
        match stretch.condition.value() {
            Some(condition @ (FoundationCondition::Crumbling | FoundationCondition::Displaced)) => {
                return Err(Decline::FoundationCondition {
                    condition: *condition,
                    from,
                });
            }
            Some(FoundationCondition::Sound | FoundationCondition::Cracked) => {}
            None => return Err(Decline::NotObserved(LookAt::FoundationCondition)),
        }
    }
    if reached < line.length {
        return Err(Decline::NotObserved(LookAt::Foundation));
    }
    Ok(())
}

/// Every record of existing anchors, with whether it is credited.
fn existing(line: &Line<'_>) -> Vec<ExistingAnchor> {
    let counted = line.counted();
    let records = line.wall.anchors.listed();
    let mut list = Vec::with_capacity(records.len());
    for (item, record) in records.iter().enumerate() {
        let stations = stations_of(record);
        let credit = match counted.anchor(record) {
            (Truth::True, _) if stations.is_empty() => Credit::NotPlaced,
            (Truth::True, _) | (_, None) => Credit::Counts,
            (Truth::False, Some(lacks)) => Credit::Lacks(lacks),
            (Truth::Maybe, Some(open)) => Credit::NotSeen(open),
        };
        list.push(ExistingAnchor {
            item,
            stations,
            credit,
        });
    }
    list
}

/// Where anchors of a record surely stand: of a run, at its two ends, for the spacing is the largest there is.
fn known_stations(record: &Anchor) -> impl Iterator<Item = Length> {
    let [one, other] = match record.placement() {
        Placement::At(at) => [Some(at), None],
        Placement::Run { first, last, .. } => [first, last],
    };
    one.into_iter().chain(other)
}

/// Where the anchors of a record stand: those of a run between its ends as they would be at its spacing.
fn stations_of(record: &Anchor) -> Vec<Length> {
    match record.placement() {
        Placement::At(at) => vec![at],
        Placement::Run {
            first: Some(first),
            last: Some(last),
            spacing,
        } => {
            let mut stations = vec![first];
            if let Some(spacing) = spacing.value().copied().filter(|spacing| *spacing > Length::ZERO) {
                let mut next = first.saturating_add(spacing);
                while next < last && stations.len() < MOST_IN_A_RUN {
                    stations.push(next);
                    next = next.saturating_add(spacing);
                }
            }
            if last > first {
                stations.push(last);
            }
            stations
        }
        Placement::Run { first, last, .. } => first.or(last).into_iter().collect(),
    }
}

fn decline(unmet: Unmet, row: Row) -> Decline {
    Decline::Unmet(match unmet {
        Unmet::Window { from, to } => Shortfall::NoAnchorNearEnd {
            from: from.min(to),
            to: from.max(to),
        },
        Unmet::Spacing { from, to } => Shortfall::AnchorsTooFarApart {
            from,
            to,
            allowed: row.spacing.unwrap_or(Length::ZERO),
        },
        Unmet::Number { piece, possible } => Shortfall::TooFewAnchorsInPiece {
            from: piece.from,
            to: piece.to,
            needed: piece.needed,
            possible,
        },
        Unmet::Together => Shortfall::AnchorsTogether,
    })
}
