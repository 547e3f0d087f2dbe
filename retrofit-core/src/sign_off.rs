//! Sign-off: what was built, held against what was designed, piece by piece.
//!
//! [`sign_off`] takes a [`Remedy`] and the record of the house as built. Each designed piece is found again or is
//! not: anchors, panels and vents are paired with what the record lists by the least total distance along the wall
//! line, so that a piece built elsewhere is told with how far it is off. There is no tolerance: how much is too much
//! is for the checks to say, run over what was built (see [`before_after`](crate::before_after)).
//!
//! What the record does not tell is never taken as built: a piece whose washer nobody wrote down still has to be
//! looked at, and a piece in a stretch that nobody saw is not seen.
//!
//! ```
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::prices::UnitPrices;
//! use retrofit_core::provisions::Library;
//! use retrofit_core::remedy::design;
//! use retrofit_core::sign_off::{Status, sign_off};
//!
//! let house: House = serde_json::from_str(r#"{
//!     "format": "house-1", "name": "Quince Lantern Way",
//!     "building": {"stories": 1, "exterior": "wood", "roof": "light"},
//!     "wall_lines": [{
//!         "name": "north", "length": {"measured": "52'-0\""},
//!         "foundation": [{"kind": "concrete", "condition": "sound"}],
//!         "anchors": [], "panels": [],
//!         "cripple_wall": [{"height": {"measured": "2'-0\""}, "stud_spacing": "16 in"}]
//!     }]
//! }"#)?;
//! let found = AsBuilt::new(house).expect("the record makes sense");
//! let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
//! let remedy = design(&found, &provisions, UnitPrices::placeholder());
//!
//! // Built as designed, and not built at all.
//! let north = &sign_off(&remedy, &remedy.after)[0];
//! assert!(north.pieces.iter().all(|piece| piece.built.status() == Status::AsDesigned));
//! let north = &sign_off(&remedy, &remedy.taken_as)[0];
//! assert!(north.pieces.iter().all(|piece| piece.built.status() == Status::NotBuilt));
//! # Ok::<(), serde_json::Error>(())
//! ```

mod anchors;
mod differences;
mod framing;
mod pairing;
mod panels;
mod vents;

use crate::check::{LookAt, Quantity};
use crate::choice::choices;
use crate::house::{AsBuilt, Parts, Span, WallLine, Washer};
use crate::measure::Length;
use crate::remedy::{Framing, LineRemedy, NewAnchor, NewPanel, PanelMake, Remedy, RimWork, SillWork};

/// What was built along one wall line, against what was designed.
#[derive(Clone, Debug, PartialEq)]
pub struct LineSignOff {
    /// The wall line, by its position in the house that the remedy was designed for.
    pub wall_line: usize,
    /// Its position in the record as built; `None` where that does not tell of it.
    pub in_record: Option<usize>,
    /// Every designed piece, in the order of the work: sill, anchors, panels, framing, floor.
    pub pieces: Vec<DesignedPiece>,
    /// What was built and not designed.
    pub not_designed: Vec<NotDesigned>,
    /// The parts of the work for which there was no layout.
    pub without_layout: Vec<Parts>,
}

/// A designed piece of work, and what was built of it.
#[derive(Clone, Debug, PartialEq)]
pub struct DesignedPiece {
    /// What was designed.
    pub what: Designed,
    /// Where.
    pub span: Span,
    /// What was built.
    pub built: Built,
}

/// What was designed.
#[derive(Clone, Debug, PartialEq)]
pub enum Designed {
    /// A new anchor.
    Anchor(NewAnchor),
    /// An old anchor that counts and has to stay.
    KeptAnchor,
    /// An old anchor that counts once it is mended.
    MendedAnchor {
        /// The washer it gets.
        washer: Option<Washer>,
        /// Whether its nut is made tight.
        tighten: bool,
    },
    /// A new panel, and what it is made of.
    Panel(Box<NewPanel>, PanelMake),
    /// An old panel that counts and has to stay; ventilation holes of this diameter are drilled through it.
    KeptPanel(Option<Length>),
    /// An old panel that is taken off.
    PanelTakenOff,
    /// A vent moved from where it was.
    MovedVent {
        /// Where it was.
        from: Span,
    },
    /// A vent closed.
    ClosedVent,
    /// A sill piece replaced.
    Sill(SillWork),
    /// Work on the framing.
    Framing(Framing),
    /// Blocks or an end joist between the joists.
    Rim(RimWork),
    /// Framing clips.
    Clips {
        /// How many.
        count: usize,
        /// Their spacing.
        spacing: Length,
    },
}

/// What was built of a designed piece.
#[derive(Clone, Debug, PartialEq)]
pub enum Built {
    /// It is there.
    There(There),
    /// It is not.
    Not,
    /// The record does not tell.
    NotSeen,
}

/// A designed piece that was built.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct There {
    /// How far its beginning is from where it was designed, toward the end of the wall line.
    pub off_at_beginning: Length,
    /// And its end; of an anchor the same.
    pub off_at_end: Length,
    /// In what else it differs.
    pub differences: Vec<Difference>,
}

/// Something in which a piece is not as designed, or of which the record does not tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// The observation.
    pub look_at: LookAt,
    /// What was designed.
    pub designed: Quantity,
    /// What was built; nothing where the record does not tell.
    pub built: Quantity,
    /// How they compare.
    pub is: Compared,
}

choices! {
    /// How what was built compares with what was designed.
    pub enum Compared: "comparison" {
        /// Less than designed.
        Less = "less", "less than designed";
        /// More than designed.
        More = "more", "more than designed";
        /// Something else.
        Other = "other", "other than designed";
        /// The record does not tell.
        NotRecorded = "not_recorded", "not recorded";
    }
}

choices! {
    /// What became of a designed piece, in one word.
    pub enum Status: "what became of a designed piece" {
        /// Built where and as it was designed.
        AsDesigned = "as_designed", "built as designed";
        /// Built where it was designed, and what is recorded of it is as designed; something is not recorded.
        NotAllRecorded = "not_all_recorded", "built as designed as far as recorded";
        /// Built where it was designed, and otherwise.
        Differently = "differently", "built differently";
        /// Built elsewhere.
        Elsewhere = "elsewhere", "built elsewhere";
        /// Not built.
        NotBuilt = "not_built", "not built";
        /// The record does not tell whether it was built.
        NotSeen = "not_seen", "not seen";
    }
}

impl Built {
    /// What became of the piece, in one word.
    pub fn status(&self) -> Status {
        match self {
            Self::Not => Status::NotBuilt,
            Self::NotSeen => Status::NotSeen,
            Self::There(there) if there.off() != Length::ZERO => Status::Elsewhere,
            Self::There(there) if there.differences.is_empty() => Status::AsDesigned,
            Self::There(there) => {
                let is_open = |difference: &Difference| difference.is == Compared::NotRecorded;
                if there.differences.iter().all(is_open) {
                    Status::NotAllRecorded
                } else {
                    Status::Differently
                }
            }
        }
    }

    fn differing(differences: Vec<Difference>) -> Self {
        Self::There(There {
            differences,
            ..There::default()
        })
    }
}

impl There {
    /// How far it is from where it was designed, at the end that is farther off.
    pub fn off(&self) -> Length {
        let distance = |off: Length| off.abs_diff(Length::ZERO);
        distance(self.off_at_beginning).max(distance(self.off_at_end))
    }

    fn at(designed: (Length, Length), built: (Length, Length), differences: Vec<Difference>) -> Self {
        Self {
            off_at_beginning: built.0.saturating_sub(designed.0),
            off_at_end: built.1.saturating_sub(designed.1),
            differences,
        }
    }
}

/// Something that was built and not designed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotDesigned {
    /// Anchors, panels, openings or connections.
    pub part: Parts,
    /// Its position in that list of the record as built.
    pub item: usize,
    /// Where it is, as far as that is recorded.
    pub span: Option<Span>,
}

/// Holds the record of a house as built against a remedy, wall line by wall line in the order of the remedy. Wall
/// lines are found by name.
pub fn sign_off(remedy: &Remedy, built: &AsBuilt) -> Vec<LineSignOff> {
    let lines = remedy.lines.iter();
    lines
        .filter_map(|line| {
            let found = remedy.taken_as.wall_lines.get(line.wall_line)?;
            let in_record = built.wall_lines.iter().position(|wall| wall.name == found.name);
            let nothing = WallLine::default();
            let built = in_record.and_then(|index| built.wall_lines.get(index));
            Some(line_sign_off(line, found, built.unwrap_or(&nothing), in_record))
        })
        .collect()
}

/// A wall line as found and as built.
struct Walls<'a> {
    found: &'a WallLine,
    built: &'a WallLine,
}

impl Walls<'_> {
    /// What is to be said of a piece that is not among what the record lists.
    fn missing(&self, part: Parts, span: Span) -> Built {
        let length = self.found.length.value().copied();
        let is_hidden = |(from, to): (Length, Option<Length>)| {
            // A station alone is hidden where it lies within the stretch, its ends included.
            from <= span.to.unwrap_or(span.from) && to.is_none_or(|to| span.from <= to)
        };
        let mut unseen = self.built.unseen_of(part).map(|unseen| unseen.span(length));
        if unseen.any(|unseen| is_hidden((unseen.from, unseen.to))) {
            Built::NotSeen
        } else {
            Built::Not
        }
    }
}

fn line_sign_off(
    line: &LineRemedy,
    found: &WallLine,
    built: &WallLine,
    in_record: Option<usize>,
) -> LineSignOff {
    let walls = Walls { found, built };
    let mut sign_off = LineSignOff {
        wall_line: line.wall_line,
        in_record,
        pieces: Vec::new(),
        not_designed: Vec::new(),
        without_layout: Vec::new(),
    };
    framing::sill(line, &walls, &mut sign_off);
    anchors::anchors(line, &walls, &mut sign_off);
    panels::panels(line, &walls, &mut sign_off);
    vents::vents(line, &walls, &mut sign_off);
    framing::framing(line, &walls, &mut sign_off);
    framing::floor(line, &walls, &mut sign_off);
    for (part, declined) in [
        (Parts::Anchors, line.anchors.declined()),
        (Parts::Panels, line.panels.declined()),
        (Parts::Connections, line.floor.declined()),
    ] {
        if declined.is_some() {
            sign_off.without_layout.push(part);
        }
    }
    sign_off
}
