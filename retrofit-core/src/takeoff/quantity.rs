//! What a takeoff counts: articles, amounts, places and prices.

use std::fmt;

use super::stock::Sheet;
use crate::choice::Choice;
use crate::house::{AnchorKind, Nail, Sheathing, Washer};
use crate::measure::{Area, Length};
use crate::prices::{CostRange, Item, Spread};

/// How long the rod or bolt of an anchor has to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RodLength {
    /// No shorter than this.
    AtLeast(Length),
    /// The provisions name no embedment or no diameter; the maker's instructions give the length.
    ByTheMaker,
    /// The thickness of the sill was not recorded; it has to be measured first.
    NeedsSillThickness,
}

/// Something that is bought, made or done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Article {
    /// A new anchor.
    Anchor {
        /// How it holds.
        kind: AnchorKind,
        /// Its diameter; `None` for a side plate, and where the provisions name none.
        diameter: Option<Length>,
        /// The length of its rod; `None` where it has none.
        rod: Option<RodLength>,
        /// Whether there is too little height above the sill for a hammer drill.
        tight_drilling: bool,
    },
    /// The washer of a new anchor.
    Washer(Washer),
    /// A washer put under the nut of an anchor that is there.
    WasherUnderOldNut(Washer),
    /// The nut of an anchor that is there, made snug-tight.
    NutTightened,
    /// Cartridges of adhesive.
    Adhesive {
        /// What one holds, in milliliters.
        milliliters: u32,
    },
    /// Sheathing as it covers the wall.
    Sheathing {
        /// What it is made of.
        sheathing: Sheathing,
        /// Its least thickness.
        thickness: Option<Length>,
    },
    /// A panel set out and fitted.
    PanelStart,
    /// Whole sheets to buy.
    Sheet {
        /// What it is made of.
        sheathing: Sheathing,
        /// Its least thickness.
        thickness: Option<Length>,
        /// Its size.
        size: Sheet,
    },
    /// What of those sheets is left over or sawn away.
    SheetWaste {
        /// What they are made of.
        sheathing: Sheathing,
        /// Their least thickness.
        thickness: Option<Length>,
    },
    /// Blocking behind level joints of panels.
    JointBlocking,
    /// Blocks on the sill.
    SillBlock,
    /// Ventilation holes.
    VentilationHole(Length),
    /// What the low crawl space adds to panel work.
    LowCrawl,
    /// Nails of panels, by the nail where the provisions name one.
    PanelNails(Option<Nail>),
    /// Nails of the blocks on the sill; which nail is in a note of the provisions and not in the layout.
    SillBlockNails,
    /// Nails by the pound.
    NailsByThePound(Nail),
    /// An old panel taken off.
    PanelRemoval,
    /// A vent moved, or closed where no place is left for it.
    VentMove,
    /// Framing clips.
    FramingClip,
    /// Blocks between joists.
    JoistBlock,
    /// End joist.
    EndJoist,
    /// Two loose top plates nailed together.
    TopPlateNailing,
    /// Top plate.
    TopPlate,
    /// Straps across breaks in the top plate.
    PlateStrap,
    /// Solid blocking in place of short studs.
    SolidBlocking,
    /// Sill replaced.
    SillReplacement {
        /// The least thickness of the new piece.
        thickness: Length,
    },
}

impl Article {
    /// The item of the price table by which it is priced, or in the price of which its own lies.
    pub const fn item(self) -> Item {
        match self {
            Self::Anchor { kind, .. } => match kind {
                AnchorKind::Expansion => Item::ExpansionAnchor,
                AnchorKind::Screw => Item::ScrewAnchor,
                AnchorKind::SidePlate => Item::SidePlate,
                _ => Item::AdhesiveAnchor,
            },
            Self::Washer(_) | Self::WasherUnderOldNut(_) => Item::PlateWasher,
            Self::NutTightened => Item::TightenNut,
            Self::Adhesive { .. } => Item::AdhesiveCartridge,
            Self::Sheathing { .. } | Self::Sheet { .. } | Self::SheetWaste { .. } => Item::Sheathing,
            Self::PanelStart => Item::PanelStart,
            Self::JointBlocking => Item::JointBlocking,
            Self::SillBlock => Item::SillBlock,
            Self::VentilationHole(_) => Item::VentilationHole,
            Self::LowCrawl => Item::LowCrawl,
            Self::PanelNails(_) | Self::SillBlockNails | Self::NailsByThePound(_) => Item::Nails,
            Self::PanelRemoval => Item::PanelRemoval,
            Self::VentMove => Item::VentMove,
            Self::FramingClip => Item::FramingClip,
            Self::JoistBlock => Item::JoistBlock,
            Self::EndJoist => Item::EndJoist,
            Self::TopPlateNailing => Item::TopPlateNailing,
            Self::TopPlate => Item::TopPlate,
            Self::PlateStrap => Item::PlateStrap,
            Self::SolidBlocking => Item::SolidBlocking,
            Self::SillReplacement { .. } => Item::SillReplacement,
        }
    }
}

impl fmt::Display for Article {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let board = |f: &mut fmt::Formatter<'_>, sheathing: Sheathing, thickness: Option<Length>| {
            if let Some(thickness) = thickness {
                write!(f, "{thickness} ")?;
            }
            f.write_str(sheathing.words())
        };
        match *self {
            Self::Anchor {
                kind,
                diameter,
                rod,
                tight_drilling,
            } => {
                f.write_str(self.item().words())?;
                if let Some(diameter) = diameter {
                    write!(f, ", {diameter} diameter")?;
                } else if kind != AnchorKind::SidePlate {
                    f.write_str(", diameter by the provisions or the maker")?;
                }
                match rod {
                    Some(RodLength::AtLeast(length)) => write!(f, ", {} long", length.in_feet_inches())?,
                    Some(RodLength::ByTheMaker) => f.write_str(", length by the maker's instructions")?,
                    Some(RodLength::NeedsSillThickness) => {
                        f.write_str(", length once the sill's thickness is measured")?;
                    }
                    None => {}
                }
                if tight_drilling {
                    f.write_str(", drilled in tight space")?;
                }
                Ok(())
            }
            Self::Washer(washer) => write!(f, "washer, {washer}"),
            Self::WasherUnderOldNut(washer) => write!(f, "washer under a nut that is there, {washer}"),
            Self::Adhesive { milliliters } => write!(f, "cartridge of adhesive, {milliliters} ml"),
            Self::Sheathing { sheathing, thickness } => {
                board(f, sheathing, thickness)?;
                f.write_str(" as it covers the wall")
            }
            Self::Sheet {
                sheathing,
                thickness,
                size,
            } => {
                board(f, sheathing, thickness)?;
                write!(f, ", sheet {size}")
            }
            Self::SheetWaste { sheathing, thickness } => {
                board(f, sheathing, thickness)?;
                f.write_str(", left over or sawn away")
            }
            Self::VentilationHole(diameter) => {
                write!(f, "ventilation hole, {diameter}")
            }
            Self::PanelNails(Some(nail)) => write!(f, "{nail} nails in panels"),
            Self::PanelNails(None) => f.write_str("nails in panels; the provisions name no nail"),
            Self::SillBlockNails => f.write_str("nails in blocks on the sill; their size by the provisions"),
            Self::NailsByThePound(nail) => write!(f, "{nail} nails by the pound"),
            Self::SillReplacement { thickness } => {
                write!(f, "sill replaced, {thickness} thick")
            }
            _ => f.write_str(self.item().words()),
        }
    }
}

/// How much of an article.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amount {
    /// Pieces.
    Pieces(u64),
    /// So many at the least; they have to be counted on site.
    AtLeast(u64),
    /// A length.
    Run(Length),
    /// An area.
    Surface(Area),
    /// Pounds.
    Pounds(u64),
    /// Not known: the row says why.
    Unknown,
}

impl Amount {
    /// The sum of two amounts of one article.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        match (self, other) {
            (Self::Pieces(a), Self::Pieces(b)) => Self::Pieces(a.saturating_add(b)),
            (Self::Pieces(a) | Self::AtLeast(a), Self::Pieces(b) | Self::AtLeast(b)) => {
                Self::AtLeast(a.saturating_add(b))
            }
            (Self::Run(a), Self::Run(b)) => Self::Run(a.saturating_add(b)),
            (Self::Surface(a), Self::Surface(b)) => Self::Surface(a.saturating_add(b)),
            (Self::Pounds(a), Self::Pounds(b)) => Self::Pounds(a.saturating_add(b)),
            _ => Self::Unknown,
        }
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Pieces(count) => write!(f, "{count}"),
            Self::AtLeast(count) => write!(f, "at least {count}, count on site"),
            Self::Run(length) => write!(f, "{}", length.in_feet_inches()),
            Self::Surface(area) => {
                let (whole, tenth) = tenths_of_square_feet(*area);
                write!(f, "{whole}.{tenth} sq ft")
            }
            Self::Pounds(pounds) => write!(f, "{pounds} lb"),
            Self::Unknown => f.write_str("not known"),
        }
    }
}

/// An area in square feet and tenths, rounded.
fn tenths_of_square_feet(area: Area) -> (i128, i128) {
    let foot = Area::square_feet(1).square_nanometers();
    let tenths = (area.square_nanometers().saturating_mul(10) + foot / 2) / foot;
    (tenths / 10, tenths % 10)
}

/// Where on a wall line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// At a station.
    At(Length),
    /// From one station to another.
    Along(Length, Length),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::At(at) => write!(f, "{}", at.in_feet_inches()),
            Self::Along(from, to) => write!(f, "{} to {}", from.in_feet_inches(), to.in_feet_inches()),
        }
    }
}

/// What a row of a takeoff costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Price {
    /// Its own cost.
    Of(CostRange),
    /// It is counted for ordering; its cost lies in that of another item.
    Within(Item),
}

impl Price {
    /// Its own cost; nothing where that lies elsewhere.
    pub const fn cost(self) -> CostRange {
        match self {
            Self::Of(cost) => cost,
            Self::Within(_) => CostRange::ZERO,
        }
    }
}

/// One article on one wall line, or for the house as a whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The wall line, by its place in the house; `None` where the article is shared by all of them.
    pub wall_line: Option<usize>,
    /// The article.
    pub article: Article,
    /// How much of it.
    pub amount: Amount,
    /// Where; empty for what is shared.
    pub places: Vec<Place>,
    /// Why it is there.
    pub because: &'static str,
    /// What it costs.
    pub price: Price,
    /// The labor in it, in hundredths of an hour; none where the price is an installed one.
    pub hours: Spread,
}
