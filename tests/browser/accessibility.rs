//! Every page of every example held to the Web Content Accessibility Guidelines 2.2, level AA, by an accessibility
//! engine in the browser, and to what a keyboard does with it.
//!
//! The engine is axe-core, of the version in `.ci/run`, which puts it under `target/`; the variable `AXE` may name
//! another place of `axe.min.js`.

use std::path::{Path, PathBuf};

use retrofit_report::language::Language;
use serde_json::Value;

use super::devtools::Browser;
use super::pages::{
    before_and_after, befores_and_afters, comparisons, foundation_pages, pages_for_readers, reports,
    retrofit, screens, text, worksheets,
};

/// The levels by which a page is judged; what is only good practice is not asked for.
const LEVELS: &str = r#"{type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}"#;

/// The rules that turn on colors: in the dark nothing changes but colors.
const COLORS: &str = r#"["color-contrast", "link-in-text-block"]"#;

/// The rules that look at what nobody sees too, by the engine itself; those of colors do so only to leave it out.
const OF_HIDDEN: &str = "axe._audit.rules.filter((rule) => !rule.excludeHidden && !COLORS.includes(rule.id) \
    && rule.tags.some((tag) => (LEVELS).values.includes(tag))).map((rule) => rule.id)";

fn engine() -> String {
    let usual = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../target/browser-checks/node_modules/axe-core/axe.min.js");
    let path = std::env::var_os("AXE").map_or(usual, PathBuf::from);
    std::fs::read_to_string(&path).unwrap_or_else(|why| {
        panic!(
            "{}: {why}; `.ci/run` installs axe-core there, and AXE may name another place",
            path.display()
        )
    })
}

/// What the engine finds in the page that is open, one line each.
fn faults(browser: &mut Browser, options: &str) -> Vec<String> {
    let found = browser.ask(&format!(
        "axe.run(document, {{...{options}, resultTypes: ['violations'], elementRef: false}}).then((result) => \
         result.violations.flatMap((rule) => rule.nodes.slice(0, 5).map((node) => rule.id + ': ' + node.target.join(' ') \
         + ': ' + node.failureSummary.replace(/\\s+/g, ' ').slice(0, 300))))"
    ));
    let lines = found.as_array().expect("the engine answers").iter();
    lines
        .map(|line| line.as_str().unwrap_or_default().to_owned())
        .collect()
}

/// Everything folded up unfolded, without a change to the file.
const UNFOLD: &str = "for (const one of document.querySelectorAll('details')) one.open = true";

/// Takes out of the page what stands folded up. The engine goes through it element by element, only to find for each
/// rule that nobody sees it; on the longest pages that is most of its time.
const DROP_FOLDED: &str = "(() => { const height = document.documentElement.scrollHeight; \
    for (const folded of document.querySelectorAll('details:not([open]) > :not(summary)')) folded.remove(); \
    return document.documentElement.scrollHeight === height; })()";

/// What the engine finds in the page that is open, light and dark, one line each.
fn judge(browser: &mut Browser, unfold: bool) -> Vec<String> {
    if unfold {
        browser.ask(UNFOLD);
    }
    let of_hidden = OF_HIDDEN.replace("COLORS", COLORS).replace("LEVELS", LEVELS);
    assert!(
        browser
            .ask(&of_hidden)
            .as_array()
            .is_some_and(|rules| rules.len() > 5)
    );
    let mut all = Vec::new();
    let mut tell = |of: &str, lines: Vec<String>| {
        all.extend(lines.into_iter().map(|line| format!("{of}: {line}")));
    };
    tell(
        "hidden or not",
        faults(browser, &format!("{{runOnly: {of_hidden}}}")),
    );
    assert_eq!(browser.ask(DROP_FOLDED), true, "what is drawn stays as it was");
    tell("light", faults(browser, &format!("{{runOnly: {LEVELS}}}")));
    browser.show("", "dark");
    tell("dark", faults(browser, &format!("{{runOnly: {COLORS}}}")));
    tell("console", browser.complaints());
    all
}

fn judged(pages: &[PathBuf], unfold: bool) {
    let engine = engine();
    let mut browser = Browser::start();
    let mut all = Vec::new();
    for page in pages {
        browser.show("", "light");
        browser.open(page, 1100);
        browser.ask(&engine);
        let name = page.file_name().unwrap_or_default().display();
        let found = judge(&mut browser, unfold);
        all.extend(found.into_iter().map(|line| format!("{name}, {line}")));
    }
    assert!(all.is_empty(), "\n{}", all.join("\n"));
}

#[test]
#[ignore = "needs a browser and axe-core"]
fn reports_are_accessible() {
    let mut pages = reports();
    pages.extend(comparisons());
    pages.extend(befores_and_afters());
    judged(&pages, false);
}

/// In every language but the first, the demo house stands for all: its pages differ by their words alone.
#[test]
#[ignore = "needs a browser and axe-core"]
fn pages_for_readers_are_accessible() {
    let mut pages = Vec::new();
    for language in Language::all() {
        let is_judged =
            |page: &PathBuf| language == Language::ENGLISH || text(page).contains("quince-lantern-way.");
        pages.extend(pages_for_readers(language).into_iter().filter(is_judged));
    }
    judged(&pages, false);
}

#[test]
#[ignore = "needs a browser and axe-core"]
fn worksheets_screens_and_plans_are_accessible() {
    let mut pages = worksheets();
    pages.extend(screens());
    pages.extend(foundation_pages());
    judged(&pages, false);
}

/// The house with the fewest derivations, every one of them open.
#[test]
#[ignore = "needs a browser and axe-core"]
fn what_is_unfolded_is_accessible() {
    let pages: Vec<PathBuf> = reports()
        .into_iter()
        .chain(screens())
        .filter(|page| text(page).contains("quince-lantern-way"))
        .collect();
    assert!(pages.len() >= 2, "the demo house and its screen");
    judged(&pages, true);
}

/// The engine finds what is wrong, light and dark, on the whole page and on what is drawn, so that its silence means
/// something.
#[test]
#[ignore = "needs a browser and axe-core"]
fn the_engine_finds_faults() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let page = folder.path().join("faulty.html");
    let faulty = "<!doctype html><title>x</title><style>.pale { color: #999; background: #fff } a { text-decoration: none; color: #222 }
        @media (prefers-color-scheme: dark) { .dim { color: #333; background: #222 } }</style><p class=pale>pale</p>
        <p class=dim>dim in the dark</p><p>Some text and <a href='#x'>a link</a> in it.</p><img src='a.png'>
        <details><summary>more</summary><p class=pale id=folded>folded</p><div role=button id=nameless></div>
        <img usemap=#m alt=map src='data:,'><map name=m><area shape=rect coords=0,0,9,9 href=#x></map></details>";
    std::fs::write(&page, faulty).expect("a new file");
    let mut browser = Browser::start();
    browser.open(&page, 1100);
    browser.ask(&engine());
    let told = judge(&mut browser, true).join("\n");
    for fault in [
        "light: color-contrast: body > .pale",
        "light: color-contrast: #folded",
        "light: link-in-text-block",
        "dark: color-contrast: .dim",
        "dark: link-in-text-block",
        "light: html-has-lang",
        "light: image-alt",
        "light: aria-command-name: #nameless",
    ] {
        assert!(told.contains(fault), "{fault} is not in\n{told}");
    }
    assert!(!told.contains("light: color-contrast: .dim"), "{told}");
    // What stands folded up is nobody's to see, and nothing else is lost.
    browser.show("", "light");
    browser.open(&page, 1100);
    browser.ask(&engine());
    let without = judge(&mut browser, false).join("\n");
    assert!(
        !without.contains("#folded") && !without.contains("#nameless"),
        "{without}"
    );
    let of_folded = ["color-contrast: #folded", "aria-command-name", "light: area-alt"];
    let seen = told
        .lines()
        .filter(|line| !of_folded.iter().any(|fault| line.contains(fault)));
    assert_eq!(without.lines().count(), seen.count(), "{told}\n\n{without}");
    assert!(without.contains("hidden or not: area-alt"), "{without}");
}

const REACHABLE: &str = r"[...document.querySelectorAll('a[href], summary, button, input, select, [tabindex]')]
    .filter((e) => e.checkVisibility() && e.tabIndex >= 0 && !(e.type === 'radio' && !e.checked))";

/// The tabulator key goes through everything that can be followed or unfolded, in the order in which it is read, and
/// what has the focus shows it.
#[test]
#[ignore = "needs a browser"]
fn a_keyboard_reaches_everything_in_order_and_shows_where_it_is() {
    let demo =
        |page: &PathBuf| text(page).contains("quince-lantern-way.") || text(page).contains("before-after");
    let pages: Vec<PathBuf> = reports()
        .into_iter()
        .chain(worksheets())
        .chain(screens())
        .chain(befores_and_afters())
        .filter(demo)
        .collect();
    assert!(pages.len() >= 4, "{pages:?}");
    let mut browser = Browser::start();
    for page in &pages {
        browser.open(page, 1100);
        let all = browser.ask(&format!("(window.reachable = {REACHABLE}).length"));
        let all = all.as_u64().expect("a number");
        assert!(all >= 1, "{}: {all} places", page.display());
        for place in 0..all {
            browser.strike("Tab", 9);
            let at = browser.ask(
                "(() => { const e = document.activeElement, s = getComputedStyle(e); \
                 return [reachable.indexOf(e), s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2, \
                 e.getBoundingClientRect().left >= 0, e.outerHTML.slice(0, 80)]; })()",
            );
            let (name, what) = (page.display(), &at[3]);
            assert_eq!(at[0], Value::from(place), "{name}: {what}");
            assert_eq!(at[1], true, "{name}: {what} does not show that it has the focus");
            assert_eq!(at[2], true, "{name}: {what} has the focus out of sight");
        }
    }
}

/// A disclosure opens and closes by the keyboard alone, and the sketch changes by the arrow keys.
#[test]
#[ignore = "needs a browser"]
fn disclosures_and_the_sketch_work_by_keyboard() {
    let pages = reports();
    let page = pages
        .iter()
        .find(|page| text(page).ends_with("quince-lantern-way.html"))
        .expect("the demo house");
    let mut browser = Browser::start();
    browser.open(page, 390);
    for state in [true, false] {
        browser.ask("document.querySelector('summary').focus()");
        browser.strike("Enter", 13);
        assert_eq!(browser.ask("document.querySelector('details').open"), state);
    }
    let added = "getComputedStyle(document.querySelector('.plan .added')).display !== 'none'";
    assert_eq!(browser.ask(added), false);
    browser.ask("document.querySelector('#sketch-found').focus()");
    browser.strike("ArrowRight", 39);
    assert_eq!(browser.ask(added), true);
    assert!(
        browser
            .ask("document.querySelectorAll('.plan .anchor').length")
            .as_u64()
            > Some(10),
        "the work laid out has anchors"
    );
    browser.click("label:has(#sketch-found)");
    assert_eq!(browser.ask(added), false);
}

/// Pointing at a wall line marks what was found of it, and the other way round; a click leads there.
#[test]
#[ignore = "needs a browser"]
fn the_sketch_and_the_findings_point_at_each_other() {
    let page = reports().into_iter().next().expect("a report");
    let mut browser = Browser::start();
    browser.open(&page, 1100);
    let pointed =
        "[...document.querySelectorAll('.pointed')].map((e) => e.tagName.toLowerCase() + e.dataset.line)";
    assert_eq!(browser.ask(pointed), serde_json::json!([]));
    browser.point_at(".plan g[data-line='2'] .reach");
    let marked = browser.ask(pointed).to_string();
    assert!(
        marked.contains("\"g2\"") && marked.contains("\"li2\"") && marked.contains("\"section2\""),
        "{marked}"
    );
    assert!(!marked.contains('1'), "{marked}");
    browser.ask("document.querySelector('figcaption li[data-line=\"1\"] a').focus()");
    assert!(browser.ask(pointed).to_string().contains("\"g1\""));
    browser.click(".plan g[data-line='2'] .reach");
    assert_eq!(browser.ask("location.hash"), "#line-2");
    let complaints = browser.complaints();
    assert!(complaints.is_empty(), "{complaints:?}");
}

/// The policy is on every page, and it stops what it is there to stop.
#[test]
#[ignore = "needs a browser"]
fn the_policy_of_a_page_stops_what_is_not_its_own() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let [found, _] = before_and_after();
    let page = folder.path().join("page.html");
    retrofit(&["report", "--quiet", "--html", text(&page), text(&found)]);
    let html = std::fs::read_to_string(&page).expect("the page can be read");
    let foreign = "<script>window.foreign = 1</script><img src=\"http://127.0.0.1:9/a.png\" onerror=\"window.foreign = 2\">";
    std::fs::write(&page, html.replace("</main>", &format!("{foreign}</main>"))).expect("a copy");
    let mut browser = Browser::start();
    browser.open(&page, 1100);
    assert_eq!(browser.ask("window.foreign === undefined"), true);
    let complaints = browser.complaints().join("\n");
    assert!(complaints.contains("Content Security Policy"), "{complaints}");
    // And its own script ran all the same.
    assert_eq!(browser.ask("document.querySelector('.unfold').hidden"), false);
}
