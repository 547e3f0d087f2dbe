//! Taking a house down: the questions against the schema, a session typed by a script, the starter file and the form.

#![cfg(test)]

mod program;

use std::collections::BTreeSet;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Output, Stdio};

use program::{command, run};
use proptest::strategy::Strategy as _;
use retrofit_core::house::House;
use retrofit_report::capture::{
    Answer, Answers, Depth, Form, Kind, NOT_ASKED, Place, Record, Session, questions,
};
use retrofit_report::input::parse_house;
use retrofit_report::language::{Language, Words};
use rstest::rstest;
use serde_json::Value;

fn english() -> Words {
    Words::of(Language::ENGLISH).unwrap()
}

fn examples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples");
    let mut houses: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "json"))
        .collect();
    houses.sort();
    assert!(houses.len() >= 20);
    houses
}

/// Every place of the schema is asked for, given by the answer to a list, or named with the reason why not.
#[test]
fn every_place_of_the_house_file_is_asked_for_or_named() {
    let asked: BTreeSet<&str> = questions().map(|question| question.path).collect();
    let given: BTreeSet<String> = questions()
        .flat_map(|question| {
            let field = |field: &&str| format!("{}[].{field}", question.path);
            question.gives.iter().map(field).collect::<Vec<_>>()
        })
        .chain(
            [
                "building.outline[].x",
                "building.outline[].y",
                "wall_lines[].plan[].x",
                "wall_lines[].plan[].y",
            ]
            .map(str::to_owned),
        )
        .collect();
    let places = Answers::default().places();
    assert!(places.len() > 140, "{}", places.len());
    let is_named = |place: &str| {
        NOT_ASKED.iter().any(|(path, reason)| {
            !reason.is_empty()
                && (*path == place
                    || place.starts_with(&format!("{path}."))
                    || place.starts_with(&format!("{path}[")))
        })
    };
    for place in &places {
        let times = usize::from(asked.contains(place.as_str()))
            + usize::from(given.contains(place))
            + usize::from(is_named(place));
        assert_eq!(times, 1, "{place}");
    }
    let places: BTreeSet<&str> = places.iter().map(String::as_str).collect();
    for path in asked
        .iter()
        .copied()
        .chain(NOT_ASKED.iter().map(|(path, _)| *path))
    {
        let is_there = places.iter().any(|place| {
            place
                .strip_prefix(path)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        });
        assert!(is_there, "{path} is no place of the house file");
    }
}

/// Every term of every closed list in the schema is offered, with words in every language.
#[test]
fn every_term_of_every_list_is_offered_in_every_language() {
    let schema = schemars::schema_for!(House).to_value();
    let answers = Answers::default();
    let mut lists = BTreeSet::new();
    for language in Language::all() {
        let words = Words::of(language).unwrap();
        for question in questions() {
            let asked = words.term(&question.message()).unwrap();
            assert!(asked.chars().count() <= 90, "{language}: {asked}");
            let answer = answers.at(question.path).unwrap();
            let Kind::Term(list, terms) = answer.kind else {
                continue;
            };
            let all = schema["$defs"][&list]["oneOf"].as_array().unwrap();
            assert_eq!(terms.len(), all.len(), "{list}");
            for term in &terms {
                words.term(&format!("choice-{list}-{term}")).unwrap();
            }
            lists.insert(list);
        }
    }
    assert!(lists.len() >= 25, "{lists:?}");
}

/// What checks look at is asked without being asked for everything, and stands on the form.
#[test]
fn what_checks_read_is_always_asked() {
    use retrofit_core::check::LookAt;
    use retrofit_core::choice::Choice;
    let asked: BTreeSet<&str> = questions()
        .filter(|question| question.depth == Depth::Checked)
        .map(|question| question.path)
        .collect();
    for look_at in LookAt::ALL {
        let path = look_at.spelling();
        let is_given = questions().any(|question| {
            let field = path
                .strip_prefix(question.path)
                .and_then(|rest| rest.strip_prefix("[]."));
            field.is_some_and(|field| question.gives.contains(&field))
        });
        assert!(asked.contains(path) || is_given, "{path}");
    }
}

/// Answers every question of a session from a record that is there: what somebody would type who had that house
/// before their eyes.
struct Observer {
    house: Value,
}

impl Observer {
    /// What to type at a place; nothing where the record says nothing.
    fn answer(&self, place: &Place, answer: &Answer) -> Option<String> {
        if place.asks_for_more() {
            return None;
        }
        let value = at(&self.house, &place.path())?;
        if let Kind::List(_) = answer.kind {
            // The first things that are alike; the others are told when more are asked for.
            let (known, list) = listed(value);
            let Some(list) = list else {
                return Some(answer.spelled(value));
            };
            let first = alike(list, place.question().gives, 0);
            let whole = is_single(place);
            let typed = Value::Array(if whole {
                list.clone()
            } else {
                list[..first].to_vec()
            });
            return Some(match known {
                Some(word) => answer.spelled(&serde_json::json!({ word: typed })),
                None => answer.spelled(&typed),
            });
        }
        Some(answer.spelled(value))
    }

    /// What to type when more are asked for, behind as many as are recorded.
    fn more(&self, place: &Place, answer: &Answer, recorded: usize) -> Option<String> {
        let (_, list) = listed(at(&self.house, &place.path())?);
        let list = list?;
        let count = alike(list, place.question().gives, recorded);
        (count > 0).then(|| answer.spelled(&Value::Array(list[recorded..recorded + count].to_vec())))
    }
}

/// Lists whose things are named in one answer, whatever is known of them.
fn is_single(place: &Place) -> bool {
    matches!(
        place.question().path,
        "wall_lines" | "building.outline" | "wall_lines[].plan"
    )
}

fn listed(value: &Value) -> (Option<&str>, Option<&Vec<Value>>) {
    match value {
        Value::Object(known) => {
            let (word, list) = known.iter().next().unwrap();
            (Some(word.as_str()), list.as_array())
        }
        value => (None, value.as_array()),
    }
}

/// How many things from one on differ in nothing but what the answer to the list gives.
fn alike(list: &[Value], gives: &[&str], from: usize) -> usize {
    let rest = |item: &Value| {
        let mut item = item.clone();
        let map = item.as_object_mut().unwrap();
        let placed = map.contains_key("at");
        for field in gives.iter().filter(|field| **field != "kind") {
            map.remove(*field);
        }
        (placed, item)
    };
    let Some(first) = list.get(from) else { return 0 };
    list[from..]
        .iter()
        .take_while(|item| rest(item) == rest(first))
        .count()
}

fn at<'v>(root: &'v Value, path: &str) -> Option<&'v Value> {
    path.split('.').try_fold(root, |value, step| {
        let (field, item) = step.strip_suffix(']').map_or((step, None), |step| {
            let (field, item) = step.split_once('[').unwrap();
            (field, Some(item.parse::<usize>().unwrap()))
        });
        let value = value.get(field)?;
        match item {
            Some(item) => listed(value).1?.get(item),
            None => Some(value),
        }
    })
}

/// Types a house into a session; gives the lines and the record.
fn typed(house: &Value) -> (Vec<String>, Record) {
    let observer = Observer { house: house.clone() };
    let mut session = Session::new(
        Record::starter("nameless", &["one"]),
        Depth::Everything,
        &english(),
    )
    .unwrap();
    let mut lines = Vec::new();
    while let Some(place) = session.place().cloned() {
        let answer = session.answer_taken().unwrap();
        let line = if place.asks_for_more() {
            let so_far: Value = serde_json::from_str(&session.record().written()).unwrap();
            let recorded = listed(at(&so_far, &place.path()).unwrap()).1.unwrap().len();
            observer.more(&place, &answer, recorded)
        } else {
            observer.answer(&place, &answer)
        };
        if let Some(line) = line {
            session
                .answer(&line)
                .unwrap_or_else(|error| panic!("{}: {line}: {error}", place.path()));
            lines.push(line);
        } else {
            session.skip();
            lines.push("skip".to_owned());
        }
        assert!(lines.len() < 2000, "the session does not end");
    }
    (lines, session.record().clone())
}

/// A house file without the places that are not asked for.
fn askable(path: &Path) -> Value {
    let mut house: Value = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
    for elsewhere in ["surveys", "photos"] {
        house.as_object_mut().unwrap().remove(elsewhere);
    }
    for wall in house["wall_lines"].as_array_mut().unwrap() {
        for stretch in wall["foundation"].as_array_mut().into_iter().flatten() {
            stretch.as_object_mut().unwrap().remove("work");
        }
    }
    if let Some(posts) = house.get_mut("posts").and_then(Value::as_array_mut) {
        for post in posts {
            let post = post.as_object_mut().unwrap();
            post.remove("at");
            // Left out, it is one.
            post.entry("count").or_insert(1.into());
        }
    }
    house
}

#[test]
fn every_example_can_be_typed_in() {
    for path in examples() {
        let house = askable(&path);
        let (_, record) = typed(&house);
        let expected = parse_house(&house.to_string()).unwrap();
        let typed = record.house().unwrap();
        let [typed, expected] = [typed, expected].map(|house| serde_json::to_string_pretty(&house).unwrap());
        assert!(
            typed == expected,
            "{}:\n{}",
            path.display(),
            first_difference(&typed, &expected)
        );
    }
}

fn first_difference(a: &str, b: &str) -> String {
    let lines = a.lines().zip(b.lines());
    lines
        .filter(|(a, b)| a != b)
        .map(|(a, b)| format!("{a}\n{b}"))
        .next()
        .unwrap_or_default()
}

/// Runs the program with answers on its standard input.
fn answered(folder: &Path, arguments: &[&str], answers: &str) -> Output {
    let mut program = command(arguments)
        .current_dir(folder)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = program.stdin.take().unwrap();
    input.write_all(answers.as_bytes()).unwrap();
    drop(input);
    program.wait_with_output().unwrap()
}

fn house_in(folder: &Path) -> House {
    let text = fs::read_to_string(folder.join("house.json")).unwrap();
    parse_house(&text).unwrap().into_inner()
}

/// The same over a pipe, in two sittings: stopped in the middle and gone on with.
#[rstest]
#[case("quince-lantern-way")]
#[case("bramble-kiln-court")]
fn a_house_typed_over_a_pipe_is_the_house_of_the_file(#[case] name: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../examples/{name}.json"));
    let house = askable(&path);
    let (lines, _) = typed(&house);
    let folder = tempfile::tempdir().unwrap();
    // The sitting is broken off behind an answer, so that the next one begins at the question after it.
    let middle = (lines.len() / 2..lines.len())
        .find(|at| lines[*at] != "skip")
        .unwrap()
        + 1;
    let first = lines[..middle].join("\n") + "\nquit\n";
    let output = answered(
        folder.path(),
        &["new", "house.json", "--ask", "--everything"],
        &first,
    );
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert_ne!(house_in(folder.path()), *parse_house(&house.to_string()).unwrap());

    let second = lines[middle..].join("\n") + "\n";
    let arguments = ["new", "house.json", "--ask", "--everything", "--resume"];
    let output = answered(folder.path(), &arguments, &second);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert_eq!(house_in(folder.path()), *parse_house(&house.to_string()).unwrap());
}

#[test]
fn a_starter_file_is_read_and_nothing_is_determined() {
    let folder = tempfile::tempdir().unwrap();
    for (language, file) in [("en", "one.json"), ("es", "two.json")] {
        let path = folder.path().join(file);
        let path = path.to_str().unwrap();
        assert_eq!(run(&["new", path, "--language", language]).status.code(), Some(0));
        let text = fs::read_to_string(path).unwrap();
        assert!(text.contains("// "), "{text}");
        assert!(text.contains("not looked at yet"), "{text}");
        let output = run(&["check", path]);
        assert_eq!(output.status.code(), Some(2), "{output:?}");
        let said = String::from_utf8(output.stdout).unwrap();
        assert!(said.to_lowercase().contains("not determined"), "{said}");
    }
}

/// Whatever is left as it is in a starter file stays unknown: no check is met.
#[test]
fn a_starter_file_meets_nothing() {
    use retrofit_core::check::{Ruling, assess};
    use retrofit_core::provisions::Library;
    let record = Record::starter("Tamarind Gate", &["north", "east"]).with_every_question();
    let text = record.with_comments(&english()).unwrap();
    let house = parse_house(&text).unwrap();
    assert_eq!(house, record.house().unwrap());
    let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
    let assessment = assess(&house, &provisions);
    let rulings: Vec<Ruling> = assessment
        .findings
        .iter()
        .map(|finding| finding.outcomes.ruling())
        .collect();
    assert!(!rulings.is_empty());
    assert!(!rulings.contains(&Ruling::Met), "{rulings:?}");
    assert!(!rulings.contains(&Ruling::NotMet), "{rulings:?}");
}

#[test]
fn every_line_of_a_starter_file_that_could_be_filled_in_can_be() {
    let record = Record::starter("Tamarind Gate", &["north", "east"]).with_every_question();
    let text = record.with_comments(&english()).unwrap();
    let mut filled = 0;
    let lines: Vec<String> = text
        .lines()
        .map(|line| {
            let offered = line
                .trim_start()
                .strip_prefix("// ")
                .filter(|rest| rest.starts_with('"') && rest.ends_with(','));
            offered.map_or_else(
                || line.to_owned(),
                |rest| {
                    filled += 1;
                    rest.replace(": \"\"", ": \"somebody\"")
                },
            )
        })
        .collect();
    assert!(filled >= 4, "{text}");
    parse_house(&lines.join("\n")).unwrap_or_else(|faults| panic!("{faults:?}"));
}

#[test]
fn a_house_file_is_never_written_over_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.json");
    fs::write(&path, "mine").unwrap();
    for arguments in [&["new", "house.json"][..], &["new", "house.json", "--ask"]] {
        let output = answered(folder.path(), arguments, "quit\n");
        assert_eq!(output.status.code(), Some(3));
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(said.contains("is there already; --resume"), "{said}");
        assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
    }
    let output = answered(
        folder.path(),
        &["new", "house.json", "--ask", "--resume"],
        "quit\n",
    );
    assert_eq!(output.status.code(), Some(3), "what is there is no house file");
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
    let output = answered(folder.path(), &["new", "house.json", "--force"], "");
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(house_in(folder.path()).name, "house");
}

#[test]
fn a_form_is_never_written_over_a_house_file() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("house.json"), "mine").unwrap();
    let output = answered(folder.path(), &["new", "--form", "house.json"], "");
    assert_eq!(output.status.code(), Some(3));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(
        said.contains("expected the name of a file that ends in .html or .md"),
        "{said}"
    );
    assert_eq!(
        fs::read_to_string(folder.path().join("house.json")).unwrap(),
        "mine"
    );
}

/// What nobody has looked at yet is no answer: a session over a starter file begins at the beginning.
#[test]
fn a_session_over_a_starter_file_begins_with_the_first_question() {
    let record = Record::starter("Gate", &["north"]).with_every_question();
    let text = record.with_comments(&english()).unwrap();
    let session = Session::new(Record::read(&text).unwrap(), Depth::Checked, &english()).unwrap();
    assert_eq!(session.place().unwrap().path(), "name");
    assert_eq!(session.progress().0, 0);
}

#[test]
fn an_answer_is_saved_at_once_and_a_wrong_one_is_asked_again() {
    let folder = tempfile::tempdir().unwrap();
    let answers = "Tamarind Gate\n2026-02-30\n2026-02-28\n?\nback\n\nassessor\nenterd\nquit\n";
    let output = answered(folder.path(), &["new", "house.json", "--ask"], answers);
    assert_eq!(
        output.status.code(),
        Some(3),
        "a script is told that an answer was not taken"
    );
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("found \"2026-02-30\"; expected a day"), "{said}");
    assert!(said.contains("did you mean \"entered\"?"), "{said}");
    assert!(said.contains("[now: 2026-02-28]"), "{said}");
    assert!(said.contains("In the house file: inspection.observer"), "{said}");
    let house = house_in(folder.path());
    assert_eq!(house.inspection.date.unwrap().to_string(), "2026-02-28");
    assert_eq!(house.inspection.observer, "assessor");
    assert!(!house.inspection.access.is_known());
}

#[test]
fn an_empty_answer_is_unknown_with_a_reason_and_never_a_value() {
    let mut session = Session::new(Record::starter("Gate", &["north"]), Depth::Checked, &english()).unwrap();
    while session.place().is_some() {
        session.answer("").unwrap();
    }
    let house = session.record().house().unwrap();
    assert_eq!(house.building.stories.reason().unwrap().words(), "not seen");
    assert_eq!(house.wall_lines[0].anchors.reason().unwrap().words(), "not seen");
}

#[rstest]
#[case("unknown: under insulation", r#"{"unknown": "under insulation"}"#)]
#[case("m 1'-6\"", r#"{"measured": "1'-6\""}"#)]
#[case("reported at least 12 in", r#"{"reported": {"at_least": "12 in"}}"#)]
#[case("12 in to 16 in", r#"{"seen": {"at_least": "12 in", "at_most": "16 in"}}"#)]
#[case("18 in", r#""18 in""#)]
fn how_something_is_known_stands_before_it(#[case] text: &str, #[case] expected: &str) {
    let answer = Answers::default().at("inspection.clear_height").unwrap();
    let read = answer.read(text, "not seen").unwrap();
    assert_eq!(read, serde_json::from_str::<Value>(expected).unwrap());
    assert_eq!(answer.read(&answer.spelled(&read), "not seen").unwrap(), read);
}

#[test]
fn an_answer_that_contradicts_another_is_refused_with_its_place() {
    let mut session = Session::new(Record::starter("Gate", &["north"]), Depth::Checked, &english()).unwrap();
    while session
        .place()
        .is_some_and(|place| place.path() != "wall_lines[0].length")
    {
        session.skip();
    }
    session.answer("m 24 ft").unwrap();
    while session
        .place()
        .is_some_and(|place| place.path() != "wall_lines[0].anchors")
    {
        session.skip();
    }
    let error = session.answer("2 ft, 30 ft").unwrap_err().to_string();
    assert!(
        error.starts_with("wall_lines[0].anchors[1].at: found 30'-0\""),
        "{error}"
    );
    assert_eq!(
        session.place().unwrap().path(),
        "wall_lines[0].anchors",
        "the question stands"
    );
}

proptest::proptest! {
    #![proptest_config(proptest::test_runner::Config { cases: 40, failure_persistence: None, ..Default::default() })]

    /// Whatever is typed, the record can be read afterwards, and reads back as it was written.
    #[test]
    fn whatever_is_typed_the_record_can_be_read(
        skipped in 0..60_usize,
        lines in proptest::collection::vec(proptest::prop_oneof![
            proptest::sample::select(vec![
                "", "skip", "back", "none", "all", "1", "yes", "no", "unknown: why", "m 2 ft", "2'-0\", 6'-0\"", "joints 3 ft",
                "from 1 ft to 9 ft every 2 ft", "every", "total 4 ft", "vent 1 ft to 2 ft", "all: no room", "at least 3 in",
                "3 in to 1 in", "measured none", "entered", "concrete", "0 ft, 0 ft; 4 ft, 0 ft; 4 ft, 4 ft", "damp: cellar",
            ]).prop_map(str::to_owned),
            "\\PC{0,20}",
        ], 1..60),
    ) {
        let mut session = Session::new(Record::starter("Gate", &["north"]), Depth::Everything, &english()).unwrap();
        for _ in 0..skipped {
            session.skip();
        }
        for line in &lines {
            match line.as_str() {
                "skip" => session.skip(),
                "back" => drop(session.back()),
                line => drop(session.answer(line)),
            }
            let _ = (session.asked(&english()), session.recorded());
        }
        let text = session.record().written();
        let read = Record::read(&text).unwrap();
        proptest::prop_assert_eq!(read.house().unwrap(), session.record().house().unwrap());
        proptest::prop_assert_eq!(read.written(), text);
    }
}

/// The form holds what the terminal asks, in every language.
#[test]
fn the_form_holds_every_question_that_checks_need() {
    for language in Language::all() {
        let form = Form::new(&Words::of(language).unwrap()).unwrap();
        let rows = |sheet: &retrofit_report::capture::Sheet| -> Vec<&str> {
            sheet
                .parts
                .iter()
                .flat_map(|part| &part.rows)
                .map(|row| row.path)
                .collect()
        };
        let mut on_form = rows(&form.house);
        on_form.extend(rows(&form.wall_line));
        on_form.extend(["name", "wall_lines"]);
        let on_form: BTreeSet<&str> = on_form.into_iter().collect();
        let asked: BTreeSet<&str> = questions()
            .filter(|question| question.depth == Depth::Checked)
            .map(|question| question.path)
            .collect();
        assert_eq!(on_form, asked);
        let page = form.html().unwrap();
        assert!(page.contains(&format!("lang=\"{language}\"")));
        assert!(form.markdown().contains("☐"));
    }
}

#[test]
fn a_language_that_is_not_there_is_refused_with_those_that_are() {
    let output = run(&["new", "--form", "form.html", "--language", "fr"]);
    assert_eq!(output.status.code(), Some(3));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("expected one of en, es"), "{said}");
}
