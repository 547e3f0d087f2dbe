//! Every page of every example, opened in a real browser at phone width, on a desk and on paper.
//!
//! Run with `cargo test --test browser -- --ignored`; the environment variable `CHROMIUM` may name the
//! browser. The pages are written once, by the program, and the browser is led through its debugging protocol: a page is
//! opened once, and made as wide and put on paper as it is measured.

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

mod accessibility;
mod devtools;
mod hostile;
mod looks;
mod pages;

use std::path::{Path, PathBuf};

use devtools::Browser;
use pages::{
    befores_and_afters, comparisons, examples, foundation_pages, larch_harbor_way, pages_for_readers,
    reports, retrofit, screens, text, worksheets, write_screen,
};
use retrofit_report::language::Language;

/// CSS pixels: the narrowest that accessibility guidelines ask for (WCAG 2.2, 1.4.10), a phone, a desk.
const WIDTHS: [u32; 3] = [320, 390, 1100];

/// CSS pixels between the side margins of letter paper: 8.5 in at 96 to the inch, less twice 15 mm.
const LETTER: u32 = 702;

fn browser() -> String {
    std::env::var("CHROMIUM").unwrap_or_else(|_| "chromium".to_owned())
}

/// The same page with everything unfolded that it folds up.
fn unfolded(pages: &[PathBuf], name: &str) -> PathBuf {
    let page = pages.iter().find(|page| page.ends_with(name)).expect(name);
    let html = std::fs::read_to_string(page).expect("the page can be read");
    let copy = page.with_extension("unfolded.html");
    std::fs::write(&copy, html.replace("<details", "<details open")).expect("the copy is written");
    copy
}

/// A browser without a window that asks nothing of the network.
const SILENT: [&str; 9] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
];

/// What a page has to keep to at the width at which it is shown: a script that gives what is wrong, one text each.
const MEASURE: &str = include_str!("measure.js");

/// What a drawing has to be when it is opened by itself.
const DRAWING: &str = include_str!("drawing.js");

/// Holds pages to every width of a window, and to the width that letter paper has between its margins.
fn hold_everywhere(pages: &[PathBuf]) {
    let mut browser = Browser::start();
    let mut faults = Vec::new();
    for page in pages {
        let name = page.file_name().unwrap_or_default().display().to_string();
        let html = std::fs::read_to_string(page).expect("the page can be read");
        if !html.contains("@media print") {
            faults.push(format!("{name} has no style for paper"));
        }
        let looks = WIDTHS
            .map(|width| (width, ""))
            .into_iter()
            .chain([(LETTER, "print")]);
        for (index, (width, medium)) in looks.enumerate() {
            browser.show(medium, "light");
            if index == 0 {
                browser.open(page, width);
            } else {
                browser.widen(width);
            }
            let found = browser.ask(MEASURE);
            let found = found.as_array().expect("a list").iter();
            faults.extend(found.map(|fault| format!("{name} at {width} {medium}: {fault}")));
        }
        let complaints = browser.complaints();
        faults.extend(complaints.iter().map(|line| format!("{name}, console: {line}")));
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// The measure finds what is wrong, so that its silence means something.
#[test]
#[ignore = "needs a browser"]
fn the_measure_finds_faults() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let page = folder.path().join("faulty.html");
    let faulty = "<!doctype html><style>@media print { h2 { width: 2000px } }</style><h2 id=a>One</h2>\
        <div style='width:900px'>wide</div><p id=a style='width:50px;white-space:nowrap'>far too long for this</p>\
        <details><summary>more</summary><p style='width:40px;white-space:nowrap'>folded up and too long</details>\
        <a href='#nowhere'>on</a><svg><text y=20>one</text><text y=20>two</text></svg><table><tr><td>1</table>";
    std::fs::write(&page, faulty).expect("a new file");
    let mut browser = Browser::start();
    let mut told = |width, medium, expected: &[&str]| {
        browser.show(medium, "light");
        browser.open(&page, width);
        let found = browser.ask(MEASURE).to_string();
        for fault in expected {
            assert!(
                found.contains(fault),
                "{fault}, at {width} {medium}, is not in {found}"
            );
        }
        found
    };
    let wide = [
        "«one» overlaps",
        "no title",
        "no language",
        "leads nowhere",
        "two elements",
        "no policy",
        "caption",
    ];
    let on_a_desk = told(1100, "", &wide);
    assert!(!on_a_desk.contains("sideways"), "{on_a_desk}");
    told(390, "", &["scrolls sideways, 90", "ends at 90"]);
    told(LETTER, "print", &["scrolls sideways, 20"]);
    for (selector, fault) in [("body > p", "does not hold its text"), ("details p", "folded up")] {
        browser.show("", "light");
        browser.open(&page, 1100);
        let alone = format!(
            "for (const e of document.querySelectorAll('p')) if (!e.matches({selector:?})) e.remove()"
        );
        browser.ask(&alone);
        let found = browser.ask(MEASURE).to_string();
        assert!(found.contains(fault), "{selector}: {found}");
    }
}

#[test]
#[ignore = "needs a browser"]
fn every_report_fits_every_width_and_is_well_formed() {
    let mut pages = reports();
    pages.extend(comparisons());
    hold_everywhere(&pages);
}

#[test]
#[ignore = "needs a browser"]
fn every_page_for_a_reader_fits_every_width_in_every_language() {
    for language in Language::all() {
        let pages = pages_for_readers(language);
        hold_everywhere(&pages);
    }
}

/// An owner gets four sheets at most and an assessor three, however much was left open; a crew gets one or two for each
/// wall line.
#[test]
#[ignore = "needs a browser"]
fn pages_for_readers_print_on_few_sheets() {
    let mut browser = Browser::start();
    for page in &pages_for_readers(Language::ENGLISH) {
        let most = match text(page) {
            page if page.ends_with(".owner.html") => 4,
            page if page.ends_with(".assessor.html") => 3,
            _ => 12,
        };
        let sheets = printed(&mut browser, page);
        assert_eq!(sheets.lying, 0, "{}", page.display());
        assert!(
            (1..=most).contains(&sheets.upright),
            "{}: {sheets:?}",
            page.display()
        );
    }
}

#[test]
#[ignore = "needs a browser"]
fn every_worksheet_fits_every_width_and_is_well_formed() {
    let pages = worksheets();
    hold_everywhere(&pages);
}

#[test]
#[ignore = "needs a browser"]
fn before_and_after_fits_every_width_and_is_well_formed() {
    let pages = befores_and_afters();
    hold_everywhere(&pages);
}

#[test]
#[ignore = "needs a browser"]
fn every_screen_fits_every_width_and_is_well_formed() {
    let mut pages = screens();
    // The two with the most in them, every derivation open down to what was measured.
    for name in [
        "larch-harbor-way.screen.html",
        "glacier-thimble-drive.screen.html",
    ] {
        pages.push(unfolded(&pages, name));
    }
    hold_everywhere(&pages);
}

#[test]
#[ignore = "needs a browser"]
fn every_survey_and_foundation_plan_fits_every_width_and_is_well_formed() {
    let pages = foundation_pages();
    hold_everywhere(&pages);
}

/// Ten houses by themselves, and five thousand with a map of cells.
#[test]
#[ignore = "needs a browser"]
fn a_ranked_portfolio_fits_every_width_and_is_well_formed() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut browser = Browser::start();
    let all = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/palo-verde-junction.csv");
    let few = folder.path().join("ten-houses.csv");
    let text_of_all = std::fs::read_to_string(&all).expect("the example portfolio");
    let ten: String = text_of_all.split_inclusive('\n').take(11).collect();
    std::fs::write(&few, ten).expect("a new file");
    let pages: Vec<PathBuf> = [&all, &few]
        .map(|houses| {
            let page = folder
                .path()
                .join(houses.with_extension("html").file_name().expect("a file name"));
            let list = page.with_extension("ranked.csv");
            let (page_name, list) = (text(&page), text(&list));
            retrofit(&[
                "rank",
                "--quiet",
                text(houses),
                "--out",
                list,
                "--page",
                page_name,
                "--budget",
                "2500000",
                "--grant-cap",
                "3000",
                "--cut-by",
                "district",
            ]);
            page
        })
        .into();
    hold_everywhere(&pages);
    for page in &pages {
        let sheets = printed(&mut browser, page);
        assert_eq!(sheets.lying, 0, "{}", page.display());
        assert!(
            (1..=14).contains(&sheets.upright),
            "{}: {sheets:?}",
            page.display()
        );
    }
}

#[test]
#[ignore = "needs a browser"]
fn a_screen_prints_on_letter_paper() {
    let mut browser = Browser::start();
    for page in &screens() {
        let sheets = printed(&mut browser, page);
        assert_eq!(sheets.lying, 0, "{}", page.display());
        assert!(
            (1..=16).contains(&sheets.upright),
            "{}: {sheets:?}",
            page.display()
        );
    }
}

/// A number leads to how it was computed without a script, and the way to a step that is folded up opens it.
#[test]
#[ignore = "needs a browser"]
fn a_link_to_a_step_that_is_folded_up_opens_it() {
    const FOLLOW: &str = r#"(async () => {
        const links = [...document.querySelectorAll("a[href^='#w']")];
        if (links.length < 10) return `${links.length} links to steps`;
        const steps = links.map((a) => document.getElementById(a.getAttribute("href").slice(1)));
        const folded = steps.find((step) => step && step.parentElement.closest("details:not([open])"));
        if (!folded) return "no step that is folded up within another";
        location.hash = folded.id;
        await new Promise((later) => setTimeout(later, 200));
        return folded.parentElement.closest("details:not([open])") ? `${folded.id} stays folded up` : "";
    })()"#;
    let folder = tempfile::tempdir().expect("a temporary folder");
    let page = folder.path().join("screen.html");
    write_screen(&page, &larch_harbor_way(), &[]);
    let mut browser = Browser::start();
    browser.open(&page, 1100);
    assert_eq!(browser.ask(FOLLOW), "");
}

#[test]
#[ignore = "needs a browser"]
fn every_drawing_opens_by_itself() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let sheets = folder.path().join("sheets");
    for house in examples() {
        retrofit(&["remedy", "--quiet", "--drawings", text(&sheets), text(&house)]);
    }
    let mut drawings: Vec<PathBuf> = std::fs::read_dir(&sheets)
        .expect("the drawings are there")
        .map(|entry| entry.expect("the folder can be listed").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "svg"))
        .collect();
    drawings.sort();
    assert!(drawings.len() > 4 * examples().len(), "{}", drawings.len());
    let mut browser = Browser::start();
    let mut faults = Vec::new();
    for drawing in &drawings {
        browser.open(drawing, 1100);
        let found = browser.ask(DRAWING);
        let found = found.as_array().expect("a list").iter();
        faults.extend(found.map(|fault| format!("{}: {fault}", drawing.display())));
        faults.extend(browser.complaints());
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
#[ignore = "needs a browser"]
fn a_report_prints_on_letter_paper() {
    let mut browser = Browser::start();
    let pages = reports();
    for page in &pages {
        let sheets = printed(&mut browser, page).upright;
        assert!((2..=20).contains(&sheets), "{}: {sheets} sheets", page.display());
    }
}

/// The schedules on a few sheets, and every drawing whole on one of its own: one that did not fit would take two.
#[test]
#[ignore = "needs a browser"]
fn a_worksheet_prints_on_letter_paper() {
    let mut browser = Browser::start();
    for page in &worksheets() {
        let html = std::fs::read_to_string(page).expect("the page can be read");
        let drawings = html.matches("<figure class=\"drawing\">").count();
        assert!(drawings >= 2, "a plan and an elevation at least");
        let sheets = printed(&mut browser, page);
        assert_eq!(sheets.lying, drawings, "{}", page.display());
        assert!(
            (2..=8).contains(&sheets.upright),
            "{}: {sheets:?}",
            page.display()
        );
    }
}

#[test]
#[ignore = "needs a browser"]
fn before_and_after_prints_on_letter_paper() {
    let mut browser = Browser::start();
    for page in &befores_and_afters() {
        let sheets = printed(&mut browser, page);
        assert_eq!(sheets.lying, 0, "{}", page.display());
        assert!(
            (1..=7).contains(&sheets.upright),
            "{}: {sheets:?}",
            page.display()
        );
    }
}

/// The house that the command line shows first is one to hand to a contractor, so it must not be a book.
#[test]
#[ignore = "needs a browser"]
fn the_demo_prints_on_few_sheets() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut browser = Browser::start();
    let written = folder.path().join("demo");
    retrofit(&["demo", "--out", text(&written)]);
    let sheets = printed(&mut browser, &written.join("quince-lantern-way.html"));
    assert!((2..=7).contains(&sheets.upright), "{sheets:?}");
}

/// Sheets of letter paper.
#[derive(Debug)]
struct Sheets {
    upright: usize,
    lying: usize,
}

/// Prints a page on the paper it asks for, letter paper, and counts the sheets.
fn printed(browser: &mut Browser, page: &Path) -> Sheets {
    browser.open(page, LETTER);
    let bytes = browser.print();
    let pdf = String::from_utf8_lossy(&bytes);
    // Letter paper in points: 8.5 in by 11 in at 72 to the inch.
    let sheets = Sheets {
        upright: pdf.matches("/MediaBox [0 0 612 792]").count(),
        lying: pdf.matches("/MediaBox [0 0 792 612]").count(),
    };
    assert_eq!(
        sheets.upright + sheets.lying,
        pdf.matches("/Type /Page\n").count(),
        "not letter paper"
    );
    assert!(sheets.upright + sheets.lying > 0, "nothing was printed");
    sheets
}
