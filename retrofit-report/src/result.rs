//! The result of a check as a report shows it: one value from which every format is rendered.
//!
//! [`Report::new`] puts an assessment into words once. Nothing is judged here: rulings, margins, best and
//! worst cases and the list of what to look at next are those of the core. Every number is formatted, and
//! where a machine may want it exactly, the exact text stands beside it. All text that a user wrote is made
//! printable on the way in, so that no renderer meets a control character.

mod before_after;
mod comparison;
mod explained;
pub(crate) mod figures;
mod findings;
mod inputs;
mod not_seen;
mod record;
mod screened;
mod sign_off;
mod together;
pub mod wording;

pub use before_after::{
    AgainstDesign, BeforeAfter, BeforeAfterFormat, CameTo, ChangedCheck, ChangedPlace, NoLongerSaid, Record,
    Tally, ToldIn,
};
pub use comparison::{ComparedLimit, ComparedPlace, ComparedSet, Comparison, ComparisonFormat, LimitInSet};
pub(crate) use explained::{Explained, FallsShort, NotAsked, OpenTogether};
pub use figures::{AttestedBy, Figure, Trust};
pub(crate) use findings::Amounts;
pub use findings::{Amount, Clause, Help, LeftOpen, Open, Place, Row, Shortfall, WallLine};
pub(crate) use inputs::InputsOfPlace;
pub use inputs::{HowKnown, Input};
pub use not_seen::{NotSeen, UnknownValue, UnseenStretch};
pub use record::{Distress, Fact};
pub use screened::{Screened, ScreenedLines};
pub use sign_off::{AssumedInDesign, ExtraPiece, PieceDifference, PieceTally, SignedLine, SignedPiece};

use std::fmt::Write;

use retrofit_core::check::{Assessment, Counts, LookAt, Ruling};
use retrofit_core::provisions::Provisions;
use retrofit_core::remedy::Remedy;
use retrofit_core::screen::{Declined, Screen};
use schemars::JsonSchema;
use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::look::{Picture, TemplateError};
use crate::plan::Plan;
use crate::screen::ScreenReport;
use wording::{plain, sentence_case};

/// What a report says about itself and its input.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ReportInfo {
    /// The version of this program.
    pub program_version: String,
    /// The name of the input file.
    pub input_file: String,
    /// The SHA-256 of the input, in lower-case hexadecimal digits.
    pub input_sha256: String,
}

impl ReportInfo {
    /// The information for an input of this name and content.
    ///
    /// ```
    /// use retrofit_report::result::ReportInfo;
    /// let info = ReportInfo::of_input("0.1.0", "house.json", b"abc");
    /// // The first test vector of FIPS 180-2, appendix B.1.
    /// assert!(info.input_sha256.starts_with("ba7816bf8f01cfea"));
    /// ```
    pub fn of_input(program_version: &str, input_file: &str, content: &[u8]) -> Self {
        Self {
            program_version: program_version.to_owned(),
            input_file: input_file.to_owned(),
            input_sha256: hexadecimal(&Sha256::digest(content)),
        }
    }
}

/// A fingerprint as it is usually written.
pub(crate) fn hexadecimal(bytes: &[u8]) -> String {
    bytes
        .iter()
        .fold(String::with_capacity(2 * bytes.len()), |mut text, byte| {
            // A string takes whatever is written to it.
            let _ = write!(text, "{byte:02x}");
            text
        })
}

/// The version of the result format.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum Format {
    /// The first published format of a result.
    #[default]
    #[serde(rename = "result-1")]
    Result1,
}

/// A report: everything that is shown of an assessment.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Result of a check")]
pub struct Report {
    /// The version of this format: always `result-1`.
    pub format: Format,
    /// The version of the program that wrote it.
    pub program_version: String,
    /// The name of the input file.
    pub input_file: String,
    /// The SHA-256 of the input.
    pub input_sha256: String,
    /// The name of the house.
    pub house: String,
    /// The verdict on the house.
    pub verdict: Verdict,
    /// What the verdict means for the reader.
    pub meaning: String,
    /// What a reader must know before anything else, such as a set that is meant for comparison only.
    pub warnings: Vec<String>,
    /// What falls short, one entry for the house as a whole and for each wall line.
    pub shortfalls: Vec<Shortfall>,
    /// The findings on the house as a whole.
    pub whole_house: Place,
    /// The findings on each wall line, in the order of the house file.
    pub wall_lines: Vec<WallLine>,
    /// The engineering screen beside the verdicts; null where none was asked for.
    pub screen: Option<Screened>,
    /// What was not seen.
    pub not_seen: NotSeen,
    /// What to look at next, in the order of a crawl.
    pub next: Vec<NextLook>,
    /// The figures that the findings rest on.
    pub figures: Vec<Figure>,
    /// What was recorded, every input with how it is known.
    pub inputs: Vec<Input>,
    /// The set of provisions.
    pub provisions: ProvisionsUsed,
    /// The record of the house in short.
    pub record: Vec<Fact>,
    /// What was noted of the site and the building and is not judged here.
    pub noted: Vec<String>,
    /// Signs of trouble that were noted; they have no part in the verdict.
    pub distress: Vec<Distress>,
    /// Remarks of whoever looked at the house.
    pub remark: String,
    /// To whom the reader has to turn.
    pub deferral: String,
    /// What to mind in a crawl space.
    pub cautions: Vec<String>,
    /// The same shortfalls by check, for a reader; the rows have them all.
    #[serde(skip)]
    pub(crate) explained: Vec<Explained>,
    /// The same open checks, for a reader; the places have them all.
    #[serde(skip)]
    pub(crate) left_open: Vec<OpenTogether>,
    /// What asks nothing here, by check, for a reader; the places have it all.
    #[serde(skip)]
    pub(crate) not_asked: Vec<NotAsked>,
    /// What stands over the figures to confirm; empty when there are none.
    #[serde(skip)]
    pub(crate) to_confirm_heading: String,
    /// The same inputs by place, for a reader.
    #[serde(skip)]
    pub(crate) recorded: Vec<InputsOfPlace>,
    /// The load path with its derivations, which is a result of its own.
    #[serde(skip)]
    pub(crate) load_path: Option<ScreenReport>,
    /// Photographs of the record.
    #[serde(skip)]
    pub(crate) photos: Vec<Picture>,
    /// The sketch; a picture, not a result.
    #[serde(skip)]
    pub(crate) plan: Plan,
}

/// A verdict in words.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Verdict {
    /// The ruling.
    pub ruling: Ruling,
    /// The ruling with what it rests on, such as `not met, by a remembered figure`.
    pub words: String,
    /// The same, as the beginning of a sentence.
    pub headline: String,
    /// The best it can come to.
    pub best: Ruling,
    /// The worst it can come to.
    pub worst: Ruling,
    /// Best and worst case in a sentence.
    pub range: String,
    /// How many findings came to each ruling.
    pub counts: Counts,
    /// The standing of the weakest figure that the verdict needs; null when it rests on none.
    pub standing: Option<String>,
    /// The figures that the verdict rests on and that nobody has seen in their document; none where figures
    /// that were seen are enough for it.
    pub to_confirm: Vec<String>,
}

/// Something to look at next.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NextLook {
    /// What to look at.
    pub what: String,
    /// Where: the wall lines, or the house.
    pub places: Vec<String>,
    /// Its paths in the house file.
    pub paths: Vec<String>,
    /// How many open findings it has a part in.
    pub decides: u32,
    /// The observation itself, for pages in other languages.
    #[serde(skip)]
    pub(crate) look_at: LookAt,
}

/// The set of provisions a house was checked against.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ProvisionsUsed {
    /// The name by which it is chosen.
    pub id: String,
    /// Its title.
    pub title: String,
    /// The document.
    pub document: String,
    /// The edition.
    pub edition: String,
    /// Where it applies.
    pub jurisdiction: String,
    /// What it is.
    pub summary: String,
    /// Whether it must not be used to judge an older house.
    pub comparison_only: bool,
    /// Notes.
    pub notes: Vec<String>,
}

impl Report {
    /// Puts an assessment into words.
    pub fn new(assessment: &Assessment<'_>, info: &ReportInfo) -> Self {
        let (house, provisions) = (assessment.house, assessment.provisions);
        let whole_house = findings::place(assessment, None);
        let wall_lines = findings::wall_lines(assessment);
        let shortfalls = findings::shortfalls(&whole_house, &wall_lines);
        let explained = explained::falling_short(&whole_house, &wall_lines);
        let left_open = explained::left_open(&whole_house, &wall_lines);
        let not_asked = explained::not_asked(&whole_house, &wall_lines);
        let plan = Plan::of(house, &wall_lines);
        let figures = figures::relied_on(assessment);
        let (inputs, recorded) = inputs::of(house);
        Self {
            format: Format::Result1,
            program_version: plain(&info.program_version),
            input_file: plain(&info.input_file),
            input_sha256: plain(&info.input_sha256),
            house: plain(&house.name),
            verdict: Verdict::of(&assessment.verdict, assessment),
            meaning: wording::meaning(&assessment.verdict),
            warnings: record::warnings(house, provisions),
            shortfalls,
            whole_house,
            wall_lines,
            screen: None,
            not_seen: NotSeen::of(house),
            next: next(assessment),
            to_confirm_heading: figures::to_confirm_heading(&figures),
            figures,
            provisions: ProvisionsUsed::of(provisions),
            record: record::facts(house),
            noted: record::noted(house),
            distress: record::distress(house),
            remark: plain(&house.note),
            deferral: wording::DEFERRAL.to_owned(),
            cautions: wording::CAUTIONS
                .iter()
                .map(|caution| (*caution).to_owned())
                .collect(),
            explained,
            left_open,
            not_asked,
            inputs,
            recorded,
            load_path: None,
            photos: Vec::new(),
            plan,
        }
    }
}

impl Report {
    /// The same with the engineering screen of the house beside the verdicts.
    #[must_use]
    pub fn with_screen(mut self, assessment: &Assessment<'_>, screened: &Result<Screen, Declined>) -> Self {
        self.screen = Some(Screened::of(assessment, screened));
        self
    }

    /// The same with the load path of the engineering screen, link by link, each number with its derivation.
    #[must_use]
    pub fn with_load_path(mut self, screen: ScreenReport) -> Self {
        self.load_path = Some(screen);
        self
    }

    /// The same with work laid out for the house, to be seen on the sketch.
    #[must_use]
    pub fn with_work(mut self, remedy: &Remedy) -> Self {
        self.plan.lay_out(remedy);
        self
    }

    /// The same with photographs.
    #[must_use]
    pub fn with_photos(mut self, photos: Vec<Picture>) -> Self {
        self.photos = photos;
        self
    }
}

impl ProvisionsUsed {
    fn of(provisions: &Provisions) -> Self {
        Self {
            id: plain(&provisions.id),
            title: plain(&provisions.title),
            document: plain(&provisions.document),
            edition: plain(&provisions.edition),
            jurisdiction: plain(&provisions.jurisdiction),
            summary: plain(&provisions.summary),
            comparison_only: provisions.comparison_only,
            notes: provisions.notes.iter().map(|note| plain(note)).collect(),
        }
    }
}

impl Verdict {
    fn of(verdict: &retrofit_core::check::Verdict, assessment: &Assessment<'_>) -> Self {
        let words = verdict.words();
        let to_confirm = verdict
            .rests
            .to_confirm
            .iter()
            .filter_map(|id| assessment.provisions.figure(*id))
            .map(|figure| plain(&figure.title()))
            .collect();
        Self {
            ruling: verdict.ruling(),
            headline: sentence_case(&words),
            words,
            best: wording::ruling_of(verdict.best()),
            worst: wording::ruling_of(verdict.worst()),
            range: wording::range(verdict),
            counts: verdict.counts,
            standing: verdict
                .rests
                .standing
                .map(|standing| standing.spelling().to_owned()),
            to_confirm,
        }
    }
}

fn next(assessment: &Assessment<'_>) -> Vec<NextLook> {
    use retrofit_core::choice::Choice;
    let name_of = |line: &u16| {
        let wall = assessment.house.wall_lines.get(usize::from(*line));
        wall.map(|wall| plain(&wall.name))
    };
    assessment
        .next
        .iter()
        .map(|look| NextLook {
            what: look.look_at.words().to_owned(),
            places: look.wall_lines.iter().filter_map(name_of).collect(),
            paths: if look.wall_lines.is_empty() {
                vec![look.look_at.path(None, None)]
            } else {
                let path = |line: &u16| look.look_at.path(Some(*line), None);
                look.wall_lines.iter().map(path).collect()
            },
            decides: look.decides,
            look_at: look.look_at,
        })
        .collect()
}

/// Why a report could not be put together.
#[derive(Debug, thiserror::Error)]
pub enum RenderError {
    /// A template of ours could not be filled in: a defect of this program.
    #[error("the report could not be put together: {0}")]
    Ours(#[from] tera::Error),
    /// A template of the user's own makes no page.
    #[error(transparent)]
    Own(#[from] TemplateError),
}
