//! Reading a column map: TOML or JSON, every fault with the place where it stands.

use std::ops::Range;

use retrofit_core::choice::nearest;
use retrofit_core::portfolio::{ColumnMap, MapFault};
use serde::Deserialize;
use serde_path_to_error::Track;
use thiserror::Error;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::comments::without_comments;
use super::fault::Fault;
use super::house::{known_steps, position, without_position};
use super::place::{Part, Places, Step};
use super::text::{Origin, TextError, read_text};

/// The largest column map that is read.
pub const LARGEST_MAP: u64 = 4 << 20;

/// A column map and the text it was read from.
#[derive(Clone, Debug)]
pub struct MapFile {
    /// Where it comes from.
    pub origin: Origin,
    /// The map.
    pub map: ColumnMap,
    text: String,
}

/// Why a column map cannot be used.
#[derive(Debug, Error)]
pub enum ColumnMapError {
    /// The file cannot be read.
    #[error(transparent)]
    Text(#[from] TextError),
    /// It is at fault somewhere.
    #[error("{origin}:{fault}")]
    Fault {
        /// The file.
        origin: Origin,
        /// What and where.
        fault: Box<Fault>,
    },
}

impl ColumnMapError {
    /// The fault with the line it stands on, for a terminal.
    pub fn picture(&self, styled: bool) -> String {
        match self {
            Self::Text(error) => format!("error: {error}"),
            Self::Fault { origin, fault } => fault.picture(&origin.to_string(), styled),
        }
    }
}

impl MapFile {
    /// Its text, as it was read.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// A fault of the map once it meets an extract, with its place in the file.
    pub fn fault(&self, fault: &MapFault) -> ColumnMapError {
        let (message, help) = match fault.problem.split_once("; did you mean ") {
            Some((message, near)) => (message, format!("did you mean {near}")),
            None => (fault.problem.as_str(), String::new()),
        };
        ColumnMapError::Fault {
            origin: self.origin.clone(),
            fault: Box::new(Fault::at(
                &self.text,
                place(&self.text, &fault.path),
                fault.path.join("."),
                message.to_owned(),
                help,
            )),
        }
    }
}

/// Reads a column map from a file.
pub fn read_column_map(origin: &Origin) -> Result<MapFile, ColumnMapError> {
    let text = read_text(origin, LARGEST_MAP)?;
    parse_column_map(origin, text)
}

/// Reads a column map from its text: TOML, or JSON where it begins with a brace. Comments in JSON are passed over, as in
/// a house file.
///
/// ```
/// use retrofit_report::input::{Origin, parse_column_map};
///
/// let text = "format = \"column-map-1\"\nname = \"A roll\"\n[columns.id]\nfrm = \"APN\"\n";
/// let error = parse_column_map(&Origin::from("roll.toml"), text.into()).unwrap_err();
/// assert!(error.to_string().starts_with("roll.toml:4:1: found the key \"frm\""), "{error}");
/// assert!(error.to_string().contains("did you mean \"from\"?"), "{error}");
///
/// let text = r#"{"format": "column-map-1", "name": "A roll", "columns": {"id": {"from": "APN"}}}"#;
/// assert!(parse_column_map(&Origin::from("roll.json"), text.into()).is_ok());
/// ```
pub fn parse_column_map(origin: &Origin, text: String) -> Result<MapFile, ColumnMapError> {
    let read = if is_json(&text) {
        from_json(&text)
    } else {
        from_toml(&text)
    };
    match read {
        Ok(map) => Ok(MapFile {
            origin: origin.clone(),
            map,
            text,
        }),
        Err(fault) => Err(ColumnMapError::Fault {
            origin: origin.clone(),
            fault,
        }),
    }
}

/// Nothing in TOML begins with a brace or a slash.
fn is_json(text: &str) -> bool {
    text.trim_start().starts_with(['{', '/'])
}

fn from_toml(text: &str) -> Result<ColumnMap, Box<Fault>> {
    toml::from_str(text).map_err(|error| {
        let said = error.message();
        let (message, help) = in_plain_words(said).unwrap_or_else(|| not_readable("TOML", said));
        let place = error.span().unwrap_or_default();
        Box::new(Fault::at(text, place, String::new(), message, help))
    })
}

fn from_json(text: &str) -> Result<ColumnMap, Box<Fault>> {
    let plain = without_comments(text);
    let mut deserializer = serde_json::Deserializer::from_str(&plain);
    let mut track = Track::new();
    let tracked = serde_path_to_error::Deserializer::new(&mut deserializer, &mut track);
    let map = ColumnMap::deserialize(tracked).and_then(|map| deserializer.end().map(|()| map));
    let places = Places::of(&plain);
    let map = map.map_err(|error| {
        let said = without_position(&error.to_string());
        let reported = position(text, error.line(), error.column());
        if !error.is_data() {
            let (message, help) = not_readable("JSON", &said);
            return Box::new(Fault::at(text, reported, String::new(), message, help));
        }
        let (message, help) = in_plain_words(&said).unwrap_or((said.clone(), String::new()));
        let mut path = known_steps(&track.path());
        let key = said.split('`').nth(1).unwrap_or_default();
        let part = if said.starts_with("unknown field") {
            // The path may end with the key itself or with the object that holds it.
            path.pop_if(|last| *last == Step::Key(key.to_owned()));
            Part::Key(key)
        } else if said.starts_with("duplicate field") {
            path.pop_if(|last| *last == Step::Key(key.to_owned()));
            Part::SecondKey(key)
        } else {
            Part::Value
        };
        let place = places.find(&path, part).unwrap_or(reported);
        Box::new(Fault::at(text, place, dotted(&path), message, help))
    })?;
    // Of two like keys in a list of codes the reader would take the second and say nothing.
    if let Some((key, place)) = places.repeated_key() {
        let message = format!("found the key {key:?} a second time; expected each once");
        return Err(Box::new(Fault::at(
            text,
            place,
            String::new(),
            message,
            String::new(),
        )));
    }
    Ok(map)
}

/// A path as faults of a map spell it.
fn dotted(path: &[Step]) -> String {
    let words = path.iter().map(|step| match step {
        Step::Key(key) => key.clone(),
        Step::Index(index) => index.to_string(),
    });
    words.collect::<Vec<_>>().join(".")
}

fn not_readable(format: &str, said: &str) -> (String, String) {
    (
        format!("found text that is not {format} ({said}); expected keys and values"),
        String::new(),
    )
}

/// Keys whose values are lists: what follows one in a path is a number.
const LISTS: [&str; 6] = ["infer", "from", "blank", "widths", "worst_first", "is"];

fn place_in_json(text: &str, path: &[String]) -> Range<usize> {
    let mut steps = Vec::new();
    let mut is_list = false;
    for word in path {
        let index = word.parse().ok().filter(|_| is_list);
        steps.push(index.map_or_else(|| Step::Key(word.clone()), Step::Index));
        is_list = index.is_none() && LISTS.contains(&word.as_str());
    }
    let plain = without_comments(text);
    let places = Places::of(&plain);
    places.find(&steps, Part::Value).unwrap_or_default()
}

/// The bytes that a path of keys leads to: the value, or as much of the way as there is.
fn place(text: &str, path: &[String]) -> Range<usize> {
    if is_json(text) {
        return place_in_json(text, path);
    }
    let Ok(document) = DeTable::parse(text) else {
        return 0..0;
    };
    let mut place = 0..0;
    let mut table = Some(document.get_ref());
    let mut list: Option<&[Spanned<DeValue<'_>>]> = None;
    for step in path {
        let value = if let Some(table) = table {
            let Some((key, value)) = table.iter().find(|(key, _)| key.get_ref() == step) else {
                break;
            };
            place = key.span();
            value
        } else {
            let entry = step.parse::<usize>().ok();
            let Some(value) = list.zip(entry).and_then(|(list, entry)| list.get(entry)) else {
                break;
            };
            value
        };
        (table, list) = (None, None);
        match value.get_ref() {
            DeValue::Table(inner) => table = Some(inner),
            DeValue::Array(inner) => {
                list = Some(inner);
                place = value.span();
            }
            _ => place = value.span(),
        }
    }
    place
}

/// What the reader says of a key or a value, in the words of this program: message and help.
fn in_plain_words(said: &str) -> Option<(String, String)> {
    let quoted = |text: &str| -> Vec<String> {
        let mut parts = text.split('`');
        parts.next();
        parts.step_by(2).map(str::to_owned).collect()
    };
    for (beginning, what) in [("unknown field `", "the key "), ("unknown variant `", "")] {
        if let Some((found, expected)) = said.strip_prefix(beginning).and_then(|rest| rest.split_once('`')) {
            let expected = quoted(expected);
            let near = nearest(found, expected.iter().map(String::as_str));
            let help = near.map_or_else(String::new, |near| format!("did you mean {near:?}?"));
            let expected = expected.join(", ");
            return Some((format!("found {what}{found:?}; expected one of {expected}"), help));
        }
    }
    if let Some(key) = said.strip_prefix("missing field `") {
        let key = key.trim_end_matches('`');
        let help = if key == "format" {
            "a column map has the format \"column-map-1\"".to_owned()
        } else {
            String::new()
        };
        return Some((format!("found no key {key:?}; expected it here"), help));
    }
    let kind = said
        .strip_prefix("invalid type: ")
        .or_else(|| said.strip_prefix("invalid value: "))
        .and_then(|rest| rest.split_once(", expected "));
    if let Some((found, expected)) = kind {
        let expected = match expected {
            "a string" => "text in quotes",
            "a sequence" => "a list in brackets",
            "a map" => "a table of keys and values",
            "f64" => "a number",
            "usize" => "a whole number",
            expected if expected.starts_with("struct ") => "a table of keys and values",
            expected => expected,
        };
        return Some((
            format!("found {}; expected {expected}", found.replace('`', "")),
            String::new(),
        ));
    }
    let twice = said
        .strip_prefix("duplicate key")
        .or_else(|| said.strip_prefix("duplicate field"))?;
    Some((
        format!(
            "found the key{} a second time; expected each once",
            twice.replace('`', "\"")
        ),
        String::new(),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    const HEAD: &str = "format = \"column-map-1\"\nname = \"A roll\"\n";

    #[rstest]
    #[case("", "1:1: found no key \"format\"")]
    #[case(
        "format = \"column-map-2\"\n",
        "1:10: found \"column-map-2\"; expected one of column-map-1"
    )]
    #[case(
        "format = \"column-map-1\"\nname = \"x\"\n[file]\nencoding = \"utf8\"\n[columns]\n",
        "4:12: found \"utf8\"; expected one of utf-8, windows-1252; did you mean \"utf-8\"?"
    )]
    #[case(
        "format = \"column-map-1\"\nname = 3\n",
        "2:8: found integer 3; expected text in quotes"
    )]
    #[case("format = \n", "1:10: found text that is not TOML")]
    fn a_fault_is_told_with_its_place(#[case] text: &str, #[case] says: &str) {
        let error = parse_column_map(&Origin::from("m.toml"), text.into()).unwrap_err();
        let said = error.to_string();
        assert!(said.strip_prefix("m.toml:").unwrap().starts_with(says), "{said}");
    }

    #[rstest]
    #[case(
        "[columns.id]\nfrom = \"APN\"\n[columns.stories]\nfrom = [\"Storys\"]\n",
        "6:8: columns.stories.from: found \"Storys\"; expected a column of the extract; did you mean \"Stories\"?"
    )]
    #[case(
        "[columns.id]\nfrom = \"APN\"\n[columns.roof]\nfrom = \"Stories\"\ncodes = { T = \"slate\" }\n",
        "7:15: columns.roof.codes.T: found \"slate\""
    )]
    #[case(
        "[columns.storeys]\nfrom = \"APN\"\n[columns.id]\nfrom = \"APN\"\n",
        "3:10: columns.storeys: found \"storeys\""
    )]
    #[case(
        "[columns.id]\nfrom = \"APN\"\n[[infer]]\ncolumn = \"stories\"\nthen = \"x\"\nbecause = \"y\"\nwhen = { APN = { above = 1 } }\n",
        "7:8: infer.0.then: found \"x\""
    )]
    fn a_fault_that_the_extract_shows_has_its_place(#[case] rest: &str, #[case] says: &str) {
        let file = parse_column_map(&Origin::from("m.toml"), format!("{HEAD}{rest}")).unwrap();
        let fault = file.map.compile(&["APN", "Stories"]).unwrap_err();
        let said = file.fault(&fault).to_string();
        assert!(said.strip_prefix("m.toml:").unwrap().starts_with(says), "{said}");
    }

    #[rstest]
    #[case("{}", "1:1: found no key \"format\"")]
    #[case(
        "{\n \"format\": \"column-map-2\"}",
        "2:12: format: found \"column-map-2\"; expected one of column-map-1"
    )]
    #[case(
        "// a note\n{\"format\": \"column-map-1\",\n \"name\": \"x\", \"columns\": {\"id\": {\"frm\": \"APN\"}}}",
        "3:34: columns.id: found the key \"frm\"; expected one of from"
    )]
    #[case(
        "{\"format\": \"column-map-1\",\n \"name\": 3, \"columns\": {}}",
        "2:10: name: found integer 3; expected text in quotes"
    )]
    #[case(
        "{\"format\": \"column-map-1\", \"name\": \"x\", \"name\": \"y\", \"columns\": {}}",
        "1:41: found the key \"name\" a second time"
    )]
    #[case(
        "{\"format\": \"column-map-1\", \"name\": \"x\",\n\"columns\": {\"roof\": {\"from\": \"R\", \"codes\": {\"T\": \"tile\", \"T\": \"light\"}}}}",
        "2:58: found the key \"T\" a second time"
    )]
    #[case(
        "{\"format\": \"column-map-1\",\n \"name\": }",
        "2:10: found text that is not JSON (expected value)"
    )]
    #[case(
        "{\"format\": \"column-map-1\", \"name\": \"x\", \"columns\": {}} more",
        "1:56: found text that is not JSON"
    )]
    fn a_fault_in_json_is_told_with_its_place(#[case] text: &str, #[case] says: &str) {
        let error = parse_column_map(&Origin::from("m.json"), text.into()).unwrap_err();
        let said = error.to_string();
        assert!(said.strip_prefix("m.json:").unwrap().starts_with(says), "{said}");
    }

    #[rstest]
    #[case(
        "\"columns\": {\"id\": {\"from\": \"APN\"},\n \"stories\": {\"from\": [\"Storys\"]}}}",
        "3:14: columns.stories.from: found \"Storys\"; expected a column of the extract; did you mean \"Stories\"?"
    )]
    #[case(
        "\"columns\": {\"id\": {\"from\": \"APN\"}},\n \"infer\": [{\"column\": \"stories\", \"then\": \"x\", \"because\": \"y\", \"when\": {\"APN\": {\"above\": 1}}}]}",
        "3:42: infer.0.then: found \"x\""
    )]
    fn a_fault_that_the_extract_shows_has_its_place_in_json(#[case] rest: &str, #[case] says: &str) {
        let head = "{\"format\": \"column-map-1\", \"name\": \"A roll\",\n";
        let file = parse_column_map(&Origin::from("m.json"), format!("{head}{rest}")).unwrap();
        let fault = file.map.compile(&["APN", "Stories"]).unwrap_err();
        let said = file.fault(&fault).to_string();
        assert!(said.strip_prefix("m.json:").unwrap().starts_with(says), "{said}");
    }

    /// A map says the same in both.
    #[test]
    fn a_shipped_map_in_json_is_the_same_map() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/maps");
        let mut count = 0;
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|end| end == "toml") {
                let of_toml = read_column_map(&Origin::from(path.as_path())).unwrap().map;
                let json = serde_json::to_string_pretty(&of_toml).unwrap();
                let of_json = parse_column_map(&Origin::from("map.json"), json).unwrap().map;
                assert_eq!(of_toml, of_json);
                count += 1;
            }
        }
        assert_eq!(count, 5);
    }
}
