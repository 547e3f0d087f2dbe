//! How much room words take, whatever typeface a reader's machine has.
//!
//! A picture names no font of its own, so the widths here are those of a wide sans-serif face, rounded up:
//! words that fit by this measure fit in every common one.

use retrofit_core::measure::Length;
use unicode_width::UnicodeWidthChar;

/// The height of a capital, in thousandths of the size of a typeface.
const CAPITAL: i64 = 720;

/// The size of the typeface whose capitals are of some height.
pub(super) fn size(height: Length) -> Length {
    share(height, 1000 * 1000 / CAPITAL)
}

/// How far letters such as g reach below the line.
pub(super) fn descent(height: Length) -> Length {
    share(height, 310)
}

/// How far letters and accents reach above the line.
pub(super) fn ascent(height: Length) -> Length {
    share(height, 1120)
}

/// The width of a line of words.
pub(super) fn width(words: &str, height: Length, is_bold: bool) -> Length {
    let thousandths: i64 = words.chars().map(thousandths).sum();
    let thousandths = if is_bold {
        thousandths * 114 / 100
    } else {
        thousandths
    };
    share(height, thousandths.saturating_mul(1000) / CAPITAL)
}

/// Words cut short, with an ellipsis, to fit a width.
pub(super) fn fitted(words: &str, height: Length, room: Length) -> String {
    if width(words, height, false) <= room {
        return words.to_owned();
    }
    let mut kept = String::new();
    for character in words.chars() {
        kept.push(character);
        if width(&kept, height, false).saturating_add(width("…", height, false)) > room {
            kept.pop();
            break;
        }
    }
    format!("{}…", kept.trim_end())
}

/// Words broken into lines no wider than a width; a word that is wider by itself is cut.
pub(super) fn wrapped(words: &str, height: Length, room: Length) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in words.split_whitespace() {
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if width(&longer, height, false) <= room {
            line = longer;
        } else {
            if !line.is_empty() {
                lines.push(line);
            }
            line = fitted(word, height, room);
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Words without line breaks and other characters that neither a picture nor a CAD file can hold.
pub(super) fn plain(words: &str) -> String {
    words
        .chars()
        .map(|character| {
            let is_odd = character.is_control()
                || matches!(character, '\u{fffe}' | '\u{ffff}' | '\u{200e}' | '\u{200f}')
                || matches!(character, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
            if is_odd { ' ' } else { character }
        })
        .collect()
}

/// The width of a character in thousandths of the size of the typeface.
fn thousandths(character: char) -> i64 {
    match character {
        'i' | 'j' | 'l' | 'I' | '.' | ',' | ':' | ';' | '\'' | '|' | ' ' => 360,
        '-' | '/' | '!' | 'f' | 't' | '(' | ')' | '[' | ']' | '"' | 'r' | 'J' => 480,
        'm' | 'W' | '@' | '%' | '…' | '—' | '½' | '¼' | '¾' => 1020,
        'w' | 'M' | '×' | '+' | '=' | '<' | '>' | '~' | '#' | '≈' | '≤' | '≥' => 880,
        'A'..='Z' | '&' => 800,
        _ if character.is_ascii() => 660,
        _ => 1000 * i64::try_from(character.width().unwrap_or(0)).unwrap_or(1).max(1),
    }
}

fn share(height: Length, thousandths: i64) -> Length {
    let nanometers = i128::from(height.nanometers()) * i128::from(thousandths) / 1000;
    Length::from_nanometers(i64::try_from(nanometers).unwrap_or(i64::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEIGHT: Length = Length::inches(1);

    #[test]
    fn words_are_cut_to_fit_and_never_wider() {
        let room = Length::inches(8);
        let cut = fitted("a very long name that nobody can read", HEIGHT, room);
        assert!(cut.ends_with('…'), "{cut}");
        assert!(width(&cut, HEIGHT, false) <= room);
        assert_eq!(fitted("short", HEIGHT, room), "short");
    }

    #[test]
    fn every_line_of_a_paragraph_fits() {
        let words =
            "New panels are nailed to every stud and plate that they cross, and to blocks on the sill.";
        let lines = wrapped(words, HEIGHT, Length::inches(20));
        assert!(lines.len() > 1);
        assert!(
            lines
                .iter()
                .all(|line| width(line, HEIGHT, false) <= Length::inches(20))
        );
        assert_eq!(lines.join(" "), words);
    }

    #[test]
    fn nothing_that_breaks_a_line_is_left() {
        assert_eq!(plain("a\nb\u{0}c\u{202e}d"), "a b c d");
    }
}
