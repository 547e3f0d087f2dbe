//! Reading a column map: TOML, every fault with the place where it stands.

use std::ops::Range;

use retrofit_core::choice::nearest;
use retrofit_core::portfolio::{ColumnMap, MapFault};
use thiserror::Error;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::fault::Fault;
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

/// Reads a column map from its text.
///
/// ```
/// use retrofit_report::input::{Origin, parse_column_map};
///
/// let text = "format = \"column-map-1\"\nname = \"A roll\"\n[columns.id]\nfrm = \"APN\"\n";
/// let error = parse_column_map(&Origin::from("roll.toml"), text.into()).unwrap_err();
/// assert!(error.to_string().starts_with("roll.toml:4:1: found the key \"frm\""), "{error}");
/// assert!(error.to_string().contains("did you mean \"from\"?"), "{error}");
/// ```
pub fn parse_column_map(origin: &Origin, text: String) -> Result<MapFile, ColumnMapError> {
    match toml::from_str(&text) {
        Ok(map) => Ok(MapFile {
            origin: origin.clone(),
            map,
            text,
        }),
        Err(error) => {
            let (message, help) = in_plain_words(error.message());
            let place = error.span().unwrap_or_default();
            Err(ColumnMapError::Fault {
                origin: origin.clone(),
                fault: Box::new(Fault::at(&text, place, String::new(), message, help)),
            })
        }
    }
}

/// The bytes that a path of keys leads to: the value, or as much of the way as there is.
fn place(text: &str, path: &[String]) -> Range<usize> {
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

/// What the reader of TOML says, in the words of this program: message and help.
fn in_plain_words(said: &str) -> (String, String) {
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
            return (format!("found {what}{found:?}; expected one of {expected}"), help);
        }
    }
    if let Some(key) = said.strip_prefix("missing field `") {
        let key = key.trim_end_matches('`');
        let help = if key == "format" {
            "a column map begins with format = \"column-map-1\"".to_owned()
        } else {
            String::new()
        };
        return (format!("found no key {key:?}; expected it here"), help);
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
        return (
            format!("found {}; expected {expected}", found.replace('`', "")),
            String::new(),
        );
    }
    if let Some(key) = said.strip_prefix("duplicate key") {
        return (
            format!("found a key a second time{key}; expected each once"),
            String::new(),
        );
    }
    (
        format!("found text that is not TOML ({said}); expected keys and values"),
        String::new(),
    )
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
}
