//! One house, one result, a page for each of those who read it.
//!
//! A [`HouseResult`] holds everything that is known of a house under one set of provisions: the findings, the layout
//! of the work that would mend them, what that work takes and what it may cost. Every page is worded from it and
//! computes nothing, so that no two readers are told different things.
//!
//! ```
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::prices::UnitPrices;
//! use retrofit_core::provisions::Library;
//! use retrofit_report::readers::HouseResult;
//! use retrofit_report::result::ReportInfo;
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
//! let house = AsBuilt::new(house).expect("the record makes sense");
//! let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
//! let result = HouseResult::new(&house, &provisions, UnitPrices::placeholder(), None, &ReportInfo::default());
//! assert_eq!(result.worksheet.wall_lines.len(), 1);
//! # Ok::<(), serde_json::Error>(())
//! ```

mod amount;
mod assessor;
mod crew;
mod owner;
mod page;
mod passage;
mod picture;
mod print;

pub use assessor::AssessorSheet;
pub use assessor::SideRow;
pub use crew::{
    Carry, CarryRow, CrewLine, CrewPart, CrewSheets, CutPiece, CutSheet, Cutting, Mark, Notes, Order,
    OrderStep,
};
pub use owner::{HeadRow, Item, OwnerPage, Part, Place, Section};
pub use page::{Page, Reader};
pub use passage::{Passage, Piece, TERMS};
pub use picture::{Picture, Side};

use retrofit_core::check::{Counts, Evidence, EvidenceGrade, assess, wall_lines_by_ruling};
use retrofit_core::house::AsBuilt;
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::Provisions;
use retrofit_core::remedy::{Remedy, design};
use retrofit_core::screen::{Declined, Screen};
use retrofit_core::takeoff::{Stock, Takeoff, take_off};
use schemars::JsonSchema;
use serde::Serialize;
use thiserror::Error;

use crate::json;
use crate::language::LanguageError;
use crate::result::{RenderError, Report, ReportInfo};
use crate::takeoff::TakeoffReport;
use crate::worksheet::Worksheet;

/// The version of the format of a whole result.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum Format {
    /// The first published format of a whole result.
    #[default]
    #[serde(rename = "house-result-1")]
    HouseResult1,
}

/// Everything that is known of one house under one set of provisions.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "Result for one house")]
pub struct HouseResult {
    /// The version of this format: always `house-result-1`.
    pub format: Format,
    /// What was found.
    pub report: Report,
    /// How many wall lines came to each ruling.
    pub wall_lines: Counts,
    /// How much of what was judged somebody saw.
    pub evidence: EvidenceFound,
    /// The work that would mend it, wall line by wall line; where a part of it has no layout, the reason.
    pub worksheet: Worksheet,
    /// What that work takes and may cost.
    pub takeoff: TakeoffReport,
    /// The record that was judged.
    #[serde(skip)]
    pub house: AsBuilt,
    /// The layout that the worksheet puts into words, with lengths and stations as they are.
    #[serde(skip)]
    pub remedy: Remedy,
    /// The pieces and prices that the takeoff report puts into words.
    #[serde(skip)]
    pub pieces: Takeoff,
    /// The provisions by which it was judged and laid out.
    #[serde(skip)]
    pub provisions: Provisions,
}

/// How much of what was judged somebody saw: the number of findings by how what they rest on is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EvidenceFound {
    /// The grade, by the share that was measured or seen.
    pub grade: EvidenceGrade,
    /// All of them.
    pub all: u32,
    /// Measured or seen.
    pub measured_or_seen: u32,
    /// Reported or inferred.
    pub reported_or_inferred: u32,
    /// Judged although no single observation tells how it is known.
    pub unsaid: u32,
    /// Left open.
    pub open: u32,
}

impl From<Evidence> for EvidenceFound {
    fn from(evidence: Evidence) -> Self {
        Self {
            grade: evidence.grade(),
            all: evidence.all(),
            measured_or_seen: evidence.witnessed(),
            reported_or_inferred: evidence.told(),
            unsaid: evidence.unsaid,
            open: evidence.open,
        }
    }
}

/// A page that could not be written: a defect of this program or of the files of a language.
#[derive(Debug, Error)]
pub enum ReaderError {
    /// Something cannot be said in the language.
    #[error(transparent)]
    Language(#[from] LanguageError),
    /// A template could not be filled in.
    #[error(transparent)]
    Render(#[from] RenderError),
}

impl HouseResult {
    /// Judges a house by a set of provisions, lays out the work and counts it. The engineering screen stands beside
    /// the verdicts where there is one.
    pub fn new(
        house: &AsBuilt,
        provisions: &Provisions,
        prices: &UnitPrices,
        screened: Option<&Result<Screen, Declined>>,
        info: &ReportInfo,
    ) -> Self {
        let assessment = assess(house, provisions);
        let mut report = Report::new(&assessment, info);
        if let Some(screened) = screened {
            report = report.with_screen(&assessment, screened);
        }
        let remedy = design(house, provisions, prices);
        let pieces = take_off(&remedy, prices, Stock::shipped());
        Self {
            format: Format::HouseResult1,
            wall_lines: wall_lines_by_ruling(&assessment),
            evidence: Evidence::of(&assessment).into(),
            report,
            worksheet: Worksheet::new(&remedy, provisions, prices, info),
            takeoff: TakeoffReport::new(house, &provisions.title, &pieces),
            provisions: provisions.clone(),
            house: house.clone(),
            remedy,
            pieces,
        }
    }

    /// The whole result for a machine.
    pub fn json(&self) -> String {
        json::pretty(self)
    }
}

/// The JSON Schema of a whole result, named `house-result-1`.
pub fn schema() -> String {
    json::schema_of::<HouseResult>("house-result-1")
}

/// The JSON Schema of an owner's page, named `owner-page-1`.
pub fn owner_schema() -> String {
    json::schema_of::<OwnerPage>("owner-page-1")
}

/// The JSON Schema of an assessor's sheet, named `assessor-sheet-1`.
pub fn assessor_schema() -> String {
    json::schema_of::<AssessorSheet>("assessor-sheet-1")
}

/// The schema of the crew's sheets for a machine.
pub fn crew_schema() -> String {
    json::schema_of::<CrewSheets>("crew-sheets-1")
}
