//! The permit worksheet: a remedy as a plan checker, a crew and an inspector read it.
//!
//! [`Worksheet::new`] puts a remedy into words once, and every format is rendered from it. Nothing is designed or
//! counted here that the core did not design or count.

mod words;

use retrofit_core::check::{Assessment, Group, Ruling, assess, check_named};
use retrofit_core::choice::Choice;
use retrofit_core::house::{AsBuilt, WallLine};
use retrofit_core::measure::Length;
use retrofit_core::prices::{Cents, UnitPrices};
use retrofit_core::provisions::{Provisions, Standing};
use retrofit_core::remedy::{
    AnchorLayout, Assumption, Decline, FloorLayout, LineRemedy, PanelLayout, Part, Remedy,
};
use schemars::JsonSchema;
use serde::Serialize;

use crate::result::wording::{length, plain, quantity, sentence_case};
use crate::result::{Figure, ProvisionsUsed, Report, ReportInfo, Row};

/// The version of the worksheet format.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum Format {
    /// The first published format of a worksheet.
    #[default]
    #[serde(rename = "worksheet-1")]
    Worksheet1,
}

/// A permit worksheet: everything that is shown of a remedy.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Permit worksheet")]
pub struct Worksheet {
    /// The version of this format: always `worksheet-1`.
    pub format: Format,
    /// The version of the program that wrote it.
    pub program_version: String,
    /// The name of the input file.
    pub input_file: String,
    /// The SHA-256 of the input.
    pub input_sha256: String,
    /// The name of the house.
    pub house: String,
    /// The set of provisions.
    pub provisions: ProvisionsUsed,
    /// The answer in a sentence.
    pub answer: String,
    /// Whether every wall line has a layout for everything that it lacks.
    pub is_complete: bool,
    /// What a reader must know before anything else.
    pub warnings: Vec<String>,
    /// What was taken as given, to be verified on site before anything is ordered.
    pub to_verify: Vec<ToVerify>,
    /// Each limit of the provisions and of the foundation, with what the house has.
    pub eligibility: Vec<Row>,
    /// The work, wall line by wall line.
    pub wall_lines: Vec<LineWork>,
    /// Net area of the vents listed along the wall lines, before and after the work.
    pub vent_area: BeforeAfter,
    /// What still falls short once the work is done.
    pub remaining: Vec<Remaining>,
    /// What stays open once the work is done, to be seen in the field.
    pub hidden: Vec<Remaining>,
    /// The checks that the work touches, run again on the house with the work done.
    pub proof: Vec<Proved>,
    /// When somebody has to look before work goes on.
    pub inspections: Vec<Inspection>,
    /// What the work likely costs by the prices it was designed with.
    pub cost: Price,
    /// The figures that the layout and the findings rest on.
    pub figures: Vec<Figure>,
    /// To whom the reader has to turn.
    pub deferral: String,
    /// What to mind in a crawl space.
    pub cautions: Vec<String>,
}

/// Something taken as given.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ToVerify {
    /// The wall line; null for the house.
    pub wall_line: Option<String>,
    /// What to look at.
    pub what: String,
    /// What it was taken as.
    pub taken_as: String,
    /// Why.
    pub because: String,
    /// Its path in the house file.
    pub path: String,
}

/// The work along one wall line.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LineWork {
    /// Its number.
    pub number: String,
    /// Its name.
    pub name: String,
    /// Its length.
    pub length: String,
    /// What is done, in short.
    pub summary: String,
    /// Parts without a layout, and why.
    pub declined: Vec<Declined>,
    /// New anchors.
    pub anchors: Vec<AnchorRow>,
    /// The largest spacing that the anchors keep; null where none was designed by.
    pub anchor_spacing: Option<String>,
    /// Existing anchors, each with whether it is credited.
    pub existing_anchors: Vec<ExistingRow>,
    /// New panels.
    pub panels: Vec<PanelRow>,
    /// What new panels are made of; null where there are none.
    pub panel_make: Option<String>,
    /// Bracing asked for, credited and added; null where none was designed.
    pub bracing: Option<String>,
    /// Existing panels, each with whether it is credited.
    pub existing_panels: Vec<ExistingRow>,
    /// Vents that move.
    pub vents: Vec<String>,
    /// What closes the joist bays and ties the floor.
    pub connections: Vec<String>,
    /// Work on sill and framing.
    pub framing: Vec<String>,
    /// What it likely costs.
    pub cost: String,
}

/// A part without a layout.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Declined {
    /// The part.
    pub part: String,
    /// Why, and who decides.
    pub why: String,
}

/// A new anchor.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct AnchorRow {
    /// Its mark on the drawing.
    pub mark: String,
    /// Its station.
    pub at: String,
    /// Its kind.
    pub kind: String,
    /// Its diameter.
    pub diameter: String,
    /// Its embedment.
    pub embedment: String,
    /// Its washer.
    pub washer: String,
    /// Anything else to mind.
    pub note: String,
}

/// Something that is there.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ExistingRow {
    /// Where.
    pub stations: String,
    /// Whether it is credited, and why not.
    pub credit: String,
    /// Its path in the house file.
    pub path: String,
}

/// A new panel.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PanelRow {
    /// Its mark on the drawing.
    pub mark: String,
    /// Where it begins.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Its length.
    pub length: String,
    /// The height it covers.
    pub height: String,
    /// How its foot is fastened.
    pub foot: String,
}

/// A value before and after the work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BeforeAfter {
    /// Before.
    pub before: String,
    /// After.
    pub after: String,
}

/// What falls short or stays open once the work is done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Remaining {
    /// The wall line; null for the house as a whole.
    pub wall_line: Option<String>,
    /// The check.
    pub title: String,
    /// What was found.
    pub fact: String,
}

/// Checks of one wall line that came to the same when they were run again.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Proved {
    /// The wall line.
    pub wall_line: String,
    /// What they come to.
    pub ruling: Ruling,
    /// The same in words.
    pub ruling_words: String,
    /// The titles of the checks.
    pub checks: Vec<String>,
}

/// An inspection or a hold point.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Inspection {
    /// When.
    pub when: String,
    /// What has to be seen.
    pub what: String,
    /// How well its source was seen.
    pub standing: String,
}

/// What the work likely costs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Price {
    /// The amount.
    pub likely: String,
    /// What it rests on.
    pub note: String,
}

impl Worksheet {
    /// Puts a remedy into words.
    pub fn new(remedy: &Remedy, provisions: &Provisions, prices: &UnitPrices, info: &ReportInfo) -> Self {
        let before = Report::new(&assess(&remedy.taken_as, provisions), info);
        let assessment = assess(&remedy.after, provisions);
        let after = Report::new(&assessment, info);
        let wall_lines: Vec<LineWork> = remedy
            .lines
            .iter()
            .filter_map(|line| LineWork::of(line, &remedy.taken_as, provisions))
            .collect();
        let is_complete = remedy.lines.iter().all(|line| line.declined().is_none());
        Self {
            format: Format::Worksheet1,
            program_version: after.program_version,
            input_file: after.input_file,
            input_sha256: after.input_sha256,
            house: after.house,
            provisions: after.provisions,
            answer: words::answer(remedy),
            is_complete,
            warnings: after.warnings,
            to_verify: remedy
                .assumptions
                .iter()
                .map(|assumption| to_verify(assumption, &remedy.taken_as, provisions))
                .collect(),
            eligibility: eligibility(&before),
            wall_lines,
            vent_area: BeforeAfter {
                before: remedy.taken_as.listed_vent_area().to_string(),
                after: remedy.after.listed_vent_area().to_string(),
            },
            remaining: remaining(&assessment, |ruling| {
                matches!(ruling, Ruling::NotMet | Ruling::Outside)
            }),
            hidden: remaining(&assessment, |ruling| ruling == Ruling::NotDetermined),
            proof: proof(remedy),
            inspections: words::INSPECTIONS
                .iter()
                .map(|(when, what, standing)| Inspection {
                    when: (*when).to_owned(),
                    what: (*what).to_owned(),
                    standing: standing.words().to_owned(),
                })
                .collect(),
            cost: price(remedy, prices),
            figures: after.figures,
            deferral: words::DEFERRAL.to_owned(),
            cautions: after.cautions,
        }
    }
}

fn name_of(house: &AsBuilt, wall_line: usize) -> Option<String> {
    house.wall_lines.get(wall_line).map(|wall| plain(&wall.name))
}

fn to_verify(assumption: &Assumption, house: &AsBuilt, provisions: &Provisions) -> ToVerify {
    let number = assumption.wall_line.and_then(|line| u16::try_from(line).ok());
    ToVerify {
        wall_line: assumption.wall_line.and_then(|line| name_of(house, line)),
        what: sentence_case(assumption.look_at.words()),
        taken_as: quantity(assumption.taken_as, provisions).unwrap_or_default(),
        because: assumption.because.to_owned(),
        path: assumption.look_at.path(number, None),
    }
}

/// The limits of the provisions and what they ask of the foundation: whether the work is worth doing at all.
fn eligibility(report: &Report) -> Vec<Row> {
    let groups = [Group::Applicability.words(), Group::Foundation.words()];
    let of_lines = report.wall_lines.iter().flat_map(|line| &line.findings.rows);
    let mut rows: Vec<Row> = Vec::new();
    for row in report.whole_house.rows.iter().chain(of_lines) {
        let is_wanted = groups.contains(&row.group.as_str());
        let is_told = rows.iter().any(|other| {
            other.check == row.check && other.measured == row.measured && other.ruling == row.ruling
        });
        if is_wanted && !is_told {
            rows.push(row.clone());
        }
    }
    rows
}

fn remaining(assessment: &Assessment<'_>, is_meant: impl Fn(Ruling) -> bool) -> Vec<Remaining> {
    let mut list: Vec<Remaining> = Vec::new();
    for finding in assessment
        .findings
        .iter()
        .filter(|finding| is_meant(finding.outcomes.ruling()))
    {
        let one = Remaining {
            wall_line: finding
                .wall_line
                .and_then(|line| name_of(assessment.house, usize::from(line))),
            title: finding.check().title.to_owned(),
            fact: finding.fact.to_owned(),
        };
        if !list.contains(&one) {
            list.push(one);
        }
    }
    list
}

fn proof(remedy: &Remedy) -> Vec<Proved> {
    let mut list: Vec<Proved> = Vec::new();
    for proof in &remedy.proof {
        let wall_line = name_of(&remedy.taken_as, proof.wall_line).unwrap_or_default();
        let title = check_named(proof.check).map_or(proof.check, |check| check.title);
        match list
            .iter_mut()
            .find(|one| one.wall_line == wall_line && one.ruling == proof.ruling)
        {
            Some(one) if one.checks.iter().any(|other| other == title) => {}
            Some(one) => one.checks.push(title.to_owned()),
            None => list.push(Proved {
                wall_line,
                ruling: proof.ruling,
                ruling_words: sentence_case(proof.ruling.words()),
                checks: vec![title.to_owned()],
            }),
        }
    }
    list
}

fn price(remedy: &Remedy, prices: &UnitPrices) -> Price {
    let likely = remedy.cost();
    let is_complete = remedy.lines.iter().all(|line| line.declined().is_none());
    if !is_complete && likely == Cents::ZERO {
        return Price {
            likely: "Not known".to_owned(),
            note: "Nothing that has a layout costs anything, and what has none is not in it.".to_owned(),
        };
    }
    let is_sourced = |standing: Standing| matches!(standing, Standing::Verified | Standing::Attested);
    let is_weak = prices.rows().iter().any(|row| !is_sourced(row.standing));
    let years = prices.rows().iter().map(|row| row.price_year);
    let (first, last) = (years.clone().min().unwrap_or(0), years.max().unwrap_or(0));
    let note = if is_weak {
        format!(
            "By unit prices of {first} to {last} that are placeholders: good for choosing between layouts, not for an \
             offer. Put in your own with --prices."
        )
    } else {
        format!("By the unit prices given, of {first} to {last}.")
    };
    let note = if is_complete {
        note
    } else {
        format!("Not the whole of the work: what has no layout is not in it. {note}")
    };
    Price {
        likely: likely.to_string(),
        note,
    }
}

impl LineWork {
    fn of(remedy: &LineRemedy, house: &AsBuilt, provisions: &Provisions) -> Option<Self> {
        let wall = house.wall_lines.get(remedy.wall_line)?;
        let mut declined: Vec<Declined> = Vec::new();
        let mut decline = |part: &str, why: Option<&Decline>| {
            let Some(why) = why.map(|why| words::decline(why, provisions)) else {
                return;
            };
            match declined.iter_mut().find(|other| other.why == why) {
                Some(other) => {
                    other.part.push_str(", ");
                    other.part.push_str(part);
                }
                None => declined.push(Declined {
                    part: part.to_owned(),
                    why,
                }),
            }
        };
        decline("anchors", remedy.anchors.declined());
        decline("braced panels", remedy.panels.declined());
        decline("floor connection", remedy.floor.declined());
        let line = u16::try_from(remedy.wall_line).ok();
        let number = (remedy.wall_line + 1).to_string();
        let panels = remedy.panels.work();
        Some(Self {
            name: plain(&wall.name),
            length: wall
                .length
                .value()
                .map_or_else(|| "not known".to_owned(), |l| length(*l)),
            summary: words::summary(remedy),
            declined,
            anchors: anchor_rows(&number, remedy.anchors.work()),
            anchor_spacing: remedy.anchors.work().and_then(|work| work.spacing).map(length),
            existing_anchors: remedy.anchors.work().map_or_else(Vec::new, |work| {
                work.existing
                    .iter()
                    .map(|existing| existing_anchor(existing, line))
                    .collect()
            }),
            panels: panel_rows(&number, panels),
            panel_make: panels
                .filter(|work| !work.added.is_empty())
                .map(|work| words::make(&work.make)),
            bracing: panels.map(words::bracing),
            existing_panels: panels.map_or_else(Vec::new, |work| existing_panels(work, wall, line)),
            vents: panels.map_or_else(Vec::new, |work| words::vents(work, wall)),
            connections: connections(&remedy.floor),
            framing: words::framing(remedy),
            cost: remedy.cost.to_string(),
            number,
        })
    }
}

fn anchor_rows(number: &str, work: Option<&AnchorLayout>) -> Vec<AnchorRow> {
    let asked =
        |value: Option<Length>| value.map_or_else(|| "by the maker's instructions".to_owned(), length);
    let added = work.into_iter().flat_map(|work| &work.added);
    added
        .enumerate()
        .map(|(place, anchor)| AnchorRow {
            mark: format!("A{number}.{}", place + 1),
            at: length(anchor.at),
            kind: anchor.kind.words().to_owned(),
            diameter: anchor.diameter.map_or_else(|| "–".to_owned(), length),
            embedment: if anchor.diameter.is_none() && anchor.embedment.is_none() {
                "–".to_owned()
            } else {
                asked(anchor.embedment)
            },
            washer: anchor
                .washer
                .map_or_else(|| "–".to_owned(), |washer| washer.to_string()),
            note: words::anchor_note(anchor),
        })
        .collect()
}

fn existing_anchor(existing: &retrofit_core::remedy::ExistingAnchor, line: Option<u16>) -> ExistingRow {
    let item = u16::try_from(existing.item).ok();
    let stations: Vec<String> = existing.stations.iter().map(|at| length(*at)).collect();
    ExistingRow {
        stations: match stations.as_slice() {
            [] => "not found".to_owned(),
            [first, .., last] if stations.len() > 3 => {
                format!("{first} to {last}, {} anchors", stations.len())
            }
            stations => stations.join(", "),
        },
        credit: words::credit(existing.credit),
        path: retrofit_core::check::LookAt::Anchors.path(line, None)
            + &item.map_or_else(String::new, |i| format!("[{i}]")),
    }
}

fn existing_panels(work: &PanelLayout, wall: &WallLine, line: Option<u16>) -> Vec<ExistingRow> {
    let records = wall.panels.value().map(Vec::as_slice).unwrap_or_default();
    let rows = work.existing.iter().map(|panel| {
        let stations = records
            .get(panel.item)
            .and_then(retrofit_core::house::Panel::stations);
        ExistingRow {
            stations: stations.map_or_else(String::new, |(from, to)| {
                format!("{} to {}", length(from), length(to))
            }),
            credit: words::panel_credit(panel),
            path: format!(
                "{}[{}]",
                retrofit_core::check::LookAt::Panels.path(line, None),
                panel.item
            ),
        }
    });
    rows.collect()
}

fn panel_rows(number: &str, work: Option<&PanelLayout>) -> Vec<PanelRow> {
    let added = work.into_iter().flat_map(|work| &work.added);
    added
        .enumerate()
        .map(|(place, panel)| PanelRow {
            mark: format!("P{number}.{}", place + 1),
            from: length(panel.from),
            to: length(panel.to),
            length: length(panel.to.saturating_sub(panel.from)),
            height: length(panel.height),
            foot: words::foot(panel),
        })
        .collect()
}

fn connections(floor: &Part<FloorLayout>) -> Vec<String> {
    floor.work().map_or_else(Vec::new, words::connections)
}
