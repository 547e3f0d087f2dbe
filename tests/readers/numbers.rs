//! Every number on a page is a number of the result.

use std::collections::BTreeSet;

use retrofit_core::measure::Length;
use retrofit_report::look::Look;
use retrofit_report::readers::Reader;

use super::{each_page_of, result, visible};

/// The numbers in a text: digits with points and commas between them, without the commas of thousands and without
/// decimals that are zero.
fn numbers(text: &str) -> BTreeSet<String> {
    let is_part = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',');
    text.split(|c: char| !is_part(c))
        .filter(|run| !run.is_empty())
        .flat_map(|run| {
            // A comma between groups of three digits is one of thousands; any other stands between two numbers.
            let groups: Vec<&str> = run.trim_matches([',', '.']).split(',').collect();
            let of_thousands = groups.len() > 1
                && groups
                    .iter()
                    .skip(1)
                    .all(|group| group.trim_end_matches('.').split('.').next().unwrap().len() == 3);
            if of_thousands {
                vec![groups.concat()]
            } else {
                groups.into_iter().map(str::to_owned).collect()
            }
        })
        .map(|number| number.trim_matches('.').to_owned())
        .map(|number| number.strip_suffix(".00").map(str::to_owned).unwrap_or(number))
        .filter(|number| !number.is_empty())
        .collect()
}

/// Takes the meters in brackets out of a text, having held each against the length before it.
fn without_meters(text: &str) -> String {
    let mut rest = text;
    let mut kept = String::new();
    while let Some(end) = rest.find(" m)") {
        let begin = rest[..end].rfind(" (").expect("meters stand in brackets");
        let meters: f64 = rest[begin + 2..end].parse().expect("a number of meters");
        let before = rest[..begin].trim_start_matches('≈');
        // The longest end of the text before it that is a length.
        let length = before
            .char_indices()
            .map(|(at, _)| &before[at..])
            .filter(|tail| tail.starts_with(|c: char| c.is_ascii_digit()))
            .find_map(|tail| tail.parse::<Length>().ok())
            .unwrap_or_else(|| panic!("no length before {meters} m in {before:?}"));
        // The meter by the inch of 25.4 mm, computed here and not by the program.
        let expected = length.as_feet_f64() * 12.0 * 0.0254;
        assert!(
            (meters - expected).abs() <= 0.005 + 1e-9,
            "{length} is not {meters} m"
        );
        kept.push_str(&rest[..begin]);
        rest = &rest[end + 3..];
    }
    kept.push_str(rest);
    kept
}

/// A page without its drawings.
fn without_drawings(html: &str) -> String {
    let mut parts = html.split("<svg");
    let mut kept = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (_, after) = part.split_once("</svg>").expect("a drawing ends");
        kept.push_str(after);
    }
    kept
}

#[test]
fn every_number_on_a_page_is_one_of_the_result() {
    let mut pages = 0;
    each_page_of(&Reader::ALL, |name, result, reader, words| {
        let known = numbers(&serde_json::to_string(result).unwrap());
        let page = result.page_for(reader, words, Look::shipped()).unwrap();
        // The drawings of a worksheet have a scale of their own; `tests/drawings.rs` holds each to the layout.
        let html = match reader {
            Reader::Permit => without_drawings(&page.html),
            _ => page.html,
        };
        let texts = [visible::text(&html), page.markdown.replace('\\', "")];
        for text in texts {
            let shown = numbers(&without_meters(&text));
            assert!(!shown.is_empty(), "{name}");
            let foreign: Vec<&String> = shown.difference(&known).collect();
            assert!(
                foreign.is_empty(),
                "{name}, {}, {}: {foreign:?}",
                reader.name(),
                words.language()
            );
        }
        pages += 1;
    });
    assert!(pages > 80, "{pages}");
}

#[test]
fn a_number_that_is_not_in_the_result_is_noticed() {
    let words = retrofit_report::language::Words::of(retrofit_report::language::Language::ENGLISH).unwrap();
    let result = result("quince-lantern-way");
    let known = numbers(&serde_json::to_string(&result).unwrap());
    let html = result
        .page_for(Reader::Owner, &words, Look::shipped())
        .unwrap()
        .html;
    let rough: f64 = result.takeoff.rough_total.high.parse().unwrap();
    let shown = format!("{},{:03}", (rough / 1000.0).floor(), rough % 1000.0);
    assert!(html.contains(&shown), "{shown}");
    let wrong = visible::text(&html.replace(&shown, "987,654"));
    assert!(!numbers(&wrong).is_subset(&known));
    assert!(std::panic::catch_unwind(|| without_meters("6'-0\" (1.84 m)")).is_err());
    assert_eq!(
        without_meters("de 6'-0\" (1.83 m) a 7'-0\" (2.13 m)"),
        "de 6'-0\" a 7'-0\""
    );
}

#[test]
fn numbers_are_read_as_readers_write_them() {
    let read: Vec<String> = numbers("$4,800 to $14,400.00, 1995, 2026 and 36'-0 1/2\"; 1.5")
        .into_iter()
        .collect();
    assert_eq!(
        read,
        ["0", "1", "1.5", "14400", "1995", "2", "2026", "36", "4800"]
    );
}
