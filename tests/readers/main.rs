//! The pages for owners and assessors, for every example house and in every language: that they are complete, plain,
//! in order, honest, and say no number that the result does not hold.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod command;
mod crew;
mod numbers;
mod plain_language;
mod visible;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use retrofit_core::check::{Group, LookAt, REGISTRY, Ruling};
use retrofit_core::choice::Choice;
use retrofit_core::house::{AsBuilt, House};
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::Library;
use retrofit_report::language::{Language, Words};
use retrofit_report::look::Look;
use retrofit_report::readers::{HouseResult, OwnerPage, Part, Reader};
use retrofit_report::result::ReportInfo;

const TWIN: &str = ".twin";

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples")
}

/// Every example house, twins too, by name.
fn names() -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(examples())
        .unwrap()
        .filter_map(|entry| {
            let name = entry.unwrap().file_name().into_string().unwrap();
            name.strip_suffix(".json").map(str::to_owned)
        })
        .collect();
    names.sort();
    assert!(names.len() > 20, "{names:?}");
    names
}

fn result_under(text: &str, set: &str) -> HouseResult {
    let house: House = serde_json::from_str(text).unwrap();
    let house = AsBuilt::new(house).expect("the record makes sense");
    let provisions = Library::shipped()
        .set(set)
        .expect("the shipped tables are in order");
    let info = ReportInfo::of_input("0.0.0", "house.json", text.as_bytes());
    HouseResult::new(&house, &provisions, UnitPrices::placeholder(), None, &info)
}

fn result(name: &str) -> HouseResult {
    let text = std::fs::read_to_string(examples().join(format!("{name}.json"))).unwrap();
    result_under(&text, Library::DEFAULT_SET)
}

fn every_language() -> Vec<Words> {
    Language::all()
        .into_iter()
        .map(|language| Words::of(language).expect("every file is in order"))
        .collect()
}

/// Calls back with every page for owners and assessors of every example.
fn each_page(look: impl FnMut(&str, &HouseResult, Reader, &Words)) {
    each_page_of(&[Reader::Owner, Reader::Assessor], look);
}

/// Calls back with every page for some readers of every example.
fn each_page_of(readers: &[Reader], mut look: impl FnMut(&str, &HouseResult, Reader, &Words)) {
    let words = every_language();
    for name in names() {
        let result = result(&name);
        for words in &words {
            for reader in readers {
                look(&name, &result, *reader, words);
            }
        }
    }
}

#[test]
fn every_check_has_words_in_every_language() {
    for words in every_language() {
        for check in REGISTRY {
            let amiss = if check.group == Group::Applicability {
                "outside"
            } else {
                "short"
            };
            for attribute in ["title", amiss, "unknown", "why", "fix"] {
                let key = format!("{}.{attribute}", check.name);
                let said = words.term(&key).unwrap();
                let is_sentence = said.ends_with('.');
                assert_eq!(
                    is_sentence,
                    attribute != "title",
                    "{}: {key}: {said}",
                    words.language()
                );
            }
        }
    }
}

#[test]
fn every_observation_has_words_in_every_language() {
    for words in every_language() {
        for look_at in LookAt::ALL {
            let path = look_at.spelling().replace("[]", "").replace(['.', '_'], "-");
            let said = words.term(&format!("look-{path}")).unwrap();
            assert!(!said.ends_with('.'), "{said}");
        }
    }
}

/// Whatever looks like the key of a message in the source of the pages is one.
#[test]
fn every_key_in_the_source_is_a_message() {
    let words = Words::of(Language::ENGLISH).unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/readers");
    let not_keys = ["not-seen", "not-met", "not-determined", "not-applicable"];
    let mut keys = 0;
    for file in std::fs::read_dir(folder).unwrap() {
        let path = file.unwrap().path();
        let source = std::fs::read_to_string(&path).unwrap();
        let source = source.split("#[cfg(test)]").next().unwrap();
        for literal in source.split('"').skip(1).step_by(2) {
            let is_key = literal.contains('-')
                && literal
                    .bytes()
                    .all(|byte| byte.is_ascii_lowercase() || matches!(byte, b'-' | b'.'))
                && !literal.ends_with('-');
            if is_key && !not_keys.contains(&literal) {
                assert!(words.has(literal), "{}: {literal}", path.display());
                keys += 1;
            }
        }
    }
    assert!(keys > 100, "{keys}");
}

/// Calls back with every example that is no twin under every set of provisions.
fn each_set(mut look: impl FnMut(&str, &str, &HouseResult)) {
    let ids = Library::shipped().ids();
    assert!(ids.len() > 5);
    for name in names().iter().filter(|name| !name.ends_with(TWIN)) {
        let text = std::fs::read_to_string(examples().join(format!("{name}.json"))).unwrap();
        for id in &ids {
            look(name, id, &result_under(&text, id));
        }
    }
}

#[test]
fn every_house_has_its_pages_under_every_set() {
    let words = every_language();
    each_set(|name, id, result| {
        for words in &words {
            for reader in [Reader::Owner, Reader::Assessor] {
                result
                    .page_for(reader, words, Look::shipped())
                    .unwrap_or_else(|error| panic!("{name} under {id}: {error}"));
            }
        }
    });
}

#[test]
fn the_owner_is_told_in_this_order() {
    let order = ["found", "why", "next", "cost", "not-seen", "questions"];
    each_page(|name, result, reader, words| {
        if reader != Reader::Owner {
            return;
        }
        let page = OwnerPage::new(result, words).unwrap();
        let ids: Vec<&str> = page.sections.iter().map(|section| section.id.as_str()).collect();
        assert_eq!(ids, order, "{name}");
        assert!(
            page.sections.iter().all(|section| !section.parts.is_empty()),
            "{name}"
        );
        let html = result.page_for(reader, words, Look::shipped()).unwrap().html;
        let places = order.map(|id| html.find(&format!("<section id=\"{id}\">")).unwrap());
        assert!(places.is_sorted(), "{name}");
    });
}

/// Each check that falls short is on the owner's page, and no other.
#[test]
fn the_owner_is_told_of_everything_that_falls_short() {
    let words = Words::of(Language::ENGLISH).unwrap();
    for name in names() {
        let result = result(&name);
        let places = std::iter::once(&result.report.whole_house)
            .chain(result.report.wall_lines.iter().map(|line| &line.findings));
        let rows: Vec<_> = places.flat_map(|place| &place.rows).collect();
        let checks_that = |is_wanted: fn(Ruling) -> bool| -> BTreeSet<&str> {
            let wanted = rows.iter().filter(|row| is_wanted(row.ruling));
            wanted.map(|row| row.check.as_str()).collect()
        };
        let short = checks_that(|ruling| matches!(ruling, Ruling::NotMet | Ruling::Outside));
        let page = OwnerPage::new(&result, &words).unwrap();
        let told: BTreeSet<String> = page.sections[0]
            .parts
            .iter()
            .filter_map(|part| match part {
                Part::List { items } => Some(items),
                _ => None,
            })
            .flatten()
            .filter(|item| item.ruling.is_some())
            .map(|item| item.passage.text())
            .collect();
        let expected: BTreeSet<String> = short
            .iter()
            .map(|check| {
                let short = format!("{check}.short");
                let key = if words.has(&short) {
                    short
                } else {
                    format!("{check}.outside")
                };
                words.term(&key).unwrap()
            })
            .collect();
        assert_eq!(told, expected, "{name}");
        let open = checks_that(|ruling| ruling == Ruling::NotDetermined);
        let html = result
            .page_for(Reader::Owner, &words, Look::shipped())
            .unwrap()
            .html;
        assert_eq!(
            html.contains(&words.term("owner-some-unknown").unwrap()[..30]),
            !open.is_empty(),
            "{name}"
        );
        let has_no_weak_place = html.contains(&words.term("owner-why-nothing").unwrap());
        assert_eq!(has_no_weak_place, short.is_empty() && open.is_empty(), "{name}");
    }
}

#[test]
fn placeholder_prices_and_missing_layouts_are_told() {
    let words = Words::of(Language::ENGLISH).unwrap();
    let (mut partly, mut whole) = (0, 0);
    for name in names() {
        let result = result(&name);
        let text = visible::text(
            &result
                .page_for(Reader::Owner, &words, Look::shipped())
                .unwrap()
                .html,
        );
        let says = |key: &str| text.contains(&words.term(key).unwrap());
        if says("cost-none-possible") || says("cost-no-work") {
            continue;
        }
        assert!(says("cost-placeholders"), "{name}");
        let is_partly = !result.worksheet.is_complete || !result.takeoff.not_counted.is_empty();
        assert_eq!(says("cost-partly"), is_partly, "{name}");
        if is_partly { partly += 1 } else { whole += 1 }
    }
    assert!(partly > 0 && whole > 0, "{partly} and {whole}");
}

#[test]
fn hostile_text_is_shown_as_text() {
    let hostile = "</title><script>alert(1)</script><img src=x onerror=alert(2)>{{ 123456 * 2 }}";
    let house = serde_json::json!({
        "format": "house-1",
        "name": hostile,
        "inspection": {"observer": hostile},
        "wall_lines": [
            {"name": hostile, "length": {"measured": "24'-0\""}, "anchors": [], "note": hostile,
             "unseen": [{"why": hostile}]},
            {"name": "north", "length": {"measured": "24'-0\""}},
        ],
    });
    let result = result_under(&house.to_string(), Library::DEFAULT_SET);
    for words in every_language() {
        for reader in [Reader::Owner, Reader::Assessor, Reader::Crew] {
            let page = result.page_for(reader, &words, Look::shipped()).unwrap();
            assert!(!page.html.contains("<script"), "{}", page.html);
            assert!(!page.html.contains("<img"));
            assert!(!page.html.contains("246912") && page.html.contains("{{ 123456"));
            assert!(page.html.contains("<bdi>&lt;"));
            assert!(!page.markdown.replace("\\<", "").contains('<'));
        }
    }
}

#[test]
fn the_page_names_its_language_and_that_of_the_rules() {
    let result = result("quince-lantern-way");
    for words in every_language() {
        let tag = words.language().tag();
        let html = result
            .page_for(Reader::Owner, &words, Look::shipped())
            .unwrap()
            .html;
        assert!(html.contains(&format!("<html lang=\"{tag}\">")));
        assert_eq!(html.contains("<dd lang=\"en\">"), tag != "en");
        assert!(html.contains("Content-Security-Policy"));
    }
}
