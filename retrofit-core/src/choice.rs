//! Closed lists of trade terms: how a term is spelled in a file, and how it reads in a sentence.
//!
//! Every list (kinds of foundation, kinds of anchor, sheathing …) is an enum made by `choices!`. The same
//! spelling serves house files, portfolio columns and tables; a spelling that is not on the list is refused
//! with the nearest one that is.

use std::fmt;
use std::marker::PhantomData;

use thiserror::Error;

/// A term from a closed list.
pub trait Choice: Copy + Eq + 'static {
    /// What the list holds, in the singular, for error messages.
    const WHAT: &'static str;
    /// Every term, in the order in which it is listed for a reader.
    const ALL: &'static [Self];
    /// The term as files spell it.
    fn spelling(self) -> &'static str;
    /// The term as a sentence says it.
    fn words(self) -> &'static str;
    /// Position in [`Choice::ALL`].
    fn index(self) -> u32;
}

/// Text that is on no list.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("found {found:?}; expected {what}: one of {expected}{hint}")]
pub struct UnknownChoice {
    found: String,
    what: &'static str,
    expected: String,
    hint: String,
}

/// Reads a term by its spelling; the error lists the valid spellings and the nearest of them.
pub fn parse_choice<T: Choice>(text: &str) -> Result<T, UnknownChoice> {
    let trimmed = text.trim();
    if let Some(term) = T::ALL.iter().find(|term| term.spelling() == trimmed) {
        return Ok(*term);
    }
    let spellings: Vec<&str> = T::ALL.iter().map(|term| term.spelling()).collect();
    Err(UnknownChoice {
        found: trimmed.chars().take(60).collect(),
        what: T::WHAT,
        hint: nearest(trimmed, spellings.iter().copied())
            .map_or_else(String::new, |near| format!("; did you mean {near:?}?")),
        expected: spellings.join(", "),
    })
}

/// The candidate nearest to a misspelled word, when one is near enough to be worth naming.
///
/// ```
/// use retrofit_core::choice::nearest;
/// assert_eq!(nearest("concret", ["concrete", "brick"]), Some("concrete"));
/// assert_eq!(nearest("zzz", ["concrete", "brick"]), None);
/// ```
pub fn nearest<'a>(found: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    // Similarity is quadratic in length; a megabyte of "spelling" has no near neighbor worth the wait.
    if found.len() > 80 {
        return None;
    }
    candidates
        .into_iter()
        .map(|candidate| (strsim::jaro_winkler(found, candidate), candidate))
        .filter(|(likeness, _)| *likeness > 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}

/// A set of terms from one list: the kinds a set of provisions allows, for instance.
///
/// ```
/// use retrofit_core::choice::Allowed;
/// use retrofit_core::house::FoundationKind;
/// let allowed: Allowed<FoundationKind> = "concrete | block".parse()?;
/// assert!(allowed.contains(FoundationKind::Concrete));
/// assert!(!allowed.contains(FoundationKind::Brick));
/// # Ok::<(), retrofit_core::choice::UnknownChoice>(())
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Allowed<T> {
    bits: u32,
    of: PhantomData<T>,
}

impl<T: Choice> Allowed<T> {
    /// The set that holds nothing.
    pub const NONE: Self = Self {
        bits: 0,
        of: PhantomData,
    };

    /// Whether the term is in the set.
    pub fn contains(self, term: T) -> bool {
        self.bits & (1 << term.index()) != 0
    }

    /// The same set with one term more.
    #[must_use]
    pub fn with(self, term: T) -> Self {
        Self {
            bits: self.bits | (1 << term.index()),
            of: PhantomData,
        }
    }

    /// The terms of the set, in the order of their list.
    pub fn iter(self) -> impl Iterator<Item = T> {
        T::ALL.iter().copied().filter(move |term| self.contains(*term))
    }
}

impl<T: Choice> std::str::FromStr for Allowed<T> {
    type Err = UnknownChoice;
    fn from_str(text: &str) -> Result<Self, UnknownChoice> {
        text.split('|')
            .try_fold(Self::NONE, |set, term| Ok(set.with(parse_choice(term)?)))
    }
}

impl<T: Choice> fmt::Display for Allowed<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (position, term) in self.iter().enumerate() {
            if position > 0 {
                f.write_str(" or ")?;
            }
            f.write_str(term.words())?;
        }
        Ok(())
    }
}

impl<T: Choice> fmt::Debug for Allowed<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Allowed({self})")
    }
}

/// Declares a closed list of trade terms: variant, spelling in files, words in sentences.
macro_rules! choices {
    (
        $(#[$meta:meta])*
        pub enum $name:ident : $what:literal {
            $($(#[$variant_meta:meta])* $variant:ident = $spelling:literal, $words:literal;)+
        }
    ) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, schemars::JsonSchema)]
        pub enum $name {
            $($(#[$variant_meta])* #[schemars(rename = $spelling)] $variant,)+
        }

        impl $crate::choice::Choice for $name {
            const WHAT: &'static str = $what;
            const ALL: &'static [Self] = &[$(Self::$variant),+];
            fn spelling(self) -> &'static str {
                match self { $(Self::$variant => $spelling),+ }
            }
            fn words(self) -> &'static str {
                match self { $(Self::$variant => $words),+ }
            }
            fn index(self) -> u32 {
                self as u32
            }
        }

        impl $crate::observation::Observable for $name {}

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad($crate::choice::Choice::words(*self))
            }
        }

        impl std::str::FromStr for $name {
            type Err = $crate::choice::UnknownChoice;
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                $crate::choice::parse_choice(text)
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str($crate::choice::Choice::spelling(*self))
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let text = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
                text.parse().map_err(serde::de::Error::custom)
            }
        }
    };
}
pub(crate) use choices;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::house::FoundationKind;

    #[test]
    fn a_misspelled_term_is_refused_with_the_nearest_valid_one() {
        let error = parse_choice::<FoundationKind>("concreet")
            .unwrap_err()
            .to_string();
        assert!(error.contains("found \"concreet\""), "{error}");
        assert!(error.contains("did you mean \"concrete\"?"), "{error}");
    }

    #[test]
    fn a_set_reads_back_what_it_was_given() {
        let set: Allowed<FoundationKind> = "brick|concrete".parse().unwrap();
        assert_eq!(
            set.iter().collect::<Vec<_>>(),
            [FoundationKind::Concrete, FoundationKind::Brick]
        );
        assert_eq!(set.to_string(), "concrete or unreinforced brick");
    }
}
