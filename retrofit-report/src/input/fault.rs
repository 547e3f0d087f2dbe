//! One fault in a text: where it stands, what was found and expected, and a picture of the line.

use std::fmt;
use std::ops::Range;

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet, renderer::DecorStyle};

/// Columns of a line that are shown at most; of a longer line, a window around the fault.
const SHOWN_COLUMNS: usize = 100;

/// A fault in a text, with its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The line, counted from 1.
    pub line: usize,
    /// The column in characters, counted from 1.
    pub column: usize,
    /// The path into the document, such as `wall_lines[0].anchors[2].diameter`; empty for the whole.
    pub path: String,
    /// What was found and what was expected.
    pub message: String,
    /// What to do about it; may be empty.
    pub help: String,
    /// The line, or the window of it that is shown.
    shown: String,
    /// The bytes of `shown` that are at fault.
    marked: Range<usize>,
}

impl Fault {
    /// A fault at some bytes of a text.
    pub(super) fn at(text: &str, place: Range<usize>, path: String, message: String, help: String) -> Self {
        let start = floor(text, place.start);
        let before = text.get(..start).unwrap_or_default();
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let line_text = text.get(line_start..).unwrap_or_default();
        let line_text = line_text.lines().next().unwrap_or_default();
        let in_line =
            floor(line_text, start - line_start)..floor(line_text, place.end.saturating_sub(line_start));
        let (shown, marked) = window(line_text, in_line);
        Self {
            line: 1 + before.matches('\n').count(),
            column: 1 + before.get(line_start..).unwrap_or_default().chars().count(),
            path,
            message,
            help,
            shown,
            marked,
        }
    }

    /// Line, column, path and message.
    fn in_one_line(&self) -> String {
        let Self {
            line,
            column,
            path,
            message,
            ..
        } = self;
        let colon = if path.is_empty() { "" } else { ": " };
        format!("{line}:{column}: {path}{colon}{message}")
    }

    /// The fault with the line it stands on and a mark under the place.
    pub(super) fn picture(&self, file: &str, styled: bool) -> String {
        let renderer = if styled {
            Renderer::styled().hyperlink(false)
        } else {
            Renderer::plain()
        };
        let title = format!("{file}:{}", self.in_one_line());
        let snippet = Snippet::source(self.shown.as_str())
            .line_start(self.line)
            .annotation(AnnotationKind::Primary.span(self.marked.clone()));
        let mut group = Level::ERROR.primary_title(title).element(snippet);
        if !self.help.is_empty() {
            group = group.element(Level::HELP.message(self.help.as_str()));
        }
        renderer
            .decor_style(DecorStyle::Ascii)
            .term_width(SHOWN_COLUMNS + 40)
            .render(&[group])
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.in_one_line())?;
        if !self.help.is_empty() {
            write!(f, "; {}", self.help)?;
        }
        Ok(())
    }
}

/// The nearest boundary of a character at or before a position.
fn floor(text: &str, position: usize) -> usize {
    text.floor_char_boundary(position.min(text.len()))
}

/// The part of a line around a place that fits the screen, with the place inside it. Characters that would
/// move the cursor are shown as spaces.
fn window(line: &str, place: Range<usize>) -> (String, Range<usize>) {
    let before = line.get(..place.start).unwrap_or_default();
    let at = line
        .get(place.start..place.end.max(place.start))
        .unwrap_or_default();
    let after = line.get(place.start + at.len()..).unwrap_or_default();

    let (columns_before, columns_at) = (before.chars().count(), at.chars().count());
    let fits = columns_before + columns_at + after.chars().count() <= SHOWN_COLUMNS;
    let kept_at = columns_at.min(SHOWN_COLUMNS / 2);
    let kept_before = if fits {
        columns_before
    } else {
        columns_before.min(SHOWN_COLUMNS / 4)
    };
    let kept_after = SHOWN_COLUMNS.saturating_sub(kept_before + kept_at);

    let printable = |c: char| if c.is_control() { ' ' } else { c };
    let mut shown = String::new();
    if kept_before < columns_before {
        shown.push('…');
    }
    shown.extend(before.chars().skip(columns_before - kept_before).map(printable));
    let start = shown.len();
    shown.extend(at.chars().take(kept_at).map(printable));
    let end = shown.len();
    if kept_at < columns_at {
        shown.push('…');
    } else {
        let mut rest = after.chars();
        shown.extend(rest.by_ref().take(kept_after).map(printable));
        if rest.next().is_some() {
            shown.push('…');
        }
    }
    if start == end {
        // At the end of the text there is nothing to mark but the gap.
        if shown.len() == end {
            shown.push(' ');
        }
        let width = shown
            .get(start..)
            .and_then(|rest| rest.chars().next())
            .map_or(1, char::len_utf8);
        return (shown, start..start + width);
    }
    (shown, start..end)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(text: &str, place: Range<usize>) -> Fault {
        Fault::at(
            text,
            place,
            "name".into(),
            "found 7; expected text".into(),
            String::new(),
        )
    }

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let text = "{\n  \"½\": 7\n}";
        let fault = fault(text, text.find('7').unwrap()..text.find('7').unwrap() + 1);
        assert_eq!((fault.line, fault.column), (2, 8));
    }

    #[test]
    fn of_a_long_line_a_window_is_shown() {
        let text = format!("{}7{}", "x".repeat(5_000), "y".repeat(5_000));
        let fault = fault(&text, 5_000..5_001);
        assert_eq!(fault.column, 5_001);
        assert!(
            fault.shown.chars().count() <= SHOWN_COLUMNS + 2,
            "{}",
            fault.shown
        );
        assert_eq!(&fault.shown[fault.marked.clone()], "7");
    }

    #[test]
    fn any_place_of_any_text_can_be_shown() {
        for text in ["", "\n", "½", "a\r\nb½\t\u{1b}[31m", "é".repeat(60).as_str()] {
            for start in 0..=text.len() + 2 {
                for end in [start, start + 1, start + 4, text.len()] {
                    let picture = fault(text, start..end).picture("house.json", false);
                    assert!(picture.contains("found 7"), "{picture}");
                    assert!(!picture.contains('\u{1b}'), "{picture}");
                }
            }
        }
    }
}
