//! How pages look: screenshots for a reviewer under `target/screenshots/`, and a coarse picture of each in
//! `tests/browser/looks/`, from which a page may not stray far unnoticed.
//!
//! A coarse picture is text: for each square of [`SQUARE`] pixels its lightness as one hexadecimal digit. It is small,
//! can be read in a review, and is the same on any machine with the same fonts and browser, but for a little. With
//! `UPDATE_LOOKS=1` it is written anew.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use retrofit_report::language::Language;

use super::devtools::Browser;
use super::pages::{befores_and_afters, pages_for_readers, reports, retrofit, screens, text, worksheets};

/// Pixels along a side of a square.
const SQUARE: u32 = 30;
/// How much of a page is looked at, in pixels.
const HEIGHT: u32 = 2400;
/// The most that two pictures may differ on average, in sixteenths of the way from black to white.
const MOST_ON_AVERAGE: f64 = 0.35;
/// The most squares in a hundred that may differ by three sixteenths or more.
const MOST_OFF: f64 = 3.0;

/// The lightness of each square.
fn coarse(png: &[u8]) -> String {
    let mut reader = png::Decoder::new(std::io::Cursor::new(png))
        .read_info()
        .expect("a PNG");
    let mut bytes = vec![0; reader.output_buffer_size().expect("a size")];
    let about = reader.next_frame(&mut bytes).expect("a picture");
    let (width, height) = (about.width, about.height);
    let samples = about.color_type.samples();
    let mut text = String::new();
    for top in (0..height).step_by(SQUARE as usize) {
        for left in (0..width).step_by(SQUARE as usize) {
            let (mut sum, mut count) = (0_u64, 0_u64);
            for y in top..height.min(top + SQUARE) {
                for x in left..width.min(left + SQUARE) {
                    let at = (y * width + x) as usize * samples;
                    sum += bytes[at..at + 3].iter().map(|byte| u64::from(*byte)).sum::<u64>();
                    count += 3;
                }
            }
            write!(text, "{:x}", sum / count.max(1) / 16).expect("a text grows");
        }
        text.push('\n');
    }
    text
}

/// Why two coarse pictures are not alike; nothing where they are.
fn difference(before: &str, now: &str) -> Option<String> {
    let digits = |text: &str| -> Vec<i32> {
        let digits = text.chars().filter_map(|c| c.to_digit(16));
        digits.filter_map(|digit| i32::try_from(digit).ok()).collect()
    };
    let (before, now) = (digits(before), digits(now));
    if before.len() != now.len() {
        return Some(format!("{} squares where there were {}", now.len(), before.len()));
    }
    let apart: Vec<i32> = before.iter().zip(&now).map(|(a, b)| (a - b).abs()).collect();
    #[expect(clippy::cast_precision_loss, reason = "a few thousand squares")]
    let count = apart.len().max(1) as f64;
    let average = f64::from(apart.iter().sum::<i32>()) / count;
    let off = apart.iter().filter(|apart| **apart >= 3).count();
    #[expect(clippy::cast_precision_loss, reason = "a few thousand squares")]
    let off = off as f64 / count * 100.0;
    (average > MOST_ON_AVERAGE || off > MOST_OFF)
        .then(|| format!("{average:.2} sixteenths off on average, {off:.1} squares in a hundred far off"))
}

#[test]
fn a_page_that_strays_is_noticed() {
    let page = "fffff\nf0f0f\nfffff\n88888\nfffff\n".repeat(8);
    assert_eq!(difference(&page, &page), None);
    let moved: String = page
        .lines()
        .cycle()
        .skip(1)
        .take(40)
        .fold(String::new(), |text, line| text + line + "\n");
    assert!(difference(&page, &moved).is_some(), "a row down is noticed");
    assert!(
        difference(&page, &page.replace('8', "c")).is_some(),
        "a fainter band is noticed"
    );
    assert!(difference(&page, "fff").is_some(), "another size is noticed");
    let hair = page.replacen('f', "e", 20);
    assert_eq!(difference(&page, &hair), None, "a hair's breadth is not");
}

#[test]
#[ignore = "needs a browser"]
fn pages_look_as_they_did() {
    let is_demo = |page: &PathBuf| {
        let name = page
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        name.starts_with("quince-lantern-way.") && !name.contains("twin") || name == "before-after.html"
    };
    let pages: Vec<PathBuf> = reports()
        .into_iter()
        .chain(worksheets())
        .chain(screens())
        .chain(befores_and_afters())
        .chain(pages_for_readers(Language::ENGLISH))
        .filter(is_demo)
        .collect();
    assert_eq!(pages.len(), 7, "{pages:?}");
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let (shots, looks) = (root.join("target/screenshots"), root.join("tests/browser/looks"));
    for folder in [&shots, &looks] {
        std::fs::create_dir_all(folder).expect("a folder");
    }
    let update = std::env::var_os("UPDATE_LOOKS").is_some();
    let mut browser = Browser::start();
    let mut strayed = Vec::new();
    for page in &pages {
        let name = page.file_stem().unwrap_or_default().to_string_lossy();
        for (width, medium, scheme) in [
            (390, "", "light"),
            (1100, "", "light"),
            (1100, "", "dark"),
            (702, "print", "light"),
        ] {
            browser.show(medium, scheme);
            browser.open(page, width);
            let kind = if medium.is_empty() { scheme } else { medium };
            let name = format!("{name}.{width}.{kind}");
            let whole = browser.ask("document.documentElement.scrollHeight");
            let whole = u32::try_from(whole.as_u64().expect("a height")).expect("a page of some length");
            let shot = browser.picture(width, whole.min(16_000));
            std::fs::write(shots.join(format!("{name}.png")), shot).expect("a screenshot");
            let now = coarse(&browser.picture(width, HEIGHT));
            let reference = looks.join(format!("{name}.txt"));
            if update {
                std::fs::write(&reference, &now).expect("a reference");
            }
            let before = std::fs::read_to_string(&reference).unwrap_or_default();
            if let Some(how) = difference(&before, &now) {
                strayed.push(format!("{name}: {how}"));
            }
        }
        browser.show("", "light");
        std::fs::write(shots.join(format!("{name}.pdf")), browser.print()).expect("a print");
    }
    assert!(
        strayed.is_empty(),
        "look at target/screenshots, and write the coarse pictures anew with UPDATE_LOOKS=1 if all is well:\n{}",
        strayed.join("\n")
    );
}

/// On paper no row, figure or item is split, heads of tables come again, and every sheet says which of how many it is.
#[test]
#[ignore = "needs a browser and pdftotext"]
fn paper_splits_no_row_and_numbers_its_sheets() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let written = folder.path().join("demo");
    retrofit(&["demo", "--out", text(&written)]);
    let mut browser = Browser::start();
    for name in ["quince-lantern-way.html", "quince-lantern-way.worksheet.html"] {
        let page = written.join(name);
        browser.show("print", "dark");
        browser.open(&page, 702);
        let split = browser.ask(
            "[...document.querySelectorAll('tr, figure, li')].filter((e) => getComputedStyle(e).breakInside !== 'avoid').length \
             + [...document.querySelectorAll('thead')].filter((e) => getComputedStyle(e).display !== 'table-header-group').length",
        );
        assert_eq!(split, 0, "{name}");
        // Dark or not, paper is white and ink is black.
        let inks = "getComputedStyle(document.body).color + getComputedStyle(document.body).backgroundColor";
        assert_eq!(browser.ask(inks), "rgb(0, 0, 0)rgb(255, 255, 255)", "{name}");
        let paper = folder.path().join("paper.pdf");
        std::fs::write(&paper, browser.print()).expect("a print");
        let words = std::process::Command::new("pdftotext")
            .args(["-layout", text(&paper), "-"])
            .output()
            .expect("pdftotext is there; it is in Debian's poppler-utils");
        let words = String::from_utf8_lossy(&words.stdout).into_owned();
        let sheets: Vec<&str> = words.split_terminator('\u{c}').collect();
        assert!(sheets.len() > 1, "{name}");
        for (index, sheet) in sheets.iter().enumerate() {
            let number = format!("Page {} of {}", index + 1, sheets.len());
            assert!(sheet.contains(&number), "{name}: {number} is not on\n{sheet}");
        }
    }
}
