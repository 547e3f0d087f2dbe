//! Random houses: everything known, from which single observations are then taken away.
//!
//! A house is read off a row of random numbers, so that a failing case shrinks to few and small ones.

use proptest::collection::vec;
use proptest::prelude::*;
use retrofit_core::choice::Choice;
use retrofit_core::house::{
    Anchor, AnchorKind, Building, Connection, ConnectionKind, Corrosion, CrippleStretch, FoundationStretch,
    House, Nail, Opening, OpeningKind, Panel, PanelFoot, Post, Shank, Sheathing, SillPiece, Stories,
    Tightness, WallLine, Washer,
};
use retrofit_core::measure::Length;
use retrofit_core::observation::Observed;

/// Random numbers, used one after another; when they run out every answer is the first.
pub(crate) struct Dice<'a> {
    rolls: &'a [u16],
    /// How often, of a hundred times, what was built is what is asked for.
    care: usize,
}

impl<'a> Dice<'a> {
    pub(crate) fn new(rolls: &'a [u16]) -> Self {
        Self { rolls, care: 70 }
    }

    pub(crate) fn below(&mut self, sides: usize) -> usize {
        let Some((roll, rest)) = self.rolls.split_first() else {
            return 0;
        };
        self.rolls = rest;
        usize::from(*roll) % sides.max(1)
    }

    pub(crate) fn between(&mut self, least: i64, most: i64) -> i64 {
        let sides = usize::try_from(most - least + 1).unwrap_or(1);
        least + i64::try_from(self.below(sides)).unwrap()
    }

    pub(crate) fn chance(&mut self, percent: usize) -> bool {
        self.below(100) >= 100 - percent
    }

    pub(crate) fn pick<T: Clone>(&mut self, from: &[T]) -> T {
        from[self.below(from.len())].clone()
    }

    pub(crate) fn shuffle<T>(&mut self, list: &mut [T]) {
        for last in (1..list.len()).rev() {
            list.swap(last, self.below(last + 1));
        }
    }

    fn any<T: Choice + Clone>(&mut self) -> Observed<T> {
        Observed::measured(self.pick(T::ALL))
    }

    /// As a careful builder would have it, or any.
    fn mostly<T: Choice + Clone>(&mut self, asked: T) -> Observed<T> {
        if self.is_careful() {
            Observed::measured(asked)
        } else {
            self.any()
        }
    }

    fn is_careful(&mut self) -> bool {
        let slips = 100 - self.care;
        !self.chance(slips)
    }

    /// Mostly the first, which is what is asked for.
    fn one_of<T: Clone>(&mut self, choices: &[T]) -> T {
        if self.is_careful() {
            choices[0].clone()
        } else {
            self.pick(choices)
        }
    }

    fn mostly_yes(&mut self) -> Observed<bool> {
        Observed::measured(self.one_of(&[true, false]))
    }

    fn yes(&mut self, percent: usize) -> Observed<bool> {
        Observed::measured(!self.chance(100 - percent))
    }

    fn sixteenths(&mut self, choices: &[i64]) -> Observed<Length> {
        Observed::measured(Length::sixty_fourths(4 * self.one_of(choices)))
    }

    fn inches(&mut self, least: i64, most: i64) -> Observed<Length> {
        Observed::measured(Length::inches(self.between(least, most)))
    }

    /// Stations that cut a wall line into stretches.
    fn cuts(&mut self, length: i64, most: usize) -> Vec<i64> {
        let count = self.below(most + 1);
        let mut cuts: Vec<i64> = (0..count).map(|_| self.between(1, length - 1)).collect();
        cuts.extend([0, length]);
        cuts.sort_unstable();
        cuts.dedup();
        cuts
    }
}

/// Rows of random numbers, long enough for a house of four wall lines.
pub(crate) fn rolls() -> impl Strategy<Value = Vec<u16>> {
    vec(any::<u16>(), 0..900)
}

/// Rows of random numbers for a change to a house.
pub(crate) fn few_rolls() -> impl Strategy<Value = Vec<u16>> {
    vec(any::<u16>(), 0..200)
}

/// A house of which everything is known.
pub(crate) fn house(rolls: &[u16]) -> House {
    let mut dice = Dice::new(rolls);
    let dice = &mut dice;
    let stories = dice.pick(&[2u8, 4, 3, 6, 8, 1]);
    let lines = dice.pick(&[1, 2, 1, 4]);
    let mut house = House {
        name: "random".to_owned(),
        building: Building {
            stories: Observed::measured(Stories::from_halves(stories)),
            units: Observed::measured(1),
            year_built: Observed::measured(1925),
            exterior: dice.any(),
            interior_plaster: dice.yes(50),
            roof: dice.any(),
            veneer_height: dice.inches(0, 130),
            floors_at_one_level: dice.yes(80),
            rooms_over_garage: dice.yes(20),
            slab_or_pole_portion: dice.yes(20),
            ..Building::default()
        },
        wall_lines: (0..lines).map(|number| wall_line(number, dice)).collect(),
        continuous_perimeter: dice.yes(80),
        crawl_space_area: Observed::measured(Length::feet(30).by(Length::feet(dice.between(1, 40)))),
        posts: Observed::measured(
            (0..dice.below(3))
                .map(|_| Post {
                    count: Some(1),
                    at: None,
                    top: dice.any(),
                    base: dice.any(),
                    sound_and_plumb: dice.yes(70),
                    lean: Observed::default(),
                    ..Post::default()
                })
                .collect(),
        ),
        earlier_retrofit: dice.yes(50),
        ..House::default()
    };
    // All vents together are no less than those listed along the wall lines.
    let more = Length::inches(12).by(Length::inches(dice.between(0, 60)));
    house.vent_area = Observed::measured(house.listed_vent_area().saturating_add(more));
    house
}

fn wall_line(number: usize, dice: &mut Dice<'_>) -> WallLine {
    dice.care = dice.pick(&[100, 97, 100, 60]);
    let length = dice.pick(&[216, 120, 145, 144, 288, 73, 72, 30, 31, 400]);
    let cripple_wall = cripple_wall(length, dice);
    let openings = openings(length, dice);
    let panels = panels(length, &cripple_wall, &openings, dice);
    WallLine {
        name: format!("line {number}"),
        length: Observed::measured(Length::inches(length)),
        joists: dice.any(),
        rim: dice.any(),
        foundation: Observed::measured(foundation(length, dice)),
        sill: Observed::measured(sill(length, dice)),
        anchors: Observed::measured(anchors(length, dice)),
        cripple_wall: Observed::measured(cripple_wall),
        panels: Observed::measured(panels),
        connections: Observed::measured(connections(length, dice)),
        openings: Observed::measured(openings),
        ..WallLine::default()
    }
}

fn stretches(cuts: &[i64]) -> impl Iterator<Item = (Option<Length>, Option<Length>)> + '_ {
    let end = cuts.last().copied();
    cuts.windows(2).map(move |pair| {
        let from = (pair[0] != 0).then(|| Length::inches(pair[0]));
        let to = (Some(pair[1]) != end).then(|| Length::inches(pair[1]));
        (from, to)
    })
}

fn foundation(length: i64, dice: &mut Dice<'_>) -> Vec<FoundationStretch> {
    let cuts = dice.cuts(length, 1);
    stretches(&cuts)
        .map(|(from, to)| FoundationStretch {
            from,
            to,
            kind: dice.any(),
            condition: dice.any(),
            stem_height: dice.inches(0, 30),
            stem_thickness: dice.inches(4, 10),
            footing_width: dice.inches(8, 24),
            footing_thickness: dice.inches(4, 10),
            footing_depth: dice.inches(0, 24),
            reinforcing: dice.any(),
            ..FoundationStretch::default()
        })
        .collect()
}

fn sill(length: i64, dice: &mut Dice<'_>) -> Vec<SillPiece> {
    let cuts = dice.cuts(length, 2);
    stretches(&cuts)
        .map(|(from, to)| SillPiece {
            from,
            to,
            thickness: dice.sixteenths(&[24, 20, 12]),
            width: dice.inches(3, 8),
            against_studs: dice.any(),
            species: Observed::default(),
            treatment: dice.any(),
            soundness: dice.any(),
            embedded: dice.yes(20),
            installed: dice.any(),
        })
        .collect()
}

/// A station, often one at which an anchor near an end would stand.
fn station(length: i64, dice: &mut Dice<'_>) -> Length {
    let near = dice.pick(&[9, 10, 12, 4, 13]).min(length);
    Length::inches(match dice.below(4) {
        0 => near,
        1 => length - near,
        _ => dice.between(0, length),
    })
}

/// Anchors here and there, or a run from end to end, or both.
fn anchors(length: i64, dice: &mut Dice<'_>) -> Vec<Anchor> {
    let mut list: Vec<Anchor> = (0..dice.pick(&[0, 1, 2, 4, 7, 10]))
        .map(|_| anchor(length, dice))
        .collect();
    if dice.chance(60) {
        let mut run = anchor(length, dice);
        run.at = None;
        run.first = Some(Length::inches(10.min(length)));
        run.last = Some(Length::inches((length - 10).max(10.min(length))));
        run.spacing = Observed::measured(Length::inches(dice.one_of(&[48, 30, 72, 73])));
        run.end_distance = Observed::measured(Length::inches(10));
        list.push(run);
    }
    list
}

/// Any anchor or run of anchors.
pub(crate) fn anchor(length: i64, dice: &mut Dice<'_>) -> Anchor {
    let mut anchor = Anchor {
        kind: dice.mostly(AnchorKind::CastInPlace),
        diameter: dice.sixteenths(&[10, 8, 7, 12]),
        embedment: Observed::measured(Length::inches(dice.one_of(&[7, 5, 4, 3]))),
        edge_distance: dice.sixteenths(&[32, 20, 28]),
        washer: Observed::measured(dice.one_of(&[
            "3 in x 3 in x 0.229 in".parse::<Washer>().unwrap(),
            "3 in x 3 in x 0.229 in".parse().unwrap(),
            "2 in x 2 in x 3/16 in".parse().unwrap(),
            Washer::Cut,
            Washer::None,
        ])),
        tightness: dice.mostly(Tightness::Snug),
        corrosion: dice.mostly(Corrosion::Light),
        installed: dice.any(),
        ..Anchor::default()
    };
    if dice.chance(30) {
        let (one, other) = (station(length, dice), station(length, dice));
        anchor.first = (!dice.chance(30)).then(|| one.min(other));
        anchor.last = (!dice.chance(30)).then(|| one.max(other));
        anchor.spacing = Observed::measured(Length::inches(dice.pick(&[48, 72, 73, 36, 8, 120])));
        anchor.end_distance = Observed::measured(Length::inches(dice.pick(&[10, 8, 12, 13])));
    } else {
        anchor.at = Some(station(length, dice));
    }
    anchor
}

fn cripple_wall(length: i64, dice: &mut Dice<'_>) -> Vec<CrippleStretch> {
    let most = dice.pick(&[0, 0, 2]);
    let cuts = dice.cuts(length, most);
    let everywhere = dice.chance(70);
    stretches(&cuts)
        .filter_map(|(from, to)| {
            let stud = dice.pick(&[20, 16, 24, 12, 18, 48, 60]);
            let stretch = CrippleStretch {
                from,
                to,
                height: Observed::measured(Length::inches(stud + dice.pick(&[5, 3]))),
                shortest_stud: Observed::measured(Length::inches(stud - dice.between(0, 8))),
                tallest_stud: Observed::measured(Length::inches(stud)),
                stud_depth: dice.sixteenths(&[56, 60]),
                stud_thickness: dice.sixteenths(&[24, 28]),
                stud_spacing: dice.inches(16, 24),
                top_plate: dice.any(),
                plate_splices_tied: dice.yes(70),
                balloon_framed: dice.yes(10),
                solid_blocked: dice.yes(30),
                ..CrippleStretch::default()
            };
            (everywhere || dice.chance(60)).then_some(stretch)
        })
        .collect()
}

fn openings(length: i64, dice: &mut Dice<'_>) -> Vec<Opening> {
    (0..dice.pick(&[0, 0, 1, 3]))
        .map(|_| {
            let from = dice.between(0, length - 2);
            let to = (from + dice.between(1, 30)).min(length);
            Opening {
                from: Length::inches(from),
                to: Length::inches(to),
                kind: dice.pick(OpeningKind::ALL),
                top: dice.inches(2, 20),
                net_area: Observed::measured(Length::inches(1).by(Length::inches(dice.between(0, 90)))),
            }
        })
        .collect()
}

/// Panels on the cripple wall: every other stretch between random cuts.
fn panels(
    length: i64,
    cripple_wall: &[CrippleStretch],
    openings: &[Opening],
    dice: &mut Dice<'_>,
) -> Vec<Panel> {
    if dice.chance(15) {
        let total = dice.between(0, length);
        return vec![Panel {
            total_length: Observed::measured(Length::inches(total)),
            at_each_end: dice.yes(70),
            shortest: dice.inches(0, total),
            largest_gap: dice.inches(0, length),
            cut_through: dice.yes(20),
            ..panel(dice)
        }];
    }
    let most = dice.pick(&[0, 0, 1, 4]);
    let cuts = dice.cuts(length, most);
    let keep = dice.pick(&[100, 100, 60]);
    let mut panels = Vec::new();
    for pair in cuts.windows(2) {
        let mut panel = panel(dice);
        if !dice.chance(keep) {
            continue;
        }
        let whole = Some(Length::inches(length));
        let (from, to) = (Length::inches(pair[0]), Length::inches(pair[1]));
        let on = cripple_wall
            .iter()
            .map(|stretch| stretch.span(whole))
            .map(|span| (span.from.max(from), span.to.unwrap().min(to)))
            .find(|(from, to)| from < to);
        let Some((from, to)) = on else { continue };
        panel.from = Some(from);
        panel.to = Some(to);
        let cut = openings
            .iter()
            .any(|opening| opening.kind != OpeningKind::Blocked && opening.from < to && opening.to > from);
        panel.cut_through = Observed::measured(cut);
        panels.push(panel);
    }
    panels
}

/// Most panels are good ones.
fn panel(dice: &mut Dice<'_>) -> Panel {
    Panel {
        sheathing: dice.mostly(Sheathing::Plywood),
        thickness: Observed::measured(Length::sixty_fourths(dice.one_of(&[32, 30, 29, 40]))),
        nail: Observed::measured(Nail {
            penny: dice.one_of(&[8, 10, 6]),
            shank: dice.one_of(&[Shank::Common, Shank::Box, Shank::Ring]),
        }),
        edge_nailing: dice.sixteenths(&[64, 48, 65, 96]),
        field_nailing: dice.sixteenths(&[192, 160, 193]),
        nails_flush: dice.mostly_yes(),
        joints_blocked: dice.mostly_yes(),
        foot: dice.mostly(PanelFoot::Sill),
        nails_per_sill_block: Observed::measured(dice.one_of(&[4, 3, 6])),
        vent_holes: dice.inches(0, 4),
        closes_stud_bays: dice.yes(50),
        ..Panel::default()
    }
}

/// A panel that has whatever any set asks for.
pub(crate) fn good_panel(from: Length, to: Length) -> Panel {
    Panel {
        from: Some(from),
        to: Some(to),
        sheathing: Observed::measured(Sheathing::Plywood),
        thickness: Observed::measured(Length::sixty_fourths(48)),
        nail: Observed::measured(Nail {
            penny: 10,
            shank: Shank::Common,
        }),
        edge_nailing: Observed::measured(Length::inches(2)),
        field_nailing: Observed::measured(Length::inches(6)),
        nails_flush: Observed::measured(true),
        joints_blocked: Observed::measured(true),
        foot: Observed::measured(PanelFoot::Sill),
        nails_per_sill_block: Observed::measured(12),
        cut_through: Observed::measured(false),
        vent_holes: Observed::measured(Length::inches(2)),
        closes_stud_bays: Observed::measured(false),
        ..Panel::default()
    }
}

fn connections(length: i64, dice: &mut Dice<'_>) -> Vec<Connection> {
    let cuts = dice.cuts(length, 2);
    let mut list: Vec<Connection> = stretches(&cuts)
        .map(|(from, to)| Connection {
            from,
            to,
            kind: dice.any(),
            spacing: dice.inches(4, 50),
            nails_per_block: Observed::measured(dice.pick(&[4, 3, 2, 0])),
            ..Connection::default()
        })
        .collect();
    if dice.chance(40) {
        list.remove(dice.below(list.len()));
    }
    list
}

/// A connection that holds something.
pub(crate) fn connection(from: Length, to: Length, dice: &mut Dice<'_>) -> Connection {
    Connection {
        from: Some(from),
        to: Some(to),
        kind: Observed::measured(dice.pick(&[
            ConnectionKind::Clips,
            ConnectionKind::Toenails,
            ConnectionKind::NailedBlocks,
        ])),
        spacing: dice.inches(4, 50),
        nails_per_block: Observed::measured(dice.pick(&[4, 3, 2])),
        ..Connection::default()
    }
}
