//! Tests over all formats at once.

use insta::assert_snapshot;
use pulldown_cmark::{Event, Options, Parser};
use retrofit_core::check::Ruling;
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::{Library, TableFile};
use retrofit_core::remedy::design;
use rstest::rstest;

use crate::look::{Look, SCRIPT};
use crate::result::{Comparison, Figure, Report, ReportInfo, Row, Trust, wording};
use crate::sample::{RICH, SMALL, report, report_by};
use crate::worksheet::Worksheet;
use crate::{html, json, markdown, plan, terminal};

const SET: &str = Library::DEFAULT_SET;
/// The set whose figures are mostly recalled.
const RECALLED: &str = "iebc-a3-2018";

#[test]
fn a_small_house_reads_like_this() {
    let report = report(SMALL, SET);
    assert_snapshot!(
        "small_markdown",
        markdown::render(&report, Look::shipped()).unwrap()
    );
    assert_snapshot!("small_terminal", terminal::render(&report, false));
    assert_snapshot!("small_json", json::render(&report));
}

#[test]
fn a_small_house_under_two_sets_reads_like_this() {
    let comparison = Comparison::new(&[report(SMALL, SET), report(SMALL, RECALLED)]);
    assert_snapshot!(
        "small_comparison_markdown",
        markdown::render_comparison(&comparison, Look::shipped()).unwrap()
    );
    assert_snapshot!(
        "small_comparison_terminal",
        terminal::render_comparison(&comparison, false)
    );
}

/// The work on the house that the program itself shows.
#[test]
fn the_worksheet_of_the_demo_reads_like_this() {
    let text = include_str!("../../examples/quince-lantern-way.json");
    let house = crate::input::parse_house(text).unwrap();
    let set = Library::shipped().set(SET).unwrap();
    let prices = UnitPrices::placeholder();
    let info = ReportInfo::of_input("0.0.0", "quince-lantern-way.json", text.as_bytes());
    let worksheet = Worksheet::new(&design(&house, &set, prices), &set, prices, &info);
    assert_snapshot!(
        "demo_worksheet_markdown",
        markdown::render_worksheet(&worksheet, Look::shipped()).unwrap()
    );
    assert_snapshot!(
        "demo_worksheet_terminal",
        terminal::render_worksheet(&worksheet, false)
    );
}

fn every_format(report: &Report) -> Vec<(&'static str, String)> {
    let comparison = Comparison::new(&[report.clone(), report.clone()]);
    vec![
        ("html", html::render(report, Look::shipped()).unwrap()),
        ("markdown", markdown::render(report, Look::shipped()).unwrap()),
        ("terminal", terminal::render(report, false)),
        ("json", json::render(report)),
        ("svg", plan::render(report, Look::shipped()).unwrap()),
        (
            "html comparison",
            html::render_comparison(&comparison, Look::shipped()).unwrap(),
        ),
        (
            "markdown comparison",
            markdown::render_comparison(&comparison, Look::shipped()).unwrap(),
        ),
        (
            "terminal comparison",
            terminal::render_comparison(&comparison, false),
        ),
    ]
}

#[test]
fn no_report_under_any_set_says_safe_or_claims_compliance() {
    for set in Library::shipped().ids() {
        for (format, text) in every_format(&report(RICH, set)) {
            let words = text.split(|c: char| !c.is_alphabetic()).map(str::to_lowercase);
            for word in words {
                let is_claim =
                    ["safe", "safely", "safer", "safest", "compliant", "complies"].contains(&&*word);
                assert!(!is_claim, "{set} as {format} says {word:?}");
            }
        }
    }
}

#[test]
fn every_report_leads_with_the_answer_and_defers() {
    let report = report(RICH, RECALLED);
    for (format, text) in every_format(&report) {
        if matches!(format, "html" | "markdown" | "terminal") {
            let answer = text.find(&report.verdict.headline).unwrap();
            let first_wall_line = text.find("Length of bracing").unwrap_or(text.len());
            assert!(answer < first_wall_line, "{format}");
        }
        if format != "svg" {
            assert!(text.contains("local code official"), "{format}");
            assert!(
                text.contains("licensed engineer") || format == "terminal comparison",
                "{format}"
            );
        }
    }
}

#[test]
fn a_remembered_figure_that_a_verdict_rests_on_is_named_for_confirmation() {
    let report = report(RICH, RECALLED);
    let resting: Vec<_> = report.figures.iter().filter(|figure| figure.decides).collect();
    assert!(!resting.is_empty());
    for figure in resting {
        assert_eq!(figure.trust, Trust::Confirm, "{}", figure.title);
        let text = terminal::render(&report, false)
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ");
        assert!(text.contains(&figure.title), "{}", figure.title);
    }
}

#[test]
fn a_verdict_by_figures_seen_in_the_document_rests_on_none_to_confirm() {
    let report = report(SMALL, SET);
    assert_eq!(report.verdict.words, "not met");
    let to_confirm: Vec<&Figure> = report
        .figures
        .iter()
        .filter(|figure| figure.trust == Trust::Confirm)
        .collect();
    assert!(!to_confirm.is_empty());
    assert!(to_confirm.iter().all(|figure| !figure.decides));
    assert!(
        report.verdict.to_confirm.is_empty(),
        "{:?}",
        report.verdict.to_confirm
    );
    let text = terminal::render(&report, false);
    assert!(text.contains("figures used in this report"), "{text}");
    assert!(!text.contains("a verdict above rests on it"), "{text}");
}

/// Each explanation stands once, whatever the number of wall lines, and every shortfall is named under it.
#[test]
fn what_falls_short_is_explained_once() {
    let report = report(RICH, SET);
    let falling_short = |row: &&Row| matches!(row.ruling, Ruling::NotMet | Ruling::Outside);
    let lines = report.wall_lines.iter().map(|line| &line.findings);
    let rows: Vec<&Row> = std::iter::once(&report.whole_house)
        .chain(lines)
        .flat_map(|place| place.rows.iter().filter(falling_short))
        .collect();
    let told: usize = report.explained.iter().map(|check| check.places.len()).sum();
    assert!(!rows.is_empty());
    assert_eq!(told, rows.len());
    let page = html::render(&report, Look::shipped()).unwrap();
    let markdown = markdown::render(&report, Look::shipped()).unwrap();
    for row in rows {
        let id = format!("id=\"why-{}\"", row.check);
        assert_eq!(page.matches(&id).count(), 1, "{}", row.check);
        let heading = format!("\n### {}\n", row.title);
        assert_eq!(markdown.matches(&heading).count(), 1, "{}", row.title);
    }
    assert_eq!(page.matches("Why it matters.").count(), report.explained.len());
    assert_eq!(
        markdown.matches("Why it matters:").count(),
        report.explained.len()
    );
}

/// A size, a number or a share without its direction would be read as one to be kept exactly.
#[rstest]
fn every_amount_asked_for_says_which_way_it_is_a_limit(#[values(RICH, HARDLY_SEEN)] house: &str) {
    let mut seen = std::collections::BTreeSet::new();
    for set in Library::shipped().ids() {
        let report = report(house, set);
        let lines = report.wall_lines.iter().map(|line| &line.findings);
        for row in std::iter::once(&report.whole_house)
            .chain(lines)
            .flat_map(|place| &place.rows)
        {
            let Some(required) = &row.required else { continue };
            let says = |words: &&str| required.shown.starts_with(*words);
            let direction = ["at least ", "at most ", "less than "]
                .iter()
                .find(|words| says(words));
            let is_amount = required.shown.contains(|c: char| c.is_ascii_digit());
            assert!(
                direction.is_some() || !is_amount,
                "{set}, {}: {}",
                row.check,
                required.shown
            );
            seen.insert((row.check.clone(), required.shown.clone()));
        }
    }
    for (check, shown) in [
        ("anchor-washer", "at least 3\" x 3\" x 0.229 in"),
        ("anchor-washer", "at least a cut washer"),
        ("panel-nailing", "at least 8d common"),
        ("anchor-end-distance", "at least 9\", at most 1'-0\""),
    ] {
        assert!(
            seen.contains(&(check.to_owned(), shown.to_owned())),
            "{check}: {shown}, {seen:?}"
        );
    }
}

/// A house of which little was seen, so that nearly everything is said of several wall lines.
const HARDLY_SEEN: &str = include_str!("../../examples/wren-cellar-close.json");

/// Every path that a path with several positions stands for.
fn each_path(path: &str) -> Vec<String> {
    let Some((before, rest)) = path.split_once('[') else {
        return vec![path.to_owned()];
    };
    let (positions, after) = rest.split_once(']').unwrap();
    let after = each_path(after);
    positions
        .split(',')
        .flat_map(|position| {
            after
                .iter()
                .map(move |after| format!("{before}[{position}]{after}"))
        })
        .collect()
}

/// What is told of several places at once is told of each of them, once, and on every page that is read.
#[rstest]
fn nothing_is_lost_where_rows_stand_together(#[values(RICH, HARDLY_SEEN)] house: &str) {
    let report = report(house, SET);
    let pages = [
        html::render(&report, Look::shipped()).unwrap(),
        markdown::render(&report, Look::shipped()).unwrap(),
    ];
    let is_on_every_page = |text: &str| {
        let as_markdown = text.replace('_', "\\_").replace('[', "\\[").replace(']', "\\]");
        pages[0].contains(text) && pages[1].contains(&as_markdown)
    };

    let mut unknowns: Vec<(String, &str, &str)> = Vec::new();
    for row in &report.not_seen.together {
        for item in &row.items {
            for path in &item.paths {
                assert!(is_on_every_page(path), "{path}");
                let paths = each_path(path).into_iter();
                unknowns.extend(paths.map(|path| (path, &*item.what, &*row.reason)));
            }
        }
    }
    let mut expected: Vec<(String, &str, &str)> = report
        .not_seen
        .unknowns
        .iter()
        .map(|unknown| (unknown.path.clone(), &*unknown.what, &*unknown.reason))
        .collect();
    unknowns.sort_unstable();
    expected.sort_unstable();
    assert_eq!(unknowns, expected);

    let lines = report.wall_lines.iter().map(|line| (Some(line), &line.findings));
    for (line, place) in std::iter::once((None, &report.whole_house)).chain(lines) {
        for open in &place.left_open {
            let told = report.left_open.iter().filter(|told| {
                let is_here = line.map_or(told.numbers.is_empty(), |line| {
                    told.numbers.contains(&line.number)
                });
                let paths: Vec<String> = told
                    .decided_by
                    .iter()
                    .flat_map(|look| &look.paths)
                    .flat_map(|path| each_path(path))
                    .collect();
                is_here
                    && told.titles == open.titles
                    && (&told.fact, &told.range) == (&open.fact, &open.range)
                    && open.decided_by.iter().all(|look| paths.contains(&look.path))
            });
            assert_eq!(told.count(), 1, "{open:?}");
        }
        for row in &place.not_applicable {
            let told = report.not_asked.iter().filter(|told| {
                let is_here = line.map_or(told.numbers.is_empty(), |line| {
                    told.numbers.contains(&line.number)
                });
                let sections = |sections: &[String]| {
                    row.clauses
                        .iter()
                        .all(|clause| sections.contains(&clause.section))
                };
                let mut checks = told.checks.iter();
                is_here
                    && told.fact == row.fact
                    && checks.any(|check| check.title == row.title && sections(&check.sections))
            });
            assert_eq!(told.count(), 1, "{row:?}");
        }
    }
}

#[test]
fn every_stated_unknown_is_listed_with_its_reason() {
    let report = report(RICH, SET);
    let reasons: Vec<&str> = report
        .not_seen
        .unknowns
        .iter()
        .map(|unknown| &*unknown.reason)
        .collect();
    // One for each `unknown` in the sample, in the order of a crawl.
    let written = RICH.matches("\"unknown\"").count();
    assert_eq!(reasons.len(), written, "{reasons:?}");
    for reason in [
        "not asked",
        "below grade",
        "in concrete",
        "behind stored lumber",
        "under the deck",
        "too dark to see",
    ] {
        assert!(reasons.contains(&reason), "{reason}");
    }
    let paths: Vec<&str> = report
        .not_seen
        .unknowns
        .iter()
        .map(|unknown| &*unknown.path)
        .collect();
    assert!(
        paths.contains(&"wall_lines[0].foundation[0].reinforcing"),
        "{paths:?}"
    );
    // How a list is known is no part of the path.
    assert!(paths.contains(&"posts[0].top"), "{paths:?}");
    assert_eq!(report.not_seen.stretches[0].station, "8'-0\" to 24'-0\"");
}

#[test]
fn the_order_of_keys_in_a_house_file_changes_nothing_but_its_fingerprint() {
    let house: serde_json::Value = serde_json::from_str(RICH).unwrap();
    // Keys in alphabetical order: not the order in which the sample has them.
    let sorted = serde_json::to_string(&house).unwrap();
    assert_ne!(sorted.find("\"wall_lines\""), RICH.find("\"wall_lines\""));
    let (written, mut other) = (report(RICH, SET), report(&sorted, SET));
    assert_ne!(written.input_sha256, other.input_sha256);
    other.input_sha256.clone_from(&written.input_sha256);
    assert_eq!(every_format(&written), every_format(&other));
}

#[rstest]
#[case(SMALL)]
#[case(RICH)]
fn a_result_is_valid_by_its_own_schema(#[case] house: &str) {
    let schema: serde_json::Value = serde_json::from_str(&json::schema()).unwrap();
    assert_eq!(schema["$id"], "result-1");
    let validator = jsonschema::validator_for(&schema).unwrap();
    let mut result: serde_json::Value = serde_json::from_str(&json::render(&report(house, SET))).unwrap();
    let errors: Vec<String> = validator
        .iter_errors(&result)
        .map(|error| error.to_string())
        .collect();
    assert!(errors.is_empty(), "{errors:?}");
    // And the schema is not one that takes anything.
    result["verdict"]["ruling"] = "fine".into();
    assert!(!validator.is_valid(&result));

    let schema: serde_json::Value = serde_json::from_str(&json::comparison_schema()).unwrap();
    assert_eq!(schema["$id"], "comparison-1");
    let validator = jsonschema::validator_for(&schema).unwrap();
    let comparison = Comparison::new(&[report(house, SET), report(house, RECALLED)]);
    let mut result: serde_json::Value = serde_json::from_str(&json::render_comparison(&comparison)).unwrap();
    assert!(validator.is_valid(&result));
    result["disagree"] = "somewhat".into();
    assert!(!validator.is_valid(&result));
}

// ---- Hostile text --------------------------------------------------------------------------------------

const HOSTILE: &str = "</title><script>alert(1)</script> <img src=x onerror=y> \"quoted\" 'single' a|b|c \\| \
     *bold* _it_ `code` [link](http://example.invalid) # heading\n\n- item\n| --- |\n{{ name }} {% if %} &amp; \
     www.example.invalid \u{1b}[31mred\u{7} \u{202e}reversed\u{2066} \u{5e9}\u{5dc}\u{5d5}\u{5dd} \u{1f3e0} \u{0}end";

/// A house with the same text in every place where a user can write any.
fn written_all_over(text: &str) -> String {
    let mut house: serde_json::Value = serde_json::from_str(RICH).unwrap();
    let text = serde_json::Value::from(text);
    house["name"] = text.clone();
    house["note"] = text.clone();
    house["inspection"]["observer"] = text.clone();
    house["building"]["interior_plaster"]["unknown"] = text.clone();
    house["wall_lines"][0]["name"] = text.clone();
    house["wall_lines"][1]["unseen"][0]["why"] = text.clone();
    house["wall_lines"][1]["anchors"]["unknown"] = text.clone();
    house["wall_lines"][2]["note"] = text.clone();
    house["distress"][0]["place"] = text.clone();
    house["distress"][1]["note"] = text;
    house.to_string()
}

fn reports_written_all_over() -> (Report, Report) {
    let mut hostile = report(&written_all_over(HOSTILE), SET);
    hostile.input_file = wording::plain(HOSTILE);
    let mut harmless = report(&written_all_over("harmless"), SET);
    harmless.input_file = "harmless".to_owned();
    (hostile, harmless)
}

/// The tags of an HTML text in order, attributes and all.
fn tags(html: &str) -> Vec<&str> {
    html.split('<')
        .skip(1)
        .map(|piece| piece.split('>').next().unwrap_or(piece))
        .collect()
}

#[test]
fn hostile_text_adds_no_tag_and_no_attribute_to_html() {
    let (hostile, harmless) = reports_written_all_over();
    let text = html::render(&hostile, Look::shipped()).unwrap();
    assert_eq!(
        tags(&text),
        tags(&html::render(&harmless, Look::shipped()).unwrap())
    );
    assert!(text.contains("&lt;script&gt;alert(1)"));
    assert!(!text.chars().any(|c| c.is_control() && c != '\n'));
    let sides = |report: &Report| Comparison::new(&[report.clone(), report.clone()]);
    assert_eq!(
        tags(&html::render_comparison(&sides(&hostile), Look::shipped()).unwrap()),
        tags(&html::render_comparison(&sides(&harmless), Look::shipped()).unwrap())
    );
}

/// What Markdown makes of a text: its structure without words, and its words without structure.
fn read_markdown(text: &str) -> (Vec<String>, String) {
    let options = Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH | Options::ENABLE_FOOTNOTES;
    let (mut structure, mut words) = (Vec::new(), String::new());
    for event in Parser::new_ext(text, options) {
        match event {
            Event::Text(text) => words.push_str(&text),
            Event::SoftBreak => words.push(' '),
            other => structure.push(format!("{other:?}")),
        }
    }
    (structure, words)
}

#[test]
fn hostile_text_is_only_text_in_markdown() {
    let (hostile, harmless) = reports_written_all_over();
    let (structure, words) = read_markdown(&markdown::render(&hostile, Look::shipped()).unwrap());
    let (expected, _) = read_markdown(&markdown::render(&harmless, Look::shipped()).unwrap());
    assert_eq!(structure, expected);
    // Every place shows it, to the letter, but for what cannot be printed.
    let shown = wording::plain(HOSTILE);
    assert!(
        words.matches(&shown).count() >= 10,
        "{}",
        words.matches(&shown).count()
    );
}

#[test]
fn hostile_text_sends_no_code_to_a_terminal() {
    let (hostile, _) = reports_written_all_over();
    let plain = terminal::render(&hostile, false);
    assert!(plain.chars().all(|c| c == '\n' || !c.is_control()));
    // With styles there are codes, and they are those that a harmless text gets.
    let codes = |text: &str| text.matches('\u{1b}').count();
    let styled = terminal::render(&hostile, true);
    assert_eq!(anstream::adapter::strip_str(&styled).to_string(), plain);
    assert!(codes(&styled) > 0);
}

#[test]
fn a_terminal_line_stays_within_its_columns() {
    for set in Library::shipped().ids() {
        for line in terminal::render(&report(RICH, set), false).lines() {
            assert!(line.chars().count() <= 100, "{set}: {line}");
        }
    }
}

// ---- The page ------------------------------------------------------------------------------------------

#[test]
fn the_page_asks_nothing_of_the_network_and_runs_nothing_but_its_own() {
    let page = html::render(&report(RICH, SET), Look::shipped()).unwrap();
    assert!(page.contains("default-src 'none'; style-src 'unsafe-inline'; img-src data:"));
    for tag in tags(&page) {
        let name = tag.split_whitespace().next().unwrap_or_default();
        assert!(
            !["link", "iframe", "object", "embed", "base", "img", "form"].contains(&name),
            "{tag}"
        );
        assert!(!tag.contains(" on"), "{tag}");
        if let Some((_, target)) = tag.split_once("href=\"") {
            assert!(target.starts_with('#'), "{tag}");
        }
    }
    assert!(!page.contains("url(") && !page.contains("@import"));
    // Its own script, by its fingerprint, and no other; `look/tests.rs` holds the policy to it.
    assert_eq!(page.matches("<script").count(), 1);
    assert!(page.contains(SCRIPT));
}

#[test]
fn the_page_can_be_read_without_seeing_it() {
    let page = html::render(&report(RICH, SET), Look::shipped()).unwrap();
    let tags = tags(&page);
    let count = |name: &str| {
        let is_named = |tag: &&&str| tag.split([' ', '/']).next() == Some(name);
        tags.iter().filter(is_named).count()
    };
    assert!(page.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"));
    assert_eq!(count("h1"), 1);
    assert!(count("table") > 0 && count("table") == count("caption"));
    for tag in tags.iter().filter(|tag| tag.starts_with("th ") || **tag == "th") {
        assert!(tag.contains("scope=\""), "{tag}");
    }
    // Each link inside the page has a place to go to.
    for tag in &tags {
        if let Some((_, target)) = tag.split_once("href=\"#") {
            let target = target.trim_end_matches('"');
            assert!(page.contains(&format!("id=\"{target}\"")), "{target}");
        }
    }
    assert!(page.contains("role=\"img\""));
}

// ---- The sketch ----------------------------------------------------------------------------------------

fn house_with_lines(lines: &[Option<[f64; 4]>]) -> String {
    let lines: Vec<serde_json::Value> = lines
        .iter()
        .enumerate()
        .map(|(index, ends)| {
            let mut line = serde_json::json!({"name": format!("line {index}")});
            match index % 3 {
                0 => line["anchors"] = serde_json::json!([]),
                1 => line["cripple_wall"] = serde_json::json!([]),
                _ => {}
            }
            if let Some([x1, y1, x2, y2]) = ends {
                let feet = |number: &f64| format!("{number} ft");
                line["plan"] = serde_json::json!([
                    {"x": feet(x1), "y": feet(y1)}, {"x": feet(x2), "y": feet(y2)}
                ]);
            }
            line
        })
        .collect();
    serde_json::json!({"format": "house-1", "name": "sketch", "wall_lines": lines}).to_string()
}

#[derive(Clone, Copy, Debug)]
struct Words {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

/// The boxes of all words in a sketch, by the usual proportions of a sans-serif face.
fn words_of(picture: &roxmltree::Document<'_>) -> Vec<(String, Words)> {
    let number =
        |node: roxmltree::Node<'_, '_>, name: &str| node.attribute(name).unwrap().parse::<f64>().unwrap();
    let mut boxes = Vec::new();
    for node in picture
        .descendants()
        .filter(|node| matches!(node.tag_name().name(), "text" | "tspan"))
    {
        let text: String = node
            .children()
            .filter(roxmltree::Node::is_text)
            .filter_map(|child| child.text())
            .collect();
        if text.trim().is_empty() {
            continue;
        }
        let size: f64 = node
            .attribute("font-size")
            .map_or(13.0, |size| size.parse().unwrap());
        let width = f64::from(u16::try_from(text.chars().count()).unwrap()) * size * 0.56;
        let (x, y) = (number(node, "x"), number(node, "y"));
        let words = Words {
            left: x - width / 2.0,
            right: x + width / 2.0,
            top: y - size * 0.76,
            bottom: y + size * 0.22,
        };
        boxes.push((text, words));
    }
    boxes
}

#[rstest]
#[case::four_walls(vec![Some([0., 0., 36., 0.]), Some([36., 0., 36., 24.]), Some([36., 24., 0., 24.]), Some([0., 24., 0., 0.])])]
#[case::no_place_known(vec![None; 5])]
#[case::some_places_known(vec![Some([0., 0., 30., 0.]), None, Some([0., 20., 30., 20.]), None])]
#[case::long_and_narrow(vec![Some([0., 0., 90., 0.]), Some([90., 0., 90., 8.]), Some([90., 8., 0., 8.]), Some([0., 8., 0., 0.])])]
#[case::deep_and_narrow(vec![Some([0., 0., 6., 0.]), Some([6., 0., 6., 70.]), Some([6., 70., 0., 70.]), Some([0., 70., 0., 0.])])]
#[case::all_in_one_place(vec![Some([0., 0., 20., 0.]); 6])]
#[case::no_length(vec![Some([5., 5., 5., 5.]), Some([0., 0., 20., 0.])])]
#[case::a_steep_slant(vec![Some([0., 0., 20., 15.]), Some([20., 15., 25., 0.]), Some([25., 0., 0., 0.])])]
#[case::far_apart(vec![Some([0., 0., 20., 0.]), Some([9000., 9000., 9001., 9000.])])]
#[case::a_crowd((0..40).map(|i| { let y = f64::from(i); Some([0., y, 30., y]) }).collect())]
fn words_in_a_sketch_meet_neither_each_other_nor_a_line(#[case] lines: Vec<Option<[f64; 4]>>) {
    let svg = plan::render(&report(&house_with_lines(&lines), SET), Look::shipped()).unwrap();
    let picture = roxmltree::Document::parse(&svg).unwrap();
    let root = picture.root_element();
    let view: Vec<f64> = root
        .attribute("viewBox")
        .unwrap()
        .split(' ')
        .map(|n| n.parse().unwrap())
        .collect();
    let boxes = words_of(&picture);
    for (index, (text, a)) in boxes.iter().enumerate() {
        assert!(
            a.left >= 0.0 && a.right <= view[2] && a.top >= 0.0 && a.bottom <= view[3],
            "{text} {a:?} {view:?}"
        );
        for (other, b) in boxes.iter().skip(index + 1) {
            let meet = a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
            assert!(!meet, "{text:?} {a:?} meets {other:?} {b:?}");
        }
        for line in picture.descendants().filter(|node| node.has_tag_name("line")) {
            let at = |name: &str| line.attribute(name).unwrap().parse::<f64>().unwrap();
            // Points close together along the line, none of them inside the words.
            for step in 0..=2000 {
                let along = f64::from(step) / 2000.0;
                let (x, y) = (
                    at("x1") + along * (at("x2") - at("x1")),
                    at("y1") + along * (at("y2") - at("y1")),
                );
                let inside = a.left < x && x < a.right && a.top < y && y < a.bottom;
                assert!(!inside, "{text:?} {a:?} stands on a line at {x:.1}, {y:.1}");
            }
        }
    }
}

#[test]
fn a_sketch_tells_a_ruling_by_line_and_word_and_describes_itself() {
    let report = report(RICH, SET);
    let svg = plan::render(&report, Look::shipped()).unwrap();
    let picture = roxmltree::Document::parse(&svg).unwrap();
    assert_eq!(picture.root_element().attribute("role"), Some("img"));
    let text_of = |name: &str| {
        let node = picture.descendants().find(|node| node.tag_name().name() == name);
        node.and_then(|node| node.text()).unwrap().to_owned()
    };
    assert!(!text_of("title").is_empty());
    let lines: Vec<_> = picture
        .descendants()
        .filter(|node| node.tag_name().name() == "line")
        .collect();
    assert_eq!(lines.len(), report.wall_lines.len());
    let words: Vec<String> = words_of(&picture).into_iter().map(|(text, _)| text).collect();
    for (index, line) in report.wall_lines.iter().enumerate() {
        assert!(text_of("desc").contains(&format!(
            "{}, {}: {}.",
            line.number, line.name, line.verdict.words
        )));
        let ruling = line.verdict.ruling.words();
        // A sketch has room for the first word of "outside the prescriptive provisions".
        let short = if ruling.starts_with("outside") {
            "outside"
        } else {
            ruling
        };
        assert!(
            words.iter().any(|word| word.contains(short)),
            "{index} {ruling} {words:?}"
        );
    }
    // Lines of different rulings differ in more than color.
    let kind = |node: &roxmltree::Node<'_, '_>| {
        let of = |name: &str| node.attribute(name).unwrap_or_default().to_owned();
        (of("class"), (of("stroke-width"), of("stroke-dasharray")))
    };
    for a in &lines {
        for b in &lines {
            let ((ruling_a, style_a), (ruling_b, style_b)) = (kind(a), kind(b));
            assert_eq!(ruling_a == ruling_b, style_a == style_b, "{ruling_a} {ruling_b}");
        }
    }
}

#[test]
fn a_limit_in_thirty_seconds_of_an_inch_is_shown_as_it_is() {
    let report = report(RICH, SET);
    let thickness = report.wall_lines[2].findings.rows.iter().find(|row| {
        row.required
            .as_ref()
            .is_some_and(|required| required.shown == "at least 15/32\"")
    });
    // The sample has 15/32 in panels where the code asks for 15/32 in.
    let thickness = thickness.unwrap();
    assert_eq!(thickness.measured.as_ref().unwrap().shown, "15/32\"");
    assert_eq!(thickness.margin.as_ref().unwrap().shown, "none to spare");
    // What no tape shows is marked as rounded, and exact beside it.
    let metric = retrofit_core::measure::Length::millimeters(1830);
    assert_eq!(wording::length(metric), "≈ 6'-0 1/16\"");
}

#[test]
fn a_figure_that_a_user_confirmed_carries_that_users_name() {
    let set = "ucbc-appendix-6-2011";
    let attested = "figure,stories,weight,diameter,piece_over,piece_up_to,stud_over,stud_up_to,value,document,edition,page,attested_by,attested_on\n\
        anchor-spacing,2,,1/2 in,,,,,4 ft,The code book,2011,A-6,The plan checker <1>,2026-02-03\n";
    let mut library = Library::shipped().clone();
    library.add_folder(
        set,
        vec![TableFile {
            path: "overlay/attested.csv".to_owned(),
            name: "attested.csv".to_owned(),
            text: attested.to_owned(),
        }],
    );
    let with = report_by(RICH, &library.set(set).unwrap());
    let without = report(RICH, set);
    let trust_in = |report: &Report| {
        let is_it = |figure: &&Figure| {
            figure.title.contains("anchor spacing") && figure.title.contains("2 stories, 1/2")
        };
        report.figures.iter().find(is_it).map(|figure| figure.trust)
    };
    assert_eq!(trust_in(&without), Some(Trust::Confirm));
    assert_eq!(trust_in(&with), Some(Trust::Attested));
    let page = html::render(&with, Look::shipped()).unwrap();
    assert!(
        page.contains("by <bdi>The plan checker &lt;1&gt;</bdi> on 2026-02-03 in The code book, 2011, A-6")
    );
    assert!(
        markdown::render(&with, Look::shipped())
            .unwrap()
            .contains("by The plan checker \\<1\\> on 2026-02-03")
    );
    assert!(
        !html::render(&without, Look::shipped())
            .unwrap()
            .contains("plan checker")
    );
}

#[test]
fn a_set_for_comparison_only_says_so_at_the_top() {
    let library = Library::shipped();
    let only = library
        .ids()
        .into_iter()
        .find(|id| library.set(id).unwrap().comparison_only);
    let report = report(RICH, only.unwrap());
    for text in [
        html::render(&report, Look::shipped()).unwrap(),
        markdown::render(&report, Look::shipped()).unwrap(),
        terminal::render(&report, false),
    ] {
        let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let warning = words.find("must not be used to judge one").unwrap();
        assert!(warning < words.find("sill anchorage").unwrap_or(usize::MAX));
    }
}
