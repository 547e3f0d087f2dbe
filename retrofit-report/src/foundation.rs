//! The foundation work of a house as a report shows it: decided length by length, sized, held up, lifted, put in order
//! and counted.
//!
//! [`FoundationReport::new`] puts what the core found into words and numbers once; [`FoundationReport::document`] is the
//! page. It is kept apart from the seismic verdict.

pub mod explain;
mod page;
mod rows;
mod sizes;

use retrofit_core::foundation::gates::{Gates, Step};
use retrofit_core::foundation::plan::FoundationPlan;
use retrofit_core::house::AsBuilt;
use retrofit_core::provisions::Provisions;
use schemars::JsonSchema;
use serde::Serialize;

use crate::drawing::{self, Sheet};
use crate::result::ReportInfo;
use crate::result::wording::plain;

/// The version of the format of a foundation report.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum FoundationFormat {
    /// The first published format.
    #[default]
    #[serde(rename = "foundation-1")]
    Foundation1,
}

/// The foundation work of a house: everything that is shown of it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Foundation work of a house")]
pub struct FoundationReport {
    /// The version of this format: always `foundation-1`.
    pub format: FoundationFormat,
    /// The version of the program that wrote it.
    pub program_version: String,
    /// The name of the input file.
    pub input_file: String,
    /// The SHA-256 of the input.
    pub input_sha256: String,
    /// The name of the house.
    pub house: String,
    /// The set of provisions that new sills and anchors go by.
    pub provisions: String,
    /// Every length of foundation with its options.
    pub lengths: Vec<LengthRow>,
    /// How much is to be replaced, in words.
    pub replacing: String,
    /// What the house brings to each wall line.
    pub loads: Vec<LoadRow>,
    /// What takes no part in the loads.
    pub not_counted: Vec<&'static str>,
    /// New work of each length that gets some.
    pub new_work: Vec<NewWorkRow>,
    /// Piers and posts under each entry of posts of which the load is determined.
    pub piers: Vec<NewWorkRow>,
    /// Girders over posts: by the span on record, or by spans that are common where none is.
    pub girders: Vec<NewWorkRow>,
    /// Why no girder is sized; empty where the load on one is determined.
    pub girders_not_determined: Vec<String>,
    /// Posts of which the load is not determined.
    pub piers_not_determined: Vec<String>,
    /// Temporary support of each wall line with new work.
    pub shoring: Vec<ShoringRow>,
    /// The lift; null where nothing was surveyed or no plan can be made.
    pub lift: Option<LiftPart>,
    /// Why there is no lift; empty where there is one.
    pub no_lift: String,
    /// Order and days; null where nothing is put in order.
    pub sequence: Option<SequencePart>,
    /// Why there is no order; empty where there is one.
    pub no_sequence: String,
    /// The settings that order and lift were made by, each with where it comes from.
    pub settings: Vec<SettingRow>,
    /// Staging and access, by what is on record.
    pub access: Vec<String>,
    /// Quantities and cost; null where there is nothing to count.
    pub quantities: Option<QuantitiesPart>,
    /// What must be so before each step of the work.
    pub gates: Vec<GateRow>,
    #[serde(skip)]
    #[schemars(skip)]
    drawings: Vec<Sheet>,
}

/// One length of foundation.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LengthRow {
    /// Its number, from 1.
    pub number: usize,
    /// The wall line.
    pub wall_line: String,
    /// Where it begins.
    pub from: String,
    /// Where it ends; empty where nobody measured the wall line.
    pub to: String,
    /// What is to be done, as house files spell it; null where it is not decided.
    pub chosen: Option<&'static str>,
    /// The same in words, with who chose.
    pub chosen_words: String,
    /// What it can still come to.
    pub possible: Vec<&'static str>,
    /// Every option.
    pub options: Vec<OptionRow>,
    /// Why an engineer's word is asked for.
    pub engineer: Vec<String>,
    /// What to look at so that it can be decided.
    pub look_at: Vec<String>,
}

/// One option for a length.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct OptionRow {
    /// The option, as house files spell it.
    pub option: &'static str,
    /// The option in words.
    pub words: &'static str,
    /// `yes`, `no` or `cannot_be_told`.
    pub open: &'static str,
    /// Why it is not open.
    pub against: Vec<String>,
    /// What speaks for it.
    pub in_favor: Vec<String>,
    /// What was not seen and could decide it.
    pub not_seen: Vec<String>,
    /// What provisions ask of it.
    pub requires: Vec<String>,
}

/// What a wall line carries.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LoadRow {
    /// The wall line.
    pub wall_line: String,
    /// Least and most, in pounds on a foot; null where something is not determined.
    pub total_plf: Option<[f64; 2]>,
    /// Its parts.
    pub parts: Vec<LoadPartRow>,
    /// Why it is not determined.
    pub not_determined: Vec<String>,
}

/// One part of a load.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LoadPartRow {
    /// What it is.
    pub what: String,
    /// `dead` or `live`.
    pub kind: &'static str,
    /// Least and most, in pounds on a foot.
    pub plf: [f64; 2],
    /// Where its figures come from.
    pub sources: Vec<String>,
    /// The weakest standing among them.
    pub standing: &'static str,
    /// What of the record leaves it open.
    pub open: Vec<String>,
}

/// New work of one length, or under or over entries of posts.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NewWorkRow {
    /// The number of the length, of the entry of posts, or of the girder.
    pub number: usize,
    /// What is done and where.
    pub title: String,
    /// Why it cannot be sized; empty where it is.
    pub not_sized: String,
    /// Sizes.
    pub sizes: Vec<SizeRow>,
    /// What to mind: what was assumed, and where an engineer is asked for.
    pub notes: Vec<String>,
}

/// One size.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SizeRow {
    /// What is sized.
    pub what: String,
    /// The size.
    pub value: String,
    /// Where it comes from.
    pub source: String,
    /// How well that was seen.
    pub standing: &'static str,
}

/// Temporary support of a wall line.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ShoringRow {
    /// The wall line.
    pub wall_line: String,
    /// Ways to hold it up.
    pub schemes: Vec<SchemeRow>,
    /// Why there is none, or not a decided one.
    pub not_determined: Vec<String>,
    /// What was not looked at.
    pub not_seen: Vec<&'static str>,
}

/// One way to hold up a wall line.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SchemeRow {
    /// The arrangement.
    pub arrangement: &'static str,
    /// The load of the wall line at its high end, in pounds on a foot.
    pub line_load_plf: f64,
    /// From support to support of a beam.
    pub span: String,
    /// The supports.
    pub supports: Vec<SupportRow>,
    /// Each size beside published figures.
    pub checks: Vec<SupportCheckRow>,
    /// What has to go with it.
    pub asks_for_design: &'static str,
}

/// One support.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SupportRow {
    /// Its name.
    pub label: String,
    /// Its station.
    pub station: String,
    /// Inside or outside, and how far from the foundation.
    pub place: String,
    /// The most that comes down on it, in pounds.
    pub load_pounds: f64,
}

/// A load beside a published figure.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SupportCheckRow {
    /// Beam, post, crib, jack or pad, with its size.
    pub what: String,
    /// What of it.
    pub of: &'static str,
    /// The load.
    pub load: String,
    /// The published figure.
    pub figure: String,
    /// Load over figure.
    pub ratio: f64,
    /// Where the figure comes from.
    pub source: String,
    /// How well that was seen.
    pub standing: &'static str,
}

/// A lift.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LiftPart {
    /// The survey it goes by.
    pub surveyed: String,
    /// What the floor is brought to, in words.
    pub target: String,
    /// How many steps, and on what day the last one is.
    pub steps_words: String,
    /// The jacks.
    pub jacks: Vec<JackRow>,
    /// The table for the crew: for each step its day, and for each jack its rise and its total.
    pub steps: Vec<LiftStepRow>,
    /// Readings left out, with the reason.
    pub left_out: Vec<String>,
    /// Jacks whose height can be off by more than the tolerance.
    pub uncertain: Vec<String>,
    /// What an independent check of the table found; empty where it found nothing.
    pub faults: Vec<String>,
    /// Before the first step, at each step, and what stops it.
    pub gates: Vec<GateRow>,
}

/// One jack.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct JackRow {
    /// Its name.
    pub label: String,
    /// Its place: toward the east and toward the north.
    pub at: [String; 2],
    /// The height of the floor now.
    pub now: String,
    /// Where it is wanted.
    pub target: String,
    /// How far it is lifted in all.
    pub lift: String,
    /// What is left in the end, and whether that is within the tolerance.
    pub left: String,
}

/// One step of a lift.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LiftStepRow {
    /// Its number, from 1.
    pub step: usize,
    /// The day, from 1.
    pub day: u32,
    /// What each jack rises in this step, in the order of the jacks.
    pub rises: Vec<String>,
    /// What each jack has risen after it.
    pub totals: Vec<String>,
}

/// Order and days.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SequencePart {
    /// Calendar days from the first to the last.
    pub days: u32,
    /// No schedule of these bays under these settings has fewer.
    pub lower_bound: u32,
    /// Whether no schedule is shorter.
    pub proven_shortest: bool,
    /// Work days of all crews together.
    pub crew_days: u64,
    /// How long it takes by other ways of doing it, and how long such jobs were seen to take.
    pub compared: Vec<ComparedRow>,
    /// The bays.
    pub bays: Vec<BayRow>,
    /// Every task.
    pub tasks: Vec<TaskRow>,
    /// The pours.
    pub pours: Vec<PourRow>,
    /// What an independent check found; empty where it found nothing.
    pub faults: Vec<String>,
}

/// One way of doing the work beside the one that is used, or what was seen of such jobs.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ComparedRow {
    /// The way.
    pub way: String,
    /// How long it takes.
    pub takes: String,
    /// What is different about it.
    pub because: String,
    /// Where it comes from.
    pub source: String,
}

/// A bay.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BayRow {
    /// Its number, from 1.
    pub bay: usize,
    /// Its wall line and stations.
    pub name: String,
    /// Its length.
    pub length: String,
    /// The first and the last day on which it is open.
    pub open: [String; 2],
}

/// A task.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TaskRow {
    /// The number of the bay.
    pub bay: usize,
    /// What is done, as settings spell it.
    pub activity: &'static str,
    /// The crew, from 1; null for an inspection.
    pub crew: Option<u16>,
    /// The first day, from 1.
    pub first: u32,
    /// The last day.
    pub last: u32,
}

/// A pour day.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PourRow {
    /// The day.
    pub day: String,
    /// The numbers of the bays.
    pub bays: Vec<usize>,
    /// Concrete to order.
    pub ordered: String,
    /// Trucks.
    pub trucks: u64,
}

/// A setting.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SettingRow {
    /// What it is.
    pub what: String,
    /// The value used.
    pub used: String,
    /// Where that comes from.
    pub source: String,
    /// What else is published.
    pub others: Vec<String>,
}

/// Quantities and cost.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct QuantitiesPart {
    /// Why nothing was counted; empty where something was.
    pub not_counted: String,
    /// The lines.
    pub lines: Vec<QuantityRow>,
    /// The sum: low, likely and high, in dollars.
    pub total_dollars: [f64; 3],
    /// The same in words.
    pub total: String,
    /// What a reader has to know of the counts.
    pub notes: Vec<String>,
}

/// One quantity.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct QuantityRow {
    /// What is counted.
    pub what: String,
    /// How much in all.
    pub total: String,
    /// How much of each length.
    pub by_length: Vec<String>,
    /// Where it comes from.
    pub because: &'static str,
    /// Low, likely and high cost; empty where its cost lies in that of another.
    pub cost: String,
}

/// Something that must be so before a step.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GateRow {
    /// The step it stands before.
    pub before: String,
    /// What must be so.
    pub words: String,
    /// Whether it surely applies; where not, nobody saw what it hangs on.
    pub surely: bool,
    /// Whose word counts.
    pub defer_to: String,
    /// Where it comes from.
    pub source: String,
    /// How well that was seen.
    pub standing: &'static str,
}

impl FoundationReport {
    /// Puts a plan into words.
    pub fn new(
        house: &AsBuilt,
        plan: &FoundationPlan<'_>,
        figures: &retrofit_core::foundation::plan::PlanFigures<'_>,
        provisions: &Provisions,
        info: &ReportInfo,
    ) -> Self {
        let gates = Gates::shipped();
        let deepest = plan
            .pieces
            .iter()
            .map(|piece| piece.section.depth_below_grade)
            .max();
        let (sequence, no_sequence) = rows::sequence(plan, figures.practice);
        let (lift, no_lift) = rows::lift(plan, figures.shoring);
        Self {
            format: FoundationFormat::Foundation1,
            program_version: info.program_version.clone(),
            input_file: info.input_file.clone(),
            input_sha256: info.input_sha256.clone(),
            house: plain(&house.name),
            provisions: provisions.title.clone(),
            lengths: rows::lengths(plan),
            replacing: rows::replacing(plan),
            loads: rows::loads(house, plan),
            not_counted: plan.loads.not_counted.clone(),
            new_work: rows::new_work(plan),
            piers: rows::piers(plan),
            girders: rows::girders(plan),
            girders_not_determined: rows::girders_not_determined(plan),
            piers_not_determined: rows::piers_not_determined(plan),
            shoring: rows::shoring(house, plan),
            lift,
            no_lift,
            sequence,
            no_sequence,
            settings: rows::settings(plan, figures),
            access: rows::access(house, plan),
            quantities: rows::quantities(plan),
            gates: rows::steps(plan)
                .into_iter()
                .flat_map(|step: Step| rows::gates(gates, step, house, deepest))
                .collect(),
            drawings: drawing::foundation(house, plan),
        }
    }

    /// The sections, the temporary support, the order of pours, the calendar and the floor during the lift.
    pub fn drawings(&self) -> &[Sheet] {
        &self.drawings
    }
}
