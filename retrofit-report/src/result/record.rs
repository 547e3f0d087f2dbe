//! The record of the house in short, what was noted of it, and warnings.

use retrofit_core::choice::Choice;
use retrofit_core::house::{House, Stories};
use retrofit_core::measure::Slope;
use retrofit_core::observation::Observed;
use retrofit_core::provisions::Provisions;
use schemars::JsonSchema;
use serde::Serialize;

use super::wording::{self, plain, sentence_case};

/// One line of the record.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Fact {
    /// What it is.
    pub name: String,
    /// Its value and how that is known.
    pub value: String,
}

/// A sign of trouble.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Distress {
    /// What kind of sign.
    pub kind: String,
    /// Where.
    pub place: String,
    /// Its size; empty when not recorded.
    pub size: String,
    /// Anything else.
    pub note: String,
}

/// An observation with how it is known.
pub(super) fn observed<T>(observed: &Observed<T>, show: impl Fn(&T) -> String) -> String {
    let basis = observed.basis().map_or("", |basis| basis.word());
    match observed {
        Observed::Known { value, .. } => format!("{}, {basis}", show(value)),
        Observed::Between {
            at_least, at_most, ..
        } => {
            let value = match (at_least, at_most) {
                (Some(least), Some(most)) => format!("{} to {}", show(least), show(most)),
                (Some(least), None) => format!("at least {}", show(least)),
                (None, Some(most)) => format!("at most {}", show(most)),
                (None, None) => "not known".to_owned(),
            };
            format!("{value}, {basis}")
        }
        Observed::Unknown(reason) => match plain(reason.words()) {
            words if words == "not recorded" => words,
            words => format!("not known: {words}"),
        },
    }
}

fn yes_or_no(answer: bool) -> String {
    if answer { "yes" } else { "no" }.to_owned()
}

fn words<T: Choice>(term: &T) -> String {
    term.words().to_owned()
}

pub(super) fn facts(house: &House) -> Vec<Fact> {
    let (building, site, inspection) = (&house.building, &house.site, &house.inspection);
    let mut facts = Vec::new();
    let mut add = |name: &str, value: String| {
        if !value.is_empty() {
            facts.push(Fact {
                name: name.to_owned(),
                value,
            });
        }
    };
    add(
        "Looked at on",
        inspection.date.map_or_else(String::new, |date| date.to_string()),
    );
    add("By", plain(&inspection.observer));
    add("Crawl space", observed(&inspection.access, words));
    for (name, side) in [
        ("Width of the access opening", &inspection.access_width),
        ("Height of the access opening", &inspection.access_height),
    ] {
        if !side.is_not_recorded() {
            add(name, observed(side, |length| wording::length(*length)));
        }
    }
    add(
        "Clear height",
        observed(&inspection.clear_height, |length| wording::length(*length)),
    );
    add("Stories", observed(&building.stories, Stories::to_string));
    add("Dwelling units", observed(&building.units, u16::to_string));
    add("Built in", observed(&building.year_built, u16::to_string));
    add("Outside walls", observed(&building.exterior, words));
    add(
        "Plaster inside",
        observed(&building.interior_plaster, |answer| yes_or_no(*answer)),
    );
    add("Roof", observed(&building.roof, words));
    add("Steepest ground", observed(&site.slope, Slope::to_string));
    add("Seismic design category", observed(&site.seismic_category, words));
    add(
        "Strengthened before",
        observed(&house.earlier_retrofit, |answer| yes_or_no(*answer)),
    );
    facts
}

/// What is written down and has no part in the verdict.
pub(super) fn noted(house: &House) -> Vec<String> {
    let flags = [
        (
            &house.site.fault_zone,
            "The site lies in a mapped fault-rupture zone",
        ),
        (
            &house.site.liquefaction_zone,
            "The site lies in a mapped liquefaction zone",
        ),
        (
            &house.site.landslide_zone,
            "The site lies in a mapped landslide or ground-failure zone",
        ),
        (
            &house.building.untied_chimney,
            "A masonry chimney stands without visible ties to the framing",
        ),
    ];
    flags
        .into_iter()
        .filter(|(flag, _)| flag.value() == Some(&true))
        .map(|(flag, words)| format!("{words} ({}).", flag.basis().map_or("", |basis| basis.word())))
        .collect()
}

pub(super) fn distress(house: &House) -> Vec<Distress> {
    house
        .distress
        .iter()
        .map(|sign| Distress {
            kind: sentence_case(sign.kind.words()),
            place: plain(&sign.place),
            size: if sign.size.is_not_recorded() {
                String::new()
            } else {
                observed(&sign.size, |length| wording::length(*length))
            },
            note: plain(&sign.note),
        })
        .collect()
}

pub(super) fn warnings(house: &House, provisions: &Provisions) -> Vec<String> {
    let mut warnings = Vec::new();
    if provisions.comparison_only {
        warnings.push(
            "This set of provisions is here for comparison only. It is not written for strengthening an \
             older house and must not be used to judge one."
                .to_owned(),
        );
    }
    let (least, most) = house.building.stories.bounds();
    let is_half = |stories: &&Stories| **stories != Stories::whole(stories.counted());
    if let Some(stories) = most.or(least).filter(is_half) {
        warnings.push(format!(
            "The house has {stories} stories. Tables know whole stories only, so it is judged as one of {}.",
            stories.counted()
        ));
    }
    warnings
}
