//! Text in which every term is explained where a page first uses it.

use schemars::JsonSchema;
use serde::Serialize;

use crate::language::{LanguageError, Value, Words};

/// The terms of the glossary, by the keys of their messages.
pub const TERMS: [&str; 18] = [
    "term-foundation",
    "term-crawl-space",
    "term-side",
    "term-sill",
    "term-bolt",
    "term-short-wall",
    "term-panel",
    "term-plywood",
    "term-stud",
    "term-top-plate",
    "term-joist",
    "term-footing",
    "term-washer",
    "term-clip",
    "term-vent",
    "term-slab",
    "term-building-department",
    "term-bid",
];

/// Some sentences, with what the terms in them mean.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Passage {
    /// The sentences, in pieces: a term that is explained here is a piece of its own.
    pub pieces: Vec<Piece>,
    /// What the terms mean, a sentence or two for each, in the order in which they stand in the text.
    pub meanings: Vec<String>,
}

/// A piece of text.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Piece {
    /// The text.
    pub text: String,
    /// Whether it is a term that is explained here.
    pub is_explained: bool,
}

impl Passage {
    /// A text in which nothing is explained.
    pub fn plain(text: String) -> Self {
        Self {
            pieces: vec![Piece {
                text,
                is_explained: false,
            }],
            meanings: Vec::new(),
        }
    }

    /// The sentences without what the terms mean.
    pub fn text(&self) -> String {
        self.pieces.iter().map(|piece| piece.text.as_str()).collect()
    }
}

/// Says messages one after the other, in the order in which a page is read, and explains each term once.
#[derive(Debug)]
pub(super) struct Speaker<'a> {
    words: &'a Words,
    /// The terms that were not used yet.
    unexplained: Vec<Term>,
}

#[derive(Debug)]
struct Term {
    forms: Vec<String>,
    meaning: String,
}

/// Where a term stands in a text: begin and end, and the position of the term.
type Found = (usize, usize, usize);

impl<'a> Speaker<'a> {
    pub(super) fn new(words: &'a Words) -> Result<Self, LanguageError> {
        let term = |key: &&str| -> Result<Term, LanguageError> {
            let forms = words.term(key)?;
            Ok(Term {
                forms: forms.split('|').map(|form| form.trim().to_lowercase()).collect(),
                meaning: words.term(&format!("{key}.meaning"))?,
            })
        };
        Ok(Self {
            words,
            unexplained: TERMS.iter().map(term).collect::<Result<_, _>>()?,
        })
    }

    pub(super) const fn words(&self) -> &'a Words {
        self.words
    }

    /// Says a message.
    pub(super) fn say(&mut self, key: &str, with: &[(&str, Value<'_>)]) -> Result<Passage, LanguageError> {
        let text = self.words.say(key, with)?;
        Ok(self.explained(&text))
    }

    /// Says a message that speaks of nothing that varies.
    pub(super) fn term(&mut self, key: &str) -> Result<Passage, LanguageError> {
        self.say(key, &[])
    }

    /// A text with the terms that it is the first to use.
    pub(super) fn explained(&mut self, text: &str) -> Passage {
        let mut passage = Passage::default();
        let mut rest = text;
        while let Some((from, to, position)) = self.first_in(rest) {
            let (before, term, after) = (
                rest.get(..from).unwrap_or_default(),
                rest.get(from..to).unwrap_or_default(),
                rest.get(to..).unwrap_or_default(),
            );
            passage.push(before, false);
            passage.push(term, true);
            passage.meanings.push(self.unexplained.remove(position).meaning);
            rest = after;
        }
        passage.push(rest, false);
        // A meaning may use another term; that one is then explained behind it.
        let mut next = 0;
        while let Some(meaning) = passage.meanings.get(next).cloned() {
            while let Some((_, _, position)) = self.first_in(&meaning) {
                passage.meanings.push(self.unexplained.remove(position).meaning);
            }
            next += 1;
        }
        passage
    }

    /// The first place at which a term stands that was not used yet; of two that begin there, the longer one.
    fn first_in(&self, text: &str) -> Option<Found> {
        let lower = text.to_lowercase();
        // Where lower case takes another number of bytes, places would not be those of the text.
        let lower = if lower.len() == text.len() {
            lower.as_str()
        } else {
            text
        };
        let mut first: Option<Found> = None;
        for (position, term) in self.unexplained.iter().enumerate() {
            for form in &term.forms {
                let Some(from) = whole_word(lower, form) else {
                    continue;
                };
                let to = from + form.len();
                let is_better = first.is_none_or(|(other_from, other_to, _)| {
                    from < other_from || (from == other_from && to > other_to)
                });
                if is_better {
                    first = Some((from, to, position));
                }
            }
        }
        first
    }
}

impl Passage {
    fn push(&mut self, text: &str, is_explained: bool) {
        if !text.is_empty() {
            self.pieces.push(Piece {
                text: text.to_owned(),
                is_explained,
            });
        }
    }
}

/// Where a word or words stand in a text, not as a part of another word.
fn whole_word(text: &str, word: &str) -> Option<usize> {
    let is_letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    text.match_indices(word).find_map(|(from, _)| {
        let before = text.get(..from).and_then(|before| before.chars().next_back());
        let after = text
            .get(from + word.len()..)
            .and_then(|after| after.chars().next());
        (!is_letter(before) && !is_letter(after)).then_some(from)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::Language;

    #[test]
    fn a_term_is_explained_once_where_it_is_first_used() {
        let words = Words::of(Language::ENGLISH).unwrap();
        let mut speaker = Speaker::new(&words).unwrap();
        let first = speaker.explained("The sills are rotten; the bolts are not.");
        assert_eq!(first.text(), "The sills are rotten; the bolts are not.");
        let explained: Vec<&str> = first
            .pieces
            .iter()
            .filter(|piece| piece.is_explained)
            .map(|piece| piece.text.as_str())
            .collect();
        assert_eq!(explained, ["sills", "bolts"]);
        // Both meanings speak of the foundation, which nobody has explained yet.
        assert_eq!(first.meanings.len(), 3);
        let again = speaker.explained("Every sill and every bolt.");
        assert_eq!(again.pieces.len(), 1);
        assert!(again.meanings.is_empty());
    }

    #[test]
    fn the_longer_of_two_terms_counts_and_a_part_of_a_word_does_not() {
        let words = Words::of(Language::named("es").unwrap()).unwrap();
        let mut speaker = Speaker::new(&words).unwrap();
        let passage = speaker.explained("Solera de arriba; la panelería no.");
        assert_eq!(passage.pieces[0].text, "Solera de arriba");
        assert!(passage.meanings[0].starts_with("La solera de arriba"));
        assert_eq!(whole_word("desolera", "solera"), None);
    }
}
