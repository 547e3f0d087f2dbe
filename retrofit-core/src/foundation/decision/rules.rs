//! The options, what bears on them, and the figures they go by: tables, read and checked.

use std::str::FromStr;
use std::sync::LazyLock;

use super::fact::Fact;
use crate::check::{Check, check_named};
use crate::choice::{Choice, choices};
use crate::foundation::survey::{Documents, origin, read_sources};
use crate::house::FoundationOption;
use crate::measure::{Length, Percent, Slope};
use crate::provisions::{Standing, TableError, TableFile};
use crate::table::{Row, each_row};

const RULES: &str = include_str!("../../../../tables/foundation-options/rules.csv");
const REQUIREMENTS: &str = include_str!("../../../../tables/foundation-options/requirements.csv");
const FIGURES: &str = include_str!("../../../../tables/foundation-options/figures.csv");
const FACTS: &str = include_str!("../../../../tables/foundation-options/facts.csv");
const SOURCES: &str = include_str!("../../../../tables/foundation-options/sources.csv");

const RULE_COLUMNS: [&str; 7] = [
    "option", "fact", "bearing", "reason", "source", "section", "standing",
];
const REQUIREMENT_COLUMNS: [&str; 6] = ["option", "check", "words", "source", "section", "standing"];
const FIGURE_COLUMNS: [&str; 7] = [
    "figure", "stories", "value", "source", "section", "standing", "note",
];
const FACT_COLUMNS: [&str; 2] = ["fact", "look_at"];

choices! {
    /// What a fact says of an option.
    pub enum Bearing: "bearing" {
        /// Without it the option is not open.
        Needs = "needs", "needs";
        /// With it the option is not open.
        RulesOut = "rules_out", "is ruled out by";
        /// It is something the option would do good for.
        SpeaksFor = "speaks_for", "is spoken for by";
        /// With it an engineer's word is asked for.
        AsksEngineer = "asks_engineer", "asks an engineer because of";
    }
}

choices! {
    /// A figure that facts go by.
    pub enum OptionFigureName: "figure" {
        /// Least height of untreated sill over soil.
        LeastSillHeight = "least-sill-height", "least height of a sill above soil";
        /// Least width of a footing, by stories.
        LeastFootingWidth = "least-footing-width", "least width of a new footing";
        /// Least thickness of a footing.
        LeastFootingThickness = "least-footing-thickness", "least thickness of a new footing";
        /// Least depth of a footing.
        LeastFootingDepth = "least-footing-depth", "least depth of a new footing";
        /// Width beyond which a crack is wide.
        WideCrack = "wide-crack", "width of a crack";
        /// Step beyond which a crack is stepped.
        SteppedCrack = "stepped-crack", "step at a crack";
        /// Change of level that work is not chosen for.
        LevelTolerance = "level-tolerance", "change of level that calls for work";
        /// Steepest ground.
        SteepestSlope = "steepest-slope", "steepest ground";
        /// Tallest stem wall.
        TallestStem = "tallest-stem", "tallest stem wall";
        /// Share of the foundation to be replaced before replacing all of it opens.
        ShareToReplaceAll = "share-to-replace-all", "share of the foundation to be replaced";
    }
}

/// Where a row of the tables comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Provenance {
    /// The document, with its edition.
    pub document: String,
    /// Where in the document.
    pub section: String,
    /// How well it was seen.
    pub standing: Standing,
}

/// What one fact says of an option, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OptionRule {
    /// The option.
    pub option: FoundationOption,
    /// The fact.
    pub fact: Fact,
    /// What it says of the option.
    pub bearing: Bearing,
    /// Why.
    pub reason: String,
    /// What to look at where the fact is not known; empty where nothing can be looked at.
    pub look_at: String,
    /// Where the rule comes from.
    pub provenance: Provenance,
}

/// Something that provisions ask of an option.
#[derive(Clone, Debug)]
pub struct OptionRequirement {
    /// The option.
    pub option: FoundationOption,
    /// The check of the seismic provisions that looks at it, where there is one.
    pub check: Option<&'static Check>,
    /// What is asked, in words.
    pub words: String,
    /// Where it comes from.
    pub provenance: Provenance,
}

impl PartialEq for OptionRequirement {
    fn eq(&self, other: &Self) -> bool {
        // A check is known by its name, which is never used again for another.
        let name = |it: &Self| it.check.map(|check| check.name);
        (self.option, name(self), &self.words, &self.provenance)
            == (other.option, name(other), &other.words, &other.provenance)
    }
}

impl Eq for OptionRequirement {}

/// A figure, as its row has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OptionFigure {
    /// Its name.
    pub name: OptionFigureName,
    /// The number of stories it is for, where it goes by stories.
    pub stories: Option<u8>,
    /// The value as the table spells it.
    pub value: String,
    /// Where it comes from.
    pub provenance: Provenance,
    /// A note for the reader.
    pub note: String,
}

/// The figures as facts use them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Figures {
    pub(super) least_sill_height: Length,
    /// For one story, for two, and so on.
    pub(super) least_footing_widths: Vec<Length>,
    pub(super) least_footing_thickness: Length,
    pub(super) least_footing_depth: Length,
    pub(super) wide_crack: Length,
    pub(super) stepped_crack: Length,
    pub(super) level_tolerance: Length,
    pub(super) steepest_slope: Slope,
    pub(super) tallest_stem: Length,
    pub(super) share_to_replace_all: Percent,
}

/// The options with what bears on them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OptionRules {
    rules: Vec<OptionRule>,
    requirements: Vec<OptionRequirement>,
    figures: Vec<OptionFigure>,
    measures: Figures,
}

/// The texts of the five files of the folder.
#[derive(Clone, Copy, Debug)]
pub struct OptionTables<'a> {
    /// `rules.csv`.
    pub rules: &'a str,
    /// `requirements.csv`.
    pub requirements: &'a str,
    /// `figures.csv`.
    pub figures: &'a str,
    /// `facts.csv`.
    pub facts: &'a str,
    /// `sources.csv`.
    pub sources: &'a str,
}

impl OptionTables<'static> {
    /// The shipped texts: what to start from to change a row.
    pub const SHIPPED: Self = Self {
        rules: RULES,
        requirements: REQUIREMENTS,
        figures: FIGURES,
        facts: FACTS,
        sources: SOURCES,
    };
}

impl OptionRules {
    /// The shipped tables.
    pub fn shipped() -> &'static Self {
        // A test holds that the shipped tables read; without rules no option would be open.
        static SHIPPED: LazyLock<OptionRules> =
            LazyLock::new(|| OptionRules::parse(OptionTables::SHIPPED).unwrap_or_default());
        &SHIPPED
    }

    /// Reads the files of the folder; the error lists every fault with file, line and column.
    pub fn parse(tables: OptionTables<'_>) -> Result<Self, Vec<TableError>> {
        let file = |name: &str, text: &str| TableFile {
            path: format!("tables/foundation-options/{name}"),
            name: name.to_owned(),
            text: text.to_owned(),
        };
        let mut faults = Vec::new();
        let documents = read_sources(&file("sources.csv", tables.sources), &mut faults);
        let looks = read_looks(&file("facts.csv", tables.facts), &mut faults);
        let rules = read_rules(&file("rules.csv", tables.rules), &documents, &looks, &mut faults);
        let requirements = read_requirements(
            &file("requirements.csv", tables.requirements),
            &documents,
            &mut faults,
        );
        let figures_file = file("figures.csv", tables.figures);
        let figures = read_figures(&figures_file, &documents, &mut faults);
        let measures = measures_of(&figures, &figures_file, &mut faults);
        if faults.is_empty() {
            Ok(Self {
                rules,
                requirements,
                figures,
                measures,
            })
        } else {
            Err(faults)
        }
    }

    /// Every rule, in the order of the table.
    pub fn rules(&self) -> &[OptionRule] {
        &self.rules
    }

    /// What provisions ask of an option.
    pub fn requirements(&self, option: FoundationOption) -> impl Iterator<Item = &OptionRequirement> {
        self.requirements.iter().filter(move |it| it.option == option)
    }

    /// Every figure, in the order of the table.
    pub fn figures(&self) -> &[OptionFigure] {
        &self.figures
    }

    pub(super) fn measures(&self) -> &Figures {
        &self.measures
    }
}

fn term<T: Choice>(row: &Row<'_>, column: &str) -> Result<T, TableError> {
    crate::choice::parse_choice(row.required(column)?).map_err(|error| row.fault(column, error))
}

fn provenance(row: &Row<'_>, documents: &Documents) -> Result<Provenance, TableError> {
    let (document, section, standing) = origin(row, documents)?;
    Ok(Provenance {
        document,
        section,
        standing,
    })
}

fn read_looks(file: &TableFile, faults: &mut Vec<TableError>) -> Vec<(Fact, String)> {
    let mut looks: Vec<(Fact, String)> = Vec::new();
    each_row(file, &FACT_COLUMNS, faults, |row| {
        let fact: Fact = term(row, "fact")?;
        if looks.iter().any(|(other, _)| *other == fact) {
            return Err(row.fault("fact", format!("found {:?} a second time", fact.spelling())));
        }
        looks.push((fact, row.get("look_at").to_owned()));
        Ok(())
    });
    for fact in Fact::ALL {
        if !looks.iter().any(|(other, _)| other == fact) {
            let fault = format!("there is no row for {:?}; expected one", fact.spelling());
            faults.push(TableError::column(file, "fact", fault));
        }
    }
    looks
}

fn read_rules(
    file: &TableFile,
    documents: &Documents,
    looks: &[(Fact, String)],
    faults: &mut Vec<TableError>,
) -> Vec<OptionRule> {
    let mut rules: Vec<OptionRule> = Vec::new();
    each_row(file, &RULE_COLUMNS, faults, |row| {
        let (option, fact, bearing) = (term(row, "option")?, term(row, "fact")?, term(row, "bearing")?);
        if rules
            .iter()
            .any(|rule| (rule.option, rule.fact, rule.bearing) == (option, fact, bearing))
        {
            return Err(row.fault("fact", format!("found {:?} a second time", fact.spelling())));
        }
        let look_at = looks.iter().find(|(other, _)| *other == fact);
        rules.push(OptionRule {
            option,
            fact,
            bearing,
            reason: row.required("reason")?.to_owned(),
            look_at: look_at.map_or_else(String::new, |(_, words)| words.clone()),
            provenance: provenance(row, documents)?,
        });
        Ok(())
    });
    for option in FoundationOption::ALL {
        let is_spoken_for = |rule: &OptionRule| rule.option == *option && rule.bearing == Bearing::SpeaksFor;
        // Without it the option could never be wanted.
        if !rules.iter().any(is_spoken_for) {
            let fault = format!(
                "nothing speaks for {:?}; expected a rule that does",
                option.spelling()
            );
            faults.push(TableError::column(file, "bearing", fault));
        }
    }
    rules
}

fn read_requirements(
    file: &TableFile,
    documents: &Documents,
    faults: &mut Vec<TableError>,
) -> Vec<OptionRequirement> {
    let mut requirements = Vec::new();
    each_row(file, &REQUIREMENT_COLUMNS, faults, |row| {
        let check = row.optional("check", |name| {
            check_named(name).map_err(|nearest| {
                let hint = nearest.map_or_else(String::new, |near| format!("; did you mean {near:?}?"));
                format!("found {name:?}; expected the name of a check{hint}")
            })
        })?;
        requirements.push(OptionRequirement {
            option: term(row, "option")?,
            check,
            words: row.required("words")?.to_owned(),
            provenance: provenance(row, documents)?,
        });
        Ok(())
    });
    requirements
}

fn read_figures(file: &TableFile, documents: &Documents, faults: &mut Vec<TableError>) -> Vec<OptionFigure> {
    let mut figures: Vec<OptionFigure> = Vec::new();
    each_row(file, &FIGURE_COLUMNS, faults, |row| {
        let name: OptionFigureName = term(row, "figure")?;
        let stories = row.optional("stories", |text| {
            text.parse::<u8>()
                .map_err(|_| format!("found {text:?}; expected a number of stories, or nothing"))
        })?;
        if stories.is_some() != (name == OptionFigureName::LeastFootingWidth) {
            let fault = "expected a number of stories for the width of a footing, and only there";
            return Err(row.fault("stories", fault));
        }
        if figures
            .iter()
            .any(|other| (other.name, other.stories) == (name, stories))
        {
            return Err(row.fault("figure", format!("found {:?} a second time", name.spelling())));
        }
        let value = row.required("value")?;
        match name {
            OptionFigureName::SteepestSlope => value.parse::<Slope>().err(),
            OptionFigureName::ShareToReplaceAll => value.parse::<Percent>().err(),
            _ => value.parse::<Length>().err(),
        }
        .map_or(Ok(()), |error| Err(row.fault("value", error)))?;
        figures.push(OptionFigure {
            name,
            stories,
            value: value.to_owned(),
            provenance: provenance(row, documents)?,
            note: row.get("note").to_owned(),
        });
        Ok(())
    });
    figures
}

fn measures_of(figures: &[OptionFigure], file: &TableFile, faults: &mut Vec<TableError>) -> Figures {
    use OptionFigureName as Name;
    fn given<T: FromStr>(figures: &[OptionFigure], name: Name, stories: Option<u8>) -> Option<T> {
        let row = figures
            .iter()
            .find(|it| (it.name, it.stories) == (name, stories))?;
        row.value.parse().ok()
    }
    for name in Name::ALL {
        if !figures.iter().any(|figure| figure.name == *name) {
            let fault = format!("there is no row for {:?}; expected one", name.spelling());
            faults.push(TableError::column(file, "figure", fault));
        }
    }
    let widths: Vec<Length> = (1..=u8::MAX)
        .map_while(|stories| given(figures, Name::LeastFootingWidth, Some(stories)))
        .collect();
    let rows = figures
        .iter()
        .filter(|it| it.name == Name::LeastFootingWidth)
        .count();
    if rows != widths.len() || !widths.is_sorted() {
        let fault =
            "expected rows for 1, 2 … stories, no number left out and no width less than the one before";
        faults.push(TableError::column(file, "stories", fault));
    }
    let length = |name| given(figures, name, None).unwrap_or_default();
    Figures {
        least_sill_height: length(Name::LeastSillHeight),
        least_footing_widths: widths,
        least_footing_thickness: length(Name::LeastFootingThickness),
        least_footing_depth: length(Name::LeastFootingDepth),
        wide_crack: length(Name::WideCrack),
        stepped_crack: length(Name::SteppedCrack),
        level_tolerance: length(Name::LevelTolerance),
        steepest_slope: given(figures, Name::SteepestSlope, None).unwrap_or_default(),
        tallest_stem: length(Name::TallestStem),
        share_to_replace_all: given(figures, Name::ShareToReplaceAll, None).unwrap_or_default(),
    }
}
