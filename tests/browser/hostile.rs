//! Hostile text in every field of a house file: it is shown as text, and no page is pushed out of shape by it.

use std::path::{Path, PathBuf};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};

use super::devtools::Browser;
use super::hold_everywhere;
use super::pages::{before_and_after, retrofit, text};

/// Markup of every kind a page knows, text that closes what it may stand in, right-to-left letters and the characters
/// that turn text around, pictures of several code points, and characters that control a terminal.
const HOSTILE: &str = "</bdi></title></script></style><script>window.hostile=1</script><img src=x onerror='window.hostile=2'>\
    \"'`{{ 7*7 }}{% for x in y %}&lt;&#60;\u{202e}\u{5d0}\u{5d1}\u{5d2} \u{627}\u{644}\u{639} \u{1f3da}\u{fe0f}\u{1f468}\u{200d}\u{1f469} \u{7}\u{1b}[31m";

/// Replaces every text of a record that is free, and tells how many there were.
fn write_all_over(value: &mut Value, free: bool, count: &mut usize) {
    const FREE: [&str; 9] = [
        "name",
        "note",
        "observer",
        "place",
        "why",
        "unknown",
        "caption",
        "label",
        "instrument",
    ];
    match value {
        Value::Object(map) => {
            for (key, inner) in map.iter_mut() {
                write_all_over(inner, FREE.contains(&key.as_str()), count);
            }
        }
        Value::Array(items) => items
            .iter_mut()
            .for_each(|item| write_all_over(item, free, count)),
        Value::String(text) if free => {
            *count += 1;
            // One long word, and a number by which each is itself.
            *text = format!("{HOSTILE}{} {count}", "m".repeat(300));
        }
        _ => {}
    }
}

/// The least PNG that a browser shows: one pixel.
const PIXEL: &str =
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";

fn hostile_pages(folder: &Path) -> Vec<PathBuf> {
    let [found, built] = before_and_after();
    let mut houses = Vec::new();
    for (name, house) in [("a<b>&'house.json", found), ("built.json", built)] {
        let record = std::fs::read_to_string(house).expect("an example can be read");
        let mut record: Value = serde_json::from_str(&record).expect("JSON");
        let mut count = 0;
        write_all_over(&mut record, false, &mut count);
        assert!(count > 5, "{count} free texts");
        record["note"] = json!(HOSTILE);
        let wall = record["wall_lines"][0]["name"].clone();
        record["photos"] = json!([{"file": "sill.png", "caption": HOSTILE, "wall_line": wall}]);
        let path = folder.join(name);
        std::fs::write(&path, record.to_string()).expect("a new file");
        houses.push(path);
    }
    std::fs::write(folder.join("sill.png"), STANDARD.decode(PIXEL).expect("Base64")).expect("a new file");
    let letterhead = folder.join("letterhead.toml");
    let head = toml::toml! { logo = "sill.png" };
    let head: toml::Table = head
        .into_iter()
        .chain([
            ("name".to_owned(), HOSTILE.into()),
            ("lines".to_owned(), vec![HOSTILE].into()),
        ])
        .collect();
    std::fs::write(&letterhead, head.to_string()).expect("a new file");
    let house = text(&houses[0]);
    let page = |name: &str| folder.join(format!("{name}.html"));
    let [report, screen, foundation, compared] = ["report", "screen", "foundation", "compared"].map(page);
    let head = ["--letterhead", text(&letterhead)];
    retrofit(&[
        "report",
        "--quiet",
        "--html",
        text(&report),
        head[0],
        head[1],
        house,
    ]);
    retrofit(&["remedy", "--quiet", "--out", text(folder), house]);
    for (verb, page) in [("screen", &screen), ("foundation", &foundation)] {
        retrofit(&[verb, "--quiet", "--format", "html", "--out", text(page), house]);
    }
    retrofit(&[
        "compare",
        "--quiet",
        "--html",
        text(&compared),
        house,
        text(&houses[1]),
    ]);
    let mut pages = vec![
        report,
        folder.join("a<b>&'house.worksheet.html"),
        screen,
        foundation,
        compared,
    ];
    for reader in ["owner", "assessor", "crew"] {
        let out = text(folder);
        retrofit(&[
            "report", "--quiet", "--for", reader, "--out", out, head[0], head[1], house,
        ]);
        pages.push(folder.join(format!("a<b>&'house.{reader}.html")));
    }
    pages
}

#[test]
#[ignore = "needs a browser"]
fn hostile_text_is_shown_as_text_and_breaks_no_page() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let pages = hostile_pages(folder.path());
    let mut browser = Browser::start();
    for page in &pages {
        browser.open(page, 390);
        let name = page.display();
        assert_eq!(browser.ask("window.hostile === undefined"), true, "{name}");
        let expected = match text(page) {
            // Its own script, a photograph and the logo of a letterhead.
            page if page.ends_with("report.html") => 3,
            page if [".owner.html", ".assessor.html", ".crew.html"]
                .iter()
                .any(|name| page.ends_with(name)) =>
            {
                1
            }
            _ => 0,
        };
        assert_eq!(
            browser.ask("document.querySelectorAll('img, script').length"),
            expected,
            "{name}: no script but its own, and no picture but those of the record"
        );
        assert_eq!(
            browser.ask("document.body.innerText.includes('<script>window.hostile=1</script>')"),
            true,
            "{name} shows the text as it is"
        );
        let complaints = browser.complaints();
        assert!(complaints.is_empty(), "{name}: {complaints:?}");
    }
    // Names that a path can hold and an address cannot are left to the test above.
    let plain: Vec<PathBuf> = pages
        .iter()
        .enumerate()
        .map(|(index, page)| {
            let copy = folder.path().join(format!("page-{index}.html"));
            std::fs::copy(page, &copy).expect("a copy");
            copy
        })
        .collect();
    hold_everywhere(&plain);
}
