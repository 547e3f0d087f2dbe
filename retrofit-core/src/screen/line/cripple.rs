//! The cripple wall: its height, studs, panels and covering.

use typenum::{P1, Z0};

use super::{Around, Number, Part, Size, Why, least, nail, size};
use crate::house::{CrippleCovering, CrippleStretch, Panel, PanelFoot, Parts, Sheathing, WallLine};
use crate::measure::Length;
use crate::observation::{Basis, Observed};
use crate::screen::input::{InPoundsAndInches, Input, Pick, UnknownKind, What};
use crate::screen::plan::PlacedLine;
use crate::screen::sdpws::{Covering, PanelGrade, Panelling, UnitShear};
use crate::screen::standard::Figure;
use crate::screen::unit::{COUNT, FOOT, INCH, POUND};

/// The cripple wall of a line.
#[derive(Clone, Debug)]
pub(in crate::screen) struct Cripple<'a> {
    pub(in crate::screen) height: Size,
    pub(in crate::screen) stud_thickness: Size,
    pub(in crate::screen) stud_depth: Size,
    pub(in crate::screen) end_studs: Number,
    pub(in crate::screen) panels: Vec<BracedPanel<'a>>,
    /// What is on record as a panel and cannot be rated, and why.
    pub(in crate::screen) unrated: Vec<Why>,
    /// Whether more panels may be there than were seen.
    pub(in crate::screen) may_hold_more: bool,
    /// An outside covering, and whether it can be relied on.
    pub(in crate::screen) covering: Option<(&'a UnitShear, Number)>,
    pub(in crate::screen) splice_nails: Number,
    /// The length of floor whose shear the top plate carries past one point, at most; `None` where the places of the
    /// panels were not taken.
    pub(in crate::screen) gathered: Option<Size>,
}

/// What a panel is rated as: a row of the tables.
#[derive(Clone, Copy, Debug)]
pub(in crate::screen) enum Rating<'a> {
    /// A wood structural panel.
    Panel(&'a UnitShear),
    /// Another covering.
    Covering(&'a UnitShear),
}

impl<'a> Rating<'a> {
    pub(in crate::screen) const fn row(self) -> &'a UnitShear {
        match self {
            Self::Panel(row) | Self::Covering(row) => row,
        }
    }
}

impl PartialEq for Rating<'_> {
    fn eq(&self, other: &Self) -> bool {
        std::ptr::eq(self.row(), other.row())
    }
}

/// A braced panel.
#[derive(Clone, Debug)]
pub(in crate::screen) struct BracedPanel<'a> {
    pub(in crate::screen) length: Size,
    /// The length by which its proportions are judged.
    pub(in crate::screen) shortest: Size,
    pub(in crate::screen) rating: Pick<Rating<'a>>,
    /// Whether it works: 1, or from 0 to 1 where that was not seen.
    pub(in crate::screen) works: Number,
    pub(in crate::screen) hold_down: Input<P1, Z0>,
}

/// Reads the cripple wall of a wall line.
pub(super) fn cripple<'a>(
    around: &Around<'a>,
    wall: &WallLine,
    placed: &PlacedLine,
    at: &dyn Fn(&str) -> String,
) -> Part<Cripple<'a>> {
    let existing = around.existing;
    let stretches: &[CrippleStretch] = match wall.cripple_wall.value() {
        Some(stretches) if stretches.is_empty() => return Part::Nothing,
        Some(stretches) => stretches,
        None => {
            return Part::NotDetermined("whether there is a cripple wall is not on record".into());
        }
    };
    for stretch in stretches {
        if stretch.balloon_framed.value() == Some(&true) {
            return Part::NotDetermined(
                "studs that run past the floor are not computed as a cripple wall".into(),
            );
        }
        if stretch.solid_blocked.value() == Some(&true) {
            return Part::NotDetermined("solid blocking in place of studs is not computed".into());
        }
    }
    let field = |name: &'static str| {
        move |item: usize| format!("wall_lines[{}].cripple_wall[{item}].{name}", placed.wall)
    };
    let height = size("h", "height of the cripple wall", UnknownKind::CrippleHeight);
    let height = stretches
        .iter()
        .enumerate()
        .map(|(item, stretch)| {
            height.or(
                &stretch.height,
                || field("height")(item),
                &existing.cripple_height,
            )
        })
        .reduce(Input::larger_of);
    let Some(height) = height else {
        return Part::Nothing;
    };
    let panels = Panels::of(around, wall, at);
    let splice_nails = What {
        symbol: "n_s",
        words: "nails on each side of a splice of the top plate",
        unit: COUNT,
        kind: UnknownKind::Splices,
    };
    let splice_nails = stretches
        .iter()
        .enumerate()
        .map(|(item, stretch)| {
            splice_nails.or(
                &stretch.splice_nails,
                || field("splice_nails")(item),
                &existing.splice_nails,
            )
        })
        .reduce(Input::smaller_of);
    let Some(splice_nails) = splice_nails else {
        return Part::Nothing;
    };
    Part::There(Cripple {
        height,
        stud_thickness: least(
            &size("t_s", "thickness of a stud", UnknownKind::EndStuds),
            stretches,
            |stretch| &stretch.stud_thickness,
            field("stud_thickness"),
            &existing.stud_thickness,
        ),
        stud_depth: least(
            &size("d_s", "depth of a stud", UnknownKind::EndStuds),
            stretches,
            |stretch| &stretch.stud_depth,
            field("stud_depth"),
            &existing.stud_depth,
        ),
        end_studs: Input::figure(
            "n_e",
            "studs at the end of a panel",
            &existing.end_studs,
            UnknownKind::EndStuds,
        ),
        panels: panels.rated,
        unrated: panels.unrated,
        may_hold_more: panels.may_hold_more,
        covering: covering(around, stretches),
        splice_nails,
        gathered: panels.stations.and_then(|stations| gathered(&stations, placed)),
    })
}

/// The panels of a line.
struct Panels<'a> {
    rated: Vec<BracedPanel<'a>>,
    unrated: Vec<Why>,
    /// Where those that are rated begin and end; `None` where that of any was not taken.
    stations: Option<Vec<(f64, f64)>>,
    may_hold_more: bool,
}

impl<'a> Panels<'a> {
    fn of(around: &Around<'a>, wall: &WallLine, at: &dyn Fn(&str) -> String) -> Self {
        let (mut rated, mut unrated, mut stations) = (Vec::new(), Vec::new(), Vec::new());
        for (item, panel) in wall.panels.listed().iter().enumerate() {
            match braced_panel(around, panel, &|name| at(&format!("panels[{item}].{name}"))) {
                Ok(braced) => {
                    rated.push(braced);
                    stations.push(
                        panel
                            .stations()
                            .map(|(from, to)| (from.in_pounds_and_inches(), to.in_pounds_and_inches())),
                    );
                }
                Err(why) => unrated.push(why),
            }
        }
        let is_listed = wall.panels.value().is_some();
        if !is_listed {
            unrated.push("whether there are braced panels is not on record".into());
        }
        Self {
            rated,
            unrated,
            stations: stations.into_iter().collect(),
            may_hold_more: !is_listed || wall.unseen_of(Parts::Panels).next().is_some(),
        }
    }
}

/// An outside covering that runs along the whole line; whether it is fastened so that it braces, nobody sees.
fn covering<'a>(around: &Around<'a>, stretches: &[CrippleStretch]) -> Option<(&'a UnitShear, Number)> {
    let covering = stretches
        .iter()
        .map(|stretch| stretch.covering.value().copied())
        .reduce(|a, b| if a == b { a } else { Some(CrippleCovering::None) })
        .flatten()?;
    let covering = match covering {
        CrippleCovering::HorizontalBoards => Covering::HorizontalBoards,
        CrippleCovering::DiagonalBoards => Covering::DiagonalBoards,
        CrippleCovering::Stucco => Covering::CementPlaster,
        CrippleCovering::None => return None,
    };
    let relied = Input::figure(
        "c",
        "share of the covering that braces the wall",
        &around.existing.counted,
        UnknownKind::Covering,
    );
    Some((around.sdpws.covering(covering).ok()?, relied))
}

/// The length of floor whose shear the top plate carries past one point, at most: the shear of the floor up to there
/// less what the panels up to there take, each by its length; floor that the line has to drag in from beyond its ends
/// counts with it.
fn gathered(stations: &[(f64, f64)], placed: &PlacedLine) -> Option<Size> {
    let total: f64 = stations.iter().map(|(from, to)| to - from).sum();
    if total <= 0.0 {
        return None;
    }
    let carried = |point: f64| {
        let braced: f64 = stations
            .iter()
            .map(|(from, to)| (point.min(*to) - from).max(0.0))
            .sum();
        (point - placed.length() * braced / total).abs()
    };
    // Between the ends of panels it changes steadily.
    let most = stations
        .iter()
        .flat_map(|(from, to)| [*from, *to])
        .map(carried)
        .fold(0.0, f64::max);
    Some(Input::seen(
        "l_g",
        "length of floor whose shear the top plate carries past one point, at most",
        FOOT,
        most + placed.drag,
        &format!("wall_lines[{}].panels", placed.wall),
        Basis::Measured,
    ))
}

fn braced_panel<'a>(
    around: &Around<'a>,
    panel: &Panel,
    at: &dyn Fn(&str) -> String,
) -> Result<BracedPanel<'a>, Why> {
    let length_of = |symbol, words, value: Length, field: &str| {
        Input::seen(
            symbol,
            words,
            INCH,
            value.in_pounds_and_inches(),
            &at(field),
            Basis::Measured,
        )
    };
    let (length, shortest) = if let Some((from, to)) = panel.stations() {
        let length = length_of("b", "length of the panel", to.saturating_sub(from), "to");
        (length.clone(), length)
    } else {
        let total = size("b", "total length of the panels", UnknownKind::Sheathing)
            .known(&panel.total_length, || at("total_length"))
            .ok_or("the length of the panels is not on record")?;
        let shortest = size("b", "length of the shortest panel", UnknownKind::Sheathing)
            .known(&panel.shortest, || at("shortest"))
            .ok_or("the length of the shortest panel is not on record")?;
        (total, shortest)
    };
    let sheathing = *panel
        .sheathing
        .value()
        .ok_or("what a panel is made of is not on record")?;
    if panel.cut_through.value() == Some(&true) {
        return Err("a panel with a hole cut through it is not rated".into());
    }
    if panel.joints_blocked.value() == Some(&false) {
        return Err("a panel with joints that are not blocked is not rated".into());
    }
    if panel.foot.value() == Some(&PanelFoot::Short) {
        return Err("a panel that is not nailed to the sill braces nothing".into());
    }
    let ends = |observed: &Observed<Length>, assumed: &Figure<Z0, P1>| {
        let (low, high) = observed.bounds();
        (
            low.copied()
                .unwrap_or_else(|| Length::nearest_inches(assumed.low)),
            high.copied()
                .unwrap_or_else(|| Length::nearest_inches(assumed.high)),
        )
    };
    let thickness = ends(&panel.thickness, &around.existing.panel_thickness);
    let edge = ends(&panel.edge_nailing, &around.existing.edge_nailing);
    let nail = panel.nail.value().copied().unwrap_or(nail(8));
    let sdpws = around.sdpws;
    let rating = |thickness, edge_spacing| -> Result<Rating<'a>, Why> {
        let covering = |covering| Ok(Rating::Covering(sdpws.covering(covering)?));
        match sheathing {
            Sheathing::HorizontalBoards => covering(Covering::HorizontalBoards),
            Sheathing::DiagonalBoards => covering(Covering::DiagonalBoards),
            Sheathing::Stucco => covering(Covering::CementPlaster),
            // A board without a rating is refused by the table, as are panels off it.
            Sheathing::Plywood | Sheathing::ThreePly | Sheathing::Osb | Sheathing::Board => {
                Ok(Rating::Panel(sdpws.panel(&Panelling {
                    grade: PanelGrade::Sheathing,
                    sheathing,
                    thickness,
                    nail,
                    edge_spacing,
                })?))
            }
        }
    };
    let low = rating(thickness.0, edge.1)?;
    let high = rating(thickness.1, edge.0)?;
    let is_nailed = panel.foot.is_known() && panel.joints_blocked.is_known() && panel.cut_through.is_known();
    let hold_down = What {
        symbol: "T_h",
        words: "declared uplift of the hold-down at the panel's end",
        unit: POUND,
        kind: UnknownKind::HoldDown,
    };
    Ok(BracedPanel {
        rating: Pick {
            low,
            high,
            kind: UnknownKind::PanelNailing,
        },
        works: around.works(
            "share of the panel that works as one: nailed to the sill, its joints blocked, no hole through it",
            UnknownKind::PanelFoot,
            is_nailed && panel.nail.is_known(),
            &at("foot"),
        ),
        hold_down: hold_down.known(&panel.hold_down, || at("hold_down")).unwrap_or_else(|| {
            Input::seen("T_h", "hold-down: none on record", POUND, 0.0, &at("hold_down"), Basis::Inferred)
        }),
        length,
        shortest,
    })
}
