//! What a remedy consists of: added work by station along each wall line, and the reasons where there is none.

use crate::check::{LookAt, Quantity};
use crate::house::{
    AnchorKind, FoundationCondition, FoundationKind, Nail, PanelFoot, Rim, Sheathing, Washer,
};
use crate::measure::Length;
use crate::prices::Cents;
use crate::provisions::FigureId;

/// Something that the record leaves open and the design had to take as given: to be verified on site before
/// anything is ordered.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumption {
    /// The wall line, or the house as a whole.
    pub wall_line: Option<usize>,
    /// The observation to make.
    pub look_at: LookAt,
    /// What it was taken as.
    pub taken_as: Quantity,
    /// Why, in words.
    pub because: &'static str,
}

/// One part of the work along a wall line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part<T> {
    /// What is there is enough, or the provisions ask for nothing here.
    NothingToAdd,
    /// Work by station.
    Work(T),
    /// No layout: the reason, and who has to decide.
    Declined(Decline),
}

impl<T> Part<T> {
    /// The work, when there is any.
    pub const fn work(&self) -> Option<&T> {
        match self {
            Self::Work(work) => Some(work),
            _ => None,
        }
    }

    /// Why there is no layout.
    pub const fn declined(&self) -> Option<&Decline> {
        match self {
            Self::Declined(decline) => Some(decline),
            _ => None,
        }
    }
}

/// Why no layout was designed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decline {
    /// The house or wall line lies outside the provisions, by the check named: an engineer or architect has to
    /// design it.
    Outside {
        /// Name of the check.
        check: &'static str,
        /// The figure that sets the limit.
        figure: Option<FigureId>,
    },
    /// The record leaves open what no layout can be drawn without: it has to be observed first.
    NotObserved(LookAt),
    /// The provisions are believed to give a figure that nobody has seen.
    FigureNotSeen(FigureId),
    /// Nothing is drilled into brick, stone, piers or ground; the foundation has to be replaced first.
    FoundationKind {
        /// What it is made of.
        kind: FoundationKind,
        /// Where it begins.
        from: Length,
    },
    /// Nothing holds in concrete that crumbles or has moved; the foundation has to be repaired first.
    FoundationCondition {
        /// The state it is in.
        condition: FoundationCondition,
        /// Where it begins.
        from: Length,
    },
    /// The studs on record stand so close that none has room beside the next: the record has to be mended first.
    StudsTooClose {
        /// The stud spacing on record.
        spacing: Length,
        /// How thick the studs are.
        thickness: Length,
    },
    /// There are more stud bays along the wall line than are laid out: its length or stud spacing cannot be right.
    TooManyStudBays {
        /// How many there are.
        bays: usize,
        /// The most that are laid out.
        most: usize,
    },
    /// None of the kinds of anchor that the provisions name can be installed.
    NoKindOfAnchor {
        /// Where.
        at: Length,
    },
    /// The provisions name no way of tying the floor that could be added here: for an engineer or the local code
    /// official.
    NoWayToTieTheFloor,
    /// A requirement cannot be met: an engineer must design this wall line.
    Unmet(Shortfall),
}

/// The requirement that no layout meets, and by how much.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shortfall {
    /// No anchor can stand near an end of a sill piece.
    NoAnchorNearEnd {
        /// Where one would have to stand at the earliest.
        from: Length,
        /// And at the latest.
        to: Length,
    },
    /// Somewhere anchors stay farther apart than allowed.
    AnchorsTooFarApart {
        /// Where the stretch without an anchor begins.
        from: Length,
        /// Where it ends.
        to: Length,
        /// The largest spacing allowed.
        allowed: Length,
    },
    /// A sill piece has room for too few anchors.
    TooFewAnchorsInPiece {
        /// Where the piece begins.
        from: Length,
        /// Where it ends.
        to: Length,
        /// The number asked for.
        needed: u32,
        /// The number there is room for.
        possible: u32,
    },
    /// Each demand on the anchors can be met alone, but not all together at the least spacing.
    AnchorsTogether,
    /// The panels can be no longer together than this.
    BracingTooShort {
        /// The length asked for, panels that are there and count included.
        needed: Length,
        /// The length there is room for.
        possible: Length,
    },
    /// No panel can stand at an end of the cripple wall.
    NoPanelAtEnd {
        /// The end.
        end: Length,
        /// The longest that a panel there could be.
        room: Length,
        /// The shortest that it may be.
        shortest: Length,
    },
    /// A gap between panels stays larger than allowed.
    PanelGapTooLarge {
        /// Where the longest stretch begins on which no panel can stand.
        from: Length,
        /// Where it ends.
        to: Length,
        /// The largest gap allowed.
        allowed: Length,
    },
}

/// The work along one wall line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineRemedy {
    /// The wall line, by its place in the house.
    pub wall_line: usize,
    /// Sill pieces to replace.
    pub sill: Vec<SillWork>,
    /// Anchors between sill and foundation.
    pub anchors: Part<AnchorLayout>,
    /// Braced panels.
    pub panels: Part<PanelLayout>,
    /// Top plates, splices and short studs.
    pub framing: Vec<FramingWork>,
    /// What closes the joist bays and ties the floor to the wall.
    pub floor: Part<FloorLayout>,
    /// What all of it likely costs, by the prices the layout was designed with.
    pub cost: Cents,
}

/// A sill piece to be replaced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SillWork {
    /// The piece, by its place in the record.
    pub piece: usize,
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// The least thickness asked of a new piece; that of the old one, or of a nominal 2 in plate, where none is.
    pub thickness: Length,
}

/// The anchors of a wall line: those that are there, and those added.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AnchorLayout {
    /// Every record of an existing anchor, and whether it is credited.
    pub existing: Vec<ExistingAnchor>,
    /// New anchors, in order of station.
    pub added: Vec<NewAnchor>,
    /// The largest spacing the layout keeps to, where one is asked for.
    pub spacing: Option<Length>,
}

/// A record of existing anchors.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ExistingAnchor {
    /// Its place in the record.
    pub item: usize,
    /// Where its anchors stand, as far as that was found.
    pub stations: Vec<Length>,
    /// Whether it is credited.
    pub credit: Credit,
}

/// Whether something that is there is credited, and why not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Credit {
    /// It counts as it is.
    Counts,
    /// It counts once it is mended: a plate washer, a nut made tight.
    Mended {
        /// The washer it gets.
        washer: Option<Washer>,
        /// Whether its nut is made tight.
        tighten: bool,
    },
    /// It lacks what is asked for.
    Lacks(LookAt),
    /// Whether it has what is asked for was not seen; once that is seen, less may have to be added.
    NotSeen(LookAt),
    /// Where its anchors stand was not found.
    NotPlaced,
}

impl Credit {
    /// Whether the layout relies on it.
    pub const fn is_relied_on(self) -> bool {
        matches!(self, Self::Counts | Self::Mended { .. })
    }
}

/// A new anchor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NewAnchor {
    /// Its station.
    pub at: Length,
    /// How it holds.
    pub kind: AnchorKind,
    /// Its diameter; `None` for a side plate, and where the provisions name none.
    pub diameter: Option<Length>,
    /// The least embedment asked for; `None` where the maker's instructions are all there is.
    pub embedment: Option<Length>,
    /// The plate washer asked for.
    pub washer: Option<Washer>,
    /// The least distance to the face of the foundation that is asked for.
    pub edge_distance: Option<Length>,
    /// Whether there is too little height above the sill for a hammer drill.
    pub tight_drilling: bool,
}

/// The braced panels of a wall line: those that are there, and those added.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PanelLayout {
    /// Every existing panel, and whether it is credited.
    pub existing: Vec<ExistingPanel>,
    /// New panels, in order of station.
    pub added: Vec<NewPanel>,
    /// What new panels are made of.
    pub make: PanelMake,
    /// Vents that are in the way of new panels.
    pub moved_vents: Vec<MovedVent>,
    /// The length of bracing asked for.
    pub needed: Length,
    /// The length of existing panels that count.
    pub credited: Length,
}

/// An existing panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ExistingPanel {
    /// Its place in the record.
    pub item: usize,
    /// Whether it is credited.
    pub credit: Credit,
    /// The ventilation holes that are drilled through it, where it closes stud bays without.
    pub gets_holes: Option<Holes>,
    /// Whether it is taken off, because a new panel takes its place.
    pub is_removed: bool,
}

/// Ventilation holes drilled through an existing panel, at top and bottom of each stud bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Holes {
    /// Their diameter.
    pub diameter: Length,
    /// How many.
    pub count: u32,
}

impl Holes {
    /// Holes of a diameter, not yet counted.
    pub(super) const fn of(diameter: Length) -> Self {
        Self { diameter, count: 0 }
    }
}

/// What the new panels of a wall line are made of, as the provisions ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PanelMake {
    /// Sheathing.
    pub sheathing: Sheathing,
    /// Its least thickness, where one is asked for.
    pub thickness: Option<Length>,
    /// The nail.
    pub nail: Option<Nail>,
    /// Nail spacing along the edges.
    pub edge_nailing: Option<Length>,
    /// Nail spacing between the edges.
    pub field_nailing: Option<Length>,
    /// Nails in each block on the sill.
    pub nails_per_sill_block: Option<u16>,
    /// Diameter of the ventilation holes at top and bottom of each stud bay, where they are asked for.
    pub vent_holes: Option<Length>,
}

/// A new panel, from stud to stud.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewPanel {
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// The stretch of cripple wall it stands on, by its place in the record.
    pub stretch: usize,
    /// The height it covers: from the top of the foundation to the underside of the floor framing.
    pub height: Length,
    /// The studs it is nailed to: its edges and those between them.
    pub studs: Vec<Length>,
    /// How its foot is fastened.
    pub foot: PanelFoot,
    /// Blocks on the sill between the studs, where the sill is wider.
    pub sill_blocks: u32,
}

/// A vent that has to move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MovedVent {
    /// Its place in the record.
    pub opening: usize,
    /// Where it goes; `None` where no open stud bay of this wall line is left for it.
    pub to: Option<(Length, Length)>,
}

/// Work on the framing of the cripple wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FramingWork {
    /// The stretch of cripple wall, by its place in the record.
    pub stretch: usize,
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// What is done.
    pub what: Framing,
}

/// What is done to the framing of a cripple wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Framing {
    /// Nail two loose top plates together.
    NailTopPlates,
    /// Put a top plate in.
    AddTopPlate,
    /// Tie every break in the top plate; how many there are has to be counted on site.
    TieSplices,
    /// Replace short studs by solid blocking.
    SolidBlocking,
}

/// What ties the floor to the wall line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FloorLayout {
    /// What is put between the joists, where what is there will not do.
    pub rim: Option<RimWork>,
    /// Framing clips, by station.
    pub clips: Vec<Length>,
    /// The spacing of the clips, where there are any.
    pub clip_spacing: Option<Length>,
}

/// What is put between the joists over a wall line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RimWork {
    /// The pattern that results.
    pub pattern: Rim,
    /// Stations of the middles of new blocks; none where an end joist is put in.
    pub blocks: Vec<Length>,
}
