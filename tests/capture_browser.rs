//! The blank form on paper and on a phone, in a real browser.
//!
//! Run with `cargo test --test capture_browser -- --ignored`; the environment variable `CHROMIUM` may name the browser.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not there"
)]

use std::path::Path;
use std::process::Command;

use retrofit_report::capture::Form;
use retrofit_report::language::{Language, Words};

fn browser(arguments: &[String]) -> Vec<u8> {
    let profile = tempfile::tempdir().expect("a folder");
    let name = std::env::var("CHROMIUM").unwrap_or_else(|_| "chromium".to_owned());
    let output = Command::new(name)
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-background-networking",
        ])
        .arg(format!("--user-data-dir={}", profile.path().display()))
        .args(arguments)
        .output()
        .expect("the browser starts");
    output.stdout
}

fn forms(folder: &Path) -> Vec<(Language, std::path::PathBuf, String)> {
    Language::all()
        .into_iter()
        .map(|language| {
            let words = Words::of(language).expect("words");
            let page = Form::new(&words).expect("a form").html().expect("a page");
            let path = folder.join(format!("form.{language}.html"));
            std::fs::write(&path, &page).expect("written");
            (language, path, page)
        })
        .collect()
}

/// Two sheets of letter paper, upright: one for the house and one for a wall line, in every language.
#[test]
#[ignore = "needs a browser"]
fn the_form_takes_two_sheets_of_letter_paper() {
    let folder = tempfile::tempdir().expect("a folder");
    for (language, page, _) in forms(folder.path()) {
        let paper = folder.path().join("form.pdf");
        browser(&[
            "--no-pdf-header-footer".to_owned(),
            format!("--print-to-pdf={}", paper.display()),
            format!("file://{}", page.display()),
        ]);
        let bytes = std::fs::read(&paper).expect("printed");
        let pdf = String::from_utf8_lossy(&bytes);
        assert_eq!(pdf.matches("/Type /Page\n").count(), 2, "{language}");
        assert_eq!(pdf.matches("/MediaBox [0 0 612 792]").count(), 2, "{language}");
    }
}

/// On a screen nothing runs out of the page, and no row out of its column.
#[test]
#[ignore = "needs a browser"]
fn nothing_of_the_form_is_cut_off() {
    const MEASURE: &str = r#"<script>
const report = document.createElement("pre");
report.id = "measured";
const wide = [...document.querySelectorAll(".row, .head, .caution, h1, h2")]
  .filter(part => part.scrollWidth > part.clientWidth + 1).map(part => part.textContent.trim());
const page = document.documentElement;
if (page.scrollWidth > page.clientWidth) wide.push("the page: " + page.scrollWidth + " over " + page.clientWidth);
report.textContent = "measured " + document.querySelectorAll(".row").length + " rows at " + innerWidth + "; too wide: " + JSON.stringify(wide);
document.body.append(report);
</script></body>"#;
    let folder = tempfile::tempdir().expect("a folder");
    for (language, path, page) in forms(folder.path()) {
        // The page forbids every script, so the copy that measures itself goes without that.
        let measured = page
            .replace(
                "default-src 'none'; style-src 'unsafe-inline'",
                "default-src 'unsafe-inline'",
            )
            .replace("</body>", MEASURE);
        std::fs::write(&path, measured).expect("written");
        for width in [500, 800, 1100] {
            let shown = browser(&[
                format!("--window-size={width},900"),
                "--dump-dom".to_owned(),
                format!("file://{}", path.display()),
            ]);
            let shown = String::from_utf8_lossy(&shown);
            let (_, told) = shown
                .rsplit_once("id=\"measured\">")
                .expect("the page measured itself");
            assert!(told.contains("too wide: []"), "{language} at {width}: {told}");
            assert!(!told.starts_with("measured 0 rows"), "{told}");
        }
    }
}
