//! The languages of what owners, crews and assessors read.
//!
//! A language is a folder of message files under `locales`: to add one is to add a folder. Every message is a whole
//! sentence or term, with its plurals inside it, so that nothing is put together from parts that another language
//! would put in another order. Text that a user wrote is never part of a message: a page shows it beside one, in an
//! element of its own.
//!
//! ```
//! use retrofit_report::language::{Language, Words};
//! let words = Words::of(Language::named("es")?)?;
//! assert_eq!(words.say("sides-counted", &[("count", 1.into())])?, "1 lado");
//! assert_eq!(words.say("sides-counted", &[("count", 4.into())])?, "4 lados");
//! # Ok::<(), retrofit_report::language::LanguageError>(())
//! ```

use std::fmt;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentError, FluentResource};
use include_dir::{Dir, include_dir};
use retrofit_core::choice::nearest;
use retrofit_core::measure::Length;
use thiserror::Error;
use unic_langid::LanguageIdentifier;

use crate::result::wording;

/// What a message is given: a number, which chooses among plurals, or a text.
pub use fluent_bundle::FluentValue as Value;

static LOCALES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/locales");

/// The length of a meter.
const METER: Length = Length::millimeters(1000);

/// A language that pages are written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Language {
    tag: &'static str,
}

/// Why something cannot be said in a language.
#[derive(Debug, Error)]
pub enum LanguageError {
    /// No folder of messages has this name.
    #[error("language: found `{found}`; expected one of {}{}", .known.join(", "), hint(*.nearest))]
    UnknownLanguage {
        /// What was asked for.
        found: String,
        /// The languages there are.
        known: Vec<&'static str>,
        /// The one that is spelled most like it.
        nearest: Option<&'static str>,
    },
    /// A file of messages that cannot be read.
    #[error("locales/{file}: {problem}")]
    Broken {
        /// The file, from the folder of all languages.
        file: String,
        /// What is wrong with it.
        problem: String,
    },
    /// A message that this language does not have.
    #[error("locales/{language}: found no message `{key}`; expected one in every language")]
    MissingMessage {
        /// The language.
        language: Language,
        /// The message, and its attribute behind a point.
        key: String,
    },
    /// A message that cannot be put together from what it was given.
    #[error("locales/{language}: message `{key}`: {problem}")]
    Unsaid {
        /// The language.
        language: Language,
        /// The message, and its attribute behind a point.
        key: String,
        /// What it lacks.
        problem: String,
    },
}

fn hint(nearest: Option<&str>) -> String {
    nearest.map_or_else(String::new, |nearest| format!("; did you mean `{nearest}`?"))
}

impl Language {
    /// The language of those who ask for none.
    pub const ENGLISH: Self = Self { tag: "en" };

    /// Every language there is, by its tag.
    pub fn all() -> Vec<Self> {
        let mut all: Vec<Self> = LOCALES
            .dirs()
            .filter_map(|folder| folder.path().to_str())
            .map(|tag| Self { tag })
            .collect();
        all.sort_unstable();
        all
    }

    /// The language of a tag, such as `en` or `es`; the error names those there are.
    pub fn named(tag: &str) -> Result<Self, LanguageError> {
        let all = Self::all();
        let found = all.iter().find(|language| language.tag.eq_ignore_ascii_case(tag));
        found.copied().ok_or_else(|| LanguageError::UnknownLanguage {
            found: wording::plain(tag),
            nearest: nearest(tag, all.iter().map(|language| language.tag)),
            known: all.iter().map(|language| language.tag).collect(),
        })
    }

    /// Its tag, as a web page names its language.
    pub const fn tag(self) -> &'static str {
        self.tag
    }

    /// The files of its messages, each with its name.
    fn files(self) -> impl Iterator<Item = (&'static str, Option<&'static str>)> {
        let folder = LOCALES.get_dir(self.tag);
        let files = folder.into_iter().flat_map(Dir::files);
        files.map(|file| (file.path().to_str().unwrap_or_default(), file.contents_utf8()))
    }
}

impl fmt::Display for Language {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.tag)
    }
}

/// Everything that can be said in one language.
pub struct Words {
    language: Language,
    bundle: FluentBundle<FluentResource>,
}

impl fmt::Debug for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Words")
            .field("language", &self.language)
            .finish_non_exhaustive()
    }
}

impl Words {
    /// The words of a language. The error is a defect of its files, which a test finds.
    pub fn of(language: Language) -> Result<Self, LanguageError> {
        let broken = |file: &str, problem: String| LanguageError::Broken {
            file: file.to_owned(),
            problem,
        };
        let tag: LanguageIdentifier = language
            .tag
            .parse()
            .map_err(|error| broken(language.tag, format!("not the tag of a language: {error}")))?;
        let mut bundle = FluentBundle::new_concurrent(vec![tag]);
        // Marks that keep directions of writing apart would stand between digits and in file names; pages keep
        // what a user wrote apart by elements of their own.
        bundle.set_use_isolating(false);
        for (file, text) in language.files() {
            let text = text.ok_or_else(|| broken(file, "found bytes that are not UTF-8".to_owned()))?;
            let messages = FluentResource::try_new(text.to_owned()).map_err(|(_, errors)| {
                let first = errors.first();
                broken(file, first.map_or_else(String::new, ToString::to_string))
            })?;
            bundle
                .add_resource(messages)
                .map_err(|errors| broken(file, first_of(&errors)))?;
        }
        Ok(Self { language, bundle })
    }

    /// The language.
    pub const fn language(&self) -> Language {
        self.language
    }

    /// Says a message, or an attribute of one (`message.attribute`), with what it speaks of.
    ///
    /// A number chooses among the plurals of the message. Text of a user has no place here.
    pub fn say(&self, key: &str, with: &[(&str, Value<'_>)]) -> Result<String, LanguageError> {
        let missing = || LanguageError::MissingMessage {
            language: self.language,
            key: key.to_owned(),
        };
        let pattern = match key.split_once('.') {
            None => self.bundle.get_message(key).and_then(|message| message.value()),
            Some((key, attribute)) => self
                .bundle
                .get_message(key)
                .and_then(|message| message.get_attribute(attribute))
                .map(|attribute| attribute.value()),
        };
        let pattern = pattern.ok_or_else(missing)?;
        let with: FluentArgs<'_> = with.iter().map(|(name, value)| (*name, value.clone())).collect();
        let mut errors = Vec::new();
        let said = self.bundle.format_pattern(pattern, Some(&with), &mut errors);
        if errors.is_empty() {
            Ok(said.into_owned())
        } else {
            Err(LanguageError::Unsaid {
                language: self.language,
                key: key.to_owned(),
                problem: first_of(&errors),
            })
        }
    }

    /// Says a message that speaks of nothing that varies.
    pub fn term(&self, key: &str) -> Result<String, LanguageError> {
        self.say(key, &[])
    }

    /// Whether there is such a message, or such an attribute of one.
    pub fn has(&self, key: &str) -> bool {
        match key.split_once('.') {
            None => self.bundle.has_message(key),
            Some((key, attribute)) => self
                .bundle
                .get_message(key)
                .is_some_and(|message| message.get_attribute(attribute).is_some()),
        }
    }

    /// A length as a tape in feet and inches shows it.
    pub fn length(&self, length: Length) -> String {
        wording::length(length)
    }

    /// A length somebody measures out: in feet and inches and, for readers of a language that thinks in meters, in
    /// those too, to the nearest centimeter.
    pub fn length_to_act_on(&self, length: Length) -> Result<String, LanguageError> {
        let shown = wording::length(length);
        if self.term("lengths-in-meters-too")? != "yes" {
            return Ok(shown);
        }
        let meters = in_meters(length);
        self.say(
            "length-with-meters",
            &[("length", shown.into()), ("meters", meters.into())],
        )
    }
}

/// A length in meters with two decimals, rounded half away from zero.
fn in_meters(length: Length) -> String {
    let hundredth = METER.nanometers() / 100;
    let sign = if length < Length::ZERO { "-" } else { "" };
    let nanometers = length.nanometers().unsigned_abs();
    let hundredths = (nanometers + hundredth.unsigned_abs() / 2) / hundredth.unsigned_abs();
    format!("{sign}{}.{:02}", hundredths / 100, hundredths % 100)
}

fn first_of(errors: &[FluentError]) -> String {
    errors.first().map_or_else(String::new, ToString::to_string)
}

#[cfg(test)]
mod tests;
