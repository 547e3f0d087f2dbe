//! `retrofit survey` and `retrofit foundation` as a user or a script meets them: help, exit codes, formats, tables of the
//! user's own, hostile text, and what is wrong said with its place.

#![cfg(test)]

mod program;

use std::collections::BTreeSet;
use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use program::{example, printed, refused, root, run};
use retrofit_core::house::CheckedOn;
use retrofit_core::measure::Length;
use rstest::rstest;
use serde_json::{Value, json};
use tempfile::TempDir;

const HOUSES: [&str; 4] = [
    "sorrel-ferry-street",
    "copper-finch-row",
    "heron-mill-crescent",
    "mango-anchor-road",
];

const FORMATS: [&str; 4] = ["terminal", "markdown", "html", "json"];

/// The result for a machine of a house with work.
fn result(args: &[&str]) -> Value {
    let mut all = args.to_vec();
    all.extend(["--format", "json"]);
    serde_json::from_str(&printed(&all, 1)).unwrap()
}

/// A length as it is shown; one that no ruler shows is told as near.
fn length(shown: &Value) -> Length {
    shown.as_str().unwrap().trim_start_matches("≈ ").parse().unwrap()
}

fn record(name: &str) -> Value {
    serde_json::from_str(&fs::read_to_string(example(name)).unwrap()).unwrap()
}

/// A folder for the files of one test.
struct Files(TempDir);

impl Files {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn path(&self, name: &str) -> String {
        self.0.path().join(name).to_str().unwrap().to_owned()
    }

    fn write(&self, name: &str, text: &str) -> String {
        fs::write(self.path(name), text).unwrap();
        self.path(name)
    }

    /// An example with one change.
    fn house(&self, name: &str, change: impl FnOnce(&mut Value)) -> String {
        let mut record = record(name);
        change(&mut record);
        self.write("house.json", &record.to_string())
    }

    fn names(&self) -> BTreeSet<String> {
        let entries = fs::read_dir(self.0.path()).unwrap();
        entries
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect()
    }

    /// A copy of a shipped table of standards under a name, with one text put for another in its figures.
    fn own_standard(&self, id: &str, old: &str, new: &str) -> String {
        let shipped = root().join(format!("tables/standards/{id}/figures.csv"));
        let figures = fs::read_to_string(shipped).unwrap();
        assert_eq!(figures.matches(old).count(), 1, "{old}");
        program::own_edition(self.0.path(), id, "ours", ["figures.csv", old, new])
    }
}

/// A survey with the readings given, of an example whose distress says nothing.
fn surveyed(readings: &Value) -> impl FnOnce(&mut Value) + use<'_> {
    move |house| {
        house["surveys"] = json!([{
            "date": "2026-05-04",
            "instrument": {"kind": "manometer", "reading_error": {"measured": "1/16 in"}},
            "base": {"place": "hall"},
            "readings": {"measured": readings}
        }]);
    }
}

/// A floor of three by three readings 32 in apart, level but for its north-east corner. There are limits for places so
/// close together; where no two are, those limits stay open.
fn floor(corner: &str) -> Value {
    let reading = |x: usize, y: usize| {
        let height = if (x, y) == (2, 2) { corner } else { "0 in" };
        json!({
            "label": format!("R{x}{y}"),
            "at": {"x": format!("{} in", 32 * x), "y": format!("{} in", 32 * y)},
            "height": height,
            "finish": "bare"
        })
    };
    (0..9).map(|number| reading(number % 3, number / 3)).collect()
}

mod help {
    use super::*;

    #[rstest]
    #[case("survey", &["--readings readings.csv", "--line", "--interval", "0 where no published limit is exceeded", "not a diagnosis"])]
    #[case("foundation", &["--start 2026-09-14", "--lift-to level", "--pace", "0 where every length may be kept", "not a design"])]
    fn it_teaches_by_examples_and_exit_codes(#[case] verb: &str, #[case] words: &[&str]) {
        let text = printed(&[verb, "--help"], 0);
        let flowing = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for part in ["Examples:", "Exit codes:", "3 bad input", "standard input", verb]
            .iter()
            .chain(words)
        {
            assert!(flowing.contains(part), "{verb}: {part}");
        }
        // Every option that an example uses is one that there is.
        for option in flowing.split(' ').filter(|word| word.starts_with("--")) {
            let option = option.trim_matches(|c: char| !c.is_ascii_alphanumeric() && c != '-');
            assert!(
                text.contains(&format!("{option} ")) || text.contains(&format!("{option}\n")),
                "{option}"
            );
        }
    }

    #[test]
    fn both_are_listed_among_the_verbs() {
        let text = printed(&["--help"], 0);
        assert!(
            text.contains("retrofit survey house.json") && text.contains("retrofit foundation house.json")
        );
    }
}

mod exit_codes {
    use super::*;

    #[rstest]
    fn one_where_a_limit_is_exceeded_and_where_there_is_work(
        #[values("survey", "foundation")] verb: &str,
        #[values(0, 1, 2, 3)] house: usize,
    ) {
        printed(&[verb, "--quiet", &example(HOUSES[house])], 1);
    }

    /// What is level keeps every limit; 3 in over 32 in are beyond every one of them.
    #[rstest]
    #[case("-3 in", 1)]
    #[case("0 in", 0)]
    fn a_survey_by_its_limits(#[case] corner: &str, #[case] exit_code: i32) {
        let files = Files::new();
        let house = files.house("mango-anchor-road", |house| {
            surveyed(&floor(corner))(house);
            house["surveys"][0]["instrument"]["reading_error"] = json!({"measured": "0 in"});
        });
        printed(&["survey", &house], exit_code);
    }

    #[test]
    fn two_where_the_readings_leave_it_open_and_where_nothing_can_be_computed() {
        let files = Files::new();
        let house = files.house("mango-anchor-road", |house| {
            surveyed(&floor("0 in"))(house);
            house["surveys"][0]["instrument"]["reading_error"] = json!({"measured": "1 in"});
        });
        let text = printed(&["survey", &house], 2);
        assert!(text.contains("within what the readings can be off"), "{text}");
        let house = files.house("mango-anchor-road", surveyed(&json!([])));
        assert!(printed(&["survey", &house], 2).contains("Nothing can be computed"));
    }

    fn with_lengths(files: &Files, stretch: &Value) -> String {
        files.house("mango-anchor-road", |house| {
            for line in house["wall_lines"].as_array_mut().unwrap() {
                line["foundation"] = json!([stretch]);
            }
        })
    }

    #[test]
    fn of_foundation_work_zero_where_all_is_kept_and_two_where_nothing_is_decided() {
        let files = Files::new();
        let sound = json!({"kind": "concrete", "condition": "sound", "settled": "0 in", "sill_above_ground": "12 in"});
        let text = printed(&["foundation", &with_lengths(&files, &sound)], 0);
        assert!(
            text.contains("All 4 lengths may be kept by what was seen"),
            "{text}"
        );
        let unknown = json!({"kind": {"unknown": "skim coat"}, "condition": {"unknown": "skim coat"}});
        printed(&["foundation", "--quiet", &with_lengths(&files, &unknown)], 2);
    }

    #[rstest]
    fn three_on_bad_input(#[values("survey", "foundation")] verb: &str) {
        let files = Files::new();
        assert!(refused(&[verb, &files.path("nowhere.json")]).contains("nowhere.json: cannot be read"));
        let house = files.house("sorrel-ferry-street", |house| {
            house["surveys"][0]["readings"]["measured"][3]["height"] = json!("9/16");
        });
        let told = refused(&[verb, &house]);
        assert!(told.contains("house.json:1:") && told.contains("found"), "{told}");
    }

    #[test]
    fn three_where_there_is_no_survey() {
        let files = Files::new();
        let house = files.house("sorrel-ferry-street", |house| house["surveys"] = json!([]));
        let told = refused(&["survey", &house]);
        assert!(
            told.contains("found no survey; expected readings under `surveys`, or a table with --readings"),
            "{told}"
        );
        // The rest of the work does without one.
        assert!(printed(&["foundation", &house], 1).contains("no floor level survey is on record"));
    }
}

mod formats {
    use super::*;

    #[rstest]
    #[case("survey", "survey-1")]
    #[case("foundation", "foundation-1")]
    fn for_a_machine_it_is_as_its_schema_says(#[case] verb: &str, #[case] id: &str) {
        let schema: Value = serde_json::from_str(&printed(&["schema", verb], 0)).unwrap();
        assert_eq!(schema["$id"], id);
        let validator = jsonschema::validator_for(&schema).unwrap();
        for name in HOUSES {
            let found = result(&[verb, &example(name)]);
            let errors: Vec<String> = validator
                .iter_errors(&found)
                .map(|error| error.to_string())
                .collect();
            assert!(errors.is_empty(), "{name}: {errors:?}");
            for field in found.as_object().unwrap().keys() {
                let mut wrong = found.clone();
                wrong[field] = json!({"no": "such thing"});
                assert!(!validator.is_valid(&wrong), "{name}: {field}");
            }
        }
    }

    #[rstest]
    fn a_file_is_written_as_it_is_printed(
        #[values("survey", "foundation")] verb: &str,
        #[values("terminal", "markdown", "html", "json")] format: &str,
    ) {
        let files = Files::new();
        let (path, house) = (files.path("page"), example("heron-mill-crescent"));
        assert_eq!(
            printed(&[verb, &house, "--format", format, "--out", &path], 1),
            ""
        );
        let written = fs::read_to_string(path).unwrap();
        let out = printed(&[verb, &house, "--format", format], 1);
        assert_eq!(out.trim_end(), written.trim_end());
        let holds = match format {
            "html" => "<!DOCTYPE html>",
            "json" => "\"house\": \"Heron Mill Crescent\"",
            _ => "Heron Mill Crescent",
        };
        assert!(written.contains(holds));
        assert_eq!(
            out,
            printed(&[verb, &house, "--format", format], 1),
            "the same house gives the same bytes"
        );
        assert_eq!(files.names(), BTreeSet::from(["page".to_owned()]));
    }

    #[rstest]
    fn a_house_comes_from_standard_input_as_well(#[values("survey", "foundation")] verb: &str) {
        let mut child = Command::new(env!("CARGO_BIN_EXE_retrofit"))
            .args([verb, "-", "--format", "json"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let text = fs::read(example("copper-finch-row")).unwrap();
        child.stdin.take().unwrap().write_all(&text).unwrap();
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(1));
        let mut piped: Value = serde_json::from_slice(&output.stdout).unwrap();
        let mut read = result(&[verb, &example("copper-finch-row")]);
        assert_ne!(piped["input_file"], read["input_file"]);
        for value in [&mut piped, &mut read] {
            value["input_file"] = Value::Null;
        }
        assert_eq!(piped, read);
    }

    #[rstest]
    fn quiet_answers_by_the_exit_code_alone(#[values("survey", "foundation")] verb: &str) {
        let house = example("heron-mill-crescent");
        let output = run(&[verb, "--quiet", &house]);
        assert_eq!(
            (output.status.code(), output.stdout.len(), output.stderr.len()),
            (Some(1), 0, 0)
        );
        // What was asked for by name is printed all the same.
        assert!(printed(&[verb, "--quiet", &house, "--format", "markdown"], 1).starts_with("# "));
    }

    /// A cap is sized, counted by length and drawn over the old wall; where nobody measured that, it is said.
    #[test]
    fn a_cap_is_sized_counted_and_drawn() {
        let files = Files::new();
        let capped = |measured: bool| {
            files.house("mango-anchor-road", |house| {
                let wall = &mut house["wall_lines"][3];
                wall["foundation"] = json!([{
                    "kind": "concrete", "condition": "sound", "reinforcing": "some", "settled": {"measured": "3/4 in"},
                    "sill_above_ground": {"measured": "18 in"}, "outside": "open", "inside": "open", "work": "cap"
                }]);
                if measured {
                    wall["foundation"][0]["stem_thickness"] = json!({"measured": "10 in"});
                }
            })
        };
        let found = result(&["foundation", &capped(true)]);
        let sizes = found["new_work"][0]["sizes"].as_array().unwrap();
        let cap = sizes
            .iter()
            .find(|size| size["what"] == "cap on the old wall")
            .unwrap();
        assert_eq!(cap["value"], "10\" wide, 6\" thick");
        let line = |what: &str| {
            let lines = found["quantities"]["lines"].as_array().unwrap();
            lines.iter().find(|line| line["what"] == what).unwrap()["total"].clone()
        };
        // 24 ft at 60 sq in are 10 cu ft; one bar laps once by 30 in; a dowel every 2 ft, at both ends too.
        assert_eq!(line("Concrete as drawn"), "0.37 cu yd");
        assert_eq!(line("Dowels into old concrete"), "13");
        assert_eq!(line("Treated sill"), "24'-0\"");
        let notes = found["quantities"]["notes"].to_string();
        assert!(notes.contains("Under a cap nothing is dug"), "{notes}");

        let folder = files.path("sheets");
        printed(
            &["foundation", &capped(true), "--quiet", "--drawings", &folder],
            1,
        );
        let sheet = |extension: &str| {
            fs::read_to_string(files.path(&format!("sheets/house.section-1.{extension}"))).unwrap()
        };
        for text in [sheet("svg"), sheet("dxf")] {
            for words in [
                "Section of a cap on the old wall",
                "Old wall, 10",
                "at 2'-0",
                "bottom not on record",
            ] {
                assert!(text.replace("&#39;", "'").contains(words), "{words}");
            }
            assert!(!text.contains("thickness assumed"));
        }
        printed(
            &["foundation", &capped(false), "--quiet", "--drawings", &folder],
            1,
        );
        assert!(sheet("svg").contains("thickness assumed"));
    }

    /// The least girder is on every page of a house with posts, with its span and where its limits come from.
    #[rstest]
    fn girders_are_on_every_page(#[values(0, 1, 2, 3)] house: usize) {
        for format in FORMATS {
            let page = printed(&["foundation", &example(HOUSES[house]), "--format", format], 1);
            let flowing = page.split_whitespace().collect::<Vec<_>>().join(" ");
            for words in [
                "east girder, 6'-0",
                "from post to post",
                "load over limit: bending 0.",
                "NDS-",
            ] {
                let escaped = words.replace('\'', "&#39;");
                assert!(
                    flowing.contains(words) || flowing.contains(&escaped),
                    "{format}: {words}"
                );
            }
        }
    }

    /// Published figures are set beside what was recorded; no page calls a house or its support by such words.
    #[rstest]
    fn no_page_says_that_anything_is_safe_or_adequate(
        #[values("survey", "foundation")] verb: &str,
        #[values(0, 1, 2, 3)] house: usize,
    ) {
        for format in FORMATS {
            let page = printed(&[verb, &example(HOUSES[house]), "--format", format], 1).to_lowercase();
            let words = page.split(|c: char| !c.is_alphabetic());
            let wrong: Vec<&str> = words
                .filter(|word| {
                    ["safe", "safely", "safer", "adequate", "adequately", "guaranteed"].contains(word)
                })
                .collect();
            assert!(wrong.is_empty(), "{format}: {wrong:?}");
            // It says what it is not, and to whom to turn.
            if format != "json" {
                let flowing = page.split_whitespace().collect::<Vec<_>>().join(" ");
                assert!(
                    flowing.contains("engineer") && flowing.contains("not a d"),
                    "{format}"
                );
            }
        }
    }
}

mod hostile_text {
    use super::*;

    const HOSTILE: &str = "</title><script>alert(1)</script> <img src=x onerror=y> \"q\" 'r' a|b \\| *bold* `code` \
        [link](http://example.invalid) {{ name }} {% if %} &amp; %%d ]]> \u{1b}[31mred\u{7} \u{202e}reversed\u{2066} \
        \u{5e9}\u{5dc}\u{5d5}\u{5dd} \u{2028}line \u{0}end";

    /// A house with a text in every place where a user can write any; where places have to differ a number comes first.
    fn written_all_over(files: &Files, text: &str) -> String {
        files.house("heron-mill-crescent", |house| {
            house["name"] = json!(text);
            house["note"] = json!(text);
            house["inspection"]["observer"] = json!(text);
            for (number, line) in house["wall_lines"].as_array_mut().unwrap().iter_mut().enumerate() {
                line["name"] = json!(format!("{number} {text}"));
                line["note"] = json!(text);
                line["foundation"][0]["footing_depth"] = json!({"unknown": text});
            }
            house["wall_lines"][4]["unseen"][0]["why"] = json!(text);
            for distress in house["distress"].as_array_mut().unwrap() {
                distress["place"] = json!(text);
                distress["note"] = json!(text);
            }
            house["surroundings"]["plumbing_leak"] = json!({"unknown": text});
            for survey in house["surveys"].as_array_mut().unwrap() {
                survey["base"]["place"] = json!(text);
                let readings = survey["readings"]["measured"].as_array_mut().unwrap();
                for (number, reading) in readings.iter_mut().enumerate() {
                    reading["label"] = json!(format!("{number} {text}"));
                }
            }
            let survey = &mut house["surveys"][1];
            survey["readings"]["measured"][6]["finish"] = json!({"unknown": text});
            survey["cracks"]["seen"][0]["place"] = json!(text);
            survey["cracks"]["seen"][1]["place"] = json!(text);
            survey["doors"]["seen"][0]["place"] = json!(text);
        })
    }

    /// The tags of a page, each by its name and the names of its attributes.
    fn tags(html: &str) -> BTreeSet<String> {
        let tag = |piece: &str| {
            let inside = piece.split('>').next().unwrap_or(piece);
            let mut shape = String::new();
            for (place, part) in inside.split('"').enumerate() {
                if place % 2 == 0 {
                    shape.push_str(part);
                }
            }
            shape
        };
        html.split('<').skip(1).map(tag).collect()
    }

    fn assert_harmless(text: &str) {
        let wrong = |c: char| {
            (c.is_control() && c != '\n')
                || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}')
        };
        assert!(
            !text.contains(wrong),
            "{:?}",
            text.find(wrong)
                .map(|at| &text[at.saturating_sub(40)..])
                .map(|t| t.chars().take(80).collect::<String>())
        );
    }

    #[rstest]
    fn it_stays_text_on_every_page(#[values("survey", "foundation")] verb: &str) {
        let files = Files::new();
        let plain = printed(
            &[verb, &written_all_over(&files, "harmless"), "--format", "html"],
            1,
        );
        let house = written_all_over(&files, HOSTILE);
        let page = printed(&[verb, &house, "--format", "html"], 1);
        assert_harmless(&page);
        assert!(page.contains("&lt;script&gt;alert(1)"));
        let new: Vec<_> = tags(&page).difference(&tags(&plain)).cloned().collect();
        assert!(new.is_empty(), "{new:?}");
        let told = printed(&[verb, &house, "--format", "terminal"], 1);
        assert_harmless(&told);
        assert!(told.contains("alert(1)"));
        let json = result(&[verb, &house]);
        assert!(
            json["house"].as_str().unwrap().contains("<script>"),
            "JSON needs no escapes but its own"
        );
        let markdown = printed(&[verb, &house, "--format", "markdown"], 1);
        assert_harmless(&markdown);
        let options = pulldown_cmark::Options::ENABLE_TABLES;
        for event in pulldown_cmark::Parser::new_ext(&markdown, options) {
            use pulldown_cmark::{Event, Tag};
            let is_foreign = match &event {
                Event::Html(text) | Event::InlineHtml(text) => {
                    text.contains("script") || text.contains("img")
                }
                Event::Start(Tag::Link { dest_url, .. }) => !dest_url.starts_with('#'),
                Event::Start(Tag::Image { dest_url, .. }) => dest_url.contains("example"),
                _ => false,
            };
            assert!(!is_foreign, "{event:?}");
        }
    }

    #[rstest]
    fn a_page_runs_nothing_and_asks_nothing_of_the_network(#[values("survey", "foundation")] verb: &str) {
        let files = Files::new();
        let page = printed(&[verb, &written_all_over(&files, HOSTILE), "--format", "html"], 1);
        assert!(page.contains("default-src 'none'; style-src 'unsafe-inline'; img-src data:"));
        for tag in page
            .split('<')
            .skip(1)
            .map(|piece| piece.split('>').next().unwrap_or(piece))
        {
            let name = tag.split_whitespace().next().unwrap_or_default();
            let foreign = ["script", "link", "iframe", "object", "embed", "base", "form"];
            assert!(!foreign.contains(&name), "{tag}");
            if let Some((_, target)) = tag.split_once("href=\"") {
                assert!(target.starts_with('#'), "{tag}");
            }
        }
        assert!(!page.contains("@import") && !page.contains("url("));
    }

    #[rstest]
    fn drawings_stay_drawings(#[values("survey", "foundation")] verb: &str) {
        let files = Files::new();
        let sheets = files.path("sheets");
        printed(
            &[
                verb,
                &written_all_over(&files, HOSTILE),
                "--drawings",
                &sheets,
                "--quiet",
            ],
            1,
        );
        let mut pictures = 0;
        for entry in fs::read_dir(&sheets).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|extension| extension == "svg") {
                let text = fs::read_to_string(&path).unwrap();
                let picture = roxmltree::Document::parse(&text).unwrap();
                for node in picture.descendants() {
                    assert!(!["script", "image", "a", "foreignObject"].contains(&node.tag_name().name()));
                    assert!(
                        node.attributes()
                            .all(|attribute| !attribute.name().starts_with("on"))
                    );
                }
                assert_harmless(&text);
                pictures += 1;
            }
        }
        assert!(pictures >= 2, "{pictures}");
    }

    #[rstest]
    fn a_very_long_word_is_broken_by_the_page(#[values("survey", "foundation")] verb: &str) {
        let files = Files::new();
        let word = "Wx東".repeat(1_000);
        let page = printed(&[verb, &written_all_over(&files, &word), "--format", "html"], 1);
        assert!(page.contains(&word) && page.contains("overflow-wrap"));
    }
}

mod readings {
    use super::*;

    const HEAD: &str = "label,x,y,height,finish,thickness,minute\n";

    /// Four corners of 20 ft by 10 ft that fall 2 in toward the east, and the base read again.
    const GOOD: &str = "A1,0 ft,0 ft,0 in,hardwood,3/4 in,1\nA2,20 ft,0 ft,-2 in,hardwood,3/4 in,2\n\
        A3,0 ft,10 ft,0 in,hardwood,3/4 in,3\nA4,20 ft,10 ft,-2 in,hardwood,3/4 in,4\nbase,,,0 in,,,5\n";

    #[test]
    fn a_table_takes_the_place_of_the_readings_of_its_day() {
        let files = Files::new();
        let (table, house) = (
            files.write("r.csv", &format!("{HEAD}{GOOD}")),
            example("sorrel-ferry-street"),
        );
        let args = ["survey", &house, "--date", "2026-05-21", "--readings", &table];
        let found = result(&args);
        assert_eq!(found["readings"].as_array().unwrap().len(), 4);
        // 2 in over 20 ft are 1 in 120.
        let tilt = found["plane"]["tilt_ratio"].as_f64().unwrap();
        assert!((tilt - 1.0 / 120.0).abs() < 1e-9, "{tilt}");
        assert_eq!(found["plane"]["falls_toward_words"], "east");
        assert_eq!(found["closure"].as_array().unwrap().len(), 1);
        // Cracks stay those of that day; on a new day there are none, and there is a movement.
        assert!(!found["conditions"].as_array().unwrap().is_empty() && found["movement"].is_null());
        let later = result(&["survey", &house, "--date", "2026-11-21", "--readings", &table]);
        assert!(later["conditions"].as_array().unwrap().is_empty());
        assert_eq!(
            (&later["movement"]["since"], &later["movement"]["days"]),
            (&json!("2026-05-21"), &json!(184))
        );
        // The file itself is as it was.
        assert_eq!(
            result(&["survey", &house])["readings"].as_array().unwrap().len(),
            26
        );
    }

    #[rstest]
    #[case(
        "A1,0 ft,0 ft,3,,,",
        "line 2, column \"height\": found the bare number 3; write a unit"
    )]
    #[case(
        "A1,0 ft,0 ft,,,,",
        "line 2, column \"height\": found an empty cell; expected a value"
    )]
    #[case("A1,0 ft,0 ft,3 lb,,,", "line 2, column \"height\": found")]
    #[case("A1,east,0 ft,3 in,,,", "line 2, column \"x\": found \"east\"; expected")]
    #[case(
        "A1,0 ft,0 ft,3 in,carpt,,",
        "line 2, column \"finish\": found \"carpt\"; expected floor finish: one of"
    )]
    #[case(
        "A1,0 ft,0 ft,3 in,,,noon",
        "line 2, column \"minute\": found \"noon\"; expected whole minutes"
    )]
    #[case(
        "base,1 ft,,0 in,,,",
        "line 2, column \"x\": found \"1 ft\"; expected an empty cell in a row of the base"
    )]
    #[case("A1,0 ft,0 ft", "line 2, column \"row\": found 3 cells; expected 7")]
    #[case(
        "A1,0 ft,0 ft,9000 ft,,,",
        "line 2, column \"height\": found 9000'-0\"; expected a height within"
    )]
    #[case(
        "A1,0 ft,0 ft,0 in,,,\n\nA1,9 ft,0 ft,0 in,,,",
        "line 4, column \"label\": found \"A1\" a second time; expected"
    )]
    #[case(
        "base,,,0 in,,,\nA1,0 ft,0 ft,0 in,,,\nA2,0 ft,1/8 in,0 in,,,",
        "line 4, column \"x\": found"
    )]
    #[case("A1,0 ft,0 ft,0 in,tile,-1 in,", "line 2, column \"thickness\": found")]
    fn each_bad_row_is_named_with_its_place(#[case] rows: &str, #[case] told: &str) {
        let files = Files::new();
        let table = files.write("r.csv", &format!("{HEAD}{rows}\n"));
        let (house, out, sheets) = (
            example("sorrel-ferry-street"),
            files.path("page.html"),
            files.path("sheets"),
        );
        let refused = refused(&[
            "survey",
            &house,
            "--date",
            "2026-05-21",
            "--readings",
            &table,
            "--format",
            "html",
            "--out",
            &out,
            "--drawings",
            &sheets,
        ]);
        assert!(refused.contains("r.csv") && refused.contains(told), "{refused}");
        assert_eq!(
            files.names(),
            BTreeSet::from(["r.csv".to_owned()]),
            "nothing is written"
        );
    }

    #[test]
    fn all_bad_rows_are_told_at_once() {
        let files = Files::new();
        let table = files.write(
            "r.csv",
            &format!("{HEAD}A1,0 ft,0 ft,3,,,\nA2,1 ft,0 ft,3 in,,,\nA3,1,0 ft,3 in,,,\n"),
        );
        let told = refused(&[
            "survey",
            &example("sorrel-ferry-street"),
            "--date",
            "2026-05-21",
            "--readings",
            &table,
        ]);
        assert!(
            told.contains("line 2,") && told.contains("line 4,") && !told.contains("line 3,"),
            "{told}"
        );
    }

    #[rstest]
    #[case("", "expected label,x,y,height,finish,thickness,minute")]
    #[case(
        "label,x,y,height\nA,0 ft,0 ft,0 in\n",
        "expected label,x,y,height,finish,thickness,minute"
    )]
    #[case(
        "label;x;y;height;finish;thickness;minute\n",
        "expected label,x,y,height,finish,thickness,minute"
    )]
    fn a_table_with_other_columns_is_refused(#[case] text: &str, #[case] told: &str) {
        let files = Files::new();
        let table = files.write("r.csv", text);
        let refused = refused(&[
            "survey",
            &example("sorrel-ferry-street"),
            "--date",
            "2026-05-21",
            "--readings",
            &table,
        ]);
        assert!(
            refused.contains("r.csv") && (refused.contains(told) || text.is_empty()),
            "{refused}"
        );
    }

    #[test]
    fn no_row_at_all_is_nothing_to_compute_with() {
        let files = Files::new();
        let table = files.write("r.csv", HEAD);
        let args = [
            "survey",
            &example("sorrel-ferry-street"),
            "--date",
            "2026-05-21",
            "--readings",
            &table,
        ];
        assert!(printed(&args, 2).contains("Nothing can be computed"));
    }

    #[test]
    fn a_table_needs_its_day() {
        let told = refused(&["survey", &example("sorrel-ferry-street"), "--readings", "r.csv"]);
        assert!(told.contains("--date <DATE>"), "{told}");
    }
}

mod options_of_a_survey {
    use super::*;

    #[rstest]
    #[case(&["--date", "2026-02-30"], "expected a day as year-month-day")]
    #[case(&["--date", "2026-01-01"], "--date: found 2026-01-01; expected one of 2026-03-12, 2026-08-27")]
    #[case(&["--line", "across"], "found \"across\"; expected two places")]
    #[case(&["--line", "0 ft,1 ft to 0 ft,1 ft"], "found the same place twice")]
    #[case(&["--line", "0 ft to 9 ft,1 ft"], "found \"0 ft\"; expected a place")]
    #[case(&["--line", "0 ft,0 to 9 ft,1 ft"], "found the bare number 0; write a unit")]
    #[case(&["--interval", "0 in"], "found 0\"; expected 1/64 in or more")]
    #[case(&["--interval", "-1 in"], "found -1\"; expected 1/64 in or more")]
    #[case(&["--interval", "1"], "found the bare number 1; write a unit")]
    #[case(&["--format", "text"], "[possible values: terminal, markdown, html, json]")]
    #[case(&["--readings", "/nowhere/r.csv", "--date", "2026-08-27"], "/nowhere/r.csv: cannot be read")]
    #[case(&["--out", "/nowhere/page"], "the folder /nowhere does not exist")]
    #[case(&["--out", "."], "it is a directory; name a file")]
    fn what_is_wrong_is_named_with_what_was_expected(#[case] options: &[&str], #[case] told: &str) {
        let house = example("heron-mill-crescent");
        let mut args = vec!["survey", house.as_str()];
        args.extend(options);
        let refused = refused(&args);
        assert!(refused.contains(told), "{refused}");
    }

    #[test]
    fn the_latest_survey_is_shown_unless_a_day_is_named() {
        let house = example("heron-mill-crescent");
        assert_eq!(result(&["survey", &house])["date"], "2026-08-27");
        let earlier = result(&["survey", &house, "--date", "2026-03-12"]);
        assert_eq!(
            (&earlier["date"], &earlier["movement"]),
            (&json!("2026-03-12"), &Value::Null)
        );
    }

    #[test]
    fn lines_asked_for_come_after_the_wall_lines() {
        let house = example("heron-mill-crescent");
        let asked = [
            "survey",
            &house,
            "--line",
            "0 ft,14 ft to 42 ft,14 ft",
            "--line",
            "-1 ft,2 ft to 9 ft,2 ft",
        ];
        let lines = |args: &[&str]| result(args)["lines"].as_array().unwrap().clone();
        let (plain, more) = (lines(&["survey", &house]), lines(&asked));
        assert_eq!(plain.len(), 5, "one for each wall line");
        assert_eq!((&more[..5], more.len()), (&plain[..], 7));
        assert!(more[5]["name"].as_str().unwrap().contains("14'-0\""));
    }

    #[test]
    fn a_finer_interval_draws_more_contours() {
        let files = Files::new();
        let size = |interval: &str| {
            let sheets = files.path(&interval.replace(['/', ' '], "-"));
            let house = example("heron-mill-crescent");
            printed(
                &[
                    "survey",
                    &house,
                    "--interval",
                    interval,
                    "--drawings",
                    &sheets,
                    "--quiet",
                ],
                1,
            );
            let svg = fs::read_to_string(Path::new(&sheets).join("heron-mill-crescent.floor.svg")).unwrap();
            svg.matches("<path").count() + svg.matches("<polyline").count() + svg.matches("<line").count()
        };
        assert!(size("1/8 in") > size("1/2 in"));
    }
}

mod options_of_foundation_work {
    use super::*;

    #[rstest]
    #[case(&["--start", "2026-02-30"], "expected a day as year-month-day")]
    #[case(&["--start", "monday"], "expected a day as year-month-day")]
    #[case(&["--longest-bay", "4"], "found the bare number 4; write a unit")]
    #[case(&["--longest-bay", "0 ft"], "--longest-bay: found 0\"; expected 6 in to 1,000 ft")]
    #[case(&["--longest-bay", "-4 ft"], "--longest-bay: found -4'-0\"; expected 6 in to 1,000 ft")]
    #[case(&["--longest-bay", "2000 ft"], "--longest-bay: found 2000'-0\"; expected 6 in to 1,000 ft")]
    #[case(&["--between", "0"], "--between: found 0; expected 1 to 100 bays")]
    #[case(&["--crews", "0"], "--crews: found 0; expected 1 to 100")]
    #[case(&["--crews", "101"], "--crews: found 101; expected 1 to 100")]
    #[case(&["--crews", "-1"], "invalid value '-1' for '--crews <NUMBER>'")]
    #[case(&["--crews", "many"], "invalid value 'many' for '--crews <NUMBER>'")]
    #[case(&["--crews", "70000"], "invalid value '70000' for '--crews <NUMBER>'")]
    #[case(&["--trucks", "0"], "--trucks: found 0; expected 1 to 100")]
    #[case(&["--neighbor-cure", "61"], "--neighbor-cure: found 61; expected 0 to 60 days")]
    #[case(&["--load-cure", "61"], "--load-cure: found 61; expected 0 to 60 days")]
    #[case(&["--pace", "brisk"], "--pace: found \"brisk\"; expected one of eighth-a-week")]
    #[case(&["--tolerance", "-1 in"], "--tolerance: found -1\"; expected nothing or more")]
    #[case(&["--most-lift", "-1 in"], "--most-lift: found -1\"; expected nothing or more")]
    #[case(&["--largest-step", "0 in"], "--largest-step: found 0\"; expected at least 1/16\"")]
    #[case(&["--neighbor-step", "1/64 in"], "--neighbor-step: found 1/64\"; expected at least 1/16\"")]
    #[case(&["--lift-to", "plumb"], "[possible values: plane, level]")]
    #[case(&["--prices", "/nowhere.csv"], "/nowhere.csv: cannot be read")]
    #[case(&["--standards-dir", "/nowhere"], "/nowhere: cannot be read")]
    #[case(&["--out", "/nowhere/page"], "the folder /nowhere does not exist")]
    fn what_is_wrong_is_named_with_what_was_expected(#[case] options: &[&str], #[case] told: &str) {
        let house = example("sorrel-ferry-street");
        let mut args = vec!["foundation", house.as_str()];
        args.extend(options);
        let refused = refused(&args);
        assert!(refused.contains(told), "{refused}");
    }

    fn sequence(more: &[&str]) -> Value {
        let house = example("copper-finch-row");
        let mut args = vec!["foundation", house.as_str()];
        args.extend(more);
        let sequence = result(&args)["sequence"].clone();
        assert_eq!(sequence["faults"], json!([]), "{more:?}");
        sequence
    }

    fn days(sequence: &Value) -> u64 {
        let days = sequence["days"].as_u64().unwrap();
        assert!(days >= sequence["lower_bound"].as_u64().unwrap());
        days
    }

    #[test]
    fn more_crews_take_fewer_days_and_a_longer_cure_more() {
        let plain = days(&sequence(&[]));
        let two = days(&sequence(&["--crews", "2"]));
        assert!(
            two < plain && days(&sequence(&["--crews", "4", "--trucks", "4"])) <= two,
            "{two} {plain}"
        );
        assert!(days(&sequence(&["--crews", "2", "--neighbor-cure", "21"])) > two);
        assert!(days(&sequence(&["--crews", "2", "--weekends"])) < two);
    }

    #[test]
    fn a_shorter_bay_makes_more_bays_and_none_is_longer_than_asked() {
        let plain = sequence(&[])["bays"].as_array().unwrap().len();
        let short = sequence(&["--longest-bay", "2 ft", "--crews", "4"]);
        assert!(short["bays"].as_array().unwrap().len() > plain);
        for bay in short["bays"].as_array().unwrap() {
            assert!(length(&bay["length"]) <= Length::feet(2), "{bay}");
        }
    }

    /// 14 September 2026 is a Monday: two days of digging and one of forms put the first inspection and pour in that week.
    #[test]
    fn from_a_first_day_days_are_dates() {
        let (numbered, dated) = (sequence(&[]), sequence(&["--start", "2026-09-14"]));
        assert_eq!(
            days(&numbered),
            days(&dated),
            "numbered days begin on a Monday too"
        );
        assert_eq!(numbered["bays"][0]["open"][0], "day 1");
        assert_eq!(dated["bays"][0]["open"][0], "2026-09-14");
        assert_eq!(
            (&numbered["pours"][0]["day"], &dated["pours"][0]["day"]),
            (&json!("day 5"), &json!("2026-09-18"))
        );
        for pour in dated["pours"].as_array().unwrap() {
            let day: CheckedOn = pour["day"].as_str().unwrap().parse().unwrap();
            assert!(day.weekday() < 5, "{day:?}: no pour on a weekend");
        }
        // A job that begins on a Saturday waits until Monday.
        let saturday = sequence(&["--start", "2026-09-12"]);
        assert_eq!(saturday["pours"][0]["day"], "2026-09-18");
    }

    fn lift(house: &str, more: &[&str]) -> Value {
        let house = example(house);
        let mut args = vec!["foundation", house.as_str()];
        args.extend(more);
        let lift = result(&args)["lift"].clone();
        assert_eq!(lift["faults"], json!([]), "{more:?}");
        lift
    }

    #[test]
    fn a_lift_to_level_is_another_lift() {
        let (plane, level) = (
            lift("heron-mill-crescent", &[]),
            lift("heron-mill-crescent", &["--lift-to", "level"]),
        );
        assert!(level["target"].as_str().unwrap().starts_with("level") && plane["target"] != level["target"]);
        let steps = |lift: &Value| lift["steps"].as_array().unwrap().len();
        assert!(
            steps(&level) > steps(&plane),
            "{} {}",
            steps(&level),
            steps(&plane)
        );
    }

    #[test]
    fn pace_and_most_lift_are_kept() {
        let last = |lift: &Value| {
            lift["steps"].as_array().unwrap().last().unwrap()["day"]
                .as_u64()
                .unwrap()
        };
        let (week, day) = (
            lift("mango-anchor-road", &[]),
            lift("mango-anchor-road", &["--pace", "eighth-a-day"]),
        );
        // The same steps, seven days apart and one day apart.
        assert_eq!(
            week["steps"].as_array().unwrap().len(),
            day["steps"].as_array().unwrap().len()
        );
        assert_eq!(last(&week) - 1, 7 * (last(&day) - 1));
        let little = lift("mango-anchor-road", &["--most-lift", "1/4 in"]);
        for jack in little["jacks"].as_array().unwrap() {
            assert!(length(&jack["lift"]) <= Length::sixty_fourths(16), "{jack}");
        }
        assert!(
            little["jacks"].to_string().contains("beyond the tolerance"),
            "what is left is told"
        );
    }
}

mod files {
    use super::*;

    #[rstest]
    fn the_house_file_is_never_replaced(#[values("survey", "foundation")] verb: &str) {
        let files = Files::new();
        let house = files.house("sorrel-ferry-street", |_| {});
        let before = fs::read(&house).unwrap();
        let link = files.path("link.json");
        #[cfg(unix)]
        std::os::unix::fs::symlink(&house, &link).unwrap();
        for out in [&house, &link] {
            let told = refused(&[verb, &house, "--out", out]);
            assert!(
                told.contains("found the house file itself; expected another file"),
                "{told}"
            );
        }
        assert_eq!(fs::read(&house).unwrap(), before);
    }

    #[test]
    fn nor_is_a_table_that_was_read() {
        let files = Files::new();
        let text = "label,x,y,height,finish,thickness,minute\nA1,0 ft,0 ft,0 in,,,\n";
        let (readings, house) = (files.write("r.csv", text), example("sorrel-ferry-street"));
        let told = refused(&[
            "survey",
            &house,
            "--date",
            "2026-05-21",
            "--readings",
            &readings,
            "--out",
            &readings,
        ]);
        assert!(
            told.contains("found a table that was read; expected another file"),
            "{told}"
        );
        assert_eq!(fs::read_to_string(&readings).unwrap(), text);
        let shipped = fs::read_to_string(root().join("tables/unit-prices-placeholder/prices.csv")).unwrap();
        let prices = files.write("prices.csv", &shipped);
        let told = refused(&["foundation", &house, "--prices", &prices, "--out", &prices]);
        assert!(told.contains("found a table that was read"), "{told}");
        assert_eq!(fs::read_to_string(&prices).unwrap(), shipped);
    }

    #[rstest]
    fn a_file_that_was_there_stays_whole_when_a_run_fails(#[values("survey", "foundation")] verb: &str) {
        let files = Files::new();
        let out = files.write("page.html", "as it was");
        let house = files.house("sorrel-ferry-street", |house| {
            house["wall_lines"][0]["length"] = json!("long");
        });
        refused(&[verb, &house, "--format", "html", "--out", &out]);
        assert_eq!(fs::read_to_string(&out).unwrap(), "as it was");
        assert_eq!(files.names().len(), 2, "{:?}", files.names());
    }

    #[rstest]
    #[case("survey", "sorrel-ferry-street", &["floor"])]
    #[case("survey", "heron-mill-crescent", &["floor"])]
    #[case("foundation", "sorrel-ferry-street", &["pours", "calendar-1", "section-1", "shoring-plan-1", "shoring-section-1"])]
    #[case("foundation", "copper-finch-row", &["pours", "calendar-1", "section-1", "shoring-plan-1", "shoring-section-2"])]
    #[case("foundation", "mango-anchor-road", &[])]
    fn drawings_are_written_each_as_svg_and_dxf(
        #[case] verb: &str,
        #[case] name: &str,
        #[case] sheets: &[&str],
    ) {
        let files = Files::new();
        let (folder, house) = (files.path("deep/down"), example(name));
        let output = run(&[verb, &house, "--drawings", &folder, "--format", "json"]);
        assert_eq!(output.status.code(), Some(1));
        let names: BTreeSet<String> = fs::read_dir(&folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        let stems = |extension: &str| -> BTreeSet<String> {
            names
                .iter()
                .filter_map(|name| name.strip_suffix(extension).map(str::to_owned))
                .collect()
        };
        assert_eq!(stems(".svg"), stems(".dxf"));
        assert_eq!(names.len(), 2 * stems(".svg").len(), "{names:?}");
        for sheet in sheets {
            assert!(
                names.contains(&format!("{name}.{sheet}.svg")),
                "{sheet}: {names:?}"
            );
        }
        let told = String::from_utf8(output.stderr).unwrap();
        for name in &names {
            assert!(told.contains(&format!("{name}\n")), "{name} is told of");
            let bytes = fs::read(Path::new(&folder).join(name)).unwrap();
            if Path::new(name)
                .extension()
                .is_some_and(|extension| extension == "svg")
            {
                roxmltree::Document::parse(std::str::from_utf8(&bytes).unwrap()).unwrap();
            } else {
                assert!(bytes.ends_with(b"EOF\r\n") || bytes.ends_with(b"EOF\n"), "{name}");
            }
        }
    }
}

mod own_tables {
    use super::*;

    fn dollars(more: &[&str]) -> [f64; 3] {
        let house = example("sorrel-ferry-street");
        let mut args = vec!["foundation", house.as_str()];
        args.extend(more);
        let total = result(&args)["quantities"]["total_dollars"].clone();
        serde_json::from_value(total).unwrap()
    }

    fn prices() -> String {
        fs::read_to_string(root().join("tables/unit-prices-placeholder/prices.csv")).unwrap()
    }

    #[test]
    fn prices_of_ones_own_set_the_cost() {
        let files = Files::new();
        let row = prices()
            .lines()
            .find(|row| row.starts_with("regional_multiplier,"))
            .unwrap()
            .to_owned();
        let twice = prices().replace(&row, &row.replacen("1,1,1", "2,2,2", 1));
        let own = files.write("prices.csv", &twice);
        let (plain, doubled) = (dollars(&[]), dollars(&["--prices", &own]));
        for (plain, doubled) in plain.iter().zip(doubled) {
            // To a cent for each line of the takeoff.
            assert!(
                *plain > 0.0 && (doubled - 2.0 * plain).abs() < 1.0,
                "{plain} {doubled}"
            );
        }
        assert!((dollars(&["--prices", &files.write("same.csv", &prices())])[1] - plain[1]).abs() < 1e-9);
    }

    #[rstest]
    #[case(
        "concrete,cubic yard,180",
        "concrete,cubic yard,cheap",
        "column \"material_low\": found \"cheap\""
    )]
    #[case(
        "concrete,cubic yard,180",
        "concrete,cubic yard,-180",
        "column \"material_low\": found"
    )]
    #[case("concrete,cubic yard", "concrete,bucket", "column \"unit\": found \"bucket\"")]
    #[case("concrete,cubic yard", "custard,cubic yard", "custard")]
    fn a_faulty_price_is_named_with_its_place(#[case] old: &str, #[case] new: &str, #[case] told: &str) {
        let files = Files::new();
        assert!(prices().contains(old));
        let own = files.write("prices.csv", &prices().replacen(old, new, 1));
        let refused = refused(&["foundation", &example("sorrel-ferry-street"), "--prices", &own]);
        assert!(
            refused.contains("prices.csv") && refused.contains("line") && refused.contains(told),
            "{refused}"
        );
    }

    #[test]
    fn a_sequence_of_ones_own_takes_the_place_of_the_shipped_one() {
        let files = Files::new();
        let own = files.own_standard(
            "foundation-sequence",
            "largest-open,used,,4,,ft",
            "largest-open,used,,2,,ft",
        );
        let house = example("copper-finch-row");
        let bays = |more: &[&str]| {
            let mut args = vec!["foundation", house.as_str(), "--crews", "3"];
            args.extend(more);
            result(&args)["sequence"]["bays"].as_array().unwrap().len()
        };
        let plain = bays(&[]);
        let short = bays(&["--standards-dir", &own]);
        assert!(short > plain, "{short} {plain}");
        assert_eq!(short, bays(&["--longest-bay", "2 ft"]));
        assert_eq!(
            plain,
            bays(&["--standards-dir", &own, "--longest-bay", "4 ft"]),
            "the option counts"
        );
        let parent = Path::new(&own).parent().unwrap().to_str().unwrap();
        assert_eq!(short, bays(&["--standards-dir", parent]));
    }

    #[test]
    fn shoring_of_ones_own_takes_the_place_of_the_shipped_one() {
        let files = Files::new();
        let (old, new) = ("roof-live,,,20,,psf", "roof-live,,,40,,psf");
        let own = files.own_standard("shoring-and-lifting", old, new);
        let house = example("heron-mill-crescent");
        let high = |more: &[&str]| {
            let mut args = vec!["foundation", house.as_str()];
            args.extend(more);
            let loads = result(&args)["loads"].clone();
            let totals = loads
                .as_array()
                .unwrap()
                .iter()
                .filter_map(|row| row["total_plf"][1].as_f64());
            totals.fold(0.0, f64::max)
        };
        assert!(high(&["--standards-dir", &own]) > high(&[]));
    }

    #[rstest]
    #[case(
        "foundation-sequence",
        "largest-open,used,,4,,ft",
        "largest-open,used,,4,,lb",
        "figures.csv, line 2, column \"value\": found \"lb\"; expected a unit of another kind"
    )]
    #[case(
        "foundation-sequence",
        "largest-open,used,,4,,ft",
        "largest-open,used,,four,,ft",
        "figures.csv, line 2, column \"value\""
    )]
    #[case(
        "foundation-sequence",
        "largest-open,used,,4,,ft",
        "longest-open,used,,4,,ft",
        "found no row \"largest-open\" for \"used\"; expected one"
    )]
    #[case(
        "shoring-and-lifting",
        "crib-height,6x6,,72,,in",
        "crib-height,6x6,,72,,psf",
        "figures.csv, line 26, column \"value\": found \"psf\"; expected a unit of another kind"
    )]
    #[case(
        "shoring-and-lifting",
        "jack-capacity,6-ton,,12000,,lb",
        "jack-capacity,6-ton,,-12000,,lb",
        "found \"-12000\""
    )]
    fn a_faulty_table_is_named_with_its_place(
        #[case] id: &str,
        #[case] old: &str,
        #[case] new: &str,
        #[case] told: &str,
    ) {
        let files = Files::new();
        let own = files.own_standard(id, old, new);
        let refused = refused(&[
            "foundation",
            &example("sorrel-ferry-street"),
            "--standards-dir",
            &own,
        ]);
        assert!(refused.contains(told) && refused.contains("ours"), "{refused}");
    }

    #[rstest]
    #[case("foundation-sequence")]
    #[case("shoring-and-lifting")]
    fn two_tables_of_ones_own_for_one_standard_are_not_mixed_up(#[case] id: &str) {
        let (first, second) = (Files::new(), Files::new());
        let same = |files: &Files| {
            let unchanged =
                fs::read_to_string(root().join("tables/standards").join(id).join("figures.csv")).unwrap();
            let row = unchanged.lines().nth(1).unwrap().to_owned();
            files.own_standard(id, &row, &row)
        };
        let (ours, theirs) = (same(&first), same(&second));
        let told = refused(&[
            "foundation",
            &example("sorrel-ferry-street"),
            "--standards-dir",
            &ours,
            "--standards-dir",
            &theirs,
        ]);
        assert!(
            told.contains("found a second table of the standard of \"ours\"; expected one"),
            "{told}"
        );
    }
}

mod explain {
    use super::*;

    fn explained(name: &str, house: &str, more: &[&str]) -> Value {
        let house = example(house);
        let mut args = vec!["explain", name, "--house", &house, "--format", "json"];
        args.extend(more);
        serde_json::from_str(&printed(&args, 0)).unwrap()
    }

    fn step<'a>(found: &'a Value, what: &str) -> &'a Value {
        let steps = found["steps"].as_array().unwrap();
        let is_it = |step: &&Value| step["what"].as_str().unwrap().starts_with(what);
        steps
            .iter()
            .find(is_it)
            .unwrap_or_else(|| panic!("{what}: {found}"))
    }

    /// Least and most of `335 to 2,359 plf`, `1,500 psf`.
    fn ends(shown: &Value) -> [f64; 2] {
        let numbers: Vec<f64> = shown
            .as_str()
            .unwrap()
            .replace(',', "")
            .split(' ')
            .filter_map(|word| word.parse().ok())
            .collect();
        [numbers[0], *numbers.last().unwrap()]
    }

    /// The parts add up to what is named as their sum, and load over soil is the width that is named.
    #[test]
    fn a_footing_s_width_follows_from_what_is_shown() {
        let found = explained("footing-width", "sorrel-ferry-street", &["--wall", "east"]);
        let steps = found["steps"].as_array().unwrap();
        let together = steps.iter().position(|step| step["what"] == "Together").unwrap();
        let sum = steps[..together]
            .iter()
            .map(|step| ends(&step["value"]))
            .fold([0.0, 0.0], |sum, part| [sum[0] + part[0], sum[1] + part[1]]);
        let total = ends(&steps[together]["value"]);
        for (sum, total) in sum.iter().zip(total) {
            // Every part is shown to the pound.
            assert!((sum - total).abs() <= 0.5 * f64::from(u8::try_from(together).unwrap() + 1));
        }
        let soil = ends(&step(&found, "What the soil carries")["value"])[0];
        let own = ends(&step(&found, "Weight of footing")["value"])[0];
        let inches = (12.0 * (total[1] + own) / soil).ceil();
        #[expect(clippy::cast_possible_truncation, reason = "a width of a few feet")]
        let width = Length::inches(inches as i64);
        assert_eq!(length(&step(&found, "Width by the load")["value"]), width);
        let taken = step(&found, "Width taken");
        let plan = result(&["foundation", &example("sorrel-ferry-street")]);
        let sizes = plan["new_work"][0]["sizes"].as_array().unwrap();
        let of_plan = sizes
            .iter()
            .find(|size| size["what"] == "footing, the wider taken")
            .unwrap();
        let shown = taken["value"].as_str().unwrap();
        assert!(
            of_plan["value"]
                .as_str()
                .unwrap()
                .starts_with(&format!("{shown} wide"))
        );
        for table in steps
            .iter()
            .filter(|step| step["what"].as_str().unwrap().contains("by the table"))
        {
            assert_ne!(table["source"], "");
        }
    }

    #[test]
    fn a_post_s_load_stands_over_what_it_can_carry() {
        let found = explained("post-load", "mango-anchor-road", &["--posts", "1"]);
        let most = ends(&step(&found, "Together")["value"])[1];
        let ratio = step(&found, "Load over what the post can carry");
        let told = ratio["how"].as_str().unwrap().replace(',', "");
        let capacity: f64 = told.split(' ').find_map(|word| word.parse().ok()).unwrap();
        let shown: f64 = ratio["value"].as_str().unwrap().parse().unwrap();
        assert!((most / capacity - shown).abs() <= 0.005, "{found}");
    }

    /// The steps of a jack add up to its lift.
    #[test]
    fn the_steps_of_a_lift_add_up() {
        let found = explained("lift-step", "heron-mill-crescent", &["--jack", "A2"]);
        let steps = found["steps"].as_array().unwrap();
        let rises = steps
            .iter()
            .filter(|step| step["what"].as_str().unwrap().starts_with("Step "));
        let sum = rises.fold(Length::ZERO, |sum, step| {
            sum.saturating_add(length(&step["value"]))
        });
        assert!(sum > Length::ZERO);
        assert_eq!(sum, length(&step(&found, "Lift in all")["value"]));
        assert_eq!(step(&found, "Pace")["value"], "1/8\" in 7 days");
    }

    #[test]
    fn a_support_s_load_is_that_of_the_plan_and_asks_for_a_design() {
        let found = explained("shoring-load", "copper-finch-row", &["--wall", "north"]);
        let plan = result(&["foundation", &example("copper-finch-row")]);
        let supports = plan["shoring"][0]["schemes"][0]["supports"].as_array().unwrap();
        let inner = ends(&step(&found, "Carrying beam: support S2")["value"])[0];
        assert!((inner - supports[1]["load_pounds"].as_f64().unwrap()).abs() <= 0.5);
        // By hand: the load of a foot over the span, five quarters of it, as the beam stands 2 ft in from the wall.
        let most = ends(&step(&found, "Together")["value"])[1];
        let by_hand = 1.25 * most * 4.75 * 12.5 / 10.5;
        assert!(
            (inner - by_hand).abs() <= 0.001 * by_hand,
            "{inner} and {by_hand}"
        );
        let text = printed(
            &[
                "explain",
                "shoring-load",
                "--house",
                &example("copper-finch-row"),
                "--wall",
                "north",
            ],
            0,
        );
        assert!(text.contains("licensed engineer"));
    }

    #[test]
    fn what_can_be_explained_is_listed() {
        let house = example("copper-finch-row");
        let text = printed(&["explain", "--house", &house], 0);
        let json: Value =
            serde_json::from_str(&printed(&["explain", "--house", &house, "--format", "json"], 0)).unwrap();
        for name in [
            "line-load",
            "footing-width",
            "shoring-load",
            "post-load",
            "girder",
            "lift-step",
        ] {
            assert!(text.contains(name), "{name}");
            assert!(
                json.as_array()
                    .unwrap()
                    .iter()
                    .any(|number| number["name"] == name),
                "{name}"
            );
        }
    }

    #[rstest]
    #[case("heron-mill-crescent", &["footing-width"], "name one with --wall: north, den north, east, south, west")]
    #[case("heron-mill-crescent", &["footing-width", "--wall", "nort"], "--wall: found \"nort\"; expected one of north")]
    #[case("heron-mill-crescent", &["footing-width", "--wall", "north"], "wall line north gets no new footing")]
    #[case("heron-mill-crescent", &["shoring-load", "--wall", "north"], "nothing holds up wall line north")]
    #[case("heron-mill-crescent", &["post-load", "--posts", "7"], "--posts: found \"7\"; expected one of 1, 2")]
    #[case("heron-mill-crescent", &["lift-step", "--jack", "Z9"], "--jack: found \"Z9\"; expected one of A1")]
    #[case("cinder-alder-terrace", &["lift-step", "--jack", "A1"], "no floor level survey is on record")]
    #[case("cinder-alder-terrace", &["post-load"], "no posts are on record")]
    #[case("heron-mill-crescent", &["footing-widht", "--wall", "east"], "did you mean \"footing-width\"?")]
    fn what_is_wrong_is_named_with_what_was_expected(
        #[case] house: &str,
        #[case] asked: &[&str],
        #[case] told: &str,
    ) {
        let house = example(house);
        let mut args = vec!["explain", "--house", &house];
        args.extend(asked);
        let found = refused(&args);
        assert!(found.contains(told), "{found}");
    }
}
