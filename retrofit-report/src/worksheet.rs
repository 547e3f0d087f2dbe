//! The permit worksheet: a remedy as a plan checker, a crew and an inspector read it.
//!
//! [`Worksheet::new`] puts a remedy into words once, and every format is rendered from it. Nothing is designed or
//! counted here that the core did not design or count.

mod side_by_side;
mod words;

pub use side_by_side::{Added, BySet, SideBySide};

use retrofit_core::check::{Assessment, Group, LookAt, Ruling, assess, check_named};
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
    /// What has no layout, and what the house comes to when it is checked again with the work done; may be empty.
    pub outcome: String,
    /// Whether every wall line has a layout for everything that it lacks.
    pub is_complete: bool,
    /// What a reader must know before anything else.
    pub warnings: Vec<String>,
    /// What was taken as given, to be verified on site before anything is ordered.
    pub to_verify: Vec<ToVerify>,
    /// Each limit of the provisions and of the foundation, with what the house has.
    pub eligibility: Vec<LimitRow>,
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

/// Where something holds that is told once.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Places {
    /// The wall lines; none where it is the house as a whole.
    pub wall_lines: Vec<String>,
    /// Whether these are all the wall lines there are.
    pub every_line: bool,
}

/// A limit, and what the house has at the wall lines where it comes to the same.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LimitRow {
    /// Where.
    pub places: Places,
    /// What was found; its station is left out where it differs from wall line to wall line.
    #[serde(flatten)]
    pub row: Row,
}

/// Something taken as given.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ToVerify {
    /// Where.
    pub places: Places,
    /// What to look at.
    pub what: String,
    /// What it was taken as.
    pub taken_as: String,
    /// Why.
    pub because: String,
    /// Its path in the house file, of each wall line.
    pub paths: Vec<String>,
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
    /// New anchors, those together that are the same but for where they stand.
    pub anchors: Vec<AnchorRow>,
    /// The largest spacing that the anchors keep; null where none was designed by.
    pub anchor_spacing: Option<String>,
    /// Existing anchors with whether they are credited, those together of which the same is to be said.
    pub existing_anchors: Vec<ExistingRow>,
    /// New panels.
    pub panels: Vec<PanelRow>,
    /// What new panels are made of; null where there are none.
    pub panel_make: Option<String>,
    /// Bracing asked for, credited and added; null where none was designed.
    pub bracing: Option<String>,
    /// Existing panels with whether they are credited, those together of which the same is to be said.
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

/// New anchors that are the same but for where they stand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct AnchorRow {
    /// Each of them, from left to right.
    pub placed: Vec<PlacedAnchor>,
    /// Their kind.
    pub kind: String,
    /// Their diameter.
    pub diameter: String,
    /// Their embedment.
    pub embedment: String,
    /// Their washers.
    pub washer: String,
    /// Anything else to mind.
    pub note: String,
}

/// Where one new anchor stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlacedAnchor {
    /// Its mark in the schedules.
    pub mark: String,
    /// Its station.
    pub at: String,
}

/// What is there and is credited, or not, for the same reason.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ExistingRow {
    /// Where.
    pub stations: String,
    /// Whether it is credited, and why not.
    pub credit: String,
    /// Its path in the house file; of several, the path of the first and the places of the others.
    pub path: String,
}

/// A new panel.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PanelRow {
    /// Its mark in the schedules.
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
    /// Where.
    pub places: Places,
    /// The check.
    pub title: String,
    /// What was found.
    pub fact: String,
}

/// Checks that came to the same on the same wall lines when they were run again.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Proved {
    /// Where.
    pub places: Places,
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
        let is_complete = remedy.is_complete();
        Self {
            format: Format::Worksheet1,
            program_version: after.program_version,
            input_file: after.input_file,
            input_sha256: after.input_sha256,
            house: after.house,
            provisions: after.provisions,
            answer: words::answer(remedy),
            outcome: words::outcome(remedy),
            is_complete,
            warnings: after.warnings,
            to_verify: to_verify(&remedy.assumptions, &remedy.taken_as, provisions),
            eligibility: eligibility(&before, &remedy.taken_as),
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

impl Places {
    fn add(&mut self, house: &AsBuilt, wall_line: Option<usize>) {
        let name = wall_line.and_then(|line| name_of(house, line));
        if let Some(name) = name
            && !self.wall_lines.contains(&name)
        {
            self.wall_lines.push(name);
        }
        self.every_line = self.wall_lines.len() > 1 && self.wall_lines.len() == house.wall_lines.len();
    }

    /// The places in words, for formats in which every name is plain text.
    pub fn words(&self) -> String {
        match self.wall_lines.as_slice() {
            [] => "the house".to_owned(),
            _ if self.every_line => "every wall line".to_owned(),
            names => names.join(", "),
        }
    }
}

fn to_verify(assumptions: &[Assumption], house: &AsBuilt, provisions: &Provisions) -> Vec<ToVerify> {
    let mut list: Vec<ToVerify> = Vec::new();
    for assumption in assumptions {
        let number = assumption.wall_line.and_then(|line| u16::try_from(line).ok());
        let what = sentence_case(assumption.look_at.words());
        let taken_as = quantity(assumption.taken_as, provisions).unwrap_or_default();
        let path = assumption.look_at.path(number, None);
        let same = list.iter_mut().find(|other| {
            (other.places.wall_lines.is_empty() == assumption.wall_line.is_none())
                && other.what == what
                && other.taken_as == taken_as
                && other.because == assumption.because
        });
        if let Some(same) = same {
            same.places.add(house, assumption.wall_line);
            same.paths.push(path);
        } else {
            let mut places = Places::default();
            places.add(house, assumption.wall_line);
            list.push(ToVerify {
                places,
                what,
                taken_as,
                because: assumption.because.to_owned(),
                paths: vec![path],
            });
        }
    }
    list
}

/// The limits of the provisions and what they ask of the foundation: whether the work is worth doing at all.
fn eligibility(report: &Report, house: &AsBuilt) -> Vec<LimitRow> {
    let of_house = report.whole_house.rows.iter().map(|row| (None, row));
    let of_lines = report.wall_lines.iter().enumerate();
    let of_lines =
        of_lines.flat_map(|(line, told)| told.findings.rows.iter().map(move |row| (Some(line), row)));
    let rows: Vec<(Option<usize>, &Row)> = of_house.chain(of_lines).collect();
    let mut list: Vec<LimitRow> = Vec::new();
    for group in [Group::Applicability.words(), Group::Foundation.words()] {
        for (line, row) in rows.iter().filter(|(_, row)| row.group == group) {
            let same = list.iter_mut().find(|other| {
                other.places.wall_lines.is_empty() == line.is_none()
                    && other.row.check == row.check
                    && other.row.measured == row.measured
                    && other.row.ruling == row.ruling
            });
            if let Some(same) = same {
                same.places.add(house, *line);
                if same.row.station != row.station {
                    same.row.station = None;
                }
            } else {
                let mut places = Places::default();
                places.add(house, *line);
                list.push(LimitRow {
                    places,
                    row: (*row).clone(),
                });
            }
        }
    }
    list
}

fn remaining(assessment: &Assessment<'_>, is_meant: impl Fn(Ruling) -> bool) -> Vec<Remaining> {
    let mut list: Vec<Remaining> = Vec::new();
    for finding in assessment
        .findings
        .iter()
        .filter(|finding| is_meant(finding.outcomes.ruling()))
    {
        let title = finding.check().title;
        let wall_line = finding.wall_line.map(usize::from);
        let same = list.iter_mut().find(|other| {
            (other.places.wall_lines.is_empty() == wall_line.is_none())
                && other.title == title
                && other.fact == finding.fact
        });
        if let Some(same) = same {
            same.places.add(assessment.house, wall_line);
        } else {
            let mut places = Places::default();
            places.add(assessment.house, wall_line);
            list.push(Remaining {
                places,
                title: title.to_owned(),
                fact: finding.fact.to_owned(),
            });
        }
    }
    list
}

fn proof(remedy: &Remedy) -> Vec<Proved> {
    let mut by_line: Vec<(usize, Ruling, Vec<String>)> = Vec::new();
    for proof in &remedy.proof {
        let title = check_named(proof.check).map_or(proof.check, |check| check.title);
        let same = by_line
            .iter_mut()
            .find(|(line, ruling, _)| (*line, *ruling) == (proof.wall_line, proof.ruling));
        match same {
            Some((.., checks)) if checks.iter().any(|other| other == title) => {}
            Some((.., checks)) => checks.push(title.to_owned()),
            None => by_line.push((proof.wall_line, proof.ruling, vec![title.to_owned()])),
        }
    }
    let mut list: Vec<Proved> = Vec::new();
    for (line, ruling, checks) in by_line {
        let same = list
            .iter_mut()
            .find(|other| other.ruling == ruling && other.checks == checks);
        if let Some(same) = same {
            same.places.add(&remedy.taken_as, Some(line));
        } else {
            let mut places = Places::default();
            places.add(&remedy.taken_as, Some(line));
            list.push(Proved {
                places,
                ruling,
                ruling_words: sentence_case(ruling.words()),
                checks,
            });
        }
    }
    list
}

fn price(remedy: &Remedy, prices: &UnitPrices) -> Price {
    let likely = remedy.cost();
    let is_complete = remedy.is_complete();
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
            existing_anchors: existing_anchors(remedy.anchors.work(), line),
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
    let mut rows: Vec<AnchorRow> = Vec::new();
    for (place, anchor) in added.enumerate() {
        let placed = PlacedAnchor {
            mark: format!("A{number}.{}", place + 1),
            at: length(anchor.at),
        };
        let row = AnchorRow {
            placed: Vec::new(),
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
        };
        let is_same = |other: &AnchorRow| {
            let placed = other.placed.clone();
            *other
                == AnchorRow {
                    placed,
                    ..row.clone()
                }
        };
        match rows.iter_mut().find(|other| is_same(other)) {
            Some(other) => other.placed.push(placed),
            None => rows.push(AnchorRow {
                placed: vec![placed],
                ..row
            }),
        }
    }
    rows
}

/// Brings together the items of which the same is to be said: their stations, what is said, their places.
fn told_together(items: impl Iterator<Item = (String, String, usize)>, list: &str) -> Vec<ExistingRow> {
    let mut rows: Vec<ExistingRow> = Vec::new();
    for (stations, credit, item) in items {
        match rows.iter_mut().find(|row| row.credit == credit) {
            Some(row) => {
                row.stations.push_str("; ");
                row.stations.push_str(&stations);
                row.path = format!("{}, [{item}]", row.path);
            }
            None => rows.push(ExistingRow {
                stations,
                credit,
                path: format!("{list}[{item}]"),
            }),
        }
    }
    rows
}

fn existing_anchors(work: Option<&AnchorLayout>, line: Option<u16>) -> Vec<ExistingRow> {
    let items = work.into_iter().flat_map(|work| &work.existing).map(|existing| {
        let stations: Vec<String> = existing.stations.iter().map(|at| length(*at)).collect();
        let stations = match stations.as_slice() {
            [] => "not found".to_owned(),
            [first, .., last] if stations.len() > 3 => {
                format!("{first} to {last}, {} anchors", stations.len())
            }
            stations => stations.join(", "),
        };
        (stations, words::credit(existing.credit), existing.item)
    });
    told_together(items, &LookAt::Anchors.path(line, None))
}

fn existing_panels(work: &PanelLayout, wall: &WallLine, line: Option<u16>) -> Vec<ExistingRow> {
    let records = wall.panels.listed();
    let items = work.existing.iter().map(|panel| {
        let stations = records
            .get(panel.item)
            .and_then(retrofit_core::house::Panel::stations)
            .map_or_else(
                || "not found".to_owned(),
                |(from, to)| format!("{} to {}", length(from), length(to)),
            );
        (stations, words::panel_credit(panel), panel.item)
    });
    told_together(items, &LookAt::Panels.path(line, None))
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
