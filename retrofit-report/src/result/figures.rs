//! The figures that the findings rest on, with their sources.

use retrofit_core::check::{Assessment, Ruling};
use retrofit_core::provisions::{self, Compare, Content, FigureId, Standing};
use schemars::JsonSchema;
use serde::Serialize;

use super::wording::{plain, sentence_case};

/// The value of a figure that a document is believed to give and nobody has seen.
pub(crate) const NOT_SEEN: &str = "not seen";

/// How far a figure can be leaned on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Trust {
    /// To be confirmed: remembered, common practice, seen only in an account, or missing.
    Confirm,
    /// Confirmed by a user, by name.
    Attested,
    /// Seen in the document.
    Seen,
}

/// One figure.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Figure {
    /// Its name and case.
    pub title: String,
    /// Its value.
    pub value: String,
    /// The document.
    pub document: String,
    /// The edition.
    pub edition: String,
    /// The section.
    pub section: String,
    /// How well its source was seen, in words.
    pub standing: String,
    /// How far it can be leaned on.
    pub trust: Trust,
    /// Whether a verdict rests on it and it has to be confirmed first.
    pub decides: bool,
    /// Who confirmed it; null when nobody did.
    pub attested: Option<AttestedBy>,
    /// A note.
    pub note: String,
    /// The table row it was read from.
    pub row: String,
}

/// Who confirmed a figure, and where it was seen.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AttestedBy {
    /// Who.
    pub by: String,
    /// When.
    pub on: String,
    /// Document, edition and page.
    pub place: String,
}

/// How well the source of a figure was seen.
pub(super) fn standing_words(figure: &provisions::Figure) -> &'static str {
    match (figure.content, figure.standing()) {
        (_, Some(standing)) => standing.words(),
        (Content::None, None) => "the document gives no figure",
        (_, None) => "not seen; the document is believed to give one",
    }
}

/// How far a figure can be leaned on.
pub(super) fn trust(figure: &provisions::Figure) -> Trust {
    match figure.standing() {
        _ if figure.is_to_confirm() => Trust::Confirm,
        Some(Standing::Attested) => Trust::Attested,
        _ => Trust::Seen,
    }
}

pub(super) fn relied_on(assessment: &Assessment<'_>) -> Vec<Figure> {
    let applied = assessment
        .findings
        .iter()
        .filter(|finding| finding.outcomes.ruling() != Ruling::NotApplicable);
    let mut ids: Vec<FigureId> = applied
        .flat_map(|finding| finding.figures.iter().collect::<Vec<_>>())
        .collect();
    ids.sort_unstable();
    ids.dedup();
    let verdicts = || std::iter::once(&assessment.verdict).chain(&assessment.wall_lines);
    ids.into_iter()
        .filter_map(|id| {
            let figure = assessment.provisions.figure(id)?;
            let decides = verdicts().any(|verdict| verdict.rests.to_confirm.contains(&id));
            Some(shown(figure, decides))
        })
        .collect()
}

/// What stands over the figures to confirm, by the kinds of figures there are; empty when there are none.
pub(super) fn to_confirm_heading(figures: &[Figure]) -> String {
    let to_confirm: Vec<&Figure> = figures
        .iter()
        .filter(|figure| figure.trust == Trust::Confirm)
        .collect();
    let kinds: Vec<&str> = [
        (Some(Standing::Memory), "remembered"),
        (Some(Standing::CommonPractice), "common-practice"),
        (Some(Standing::Secondary), "second-hand"),
        (None, "missing"),
    ]
    .into_iter()
    .filter(|(standing, _)| {
        let mut figures = to_confirm.iter();
        figures.any(|figure| match standing {
            Some(standing) => figure.standing == standing.words(),
            None => figure.value == NOT_SEEN,
        })
    })
    .map(|(_, kind)| kind)
    .collect();
    match kinds.split_last() {
        None => String::new(),
        Some((only, [])) => sentence_case(&format!("{only} figures used in this report")),
        Some((last, before)) => sentence_case(&format!(
            "{} or {last} figures used in this report",
            before.join(", ")
        )),
    }
}

fn shown(figure: &provisions::Figure, decides: bool) -> Figure {
    let value = match figure.content {
        Content::Value(value, Compare::Inclusive, _) => value.to_string(),
        Content::Value(value, Compare::LessThan, _) => format!("less than {value}"),
        Content::Missing => NOT_SEEN.to_owned(),
        Content::None => "none given".to_owned(),
    };
    Figure {
        title: plain(&figure.title()),
        value: plain(&value),
        document: plain(&figure.source.document),
        edition: plain(&figure.source.edition),
        section: plain(&figure.section),
        standing: standing_words(figure).to_owned(),
        trust: trust(figure),
        decides,
        attested: figure.attested.as_ref().map(|attested| AttestedBy {
            by: plain(&attested.by),
            on: plain(&attested.on),
            place: [&attested.document, &attested.edition, &attested.page]
                .into_iter()
                .map(|part| plain(part))
                .filter(|part| !part.is_empty())
                .collect::<Vec<_>>()
                .join(", "),
        }),
        note: plain(&figure.note),
        row: plain(&figure.row),
    }
}
