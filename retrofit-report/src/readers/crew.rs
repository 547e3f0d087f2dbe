//! Sheets for the crew: where each piece goes along each wall line, what to carry, how the sheets are cut, in what order
//! the work is done and where it has to wait until somebody has looked.

use retrofit_core::choice::Choice;
use retrofit_core::house::{AnchorKind, PanelFoot, Washer};
use retrofit_core::measure::Length;
use retrofit_core::prices::Item;
use retrofit_core::remedy::{
    AnchorLayout, Credit, FloorLayout, Framing, LineRemedy, NewAnchor, PanelLayout, PanelMake,
};
use retrofit_core::takeoff::{Amount, Article, RodLength, SheetList};
use schemars::JsonSchema;
use serde::Serialize;

use super::HouseResult;
use super::amount;
use super::owner::{HeadRow, head, observation};
use crate::language::{LanguageError, Words};
use crate::result::wording;

/// The version of the format of crew sheets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum Format {
    /// The first published format.
    #[default]
    #[serde(rename = "crew-sheets-1")]
    CrewSheets1,
}

/// The sheets for the crew.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(title = "Crew sheets")]
pub struct CrewSheets {
    /// The version of this format: always `crew-sheets-1`.
    pub format: Format,
    /// The tag of the language.
    pub language: String,
    /// The name of the house.
    pub house: String,
    /// For whom the sheets are.
    pub kind: String,
    /// What takes a reader of the page by ear to the answer.
    pub skip: String,
    /// By which rules, when and by whom.
    pub head: Vec<HeadRow>,
    /// What there is to do, in a sentence.
    pub headline: String,
    /// What has to be so before anybody goes under.
    pub before: Notes,
    /// What was taken as given, and has to be seen before anything is cut or ordered.
    pub verify: Notes,
    /// What to carry in.
    pub carry: Carry,
    /// A sheet for each wall line.
    pub lines: Vec<CrewLine>,
    /// How the sheets are cut.
    pub cutting: Cutting,
    /// The order of the work, with hold points.
    pub order: Order,
    /// What the sheets are and are not.
    pub about: Notes,
}

/// Sentences under a heading.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Notes {
    /// The heading.
    pub heading: String,
    /// The sentences.
    pub notes: Vec<String>,
}

/// What to carry in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Carry {
    /// The heading.
    pub heading: String,
    /// The columns: how many, and of what.
    pub columns: [String; 2],
    /// The rows.
    pub rows: Vec<CarryRow>,
    /// Tools, in a sentence.
    pub tools: String,
}

/// A row of what to carry in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CarryRow {
    /// How many or how much.
    pub amount: String,
    /// Of what.
    pub what: String,
}

/// The sheet for one wall line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CrewLine {
    /// Its number.
    pub number: String,
    /// Its name.
    pub name: String,
    /// Its length, and where its stations count from.
    pub length: String,
    /// Parts without a layout: nothing is done there.
    pub no_layout: Vec<String>,
    /// What there is to do where there is nothing; empty where there is something.
    pub nothing: String,
    /// The work, part by part.
    pub parts: Vec<CrewPart>,
}

/// A part of the work along a wall line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CrewPart {
    /// The heading.
    pub heading: String,
    /// What it is made of and how it is fastened.
    pub notes: Vec<String>,
    /// Where each piece goes.
    pub marks: Vec<Mark>,
}

/// Where one piece goes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Mark {
    /// Its mark on the drawings; may be empty.
    pub mark: String,
    /// Its station, or that at which it begins.
    pub at: String,
    /// The station at which it ends; may be empty.
    pub to: String,
    /// Its size or what it is; may be empty.
    pub what: String,
}

/// How the sheets are cut.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Cutting {
    /// The heading.
    pub heading: String,
    /// How the list is read.
    pub note: String,
    /// The columns.
    pub columns: [String; 4],
    /// The sheets.
    pub sheets: Vec<CutSheet>,
}

/// One sheet and what is cut from it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CutSheet {
    /// Its number, size and make.
    pub title: String,
    /// The pieces.
    pub pieces: Vec<CutPiece>,
}

/// A piece of a sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CutPiece {
    /// Its side along the sheet.
    pub along: String,
    /// Its side across the sheet.
    pub across: String,
    /// The wall line it goes to.
    pub wall_line: String,
    /// The stations it covers.
    pub stations: String,
}

/// The order of the work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Order {
    /// The heading.
    pub heading: String,
    /// Where the order comes from.
    pub note: String,
    /// The word that stands before a hold point.
    pub hold_word: String,
    /// The steps.
    pub steps: Vec<OrderStep>,
}

/// A step of the work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OrderStep {
    /// What is done.
    pub step: String,
    /// What somebody has to see before work goes on; empty where nobody has to.
    pub hold: String,
}

impl CrewSheets {
    /// Puts the work of a result on sheets for the crew.
    pub fn new(result: &HouseResult, words: &Words) -> Result<Self, LanguageError> {
        let lines = result
            .remedy
            .lines
            .iter()
            .map(|line| CrewLine::of(line, result, words))
            .collect::<Result<_, _>>()?;
        Ok(Self {
            format: Format::CrewSheets1,
            language: words.language().tag().to_owned(),
            house: result.report.house.clone(),
            kind: words.term("crew-kind")?,
            skip: words.term("skip-to-answer")?,
            head: head(result, words)?,
            headline: headline(result, words)?,
            before: notes(
                "crew-before",
                &[
                    "crew-before-stay-out",
                    "crew-before-partner",
                    "crew-before-permit",
                ],
                words,
            )?,
            verify: verify(result, words)?,
            carry: carry(result, words)?,
            lines,
            cutting: cutting(result, words)?,
            order: order(result, words)?,
            about: notes("crew-about", &["crew-about-is", "deferral"], words)?,
        })
    }
}

fn notes(heading: &str, keys: &[&str], words: &Words) -> Result<Notes, LanguageError> {
    Ok(Notes {
        heading: words.term(heading)?,
        notes: keys.iter().map(|key| words.term(key)).collect::<Result<_, _>>()?,
    })
}

/// What is there to do, over all wall lines.
struct Work<'r> {
    result: &'r HouseResult,
}

impl<'r> Work<'r> {
    fn anchors(&self) -> impl Iterator<Item = &'r NewAnchor> {
        let lines = self.result.remedy.lines.iter();
        lines
            .filter_map(|line| line.anchors.work())
            .flat_map(|work| &work.added)
    }

    fn panels(&self) -> impl Iterator<Item = &'r PanelLayout> {
        let lines = self.result.remedy.lines.iter();
        lines.filter_map(|line| line.panels.work())
    }

    fn floors(&self) -> impl Iterator<Item = &'r FloorLayout> {
        let lines = self.result.remedy.lines.iter();
        lines.filter_map(|line| line.floor.work())
    }

    fn added_panels(&self) -> usize {
        self.panels().map(|work| work.added.len()).sum()
    }

    fn clips(&self) -> usize {
        self.floors().map(|work| work.clips.len()).sum()
    }

    fn is_any(&self) -> bool {
        self.result.remedy.lines.iter().any(has_work)
    }
}

fn has_work(line: &LineRemedy) -> bool {
    let mends = |work: &AnchorLayout| {
        !work.added.is_empty()
            || work
                .existing
                .iter()
                .any(|one| matches!(one.credit, Credit::Mended { .. }))
    };
    !line.sill.is_empty()
        || !line.framing.is_empty()
        || line.anchors.work().is_some_and(mends)
        || line.panels.work().is_some_and(|work| {
            !work.added.is_empty() || work.existing.iter().any(|panel| panel.gets_holes.is_some())
        })
        || line
            .floor
            .work()
            .is_some_and(|work| work.rim.is_some() || !work.clips.is_empty())
}

fn headline(result: &HouseResult, words: &Words) -> Result<String, LanguageError> {
    let work = Work { result };
    if !work.is_any() {
        return words.term("crew-nothing-anywhere");
    }
    words.say(
        "crew-headline",
        &[
            ("anchors", work.anchors().count().into()),
            ("panels", work.added_panels().into()),
            ("clips", work.clips().into()),
        ],
    )
}

fn verify(result: &HouseResult, words: &Words) -> Result<Notes, LanguageError> {
    let mut looks = Vec::new();
    for assumption in &result.remedy.assumptions {
        let look = words.term(&observation(assumption.look_at))?;
        if !looks.contains(&look) {
            looks.push(look);
        }
    }
    let mut notes = vec![words.term(if looks.is_empty() {
        "crew-verify-nothing"
    } else {
        "crew-verify-these"
    })?];
    notes.extend(looks.iter().map(|look| wording::sentence_case(look)));
    Ok(Notes {
        heading: words.term("crew-verify")?,
        notes,
    })
}

fn carry(result: &HouseResult, words: &Words) -> Result<Carry, LanguageError> {
    let articles = result.pieces.articles();
    let is_weighed = |nail| {
        articles
            .iter()
            .any(|row| row.article == Article::NailsByThePound(nail))
    };
    let mut rows = Vec::new();
    for row in &articles {
        // Nails are carried by the pound, and only counted where nobody knows what they weigh.
        if matches!(row.article, Article::PanelNails(Some(nail)) if is_weighed(nail)) {
            continue;
        }
        let Some(what) = article(row.article, words)? else {
            continue;
        };
        let amount = match row.amount {
            Amount::Pieces(count) => count.to_string(),
            Amount::AtLeast(count) => words.say("crew-at-least", &[("count", count.into())])?,
            Amount::Pounds(pounds) => words.say("crew-pounds", &[("count", pounds.into())])?,
            Amount::Run(run) => wording::length(run),
            Amount::Surface(_) => continue,
            Amount::Unknown => words.term("crew-amount-unknown")?,
        };
        rows.push(CarryRow { amount, what });
    }
    Ok(Carry {
        heading: words.term("crew-carry")?,
        columns: [words.term("crew-how-many")?, words.term("crew-of-what")?],
        rows,
        tools: words.term("crew-tools")?,
    })
}

/// What is carried in, in words; nothing for work that takes nothing along.
fn article(article: Article, words: &Words) -> Result<Option<String>, LanguageError> {
    let item = |item: Item| words.term(&format!("crew-item-{}", item.spelling().replace('_', "-")));
    Ok(Some(match article {
        Article::Anchor { diameter, rod, .. } => {
            let mut what = item(article.item())?;
            if let Some(diameter) = diameter {
                what.push_str(", ");
                what.push_str(&words.say("crew-diameter", &[("length", wording::length(diameter).into())])?);
            }
            if let Some(rod) = rod {
                what.push_str(", ");
                what.push_str(&match rod {
                    RodLength::AtLeast(length) => {
                        words.say("crew-rod", &[("length", wording::length(length).into())])?
                    }
                    RodLength::ByTheMaker => words.term("crew-rod-by-maker")?,
                    RodLength::NeedsSillThickness => words.term("crew-rod-after-measuring")?,
                });
            }
            what
        }
        Article::Washer(washer) | Article::WasherUnderOldNut(washer) => washer_words(washer, words)?,
        Article::Adhesive { milliliters } => {
            words.say("crew-adhesive", &[("milliliters", milliliters.into())])?
        }
        Article::Sheet {
            sheathing,
            thickness,
            size,
        } => words.say(
            "crew-sheet",
            &[
                ("size", size.to_string().into()),
                ("make", sheathing_words(sheathing, thickness, words)?.into()),
            ],
        )?,
        Article::PanelNails(Some(nail)) | Article::NailsByThePound(nail) => {
            words.say("crew-nails", &[("nail", nail.to_string().into())])?
        }
        Article::PanelNails(None) | Article::SillBlockNails => words.term("crew-nails-by-rules")?,
        Article::SillReplacement { thickness } => {
            words.say("crew-sill", &[("length", wording::length(thickness).into())])?
        }
        Article::JointBlocking
        | Article::SillBlock
        | Article::FramingClip
        | Article::JoistBlock
        | Article::EndJoist
        | Article::TopPlate
        | Article::PlateStrap
        | Article::SolidBlocking => item(article.item())?,
        Article::NutTightened
        | Article::Sheathing { .. }
        | Article::PanelStart
        | Article::SheetWaste { .. }
        | Article::VentilationHole(_)
        | Article::LowCrawl
        | Article::PanelRemoval
        | Article::VentMove
        | Article::TopPlateNailing => return Ok(None),
    }))
}

fn washer_words(washer: Washer, words: &Words) -> Result<String, LanguageError> {
    words.say("crew-washer", &[("washer", washer.to_string().into())])
}

fn sheathing_words(
    sheathing: retrofit_core::house::Sheathing,
    thickness: Option<Length>,
    words: &Words,
) -> Result<String, LanguageError> {
    let make = words.term(&format!("choice-Sheathing-{}", sheathing.spelling()))?;
    match thickness {
        Some(thickness) => words.say(
            "crew-make",
            &[
                ("make", make.into()),
                ("length", wording::length(thickness).into()),
            ],
        ),
        None => Ok(make),
    }
}

impl CrewLine {
    fn of(line: &LineRemedy, result: &HouseResult, words: &Words) -> Result<Self, LanguageError> {
        let wall = result.house.wall_lines.get(line.wall_line);
        let number = (line.wall_line + 1).to_string();
        let mut no_layout = Vec::new();
        for (part, declined) in [
            ("crew-anchors", line.anchors.declined()),
            ("crew-panels", line.panels.declined()),
            ("crew-floor", line.floor.declined()),
        ] {
            if declined.is_some() {
                let part = words.term(part)?;
                no_layout.push(words.say("crew-no-layout", &[("part", part.into())])?);
            }
        }
        let mut parts = Vec::new();
        parts.extend(sill_and_framing(line, words)?);
        parts.extend(
            line.anchors
                .work()
                .map(|work| anchors(work, &number, words))
                .transpose()?
                .into_iter()
                .flatten(),
        );
        if let Some(work) = line.panels.work() {
            parts.extend(vents(
                work,
                wall.map(|wall| wall.openings.listed()).unwrap_or_default(),
                words,
            )?);
            parts.extend(panels(work, &number, words)?);
        }
        if let Some(work) = line.floor.work() {
            parts.extend(floor(work, words)?);
        }
        let length = match wall.and_then(|wall| wall.length.value()) {
            Some(length) => words.say(
                "crew-length",
                &[("length", words.length_to_act_on(*length)?.into())],
            )?,
            None => words.term("crew-length-unknown")?,
        };
        let name = wall.map(|wall| wording::plain(&wall.name)).unwrap_or_default();
        Ok(Self {
            name: amount::side_name(&name, words)?,
            length,
            nothing: if parts.is_empty() && no_layout.is_empty() {
                words.term("crew-nothing")?
            } else {
                String::new()
            },
            number,
            no_layout,
            parts,
        })
    }
}

fn mark(mark: String, at: Length, words: &Words) -> Result<Mark, LanguageError> {
    Ok(Mark {
        mark,
        at: words.length_to_act_on(at)?,
        to: String::new(),
        what: String::new(),
    })
}

fn stretch(name: String, from: Length, to: Length, words: &Words) -> Result<Mark, LanguageError> {
    Ok(Mark {
        to: words.length_to_act_on(to)?,
        ..mark(name, from, words)?
    })
}

fn sill_and_framing(line: &LineRemedy, words: &Words) -> Result<Option<CrewPart>, LanguageError> {
    let mut marks = Vec::new();
    for work in &line.sill {
        let what = words.say("crew-sill", &[("length", wording::length(work.thickness).into())])?;
        marks.push(Mark {
            what,
            ..stretch(String::new(), work.from, work.to, words)?
        });
    }
    for work in &line.framing {
        let what = words.term(match work.what {
            Framing::NailTopPlates => "crew-nail-top-plates",
            Framing::AddTopPlate => "crew-add-top-plate",
            Framing::TieSplices => "crew-tie-splices",
            Framing::SolidBlocking => "crew-solid-blocking",
        })?;
        marks.push(Mark {
            what,
            ..stretch(String::new(), work.from, work.to, words)?
        });
    }
    if marks.is_empty() {
        return Ok(None);
    }
    Ok(Some(CrewPart {
        heading: words.term("crew-framing")?,
        notes: Vec::new(),
        marks,
    }))
}

/// New anchors, those together that are the same but for where they stand, and anchors that are mended.
fn anchors(work: &AnchorLayout, number: &str, words: &Words) -> Result<Vec<CrewPart>, LanguageError> {
    let mut parts: Vec<CrewPart> = Vec::new();
    for (place, anchor) in work.added.iter().enumerate() {
        let placed = mark(format!("A{number}.{}", place + 1), anchor.at, words)?;
        let heading = words.term("crew-new-anchors")?;
        let notes = anchor_notes(anchor, words)?;
        match parts.iter_mut().find(|part| part.notes == notes) {
            Some(part) => part.marks.push(placed),
            None => parts.push(CrewPart {
                heading,
                notes,
                marks: vec![placed],
            }),
        }
    }
    let mut mended = Vec::new();
    for existing in &work.existing {
        let Credit::Mended { washer, tighten } = existing.credit else {
            continue;
        };
        let mut what = Vec::new();
        if let Some(washer) = washer {
            what.push(washer_words(washer, words)?);
        }
        if tighten {
            what.push(words.term("crew-tighten")?);
        }
        for at in &existing.stations {
            mended.push(Mark {
                what: what.join(", "),
                ..mark(String::new(), *at, words)?
            });
        }
    }
    if !mended.is_empty() {
        parts.push(CrewPart {
            heading: words.term("crew-old-anchors")?,
            notes: Vec::new(),
            marks: mended,
        });
    }
    Ok(parts)
}

fn anchor_notes(anchor: &NewAnchor, words: &Words) -> Result<Vec<String>, LanguageError> {
    let length = |key: &str, length: Length| words.say(key, &[("length", wording::length(length).into())]);
    let mut notes = vec![wording::sentence_case(
        &words.term(&format!("choice-AnchorKind-{}", anchor.kind.spelling()))?,
    )];
    if let Some(diameter) = anchor.diameter {
        notes.push(wording::sentence_case(&length("crew-diameter", diameter)?));
    }
    match anchor.embedment {
        Some(embedment) => notes.push(length("crew-embedment", embedment)?),
        None if anchor.diameter.is_some() => notes.push(words.term("crew-embedment-by-maker")?),
        None => {}
    }
    if let Some(edge) = anchor.edge_distance {
        notes.push(length("crew-edge", edge)?);
    }
    if let Some(washer) = anchor.washer {
        notes.push(wording::sentence_case(&washer_words(washer, words)?));
    }
    if anchor.tight_drilling {
        notes.push(words.term("crew-tight-drilling")?);
    }
    Ok(notes)
}

fn vents(
    work: &PanelLayout,
    openings: &[retrofit_core::house::Opening],
    words: &Words,
) -> Result<Option<CrewPart>, LanguageError> {
    let mut marks = Vec::new();
    for vent in &work.moved_vents {
        let Some(opening) = openings.get(vent.opening) else {
            continue;
        };
        let what = match vent.to {
            Some((from, to)) => words.say(
                "crew-vent-moved",
                &[
                    ("from", words.length_to_act_on(from)?.into()),
                    ("to", words.length_to_act_on(to)?.into()),
                ],
            )?,
            None => words.term("crew-vent-closed")?,
        };
        marks.push(Mark {
            what,
            ..stretch(String::new(), opening.from, opening.to, words)?
        });
    }
    if marks.is_empty() {
        return Ok(None);
    }
    Ok(Some(CrewPart {
        heading: words.term("crew-vents")?,
        notes: vec![words.term("crew-vents-first")?],
        marks,
    }))
}

fn panels(work: &PanelLayout, number: &str, words: &Words) -> Result<Vec<CrewPart>, LanguageError> {
    let mut parts = Vec::new();
    if !work.added.is_empty() {
        let mut marks = Vec::new();
        for (place, panel) in work.added.iter().enumerate() {
            let foot = match panel.foot {
                PanelFoot::SillBlocks => {
                    words.say("crew-sill-blocks", &[("count", panel.sill_blocks.into())])?
                }
                foot => words.term(&format!("choice-PanelFoot-{}", foot.spelling()))?,
            };
            let what = words.say(
                "crew-panel-size",
                &[
                    (
                        "length",
                        wording::length(panel.to.saturating_sub(panel.from)).into(),
                    ),
                    ("height", wording::length(panel.height).into()),
                    ("foot", foot.into()),
                ],
            )?;
            marks.push(Mark {
                what,
                ..stretch(format!("P{number}.{}", place + 1), panel.from, panel.to, words)?
            });
        }
        parts.push(CrewPart {
            heading: words.term("crew-new-panels")?,
            notes: nailing(&work.make, words)?,
            marks,
        });
    }
    let drilled = work.existing.iter().filter_map(|panel| panel.gets_holes);
    let notes = drilled
        .map(|holes| {
            words.say(
                "crew-holes-in-old-panel",
                &[
                    ("count", holes.count.into()),
                    ("length", wording::length(holes.diameter).into()),
                ],
            )
        })
        .collect::<Result<Vec<_>, _>>()?;
    if !notes.is_empty() {
        parts.push(CrewPart {
            heading: words.term("crew-old-panels")?,
            notes,
            marks: Vec::new(),
        });
    }
    Ok(parts)
}

fn nailing(make: &PanelMake, words: &Words) -> Result<Vec<String>, LanguageError> {
    let mut notes = vec![wording::sentence_case(&sheathing_words(
        make.sheathing,
        make.thickness,
        words,
    )?)];
    if let Some(nail) = make.nail {
        notes.push(wording::sentence_case(
            &words.say("crew-nails", &[("nail", nail.to_string().into())])?,
        ));
    }
    for (key, length) in [
        ("crew-edge-nailing", make.edge_nailing),
        ("crew-field-nailing", make.field_nailing),
        ("crew-vent-holes", make.vent_holes),
    ] {
        if let Some(length) = length {
            notes.push(words.say(key, &[("length", wording::length(length).into())])?);
        }
    }
    if let Some(nails) = make.nails_per_sill_block {
        notes.push(words.say("crew-nails-per-block", &[("count", nails.into())])?);
    }
    notes.push(words.term("crew-nails-flush")?);
    Ok(notes)
}

fn floor(work: &FloorLayout, words: &Words) -> Result<Vec<CrewPart>, LanguageError> {
    let mut parts = Vec::new();
    if let Some(rim) = &work.rim {
        let marks = rim
            .blocks
            .iter()
            .map(|at| mark(String::new(), *at, words))
            .collect::<Result<Vec<_>, _>>()?;
        parts.push(CrewPart {
            heading: words.term(if marks.is_empty() {
                "crew-end-joist"
            } else {
                "crew-joist-blocks"
            })?,
            notes: vec![words.term(if marks.is_empty() {
                "crew-end-joist-note"
            } else {
                "crew-joist-blocks-note"
            })?],
            marks,
        });
    }
    if !work.clips.is_empty() {
        let marks = work
            .clips
            .iter()
            .map(|at| mark(String::new(), *at, words))
            .collect::<Result<Vec<_>, _>>()?;
        let mut notes = vec![words.term("crew-clips-note")?];
        if let Some(spacing) = work.clip_spacing {
            notes.push(words.say(
                "crew-clip-spacing",
                &[("length", wording::length(spacing).into())],
            )?);
        }
        parts.push(CrewPart {
            heading: words.term("crew-clips")?,
            notes,
            marks,
        });
    }
    Ok(parts)
}

fn cutting(result: &HouseResult, words: &Words) -> Result<Cutting, LanguageError> {
    let mut sheets = Vec::new();
    for list in &result.pieces.sheets {
        for (number, cut) in (1_usize..).zip(&list.cutting.sheets) {
            let title = words.say(
                "crew-sheet-number",
                &[
                    ("number", number.to_string().into()),
                    ("size", cut.sheet.to_string().into()),
                    (
                        "make",
                        sheathing_words(list.sheathing, list.thickness, words)?.into(),
                    ),
                ],
            )?;
            let pieces = cut
                .pieces
                .iter()
                .map(|placed| {
                    let piece = list.pieces.get(placed.what);
                    let wall = piece.and_then(|piece| result.house.wall_lines.get(piece.wall_line));
                    let name = wall.map(|wall| wording::plain(&wall.name)).unwrap_or_default();
                    Ok(CutPiece {
                        along: wording::length(placed.size.along),
                        across: wording::length(placed.size.across),
                        wall_line: amount::side_name(&name, words)?,
                        stations: stations(list, placed.what, words)?,
                    })
                })
                .collect::<Result<Vec<_>, LanguageError>>()?;
            sheets.push(CutSheet { title, pieces });
        }
    }
    Ok(Cutting {
        heading: words.term("crew-cutting")?,
        note: words.term(if sheets.is_empty() {
            "crew-cutting-nothing"
        } else {
            "crew-cutting-note"
        })?,
        columns: [
            words.term("crew-cut-along")?,
            words.term("crew-cut-across")?,
            words.term("crew-cut-wall-line")?,
            words.term("crew-cut-stations")?,
        ],
        sheets,
    })
}

fn stations(list: &SheetList, piece: usize, words: &Words) -> Result<String, LanguageError> {
    list.pieces.get(piece).map_or_else(
        || Ok(String::new()),
        |piece| {
            words.say(
                "crew-from-to",
                &[
                    ("from", wording::length(piece.from).into()),
                    ("to", wording::length(piece.to).into()),
                ],
            )
        },
    )
}

/// The order of the work, as far as there is any, with what has to be seen before it goes on.
fn order(result: &HouseResult, words: &Words) -> Result<Order, LanguageError> {
    let work = Work { result };
    let lines = &result.remedy.lines;
    let any = |is: fn(&LineRemedy) -> bool| lines.iter().any(is);
    let is_adhesive = work.anchors().any(|anchor| anchor.kind == AnchorKind::Adhesive);
    let moves_vents = work.panels().any(|panels| !panels.moved_vents.is_empty());
    let steps = [
        (true, "crew-step-verify", Some("crew-hold-verify")),
        (any(|line| !line.sill.is_empty()), "crew-step-sill", None),
        (any(|line| !line.framing.is_empty()), "crew-step-framing", None),
        (moves_vents, "crew-step-vents", Some("crew-hold-vents")),
        (
            work.anchors().next().is_some(),
            "crew-step-anchors",
            is_adhesive.then_some("crew-hold-adhesive"),
        ),
        (
            work.floors().any(|floor| floor.rim.is_some()),
            "crew-step-blocks",
            None,
        ),
        (work.clips() > 0, "crew-step-clips", None),
        (work.added_panels() > 0, "crew-step-panels", None),
        (true, "crew-step-cover", Some("crew-hold-cover")),
        (true, "crew-step-final", Some("crew-hold-final")),
    ];
    let steps = steps
        .into_iter()
        .filter(|(is_done, ..)| *is_done && work.is_any());
    Ok(Order {
        heading: words.term("crew-order")?,
        note: words.term("crew-order-note")?,
        hold_word: words.term("crew-hold")?,
        steps: steps
            .map(|(_, step, hold)| {
                Ok(OrderStep {
                    step: words.term(step)?,
                    hold: hold.map(|hold| words.term(hold)).transpose()?.unwrap_or_default(),
                })
            })
            .collect::<Result<_, LanguageError>>()?,
    })
}
