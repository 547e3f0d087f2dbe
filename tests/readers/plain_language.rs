//! Whether the owner's page is plain: counted by the published rules, with syllables from published word lists.
//!
//! Flesch reading ease and Flesch-Kincaid grade for English, Fernández Huerta for Spanish. The counting rules are those
//! of insurance law (Code of Maryland Regulations 31.10.02.03): a contraction, a hyphenated word or a number between
//! spaces is one word; a unit that ends in a period, semicolon or colon is a sentence; headings, captions and tables do
//! not count; of several pronunciations the one with fewer syllables counts. Question and exclamation marks end a
//! sentence too, as does the end of a paragraph.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use retrofit_report::language::Words;
use retrofit_report::look::Look;
use retrofit_report::readers::{OwnerPage, Part, Passage, Reader, TERMS};

use super::{each_page, each_set, every_language, visible};

/// How much there is of a text.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Counted {
    words: f64,
    sentences: f64,
    syllables: f64,
}

impl Counted {
    fn words_per_sentence(self) -> f64 {
        self.words / self.sentences
    }

    /// Flesch reading ease: Maryland COMAR 31.10.02.03; Ohio Revised Code 3902.04.
    fn reading_ease(self) -> f64 {
        206.835 - 1.015 * self.words_per_sentence() - 84.6 * (self.syllables / self.words)
    }

    /// Flesch-Kincaid grade.
    fn grade(self) -> f64 {
        0.39 * self.words_per_sentence() + 11.8 * (self.syllables / self.words) - 15.59
    }

    /// Fernández Huerta reading ease of Spanish, by syllables in a hundred words.
    fn spanish_reading_ease(self) -> f64 {
        206.84 - 1.02 * self.words_per_sentence() - 0.60 * (100.0 * self.syllables / self.words)
    }
}

fn folder() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/readers")
}

/// The syllables of words, from the list of a language.
fn syllables(language: &str) -> BTreeMap<String, f64> {
    let path = folder().join(format!("syllables.{language}.csv"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let list = text
        .lines()
        .filter(|line| !line.starts_with('#') && *line != "word,syllables");
    list.map(|line| {
        let (word, count) = line.split_once(',').expect("a word and a count");
        (word.to_owned(), count.parse().expect("a count"))
    })
    .collect()
}

/// A word without the marks around it, in lower case.
fn bare(word: &str) -> String {
    word.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase()
}

/// Counts blocks of prose; the error is the words that are not on the list.
fn count(prose: &[String], list: &BTreeMap<String, f64>) -> Result<Counted, BTreeSet<String>> {
    let mut counted = Counted::default();
    let mut missing = BTreeSet::new();
    for block in prose {
        let mut is_in_sentence = false;
        for word in block.split_whitespace() {
            let bare = bare(word);
            if !bare.is_empty() {
                counted.words += 1.0;
                is_in_sentence = true;
                if bare.starts_with(|c: char| c.is_ascii_digit()) {
                    #[expect(clippy::cast_precision_loss, reason = "a handful of digits")]
                    let digits = bare.chars().filter(char::is_ascii_digit).count() as f64;
                    counted.syllables += digits;
                } else {
                    // A hyphenated word is one word with the syllables of its parts.
                    for part in bare.split('-') {
                        match list.get(part) {
                            Some(count) => counted.syllables += count,
                            None => {
                                missing.insert(part.to_owned());
                            }
                        }
                    }
                }
            }
            let end = word.trim_end_matches(['"', '\'', ')', '»', '”']);
            if is_in_sentence && end.ends_with(['.', ';', ':', '?', '!']) {
                counted.sentences += 1.0;
                is_in_sentence = false;
            }
        }
        if is_in_sentence {
            counted.sentences += 1.0;
        }
    }
    if missing.is_empty() {
        Ok(counted)
    } else {
        Err(missing)
    }
}

fn prose(html: &str) -> Vec<String> {
    let blocks = visible::blocks(html).into_iter().filter(|block| block.is_prose);
    blocks.map(|block| block.text).collect()
}

#[test]
fn every_owner_page_is_plain() {
    let mut pages = 0;
    let mut missing: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    let mut faults = Vec::new();
    each_page(|name, result, reader, words| {
        if reader != Reader::Owner {
            return;
        }
        let language = words.language().tag();
        let html = result.page_for(reader, words, Look::shipped()).unwrap().html;
        let prose = prose(&html);
        assert!(prose.len() > 20, "{name}: {prose:?}");
        let counted = match count(&prose, &syllables(language)) {
            Ok(counted) => counted,
            Err(words) => {
                missing.entry(language).or_default().extend(words);
                return;
            }
        };
        let (ease, grade) = match language {
            "en" => (counted.reading_ease(), counted.grade()),
            "es" => (counted.spanish_reading_ease(), 0.0),
            other => panic!("no formula is known here for {other}; add the published one"),
        };
        if ease < 60.0 || grade > 8.0 || counted.words_per_sentence() >= 20.0 {
            faults.push(format!(
                "{name}, {language}: ease {ease:.1}, grade {grade:.1}, {:.1} words a sentence",
                counted.words_per_sentence()
            ));
        }
        pages += 1;
    });
    assert!(
        missing.is_empty(),
        "words without syllables; see tests/readers/syllables.py: {missing:?}"
    );
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(pages > 40, "{pages}");
}

/// Test vectors: one sentence of 6 words with 6 syllables, and one of 13 words with 26, as a published open-source
/// implementation and arithmetic from the published formulas give them.
#[test]
fn the_formulas_give_the_published_values() {
    let of = |words, syllables| Counted {
        words,
        sentences: 1.0,
        syllables,
    };
    let close = |a: f64, b: f64| (a - b).abs() < 0.01;
    assert!(close(of(6.0, 6.0).reading_ease(), 116.145));
    assert!(close(of(6.0, 6.0).grade(), -1.45));
    assert!(close(of(13.0, 26.0).reading_ease(), 24.44));
    assert!(close(of(13.0, 26.0).grade(), 13.08));
    assert!(close(
        of(10.0, 20.0).spanish_reading_ease(),
        206.84 - 10.2 - 120.0
    ));
}

#[test]
fn words_and_sentences_are_counted_by_the_published_rules() {
    let list = BTreeMap::from(
        [
            ("it's", 1.0),
            ("a", 1.0),
            ("well", 1.0),
            ("known", 1.0),
            ("rule", 1.0),
            ("yes", 1.0),
        ]
        .map(|(word, count)| (word.to_owned(), count)),
    );
    let counted = count(
        &["It's a well-known rule: yes; 42 a.".to_owned(), "Yes".to_owned()],
        &list,
    )
    .unwrap();
    assert_eq!(
        counted,
        Counted {
            words: 8.0,
            sentences: 4.0,
            syllables: 10.0
        }
    );
    assert!(count(&["Anchorage".to_owned()], &list).is_err());
}

#[test]
fn hard_prose_does_not_pass() {
    let list = BTreeMap::from(
        [
            ("inadequate", 4.0),
            ("anchorage", 3.0),
            ("necessitates", 5.0),
            ("remediation", 5.0),
        ]
        .map(|(word, count)| (word.to_owned(), count)),
    );
    let hard = count(
        &["Inadequate anchorage necessitates remediation.".to_owned()],
        &list,
    )
    .unwrap();
    assert!(hard.reading_ease() < 60.0 && hard.grade() > 8.0);
}

/// The passages of a page, in the order in which they are read.
fn passages(page: &OwnerPage) -> Vec<&Passage> {
    let mut passages = Vec::new();
    for part in page
        .sections
        .iter()
        .chain([&page.about])
        .flat_map(|section| &section.parts)
    {
        match part {
            Part::Paragraph { passage } | Part::Warning { passage } => passages.push(passage),
            Part::List { items } => passages.extend(items.iter().map(|item| &item.passage)),
            Part::Picture { picture } => passages.extend(&picture.caption),
            Part::Heading { .. } | Part::Figure { .. } => {}
        }
    }
    passages
}

/// Whether a word or words stand in a text as a whole.
fn has_word(text: &str, word: &str) -> bool {
    let text = text.to_lowercase();
    let is_letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    text.match_indices(word).any(|(at, _)| {
        !is_letter(text[..at].chars().next_back()) && !is_letter(text[at + word.len()..].chars().next())
    })
}

#[test]
fn every_term_is_explained_where_it_is_first_used() {
    let languages = every_language();
    let mut explained_somewhere = BTreeSet::new();
    each_set(|name, id, result| {
        for words in &languages {
            let page = OwnerPage::new(result, words).unwrap();
            let passages = passages(&page);
            for key in TERMS {
                let forms = words.term(key).unwrap();
                let meaning = words.term(&format!("{key}.meaning")).unwrap();
                let is_use = |passage: &&&Passage| {
                    passage.meanings.contains(&meaning) || uses_alone(passage, &forms, words)
                };
                if let Some(first) = passages.iter().find(is_use) {
                    assert!(
                        first.meanings.contains(&meaning),
                        "{name} under {id}, {}: {key} is not explained at {:?}",
                        words.language(),
                        first.text()
                    );
                    explained_somewhere.insert((words.language(), key));
                }
                let headings = page.sections.iter().map(|section| section.heading.as_str());
                for heading in headings.chain([page.headline.as_str()]) {
                    let is_used = forms.split('|').any(|form| has_word(heading, form));
                    assert!(!is_used, "{key} stands in a heading: {heading}");
                }
            }
        }
    });
    let everywhere: BTreeSet<_> = every_language()
        .iter()
        .flat_map(|words| TERMS.map(|key| (words.language(), key)))
        .collect();
    let never: Vec<_> = everywhere.difference(&explained_somewhere).collect();
    assert!(never.is_empty(), "no example uses {never:?}");
}

/// Whether a passage uses a form that is not part of a longer term.
fn uses_alone(passage: &Passage, forms: &str, words: &Words) -> bool {
    let mut text = passage.text().to_lowercase();
    let longer = TERMS.iter().flat_map(|key| {
        let other = words.term(key).unwrap();
        other.split('|').map(str::to_owned).collect::<Vec<_>>()
    });
    for other in longer {
        let is_longer = forms
            .split('|')
            .any(|form| other != form && has_word(&other, form));
        if is_longer {
            text = text.replace(&other, "");
        }
    }
    forms.split('|').any(|form| has_word(&text, form))
}

/// Words of the trade that an owner is never told, except where the glossary explains them.
#[test]
fn no_word_of_the_jargon_list_is_used() {
    each_page(|name, result, reader, words| {
        if reader != Reader::Owner {
            return;
        }
        let language = words.language();
        let jargon = std::fs::read_to_string(folder().join(format!("jargon.{language}.txt"))).unwrap();
        let html = result.page_for(reader, words, Look::shipped()).unwrap().html;
        let meanings: Vec<String> = TERMS
            .iter()
            .map(|key| words.term(&format!("{key}.meaning")).unwrap())
            .collect();
        let mut text = prose(&html).join("\n");
        for meaning in meanings {
            text = text.replace(&meaning, "");
        }
        let mut listed = 0;
        for word in jargon
            .lines()
            .filter(|line| !line.starts_with('#') && !line.is_empty())
        {
            assert!(!has_word(&text, word), "{name}, {language}: {word}");
            listed += 1;
        }
        assert!(listed > 20);
    });
}

/// No page calls a house safe, or promises anything.
#[test]
fn no_page_promises_anything() {
    let never = [
        "safe",
        "safely",
        "safety",
        "will survive",
        "earthquake-proof",
        "guarantee",
        "guaranteed",
        "certified",
        "segura de terremotos",
        "es segura",
        "está segura",
        "casa segura",
        "a salvo",
        "sobrevivirá",
        "resistirá",
        "a prueba de terremotos",
        "garantiza",
        "garantizado",
    ];
    each_page(|name, result, reader, words| {
        let page = result.page_for(reader, words, Look::shipped()).unwrap();
        let text = visible::text(&page.html);
        for word in never {
            assert!(!has_word(&text, word), "{name}, {}: {word}", words.language());
            assert!(!has_word(&page.markdown, word), "{name}: {word}");
        }
    });
}
