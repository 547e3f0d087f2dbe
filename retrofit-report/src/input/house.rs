//! From the text of a house file to a house that can be checked.

use std::ops::Range;

use retrofit_core::choice::nearest;
use retrofit_core::house::{AsBuilt, House};
use serde::Deserialize;
use serde_path_to_error::{Segment, Track};
use thiserror::Error;

use super::comments::without_comments;
use super::fault::Fault;
use super::place::{Part, Places, Step, spelled, steps};
use super::text::{BYTE_ORDER_MARK, LARGEST_HOUSE_FILE, Origin, TextError, read_text};

/// A house file that was read.
#[derive(Clone, Debug)]
pub struct HouseFile {
    /// Where it came from.
    pub origin: Origin,
    /// The house.
    pub house: AsBuilt,
    /// Its text, byte for byte, by which a report names what it was made from.
    pub text: String,
}

/// Why there is no house to check.
#[derive(Debug, Error)]
pub enum HouseError {
    /// There is no text.
    #[error(transparent)]
    Text(#[from] TextError),
    /// The text is no house file, or it describes a house that cannot be.
    #[error("{}", lines(.origin, .faults))]
    Faulty {
        /// The file.
        origin: Origin,
        /// Everything that is wrong with it, as far as it could be read.
        faults: Vec<Fault>,
    },
}

fn lines(origin: &Origin, faults: &[Fault]) -> String {
    let lines: Vec<String> = faults.iter().map(|fault| format!("{origin}:{fault}")).collect();
    lines.join("\n")
}

impl HouseError {
    /// Every fault with the line it stands on and a mark under the place, in color if asked for.
    pub fn picture(&self, styled: bool) -> String {
        match self {
            Self::Text(error) => format!("error: {error}"),
            Self::Faulty { origin, faults } => {
                let file = origin.to_string();
                let shown = faults
                    .iter()
                    .take(MOST_PICTURES)
                    .map(|fault| fault.picture(&file, styled));
                let mut pictures: Vec<String> = shown.collect();
                if let Some(more @ 1..) = faults.len().checked_sub(MOST_PICTURES) {
                    pictures.push(format!("{file}: {more} further faults are not shown"));
                }
                pictures.join("\n\n")
            }
        }
    }
}

/// Faults of one file that are shown at most: whoever reads mends these first.
const MOST_PICTURES: usize = 20;

/// Reads a house file.
pub fn read_house(origin: &Origin) -> Result<HouseFile, HouseError> {
    let text = read_text(origin, LARGEST_HOUSE_FILE)?;
    let house = parse_house(&text).map_err(|faults| HouseError::Faulty {
        origin: origin.clone(),
        faults,
    })?;
    Ok(HouseFile {
        origin: origin.clone(),
        house,
        text,
    })
}

/// Reads a house from the text of a house file. The error is everything that is wrong: the first fault where
/// the text cannot be read as a house, all of them where the house cannot be as described. A byte-order mark
/// and comments are passed over.
pub fn parse_house(text: &str) -> Result<AsBuilt, Vec<Fault>> {
    let text = text.strip_prefix(BYTE_ORDER_MARK).unwrap_or(text);
    let plain = without_comments(text);
    let house = deserialize(&plain).map_err(|fault| vec![*fault])?;
    AsBuilt::new(house).map_err(|problems| {
        let places = Places::of(&plain);
        problems
            .into_iter()
            .map(|problem| {
                let place = places.find(&steps(&problem.path), Part::Value).unwrap_or(0..0);
                let message = format!("found {}; expected {}", problem.found, problem.expected);
                Fault::at(text, place, problem.path, message, String::new())
            })
            .collect()
    })
}

fn deserialize(text: &str) -> Result<House, Box<Fault>> {
    refuse_other_than_object(text)?;
    let mut deserializer = serde_json::Deserializer::from_str(text);
    let mut track = Track::new();
    let tracked = serde_path_to_error::Deserializer::new(&mut deserializer, &mut track);
    let house = House::deserialize(tracked);
    match house.and_then(|house| deserializer.end().map(|()| house)) {
        Ok(house) => Ok(house),
        Err(error) => Err(Box::new(fault_of(text, &error, &known_steps(&track.path())))),
    }
}

/// The JSON reader would take a list of values in the order of their fields for a house.
fn refuse_other_than_object(text: &str) -> Result<(), Box<Fault>> {
    let start = text.len() - text.trim_start().len();
    let first = text.get(start..).and_then(|rest| rest.chars().next());
    let found = match first {
        Some('{') | None => return Ok(()),
        Some('[') => "a list".to_owned(),
        Some('"') => "a text".to_owned(),
        Some(c) => format!("{c:?} at the beginning"),
    };
    let message = format!("found {found}; expected one house, an object in braces");
    let help = match first {
        Some('<') => "this looks like a web page, not a house file",
        _ => "",
    };
    let place = start..start + first.map_or(0, char::len_utf8);
    Err(Box::new(Fault::at(
        text,
        place,
        String::new(),
        message,
        help.to_owned(),
    )))
}

pub(super) fn known_steps(path: &serde_path_to_error::Path) -> Vec<Step> {
    let step = |segment: &Segment| match segment {
        Segment::Seq { index } => Some(Step::Index(*index)),
        Segment::Map { key } => Some(Step::Key(key.clone())),
        Segment::Enum { .. } | Segment::Unknown => None,
    };
    path.iter().map_while(step).collect()
}

fn fault_of(text: &str, error: &serde_json::Error, path: &[Step]) -> Fault {
    let said = without_position(&error.to_string());
    if !error.is_data() {
        let (message, help) = in_plain_words(text, error, &said);
        let reported = word_at(text, position(text, error.line(), error.column()));
        // The reader stops inside a number that it cannot hold; elsewhere the place it names is the fault.
        let place = if said.starts_with("number out of range") {
            Places::of(text).find(path, Part::Value).unwrap_or(reported)
        } else {
            reported
        };
        return Fault::at(text, place, spelled(path), message, help);
    }
    let places = Places::of(text);
    let (path, part, message, help) = explained(text, &places, path, &said);
    let place = places
        .find(&path, part)
        .unwrap_or_else(|| position(text, error.line(), error.column()));
    Fault::at(text, place, spelled(&path), message, help)
}

/// What a message about a value or a key of the wrong kind comes to: path, place, message, help.
fn explained<'m>(
    text: &str,
    places: &Places<'_>,
    path: &[Step],
    said: &'m str,
) -> (Vec<Step>, Part<'m>, String, String) {
    let mut path = path.to_vec();
    let words = quoted(said);
    if said.starts_with("unknown field") {
        let Some((key, expected)) = words.split_first() else {
            return (path, Part::Value, said.to_owned(), String::new());
        };
        // The path may end with the key itself or with the object that holds it.
        if path.last() == Some(&Step::Key((*key).to_owned())) {
            path.pop();
        }
        let help = match nearest(key, expected.iter().copied()) {
            Some(near) => format!("did you mean {near:?}? The keys here are {}", expected.join(", ")),
            None => format!("the keys here are {}", expected.join(", ")),
        };
        let message = format!(
            "found the key {:?}; expected a key of the house format",
            shortened(key)
        );
        return (path, Part::Key(key), message, help);
    }
    if let (true, Some(key)) = (said.starts_with("duplicate field"), words.first()) {
        let message = format!("found the key {key:?} a second time; expected it once");
        return (
            path,
            Part::SecondKey(key),
            message,
            "keep one of the two".to_owned(),
        );
    }
    if let (true, Some(key)) = (said.starts_with("missing field"), words.first()) {
        let message = format!("found no key {key:?}; expected it here");
        return (path, Part::Value, message, String::new());
    }
    if let (true, [found, expected @ ..]) = (said.starts_with("unknown variant"), words.as_slice()) {
        let message = format!("found {:?}; expected {}", shortened(found), expected.join(" or "));
        return (path, Part::Value, message, String::new());
    }
    if let Some(expected) = mismatch(said) {
        let found = match (
            said.contains(": map,"),
            said.contains(": sequence,"),
            places.scalar(&path, text),
        ) {
            (true, _, _) => "an object".to_owned(),
            (_, true, _) => "a list".to_owned(),
            (_, _, Some(scalar)) => shortened(scalar),
            (_, _, None) => "a value of another kind".to_owned(),
        };
        return (
            path,
            Part::Value,
            format!("found {found}; expected {expected}"),
            String::new(),
        );
    }
    if let Some(key) = said
        .strip_prefix("the key \"")
        .and_then(|rest| rest.strip_suffix("\" stands twice"))
    {
        let message = format!("found the key {key:?} a second time; expected it once");
        return (
            path,
            Part::SecondKey(key),
            message,
            "keep one of the two".to_owned(),
        );
    }
    if let Some(rest) = said.strip_prefix("found a second key \"") {
        let key = rest.split('"').next().unwrap_or_default();
        return (path, Part::Key(key), said.to_owned(), String::new());
    }
    // The measures and closed lists say by themselves what was found and what was expected.
    match said.split_once("; did you mean ") {
        Some((message, near)) => {
            let help = format!("did you mean {near}");
            (path, Part::Value, message.to_owned(), help)
        }
        None => (path, Part::Value, said.to_owned(), String::new()),
    }
}

/// What was expected instead of a value of the wrong kind, in words that are not those of a programming
/// language.
fn mismatch(said: &str) -> Option<String> {
    if let Some(rest) = said.strip_prefix("invalid length ") {
        let (_, expected) = rest.split_once(", expected ")?;
        return Some(expected.replace("an array", "a list"));
    }
    let rest = said
        .strip_prefix("invalid type: ")
        .or_else(|| said.strip_prefix("invalid value: "))?;
    let (_, expected) = rest.rsplit_once(", expected ")?;
    Some(match expected {
        "u8" => "a whole number from 0 to 255".to_owned(),
        "u16" => "a whole number from 0 to 65535".to_owned(),
        "u32" | "u64" | "usize" => "a whole number from 0 up".to_owned(),
        "f64" => "a number".to_owned(),
        "a boolean" => "true or false".to_owned(),
        "a string" | "a borrowed string" => "a text in double quotes".to_owned(),
        "a sequence" => "a list".to_owned(),
        other if other.starts_with("struct ") => "an object in braces".to_owned(),
        other if other.starts_with("an array of length ") => other.replace("an array", "a list"),
        other => other.to_owned(),
    })
}

/// What a text that is not JSON comes to: message and help.
fn in_plain_words(text: &str, error: &serde_json::Error, said: &str) -> (String, String) {
    let at = position(text, error.line(), error.column()).start;
    let here = text.get(at..).unwrap_or_default();
    let before = text.get(..at).unwrap_or_default();
    let word: String = here
        .trim_start_matches('-')
        .chars()
        .take_while(|c| c.is_alphanumeric())
        .take(20)
        .collect();
    let token_start = before
        .rfind(|c: char| !c.is_alphanumeric())
        .map_or(0, |at| at + 1);
    let token = before.get(token_start..).unwrap_or_default();
    let not_finite = ["NaN", "nan", "Infinity", "inf"];

    if error.is_eof() {
        let message = "found the end of the file in the middle of the house; expected the rest of it";
        return (
            message.to_owned(),
            "the file may have been cut off when it was saved or sent".to_owned(),
        );
    }
    if said.starts_with("recursion limit") {
        return (
            "found lists or objects nested more than 127 deep; expected a house file, which nests about 7 deep"
                .to_owned(),
            String::new(),
        );
    }
    if said.starts_with("trailing characters") {
        return (
            "found more text behind the end of the house; expected nothing".to_owned(),
            "a house file holds one house; give further houses files of their own".to_owned(),
        );
    }
    if said.starts_with("number out of range") {
        return (
            "found a number too large to be read; expected a number of ordinary size".to_owned(),
            String::new(),
        );
    }
    if not_finite.contains(&word.as_str()) || not_finite.contains(&token) {
        return (
            "found a number that is not finite; expected a value".to_owned(),
            "leave the key out, or say why it is not known: {\"unknown\": \"…\"}".to_owned(),
        );
    }
    if said.starts_with("control character") {
        return (
            "found a line break, a tab or another control character inside a text; expected none".to_owned(),
            "write a line break as \\n and a tab as \\t, or close the quotes before it".to_owned(),
        );
    }
    let help = match here.chars().next() {
        Some('/') => "a comment stands between /* and */, or behind // to the end of its line",
        Some('\'') => "JSON has double quotes only",
        Some('“' | '”' | '‘' | '’') => "JSON has straight quotes only",
        Some('}' | ']') if said.starts_with("trailing comma") => "remove the comma before it",
        _ => "",
    };
    let found = match here.chars().next() {
        Some('[') => "found a list".to_owned(),
        Some('{') => "found an object".to_owned(),
        Some(c) if !c.is_control() => format!("found {c:?} where JSON does not allow it"),
        Some(_) => "found a line break or another control character where JSON does not allow it".to_owned(),
        None => "found the end of the file".to_owned(),
    };
    let expected = match said.strip_prefix("expected ") {
        Some("value" | "ident") => "a value".to_owned(),
        Some(rest) => rest.to_owned(),
        None if said.starts_with("key must be a string") => "a key in double quotes".to_owned(),
        None => return (format!("{found}: {said}; expected JSON"), help.to_owned()),
    };
    (format!("{found}; expected {expected}"), help.to_owned())
}

/// A message of the parser without the line and column at its end: the place is shown by other means.
pub(super) fn without_position(said: &str) -> String {
    match said.rsplit_once(" at line ") {
        Some((message, rest))
            if rest
                .bytes()
                .all(|b| b.is_ascii_digit() || b" column".contains(&b)) =>
        {
            message.to_owned()
        }
        _ => said.to_owned(),
    }
}

/// The words in backquotes.
fn quoted(said: &str) -> Vec<&str> {
    said.split('`').skip(1).step_by(2).collect()
}

/// The character at a line and column of the JSON reader, which counts bytes from 1.
pub(super) fn position(text: &str, line: usize, column: usize) -> Range<usize> {
    let line_start: usize = text
        .split_inclusive('\n')
        .take(line.saturating_sub(1))
        .map(str::len)
        .sum();
    let at = text.floor_char_boundary((line_start + column.saturating_sub(1)).min(text.len()));
    let width = text
        .get(at..)
        .and_then(|rest| rest.chars().next())
        .map_or(0, char::len_utf8);
    at..at + width
}

/// The rest of the word that begins at a place.
fn word_at(text: &str, place: Range<usize>) -> Range<usize> {
    let rest = text.get(place.start..).unwrap_or_default();
    let word = rest.find(|c: char| !c.is_alphanumeric()).unwrap_or(rest.len());
    place.start..place.end.max(place.start + word)
}

fn shortened(text: &str) -> String {
    if text.chars().nth(60).is_none() {
        return text.to_owned();
    }
    text.chars().take(59).chain(['…']).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(text: &str) -> Fault {
        parse_house(text).unwrap_err().remove(0)
    }

    fn wall(inside: &str) -> String {
        format!(
            "{{\"format\": \"house-1\", \"name\": \"n\",\n \"wall_lines\": [{{\"name\": \"north\",\n{inside}}}]}}"
        )
    }

    #[test]
    fn a_bare_number_is_located_with_its_path() {
        let fault = fault(&wall("\"length\": {\"measured\": 24}"));
        assert_eq!((fault.line, fault.column), (3, 24));
        assert_eq!(fault.path, "wall_lines[0].length.measured");
        assert!(fault.message.contains("found the bare number 24"), "{fault}");
    }

    #[test]
    fn an_unknown_key_comes_with_the_nearest_one() {
        let fault = fault(&wall("\"anchor\": []"));
        assert_eq!((fault.line, fault.column), (3, 1));
        assert!(fault.help.starts_with("did you mean \"anchors\"?"), "{fault}");
    }

    #[test]
    fn of_two_like_keys_the_second_is_marked() {
        let fault = fault(&wall("\"note\": \"a\",\n\"note\": \"b\""));
        assert_eq!((fault.line, fault.column), (4, 1));
    }

    #[test]
    fn all_contradictions_are_told_at_once() {
        let text = wall("\"length\": \"24 ft\", \"anchors\": [{\"at\": \"25 ft\"}, {\"at\": \"-1 ft\"}]");
        let faults = parse_house(&text).unwrap_err();
        assert_eq!(faults.len(), 2, "{faults:?}");
        assert_eq!(faults[1].path, "wall_lines[0].anchors[1].at");
    }

    #[test]
    fn a_missing_key_is_told_where_it_is_missing() {
        let fault = fault("{\"format\": \"house-1\", \"name\": \"n\", \"wall_lines\": [\n{}]}");
        assert_eq!(fault.path, "wall_lines[0]");
        assert_eq!(fault.line, 2);
    }
}
