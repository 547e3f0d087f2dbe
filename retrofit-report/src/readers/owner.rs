//! The page for the owner: what was found, why it matters, what to do next, what it may cost, what was not seen, and
//! what to ask a contractor, in this order and in plain words.
//!
//! Every sentence is a message of the language; every number is one of the result.

use std::collections::BTreeSet;

use retrofit_core::check::{Check, Group, REGISTRY, Ruling};
use retrofit_core::choice::Choice;
use retrofit_core::house::{Access, House};
use retrofit_core::prices::Cents;
use schemars::JsonSchema;
use serde::Serialize;

use super::HouseResult;
use super::amount;
use super::passage::{Passage, Speaker};
use super::picture::Picture;
use crate::language::{Language, LanguageError, Words};
use crate::result::wording::{plain, sentence_case};
use crate::result::{Report, Row, WallLine};

/// The message over the title of the rules; the tables of provisions are in English.
const RULES: &str = "owner-rules-used";
/// What to look at next is told up to here; the engineer's page has it all.
const MOST_LOOKS: usize = 6;

/// The version of the format of an owner's page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum Format {
    /// The first published format.
    #[default]
    #[serde(rename = "owner-page-1")]
    OwnerPage1,
}

/// The page for the owner of one house, in one language.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Owner's page")]
pub struct OwnerPage {
    /// The version of this format: always `owner-page-1`.
    pub format: Format,
    /// The tag of the language.
    pub language: String,
    /// The name of the house.
    pub house: String,
    /// For whom the page is.
    pub kind: String,
    /// What takes a reader of the page by ear to the answer.
    pub skip: String,
    /// By which rules, when and by whom.
    pub head: Vec<HeadRow>,
    /// The ruling on the house.
    pub ruling: Ruling,
    /// The answer.
    pub headline: String,
    /// The sections, in the order in which they are read.
    pub sections: Vec<Section>,
    /// What the page is and is not.
    pub about: Section,
}

/// A line of the head of a page.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct HeadRow {
    /// What it is.
    pub name: String,
    /// Its value, as the record or the table has it.
    pub value: String,
    /// The tag of the language of the value, where it is known and not that of the page.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub language: Option<String>,
}

/// A section.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Section {
    /// Its name in links.
    pub id: String,
    /// Its heading.
    pub heading: String,
    /// What stands in it.
    pub parts: Vec<Part>,
}

/// A part of a section.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "part", rename_all = "snake_case")]
pub enum Part {
    /// A heading within the section.
    Heading {
        /// The heading.
        words: String,
    },
    /// A paragraph.
    Paragraph {
        /// Its text.
        passage: Passage,
    },
    /// A paragraph that must not be overlooked.
    Warning {
        /// Its text.
        passage: Passage,
    },
    /// A figure to be seen at a glance.
    Figure {
        /// The figure.
        words: String,
    },
    /// The picture of the house.
    Picture {
        /// The picture.
        picture: Box<Picture>,
    },
    /// A list.
    List {
        /// Its items.
        items: Vec<Item>,
    },
}

/// An item of a list.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Item {
    /// What it came to, where it is a finding.
    pub ruling: Option<Ruling>,
    /// Its text.
    pub passage: Passage,
    /// Where.
    pub places: Vec<Place>,
}

/// Where something is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Place {
    /// The number of the side on the picture; none for every side and for the house.
    pub number: Option<String>,
    /// Its name.
    pub name: String,
    /// What was found and what is asked for there; may be empty.
    pub amounts: String,
}

/// A check at the places where it came to the same kind of ruling.
pub(super) struct Everywhere<'a> {
    pub(super) check: &'static Check,
    pub(super) places: Vec<(Option<&'a WallLine>, Vec<&'a Row>)>,
}

/// Every check that has rows of a kind, in the order of the registry, with the places where it has them.
pub(super) fn everywhere(report: &Report, is_wanted: impl Fn(&Row) -> bool) -> Vec<Everywhere<'_>> {
    let places: Vec<(Option<&WallLine>, Vec<&Row>)> = std::iter::once((None, &report.whole_house))
        .chain(report.wall_lines.iter().map(|line| (Some(line), &line.findings)))
        .map(|(line, place)| (line, place.rows.iter().filter(|row| is_wanted(row)).collect()))
        .collect();
    REGISTRY
        .iter()
        .map(|check| Everywhere {
            check,
            places: places
                .iter()
                .map(|(line, rows)| {
                    let rows: Vec<&Row> = rows
                        .iter()
                        .copied()
                        .filter(|row| row.check == check.name)
                        .collect();
                    (*line, rows)
                })
                .filter(|(_, rows)| !rows.is_empty())
                .collect(),
        })
        .filter(|everywhere| !everywhere.places.is_empty())
        .collect()
}

pub(super) fn falls_short(row: &Row) -> bool {
    matches!(row.ruling, Ruling::NotMet | Ruling::Outside)
}

/// Whether it is open because something under the house was not seen, and not because a figure was not.
pub(super) fn was_not_seen(row: &Row) -> bool {
    row.ruling == Ruling::NotDetermined && !row.decided_by.is_empty()
}

/// The message of what it means where a check falls short.
pub(super) fn amiss(check: &Check) -> String {
    let kind = if check.group == Group::Applicability {
        "outside"
    } else {
        "short"
    };
    format!("{}.{kind}", check.name)
}

impl OwnerPage {
    /// Puts a result into plain words.
    pub fn new(result: &HouseResult, words: &Words) -> Result<Self, LanguageError> {
        let mut teller = Teller {
            result,
            report: &result.report,
            short: everywhere(&result.report, falls_short),
            open: everywhere(&result.report, was_not_seen),
            speaker: Speaker::new(words)?,
        };
        let key = amount::key_of(result.report.verdict.ruling);
        Ok(Self {
            format: Format::OwnerPage1,
            language: words.language().tag().to_owned(),
            house: result.report.house.clone(),
            kind: words.term("owner-kind")?,
            skip: words.term("skip-to-answer")?,
            head: head(result, words)?,
            ruling: result.report.verdict.ruling,
            headline: words.term(&format!("answer-{key}"))?,
            sections: vec![
                teller.found(key)?,
                teller.why()?,
                teller.next()?,
                teller.cost()?,
                teller.not_seen()?,
                teller.questions()?,
            ],
            about: teller.about()?,
        })
    }
}

/// By which rules a house was judged, when and by whom it was looked at.
pub(super) fn head(result: &HouseResult, words: &Words) -> Result<Vec<HeadRow>, LanguageError> {
    let inspection = &result.house.inspection;
    let provisions = &result.report.provisions;
    let rules = if provisions.jurisdiction.is_empty() {
        provisions.title.clone()
    } else {
        format!("{} ({})", provisions.title, provisions.jurisdiction)
    };
    let date = inspection.date.map(|date| date.to_string()).unwrap_or_default();
    let observer = plain(&inspection.observer);
    let mut rows = Vec::new();
    for (key, value) in [
        (RULES, rules),
        ("owner-looked-at-on", date),
        ("owner-looked-at-by", observer),
    ] {
        if !value.is_empty() {
            rows.push(HeadRow {
                name: words.term(key)?,
                value,
                language: (key == RULES && words.language() != Language::ENGLISH)
                    .then(|| Language::ENGLISH.tag().to_owned()),
            });
        }
    }
    Ok(rows)
}

/// The message of how far the crawl space was entered.
pub(super) fn access(house: &House) -> &'static str {
    match house.inspection.access.value() {
        Some(Access::Entered) => "access-entered",
        Some(Access::Partly) => "access-partly",
        Some(Access::HeadAndShoulders) => "access-head-and-shoulders",
        Some(Access::None) => "access-none",
        None => "access-unknown",
    }
}

/// The message of an observation.
pub(super) fn observation(look_at: impl Choice) -> String {
    let path = look_at.spelling().replace("[]", "");
    format!("look-{}", path.replace(['.', '_'], "-"))
}

/// Tells the sections in the order in which they are read, so that each term is explained where it comes first.
struct Teller<'a> {
    result: &'a HouseResult,
    report: &'a Report,
    short: Vec<Everywhere<'a>>,
    open: Vec<Everywhere<'a>>,
    speaker: Speaker<'a>,
}

/// The parts of a section while it is told.
type Parts = Vec<Part>;

impl Teller<'_> {
    fn section(&self, id: &str, heading: &str, parts: Parts) -> Result<Section, LanguageError> {
        Ok(Section {
            id: id.to_owned(),
            heading: self.speaker.words().term(heading)?,
            parts,
        })
    }

    fn paragraph(&mut self, key: &str, parts: &mut Parts) -> Result<(), LanguageError> {
        let passage = self.speaker.term(key)?;
        parts.push(Part::Paragraph { passage });
        Ok(())
    }

    fn warning(&mut self, key: &str, parts: &mut Parts) -> Result<(), LanguageError> {
        let passage = self.speaker.term(key)?;
        parts.push(Part::Warning { passage });
        Ok(())
    }

    /// A list of messages that have no places; nothing where there are none.
    fn list(&mut self, keys: &[&str], parts: &mut Parts) -> Result<(), LanguageError> {
        let mut items = Vec::with_capacity(keys.len());
        for key in keys {
            items.push(Item {
                ruling: None,
                passage: self.speaker.term(key)?,
                places: Vec::new(),
            });
        }
        if !items.is_empty() {
            parts.push(Part::List { items });
        }
        Ok(())
    }

    fn found(&mut self, ruling: &str) -> Result<Section, LanguageError> {
        let mut parts = Parts::new();
        self.paragraph(&format!("answer-{ruling}.meaning"), &mut parts)?;
        self.counts(&mut parts)?;
        let verdict = &self.report.verdict;
        if verdict.best != verdict.worst {
            let words = self.speaker.words();
            let (best, worst) = (
                amount::ruling(verdict.best, words)?,
                amount::ruling(verdict.worst, words)?,
            );
            let passage = self
                .speaker
                .say("answer-range", &[("best", best.into()), ("worst", worst.into())])?;
            parts.push(Part::Paragraph { passage });
        }
        if self.report.provisions.comparison_only {
            self.warning("owner-comparison-only", &mut parts)?;
        }
        if !verdict.to_confirm.is_empty() {
            self.warning("owner-confirm", &mut parts)?;
        }
        if !self.report.wall_lines.is_empty() {
            let picture = Box::new(Picture::of(self.result, &mut self.speaker)?);
            parts.push(Part::Picture { picture });
        }
        if self.short.is_empty() {
            self.paragraph("owner-nothing-short", &mut parts)?;
        } else {
            parts.push(Part::Heading {
                words: self.speaker.words().term("owner-weak-places")?,
            });
            let items = self.weak_places()?;
            parts.push(Part::List { items });
        }
        if verdict.counts.not_determined > 0 {
            self.paragraph("owner-some-unknown", &mut parts)?;
        }
        let noted = self.noted();
        if !noted.is_empty() {
            self.paragraph("owner-also-noted", &mut parts)?;
            self.list(&noted, &mut parts)?;
        }
        self.section("found", "owner-found", parts)
    }

    /// How many sides came to what, where there is more than one.
    fn counts(&mut self, parts: &mut Parts) -> Result<(), LanguageError> {
        let all = self.report.wall_lines.len();
        let counts = self.result.wall_lines;
        if all < 2 {
            return Ok(());
        }
        let mut told = Vec::new();
        for (key, some) in [
            ("owner-sides-outside", counts.outside),
            ("owner-sides-short", counts.not_met),
            ("owner-sides-open", counts.not_determined),
        ] {
            if some > 0 {
                let words = self.speaker.words();
                told.push(words.say(key, &[("some", some.into()), ("all", all.into())])?);
            }
        }
        if !told.is_empty() {
            let passage = self.speaker.explained(&told.join(" "));
            parts.push(Part::Paragraph { passage });
        }
        Ok(())
    }

    fn weak_places(&mut self) -> Result<Vec<Item>, LanguageError> {
        let mut items = Vec::with_capacity(self.short.len());
        for everywhere in &self.short {
            let rulings = everywhere.places.iter().flat_map(|(_, rows)| rows);
            let is_outside = rulings.clone().any(|row| row.ruling == Ruling::Outside);
            items.push(Item {
                ruling: Some(if is_outside {
                    Ruling::Outside
                } else {
                    Ruling::NotMet
                }),
                passage: self.speaker.term(&amiss(everywhere.check))?,
                places: places(everywhere, self.report, self.speaker.words())?,
            });
        }
        Ok(items)
    }

    /// What was noted of site and house beside the checks.
    fn noted(&self) -> Vec<&'static str> {
        let house = &self.result.house;
        let flags = [
            (house.site.fault_zone.value(), "noted-fault"),
            (house.site.liquefaction_zone.value(), "noted-liquefaction"),
            (house.site.landslide_zone.value(), "noted-landslide"),
            (house.building.untied_chimney.value(), "noted-chimney"),
        ];
        let mut noted: Vec<&str> = flags
            .into_iter()
            .filter(|(flag, _)| *flag == Some(&true))
            .map(|(_, key)| key)
            .collect();
        if !house.distress.is_empty() {
            noted.push("noted-distress");
        }
        noted
    }

    fn is_outside(&self) -> bool {
        let outside = |(_, rows): &(_, Vec<&Row>)| rows.iter().any(|row| row.ruling == Ruling::Outside);
        self.short
            .iter()
            .any(|everywhere| everywhere.places.iter().any(outside))
    }

    /// What is said of each check that falls short, each sentence once.
    fn once(&mut self, attribute: &str) -> Result<Vec<Item>, LanguageError> {
        let mut told = BTreeSet::new();
        let mut items = Vec::new();
        for everywhere in &self.short {
            let text = self
                .speaker
                .words()
                .term(&format!("{}.{attribute}", everywhere.check.name))?;
            if told.insert(text.clone()) {
                items.push(Item {
                    ruling: None,
                    passage: self.speaker.explained(&text),
                    places: Vec::new(),
                });
            }
        }
        Ok(items)
    }

    fn why(&mut self) -> Result<Section, LanguageError> {
        let mut parts = Parts::new();
        // Where something is open, nobody can tell that there is no weak place.
        let is_open = self.report.verdict.counts.not_determined > 0;
        if self.short.is_empty() {
            if !is_open {
                self.paragraph("owner-why-nothing", &mut parts)?;
            }
        } else {
            let items = self.once("why")?;
            parts.push(Part::List { items });
        }
        if self.is_outside() {
            self.paragraph("why-outside", &mut parts)?;
        }
        if is_open {
            self.paragraph("owner-why-unknown", &mut parts)?;
        }
        self.section("why", "owner-why", parts)
    }

    fn next(&mut self) -> Result<Section, LanguageError> {
        let mut parts = Parts::new();
        if self.is_outside() {
            self.paragraph("next-engineer", &mut parts)?;
        }
        let looks = &self.report.next;
        if !looks.is_empty() {
            self.paragraph("next-look", &mut parts)?;
            let mut items = Vec::new();
            for look in looks.iter().take(MOST_LOOKS) {
                let what = self.speaker.words().term(&observation(look.look_at))?;
                items.push(Item {
                    ruling: None,
                    passage: self.speaker.explained(&format!("{}.", sentence_case(&what))),
                    places: named_places(&look.places, self.report, self.speaker.words())?,
                });
            }
            parts.push(Part::List { items });
            if looks.len() > MOST_LOOKS {
                self.paragraph("next-look-more", &mut parts)?;
            }
        }
        if !self.short.is_empty() {
            self.paragraph("next-do", &mut parts)?;
            let items = self.once("fix")?;
            parts.push(Part::List { items });
        }
        self.paragraph("next-steps", &mut parts)?;
        let mut steps = vec!["next-department"];
        if !self.short.is_empty() {
            steps.push("next-bids");
        }
        steps.extend(["next-crawl", "next-papers"]);
        self.list(&steps, &mut parts)?;
        self.section("next", "owner-next", parts)
    }

    fn cost(&mut self) -> Result<Section, LanguageError> {
        let mut parts = Parts::new();
        let (takeoff, worksheet) = (&self.result.takeoff, &self.result.worksheet);
        let is_partly = !worksheet.is_complete || !takeoff.not_counted.is_empty();
        if self.result.pieces.total().high <= Cents::ZERO {
            let key = if is_partly {
                "cost-none-possible"
            } else {
                "cost-no-work"
            };
            self.paragraph(key, &mut parts)?;
            return self.section("cost", "owner-cost", parts);
        }
        let rough = &takeoff.rough_total;
        let words = self.speaker.words();
        parts.push(Part::Figure {
            words: words.say(
                "cost-range",
                &[
                    ("low", amount::dollars(&rough.low).into()),
                    ("high", amount::dollars(&rough.high).into()),
                ],
            )?,
        });
        let likely = amount::dollars(&rough.likely);
        let passage = self.speaker.say("cost-likely", &[("likely", likely.into())])?;
        parts.push(Part::Paragraph { passage });
        if is_partly {
            let names: Vec<String> = takeoff
                .not_counted
                .iter()
                .map(|part| part.wall_line.clone())
                .collect();
            let items = vec![Item {
                ruling: Some(Ruling::Outside),
                passage: self.speaker.term("cost-partly")?,
                places: named_places(&names, self.report, self.speaker.words())?,
            }];
            parts.push(Part::List { items });
        }
        self.paragraph("cost-is-rough", &mut parts)?;
        if !takeoff.placeholders.is_empty() {
            self.warning("cost-placeholders", &mut parts)?;
        }
        if !takeoff.price_years.is_empty() {
            let years: Vec<String> = takeoff.price_years.iter().map(u16::to_string).collect();
            let passage = self
                .speaker
                .say("cost-years", &[("years", years.join(", ").into())])?;
            parts.push(Part::Paragraph { passage });
        }
        self.paragraph("cost-left-out", &mut parts)?;
        if !worksheet.to_verify.is_empty() {
            self.paragraph("cost-taken-as-given", &mut parts)?;
        }
        self.section("cost", "owner-cost", parts)
    }

    fn not_seen(&mut self) -> Result<Section, LanguageError> {
        let mut parts = Parts::new();
        self.paragraph(access(&self.result.house), &mut parts)?;
        let unseen = self.result.house.wall_lines.iter();
        let names: Vec<String> = unseen
            .filter(|wall| !wall.unseen.is_empty())
            .map(|wall| plain(&wall.name))
            .collect();
        if !names.is_empty() {
            let passage = self.speaker.term("not-seen-stretches")?;
            let places = named_places(&names, self.report, self.speaker.words())?;
            parts.push(Part::List {
                items: vec![Item {
                    ruling: None,
                    passage,
                    places,
                }],
            });
        }
        if !self.open.is_empty() {
            self.paragraph("not-seen-checks", &mut parts)?;
            let mut items = Vec::with_capacity(self.open.len());
            for everywhere in &self.open {
                items.push(Item {
                    ruling: Some(Ruling::NotDetermined),
                    passage: self.speaker.term(&format!("{}.unknown", everywhere.check.name))?,
                    places: where_only(everywhere, self.report, self.speaker.words())?,
                });
            }
            parts.push(Part::List { items });
        }
        let is_figure = |row: &Row| row.ruling == Ruling::NotDetermined && !was_not_seen(row);
        if !everywhere(self.report, is_figure).is_empty() {
            self.paragraph("not-seen-figures", &mut parts)?;
        }
        if self.report.verdict.counts.not_determined == 0 {
            self.paragraph("not-seen-nothing", &mut parts)?;
        }
        self.paragraph("not-seen-rest", &mut parts)?;
        self.section("not-seen", "owner-not-seen", parts)
    }

    fn questions(&mut self) -> Result<Section, LanguageError> {
        let is_short = |groups: &[Group]| {
            let found = |everywhere: &Everywhere<'_>| groups.contains(&everywhere.check.group);
            self.short.iter().any(found)
        };
        let is_open = |groups: &[Group]| {
            let found = |everywhere: &Everywhere<'_>| groups.contains(&everywhere.check.group);
            self.open.iter().any(found)
        };
        let work = [Group::Sill, Group::Anchorage];
        let asked = [
            (true, "question-license"),
            (true, "question-houses"),
            (true, "question-plan"),
            (
                self.is_outside() || !self.result.worksheet.is_complete,
                "question-engineer",
            ),
            (!self.open.is_empty(), "question-look-first"),
            (
                is_short(&work) || is_short(&[Group::Foundation]) || is_open(&[Group::Foundation]),
                "question-foundation",
            ),
            (is_short(&work), "question-bolts"),
            (is_short(&[Group::Bracing, Group::Framing]), "question-panels"),
            (is_short(&[Group::Bracing, Group::Ventilation]), "question-vents"),
            (is_short(&[Group::Floor]), "question-floor"),
            (true, "question-permit"),
            (true, "question-hidden"),
            (true, "question-left-out"),
            (true, "question-photos"),
        ];
        let keys: Vec<&str> = asked
            .into_iter()
            .filter(|(is_asked, _)| *is_asked)
            .map(|(_, key)| key)
            .collect();
        let mut parts = Parts::new();
        if self.short.is_empty() {
            self.paragraph("questions-if-work", &mut parts)?;
        }
        self.list(&keys, &mut parts)?;
        self.section("questions", "owner-questions", parts)
    }

    fn about(&mut self) -> Result<Section, LanguageError> {
        let mut parts = Parts::new();
        self.paragraph("deferral", &mut parts)?;
        self.section("about", "owner-about", parts)
    }
}

/// Where a check falls short, with what was found where that is one amount.
fn places(everywhere: &Everywhere<'_>, report: &Report, words: &Words) -> Result<Vec<Place>, LanguageError> {
    let mut told = Vec::with_capacity(everywhere.places.len());
    for (line, rows) in &everywhere.places {
        let amounts = match rows.as_slice() {
            [row] => amount::found_and_asked(row.amounts, words)?,
            _ => None,
        };
        let amounts = match amounts {
            Some((found, asked)) => words.say(
                "amount-found-and-asked",
                &[("found", found.into()), ("asked", asked.into())],
            )?,
            None => String::new(),
        };
        told.push(place(*line, amounts, words)?);
    }
    every_side(told, report, words)
}

/// Where a check is open.
pub(super) fn where_only(
    everywhere: &Everywhere<'_>,
    report: &Report,
    words: &Words,
) -> Result<Vec<Place>, LanguageError> {
    let mut told = Vec::with_capacity(everywhere.places.len());
    for (line, _) in &everywhere.places {
        told.push(place(*line, String::new(), words)?);
    }
    every_side(told, report, words)
}

/// The wall lines of some names, in the order of the house.
pub(super) fn named_places(
    names: &[String],
    report: &Report,
    words: &Words,
) -> Result<Vec<Place>, LanguageError> {
    let mut told = Vec::with_capacity(names.len());
    for line in report.wall_lines.iter().filter(|line| names.contains(&line.name)) {
        told.push(place(Some(line), String::new(), words)?);
    }
    every_side(told, report, words)
}

fn place(line: Option<&WallLine>, amounts: String, words: &Words) -> Result<Place, LanguageError> {
    Ok(match line {
        Some(line) => Place {
            number: Some(line.number.clone()),
            name: amount::side_name(&line.name, words)?,
            amounts,
        },
        None => Place {
            number: None,
            name: words.term("where-house")?,
            amounts,
        },
    })
}

/// Every side at once, where the same is to be said of all of them; nothing for the house as a whole alone.
fn every_side(places: Vec<Place>, report: &Report, words: &Words) -> Result<Vec<Place>, LanguageError> {
    let of_sides = places.iter().filter(|place| place.number.is_some()).count();
    let same = places
        .iter()
        .all(|place| places.first().is_some_and(|first| first.amounts == place.amounts));
    let is_every = report.wall_lines.len() > 1 && of_sides == report.wall_lines.len();
    if is_every && same && of_sides == places.len() {
        return Ok(vec![Place {
            number: None,
            name: words.term("where-every-side")?,
            amounts: places
                .into_iter()
                .next()
                .map(|place| place.amounts)
                .unwrap_or_default(),
        }]);
    }
    Ok(places)
}
