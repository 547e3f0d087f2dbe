use std::fs;
use std::path::Path;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use retrofit_core::house::{AsBuilt, House};
use rstest::rstest;
use serde_json::json;
use sha2::{Digest, Sha256};
use tempfile::TempDir;

use super::*;
use crate::result::Report;
use crate::sample::{RICH, report};
use crate::{html, markdown};

/// The least PNG there is: one pixel.
const PIXEL: &[u8] = &[
    0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0x0d, b'I', b'H', b'D', b'R', 0, 0, 0, 1, 0, 0,
    0, 1, 8, 0, 0, 0, 0,
];

fn a_report() -> Report {
    report(RICH, retrofit_core::provisions::Library::DEFAULT_SET)
}

fn folder(files: &[(&str, &str)]) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        fs::write(folder.path().join(name), text).unwrap();
    }
    folder
}

fn page_of(files: &[(&str, &str)]) -> Result<String, String> {
    let own = folder(files);
    let look = Look::from_folder(own.path()).map_err(|error| error.to_string())?;
    html::render(&a_report(), &look).map_err(|error| error.to_string())
}

/// The fingerprint in the policy is computed here from what stands on the page.
#[test]
fn a_page_admits_its_own_script_and_nothing_else() {
    let page = html::render(&a_report(), Look::shipped()).unwrap();
    let (_, rest) = page
        .split_once("http-equiv=\"Content-Security-Policy\" content=\"")
        .unwrap();
    let (policy, _) = rest.split_once('"').unwrap();
    assert!(policy.starts_with("default-src 'none'; "), "{policy}");
    for widened in [
        "http",
        "*",
        "unsafe-eval",
        "script-src 'unsafe-inline'",
        "strict-dynamic",
    ] {
        assert!(!policy.contains(widened), "{policy}");
    }
    assert_eq!(page.matches("<script").count(), 1);
    let (_, rest) = page.split_once("<script>").unwrap();
    let (script, _) = rest.split_once("</script>").unwrap();
    let fingerprint = STANDARD.encode(Sha256::digest(script));
    assert!(
        policy.contains(&format!("script-src 'sha256-{fingerprint}'")),
        "{policy}"
    );
    // A style within an element or a handler in an attribute would need more than the policy gives.
    assert!(!page.contains(" onclick=") && !page.contains(" onload="));
}

#[test]
fn a_template_of_ones_own_takes_the_place_of_ours() {
    let own = folder(&[(
        "letter.html",
        "<style>p { color: teal }</style></head><body><header>",
    )]);
    let look = Look::from_folder(own.path()).unwrap();
    let page = html::render(&a_report(), &look).unwrap();
    assert!(page.contains("color: teal") && page.contains("The answer"));
    let own = folder(&[("report.md", "House: {{ house }}\n")]);
    let look = Look::from_folder(own.path()).unwrap();
    let report = a_report();
    assert_eq!(
        markdown::render(&report, &look).unwrap(),
        format!("House: {}\n", report.house)
    );
}

/// What we ship can be written out, and makes the same pages from a folder.
#[test]
fn our_templates_in_a_folder_make_our_pages() {
    let files: Vec<(&str, &str)> = templates().collect();
    let report = a_report();
    assert_eq!(
        page_of(&files).unwrap(),
        html::render(&report, Look::shipped()).unwrap()
    );
}

#[rstest]
#[case::syntax("report.html", "{% include \"head.html\" %}\n<p>{{ house }</p>", &["report.html:2:"])]
#[case::no_such_value("report.html", "{% include \"head.html\" %}\n\n{{ hause }}", &["report.html:3:", "hause"])]
#[case::no_such_template("report.html", "{% include \"attic.html\" %}", &["attic.html"])]
#[case::no_such_part("letter.html", "{{ <attic /> }}", &["letter.html", "attic"])]
#[case::includes_itself("letter.html", "{% include \"letter.html\" %}", &["letter.html", "ircular"])]
#[case::no_head("report.html", "<!DOCTYPE html><script src=\"http://127.0.0.1/\"></script>", &["report.html", "head.html", "policy"])]
#[case::head_too_late("report.html", "<script>1</script>{% include \"head.html\" %}", &["report.html", "policy"])]
#[case::another_name("reprot.html", "x", &["reprot.html", "perhaps report.html"])]
#[case::the_head_itself("head.html", "x", &["head.html", "policy"])]
#[case::a_range_without_end("report.html", "{% include \"head.html\" %}{% for x in range(end=99999999) %}{% endfor %}", &["report.html:1:", "limit"])]
fn a_mistake_in_a_template_is_told_with_its_place(
    #[case] name: &str,
    #[case] text: &str,
    #[case] told: &[&str],
) {
    let error = page_of(&[(name, text)]).unwrap_err();
    for words in told {
        assert!(error.contains(words), "{words:?} is not in {error}");
    }
}

#[test]
fn a_part_that_calls_itself_comes_to_an_end() {
    let own =
        "{%- component deep(n: integer) -%}{{ <deep n={n} /> }}{%- endcomponent -%}{{ <deep n={1} /> }}";
    let error = page_of(&[("letter.html", own)]).unwrap_err();
    assert!(error.contains("recursion"), "{error}");
}

#[test]
fn a_page_has_a_largest_size() {
    let long = "x".repeat(4000);
    let own = format!("{{% include \"head.html\" %}}{{% for x in range(end=99999) %}}{long}{{% endfor %}}");
    let error = page_of(&[("report.html", &own)]).unwrap_err();
    assert!(error.contains("more than 64 MB"), "{error}");
}

#[test]
fn a_page_that_takes_too_long_is_given_up() {
    let own = "{% for x in range(end=99999) %}{% for y in range(end=99999) %}{% endfor %}{% endfor %}";
    let own = folder(&[("report.html", own)]);
    let look = Look::from_folder(own.path()).unwrap();
    let tera = look.templates_of("report.html").unwrap();
    let error = look
        .within_bounds(tera, "report.html", Context::new(), Duration::from_millis(50))
        .unwrap_err();
    assert!(
        error.to_string().contains("report.html: found no page"),
        "{error}"
    );
}

/// A template reads no file: there is no function for it, and only templates of this folder and ours are included.
#[rstest]
#[case("{{ load_file(path=\"/etc/hostname\") }}")]
#[case("{{ get_env(name=\"HOME\") }}")]
#[case("{% include \"/etc/hostname\" %}")]
#[case("{% include \"../secret.html\" %}")]
fn a_template_opens_no_file(#[case] text: &str) {
    assert!(page_of(&[("letter.html", text)]).is_err());
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_refused() {
    let outside = folder(&[("style.css", "p {}")]);
    let own = tempfile::tempdir().unwrap();
    std::os::unix::fs::symlink(outside.path().join("style.css"), own.path().join("style.css")).unwrap();
    let error = Look::from_folder(own.path()).unwrap_err();
    assert!(matches!(error, FolderError::LeadsOut(_)), "{error}");
}

#[test]
fn a_folder_is_refused_as_a_whole() {
    let empty = tempfile::tempdir().unwrap();
    assert!(matches!(
        Look::from_folder(empty.path()).unwrap_err(),
        FolderError::Nothing(_)
    ));
    let missing = empty.path().join("none");
    assert!(matches!(
        Look::from_folder(&missing).unwrap_err(),
        FolderError::Unreadable { .. }
    ));
    let large = folder(&[("style.css", "")]);
    let file = fs::File::create(large.path().join("style.css")).unwrap();
    file.set_len(LARGEST_TEMPLATE + 1).unwrap();
    assert!(matches!(
        Look::from_folder(large.path()).unwrap_err(),
        FolderError::TooLarge { .. }
    ));
    let no_text = tempfile::tempdir().unwrap();
    fs::write(no_text.path().join("style.css"), [0xff, 0xfe]).unwrap();
    assert!(matches!(
        Look::from_folder(no_text.path()).unwrap_err(),
        FolderError::NoText(_)
    ));
    let a_folder = tempfile::tempdir().unwrap();
    fs::create_dir(a_folder.path().join("style.css")).unwrap();
    assert!(matches!(
        Look::from_folder(a_folder.path()).unwrap_err(),
        FolderError::NoFile(_)
    ));
}

fn headed(toml: &str) -> Result<String, String> {
    let beside = folder(&[("head.toml", toml)]);
    fs::write(beside.path().join("logo.png"), PIXEL).unwrap();
    let head = Letterhead::read(&beside.path().join("head.toml")).map_err(|error| error.to_string())?;
    let report = a_report();
    Ok(html::render(&report, &Look::default().under(head)).unwrap())
}

#[test]
fn a_letterhead_stands_on_the_page_as_text() {
    let page =
        headed("name = \"<b>Alder & Rye</b>\"\nlines = [\"1 Invented Way\"]\nlogo = \"logo.png\"\n").unwrap();
    assert!(page.contains("&lt;b&gt;Alder &amp; Rye&lt;/b&gt;"));
    assert!(page.contains("1 Invented Way"));
    assert!(page.contains(&format!(
        "src=\"data:image/png;base64,{}\"",
        STANDARD.encode(PIXEL)
    )));
    let plain = html::render(&a_report(), Look::shipped()).unwrap();
    assert!(!plain.contains("class=\"letterhead\""));
}

#[rstest]
#[case::no_name("lines = []", &["head.toml", "name"])]
#[case::empty_name("name = \" \"", &["head.toml: name", "empty"])]
#[case::unknown_key("name = \"a\"\nlogos = \"b\"", &["head.toml", "line 2", "logos"])]
#[case::too_many_lines("name = \"a\"\nlines = [\"\",\"\",\"\",\"\",\"\",\"\",\"\"]", &["found 7"])]
#[case::logo_elsewhere("name = \"a\"\nlogo = \"../logo.png\"", &["head.toml: logo", "../logo.png"])]
#[case::no_such_logo("name = \"a\"\nlogo = \"none.png\"", &["head.toml: logo", "none.png"])]
#[case::logo_of_another_kind("name = \"a\"\nlogo = \"head.toml\"", &["neither PNG nor JPEG"])]
fn a_letterhead_that_cannot_be_used_says_why(#[case] toml: &str, #[case] told: &[&str]) {
    let error = headed(toml).unwrap_err();
    for words in told {
        assert!(error.contains(words), "{words:?} is not in {error}");
    }
}

fn house_with(photos: serde_json::Value) -> AsBuilt {
    let house: House = serde_json::from_value(json!({
        "format": "house-1", "name": "Quince Lantern Way", "photos": photos,
        "wall_lines": [{"name": "north", "length": {"measured": "24'-0\""}}],
    }))
    .unwrap();
    AsBuilt::new(house).unwrap()
}

fn pictures(file: &str, folder: &Path) -> Result<Vec<Picture>, PhotoError> {
    read_photos(&house_with(json!([{"file": file}])), folder)
}

#[test]
fn a_photograph_becomes_part_of_the_page() {
    let beside = tempfile::tempdir().unwrap();
    fs::create_dir(beside.path().join("photos")).unwrap();
    fs::write(beside.path().join("photos/a.jpg"), PIXEL).unwrap();
    let house = house_with(json!([
        {"file": "photos/a.jpg", "caption": "a \"sill\" <end>", "wall_line": "north", "station": "2'-6\""}
    ]));
    let photos = read_photos(&house, beside.path()).unwrap();
    assert_eq!(photos[0].line, Some(1));
    // By its first bytes it is a PNG, whatever it is called.
    assert!(photos[0].data.starts_with("data:image/png;base64,"));
    let report: Report = a_report().with_photos(photos);
    let page = html::render(&report, Look::shipped()).unwrap();
    assert!(page.contains("alt=\"a &quot;sill&quot; &lt;end&gt;\""));
    assert!(
        page.contains("station 2&#x27;-6&quot;") || page.contains("station 2&#39;-6&quot;"),
        "escaped station"
    );
}

#[test]
fn a_photograph_that_cannot_be_shown_says_why() {
    let beside = folder(&[("notes.txt", "no picture")]);
    let told = |file: &str| pictures(file, beside.path()).unwrap_err();
    for file in ["../a.png", "/etc/hostname", "photos/../../a.png"] {
        let error = told(file);
        assert!(matches!(error, PhotoError::LeadsOut { .. }), "{error}");
        assert!(error.to_string().starts_with("photos[0].file: found"), "{error}");
    }
    assert!(matches!(told("none.png"), PhotoError::Unreadable { .. }));
    assert!(matches!(told("."), PhotoError::Unreadable { .. }));
    assert!(matches!(told("notes.txt"), PhotoError::OtherKind { .. }));
    let large = fs::File::create(beside.path().join("large.png")).unwrap();
    large.set_len(LARGEST_PHOTO + 1).unwrap();
    assert!(matches!(told("large.png"), PhotoError::TooLarge { .. }));
    #[cfg(unix)]
    {
        let outside = tempfile::tempdir().unwrap();
        fs::write(outside.path().join("a.png"), PIXEL).unwrap();
        std::os::unix::fs::symlink(outside.path().join("a.png"), beside.path().join("linked.png")).unwrap();
        assert!(matches!(told("linked.png"), PhotoError::LeadsOut { .. }));
    }
}

/// Relative luminance of a color (WCAG 2.2, definition of relative luminance).
fn luminance(color: &str) -> f64 {
    let channel = |at: usize| {
        let value = f64::from(u8::from_str_radix(&color[at..at + 2], 16).unwrap()) / 255.0;
        if value <= 0.04045 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

/// Contrast of two colors (WCAG 2.2, definition of contrast ratio).
fn contrast(a: &str, b: &str) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn contrasts_are_computed_as_published() {
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    // The gray that is the lightest to reach 4.5 on white.
    assert!(contrast("#767676", "#ffffff") >= 4.5 && contrast("#777777", "#ffffff") < 4.5);
}

/// Success criteria 1.4.3 and 1.4.11 of WCAG 2.2: 4.5 for text, 3 for what is drawn; light, dark and on paper.
#[test]
fn colors_stand_out_from_what_they_stand_on() {
    let style = include_str!("../../templates/style.css");
    let blocks: Vec<&str> = style
        .split(":root {")
        .skip(1)
        .filter_map(|rest| rest.split_once('}').map(|(block, _)| block))
        .filter(|block| block.contains("--paper: #"))
        .collect();
    assert_eq!(blocks.len(), 3, "light, dark, and paper");
    for block in blocks {
        let color = |name: &str| -> String {
            let (_, rest) = block.split_once(&format!("--{name}: ")).unwrap();
            let (value, _) = rest.split_once(';').unwrap();
            match value.len() {
                4 => value
                    .chars()
                    .flat_map(|c| std::iter::repeat_n(c, if c == '#' { 1 } else { 2 }))
                    .collect(),
                _ => value.to_owned(),
            }
        };
        for ground in ["paper", "wash"] {
            for text in ["ink", "soft", "not-met", "outside", "open"] {
                let found = contrast(&color(text), &color(ground));
                assert!(found >= 4.5, "{text} on {ground}: {found:.2}");
            }
            for mark in ["reached", "beyond"] {
                let found = contrast(&color(mark), &color(ground));
                assert!(found >= 3.0, "{mark} on {ground}: {found:.2}");
            }
        }
    }
}
