//! What was assumed, what does not apply and whom to ask; and what goes with new work.

use super::{FootingTable, NewWork, SizingInput, Source};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::FigureName;

/// Whom to ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ask {
    /// The local code official.
    CodeOfficial,
    /// A licensed engineer.
    Engineer,
    /// Whoever can look again.
    Observer,
}

impl Ask {
    /// Whom to ask, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::CodeOfficial => "the local code official",
            Self::Engineer => "a licensed engineer",
            Self::Observer => "somebody who looks again",
        }
    }
}

/// Something that a reader has to know of a size.
#[derive(Clone, Debug, PartialEq)]
pub enum Flag {
    /// The stories are not known; sized for the most that they can be.
    StoriesAssumed {
        /// The least that they can be.
        least: u8,
        /// What was taken.
        taken: u8,
    },
    /// More stories than the table has.
    MoreStories {
        /// The most that the house can have.
        found: u8,
        /// The most in the table.
        most: u8,
    },
    /// The class of the soil is not known; a bearing pressure was taken.
    SoilAssumed {
        /// What was taken, in psf.
        psf: f64,
        /// Where from.
        source: Source,
    },
    /// The table has no row for soil that weak.
    SoilTooWeak {
        /// What the soil carries, in psf.
        psf: f64,
    },
    /// The load is not known: only the table gives a width.
    LoadNotKnown,
    /// The load needs more than the table gives.
    LoadGoverns,
    /// Soil that swells: the table is not made for it.
    Expansive(Truth),
    /// Fill: footings bear on undisturbed soil or on fill that was designed and tested.
    Fill(Truth),
    /// The frost depth is not known; the least depth was taken.
    FrostDepthNotKnown {
        /// What was taken.
        taken: Length,
    },
    /// The height of the sill is not known; one was taken.
    HeightAssumed {
        /// The height of the stem wall above the ground that was taken.
        taken: Length,
    },
    /// The stem wall does not come far enough out of the ground.
    StemTooLow {
        /// How far it comes out.
        found: Length,
        /// How far it should.
        least: Length,
    },
    /// Wood is nearer to the ground than untreated wood may be.
    WoodNearGround {
        /// How near.
        found: Length,
        /// What untreated wood needs.
        least: Length,
    },
    /// The sill is thinner than the set asks a new one to be.
    SillThin {
        /// Its thickness.
        found: Length,
        /// What is asked for.
        least: Length,
    },
    /// The footing is thicker than the table asks, because it projects so far.
    ThickerForProjection {
        /// How far it projects.
        projection: Length,
    },
    /// The stem wall is too short for the length of upright bar that a joint over the footing asks for.
    UprightsShort {
        /// Their length in the stem wall.
        found: Length,
        /// What a joint asks for.
        least: Length,
    },
    /// The load stands off the center of the footing.
    OffCenter {
        /// How far.
        by: Length,
        /// The pressure at the edge, in psf, if nothing but the footing holds it; `None` where no load is known.
        edge_psf: Option<f64>,
    },
    /// Whether the old concrete holds dowels was not seen.
    DowelsToConfirm,
    /// The old foundation holds no dowels.
    OldHoldsNoDowels,
    /// The old foundation does not hold the new wall: it has to bear and stand for itself.
    StandsForItself,
    /// A cap does not mend what is under it.
    CapMendsNoBase,
    /// The thickness of the old wall is not known; the greatest that is usual was taken.
    OldThicknessAssumed {
        /// What was taken.
        taken: Length,
    },
    /// The sill comes up by the thickness of the cap.
    CapRaisesSill {
        /// By how much.
        by: Length,
    },
    /// The set of provisions gives no figure, or nobody has seen it.
    NotGiven {
        /// Which figure.
        figure: FigureName,
        /// Whether the document is believed to give one.
        is_missing: bool,
    },
    /// A girder or a post can reach the ground's damp: distances from the ground that treated wood is free of.
    KeepFromGround {
        /// What.
        what: &'static str,
        /// The distance.
        least: Length,
        /// Where from.
        source: Source,
    },
    /// The height of a post is not known: none was chosen.
    PostHeightNotKnown,
    /// No size that was tried will do.
    NoSizeWillDo(&'static str),
    /// Nobody saw whether joists are fastened to the girder and keep it upright: nothing is counted that does.
    GirderNotHeld,
}

impl Flag {
    /// Whom to ask about it; `None` where it only tells how a size came about.
    pub const fn ask(&self) -> Option<Ask> {
        match self {
            Self::MoreStories { .. }
            | Self::SoilTooWeak { .. }
            | Self::Expansive(_)
            | Self::Fill(_)
            | Self::OffCenter { .. }
            | Self::OldHoldsNoDowels
            | Self::StandsForItself
            | Self::CapMendsNoBase
            | Self::NoSizeWillDo(_) => Some(Ask::Engineer),
            Self::SoilAssumed { .. }
            | Self::FrostDepthNotKnown { .. }
            | Self::StemTooLow { .. }
            | Self::UprightsShort { .. }
            | Self::NotGiven { .. } => Some(Ask::CodeOfficial),
            Self::StoriesAssumed { .. }
            | Self::LoadNotKnown
            | Self::HeightAssumed { .. }
            | Self::DowelsToConfirm
            | Self::OldThicknessAssumed { .. }
            | Self::PostHeightNotKnown
            | Self::GirderNotHeld => Some(Ask::Observer),
            Self::LoadGoverns
            | Self::WoodNearGround { .. }
            | Self::SillThin { .. }
            | Self::ThickerForProjection { .. }
            | Self::CapRaisesSill { .. }
            | Self::KeepFromGround { .. } => None,
        }
    }

    /// The flag in a sentence.
    pub fn words(&self) -> String {
        match self {
            Self::StoriesAssumed { least, taken } => {
                format!("The stories are not known; {taken} are assumed, where {least} or more are possible.")
            }
            Self::MoreStories { found, most } => {
                format!("The house may have {found} stories; the table ends at {most}.")
            }
            Self::SoilAssumed { psf, .. } => format!(
                "The class of the soil is not known; {psf:.0} psf is assumed. Mud, organic soil and loose fill carry less."
            ),
            Self::SoilTooWeak { psf } => format!("The table has no row for soil that carries {psf:.0} psf."),
            Self::LoadNotKnown => "No load is known; the width is the table's alone.".to_owned(),
            Self::LoadGoverns => "The load needs a wider footing than the table gives.".to_owned(),
            Self::Expansive(Truth::True) => {
                "The soil is expansive: the table does not apply, and the foundation has to be designed."
                    .to_owned()
            }
            Self::Expansive(_) => {
                "Whether the soil is expansive is not known; on such soil the table does not apply."
                    .to_owned()
            }
            Self::Fill(Truth::True) => {
                "The house stands on fill: the table holds only on fill that was designed and tested."
                    .to_owned()
            }
            Self::Fill(_) => {
                "Whether the house stands on fill is not known; on loose fill the table does not hold."
                    .to_owned()
            }
            Self::FrostDepthNotKnown { taken } => {
                format!("The frost depth is not known; {taken} below the ground is the least in any case.")
            }
            Self::HeightAssumed { taken } => {
                format!(
                    "The height of the sill is not known; a stem wall {taken} above the ground is assumed."
                )
            }
            Self::StemTooLow { found, least } => format!(
                "The stem wall comes {found} out of the ground where {least} is asked for: the ground is lowered or the house raised."
            ),
            Self::WoodNearGround { found, least } => format!(
                "The sill lies {found} above the ground; nearer than {least} it and the framing on it have to be treated or durable."
            ),
            Self::SillThin { found, least } => {
                format!("The new sill is {found} thick where the set asks for {least}.")
            }
            Self::ThickerForProjection { projection } => {
                format!("The footing projects {projection} from the stem wall and is made as thick.")
            }
            Self::UprightsShort { found, least } => format!(
                "Upright bars reach {found} into the stem wall, and {least} is asked for over a joint: footing and stem wall are poured together, or the bars are hooked as the code official allows."
            ),
            Self::OffCenter { by, edge_psf } => {
                let pressure = edge_psf.map_or_else(String::new, |psf| {
                    format!(" By itself it would press with {psf:.0} psf at its edge.")
                });
                format!("The wall stands {by} off the center of its footing.{pressure}")
            }
            Self::DowelsToConfirm => {
                "Whether the old concrete is sound enough for dowels was not seen.".to_owned()
            }
            Self::OldHoldsNoDowels => "The old foundation holds no dowels.".to_owned(),
            Self::StandsForItself => {
                "The old foundation does not hold the new wall, which has to bear and to stand for itself."
                    .to_owned()
            }
            Self::CapMendsNoBase => {
                "A cap does not mend a weak base: the old wall and its footing carry everything as before."
                    .to_owned()
            }
            Self::OldThicknessAssumed { taken } => {
                format!("The thickness of the old wall is not known; {taken} is assumed.")
            }
            Self::CapRaisesSill { by } => format!(
                "The sill comes up by {by}: the framing on it is cut shorter, or the house is raised by as much."
            ),
            Self::NotGiven {
                figure,
                is_missing: true,
            } => {
                format!(
                    "The set is believed to give the {}, which nobody here has seen.",
                    figure_words(*figure)
                )
            }
            Self::NotGiven { figure, .. } => format!("The set gives no {}.", figure_words(*figure)),
            Self::KeepFromGround { what, least, .. } => {
                format!("{what} nearer to the ground than {least} has to be treated or durable.")
            }
            Self::PostHeightNotKnown => "The height of the post is not known; no post is chosen.".to_owned(),
            Self::NoSizeWillDo(what) => format!("No {what} that was tried will do."),
            Self::GirderNotHeld => {
                "Whether joists are fastened to the girder was not seen: nothing is counted that keeps it upright."
                    .to_owned()
            }
        }
    }
}

fn figure_words(figure: FigureName) -> &'static str {
    crate::choice::Choice::words(figure)
}

/// Something that goes with new work, whatever its size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// The note in a sentence.
    pub words: String,
    /// Where it comes from.
    pub source: Source,
}

/// What a site leaves open.
pub(super) fn of_the_site(input: &SizingInput) -> Vec<Flag> {
    let mut flags = Vec::new();
    if input.expansive.possible() {
        flags.push(Flag::Expansive(input.expansive));
    }
    if input.fill.possible() {
        flags.push(Flag::Fill(input.fill));
    }
    if input.work == NewWork::Cap {
        flags.push(Flag::CapMendsNoBase);
    }
    flags
}

/// Drainage and backfill.
pub(super) fn notes(table: &FootingTable) -> Vec<Note> {
    let (fall, within, retained) = (&table.grade_fall, &table.grade_fall_within, &table.retained_most);
    vec![
        Note {
            words: format!(
                "The ground falls away from the wall by {} or more within the first {}.",
                fall.value, within.value
            ),
            source: fall.source.clone(),
        },
        Note {
            words: format!(
                "A wall that is not held at its top and holds back more than {} of ground is a retaining wall and has to be designed.",
                retained.value
            ),
            source: retained.source.clone(),
        },
    ]
}
