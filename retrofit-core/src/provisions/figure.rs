//! One figure of a table: its value, the case it belongs to, and where it comes from.

use std::fmt;

use serde::Serialize;

use super::catalog::{FigureName, Measure};
use crate::choice::{Allowed, Choice};
use crate::house::{AnchorKind, FoundationKind, Nail, Rim, Sheathing, TopPlate, Washer, WeightCase};
use crate::measure::{Length, Percent, Slope};
use crate::table::{Row, TableError};

/// How well the source of a figure was seen, from the strongest to the weakest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Seen in the document it is attributed to.
    Verified,
    /// Confirmed by a user of an overlay folder, who names document, page and day.
    Attested,
    /// Seen in an account of the document, not in the document.
    Secondary,
    /// Recalled; no source seen.
    Memory,
    /// Common practice of the trade; no source.
    CommonPractice,
}

/// A document with its section, each named once; nothing where a table names by `none` that there is no source, which
/// the standing says.
///
/// ```
/// use retrofit_core::provisions::cited;
/// assert_eq!(cited("California Residential Code, 2013", "R403.1"), "California Residential Code, 2013, R403.1");
/// assert_eq!(cited("24 CFR 3285.202", "3285.202"), "24 CFR 3285.202");
/// assert_eq!(cited("Standard 3.12", "3.1"), "Standard 3.12, 3.1");
/// assert_eq!(cited("none", ""), "");
/// ```
pub fn cited(document: &str, section: &str) -> String {
    // Whole words: a section 3.1 is not named by a 3.12.
    let is_part = |c: char| c.is_alphanumeric() || c == '.';
    let is_named = |section: &str| {
        document.match_indices(section).any(|(at, _)| {
            let before = document.get(..at).and_then(|text| text.chars().next_back());
            let after = document
                .get(at.saturating_add(section.len())..)
                .and_then(|text| text.chars().next());
            !before.is_some_and(is_part) && !after.is_some_and(is_part)
        })
    };
    match (document, section) {
        ("none", _) => String::new(),
        (document, section) if section.is_empty() || is_named(section) => document.to_owned(),
        (document, section) => format!("{document}, {section}"),
    }
}

impl Standing {
    /// The standing as tables spell it.
    pub const fn spelling(self) -> &'static str {
        match self {
            Self::Verified => "verified",
            Self::Attested => "attested",
            Self::Secondary => "secondary",
            Self::Memory => "memory",
            Self::CommonPractice => "common practice",
        }
    }

    /// Reads a standing as tables spell it; *attested* is not written in a table but confirmed beside it.
    pub(crate) fn spelled(text: &str) -> Option<Self> {
        [
            Self::Verified,
            Self::Secondary,
            Self::Memory,
            Self::CommonPractice,
        ]
        .into_iter()
        .find(|standing| standing.spelling() == text)
    }

    /// Reads the standing of a row that gives a value.
    pub(crate) fn of_row(row: &Row<'_>) -> Result<Self, TableError> {
        let found = row.get("standing");
        Self::spelled(found).ok_or_else(|| {
            let found: String = found.chars().take(40).collect();
            let fault = format!("found {found:?}; expected verified, secondary, memory or common practice");
            row.fault("standing", fault)
        })
    }

    /// The standing as a reader is told of it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Verified => "seen in the document",
            Self::Attested => "confirmed by a user of these tables",
            Self::Secondary => "seen in an account of the document, not in the document itself",
            Self::Memory => "remembered; not seen in any source",
            Self::CommonPractice => "common practice; no source",
        }
    }

    /// What is added to a verdict that rests on a figure of this standing; empty when nothing need be.
    pub const fn caveat(self) -> &'static str {
        match self {
            Self::Verified => "",
            Self::Attested => "by a figure confirmed by a user",
            Self::Secondary => "by a figure seen only in an account of the document",
            Self::Memory => "by a remembered figure",
            Self::CommonPractice => "by common practice",
        }
    }
}

/// The value of a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Value {
    /// A length.
    Length(Length),
    /// A percentage.
    Percent(Percent),
    /// A whole number.
    Count(u32),
    /// A ground slope.
    Slope(Slope),
    /// A nail.
    Nail(Nail),
    /// A washer.
    Washer(Washer),
    /// It is asked for.
    Asked,
    /// Foundation kinds.
    FoundationKinds(Allowed<FoundationKind>),
    /// Anchor kinds.
    AnchorKinds(Allowed<AnchorKind>),
    /// Sheathing kinds.
    SheathingKinds(Allowed<Sheathing>),
    /// Rim or blocking patterns.
    RimPatterns(Allowed<Rim>),
    /// Top plates.
    TopPlates(Allowed<TopPlate>),
}

impl Value {
    /// Reads a value of the kind that the figure takes.
    pub(super) fn parse(measure: Measure, text: &str) -> Result<Self, String> {
        fn read<T: std::str::FromStr<Err: fmt::Display>>(text: &str) -> Result<T, String> {
            text.parse().map_err(|error: T::Err| error.to_string())
        }
        Ok(match measure {
            Measure::Length => match read(text)? {
                length if length < Length::ZERO => {
                    return Err(format!("found {length}; expected a length of zero or more"));
                }
                length => Self::Length(length),
            },
            Measure::Percent => Self::Percent(read(text)?),
            Measure::Count => Self::Count(
                text.parse()
                    .map_err(|_| format!("found {text:?}; expected a whole number, such as 3"))?,
            ),
            Measure::Slope => Self::Slope(read(text)?),
            Measure::Nail => Self::Nail(read(text)?),
            Measure::Washer => Self::Washer(read(text)?),
            Measure::Asked if text == "yes" => Self::Asked,
            Measure::Asked => {
                return Err(format!(
                    "found {text:?}; expected yes, or leave the row out where it is not asked for"
                ));
            }
            Measure::FoundationKinds => Self::FoundationKinds(read(text)?),
            Measure::AnchorKinds => Self::AnchorKinds(read(text)?),
            Measure::SheathingKinds => Self::SheathingKinds(read(text)?),
            Measure::RimPatterns => Self::RimPatterns(read(text)?),
            Measure::TopPlates => Self::TopPlates(read(text)?),
        })
    }
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Length(value) => value.fmt(f),
            Self::Percent(value) => value.fmt(f),
            Self::Count(value) => value.fmt(f),
            Self::Slope(value) => value.fmt(f),
            Self::Nail(value) => value.fmt(f),
            Self::Washer(value) => value.fmt(f),
            Self::Asked => f.write_str("yes"),
            Self::FoundationKinds(value) => value.fmt(f),
            Self::AnchorKinds(value) => value.fmt(f),
            Self::SheathingKinds(value) => value.fmt(f),
            Self::RimPatterns(value) => value.fmt(f),
            Self::TopPlates(value) => value.fmt(f),
        }
    }
}

/// A type that a figure's value can be read as.
pub trait FromValue: Sized {
    /// The value, when it is of this type.
    fn from_value(value: Value) -> Option<Self>;
}

macro_rules! from_value {
    ($($type:ty = $variant:ident;)+) => {$(
        impl FromValue for $type {
            fn from_value(value: Value) -> Option<Self> {
                match value { Value::$variant(value) => Some(value), _ => None }
            }
        }
    )+};
}

from_value! {
    Length = Length;
    Percent = Percent;
    u32 = Count;
    Slope = Slope;
    Nail = Nail;
    Washer = Washer;
    Allowed<FoundationKind> = FoundationKinds;
    Allowed<AnchorKind> = AnchorKinds;
    Allowed<Sheathing> = SheathingKinds;
    Allowed<Rim> = RimPatterns;
    Allowed<TopPlate> = TopPlates;
}

impl FromValue for bool {
    fn from_value(value: Value) -> Option<Self> {
        matches!(value, Value::Asked).then_some(true)
    }
}

/// Whether the limit itself is still allowed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Compare {
    /// The limit itself is allowed.
    #[default]
    Inclusive,
    /// The limit itself is not allowed: "less than 4 ft".
    LessThan,
}

/// What a table row says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Content {
    /// A value.
    Value(Value, Compare, Standing),
    /// The document is believed to give one, but nobody has seen it.
    Missing,
    /// The document gives none.
    None,
}

/// The case a row belongs to; an empty field stands for any.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Case {
    /// Stories above the cripple wall.
    pub stories: Option<u8>,
    /// Weight case.
    pub weight: Option<WeightCase>,
    /// Anchor diameter.
    pub diameter: Option<Length>,
    /// Sill pieces longer than this.
    pub piece_over: Option<Length>,
    /// Sill pieces up to this length.
    pub piece_up_to: Option<Length>,
    /// Studs taller than this.
    pub stud_over: Option<Length>,
    /// Studs up to this height.
    pub stud_up_to: Option<Length>,
}

impl Case {
    /// Whether every house and place of the other case falls in this one too.
    pub fn covers(&self, other: &Self) -> bool {
        any_or_same(self.diameter, other.diameter)
            && begins_no_later(self.piece_over, other.piece_over)
            && ends_no_sooner(self.piece_up_to, other.piece_up_to)
            && self.covers_house(other)
    }

    /// The same for stories, weight and studs alone: what is known of a wall line before its anchors are
    /// looked at.
    pub(super) fn covers_house(&self, other: &Self) -> bool {
        any_or_same(self.stories, other.stories)
            && any_or_same(self.weight, other.weight)
            && begins_no_later(self.stud_over, other.stud_over)
            && ends_no_sooner(self.stud_up_to, other.stud_up_to)
    }

    /// Whether the same anchor or sill piece is meant, whatever the house.
    pub(super) fn is_same_place(&self, other: &Self) -> bool {
        (self.diameter, self.piece_over, self.piece_up_to)
            == (other.diameter, other.piece_over, other.piece_up_to)
    }

    /// Whether some house and place falls in both cases.
    pub(super) fn meets(&self, other: &Self) -> bool {
        self.diameter == other.diameter
            && is_some(
                [self.piece_over, other.piece_over],
                [self.piece_up_to, other.piece_up_to],
            )
            && self.meets_house(other)
    }

    /// The same for stories, weight and studs alone.
    pub(super) fn meets_house(&self, other: &Self) -> bool {
        may_be_same(self.stories, other.stories)
            && may_be_same(self.weight, other.weight)
            && is_some(
                [self.stud_over, other.stud_over],
                [self.stud_up_to, other.stud_up_to],
            )
    }
}

fn may_be_same<T: PartialEq>(a: Option<T>, b: Option<T>) -> bool {
    a.is_none() || b.is_none() || a == b
}

/// What is over one length and up to another is nothing when the second is no greater.
fn is_some(over: [Option<Length>; 2], up_to: [Option<Length>; 2]) -> bool {
    let over = over.into_iter().flatten();
    over.max()
        .is_none_or(|over| up_to.into_iter().flatten().all(|up_to| over < up_to))
}

fn any_or_same<T: PartialEq>(mine: Option<T>, other: Option<T>) -> bool {
    mine.is_none() || mine == other
}

fn begins_no_later(mine: Option<Length>, other: Option<Length>) -> bool {
    mine.is_none_or(|mine| other.is_some_and(|other| mine <= other))
}

fn ends_no_sooner(mine: Option<Length>, other: Option<Length>) -> bool {
    mine.is_none_or(|mine| other.is_some_and(|other| mine >= other))
}

impl fmt::Display for Case {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut first = true;
        let mut part = |f: &mut fmt::Formatter<'_>, text: fmt::Arguments<'_>| {
            if !std::mem::take(&mut first) {
                f.write_str(", ")?;
            }
            f.write_fmt(text)
        };
        if let Some(stories) = self.stories {
            part(
                f,
                format_args!("{stories} {}", if stories == 1 { "story" } else { "stories" }),
            )?;
        }
        if let Some(weight) = self.weight {
            part(
                f,
                format_args!(
                    "{} house",
                    if weight == WeightCase::Heavy {
                        "heavy"
                    } else {
                        "other"
                    }
                ),
            )?;
        }
        if let Some(diameter) = self.diameter {
            part(f, format_args!("{diameter} anchors"))?;
        }
        if let Some(over) = self.piece_over {
            part(f, format_args!("sill pieces over {over}"))?;
        }
        if let Some(up_to) = self.piece_up_to {
            part(f, format_args!("sill pieces up to {up_to}"))?;
        }
        if let Some(over) = self.stud_over {
            part(f, format_args!("studs over {over}"))?;
        }
        if let Some(up_to) = self.stud_up_to {
            part(f, format_args!("studs up to {up_to}"))?;
        }
        Ok(())
    }
}

/// A confirmation of a figure by somebody who has the document.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Attestation {
    /// The document seen.
    pub document: String,
    /// Its edition.
    pub edition: String,
    /// The page or table.
    pub page: String,
    /// Who saw it.
    pub by: String,
    /// When.
    pub on: String,
}

/// Where figures come from: one row of a source sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Source {
    /// The short key by which rows refer to it.
    pub key: String,
    /// The document.
    pub document: String,
    /// Its edition.
    pub edition: String,
    /// Who publishes it.
    pub publisher: String,
    /// Where it was seen.
    pub seen_at: String,
    /// When it was seen.
    pub seen_on: String,
    /// Anything else.
    pub note: String,
}

/// One figure of a set of provisions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// Which figure it is.
    pub name: FigureName,
    /// The case it belongs to.
    pub case: Case,
    /// What the row says.
    pub content: Content,
    /// Its source.
    pub source: Source,
    /// Section or table in the source.
    pub section: String,
    /// A note for the reader.
    pub note: String,
    /// Who confirmed it, when somebody did.
    pub attested: Option<Attestation>,
    /// The table file and line it was read from.
    pub row: String,
}

impl Figure {
    /// The value, when the row gives one.
    pub fn value(&self) -> Option<Value> {
        match self.content {
            Content::Value(value, ..) => Some(value),
            Content::Missing | Content::None => None,
        }
    }

    /// How well its source was seen, when the row gives a value. A confirmation raises a standing and never
    /// lowers one.
    pub fn standing(&self) -> Option<Standing> {
        match self.content {
            Content::Value(_, _, standing) if self.attested.is_some() => {
                Some(standing.min(Standing::Attested))
            }
            Content::Value(_, _, standing) => Some(standing),
            Content::Missing | Content::None => None,
        }
    }

    /// Whether it has to be looked up before anyone leans on it: nobody has seen it in its document.
    pub fn is_to_confirm(&self) -> bool {
        match self.standing() {
            Some(standing) => standing > Standing::Attested,
            None => matches!(self.content, Content::Missing),
        }
    }

    /// Document, edition and section in one line.
    pub fn clause(&self) -> String {
        let mut clause = self.source.document.clone();
        for part in [&self.source.edition, &self.section] {
            if !part.is_empty() {
                clause.push_str(", ");
                clause.push_str(part);
            }
        }
        clause
    }

    /// The figure's name and case in one line, such as `largest anchor spacing (1 story, 1/2" anchors)`.
    pub fn title(&self) -> String {
        if self.case == Case::default() {
            self.name.words().to_owned()
        } else {
            format!("{} ({})", self.name.words(), self.case)
        }
    }
}

/// The position of a figure in its set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FigureId(pub(super) u16);

impl FigureId {
    /// Its number in the set.
    pub(crate) const fn number(self) -> u16 {
        self.0
    }
}
