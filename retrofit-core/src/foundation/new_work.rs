//! New lengths of foundation, sized: footing and stem wall with their bars, a wall beside an old one, a cap; and
//! piers and girders.
//!
//! What a prescriptive table gives and what the load needs stand side by side, and the wider is taken. Every figure
//! carries its source and how well that was seen. What is not known is taken at its unfavorable end and said to be
//! assumed ([`Flag`]); what a table does not reach is left to an engineer. The result is exact geometry, so that a
//! section can be drawn to scale and its bars counted. It is no design of a licensed engineer, and the local code
//! official decides by which edition it is judged.
//!
//! ```
//! use retrofit_core::foundation::new_work::{
//!     Ends, FootingTable, NewFoundation, NewWork, SizingInput, Work,
//! };
//! use retrofit_core::house::{SoilClass, Stories};
//! use retrofit_core::measure::Length;
//! use retrofit_core::observation::Observed;
//! use retrofit_core::provisions::Library;
//! use retrofit_core::screen::Standards;
//!
//! let input = SizingInput {
//!     stories: Observed::seen(Stories::whole(2)),
//!     soil: Some(SoilClass::Clay),
//!     line_load: Some(Ends { low: 1100.0, high: 1500.0 }),
//!     top_of_sill: Some(Length::inches(14)),
//!     ..SizingInput::new(NewWork::Replacement)
//! };
//! let set = Library::shipped().set("crc-2013-new-construction").unwrap();
//! let table = FootingTable::shipped().unwrap();
//! let sized = NewFoundation::size(&input, table, Standards::shipped().unwrap(), &set)?;
//! let Work::Wall(wall) = &sized.work else { panic!("a replacement is a wall") };
//! assert_eq!(wall.section.footing_width, Length::inches(15));
//! assert_eq!(wall.section.bars.len(), 3, "one at the top, two at the bottom");
//! # Ok::<(), retrofit_core::foundation::new_work::SizingError>(())
//! ```

mod cap;
mod flag;
mod footing;
mod girder;
mod old;
mod pier;
mod reinforcing;
mod section;
mod sill;
mod table;

use std::sync::Arc;

use thiserror::Error;

use crate::house::{FoundationCondition, FoundationKind, SeismicCategory, SoilClass, Stories};
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::provisions::{Provisions, Standing};
use crate::screen::nds::NdsError;
use crate::screen::{SoilError, Standards};

pub use cap::Cap;
pub use flag::{Ask, Flag, Note};
pub use footing::{Footing, LoadWidth, TableWidth};
pub use girder::{Girder, GirderInput, GirderSize};
pub use old::OldSection;
pub use pier::{Pier, PierInput, PostChoice};
pub use reinforcing::{BarPlace, Dowels, SectionBar, VerticalBars};
pub use section::{CrossSection, Steel};
pub use sill::{AnchorRow, NewSill, PieceRow, SillAnchors};
pub use table::{Bar, BarSize, Face, FootingTable};

/// Where a figure comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// The document with its edition.
    pub document: Arc<str>,
    /// Section or table.
    pub section: Arc<str>,
    /// How well it was seen.
    pub standing: Standing,
    /// A note for the reader.
    pub note: Arc<str>,
}

/// A value with its source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sourced<T> {
    /// The value.
    pub value: T,
    /// Where it comes from.
    pub source: Source,
}

/// The least and the most something can be, in the unit that its place names.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ends {
    /// The least.
    pub low: f64,
    /// The most.
    pub high: f64,
}

/// What is to be built.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NewWork {
    /// A length of footing and stem wall in place of the old.
    Replacement,
    /// A footing and wall inside, along the old one, which stays.
    WallBeside,
    /// Concrete on top of the old wall, which stays.
    Cap,
}

/// The old foundation that new work touches: at the ends of a replaced length, along a wall beside, under a cap.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OldFoundation {
    /// What it is made of.
    pub kind: Observed<FoundationKind>,
    /// The state it is in.
    pub condition: Observed<FoundationCondition>,
    /// Thickness of its stem wall at the top.
    pub stem_thickness: Observed<Length>,
    /// Its top above the ground.
    pub top: Observed<Length>,
    /// Width of its footing.
    pub footing_width: Observed<Length>,
    /// Thickness of its footing.
    pub footing_thickness: Observed<Length>,
    /// Depth of the bottom of its footing below the ground.
    pub footing_depth: Observed<Length>,
}

impl OldFoundation {
    /// Whether dowels hold in it: cast-in-place concrete that is sound. Of cracked concrete that is hard it has to
    /// be found out.
    pub fn holds_dowels(&self) -> Truth {
        let is_concrete = self.kind.satisfies(|kind| kind == FoundationKind::Concrete);
        let is_sound = match self.condition.value() {
            Some(FoundationCondition::Sound) => Truth::True,
            Some(FoundationCondition::Cracked) | None => Truth::Maybe,
            Some(FoundationCondition::Crumbling | FoundationCondition::Displaced) => Truth::False,
        };
        is_concrete.and(is_sound)
    }
}

/// What a length of new foundation is sized from.
#[derive(Clone, Debug)]
pub struct SizingInput {
    /// What is to be built.
    pub work: NewWork,
    /// Stories that it carries.
    pub stories: Observed<Stories>,
    /// The soil, where its class is known.
    pub soil: Option<SoilClass>,
    /// Dead and live load that comes down on it, in pounds a foot, its own weight not included.
    pub line_load: Option<Ends>,
    /// Height of the top of the sill above the ground outside: where framing or studs bear; of a cap, before it.
    pub top_of_sill: Option<Length>,
    /// Frost depth by the building department; zero where it says there is none.
    pub frost_depth: Option<Length>,
    /// Whether the soil swells and shrinks.
    pub expansive: Truth,
    /// Whether the house stands on fill.
    pub fill: Truth,
    /// Seismic design category, where it is known.
    pub seismic_category: Option<SeismicCategory>,
    /// The new sill by name, in inches: (2, 6).
    pub sill: (u8, u8),
    /// The old foundation that it touches.
    pub old: OldFoundation,
}

impl SizingInput {
    /// An input of which nothing is known but what is to be built, with a 2x6 sill.
    pub fn new(work: NewWork) -> Self {
        Self {
            work,
            stories: Observed::default(),
            soil: None,
            line_load: None,
            top_of_sill: None,
            frost_depth: None,
            expansive: Truth::Maybe,
            fill: Truth::Maybe,
            seismic_category: None,
            sill: (2, 6),
            old: OldFoundation::default(),
        }
    }
}

/// Why nothing is sized.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SizingError {
    /// A load that is no load.
    #[error("found a load of {low} to {high} {unit}; expected numbers from 0 up, the less first")]
    Load {
        /// The low end.
        low: f64,
        /// The high end.
        high: f64,
        /// The unit.
        unit: &'static str,
    },
    /// A dimension that nothing under a house has.
    #[error("found {found} for {what}; expected {least} to {most}")]
    Dimension {
        /// What it was given for.
        what: &'static str,
        /// What was found.
        found: Length,
        /// The least.
        least: Length,
        /// The most.
        most: Length,
    },
    /// The table has no row for the house, and there is no load to size by.
    #[error(
        "the table goes to {most} stories and the house has {stories} or more; without a load nothing gives a width"
    )]
    NothingToSizeBy {
        /// Stories of the house, at least.
        stories: u8,
        /// Stories that the table reaches.
        most: u8,
    },
    /// A footing wider than is sized here.
    #[error("the load needs a footing wider than {most}; an engineer designs it")]
    TooWide {
        /// The widest that is sized.
        most: Length,
    },
    /// A stem wall taller than the table.
    #[error("found a stem wall {found} high; the table goes to {most}; an engineer designs it")]
    StemTooTall {
        /// What was found.
        found: Length,
        /// The tallest in the table.
        most: Length,
    },
    /// A bar that the table does not hold.
    #[error("the table holds no {0} bar")]
    NoBar(BarSize),
    /// The soil gives no answer.
    #[error(transparent)]
    Soil(#[from] SoilError),
    /// The wood gives no answer.
    #[error(transparent)]
    Wood(#[from] NdsError),
}

/// A footing with its stem wall.
#[derive(Clone, Debug)]
pub struct Wall {
    /// How the footing came by its size.
    pub footing: Footing,
    /// Its geometry, bars included.
    pub section: CrossSection,
    /// Dowels into the old foundation; `None` where that holds none.
    pub dowels: Option<Dowels>,
}

/// New work of a kind.
#[derive(Clone, Debug)]
pub enum Work {
    /// A footing and a stem wall.
    Wall(Box<Wall>),
    /// Concrete on an old wall.
    Cap(Box<Cap>),
}

/// A length of new foundation, sized.
#[derive(Clone, Debug)]
pub struct NewFoundation {
    /// What is built.
    pub work: Work,
    /// The old foundation, where it stays under or beside the new work.
    pub old: Option<OldSection>,
    /// The sill on it.
    pub sill: NewSill,
    /// The anchors of the sill, by the set of provisions that was given.
    pub anchors: SillAnchors,
    /// Strength of the concrete at 28 days, in psi, at least.
    pub concrete_psi: Sourced<f64>,
    /// What was assumed, what does not apply, and whom to ask.
    pub flags: Vec<Flag>,
    /// What goes with it.
    pub notes: Vec<Note>,
}

impl NewFoundation {
    /// Sizes a length of new foundation by a table, by soil and load, and anchors its sill by a set of provisions.
    pub fn size(
        input: &SizingInput,
        table: &FootingTable,
        standards: &Standards,
        provisions: &Provisions,
    ) -> Result<Self, SizingError> {
        let mut flags = flag::of_the_site(input);
        let mut sill = NewSill::of(input, table, standards)?;
        let stories = footing::stories(input, table, &mut flags);
        let anchors = SillAnchors::of(provisions, stories.most, &sill, &mut flags);
        let old = OldSection::of(input, standards, &mut flags);
        let work = match (input.work, &old) {
            (NewWork::Cap, Some(old)) => {
                Work::Cap(Box::new(Cap::of(input, table, old, &sill, &anchors, &mut flags)?))
            }
            _ => Work::Wall(Box::new(Wall::of(
                input, table, standards, &sill, stories, &mut flags,
            )?)),
        };
        if let Work::Cap(cap) = &work {
            sill.raise(cap.thickness);
        }
        flags.extend(sill.near_ground());
        let is_calm = matches!(
            input.seismic_category,
            Some(SeismicCategory::A | SeismicCategory::B | SeismicCategory::C)
        );
        let concrete = if is_calm {
            &table.strength
        } else {
            &table.strength_shaken
        };
        Ok(Self {
            work,
            old,
            sill,
            anchors,
            concrete_psi: concrete.clone(),
            flags,
            notes: flag::notes(table),
        })
    }
}

impl Wall {
    fn of(
        input: &SizingInput,
        table: &FootingTable,
        standards: &Standards,
        sill: &NewSill,
        stories: footing::StoriesCarried,
        flags: &mut Vec<Flag>,
    ) -> Result<Self, SizingError> {
        let place = section::Place::of(input, table, sill, flags)?;
        let footing = Footing::size(input, table, standards, &place, stories, flags)?;
        let section = CrossSection::of(&footing, &place, sill, table, flags)?;
        footing.check_off_center(input, standards, &section, flags)?;
        let dowels = Dowels::into_old(input, table, flags)?;
        Ok(Self {
            footing,
            section,
            dowels,
        })
    }
}

/// Ends of a load that make sense.
fn loads(ends: Ends, unit: &'static str) -> Result<Ends, SizingError> {
    let Ends { low, high } = ends;
    if low >= 0.0 && high.is_finite() && low <= high {
        return Ok(ends);
    }
    Err(SizingError::Load { low, high, unit })
}

/// A dimension within what houses have.
fn within(what: &'static str, found: Length, least: Length, most: Length) -> Result<Length, SizingError> {
    if (least..=most).contains(&found) {
        return Ok(found);
    }
    Err(SizingError::Dimension {
        what,
        found,
        least,
        most,
    })
}

fn half(length: Length) -> Length {
    Length::from_nanometers(length.nanometers() / 2)
}

#[cfg(test)]
mod tests;
